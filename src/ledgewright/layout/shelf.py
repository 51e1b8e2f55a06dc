"""The shelf at home: its outline against the true wall, the blank it is cut from, the scribe, rods and slots."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations, pairwise

from shapely.geometry import LineString, Polygon

from ledgewright import plane
from ledgewright.job import Spec
from ledgewright.layout.bored import rods, slot
from ledgewright.layout.legs import SLACK, End, Run, Side, end_gap_at, followed, joined, ring, runs
from ledgewright.layout.model import Frame, LayoutError, LegAt, Rod, Slot, Station
from ledgewright.plane import Line, Point, Ring
from ledgewright.survey import Room

Edge = tuple[LineString, float]

STATION_EVERY = 150.0
"""Scribe figures are given at least this often (mm; 6 in, common practice)."""


def frame(room: Room, spec: Spec) -> Frame:
    """Return a shelf laid against the walls: one straight leg, or two that turn an inside corner.

    A tight back follows the true face; a caulked or shadow-gap back is straight, `back_gap` off the
    proudest point. The front is parallel to the reference line, `depth` out from the proudest point of its leg.
    Ends are cut square to the reference line. The blank has the whole scribe allowance behind the proudest
    point, or reaches the deepest hollow where that is deeper, so that scribing only takes away.

    Args:
        room: the room as found at the height of the shelf.
        spec: the shelf as asked for.

    Returns:
        The frame, in the plan of the room (mm).

    Raises:
        LayoutError: in plain words, if the shelf cannot be laid there.

    Limits: walls upright; an end is not scribed to a leaning return wall but cut square, clear of its
    most projecting point; rods stand level; one section.
    """
    legs = runs(room, spec)
    first = _first(legs, spec)
    tight = spec.back == "tight"
    outs = [run.band + spec.back_gap for run in legs]
    fronts = _fronts(legs, spec)
    backs = followed(legs) if tight else joined(legs, outs)
    outline = _simple(ring(backs, fronts), spec)
    placed = tuple(map(_leg_at, legs, backs, fronts, [spec.depth] * len(legs)))
    pins = rods(legs, spec, first)
    gaps = {run.wall.id: out for run, out in zip(legs, outs, strict=True)}
    slots = tuple(slot(legs, not tight, rod, gaps[rod.wall]) for rod in pins)
    return Frame(
        shelf=spec.id,
        outline=outline,
        blank=_blank(legs, fronts, spec) if tight else outline,
        legs=placed,
        scribe=tuple(s for run in legs for s in _scribe(run, spec)) if tight else (),
        rods=pins,
        slots=slots,
        top=spec.top,
        thick=spec.thick,
        first=first,
        notes=(
            *_about_sections(spec),
            *_about_hollows(legs, spec),
            *(note for run in legs for note in _about_ends(room, run, spec)),
            *_about_wood(legs, pins),
            *_about_slots(_edges(placed, spec), outline, pins, slots, spec),
            *_about_crossing(slots, pins),
            *_about_obstacles(room, outline, spec),
        ),
    )


def _first(legs: Sequence[Run], spec: Spec) -> str:
    """The wall it goes onto first: as asked, else that of the longer leg."""
    walls = [run.wall.id for run in legs]
    if spec.first is not None and spec.first not in walls:
        msg = f"Shelf {spec.id} is to go onto wall {spec.first} first, where it has no leg."
        raise LayoutError(msg)
    return spec.first or max(legs, key=lambda run: run.end - run.start).wall.id


def _fronts(legs: Sequence[Run], spec: Spec) -> tuple[tuple[Point, Point], ...]:
    edges = joined(legs, [run.band + spec.depth for run in legs])
    for run, (a, b) in zip(legs, edges, strict=True):
        if plane.dot(plane.sub(b, a), run.wall.direction) <= 0:
            msg = (
                f"The leg of shelf {spec.id} on wall {run.wall.id} is no longer than the shelf is deep: "
                "it has no front edge of its own."
            )
            raise LayoutError(msg)
    return edges


def _simple(outline: Ring, spec: Spec) -> Ring:
    if not Polygon(outline).is_valid:
        msg = f"The outline of shelf {spec.id} crosses itself: look at the corner and the gaps near it."
        raise LayoutError(msg)
    return outline


def _blank(legs: Sequence[Run], fronts: Sequence[Line], spec: Spec) -> Ring:
    return _simple(ring(joined(legs, [_blank_back(run, spec) for run in legs]), fronts), spec)


def _blank_back(run: Run, spec: Spec) -> float:
    """How far out of the reference line the blank's back edge lies: the whole allowance in, or the deepest hollow."""
    return min(run.deepest, run.band - spec.scribe_allowance)


def _leg_at(run: Run, back: Line, front: tuple[Point, Point], depth: float) -> LegAt:
    return LegAt(
        wall=run.wall.id,
        start=run.wall.figures(back[0])[0],
        end=run.wall.figures(back[-1])[0],
        back=back,
        front=front,
        left_end=run.left_end,
        right_end=run.right_end,
        band=run.band,
        depth=depth,
    )


def _scribe(run: Run, spec: Spec) -> tuple[Station, ...]:
    alongs = [run.start]
    for a, b in pairwise(run.stations()):
        parts = max(1, math.ceil((b - a) / STATION_EVERY - 1e-9))
        alongs += [a + (b - a) * k / parts for k in range(1, parts)] + [b]
    back = _blank_back(run, spec)
    return tuple(Station(run.wall.id, s, run.wall.face(s) - back) for s in alongs)


def _said(size: float) -> str:
    """A small length in both units: layout does not know which one the job is written in."""
    return f"{size:.1f} mm ({size / 25.4:.2f} in)"


def _about_sections(spec: Spec) -> tuple[str, ...]:
    if spec.sections == 1:
        return ()
    return (f"Shelf {spec.id} is asked for in {spec.sections} sections; it is laid out as one.",)


def _about_hollows(legs: Sequence[Run], spec: Spec) -> tuple[str, ...]:
    if spec.back != "tight":
        return ()
    return tuple(
        f"The wall {run.wall.id} is hollow by {_said(run.band - run.deepest)} behind this leg, more than "
        f"the scribe allowance of {_said(spec.scribe_allowance)}: raise the allowance, or caulk."
        for run in legs
        if run.band - run.deepest > spec.scribe_allowance
    )


def _about_ends(room: Room, run: Run, spec: Spec) -> tuple[str, ...]:
    """An end cut square beside a wall that is not: how wide the gap becomes."""
    notes = []
    sides: tuple[tuple[Side, End], ...] = (("left", run.left_end), ("right", run.right_end))
    for side, end in sides:
        back, front = (end_gap_at(room, run, side, run.band + out) for out in (0, spec.depth))
        if end == "wall" and back is not None and front is not None:
            if max(back, front) <= spec.end_gap + SLACK:
                continue
            notes.append(
                f"The {side} end on wall {run.wall.id} is cut square, to go straight in: it stands "
                f"{_said(back)} off the wall beside it at the back and {_said(front)} at the front. Caulk it, "
                "fit a filler strip, or make the shelf in two sections."
            )
    return tuple(notes)


def _about_wood(legs: Sequence[Run], pins: Sequence[Rod]) -> tuple[str, ...]:
    return tuple(
        f"The depth to wood on wall {run.wall.id} is not known; its rods are drawn as if the wood were "
        "at the face, and are too short by that depth."
        for run in legs
        if run.wall.depth_to_wood is None and any(rod.wall == run.wall.id for rod in pins)
    )


def _about_slots(
    edges: Sequence[Edge], outline: Ring, pins: Sequence[Rod], slots: Sequence[Slot], spec: Spec
) -> tuple[str, ...]:
    """Every edge but the back must keep its edging, and should keep its strip.

    Raises:
        LayoutError: a slot reaches into the edging.
    """
    left = {
        rod.mark: min(edge.distance(Polygon(at.plan)) - edging for edge, edging in edges)
        if _inside(outline, rod)
        else -1.0
        for rod, at in zip(pins, slots, strict=True)
    }
    if out := [mark for mark, strip in left.items() if strip < 0]:
        msg = (
            f"Rod {', '.join(out)} with its slot would break through the edging of shelf {spec.id}: it is "
            "too long, or too near an end."
        )
        raise LayoutError(msg)
    thin = {mark: strip for mark, strip in left.items() if strip < spec.core.strip}
    if not thin:
        return ()
    least = _said(min(thin.values()))
    return (
        f"The slots of {', '.join(thin)} cut into the strip along the edge; {least} is left of it.",
    )


def _about_crossing(slots: Sequence[Slot], pins: Sequence[Rod]) -> tuple[str, ...]:
    """Rods of one shelf are at one height, so at a corner they can meet in the plan.

    Raises:
        LayoutError: two rods cross.
    """
    plans = [(r.mark, _body(r), Polygon(s.plan)) for r, s in zip(pins, slots, strict=True)]
    pairs = list(combinations(plans, 2))
    for (a, one, _), (b, two, _) in pairs:
        if one.intersects(two):
            msg = f"Rods {a} and {b} run into each other: shorten one, or leave it out."
            raise LayoutError(msg)
    return tuple(
        f"The slots of {a} and {b} run into each other."
        for (a, _, one), (b, _, two) in pairs
        if one.intersects(two)
    )


def _body(rod: Rod) -> Polygon:
    axis = LineString([rod.point(-rod.embedment), rod.point(rod.free + rod.projection)])
    return axis.buffer(rod.bar.width / 2, cap_style="flat")


def _inside(outline: Ring, rod: Rod) -> bool:
    tip = LineString(
        [rod.point(rod.free + rod.projection), rod.point(rod.free + rod.projection - 1)]
    )
    return bool(Polygon(outline).contains(tip))


def _edges(legs: Sequence[LegAt], spec: Spec) -> tuple[Edge, ...]:
    """The front and both ends, each with the thickness of edging on it: none where an end meets a wall."""
    ends = (
        (legs[0].back[0], legs[0].front[0], legs[0].left_end),
        (legs[-1].back[-1], legs[-1].front[-1], legs[-1].right_end),
    )
    return (
        (LineString([p for leg in legs for p in leg.front]), spec.edging_thick),
        *(
            (LineString([back, front]), 0.0 if end == "wall" else spec.edging_thick)
            for back, front, end in ends
        ),
    )


def _about_obstacles(room: Room, outline: Ring, spec: Spec) -> tuple[str, ...]:
    shelf, low = Polygon(outline), spec.top - spec.thick
    return tuple(
        f"The {o.id} on wall {o.wall} stands where shelf {spec.id} would be."
        for o in room.obstacles
        if o.up[0] < spec.top and o.up[1] > low and shelf.intersection(Polygon(o.plan)).area > 1.0
    )
