"""A shelf in two sections that meet at a joint: one specification for each, and what each has to carry."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from itertools import pairwise
from typing import Literal

from shapely.geometry import Polygon

from ledgewright import plane
from ledgewright.job import Cut, Demand, Even, Leg, Lock, RodSpec, Section, Spec, Thing
from ledgewright.layout.faces import end_points, lean, skin_plan
from ledgewright.layout.legs import Run, Side, profile, runs, turn_of
from ledgewright.layout.model import Frame, LayoutError
from ledgewright.plane import Point
from ledgewright.survey import Obstacle, Room, Wall

LOOSE = 1.0
"""The gap kept at an end beside a wall where the job asks for a filler strip (mm; common practice)."""

STRIP = 12.0
"""A filler strip at its narrowest where the job does not ask for one (mm; common practice)."""

FEWEST_RODS = 2
"""A rigid section on one rod turns on it."""

BESIDE_IT = 100.0
"""A thing with no more of it over the skin of a section stands beside that (mm2, our choice)."""


def sections(room: Room, spec: Spec) -> tuple[Spec, ...]:
    """Return one specification per section of a shelf, in the order they are hung; the shelf itself if it is whole.

    An L is parted at its corner: the section on the wall it goes onto first runs through, the other butts against
    it, its rods parallel to that joint as they are in the whole L. A straight shelf is parted at `spec.joint`; the
    longer section is hung first, and the joint is cut parallel to what the other one's far end is scribed to, so
    that it can still slide in beside it. Both meet without a gap.

    Args:
        room: the room as found at the height of the shelf.
        spec: the shelf as asked for.

    Raises:
        LayoutError: a shelf that cannot be laid at all, or a section with fewer than two rods.
    """
    if spec.sections == 1 or spec.section is not None:
        return (spec,)
    legs = runs(room, spec)
    made = _at_corner(room, spec, *legs) if len(legs) == 2 else _at_joint(room, spec, legs[0])
    for part in made:
        if len(part.rods) < FEWEST_RODS:
            count = "no rod" if not part.rods else "one rod"
            msg = (
                f"{part.title.capitalize()} of the shelf would have {count}: each section needs at least two. "
                "Move the joint, add rods, or make it in one section."
            )
            raise LayoutError(msg)
    return _telling(spec, made)


def _telling(spec: Spec, made: tuple[Spec, Spec]) -> tuple[Spec, ...]:
    """The sections, each with the rods of both, the last with those asked for that are behind neither of them."""
    held = tuple((rod.wall, rod.member) for part in made for rod in part.rods)
    lost = tuple(at for rod in spec.rods if (at := (rod.wall, rod.member)) not in held)
    return tuple(
        replace(
            part, section=replace(part.section, rods=held, left_out=lost if part is made[1] else ())
        )
        for part in made
        if part.section is not None
    )


def alcove_options(spec: Spec) -> tuple[tuple[str, str, Spec], ...]:
    """Return how a straight shelf can be made between two returns: id, words for people, and the shelf so made.

    Whether one goes is for the fitting to say: the last one only if it can be turned in.

    Args:
        spec: the shelf, in one leg.
    """
    gap = spec.end_gap if spec.ends != "filler" else LOOSE
    strip = spec.end_gap if spec.ends == "filler" else STRIP
    return (
        (
            "caulk",
            "in one, cut square to go straight in, its ends caulked",
            replace(spec, sections=1, ends="caulk", end_gap=gap),
        ),
        (
            "filler",
            "in one, narrower, with a filler strip scribed in at either end",
            replace(spec, sections=1, ends="filler", end_gap=strip),
        ),
        (
            "two-sections",
            "in two sections, each scribed to its return",
            replace(spec, sections=2, ends="tight", end_gap=gap),
        ),
        (
            "tight",
            "in one, scribed to both returns",
            replace(spec, sections=1, ends="tight", end_gap=gap),
        ),
    )


def hung(room: Room, spec: Spec, frame: Frame) -> Room:
    """Return the room with a section on the wall: a thing in the way of the next one.

    Args:
        room: the room before.
        spec: the section.
        frame: the section at home.
    """
    there = Obstacle(
        spec.title,
        frame.legs[0].wall,
        frame.outline,
        (frame.top - frame.thick, frame.top),
        section=True,
    )
    return replace(room, obstacles=(*room.obstacles, there))


def shares(room: Room, parts: tuple[tuple[Spec, Frame], ...], demand: Demand) -> tuple[Demand, ...]:
    """Return what each section has to carry, so that none is judged for less than may stand on it.

    A thing counts fully on every section whose skin is under some of it. An even load counts where it lies; of one on
    the wall of a leg that butts, the part in the corner counts on the section that runs through. The heaviest single
    thing and accidents count on each.

    Args:
        room: the walls.
        parts: each section and its frame.
        demand: of the whole shelf.
    """
    if len(parts) == 1:
        return (demand,)
    return tuple(
        replace(
            demand,
            shelf=spec.id,
            loads=tuple(
                each
                for load in demand.loads
                for each in (
                    _thing(room, spec, frame, load)
                    if isinstance(load, Thing)
                    else _even(room, frame, load, deep)
                )
            ),
        )
        for spec, frame in parts
        for deep in [{leg.wall: leg.depth for _, each in parts for leg in each.legs}]
    )


def _thing(room: Room, spec: Spec, frame: Frame, load: Thing) -> tuple[Thing, ...]:
    """A thing as a section bears it: one that stands on the other leg lies the other way round on this one's wall."""
    of, onto = room.wall(load.wall), room.wall(frame.legs[0].wall)
    centre = of.at(load.along, of.face(load.along) + load.out)
    along, out = onto.figures(centre)
    here = load
    if of is not onto:
        (long, deep), feet = load.size, load.feet and (load.feet[1], load.feet[0])
        here = replace(load, wall=onto.id, along=along, size=(deep, long), feet=feet)
        here = replace(here, out=out - onto.face(along))
    skin = skin_plan(frame.outline, spec, frame)
    return (here,) if skin.intersection(_under(onto, here)).area > BESIDE_IT else ()


def _under(wall: Wall, load: Thing) -> Polygon:
    """The plan of a thing on a wall, along it and square to it."""
    out = wall.face(load.along) + load.out
    long, deep = (each / 2 for each in load.size)
    return Polygon(
        [
            wall.at(load.along + a * long, out + b * deep)
            for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1))
        ]
    )


def _even(room: Room, frame: Frame, load: Even, deep: Mapping[str, float]) -> tuple[Even, ...]:
    """An even load of the section's own wall, or what of another leg's stands in the corner on this section.

    deep: depths by wall (mm): the corner is as long on either as the other is deep.
    """
    leg = frame.legs[0]
    if load.wall is None or load.wall == leg.wall:
        return (load,)
    meets = next(
        (c for c in room.corners if {c.left, c.right} == {leg.wall, load.wall}),
        None,
    )
    other = room.wall(load.wall)
    if meets is None or not _reaches(frame, meets.at):
        return ()
    at_left = meets.right == load.wall
    near = load.start if at_left else load.end
    if near is not None and abs(near - other.figures(meets.at)[0]) > leg.depth:
        return ()
    across = deep[load.wall]
    span = (leg.end - across, leg.end) if at_left else (leg.start, leg.start + across)
    side: Side = "right" if at_left else "left"
    if lean(leg, side) < 0:  # longest in front: the load goes on to there
        front = room.wall(leg.wall).figures(end_points(leg, side)[0])[0]
        span = (span[0], front) if at_left else (front, span[1])
    # What lies along the other wall over this leg's depth lies here over the other's: as heavy in all.
    line = None if load.per_length is None else load.per_length * leg.depth / across
    return (replace(load, wall=leg.wall, start=span[0], end=span[1], per_length=line),)


def _reaches(frame: Frame, corner: Point) -> bool:
    """Whether a section runs through the corner, and does not butt there against another."""
    leg = frame.legs[0]
    joints = [
        end
        for end, kind in ((leg.back[0], leg.left_end), (leg.back[-1], leg.right_end))
        if kind == "joint"
    ]
    nearest = min(plane.length(plane.sub(p, corner)) for p in (leg.back[0], leg.back[-1]))
    return all(plane.length(plane.sub(p, corner)) > nearest + 1e-6 for p in joints)


def _at_corner(room: Room, spec: Spec, left: Run, right: Run) -> tuple[Spec, Spec]:
    lead, other = (left, right) if _leads(spec, left, right) else (right, left)
    side: Side = "right" if lead is left else "left"
    past: Cut | None = None
    if turn_of(room, (left, right)) == "outside":
        front = other.wall.at(0.0, other.front)
        past = _line(lead.wall, front, other.wall.direction, "air")
    first = _part(spec, 1, lead, past, side, None)
    (laid,) = runs(room, first)
    out = laid.front if past is None else _back_past(spec, laid, side)
    joint = _line(other.wall, laid.wall.at(0.0, out), laid.wall.direction, "section")
    away: Side = "left" if side == "right" else "right"
    return first, _part(spec, 2, other, joint, away, lead.wall.id)


def _leads(spec: Spec, left: Run, right: Run) -> bool:
    """Whether the left leg runs through: as asked, else the longer one."""
    if spec.first is not None:
        return spec.first == left.wall.id
    return left.end - left.start >= right.end - right.start


def _back_past(spec: Spec, run: Run, side: Side) -> float:
    """How far out the back edge of a section lies where it runs on past the end of its wall."""
    if spec.back != "tight":
        return run.band + spec.back_gap
    return run.wall.face(run.end if side == "right" else run.start)


def _line(wall: Wall, point: Point, along: Point, meets: Literal["section", "air"]) -> Cut:
    """A line of the plan as the end of a leg on a wall."""
    s, out = wall.figures(point)
    lean = plane.dot(along, wall.direction) / plane.dot(along, wall.outward)
    return Cut(s - lean * out, lean, meets)


def _at_joint(room: Room, spec: Spec, run: Run) -> tuple[Spec, Spec]:
    at = (run.start + run.end) / 2 if spec.joint is None else spec.joint
    if not run.start < at < run.end:
        msg = f"The joint of shelf {spec.id} is not between its ends."
        raise LayoutError(msg)
    left_first = at - run.start >= run.end - at
    far: Side = "right" if left_first else "left"
    joint = Cut(at, slide_lean(room, spec, run, far), "section")
    left = _part(spec, 1 if left_first else 2, replace(run, end=at), joint, "right", None)
    right = _part(spec, 2 if left_first else 1, replace(run, start=at), joint, "left", None)
    return (left, right) if left_first else (right, left)


def slide_lean(room: Room, spec: Spec, run: Run, side: Side) -> float:
    """Return how far along a line must lean per mm out to be no hindrance to an end that slides in along a wall.

    The steepest stretch of the wall beside that end counts: on it the section stands furthest over on its way in.

    Args:
        room: the room.
        spec: the shelf; only an end that is scribed slides along its wall.
        run: the leg.
        side: which end.
    """
    beside = run.beside[0 if side == "left" else 1]
    if spec.ends != "tight" or beside is None:
        return 0.0
    face = profile(room.wall(beside), run.wall, side)
    slopes = [(s1 - s0) / (o1 - o0) for (o0, s0), (o1, s1) in pairwise(face) if o1 - o0 > 1e-6]
    return max([0.0, *slopes]) if side == "left" else min([0.0, *slopes])


def _part(
    spec: Spec, number: int, run: Run, cut: Cut | None, side: Side, rods_along: str | None
) -> Spec:
    left, right = (cut, None) if side == "left" else (None, cut)
    start = left.at if left else run.start
    end = right.at if right else run.end
    rods = tuple(
        rod for rod in spec.rods if rod.wall == run.wall.id and start < _stands(run.wall, rod) < end
    )
    here = {rod.member for rod in rods}
    return replace(
        spec,
        id=f"{spec.id}.{number}",
        depth=run.depth,
        legs=(Leg(run.wall.id, start, end),),
        skin_top=replace(spec.skin_top, joint="one piece"),
        skin_bottom=replace(spec.skin_bottom, joint="one piece"),
        rods=rods,
        lock=Lock(spec.lock.kind, tuple(member for member in spec.lock.rods if member in here)),
        first=None,
        joint=None,
        section=Section(spec.id, number, 2, left, right, rods_along),
    )


def _stands(wall: Wall, rod: RodSpec) -> float:
    return next((m.centre + rod.aside for m in wall.members if m.id == rod.member), math.nan)
