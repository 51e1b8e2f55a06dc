"""The page of what is checked against what says what the tests say."""

from __future__ import annotations

import ast

import pytest

from tools.checked import PAGE, against, page


def test_the_page_is_what_the_tests_say() -> None:
    # Made anew with `make checked`.
    assert PAGE.read_text(encoding="utf-8") == page()


def test_every_file_tells_what_it_is_about() -> None:
    assert "\n\n\n" not in page()
    assert page().count("\n## tests/") > 40


@pytest.mark.parametrize("text", ["", "AGAINST = ('a', 'b')", "AGAINST = ('a', '', 'c')"])
def test_a_file_that_does_not_say_what_it_is_held_against_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"test_x\.py does not say"):
        against(ast.parse(text), "test_x.py")
