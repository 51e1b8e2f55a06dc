"""Every part of a shelf with its letter: S skins, C core, E edging, F filler strips, R rods.

Rough sizes are common practice: 6 mm over on a skin, 25 mm over in length and 3 mm in width on
core and edging, which are planed to the measured thickness of the shelf; 6 mm in the width that a filler strip is
scribed off.
"""

from __future__ import annotations

from collections import Counter

from shapely import Polygon

from ledgewright import plane
from ledgewright.core import Core, Piece
from ledgewright.job import Skin, Spec
from ledgewright.layout import (
    EndFit,
    Frame,
    LegAt,
    behind,
    corner_of,
    edging_runs,
    into_wall,
    mark_of,
    skin_plan,
    whole,
)
from ledgewright.plane import Ring
from ledgewright.shop.model import Part

SKIN_OVER = 6.0
LENGTH_OVER = 25.0
WIDTH_OVER = 3.0
SCRIBE_OVER = 6.0


def parts(
    *, spec: Spec, frame: Frame, core: Core | None, ends: tuple[EndFit, ...] = ()
) -> tuple[Part, ...]:
    """List every part of one shelf.

    Args:
        spec: the shelf as asked for.
        frame: its lay-out on the walls.
        core: its core, or None where nothing can be laid out.
        ends: how its ends meet the walls beside it; where with a filler strip, that is a part.

    Returns:
        Parts in the order they are made: skins, core, edging, filler strips, rods. Sizes are mm; `finished` width of a
        skin is the blank's, since scribing is done on the wall.
    """
    listed = [
        *_skins(spec, frame),
        *_core(spec, core),
        *_edging(spec, frame),
        *_fillers(spec, frame, ends),
        *_rods(frame),
    ]
    return tuple(listed)


def _skins(spec: Spec, frame: Frame) -> list[Part]:
    made: list[Part] = []
    blank = skin_plan(frame.blank, spec, frame)
    for side, skin in (("top", spec.skin_top), ("bottom", spec.skin_bottom)):
        for index, (plan, note) in enumerate(_cut_at_corner(blank, spec, frame, skin)):
            leg = frame.legs[index]
            length, width = _extent(plan, leg)
            mark = (
                f", leg {mark_of(frame, frame.legs[index])}"
                if skin.joint != "one piece" and len(frame.legs) > 1
                else ""
            )
            made.append(
                Part(
                    letter=f"S{len(made) + 1}",
                    name=f"{side} skin{mark}",
                    of=skin.panel.name,
                    kind="skin",
                    count=1,
                    finished=(length, width, skin.thick),
                    rough=(length + SKIN_OVER, width + SKIN_OVER, skin.thick),
                    plan=_ring(plan),
                    note=note,
                    lies=plane.right(into_wall(leg)),
                )
            )
    return made


def _cut_at_corner(skin: Polygon, spec: Spec, frame: Frame, how: Skin) -> list[tuple[Polygon, str]]:
    if len(frame.legs) == 1:
        return [(skin, "grain along the wall")]
    if how.joint == "one piece":
        return [
            (skin, "one piece, L-shaped: saw the inside corner last, stop short and finish by hand")
        ]
    first = _left_of_joint(frame, spec, how)
    notes = (
        ("runs through the corner", f"butts against leg {mark_of(frame, frame.legs[0])}")
        if how.joint == "butted"
        else ("mitre the corner end", "mitre the corner end")
    )
    tail = "; grain along the wall"
    return [
        (whole(skin.intersection(first)), notes[0] + tail),
        (whole(skin.difference(first)), notes[1] + tail),
    ]


def _left_of_joint(frame: Frame, spec: Spec, how: Skin) -> Polygon:
    """The side of the joint on which the left leg lies: through the notch, along that leg or to the far corner."""
    left = frame.legs[0]
    inward = into_wall(left)
    notch, tip = corner_of(frame.blank, frame)
    inside = frame.turn == "inside"
    if how.joint == "butted":
        return behind(
            notch, inward if inside else plane.scale(inward, -1), spec.edging_thick * inside
        )
    across = plane.left(plane.unit(plane.sub(tip, notch)))
    return behind(notch, across if inside else plane.scale(across, -1), 0.0)


def _extent(plan: Polygon, leg: LegAt) -> tuple[float, float]:
    inward = into_wall(leg)
    direction = plane.right(inward)
    points = _ring(plan)
    along = [plane.dot(p, direction) for p in points]
    deep = [plane.dot(p, inward) for p in points]
    return (max(along) - min(along), max(deep) - min(deep))


def _ring(plan: Polygon) -> Ring:
    return plane.ccw([(x, y) for x, y in plan.exterior.coords[:-1]])


def _core(spec: Spec, core: Core | None) -> list[Part]:
    if core is None:
        return []
    alike: dict[tuple[str, float, float], list[Piece]] = {}
    for piece in core.pieces:
        key = (piece.kind, round(piece.length, 0), round(piece.width, 0))
        alike.setdefault(key, []).append(piece)
    made: list[Part] = []
    for (kind, _, _), pieces in alike.items():
        length = max(p.length for p in pieces)
        width = max(p.width for p in pieces)
        made.append(
            Part(
                letter=f"C{len(made) + 1}",
                name=kind,
                of=spec.core.of.name,
                kind="core",
                count=len(pieces),
                finished=(length, width, spec.core.thick),
                rough=(length + LENGTH_OVER, width + WIDTH_OVER, spec.core.thick + WIDTH_OVER),
                plan=pieces[0].plan,
                note="plane to the measured thickness; grain along the length",
                pieces=tuple(p.id for p in pieces),
            )
        )
    return made


def _edging(spec: Spec, frame: Frame) -> list[Part]:
    counted = Counter((name, round(length, 1)) for name, length in edging_runs(frame, spec))
    return [
        Part(
            letter=f"E{number}",
            name=f"edging, {name}",
            of=spec.edging.name,
            kind="edging",
            count=count,
            finished=(length, spec.thick, spec.edging_thick),
            rough=(length + LENGTH_OVER, spec.thick + WIDTH_OVER, spec.edging_thick + WIDTH_OVER),
            plan=None,
            note="mitre where two meet; flush to the skins after gluing",
            pieces=(),
        )
        for number, ((name, length), count) in enumerate(counted.items(), start=1)
    ]


def _fillers(spec: Spec, frame: Frame, ends: tuple[EndFit, ...]) -> list[Part]:
    """A strip for each end that has one: as long as the shelf is deep there, the grain from back to front."""
    deep = {leg.wall: leg.depth for leg in frame.legs}
    return [
        Part(
            letter=f"F{number}",
            name=f"filler strip, {end.side} end",
            of=spec.edging.name,
            kind="filler",
            count=1,
            finished=(deep[end.wall], spec.thick, max(end.back, end.front)),
            rough=(
                deep[end.wall] + LENGTH_OVER,
                spec.thick + WIDTH_OVER,
                max(end.back, end.front) + SCRIBE_OVER,
            ),
            plan=None,
            note="scribed to the wall beside it once the shelf hangs; finished with the shelf",
        )
        for number, end in enumerate((each for each in ends if each.how == "filler"), start=1)
    ]


def _rods(frame: Frame) -> list[Part]:
    alike: dict[tuple[str, float], list[str]] = {}
    for rod in frame.rods:
        alike.setdefault((rod.bar.name, round(rod.cut_length, 2)), []).append(rod.mark)
    bars = {rod.bar.name: rod.bar for rod in frame.rods}
    return [
        Part(
            letter=f"R{number}",
            name="rod " + ", ".join(sorted(marks, key=lambda mark: (len(mark), mark))),
            of=name,
            kind="rod",
            count=len(marks),
            finished=(length, bars[name].width, bars[name].height),
            rough=(length, bars[name].width, bars[name].height),
            plan=None,
            note="deburr, chamfer the tip; straight within 0.4 mm (1/64 in); never oil the bonded end",
            pieces=tuple(marks),
        )
        for number, ((name, length), marks) in enumerate(alike.items(), start=1)
    ]
