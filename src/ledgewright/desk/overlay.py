"""Our own drawings set into a page, with what can be moved on them laid over."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Sequence
from typing import Any
from xml.sax.saxutils import escape, quoteattr

from markupsafe import Markup

Place = tuple[float, float]


def drawn(picture: Mapping[str, Any]) -> Markup:
    """One of our own drawings, set into the page: it holds neither script nor style."""
    return Markup(picture["svg"])  # noqa: S704  # written by draw.svg, which escapes every text


_DIGITS = 3


def held(picture: Mapping[str, Any], stage: str) -> Markup:
    """A drawing with what can be moved on it from this page; each is a slider that the arrow keys move too."""
    of = [each for each in picture["handles"] if each["stage"] == stage]
    grips = "".join(_patch(each) for each in picture["patches"] if each["stage"] == stage)
    moved = [each for each in of if any(len(a["snaps"]) > 1 for a in each["axes"])]
    grips += "".join(_grip(each, _near(each, moved)) for each in moved)
    if not grips:
        return drawn(picture)
    head, _, rest = str(picture["svg"]).partition(' role="img"')
    body, _, tail = rest.rpartition("</svg>")
    return Markup(f'{head} role="group"{body}{grips}</svg>{tail}')  # noqa: S704  # ours, escaped


def _patch(patch: Mapping[str, Any]) -> str:
    ring = patch["ring"]
    x, y = (sum(p[k] for p in ring) / len(ring) for k in (0, 1))
    points = " ".join(f"{a:.2f},{b:.2f}" for a, b in ring)
    return f'<g class="patch"><polygon points="{points}"/>{_name(patch["label"], x, y)}</g>'


def _name(label: str, x: float, y: float) -> str:
    return (
        f'<text x="{x:.2f}" y="{y:.2f}" font-size="4" text-anchor="middle">{escape(label)}</text>'
    )


REACH, DOT, LEAST = 6.5, 2.4, 1.1
"""How far from its middle a handle can be taken, how large its dot is, and the least that is left of it (mm)."""
_CORNERS = 24


def _near(handle: Mapping[str, Any], others: Sequence[Mapping[str, Any]]) -> list[Place]:
    """Where the handles stand from this one whose reach would lie over its own."""
    x, y = handle["at"]
    from_here = [(other["at"][0] - x, other["at"][1] - y) for other in others]
    return [by for by in from_here if 1e-6 < math.hypot(*by) < 2 * REACH]


def _reach(near: Sequence[Place]) -> list[Place]:
    """The ring in which a handle can be taken: a disc, cut in the middle towards each of its neighbours."""
    turns = (2 * math.pi * k / _CORNERS for k in range(_CORNERS))
    ring = [(REACH * math.cos(turn), REACH * math.sin(turn)) for turn in turns]
    for by in near:
        ring = _cut(ring, by)
    return ring


def _cut(ring: Sequence[Place], by: Place) -> list[Place]:
    """What of a ring is nearer to the middle than to a place."""
    half = (by[0] ** 2 + by[1] ** 2) / 2
    over = [p[0] * by[0] + p[1] * by[1] - half for p in ring]
    made: list[Place] = []
    for k, p in enumerate(ring):
        q, a, b = ring[k - 1], over[k - 1], over[k]
        if (a > 0) != (b > 0):
            share = a / (a - b)
            made.append((q[0] + share * (p[0] - q[0]), q[1] + share * (p[1] - q[1])))
        if b <= 0:
            made.append(p)
    return made


def _grip(handle: Mapping[str, Any], near: Sequence[Place]) -> str:
    x, y = handle["at"]
    axes = [
        {
            "field": axis["field"],
            "course": [round(c, 6) for c in axis["course"]],
            "snaps": [[round(by, _DIGITS), text] for by, text in axis["snaps"]],
        }
        for axis in handle["axes"]
    ]
    stands = [min(a["snaps"], key=lambda snap: abs(snap[0]))[1] for a in axes]
    now = next(k for k, snap in enumerate(axes[0]["snaps"]) if snap[1] == stands[0])
    ring = " ".join(f"{a - x:.2f},{b - y:.2f}" for a, b in handle["ring"])
    shape = f'<polygon points="{ring}"/>{_name(handle["label"], 0.0, 7.0)}' if ring else ""
    words = {
        "aria-label": handle["label"],
        "aria-valuetext": ", ".join(stands),
        "aria-valuemin": "0",
        "aria-valuemax": str(len(axes[0]["snaps"]) - 1),
        "aria-valuenow": str(now),
        "data-key": handle["key"],
        "data-axes": json.dumps(axes, separators=(",", ":")),
        "transform": f"translate({x:.3f} {y:.3f})",
    }
    reach = " ".join(f"{a:.2f},{b:.2f}" for a, b in _reach(near))
    dot = max(LEAST, min([DOT, *(math.hypot(*by) / 2 for by in near)]))
    said = " ".join(f"{key}={quoteattr(value)}" for key, value in words.items())
    return (
        f'<g class="grip" tabindex="0" role="slider" {said}>{shape}'
        f'<polygon class="reach" points="{reach}"/><circle class="dot" r="{dot:.2f}"/></g>'
    )
