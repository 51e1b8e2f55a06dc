"""What is done once a shelf is home, before anybody lets go: levelled, packed off its wall, locked, tried."""

from __future__ import annotations

from collections.abc import Iterator

from ledgewright.judge import Design
from ledgewright.layout import end_fits
from ledgewright.sheets.backs import gap_said, open_behind
from ledgewright.sheets.cautions import needs_two
from ledgewright.sheets.corewords import lock_named
from ledgewright.sheets.glued_in import marks
from ledgewright.sheets.model import Note
from ledgewright.sheets.say import Say, listed
from ledgewright.shop import Part


def at_home(design: Design, say: Say) -> tuple[Note, ...]:
    """Return the steps from the last move to the shelf let go, in order.

    Source: common practice.

    Args:
        design: a shelf with a way on.
        say: how the job writes.
    """
    held = "2 holds it home" if needs_two(design) else "one hand holds it home"
    return (
        Note("Once it is home: level", (*_level(design, say), *_packed(design, say))),
        Note(
            f"{'Then lock' if _locks(design) else 'No lock but the glue'}; {held}",
            (*_locked(design, say), *(() if marks(design) else (_TRIED,))),
        ),
        *_filled(design, say),
    )


def _filled(design: Design, say: Say) -> Iterator[Note]:
    """Filler strips go in last, glued to the shelf alone, so that they move with it when it moves in service."""
    strips = filler_strips(design)
    ends = [end for end in end_fits(design.room, design.spec) if end.how == "filler"]
    if not strips:
        return
    lines = [
        f"{part.letter}, {end.side} end: {say.length(end.back)} wide at the back and {say.length(end.front)} at the "
        "front, as read. Hold it to the wall, scribe both ends, saw outside the line, plane to it."
        for part, end in zip(strips, ends, strict=True)
    ]
    glued = "A line of glue on the shelf's end alone, never on the wall; tape holds it until that has set."
    free = (
        "The shelf does not come off with them: scribed tight they jam where the walls draw in. First a fine saw along "
        "the shelf's end cuts each free; new ones when it goes back on."
    )
    yield Note("Then the filler strips", (*lines, glued, *(() if marks(design) else (free,))))


def filler_strips(design: Design) -> tuple[Part, ...]:
    """Return the filler strips at the ends of a shelf: what is cut free before it comes off.

    Args:
        design: the shelf.
    """
    return tuple(part for part in design.parts if part.kind == "filler")


_TRIED = "Try each end with a straight pull of one hand: nothing moves. Nothing stands on it before the load test."


def _level(design: Design, say: Say) -> tuple[str, ...]:
    up = design.spec.nose_up
    stands = f", the front {say.thickness(up)} higher" if up else ""
    first = f"A level on the top: along the front, then from back to front at each rod{stands}."
    drop = design.holds.drop
    if drop is None or not any(rod.in_slot == "dry" for rod in design.frame.rods):
        return (first,)
    thick = (
        "as thick as the as-set card says"
        if design.drawn
        else f"{say.thickness(drop.shim)} thick if all are as drawn"
    )
    hung = (
        f"Hung dry the front may stand {say.drop(drop.hang_tilt)} lower than the back: come off, lay shims on the "
        f"{say.word('rods')}' tips in the slots, {thick}. No lock pulls it level."
    )
    return (first, hung)


def _packed(design: Design, say: Say) -> tuple[str, ...]:
    if open_behind(design) is None:
        return ()
    beside = "lock" if _locks(design) else "bar"
    held = "the glue has set" if marks(design) else "it is locked"
    packers = (
        f"Packers at both ends and beside each {beside}, {gap_said(design, say)}, the proudest place first, none "
        f"driven; out once {held}."
    )
    return (packers,)


def _locked(design: Design, say: Say) -> tuple[str, ...]:
    lock, rods = design.spec.lock, design.frame.rods
    if lock.kind == "none":
        return ("Nothing is planned to keep it on. Plan one before it is hung.",)
    names = [rod.mark for rod in rods if rod.id in lock.rods and rod.id not in left_out(design)]
    if left_out(design) and not names:
        return (_NO_SEALANT,)
    at = f" at {listed(names)}" if names else ""
    each = ", one at each" if len(names) > 1 else ""
    named = lock_named(design, say)
    how = _HOW[lock.kind]
    if marks(design):
        how = how.replace(", come off and look", ", it is looked at on the dry trial")
    none = (_NO_SEALANT,) if left_out(design) else ()
    return (f"{named[:1].upper()}{named[1:]}{at}{each}.", how, *none)


def _locks(design: Design) -> bool:
    """Whether a lock goes in, or none is planned and that is told."""
    return not left_out(design) or len(left_out(design)) < len(design.spec.lock.rods)


def left_out(design: Design) -> tuple[str, ...]:
    """Return the rods that get no sealant for a lock, since they are glued in; empty for any other lock.

    Args:
        design: the shelf.
    """
    lock = design.spec.lock
    if lock.kind != "sealant":
        return ()
    return tuple(
        rod.id for rod in design.frame.rods if rod.in_slot == "glued" and rod.id in lock.rods
    )


_NO_SEALANT = "No sealant on a bar that is glued: it spoils the bond. The glue keeps it on, and props until it has set."


_HOW = {
    "grub screw": "From below, with a hex key: each onto the flat of its rod, then once round to nip them up by hand. "
    "One that lifts the shelf is backed off; where one finds no flat, come off and look.",
    "angled screw": "Bored and driven from below with the shelf at home, where the core map shows it, rising 1 in 2 "
    "into the wood beside the hole. It is drawn up snug and no more.",
    "sealant": "The dab goes on the bar before the last move, never after it. It holds nothing before it has cured: "
    "prop or tape the shelf until then.",
}
