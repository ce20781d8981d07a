"""What the helper does at the rail: prop, plumb, lay the strip, newels, proof, boring."""

from __future__ import annotations

from math import degrees
from typing import TYPE_CHECKING

from stairjig.pages import step_drawings_rail as draw
from stairjig.pages.steps_values import MOST, Step, each, in_a_row
from stairjig.pages.wording import angle, at_most, fine, is_level, near, newel_name, tiny
from stairjig.setout.schedule_newels import taped
from stairjig.setout.schedule_rail import SAMPLE_BOW, bow_effect, bow_limit, props

if TYPE_CHECKING:
    from collections.abc import Iterator

    from stairjig.drawing import Item
    from stairjig.lengths import Shown, Units
    from stairjig.setout.values import SectionSetout, SetNewel, Setout

_ON_BORING = "on the boring card"
_NAMED = 4
SIGN = "Sign, and have it signed"
"""The step that the lines to sign stand under."""


def rail_steps(setout: Setout) -> Iterator[Step]:
    """Yield the steps at the rail, in their order."""
    yield _prop(setout)
    yield _plumb(setout)
    yield _lay(setout)
    if any(one.newels for one in setout.sections):
        yield _newels(setout)
    yield _prove(setout)
    yield _sign()
    yield _bore(setout)


def steepest(setout: Setout) -> SectionSetout:
    """Pick the section whose marks feel a bow most."""
    return max(setout.sections, key=lambda one: one.rail.pitch)


def _sloped(setout: Setout) -> bool:
    return not is_level(steepest(setout))


def _prop(setout: Setout) -> Step:
    """Prop the rail straight, and prove it."""
    units, steep = setout.job.units, steepest(setout)
    limit = bow_limit(steep.rail.pitch)
    words = [
        "Cut the props to the length given; it is plumb, up to the rail's underside. One stands at "
        "each end, and more between them until a straightedge along the underside shows no gap.",
    ]
    stop = "The rail can't be propped straight."
    if limit is not None:
        which = f" on {steep.name}, the steepest," if len(setout.sections) > 1 else ""
        words.append(bow_words(steep, units, which))
        gap = at_most(limit, units)
        stop = f"The straightedge still shows more than {gap} in the middle after propping again."
    return Step(
        "Prop the rail straight",
        tuple(words),
        each(setout, setout.sections, lambda one: prop_words(one, setout.job.shown), _ON_BORING),
        stop,
        draw.prop(_sloped(setout)),
    )


def bow_words(section: SectionSetout, units: Units, which: str = "") -> str:
    """Say what a sample bow does to the mark in the middle: plumbed up, and off the strip.

    `which`: the rail that it is said of, where the job has several.
    """
    sample = float(SAMPLE_BOW) if units == "inch" else 3.0
    effect, small = bow_effect(section, sample), fine(units)
    return (
        f"Why:{which} with a bow of {small.text(sample)} in the middle, a mark plumbed up there "
        f"lands {small.text(effect.plumbed)} along the rail from its place, downhill on a sag, "
        f"uphill on a crown. A mark off the strip, which lies along the wood, is out by "
        f"{tiny(effect.strip, units)}."
    )


def prop_words(section: SectionSetout, shown: Shown) -> str:
    """Say how long the props are, and on which nosings those of that length stand."""
    cut = [(prop.tread, shown.text(prop.length)) for prop in props(section)]
    usual = shown.text(section.rail.prop)
    if not section.treads:
        where = "shoe" if section.section.kind != "treads" and _shoe(section) else "floor"
        return f"prop {usual}, from the {where} to the underside"
    landing = section.treads[-1].plan.number + 1
    alike = [tread for tread, long in cut if long == usual and tread != landing]
    names = [str(tread) for tread in alike] or ["the landing"]
    if len({long for _, long in cut}) == 1:
        return f"prop {usual}, on any nosing"
    where = f"tread {names[0]}" if alike else names[0]
    if len(names) > 1:
        where = f"treads {', '.join(names[:_NAMED][:-1])} and {names[:_NAMED][-1]}"
    return f"prop {usual}, on the nosing of {where}; the other nosings' {_ON_BORING}"


def _shoe(section: SectionSetout) -> bool:
    kind = section.section
    return kind.kind != "treads" and bool(kind.shoe_depth.mm)


def _plumb(setout: Setout) -> Step:
    first = setout.sections[0]
    return Step(
        "Plumb two marks up to the rail",
        (
            "Plumb only the first and the last mark of a section up to the rail's underside, and "
            "pencil them there. Check each a second time from the other side.",
        ),
        in_a_row(setout, setout.sections, _two_marks, "in the figures above"),
        "",
        draw.plumb(first.marks[0].name, first.marks[-1].name, _sloped(setout)),
    )


def _two_marks(section: SectionSetout) -> str:
    return f"first mark {section.marks[0].name}, last mark {section.marks[-1].name}"


def _lay(setout: Setout) -> Step:
    shown, first = setout.job.shown, setout.sections[0]
    plowed = [one.name for one in setout.sections if one.section.rail.plow]
    seat = "its long edges with the rail's edges"
    if plowed:
        all_plowed = len(plowed) == len(setout.sections)
        seat = "it lies in the plow" if all_plowed else f"{seat} (in the plow where there is one)"
    return Step(
        "Lay the rail strip under the rail",
        (
            "This face down, blank side on the wood: you read it from below. "
            f"{seat[0].upper()}{seat[1:]}, zero on the first mark, the arrow up the stair. Start "
            "there and smooth it up the rail, taping as you go.",
            f"Both plumbed marks must now meet the strip's, within {shown.near}. Then "
            "prick every cross, write every name on the wood, and UP at the rail's upper end.",
        ),
        in_a_row(setout, setout.sections, lambda one: _apart(one, shown), "in the figures above"),
        f"A plumbed mark is off by more than {shown.near}: pitch, rail or print is not as "
        "measured. Prick nothing.",
        draw.rail_strip(first.marks[0].name, first.marks[-1].name),
    )


def _apart(section: SectionSetout, shown: Shown) -> str:
    first, last = section.marks[0], section.marks[-1]
    return f"{first.name} to {last.name}: {shown.text(last.rail)} along the rail"


def _newels(setout: Setout) -> Step:
    """Mark the newels' places, or where walls cut the rail, while it still stands."""
    posts = [
        (one, newel) for one in setout.sections for newel in one.newels if newel.kind == "post"
    ]
    if posts:
        title = "Mark the newels, the rail still up"
        what = "Mark where each newel stands, as the newel sheet has it, and on the rail where its"
        stop = "A newel that stands already is not where the newel sheet has it."
    else:
        title, what = (
            "Mark the rail's ends while it is up",
            "Mark on the rail where the wall's",
        )
        stop = "The rail does not reach, or the wall is not where the newel sheet has it."
    return Step(
        title,
        (
            f"{what} face meets it. Zero is the first mark. Once the rail is down, neither proves "
            "the other.",
        ),
        newel_lines(setout),
        stop,
        _newel_drawing(*posts[0], setout.job.shown) if posts else (),
    )


def _newel_drawing(section: SectionSetout, newel: SetNewel, shown: Shown) -> tuple[Item, ...]:
    place = taped(section, newel.centre)
    off = newel.centre - newel.face if place is None else place.off
    edge = "face" if place is None else f"riser {place.riser}"
    return draw.newel(shown.text(max(off, -off)), edge, down=off <= 0)


def newel_lines(setout: Setout) -> tuple[str, ...]:
    """Say where each newel is, and where its face meets the rail; of so many sections as fit."""
    alone, lines = len(setout.sections) == 1, []
    for section in setout.sections[:MOST]:
        name = "" if alone else f"{section.name}, "
        lines += [f"{name}{_newel_line(section, newel, setout)}" for newel in section.newels]
    if len(setout.sections) > MOST:
        lines.append("The other sections: on the newel sheet.")
    return tuple(lines)


def _newel_line(section: SectionSetout, newel: SetNewel, setout: Setout) -> str:
    shown, words = setout.job.shown, newel_name(newel)
    placed = newel.kind == "post" and bool(section.treads)
    if placed:
        words = f"{words}: centre {_centre_words(section, newel, shown)}"
    at = section.rail.lower if newel.end == "lower" else section.rail.upper
    if at is None:
        return words
    side = "before" if at < 0 else "past"
    join = "; face" if placed else ": face"
    return f"{words}{join} {shown.text(abs(at))} {side} zero on the rail"


def _centre_words(section: SectionSetout, newel: SetNewel, shown: Shown) -> str:
    place = taped(section, newel.centre)
    assert place is not None
    if place.flush:
        return f"flush with the face of riser {place.riser}"
    off = shown.text(max(place.off, -place.off))
    return f"{off} {'up' if place.off > 0 else 'down'} the stair from riser {place.riser}"


def _prove(setout: Setout) -> Step:
    """Prove the marks by tape, before anything is bored."""
    shown, first = setout.job.shown, setout.sections[0]
    second = first.marks[1] if len(first.marks) > 1 else first.marks[0]
    limit = shown.limit(setout.job.tolerance.mm)
    return Step(
        "Prove every mark by tape",
        (
            "Take the strip off. Hold the steel tape's 1 line on the first mark, where its hook is "
            "in the way, and take the 1 off every reading; read every other mark without moving "
            "it. Write what you read into the check page, and one total from first "
            "to last; never write what should be there.",
            f"Neighbours that are off by more than {near(setout.job.units)} are looked at again; "
            "the office can name the fault from the readings.",
        ),
        (),
        f"A reading is off by more than {limit}. Move no mark to suit the tape: find out why.",
        draw.tape_proof(first.marks[0].name, second.name, shown.text(second.rail)),
    )


def _sign() -> Step:
    return Step(
        SIGN,
        (
            "You sign here for the marks; the carpenter in charge signs for the boring on the "
            "check page.",
        ),
        (),
        "The check page is not signed by both: bore nothing.",
        (),
    )


def _bore(setout: Setout) -> Step:
    """Only now bore, by the boring card."""
    steep = steepest(setout)
    plowed = all(one.section.rail.plow for one in setout.sections)
    into = "the treads" if any(one.treads for one in setout.sections) else "shoe and floor"
    rail = (
        "The rail's holes are plumb, too: tilt the bit by the pitch, along the rail, the drill's "
        "body toward the rail's lower end, away from the pencilled UP."
    )
    if plowed:
        rail = "The rail is plowed and gets no holes."
    return Step(
        "Bore by the boring card",
        (
            "Take the rail down, set it underside up and clamp it. Bit, depth and tilt stand on "
            "the boring card. Bore a try hole in scrap of the same wood and put a baluster in it.",
            f"Holes in {into} are plumb. {rail}",
        ),
        in_a_row(setout, setout.sections, _tilt, _ON_BORING),
        "A hole comes nearer to an edge or a joint than its try hole allows.",
        draw.boring(degrees(steep.rail.pitch)),
    )


def _tilt(section: SectionSetout) -> str:
    if section.section.rail.plow:
        return ""
    level = is_level(section)
    return "rail level, bit square to it" if level else f"pitch {angle(section.rail.pitch)}"
