"""What the pages say: the verdict and its reasons, leave to drill, moves, derivations."""

from __future__ import annotations

import math
import re
from dataclasses import fields, is_dataclass, replace
from typing import Any

import pytest

from ledgewright import plane
from ledgewright.fitting import Move
from ledgewright.job import Words
from ledgewright.plan import Plan
from ledgewright.sheets import contents, pages, pdf
from ledgewright.sheets.directions import direction
from ledgewright.sheets.model import (
    CalculationSheet,
    CoreSheet,
    Cover,
    DrillCard,
    FittingSheet,
    FormSheet,
    PartsSheet,
    Picture,
    SectionSheet,
    SetCard,
    WithheldCard,
)
from ledgewright.sheets.say import Say
from ledgewright.sheets.shopfloor import letter_runs
from ledgewright.sheets.workings import grouped, runs, shape_sheet
from ledgewright.site import Drill
from ledgewright.statics import CannotSay, Surface
from tests.jobs import MEMO
from tests.sheets import paper, sample

HOLE_WORDS = ("Bit", "Stick-out", "Cut length", "Depth in stud", "Stop: face")


@pytest.fixture(scope="module")
def plan() -> Plan:
    return sample.plan()


@pytest.fixture(scope="module")
def made(plan: Plan) -> dict[str, Any]:
    return dict(pages(plan))


def texts(of: object) -> list[str]:
    """Every text on a page, the words of its drawings too."""
    if isinstance(of, Picture):
        return [of.caption, *re.findall(r"<text[^>]*>([^<]*)<", of.svg)]
    if isinstance(of, str):
        return [of]
    if is_dataclass(of):
        return [t for f in fields(of) for t in texts(getattr(of, f.name))]
    if isinstance(of, tuple):
        return [t for item in of for t in texts(item)]
    return []


def test_pages_in_the_order_of_the_work(made: dict[str, Any]) -> None:
    kinds = [type(page).__name__ for page in made.values()]
    assert kinds == [
        "Cover",
        "Contents",
        "CautionSheet",
        "PlanSheet",
        "SectionSheet",
        "FormSheet",  # the site measure as it came out
        "FormSheet",  # the photo list
        *("DrillCard",) * 2,
        *("FormSheet",) * 2,  # guide block and ledger of each wall
        *("SetCard",) * 2,
        *("AsSetCard",) * 2,
        "PartsSheet",
        "CoreSheet",
        *("FormSheet",) * 2,  # glue-up, finish
        "FittingSheet",
        "CutsSheet",
        "TemplateSheet",
        "WaysSheet",
        *("FormSheet",) * 2,  # the owner's page, the job log
        *("FormSheet",) * 2,  # quote, choices
        *("FormSheet",) * 4,  # days, van, shopping, price
        "CalculationSheet",
        "AssumedSheet",
    ]


def test_the_cover_says_what_a_person_asks_first(made: dict[str, Any]) -> None:
    cover = made["cover"]
    assert isinstance(cover, Cover)
    assert cover.verdict == "Cannot say yet"
    shown = {f.label: (f.value, f.under) for f in cover.shelves[0].figures}
    # 1.1 mm is 2.77/64 in, 2.3 mm is 5.80/64 in: rounded up to 3/64 and 6/64.
    assert shown["Front drop, day one"][0] == '3/64"'
    assert shown["Front drop, ten years"][0] == '3/32"'
    assert shown["Load limit"] == ("None given", "because a required check is missing")
    assert shown["Weight"] == ("47 lb", "Two people to hang it")
    facts = {f.label: f.value for f in cover.facts}
    assert facts == {
        "Building order": "Rods first",
        "Drilling": "Not yet",
        "Open items": "2",
        "Assumed values": "1",
    }
    assert any("hurt" in line for line in cover.cautions)


@pytest.mark.parametrize(
    ("legs", "mass", "length", "people"),
    [
        (1, 13.9, 1799.0, "One"),
        (1, 14.1, 1799.0, "Two"),
        (1, 13.9, 1801.0, "Two"),
        (2, 5.0, 900.0, "Two"),
    ],
)
def test_how_many_people_hang_it(
    plan: Plan, legs: int, mass: float, length: float, people: str
) -> None:
    # common practice: alone up to 30 lb (14 kg) and 6 ft (1.8 m), straight only.
    design = plan.designs[0]
    leg = replace(design.frame.legs[0], start=0.0, end=length)
    frame = replace(design.frame, legs=(leg,) * legs)
    light = replace(design, frame=frame, bill=replace(design.bill, mass=mass))
    from ledgewright.sheets.cover import people as ask

    assert ask(light).startswith(people)


def test_reasons_are_drawn_together(plan: Plan) -> None:
    design = plan.designs[0]
    said = (
        CannotSay("stab.contact", "rod A1 rocks"),
        CannotSay("stab.contact", "rod A2 rocks"),
        CannotSay("skin.bend", "not computed yet"),
        CannotSay("skin.roll", "not computed yet"),
    )
    lines = grouped(replace(design, holds=replace(design.holds, cannot_say=said)))
    assert lines == (
        "Shelf sits firm on its rods: rod A1 rocks (and 1 more like it).",
        "Skin bends; Skin shears in its plies: not computed yet.",
    )


def test_a_failed_check_leads_the_reasons(plan: Plan) -> None:
    design = plan.designs[0]
    bad = replace(design.holds.checks[0], state="fails", ratio=1.314, title="rod bends")
    holds = replace(design.holds, checks=(bad, *design.holds.checks[1:]), verdict="fails")
    failing = replace(plan, designs=(replace(design, holds=holds),), verdict="fails")
    cover = pages(failing, {})["cover"]
    assert isinstance(cover, Cover)
    assert cover.verdict == "It does not hold"
    assert cover.why[0].startswith("Rod bends at ")
    assert "1.32 times what it can take" in cover.why[0]  # 1.314, rounded up
    card = next(p for p in pages(failing, {}).values() if isinstance(p, DrillCard))
    assert "Do not drill" in card.warning


def test_drill_figures_are_those_of_the_leave(plan: Plan, made: dict[str, Any]) -> None:
    say = Say.of(plan.job.meta)
    for shelf, wall, leave in plan.leave:
        assert isinstance(leave, Drill)
        card = made[f"wall {shelf} {wall}"]
        assert isinstance(card, DrillCard)
        rows = {row[0]: row for row in card.holes.rows}
        for hole in leave.holes:
            row = rows[hole.mark]
            assert row[1] == say.bare(hole.taped)
            assert row[2] == f"{say.bare(hole.edges[0])} to {say.bare(hole.edges[1])}"
            assert row[3:6] == (
                say.bare(hole.up),
                say.bare(hole.bit),
                say.bare(hole.depth_from_face),
            )
            assert row[6:] == ("[]", "[]")


def test_running_dimension_counts_from_the_hook_end(made: dict[str, Any]) -> None:
    # From the job file: wall A's first stud is 14 11/16 to 16 3/16 from the corner, its centre 15 7/16.
    first = made["wall corner A"].holes.rows[0]
    assert first[:3] == ("A1", "15 7/16", "14 11/16 to 16 3/16")
    assert "right end" in made["wall corner A"].holes.heads[1]


def test_waits_on_a_cold_day_are_longer(plan: Plan, made: dict[str, Any]) -> None:
    # Common practice: 10 C colder is twice the wait, the comb stays on half as long again.
    # Sample: leave alone 10 h, full load 36 h. At 20 C: 15 h, 36 h. At 10 C: 30 h, 72 h.
    for warm, comb, load in (
        (20.0, "15 h", "36 h"),
        (10.0, "30 h", "72 h"),
        (25.0, "15 h", "36 h"),
    ):
        day = replace(plan, job=replace(plan.job, site=replace(plan.job.site, temperature=warm)))
        card = pages(day, {})["set corner A"]
        assert isinstance(card, SetCard)
        values = {f.label: f.value for f in card.facts}
        assert (values["Comb stays on"], values["Nothing hung before"]) == (comb, load)
    cold = replace(plan, job=replace(plan.job, site=replace(plan.job.site, temperature=5.0)))
    card = pages(cold, {})["set corner A"]
    assert isinstance(card, SetCard)
    assert card.stop[0].startswith("It is too cold as planned.")


def test_the_set_card_says_how_much_to_mix_for_each_hole(made: dict[str, Any]) -> None:
    # By hand: bar 5/8, hole 3/4, 3 1/8 deep: pi/4 (19.05^2 - 15.875^2) 79.375 = 6913 mm3; a third over
    # (0.35, common practice): 9332 mm3; at 1200 kg/m3 11.2 g, rounded up.
    card = made["set corner A"]
    assert isinstance(card, SetCard)
    column = card.rods.heads.index("Mix, grams")
    assert {row[column] for row in card.rods.rows} == {"12"}


@pytest.fixture(scope="module", params=[("A",), ("B",), ("A", "B")])
def held(request: pytest.FixtureRequest) -> Plan:
    names: tuple[str, ...] = request.param
    return sample.plan(names)


def figures_of(plan: Plan, wall: str) -> set[str]:
    """Every figure of a hole on that wall, as the job would write it, long enough to be told apart."""
    say = Say.of(plan.job.meta)
    design = plan.designs[0]
    figures: set[str] = set()
    for rod in design.frame.rods:
        if rod.wall == wall:
            member = next(m for m in design.room.wall(wall).members if m.id == rod.member)
            centre = design.room.wall(wall).taped(member.centre)
            lengths = (
                centre,
                rod.origin[2],
                rod.embedment,
                rod.embedment + rod.free,
                rod.cut_length,
            )
            figures |= {say.bare(x) for x in lengths} | {f"hole {say.bare(rod.hole)}"}
    return figures


def test_a_wall_that_is_not_confirmed_gives_no_figure_of_a_hole(held: Plan) -> None:
    made = pages(held)
    shut = [wall for _, wall, leave in held.leave if not isinstance(leave, Drill)]
    for wall in shut:
        card = made[f"wall corner {wall}"]
        assert isinstance(card, WithheldCard)
        said = texts(card)
        assert card.questions[0] in said
        assert not figures_of(held, wall) & {word for text in said for word in _spans(text)}
        assert not [t for t in said for word in HOLE_WORDS if word in t]
        assert f"set corner {wall}" not in made


def test_a_wall_that_is_not_confirmed_gives_nothing_away_elsewhere(held: Plan) -> None:
    made = pages(held)
    shut = [wall for _, wall, leave in held.leave if not isinstance(leave, Drill)]
    section = made.get("section corner")
    if len(shut) == 2:
        assert section is None
    else:
        assert isinstance(section, SectionSheet)
        assert not [p for p in section.pictures for w in shut if f"rod {w}" in p.caption]
    core, parts = made["core corner"], made["parts corner"]
    assert isinstance(core, CoreSheet)
    assert core.picture is None
    assert not core.pieces.rows
    assert "not confirmed" in core.hold
    assert isinstance(parts, PartsSheet)
    assert all(row[4:] == ("withheld", "withheld") for row in parts.parts.rows if "rods" in row[1])
    sheet = made["calculations corner"]
    assert isinstance(sheet, CalculationSheet)
    assert not [w for w in sheet.workings if w.place[:1] in shut]
    assert "Nothing here is leave to drill" in sheet.hold
    for wall in shut:
        for page in ("plan corner", "fitting corner"):
            marks = [t for t in texts(made[page]) if re.match(rf"{wall}\d\b", t)]
            assert not [t for t in marks if "lock" not in t.lower()], page


def test_files_of_a_wall_that_is_not_confirmed() -> None:
    names = contents(sample.plan(("A",)), memo=MEMO).keys()
    assert not [n for n in names if n.startswith(("core", "section-corner-A"))]
    assert [n for n in names if n.startswith("section-corner-B")]
    assert "core_map.dxf" in contents(sample.plan(), memo=MEMO)


def test_no_leave_at_all_is_no_leave(plan: Plan) -> None:
    made = pages(replace(plan, leave=()))
    assert not [p for p in made.values() if isinstance(p, DrillCard | SetCard | SectionSheet)]
    core = made["core corner"]
    assert isinstance(core, CoreSheet)
    assert core.picture is None


def _spans(text: str) -> set[str]:
    """A text, and every run of its words: "A1 15 7/16" holds "15 7/16"."""
    words = text.split()
    return {" ".join(words[i:j]) for i in range(len(words)) for j in range(i + 1, len(words) + 1)}


@pytest.mark.parametrize(
    ("vector", "words"),
    [
        ((0.0, 10.0), "straight in to wall A"),
        ((0.0, -10.0), "straight off wall A"),
        ((10.0, 0.0), "to the right along wall A"),
        ((-10.0, 0.2), "to the left along wall A"),
        ((7.0, 7.0), "aslant"),
        ((0.0, 0.0), "no distance"),
    ],
)
def test_moves_in_words(plan: Plan, vector: tuple[float, float], words: str) -> None:
    walls = plan.designs[0].room.walls[:1]
    assert direction(Move(*vector, 0.0, ""), walls) == words


def test_into_the_wall_that_carries_it_not_along_the_cheek() -> None:
    # An alcove: the move along the cheek is the move into the back wall, and is said that way.
    room = sample.plan().designs[0].room
    back = room.walls[0]
    cheek = replace(back, id="C", mark="C", direction=plane.left(back.direction))
    assert direction(Move(0.0, 10.0, 0.0, ""), (back, cheek)) == "straight in to wall A"


def test_a_move_has_a_picture_and_its_length(plan: Plan, made: dict[str, Any]) -> None:
    sheet = made["fitting corner"]
    assert isinstance(sheet, FittingSheet)
    way = plan.designs[0].way
    assert way is not None
    assert len(sheet.moves) == len(way.moves)
    for step, move in zip(sheet.moves, way.moves, strict=True):
        assert step.picture is not None
        assert step.far == Say.of(plan.job.meta).length(math.hypot(move.dx, move.dy))


def test_no_way_says_what_blocks_it(plan: Plan) -> None:
    design = plan.designs[0]
    stuck = replace(design, way=None, ways=replace(design.ways, chosen=None))
    sheet = pages(replace(plan, designs=(stuck,)), {})["fitting corner"]
    assert isinstance(sheet, FittingSheet)
    assert not sheet.moves
    assert any('window casing, short by 5 1/4"' in line for n in sheet.after for line in n.lines)


def test_each_line_is_worked_once_and_named_after(plan: Plan, made: dict[str, Any]) -> None:
    design = plan.designs[0]
    other = replace(design.holds.checks[0], id="rod.shear@A.s1", family="rod.shear", ratio=0.1)
    holds = replace(design.holds, checks=(*design.holds.checks, other))
    sheet = pages(replace(plan, designs=(replace(design, holds=holds),)), {})["calculations corner"]
    assert isinstance(sheet, CalculationSheet)
    assert [len(w.steps) for w in sheet.workings] == [2, 0]
    assert sheet.workings[1].above == "From above: (1) to (2)."
    assert [s.number for s in sheet.workings[0].steps] == [1, 2]


def test_governing_first(plan: Plan, made: dict[str, Any]) -> None:
    sheet = made["calculations corner"]
    governs = plan.designs[0].holds.governs
    assert governs is not None
    assert sheet.everywhere.rows[0][1] == governs.split("@")[1].replace(".s", "")
    assert len(sheet.everywhere.rows) == len(plan.designs[0].holds.checks)


@pytest.mark.parametrize(("words", "rod"), [("en-US", "each rod,"), ("en-GB", "each steel bar,")])
def test_the_forces_are_headed_in_the_english_of_the_job(
    plan: Plan, words: Words, rod: str
) -> None:
    meta = replace(plan.job.meta, words=words)
    told = replace(plan, job=replace(plan.job, meta=meta))
    assert rod in shape_sheet(told, plan.designs[0], None, None).forces_head


@pytest.mark.parametrize(("least", "said"), [(-0.3, True), (0.0, False)])
def test_a_minus_sign_is_explained_where_the_top_rises(
    plan: Plan, least: float, said: bool
) -> None:
    design = plan.designs[0]
    top = Surface("a case", ((0.0, 0.0), (1.0, 0.0)), (least, 1.0), ())
    moved = replace(design, holds=replace(design.holds, surface=top))
    assert ("minus" in shape_sheet(plan, moved, None, None).about_drop) is said


def test_numbers_and_letters_are_drawn_together() -> None:
    assert runs([1, 2, 3, 7, 9, 10]) == "(1) to (3), (7), (9) to (10)"
    assert runs([]) == ""
    assert letter_runs(["C1", "C2", "C3", "E1", "E2", "R"]) == "C1 to C3, E1, E2, R"


def test_the_price_is_the_shop_alone_and_hides_nothing(made: dict[str, Any]) -> None:
    price = made["price"]
    assert isinstance(price, FormSheet)
    assert "never goes to the client" in price.warning
    assert price.parts[0].head == "Not final"
    assert "no price file is named" in price.parts[0].lines[0]
    assert {f.label: f.value for f in price.facts}["Price"] == "None"


def test_british_pages_are_in_british_words(plan: Plan) -> None:
    meta = replace(plan.job.meta, words="en-GB", units="mm", sheets="a4")
    # The sample's own names of parts are American; what the pages add must not be.
    said = " ".join(
        t
        for name, page in pages(replace(plan, job=replace(plan.job, meta=meta))).items()
        if not name.startswith(("parts", "calculations", "caution"))
        for t in texts(page)
    )
    assert "steel bar" in said
    assert "Maximum safe load" in said
    for word in ("Center", "center ", "Load limit", "drywall", "inches", "millimeters"):
        assert word not in said, word


def test_two_shelves_stand_side_by_side(plan: Plan) -> None:
    design = plan.designs[0]
    upper = replace(
        design,
        spec=replace(design.spec, id="upper"),
        frame=replace(design.frame, shelf="upper"),
    )
    job = replace(
        plan.job,
        shelves=(design.spec, upper.spec),
        demands=(plan.job.demands[0], replace(plan.job.demands[0], shelf="upper")),
    )
    both = replace(
        plan,
        job=job,
        designs=(design, upper),
        leave=(*plan.leave, *(("upper", wall, leave) for _, wall, leave in plan.leave)),
    )
    made = pages(both)
    assert {"plan corner", "plan upper", "wall upper B", "calculations upper"} <= made.keys()
    cover = made["cover"]
    assert isinstance(cover, Cover)
    assert [s.shelf for s in cover.shelves] == ["corner", "upper"]
    assert {"template-upper.dxf", "core_map-upper.dxf"} <= contents(both, memo=MEMO).keys()


def test_the_title_block_carries_no_more_of_a_name_than_it_holds() -> None:
    plan = sample.plan()
    long = replace(
        plan, job=replace(plan.job, meta=replace(plan.job.meta, file="x" * 200 + ".toml"))
    )
    for sheet in paper.read(pdf(long, MEMO)):
        assert max(w.right for w in sheet.words) <= sheet.width - 12
