"""What a load test puts on: that who follows its sheet gets a load limit that covers what is to stand on the shelf."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import cache, partial

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import linprog

from ledgewright import judge, site, statics
from ledgewright.job import Even, Job, LoadStep, PutOn, Thing, WentDown
from ledgewright.judge import Design
from ledgewright.plan import check
from ledgewright.sheets import handover
from ledgewright.sheets.say import Say
from ledgewright.site import Group, ReadBack
from ledgewright.site.allowance import allows
from ledgewright.statics import ONE, ROUND, STAGES, Pile, Proof, Stage, Stands, even_of, staged
from ledgewright.statics.heaps import HEAPS, _lightest, heaps
from ledgewright.statics.loads import G_N
from tests import jobs

AGAINST = (
    "weights of a load test, against the lever rule written out and the job's own contents",
    "hand calculation; adaptive quadrature (scipy); another linear program",
    "0: no rod gets less; sums 1e-6",
)
IN, LB = 25.4, 0.45359237
HANGS = ("stoneware-corner", "reading-alcove", "record-wall")


@cache
def group_of(name: str) -> tuple[Job, Group]:
    job = jobs.job(name)
    designs = check(job, jobs.MEMO)
    beside = [tuple(k for k in range(len(designs)) if k != n) for n in range(len(designs))]
    return job, Group(designs, tuple(beside) if len(designs) > 1 else ((),))


@cache
def plans_of(name: str) -> tuple[Proof, ...]:
    made = site.plan_tests(*group_of(name), jobs.MEMO)
    assert all(isinstance(each, Proof) for each in made), made
    return tuple(each for each in made if isinstance(each, Proof))


def put(pile: Pile, share: float = 1.0) -> PutOn:
    return PutOn(pile.mass * share, pile.wall, pile.along, pile.out)


def step(design: Design, piles: tuple[Pile, ...]) -> LoadStep:
    return LoadStep(design.spec.id, tuple(map(put, piles)), 24.0, (), "t")


def most_told(design: Design) -> float:
    """The heaviest contents by length (kg/m), as the job file has them; the scenes' do not lie on one another."""
    return max(
        (load.per_length or 0.0) * 1000 / G_N
        for load in design.demand.loads
        if isinstance(load, Even)
    )


@pytest.mark.parametrize("name", HANGS)
def test_who_follows_the_sheet_gets_a_limit_that_covers_what_is_to_stand_there(name: str) -> None:
    """Divided by 1.25 (design page on statics, section 3) the weights come to the contents and to the one thing."""
    for design, proof in zip(group_of(name)[1].designs, plans_of(name), strict=True):
        even, single, total = allows(design, proof.piles, [staged(proof.piles, HEAPS)])
        least = proof.times / 1.25
        assert even * 1000 / G_N >= most_told(design) * least * (1 - 1e-9)
        assert single >= design.demand.single * least * (1 - 1e-9)
        assert total >= even * math.dist(*design.frame.legs[0].front) / G_N


@pytest.mark.parametrize("name", HANGS)
def test_next_to_nothing_asks_next_to_nothing(name: str) -> None:
    """Limit: half a kilogram at the front asks a small part of what a test may; nobody pulls while weights stand."""
    job, group = group_of(name)
    for design, proof in zip(group.designs, plans_of(name), strict=True):
        found = judge.on_model(job, design, jobs.MEMO)
        assert not isinstance(found, statics.NoTest)
        light = replace(proof.single, mass=0.5)
        asked = statics.asks(*found, (light,), jobs.MEMO)
        assert asked is not None
        assert asked.ratio < 0.2, asked.title


@pytest.mark.parametrize("name", HANGS)
def test_every_rod_bears_its_share_of_contents_on_every_length(name: str) -> None:
    """By the lever rule, written out: a load between two rods is theirs by distance, past the last one it also lifts.

    Against a strip by adaptive quadrature, what lifts left out: it may be off.
    """
    for design, proof in zip(group_of(name)[1].designs, plans_of(name), strict=True):
        (leg,) = design.frame.legs
        wall = design.room.wall(leg.wall)
        low, high = sorted(wall.figures(point)[0] for point in leg.front)
        rods = sorted(wall.figures(rod.point(rod.free))[0] for rod in design.frame.rods)
        stands = [pile for pile in proof.piles if pile.name != ONE]
        told = most_told(design) * proof.times / 1000
        for k, at in enumerate(rods):
            even = told * quad(partial(presses, rods, k), low, high, points=rods, limit=200)[0]
            deep = leg.depth - min(250.0, leg.depth) / 2
            got = sum(p.mass * min(1.0, p.out / deep) * takes(rods, k, p.along) for p in stands)
            assert got >= even * (1 - 1e-4), (at, got, even)


def takes(rods: list[float], k: int, x: float) -> float:
    """What the k-th rod takes of a load at x: straight between the rods, and on past the last two."""
    unit = np.eye(len(rods))[k]
    for one, other in ((0, 1), (-1, -2)):
        if (x - rods[one]) * (rods[other] - rods[one]) < 0:
            slope = (unit[other] - unit[one]) / (rods[other] - rods[one])
            return float(unit[one] + slope * (x - rods[one]))
    return float(np.interp(x, rods, unit))


def presses(rods: list[float], k: int, x: float) -> float:
    return max(0.0, takes(rods, k, x))


@pytest.mark.parametrize("name", HANGS)
def test_weights_stand_on_the_shelf_and_are_what_can_be_weighed_and_taped(name: str) -> None:
    """Whole pounds at quarters of an inch of tape, half kilograms at 5 mm; a square of 150 mm under each (assumed)."""
    job, group = group_of(name)
    mass, along = (LB, IN / 4) if job.meta.units == "in" else (0.5, 5.0)
    for design, proof in zip(group.designs, plans_of(name), strict=True):
        (leg,) = design.frame.legs
        wall = design.room.wall(leg.wall)
        low, high = sorted(wall.figures(point)[0] for point in leg.front)
        for pile in proof.piles:
            assert pile.mass / mass == pytest.approx(round(pile.mass / mass), abs=1e-6)
            taped = wall.taped(pile.along) / along
            assert taped == pytest.approx(round(taped), abs=1e-6)
            assert low < pile.along < high
            assert 75.0 - 1e-9 <= pile.out <= leg.depth - 75.0 + 5.0
        (one,) = (pile for pile in proof.piles if pile.name == ONE)
        assert low + 72.0 <= one.along <= high - 72.0


def bare(design: Design, *loads: Even | Thing) -> Design:
    return replace(design, demand=replace(design.demand, loads=loads, single=0.0))


def even(kg_a_metre: float, start: float | None = None, end: float | None = None) -> Even:
    return Even("some", None, kg_a_metre * G_N / 1000, None, start, end, "years", assumed=False)


def test_a_length_without_contents_gets_what_the_limit_speaks_of_and_no_more() -> None:
    """By hand: 20 kg/m on the left half of the alcove; all of it must bear 20, so in all no less than 20 times L."""
    (design,) = group_of("reading-alcove")[1].designs
    (leg,) = design.frame.legs
    length = math.dist(*leg.front)
    half = bare(design, even(20.0, None, 590.0))
    there = heaps(half, 1.0, ("back", 80.0), ROUND["mm"], fill=False)
    assert sum(p.mass for p in there) == pytest.approx(20 * 0.59, abs=0.5 * len(there))
    assert all(p.along < 590.0 for p in there)
    filled = heaps(half, 1.0, ("back", 80.0), ROUND["mm"], fill=True)
    everywhere = heaps(bare(design, even(20.0)), 1.0, ("back", 80.0), ROUND["mm"], fill=True)
    assert sum(p.mass for p in filled) >= 20 * length / 1000
    assert sum(p.mass for p in filled) == pytest.approx(
        sum(p.mass for p in everywhere), abs=0.5 * len(filled)
    )


@pytest.mark.parametrize("depth", [90.0, 120.0, 400.0])
def test_the_one_thing_stands_on_shallow_and_on_deep_shelves(depth: float) -> None:
    """By the lever about the wall: its moment is that of the mass asked for with its middle 50 mm behind the front.

    Geometry: what is wider than the shelf is deep stands over its middle.
    """
    (design,) = group_of("reading-alcove")[1].designs
    (leg,) = design.frame.legs
    legs = (replace(leg, depth=depth),)
    other = replace(design, frame=replace(design.frame, legs=legs))
    (one,) = (
        p for p in heaps(other, 1.25, ("back", 80.0), ROUND["mm"], fill=True) if p.name == ONE
    )
    assert depth / 2 - 5.0 <= one.out <= max(depth - 75.0, depth / 2)
    moment = 1.25 * design.demand.single * (depth - min(100.0, depth) / 2)
    assert moment <= one.mass * one.out * (1 + 1e-9) <= moment + 0.5 * one.out


def test_what_stands_there_counts_towards_it() -> None:
    """Conservation: a thing of 12 kg on the bare half spares as much, less what rods far from it still want."""
    (design,) = group_of("reading-alcove")[1].designs
    thing = Thing("box", "back", 800.0, 160.0, (200.0, 200.0), None, 12.0, "years")
    load = even(20.0, None, 590.0)
    alone = heaps(bare(design, load), 1.0, ("back", 80.0), ROUND["mm"], fill=True)
    beside = heaps(bare(design, load, thing), 1.0, ("back", 80.0), ROUND["mm"], fill=True)
    more = sum(p.mass for p in beside) - sum(p.mass for p in alone)
    assert -0.5 * len(beside) <= more < 12.0


def test_the_lightest_heaps_are_as_light_as_another_program_finds() -> None:
    """Random wants; the least sum alone by the same library's other method is a bound that is nearly met."""
    rng = np.random.default_rng(5)
    for _ in range(20):
        masses = rng.uniform(0.0, 2.0, 6)
        does = rng.uniform(0.1, 1.0, (4, 6))
        wanted = rng.uniform(2.0, 8.0, 4)
        made = np.array(_lightest(list(masses), [1.0] * 6, does.tolist(), list(wanted)))
        assert (made >= masses - 1e-9).all()
        assert (does @ made >= wanted - 1e-7).all()
        least = linprog([1.0] * 6, A_ub=-does, b_ub=-wanted, bounds=[(m, None) for m in masses])
        spread = linprog(
            [0.0] * 6 + [1.0],
            A_ub=np.vstack([np.c_[-does, np.zeros(4)], np.c_[np.eye(6), -np.ones(6)]]),
            b_ub=np.r_[-wanted, np.zeros(6)],
            bounds=[*((m, None) for m in masses), (0.0, None)],
        )
        # The sum and six times the heaviest are least together: no less than the two apart.
        both, lone, even_out = made.sum() + 6 * made.max(), least.x, spread.x
        assert lone is not None
        assert even_out is not None
        assert both >= lone.sum() + 6 * even_out[6] - 1e-6
        assert both <= even_out[:6].sum() + 6 * even_out[6] + 1e-6


def test_a_heap_under_the_one_thing_counts_for_the_contents() -> None:
    """By hand: 18 kg at each rod, 30 by the first: 48 as one thing, but then the first rod bears none of the rest."""
    (design,) = group_of("reading-alcove")[1].designs
    (leg,) = design.frame.legs
    wall = design.room.wall(leg.wall)
    at = sorted(wall.figures(rod.point(rod.free))[0] for rod in design.frame.rods)
    out, one = 160.0, 210.0
    rest = tuple(Pile("books", "back", x, out, 18.0) for x in at)
    made, single, _ = allows(design, (*rest, Pile("one", "back", at[0] + 40.0, one, 30.0)))
    assert single == pytest.approx(30 * one / (leg.depth - 50) / 1.25)
    # Each rod bears 18 kg; the one that would bear most of an even load says how much that is.
    low, high = sorted(wall.figures(point)[0] for point in leg.front)
    assert 0.5 * sum(p.mass for p in rest) / (high - low) <= made * 1.25 / G_N
    assert made * 1.25 / G_N <= sum(p.mass for p in rest) / (high - low)


def as_predicted(name: str, stages: Sequence[Stage]) -> tuple[ReadBack, ...]:
    """A test of these stages read as its sheet predicts, left for a day, and off."""
    job, group = group_of(name)
    plans = plans_of(name)
    steps = []
    for stage, hours in (*((each, 1 / 6) for each in stages), (STAGES[-1], 24.0), (None, 1.0)):
        reads, puts = [], []
        for proof in plans:
            puts += [put(pile) for pile in staged(proof.piles, stage)] if stage else []
            downs = (
                proof.later if hours == 24.0 else proof.stages[STAGES.index(stage or STAGES[-1])]
            )
            reads += [WentDown(d.wall, d.along, d.down if stage else 0.02 * d.down) for d in downs]
        shelf = group.designs[0].spec.whole
        steps.append(LoadStep(shelf, tuple(puts), hours, tuple(reads), "t", "gauge"))
    asked = replace(job, site=replace(job.site, tests=tuple(steps)))
    found = site.tested_together(asked, group, jobs.MEMO)
    assert all(isinstance(read, ReadBack) for read in found)
    return tuple(read for read in found if isinstance(read, ReadBack))


def test_readings_as_predicted_pass_and_the_label_says_what_was_wanted() -> None:
    """The whole road: what the sheet puts on, read as it predicts, comes to the contents of the job and to 30 kg."""
    for read in as_predicted("stoneware-corner", STAGES):
        assert read.passed, (read.why, read.still)
        assert read.even * 12 * IN / G_N / LB >= 16.0
        assert read.single >= 30.0
        assert not read.lifted
        # Predicted twice, for the sheet and for what was read, by the same weights; after ten minutes also the creep of
        # those, (10 min / 10 years)^(1/3), a hundredth of that of ten years.
        last = max(row.step for row in read.rows)
        for row in read.rows:
            if row.step < last:
                near = 1e-6 if row.hours == 24.0 else 0.01
                assert row.predicted == pytest.approx(row.read, rel=near, abs=1e-3)


def test_a_rod_lifted_by_the_one_thing_has_borne_nothing_until_it_was_read_without() -> None:
    """Lever by hand: past the last rod the one thing takes m a / L off the rod before it, more than its heaps there."""
    name = "stoneware-corner"
    job, group = group_of(name)
    design, proof = group.designs[0], plans_of(name)[0]
    one = proof.single
    leg = next(leg for leg in design.frame.legs if leg.wall == one.wall)
    wall = design.room.wall(leg.wall)
    rods = [wall.figures(r.point(r.free))[0] for r in design.frame.rods if r.wall == wall.id]
    last, before = sorted(rods, key=lambda x: abs(x - one.along))[:2]
    assert abs(one.along - before) > abs(last - before)
    off = one.mass * abs(one.along - last) / abs(last - before)
    beside = [
        p.mass * max(0.0, 1 - abs(p.along - before) / abs(last - before)) for p in proof.piles
    ]
    assert off > sum(beside)
    assert even_of(design, leg, Stands(proof.piles[:-1], (one,))) == 0.0
    assert even_of(design, leg, Stands(proof.piles[:-1])) * 12 * IN / G_N / LB >= 16.0
    for read, lifted in zip(as_predicted(name, STAGES[2:]), (True, False), strict=True):
        assert read.passed, (read.why, read.still)
        assert (read.even == 0.0) is lifted
        assert read.lifted is lifted
        says = handover.told(design, read, Say.of(job.meta))
        assert any("lifted a rod" in line for line in says) is lifted
