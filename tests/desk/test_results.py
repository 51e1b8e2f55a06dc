"""What the pages say of a job is what the verbs say; a wall that may not be drilled gives nothing away on any page.

Against: the documents of the verbs, which are tested apart, and the job's own tapes for what is withheld: a hole
stands half way between the taped edges of its stud (facts of the trade, as in tests/sheets/test_withheld.py).
"""

from __future__ import annotations

import json
import math
import re
import subprocess
import sys
from collections.abc import Sequence
from concurrent.futures import Future
from concurrent.futures.process import BrokenProcessPool
from html import unescape
from pathlib import Path
from typing import Any
from urllib.parse import quote

import pytest
from click.testing import CliRunner
from starlette.testclient import TestClient

from ledgewright import plan as room
from ledgewright.cli import main
from ledgewright.desk import serving, stages, work
from ledgewright.desk.packets import ALL as ZIP
from ledgewright.desk.packets import MANIFEST
from ledgewright.job import Job
from ledgewright.job.reading import read as read_job
from ledgewright.memo import Memo
from ledgewright.plan import Plan, full
from ledgewright.sheets import output
from ledgewright.sheets.documents import check_document
from ledgewright.sheets.shop_answer import shop_text
from tests.desk.made import ALCOVE, CORNER, Shown, browser, folder, step
from tests.jobs import MEMO, job, plan
from tests.sheets.test_withheld import Case, secret, spoken, unseen

WITHHELD = ("reading-alcove", "back", "scanned")
OWN = re.compile(
    r'<(?:input|textarea)[^>]*name="(?:[fr]:shelf[^"]*|text)"[^>]*>(?:[^<]*</textarea>)?'
)
"""Fields that show what the job's own people wrote of the shelf: where rods are asked for is theirs to say."""


def _full(asked: Job, memo: Memo, *, limits: bool | None, **more: bool) -> Plan:
    """The alcove as this run has worked it out already; load limits of the others are not asked about here."""
    if asked.meta.revision == job(ALCOVE).meta.revision:
        return plan(ALCOVE)
    return full(asked, memo, limits=False, **more)


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Any:
    """The alcove and the corner, worked out through what other tests of this run have worked out."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(work, "_MEMO", MEMO)
        patch.setattr(room, "full", _full)
        at = folder(tmp_path_factory.mktemp("jobs"), ALCOVE, CORNER)
        hidden = unseen(*WITHHELD)
        (at / "hidden.toml").write_text(hidden, encoding="utf-8")
        yield browser(at, works=True)


def words(text: str) -> str:
    return unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", text)))


def test_the_verdict_and_its_figures_are_those_of_the_verb(desk: TestClient) -> None:
    twin = desk.get(f"/job/{ALCOVE}/result?format=json").json()
    document = json.loads(json.dumps(check_document(plan(ALCOVE))))
    assert twin["check"]["shelves"] == document["shelves"]
    assert twin["state"]["state"] == document["verdict"]
    assert twin["load_limits"] is True
    page = words(desk.get(f"/job/{ALCOVE}/result").text)
    for shelf in document["shelves"]:
        assert shelf["front_drop"]["today"]["text"] in page
        assert shelf["load_limit"]["even"]["text"] in page
    assert all(c["text"] in page for c in document["cautions"])
    assert all(a["value"] in page for a in document["assumed"])


def test_every_check_opens_its_calculation_with_sources(desk: TestClient) -> None:
    page = desk.get(f"/job/{ALCOVE}/result").text
    links = re.findall(r'href="(/job/reading-alcove/result/[^"]+)"', page)
    assert len(links) > 10
    # Rows of an accident have a slash in their names.
    (shelf,) = desk.get(f"/job/{ALCOVE}/result?format=json").json()["check"]["shelves"]
    row = next(row["id"] for row in shelf["checks"] if "/" in row["id"] and row["working"])
    slashed = f"/job/{ALCOVE}/result/{quote(shelf['id'] + ' ' + row, safe='')}"
    for link in (*links[:4], slashed):
        got = desk.get(link)
        assert got.status_code == 200
        row = desk.get(f"{link}?format=json").json()["calculation"]
        assert row["working"]
        shown = words(got.text)
        assert all(unescape(step["source"]) in shown for step in row["working"])
    assert desk.get(f"/job/{ALCOVE}/result/none").status_code == 404


def test_the_fitting_has_its_moves_its_drawings_in_words_and_plays(desk: TestClient) -> None:
    page = desk.get(f"/job/{ALCOVE}/fitting").text
    twin = desk.get(f"/job/{ALCOVE}/fitting?format=json").json()
    moves = [m["far"] for sheet in twin["fitting"].values() for m in sheet["moves"]]
    assert moves
    assert all(far in words(page) for far in moves)
    drawings = re.findall(r"<svg.*?</svg>", page, re.DOTALL)
    assert len(drawings) >= 3
    assert all("<title>" in d and "<desc>" in d for d in drawings)
    assert all(" style=" not in d and "<style" not in d and "<script" not in d for d in drawings)
    assert "<animateTransform" in page


def test_the_fitting_of_a_section_is_titled_as_its_order(desk: TestClient) -> None:
    page = desk.get(f"/job/{CORNER}/fitting").text
    heads = [unescape(head) for head in re.findall(r"<h2>([^<]*)</h2>", page)]
    for number in (1, 2):
        title = f"showroom, section {number} of 2"
        assert f"Fitting of shelf {title}" in heads
        assert any(head.startswith(f"Fitting order: shelf {title}, ") for head in heads)
    assert not [head for head in heads if "showroom." in head]


def test_a_packet_is_built_listed_and_handed_out(
    desk: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    def contents(of: Plan, parts: Sequence[str], memo: Memo) -> dict[str, bytes]:
        """What is in a packet is tested with the sheets; here it is only written and handed out."""
        made = {output.pdf_name(part): b"%PDF-1.7" for part in parts}  # type: ignore[arg-type]
        made |= {"parts.csv": b"part\n", "check.json": b"{}"}
        return made | {output.MANIFEST: json.dumps(output._manifest(of, made)).encode()}

    monkeypatch.setattr(output, "contents", contents)
    page = f"/job/{ALCOVE}/packet"
    assert desk.get(f"{page}/packet.pdf").status_code == 404
    asked = {"for whole": "1", "for site": "1", "for nobody": "1"}
    assert desk.post(page, data=asked, follow_redirects=False).status_code == 303
    twin = desk.get(f"{page}?format=json").json()
    assert twin["current"] is True
    assert MANIFEST == output.MANIFEST
    names = [f["name"] for f in twin["files"]]
    assert "packet-client.pdf" not in names
    assert {"packet.pdf", "packet-site.pdf", "parts.csv", "check.json", "packet.json"} <= set(names)
    assert desk.get(f"{page}/packet.pdf").content.startswith(b"%PDF")
    assert desk.get(f"{page}/{ZIP}").content.startswith(b"PK")
    assert desk.get(f"{page}/prices-gbp.toml").status_code == 404
    Shown(desk, f"/job/{ALCOVE}/place").send({"f:job.client": "somebody"})
    assert desk.get(f"{page}?format=json").json()["current"] is False
    assert "Of an older state of the job" in desk.get(page).text
    step(desk, ALCOVE, stage="packet")
    assert desk.get(f"{page}?format=json").json()["current"] is True


def test_a_wall_that_may_not_be_drilled_gives_nothing_away_on_any_page(desk: TestClient) -> None:
    read = read_job(unseen(*WITHHELD), "hidden.toml")
    assert read.job is not None
    whole = full(read.job, MEMO, limits=False)
    told = secret(Case(plan=whole, wall=WITHHELD[1], check=None, fit=None, site=None, said=""))
    assert told
    pages = [f"/job/hidden/{stage}" for stage, _ in stages.ORDER] + ["/", "/job/hidden/state"]
    result = desk.get("/job/hidden/result").text
    pages += [unescape(link) for link in re.findall(r'href="(/job/hidden/result/[^"]+)"', result)]
    assert "withheld" in result.lower() or "may not be drilled" in result.lower()
    assert len(pages) > 20
    for path in pages:
        text = OWN.sub("", desk.get(path).text)
        text = re.sub(r'<textarea id="text".*?</textarea>', "", text, flags=re.DOTALL)
        found = spoken(words(text)) & told
        assert not found, f"{path} tells {found}"


def test_a_shelf_that_cannot_be_laid_out_says_why_and_where(desk: TestClient) -> None:
    page = Shown(desk, f"/job/{ALCOVE}/corners")
    assert page.text
    posted = Shown(desk, f"/job/{ALCOVE}/shelf").send({"f:shelf.reading.top": "1900"})
    assert posted.status_code in (303, 422)
    state = desk.get(f"/job/{ALCOVE}/state?format=json").json()["state"]
    assert state["says"]
    step(desk, ALCOVE)


def test_a_first_look_is_shown_until_every_load_is_tried(tmp_path: Path) -> None:
    """It says what the room of statics says at first; the page then waits for the whole, and takes its place."""

    class First(work.Inline):
        """Only looks at first."""

        def submit(self, fn: Any, /, *args: Any, **kwargs: Any) -> Future[Any]:
            return super().submit(fn, *args, **kwargs) if args[0] == "first" else Future()

    for name, word in ((ALCOVE, "working"), (f"{ALCOVE}-first-try", "fails")):
        seen = room.looked(job(name), MEMO)
        client = browser(folder(tmp_path, name), start=First)
        state = client.get(f"/job/{name}/state?format=json").json()["state"]
        assert (state["state"], state["pending"], state["first_look"]) == (word, True, True)
        drop = seen.designs[0].holds.drop
        assert drop is not None
        shown = state["figures"][0]["value"]
        assert shown.endswith(" mm or more")
        # Rounded up to a tenth, as everywhere.
        assert 0 <= float(shown.split()[0]) - drop.today.value < 0.1
        assert state["because"]
        if word == "fails":
            assert seen.verdict == "fails"
            told = seen.designs[0].holds.checks[0]
            assert f"{math.ceil(100 * told.ratio) / 100:.2f} times" in state["because"][0]
        page = client.get(f"/job/{name}/walls").text
        assert f"/job/{name}/state?wait=1&amp;stage=walls&amp;seen=1" in page
        assert ("It does not hold" in page) == (word == "fails")
        assert "It holds" not in page
        for other in ("result", "fitting", "costs", "sure", "choose", "packet", "site", "file"):
            got = client.get(f"/job/{name}/{other}")
            assert got.status_code == 200
            assert "It holds" not in got.text


def test_what_a_working_process_died_of_is_asked_for_again(tmp_path: Path) -> None:
    asked: list[str] = []

    class Dying(work.Inline):
        """Its process is killed at whatever it does."""

        def submit(self, fn: Any, /, *args: Any, **kwargs: Any) -> Future[Any]:
            asked.append(args[0])
            died: Future[Any] = Future()
            died.set_exception(BrokenProcessPool())
            return died

    client = browser(folder(tmp_path, ALCOVE), start=Dying)
    for count in (1, 2, 3):
        state = client.get(f"/job/{ALCOVE}/state?format=json").json()["state"]
        assert state["state"] == "fault"
        assert asked.count("quick") == count


def test_pages_come_at_once_while_work_goes_on(tmp_path: Path) -> None:
    client = browser(folder(tmp_path, ALCOVE))
    for page in ("result", "fitting", "walls"):
        got = client.get(f"/job/{ALCOVE}/{page}")
        assert got.status_code == 200
        assert "Being worked out" in got.text
        assert "data-follow=" in got.text
        assert '<meta http-equiv="refresh"' in got.text


def test_a_fault_of_the_work_is_told_without_a_trace(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(room, "full", broken)
    client = browser(folder(tmp_path, ALCOVE), works=True)
    for page in ("result", "fitting", "walls"):
        got = client.get(f"/job/{ALCOVE}/{page}")
        assert got.status_code == 200
        assert "Could not be worked out" in got.text
        assert "Traceback" not in got.text


def test_older_work_that_nobody_has_begun_is_dropped(tmp_path: Path) -> None:
    waiting: list[Future[Any]] = []

    class Later(work.Inline):
        def submit(self, fn: Any, /, *args: Any, **kwargs: Any) -> Future[Any]:
            waiting.append(Future())
            return waiting[-1]

    works = work.Works(Later)
    job = folder(tmp_path, ALCOVE) / f"{ALCOVE}.toml"
    works.ask("quick", job, "one")
    works.ask("quick", job, "one")
    works.ask("quick", job, "two")
    assert len(waiting) == 2
    assert waiting[0].cancelled()
    assert not waiting[1].cancelled()


def test_the_verb_answers_one_request_without_a_server(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(room, "full", _full)
    folder(tmp_path, ALCOVE)
    run = CliRunner().invoke(main, ["desk", str(tmp_path), "--get", f"/job/{ALCOVE}/walls"])
    assert run.exit_code == 0
    assert "<h1>Walls</h1>" in run.output
    twin = CliRunner().invoke(main, ["desk", str(tmp_path), "--get", "/?format=json"])
    assert json.loads(twin.output)["jobs"][0]["name"] == ALCOVE
    none = CliRunner().invoke(main, ["desk", str(tmp_path), "--get", "/job/none/walls"])
    assert none.exit_code == 2


def test_a_port_that_is_taken_is_told(tmp_path: Path) -> None:
    with serving._listening(0) as held:
        run = CliRunner().invoke(
            main, ["desk", str(tmp_path), "--port", str(held.getsockname()[1])]
        )
    assert run.exit_code == 2
    assert "cannot be used" in run.output


def test_the_first_page_waits_for_no_numerics(tmp_path: Path) -> None:
    folder(tmp_path, ALCOVE)
    code = (
        "import sys\n"
        "from pathlib import Path\n"
        "from ledgewright import desk\n"
        "assert desk.get(Path(sys.argv[1]), '/').status == 200\n"
        "print([m for m in ('numpy', 'scipy', 'shapely', 'typst', 'ezdxf') if m in sys.modules])\n"
    )
    run = subprocess.run(
        [sys.executable, "-c", code, str(tmp_path)], capture_output=True, text=True, check=True
    )
    assert run.stdout.strip() == "[]"


def test_names_in_addresses_are_quoted(tmp_path: Path) -> None:
    folder(tmp_path, ALCOVE)
    (tmp_path / f"{ALCOVE}.toml").rename(tmp_path / "a + b (1).toml")
    client = browser(tmp_path)
    page = client.get("/").text
    assert f'href="/job/{quote("a + b (1)", safe="")}"' in page
    assert client.get("/job/a + b (1)/walls").status_code == 200


def test_the_price_is_that_of_the_verb_and_the_shops_pages_are_the_packets(
    desk: TestClient,
) -> None:
    """Said on every page, with what it is cut from, bought and done when behind it."""
    twin = desk.get(f"/job/{ALCOVE}/costs?format=json&wait=1").json()
    said = shop_text(plan(ALCOVE))
    assert twin["price"]["text"].split(" ")[1].split(".")[0] in said.replace("\n", " ")
    names = set(twin["pages"])
    assert {"price", "quote", "buying", "days", "van", "boards"} <= names
    assert any(name.startswith("layout") for name in names)
    shown = desk.get(f"/job/{ALCOVE}/costs").text
    assert "Cuts, in this order" in shown
    state = desk.get(f"/job/{ALCOVE}/state?format=json").json()["state"]["figures"]
    assert {"what": "Price", "value": twin["price"]["text"], "under": "draft", "check": ""} in state
