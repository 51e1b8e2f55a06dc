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
from tests.desk.made import ALCOVE, CORNER, as_read
from tests.jobs import EXAMPLES

expect.set_options(timeout=PATIENCE)
ASKED = {"resultTypes": ["violations"]}
"""Of the engine every rule is asked; what keeps to them need not be written out element by element."""
COLOURS = {**ASKED, "runOnly": {"type": "rule", "values": ["color-contrast"]}}
"""In another scheme colours alone differ."""


def pages(job: str) -> tuple[str, ...]:
    """The address of every page of the desk and of a job of it."""
    return ("/", "/new", *(f"/job/{job}/{stage}" for stage, _ in ORDER))


def serious(page: Page, asked: dict[str, Any] = ASKED) -> list[Any]:
    """What the engine finds serious or worse, with the elements it is about.

    Lettering of drawings, which stand on white paper in every scheme, is looked at apart: under turned lettering the
    engine takes the page for the ground.
    """
    paper = "each => [getComputedStyle(each).backgroundColor, getComputedStyle(each).color]"
    for figure in page.locator("figure").evaluate_all(f"all => all.map({paper})"):
        assert figure == ["rgb(255, 255, 255)", "rgb(0, 0, 0)"]
    found = [
        (each["id"], node["html"][:160])
        for each in Axe().run(page, options=asked).response["violations"]
        if each["impact"] in ("serious", "critical")
        for node in each["nodes"]
    ]
    return [
        each for each in found if each[0] != "color-contrast" or not each[1].startswith("<text")
    ]


def wider(page: Page) -> int:
    """By how much a page is wider than its window was set to be: a phone's own width grows with its page."""
    assert page.viewport_size is not None
    wide: int = page.evaluate("() => document.documentElement.scrollWidth")
    return wide - page.viewport_size["width"]


def lettering(page: Page) -> float:
    """The smallest lettering of the drawings as it is on the glass (px): 12 is read at arm's length."""
    sizes: list[float] = page.locator("figure svg text").evaluate_all(
        """all => all.map((each) => {
          const m = each.getScreenCTM();
          return parseFloat(getComputedStyle(each).fontSize) * Math.hypot(m.a, m.b);
        })"""
    )
    assert sizes
    return min(sizes)


@pytest.mark.parametrize("every", [3, pytest.param(1, marks=pytest.mark.soak)])
def test_no_page_shuts_anybody_out(desk: Desk, opened: Opened, every: int) -> None:
    """Both sizes, both schemes on the laptop; pages that follow are looked at once what they wait for is there.

    All pages on the laptop; on the phone, and in the dark, one of three in each run and all of them in the soak.
    """
    job = desk.bring(ALCOVE, as_read(ALCOVE))
    wrong = []
    for size in (LAPTOP, PHONE):
        page = opened(size)
        for number, path in enumerate(pages(job)):
            page.goto(desk.home + path)
            expect(page.locator("[data-follow]")).to_have_count(0)
            picked = number % every == 0
            if size == LAPTOP or picked:
                wrong += [(size, path, *each) for each in serious(page)]
            if size == LAPTOP and picked:
                page.emulate_media(color_scheme="dark")
                wrong += [(size, path, "dark", *each) for each in serious(page, COLOURS)]
                page.emulate_media(color_scheme="light")
            assert wider(page) <= 0, (size, path)
            if size == PHONE and path.endswith(("/walls", "/rods", "/result")):
                assert lettering(page) >= 11.9, path
    assert wrong == []


def test_a_calculation_and_a_refusal_shut_nobody_out(desk: Desk, opened: Opened) -> None:
    job = desk.bring(ALCOVE)
    page = opened(PHONE, f"/job/{job}/result")
    expect(page.locator("[data-follow]")).to_have_count(0)
    page.locator("#result tbody th a").first.tap()
    page.wait_for_url("**/result/**")
    assert serious(page) == []
    # it follows the file as every other page does
    text, verdict = desk.text(job), page.locator("#verdict")
    expect(verdict).to_have_text("It holds")
    title = page.locator("#calculation h2").inner_text()
    (desk.folder / f"{job}.toml").write_text(
        text.replace('"30 kg/m"', '"300 kg/m"'), encoding="utf-8"
    )
    page.evaluate("() => window.dispatchEvent(new Event('focus'))")
    expect(verdict).to_have_text("It does not hold")
    expect(page.locator("#calculation h2")).to_have_text(title)
    (desk.folder / f"{job}.toml").write_text("[[[", encoding="utf-8")
    page.evaluate("() => window.dispatchEvent(new Event('focus'))")
    expect(verdict).to_have_text("Not complete yet")
    (desk.folder / f"{job}.toml").write_text(text, encoding="utf-8")
    page.goto(f"{desk.home}/job/{job}/shelf")
    page.locator('[name="f:shelf.reading.depth"]').fill("ten")
    page.locator("h1").tap()
    expect(page.locator(".said .wrong").first).to_be_visible()
    assert serious(page) == []


def test_the_bar_of_a_job_with_something_to_mend_or_a_long_name_keeps_to_the_phone(
    desk: Desk, opened: Opened
) -> None:
    """The longest name a shelf may have stands on one line of the bar, and every figure with its limit on another."""
    text = (EXAMPLES / f"{CORNER}.toml").read_text(encoding="utf-8")
    name = "showroom shelf left of the door by kilns"
    assert len(name) == 40
    long = desk.bring(CORNER, text.replace('id = "showroom"', f'id = "{name}"'))
    short = desk.bring(CORNER)
    lacking = desk.bring(CORNER, text.replace("depth = ", "depht = "))
    page, high = opened(PHONE), dict[str, float]()
    for job in (long, short, lacking):
        page.goto(f"{desk.home}/job/{job}/shelf")
        expect(page.locator("#state[data-follow]")).to_have_count(0)
        assert wider(page) <= 0, job
        high[job] = page.locator("#state").bounding_box()["height"]  # type: ignore[index]  # it is shown
    assert high[long] == pytest.approx(high[short], abs=0.5)
    page.goto(f"{desk.home}/job/{long}/shelf")
    expect(page.locator("#state .about")).to_contain_text(f"{name}, section ")


def test_a_long_unbroken_name_keeps_to_the_phone(desk: Desk, opened: Opened) -> None:
    name = "W" * 120
    text = (EXAMPLES / f"{ALCOVE}.toml").read_text(encoding="utf-8")
    job = desk.bring(ALCOVE, text.replace('name = "Reading alcove"', f'name = "{name}"'))
    page = opened(PHONE)
    for path in pages(job):
        page.goto(desk.home + path)
        assert wider(page) <= 0, path


@pytest.mark.parametrize("size", [LAPTOP, PHONE])
def test_a_page_that_is_not_there_is_told_in_words(desk: Desk, opened: Opened, size: str) -> None:
    page = opened(size)
    page.goto(f"{desk.home}/job/nothing")
    expect(page.get_by_role("heading", name="This cannot be done")).to_be_visible()
    assert serious(page) == []
    opened.seen.console.clear()  # type: ignore[attr-defined]  # the browser's own word on a 404
