"""The keys of a job file: what belongs in which block, and what each one is."""

from __future__ import annotations

_ANY_SECTION = {
    "name": "words, each section its own",
    "kind": "treads, level or sloped",
    "lower_newel": "a newel's width, or wall or none",
    "upper_newel": "a newel's width, or wall or none",
    "pattern": "names of baluster types, going up",
    "rail": "a rail of its own for this section",
}
_STRAIGHT = {
    "length": "from newel face to newel face",
    "count": "how many balusters, or auto",
    "shoe": "the shoe's depth",
}

KEYS: dict[str, dict[str, str]] = {
    "a job": {
        "title": "words that name the job",
        "units": "inch or mm, what a bare number means",
        "openings": "a rule set such as irc, or your own limits",
        "balusters": "the baluster types by name",
        "rail": "the handrail's height, depth and width",
        "sections": "a list of the balustrade's sections",
        "paper": "letter, legal, tabloid, a4, a3, roll 24, or a size like 10 x 15",
        "margin": "what the printer leaves white at the paper's edge",
        "pattern": "names of baluster types, going up",
        "allowance": "how far inside the opening limit to stay",
        "tolerance": "how far off a taped reading may be",
        "show": "the step that lengths are shown in",
        "copies": "each or shared",
    },
    "openings": {
        "stair": "the sphere that must not pass on a stair",
        "level": "the sphere that must not pass on the level",
        "triangle": "the sphere that must not pass at tread, riser and bottom rail",
        "equal": "fails or passes, for a gap exactly at a limit",
    },
    "a baluster": {
        "shape": "square or round",
        "width": "its face at the tread",
        "narrowest": "its face at its narrowest",
        "base": "the size of its shoe or foot",
        "top": "square, bevel or pin",
        "tread_hole": "size and depth of the hole in the tread",
        "rail_hole": "size and depth of the hole in the rail",
        "fit": "how much shorter than tread to rail it is cut, in all",
    },
    "a hole": {"size": "its diameter", "depth": "how deep it is bored"},
    "a rail": {
        "height": "from the nosings, the floor or the shoe's base to its top, plumb",
        "depth": "from its top to its underside, square to it",
        "width": "of its underside",
        "plow": "width and depth of the groove in its underside",
    },
    "a plow": {"width": "across the groove", "depth": "of the groove"},
    "a treads section": {
        **_ANY_SECTION,
        "side": "left or right, the open side going up",
        "rise": "one rise for all, or rises, one more than the treads",
        "rises": "a list of rises, one more than the treads",
        "nosing": "how far a nosing stands in front of its riser's face",
        "line": "from the finished tread end, return nosing included, to the balusters' line",
        "line_from": "string or wall, where there is no straight tread end",
        "treads": "a list of treads",
        "spacing": "tread or even",
        "per_tread": "balusters on a tread, or auto",
        "set_back": "from the riser's face to the first baluster",
        "first_tread": "the number of the first tread",
        "rail_taped": "two marks and the length taped between them",
        "rail_length": "from newel face to newel face along the rail's underside",
    },
    "a level section": {**_ANY_SECTION, **_STRAIGHT},
    "a sloped section": {
        **_ANY_SECTION,
        **_STRAIGHT,
        "pitch": "the slope in degrees",
        "bottom_rail": "its lift over the nosings, and the stair's rise, run and nosing",
    },
    "a tread": {
        "run": "riser face to riser face, square to the risers",
        "depth": "nosing edge to the face of the next riser",
        "line_run": "riser face to riser face along the line",
        "sides": "a winder's four sides",
        "skew": "degrees by which both risers are off square to the line",
        "front_skew": "degrees by which the front riser is off square",
        "back_skew": "degrees by which the back riser is off square",
        "diagonal": "front at the tread end to back at the wall",
        "check_diagonal": "back at the tread end to front at the wall",
        "per_tread": "balusters on this tread",
        "times": "how often it stands in a row",
        "bare": "yes where it carries no baluster",
    },
    "a winder": {
        "end": "along the tread end",
        "back": "along the face of the next riser",
        "wall": "along the wall side",
        "front": "along the face of the riser below",
    },
    "a newel": {
        "width": "its face at the foot",
        "narrowest": "its face at its narrowest",
        "place": "gap, or {face: a length}, or {replaces: a mark}",
    },
    "a newel's place": {
        "face": "from the riser's face to the newel's face, up the stair",
        "replaces": "the mark in whose place it stands, like 1-1",
    },
    "a line": {"front": "at a tread's front", "back": "at a tread's back"},
    "a taped rail": {
        "from": "the lower mark, like 1-1",
        "to": "the upper mark, like 6-3",
        "length": "taped along the rail's underside",
    },
    "a shoe": {"depth": "from its base to its top"},
    "a bottom rail": {
        "lift": "its underside over the nosings, plumb",
        "rise": "of the stair under it",
        "run": "of the stair under it",
        "nosing": "of the stair under it",
    },
}
"""What a block is called in messages: its keys, and what each one is."""

SECTION_KINDS = {
    "treads": "a treads section",
    "level": "a level section",
    "sloped": "a sloped section",
}
"""The kinds of section by the word that a job file uses."""


def owners(key: str) -> str:
    """The blocks that a key belongs to, in words; "" where it belongs to none."""
    found = [kind for kind, keys in KEYS.items() if key in keys]
    if len(found) < 2:
        return "".join(found)
    return f"{', '.join(found[:-1])} or {found[-1]}"
