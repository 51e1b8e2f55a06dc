"""What lies on a shelf under a case: in words, by the numbered parts of its top, and part by part with its force."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from ledgewright.statics.actions import Actions, Atom, Bools
from ledgewright.statics.model import Check, Laid, LoadCase, LoadPart, OnRod
from ledgewright.statics.patterns import Solved
from ledgewright.statics.pressed import named
from ledgewright.statics.seats import Seat
from ledgewright.statics.tiles import Tile


def laid(
    actions: Actions, seats: Sequence[Seat], rows: Iterable[Check], cases: Iterable[Solved]
) -> Laid:
    """Return all loads in parts, and the cases that rows are worst under.

    Statics alone must bring the forces on the rods and the loads of each case together.

    Args:
        actions: all parts of all loads.
        seats: the rods, in the order in which answers have them.
        rows: of the shelf; those that count are taken, the one nearest its limit first.
        cases: every one that was solved.
    """
    by = {named(case): case for case in reversed(list(cases))}
    counted = sorted((row for row in rows if not row.information), key=lambda row: -row.ratio)
    worst = dict.fromkeys(row.case for row in counted if row.case in by)
    return Laid(
        tuple(_part(actions, atom) for atom in actions.atoms),
        tuple(_case(by[name], seats) for name in worst),
    )


def _part(actions: Actions, atom: Atom) -> LoadPart:
    tile = None if atom.tile is None else actions.stood.tiles[atom.tile]
    if atom.kind == "rod":
        msg = "a rod's own weight is no part of the loads on the section"
        raise ValueError(msg)
    return LoadPart(
        load=atom.name,
        kind=atom.kind,
        force=atom.force,
        wall=atom.wall,
        part="" if tile is None else half_named(tile),
        spot="" if atom.spot is None else atom.spot.said,
        at=atom.middle,
        plan=atom.plan,
    )


def _case(case: Solved, seats: Sequence[Seat]) -> LoadCase:
    combination, pattern = case.combination, case.pattern
    return LoadCase(
        case=named(case),
        source=combination.source,
        dead=combination.dead,
        live=combination.live,
        single=combination.single,
        accident=combination.accident,
        there=tuple(np.flatnonzero(case.factors).tolist()),
        proud="" if pattern.proud is None else seats[pattern.proud].rod.id,
        rods=tuple(
            OnRod(seat.rod.id, rod.force, rod.M - rod.weight * rod.tip**2 / 2)
            for seat, rod in zip(seats, case.answer.rods, strict=True)
        ),
    )


def half_named(tile: Tile) -> str:
    """Return the name of one part of the top: "3 front"."""
    return f"{tile.number} {'front' if tile.front else 'back'}"


def contents_said(actions: Actions, there: Bools) -> str:
    """Return which contents are not all on the shelf, and where those lie that are; empty where all are on it.

    Args:
        actions: all parts of all loads.
        there: which of them are on the shelf.
    """
    live = actions.of("live")
    loads: dict[str, list[tuple[Atom, bool]]] = {}
    for k in np.flatnonzero(live).tolist():
        loads.setdefault(actions.atoms[k].name, []).append((actions.atoms[k], bool(there[k])))
    return "; ".join(said for name, atoms in loads.items() if (said := _load(actions, name, atoms)))


def _load(actions: Actions, name: str, atoms: Sequence[tuple[Atom, bool]]) -> str:
    if all(on for _, on in atoms):
        return ""
    on = [atom.tile for atom, there in atoms if there and atom.tile is not None]
    if not on:
        return f"no {name}"
    under = {atom.tile for atom, _ in atoms}
    tiles = actions.stood.tiles
    lies = [tiles[k] for k in sorted(k for k in under if k is not None)]
    return f"{name} only on parts {parts_said([tiles[k] for k in on], lies)}"


def parts_said(on: Sequence[Tile], of: Sequence[Tile]) -> str:
    """Return parts by their numbers, front or back where a part has both and one is bare: "1 to 3, 5 front".

    Args:
        on: those to be named.
        of: all that could be.
    """
    halves = {number: {t.front for t in of if t.number == number} for number in _numbers(of)}
    taken = {number: {t.front for t in on if t.number == number} for number in _numbers(on)}
    which = {
        number: "" if fronts == halves[number] else "front" if True in fronts else "back"
        for number, fronts in taken.items()
    }
    return ", ".join(_runs(which))


def _numbers(tiles: Sequence[Tile]) -> list[int]:
    return sorted({tile.number for tile in tiles})


def _runs(which: dict[int, str]) -> Iterator[str]:
    """Neighbours alike drawn together."""
    runs: list[list[int]] = []
    for number, half in which.items():
        if runs and number == runs[-1][-1] + 1 and half == which[runs[-1][0]]:
            runs[-1].append(number)
        else:
            runs.append([number])
    for run in runs:
        last = f" {'and' if len(run) == 2 else 'to'} {run[-1]}" if len(run) > 1 else ""
        yield f"{run[0]}{last} {which[run[0]]}".rstrip()
