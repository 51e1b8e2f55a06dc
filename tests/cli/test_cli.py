"""The command line: exit codes, schemas, and bad input that never ends in a traceback."""

from __future__ import annotations

import io
import json
import os
import re
import signal
import time
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from click.testing import CliRunner, Result

from ledgewright import plan
from ledgewright.cli import _hand, main
from ledgewright.job import Job
from ledgewright.memo import Memo
from ledgewright.sheets.schemas import SCHEMAS
from tests import jobs
from tests.jobs import EXAMPLES, FIRST_TRIES, NAMES
from tests.terminal import interrupted

ALCOVE = (EXAMPLES / "reading-alcove.toml").read_text(encoding="utf-8")
CORNER = (EXAMPLES / "stoneware-corner-first-try.toml").read_text(encoding="utf-8")


def run(*arguments: str) -> Result:
    result = CliRunner().invoke(main, arguments)
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result


def valid(document: Any, schema: str) -> None:
    jsonschema.validate(document, SCHEMAS[schema](), cls=jsonschema.Draft202012Validator)


@pytest.fixture
def worked(monkeypatch: pytest.MonkeyPatch, one_memo: None) -> None:  # before it
    """Examples that other tests of this run work through as well are worked through once; the alcove each time."""
    known = {jobs.job(name): name for name in jobs.ALL if name != "reading-alcove"}
    real = plan.full

    def full(job: Job, _: Memo, *, limits: bool = True, ranges: bool = False) -> plan.Plan:
        if limits and job in known:
            return jobs.plan(known[job])
        return real(job, Memo(), limits=limits)

    monkeypatch.setattr("ledgewright.plan.full", full)


@pytest.mark.usefixtures("worked")
@pytest.mark.parametrize(
    ("verb", "name"),
    [*((verb, name) for verb in ("check", "fit") for name in NAMES), ("site", "reading-alcove")],
)
def test_answers_keep_to_their_published_schema(verb: str, name: str) -> None:
    result = run(verb, str(EXAMPLES / f"{name}.toml"), "--json")
    document = json.loads(result.stdout)
    valid(document, verb)
    published = json.loads(run("schema", verb).stdout)
    jsonschema.Draft202012Validator.check_schema(published)
    jsonschema.validate(document, published)


@pytest.mark.usefixtures("worked")
@pytest.mark.parametrize("name", [*NAMES, *FIRST_TRIES])
def test_exit_zero_where_it_holds_and_one_where_it_does_not(name: str) -> None:
    result = run("check", str(EXAMPLES / f"{name}.toml"))
    assert result.exit_code == (name in FIRST_TRIES)
    assert "not a" not in result.stderr
    assert "front drop" in result.stdout
    # A load limit stands where it holds; where it does not, why there is none.
    told = result.stdout.replace("maximum safe load", "load limit")  # the British word for it
    assert ("load limit   none given" in told) == (name in FIRST_TRIES)
    assert ("on every length" in result.stdout) == (name in NAMES)


@pytest.mark.usefixtures("one_memo")
def test_exit_zero_when_it_goes_on_and_one_when_it_does_not(tmp_path: Path) -> None:
    assert run("fit", str(EXAMPLES / "stoneware-corner-first-try.toml")).exit_code == 0
    blocked = tmp_path / "blocked.toml"
    pillar = CORNER.replace(
        "[[shelf]]\n",
        '[[obstacle]]\nid = "pillar"\nwall = "A"\nalong = ["71", "75"]\nout = [0, "20"]\nup = [0, "96"]\n\n'
        '[[obstacle]]\nid = "post"\nwall = "B"\nalong = ["51", "55"]\nout = [0, "20"]\nup = [0, "96"]\n\n'
        "[[shelf]]\n",
        1,
    )
    blocked.write_text(pillar.replace('prices = "prices-usd.toml"\n', ""), encoding="utf-8")
    result = run("fit", str(blocked), "--json")
    assert result.exit_code == 1
    document = json.loads(result.stdout)
    valid(document, "fit")
    assert document["shelves"][0]["possible"] is False
    assert {block["by"] for block in document["shelves"][0]["blocked"]} <= {
        "pillar",
        "post",
        "window casing",
        "sill horn",
        "door casing",
    }


def test_scribe_exits_one_where_a_bow_is_over_the_allowance(tmp_path: Path) -> None:
    """The alcove's back bows by 4.5 mm (its own gaps: 20.0 to 24.5)."""
    tight = ALCOVE.replace('back = "caulk"', 'back = "tight"')
    tight = re.sub(r"^(back_gap|prices) = .*\n", "", tight, flags=re.MULTILINE)
    job = tmp_path / "narrow.toml"
    narrow = re.sub(r"scribe_allowance = \S+", "scribe_allowance = 4", tight)
    assert narrow != tight
    job.write_text(narrow, encoding="utf-8")
    result = run("scribe", str(job), "--json")
    assert result.exit_code == 1
    document = json.loads(result.stdout)
    valid(document, "scribe")
    told = " ".join(document["shelves"][0]["allowance"]["text"])
    assert "bows by 4.5 mm" in told
    assert "shelf.reading.scribe_allowance = 8" in told  # 4.5 and 3.175, up to the half
    edit = document["shelves"][0]["allowance"]["edit"]
    assert edit == {"path": "shelf.reading.scribe_allowance", "text": "8"}


BAD = {
    "an unknown key": ('depth = "10 1/2"', 'depht = "10 1/2"'),
    "nan": ('depth = "10 1/2"', "depth = nan"),
    "an infinite number": ('depth = "10 1/2"', "depth = inf"),
    "1e300": ('depth = "10 1/2"', "depth = 1e300"),
    "a negative": ('embedment = "3 1/8"', 'embedment = "-3 1/8"'),
    "a rod longer than the shelf is deep": ('projection = "8 1/4"', 'projection = "11"'),
    "studs that overlap": ('["30 13/16", "32 5/16"]', '["15", "17"]'),
    "studs out of order": ('["46 9/16", "48 1/8"]', '["48 1/8", "46 9/16"]'),
    "a place between members": ('"A 31 9/16", "A 47', '"A 25", "A 47'),
    "walls that do not meet": ('walls = ["A", "B"]', 'walls = ["A", "C"]'),
    "an improper fraction": ('depth = "10 1/2"', 'depth = "10 9/8"'),
    "a triangle that cannot close": ('"36", "60 9/16"]', '"36", "90"]'),
    "an adhesive that is not for rods": (
        'adhesive = "epoxy thickened"',
        'adhesive = "epoxy 5 min"',
    ),
    "steel nobody stocks": ("round 5/8 1018", "round 5/9 1018"),
    "not TOML": ('depth = "10 1/2"', "depth = = 3"),
    "a newer format": ("format = 1", "format = 99"),
    "no format": ("format = 1\n", ""),
}


@pytest.mark.parametrize("name", BAD)
@pytest.mark.parametrize("verb", ["check", "fit"])
def test_bad_input_is_told_with_place_value_and_remedy(
    verb: str, name: str, tmp_path: Path
) -> None:
    old, new = BAD[name]
    assert old in CORNER
    job = tmp_path / "bad.toml"
    job.write_text(CORNER.replace(old, new, 1), encoding="utf-8")
    (tmp_path / "prices-usd.toml").write_bytes((EXAMPLES / "prices-usd.toml").read_bytes())
    before = job.read_bytes()
    said = run(verb, str(job))
    assert said.exit_code == 2
    assert said.stdout == ""
    assert "Traceback" not in said.stderr
    assert "bad.toml" in said.stderr
    result = run(verb, str(job), "--json")
    assert result.exit_code == 2
    document = json.loads(result.stdout)
    valid(document, "bad-input")
    assert document["verdict"] == "bad input"
    assert any(f["level"] in ("refuse", "question") for f in document["findings"])
    assert all(f["wrong"] for f in document["findings"])
    assert job.read_bytes() == before


def test_all_faults_are_told_at_once(tmp_path: Path) -> None:
    text = CORNER
    names = ("an unknown key", "a negative", "studs that overlap", "steel nobody stocks")
    for name in names:
        text = text.replace(*BAD[name], 1)
    job = tmp_path / "bad.toml"
    job.write_text(text, encoding="utf-8")
    findings = json.loads(run("check", str(job), "--json").stdout)["findings"]
    lines = {f["line"] for f in findings}
    for name in names:
        changed = BAD[name][1]
        number = next(k for k, line in enumerate(text.splitlines(), 1) if changed in line)
        assert number in lines, name


@pytest.mark.parametrize("verb", ["check", "fit"])
def test_files_that_are_no_job(verb: str, tmp_path: Path) -> None:
    empty = tmp_path / "empty.toml"
    empty.touch()
    noise = tmp_path / "noise.toml"
    noise.write_bytes(os.urandom(4096))
    huge = tmp_path / "huge.toml"
    with huge.open("wb") as out:
        out.truncate(50 * 1024 * 1024)
    for path in (empty, noise, huge, tmp_path, tmp_path / "missing.toml"):
        for flags in ((), ("--json",)):
            result = run(verb, str(path), *flags)
            assert result.exit_code == 2, path
            assert "Traceback" not in result.stderr
            if flags:
                valid(json.loads(result.stdout), "bad-input")
            else:
                assert path.name in result.stderr


def test_new_starts_from_an_example_and_never_writes_over(tmp_path: Path) -> None:
    job = tmp_path / "mine.toml"
    assert run("new", str(job), "--example", "stoneware-corner-first-try").exit_code == 0
    assert job.read_text(encoding="utf-8") == CORNER
    assert (tmp_path / "prices-usd.toml").exists()
    job.write_text("mine", encoding="utf-8")
    again = run("new", str(job), "--example", "stoneware-corner-first-try")
    assert again.exit_code == 2
    assert "is there already" in again.stderr
    assert "choose another name" in again.stderr
    assert job.read_text(encoding="utf-8") == "mine"
    assert run("new", str(tmp_path / "x.toml"), "--example", "nothing").exit_code == 2


def test_stock_lists_every_kind_with_sources() -> None:
    kinds = run("stock").stdout.split()
    assert kinds
    for kind in kinds:
        shown = run("stock", kind)
        assert shown.exit_code == 0
        assert "source" in shown.stdout.splitlines()[0]
    assert run("stock", "cheese").exit_code == 2


def test_the_schema_of_the_job_file_is_one(tmp_path: Path) -> None:
    import tomllib

    schema = json.loads(run("schema").stdout)
    jsonschema.Draft202012Validator.check_schema(schema)
    for name in NAMES:
        document = tomllib.loads((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"))
        jsonschema.validate(json.loads(json.dumps(document, default=str)), schema)
    assert run("schema", "nothing").exit_code == 2


@pytest.mark.parametrize("verb", ["new", "check", "fit", "packet", "site", "stock", "schema"])
def test_every_verb_has_help_with_an_example(verb: str) -> None:
    result = run(verb, "--help")
    assert result.exit_code == 0
    assert f"ledgewright {verb}" in result.stdout


@pytest.mark.usefixtures("one_memo")
def test_site_tells_what_is_known_and_prints_its_sheets_once(tmp_path: Path) -> None:
    sheets = tmp_path / "site.pdf"
    result = run("site", str(EXAMPLES / "reading-alcove.toml"), "-o", str(sheets))
    assert result.exit_code == 0
    assert (
        "3 figures more than needed" in result.stdout
    )  # six tapes for three unknowns: the mouth at three depths
    assert "detect, isolate, pilot" in result.stdout
    assert sheets.read_bytes().startswith(b"%PDF")
    again = run("site", str(EXAMPLES / "reading-alcove.toml"), "-o", str(sheets))
    assert again.exit_code == 2
    assert "is there already" in again.stderr


def test_the_blank_questions_need_no_job(tmp_path: Path) -> None:
    for units in ("in", "mm"):
        made = tmp_path / f"{units}.pdf"
        assert run("site", "--blank", str(made), "--units", units).exit_code == 0
        assert made.read_bytes().startswith(b"%PDF")
    assert run("site").exit_code == 2


@pytest.mark.parametrize("verb", ["check", "site"])
def test_a_slip_that_turns_a_corner_is_asked_for_again_before_anything_is_laid_out(
    verb: str, tmp_path: Path
) -> None:
    # 10 mm in one diagonal of an alcove 285 deep is atan(10 / 285), two degrees. The mouth's tapes show it; which of
    # the diagonals it is they cannot, since widths turn both alike.
    (found,) = refused(verb, ALCOVE.replace("1218.5", "1228.5"), tmp_path)["findings"]
    assert found["path"] == "corner[0].taped"
    assert (
        "corner of walls A (cheek) and B (back) and triangle 1 at the corner of walls B (back) and C (return)"
        in found["wrong"]
    )
    assert "take both again" in found["wrong"]
    assert "1228.5" in found["value"]


@pytest.mark.parametrize(
    ("arguments", "asked"),
    [(("check",), False), (("check", "--ranges"), True), (("packet",), True), (("fit",), False)],
)
def test_ranges_are_worked_out_where_they_are_asked_for_and_for_the_packet(
    arguments: tuple[str, ...], asked: bool, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    found: list[bool] = []

    def full(job: Job, _: Memo, *, limits: bool = True, ranges: bool = False) -> plan.Plan:
        found.append(ranges)
        raise plan.CannotLayError((("shelf.reading", "enough"),))

    monkeypatch.setattr("ledgewright.plan.full", full)
    out = ("-o", str(tmp_path / "out")) if arguments[0] == "packet" else ()
    assert run(*arguments, str(EXAMPLES / "reading-alcove.toml"), *out).exit_code == 2
    assert found == [asked]


@pytest.mark.usefixtures("worked")
def test_a_packet_that_cannot_be_written_is_said_plainly(tmp_path: Path) -> None:
    taken = tmp_path / "taken"
    taken.write_text("a file, not a folder", encoding="utf-8")
    result = run("packet", str(EXAMPLES / "reading-alcove.toml"), "-o", str(taken))
    assert result.exit_code == 2
    assert "Traceback" not in result.stderr
    assert taken.read_text(encoding="utf-8") == "a file, not a folder"


@pytest.mark.parametrize("verb", ["check", "fit"])
def test_a_pipe_at_the_shelf_s_home_is_a_finding_with_its_line(verb: str, tmp_path: Path) -> None:
    pipe = '[[obstacle]]\nid = "pipe"\nwall = "A"\nalong = ["50", "52"]\nout = [0, "2"]\nup = [0, "96"]\n\n'
    text = CORNER.replace("[[shelf]]\n", f"{pipe}[[shelf]]\n", 1)
    document = refused(verb, text, tmp_path)
    (found,) = document["findings"]
    assert found["code"] == "layout"
    assert found["wrong"] == "The pipe on wall A stands where shelf showroom would be."
    assert found["line"] == text.split("\n").index("[[shelf]]") + 1
    assert found["path"] == "shelf.showroom"


@pytest.mark.parametrize("verb", ["check", "fit"])
def test_rods_that_cross_in_the_corner_are_a_finding(verb: str, tmp_path: Path) -> None:
    # A stud 3 in from the corner on both walls: rods that stick out 8 1/4 and 6 cross there.
    text = CORNER.replace('studs = [["14 11/16"', 'studs = [["2 1/4", "3 3/4"], ["14 11/16"')
    text = text.replace('studs = [["13 7/16"', 'studs = [["2 1/4", "3 3/4"], ["13 7/16"')
    text = text.replace('at = ["A 15 7/16"', 'at = ["A 3", "B 3", "A 15 7/16"')
    (found,) = refused(verb, text, tmp_path)["findings"]
    assert "run into each other" in found["wrong"]
    assert found["line"] is not None


@pytest.mark.parametrize("verb", ["check", "fit"])
def test_a_shelf_that_would_stand_in_a_wall_is_a_finding(verb: str, tmp_path: Path) -> None:
    # The return ends 210 out, and a splayed wall goes on from there, 35 degrees into the alcove.
    text = ALCOVE.replace(
        "length = 352\nline = [[0, 10.0], [95, 9.5], [190, 9.5], [285, 10.0]]",
        "length = 210\nline = [[0, 10.0], [95, 9.5]]",
    )
    text = text.replace("taped = [[1187.0, 285, 1219.5]]", 'angle = "90 deg"')
    text = re.sub(
        r"\[measure\](.*\n)+?\n", "", text
    )  # its marks stand further out than this return
    text = text.replace("[[wall]]", 'sure = ["wall.return.length"]\n\n[[wall]]', 1)
    splay = '[[wall]]\nid = "splay"\ntape_from = "left"\nlength = 400\n\n'
    bend = '[[corner]]\nwalls = ["return", "splay"]\nangle = "145 deg"\n\n'
    text = text.replace("[[corner]]\n", splay + bend + "[[corner]]\n", 1)
    (found,) = refused(verb, text, tmp_path)["findings"]
    assert found["wrong"] == "Shelf reading would stand in wall D (splay)."
    assert found["line"] == text.split("\n").index("[[shelf]]") + 1


def refused(verb: str, text: str, folder: Path) -> Any:
    path = folder / "job.toml"
    path.write_text(re.sub(r"prices = .*\n", "", text), encoding="utf-8")
    result = run(verb, str(path), "--json")
    assert result.exit_code == 2, result.stdout
    document = json.loads(result.stdout)
    valid(document, "bad-input")
    assert run(verb, str(path)).exit_code == 2
    return document


@pytest.mark.usefixtures("one_memo")
@pytest.mark.parametrize("first", ["A", "B"])
def test_a_corner_in_two_sections_is_told_section_by_section(first: str, tmp_path: Path) -> None:
    text = CORNER.replace("sections = 1", "sections = 2").replace(
        'first = "A"', f'first = "{first}"'
    )
    path = tmp_path / "job.toml"
    path.write_text(text.replace('prices = "prices-usd.toml"\n', ""), encoding="utf-8")
    document = json.loads(run("fit", str(path), "--json").stdout)
    valid(document, "fit")
    assert [s["id"] for s in document["shelves"]] == ["showroom.1", "showroom.2"]
    assert all(s["possible"] for s in document["shelves"])
    assert "showroom, section 2 of 2" in run("check", str(path)).stdout


def test_ctrl_c_while_it_is_cut_up_gives_the_best_so_far() -> None:
    """A true signal to a true process, sent when it says on a terminal that it has begun with the boards."""
    job = str(EXAMPLES / "stoneware-corner.toml")
    ran = interrupted("cut", job, once=b"strips out of boards")
    assert b"the best found so far follows" in ran.said
    assert b"Traceback" not in ran.said
    assert ran.code == 0
    text = ran.answer.decode()
    assert "To buy" in text
    assert "may do" in text or "within" in text


class Screen(io.RawIOBase):
    """A terminal at which somebody presses Ctrl-C while something is being written on it."""

    def __init__(self, to: int) -> None:
        self.to = to

    def writable(self) -> bool:
        return True

    def fileno(self) -> int:
        return self.to

    def write(self, said: Any, /) -> int:
        os.kill(os.getpid(), signal.SIGINT)
        time.sleep(0.01)
        return os.write(self.to, said)


def test_ctrl_c_while_progress_is_being_written_loses_nothing(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """signal(7), io of the standard library: a handler runs amid a write; a buffered writer refuses a second one."""
    screen, its_end = os.pipe()
    stderr = io.TextIOWrapper(io.BufferedWriter(Screen(its_end)), write_through=True)
    with _hand() as stopped:
        monkeypatch.setattr("sys.stderr", stderr)
        stderr.write("3 of 40\r")
        stderr.flush()
        assert stopped()
    monkeypatch.undo()
    said = os.read(screen, 4096)
    os.close(screen)
    assert b"the best found so far follows" in said
    assert b"3 of 40" in said


def test_advice_of_the_command_line_is_of_what_is_wrong(tmp_path: Path) -> None:
    """A folder that is not there, a file in a packet's place, a name without quotes (rule of the project)."""
    gone = tmp_path / "nofolder" / "k.toml"
    told = run("new", str(gone), "--example", "reading-alcove")
    assert told.exit_code == 2
    assert "there is no folder" in told.stderr
    assert "space and rights" not in told.stderr
    listed = run("new", str(tmp_path / "k.toml"))
    assert listed.exit_code == 2
    assert all(name in listed.stderr for name in NAMES)
    file = tmp_path / "packet"
    file.write_text("", encoding="utf-8")
    packed = run("packet", str(EXAMPLES / "reading-alcove.toml"), "-o", str(file))
    assert packed.exit_code == 2
    assert "is a file, and a packet is a folder" in packed.stderr
    split = run("check", "My", "shelf.toml")
    assert split.exit_code == 2
    assert 'stands in quotes: "My shelf.toml"' in split.stderr
