"""What rests on each rod: self-weight, contents, the single thing and the accidental load, each with its lever."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ledgewright import plane
from ledgewright.core import Core, mass
from ledgewright.job import Demand, Even, Lasts, Spec, Thing
from ledgewright.layout import Frame
from ledgewright.statics import mechanics
from ledgewright.statics.bases import Kind
from ledgewright.statics.formula import Working
from ledgewright.statics.model import Step
from ledgewright.statics.seats import Row, Seat

G_N = 9.80665
"""Standard gravity (m/s2)."""
PATCH = 100.0
"""Footprint of the single thing (mm)."""
FOOT = 25.0
"""Side of each foot of a thing that stands on four (mm, assumed)."""
CONTENTS = 250.0
"""How deep contents given by length are taken to be (mm, about 10 in, assumed), flush with the front edge."""
LONGEST: tuple[Lasts, ...] = ("years", "months", "days", "minutes")


@dataclass(frozen=True)
class Part:
    """One load on one rod: its kind, share (N), lever from the wood (mm), how long it stays, and its lines."""

    name: str
    kind: Kind
    force: float
    lever: float
    lasts: Lasts
    number: int
    lines: tuple[Step, ...]

    @property
    def symbols(self) -> tuple[str, str]:
        """The symbols of force and lever."""
        return f"P_{self.number}", f"a_{self.number}"


def self_weight(spec: Spec, frame: Frame, core: Core | None) -> float:
    """Return the self-weight over the plan (MPa)."""
    return mass(spec=spec, frame=frame, core=core) * G_N / abs(plane.area(frame.outline))


@dataclass(frozen=True)
class Rest:
    """What a load is called, its kind, and how long it stays."""

    name: str
    kind: Kind
    lasts: Lasts


@dataclass
class _Tally:
    """The parts of one rod as they are found, and the lines that lead to them."""

    row: Row
    index: int
    w: Working
    parts: list[Part]

    @property
    def seat(self) -> Seat:
        return self.row.seats[self.index]

    def add(self, load: Rest, force: float, lever: float, *, assumed: bool = False) -> None:
        """Put down a load's share on this rod; assumed: whether its lever is."""
        number = len(self.parts) + 1
        self.w.last(f"P_{number}", about=load.name)
        source = f"{load.name}: lever from the wood"
        self.w.given(f"a_{number}", lever, unit="mm", source=source, assumed=assumed)
        lines = self.w.taken()
        self.parts.append(Part(load.name, load.kind, force, lever, load.lasts, number, lines))


def parts(row: Row, index: int, *, demand: Demand, pressure: float, keep: bool) -> tuple[Part, ...]:
    """Return all loads on one rod.

    Args:
        row: the leg.
        index: which of its rods.
        demand: loads of the shelf.
        pressure: self-weight over the plan (MPa).
        keep: whether to keep the lines that lead to each.
    """
    tally = _Tally(row, index, Working(keep=keep), [])
    dead = Even("self-weight", pressure, None, None, None, None, "years", assumed=False)
    _strip(tally, dead, Rest("self-weight", "dead", "years"))
    _bar(tally)
    for load in demand.loads:
        if isinstance(load, Even):
            _strip(tally, load, Rest(load.id, "live", load.lasts))
        else:
            _thing(tally, load)
    if demand.single > 0:
        rest = Rest("one thing anywhere", "single", "minutes")
        _worst(tally, rest, demand.single * G_N, PATCH)
    if accident := demand.accident:
        rest = Rest(accident.id, "accident", "minutes")
        _worst(tally, rest, accident.force, accident.patch)
    return tuple(tally.parts)


def _bar(tally: _Tally) -> None:
    weight = tally.seat.rod.bar.mass_per_length * G_N * tally.seat.tip
    tally.w.given("P", weight, unit="N", source="Steel at 7850 kg/m3")
    tally.add(Rest("the rod itself", "rod", "years"), weight, tally.seat.tip / 2)


def _strip(tally: _Tally, load: Even, rest: Rest) -> None:
    """An even load; one given by pressure acts at mid depth, one given by length flush with the front."""
    row, seat = tally.row, tally.seat
    if load.wall is not None and load.wall != row.leg.wall:
        return
    low = row.low if load.wall is None else row.leg.start
    start = low if load.start is None else max(low, load.start)
    end = row.high if load.end is None else min(row.high, load.end)
    inside, past, middle, spacing = _reach(row, tally.index, start, end)
    if inside + past <= 0:
        return
    if load.pressure is not None:
        w = tally.w(mechanics.per_length, p=load.pressure, D=seat.depth)
    else:
        w = tally.w.given(
            "w", load.per_length or 0.0, unit="N/mm", source=f"{load.id}: load per length"
        )
    if past > 0:
        force = tally.w(mechanics.end_share, w=w, b=inside, o=past, c=middle, s=spacing)
    else:
        force = tally.w(mechanics.tributary, w=w, b=inside)
    by_length = load.pressure is None
    deep = min(CONTENTS, seat.depth) if by_length else seat.depth
    tally.add(rest, force, seat.front - deep / 2, assumed=by_length)


def _reach(row: Row, index: int, start: float, end: float) -> tuple[float, float, float, float]:
    """Loaded length inside, loaded length past the end rod, distance to its middle, spacing; a lone rod takes all."""
    x = row.seats[index].x
    left, right = row.spacing(index, left=True), row.spacing(index, left=False)
    if left is None and right is None:
        return max(0.0, end - start), 0.0, 0.0, 1.0
    low = x - left / 2 if left is not None else x
    high = x + right / 2 if right is not None else x
    inside = max(0.0, min(end, high) - max(start, low))
    if left is None and right is not None and start < x:
        far, near = start, min(end, x)
        return inside, max(0.0, near - far), x - (near + far) / 2, right
    if right is None and left is not None and end > x:
        near, far = max(start, x), end
        return inside, max(0.0, far - near), (near + far) / 2 - x, left
    return inside, 0.0, 0.0, 1.0


def _thing(tally: _Tally, load: Thing) -> None:
    if load.wall != tally.row.leg.wall:
        return
    force = _placed(tally, load.mass * G_N, load.along)
    if force is not None:
        rest = Rest(load.id, "live", load.lasts)
        tally.add(rest, force, tally.seat.rod.free + load.out)


def _worst(tally: _Tally, rest: Rest, W: float, patch: float) -> None:
    """One load at the worst place of the front edge for this rod: over it, or at an end past it."""
    x = tally.seat.x
    low, high = (tally.row.front[0] + patch / 2, tally.row.front[1] - patch / 2)
    ends = []
    if tally.row.spacing(tally.index, left=True) is None:
        ends.append(min(low, x))
    if tally.row.spacing(tally.index, left=False) is None:
        ends.append(max(high, x))
    at = max(ends, key=lambda end: abs(end - x), default=x)
    force = _placed(tally, W, at)
    if force is not None:
        tally.add(rest, force, tally.seat.front - min(patch, tally.seat.depth) / 2)


def _placed(tally: _Tally, W: float, at: float) -> float | None:
    """Return a rod's share of a load that stands at one place; None if it stands beyond a neighbour."""
    c = abs(at - tally.seat.x)
    here = tally.row.spacing(tally.index, left=at < tally.seat.x)
    away = tally.row.spacing(tally.index, left=at >= tally.seat.x)
    if here is None and away is None:
        return tally.w.given("P", W, unit="N", source="One rod takes all")
    if here is None and away is not None:
        return tally.w(mechanics.past_end, W=W, c=c, s=away)
    if here is not None and c < here:
        return tally.w(mechanics.between, W=W, c=c, s=here)
    return None


def lasts(these: Iterable[Part]) -> Lasts:
    """Return how long the longest-standing contents stay; contents that are not there count as standing."""
    stays = {part.lasts for part in these if part.kind == "live"}
    return next((each for each in LONGEST if each in stays), "years")
