"""One shelf at ever other doubtful figures: its drop, and how far every family of rows is taken under a load.

Quick runs look at the patterns that told so far; what these leave out is told by full runs.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from ledgewright.job import Flush
from ledgewright.memo import Memo
from ledgewright.statics.given import Given
from ledgewright.statics.inputs import NOMINAL, Inputs
from ledgewright.statics.limit import Trying, asked_for
from ledgewright.statics.model import Check
from ledgewright.statics.on_section import PARTS, Judged, Part, Shelf, dropped, ready
from ledgewright.statics.patterns import Known, Pattern
from ledgewright.statics.row import PULL
from ledgewright.statics.stand import Stood

NEAR = 0.85
"""Patterns under which the front drops, or a row is taken, nearly as far as can be: looked at again elsewhere."""

FAR = 0.7
"""Rows that stay under so much of the worst one are not made in quick runs."""


@dataclass
class Falling:
    """The drop of a shelf at other figures.

    told: patterns that led to most of it so far. known: of what touched in the first full run.
    """

    given: Given
    stood: Stood
    memo: Memo
    told: dict[bytes, Pattern] = field(default_factory=dict)
    known: Known | None = None

    def full(self, inputs: Inputs) -> tuple[float, float] | None:
        """Return the drop on day one and in ten years (mm), every pattern looked at; None if nothing can be said."""
        shelf = self._at(inputs)
        if shelf is None:
            return None
        judged = dropped(shelf, known=self.known)
        # What lies near is of these figures alone.
        self.known = self.known or replace(judged.known, near=None)
        if judged.drop is not None:
            self.told |= {each.there.tobytes(): each for each in _furthest(judged)}
        return _both(judged)

    def quick(self, inputs: Inputs) -> tuple[float, float] | None:
        """Return the same under the patterns that told so far: never more than `full`."""
        shelf = self._at(inputs)
        if shelf is None:
            return None
        return _both(dropped(shelf, list(self.told.values()), known=self.known))

    def _at(self, inputs: Inputs) -> Shelf | None:
        return _ready(replace(self.given, inputs=inputs), self.stood, self.memo, box=False)


def _ready(given: Given, stood: Stood, memo: Memo, *, box: bool = True) -> Shelf | None:
    shelf = ready(given, stood, memo, keep=False, box=box)
    return None if isinstance(shelf, tuple) else shelf


def _both(judged: Judged) -> tuple[float, float] | None:
    drop = judged.drop
    return None if drop is None else (drop.today.value, drop.long_term.value)


def _furthest(judged: Judged) -> Iterator[Pattern]:
    """The patterns of contents that come near the most."""
    cases = [c for c in judged.cases if c.combination.live and c.pattern.proud is None]
    most = max((float(case.answer.read.max()) for case in cases), default=0.0)
    for case in cases:
        if float(case.answer.read.max()) >= NEAR * most:
            yield case.pattern


@dataclass
class Loading:
    """How far every family of rows is taken under so much on every length, at other figures.

    trying: with what told so far, at the nominal figures. asked: what rows quick runs make.
    """

    given: Given
    stood: Stood
    memo: Memo
    trying: Trying
    asked: tuple[Part, ...] = PARTS

    @classmethod
    def of(
        cls,
        given: Given,
        stood: Stood,
        memo: Memo,
        flush: Flush = "front",
    ) -> Loading | None:
        """Return a shelf under the loads of its limit, where it stops at those; None if nothing can be said of it."""
        asked = replace(given, demand=asked_for(given.demand, flush), inputs=NOMINAL)
        shelf = _ready(asked, stood, memo)
        return None if shelf is None else cls(asked, stood, memo, Trying(shelf, tells=NEAR))

    def full(self, inputs: Inputs, even: float) -> float | None:
        """Return the ratio of the worst row under every pattern; what told is kept."""
        row = self.worst(inputs, even)
        return None if row is None else row.ratio

    def worst(self, inputs: Inputs, even: float) -> Check | None:
        """Return the worst row under every pattern; what told is kept."""
        trying = self._at(inputs)
        if trying is None:
            return None
        row = trying.full(even)
        mine, new = self.trying.known, trying.known
        self.trying.known = Known(
            mine.near or new.near, {**new.like, **mine.like}, {**new.scouted, **mine.scouted}
        )
        return row

    def worst_told(self, inputs: Inputs, even: float) -> Check | None:
        """Return the worst row under the patterns that told so far: never further than `worst`."""
        trying = self._at(inputs)
        rows = () if trying is None else trying.rows(even, self.asked)
        return max(rows, key=lambda row: row.ratio, default=None)

    def quick(self, inputs: Inputs, even: float) -> Mapping[str, float] | None:
        """Return the ratio of the worst row of every family under the patterns that told so far."""
        trying = self._at(inputs)
        return None if trying is None else _by_family(trying.rows(even, self.asked))

    def narrowed(self, places: Sequence[Inputs], even: float) -> Loading:
        """Return the same with quick runs that look at less: patterns and rows that come near the worst somewhere.

        Args:
            places: figures at which to look.
            even: load on every length (N/mm).
        """
        near: set[Part] = set()
        # Drop in ten years is not of the same pattern everywhere: all of service stay, and so do those of pulls.
        keep = {key for key in self.trying.told if key[0] == "service" or key[1].endswith(PULL)}
        for trying in filter(None, map(self._at, places)):
            parts, telling = trying.close(even, FAR)
            near |= parts
            keep |= set(telling)
        told = {key: each for key, each in self.trying.told.items() if key in keep}
        asked = tuple(each for each in PARTS if each in near)
        return replace(self, trying=replace(self.trying, told=told), asked=asked)

    def _at(self, inputs: Inputs) -> Trying | None:
        shelf = _ready(replace(self.given, inputs=inputs), self.stood, self.memo)
        if shelf is None:
            return None
        known = self.trying.known
        near = known.near and shelf.today.about(known.near.first.on)
        return replace(self.trying, shelf=shelf, known=replace(known, near=near), looks=[])


def _by_family(rows: Sequence[Check]) -> dict[str, float]:
    found: dict[str, float] = {}
    for row in rows:
        found[row.family] = max(float(row.ratio), found.get(row.family, 0.0))
    return found
