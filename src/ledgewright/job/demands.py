"""What a shelf must carry and how little it may drop."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from ledgewright.job import defaults
from ledgewright.job.findings import Ear
from ledgewright.job.model import (
    Accident,
    Demand,
    Even,
    Lasts,
    Leg,
    Limits,
    TapedCorner,
    TapedObstacle,
    Tapes,
    Thing,
)
from ledgewright.job.past import Past, beyond, past
from ledgewright.job.places import Path
from ledgewright.job.rods import place
from ledgewright.job.schema import (
    AccidentTable,
    EvenTable,
    LimitsTable,
    ShelfBody,
    StripTable,
    ThingTable,
)
from ledgewright.job.walls import NEAR, Walls, known_wall, left_end, right_end, signed

G = 9.80665  # m/s2, standard gravity, 3rd CGPM 1901
LOW_TOP, LOW_DEPTH = 1100.0, 200.0
"""A top no higher than this over what one stands on, and so deep, is sat or stepped on (mm; shared plan, statics 4)."""
FOOTING = 200.0
"""So wide and so far out, a worktop or the like under a shelf is stood on (mm; common practice)."""

PATCH_LEAST, PATCH_MOST = 50.0, 150.0
"""Side of the square that somebody presses on (mm): a heel or half a hand, and a seat on the edge or both hands side by
side (common practice). Its middle is half of it behind the front edge, so a wide one lifts the load off the front."""
PATCH_FINEST = 3.2
"""A square wider than the usual by no more than this is the usual one in other units (mm): 4 in."""

IN_WALL = 3.2
"""A thing that reaches into the wall by less than this only touches it: places of things are read no finer (mm)."""

LoadTable = EvenTable | StripTable | ThingTable | AccidentTable


def demand(
    ear: Ear,
    shelf: ShelfBody,
    legs: tuple[Leg, ...] | None,
    tables: Sequence[LoadTable | None],
    limits: LimitsTable | None,
    path: Path,
    walls: Walls,
    tapes: Tapes,
) -> Demand:
    """Return what one shelf must carry.

    Source: the program's stated loads; accidental loads and least contents as there.

    Args:
        ear: hears what is wrong.
        shelf: depth, height and the heaviest one thing.
        legs: its legs, None if they could not be read.
        tables: the loads in file order, None where one could not be read.
        limits: how far it may drop.
        path: of the shelf.
        walls: the walls of the job.
        tapes: what was taped: the corners it may turn, and what stands about, on this wall and the next.
    """
    over = past(legs or (), shelf.depth, -shelf.edging.thick, tapes.corners)
    _check_ids(ear, tables, path)
    stated: list[Even | Thing] = []
    for i, table in enumerate(tables):
        load = _load(ear, table, (*path, "load", i), shelf, legs, walls, over)
        if load:
            stated.append(load)
    broken = any(table is None for table in tables)
    extra = () if broken or legs is None else _least(ear, shelf, legs, stated, path)
    deepest = max(_depths(shelf, legs))
    stood_on = _footings(shelf, legs or (), tapes.obstacles, walls, tapes.corners)
    usual = _accident_key(shelf.top, deepest, stood_on)
    accidents, declined = _accidents(ear, usual, tables, path)
    single = (
        shelf.single if shelf.single is not None else ear.default("shelf.single", (*path, "single"))
    )
    made = Demand(
        shelf=shelf.id,
        loads=(*stated, *extra),
        accidents=accidents,
        single=single,
        limits=_limits(ear, limits, min(_depths(shelf, legs)), (*path, "limits")),
        accident_declined=declined,
    )
    return _beside_the_usual(made, usual)


def _check_ids(ear: Ear, tables: Sequence[LoadTable | None], path: Path) -> None:
    seen: set[str] = set()
    for i, table in enumerate(tables):
        if table is not None and table.id in seen:
            ear.refuse(
                "duplicate",
                (*path, "load", i, "id"),
                f'two loads are called "{table.id}"',
                "give each its own id",
            )
        if table is not None:
            seen.add(table.id)


def _load(
    ear: Ear,
    table: LoadTable | None,
    path: Path,
    shelf: ShelfBody,
    legs: tuple[Leg, ...] | None,
    walls: Walls,
    over: Sequence[Past],
) -> Even | Thing | None:
    match table:
        case EvenTable():
            return _even(ear, table, path, legs, walls)
        case StripTable():
            return _strip(ear, table, path, legs, walls)
        case ThingTable():
            return _thing(ear, table, path, shelf, legs, walls, over)
        case _:
            return None


def _lasts(ear: Ear, given: Lasts | None, path: Path) -> Lasts:
    if given is None:
        ear.default_text("shelf.load.lasts", (*path, "lasts"))
    return given or "years"


def _spread(ear: Ear, table: EvenTable | StripTable, path: Path) -> bool:
    if table.weight.kind in ("per length", "per area"):
        return True
    ear.refuse(
        "figure",
        (*path, "weight"),
        "a load that is spread says per what",
        'write it like "16 lb/ft", "18 lb/ft2", "30 kg/m" or "2.4 kPa"',
    )
    return False


def _even(
    ear: Ear, table: EvenTable, path: Path, legs: tuple[Leg, ...] | None, walls: Walls
) -> Even | None:
    if table.wall is not None:
        known_wall(ear, walls, table.wall, (*path, "wall"))
    on = _leg_of(ear, table.wall, (*path, "wall"), legs, walls) if table.wall else None
    lasts = _lasts(ear, table.lasts, path)
    if not _spread(ear, table, path):
        return None
    return _made(table, on, on.start if on else None, on.end if on else None, lasts)


def _strip(
    ear: Ear, table: StripTable, path: Path, legs: tuple[Leg, ...] | None, walls: Walls
) -> Even | None:
    wall = known_wall(ear, walls, table.wall, (*path, "wall"))
    leg = _leg_of(ear, table.wall, (*path, "wall"), legs, walls)
    lasts = _lasts(ear, table.lasts, path)
    if table.end <= table.start:
        ear.refuse(
            "order",
            (*path, "to"),
            "this strip ends before it begins",
            "write from nearer the tape's hook, to farther",
        )
        return None
    if not _spread(ear, table, path) or wall is None or leg is None:
        return None
    ends = sorted((signed(wall, table.start) + 0.0, signed(wall, table.end) + 0.0))
    if ends[0] < leg.start - NEAR or ends[1] > leg.end + NEAR:
        ear.refuse(
            "place",
            path,
            "this strip runs past the end of its leg",
            "keep from and to on the shelf",
        )
    return _made(table, leg, ends[0], ends[1], lasts)


def _made(
    table: EvenTable | StripTable,
    on: Leg | None,
    start: float | None,
    end: float | None,
    lasts: Lasts,
) -> Even:
    per_area = table.weight.kind == "per area"
    return Even(
        id=table.id,
        pressure=table.weight.value if per_area else None,
        per_length=None if per_area else table.weight.value,
        wall=on.wall if on else None,
        start=start,
        end=end,
        lasts=lasts,
        assumed=False,
    )


def _leg_of(
    ear: Ear, wall: str | None, path: Path, legs: tuple[Leg, ...] | None, walls: Walls
) -> Leg | None:
    leg = next((leg for leg in legs or () if leg.wall == wall), None)
    if leg is None and legs is not None and wall in walls.ids:
        ear.refuse(
            "wall",
            path,
            "this shelf has no leg on that wall",
            "one of: " + ", ".join(leg.wall for leg in legs),
        )
    return leg


def _thing(
    ear: Ear,
    table: ThingTable,
    path: Path,
    shelf: ShelfBody,
    legs: tuple[Leg, ...] | None,
    walls: Walls,
    over: Sequence[Past],
) -> Thing | None:
    lasts = _lasts(ear, table.lasts, path)
    spot = place(ear, table.at, (*path, "at"), walls, past=over)
    on = next((leg for leg in legs or () if spot and leg.wall == spot.wall.id), None)
    deep = on.deep(shelf.depth) if on else max(_depths(shelf, legs))
    _check_out(ear, table, deep, shelf.edging.thick, path)
    if table.feet and any(foot > size for foot, size in zip(table.feet, table.size, strict=True)):
        ear.refuse(
            "order",
            (*path, "feet"),
            "its feet stand wider than it is",
            "write the spacing of the feet, along and out",
        )
    if spot is None:
        return None
    leg = _leg_of(ear, spot.wall.id, (*path, "at"), legs, walls)
    feet = table.feet[0] / 2 if table.feet and len(legs or ()) == 1 else 0.0
    left, right = beyond(over, spot.wall.id)
    for what, half in (("its middle is", 0.0), ("its feet stand", feet)):
        if (
            leg
            and not leg.start - left + half - NEAR <= spot.along <= leg.end + right - half + NEAR
        ):
            ear.refuse(
                "place",
                (*path, "at"),
                f"{what} past the end of the shelf",
                "name a place on the shelf",
            )
            break
    return Thing(
        id=table.id,
        wall=spot.wall.id,
        along=spot.along,
        out=table.out,
        size=table.size,
        feet=table.feet,
        mass=table.weight,
        lasts=lasts,
    )


def _check_out(ear: Ear, table: ThingTable, deep: float, edging: float, path: Path) -> None:
    """Refuse a thing that stands in the wall, on the edging alone, or in front of the shelf."""
    front, half = deep - edging, table.size[1] / 2
    feet = table.feet[1] / 2 if table.feet else 0.0
    if table.out > deep + NEAR:
        wrong = f"its middle is past the front edge: the shelf is {ear.length(deep)} deep there"
    elif table.out > front + NEAR:
        wrong = f"its middle stands over the edging, the foremost {ear.length(edging)} of the shelf"
    elif table.out + feet > deep + NEAR:
        wrong = "its feet stand past the front edge"
    elif table.out < half - IN_WALL:
        wrong = f"it would stand in the wall: it is {ear.length(table.size[1])} from front to back"
    else:
        return
    most = min(front, deep - feet)
    right = (
        f"between {ear.length(half)} and {ear.length(most)}"
        if half < most
        else "something that stands on the shelf"
    )
    ear.refuse("place", (*path, "out"), wrong, f"{right}, counted from the wall to its middle")


def _least(
    ear: Ear,
    shelf: ShelfBody,
    legs: tuple[Leg, ...],
    stated: Sequence[Even | Thing],
    path: Path,
) -> tuple[Even, ...]:
    """Return the even load taken where none is stated, or what known contents fall short of the least."""
    at = (*path, "load")
    if not stated:
        return _assumed_even(ear, shelf.depth, legs, at)
    least = defaults.find("shelf.load.known least").number
    made = []
    for leg in legs:
        deep = leg.deep(shelf.depth)
        area = (leg.end - leg.start) * deep
        short = least - sum(_force(load, leg, deep, legs) for load in stated) / area
        if short > 1e-9:
            ear.default("shelf.load.known least", at)
            made.append(_extra(f"least contents, {leg.wall}", short, None, leg))
    return tuple(made)


def _assumed_even(ear: Ear, depth: float, legs: Sequence[Leg], path: Path) -> tuple[Even, ...]:
    """The pressure taken, or on a leg too narrow for it what lies on every length; one load where legs are alike."""
    pressure = defaults.find("shelf.load.even").number
    per_length = defaults.find("shelf.load.even least").number
    wide = [pressure * leg.deep(depth) >= per_length for leg in legs]
    alike = len(set(wide)) == 1
    made = []
    for leg, enough in list(zip(legs, wide, strict=True))[: 1 if alike else None]:
        of = None if alike else leg
        name = "contents not named" if of is None else f"contents not named, {leg.wall}"
        if enough:
            made.append(_extra(name, ear.default("shelf.load.even", path), None, of))
        else:
            made.append(_extra(name, None, ear.default("shelf.load.even least", path), of))
    return tuple(made)


def _extra(name: str, pressure: float | None, per_length: float | None, leg: Leg | None) -> Even:
    return Even(
        id=name,
        pressure=pressure,
        per_length=per_length,
        wall=leg.wall if leg else None,
        start=leg.start if leg else None,
        end=leg.end if leg else None,
        lasts="years",
        assumed=True,
    )


def _force(load: Even | Thing, leg: Leg, depth: float, legs: Sequence[Leg]) -> float:
    """Return how much of a load stands on a leg (N)."""
    if isinstance(load, Thing):
        return load.mass * G if load.wall == leg.wall else 0.0
    if load.wall not in (None, leg.wall):
        return 0.0
    start = leg.start if load.start is None else load.start
    end = leg.end if load.end is None else load.end
    line = load.per_length if load.per_length is not None else (load.pressure or 0.0) * depth
    return line * (end - start)


def _accidents(
    ear: Ear, usual: str, tables: Sequence[LoadTable | None], path: Path
) -> tuple[tuple[Accident, ...], bool]:
    stated = [(i, table) for i, table in enumerate(tables) if isinstance(table, AccidentTable)]
    made = [
        _accident(ear, table, (*path, "load", i), usual)
        for i, table in stated
        if table.none is None
    ]
    declined = [(i, table) for i, table in stated if table.none is not None]
    for i, table in declined:
        if table.force is not None or table.patch is not None or made:
            ear.refuse(
                "accident",
                (*path, "load", i, "none"),
                "an accident is both reckoned with and left out",
                "take none out, or the force",
            )
    if made or declined:
        return tuple(found for found in made if found), bool(declined)
    return (_assumed_accident(ear, usual, (*path, "load")),), False


def _accident(ear: Ear, table: AccidentTable, path: Path, key: str) -> Accident | None:
    if table.force is None:
        ear.refuse(
            "missing",
            path,
            "an accident has a force, or a reason why none is reckoned with",
            'write force = "0.6 kN", or none = "the reason"',
        )
        return None
    if table.force.kind not in ("force", "mass"):
        ear.refuse(
            "figure",
            (*path, "force"),
            "a person leans with a force or a weight",
            'write it like "0.6 kN" or "135 lb"',
        )
        return None
    force = table.force.value * (G if table.force.kind == "mass" else 1.0)
    usual = defaults.find(key)
    if force < usual.number:
        ear.note(
            "accident",
            (*path, "force"),
            f"this is less than the {usual.text(ear.unit)} usual here",
            usual.why,
        )
    patch = _patch(ear, table.patch, (*path, "patch"))
    return Accident(id=table.id, force=force, patch=patch, why="stated in the job file")


def _patch(ear: Ear, stated: float | None, path: Path) -> float:
    """Return the side of the square that somebody presses on (mm); one too wide or too narrow is refused."""
    if stated is None:
        return ear.default("shelf.load.accident.patch", path)
    usual = defaults.find("shelf.load.accident.patch")
    if not PATCH_LEAST - NEAR <= stated <= PATCH_MOST + NEAR:
        ear.refuse(
            "accident",
            path,
            f"nobody leans on a square with a side of {ear.length(stated)}",
            f"{usual.text(ear.unit)} is usual; write {ear.length(PATCH_LEAST)} to {ear.length(PATCH_MOST)}",
        )
    elif stated > usual.number + PATCH_FINEST:
        ear.note(
            "accident",
            path,
            f"this is wider than the {usual.text(ear.unit)} usual here, so it presses further from the front edge",
            usual.why,
        )
    return stated


def _beside_the_usual(demand: Demand, key: str) -> Demand:
    """Return what must be carried with the usual force or square beside the accident that asks for less of them."""
    force, patch = defaults.find(key).number, defaults.find("shelf.load.accident.patch").number
    judged = demand.accident
    if judged is None:
        return demand
    return replace(
        demand,
        accident_usual=force if judged.force < force else None,
        patch_usual=patch if judged.patch > patch + PATCH_FINEST else None,
    )


def _footings(
    shelf: ShelfBody,
    legs: Sequence[Leg],
    obstacles: Sequence[TapedObstacle],
    walls: Walls,
    corners: Sequence[TapedCorner],
) -> tuple[float, ...]:
    """Heights that somebody may stand or kneel on under a shelf: the floor, and what stands out far enough (mm)."""
    tops = [
        each.up[1]
        for each in obstacles
        for leg in legs
        if each.up[1] < shelf.top
        and each.out[1] >= FOOTING
        and (_under(leg, each) or _round_corner(shelf, leg, each, walls, corners))
    ]
    return (0.0, *tops)


def _under(leg: Leg, each: TapedObstacle) -> bool:
    """Whether a thing on a leg's own wall is under enough of it."""
    shared = min(leg.end, each.along[1]) - max(leg.start, each.along[0])
    return each.wall == leg.wall and shared >= FOOTING


def _round_corner(
    shelf: ShelfBody,
    leg: Leg,
    each: TapedObstacle,
    walls: Walls,
    corners: Sequence[TapedCorner],
) -> bool:
    """Whether a thing on the next wall round an inside corner reaches under a leg, as if the corner were square.

    It does where it begins nearer to the corner than the shelf is deep, and the leg comes nearer to it than it is deep.
    """
    if each.along[1] - each.along[0] < FOOTING:
        return False
    for corner in corners:
        left, right = walls.find(corner.left), walls.find(corner.right)
        if corner.turn != "inside" or left is None or right is None:
            continue
        if (leg.wall, each.wall) == (left.id, right.id):
            near, far = right_end(left) - leg.end, each.along[0] - left_end(right)
        elif (leg.wall, each.wall) == (right.id, left.id):
            near, far = leg.start - left_end(right), right_end(left) - each.along[1]
        else:
            continue
        if far < leg.deep(shelf.depth) and near < each.out[1]:
            return True
    return False


def _depths(shelf: ShelfBody, legs: Sequence[Leg] | None) -> tuple[float, ...]:
    """How deep each leg is, or the shelf where they could not be read (mm)."""
    return tuple(leg.deep(shelf.depth) for leg in legs or ()) or (shelf.depth,)


def _accident_key(top: float, depth: float, footings: Sequence[float]) -> str:
    low = any(top - each <= LOW_TOP for each in footings) and depth >= LOW_DEPTH
    return "shelf.load.accident low" if low else "shelf.load.accident"


def _assumed_accident(ear: Ear, key: str, path: Path) -> Accident:
    return Accident(
        id="someone leans or climbs",
        force=ear.default(key, path),
        patch=ear.default("shelf.load.accident.patch", path),
        why=defaults.find(key).why,
    )


def _limits(ear: Ear, table: LimitsTable | None, depth: float, path: Path) -> Limits:
    today = table.drop_today if table else None
    long = table.drop_long if table else None
    made = (
        today if today is not None else _limit(ear, "drop_today", depth, path),
        long if long is not None else _limit(ear, "drop_long", depth, path),
    )
    if today is not None and long is not None and long < today:
        ear.refuse(
            "order",
            (*path, "drop_long"),
            "the long-term limit is below that of day one",
            "wood only ever sinks further; write a larger one",
        )
    return Limits(drop_today=made[0], drop_long=made[1], assumed=today is None or long is None)


def _limit(ear: Ear, key: Literal["drop_today", "drop_long"], depth: float, path: Path) -> float:
    share = defaults.find(f"shelf.limits.{key} share")
    most = defaults.find(f"shelf.limits.{key} most")
    limit = min(depth / share.number, most.number)
    row = share if limit < most.number else most
    ear.took(
        (*path, key),
        ear.length(limit),
        f"the lesser of depth/{share.number:g} and {most.text(ear.unit)}: {row.why}",
        row.source,
    )
    return limit
