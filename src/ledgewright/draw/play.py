"""A drawing in which one part moves: SVG that plays by itself, and stands still as a picture of its end.

The motion is SMIL in presentation attributes alone (SVG 1.1, chapter 19): no script and no style, so that it
plays under a content policy of `default-src 'self'`. A program that knows no SMIL shows the part at home.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape

from ledgewright.draw.lay import flat_bounds, lay_item
from ledgewright.draw.letters import printable
from ledgewright.draw.model import Flat, Item, Text
from ledgewright.draw.styles import MARGIN
from ledgewright.draw.to_svg import Sheet, head, number
from ledgewright.plane import Point


@dataclass(frozen=True)
class Key:
    """Where the moving part stands at a time (s): turned from home by `turn` (rad), then shifted (mm of the thing)."""

    time: float
    shift: Point
    turn: float = 0.0


@dataclass(frozen=True)
class Caption:
    """Lettering that goes when the part leaves home and comes back at a time (s), to stay."""

    text: Text
    time: float


@dataclass(frozen=True)
class Scene:
    """What plays: `under` and `over` stand still below and above `moving`, which is drawn at home.

    keys: in order of time, the first at 0 and the first and last at home; two keys of one time are a jump.
    about: the plan point of the moving part that it turns about. scale: paper over thing.
    """

    title: str
    description: str
    under: tuple[Item, ...]
    moving: tuple[Item, ...]
    over: tuple[Item, ...]
    captions: tuple[Caption, ...]
    keys: tuple[Key, ...]
    about: Point
    scale: float


def play(scene: Scene) -> str:
    """Return the scene as an SVG document that plays for ever; width, height and user units are mm of paper.

    Equal scenes give equal bytes.

    Args:
        scene: what stands, what moves, and when.

    Raises:
        ValueError: if there are under two keys, or the first and last are not at home, or times run back.
    """
    _sound(scene.keys)
    still, moving, over = (_laid(i, scene.scale) for i in (scene.under, scene.moving, scene.over))
    said = [_laid([c.text], scene.scale) for c in scene.captions]
    x0, y0, x1, y1 = flat_bounds([*still, *moving, *over, *(f for flats in said for f in flats)])
    sheet = Sheet(x0 - MARGIN, y1 + MARGIN)
    width, height = number(x1 - x0 + 2 * MARGIN), number(y1 - y0 + 2 * MARGIN)
    begun = next(k.time for k in scene.keys if (k.shift, k.turn) != ((0.0, 0.0), 0.0))
    lines = [
        head(width, height),
        f"<title>{escape(printable(scene.title)[0], quote=False)}</title>",
        f"<desc>{escape(printable(scene.description)[0], quote=False)}</desc>",
        *sheet.groups(still),
        *_moving(scene, sheet, sheet.groups(moving)),
        *sheet.groups(over),
    ]
    for caption, flats in zip(scene.captions, said, strict=True):
        lines += _appearing(scene.keys, begun, caption.time, sheet.groups(flats))
    return "\n".join([*lines, "</svg>"]) + "\n"


def _sound(keys: Sequence[Key]) -> None:
    home = ((0.0, 0.0), 0.0)
    if len(keys) < 2 or any((k.shift, k.turn) != home for k in (keys[0], keys[-1])):
        msg = "the part begins and ends at home"
        raise ValueError(msg)
    times = [k.time for k in keys]
    if times[0] != 0 or times != sorted(times) or times[-1] <= 0:
        msg = "times begin at 0 and run on"
        raise ValueError(msg)


def _laid(items: Iterable[Item], scale: float) -> list[Flat]:
    return [flat for item in items for flat in lay_item(item, scale)]


def _moving(scene: Scene, sheet: Sheet, drawn: Sequence[str]) -> list[str]:
    """Wrap what moves in its travel and, where it turns at all, in its turn about one of its own points."""
    k = scene.scale
    travel = [f"{number(key.shift[0] * k)} {number(-key.shift[1] * k)}" for key in scene.keys]
    lines = ["<g>", _animated("translate", scene.keys, travel)]
    if any(key.turn for key in scene.keys):
        at = sheet.xy((scene.about[0] * k, scene.about[1] * k))
        # A turn to the left runs backwards where y points down.
        turns = [f"{_degrees(-key.turn)} {at}" for key in scene.keys]
        return [*lines, "<g>", _animated("rotate", scene.keys, turns), *drawn, "</g>", "</g>"]
    return [*lines, *drawn, "</g>"]


def _degrees(angle: float) -> str:
    text = f"{math.degrees(angle):.4f}".rstrip("0").rstrip(".")
    return "0" if text in {"", "-0"} else text


def _animated(kind: str, keys: Sequence[Key], values: Sequence[str]) -> str:
    return (
        f'<animateTransform attributeName="transform" type="{kind}" calcMode="linear"'
        f' dur="{number(keys[-1].time)}s" repeatCount="indefinite"'
        f' keyTimes="{";".join(_share(key.time, keys) for key in keys)}" values="{";".join(values)}"/>'
    )


def _share(time: float, keys: Sequence[Key]) -> str:
    return f"{time / keys[-1].time:.5f}".rstrip("0").rstrip(".") or "0"


def _appearing(keys: Sequence[Key], begun: float, time: float, drawn: Sequence[str]) -> list[str]:
    times = ";".join(_share(t, keys) for t in (0.0, begun, max(time, begun)))
    blink = (
        '<animate attributeName="visibility" calcMode="discrete"'
        f' dur="{number(keys[-1].time)}s" repeatCount="indefinite"'
        f' keyTimes="{times}" values="visible;hidden;visible"/>'
    )
    return ['<g visibility="visible">', blink, *drawn, "</g>"]
