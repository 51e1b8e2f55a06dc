"""All figures of walls that hang together as one net: lengths, gaps, corners, and tapes across the room."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from ledgewright import plane
from ledgewright.job import LengthTool, Mark, TapedAcross, TapedCorner, TapedWall, Tapes
from ledgewright.survey.accuracy import FACE_SD, FINDER_SD, GAP, UNSEEN_SD, tape_sd
from ledgewright.survey.adjust import Equation, Slopes
from ledgewright.survey.equations import Along, Base, Bend, Gap, Opened, Out, Spot, Straight
from ledgewright.survey.face import Strung
from ledgewright.survey.model import Wall

Kind = Literal["tape", "gap", "angle", "height", "face", "guess", "rule"]
"""face: how far a mark lies off the face between stations. rule: no figure but a definition."""

SEEN: dict[str, float] = {
    "tape": 100.0,
    "gap": 13.0,
    "angle": 0.1,
    "face": 13.0,
    "guess": 0.2,
    "height": 50.0,
}
"""A larger slip would have been seen by eye: a hand in a tape, half an inch in a gap (mm; rad; our choice)."""
BY_DEFINITION = 1e-3
GUESS_SD = math.radians(1.0)
"""Doubt of a corner of which nothing was taped and which is taken as square (rad; common practice, from memory)."""
ONE_MARK = 0.01
"""Marks nearer than this on one wall are one mark, and one figure (mm)."""


@dataclass(frozen=True)
class Part:
    """What is taken again as one: a triangle, the gaps of a wall. place: the corner it belongs to, or nothing."""

    path: str
    words: str
    place: str = ""


@dataclass(frozen=True)
class Named:
    """One figure of the net and what people call it.

    read: as people read it. sign: -1 where the equation counts the other way, as along a wall taped from its right.
    """

    part: Part
    words: str
    path: str
    kind: Kind
    read: float
    sign: float = 1.0


@dataclass
class Net:
    """Unknowns near the truth, which of them are given, and the equations, each with its name.

    walls: (x, y, turn) of each wall by number of unknown. ends: its left and right end. outs: of each wall the unknown
    out of each station, None where it is on the reference line. lengths, gaps: numbers of figures, by wall, and by
    station where one line alone was drawn. corners: paths by what each corner is called.
    """

    start: list[float] = field(default_factory=list)
    held: set[int] = field(default_factory=set)
    equations: list[Equation] = field(default_factory=list)
    names: list[Named] = field(default_factory=list)
    walls: dict[str, Base] = field(default_factory=dict)
    ends: dict[str, tuple[Spot, Spot]] = field(default_factory=dict)
    outs: dict[str, tuple[int | None, ...]] = field(default_factory=dict)
    marks: dict[tuple[str, float | str], Spot] = field(default_factory=dict)
    lengths: dict[str, int] = field(default_factory=dict)
    gaps: dict[str, dict[int, int]] = field(default_factory=dict)
    lost: list[TapedAcross] = field(default_factory=list)
    corners: dict[str, str] = field(default_factory=dict)

    def unknown(self, near: float) -> int:
        """Return the number of a new unknown."""
        self.start.append(near)
        return len(self.start) - 1

    def spot(self, near: plane.Point) -> Spot:
        """Return the numbers of a new point."""
        return self.unknown(near[0]), self.unknown(near[1])

    def add(self, equation: Equation, name: Named) -> int:
        """Take in a figure and return its number."""
        self.equations.append(equation)
        self.names.append(name)
        return len(self.names) - 1

    def near(self, spot: Spot) -> plane.Point:
        """Return where a point is taken to be before anything is adjusted."""
        return self.start[spot[0]], self.start[spot[1]]


@dataclass(frozen=True)
class Figures:
    """What one net is made of: walls that hang together, their lines, corners and tapes, and where all is roughly."""

    walls: tuple[TapedWall, ...]
    strung: Mapping[str, Strung | None]
    corners: tuple[TapedCorner, ...]
    across: tuple[TapedAcross, ...]
    placed: Mapping[str, Wall]
    tapes: Tapes


def build(given: Figures, guessed: frozenset[str] = frozenset()) -> Net:
    """Return the net of walls that hang together.

    Args:
        given: their figures, and where everything is roughly.
        guessed: paths of corners of which nothing was taped: they are taken for square, to a degree.
    """
    net = Net()
    _points(net, given)
    for taped in given.walls:
        _face(net, given, taped)
        _length(net, given, taped)
    for corner in given.corners:
        _corner(net, given, corner, guess=corner.path in guessed)
    _across(net, given)
    first = net.walls[given.walls[0].id]
    net.held |= set(first)
    return net


def _points(net: Net, given: Figures) -> None:
    """Walls and their ends; two walls of a corner share the point where their faces meet."""
    meets = {c.right: c.left for c in given.corners}
    for taped in given.walls:
        wall = given.placed[taped.id]
        turn = math.atan2(wall.direction[1], wall.direction[0])
        net.walls[taped.id] = (*net.spot(wall.origin), net.unknown(turn))
        ends = [net.spot(wall.at(at, wall.face(at))) for at in (wall.start, wall.end)]
        net.ends[taped.id] = (ends[0], ends[1])
    for right, left in meets.items():
        net.ends[right] = (net.ends[left][1], net.ends[right][1])
    # Points that a shared one took the place of are no unknowns of any figure.
    used = {k for pair in net.ends.values() for spot in pair for k in spot}
    used |= {k for base in net.walls.values() for k in base}
    net.held |= set(range(len(net.start))) - used


def _face(net: Net, given: Figures, taped: TapedWall) -> None:
    lines = given.strung[taped.id]
    if lines is None:
        net.outs[taped.id] = ()
        return
    wall = given.placed[taped.id]
    still = {lines.hook, lines.far}
    outs = tuple(
        None if k in still else net.unknown(wall.face(s)) for k, s in enumerate(lines.stations)
    )
    net.outs[taped.id] = outs
    part = Part(lines.lines[0][0].path or f"{taped.path}.line", f"the gaps of wall {taped.called}")
    for number, (line, marks) in enumerate(lines.lines, start=1):
        offset = net.unknown(marks[0][1])
        lean = net.unknown(0.0) if lines.far is not None else None
        which = f" of {line.off} {number}" if len(lines.lines) > 1 else ""
        for k, gap, i in marks:
            name = Named(part, f"gap {i}{which}", line.path or part.path, "gap", gap)
            s = lines.stations[k]
            figure = net.add(Gap(offset, lean, outs[k], s, gap, GAP[line.off]), name)
            if lines.far is None:
                net.gaps.setdefault(taped.id, {})[k] = figure


def _at(net: Net, given: Figures, wall: str, along: float) -> Slopes:
    """Of which stations, and how much of each, the face at a place is made; level past the first and last."""
    lines = given.strung[wall]
    if lines is None:
        return ()
    places, outs = lines.stations, net.outs[wall]
    shares: list[tuple[int | None, float]] = []
    if along <= places[0]:
        shares = [(outs[0], 1.0)]
    elif along >= places[-1]:
        shares = [(outs[-1], 1.0)]
    else:
        k = next(k for k in range(1, len(places)) if along <= places[k])
        t = (along - places[k - 1]) / (places[k] - places[k - 1])
        shares = [(outs[k - 1], 1.0 - t), (outs[k], t)]
    return tuple((out, share) for out, share in shares if out is not None)


def _on_face(net: Net, given: Figures, wall: str, along: float, spot: Spot) -> None:
    sd = UNSEEN_SD if given.strung[wall] is None else FACE_SD
    path = next(w.path for w in given.walls if w.id == wall)
    part = Part(f"{path}.line", f"the gaps of wall {given.placed[wall].called}")
    name = Named(part, "a mark off the face", part.path, "face", 0.0)
    net.add(Out(net.walls[wall], spot, _at(net, given, wall, along), sd), name)


def _length(net: Net, given: Figures, taped: TapedWall) -> None:
    """The hook end is along 0 by definition; the other end is what the tape said."""
    wall, base = given.placed[taped.id], net.walls[taped.id]
    left, right = net.ends[taped.id]
    hook, far = (right, left) if taped.tape_from == "right" else (left, right)
    for spot, along in ((left, wall.start), (right, wall.end)):
        _on_face(net, given, taped.id, along, spot)
    part = Part(f"{taped.path}.length", f"the length of wall {taped.called}")
    net.add(Along(base, hook, 0.0, BY_DEFINITION), Named(part, "the hook", part.path, "rule", 0.0))
    read = -taped.length if taped.tape_from == "right" else taped.length
    sd = tape_sd(taped.length, given.tapes.tool, given.tapes.hands)
    name = Named(part, "", part.path, "tape", taped.length, math.copysign(1.0, read))
    net.lengths[taped.id] = net.add(Along(base, far, read, sd), name)


def _corner(net: Net, given: Figures, corner: TapedCorner, *, guess: bool) -> None:
    place = corner_words(corner, given.tapes)
    net.corners[place] = corner.path
    for k, taped in enumerate(corner.taped, start=1):
        if closes(taped):
            part = Part(f"{corner.path}.taped", f"triangle {k}", place)
            _triangle(net, given, corner, taped, part)
    turns = (net.walls[corner.left][2], net.walls[corner.right][2])
    if corner.square_gap is not None and corner.square_gap[1] > 0:
        _square(net, given, corner, corner.square_gap)
    if corner.angle is not None:
        part = Part(f"{corner.path}.angle", "the angle", place)
        read = room_side(corner, corner.angle)
        net.add(Bend(*turns, read, FINDER_SD), Named(part, "", part.path, "angle", read))
    if guess:
        part = Part(corner.path, "the guess of a square corner", place)
        read = room_side(corner, math.pi / 2)
        net.add(Bend(*turns, read, GUESS_SD), Named(part, "", part.path, "guess", math.pi / 2))


def _triangle(
    net: Net,
    given: Figures,
    corner: TapedCorner,
    taped: tuple[float, float, float],
    part: Part,
) -> None:
    left, right = given.placed[corner.left], given.placed[corner.right]
    at = net.ends[corner.left][1]
    marks = []
    sides = ((left, left.end, -1.0, taped[0]), (right, right.start, 1.0, taped[1]))
    for wall, end, sign, far in sides:
        mark, new = _mark(net, given, wall.id, end + sign * far)
        marks.append(mark)
        if new:
            name = Named(part, f"along wall {wall.called}", part.path, "tape", far, sign)
            from_corner = (*at, net.walls[wall.id][2])
            net.add(Along(from_corner, mark, sign * far, _sd(given, far)), name)
    name = Named(part, "straight across", part.path, "tape", taped[2])
    net.add(Straight(marks[0], marks[1], taped[2], _sd(given, taped[2])), name)


def _sd(given: Figures, length: float, tool: LengthTool | None = None) -> float:
    return tape_sd(length, tool or given.tapes.tool, given.tapes.hands)


def _mark(net: Net, given: Figures, wall: str, along: float) -> tuple[Spot, bool]:
    """Return the point of a mark, and whether it is new: a mark at the end of a wall is the end."""
    at = given.placed[wall]
    for spot, end in zip(net.ends[wall], (at.start, at.end), strict=True):
        if abs(along - end) < ONE_MARK:
            return spot, False
    for (name, other), spot in net.marks.items():
        if name == wall and not isinstance(other, str) and abs(other - along) < ONE_MARK:
            return spot, False
    spot = net.spot(at.at(along, at.face(along)))
    net.marks[wall, along] = spot
    _on_face(net, given, wall, along, spot)
    return spot, True


def _square(net: Net, given: Figures, corner: TapedCorner, gap: tuple[float, float]) -> None:
    """A framing square against the left face, both blades as long as `at`; its blades end on marks of their own."""
    opens, at = gap
    left, right = given.placed[corner.left], given.placed[corner.right]
    vertex = net.ends[corner.left][1]
    part = Part(
        f"{corner.path}.square_gap", "the framing square", corner_words(corner, given.tapes)
    )
    tips = []
    for wall, along in ((left, left.end - at), (right, right.start + at)):
        tip = net.spot(wall.at(along, wall.face(along)))
        _on_face(net, given, wall.id, along, tip)
        blade = Named(part, f"the blade on wall {wall.called}", part.path, "rule", at)
        net.add(Straight(vertex, tip, at, 1.0), blade)
        tips.append(tip)
    read = room_side(corner, math.pi / 2 + math.atan2(opens, at))
    sd = tape_sd(0.0, "steel tape", given.tapes.hands) / at
    net.add(
        Opened(vertex, tips[0], tips[1], read, sd),
        Named(part, "", part.path, "angle", read),
    )


def _across(net: Net, given: Figures) -> None:
    """Tapes between marks; marks known by a letter are placed as soon as a tape along their wall reaches them."""
    left = list(given.across)
    while left:
        ready = [a for a in left if all(_reach(net, given, m, given.across) for m in _ends(a))]
        if not ready:
            net.lost = left
            return
        for a in ready:
            left.remove(a)
            _one_across(net, given, a)


def _ends(a: TapedAcross) -> tuple[Mark, Mark]:
    return a.start, a.end


def _one_across(net: Net, given: Figures, a: TapedAcross) -> None:
    spots = []
    for mark in _ends(a):
        spot, new = _placed(net, given, mark)
        spots.append(spot)
        if new and mark.along is not None:
            on = f"the mark on wall {given.placed[mark.wall].called}"
            part = Part(a.path, f"{on} of this tape")
            read, base = abs(mark.along), net.walls[mark.wall]
            sd = _sd(given, read)
            sign = math.copysign(1.0, mark.along)
            name = Named(part, on, a.path, "tape", read, sign)
            net.add(Along(base, spot, mark.along, sd), name)
    words = f"the tape from {mark_words(a.start, given)} to {mark_words(a.end, given)}"
    name = Named(Part(a.path, words), "", a.path, "tape", a.length)
    net.add(Straight(spots[0], spots[1], a.length, _sd(given, a.length, a.tool)), name)


def _placed(net: Net, given: Figures, mark: Mark) -> tuple[Spot, bool]:
    if mark.along is not None:
        return _mark(net, given, mark.wall, mark.along)
    return net.marks[mark.wall, mark.letter or ""], False


def _reach(net: Net, given: Figures, mark: Mark, tapes: Sequence[TapedAcross]) -> bool:
    """Whether a mark is somewhere; a letter is put where the tapes from marks that are somewhere suit it best."""
    key = (mark.wall, mark.letter or "")
    if mark.along is not None or key in net.marks:
        return True
    wall = given.placed[mark.wall]
    known = _from_known(net, given, mark, tapes)
    on_wall = [(at, far) for at, far, wall_of in known if wall_of == mark.wall]
    if not on_wall:
        return False
    places = [wall.figures(at)[0] + sign * far for at, far in on_wall[:1] for sign in (1.0, -1.0)]

    def suits(along: float) -> float:
        here = wall.at(along, wall.face(along))
        past = max(0.0, wall.start - along, along - wall.end)
        return past + sum(abs(plane.length(plane.sub(at, here)) - far) for at, far, _ in known)

    along = min(places, key=suits)
    spot = net.spot(wall.at(along, wall.face(along)))
    net.marks[key] = spot
    _on_face(net, given, mark.wall, along, spot)
    return True


def _from_known(
    net: Net, given: Figures, mark: Mark, tapes: Sequence[TapedAcross]
) -> list[tuple[plane.Point, float, str]]:
    found = []
    for a in tapes:
        for one, other in (_ends(a), _ends(a)[::-1]):
            if other == mark and one != mark:
                if one.along is not None:
                    wall = given.placed[one.wall]
                    found.append((wall.at(one.along, wall.face(one.along)), a.length, one.wall))
                elif (one.wall, one.letter or "") in net.marks:
                    spot = net.marks[one.wall, one.letter or ""]
                    found.append((net.near(spot), a.length, one.wall))
    return found


def mark_words(mark: Mark, given: Figures) -> str:
    """Return what a mark is called without a figure, as "the left end of wall A"."""
    wall = given.placed[mark.wall]
    if mark.along is None:
        return f"mark {mark.letter} on wall {wall.called}"
    for side, end in (("left", wall.start), ("right", wall.end)):
        if abs(mark.along - end) < ONE_MARK:
            return f"the {side} end of wall {wall.called}"
    return f"a mark on wall {wall.called}"


def corner_words(corner: TapedCorner, tapes: Tapes) -> str:
    """Return what a corner is called."""
    return f"the corner of walls {tapes.called(corner.left)} and {tapes.called(corner.right)}"


def closes(taped: tuple[float, float, float]) -> bool:
    """Whether three tapes can make a triangle: none longer than the other two together."""
    return min(taped) > 0 and 2 * max(taped) < sum(taped)


def room_side(corner: TapedCorner, angle: float) -> float:
    """Return an angle read at a corner as the room's: at an outside corner a tape or finder reads the solid's."""
    return 2 * math.pi - angle if corner.turn == "outside" and angle < math.pi else angle
