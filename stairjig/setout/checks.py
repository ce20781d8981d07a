"""What a rule set says of heights, rises, runs, nosing and pitch: warned about, never refused."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from math import degrees

from stairjig.errors import Finding
from stairjig.frozen import frozen
from stairjig.job.model import LevelSection, Section, TreadsSection
from stairjig.lengths import Real, Shown
from stairjig.rules import CLOSE, Range, RuleSet
from stairjig.setout.plan import square_run
from stairjig.setout.values import Nosing, PlanTread

Measures = Sequence[tuple[str, Real]]
"""What was measured, by its name, mm."""


def height_band(section: Section, rules: RuleSet) -> Range | None:
    """The rule set's band for a rail's height: on a stair or on a level."""
    return rules.level_height if isinstance(section, LevelSection) else rules.stair_height


def height_warnings(
    section: Section, nosings: Sequence[Nosing], rules: RuleSet, shown: Shown
) -> tuple[Finding, ...]:
    """The rail's height against the rule set's band, over every nosing.

    A straight rail stands higher over a nosing that lies under the pitch line.
    """
    band, says = height_band(section, rules), _Says(section.name, rules, shown)
    found = tuple(says.outside("rail-height", "the rail's height", section.rail.height.mm, band))
    if found or not isinstance(section, TreadsSection):
        return found
    first = section.treads[0].number
    names = [*(f"tread {first + n}" for n in range(len(section.treads))), "the landing"]
    over = [
        (name, float(section.rail.height.mm) + nosing.under)
        for name, nosing in zip(names, nosings, strict=True)
    ]
    return tuple(says.band("rail-height", "the rail's height over the nosing of ", over, band))


def stair_warnings(
    section: TreadsSection, plan: Sequence[PlanTread], rules: RuleSet, shown: Shown
) -> tuple[Finding, ...]:
    """Rises, runs and nosing against the rule set."""
    says = _Says(section.name, rules, shown)
    rises = [(f"rise {n}", rise.mm) for n, rise in enumerate(section.rises, start=1)]
    straight = [(tread, square_run(tread)) for tread in plan]
    runs = [(f"tread {tread.number}", run) for tread, run in straight if run is not None]
    sums = [
        (f"tread {tread.number}", 2 * section.rises[tread.index].mm + run)
        for tread, run in straight
        if run is not None
    ]
    return (
        *says.band("rise", "", rises, rules.rise),
        *says.uniform("rise", rises),
        *says.band("run", "the run at ", runs, rules.run),
        *says.uniform("run", [(f"the run at {name}", run) for name, run in runs]),
        *says.band(
            "rise-and-run", "twice the rise and the run at ", sums, rules.twice_rise_and_run
        ),
        *says.nosing(section.nosing.mm, runs),
    )


def pitch_warnings(
    section: Section, pitch: float, rules: RuleSet, shown: Shown
) -> tuple[Finding, ...]:
    """A stair's pitch (radians) against the rule set, on treads or beside a closed stringer."""
    return tuple(_Says(section.name, rules, shown).pitch(degrees(pitch)))


@frozen
class _Says:
    """What there is to say of one section by one rule set."""

    section: str
    rules: RuleSet
    shown: Shown

    def band(
        self, code: str, label: str, measures: Measures, band: Range | None
    ) -> Iterator[Finding]:
        """The measure furthest outside the band, and how many more are."""
        out = [(name, mm) for name, mm in measures if band and not band.holds(mm)]
        if band and out:
            name, worst = max(out, key=lambda measure: _distance(measure[1], band))
            others = f" and {len(out) - 1} more" if len(out) > 1 else ""
            yield from self.outside(code, f"{label}{name}{others}", worst, band)

    def outside(self, code: str, what: str, mm: Real, band: Range | None) -> Iterator[Finding]:
        """One measure outside its band."""
        if band is None or band.holds(mm):
            return
        under = band.least is not None and mm < band.least
        limit = (band.least if under else band.most) or Fraction(0)
        text = (
            f"{what}, {self.shown.against(mm, limit)}, is {'under' if under else 'over'} "
            f"{self.shown.limit(limit)} ({self.rules.name}, {band.section})"
        )
        yield Finding(code, self.section, text)

    def uniform(self, code: str, measures: Measures) -> Iterator[Finding]:
        """The largest against the smallest, and each against its neighbour."""
        uniform, neighbours = self.rules.uniform, self.rules.neighbours
        if uniform and len(measures) > 1:
            least, most = min(measures, key=_size), max(measures, key=_size)
            off = most[1] - least[1]
            if off > uniform.mm + CLOSE:
                text = (
                    f"{most[0]} is {self.shown.against(off, uniform.mm)} more than {least[0]}; at "
                    f"most {self.shown.limit(uniform.mm)} ({self.rules.name}, {uniform.section})"
                )
                yield Finding(f"uniform-{code}", self.section, text)
        for (low, below), (high, above) in pairwise(measures if neighbours else ()):
            off = max(above - below, below - above)
            if neighbours and off > neighbours.mm + CLOSE:
                text = (
                    f"{low} and {high} differ by {self.shown.against(off, neighbours.mm)}; "
                    f"neighbours at most {self.shown.limit(neighbours.mm)} ({self.rules.name}, "
                    f"{neighbours.section})"
                )
                yield Finding(f"neighbours-{code}", self.section, text)

    def nosing(self, nosing: Real, runs: Measures) -> Iterator[Finding]:
        """The nosing against its band; a short one is let be where every run is deep enough."""
        spared, band = self.rules.nosing_spared, self.rules.nosing
        deep = spared and all(run >= spared.mm - CLOSE for _, run in runs)
        if not (deep and band and band.least is not None and nosing < band.least):
            yield from self.outside("nosing", "the nosing", nosing, band)

    def pitch(self, pitch: float) -> Iterator[Finding]:
        """The pitch, degrees."""
        band = self.rules.pitch
        if band and not band.holds(pitch):
            over = f"{float(band.most or 0):g}°"
            just = "just " if f"{pitch:.1f}" == f"{float(band.most or 0):.1f}" else ""
            text = (
                f"the pitch of {pitch:.1f}° is {just}over {over} "
                f"({self.rules.name}, {band.section})"
            )
            yield Finding("pitch", self.section, text)


def _size(measure: tuple[str, Real]) -> Real:
    return measure[1]


def _distance(mm: Real, band: Range) -> float:
    low = float(band.least - mm) if band.least is not None else 0.0
    high = float(mm - band.most) if band.most is not None else 0.0
    return max(low, high)
