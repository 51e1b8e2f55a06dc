"""What is cut out of what, and how it came out: pieces, sheets, layouts, proofs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

Rule = Literal["straight cuts", "free"]
Stop = Callable[[], bool]
"""Asked now and then by a search; once it says yes, the best found so far is the answer."""
Axis = Literal["across", "along"]
STOPPED = "stopped by hand; "
"""Stands before what a proof rests on where a search was not let go to its end."""
ENOUGH = 1e-6
"""Lengths this near each other are the same (mm), and so are costs."""


def never() -> bool:
    """Return that nobody wants a search to stop."""
    return False


@dataclass(frozen=True)
class Piece:
    """A rectangle wanted: length along the sheet's length and width (mm), how many (None: any number).

    turns: whether it may lie a quarter turn round, which a grain forbids. value: what one is worth when not all
    can be had, its area if None. notch: length and width cut out of its far corner, which makes an L; where the
    length is written below 0, of the corner near along and far across, which makes an L of the other hand. Only free
    placements use the notch of another piece.
    """

    name: str
    length: float
    width: float
    count: int | None = 1
    turns: bool = False
    value: float | None = None
    notch: tuple[float, float] | None = None

    @property
    def worth(self) -> float:
        """Value of one; its area unless it has a value of its own."""
        return self.length * self.width if self.value is None else self.value

    def fits(self, sheet: Sheet, trim: float = 0.0) -> bool:
        """Return whether it lies on a sheet by its outer rectangle, once so much is trimmed off every edge (mm)."""
        sizes = [(self.length, self.width), *([(self.width, self.length)] if self.turns else [])]
        long, wide = sheet.length - 2 * trim + ENOUGH, sheet.width - 2 * trim + ENOUGH
        return any(length <= long and width <= wide for length, width in sizes)


@dataclass(frozen=True)
class Sheet:
    """A sheet or board that can be cut: length along its grain and width (mm), how many there are (None: any
    number), and what one costs in the count that is made small: 1 for sheets, a price or an area otherwise.
    """

    name: str
    length: float
    width: float
    count: int | None = None
    cost: float = 1.0


@dataclass(frozen=True)
class Placed:
    """A piece on its sheet: corner and size as it lies (mm), after the kerf.

    turn: quarter turns against the clock; only an L needs more than one. panel: the panel of the cuts that it is, or
    that holds it where the last saw took off less than counts; None of a free layout.
    """

    name: str
    x: float
    y: float
    length: float
    width: float
    turn: int = 0
    notch: tuple[float, float] | None = None
    panel: int | None = None

    @property
    def boxes(self) -> tuple[tuple[float, float, float, float], ...]:
        """The rectangles it covers, as (x, y, x end, y end): one, or two of an L."""
        x, y = self.x, self.y
        if self.notch is None:
            return ((x, y, x + self.length, y + self.width),)
        l, w = (self.length, self.width) if self.turn % 2 == 0 else (self.width, self.length)
        nl, nw = abs(self.notch[0]), self.notch[1]
        arm = (0.0, w - nw, l - nl, w) if self.notch[0] > 0 else (nl, w - nw, l, w)
        boxes = [(0.0, 0.0, l, w - nw), arm]
        for _ in range(self.turn):
            boxes = [(w - d, a, w - b, c) for a, b, c, d in boxes]
            l, w = w, l
        return tuple((a + x, b + y, c + x, d + y) for a, b, c, d in boxes)


@dataclass(frozen=True)
class Cut:
    """One straight cut right through the panel it is made on.

    panel and the two it makes go by number; 0 is the sheet. axis says which way the saw runs: "along" the
    sheet's length or "across" it. setting: how far the fence stands from the saw, which is the size of what is
    kept against it: the part at the panel's near edge, or of a trim cut the part at its far edge. at: where
    the saw's near side runs on the sheet; start and end: of the cut on the sheet (mm).
    makes: panels made, the one at the fence first; the other is None where nothing is kept of it.
    """

    number: int
    panel: int
    axis: Axis
    setting: float
    at: float
    start: float
    end: float
    makes: tuple[int, int | None]
    why: Literal["trim", "part", "rest"] = "part"

    @property
    def length(self) -> float:
        """How far the saw runs (mm)."""
        return self.end - self.start


@dataclass(frozen=True)
class Offcut:
    """What is left in one rectangle: corner and size (mm); panel: of the cuts that it is, None of a free layout."""

    x: float
    y: float
    length: float
    width: float
    panel: int | None = None

    @property
    def area(self) -> float:
        """In mm2."""
        return self.length * self.width

    def useful(self, least: tuple[float, float]) -> bool:
        """Return whether it is worth keeping, by the shorter and the longer side of the least that is (mm)."""
        sides = sorted((self.length, self.width))
        return sides[0] >= least[0] - ENOUGH and sides[1] >= least[1] - ENOUGH


@dataclass(frozen=True)
class Layout:
    """One sheet cut up: pieces, cuts in order (none of a free layout), what is left, with the largest first."""

    sheet: Sheet
    placed: tuple[Placed, ...]
    cuts: tuple[Cut, ...]
    offcuts: tuple[Offcut, ...]

    def part_of(self, panel: int) -> str | None:
        """Return the name of the piece that a panel of the cuts is, None if it is none.

        Args:
            panel: its number.
        """
        return next((p.name for p in self.placed if p.panel == panel), None)


@dataclass(frozen=True)
class Proof:
    """How good an answer is for its cutting rule.

    found: what was counted (sheets, bars, cost or value), bound: what no answer can beat. how: what gave the bound.
    """

    found: float
    bound: float
    how: str

    @property
    def proven(self) -> bool:
        """Whether nothing better exists."""
        return abs(self.found - self.bound) <= 1e-6 * max(1.0, abs(self.found))

    @property
    def gap(self) -> float:
        """Share of what was found that may still be gained."""
        return 0.0 if self.proven else abs(self.found - self.bound) / max(abs(self.found), 1e-9)


@dataclass(frozen=True)
class Nest:
    """All pieces on sheets by one rule, with its proof; `left` are pieces that no sheet is large enough for."""

    rule: Rule
    layouts: tuple[Layout, ...]
    proof: Proof
    left: tuple[Piece, ...] = ()


@dataclass(frozen=True)
class Bar:
    """A bar or board in one dimension: length (mm), how many there are (None: any number), what one costs."""

    name: str
    length: float
    count: int | None = None
    cost: float = 1.0


@dataclass(frozen=True)
class CutBar:
    """A bar cut up: (name, length) from its near end, and what is left at its far end (mm)."""

    bar: Bar
    pieces: tuple[tuple[str, float], ...]
    rest: float


@dataclass(frozen=True)
class CutBars:
    """All lengths out of bars, with the proof; `left` are lengths that no bar is long enough for."""

    bars: tuple[CutBar, ...]
    proof: Proof
    left: tuple[tuple[str, float], ...] = ()
