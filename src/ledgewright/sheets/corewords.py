"""What stands beside the core map: its key figures, mouths, what is left between slots, locks, cables and light."""

from __future__ import annotations

import re
from collections.abc import Sequence

from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from ledgewright import plane
from ledgewright.core import FLAT_DEEP, Core, KeepOut, LockAt
from ledgewright.fitting import Way
from ledgewright.job import Cable, Groove
from ledgewright.judge import Design
from ledgewright.layout import Rod
from ledgewright.plane import Point, Ring
from ledgewright.sheets import views
from ledgewright.sheets.model import Figure, Note
from ledgewright.sheets.say import Say, listed
from ledgewright.statics import LONG_SCREW, SET_SCREW
from ledgewright.units import show_area

_FEW = 76.0  # less than this between two slots is worth a line (mm; 3 in, our choice)


def by_number(text: str, core: Core | None) -> str:
    """Return a sentence about a core with its pieces named by their numbers on the map.

    Args:
        text: as the core says it, with ids of pieces.
        core: the core.
    """
    numbers = views.piece_numbers(core)
    if not numbers:
        return text
    ids = "|".join(re.escape(name) for name in sorted(numbers, key=len, reverse=True))
    return re.sub(rf"(?<!\w)({ids})(?!\w)", lambda found: f"piece {numbers[found[0]]}", text)


def core_facts(design: Design, say: Say) -> tuple[Figure, ...]:
    """Return the key figures of a core: its longest span, its glue area, what is cut for the rods.

    Args:
        design: the shelf; only where all its walls may be drilled.
        say: how the job writes.
    """
    core, way = design.core, design.way
    if core is None:
        return ()
    limit = say.limit(design.spec.core.max_span)
    return (
        Figure("Longest skin span", say.length(core.longest_span), f"limit {limit}"),
        Figure("Glue area", show_area(core.glue_area, say.units), "both faces of every piece"),
        *(_cut(way, say) if way else ()),
        Figure("Ribs cut", str(core.ribs_cut) if core.ribs_cut else "none", "by slots"),
    )


def _cut(way: Way, say: Say) -> tuple[Figure, ...]:
    under = f"widest {say.word('channel')} {say.length(way.loss.widest)}"
    area = show_area(way.loss.channel_area, say.units)
    return (Figure(f"Cut for {say.word('rods')}", area, under),)


def core_rules(design: Design, say: Say, others: Sequence[Design] = ()) -> tuple[Note, ...]:
    """Return what the map cannot show by itself: how mouths are eased, what is left between slots, locks, keep-outs.

    Args:
        design: the shelf; only where all its walls may be drilled.
        say: how the job writes.
        others: all sections of the job, among them the others of this shelf.
    """
    notes = [
        Note(
            "Mouths and slots",
            (
                *(_slots(design, design.way, say) if design.way else ()),
                *views.lean_lines(design, say),
                *_front_to_back(design, say),
                *_glued(design),
            ),
        ),
        Note("Locks", _locks(design, say)),
        Note("Light and cable", (*_keep_outs(design, say), *_apart(design, others))),
    ]
    return tuple(note for note in notes if note.lines)


def _glued(design: Design) -> tuple[str, ...]:
    glued = [rod.mark for rod in design.frame.rods if rod.in_slot == "glued"]
    if not glued:
        return ()
    return (
        f"The slots of {listed(glued)} stay bare on the bench; they are glued when it is hung for good.",
    )


def _slots(design: Design, way: Way, say: Say) -> tuple[str, ...]:
    marks = {rod.id: rod.mark for rod in design.frame.rods}
    by_size: dict[str, list[str]] = {}
    for channel in way.channels:
        if channel.funnel > 0:
            by_size.setdefault(say.length(channel.funnel), []).append(marks[channel.rod])
    eased = [
        f"Both corners of the mouth eased {size} at 45 degrees: {listed(names)}."
        for size, names in by_size.items()
    ]
    merged = [
        f"The slots of {listed([marks[rod] for rod in group.rods])} run into one another: one pocket, "
        f"{show_area(group.area, say.units)}, with no wood in it."
        for group in way.merged
    ]
    left = [
        f"Between the slots of {marks[pair.rods[0]]} and {marks[pair.rods[1]]} only {say.down(pair.left)} is left."
        for pair in way.between
        if 0 < pair.left < _FEW
    ]
    return (*eased, *merged, *left)


def _front_to_back(design: Design, say: Say) -> tuple[str, ...]:
    """How far behind the front of the skins slots end and blocks lie: the map itself has figures along alone."""
    spec, room = design.spec, design.room
    marks = {rod.id: rod for rod in design.frame.rods}
    legs = {leg.wall: leg for leg in design.frame.legs}

    def behind(wall: str, ring: Ring) -> tuple[float, float]:
        leg = legs[wall]
        outs = [room.wall(wall).figures(p)[1] for p in ring]
        front = leg.band + leg.depth - spec.edging_thick
        return front - max(outs), front - min(outs)

    slots = [
        f"{marks[cut.rod].mark} {say.bare(behind(marks[cut.rod].wall, cut.plan)[0])}"
        for cut in views.cuts(design)
    ]
    numbers, lying = views.piece_numbers(design.core), dict[str, list[str]]()
    for p in design.core.pieces if design.core else ():
        if p.kind == "block":
            near, far = behind(views.home(design, plane.centroid(p.plan)), p.plan)
            lying.setdefault(f"{say.bare(near)} to {say.bare(far)}", []).append(numbers[p.id])
    blocks = [f"block{'s' * (len(of) > 1)} {_counted(of)} from {at}" for at, of in lying.items()]
    told = (
        *((f"slots end {', '.join(slots)}",) if slots else ()),
        *blocks,
    )
    return (f"Behind the front of the skins, before edging: {'; '.join(told)}.",) if told else ()


def _counted(numbers: Sequence[str]) -> str:
    """Numbers in a row, "28 to 33" where they follow one another."""
    first, last = int(numbers[0]), int(numbers[-1])
    in_order = [str(n) for n in range(first, last + 1)] == list(numbers)
    return f"{first} to {last}" if in_order and len(numbers) > 2 else listed(numbers)


def _locks(design: Design, say: Say) -> tuple[str, ...]:
    core, lock = design.core, design.spec.lock
    if core is None or lock.kind == "none":
        return ()
    kept = "No other screw nearer than 12 mm to a cross-hatched place."
    if say.units == "in":
        kept = 'No other screw nearer than 1/2" to a cross-hatched place.'
    if not core.locks:
        return (
            f"{lock.kind.capitalize()}s by the back edge: only where the map shows back strip.",
            kept,
        )
    places: dict[str, list[str]] = {}
    for at in core.locks:
        rod = next(r for r in design.frame.rods if r.id == at.rod)
        if lock.kind == "sealant" and rod.in_slot == "glued":
            continue  # It would spoil the bond.
        places.setdefault(say.length(_lock_place(design, rod, at)), []).append(rod.mark)
    if not places:
        return (kept,)
    found = "; ".join(f"{listed(marks)} {figure}" for figure, marks in places.items())
    return (f"{_first_up(lock_named(design, say))}, {_HOW[lock.kind]} {found}.", kept)


def _lock_place(design: Design, rod: Rod, at: LockAt) -> float:
    """Where a lock is, by what is there when it goes in (mm): an insert goes into the bare skin, with no wall by."""
    out, beside = rod_figures(rod, at.at)
    if design.spec.lock.kind == "grub screw":
        leg = next(leg for leg in design.frame.legs if leg.wall == rod.wall)
        far = design.room.wall(rod.wall).figures(at.at)[1]
        return leg.band + leg.depth - design.spec.edging_thick - far
    return abs(beside) if design.spec.lock.kind == "angled screw" else out


_HOW = {
    "grub screw": "flush inside, where ringed, over its rod's flat, bored as its own table says. Behind the "
    "front of the skins:",
    "sealant": "where ringed. Out from the wall:",
    "angled screw": "where ringed: from below, drilled with the shelf at home, rising 1 in 2 into the wood beside the "
    "hole. Beside the rod:",
}


def rod_figures(rod: Rod, point: Point) -> Point:
    """Return how far a plan point is out along a rod from the wall's face, and how far beside it (mm)."""
    away, axis = plane.sub(point, rod.point(rod.free)[:2]), (rod.axis[0], rod.axis[1])
    return plane.dot(away, axis), plane.dot(away, plane.left(axis))


def lock_named(design: Design, say: Say) -> str:
    """Return what keeps a shelf on, with its size: the one that the calculations count on.

    The inch thread named beside it in an inch job is the stouter: 1/4-20 has a root of 4.79 mm (ASME B1.1,
    from memory).
    """
    screw = SET_SCREW.name.replace("set", "grub")
    if say.units == "in":
        screw = screw.replace("M6", "M6 or 1/4-20")
    long = least_screw(design)
    # A tape's quarter of a millimetre, which `up` lets go, is not let go here.
    size = f", {say.up(long + 0.25)} or longer," if long else ""
    return {
        "grub screw": f"{screw}{size} in a threaded insert",
        "angled screw": f"{LONG_SCREW.name} mm angled screw",
        "sealant": "a dab of sealant on the bar",
        "none": "nothing",
    }[design.spec.lock.kind]


def least_screw(design: Design) -> float:
    """Return how long a grub screw must be at the least (mm); 0 where none is known.

    From flush with the bottom skin, or with what a light groove leaves of it, through all the play of a slot, down to
    the flat: the shelf may hang on the top of its rod.

    Args:
        design: the shelf.
    """
    up = {rod.id: rod.clearance.up for rod in design.frame.rods}
    skin = design.spec.skin_bottom.thick
    locks = design.core.locks if design.core and design.spec.lock.kind == "grub screw" else ()
    return max(
        (skin - at.groove + up[at.rod] + FLAT_DEEP for at in locks if not at.lost), default=0.0
    )


def _first_up(text: str) -> str:
    return text[:1].upper() + text[1:]


def into_groove(design: Design) -> tuple[Cable, ...]:
    """Return the cables whose ways in the core meet a light groove, as both lie in the plan.

    Args:
        design: the shelf.
    """
    kept = design.core.keep_outs if design.core else ()
    grooves = _grooves(design)
    met = [k for k in kept if k.kind == "cable way" and Polygon(k.plan).intersects(grooves)]
    return tuple(c for c in design.spec.cables if any(_is_way_of(design, c, k) for k in met))


def _apart(design: Design, others: Sequence[Design]) -> tuple[str, ...]:
    """What is to be said where the grooves of two sections do not meet, and this one has no cable of its own."""
    groove, own = design.spec.groove, _grooves(design)
    beside = [
        each
        for each in others
        if each.spec.whole == design.spec.whole and each.spec.id != design.spec.id
    ]
    if groove is None or own.is_empty or not beside:
        return ()
    if any(own.distance(_grooves(each)) <= groove.width for each in beside if each.core):
        return ()
    ends = any("joint" in (leg.left_end, leg.right_end) for leg in design.frame.legs)
    which = "this one ends dead at the joint" if ends else "the other one ends dead at the joint"
    alone = (
        ()
        if into_groove(design)
        else (
            "No cable comes into this section's groove: it needs one of its own, or one led over at the joint.",
        )
    )
    return (f"The light grooves of the two sections do not meet: {which}.", *alone)


def _grooves(design: Design) -> BaseGeometry:
    kept = design.core.keep_outs if design.core else ()
    return unary_union([Polygon(k.plan) for k in kept if k.kind == "light groove"])


def _is_way_of(design: Design, cable: Cable, way: KeepOut) -> bool:
    along = [design.room.wall(way.of).figures(p)[0] for p in way.plan]
    return cable.wall == way.of and min(along) <= cable.along <= max(along)


def _through(design: Design, groove: Groove, into: Sequence[Cable], say: Say) -> str:
    """The hole that takes a cable from its way in the core down into the light groove."""
    walls = [design.room.wall(cable.wall) for cable in into]
    at = [f"{w.mark} {say.bare(w.taped(c.along))}" for w, c in zip(walls, into, strict=True)]
    return (
        f"Where a cable way meets the groove the skin that is left is bored through, edges eased, no wider than "
        f"{say.bare(groove.width)}. By the tape: {listed(at)}."
    )


def _keep_outs(design: Design, say: Say) -> tuple[str, ...]:
    kinds = {k.kind for k in design.core.keep_outs} if design.core else set()
    groove, skin = design.spec.groove, design.spec.skin_bottom.thick
    lines = []
    if groove and "light groove" in kinds:
        left = max(0.0, skin - groove.deep)
        lines.append(
            f"Light groove in the bottom skin: {say.bare(groove.width)} wide, {say.bare(groove.deep)} deep, from "
            f"{say.bare(groove.from_front)} to {say.bare(groove.from_front + groove.width)} behind the front edge. "
            f"{say.thickness(left)} of skin is left over it: no screw or pin into it from either side. Cut in the "
            "bare skin before any glue, from end to end; edging or wall closes its ends."
        )
        into = into_groove(design)
        if into and left > 0:
            lines.append(_through(design, groove, into, say))
    if "cable way" in kinds:
        lines.append(
            "The cable way holds no wood and no glue; pull a string through it before the second skin goes on. "
            "Nothing is drilled into the wall for it here: that is the electrician's work."
        )
    return tuple(lines)
