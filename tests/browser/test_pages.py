"""Every page of the desk, on a phone and on a laptop, light and dark: it shuts nobody out, and says nothing aside.

Against: the accessibility rules of a public engine (axe-core: WCAG 2 A and AA), serious and critical.
"""

from __future__ import annotations

from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from ledgewright.desk.stages import ORDER
from tests.browser.conftest import LAPTOP, PATIENCE, PHONE, Desk, Opened
from tests.desk.made import ALCOVE, as_read, folder

expect.set_options(timeout=PATIENCE)
PAGES = ("/", "/new", *(f"/job/{ALCOVE}/{stage}" for stage, _ in ORDER))


def serious(page: Page) -> list[Any]:
    """What the engine finds serious or worse, with the elements it is about.

    Lettering of drawings, which stand on white paper in every scheme, is looked at apart: under turned lettering the
    engine takes the page for the ground.
    """
    paper = "each => [getComputedStyle(each).backgroundColor, getComputedStyle(each).color]"
    for figure in page.locator("figure").all():
        assert figure.evaluate(paper) == ["rgb(255, 255, 255)", "rgb(0, 0, 0)"]
    found = [
        (each["id"], node["html"][:160])
        for each in Axe().run(page).response["violations"]
        if each["impact"] in ("serious", "critical")
        for node in each["nodes"]
    ]
    return [
        each for each in found if each[0] != "color-contrast" or not each[1].startswith("<text")
    ]


def test_no_page_shuts_anybody_out(desk: Desk, opened: Opened) -> None:
    """Both sizes, both schemes on the laptop; pages that follow are looked at once what they wait for is there."""
    folder(desk.folder, ALCOVE)
    (desk.folder / f"{ALCOVE}.toml").write_text(as_read(ALCOVE), encoding="utf-8")
    desk.start()
    wrong = []
    for size in (LAPTOP, PHONE):
        page = opened(size)
        for path in PAGES:
            page.goto(desk.home + path)
            expect(page.locator("[data-follow]")).to_have_count(0)
            for scheme in ("light", "dark") if size == LAPTOP else ("light",):
                page.emulate_media(color_scheme=scheme)
                wrong += [(size, path, scheme, *each) for each in serious(page)]
            wide = page.evaluate("() => document.documentElement.scrollWidth - innerWidth")
            assert wide <= 0, (size, path, wide)
    assert wrong == []


def test_a_calculation_and_a_refusal_shut_nobody_out(desk: Desk, opened: Opened) -> None:
    folder(desk.folder, ALCOVE)
    desk.start()
    page = opened(PHONE, f"/job/{ALCOVE}/result")
    expect(page.locator("[data-follow]")).to_have_count(0)
    page.locator("#result tbody th a").first.tap()
    page.wait_for_url("**/result/**")
    assert serious(page) == []
    page.goto(f"{desk.home}/job/{ALCOVE}/shelf")
    page.locator('[name="f:shelf.reading.depth"]').fill("ten")
    page.locator("h1").tap()
    expect(page.locator(".said .wrong").first).to_be_visible()
    assert serious(page) == []


@pytest.mark.parametrize("size", [LAPTOP, PHONE])
def test_a_page_that_is_not_there_is_told_in_words(desk: Desk, opened: Opened, size: str) -> None:
    desk.start()
    page = opened(size)
    page.goto(f"{desk.home}/job/nothing")
    expect(page.get_by_role("heading", name="This cannot be done")).to_be_visible()
    assert serious(page) == []
    opened.seen.console.clear()  # type: ignore[attr-defined]  # the browser's own word on a 404
