"""One card for each wall: where to drill, or what to find out before anybody may."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence

from ledgewright.judge import Design
from ledgewright.layout import BESIDE, LegAt, Rod
from ledgewright.plan import Plan
from ledgewright.sheets import as_set, cuts
from ledgewright.sheets.bounds import narrow
from ledgewright.sheets.cautions import BORED_THROUGH, PLUGGED, comes_out, past_timber
from ledgewright.sheets.dressing import underneath
from ledgewright.sheets.model import DrillCard, Figure, Picture, SetCard, Table, WithheldCard
from ledgewright.sheets.say import Say, listed
from ledgewright.sheets.views.common import extent
from ledgewright.shop import adhesive_in_hole
from ledgewright.site import Drill, Guide, Held, Hole, Withheld, guide
from ledgewright.statics import State, goes_in
from ledgewright.stock import Adhesive
from ledgewright.survey import Member, Wall

_WARNING: dict[State, str] = {
    "passes": "",
    "fails": "Do not drill for this shelf: as drawn it does not hold.",
    "cannot say": "Do not drill yet: nobody can say so far whether this shelf holds.",
}
_ELSEWHERE = "Do not drill yet: another shelf or section of this job is not shown to hold."
_STOP = (
    "Past the lining the pilot goes through anything that is not wood, or the wood ends early.",
    "Metal, a cable, a pipe, water, or a hollow sound where there should be wood.",
    "The wall is not what this card says it is.",
)
CORNER, LINE, SMALL = 150.0, 50.0, 300.0
"""Cables run within this of a corner, and straight up or down, within this, from what is no wider than this, as sockets
and switches are (mm; common practice, and the zones of BS 7671 522.6, from memory)."""

HALF_A_DRILL = 75.0
"""A drill with its side handle is about so wide to a side (mm; 3 in, common practice)."""


CLOCK = "___:___"
"""A box for the time of day, as it is written by hand."""


def drill_card(plan: Plan, design: Design, leave: Drill, picture: Picture | None) -> DrillCard:
    """Return the card of a wall that may be drilled; its figures come from the leave alone.

    Args:
        plan: the whole job.
        design: the shelf.
        leave: leave to drill this wall.
        picture: the wall as faced.
    """
    say, wall, spec = Say.of(plan.job.meta), design.room.wall(leave.wall), design.spec
    holes, warned = tuple(sorted(leave.holes, key=lambda h: h.taped)), warning(plan, design)
    return DrillCard(
        title=f"Drill card, wall {wall.called}",
        about=_about(design) + (f", {picture.scale}" if picture else ""),
        unit=say.unit,
        picture=picture,
        warning=warned,
        known=say.word("confirmed").capitalize(),
        evidence=leave.evidence,
        services=wall.known.services or "",
        direction=" ".join((leave.direction, *cuts.ledger(design, say, wall.id))),
        holes=_holes(holes, wall, say, _not_bored(design, wall, say)),
        ticks=(
            *_ticks(say, _guided(plan, design, leave, say), likeliest(design, wall, holes, say)),
            _found_again(say, (spec.top - spec.thick, spec.top), holes),
            *cramped(design, wall, holes, say),
            *(() if warned else narrow(plan, design, wall.id)),
            *_held(design, wall, say),
            *_tiled(wall, say, guide(design.room, design.as_drawn, leave, plan.job.meta.units)),
            *((_template(say),) if plan.job.meta.order == "shelf first" else ()),
        ),
        stop=(
            *_STOP,
            *_past(design, wall, say),
            *_through(_behind(design, wall, say)),
            _lost(plan, design, wall, say),
        ),
    )


def has_tile(lining: Sequence[tuple[str, float]]) -> bool:
    """Return whether there is tile among the layers of a wall, by their names."""
    return any("tile" in name.lower() for name, _ in lining)


def _template(say: Say) -> str:
    """How the template off the core is made, and what counts where it and the tape differ; common practice."""
    far = '1/16"' if say.units == "in" else "1.5 mm"
    return (
        "Template: a straight strip held to the back of the core, the middles of its slots and its end squared onto "
        "it; level on the wall it checks every mark. "
        f"Over {far} off the tape's figure, which counts: stop, find out why."
    )


def _tiled(wall: Wall, say: Say, found: Guide | None) -> tuple[str, ...]:
    """What goes through tile before the wood bit; common practice. Nothing where there is none."""
    if not has_tile(wall.lining):
        return ()
    layers = ", ".join(f"{name} {say.thickness(thick)}" for name, thick in wall.lining)
    clear = f" but not over {say.down(2 * found.over)}, clear of the ledger" if found else ""
    first = f"Through tile a tile bit for the pilot and a core bit wider than the hole{clear}, wet, no hammer"
    return (f"From the face in: {layers}. {first}; only then the bits for wood.",)


def _lost(plan: Plan, design: Design, wall: Wall, say: Say) -> str:
    """What to do with a lost hole: where else on this wall a rod of this shelf could go."""
    leg = next(leg for leg in design.frame.legs if leg.wall == wall.id)
    free = sorted(
        abs(wall.taped(m.centre))
        for m in wall.members
        if not m.lost and _takes_one(plan, design, leg, m)
    )
    told = "A hole is lost: mark it dead, stop, never reuse it."
    if not free:
        return f"{told} No other wood takes a rod: ask the designer."
    wood = listed([say.bare(at) for at in free])
    return f"{told} Drill on only once the job passes with other wood (middle at {wood})."


def _takes_one(plan: Plan, design: Design, leg: LegAt, member: Member) -> bool:
    """Whether a rod as on this wall goes into a member: none in it yet, behind the shelf, high and deep enough."""
    rods = [rod for rod in design.frame.rods if rod.wall == leg.wall]
    others = [each for each in plan.designs if each.spec.id != design.spec.id]
    taken = any(
        (rod.wall, rod.member) == (leg.wall, member.id)
        for each in (design, *others)
        for rod in each.frame.rods
    )
    beside = design.spec.edging_thick + max(r.bar.width + r.clearance.side for r in rods)
    deep = goes_in(member)
    held = member.kind == "stud" if deep is None else deep > max(rod.embedment for rod in rods)
    return (
        not taken
        and held
        and leg.start + beside <= member.centre <= leg.end - beside
        and all(_high_enough(member, rod) for rod in rods)
    )


def _high_enough(member: Member, rod: Rod) -> bool:
    if member.up is None:
        return True
    over, z = rod.hole / 2 + BESIDE, rod.origin[2]
    return member.up[0] + over <= z <= member.up[1] - over


def likeliest(design: Design, wall: Wall, holes: Sequence[Hole], say: Say) -> str:
    """Return where cables are likeliest behind the holes of a wall, as a clause; empty if nowhere in particular.

    Args:
        design: the shelf.
        wall: the wall.
        holes: its holes.
        say: how the job writes.
    """
    found: dict[str, list[str]] = {}
    corners = [
        wall.figures(corner.at)[0]
        for corner in design.room.corners
        if wall.id in (corner.left, corner.right)
    ]
    for hole in holes:
        at = wall.taped(hole.taped)
        if any(abs(at - corner) < CORNER for corner in corners):
            found.setdefault(f"within {say.about(CORNER)} of a corner", []).append(hole.mark)
        for item in design.room.obstacles:
            low, high = extent(wall, item)
            if item.wall == wall.id and high - low <= SMALL and low - LINE < at < high + LINE:
                found.setdefault(f"in line with {item.id}", []).append(hole.mark)
    return "; ".join(f"{listed(marks)} {where}" for where, marks in found.items())


def cramped(design: Design, wall: Wall, holes: Sequence[Hole], say: Say) -> tuple[str, ...]:
    """Return what to try where the wall beside a hole leaves little room for a drill; empty if none does.

    Source: common practice: a drill is up to 150 mm across its handle, 75 to a side.

    Args:
        design: the shelf.
        wall: the wall.
        holes: its holes.
        say: how the job writes.
    """
    near = []
    for corner in design.room.corners:
        if corner.turn == "inside" and wall.id in (corner.left, corner.right):
            beside = design.room.wall(corner.right if corner.left == wall.id else corner.left)
            at = wall.figures(corner.at)[0]
            near += [
                f"{hole.mark} is {say.down(abs(wall.taped(hole.taped) - at))} from wall {beside.called}"
                for hole in holes
                if abs(wall.taped(hole.taped) - at) < HALF_A_DRILL
            ]
    if not near:
        return ()
    return (
        f"Drill offered up dry, bit in: {'; '.join(near)}. Where it does not run square, a right-angle drill.",
    )


def warning(plan: Plan, design: Design) -> str:
    """Return what stands on every sheet that tells of holes or rods; empty only if the whole job passes.

    Args:
        plan: the whole job.
        design: the shelf.
    """
    own = _WARNING[design.holds.verdict if design.way else "fails"]
    return own or ("" if plan.verdict == "passes" else _ELSEWHERE)


def set_card(plan: Plan, design: Design, leave: Drill) -> SetCard:
    """Return the card for setting the rods of a wall that may be drilled.

    Source: common practice: 10 C colder doubles the waits of the label, and the comb
    stays on half as long again. Rounded up to the hour. Colder than the adhesive's least: no wait helps.

    Args:
        plan: the whole job.
        design: the shelf.
        leave: leave to drill this wall.
    """
    say, wall = Say.of(plan.job.meta), design.room.wall(leave.wall)
    holes = tuple(sorted(leave.holes, key=lambda h: h.taped))
    glues = {r.adhesive for r in design.frame.rods if r.wall == wall.id}
    return SetCard(
        title=f"Set card, wall {wall.called}",
        about=_about(design),
        unit=say.unit,
        warning=warning(plan, design),
        rods=_setting(design, holes, say),
        facts=_waits(plan, sorted(glues, key=lambda a: a.name), say),
        ticks=(
            *_order(
                say,
                _behind(design, wall, say),
                underneath(design, wall.id),
                combs(guide(design.room, design.as_drawn, leave, plan.job.meta.units)),
            ),
            *cuts.nose_up(design, wall.id, say),
            *filter(None, (as_set.allowance(plan, design, leave),)),
        ),
        stop=(*_past(design, wall, say), *_too_cold(plan, glues, say)),
    )


def _waits(plan: Plan, glues: list[Adhesive], say: Say) -> tuple[Figure, ...]:
    warm = plan.job.site.temperature
    slower = 2.0 ** max(0.0, (20.0 - warm) / 10.0)
    figures = [Figure("On the day", say.temperature(warm), "as the job says; measure it")]
    for glue in glues:
        alone, load = (
            math.ceil(h * slower - 1e-9) for h in (glue.leave_alone * 1.5, glue.full_load)
        )
        figures += [
            Figure("Adhesive", glue.name, "the label has the last word"),
            Figure("Comb stays on", f"{alone} h", "at least, then try one for movement"),
            Figure("Nothing hung before", f"{load} h", "after the last one is set"),
        ]
    return tuple(figures)


_HELD_BY: tuple[Held, ...] = ("bar", "own", "wedges")


def combs(found: Guide | None) -> str:
    """Return what holds the rods of a wall until the cure, as a clause.

    Args:
        found: its guide.
    """
    if found is None:
        return "Comb bar on the tips"
    bar, own, wedged = (
        listed(marks) if (marks := [m.rod for m in found.held(by)]) else "" for by in _HELD_BY
    )
    each = "a comb of its own" if len(found.held("own")) == 1 else "combs of their own"
    told = [
        *([f"{own} in {each}, as on the guide page"] if own else []),
        *([f"{wedged} wedged in the mouth of the hole"] if wedged else []),
        *([f"comb bar on the tips{f' of {bar}' if own or wedged else ''}"] if bar else []),
    ]
    clause = ", then ".join(filter(None, ("; ".join(told[:-1]), told[-1])))
    return clause[:1].upper() + clause[1:]


def _order(say: Say, behind: str, flats: Sequence[str], held: str) -> tuple[str, ...]:
    rods = say.word("rods")
    return (
        "Holes brushed and vacuumed twice; dry run with every length; depth flags on.",
        *((f"Open behind: {behind}. {PLUGGED}",) if behind else ()),
        f"Bonded ends of the {rods} clean, abraded, free of oil; gloves on.",
        "Each hole filled from the back; twisted in to the flag; squeeze-out wiped off the face.",
        *flats,
        f"{held}, level and in line; day and clock written in the boxes above.",
    )


def _too_cold(plan: Plan, glues: set[Adhesive], say: Say) -> tuple[str, ...]:
    cold = [g for g in glues if plan.job.site.temperature < g.coldest]
    least = max((g.coldest for g in glues), default=0.0)
    told = (
        f"Wall or air is below {say.temperature(least)}: it will not cure, however long you wait."
    )
    return (
        *((f"It is too cold as planned. {told}",) if cold else (told,)),
        f"A {say.word('rod')} turns or rocks when the comb comes off, or the mix was past its time.",
    )


def withheld_card(
    plan: Plan, design: Design, leave: Withheld, picture: Picture | None
) -> WithheldCard:
    """Return the card of a wall nobody may drill yet; it carries no figure of a hole.

    Args:
        plan: the whole job.
        design: the shelf.
        leave: what has to be answered.
        picture: the wall as faced, without rods.
    """
    say, wall = Say.of(plan.job.meta), design.room.wall(leave.wall)
    return WithheldCard(
        title=f"Wall {wall.called}: not confirmed",
        about=_about(design),
        unit=say.unit,
        warning="Do not drill this wall",
        picture=picture,
        questions=leave.questions,
        services=wall.known.services or "",
        rule="No hole is given here until someone has seen what is behind this wall at shelf height. "
        "Write the answers below, put them in the job file, and print this packet again.",
    )


def _about(design: Design) -> str:
    return f"shelf {design.spec.title}"


def _holes(holes: tuple[Hole, ...], wall: Wall, say: Say, never: Collection[str]) -> Table:
    """The holes of a wall; those never to be bored, by their marks, have no depth."""
    return Table(
        heads=(
            say.word("Rod"),
            f"{say.word('Center')} at face, from {wall.tape_from} end",
            "Stud edges, same tape" if not any(h.block for h in holes) else "Edges of the wood",
            f"Height of {say.word('center')}",
            "Bit",
            "Stop: face to cutting edges",
            "Pilot",
            "Wood all the way",
        ),
        widths=(14, 30, 40, 21, 14, 22, 16, 20),
        figures=(),
        rows=tuple(
            (
                h.mark,
                say.bare(h.taped),
                _edges(h, say),
                say.height(h.up),
                say.bare(h.bit),
                "not bored" if h.mark in never else say.bare(h.depth_from_face),
                "[]",
                "[]",
            )
            for h in holes
        ),
        keys=(0, 1),
    )


def _edges(hole: Hole, say: Say) -> str:
    """Between which edges it is bored: of a stud on the tape, of blocking in height."""
    edges, up = (hole.edges, "") if hole.block is None else (hole.block, " up")
    return f"{say.bare(edges[0])} to {say.bare(edges[1])}{up}"


def grams(rod: Rod) -> int:
    """Return the adhesive to mix for one rod, in whole grams, rounded up."""
    return math.ceil(adhesive_in_hole(rod) * 1e-9 * rod.adhesive.density * 1e3 - 1e-9)


def _setting(design: Design, holes: tuple[Hole, ...], say: Say) -> Table:
    mixed = {rod.mark: str(grams(rod)) for rod in design.frame.rods}
    return Table(
        heads=(
            say.word("Rod"),
            "Cut length",
            say.word("projection").capitalize() + " from face",
            say.word("embedment").capitalize(),
            "Mix, grams",
            "Mixed at",
            "Set at",
            "Comb off at",
            "Load at",
        ),
        widths=(12, 24, 26, 24, 18, 21, 21, 21, 21),
        figures=(),
        rows=tuple(
            (
                h.mark,
                say.bare(h.cut_length),
                say.bare(h.stick_out),
                say.bare(h.depth_in_wood),
                mixed[h.mark],
                *(CLOCK,) * 4,
            )
            for h in holes
        ),
        keys=(0, 1),
    )


def _held(design: Design, wall: Wall, say: Say) -> tuple[str, ...]:
    """What holds the ends of every block that a rod goes into; the answer counts on it."""
    rods = {rod.member for rod in design.frame.rods if rod.wall == wall.id}
    told: dict[str, list[str]] = {}
    for block in (m for m in wall.members if m.kind == "blocking" and m.id in rods):
        ends = sorted((wall.taped(block.left), wall.taped(block.right)))
        by, apart = block.fixed, ""
        how = "nobody has said what holds its ends. Find out before the holes."
        if by is not None:
            if by.each_end > 1:
                apart = f", the outermost {say.length(by.apart)} apart"
            how = f"each end held by {by.each_end} of {by.driven.name}, {by.how}{apart}."
        deep = goes_in(block)
        lies = "" if deep is None else f" ({say.down(deep)} deep behind the lining)"
        told.setdefault(how, []).append(f"{say.bare(ends[0])} to {say.bare(ends[1])}{lies}")
    name = say.word("blocking").capitalize()
    return tuple(f"{name} {listed(spans)}: {how}" for how, spans in told.items())


def _guided(plan: Plan, design: Design, leave: Drill, say: Say) -> str:
    """Where the ledger goes; the drill card keeps to one sheet, and the rest stands on the guide's own."""
    found = guide(design.room, design.as_drawn, leave, plan.job.meta.units)
    return f" and ledger on, its edge at {say.height(found.up)}" if found else " marked"


def _behind(design: Design, wall: Wall, say: Say) -> str:
    """The holes that come out behind their wood, each with what of it is left; empty if none does."""
    found = comes_out(design.room, design.as_drawn, wall.id)
    return ", ".join(f"{mark} ({say.down(left)} of wood left)" for mark, left in found)


def _through(behind: str) -> tuple[str, ...]:
    return (
        (f"Nobody knows what is behind {behind}: its bit comes out. {BORED_THROUGH}",)
        if behind
        else ()
    )


def _past(design: Design, wall: Wall, say: Say) -> tuple[str, ...]:
    """The rods that are set deeper than their timber, each with what is done instead of boring."""
    return tuple(text for _, text in past_timber(design.room, design.as_drawn, wall.id, say))


def _not_bored(design: Design, wall: Wall, say: Say) -> tuple[str, ...]:
    return tuple(mark for mark, _ in past_timber(design.room, design.as_drawn, wall.id, say))


def _ticks(say: Say, ledger: str, likeliest: str) -> tuple[str, ...]:
    where = f" Likeliest: {likeliest}." if likeliest else ""
    return (
        f"Cables and pipes looked for, switched off, isolated.{where}",
        f"{say.word('level').capitalize()}{ledger}; heights up from the datum, tape hooked as said.",
    )


PAST_EDGE = 5.0
"""So far inside the hidden band an edge of wood has to lie for a pilot to find it there (mm; our choice)."""


def _found_again(say: Say, band: tuple[float, float], holes: Sequence[Hole]) -> str:
    """What the pilot finds again in the band the shelf hides; blocking may be higher than that band."""
    low, high = band
    edges: dict[tuple[bool, bool], list[str]] = {}
    for hole in holes:
        if hole.block is not None:
            inside = hole.block[0] >= low + PAST_EDGE, hole.block[1] <= high - PAST_EDGE
            edges.setdefault(inside, []).append(hole.mark)
    name, at = say.word("blocking"), {"lower": say.up(low), "upper": say.down(high)}
    found = ["both stud edges"] if any(hole.block is None for hole in holes) else []
    past = []
    for inside, marks in edges.items():
        here = [edge for edge, is_in in zip(at, inside, strict=True) if is_in]
        there = [edge for edge in at if edge not in here]
        if here:
            which = "" if len(edges) == 1 else f" at {listed(marks)}"
            found.append(f"{name}'s {' and '.join(here)} edge{which}")
        if there:
            up = " and ".join(at[edge] for edge in there)
            past.append(f"at {listed(marks)} wood by its {' and '.join(there)} edge, {up}")
    again, pilot = " and ".join(found), f"the pilot, {say.pilot}"
    if not past:
        return f"{again[:1].upper()}{again[1:]} found again with {pilot}, inside the band the shelf hides."
    # Blocking taller than the band: its edges lie where a pilot would be seen.
    return f"By {pilot}, in the hidden band alone: {'; '.join([*filter(None, (again,)), *past])}."
