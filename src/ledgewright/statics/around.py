"""What the rods of one shelf put on studs, blocking, bonds and locks under every case, and the rows they make."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from types import MappingProxyType

import numpy as np

from ledgewright.core import SCREW_IN, LockAt
from ledgewright.job import Lasts, Lock, Spec
from ledgewright.statics.bases import Combination, MemberRules, Rules, Situation, When
from ledgewright.statics.beam import Bed, bed
from ledgewright.statics.formula import Working
from ledgewright.statics.inputs import Inputs
from ledgewright.statics.mechanics.contact_rods import RodAnswer
from ledgewright.statics.member_checks import OnMember
from ledgewright.statics.member_rows import Known, Under, rows
from ledgewright.statics.model import CannotSay, Check, Step
from ledgewright.statics.patterns import Search, Solved, Try
from ledgewright.statics.pressed import (
    Pressed,
    along_flat,
    at_flat,
    flat_ends,
    flats_of,
    named,
)
from ledgewright.statics.pull_checks import Angled, Dab, Grub, Hold, NoHold, pulled
from ledgewright.statics.ranks import Floats, unsurpassed
from ledgewright.statics.row import PULL, leaned
from ledgewright.statics.seats import Row, Seat
from ledgewright.stock import Screw

MIDDLE = 40.0
"""Half of a usual depth in the wood, at which shear and moment are put together to tell cases apart (mm)."""
PULLED = ("rod.biax", "bed.side", "stud.side", "bond.pull", "hold.pull")
"""Families that are made of a shelf that is pulled out of the wall or along it."""
SET_SCREW = Screw(
    "M6 set screw", 6.0, 4.7, 16.0, "ISO 724, M6 coarse: root 4.77 mm (from memory)", "from memory"
)
LONG_SCREW = Screw(
    "5 x 100", 5.0, 3.1, 100.0, "Common practice for a screw through a shelf's back", "assumed"
)


@dataclass(frozen=True)
class Around:
    """One shelf with its rods in their members, as the cases of a search press on them."""

    rows: tuple[Row, ...]
    first: str
    spec: Spec
    rules: Rules
    timbers: MemberRules
    inputs: Inputs
    stays: Lasts
    keep: bool
    locks: tuple[LockAt, ...] = ()
    """Where the core has each lock, and what it meets there."""
    beside: str = ""
    """What the shelf is called where rods of several meet."""

    @property
    def seats(self) -> tuple[Seat, ...]:
        """All rods, in the order in which answers have them."""
        return tuple(seat for row in self.rows for seat in row.seats)

    @cached_property
    def flats(self) -> dict[int, float]:
        """Of every rod with a flat, by its number, how far the flat's middle is from its tip (mm)."""
        return flats_of(self.locks, self.seats)

    def known(self) -> Known:
        """Return what else the rows rest on."""
        locked, at = self.spec.lock.rods, {each.rod: each for each in self.locks}
        holds = {
            seat.rod.id: hold
            for seat in self.seats
            if seat.rod.id in locked
            and (hold := self._hold(self.spec.lock, at.get(seat.rod.id))) is not None
        }
        return Known(self.rules, self.timbers, holds=holds, accepted=self.spec.accepted)

    def _hold(self, lock: Lock, at: LockAt | None) -> Hold | None:
        if at is not None and at.lost:
            return NoHold(f"nothing holds at this lock: {at.lost}; {at.instead}")
        if lock.kind == "grub screw":
            skin = self.spec.skin_bottom
            return Grub(SET_SCREW, skin.panel, skin.thick - (at.groove if at else 0.0))
        if lock.kind == "angled screw":
            return Angled(LONG_SCREW, SCREW_IN)
        return Dab() if lock.kind == "sealant" else None

    def loads(
        self, case: Solved, out: dict[str, float], side: dict[str, float]
    ) -> tuple[OnMember, ...]:
        """Return what every rod puts on its member under one case; out, side: horizontal forces by rod (N)."""
        return tuple(
            OnMember(
                seat,
                lying,
                stiff,
                *pressed.at_wood,
                out.get(seat.rod.id, 0.0),
                side.get(seat.rod.id, 0.0),
                pressed.lines if self.keep else tuple,
                steps,
                self.beside,
                _flat(rod, self.flats.get(number, 0.0)),
            )
            for number, (seat, (lying, steps), stiff, rod) in enumerate(
                zip(self.seats, self.beds, self.stiff, case.answer.rods, strict=True)
            )
            for pressed in [Pressed(rod, case, self.stays)]
        )

    @cached_property
    def beds(self) -> tuple[tuple[Bed, tuple[Step, ...]], ...]:
        """The beds of all rods, and what leads to them."""
        made = []
        for seat in self.seats:
            w = Working(keep=self.keep)
            made.append((bed(w, seat, self.inputs), w.steps))
        return tuple(made)

    @cached_property
    def stiff(self) -> tuple[Bed, ...]:
        """The beds of all rods, as stiff as they are published to be."""
        stiffest = replace(self.inputs, bed=max(self.inputs.bed, 1.0))
        return tuple(bed(Working(keep=False), seat, stiffest) for seat in self.seats)


def _flat(rod: RodAnswer, from_tip: float) -> tuple[float, float] | None:
    """The greatest moment along a rod's flat (N mm), and where that begins (mm)."""
    if not from_tip:
        return None
    down, weight = (rod.top - rod.bottom)[None], np.array([rod.weight])
    (M,) = at_flat(rod.at, down, weight, tip=rod.tip, from_tip=from_tip).tolist()
    return M, flat_ends(rod.tip, from_tip)[0]


def around(
    shelf: Around, search: Search, combinations: Sequence[Combination], weight: float
) -> tuple[list[Check], list[CannotSay]]:
    """Return the rows of members, bonds and locks of one shelf.

    Strength cases make the rows of studs and blocking. An accident's go into `acc.hold`, with those of a shelf that is
    caught hold of under its contents, pulled out of the wall at either end or pushed along it; that makes the rows
    of bond, lock and rods bent both ways, too.

    Args:
        shelf: the shelf.
        search: its cases; takes those of being pulled.
        combinations: of the basis.
        weight: self-weight and contents (N).
    """
    known = shelf.known()
    strong = rows(
        _under(shelf, search, "strength"), known, situations=("strength",), keep=shelf.keep
    )
    leaning = _under(shelf, search, "accident")
    pulled = list(pulls(shelf, search, combinations, weight))
    held = rows([*leaning, *pulled], known, situations=("accident",), keep=shelf.keep)
    every = [
        *strong,
        *(
            leaned(row) if isinstance(row, Check) and row.family not in PULLED else row
            for row in held
        ),
    ]
    made = [row for row in every if isinstance(row, Check)]
    return made, _once(row for row in every if isinstance(row, CannotSay))


def _under(shelf: Around, search: Search, situation: Situation) -> list[Under]:
    return [
        Under(named(case), When(situation, shelf.stays), shelf.loads(case, {}, {}))
        for case in worst_cases(search, situation)
    ]


def _once(said: Iterable[CannotSay]) -> list[CannotSay]:
    return list(dict.fromkeys(said))


def worst_cases(search: Search, situation: Situation) -> list[Solved]:
    """Return the cases in which some rod puts on its wood what no other of the same combination surpasses.

    Neither in shear nor in moment, by their sizes: what a stud can bear in bending falls with the shear beside it.
    """
    found: dict[int, Solved] = {}
    for group, V, M in _by_combination(search, situation):
        for shear, moment in zip(V.T, M.T, strict=True):
            found |= {id(group[k]): group[k] for k in unsurpassed(shear, moment)}
    return list(found.values())


def _hardest(search: Search, situation: Situation) -> list[Solved]:
    """The cases of every combination that press each rod hardest on its wood, by its moment there and at mid depth."""
    found: dict[int, Solved] = {}
    for group, V, M in _by_combination(search, situation):
        for hard in (M, M + V * MIDDLE):
            found |= {id(group[k]): group[k] for k in hard.argmax(axis=0).tolist()}
    return list(found.values())


def _by_combination(
    search: Search, situation: Situation
) -> Iterator[tuple[list[Solved], Floats, Floats]]:
    """Cases with the sizes of every rod's shear (N) and moment (N mm) at its wood (cases, rods)."""
    groups: dict[str, list[Solved]] = {}
    for case in search.cases.values():
        if case.combination.situation == situation:
            groups.setdefault(case.combination.id, []).append(case)
    for group in groups.values():
        faces = np.abs([case.answer.faces for case in group])
        yield group, faces[:, 0::2], faces[:, 1::2]


def pulls(
    shelf: Around, search: Search, combinations: Sequence[Combination], weight: float
) -> Iterator[Under]:
    """Yield the shelf caught hold of, at either end of each leg, under the contents that press hardest on some rod.

    Arguments as of `around`.
    """
    basis = next((c for c in combinations if c.situation == "accident"), None)
    if basis is None:
        return
    alone = replace(basis, id=f"{basis.id.rpartition(' + ')[0]}{PULL}", accident=0.0)
    H = pulled(W=weight)
    served = [case for case in _hardest(search, "service") if not case.combination.single]
    # A look among patterns that told has those of pulls with it, not always the service cases they come from.
    told = [case for case in search.cases.values() if case.combination.id == alone.id]
    patterns = {(c.pattern.there.tobytes(), c.pattern.proud): c.pattern for c in [*served, *told]}
    when = When("accident", shelf.stays)
    solved = search.all_of([Try(alone, pattern) for pattern in patterns.values()])
    for found in foremost([each for each in solved if each is not None], shelf.flats):
        for out, side in shares(shelf, H):
            yield Under(named(found), when, shelf.loads(found, out, side))


def foremost(
    cases: Sequence[Solved], flats: Mapping[int, float] = MappingProxyType({})
) -> list[Solved]:
    """Return the cases in which some rod puts on its wood what no other case surpasses in shear and in moment.

    Whether it presses down or is lifted: every check of a pulled rod, and of its stud, asks more with more of either.
    With them those that bend a rod most at the flat for its grub screw.

    Args:
        cases: of one combination.
        flats: of rods that have one, by their numbers, from the tip to the flat's middle (mm).
    """
    if not cases:
        return []
    faces = np.array([case.answer.faces for case in cases])
    kept: set[int] = set()
    for V, M in zip(faces[:, 0::2].T, faces[:, 1::2].T, strict=True):
        for way in (1.0, -1.0):
            kept.update(unsurpassed(way * V, way * M))
    for index, from_tip in flats.items():
        force, own = (
            np.array([getattr(c.answer, name) for c in cases]) for name in ("force", "own")
        )
        at_flat = along_flat(cases[0].answer.resting, index, force, own, from_tip)
        kept.add(int(at_flat.argmax()))
    return [cases[k] for k in sorted(kept)]


def shares(shelf: Around, H: float) -> Iterator[tuple[dict[str, float], dict[str, float]]]:
    """Yield what every rod gets, by its id, of a pull at either end of a leg: out of the wall, and along it (N).

    Statics. Several locks of a leg take pull and turn by the lever rule: slots have so much play that rods take no turn
    before the locks would be far out. None is asked for more than all of the pull: should it let go, another holds that
    alone and the rods take the turn about it. The rods are asked for the turn about the locks' middle, or about the
    farthest lock where one is to hold alone, each for an equal couple, as if they were pushed along the wall at the
    front edge so hard (assumed). Out of the wall that an L goes onto first the other leg's rods hold it in their plain
    slots, sideways; its turn counts about the middle of the leg's own rods (assumed: the other leg's back bears on its
    wall).

    Args:
        shelf: the shelf.
        H: pull, or push along the wall (N).
    """
    for row in shelf.rows:
        rods = row.seats
        others = [seat for other in shelf.rows if other is not row for seat in other.seats]
        slides = bool(others) and row.leg.wall == shelf.first
        locked = [seat for seat in rods if seat.rod.id in shelf.spec.lock.rods] or rods
        pulls = [_of_locks(rods if slides else locked, end, H) for end in row.front]
        turning = max(arm for _, arm in pulls) / min(seat.front for seat in rods)
        side = {seat.rod.id: H * max(1.0, turning) / len(rods) for seat in rods}
        if slides:
            yield {}, {seat.rod.id: H / len(others) for seat in others}
            yield {}, side
            continue
        for out, _ in pulls:
            yield out, side


def _of_locks(locked: Sequence[Seat], end: float, H: float) -> tuple[dict[str, float], float]:
    """What a pull at one place asks of every lock (N), and how far from it the turn of the rods is about (mm)."""
    middle = sum(seat.x for seat in locked) / len(locked)
    by = levers({seat.rod.id: seat.x for seat in locked}, end, H)
    if max(by.values()) <= H:
        return by, abs(end - middle)
    # Whichever is left holds all of it.
    return dict.fromkeys(by, H), max(abs(end - seat.x) for seat in locked)


def levers(at: Mapping[str, float], end: float, H: float) -> dict[str, float]:
    """Return the pull on every lock of a pull at one place of a leg (N); less than nothing: a push.

    Lever rule of a rigid shelf on equal locks.

    Args:
        at: places of the locks along the wall (mm).
        end: where the shelf is pulled (mm).
        H: pull (N).
    """
    middle = sum(at.values()) / len(at)
    spread = sum((x - middle) ** 2 for x in at.values())
    turn = (end - middle) / spread if spread > 0 else 0.0
    return {rod: H * (1 / len(at) + turn * (x - middle)) for rod, x in at.items()}
