"""The glue-up of a box and the setting of its rods: how much, how fast, with how many clamps.

All figures of the bench (seconds, cauls, what stays in the pot) are common practice and say so; the label governs.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from ledgewright import plane, stock
from ledgewright.core import Core, Piece
from ledgewright.job import Job, Shop, Spec
from ledgewright.layout import Frame, LegAt, edging_runs, into_wall
from ledgewright.plane import Point
from ledgewright.shop.model import CARTRIDGE, Made
from ledgewright.shop.needs import adhesive_in_hole, adhesive_in_slot
from ledgewright.shop.waits import comb, wait, work_time
from ledgewright.stock import Adhesive

SPREAD_S = 20.0
"""Seconds to spread one face of a core piece, its ends with it: common practice, a small roller or a spreader."""
PLACE_S = 10.0
"""Seconds to lay a core piece on its line."""
SKIN_S = 60.0
"""Seconds to lay a top skin on and line it up."""
CLAMP_S = 10.0
"""Seconds to set one clamp."""
ROD_S = 180.0
"""Seconds to fill a hole from its back, twist the rod in, wipe off and put the comb on."""
SLOT_S = 60.0
"""Seconds to fill a slot from its inner end and coat the bar (common practice)."""
HOME_S = 300.0
"""Seconds from the last slot to the shelf home, level and packed off its wall (our choice)."""
CAUL = 89.0
"""Height of a caul (mm): a 2x4 or 38 x 89 on edge."""
THIRSTY = 2
"""Coats of glue on end grain and on the edges of sheets: the second once the first has gone dull."""
IN_THE_POT = 0.15
"""What stays in pot and roller."""
PURGE = 10_000.0
"""What is pressed out of a fresh nozzle before it is used (mm3)."""


@dataclass(frozen=True)
class Pressing:
    """One go at the clamps: what goes in, how long it takes and what the glue allows (s).

    bare: how long the last faces to be covered lie open. whole: from the first spread to the last clamp.
    """

    what: Literal["all of it", "core on the bottom skin", "top skin on the core"]
    pieces: int
    bare: float
    whole: float
    may_lie: float
    may_take: float

    @property
    def fits(self) -> bool:
        """Whether the glue stays good for as long as it takes."""
        return self.bare <= self.may_lie and self.whole <= self.may_take


@dataclass(frozen=True)
class Cauls:
    """Pairs of cauls across one leg: where each stands, along its front from the left end as you face it (mm)."""

    wall: str
    length: float
    at: tuple[float, ...]
    lines: tuple[tuple[Point, Point], ...]


@dataclass(frozen=True)
class GlueUp:
    """The glue-up of one section.

    area: of faces between core and skins; thirsty: of edges and end grain that take two coats, edging and joints with
    them (mm2). mass, volume: of glue with what stays in the pot (kg, mm3). spacing: the most from caul to caul (mm).
    enough: hands with which it could be done in two pressings at the most, where those at hand are too few; None if
    no number of hands is enough. leave, work, load: waits at the shop's temperature (h).
    """

    section: str
    title: str
    glue: Adhesive
    area: float
    thirsty: float
    mass: float
    volume: float
    hands: int
    pressings: tuple[Pressing, ...]
    enough: int | None
    cauls: tuple[Cauls, ...]
    spacing: float
    clamps_needed: int
    clamps: int
    leave: float
    work: float
    load: float

    @property
    def fits(self) -> bool:
        """Whether every pressing can be done in time."""
        return all(pressing.fits for pressing in self.pressings)

    @property
    def clamps_short(self) -> int:
        """How many clamps are missing."""
        return max(0, self.clamps_needed - self.clamps)


@dataclass(frozen=True)
class Setting:
    """Setting all rods of one adhesive: in the holes with waste (mm3, kg), how many to a mix, mixes and cartridges.

    minutes: how long a mix stays workable on the wall's temperature. hurried: not even one rod is set in that time.
    """

    adhesive: Adhesive
    rods: int
    volume: float
    mass: float
    minutes: float
    per_mix: int
    mixes: int
    cartridges: int
    hurried: bool


@dataclass(frozen=True)
class InSlots:
    """Gluing a section onto its rods for good, one row for each adhesive: what goes into the slots, in one mix.

    rods: their marks. each: for the fullest slot (kg). volume, mass: in all with waste (mm3, kg). takes: from the first
    slot to the shelf home (s); minutes: how long the mix stays workable. leave, load: until the props come off, and
    until anything stands on it (h).
    """

    section: str
    title: str
    adhesive: Adhesive
    rods: tuple[str, ...]
    each: float
    volume: float
    mass: float
    minutes: float
    takes: float
    cartridges: int
    leave: float
    load: float

    @property
    def fits(self) -> bool:
        """Whether the shelf is home before the mix goes off."""
        return self.takes <= self.minutes * 60


def glue_up(shop: Shop, made: Made) -> GlueUp | None:
    """Return the glue-up of one section; None without a core.

    Source: common practice; areas by geometry. Pressure spreads at 45 degrees from a clamp through caul and skin.

    Args:
        shop: its glue, warmth, people and clamps.
        made: the section.

    Raises:
        TooColdError: if the shop is colder than the glue allows.
    """
    core, spec, frame, bench = made.core, made.spec, made.frame, shop.bench
    if core is None or not core.pieces:
        return None
    spread = stock.gluing(bench.glue.name).spread or 0.0
    thirsty = _thirsty(spec, frame, core, made)
    spacing = 2 * (CAUL + min(spec.skin_top.thick, spec.skin_bottom.thick))
    cauls = tuple(_cauls(frame, index, spacing) for index in range(len(frame.legs)))
    clamps = 2 * sum(len(each.at) for each in cauls)
    mass = spread * (core.glue_area + THIRSTY * thirsty) * 1e-6 * (1 + IN_THE_POT)
    skins = sum(p.count for p in made.parts if p.kind == "skin" and p.name.startswith("top"))
    given = _Go(bench.glue, bench.temperature, len(core.pieces), max(1, skins), clamps)
    pressings = _pressings(given, shop.people)
    return GlueUp(
        section=spec.id,
        title=spec.title,
        glue=bench.glue,
        area=core.glue_area,
        thirsty=thirsty,
        mass=mass,
        volume=mass / bench.glue.density * 1e9,
        hands=shop.people,
        pressings=pressings,
        enough=None if all(p.fits for p in pressings) else _enough(given, shop.people),
        cauls=cauls,
        spacing=spacing,
        clamps_needed=clamps,
        clamps=shop.clamps,
        leave=_cure(bench.glue, bench.glue.leave_alone, bench.temperature),
        work=_cure(bench.glue, bench.glue.work, bench.temperature),
        load=_cure(bench.glue, bench.glue.full_load, bench.temperature),
    )


def _cure(glue: Adhesive, hours: float, temperature: float) -> float:
    return wait(hours, temperature, glue.coldest)


@dataclass(frozen=True)
class _Go:
    """What one glue-up has to get done: so many core pieces, top skins and clamps, with which glue at what warmth."""

    glue: Adhesive
    temperature: float
    pieces: int
    skins: int
    clamps: int


def _pressings(go: _Go, hands: int) -> tuple[Pressing, ...]:
    """In one go if the glue allows it, else the core on the bottom skin first and the top skin after."""
    laid = go.pieces * (SPREAD_S + PLACE_S) / hands
    tops = go.pieces * SPREAD_S / hands + go.skins * SKIN_S
    clamped = go.clamps * CLAMP_S / hands
    worked = stock.gluing(go.glue.name)
    may_lie = work_time(worked.open_time or 0.0, go.temperature) * 60
    may_take = work_time(worked.assembly or 0.0, go.temperature) * 60
    once = Pressing(
        "all of it", go.pieces, tops, laid + tops + clamped, may_lie=may_lie, may_take=may_take
    )
    if once.fits:
        return (once,)
    return (
        Pressing(
            "core on the bottom skin",
            go.pieces,
            SPREAD_S + PLACE_S,
            laid + clamped,
            may_lie=may_lie,
            may_take=may_take,
        ),
        Pressing(
            "top skin on the core",
            go.pieces,
            tops,
            tops + clamped,
            may_lie=may_lie,
            may_take=may_take,
        ),
    )


MOST_HANDS = 8


def _enough(go: _Go, hands: int) -> int | None:
    return next(
        (
            more
            for more in range(hands + 1, MOST_HANDS + 1)
            if all(p.fits for p in _pressings(go, more))
        ),
        None,
    )


def _thirsty(spec: Spec, frame: Frame, core: Core, made: Made) -> float:
    """Edges of the skins behind the edging, joints of skins, ends of ribs and blocks (mm2)."""
    skins = spec.skin_top.thick + spec.skin_bottom.thick
    edges = sum(length for _, length in edging_runs(frame, spec)) * skins
    ends = sum(2 * p.width * spec.core.thick for p in core.pieces if not _strip(p))
    mitre = math.hypot(*spec.depths) if len(spec.legs) > 1 else 0.0
    joints = sum(_joint(made, side, mitre) for side in ("top", "bottom"))
    return edges + ends + joints


def _strip(piece: Piece) -> bool:
    return piece.kind in ("back strip", "front strip")


def _joint(made: Made, side: str, mitre: float) -> float:
    """Both edges of the joint of a skin in two pieces, as long as a mitre is (mm2)."""
    skins = [p for p in made.parts if p.kind == "skin" and p.name.startswith(side)]
    return 2 * mitre * skins[0].finished[2] if len(skins) > 1 else 0.0


def _cauls(frame: Frame, index: int, spacing: float) -> Cauls:
    """Pairs of cauls evenly along a leg, none further from the next than the spacing, the first half of that in."""
    leg = frame.legs[index]
    start, length = _stretch(frame, index)
    along = plane.unit(plane.sub(leg.front[1], leg.front[0]))
    count = max(1, math.ceil(length / spacing - 1e-9))
    at = tuple((k + 0.5) * length / count for k in range(count))
    lines = tuple(_across(leg, plane.along(start, along, x)) for x in at)
    return Cauls(leg.wall, length, at, lines)


def _stretch(frame: Frame, index: int) -> tuple[Point, float]:
    """Where cauls begin on a leg's front line and how far they go; the corner of an L belongs to its left leg."""
    leg = frame.legs[index]
    front = plane.length(plane.sub(leg.front[1], leg.front[0]))
    if len(frame.legs) == 1:
        return leg.front[0], front
    along = plane.unit(plane.sub(leg.front[1], leg.front[0]))
    inside = frame.turn == "inside"
    if index == 0:
        return leg.front[0], front + frame.legs[1].depth * inside
    return (
        (leg.front[0], front)
        if inside
        else (
            plane.along(leg.front[0], along, frame.legs[0].depth),
            front - frame.legs[0].depth,
        )
    )


def _across(leg: LegAt, front: Point) -> tuple[Point, Point]:
    return front, plane.along(front, into_wall(leg), leg.depth)


def settings(job: Job, made: Sequence[Made]) -> tuple[Setting, ...]:
    """Return how the rods of a job are set, one row for each adhesive.

    Source: geometry for the holes; 3 minutes a rod, 10 ml pressed out of a fresh nozzle: common practice.

    Args:
        job: the site's temperature.
        made: every section.
    """
    rods = [rod for each in made for rod in each.frame.rods]
    found = []
    for name in dict.fromkeys(rod.adhesive.name for rod in rods):
        own = [rod for rod in rods if rod.adhesive.name == name]
        adhesive, volume = own[0].adhesive, sum(map(adhesive_in_hole, own))
        worked = stock.gluing(name)
        minutes = work_time(worked.pot_life or worked.open_time or 0.0, job.site.temperature)
        per_mix = math.floor(minutes * 60 / ROD_S + 1e-9)
        mixes = math.ceil(len(own) / max(1, per_mix))
        found.append(
            Setting(
                adhesive=adhesive,
                rods=len(own),
                volume=volume,
                mass=volume * 1e-9 * adhesive.density,
                minutes=minutes,
                per_mix=max(1, per_mix),
                mixes=mixes,
                cartridges=math.ceil((volume + mixes * PURGE) / CARTRIDGE - 1e-9),
                hurried=per_mix < 1,
            )
        )
    return tuple(found)


def in_slots(job: Job, made: Sequence[Made]) -> tuple[InSlots, ...]:
    """Return how sections are glued onto their rods; nothing for those that hang dry.

    Source: geometry for the slots; the rods' own adhesive, a minute a slot and five to bring it home: common practice
    and our choice. Waits as for setting rods: half as long again as it is left alone.

    Args:
        job: the site's temperature.
        made: every section.

    Raises:
        TooColdError: if it is colder there than the adhesive allows.
    """
    found = []
    for section in made:
        slots = {slot.rod: slot for slot in section.frame.slots}
        glued = [rod for rod in section.frame.rods if rod.in_slot == "glued" and rod.id in slots]
        for name in dict.fromkeys(rod.adhesive.name for rod in glued):
            own = [rod for rod in glued if rod.adhesive.name == name]
            filled = [adhesive_in_slot(rod, slots[rod.id]) for rod in own]
            adhesive, warm, worked = own[0].adhesive, job.site.temperature, stock.gluing(name)
            found.append(
                InSlots(
                    section=section.spec.id,
                    title=section.spec.title,
                    adhesive=adhesive,
                    rods=tuple(rod.mark for rod in own),
                    each=max(filled) * 1e-9 * adhesive.density,
                    volume=sum(filled),
                    mass=sum(filled) * 1e-9 * adhesive.density,
                    minutes=work_time(worked.pot_life or worked.open_time or 0.0, warm),
                    takes=SLOT_S * len(glued) + HOME_S,
                    cartridges=math.ceil((sum(filled) + PURGE) / CARTRIDGE - 1e-9),
                    leave=comb(adhesive.leave_alone, warm, adhesive.coldest),
                    load=wait(adhesive.full_load, warm, adhesive.coldest),
                )
            )
    return tuple(found)
