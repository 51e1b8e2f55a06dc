"""From tape figures to the room: every wall's true face, and the walls chained through their corners."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from ledgewright import plane
from ledgewright.job import TapedCorner, TapedLine, TapedMember, TapedObstacle, TapedWall, Tapes
from ledgewright.plane import Line, Point
from ledgewright.stock import Timber
from ledgewright.survey.accuracy import GAP, UNSEEN_SD
from ledgewright.survey.face import Strung, nearest, strung
from ledgewright.survey.heights import levelled
from ledgewright.survey.model import Corner, Member, Obstacle, Retake, Room, Wall
from ledgewright.survey.net import Figures
from ledgewright.survey.solve import Found, first_bend, impossible, solve

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
        The room. `retake` lists in plain words what contradicts itself or was never taken; `figures` has every
        figure as adjusted.

    Limits: walls are upright. Heights are no part of the plan.
    """
    lines = {taped.id: strung(taped, up) for taped in tapes.walls}
    rough = {taped.id: _wall(taped, up) for taped in tapes.walls}
    bends = {(c.left, c.right): _first(c, rough) for c in tapes.corners}
    placed, apart = _chain(tapes, rough, bends)
    found = [solve(_figures(tapes, group, lines, placed)) for group in _groups(tapes)]
    loose = {t.id: _settled(t, rough[t.id], lines[t.id], found) for t in tapes.walls}
    surer = {pair: bend for each in found for pair, bend in each.bends.items()}
    doubts = {pair: surer[pair][1] if pair in surer else math.pi for pair in bends}
    bends |= {pair: angle for pair, (angle, _) in surer.items()}
    walls, _ = _chain(tapes, loose, bends)
    level = levelled(tapes, walls)
    pairs = [(c, (c.left, c.right)) for c in tapes.corners]
    return Room(
        walls=tuple(walls[taped.id] for taped in tapes.walls),
        corners=tuple(_corner(c, walls[c.left], bends[p], doubts[p]) for c, p in pairs),
        obstacles=tuple(_obstacle(o, walls[o.wall]) for o in tapes.obstacles),
        retake=(
            *(note for taped in tapes.walls for note in _unseen(taped, up, lines[taped.id])),
            *(note for c in tapes.corners for note in impossible(c, tapes)),
            *(note for each in found for note in each.retake),
            *apart,
            *_across_nothing(tapes),
            *level.retake,
        ),
        figures=(*(f for each in found for f in each.figures), *level.figures),
        wholes=tuple(w for w in (*(each.whole for each in found), level.whole) if w),
        more=tuple(each.more for each in found if each.more),
        heights=level.heights,
    )


def _figures(
    tapes: Tapes,
    group: frozenset[str],
    lines: Mapping[str, Strung | None],
    placed: Mapping[str, Wall],
) -> Figures:
    """What one net is made of."""
    return Figures(
        walls=tuple(w for w in tapes.walls if w.id in group),
        strung=lines,
        corners=tuple(c for c in tapes.corners if c.left in group),
        across=tuple(a for a in tapes.across if a.start.wall in group and a.end.wall in group),
        placed=placed,
        tapes=tapes,
    )


def _first(corner: TapedCorner, rough: Mapping[str, Wall]) -> float:
    left, right = rough[corner.left], rough[corner.right]
    rises = [
        (
            left.face(left.end - a) - left.face(left.end),
            right.face(right.start + b) - right.face(right.start),
        )
        for a, b, _ in corner.taped
    ]
    return first_bend(corner, rises)


def _groups(tapes: Tapes) -> tuple[frozenset[str], ...]:
    """Walls that corners join, in the order of the file."""
    groups: list[set[str]] = [{taped.id} for taped in tapes.walls]
    for c in tapes.corners:
        one = next(g for g in groups if c.left in g)
        two = next(g for g in groups if c.right in g)
        if one is not two:
            one |= two
            groups.remove(two)
    return tuple(frozenset(g) for g in groups)


def _settled(taped: TapedWall, wall: Wall, lines: Strung | None, found: Sequence[Found]) -> Wall:
    """The wall with its figures as adjusted; what moved less than a rule can show stays as it was read."""
    mine = next((each for each in found if taped.id in each.lengths), None)
    if mine is None:
        return wall
    length, face = mine.lengths[taped.id], wall.line
    if lines is not None and taped.id in mine.gaps:
        gaps = list(zip(lines.stations, mine.gaps[taped.id], strict=True))
        hook = plane.height_at(gaps, 0.0)
        face = _line(wall.start, wall.end, [(s, hook - gap) for s, gap in gaps])
    elif lines is not None:
        outs = list(zip(lines.stations, mine.outs[taped.id], strict=True))
        face = _line(wall.start, wall.end, outs)
    far = -length if taped.tape_from == "right" else length
    start, end = min(far, 0.0), max(far, 0.0)
    if length != taped.length:
        face = _line(start, end, face)
    return replace(wall, start=start, end=end, line=face)


def _wall(taped: TapedWall, up: float) -> Wall:
    line = nearest(taped, up)
    return Wall(
        id=taped.id,
        mark=taped.mark,
        origin=(0.0, 0.0),
        direction=(1.0, 0.0),
        start=_start(taped),
        end=_start(taped) + taped.length,
        line=_face(taped, line),
        sd=GAP[line.off] * math.sqrt(2) if line else UNSEEN_SD,
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


def _face(taped: TapedWall, line: TapedLine | None) -> Line:
    """The face against the reference line, which touches it at the hook (along = 0)."""
    start, end = _start(taped), _start(taped) + taped.length
    gaps = sorted(line.gaps) if line else [(0.0, 0.0)]
    hook = plane.height_at(gaps, 0.0)
    return _line(start, end, [(s, hook - gap) for s, gap in gaps])


def _line(start: float, end: float, outs: Sequence[tuple[float, float]]) -> Line:
    """The face from end to end through its stations, level past the first and last."""
    stations = [start, *(s for s, _ in outs if start < s < end), end]
    return tuple((s, plane.height_at(outs, s)) for s in stations)


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
        timber=_as_found(taped.timber, member),
        fixed=member.fixed,
        told=member.told,
        lost=member.lost,
        depth=member.depth,
        twist=member.twist,
    )


def _as_found(timber: Timber | None, member: TapedMember) -> Timber | None:
    """Return the timber of a stud, no wider than it was found to be."""
    if timber is None or member.kind != "stud" or member.told != "both edges":
        return timber
    return replace(timber, width=min(timber.width, member.right - member.left))


def _chain(
    tapes: Tapes, loose: Mapping[str, Wall], bends: Mapping[tuple[str, str], float]
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
    placed: dict[str, Wall], loose: Mapping[str, Wall], bends: Mapping[tuple[str, str], float]
) -> bool:
    for (left, right), angle in bends.items():
        if left in placed and right not in placed:
            wall = placed[left]
            to = plane.turn(wall.direction, angle - math.pi)
            placed[right] = _pin(loose[right], to, loose[right].start, _face_at(wall, wall.end))
            return True
        if right in placed and left not in placed:
            wall = placed[right]
            to = plane.turn(wall.direction, math.pi - angle)
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


def _corner(taped: TapedCorner, left: Wall, angle: float, sd: float) -> Corner:
    return Corner(taped.left, taped.right, taped.turn, _face_at(left, left.end), angle, sd)


def _obstacle(taped: TapedObstacle, wall: Wall) -> Obstacle:
    """What stands out is taped from the face, so the box grows with the face's bow: never too small."""
    (left, right), (low, high) = taped.along, taped.out
    inner = (out for s, out in wall.line if left < s < right)
    faces = [wall.face(left), wall.face(right), *inner]
    back, front = min(faces) + low, max(faces) + high
    corners = [(left, front), (right, front), (right, back), (left, back)]
    return Obstacle(taped.id, taped.wall, plane.ccw([wall.at(*c) for c in corners]), taped.up)


def _unseen(taped: TapedWall, up: float, lines: Strung | None) -> tuple[Retake, ...]:
    line = nearest(taped, up)
    if line is None:
        text = "No gaps were taken on wall {}: it is drawn dead straight. Take them if anything is scribed to it."
    elif line.up is not None and abs(line.up - up) > SAME_HEIGHT:
        text = "The gaps of wall {} were taken at another height than this shelf's. Take them at the shelf."
    else:
        return _not_joined(taped, lines)
    return (Retake(f"{taped.path}.line", text.format(taped.called)), *_not_joined(taped, lines))


def _not_joined(taped: TapedWall, lines: Strung | None) -> tuple[Retake, ...]:
    return tuple(
        Retake(
            line.path or f"{taped.path}.lines",
            f"This {line.off} on wall {taped.called} shares fewer than two marks with the others at its height, so "
            "nothing joins them and it is left out: take its gaps at two marks of its neighbour too.",
        )
        for line in (lines.apart if lines else ())
    )


def _apart(taped: TapedWall) -> Retake:
    return Retake(
        taped.path,
        f"No corner joins wall {taped.called} to the walls before it: it is drawn apart from them. "
        "Tape the corner if a shelf or an end depends on it.",
    )


def _across_nothing(tapes: Tapes) -> tuple[Retake, ...]:
    """Tapes between walls that no corner joins say nothing of either."""
    group = {name: k for k, names in enumerate(_groups(tapes)) for name in names}
    return tuple(
        Retake(
            a.path,
            f"No corner joins wall {a.start.wall} to wall {a.end.wall}, so this tape is not used. Tape the corners "
            "between them.",
        )
        for a in tapes.across
        if group[a.start.wall] != group[a.end.wall]
    )
