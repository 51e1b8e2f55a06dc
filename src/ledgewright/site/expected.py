"""How far each place along a front is expected to go down under what a load test put on, beside what was read."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from ledgewright import doubt, statics
from ledgewright.doubt import Believed
from ledgewright.job import Gauge, LoadStep, WentDown
from ledgewright.judge import Design
from ledgewright.memo import Memo
from ledgewright.statics import NOMINAL, Inputs, NoTest, Pile, Tried

READING: Mapping[Gauge, float] = MappingProxyType({"rule": 0.2, "gauge": 0.05})
"""How near a front is read off a fixed mark: with a rule to 1/64 in, with a dial gauge or feelers (standard deviation,
mm; common practice, from memory)."""
LOCAL = 0.02
"""How near the model comes at one place beside another (share of what is expected, standard deviation). Drops of the
section model lie within 1.2 % of a 3-D solid (docs/section-model.md); rounded up."""
_BED, _GLUE, _REST = (doubt.figure(name) for name in ("bed", "adhesive", "section"))
PRIOR = Believed.apart((_BED.likely, _GLUE.likely, 0.0), (_BED.sd, _GLUE.sd, _REST.sd))
"""Bed of the wood and modulus of the glue as the table of doubtful figures has them, whose ends are 2 sd out; and all
else (panels, core, steel) as a share of what goes down, as much as skins and core are in doubt: our choice."""
STEP = (0.1, 0.2)
"""How far wood and glue are moved either way for the slopes, in units of `Inputs`."""


@dataclass(frozen=True)
class Row:
    """One reading beside what was predicted (mm): step by number from 1, place, range of 90 %, how near it is read."""

    step: int
    hours: float
    total: float
    wall: str
    along: float
    rod: str
    predicted: float
    low: float
    high: float
    read: float
    near: float


Slope = tuple[float, float, float]
"""How a place changes with bed, glue and the rest."""


@dataclass(frozen=True)
class Expected:
    """What is expected of one shelf in one step: how far each place goes down (mm), and how that changes with bed, glue
    and the rest.
    """

    downs: tuple[float, ...]
    slopes: tuple[Slope, ...]


def expect(
    tried: Sequence[Tried], steps: Sequence[Sequence[LoadStep]], memo: Memo
) -> list[tuple[Expected, ...]] | NoTest:
    """Return what is expected in every step, of every shelf.

    Args:
        tried: all that was loaded at once.
        steps: of each; as many of one as of another.
        memo: kept by the caller.
    """
    found = []
    for at_once in zip(*steps, strict=True):
        downs = _downs(tried, at_once, memo)
        if isinstance(downs, NoTest):
            return downs
        slopes = _slopes(tried, at_once, downs, memo)
        found.append(tuple(map(Expected, downs, slopes)))
    return found


def _downs(
    tried: Sequence[Tried], at_once: Sequence[LoadStep], memo: Memo, inputs: Inputs | None = None
) -> tuple[tuple[float, ...], ...] | NoTest:
    marks = [[(read.wall, read.along) for read in step.reads] for step in at_once]
    piles = [piles_of(step) for step in at_once]
    return statics.under_all(tried, piles, marks, memo, hours=at_once[0].hours, inputs=inputs)


def rows_of(
    design: Design, steps: Sequence[LoadStep], expected: Sequence[Expected], on: Sequence[bool]
) -> tuple[Row, ...]:
    """Return every reading of one shelf beside what was expected.

    Args:
        design: the shelf.
        steps: its steps.
        expected: of it in every step.
        on: of every step, whether anything stood on any shelf.
    """
    rows: list[Row] = []
    for number, (step, own, loaded) in enumerate(zip(steps, expected, on, strict=True), 1):
        for read, at, slope in zip(step.reads, own.downs, own.slopes, strict=True):
            _, sd = PRIOR.of(at, slope)
            half = 1.645 * (sd**2 + READING[step.tool] ** 2 + (LOCAL * at) ** 2) ** 0.5
            rows.append(
                Row(
                    number,
                    step.hours,
                    step.total,
                    read.wall,
                    read.along,
                    _rod(design, read),
                    at,
                    max(0.0, at - half) if loaded else 0.0,
                    at + half,
                    read.down,
                    READING[step.tool],
                )
            )
    return tuple(rows)


def _rod(design: Design, read: WentDown) -> str:
    """The mark of the nearest rod on the same wall."""
    wall = design.room.wall(read.wall)
    near = [
        (abs(wall.figures(rod.point(rod.free))[0] - read.along), rod.mark)
        for rod in design.frame.rods
        if rod.wall == read.wall
    ]
    return min(near)[1] if near else ""


def _slopes(
    tried: Sequence[Tried],
    at_once: Sequence[LoadStep],
    expected: Sequence[Sequence[float]],
    memo: Memo,
) -> list[tuple[Slope, ...]]:
    """How each reading of a step changes with bed and glue (central differences, contacts solved anew) and the rest."""
    if not any(step.puts for step in at_once):
        return [((0.0, 0.0, 0.0),) * len(step.reads) for step in at_once]
    sides = []
    for k, size in enumerate(STEP):
        for sign in (1.0, -1.0):
            move = [0.0, 0.0]
            move[k] = sign * size
            inputs = replace(
                NOMINAL, bed=NOMINAL.bed + move[0], adhesive=NOMINAL.adhesive + move[1]
            )
            downs = _downs(tried, at_once, memo, inputs)
            nothing = tuple((0.0,) * len(step.reads) for step in at_once)
            sides.append(nothing if isinstance(downs, NoTest) else downs)
    return [
        tuple(
            ((a - b) / (2 * STEP[0]), (c - d) / (2 * STEP[1]), at)
            for a, b, c, d, at in zip(*own, at_places, strict=True)
        )
        for *own, at_places in zip(*sides, expected, strict=True)
    ]


def piles_of(step: LoadStep) -> tuple[Pile, ...]:
    """Return what stood on a shelf in one step.

    Args:
        step: as written in the job.
    """
    return tuple(
        Pile(f"weight {k}", put.wall, put.along, put.out, put.mass)
        for k, put in enumerate(step.puts, 1)
    )
