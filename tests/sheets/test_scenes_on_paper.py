"""Every sheet of the three scenes, whole and in bundles, measured in the PDF."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest

from ledgewright.sheets import BUNDLES
from ledgewright.sheets.bundles import Bundle
from tests.sheets.scenes import SCENES, printed
from tests.sheets.sound import all_sound, head, used

RUN_ON = ("Calculations", "Workings", "Labels")


@pytest.mark.parametrize("bundle", [None, *BUNDLES])
@pytest.mark.parametrize("name", SCENES)
def test_every_sheet_is_sound(name: str, bundle: Bundle | None) -> None:
    all_sound(printed(name, bundle), f"{name} {bundle or 'whole'}")


@pytest.mark.parametrize("name", SCENES)
def test_no_sheet_goes_on_for_a_line_or_two(name: str) -> None:
    """A page somebody turns to has to be worth it: a fifth of its room at the least (our own measure).

    Calculations run on from page to page like a book, and end where they end; labels are cut out one by one.
    """
    for before, after in pairwise(printed(name, None)):
        if head(before) == head(after) and not head(after).startswith(RUN_ON):
            assert used(after) >= 0.2, (head(after), used(after))


@pytest.mark.parametrize("name", SCENES)
def test_the_fitting_order_is_read_without_turning_a_page(name: str) -> None:
    heads = [head(sheet) for sheet in printed(name, "site")]
    orders = [h for h in heads if h.startswith("Fitting order")]
    assert orders
    assert len(orders) == len(set(orders))


@pytest.mark.parametrize("name", SCENES)
def test_the_list_of_pieces_stands_with_the_core_map(name: str) -> None:
    """Nothing that needs a turned page while glue is open (common practice)."""
    heads = [head(sheet) for sheet in printed(name, "shop")]
    maps = [h for h in heads if h.startswith("Core map")]
    assert maps
    assert len(maps) == len(set(maps))


@pytest.mark.parametrize("name", SCENES)
def test_the_cover_of_each_is_one_page_and_so_are_its_contents(name: str) -> None:
    for bundle in (None, *BUNDLES):
        heads = [head(sheet) for sheet in printed(name, bundle)]
        assert [h.startswith("Contents") for h in heads[:3]] == [False, True, False]


TORN = re.compile(r"\d ?\n(?:mm|kg|lb|ml|kN)\b|[a-z,] \d+ ?\n\d+/\d+\"")
"""A number at the end of a line and its unit, or an inch mark's fraction, at the head of the next."""


@pytest.mark.parametrize("name", SCENES)
def test_no_line_ends_within_a_figure(name: str) -> None:
    """A fraction, a unit on a line of its own is read as another figure."""
    for sheet in printed(name, None):
        assert TORN.search(sheet.text) is None, (head(sheet), TORN.search(sheet.text))
