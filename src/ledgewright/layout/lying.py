"""The whole shelf turned off the strings where that saves scribing: its walls read along the shelf's own lines."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ledgewright import plane
from ledgewright.job import Leg, Spec
from ledgewright.layout.legs import Run, Side, profile, runs, within
from ledgewright.layout.placing import MOST_TURN, Edge, Laid, as_turned, best_turn
from ledgewright.plane import Point
from ledgewright.survey import Room, Wall

SAVES = 0.8
"""A turn off the string that saves less than this is not worth setting out (mm, 1/32 in: a rule reads no finer)."""


@dataclass(frozen=True)
class Placed:
    """How a shelf lies to the strings of its walls.

    turn: to the left, seen from above (rad); nought along the strings. along: what each edge needs along the strings,
    best: at the turn that needs least. edges: names of the edges, walls.
    """

    turn: float
    edges: tuple[str, ...]
    along: Laid
    best: Laid

    @property
    def saved(self) -> float:
        """How much less the best turn needs than the strings (mm)."""
        return self.along.eaten - self.best.eaten

    @property
    def laid(self) -> Laid:
        """The one that is followed."""
        return self.best if self.turn else self.along

    @property
    def askew(self) -> bool:
        """Whether the best turn is the most that is allowed: the strings, not the walls, are out."""
        return abs(self.best.turn) > MOST_TURN - 1e-6


def placed(room: Room, spec: Spec) -> tuple[Placed | None, Room, Spec]:
    """Return how a shelf lies best, and the room and the shelf with every figure read along its own lines.

    Every leg turns by one angle about the hook of its wall, which is where its reference line touches the face: a
    true rotation of the line, so that no point of any wall moves. A turn that saves less than 1/32 in (0.8 mm) is not
    made, nor one where the job asks to follow the strings.

    Args:
        room: as found, or with sections that hang already.
        spec: the whole shelf; one section of it stays as it lies.

    Returns:
        None for one section; the room and the shelf as given where nothing is turned.

    Raises:
        LayoutError: a shelf that cannot be laid at all.
    """
    if spec.section is not None:
        return None, room, spec
    legs = runs(room, spec)
    edges = tuple(edge for run in legs for edge in _edges(room, run, spec))
    middle = legs[0].wall.at((legs[0].start + legs[0].end) / 2, 0.0)
    along, best = as_turned(edges, middle, 0.0), best_turn(edges, middle)
    turned = spec.placing == "least scribe" and along.eaten - best.eaten >= SAVES
    found = Placed(best.turn if turned else 0.0, tuple(e.name for e in edges), along, best)
    if not turned or found.askew:
        return replace(found, turn=0.0), room, spec
    return found, *_read_along(room, spec, best.turn)


def _edges(room: Room, run: Run, spec: Spec) -> list[Edge]:
    """The back of a leg, and each end that meets a wall, out to the front edge."""
    face = tuple(run.wall.at(*p) for p in run.face())
    found = [Edge(f"wall {run.wall.called}", plane.scale(run.wall.outward, -1), face)]
    sides: tuple[Side, Side] = ("left", "right")
    for side, beside in zip(sides, run.beside, strict=True):
        if beside is None or spec.ends == "filler":
            continue
        walk = within(profile(room.wall(beside), run.wall, side), run.front)
        kept = tuple(run.wall.at(s, out) for out, s in walk if out >= run.deepest - 1)
        if kept:
            way = -1.0 if side == "left" else 1.0
            out = plane.scale(run.wall.direction, way)
            found.append(Edge(f"{side} end, wall {room.wall(beside).called}", out, kept))
    return found


def _read_along(room: Room, spec: Spec, turn: float) -> tuple[Room, Spec]:
    """The room with the walls of the legs read along lines turned by an angle, and the shelf's places with them."""
    ids = {leg.wall for leg in spec.legs}
    old = {wall.id: wall for wall in room.walls if wall.id in ids}
    new = {name: _wall(wall, turn) for name, wall in old.items()}
    joint = spec.joint
    if joint is not None:
        joint = _along(old[spec.legs[0].wall], new[spec.legs[0].wall], joint)
    legs = tuple(
        Leg(leg.wall, *(_along(old[leg.wall], new[leg.wall], s) for s in (leg.start, leg.end)))
        for leg in spec.legs
    )
    walls = tuple(new.get(wall.id, wall) for wall in room.walls)
    return replace(room, walls=walls), replace(spec, legs=legs, joint=joint)


def _wall(wall: Wall, turn: float) -> Wall:
    turned = replace(wall, direction=plane.turn(wall.direction, turn))
    line = tuple(turned.figures(wall.at(*p)) for p in wall.line)
    members = tuple(
        replace(m, left=_along(wall, turned, m.left), right=_along(wall, turned, m.right))
        for m in wall.members
    )
    return replace(turned, line=line, start=line[0][0], end=line[-1][0], members=members)


def _along(old: Wall, new: Wall, along: float) -> float:
    """The new figure of a place on the face."""
    at: Point = old.at(along, old.face(along))
    return new.figures(at)[0]
