"""`stairjig form`: a blank measuring form."""

from __future__ import annotations

import argparse

from stairjig.commands.parts import DONE, Commands, command, new_file
from stairjig.errors import BadInput, Problem


def add(commands: Commands) -> None:
    """Declare the command."""
    says = "write a blank measuring form, as a PDF to fill in on paper or in a viewer"
    example = "stairjig form -o hall-form.pdf --treads 13 --units inch"
    parser = command(commands, "form", says, example)
    parser.add_argument("-o", "--output", metavar="FILE", required=True, help="where to")
    parser.add_argument(
        "--treads", metavar="N", type=int, default=15, help="rows for so many treads; else 15"
    )
    parser.add_argument(
        "--units", choices=("inch", "mm"), default="inch", help="what a bare number means"
    )
    parser.set_defaults(command=run)


def run(call: argparse.Namespace) -> int:
    """Write the form."""
    from stairjig.files import write_whole
    from stairjig.job.form.fields import TITLE
    from stairjig.job.model import MOST_TREADS

    path = new_file(call.output)
    if not 1 <= call.treads <= MOST_TREADS:
        what = f"a form for {call.treads} treads can't be made"
        raise BadInput(Problem(what, f"--treads takes 1 to {MOST_TREADS}"))
    from stairjig.pages.form.form import form_pages
    from stairjig.pdf import write_pdf

    pages = form_pages(call.units, call.treads)
    write_whole(path, write_pdf(pages, TITLE, {}))
    print(f"{path}: {len(pages)} pages, rows for {call.treads} treads; filled in it is a job")
    return DONE
