"""Every case as it is told can be laid out by hand: statics alone bring its loads and what the rods carry together."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest
from shapely.geometry import Polygon

from ledgewright.job import Even, Thing, reading
from ledgewright.judge import Design, on_model
from ledgewright.memo import Memo
from ledgewright.plan import sketch
from ledgewright.statics import Laid, LoadCase, LoadPart, NoTest
from ledgewright.statics.actions import Actions, Atom, Bools, actions
from ledgewright.statics.laid import contents_said, parts_said
from ledgewright.statics.loads import G_N, PATCH
from ledgewright.statics.mechanics.section.energy import PER_NODE
from ledgewright.statics.tiles import Tile
from tests import jobs
from tests.jobs import EXAMPLES
from tests.statics import by_rule

AGAINST = (
    "cases laid out part by part: sum of forces and of moments about both axes of the plan, loads against rods",
    "statics of a rigid body (three equations, from memory)",
    "forces 1e-9; middle of the load 0.3 mm",
)
MIDDLE = 0.3
"""So far the middle of a load may lie off (mm): a skin cut to a crooked wall is not the even strip a load lies on."""


def known_of(name: str) -> list[Design]:
    """The shelves of an example that statics knows; worked out when a test asks, not when tests are collected."""
    return [design for design in jobs.plan(name).designs if design.holds.laid is not None]


def known(design: Design) -> Laid:
    assert design.holds.laid is not None
    return design.holds.laid


def factored(laid: Laid, case: LoadCase) -> list[tuple[float, LoadPart]]:
    parts = [laid.parts[k] for k in case.there]
    return [(case.factor(part) * part.force, part) for part in parts]


@pytest.mark.parametrize("name", jobs.ALL)
def test_statics_bring_loads_and_rods_together(name: str) -> None:
    for design in known_of(name):
        laid, rods = known(design), {rod.id: rod for rod in design.frame.rods}
        assert len(laid.cases) > 10
        for case in laid.cases:
            loads = factored(laid, case)
            down = sum(force for force, _ in loads)
            assert sum(rod.down for rod in case.rods) == pytest.approx(down, rel=1e-9)
            put = sum(force * np.array(part.at) for force, part in loads)
            held = sum(
                each.down * np.array(rods[each.rod].point(0.0)[:2])
                + each.moment * np.array(rods[each.rod].axis[:2])
                for each in case.rods
            )
            assert np.abs(held - put).max() / down < MIDDLE, case.case


@pytest.mark.parametrize("name", jobs.ALL)
def test_contents_lie_where_the_job_puts_them(name: str) -> None:
    found = [(design, load) for design in known_of(name) for load in design.demand.loads]
    assert found
    for design, load in found:
        mine = [part for part in known(design).parts if part.load == load.id]
        wall = design.room.wall(mine[0].wall)
        middles = [(part.force, *wall.figures(part.at)) for part in mine]
        total = sum(force for force, *_ in middles)
        if isinstance(load, Thing):
            ((_, along, out),) = middles
            assert total == pytest.approx(load.mass * G_N)
            assert along == pytest.approx(load.along, abs=1e-6)
            assert out == pytest.approx(load.out + wall.face(load.along), abs=1e-6)
        elif isinstance(load, Even) and load.start is not None and load.end is not None:
            assert load.per_length is not None
            assert total == pytest.approx(load.per_length * (load.end - load.start), rel=2e-3)
            along = sum(force * x for force, x, _ in middles) / total
            assert along == pytest.approx((load.start + load.end) / 2, abs=1.0)


@pytest.mark.parametrize("name", ["record-wall", "stoneware-corner"])
def test_a_load_on_the_edging_keeps_its_middle(name: str) -> None:
    """The section takes loads on its skin alone: what is put on it there has the middle that the load has."""
    for shelf, _ in by_rule.judged(jobs.job(name)):
        acting = shelf.acting
        turned = acting.stood.turned
        for k, atom in enumerate(acting.atoms):
            if atom.kind != "live" or atom.tile is None:
                continue
            ring = Polygon(turned.ring(atom.plan))
            middle = (ring.centroid.x, ring.centroid.y)
            assert middle_of(acting, k) == pytest.approx(middle, abs=1.0), atom.name


def middle_of(acting: Actions, k: int) -> tuple[float, float]:
    """Where the middle of one part of the loads lies in the section's own lines, by the work it does on whole moves."""
    down = acting.whole[:, k] / acting.atoms[k].force
    place = acting.stood.today.grid.place
    # How the section moves as a whole: down, and tilting about two axes; a load's work on these is its middle.
    tilt = np.column_stack([np.ones(len(place)), place])
    to, *_ = np.linalg.lstsq(acting.stood.today.shapes[::PER_NODE], tilt, rcond=None)
    _, x, y = down @ to
    return float(x), float(y)


def loaded(text: str) -> tuple[Design, Actions]:
    """The one shelf of a job on its section model, with all its loads."""
    job = reading.read(text, "record-wall.toml").job
    assert job is not None
    (design,) = sketch(job, Memo()).designs
    found = on_model(job, design, Memo())
    assert not isinstance(found, NoTest)
    return design, actions(*found, Memo())


@pytest.mark.parametrize(("out", "feet"), [("8 5/8", "9 1/2"), ("12 3/4", "1 3/4")])
def test_a_thing_with_feet_on_the_edging_keeps_its_middle(out: str, feet: str) -> None:
    """All four feet are drawn in about the middle of the thing; of the edging, 3/4 in, the section knows nothing."""
    text = (EXAMPLES / "record-wall.toml").read_text("utf-8")
    text = text.replace('out = "6 1/2"', f'out = "{out}"', 1)
    design, acting = loaded(text.replace('"9 1/2"]', f'"{feet}"]', 1))
    stood = acting.stood
    ((k, atom),) = ((k, atom) for k, atom in enumerate(acting.atoms) if atom.feet)
    (load,) = (each for each in design.demand.loads if each.id == atom.name)
    assert isinstance(load, Thing)
    wall = design.room.wall(load.wall)
    (at,) = stood.turned.ring((wall.at(load.along, wall.face(load.along) + load.out),))
    assert middle_of(acting, k) == pytest.approx(at, abs=1.0)


@pytest.mark.parametrize("thick", ["3/4", "1 3/4", "2 1/4", "4"])
@pytest.mark.parametrize("depth", ["13 5/8", "12 1/2"])
def test_however_thick_the_edging_what_stands_in_front_keeps_its_middle(
    depth: str, thick: str
) -> None:
    """By hand: a tile's middle is that of its shape; the one thing and who leans stand flush with the front.

    At 10 in an edging over 1 1/4 in is more than an eighth of the depth, 4 in more than a quarter: the middle of the
    front half is on it.
    """
    text = (EXAMPLES / "record-wall.toml").read_text("utf-8")
    for old, new in (
        ('depth = "13 5/8"', f'depth = "{depth}"'),
        (
            'edging = { of = "walnut", thick = "3/4" }',
            f'edging = {{ of = "walnut", thick = "{thick}" }}',
        ),
        ('projection = "11 1/4"', 'projection = "5 1/2"'),
    ):
        assert text.count(old) == 1
        text = text.replace(old, new)
    design, acting = loaded(text)
    stood = acting.stood
    (row,) = stood.rows
    wall, front = design.room.wall(row.leg.wall), row.leg.band + row.leg.depth
    accident = design.demand.accident
    assert accident is not None
    seen = set()
    for k, atom in enumerate(acting.atoms):
        if atom.kind == "dead" and atom.tile is not None and stood.tiles[atom.tile].front:
            shape = stood.tiles[atom.tile].shape.centroid
            (at,) = stood.turned.ring(((shape.x, shape.y),))
            assert middle_of(acting, k) == pytest.approx(at, abs=0.5), (atom, thick)
        elif atom.spot is not None and atom.spot.kind in {"rod", "bay", "end"}:
            size = PATCH if atom.kind == "single" else accident.patch
            along, _ = wall.figures(atom.middle)
            (at,) = stood.turned.ring((wall.at(along, front - size / 2),))
            assert middle_of(acting, k) == pytest.approx(at, abs=0.5), (atom, thick)
        else:
            continue
        seen.add(atom.kind)
    assert seen == {"dead", "single", "accident"}


def test_parts_are_told_by_number() -> None:
    tiles = [tile(n, front=f) for n in range(1, 7) for f in (False, True) if (n, f) != (6, False)]
    both = {(t.number, t.front): t for t in tiles}

    def said(*on: tuple[int, bool]) -> str:
        return parts_said([both[each] for each in on], tiles)

    assert said((1, False), (1, True), (2, True), (2, False)) == "1 and 2"
    assert said((1, False), (1, True), (2, True), (3, True), (4, True), (5, False)) == (
        "1, 2 to 4 front, 5 back"
    )
    assert said((6, True)) == "6"


def tile(number: int, *, front: bool) -> Tile:
    return Tile("A", number, (), (0.0, 0.0), Polygon(), number, "bay", front, 100.0 * number)


def test_what_is_told_says_what_is_there() -> None:
    """Two patterns of contents that differ are told apart, and what is told can be laid out again."""
    dice = np.random.default_rng(4)
    for shelf, _ in by_rule.judged(jobs.job("record-wall")):
        acting = shelf.acting
        live = acting.of("live")
        for _ in range(200):
            there = acting.of("dead") | (live & (dice.random(len(live)) < 0.7))
            again = laid_again(shelf.acting.atoms, acting.stood.tiles, contents_said(acting, there))
            assert (again == (there & live)).all(), contents_said(acting, there)


def laid_again(atoms: Sequence[Atom], tiles: Sequence[Tile], said: str) -> Bools:
    """Read a text back: which parts of the contents are there."""
    on = {k: atom.kind == "live" for k, atom in enumerate(atoms)}
    for phrase in filter(None, said.split("; ")):
        name, only, where = phrase.removeprefix("no ").partition(" only on parts ")
        named = read(where) if only else {}
        for k, atom in enumerate(atoms):
            if atom.name == name:
                tile = None if atom.tile is None else tiles[atom.tile]
                halves = named.get(tile.number, "none") if tile else "none"
                on[k] = tile is not None and halves in ("", "front" if tile.front else "back")
    return np.array([on[k] for k in range(len(atoms))])


def read(where: str) -> dict[int, str]:
    """Numbers of parts with "front", "back" or nothing for both."""
    made: dict[int, str] = {}
    for each in where.split(", "):
        numbers, half = each, ""
        for known_half in ("front", "back"):
            if each.endswith(known_half):
                numbers, half = each.removesuffix(f" {known_half}"), known_half
        ends = [int(n) for n in numbers.replace(" and ", " to ").split(" to ")]
        made |= dict.fromkeys(range(ends[0], ends[-1] + 1), half)
    return made
