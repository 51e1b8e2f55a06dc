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
from ledgewright.core.model import Core, Kind, Piece, Span
from ledgewright.core.spans import measure
from ledgewright.fitting import Way
from ledgewright.fitting.sweep import SPECK, as_shape, less, meet, parts, union
from ledgewright.job import Spec
from ledgewright.layout import Frame, Rod

TINY = 25.0
"""A piece whose longer side is under this is not worth cutting (mm): our choice."""

SLIVER = 6.0
"""Wood narrower than this splits off (mm): our choice."""

THINNEST_RIB = 12.0
"""Between two channels nearer than this there is no rib (mm): our choice."""

HAIR = 1e-4
"""A gap between two pieces narrower than twice this is none (mm)."""

BLOCK = (40.0, 60.0)
"""A block for a lock screw, along and across the leg (mm): our choice."""

SCREWS = ("grub screw", "angled screw")


@dataclass
class _Bench:
    """The pieces laid so far; each new one gives way to those and to every channel."""

    at: Ground
    laid: list[tuple[Field, Kind, Polygon]] = with_default(default_factory=list)
    ribs_cut: int = 0

    def lay(self, field: Field, kind: Kind, wanted: BaseGeometry) -> list[Polygon]:
        """Lay what is left of a piece once it has given way; return it."""
        free = as_shape(less(meet(wanted, self.at.standing), union(p for _, _, p in self.laid)))
        kept = [p for part in parts(_cleared(free, self.at.no_wood)) for p in _sound(field, part)]
        self.laid += [(field, kind, p) for p in kept]
        return kept


def core(spec: Spec, frame: Frame, way: Way | None) -> Core:
    """Return what stands between the skins of a section, clear of every channel.

    Strips run round the edge: the front and free ends in behind the edging, the back in behind all that
    scribing may take (common practice), so that only skins are scribed. A rib stands flush on either side of
    every channel, and more between so that along the leg no skin runs further than `spec.core.max_span`.
    What a channel crosses is cut; bits under 25 mm are left out.

    Args:
        spec: the shelf as asked for.
        frame: the section at home.
        way: how it goes on; None lays the core round the bare slots.

    Returns:
        The core; `short` is empty if every span is within the limit and no front or end strip is broken.
        Limits: straight legs and one corner, inside or outside; a light groove counts only if it is deeper than the
        bottom skin.
    """
    at = ground(spec, frame, way)
    bench = _Bench(at)
    _strips(bench)
    for each in (at.through, *at.others):
        _ribs(bench, each)
    pieces = _named(bench)
    spans = measure(at, pieces)
    longest = max((s.length for s in spans), default=0.0)
    return Core(
        pieces=pieces,
        hollows=_hollows(at, pieces),
        spans=spans,
        longest_span=longest,
        glue_area=2 * sum(Polygon(p.plan).area for p in pieces),
        ribs_cut=bench.ribs_cut,
        short=(*_too_long(spec, spans), *_broken(bench), *_about_groove(spec)),
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
        for end in _end_strips(f):
            bench.lay(f, "end strip", end)


def _end_strips(f: Field) -> list[Polygon]:
    left = [f.box((f.low, f.low + f.strip), f.inner)] if f.low > -FAR else []
    right = [f.box((f.high - f.strip, f.high), f.inner)] if f.high < FAR else []
    return left + right


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
    for pair in _fill(beside, closed, (low, high), bench.at.spec):
        whole = f.box(pair, f.inner)
        kept = bench.lay(f, "rib", whole)
        bench.ribs_cut += bool(kept) and bool(meet(whole, bench.at.no_wood).area > SPECK)


def _between_ends(bench: _Bench, f: Field) -> tuple[float, float]:
    """The s between the end strips of a leg, or from the strip it butts against in the corner."""
    domain = bench.at.domain(f)
    low, _, high, _ = f.extent(domain)
    if f.low > -FAR:
        low = f.low + f.strip
    if f.high < FAR:
        high = f.high - f.strip
    for other, kind, strip in bench.laid:
        across = meet(strip, f.box((-FAR, FAR), f.inner))
        if other is f or kind not in ("back strip", "front strip") or across.area <= SPECK:
            continue
        near, _, far, _ = f.extent(across)
        low, high = (low, min(high, near)) if near - low > high - far else (max(low, far), high)
    return (low, high)


def _closed(at: Ground, f: Field, low: float, high: float) -> list[tuple[float, float]]:
    """Runs of s that channels take between the strips of a leg, joined where no rib fits between."""
    zone = meet(f.box((low, high), f.inner), at.domain(f))
    met = parts(meet(at.no_wood, zone))
    runs = sorted((e[0], e[2]) for e in (f.extent(m) for m in met))
    joined: list[tuple[float, float]] = []
    for a, b in runs:
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
    """A block for the lock screw beside each rod that is locked, behind the rib on the rod's own side."""
    lock = bench.at.spec.lock
    if lock.kind not in SCREWS:
        return
    for rod in bench.at.frame.rods:
        if rod.wall == f.wall and rod.id in lock.rods:
            bench.lay(f, "block", _block_beside(bench.at, f, rod))


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
    return as_shape(meet(sound, left))


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
        f"the limit is {_said(most)}."
        for s in spans
        if s.length > most + 0.01
    )


def _broken(bench: _Bench) -> tuple[str, ...]:
    """Front and end strips that are not whole; a back strip is always cut where rods go in."""
    words = []
    for f in bench.at.fields:
        ends = sum(1 for s in (f.low, f.high) if abs(s) < FAR)
        for kind, whole in (("front strip", 1), ("end strip", ends)):
            found = sum(1 for g, k, _ in bench.laid if g is f and k == kind)
            if found > whole:
                words.append(f"The {kind} of leg {f.wall} is cut through by a channel.")
            if found < whole:
                words.append(f"Leg {f.wall} has lost a whole {kind} to channels.")
    return tuple(words)


def _about_groove(spec: Spec) -> tuple[str, ...]:
    if spec.groove is None or spec.groove.deep <= spec.skin_bottom.thick:
        return ()
    return ("The light groove is deeper than the bottom skin: it takes core away along the front.",)


def _said(size: float) -> str:
    """A length in both units: this room does not know which one the job is written in."""
    return f"{size:.0f} mm ({size / 25.4:.2f} in)"
