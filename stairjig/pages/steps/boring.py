"""What the helper does last: sign, and bore rail, treads, floor and shoe."""

from __future__ import annotations

from math import degrees
from typing import TYPE_CHECKING

from stairjig.pages.steps import drawings_rail as draw
from stairjig.pages.steps.values import Step, in_a_row, listed
from stairjig.pages.wording import angle
from stairjig.setout.schedule import LEAST_COVER, borings

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from stairjig.setout.values import SectionSetout, Setout

ON_BORING = "on the boring card"
SIGN = "Sign, and have it signed"
"""The step that the lines to sign stand under."""


def boring_steps(setout: Setout) -> Iterator[Step]:
    """Yield the steps from the signing on, in their order."""
    bored = any(map(borings, setout.sections))
    yield _sign(bored)
    if bored:
        yield _bore(setout)
    shoes = tuple(one for one in setout.sections if "shoe" in _into(one) and not one.rail.level)
    if shoes:
        yield _bore_shoe(setout, shoes)


def steepest(sections: Sequence[SectionSetout]) -> SectionSetout:
    """Pick the section whose rail has the most pitch: its marks feel a bow most."""
    return max(sections, key=lambda one: one.rail.pitch)


def _into(section: SectionSetout) -> tuple[str, ...]:
    return tuple(boring.into for boring in borings(section))


def _sign(bored: bool) -> Step:
    words = (
        "You sign here for the marks; the carpenter in charge signs for the boring on the check "
        "page."
    )
    none = " No hole is given for this job: by this pack nothing is bored."
    return Step(
        SIGN,
        (words if bored else words + none,),
        (),
        "“Checked, boring may begin” on the check page is not signed: bore nothing.",
        (),
    )


def _bore(setout: Setout) -> Step:
    """Only now bore, by the boring card."""
    rails = tuple(one for one in setout.sections if "rail" in _into(one))
    down = "Take the rail down, set it underside up and clamp it. " if rails else ""
    where = " ".join((*_rail_words(setout, rails), *_square_words(setout)))
    words = (
        f"{down}Bit, depth and tilt stand on the boring card. Bore a try hole in scrap of the same "
        "wood and put a baluster in it.",
        where,
    )
    return Step(
        "Bore by the boring card",
        words if where else words[:1],
        in_a_row(setout, rails, _tilt, ON_BORING),
        f"A hole would come nearer than {setout.job.shown.text(LEAST_COVER)} to an edge of the "
        "wood or to a joint in it.",
        draw.boring(degrees(steepest(rails).rail.pitch)) if rails else (),
    )


def _rail_words(setout: Setout, rails: Sequence[SectionSetout]) -> Iterator[str]:
    """Say of the rails which way they are bored; `rails`: those that are."""
    plowed = [one for one in setout.sections if one.section.rail.plow]
    if len(plowed) == len(setout.sections):
        yield "The rail is plowed (it has a groove) and gets no holes."
    elif plowed:
        yield f"A plowed rail has a groove and gets no holes ({listed(plowed)})."
    if rails and steepest(rails).rail.level:
        yield "The rail's holes are square to it."
    elif rails:
        yield (
            "The rail's holes are plumb: tilt the bit by the pitch, along the rail, the drill's "
            "body toward the rail's lower end, away from the pencilled UP. The pitch block sets "
            "it; turn it over where the stair goes up to the left."
        )


def _square_words(setout: Setout) -> Iterator[str]:
    """Say of the holes in treads, floor and level shoe that they are plumb."""
    names = {"tread": "the treads", "floor": "the floor", "shoe": "the shoe"}
    found = [boring for one in setout.sections for boring in borings(one) if boring.square]
    places = [names[into] for into in dict.fromkeys(one.into for one in found) if into in names]
    if places:
        yield f"Holes in {' and '.join(places)} are plumb."


def _tilt(section: SectionSetout) -> str:
    level = section.rail.level
    return "rail level, bit square to it" if level else f"pitch {angle(section.rail.pitch)}"


def _bore_shoe(setout: Setout, shoes: tuple[SectionSetout, ...]) -> Step:
    """Bore a raking shoe: from above, so that on a bench the bit leans the other way."""
    steep = steepest(shoes)
    return Step(
        "Bore the shoe: the other lean",
        (
            "The shoe is bored from above. In its place the bit stands plumb. On a bench, face up, "
            "write UP on its upper end: the drill's body leans toward UP, the pitch block on its "
            "head.",
        ),
        in_a_row(setout, shoes, lambda one: f"pitch {angle(one.rail.pitch)}", ON_BORING),
        "A hole comes through the shoe, or the shoe is thinner than the boring card lets it be.",
        draw.boring(degrees(steep.rail.pitch), shoe=True),
    )
