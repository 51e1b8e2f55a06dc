"""Lay the core of a section: strips round the edge, ribs beside every channel and between, lock blocks."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from dataclasses import field as with_default
from itertools import pairwise

from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from ledgewright.core.field import FAR, Field, Ground, ground, rings
from ledgewright.core.locks import BLOCK, about_locks, locks
from ledgewright.core.model import Core, Flat, Kind, Piece, Span
from ledgewright.core.spans import Place, measure, places
from ledgewright.fitting import Way
from ledgewright.fitting.sweep import SPECK, less, meet, parts, union
from ledgewright.job import Spec
from ledgewright.layout import Frame, Rod

TINY = 25.0
"""A piece whose longer side is under this is not worth cutting (mm): our choice."""

SLIVER = 6.0
"""Wood narrower than this splits off (mm): our choice."""

THINNEST_RIB = 12.0
"""Between two channels nearer than this there is no rib (mm): our choice."""

TOUCH = 0.5
"""Two pieces this near are glued to one another (mm)."""

HAIR = 1e-4
"""A gap between two pieces narrower than twice this is none (mm)."""

WHOLE_BLOCK = 0.8
"""A block that has lost more than the rest of its area does not hold its screw: our choice."""

MOST_ADDED = 24
"""So many ribs are tried besides the regular ones before a span is told as too long: our choice."""


@dataclass
class _Bench:
    """The pieces laid so far; each new one gives way to those and to every channel."""

    at: Ground
    laid: list[tuple[Field, Kind, Polygon]] = with_default(default_factory=list)
    ribs_cut: int = 0
    poor: list[str] = with_default(default_factory=list)

    def lay(self, field: Field, kind: Kind, wanted: BaseGeometry) -> list[Polygon]:
        """Lay what is left of a piece once it has given way; return it."""
        kept = self.fit(field, wanted)
        self.laid += [(field, kind, p) for p in kept]
        return kept

    def fit(self, field: Field, wanted: BaseGeometry) -> list[Polygon]:
        """Return what would be left of a piece, without laying it."""
        within = meet(wanted, self.at.standing)
        beside = [p for _, _, p in self.laid if p.intersects(within)]
        free = less(within, union(beside)) if beside else within
        return [p for part in parts(_cleared(free, self.at.no_wood)) for p in _sound(field, part)]


def core(spec: Spec, frame: Frame, way: Way | None, filed: Sequence[Flat] | None = None) -> Core:
    """Return what stands between the skins of a section, clear of every channel.

    Strips run round the edge: the front and free ends in behind the edging, of an end out of square along its own
    line, the back in behind all that scribing may take (common practice), so that only skins are scribed. A rib stands
    flush on either side of every channel, and more between so that along the leg no skin runs further than
    `spec.core.max_span`. What a channel or a cable way crosses is cut; bits under 25 mm are left out. Where a skin
    still runs too far, as beside slanted channels and in the corner of an L, ribs are added in what is left free, each
    joined to other wood, until none does or none helps.

    Args:
        spec: the shelf as asked for.
        frame: the section at home.
        way: how it goes on; None lays the core round the bare slots.
        filed: the flats that rods which are set have for their grub screws; None where no rod is set yet.

    Returns:
        The core; `short` is empty if every span is within the limit, no front or end strip is broken, and locks
        and cables are clear. Limits: straight legs and one corner, inside or outside; a light groove takes wood away
        only if it is deeper than the bottom skin.
    """
    at = ground(spec, frame, way)
    bench = _Bench(at)
    _strips(bench)
    for each in (at.through, *at.others):
        _ribs(bench, each)
    _in_corner(bench)
    pieces, found = _shortened(bench)
    spans = measure(found)
    held = locks(at, filed)
    longest = max((s.length for s in spans), default=0.0)
    return Core(
        pieces=pieces,
        hollows=_hollows(at, pieces),
        spans=spans,
        longest_span=longest,
        glue_area=2 * sum(Polygon(p.plan).area for p in pieces),
        ribs_cut=bench.ribs_cut,
        short=(
            *_too_long(spec, spans),
            *_broken(bench),
            *bench.poor,
            *about_locks(frame, held),
            *_about_keep_outs(at),
        ),
        keep_outs=at.keep_outs,
        locks=held,
    )


def _strips(bench: _Bench) -> None:
    at, lead = bench.at, bench.at.through
    outside = at.frame.turn == "outside"
    # The strips that turn the whole corner go first; the others run from one of them to the other.
    for back in (not outside, outside):
        for f in (lead, *at.others):
            t = (f.rail - f.strip, f.rail) if back else (f.edge, f.edge + f.strip)
            strip = f.box((-FAR, FAR), t)
            turns = back != outside
            bench.lay(
                f,
                "back strip" if back else "front strip",
                strip if turns else meet(strip, at.domain(f)),
            )
    for f in (lead, *at.others):
        for end in _end_strips(at, f):
            bench.lay(f, "end strip", end)


def _end_strips(at: Ground, f: Field) -> list[Polygon]:
    low, high = _reached(at, f)
    left = [_end_strip(f, low, f.leans[0], 1.0)] if low > -FAR else []
    right = [_end_strip(f, high, f.leans[1], -1.0)] if high < FAR else []
    return left + right


def _end_strip(f: Field, place: float, lean: float, way: float) -> Polygon:
    """The strip at an end, from the furthest that there is wood between the strips.

    A plain strip that loses what an end takes that leans; along one that would take half of it, as wide all along.
    """
    near, far = f.inner
    slant, inside = lean * (far - near), _inside(f, place, lean, way)
    if _stays_straight(f, lean):
        return f.box((min(place, inside), max(place, inside)), f.inner)
    front, back = way * max(slant, 0.0), way * max(-slant, 0.0)
    wide = inside - place - way * abs(slant)
    corners = [
        (place + front, near),
        (place + front + wide, near),
        (place + back + wide, far),
        (place + back, far),
    ]
    return Polygon([f.at(*p) for p in corners])


def _inside(f: Field, place: float, lean: float, way: float) -> float:
    """The s of the end strip's inner face, where it stands furthest in."""
    if _stays_straight(f, lean):
        return place + way * f.strip
    near, far = f.inner
    return place + way * (abs(lean) * (far - near) + f.strip * math.hypot(1.0, lean))


def _stays_straight(f: Field, lean: float) -> bool:
    near, far = f.inner
    return abs(lean) * (far - near) <= f.strip / 2


def _reached(at: Ground, f: Field) -> tuple[float, float]:
    """The s to which end strips reach: at an end that leans, the farthest that there is wood between the strips.

    So a strip is as wide as asked where it is widest, and is ripped with the others.
    """
    low, high = f.low, f.high
    left, right = (f.strip + abs(lean) * (f.rail - f.edge) for lean in f.leans)
    if low > -FAR:
        near = f.extent(meet(at.standing, f.box((low, low + left), f.inner)))[0]
        low = near if near - low > HAIR else low
    if high < FAR:
        near = f.extent(meet(at.standing, f.box((high - right, high), f.inner)))[2]
        high = near if high - near > HAIR else high
    return (low, high)


def _ribs(bench: _Bench, f: Field) -> None:
    """Ribs flush beside every channel, lock blocks beside those, ribs between where skins run too far."""
    low, high = _between_ends(bench, f)
    rib = bench.at.spec.core.rib
    closed = _closed(bench.at, f, low, high)
    free = _free(closed, low, high)
    beside = [pair for gap in free for pair in _beside(gap, low, high, rib)]
    for pair in beside:
        bench.lay(f, "rib", f.box(pair, f.inner))
    _blocks(bench, f)
    avoid = _joined([*closed, *_runs(bench.at.cables, f, low, high)])
    for pair in _fill(beside, avoid, (low, high), bench.at.spec):
        whole = f.box(pair, f.inner)
        kept = bench.lay(f, "rib", whole)
        bench.ribs_cut += bool(kept) and bool(meet(whole, bench.at.no_wood).area > SPECK)


def _between_ends(bench: _Bench, f: Field) -> tuple[float, float]:
    """The s between the end strips of a leg, or from the strip it butts against in the corner."""
    domain = bench.at.domain(f)
    low, _, high, _ = f.extent(domain)
    left, right = _reached(bench.at, f)
    if left > -FAR:
        low = _inside(f, left, f.leans[0], 1.0)
    if right < FAR:
        high = _inside(f, right, f.leans[1], -1.0)
    for other, kind, strip in bench.laid:
        across = meet(strip, f.box((-FAR, FAR), f.inner))
        if other is f or kind not in ("back strip", "front strip") or across.area <= SPECK:
            continue
        near, _, far, _ = f.extent(across)
        low, high = (low, min(high, near)) if near - low > high - far else (max(low, far), high)
    return (low, high)


def _in_corner(bench: _Bench) -> None:
    """Ribs flush beside channels that reach into the corner of an L from the leg that does not keep it."""
    at, lead = bench.at, bench.at.through
    for f in at.others:
        corner = meet(at.own(lead), f.box((-FAR, FAR), f.inner))
        for channel in _own_channels(at, f):
            inside = meet(channel, corner)
            if inside.is_empty:
                continue
            low, _, high, _ = f.extent(inside)
            rib = at.spec.core.rib
            for pair in ((low - rib, low), (high, high + rib)):
                bench.lay(f, "rib", meet(f.box(pair, f.inner), corner))


def _own_channels(at: Ground, f: Field) -> list[Polygon]:
    own = {rod.id for rod in at.frame.rods if rod.wall == f.wall}
    return [plan for rod, plan in at.channels if rod in own]


def _shortened(bench: _Bench) -> tuple[tuple[Piece, ...], list[Place]]:
    """Add ribs where skins run too far, the longest span first, until none does or no rib helps."""
    most = bench.at.spec.core.max_span + 0.01
    pieces = _named(bench)
    found = places(bench.at, pieces)
    for _ in range(MOST_ADDED):
        long = sorted(
            (p for p in found if p.span.length > most), key=lambda p: -round(p.span.length, 6)
        )
        laid = union(p for _, _, p in bench.laid) if long else Polygon()
        if not any(_rib_into(bench, laid, place) for place in long):
            break
        pieces = _named(bench)
        found = places(bench.at, pieces)
    return pieces, found


def _rib_into(bench: _Bench, laid: BaseGeometry, place: Place) -> bool:
    """Lay a rib that parts a gap best, where there is no channel, joined to other wood; say if there is one."""
    f, (a, b), rib = place.field, place.gap, bench.at.spec.core.rib
    line = f.box((a, b), (place.t - HAIR, place.t + HAIR))
    closed = _joined(
        [(e[0], e[2]) for e in (f.extent(m) for m in parts(meet(bench.at.no_wood, line)))]
    )
    starts = [(a + b - rib) / 2, *(s for x, y in closed for s in (x - rib, y))]
    clear = [s for s in starts if a <= s and s + rib <= b and not _met(closed, (s, s + rib))]
    for start in sorted(clear, key=lambda s: (round(max(s - a, b - s - rib), 6), s)):
        kept = [
            p
            for p in bench.fit(f, f.box((start, start + rib), f.inner))
            if p.distance(laid) < TOUCH and p.intersects(line)
        ]
        if kept:
            bench.laid += [(f, "rib", p) for p in kept]
            return True
    return False


def _met(closed: Sequence[tuple[float, float]], run: tuple[float, float]) -> bool:
    return any(a < run[1] - HAIR and run[0] + HAIR < b for a, b in closed)


def _closed(at: Ground, f: Field, low: float, high: float) -> list[tuple[float, float]]:
    """Runs of s that channels take between the strips of a leg, joined where no rib fits between.

    A cable way counts only where it takes room from the rib beside a channel.
    """
    slots = _runs(union(c for _, c in at.channels), f, low, high, at.domain(f))
    rib = at.spec.core.rib
    near = [
        (a, b)
        for a, b in _runs(at.cables, f, low, high)
        if any(a - y < rib and x - b < rib for x, y in slots)
    ]
    return _joined([*slots, *near])


def _runs(
    shape: BaseGeometry, f: Field, low: float, high: float, within: BaseGeometry | None = None
) -> list[tuple[float, float]]:
    """Runs of s that a shape takes between the strips of a leg."""
    zone: BaseGeometry = f.box((low, high), f.inner)
    met = parts(meet(shape, zone if within is None else meet(zone, within)))
    return [(e[0], e[2]) for e in (f.extent(m) for m in met)]


def _joined(runs: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Runs in order, those joined between which no rib fits."""
    joined: list[tuple[float, float]] = []
    for a, b in sorted(runs):
        if joined and a - joined[-1][1] < THINNEST_RIB:
            joined[-1] = (joined[-1][0], max(joined[-1][1], b))
        else:
            joined.append((a, b))
    return joined


def _free(
    closed: Sequence[tuple[float, float]], low: float, high: float
) -> list[tuple[float, float]]:
    edges = [low, *(s for run in closed for s in run), high]
    return [(a, b) for a, b in zip(edges[::2], edges[1::2], strict=True) if b - a >= THINNEST_RIB]


def _beside(
    gap: tuple[float, float], low: float, high: float, rib: float
) -> list[tuple[float, float]]:
    """Ribs at the ends of a free run that are sides of channels; one over the whole run if it is short."""
    a, b = gap
    at_left, at_right = a > low, b < high
    if (at_left or at_right) and b - a < rib * (1 + (at_left and at_right)):
        return [(a, b)]
    return [(a, a + rib)] * at_left + [(b - rib, b)] * at_right


def _fill(
    beside: Sequence[tuple[float, float]],
    closed: Sequence[tuple[float, float]],
    ends: tuple[float, float],
    spec: Spec,
) -> list[tuple[float, float]]:
    """Ribs spread evenly where two supports stand further apart than a skin may run."""
    supports = [(ends[0], ends[0]), *sorted(beside), (ends[1], ends[1])]
    found = []
    for (_, a), (b, _) in pairwise(supports):
        rib, most = spec.core.rib, spec.core.max_span
        count = max(0, math.ceil((b - a - most) / (most + rib) - 1e-9))
        clear = (b - a - count * rib) / (count + 1)
        starts = [a + clear * (k + 1) + rib * k for k in range(count)]
        found += [_moved_aside((s, s + rib), closed, (a, b)) for s in starts]
    return found


def _moved_aside(
    rib: tuple[float, float], closed: Sequence[tuple[float, float]], room: tuple[float, float]
) -> tuple[float, float]:
    """The rib, moved to the nearer side of a channel it would meet if there is room for it there."""
    wide = rib[1] - rib[0]
    for a, b in closed:
        if rib[0] < b and a < rib[1]:
            asides = [(a - wide, a), (b, b + wide)]
            fits = [x for x in asides if room[0] <= x[0] and x[1] <= room[1]]
            return min(fits, key=lambda x: (abs(x[0] - rib[0]), x[0]), default=rib)
    return rib


def _blocks(bench: _Bench, f: Field) -> None:
    """A block for the grub screw beside each rod that is locked, behind the rib on the rod's own side."""
    lock = bench.at.spec.lock
    if lock.kind != "grub screw":
        return
    for rod in bench.at.frame.rods:
        if rod.wall == f.wall and rod.id in lock.rods:
            kept = bench.lay(f, "block", _block_beside(bench.at, f, rod))
            if sum(p.area for p in kept) < WHOLE_BLOCK * BLOCK[0] * BLOCK[1]:
                bench.poor.append(
                    f"Beside rod {rod.mark} there is no room for a whole block to back up the skin at its lock."
                )


def _block_beside(at: Ground, f: Field, rod: Rod) -> Polygon:
    half = rod.bar.width / 2 + rod.clearance.side
    s = f.figures(rod.point(rod.free))[0]
    zone = f.box((-FAR, FAR), f.inner)
    own = union(meet(c, zone) for name, c in at.channels if name == rod.id)
    low, _, high, _ = f.extent(own) if not own.is_empty else (s - half, 0, s + half, 0)
    depth = (f.inner[1] - BLOCK[1], f.inner[1])
    rib = at.spec.core.rib
    if abs(high - s - half) <= abs(s - half - low):
        return f.box((high + rib, high + rib + BLOCK[0]), depth)
    return f.box((low - rib - BLOCK[0], low - rib), depth)


def _cleared(free: BaseGeometry, no_wood: BaseGeometry) -> BaseGeometry:
    """What is left of a piece beside channels, without webs too thin to hold."""
    left = less(free, no_wood)
    if meet(free, no_wood).area <= SPECK:
        return left
    sound = left.buffer(-SLIVER / 2, join_style="mitre").buffer(SLIVER / 2, join_style="mitre")
    return meet(sound, left)


def _sound(field: Field, part: Polygon) -> list[Polygon]:
    low_s, low_t, high_s, high_t = field.extent(part)
    sides = sorted((high_s - low_s, high_t - low_t))
    return [part] if sides[1] >= TINY and sides[0] >= SLIVER else []


def _named(bench: _Bench) -> tuple[Piece, ...]:
    """Pieces by leg, kind and place from the left, each with a number within its leg and kind."""
    order = {kind: k for k, kind in enumerate(_KINDS)}
    legs = {id(f): k for k, f in enumerate(bench.at.fields)}
    rows = sorted(
        ((legs[id(f)], order[kind], *f.extent(p)), f, kind, p) for f, kind, p in bench.laid
    )
    count: dict[tuple[str, str], int] = {}
    named = []
    for (_, _, low_s, low_t, high_s, high_t), f, kind, p in rows:
        number = count[f.wall, kind] = count.get((f.wall, kind), 0) + 1
        sides = (high_s - low_s, high_t - low_t)
        length, width = sides if kind in ("back strip", "front strip") else sides[::-1]
        name = f"{f.wall}.{kind.split()[0]}.{number}"
        named.append(Piece(name, kind, rings(p)[0], length, width))
    return tuple(named)


_KINDS: tuple[Kind, ...] = ("back strip", "front strip", "end strip", "rib", "block")


def _hollows(at: Ground, pieces: Sequence[Piece]) -> tuple[tuple[tuple[float, float], ...], ...]:
    wood = union(Polygon(p.plan) for p in pieces)
    left = less(less(at.standing, wood), at.no_wood)
    # Neighbours meet to the last digit but one: without this all hollows hang together by hairlines.
    return rings(left.buffer(-HAIR, join_style="mitre").buffer(HAIR, join_style="mitre"))


def _too_long(spec: Spec, spans: Sequence[Span]) -> tuple[str, ...]:
    most = spec.core.max_span
    return tuple(
        f"Between {s.between[0]} and {s.between[1]} the skins run {_said(s.length)} without wood; "
        f"the limit is {_said(most)}. A rod passes, and no whole rib was found to fit there: take a way that cuts "
        "less, shorter rods, or thicker skins."
        for s in spans
        if s.length > most + 0.01
    )


def _broken(bench: _Bench) -> tuple[str, ...]:
    """Front and end strips that are not whole; a back strip is always cut where rods go in."""
    words, legs = [], {leg.wall: leg.called for leg in bench.at.frame.legs}
    for f in bench.at.fields:
        ends = sum(1 for s in (f.low, f.high) if abs(s) < FAR)
        for kind, whole in (("front strip", 1), ("end strip", ends)):
            found = sum(1 for g, k, _ in bench.laid if g is f and k == kind)
            if found > whole:
                words.append(
                    f"The {kind} of the leg on wall {legs[f.wall]} is cut through by a channel."
                )
            if found < whole:
                words.append(f"The leg on wall {legs[f.wall]} has lost a whole {kind} to channels.")
    return tuple(words)


def _about_keep_outs(at: Ground) -> tuple[str, ...]:
    """A groove that takes core away; cable ways that a rod would run through; one that cannot be placed."""
    words = []
    if any(k.kind == "light groove" and k.through for k in at.keep_outs):
        words.append(
            "The light groove is deeper than the bottom skin: it takes core away along the front."
        )
    marks = {rod.id: rod.mark for rod in at.frame.rods}
    legs = {leg.wall: leg.called for leg in at.frame.legs}
    for each in (k for k in at.keep_outs if k.kind == "cable way"):
        words += [
            f"The cable way on wall {legs[each.of]} runs through the channel of rod {marks[rod]}: the rod would meet "
            "the cable. Move the cable way."
            for rod in dict.fromkeys(
                rod for rod, plan in at.channels if meet(plan, Polygon(each.plan)).area > SPECK
            )
        ]
    return tuple(words)


def _said(size: float) -> str:
    """A length in both units: this room does not know which one the job is written in."""
    return f"{size:.0f} mm ({size / 25.4:.2f} in)"
