"""Shelves on the same studs or blocks, each on its section model, under loads that stand on all of them at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from ledgewright.statics.actions import Floats
from ledgewright.statics.bases import member_rules
from ledgewright.statics.mechanics.contact_rods import Answer, Loading, Resting
from ledgewright.statics.mechanics.section import Mechanism
from ledgewright.statics.members_give import share
from ledgewright.statics.on_section import Shelf

CLOSE = 1e-6
"""Solved again until no rod's place in the wood moves the front by more (mm)."""
ROUNDS = 30
"""Never more often: each round takes a share of the last one's change, as small as a stud gives beside a rod."""
RESTLESS = "rods of the shelves on the same studs find no rest beside one another"


@dataclass(frozen=True)
class Sunk:
    """A load on a shelf whose rods go down with what else stands on their members.

    of: the load. sink: how far each site goes down with its rod (mm).
    """

    of: Loading
    sink: Floats

    @property
    def drop(self) -> Floats:
        """Drop of every site, counted from where its rod went."""
        return np.asarray(self.of.drop - self.sink)

    @property
    def whole(self) -> Floats:
        """Work on each way the section can move as a whole."""
        return self.of.whole

    @property
    def own(self) -> float:
        """Work of the load on the movements it makes by itself (N mm)."""
        return self.of.own


@dataclass(frozen=True)
class Coupled:
    """Shelves that a load stands on at once; beside: of each, the numbers of those it shares studs or blocks with."""

    shelves: tuple[Shelf, ...]
    beside: tuple[tuple[int, ...], ...]

    @cached_property
    def today(self) -> dict[tuple[int, int], Floats]:
        """How the members under one shelf's rods move per V and M of another's, on day one."""
        return self._gives(creep=False)

    @cached_property
    def later(self) -> dict[tuple[int, int], Floats]:
        """The same after creep."""
        return self._gives(creep=True)

    def _gives(self, *, creep: bool) -> dict[tuple[int, int], Floats]:
        found = {}
        for i, others in enumerate(self.beside):
            for j in others:
                one, other = self.shelves[i], self.shelves[j]
                mine = 2 * len(one.seats)
                give = share(
                    (*one.seats, *other.seats),
                    rules=member_rules(one.basis),
                    k_def=one.inputs.k_def if creep else 0.0,
                    across=one.inputs.across,
                )
                found[i, j] = np.array(give)[:mine, mine:]
        return found

    def solve(self, factors: Sequence[Floats], *, creep: bool = False) -> tuple[Answer, ...]:
        """Return every shelf under its own load, its rods moved by what all others put on their members.

        Block by block until nothing moves (Gauss-Seidel): what a stud gives beside a rod is small against what the rod
        gives itself.

        Args:
            factors: of each shelf, on every part of its loads.
            creep: in ten years, or on day one.

        Raises:
            Mechanism: if one of them does not stand under its load, or they move one another without an end.
        """
        gives = self.later if creep else self.today
        rest = [s.later if creep else s.today for s in self.shelves]
        loads = [s.acting.under(f, creep=creep) for s, f in zip(self.shelves, factors, strict=True)]
        found = [r.solve(load) for r, load in zip(rest, loads, strict=True)]
        acts = [_acts(each) for each in found]
        for _ in range(ROUNDS if gives else 0):
            moved = 0.0
            for i, others in enumerate(self.beside):
                if not others:
                    continue
                faces = np.sum([gives[i, j] @ acts[j] for j in others], axis=0)
                load = Sunk(loads[i], sinks(rest[i], faces))
                new = rest[i].solve(load, like=found[i])
                moved = max(moved, float(np.abs(new.read - found[i].read).max()))
                found[i], acts[i] = new, _acts(new)
            if moved < CLOSE:
                break
        else:
            if gives:
                raise Mechanism(RESTLESS)
        return tuple(found)


def _acts(answer: Answer) -> Floats:
    return np.ravel([(rod.V, rod.M) for rod in answer.rods])


def sinks(resting: Resting, faces: Floats) -> Floats:
    """Return how far every site of a section goes down where its rods' faces go down and turn (mm).

    Args:
        resting: the section on its rods.
        faces: drop (mm) and turn (rad) of every rod at the wood.
    """
    made = np.zeros(len(resting.condensed.sites))
    at = 0
    for k, rod in enumerate(resting.rods):
        out = rod.sites()
        both = np.tile(faces[2 * k] + faces[2 * k + 1] * out, 2)
        made[at : at + len(both)] = both
        at += len(both)
    return made


def grown(alone: Sequence[Answer], coupled: Sequence[Answer]) -> tuple[float, ...]:
    """Return how many times as much the rods of each shelf carry beside the others as alone; never less than once.

    Args:
        alone: each shelf under its load by itself.
        coupled: all of them together.
    """
    found = []
    for one, two in zip(alone, coupled, strict=True):
        most = max((abs(rod.M) for rod in one.rods), default=0.0)
        times = [
            abs(b.M) / abs(a.M)
            for a, b in zip(one.rods, two.rods, strict=True)
            if abs(a.M) > most / 10
        ]
        # A rod that hardly carries by itself counts by what the most loaded one does.
        times += [abs(b.M) / most for b in two.rods if most > 0]
        found.append(max([1.0, *times]))
    return tuple(found)


def by_themselves(of: Coupled) -> Coupled:
    """Return the same shelves, as if they shared nothing.

    Args:
        of: the shelves.
    """
    return replace(of, beside=((),) * len(of.shelves))
