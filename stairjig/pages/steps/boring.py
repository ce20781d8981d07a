"""What the helper does last: sign, and bore rail, treads, floor and shoe."""

from __future__ import annotations

from math import degrees
from typing import TYPE_CHECKING

from stairjig.pages.steps import drawings_rail as draw
from stairjig.pages.steps.values import Step, in_a_row
from stairjig.pages.wording import angle
from stairjig.setout.schedule import borings

if TYPE_CHECKING:
    from collections.abc import Iterator

    from stairjig.setout.values import SectionSetout, Setout

ON_BORING = "on the boring card"
SIGN = "Sign, and have it signed"
"""The step that the lines to sign stand under."""


def boring_steps(setout: Setout) -> Iterator[Step]:
    """Yield the steps from the signing on, in their order."""
    yield _sign()
    yield _bore(setout)
    shoes = tuple(one for one in setout.sections if "shoe" in _into(one) and not one.rail.level)
    if shoes:
        yield _bore_shoe(setout, shoes)


def steepest(setout: Setout) -> SectionSetout:
    """Pick the section whose marks feel a bow most."""
    return max(setout.sections, key=lambda one: one.rail.pitch)


def _into(section: SectionSetout) -> tuple[str, ...]:
    return tuple(boring.into for boring in borings(section))


def _sign() -> Step:
    return Step(
        SIGN,
        (
            "You sign here for the marks; the carpenter in charge signs for the boring on the "
            "check page.",
        ),
        (),
        "“Checked, boring may begin” on the check page is not signed: bore nothing.",
        (),
    )


def _bore(setout: Setout) -> Step:
    """Only now bore, by the boring card."""
    steep = steepest(setout)
    return Step(
        "Bore by the boring card",
        (
            "Take the rail down, set it underside up and clamp it. Bit, depth and tilt stand on "
            "the boring card. Bore a try hole in scrap of the same wood and put a baluster in it.",
            f"{_rail_words(setout)}{_plumb_words(setout)}",
        ),
        in_a_row(setout, setout.sections, _tilt, ON_BORING),
        "A hole comes nearer to an edge or a joint than its try hole allows.",
        draw.boring(degrees(steep.rail.pitch)),
    )


def _plumb_words(setout: Setout) -> str:
    """Say of the holes in treads and floor that they are square to them."""
    found = dict.fromkeys(into for one in setout.sections for into in _into(one))
    names = {"tread": "the treads", "floor": "the floor"}
    places = [names[into] for into in found if into in names]
    return f" Holes in {' and '.join(places)} are plumb." if places else ""


def _rail_words(setout: Setout) -> str:
    if all(one.section.rail.plow for one in setout.sections):
        return "The rail is plowed (it has a groove) and gets no holes."
    if steepest(setout).rail.level:
        return "The rail's holes are square to it."
    return (
        "The rail's holes are plumb: tilt the bit by the pitch, along the rail, the drill's "
        "body toward the rail's lower end, away from the pencilled UP. The pitch block sets it; "
        "turn it over where the stair goes up to the left."
    )


def _tilt(section: SectionSetout) -> str:
    if section.section.rail.plow:
        return ""
    level = section.rail.level
    return "rail level, bit square to it" if level else f"pitch {angle(section.rail.pitch)}"


def _bore_shoe(setout: Setout, shoes: tuple[SectionSetout, ...]) -> Step:
    """Bore a raking shoe: from above, so that on a bench the bit leans the other way."""
    steep = max(shoes, key=lambda one: one.rail.pitch)
    return Step(
        "Bore the shoe: the other lean",
        (
            "The shoe is bored from above. In its place the bit stands plumb. On a bench, face up, "
            "write UP on its upper end: the drill's body leans toward UP, the pitch block on its "
            "head.",
        ),
        in_a_row(setout, shoes, lambda one: f"pitch {angle(one.rail.pitch)}", ON_BORING),
        "The boring card says STOP for the shoe.",
        draw.boring(degrees(steep.rail.pitch), shoe=True),
    )
