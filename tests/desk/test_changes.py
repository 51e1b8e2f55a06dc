"""A figure typed on a page is on disk when the page says so, and nothing else of the file is disturbed.

Against: the TOML parser of the standard library and the text of the examples themselves, read apart from the desk.
"""

from __future__ import annotations

import os
import re
import tomllib
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from ledgewright.desk import forms, stages
from ledgewright.desk.changes import Hand
from ledgewright.desk.journal import Journal
from ledgewright.job import Edit, files
from ledgewright.job.revision import revision
from ledgewright.job.schema import schema
from tests.desk.made import ALCOVE, CORNER, Shown, as_read, browser, folder, step
from tests.jobs import ALL, EXAMPLES

SHELF = f"/job/{CORNER}/shelf"
DEPTH = "f:shelf.showroom.depth"


@pytest.fixture
def client(tmp_path: Path) -> TestClient:
    return browser(folder(tmp_path, CORNER, ALCOVE))


def text(at: Path, name: str = CORNER) -> str:
    return (at / f"{name}.toml").read_text(encoding="utf-8")


def held(at: Path, name: str = CORNER) -> dict[str, Any]:
    return tomllib.loads(text(at, name))


def test_a_changed_figure_is_on_disk_and_every_other_line_stays(
    client: TestClient, tmp_path: Path
) -> None:
    before = text(tmp_path).splitlines()
    got = Shown(client, SHELF).send({DEPTH: "10 1/4"})
    assert got.status_code == 303
    after = text(tmp_path).splitlines()
    changed = [(a, b) for a, b in zip(before, after, strict=True) if a != b]
    assert changed == [('depth = "10 1/2"', 'depth = "10 1/4"')]
    assert Shown(client, SHELF).value(DEPTH) == "10 1/4"


WITH_READINGS = [n for n in ALL if as_read(n) != (EXAMPLES / f"{n}.toml").read_text("utf-8")]
PAGES = [(n, s) for s in sorted(stages.FORMS) for n in (WITH_READINGS if s == "site" else ALL)]


@pytest.mark.parametrize(("name", "stage"), PAGES)
def test_a_page_sent_back_as_it_came_changes_nothing(name: str, stage: str) -> None:
    whole = as_read(name) if stage == "site" else (EXAMPLES / f"{name}.toml").read_text("utf-8")
    document = tomllib.loads(whole)
    made = forms.forms(stage, document)
    posted = {
        cell.name: cell.value
        for form in made
        for field in form.fields
        for cell in ([field.cell] if field.cell else [c for row in field.rows for c in row])
    }
    assert len(posted) > 3
    assert forms.edits(made, posted, document) == []


def test_every_key_of_the_job_file_has_a_field_or_is_named_here() -> None:
    by_file = {
        "format",
        "JobTable.sure",
        "WallTable.id",
        "WallTable.lines",
        "CornerTable.walls",
        "CornerTable.tapes",
        "ObstacleTable.id",
        "ShelfTable.id",
        "ShelfTable.body",
        "MeasureTable.tapes",
        "MeasureTable.heights",
        "ShopTable.days_off",
        "KnownTable.photos",
        "PitchTable.doubt",
        "doubt",
        "choose",
    }
    offered = _offered()
    missing = []
    whole = schema()
    tables = {
        "JobTable": "",
        "MeasureTable": "",
        "SiteTable": "",
        "WallTable": "",
        "KnownTable": "known.",
        "FramingTable": "framing.",
        "PitchTable": "pitch.",
        "CornerTable": "",
        "ObstacleTable": "",
        "ShelfTable": "",
        "CoreTable": "core.",
        "SkinTable": "skin_top.",
        "EdgingTable": "edging.",
        "FinishTable": "finish.",
        "GrooveTable": "groove.",
        "LockTable": "lock.",
        "AcceptedTable": "accepted.",
        "LimitsTable": "limits.",
        "RodsTable": "",
        "ClearanceTable": "clearance.",
        "RodTable": "",
        "ShopTable": "",
        "RodSetTable": "",
        "BondedTable": "bonded.",
        "LoadTestTable": "",
    }
    inner = {"core", "skin_top", "skin_bottom", "edging", "finish", "groove", "lock", "accepted"}
    inner |= {"limits", "rods", "rod", "load", "clearance", "known", "framing", "pitch", "test"}
    inner |= {"bonded"}
    for table, before in tables.items():
        for key in whole["$defs"][table]["properties"]:  # type: ignore[index]
            if key not in inner and f"{table}.{key}" not in by_file:
                missing += [] if f"{before}{key}" in offered else [f"{table}.{key}"]
    assert missing == []


def _offered() -> set[str]:
    """Keys of all fields, those of a pair without its number."""
    load = {"id": "x", "weight": "1 lb"}
    document = {
        "wall": [{"id": "a"}],
        "corner": [{"walls": ["a", "b"]}],
        "obstacle": [{"id": "x"}],
        "shelf": [
            {
                "id": "s",
                "rods": {},
                "rod": [{"at": "a 1"}],
                "load": [{"kind": kind, **load} for kind in ("even", "strip", "thing", "accident")],
            }
        ],
        "site": {"rod": [{}], "test": [{}]},
    }
    return {
        item.key.split("[")[0]
        for stage in stages.FORMS
        for sheet in stages.sheets(stage, document)
        for item in sheet.items
    }


def test_a_yes_or_no_is_chosen_and_written_bare(client: TestClient, tmp_path: Path) -> None:
    key, page = "f:shop.long_test", f"/job/{CORNER}/shop"
    assert f'<select id="i-{key}" name="{key}" aria-describedby="' in client.get(page).text
    assert Shown(client, page).send({key: "yes"}).status_code == 303
    assert held(tmp_path)["shop"]["long_test"] is True
    assert "<option selected>yes</option>" in client.get(page).text
    assert Shown(client, page).send({key: "no"}).status_code == 303
    assert held(tmp_path)["shop"]["long_test"] is False
    wrong = Shown(client, page).send({key: "perhaps"})
    assert wrong.status_code == 422
    assert held(tmp_path)["shop"]["long_test"] is False


@pytest.mark.parametrize("stage", ["new", *sorted(stages.FORMS)])
def test_what_a_field_is_described_by_is_on_the_page_once(client: TestClient, stage: str) -> None:
    """By the rules of HTML: the words of a field, heard with it, are found by ids, which have no spaces in them."""
    page = client.get("/new" if stage == "new" else f"/job/{CORNER}/{stage}").text
    ids = re.findall(r' id="([^"]*)"', page)
    assert len(set(ids)) == len(ids)
    told = " ".join(re.findall(r' aria-(?:describedby|labelledby)="([^"]*)"', page)).split()
    assert told
    assert set(told) <= set(ids)


def test_what_is_wrong_is_told_at_its_field_and_what_is_right_is_saved(
    client: TestClient, tmp_path: Path
) -> None:
    before = text(tmp_path)
    got = Shown(client, SHELF).send({DEPTH: "12 9/8", "f:shelf.showroom.top": "55"})
    assert got.status_code == 422
    assert text(tmp_path) == before.replace('top = "54 3/8"', "top = 55")
    field = got.text[got.text.index(f'name="{DEPTH}"') :]
    assert 'value="12 9/8" data-held="10 1/2"' in field[:120]
    assert field.index("9/8") < field.index("wrong") < field.index('<div class="field')
    assert 'name="f:shelf.showroom.top" value="55" auto' in got.text
    assert "Not all is saved." in got.text


def test_rows_of_a_list_are_saved_one_by_one_but_not_where_some_go(
    client: TestClient, tmp_path: Path
) -> None:
    """Where a row is taken out the others move up: such a list is saved whole, or not."""
    path, name = f"/job/{CORNER}/walls", "r:wall.A.studs"
    was = held(tmp_path)["wall"][0]["studs"]
    page = Shown(client, path)
    got = page.send({f"{name}:0:0": "14 5/8", f"{name}:1:0": "ten", "f:wall.A.height": "96"})
    assert got.status_code == 422
    now = held(tmp_path)["wall"][0]
    assert (now["studs"][0][0], now["studs"][1], now["height"]) == ("14 5/8", was[1], 96)
    assert f'name="{name}:1:0" value="ten" data-held=' in got.text
    before = now["studs"]
    gone = {f"{name}:0:{k}": "" for k in range(3)}
    got = Shown(client, path).send({**gone, f"{name}:1:0": "ten", "f:wall.A.height": "97"})
    assert got.status_code == 422
    now = held(tmp_path)["wall"][0]
    assert (now["studs"], now["height"]) == (before, 97)
    assert f'name="{name}:0:0" value="" data-held="14 5/8"' in got.text


def test_what_is_added_with_something_wrong_is_not_added_in_part(
    client: TestClient, tmp_path: Path
) -> None:
    before = text(tmp_path, ALCOVE)
    page = Shown(client, f"/job/{ALCOVE}/corners")
    got = page.send({"add": "1", "a:id": "rail", "a:wall": "back", "a:along[0]": "ten"})
    assert got.status_code == 422
    assert text(tmp_path, ALCOVE) == before


def test_a_wall_in_use_says_by_what_where_it_was_to_be_taken_out(
    client: TestClient, tmp_path: Path
) -> None:
    before = text(tmp_path, ALCOVE)
    page = Shown(client, f"/job/{ALCOVE}/walls")
    got = page.client.post(
        f"{page.path}?format=json", data={"base": page.base, "take": "wall.back"}
    )
    (wrong,) = got.json()["wrong"]
    assert wrong["path"] == "wall.back"
    assert "still used by" in wrong["wrong"]
    assert "shelf.reading.legs[0]" in wrong["wrong"]
    assert text(tmp_path, ALCOVE) == before


def test_a_file_that_cannot_be_read_is_told_on_every_page_and_nothing_is_written_into_it(
    client: TestClient, tmp_path: Path
) -> None:
    path = tmp_path / f"{CORNER}.toml"
    page = Shown(client, SHELF)
    whole = text(tmp_path)
    broken = f"{whole}\n[[[broken\n"
    path.write_text(broken, encoding="utf-8")
    got = page.send({DEPTH: "11"})
    assert got.status_code == 422
    again = page.client.post(SHELF, data={"base": revision(broken), DEPTH: "11"})
    assert again.status_code in (200, 422)
    assert text(tmp_path) == broken
    line = f"cannot be read at line {whole.count(chr(10)) + 2}"
    for stage, _ in stages.ORDER:
        assert line in client.get(f"/job/{CORNER}/{stage}").text, stage
    back = client.get(f"/job/{CORNER}/rods").text.split('name="to" value="')[1].split('"')[0]
    assert client.post(f"/job/{CORNER}/journal", data={"to": back}).status_code == 200
    assert text(tmp_path) == whole
    assert "cannot be read at line" not in client.get(SHELF).text


def test_a_second_save_of_the_whole_text_does_not_go_over_another_change(
    client: TestClient, tmp_path: Path
) -> None:
    page = Shown(client, f"/job/{CORNER}/file")
    mine = text(tmp_path).replace('depth = "10 1/2"', "depth = 11")
    theirs = text(tmp_path).replace('top = "54 3/8"', "top = 55")
    (tmp_path / f"{CORNER}.toml").write_text(theirs, encoding="utf-8")
    base = page.base
    for _ in range(2):
        got = client.post(page.path, data={"base": base, "text": mine})
        assert got.status_code == 409
        base = got.text.split('data-keep="file"')[1].split('name="base" value="')[1].split('"')[0]
    assert text(tmp_path) == theirs
    over = got.text.split('name="over" value="')[1].split('"')[0]
    got = client.post(page.path, data={"base": base, "over": over, "text": mine})
    assert got.status_code == 200
    assert text(tmp_path) == mine


def test_undo_and_the_counts_come_with_every_change(client: TestClient) -> None:
    page = Shown(client, SHELF)
    assert page.text.split('id="steps"')[1].split("</section>")[0].count("disabled") == 2
    got = page.send({DEPTH: "11"}, fragment=True).text
    assert got.split('id="steps"')[1].split("</section>")[0].count("disabled") == 1
    assert 'id="pages"' in got


def test_a_figure_for_an_entry_whose_number_is_another_s_is_a_conflict_though_that_one_says_the_same(
    client: TestClient, tmp_path: Path
) -> None:
    """The third obstacle takes the number of the second: what was meant for the second is not "there already"."""
    page = Shown(client, f"/job/{CORNER}/corners")
    obstacles = held(tmp_path)["obstacle"]
    meant = str(obstacles[2]["along"][0])
    lines = text(tmp_path).split("[[obstacle]]")
    before = "[[obstacle]]".join([lines[0], *lines[2:]])
    (tmp_path / f"{CORNER}.toml").write_text(before, encoding="utf-8")
    got = page.send({"f:obstacle[1].along[0]": meant})
    assert got.status_code == 409
    assert text(tmp_path) == before
    # nor is it shown under the heading of the entry that has the number now, ready to be sent
    third = re.search(r'name="f:obstacle\[1\]\.along\[0\]" value="([^"]*)"([^>]*)', got.text)
    assert third is not None
    assert "data-held" not in third[2]
    # a page that was slow to hear sends the same again: that is no conflict
    page = Shown(client, f"/job/{CORNER}/corners")
    for status in (303, 303):
        assert page.send({"f:obstacle[1].out[1]": "7/8"}).status_code == status


def test_a_form_is_told_from_every_other_whatever_its_number() -> None:
    """Steps of a load test have no names: when one is taken out, each place is seen to have another."""
    document = tomllib.loads(as_read(ALCOVE))
    steps = document["site"]["test"]
    assert len(steps) > 2

    def marks(of: list[Any]) -> list[str]:
        site = {**document["site"], "test": of}
        made = forms.forms("site", {**document, "site": site})
        return [form.of for form in made if form.path.startswith("site.test")]

    assert len(set(marks(steps))) == len(steps)
    # at each place another step than before
    assert all(a != b for a, b in zip(marks(steps), marks(steps[1:]), strict=False))
    # two that say the same: taking out one of them is seen as well
    assert marks([steps[0], steps[1], steps[1]])[1] != marks([steps[0], steps[1]])[1]
    for stage in stages.FORMS:
        for name in ALL:
            job = tomllib.loads((EXAMPLES / f"{name}.toml").read_text("utf-8"))
            found = [form.of for form in forms.forms(stage, job)]
            assert len(set(found)) == len(found)


def test_a_packet_of_nothing_is_not_built(client: TestClient, tmp_path: Path) -> None:
    got = client.post(f"/job/{CORNER}/packet", data={"x": "1"})
    assert got.status_code == 422
    assert "tick at least one" in got.text
    assert not (tmp_path / f"{CORNER} packet").exists()


def test_an_odd_figure_is_asked_about_and_can_be_stood_by(
    client: TestClient, tmp_path: Path
) -> None:
    page = Shown(client, f"/job/{CORNER}/corners")
    name = "f:obstacle[0].along[0]"
    path = "/job/reading-alcove/walls"
    page = Shown(client, path)
    name = "f:wall.cheek.height"
    got = page.send({name: "900"})
    assert got.status_code == 422
    assert "It is meant: keep it" in got.text
    assert page.send({name: "900", "stand": "wall.cheek.height"}).status_code == 303
    now = held(tmp_path, ALCOVE)
    assert now["wall"][0]["height"] == 900
    assert now["job"]["sure"] == ["wall.cheek.height"]


def test_several_odd_figures_are_stood_by_one_after_the_other_or_at_once(
    client: TestClient, tmp_path: Path
) -> None:
    """What was said to be meant is not asked again because another figure is odd too."""
    page = Shown(client, "/job/reading-alcove/walls")
    odd = {"f:wall.cheek.height": "900", "f:wall.back.height": "900"}
    got = page.send(odd)
    assert got.status_code == 422
    assert "All 2 are meant: keep them" in got.text
    got = page.send(odd | {"stand": "wall.cheek.height"})
    assert got.status_code == 422
    buttons = re.findall(r'name="stand" value="([^"]+)"', got.text)
    assert [each.split() for each in buttons] == [["wall.cheek.height", "wall.back.height"]]
    assert page.send(odd | {"stand": buttons[0]}).status_code == 303
    assert held(tmp_path, ALCOVE)["job"]["sure"] == ["wall.cheek.height", "wall.back.height"]


def test_a_figure_can_be_left_out_and_put_back(client: TestClient, tmp_path: Path) -> None:
    name = "f:shelf.showroom.scribe_allowance"
    assert Shown(client, SHELF).send({name: ""}).status_code == 303
    assert "scribe_allowance" not in held(tmp_path)["shelf"][0]
    assert Shown(client, SHELF).send({name: "12 mm"}).status_code == 303
    assert held(tmp_path)["shelf"][0]["scribe_allowance"] == "12 mm"


def test_dont_know_is_an_answer(client: TestClient, tmp_path: Path) -> None:
    page = f"/job/{CORNER}/walls"
    assert Shown(client, page).send({"f:wall.A.known.bearing": "don't know"}).status_code == 303
    assert held(tmp_path)["wall"][0]["known"]["bearing"] == "unknown"
    assert Shown(client, page).send({"f:wall.A.depth_to_wood": "don't know"}).status_code == 303
    assert held(tmp_path)["wall"][0]["depth_to_wood"] == "unknown"
    assert "don&#39;t know" in Shown(client, page).text


def test_rows_are_changed_added_and_taken_out(client: TestClient, tmp_path: Path) -> None:
    page, studs = f"/job/{CORNER}/walls", "r:wall.A.studs"
    was = held(tmp_path)["wall"][0]["studs"]
    sent = Shown(client, page).send(
        {f"{studs}:4:0": "79", f"{studs}:4:1": "80 1/2", f"{studs}:4:2": "last"}
    )
    assert sent.status_code == 303
    assert held(tmp_path)["wall"][0]["studs"] == [*was, [79, "80 1/2", "last"]]
    sent = Shown(client, page).send({f"{studs}:4:0": "", f"{studs}:4:1": "", f"{studs}:4:2": ""})
    assert sent.status_code == 303
    assert held(tmp_path)["wall"][0]["studs"] == was
    sent = Shown(client, page).send({"r:wall.A.line:1:1": "1 1/8"})
    assert held(tmp_path)["wall"][0]["line"][1] == [12, "1 1/8"]
    half = Shown(client, page).send({f"{studs}:4:0": "79"})
    assert half.status_code == 422
    assert "Write both edges" in half.text[half.text.index(f"{studs}:4:0") :]


def test_things_are_added_and_taken_out_and_comments_stay(
    client: TestClient, tmp_path: Path
) -> None:
    page = f"/job/{CORNER}/loads"
    number = [a.kind for a in _adders("loads", tmp_path)].index("thing")
    thing = {
        "a:id": "lamp",
        "a:weight": "6 lb",
        "a:at": "A 20",
        "a:out": "5",
        "a:size[0]": "6",
        "a:size[1]": "6",
    }
    before = text(tmp_path)
    sent = Shown(client, page).send({"add": str(number), **thing})
    assert sent.status_code == 303
    now = held(tmp_path)["shelf"][0]["load"]
    assert now[-1] == {
        "kind": "thing",
        "id": "lamp",
        "at": "A 20",
        "out": 5,
        "size": [6, 6],
        "weight": "6 lb",
    }
    sent = Shown(client, page).send({"take": "shelf.showroom.load.lamp"})
    assert sent.status_code == 303
    assert held(tmp_path) == tomllib.loads(before)
    assert [line for line in before.splitlines() if "#" in line] == [
        line for line in text(tmp_path).splitlines() if "#" in line
    ]
    refused = Shown(client, page).send({"take": "wall.A"})
    assert refused.status_code == 400


def _adders(stage: str, at: Path) -> Any:
    from ledgewright.desk import adding

    return adding.adders(stage, held(at))


def test_two_windows_on_different_figures_both_win(client: TestClient, tmp_path: Path) -> None:
    one, two = Shown(client, SHELF), Shown(client, f"/job/{CORNER}/walls")
    assert one.send({DEPTH: "10 1/4"}).status_code == 303
    assert two.send({"f:wall.A.length": "88 1/4"}).status_code == 303
    now = held(tmp_path)
    assert (now["shelf"][0]["depth"], now["wall"][0]["length"]) == ("10 1/4", "88 1/4")


def test_two_windows_on_the_same_figure_are_shown_both_values(
    client: TestClient, tmp_path: Path
) -> None:
    one, two = Shown(client, SHELF), Shown(client, SHELF)
    assert one.send({DEPTH: "10 1/4"}).status_code == 303
    got = two.send({DEPTH: "10 5/8"})
    assert got.status_code == 409
    assert "10 1/4" in got.text
    assert "10 5/8" in got.text
    assert held(tmp_path)["shelf"][0]["depth"] == "10 1/4"
    hidden = got.text[got.text.index('id="clash"') : got.text.index("Put mine in its place")]
    assert DEPTH in hidden
    assert hidden.count('type="hidden"') == 2
    again = Shown(client, SHELF).send({DEPTH: "10 5/8"})
    assert again.status_code == 303


def test_a_whole_form_sent_late_reverts_nothing_of_others(
    client: TestClient, tmp_path: Path
) -> None:
    document = held(tmp_path)
    whole = {
        cell.name: cell.value
        for form in forms.forms("shelf", document)
        for field in form.fields
        for cell in ([field.cell] if field.cell else [c for row in field.rows for c in row])
    }
    late = Shown(client, SHELF)
    assert Shown(client, SHELF).send({DEPTH: "10 1/4"}).status_code == 303
    assert late.send(whole | {"f:shelf.showroom.top": "54 1/2"}).status_code == 303
    now = held(tmp_path)["shelf"][0]
    assert (now["depth"], now["top"]) == ("10 1/4", "54 1/2")
    twice = late.send(whole | {"f:shelf.showroom.top": "54 1/2"})
    assert twice.status_code == 303
    clash = late.send(whole | {DEPTH: "11", "f:shelf.showroom.top": "54 5/8"})
    assert clash.status_code == 409
    assert (
        "shelf.showroom.core.of"
        not in clash.text[clash.text.index('id="clash"') : clash.text.index('id="left"')]
    )


def test_a_row_that_moved_meanwhile_is_not_written_over(client: TestClient, tmp_path: Path) -> None:
    page, line = f"/job/{CORNER}/walls", "r:wall.A.line"
    old = Shown(client, page)
    assert Shown(client, page).send({f"{line}:0:0": "", f"{line}:0:1": ""}).status_code == 303
    assert old.send({f"{line}:3:1": "2"}).status_code == 409


def test_undo_and_redo_go_through_every_state(client: TestClient, tmp_path: Path) -> None:
    texts = [text(tmp_path)]
    for depth in ("10 1/4", "10 3/8", "10 5/8"):
        Shown(client, SHELF).send({DEPTH: depth})
        texts.append(text(tmp_path))
    for expected in reversed(texts[:-1]):
        step(client, CORNER, "undo")
        assert text(tmp_path) == expected
    step(client, CORNER, "undo")
    assert text(tmp_path) == texts[0]
    for expected in texts[1:]:
        step(client, CORNER, "redo")
        assert text(tmp_path) == expected
    step(client, CORNER, "undo")
    Shown(client, SHELF).send({DEPTH: "10 7/16"})
    step(client, CORNER, "redo")
    assert held(tmp_path)["shelf"][0]["depth"] == "10 7/16"


def test_undo_on_one_device_does_not_take_back_what_another_has_written(
    client: TestClient, tmp_path: Path
) -> None:
    """The page shows the first change; the second, by another, is told, and not taken back."""
    top = "f:shelf.showroom.top"
    Shown(client, SHELF).send({DEPTH: "10 1/4"})
    mine = Shown(client, SHELF)
    for way in ("undo", "redo"):
        form = mine.text.split(f'action="/job/{CORNER}/{way}"')[1].split("</form>")[0]
        assert f'name="base" value="{mine.base}"' in form
    Shown(client, SHELF).send({top: "54 1/2"})
    both = text(tmp_path)
    for way in ("undo", "redo"):
        got = step(client, CORNER, way, base=mine.base)
        assert text(tmp_path) == both
        told = client.get(got.headers["location"])
        assert told.status_code == 200
        assert "The job was changed meanwhile" in told.text
    assert text(tmp_path) == both
    told = client.get(f"/job/{CORNER}/undo?stage=shelf")
    assert "shelf.showroom.top" in told.text
    sent = {"X-Fragment": "1"}
    asked = {"base": mine.base, "stage": "shelf", "format": "json"}
    assert (
        client.post(f"/job/{CORNER}/undo", data=asked, headers=sent).headers["X-Outcome"]
        == "conflict"
    )
    assert client.post(f"/job/{CORNER}/undo", data={"stage": "shelf"}).status_code == 200
    assert text(tmp_path) == both
    # asked again, knowing what it is: it is done
    base = re.findall(r'name="base" value="([^"]+)"', told.text.split('id="stepped"')[1])[0]
    step(client, CORNER, base=base)
    shelf = held(tmp_path)["shelf"][0]
    assert (shelf["depth"], shelf["top"]) == ("10 1/4", "54 3/8")


def test_the_revision_alone_is_told_to_a_page_that_stays_in_view(
    client: TestClient, tmp_path: Path
) -> None:
    """It is the one of the file now, also when an editor has written it, and it matches what the pages stand for."""
    for depth in ("10 1/2", "10 3/4"):
        changed = text(tmp_path).replace('depth = "10 1/2"', f'depth = "{depth}"')
        (tmp_path / f"{CORNER}.toml").write_text(changed, encoding="utf-8")
        told = client.get(f"/job/{CORNER}/revision").json()["revision"]
        assert told == revision(changed)
        assert f'id="state" class="state is-working" data-rev="{told}"' in client.get(SHELF).text
    (tmp_path / f"{CORNER}.toml").unlink()
    assert client.get(f"/job/{CORNER}/revision").status_code == 404


def test_a_calculation_that_is_worked_out_anew_waits_and_brings_its_bar(client: TestClient) -> None:
    """Nothing is worked out here: it is not "no check of that name", and the bar of the page is told anew."""
    got = client.get(f"/job/{CORNER}/result/showroom%20drop.today")
    assert got.status_code == 200
    assert "It is being worked out" in got.text
    assert 'data-follow="/job/stoneware-corner/result/showroom%20drop.today?wait=1"' in got.text
    part = client.get(f"/job/{CORNER}/result/showroom%20drop.today", headers={"X-Fragment": "1"})
    assert 'id="state"' in part.text
    assert 'id="calculation"' in part.text


def test_a_file_that_cannot_be_read_offers_nothing_to_add_and_says_nothing_is_missing_nowhere(
    client: TestClient, tmp_path: Path
) -> None:
    page = f"/job/{CORNER}/walls"
    for broken in (False, True):
        told = client.get(page).text
        assert ("Nothing is missing here." in told) != broken
        assert ('name="add"' in told) != broken
        with (tmp_path / f"{CORNER}.toml").open("a", encoding="utf-8") as file:
            file.write("\n[[[oops\n")


def test_a_change_made_in_an_editor_is_taken_in_and_can_be_undone(
    client: TestClient, tmp_path: Path
) -> None:
    first = text(tmp_path)
    Shown(client, SHELF)
    changed = first.replace('depth = "10 1/2"', 'depth = "10 3/4"')
    (tmp_path / f"{CORNER}.toml").write_text(changed, encoding="utf-8")
    assert Shown(client, SHELF).value(DEPTH) == "10 3/4"
    step(client, CORNER, "undo")
    assert text(tmp_path) == first


def test_a_broken_job_is_mended_step_by_step_on_its_pages(
    client: TestClient, tmp_path: Path
) -> None:
    broken = (
        text(tmp_path)
        .replace('depth = "10 1/2"', 'depth = "ten"')
        .replace('top = "54 3/8"', 'top = "high"')
    )
    (tmp_path / f"{CORNER}.toml").write_text(broken, encoding="utf-8")
    page = Shown(client, SHELF)
    assert "Not complete yet" in page.text
    assert page.send({DEPTH: "10 1/2"}).status_code == 303
    assert Shown(client, SHELF).send({"f:shelf.showroom.top": "54 3/8"}).status_code == 303
    assert files.load(tmp_path / f"{CORNER}.toml").job is not None


def test_what_is_no_toml_can_be_mended_as_text(client: TestClient, tmp_path: Path) -> None:
    whole = text(tmp_path)
    (tmp_path / f"{CORNER}.toml").write_text("[[[\n" + whole, encoding="utf-8")
    page = Shown(client, f"/job/{CORNER}/file")
    assert page.send({"text": whole.replace("\n", "\r\n")}).status_code == 303
    assert text(tmp_path) == whole
    bad = Shown(client, f"/job/{CORNER}/file").send({"text": whole + "\nnonsense = 1\n"})
    assert bad.status_code == 422
    assert "nonsense" in bad.text
    assert text(tmp_path) == whole


def test_a_torn_journal_loses_no_job(tmp_path: Path) -> None:
    folder(tmp_path, ALCOVE)
    kept = tmp_path / ".ledgewright" / ALCOVE
    hand = Hand(tmp_path / f"{ALCOVE}.toml", Journal(kept))
    base = revision(hand.text()[0])
    assert hand.change(base, [Edit("shelf.reading.depth", "280")], "depth").kind == "saved"
    log = kept / "log.jsonl"
    log.write_bytes(log.read_bytes()[:-25])
    again = Hand(tmp_path / f"{ALCOVE}.toml", Journal(kept))
    assert "depth = 280" in again.text()[0]
    back = again.journal.before()
    assert back is not None
    assert back.revision == base
    assert again.undo(revision(again.text()[0])).kind == "saved"
    assert revision(text(tmp_path, ALCOVE)) == base


@pytest.mark.parametrize("nth", range(1, 14))
def test_a_disk_that_refuses_at_any_call_leaves_old_or_new_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, nth: int
) -> None:
    client = browser(folder(tmp_path, ALCOVE))
    page = Shown(client, f"/job/{ALCOVE}/shelf")
    old = text(tmp_path, ALCOVE)
    count = 0

    def failing(real: Any) -> Any:
        def inner(*args: Any, **kwargs: Any) -> Any:
            nonlocal count
            count += 1
            if count == nth:
                raise OSError(28, "No space left on device")
            return real(*args, **kwargs)

        return inner

    for name in ("write", "fsync", "replace"):
        monkeypatch.setattr(os, name, failing(getattr(os, name)))
    got = page.send({"f:shelf.reading.depth": "280"})
    monkeypatch.undo()
    now = text(tmp_path, ALCOVE)
    assert got.status_code in (303, 503)
    assert now == old or tomllib.loads(now)["shelf"][0]["depth"] == 280
    if got.status_code == 303:
        assert now != old
    assert Shown(client, f"/job/{ALCOVE}/shelf").value("f:shelf.reading.depth") in ("285", "280")


def test_only_the_sections_of_the_page_come_back_to_its_own_script(client: TestClient) -> None:
    page = Shown(client, SHELF)
    got = page.send({DEPTH: "10 1/4"}, fragment=True)
    assert got.status_code == 200
    assert "<html" not in got.text
    assert '<section id="state"' in got.text
    assert 'value="10 1/4"' in got.text


def test_the_twin_of_a_page_says_the_same(client: TestClient) -> None:
    twin = client.get(SHELF, headers={"Accept": "application/json"}).json()
    assert twin["state"]["state"] == "working"
    found = {f["path"]: f["value"] for form in twin["forms"] for f in form["fields"]}
    assert found["shelf.showroom.depth"] == "10 1/2"
    assert client.get(f"{SHELF}?format=json").json() == twin


def test_the_journal_lists_every_change_and_leads_back_to_any(
    client: TestClient, tmp_path: Path
) -> None:
    first = text(tmp_path)
    Shown(client, SHELF).send({DEPTH: "10 1/4"})
    Shown(client, SHELF).send({DEPTH: "10"})
    rows = client.get(f"/job/{CORNER}/journal?format=json").json()["changes"]
    assert [row["number"] for row in rows] == [3, 2, 1]
    assert [row["now"] for row in rows] == [True, False, False]
    assert "depth" in rows[0]["what"]
    got = client.post(f"/job/{CORNER}/journal", data={"to": "1"}, follow_redirects=False)
    assert got.status_code == 303
    assert text(tmp_path) == first
    rows = client.get(f"/job/{CORNER}/journal?format=json").json()["changes"]
    assert rows[0]["what"] == "back to change 1"
    for odd in ("9", "-1", "x", "", "1e9"):
        assert client.post(f"/job/{CORNER}/journal", data={"to": odd}).status_code == 404


def test_a_kept_text_that_was_spoilt_is_not_gone_back_to(
    client: TestClient, tmp_path: Path
) -> None:
    Shown(client, SHELF).send({DEPTH: "10 1/4"})
    now = text(tmp_path)
    kept = tmp_path / ".ledgewright" / CORNER / "0001.toml"
    kept.write_text("format = 1\n", encoding="utf-8")
    assert client.post(f"/job/{CORNER}/journal", data={"to": "1"}).status_code == 404
    assert text(tmp_path) == now


@pytest.mark.parametrize(
    ("name", "unit", "other"),
    [(CORNER, "inches", "millimetres"), (ALCOVE, "millimetres", "inches")],
)
@pytest.mark.parametrize("stage", ["walls", "shelf", "site"])
def test_a_page_of_fields_says_what_a_bare_number_is(
    client: TestClient, name: str, unit: str, other: str, stage: str
) -> None:
    """docs/job-file.md: a number without a unit is in the job's `units`."""
    said = client.get(f"/job/{name}/{stage}").text
    assert f"A bare number is in {unit}." in said
    assert f"A bare number is in {other}." not in said
