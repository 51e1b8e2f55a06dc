"""The shelf on its section model: loads and levers by hand, every pattern tried, rods out of line, what is printed."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import combinations, pairwise
from random import Random

import numpy as np
import pytest
from shapely.geometry import Polygon

from ledgewright.core import Core, mass
from ledgewright.core.model import Piece
from ledgewright.job import Basis, Demand
from ledgewright.layout import Frame
from ledgewright.memo import Memo
from ledgewright.statics import NOMINAL, Given, Holds, NotStood, Stood, put
from ledgewright.statics.actions import Actions, Floats, actions
from ledgewright.statics.aims import Aims, Looked, of_front, of_rods
from ledgewright.statics.bases import rules
from ledgewright.statics.box_rows import bows
from ledgewright.statics.holding import holds
from ledgewright.statics.loads import G_N
from ledgewright.statics.mechanics.contact_rods import Resting, rest
from ledgewright.statics.mechanics.section.energy import PER_NODE
from ledgewright.statics.one_rod import HUNG
from ledgewright.statics.patterns import Search
from ledgewright.statics.scout import run
from ledgewright.statics.stand import rods_of, seats
from ledgewright.survey import Room
from tests.jobs import NAMES, job, plan
from tests.statics import made
from tests.statics.made import DEPTH, FREE
from tests.statics.reckon import reckon

AGAINST = (
    "loads and levers by hand; all subsets of the contents; the one-rod model as a bound",
    "hand calculation, and brute force in the test",
    "1e-9 to 0.5 %",
)

BASES: tuple[Basis, ...] = ("nds", "ec5")


class Case:
    """One shelf with its loads, on its section model."""

    def __init__(self, placed: tuple[Room, Frame], asked: Demand, basis: Basis = "nds") -> None:
        self.room, self.frame = placed
        self.asked, self.basis, self.spec = asked, basis, made.spec()
        self.core = made.solid(self.frame)
        stood = put(room=self.room, frame=self.frame, spec=self.spec, core=self.core)
        assert isinstance(stood, Stood), stood
        self.stood = stood
        rods = rods_of(stood, seats(stood.rows), self.spec, NOMINAL, creep=False)
        self.resting: Resting = rest(stood.today, rods)
        self.given = Given(self.room, self.frame, self.spec, asked, basis, 20.0, self.core)
        self.actions: Actions = actions(self.given, stood, Memo())

    def hung(self) -> Floats:
        """How far each place along the front hangs by itself."""
        alone = self.actions.factors(HUNG, self.actions.of("dead"))
        return self.resting.solve(self.actions.under(alone)).read

    def search(self) -> Search:
        """Every case that counts, solved."""
        found = Search(self.actions, self.resting)
        depths = [rod.embedment for rod in self.frame.rods]

        hung = self.hung()

        def driven(resting: Resting, _: Looked) -> list[Aims]:
            return [of_rods(resting, depths), of_front(resting, hung, bows(self.stood.reads))]

        run(found, rules(self.basis).combinations, driven)
        return found

    def judged(self, *, keep: bool = True) -> Holds:
        """Its statics."""
        return holds(self.given, self.stood, keep=keep)


@cache
def usual(basis: Basis) -> Case:
    asked = made.demand(made.even(0.002), made.thing(500.0), single=20.0)
    return Case(made.straight([200.0, 500.0, 800.0], basis=basis), asked, basis)


# ---- loads


@pytest.mark.parametrize("name", NAMES)
def test_tiles_cover_a_shelf_once(name: str) -> None:
    design = plan(name).designs[0]
    assert design.core is not None
    stood = put(room=design.room, frame=design.frame, spec=design.spec, core=design.core)
    assert isinstance(stood, Stood)
    shapes = [tile.shape for tile in stood.tiles]
    assert sum(s.area for s in shapes) == pytest.approx(Polygon(design.frame.outline).area)
    assert all(a.intersection(b).area < 1.0 for a, b in combinations(shapes, 2))


def test_parts_of_loads_add_up_to_the_loads() -> None:
    # By hand: 0.002 MPa over 1000 x 250; 10 kg; the shelf's own mass; one patch of 20 kg or 600 N at each place.
    case = usual("nds")
    sums = {
        kind: sum(a.force for a in case.actions.atoms if a.kind == kind)
        for kind in ("dead", "live")
    }
    weight = mass(spec=case.spec, frame=case.frame, core=case.core)
    assert sums["dead"] == pytest.approx(weight * G_N, rel=1e-6)
    assert sums["live"] == pytest.approx(500.0 + 10 * G_N, rel=1e-6)
    singles = [a for a in case.actions.atoms if a.kind == "single"]
    assert {round(a.force, 6) for a in singles} == {round(20 * G_N, 6)}
    assert {a.force for a in case.actions.atoms if a.kind == "accident"} == {600.0}
    # What is pushed on the section is what each part weighs.
    pushed = case.actions.force(np.ones(len(case.actions.atoms)))[::PER_NODE].sum()
    assert pushed == pytest.approx(sum(a.force for a in case.actions.atoms), rel=1e-9)


@pytest.mark.parametrize(
    ("size", "edging", "middle"),
    [
        (100.0, 10.0, 50.0),
        (100.0, 30.0, 50.0),
        (50.0, 18.0, 25.0),
        (40.0, 30.0, 20.0),
        (40.0, 120.0, 20.0),
        (600.0, 10.0, 125.0),
    ],
)
def test_whoever_leans_lies_on_the_skin_between_wall_and_edging(
    size: float, edging: float, middle: float
) -> None:
    """By hand, 250 deep, 1000 long: half the square behind the front, on edging too; not behind the wall."""
    asked = made.demand(accidents=(replace(made.LEAN, patch=size),))
    case = Case(made.straight([200.0, 500.0, 800.0]), asked)
    stood = replace(case.stood, edging=edging)
    leans = [a for a in actions(case.given, stood, Memo()).atoms if a.kind == "accident"]
    assert leans
    for atom in leans:
        xs, ys = zip(*atom.plan, strict=True)
        assert -DEPTH + edging <= min(ys) < max(ys) <= 0.0
        assert atom.middle[1] == pytest.approx(-DEPTH + middle)
        assert edging <= min(xs) < max(xs) <= 1000.0 - edging


def test_of_accidents_equally_heavy_the_one_nearest_to_the_front_is_judged() -> None:
    """Its lever is the longer one: 250 less half of 100 against half of 150 mm."""
    wide, usual = replace(made.LEAN, patch=150.0), made.LEAN
    for told in ((wide, usual), (usual, wide)):
        case = Case(made.straight([200.0, 500.0, 800.0]), made.demand(accidents=told))
        assert case.asked.accident == usual
        ys = {y for a in case.actions.atoms if a.kind == "accident" for _, y in a.plan}
        assert (min(ys) + max(ys)) / 2 == pytest.approx(-DEPTH + 50.0)


def test_a_load_by_length_lies_flush_with_the_front_and_where_it_is_put() -> None:
    deep = replace(made.demand(), loads=(made.even(None, per_length=0.4, start=100.0, end=600.0),))
    case = Case(made.straight([200.0, 500.0, 800.0]), deep)
    live = [a for a in case.actions.atoms if a.kind == "live"]
    assert sum(a.force for a in live) == pytest.approx(0.4 * 500.0, rel=1e-6)
    xs = [x for a in live for x, _ in a.plan]
    assert [min(xs), max(xs)] == pytest.approx([100.0, 600.0])


def test_contents_on_a_named_wall_run_right_up_to_the_corner() -> None:
    # 0.001 MPa on wall B alone, which is 800 long and 250 deep from the corner on: 200 N, corner square included.
    room, frame = made.corner([200.0, 500.0, 900.0], [400.0, 700.0])
    stood_on = made.demand(made.even(0.001, wall="B"), accidents=())
    rods = replace(
        frame,
        rods=tuple(r for r in frame.rods),
    )
    core = plan("stoneware-corner-first-try").designs[0].core
    assert core is not None
    whole = ((-990.0, -240.0), (-240.0, -240.0), (-240.0, -790.0), (-10.0, -790.0), (-10.0, -10.0))
    one = Core((Piece("p", "block", (*whole, (-990.0, -10.0)), 1.0, 1.0),), (), (), 0.0, 0.0, 0, ())
    stood = put(room=room, frame=rods, spec=made.spec(), core=one)
    assert isinstance(stood, Stood)
    acting = actions(Given(room, rods, made.spec(), stood_on, "nds", 20.0, one), stood, Memo())
    live = sum(a.force for a in acting.atoms if a.kind == "live")
    assert live == pytest.approx(0.001 * 800.0 * DEPTH, rel=1e-6)


SLANTS = (13.0, -13.0)
"""How much longer a shelf 250 deep is in front than at the back: 3 degrees off square."""


@cache
def slanted(longer: float) -> tuple[Room, Frame, Core, Stood]:
    """A shelf 1000 long at the back, its right end so much longer in front."""
    room, frame = made.straight([200.0, 500.0, 800.0])
    far = 1000.0 + longer
    outline = ((0.0, -DEPTH), (far, -DEPTH), (1000.0, 0.0), (0.0, 0.0))
    (leg,) = frame.legs
    leg = replace(leg, front=((0.0, -DEPTH), (far, -DEPTH)))
    frame = replace(frame, outline=outline, blank=outline, legs=(leg,))
    core = made.solid(made.straight([200.0, 500.0, 800.0], length=970.0)[1])
    stood = put(room=room, frame=frame, spec=made.spec(), core=core, rough=True)
    assert isinstance(stood, Stood), stood
    return room, frame, core, stood


def on_slanted(longer: float, asked: Demand) -> Actions:
    room, frame, core, stood = slanted(longer)
    return actions(Given(room, frame, made.spec(), asked, "nds", 20.0, core), stood, Memo())


@pytest.mark.parametrize("longer", SLANTS)
@pytest.mark.parametrize("wall", [None, "A"])
def test_an_even_load_lies_on_all_of_a_shelf_with_a_slanted_end(
    longer: float, wall: str | None
) -> None:
    """By hand: 0.002 MPa on a trapezium, its mean length 1000 and half of what one side is longer."""
    found = on_slanted(longer, made.demand(made.even(0.002, wall=wall), accidents=()))
    live = sum(a.force for a in found.atoms if a.kind == "live")
    # Also where it is told by its wall, whose alongs are those of the back edge.
    assert live == pytest.approx(0.002 * DEPTH * (1000.0 + longer / 2), rel=1e-6)


@pytest.mark.parametrize("longer", SLANTS)
def test_what_presses_near_a_slanted_end_lies_on_the_skin(longer: float) -> None:
    """By hand: the skin begins 10 in from the end's own line, which runs from (1000, 0) to (1000 + 13, -250)."""
    asked = made.demand(made.thing(985.0 + min(longer, 0.0), out=200.0), single=20.0)
    line = np.array([longer, -DEPTH])
    normal = np.array([line[1], -line[0]]) / np.hypot(*line)
    found = on_slanted(longer, asked).atoms
    pressed = [a for a in found if a.kind in ("single", "accident")]
    things = [a for a in found if a.name == "thing"]
    assert pressed
    assert things
    for atom in (*pressed, *things):
        off = [float(normal @ (np.array(p) - (1000.0, 0.0))) for p in atom.plan]
        assert min(off) >= made.spec().edging_thick - 1e-6


def on_feet(mass: float) -> Demand:
    of = replace(made.thing(500.0, mass=mass), size=(300.0, 200.0), feet=(290.0, 160.0))
    return made.demand(of, single=20.0)


def test_a_thing_with_feet_presses_where_they_stand() -> None:
    # By hand: 40 kg on four feet of 25 mm is 10 kg on each; 290 of 300 would stick out, so they stand 275 apart.
    placed = made.straight([200.0, 500.0, 800.0])
    feet = Case(placed, on_feet(40.0)).actions
    (standing,) = np.flatnonzero([a.feet != () for a in feet.atoms])
    corners = np.array(feet.atoms[standing].on).reshape(-1, 2)
    assert sorted(set(corners[:, 0].round(6))) == pytest.approx([350.0, 375.0, 625.0, 650.0])
    four = [
        replace(made.thing(500.0 + a, mass=10.0, out=120.0 + b), size=(25.0, 25.0))
        for a in (-137.5, 137.5)
        for b in (-80.0, 80.0)
    ]
    apart = Case(placed, made.demand(*four)).actions
    each = [k for k, a in enumerate(apart.atoms) if a.name == "thing"]
    assert feet.drop[:, standing] == pytest.approx(apart.drop[:, each].sum(axis=1), rel=1e-9)
    assert feet.whole[:, standing] == pytest.approx(apart.whole[:, each].sum(axis=1), rel=1e-9)


def test_a_heavy_foot_counts_where_one_thing_does() -> None:
    # Roark T11.4 case 1b by hand (from memory; a strip, beta 1): 400 kg on four feet, EN 1990 factor 1.5, on 18 mm over
    # the slot that a solid core leaves, 5/8 in and twice 1.6 mm: the spot is cut to half of it.
    found = Case(made.straight([200.0, 500.0, 800.0], basis="ec5"), on_feet(400.0), "ec5").judged()
    row = next(c for c in found.checks if c.id == "skin.patch@top skin")
    W, b, t = 1.5 * 100 * G_N, 15.875 + 3.2, 18.0
    hand = 3 * W / (2 * np.pi * t**2) * (1.3 * np.log(2 * b / (np.pi * b / 2)) + 1.0)
    assert row.demand == pytest.approx(hand, rel=1e-6)
    assert row.case.endswith("thing")


# ---- cases


@pytest.mark.parametrize("basis", BASES)
def test_every_case_is_in_balance_with_what_it_puts_on(basis: Basis) -> None:
    """By hand, about the face of the wood: forces and levers of every part of the load, and the rods' own weight."""
    case = usual(basis)
    search = case.search()
    assert len(search.cases) > 20
    assert not search.lost
    middle = np.array(
        [FREE - Polygon(a.plan).centroid.y for a in case.actions.atoms], dtype=np.float64
    )
    forces = np.array([a.force for a in case.actions.atoms])
    steel = [r.bar.mass_per_length * G_N * (FREE + r.projection) for r in case.frame.rods]
    turned = [w * (FREE + r.projection) / 2 for w, r in zip(steel, case.frame.rods, strict=True)]
    for solved in search.cases.values():
        own = solved.combination.dead
        V = sum(rod.V for rod in solved.answer.rods)
        M = sum(rod.M for rod in solved.answer.rods)
        assert pytest.approx(solved.factors @ forces + own * sum(steel), rel=3e-4) == V
        by_hand = solved.factors @ (forces * middle) + own * sum(turned)
        assert pytest.approx(by_hand, rel=1e-3) == M


@pytest.mark.parametrize(
    ("rods", "pressure"),
    [((250, 700), 0.002), ((300, 750), 0.004), ((200, 450, 650), 0.001), ((350, 520), 0.004)],
)
def test_no_subset_of_the_contents_asks_more_of_a_rod_than_the_patterns_found(
    rods: tuple[float, ...], pressure: float
) -> None:
    """All subsets of the parts of the contents tried, with a rod proud at random or none: the search has the worst."""
    asked = made.demand(made.even(pressure), accidents=())
    case = Case(made.straight([float(x) for x in rods]), asked)
    live, dead = np.flatnonzero(case.actions.of("live")), case.actions.of("dead")
    assert 8 <= len(live) <= 12
    service, source = rules("nds").combinations[0], Random(1)  # noqa: S311
    found = case.search()
    worst, answer, furthest, hung = [0.0 for _ in rods], None, 0.0, case.hung()
    every = range(2 ** len(live))
    tried = every if len(every) <= 256 else source.sample(every, 400)
    for bits in tried:
        there = dead.copy()
        there[live[[k for k in range(len(live)) if bits >> k & 1]]] = True
        loaded = case.actions.under(case.actions.factors(service, there))
        for proud in (None, source.randrange(len(rods))):
            answer = case.resting.solve(loaded, raised=found.raised(proud), like=answer)
            worst = [max(w, rod.M) for w, rod in zip(worst, answer.rods, strict=True)]
            if proud is None:
                furthest = max(furthest, float((answer.read - hung).max()))
    everything = case.resting.solve(
        case.actions.under(case.actions.factors(service, dead | case.actions.of("live")))
    )
    # Not simply everything: what stands past one end lifts the shelf off the rod at the other.
    assert any(w > rod.M * 1.001 for w, rod in zip(worst, everything.rods, strict=True))
    for i, most in enumerate(worst):
        assert max(c.answer.rods[i].M for c in found.cases.values()) >= most * (1 - 0.004)
    level = [c for c in found.of(service) if c.pattern.proud is None]
    assert max(float((c.answer.read - hung).max()) for c in level) >= furthest * (1 - 0.004)


def test_a_rod_proud_of_the_others_carries_more_and_one_in_plane_never_counts_less() -> None:
    case = usual("nds")
    search = case.search()
    for i in range(3):
        plane = [c for c in search.cases.values() if c.pattern.proud is None]
        proud = [c for c in search.cases.values() if c.pattern.proud == i]
        assert max(c.answer.rods[i].M for c in proud) > max(c.answer.rods[i].M for c in plane)


def test_of_two_rods_neither_carries_more_for_being_proud() -> None:
    # By hand: two rods alike, the load amid them: each takes half by balance alone. Raised, the shelf tilts along the
    # wall, and nothing else changes.
    case = Case(made.straight([300.0, 700.0]), made.demand(made.even(0.001), accidents=()))
    loaded = case.actions.under(
        case.actions.factors(rules("nds").combinations[0], case.actions.of("dead", "live"))
    )
    level = case.resting.solve(loaded)
    first = case.resting.solve(loaded, raised=[0.2, -0.2])
    second = case.resting.solve(loaded, raised=[-0.2, 0.2])
    assert pytest.approx(level.rods[1].V, rel=1e-6) == level.rods[0].V
    assert pytest.approx(second.rods[1].V, rel=1e-6) == first.rods[0].V
    assert pytest.approx(level.rods[0].M, rel=1e-6) == first.rods[0].M
    assert pytest.approx(2 * level.rods[0].V, rel=1e-9) == first.rods[0].V + first.rods[1].V
    up = case.resting.solve(loaded, raised=[0.3, 0.3])
    assert pytest.approx(level.rods[0].V, rel=1e-9) == up.rods[0].V
    assert up.read == pytest.approx(level.read - 0.3, abs=1e-9)


def test_strength_is_solved_on_its_own_and_not_scaled_from_service() -> None:
    # 1.35G + 1.5Q on slots with play is not 1.35 or 1.5 times service: contact moves.
    search = usual("ec5").search()
    plain = [c for c in search.cases.values() if c.pattern.name == ""]
    service = next(c for c in plain if c.combination.id == "G + Q")
    strength = next(c for c in plain if c.combination.id == "1.35G + 1.5Q")
    own = [rod.weight * rod.tip for rod in service.answer.rods]
    share = [
        (s.V - 1.35 * o) / (r.V - o)
        for s, r, o in zip(strength.answer.rods, service.answer.rods, own, strict=True)
    ]
    assert max(share) - min(share) > 1e-4
    assert all(1.2 < each < 1.8 for each in share)


def test_service_and_strength_of_equal_factors_are_one_solve() -> None:
    search = usual("nds").search()
    assert len({id(c.answer) for c in search.cases.values()}) < len(search.cases)


# ---- verdicts


def test_one_rod_alone_lets_a_shelf_roll_and_that_fails() -> None:
    room, frame = made.straight([500.0])
    asked = made.demand(made.even())
    found = holds(Given(room, frame, made.spec(), asked, "nds", 20.0, made.solid(frame)))
    row = next(check for check in found.checks if check.family == "stab.contact")
    assert row.state == found.verdict == "fails"
    assert row.reason


def test_a_leg_far_out_of_square_cannot_be_said() -> None:
    room, frame = made.straight([200.0, 800.0])
    askew = replace(frame, legs=(frame.legs[0], replace(frame.legs[0], front=((0, 0), (900, 200)))))
    assert isinstance(
        put(room=room, frame=askew, spec=made.spec(), core=made.solid(frame)), NotStood
    )


@pytest.mark.parametrize("basis", BASES)
def test_drop_is_a_solve_less_the_hung_state(basis: Basis) -> None:
    case = usual(basis)
    found = case.judged().drop
    assert found is not None
    plain = rules(basis).combinations[0]
    full = case.resting.solve(
        case.actions.under(case.actions.factors(plain, case.actions.of("dead", "live")))
    )
    hung = case.resting.solve(
        case.actions.under(np.ones(len(case.actions.atoms)) * case.actions.of("dead"))
    )
    assert found.today.value >= (full.read - hung.read).max() - 1e-9
    assert found.long_term.value > found.today.value


def test_nothing_on_it_drops_nothing_and_what_comes_and_goes_does_not_creep() -> None:
    placed = made.straight([200.0, 500.0, 800.0])
    empty = Case(placed, made.demand(made.even(0.0))).judged().drop
    stays = Case(placed, made.demand(made.even(0.002, lasts="years"))).judged().drop
    goes = Case(placed, made.demand(made.even(0.002, lasts="days"))).judged().drop
    assert empty is not None
    assert stays is not None
    assert goes is not None
    assert empty.today.value == pytest.approx(0.0, abs=1e-9)
    assert goes.today.value == pytest.approx(stays.today.value, rel=1e-9)
    assert goes.today.value < goes.long_term.value < stays.long_term.value


@pytest.mark.parametrize("basis", BASES)
def test_sharing_between_rods_is_kinder_than_a_rod_alone_but_never_free(basis: Basis) -> None:
    """Against the one-rod model, which gives the single load to one rod: its rows are an upper bound here."""
    case = usual(basis)
    alone = made.judged((case.room, case.frame), case.asked, basis=basis)
    rows = {c.id: c for c in case.judged().checks}
    for row in alone.checks:
        if row.family in ("rod.bend", "bed.limit"):
            assert 0.3 * row.ratio < rows[row.id].ratio < 1.05 * row.ratio, row.id


# ---- how it is printed


@pytest.mark.parametrize("name", NAMES)
def test_every_row_of_the_examples_is_led_to_by_its_lines(name: str) -> None:
    for design in plan(name).designs:
        for check in design.holds.checks:
            values = [step.value for step in check.steps]
            if check.family != "stab.contact" and check.steps:
                assert any(abs(v) == pytest.approx(check.demand, rel=1e-9) for v in values), (
                    check.id
                )
            for step in check.steps:
                assert reckon(step.numbers, {}) == pytest.approx(step.value, rel=5e-3, abs=1e-3), (
                    check.id,
                    step,
                )


def test_a_run_without_lines_gives_the_same_figures() -> None:
    case = usual("nds")
    full, bare = case.judged(), case.judged(keep=False)
    assert [replace(check, steps=()) for check in full.checks] == list(bare.checks)
    assert (full.drop, full.forces, full.verdict) == (bare.drop, bare.forces, bare.verdict)


def test_cases_say_which_loads_stand_where() -> None:
    names = {check.case for check in usual("nds").judged().checks}
    assert any("proud of the others" in name for name in names)
    assert any("at the end past" in name for name in names)


def test_examples_name_their_rods_in_wall_order() -> None:
    for name in NAMES:
        design = plan(name).designs[0]
        assert job(name).shelves
        ids = [f.rod for f in design.holds.forces[: len(design.frame.rods)]]
        walls = [i.split(".")[0] for i in ids]
        assert sum(a != b for a, b in pairwise(walls)) == len(set(walls)) - 1
