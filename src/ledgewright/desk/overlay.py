"""Our own drawings set into a page, with what can be moved on them laid over."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any
from xml.sax.saxutils import escape, quoteattr

from markupsafe import Markup


def drawn(picture: Mapping[str, Any]) -> Markup:
    """One of our own drawings, set into the page: it holds neither script nor style."""
    return Markup(picture["svg"])  # noqa: S704  # written by draw.svg, which escapes every text


_DIGITS = 3


def held(picture: Mapping[str, Any], stage: str) -> Markup:
    """A drawing with what can be moved on it from this page; each is a slider that the arrow keys move too."""
    of = [each for each in picture["handles"] if each["stage"] == stage]
    grips = "".join(_patch(each) for each in picture["patches"] if each["stage"] == stage)
    grips += "".join(_grip(each) for each in of if any(len(a["snaps"]) > 1 for a in each["axes"]))
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


def _grip(handle: Mapping[str, Any]) -> str:
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
    said = " ".join(f"{key}={quoteattr(value)}" for key, value in words.items())
    return (
        f'<g class="grip" tabindex="0" role="slider" {said}>{shape}'
        '<circle class="reach" r="6.5"/><circle class="dot" r="2.4"/></g>'
    )
