"""From the tables of one shelf to its specification: legs, skins, core, lock, groove."""

from __future__ import annotations

import difflib
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from ledgewright.job import defaults
from ledgewright.job.findings import Ear
from ledgewright.job.model import (
    ACCEPTABLE,
    Accepted,
    Back,
    Cable,
    CoreSpec,
    Ends,
    Groove,
    Lean,
    Leg,
    Lock,
    Placing,
    RodSpec,
    Sealer,
    Skin,
    Spec,
    TapedCorner,
    depth_on,
    is_paint,
)
from ledgewright.job.places import Path
from ledgewright.job.rods import place
from ledgewright.job.schema import (
    AcceptedTable,
    CoreTable,
    Joint,
    LegTable,
    LockTable,
    ShelfBody,
    SkinTable,
)
from ledgewright.job.walls import (
    HIGHEST,
    NEAR,
    Walls,
    known_wall,
    left_end,
    right_end,
    signed,
    taped,
)
from ledgewright.stock import Panel

DEEPEST = 600.0
SHALLOWEST = 60.0
AGREE = 0.5
REACH = 25.0
MEASURED_UNLIKE = 2.5
FINEST = 0.1
COARSEST = 3.0
STEEPEST = 0.05


@dataclass(frozen=True)
class Body:
    """What a shelf's rods and loads need to know of it; None where it could not be read."""

    table: ShelfBody
    legs: tuple[Leg, ...] | None
    skins: tuple[Skin, Skin] | None
    core: CoreSpec | None
    path: Path


def body(
    ear: Ear,
    table: ShelfBody,
    core: CoreTable | None,
    path: Path,
    walls: Walls,
    corners: Sequence[TapedCorner],
) -> Body:
    """Return the legs, skins and core of a shelf, saying what is wrong with them."""
    _ask_depth(ear, table.depth, (*path, "depth"))
    if table.top > HIGHEST:
        ear.ask((*path, "top"), f"a top {ear.length(table.top)} up looks odd")
    legs = _legs(ear, table, path, walls, corners)
    skins = _skins(ear, table, path)
    _check_groove(ear, table, skins, path)
    made = _core(ear, table, core, skins, path) if core and skins else None
    return Body(table=table, legs=legs, skins=skins, core=made, path=path)


def _ask_depth(ear: Ear, depth: float, path: Path) -> None:
    if not SHALLOWEST <= depth <= DEEPEST:
        ear.ask(path, f"a shelf {ear.length(depth)} deep looks odd")


def spec(
    ear: Ear,
    body: Body,
    rods: tuple[RodSpec, ...],
    walls: Walls,
    corners: Sequence[TapedCorner],
) -> Spec | None:
    """Return the shelf's specification; None if a part of it could not be read."""
    table, path = body.table, body.path
    lock = _lock(ear, table.lock, path, rods, walls)
    kind, coats = _finish(ear, table, path)
    sealer, primer = _under_coats(ear, table, kind, path)
    back, gap = _back(ear, table, path)
    ends, end_gap = _ends(ear, body, walls, corners)
    joint = _joint_at(ear, body, rods, walls)
    cables = _cables(ear, body, walls)
    accepted = _accepted(ear, table.accepted, (*path, "accepted"))
    allowance = table.scribe_allowance
    if allowance is None:
        allowance = ear.default("shelf.scribe_allowance", (*path, "scribe_allowance"))
    placing, tolerance = _scribed(ear, table, back, ends, path)
    lean = _lean(ear, table, path, walls)
    nose_up = _nose_up(ear, body, rods, path)
    if body.legs is None or body.skins is None or body.core is None:
        return None
    groove = table.groove
    return Spec(
        id=table.id,
        top=table.top,
        depth=table.depth,
        legs=body.legs,
        skin_top=body.skins[0],
        skin_bottom=body.skins[1],
        core=body.core,
        sections=table.sections,
        edging=table.edging.of,
        edging_thick=table.edging.thick,
        scribe_allowance=allowance,
        back=back,
        back_gap=gap,
        end_gap=end_gap,
        finish=kind,
        coats=coats,
        lock=lock,
        rods=rods,
        groove=Groove(groove.width, groove.deep, groove.from_front) if groove else None,
        first=_first(ear, table, body.legs, path),
        path=ear.path(path),
        ends=ends,
        joint=joint,
        cables=cables,
        accepted=accepted,
        placing=placing,
        scribe_tolerance=tolerance,
        lean=lean,
        nose_up=nose_up,
        sealer=sealer,
        primer=primer,
    )


def _scribed(
    ear: Ear, table: ShelfBody, back: Back, ends: Ends, path: Path
) -> tuple[Placing, float]:
    """Return how the shelf is laid to its walls, and how wide a gap straight cuts may leave."""
    placing, within = table.placing, table.scribe_tolerance
    if placing is None:
        placing = "least scribe"
        if "tight" in (back, ends):
            ear.default_text("shelf.placing", (*path, "placing"))
    if within is None:
        at = (*path, "scribe_tolerance")
        tight = "tight" in (back, ends)
        return placing, ear.default("shelf.scribe_tolerance", at) if tight else 0.5
    if within < FINEST:
        ear.refuse(
            "scribe",
            (*path, "scribe_tolerance"),
            "no saw follows a line as close as that",
            f"at least {ear.toml(FINEST)}",
        )
    elif within > COARSEST:
        ear.ask((*path, "scribe_tolerance"), f"a gap of {ear.length(within)} at the wall looks odd")
    return placing, within


def _lean(ear: Ear, table: ShelfBody, path: Path, walls: Walls) -> tuple[Lean, ...]:
    found: list[Lean] = []
    for i, row in enumerate(table.lean or ()):
        at = (*path, "lean", i)
        wall = known_wall(ear, walls, row.wall, (*at, "wall"))
        if any(each.wall == row.wall for each in found):
            ear.refuse("lean", at, "the lean of this wall stands twice", "one figure for each wall")
        if row.gap > row.over * STEEPEST:
            ear.ask((*at, "gap"), "a wall that leans as much as that looks odd")
        if wall is not None:
            slope = row.gap / row.over
            found.append(Lean(row.wall, slope if row.at == "top" else -slope))
    return tuple(found)


def _nose_up(ear: Ear, body: Body, rods: Sequence[RodSpec], path: Path) -> float:
    """Return how far the front is set up; the rods tilt in their holes for it, which must leave them room."""
    set_up = body.table.nose_up
    if not set_up:
        return 0.0
    if len(body.table.legs) > 1:
        ear.refuse(
            "nose up",
            (*path, "nose_up"),
            "a flat shelf round a corner cannot rise to both of its fronts",
            "take nose_up out; a straight shelf may have one",
        )
        return 0.0
    room = min(
        ((rod.hole - rod.bar.height) / rod.embedment * _deep(body, rod.wall) for rod in rods),
        default=None,
    )
    if room is not None and set_up > room + AGREE / 10:
        ear.refuse(
            "nose up",
            (*path, "nose_up"),
            "the rods cannot tilt as much as that in their holes",
            f"at most {ear.toml(max(room, 0.0))}",
        )
    return set_up


def _deep(body: Body, wall: str | None) -> float:
    """How deep a shelf is on a wall (mm)."""
    return depth_on(body.legs or (), wall, body.table.depth)


def _accepted(ear: Ear, table: AcceptedTable | None, path: Path) -> Accepted | None:
    if table is None:
        return None
    for i, row in enumerate(table.rows):
        if row not in ACCEPTABLE:
            near = difflib.get_close_matches(row, ACCEPTABLE, n=3, cutoff=0.0)
            wrong = f'"{row}" is no kind of check that can be accepted'
            ear.refuse("accepted", (*path, "rows", i), wrong, "one of: " + ", ".join(near))
    if table.stale:
        ear.open(
            (*path, "stale"),
            f"the design was changed after {table.by} gave that word: ask for it anew before anything is drilled, "
            "then take stale out",
        )
    return Accepted(table.by, table.on, table.rows)


def _legs(
    ear: Ear, table: ShelfBody, path: Path, walls: Walls, corners: Sequence[TapedCorner]
) -> tuple[Leg, ...] | None:
    made = [_leg(ear, leg, (*path, "legs", i), walls) for i, leg in enumerate(table.legs)]
    legs = [leg for leg in made if leg is not None]
    if len(legs) < len(table.legs):
        return None
    if len(legs) == 1:
        return tuple(legs)
    return _turn(ear, legs, (*path, "legs"), walls, corners)


def _leg(ear: Ear, leg: LegTable, path: Path, walls: Walls) -> Leg | None:
    wall = known_wall(ear, walls, leg.wall, path)
    if leg.end <= leg.start:
        ear.refuse(
            "order",
            path,
            "this leg ends before it begins",
            "write from nearer the tape's hook, to farther",
        )
        return None
    if wall is None:
        return None
    if leg.end > wall.length + NEAR:
        ear.refuse(
            "place",
            path,
            f"this leg is longer than its wall, which is {ear.length(wall.length)}",
            f"at most to = {ear.toml(wall.length)}",
        )
        return None
    ends = sorted((signed(wall, leg.start) + 0.0, signed(wall, leg.end) + 0.0))
    if leg.depth is not None:
        _ask_depth(ear, leg.depth, (*path, "depth"))
    return Leg(wall=leg.wall, start=ends[0], end=ends[1], depth=leg.depth)


def _turn(
    ear: Ear, legs: Sequence[Leg], path: Path, walls: Walls, corners: Sequence[TapedCorner]
) -> tuple[Leg, ...] | None:
    """Return both legs of a corner shelf, the left one first."""
    left, right = sorted(legs, key=lambda leg: walls.place(leg.wall))
    corner = next((c for c in corners if (c.left, c.right) == (left.wall, right.wall)), None)
    if corner is None:
        if any(place[:1] == ("corner",) for place in ear.refused):
            return None
        ear.refuse(
            "corner",
            path,
            f'no corner joins "{left.wall}" to "{right.wall}"',
            "a shelf turns only where a [[corner]] joins two neighbouring walls",
        )
        return None
    ends = ((left, left.end, right_end), (right, right.start, left_end))
    for leg, end, meets in ends:
        wall = walls.find(leg.wall)
        if wall and abs(end - meets(wall)) > NEAR:
            wrong = f'the leg on "{leg.wall}" stops {ear.length(abs(end - meets(wall)))} short of the corner'
            ear.refuse("corner", path, wrong, "both legs of a corner shelf reach the corner")
    return left, right


def _skins(ear: Ear, table: ShelfBody, path: Path) -> tuple[Skin, Skin] | None:
    top = _skin(ear, table, table.skin_top, (*path, "skin_top"))
    bottom = _skin(ear, table, table.skin_bottom, (*path, "skin_bottom"))
    return (top, bottom) if top and bottom else None


def _skin(ear: Ear, table: ShelfBody, own: SkinTable | None, path: Path) -> Skin | None:
    panel = own.of if own else table.skins
    if panel is None:
        ear.refuse(
            "missing",
            path[:-1],
            "this shelf has no skins",
            'write skins = "birch ply 1/2" for both, or skin_top and skin_bottom',
        )
        return None
    measured = own.measured if own and own.measured is not None else table.measured
    if measured is None:
        ear.took(
            path,
            ear.length(panel.thick),
            f"thickness of {panel.name} by its name; measure it",
            panel.source,
        )
    elif abs(measured - panel.thick) > MEASURED_UNLIKE:
        at = (*path, "measured") if own and own.measured is not None else (*path[:-1], "measured")
        ear.ask(at, f"{panel.name} is {ear.length(panel.thick)} thick by the catalogue")
    return Skin(
        panel=panel,
        thick=measured if measured is not None else panel.thick,
        joint=_joint(ear, table, own, panel, path),
    )


def _joint(ear: Ear, table: ShelfBody, own: SkinTable | None, panel: Panel, path: Path) -> Joint:
    if own and own.joint:
        return own.joint
    if len(table.legs) == 1:
        return "one piece"
    ear.default_text("shelf.skin.joint", (*path, "joint"))
    return "butted"


def _core(
    ear: Ear, table: ShelfBody, core: CoreTable, skins: tuple[Skin, Skin], path: Path
) -> CoreSpec | None:
    at = (*path, "core")
    thick = _core_thick(ear, table, core, skins, path)
    sizes = [
        given if given is not None else ear.default(f"shelf.core.{key}", (*at, key))
        for key, given in (("strip", core.strip), ("rib", core.rib), ("max_span", core.max_span))
    ]
    if thick is None:
        return None
    return CoreSpec(of=core.of, thick=thick, strip=sizes[0], rib=sizes[1], max_span=sizes[2])


def _core_thick(
    ear: Ear, table: ShelfBody, core: CoreTable, skins: tuple[Skin, Skin], path: Path
) -> float | None:
    both = skins[0].thick + skins[1].thick
    if table.thick is None:
        if core.thick is None:
            ear.refuse(
                "missing",
                (*path, "core"),
                "nothing tells how thick the shelf is",
                "write thick in [shelf.core], or the whole thickness as thick in [[shelf]]",
            )
        return core.thick
    rest = table.thick - both
    if core.thick is None and rest <= 1:
        ear.refuse(
            "thick",
            (*path, "thick"),
            f"two skins of {ear.length(both)} in all leave no room for a core",
            "write the whole finished thickness",
        )
        return None
    if core.thick is not None and abs(rest - core.thick) > AGREE:
        wrong = (
            f"the whole and its layers differ: skins and core make {ear.length(both + core.thick)}"
        )
        ear.refuse(
            "thick",
            (*path, "thick"),
            wrong,
            f"write thick = {ear.toml(both + core.thick)}, or core thick = {ear.toml(max(rest, 0))}",
        )
    return core.thick if core.thick is not None else rest


def _check_groove(ear: Ear, table: ShelfBody, skins: tuple[Skin, Skin] | None, path: Path) -> None:
    groove = table.groove
    if groove is None:
        return
    if groove.from_front + groove.width >= min(leg.depth or table.depth for leg in table.legs):
        ear.refuse(
            "groove",
            (*path, "groove"),
            "this groove is not within the depth of the shelf, or of its shallower leg",
            "count from_front from the front edge",
        )
    if skins and groove.deep >= skins[1].thick:
        ear.refuse(
            "groove",
            (*path, "groove", "deep"),
            f"this groove goes through the bottom skin, which is {ear.length(skins[1].thick)}",
            "leave at least half of the skin",
        )


def _cables(ear: Ear, body: Body, walls: Walls) -> tuple[Cable, ...]:
    """Return the ways kept free for cables; each lies on a leg and no deeper than the shelf."""
    found = []
    for i, row in enumerate(body.table.cable or ()):
        path = (*body.path, "cable", i)
        spot = place(ear, row.at, (*path, "at"), walls)
        deep = _deep(body, spot.wall.id if spot else None)
        if row.out is not None and row.out >= deep:
            ear.refuse(
                "cable",
                (*path, "out"),
                "this cable way comes out of the front edge",
                f"less than {ear.toml(deep)}",
            )
        if spot is None or body.legs is None:
            continue
        half = row.width / 2
        if not any(
            leg.wall == spot.wall.id and leg.start + half <= spot.along <= leg.end - half
            for leg in body.legs
        ):
            ear.refuse(
                "cable",
                (*path, "at"),
                "this cable way is not on the shelf",
                "name a place between its ends, its whole width",
            )
            continue
        found.append(Cable(spot.wall.id, spot.along, row.width, row.out, ear.path(path)))
    return tuple(found)


def _finish(ear: Ear, table: ShelfBody, path: Path) -> tuple[str, int]:
    if table.finish:
        return table.finish.kind.name, table.finish.coats
    at = (*path, "finish")
    return ear.default_text("shelf.finish.kind", at), round(ear.default("shelf.finish.coats", at))


def _under_coats(ear: Ear, table: ShelfBody, kind: str, path: Path) -> tuple[Sealer, str]:
    """Return the sealer and the primer under the coats; each sort of finish has its own usual ones."""
    given, at = table.finish, (*path, "finish")
    sort = "paint" if is_paint(kind) else "oil" if "oil" in kind else "clear"
    sealer: Sealer | None = given.sealer if given else None
    if sealer is None:
        sealer = "sanding sealer" if sort != "oil" else "none"
        ear.default_text(f"shelf.finish.sealer.{sort}", (*at, "sealer"))
    if sort == "oil" and sealer == "sanding sealer":
        ear.refuse(
            "finish",
            (*at, "sealer"),
            "oil must go into the wood, and a sealer keeps it out",
            'write "none", or "glue size" for the cut edges alone',
        )
    primer = given.primer if given else None
    if sort != "paint" and primer not in (None, "none"):
        ear.refuse(
            "finish",
            (*at, "primer"),
            "a primer would hide the wood under this finish",
            'write "none", or a finish that is a paint',
        )
    if primer is None and sort != "paint":
        return sealer, ""
    if primer is None:
        return sealer, ear.default_text("shelf.finish.primer.paint", (*at, "primer"))
    return sealer, "" if primer == "none" else primer.name


def _back(ear: Ear, table: ShelfBody, path: Path) -> tuple[Back, float]:
    back: Back = table.back or "tight"
    if table.back is None:
        ear.default_text("shelf.back", (*path, "back"))
    if table.back_gap is not None:
        if back == "tight" and table.back_gap > 0:
            ear.refuse(
                "back",
                (*path, "back_gap"),
                "a tight back keeps no gap",
                'write back = "caulk" or "shadow gap", or take the gap out',
            )
        return back, table.back_gap
    if back == "tight":
        return back, 0.0
    return back, ear.default(f"shelf.back_gap.{back}", (*path, "back_gap"))


def _ends(ear: Ear, body: Body, walls: Walls, corners: Sequence[TapedCorner]) -> tuple[Ends, float]:
    """Return what becomes of ends that meet a wall, and the gap or the least strip kept there."""
    table, path = body.table, body.path
    meets = _meets_a_wall(body.legs or (), walls, corners) or _parted_inside(body, corners)
    ends: Ends = table.ends or "caulk"
    if meets and table.ends is None:
        ear.default_text("shelf.ends", (*path, "ends"))
    if table.end_gap is not None:
        return ends, table.end_gap
    key = "shelf.end_gap.filler" if ends == "filler" else "shelf.end_gap"
    if not meets:
        # It counts all the same where such a shelf is tried in two sections, one of which then meets a wall.
        return ends, defaults.find(key).number
    return ends, ear.default(key, (*path, "end_gap"))


def _parted_inside(body: Body, corners: Sequence[TapedCorner]) -> bool:
    """Say whether this is an L in two sections at an inside corner: the one that runs through meets a wall."""
    names = tuple(leg.wall for leg in body.legs or ())
    inside = any(c.turn == "inside" and (c.left, c.right) == names for c in corners)
    return body.table.sections == 2 and inside


def _joint_at(ear: Ear, body: Body, rods: Sequence[RodSpec], walls: Walls) -> float | None:
    """Return the along at which a straight shelf is parted; None if it is not."""
    table, legs, at = body.table, body.legs, (*body.path, "joint")
    if table.joint is not None and (table.sections == 1 or len(table.legs) > 1):
        whole = (
            "this shelf is in one section"
            if table.sections == 1
            else "an L is parted at its corner"
        )
        ear.refuse("joint", at, whole, "take joint out, or write sections = 2 for a straight shelf")
        return None
    if table.sections == 1 or legs is None or len(legs) > 1:
        return None
    if table.joint is None:
        return _joint_taken(ear, legs[0], rods, walls, at)
    spot = place(ear, table.joint, at, walls)
    if spot and (spot.wall.id != legs[0].wall or not legs[0].start < spot.along < legs[0].end):
        ear.refuse("joint", at, "this place is not on the shelf", "name a place between its ends")
    return spot.along if spot else None


def _joint_taken(
    ear: Ear, leg: Leg, rods: Sequence[RodSpec], walls: Walls, path: Path
) -> float | None:
    """Half way between the two neighbouring rods nearest the middle that leave two rods on either side."""
    wall = walls.find(leg.wall)
    members = {m.id: (m.left + m.right) / 2 for m in wall.members} if wall else {}
    centres = sorted(members[rod.member] for rod in rods if rod.member in members)
    between = [(a + b) / 2 for a, b in pairwise(centres)]
    middle = (leg.start + leg.end) / 2
    at = min(between[1:-1] or between, key=lambda s: (abs(s - middle), s), default=None)
    if wall is not None and at is not None:
        why = "half way between the two rods nearest the middle"
        ear.took(path, f"{wall.id} {ear.figure(taped(wall, at))}", why, "common practice")
    return at


def _meets_a_wall(legs: Sequence[Leg], walls: Walls, corners: Sequence[TapedCorner]) -> bool:
    """Say whether the left end of the first leg or the right end of the last stands in an inside corner."""
    if not legs:
        return False
    first, last = walls.find(legs[0].wall), walls.find(legs[-1].wall)
    inside = [corner for corner in corners if corner.turn == "inside"]
    at_left = first and legs[0].start <= left_end(first) + REACH
    at_right = last and legs[-1].end >= right_end(last) - REACH
    return bool(
        (at_left and any(corner.right == legs[0].wall for corner in inside))
        or (at_right and any(corner.left == legs[-1].wall for corner in inside))
    )


def _first(ear: Ear, table: ShelfBody, legs: Sequence[Leg], path: Path) -> str | None:
    names = [leg.wall for leg in legs]
    if table.first is not None and table.first not in names:
        ear.refuse(
            "wall",
            (*path, "first"),
            "this shelf has no leg on that wall",
            "one of: " + ", ".join(names),
        )
    return table.first


def _lock(
    ear: Ear, table: LockTable | None, path: Path, rods: Sequence[RodSpec], walls: Walls
) -> Lock:
    if table is None:
        ear.default_text("shelf.lock.kind", (*path, "lock"))
        return Lock(kind="none", rods=())
    if table.at is None:
        everywhere = tuple(rod.member for rod in rods)
        return Lock(kind=table.kind, rods=() if table.kind == "none" else everywhere)
    found = [
        _locked(ear, text, (*path, "lock", "at", i), rods, walls, table.kind)
        for i, text in enumerate(table.at)
    ]
    return Lock(kind=table.kind, rods=tuple(member for member in found if member))


def _locked(
    ear: Ear, text: str, path: Path, rods: Sequence[RodSpec], walls: Walls, kind: str
) -> str | None:
    spot = place(ear, text, path, walls)
    if spot is None or spot.member is None:
        if spot is not None:
            spot.refuse_no_member(ear, path, walls)
        return None
    if rods and spot.member.id not in {rod.member for rod in rods}:
        ear.refuse(
            "place",
            path,
            f"this shelf has no rod there to take a {kind}",
            "name a place that stands in rods.at",
        )
    return spot.member.id
