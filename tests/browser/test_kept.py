"""What is typed and not saved, in a true browser: it is kept, marked and counted, and never goes over another's.

Against: the job file on disk, read by the TOML parser of the standard library. Figures are scenes of our own.
"""

from __future__ import annotations

import time
import tomllib
from typing import Any

import pytest
from playwright.sync_api import Dialog, Locator, Page, expect

from tests.browser.conftest import LAPTOP, PATIENCE, PHONE, Desk, Opened
from tests.desk.made import ALCOVE, folder
from tests.desk.test_new import STRAIGHT

expect.set_options(timeout=PATIENCE)
RECORD = "record-wall"
DEPTH, TOP = "f:shelf.reading.depth", "f:shelf.reading.top"
CLASH = "Somebody else changed this meanwhile"


def shelf(desk: Desk, job: str) -> dict[str, Any]:
    found: dict[str, Any] = tomllib.loads(desk.text(job))["shelf"][0]
    return found


def on_disk(desk: Desk, job: str, **figures: object) -> None:
    """Wait until figures of the first shelf are on disk."""
    end = time.monotonic() + PATIENCE / 1000
    while (found := {key: shelf(desk, job).get(key) for key in figures}) != figures:
        assert time.monotonic() < end, found
        time.sleep(0.02)


def field(page: Page, name: str) -> Locator:
    return page.locator(f'[name="{name}"]')


def typed(page: Page, name: str, text: str) -> None:
    """Type a figure and leave its field."""
    field(page, name).fill(text)
    field(page, name).blur()


def counted(page: Page, words: str) -> None:
    expect(page.locator("#state .unsaved")).to_contain_text(words)


def focus(page: Page) -> None:
    """A window that comes to the front looks again."""
    page.evaluate("() => window.dispatchEvent(new Event('focus'))")


def test_whoever_keeps_what_is_in_the_file_does_not_write_over_it_later(
    desk: Desk, opened: Opened
) -> None:
    job = desk.bring(ALCOVE)
    one = opened(LAPTOP, f"/job/{job}/shelf")
    two = opened(PHONE, f"/job/{job}/shelf")
    typed(one, DEPTH, "280")
    on_disk(desk, job, depth=280)
    typed(two, DEPTH, "290")
    expect(two.get_by_role("heading", name=CLASH)).to_be_visible()
    two.get_by_text("Keep what is in the file").tap()
    expect(two.get_by_role("heading", name=CLASH)).to_have_count(0)
    two.wait_for_load_state()
    expect(field(two, DEPTH)).to_have_value("280")
    expect(two.locator(".unsaved")).to_have_count(0)
    typed(two, TOP, "1364")
    on_disk(desk, job, depth=280, top=1364)


def test_what_is_typed_for_one_entry_never_lands_in_another(desk: Desk, opened: Opened) -> None:
    """Another window takes out an entry before it, so that its number is another's: the desk tells, and writes nothing.

    Both entries stand out from nought, so that the figure typed over has the same old value in either.
    """
    job = desk.bring(RECORD)
    was = {each["id"]: each["out"] for each in tomllib.loads(desk.text(job))["obstacle"]}
    page = opened(LAPTOP, f"/job/{job}/corners")
    other = opened(PHONE, f"/job/{job}/corners")
    out = page.locator("section", has=page.get_by_role("heading", name="baseboard heater")).locator(
        '[name$=".out[0]"]'
    )
    out.click()
    out.fill("1/4")
    other.locator('button[value^="obstacle"]').first.tap()
    expect(other.get_by_role("heading", name="outlet")).to_have_count(0)
    moved = page.locator("#form-1").get_by_role("heading", name="baseboard heater")
    focus(page)
    expect(moved).to_be_visible()
    page.keyboard.press("Tab")
    expect(page.get_by_role("heading", name=CLASH)).to_be_visible()
    now = {each["id"]: each["out"] for each in tomllib.loads(desk.text(job))["obstacle"]}
    assert now == {name: there for name, there in was.items() if name != "outlet"}
    page.get_by_text("Keep what is in the file").click()
    expect(page.locator(".unsaved")).to_have_count(0)
    assert entries(page) == list(now)


def entries(page: Page) -> list[str]:
    """What the forms of the obstacles are headed, in their order."""
    cards = page.locator("section[data-rev]", has=page.locator('button[value^="obstacle"]'))
    return cards.locator("h2").all_inner_texts()


def test_what_is_taken_out_goes_with_its_heading_and_a_second_tap_takes_no_other(
    desk: Desk, opened: Opened
) -> None:
    job = desk.bring(RECORD)
    page = opened(PHONE, f"/job/{job}/corners")
    names = entries(page)
    assert len(names) == 3
    take = page.locator('button[value^="obstacle"]')
    take.first.dblclick()
    expect(page.get_by_role("heading", name=names[0])).to_have_count(0)
    page.wait_for_timeout(300)
    left = names[1:]
    assert entries(page) == left
    assert [each["id"] for each in tomllib.loads(desk.text(job))["obstacle"]] == left
    page.wait_for_timeout(500)
    take.last.tap()
    expect(page.get_by_role("heading", name=names[2])).to_have_count(0)
    assert entries(page) == left[:-1]
    assert [each["id"] for each in tomllib.loads(desk.text(job))["obstacle"]] == left[:-1]


@pytest.mark.parametrize("size", [LAPTOP, PHONE])
def test_what_is_put_back_after_a_reload_is_seen_not_to_be_saved(
    desk: Desk, opened: Opened, size: str
) -> None:
    """After a reload, after another page and back, and after Undo; until it is what the file has."""
    job = desk.bring(ALCOVE)
    page = opened(size, f"/job/{job}/shelf")
    typed(page, TOP, "1360")
    on_disk(desk, job, top=1360)
    typed(page, DEPTH, "28,5")
    expect(page.locator(".said .wrong").first).to_be_visible()
    counted(page, "1 figure not saved")

    def seen() -> None:
        expect(field(page, DEPTH)).to_have_value("28,5")
        expect(field(page, DEPTH)).to_have_attribute("aria-invalid", "true")
        expect(page.get_by_text("Not saved. The file has 285.")).to_be_visible()
        counted(page, "1 figure not saved: mend")

    page.reload()
    seen()
    page.locator('nav a[href$="/rods"]').click()
    page.wait_for_url("**/rods")
    counted(page, "1 figure not saved: Shelf")
    page.go_back()
    seen()
    page.get_by_role("button", name="Undo").click()
    expect(field(page, TOP)).to_have_value("1365")
    seen()
    assert shelf(desk, job)["depth"] == 285
    typed(page, DEPTH, "285")
    expect(page.locator(".unsaved")).to_have_count(0)
    expect(field(page, DEPTH)).not_to_have_attribute("aria-invalid", "true")


def test_what_was_typed_on_an_older_page_is_held_against_what_is_there_now(
    desk: Desk, opened: Opened
) -> None:
    """Typed, reloaded after another window has changed the same figure: both are shown, nothing is written over."""
    job = desk.bring(ALCOVE)
    one = opened(LAPTOP, f"/job/{job}/shelf")
    field(one, DEPTH).press_sequentially("1")
    field(one, DEPTH).fill("280")
    two = opened(PHONE, f"/job/{job}/shelf")
    typed(two, DEPTH, "270")
    on_disk(desk, job, depth=270)
    one.reload()
    expect(one.get_by_text("Not saved. The file has 270.")).to_be_visible()
    focus(one)
    typed(one, TOP, "1360")
    expect(one.get_by_role("heading", name=CLASH)).to_be_visible()
    assert (shelf(desk, job)["depth"], shelf(desk, job)["top"]) == (270, 1365)
    one.get_by_text("Keep what is in the file").click()
    expect(field(one, DEPTH)).to_have_value("270")
    expect(field(one, TOP)).to_have_value("1360")
    field(one, TOP).press("Enter")
    on_disk(desk, job, depth=270, top=1360)


def test_a_wrong_figure_does_not_hold_back_the_right_ones(desk: Desk, opened: Opened) -> None:
    job = desk.bring(ALCOVE)
    page = opened(LAPTOP, f"/job/{job}/shelf")
    typed(page, DEPTH, "28,5")
    expect(page.locator(".said .wrong").first).to_be_visible()
    typed(page, TOP, "1360")
    on_disk(desk, job, top=1360, depth=285)
    expect(field(page, DEPTH)).to_have_value("28,5")
    expect(page.get_by_text("A comma does not belong")).to_be_visible()
    counted(page, "1 figure not saved")
    page.reload()
    expect(field(page, TOP)).to_have_value("1360")
    counted(page, "1 figure not saved")


def test_the_bar_follows_the_file_while_a_figure_is_wrong(desk: Desk, opened: Opened) -> None:
    job = desk.bring(ALCOVE)
    page = opened(LAPTOP, f"/job/{job}/shelf")
    typed(page, DEPTH, "28,5")
    expect(page.locator(".said .wrong").first).to_be_visible()
    was = page.locator("#state").get_attribute("data-rev")
    text = desk.text(job).replace("top = 1365", "top = 1366")
    assert text != desk.text(job)
    (desk.folder / f"{job}.toml").write_text(text, encoding="utf-8")
    focus(page)
    expect(page.locator("#state")).not_to_have_attribute("data-rev", str(was))
    expect(field(page, TOP)).to_have_value("1366")
    expect(field(page, DEPTH)).to_have_value("28,5")
    expect(page.get_by_text("A comma does not belong")).to_be_visible()
    counted(page, "1 figure not saved")


def test_a_page_that_stays_in_view_does_not_go_on_saying_what_is_no_longer_so(
    desk: Desk, opened: Opened
) -> None:
    """Nobody touches it: an editor changes the file, takes it away and brings it back; then the desk is not heard."""
    job = desk.bring(ALCOVE)
    page = opened(LAPTOP)
    page.clock.install()
    page.goto(f"{desk.home}/job/{job}/shelf")
    bar, path = page.locator("#state"), desk.folder / f"{job}.toml"
    typed(page, DEPTH, "285,")
    expect(page.locator(".said .wrong").first).to_be_visible()
    field(page, DEPTH).focus()
    was = str(bar.get_attribute("data-rev"))
    asked = [url for url in opened.seen.asked if url.endswith("/revision")]  # type: ignore[attr-defined]
    page.clock.fast_forward(8000)
    expect(bar).to_have_attribute("data-rev", was)
    path.write_text(desk.text(job).replace("top = 1365", "top = 1366"), encoding="utf-8")
    page.clock.fast_forward(8000)
    expect(bar).not_to_have_attribute("data-rev", was)
    expect(field(page, TOP)).to_have_value("1366")
    expect(field(page, DEPTH)).to_be_focused()
    expect(field(page, DEPTH)).to_have_value("285,")
    away = path.rename(desk.folder / "away")
    page.clock.fast_forward(8000)
    expect(page.locator("#verdict")).to_have_text("Not known")
    away.rename(path)
    page.clock.fast_forward(8000)
    expect(page.locator("#verdict")).not_to_have_text("Not known")
    page.route("**/revision", lambda route: route.abort())
    page.clock.fast_forward(8000)
    expect(bar.locator(".silent")).to_contain_text("Not asked since")
    page.unroute("**/revision")
    page.clock.fast_forward(8000)
    expect(bar.locator(".silent")).to_have_count(0)
    # once for each time, and nothing more
    now = [url for url in opened.seen.asked if url.endswith("/revision")]  # type: ignore[attr-defined]
    assert len(now) - len(asked) <= 8
    opened.seen.console.clear()  # type: ignore[attr-defined]  # the browser's own word on what did not answer


def test_undo_on_one_device_asks_before_it_takes_back_what_another_wrote(
    desk: Desk, opened: Opened
) -> None:
    job = desk.bring(ALCOVE)
    one, two = opened(LAPTOP, f"/job/{job}/shelf"), opened(PHONE, f"/job/{job}/shelf")
    typed(one, TOP, "1360")
    on_disk(desk, job, top=1360)
    typed(two, DEPTH, "280")
    on_disk(desk, job, depth=280)
    # seen on the first device, too; it was not made there
    focus(one)
    expect(field(one, DEPTH)).to_have_value("280")
    one.get_by_role("button", name="Undo").click()
    expect(one.get_by_text("Undo would now take back")).to_contain_text("shelf.reading.depth")
    assert shelf(desk, job)["depth"] == 280
    one.get_by_role("button", name="Take that back").click()
    expect(field(one, DEPTH)).to_have_value("285")
    on_disk(desk, job, depth=285, top=1360)


def test_closing_a_window_with_a_figure_not_saved_is_asked_about(
    desk: Desk, opened: Opened
) -> None:
    job = desk.bring(ALCOVE)
    page = opened(LAPTOP, f"/job/{job}/shelf")
    asked = list[str]()

    def hear(dialog: Dialog) -> None:
        asked.append(dialog.type)
        dialog.accept()

    page.on("dialog", hear)
    page.locator("h1").click()
    page.reload()
    assert asked == []
    field(page, DEPTH).click()
    page.keyboard.type("9")
    page.locator('nav a[href$="/rods"]').click()
    page.wait_for_url("**/rods")
    assert asked == []
    page.goto(f"{desk.home}/job/{job}/shelf")
    typed(page, DEPTH, "28,5")
    expect(page.locator(".said .wrong").first).to_be_visible()
    page.wait_for_timeout(2100)
    with page.expect_event("close"):
        page.close(run_before_unload=True)
    assert asked[-1:] == ["beforeunload"]


def test_undo_redo_and_the_counts_of_the_pages_follow(desk: Desk, opened: Opened) -> None:
    job = desk.bring(ALCOVE)
    page = opened(LAPTOP, f"/job/{job}/shelf")
    undo, redo = (page.get_by_role("button", name=name) for name in ("Undo", "Redo"))
    expect(undo).to_be_disabled()
    typed(page, TOP, "1360")
    expect(undo).to_be_enabled()
    undo.click()
    expect(field(page, TOP)).to_have_value("1365")
    expect(redo).to_be_enabled()
    page.wait_for_load_state()
    typed(page, TOP, "1361")
    expect(redo).to_be_disabled()
    expect(page.locator("nav .count")).to_have_count(0)
    text = desk.text(job).replace("depth = 285", "depht = 285")
    (desk.folder / f"{job}.toml").write_text(text, encoding="utf-8")
    focus(page)
    expect(page.locator("nav .count").first).to_be_visible()


def test_the_answers_stay_until_the_job_is_made(desk: Desk, opened: Opened) -> None:
    """After a refusal, another page, Back, and a fresh visit; then they are gone."""
    page = opened(LAPTOP, "/new")
    for name, text in (STRAIGHT | {"q:file": "attic", "q:depth": "ten"}).items():
        cell = field(page, name)
        if cell.evaluate("each => each.tagName") == "SELECT":
            cell.select_option(text)
        else:
            cell.fill(text)
    # answers are called out: Enter goes on, and makes nothing yet
    field(page, "q:top").press("Enter")
    expect(field(page, "q:left")).to_be_focused()
    for name in ("q:top", "q:depth", "q:studs"):
        expect(field(page, name)).to_have_attribute("data-figure", "in")
    expect(page.locator(".wrong")).to_have_count(0)
    make = page.get_by_role("button", name="Make the job file")
    make.click()
    expect(page.locator(".said .wrong").first).to_be_in_viewport()
    for _ in range(2):
        page.get_by_role("link", name="Jobs in this folder").click()
        page.wait_for_url(f"{desk.home}/")
        page.go_back()
        expect(field(page, "q:depth")).to_have_value("ten")
        expect(field(page, "q:name")).to_have_value("Hall shelf")
        page.goto(f"{desk.home}/new")
        expect(field(page, "q:depth")).to_have_value("ten")
        expect(field(page, "q:form")).to_have_value("straight")
    field(page, "q:depth").fill("10")
    make.click()
    page.wait_for_url("**/job/attic/result")
    page.goto(f"{desk.home}/new")
    assert field(page, "q:depth").input_value() == ""


def test_what_is_to_be_added_survives_a_reload_and_is_added_once(
    desk: Desk, opened: Opened
) -> None:
    job = desk.bring(ALCOVE)
    page = opened(PHONE, f"/job/{job}/corners")
    page.get_by_text("Add an obstacle").tap()
    form = page.locator("form[data-keep^=obstacle]")
    for name, text in (("id", "cable duct"), ("wall", "back"), ("along[0]", "10")):
        form.locator(f'[name="a:{name}"]').fill(text)
    page.reload()
    expect(form.locator('[name="a:id"]')).to_have_value("cable duct")
    counted(page, "1 figure not saved")
    assert page.locator('form[data-keep^=corner] [name="a:walls[0]"]').input_value() == ""
    for name, text in (("along[1]", "40"), ("out[0]", "0"), ("out[1]", "12"), ("up[0]", "ten")):
        form.locator(f'[name="a:{name}"]').fill(text)
    add = form.get_by_role("button", name="Add")
    add.tap()
    expect(page.locator("#left .wrong").first).to_be_in_viewport()
    form.locator('[name="a:up[0]"]').fill("1900")
    form.locator('[name="a:up[1]"]').fill("1950")
    add.tap()
    expect(page.get_by_role("heading", name="cable duct")).to_be_visible()
    expect(form.locator('[name="a:id"]')).to_have_value("")
    expect(page.locator(".unsaved")).to_have_count(0)
    assert [o["id"] for o in tomllib.loads(desk.text(job))["obstacle"]].count("cable duct") == 1


def test_a_second_press_does_not_go_over_what_an_editor_wrote(desk: Desk, opened: Opened) -> None:
    """The file as text: what was typed is kept, and written only by whoever says that it shall be."""
    job = desk.bring(ALCOVE)
    page = opened(LAPTOP, f"/job/{job}/file")
    text = field(page, "text")
    mine = text.input_value().replace("top = 1365", "top = 1360")
    text.fill(mine)
    path = desk.folder / f"{job}.toml"
    path.write_text(desk.text(job).replace("depth = 285", "depth = 280"), encoding="utf-8")
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_text("Somebody else changed the file meanwhile.")).to_be_visible()
    expect(page.get_by_role("button", name="Save", exact=True)).to_have_count(0)
    page.reload()
    expect(text).to_have_value(mine)
    counted(page, "not saved")
    page.get_by_role("button", name="Save", exact=True).click()
    over = page.get_by_role("button", name="Put mine in its place")
    expect(over).to_be_visible()
    assert (shelf(desk, job)["depth"], shelf(desk, job)["top"]) == (280, 1365)
    over.click()
    on_disk(desk, job, depth=285, top=1360)
    expect(over).to_have_count(0)
    expect(page.locator(".unsaved")).to_have_count(0)


def test_a_file_that_cannot_be_read_is_told_on_the_page_with_the_way_back(
    desk: Desk, opened: Opened
) -> None:
    job = desk.bring(ALCOVE)
    page = opened(LAPTOP, f"/job/{job}/shelf")
    whole = desk.text(job)
    (desk.folder / f"{job}.toml").write_text(f"{whole}\n[[[broken\n", encoding="utf-8")
    typed(page, TOP, "1360")
    line = f"{whole}\n[[[".count("\n") + 1
    expect(page.get_by_text(f"The job file cannot be read at line {line}")).to_be_visible()
    expect(page.get_by_role("button", name="Put mine")).to_have_count(0)
    expect(field(page, TOP)).to_have_value("1360")
    page.get_by_role("button", name="Bring the last whole text back").click()
    page.wait_for_url("**/journal")
    assert desk.text(job) == whole
    page.goto(f"{desk.home}/job/{job}/shelf")
    expect(field(page, TOP)).to_have_value("1360")
    counted(page, "1 figure not saved")


@pytest.mark.alone
def test_a_desk_that_comes_back_is_sent_what_it_missed(desk: Desk, opened: Opened) -> None:
    """By itself; and held against what another window wrote first."""
    folder(desk.folder, ALCOVE)
    desk.start()
    page = opened(LAPTOP, f"/job/{ALCOVE}/shelf")
    desk.kill()
    typed(page, TOP, "1371")
    told = page.get_by_text("Not saved: the desk does not answer.")
    expect(told).to_be_visible()
    counted(page, "1 figure not saved")
    desk.start()
    on_disk(desk, ALCOVE, top=1371)
    expect(told).to_have_count(0)
    expect(page.locator(".unsaved")).to_have_count(0)
    desk.kill()
    typed(page, TOP, "1372")
    expect(told).to_be_visible()
    path = desk.folder / f"{ALCOVE}.toml"
    path.write_text(desk.text(ALCOVE).replace("top = 1371", "top = 1350"), encoding="utf-8")
    desk.start()
    expect(page.get_by_role("heading", name=CLASH)).to_be_visible()
    assert shelf(desk, ALCOVE)["top"] == 1350
    opened.seen.console.clear()  # type: ignore[attr-defined]  # the browser's own word on a dead address


def test_the_reason_of_a_desk_that_cannot_write_is_told(desk: Desk, opened: Opened) -> None:
    job = desk.bring(ALCOVE)
    page = opened(LAPTOP, f"/job/{job}/shelf")
    path = desk.folder / f"{job}.toml"
    away = path.rename(desk.folder / "away")
    typed(page, TOP, "1360")
    expect(page.locator("#left .wrong")).to_be_visible()
    expect(page.get_by_text("the desk does not answer")).to_have_count(0)
    expect(page.locator("#left .wrong")).to_contain_text("Not saved: There is no job")
    away.rename(path)
    on_disk(desk, job, top=1360)
    expect(page.locator("#left .wrong")).to_have_count(0)
    opened.seen.console.clear()  # type: ignore[attr-defined]  # the browser's own word on a refusal


@pytest.mark.parametrize("size", [LAPTOP, PHONE])
def test_a_wall_in_use_is_told_where_it_was_to_be_taken_out(
    desk: Desk, opened: Opened, size: str
) -> None:
    job = desk.bring(ALCOVE)
    page = opened(size, f"/job/{job}/walls")
    page.get_by_role("button", name="Take this out").last.click()
    told = page.get_by_text("It is still used by")
    expect(told).to_be_in_viewport()
    expect(page.locator(".said .wrong")).to_have_count(1)


def test_the_pages_of_a_job_are_all_within_a_laptop(desk: Desk, opened: Opened) -> None:
    job = desk.bring(ALCOVE)
    page = opened(LAPTOP, f"/job/{job}/rods")
    expect(page.locator("#state[data-follow]")).to_have_count(0)
    expect(page.get_by_role("link", name="The file")).to_be_in_viewport(ratio=1)
    typed(page, "f:shelf.reading.rods.hole", "ten")
    counted(page, "not saved")
    page.mouse.wheel(0, 600)
    expect(page.get_by_role("link", name="The file")).to_be_in_viewport(ratio=1)


def middle(handle: Locator) -> tuple[float, float]:
    box = handle.locator(".dot").bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


@pytest.mark.parametrize("size", [LAPTOP, PHONE])
def test_each_edge_of_a_stud_is_taken_by_its_own_dot(desk: Desk, opened: Opened, size: str) -> None:
    job = desk.bring(ALCOVE)
    page = opened(size, f"/job/{job}/walls")
    expect(page.locator("#drawing[data-follow], #state[data-follow]")).to_have_count(0)
    grips = page.locator("#drawing .grip")
    assert grips.count() >= 8
    page.locator("#drawing svg").first.scroll_into_view_if_needed()
    taken = "([x, y]) => document.elementFromPoint(x, y).closest('.grip')?.dataset.key ?? ''"
    for k in range(grips.count()):
        key = grips.nth(k).get_attribute("data-key")
        grips.nth(k).evaluate("each => each.scrollIntoView({ block: 'center', inline: 'center' })")
        assert page.evaluate(taken, list(middle(grips.nth(k)))) == key


def test_a_finger_drags_far_without_scrolling_the_page(desk: Desk, opened: Opened) -> None:
    """By touch as a phone sends it, over more than a browser takes for the begin of scrolling."""
    job = desk.bring(ALCOVE)
    page = opened(PHONE, f"/job/{job}/shelf")
    expect(page.locator("#drawing[data-follow], #state[data-follow]")).to_have_count(0)
    front = page.get_by_role("slider", name="Front edge").first
    front.evaluate("each => each.scrollIntoView({ block: 'center', inline: 'center' })")
    x, y = middle(front)
    was = page.evaluate("() => scrollY")
    touch = page.context.new_cdp_session(page)

    def send(kind: str, *at: float) -> None:
        points = [{"x": at[0], "y": at[1]}] if at else []
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    send("touchStart", x, y)
    # far up, and back to a depth that its rods allow
    for k in (1, 2, 3, 4, 5, 6, 7, 8, 7, 6, 5, 4, 3, 2, 1):
        send("touchMove", x, y - 5 * k)
        page.wait_for_timeout(30)
    expect(page.locator(".readout").first).to_be_visible()
    send("touchEnd")
    expect(field(page, DEPTH)).not_to_have_value("285")
    assert page.evaluate("() => scrollY") == was
    on_disk(desk, job, depth=float(field(page, DEPTH).input_value()))


def test_a_handle_keeps_the_focus_over_what_it_wrote(desk: Desk, opened: Opened) -> None:
    job = desk.bring(ALCOVE)
    page = opened(LAPTOP, f"/job/{job}/shelf")
    front = page.get_by_role("slider", name="Front edge").first
    front.focus()
    for step in (1, 2):
        drawn = page.locator("#drawing").get_attribute("data-rev")
        page.keyboard.press("ArrowUp")
        page.keyboard.press("Enter")
        expect(page.locator("#drawing")).not_to_have_attribute("data-rev", str(drawn))
        expect(page.locator("#drawing[data-follow]")).to_have_count(0)
        expect(front).to_be_focused()
        assert shelf(desk, job)["depth"] != 285, step
