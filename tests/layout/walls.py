"""Random walls that bow and stand askew to their strings, with shelves scribed to them; and their solid, by itself."""

from __future__ import annotations

import math
import random
from dataclasses import dataclass, replace
from typing import Literal

from shapely.geometry import Polygon

from ledgewright import survey
from ledgewright.job import Leg, Spec, TapedWall
from ledgewright.survey import Room
from tests.layout import asked
from tests.survey import taped

Kind = Literal["straight", "inside", "outside", "alcove"]
KINDS: tuple[Kind, ...] = ("straight", "inside", "outside", "alcove")


@dataclass(frozen=True)
class Site:
    """One random site: the room as taped, and the shelf asked for."""

    kind: Kind
    room: Room
    spec: Spec


def site(seed: int, *, mirror: bool = False, other_tape: bool = False) -> Site:
    """A site of a seed, or its mirror image, or the same one taped from the other end of each wall."""
    pick = random.Random(f"site {seed}")  # noqa: S311  # cases, not secrets
    kind = KINDS[seed % len(KINDS)]
    faces, legs, angles, turn = _drawn(pick, kind)
    names = [f"w{k}" for k in range(len(faces))]
    carried = names[1:2] if kind == "alcove" else list(names)
    if mirror:
        at = {name: face[-1][0] for name, face in zip(names, faces, strict=True)}
        legs = [(at[n] - b, at[n] - a) for n, (a, b) in zip(carried, legs, strict=True)][::-1]
        faces = [[(face[-1][0] - s, gap) for s, gap in face[::-1]] for face in faces[::-1]]
        names, carried, angles = names[::-1], carried[::-1], angles[::-1]
    # Every other L has a shallower leg on its first wall.
    own = [0.7 * _depth(seed), None] if len(carried) == 2 and seed % 8 > 3 else [None, None]
    own = own[::-1] if mirror else own
    walls = [_wall(name, face, right=other_tape) for name, face in zip(names, faces, strict=True)]
    corners = [
        taped.corner(a, b, turn=turn, angle=angle)
        for a, b, angle in zip(names, names[1:], angles, strict=False)
    ]
    spans = {name: face[-1][0] for name, face in zip(names, faces, strict=True)}
    sign = -1 if other_tape else 0
    asked_legs = [
        Leg(name, a + sign * spans[name], b + sign * spans[name], depth)
        for name, (a, b), depth in zip(carried, legs, own, strict=False)
    ]
    spec = replace(
        asked.shelf(asked_legs, depth=_depth(seed), scribe_allowance=16.0, end_gap=1.0),
        ends="tight",
        scribe_tolerance=(0.3, 0.5, 1.0)[seed % 3],
    )
    return Site(kind, survey.room(taped.tapes(walls, corners), spec.top), spec)


def _depth(seed: int) -> float:
    return 180.0 + 37.0 * (seed % 4)


def _drawn(
    pick: random.Random, kind: Kind
) -> tuple[
    list[list[tuple[float, float]]],
    list[tuple[float, float]],
    list[float],
    Literal["inside", "outside"],
]:
    """Gaps of each wall from its left end, the leg on each wall that carries one, corner angles."""
    if kind == "straight":
        length = pick.uniform(900, 2400)
        return [_face(pick, length)], [(100.0, length - 120.0)], [], "inside"
    if kind == "alcove":
        length = pick.uniform(700, 1300)
        faces = [_face(pick, 700, 1.0), _face(pick, length), _face(pick, 700, 1.0)]
        return (
            faces,
            [(0.0, length)],
            [math.radians(90 + pick.gauss(0, 0.6)) for _ in "ab"],
            "inside",
        )
    first, second = pick.uniform(800, 1700), pick.uniform(800, 1700)
    legs = [(150.0, first), (0.0, second - 150.0)]
    angle = math.radians(90 + pick.gauss(0, 1.5))
    return [_face(pick, first), _face(pick, second)], legs, [angle], kind


def _face(pick: random.Random, length: float, deep: float = 4.0) -> list[tuple[float, float]]:
    """Gaps from a string that stands askew to a wall that comes and goes."""
    count = max(3, round(length / 190))
    slope = pick.choice((0.0, pick.uniform(-0.012, 0.012)))
    places = [length * k / count for k in range(count + 1)]
    return [(s, 30.0 + slope * s + pick.uniform(-deep, deep) / 2) for s in places]


def _wall(name: str, face: list[tuple[float, float]], *, right: bool) -> TapedWall:
    span = face[-1][0]
    gaps = [(span - s, gap) for s, gap in face] if right else face
    return taped.wall(name, span, gaps, tape_from="right" if right else "left")


def solid(site: Site, name: str, deep: float = 400.0) -> Polygon:
    """What stands behind the true face of one wall, from its points alone; of a pier, the wedge of both its faces."""
    if site.kind == "outside":
        return Polygon([w.at(*p) for w in site.room.walls for p in w.line])
    wall = site.room.wall(name)
    face = [wall.at(s, out) for s, out in wall.line]
    low = min(out for _, out in wall.line) - deep
    return Polygon([*face, wall.at(wall.line[-1][0], low), wall.at(wall.line[0][0], low)])
