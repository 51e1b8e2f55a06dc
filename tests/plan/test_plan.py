"""Whole jobs: verdicts, what is not computed, the memo, shelves on shared walls."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Sequence

import pytest

from ledgewright.core import core
from ledgewright.fitting import Opening
from ledgewright.job import Even, Job, RodSpec, TapedLine, Thing
from ledgewright.judge import Design, Option, alternatives, edits, options
from ledgewright.layout import Frame, LayoutError
from ledgewright.memo import Memo
from ledgewright.plan import CannotLayError, check, full, verdict
from ledgewright.sheets.documents import check_document
from ledgewright.statics import Given, LoadLimit, NoLimit, holds
from ledgewright.statics.families import required
from tests.jobs import EXAMPLES, FIRST_TRIES, MEMO, NAMES, job, plan


@pytest.mark.parametrize("name", NAMES)
def test_no_load_limit_is_given_while_a_row_is_missing_or_not_accepted(name: str) -> None:
    worked = plan(name)
    assert "doubt" in {what for what, _ in worked.not_computed}
    for design in worked.designs:
        held, limit = design.holds, design.holds.load_limit
        left = [r for r in held.checks if r.state == "cannot say" and not r.information]
        assert isinstance(limit, NoLimit if left or held.cannot_say else LoadLimit | NoLimit)
        if isinstance(limit, NoLimit):
            assert ("load limit", limit.why) in worked.not_computed


def test_a_shelf_that_does_not_hold_has_no_limit_but_what_it_would_carry() -> None:
    """It carries 54 kg/m with 30 told: 200 kg/m are far too much, and what it would carry is no limit (contract)."""
    this = job("reading-alcove")
    (demand,) = this.demands
    loads = tuple(
        dataclasses.replace(load, per_length=200 * 9.80665e-3) if isinstance(load, Even) else load
        for load in demand.loads
    )
    heavy = full(
        dataclasses.replace(this, demands=(dataclasses.replace(demand, loads=loads),)), MEMO
    )
    assert heavy.verdict == "fails"
    document = check_document(heavy)
    (shelf,) = document["shelves"]
    assert shelf["load_limit"] is None
    assert shelf["would_carry"]["even"]["value"] > 0
    assert {"what": "load limit", "why": "the shelf does not hold"} in document["not_computed"]
    (held,) = check_document(plan("reading-alcove"))["shelves"]
    assert held["load_limit"]["even"] == shelf["would_carry"]["even"]
    assert held["would_carry"] is None


@pytest.mark.parametrize("name", NAMES)
def test_every_family_is_either_checked_or_named_as_missing(name: str) -> None:
    for design in plan(name).designs:
        done = {check.family for check in design.holds.checks}
        missing = {row.family for row in design.holds.cannot_say}
        assert {family.id for family in required(into=frozenset({"stud"}))} <= done | missing


def test_a_second_look_costs_nothing_and_says_the_same() -> None:
    memo = Memo()
    first = full(job("stoneware-corner-first-try"), memo)
    hits = memo.hits
    second = full(job("stoneware-corner-first-try"), memo)
    assert memo.hits >= hits + 5
    assert first == second
    assert first.designs[0].frame is second.designs[0].frame


def test_a_change_of_load_leaves_the_geometry_alone() -> None:
    memo = Memo()
    this = job("stoneware-corner-first-try")
    first = full(this, memo, limits=False)
    demands = tuple(dataclasses.replace(d, single=d.single + 1.0) for d in this.demands)
    second = full(dataclasses.replace(this, demands=demands), memo, limits=False)
    assert first.designs[0].ways is second.designs[0].ways
    assert first.designs[0].core is second.designs[0].core
    assert first.designs[0].holds is not second.designs[0].holds


HELD: tuple[Callable[[RodSpec], RodSpec], ...] = (
    lambda rod: dataclasses.replace(rod, embedment=60.0),
    lambda rod: dataclasses.replace(rod, hole=rod.hole + 0.5),
    lambda rod: dataclasses.replace(
        rod, adhesive=dataclasses.replace(rod.adhesive, E_likely=2000.0)
    ),
    lambda rod: dataclasses.replace(rod, bar=dataclasses.replace(rod.bar, Fy=0.9 * rod.bar.Fy)),
)


@pytest.mark.parametrize("held", HELD)
def test_how_rods_are_held_in_the_wood_leaves_the_way_on_and_the_core_alone(
    held: Callable[[RodSpec], RodSpec],
) -> None:
    """And what was kept is what a first look finds."""
    memo, this = Memo(), job("reading-alcove")
    first = check(this, memo)[0]
    spec = this.shelves[0]
    other = dataclasses.replace(spec, rods=tuple(map(held, spec.rods)))
    changed = dataclasses.replace(this, shelves=(other,))
    again, afresh = check(changed, memo)[0], check(changed, Memo())[0]
    assert again.ways is first.ways
    assert again.core is first.core
    assert again.spec != first.spec
    assert (again.ways, again.core, again.holds.checks) == (
        afresh.ways,
        afresh.core,
        afresh.holds.checks,
    )


def test_a_thing_put_on_a_shelf_that_was_looked_at_is_judged_as_on_one_that_was_not() -> None:
    """What its rods do to the box is kept; what the thing does is found anew."""
    memo, this = Memo(), job("reading-alcove")
    check(this, memo)
    leg = this.shelves[0].legs[0]
    middle = (leg.start + leg.end) / 2
    pot = Thing("pot", leg.wall, middle, 120.0, (150.0, 150.0), None, 20.0, "years")
    demands = tuple(dataclasses.replace(d, loads=(*d.loads, pot)) for d in this.demands)
    with_it = dataclasses.replace(this, demands=demands)
    again, afresh = check(with_it, memo)[0], check(with_it, Memo())[0]
    assert again.holds.checks == afresh.holds.checks
    assert again.holds.drop == afresh.holds.drop


def test_no_way_on_is_a_failure() -> None:
    design = plan("reading-alcove").designs[0]
    assert verdict((dataclasses.replace(design, way=None),)) == "fails"


def test_two_shelves_on_the_same_walls_are_two_designs() -> None:
    this = job("stoneware-corner-first-try")
    lower = dataclasses.replace(this.shelves[0], id="lower", top=this.shelves[0].top - 400)
    both = dataclasses.replace(
        this,
        shelves=(*this.shelves, lower),
        demands=(*this.demands, dataclasses.replace(this.demands[0], shelf="lower")),
    )
    worked = full(both, MEMO, limits=False)
    assert [d.spec.id for d in worked.designs] == ["showroom", "lower"]
    assert len(worked.leave) == 4


@pytest.mark.parametrize("name", NAMES)
def test_ways_are_compared_on_the_same_terms_as_the_chosen_one(name: str) -> None:
    worked = plan(name)
    for design in worked.designs:
        rows = {row.way: row for row in alternatives(worked.job, design, MEMO)}
        assert list(rows) == [way.id for way in design.ways.ways if way.possible]
        assert design.way is not None
        assert design.core is not None
        chosen = rows[design.way.id]
        assert chosen.drop == design.holds.drop
        assert chosen.longest_span == design.core.longest_span


def test_a_way_not_chosen_is_worked_through_as_if_it_were() -> None:
    """The diagonal of the corner, judged by itself: the same core and the same drop as in its row."""
    worked = plan("stoneware-corner-first-try")
    design = worked.designs[0]
    rows = {row.way: row for row in alternatives(worked.job, design, MEMO)}
    diagonal = next(way for way in design.ways.ways if way.id == "diagonal")
    made = core(design.spec, design.frame, diagonal)
    assert rows["diagonal"].longest_span == made.longest_span
    basis, warm = worked.job.meta.basis, worked.job.site.temperature
    alone = holds(
        Given(design.room, design.frame, design.spec, worked.job.demands[0], basis, warm, made)
    )
    # What is solved together rounds together: the same to 1e-9, not to the last bit.
    told, own = rows["diagonal"].drop, alone.drop
    assert told is not None
    assert own is not None
    for one, other in ((told.today, own.today), (told.long_term, own.long_term)):
        assert one.value == pytest.approx(other.value, rel=1e-9)
        assert (one.at, one.case, one.limit) == (other.at, other.case, other.limit)
    assert (told.hang_tilt, told.shim) == (own.hang_tilt, own.shim)


def others(name: str) -> dict[str, Option]:
    worked = plan(name)
    return {each.id: each for each in options(worked.job, worked.designs[0], MEMO)}


def test_an_l_is_offered_with_shorter_rods_and_in_two_sections() -> None:
    found = others("stoneware-corner-first-try")
    assert list(found) == ["short-rods", "two-sections"]
    short, two = found["short-rods"], found["two-sections"]
    # Design.md section 5: shorter rods on the wall it slides onto make the slide, and so the channels, shorter.
    whole = plan("stoneware-corner-first-try").designs[0]
    assert whole.way is not None
    assert short.possible
    assert short.channel_area < whole.way.loss.channel_area
    # Two sections each go straight on: nothing is cut but the slots of seven rods, 5/8 and twice 1/16 wide.
    assert two.possible
    assert [d.spec.id for d in two.designs] == ["showroom.1", "showroom.2"]
    slots = (4 * (8.25 + 0.5) + 3 * (6 + 0.5)) * 0.75 * 25.4**2
    assert two.channel_area == pytest.approx(slots, rel=0.03)
    assert two.drop is not None


def test_a_narrow_alcove_is_offered_four_ways_side_by_side() -> None:
    """Scenes: caulked, two sections or a filler strip; in one and scribed it cannot pass its own mouth."""
    found = others("reading-alcove")
    assert list(found) == ["caulk", "filler", "two-sections", "tight"]
    assert [each.possible for each in found.values()] == [True, True, True, False]
    for each in found["caulk"].ends:
        # The scene's estimate: about 1.5 at the front and 3 at the back.
        assert (each.back, each.front) == pytest.approx((3.0, 1.5), abs=0.9)
    assert all(end.front >= 12.0 for end in found["filler"].ends)


def test_both_sections_are_designs_and_the_second_sees_the_first_on_the_wall() -> None:
    this = job("stoneware-corner-first-try")
    spec = dataclasses.replace(this.shelves[0], sections=2)
    worked = full(dataclasses.replace(this, shelves=(spec,)), MEMO, limits=False)
    first, second = worked.designs
    assert (first.spec.title, second.spec.title) == (
        "showroom, section 1 of 2",
        "showroom, section 2 of 2",
    )
    assert second.room.obstacles[-1].plan == first.frame.outline
    assert first.way is not None
    assert second.way is not None
    # Seven rods in all, each in one section; the urn stands on A, the jar on B.
    assert [len(d.frame.rods) for d in worked.designs] == [4, 3]
    assert [[load.id for load in d.demand.loads] for d in worked.designs] == [
        ["ware", "urn"],
        ["ware", "jar"],
    ]
    assert options(worked.job, first, MEMO) == ()


def test_what_opens_a_section_is_an_edit_of_the_whole_shelf() -> None:
    this = job("stoneware-corner-first-try")
    spec = dataclasses.replace(this.shelves[0], sections=2)
    second = check(dataclasses.replace(this, shelves=(spec,)), MEMO)[1]
    out = Opening("leave out", (second.frame.rods[0].id,), "", 0.0, "straight")
    (edit,) = [e for e in edits(this, second.spec, out) if e.path.endswith("rods.at")]
    assert edit.text is not None
    assert edit.text.count('"A ') == 4
    assert edit.text.count('"B ') == 2


def test_every_shelf_that_cannot_be_laid_is_told_at_once() -> None:
    this = job("stoneware-corner-first-try")
    long = dataclasses.replace(
        this.shelves[0],
        id="long",
        path="shelf.long",
        legs=(dataclasses.replace(this.shelves[0].legs[0], start=-9e3), this.shelves[0].legs[1]),
    )
    both = dataclasses.replace(
        this,
        shelves=(long, dataclasses.replace(long, id="other", path="shelf.other")),
        demands=this.demands * 2,
    )
    with pytest.raises(CannotLayError) as told:
        full(both, MEMO)
    assert [path for path, _ in told.value.found] == ["shelf.long", "shelf.other"]


def test_two_shelves_in_one_place_are_refused_and_so_are_holes_too_close_in_one_member() -> None:
    # Common practice: no two shelves in one place; 5 d between holes along the grain (EN 1995-1-1 T8.5, from memory).
    this = job("record-wall-first-try")
    shelf, asked = this.shelves[0], this.demands[0]

    def with_second(up: float) -> list[str]:
        second = dataclasses.replace(shelf, id="second", top=shelf.top + up, path="shelf[1]")
        both = dataclasses.replace(
            this,
            shelves=(shelf, second),
            demands=(asked, dataclasses.replace(asked, shelf="second")),
        )
        try:
            check(both, MEMO)
        except CannotLayError as refused:
            return [f"{path}: {reason}" for path, reason in refused.found]
        return []

    thick = shelf.rods[0].bar.width
    same = with_second(0.0)
    assert "would stand where shelf" in same[0]
    assert all(reason.startswith("shelf[1]: ") for reason in same)
    assert any("go into one member closer together" in reason for reason in same)
    assert any("closer together" in reason for reason in with_second(4.9 * thick))
    assert with_second(max(5.1 * thick, shelf.thick + 1.0)) == []


def test_two_shelves_on_the_same_studs_are_judged_and_limited_together() -> None:
    this = job("reading-alcove")
    shelf, asked = this.shelves[0], this.demands[0]
    above = dataclasses.replace(shelf, id="upper", top=shelf.top + 400.0, path="shelf[1]")
    demands = (asked, dataclasses.replace(asked, shelf="upper"))
    worked = full(dataclasses.replace(this, shelves=(shelf, above), demands=demands), MEMO)
    by_itself = plan("reading-alcove").designs[0].holds.load_limit
    assert isinstance(by_itself, LoadLimit)
    for design, other in zip(worked.designs, reversed(worked.designs), strict=True):
        bends = [row for row in design.holds.checks if row.family == "stud.bend"]
        assert bends
        assert all(f"{other.spec.id} under" in row.case for row in bends)
        limit = design.holds.load_limit
        assert isinstance(limit, LoadLimit)
        assert limit.beside == (other.spec.title,)
    assert worked.designs[0].holds.load_limit.even < by_itself.even  # type: ignore[union-attr]
    # Where one of them has no limit, none has.
    silent = dataclasses.replace(above, accepted=None)
    worked = full(dataclasses.replace(this, shelves=(shelf, silent), demands=demands), MEMO)
    none = [design.holds.load_limit for design in worked.designs]
    assert all(isinstance(each, NoLimit) for each in none)
    assert "stands on the same studs, and has no limit itself" in none[0].why  # type: ignore[union-attr]


def lain_askew(name: str, slope: float) -> Job:
    """A scene whose strings were held askew: every gap grows along its wall, the face is as it was."""
    this = job(name)

    def line(of: TapedLine) -> TapedLine:
        gaps = tuple((along, gap + slope * along) for along, gap in of.gaps)
        return dataclasses.replace(of, gaps=gaps)

    walls = tuple(
        dataclasses.replace(wall, lines=tuple(map(line, wall.lines))) for wall in this.tapes.walls
    )
    return dataclasses.replace(this, tapes=dataclasses.replace(this.tapes, walls=walls))


@pytest.mark.parametrize("slope", [0.0, 0.006])
def test_shelves_are_refused_where_they_will_hang(
    monkeypatch: pytest.MonkeyPatch, slope: float
) -> None:
    """What is looked at for clashes is each shelf as it is judged, also one that is turned off its string."""
    looked: list[Frame] = []

    def seen(frames: Sequence[Frame]) -> tuple[tuple[str, str], ...]:
        looked.extend(frames)
        return ()

    monkeypatch.setattr("ledgewright.plan.clashes", seen)
    found = check(lain_askew("record-wall-first-try", slope), MEMO)
    assert looked == [design.frame for design in found]
    assert [bool(design.placed and design.placed.turn) for design in found] == [slope > 0]


def test_a_shelf_that_cannot_be_laid_only_once_it_is_worked_through_is_refused_too(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def refuses(**_given: object) -> tuple[Design, ...]:
        raise LayoutError("the second section meets the first")

    monkeypatch.setattr("ledgewright.plan.whole", refuses)
    with pytest.raises(CannotLayError) as told:
        check(job("reading-alcove"), MEMO)
    ((path, why),) = told.value.found
    assert path.startswith("shelf.")
    assert why == "the second section meets the first"


@pytest.mark.parametrize("name", NAMES)
def test_the_drop_asked_for_alone_is_that_of_the_whole_statics(name: str) -> None:
    """Designs that are compared side by side: the one chosen is judged whole, the others by their drop alone."""
    worked = plan(name)
    for design in worked.designs:
        given = Given(
            design.room,
            design.frame,
            design.spec,
            design.demand,
            worked.job.meta.basis,
            worked.job.site.temperature,
            design.core,
        )
        alone = holds(given, memo=MEMO, keep=False, only_drop=True).drop
        whole = design.holds.drop
        assert alone is not None
        assert whole is not None
        assert alone.today.value == pytest.approx(whole.today.value, rel=1e-9)
        assert alone.long_term.value == pytest.approx(whole.long_term.value, rel=1e-9)


def test_triangles_of_a_corner_that_differ_grossly_are_taken_again_before_anything_is_laid_out() -> (
    None
):
    # 48, 36 and 60 9/16 is 91.1 degrees by the law of cosines; 10 in more on the long side is over 20 degrees off.
    this = job("stoneware-corner-first-try")
    corner = this.tapes.corners[0]
    a, b, c = corner.taped[1]
    wrong = dataclasses.replace(corner, taped=(corner.taped[0], (a, b, c + 254.0)))
    tapes = dataclasses.replace(this.tapes, corners=(wrong,))
    with pytest.raises(CannotLayError) as refused:
        full(dataclasses.replace(this, tapes=tapes), MEMO)
    assert refused.value.found[0][0].startswith("corner")
    assert "take both again" in refused.value.found[0][1]


@pytest.mark.parametrize("name", FIRST_TRIES)
def test_a_first_try_fails_for_the_reason_it_gives_and_the_shipped_scene_mends_it(
    name: str,
) -> None:
    said = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    failing = {
        row.family
        for design in plan(name).designs
        for row in design.holds.checks
        if row.state == "fails" and not row.information
    }
    assert failing
    assert all(f"({family})" in said for family in failing)
    mended = plan(name.removesuffix("-first-try"))
    rows = [row for design in mended.designs for row in design.holds.checks]
    assert not [row.id for row in rows if row.state == "fails" and not row.information]


def test_a_corner_whose_skins_may_span_next_to_nothing_is_still_laid() -> None:
    # Ribs are tried all over, also where no channel is: an empty overlap once ended in a traceback.
    this = job("stoneware-corner-first-try")
    shelf = this.shelves[0]
    close = dataclasses.replace(shelf, core=dataclasses.replace(shelf.core, max_span=152.4))
    worked = check(dataclasses.replace(this, shelves=(close,)), MEMO)
    assert worked[0].core is not None
