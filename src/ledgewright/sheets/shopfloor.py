"""Pages for the shop: plan, section, core map, parts."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from ledgewright import plane
from ledgewright.judge import Design
from ledgewright.layout import end_fits
from ledgewright.plan import Plan
from ledgewright.sheets import cuts, views
from ledgewright.sheets.corewords import by_number, core_facts, core_rules
from ledgewright.sheets.leaves import Held, core_notes, held_part, named
from ledgewright.sheets.model import (
    CoreSheet,
    Figure,
    Note,
    PartsSheet,
    Picture,
    PlanSheet,
    SectionSheet,
    Table,
)
from ledgewright.sheets.plainly import told_below
from ledgewright.sheets.say import Say
from ledgewright.units import show_angle


def plan_sheet(plan: Plan, design: Design, picture: Picture | None) -> PlanSheet:
    """Return one shelf from above, with its own sizes.

    Args:
        plan: the whole job.
        design: the shelf.
        picture: the plan drawing.
    """
    say, frame = Say.of(plan.job.meta), design.frame
    legs = tuple(
        Figure(f"Leg on wall {design.room.wall(g.wall).called}", say.length(g.end - g.start), "")
        for g in frame.legs
    )
    return PlanSheet(
        title="Plan",
        about=f"shelf {design.spec.title}, from above",
        unit=say.unit,
        picture=picture,
        facts=(
            *legs,
            *_deep(design, say),
            *_high(plan, design),
        ),
        notes=(
            *_corners(design),
            *_joint(design, say),
            *_ends((design,), say),
            *_lying(plan, design),
        ),
    )


def whole_plan_sheet(plan: Plan, sections: Sequence[Design], picture: Picture | None) -> PlanSheet:
    """Return a shelf in sections from above, with all of them at home.

    Args:
        plan: the whole job.
        sections: of the shelf, as they hang.
        picture: the plan drawing.
    """
    say, first = Say.of(plan.job.meta), sections[0]
    deep = tuple(dict.fromkeys(fact for each in sections for fact in _deep(each, say)))
    return PlanSheet(
        title="Plan",
        about=f"shelf {first.spec.whole}, all sections, from above",
        unit=say.unit,
        picture=picture,
        facts=(
            *_overall(sections, say),
            *deep,
            *_high(plan, first),
        ),
        notes=(
            *_corners(first),
            Note(
                "Sections",
                tuple(
                    f"Section {k} hangs {'first' if k == 1 else 'next'}: "
                    + ", ".join(
                        f"{say.length(g.end - g.start)} on wall {each.room.wall(g.wall).called}"
                        for g in each.frame.legs
                    )
                    + f", {say.mass(each.bill.mass)}."
                    for k, each in enumerate(sections, 1)
                ),
            ),
            *_ends(sections, say),
        ),
    )


CAULKED = 5.0
"""A gap no wider than this goes under caulk without a word (mm; common practice)."""


def _ends(sections: Sequence[Design], say: Say) -> Iterator[Note]:
    """How far ends that are cut square stand off the wall beside them."""
    lines = tuple(
        f"{fit.side.capitalize()} end on wall {each.room.wall(fit.wall).called}: {say.length(fit.back)} off the wall "
        f"at the back, {say.length(fit.front)} at the front."
        for each in sections
        for fit in end_fits(each.room, each.spec)
        if fit.how == "caulk" and max(fit.back, fit.front) > CAULKED
    )
    if lines:
        yield Note("Ends cut square and caulked", lines)


def _overall(sections: Sequence[Design], say: Say) -> Iterator[Figure]:
    """How far the whole shelf reaches along each of its walls."""
    for mark, length in views.overall(sections):
        yield Figure(f"Along wall {mark}", say.length(length), "all of it")


def _high(plan: Plan, design: Design) -> tuple[Figure, Figure]:
    """How thick it is, and how high its top."""
    say, frame = Say.of(plan.job.meta), design.frame
    return (
        Figure("Thickness", say.length(frame.thick), "finished, both skins and core"),
        Figure("Top face", say.length(frame.top), f"above {_datum(plan)}"),
    )


def _deep(design: Design, say: Say) -> Iterator[Figure]:
    """How deep it is: once, or of each leg where they differ."""
    legs = design.frame.legs
    alike = len({leg.depth for leg in legs}) == 1
    for leg in legs[: 1 if alike else None]:
        of = "" if alike else f" on wall {design.room.wall(leg.wall).mark}"
        yield Figure(f"Depth{of}", say.length(leg.depth), "from the proudest point of the wall")


def _lying(plan: Plan, design: Design) -> tuple[Note, ...]:
    """How it lies to the strings, how high its top stands, what its timber needs; nothing that has nothing to say."""
    say = Say.of(plan.job.meta)
    turned = design.placed is not None and (design.placed.turn or design.placed.askew)
    found = (
        ("How it lies", (*cuts.lies(design, say), *cuts.ledger(design, say)) if turned else ()),
        ("Heights", cuts.heights(design, say)),
        ("Room for solid timber to move", cuts.movement(design, say)),
    )
    return tuple(Note(head, lines) for head, lines in found if lines)


def section_sheet(plan: Plan, design: Design, pictures: tuple[Picture, ...]) -> SectionSheet:
    """Return the section through a rod of each sort; only for walls that may be drilled.

    Args:
        plan: the whole job.
        design: the shelf.
        pictures: one section for each sort of rod.
    """
    say = Say.of(plan.job.meta)
    spec = design.spec
    return SectionSheet(
        title=f"Section through a {say.word('rod')}",
        about=f"shelf {spec.title}, cut square to the wall",
        unit=say.unit,
        pictures=pictures,
        facts=(
            Figure("Top skin", say.thickness(spec.skin_top.thick), spec.skin_top.panel.name),
            Figure("Core", say.thickness(spec.core.thick), spec.core.of.name),
            Figure(
                "Bottom skin", say.thickness(spec.skin_bottom.thick), spec.skin_bottom.panel.name
            ),
            Figure(
                say.word("edging").capitalize(), say.thickness(spec.edging_thick), spec.edging.name
            ),
        ),
    )


def core_sheet(
    plan: Plan,
    design: Design,
    picture: Picture | None,
    held: Held,
    *,
    spans: Sequence[tuple[float, float]] = (),
    stretch: int = 1,
) -> CoreSheet:
    """Return the core map with its pieces; of a shelf too long for one map, that of one stretch.

    Args:
        plan: the whole job.
        design: the shelf.
        picture: the map; None where a wall is not confirmed.
        held: walls that are not confirmed; with any there is no map and no list of pieces.
        spans: the stretches of such a shelf, alongs of its wall; one, or none, where the map shows it whole.
        stretch: which, from 1; rules for the whole stand with the first.
    """
    say, core = Say.of(plan.job.meta), design.core
    short = tuple(told_below(by_number(n, core), plan) for n in core_notes(design, held))
    first = plan.job.meta.order == "rods first"
    rule = (
        f"Do not cut the core before the {say.word('rods')} are set, read and the readings signed."
    )
    part = f", stretch {stretch} of {len(spans)}" if len(spans) > 1 and not held else ""
    shown = views.within(design, spans[stretch - 1]) if part else design
    head = CoreSheet(
        title="Core map",
        about=f"shelf {design.spec.title}, from above, top skin off{part}",
        unit=say.unit,
        picture=picture,
        hold=_no_map(design, held) or (rule if first else ""),
        pieces=_pieces(design, shown, say) if core and not held else Table((), (), (), ()),
        notes=(),
    )
    if stretch > 1:
        return head
    return replace(
        head,
        notes=(
            *((Note("Short of what it needs", short),) if short else ()),
            Note(
                "On the bench",
                (
                    "Mark the blank TOP and BACK; strike its finished size on it.",
                    _set_back(design, say),
                    "Lay it all out dry, a piece of bar in every slot, before glue is mixed.",
                    "No screw, pin or brad anywhere in a slot or a slide slot.",
                ),
            ),
            *(core_rules(design, say, plan.designs) if not held else ()),
        ),
        facts=core_facts(design, say) if not held else (),
    )


def _set_back(design: Design, say: Say) -> str:
    """Where the core ends: flush but where the skins may be scribed, and so far from the skins' back."""
    stands = set_back(design)
    back = "back from the wall" if stands is None else f"{say.length(stands)} in at the back"
    ends = "; ends as drawn" if design.spec.ends == "tight" else " and at its ends"
    return f"Core flush with it in front{ends}, {back}."


def set_back(design: Design) -> float | None:
    """Return how far in from the back of the blank the back strips stand, square to their wall; None without any.

    Args:
        design: the shelf.
    """
    found = []
    for strip in design.core.pieces if design.core else ():
        middle = plane.centroid(strip.plan)
        for leg in design.frame.legs if strip.kind == "back strip" else ():
            back = plane.scale(design.room.wall(leg.wall).outward, -1.0)
            skins, own = (
                max((far for _, far in views.crossings(ring, middle, back)), default=0.0)
                for ring in (design.frame.blank, strip.plan)
            )
            found.append(skins - own)
    return min(found, default=None)


def _no_map(design: Design, held: Held) -> str:
    if not held:
        return ""
    return (
        f"No core map yet: {named(design, held)} is not confirmed, and the slots of a core follow the holes in the "
        "wall. It is printed as soon as the wall is confirmed."
    )


_SIZES = (
    "Length along the grain × width × thickness. Rough is what to saw; finished is after glue and trim, before the "
    "scribe: what the wall takes off is still on it."
)


def parts_sheet(plan: Plan, design: Design, held: Held) -> PartsSheet:
    """Return the parts with letters, finished and rough.

    Args:
        plan: the whole job.
        design: the shelf.
        held: walls that are not confirmed: no size of their rods, nor of a piece beside their slots, is printed.
    """
    say = Say.of(plan.job.meta)
    rows = []
    for part in design.parts:
        hidden = held_part(design, part, held)
        sizes = (part.finished, part.rough)
        shown = ("withheld",) * 2 if hidden else tuple(map(say.size, sizes))
        rows.append((part.letter, part.name, part.of, str(part.count), *shown))
    return PartsSheet(
        title="Parts",
        about=f"shelf {design.spec.title}",
        unit=say.unit,
        parts=Table(
            heads=("Part", "What", "Of", "Count", "Finished", "Rough"),
            widths=(11, 42, 29, 13, 45, 45),
            figures=(),
            rows=tuple(rows),
        ),
        notes=(
            Note("Reading the sizes", (_SIZES,)),
            *_withheld_parts(design, held),
            *_part_notes(design),
            *_joint(design, say),
        ),
    )


def _joint(design: Design, say: Say) -> tuple[Note, ...]:
    lines = cuts.joint_ends(design, say)
    meets = any("joint" in (leg.left_end, leg.right_end) for leg in design.frame.legs)
    return (Note("Joint" if meets else "End past the corner", lines),) if lines else ()


def _withheld_parts(design: Design, held: Held) -> tuple[Note, ...]:
    if not held:
        return ()
    said = (
        f"Sizes that would say where the holes are come with {named(design, held)}: confirm it, put what you found "
        "in the job file, and print this packet again."
    )
    return (Note("Withheld", (said,)),)


def _part_notes(design: Design) -> tuple[Note, ...]:
    by_note: dict[str, list[str]] = {}
    for part in design.parts:
        if part.note:
            by_note.setdefault(part.note, []).append(part.letter)
    lines = tuple(f"{letter_runs(letters)}: {note}." for note, letters in by_note.items())
    return (Note("Notes to the parts", lines),) if lines else ()


def letter_runs(letters: Sequence[str]) -> str:
    """Return part letters with neighbours drawn together: C1, C2, C3, E1 is "C1 to C3, E1"."""
    runs: list[list[str]] = []
    for letter in letters:
        if runs and _next(runs[-1][-1]) == letter:
            runs[-1].append(letter)
        else:
            runs.append([letter])
    return ", ".join(", ".join(r) if len(r) < 3 else f"{r[0]} to {r[-1]}" for r in runs)


def _next(letter: str) -> str:
    head = letter.rstrip("0123456789")
    return f"{head}{int(letter[len(head) :] or 0) + 1}"


def _pieces(design: Design, shown: Design, say: Say) -> Table:
    """The pieces that are shown, by their number in the whole shelf and at their whole length."""
    there = {p.id for p in (shown.core.pieces if shown.core else ())}
    pieces = [p for p in (design.core.pieces if design.core else ()) if p.id in there]
    number = views.piece_numbers(design.core)
    letter = {piece: part.letter for part in design.parts for piece in part.pieces}
    thick = say.caliper(design.spec.core.thick)
    return Table(
        heads=("No.", "Part", "What", "Length", "Width", "Thick"),
        widths=(13, 14, 40, 30, 22, 20),
        figures=(3, 4, 5),
        rows=tuple(
            (
                number[p.id],
                letter.get(p.id, ""),
                p.kind,
                say.bare(p.length),
                say.bare(p.width),
                thick,
            )
            for p in pieces
        ),
    )


def _corners(design: Design) -> tuple[Note, ...]:
    lines = tuple(
        f"Walls {design.room.wall(c.left).called} and {design.room.wall(c.right).called} meet at "
        f"{show_angle(c.angle)}, measured inside the room"
        + (
            f": {show_angle(2 * math.pi - c.angle)} on a bevel laid over the corner."
            if c.turn == "outside"
            else "."
        )
        for c in design.room.corners
    )
    return (Note("Corners" if len(lines) > 1 else "Corner", lines),) if lines else ()


def _datum(plan: Plan) -> str:
    return plan.job.tapes.datum or "the datum"
