"""What else could hold this shelf under the same loads: bars on a plate screwed to the studs, a cleat inside it.

For comparison alone: neither is designed here, and neither has a say in the verdict.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from ledgewright import stock
from ledgewright.job import Basis, Demand, Lasts, Spec, Thing
from ledgewright.statics.bases import (
    Combination,
    Driven,
    MemberRules,
    Resistance,
    Rules,
    When,
    member_rules,
    rules,
)
from ledgewright.statics.formula import Working
from ledgewright.statics.given import Given
from ledgewright.statics.inputs import NOMINAL
from ledgewright.statics.loads import G_N, Part, lasts, parts, self_weight
from ledgewright.statics.mechanics import rivals as r
from ledgewright.statics.model import Mode, Rival, Step
from ledgewright.statics.one_rod import unsaid
from ledgewright.statics.row import Found, ratio
from ledgewright.statics.seats import Row, Seat, rows
from ledgewright.stock import Bar, Screw, Timber

PLATE = 150.0
"""Height of the plate (mm, about 6 in, common practice); it is as wide as its stud's face."""
FROM_EDGE = 20.0
"""Screws stand so far from the plate's upper and lower edge (mm, common practice)."""
PER_ROW = 2.0
"""Screws in each of the two rows."""
CLEAT = 38.0
"""Depth of the cleat out from the wall (mm, a nominal two by timber)."""
SKIN_SCREWS = 150.0
"""The top skin is screwed to the cleat so far apart (mm, common practice)."""
CRUSHED = 2.4
"""What gypsum board takes before it crushes (MPa): 350 psi (from memory)."""
MARGIN = 2.5
"""Over its crushing (assumed): it is brittle, and gets soft when damp."""
SOFT = 100.0
"""Modulus of a lining through its thickness (MPa, assumed)."""
SENSIBLE = 10.0
"""A drop of so many times its limit is no figure: small tilts are taken for granted."""
MOST = 100.0
"""So many times the contents are looked for, no more."""
SCREWS: dict[Basis, tuple[str, str, str, str]] = {
    "nds": ("no. 14 x 3", "lag 1/4 x 4", "no. 8 x 2", "flat 1-1/4x1/4 a36"),
    "ec5": ("6 x 80", "6 x 100", "4 x 40", "flat 30x6 S235"),
}
"""Screws of the plate and of the cleat to the stud, from the skin to the cleat; the flat gives the plate's steel and
thickness."""
SCREW_YIELD = 400.0
"""Yield strength of a wood screw (MPa): assumed, below the 70 ksi of NDS-2018 App. Table I1 at this diameter."""
TO_DENSITY = 1120.0
"""From the specific gravity of the NDS back to the density that its rules take (kg/m3)."""
NOT_A_DESIGN = "for comparison; not a design of a bracket or a cleat"


@dataclass(frozen=True)
class _On:
    """One stud's share of the loads, with the means to judge what could hold it."""

    seat: Seat
    timber: Timber
    parts: tuple[Part, ...]
    spacing: float
    core: float
    basis: Basis
    combination: Combination
    limit: float
    plate: float = PLATE
    live: float = 1.0

    @property
    def screw_rows(self) -> tuple[float, float]:
        return self.plate - FROM_EDGE, FROM_EDGE

    @property
    def rules(self) -> Rules:
        return rules(self.basis)

    @property
    def timbers(self) -> MemberRules:
        return member_rules(self.basis)

    @property
    def when(self) -> When:
        stays: Lasts = lasts(self.parts)
        return When(self.combination.situation, stays)

    @property
    def screws(self) -> tuple[Screw, Screw, Screw, Bar]:
        plate, cleat, skin, flat = SCREWS[self.basis]
        return stock.screw(plate), stock.screw(cleat), stock.screw(skin), stock.bar(flat)

    @property
    def lining(self) -> float:
        return self.seat.rod.free

    def load(self, w: Working) -> tuple[float, float]:
        """Return the load (N) and its moment about the finished face (N mm)."""
        P = M = 0.0
        for part in self.parts:
            factor = self.combination.factor(part.kind)
            factor *= self.live if part.kind == "live" else 1.0
            # The rod itself is no part of a rival.
            if part.kind != "rod":
                P += factor * part.force
                M += factor * part.force * max(part.lever - self.lining, 0.0)
        source = f"This stud's share, {self.combination.id}"
        w.given("P", P, unit="N", source=source)
        return P, w.given("M", M, unit="N mm", source=f"{source}, about the face of the lining")


Rule = Callable[[Working, _On], Found]


def _tilted(w: Working, on: _On, h: float, upper: float, lower: float) -> tuple[float, float]:
    """Return the pull of an upper screw (N) and the pressure on the lining (MPa)."""
    _, M = on.load(w)
    n = w(
        r.acting, n=w.given("n", PER_ROW, unit="1", source="Screws in each row (common practice)")
    )
    upper, lower = (w(r.lever, rise=rise, h=h) for rise in (upper, lower))
    T = w(r.top_screw, M=M, upper=upper, lower=lower, n=n)
    C = w(r.pressed_by, n=n, T=T, lower=w(r.lower_screw, T=T, upper=upper, lower=lower))
    return T, w(r.lining_pressure, C=C, b=on.timber.width, h=h)


def _screwed(w: Working, on: _On, screw: Screw, over: float, T: float, V: float) -> Found:
    """Return how a screw to the stud is used by pull and shear at once; over: of it outside the wood (mm)."""
    into = max(screw.length - over, 1.0)
    driven = Driven(screw, over, into, "side grain", on.timber)
    pull = on.timbers.withdrawal(w, driven, on.when)
    # Sideways it stands out of the stud by the lining, which holds nothing, as a pin.
    density = on.timber.rho_mean or (on.timber.G or 0.0) * TO_DENSITY
    shear = on.timbers.pin(
        w,
        on.when,
        density=density,
        source=on.timber.source,
        d=screw.root,
        t=into,
        Fy=SCREW_YIELD,
        e=w.given("e", on.lining, unit="mm", source="The lining holds no screw (assumed)"),
    )
    source = f"{pull.source}; {shear.source}"
    if on.basis == "ec5":
        used = w(r.squares, W=pull.value, Z=shear.value, T=T, V=V)
        return used, replace(pull, value=1.0, source=f"{source}; EN 1995-1-1 8.7.3")
    asked = w(r.resultant, T=T, V=V)
    can = w(r.aslant, W=pull.value, Z=shear.value, T=T, V=V)
    return asked, replace(pull, value=can, source=f"{source}; NDS-2018 12.4")


def _crushed(w: Working) -> Resistance:
    f = w.given("f_l", CRUSHED, unit="MPa", source="Gypsum board (from memory)", assumed=True)
    why = "strength of the lining from memory"
    return Resistance(f / MARGIN, "stretched", why, "Crushing of gypsum board over 2.5 (assumed)")


def plate_screws(w: Working, on: _On) -> Found:
    """Return what an upper screw of the plate is asked and can take (N)."""
    T, _ = _tilted(w, on, on.plate, *on.screw_rows)
    V = on.load(Working(keep=False))[0] / (2 * PER_ROW)
    return _screwed(w, on, on.screws[0], on.lining, T, V)


def plate_lining(w: Working, on: _On) -> Found:
    """Return the pressure of the plate's lower edge on the lining, and what it can take (MPa)."""
    return _tilted(w, on, on.plate, *on.screw_rows)[1], _crushed(w)


def plate_bends(w: Working, on: _On) -> Found:
    """Return the moment in the plate beside its bar, and what it can take (N mm)."""
    T, _ = _tilted(w, on, on.plate, *on.screw_rows)
    M = w(r.plate_moment, n=PER_ROW, T=T, z=_beside_bar(on))
    return M, on.rules.rod_bend(w, _plate(on), 0.0, on.combination.situation)


def _beside_bar(on: _On) -> float:
    """From the upper screws to the edge of the bar (mm)."""
    return max(on.screw_rows[0] - on.plate / 2 - on.seat.rod.bar.height / 2, 1.0)


def _plate(on: _On) -> Bar:
    """The plate as a flat bar that bends across its thickness, as wide as the stud."""
    flat = on.screws[3]
    thick = min(flat.width, flat.height)
    return replace(flat, width=on.timber.width, height=thick)


def bar_bends(w: Working, on: _On) -> Found:
    """Return the moment of the bar at the plate, and what it can take (N mm)."""
    _, M = on.load(w)
    bar = on.seat.rod.bar
    return M, on.rules.rod_bend(w, bar, on.seat.rod.projection, on.combination.situation)


def cleat_screws(w: Working, on: _On) -> Found:
    """Return what a screw of the cleat is asked and can take (N): in one row at half its height."""
    T, _ = _tilted(w, on, on.core, on.core / 2, on.core / 2)
    V = on.load(Working(keep=False))[0] / PER_ROW
    return _screwed(w, on, on.screws[1], on.lining + CLEAT, 2 * T, V)


def cleat_lining(w: Working, on: _On) -> Found:
    """Return the pressure of the cleat's lower edge on the lining before a stud, and what it can take (MPa)."""
    return _tilted(w, on, on.core, on.core / 2, on.core / 2)[1], _crushed(w)


def skin_screws(w: Working, on: _On) -> Found:
    """Return what a screw from the top skin into the cleat is asked and can take (N)."""
    _, M = on.load(w)
    n = max(on.spacing / SKIN_SCREWS, 1.0)
    T = w(
        r.cleat_screw, M=M, d=CLEAT, n=w.given("n", n, unit="1", source="Screws to a stud's share")
    )
    screw = on.screws[2]
    driven = Driven(screw, 18.0, min(screw.length - 18.0, on.core), "side grain", on.timber)
    return T, on.timbers.withdrawal(w, driven, on.when)


def plate_drops(w: Working, on: _On) -> Found:
    """Return how far the front drops on day one, and how far it may (mm)."""
    T, p = _tilted(w, on, on.plate, *on.screw_rows)
    plate = _plate(on)
    I = plate.width * plate.height**3 / 12
    gives = w(r.plate_gives, n=PER_ROW, T=T, z=_beside_bar(on), E=plate.E, I=I)
    upper = r.lever(rise=on.screw_rows[0], h=on.plate)
    theta = _theta(w, on, T, p, upper, on.screws[0], on.lining, gives)
    P, M = on.load(w)
    bar, D = on.seat.rod.bar, on.seat.front - on.lining
    a = min(M / P, D) if P else 0.0
    drop = w(r.bracket_drop, theta=theta, D=D, P=P, a=a, E=bar.E, I=bar.inertia)
    return drop, Resistance(on.limit, "stretched", "moduli assumed", "The job's limit")


def cleat_drops(w: Working, on: _On) -> Found:
    """Return how far the front drops on day one, and how far it may (mm)."""
    T, p = _tilted(w, on, on.core, on.core / 2, on.core / 2)
    upper = r.lever(rise=on.core / 2, h=on.core)
    theta = _theta(w, on, 2 * T, p, upper, on.screws[1], on.lining + CLEAT, 0.0)
    drop = w.given("w_t", theta * (on.seat.front - on.lining), unit="mm", source="Tilt times depth")
    return drop, Resistance(on.limit, "stretched", "moduli assumed", "The job's limit")


def _theta(
    w: Working, on: _On, T: float, p: float, upper: float, screw: Screw, over: float, gives: float
) -> float:
    K = w(r.pull_stiffness, d=screw.diameter, l=max(screw.length - over, 1.0))
    return w(r.tilt, T=T, K=K, w=gives, p=p, t=on.lining, E=SOFT, upper=upper)


DROPS = (plate_drops, cleat_drops)
BARS: tuple[tuple[str, str, Rule], ...] = (
    ("screws pull out", "N", plate_screws),
    ("lining crushes", "MPa", plate_lining),
    ("plate bends", "N mm", plate_bends),
    ("bar bends", "N mm", bar_bends),
    ("front drops too far", "mm", plate_drops),
)
ON_CLEAT: tuple[tuple[str, str, Rule], ...] = (
    ("screws to the studs pull out", "N", cleat_screws),
    ("lining crushes", "MPa", cleat_lining),
    ("skin pulls off the cleat", "N", skin_screws),
    ("front drops too far", "mm", cleat_drops),
)


def rivals(given: Given, *, plate: float = PLATE) -> tuple[Rival, ...]:
    """Return what bars on plates and a cleat would do under the same loads; none where the wall cannot be judged.

    docs/rivals.md. Each stud carries its share by length, as where a rod is judged alone.

    Args:
        given: the shelf and its loads; of its core the weight counts.
        plate: height of the plates (mm).
    """
    room, frame, spec, demand, basis = (
        given.room,
        given.frame,
        given.spec,
        given.demand,
        given.basis,
    )
    if unsaid(room, frame, rules(basis), given.temperature, given.heat):
        return ()
    pressure = self_weight(spec, frame, given.core)
    legs = rows(room, frame, NOMINAL)
    every = [
        replace(_stud(row, index, demand, pressure, spec, basis, each), plate=plate)
        for row in legs
        for index in range(len(row.seats))
        for each in rules(basis).combinations
        if each.situation != "service" or not each.single
    ]
    studs = [on for on in every if not on.seat.across]
    if not studs:
        return ()
    length = sum(row.front[1] - row.front[0] for row in legs)
    per_length = _contents(demand, legs) / length
    return (
        _rival("bars on plates", BARS, studs, per_length),
        _rival("cleat in the shelf", ON_CLEAT, studs, per_length),
    )


def _contents(demand: Demand, legs: Sequence[Row]) -> float:
    """All that stands on a shelf (N)."""
    total = 0.0
    for load in demand.loads:
        if isinstance(load, Thing):
            total += load.mass * G_N
            continue
        for row in (row for row in legs if load.wall in (None, row.leg.wall)):
            start = row.low if load.start is None else max(load.start, row.low)
            end = row.high if load.end is None else min(load.end, row.high)
            each = load.per_length if load.pressure is None else load.pressure * row.leg.depth
            total += (each or 0.0) * max(end - start, 0.0)
    return total


def _stud(
    row: Row,
    index: int,
    demand: Demand,
    pressure: float,
    spec: Spec,
    basis: Basis,
    each: Combination,
) -> _On:
    seat = row.seats[index]
    timber = seat.member.timber
    if timber is None:
        msg = f"member {seat.member.id} has no timber"
        raise ValueError(msg)
    sides = [row.spacing(index, left=left) for left in (True, False)]
    near = [s for s in sides if s is not None]
    found = parts(row, index, demand=demand, pressure=pressure, keep=False)
    spacing = sum(near) / len(near) if near else row.front[1] - row.front[0]
    return _On(seat, timber, found, spacing, spec.core.thick, basis, each, demand.limits.drop_today)


def _rival(
    name: str,
    modes: Sequence[tuple[str, str, Rule]],
    studs: Sequence[_On],
    per_length: float,
) -> Rival:
    made = tuple(_mode(title, unit, rule, _asking(rule, studs)) for title, unit, rule in modes)
    reached = [
        (title, _reached(rule, on)) for title, _, rule in modes for on in _asking(rule, studs)
    ]
    first, factor = min(reached, key=lambda each: each[1])
    none = [mode for mode in made if factor == 0.0]
    return Rival(
        name=name,
        modes=made,
        first=max(none, key=lambda mode: mode.ratio).title if none else first,
        even=None if factor >= MOST else factor * per_length,
        share=factor,
        drop=made[-1].demand if made[-1].ratio <= SENSIBLE else None,
        note=NOT_A_DESIGN,
    )


def _asking(rule: Rule, studs: Sequence[_On]) -> list[_On]:
    """The loads that a mode is asked under: in service for a drop, in strength and accident for all else."""
    drops = rule in DROPS
    return [on for on in studs if (on.combination.situation == "service") == drops]


def _mode(title: str, unit: str, rule: Rule, studs: Sequence[_On]) -> Mode:
    worst = max(studs, key=lambda on: ratio(rule(Working(keep=False), on)))
    w = Working(keep=True)
    demand, can = rule(w, worst)
    steps: tuple[Step, ...] = w.steps
    case = f"{worst.combination.situation}: {worst.combination.id}, {worst.seat.rod.mark}"
    return Mode(
        title, demand, can.value, ratio((demand, can)), unit, case, can.scope, can.reason, can.source, steps
    )  # fmt: skip


def _reached(rule: Rule, on: _On) -> float:
    """How many times its contents a stud's share may be before a mode is reached; 0 if self-weight does."""

    def over(times: float) -> bool:
        return ratio(rule(Working(keep=False), replace(on, live=times))) > 1

    low, high = 0.0, 1.0
    if over(0.0):
        return 0.0
    while not over(high):
        if high >= MOST:
            return MOST
        low, high = high, high * 2
    for _ in range(30):
        middle = (low + high) / 2
        low, high = (low, middle) if over(middle) else (middle, high)
    return low
