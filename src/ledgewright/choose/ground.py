"""The shelf that is chosen for: as its job file has it, and as it was read."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from ledgewright import units
from ledgewright.choose.model import Wanted
from ledgewright.job import Edit, Job, RodSpec, Spec, TapedMember
from ledgewright.job.reading import Read, read_with
from ledgewright.judge import place_at
from ledgewright.units import Unit

Table = Mapping[str, Any]  # a table of the file, values of any kind

NEAR = 0.5
"""A place within this of a member's edge names it (mm), as the reading of a job has it."""


@dataclass(frozen=True, eq=False)
class Ground:
    """A job's text with one shelf of it in hand.

    text, file, prices: as they were read. job: what they say. spec: the shelf. table: its own table of the file.
    """

    text: str
    file: str
    prices: str | None
    job: Job
    spec: Spec
    table: Table

    @property
    def unit(self) -> Unit:
        """What the job measures in."""
        return self.job.meta.units

    @property
    def rods(self) -> Table:
        """The table of every rod."""
        return _table(self.table, "rods")

    @property
    def own(self) -> Sequence[Table]:
        """The tables of rods that differ."""
        found = self.table.get("rod", [])
        return found if isinstance(found, list) else []

    def own_of(self, rod: RodSpec) -> int | None:
        """Return the number of a rod's own table; None if it is as every rod."""
        head = f"{self.spec.path}.rod["
        return int(rod.path[len(head) : -1]) if rod.path.startswith(head) else None

    @property
    def usual(self) -> RodSpec:
        """A rod as every rod is, or the first where all have tables of their own."""
        plain = [rod for rod in self.spec.rods if self.own_of(rod) is None]
        return (plain or list(self.spec.rods))[0]

    @property
    def walls(self) -> tuple[str, ...]:
        """Walls that carry rods, in the order of the rods."""
        return tuple(dict.fromkeys(rod.wall for rod in self.spec.rods))

    def members(self, wall: str) -> tuple[TapedMember, ...]:
        """Return the studs and blocks of a wall."""
        return next(each.members for each in self.job.tapes.walls if each.id == wall)

    def with_edits(self, edits: Sequence[Edit]) -> Read:
        """Return the job as it would be read with edits made."""
        return read_with(self.text, edits, self.file, self.prices)

    def place(self, wall: str, member: TapedMember) -> str:
        """Return a member's place as the job file writes it, in its own words where it stands there already."""
        return self._written().get(member.id) or place_at(
            self.job, wall, (member.left + member.right) / 2
        )

    def _written(self) -> dict[str, str]:
        texts = self.rods.get("at", [])
        found: dict[str, str] = {}
        for text in texts if isinstance(texts, list) else []:
            for wall in self.walls:
                if text.startswith(f"{wall} "):
                    named = _named(self.members(wall), text[len(wall) :].strip(), self.unit)
                    found |= {member.id: text for member in named}
        return found


def _named(members: Sequence[TapedMember], rest: str, unit: Unit) -> list[TapedMember]:
    by_name = [m for m in members if m.name and m.name.casefold() == rest.casefold()]
    if by_name:
        return by_name
    try:
        at = units.read_length(rest, unit)
    except units.BadFigure:
        return []
    edges = [(min(abs(m.left), abs(m.right)), max(abs(m.left), abs(m.right)), m) for m in members]
    return [m for low, high, m in edges if low - NEAR <= at <= high + NEAR]


def _table(of: Table, key: str) -> Table:
    found = of.get(key)
    return found if isinstance(found, Mapping) else {}


def ground(text: str, file: str, prices: str | None, job: Job, shelf: str) -> Ground:
    """Return a job with one of its shelves in hand.

    Args:
        text: of the job file.
        file: its name.
        prices: text of its price file, None if there is none.
        job: what they say.
        shelf: id of the shelf.

    Raises:
        KeyError: if there is no such shelf, or it has no rods.
    """
    spec = next((each for each in job.shelves if each.id == shelf), None)
    if spec is None or not spec.rods:
        raise KeyError(shelf)
    shelves = tomllib.loads(text.removeprefix("\ufeff"))["shelf"]
    table = next(each for each in shelves if each["id"] == shelf)
    return Ground(text, file, prices, job, spec, table)


def across(shape: str, width: float, height: float) -> float:
    """Return the smallest round hole a bar goes into (mm): its diameter, or its diagonal."""
    return width if shape.startswith("round") else math.hypot(width, height)


def as_is(ground: Ground) -> Wanted:
    """Return the shelf as the job has it."""
    spec, rod = ground.spec, ground.usual
    members = tuple(
        (wall, tuple(each.member for each in spec.rods if each.wall == wall))
        for wall in ground.walls
    )
    core = spec.core
    return Wanted(
        bar=rod.bar.name,
        ring=rod.hole - across(rod.bar.shape, rod.bar.width, rod.bar.height),
        members=members,
        embedment=rod.embedment,
        adhesive=rod.adhesive.name,
        in_slot=rod.in_slot,
        play=spec.core.thick - rod.bar.height,
        longer=0.0,
        skins=None,
        core=(core.of.name, core.strip, core.rib, core.max_span),
        sections=spec.sections,
        first=spec.first or "",
    )
