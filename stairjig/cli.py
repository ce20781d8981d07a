"""The command line: the one place that prints, exits and reads arguments.

Exit status 0: done; 1: the layout, the proof or the readings fail; 2: the input or the call is
wrong. Warnings never change it. What a command needs is imported when it runs.
"""

from __future__ import annotations

import argparse
import contextlib
import os
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

from stairjig import __version__
from stairjig.errors import BadInput, Problem, Refusal

if TYPE_CHECKING:
    from stairjig.pack import Pack
    from stairjig.setout.values import Setout

DONE, FAILS, WRONG = 0, 1, 2
_LONGEST, _BEGUN, _ENDED = 1_000, 700, 250
"""Signs of a complaint, and what is told of the beginning and the end of a longer one."""


def run() -> NoReturn:
    """Run with the process's arguments and exit."""
    sys.exit(main(sys.argv[1:]))


def main(arguments: Sequence[str]) -> int:
    """Run a command; its exit status, whatever happens.

    A fault of the program's own ends in one line, too; with STAIRJIG_TRACEBACK set it is raised.
    """
    _ready_streams()
    try:
        status = _status(arguments)
        sys.stdout.flush()
    except BrokenPipeError:
        status = DONE  # whoever reads along has seen enough
    except OSError as error:
        _complain([_failed(error)])
        status = WRONG
    except KeyboardInterrupt:
        _complain(["stopped"])
        status = WRONG
    _silence_broken_streams()
    return status


def _status(arguments: Sequence[str]) -> int:
    try:
        call = _parser().parse_args(arguments)
        return int(call.command(call))
    except SystemExit as stop:
        return stop.code if isinstance(stop.code, int) else WRONG
    except BadInput as bad:
        _complain(str(problem) for problem in bad.problems)
        return WRONG
    except Refusal as refused:
        _complain(str(finding) for finding in refused.findings)
        return FAILS
    except MemoryError:
        _complain(["there is not memory enough to work this out; divide the job"])
        return WRONG
    except OSError:
        raise
    except Exception as error:
        if os.environ.get("STAIRJIG_TRACEBACK"):
            raise
        _complain([_fault(error)])
        return WRONG


def _failed(error: OSError) -> str:
    reason = (error.strerror or "it failed").lower()
    return f"{error.filename or 'the output'} can't be used: {reason}"


def _fault(error: Exception) -> str:
    """One line for what should never happen: enough to find the place by."""
    at = error.__traceback__
    while at is not None and at.tb_next is not None:
        at = at.tb_next
    place = f"{Path(at.tb_frame.f_code.co_filename).name}:{at.tb_lineno}" if at else ""
    return (
        f"a fault of stairjig's own ({type(error).__name__} at {place}); the layout can't be "
        "trusted - please report it with the job file"
    )


def _ready_streams() -> None:
    """Make both streams take any text; one that is closed takes it nowhere."""
    for name in ("stdout", "stderr"):
        if getattr(sys, name) is None:
            setattr(sys, name, open(os.devnull, "w", encoding="utf-8"))  # noqa: SIM115
        with contextlib.suppress(AttributeError, ValueError):
            getattr(sys, name).reconfigure(errors="replace")


def _silence_broken_streams() -> None:
    """Send what can't be written nowhere, so that leaving does not fail on it once more."""
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except (OSError, ValueError):
            with contextlib.suppress(OSError, ValueError):
                os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def _complain(lines: Iterable[str]) -> None:
    """Say what is wrong, each on one line, control characters spelled out."""
    for line in lines:
        short = line if len(line) <= _LONGEST else f"{line[:_BEGUN]} … {line[-_ENDED:]}"
        plain = "".join(sign if sign.isprintable() else f"<U+{ord(sign):04X}>" for sign in short)
        with contextlib.suppress(OSError):
            print(f"stairjig: {plain}", file=sys.stderr)


class _Parser(argparse.ArgumentParser):
    """Says what is wrong with a call in one line, like everything else."""

    def error(self, message: str) -> NoReturn:
        raise BadInput(Problem(message, f"{self.prog} --help says how to call it"))


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="stairjig",
        description="Full-scale paper strips that mark every baluster on the treads and under the "
        "handrail, from the measures of a stair.",
        epilog="A help for laying out: the local code and its inspector are the law.",
    )
    parser.add_argument("--version", action="version", version=f"stairjig {__version__}")
    commands = parser.add_subparsers(title="commands", required=True, metavar="COMMAND")
    _add_new(commands)
    _add_form(commands)
    _add_layout(commands)
    _add_pack(commands)
    _add_proof(commands)
    _add_check(commands)
    _add_printer(commands)
    return parser


_Commands = "argparse._SubParsersAction[argparse.ArgumentParser]"


def _command(commands: _Commands, name: str, says: str, example: str) -> argparse.ArgumentParser:  # type: ignore[valid-type]
    return commands.add_parser(  # type: ignore[no-any-return, attr-defined]
        name,
        help=says,
        description=f"{says[0].upper()}{says[1:]}.",
        epilog=f"Example: {example}",
    )


def _add_new(commands: _Commands) -> None:  # type: ignore[valid-type]
    says = "write a commented job file to fill in"
    parser = _command(commands, "new", says, "stairjig new hall.yaml")
    parser.add_argument("file", nargs="?", metavar="FILE", help="where to; else on the terminal")
    parser.set_defaults(command=_new)


def _new(call: argparse.Namespace) -> int:
    from stairjig.files import target, write_whole
    from stairjig.job.template import commented_job

    if call.file is None:
        sys.stdout.write(commented_job().decode())
        return DONE
    path = target(call.file)
    if os.path.lexists(path):
        raise BadInput(Problem(f"{path} is there already", "name a file that is not"))
    write_whole(path, commented_job())
    print(f"wrote {path}")
    return DONE


def _add_form(commands: _Commands) -> None:  # type: ignore[valid-type]
    says = "write a blank measuring form, as a PDF to fill in on paper or in a viewer"
    example = "stairjig form -o hall-form.pdf --treads 13 --units inch"
    parser = _command(commands, "form", says, example)
    parser.add_argument("-o", "--output", metavar="FILE", required=True, help="where to")
    parser.add_argument(
        "--treads", metavar="N", type=int, default=15, help="rows for so many treads; else 15"
    )
    parser.add_argument(
        "--units", choices=("inch", "mm"), default="inch", help="what a bare number means"
    )
    parser.set_defaults(command=_form)


def _form(call: argparse.Namespace) -> int:
    from stairjig.files import target, write_whole
    from stairjig.job.form_fields import TITLE
    from stairjig.job.model import MOST_TREADS

    path = target(call.output)
    if os.path.lexists(path):
        raise BadInput(Problem(f"{path} is there already", "name a file that is not"))
    if not 1 <= call.treads <= MOST_TREADS:
        what = f"a form for {call.treads} treads can't be made"
        raise BadInput(Problem(what, f"--treads takes 1 to {MOST_TREADS}"))
    from stairjig.pages.form import form_pages
    from stairjig.pdf import write_pdf

    pages = form_pages(call.units, call.treads)
    write_whole(path, write_pdf(pages, TITLE, {}))
    print(f"{path}: {len(pages)} pages, rows for {call.treads} treads; filled in it is a job")
    return DONE


def _add_job(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", metavar="JOB", help="a job file, a filled form, or a pack")
    parser.add_argument(
        "--paper", metavar="P", help="letter, legal, tabloid, a4, a3, 'roll 24', '10 x 15'"
    )


def _add_save_job(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--save-job", metavar="FILE", help="write the job as a job file, too")


def _save_job(call: argparse.Namespace, source: bytes) -> None:
    """Write the job as a job file where that is wanted; never over anything else."""
    if call.save_job is None:
        return
    from stairjig.files import target, write_whole
    from stairjig.intake import read_bytes

    path = target(call.save_job)
    if os.path.lexists(path):
        if read_bytes(path) == source:
            return
        raise BadInput(Problem(f"{path} is there already", "name another file with --save-job"))
    write_whole(path, source)


def _add_layout(commands: _Commands) -> None:  # type: ignore[valid-type]
    says = "show where every baluster and newel goes"
    parser = _command(commands, "layout", says, "stairjig layout hall.yaml")
    _add_job(parser)
    _add_save_job(parser)
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="everything, in mm, as JSON")
    form.add_argument("--csv", action="store_true", help="one row a mark, in mm, as CSV")
    form.add_argument("--schedule", action="store_true", help="holes and cuts by mark, as CSV")
    parser.set_defaults(command=_layout)


def _layout(call: argparse.Namespace) -> int:
    from stairjig import report
    from stairjig.intake import open_job
    from stairjig.pieces.build import cut_pieces
    from stairjig.setout.build import set_out
    from stairjig.setout.schedule import schedule_csv
    from stairjig.sheets.advice import advice, plan_or_explain

    job = open_job(Path(call.job), call.paper).job
    setout = set_out(job)
    _save_job(call, job.source)
    if call.csv or call.schedule:
        sys.stdout.write(report.as_csv(setout) if call.csv else schedule_csv(setout))
        return DONE if setout.passes else FAILS
    refused: Refusal | None = None
    papers: list[tuple[str, int, int]] = []
    if setout.passes:
        try:
            pieces = cut_pieces(setout)
            counts = advice(pieces, plan_or_explain(pieces, setout.job.paper))
            papers = [(count.name, count.sheets, count.joints) for count in counts]
        except Refusal as error:
            refused = error
    if call.json:
        sys.stdout.write(report.as_json(setout, papers[0] if papers else None))
    else:
        sys.stdout.write(report.as_list(setout, papers))
    if refused:
        raise refused
    return DONE if setout.passes else FAILS


def _add_pack(commands: _Commands) -> None:  # type: ignore[valid-type]
    says = "write the pack: strips and sheets to print, as a PDF that has been proved"
    parser = _command(commands, "pack", says, "stairjig pack hall.yaml -o hall.pdf")
    _add_job(parser)
    parser.add_argument(
        "-o", "--output", metavar="FILE", help="where to; else JOB's name with .pdf, here"
    )
    parser.add_argument(
        "--printer", metavar="NAME", help="correct for a printer, see stairjig printer"
    )
    parser.add_argument(
        "--only",
        metavar="STRIPS",
        action="append",
        default=[],
        help="reprint some strips: 'Hall flight:4,7-9', 'Hall flight:rail', rail",
    )
    parser.add_argument("--sheet", metavar="K", type=int, help="reprint one sheet by its number")
    _add_save_job(parser)
    parser.set_defaults(command=_pack)


def _pack(call: argparse.Namespace) -> int:
    from stairjig.files import check_target, target, write_whole
    from stairjig.intake import open_job
    from stairjig.printers import remembered

    source = Path(call.job)
    part = "-reprint" if call.only or call.sheet is not None else ""
    path = Path(f"{source.stem}{part}.pdf") if call.output is None else target(call.output)
    _keep_input(source, path)
    if call.save_job is not None and Path(call.save_job).absolute() == path.absolute():
        raise BadInput(Problem(f"{path} is to be both pack and job file", "name two files"))
    opened = open_job(source, call.paper)
    check_target(path)
    from stairjig.pack import make_pack

    printer = remembered(call.printer) if call.printer else None
    wanted = opened.wanted.overridden(call.only, call.sheet, printer)
    pack = make_pack(opened.job, wanted)
    _save_job(call, opened.job.source)
    write_whole(path, pack.data)
    for warning in pack.setout.warnings:
        print(f"note: {warning}", file=sys.stderr)
    print(f"{path}: {_packed(pack, wanted.reprint)}; read back and proved")
    return DONE


def _packed(pack: Pack, reprint: bool) -> str:
    paper = pack.papers[0]
    sheets = "1 sheet" if pack.sheets == 1 else f"{pack.sheets} sheets"
    if reprint:
        return f"a reprint of {sheets} on {paper.name}, pack {pack.setout.pack_id}"
    return (
        f"{sheets} on {paper.name}, {paper.sheets} of them strips with {paper.joints} joints, "
        f"pack {pack.setout.pack_id}"
    )


def _keep_input(source: Path, path: Path) -> None:
    same = path.absolute() == source.absolute()
    with contextlib.suppress(OSError, ValueError):  # one of the two is not there
        same = same or path.samefile(source)
    if same:
        raise BadInput(Problem(f"{path} is the input itself", "name another file with -o"))


def _add_proof(commands: _Commands) -> None:  # type: ignore[valid-type]
    says = "read a pack back and hold every mark against the layout of its own job"
    parser = _command(commands, "proof", says, "stairjig proof hall.pdf")
    parser.add_argument("pack", metavar="PACK", help="a pack, as PDF")
    parser.set_defaults(command=_proof)


def _proof(call: argparse.Namespace) -> int:
    from stairjig.intake import open_pack, read_bytes
    from stairjig.pieces.build import cut_pieces
    from stairjig.pieces.selection import chosen
    from stairjig.proof.prove import prove
    from stairjig.setout.build import set_out

    path = Path(call.pack)
    data = read_bytes(path)
    opened = open_pack(data, str(path))
    setout, wanted = set_out(opened.job), opened.wanted
    only = chosen(cut_pieces(setout), wanted.only) if wanted.only else None
    faults = prove(data, setout, only, wanted.scale, wanted.sheet is not None, str(path))
    if faults:
        raise Refusal(*faults)
    print(f"{path}: pack {setout.pack_id}, {_proved(setout, wanted.reprint)}")
    return DONE


def _proved(setout: Setout, reprint: bool) -> str:
    if reprint:
        return "a reprint; every mark on it is in its place"
    marks = sum(len(section.marks) for section in setout.sections)
    return f"{marks} marks on treads and rail, all in their places"


def _prints(factor: float) -> str:
    off = (1 / factor - 1) * 100
    return f"{abs(off):.2f} % too {'small' if off < 0 else 'large'}" if off else "true"


def _add_check(commands: _Commands) -> None:  # type: ignore[valid-type]
    says = "say what tape readings along the rail mean, before anything is bored"
    example = "stairjig check hall.yaml --spacing '4 1/4, 4 1/4, 4 3/16'"
    parser = _command(commands, "check", says, example)
    parser.add_argument(
        "job", metavar="JOB", help="a job file, or a pack, its check page filled in"
    )
    parser.add_argument(
        "readings", metavar="READINGS", nargs="?", help="a CSV: mark,spacing or mark,running"
    )
    parser.add_argument("--section", metavar="NAME", help="which section the readings are of")
    way = parser.add_mutually_exclusive_group()
    way.add_argument(
        "--running", metavar="LIST", help="readings from the first mark, commas between"
    )
    way.add_argument("--spacing", metavar="LIST", help="readings from mark to mark, commas between")
    parser.set_defaults(command=_check)


def _check(call: argparse.Namespace) -> int:
    from stairjig.check import check_csv, check_fields, check_list
    from stairjig.intake import open_job, read_bytes, read_text
    from stairjig.setout.build import set_out

    path = Path(call.job)
    setout = set_out(open_job(path).job)
    given = call.running or call.spacing
    if given and call.readings:
        raise BadInput(Problem("readings are given twice", "a CSV, or a list, not both"))
    if given:
        checked = check_list(setout, call.section, given, "running" if call.running else "spacing")
    elif call.readings:
        source = Path(call.readings)
        checked = check_csv(setout, call.section, source, read_text(source))
    else:
        checked = check_fields(setout, call.section, path, _filled(path, read_bytes(path)))
    for number, one in enumerate(checked):
        print("\n".join(["", *one.lines] if number else one.lines))
    return FAILS if any(one.redo for one in checked) else DONE


def _filled(path: Path, data: bytes) -> dict[str, str]:
    from stairjig.proof.reading import read_pdf

    if data.lstrip()[:5] != b"%PDF-":
        mend = "give a CSV, --running or --spacing, or the pack with its check page filled in"
        raise BadInput(Problem(f"{path} holds no readings", mend))
    return dict(read_pdf(data, str(path)).fields)


def _add_printer(commands: _Commands) -> None:  # type: ignore[valid-type]
    says = "remember what a printer draws too large or too small"
    example = "stairjig printer office --along '9 31/32' --across '6 31/32'"
    parser = _command(commands, "printer", says, example)
    parser.add_argument("name", metavar="NAME", help="a name of your own for it, one word")
    parser.add_argument("--along", metavar="L", help="the test sheet's upright bar as measured")
    parser.add_argument("--across", metavar="L", help="its level bar as measured")
    parser.set_defaults(command=_printer)


def _printer(call: argparse.Namespace) -> int:
    from stairjig.printers import keep, measured, remembered

    if (call.along is None) != (call.across is None):
        raise BadInput(Problem("both bars are needed", "give --along and --across"))
    if call.along is None:
        printer = remembered(call.name)
    else:
        printer = measured(call.name, call.along, call.across)
        keep(printer)
    along, across = (_prints(factor) for factor in (printer.along, printer.across))
    print(f"printer {printer.name} prints {along} along and {across} across; --printer mends that")
    return DONE
