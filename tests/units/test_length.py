"""Lengths against the tape: every mark to 40 ft, every spelling, and what is refused."""

from __future__ import annotations

import re
import time
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from ledgewright.units import (
    BadFigure,
    Unit,
    read_length,
    show_length,
    show_length_down,
    show_length_up,
)

# International yard and pound agreement, 1959: 1 yd = 0.9144 m exactly, so 1 in = 25.4 mm exactly.
INCH = Fraction(9144, 36 * 10)

MARKS = st.integers(-40 * 12 * 64, 40 * 12 * 64)
VULGAR = {
    "1/2": "½", "1/4": "¼", "3/4": "¾", "1/8": "⅛", "3/8": "⅜", "5/8": "⅝", "7/8": "⅞",
}  # fmt: skip


def _mm(sixty_fourths: int) -> float:
    return float(Fraction(sixty_fourths, 64) * INCH)


def _pieces(sixty_fourths: int) -> tuple[str, int, Fraction]:
    """Sign, whole inches, fraction: taken apart here, without the code under test."""
    inches = Fraction(abs(sixty_fourths), 64)
    whole = inches.numerator // inches.denominator
    return "-" if sixty_fourths < 0 else "", whole, inches - whole


def _spellings(sixty_fourths: int) -> list[str]:
    sign, whole, part = _pieces(sixty_fourths)
    feet, inches = divmod(whole, 12)
    plain = [
        f"{whole} {part}",
        f"{whole}-{part}",
        f"{whole} - {part}",
        f"{whole}–{part}",
        f"{whole}\u00a0{part}",
    ]
    plain += [f"{whole}{VULGAR[str(part)]}"] if str(part) in VULGAR else []
    plain += [f"{whole} {str(part).replace('/', '⁄')}"]
    if not part:
        plain = [f"{whole}", f"{whole}.0"]
    ends = ["", '"', " in", "in.", " inches", "”", "″", "''", "′′", "’’"]
    short = [sign + text + end for text in plain for end in ends]
    small = f"{inches} {part}" if part else f"{inches}"
    long = [f"{feet}' {small}\"", f"{feet}'-{small}\"", f"{feet}’{small}”", f"{feet} ft {small} in"]
    long += [f"{feet}′ {small}″", f"{feet}' {small}", f"{feet}ft{small}in", f"{feet}'—{small}''"]
    decimal = [f"{sign}{float(abs(Fraction(sixty_fourths, 64)))} in"]
    return short + [sign + text for text in long] + decimal


@given(MARKS)
@example(0)
@example(-12)
@example(40 * 12 * 64)
def test_every_spelling_of_every_mark_reads_as_that_mark(mark: int) -> None:
    for text in _spellings(mark):
        assert read_length(text, "in") == _mm(mark), text
        assert read_length(text.replace("-", "−"), "in") == _mm(mark), text


@given(MARKS, st.booleans(), st.booleans())
def test_what_is_shown_reads_back(mark: int, marked: bool, feet: bool) -> None:
    text = show_length(_mm(mark), "in", to=64, mark=marked, feet=feet)
    assert read_length(text, "in") == _mm(mark)


@pytest.mark.parametrize("to", [1, 2, 4, 8, 16, 32, 64, 128])
def test_all_marks_to_40_ft_are_shown_and_read_back(to: int) -> None:
    for mark in range(-to, 40 * 12 * to + 1, max(1, to // 16)):
        mm = float(Fraction(mark, to) * INCH)
        text = show_length(mm, "in", to=to)
        assert re.fullmatch(
            r"0|-?([1-9][0-9]*|[1-9][0-9]* [1-9][0-9]*/[1-9][0-9]*|[1-9][0-9]*/[1-9][0-9]*)", text
        )
        assert read_length(text, "in") == mm


@given(st.floats(-12_000, 12_000), st.sampled_from([8, 16, 32]), st.booleans())
def test_shown_inches_are_within_half_a_mark(mm: float, to: int, feet: bool) -> None:
    step = 25.4 / to
    shown = read_length(show_length(mm, "in", to=to, feet=feet), "in")
    assert abs(shown - mm) <= step / 2 + 1e-5
    down = read_length(show_length_down(mm, "in", to=to, feet=feet), "in")
    up = read_length(show_length_up(mm, "in", to=to, feet=feet), "in")
    assert mm - step - 1e-9 < down <= mm + 2e-6
    assert mm - 2e-6 <= up < mm + step + 1e-9
    for text in (show_length(mm, "in", to=to), show_length_down(mm, "in", to=to)):
        assert f"{to}/{to}" not in text
        assert text != "-0"


@given(st.integers(-40_000, 40_000))
def test_tenths_of_a_millimetre_read_back(tenths: int) -> None:
    mm = tenths / 10
    for show in (show_length, show_length_down, show_length_up):
        assert read_length(show(mm, "mm"), "mm") == pytest.approx(mm, abs=1e-12)
        assert show(mm, "mm", mark=True).endswith(" mm")
        assert read_length(show(mm, "mm", mark=True), "in") == pytest.approx(mm, abs=1e-12)


def test_noise_of_sums_does_not_cost_a_mark() -> None:
    exact = 314.325  # 12 3/8 in
    assert show_length_down(exact - 1e-9, "in") == show_length_up(exact + 1e-9, "in") == "12 3/8"
    assert show_length_down(exact - 0.01, "in") == "12 5/16"
    assert show_length_up(exact + 0.01, "in") == "12 7/16"


@pytest.mark.parametrize(
    ("mm", "options", "text"),
    [
        (25.4 * 15.99, {}, "16"),
        (25.4 * 0.99, {}, "1"),
        (-0.2, {}, "0"),
        (-4.7625, {}, "-3/16"),
        (1028.7, {"feet": True}, "3' 4 1/2\""),
        (-1028.7, {"feet": True}, "-3' 4 1/2\""),
        (914.4, {"feet": True}, "3' 0\""),
        (914.3, {"feet": True}, "3' 0\""),
        (304.0, {"feet": True, "mark": True}, '11 15/16"'),
        (25.4 / 32, {"to": 32, "mark": True}, '1/32"'),
        (25.4 / 32, {}, "1/16"),
    ],
)
def test_inches_as_printed(mm: float, options: dict[str, bool], text: str) -> None:
    # Hand conversions at 25.4 mm to the inch; a tie goes away from 0.
    assert show_length(mm, "in", **options) == text


@pytest.mark.parametrize(
    ("mm", "text"), [(48, "48"), (47.96, "48"), (12.5, "12.5"), (-0.04, "0"), (-0.05, "-0.1")]
)
def test_millimetres_as_printed(mm: float, text: str) -> None:
    assert show_length(mm, "mm") == text


def test_a_tape_has_no_tenths() -> None:
    with pytest.raises(ValueError, match="1/10"):
        show_length(1.0, "in", to=10)


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        # 25.4 mm to the inch, 304.8 to the foot, by hand.
        ('1 7/8"', 47.625), ("12-3/8", 314.325), ("3' 4 1/2\"", 1028.7), ("3'-4 1/2\"", 1028.7), ("40.5 in", 1028.7),
        ("48 mm", 48.0), ("1.2 m", 1200.0), ("120 cm", 1200.0), ("-3/16", -4.7625), ("5 ft", 1524.0), ("12½", 317.5),
        ("⅜", 9.525), ("5 1/2 ft", 1676.4), (".5", 12.7), ("+3/16", 4.7625), ("8/16", 12.7), ("0", 0.0), ("-0", 0.0),
        ("48MM", 48.0), ("48 millimetres", 48.0), ("1.2 meters", 1200.0), ("3 feet 4 inches", 1016.0),
    ],
)  # fmt: skip
def test_lengths_as_the_trade_writes_them(text: str, mm: float) -> None:
    assert read_length(text, "in") == mm


def test_a_bare_number_is_in_the_unit_of_the_job() -> None:
    assert read_length("10", "mm") == read_length(10, "mm") == read_length(10.0, "mm") == 10.0
    assert read_length("10", "in") == read_length(10, "in") == read_length(10.0, "in") == 254.0
    assert read_length(0.1, "in") == 2.54  # not 0.1's binary neighbour times 25.4
    assert str(read_length(-0.0, "in")) == "0.0"
    assert read_length(1e-5, "mm") == 1e-5


BOTH: list[tuple[str | float, str]] = [
    ("3' 14\"", "Write 4' 2\"."),
    ("3' 14", "Write 4' 2\"."),
    ("3 ft 14 in", "Write 4 ft 2 in."),
    ("-3' 14 1/2\"", "Write -4' 2 1/2\"."),
    ("3.5' 4\"", "Write 3' 10\"."),
    ("3\" 4'", "Write 4' 3\"."),
    ("3' 4'", "Write 3' 4\"."),
    ("12 9/8\"", 'Write 13 1/8".'),
    ("3' 4 9/8\"", "Write 3' 5 1/8\"."),
    ("3' 11 9/8\"", "Write 4' 1/8\"."),
    ("16/16 in", "Write 1 in."),
    ("12,5", "Write 12.5."),
    ("12,5 mm", "Write 12.5 mm."),
    ("1,200", "Write 1200, or 1.200 if the comma was a decimal point."),
    ("1,200.5", "Write 1200.5."),
    ("3', 4\"", "Write 3' 4\"."),
    ("12.", "Write 12 if that is all of it."),
    ("1 m 20 cm", "Write 120 cm."),
    ("12 3/8 mm", "Write 12.375 mm."),
    ("12 in 3/8", "Write 12 3/8 in."),
    ("3/15 in", "Write 3/16 in, or 0.2 in if that was not the slip."),
    ("3' 4 3/15\"", "Write 3' 4 3/16\", or 3' 4.2\" if that was not the slip."),
    ("3 ft 4.5 1/2 in", "Write 3 ft 4.5 in, or leave out what does not belong."),
    ("3/18\"", 'Write 3/16", or 0.1667" if that was not the slip.'),
    ("3 ft2", "Use one of: in, ft, mm, cm, m."),
    ("12 yd", "Use one of: in, ft, mm, cm, m."),
    ("34 lb", "Use one of: in, ft, mm, cm, m."),
]  # fmt: skip
INCHES: list[tuple[str | float, str]] = [
    ("12 9/8", "Write 13 1/8."),
    ("9/8", "Write 1 1/8."),
    ("11/8", "Write 1 3/8, or 1 1/8 if a space was lost."),
    ("-11/8", "Write -1 3/8, or -1 1/8 if a space was lost."),
    ("1 1/2 /4", "Write 1 1/2 if that is all of it."),
    ("-1 1/2 /4", "Write -1 1/2 if that is all of it."),
    ("12 + 3/8", "Write 12 3/8."),
    ("12 38", "Write 12 3/8."),
    ("12 1516", "Write 12 15/16."),
    ("3-4", "Write 3/4, or 3 ft 4 in."),
    ("1.5 1/2", "Write 1.5, or leave out what does not belong."),
]
MILLIMETRES: list[tuple[str | float, str]] = [
    ("3/16", "Write 3/16 in."),
    ("-3/16", "Write -3/16 in."),
    ("12 3/8", "Write 12 3/8 in."),
    ("12-3/8", "Write 12 3/8 in."),
    ("½", "Write 1/2 in."),
    ("12 9/8", "Write 13 1/8 in."),
    ("3/15", "Write 3/16 in, or 0.2 in if that was not the slip."),
]
ADVICE = "Write it like 12 3/8 in, 3' 4 1/2\" or 48 mm."
HOPELESS: list[str | float] = [
    "", " ", "\u200b", "abc", "don't know", "nan", "inf", "-inf", float("nan"), float("inf"), True, False,
    "3/0", "1 3/0\"", "1e300", "1E5", "1e-3", 1e300, -1e300, 10**5000, -(10**5000), "9" * 5000, "9" * 60, "--3",
    "/", "-", "'", '"', "1/", "/2", ",", "٣", "12 mm mm", "1 2 3", "200 m", "12x14", "3²", "2 ft²", "1/2/4/8/9/1",
]  # fmt: skip


@pytest.mark.parametrize(("unit", "text", "right"), [
    *(("in", *row) for row in BOTH + INCHES), *(("mm", *row) for row in BOTH + MILLIMETRES),
])  # fmt: skip
def test_malformed_is_refused_with_the_nearest_right_spelling(
    unit: Unit, text: str, right: str
) -> None:
    with pytest.raises(BadFigure) as caught:
        read_length(text, unit)
    assert caught.value.right == right
    assert caught.value.text == text
    assert caught.value.wrong.endswith(".")


@pytest.mark.parametrize(
    "text", HOPELESS, ids=lambda value: str(value)[:12] if isinstance(value, str) else "number"
)
@pytest.mark.parametrize("unit", ["in", "mm"])
def test_what_is_no_length_is_refused(text: str | float, unit: Unit) -> None:
    with pytest.raises(BadFigure) as caught:
        read_length(text, unit)
    assert len(str(caught.value)) < 400


PIECES = st.sampled_from(
    [
        *"0123456789",
        " ",
        "/",
        "-",
        "'",
        '"',
        ".",
        ",",
        "½",
        "⁄",
        "′",
        "″",
        "–",
        "in",
        "ft",
        "mm",
        "m",
        "+",
        "e",
        "''",
    ]
)
LIKE_A_LENGTH = st.lists(PIECES, max_size=14).map("".join)


@given(st.one_of(st.text(), LIKE_A_LENGTH), st.sampled_from(["in", "mm"]))
def test_any_text_reads_or_is_refused_and_what_is_offered_reads(text: str, unit: Unit) -> None:
    try:
        assert abs(read_length(text, unit)) <= 100_000
    except BadFigure as refusal:
        offer = re.fullmatch(r"Write (?!it like)(.+?)(?:, or .*| if .*)?\.", refusal.right)
        if offer:
            read_length(offer[1], unit)


@given(st.one_of(st.integers(), st.floats()), st.sampled_from(["in", "mm"]))
def test_any_number_reads_or_is_refused(value: float, unit: Unit) -> None:
    try:
        mm = read_length(value, unit)
    except BadFigure:
        return
    assert mm == pytest.approx(value * (25.4 if unit == "in" else 1), abs=1e-10)


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize(
    "piece", ["1", "1 ", "1/", "1-", "1 1/2 ", "a ", "a/", "'", "'' ", "1' ", ".1", ",1", "½", "- "]
)
def test_long_runs_cost_nothing(piece: str, unit: Unit) -> None:
    start = time.perf_counter()
    for length in (64, 100_000):
        with pytest.raises(BadFigure):
            read_length((piece * length)[:length], unit)
    assert time.perf_counter() - start < 1.0
