"""Moving a rod to another stud: every place of its shelf's tables that names it goes along."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from ledgewright import units
from ledgewright.desk.forms import quoted
from ledgewright.desk.stages import tables
from ledgewright.job import Edit, Job, Spec, TapedMember, TapedWall, places
from ledgewright.job.walls import NEAR, slug, taped


class NoSuchMoveError(ValueError):
    """What was asked for is no rod of the job, or no place on its wall."""


def moved(job: Job, document: Mapping[str, Any], key: str, to: str) -> list[Edit]:
    """Return the changes that put a rod somewhere else on its wall.

    Args:
        job: as read from the document.
        document: the job file.
        key: "shelf|member", as the drawing's handle has it.
        to: the new place as the file writes it.

    Raises:
        NoSuchMoveError: if the shelf has no rod in that member.
    """
    shelf, _, member = key.partition("|")
    number = next((k for k, spec in enumerate(job.shelves) if spec.id == shelf), None)
    if number is None:
        raise NoSuchMoveError(key)
    spec = job.shelves[number]
    rod = next((rod for rod in spec.rods if rod.member == member), None)
    if rod is None:
        raise NoSuchMoveError(key)
    wall = next(wall for wall in job.tapes.walls if wall.id == rod.wall)
    stud = next(each for each in wall.members if each.id == member)
    table = tables(document, "shelf")[number]

    def it(text: object) -> bool:
        return isinstance(text, str) and means(text, wall, stud, job.meta.units)

    path = places.written(document, ("shelf", number))
    return [
        *_listed(table, path, it, to, job, spec),
        *(
            Edit(f"{path}.rod[{k}].at", quoted(to))
            for k, each in enumerate(tables(table, "rod"))
            if it(each.get("at"))
        ),
        *_locked(table, path, it, to),
    ]


def _listed(
    table: Mapping[str, Any], path: str, it: Any, to: str, job: Job, spec: Spec
) -> Iterator[Edit]:
    rods = table.get("rods")
    at = rods.get("at") if isinstance(rods, dict) else None
    if isinstance(at, list):
        yield from (
            Edit(f"{path}.rods.at[{k}]", quoted(to)) for k, text in enumerate(at) if it(text)
        )
        return
    walls = {wall.id: wall for wall in job.tapes.walls}
    every = [
        place(walls[rod.wall], next(m for m in walls[rod.wall].members if m.id == rod.member), job)
        for rod in spec.rods
    ]
    now = [to if it(text) else text for text in every]
    yield Edit(f"{path}.rods.at", "[" + ", ".join(map(quoted, now)) + "]")


def _locked(table: Mapping[str, Any], path: str, it: Any, to: str) -> Iterator[Edit]:
    lock = table.get("lock")
    at = lock.get("at") if isinstance(lock, dict) else None
    for k, text in enumerate(at if isinstance(at, list) else ()):
        if it(text):
            yield Edit(f"{path}.lock.at[{k}]", quoted(to))


def place(wall: TapedWall, member: TapedMember, job: Job, aside: float = 0.0) -> str:
    """Return a member's place as a job file writes it, as "west 22 1/2": its middle, or so far right of that (mm)."""
    middle = taped(wall, (member.left + member.right) / 2 + aside)
    return place_at(wall.id, middle, job.meta.units)


def place_at(wall: str, figure: float, unit: units.Unit) -> str:
    """Return a place on a wall as a job file writes it, as "west 22 1/2".

    Args:
        wall: its id.
        figure: off the tape of the wall (mm); to the nearest 1/32 in or 0.1 mm.
        unit: of the job.
    """
    return f"{wall} {units.show_length(figure, unit, to=32)}"


def means(text: str, wall: TapedWall, member: TapedMember, unit: units.Unit) -> bool:
    """Say whether a place of the job file is this member.

    Args:
        text: as written, such as "west 22 1/2" or "west by the switch".
        wall: of the member.
        member: stud or blocking.
        unit: of a bare figure.
    """
    if not text.startswith(f"{wall.id} "):
        return False
    rest = text[len(wall.id) :].strip()
    if member.name and slug(member.name) == slug(rest):
        return True
    try:
        at = units.read_length(rest, unit)
    except units.BadFigure:
        return False
    edges = sorted((taped(wall, member.left), taped(wall, member.right)))
    return edges[0] - NEAR <= at <= edges[1] + NEAR
