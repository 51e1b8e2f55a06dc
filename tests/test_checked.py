"""The page of what is checked against what says what the tests say."""

from __future__ import annotations

from tools.checked import PAGE, page


def test_the_page_is_what_the_tests_say() -> None:
    # Made anew with `make checked`.
    assert PAGE.read_text(encoding="utf-8") == page()


def test_every_file_tells_what_it_is_about() -> None:
    assert "\n\n\n" not in page()
    assert page().count("\n## tests/") > 40
