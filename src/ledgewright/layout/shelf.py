"""The shelf at home: its outline against the true wall, the blank it is cut from, the scribe, rods and slots."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from shapely.geometry import LineString, Polygon

from ledgewright import plane
from ledgewright.job import Spec
from ledgewright.layout.blank import KERF, SIDES, blank_back, close, rough_ends
from ledgewright.layout.bored import rods, slot
from ledgewright.layout.legs import (
    SLACK,
    Run,
    Side,
    end_gap_at,
    followed,
    joined,
    ring,
    runs,
    turn_of,
)
from ledgewright.layout.model import EndFit, Frame, LayoutError, LegAt, Rod, Slot, Station, Turn
from ledgewright.plane import Line, Point, Ring
from ledgewright.survey import Room

Edge = tuple[LineString, float]

DEEP = 0.5
"""What stands less than this inside the shelf only touches it (mm): a tape reads no finer."""


def frame(room: Room, spec: Spec) -> Frame:
    """Return a shelf laid against the walls: one straight leg, or two that turn a corner, inside or outside.

    A tight back follows the true face; a caulked or shadow-gap back is straight, `back_gap` off the
    proudest point. The front is parallel to the reference line, `depth` out from the proudest point of its leg.
    Ends are cut square to the reference line, clear of a return wall; or scribed to it, or to the line where two
    sections meet, if the spec says so. The blank has the whole scribe allowance behind the proudest
    point, or reaches the deepest hollow where that is deeper, so that scribing only takes away.

    Args:
        room: the room as found at the height of the shelf.
        spec: the shelf as asked for.

    Returns:
        The frame, in the plan of the room (mm).

    Raises:
        LayoutError: in plain words, if the shelf cannot be laid there.

    Limits: walls upright; rods stand level; one section.
    """
    legs = runs(room, spec)
    turn = turn_of(room, legs)
    first = _first(legs, spec)
    along = spec.section.rods_along if spec.section else None
    tight = spec.back == "tight"
    outs = [run.band + spec.back_gap for run in legs]
    fronts = _fronts(legs, spec)
    backs = followed(legs) if tight else joined(legs, outs)
    outline = _simple(ring(legs, backs, fronts), spec)
    placed = tuple(
        _leg_at(run, back, front, turn)
        for run, back, front in zip(legs, backs, fronts, strict=True)
    )
    pins = rods(legs, spec, room.wall(along or first))
    gaps = {run.wall.id: out for run, out in zip(legs, outs, strict=True)}
    slots = tuple(slot(legs, not tight, rod, gaps[rod.wall]) for rod in pins)
    return Frame(
        shelf=spec.id,
        outline=outline,
        blank=_blank(legs, outs, spec),
        legs=placed,
        scribe=_scribe(room, legs, spec),
        rods=pins,
        slots=slots,
        top=spec.top,
        thick=spec.thick,
        first=first,
        notes=(
            *_about_left_out(room, spec),
            *_about_hollows(legs, spec),
            *(note for fit in end_fits(room, spec) for note in _about_end(fit, room, spec)),
            *_about_wood(legs, pins),
            *_about_slots(_edges(placed, spec), outline, pins, slots, spec),
            *_about_crossing(slots, pins),
        ),
        nose_up=spec.nose_up,
    )


def _about_left_out(room: Room, spec: Spec) -> Iterator[str]:
    for name, member in spec.section.left_out if spec.section else ():
        wall = room.wall(name)
        middle = next((m.centre for m in wall.members if m.id == member), None)
        if middle is not None:
            yield (
                f"No rod goes into the member at {abs(middle):.1f} mm on wall {wall.called}, though one is asked for "
                "there: the other section stands in front of it. Take the place out, or make the shelf in one section."
            )


def _first(legs: Sequence[Run], spec: Spec) -> str:
    """The wall it goes onto first: as asked, else that of the longer leg."""
    walls = [run.wall.id for run in legs]
    if spec.first is not None and spec.first not in walls:
        msg = f"Shelf {spec.id} is to go onto wall {spec.first} first, where it has no leg."
        raise LayoutError(msg)
    return spec.first or max(legs, key=lambda run: run.end - run.start).wall.id


def _fronts(legs: Sequence[Run], spec: Spec) -> tuple[tuple[Point, Point], ...]:
    edges = joined(legs, [run.front for run in legs])
    for run, (a, b) in zip(legs, edges, strict=True):
        if plane.dot(plane.sub(b, a), run.wall.direction) <= 0:
            msg = (
                f"The leg of shelf {spec.id} on wall {run.wall.called} is no longer than the shelf is deep: "
                "it has no front edge of its own."
            )
            raise LayoutError(msg)
    return edges


def _simple(outline: Ring, spec: Spec) -> Ring:
    if not Polygon(outline).is_valid:
        msg = f"The outline of shelf {spec.id} crosses itself: look at the corner and the gaps near it."
        raise LayoutError(msg)
    return outline


def _blank(legs: Sequence[Run], outs: Sequence[float], spec: Spec) -> Ring:
    tight = spec.back == "tight"
    rough = [rough_ends(run, spec) for run in legs]
    backs = [blank_back(r, spec) if tight else out for r, out in zip(legs, outs, strict=True)]
    fronts = joined(rough, [run.front for run in rough])
    return _simple(ring(rough, joined(rough, backs), fronts), spec)


def _leg_at(run: Run, back: Line, front: tuple[Point, Point], turn: Turn | None) -> LegAt:
    outside = turn == "outside"
    left = front[0] if outside and run.left_end == "corner" else back[0]
    right = front[1] if outside and run.right_end == "corner" else back[-1]
    return LegAt(
        wall=run.wall.id,
        start=run.wall.figures(left)[0],
        end=run.wall.figures(right)[0],
        back=back,
        front=front,
        left_end=run.left_end,
        right_end=run.right_end,
        band=run.band,
        depth=run.depth,
        mark=run.wall.mark,
    )


def _scribe(room: Room, legs: Sequence[Run], spec: Spec) -> tuple[Station, ...]:
    """What a tight back loses along its own wall, then what each scribed end loses along the wall beside it."""
    backs = [s for run in legs for s in _back_scribe(run, spec)] if spec.back == "tight" else []
    ends = [s for run in legs for side in SIDES for s in _end_scribe(room, run, side, spec)]
    return (*backs, *ends)


def _back_scribe(run: Run, spec: Spec) -> tuple[Station, ...]:
    back = blank_back(run, spec)
    low, high = run.before_wall()
    places = close([low, *(s for s in run.stations() if low < s < high), high])
    return tuple(Station(run.wall.id, s, run.wall.face(s) - back) for s in places)


def _end_scribe(room: Room, run: Run, side: Side, spec: Spec) -> tuple[Station, ...]:
    beside = run.beside[SIDES.index(side)]
    if beside is None or spec.ends != "tight":
        return ()
    wall = room.wall(beside)
    rough = rough_ends(run, spec)
    back, front = run.band + spec.back_gap, run.front
    outs = close([back, *(out for out, _ in run.cut(side) if back < out < front), front])
    found = [
        Station(
            beside,
            wall.figures(run.at(side, out))[0],
            abs(plane.length(plane.sub(run.at(side, out), rough.at(side, out)))),
        )
        for out in outs
    ]
    return tuple(sorted(found, key=lambda s: s.along))


def _said(size: float) -> str:
    """A small length in both units: layout does not know which one the job is written in."""
    return f"{size:.1f} mm ({size / 25.4:.2f} in)"


def _about_hollows(legs: Sequence[Run], spec: Spec) -> tuple[str, ...]:
    if spec.back != "tight":
        return ()
    return tuple(
        f"The wall {run.wall.called} is hollow by {_said(run.band - run.deepest)} behind this leg, more than "
        f"the scribe allowance of {_said(spec.scribe_allowance)}: raise that to "
        f"{_said(run.band - run.deepest + KERF)}, or caulk."
        for run in legs
        if run.band - run.deepest > spec.scribe_allowance
    )


def end_fits(room: Room, spec: Spec) -> tuple[EndFit, ...]:
    """Return how each end that meets a wall meets it, from left to right; none if the ends are free.

    Args:
        room: the room as found at the height of the shelf.
        spec: the shelf.

    Raises:
        LayoutError: in plain words, if the shelf cannot be laid there.
    """
    return tuple(
        EndFit(run.wall.id, side, beside, spec.ends, back, front)
        for run in runs(room, spec)
        for side, beside in zip(SIDES, run.beside, strict=True)
        if beside is not None
        for back, front in [_stands_off(room, run, side, spec)]
    )


def _stands_off(room: Room, run: Run, side: Side, spec: Spec) -> tuple[float, float]:
    gaps = (end_gap_at(room, run, side, run.band + out) for out in (0.0, run.depth))
    back, front = (0.0 if gap is None else gap for gap in gaps)
    return back, front


def _about_end(fit: EndFit, room: Room, spec: Spec) -> tuple[str, ...]:
    """An end cut square beside a wall that is not: how wide the gap or the filler strip becomes."""
    where = f"{fit.side} end on wall {room.wall(fit.wall).called}"
    if fit.how == "filler":
        note = (
            f"A filler strip closes the {where}: {_said(fit.back)} wide at the back and {_said(fit.front)} at "
            "the front, scribed to the wall beside it."
        )
        return (note,)
    if fit.how == "tight" or max(fit.back, fit.front) <= spec.end_gap + SLACK:
        return ()
    # A section slides on along a wall it is scribed to; in one piece it would have to pass its own mouth.
    scribed = (
        'scribe it: ends = "tight"' if spec.section else "make the shelf in two sections, scribed"
    )
    note = (
        f"The {where} is cut square, to go straight in: it stands {_said(fit.back)} off the wall beside it at "
        f"the back and {_said(fit.front)} at the front. Caulk it, fit a filler strip, or {scribed}."
    )
    return (note,)


def _about_wood(legs: Sequence[Run], pins: Sequence[Rod]) -> tuple[str, ...]:
    return tuple(
        f"The depth to wood on wall {run.wall.called} is not known; its rods are drawn as if the wood were "
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
    """The front and both ends, each with the thickness of edging on it: only a free end has any."""
    ends = (
        (legs[0].back[0], legs[0].front[0], legs[0].left_end),
        (legs[-1].back[-1], legs[-1].front[-1], legs[-1].right_end),
    )
    return (
        (LineString([p for leg in legs for p in leg.front]), spec.edging_thick),
        *(
            (LineString([back, front]), spec.edging_thick if end == "free" else 0.0)
            for back, front, end in ends
        ),
    )


def conflicts(room: Room, frame: Frame) -> tuple[str, ...]:
    """Return what already stands where a shelf is to be, in plain words: walls and obstacles; empty if nothing does.

    Args:
        room: the room as found.
        frame: the shelf at home.
    """
    home, (low, high) = Polygon(frame.outline), frame.band
    inside = home.buffer(-DEEP)
    return (
        *(
            f"Shelf {frame.shelf} would stand in wall {wall.called}."
            for wall in room.walls
            if LineString([wall.at(*p) for p in wall.line]).intersects(inside)
        ),
        *(
            f"The {o.id} on wall {room.wall(o.wall).called} stands where shelf {frame.shelf} would be."
            for o in room.obstacles
            if o.up[0] < high and o.up[1] > low and inside.intersects(Polygon(o.plan))
        ),
    )
