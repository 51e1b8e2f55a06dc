"""What people are told: rounded so that nothing looks better than it is, in one way everywhere, and never left out.

Conversions are those of the international yard and pound (25.4 mm, 0.45359237 kg) and standard gravity, by hand.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from ledgewright.fitting import Block
from ledgewright.judge import Design
from ledgewright.plan import Plan
from ledgewright.sheets import pages, pdf
from ledgewright.sheets.answers import check_text, fit_text, notes
from ledgewright.sheets.blocked import stops
from ledgewright.sheets.cautions import cautions
from ledgewright.sheets.cover import why
from ledgewright.sheets.documents import check_document, fit_document
from ledgewright.sheets.model import CautionSheet, Cover, DrillCard, WithheldCard
from ledgewright.sheets.plainly import told_below
from ledgewright.sheets.say import Say, figures, ratio
from ledgewright.site import Withheld
from ledgewright.statics import Check
from tests.jobs import FIRST_TRIES, MEMO, NAMES, plan
from tests.sheets import paper, sample

US, UK = Say("in", "en-US"), Say("mm", "en-GB")


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (0.871, "0.88"),
        (0.87, "0.87"),
        (0.997, "0.997"),
        (0.99951, "0.9996"),
        (0.9999999, "just under 1"),
        (1.0, "1.00"),
        (1.0000001, "1.01"),
        (1.004, "1.01"),
        (1.2, "1.20"),
        (0.0, "0.00"),
    ],
)
def test_a_ratio_is_never_shown_on_one_from_either_side(value: float, shown: str) -> None:
    assert ratio(value) == shown


def test_what_is_asked_is_rounded_up_and_what_can_be_taken_down() -> None:
    # 591.9 N / 4.4482216 = 133.06 lbf; 44,868.2 psi * 0.00689476 = 309.355 MPa; 25.4 mm is 1 in on the mark.
    assert (US.asked(591.9, "N"), US.taken(591.9, "N")) == ("134 lbf", "133 lbf")
    assert (US.asked(309.355, "MPa"), US.taken(309.355, "MPa")) == ("44869 psi", "44868 psi")
    assert (UK.asked(4.351, "MPa"), UK.taken(4.359, "MPa")) == ("4.36 MPa", "4.35 MPa")
    assert (UK.asked(168_010.0, "N mm"), UK.taken(168_999.0, "N mm")) == ("169 N m", "168 N m")
    assert US.asked(25.4, "mm") == US.taken(25.4, "mm") == '1"'
    # 1.2 mm is 3.02/64 in.
    assert (US.asked(1.2, "mm"), US.taken(1.2, "mm")) == ('1/16"', '3/64"')
    assert (UK.asked(1.21, "mm"), UK.taken(1.29, "mm")) == ("1.3 mm", "1.2 mm")
    # A figure that stands on its last place stays there.
    assert UK.asked(4.35, "MPa") == UK.taken(4.35, "MPa") == "4.35 MPa"
    assert (UK.asked(0.0, "1"), UK.taken(1.0, "1")) == ("0", "1")


@pytest.mark.parametrize(
    ("value", "up", "down"),
    [(1234.2, "1 235", "1 234"), (12.341, "12.35", "12.34"), (0.0, "0", "0"), (2.5, "2.5", "2.5")],
)
def test_four_figures_of_a_calculation(value: float, up: str, down: str) -> None:
    assert (figures(value, 4, "up"), figures(value, 4, "down")) == (up, down)


def with_check(whole: Plan, design: Design, check: Check) -> Plan:
    holds = replace(design.holds, checks=(check,), verdict="fails", cannot_say=())
    return replace(whole, designs=(replace(design, holds=holds),), verdict="fails")


@pytest.mark.parametrize(("value", "shown"), [(0.997, "0.997"), (1.004, "1.01")])
def test_terminal_cover_and_calculations_round_a_ratio_the_same_way(
    value: float, shown: str
) -> None:
    whole = sample.plan()
    design = whole.designs[0]
    check = replace(
        design.holds.checks[0], state="fails", ratio=value, demand=value * 1000.1, capacity=1000.1
    )
    failing = with_check(whole, design, check)
    assert re.search(rf" {shown} +NO", check_text(failing))
    assert f"asked for {shown} times" in why(failing)[0]
    sheet: Any = pages(failing, {}, MEMO, others=False)["calculations corner"]
    assert sheet.summary.rows[0][5] == {0.997: "0.997", 1.004: "1.004"}[value]
    assert sheet.summary.rows[0][5] not in ("1.000", "1.00")


def test_drop_weight_and_hang_tilt_are_rounded_up_and_limits_down() -> None:
    whole = sample.plan()
    design = whole.designs[0]
    drop = design.holds.drop
    assert drop is not None
    # 1.1 mm is 2.77/64 in; a limit of 1.55 mm is 3.91/64 in; a tilt of 0.9 mm is 2.27/64 in; 20.9 kg is 46.08 lb.
    made = replace(drop, today=replace(drop.today, value=1.1, limit=1.55), hang_tilt=0.9)
    holds = replace(design.holds, drop=made)
    heavy = replace(design, holds=holds, bill=replace(design.bill, mass=20.9))
    told = check_text(replace(whole, designs=(heavy,)))
    assert '3/64" on day one (limit 3/64")' in told
    assert 'hang tilt    3/64"' in told
    assert "47 lb without rods" in told
    document = check_document(replace(whole, designs=(heavy,)))["shelves"][0]
    assert document["front_drop"]["today"]["text"] == '3/64"'
    assert document["hang_tilt"]["text"] == '3/64"'


@pytest.mark.parametrize("name", NAMES)
def test_what_runs_behind_a_wall_is_a_caution_and_stands_on_its_card(name: str) -> None:
    whole = plan(name)
    said = {c.id: c.text for c in cautions(whole)}
    shown = {c["id"]: c["text"] for c in check_document(whole)["cautions"]}
    for shelf, wall, _ in whole.leave:
        (taped,) = [w for w in whole.job.tapes.walls if w.id == wall]
        services = taped.known.services
        assert services
        assert services in said[f"services-{wall}"]
        assert services in " ".join(check_text(whole).split())
        assert shown == said
        card = pages(whole, {}, MEMO, others=False)[f"wall {shelf} {wall}"]
        assert isinstance(card, DrillCard)
        assert card.services == services
        sheet = pages(whole, {}, MEMO, others=False)["cautions"]
        assert isinstance(sheet, CautionSheet)
        assert any(services in line for note in sheet.notes for line in note.lines)


def test_leaning_counted_with_less_than_usual_is_told_as_leaning_left_out_is() -> None:
    """50 N of the usual 600 N is as good as nobody: cover, label and cautions say it (rule of the project)."""
    whole = sample.plan()
    demand = whole.job.demands[0]
    light = tuple(replace(each, force=50.0) for each in demand.accidents)
    little = replace(demand, accidents=light, accident_usual=600.0)
    assert little.leaning_left_out
    less = replace(whole, job=replace(whole.job, demands=(little,)))
    (told,) = [c for c in cautions(less) if c.id == f"little-leaning-{demand.shelf}"]
    assert "Nobody may lean on it" in told.text
    assert told.text in [c["text"] for c in check_document(less)["cautions"]]
    assert not [c for c in cautions(whole) if c.id.startswith("little-leaning")]
    cover = pages(less, {}, MEMO, others=False)["cover"]
    assert isinstance(cover, Cover)
    assert "less than usual" in str(cover)


def test_leaning_on_a_wide_square_is_told_as_leaning_left_out_is() -> None:
    """The same force further back asks less of every rod: cover, label and cautions say it (rule of the project)."""
    whole = sample.plan()
    demand = whole.job.demands[0]
    wide = tuple(replace(each, patch=150.0) for each in demand.accidents)
    little = replace(demand, accidents=wide, patch_usual=100.0)
    assert little.leaning_left_out
    less = replace(whole, job=replace(whole.job, demands=(little,)))
    (told,) = [c for c in cautions(less) if c.id == f"little-leaning-{demand.shelf}"]
    assert "wider than the usual" in told.text
    assert "Nobody may lean on it" in told.text
    cover = pages(less, {}, MEMO, others=False)["cover"]
    assert isinstance(cover, Cover)
    assert "less than usual" in str(cover)


def test_a_wall_of_which_nothing_is_told_gives_no_such_caution() -> None:
    whole = plan("stoneware-corner-first-try")
    walls = tuple(replace(w, known=replace(w.known, services=None)) for w in whole.job.tapes.walls)
    job = replace(whole.job, tapes=replace(whole.job.tapes, walls=walls))
    assert not [c for c in cautions(replace(whole, job=job)) if c.id.startswith("services-")]


@cache
def crowded() -> tuple[paper.Sheet, ...]:
    """A cover with forty open items, and reasons as long as they come."""
    whole = sample.plan()
    item = whole.job.open_items[0]
    many = tuple(
        replace(item, path=f"{item.path}{k}", costs=f"{k}: {item.costs}") for k in range(40)
    )
    sheets = paper.read(pdf(replace(whole, job=replace(whole.job, open_items=many)), MEMO))
    return tuple(s for s in sheets if s.text.startswith("Job packet"))


def test_many_open_items_run_on_and_cautions_stay_on_the_first_page() -> None:
    first, *more = crowded()
    assert more
    assert "It is not a step, a seat or a handhold" in first.text
    assert "have the last word" in first.text
    whole = "".join(s.text for s in crowded())
    assert all(f" {k}: " in whole.replace("\n", " ") for k in range(40))


def test_a_withheld_wall_is_an_open_item_of_the_cover_and_tells_what_is_behind_it() -> None:
    whole = plan("stoneware-corner-first-try")
    held = Withheld(wall="A", questions=("Who has seen it?",))
    leave = tuple((s, w, held if w == "A" else each) for s, w, each in whole.leave)
    made = pages(replace(whole, leave=leave), {})
    cover, card = made["cover"], made["wall showroom A"]
    assert isinstance(cover, Cover)
    assert any(item.startswith("wall A: may not be drilled") for item in cover.open_items)
    assert {f.label: f.value for f in cover.facts}["Open items"] == "2"
    assert isinstance(card, WithheldCard)
    assert card.services.startswith("cable drops in the bay")


def test_a_block_is_said_in_one_way_everywhere() -> None:
    whole = sample.plan()
    design = whole.designs[0]
    blocks = (Block("window casing", 2, 50.0), Block("pipe", 0, 12.0))
    shut = replace(design.ways.ways[0], possible=False, blocked=blocks)
    stuck = replace(design, way=None, ways=replace(design.ways, ways=(shut,), chosen=None))
    made = replace(whole, designs=(stuck,))
    said = [stops(block, Say.of(whole.job.meta)) for block in blocks]
    # The second move is number 2; a home that is taken has no move. 50 mm is 63.0/32 in, 12 mm 15.1/32 in.
    assert said == [
        'Move 2: window casing, short by 1 31/32".',
        'Not even begun: pipe, by 15/32".',
    ]
    texts = [
        check_text(made),
        fit_text(made, MEMO),
        check_document(made)["shelves"][0]["fitting"]["reason"],
        fit_document(made, MEMO)["shelves"][0]["ways"][0]["reason"],
        " ".join(
            line
            for note in getattr(pages(made, {}, MEMO, others=False)["fitting corner"], "after", ())
            for line in note.lines
        ),
    ]
    for text in texts:
        assert all(each in text for each in said), text


def test_a_missing_price_is_named_and_never_passed_over() -> None:
    whole = plan("stoneware-corner-first-try")
    design = whole.designs[0]
    lacking = replace(design, bill=replace(design.bill, price=None, missing=("poplar",)))
    assert "price        none given: no price for poplar" in check_text(
        replace(whole, designs=(lacking,))
    )
    job = replace(whole.job, shop=replace(whole.job.shop, prices=None))
    none = replace(
        design, bill=replace(design.bill, price=None, missing=("no price file is named",))
    )
    assert "price        none given: no price file is named" in check_text(
        replace(whole, job=job, designs=(none,))
    )


@pytest.mark.parametrize("name", NAMES)
def test_people_see_marks_and_never_ids(name: str) -> None:
    whole = plan(name)
    ids = {rod.id for design in whole.designs for rod in design.frame.rods}
    cover = pages(whole, {}, MEMO, others=False)["cover"]
    assert isinstance(cover, Cover)
    for text in (check_text(whole), *cover.why):
        assert not [each for each in ids if each in text]


def test_one_move_has_one_length_in_check_fit_and_packet() -> None:
    whole = sample.plan()
    way = whole.designs[0].way
    assert way is not None
    sheet: Any = pages(whole, {}, MEMO, others=False)["fitting corner"]
    for text in (check_text(whole), fit_text(whole, MEMO)):
        assert all(
            f"{step.far} {move.note}" in text
            for step, move in zip(sheet.moves, way.moves, strict=True)
        )


@pytest.mark.parametrize(
    ("below", "inches", "metric"),
    [
        # 9.4 mm is 11.84/32 in; 49 mm is 61.7/32 in; 1.3 mm is 1.64/32 in; 12.7 mm is 1/2 in exactly.
        ("it stands 9.4 mm (0.37 in) off.", 'it stands 3/8" off.', "it stands 9.4 mm off."),
        ("lies 49 mm beyond the tip", 'lies 1 15/16" beyond the tip', "lies 49 mm beyond the tip"),
        ("by 1.3 mm; 12.7 mm is left", 'by 1/16"; 1/2" is left', "by 1.3 mm; 12.7 mm is left"),
        ("0.0 mm (0.00 in) wide", '0" wide', "0 mm wide"),
        (
            "6 mm2 of C16 38x89 in 5 mm³",
            "6 mm2 of C16 38x89 in 5 mm³",
            "6 mm2 of C16 38x89 in 5 mm³",
        ),
    ],
)
def test_sentences_of_other_rooms_are_in_the_units_of_the_job(
    below: str, inches: str, metric: str
) -> None:
    assert US.sizes(below) == inches
    assert UK.sizes(below) == metric


@pytest.mark.parametrize("name", NAMES)
def test_no_answer_mixes_units(name: str) -> None:
    whole = plan(name)
    other = r"\d mm\b" if whole.job.meta.units == "in" else r'\d(?:"| in\b)'
    document = check_document(whole)
    sheet = whole.designs[0].spec.id
    calculations: Any = pages(whole, {}, MEMO, others=False)[f"calculations {sheet}"]
    said = [
        check_text(whole),
        *document["notes"],
        *(row["why"] for row in document["not_computed"]),
        *(check["reason"] for check in document["shelves"][0]["checks"]),
        *calculations.cannot_say,
        *why(whole),
    ]
    assert any(re.search(r'\d(?:"| mm)', text) for text in said)
    for text in said:
        assert not re.search(other, text), text


def test_a_note_of_another_room_reads_alike_in_both_jobs() -> None:
    """The alcove's left end: the gaps the lay-out measured, 3.8 and 1.5 mm, as the job writes them."""
    whole = plan("reading-alcove")
    assert any("it stands 3.8 mm off the wall beside it" in n for n in notes(whole))
    meta = replace(whole.job.meta, units="in")
    inches = replace(whole, job=replace(whole.job, meta=meta))
    # 3.8 mm is 4.79/32 in.
    assert any('it stands 5/32" off the wall beside it' in n for n in notes(inches))


def test_a_reason_names_a_rod_by_its_mark() -> None:
    whole = plan("reading-alcove")
    rod = whole.designs[0].frame.rods[-1]
    assert rod.mark not in rod.id
    assert told_below(f"rod {rod.id} rocks by 2.0 mm", whole) == f"rod {rod.mark} rocks by 2 mm"


@pytest.mark.parametrize("name", FIRST_TRIES)
def test_every_row_that_is_not_ok_is_told_in_words(name: str) -> None:
    """A code alone tells a carpenter nothing: what it is about, by how much, why, and who may answer for it."""
    made = plan(name)
    text = " ".join(check_text(made).split())
    for design in made.designs:
        rows = [c for c in design.holds.checks if not c.information and c.state != "passes"]
        worst = {c.family: c for c in sorted(rows, key=lambda c: c.ratio)}
        assert worst
        for family, check in worst.items():
            over = r", [\d.]+ times what it can take" if check.state == "fails" else ""
            title = Say.of(made.job.meta).text(check.title.lower())
            assert re.search(re.escape(f"{family}: {title}") + over, text)
        failing = any(c.state == "fails" for c in rows)
        waiting = any(c.reason.endswith("an engineer's acceptance or a load test") for c in rows)
        assert ("Too much is asked of:" in text) == failing
        assert ("needs an engineer's acceptance or a load test:" in text) == waiting
    passing = plan("record-wall")
    assert "Too much is asked of" not in check_text(passing)
    assert "Each of these" not in check_text(passing)
