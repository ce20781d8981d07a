"""What every page says at its foot: which sheet it is of how many, and of which pack."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence

from stairjig.frozen import frozen
from stairjig.proof.marks import ReadPage, ReadText

_SHEET = re.compile(r"sheet (\d{1,6}) of (\d{1,6})(?: · pack ([0-9A-Z]{6})(?: · .*)?)?", re.DOTALL)
_PACK = re.compile(r"pack ([0-9A-Z]{6})")


@frozen
class Foot:
    """A page's foot. `page`: from 1, in the file; `sheet` and `of`: as printed, 0 for none.

    `packs`: the pack IDs that stand there, which is one.
    """

    page: int
    sheet: int
    of: int
    packs: frozenset[str]


def read_foot(page: ReadPage) -> Foot:
    """Find the foot among a page's words, which stand outside of tiles."""
    sheet, of, packs = 0, 0, set()
    for item in page.items:
        if not isinstance(item, ReadText):
            continue
        if found := _SHEET.fullmatch(item.text):
            sheet, of = int(found[1]), int(found[2])
            packs |= {found[3]} - {None}
        elif found := _PACK.fullmatch(item.text):
            packs.add(found[1])
    return Foot(page.number, sheet, of, frozenset(packs))


def strangers(feet: Sequence[Foot], pack_id: str, title: str) -> Iterator[str]:
    """Say which pages are of another pack than the job makes."""
    called = _PACK.fullmatch(title)
    known = {pack_id, called[1] if called else pack_id}
    others = [" and ".join(sorted(foot.packs - known)) for foot in feet]
    if len(feet) > 1 and all(others) and len(set(others)) == 1:
        yield (
            f"every sheet says pack {others[0]}, but this job makes pack {pack_id}: it is another "
            "job, or another version of stairjig laid it out"
        )
        return
    for foot, other in zip(feet, others, strict=True):
        if other:
            yield (
                f"page {foot.page} is a sheet of pack {other}, not of pack {pack_id}, which this "
                "job makes - never use the two together"
            )


def unnamed(feet: Sequence[Foot], pack_id: str) -> Iterator[str]:
    """Say which pages name no pack at all."""
    for foot in feet:
        if pack_id not in foot.packs:
            yield f"page {foot.page} does not say that it is a sheet of pack {pack_id}"


def gaps(feet: Sequence[Foot], whole: bool) -> Iterator[str]:
    """Say which sheets are missing, double or counted otherwise; of a `whole` pack none may."""
    often = Counter(foot.sheet for foot in feet)
    of = max((foot.of for foot in feet), default=0)
    for foot in feet:
        if not 1 <= foot.sheet <= foot.of or foot.of != of:
            yield f"page {foot.page} says sheet {foot.sheet} of {foot.of}, others sheets of {of}"
    yield from (f"sheet {sheet} is there {n} times" for sheet, n in sorted(often.items()) if n > 1)
    if whole and (lost := missing(feet)):
        listed = ", ".join(map(str, lost[:10]))
        yield f"of {of} sheets {len(feet)} are there; missing: {listed}"


def missing(feet: Sequence[Foot]) -> list[int]:
    """The sheets that none of some feet is of, of as many as they say that there are."""
    there = {foot.sheet for foot in feet}
    of = max((foot.of for foot in feet), default=0)
    return [sheet for sheet in range(1, of + 1) if sheet not in there]
