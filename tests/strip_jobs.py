"""Jobs by chance at the edges of what a strip can hold: skews, wide bases, narrow rails, names."""

from __future__ import annotations

import re
from itertools import pairwise
from random import Random

from stairjig.lengths import INCH, Units, read_length

PAPERS = ("letter", "legal", "tabloid", "a4", "a3", "roll 24", "10 in x 15 in", "148 mm x 210 mm")
OPENINGS = (
    "irc", "uk", "{stair: 150 mm, level: 150 mm, triangle: 8 in}",
    "{stair: 300 mm, level: 300 mm, triangle: 20 in}",
)  # fmt: skip
NAMES = (
    "Hall", "Stair", "W" * 38, "Second floor gallery, north side, east",
    "Upper flight to the west attic rooms", "Main flight from hall to landing",
)  # fmt: skip


class StripJob:
    """Writes one job from its seed."""

    def __init__(self, seed: int) -> None:
        self.chance = Random(seed)
        self.mm = self.rare(0.4)

    def rare(self, share: float) -> bool:
        return self.chance.random() < share

    def length(self, low: float, high: float | None = None) -> str:
        """A length in inches to the sixteenth, or in mm."""
        inches = low if high is None else self.chance.uniform(low, high)
        if self.mm:
            return str(round(inches * 25.4, self.chance.choice((0, 0, 1))))
        whole, part = divmod(round(inches * 16), 16)
        return f"{whole} {part}/16" if part and whole else f"{part}/16" if part else str(whole)

    def hole(self, width: float) -> str:
        size = self.length(max(width / 2, 0.35), max(width * 1.1, 0.4))
        return f"{{size: {size}, depth: {self.length(0.4, 1.5)}}}"

    def baluster(self) -> str:
        width = self.chance.uniform(0.4, 2.2)
        keys = [f"shape: {self.chance.choice(('square', 'round'))}"]
        keys.append(f"width: {self.length(width)}")
        keys += [f"base: {self.length(width + 0.1, width + 1.5)}"] if self.rare(0.3) else []
        keys += [f"tread_hole: {self.hole(width)}"] if self.rare(0.6) else []
        keys += [f"rail_hole: {self.hole(width)}"] if self.rare(0.6) else []
        return f"{{{', '.join(keys)}}}"

    def rail(self, balusters: str) -> str:
        """A rail, wider than what is bored into it."""
        width, plow = self.chance.uniform(0.7, 4), ""
        if width > 1.2 and self.rare(0.2):
            plow = f", plow: {{width: {self.length(0.5, width - 0.3)}, depth: 3/16 in}}"
        height, depth = self.length(34, 40), self.length(1.5, 3)
        units: Units = "mm" if self.mm else "inch"
        holes = re.findall(r"rail_hole: {size: ([^,]+),", balusters)
        width = max([width, *(float(read_length(hole, units) / INCH) + 0.1 for hole in holes)])
        return f"{{height: {height}, depth: {depth}, width: {self.length(width)}{plow}}}"

    def newel(self, treads: range | None) -> str:
        if self.rare(0.25):
            return self.chance.choice(("wall", "none"))
        place = ""
        if treads and self.rare(0.35):
            places = (
                f"{{face: {self.length(0, 4)}}}", f"{{face: -{self.length(0.1, 4)}}}",
                f"{{replaces: {treads[0]}-1}}", f"{{replaces: {treads[-1]}-1}}",
            )  # fmt: skip
            place = f", place: {self.chance.choice(places)}"
        return f"{{width: {self.length(3, 6)}{place}}}"

    def flight(self, treads: range) -> dict[str, str]:
        skews = self.skews(len(treads) + 1)
        items = []
        for front, back in pairwise(skews):
            key, turn = "line_run", f"front_skew: {front}, back_skew: {back}"
            if front == back:
                key, turn = self.chance.choice(("run", "line_run")), f"skew: {front}"
            items.append(f"{{{key}: {self.length(4, 14)}, {turn}}}")
        line = f"{{front: {self.length(1, 3)}, back: {self.length(1, 3)}}}"
        keys = {
            "first_tread": str(treads[0]), "side": self.chance.choice(("left", "right")),
            "rise": self.length(6.5, 8), "nosing": "0" if self.rare(0.2) else self.length(0.3, 1.4),
            "line": self.length(1, 5) if self.rare(0.8) else line,
            "treads": f"[{', '.join(items)}]",
        }  # fmt: skip
        if self.rare(0.15):
            keys["line_from"] = self.chance.choice(("string", "wall"))
        if self.rare(0.2):
            keys["spacing"] = "even"
        if self.rare(0.5):
            keys["set_back"] = self.length(0, 2)
        return keys

    def skews(self, count: int) -> list[float]:
        """None, one for all up to 60 degrees either way, or each its own."""
        what = self.chance.random()
        if what < 0.35:
            return [0.0] * count
        if what < 0.65:
            return [round(self.chance.uniform(-60, 60), 1)] * count
        first, turn = self.chance.uniform(-45, 45), self.chance.choice((-1, 1))
        step = turn * self.chance.uniform(2, 40)
        return [max(-60.0, min(60.0, round(first + step * n, 1))) for n in range(count)]

    def section(self, number: int) -> str:
        kind = self.chance.choice(("treads", "treads", "treads", "treads", "level", "sloped"))
        first = self.chance.choice((1, 1, 8, 47))
        treads = range(first, first + self.chance.randint(1, 6)) if kind == "treads" else None
        name = self.chance.choice(NAMES) if self.rare(0.4) else "Section"
        keys = {
            "name": f"'{name} {number}'", "kind": kind,
            "lower_newel": self.newel(treads), "upper_newel": self.newel(treads),
        }  # fmt: skip
        if treads:
            keys |= self.flight(treads)
        else:
            keys["length"] = self.length(8, 140)
            keys |= {"shoe": f"{{depth: {self.length(0.3, 1.5)}}}"} if self.rare(0.5) else {}
            keys |= {"pitch": f"{self.chance.uniform(15, 50):.1f}"} if kind == "sloped" else {}
            keys |= {"count": str(self.chance.randint(1, 4))} if self.rare(0.1) else {}
        return f"{{{', '.join(f'{key}: {text}' for key, text in keys.items())}}}"

    def text(self) -> str:
        """The whole job file."""
        kinds = self.chance.choice((("a",), ("a",), ("a", "b"), ("a", "a long turned name", "c")))
        balusters = ", ".join(f"{kind}: {self.baluster()}" for kind in kinds)
        lines = [
            f"title: Heron Lodge{', the north wing' * self.chance.choice((0, 0, 4))}",
            f"units: {'mm' if self.mm else 'inch'}",
            f"openings: {self.chance.choice(OPENINGS)}",
            f"balusters: {{{balusters}}}",
            f"pattern: [{', '.join(self.chance.choices(kinds, k=self.chance.randint(1, 4)))}]",
            f"paper: {self.chance.choice(PAPERS)}",
            f"rail: {self.rail(balusters)}",
        ]
        lines += ["copies: shared"] if self.rare(0.2) else []
        lines += [f"margin: {self.length(0.2, 0.8)}"] if self.rare(0.15) else []
        shown = ("0.5", "1") if self.mm else ("1/16", "1/32")
        lines += [f"show: {self.chance.choice(shown)}"] if self.rare(0.2) else []
        sections = range(self.chance.choice((1, 1, 2)))
        return "\n".join([*lines, "sections:", *(f"  - {self.section(n)}" for n in sections)])
