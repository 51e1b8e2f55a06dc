"""What can be moved on a drawing writes what it shows, and the drawing follows.

Against: the job file itself, read by the TOML parser of the standard library and by the reader of lengths; which way is
right on a wall as it is faced, and that a tape hooked on the right counts to the left (facts of the trade).
"""

from __future__ import annotations

import re
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from shapely import box
from shapely.affinity import translate

from ledgewright import units
from ledgewright.desk import forms, stages
from ledgewright.desk.moving import means
from ledgewright.desk.sketches import MOVE, sketched
from ledgewright.job import Job, Thing
from ledgewright.job.reading import read as read_job
from ledgewright.memo import Memo
from ledgewright.plan import sketch
from tests.desk.made import CORNER, Drawn, Shown, browser, folder
from tests.jobs import EXAMPLES, NAMES, job

RECORD = "record-wall"


@cache
def drawings(name: str) -> dict[str, Any]:
    document = tomllib.loads((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"))
    made = sketched(sketch(job(name), Memo()), document)
    return {each["name"]: each for each in made["drawings"]}


def written(text: str) -> dict[str, str]:
    """What each field of every page of forms holds."""
    document = tomllib.loads(text)
    return {
        cell.name: cell.value
        for stage in stages.FORMS
        for form in forms.forms(stage, document)
        for field in form.fields
        for cell in ([field.cell] if field.cell else [c for row in field.rows for c in row])
    }


def length(text: str, of: Job) -> float:
    """The length that a field holds; of a place, the distance in it."""
    for wall in of.tapes.walls:
        text = text.removeprefix(f"{wall.id} ")
    return units.read_length(text, of.meta.units)


@pytest.mark.parametrize("name", NAMES)
def test_each_handle_stands_at_what_its_field_holds(name: str) -> None:
    held = written((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"))
    count = 0
    for drawing in drawings(name).values():
        for handle in drawing["handles"]:
            for axis in handle["axes"]:
                if axis["field"] == MOVE:
                    continue
                assert axis["field"] in held, axis["field"]
                by, text = min(axis["snaps"], key=lambda snap: abs(snap[0]))
                assert by == pytest.approx(0, abs=1e-6)
                assert length(text, job(name)) == pytest.approx(
                    length(held[axis["field"]], job(name)), abs=0.01
                )
                count += 1
    assert count > 10


@pytest.mark.parametrize("name", NAMES)
def test_a_thing_is_dragged_no_further_than_all_of_it_stands_on_its_leg(name: str) -> None:
    """Its outline, moved by every snap, lies within the leg's own rectangle: geometry by shapely."""
    seen = 0
    for design in sketch(job(name), Memo()).designs:
        legs = {leg.wall: box(leg.start, 0.0, leg.end, leg.depth) for leg in design.frame.legs}
        for load in design.demand.loads:
            if not isinstance(load, Thing):
                continue
            half, deep = load.size[0] / 2, load.size[1] / 2
            stands = box(load.along - half, load.out - deep, load.along + half, load.out + deep)
            axes = [
                handle["axes"]
                for drawing in drawings(name).values()
                for handle in drawing["handles"]
                if handle["stage"] == "loads" and handle["label"] == load.id
            ]
            assert axes
            for k, moved in enumerate(axes[0]):
                for by, _ in moved["snaps"]:
                    if abs(by) > 1e-6:
                        there = translate(stands, *((by, 0.0) if k == 0 else (0.0, by)))
                        across = there.difference(legs[load.wall].buffer(0.05))
                        # what stands over an edge already is not held against a move along the other
                        assert across.area <= stands.difference(legs[load.wall]).area + 0.1
                        seen += 1
    assert seen > 10 or name not in (RECORD, CORNER)


@pytest.mark.parametrize("name", NAMES)
def test_handles_of_one_drawing_are_told_apart_by_their_labels(name: str) -> None:
    """Nobody who works by ear would else know which stud's edge is in hand; rule of the project."""
    for drawing in drawings(name).values():
        for stage in stages.FORMS:
            labels = [each["label"] for each in drawing["handles"] if each["stage"] == stage]
            assert len(set(labels)) == len(labels)


@pytest.mark.parametrize("name", NAMES)
def test_to_the_right_is_more_on_a_tape_hooked_left_and_less_on_one_hooked_right(name: str) -> None:
    walls = {wall.id: wall for wall in job(name).tapes.walls}
    seen = 0
    for drawing in drawings(name).values():
        if not drawing["name"].startswith("wall "):
            continue
        wall = walls[drawing["name"].rsplit(" ", 1)[1]]
        for handle in drawing["handles"]:
            if handle["stage"] != "walls":
                continue
            (axis,) = handle["axes"]
            assert axis["course"][0] > 0
            tape = [length(text, job(name)) for _, text in axis["snaps"]]
            by = [by for by, _ in axis["snaps"]]
            assert by == sorted(by)
            assert tape == sorted(tape, reverse=wall.tape_from == "right")
            assert max(by) - min(by) == pytest.approx(max(tape) - min(tape), abs=0.02)
            seen += 1
    assert seen > 2


def test_a_stud_edge_that_is_moved_is_drawn_where_it_was_dropped() -> None:
    """The file with the snapped figure in it is laid out anew: the edge stands one snap further, the other stays."""
    name, wall = "reading-alcove", "wall reading back"
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    handle = next(h for h in drawings(name)[wall]["handles"] if "r:wall.back.studs:1:1" in str(h))
    (axis,) = handle["axes"]
    by, figure = next(snap for snap in axis["snaps"] if snap[0] == pytest.approx(2.0))
    changed = re.sub(r"500\.5", figure, text, count=1)
    assert changed != text
    again = read_job(changed, "alcove.toml").job
    assert again is not None
    made = sketched(sketch(again, Memo()), tomllib.loads(changed))
    drawing = next(each for each in made["drawings"] if each["name"] == wall)
    after = next(h for h in drawing["handles"] if "r:wall.back.studs:1:1" in str(h))
    shift = (after["at"][0] - handle["at"][0]) / axis["course"][0]
    assert shift == pytest.approx(by, abs=0.3)


def test_a_rod_moved_takes_every_place_that_names_it_along(tmp_path: Path) -> None:
    """The corner without its third rod on A: the second goes to that stud; list, lock and all say the new place."""
    folder(tmp_path, CORNER)
    path = tmp_path / f"{CORNER}.toml"
    text = path.read_text(encoding="utf-8").replace('"A 47 11/32", ', "", 1)
    path.write_text(text, encoding="utf-8")
    client = browser(tmp_path, start=Drawn)
    page = Shown(client, f"/job/{CORNER}/rods")
    axes = re.search(r'data-key="showroom\|A\.s2" data-axes=\'([^\']+)\'', page.text)
    assert axes is not None
    assert "A 47 11/32" in axes[1]
    got = page.send({"move": "showroom|A.s2", "to": "A 47 11/32"})
    assert got.status_code == 303, got.text
    after = path.read_text(encoding="utf-8")
    assert "31 9/16" not in re.sub(r"(?m)^#.*$", "", after)
    shelf = tomllib.loads(after)["shelf"][0]
    assert shelf["rods"]["at"][1] == "A 47 11/32"
    assert shelf["lock"]["at"][0] == "A 47 11/32"
    read = read_job(after, "corner.toml").job
    assert read is not None
    assert {r.member for r in read.shelves[0].rods if r.wall == "A"} == {"A.s1", "A.s3", "A.s4"}


def test_a_rod_that_differs_keeps_its_own_figures_when_it_moves(tmp_path: Path) -> None:
    folder(tmp_path, CORNER)
    path = tmp_path / f"{CORNER}.toml"
    text = path.read_text(encoding="utf-8").replace(', "B 46 1/16"]', "]", 1)
    text = re.sub(r'\[\[shelf\.rod\]\]\nat = "B 46 1/16"\nprojection = "6 1/2"\n\n', "", text)
    path.write_text(text, encoding="utf-8")
    client = browser(tmp_path, start=Drawn)
    got = Shown(client, f"/job/{CORNER}/rods").send({"move": "showroom|B.s2", "to": "B 46 1/16"})
    assert got.status_code == 303, got.text
    read = read_job(path.read_text(encoding="utf-8"), "corner.toml").job
    assert read is not None
    assert {r.member: r.projection for r in read.shelves[0].rods if r.wall == "B"} == pytest.approx(
        {"B.s1": 165.1, "B.s3": 165.1}
    )


def test_every_stud_becomes_a_list_when_one_rod_moves(tmp_path: Path) -> None:
    text = (EXAMPLES / f"{RECORD}.toml").read_text(encoding="utf-8")
    text = re.sub(r"(?m)^prices = .*\n", "", text)
    assert 'at = "every stud"' in text
    (tmp_path / "wall.toml").write_text(text, encoding="utf-8")
    client = browser(tmp_path, start=Drawn)
    page = Shown(client, "/job/wall/rods")
    got = page.send({"move": "records|plumbing.s1", "to": "plumbing 2 1/4"})
    assert got.status_code == 303, got.text
    at = tomllib.loads((tmp_path / "wall.toml").read_text(encoding="utf-8"))["shelf"][0]["rods"][
        "at"
    ]
    assert len(at) == 8
    assert at[0] == "plumbing 2 1/4"


def test_no_rod_no_move(tmp_path: Path) -> None:
    client = browser(folder(tmp_path, CORNER), start=Drawn)
    before = (tmp_path / f"{CORNER}.toml").read_bytes()
    for key in ("showroom|A.s9", "nothing|A.s1", "|", "showroom"):
        got = Shown(client, f"/job/{CORNER}/rods").send({"move": key, "to": "A 15 7/16"})
        assert got.status_code == 404
    taken = Shown(client, f"/job/{CORNER}/rods").send({"move": "showroom|A.s2", "to": "A 15 7/16"})
    assert taken.status_code == 422
    assert (tmp_path / f"{CORNER}.toml").read_bytes() == before


def test_a_place_means_a_stud_by_tape_or_by_name() -> None:
    of = job(CORNER)
    wall = next(w for w in of.tapes.walls if w.id == "A")
    stud = next(m for m in wall.members if m.id == "A.s2")
    assert means("A 31 9/16", wall, stud, "in")
    assert means("A 30 13/16", wall, stud, "in")
    assert not means("A 33", wall, stud, "in")
    assert not means("B 31 9/16", wall, stud, "in")
    assert not means("A nowhere", wall, stud, "in")
