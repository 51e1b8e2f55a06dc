"""Load tests as they were read: each step finds its shelf and its places; what looks like a slip is asked back."""

from __future__ import annotations

from collections.abc import Sequence

from ledgewright import units
from ledgewright.job.findings import Ear
from ledgewright.job.model import Demand, LoadStep, PutOn, Spec, TapedCorner, WentDown
from ledgewright.job.past import beyond, of_shelf
from ledgewright.job.places import Path
from ledgewright.job.rods import Spot, place
from ledgewright.job.schema import LoadTestTable
from ledgewright.job.walls import NEAR, Walls

FURTHEST = 25.4
"""A front that goes down by more than this looks like another figure (mm, 1 in; our choice)."""

ROSE = 1.0
"""A front that rises by more than this looks like a slip of the sign (mm; our choice)."""


def steps(
    ear: Ear,
    tables: Sequence[LoadTestTable],
    made: Sequence[tuple[Spec, Demand]],
    walls: Walls,
    corners: Sequence[TapedCorner],
) -> tuple[LoadStep, ...]:
    """Return the steps of all load tests, in the order of the file.

    Args:
        ear: hears what is wrong or odd.
        tables: as they stand in the file.
        made: every shelf that could be read.
        walls: the walls of the job.
        corners: of the job; a shelf that turns one outside is loaded and read past the ends of its walls too.
    """
    specs = [spec for spec, _ in made]
    found = [
        _step(ear, table, ("site", "test", i), specs, walls, corners)
        for i, table in enumerate(tables)
    ]
    return tuple(step for step in found if step is not None)


def _step(
    ear: Ear,
    table: LoadTestTable,
    path: Path,
    specs: Sequence[Spec],
    walls: Walls,
    corners: Sequence[TapedCorner],
) -> LoadStep | None:
    past = [each for spec in specs for each in of_shelf(spec, corners)]
    reads = [
        (place(ear, text, (*path, "read", i, 0), walls, past=past), down)
        for i, (text, down) in enumerate(table.read)
    ]
    puts = [
        (mass, place(ear, text, (*path, "put", i, 1), walls, past=past), out)
        for i, (mass, text, out) in enumerate(table.put)
    ]
    spots = [*(spot for spot, _ in reads), *(spot for _, spot, _ in puts)]
    if any(spot is None for spot in spots) or ear.stops:
        return None
    there = [spot for spot in spots if spot is not None]
    shelf = _shelf(ear, table, path, specs, there, corners)
    if shelf is None:
        return None
    _ask(ear, table, path, shelf, [spot.wall.id for _, spot, _ in puts if spot is not None])
    return LoadStep(
        shelf=shelf.id,
        puts=tuple(PutOn(m, s.wall.id, s.along, out) for m, s, out in puts if s is not None),
        hours=table.wait,
        reads=tuple(WentDown(s.wall.id, s.along, down) for s, down in reads if s is not None),
        path=ear.path(path),
        tool=table.tool or "rule",
    )


def _shelf(
    ear: Ear,
    table: LoadTestTable,
    path: Path,
    specs: Sequence[Spec],
    spots: Sequence[Spot],
    corners: Sequence[TapedCorner],
) -> Spec | None:
    """The shelf that all its places are on."""

    def on(spec: Spec) -> bool:
        past = of_shelf(spec, corners)
        over = {leg.wall: beyond(past, leg.wall) for leg in spec.legs}
        return all(
            any(
                leg.wall == s.wall.id
                and leg.start - over[leg.wall][0] - NEAR <= s.along
                and s.along <= leg.end + over[leg.wall][1] + NEAR
                for leg in spec.legs
            )
            for s in spots
        )

    fits = [spec for spec in specs if on(spec) and table.shelf in (None, spec.id)]
    if len(fits) == 1:
        return fits[0]
    if len(fits) > 1:
        ids = ", ".join(f'"{spec.id}"' for spec in fits)
        ear.refuse(
            "test", path, "more than one shelf has these places", f"write shelf = one of {ids}"
        )
    else:
        wrong = (
            "no shelf has all of these places"
            if table.shelf is None
            else f'shelf "{table.shelf}" has not all of these places'
        )
        ear.refuse("test", path, wrong, "name places that lie on one leg or the other of one shelf")
    return None


def _ask(ear: Ear, table: LoadTestTable, path: Path, shelf: Spec, put_on: Sequence[str]) -> None:
    for i, (_, down) in enumerate(table.read):
        at = (*path, "read", i, 1)
        if down > FURTHEST:
            other = down / 25.4 if ear.unit == "in" else 0.0
            meant = units.show_length(other, "mm", mark=True)
            hint = f"; it would fit as {meant}" if 0 < other < FURTHEST else ""
            ear.ask(at, f"a front that has gone down {ear.length(down)} is no shelf any more{hint}")
        elif down < -ROSE:
            ear.ask(at, f"this says that the front rose by {ear.length(-down)}: down counts plus")
    for i, ((_, _, out), wall) in enumerate(zip(table.put, put_on, strict=True)):
        deep = shelf.deep(wall)
        if out > deep:
            wrong = (
                f"{ear.length(out)} from the wall is in front of a shelf {ear.length(deep)} deep"
            )
            ear.refuse("test", (*path, "put", i, 2), wrong, "measure from the wall to its middle")
