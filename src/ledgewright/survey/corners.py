"""How a corner was taped becomes the angle between the reference lines of its two walls, with its doubt."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations

from ledgewright.job import TapedCorner
from ledgewright.survey.model import Retake, Wall

TAPE_SD = 0.8
"""Standard deviation of one taped length (mm).

A steel tape is read on site to 1/32 in or 1 mm, and a mark is made and held to about as much; 0.5 to 1 mm is
commonly taken for short steel tapes (common practice, from memory). It is the doubt of a careful person, not of a
slip: slips are what `LIMIT` is for.
"""

GAP_SD = 0.3
"""Standard deviation of one gap from string to wall, read with a rule (mm; common practice, from memory)."""

FINDER_SD = math.radians(0.25)
"""Standard deviation of an angle read with a finder on painted wall (rad; common practice, from memory)."""

GUESS_SD = math.radians(1.0)
"""Doubt of a corner of which nothing was taped and which is taken as square (rad; common practice, from memory)."""

LIMIT = 3.29
"""Standard deviations beyond which two readings are held to differ: two-sided test at 0.001 (Baarda 1968)."""

GROSS = math.radians(1.0)
"""Readings of one corner that differ by more than this are not inaccurate but wrong: a tape misread (our choice)."""


@dataclass(frozen=True)
class Reading:
    """One reading of a corner: the room-side angle between the reference lines (rad) and its variance."""

    name: str
    angle: float
    var: float


@dataclass(frozen=True)
class Bend:
    """The angle of a corner on the room side between reference lines, its doubt (rad), and what to take again."""

    angle: float
    sd: float
    retake: tuple[Retake, ...]


def bend(corner: TapedCorner, left: Wall, right: Wall) -> Bend:
    """Return the angle of a corner as the weighted mean of all that was read of it.

    Weights are the inverse variances propagated from the single figures (general law of error propagation).

    Args:
        corner: as taped. Its figures are of the corner as a person holds a tape to it: the room's
            angle at an inside corner, the solid's at an outside corner.
        left: the wall whose right end is the corner; only its face counts, not where it is placed.
        right: the wall whose left end is the corner.

    Returns:
        The room-side angle (more than pi at an outside corner), its doubt, and the readings that
        contradict each other by more than 3.29 standard deviations.
    """
    readings = _readings(corner, left, right)
    bad = _impossible(corner, left, right)
    if not readings:
        return Bend(_room_side(corner, math.pi / 2), GUESS_SD, (*bad, _nothing(corner)))
    total = sum(1 / r.var for r in readings)
    mean = sum(r.angle / r.var for r in readings) / total
    return Bend(mean, total**-0.5, (*bad, *_disputes(corner, readings)))


def _readings(corner: TapedCorner, left: Wall, right: Wall) -> tuple[Reading, ...]:
    found = [
        _triangle(corner, left, right, f"triangle {k}", taped)
        for k, taped in enumerate(corner.taped, 1)
    ]
    if corner.square_gap is not None:
        found.append(_square(corner, left, right, corner.square_gap))
    if corner.angle is not None:
        found.append(Reading("the angle", _room_side(corner, corner.angle), FINDER_SD**2))
    return tuple(r for r in found if r is not None)


def _triangle(
    corner: TapedCorner, left: Wall, right: Wall, name: str, taped: tuple[float, float, float]
) -> Reading | None:
    """Law of cosines on the chords from the corner to the marks; None if the three tapes close no triangle.

    The marks lie on the true face, so the triangle gives the angle between chords; the known gaps
    turn each chord back to its string.
    """
    a, b, across = taped
    if min(taped) <= 0:
        return None
    p, q = math.hypot(a, _rise_left(left, a)), math.hypot(b, _rise_right(right, b))
    cosine = (p * p + q * q - across * across) / (2 * p * q)
    if abs(cosine) >= 1:
        return None
    chord = math.acos(cosine)
    slopes = (across, p - q * cosine, q - p * cosine)
    var = TAPE_SD**2 * sum(s * s for s in slopes) / (p * q * math.sin(chord)) ** 2
    angle = _room_side(corner, chord) + _to_strings(left, right, a, b)
    return Reading(name, angle, var + _gap_var(a, b))


def _square(
    corner: TapedCorner, left: Wall, right: Wall, gap: tuple[float, float]
) -> Reading | None:
    """A framing square that touches the left wall; both blades are taken as long as `at`."""
    opens, at = gap
    if at <= 0:
        return None
    angle = _room_side(corner, math.pi / 2 + math.atan2(opens, at))
    return Reading(
        "the framing square",
        angle + _to_strings(left, right, at, at),
        (TAPE_SD / at) ** 2 + _gap_var(at, at),
    )


def _room_side(corner: TapedCorner, angle: float) -> float:
    return 2 * math.pi - angle if corner.turn == "outside" and angle < math.pi else angle


def _rise_left(wall: Wall, a: float) -> float:
    return wall.face(wall.end - a) - wall.face(wall.end)


def _rise_right(wall: Wall, b: float) -> float:
    return wall.face(wall.start + b) - wall.face(wall.start)


def _to_strings(left: Wall, right: Wall, a: float, b: float) -> float:
    """A mark that stands out of the string makes the room-side angle between the chords too small."""
    return math.atan2(_rise_left(left, a), a) + math.atan2(_rise_right(right, b), b)


def _gap_var(a: float, b: float) -> float:
    return 2 * GAP_SD**2 * (1 / a**2 + 1 / b**2)


def _where(corner: TapedCorner) -> str:
    return f"the corner of {corner.left} and {corner.right}"


def _nothing(corner: TapedCorner) -> Retake:
    return Retake(
        corner.path,
        f"Nothing usable was taped at {_where(corner)}: it is drawn square, which may be a degree out. "
        "Tape two triangles, or lay a framing square in it.",
    )


def _impossible(corner: TapedCorner, left: Wall, right: Wall) -> tuple[Retake, ...]:
    return tuple(
        Retake(
            f"{corner.path}.taped",
            f"Triangle {k} at {_where(corner)} does not close: one tape is longer than the other two "
            "together. Take all three again.",
            gross=True,
        )
        for k, taped in enumerate(corner.taped, 1)
        if _triangle(corner, left, right, "", taped) is None
    )


def _disputes(corner: TapedCorner, readings: tuple[Reading, ...]) -> tuple[Retake, ...]:
    return tuple(
        Retake(
            corner.path,
            f"At {_where(corner)} {one.name} and {two.name} differ by "
            f"{math.degrees(abs(one.angle - two.angle)):.2f} degrees, more than careful tapes can: "
            "take both again.",
            gross=abs(one.angle - two.angle) > GROSS,
        )
        for one, two in combinations(readings, 2)
        if abs(one.angle - two.angle) > LIMIT * math.sqrt(one.var + two.var)
    )
