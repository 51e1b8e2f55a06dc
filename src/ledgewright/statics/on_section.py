"""Statics of a shelf on its section model: every load pattern solved, every rod, drop and wave judged on its worst."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property, partial
from typing import Literal

import numpy as np

from ledgewright.core import Core, mass
from ledgewright.job import Basis, Demand, Spec
from ledgewright.memo import Memo
from ledgewright.statics import checks, mechanics, one_rod
from ledgewright.statics.actions import Actions, Floats, actions
from ledgewright.statics.aims import Aims, Looked, of_front, of_rods
from ledgewright.statics.around import Around, around
from ledgewright.statics.bases import (
    Combination,
    Resistance,
    Rules,
    member_rules,
    panel_rules,
    rules,
)
from ledgewright.statics.beam import STANDS, bed
from ledgewright.statics.box import Reading, Where, joined, read, where
from ledgewright.statics.box_rows import Box, bows, box_aims, box_rows
from ledgewright.statics.checks import Case
from ledgewright.statics.families import family, missing, verdict
from ledgewright.statics.formula import Working
from ledgewright.statics.given import Given
from ledgewright.statics.inputs import Inputs
from ledgewright.statics.laid import laid
from ledgewright.statics.loads import G_N
from ledgewright.statics.mechanics.contact_rods import (
    POINTS as CONTACTS,
)
from ledgewright.statics.mechanics.contact_rods import (
    Answer,
    Asked,
    Resting,
    Slotted,
    rest,
    sites,
)
from ledgewright.statics.mechanics.section import Mechanism
from ledgewright.statics.members_give import share
from ledgewright.statics.model import (
    CannotSay,
    Check,
    Drop,
    DropAt,
    Holds,
    Laid,
    RodForce,
    RodLine,
    Surface,
)
from ledgewright.statics.patterns import Known, Lost, Pattern, Search, Solved, Try
from ledgewright.statics.pressed import (
    MODEL,
    Pressed,
    along_flat,
    flat_ends,
    flats_of,
    in_front,
    named,
    unsurpassed,
)
from ledgewright.statics.row import Answering, made
from ledgewright.statics.scout import run, turned_over
from ledgewright.statics.seats import Row, Seat, rows
from ledgewright.statics.shape import lines, surface
from ledgewright.statics.stand import Stood, rods_of, seats

Part = Literal["rods", "members", "box"]
MANY = 32
"""From so many loads on a table of what touches is worth its making."""
NARROW, TURNS = 0.95, 3
"""A row from this ratio on that passes is looked at once more, so often at the most."""
PARTS: tuple[Part, ...] = ("rods", "members", "box")
"""What rows are made of, besides drop and standing."""
ON_MEMBERS: tuple[Part, ...] = ("members",)


def holds(
    given: Given, stood: Stood, memo: Memo, *, keep: bool = True, only_drop: bool = False
) -> Holds:
    """Return whether one shelf holds, and how far its front edge drops, from its section model.

    docs/section-model.md, docs/statics.md.

    Args:
        given: the shelf, with its core.
        stood: on its section model.
        memo: kept by the caller, for what a shape alone decides.
        keep: whether to keep the derivations; sampled runs need none.
        only_drop: whether the drop alone is asked for, to compare designs: no row but those of drop.

    Returns:
        Checks with their derivations, drops (mm), forces (N, N mm) and what cannot be said.
    """
    shelf = ready(given, stood, memo, keep=keep, box=not only_drop)
    into = one_rod.into(given.room, given.frame)
    if isinstance(shelf, tuple):
        silent = shelf + missing((), shelf, into=into)
        weight = mass(spec=given.spec, frame=given.frame, core=given.core)
        return Holds("cannot say", (), None, (), None, silent, None, weight)
    judged = dropped(shelf) if only_drop else judge(shelf)
    silent = (*judged.said, *missing(judged.rows, judged.said, into=into))
    return Holds(
        verdict=verdict(judged.rows, silent, into=into),
        checks=judged.rows,
        drop=judged.drop,
        forces=judged.forces,
        load_limit=None,
        cannot_say=silent,
        governs=one_rod.governs(judged.rows),
        mass=shelf.weight,
        surface=judged.surface,
        lines=judged.lines,
        laid=judged.laid,
    )


@dataclass(frozen=True)
class Shelf:
    """One shelf with its loads and rods, new and after creep: all that its rows are made from.

    first: the wall it goes onto first. slot: width of its widest slot (mm). weight: its mass (kg). reading: None where
    no rows of the box are wanted.
    """

    spec: Spec
    core: Core
    first: str
    slot: float
    legs: tuple[Row, ...]
    acting: Actions
    today: Resting
    later: Resting
    reading: Reading | None
    basis: Basis
    inputs: Inputs
    demand: Demand
    weight: float
    keep: bool

    @property
    def rules(self) -> Rules:
        """What the basis asks of rods and wood."""
        return rules(self.basis)

    @property
    def seats(self) -> tuple[Seat, ...]:
        """All rods, in the order in which answers have them."""
        return tuple(seats(self.legs))

    @cached_property
    def flats(self) -> dict[int, float]:
        """Of every rod with a flat, by its number, how far the flat's middle is from its tip (mm)."""
        return flats_of(self.core.locks, self.seats)

    @property
    def lies(self) -> float:
        """Self-weight and contents (N)."""
        return self.weight * G_N + sum(a.force for a in self.acting.atoms if a.kind == "live")

    @property
    def search(self) -> Search:
        """A search that has not begun."""
        return Search(self.acting, self.today)


@dataclass(frozen=True)
class Judged:
    """The rows of one shelf under its loads, what cannot be said, how far it drops and what its rods carry.

    known: what touches. parts: the rows of each part.
    """

    rows: tuple[Check, ...]
    said: tuple[CannotSay, ...]
    drop: Drop | None
    forces: tuple[RodForce, ...]
    cases: tuple[Solved, ...] = ()
    surface: Surface | None = None
    lines: tuple[RodLine, ...] = ()
    laid: Laid | None = None
    known: Known = field(default_factory=Known)
    parts: Mapping[Part, tuple[Check, ...]] = field(default_factory=dict)


def ready(
    given: Given,
    stood: Stood,
    memo: Memo,
    *,
    keep: bool = True,
    box: bool = True,
    points: int = CONTACTS,
) -> Shelf | tuple[CannotSay, ...]:
    """Return one shelf ready to be judged, its loads in parts, or why nothing can be said.

    Args:
        given: the shelf, with its core.
        stood: on its section model.
        memo: kept by the caller, for what a shape alone decides.
        keep: whether to keep the derivations.
        box: whether rows of the box are to be made: to read it is dear.
        points: contact points along a rod.

    Raises:
        ValueError: if it has no core.
    """
    room, frame, spec, core, inputs = given.room, given.frame, given.spec, given.core, given.inputs
    if core is None:
        msg = "a shelf without a core is not on the section model"
        raise ValueError(msg)
    unsaid = one_rod.unsaid(room, frame, rules(given.basis), given.temperature, given.heat)
    if unsaid:
        return tuple(CannotSay(one_rod.MODEL, why) for why in unsaid)
    legs = rows(room, frame, inputs)
    give = partial(share, seats(legs), rules=member_rules(given.basis), across=inputs.across)
    acting = actions(given, stood, memo).times(live=inputs.load).softened(inputs.section)
    slot = max(slot.width for slot in frame.slots)
    new = rods_of(stood, seats(legs), spec, inputs, creep=False)
    old = rods_of(stood, seats(legs), spec, inputs, creep=True)
    return Shelf(
        spec=spec,
        core=core,
        first=frame.first,
        slot=slot,
        legs=legs,
        acting=acting,
        today=rest(stood.today.times(inputs.section), new, share=np.array(give()), points=points),
        later=rest(
            stood.later.times(inputs.section),
            old,
            share=np.array(give(k_def=inputs.k_def)),
            points=points,
        ),
        reading=_reading(stood, acting, new, slot, memo) if box else None,
        basis=given.basis,
        inputs=inputs,
        demand=given.demand,
        weight=mass(spec=spec, frame=frame, core=core),
        keep=keep,
    )


def _reading(
    stood: Stood, acting: Actions, rods: Sequence[Slotted], slot: float, memo: Memo
) -> Reading:
    """What the box carries per unit of all that acts: a shape, the places of the loads and the slots decide it."""
    one, ends = stood.today, tuple((rod.mouth, rod.tip) for rod in rods)

    def on_rods() -> tuple[Where, Reading]:
        at, none = where(one, rods, slot=slot), np.zeros((len(acting.plans), 0))
        return at, read(one, one.per_unit(none, len(sites(rods))), rods, slot=slot, at=at)

    def all_of_it() -> Reading:
        # Loads in other places leave alone what the rods do to it. Each part is always read by itself, so that its last
        # digit does not hang on what was asked before.
        lies = one.per_unit(acting.plans, 0)[:, : acting.plans.shape[1]]
        at, kept = memo.get("box on rods", (stood.shape, ends, slot), on_rods, heavy=True)
        return joined((read(one, lies, rods, slot=slot, at=at), kept))

    return memo.get("box", (stood.shape, acting.rings, ends, slot), all_of_it, heavy=True)


def judge(
    shelf: Shelf,
    among: Sequence[tuple[Combination, Pattern]] | None = None,
    search: Search | None = None,
    asked: Collection[Part] = PARTS,
    first: Sequence[tuple[Combination, Pattern]] = (),
) -> Judged:
    """Return the rows of a shelf under its loads.

    Args:
        shelf: as `ready` gives it, or the same under other loads.
        among: combinations and patterns that alone are tried; None: every one that may count.
        search: that has not begun; None: a new one.
        asked: of which rows are made; all of them, but for sampled runs that need less.
        first: combinations and patterns that are tried before any other.
    """
    search = search or shelf.search
    search.all_of([Try(*each) for each in first])
    if among is None:
        run(search, shelf.rules.combinations, partial(driven, shelf, asked))
        _later(shelf, search)
        found = _made(shelf, search, asked)
        return _turned(shelf, search, asked, found)
    search.all_of([Try(*each) for each in among])
    return _made(shelf, search, asked)


def _later(shelf: Shelf, search: Search) -> None:
    """Try what drops furthest today with every part of its contents turned over: one may drop further in ten years.

    Only the drop today is driven up.
    """
    served = _served(shelf, search)
    if served:
        furthest = max(served, key=lambda case: float(case.answer.read.max()))
        search.all_of(list(turned_over(search, furthest)))


def _turned(shelf: Shelf, search: Search, asked: Collection[Part], found: Judged) -> Judged:
    """What just passes tried once more with every part of its contents turned over, one by one, until none asks more.

    One-way contacts may make a part count the other way round than influence figures say: by 1.5 % at most on the
    examples. That matters only where a row is about to fail.
    """
    done: set[int] = set()
    for _ in range(TURNS):
        near = {r.case for r in found.rows if NARROW <= r.ratio <= 1 and not r.information}
        cases = [c for c in found.cases if named(c) in near and id(c) not in done]
        if not cases:
            break
        done |= {id(case) for case in cases}
        before = len(search.cases)
        search.all_of([each for case in cases for each in turned_over(search, case)])
        if len(search.cases) == before:
            break
        found = _made(shelf, search, asked)
    return found


def _made(shelf: Shelf, search: Search, asked: Collection[Part]) -> Judged:
    """The rows of a shelf under the cases of a search."""
    of_box, unsaid_of_box = box_rows(box_of(shelf), search) if "box" in asked else ([], [])
    cases = list(search.cases.values())
    made, said = _judge(shelf, cases) if "rods" in asked else ([], [])
    on_members, unsaid_of_members = _around(shelf, search) if "members" in asked else ([], [])
    drops, drop, furthest = _drop(shelf, search)
    judged = (*made, *on_members, *of_box, _firm(shelf, cases, search.lost), *drops)
    return Judged(
        judged,
        (*said, *unsaid_of_members, *unsaid_of_box),
        drop,
        tuple(f for case in cases if not case.pattern.name for f in _forces(shelf, case)),
        tuple(search.cases.values()),
        furthest if shelf.keep else None,
        lines(shelf.seats, cases, shelf.inputs) if shelf.keep else (),
        laid(shelf.acting, shelf.seats, judged, cases) if shelf.keep else None,
        search.learnt,
        {"rods": tuple(made), "members": tuple(on_members), "box": tuple(of_box)},
    )


def driven(
    shelf: Shelf, asked: Collection[Part], resting: Resting, sample: Looked
) -> Sequence[Aims]:
    """Return what the search for the worst loads drives up on one shelf.

    Args:
        shelf: as `ready` gives it.
        asked: of which rows; of the front always.
        resting: the shelf on few contact points.
        sample: loads of all kinds on these.
    """
    reads = shelf.acting.stood.reads
    made: list[Aims] = [of_front(resting, _hung(shelf, resting), bows(reads))]
    if "rods" in asked or "members" in asked:
        depths = [seat.rod.embedment for seat in shelf.seats]
        flats = {k: flat_ends(shelf.seats[k].tip, off)[0] for k, off in shelf.flats.items()}
        made.append(of_rods(resting, depths, flats))
    if "box" in asked:
        made += box_aims(box_of(shelf), resting, sample)
    return made


def _hung(shelf: Shelf, resting: Resting) -> Floats:
    """How far down every place that is read hangs by itself (mm); at nothing where it does not hang."""
    dead = shelf.acting.of("dead")
    try:
        return resting.solve(shelf.acting.under(shelf.acting.factors(one_rod.HUNG, dead))).read
    except Mechanism:
        return np.zeros(len(shelf.acting.stood.reads))


def fallen(shelf: Shelf, search: Search) -> list[Check]:
    """Return the rows of drop under the cases of a search."""
    return _drop(shelf, search)[0]


def dropped(
    shelf: Shelf, among: Sequence[Pattern] | None = None, known: Known | None = None
) -> Judged:
    """Return the rows of drop alone, to compare designs.

    Args:
        shelf: as `ready` gives it.
        among: patterns that alone are tried; None: every one that may count.
        known: of what touches, from other doubtful figures.
    """
    search, plain = replace(shelf.search, known=known or Known()), _plain(shelf)
    if among is None:
        run(search, [plain], partial(driven, shelf, ()))
        _later(shelf, search)
    search.all_of([Try(plain, pattern) for pattern in among or ()])
    drops, drop, _ = _drop(shelf, search)
    return Judged(tuple(drops), (), drop, (), tuple(search.cases.values()), known=search.learnt)


def _around(shelf: Shelf, search: Search) -> tuple[list[Check], list[CannotSay]]:
    on = Around(
        rows=shelf.legs,
        first=shelf.first,
        spec=shelf.spec,
        rules=shelf.rules,
        timbers=member_rules(shelf.basis),
        inputs=shelf.inputs,
        stays=shelf.acting.stays,
        keep=shelf.keep,
        locks=shelf.core.locks,
    )
    # With nothing on it a shelf may be pulled, too.
    search.case(one_rod.HUNG, Pattern("hung", shelf.acting.of("dead")))
    return around(on, search, shelf.rules.combinations, shelf.lies)


def box_of(shelf: Shelf) -> Box:
    """Return the box of a shelf, as its rows are made from.

    Raises:
        ValueError: if it was made ready without.
    """
    if shelf.reading is None:
        msg = "a shelf made ready without its box has no rows of it"
        raise ValueError(msg)
    return Box(
        spec=shelf.spec,
        rows=shelf.legs,
        slot=shelf.slot,
        # Where the core is solid a slot is the widest hollow that the skin bridges.
        span=max(shelf.core.longest_span, shelf.slot),
        acting=shelf.acting,
        resting=shelf.today,
        reading=shelf.reading,
        rules=panel_rules(shelf.basis),
        combinations=shelf.rules.combinations,
        keep=shelf.keep,
        grooves=tuple(k.plan for k in shelf.core.keep_outs if k.kind == "light groove"),
    )


def _judge(shelf: Shelf, solved: Sequence[Solved]) -> tuple[list[Check], list[CannotSay]]:
    """Return the rows of all rods, and what cannot be said of any of them."""
    made: list[Check] = []
    said: list[CannotSay] = []
    groups = _groups(solved)
    for index, seat in enumerate(shelf.seats):
        lying = bed(Working(keep=False), seat, shelf.inputs)
        cases = [
            Case(seat, shelf.rules, shelf.inputs, pressed, lying, pressed.case.combination)
            for pressed in _worst_of(shelf, groups, index)
        ]
        made += checks.of_rod(cases, shelf.spec.accepted, keep=shelf.keep)
        edge = checks.bed_edge(seat, shelf.rules, shelf.spec.accepted, keep=shelf.keep)
        if edge is None:
            why = f"rod {seat.rod.mark}: heights of its blocking not known"
            said.append(CannotSay("bed.edge", why))
        else:
            made.append(edge)
        leaning = checks.accident(cases, shelf.spec.accepted, keep=shelf.keep)
        made += [leaning] if leaning is not None else []
    if shelf.demand.accident_declined:
        made.append(checks.declined())
    elif not shelf.demand.accidents:
        said.append(CannotSay("acc.hold", "no accidental load is given"))
    return made, said


@dataclass(frozen=True)
class _Group:
    """The cases of one combination with what their rods carry, one row for each."""

    cases: tuple[Solved, ...]
    faces: Floats
    force: Floats
    own: Floats


def _groups(solved: Sequence[Solved]) -> tuple[_Group, ...]:
    """The cases combination by combination."""
    by: dict[tuple[str, str], list[Solved]] = {}
    for case in solved:
        by.setdefault((case.combination.situation, case.combination.id), []).append(case)
    return tuple(
        _Group(
            tuple(group),
            *(
                np.array([getattr(case.answer, name) for case in group])
                for name in ("faces", "force", "own")
            ),
        )
        for group in by.values()
    )


def _worst_of(shelf: Shelf, groups: Sequence[_Group], index: int) -> Iterator[Pressed]:
    """The cases of one rod that no other of the same combination surpasses in every figure."""
    rod, points, stays = shelf.today.rods[index], shelf.today.points, shelf.acting.stays
    top = slice(2 * points * index, 2 * points * index + points)
    bottom = slice(top.stop, top.stop + points)
    for group in groups:
        faces, force = group.faces[:, 2 * index : 2 * index + 2], group.force
        down = force[:, top] - force[:, bottom]
        front = in_front(rod, down, faces[:, 1], group.own)
        flat = along_flat(shelf.today, index, force, group.own, shelf.flats.get(index, 0.0))
        for k in unsurpassed(np.column_stack([np.abs(faces), front, flat])):
            case = group.cases[k]
            yield Pressed(case.answer.rods[index], case, stays, float(front[k]), float(flat[k]))


def _firm(shelf: Shelf, solved: Sequence[Solved], lost: Sequence[Lost]) -> Check:
    """Return whether the shelf stands under every load that was put on it."""
    w = Working(keep=shelf.keep)
    w.given("n", float(len(solved) + len(lost)), unit="1", source=f"Load cases solved: {MODEL}")
    w.given("n_l", float(len(lost)), unit="1", source="Of them, those it turns off its rods under")
    if not lost:
        return _stands("every load case", 0.0, "", w)
    return _stands(named(lost[0]), float(len(lost)), lost[0].why, w)


def falls_apart(why: str) -> Check:
    """Return the failed row of a shelf a part of which moves by itself."""
    return _stands("every load case", 1.0, why, Working(keep=False))


def _stands(case: str, lost: float, reason: str, w: Working) -> Check:
    about = family("stab.contact")
    return Check(
        id="stab.contact",
        family="stab.contact",
        title=about.title,
        place=None,
        case=case,
        demand=lost,
        capacity=1.0,
        ratio=2.0 if lost else 0.0,
        unit="1",
        state="fails" if lost else "passes",
        scope="in",
        information=False,
        reason=reason,
        source=about.source,
        steps=w.steps,
    )


@dataclass(frozen=True)
class _Fall:
    """Where the front drops furthest (mm), and the positions (mm down) that lead to it."""

    value: float
    place: int
    case: Solved
    w: Working


def _plain(shelf: Shelf) -> Combination:
    """What drop is of: self-weight and contents as they are."""
    return next(c for c in shelf.rules.combinations if c.situation == "service")


def _served(shelf: Shelf, search: Search) -> list[Solved]:
    """The cases that drop is of: in service, all rods in one plane."""
    plain = _plain(shelf)
    return [c for c in search.of(plain) if c.pattern.proud is None]


def _drop(shelf: Shelf, search: Search) -> tuple[list[Check], Drop | None, Surface | None]:
    """Return drop rows, figures and picture (if derivations are kept); none where it does not stand in service."""
    served = _served(shelf, search)
    dead = shelf.acting.of("dead")
    hung = search.case(one_rod.HUNG, Pattern("hung", dead))
    if (
        hung is None
        or not served
        or any(lost.combination.situation == "service" for lost in search.lost)
    ):
        return [], None, None
    start = hung.answer.read
    first = max((_day_one(shelf, case, start) for case in served), key=lambda fall: fall.value)
    then = max(_ten_years(shelf, search, served, start), key=lambda fall: fall.value)
    limits = shelf.demand.limits
    today, at = _dropped(shelf, "drop.today", first, limits.drop_today)
    long, later = _dropped(shelf, "drop.long", then, limits.drop_long)
    plays = [seat.rod.clearance.up + shelf.inputs.clearance for seat in shelf.seats]
    tilt = max(
        mechanics.hang_tilt(c=c, D=seat.depth, n=seat.tip - seat.back)
        for seat, c in zip(shelf.seats, plays, strict=True)
    )
    picture = (
        surface(shelf.acting.stood.turned, shelf.acting, first.case, hung) if shelf.keep else None
    )
    return [today, long], Drop(at, later, tilt, max(plays)), picture


def _position(w: Working, symbol: str, value: float, about: str) -> float:
    return w.given(symbol, value, unit="mm", source=f"{about}: {MODEL}")


def _day_one(shelf: Shelf, case: Solved, start: Floats) -> _Fall:
    place = int(np.argmax(case.answer.read - start))
    w = Working(keep=shelf.keep)
    full = _position(w, "w_1", float(case.answer.read[place]), "Hung and loaded")
    hung = _position(w, "w_0", float(start[place]), "Hung")
    return _Fall(w(one_rod.fall, w=full, hung=hung), place, case, w)


def _ten_years(
    shelf: Shelf, search: Search, served: Sequence[Solved], start: Floats
) -> Iterator[_Fall]:
    """The drop after creep under what stays, with what comes and goes adding what it adds today, under each case."""
    stays = np.array(
        [a.kind == "dead" or a.lasts in STANDS for a in shelf.acting.atoms], dtype=bool
    )
    kept = [case.factors * stays for case in served]
    asked = [
        Asked(shelf.acting.under(each, creep=True), case.combination.dead)
        for each, case in zip(kept, served, strict=True)
    ]
    goes = [not np.array_equal(each, c.factors) for each, c in zip(kept, served, strict=True)]
    staying = _kept(search, served, stays) if any(goes) else [case.answer for case in served]
    aged = _aged(shelf, asked, [case.answer for case in served])
    for case, old, some, left in zip(served, aged, goes, staying, strict=True):
        if isinstance(old, Mechanism):
            raise old
        today = case.answer.read
        gone = left.read if some else today
        place = int(np.argmax(old.read + (today - gone) - start))
        w = Working(keep=shelf.keep)
        end = _position(w, "w_oo", float(old.read[place]), "After creep, under what stays")
        if some:
            full = _position(w, "w_1", float(today[place]), "Hung and loaded")
            less = _position(w, "w_s", float(gone[place]), "Today, under what stays")
            end = w(one_rod.added, w=end, full=full, kept=less)
        hung = _position(w, "w_0", float(start[place]), "Hung")
        yield _Fall(w(one_rod.fall, w=end, hung=hung), place, case, w)


def _aged(
    shelf: Shelf, asked: Sequence[Asked], today: Sequence[Answer]
) -> Sequence[Answer | Mechanism]:
    """The answers after creep, each looked for from what touches today."""
    if len(asked) >= MANY:
        return shelf.later.solve_all(
            asked, shelf.later.most(today), [answer.touching for answer in today]
        )
    # Few loads are soon solved one by one: what a table costs is spared.
    return [
        shelf.later.solve(each.loaded, own=each.own, like=answer)
        for each, answer in zip(asked, today, strict=True)
    ]


def _kept(search: Search, served: Sequence[Solved], stays: Floats) -> list[Answer]:
    """The answers today under what stays."""
    there = stays.astype(bool)
    found = search.all_of(
        [
            Try(one_rod.KEPT, Pattern("under what stays", case.pattern.there & there))
            for case in served
        ]
    )
    return [(each or case).answer for each, case in zip(found, served, strict=True)]


def _dropped(shelf: Shelf, name: str, fall: _Fall, limit: float) -> tuple[Check, DropAt]:
    about, read = family(name), shelf.acting.stood.reads[fall.place]
    case = named(fall.case)
    seat = next(seat for seat in shelf.seats if seat.rod.id == read.rod)
    row = made(
        name,
        (fall.value, Resistance(limit, "in", "", about.source)),
        unit="mm",
        case=case,
        steps=fall.w.steps,
        place=checks.place(seat),
        answering=Answering(),
    )
    return row, DropAt(fall.value, limit, read.rod, case)


def _forces(shelf: Shelf, case: Solved) -> Iterator[RodForce]:
    """The forces on every rod under one combination with all loads on."""
    for seat, rod in zip(shelf.seats, case.answer.rods, strict=True):
        own = rod.weight * rod.tip**2 / 2
        lever = (rod.M - own) / rod.force if rod.force else 0.0
        at = float(np.clip(lever, rod.at[0], rod.at[-1]))
        yield RodForce(
            rod=seat.rod.id,
            case=f"{case.combination.situation}: {case.combination.id}",
            load=rod.force,
            lever=lever,
            V=rod.V,
            M=rod.M,
            drop_at_face=rod.y,
            turn_at_face=rod.theta,
            drop_at_load=float(np.interp(at, rod.at, rod.drop)),
            turn_at_load=float(np.interp(at, rod.at, np.gradient(rod.drop, rod.at))),
        )
