"""A job begins from the questions, from an example, or from a file; what cannot be read is told and not written.

Against: the reading of the job file, which knows nothing of the questions; the answers are scenes of our own.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from ledgewright.desk.questions import ALIKE, PARTS
from ledgewright.job import Job, files
from tests.desk.made import browser, folder
from tests.jobs import ALL, EXAMPLES

STRAIGHT = {
    "q:file": "hall",
    "q:name": "Hall shelf",
    "q:units": "in",
    "q:form": "straight",
    "q:top": "60",
    "q:left": "96",
    "q:from": "14",
    "q:to": "80",
    "q:depth": "10",
    "q:thick": "2",
    "q:even": "20 lb/ft",
    "q:framing": "wood",
    "q:stud_of": "spf 2x6",
    "q:depth_to_wood": "1/2",
    "q:bearing": "no",
    "q:services": "none, looked",
    "q:how": "opened it",
    "q:studs": "15 1/4, 16 3/4\n31 1/4, 32 3/4\n47 1/4, 48 3/4\n63 1/4, 64 3/4",
    "q:stock": "round 5/8 1018",
    "q:hole": "3/4",
    "q:embedment": "4",
    "q:projection": "7",
    "q:adhesive": "epoxy thickened",
    "q:lock": "grub screw",
    "q:skins": "birch ply 12",
    "q:core": "poplar",
    "q:edging": "ash",
    "q:edging_thick": "3/8",
    "q:hollow": "40, 1/8",
}
CORNER = {
    **STRAIGHT,
    "q:form": "round an inside corner",
    "q:right": "72",
    "q:to_right": "60",
    "q:studs_right": "13 1/4, 14 3/4\n29 1/4, 30 3/4",
    "q:tape_a": "36",
    "q:tape_b": "48",
    "q:tape_c": "60",
}
ALCOVE = {**STRAIGHT, "q:form": "in an alcove", "q:from": "0", "q:to": "96"}
KNOWS_LITTLE = {
    "q:stud_of": "don't know",
    "q:framing": "don't know",
    "q:depth_to_wood": "don't know",
    "q:bearing": "don't know",
    "q:services": "don't know",
    "q:how": "don't know",
    "q:studs": "don't know",
    "q:studs_right": "don't know",
    "q:even": "don't know",
    "q:hollow": "",
    "q:tape_c": "don't know",
}


@pytest.fixture
def client(tmp_path: Path) -> TestClient:
    return browser(tmp_path)


def made(at: Path, name: str = "hall") -> Job:
    read = files.load(at / f"{name}.toml")
    assert read.job is not None, read.findings
    return read.job


@pytest.mark.parametrize(
    "answers", [STRAIGHT, CORNER, ALCOVE], ids=["straight", "corner", "alcove"]
)
@pytest.mark.parametrize("little", [False, True], ids=["knows", "does not know"])
def test_answers_make_a_job_that_can_be_read(
    client: TestClient, tmp_path: Path, answers: dict[str, str], *, little: bool
) -> None:
    sent = answers | KNOWS_LITTLE if little else answers
    got = client.post("/new", data=sent, follow_redirects=False)
    assert got.status_code == 303, got.text[:3000]
    job = made(tmp_path)
    assert job.meta.name == "Hall shelf"
    assert job.shelves[0].top == pytest.approx(60 * 25.4)
    assert job.shelves[0].thick == pytest.approx(2 * 25.4)
    if little:
        assert len(job.open_items) >= 3
        assert job.shelves[0].rods == ()
    else:
        assert len(job.shelves[0].rods) == (6 if answers is CORNER else 4)
    assert client.get("/job/hall/walls").status_code == 200


METRIC = STRAIGHT | {
    "q:units": "mm",
    "q:top": "1400",
    "q:left": "2400",
    "q:from": "100",
    "q:to": "1900",
    "q:depth": "285",
    "q:thick": "45",
    "q:studs": "150, 188\n550, 588\n950, 988",
    "q:depth_to_wood": "12",
    "q:hole": "20",
    "q:embedment": "100",
    "q:projection": "200",
    "q:edging_thick": "10",
    "q:hollow": "",
}


@pytest.mark.parametrize(
    "studs",
    [
        '["15 1/4", "16 3/4"]\n["31 1/4", "32 3/4"], ["47 1/4", "48 3/4"]\n[63 1/4, 64 3/4]',
        '[["15 1/4", "16 3/4"], ["31 1/4", "32 3/4"], ["47 1/4", "48 3/4"], ["63 1/4", "64 3/4"]]',
        '15 1/4", 16 3/4"\n31 1/4; 32 3/4\n47 1/4, 48 3/4\n63 1/4, 64 3/4',
    ],
)
def test_studs_go_in_as_the_job_file_writes_them_too(
    client: TestClient, tmp_path: Path, studs: str
) -> None:
    """What a refusal shows as right is taken."""
    sent = client.post(
        "/new",
        data={**STRAIGHT, "q:studs": studs, "q:hollow": '["40", "1/8"]'},
        follow_redirects=False,
    )
    assert sent.status_code == 303
    edges = [(m.left / 25.4, m.right / 25.4) for m in made(tmp_path).tapes.walls[0].members]
    wanted = [(15.25, 16.75), (31.25, 32.75), (47.25, 48.75), (63.25, 64.75)]
    assert edges == [pytest.approx(pair) for pair in wanted]


@pytest.mark.parametrize("same", [True, False])
def test_what_was_seen_behind_one_wall_is_not_known_of_the_other(
    client: TestClient, tmp_path: Path, *, same: bool
) -> None:
    """Nobody may drill a wall that nobody has looked into."""
    more = {"q:how_right": ALIKE} if same else {}
    assert client.post("/new", data=CORNER | more, follow_redirects=False).status_code == 303
    left, right = (wall.known for wall in made(tmp_path).tapes.walls)
    assert (left.how, left.bearing) == ("opened it", "no")
    assert (right == left) == same
    assert same or right.how not in ("opened it", "framed it", "probed it")


@pytest.mark.parametrize(
    ("answers", "out", "size"),
    [
        (STRAIGHT, 5, [10, 10]),
        (CORNER, 5, [10, 10]),
        (STRAIGHT | {"q:depth": "6", "q:projection": "4"}, 3, [10, 6]),
        (STRAIGHT | {"q:depth": "16 5/16", "q:edging_thick": "6"}, "10 5/16", [10, 10]),
        (METRIC | {"q:thing_at": "800"}, 160, [250, 250]),
    ],
    ids=["straight", "corner", "shallow", "wide edging", "metric"],
)
def test_a_heaviest_thing_stands_as_near_the_front_as_it_may(
    client: TestClient, tmp_path: Path, answers: dict[str, str], out: object, size: list[object]
) -> None:
    """Nobody is asked how far from the wall it stands: flush with the front, its middle not over the edging."""
    thing = {"q:thing": "clock", "q:thing_weight": "12 kg", "q:thing_at": "30"}
    got = client.post("/new", data=thing | answers, follow_redirects=False)
    assert got.status_code == 303, got.text[:3000]
    clock = tomllib.loads((tmp_path / "hall.toml").read_text("utf-8"))["shelf"][0]["load"][-1]
    assert (clock["out"], clock["size"]) == (out, size)


def test_wrong_answers_are_told_where_they_stand_and_kept(
    client: TestClient, tmp_path: Path
) -> None:
    got = client.post("/new", data={**STRAIGHT, "q:depth": "ten", "q:stock": "round 9/8"})
    assert got.status_code == 422
    assert not (tmp_path / "hall.toml").exists()
    for name, typed in (("q:depth", "ten"), ("q:stock", "round 9/8")):
        field = got.text[got.text.index(f'name="{name}"') :]
        assert f'value="{typed}"' in field[:200]
        assert "wrong" in field[: field.index('<div class="field')]


def test_every_question_is_asked_and_twinned(client: TestClient) -> None:
    page, twin = client.get("/new").text, client.get("/new?format=json").json()
    names = [q.cell.name for part in PARTS for q in part.questions]
    assert [q["name"] for q in twin["questions"]] == names
    assert all(f'name="{name}"' in page for name in names)


@pytest.mark.parametrize("name", ["", "../up", ".hidden", "a/b", "CON\x00", "x" * 200, "-flag"])
def test_a_name_that_is_none_is_refused(client: TestClient, tmp_path: Path, name: str) -> None:
    got = client.post("/new", data={"example": ALL[0], "file": name})
    assert got.status_code == 422
    assert list(tmp_path.glob("*.toml")) == []


def test_an_example_begins_a_job_once(client: TestClient, tmp_path: Path) -> None:
    for expected in (303, 422):
        got = client.post(
            "/new", data={"example": "stoneware-corner", "file": "mine"}, follow_redirects=False
        )
        assert got.status_code == expected
    assert (tmp_path / "mine.toml").read_bytes() == (
        EXAMPLES / "stoneware-corner.toml"
    ).read_bytes()
    assert (tmp_path / "prices-usd.toml").exists()
    assert "Stoneware corner" in client.get("/").text


def test_a_file_goes_in_and_comes_out_the_same(client: TestClient, tmp_path: Path) -> None:
    data = (EXAMPLES / "record-wall.toml").read_bytes()
    sent = {"job": ("record wall.toml", data, "application/toml")}
    got = client.post("/import", files=sent, follow_redirects=False)
    assert got.status_code == 303
    out = client.get("/job/record wall/file/record wall.toml")
    assert out.content == data
    assert client.post("/import", files=sent, follow_redirects=False).status_code == 422
    for wrong in (b"\xff\xfe", b"[[[", b"", b"a" * 2_100_000):
        bad = client.post("/import", files={"job": ("bad.toml", wrong, "text/plain")})
        assert bad.status_code in (413, 422)
    assert sorted(p.name for p in tmp_path.glob("*.toml")) == ["record wall.toml"]


def test_jobs_are_listed_and_price_files_are_not(tmp_path: Path) -> None:
    client = browser(folder(tmp_path, *ALL))
    twin = client.get("/?format=json").json()
    assert {job["name"] for job in twin["jobs"]} == set(ALL)


NICHE = ALCOVE | {
    "q:tape_a": "12",
    "q:tape_b": "36",
    "q:tape_c": "37 61/64",
    "q:cheek_left": "26",
    "q:cheek_right": "don't know",
}


def test_an_alcove_keeps_the_taped_corner_and_says_what_nobody_taped(
    client: TestClient, tmp_path: Path
) -> None:
    """An independent look: 12, 36 and 37 61/64 are no square corner (sqrt(12^2 + 36^2) is 37 15/16 and less)."""
    assert client.post("/new", data=NICHE, follow_redirects=False).status_code == 303
    job = made(tmp_path)
    walls = {wall.id: wall for wall in job.tapes.walls}
    assert list(walls) == ["left cheek", "back", "right cheek"]
    left, right = job.tapes.corners
    assert (left.left, left.right) == ("left cheek", "back")
    (told,) = left.taped
    assert told == pytest.approx((12 * 25.4, 36 * 25.4, (37 + 61 / 64) * 25.4))
    assert left.angle is None
    assert (right.left, right.right, right.taped, right.angle) == ("back", "right cheek", (), None)
    assert walls["left cheek"].length == pytest.approx(26 * 25.4)
    # As much as the shelf is deep, and said twice: taken, and open.
    assert walls["right cheek"].length == pytest.approx(10 * 25.4)
    for said in ({each.path for each in job.open_items}, {each.path for each in job.assumed}):
        assert {"corner[1].angle", "wall[2].length"} <= said
        assert not {"corner[0].angle", "wall[0].length"} & said
    assert {leg.wall for leg in job.shelves[0].legs} == {"back"}


def test_both_corners_of_an_alcove_can_be_taped(client: TestClient, tmp_path: Path) -> None:
    more = {"q:tape_d": "36", "q:tape_e": "12", "q:tape_f": "37 11/16", "q:cheek_right": "14"}
    assert client.post("/new", data=NICHE | more, follow_redirects=False).status_code == 303
    job = made(tmp_path)
    (told,) = job.tapes.corners[1].taped
    assert told == pytest.approx((36 * 25.4, 12 * 25.4, (37 + 11 / 16) * 25.4))
    assert not [each for each in job.open_items if each.path.startswith(("corner", "wall[2].len"))]


def test_what_is_wrong_of_an_alcove_is_told_at_its_own_question(client: TestClient) -> None:
    """The back wall answers the questions of the wall it hangs on; each cheek and corner its own."""
    bad = {"q:left": "seven", "q:cheek_right": "-3", "q:depth_to_wood": "deep", "q:tape_f": "99"}
    tapes = {"q:tape_d": "36", "q:tape_e": "12"}
    got = client.post("/new?format=json", data=NICHE | bad | tapes)
    assert got.status_code == 422
    told = {q["name"]: q["wrong"] for q in got.json()["questions"]}
    for name in bad:
        asked = "q:tape_d" if name == "q:tape_f" else name
        assert told[asked], name
    assert got.json()["wrong"] == []
