"""What the helper does at the rail: prop, plumb, lay the strip, newels, proof, boring."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stairjig.lengths import BURNT, Shown
from stairjig.pages.steps import drawings_rail as draw
from stairjig.pages.steps.boring import ON_BORING, boring_steps, steepest
from stairjig.pages.steps.values import MOST, Step, by_what, each, in_a_row
from stairjig.pages.wording import alike_names, near, newel_name, sentence, stands_on, tiny
from stairjig.pieces.rail_strip import cut_to_its_rail
from stairjig.setout.schedule_newels import shares, taped, top_of
from stairjig.setout.schedule_rail import SAMPLE_BOW, bow_effect, bow_limit_words, props

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from stairjig.drawing import Item
    from stairjig.lengths import Units
    from stairjig.setout.values import SectionSetout, SetNewel, Setout

_ASKEW = 2.0
"""A riser off square by more degrees is drawn so."""


def rail_steps(setout: Setout) -> Iterator[Step]:
    """Yield the steps at the rail, in their order."""
    yield _prop(setout)
    yield _plumb(setout)
    yield _lay(setout)
    if any(one.newels for one in setout.sections):
        yield _newels(setout)
    if _two_or_more(setout):
        yield _prove(setout)
    else:
        yield _plumb_again(setout)
    yield from boring_steps(setout)


def _under(setout: Setout) -> draw.Under:
    """Say what the steepest rail runs over, for the drawings."""
    steep = steepest(setout.sections)
    if steep.rail.level:
        return "floor"
    return "stairs" if steep.treads else "ramp"


def _prop(setout: Setout) -> Step:
    """Prop the rail straight, and prove it."""
    units, steep = setout.job.units, steepest(setout.sections)
    words = [
        "Cut the props to the length given, plumb up to the rail's underside: "
        f"{by_what(setout.sections, _prop_ends)}. One at each end, more between, until a "
        "straightedge along the underside, on a longer rail a stretched string, shows no gap. The "
        "rail's middle hangs plumb over the line of the marks."
        f"{_standing_words(setout)}",
    ]
    stop = "The rail can't be propped straight."
    if not steep.rail.level:
        which = f" on {steep.name}, the steepest," if len(setout.sections) > 1 else ""
        words.append(_why_straight(steep, units, which))
        gap = _most_bow(setout)
        stop = f"There is still more than {gap} in the middle after propping again."
    return Step(
        "Prop the rail straight",
        tuple(words),
        each(setout, setout.sections, lambda one: prop_words(setout, one), ON_BORING),
        stop,
        draw.prop(_under(setout)),
    )


def _prop_ends(section: SectionSetout) -> str:
    """Say how a prop is cut, and where its length is."""
    if section.treads:
        return "its downhill edge, over the nosing's edge; its top cut to the pitch"
    return "cut square at both ends" if section.rail.level else "both ends cut to the pitch"


def _standing_words(setout: Setout) -> str:
    ends, words = _ends_of(setout), ""
    standing = [one for one, newel in ends if newel.stands and one.treads]
    if any(tread.plan.back.skew for one in standing for tread in one.treads):
        words += " A prop that a newel is in the way of is left out: its length holds on the line."
    elif standing:
        words += " A prop goes beside a newel that is in its way."
    if any(newel.stands or newel.kind == "wall" or not one.treads for one, newel in ends):
        words += " At a newel or wall that stands the carpenter first cuts the rail's end to it."
    return words


def _most_bow(setout: Setout) -> str:
    """Say what gap is let pass under a straightedge: of each rail, if they differ."""
    by_rail = {
        one.name: limit
        for one in setout.sections
        if (limit := bow_limit_words(one.rail.pitch, setout.job.units))
    }
    if len(set(by_rail.values())) == 1 and len(by_rail) == len(setout.sections):
        return next(iter(by_rail.values()))
    if len(by_rail) > MOST:
        return "the check page allows"
    return ", ".join(f"{gap} ({name})" for name, gap in by_rail.items())


def _why_straight(section: SectionSetout, units: Units, which: str = "") -> str:
    """Say what a sample bow does to the mark in the middle: plumbed up, and off the strip.

    `which`: the rail that it is said of, where the job has several.
    """
    effect, small = bow_effect(section, float(SAMPLE_BOW[units])), Shown.fine(units)
    return (
        f"Why:{which} a bow of {small.text(effect.bow)} moves a mark plumbed up in its middle "
        f"{small.text(effect.plumbed)} along the rail, one off the strip "
        f"{tiny(effect.strip, units)}."
    )


def prop_words(setout: Setout, section: SectionSetout) -> str:
    """Say how long the props are at both ends, and on which nosings those stand."""
    shown = setout.job.shown
    if not section.treads:
        usual = shown.text(section.rail.prop)
        return f"prop {usual}, from {stands_on(section)}"
    every = props(section)
    lengths = [shown.text(prop.length) for prop in every]
    if len(set(lengths)) == 1:
        return f"prop {lengths[0]}, on any nosing"
    return (
        f"prop {lengths[0]} on the nosing of tread {every[0].tread}, {lengths[-1]} on that of "
        f"{top_of(setout, section)}; the others {ON_BORING}"
    )


def _two_or_more(setout: Setout) -> tuple[SectionSetout, ...]:
    """Pick the sections with two marks or more, whose rail can be proved by tape."""
    return tuple(one for one in setout.sections if len(one.marks) > 1)


def _plumb(setout: Setout) -> Step:
    several = _two_or_more(setout)
    first = steepest(several or setout.sections)
    words = (
        "Plumb only the first and the last mark of a section up to the rail's underside, pencil "
        "them there and square them round both its sides: the strip will hide the underside. Check "
        "each a second time from the other side of the rail."
    )
    alone = (
        "Plumb the mark up to the rail's underside, pencil it there and square it round both its "
        "sides: the strip will hide the underside. Check it a second time from the other side of "
        "the rail."
    )
    return Step(
        "Plumb two marks up to the rail" if several else "Plumb the mark up to the rail",
        (words if several else alone,),
        in_a_row(setout, setout.sections, _two_marks, "in the figures above"),
        "",
        draw.plumb(first.marks[0].name, first.marks[-1].name, _under(setout)),
    )


def _two_marks(section: SectionSetout) -> str:
    first, last = section.marks[0].name, section.marks[-1].name
    return f"mark {first}" if last == first else f"first mark {first}, last {last}"


def _lay(setout: Setout) -> Step:
    shown, several = setout.job.shown, _two_or_more(setout)
    first = (several or setout.sections)[0]
    seat = by_what(setout.sections, _seat)
    zero, meet, off = _laid(several, any(one.newels for one in setout.sections))
    return Step(
        "Lay the rail strip under the rail",
        (
            "This face down, blank side on the wood: you read it from below. "
            f"{sentence(seat)}, zero on the first mark, the arrow to the upper end. Start at zero "
            f"and smooth it up the rail, sticking it as you go.{zero} Take one prop out at a time, "
            "lay the strip past it and set it back to its length.",
            f"{meet}, within {shown.near}, and the straightedge show no gap again. Then "
            "prick every cross that has a name, never a joint's ring. Fold the strip back tile by "
            "tile, write every name on the wood, and UP at the rail's upper end."
            f"{_first_named(setout)}",
        ),
        in_a_row(setout, several, lambda one: _apart(one, shown), "in the figures above"),
        f"{off} is off by more than {shown.near}: pitch, rail or print is not as "
        "measured. Prick nothing.",
        draw.rail_strip(first.marks[0].name, first.marks[-1].name),
    )


def _laid(several: Sequence[SectionSetout], ends: bool) -> tuple[str, str, str]:
    """Say what rules, what must meet and what may be off: two marks, else a mark and its `ends`."""
    if several:
        trim = " Zero rules: an end that meets its newel too soon is trimmed, never pushed."
        ticks = "The ticks at the strip's edges must now meet the lines of both plumbed marks"
        return trim if ends else "", ticks, "A plumbed mark"
    ticks = "The ticks at the strip's edges must now meet the mark's lines"
    return "", f"{ticks}{', its ends their faces' * ends}", "A tick or an end" if ends else "A tick"


def _first_named(setout: Setout) -> str:
    if not alike_names(setout):
        return ""
    return " Write the section's name beside its first mark, too."


def _seat(section: SectionSetout) -> str:
    """Say what the strip is laid to sideways."""
    if cut_to_its_rail(section):
        if section.section.rail.plow:
            return "it lies in the plow"
        return "its long edges on the rail's edges"
    if section.section.rail.plow:
        return "the two lines drawn along it over the plow's edges, which are felt through it"
    return "folded up on the two lines drawn along it, so that it holds the rail between them"


def _apart(section: SectionSetout, shown: Shown) -> str:
    first, last = section.marks[0], section.marks[-1]
    return f"{first.name} to {last.name}: {shown.text(last.rail)} along the rail"


def _newels(setout: Setout) -> Step:
    """Mark the newels' places, or where walls cut the rail, while it still stands."""
    posts, off = to_place(setout), setout.job.shown.limit(setout.job.tolerance.mm)
    if posts:
        title = "Mark the newels, the rail still up"
        what = (
            "Mark where each newel stands, as the newel sheet has it: on the line, which is "
            "sighted through two marks and carried down plumb. Mark on the rail where its"
        )
        stop = (
            f"A newel or wall that stands is over {off} off its place on the newel sheet"
            f"{_shared_words(setout)}: leave it."
        )
    else:
        title, what = (
            "Mark the rail's ends while it is up",
            "Mark on the rail where each newel's or wall's",
        )
        stop = f"The rail does not reach, or a face is over {off} off."
    return Step(
        title,
        (
            f"{what} face meets it. Zero is the first mark. Once the rail is down, neither proves "
            "the other.",
        ),
        newel_lines(setout),
        stop,
        _newel_drawing(*(posts or _ends_of(setout))[0], setout.job.shown),
    )


def _shared_words(setout: Setout) -> str:
    """Say what of a newel is held to its place where two lines meet at it."""
    shared = any(shares(setout, one, end) for one in setout.sections for end in ("lower", "upper"))
    return ", of one that two sections share its centre" if shared else ""


def to_place(setout: Setout) -> list[tuple[SectionSetout, SetNewel]]:
    """List the newels whose places are marked from the risers, each with its section."""
    return [(one, end) for one, end in _ends_of(setout) if end.kind == "post" and one.treads]


def _ends_of(setout: Setout) -> list[tuple[SectionSetout, SetNewel]]:
    """List the newels and walls, each with its section."""
    return [(one, newel) for one in setout.sections for newel in one.newels]


def _newel_drawing(section: SectionSetout, newel: SetNewel, shown: Shown) -> tuple[Item, ...]:
    place = taped(section, newel.centre)
    if place is None or newel.kind == "wall":
        at = section.rail.lower if newel.end == "lower" else section.rail.upper
        return draw.rail_end(shown.text(abs(at or 0)), newel.end == "lower")
    first, last = section.treads[0].plan, section.treads[-1].plan
    risers = {plan.number: plan.front for plan in (first, last)} | {last.number + 1: last.back}
    askew = place.riser in risers and abs(risers[place.riser].skew) > _ASKEW
    off = shown.text(max(place.off, -place.off))
    return draw.newel(off, f"riser {place.riser}", place.off <= 0, askew)


def newel_lines(setout: Setout) -> tuple[str, ...]:
    """Say where each newel is, and where its face meets the rail; of so many sections as fit."""
    alone, lines = len(setout.sections) == 1, []
    for section in setout.sections[:MOST]:
        name = "" if alone else f"{section.name}, "
        lines += [f"{name}{_newel_line(section, newel, setout)}" for newel in section.newels]
    if len(setout.sections) > MOST:
        lines.append("The other sections: newels on the newel sheet, the rail's ends on its strip.")
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
    join = "; on the rail its face" if placed else ": face"
    return f"{words}{join} {shown.text(abs(at))} {side} zero"


def _centre_words(section: SectionSetout, newel: SetNewel, shown: Shown) -> str:
    place = taped(section, newel.centre)
    assert place is not None
    if place.flush:
        return f"flush with the face of riser {place.riser}"
    off = shown.text(max(place.off, -place.off))
    return f"{off} {'up' if place.off > 0 else 'down'} the stair from riser {place.riser}"


def _plumb_again(setout: Setout) -> Step:
    """Prove marks that have no second one on their rail to be taped from."""
    within = setout.job.shown.near
    return Step(
        "Prove the mark",
        ("Take the strip off and plumb the mark up once more: it falls on the same place.",),
        (),
        f"It falls off it by more than {within}.",
        (),
    )


def _prove(setout: Setout) -> Step:
    """Prove the marks by tape, before anything is bored."""
    shown, first = setout.job.shown, _two_or_more(setout)[0]
    second = first.marks[1]
    limit = shown.limit(setout.job.tolerance.mm)
    hook = shown.text(BURNT[setout.job.units])
    return Step(
        "Prove every mark by tape",
        (
            "Take the strip off. Hold the tape's zero on the first mark and read all other marks "
            "without moving it. (Only where the hook is in the way: hold the "
            f"{hook} line there, and take {hook} off every reading.) Write what you read, never "
            "what should be there, into the check page under “from first mark”, and one total.",
            f"Neighbours off by more than {near(setout.job.units)}: look again.",
        ),
        (),
        f"A reading is off by more than {limit}. Move no mark to suit the tape: find out why.",
        draw.tape_proof(first.marks[0].name, second.name, shown.text(second.rail)),
    )
