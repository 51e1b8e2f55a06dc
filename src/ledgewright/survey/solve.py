"""From the net of some walls to what is known of them, how surely, and what to take again in plain words."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ledgewright.job import TapedCorner, Tapes
from ledgewright.survey.adjust import Adjusted, Loose, Stuck, adjust
from ledgewright.survey.model import Figure, More, Retake, Whole
from ledgewright.survey.more import more
from ledgewright.survey.net import (
    SEEN,
    Figures,
    Named,
    Net,
    Part,
    build,
    closes,
    corner_words,
    room_side,
)
from ledgewright.survey.slips import ReadBack, least, snooped

AS_READ = 0.02
"""Figures that the others move by less than this stay as they were read (mm): no rule shows it."""
OTHER_UNIT = 0.03
"""How near to 25.4 a figure must be off to look like one in the other unit (our choice)."""
MORE = " More than one figure is off: run the job again once this is mended."
GROSS = math.radians(1.0)
"""A slip that turns a corner by more than this is not inaccuracy: nothing can be laid out on it (our choice)."""


@dataclass(frozen=True)
class Found:
    """What the figures say of walls that hang together.

    bends: room-side angle of each corner and its doubt (rad), by the ids of its walls. lengths, outs: of each wall its
    length, and the out of its stations (mm). gaps: where one line alone was drawn, its gaps. All empty where the net
    did not come together.
    """

    bends: Mapping[tuple[str, str], tuple[float, float]]
    lengths: Mapping[str, float]
    outs: Mapping[str, tuple[float, ...]]
    gaps: Mapping[str, tuple[float, ...]]
    figures: tuple[Figure, ...]
    whole: Whole | None
    retake: tuple[Retake, ...]
    more: More | None = None


def solve(given: Figures) -> Found:
    """Return what a net of walls says.

    Args:
        given: its figures, and where everything is roughly.
    """
    bare = frozenset(c.path for c in given.corners if not told(c))
    guessed = bare if not given.across else frozenset()
    net = build(given, guessed)
    made = adjust(net.equations, net.start, frozenset(net.held))
    if isinstance(made, Loose) and bare - guessed:
        guessed = bare
        net = build(given, guessed)
        made = adjust(net.equations, net.start, frozenset(net.held))
    notes = [_nothing(c, given.tapes) for c in given.corners if c.path in guessed]
    notes += [_unplaced(a.path) for a in net.lost]
    if not isinstance(made, Adjusted):
        next_one = more(given, net, made) if isinstance(made, Loose) else None
        return Found({}, {}, {}, {}, (), None, (*notes, _apart(given, made)), next_one)
    said = snooped(made, trusted=given.tapes.tool != "unknown")
    suspects = likely(made, net, said)
    return Found(
        bends={(c.left, c.right): _bend(net, made, c) for c in given.corners},
        lengths={name: _as_read(net, made, k) for name, k in net.lengths.items()},
        outs=_outs(net, made),
        gaps={
            wall: tuple(_as_read(net, made, figures[k]) for k in sorted(figures))
            for wall, figures in net.gaps.items()
        },
        figures=figures(net, made, suspects),
        whole=whole(tuple(w.id for w in given.walls), made, said),
        retake=(*notes, *again(net, made, said, suspects, given.corners)),
        more=more(given, net, made) if not guessed else None,
    )


def whole(
    walls: tuple[str, ...], made: Adjusted, said: ReadBack, *, heights: bool = False
) -> Whole:
    """Return the test of all figures together; with nothing in surplus there is none, and nothing but rounding.

    Args:
        walls: that the figures tell of.
        made: what they came to.
        said: what the tests say.
        heights: whether they are heights.
    """
    total, scatter = (made.total, made.s0) if made.r else (0.0, 0.0)
    return Whole(walls, made.r, total, said.limit, scatter, heights)


def told(corner: TapedCorner) -> bool:
    """Whether anything usable was read of the angle of a corner."""
    return (
        any(closes(t) for t in corner.taped)
        or corner.angle is not None
        or (corner.square_gap is not None and corner.square_gap[1] > 0)
    )


def _bend(net: Net, made: Adjusted, corner: TapedCorner) -> tuple[float, float]:
    left, right = net.walls[corner.left][2], net.walls[corner.right][2]
    slopes = np.zeros(len(made.x))
    slopes[right] += 1.0
    slopes[left] -= 1.0
    angle = (math.pi + float(made.x[right] - made.x[left])) % (2 * math.pi)
    return angle, made.doubt(slopes)


def _value(net: Net, made: Adjusted, k: int) -> float:
    """A figure as adjusted; a wall taped from its right end is read the other way."""
    name = net.names[k]
    return name.read + name.sign * float(made.v[k])


def _as_read(net: Net, made: Adjusted, k: int) -> float:
    """A gap or a length as adjusted; what the others move less than a rule can show stays as it was read.

    Told by each figure's own residual, which does not depend on the end a tape was hooked on.
    """
    moved = abs(float(made.v[k]))
    return net.names[k].read if moved < AS_READ else _value(net, made, k)


def _outs(net: Net, made: Adjusted) -> dict[str, tuple[float, ...]]:
    return {
        wall: tuple(0.0 if k is None else float(made.x[k]) for k in outs)
        for wall, outs in net.outs.items()
    }


def figures(net: Net, made: Adjusted, suspects: Sequence[int]) -> tuple[Figure, ...]:
    """Return every figure somebody read, as adjusted.

    Args:
        net: the figures.
        made: what they came to.
        suspects: by number, those that may be the one to take again.
    """
    finds, w, share = made.findable(least()), made.w, made.share
    return tuple(
        Figure(
            path=name.path,
            part=name.part.words,
            place=name.part.place,
            words=name.words,
            kind=name.kind,
            read=name.read,
            adjusted=_value(net, made, k) if made.checked[k] else name.read,
            sd=float(made.sd[k] * math.sqrt(max(0.0, 1.0 - share[k]))),
            sd_read=float(made.sd[k]),
            share=float(share[k]) if made.checked[k] else 0.0,
            finds=float(finds[k]) if finds[k] <= SEEN[name.kind] else None,
            hides=_hides(net, made, k, float(finds[k])) if finds[k] <= SEEN[name.kind] else None,
            test=float(w[k]),
            again=k in suspects,
        )
        for k, name in enumerate(net.names)
        if name.kind in ("tape", "gap", "angle", "height")
    )


def _hides(net: Net, made: Adjusted, k: int, slip: float) -> float:
    """How far the end of any wall, or any height, is moved by a slip that just is not found.

    Source: Baarda (1968), external reliability.
    """
    moved = made.moved(k, slip)
    spots = [spot for pair in net.ends.values() for spot in pair]
    far = [math.hypot(float(moved[x]), float(moved[y])) for x, y in spots]
    return max(far or [abs(float(m)) for m in moved])


def likely(made: Adjusted, net: Net, said: ReadBack) -> tuple[int, ...]:
    """Return the suspects whose slip nobody would have seen by eye, if there are any; else all but gaps.

    Args:
        made: the net as adjusted.
        net: its figures.
        said: what the tests say.
    """
    own = [k for k in said.suspects if net.names[k].kind != "rule"]
    size = np.abs(made.slip)
    unseen = [k for k in own if size[k] <= SEEN[net.names[k].kind]]
    return tuple(unseen or [k for k in own if net.names[k].kind in ("tape", "angle")] or own)


def again(
    net: Net,
    made: Adjusted,
    said: ReadBack,
    suspects: Sequence[int],
    corners: Sequence[TapedCorner],
) -> tuple[Retake, ...]:
    """Return what to take again, in plain words.

    Args:
        net: the figures.
        made: what they came to.
        said: what the tests say.
        suspects: by number, those to name.
        corners: that the figures tell of.
    """
    if said.sound:
        return ()
    names = [net.names[k] for k in suspects]
    gross = any(_turns(net, made, k, corners) > GROSS for k in suspects)
    one = suspects[0] if len(suspects) == 1 and not said.several else None
    return (
        Retake(
            _path(names, net.corners),
            _sentence(names, several=said.several) + _like_inches(net, made, suspects),
            gross=gross,
            figures=tuple(dict.fromkeys(n.path for n in names)),
            slip=float(made.slip[one]) if one is not None else None,
        ),
    )


def _like_inches(net: Net, made: Adjusted, suspects: Sequence[int]) -> str:
    """A tape that would be right if its figure were in the other unit: the commonest slip of all."""
    for k in suspects:
        read = net.names[k].read
        right = read - float(made.slip[k])
        if net.names[k].kind == "tape" and read > 0 and right > 0:
            times = max(right / read, read / right)
            if abs(times / 25.4 - 1) < OTHER_UNIT:
                kind = "inches where millimeters" if right > read else "millimeters where inches"
                return f" {_upper(_full(net.names[k]))} would fit if somebody wrote {kind} belong."
    return ""


def _turns(net: Net, made: Adjusted, k: int, corners: Sequence[TapedCorner]) -> float:
    """How far the worst corner would turn if the figure were left out (rad)."""
    moved = made.moved(k, float(made.slip[k]))
    turns = [(net.walls[c.left][2], net.walls[c.right][2]) for c in corners]
    return max((abs(float(moved[b] - moved[a])) for a, b in turns), default=0.0)


def _path(names: Sequence[Named], corners: Mapping[str, str]) -> str:
    """The path of the one part, or of the one corner they all belong to, or of the worst figure."""
    paths = {n.part.path for n in names}
    if len(paths) == 1:
        part = names[0].part
        own = corners.get(part.place)
        return own if own and len({n.part for n in names}) > 1 else part.path
    places = {n.part.place for n in names if n.kind not in ("gap", "face")}
    one = next(iter(places)) if len(places) == 1 else ""
    return corners.get(one, names[0].part.path)


def _sentence(names: Sequence[Named], *, several: bool) -> str:
    parts = _parts(names)
    besides = MORE if several else ""
    if len(names) == 1:
        return f"{_upper(_full(names[0]))} does not agree with the rest: take it again.{besides}"
    if len(parts) == 1:
        begin = f"One of the figures of {_with_place(parts[0])} does not agree with the rest"
        return f"{begin}, and they cannot tell which: take all of them again.{besides}"
    places = {p.place for p in parts if p.place}
    at = f"At {next(iter(places))} " if len(places) == 1 else ""
    short = [p.words if at else _with_place(p) for p in parts]
    first = f"{at}{_list(short)}" if at else _upper(_list(short))
    both = "both" if len(parts) == 2 else "all of them"
    return (
        f"{first} contradict each other by more than careful figures can, and they cannot tell which is "
        f"wrong: take {both} again.{besides}"
    )


def _parts(names: Iterable[Named]) -> list[Part]:
    """What to take again, tapes and angles before gaps, which are seldom the cause."""
    order = sorted(names, key=lambda n: n.kind in ("gap", "face"))
    return list(dict.fromkeys(n.part for n in order))


def _full(name: Named) -> str:
    words = f"{name.words} of {name.part.words}" if name.words else name.part.words
    return f"{words} at {name.part.place}" if name.part.place else words


def _with_place(part: Part) -> str:
    return f"{part.words} at {part.place}" if part.place else part.words


def _upper(text: str) -> str:
    return text[:1].upper() + text[1:]


def _list(items: Sequence[str]) -> str:
    return items[0] if len(items) == 1 else f"{', '.join(items[:-1])} and {items[-1]}"


def _nothing(corner: TapedCorner, tapes: Tapes) -> Retake:
    return Retake(
        corner.path,
        f"Nothing usable was taped at {corner_words(corner, tapes)}: it is drawn square, which may be a degree "
        "out. Tape two triangles, or lay a framing square in it.",
    )


def _unplaced(path: str) -> Retake:
    return Retake(
        path,
        "A mark of this tape is placed by no other figure, so the tape says nothing: tape the mark along its wall "
        "from an end too.",
    )


def _apart(given: Figures, made: Loose | Stuck) -> Retake:
    walls = f"walls {_list([w.called for w in given.walls])}"
    if isinstance(made, Stuck):
        text = f"The figures of {walls} are so far apart that no room fits them: take the corners and tapes again."
    else:
        text = f"The figures of {walls} do not hold the walls in place: tape another triangle in each corner."
    return Retake(given.walls[0].path, text, gross=True)


def impossible(corner: TapedCorner, tapes: Tapes) -> tuple[Retake, ...]:
    """Return the triangles of a corner that cannot close, to be taken again."""
    return tuple(
        Retake(
            f"{corner.path}.taped",
            f"Triangle {k} at {corner_words(corner, tapes)} does not close: one tape is longer than the other two "
            "together. Take all three again.",
            gross=True,
        )
        for k, taped in enumerate(corner.taped, 1)
        if not closes(taped)
    )


def first_bend(corner: TapedCorner, rises: Sequence[tuple[float, float]]) -> float:
    """Return the room-side angle of a corner from the first thing read of it, near enough to begin with (rad).

    Args:
        corner: as taped.
        rises: for each triangle how far its marks stand out of the reference lines (mm).
    """
    for taped, (left, right) in zip(corner.taped, rises, strict=True):
        if closes(taped):
            a, b, across = taped
            cosine = (a * a + b * b - across * across) / (2 * a * b)
            turned = math.atan2(left, a) + math.atan2(right, b)
            return room_side(corner, math.acos(cosine)) + turned
    if corner.angle is not None:
        return room_side(corner, corner.angle)
    opens, at = corner.square_gap or (0.0, 1.0)
    return room_side(corner, math.pi / 2 + (math.atan2(opens, at) if at > 0 else 0.0))
