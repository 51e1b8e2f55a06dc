"""Choices in the desk: looked for when asked, written with one button, never into a job that was changed since."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from ledgewright.desk.notes import Note
from ledgewright.job import Edit, edits
from ledgewright.job.reading import read
from ledgewright.plan import check, verdict
from tests.choose.made import PRICES, small
from tests.desk.made import browser, step
from tests.jobs import MEMO

JOB = small(3)
TEXT = JOB.text(JOB.start)
PAGE = "/job/small/choose"


@pytest.fixture
def at(tmp_path: Path) -> Path:
    (tmp_path / "small.toml").write_text(TEXT, encoding="utf-8")
    (tmp_path / "prices.toml").write_text(PRICES, encoding="utf-8")
    return tmp_path


@pytest.fixture
def desk(at: Path, monkeypatch: pytest.MonkeyPatch) -> TestClient:
    monkeypatch.setattr("ledgewright.desk.work._MEMO", MEMO)
    monkeypatch.setattr("ledgewright.desk.work.SEARCHING", 1)
    return browser(at, works=True)


def test_a_choice_is_looked_for_taken_and_written_with_its_remarks(
    desk: TestClient, at: Path
) -> None:
    assert "Look for choices" in desk.get(PAGE).text
    assert desk.post(PAGE, data={"do": "look"}, follow_redirects=False).status_code == 303
    twin = desk.get(f"{PAGE}?format=json").json()
    front = twin["choices"]["front"]
    assert front
    page = desk.get(PAGE).text
    assert all(f"Take {each['k']}<" in page for each in front)
    assert "needs that word anew" in page
    assert "<svg" in page
    limits = [each["load_even"] for each in front]
    # Half a tonne on a metre is beyond any such shelf (common practice); one that holds what the job puts on it may
    # still have no limit, as that counts one heavy thing and somebody leaning on it at once.
    assert all(limit is None or 0 < limit < 5 for limit in limits)
    assert any(limits)
    assert all(bool(each["load_limited_by"]) for each in front)
    assert "Carries" in page
    one = next(each for each in front if each["edits"])
    base = twin["choices"]["job"]["revision"]
    sent = desk.post(PAGE, data={"take": str(one["k"]), "base": base}, follow_redirects=False)
    assert sent.status_code == 303
    text = (at / "small.toml").read_text(encoding="utf-8")
    offered = edits.apply(TEXT, [Edit(e["path"], e["text"]) for e in one["edits"]])
    assert text.replace("stale = true\n", "") == offered
    assert "# over the table" in text
    job = read(text, "small.toml", PRICES).job
    assert job is not None
    assert verdict(check(job, MEMO)) == "passes"
    # The choices were of the text before: they are gone with it, and undo brings both back.
    assert "Take 1<" not in desk.get(PAGE).text
    step(desk, "small", stage="choose")
    assert (at / "small.toml").read_text(encoding="utf-8") == TEXT
    assert "Take 1<" in desk.get(PAGE).text


def test_no_choice_goes_into_a_job_that_was_changed_since(desk: TestClient, at: Path) -> None:
    desk.post(PAGE, data={"do": "look"})
    base = desk.get(f"{PAGE}?format=json").json()["choices"]["job"]["revision"]
    other = TEXT + "# somebody was here\n"
    (at / "small.toml").write_text(other, encoding="utf-8")
    sent = desk.post(PAGE, data={"take": "1", "base": base}, follow_redirects=False)
    assert sent.status_code == 409
    assert "changed since" in sent.text
    assert (at / "small.toml").read_text(encoding="utf-8") == other


def test_a_choice_that_is_not_what_was_offered_is_not_written(
    desk: TestClient, at: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As the command line does: judged anew through its file, and with other figures nothing is written."""
    desk.post(PAGE, data={"do": "look"})
    twin = desk.get(f"{PAGE}?format=json").json()["choices"]
    one = next(each for each in twin["front"] if each["edits"])
    asked = {"take": str(one["k"]), "base": twin["job"]["revision"]}
    with monkeypatch.context() as patch:
        # No two figures are nearer than less than nothing.
        patch.setattr("ledgewright.plan.SAME", -1.0)
        sent = desk.post(PAGE, data=asked)
    assert sent.status_code == 409
    assert "It was not written" in sent.text
    assert (at / "small.toml").read_text(encoding="utf-8") == TEXT
    assert desk.post(PAGE, data=asked, follow_redirects=False).status_code == 303
    assert (at / "small.toml").read_text(encoding="utf-8") != TEXT


def test_on_a_wall_that_nobody_may_drill_the_desk_offers_nothing(
    desk: TestClient, at: Path
) -> None:
    text = TEXT.replace('how = "opened it"', 'how = "scanned"')
    (at / "small.toml").write_text(text, encoding="utf-8")
    desk.post(PAGE, data={"do": "look"})
    page = desk.get(PAGE).text
    assert "Nothing is chosen" in page
    assert "Take 1<" not in page
    assert "mm deep" not in page


def test_a_search_is_ended_with_the_best_so_far_and_made_again(
    at: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Asked to end before it begins, it tries one design at the most; looked for again, it goes to its end."""
    monkeypatch.setattr("ledgewright.desk.work._MEMO", MEMO)
    monkeypatch.setattr("ledgewright.desk.work.SEARCHING", 1)
    told: list[str] = []
    monkeypatch.setattr(Note, "say", lambda _, text: told.append(text))
    monkeypatch.setattr(Note, "stopped", lambda _: True)
    desk = browser(at, works=True)
    desk.post(PAGE, data={"do": "look"})
    early = desk.get(f"{PAGE}?format=json").json()["choices"]
    assert early["complete"] is False
    monkeypatch.setattr(Note, "stopped", lambda _: False)
    desk.post(PAGE, data={"do": "look"})
    late = desk.get(f"{PAGE}?format=json").json()["choices"]
    assert late["tried"] > early["tried"]
    assert any("designs tried" in each for each in told)
    assert "load limits" in told[-1]


def test_ending_a_search_leaves_a_word_for_it(at: Path) -> None:
    desk = browser(at)
    desk.post(PAGE, data={"do": "look"})
    assert "End it with the best so far" in desk.get(PAGE).text
    note = Note(at / "small.toml", "choose")
    note.say("3 of 60 designs tried, 1 pass")
    assert "3 of 60 designs tried" in desk.get(PAGE).text
    assert not note.stopped()
    assert desk.post(PAGE, data={"do": "stop"}, follow_redirects=False).status_code == 303
    assert note.stopped()
    note.clear()
    assert not note.stopped()
    assert note.said() == ""


def test_of_several_shelves_one_is_named(desk: TestClient, at: Path) -> None:
    """A second shelf far above the first: the search is of the one that was asked for."""
    text = TEXT[TEXT.index("[[shelf]]") :]
    name = re.search(r'id = "([^"]+)"', text)
    assert name is not None
    second = re.sub(r'id = "[^"]+"', 'id = "upper"', text, count=1)
    second = re.sub(r"(?m)^top = .*$", 'top = "78"', second, count=1)
    end = second.find("\n[shop]")
    both = TEXT + "\n" + (second[:end] if end > 0 else second)
    assert read(both, "small.toml", PRICES).job is not None, read(
        both, "small.toml", PRICES
    ).findings
    (at / "small.toml").write_text(both, encoding="utf-8")
    page = desk.get(PAGE).text
    assert "<option>upper</option>" in page
    desk.post(PAGE, data={"do": "look", "shelf": "upper"})
    twin = desk.get(f"{PAGE}?format=json&shelf=upper").json()
    assert twin["shelf"] == "upper"
    assert twin["choices"] is not None
    assert all("shelf.upper" in e["path"] for c in twin["choices"]["front"] for e in c["edits"])
    assert desk.get(f"{PAGE}?format=json").json()["choices"] is None
