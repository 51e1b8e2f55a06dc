"""From tape figures to the room: every wall's true face, and the walls chained through their corners."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from ledgewright import plane
from ledgewright.job import TapedCorner, TapedLine, TapedMember, TapedObstacle, TapedWall, Tapes
from ledgewright.plane import Line, Point
from ledgewright.survey.corners import GAP_SD, LIMIT, TAPE_SD, Bend, bend
from ledgewright.survey.model import Corner, Member, Obstacle, Retake, Room, Wall

UNSEEN_SD = 3.0
"""Doubt of the face of a wall of which no gap was taken (mm): board finished to 6 mm in 2.4 m (common practice)."""

SAME_HEIGHT = 150.0
"""Gaps taken further than this above or below the shelf say little about it (mm; common practice, from memory)."""

APART = 1000.0
"""How far to the right of all others a wall is drawn that no corner joins to them (mm; for the eye only)."""


def room(tapes: Tapes, up: float) -> Room:
    """Return the room as found at one height, every wall placed in one plan.

    Axes: the first wall of the file starts the plan, its hook end at (0, 0), its reference line along x.
    Every other wall hangs on a corner: the true face at the right end of the left wall is the true
    face at the left end of the right wall, and the reference lines meet at the corner's angle.

    Args:
        tapes: all that was taped (mm, rad).
        up: height of the shelf above the datum (mm); of several strings on a wall the nearest counts.

    Returns:
        The room. `retake` lists in plain words what contradicts itself or was never taken.

    Limits: walls are chained, not adjusted: in a closed room the last corner is not forced to close,
    and a figure in surplus is used only where it reads a corner's angle. Walls are upright.
    """
    loose = {taped.id: _wall(taped, up) for taped in tapes.walls}
    bends = {(c.left, c.right): bend(c, loose[c.left], loose[c.right]) for c in tapes.corners}
    walls, apart = _chain(tapes, loose, bends)
    corners = tuple(_corner(c, walls[c.left], bends[c.left, c.right]) for c in tapes.corners)
    return Room(
        walls=tuple(walls[taped.id] for taped in tapes.walls),
        corners=corners,
        obstacles=tuple(_obstacle(o, walls[o.wall]) for o in tapes.obstacles),
        retake=(
            *(note for taped in tapes.walls for note in _unseen(taped, up)),
            *(note for b in bends.values() for note in b.retake),
            *apart,
            *_open_ends(tapes.corners, corners, walls),
        ),
    )


def _wall(taped: TapedWall, up: float) -> Wall:
    line = _nearest(taped.lines, up)
    return Wall(
        id=taped.id,
        mark=taped.mark,
        origin=(0.0, 0.0),
        direction=(1.0, 0.0),
        start=_start(taped),
        end=_start(taped) + taped.length,
        line=_face(taped, line),
        sd=GAP_SD * math.sqrt(2) if line else UNSEEN_SD,
        tape_from=taped.tape_from,
        framing=taped.framing,
        timber=taped.timber,
        depth_to_wood=taped.depth_to_wood,
        lining=taped.lining,
        members=tuple(_member(taped, m) for m in taped.members),
        known=taped.known,
        height=taped.height,
    )


def _start(taped: TapedWall) -> float:
    return -taped.length if taped.tape_from == "right" else 0.0


def _nearest(lines: Sequence[TapedLine], up: float) -> TapedLine | None:
    """A string without a height is at the shelf, as far as anyone said, but one with a height is surer."""
    seen = [line for line in lines if line.gaps]
    return min(seen, key=lambda at: math.inf if at.up is None else abs(at.up - up), default=None)


def _face(taped: TapedWall, line: TapedLine | None) -> Line:
    """The face against the reference line, which touches it at the hook (along = 0)."""
    start, end = _start(taped), _start(taped) + taped.length
    gaps = sorted(line.gaps) if line else [(0.0, 0.0)]
    hook = plane.height_at(gaps, 0.0)
    stations = [start, *(s for s, _ in gaps if start < s < end), end]
    return tuple((s, hook - plane.height_at(gaps, s)) for s in stations)


def _member(taped: TapedWall, member: TapedMember) -> Member:
    return Member(
        id=member.id,
        wall=taped.id,
        name=member.name,
        kind=member.kind,
        left=member.left,
        right=member.right,
        up=member.up,
        sd=member.sd,
        timber=taped.timber,
        fixed=member.fixed,
    )


def _chain(
    tapes: Tapes, loose: Mapping[str, Wall], bends: Mapping[tuple[str, str], Bend]
) -> tuple[dict[str, Wall], tuple[Retake, ...]]:
    """Place the first wall, then all that hang on it, then the next wall that hangs on nothing, and so on."""
    placed: dict[str, Wall] = {}
    apart: list[Retake] = []
    for taped in tapes.walls:
        if taped.id in placed:
            continue
        if placed:
            apart.append(_apart(taped))
            placed[taped.id] = _pin(
                loose[taped.id], (1.0, 0.0), loose[taped.id].start, _clear(placed)
            )
        else:
            placed[taped.id] = loose[taped.id]
        while _hang_one(placed, loose, bends):
            pass
    return placed, tuple(apart)


def _hang_one(
    placed: dict[str, Wall], loose: Mapping[str, Wall], bends: Mapping[tuple[str, str], Bend]
) -> bool:
    for (left, right), b in bends.items():
        if left in placed and right not in placed:
            wall = placed[left]
            to = plane.turn(wall.direction, b.angle - math.pi)
            placed[right] = _pin(loose[right], to, loose[right].start, _face_at(wall, wall.end))
            return True
        if right in placed and left not in placed:
            wall = placed[right]
            to = plane.turn(wall.direction, math.pi - b.angle)
            placed[left] = _pin(loose[left], to, loose[left].end, _face_at(wall, wall.start))
            return True
    return False


def _pin(wall: Wall, direction: Point, along: float, point: Point) -> Wall:
    """The wall turned, and moved until its true face at `along` lies on the point."""
    turned = replace(wall, origin=(0.0, 0.0), direction=direction)
    return replace(turned, origin=plane.sub(point, _face_at(turned, along)))


def _face_at(wall: Wall, along: float) -> Point:
    return wall.at(along, wall.face(along))


def _clear(placed: Mapping[str, Wall]) -> Point:
    ends = [_face_at(w, at) for w in placed.values() for at in (w.start, w.end)]
    return (max(x for x, _ in ends) + APART, 0.0)


def _corner(taped: TapedCorner, left: Wall, b: Bend) -> Corner:
    return Corner(taped.left, taped.right, taped.turn, _face_at(left, left.end), b.angle, b.sd)


def _obstacle(taped: TapedObstacle, wall: Wall) -> Obstacle:
    """What stands out is taped from the face, so the box grows with the face's bow: never too small."""
    (left, right), (low, high) = taped.along, taped.out
    inner = (out for s, out in wall.line if left < s < right)
    faces = [wall.face(left), wall.face(right), *inner]
    back, front = min(faces) + low, max(faces) + high
    corners = [(left, front), (right, front), (right, back), (left, back)]
    return Obstacle(taped.id, taped.wall, plane.ccw([wall.at(*c) for c in corners]), taped.up)


def _unseen(taped: TapedWall, up: float) -> tuple[Retake, ...]:
    line = _nearest(taped.lines, up)
    if line is None:
        text = "No gaps were taken on wall {}: it is drawn dead straight. Take them if anything is scribed to it."
    elif line.up is not None and abs(line.up - up) > SAME_HEIGHT:
        text = "The gaps of wall {} were taken at another height than this shelf's. Take them at the shelf."
    else:
        return ()
    return (Retake(f"{taped.path}.line", text.format(taped.id)),)


def _apart(taped: TapedWall) -> Retake:
    return Retake(
        taped.path,
        f"No corner joins wall {taped.id} to the walls before it: it is drawn apart from them. "
        "Tape the corner if a shelf or an end depends on it.",
    )


def _open_ends(
    taped: Sequence[TapedCorner], corners: Sequence[Corner], walls: Mapping[str, Wall]
) -> tuple[Retake, ...]:
    """Only the corner that closes a ring of walls can miss: all others were placed to meet."""
    return tuple(
        Retake(
            t.path,
            f"Going round the walls, {c.left} and {c.right} miss each other at their corner by more "
            "than the tapes allow: a length or a corner of this ring is wrong.",
        )
        for t, c in zip(taped, corners, strict=True)
        if _miss(c, walls) > LIMIT * _miss_sd(c, corners)
    )


def _miss(corner: Corner, walls: Mapping[str, Wall]) -> float:
    right = walls[corner.right]
    return plane.length(plane.sub(corner.at, _face_at(right, right.start)))


def _miss_sd(corner: Corner, corners: Sequence[Corner]) -> float:
    swings = (c.sd * plane.length(plane.sub(c.at, corner.at)) for c in corners)
    return math.sqrt(len(corners) * TAPE_SD**2 + sum(s * s for s in swings))
