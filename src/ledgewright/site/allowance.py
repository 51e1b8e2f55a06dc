"""What a load test allows: so much evenly on every length, one thing, in all."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ledgewright import statics
from ledgewright.judge import Design
from ledgewright.statics import Pile, Stands
from ledgewright.statics.loads import CONTENTS, PATCH

SAME = statics.FOOTPRINT
"""Weights whose middles stand nearer than what one of them stands on count as one thing (mm)."""


def allows(
    design: Design, piles: Sequence[Pile], before: Sequence[Sequence[Pile]] = ()
) -> tuple[float, float, float]:
    """Return what a test of so much allows, divided by 1.25: on every length (N/mm), one thing, in all (kg).

    Design page on statics, section 3; docs/on-site.md.

    The one thing is the heaviest weights of one place, the rest counts as even over the legs, the leg with least on its
    length first; along a leg what some rod gets of it by the lever rule, the one with least of what an even load would
    give it. Of weights in one place those are left to the even load that it wants more, beside the job's own contents
    and one thing. A weight nearer to the wall than what the limit speaks of turns the rods less, and counts by its
    lever. What the one thing lifts off a rod does not count there, but what that rod bore at a step before.

    Args:
        design: the shelf.
        piles: what stood on it when most did.
        before: what stood on it at other steps, at which it was read at every rod.
    """
    if not piles:
        return 0.0, 0.0, 0.0
    wanted = (statics.most_even(design), design.demand.single)
    told = [
        (_as_even(design, spot, rest, before), _as_one(design, spot))
        for spot, rest in _splits(design, piles)
    ]
    times = statics.MOST

    def covers(each: tuple[float, float]) -> tuple[float, float, float]:
        shares = [
            min(1.0, a / times / b) if b > 0 else 1.0 for a, b in zip(each, wanted, strict=True)
        ]
        return (min(shares), *each)

    even, single = max(told, key=covers)
    total = sum(p.mass * _counts(design, p, CONTENTS) for p in piles)
    return even / times, single / times, total / times


def lifted(design: Design, piles: Sequence[Pile], before: Sequence[Sequence[Pile]]) -> bool:
    """Say whether a test allows less because the one thing lifted a rod that was not read without it.

    Args: as of `allows`.
    """
    rests = [rest for _, rest in _splits(design, piles)]
    shown, _, _ = allows(design, piles, before)
    could, _, _ = allows(design, piles, [*before, *rests])
    return could > shown * (1 + 1e-6)


def _splits(
    design: Design, piles: Sequence[Pile]
) -> Iterator[tuple[Sequence[Pile], Sequence[Pile]]]:
    """What may have been the one thing, the heaviest weights of one place, and all the others."""
    for one in piles:
        near = [p for p in piles if _one_place(p, one)]
        near.sort(key=lambda p: -p.mass * _counts(design, p, PATCH))
        for count in range(1, len(near) + 1):
            spot = near[:count]
            yield spot, [p for p in piles if all(p is not each for each in spot)]


def _as_one(design: Design, spot: Sequence[Pile]) -> float:
    return sum(p.mass * _counts(design, p, PATCH) for p in spot)


def _as_even(
    design: Design, spot: Sequence[Pile], rest: Sequence[Pile], before: Sequence[Sequence[Pile]]
) -> float:
    whole = Stands(tuple(rest), tuple(spot))
    steps = [_parted(step, spot) for step in before]
    return min(statics.even_of(design, leg, whole, steps) for leg in design.frame.legs)


def _parted(step: Sequence[Pile], spot: Sequence[Pile]) -> Stands:
    """What stood at another step, as contents and where the one thing stands in the end."""
    one = [any(_one_place(pile, each) for each in spot) for pile in step]
    return Stands(
        tuple(p for p, there in zip(step, one, strict=True) if not there),
        tuple(p for p, there in zip(step, one, strict=True) if there),
    )


def _one_place(put: Pile, other: Pile) -> bool:
    return put.wall == other.wall and abs(put.along - other.along) < SAME


def _counts(design: Design, put: Pile, deep: float) -> float:
    """What share of itself a weight counts for; nothing on a wall that the shelf is not on."""
    depth = next((leg.depth for leg in design.frame.legs if leg.wall == put.wall), None)
    return 0.0 if depth is None else statics.counts(put.out, depth, deep)
