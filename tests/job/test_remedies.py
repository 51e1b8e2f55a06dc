"""What a person is told to do: two of a kind, figures nobody has, holes that leave no wood, names nobody stocks."""

from __future__ import annotations

import re

import pytest

from ledgewright.job import Finding, Job
from ledgewright.job.reading import read
from tests.jobs import EXAMPLES

CORNER = re.sub(
    r"prices = .*\n", "", (EXAMPLES / "stoneware-corner-first-try.toml").read_text(encoding="utf-8")
)


def changed(pattern: str, new: str, count: int = 1) -> str:
    text, done = re.subn(pattern, new, CORNER, count=count, flags=re.MULTILINE)
    assert done
    return text


def refused(text: str) -> tuple[Finding, ...]:
    found = read(text, "job.toml")
    assert found.job is None
    return found.findings


def job_of(text: str) -> Job:
    found = read(text, "job.toml")
    assert found.job is not None, found.findings
    return found.job


@pytest.mark.parametrize(
    ("pattern", "new", "key"),
    [
        (r'^depth = "10 1/2"$', 'depth = "10 1/2"\ntop = "50"', 'top = "54 3/8"'),
        (r"^kerf = ", "people = 2\nkerf = ", "people = 2"),
        (r"^\[shop\]$", "[job]", "[job]"),
    ],
)
def test_two_of_a_key_or_table_are_told_with_both_lines(pattern: str, new: str, key: str) -> None:
    text = changed(pattern, new)
    (found,) = refused(text)
    lines = [
        n
        for n, line in enumerate(text.split("\n"), 1)
        if line.split(" =")[0] == key.split(" =", maxsplit=1)[0]
    ]
    assert len(lines) == 2
    assert found.line == lines[1]
    assert f"in line {lines[0]} and here" in found.wrong
    assert "take the other out" in found.right


def test_the_same_key_in_another_table_is_not_the_first_of_two() -> None:
    # "id" stands in every wall; only the one in the same table counts.
    text = changed(r'^id = "B"$', 'id = "B"\nid = "C"')
    (found,) = refused(text)
    first = text.split("\n").index('id = "B"') + 1
    assert (found.line, f"in line {first} and here" in found.wrong) == (first + 1, True)


@pytest.mark.parametrize("word", ["unknown", "don't know", "?"])
def test_a_wall_nobody_has_looked_into_may_be_written_so(word: str) -> None:
    job = job_of(changed(r"^known = .*$", f'known = "{word}"', count=2))
    for wall in job.tapes.walls:
        assert (wall.known.how, wall.known.bearing, wall.known.services) == (
            "unknown",
            "unknown",
            None,
        )
    told = {item.path for item in job.open_items}
    assert {"wall.A.known.how", "wall.A.known.bearing", "wall.A.known.services"} <= told


@pytest.mark.parametrize("word", ["unknown", "don't know", "Don’t know", "?", "not known", " "])
def test_not_knowing_the_services_is_never_taken_for_knowing(word: str) -> None:
    job = job_of(changed(r'services = "[^"]*"', f'services = "{word}"', count=2))
    assert all(wall.known.services is None for wall in job.tapes.walls)


def test_a_lining_or_line_nobody_knows_is_open_not_refused() -> None:
    text = changed(r"^lining = .*$", 'lining = "don\'t know"', count=2)
    assert all(wall.lining == () for wall in job_of(text).tapes.walls)
    job = job_of(changed(r"^line = .*$", 'line = "unknown"', count=2))
    assert "wall.A.line" in {item.path for item in job.open_items}
    deep = re.sub(r"depth_to_wood = .*\n", "", text)
    assert "wall.A.depth_to_wood" in {item.path for item in job_of(deep).open_items}


@pytest.mark.parametrize(
    ("pattern", "new", "path", "remedy"),
    [
        (r"^studs = .*$", 'studs = "unknown"', "wall.A.studs", "find both edges of each stud"),
        (r"^edging = .*$", 'edging = "?"', "shelf.showroom.edging", "find it out and write it"),
        (r"on = 2026-11-12", 'on = "unknown"', "wall.A.known.on", "leave it out"),
    ],
)
def test_what_must_be_known_says_what_to_do(pattern: str, new: str, path: str, remedy: str) -> None:
    (found,) = [f for f in refused(changed(pattern, new)) if f.path == path]
    assert 'cannot be "don\'t know"' in found.wrong
    assert found.right.startswith(remedy)
    assert found.line is not None


def test_a_hole_as_wide_as_its_stud_is_refused_with_what_would_be_right() -> None:
    # The studs of the scene are 1 1/2 in wide; 5/8 and 1/8 over make 3/4 (common practice).
    for hole in ("1 9/16", "2"):
        found = refused(changed(r'^hole = "3/4"$', f'hole = "{hole}"'))
        (told,) = {(f.path, f.wrong, f.right) for f in found}
        assert told[0] == "shelf.showroom.rods.hole"
        assert 'which is 1 1/2"' in told[1]
        assert told[2] == 'hole = "3/4" is common round a round 5/8 1018'
    assert job_of(changed(r'^hole = "3/4"$', 'hole = "7/8"'))


@pytest.mark.parametrize(
    ("pattern", "new", "path", "near"),
    [
        (r'of = "poplar"', 'of = "poplr"', "shelf.showroom.core.of", '"poplar"'),
        (r'of = "white oak"', 'of = "white oaak"', "shelf.showroom.edging.of", '"white oak"'),
        (
            r'kind = "hardwax oil"',
            'kind = "hardwax oyl"',
            "shelf.showroom.finish.kind",
            '"hardwax oil"',
        ),
    ],
)
def test_a_lumber_or_finish_nobody_stocks_is_told_with_the_nearest(
    pattern: str, new: str, path: str, near: str
) -> None:
    text = changed(pattern, new)
    (found,) = refused(text)
    assert found.path == path
    assert found.value in new
    assert found.right.startswith(f"the nearest: {near}")
    assert found.line == next(n for n, line in enumerate(text.split("\n"), 1) if new in line)


@pytest.mark.parametrize(
    ("line", "right"),
    [
        ("length = 25 1/2", 'like "25 1/2"'),
        ("length = 7' 4\"", 'put it in quotes, without the inch mark, like "7\' 4"'),
        ('length = "7\' 4""', 'without the inch mark, like "7\' 4"'),
        ("length = 25,5", "write 25.5, or a fraction in quotes"),
        ("line = [[0, 1/4], [12,1/8]]", 'like "1/4"'),
        ("line = [[0, 0], [12,1/8]]", 'like "1/8"'),
        ("length = 3/8", 'like "3/8"'),
        ("length = 25½", 'like "25½"'),
        ("length = “25 1/2”", 'like "25 1/2"'),
        ("length = 48 mm # from the door", 'like "48 mm"'),
    ],
)
def test_a_figure_that_lacks_its_quotes_is_told_to_have_them(line: str, right: str) -> None:
    """The commonest slip of all: a fraction written as on the tape (common practice)."""
    text = changed(r"^length = .*$", line)
    (found,) = refused(text)
    assert found.line == text.split("\n").index(line) + 1
    assert right in found.right
    assert found.value == line


@pytest.mark.parametrize("line", ["length = 12\nlength = 1 1/2", "length = [", "length = tall"])
def test_other_slips_of_toml_are_not_taken_for_a_figure(line: str) -> None:
    """Only a number with something behind it lacks quotes (rule of the project: say what is wrong)."""
    (found,) = refused(changed(r"^length = .*$", line))
    assert "plain number" not in found.wrong or "1 1/2" in found.value


GAPS = ((0, "1/4"), (12, "1/4"), (24, "1/4"), (36, "1/4"))


@pytest.mark.parametrize("i", range(4))
@pytest.mark.parametrize(("gap", "odd"), [("2 1/4", True), ("1", False)])
def test_a_gap_unlike_those_beside_it_is_asked(i: int, gap: str, *, odd: bool) -> None:
    """2 1/4 among gaps of 1/4 is a slip of the pencil (common practice); a bow of 3/4 in a foot is only a bad wall."""
    gaps = [(at, gap if k == i else there) for k, (at, there) in enumerate(GAPS)]
    line = ", ".join(f'[{at}, "{there}"]' for at, there in gaps)
    text = changed(r"^line = .*$", f"line = [{line}]")
    asked = [f for f in read(text, "job.toml").findings if f.level == "question"]
    assert [f.path for f in asked] == ([f"wall.A.line[{i}]"] if odd else [])
    sure = re.sub(r"^\[job\]$", f'[job]\nsure = ["wall.A.line[{i}]"]', text, flags=re.MULTILINE)
    assert not [f for f in read(sure, "job.toml").findings if f.level == "question"]


def test_a_string_that_does_not_run_along_the_wall_is_no_slip() -> None:
    """By hand: 1/4, 1 1/2, 2 3/4 and 4 rise evenly."""
    text = changed(
        r"^line = .*$", 'line = [[0, "1/4"], [12, "1 1/2"], [24, "2 3/4"], [36, "3 7/8"]]'
    )
    assert not [f for f in read(text, "job.toml").findings if f.level == "question"]


@pytest.mark.parametrize("lining", [None, ""])
def test_a_depth_to_wood_in_the_other_unit_is_asked(lining: str | None) -> None:
    """16 mm typed in a job of inches, behind 1/2 in board and skim or behind nothing told (common practice)."""
    text = changed(r"^depth_to_wood = .*$", "depth_to_wood = 16")
    if lining is not None:
        text = re.sub(r"^lining = .*\n", lining, text, flags=re.MULTILINE)
    (asked,) = [f for f in read(text, "job.toml").findings if f.level == "question"]
    assert asked.path == "wall.A.depth_to_wood"
    assert '16" to the wood looks odd' in asked.wrong


@pytest.mark.parametrize(
    ("pattern", "new", "right"),
    [
        (r'"oak ply 3/4"', '"1/2 ply"', '"birch ply 1/2"'),
        (r"^adhesive = .*$", 'adhesive = "epoxy"', 'those for rods: "epoxy thickened"'),
        (r"^studs = .*$", "studs = [16, 32]", '["15 1/4", "16 3/4"], or { centre = 16 }'),
        (r"^depth = .*$", 'depth = "88 7"', "or 88 7/8 if the lower half of a fraction was lost"),
    ],
)
def test_what_is_offered_is_what_was_likely_meant(pattern: str, new: str, right: str) -> None:
    """By size and unit first, and nothing that the next reading refuses (rule of the project)."""
    found = refused(changed(pattern, new))
    assert any(right in f.right for f in found), found
    assert all("5 min" not in f.right for f in found)


def test_the_weight_that_is_offered_for_a_load_is_taken_by_the_next_reading() -> None:
    """Each way that stands in quotes is written in its place and read (rule of the project)."""
    pattern = r'^weight = "[^"]*/ft.*$'
    (found,) = refused(changed(pattern, "weight = 20"))
    ways = re.findall(r'"([^"]+)"', found.right)
    assert len(ways) == 4
    for way in ways:
        told = read(changed(pattern, f'weight = "{way}"'), "job.toml").findings
        assert not [f for f in told if f.path == found.path]


def test_legs_that_are_wrong_are_not_said_to_be_too_few() -> None:
    """Two stand there; one has a key that is none (rule of the project)."""
    found = refused(changed(r"^legs = \[\{", "legs = [{ deep = 10, "))
    assert [(f.code, f.path.rsplit(".", 1)[-1]) for f in found] == [("unknown key", "deep")]
