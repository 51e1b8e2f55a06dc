"""The answer of `site`: how sure the figures of the place are, and what is known of every wall."""

from __future__ import annotations

import math
import textwrap
from typing import Any

from ledgewright.plan import Plan
from ledgewright.sheets import as_set, guide_sheet, handover
from ledgewright.sheets.documents import head, number
from ledgewright.sheets.measured import (
    COVERS,
    again_text,
    figure_words,
    more_text,
    more_than_needed,
    to_take_again,
)
from ledgewright.sheets.plainly import plain_place
from ledgewright.sheets.say import Say
from ledgewright.sheets.spoken import own_names
from ledgewright.site import Drill, Withheld
from ledgewright.survey import Figure, Wall

Json = dict[str, Any]


def ready(plan: Plan) -> bool:
    """Say whether nothing is to be taken again and every wall with rods may be drilled.

    Args:
        plan: the whole job.
    """
    held = any(isinstance(leave, Withheld) for _, _, leave in plan.leave)
    return bool(plan.designs) and not to_take_again(plan) and not held


def site_text(plan: Plan) -> str:
    """Return the answer of `site` for people: what to take again, how sure all is, what is known of the walls.

    Args:
        plan: the whole job.
    """
    say = Say.of(plan.job.meta, own_names(plan))
    lines = [f"{plan.job.meta.name}: {say.word('survey')}"]
    if plan.designs:
        lines += _measure(plan, say)
    for wall in plan.designs[0].room.walls if plan.designs else ():
        lines += _wall(plan, wall)
    lines += _holes(plan, say)
    for design in plan.designs:
        guides = guide_sheet.told(plan, design, say)
        lines += (
            ["", f"Ledger and guide block, shelf {design.spec.title}:", *_wrapped(guides)]
            if guides
            else []
        )
    lines += _wrapped(as_set.lines(plan))
    for design in plan.designs:
        lines += ["", *_wrapped(handover.lines(plan, design))]
    return "\n".join(say.text(line) for line in lines) + "\n"


def _measure(plan: Plan, say: Say) -> list[str]:
    lines, room = [], plan.designs[0].room
    for whole in room.wholes:
        what = "heights of walls" if whole.heights else "walls"
        said = "fit together" if whole.total <= whole.limit else "DO NOT FIT TOGETHER"
        surplus = more_than_needed(whole) if whole.surplus else "nothing checks them"
        lines.append(
            f"  {what} {', '.join(room.wall(wall).called for wall in whole.walls)}: {said}; {surplus}"
        )
    again = [again_text(note.text, note.slip, say) for note in to_take_again(plan)]
    more = [more_text(room, each, say) for each in room.more]
    lines += _under("Take again:", again) + _under("One tape more would settle most:", more)
    taped = [f for f in room.figures if f.kind in ("tape", "height")]
    lines += ["", *_figures(taped, say)]
    for corner in room.corners:
        ends = [room.wall(each).called for each in (corner.left, corner.right)]
        angle, sd = math.degrees(corner.angle), COVERS * math.degrees(corner.sd)
        lines.append(
            f"  corner of walls {ends[0]} and {ends[1]}: {angle:.2f} degrees, within {sd:.2f}"
        )
    return lines


def _under(title: str, items: list[str]) -> list[str]:
    wrapped = [textwrap.fill(i, 96, initial_indent="  - ", subsequent_indent="    ") for i in items]
    return ["", title, *wrapped] if items else []


def _figures(taped: list[Figure], say: Say) -> list[str]:
    rows = [
        ("figure", "read", "adjusted", "within", "a slip shows from", "one unseen shifts a wall by")
    ]
    rows += [
        (
            f"{figure_words(f)}{' (TAKE AGAIN)' if f.again else ''}",
            say.caliper(f.read),
            say.caliper(f.adjusted),
            say.drop(COVERS * f.sd),
            "never" if f.finds is None else say.up(f.finds),
            "any amount" if f.hides is None else say.up(f.hides),
        )
        for f in taped
    ]
    widths = [max(len(row[k]) for row in rows) for k in range(6)]
    return [
        "  " + "  ".join(c.ljust(w) for c, w in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]


def _wall(plan: Plan, wall: Wall) -> list[str]:
    known = wall.known
    by = f" by {known.by}" if known.by else ""
    lines = ["", f"Wall {wall.called}: {known.how}{by}; carries load: {known.bearing}"]
    lines += [f"  behind it: {known.services or 'pipes and cables not ruled out'}"]
    asked = [
        q
        for _, name, leave in plan.leave
        if name == wall.id and isinstance(leave, Withheld)
        for q in leave.questions
    ]
    if asked:
        lines.append("  may not be drilled yet:")
        lines += _under("", list(dict.fromkeys(asked)))[2:]
    lost = [f"{m.id} ({m.lost})" for m in wall.members if m.lost]
    if lost:
        lines.append(f"  no rod may go into: {', '.join(lost)}")
    opened = [i for i in plan.job.open_items if i.path.startswith(f"wall.{wall.id}.")]
    lines += [f"  open, {plain_place(i.path, plan.job.tapes)}: {i.costs}" for i in opened]
    return lines


def _wrapped(lines: list[str]) -> list[str]:
    """Sentences folded; tables, whose columns stand apart by two blanks or more, as they are."""
    return [
        line
        if "  " in line.strip() or len(line) <= 100
        else textwrap.fill(line.strip(), 98, initial_indent="  ", subsequent_indent="    ")
        for line in lines
    ]


def _holes(plan: Plan, say: Say) -> list[str]:
    lines = [
        f"  {hole.mark} of shelf {shelf}: {say.down(hole.wood)} of wood between it and the nearer edge, within "
        f"{say.drop(COVERS * hole.edge_sd)}: at least {say.down(hole.sure_wood(COVERS))}"
        for shelf, _, leave in plan.leave
        if isinstance(leave, Drill)
        for hole in leave.holes
    ]
    return ["", "Wood beside each hole:", *lines] if lines else []


def site_document(plan: Plan) -> Json:
    """Return the answer of `site` as a JSON document; it keeps to `site_schema`.

    Args:
        plan: the whole job.
    """
    room = plan.designs[0].room if plan.designs else None
    return {
        **head(plan.job),
        "ready": ready(plan),
        "tests": [
            {
                "walls": list(w.walls),
                "heights": w.heights,
                "surplus": w.surplus,
                "total": number(w.total),
                "limit": number(w.limit) if math.isfinite(w.limit) else None,
                "scatter": number(w.scatter),
            }
            for w in (room.wholes if room else ())
        ],
        "figures": [_figure(f) for f in (room.figures if room else ())],
        "corners": [
            {"walls": [c.left, c.right], "angle": number(c.angle), "sd": number(c.sd)}
            for c in (room.corners if room else ())
        ],
        "heights": [
            {
                "wall": h.wall,
                "along": None if h.along is None else number(h.along),
                "letter": h.letter,
                "up": number(h.up),
                "sd": number(h.sd),
            }
            for h in (room.heights if room else ())
        ],
        "take_again": [
            {
                "path": r.path,
                "text": r.text,
                "figures": list(r.figures),
                "reads_too_much": None if r.slip is None else number(r.slip),
            }
            for r in to_take_again(plan)
        ],
        "one_more": [
            {
                "marks": [{"wall": wall, "along": number(along)} for wall, along in m.marks],
                "checks": m.checks,
                "holds": m.holds,
            }
            for m in (room.more if room else ())
        ],
        "walls": [_wall_document(plan, wall) for wall in (room.walls if room else ())],
        "shelves": [
            {
                **as_set.document(plan, design),
                "guides": guide_sheet.document(plan, design),
                "load_test": handover.document(plan, design),
            }
            for design in plan.designs
        ],
    }


def _figure(figure: Figure) -> Json:
    return {
        "path": figure.path,
        "what": figure_words(figure),
        "kind": figure.kind,
        "unit": "rad" if figure.kind == "angle" else "mm",
        "read": number(figure.read),
        "adjusted": number(figure.adjusted),
        "sd": number(figure.sd),
        "sd_read": number(figure.sd_read),
        "share": number(figure.share),
        "finds": None if figure.finds is None else number(figure.finds),
        "hides": None if figure.hides is None else number(figure.hides),
        "test": number(figure.test),
        "take_again": figure.again,
    }


def _wall_document(plan: Plan, wall: Wall) -> Json:
    known = wall.known
    leaves = [(shelf, leave) for shelf, name, leave in plan.leave if name == wall.id]
    questions = [q for _, leave in leaves if isinstance(leave, Withheld) for q in leave.questions]
    return {
        "id": wall.id,
        "known": {
            "how": known.how,
            "by": known.by,
            "on": known.on.isoformat() if known.on else None,
            "up": None if known.up is None else number(known.up),
            "bearing": known.bearing,
            "services": known.services,
            "fire": known.fire,
            "photos": [p for p in (known.photo, *known.photos) if p],
            "engineer": known.engineer,
        },
        "may_be_drilled": bool(leaves) and not questions,
        "questions": list(dict.fromkeys(questions)),
        "open_items": [
            {"path": i.path, "costs": i.costs}
            for i in plan.job.open_items
            if i.path.startswith(f"wall.{wall.id}.")
        ],
        "lost": [{"member": m.id, "why": m.lost} for m in wall.members if m.lost],
        "holes": [
            {"rod": h.mark, "shelf": shelf, "edge": number(h.edge), "sd": number(h.edge_sd)}
            for shelf, leave in leaves
            if isinstance(leave, Drill)
            for h in leave.holes
        ],
    }
