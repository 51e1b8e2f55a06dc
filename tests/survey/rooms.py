"""Rooms made up at random, and what honest tapes would read in them: a forward model of its own.

Everything is in complex numbers, the true room first: corners with true angles, walls with true faces that run
straight between true stations, marks that lie a little off them. Then each reading is its true length plus an error
of the accuracy the program states. Nothing of the program's own geometry is used.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass

import numpy as np

from ledgewright.job import (
    Known,
    LineTool,
    Mark,
    TapedAcross,
    TapedCorner,
    TapedLine,
    TapedWall,
    Tapes,
)

KNOWN = Known("opened it", None, "no", "none", None, None)
TAPE, SCALE, GAP, OFF = 0.8, 0.12e-3, 0.3, 0.3
"""A steel tape alone, per mm, a gap off a string, a mark off the face: as docs/site-measure.md states them."""


@dataclass(frozen=True)
class Made:
    """A true room and what was read of it: `angles` by corner (rad), `lengths` by wall (mm)."""

    tapes: Tapes
    angles: dict[tuple[str, str], float]
    lengths: dict[str, float]


class Reader:
    """Reads true figures with honest errors; `slips` adds to the figure of that name."""

    def __init__(self, rng: np.random.Generator, slips: dict[str, float]) -> None:
        self.rng = rng
        self.slips = slips
        self.read: list[str] = []

    def tape(self, true: float, name: str) -> float:
        self.read.append(name)
        error = self.rng.normal(0, math.hypot(TAPE, SCALE * true))
        return float(true + error + self.slips.get(name, 0.0))

    def gap(self, true: float) -> float:
        return float(true + self.rng.normal(0, GAP))


def room(rng: np.random.Generator, slips: dict[str, float] | None = None, *, walls: int) -> Made:
    """Return a corner (two walls), an alcove (three) or a closed room (four), with figures in surplus."""
    reader = Reader(rng, slips or {})
    if walls == 4:
        return _closed(rng, reader)
    names = "ABC"[:walls]
    angles = [math.radians(float(a)) for a in rng.uniform(86, 94, walls - 1)]
    lengths = [float(x) for x in rng.uniform(900, 2600, walls)]
    return _read(rng, reader, names, lengths, angles)


def _closed(rng: np.random.Generator, reader: Reader) -> Made:
    """A quadrilateral from four points near a rectangle; its sides and angles follow."""
    w, d = (float(x) for x in rng.uniform(1800, 3200, 2))
    corners = [0j, w + 0j, w - 1j * d, -1j * d]
    points = [p + complex(*rng.normal(0, 30, 2)) for p in corners]
    lengths = [abs(points[(k + 1) % 4] - points[k]) for k in range(4)]
    ways = [cmath.phase(points[(k + 1) % 4] - points[k]) for k in range(4)]
    angles = [(math.pi + ways[(k + 1) % 4] - ways[k]) % (2 * math.pi) for k in range(4)]
    return _read(rng, reader, "ABCD", lengths, angles)


def _read(
    rng: np.random.Generator,
    reader: Reader,
    names: str,
    lengths: list[float],
    angles: list[float],
) -> Made:
    """Each wall's reference line goes from true corner to true corner; its face bows between stations every foot."""
    at, way = 0j, 1 + 0j
    starts, ways = [], []
    for k, far in enumerate(lengths):
        starts.append(at)
        ways.append(way)
        at += way * far
        if k < len(angles):
            way *= cmath.rect(1, angles[k] - math.pi)
    hooks = [str(h) for h in rng.choice(["left", "right"], len(names))]
    stations = [np.linspace(0.0, far, max(4, round(far / 305) + 1)) for far in lengths]
    # At its ends a face lies a little off the corner, as every mark does.
    bows = [
        np.concatenate([[_off(rng)], rng.normal(0, 4, len(s) - 2), [_off(rng)]]) for s in stations
    ]

    def mark(k: int, along: float) -> complex:
        """A mark on the face of wall k, a little off it."""
        out = float(np.interp(along, stations[k], bows[k])) + _off(rng)
        return starts[k] + ways[k] * (along - 1j * out)

    taped_walls = tuple(
        _wall(reader, name, far, hook, s, bow)
        for name, far, hook, s, bow in zip(names, lengths, hooks, stations, bows, strict=True)
    )
    taped_corners = []
    for k in range(len(angles)):
        n = (k + 1) % len(names)
        triangles = []
        for number, share in enumerate((0.55, 0.85), start=1):
            a, b = share * min(lengths[k], 2000), share * min(lengths[n], 2000)
            one, two = mark(k, lengths[k] - a), mark(n, b)
            label = f"{names[k]}{names[n]} {number}"
            triangles.append(
                (
                    reader.tape(a, f"{label} left"),
                    reader.tape(b, f"{label} right"),
                    reader.tape(abs(one - two), f"{label} across"),
                )
            )
        path = f"corner.{names[k]}-{names[n]}"
        taped_corners.append(
            TapedCorner(names[k], names[n], "inside", tuple(triangles), None, None, path)
        )
    across: tuple[TapedAcross, ...] = ()
    if len(names) == 3:
        # From the far end of the first wall to the far end of the last.
        mouth = abs(starts[0] - (starts[2] + ways[2] * lengths[2]))
        left = 0.0 if hooks[0] == "left" else -lengths[0]
        read_left = left if hooks[0] == "left" else -taped_walls[0].length
        right = taped_walls[2].length if hooks[2] == "left" else 0.0
        across = (
            TapedAcross(
                Mark("A", read_left),
                Mark("C", right),
                reader.tape(mouth, "mouth"),
                None,
                "measure.tapes[0]",
            ),
        )
    tapes = Tapes("laser", taped_walls, tuple(taped_corners), (), across)
    pairs = [(names[k], names[(k + 1) % len(names)]) for k in range(len(angles))]
    return Made(
        tapes, dict(zip(pairs, angles, strict=True)), dict(zip(names, lengths, strict=True))
    )


def _off(rng: np.random.Generator) -> float:
    return float(rng.normal(0, OFF))


def _wall(
    reader: Reader,
    name: str,
    far: float,
    hook: str,
    stations: np.ndarray[tuple[int], np.dtype[np.float64]],
    bow: np.ndarray[tuple[int], np.dtype[np.float64]],
) -> TapedWall:
    length = reader.tape(far, f"length {name}")
    string = 25.0
    gaps = [
        (float(s if hook == "left" else s - far), reader.gap(string - float(b)))
        for s, b in zip(stations, bow, strict=True)
    ]
    off: LineTool = "string"
    return TapedWall(
        id=name,
        mark=name,
        tape_from="right" if hook == "right" else "left",
        length=length,
        lines=(TapedLine(None, tuple(gaps), off, f"wall.{name}.line"),),
        framing="wood",
        timber=None,
        depth_to_wood=16.0,
        lining=(),
        members=(),
        known=KNOWN,
        path=f"wall.{name}",
    )
