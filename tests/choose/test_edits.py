"""Designs as edits: what the file so changed says, read from its text, is what was wanted."""

from __future__ import annotations

import re
from functools import cache

import pytest

from ledgewright import choose, stock
from ledgewright.choose.change import core_thick, hole, thick
from ledgewright.choose.drills import RING, bit, sizes
from ledgewright.choose.ground import across
from ledgewright.choose.space import Pick, every_other
from ledgewright.job import RodSpec, Spec, edits, files
from ledgewright.job.reading import read
from tests.jobs import EXAMPLES, NAMES


@cache
def space(name: str) -> choose.Space:
    file, text, prices, _ = files.texts(EXAMPLES / f"{name}.toml")
    assert text is not None
    job = read(text, file, prices).job
    assert job is not None
    return choose.space(choose.ground(text, file, prices, job, job.shelves[0].id))


def singles(of: choose.Space) -> list[Pick]:
    """Every design that differs from the job in one thing, priced or not."""
    return [
        tuple(k if m == n else 0 for m in range(len(of.axes)))
        for n, axis in enumerate(of.axes)
        for k in range(1, len(axis.options), 1 + len(axis.options) // 30)
    ]


def mixed(of: choose.Space) -> list[Pick]:
    """Designs in which all differs at once."""
    return [
        tuple((j * (n + 1)) % len(axis.options) for n, axis in enumerate(of.axes))
        for j in range(1, 13)
    ]


def made(of: choose.Space, pick: Pick) -> tuple[Spec, str] | None:
    """The shelf as its new text says, read once; of two texts of one file the same numbers are two designs."""
    key = (of.ground.text, pick)
    if key not in KNOWN:
        KNOWN[key] = _made(of, pick)
    return KNOWN[key]


KNOWN: dict[tuple[str, Pick], tuple[Spec, str] | None] = {}


def _made(of: choose.Space, pick: Pick) -> tuple[Spec, str] | None:
    """The shelf as its new text says, read whole; None where the reading refuses the design."""
    ground, wanted = of.ground, of.wanted(pick)
    if hole(ground, wanted) is None:
        return None
    text = edits.apply(ground.text, choose.edits(ground, wanted))
    whole = read(text, ground.file, ground.prices)
    plain = ground.with_edits(choose.edits(ground, wanted))
    assert (whole.job is None) == (plain.job is None)
    if whole.job is None or plain.job is None:
        return None
    assert whole.job.shelves == plain.job.shelves
    assert whole.job.demands == plain.job.demands
    return whole.job.shelves[0], text


@pytest.mark.parametrize("name", NAMES)
def test_the_job_as_it_is_needs_no_edit(name: str) -> None:
    of = space(name)
    assert choose.edits(of.ground, of.wanted(of.origin)) == ()


@pytest.mark.parametrize("name", NAMES)
def test_every_single_change_and_mixtures_say_what_was_wanted(name: str) -> None:
    """Read through the text of the file, by the job's own reading."""
    of, read_well = space(name), 0
    was = of.ground.spec
    for pick in (*singles(of), *mixed(of)):
        wanted, found = of.wanted(pick), made(of, pick)
        if found is None:
            continue
        read_well += 1
        shelf, _ = found
        members = {(r.wall, r.member) for r in shelf.rods}
        assert members == {(wall, each) for wall, ids in wanted.members for each in ids}
        assert {r.bar.name for r in shelf.rods} == {wanted.bar}
        assert {r.adhesive.name for r in shelf.rods} == {wanted.adhesive}
        assert shelf.core.thick == pytest.approx(core_thick(wanted), abs=1e-6)
        assert {round(r.clearance.up, 6) for r in shelf.rods} == {round(wanted.play, 6)}
        assert shelf.thick == pytest.approx(thick(of.ground, wanted), abs=1e-6)
        assert shelf.sections == wanted.sections
        assert (shelf.core.of.name, shelf.core.strip) == pytest.approx(wanted.core[:2])
        _stick_outs(shelf, was, wanted.longer)
    assert read_well > len(of.axes)


def _stick_outs(shelf: Spec, was: Spec, longer: float) -> None:
    """Rods that stay stick out as much further as was wanted; a new one as some rod of its wall."""
    had = {r.member: r.projection for r in was.rods}
    on = {
        wall: {r.projection for r in was.rods if r.wall == wall}
        for wall in {r.wall for r in was.rods}
    }
    for rod in shelf.rods:
        if rod.member in had:
            assert rod.projection == pytest.approx(had[rod.member] + longer, abs=1e-6)
        else:
            assert any(abs(rod.projection - p - longer) < 1e-6 for p in on[rod.wall])


@pytest.mark.parametrize("name", NAMES)
def test_every_remark_of_the_file_stays(name: str) -> None:
    of = space(name)
    remarks = re.findall(r"#.*$", of.ground.text, flags=re.MULTILINE)
    for pick in mixed(of)[::4]:
        found = made(of, pick)
        if found is not None:
            kept = re.findall(r"#.*$", found[1], flags=re.MULTILINE)
            # A rod that is left out takes the remarks of its own table along.
            gone = len(of.ground.own)
            assert len([r for r in remarks if r not in kept]) <= gone


@pytest.mark.parametrize("name", NAMES)
def test_a_lock_is_only_where_a_rod_is(name: str) -> None:
    of = space(name)
    for pick in (*singles(of), *mixed(of)):
        found = made(of, pick)
        if found is not None:
            shelf = found[0]
            assert set(shelf.lock.rods) <= {rod.member for rod in shelf.rods}
            walls = {r.wall for r in of.ground.spec.rods if r.member in of.ground.spec.lock.rods}
            locked = {r.wall for r in shelf.rods if r.member in shelf.lock.rods}
            assert of.ground.spec.lock.kind == "none" or locked == walls


def test_every_hole_of_another_bar_is_one_that_a_bit_makes() -> None:
    """Spade and auger bits go by sixteenths of an inch, or by whole millimetres (common practice)."""
    for name in ("stoneware-corner", "reading-alcove"):
        of = space(name)
        step = 25.4 / 16 if of.ground.unit == "in" else 1.0
        for pick in singles(of):
            wanted = of.wanted(pick)
            size = hole(of.ground, wanted)
            bar = stock.bar(wanted.bar)
            if size is not None and wanted.bar != of.ground.usual.bar.name:
                assert size / step == pytest.approx(round(size / step), abs=1e-6)
                assert size > across(bar.shape, bar.width, bar.height)


def test_an_eighth_over_a_five_eighths_rod_is_a_three_quarter_bit() -> None:
    """By hand: 5/8 + 1/8 = 3/4; 16 + 3.175 = 19.2, so the 20 mm bit."""
    assert bit(5 / 8 * 25.4 + RING, "in") == pytest.approx(19.05)
    assert bit(16 + RING, "mm") == 20.0
    assert bit(60.0, "mm") is None
    assert sizes("in")[0] == pytest.approx(6.35)


def test_every_other_stud_by_hand() -> None:
    assert every_other(["a", "b", "c", "d", "e"]) == [("a", "c", "e"), ("b", "d")]
    assert every_other(["a", "b", "c"]) == [("a", "c")]
    assert every_other(["a", "b"]) == []


def test_a_new_rod_on_a_wall_of_short_rods_is_short_too() -> None:
    """All rods of the corner's short wall stick out 6 1/2 in; so must one that is left out and put back."""
    of = space("stoneware-corner")
    ground = of.ground
    fewer = tuple((w, ids[:-1] if w == "B" else ids) for w, ids in choose.as_is(ground).members)
    axis = next(a for a in of.axes if a.name == "members" and a.wall == "B")
    start = [0] * len(of.axes)
    start[of.axes.index(axis)] = axis.options.index(dict(fewer)["B"])
    wanted = of.wanted(tuple(start))
    text = edits.apply(ground.text, choose.edits(ground, wanted))
    job = read(text, ground.file, ground.prices).job
    assert job is not None
    again = choose.ground(text, ground.file, ground.prices, job, ground.spec.id)
    back = choose.space(again)
    axis = next(a for a in back.axes if a.name == "members" and a.wall == "B")
    pick = [0] * len(back.axes)
    pick[back.axes.index(axis)] = next(
        k for k, ids in enumerate(axis.options) if ids == dict(choose.as_is(ground).members)["B"]
    )
    found = made(back, tuple(pick))
    assert found is not None
    rods: tuple[RodSpec, ...] = found[0].rods
    assert {round(r.projection / 25.4, 6) for r in rods if r.wall == "B"} == {6.5}
