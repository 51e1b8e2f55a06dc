"""Letters, words and formulas: nothing a job says can break a page, nothing is said in the wrong English."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ledgewright.sheets import letters, words
from ledgewright.sheets.mathematics import mathematics
from ledgewright.sheets.model import Block, CalculationSheet, Line, Table, Working
from ledgewright.sheets.plainly import plain_place
from ledgewright.sheets.press import press
from ledgewright.sheets.say import Say
from ledgewright.sheets.workings import plain
from tests.sheets import paper

HAS = letters.face()
US, UK = Say("in", "en-US"), Say("mm", "en-GB")


@given(st.text(max_size=60))
def test_every_text_becomes_letters_the_face_has(text: str) -> None:
    once = letters.sound(text, HAS).text
    assert set(once) <= HAS | {" "}
    assert letters.sound(once, HAS).text == once


@pytest.mark.parametrize(
    "text", ["Stoneware corner", "Ράφι στη γωνία", "Полка в углу", "Żółć, ærøskøbing, ß, Ő, ț"]
)
def test_latin_greek_and_cyrillic_stay_as_they_are(text: str) -> None:
    assert letters.sound(text, HAS) == letters.Sound(text, ())


def test_letters_apart_from_their_marks_are_joined() -> None:
    # Unicode Standard Annex 15: e + U+0301 and U+00E9 are the same text.
    assert letters.sound("cafe\u0301", HAS).text == "café"


def test_right_to_left_and_zero_width_marks_are_dropped() -> None:
    assert letters.sound("a\u202eb\u200bc\u0007d\n e", HAS).text == "abcd e"


def test_long_words_get_places_to_break() -> None:
    parts = letters.breakable("x" * 70 + " short").split("\u200b")
    assert max(map(len, parts)) <= 28 + len(" short")


def test_both_englishes_have_every_word() -> None:
    for key in words.keys():  # noqa: SIM118 - a function of the table, not a mapping
        assert words.word(key, "en-US")
        assert words.word(key, "en-GB")
    # Common practice: the trade's words in both Englishes.
    assert (words.word("edging", "en-US"), words.word("edging", "en-GB")) == (
        "solid edging",
        "lipping",
    )
    assert words.word("rod", "en-GB") == "steel bar"


@pytest.mark.parametrize(
    ("us", "uk"),
    [
        # The trade's words in both Englishes: common practice.
        ("Rod bends both ways", "Steel bar bends both ways"),
        ("rods: cut and dress", "steel bars: cut and dress"),
        ("ROD", "STEEL BAR"),
        ("edging, front", "lipping, front"),
        ("glue an edging on", "glue a lipping on"),
        ("beside a casing", "beside an architrave"),
        ("load limit", "maximum safe load"),
        ("the center, in color", "the centre, in colour"),
        ("a licensed engineer", "a chartered engineer"),
    ],
)
def test_texts_are_put_into_the_english_of_the_job(us: str, uk: str) -> None:
    assert UK.text(us) == uk
    assert US.text(uk) == us
    assert US.text(us) == us
    assert UK.text(uk) == uk


@pytest.mark.parametrize(
    "text",
    ["rod.bend@A.s1", "shelf.x.rods", "rod_spec", "prod", "rods-first", "uncolored", "x.edging"],
)
def test_ids_and_paths_are_no_words(text: str) -> None:
    assert UK.text(text) == text


def test_names_of_the_job_stay_as_they_are() -> None:
    named = Say("mm", "en-GB", ("window casing", "rod rail"))
    assert named.text("The window casing is passed; a casing is not.") == (
        "The window casing is passed; an architrave is not."
    )
    assert named.text("rod rail, rod") == "rod rail, steel bar"
    assert UK.text("solid edging") == "lipping"


@pytest.mark.parametrize(
    ("path", "plain"),
    [
        ("wall.A.studs", "wall A: studs"),
        ("shelf.showroom.single", "shelf showroom: one heavy thing"),
        ("wall.back.known.services", "wall back: what is behind it, services"),
        ("shelf[0].load[2].lasts", "shelf 1: loads 3, how long it stays"),
        ('wall."the long one".line', "wall the long one: true face"),
        ("site.temperature", "site: temperature"),
        ("shelf.x.skin_top", "shelf x: top skin"),
        ("basis", "basis"),
    ],
)
def test_places_in_the_job_file_in_plain_words(path: str, plain: str) -> None:
    assert plain_place(path) == plain


def test_drops_are_rounded_up_and_limits_down() -> None:
    # 1 mm is 0.03937 in: between 2/64 (0.03125) and 3/64 (0.046875).
    assert US.drop(1.0) == '3/64"'
    assert US.limit(1.0) == '1/32"'
    assert UK.drop(1.01) == "1.1 mm"
    assert UK.limit(1.09) == "1 mm"


def test_weights_are_rounded_up() -> None:
    # 1 lb = 0.45359237 kg exactly (NIST SP 811): 21.3 kg is 46.96 lb; 34 lb stays 34 lb.
    assert US.mass(21.3) == "47 lb"
    assert US.mass(34 * 0.45359237) == "34 lb"
    assert UK.mass(21.3) == "22 kg"
    assert UK.mass(9.0) == "9 kg"


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.0, "0"),
        (246790.0, "246 790"),
        (0.2404, "0.2404"),
        (12.5, "12.5"),
        (3.402e-4, "0.0003402"),
        (-2438.2, "-2 438"),
    ],
)
def test_figures_of_a_derivation(value: float, text: str) -> None:
    assert plain(value) == text


def set_as(formula: str) -> str:
    """Return the text of a page that shows this formula."""
    line = Line(1, "x", formula, "", "1 mm", "", assumed=False, room="beside")
    working = Working("check", "", "passes", "", "1", "2", "0.5", "D", "", "", "", (line,))
    none = Table((), (), (), ())
    page = CalculationSheet("T", "", "mm", none, "", "", (), "", (working,), none, none, "")
    block = Block("n", "c", "r", 210, 297, "A4", "p")
    return paper.texts(press(block, {"one": page}))[0]


@given(
    st.text(
        alphabet=st.sampled_from("abFeyMn_^/()[]{}\"#$\\@`~<>=+-*,.;:!&|' 0123456789√×·"),
        max_size=30,
    )
)
@settings(max_examples=40, deadline=None)
def test_no_formula_stops_a_packet(text: str) -> None:
    assert "1 mm" in set_as(text)


@pytest.mark.parametrize("text", [";1", "a, b", "a / b, c; d", "^", "a_", "(", ")", "/", "&", "'"])
def test_formulas_with_stray_signs(text: str) -> None:
    assert "1 mm" in set_as(text)


def test_a_formula_with_a_slip_is_shown_as_words() -> None:
    assert "ab^" in set_as("a^b ab^")


@pytest.mark.parametrize(
    ("formula", "kept"),
    [
        ("F_e d", "F_e d"),
        ("(8 pi G (1-nu)) / (kappa ln r)", "(8 pi G (1-nu)) / (kappa ln r)"),
        ("sqrt(x) dot.op 3", "sqrt(x) dot.op 3"),
        ("F_em L", 'F_"em" L'),
        ("#read(x)", '"read"(x)'),
        ("(open", '"(open"'),
    ],
)
def test_formulas_keep_their_mathematics(formula: str, kept: str) -> None:
    assert mathematics(formula) == kept


def test_no_code_survives_in_a_formula() -> None:
    assert not re.search(r"[#\\@]", mathematics('#sys.inputs \\ @x "#ok" $').replace('"#ok"', ""))
