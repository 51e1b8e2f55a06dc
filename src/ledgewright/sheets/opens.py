"""What opens a way where none goes, in words, and whether the shelf so changed still holds."""

from __future__ import annotations

from ledgewright.fitting import Opening
from ledgewright.job import Job
from ledgewright.judge import Design, Opened, Option, opened
from ledgewright.memo import Memo
from ledgewright.plan import Plan
from ledgewright.sheets.leaves import Held, held_walls, named
from ledgewright.sheets.plainly import told_below
from ledgewright.sheets.say import ratio
from ledgewright.sheets.waynames import way_name
from ledgewright.units import show_length

HEAD = "What opens a way"
NOTHING = "No single change was found that opens a way: think of another place."
BEFORE = (
    "Each was tried and goes. Make one in the job file and run the check before anything is cut."
)


def openings_told(plan: Plan, design: Design, memo: Memo | None) -> tuple[str, ...]:
    """Return every opening of a design as a sentence, each with the verdict of the shelf so changed.

    Args:
        plan: the whole job.
        design: the section no way goes for.
        memo: kept by the caller: every change is judged; None says that none was.

    Returns:
        The openings in their order; what must be done with any of them last. Empty if a way goes.
    """
    if design.way is not None:
        return ()
    if not design.openings:
        return (NOTHING,)
    held = held_walls(plan, design)
    told = [
        f"{_sentence(opening_text(plan.job, design, opening, held))} "
        f"{_sentence(verdict_text(plan, design, judged(plan, design, opening, memo)))}"
        for opening in design.openings
    ]
    return (*told, BEFORE)


def judged(plan: Plan, design: Design, opening: Opening, memo: Memo | None) -> Opened | None:
    """Return the design with an opening made and judged; None if it is not: that takes seconds for each.

    Args:
        plan: the whole job.
        design: the section no way goes for.
        opening: one of its openings; only the first of each kind, the smallest change of it, is judged.
        memo: kept by the caller; None asks for no such work.
    """
    first = next(each for each in design.openings if each.kind == opening.kind)
    if memo is None or opening != first:
        return None
    return opened(plan.job, design, opening, memo)


def verdict_text(plan: Plan, design: Design, found: Opened | None) -> str:
    """Return whether a shelf holds once it is changed, in words.

    Args:
        plan: the whole job.
        design: the section no way goes for.
        found: what came of the change; None if it was not judged.
    """
    if found is None:
        return "whether it then holds was not judged: run the check"
    if found.state == "passes":
        return "so changed it passes, its load limit not worked out"
    if found.state == "fails":
        by = f": asked for {ratio(found.ratio)} times what it can take" if found.ratio else ""
        return f"so changed it FAILS, {found.why[:1].lower()}{found.why[1:]}{by}"
    return f"so changed it cannot be said to hold: {why_text(plan, design, found)}"


def why_text(plan: Plan, design: Design, found: Opened) -> str:
    """Return why a changed shelf cannot be said to hold; a reason may hold figures of a wall that is withheld."""
    held = held_walls(plan, design)
    if held and found.state == "cannot say":
        return f"why is withheld with {named(design, held)}"
    return told_below(found.why, plan)


def opening_text(job: Job, design: Design, opening: Opening, held: Held) -> str:
    """Return an opening in words, for example: shorten rod A1 to a stick-out of 5 1/2"; then it goes on, wall A first.

    Args:
        job: its unit of length.
        design: the section no way goes for.
        opening: what opens one.
        held: walls that nobody may drill yet: no place on them for a rod is told, and no stick-out.
    """
    rods = [rod for rod in design.frame.rods if rod.id in opening.rods]
    marks = ", ".join(rod.mark for rod in rods)
    if opening.kind == "split":
        parted = _split_text(job, design, opening.joint, held)
        return f"{parted}; then both go on, one after the other: {way_name(design, opening.opens)}"
    said = {
        "shorten": f"shorten rods {marks} to {_stick_out(job, design, opening, held)}",
        "move": f"move rod {marks} to {_new_place(job, design, opening, held)}",
        "leave out": f"leave out rod {marks}",
        "remove": f"take away the {opening.thing}",
    }[opening.kind]
    return f"{said}; then it goes on, {way_name(design, opening.opens)}"


def option_text(job: Job, design: Design, option: Option, held: Held) -> str:
    """Return how another way to make a shelf is made, in words.

    Args:
        job: its unit of length.
        design: the shelf.
        option: see `judge.options`.
        held: walls that nobody may drill yet: no stick-out of their rods is told.
    """
    if option.shorter is None:
        return option.title
    wall, to = option.shorter
    if wall in held:
        return f"{option.title}; how far they stick out is withheld with {named(design, held)}"
    return f"{option.title}, sticking out {show_length(to, job.meta.units, to=16, mark=True)}"


def _stick_out(job: Job, design: Design, opening: Opening, held: Held) -> str:
    on = {rod.wall for rod in design.frame.rods if rod.id in opening.rods}
    if on & held:
        return f"a stick-out that is withheld with {named(design, held)}"
    return f"a stick-out of {show_length(opening.to, job.meta.units, to=16, mark=True)}"


def _split_text(job: Job, design: Design, joint: float | None, held: Held) -> str:
    if joint is None:
        return "make it in two sections, parted at the corner"
    at = "" if held else f" {_on(job, design.spec.legs[0].wall, joint)}"
    return f"make it in two sections, parted{at} half way between two rods"


def _on(job: Job, wall: str, along: float) -> str:
    """A place as the tape of its wall reads it, in words."""
    return f"at {show_length(abs(along), job.meta.units, to=64, mark=True)} on wall {job.tapes.called(wall)}"


def _new_place(job: Job, design: Design, opening: Opening, held: Held) -> str:
    members = (m for wall in design.room.walls for m in wall.members if m.id == opening.member)
    member = next(members, None)
    if held or member is None:
        return "another member of its wall"
    kind = "block" if member.kind == "blocking" else member.kind
    return f"the free {kind} {_on(job, member.wall, member.centre)}"


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}".rstrip(".") + "."
