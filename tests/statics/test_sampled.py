"""Doubtful figures of the section and the load: a softer section and heavier contents by another road."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from ledgewright.job import Demand, Even, Lock, Spec, Thing
from ledgewright.memo import Memo
from ledgewright.statics import NOMINAL, Falling, Given, Inputs, Loading, Stood, holds, put
from ledgewright.statics.mechanics.section import Condensed, Site, condense, orthotropic
from tests.statics import made
from tests.statics.section.made import box, clamped, plate

AGAINST = (
    "a softer section by softer sheets; heavier contents by a heavier job",
    "own consistency, by another route",
    "1e-6",
)

SOFT = 0.8


def stood_of(spec: Spec) -> tuple[Given, Stood]:
    room, frame = made.straight([300.0, 700.0])
    core = made.solid(frame)
    stood = put(room=room, frame=frame, spec=spec, core=core)
    assert isinstance(stood, Stood), stood
    return Given(room, frame, spec, made.demand(made.even()), "nds", 20.0, core), stood


@cache
def usual() -> tuple[Given, Stood]:
    return stood_of(made.spec())


def test_a_softer_section_is_one_of_softer_sheets() -> None:
    """By linearity every movement under a load is the inverse of the moduli; made anew here with softer sheets."""

    def made_of(by: float) -> Condensed:
        sheet = orthotropic(E_along=8000 * by, E_across=5000 * by, nu=0.05, G=600 * by, thick=9)
        of = plate(box(0, 0, 600, 250), sheet, clamped((0, 0), (600, 0)))
        return condense(of, [Site(x, y) for x in (100.0, 300.0) for y in (120.0, 250.0)], mesh=50)

    soft = made_of(SOFT).flexibility
    assert made_of(1.0).times(SOFT).flexibility == pytest.approx(soft, rel=1e-7)
    assert soft.max() > 1e-3


def test_heavier_contents_are_a_heavier_job() -> None:
    given, stood = usual()
    heavy = replace(given, demand=_times(given.demand, 1.3))
    found = Falling(given, stood, Memo()).full(Inputs(load=1.3))
    drop = holds(heavy, stood, Memo(), keep=False, only_drop=True).drop
    assert drop is not None
    assert found == pytest.approx((drop.today.value, drop.long_term.value), rel=1e-9)


def _times(demand: Demand, by: float) -> Demand:
    def heavier(load: Even | Thing) -> Even | Thing:
        if isinstance(load, Thing):
            return replace(load, mass=load.mass * by)
        return replace(
            load,
            pressure=load.pressure * by if load.pressure else None,
            per_length=load.per_length * by if load.per_length else None,
        )

    return replace(demand, loads=tuple(heavier(each) for each in demand.loads))


def test_quick_runs_are_never_more_than_full_ones_and_the_same_where_they_come_from() -> None:
    given, stood = usual()
    falling = Falling(given, stood, Memo())
    full = falling.full(NOMINAL)
    assert full is not None
    assert falling.quick(NOMINAL) == pytest.approx(full, rel=1e-9)
    for inputs in (Inputs(bed=0.1, load=1.2), Inputs(bed=0.9, clearance=-0.4), Inputs(section=0.8)):
        quick, whole = falling.quick(inputs), Falling(given, stood, Memo()).full(inputs)
        assert quick is not None
        assert whole is not None
        assert all(q <= w * (1 + 1e-6) for q, w in zip(quick, whole, strict=True))


def test_softer_wood_and_a_softer_section_let_it_down_further() -> None:
    """Facts of the trade: what gives more lets the front down further under the same load (no play, glued)."""
    given, stood = usual()
    falling = Falling(given, stood, Memo())
    firm = falling.full(NOMINAL)
    assert firm is not None
    for soft in (Inputs(bed=0.2), Inputs(section=SOFT), Inputs(steel=0.9)):
        found = falling.full(soft)
        assert found is not None
        assert found[0] > firm[0]


def test_the_ratios_by_family_are_those_of_the_rows() -> None:
    plain, stood = usual()
    lock = Lock("grub screw", tuple(rod.id for rod in plain.frame.rods))
    given = replace(plain, spec=replace(plain.spec, lock=lock))
    loading = Loading.of(given, stood, Memo())
    assert loading is not None
    worst = loading.full(NOMINAL, 0.3)
    found = loading.quick(NOMINAL, 0.3)
    assert found is not None
    assert max(found.values()) == pytest.approx(worst, rel=1e-6)
    few = loading.narrowed((NOMINAL,), 0.3)
    left = few.quick(NOMINAL, 0.3)
    assert left is not None
    assert max(left.values()) == pytest.approx(worst, rel=1e-6)
    assert set(few.asked) <= set(loading.asked)
