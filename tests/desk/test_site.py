"""The day on site in the browser: rods as set and load tests are typed in and stand in the file as the file wants them.

Against: the reading of the job file and the TOML parser of the standard library, apart from the desk; where a rod
stands is told by the tape (facts of the trade: half way between the edges of its stud).
"""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from ledgewright.desk import onsite
from ledgewright.desk.sited import sited
from ledgewright.job import files
from ledgewright.job.reading import read as read_job
from ledgewright.plan import full
from ledgewright.statics import Proof
from tests.desk.made import ALCOVE, CORNER, Drawn, Shown, as_read, browser, folder
from tests.jobs import MEMO
from tests.sheets.test_withheld import unseen

SITE = f"/job/{CORNER}/site"
PLACE = "A 15 7/16"
READ = {
    "wall[0]": "15 7/16",
    "wall[1]": "53 23/64",
    "tip[0]": "15 29/64",
    "tip[1]": "53 23/64",
    "out": "8 1/4",
}


@pytest.fixture
def client(tmp_path: Path) -> TestClient:
    return browser(folder(tmp_path, CORNER, ALCOVE), start=Drawn)


def held(at: Path, name: str = CORNER) -> dict[str, Any]:
    return tomllib.loads((at / f"{name}.toml").read_text(encoding="utf-8"))


def sent(place: str, read: dict[str, str]) -> dict[str, str]:
    return {"add": f"reading {place}", **{f"n:{place}:{key}": text for key, text in read.items()}}


def test_every_rod_of_a_confirmed_wall_is_there_to_be_read(client: TestClient) -> None:
    """Seven rods, each in the middle of its stud by the tape of its wall, in the order the wall is faced."""
    shown = Shown(client, SITE)
    added = re.findall(r'name="add" value="reading ([^"]+)"', shown.text)
    middles = [
        "A 63 7/8",
        "A 47 11/32",
        "A 31 9/16",
        "A 15 7/16",
        "B 14 3/16",
        "B 30 5/16",
        "B 46 1/16",
    ]
    assert added == middles
    assert shown.text.count("not read yet") == 7


def test_a_reading_typed_in_stands_in_the_file(client: TestClient, tmp_path: Path) -> None:
    before = (tmp_path / f"{CORNER}.toml").read_text(encoding="utf-8")
    assert Shown(client, SITE).send(sent(PLACE, READ)).status_code == 303
    assert held(tmp_path)["site"]["rod"] == [
        {
            "at": PLACE,
            "wall": ["15 7/16", "53 23/64"],
            "tip": ["15 29/64", "53 23/64"],
            "out": "8 1/4",
        }
    ]
    after = (tmp_path / f"{CORNER}.toml").read_text(encoding="utf-8")
    assert [line for line in before.splitlines() if line not in after.splitlines()] == []
    job = files.load(tmp_path / f"{CORNER}.toml").job
    assert job is not None
    (rod,) = (rod for rod in job.shelves[0].rods if rod.as_set)
    assert (rod.wall, rod.member) == ("A", "A.s1")
    shown = Shown(client, SITE)
    assert shown.value("f:site.rod[0].out") == "8 1/4"
    assert shown.text.count("not read yet") == 6


def test_half_a_reading_is_told_at_its_fields_and_not_written(
    client: TestClient, tmp_path: Path
) -> None:
    before = held(tmp_path)
    got = Shown(client, SITE).send(sent(PLACE, READ | {"tip[1]": "", "out": ""}))
    assert got.status_code == 422
    assert held(tmp_path) == before
    card = got.text[got.text.index('id="reading-A-15-7-16"') :]
    card = card[: card.index("</section>")]
    assert 'value="15 29/64"' in card
    out = card[card.index(f'name="n:{PLACE}:out"') :]
    assert "wrong" in out
    others = got.text.replace(card, "")
    assert 'value="15 29/64"' not in others


def test_a_slip_of_the_tape_is_asked_back_and_can_be_stood_by(
    client: TestClient, tmp_path: Path
) -> None:
    """An inch too far out of the wall: the file's own question, answered on the page."""
    slip = READ | {"out": "9 1/4"}
    got = Shown(client, SITE).send(sent(PLACE, slip))
    assert got.status_code == 422
    found = re.search(r'name="stand" value="([^"]+)"', got.text)
    assert found is not None
    assert found[1] == "site.rod[0].out"
    assert Shown(client, SITE).send(sent(PLACE, slip) | {"stand": found[1]}).status_code == 303
    assert held(tmp_path)["job"]["sure"][-1] == "site.rod[0].out"
    assert held(tmp_path)["site"]["rod"][0]["out"] == "9 1/4"


def test_a_reading_is_mended_and_taken_out(client: TestClient, tmp_path: Path) -> None:
    Shown(client, SITE).send(sent(PLACE, READ))
    assert Shown(client, SITE).send({"f:site.rod[0].tip[0]": "15 13/32"}).status_code == 303
    assert held(tmp_path)["site"]["rod"][0]["tip"] == ["15 13/32", "53 23/64"]
    assert Shown(client, SITE).send({"take": "site.rod[0]"}).status_code == 303
    assert not held(tmp_path)["site"].get("rod")


def test_two_hands_read_different_rods_at_once(client: TestClient, tmp_path: Path) -> None:
    """Both pages were shown before either was sent: as on a phone at each wall."""
    one, two = Shown(client, SITE), Shown(client, SITE)
    assert one.send(sent(PLACE, READ)).status_code == 303
    other = {
        "wall[0]": "14 11/64",
        "wall[1]": "53 23/64",
        "tip[0]": "14 3/64",
        "tip[1]": "53 23/64",
        "out": "6 1/2",
    }
    assert two.send(sent("B 14 3/16", other)).status_code == 303
    assert [rod["at"] for rod in held(tmp_path)["site"]["rod"]] == [PLACE, "B 14 3/16"]


def test_no_rod_is_asked_for_on_a_wall_nobody_may_drill(tmp_path: Path) -> None:
    (tmp_path / "hidden.toml").write_text(unseen(CORNER, "B", "scanned"), encoding="utf-8")
    text = browser(tmp_path, start=Drawn).get("/job/hidden/site").text
    assert "reading A 15 7/16" in text
    assert "reading B" not in text
    drawing = browser(tmp_path, start=Drawn).get("/job/hidden/drawing?stage=rods").text
    assert "Rod B" not in drawing


def test_a_step_of_the_load_test_stands_in_the_file(client: TestClient, tmp_path: Path) -> None:
    """Empty rows are left out, and a place that was not read is no reading."""
    name = "n:step showroom"
    step = {
        "add": "step showroom",
        f"{name}:put:0:0": "23 lb",
        f"{name}:put:0:1": "A 41",
        f"{name}:put:0:2": "5 5/8",
        f"{name}:put:1:0": "",
        f"{name}:put:1:1": "",
        f"{name}:put:1:2": "",
        f"{name}:read:0:0": "A 63 7/8",
        f"{name}:read:0:1": "0.065",
        f"{name}:read:1:0": "A 47 11/32",
        f"{name}:read:1:1": "",
        f"{name}:wait": "10 min",
        f"{name}:with": "gauge",
    }
    got = Shown(client, SITE).send(step)
    assert got.status_code == 303, got.text
    assert held(tmp_path)["site"]["test"] == [
        {
            "put": [["23 lb", "A 41", "5 5/8"]],
            "wait": "10 min",
            "read": [["A 63 7/8", 0.065]],
            "with": "gauge",
        }
    ]
    again = Shown(client, SITE)
    assert again.value(f"{name}:put:0:1") == "A 41"
    assert again.value(f"{name}:read:0:0") == "A 63 7/8"
    assert again.value(f"{name}:read:0:1") == ""
    assert "step 2" in again.text
    nothing = Shown(client, SITE).send({"add": "step showroom", f"{name}:wait": ""})
    assert nothing.status_code == 422
    assert len(held(tmp_path)["site"]["test"]) == 1


def test_the_proposed_steps_are_steps_the_file_takes() -> None:
    """Each step as the page fills it in, with readings typed, is read without a word; none weighs more than its share.

    Against: the reading of the job file, and the whole of the test as its own sheet has it.
    """
    text = (as_read(ALCOVE)).replace("test = [", "was = [")
    plain = re.sub(r"(?ms)^was = \[.*?^\]\n", "", text)
    job = read_job(plain, "alcove.toml").job
    assert job is not None
    plan = full(job, MEMO, limits=None, tests=True)
    steps = sited(plan)["steps"][job.shelves[0].id]
    assert [step["wait"] for step in steps] == [*["10 min"] * 4, "24 h", "1 h"]
    document = tomllib.loads(plain)
    whole = plain
    for number in range(len(steps)):
        (form,) = onsite.next_steps(document, {"steps": {job.shelves[0].id: steps}})
        assert form.number == number + 1
        fill = {
            c.name: c.value
            for f in form.form.fields
            for c in ([f.cell] if f.cell else [c for r in f.rows for c in r])
        }
        fill |= {
            name: "0.5"
            for name in fill
            if ":read:" in name and name.endswith(":1") and fill[name[:-1] + "0"]
        }
        edit = onsite.added(fill | {"add": form.add}, document)
        assert edit is not None
        assert edit.text is not None
        document.setdefault("site", {}).setdefault("test", []).append(
            tomllib.loads(f"x = {edit.text}")["x"]
        )
    listed = ", ".join(onsite_text(each) for each in document["site"]["test"])
    whole = plain.replace("[site]\n", f"[site]\ntest = [{listed}]\n")
    read = read_job(whole, "alcove.toml")
    assert read.job is not None, read.findings
    proof = plan.tests[0][1]
    assert isinstance(proof, Proof)
    one = proof.single.mass
    heaps = proof.total - one
    wanted = (heaps / 2, heaps, heaps + one / 2, proof.total, proof.total, 0.0)
    for step, most in zip(read.job.site.tests, wanted, strict=True):
        assert 0.85 * most <= sum(put.mass for put in step.puts) <= most + 1e-9


def onsite_text(step: dict[str, Any]) -> str:
    def value(each: object) -> str:
        if isinstance(each, list):
            return "[" + ", ".join(value(e) for e in each) + "]"
        return f'"{each}"' if isinstance(each, str) else str(each)

    return "{ " + ", ".join(f"{key} = {value(each)}" for key, each in step.items()) + " }"


BONDED = ("stock", "length", "embedment", "hole", "adhesive")


def prefilled(shown: Shown, place: str) -> dict[str, str]:
    """What the page has in the fields of what was bonded, as it is posted untouched."""
    return {f"bonded.{key}": shown.value(f"n:{place}:bonded.{key}") for key in BONDED}


def test_what_was_bonded_is_filled_in_as_the_job_says_it_and_kept_with_the_reading(
    client: TestClient, tmp_path: Path
) -> None:
    """By hand: 3 1/8 in the wood, 21/32 of board and 8 1/4 out make 12 1/32."""
    rods = held(tmp_path)["shelf"][0]["rods"]
    filled = prefilled(Shown(client, SITE), PLACE)
    assert filled["bonded.stock"] == rods["stock"]
    assert filled["bonded.adhesive"] == rods["adhesive"]
    assert filled["bonded.length"] == "12 1/32"
    assert (filled["bonded.embedment"], filled["bonded.hole"]) == (rods["embedment"], rods["hole"])
    assert Shown(client, SITE).send(sent(PLACE, READ | filled)).status_code == 303
    (written,) = held(tmp_path)["site"]["rod"]
    assert written["bonded"] == {key: filled[f"bonded.{key}"] for key in BONDED}
    shown = Shown(client, SITE)
    assert shown.value("f:site.rod[0].bonded.hole") == rods["hole"]
    assert "This reading does not say" not in shown.text


def test_a_bar_changed_on_the_page_of_rods_after_it_was_bonded_is_refused_there(
    client: TestClient, tmp_path: Path
) -> None:
    """Steel in the wall does not change by an edit: the page keeps the file as it is and says so."""
    Shown(client, SITE).send(sent(PLACE, READ | prefilled(Shown(client, SITE), PLACE)))
    before = held(tmp_path)
    page = Shown(client, f"/job/{CORNER}/rods")
    got = page.send(_hole(page, "7/8"))
    assert got.status_code == 422
    assert held(tmp_path) == before
    assert "This rod was bonded with" in got.text


def _hole(page: Shown, text: str) -> dict[str, str]:
    name = next(
        n for n in re.findall(r'name="(f:shelf[^"]+)"', page.text) if n.endswith("rods.hole")
    )
    return {name: text}


def test_a_reading_that_does_not_say_what_was_bonded_is_asked(client: TestClient) -> None:
    Shown(client, SITE).send(sent(PLACE, READ))
    shown = Shown(client, SITE)
    assert "This reading does not say" in shown.text
    assert shown.value("f:site.rod[0].bonded.stock") == ""
