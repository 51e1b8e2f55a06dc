"""The answer of `scribe`: how each shelf lies, its allowance, straight cuts, strip template; as text and as JSON."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from typing import Any

from ledgewright import layout
from ledgewright.judge import Design
from ledgewright.layout import Scribed
from ledgewright.plan import Plan
from ledgewright.sheets import cuts
from ledgewright.sheets.documents import head, number
from ledgewright.sheets.say import Say
from ledgewright.sheets.spoken import own_names

Json = dict[str, Any]


def scribe_text(plan: Plan) -> str:
    """Return the answer of `scribe` for people.

    Args:
        plan: the job worked through.
    """
    say = Say.of(plan.job.meta, own_names(plan))
    lines = [f"{plan.job.meta.name}: scribe", ""]
    for design in plan.designs:
        lines += [*_shelf(plan, design, say), ""]
    return "\n".join(say.text(line) for line in lines[:-1]) + "\n"


def _shelf(plan: Plan, design: Design, say: Say) -> list[str]:
    found = cuts.edges(plan, design)
    lines = [f"Shelf {design.spec.title}"]
    told = [*cuts.lies(design, say), *cuts.ledger(design, say)]
    if found:
        told += [*cuts.allowance(plan, design, found), *cuts.doubt(design, found, say)]
    else:
        told.append("Nothing of it is scribed: its back and ends keep a gap.")
    lines += _wrapped([*told, *cuts.heights(design, say), *cuts.movement(design, say)])
    for edge in found:
        lines += ["", *_edge(design, edge, say)]
    if found:
        lines += ["", *_strips(design, say)]
    return lines


def _wrapped(told: Sequence[str]) -> list[str]:
    return [textwrap.fill(each, 96, initial_indent="  ", subsequent_indent="    ") for each in told]


def _row(pairs: Sequence[str]) -> str:
    """Pairs of place and figure over several lines, none torn apart."""
    kept = ";  ".join(pair.replace(" ", "\u00a0") for pair in pairs)
    told = textwrap.fill(kept, 96, initial_indent=" " * 6, subsequent_indent=" " * 6)
    return told.replace("\u00a0", " ")


def _edge(design: Design, edge: Scribed, say: Say) -> list[str]:
    """Its straight cuts, then what to mark by hand; the places are as the tape shows them."""
    within, count = say.thickness(design.spec.scribe_tolerance), len(edge.sawn())
    lines = [
        f"  {cuts.heading(design, edge)}: {count} straight cut{'s' * (count > 1)}, no gap over {within}"
    ]
    lines += _wrapped([cuts.bevel(design, edge, say)])
    lines.append(f"    {'cut':5}{'from':>12}{'to':>12}{'off':>10}{'off':>10}{'length':>12}")
    for k, cut in enumerate(edge.sawn(), 1):
        places = [cuts.where(design, edge, p[0], say) for p in (cut.start, cut.end)]
        offs = [say.caliper(p[1]) for p in (cut.start, cut.end)]
        lines.append(
            f"    {k:<5}{places[0]:>12}{places[1]:>12}{offs[0]:>10}{offs[1]:>10}{say.bare(cut.length):>12}"
        )
    lines.append(f"    by hand, {cuts.counted(edge).lower()}: wall's line off")
    marks = [f"{cuts.where(design, edge, x, say)}: {say.caliper(take)}" for x, take in edge.face]
    lines.append(_row(list(dict.fromkeys(marks))))
    return lines


def _strips(design: Design, say: Say) -> list[str]:
    made, lines = layout.template(design.room, design.spec), ["  Strip template"]
    for strip in made.strips:
        wall = design.room.wall(strip.wall)
        gaps = [f"{say.bare(wall.taped(s))}: {say.bare(gap)}" for s, gap in strip.readings]
        lines.append(
            f"    along wall {wall.called}, {say.length(strip.length)} long; gaps expected at"
        )
        lines.append(_row(gaps))
    if made.across:
        lines.append(f"    across the corner {say.length(made.across.across)}")
    if made.mouth is not None:
        lines.append(f"    between the end strips at the front {say.length(made.mouth)}")
    return lines


def does(plan: Plan) -> bool:
    """Say whether every shelf can be scribed as asked: no bow over its allowance, no string far askew.

    Args:
        plan: the job worked through.
    """
    return all(
        not (design.placed and design.placed.askew)
        and all(e.bow <= design.spec.scribe_allowance for e in cuts.edges(plan, design))
        for design in plan.designs
    )


def scribe_document(plan: Plan) -> Json:
    """Return the answer of `scribe` as a JSON document.

    Args:
        plan: the job worked through.

    Returns:
        A document that keeps to `scribe_schema`.
    """
    return {**head(plan.job), "shelves": [_document(plan, design) for design in plan.designs]}


def _document(plan: Plan, design: Design) -> Json:
    found, say = cuts.edges(plan, design), Say.of(plan.job.meta)
    return {
        "id": design.spec.id,
        "title": design.spec.title,
        "placed": _placed(design),
        "allowance": {
            "has": number(design.spec.scribe_allowance),
            "needs": number(max((edge.needs for edge in found), default=0.0)),
            "text": list(cuts.allowance(plan, design, found)) if found else [],
            "edit": cuts.wider(plan, design, found),
        },
        "tolerance": number(design.spec.scribe_tolerance),
        "guide": None if plan.job.shop.guide is None else number(plan.job.shop.guide),
        "doubt": list(cuts.doubt(design, found, say)),
        "edges": [_edge_document(design, edge) for edge in found],
        "outline": []
        if not found
        else [
            [number(x), number(y)]
            for x, y in layout.sawn_outline(design.room, design.spec, design.frame, found)
        ],
        "deepest": _deepest(design, found),
        "strips": _strips_document(design) if found else [],
        "heights": list(cuts.heights(design, say)),
        "movement": list(cuts.movement(design, say)),
    }


def _placed(design: Design) -> Json | None:
    placed = design.placed
    if placed is None:
        return None
    return {
        "turn": number(placed.turn),
        "best_turn": number(placed.best.turn),
        "saved": number(placed.saved),
        "edges": [
            {"edge": name, "along_string": number(along), "at_best": number(best)}
            for name, along, best in zip(
                placed.edges, placed.along.most, placed.best.most, strict=True
            )
        ],
    }


def _deepest(design: Design, found: Sequence[Scribed]) -> Json | None:
    if not found:
        return None
    laid = cuts.deepest(design, found)
    return {
        "turn": number(laid.turn),
        "shift": [number(x) for x in laid.shift],
        "most": [number(x) for x in laid.most],
        "short": number(laid.short),
    }


def _edge_document(design: Design, edge: Scribed) -> Json:
    return {
        "wall": edge.wall,
        "leg": edge.leg,
        "side": edge.side,
        "bow": number(edge.bow),
        "needs": number(edge.needs),
        "sure_to": number(cuts.sure_to(design, edge)),
        "bevel": number(edge.bevel()),
        "face": _figures(edge.face),
        "cuts": _figures(edge.cuts),
        "marks": _figures(edge.marks),
        "plan": [[number(x), number(y)] for x, y in map(edge.at, edge.cuts)],
    }


def _figures(line: Sequence[tuple[float, float]]) -> list[Json]:
    return [{"along": number(x), "off": number(take)} for x, take in line]


def _strips_document(design: Design) -> list[Json]:
    return [
        {
            "wall": strip.wall,
            "length": number(strip.length),
            "readings": [
                {"along": number(design.room.wall(strip.wall).taped(s)), "gap": number(gap)}
                for s, gap in strip.readings
            ],
        }
        for strip in layout.template(design.room, design.spec).strips
    ]
