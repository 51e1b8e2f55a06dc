"""Walls and corners as taped, made up in a line or two; the figures of the demo scenes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from ledgewright.job import (
    Known,
    TapedCorner,
    TapedLine,
    TapedMember,
    TapedObstacle,
    TapedWall,
    Tapes,
)

IN = 25.4
KNOWN = Known("opened it", None, "no", "none", None, None)


def wall(
    name: str,
    length: float,
    gaps: Sequence[tuple[float, float]] = (),
    *,
    tape_from: Literal["left", "right"] = "left",
    members: Sequence[tuple[float, float]] = (),
    depth_to_wood: float | None = 16.0,
    up: float | None = None,
) -> TapedWall:
    """Every place is given as the tape shows it; the sign of a wall taped from the right is put on here."""
    sign = -1 if tape_from == "right" else 1
    places = sorted((sign * s, gap) for s, gap in gaps)
    edges = [sorted((sign * a, sign * b)) for a, b in members]
    studs = tuple(
        TapedMember(f"{name}.s{k}", None, "stud", a, b, None, 1.0, f"wall.{name}.studs[{k}]")
        for k, (a, b) in enumerate(edges, 1)
    )
    return TapedWall(
        id=name,
        mark=name,
        tape_from=tape_from,
        length=length,
        lines=(TapedLine(up, tuple(places)),) if gaps else (),
        framing="wood",
        timber=None,
        depth_to_wood=depth_to_wood,
        lining=(),
        members=studs,
        known=KNOWN,
        path=f"wall.{name}",
    )


def corner(
    left: str,
    right: str,
    *,
    turn: Literal["inside", "outside"] = "inside",
    taped: Sequence[tuple[float, float, float]] = (),
    angle: float | None = None,
    square_gap: tuple[float, float] | None = None,
) -> TapedCorner:
    return TapedCorner(left, right, turn, tuple(taped), angle, square_gap, f"corner.{left}-{right}")


def tapes(
    walls: Sequence[TapedWall],
    corners: Sequence[TapedCorner] = (),
    obstacles: Sequence[TapedObstacle] = (),
) -> Tapes:
    return Tapes("laser", tuple(walls), tuple(corners), tuple(obstacles))


def inches(*figures: float) -> tuple[float, ...]:
    return tuple(f * IN for f in figures)


def stoneware(*, corners: Sequence[TapedCorner] | None = None) -> Tapes:
    """The corner of the demo scene: A is the left wall, taped from its right end, B the right wall."""
    a_gaps = inches(1, 1 + 1 / 16, 1 + 5 / 32, 1 + 7 / 32, 1 + 5 / 32, 1 + 1 / 32, 31 / 32, 1)
    b_gaps = inches(1, 31 / 32, 29 / 32, 7 / 8, 29 / 32, 15 / 16, 1, 1)
    a_studs = [(14.6875, 16.1875), (30.8125, 32.3125), (46.5625, 48.125), (63.125, 64.625)]
    b_studs = [(13.4375, 14.9375), (29.5625, 31.0625), (45.3125, 46.8125)]
    triangles = ((48, 36, 60 + 9 / 16), (60, 45, 75 + 11 / 16))
    taped = [(a * IN, b * IN, c * IN) for a, b, c in triangles]
    return tapes(
        [
            wall(
                "A",
                84.625 * IN,
                [(12 * IN * k, g) for k, g in enumerate(a_gaps)],
                tape_from="right",
                members=[(a * IN, b * IN) for a, b in a_studs],
                depth_to_wood=21 / 32 * IN,
            ),
            wall(
                "B",
                63 * IN,
                [(9 * IN * k, g) for k, g in enumerate(b_gaps)],
                members=[(a * IN, b * IN) for a, b in b_studs],
                depth_to_wood=11 / 16 * IN,
            ),
        ],
        [corner("A", "B", taped=taped)] if corners is None else corners,
    )


def alcove(*, corners: Sequence[TapedCorner] | None = None) -> Tapes:
    """The alcove of the demo scene: cheek (taped from the back), back, return.

    The corners come from the two diagonals at 285 out: front-left to back-right, back-left to front-right.
    """
    gaps = [20.0, 21.5, 23.0, 24.0, 24.5, 23.5, 22.0, 21.0, 20.0]
    studs = [(61.0, 99.0), (462.5, 500.5), (864.0, 902.5), (1112.0, 1150.0)]
    back = wall(
        "back",
        1187.0,
        list(zip([0, 150, 300, 450, 600, 750, 900, 1050, 1187], gaps, strict=True)),
        members=studs,
    )
    deep = [0.0, 95.0, 190.0, 285.0]
    cheek_gaps = list(zip(deep, [10.0, 10.5, 11.0, 10.0], strict=True))
    return_gaps = list(zip(deep, [10.0, 9.5, 9.5, 10.0], strict=True))
    return tapes(
        [
            wall("cheek", 352.0, cheek_gaps, tape_from="right"),
            back,
            wall("return", 352.0, return_gaps),
        ],
        [
            corner("cheek", "back", taped=[(285.0, 1187.0, 1218.5)]),
            corner("back", "return", taped=[(1187.0, 285.0, 1219.5)]),
        ]
        if corners is None
        else corners,
    )
