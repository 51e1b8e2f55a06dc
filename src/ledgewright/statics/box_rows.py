"""The rows of the box itself: skins, core, the glue between, the wave of the front, under every case."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property, partial
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry import Polygon

from ledgewright import plane, stock
from ledgewright.job import Lasts, Skin, Spec
from ledgewright.plane import Ring
from ledgewright.statics.actions import Actions, Atom, Floats
from ledgewright.statics.aims import Aims, Looked
from ledgewright.statics.bases import Combination, Kind, PanelRules, Situation, When
from ledgewright.statics.bases.panel_rules import Sheeting
from ledgewright.statics.box import Asked, Most, OnSkin, Reading, Thinned, grooved, most
from ledgewright.statics.box_aims import OnBox, of_box, of_lines
from ledgewright.statics.formula import Working
from ledgewright.statics.glue_checks import (
    GLUE,
    GLUE_SOURCE,
    core_comp,
    glue_peel,
    glue_shear,
)
from ledgewright.statics.mechanics.contact_rods import Answer, Resting, windows
from ledgewright.statics.mechanics.section import MESH
from ledgewright.statics.model import CannotSay, Check
from ledgewright.statics.patterns import Search, Solved
from ledgewright.statics.pressed import named, unsurpassed
from ledgewright.statics.row import Answering, Found, leaned, made, ratio
from ledgewright.statics.seats import Row
from ledgewright.statics.skin_checks import (
    Bay,
    MostBent,
    Patch,
    bays,
    off_line,
    pressed_width,
    sag_wave,
    skin_bear,
    skin_bend,
    skin_mouth,
    skin_patch,
    skin_roll,
)
from ledgewright.statics.stand import Read
from ledgewright.stock import Bar

Rule = Callable[[Working], Found]
SKINS = ("skin.bend", "skin.mouth", "skin.bear", "skin.roll")
TIED = ("glue.shear", "glue.peel", "core.comp")
LONG = 4.0
"""A free span of a skin counts as so many times as long as it is wide: a strip, towards more stress."""


@dataclass(frozen=True)
class Box:
    """One shelf's box with the cases that press on it; reading: per unit of every plan of loads, site, way to move."""

    spec: Spec
    rows: tuple[Row, ...]
    slot: float
    span: float
    acting: Actions
    resting: Resting
    reading: Reading
    rules: PanelRules
    combinations: tuple[Combination, ...]
    keep: bool
    grooves: tuple[Ring, ...] = ()

    @cached_property
    def thinned(self) -> Thinned | None:
        """Where a groove has thinned the bottom skin; places within half a cell of the grid stand for it."""
        if self.spec.groove is None or not self.grooves:
            return None
        turned, at = self.acting.stood.turned, self.reading.bent[1].at
        lies = shapely.union_all([Polygon(turned.ring(ring)) for ring in self.grooves])
        places = np.flatnonzero(shapely.dwithin(lies, shapely.points(at), MESH / 2))
        left = self.spec.skin_bottom.thick - self.spec.groove.deep
        return Thinned(places, left) if len(places) else None

    @property
    def answering(self) -> Answering:
        """Who answers for rows at the edge of what their sources cover."""
        return Answering(self.spec.accepted)

    @property
    def stays(self) -> Lasts:
        """How long the contents stay."""
        return self.acting.stays

    @property
    def over(self) -> tuple[float, float]:
        """Length over which a line force is evened out on the top and on the bottom skin (mm)."""
        top, bottom = self.spec.skin_top.thick, self.spec.skin_bottom.thick
        return self.slot + 2 * top, self.slot + 2 * bottom

    @cached_property
    def windows(self) -> tuple[tuple[Floats, ...], tuple[Floats, ...]]:
        """Means of every rod's line force over a slot and two skins, on the top and on the bottom skin."""
        lengths = [rod.points(self.resting.points)[1] for rod in self.resting.rods]
        top, bottom = (tuple(windows(each, over) for each in lengths) for over in self.over)
        return top, bottom

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
        """The bar that presses on the least width of skin."""
        bars = [seat.rod.bar for row in self.rows for seat in row.seats]
        return min(bars, key=lambda bar: pressed_width(Working(keep=False), bar))


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
    asking = Asking(box, sheets)
    made: list[Check] = []
    for situation in ("strength", "accident"):
        cases = [c for c in search.cases.values() if c.combination.situation == situation]
        rows = [_worst(box, name, ways) for name, ways in asking.ways(cases).items()]
        made += [leaned(row) for row in rows] if situation == "accident" else rows
    return [*made, *_patches(box, sheets), *_wave(box, search)], []


def box_aims(box: Box, resting: Resting, sample: Looked) -> Sequence[Aims]:
    """Return what drives up what is asked of a box; nothing where what its panels can take is not known.

    Args:
        box: the shelf.
        resting: it on few contact points.
        sample: loads of all kinds on these.
    """
    try:
        top, bottom = (of.strengths for _, _, of in box.skins)
    except stock.NotStocked:
        return ()
    lies = np.zeros((len(box.acting.atoms), box.acting.plans.shape[1]))
    lies[np.arange(len(lies)), box.acting.on] = box.acting.forces
    on = OnBox(lies, resting)
    groove = grooved(box.reading, box.thinned) if box.thinned else None
    return (
        of_box(on, box.reading, (top, bottom), sample, groove),
        of_lines(resting, box.over, sample),
    )


def _lines(box: Box, cases: Sequence[Solved], side: int) -> list[Floats]:
    """Means of every rod's line force on a skin, over every window, under every case (windows, cases) (N/mm)."""
    force = np.array([case.answer.force for case in cases])
    found, points = [], box.resting.points
    for i, mean in enumerate(box.windows[side]):
        first = (2 * i + side) * points
        found.append(mean @ force[:, first : first + points].T)
    return found


def _weights(box: Box, cases: Sequence[Solved]) -> Floats:
    """How much of all that the basis of a reading is made for acts under each case (acts, cases)."""
    plans = box.acting.all_on_plans(np.array([case.factors for case in cases]))
    pushed = np.array([case.answer.pushed[: box.resting.touched] for case in cases])
    whole = np.array([case.answer.whole for case in cases])
    return np.hstack([plans, pushed, whole]).T


Sheets = tuple[tuple[str, Skin, Sheeting], ...]


def _asked(box: Box, cases: Sequence[Solved], sheets: Sheets) -> Most:
    top, bottom = (
        np.max([each.max(axis=0) for each in _lines(box, cases, side)], axis=0) for side in (0, 1)
    )
    return most(
        box.reading,
        top=sheets[0][2].strengths,
        bottom=sheets[1][2].strengths,
        q=(top, bottom),
        weights=_weights(box, cases),
        thinned=box.thinned,
    )


@dataclass(frozen=True)
class Way:
    """One case in which a row is asked, by which rule, and how it fares."""

    case: Solved
    rule: Rule
    ratio: float


@dataclass
class Asking:
    """What cases ask of a box; every answer is read once. at: where in `told` an answer stands."""

    box: Box
    sheets: Sheets
    told: Most | None = None
    at: dict[Answer, int] = field(default_factory=dict)

    def of(self, cases: Sequence[Solved]) -> Most:
        """Return what cases ask, in their order."""
        fresh = list({c.answer: c for c in cases if c.answer not in self.at}.values())
        if fresh:
            asked = _asked(self.box, fresh, self.sheets)
            self.told = Most.joined([self.told, asked]) if self.told else asked
            self.at.update({case.answer: len(self.at) + k for k, case in enumerate(fresh)})
        if self.told is None:
            msg = "no case to ask anything"
            raise ValueError(msg)
        return self.told.some(np.array([self.at[case.answer] for case in cases]))

    def ways(self, cases: Sequence[Solved]) -> dict[str, list[Way]]:
        """Return for every row those cases of one situation in which it may be asked most."""
        once = list({case.answer: case for case in cases[::-1]}.values())[::-1]
        if not once:
            return {}
        asked, when = self.of(once), When(once[0].combination.situation, self.box.stays)
        return {
            name: [
                Way(once[k], made, ratio(made(Working(keep=False))))
                for k in unsurpassed(np.column_stack(figures))
                for made in [rule(asked.under(k))]
            ]
            for name, figures, rule in self._rules(asked, when)
        }

    def _rules(self, asked: Most, when: When) -> Iterator[_Ruled]:
        for k, (name, skin, of) in enumerate(self.sheets):
            for kind, figures, rule in _of_skin(self.box, asked, k, (skin, of), when):
                yield f"{kind}@{name} skin", figures, rule
        yield from _of_groove(self.box, asked, self.sheets[1][2], when)
        yield from _of_core(self.box, asked, self.sheets, when)


_Ruled = tuple[str, tuple[Floats, ...], Callable[[Asked], Rule]]
"""A row, the figures that its ratio grows with, under each case, and its rule for what one case asks."""


def _of_skin(
    box: Box, asked: Most, side: int, skin: tuple[Skin, Sheeting], when: When
) -> Iterator[_Ruled]:
    rules, of, t = box.rules, skin[1], skin[0].thick
    bent, V, q = asked.bent[side], asked.V[side], asked.q[side]

    def on(asks: Asked) -> OnSkin:
        return (asks.top, asks.bottom)[side]

    yield (
        "skin.bend",
        _both_ways(bent),
        lambda a: partial(skin_bend, bent=on(a).bent, of=of, t=t, rules=rules, when=when),
    )
    yield (
        "skin.mouth",
        (q,),
        lambda a: partial(
            skin_mouth, q=on(a).q, width=box.slot, of=of, t=t, rules=rules, when=when
        ),
    )
    yield (
        "skin.bear",
        (q,),
        lambda a: partial(skin_bear, q=on(a).q, bar=box.bar, of=of, rules=rules, when=when),
    )
    yield (
        "skin.roll",
        (V, q),
        lambda a: partial(skin_roll, V=on(a).V, q=on(a).q, of=of, t=t, rules=rules, when=when),
    )


def _both_ways(bent: MostBent) -> tuple[Floats, ...]:
    """The figures that bending grows with: the two ways of the grain may have factors of their own."""
    along = bent.which % 2 == 0
    return (bent.m * along, bent.n * along, bent.m * ~along, bent.n * ~along)


def _of_groove(box: Box, asked: Most, of: Sheeting, when: When) -> Iterator[_Ruled]:
    """Bending of what a groove has left of the bottom skin."""
    if asked.groove is None or box.thinned is None:
        return
    t, rules = box.thinned.thick, box.rules

    def rule(asks: Asked) -> Rule:
        if asks.groove is None:
            msg = "no groove thins the bottom skin"
            raise ValueError(msg)
        return partial(skin_bend, bent=asks.groove, of=of, t=t, rules=rules, when=when)

    yield "skin.bend@bottom skin, groove", _both_ways(asked.groove), rule


def _of_core(box: Box, asked: Most, sheets: Sheets, when: When) -> Iterator[_Ruled]:
    both, rules = [of for _, _, of in sheets], box.rules
    if asked.slid is not None:
        glue = (GLUE, GLUE_SOURCE)

        def by_glue(asks: Asked) -> Rule:
            if asks.slid is None:
                msg = "nothing ties the skins"
                raise ValueError(msg)
            return partial(
                glue_shear, slid=asks.slid, skins=both, glue=glue, rules=rules, when=when
            )

        yield "glue.shear", (asked.slid.timber.value, asked.slid.glue.value), by_glue
    yield (
        "glue.peel",
        (asked.parted,),
        lambda a: partial(glue_peel, parted=a.parted, skins=both, rules=rules, when=when),
    )
    yield (
        "core.comp",
        (asked.pressed,),
        lambda a: partial(core_comp, pressed=a.pressed, rules=rules, when=when),
    )


def _patches(box: Box, sheets: Sheets) -> Iterator[Check]:
    """One thing, and the accident, each on a foot amid the widest hollow of the top skin: what asks most there."""
    name, skin, of = sheets[0]
    for situation in ("strength", "accident"):
        found = [
            (partial(skin_patch, patch=patch, of=of, t=skin.thick, rules=box.rules, when=when), who)
            for when, patch, who in _standing(box, situation)
        ]
        if not found:
            continue
        rule, who = max(found, key=lambda each: ratio(each[0](Working(keep=False))))
        w = Working(keep=box.keep)
        row = made(
            f"skin.patch@{name} skin",
            rule(w),
            unit="MPa",
            case=f"{situation}: {who}",
            steps=w.steps,
            answering=box.answering,
        )
        yield leaned(row) if situation == "accident" else row


def _standing(box: Box, situation: Situation) -> Iterator[tuple[When, Patch, str]]:
    """What presses on one foot in a situation: the heaviest single thing, contents with feet, or the accident."""

    def on_foot(atom: Atom) -> tuple[When, Patch, str]:
        factor = max(c.factor(atom.kind) for c in box.combinations if c.situation == situation)
        force = factor * atom.force / len(atom.on)
        patch = Patch(force, _area(atom.on[0]), box.span, LONG * box.span)
        return When(situation, box.stays), patch, atom.name

    kind: Kind = "single" if situation == "strength" else "accident"
    alone = [atom for atom in box.acting.atoms if atom.kind == kind]
    if alone:
        yield on_foot(max(alone, key=lambda atom: atom.force))
    if situation == "strength":
        things = [a for a in box.acting.atoms if a.kind == "live" and a.tile is None]
        yield from (on_foot(a) for a in things if a.feet)
        yield from (_all_of(box, a) for a in things)


def _all_of(box: Box, atom: Atom) -> tuple[When, Patch, str]:
    """A thing on one hollow, with as much of it as that holds; its feet as one, over all that they stand round."""
    factor = max(c.factor("live") for c in box.combinations if c.situation == "strength")
    spots = np.array([point for ring in atom.on for point in ring])
    turn = plane.unit(plane.sub(atom.on[0][1], atom.on[0][0]))
    sides = np.ptp(spots @ np.array([turn, (-turn[1], turn[0])]).T, axis=0)
    hollow = np.array([box.span, LONG * box.span])
    on_it = max(float(np.minimum(sides, way).prod()) for way in (hollow, hollow[::-1]))
    force = factor * atom.force * on_it / float(sides.prod())
    patch = Patch(force, on_it, box.span, LONG * box.span)
    return When("strength", box.stays), patch, atom.name


def _area(plan: Sequence[tuple[float, float]]) -> float:
    x, y = np.asarray(plan).T
    return abs(float(x @ np.roll(y, -1) - y @ np.roll(x, -1))) / 2


def bows(reads: Sequence[Read]) -> Floats:
    """Return how much the drop of every place weighs in each bow of the front between two neighbouring rods.

    Off the line through the front at both rods, as `skin_checks.bays` has it.

    Args:
        reads: places along the front.

    Returns:
        (bows, places).
    """
    made = []
    for leg in dict.fromkeys(read.leg for read in reads):
        mine = [k for k, read in enumerate(reads) if read.leg == leg]
        rods = [k for k in mine if reads[k].spot.kind == "rod"]
        for a, b in pairwise(rods):
            for k in mine:
                if reads[a].along < reads[k].along < reads[b].along and k not in rods:
                    row = np.zeros(len(reads))
                    row[[k, a, b]] = off_line(reads[k].along, reads[a].along, reads[b].along)
                    made.append(row)
    return np.array(made).reshape(-1, len(reads))


def _wave(box: Box, search: Search) -> Iterator[Check]:
    """The front's greatest bow between two rods under contents that stand there, of all level cases in service."""
    ways: list[Way] = []
    for case in search.cases.values():
        plain = case.combination.situation == "service" and not case.combination.single
        if plain and case.combination.live and case.pattern.proud is None:
            for bay in _bays(box, case):
                rule = partial(sag_wave, bay=bay)
                ways.append(Way(case, rule, ratio(rule(Working(keep=False)))))
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
    worst = max(ways, key=lambda way: way.ratio)
    w = Working(keep=box.keep)
    unit = "mm" if name == "sag.wave" else "MPa"
    found = worst.rule(w)
    return made(
        name, found, unit=unit, case=named(worst.case), steps=w.steps, answering=box.answering
    )
