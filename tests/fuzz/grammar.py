"""Jobs at random: most of them near a real stair, some of them nowhere near one."""

from __future__ import annotations

from itertools import pairwise
from math import cos, hypot, radians, sin
from random import Random

EDGES = (
    "0", "-1", "1/16", "-0", "0.0001", "1e5", "nan", "inf", "-inf", "1000'", "12000", "999999",
    "9" * 300, "0." + "0" * 30 + "1", "1/3", "22/7", "1/0", "5 5/4", "1_0", "0x10", "6:30", "010",
    "10 1/4\"", "3' 6 1/2\"", "3′ 6½″", "260 mm", "26 cm", "26,5", "½", "¹⁰⁄₁₆", "٣", "", "~",
    "true", "auto", "none", "wall", "gap", "[]", "{}", "[1]", "{a: 1}", "*a", "&a 1", "!!int 1",
    "'", '"', "\u202e10", "10\u00a01/4", "1e-400", "1e400", ".5", "5.", "+5", "--5", "1 - 2",
)  # fmt: skip
"""What may stand where a length belongs."""

NAMES = (
    "Hall flight", "Upper", "x", "n" * 40, "n" * 41, "Zoë's stair", "a: b", "#4", "'", "\u202eabc",
    "\u05e9\u05dc\u05d5\u05dd", "漢字", "e\u0301\u0301", "𝔸", "\U0001fa9c", "tab\there", "null",
    "1-1", "rail", "x" * 300, "%s{0}\\n", "<b>&amp;</b>", "=1+1", "../../etc", "W" * 40,
)  # fmt: skip
"""What may stand where a name belongs."""

_OPENINGS = (
    "irc", "ibc", "uk", "ca", "au", "irc", "uk", "{stair: 4, level: 4}",
    "{stair: 100 mm, level: 4, equal: passes}", "{triangle: 6}",
)  # fmt: skip
_PAPERS = (
    "letter", "legal", "tabloid", "a4", "a3", "roll 24", "10 in x 15 in", "8 in x 8 in", "roll 11",
    "4 in x 190 in", "a4 ",
)  # fmt: skip
_ORIGINS = ("end", "string", "wall")


class Grammar:
    """Writes jobs by chance; `wild` is the share of values that are no sensible measure."""

    def __init__(self, chance: Random, wild: float) -> None:
        self.chance = chance
        self.wild = wild
        self.inch = chance.random() < 0.6

    def rare(self, share: float) -> bool:
        """Whether something that happens so often happens now."""
        return self.chance.random() < share

    def length(self, low: float, high: float) -> str:
        """A length between two bounds in inches, in the job's units, or an edge."""
        if self.rare(self.wild):
            return quoted(self.chance.choice(EDGES))
        if self.rare(self.wild / 2):
            low, high = low / 20, high * 20
        return self.written(self.chance.uniform(low, high))

    def written(self, inches: float) -> str:
        """A length to the sixteenth, or to the millimetre or its tenth."""
        if not self.inch:
            return str(round(inches * 25.4, self.chance.choice((0, 0, 1))))
        whole, part = divmod(round(inches * 16), 16)
        if not part:
            return str(whole)
        return f"{whole} {part}/16" if whole else f"{part}/16"

    def count(self, most: int) -> str:
        """A whole number, or an edge."""
        edges = ("0", "-1", "99999999", "2.5", "9" * 300, "x")
        return (
            self.chance.choice(edges) if self.rare(self.wild) else str(self.chance.randint(1, most))
        )

    def angle(self, low: float, high: float) -> str:
        """Degrees, or an edge."""
        edges = ("90", "-90", "80", "79.9999999", "nan", "360", "0", "1e9", "45°")
        if self.rare(self.wild):
            return self.chance.choice(edges)
        return f"{self.chance.uniform(low, high):.{self.chance.choice((0, 1, 3))}f}"

    def name(self, plain: str) -> str:
        """A name, now and then a difficult one."""
        return quoted(self.chance.choice(NAMES)) if self.rare(self.wild) else plain

    def job(self) -> str:
        """A whole job file."""
        kinds = [f"b{n}" for n in range(self.chance.choice((1, 1, 2, 3)))]
        lines = [
            f"title: {self.name('Heron Lodge')}",
            f"units: {'inch' if self.inch else 'mm'}",
            f"openings: {self.chance.choice(_OPENINGS)}",
            f"balusters: {{{', '.join(f'{kind}: {self.baluster()}' for kind in kinds)}}}",
            f"rail: {self.rail()}",
        ]
        if len(kinds) > 1 or self.rare(0.1):
            lines.append(
                f"pattern: [{', '.join(self.chance.choices(kinds, k=self.chance.randint(1, 4)))}]"
            )
        for key, low, high in (("allowance", 0, 0.3), ("tolerance", 0.05, 0.3), ("margin", 0.2, 1)):
            if self.rare(0.1):
                lines.append(f"{key}: {self.length(low, high)}")
        if self.rare(0.3):
            lines.append(f"paper: {self.chance.choice(_PAPERS)}")
        if self.rare(0.1):
            lines.append(f"copies: {self.chance.choice(('each', 'shared'))}")
        if self.rare(0.1):
            lines.append(
                f"show: {self.chance.choice(('1/16', '1/32') if self.inch else ('0.5', '1'))}"
            )
        sections = range(self.chance.choice((1, 1, 1, 2, 3)))
        lines += ["sections:", *(f"  - {self.section(number)}" for number in sections)]
        return "\n".join(lines) + "\n"

    def block(self, **entries: str | None) -> str:
        """Keys between braces; a None is left out, and now and then another key, too."""
        kept = [
            f"{key}: {text}"
            for key, text in entries.items()
            if text is not None and not self.rare(self.wild / 6)
        ]
        return f"{{{', '.join(kept)}}}"

    def maybe(self, share: float, text: str) -> str | None:
        """The text, so often."""
        return text if self.rare(share) else None

    def hole(self) -> str:
        return self.block(size=self.length(0.4, 1.5), depth=self.length(0.25, 1.5))

    def baluster(self) -> str:
        width = self.chance.uniform(0.5, 2)
        low, high = width * 0.6, width * 1.6
        return self.block(
            shape=self.chance.choice(("square", "round")),
            width=self.length(width, width),
            narrowest=self.maybe(0.2, self.length(low, width)),
            base=self.maybe(0.2, self.length(width + 0.1, high + 0.1)),
            top=self.maybe(0.2, self.chance.choice(("square", "bevel", "pin"))),
            tread_hole=self.maybe(0.5, self.hole()),
            rail_hole=self.maybe(0.5, self.hole()),
            fit=self.maybe(0.1, self.length(0, 1)),
        )

    def rail(self) -> str:
        plow = self.block(width=self.length(0.5, 1.5), depth=self.length(0.1, 0.8))
        return self.block(
            height=self.length(30, 42),
            depth=self.length(1, 3),
            width=self.length(1.6, 4),
            plow=self.maybe(0.2, plow),
        )

    def newel(self, on_treads: bool) -> str:
        if self.rare(0.3):
            return self.chance.choice(("wall", "none"))
        mark = f"{self.chance.randint(1, 5)}-{self.chance.randint(1, 3)}"
        places = (f"{{face: {self.length(0, 4)}}}", f"{{face: -{self.length(0, 4)}}}",
                  "{replaces: 1-1}", f"{{replaces: {mark}}}", "gap")  # fmt: skip
        place = self.chance.choice(places)
        return self.block(
            width=self.length(3, 6),
            narrowest=self.maybe(0.2, self.length(1, 3)),
            place=self.maybe(0.3 if on_treads else self.wild, place),
        )

    def section(self, number: int) -> str:
        kind = self.chance.choice(("treads", "treads", "treads", "level", "sloped"))
        treads = kind == "treads"
        common = {
            "name": self.name(f"Section {number}"),
            "kind": kind,
            "lower_newel": self.newel(treads),
            "upper_newel": self.newel(treads),
            "rail": self.maybe(0.05, self.rail()),
        }
        if treads:
            return self.block(**common, **self.flight())
        shoe = self.block(depth=self.length(0, 2))
        bottom = self.block(
            lift=self.length(0, 3),
            rise=self.length(6, 8),
            run=self.length(9, 12),
            nosing=self.length(0, 1.5),
        )
        return self.block(
            **common,
            length=self.length(10, 150),
            count=self.maybe(0.2, self.count(40)),
            shoe=self.maybe(0.3, shoe),
            pitch=self.angle(20, 50) if kind == "sloped" else None,
            bottom_rail=self.maybe(0.3, bottom) if kind == "sloped" else None,
        )

    def flight(self) -> dict[str, str | None]:
        skews = self.skews(self.chance.randint(1, 5))
        treads = [self.tread(front, back) for front, back in pairwise(skews)]
        rises = f"[{', '.join(self.length(6, 8.5) for _ in skews)}]"
        listed, even = self.rare(0.3), self.rare(0.25)
        taped = self.block(
            **{"from": "1-1", "to": f"{len(treads)}-2", "length": self.length(10, 70)}
        )
        line = f"{{front: {self.length(1, 3)}, back: {self.length(1, 3)}}}"
        winding = any("sides" in tread for tread in treads)
        return {
            "side": self.chance.choice(("left", "right")),
            "rise": None if listed else self.length(6, 8.5),
            "rises": rises if listed else None,
            "nosing": self.length(0, 1.5),
            "line": line if self.rare(0.1) and not winding else self.length(1, 4),
            "line_from": self.maybe(
                0 if winding else 0.1, self.chance.choice(("end", "string", "wall"))
            ),
            "treads": f"[{', '.join(treads)}]",
            "spacing": "even" if even else None,
            "per_tread": self.maybe(0.3, self.chance.choice(("auto", "2", "3", self.count(4)))),
            "set_back": self.maybe(0.2, self.length(0, 1)),
            "first_tread": self.maybe(0.1, self.count(30)),
            "rail_taped": self.maybe(0.1, taped),
            "rail_length": self.maybe(0.1, self.length(20, 90)),
        }

    def skews(self, treads: int) -> list[float]:
        """The risers' skews, degrees: none, one for all, or each its own."""
        what = self.chance.random()
        if what < 0.5:
            return [0.0] * (treads + 1)
        if what < 0.75:
            return [round(self.chance.uniform(-35, 35), 1)] * (treads + 1)
        first, turn = self.chance.uniform(-10, 10), self.chance.choice((-1, 1))
        return [round(first + turn * n * self.chance.uniform(5, 20), 1) for n in range(treads + 1)]

    def tread(self, front: float, back: float) -> str:
        if front != back and self.rare(0.4):
            return self.winder(front, back)
        measure = self.chance.choice(("run", "depth", "line_run")) if front == back else "line_run"
        if front == back == 0 and self.rare(0.5):
            return self.length(9, 12)
        return self.block(
            **{measure: self.length(9, 12)},
            times=self.maybe(0.1 if front == back else 0, self.count(3)),
            skew=self.skew(front) if front == back else None,
            front_skew=self.skew(front) if front != back else None,
            back_skew=self.skew(back) if front != back else None,
            per_tread=self.maybe(0.1, self.count(4)),
            bare=self.maybe(0.05, self.chance.choice(("yes", "no"))),
        )

    def skew(self, degrees: float) -> str:
        return self.angle(-90, 90) if self.rare(self.wild) else f"{degrees:g}"

    def winder(self, front_skew: float, back_skew: float) -> str:
        """Four sides and a diagonal of a tread whose risers run so."""
        end, front, back = (self.chance.uniform(*span) for span in ((7, 12), (20, 36), (20, 36)))
        low, high = radians(front_skew), radians(back_skew)
        d = (-front * sin(low), -front * cos(low))
        c = (end - back * sin(high), -back * cos(high))
        true = {"end": end, "front": front, "back": back, "wall": hypot(c[0] - d[0], c[1] - d[1])}
        near = {key: self.length(value, value) for key, value in true.items()}
        diagonal = hypot(*c)
        return self.block(sides=self.block(**near), diagonal=self.length(diagonal, diagonal))


def quoted(text: str) -> str:
    """The text as YAML takes it, now and then as it is."""
    plain = text.replace("'", "''")
    return f"'{plain}'" if text[:1] not in "[{&*!" or not text else text
