"""Lengths as a carpenter writes them and as the paper shows them."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stairjig.lengths import FOOT, INCH, Length, NotALength, Shown, read_angle, read_length

SIXTEENTHS = Shown("inch", INCH / 16)
THIRTY_SECONDS = Shown("inch", INCH / 32)
HALF_MM = Shown("mm", Fraction(1, 2))
WHOLE_MM = Shown("mm", Fraction(1))
EIGHTHS = Shown("inch", INCH / 8)


@pytest.mark.parametrize(
    ("shown", "mm", "text"),
    [(WHOLE_MM, Fraction(3, 2), "1.5 mm"), (HALF_MM, Fraction(100), "100 mm"),
     (WHOLE_MM, 35 * INCH / 8, "111.125 mm"), (SIXTEENTHS, 35 * INCH / 8, "4 3/8″"),
     (SIXTEENTHS, Fraction(100), "3 15/16″"), (WHOLE_MM, 2.5, "2.5 mm"),
     (EIGHTHS, INCH / 64, "1/64″")],
)  # fmt: skip
def test_a_limit_is_shown_whole_where_finer_steps_can_say_it(shown, mm, text):
    assert shown.limit(mm) == text


@pytest.mark.parametrize(
    ("shown", "text"), [(WHOLE_MM, "1.5 mm"), (HALF_MM, "1.5 mm"), (SIXTEENTHS, "1/16″"),
                        (EIGHTHS, "1/16″")]
)  # fmt: skip
def test_what_is_held_within_a_sixteenth_is_held_within_a_millimetre_and_a_half(shown, text):
    assert shown.near == text


every_step = st.sampled_from([SIXTEENTHS, THIRTY_SECONDS, HALF_MM, WHOLE_MM])
lengths = st.fractions(min_value=0, max_value=10_000, max_denominator=10_000)
signed_lengths = st.fractions(min_value=-20_000, max_value=20_000, max_denominator=10_000)
proper = st.integers(2, 64).flatmap(
    lambda den: st.tuples(st.integers(1, den - 1), st.just(den))
)  # fmt: skip


# International yard and pound agreement, 1959 (Federal Register, 1 July 1959): 1 in = 25.4 mm.
@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("1", "25.4"),
        ("4", "101.6"),
        ("4-3/8", "111.125"),
        ("6", "152.4"),
        ("7-3/4", "196.85"),
    ],
)
def test_an_inch_is_exactly_25_4_mm(text, mm):
    assert read_length(text, "inch") == Fraction(mm)


def test_the_metric_in_a_us_codes_brackets_is_never_meant():
    """IRC R312.1.3 prints 4 in as 102 mm and 4-3/8 in as 111 mm; the inch stands."""
    assert read_length("4", "inch") != 102
    assert read_length("4 3/8", "inch") != 111


# US Navy training manual 14044, rafter length: 9 ft 3-1/8 in is 111-1/8 in.
@pytest.mark.parametrize("text", ["9' 3 1/8\"", "9′ 3⅛″", "9 ft 3-1/8 in", "9'-3 1/8\"", "111.125"])
def test_feet_and_inches_come_to_inches(text):
    assert read_length(text, "inch") == Fraction("2822.575")


# Decimal equivalents of an inch, table LXIII in an old plumbing handbook; mm by the definition.
@pytest.mark.parametrize(
    ("text", "inches", "mm"),
    [
        ("1/64", "0.015625", "0.396875"),
        ("1/32", "0.03125", "0.79375"),
        ("1/16", "0.0625", "1.5875"),
        ("5/64", "0.078125", "1.984375"),
        ("1/8", "0.125", "3.175"),
        ("3/16", "0.1875", "4.7625"),
        ("1/4", "0.25", "6.35"),
        ("5/16", "0.3125", "7.9375"),
        ("3/8", "0.375", "9.525"),
        ("7/16", "0.4375", "11.1125"),
        ("1/2", "0.5", "12.7"),
        ("9/16", "0.5625", "14.2875"),
        ("37/64", "0.578125", "14.684375"),
        ("5/8", "0.625", "15.875"),
        ("11/16", "0.6875", "17.4625"),
        ("3/4", "0.75", "19.05"),
        ("13/16", "0.8125", "20.6375"),
        ("7/8", "0.875", "22.225"),
        ("15/16", "0.9375", "23.8125"),
        ("63/64", "0.984375", "25.003125"),
    ],
)
def test_fractions_of_an_inch_have_their_published_decimals(text, inches, mm):
    assert read_length(text, "inch") == read_length(inches, "inch") == Fraction(mm)


def test_a_misprint_of_the_old_table_reads_as_it_stands():
    """Table LXIII prints 3/62 for what is 3/64 = 0.046875."""
    assert read_length("3/64", "inch") == Fraction("0.046875") * INCH
    assert read_length("3/62", "inch") != read_length("3/64", "inch")


# The rule of US Navy training manual 14044 (a half goes up); 94/13 from US Army engineer course
# EN5156; 107/15 and 0.12 from the Navy manual; 10/3 to the 32nd: trade practice.
@pytest.mark.parametrize(
    ("inches", "shown", "text"),
    [
        (Fraction("0.12"), SIXTEENTHS, "1/8″"),
        (Fraction(17, 32), SIXTEENTHS, "9/16″"),
        (Fraction(94, 13), SIXTEENTHS, "7 1/4″"),
        (Fraction(107, 15), SIXTEENTHS, "7 1/8″"),
        (Fraction(10, 3), THIRTY_SECONDS, "3 11/32″"),
    ],
)
def test_rounding_agrees_with_the_published_cases(inches, shown, text):
    assert shown.text(inches * INCH) == text


def test_stepping_off_a_rounded_rise_runs_away():
    """US Army engineer course EN5156: thirteen times 7-1/4 is 94-1/4, a quarter too much."""
    rounded = SIXTEENTHS.rounded(Fraction(94, 13) * INCH)
    assert 13 * rounded - 94 * INCH == INCH / 4


@pytest.mark.parametrize("inches", [Fraction(17, 32), Fraction(19, 32), Fraction(1, 32)])
def test_a_half_goes_up_and_a_negative_half_goes_down(inches):
    assert SIXTEENTHS.rounded(inches * INCH) == (inches + Fraction(1, 32)) * INCH
    assert SIXTEENTHS.rounded(-inches * INCH) == -(inches + Fraction(1, 32)) * INCH


@given(st.integers(1, 4000), every_step)
def test_a_float_that_means_a_half_goes_up_like_the_half(steps, shown):
    half = (steps + Fraction(1, 2)) * shown.step
    assert shown.rounded(float(half)) == shown.rounded(half) == (steps + 1) * shown.step


@given(signed_lengths, every_step)
def test_rounding_moves_no_more_than_half_a_step(mm, shown):
    assert abs(shown.rounded(mm) - mm) <= shown.step / 2
    assert shown.rounded(mm) % shown.step == 0
    assert shown.rounded(-mm) == -shown.rounded(mm)


@given(signed_lengths, every_step, st.sampled_from(["inch", "mm"]))
def test_what_is_shown_reads_back_as_the_rounded_length(mm, shown, units):
    assert read_length(shown.text(mm), units) == shown.rounded(mm)
    assert read_length(shown.plain(mm), shown.units) == shown.rounded(mm)


@given(st.fractions(min_value=3 * FOOT, max_value=20_000, max_denominator=1000))
def test_feet_and_inches_shown_beside_a_long_length_say_the_same(mm):
    inches, feet = SIXTEENTHS.long(mm).removesuffix(")").split(" (")
    assert read_length(inches, "inch") == read_length(feet, "inch") == SIXTEENTHS.rounded(mm)


@given(st.integers(0, 300), proper)
def test_every_way_of_writing_a_mixed_number_is_the_same_fraction(whole, part):
    num, den = part
    exact = (whole + Fraction(num, den)) * INCH
    feet, inches = divmod(whole, 12)
    for text in (
        f"{whole} {num}/{den}",
        f"{whole}-{num}/{den}",
        f"{whole} {num}⁄{den}″",
        f' {whole}  {num}/{den}"',
        f"{whole} {num}/{den} in",
        f"{whole} {num} / {den} inches",
        f"{feet}' {inches} {num}/{den}\"",
        f"{feet}′{inches} {num}/{den}″",
        f"{feet} ft {inches}-{num}/{den} IN.",
    ):
        assert read_length(text, "inch") == exact, text


@given(lengths)
def test_a_unit_written_out_overrides_the_jobs(mm):
    text = f"{float(mm):.4f}"
    exact = Fraction(text)
    assert read_length(f"{text} mm", "inch") == read_length(text, "mm") == exact
    assert read_length(f"{text}cm", "inch") == read_length(f"{text} CM", "mm") == 10 * exact
    assert read_length(f"{text}in", "mm") == read_length(text, "inch") == exact * INCH


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("10¼", "10 1/4"), ("10 ½", "10 1/2"), ("10-¾", "10 3/4"), ("⅞", "7/8"), ("5⅓", "5 1/3"),
        ("10 ¹³⁄₁₆", "10 13/16"), ("10¹³⁄₁₆″", "10 13/16"), ("3′ 6½″", "42 1/2"), ("3’6”", "42"),
        ("10–1/4", "10 1/4"), ("10\u00a01/4", "10 1/4"), ("3''", "3"), ("7'", "84"),
        ("+3", "3"), (".5", "1/2"), ("007", "7"),
    ],
)  # fmt: skip
def test_typographic_signs_read_like_plain_ones(text, inches):
    assert read_length(text, "inch") == read_length(inches, "inch")


@pytest.mark.parametrize("text", ["-3 1/2", "−3½", '- 3 1/2"', "–3.5"])
def test_a_leading_minus_is_kept(text):
    assert read_length(text, "inch") == -Fraction(7, 2) * INCH


def test_a_decimal_comma_is_read_where_millimetres_are_meant():
    assert read_length("26,5", "mm") == read_length("26,5 mm", "inch") == Fraction("26.5")
    assert read_length("2,65 cm", "inch") == Fraction("26.5")


@pytest.mark.parametrize(
    ("text", "units", "says"),
    [
        ("26,5", "inch", "is no length"),
        ("2,400", "mm", "comma before three digits"),
        ("10 5/4", "inch", "a fraction of one or more beside a whole number"),
        ("10 4/4", "inch", "a fraction of one or more beside a whole number"),
        ("21/2", "inch", "is a space missing"),
        ("10 - 1/4", "inch", "is no length"),
        ("10 1/0", "inch", "divides by zero"),
        ("0/0", "inch", "divides by zero"),
        ("10.5 1/4", "inch", "mixes a decimal point with a fraction"),
        ("10 1.5/4", "inch", "is no length"),
        ("3' 12\"", "inch", "twelve inches or more"),
        ("3' 40 mm", "inch", "mixes feet with millimetres"),
        ("3.5' 6\"", "inch", "inches beside a decimal of a foot"),
        ("3' -6' 2", "inch", "is no length"),
        ("12001", "inch", "over 1,000 feet"),
        ("9" * 300, "inch", "too long for a length"),
        ("1/" + "9" * 300, "inch", "too long for a length"),
    ],
)  # fmt: skip
def test_a_doubtful_measure_is_refused_with_its_reason(text, units, says):
    with pytest.raises(NotALength, match=says):
        read_length(text, units)


@pytest.mark.parametrize(
    "text",
    [
        "", " ", "-", "--10", "+-1", "10.", "1.2.3", "1e3", ".5e3", "0x10", "1_0", "nan", "NaN",
        "inf", "-inf", "ten", "10 1/4 1/4", "1/2/3", "10 mm mm", "10 m", "10 km", "mm", '"', "'",
        "10\" 1/4", "6:30", "¼5", "¼¼", "10¼¼", "¹⁰", "①", "١٠", "1٫5", "１０", "10 in mm",
        "10 1/4 x",         "²/₃/4", "10′ 6′",
    ],
)  # fmt: skip
@pytest.mark.parametrize("units", ["inch", "mm"])
def test_what_is_no_length_is_refused(text, units):
    with pytest.raises(NotALength):
        read_length(text, units)


@settings(max_examples=40)
@given(st.text(max_size=45), st.sampled_from(["inch", "mm"]))
def test_any_text_is_a_length_or_not_a_length(text, units):
    try:
        mm = read_length(text, units)
    except NotALength:
        return
    assert abs(mm) <= 1000 * FOOT
    assert any(sign.isdigit() or sign.isnumeric() for sign in text)


@pytest.mark.parametrize(
    ("text", "degrees"),
    [
        ("22.5", "22.5"),
        ("22 1/2", "22.5"),
        ("22½°", "22.5"),
        ("-21.8", "-21.8"),
        ("36.9 deg", "36.9"),
    ],
)
def test_angles_are_read_exactly(text, degrees):
    assert read_angle(text) == Fraction(degrees)


@pytest.mark.parametrize("text", ["", "x", "22° 30'", "nan", "1e1", "٣", "9" * 41, "1/0"])
def test_what_is_no_angle_is_refused(text):
    with pytest.raises(NotALength, match="angle"):
        read_angle(text)


def test_lengths_compare_by_measure_not_by_how_they_were_written():
    assert Length(INCH, "1") == Length(Fraction("25.4"), "25.4 mm")
    assert Length(INCH, "1") != Length(INCH * 2, "1")
