"""How a shelf lies to its walls, what is scribed off it in straight cuts or by hand, and what goes with it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from ledgewright import layout, plane
from ledgewright.job import Spec
from ledgewright.judge import Design
from ledgewright.layout import Cut, Laid, LegAt, Scribed
from ledgewright.plan import Plan
from ledgewright.sheets.measured import COVERS
from ledgewright.sheets.model import CutsSheet, EdgeCuts, Figure, Note, Table
from ledgewright.sheets.say import Say
from ledgewright.survey import Wall
from ledgewright.units import show_angle

FIRST_RIP = 6.0
"""A straight rip off the back of less than this before the scribe is not worth setting up (mm, 1/4 in: our choice)."""

SQUARE = 0.1
"""An end that is off square by less than this over the depth is cut square (mm; a saw is set no finer)."""


def edges(plan: Plan, design: Design) -> tuple[Scribed, ...]:
    """Return the scribed edges of a shelf, with cuts no longer than the shop's guide."""
    return layout.scribed(design.room, design.spec, plan.job.shop.guide)


def deepest(design: Design, found: Sequence[Scribed]) -> Laid:
    """Return how the blank as made would lie if the least were taken off and the shelf may come out deeper.

    Args:
        design: the shelf.
        found: its scribed edges, one at least.
    """
    return layout.lay(tuple(_as_edge(edge) for edge in found), found[0].origin)


def _as_edge(edge: Scribed) -> layout.Edge:
    normal = plane.left(edge.course)
    wall = tuple(edge.at(p) for p in edge.face)
    return layout.Edge(f"{edge.leg} {edge.side}", normal, wall, plane.dot(normal, edge.origin))


def cuts_sheet(plan: Plan, design: Design, found: Sequence[Scribed]) -> CutsSheet:
    """Return the page of straight cuts: how it lies, the oversize, each edge's cuts and its table for marking by hand.

    Source: common practice for oversize, rip, undercut and what is planed; the cuts are the fewest (see `layout`).

    Args:
        plan: the whole job.
        design: the shelf.
        found: its scribed edges, one at least.
    """
    say = Say.of(plan.job.meta)
    longest = max((cut for edge in found for cut in edge.sawn()), key=lambda cut: cut.length)
    guide = plan.job.shop.guide
    return CutsSheet(
        title="Scribe in straight cuts",
        about=f"shelf {design.spec.title}",
        unit=say.unit,
        facts=(
            Figure("Off the string", *_lies(design)),
            Figure(
                "Oversize to leave",
                say.up(max(edge.needs for edge in found)),
                f"bow, pencil and kerf; the blank has {say.thickness(design.spec.scribe_allowance)}",
            ),
            Figure(
                "Straight cuts",
                str(sum(len(edge.sawn()) for edge in found)),
                f"no gap over {say.thickness(design.spec.scribe_tolerance)}",
            ),
            Figure(
                "Longest cut",
                say.up(longest.length),
                f"the guide allows {say.length(guide)}" if guide else "the guide must be longer",
            ),
        ),
        lies=(*lies(design, say), *past_corner(design, say), *ledger(design, say)),
        allowance=(*allowance(plan, design, found), *doubt(design, found, say)),
        edges=tuple(_edge(plan, design, edge, say) for edge in found),
        notes=(Note("With each of them", how(design)),),
    )


PAST = 1.0
"""A leg that ends no further past its wall ends with it (mm)."""


def past_corner(design: Design, say: Say) -> tuple[str, ...]:
    """Return what becomes of the back of a section past an outside corner, where there is no wall to scribe it to.

    Args:
        design: the section.
        say: how the job writes.
    """
    told = []
    for leg in design.frame.legs:
        wall = design.room.wall(leg.wall)
        ends = (("left", leg.left_end, wall.start), ("right", leg.right_end, wall.end))
        told += [
            f"Past the corner, from {say.bare(wall.taped(at))} on the tape of wall {wall.called}, there is no wall: "
            "the other section butts there. Cut that stretch of the back straight on, parallel to the front."
            for side, end, at in ends
            if end != "corner" and _over(wall, leg, side) > PAST
        ]
    return tuple(told)


def _over(wall: Wall, leg: LegAt, side: str) -> float:
    """How far an end of a leg stands past that end of its wall (mm)."""
    return wall.start - leg.start if side == "left" else leg.end - wall.end


def _lies(design: Design) -> tuple[str, str]:
    placed = design.placed
    if placed is None or not placed.turn:
        return "0 deg", "and so is its front edge"
    return show_angle(abs(placed.turn)), "and so is its front edge"


def lies(design: Design, say: Say) -> tuple[str, ...]:
    """Return how the shelf lies to the strings of its walls, in words; nothing where that was not looked at.

    Args:
        design: the shelf.
        say: how the job writes.
    """
    placed = design.placed
    if placed is None:
        return ()
    if placed.askew:
        return (
            (
                "The strings stand more than 3 degrees askew to the walls. Hold them along the walls, at one distance "
                "off both ends, and take the gaps again."
            ),
        )
    less = f"{say.thickness(placed.best.eaten)} instead of {say.thickness(placed.along.eaten)}"
    if placed.turn:
        leg = design.frame.legs[0]
        nearer = (leg.end - leg.start) * math.sin(abs(placed.turn))
        end = "right" if placed.turn > 0 else "left"
        called = design.room.wall(leg.wall).called
        return (
            (
                f"Turned {show_angle(abs(placed.turn))} off the string: along wall {called} its {end} end lies "
                f"{say.thickness(nearer)} nearer the wall than the string does. Then an edge needs at most {less}."
            ),
        )
    if placed.saved < layout.SAVES:
        return (
            f"It lies along the string: no turn off it would save {say.thickness(layout.SAVES)} of scribing.",
        )
    return (
        (
            f"It lies along the string, as the job asks. Turned {show_angle(abs(placed.best.turn))} off it an edge "
            f'would need at most {less}: placing = "least scribe".'
        ),
    )


def ledger(design: Design, say: Say, wall: str | None = None) -> tuple[str, ...]:
    """Return where the straight ledger of each wall stands off the face if the shelf is turned off the string.

    Args:
        design: the shelf.
        say: how the job writes.
        wall: of this wall alone; of every wall with a leg if None.
    """
    if design.placed is None or not design.placed.turn:
        return ()
    told = []
    for leg in design.frame.legs:
        at = design.room.wall(leg.wall)
        if wall not in (None, at.id):
            continue
        off = [say.thickness(max(0.0, leg.band - at.face(s))) for s in (leg.start, leg.end)]
        told.append(
            f"The straight ledger on wall {at.called} follows the shelf, not the string: touching the proudest point "
            f"it stands {off[0]} off the face at the left end of the shelf and {off[1]} at the right."
        )
    return tuple(told)


def allowance(plan: Plan, design: Design, found: Sequence[Scribed]) -> tuple[str, ...]:
    """Return whether the spare width of the blank does, what it should be, and what to do with what is over.

    Args:
        plan: the whole job.
        design: the shelf.
        found: its scribed edges, one at least.
    """
    say, has = Say.of(plan.job.meta), design.spec.scribe_allowance
    worst = max(found, key=lambda edge: edge.needs)
    edit = wider(plan, design, found)
    ask = f"{edit['path']} = {edit['text']}" if edit else ""
    bow, spare = say.thickness(worst.bow), say.thickness(has)
    if worst.bow > has:
        said = [
            (
                f"The {named(design, worst)} bows by {bow}, more than the scribe allowance of {spare}. The blank is "
                f"drawn that much deeper, or it would not reach the hollow. Say so in the job: {ask}; or caulk it."
            )
        ]
    elif worst.needs > has:
        said = [
            (
                f"The allowance of {spare} takes the bow of {bow} on the {named(design, worst)}, and leaves less than "
                f"{say.thickness(layout.KERF)} for pencil and kerf at its deepest hollow. Better: {ask}."
            )
        ]
    else:
        said = [f"The allowance of {spare} does: the {named(design, worst)} bows by {bow}."]
    backs = [edge for edge in found if edge.side == "back"]
    rip = min((edge.least for edge in backs), default=0.0) - layout.KERF
    if rip >= FIRST_RIP:
        said.append(
            f"Rip {say.limit(rip)} off the back before the cuts, straight and parallel to the front: then at most "
            f"{say.drop(max(edge.most for edge in backs) - rip)} is left to scribe. All tables are off the edge "
            "before that rip: mark the line by them first, then rip. The two-pass scribe is for the blank without it."
        )
    out = _deeper(design, found)
    if out >= 1.0:
        said.append(
            f"If it may come out deeper: shifted out as far as the blank reaches, it is {say.limit(out)} deeper than "
            f"asked and loses {say.drop(max(e.most for e in found) - out)} at most. Its slots are then cut to that."
        )
    return tuple(said)


def sure_to(design: Design, edge: Scribed) -> float:
    """Return how near the wall's line is known at one station, 95 times in 100 (mm).

    Source: normal law, 1.96 standard deviations of one gap. The wall's own doubt is that of two gaps, here and at
    the hook; what they share goes when the shelf is pressed home.

    Args:
        design: the shelf.
        edge: the scribed edge.
    """
    return COVERS * design.room.wall(edge.wall).sd / math.sqrt(2)


def doubt(design: Design, found: Sequence[Scribed], say: Say) -> tuple[str, ...]:
    """Return what to do where the gaps are less sure than a cut is true; nothing where they are sure enough.

    Args:
        design: the shelf.
        found: its scribed edges.
        say: how the job writes.
    """
    worst = max(found, key=lambda edge: sure_to(design, edge), default=None)
    if worst is None or sure_to(design, worst) <= design.spec.scribe_tolerance:
        return ()
    return (
        (
            f"Of the {named(design, worst)} each gap is sure to {say.drop(sure_to(design, worst))}; the cuts keep to "
            f"{say.thickness(design.spec.scribe_tolerance)} of the line as read. Saw that much outside the line, "
            "try it on the rods, and scribe off what is left; or take the line with a strip template."
        ),
    )


def wider(plan: Plan, design: Design, found: Sequence[Scribed]) -> dict[str, str] | None:
    """Return the edit of the job that gives the blank the allowance its worst edge needs; None if it has that.

    Args:
        plan: the whole job.
        design: the shelf.
        found: its scribed edges.
    """
    needs = max((edge.needs for edge in found), default=0.0)
    if needs <= design.spec.scribe_allowance:
        return None
    path = f"{design.spec.path}.scribe_allowance"
    return {"path": path, "text": _written(Say.of(plan.job.meta), needs)}


def _deeper(design: Design, found: Sequence[Scribed]) -> float:
    """How much deeper every leg comes out, shifted until the blank just reaches (mm); nought for a section.

    An L slides by so much along either of its legs; an end that is scribed as well would be pulled off its wall.
    """
    if design.spec.section or any(edge.side != "back" for edge in found):
        return 0.0
    return min(edge.least for edge in found)


def _written(say: Say, size: float) -> str:
    """A length as the job file takes it, rounded up."""
    if say.units == "in":
        return f'"{say.up(size).rstrip(chr(34)).strip()}"'
    return f"{math.ceil(size * 2) / 2:g}"


def how(design: Design) -> tuple[str, ...]:
    """Return what holds for every straight cut.

    Args:
        design: the shelf.
    """
    name = closer(design.spec)
    return (
        "All figures are on the TOP face, off the blank's own straight edge; measure them with one rule, from one end.",
        "Score the line first: the veneer does not tear. Saw on the waste side, then plane to the line.",
        "Where two cuts meet in a hollow of the edge, stop short and finish by hand: the blade runs on under it.",
        "Only the skins are cut: stop at the back rail, which sits in behind the allowance.",
        *((f"Close the cut edge with {name} before it goes to the wall.",) if name else ()),
    )


def closer(spec: Spec) -> str:
    """Return what closes an edge that is cut on site: the sealer, else what the shelf is coated with, else nothing.

    Source: common practice.

    Args:
        spec: the shelf.
    """
    if spec.sealer != "none":
        return spec.sealer
    return spec.finish if spec.coats else ""


def _edge(plan: Plan, design: Design, edge: Scribed, say: Say) -> EdgeCuts:
    rows = tuple(_cut(plan, design, edge, k, cut, say) for k, cut in enumerate(edge.sawn(), 1))
    marks = ", ".join(where(design, edge, x, say) for x, _ in edge.marks)
    planed = len(edge.marks) - 1
    return EdgeCuts(
        head=heading(design, edge),
        lines=(
            bevel(design, edge, say),
            (
                f"To be planed after: {planed} cut{'s' * (planed > 1)} from mark to mark, at {marks}; up to "
                f"{say.thickness(design.spec.scribe_tolerance)} is then left proud in places."
            ),
        ),
        cuts=Table(
            heads=("Cut", "From", "To", "Off, start", "Off, end", "Length", "With"),
            widths=(10, 24, 24, 22, 22, 24, 44),
            figures=(1, 2, 3, 4, 5),
            rows=rows,
        ),
        hand=_by_hand(design, edge, say),
    )


def named(design: Design, edge: Scribed) -> str:
    """Return what an edge is called: the back on its wall, an end at the wall it meets.

    Args:
        design: the shelf.
        edge: the scribed edge.
    """
    called = design.room.wall(edge.wall).called
    return f"back on wall {called}" if edge.side == "back" else f"{edge.side} end at wall {called}"


def heading(design: Design, edge: Scribed) -> str:
    """Return the same as a heading."""
    name = named(design, edge)
    return name[0].upper() + name[1:]


def where(design: Design, edge: Scribed, along: float, say: Say) -> str:
    """Return where a station of an edge is, as the tape shows it: of an end, from the front edge.

    Args:
        design: the shelf.
        edge: the scribed edge.
        along: from its start (mm).
        say: how the job writes.
    """
    if edge.side == "back":
        wall = design.room.wall(edge.wall)
        return say.bare(wall.taped(wall.figures(edge.at((along, 0.0)))[0]))
    return say.bare(along if edge.side == "left" else edge.face[-1][0] - along)


def counted(edge: Scribed) -> str:
    """Return what the places along an edge are counted from."""
    return "Along, same tape" if edge.side == "back" else "From the front"


def _cut(
    plan: Plan, design: Design, edge: Scribed, number: int, cut: Cut, say: Say
) -> tuple[str, ...]:
    guide = plan.job.shop.guide
    by = "saw on the guide"
    if cut.length < layout.SHORTEST:
        by = "plane or sanding block"
    elif guide is not None and cut.length > guide + 0.5:
        by = "saw, the guide set twice"
    places = [where(design, edge, p[0], say) for p in (cut.start, cut.end)]
    offs = [say.caliper(p[1]) for p in (cut.start, cut.end)]
    return (str(number), *places, *offs, say.bare(cut.length), by)


def _by_hand(design: Design, edge: Scribed, say: Say) -> Table:
    """Two stations to a row: where, what the wall takes off, where the straight cut passes."""
    rows: list[tuple[str, str, str]] = []
    for x, take in edge.face:
        line = next(
            a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0])
            for a, b in pairwise(edge.cuts)
            if x <= b[0] + 1e-9
        )
        row = (where(design, edge, x, say), say.caliper(take), say.caliper(line))
        if row not in rows[-1:]:
            rows.append(row)
    half = (len(rows) + 1) // 2
    pairs = zip(rows[:half], [*rows[half:], ("", "", "")], strict=False)
    heads = (counted(edge), "Wall's line off", "Straight cut off")
    return Table(
        heads=(*heads, *heads),
        widths=(30, 28, 28) * 2,
        figures=tuple(range(6)),
        rows=tuple((*a, *b) for a, b in pairs),
    )


def bevel(design: Design, edge: Scribed, say: Say) -> str:
    """Return how the edge is bevelled back, and what a wall that leans does to it.

    Source: common practice: 2 degrees of undercut, so that the top edge touches first; a wall's own lean on top of it.

    Args:
        design: the shelf.
        edge: the scribed edge.
        say: how the job writes.
    """
    angle, thick = edge.bevel(), design.frame.thick
    over = say.thickness(abs(edge.lean) * thick)
    mark = design.room.wall(edge.wall).mark
    if edge.lean > 0:
        return (
            f"Back bevel {show_angle(angle)}, the bottom edge shorter: wall {mark} stands back at the top, by {over} "
            "over this thickness, and would touch the bottom edge first."
        )
    if angle >= 0:
        leans = (
            f" Wall {mark} leans out at the top by {over} over this thickness." if edge.lean else ""
        )
        return f"Back bevel {show_angle(angle)}, the bottom edge shorter: the top edge touches first.{leans}"
    return (
        f"Wall {mark} leans out at the top by {over} over this thickness: cut the edge {show_angle(-angle)} the other "
        "way, the top edge shorter, or the gap shows from below; mark it on the bottom face then."
    )


def heights(design: Design, say: Say) -> tuple[str, ...]:
    """Return where the top face stands as the shelf is hung, shimmed, set nose-up and loaded; no height of a hole.

    The play of dry slots lets it down by half of `clearance.up`, and the front by the hang tilt until it is shimmed.

    Args:
        design: the shelf.
        say: how the job writes.
    """
    spec, drop, legs = design.spec, design.holds.drop, design.frame.legs
    dry = [rod.clearance.up / 2 for rod in design.frame.rods if rod.in_slot == "dry"]
    told = [f"Top face as drawn: {say.length(spec.top)} at the wall."]
    if dry:
        down = max(dry)
        tilt = drop.hang_tilt if drop else 0.0
        said = f", its front {say.drop(down + tilt)}" if tilt else ""
        told.append(
            f"Hung dry and not shimmed the back stands up to {say.drop(down)} lower{said}; shims take both out."
        )
    if spec.nose_up:
        told.append(
            f"Set nose-up: front {say.thickness(spec.nose_up)} higher than the back over {say.length(legs[0].depth)}. "
            f"Holes stay level; the {say.word('rods')} tilt in them as the set card says."
        )
    if drop:
        for when, at in (("on day one", drop.today.value), ("in ten years", drop.long_term.value)):
            off = spec.nose_up - at
            stands = f"{say.limit(off)} higher" if off >= 0 else f"{say.drop(-off)} lower"
            told.append(f"Shimmed and loaded, {when}: front {stands} than the back.")
    return tuple(told)


def joint_ends(design: Design, say: Say) -> tuple[str, ...]:
    """Return how each end of a section is cut that meets the other one, or stands past an outside corner.

    None of a shelf in one section.

    Args:
        design: the section.
        say: how the job writes.
    """
    part = design.spec.section
    if part is None:
        return ()
    told = []
    for leg in design.frame.legs:
        ends: tuple[tuple[layout.Side, str], ...] = (
            ("left", leg.left_end),
            ("right", leg.right_end),
        )
        for side, kind in ends:
            wall = design.room.wall(leg.wall)
            past = kind == "free" and _over(wall, leg, side) > PAST
            if kind != "joint" and not past:
                continue
            front, back = (wall.figures(p)[1] for p in layout.end_points(leg, side))
            slant = layout.lean(leg, side)
            more = -slant * (front - back)
            at = "past the corner" if past else f"against section {part.count + 1 - part.number}"
            where = f"{side.capitalize()} end, {at}"
            if abs(more) < SQUARE:
                told.append(f"{where}: cut square to the front.")
                continue
            longer = "longer" if more > 0 else "shorter"
            angle = show_angle(math.atan(abs(slant)))
            told.append(
                f"{where}: cut {angle} off square, the shelf {say.length(abs(more))} {longer} at the front than at the "
                "back; skins, core and edging alike, their sizes over all."
            )
    return tuple(told)


def nose_up(design: Design, wall: str, say: Say) -> tuple[str, ...]:
    """Return how much higher than at the wall each tip is set where the front is to stand up; for a wall with leave.

    Args:
        design: the shelf.
        wall: whose rods they are.
        say: how the job writes.
    """
    if not design.spec.nose_up:
        return ()
    slope = design.spec.nose_up / design.spec.deep(wall)
    by: dict[str, list[str]] = {}
    for rod in design.frame.rods:
        if rod.wall == wall:
            by.setdefault(say.thickness(slope * rod.projection), []).append(rod.mark)
    return tuple(
        f"Nose-up: tips of {', '.join(marks)} set {rise} higher than at the wall; the holes stay level."
        for rise, marks in by.items()
    )


def movement(design: Design, say: Say) -> tuple[str, ...]:
    """Return the room solid timber needs where it meets a wall, by species.

    Args:
        design: the shelf.
        say: how the job writes.
    """
    ends = layout.end_fits(design.room, design.spec)
    told = []
    for each in layout.movements(design.spec, design.frame, ends):
        across = "across its width" if each.what == "filler strip" else "along its length"
        size = say.length(each.size)
        if each.moves is None:
            told.append(
                f"{each.what.capitalize()} of {each.species}, {each.where}: how far it moves cannot be said; the "
                "catalogue has no coefficient for it. Leave what the supplier says."
            )
            continue
        told.append(
            f"{each.what.capitalize()} of {each.species}, {each.where}: {size} {across} moves {say.drop(each.moves)} "
            f"for {layout.SEASONS:g} points of moisture ({each.coefficient:.6f} a point). Leave that gap, or caulk it."
        )
    return tuple(told)
