"""A first look at a shelf: on a coarse mesh, under few of its loads, so that it is there at once."""

from __future__ import annotations

from collections.abc import Iterator

from ledgewright.core import mass
from ledgewright.memo import Memo
from ledgewright.statics import one_rod
from ledgewright.statics.given import Given
from ledgewright.statics.model import CannotSay, Holds, State
from ledgewright.statics.on_section import Shelf, judge, ready
from ledgewright.statics.patterns import Pattern, Try, kind_of, standing
from ledgewright.statics.scout import POINTS
from ledgewright.statics.stand import Stood

SURE = 1.05
"""A row that comes to so much is too much by the full look too: mesh and contact points come to 2 %."""
NOT_ALL = CannotSay(one_rod.MODEL, "a first look: not every load has been tried, nor the box")


def first_look(given: Given, stood: Stood, memo: Memo) -> Holds:
    """Return what can be said of a shelf at once: rods and wood that are too much for sure, and about how far it drops.

    docs/statics.md, "A first look". More loads, and the box, can only ask more: it fails or cannot say, never passes.

    Args:
        given: the shelf, with its core.
        stood: on its section model, best on a coarse mesh.
        memo: kept by the caller, for what a shape alone decides.

    Returns:
        The rows that fail for sure, worst first; drops, rather too small (mm).
    """
    shelf = ready(given, stood, memo, keep=False, box=False, points=POINTS)
    if isinstance(shelf, tuple):
        weight = mass(spec=given.spec, frame=given.frame, core=given.core)
        return Holds("cannot say", (), None, (), None, shelf, None, weight)
    few = [(each.combination, each.pattern) for each in _few(shelf)]
    found = judge(shelf, among=few, asked=("rods", "members"))
    failed = (r for r in found.rows if r.state == "fails" and r.ratio > SURE and not r.information)
    over = tuple(sorted(failed, key=lambda row: -row.ratio))
    verdict: State = "fails" if over else "cannot say"
    return Holds(
        verdict, over, found.drop, (), None, (NOT_ALL,), one_rod.governs(over), shelf.weight
    )


def _few(shelf: Shelf) -> Iterator[Try]:
    """All contents, and with them the one thing or the accident at each end and in each bay's middle."""
    acting = shelf.acting
    for each in shelf.rules.combinations:
        kind = kind_of(each)
        if kind is None:
            yield Try(each, Pattern("", acting.of("dead", "live")))
        elif each.situation != "service":
            yield from (Try(each, pattern) for pattern in standing(acting, kind))
