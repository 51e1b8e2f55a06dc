"""The cautions of a job: what always holds, and what this job adds."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import shapely
from shapely.geometry import Polygon

from ledgewright import shop
from ledgewright.job import Accident, Demand, TapedWall
from ledgewright.judge import Design
from ledgewright.layout import Frame, Rod
from ledgewright.plan import Plan
from ledgewright.sheets import bonded, glued_in
from ledgewright.sheets.plainly import family_title
from ledgewright.sheets.say import Say
from ledgewright.site import Withheld
from ledgewright.statics import goes_in
from ledgewright.survey import Room


@dataclass(frozen=True)
class Caution:
    """One caution: an id for programs, a sentence for people."""

    id: str
    text: str


POINT = 6.0
"""With less wood than this behind the end of a hole the point of its bit comes out (mm; common practice: 5 to 10)."""
BORED_THROUGH = "Bore the last of it with a bit that has hardly a point (Forstner)."
"""How such a hole is bored (common practice)."""
PLUGGED = "Plug its end with a dab of stiff adhesive, and let that set, before it is filled: else it runs out behind."
"""And filled (common practice)."""
DOOR_HIGH = 1900.0
"""How high a doorway is taken to be for what is carried through on edge (mm; our choice, a low one)."""

ALWAYS = (
    Caution(
        "not-a-licence",
        "This is a calculation aid. The local building code and a licensed engineer or architect stand above "
        "it; ask them wherever a person could be hurt.",
    ),
    Caution(
        "no-climbing",
        "The shelf is not a step, a seat or a handhold. Nobody may climb or hang on it.",
    ),
    Caution(
        "services",
        "Cables, pipes and ducts: find them, switch off and isolate before drilling. A detector alone "
        "proves nothing; drill a 3 mm (1/8 in) pilot at each hole and stop at anything but wood.",
    ),
    Caution(
        "confirm",
        "Drill only a wall that somebody has seen inside. Tick 'wood all the way' for every pilot.",
    ),
    Caution(
        "boring",
        "Boring a stud this deep weakens it, and glue does not give it back. Building-code boring rules do "
        "not cover a hole that enters the narrow face. Add studs or blocking before the wall is closed "
        "where you can; never bore an unknown or bearing wall, nor a stud stamped for vertical use only.",
    ),
    Caution(
        "old-houses",
        "Old paint may hold lead, old board and plaster may hold asbestos, masonry dust holds silica: test "
        "before you cut, wear what the label says. A wall that keeps fire or sound, a party wall and a rented wall "
        "need written consent before the first hole.",
    ),
    Caution(
        "outside-wall",
        "A hole in an outside wall lets moist air to cold wood and steel: seal round every rod at the lining. Damp "
        "wood or rot: stop. All is judged for wood that stays dry: not outdoors, not a steamy bathroom.",
    ),
    Caution(
        "ladder",
        "Drill from a platform or steps that stand firm and level, never from a ladder that leans: a bit that catches "
        "turns the drill in your hands. Side handle on, both hands, eyes and ears covered.",
    ),
    Caution(
        "cure",
        "Nothing hangs on a rod before its adhesive has cured as the label says; colder is slower.",
    ),
)


def cautions(plan: Plan) -> tuple[Caution, ...]:
    """Return every caution that applies to a job.

    Args:
        plan: the job worked through.

    Returns:
        What always holds, then what this job adds: withheld walls, what runs behind walls, two people, loads
        declined.
    """
    return (
        *ALWAYS,
        *_withheld(plan),
        *_services(plan),
        *_hanging(plan),
        *_declined(plan),
        *_little(plan),
        *_accepted(plan),
        *_bonded(plan),
        *_comes_out(plan),
        *_glued_on(plan),
        *_steel(plan),
        *_heat(plan),
        *_way_in(plan),
    )


def _withheld(plan: Plan) -> tuple[Caution, ...]:
    walls = sorted({wall for _, wall, leave in plan.leave if isinstance(leave, Withheld)})
    return tuple(
        Caution(
            f"withheld-{wall}",
            f"Wall {plan.job.tapes.called(wall)} is not confirmed: it may not be drilled yet.",
        )
        for wall in walls
    )


def _services(plan: Plan) -> tuple[Caution, ...]:
    """What the job says of cables and pipes behind each wall that rods go into, in its own words."""
    walls = {wall for _, wall, _ in plan.leave}
    return tuple(
        Caution(
            f"services-{wall.id}",
            f"Cables, pipes and ducts behind wall {wall.called}, as told: {wall.known.services.rstrip('. ')}. "
            "Find them again before you drill.",
        )
        for wall in plan.job.tapes.walls
        if wall.id in walls and wall.known.services
    )


def needs_two(design: Design) -> bool:
    """Say whether a shelf needs two people to hang.

    Source: common practice (`shop.needs_two`).
    """
    return shop.needs_two(design.spec, design.frame, design.bill.mass)


def two_people(plan: Plan) -> bool:
    """Say whether any shelf of a job needs two people to hang (see `needs_two`)."""
    return any(needs_two(design) for design in plan.designs)


def _hanging(plan: Plan) -> tuple[Caution, ...]:
    if not two_people(plan):
        return ()
    return (Caution("two-people", "Two people hang this shelf, whatever the shop's list says."),)


def _accepted(plan: Plan) -> tuple[Caution, ...]:
    """What stands on an engineer's word alone is said where the cautions are, not only beside its row."""
    found = [
        (f"Shelf {s.id}", s.accepted.said, [family_title(row) for row in s.accepted.rows])
        for s in plan.job.shelves
        if s.accepted is not None
    ]
    found += [
        (f"Wall {wall.called}", wall.known.engineer, titles)
        for wall in plan.job.tapes.walls
        if wall.known.engineer and (titles := _by_wall(plan, wall))
    ]
    return tuple(
        Caution(
            "accepted",
            f"{where}, on the word of {who} alone: {'; '.join(titles)}. Do not build it without that letter in your "
            "hands.",
        )
        for where, who, titles in found
    )


def _bonded(plan: Plan) -> tuple[Caution, ...]:
    """What is in the wall is asked wherever an answer rests on it."""
    return tuple(
        Caution(f"bonded-{design.spec.id}", f"Shelf {design.spec.title}: {asked}")
        for design in plan.designs
        for asked in bonded.taken(plan, design)
    )


def _by_wall(plan: Plan, wall: TapedWall) -> list[str]:
    """What passes on the word of who accepted the holes in a wall."""
    word = f"accepted by {wall.known.engineer}"
    rows = [
        row
        for design in plan.designs
        for row in design.holds.checks
        if row.place is not None and row.place.wall == wall.id
    ]
    return list(dict.fromkeys(row.title for row in rows if row.reason.endswith(word)))


def _declined(plan: Plan) -> tuple[Caution, ...]:
    shelves = [demand.shelf for demand in plan.job.demands if demand.accident_declined]
    return tuple(
        Caution(
            f"no-leaning-{shelf}",
            f"Shelf {shelf} is not checked for anyone leaning or climbing on it, at the job's own word.",
        )
        for shelf in shelves
    )


def comes_out(room: Room, frame: Frame, wall: str) -> Iterator[tuple[str, float]]:
    """Yield each rod of a wall with so little wood behind its hole that the bit comes out, and how much (mm).

    One set deeper than its timber is not among them: `past_timber` has those, and no way of boring helps.

    Args:
        room: the walls.
        frame: the shelf with its rods.
        wall: its id.
    """
    for rod, deep in _deep(room, frame, wall):
        if 0 < deep - rod.embedment < POINT:
            yield rod.mark, deep - rod.embedment


def past_timber(room: Room, frame: Frame, wall: str, say: Say) -> Iterator[tuple[str, str]]:
    """Yield each rod of a wall that is set as deep as its timber or deeper, and a sentence that says so.

    Args:
        room: the walls.
        frame: the shelf with its rods.
        wall: its id.
        say: how the job writes.
    """
    for rod, deep in _deep(room, frame, wall):
        if rod.embedment >= deep:
            past = say.down(rod.embedment - deep)
            out = f"{past} past its back" if past != say.down(0.0) else "no wood behind it"
            less = f", {say.down(deep - POINT)} at most," if deep > 2 * POINT else ""
            told = (
                f"Rod {rod.mark} is set deeper than its timber: {say.length(rod.embedment)} into wood that is "
                f"{say.length(deep)} deep where it lies, {out}. Do not bore it. Set it less deep{less} or put deeper "
                "timber there, and run the job again."
            )
            yield rod.mark, told


def _deep(room: Room, frame: Frame, wall: str) -> Iterator[tuple[Rod, float]]:
    """Each rod of a wall and how deep its timber goes in (mm), where that is known."""
    for rod in frame.rods:
        member = next((m for m in room.wall(wall).members if m.id == rod.member), None)
        deep = goes_in(member) if member and rod.wall == wall else None
        if deep is not None:
            yield rod, deep


def _comes_out(plan: Plan) -> tuple[Caution, ...]:
    """Holes with so little wood behind their end that the bit comes out, or none; on walls that may be drilled."""
    say = Say.of(plan.job.meta)
    held = {(shelf, wall) for shelf, wall, leave in plan.leave if isinstance(leave, Withheld)}
    found = []
    for design in plan.designs:
        walls = dict.fromkeys(rod.wall for rod in design.frame.rods)
        for wall in (each for each in walls if (design.spec.id, each) not in held):
            for mark, left in comes_out(design.room, design.frame, wall):
                text = (
                    f"Rod {mark}: {say.down(left)} of wood is left behind the end of its hole, and the point of the "
                    f"bit comes out there. See first what is behind. {BORED_THROUGH} {PLUGGED} "
                    "Or bore less deep, and run the job again."
                )
                found.append(Caution(f"comes-out-{mark}", text))
            deeper = past_timber(design.room, design.frame, wall, say)
            found += [Caution(f"past-timber-{mark}", text) for mark, text in deeper]
    return tuple(found)


def _glued_on(plan: Plan) -> tuple[Caution, ...]:
    """Shelves that are glued onto their rods: nothing of that can be undone."""
    say = Say.of(plan.job.meta)
    return tuple(
        Caution(f"glued-{design.spec.id}", glued_in.caution(design, say))
        for design in plan.designs
        if glued_in.marks(design)
    )


def _steel(plan: Plan) -> tuple[Caution, ...]:
    """Bars whose yield strength no standard guarantees: who buys them must ask for it."""
    bars = {rod.bar for each in plan.designs for rod in each.frame.rods}
    say = Say.of(plan.job.meta)
    return tuple(
        Caution(
            f"steel-{bar.name}",
            f"Steel {bar.name}: a yield of {say.strength(bar.Fy)} is usual, guaranteed by no standard. "
            "Buy it with a mill certificate.",
        )
        for bar in sorted(bars, key=lambda bar: bar.name)
        if bar.yield_is == "typical"
    )


def _little(plan: Plan) -> tuple[Caution, ...]:
    """A force less than the usual one, or one on a wider square, leaves a part of it out."""
    say = Say.of(plan.job.meta)
    return tuple(
        Caution(
            f"little-leaning-{demand.shelf}",
            f"On shelf {demand.shelf} anyone leaning or climbing is judged with "
            f"{' and '.join(_less(demand, demand.accident, say))}, at the job's own word. Nobody may lean on it.",
        )
        for demand in plan.job.demands
        if demand.leans_little and demand.accident is not None
    )


def _less(demand: Demand, judged: Accident, say: Say) -> Iterator[str]:
    force, patch = demand.accident_usual, demand.patch_usual
    if force is not None:
        yield f"{say.taken(judged.force, 'N')} at most, less than the usual {say.asked(force, 'N')}"
    if patch is not None:
        sides = f"{say.length(judged.patch)}, wider than the usual {say.length(patch)}"
        yield f"its force on a square of {sides}, so further from the front edge"


def _way_in(plan: Plan) -> tuple[Caution, ...]:
    """Sections that go through the narrowest doorway neither flat nor on edge; turns of corridors are not looked at."""
    door, say = plan.job.site.doorway, Say.of(plan.job.meta)
    if door is None:
        return ()
    found = []
    for design in plan.designs:
        box = shapely.minimum_rotated_rectangle(Polygon(design.frame.blank))
        ring = shapely.get_coordinates(box).tolist()
        across, thick = min(math.dist(a, b) for a, b in pairwise(ring)), design.frame.thick
        if across > door and (thick > door or across > DOOR_HIGH):
            told = (
                f"Shelf {design.spec.title}, {say.length(across)} across where narrowest, {say.length(thick)} thick, "
                f"does not go through a doorway of {say.length(door)}: make it in sections, or find another way in."
            )
            found.append(Caution(f"doorway-{design.spec.id}", told))
    return tuple(found)


WARM = 37.8
"""Wood that stays warmer than this is weaker (C; 100 F, NDS 2.3.3, from memory)."""


def _heat(plan: Plan) -> tuple[Caution, ...]:
    named = any(
        word in obstacle.id.lower()
        for obstacle in plan.job.tapes.obstacles
        for word in ("heater", "radiator", "stove", "cooker", "fire")
    )
    found = []
    if named:
        text = "There is heat nearby: rod adhesive loses its grip above 50 C (122 F). Measure before you glue."
        found.append(Caution("heat", text))
    heat = plan.job.site.heat
    if heat is not None and heat > WARM:
        text = (
            f"It gets as hot as {Say.of(plan.job.meta).temperature(heat)} at the rods. Wood that stays over 38 C "
            "(100 F) for long is weaker by about a fifth (NDS 2.3.3), and glue creeps more: neither is counted here. "
            "Ask an engineer."
        )
        found.append(Caution("warm", text))
    return tuple(found)
