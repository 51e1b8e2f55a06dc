"""Cuts as a tree, and what comes of it on the sheet: pieces, numbered cuts, offcuts."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from ledgewright.shop.nest.grid import mm
from ledgewright.shop.nest.model import Axis, Cut, Layout, Offcut, Piece, Placed, Sheet

SAME = 0.02
"""Sizes that differ by less are the same, and nothing is sawn off for it (mm)."""


@dataclass(frozen=True)
class Leaf:
    """A panel that is not cut through any more: one piece as it lies, or nothing. Sizes in steps, with one kerf."""

    length: int
    width: int
    piece: Piece | None
    lies: tuple[int, int] = (0, 0)


@dataclass(frozen=True)
class Split:
    """A panel cut in two: "across" at a distance along its length, "along" at one across its width (steps)."""

    length: int
    width: int
    axis: Axis
    at: int
    near: Node
    far: Node


Node = Leaf | Split


def close_up(node: Node) -> Node | None:
    """Return the tree without empty panels, each panel just as large as what is in it; None if nothing is.

    Panels side by side are put in order of size, so that a setting of the fence serves as often as it can.

    Args:
        node: any tree of cuts.
    """
    if isinstance(node, Leaf):
        return (
            None if node.piece is None else replace(node, length=node.lies[0], width=node.lies[1])
        )
    beside = [closed for part in _beside(node, node.axis) if (closed := close_up(part))]
    beside = [part for each in beside for part in _beside(each, node.axis)]
    if not beside:
        return None
    across = node.axis == "across"
    beside.sort(key=lambda part: (-(part.length if across else part.width), _names(part)))
    made = beside.pop()
    while beside:
        near = beside.pop()
        l, w = (
            (near.length + made.length, max(near.width, made.width))
            if across
            else (max(near.length, made.length), near.width + made.width)
        )
        made = Split(l, w, node.axis, near.length if across else near.width, near, made)
    return made


def _beside(node: Node, axis: Axis) -> Iterator[Node]:
    """Panels side by side that cuts of one direction make."""
    if isinstance(node, Split) and node.axis == axis:
        yield from _beside(node.near, axis)
        yield from _beside(node.far, axis)
    else:
        yield node


def _names(node: Node) -> tuple[str, ...]:
    if isinstance(node, Leaf):
        return (node.piece.name if node.piece else "",)
    return (*_names(node.near), *_names(node.far))


@dataclass(frozen=True)
class _Panel:
    """A panel on the bench: its number, corner and size (mm)."""

    number: int
    x: float
    y: float
    length: float
    width: float


@dataclass
class _Bench:
    """What has been cut so far."""

    kerf: float
    cuts: list[Cut] = field(default_factory=list)
    placed: list[Placed] = field(default_factory=list)
    offcuts: list[Offcut] = field(default_factory=list)
    panels: int = 0

    def saw(
        self, panel: _Panel, axis: Axis, size: float, why: str = "part"
    ) -> tuple[_Panel, _Panel | None]:
        """Cut a panel so that its near part has a size; what is left, if the saw leaves anything."""
        across = axis == "across"
        whole = panel.length if across else panel.width
        rest = whole - size - self.kerf
        near = _Panel(
            self._number(),
            panel.x,
            panel.y,
            size if across else panel.length,
            panel.width if across else size,
        )
        far = None
        if rest > SAME:
            step = size + self.kerf
            far = _Panel(
                self._number(),
                panel.x + (step if across else 0.0),
                panel.y + (0.0 if across else step),
                rest if across else panel.length,
                panel.width if across else rest,
            )
        begin, run = (panel.y, panel.width) if across else (panel.x, panel.length)
        at = (panel.x if across else panel.y) + size
        self.cuts.append(
            Cut(
                number=len(self.cuts) + 1,
                panel=panel.number,
                axis=axis,
                setting=size,
                at=at,
                start=begin,
                end=begin + run,
                makes=(near.number, far.number if far else None),
                why="rest" if why == "rest" else "part",
            )
        )
        return near, far

    def trim(self, panel: _Panel, axis: Axis, margin: float) -> _Panel:
        """Take a factory edge off: the fence stands on the far edge, and what is kept lies against it."""
        across = axis == "across"
        kept = _Panel(
            self._number(),
            panel.x + (margin if across else 0.0),
            panel.y + (0.0 if across else margin),
            panel.length - (margin if across else 0.0),
            panel.width - (0.0 if across else margin),
        )
        begin, run = (panel.y, panel.width) if across else (panel.x, panel.length)
        self.cuts.append(
            Cut(
                number=len(self.cuts) + 1,
                panel=panel.number,
                axis=axis,
                setting=kept.length if across else kept.width,
                at=margin - self.kerf,
                start=begin,
                end=begin + run,
                makes=(kept.number, None),
                why="trim",
            )
        )
        return kept

    def keep(self, panel: _Panel | None) -> None:
        """Set what is left aside."""
        if panel is not None:
            self.offcuts.append(Offcut(panel.x, panel.y, panel.length, panel.width, panel.number))

    def _number(self) -> int:
        self.panels += 1
        return self.panels


def lay(tree: Node | None, sheet: Sheet, *, kerf: float = 0.0, trim: float = 0.0) -> Layout:
    """Return a tree of cuts as pieces and numbered cuts on the sheet.

    Two factory edges are taken off first; everything is measured from the sawn edges, and the other two fall off
    with what is left. Cuts of one direction follow one another before their strips are turned.

    Args:
        tree: of a sheet smaller by the trim on all four edges; None if nothing is cut from it.
        sheet: whole.
        kerf: what the saw eats (mm).
        trim: taken off every edge (mm).
    """
    bench = _Bench(kerf)
    panel = _Panel(0, 0.0, 0.0, sheet.length, sheet.width)
    if trim > SAME:
        panel = bench.trim(panel, "along", trim)
        panel = bench.trim(panel, "across", trim)
    waiting: deque[tuple[_Panel, Node]] = deque()
    closed = None if tree is None else close_up(tree)
    if closed is None:
        bench.keep(panel)
    else:
        waiting.append((panel, closed))
    while waiting:
        _take_apart(bench, waiting)
    offcuts = tuple(sorted(bench.offcuts, key=lambda o: (-o.area, o.x, o.y)))
    return Layout(sheet, tuple(bench.placed), tuple(bench.cuts), offcuts)


def _take_apart(bench: _Bench, waiting: deque[tuple[_Panel, Node]]) -> None:
    panel, node = waiting.popleft()
    if isinstance(node, Leaf):
        _cut_out(bench, panel, node)
        return
    # What is over goes in one piece, the larger way first, before the rest is cut up into many.
    for axis in _over_first(panel, mm(node.length) - bench.kerf, mm(node.width) - bench.kerf):
        have, need = (
            (panel.length, mm(node.length)) if axis == "across" else (panel.width, mm(node.width))
        )
        if have > need - bench.kerf + SAME:
            panel, rest = bench.saw(panel, axis, need - bench.kerf, "rest")
            bench.keep(rest)
    here: Node = node
    while isinstance(here, Split) and here.axis == node.axis:
        near, far = bench.saw(panel, here.axis, mm(here.at) - bench.kerf)
        waiting.append((near, here.near))
        if far is None:
            msg = "a cut leaves nothing of a panel that a piece is in"
            raise AssertionError(msg)
        panel, here = far, here.far
    waiting.append((panel, here))


def _cut_out(bench: _Bench, panel: _Panel, leaf: Leaf) -> None:
    """Cut a piece out of its panel."""
    if leaf.piece is None:
        bench.keep(panel)
        return
    turned = leaf.piece.turns and not _lies_straight(leaf, bench.kerf)
    size = (leaf.piece.length, leaf.piece.width)
    l, w = size[::-1] if turned else size
    for axis in _over_first(panel, l, w):
        have, want = (panel.length, l) if axis == "across" else (panel.width, w)
        if have > want + SAME:
            panel, rest = bench.saw(panel, axis, want)
            bench.keep(rest)
    bench.placed.append(
        Placed(leaf.piece.name, panel.x, panel.y, l, w, int(turned), leaf.piece.notch, panel.number)
    )


def _over_first(panel: _Panel, length: float, width: float) -> tuple[Axis, Axis]:
    """Which way to cut off what is over: the cut that leaves the larger offcut comes first."""
    by_length = (panel.length - length) * panel.width
    by_width = (panel.width - width) * panel.length
    return ("across", "along") if by_length >= by_width else ("along", "across")


def _lies_straight(leaf: Leaf, kerf: float) -> bool:
    piece = leaf.piece
    if piece is None:
        return True
    return (
        abs(mm(leaf.lies[0]) - kerf - piece.length) < 2 / 1000
        and abs(mm(leaf.lies[1]) - kerf - piece.width) < 2 / 1000
    )
