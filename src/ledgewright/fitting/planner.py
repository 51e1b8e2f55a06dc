"""Ways to bring a rigid section home past rods, walls and obstacles, the best first."""

from __future__ import annotations

from math import inf
from typing import Final

from shapely.geometry import Polygon

from ledgewright import plane
from ledgewright.fitting import classic, search, tilt
from ledgewright.fitting.classic import Plan
from ledgewright.fitting.model import Block, Loss, Way, Ways
from ledgewright.fitting.setting import Setting, setting
from ledgewright.fitting.trial import SKEW, tried
from ledgewright.layout import Frame
from ledgewright.survey import Room

WORTH = 0.1
"""A planned way must save this share of the channel area of the best classic one to be offered beside it:
a familiar way that costs a few per cent more is the better way (our choice)."""

LEAST_MOVE = 25.4 / 16
"""A shorter move of a planned way is left out where it goes without it (mm): 1/16 in, what a tape is read to."""

Rank = tuple[bool, bool, bool, bool, bool, float, float, str]
AREA: Final = 5
"""Where in a rank the area stands: before it what counts more than any area."""


def ways(room: Room, frame: Frame, *, edging: float = 0.0, max_span: float | None = None) -> Ways:
    """Return the ways of getting a section home, tried against walls, obstacles and its own edges.

    The classic ones; the best that a search over up to three straight moves finds (`search`), if no
    classic one goes or it is better; and where neither goes into an alcove, a turn in the plan (`tilt`).
    Ranked: those that fit, which includes that no slot breaks out of the section; those whose channels are
    no wider than the skins may span; those that the rods guide before those held by eye; those that
    start on `frame.first`, as the rods are set for it; those for which no joint is eased; the least area cut for rods;
    the least room; then by id.

    Args:
        room: the room as found.
        frame: the section at home, along one wall or round one corner.
        edging: thickness of the edging (mm), so that thin wood behind it can be told.
        max_span: the widest hollow a skin may bridge (mm); None if it does not count.

    Returns:
        Every way looked at, best first; `chosen` is None if none goes. A section with more than two legs is
        one way that is not possible, and says so.
    """
    refusal = _beyond(frame)
    if refusal is not None:
        return Ways((refusal,), None)
    here = setting(room, frame, edging)
    known = classic.plans(here)
    found = [tried(here, plan) for plan in known]
    best = min(rank(here, way, max_span) for way in found)
    searched = search.look(here, known, max_span)
    better = _planned(here, searched, best, max_span)
    found += [better] if better else []
    if not any(way.possible for way in found):
        found += [tried(here, plan) for plan in tilt.plans(here)]
    ranked = sorted(found, key=lambda way: rank(here, way, max_span))
    return Ways(tuple(ranked), ranked[0].id if ranked[0].possible else None, searched.count)


def rank(here: Setting, way: Way, max_span: float | None) -> Rank:
    """Return what ways are sorted by, the best first."""
    wide = round(Polygon(way.room_needed).area, 3) if way.room_needed else 0.0
    return (
        not way.possible,
        max_span is not None and way.loss.widest > max_span,
        not way.guided,
        way.guided and _starts_on(here, way) not in (None, here.frame.first),
        bool(way.eased),
        round(way.loss.channel_area, 3),
        wide,
        way.id,
    )


def _planned(
    here: Setting, searched: search.Searched, best: Rank, max_span: float | None
) -> Way | None:
    """The best way found by the search, if it is worth showing beside the best classic one."""
    most = (
        inf
        if best[0]
        else best[AREA] * (1 - WORTH)
        + sum(grade * worse for grade, worse in zip(search.GRADES, best[1:4], strict=True))
    )
    for plan, cost in zip(searched.plans, searched.costs, strict=True):
        if cost >= most:
            return None
        way = without_short_moves(here, plan, max_span)
        key = rank(here, way, max_span)
        if way.possible and (key[:4] < best[:4] or key[AREA] < best[AREA] * (1 - WORTH)):
            return way
    return None


def without_short_moves(here: Setting, plan: Plan, max_span: float | None) -> Way:
    """Return a path tried without the stops at which a short move begins or ends, where it goes as well without them.

    Each shorter path is tried anew as a whole, against all that any way is tried against. It still begins where it
    began and ends at home.

    Args:
        here: the section in its room.
        plan: a path of straight moves.
        max_span: the widest hollow a skin may bridge (mm); None if it does not count.
    """
    way = tried(here, plan)
    for stop in _beside_short(way):
        fewer = search.planned(here, plan.stops[:stop] + plan.stops[stop + 1 :])
        shorter = without_short_moves(here, fewer, max_span)
        if rank(here, shorter, max_span)[:AREA] <= rank(here, way, max_span)[:AREA]:
            return shorter
    return way


def _beside_short(way: Way) -> list[int]:
    sizes = [plane.length((m.dx, m.dy)) for m in way.moves]
    return [k for k in range(1, len(sizes)) if min(sizes[k - 1], sizes[k]) < LEAST_MOVE]


def _starts_on(here: Setting, way: Way) -> str | None:
    """The wall along whose rods the first move goes; None if along no wall's."""
    step = (way.moves[0].dx, way.moves[0].dy)
    aims = [
        (abs(plane.cross(here.into(leg.wall), step)), leg.wall)
        for leg in here.frame.legs
        if plane.dot(here.into(leg.wall), step) > 0
    ]
    near = min(aims, default=None)
    return near[1] if near and near[0] <= SKEW * plane.length(step) else None


def _beyond(frame: Frame) -> Way | None:
    """Return the refusal of a section that this planner does not know."""
    if len(frame.legs) < 3:
        return None
    block = Block(
        by="more than two legs in one section is not worked out: make it in sections",
        move=0,
        short_by=0.0,
    )
    return Way("straight", "straight", False, (), 0.0, (), (), Loss(0.0, 0.0), (block,))
