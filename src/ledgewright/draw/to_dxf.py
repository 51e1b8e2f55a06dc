"""Geometry as DXF in real size, a layer for each operation, units set wherever a reader may look."""

from __future__ import annotations

import io
import math
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, Literal

from ledgewright.draw.lay import lay_item
from ledgewright.draw.letters import cap_height
from ledgewright.draw.model import Arc, Circle, Drawing, Fill, Flat, Item, Polyline, Strokes, Text
from ledgewright.draw.styles import STYLES
from ledgewright.plane import Point

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document
    from ezdxf.layouts.layout import Modelspace

Operation = tuple[str, Sequence[Item]]
_PER_UNIT = {"mm": 1.0, "in": 25.4}
_ALIGN = {"start": "LEFT", "middle": "CENTER", "end": "RIGHT"}
_COLOURS = (7, 1, 5, 3, 6, 4, 30, 8)


def dxf(
    what: Drawing | Sequence[Operation], unit: Literal["mm", "in"], scale: float = 1.0
) -> bytes:
    """Return a DXF file (R2010) in real size; the same bytes for the same drawing.

    $INSUNITS, $MEASUREMENT and the units of the model space are all set, because readers differ in
    which they believe. Arcs stay arcs. Toned and hatched areas are paper matters and are left out.

    Args:
        what: a drawing (a layer for each meaning), or operations as (layer name, items in mm).
        unit: what the numbers in the file count.
        scale: paper over thing for lettering, where `what` is operations.
    """
    by_meaning = isinstance(what, Drawing)
    operations = _by_meaning(what.items) if isinstance(what, Drawing) else what
    if isinstance(what, Drawing):
        scale = what.scale
    with _fixed_metadata():
        doc = _empty(unit)
        for k, (layer, items) in enumerate(operations):
            colour = _meaning_colour(layer) if by_meaning else _COLOURS[k % len(_COLOURS)]
            if layer not in doc.layers:
                doc.layers.add(layer, color=colour)
            for item in items:
                _add(doc.modelspace(), layer, item, scale, _PER_UNIT[unit])
        stream = io.StringIO()
        doc.write(stream)
    return stream.getvalue().encode("utf-8")


@contextmanager
def _fixed_metadata() -> Iterator[None]:
    """Hold dates, identifiers and version notes fixed, and put the library's setting back."""
    from ezdxf._options import options

    kept = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = kept


def _empty(unit: Literal["mm", "in"]) -> Document:
    from ezdxf.enums import InsertUnits
    from ezdxf.filemanagement import new  # half a second to load, wanted by this writer alone

    counts = InsertUnits.Millimeters if unit == "mm" else InsertUnits.Inches
    doc = new("R2010", setup=False, units=int(counts))
    doc.header["$MEASUREMENT"] = int(unit == "mm")
    doc.modelspace().units = counts
    for name in ("ACDBPLACEHOLDER", "LAYOUT"):  # else added at writing, in the order of a set
        doc.classes.add_class(name)
    return doc


def _by_meaning(items: Sequence[Item]) -> list[Operation]:
    layers = dict.fromkeys(item.layer for item in items)
    return [(layer, [item for item in items if item.layer == layer]) for layer in layers]


def _meaning_colour(layer: str) -> int:
    return next((style.colour for name, style in STYLES.items() if name == layer), 7)


def _add(space: Modelspace, layer: str, item: Item, scale: float, per: float) -> None:
    """Plain geometry goes in as it stands; lettering and dimensions are laid on paper and brought back."""
    if isinstance(item, Polyline | Circle | Arc | Strokes):
        _put(space, layer, item, per)
        return
    for flat in lay_item(item, scale):
        _put(space, layer, flat, per * scale)


def _over(point: Point, per: float) -> Point:
    """Divide, so that an inch of 25.4 comes out as 1 and not as 0.9999999999999999."""
    return (point[0] / per, point[1] / per)


def _put(space: Modelspace, layer: str, flat: Flat, per: float) -> None:
    on = {"layer": layer}
    match flat:
        case Polyline():
            space.add_lwpolyline(
                [_over(p, per) for p in flat.points], close=flat.closed, dxfattribs=on
            )
        case Strokes():
            for a, b in flat.segments:
                space.add_line(_over(a, per), _over(b, per), dxfattribs=on)
        case Circle():
            space.add_circle(_over(flat.centre, per), flat.radius / per, dxfattribs=on)
        case Arc():
            start, end = math.degrees(flat.start), math.degrees(flat.end)
            space.add_arc(_over(flat.centre, per), flat.radius / per, start, end, dxfattribs=on)
        case Text():
            _letter(space, layer, flat, per)
        case Fill():
            pass


def _letter(space: Modelspace, layer: str, text: Text, per: float) -> None:
    from ezdxf.enums import TextEntityAlignment

    placed = space.add_text(
        text.text,
        height=cap_height(text.size) / per,
        rotation=math.degrees(text.angle),
        dxfattribs={"layer": layer},
    )
    placed.set_placement(_over(text.at, per), align=TextEntityAlignment[_ALIGN[text.anchor]])
