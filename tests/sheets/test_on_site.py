"""What `site` and the sheets say of rods as set, of a load test and to the owner: the alcove with its readings."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from functools import cache
from types import SimpleNamespace
from typing import Any

import jsonschema
import pytest

from ledgewright import site
from ledgewright.doubt import Least, NoSpread, Spread
from ledgewright.job.reading import read as read_job
from ledgewright.plan import Plan, full
from ledgewright.sheets import as_set, cover, handover, sure, walls
from ledgewright.sheets.answers import check_text, fit_text
from ledgewright.sheets.cover import why
from ledgewright.sheets.documents import check_document, fit_document
from ledgewright.sheets.model import AsSetCard, FormSheet
from ledgewright.sheets.pages import block
from ledgewright.sheets.press import press
from ledgewright.sheets.safety import caution_sheet
from ledgewright.sheets.say import Say
from ledgewright.sheets.schemas import SCHEMAS
from ledgewright.sheets.siting import site_document, site_text
from ledgewright.site import Drill, ReadBack
from ledgewright.statics import LoadLimit, NoLimit, Place, Proof
from tests import jobs
from tests.sheets import paper


def read(name: str) -> Plan:
    """An example with what stands in comment at its end: rods read, load test read."""
    text = (jobs.EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    text = re.sub(r"prices = .*\n", "", text)
    changed = re.sub(r"(?m)^# ((?:rod = |test = |    \{|\]).*)$", r"\1", text)
    found = read_job(changed, f"{name}.toml")
    assert found.job is not None, found.findings
    assert found.job.shelves[0].as_set
    assert len(found.job.site.tests) == 4
    return full(found.job, jobs.MEMO, limits=False, tests=True)


@cache
def alcove() -> Plan:
    return read("reading-alcove")


@cache
def corner() -> Plan:
    """In two sections, tested together."""
    return read("stoneware-corner")


def drawn() -> Plan:
    return jobs.plan("reading-alcove")


def leave(plan: Plan) -> Drill:
    (found,) = [each for _, _, each in plan.leave]
    assert isinstance(found, Drill)
    return found


def test_what_is_read_so_far_stands_in_every_answer() -> None:
    """Stud 61 to 99, hole of 18 at 91: broken out by 1 mm. One of four rods is read, and it says so at once."""
    text = (jobs.EXAMPLES / "reading-alcove.toml").read_text()
    line = '{ at = "back 80", wall = [91, 1341.7], tip = [91, 1341.9], out = 240.5 }'
    made = read_job(text.replace("# rod = [\n", f"rod = [{line}]\n# [\n"), "reading-alcove.toml")
    assert made.job is not None
    plan = full(made.job, jobs.MEMO, limits=False)
    assert plan.verdict == "fails"
    assert "as drawn; 1 of 4 are read" in check_text(plan)
    document = check_document(plan)
    assert document["shelves"][0]["rods_read"] == {"read": 1, "of": 4}
    assert any("broken out" in note for note in document["notes"])
    assert document["because"] == ["bed.edge@back.s1"]
    site_says = " ".join(site_text(plan).split())
    assert "1 of 4 steel bars are read" in site_says
    assert "broken out" in site_says
    assert "Wood either side of the rod at B1" in " ".join(why(plan))


def test_every_answer_says_whether_rods_are_as_drawn_or_as_set() -> None:
    for plan, word in ((alcove(), "as set"), (drawn(), "as drawn")):
        check, site = (
            json.loads(json.dumps(d)) for d in (check_document(plan), site_document(plan))
        )
        for verb, document in (("check", check), ("site", site)):
            assert document["shelves"][0]["rods_are"] == word
            jsonschema.validate(document, SCHEMAS[verb]())
    fit = fit_document(drawn(), jobs.MEMO)
    assert fit["shelves"][0]["rods_are"] == "as drawn"
    assert "as fitted: go" in check_text(alcove())  # en-GB
    assert "steel bars   as drawn" in check_text(drawn())  # the word of an en-GB job
    assert "as drawn" in fit_text(drawn(), jobs.MEMO)


def test_a_blank_card_asks_and_a_filled_one_answers() -> None:
    plan = drawn()
    blank = as_set.card(plan, plan.designs[0], leave(plan))
    assert isinstance(blank, AsSetCard)
    assert blank.warning == "The core is not cut until these readings are in and signed"
    assert [row[0] for row in blank.rods.rows if row[0]] == ["B1", "B2", "B3", "B4"]
    empty = [row for row in blank.rods.rows if row[1] == "read"]
    assert all(row[2:] == ("", "", "", "", "", "[]") for row in empty)
    plan = alcove()
    filled = as_set.card(plan, plan.designs[0], leave(plan))
    assert filled.facts[0].value == "GO"
    read = [row for row in filled.rods.rows if row[1] == "read"]
    # As the readings stand in the example: stick-out, height at wall and tip, side at wall and tip.
    assert read[0][2:] == ("240.5", "1341.7", "1341.9", "80.6", "81.2", "OK")
    assert any(line.startswith("GO:") for line in filled.together)


def test_the_drill_card_keeps_to_the_drawing_and_the_set_card_says_what_is_allowed() -> None:
    plan = alcove()
    card = walls.drill_card(plan, plan.designs[0], leave(plan), None)
    # Half way between the stud edges of the scene: 61 and 99, 462.5 and 500.5.
    assert [row[1] for row in card.holes.rows[:2]] == ["80", "481.5"]
    line = walls.set_card(plan, plan.designs[0], leave(plan)).ticks[-1]
    # Play of 1.0 up and down in all leaves half of it.
    assert "0.5 up or down" in line


def test_the_load_test_is_planned_for_every_place_and_says_when_to_unload() -> None:
    plan = alcove()
    proof, _ = plan.test("reading")
    assert isinstance(proof, Proof)
    sheet = handover.test_sheet(plan, plan.designs[0])
    assert isinstance(sheet, FormSheet)
    (readings,) = (p.tables[0] for p in sheet.parts if p.head == "Readings along the front")
    assert len(readings.rows) == len(proof.later)
    for row in readings.rows:
        half, most, over = (float(row[k].removesuffix(" mm")) for k in (1, 4, 5))
        assert half < most < over
    heads = [part.head for part in sheet.parts]
    assert "Unload at once" in heads
    assert "As read" in heads
    text = " ".join(line for part in sheet.parts for line in (*part.lines, *part.ticks))
    assert "50 C" in text
    assert "PASSED" in text
    # By hand: "In all" is the sum of the weights below it.
    (weights,) = (p.tables[0] for p in sheet.parts if p.head == "What goes where")
    summed = sum(float(row[3].split()[0]) for row in weights.rows)
    assert sheet.facts[0].value.split()[0] == f"{summed:g}"


def test_the_owner_hears_of_no_limit_before_rods_and_test_are_read() -> None:
    plan = drawn()
    sheet = handover.owner_sheet(plan, plan.designs[0])
    assert sheet.warning == "No limit yet: put nothing on it"
    label = sheet.parts[-1]
    assert label.lines == ("NO LIMIT YET. LOAD NOTHING.",)
    assert any("doubt, rods as set and a load test" in line for line in sheet.parts[0].lines)


def owner_lines(plan: Plan, design: Any) -> str:
    """What the owner's page says where there is no limit."""
    sheet = handover.owner_sheet(plan, design)
    assert sheet.warning == "No limit yet: put nothing on it"
    (told,) = [part for part in sheet.parts if part.head == "What it may carry"]
    return " ".join(told.lines)


def _limit_of_check(plan: Plan) -> str:
    """What `check` says of the load limit, to the next figure."""
    bare = replace(plan, spreads=tuple((k, NoSpread(each.why)) for k, each in _none(plan)))
    return check_text(bare).partition("maximum safe load")[2].partition("check ")[0]


def _none(plan: Plan) -> list[tuple[str, NoSpread]]:
    found = [(k, e if isinstance(e, NoSpread) else e.carried) for k, e in plan.spreads]
    return [(k, each) for k, each in found if isinstance(each, NoSpread)]


@pytest.mark.parametrize("of_limit", [True, False])
def test_owner_cover_and_check_say_why_doubt_is_missing_and_what_may_bring_a_limit(
    of_limit: bool,
) -> None:
    """Whoever built it and tested it needs the reason where the label should be, and a way on (an independent look)."""
    why = "within the ranges it does not stand by 2.5 mm"
    plan, design = labelled(0.4, 20.9, 60.9, "doubt")
    none: Any = SimpleNamespace(today=None, long_term=None, carried=NoSpread(why), names=())
    found = Spread(**vars(none), runs=1, seed=0) if of_limit else NoSpread(why)
    asked = replace(plan, spreads=((design.spec.id, found),))
    figure = cover.shelf_figures(design, Say.of(plan.job.meta), found).figures[2]
    for text in (owner_lines(asked, design), figure.under, _limit_of_check(asked)):
        assert why in text
        assert "What may bring a limit: " in text
        assert "an engineer" in text
    assert owner_lines(plan, design).count("check --ranges") == 1


def test_the_owner_hears_why_there_is_no_limit_at_all() -> None:
    """The reason and the way on of `site.limit`, with what stops the weakest by its mark."""
    plan, design = labelled(0.4, 20.9, 60.9)
    member = design.frame.rods[1].member
    at = Place(design.frame.rods[1].wall, member, 0.0, 0.0)
    stop: Any = SimpleNamespace(title="Wood crushes beside the rod", place=at, case="accident")
    least = Least(0.4, 0.0, stop)
    carries = replace(design.holds.load_limit, open=())
    mine = replace(design, holds=replace(design.holds, load_limit=carries))
    limit = site.limit(plan.job, mine, None, None, NoSpread("too far off", least))
    assert isinstance(limit, NoLimit)
    bare = replace(design, holds=replace(design.holds, load_limit=limit))
    told = owner_lines(replace(plan, designs=(bare,)), bare)
    assert (
        f"wood crushes beside the steel bar at {design.frame.rods[1].mark}, with nothing on it"
        in told
    )
    assert "What may bring one: make it stronger" in told
    # The weakest of them that carries something is a limit, and says where it is from.
    some = site.limit(plan.job, mine, None, None, NoSpread("too far off", replace(least, safe=0.3)))
    assert isinstance(some, LoadLimit)
    assert some.even == pytest.approx(0.3)
    assert "the weakest of 59 such shelves drawn by chance carries this much" in some.case
    assert "doubt" not in some.open


def test_the_page_on_how_sure_it_is_tells_the_weakest_of_those_drawn() -> None:
    """0.3 N/mm is 30.6 kg/m (9.80665 N a kg), rounded down; 1 - 0.95^59 is 0.9515."""
    least = Least(0.4, 0.3, None)
    told = sure.least(NoSpread("too far off", least), Say("mm", "en-GB"))
    assert "59 such shelves were drawn by chance" in told
    assert "the weakest carries 30 kg/m; it is 95 % sure that 19 in 20 carry at least that" in told
    assert "carries nothing" in sure.least(
        NoSpread("", replace(least, safe=0.0)), Say("mm", "en-GB")
    )


def test_two_sections_are_tested_together_and_each_has_its_sheet() -> None:
    """Scene: 16 lb/ft on fronts of about 69 1/4 and 39 1/2 in; at most 1.25 times that, the things and 30 kg each."""
    plan = corner()
    document = json.loads(json.dumps(site_document(plan)))
    jsonschema.validate(document, SCHEMAS["site"]())
    tests = [shelf["load_test"] for shelf in document["shelves"]]
    assert [test["beside"] for test in tests] == [["showroom.2"], ["showroom.1"]]
    for test, wall in zip(tests, ("A", "B"), strict=True):
        assert {place["wall"] for place in test["proposed"]["places"]} == {wall}
        assert test["read"]["passed"], test["read"]["why"]
        assert {row["wall"] for row in test["read"]["rows"]} == {wall}
    # By hand, on B: 95 lb at 7 1/2 of 10 1/2 in, where 100 mm flush with the front are 8.53 out, and on it half of the
    # 7 lb beside it at least; in all 197 lb, of which the 34 of the jar at 5 in count as at 5.58.
    allows = tests[1]["read"]["allows"]
    single = 95 * 0.45359237 * 7.5 / (10.5 - 50 / 25.4) / 1.25
    assert single * (1 - 1e-9) <= allows["single"] <= single * 102 / 95
    total = 95 + 7 + 27 + 27 + 7 + 34 * 5 / (10.5 - 125 / 25.4)
    assert allows["total"] == pytest.approx(total * 0.45359237 / 1.25)
    text = site_text(plan)
    assert text.count("tested together with showroom, section") == 2
    assert text.count("PASSED.") == 2
    for design, other in zip(plan.designs, ("2 of 2", "1 of 2"), strict=True):
        sheet = handover.test_sheet(plan, design)
        assert sheet is not None
        ticks = next(part.ticks for part in sheet.parts if part.head == "Before")
        assert any(f"Together with showroom, section {other}" in tick for tick in ticks)
        assert len(paper.read(press(block(plan), {"test": sheet}))) <= 3


def test_a_dial_gauge_is_told_in_its_own_marks() -> None:
    """25.4 mm an inch (1959): 2.54 mm is 0.100 in; what unloads a test is rounded down."""
    inch, mm = Say("in", "en-US"), Say("mm", "en-GB")
    assert (inch.gauge(2.54), mm.gauge(2.544)) == ('0.100"', "2.54 mm")
    assert (inch.gauge_down(2.559), mm.gauge_down(2.549)) == ('0.100"', "2.54 mm")
    assert inch.gauge_down(2.54) == '0.100"'


def test_the_cautions_name_what_can_hurt() -> None:
    """Design page on the trade, section 4, and issue 8: what a carpenter is warned of."""
    text = " ".join(line for note in caution_sheet(drawn()).notes for line in note.lines).lower()
    named = "cables, pipes, lead, asbestos, silica, ladder, fire, sound, party wall, rented, outside wall, damp"
    for word in named.split(", "):
        assert word in text


def test_the_set_card_has_boxes_for_the_clock() -> None:
    """Design page on the trade, section 5: mixed at, comb off at, load at."""
    plan = drawn()
    table = walls.set_card(plan, plan.designs[0], leave(plan)).rods
    assert table.heads[-4:] == ("Mixed at", "Set at", "Comb off at", "Load at")
    assert all(cell == walls.CLOCK for row in table.rows for cell in row[-4:])


def labelled(even: float, single: float, total: float, *missing: str) -> tuple[Plan, Any]:
    plan = alcove()
    (design,) = plan.designs
    found = LoadLimit(even, single, total, "load test", "Load test", None, "case", missing)
    design = replace(design, holds=replace(design.holds, load_limit=found))
    return replace(plan, designs=(design,)), design


def test_the_owner_of_a_shelf_that_does_not_hold_gets_no_label() -> None:
    """Rule of the project: what fails has no limit, whatever was found for it."""
    plan, design = labelled(0.4, 20.9, 60.9)
    failed = replace(design, holds=replace(design.holds, verdict="fails"))
    sheet = handover.owner_sheet(replace(plan, designs=(failed,)), failed)
    assert sheet.warning
    assert sheet.facts == ()


def test_the_label_says_the_limit_in_things_rounded_down() -> None:
    """0.4 N/mm is 40.8 kg/m: mixed books (37) may stand in a row, records (63) may not; 30 kg of 16 kg/m is 1.87 m."""
    plan, design = labelled(0.4, 20.9, 60.9)
    sheet = handover.owner_sheet(plan, design)
    assert sheet.warning == ""
    assert [f.value for f in sheet.facts] == ["40 kg/m", "60 kg", "20 kg"]
    things = dict(line.split(": ", 1) for line in sheet.parts[0].lines if ": " in line)
    assert things["Records"].startswith("not in a row")
    assert things["Mixed books"].startswith("the whole length, 1.1 m")
    label = " ".join(sheet.parts[-1].lines)
    assert "40 kg/m on every length, 60 kg in all, no one thing over 20 kg" in label
    assert "Not a step, seat or handhold" in label
    assert "Doubt, the rods as set and the load test are in it." in label
    # The clock weighs 11 kg, under the 20.9 of one thing. With it 49.9 kg are left: 1.34 m of books at 37, all of it.
    told = sheet.parts[0].lines
    assert "The clock (11 kg) where it was planned." in told
    assert "Mixed books and the clock at once: the whole length, 1.1 m of a row." in told
    assert "Books, 30 kg/m, where planned." in told
    # 0.29 N/mm is 29.6 kg/m: less than the 30 of the job.
    heavy = replace(design.holds.load_limit, single=10.0, even=0.29)
    over = replace(design, holds=replace(design.holds, load_limit=heavy))
    lines = handover.owner_sheet(replace(plan, designs=(over,)), over).parts[0].lines
    assert "Not the clock (11 kg): it weighs more than one thing may." in lines
    assert "Books: 29 kg/m at the most, not the 30 kg/m planned." in lines
    # 18 kg in all of what weighs 37 a metre is 0.48 m, told as 0.4.
    limit = replace(design.holds.load_limit, total=18.0)
    assert handover.row_of(37.0, design, limit, Say.of(plan.job.meta)) == "0.4 m of a row"


def test_the_answer_tells_test_and_limit() -> None:
    plan = alcove()
    _, read = plan.test("reading")
    assert isinstance(read, ReadBack)
    assert read.passed, read.why
    text = site_text(plan)
    assert "Load test of shelf reading:" in text
    assert "PASSED." in text
    document = site_document(plan)["shelves"][0]
    assert document["go"] == "go"
    assert document["load_test"]["read"]["passed"] is True
    # 101.5 kg stood on it, 14 of them 150 out where contents are 160, and 42 in one place, 210 out where one thing at
    # the front edge is 235.
    total = 101.5 - 14 * (1 - 150 / 160)
    assert document["load_test"]["read"]["allows"]["total"] == pytest.approx(total / 1.25)
    assert document["load_test"]["read"]["allows"]["single"] == pytest.approx(42 / 1.25 * 210 / 235)


def test_the_sheets_keep_to_their_paper() -> None:
    plan = alcove()
    (design,) = plan.designs
    tested = handover.test_sheet(plan, design)
    assert tested is not None
    made = {
        "card": as_set.card(plan, design, leave(plan)),
        "test": tested,
        "owner": handover.owner_sheet(plan, design),
        "log": handover.log_sheet(plan),
    }
    sheets = paper.read(press(block(plan), made))
    text = " ".join(sheet.text for sheet in sheets)
    for word in (
        "Load test",
        "For the owner",
        "Job log",
        "Unload at once",
        "Looked at after 1 year",
    ):
        assert word in text
    assert len(sheets) <= 7
