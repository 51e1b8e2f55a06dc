"""Names as a merchant's ticket, a drawing or a phone writes them, held against the catalogue's own."""

from __future__ import annotations

import random
import re

import pytest

from ledgewright import stock
from ledgewright.stock import Bar, Kind, NotStocked, Panel, Row, Timber, alike
from tests.stock.test_catalogue import FIND

AGAINST = (
    "the catalogue's own names, shuffled and spelt anew",
    "design values of the rows offered, NDS and EN 338",
    "common practice in writing sizes",
)

NAMES = [(kind, row.name) for kind in stock.KINDS for row in stock.rows(kind)]
VULGAR = {"1/4": "¼", "1/2": "½", "3/4": "¾", "3/8": "⅜", "5/8": "⅝", "7/8": "⅞"}
FIGURE = r"(\d+(?:\.\d+)?(?:/\d+)?)"


def refused(kind: Kind, typed: str) -> NotStocked:
    with pytest.raises(NotStocked) as caught:
        FIND[kind](typed)
    return caught.value


def spelt(name: str, dice: random.Random) -> str:
    """A name with its words shuffled and one way of writing sizes chosen, the order within a size kept."""
    words = name.split()
    dice.shuffle(words)
    text = " ".join(words)
    way = dice.randrange(6)
    if way == 0:
        text = re.sub(r"(?<=\d)x(?=\d)", dice.choice(["×", " x ", " X ", " by ", " × "]), text)
    elif way == 1:
        # Sizes alone have a mark behind them: no grade, no steel, no grub screw's thread.
        text = re.sub(r"(?<![\w./-])" + FIGURE + r"(?=x|\s|$)", r'\1"', text)
    elif way == 2:
        for plain, one in VULGAR.items():
            text = re.sub(rf"(?<![\d/.]){plain}(?!\d)", one, text)
    elif way == 3:
        text = (
            text.replace("-", " ").replace(".", "")
            if "." not in re.sub(r"no\.", "", text)
            else text
        )
    elif way == 4:
        text = re.sub(r"no\. ?(?=\d)", dice.choice(["#", "No. ", "no ", "No."]), text)
    return text.upper() if dice.random() < 0.5 else f" {text} "


@pytest.mark.parametrize("kind", stock.KINDS)
def test_its_own_words_in_any_order_and_spelling_bring_a_name_first(kind: Kind) -> None:
    dice = random.Random(7)  # noqa: S311 - no secret
    for name in (each for of, each in NAMES if of == kind):
        for _ in range(24):
            typed = spelt(name, dice)
            if typed == name:
                continue
            found = refused(kind, typed)
            assert found.nearest[0] == name or _torn(name, found), (typed, found.nearest)
            assert found.differs[0] == "", typed
            assert f'"{name}"' in found.right


def _torn(name: str, found: NotStocked) -> bool:
    """Hyphens taken out of 1-1/4x3/8 or 3/4-20 may leave two bars of the same figures: both are then offered."""
    return name in found.nearest and not any(found.differs)


@pytest.mark.parametrize("kind", stock.KINDS)
def test_no_name_is_another_s_in_other_words(kind: Kind) -> None:
    names = [name for of, name in NAMES if of == kind]
    for name in names:
        assert alike.same_words(name, names) == (name,)


@pytest.mark.parametrize(
    ("kind", "typed", "name"),
    [
        ("timber", "2x6 spf", "spf 2x6"),
        ("timber", "2x4 df-l", "df-l 2x4"),
        ("timber", "2 by 4 DFL", "df-l 2x4"),
        ("timber", "38x89 C16", "C16 38x89"),
        ("timber", "C 16 89 × 38 mm", "C16 38x89"),
        ("timber", "hem fir stud 2″×4″", "hem-fir stud 2x4"),
        ("timber", "#3 SPF 2x4", "spf no.3 2x4"),
        ("bar", "5/8 round bar 1018 steel", "round 5/8 1018"),
        ("bar", "flat 1¼ by ⅜ 1018", "flat 1-1/4x3/8 1018"),
        ("bar", "S 235 round 16 mm", "round 16 S235"),
        ("panel", "18mm birch ply", "birch ply 18"),
        ("panel", "mdf 0.75", "mdf 3/4"),
        ("panel", "ply, birch, 6,5", "birch ply 6.5"),
        ("screw", "#8 x 1 1/4", "no. 8 x 1 1/4"),
        ("screw", "8d nail", "nail 8d"),
        ("adhesive", "Cross linked PVA", "pva cross-linked"),
        ("lumber", "Oak, white", "white oak"),
        ("finish", "Oil, hardwax", "hardwax oil"),
    ],
)
def test_what_people_write_is_answered_by_the_one_name(kind: Kind, typed: str, name: str) -> None:
    found = refused(kind, typed)
    assert (found.nearest, found.right) == ((name,), f'write it "{name}"')


def test_a_flat_without_its_x_may_be_either_way_up_and_both_are_offered_the_weaker_first() -> None:
    """By hand: bd2/4 of 1/4 on 3/4 lying is a third of that standing."""
    found = refused("bar", "a36 flat 3/4 1/4")
    assert found.nearest == ("flat 3/4x1/4 a36", "flat 1/4x3/4 a36")


def test_another_species_of_the_same_size_is_never_offered_the_stronger_first() -> None:
    """Fb (NDS) or fm,k (EN 338) of one size side by side: the offers rise, and each says that it is another kind."""
    for row in stock.rows("timber"):
        assert isinstance(row, Timber)
        size = row.name.split()[-1]
        found = refused("timber", f"larch {size}")
        own = [
            name
            for name, d in zip(found.nearest, found.differs, strict=True)
            if d == "another kind"
        ]
        assert found.nearest[: len(own)] == tuple(own)
        offered = [stock.timber(name) for name in own]
        assert {each.name.split()[-1] for each in offered} == {size}
        bending = [each.Fb or each.fm_k or 0.0 for each in offered]
        assert bending == sorted(bending)
        assert bending[0] == min(
            each.Fb or each.fm_k or 0.0
            for each in stock.rows("timber")
            if isinstance(each, Timber) and each.name.split()[-1] == size
        )


def high(row: Row) -> float:
    match row:
        case Timber():
            return row.depth
        case Bar():
            return row.height
    assert isinstance(row, Panel)
    return row.thick


def test_another_size_is_told_as_that_and_the_smaller_comes_first() -> None:
    asked: list[tuple[Kind, str]] = [
        ("timber", "spf 2x5"),
        ("bar", "round 9/16 1018"),
        ("panel", "birch ply 16"),
    ]
    for kind, typed in asked:
        found = refused(kind, typed)
        assert set(found.differs) == {"another size"}
        deep = [high(FIND[kind](name)) for name in found.nearest]
        assert deep == sorted(deep)


def test_a_steel_left_out_is_asked_for_the_weakest_first() -> None:
    """Yields: stainless 304 at 30 ksi, A36 at 36, cold-drawn 1018 at 54."""
    found = refused("bar", "round 5/8")
    assert found.nearest == ("round 5/8 304", "round 5/8 a36", "round 5/8 1018")
    assert found.right.startswith('the nearest: "round 5/8 304" (if it is 304), ')


@pytest.mark.parametrize(
    ("kind", "typed", "name"),
    [
        ("panel", "brich ply 1/2", "birch ply 1/2"),
        ("panel", "birch plywood 1/2", "birch ply 1/2"),
        ("lumber", "popler", "poplar"),
        ("finish", "hardwax oyl", "hardwax oil"),
    ],
)
def test_a_slip_of_the_pen_is_first_and_the_others_say_what_they_are(
    kind: Kind, typed: str, name: str
) -> None:
    found = refused(kind, typed)
    assert (found.nearest[0], found.differs[0]) == (name, "")
    assert all(found.differs[1:])


def test_a_grade_is_no_slip_of_another() -> None:
    """C18 is between C16 and C24 (EN 338): the lower comes first and both say that they are not it."""
    found = refused("timber", "C18 38x89")
    assert found.nearest[:2] == ("C16 38x89", "C24 38x89")
    assert all(found.differs)
