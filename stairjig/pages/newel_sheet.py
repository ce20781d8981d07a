"""The newel sheet: each newel's place from the risers, its gap, and the ends without one."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from stairjig.drawing import moved
from stairjig.frozen import frozen
from stairjig.job.model import TreadsSection
from stairjig.pages.flow import Flow
from stairjig.pages.folded import FILLED_ROW
from stairjig.pages.leaf import Leaf
from stairjig.pages.lines import BODY, LEADING, lines_in, paragraphs
from stairjig.pages.newel_sketch import WIDE, Measure, sketch
from stairjig.pages.tables import HEAD, Blank, Cell, Column, spread
from stairjig.pages.wording import (
    kind_words,
    newel_name,
    section_heading,
    sentence,
)
from stairjig.setout.schedule_newels import Taped, continues, shares, taped

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from stairjig.drawing import Item, Page
    from stairjig.lengths import Shown
    from stairjig.setout.values import Opening, SectionSetout, SetNewel, Setout

_GAP = 6.0
_SET = (
    Column("as it stands", 40, bold=True),
    Column("face", 50),
    Column("gap at the foot", 50),
    Column("plumb, initials", 52),
)


def newel_pages(setout: Setout, leaf: Leaf) -> tuple[Page, ...]:
    """Set the newel sheet. Fields: `newel__{section from 1}__{lower or upper}__face`, `__gap`."""
    flow = Flow(leaf, "newels", "Newel sheet")
    flow.heading("Newel sheet", 5.5)
    how = "What is to be set is set by the risers; what stands is not moved. Then prove the gaps."
    if not any(section.treads for section in setout.sections):
        how = "Move nothing that stands: prove the gaps and write them in."
    flow.words(
        f"{how} Lengths run level, along the line; "
        "“face” is the side toward the balusters. The marks on the rail run from the first mark, "
        "never from a newel: where one stands a little off, only its own gap and the rail's end "
        "change."
    )
    for number, section in enumerate(setout.sections, start=1):
        ends = [_End.of(setout, section, end) for end in ("lower", "upper")]
        blocks = _blocks(section, ends, flow.leaf.room)
        words = _section_words(setout, section)
        lines = len(lines_in(words, BODY, flow.leaf.room))
        section_heading(flow, section.name, follow=lines * BODY * LEADING + blocks[0].needed + 3.0)
        flow.words(words)
        for block in blocks:
            flow.space(2.0)
            flow.keep(block.needed)
            flow.drawing(block.items, block.high)
            _as_set(flow, section, block.newels, number)
    return flow.pages()


@frozen
class _End:
    """An end of a section: its words, the first in bold, and its sketch with its height."""

    newel: SetNewel | None
    words: tuple[str, ...]
    sketch: tuple[Item, ...] = ()
    high: float = 0.0

    @staticmethod
    def of(setout: Setout, section: SectionSetout, end: Literal["lower", "upper"]) -> _End:
        """Put an end in words and draw it."""
        shown = setout.job.shown
        newel = section.lower_newel if end == "lower" else section.upper_newel
        if newel is None:
            title = f"{end.capitalize()} end: open, no newel"
            nothing = "Nothing is set here, and the opening at this end is not checked."
            return _End(None, (title, nothing))
        words = tuple(_newel_words(section, newel, shown, shares(setout, section, end)))
        return _End(newel, words, *sketch(section, newel, _measures(section, newel, shown)))


@frozen
class _Block:
    """What stands together, from its lower left corner: an end, or both, and their newels."""

    items: tuple[Item, ...]
    high: float
    newels: tuple[SetNewel, ...] = ()

    @property
    def needed(self) -> float:
        """Its height with the lines to write in under it, mm."""
        rows = len(self.newels)
        return self.high + (HEAD + FILLED_ROW * rows + 2.0 if rows else 0.0)


def _blocks(section: SectionSetout, ends: Sequence[_End], room: float) -> list[_Block]:
    """Set both ends side by side where nothing is placed, else one under the other."""
    half = (room - _GAP) / 2
    if not section.treads and half >= WIDE:
        return [_side_by_side(ends, half)]
    return [_block(end, room) for end in ends]


def _side_by_side(ends: Sequence[_End], room: float) -> _Block:
    """Both ends beside each other, their words over their sketches."""
    columns = [paragraphs(end.words, room, bold_first=True) for end in ends]
    deep = max(high for _, high in columns)
    height = deep + 3.0 + max(end.high for end in ends)
    items: list[Item] = []
    for place, (end, (texts, _)) in enumerate(zip(ends, columns, strict=True)):
        left = place * (room + _GAP)
        items += [moved(text, (left, height)) for text in texts]
        items += [moved(item, (left, height - deep - 3.0 - end.high)) for item in end.sketch]
    return _Block(tuple(items), height, tuple(end.newel for end in ends if end.newel))


def _block(end: _End, room: float) -> _Block:
    """An end's words with its sketch to their right; under them on a narrow leaf."""
    beside = room - WIDE - _GAP
    stacked = beside < 70.0
    texts, deep = paragraphs(end.words, room if stacked else beside, bold_first=True)
    height = deep + end.high + 4.0 if stacked else max(deep, end.high)
    foot = (0.0, 0.0) if stacked else (beside + _GAP, height - end.high)
    items = [moved(text, (0.0, height + 2.0)) for text in texts]
    items += [moved(item, (foot[0], foot[1] + 2.0)) for item in end.sketch]
    return _Block(tuple(items), height + 2.0, (end.newel,) if end.newel else ())


def _section_words(setout: Setout, section: SectionSetout) -> str:
    kind, shown = section.section, setout.job.shown
    if not isinstance(kind, TreadsSection):
        if section.rail.level:
            span = f"{shown.long(section.line_length)} face to face"
        else:
            span = (
                f"{shown.long(kind.length.mm)} face to face along the slope, "
                f"{shown.long(section.line_length)} level"
            )
        return f"{sentence(kind_words(section))}; measured {span}: those faces stay as they are."
    origin = {"end": "the tread end", "string": "the string", "wall": "the wall"}[kind.line.origin]
    front, back = kind.line.front.mm, kind.line.back.mm
    inset = shown.text(front) if front == back else f"{shown.text(front)} to {shown.text(back)}"
    side = f"open side {kind.side} going up"
    below = continues(setout, section)
    number = section.treads[0].plan.number
    one = f" Riser {number} is the top riser of {below.name} too: one riser." if below else ""
    return f"{sentence(kind_words(section))}; the line runs {inset} from {origin}, {side}.{one}"


def _as_set(flow: Flow, section: SectionSetout, newels: Sequence[SetNewel], number: int) -> None:
    """Set a line to write in for each newel or wall; off the treads its face is not looked for."""
    if not newels:
        return
    columns = _SET if section.treads else (_SET[0], *_SET[2:])
    rows = [_set_row(section, newel, number) for newel in newels]
    if not section.treads:
        rows = [(row[0], *row[2:]) for row in rows]
    flow.table(spread(columns, flow.leaf.room), rows, row_height=FILLED_ROW)


def _set_row(section: SectionSetout, newel: SetNewel, number: int) -> tuple[Cell, ...]:
    name, field = newel_name(newel), f"newel__{number}__{newel.end}"
    return (
        name,
        Blank(f"{field}__face", f"{section.name}, {name}: its face, as set"),
        Blank(f"{field}__gap", f"{section.name}, {name}: its gap, as set"),
        Blank(f"{field}__by", f"{section.name}, {name}: proved plumb by"),
    )


def _newel_words(
    section: SectionSetout, newel: SetNewel, shown: Shown, other: str | None
) -> Iterator[str]:
    """Put an end in words, its title first; `other`: the section that may share its newel."""
    name = newel_name(newel)
    if newel.kind == "wall":
        yield sentence(name)
    else:
        state = "stands already" if newel.stands else "to be set"
        if not isinstance(section.section, TreadsSection):
            state = "as measured"
        yield f"{sentence(name)}, {shown.text(newel.width)} wide: {state}"
    if other:
        does = "ends" if newel.end == "lower" else "begins"
        yield (
            f"If this is the newel that {does} {other}, it is one newel, not two: there its place "
            "is given along that section's line, which may turn here. Then it stands square to one "
            "of the lines alone: along the other its centre holds, its faces do not."
        )
    yield from _place_words(section, newel, shown)
    yield from _gap_words(section, newel, shown)
    yield from _even_words(section, newel, shown)


def _place_words(section: SectionSetout, newel: SetNewel, shown: Shown) -> Iterator[str]:
    kind = section.section
    if not isinstance(kind, TreadsSection):
        return
    asked = kind.lower_newel if newel.end == "lower" else kind.upper_newel
    if asked.replaces:
        lost = "below" if newel.end == "lower" else "above"
        yield (
            f"It stands in the place of baluster {asked.replaces} of the full row; those {lost} it "
            "fall away, and what is left on its tread is counted from 1."
        )
    if newel.kind == "wall":
        yield "Taken to stand where its gap is as the others. Tape it before anything is bored:"
    yield f"Face: {place_words(taped(section, newel.face), shown)}."
    if newel.kind == "post":
        yield f"Centre, on the line: {place_words(taped(section, newel.centre), shown)}."


def place_words(place: Taped | None, shown: Shown) -> str:
    """Put a place in words, from a riser's face that can be taped to."""
    if place is None:
        return "as measured"
    riser = f"the face of riser {place.riser}"
    if place.landing:
        along = ", taped along the line," if place.askew else ""
        edge = f"{shown.text(place.edge or 0)} behind the edge of the nosing{along}"
        if place.flush:
            return f"flush with {riser} ({edge} over it)"
        far = f"{shown.text(place.off)} up the stair from its face"
        return f"{edge} over riser {place.riser}, which is {far}"
    below = "on the floor" if place.riser == 1 else "on what lies below it"
    where = below if place.on is None else f"on tread {place.on}"
    return f"{shown.text(abs(float(place.off)))} down the stair from {riser}, taped {where}"


def _gap_words(section: SectionSetout, newel: SetNewel, shown: Shown) -> Iterator[str]:
    mark = section.marks[0 if newel.end == "lower" else -1]
    yield f"Gap to {mark.name}: {shown.text(newel.gap)} at the foot."
    opening = _opening(section, newel)
    if opening and shown.text(opening.clear) != shown.text(newel.gap):
        clear = shown.against(opening.clear, opening.limit)
        yield f"At the narrowest {clear}: that is what is checked."


def _opening(section: SectionSetout, newel: SetNewel) -> Opening | None:
    name = newel_name(newel)
    return next((opening for opening in section.openings if name in opening.between), None)


def _even_words(section: SectionSetout, newel: SetNewel, shown: Shown) -> Iterator[str]:
    if not newel.stands:
        return
    off = newel.uneven(shown.step)
    if not off or newel.even_face is None:
        yield "Its gap is even with those beside it."
        return
    way = "down" if off > 0 else "up"
    yield (
        "Don't move it. A note for the office: "
        f"to even its gap with those beside it, its face would stand {shown.text(abs(off))} "
        f"further {way} the stair: {place_words(taped(section, newel.even_face), shown)}."
    )


def _measures(section: SectionSetout, newel: SetNewel, shown: Shown) -> list[Measure]:
    mark = section.marks[0 if newel.end == "lower" else -1]
    half = float(mark.type.width.mm) / 2 * (-1 if newel.end == "lower" else 1)
    gap = Measure(float(newel.face), float(mark.s) + half, f"gap {shown.text(newel.gap)}")
    found = [gap]
    for what, s in (("face", newel.face), ("centre", newel.centre)):
        place = taped(section, s)
        if place is None or place.flush or (what == "centre" and newel.kind == "wall"):
            continue
        riser = float(s - place.off)
        words = f"{what} {shown.text(abs(float(place.off)))} from riser {place.riser}"
        found.append(Measure(riser, float(s), words))
    return found
