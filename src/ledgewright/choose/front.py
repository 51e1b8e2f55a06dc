"""Which designs no other beats, and what they are called."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from ledgewright.choose.model import Figures, Tag, Tried

DROP, MASS, HOURS = 0.1, 0.25, 0.25
"""Steps in which drops (mm), masses (kg) and hours are compared: finer, nobody could tell them apart (our choice)."""

Rank = tuple[float, ...]
_DROP = 1
"""Which of a rank is the drop."""


def rank(figures: Figures) -> Rank:
    """Return what designs are compared by, less being better: price, long-term drop, mass and hours in steps.

    Args:
        figures: of the design; a price that is not known counts as nothing, so that it decides nothing where no
            design has one.
    """
    return (
        figures.price or 0.0,
        math.ceil(figures.drop_long / DROP - 1e-9),
        math.ceil(figures.mass / MASS - 1e-9),
        math.ceil(figures.hours / HOURS - 1e-9),
    )


@dataclass(frozen=True)
class Held:
    """What a design is held against others by: its figures, and how many changes make it."""

    figures: Figures
    changes: int


def fine(tried: Tried) -> Rank:
    """Return what decides between designs that are equal in all steps: the figures themselves, then fewer changes.

    Args:
        tried: a design with figures.
    """
    return _fine(held(tried))


def held(tried: Tried) -> Held:
    """Return what a design with figures is held against others by."""
    return Held(_figures(tried), len(tried.changes))


def _fine(one: Held) -> Rank:
    f = one.figures
    return (f.price or 0.0, f.drop_long, f.mass, f.hours, float(f.holes), float(one.changes))


def _figures(tried: Tried) -> Figures:
    if tried.figures is None:
        msg = "a design without figures cannot be compared"
        raise ValueError(msg)
    return tried.figures


def beats(a: Tried, b: Tried) -> bool:
    """Say whether a design is nowhere worse than another and better somewhere.

    Args:
        a: a design with figures.
        b: another one. Equal ones in all steps are told apart by `fine`.
    """
    return _beats(held(a), held(b))


def _beats(a: Held, b: Held) -> bool:
    one, other = rank(a.figures), rank(b.figures)
    if one == other:
        return _fine(a) < _fine(b)
    return all(x <= y for x, y in zip(one, other, strict=True))


def beaten_at_least(least: Held, by: Sequence[Held]) -> bool:
    """Say whether a design is beaten whatever its checks say, and however much further than known it drops.

    Less is better in every figure, and `beats` goes from one to the next: what beats a design at the least it can drop
    beats it, and whatever that design would beat.

    Args:
        least: the design, its drops at or under what they are; all else as it is.
        by: designs that pass.
    """
    priced = least.figures.price is not None
    return any(_beats(one, least) for one in by if (one.figures.price is not None) == priced)


def unbeaten(tried: Sequence[Tried]) -> tuple[Tried, ...]:
    """Return the passing designs that no other passing design beats, the cheapest first, then the stiffest.

    Where some have a price, those without one cannot be compared and are left out. Of designs that are equal to the
    last figure the first is kept.

    Args:
        tried: designs in the order they were looked at.
    """
    passing = [each for each in tried if each.state == "passes" and each.figures is not None]
    if any(_figures(each).price is not None for each in passing):
        passing = [each for each in passing if _figures(each).price is not None]
    kept: list[Tried] = []
    for each in passing:
        if any(beats(other, each) or fine(other) == fine(each) for other in kept):
            continue
        kept = [other for other in kept if not beats(each, other)]
        kept.append(each)
    return tuple(sorted(kept, key=fine))


def left_out(tried: Sequence[Tried]) -> tuple[Tried, ...]:
    """Return the passing designs that `unbeaten` leaves out for want of a price, where others have one.

    Args:
        tried: designs in the order they were looked at.
    """
    passing = [each for each in tried if each.state == "passes" and each.figures is not None]
    without = [each for each in passing if _figures(each).price is None]
    return tuple(without) if len(without) < len(passing) else ()


def tagged(front: Sequence[Tried], beside: Sequence[Tried] = ()) -> tuple[tuple[Tag, ...], ...]:
    """Return the names of each of the unbeaten designs: cheapest, stiffest, least drilling, balanced.

    Balanced is the one nearest to the best of everything at once, each figure counted from its best to its worst among
    the unbeaten (our choice). None is called stiffest, or least drilling, where one beside them drops less by a step or
    has fewer holes.

    Args:
        front: the unbeaten, each with figures.
        beside: designs that pass and are not compared, each with figures, as `left_out` has them.
    """
    if not front:
        return ()
    figures = [each.figures for each in front if each.figures is not None]
    ranks = [rank(each) for each in figures]
    least: dict[Tag, int] = {}
    count = range(len(front))
    if any(each.price is not None for each in figures):
        least["cheapest"] = min(count, key=lambda i: (figures[i].price or 0.0, i))
    others = [_figures(each) for each in beside]
    stiffest = min(count, key=lambda i: (figures[i].drop_long, i))
    if all(ranks[stiffest][_DROP] <= rank(each)[_DROP] for each in others):
        least["stiffest"] = stiffest
    fewest = min(count, key=lambda i: (figures[i].holes, i))
    if all(figures[fewest].holes <= each.holes for each in others):
        least["least drilling"] = fewest
    least["balanced"] = min(count, key=lambda i: (_far(ranks[i], ranks), i))
    return tuple(tuple(tag for tag, i in least.items() if i == k) for k in count)


def _far(one: Rank, ranks: Sequence[Rank]) -> float:
    """How far a design is from the best of everything at once."""
    far = 0.0
    for k, value in enumerate(one):
        low, high = min(r[k] for r in ranks), max(r[k] for r in ranks)
        far += ((value - low) / (high - low)) ** 2 if high > low else 0.0
    return far
