"""What a carpenter does at the desk, in a true browser on phone and laptop: it is on disk once a page says so.

Against: the job file on disk, read by the TOML parser of the standard library; the packet by another PDF library.
Studs, tapes and readings are scenes of our own.
"""

from __future__ import annotations

import re
import time
import tomllib
from typing import Any

import pypdfium2
import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import LAPTOP, PATIENCE, PHONE, Desk, Opened
from tests.desk.made import ALCOVE, CORNER, folder
from tests.desk.test_new import CORNER as ANSWERS

RECORD = "record-wall"
expect.set_options(timeout=PATIENCE)


def held(desk: Desk, name: str) -> dict[str, Any]:
    return tomllib.loads(desk.text(name))


def field(page: Page, name: str) -> Any:
    return page.locator(f'[name="{name}"]')


def saved(page: Page, at: str) -> str:
    """The revision that a section of the page stands for."""
    return page.locator(f"#{at}").get_attribute("data-rev") or ""


def fill(page: Page, name: str, text: str) -> None:
    """Type a figure and leave its field; come back once the page says that the job has moved on."""
    before = saved(page, "state")
    field(page, name).fill(text)
    field(page, name).blur()
    page.wait_for_function(
        "was => document.getElementById('state').dataset.rev !== was", arg=before
    )


def kept(desk: Desk, job: str, **figures: float) -> None:
    """Wait until figures of the first shelf are on disk.

    A page moves on by what another window saved as well: that it did so tells nothing of its own figure.
    """
    end = time.monotonic() + PATIENCE / 1000
    while (found := {key: held(desk, job)["shelf"][0][key] for key in figures}) != figures:
        assert time.monotonic() < end, found
        time.sleep(0.02)


def answered(page: Page) -> None:
    """Wait until the state of the whole is worked out."""
    page.wait_for_function("() => !document.querySelector('#state[data-follow]')")


@pytest.mark.parametrize("size", [PHONE, LAPTOP])
def test_nothing_moves_under_a_hand_while_the_whole_is_worked_out(
    desk: Desk, opened: Opened, size: str
) -> None:
    """After an edit the bar is never lower than it was, until the answer stands in it."""
    job = desk.bring(ALCOVE)
    page = opened(size, f"/job/{job}/shelf")
    answered(page)
    page.evaluate(
        """() => {
          window.low = window.was = document.getElementById('state').offsetHeight;
          new MutationObserver(() => {
            const bar = document.getElementById('state');
            if (bar?.dataset.follow) window.low = Math.min(window.low, bar.offsetHeight);
          }).observe(document.body, { childList: true, subtree: true });
        }"""
    )
    fill(page, "f:shelf.reading.depth", "280")
    answered(page)
    was, low = page.evaluate("() => [window.was, window.low]")
    assert was > 0
    assert low >= was - 1


def test_a_new_l_from_the_questions_to_its_packet_by_mouse(desk: Desk, opened: Opened) -> None:
    page = opened(LAPTOP)
    page.get_by_role("link", name="Answer the ten-minute questions").click()
    for name, text in ANSWERS.items():
        cell = field(page, name)
        if cell.evaluate("each => each.tagName") == "SELECT":
            cell.select_option(text)
        else:
            cell.fill(text)
    page.get_by_role("button", name="Make the job file").click()
    page.wait_for_url("**/job/hall/result")
    assert held(desk, "hall")["job"]["name"] == "Hall shelf"
    answered(page)
    page.get_by_role("link", name="Packet").click()
    page.get_by_role("button", name="Build the packet").click()
    link = page.get_by_role("link", name="All files in one")
    expect(link).to_be_visible()
    with page.expect_download() as came:
        link.click()
    assert came.value.suggested_filename == "hall packet.zip"
    made = pypdfium2.PdfDocument(desk.folder / "hall packet" / "packet.pdf")
    assert len(made) > 10
    assert "Hall shelf" in made[0].get_textpage().get_text_bounded()


def test_a_new_l_from_the_questions_to_its_packets_button_by_keyboard_alone(
    desk: Desk, opened: Opened
) -> None:
    """Tab reaches every question in the order of the page, and the button behind the last."""
    page = opened(LAPTOP, "/new")
    page.keyboard.press("Tab")
    left = ANSWERS | {"q:file": "porch"}
    for _ in range(200):
        name = page.evaluate("document.activeElement.name ?? ''")
        kind = page.evaluate("document.activeElement.tagName")
        if name in left:
            text = left.pop(name)
            if kind == "SELECT":
                page.keyboard.type(text)
            else:
                page.keyboard.press("ControlOrMeta+a")
                page.keyboard.type(text)
            assert field(page, name).input_value() == text, name
        if kind == "BUTTON" and not left:
            break
        page.keyboard.press("Tab")
    assert left == {}
    page.keyboard.press("Enter")
    page.wait_for_url("**/job/porch/result")
    answered(page)
    expect(page.locator("#verdict")).not_to_have_text("Being worked out")
    link = page.get_by_role("link", name="Packet")
    link.focus()
    page.keyboard.press("Enter")
    page.wait_for_url("**/job/porch/packet")
    # It is built in the story of the mouse; Tab reaches its button.
    build = page.get_by_role("button", name="Build the packet")
    for _ in range(60):
        page.keyboard.press("Tab")
        if build.evaluate("each => each === document.activeElement"):
            break
    expect(build).to_be_focused()


def test_a_site_measure_is_typed_in_on_the_phone(desk: Desk, opened: Opened) -> None:
    """With the keys a tape needs, row by row; what is wrong is told at its field and is not on disk."""
    job = desk.bring(CORNER)
    page = opened(PHONE, f"/job/{job}/walls")
    first = field(page, "r:wall.A.studs:0:0")
    first.tap()
    keys = page.get_by_role("group", name="Keys for fractions")
    expect(keys).to_be_visible()
    first.fill("14")
    keys.get_by_role("button", name="space").tap()
    first.press("5")
    keys.get_by_role("button", name="/8").tap()
    assert first.input_value() == "14 5/8"
    before = saved(page, "state")
    page.locator("h1").tap()
    page.wait_for_function(
        "was => document.getElementById('state').dataset.rev !== was", arg=before
    )
    assert held(desk, job)["wall"][0]["studs"][0][:2] == ["14 5/8", "16 3/16"]
    text = desk.text(job)
    field(page, "r:wall.A.line:0:1").fill("1 9/8")
    page.locator("h1").tap()
    expect(page.locator(".said .wrong").first).to_be_visible()
    assert desk.text(job) == text
    assert field(page, "r:wall.A.line:0:1").input_value() == "1 9/8"
    page.reload()
    assert field(page, "r:wall.A.line:0:1").input_value() == "1 9/8"


def test_what_stands_on_a_drawing_is_dragged_and_stepped(desk: Desk, opened: Opened) -> None:
    """A rod to the next stud by mouse, a thing by arrow keys; Esc puts back, and nothing is written."""
    job = desk.bring(RECORD)
    path = desk.folder / f"{job}.toml"
    places = ("2 3/16", "14 1/8", "46 1/16", "62 5/16", "78 1/4", "94", "110 7/16")
    listed = ", ".join(f'"plumbing {place}"' for place in places)
    text = path.read_text(encoding="utf-8").replace('at = "every stud"', f"at = [{listed}]")
    path.write_text(text, encoding="utf-8")
    page = opened(LAPTOP, f"/job/{job}/rods")
    answered(page)
    rod = page.get_by_role("slider", name="Rod B2")
    box = rod.bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 60, y + 5, steps=4)
    expect(page.locator(".readout")).to_have_text("Rod B2: plumbing 30 3/16")
    assert desk.text(job) == text
    page.mouse.up()
    expect(field(page, "r:shelf.records.rods.at:1:0")).to_have_value("plumbing 30 3/16")
    assert held(desk, job)["shelf"][0]["rods"]["at"][1] == "plumbing 30 3/16"
    page.goto(f"{desk.home}/job/{job}/shelf")
    answered(page)
    end = page.get_by_role("slider", name="End of the leg").first
    before, was = saved(page, "state"), held(desk, job)["shelf"][0]["legs"]
    end.focus()
    for key in ("ArrowLeft", "ArrowLeft", "Enter"):
        page.keyboard.press(key)
    # The row's "From" and "Depth" stay blank: it is written all the same.
    page.wait_for_function(
        "was => document.getElementById('state').dataset.rev !== was", arg=before
    )
    assert held(desk, job)["shelf"][0]["legs"] != was
    page.goto(f"{desk.home}/job/{job}/loads")
    thing = page.get_by_role("slider", name="amplifier")
    at, out = "f:shelf.records.load.amplifier.at", "f:shelf.records.load.amplifier.out"
    thing.focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Escape")
    assert field(page, at).input_value() == "plumbing 67"
    for key in ("ArrowRight", "ArrowRight", "ArrowRight", "ArrowRight", "ArrowDown", "Enter"):
        page.keyboard.press(key)
    expect(field(page, at)).to_have_value("plumbing 68")
    expect(field(page, out)).to_have_value("6 3/4")
    page.wait_for_function("() => !document.querySelector('[data-dirty]')")
    page.get_by_role("button", name="Undo").click()
    expect(field(page, at)).to_have_value("plumbing 67")
    assert held(desk, job)["shelf"][0]["load"][2]["at"] == "plumbing 67"


def test_the_depth_is_dragged_on_the_phone(desk: Desk, opened: Opened) -> None:
    job = desk.bring(ALCOVE)
    page = opened(PHONE, f"/job/{job}/shelf")
    # The bar above grows when the answer comes, and the drawing with its handles moves down.
    answered(page)
    front = page.get_by_role("slider", name="Front edge")
    front.evaluate("each => each.scrollIntoView({ block: 'center', inline: 'center' })")
    box = front.bounding_box()
    assert box is not None
    before = saved(page, "state")
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x, y - 6, steps=3)
    page.mouse.up()
    page.wait_for_function(
        "was => document.getElementById('state').dataset.rev !== was", arg=before
    )
    depth = held(desk, job)["shelf"][0]["depth"]
    assert 185 <= float(depth) < 285
    assert field(page, "f:shelf.reading.depth").input_value() == str(depth)


def test_the_fitting_is_played_and_stepped(desk: Desk, opened: Opened) -> None:
    job = desk.bring(ALCOVE)
    page = opened(PHONE, f"/job/{job}/fitting")
    player = page.locator("[data-player]").first
    expect(player.get_by_role("button", name="Play")).to_be_visible()
    moment = player.get_by_role("slider", name="Moment of the fitting")
    assert moment.input_value() == "0"
    player.get_by_role("button", name="Step on").tap()
    one = int(moment.input_value())
    assert one > 0
    player.get_by_role("button", name="Play").tap()
    page.wait_for_function(
        "() => document.querySelector('[data-player] svg').getCurrentTime() > 0.5"
    )
    player.get_by_role("button", name="Stop").tap()
    stopped = int(moment.input_value())
    assert stopped > 0
    player.get_by_role("button", name="Step back").tap()
    assert int(moment.input_value()) < stopped


READINGS = (
    ("80", "1341.5", "80.5", "1341.5", "240"),
    ("481.5", "1341.5", "482", "1341.5", "240.5"),
)


def test_readings_and_a_step_of_the_load_test_are_typed_in_on_the_phone(
    desk: Desk, opened: Opened
) -> None:
    job = desk.bring(ALCOVE)
    page = opened(PHONE, f"/job/{job}/site")
    half = field(page, "n:back 883.3:wall[0]")
    half.fill("884")
    for count, (place, reading) in enumerate(zip(("back 80", "back 481.5"), READINGS, strict=True)):
        keys = ("wall[0]", "wall[1]", "tip[0]", "tip[1]", "out")
        field(page, f"n:{place}:{keys[0]}").tap()
        for key, text in zip(keys, reading, strict=True):
            assert page.evaluate("() => document.activeElement.name") == f"n:{place}:{key}"
            page.keyboard.type(text)
            page.keyboard.press("Enter") if key != keys[-1] else None
        card = page.locator("section.rod").filter(has=field(page, f"n:{place}:out"))
        card.get_by_role("button", name="Write it down").tap()
        expect(field(page, f"f:site.rod[{count}].out")).to_have_value(reading[4])
        assert field(page, f"n:{place}:out").count() == 0
    assert half.input_value() == "884"
    rods = held(desk, job)["site"]["rod"]
    assert [rod["at"] for rod in rods] == ["back 80", "back 481.5"]
    assert rods[0]["wall"] == [80, 1341.5]
    # A figure read anew is judged on its card, though the hand is still in it.
    card = page.get_by_role("group", name=re.compile(r"at back 80\b"))
    expect(card.locator(".tag")).to_have_text("OK")
    field(page, "f:site.rod[0].out").fill("234")
    field(page, "f:site.rod[0].tip[1]").focus()
    expect(card.locator(".tag")).to_have_text("OFF")
    expect(card).to_contain_text("TOO FAR")
    expect(field(page, "f:site.rod[0].tip[1]")).to_be_focused()
    field(page, "f:site.rod[0].out").fill("240")
    field(page, "f:site.rod[0].tip[1]").focus()
    expect(card.locator(".tag")).to_have_text("OK")
    # The first step is proposed once it is worked out; what is typed goes over what is proposed.
    expect(page.locator("[data-follow]")).to_have_count(0)
    page.get_by_text("begin a load test").tap()
    name = "n:step reading"
    for key, text in (
        ("put:0:0", "10 kg"),
        ("put:0:1", "back 600"),
        ("put:0:2", "140"),
        ("wait", "10 min"),
        ("read:0:0", "back 600"),
        ("read:0:1", "0.6"),
    ):
        field(page, f"{name}:{key}").fill(text)
    page.get_by_role("button", name="Write this step down").tap()
    expect(page.get_by_text("reading: step 2")).to_be_visible()
    expect(page.get_by_text("Step 1, as written down")).to_be_visible()
    (step,) = held(desk, job)["site"]["test"]
    assert step["put"][0] == ["10 kg", "back 600", 140]
    assert ["back 600", 0.6] in step["read"]


def test_back_and_reload_show_the_job_as_it_is(desk: Desk, opened: Opened) -> None:
    job = desk.bring(ALCOVE)
    page = opened(LAPTOP, f"/job/{job}/shelf")
    fill(page, "f:shelf.reading.depth", "280")
    page.locator('nav a[href$="/rods"]').click()
    page.wait_for_url("**/rods")
    page.go_back()
    assert field(page, "f:shelf.reading.depth").input_value() == "280"
    page.reload()
    assert field(page, "f:shelf.reading.depth").input_value() == "280"
    assert held(desk, job)["shelf"][0]["depth"] == 280


def test_two_windows_keep_both_changes_and_tell_of_one_figure_changed_twice(
    desk: Desk, opened: Opened
) -> None:
    job = desk.bring(ALCOVE)
    one = opened(LAPTOP, f"/job/{job}/shelf")
    two = opened(PHONE, f"/job/{job}/shelf")
    fill(one, "f:shelf.reading.depth", "280")
    fill(two, "f:shelf.reading.top", "1370")
    kept(desk, job, depth=280, top=1370)
    three = opened(PHONE, f"/job/{job}/shelf")
    fill(one, "f:shelf.reading.depth", "275")
    kept(desk, job, depth=275)
    field(three, "f:shelf.reading.depth").fill("290")
    field(three, "f:shelf.reading.depth").blur()
    expect(
        three.get_by_role("heading", name="Somebody else changed this meanwhile")
    ).to_be_visible()
    assert held(desk, job)["shelf"][0]["depth"] == 275
    three.get_by_role("button", name="Put mine in its place").tap()
    expect(field(three, "f:shelf.reading.depth")).to_have_value("290")
    expect(three.get_by_role("heading", name="Somebody else")).to_have_count(0)
    assert held(desk, job)["shelf"][0]["depth"] == 290


def test_a_figure_that_changes_under_the_hand_is_typed_over_and_not_joined_to(
    desk: Desk, opened: Opened
) -> None:
    job = desk.bring(ALCOVE)
    one = opened(LAPTOP, f"/job/{job}/shelf")
    two = opened(LAPTOP, f"/job/{job}/shelf")
    depth = field(two, "f:shelf.reading.depth")
    depth.click()
    fill(one, "f:shelf.reading.depth", "280")
    two.evaluate("() => window.dispatchEvent(new Event('focus'))")
    expect(depth).to_have_value("280")
    two.keyboard.type("275")
    assert depth.input_value() == "275"
    before = saved(two, "state")
    two.keyboard.press("Enter")
    two.wait_for_function("was => document.getElementById('state').dataset.rev !== was", arg=before)
    assert held(desk, job)["shelf"][0]["depth"] == 275


@pytest.mark.alone
def test_what_was_acknowledged_is_on_disk_when_the_desk_is_killed(
    desk: Desk, opened: Opened
) -> None:
    """Killed between two figures: the first is on disk, the second stays in its field and is saved once it is back."""
    folder(desk.folder, ALCOVE)
    desk.start()
    page = opened(LAPTOP, f"/job/{ALCOVE}/shelf")
    fill(page, "f:shelf.reading.depth", "281")
    desk.kill()
    assert held(desk, ALCOVE)["shelf"][0]["depth"] == 281
    field(page, "f:shelf.reading.top").fill("1371")
    field(page, "f:shelf.reading.top").blur()
    expect(page.get_by_text("Not saved: the desk does not answer.")).to_be_visible()
    assert held(desk, ALCOVE)["shelf"][0]["top"] != 1371
    opened.seen.console.clear()  # type: ignore[attr-defined]  # the browser's own word on a dead address
    desk.start()
    page.reload()
    expect(field(page, "f:shelf.reading.top")).to_have_value("1371")
    assert field(page, "f:shelf.reading.depth").input_value() == "281"
    # it may have been sent again before the reload
    if held(desk, ALCOVE)["shelf"][0]["top"] != 1371:
        field(page, "f:shelf.reading.top").press("Enter")
    kept(desk, ALCOVE, top=1371, depth=281)
    opened.seen.console.clear()  # type: ignore[attr-defined]


@pytest.mark.alone
def test_a_phone_comes_in_by_the_code_of_the_terminal(desk: Desk, opened: Opened) -> None:
    """The picture's address brings the code; nobody else comes in by it; the job is there on the phone."""
    folder(desk.folder, ALCOVE)
    desk.start("--lan")
    said = desk.hears("code ")
    if not said:
        pytest.skip("this machine is on no network")
    away, code = re.findall(r"(http://[0-9.:]+)/join  code ([0-9A-Z-]+)", said)[0]
    desk.home = away
    page = opened(PHONE, f"{away}/join#{code}")
    page.wait_for_url(f"{away}/")
    page.get_by_role("link", name="Reading alcove").tap()
    page.wait_for_url("**/result")
    expect(page.locator(".job")).to_have_text("Reading alcove")
    other = opened(LAPTOP, f"{away}/")
    expect(other.get_by_role("heading", name="Come in")).to_be_visible()
    other.get_by_label("The code that the desk's terminal shows").fill(code)
    other.get_by_role("button", name="Come in").click()
    expect(other.get_by_text("That is not the code")).to_be_visible()
    opened.seen.console.clear()  # type: ignore[attr-defined]  # the browser's own word on a refusal
