"""Whole pages and drawings in the English of the job, made so in one place."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar

from ledgewright import draw
from ledgewright.plan import Plan
from ledgewright.sheets.model import Page
from ledgewright.sheets.say import Say
from ledgewright.sheets.tiles import TileSet

Kind = TypeVar("Kind", bound=Page)

AS_WRITTEN = frozenset(
    {
        "svg",
        "symbol",
        "formula",
        "numbers",
        "name",
        "place",
        "client",
        "evidence",
        "services",
        "paths",
        "names",
    }
)
"""What a page holds that is not the program's own running text: drawings, formulas, the job's own words, paths."""


def spoken(page: Kind, say: Say) -> Kind:
    """Return a page with every text of the program's own making in the English of the job.

    Args:
        page: the page as made.
        say: how the job writes, with the names that stay as they are.
    """
    made: Kind = _record(page, say)
    return made


def said(tiles: TileSet, say: Say) -> TileSet:
    """Return tiles with every text of the program's own making in the English of the job.

    Args:
        tiles: as made.
        say: how the job writes, with the names that stay as they are.
    """
    made: TileSet = _record(tiles, say)
    return made


def drawn(drawing: draw.Drawing, say: Say) -> draw.Drawing:
    """Return a drawing with its title and description in the English of the job.

    What is lettered on it is written in the job's words already, since its width decides where it stands.
    """
    return replace(
        drawing, title=say.text(drawing.title), description=say.text(drawing.description)
    )


def own_names(plan: Plan) -> tuple[str, ...]:
    """Return the names that the job and the catalogue give, which no page may put in other words.

    Args:
        plan: the whole job.
    """
    job, found = plan.job, {plan.job.tapes.datum, plan.job.meta.name}
    found |= {thing.id for thing in job.tapes.obstacles} | {wall.id for wall in job.tapes.walls}
    found |= {(wall.known.services or "").rstrip(". ") for wall in job.tapes.walls}
    found |= {layer for wall in job.tapes.walls for layer, _ in wall.lining}
    for design in plan.designs:
        spec = design.spec
        found |= {spec.id, spec.finish, spec.edging.name, spec.core.of.name}
        found |= {spec.skin_top.panel.name, spec.skin_bottom.panel.name}
        found |= {name for rod in design.frame.rods for name in (rod.bar.name, rod.adhesive.name)}
    return tuple(sorted(name for name in found if name))


def _record(value: Any, say: Say) -> Any:
    changed = {
        f.name: _value(getattr(value, f.name), say)
        for f in fields(value)
        if f.name not in AS_WRITTEN
    }
    return replace(value, **changed)


def _value(value: Any, say: Say) -> Any:
    if isinstance(value, str):
        return say.text(value)
    if isinstance(value, tuple):
        return tuple(_value(each, say) for each in value)
    return _record(value, say) if is_dataclass(value) else value
