"""What the desk must not write over, or leave out."""

from __future__ import annotations

from pathlib import Path

from ledgewright.desk.changes import Hand, _behind, _clashes
from ledgewright.desk.journal import Journal
from ledgewright.desk.onsite import added
from ledgewright.job import Edit
from tests.jobs import EXAMPLES

AGAINST = (
    "mutants of the code that no test had held: each test here fails on one",
    "by hand from standards, statics, geometry and the rules of the project, as each says",
    "as each says",
)


def test_a_change_made_on_a_text_that_was_never_shown_here_is_a_conflict(tmp_path: Path) -> None:
    """Rule of the project: never over what somebody else changed; of an unknown page nobody can say what it saw."""
    path = tmp_path / "job.toml"
    path.write_bytes((EXAMPLES / "reading-alcove.toml").read_bytes())
    before = path.read_bytes()
    hand = Hand(path, Journal(tmp_path / ".ledgewright" / "job"))
    hand.text()
    for base in ("", "sha256:" + "0" * 64):
        found = hand.change(base, [Edit("job.name", '"Another"')], "a name")
        assert found.kind == "conflict"
        assert [clash.path for clash in found.clashes] == ["job.name"]
        assert path.read_bytes() == before


def test_a_weight_without_its_place_is_written_and_asked_back() -> None:
    """Rule of the project: what stood there is never left out of the record; a place that was not read is."""
    name = "n:step reading"
    posted = {"add": "step reading", f"{name}:wait": "10 min", f"{name}:with": "gauge"}
    posted |= {f"{name}:put:0:{k}": text for k, text in enumerate(("20 kg", "", ""))}
    posted |= {f"{name}:read:0:{k}": text for k, text in enumerate(("back 300", ""))}
    edit = added(posted, {"shelf": [{"id": "reading"}], "site": {}})
    assert edit is not None
    assert edit.text is not None
    assert "20 kg" in edit.text
    assert "back 300" not in edit.text


def test_of_several_shelves_a_step_says_which_it_was() -> None:
    """docs/job-file.md: with one shelf the step needs no name; with more its places might be on either."""
    for shelves, told in ((("a",), False), (("a", "b"), True)):
        name = "n:step a"
        posted = {"add": "step a", f"{name}:wait": "10 min", f"{name}:with": "gauge"}
        edit = added(posted, {"shelf": [{"id": each} for each in shelves], "site": {}})
        assert edit is not None
        assert ('shelf = "a"' in (edit.text or "")) == told


def test_a_new_entry_goes_behind_those_of_others_only_where_nothing_else_speaks_of_it() -> None:
    """Rule of `_behind`: behind what was added; not where entries changed, nor where its number is named."""
    new = Edit("a[1]", "3")
    assert _behind("a = [1]", "a = [1, 2]", [new]) == ([], [Edit("a[2]", "3")])
    # Somebody changed the first entry as well: the page did not see that.
    assert _behind("a = [1]", "a = [9, 2]", [new]) == ([new], [])
    # The same post names it by its number, as those do who stand by an odd figure.
    by_number = Edit("sure", '["a[1].wall[0]"]')
    assert _behind("a = [1]", "a = [1, 2]", [new, by_number]) == ([new, by_number], [])
    assert _clashes("a = [1]", "a = [1, 2]", [new, by_number]) != ()
