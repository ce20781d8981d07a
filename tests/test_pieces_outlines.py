"""A strip's outline never crosses itself, whatever its risers do, and holds all that is drawn."""

from __future__ import annotations

from math import radians, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from packs import FLIGHT, PLAIN, job_of
from shapely.geometry import Point, Polygon

from stairjig.errors import BadInput, Refusal
from stairjig.pieces.build import cut_pieces
from stairjig.pieces.shapes import meets
from stairjig.pieces.values import Piece
from stairjig.setout.build import set_out
from stairjig.sheets.lanes import common

SKEWS = st.integers(-60, 60)


def winder(line_run: float, front: int, back: int, **changes: str) -> list[Piece]:
    """The strips of one tapered tread; none where there is no such stair or no room on it."""
    tread = f"{{line_run: {line_run}, front_skew: {front}, back_skew: {back}}}"
    text = FLIGHT.format(**{**PLAIN, "treads": tread, **changes})
    loose = "{stair: 20, level: 20, triangle: 20}"
    try:
        setout = set_out(job_of(text.replace("openings: irc", f"openings: {loose}")))
        return [piece for piece in cut_pieces(setout) if setout.passes and piece.kind == "tread"]
    except (BadInput, Refusal):
        return []


@settings(max_examples=60, deadline=None)
@given(
    st.floats(2.5, 12), SKEWS, SKEWS, st.sampled_from(["left", "right"]),
    st.sampled_from(["", ", line_from: string", ", spacing: even"]),
)  # fmt: skip
def test_the_outline_of_a_winders_strip_is_simple(
    run: float, front: int, back: int, side: str, more: str
) -> None:
    for piece in winder(round(run, 2), front, back, side=side, more=more):
        for form in (piece, piece.short):
            assert form is not None
            outline = Polygon(form.outline)
            assert outline.is_valid
            assert outline.exterior.is_simple
            assert outline.exterior.is_ccw
            assert outline.contains(Point(0.0, form.spots[0].at[1]))


def test_a_strip_ends_where_its_risers_are_still_apart() -> None:
    """Risers at 45 degrees either way, 4 1/2 in apart on the line, meet 57.15 mm beyond it."""
    (piece,) = winder(4.5, -45, 45, line="1")
    wall = max(u for u, _ in piece.outline)
    meet = 4.5 * 25.4 / 2 / tan(radians(45))
    assert meet == pytest.approx(57.15)
    assert meet - 10 < wall < meet


def test_risers_that_meet_beside_the_balusters_leave_no_room_for_a_strip() -> None:
    text = FLIGHT.format(
        **{**PLAIN, "treads": "{line_run: 1, front_skew: -45, back_skew: 45}", "line": "1",
           "baluster": "plain: {shape: square, width: 3/8}", "more": ", set_back: 5/16"}
    )  # fmt: skip
    setout = set_out(job_of(text))
    with pytest.raises(Refusal) as refused:
        cut_pieces(setout)
    (finding,) = refused.value.findings
    assert finding.code == "no-room"
    assert "tread 1 has no room for a strip: its risers meet beside its balusters" in finding.text


SPANS = st.lists(st.integers(0, 60), max_size=10, unique=True).map(sorted)


def paired(ends: list[int]) -> list[tuple[float, float]]:
    return [(float(a), float(b)) for a, b in zip(ends[::2], ends[1::2], strict=False)]


@given(st.lists(SPANS, min_size=1, max_size=4))
def test_what_is_common_to_tracks_is_free_in_each_of_them(ends: list[list[int]]) -> None:
    tracks = [paired(each) for each in ends]
    shared = common(tracks)
    assert shared == sorted(shared)
    for half in range(121):
        at = half / 2 + 0.25
        free = all(any(low < at < high for low, high in track) for track in tracks)
        assert free == any(low < at < high for low, high in shared)


@given(st.tuples(*[st.integers(-9, 9)] * 4))
def test_a_line_meets_a_box_where_their_shapes_intersect(ends: tuple[int, int, int, int]) -> None:
    from shapely.geometry import LineString, box

    start, end = (ends[0] + 0.5, ends[1] + 0.5), (ends[2] + 0.5, ends[3] + 0.25)
    inner = box(-3.0, -2.0, 4.0, 1.0).buffer(-1e-9, join_style="mitre")
    crossed = LineString((start, end)).intersects(inner)
    assert meets((start, end), (-3.0, -2.0), (4.0, 1.0)) == crossed
