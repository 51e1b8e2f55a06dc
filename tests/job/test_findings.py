"""Every mistake of the list gives its one finding, with its line, its path and what would be right."""

# ruff: noqa: E501  # one mistake to a line

from __future__ import annotations

import pytest

from ledgewright.job.model import Finding
from ledgewright.job.reading import read

# One change to the fixture: old text, new text; then code and path of the finding, a piece of the line
# it must stand on, a piece of what it says is wrong, and a piece of what it says would be right.
MISTAKES = [
    ('thick = "3/8" }', 'thick = "3/8", thik = 1 }', "unknown key", "shelf.lower.edging.thik", "edging", "thik", '"thick"'),
    ("kerf =", "kerff =", "unknown key", "shop.kerff", "kerff", "kerff", '"kerf"'),
    ("[shop]", "[shopp]", "unknown key", "shopp", "[shopp]", "shopp", '"shop"'),
    ('lasts = "months"', 'last = "months"', "unknown key", "shelf.lower.load.books.last", "last =", "last", '"lasts"'),
    ('depth = "10 1/4"', "depth = nan", "figure", "shelf.lower.depth", "depth", "not a number", "12 3/8"),
    ('depth = "10 1/4"', "depth = inf", "figure", "shelf.lower.depth", "depth", "not a number", "12 3/8"),
    ('depth = "10 1/4"', "depth = 1e300", "figure", "shelf.lower.depth", "depth", "too large", "12 3/8"),
    ('depth = "10 1/4"', "depth = true", "figure", "shelf.lower.depth", "depth", "not a length", "12 3/8"),
    ('depth = "10 1/4"', "", "missing", "shelf.lower.depth", "[[shelf]]", "depth is missing", "write it"),
    ('depth = "10 1/4"', 'depth = "10 9/8"', "figure", "shelf.lower.depth", "depth", "9/8", "11 1/8"),
    ('top = "56"', 'top = "-56"', "negative", "shelf.lower.top", "top", "negative", "minus"),
    ('embedment = "3"', "embedment = -3", "negative", "shelf.lower.rods.embedment", "embedment", "negative", "minus"),
    ('projection = "8 1/8"', 'projection = "9 3/4"', "projection", "shelf.lower.rods.projection", "projection", '10 1/4"', "shorten"),
    ('projection = "6 1/2"', 'projection = "11"', "projection", "shelf.lower.rod[0].projection", 'projection = "11"', "deep", "shorten"),
    ('embedment = "3"', 'embedment = "3 5/8"', "embedment", "shelf.lower.rods.embedment", "embedment", '3 1/2" deep', "within"),
    ('hole = "3/4"', 'hole = "1/2"', "hole", "shelf.lower.rods.hole", "hole", '5/8" across', "larger"),
    ('["21 3/4", "23 1/4"]', '["7", "8 1/2"]', "overlap", "wall.west.studs[1]", '["7", "8 1/2"]', '7 1/4"', "again"),
    ('["21 3/4", "23 1/4"]', '["1", "2 1/2"]', "order", "wall.west.studs[1]", '["1", "2 1/2"]', "before", "order"),
    ('["21 3/4", "23 1/4"]', '["23 1/4", "21 3/4"]', "order", "wall.west.studs[1]", '["23 1/4"', "second edge", "first"),
    ('["21 3/4", "23 1/4"]', '["71 3/4", "73 1/4"]', "place", "wall.west.studs[1]", '["71 3/4"', '61 3/8"', "again"),
    ('"north 14 1/4", ', '"north 20", ', "place", "shelf.lower.rods.at[2]", "at =", "between members", '14 1/4"'),
    ('"north 14 1/4", ', '"nort 14 1/4", ', "place", "shelf.lower.rods.at[2]", "at =", "id of a wall", '"north"'),
    ('"north 14 1/4", ', '"north 14 1/4", "north 14", ', "duplicate", "shelf.lower.rods.at[3]", "at =", "one member", "one rod"),
    ('"north 14 1/4", ', '"north findre", ', "place", "shelf.lower.rods.at[2]", "at =", "neither", "finder"),
    ('at = "west 30"', 'at = "west 50"', "place", "shelf.lower.load[2].at", 'at = "west 50"', "past the end", "on the shelf"),
    ('at = "north 30 5/16"', 'at = "north 46"', "place", "shelf.lower.rod[0].at", 'at = "north 46"', "no rod", "rods.at"),
    ('walls = ["west", "north"]', 'walls = ["west", "nort"]', "wall", "corner[0].walls[1]", "walls =", "nort", '"north"'),
    ('taped = ["36", "48", "60 1/4"]', 'taped = ["36", "48", "86"]', "corner", "corner[0].taped", "taped", "cannot meet", "again"),
    ('{ wall = "north", to = "74 1/2" }', '{ wall = "north", from = 2, to = "74 1/2" }', "corner", "shelf.lower.legs", "legs", '2" short', "reach"),
    ('to = "43 5/8"', 'to = "63"', "place", "shelf.lower.legs[0]", "legs", '61 3/8"', "at most"),
    ('to = "43 5/8"', 'from = 44, to = "43 5/8"', "order", "shelf.lower.legs[0]", "legs", "before it begins", "from"),
    ('[24, "1/16"], [48, 0]', '[48, "1/16"], [24, 0]', "order", "wall.north.line[2]", "line =", '24" comes after 48"', "order"),
    ('[24, "1/16"], [48, 0]', '[48, "1/16"], [48, 0]', "order", "wall.north.line[2]", "line =", 'two gaps', "keep"),
    ('[24, "1/16"], [48, 0]', '[24, "-1/16"], [48, 0]', "negative", "wall.north.line[1][1]", "line =", "negative", "minus"),
    ('id = "north"', 'id = "west"', "duplicate", "wall[1].id", 'id = "west"', "two", "own id"),
    ('id = "books"', 'id = "pots"', "duplicate", "shelf.lower.load[1].id", 'id = "pots"', "two", "own id"),
    ('stock = "round 5/8 1018"', 'stock = "round 5/8 1081"', "stock", "shelf.lower.rods.stock", "stock =", "catalogue", '"round 5/8 1018"'),
    ('adhesive = "epoxy thickened"', 'adhesive = "construction mastic"', "adhesive", "shelf.lower.rods.adhesive", "adhesive", "not for rods", "epoxy"),
    ('adhesive = "epoxy thickened"', 'adhesive = "pva d4"', "adhesive", "shelf.lower.rods.adhesive", "adhesive", "for the box", "epoxy"),
    ('temperature = "66 F"', 'temperature = "41 F"', "temperature", "site.temperature", "temperature", "50 F", "warm"),
    ('temperature = "66 F"', "temperature = 66", "figure", "site.temperature", "temperature", "unit", "66 F"),
    ('thick = "1 19/32"', 'thick = "2"', "thick", "shelf.lower.thick", "thick", "differ", "core thick"),
    ('up = "0.025"', 'up = "1/8"', "slot", "shelf.lower.rods.clearance.up", "clearance", "play", "leave it out"),
    ('deep = "1/4"', 'deep = "1/2"', "groove", "shelf.lower.groove.deep", "groove", "through", "half"),
    ('blocking = [["7 1/4", "21 3/4", ["20", "23 1/2"]]]', 'blocking = [{ from = "7 1/4", to = "21 3/4", up = ["20", "23 1/2"], fixed = { with = "nail 11d", each_end = 3, how = "toed", apart = 2 } }]', 'stock', 'wall.west.blocking[0].fixed.with', 'blocking', 'screw or nail', '"nail 10d"'),
    ('blocking = [["7 1/4", "21 3/4", ["20", "23 1/2"]]]', 'blocking = [{ from = "7 1/4", to = "21 3/4", up = ["20", "23 1/2"], fixed = { with = "grub M6 x 10", each_end = 3, how = "toed", apart = 2 } }]', 'stock', 'wall.west.blocking[0].fixed.with', 'blocking', 'set screw', 'lag'),
    ('blocking = [["7 1/4", "21 3/4", ["20", "23 1/2"]]]', 'blocking = [{ from = "7 1/4", to = "21 3/4", up = ["20", "23 1/2"], fixed = { with = "nail 10d", each_end = 3, how = "toe", apart = 2 } }]', 'choice', 'wall.west.blocking[0].fixed.how', 'blocking', 'choices', '"toed"'),
    ('blocking = [["7 1/4", "21 3/4", ["20", "23 1/2"]]]', 'blocking = [{ from = "7 1/4", to = "21 3/4", up = ["20", "23 1/2"], fixed = { with = "nail 10d", each_end = 0, how = "toed", apart = 2 } }]', 'range', 'wall.west.blocking[0].fixed.each_end', 'blocking', 'at least 1', 'within'),
    ('blocking = [["7 1/4", "21 3/4", ["20", "23 1/2"]]]', 'blocking = [{ from = "7 1/4", to = "21 3/4", up = ["20", "23 1/2"], fixed = { with = "nail 10d", each_end = 3, how = "toed" } }]', 'missing', 'wall.west.blocking[0].fixed.apart', 'blocking', 'outermost', 'apart = 2'),
    ('blocking = [["7 1/4", "21 3/4", ["20", "23 1/2"]]]', 'blocking = [{ from = "7 1/4", to = "21 3/4", up = ["20", "23 1/2"], fixed = { with = "nail 10d", each_end = 1, how = "toed", apart = 2 } }]', 'fixing', 'wall.west.blocking[0].fixed.apart', 'blocking', 'alone', 'leave it out'),
    ('blocking = [["7 1/4", "21 3/4", ["20", "23 1/2"]]]', 'blocking = [{ from = "7 1/4", to = "21 3/4", up = ["20", "23 1/2"], fixed = { with = "nail 10d", each_end = 3, how = "toed", apart = "3 7/8" } }]', 'fixing', 'wall.west.blocking[0].fixed.apart', 'blocking', 'corner to corner', 'one end'),
    ('blocking = [["7 1/4", "21 3/4", ["20", "23 1/2"]]]', 'blocking = [{ from = "7 1/4", to = "21 3/4", up = ["20", "23 1/2"], fixed = { with = "nail 10d", each_end = 3, how = "toed", apart = 2, through = 3 } }]', 'fixing', 'wall.west.blocking[0].fixed.through', 'blocking', 'no stud', 'leave it out'),
    ('blocking = [["7 1/4", "21 3/4", ["20", "23 1/2"]]]', 'blocking = [{ from = "7 1/4", to = "21 3/4", up = ["20", "23 1/2"], fixed = { with = "no. 8 x 1 1/2", each_end = 3, how = "through the stud", apart = 2 } }]', 'fixing', 'wall.west.blocking[0].fixed.with', 'blocking', 'does not reach', 'longer'),
    ('blocking = [["7 1/4", "21 3/4", ["20", "23 1/2"]]]', 'blocking = [{ from = "7 1/4", to = "21 3/4", up = ["20", "23 1/2"], fixed = { with = "nail 16d", each_end = 3, how = "through the stud", apart = 2, through = "3 1/2" } }]', 'fixing', 'wall.west.blocking[0].fixed.with', 'blocking', 'does not reach', 'longer'),
    ('blocking = [["7 1/4", "21 3/4", ["20", "23 1/2"]]]', 'blocking = [{ from = "7 1/4", to = "21 3/4", up = ["20", "23 1/2"], fixed = { widh = "nail 16d", each_end = 3, how = "toed", apart = 2 } }]', 'unknown key', 'wall.west.blocking[0].fixed.widh', 'blocking', 'widh', '"with"'),
    ('first = "west"', 'cable = [{ at = "west 60", width = "3/8" }]', "cable", "shelf.lower.cable[0].at", "cable", "not on the shelf", "between its ends"),
    ('first = "west"', 'cable = [{ at = "west 30", width = "3/8", out = 12 }]', "cable", "shelf.lower.cable[0].out", "cable", "front edge", '10 1/4'),
    ('back = "tight"', 'back = "tight"\nscribe_tolerance = "0.05 mm"', "scribe", "shelf.lower.scribe_tolerance", "scribe_tolerance", "no saw", "at least"),
    ('back = "tight"', 'back = "tight"\nplacing = "least"', "choice", "shelf.lower.placing", "placing", "choices", '"least scribe"'),
    ('back = "tight"', 'back = "tight"\nlean = [{ wall = "nrth", over = 24, gap = "1/8", at = "top" }]', "wall", "shelf.lower.lean[0].wall", "lean", "nrth", '"north"'),
    ('back = "tight"', 'back = "tight"\nlean = [{ wall = "north", over = 24, gap = "1/8", at = "top" }, { wall = "north", over = 24, gap = 0, at = "top" }]', "lean", "shelf.lower.lean[1]", "lean", "twice", "one figure"),
    ('back = "tight"', 'back = "tight"\nnose_up = "1/2"', "nose up", "shelf.lower.nose_up", "nose_up", "cannot rise", "take nose_up out"),
    ("kerf =", "guide = -3\nkerf =", "negative", "shop.guide", "guide", "negative", "minus"),
    ('kind = "even"', 'kind = "evn"', "choice", "shelf.lower.load.pots", "[[shelf.load]]", "kind of load", "even"),
    ('weight = "18 lb/ft2"', 'weight = "18 lb"', "figure", "shelf.lower.load.pots.weight", "weight", "per what", "16 lb/ft"),
    ('weight = "18 lb/ft2"', 'weight = "18"', "figure", "shelf.lower.load.pots.weight", "weight", "unit", "18 lb"),
    ('weight = "34 lb"\n', 'weight = "34 lb/ft"\n', "figure", "shelf.lower.load[2].weight", "weight", "unit of weight", "lb"),
    ('back = "tight"', 'back = "tihgt"', "choice", "shelf.lower.back", "back", "choices", '"tight"'),
    ('tape_from = "left"', 'tape_from = "middle"', "choice", "wall.north.tape_from", "tape_from", "choices", '"left"'),
    ("people = 2", "people = 2.5", "figure", "shop.people", "people", "whole number", "2"),
    ("people = 2", "people = 99", "range", "shop.people", "people", "at most 12", "within"),
    ("on = 2026-11-12", 'on = "last week"', "date", "wall.west.known.on", "known", "date", "2026-11-12"),
    ('prices = "prices.toml"', 'prices = "../prices.toml"', "prices", "shop.prices", "prices", "outside", "name alone"),
    ('prices = "prices.toml"', 'prices = "/prices.toml"', "prices", "shop.prices", "prices", "outside", "name alone"),
    ('first = "west"', 'first = "east"', "wall", "shelf.lower.first", "first", "no leg", "west"),
    ('along = ["86 1/2", "90 1/4"]', 'along = ["90 1/4", "86 1/2"]', "order", "obstacle[0].along", "along", "second figure", "nearer"),
    ('wall = "north"\nalong', 'wall = "nrth"\nalong', "wall", "obstacle[0].wall", "nrth", "nrth", '"north"'),
    ('drop_long = "1/8"', 'drop_long = "1/32"', "order", "shelf.lower.limits.drop_long", "drop_long", "below", "larger"),
    ("format = 1", "format = 2", "format", "format", "format", "newer", "newer version"),
    ("format = 1\n", "", "format", "format", "", "missing", "format = 1"),
    ("format = 1", 'format = "1"', "format", "format", "format", "whole number", "format = 1"),
    ('units = "in"', 'units = "inch"', "choice", "units", "units", "choices", '"in"'),
    ('force = "0.7 kN"', 'none = "no children"\nforce = "0.7 kN"', "accident", "shelf.lower.load[3].none", "none", "both", "take none out"),
    ('centre = "62 1/4"', 'left = "61", right = "62 1/2", centre = "62 1/4"', "stud", "wall.north.studs[3]", "studs", "both edges", "centre"),
    ('id = "lower"', 'id = "low.er"', "id", 'shelf[0].id', "low.er", "dots", "west"),
    ('out = "6"', 'out = "12"', "place", "shelf.lower.load[2].out", 'out = "12"', 'past the front edge: the shelf is 10 1/4"', 'between 4 1/2" and 7 1/4"'),
    ('out = "6"', 'out = "10"', "place", "shelf.lower.load[2].out", 'out = "10"', 'over the edging, the foremost 3/8"', "from the wall to its middle"),
    ('out = "6"', 'out = "7 1/2"', "place", "shelf.lower.load[2].out", 'out = "7 1/2"', "feet stand past the front edge", 'and 7 1/4"'),
    ('out = "6"', 'out = "4 1/4"', "place", "shelf.lower.load[2].out", 'out = "4 1/4"', 'in the wall: it is 9" from front to back', 'between 4 1/2"'),
]  # fmt: skip


def spoiled(text: str, old: str, new: str) -> tuple[Finding, ...]:
    assert old in text
    found = read(text.replace(old, new, 1), "corner.toml")
    assert found.job is None
    return tuple(f for f in found.findings if f.level != "note")


@pytest.mark.parametrize(("old", "new", "code", "path", "line", "wrong", "right"), MISTAKES)
def test_each_mistake_is_told_once_with_its_place_and_its_cure(
    corner: str, old: str, new: str, code: str, path: str, line: str, wrong: str, right: str
) -> None:
    findings = spoiled(corner, old, new)
    assert [(f.code, f.path) for f in findings] == [(code, path)]
    finding = findings[0]
    assert finding.level == "refuse"
    assert finding.file == "corner.toml"
    if line:
        assert finding.line is not None
        assert line in corner.replace(old, new, 1).split("\n")[finding.line - 1]
    assert wrong in finding.wrong
    assert right in finding.right


def test_all_mistakes_are_told_at_once_in_the_order_of_the_lines(corner: str) -> None:
    text = corner
    for old, new, *_ in (
        MISTAKES[0],
        MISTAKES[1],
        MISTAKES[3],
        MISTAKES[12],
        MISTAKES[26],
        MISTAKES[43],
    ):
        assert old in text
        text = text.replace(old, new, 1)
    findings = [f for f in read(text, "corner.toml").findings if f.level == "refuse"]
    assert len(findings) == 6
    lines = [f.line for f in findings if f.line is not None]
    assert lines == sorted(lines)


ODD = [
    ('length = "96"', 'length = "96 mm"', "wall.north.length"),
    ('top = "56"', 'top = "13 ft 2 in"', "shelf.lower.top"),
    ('depth = "10 1/4"', 'depth = "24"', "shelf.lower.depth"),
    ('depth = "10 1/4"', 'depth = "2"', "shelf.lower.depth"),
    ('["13 1/2", "15"]', '["13 1/4", "15"]', "wall.north.studs[0]"),
    ('[24, "1/16"], [48, 0]', '[24, "4 1/16"], [48, 0]', "wall.north.line[1]"),
    ('measured = "0.472"', 'measured = "0.6"', "shelf.lower.measured"),
    ('back = "tight"', 'back = "tight"\nscribe_tolerance = "1/4"', "shelf.lower.scribe_tolerance"),
    (
        'back = "tight"',
        'back = "tight"\nlean = [{ wall = "north", over = 24, gap = 2, at = "top" }]',
        "shelf.lower.lean[0].gap",
    ),
]


@pytest.mark.parametrize(("old", "new", "path"), ODD)
def test_an_odd_figure_is_a_question_until_someone_stands_by_it(
    corner: str, old: str, new: str, path: str
) -> None:
    odd = corner.replace(old, new, 1)
    asked = read(odd, "corner.toml")
    assert asked.job is None
    assert path in [f.path for f in asked.findings if f.level == "question"]
    stood_by = odd.replace("sure = [", f'sure = ["{path}", ', 1)
    assert path not in [
        f.path for f in read(stood_by, "corner.toml").findings if f.level == "question"
    ]


def test_a_path_may_be_stood_by_with_ids_or_with_numbers(corner: str) -> None:
    odd = corner.replace('[24, "1/16"], [48, 0]', '[24, "4 1/16"], [48, 0]', 1)
    for path in ("wall.north.line[1]", "wall[1].line[1]", 'wall."north".line[1]'):
        text = odd.replace("sure = [", f"sure = ['{path}', ", 1)
        assert read(text, "corner.toml").job is not None


def test_a_path_in_sure_that_leads_nowhere_is_noted(corner: str) -> None:
    text = corner.replace("sure = [", 'sure = ["wall.nrth.length", ', 1)
    found = read(text, "corner.toml")
    assert found.job is not None
    assert [f.path for f in found.job.notes if f.code == "sure"] == ["job.sure[0]"]


def test_a_bare_fraction_in_a_millimetre_file_is_refused_with_the_inch_spelling() -> None:
    text = """
format = 1
units = "mm"
[job]
name = "x"
[[wall]]
id = "w"
tape_from = "left"
length = 2000
depth_to_wood = "5/8"
[[shelf]]
id = "s"
top = 1200
depth = 250
legs = [{ wall = "w", to = 1000 }]
skins = "mdf 15"
edging = { of = "oak", thick = 10 }
[shelf.core]
of = "softwood"
thick = 17
"""
    findings = [f for f in read(text, "mm.toml").findings if f.level == "refuse"]
    assert [(f.path, f.line, f.value) for f in findings] == [("wall.w.depth_to_wood", 10, "5/8")]
    assert "5/8 in" in findings[0].right


@pytest.mark.parametrize(
    "text",
    ["", "   \n\n", "\x00\x01\x02", "x = ", "[" * 5000, "x = " + "[" * 3000, "a." * 3000 + "b = 1",
     "x = " + "9" * 5000, "x = 0x" + "f" * 5000, "format = 1", "format = 1\nunits = 'in'", "shelf = 3\nformat = 1\nunits = 'in'",
     "format = 1\nunits = 'in'\nwall = 'x'\nshelf = [1, 2]\njob = []\nsite = 4\ncorner = {}\nshop = [[]]"],
)  # fmt: skip
def test_hopeless_texts_are_findings(text: str) -> None:
    found = read(text, "x.toml")
    assert found.job is None
    assert found.findings
    assert all(f.wrong and f.right and f.file == "x.toml" for f in found.findings)


def test_toml_itself_stops_at_the_first_fault_and_says_so(corner: str) -> None:
    text = corner.replace('name = "Fixture corner"', "name = Fixture corner", 1).replace(
        "people = 2", "people = ", 1
    )
    found = read(text, "corner.toml").findings
    assert len(found) == 1
    assert found[0].code == "toml"
    assert "reading stopped here" in found[0].wrong
    assert found[0].line is not None
    assert text.split("\n")[found[0].line - 1].startswith("name = Fixture")


def test_no_sentence_of_the_modelling_library_reaches_anyone(corner: str) -> None:
    text = corner
    for old, new, *_ in MISTAKES[:40]:
        text = text.replace(old, new, 1)
    words = (
        "Input should",
        "Field required",
        "Extra inputs",
        "validation",
        "Value error",
        "tuple",
        "dict",
    )
    for finding in read(text, "corner.toml").findings:
        assert not any(word in finding.wrong + finding.right for word in words)


def three_walls(corner: str) -> str:
    """The fixture with a third wall to the right of the others, which no corner joins."""
    return corner.replace(
        "[[corner]]",
        '[[wall]]\nid = "east"\ntape_from = "left"\nlength = 60\nstuds = [[20, "21 1/2"]]\nframing = { of = "spf 2x4" }\n\n[[corner]]',
        1,
    )


def refused(text: str) -> list[tuple[str, str]]:
    return [(f.code, f.path) for f in read(text, "x").findings if f.level == "refuse"]


def test_walls_that_are_not_neighbours_make_no_corner(corner: str) -> None:
    text = three_walls(corner)
    assert refused(text) == []
    apart = text.replace('walls = ["west", "north"]', 'walls = ["west", "east"]')
    assert refused(apart) == [("corner", "corner[0].walls")]


def test_a_shelf_turns_only_where_walls_meet(corner: str) -> None:
    text = three_walls(corner).replace(
        '[{ wall = "west", to = "43 5/8" }, { wall = "north", to = "74 1/2" }]',
        '[{ wall = "north", from = 20, to = 96 }, { wall = "east", to = 40 }]',
    )
    assert ("corner", "shelf.lower.legs") in refused(text)


def test_a_mistake_in_a_wall_does_not_spread_to_its_rods(corner: str) -> None:
    text = corner.replace('tape_from = "left"', 'tape_from = "middle"', 1)
    assert refused(text) == [("choice", "wall.north.tape_from")]


def test_the_centres_of_all_studs_are_offered_where_a_place_is_between_them(corner: str) -> None:
    text = corner.replace('"north 14 1/4", ', '"north 20", ', 1)
    (finding,) = [f for f in read(text, "x").findings if f.level == "refuse"]
    for centre in ('"north 14 1/4"', '"north 30 5/16"', '"north 46 1/4"', '"north 62 1/4"'):
        assert centre in finding.right


def test_what_is_offered_can_be_written_as_it_stands(corner: str) -> None:
    text = corner.replace('thick = "1 19/32"', 'thick = "2"', 1)
    (finding,) = [f for f in read(text, "x").findings if f.level == "refuse"]
    offered = finding.right.removeprefix("write ").split(",")[0]
    assert read(text.replace('thick = "2"', offered, 1), "x").job is not None


def test_a_misspelt_key_is_not_told_as_missing_too(corner: str) -> None:
    text = corner.replace('tape_from = "left"', 'tape_form = "left"', 1)
    assert refused(text) == [("unknown key", "wall.north.tape_form")]


def test_unknown_stock_offers_the_nearest_three(corner: str) -> None:
    text = corner.replace('skins = "birch ply 1/2"', 'skins = "brich ply 1/2"', 1)
    (finding,) = [f for f in read(text, "x").findings if f.level == "refuse"]
    assert finding.right.count('"') == 6
    assert '"birch ply 1/2"' in finding.right
