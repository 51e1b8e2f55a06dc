"""The rows of the box itself: skins, core, the glue between, the wave of the front, under every case."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np

from ledgewright import stock
from ledgewright.job import Lasts, Skin, Spec
from ledgewright.statics.actions import Actions
from ledgewright.statics.bases import Combination, Kind, PanelRules, Situation, When
from ledgewright.statics.bases.panel_rules import Sheeting
from ledgewright.statics.box import Asked, OnSkin, Pressing, asked
from ledgewright.statics.formula import Working
from ledgewright.statics.glue_checks import GLUE, GLUE_SOURCE, core_comp, glue_peel, glue_shear
from ledgewright.statics.mechanics.contact_rods import Resting
from ledgewright.statics.model import CannotSay, Check
from ledgewright.statics.patterns import Search, Solved
from ledgewright.statics.pressed import named
from ledgewright.statics.row import Answering, Found, leaned, made, ratio
from ledgewright.statics.seats import Row
from ledgewright.statics.skin_checks import (
    Bay,
    Patch,
    bays,
    sag_wave,
    skin_bear,
    skin_bend,
    skin_mouth,
    skin_patch,
    skin_roll,
)
from ledgewright.stock import Bar

Rule = Callable[[Working], Found]
SKINS = ("skin.bend", "skin.mouth", "skin.bear", "skin.roll")
TIED = ("glue.shear", "glue.peel", "core.comp")
LONG = 4.0
"""A free span of a skin counts as so many times as long as it is wide: a strip, towards more stress."""


@dataclass(frozen=True)
class Box:
    """One shelf's box with the cases that press on it."""

    spec: Spec
    rows: tuple[Row, ...]
    slot: float
    span: float
    acting: Actions
    resting: Resting
    rules: PanelRules
    combinations: tuple[Combination, ...]
    keep: bool

    @property
    def answering(self) -> Answering:
        """Who answers for rows at the edge of what their sources cover."""
        return Answering(self.spec.accepted)

    @property
    def stays(self) -> Lasts:
        """How long the contents stay."""
        return self.acting.stays

    @property
    def skins(self) -> tuple[tuple[str, Skin, Sheeting], ...]:
        """Name, skin and what its panel can take, top and bottom."""
        both = (("top", self.spec.skin_top), ("bottom", self.spec.skin_bottom))
        return tuple(
            (name, skin, Sheeting(skin.panel, stock.panel_strengths(skin.panel.name)))
            for name, skin in both
        )

    @property
    def bar(self) -> Bar:
        """The thinnest bar, which presses on the least."""
        bars = [seat.rod.bar for row in self.rows for seat in row.seats]
        return min(bars, key=lambda bar: bar.width)


def box_rows(box: Box, search: Search) -> tuple[list[Check], list[CannotSay]]:
    """Return the rows of skins, core, glue and front.

    Args:
        box: the shelf.
        search: its cases, solved.
    """
    try:
        sheets = box.skins
    except stock.NotStocked as lacking:
        why = f"what its panel can take is not known: {lacking}"
        return [], [CannotSay(name, why) for name in (*SKINS, *TIED, "skin.patch")]
    made: list[Check] = []
    for situation in ("strength", "accident"):
        cases = [c for c in search.cases.values() if c.combination.situation == situation]
        found = list(zip(cases, _asked(box, cases, sheets), strict=True))
        rows = [_worst(box, name, ways) for name, ways in _grouped(box, found, sheets).items()]
        made += [leaned(row) for row in rows] if situation == "accident" else rows
    return [*made, *_patches(box, sheets), *_wave(box, search)], []


Sheets = tuple[tuple[str, Skin, Sheeting], ...]


def _asked(box: Box, cases: Sequence[Solved], sheets: Sheets) -> tuple[Asked, ...]:
    return asked(
        box.resting.condensed,
        [Pressing(box.acting.force @ case.factors, case.answer) for case in cases],
        box.resting.rods,
        top=sheets[0][2].strengths,
        bottom=sheets[1][2].strengths,
        slot=box.slot,
    )


Way = tuple[Solved, Rule]


def _grouped(
    box: Box, found: Iterable[tuple[Solved, Asked]], sheets: Sheets
) -> dict[str, list[Way]]:
    """For every row its ways to be asked, one per case."""
    grouped: dict[str, list[Way]] = {}
    for case, ask in found:
        when = When(case.combination.situation, box.stays)
        for (name, skin, of), on in zip(sheets, (ask.top, ask.bottom), strict=True):
            for kind, rule in _of_skin(box, on, of, skin.thick, when):
                grouped.setdefault(f"{kind}@{name} skin", []).append((case, rule))
        for kind, rule in _of_core(box, ask, sheets, when):
            grouped.setdefault(kind, []).append((case, rule))
    return grouped


def _of_skin(
    box: Box, on: OnSkin, of: Sheeting, t: float, when: When
) -> Iterator[tuple[str, Rule]]:
    rules = box.rules
    yield "skin.bend", partial(skin_bend, bent=on.bent, of=of, t=t, rules=rules, when=when)
    yield (
        "skin.mouth",
        partial(skin_mouth, q=on.q, width=box.slot, of=of, t=t, rules=rules, when=when),
    )
    yield "skin.bear", partial(skin_bear, q=on.q, bar=box.bar, of=of, rules=rules, when=when)
    yield "skin.roll", partial(skin_roll, V=on.V, q=on.q, of=of, t=t, rules=rules, when=when)


def _of_core(box: Box, ask: Asked, sheets: Sheets, when: When) -> Iterator[tuple[str, Rule]]:
    both, rules = [of for _, _, of in sheets], box.rules
    if ask.slid is not None:
        glue = (GLUE, GLUE_SOURCE)
        yield (
            "glue.shear",
            partial(glue_shear, slid=ask.slid, skins=both, glue=glue, rules=rules, when=when),
        )
    yield "glue.peel", partial(glue_peel, parted=ask.parted, skins=both, rules=rules, when=when)
    yield "core.comp", partial(core_comp, pressed=ask.pressed, rules=rules, when=when)


def _patches(box: Box, sheets: Sheets) -> Iterator[Check]:
    """The heaviest single thing, and the accident, each on its foot amid the widest hollow of the top skin."""
    name, skin, of = sheets[0]
    loads: tuple[tuple[Situation, Kind], ...] = (("strength", "single"), ("accident", "accident"))
    for situation, kind in loads:
        found = [a for a in box.acting.atoms if a.kind == kind]
        if not found:
            continue
        atom = max(found, key=lambda a: a.force)
        factor = max(c.factor(kind) for c in box.combinations if c.situation == situation)
        patch = Patch(factor * atom.force, _area(atom.plan), box.span, LONG * box.span)
        when = When(situation, box.stays)
        rule = partial(skin_patch, patch=patch, of=of, t=skin.thick, rules=box.rules, when=when)
        w = Working(keep=box.keep)
        row = made(
            f"skin.patch@{name} skin",
            rule(w),
            unit="MPa",
            case=f"{situation}: {atom.name}",
            steps=w.steps,
            answering=box.answering,
        )
        yield leaned(row) if situation == "accident" else row


def _area(plan: Sequence[tuple[float, float]]) -> float:
    x, y = np.asarray(plan).T
    return abs(float(x @ np.roll(y, -1) - y @ np.roll(x, -1))) / 2


def _wave(box: Box, search: Search) -> Iterator[Check]:
    """The front's greatest bow between two rods under contents that stand there, of all level cases in service."""
    ways: list[Way] = []
    for case in search.cases.values():
        plain = case.combination.situation == "service" and not case.combination.single
        if plain and case.combination.live and case.pattern.proud is None:
            ways += [(case, partial(sag_wave, bay=bay)) for bay in _bays(box, case)]
    if ways:
        yield _worst(box, "sag.wave", ways)


def _bays(box: Box, case: Solved) -> Iterator[Bay]:
    reads = box.acting.stood.reads
    for index in range(len(box.rows)):
        drops = [
            (read, float(drop))
            for read, drop in zip(reads, case.answer.read, strict=True)
            if read.leg == index
        ]
        rods = [(read.along, drop) for read, drop in drops if read.spot.kind == "rod"]
        others = [(read.along, drop) for read, drop in drops if read.spot.kind != "rod"]
        yield from bays([at for at, _ in others], [d for _, d in others], rods)


def _worst(box: Box, name: str, ways: Sequence[Way]) -> Check:
    case, rule = max(ways, key=lambda way: ratio(way[1](Working(keep=False))))
    w = Working(keep=box.keep)
    unit = "mm" if name == "sag.wave" else "MPa"
    found = rule(w)
    return made(name, found, unit=unit, case=named(case), steps=w.steps, answering=box.answering)
