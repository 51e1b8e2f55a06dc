"""Sheets that are taken to the place and filled in: probing, blocking, photos, and the blank questions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from ledgewright.job import Unit, Words
from ledgewright.judge import Design
from ledgewright.plan import Plan
from ledgewright.sheets.cautions import POINT
from ledgewright.sheets.model import FormPart, FormSheet, Table
from ledgewright.sheets.say import Say
from ledgewright.site import Leave, Withheld
from ledgewright.statics import block_section
from ledgewright.stock import Timber
from ledgewright.survey import Member, Wall

OFF_MIDDLE = 3.0
"""Holes no further off the middle of a block's height count as in it (mm; our choice)."""
TOUCH = 3.0
"""Studs no further apart stand side by side: there is no bay between them (mm)."""
PROBES = ("scanned", "drawing", "probed it")


def probing_sheet(plan: Plan, design: Design, leave: Leave) -> FormSheet | None:
    """Return the probing sheet of a wall that a scan or a drawing tells of; None for any other.

    A wall of which nobody knows anything is not probed either: what runs behind it is asked first.

    Args:
        plan: the whole job.
        design: the shelf.
        leave: what was found for the wall.
    """
    wall = design.room.wall(leave.wall)
    known = wall.known
    if not isinstance(leave, Withheld) or known.how not in PROBES:
        return None
    if wall.framing != "wood" or known.services is None:
        return None
    say, spec = Say.of(plan.job.meta), design.spec
    deep = say.either("1/2", "12")
    return FormSheet(
        title=f"Probing sheet, wall {wall.called}",
        about=f"shelf {spec.title}",
        unit=say.unit,
        warning="Probe only: no hole for a rod is drilled on this sheet",
        intro=f"Small holes, inside the band the shelf will hide and nowhere else: {say.length(spec.top - spec.thick)} "
        f"to {say.length(spec.top)} above the datum. They show where the wood is and how deep. They prove nothing of "
        "load, pipes and cables, fire or sound: these are asked apart.",
        facts=(),
        parts=(
            FormPart(
                "Before the first hole",
                lines=(f"Behind this wall, as told: {known.services}",),
                ticks=(
                    "Cables and pipes looked for with a detector, switched off and isolated.",
                    f"A bit of {say.pilot} with a stop: through the lining and {deep} into the wood, no more.",
                    "Stop at metal, water, a cable, a hollow sound where there should be wood. Do not go on beside it.",
                ),
            ),
            FormPart(
                "Every member behind the shelf",
                lines=(_how_to_probe(wall),),
                tables=(_members(design, wall, say),),
            ),
            FormPart("Seen by, and on which day", blanks=("Name", "Day", "Photos, by name")),
        ),
    )


def _how_to_probe(wall: Wall) -> str:
    return (
        f"All figures from the {wall.tape_from} end of the wall. From the middle outwards, a hole every "
        '1/4" (6 mm) until it comes out of the wood: that edge lies between the last two.'
    )


def _members(design: Design, wall: Wall, say: Say) -> Table:
    return Table(
        heads=(
            "Member",
            "Edges as told",
            "First edge",
            "Second edge",
            "Depth to wood",
            "Wood all the way",
            "Twisted",
        ),
        widths=(22, 38, 26, 26, 26, 22, 20),
        figures=(),
        rows=tuple(
            (
                m.name or m.id.split(".", 1)[-1],
                _edges(wall, m, say),
                "",
                "",
                "",
                "[]",
                "[]",
            )
            for m in _behind(design, wall)
        ),
    )


def _edges(wall: Wall, m: Member, say: Say) -> str:
    edges = sorted((wall.taped(m.left), wall.taped(m.right)))
    return f"{say.bare(edges[0])} to {say.bare(edges[1])}"


def _behind(design: Design, wall: Wall) -> tuple[Member, ...]:
    """Members behind the leg on a wall, in the order the tape meets them."""
    legs = [leg for leg in design.spec.legs if leg.wall == wall.id]
    found = [
        m for m in wall.members if any(leg.start < m.right and m.left < leg.end for leg in legs)
    ]
    return tuple(sorted(found, key=lambda m: abs(wall.taped(m.centre))))


def blocking_sheet(plan: Plan, design: Design, wall: Wall) -> FormSheet | None:
    """Return what the framer puts between the studs before the board goes on; None for a wall that is no wood.

    Args:
        plan: the whole job.
        design: the shelf.
        wall: the wall.
    """
    if wall.framing not in ("wood", "unknown"):
        return None
    say, spec = Say.of(plan.job.meta), design.spec
    bays = _bays(plan, design, wall)
    return FormSheet(
        title=f"{say.word('blocking').capitalize()} sheet, wall {wall.called}",
        about=f"shelf {spec.title}",
        unit=say.unit,
        warning="",
        intro="For the framer, before the board goes on. Solid wood of the studs' own timber and grade, flush with "
        "their faces, from stud to stud. It takes the shelf's whole weight at the end of a lever.",
        facts=(),
        parts=(
            FormPart(
                "Where",
                lines=(
                    *_timber(design, [lies for _, lies in bays], say),
                    f"Datum: {plan.job.tapes.datum}.",
                    "No nail or screw in it but those of its ends: holes come along it.",
                ),
                tables=(_heights(wall, bays, say),),
            ),
            FormPart(
                "What holds each end",
                lines=("Without this nobody can say whether a shelf in it holds.",),
                choices=(
                    "straight through the stud",
                    "toed in" if say.words == "en-US" else "skew-nailed",
                ),
                blanks=(
                    "Screws or nails, size",
                    "How many at each end",
                    "Between the outermost two",
                ),
            ),
            FormPart(
                "Photos before the board goes on",
                ticks=(
                    "Each bay, straight on, with a tape along the lower edge and one up from the floor in the picture.",
                    "The whole wall, with a tape from one end.",
                    "Every pipe and cable that crosses the band, with a tape.",
                ),
                blanks=("Names of the photos", "Seen by, and on which day"),
            ),
        ),
    )


@dataclass(frozen=True)
class _Lies:
    """How a block lies: heights of its edges and how deep it goes into the wall (mm), of one timber.

    up, deep: None where nobody has told the timber. ends: of a block that the job has itself, else None.
    """

    timber: Timber | None
    up: tuple[float, float] | None
    deep: float | None
    ends: tuple[float, float] | None


def _holes_up(design: Design) -> float:
    """The height of the holes: blocking is centred on them."""
    rods = design.as_drawn.rods
    return rods[0].origin[2] if rods else design.spec.top - design.spec.thick / 2


def _as_told(design: Design, wall: Wall) -> tuple[_Lies, ...]:
    """The blocks of the job at the height of the holes, as `check` reckons them."""
    up, found = _holes_up(design), []
    for member in wall.members:
        if member.kind == "blocking" and member.up and member.up[0] < up < member.up[1]:
            section = block_section(member)
            deep = section[0] if section else None
            found.append(_Lies(member.timber, member.up, deep, (member.left, member.right)))
    return tuple(found)


def _proposed(plan: Plan, design: Design, wall: Wall) -> _Lies:
    """A length of stud laid flat, its wide face to the room, its middle at the height of the holes."""
    timber = next((each.timber for each in plan.job.tapes.walls if each.id == wall.id), None)
    if timber is None:
        return _Lies(None, None, None, None)
    up, half = _holes_up(design), timber.depth / 2
    return _Lies(timber, (up - half, up + half), timber.width, None)


def _timber(design: Design, lies: Sequence[_Lies], say: Say) -> tuple[str, ...]:
    """The very timber, which of its faces stands to the room, and how deep a rod may go into it."""
    return tuple(dict.fromkeys(_lies_so(design, each, say) for each in lies))


def _lies_so(design: Design, each: _Lies, say: Say) -> str:
    if each.timber is None or each.up is None:
        middle = say.level(_holes_up(design))
        return (
            f"Laid flat, its wide face to the room, the middle of its height at {middle} above the datum. "
            "Tell the job the timber of the studs: then this sheet has its edges."
        )
    high = each.up[1] - each.up[0]
    named = (
        f"{each.timber.name}, {say.caliper(each.timber.width)} × {say.length(each.timber.depth)}"
    )
    if each.deep is None:
        return (
            f"{named}: the job has it {say.length(high)} high, which neither side of it is. Measure it, and tell its "
            "`up` as it is."
        )
    flat = abs(high - each.timber.depth) < abs(high - each.timber.width)
    way = "flat, its wide face" if flat else "on edge, its narrow face"
    most = say.down(max(0.0, each.deep - POINT))
    off = _holes_up(design) - (each.up[0] + each.up[1]) / 2
    aside = ""
    if abs(off) > OFF_MIDDLE:
        aside = f" Holes come {say.length(abs(off))} {'over' if off > 0 else 'under'} its middle."
    return (
        f"{named}, {way} to the room: {say.length(high)} high, {say.length(each.deep)} into the wall. "
        f"A hole over {most} deep comes out behind it: tell such a {say.word('rod')} an embedment of its own.{aside}"
    )


_Bay = tuple[tuple[float, float], _Lies]
"""Where a bay begins and ends (mm along), and what goes into it."""


def _bays(plan: Plan, design: Design, wall: Wall) -> tuple[_Bay, ...]:
    """Every bay behind the shelf, with the job's own block where it has one there; one of no place if it has no bay."""
    legs = [leg for leg in design.spec.legs if leg.wall == wall.id]
    told, proposed = _as_told(design, wall), _proposed(plan, design, wall)
    ordered = sorted(
        (m for m in wall.members if m.kind == "stud" and m.lost != "missing"), key=lambda m: m.left
    )
    found = []
    for left, right in ((a.right, b.left) for a, b in pairwise(ordered)):
        if right - left > TOUCH and any(leg.start < right and left < leg.end for leg in legs):
            middle = (left + right) / 2
            own = (each for each in told if each.ends and each.ends[0] < middle < each.ends[1])
            found.append(((left, right), next(own, proposed)))
    return tuple(found) or (((0.0, 0.0), proposed),)


def _heights(wall: Wall, bays: tuple[_Bay, ...], say: Say) -> Table:
    rows = []
    for (left, right), lies in sorted(bays, key=lambda bay: abs(wall.taped(bay[0][0]))):
        edges = tuple(say.height(up) for up in lies.up) if lies.up else ("", "")
        ends = sorted((wall.taped(left), wall.taped(right)))
        place = tuple(say.bare(each) for each in (*ends, ends[1] - ends[0]))
        rows.append((*(place if right > left else ("",) * 3), *edges, "", "[]"))
    if len(bays) == 1 and bays[0][0] == (0.0, 0.0):
        rows *= 3
    return Table(
        heads=(
            f"From {wall.tape_from} end",
            "To",
            "Length",
            "Lower edge up",
            "Upper edge up",
            "Length as cut",
            "In",
        ),
        widths=(28, 24, 24, 28, 28, 28, 12),
        figures=(),
        rows=tuple(rows),
    )


def photo_sheet(plan: Plan) -> FormSheet:
    """Return the photos to take, by name, and those the job names already.

    Args:
        plan: the whole job.
    """
    say, tapes = Say.of(plan.job.meta), plan.job.tapes
    carrying = {leg.wall for spec in plan.job.shelves for leg in spec.legs}
    walls = tuple(
        FormPart(
            f"Wall {wall.called}",
            lines=tuple(
                f"Named in the job: {p}" for p in (wall.known.photo, *wall.known.photos) if p
            ),
            tables=(_photos(_of_wall(wall.id, carries=wall.id in carrying)),),
        )
        for wall in tapes.walls
    )
    corners = tuple(
        (
            f"{c.left}-{c.right}",
            f"the corner of walls {tapes.called(c.left)} and {tapes.called(c.right)}, a square in it",
        )
        for c in tapes.corners
    )
    near = tuple((o.id, f"{o.id}, a tape from the corner or end to it") for o in tapes.obstacles)
    place = (
        ("way-in", "the narrowest doorway and the stair, a tape across"),
        ("floor", "the level line and the floor under it, at both ends"),
        ("finish-sample", "the signed sample beside the room's own wood or paint"),
    )
    more = (FormPart("The place", tables=(_photos((*corners, *near, *place)),)),)
    return FormSheet(
        title="Photo list",
        about="every picture has a tape in it",
        unit=say.unit,
        warning="",
        intro="A picture without a tape in it shows that there was a wall. Name the files as here and write the names "
        "into the job, under the wall they show.",
        facts=(),
        parts=(*walls, *more),
    )


def _of_wall(name: str, *, carries: bool) -> tuple[tuple[str, str], ...]:
    whole = (f"{name}-whole", "the whole wall, straight on, a tape along it")
    if not carries:
        return (whole,)
    return (
        whole,
        (f"{name}-inside", "the strip opened, or the open studs, a tape across both edges"),
        (f"{name}-depth", "the depth gauge in a hole: from the face to the wood"),
    )


def _photos(rows: tuple[tuple[str, str], ...]) -> Table:
    return Table(
        heads=("Name", "What it shows", "Taken"),
        widths=(44, 110, 18),
        figures=(),
        rows=tuple((name, what, "[]") for name, what in rows),
    )


def question_sheet(units: Unit, words: Words) -> FormSheet:
    """Return the questions of the first visit to print blank, in a carpenter's order.

    Source: common practice; "don't know" is an answer everywhere and takes the safe default.

    Args:
        units: what lengths are written in.
        words: the trade's words.
    """
    say = Say(units, words)
    return FormSheet(
        title="Questions for the first visit",
        about="don't know is an answer",
        unit=say.unit,
        warning="",
        intro="Ten minutes, in this order. Write what the tape shows; round nothing. Where nobody knows, write "
        "don't know: the safe answer is taken, and the packet says what not knowing costs.",
        facts=(),
        parts=(*_first_seven(say), *_asked_apart(), *_last_six()),
    )


def _first_seven(say: Say) -> tuple[FormPart, ...]:
    lining = say.word("lining")
    return (
        FormPart(
            "1  The job",
            blanks=("Name and place", "For whom"),
            choices=("new wall", "existing wall", "open studs"),
        ),
        FormPart(
            "2  The shelf",
            choices=("straight", "corner", "alcove"),
            blanks=("How many, and the height of each top above the level line",),
        ),
        FormPart(
            "3  Its size",
            blanks=(
                "Length of each leg",
                "Depth",
                "How thick it should look",
                "Which ends meet a wall",
            ),
        ),
        FormPart(
            "4  What sits on it",
            choices=("children near it", "someone may lean on it", "heavy thing"),
            blanks=("What, and how many feet or metres of it", "The heavy thing: what, where"),
        ),
        FormPart(
            "5  The wall",
            choices=("wood", "metal", "masonry", "don't know"),
            blanks=(f"Depth to wood ({lining})", "What is behind it", "Joists or a roof above it"),
        ),
        FormPart(
            "6  How do you know?",
            choices=("framed it", "opened it", "probed it", "scanned", "drawing", "guess"),
            blanks=("By whom, on which day, at what height", "Photos, by name"),
        ),
        FormPart(
            f"7  Studs at shelf height, from the end the tape is hooked on ({say.unit})",
            tables=(
                _empty(
                    ("Wall", "First edge", "Second edge", "Depth to wood", "Twisted, dead"),
                    (24, 34, 34, 34, 40),
                    8,
                ),
            ),
            blanks=("Or the first edge, and from one to the next",),
        ),
    )


def _last_six() -> tuple[FormPart, ...]:
    return (
        FormPart(
            "8  Corners, lengths and gaps",
            choices=(
                "steel tape",
                "laser measure",
                "folding rule",
                "two sticks",
                "alone",
                "helped",
            ),
            tables=(
                _empty(
                    ("Corner of", "Along the left", "Along the right", "Straight across"),
                    (40, 40, 40, 40),
                    4,
                ),
                _empty(("From mark", "To mark", "Tape reads"), (55, 55, 50), 4),
                _empty(("Wall", *("Place, gap",) * 6), (18, *(26,) * 6), 6),
            ),
            lines=(
                "Two triangles of different size in each corner, and a tape across the mouth: then a slip shows.",
            ),
        ),
        FormPart(
            "9  What is near",
            tables=(
                _empty(
                    ("What", "Wall", "Left edge", "Right edge", "Top", "Bottom", "Stands out by"),
                    (34, 18, 24, 24, 24, 24, 26),
                    5,
                ),
            ),
            blanks=("Free room past each end",),
        ),
        FormPart(
            "10  Steel, adhesive, temperature",
            blanks=("Steel to be had", "Adhesive, class", "Temperature on the day"),
        ),
        FormPart(
            "11  Panel, edge and finish",
            choices=("paint", "oil", "lacquer", "tight", "caulk", "shadow gap"),
            blanks=("Panel, measured with a caliper", "Edge", "Light groove, cable"),
        ),
        FormPart(
            "12  Building",
            choices=(
                "rods first",
                "shelf first",
                "both from the drawing",
                "one person",
                "two people",
            ),
            blanks=("Narrowest doorway on the way in",),
        ),
        FormPart("13  Money and time", blanks=("Shop-hour charge", "Tax", "Start")),
    )


def _asked_apart() -> tuple[FormPart, ...]:
    return (
        FormPart(
            "Asked apart, since no probe shows it",
            blanks=(
                "Does the wall carry load? Who says so",
                "Pipes, cables, ducts; who looked",
                "Does the lining keep fire or sound",
                "Age of the house: lead paint, asbestos, lath",
                "Consent needed: owner, landlord, authority",
                "Outside wall, damp, heat, a cooker below",
            ),
            lines=(
                "Don't know about load counts as carrying it. Damp: stop until its cause is mended.",
            ),
        ),
    )


def _empty(heads: tuple[str, ...], widths: tuple[float, ...], rows: int) -> Table:
    return Table(heads, widths, (), (("",) * len(heads),) * rows)
