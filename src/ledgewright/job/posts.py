"""Studs of two walls behind their outside corner: one inside the other wall's lining, or two in one place."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from ledgewright.job import places
from ledgewright.job.findings import Ear
from ledgewright.job.model import TapedCorner, TapedMember, TapedWall
from ledgewright.job.walls import Walls, left_end, right_end, taped

if TYPE_CHECKING:
    from shapely.geometry import Polygon

IN_LINING = 5.0
"""A stud that seems to stand so far in the next wall's lining may be a tape's doubt, or a bead (mm; our choice)."""
SHARED = 10.0
"""Two studs told of two walls that share a square of this side are told twice, or one of them wrongly (mm)."""


def check_posts(ear: Ear, corners: Sequence[TapedCorner], walls: Walls) -> None:
    """Refuse studs that would stand inside the next wall's lining, and tell of two that stand in one place.

    A post told on both of its walls is common, so two in one place are asked back by a note alone.

    Args:
        ear: hears what is wrong.
        corners: of the job.
        walls: of the job.
    """
    for corner in corners:
        left, right = walls.find(corner.left), walls.find(corner.right)
        if corner.turn != "outside" or left is None or right is None:
            continue
        solid = _solid(corner)
        inside = [
            member.id
            for wall, other in ((left, right), (right, left))
            for member in _studs(wall, walls)
            if _in_lining(ear, corner, wall, other, member, solid)
        ]
        for one in _studs(left, walls):
            for two in _studs(right, walls):
                if one.id not in inside and two.id not in inside:
                    _in_one_place(ear, (left, one), (right, two), solid)


def _studs(wall: TapedWall, walls: Walls) -> list[TapedMember]:
    if wall.id in walls.unsure or wall.framing in ("masonry", "metal"):
        return []
    return [m for m in wall.members if m.kind == "stud" and m.lost != "missing"]


def _solid(corner: TapedCorner) -> float:
    """The angle of the solid between the two faces (rad); square where a level and tapes are yet to tell."""
    if corner.angle is not None:
        return min(corner.angle, 2 * math.pi - corner.angle)
    for a, b, c in corner.taped:
        if abs(a - b) < c < a + b:
            return math.acos((a * a + b * b - c * c) / (2 * a * b))
    return math.pi / 2


def _from_corner(wall: TapedWall, member: TapedMember, *, left: bool) -> tuple[float, float]:
    """Between which distances from the corner a stud stands; left: of the wall left of the corner."""
    if left:
        return right_end(wall) - member.right, right_end(wall) - member.left
    return member.left - left_end(wall), member.right - left_end(wall)


def _lining(wall: TapedWall) -> float:
    """How far behind its face a wall surely has no wood."""
    layers = sum(thick for _, thick in wall.lining)
    own = [m.depth for m in wall.members if m.depth is not None]
    return layers or min([*own, wall.depth_to_wood or 0.0])


def _deep(wall: TapedWall, member: TapedMember) -> tuple[float, float]:
    """From where to where behind the face of its wall a stud stands."""
    face = member.depth or wall.depth_to_wood or _lining(wall)
    return face, face + (wall.timber.depth if wall.timber else member.right - member.left)


def _in_lining(
    ear: Ear,
    corner: TapedCorner,
    wall: TapedWall,
    other: TapedWall,
    member: TapedMember,
    solid: float,
) -> bool:
    near, far = _from_corner(wall, member, left=wall.id == corner.left)
    lining = _lining(other)
    # Of a point so far along one face and so deep behind it, how deep it lies behind the other.
    behind = min(near * math.sin(solid) - deep * math.cos(solid) for deep in _deep(wall, member))
    if lining - behind <= IN_LINING:
        return False
    step = 25.4 / 16 if ear.unit == "in" else 0.5
    least = step * math.ceil((near + (lining - behind) / math.sin(solid)) / step - 0.25)
    hooked = taped(wall, right_end(wall) if wall.id == corner.left else left_end(wall)) < 1.0
    edges = f'["{ear.figure(least)}", "{ear.figure(least + far - near)}"]'
    ear.refuse(
        "overlap",
        _path(ear, member),
        f"this stud stands {ear.length(near)} from the outside corner, inside the lining of wall {other.called}, which "
        f"is {ear.length(lining)} thick",
        f"tape it again: the first stud of a wall begins {ear.length(least)} from the finished corner at the least"
        + (f", such as {edges}" if hooked else "")
        + f"; or tell the lining of wall {other.called} as it is",
    )
    return True


def _path(ear: Ear, member: TapedMember) -> places.Path:
    found = places.steps(member.path)
    return places.resolve(ear.document, found) if found else ()


def _in_one_place(
    ear: Ear,
    one: tuple[TapedWall, TapedMember],
    two: tuple[TapedWall, TapedMember],
    solid: float,
) -> None:
    along, across = (1.0, 0.0), (math.cos(solid), math.sin(solid))
    first = _outline(one, along, (0.0, 1.0), left=True)
    second = _outline(two, across, (across[1], -across[0]), left=False)
    if first.intersection(second).area < SHARED * SHARED:
        return
    middle = (one[1].left + one[1].right) / 2
    ear.note(
        "overlap",
        _path(ear, two[1]),
        f"this stud and the one of wall {one[0].called} at {ear.figure(taped(one[0], middle))} are told in one place "
        "behind their corner; each is reckoned by itself",
        "right where both are one post, which then carries the rods of both walls: ask who framed it; else tape both "
        "again",
    )


def _outline(
    at: tuple[TapedWall, TapedMember],
    along: tuple[float, float],
    inward: tuple[float, float],
    *,
    left: bool,
) -> Polygon:
    """A stud in plan from the corner, by the direction of its wall away from it and into the wall."""
    # The desk's first page reads jobs and waits for no numerics.
    from shapely.geometry import Polygon

    (near, far), (face, back) = _from_corner(*at, left=left), _deep(*at)
    return Polygon(
        [
            (s * along[0] + h * inward[0], s * along[1] + h * inward[1])
            for s, h in ((near, face), (far, face), (far, back), (near, back))
        ]
    )
