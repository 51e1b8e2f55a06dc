"""The answers of `check` and `fit` as JSON documents, and the schemas they keep to.

All numbers are mm, N, MPa, kg and rad, quantised once to nine significant digits so that a library
that adds in another order gives the same bytes; `text` is in the units of the job.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from typing import Any

from ledgewright import __version__, plane
from ledgewright.doubt import Answer, Carried, Figure, Least, Spread, floor
from ledgewright.fitting import Block, Opening, Way
from ledgewright.job import Finding, Job
from ledgewright.judge import Alternative, Design, Option, alternatives, edits, options
from ledgewright.layout import EndFit
from ledgewright.memo import Memo
from ledgewright.plan import Plan
from ledgewright.sheets import glued_in, limits, sure
from ledgewright.sheets.answers import notes, why_not
from ledgewright.sheets.blocked import stops
from ledgewright.sheets.cautions import cautions
from ledgewright.sheets.leaves import (
    Held,
    held_marks,
    held_rods,
    held_walls,
    names_any,
    sized,
    worked,
)
from ledgewright.sheets.opens import judged, opening_text, option_text, verdict_text
from ledgewright.sheets.plainly import told_below
from ledgewright.sheets.say import Say
from ledgewright.statics import Check, Drop, DropAt, Laid, LoadLimit, NoLimit, Rival, Step

Json = dict[str, Any]
FORMAT = 1
PROGRAM = f"ledgewright {__version__}"


def number(value: float) -> float:
    """Return a number quantised to nine significant digits, never minus zero."""
    return float(f"{value:.9g}") + 0.0


def check_document(plan: Plan) -> Json:
    """Return the answer of `check` as a JSON document.

    Args:
        plan: the job worked through.

    Returns:
        A document that keeps to `check_schema`; what is not computed is null and named.
    """
    job = plan.job
    because = sorted(
        {
            check.id
            for design in plan.designs
            for check in design.holds.checks
            if check.state == "fails" and not check.information
        }
        | {m.family for d in plan.designs for m in d.holds.cannot_say if d.holds.verdict != "fails"}
    )
    return {
        **head(job),
        "basis": job.meta.basis,
        "verdict": plan.verdict,
        "because": because,
        "shelves": [_shelf(plan, design) for design in plan.designs],
        "assumed": [
            {"path": a.path, "value": a.value, "why": f"{a.why} ({a.source})"} for a in job.assumed
        ],
        "cautions": [{"id": c.id, "text": c.text} for c in cautions(plan)],
        "notes": list(notes(plan)),
        "open_items": [{"path": o.path, "costs": o.costs} for o in job.open_items],
        "not_computed": [
            {"what": what, "why": told_below(why, plan)} for what, why in plan.not_computed
        ],
    }


def fit_document(plan: Plan, memo: Memo) -> Json:
    """Return the answer of `fit` as a JSON document.

    Args:
        plan: the job worked through.
        memo: kept by the caller, for the core and the statics of the ways not chosen.

    Returns:
        A document that keeps to `fit_schema`.
    """
    return {
        **head(plan.job),
        "shelves": [_fitting(plan, design, memo) for design in plan.designs],
    }


def findings_document(findings: Sequence[Finding]) -> Json:
    """Return what is wrong with a job file as a JSON document (exit 2 under --json).

    Args:
        findings: as read.

    Returns:
        A document that keeps to `findings_schema`.
    """
    return {
        "format": FORMAT,
        "verdict": "bad input",
        "findings": [dataclasses.asdict(finding) for finding in findings],
    }


def head(job: Job) -> Json:
    """Return what every document begins with."""
    return {
        "format": FORMAT,
        "program": PROGRAM,
        "job": {"name": job.meta.name, "revision": job.meta.revision},
    }


def _shelf(plan: Plan, design: Design) -> Json:
    holds, held = design.holds, held_walls(plan, design)
    drop, none = holds.drop, limits.why_none(design)
    return {
        "id": design.spec.id,
        "title": design.spec.title,
        "rods_are": "as set" if design.drawn else "as drawn",
        "rods_read": {
            "read": len(design.frame.rods if design.drawn else design.read),
            "of": len(design.frame.rods),
        },
        "withheld": sorted(held),
        "verdict": holds.verdict if design.way else "fails",
        "front_drop": _front_drop(plan.job, drop, sure.spread_of(plan, design)),
        "hang_tilt": None
        if drop is None
        else {
            "value": number(drop.hang_tilt),
            "unit": "mm",
            "text": Say.of(plan.job.meta).drop(drop.hang_tilt),
            "shim": Say.of(plan.job.meta).thickness(drop.shim),
        },
        "checks": [
            _check(plan, check, held, governs=check.id == holds.governs) for check in holds.checks
        ],
        "loads": None if held or holds.laid is None else _laid(design, holds.laid),
        "load_limit": None if none else _limit(plan, holds.load_limit, held),
        "would_carry": _limit(plan, holds.load_limit, held) if none else None,
        "rivals": [_rival(plan.job, rival) for rival in holds.rivals],
        "doubt": _doubt(plan, sure.spread_of(plan, design)),
        "fitting": {
            "possible": design.way is not None,
            "kind": design.way.kind if design.way else None,
            "moves": _moves(design.way) if design.way else [],
            "reason": ""
            if design.way
            else " ".join(
                stops(b, Say.of(plan.job.meta), held_marks(design, held)) for b in _blocks(design)
            ),
        },
    }


def _laid(design: Design, laid: Laid) -> Json:
    """The loads in parts, before their factors, and the cases that rows are worst under; parts count from 0."""
    return {
        "parts": [
            {
                "load": part.load,
                "kind": part.kind,
                "force": number(part.force),
                "wall": part.wall,
                "part": part.part,
                "spot": part.spot,
                "along": number(along),
                "out": number(out),
            }
            for part in laid.parts
            for along, out in [design.room.wall(part.wall).figures(part.at)]
        ],
        "cases": [
            {
                "case": case.case,
                "source": case.source,
                "factors": {
                    "dead": case.dead,
                    "live": case.live,
                    "single": case.single,
                    "accident": case.accident,
                },
                "parts": list(case.there),
                "proud": case.proud or None,
                "rods": [
                    {"rod": rod.rod, "down": number(rod.down), "moment": number(rod.moment)}
                    for rod in case.rods
                ],
            }
            for case in laid.cases
        ],
    }


def _limit(plan: Plan, limit: LoadLimit | NoLimit | None, held: Held) -> Json | None:
    if not isinstance(limit, LoadLimit):
        return None
    stop, texts = limit.stop, limits.said(limit, Say.of(plan.job.meta))
    by = {"limited_by": limit.title, "check": limit.limited_by, "case": limit.case}
    return {
        "even": {"value": number(limit.even), "unit": "N/mm", "text": texts.even, **by},
        "single": {"value": number(limit.single), "unit": "kg", "text": texts.single, **by},
        "total": {"value": number(limit.total), "unit": "kg", "text": texts.total, **by},
        "leaves_out": limits.leaves_out(limit),
        "stop": stop
        and {
            "even": number(stop.even),
            "unit": "N/mm",
            "check": _check(plan, stop.row, held, governs=False),
        },
    }


def _rival(job: Job, rival: Rival) -> Json:
    say = Say.of(job.meta)
    return {
        "name": rival.name,
        "first": rival.first,
        "even": None
        if rival.even is None
        else {
            "value": number(rival.even),
            "unit": "N/mm",
            "text": say.most_per_length(rival.even),
        },
        "share": number(rival.share),
        "front_drop": None
        if rival.drop is None
        else {"value": number(rival.drop), "unit": "mm", "text": say.drop(rival.drop)},
        "modes": [
            {
                "title": mode.title,
                "demand": number(mode.demand),
                "capacity": number(mode.capacity),
                "ratio": number(mode.ratio),
                "unit": mode.unit,
                "case": mode.case,
                "scope": mode.scope,
                "reason": mode.reason,
                "source": mode.source,
                "working": [_step(step) for step in mode.steps],
            }
            for mode in rival.modes
        ],
        "note": rival.note,
    }


def _front_drop(job: Job, drop: Drop | None, spread: Spread | None = None) -> Json | None:
    if drop is None:
        return None
    return {
        "today": _drop(job, drop.today),
        "long_term": _drop(job, drop.long_term),
        "range": None
        if spread is None
        else {
            "today": _parts(spread.today),
            "long_term": _parts(spread.long_term),
            "samples": spread.samples,
            "seed": spread.seed,
        },
    }


def _parts(answer: Answer) -> Json:
    return {name: number(getattr(answer, name).value) for name in ("p05", "p50", "p95")}


def _doubt(plan: Plan, spread: Spread | None) -> Json | None:
    if spread is None:
        return None
    say = Say.of(plan.job.meta)
    told = dict(zip(("today", "long_term", "load_limit"), sure.answers(spread), strict=True))
    return {
        "samples": spread.samples,
        "seed": spread.seed,
        "runs": spread.runs,
        **{
            name: None if answer is None else _answer(spread, answer, say)
            for name, answer in told.items()
        },
        "least": _least(spread, say),
        "worth_measuring": list(sure.worth_measuring(spread, say)),
    }


def _least(spread: Spread, say: Say) -> Json | None:
    """What stands for the worst load limit where it has no range."""
    found = floor(spread)
    if not isinstance(found, Least):
        return None
    return {
        "nominal": number(found.nominal),
        "safe": number(found.safe),
        "unit": "N/mm",
        "draws": found.draws,
        "sure": number(found.sure),
        "by": found.stop.title if found.stop else "",
        "text": sure.least(spread, say),
    }


def _answer(spread: Spread, answer: Answer, say: Say) -> Json:
    carried = isinstance(answer, Carried)
    return {
        "nominal": number(answer.nominal),
        "unit": "N/mm" if carried else "mm",
        **{name: _sampled(getattr(answer, name)) for name in ("p05", "p50", "p95")},
        "curve_off": number(answer.off),
        "limit": None if answer.limit is None else number(answer.limit),
        "chance": None if answer.chance is None else _sampled(answer.chance),
        "safe": number(answer.safe) if isinstance(answer, Carried) else None,
        "text": sure.line(answer, say),
        "drivers": [
            {
                "figure": row.name,
                "words": say.text(row.words),
                "counts": row.counts,
                "measure": say.text(row.measure),
                "low": number(row.low),
                "likely": number(row.likely),
                "high": number(row.high),
                "source": row.source,
                "first": _sampled(first),
                "total": _sampled(total),
            }
            for row, first, total in spread.drivers(answer)
        ],
    }


def _sampled(figure: Figure) -> Json:
    return {"value": number(figure.value), "error": number(figure.error)}


def _drop(job: Job, drop: DropAt) -> Json:
    return {
        "value": number(drop.value),
        "unit": "mm",
        "text": Say.of(job.meta).drop(drop.value),
        "limit": number(drop.limit),
        "at": drop.at,
        "case": drop.case,
    }


def _check(plan: Plan, check: Check, held: Held, *, governs: bool) -> Json:
    tells, sizes = worked(check, held), sized(check, held)
    return {
        "id": check.id,
        "family": check.family,
        "title": check.title,
        "place": None
        if check.place is None
        else {
            "wall": check.place.wall,
            "member": check.place.member,
            "along": number(check.place.along) if tells else None,
            "up": number(check.place.up) if tells else None,
        },
        "withheld": not tells,
        "case": check.case,
        "demand": number(check.demand) if sizes else None,
        "capacity": number(check.capacity) if sizes else None,
        "ratio": number(check.ratio),
        "unit": check.unit,
        "state": check.state,
        "scope": check.scope,
        "information": check.information,
        "reason": told_below(check.reason, plan),
        "governs": governs,
        "source": check.source,
        "working": [_step(step) for step in check.steps] if tells else [],
    }


def _step(step: Step) -> Json:
    return {**dataclasses.asdict(step), "value": number(step.value)}


def _moves(way: Way) -> list[Json]:
    return [
        {"dx": number(m.dx), "dy": number(m.dy), "turn": number(m.turn), "note": m.note}
        for m in way.moves
    ]


def _eased(way: Way) -> list[Json]:
    return [
        {"by": e.by, "off": [{"out": number(out), "by": number(deep)} for out, deep in e.off]}
        for e in way.eased
    ]


def _blocks(design: Design) -> list[Block]:
    return [block for way in design.ways.ways for block in way.blocked]


def _fitting(plan: Plan, design: Design, memo: Memo) -> Json:
    job, held = plan.job, held_walls(plan, design)
    rows = {row.way: row for row in alternatives(job, design, memo)}
    return {
        "id": design.spec.id,
        "title": design.spec.title,
        "rods_are": "as set" if design.drawn else "as drawn",
        "withheld": sorted(held),
        "glued": list(glued_in.marks(design)),
        "possible": design.way is not None,
        "chosen": design.ways.chosen,
        "ways": [
            *(_way(job, design, way, rows.get(way.id), held) for way in design.ways.ways),
            *(_option(plan, design, option, held) for option in options(job, design, memo)),
        ],
        "blocked": [_block(block, held_marks(design, held)) for block in _blocks(design)],
        "opens": [_opening(plan, design, opening, memo) for opening in design.openings],
    }


def _way(job: Job, design: Design, way: Way, row: Alternative | None, held: Held) -> Json:
    return {
        "id": way.id,
        "about": "",
        "possible": way.possible,
        "reason": " ".join(
            stops(block, Say.of(job.meta), held_marks(design, held)) for block in way.blocked
        ),
        "moves": _moves(way),
        "hold_off": number(way.hold_off),
        "eased": _eased(way),
        "channels": _channels(design, way, held),
        "loss": {
            "channel_area": number(way.loss.channel_area),
            "widest": number(way.loss.widest),
            "longest_span": number(row.longest_span) if row and not held else None,
            "ribs_cut": row.ribs_cut if row else None,
        },
        "front_drop": _front_drop(job, row.drop) if row else None,
        "room_needed": _ring(way.room_needed),
        "ends": [],
    }


def _option(plan: Plan, whole: Design, option: Option, held: Held) -> Json:
    """Another way to make the shelf; its sections one after the other, and the hull of the room they need."""
    job = plan.job
    ways = [design.way for design in option.designs if design.way]
    span = None if held else option.longest_span
    return {
        "id": option.id,
        "about": option_text(job, whole, option, held),
        "possible": option.possible,
        "reason": told_below(why_not(option), plan),
        "moves": [move for way in ways for move in _moves(way)],
        "hold_off": number(max((way.hold_off for way in ways), default=0.0)),
        "eased": [each for way in ways for each in _eased(way)],
        "channels": [
            channel
            for design in option.designs
            if design.way
            for channel in _channels(design, design.way, held)
        ],
        "loss": {
            "channel_area": number(option.channel_area),
            "widest": number(max((way.loss.widest for way in ways), default=0.0)),
            "longest_span": None if span is None else number(span),
            "ribs_cut": option.ribs_cut,
        },
        "front_drop": _front_drop(job, option.drop),
        "room_needed": _ring(plane.hull([p for way in ways for p in way.room_needed])),
        "ends": [_end(end) for end in option.ends],
    }


def _end(end: EndFit) -> Json:
    return {**dataclasses.asdict(end), "back": number(end.back), "front": number(end.front)}


def _channels(design: Design, way: Way, held: Held) -> list[Json]:
    """What is cut for each rod; where a wall is withheld its rods have neither polygon nor area."""
    shut = held_rods(design, held)
    return [
        {
            "rod": c.rod,
            "polygon": None if c.rod in shut else _ring(c.plan),
            "area": None if c.rod in shut else number(c.area),
            "withheld": c.rod in shut,
        }
        for c in way.channels
    ]


def _ring(ring: Sequence[tuple[float, float]]) -> list[list[float]]:
    return [[number(x), number(y)] for x, y in ring]


def _block(block: Block, hidden: frozenset[str]) -> Json:
    return {
        "by": block.by,
        "move": block.move,
        "short_by": None if names_any(block.by, hidden) else number(block.short_by),
    }


def _opening(plan: Plan, design: Design, opening: Opening, memo: Memo) -> Json:
    """What opens a way; its edits name places of rods, so there are none while a wall is withheld."""
    job, held = plan.job, held_walls(plan, design)
    made = () if held else edits(job, design.spec, opening)
    found = judged(plan, design, opening, memo)
    return {
        "way": opening.opens,
        "text": opening_text(job, design, opening, held),
        "verdict": found.state if found else None,
        "why": verdict_text(plan, design, found),
        "edits": [{"path": e.path, "text": e.text} for e in made],
    }
