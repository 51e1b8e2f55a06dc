"""A sound job file becomes the figures a carpenter would work out from it by hand."""

# ruff: noqa: E501  # pieces of a job file

from __future__ import annotations

import math
import re

import pytest

from ledgewright import survey
from ledgewright.job.model import Accident, Even, Job, Thing
from ledgewright.job.reading import Read, read
from tests.jobs import EXAMPLES

IN = 25.4  # mm, international yard and pound agreement, 1959


@pytest.fixture(scope="module")
def job(corner: str) -> Job:
    found = read(corner, "corner.toml")
    assert [f for f in found.findings if f.level != "note"] == []
    assert found.job is not None
    return found.job


def test_every_shipped_example_reads_without_a_finding(jobs: tuple[str, ...]) -> None:
    assert len(jobs) >= 4
    for text in jobs[1:]:
        found = read(text, "example.toml")
        assert found.findings == ()
        assert found.job is not None


def test_places_of_a_wall_taped_from_the_right_are_negative_and_in_order(job: Job) -> None:
    west = job.tapes.walls[0]
    assert [(m.left, m.right) for m in west.members if m.kind == "stud"] == [
        pytest.approx((-39.125 * IN, -37.625 * IN)),
        pytest.approx((-23.25 * IN, -21.75 * IN)),
        pytest.approx((-7.25 * IN, -5.75 * IN)),
    ]
    assert [g[0] for g in west.lines[0].gaps] == pytest.approx(
        [-60 * IN, -48 * IN, -32 * IN, -16 * IN, 0]
    )
    assert math.copysign(1, west.lines[0].gaps[-1][0]) == 1


def test_members_are_numbered_from_the_tapes_end_and_called_by_their_name(job: Job) -> None:
    west, north = job.tapes.walls
    assert [m.id for m in west.members] == ["west.by-the-switch", "west.s2", "west.b1", "west.s1"]
    assert [m.id for m in north.members] == ["north.s1", "north.s2", "north.s3", "north.finder"]
    assert (west.mark, north.mark) == ("A", "B")


def test_one_edge_takes_the_timbers_width_and_a_wider_doubt(job: Job) -> None:
    by_id = {m.id: m for m in job.tapes.walls[1].members}
    assert by_id["north.s3"].right - by_id["north.s3"].left == pytest.approx(1.5 * IN)
    assert by_id["north.s1"].sd < by_id["north.s3"].sd < by_id["north.finder"].sd
    assert (by_id["north.finder"].left + by_id["north.finder"].right) / 2 == pytest.approx(
        62.25 * IN
    )
    assert by_id["north.finder"].sd == pytest.approx(0.25 * IN)


def test_the_left_leg_ends_and_the_right_leg_starts_at_the_corner(job: Job) -> None:
    left, right = job.shelves[0].legs
    assert (left.wall, right.wall) == ("west", "north")
    assert (left.start, left.end) == pytest.approx((-43.625 * IN, 0))
    assert (right.start, right.end) == pytest.approx((0, 74.5 * IN))


def test_legs_may_be_written_in_either_order(corner: str, job: Job) -> None:
    turned = corner.replace(
        '[{ wall = "west", to = "43 5/8" }, { wall = "north", to = "74 1/2" }]',
        '[{ wall = "north", to = "74 1/2" }, { wall = "west", to = "43 5/8" }]',
    )
    found = read(turned, "corner.toml").job
    assert found is not None
    assert found.shelves[0].legs == job.shelves[0].legs


def test_walls_that_stand_against_the_order_of_their_corner_are_refused(corner: str) -> None:
    """Either [[wall]] or walls is a slip that puts a wall at the other end of the room (rule of the project)."""
    turned = corner.replace('walls = ["west", "north"]', 'walls = ["north", "west"]')
    found = read(turned, "corner.toml")
    assert found.job is None
    (told,) = found.findings
    lines = turned.split("\n")
    assert told.line == lines.index('walls = ["north", "west"]') + 1
    west = lines.index('id = "west"')
    assert f"(line {west})" in told.wrong
    assert 'move the [[wall]] of "north" above that of "west"' in told.right
    assert 'write walls = ["west", "north"]' in told.right


def test_rods_stand_in_the_members_named_and_differ_where_told(job: Job) -> None:
    rods = job.shelves[0].rods
    assert [rod.member for rod in rods] == ["west.by-the-switch", "west.s2", "north.s1", "north.s2"]
    assert [rod.projection for rod in rods] == pytest.approx([8.125 * IN] * 3 + [6.5 * IN])
    assert [rod.embedment for rod in rods] == pytest.approx([3 * IN] * 4)
    assert job.shelves[0].lock.rods == ("west.s2",)


def test_the_whole_thickness_is_its_layers(job: Job) -> None:
    shelf = job.shelves[0]
    assert shelf.thick == pytest.approx((0.472 * 2 + 0.65) * IN)
    assert shelf.core.thick - shelf.rods[0].bar.height == pytest.approx(shelf.rods[0].clearance.up)


def test_core_follows_from_the_whole_where_only_that_is_told(corner: str) -> None:
    text = corner.replace('thick = "0.65"\n', "", 1)
    found = read(text, "corner.toml").job
    assert found is not None
    assert found.shelves[0].core.thick == pytest.approx((1 + 19 / 32 - 2 * 0.472) * IN)


def test_play_up_and_down_follows_from_core_and_bar_where_it_is_not_told(corner: str) -> None:
    found = read(corner.replace('up = "0.025", ', "", 1), "corner.toml").job
    assert found is not None
    assert found.shelves[0].rods[0].clearance.up == pytest.approx(0.025 * IN)


def test_loads_are_in_newtons_and_millimetres(job: Job) -> None:
    pots, books, crock = job.demands[0].loads
    assert isinstance(pots, Even)
    assert isinstance(books, Even)
    assert isinstance(crock, Thing)
    # 1 psf = 47.880 26 Pa, 1 plf = 14.593 90 N/m: NIST SP 811 appendix B.8
    assert pots.pressure == pytest.approx(18 * 47.88026e-6, rel=1e-6)
    assert books.per_length == pytest.approx(20 * 14.59390e-3, rel=1e-6)
    assert [books.start, books.end] == pytest.approx([40 * IN, 60 * IN])
    assert books.lasts == "months"
    assert [crock.along, crock.mass] == pytest.approx([-30 * IN, 34 * 0.45359237])
    assert job.demands[0].accidents == (
        Accident("someone leans or climbs", 700.0, 4 * IN, "stated in the job file"),
    )


def without_loads(corner: str) -> str:
    head, _, rest = corner.partition("[[shelf.load]]")
    return head + rest[rest.index("[shelf.limits]") :]


def test_without_contents_the_default_load_stands_and_is_listed(corner: str) -> None:
    found = read(without_loads(corner), "corner.toml").job
    assert found is not None
    (even,) = found.demands[0].loads
    assert isinstance(even, Even)
    assert even.assumed
    assert even.pressure == 0.0024  # 2.4 kPa, 50 psf, as stated in the program's page on loads
    assert found.demands[0].accidents[0].force == 600
    assert {"shelf.lower.load"} <= {a.path for a in found.assumed}


@pytest.mark.parametrize(
    ("top", "force"), [("11 3/4", 1300), ("12", 1300), ("43", 1300), ("43 1/2", 600)]
)
def test_a_low_deep_shelf_is_sat_or_stepped_on(corner: str, top: str, force: float) -> None:
    bare = re.sub(r"(?m)^rod = .*\n", "", without_loads(corner))  # read at 56, not at these heights
    text = bare.replace('top = "56"', f'top = "{top}"', 1)
    found = read(text, "corner.toml").job
    assert found is not None
    assert found.demands[0].accidents[0].force == force


@pytest.mark.parametrize(
    ("out", "high", "along", "force"),
    [
        ('"24"', "36", '["10", "40"]', 1300),  # a worktop 20 in under the top
        ('"24"', "12", '["10", "40"]', 600),  # 44 in under it: out of reach of a foot
        ('"7"', "36", '["10", "40"]', 600),  # a ledge of 7 in: nobody stands on that
        ('"24"', "36", '["10", "17"]', 600),  # 7 in wide
    ],
)
def test_a_worktop_under_a_shelf_is_stood_on(
    corner: str, out: str, high: str, along: str, force: float
) -> None:
    """Shared plan, statics section 4: 1.3 kN where the top is up to 1100 mm above floor or worktop."""
    there = f'[[obstacle]]\nid = "worktop"\nwall = "north"\nalong = {along}\nout = [0, {out}]\nup = [0, "{high}"]\n\n'
    text = without_loads(corner).replace("[[shelf]]", there + "[[shelf]]", 1)
    found = read(text, "corner.toml").job
    assert found is not None
    assert found.demands[0].accidents[0].force == force


def double(studs: str, *, sure: bool) -> Read:
    """The alcove with other edges of the first stud of its back, which is framed in C16 38x89."""
    text = (EXAMPLES / "reading-alcove.toml").read_text(encoding="utf-8")
    text = text.replace("[61.0, 99.0]", studs)
    if sure:
        text = text.replace("[job]\n", '[job]\nsure = ["wall.back.studs[0]"]\n')
    return read(text, "reading-alcove.toml")


@pytest.mark.parametrize(
    "edges", ["[61, 137]", "[61, 139]", "[61, 134]", "[61, 175]", "{ left = 61, right = 138 }"]
)
def test_studs_side_by_side_told_as_one_are_refused_whoever_stands_by_it(edges: str) -> None:
    """Two of 38 are 76 wide, three 114: a rod in the middle of two is in their seam (common practice)."""
    found = double(edges, sure=True)
    assert found.job is None
    (wrong,) = [f for f in found.findings if f.level == "refuse"]
    assert wrong.path == "wall.back.studs[0]"
    assert "each piece" in wrong.right


def test_studs_side_by_side_are_told_as_two_that_touch() -> None:
    """Each piece has a middle of its own."""
    found = double("[61, 99], [99, 137]", sure=False)
    assert found.job is not None
    assert [m.id for m in found.job.tapes.walls[1].members][:2] == ["back.s1", "back.s2"]


@pytest.mark.parametrize(
    ("edges", "seam"), [("[61, 130]", True), ("[61, 150]", False), ("[61, 110]", False)]
)
def test_a_stud_that_is_odd_in_another_way_is_asked_back(edges: str, seam: bool) -> None:
    """69 wide is 7 short of two: perhaps a worn pair. 89 is a stud laid flat, 49 another timber: asked, and stood by."""
    found = double(edges, sure=False)
    (asked,) = [f for f in found.findings if f.level == "question"]
    assert ("side by side" in asked.wrong) is seam
    assert double(edges, sure=True).job is not None


@pytest.mark.parametrize(
    ("wall", "along", "out", "high", "to", "force"),
    [
        (
            "return",
            "[0, 352]",
            600,
            900,
            1187,
            1300,
        ),  # a worktop on the right cheek, under the right end
        ("cheek", "[0, 352]", 600, 900, 1187, 1300),  # on the left one
        ("return", "[0, 352]", 600, 200, 1187, 600),  # 1165 under it: out of reach of a foot
        ("return", "[0, 352]", 150, 900, 1187, 600),  # a ledge of 150: nobody stands on that
        ("return", "[0, 150]", 600, 900, 1187, 600),  # 150 wide
        (
            "return",
            "[0, 352]",
            200,
            900,
            1000,
            1300,
        ),  # the leg ends 187 from the corner, it reaches 200
        ("return", "[0, 352]", 200, 900, 980, 600),  # the leg ends 207 from it
    ],
)
def test_a_worktop_on_the_next_wall_reaches_under_a_shelf(
    wall: str, along: str, out: int, high: int, to: int, force: float
) -> None:
    """Shared plan, statics section 4, with the room drawn by hand: square corners, a shelf 285 deep from 0 to 1187."""
    text = (EXAMPLES / "reading-alcove.toml").read_text(encoding="utf-8")
    there = f'[[obstacle]]\nid = "worktop"\nwall = "{wall}"\nalong = {along}\nout = [0, {out}]\nup = [0, {high}]\n\n'
    text = text.replace("[[shelf]]", there + "[[shelf]]", 1).replace("to = 1187", f"to = {to}")
    found = read(text, "reading-alcove.toml").job
    assert found is not None
    assert found.demands[0].accidents[0].force == force


def test_known_contents_are_made_up_to_one_kilopascal_on_each_leg(corner: str) -> None:
    text = without_loads(corner).replace(
        "[shelf.limits]",
        '[[shelf.load]]\nkind = "strip"\nid = "b"\nwall = "north"\nfrom = 0\nto = "74 1/2"\nweight = "10 lb/ft"\nlasts = "years"\n[shelf.limits]',
    )
    found = read(text, "corner.toml").job
    assert found is not None
    extra = {
        load.wall: load
        for load in found.demands[0].loads
        if isinstance(load, Even) and load.assumed
    }
    assert extra["west"].pressure == pytest.approx(0.001)
    on_north = 10 * 14.59390e-3 / (10.25 * IN)
    assert extra["north"].pressure == pytest.approx(0.001 - on_north, rel=1e-5)


def test_an_accident_may_be_left_out_with_a_reason(corner: str) -> None:
    text = corner.replace(
        'force = "0.7 kN"\npatch = "4"', 'none = "behind a counter, nobody gets there"'
    )
    found = read(text, "corner.toml").job
    assert found is not None
    assert found.demands[0].accident_declined
    assert found.demands[0].accidents == ()


@pytest.mark.parametrize(
    ("force", "usual"), [("0.05 kN", 600.0), ("0.59 kN", 600.0), ("0.6 kN", None)]
)
def test_an_accident_less_than_usual_is_a_part_left_out(
    corner: str, force: str, usual: float | None
) -> None:
    """0.60 kN of whoever leans, as the program states its loads: less is an opt-out by another name."""
    found = read(corner.replace('force = "0.7 kN"', f'force = "{force}"'), "corner.toml").job
    assert found is not None
    (demand,) = found.demands
    assert demand.accident_usual == usual
    assert demand.leaning_left_out == (usual is not None)


@pytest.mark.parametrize(
    ("patch", "usual"), [("4", None), ("2", None), ("4 1/2", 100.0), ("5 7/8", 100.0)]
)
def test_a_square_wider_than_usual_is_a_part_left_out(
    corner: str, patch: str, usual: float | None
) -> None:
    """100 x 100 mm under whoever leans, as the program states its loads; a wider one lifts the load off the front edge."""
    found = read(corner.replace('patch = "4"', f'patch = "{patch}"'), "corner.toml")
    assert found.job is not None
    (demand,) = found.job.demands
    assert demand.patch_usual == usual
    assert demand.leaning_left_out == (usual is not None)
    assert [f.path for f in found.findings if f.code == "accident"] == (
        [] if usual is None else ["shelf.lower.load[3].patch"]
    )


@pytest.mark.parametrize("patch", ["3/8", "6 1/2", "24", "46"])
def test_a_square_nobody_leans_on_is_refused(corner: str, patch: str) -> None:
    """No heel is less than 50 mm wide, and no edge is leaned on over more than 150 mm (common practice)."""
    found = read(corner.replace('patch = "4"', f'patch = "{patch}"'), "corner.toml")
    assert found.job is None
    assert [f.code for f in found.findings if f.level == "refuse"] == ["accident"]


def test_limits_not_told_are_the_lesser_of_share_and_most(corner: str) -> None:
    text = corner.replace('drop_today = "1/16"\ndrop_long = "1/8"', "")
    found = read(text, "corner.toml").job
    assert found is not None
    limits = found.demands[0].limits
    assert (limits.drop_today, limits.drop_long) == pytest.approx(
        (10.25 * IN / 150, 10.25 * IN / 100)
    )
    assert limits.assumed


UNKNOWN = [
    ('bearing = "no"', 'bearing = "don\'t know"', "wall.west.known.bearing"),
    (
        'services = "none at shelf height, looked"',
        'services = "unknown"',
        "wall.west.known.services",
    ),
    ('how = "opened it"', 'how = "unknown"', "wall.west.known.how"),
    (
        'depth_to_wood = "21/32"\nlining = [["gypsum board", "5/8"]]',
        'depth_to_wood = "unknown"',
        "wall.west.depth_to_wood",
    ),
    ('framing = { of = "spf 2x4" }', 'framing = { of = "don\'t know" }', "wall.west.framing.of"),
    ('framing = { of = "spf 2x4" }', 'framing = { kind = "unknown" }', "wall.west.framing"),
    ('temperature = "66 F"', 'temperature = "unknown"', "site.temperature"),
]


@pytest.mark.parametrize(("old", "new", "path"), UNKNOWN)
def test_do_not_know_is_an_answer_and_says_what_it_costs(
    corner: str, old: str, new: str, path: str
) -> None:
    assert old in corner
    found = read(corner.replace(old, new, 1), "corner.toml").job
    assert found is not None
    costs = {item.path: item.costs for item in found.open_items}
    assert len(costs[path]) > 20


def test_every_stud_behind_the_shelf_takes_a_rod(corner: str) -> None:
    text = corner.replace(
        'at = ["west 22 1/2", "west by the switch", "north 14 1/4", "north 30 5/16"]',
        'at = "every stud"',
    )
    found = read(text, "corner.toml").job
    assert found is not None
    members = [rod.member for rod in found.shelves[0].rods]
    # all but the blocking: west s1, s2 and the switch; north s1, s2, s3 and the finder's at 62 1/4
    assert sorted(members) == sorted(
        [
            "west.s1",
            "west.s2",
            "west.by-the-switch",
            "north.s1",
            "north.s2",
            "north.s3",
            "north.finder",
        ]
    )


SMALL = """
format = 1
units = "in"
[job]
name = "Small"
[[wall]]
id = "side"
tape_from = "right"
length = 30
[[wall]]
id = "w"
tape_from = "left"
length = 80
studs = [["0", "1 1/2"], ["15 1/4", "16 3/4"], ["47 1/4", "48 3/4"]]
framing = { of = "spf 2x4" }
blocking = [["16 3/4", "47 1/4", ["58", "61 1/2"]]]
[[corner]]
walls = ["side", "w"]
angle = "90 deg"
[[shelf]]
id = "s"
top = 60
depth = 9
legs = [{ wall = "w", to = "48 1/2" }]
skins = "birch ply 1/2"
edging = { of = "ash", thick = "3/4" }
[shelf.core]
of = "poplar"
thick = "21/32"
[shelf.rods]
stock = "round 5/8 1018"
embedment = 3
projection = 7
hole = "3/4"
adhesive = "epoxy thickened"
at = "every stud"
"""


def test_every_stud_counts_no_edging_where_an_end_meets_a_wall_and_tells_what_it_leaves_out() -> (
    None
):
    """By hand: 3/4 in from the corner a 5/8 rod has 7/16 in beside it; 1/2 in from a free end is under 5/16 + 3/4."""
    found = read(SMALL, "small.toml")
    assert found.job is not None, found.findings
    assert [rod.member for rod in found.job.shelves[0].rods] == ["w.s1", "w.s2"]
    (told,) = found.findings
    assert (told.level, told.line) == ("note", SMALL.split("\n").index('at = "every stud"') + 1)
    assert 'w 48, 1/2" from the end of the shelf' in told.wrong
    free = SMALL.replace('[[corner]]\nwalls = ["side", "w"]\nangle = "90 deg"\n', "")
    (told,) = read(free, "small.toml").findings
    assert 'w 3/4, 3/4" from the end of the shelf' in told.wrong


@pytest.mark.parametrize(("at", "aside"), [("w 32", 0.0), ("w 32 1/2", 0.5), ("w 40", 8.0)])
def test_a_rod_in_blocking_stands_where_it_is_asked_for(at: str, aside: float) -> None:
    """By hand: the middle of 16 3/4 to 47 1/4 is 32."""
    found = read(
        SMALL.replace('at = "every stud"', f'at = ["w 3/4", "w 16", "{at}"]'), "small.toml"
    )
    assert found.job is not None
    assert not found.findings
    rod = next(rod for rod in found.job.shelves[0].rods if rod.member not in ("w.s1", "w.s2"))
    assert rod.aside == pytest.approx(25.4 * aside)


def test_a_rod_too_near_the_end_of_its_blocking_is_refused() -> None:
    """EN 1995-1-1 Table 8.4: seven diameters of a 5/8 bar are 4 3/8 in; 17 is 1/4 in off the end at 16 3/4."""
    text = SMALL.replace('at = "every stud"', 'at = ["w 3/4", "w 16", "w 17"]')
    found = read(text, "small.toml")
    assert found.job is None
    (told,) = found.findings
    assert (told.level, told.line) == (
        "refuse",
        text.split("\n").index('at = ["w 3/4", "w 16", "w 17"]') + 1,
    )
    assert '1/4"' in told.wrong
    assert '4 3/8"' in told.right


@pytest.mark.parametrize(("at", "level"), [("w 16", None), ("w 16 1/2", "note")])
def test_a_rod_asked_for_off_the_middle_of_its_stud_is_told_where_it_goes(
    at: str, level: str | None
) -> None:
    found = read(
        SMALL.replace('at = "every stud"', f'at = ["w 3/4", "{at}", "w 32"]'), "small.toml"
    )
    assert [f.level for f in found.findings] == ([level] if level else [])
    assert all('"w 16"' in f.right and f.line is not None for f in found.findings)


def test_reading_twice_gives_the_same_job_and_a_name_for_its_text(corner: str, job: Job) -> None:
    again = read(corner, "corner.toml").job
    assert again == job
    assert hash(again) == hash(job)
    assert job.meta.revision.startswith("sha256:")
    other = read(corner + "\n# a comment\n", "corner.toml").job
    assert other is not None
    assert other.meta.revision != job.meta.revision


def test_the_smallest_job_reads_and_lists_all_it_had_to_take() -> None:
    text = """
format = 1
units = "in"
[job]
name = "Small"
[[wall]]
id = "w"
tape_from = "left"
length = 80
studs = [["15 1/4", "16 3/4"], ["31 1/4", "32 3/4"]]
framing = { of = "spf 2x4" }
[[shelf]]
id = "s"
top = 60
depth = 9
legs = [{ wall = "w", to = 48 }]
skins = "birch ply 1/2"
edging = { of = "ash", thick = "3/8" }
[shelf.core]
of = "poplar"
thick = "21/32"
[shelf.rods]
stock = "round 5/8 1018"
embedment = 3
projection = 7
hole = "3/4"
adhesive = "epoxy thickened"
at = "every stud"
"""
    found = read(text, "small.toml")
    assert found.findings == ()
    assert found.job is not None
    taken = {a.path for a in found.job.assumed}
    assert {"basis", "words", "job.order", "wall.w.line", "shelf.s.core.strip", "shelf.s.lock", "shelf.s.single",
            "shelf.s.rods.clearance.side", "shelf.s.limits.drop_today", "site.temperature", "shop.kerf"} <= taken  # fmt: skip
    assert found.job.meta.basis == "nds"
    assert "wall.w.known.how" in {item.path for item in found.job.open_items}


def test_a_cable_way_counts_from_the_end_the_tape_is_hooked_on(corner: str) -> None:
    # The west wall is taped from its right end: figures run to the left.
    text = corner.replace(
        'first = "west"', 'first = "west"\ncable = [{ at = "west 30", width = "3/8" }]'
    )
    found = read(text, "job.toml")
    assert found.job is not None, found.findings
    (way,) = found.job.shelves[0].cables
    assert (way.wall, way.along, way.out) == ("west", -30 * 25.4, None)
    assert way.width == pytest.approx(9.525)


def test_an_engineers_word_is_read_with_its_day_and_its_rows(corner: str) -> None:
    word = '[shelf.accepted]\nby = "A. Name, PE"\non = 2026-11-02\nrows = ["bed.edge", "skin.roll"]\n\n'
    found = read(corner.replace("[shelf.core]", f"{word}[shelf.core]", 1), "job.toml")
    assert found.job is not None, found.findings
    accepted = found.job.shelves[0].accepted
    assert accepted is not None
    assert (accepted.rows, accepted.said) == (("bed.edge", "skin.roll"), "A. Name, PE, 2026-11-02")
    assert read(corner, "job.toml").job.shelves[0].accepted is None  # type: ignore[union-attr]


BLOCKING = 'blocking = [["7 1/4", "21 3/4", ["20", "23 1/2"]]]'


def test_a_storey_and_what_holds_blocking_are_read(corner: str) -> None:
    fixed = '{ with = "nail 16d", each_end = 3, how = "through the stud", apart = "2 1/4" }'
    long = (
        f'blocking = [{{ from = "7 1/4", to = "21 3/4", up = ["20", "23 1/2"], fixed = {fixed} }}]'
    )
    assert BLOCKING in corner
    found = read(corner.replace(BLOCKING, f'{long}\nheight = "8\' 1\\""'), "job.toml")
    assert found.job is not None, found.findings
    west, north = found.job.tapes.walls
    assert west.height == pytest.approx(97 * IN)
    assert north.height is None
    (block,) = (m for m in west.members if m.kind == "blocking")
    assert block.fixed is not None
    # A 16d common nail: 0.162 by 3 1/2 in (NDS-2018 Table 12N).
    assert block.fixed.driven.length == pytest.approx(3.5 * IN)
    assert block.fixed.driven.diameter == pytest.approx(0.162 * IN)
    assert (block.fixed.each_end, block.fixed.how) == (3, "through the stud")
    assert block.fixed.apart == pytest.approx(2.25 * IN)
    assert block.fixed.through is None
    # The room has them too; the short way to write blocking tells nothing of its ends.
    room = survey.room(found.job.tapes, 1400.0)
    assert room.wall("west").height == west.height
    assert next(m for m in room.wall("west").members if m.id == block.id).fixed == block.fixed
    plain = read(corner, "job.toml").job
    assert plain is not None
    assert [m.fixed for m in plain.tapes.walls[0].members if m.kind == "blocking"] == [None]


@pytest.mark.parametrize(
    ("height", "odd"), [("50", True), ("70", True), ("71", False), ("240", True)]
)
def test_an_odd_storey_is_asked_about(corner: str, height: str, odd: bool) -> None:
    # 1.8 m is 70.9 in and 6 m 236 in.
    found = read(corner.replace(BLOCKING, f"{BLOCKING}\nheight = {height}"), "job.toml")
    asked = [f for f in found.findings if f.path == "wall.west.height"]
    assert [f.level for f in asked] == (["question"] if odd else [])


def test_only_kinds_of_check_that_there_are_can_be_accepted(corner: str) -> None:
    word = '[shelf.accepted]\nby = "A. Name, PE"\non = 2026-11-02\nrows = ["drop.today", "skin.rol"]\n\n'
    found = read(corner.replace("[shelf.core]", f"{word}[shelf.core]", 1), "job.toml")
    refused = [f for f in found.findings if f.level == "refuse"]
    assert [f.path for f in refused] == [f"shelf.lower.accepted.rows[{i}]" for i in (0, 1)]
    assert '"drop.today" is no kind of check that can be accepted' in refused[0].wrong
    assert refused[1].right.startswith("one of: skin.roll")
    assert refused[1].line is not None
