"""Hypothesis strategies: lengths on a tape's marks, flights in a job file's words, plans."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

from hypothesis import strategies as st

INCH = Fraction(127, 5)


def inch_text(inches: Fraction) -> str:
    """Inches as a carpenter writes them: `10 3/16`; exact for any fraction."""
    sign = "-" if inches < 0 else ""
    whole, part = divmod(abs(inches), 1)
    if not part:
        return f"{sign}{whole}"
    return f"{sign}{whole} {part}" if whole else f"{sign}{part}"


def tape(low: str, high: str, per: int = 16) -> st.SearchStrategy[Fraction]:
    """Inches on the marks of a tape, as exact fractions."""
    least, most = Fraction(low) * per, Fraction(high) * per
    return st.integers(int(least), int(most)).map(lambda n: Fraction(n, per))


@dataclass(frozen=True)
class Flight:
    """A plain flight, in inches: what a job file says of it, and the job's balusters."""

    runs: tuple[Fraction, ...]
    rises: tuple[Fraction, ...]
    widths: tuple[Fraction, ...]
    per_tread: int
    set_back: Fraction = Fraction(0)
    nosing: Fraction = Fraction(9, 8)
    more: dict[str, str] = field(default_factory=dict)

    @property
    def job(self) -> dict[str, str]:
        """The job's own keys that differ from the plain job's."""
        kinds = (
            f"k{n}: {{shape: square, width: {inch_text(w)}}}" for n, w in enumerate(self.widths)
        )
        pattern = ", ".join(f"k{n}" for n in range(len(self.widths)))
        return {"balusters": f"{{{', '.join(kinds)}}}", "pattern": f"[{pattern}]"}

    @property
    def section(self) -> dict[str, str | None]:
        """The section's keys that differ from the plain section's."""
        return {
            "rise": None,
            "rises": f"[{', '.join(map(inch_text, self.rises))}]",
            "nosing": inch_text(self.nosing),
            "per_tread": str(self.per_tread),
            "set_back": inch_text(self.set_back),
            "treads": f"[{', '.join(map(inch_text, self.runs))}]",
            **self.more,
        }


@st.composite
def flights(draw: st.DrawFn, most: int = 6) -> Flight:
    """Flights of one to six treads whose runs and rises differ, with one to three types."""
    count = draw(st.integers(1, most))
    return Flight(
        runs=tuple(draw(st.lists(tape("9.5", "12"),
                                 min_size=count, max_size=count))),
        rises=tuple(draw(st.lists(tape("6.5", "8"), min_size=count + 1, max_size=count + 1))),
        widths=tuple(draw(st.lists(tape("0.5", "1.25"), min_size=1, max_size=3))),
        per_tread=draw(st.integers(2, 4)),
        set_back=draw(tape("0", "0.375")),
    )  # fmt: skip
