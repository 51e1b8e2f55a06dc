"""The pages of the desk in the order of the work, and which keys of the job file each lets you write.

Labels are in the US trade's words; a job in the other English gets them said in that. What a key means is told by
the published schema of the job file, so that page and file cannot drift apart.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

ORDER: tuple[tuple[str, str], ...] = (
    ("place", "Job and place"),
    ("walls", "Walls"),
    ("corners", "Corners and obstacles"),
    ("shelf", "Shelf"),
    ("rods", "Rods"),
    ("loads", "Loads and limits"),
    ("shop", "Shop"),
    ("result", "What it comes to"),
    ("choose", "Choices"),
    ("fitting", "How it goes on"),
    ("costs", "Cuts, days, price"),
    ("packet", "Packet"),
    ("site", "On site"),
    ("file", "The file"),
)
FORMS = frozenset({*(name for name, _ in ORDER[:7]), "site"})


@dataclass(frozen=True)
class One:
    """One figure or word: its key below the table (`core.of`, `along[0]`), and its label.

    stock: kind of the catalogue it is named from. unknown: whether "don't know" is an answer to it.
    """

    key: str
    label: str
    stock: str = ""
    unknown: bool = False


@dataclass(frozen=True)
class Column:
    """One column of a list: where it stands in a row that is a list, its key in one that is a table."""

    at: str
    key: str
    label: str
    stock: str = ""
    words: bool = False


@dataclass(frozen=True)
class Many:
    """A list of rows. table: whether a new row is written as a table. names: a plain list of words instead."""

    key: str
    label: str
    columns: tuple[Column, ...]
    table: bool = False
    whole: tuple[str, ...] = ()
    """Values the whole key may have instead of a list, such as "every stud"."""


Item = One | Many


@dataclass(frozen=True)
class Sheet:
    """One form: the table it is about, its title, its items; `model` names the table in the schema."""

    path: str
    title: str
    model: str
    items: tuple[Item, ...]
    take: bool = False
    """Whether the whole table may be taken out here."""


def _dont(key: str, label: str, stock: str = "") -> One:
    return One(key, label, stock, unknown=True)


_HEAD = (
    One("units", "A bare number means inches or millimetres (changing it changes them all)"),
    One("basis", "Design code"),
    One("words", "Words of the trade"),
)
_JOB = (
    One("name", "Name of the job"),
    One("place", "Where it is"),
    One("client", "For whom"),
    One("sheets", "Paper of the packet"),
    One("order", "Building order"),
)
_MEASURE = (
    _dont("with", "Lengths were taken with"),
    _dont("hands", "Did somebody hold the other end?"),
)
_SITE = (
    One("datum", "What heights count from"),
    _dont("temperature", "Temperature on the day the rods are set"),
    One("doorway", "The narrowest doorway on the way in"),
    _dont("heat", "How hot it gets at the rods"),
)
_WALL = (
    One("tape_from", "The tape is hooked at the"),
    One("length", "Length of the whole wall"),
    One("height", "Floor to ceiling"),
    _dont("depth_to_wood", "Depth to wood"),
    Many(
        "studs",
        "Studs, both edges from the tape's end",
        (
            Column("[0]", "left", "First edge"),
            Column("[1]", "right", "Second edge"),
            Column("[2]", "name", "Name", words=True),
        ),
    ),
    Many(
        "line",
        "Gaps from a straight string to the face",
        (Column("[0]", "", "Along"), Column("[1]", "", "Gap")),
    ),
    One("off", "The straight line was"),
    Many(
        "lining",
        "What is on the studs",
        (Column("[0]", "", "Layer", words=True), Column("[1]", "", "Thickness")),
    ),
    Many(
        "blocking",
        "Blocking between the studs",
        (
            Column("[0]", "from", "From"),
            Column("[1]", "to", "To"),
            Column("[2][0]", "up[0]", "Bottom"),
            Column("[2][1]", "up[1]", "Top"),
        ),
    ),
    _dont("framing.of", "Stud timber", "timber"),
    _dont("framing.kind", "The wall is framed in"),
    _dont("known.how", "How do you know what is behind it?"),
    One("known.on", "The day it was seen"),
    _dont("known.bearing", "Does it carry load from above?"),
    _dont("known.services", "Pipes and cables"),
    One("known.photo", "Photo"),
    One("known.by", "Who saw it"),
    One("known.up", "At what height it was seen"),
    One("known.engineer", "Engineer who accepted holes in a bearing stud"),
    One("known.engineer_stale", "The rods were changed after that word"),
    _dont("known.fire", "Must the lining keep fire or sound?"),
    One("known.fire_stop", "How holes in it are closed"),
    One("pitch.first", "Guessed studs: first edge of the first"),
    One("pitch.every", "Guessed studs: from one to the next"),
    One("pitch.count", "Guessed studs: how many"),
)
_CORNER = (
    One("turn", "The corner comes in or goes out"),
    Many(
        "taped",
        "Three tapes: along each wall from the corner, and straight across",
        (
            Column("[0]", "", "Along the left wall"),
            Column("[1]", "", "Along the right wall"),
            Column("[2]", "", "Across"),
        ),
    ),
    One("angle", "Or the angle between the two faces"),
    One("square_gap[0]", "Or a framing square: the gap"),
    One("square_gap[1]", "at this far from the corner"),
)
_OBSTACLE = (
    One("wall", "On the wall"),
    One("along[0]", "First edge along the wall"),
    One("along[1]", "Second edge along the wall"),
    One("out[0]", "Stands out from"),
    One("out[1]", "Stands out to"),
    One("up[0]", "Bottom above the datum"),
    One("up[1]", "Top above the datum"),
)
_SHELF = (
    One("top", "Top of the shelf above the datum"),
    One("depth", "Depth, string to front edge"),
    One("thick", "Whole finished thickness"),
    Many(
        "legs",
        "Legs",
        (
            Column("", "wall", "Wall", words=True),
            Column("", "from", "From"),
            Column("", "to", "To"),
            Column("", "depth", "Depth, where not the shelf's"),
        ),
        table=True,
    ),
    One("sections", "Carried to the wall in how many parts?"),
    One("joint", "Where a straight one is parted"),
    One("first", "Goes first onto the rods of wall"),
)
_MAKE = (
    One("skins", "Both skins", "panel"),
    One("measured", "Their thickness by caliper"),
    One("skin_top.of", "Top skin, where it differs", "panel"),
    One("skin_top.measured", "Top skin by caliper"),
    One("skin_top.joint", "Top skin turns the corner"),
    One("skin_bottom.of", "Bottom skin, where it differs", "panel"),
    One("skin_bottom.measured", "Bottom skin by caliper"),
    One("skin_bottom.joint", "Bottom skin turns the corner"),
    One("core.of", "Core timber", "lumber"),
    One("core.thick", "Core, planed thickness"),
    One("core.strip", "Strips round the edge, width"),
    One("core.rib", "Ribs, width"),
    One("core.max_span", "Widest hollow under a skin"),
    One("edging.of", "Solid edging", "lumber"),
    One("edging.thick", "Solid edging, thickness"),
    One("finish.kind", "Finish", "finish"),
    One("finish.coats", "Coats"),
    One("finish.sealer", "Sealer"),
    One("finish.primer", "Primer", "finish"),
)
_MEET = (
    One("scribe_allowance", "Scribe allowance"),
    One("back", "The back meets the wall"),
    One("back_gap", "Gap along the back"),
    One("placing", "How it lies to the strings"),
    One("scribe_tolerance", "Widest gap straight cuts may leave"),
    One("ends", "Ends that meet a wall"),
    One("end_gap", "Gap at such an end"),
    One("nose_up", "Front set higher on purpose by"),
    Many(
        "lean",
        "How far walls lean, by a level held plumb",
        (
            Column("", "wall", "Wall", words=True),
            Column("", "over", "Length of the level"),
            Column("", "gap", "Gap"),
            Column("", "at", "Which end stands off (top, bottom)", words=True),
        ),
        table=True,
    ),
    One("lock.kind", "What keeps it on"),
    Many("lock.at", "At which rods", (Column("", "", "Place", words=True),)),
    One("groove.width", "Light groove: width"),
    One("groove.deep", "Light groove: depth"),
    One("groove.from_front", "Light groove: from the front edge"),
    Many(
        "cable",
        "Ways for cables",
        (
            Column("", "at", "Comes in at", words=True),
            Column("", "width", "Width"),
            Column("", "out", "Runs out to"),
        ),
        table=True,
    ),
)
_ACCEPTED = (
    One("accepted.by", "Engineer who accepted rows at the edge of their sources"),
    One("accepted.on", "Day of the letter"),
    Many("accepted.rows", "Accepted rows", (Column("", "", "Kind of check", words=True),)),
    One("accepted.stale", "The design was changed after that word"),
)
_EVERY_ROD = (
    One("stock", "Steel", "bar"),
    One("embedment", "Depth in stud"),
    One("projection", "Stick-out"),
    One("hole", "Hole in the stud, diameter"),
    One("adhesive", "Set in", "adhesive"),
    One("clearance.up", "Room in the slot, up and down in all"),
    One("clearance.side", "Room on each side"),
    One("clearance.end", "Room past the tip"),
    One("in_slot", "The slot is dry or glued"),
)
_RODS = (
    *_EVERY_ROD,
    Many("at", "Where they stand", (Column("", "", "Place", words=True),), whole=("every stud",)),
)
_ROD = (One("at", "This one stands at"), *_EVERY_ROD)
_LOAD: dict[str, tuple[str, tuple[Item, ...]]] = {
    "even": (
        "EvenTable",
        (One("weight", "Weight"), One("wall", "Only on the leg of wall"), _dont("lasts", "Stays")),
    ),
    "strip": (
        "StripTable",
        (
            One("weight", "Weight"),
            One("wall", "On the leg of wall"),
            One("from", "From"),
            One("to", "To"),
            One("lasts", "Stays"),
        ),
    ),
    "thing": (
        "ThingTable",
        (
            One("weight", "Weight"),
            One("at", "Its middle stands at"),
            One("out", "Its middle is from the wall"),
            One("size[0]", "Size along the wall"),
            One("size[1]", "Size out from the wall"),
            One("feet[0]", "Feet apart, along"),
            One("feet[1]", "Feet apart, out"),
            One("lasts", "Stays"),
        ),
    ),
    "accident": (
        "AccidentTable",
        (
            One("force", "How hard"),
            One("patch", "On a square with side"),
            One("none", "Or why nobody can lean on it"),
        ),
    ),
}
_LIMITS = (
    One("limits.drop_today", "Front may drop on day one"),
    One("limits.drop_long", "Front may drop in ten years"),
    One("single", "Heaviest one thing anywhere"),
)
_SHOP = (
    One("saw", "Sheets are cut with"),
    One("kerf", "Saw kerf"),
    One("trim", "Cut off each factory edge"),
    One("offcut[0]", "Narrowest rest worth keeping"),
    One("offcut[1]", "Shortest rest worth keeping"),
    One("guide", "Longest cut the guide allows in one setting"),
    One("people", "People to hang it"),
    One("clamps", "Clamps at hand"),
    One("prices", "Price file beside the job"),
    One("glue", "Box glue", "adhesive"),
    One("temperature", "How warm the shop is"),
    One("start", "Day of the first visit"),
    One("hours_a_day", "Hours at the work in a day"),
    One("answer_days", "Days until the choices are signed"),
    One("delivery_days", "Days from the order to the delivery"),
    One("long_test", "The load test is read again after 24 h"),
    One("retrofit_bays", "Bays that get blocking first"),
    Many(
        "on_hand",
        "Sheets on hand",
        (
            Column("[0]", "", "Sheet", "panel", words=True),
            Column("[1][0]", "", "Width"),
            Column("[1][1]", "", "Length"),
            Column("[2]", "", "How many"),
        ),
    ),
)


_ROD_SET = (
    One("wall[0]", "Side, at the wall"),
    One("wall[1]", "Height, at the wall"),
    One("tip[0]", "Side, at the tip"),
    One("tip[1]", "Height, at the tip"),
    One("out", "Stick-out"),
    One("bonded.stock", "Steel bar", "bar"),
    One("bonded.length", "Cut length"),
    One("bonded.embedment", "Depth in the wood"),
    One("bonded.hole", "Hole"),
    One("bonded.adhesive", "Adhesive", "adhesive"),
    One("at", "Its place"),
)
STEP: tuple[Item, ...] = (
    Many(
        "put",
        "All that stands on it",
        (
            Column("[0]", "", "Weight", words=True),
            Column("[1]", "", "Place", words=True),
            Column("[2]", "", "Out from the wall"),
        ),
    ),
    One("wait", "How long it has stood there"),
    Many(
        "read",
        "How far the front has gone down",
        (Column("[0]", "", "Place", words=True), Column("[1]", "", "Down")),
    ),
    One("with", "Read with"),
    One("shelf", "Shelf"),
)
"""One step of a load test."""


def sheets(stage: str, document: Mapping[str, Any]) -> tuple[Sheet, ...]:
    """Return the forms of a page for a job as it stands.

    Args:
        stage: name of the page, one of `FORMS`.
        document: the job file as read by a TOML parser, whatever it says.
    """
    match stage:
        case "place":
            return (
                Sheet("job", "The job", "JobTable", _JOB),
                Sheet("", "Units and words", "JobFile", _HEAD),
                Sheet("measure", "How it was measured", "MeasureTable", _MEASURE),
                Sheet("site", "On the day", "SiteTable", _SITE),
            )
        case "walls":
            return _each(document, "wall", "Wall", "WallTable", _WALL)
        case "corners":
            corners = [
                Sheet(f"corner[{i}]", _joined(each), "CornerTable", _CORNER, take=True)
                for i, each in enumerate(tables(document, "corner"))
            ]
            return (*corners, *_each(document, "obstacle", "", "ObstacleTable", _OBSTACLE))
        case "shop":
            return (Sheet("shop", "The shop", "ShopTable", _SHOP),)
        case "site":
            return _on_site(document)
        case _:
            found = tables(document, "shelf")
            return tuple(
                sheet for i, shelf in enumerate(found) for sheet in _of_shelf(stage, i, shelf)
            )


def _on_site(document: Mapping[str, Any]) -> tuple[Sheet, ...]:
    """Readings and steps of tests that are in the file, each a form of its own."""
    table = document.get("site")
    there = table if isinstance(table, dict) else {}
    read = tables(there, "rod")
    done = tables(there, "test")
    return (
        *(
            Sheet(
                f"site.rod[{i}]",
                f"Rod at {each.get('at', '?')}",
                "RodSetTable",
                _ROD_SET,
                take=True,
            )
            for i, each in enumerate(read)
        ),
        *(
            Sheet(f"site.test[{i}]", f"Step {i + 1}", "LoadTestTable", STEP, take=True)
            for i in range(len(done))
        ),
    )


def _of_shelf(stage: str, i: int, shelf: Mapping[str, Any]) -> tuple[Sheet, ...]:
    path, name = f"shelf[{i}]", f"Shelf {called(shelf, i)}"
    if stage == "shelf":
        return (
            Sheet(path, name, "ShelfTable", _SHELF, take=i > 0),
            Sheet(path, f"{name}: how it is made", "ShelfTable", _MAKE),
            Sheet(path, f"{name}: where it meets the wall", "ShelfTable", _MEET),
            Sheet(path, f"{name}: what an engineer has accepted", "ShelfTable", _ACCEPTED),
        )
    if stage == "rods":
        single = [
            Sheet(
                f"{path}.rod[{k}]",
                f"{name}: the rod at {each.get('at')}",
                "RodTable",
                _ROD,
                take=True,
            )
            for k, each in enumerate(tables(shelf, "rod"))
        ]
        return (Sheet(f"{path}.rods", f"{name}: every rod", "RodsTable", _RODS), *single)
    loads = []
    for k, load in enumerate(tables(shelf, "load")):
        kind = str(load.get("kind"))
        if kind in _LOAD:
            model, items = _LOAD[kind]
            title = f"{name}: {called(load, k) if 'id' in load else 'someone leans or climbs'}"
            loads.append(Sheet(f"{path}.load[{k}]", title, model, items, take=True))
    return (*loads, Sheet(path, f"{name}: limits", "ShelfTable", _LIMITS))


def _each(
    document: Mapping[str, Any], key: str, word: str, model: str, items: tuple[Item, ...]
) -> tuple[Sheet, ...]:
    return tuple(
        Sheet(
            f"{key}[{i}]",
            f"{word} {called(each, i)}".strip(),
            model,
            items,
            take=key == "obstacle" or i > 0,
        )
        for i, each in enumerate(tables(document, key))
    )


def tables(document: Mapping[str, Any], key: str) -> list[Mapping[str, Any]]:
    """Return the tables of a list of tables; what is none is passed over."""
    found = document.get(key)
    if not isinstance(found, list):
        return []
    return [each for each in found if isinstance(each, dict)]


def called(table: Mapping[str, Any], index: int) -> str:
    """Return what a table is called, or its number."""
    name = table.get("id")
    return name if isinstance(name, str) and name else str(index + 1)


def _joined(corner: Mapping[str, Any]) -> str:
    walls = corner.get("walls")
    named = " and ".join(map(str, walls)) if isinstance(walls, list) else ""
    return f"Corner of {named}" if named else "Corner"
