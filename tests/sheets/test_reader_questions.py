"""Somebody has the packet and nothing else: what they ask, and whether the sheet that answers has the true answer.

The answers are worked out here from the job's own tapes and the design, and written by this file's own rounding, to the
nearest 1/32 in or 0.5 mm as a tape is read (common practice). The table of docs/questions.md is held to the one below.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction

import pytest

from ledgewright.judge import Design
from ledgewright.plan import Plan
from ledgewright.sheets import bundles
from ledgewright.sheets.bundles import BUNDLES, Bundle
from ledgewright.sheets.leaves import leaves
from ledgewright.sheets.say import Say
from ledgewright.sheets.shopside import Side, side
from ledgewright.site import Drill
from ledgewright.statics import LoadLimit, Proof
from tests import jobs
from tests.sheets.scenes import SCENES, printed, shown
from tests.sheets.sound import head

DOC = jobs.EXAMPLES.parent / "docs" / "questions.md"
KG_PER_LB = 0.45359237
G_N = 9.80665


def text_on(name: str, page: str, bundle: Bundle | None) -> str:
    """Everything that is printed on the sheets of one page of a bundle, as one line."""
    wanted = shown(name, bundle)[page]
    title = " ".join(f"{wanted.title} {wanted.about}".split())
    found = [s.text for s in printed(name, bundle) if head(s) == title]
    assert found, (page, title)
    return " ".join(" ".join(found).replace("\u00a0", " ").split())


def length(plan: Plan, value: float, to: int = 32) -> str:
    """A length as a tape reads it, 1/32 in or 0.5 mm; 1/64 in or 0.1 mm as a caliper does."""
    if plan.job.meta.units == "mm":
        step = 0.5 if to == 32 else 0.1
        return f"{math.floor(value / step + 0.5) * step:g}"
    marks = Fraction(round(value / 25.4 * to), to)
    whole, rest = divmod(marks, 1)
    return " ".join(str(p) for p in (whole, rest) if p) or "0"


def mass_up(plan: Plan, kg: float) -> str:
    if plan.job.meta.units == "mm":
        return f"{math.ceil(kg - 1e-6)} kg"
    return f"{math.ceil(kg / KG_PER_LB - 1e-6)} lb"


def mass_down(plan: Plan, kg: float) -> str:
    if plan.job.meta.units == "mm":
        return f"{math.floor(kg + 1e-6)} kg"
    return f"{math.floor(kg / KG_PER_LB + 1e-6)} lb"


def shop(plan: Plan) -> Side:
    found = side(plan)
    assert not isinstance(found, str)
    return found


Answers = Iterator[str]
"""What has to stand on the page: expressions that are looked for."""


def holes(plan: Plan, design: Design) -> Iterator[tuple[str, float, float, float, float]]:
    """Mark, along, height, bit and depth from the face of each hole, from tapes and design."""
    for leave in leaves(plan, design):
        assert isinstance(leave, Drill)
        (wall,) = [w for w in plan.job.tapes.walls if w.id == leave.wall]
        members = {m.id: m for m in wall.members}
        for rod in design.frame.rods:
            if rod.wall == leave.wall:
                member = members[rod.member]
                along = abs(member.left + member.right) / 2
                yield rod.mark, along, rod.origin[2], rod.hole, rod.free + rod.embedment


def row(mark: str, *figures: str) -> str:
    """A row that begins with the mark and has the figures in that order, among others."""
    return rf"\b{mark} " + r"(?:.{0,60}?)".join(re.escape(f) for f in figures) + r"(?![\d/])"


def drilled(plan: Plan, design: Design) -> Answers:
    # No more than 1/64 in up or down is allowed, so heights are told as near as that.
    fine = 64 if plan.job.meta.units == "in" else 32
    for mark, along, up, bit, deep in holes(plan, design):
        yield row(
            mark,
            length(plan, along),
            length(plan, up, fine),
            length(plan, bit, 64),
            length(plan, deep),
        )


def behind(plan: Plan, design: Design) -> Answers:
    for leave in leaves(plan, design):
        known = design.room.wall(leave.wall).known
        assert known.services
        yield re.escape(known.services.rstrip(". "))


def sawn(plan: Plan, design: Design) -> Answers:
    for rod in design.frame.rods:
        yield row(
            rod.mark,
            length(plan, rod.embedment + rod.free + rod.projection),
            length(plan, rod.projection),
            length(plan, rod.embedment),
        )


def cured(plan: Plan, design: Design) -> Answers:
    # Common practice: twice the wait for each 10 C colder than 20 C, and half as long again for the comb.
    slower = 2 ** max(0.0, (20.0 - plan.job.site.temperature) / 10)
    glue = design.frame.rods[0].adhesive
    yield rf"\b{math.ceil(glue.leave_alone * 1.5 * slower - 1e-9)} h\b"
    yield rf"\b{math.ceil(glue.full_load * slower - 1e-9)} h\b"


def as_set(plan: Plan, design: Design) -> Answers:
    for rod in design.frame.rods:
        yield row(rod.mark, "drawn", length(plan, rod.projection))
    yield "allowed"
    yield "OK / no"


def panels(plan: Plan, design: Design) -> Answers:
    del plan
    for skin in (design.spec.skin_top, design.spec.skin_bottom):
        yield rf"{'top' if skin is design.spec.skin_top else 'bottom'} skin.{{0,20}}?{re.escape(skin.panel.name)}"


def sheets(plan: Plan, design: Design) -> Answers:
    assert plan.cutting is not None
    for each in plan.cutting.sheets:
        if each.panel.name == design.spec.skin_top.panel.name:
            count = len(each.nest.layouts)
            yield rf"Sheet {count} of {count}\b"


def pieces(plan: Plan, design: Design) -> Answers:
    assert design.core is not None
    for rod in design.frame.rods:
        yield rf"\b{rod.mark}\b"
    yield "NO WOOD"
    for number, piece in enumerate(design.core.pieces, 1):
        assert piece.kind
        yield rf"\b{number} C\d+ "
    del plan


def glued(plan: Plan, design: Design) -> Answers:
    (up,) = [u for u in shop(plan).work.glue_ups if u.section == design.spec.id]
    yield re.escape(up.glue.name)
    yield rf"\b{up.clamps_needed} of {up.clamps}\b"


def coats(plan: Plan, design: Design) -> Answers:
    yield re.escape(design.spec.finish)
    del plan
    yield rf"Coat {design.spec.coats} of {design.spec.coats}\b"


def first_move(plan: Plan, design: Design) -> Answers:
    assert design.way is not None
    move = design.way.moves[0]
    far = length(plan, math.hypot(move.dx, move.dy)) if not move.turn else ""
    yield rf"Move 1 of {len(design.way.moves)}\b.{{0,6}}?{re.escape(far)}"


def back_off(plan: Plan, design: Design) -> Answers:
    assert design.way is not None
    yield r"undo the lock"
    last = design.way.moves[-1]
    far = re.escape(length(plan, math.hypot(last.dx, last.dy)))
    yield (
        rf"Which way 1 {far}"
        if len(design.way.moves) > 1
        else rf"then {far}.{{0,5}}? straight off wall"
    )


def comes_off(plan: Plan, design: Design) -> Answers:
    del plan
    kind = {"grub screw": "grub screws", "angled screw": "angled screws"}[design.spec.lock.kind]
    yield rf"Undo the {kind}.{{0,40}}?\({len(design.spec.lock.rods)} of them\)"


def may_carry(plan: Plan, design: Design) -> Answers:
    """Nothing, as long as no rod was read and no load test made: none of the scenes is hung yet."""
    del plan, design
    yield r"NO LIMIT YET\. LOAD NOTHING\."


def reckoned(plan: Plan, design: Design) -> Answers:
    limit = design.holds.load_limit
    assert isinstance(limit, LoadLimit)
    if plan.job.meta.units == "mm":
        yield rf"\b{math.floor(limit.even * 1000 / G_N + 1e-6)} kg/m\b"
    else:
        yield rf"\b{math.floor(limit.even * 304.8 / (KG_PER_LB * G_N) + 1e-6)} lb/ft\b"
    yield rf"\b{mass_down(plan, limit.total)} in all"
    yield rf"no one thing over {mass_down(plan, limit.single)}\b"


def holds(plan: Plan, design: Design) -> Answers:
    assert design.holds.drop is not None
    yield {"passes": "It holds", "fails": "It does not hold"}[plan.verdict]
    today = design.holds.drop.today.value
    if plan.job.meta.units == "mm":
        yield re.escape(f"{math.ceil(today * 10 - 1e-6) / 10:g} mm")
    else:
        marks = Fraction(math.ceil(today / 25.4 * 64 - 1e-6), 64)
        yield re.escape(f'{marks}"')


def heavy(plan: Plan, design: Design) -> Answers:
    yield rf"\b{mass_up(plan, design.bill.mass)}\b"
    # Common practice: alone up to 30 lb (14 kg) and 6 ft (1.8 m), straight only.
    legs = design.frame.legs
    short = legs[0].end - legs[0].start <= 1800.0
    straight = len(legs) == 1 and design.spec.section is None
    alone = design.bill.mass <= 14.0 and straight and short
    yield "One person" if alone else "Two people"


def weighed(plan: Plan, design: Design) -> Answers:
    proof, _ = plan.test(design.spec.id)
    assert isinstance(proof, Proof)
    unit, one = ("lb", 0.45359237) if plan.job.meta.units == "in" else ("kg", 1.0)
    yield rf"In all {proof.total / one:g} {unit}\b"
    yield "Unload if over"
    yield rf"The one thing {proof.single.mass / one:g} {unit}\b"


def dates(plan: Plan, design: Design) -> Answers:
    del design
    days = shop(plan).days
    yield re.escape(days.date(days.finish).strftime("%a %Y-%m-%d"))


def buying(plan: Plan, design: Design) -> Answers:
    del design
    for need in shop(plan).work.needs:
        if need.name:
            yield re.escape(need.name)


def costs(plan: Plan, design: Design) -> Answers:
    del design
    priced = shop(plan).work.priced
    assert priced is not None
    yield re.escape(f"{priced.total:,.2f}")


def governing(plan: Plan, design: Design) -> Answers:
    say = Say.of(plan.job.meta)
    by = {check.id: check for check in design.holds.checks}
    assert design.holds.governs is not None
    check = by[design.holds.governs]
    yield rf"Page {re.escape(say.text(check.title[0].upper() + check.title[1:]))}"
    yield re.escape(f"{math.ceil(check.ratio * 1000 - 1e-6) / 1000:.3f}")


def assumed(plan: Plan, design: Design) -> Answers:
    del design
    for each in plan.job.assumed:
        yield re.escape(" ".join(each.path.split()))


def room_needed(plan: Plan, design: Design) -> Answers:
    """As far as the moves of a straight shelf come out in front of its home."""
    assert design.way is not None
    if len(design.frame.legs) == 1 and not any(m.turn for m in design.way.moves):
        yield "Free room it needs"
        yield re.escape(length(plan, math.hypot(design.way.moves[0].dx, design.way.moves[0].dy)))


def wide(plan: Plan, design: Design) -> Answers:
    yield re.escape(length(plan, design.spec.depth))
    yield re.escape(length(plan, design.frame.top))


@dataclass(frozen=True)
class Question:
    """What is asked, on which sort of page the answer is, and what has to stand there."""

    asked: str
    sort: str
    answers: Callable[[Plan, Design], Answers]
    whole: bool = False


QUESTIONS = (
    Question("Does it hold, and how far does the front drop?", "cover", holds, whole=True),
    Question("How much should it carry by calculation?", "cover", reckoned, whole=True),
    Question("How heavy is it, and how many people hang it?", "cover", heavy, whole=True),
    Question("How deep is it, and how high is its top?", "plan", wide),
    Question("What runs behind this wall?", "wall", behind),
    Question("Where are the holes, how high, which bit, how deep?", "wall", drilled),
    Question("How long is each rod, and how far does it stand out?", "set", sawn),
    Question(
        "How long to wait before the comb comes off, and before anything hangs?", "set", cured
    ),
    Question("How far may a rod be off, and is this one all right?", "as set", as_set),
    Question("Which panel?", "parts", panels),
    Question("How many sheets?", "layout", sheets, whole=True),
    Question("Which piece goes where, and where must no wood be?", "core", pieces),
    Question("Which glue, and how many clamps?", "glue", glued),
    Question("Which finish, and how many coats?", "finish", coats, whole=True),
    Question("Which move first, and how far?", "fitting", first_move),
    Question("How much free room does it need to go on?", "fitting", room_needed),
    Question("How does it come off, move by move?", "fitting", back_off),
    Question("What is it tested with, and when must it be unloaded?", "load test", weighed),
    Question("What may it carry today?", "owner", may_carry),
    Question("What holds it on, and how is that undone?", "owner", comes_off),
    Question("When is it finished?", "days", dates, whole=True),
    Question("What has to be bought?", "buying", buying, whole=True),
    Question("What does it cost the client?", "quote", costs, whole=True),
    Question("Which check governs, and how near is it?", "calculations", governing),
    Question("What does it rest on that nobody measured?", "assumed", assumed, whole=True),
)


def pages_of(name: str, question: Question, design: Design, bundle: Bundle | None) -> list[str]:
    names = shown(name, bundle)
    if question.whole:
        return [n for n in names if n == question.sort or n.startswith(f"{question.sort} ")]
    start = f"{question.sort} {design.spec.id}"
    return [n for n in names if n == start or n.startswith(f"{start} ")]


def takers(question: Question) -> tuple[Bundle, ...]:
    return BUNDLES if question.sort == "cover" else bundles.sort_named(question.sort).bundles


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda q: q.asked)
@pytest.mark.parametrize("name", SCENES)
def test_the_page_has_the_true_answer(name: str, question: Question) -> None:
    plan, looked = jobs.plan(name), 0
    for design in plan.designs:
        for bundle in (None, *takers(question)):
            pages = pages_of(name, question, design, bundle)
            assert pages, (question.sort, bundle)
            text = " ".join(text_on(name, page, bundle) for page in pages)
            for answer in question.answers(plan, design):
                assert re.search(answer, text), (design.spec.id, bundle, answer, text[:1500])
                looked += 1
    assert looked or question.answers is room_needed


def test_a_false_answer_is_not_found_there() -> None:
    """The looking itself: another height, bit or depth than the true one is not on the drill card."""
    plan = jobs.plan("stoneware-corner")
    text = text_on("stoneware-corner", "wall showroom.1 A", "site")
    mark, along, up, bit, deep = next(holes(plan, plan.designs[0]))
    true = [length(plan, along), length(plan, up, 64), length(plan, bit, 64), length(plan, deep)]
    assert re.search(row(mark, *true), text)
    for k, off in enumerate((25.4 / 32, 25.4 / 64, 25.4 / 16, 25.4 / 32)):
        wrong = [along, up, bit, deep]
        wrong[k] += off
        said = [
            length(plan, wrong[0]),
            length(plan, wrong[1], 64),
            length(plan, wrong[2], 64),
            length(plan, wrong[3]),
        ]
        assert not re.search(row(mark, *said), text), said


def test_the_table_in_the_docs_is_this_one() -> None:
    say = Say("in", "en-US")
    rows = [r for r in DOC.read_text(encoding="utf-8").split("\n") if r.startswith("| ")][1:]
    wanted = []
    for q in QUESTIONS:
        sheet = "Cover" if q.sort == "cover" else bundles.title_of(bundles.sort_named(q.sort), say)
        wanted.append(f"| {q.asked} | {sheet} | {', '.join(takers(q))} |")
    assert rows == wanted
