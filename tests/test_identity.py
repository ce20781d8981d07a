"""The pack ID: the same for the same layout, another for any other."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from job_files import LEVEL, SLOPED, TREADS, changed, job_in, treads_file, written

from stairjig.job import identity
from stairjig.job.identity import ALPHABET, canonical, pack_id
from stairjig.job.model import Hole
from stairjig.lengths import Length

TWO = (
    "{plain: {shape: square, width: 5/8, tread_hole: {size: 11/16, depth: 1}}, "
    "knuckle: {shape: square, width: 5/8, narrowest: 9/16}}"
)
RICH = written(
    {
        "balusters": TWO,
        "pattern": "[plain, knuckle]",
        "openings": "{stair: 4 3/8, level: 4, triangle: 6}",
        "rail": "{height: 36, depth: 2 1/2, width: 2 3/8, plow: {width: 1 1/4, depth: 1/4}}",
    },
    changed(
        TREADS,
        {
            "treads": "[{depth: 11, per_tread: 2}, {line_run: 10, skew: 3}, {sides: {end: 9, back: "
            "38, wall: 24, front: 36}, diagonal: 43, check_diagonal: 37}, {run: 9, bare: yes}]",
            "lower_newel": "{width: 4, place: {face: -1}}",
            "upper_newel": "{width: 4, place: {replaces: 3-1}}",
            "rail_taped": "{from: 1-1, to: 2-2, length: 15}",
            "rail_length": "60",
            "per_tread": "2",
        },
    ),
    changed(LEVEL, {"count": "21", "upper_newel": "wall", "shoe": "{depth: 1}"}),
    changed(SLOPED, {"bottom_rail": "{lift: 1, rise: 7, run: 10, nosing: 1}"}),
)


def same_id(*sources):
    return len({pack_id(job_in(source)) for source in sources}) == 1


def test_a_pack_id_is_six_signs_that_are_not_misread():
    code = pack_id(job_in(RICH))
    assert len(code) == 6
    assert set(code) <= set(ALPHABET)
    assert len(ALPHABET) == len(set(ALPHABET)) == 32
    assert not set("ILOU") & set(ALPHABET)


def test_a_pack_id_stays_from_run_to_run():
    """Printed paper carries it: it may change with LAYOUT_VERSION alone."""
    limits = {"openings": "{stair: 4 3/8, level: 4, triangle: 6, equal: fails}"}
    assert identity.LAYOUT_VERSION == 2
    assert pack_id(job_in(written(limits))) == "DSQ6ZE"


def test_the_title_does_not_count():
    assert same_id(written(), written({"title": "Another"}))


def test_the_paper_counts_however_it_is_chosen():
    default, a4 = written(), written({"paper": "a4"})
    assert not same_id(default, a4)
    assert pack_id(job_in(default, "a4")) == pack_id(job_in(a4))
    assert same_id(written({"paper": "10 x 15"}), written({"paper": "381 mm x 254 mm"}))


def test_comments_key_order_and_ways_of_writing_do_not_count():
    head, sections = written().split(b"sections:")
    turned = b"\n".join(reversed(head.split(b"\n")))
    assert same_id(
        written(),
        turned + b"\nsections:" + sections,
        written().replace(b"units", b"# a note\n\nunits"),
        treads_file(**dict(reversed(TREADS.items()))),
        treads_file(treads="[10¼, 260.35 mm, {times: 4, run: 10-1/4}]"),
        treads_file(nosing="1.125", rise="0' 7 1/2\"", set_back="0", spacing="tread"),
    )


def test_the_order_of_the_types_does_not_count_but_that_of_the_pattern_does():
    plain, knuckle = "plain: {shape: square, width: 5/8}", "knuckle: {shape: square, width: 3/4}"
    one, other, turned = (
        written({"balusters": f"{{{types}}}", "pattern": pattern})
        for types, pattern in (
            (f"{plain}, {knuckle}", "[plain, knuckle]"),
            (f"{knuckle}, {plain}", "[plain, knuckle]"),
            (f"{plain}, {knuckle}", "[knuckle, plain]"),
        )
    )
    assert same_id(one, other)
    assert not same_id(one, turned)


def test_another_layout_version_is_another_pack(monkeypatch):
    before = pack_id(job_in(RICH))
    monkeypatch.setattr(identity, "LAYOUT_VERSION", identity.LAYOUT_VERSION + 1)
    assert pack_id(job_in(RICH)) != before


def variants(value):
    """The same value with one thing in it changed, for every thing in it that counts."""
    if is_dataclass(value):
        for field in fields(value):
            if field.compare:
                for other in variants(getattr(value, field.name)):
                    yield f"{field.name}", replace(value, **{field.name: other[1]})
    elif isinstance(value, tuple):
        if value:
            yield "shorter", value[:-1]
        yield "longer", (*value, *value[-1:]) if value else ("x",)
        for index, item in enumerate(value):
            for name, other in variants(item):
                yield name, (*value[:index], other, *value[index + 1 :])
    else:
        yield from (("leaf", other) for other in _others(value))


def _others(value):
    if value is None:
        return [1, "x", False, Length(Fraction(0))]
    if isinstance(value, bool):
        return [not value, None]
    if isinstance(value, str):
        return [value + "x", value[:-1]] if value else ["x"]
    if isinstance(value, int):
        return [value + 1, str(value), None]
    return [value + Fraction(1, 10**12), -value - 1]


def test_every_resolved_value_counts():
    job = job_in(RICH)
    texts = {canonical(job)}
    changes = [other for name, other in variants(job) if name != "title"]
    for other in changes:
        assert canonical(other) != canonical(job)
        texts.add(canonical(other))
    assert len(changes) > 400


def test_places_and_texts_do_not_count():
    job = job_in(RICH)
    moved = job_in(b"# moved down\n" + RICH)
    assert moved.sections[0].where != job.sections[0].where
    assert pack_id(moved) == pack_id(replace(job, source=b""))


plain_values = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(0, 9), st.text("(){}=;:'12if/", max_size=6),
              st.fractions(0, 9, max_denominator=9)),
    lambda inner: st.lists(inner, max_size=3).map(tuple),
    max_leaves=6,
)  # fmt: skip


def _typed(value):
    """The value with its kinds, as Python takes True for 1 and 1 for Fraction(1)."""
    if isinstance(value, tuple):
        return tuple(map(_typed, value))
    return type(value).__name__, value


@given(plain_values, plain_values)
def test_two_values_are_spelled_alike_only_where_they_are_alike(first, second):
    alike = identity.spelled(first) == identity.spelled(second)
    assert alike == (_typed(first) == _typed(second))


def test_only_what_can_be_spelled_exactly_counts():
    with pytest.raises(TypeError, match="float"):
        identity.spelled(0.1)
    hole = Hole(Length(Fraction(1)), Length(Fraction(2)))
    assert identity.spelled(hole) == "{depth={mm=f2/1;}size={mm=f1/1;}}"
