"""Days against every order tried one by one, against sums by hand, and against what the trade never does."""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterator, Sequence
from datetime import UTC, date, datetime, timedelta

import pytest

from ledgewright import shop
from ledgewright.job import Bench, Job, Order
from ledgewright.shop import After, Task
from ledgewright.shop import days as room
from tests.jobs import job
from tests.shop import made

FIRST = date(2026, 12, 3)  # a Thursday


def calendar(minutes: int = 240, off: tuple[tuple[date, date], ...] = ()) -> shop.Calendar:
    return shop.Calendar(FIRST, minutes, (5, 6), off, ahead=200)


# ---- an independent clock: datetimes and single minutes, no rule shared with the program


def at_night(day: date, hour: int = 0) -> datetime:
    """Midnight before a day, or so many hours later; the zone only marks that none is meant."""
    return datetime(day.year, day.month, day.day, hour, tzinfo=UTC)


def opens(cal: shop.Calendar, at: datetime) -> datetime:
    """The first minute of work at or after a moment, found by walking day by day."""
    while True:
        start = at_night(at, 8)
        end = start + timedelta(minutes=cal.minutes)
        free = at.weekday() in cal.off_days or any(a <= at.date() <= b for a, b in cal.off)
        if not free and at < end:
            return max(at, start)
        at = at_night(at) + timedelta(days=1)


def morning(cal: shop.Calendar, at: datetime) -> datetime:
    start = opens(cal, at)
    while (start.hour, start.minute) != (8, 0):
        start = opens(cal, at_night(start) + timedelta(days=1))
    return start


def worked(cal: shop.Calendar, at: datetime, minutes: int, *, whole: bool) -> datetime:
    """The end of so much work, minute by minute."""
    now = opens(cal, at)
    left = (at_night(now, 8) + timedelta(minutes=cal.minutes)) - now
    short = left < timedelta(minutes=minutes)
    if short and ((whole and minutes <= cal.minutes) or left < timedelta(minutes=30)):
        now = morning(cal, now + timedelta(minutes=1))
    for k in range(minutes):
        now += timedelta(minutes=1)
        if k < minutes - 1:
            now = opens(cal, now)
    return now


def finished(
    cal: shop.Calendar, jobs: Sequence[room.Job], order: Sequence[int], clamps: int
) -> datetime | None:
    """When an order of blocks is finished; None if something comes before what it waits for."""
    now = at_night(FIRST)
    ends: dict[int, datetime] = {}
    for k in order:
        begin = now
        for other, wait, overnight in jobs[k].after:
            if other not in ends:
                return None
            begin = max(begin, ends[other] + timedelta(minutes=wait))
            if overnight:
                day = ends[other].date() + timedelta(days=1)
                begin = max(begin, at_night(day))
        while jobs[k].clamps and on(jobs, ends, begin) > max(0, clamps - jobs[k].clamps):
            begin += timedelta(minutes=1)
        now = morning(cal, begin) if jobs[k].morning else begin
        done: list[datetime] = []
        for piece in jobs[k].tasks:
            for other, wait in piece.after:
                while now < done[other] + timedelta(minutes=wait):
                    now += timedelta(minutes=1)
            now = worked(cal, now, piece.minutes, whole=piece.whole)
            done.append(now)
        ends[k] = now
    return max(ends.values())


def on(jobs: Sequence[room.Job], ends: dict[int, datetime], at: datetime) -> int:
    """How many clamps are on at a moment."""
    return sum(
        jobs[j].clamps for j, end in ends.items() if end + timedelta(minutes=jobs[j].stay) > at
    )


def some_jobs(rng: random.Random, count: int) -> list[room.Job]:
    """Blocks that wait for some of those before them, by minutes or overnight."""
    found = []
    for k in range(count):
        after = tuple(
            (other, rng.choice((0, 30, 200, 1500)), rng.random() < 0.3)
            for other in range(k)
            if rng.random() < 0.35
        )
        tasks = tuple(
            room.Piece(
                rng.choice((20, 45, 90, 150)),
                rng.random() < 0.4,
                ((0, rng.choice((15, 60, 300))),) if n and rng.random() < 0.6 else (),
            )
            for n in range(rng.choice((1, 1, 2, 3)))
        )
        clamps, stay = rng.choice(((0, 0), (0, 0), (4, 90), (6, 200), (9, 400)))
        found.append(room.Job(tasks, rng.random() < 0.25, after, clamps, stay))
    return found


def held(seed: int, count: int) -> None:
    rng = random.Random(seed)  # noqa: S311 - no secret
    off = ((date(2026, 12, 8), date(2026, 12, 9)),) if rng.random() < 0.5 else ()
    cal, jobs = calendar(rng.choice((150, 240, 420)), off), some_jobs(rng, count)
    clamps = rng.choice((8, 12, 100))
    ends = [
        end
        for order in itertools.permutations(range(count))
        if (end := finished(cal, jobs, order, clamps)) is not None
    ]
    order, proven = room.earliest(jobs, cal, clamps=clamps)
    assert proven
    assert finished(cal, jobs, order, clamps) == min(ends)


@pytest.mark.parametrize("seed", range(40))
def test_no_order_is_finished_earlier(seed: int) -> None:
    """Brute force: every order that the waits allow, each walked minute by minute with datetimes."""
    held(seed, 5)


@pytest.mark.soak
@pytest.mark.parametrize("seed", range(60))
def test_no_order_of_six_is_finished_earlier(seed: int) -> None:
    held(1000 + seed, 6)


def test_a_search_cut_short_says_so_and_still_has_an_order() -> None:
    jobs = [room.Job((room.Piece(60 + k, whole=False),), False, ()) for k in range(9)]
    order, proven = room.earliest(jobs, calendar(420), most=9)
    assert not proven
    assert sorted(order) == list(range(9))


def task(name: str, hours: float, *after: After, **more: object) -> Task:
    return Task(name, name, hours, after=after, **more)  # type: ignore[arg-type]


def test_a_weekend_by_hand() -> None:
    """Thursday 3 December 2026: glued at 8:00 for two hours, planed from Friday 10:00 on, over the weekend, coated."""
    bench = Bench(start=FIRST, hours_a_day=4.0, off_days=(5, 6))
    plan = (
        task("glue", 2.0, whole=True),
        task("plane", 3.0, After("glue", 24.0, overnight=True)),
        task("coat", 1.0, After("plane", 1.0), whole=True),
    )
    found = {each.task.id: each for each in room.days(plan, bench, {"coat": 48.0}).done}
    got = {name: (each.stints[0][0], each.stints[-1][1]) for name, each in found.items()}
    # Thu 8:00-10:00; ready Fri 10:00, two hours are left of Friday, one more on Monday 8:00-9:00; ready 10:00-11:00.
    assert got["glue"] == (8 * 60, 10 * 60)
    assert got["plane"] == (1440 + 10 * 60, 4 * 1440 + 9 * 60)
    assert got["coat"] == (4 * 1440 + 10 * 60, 4 * 1440 + 11 * 60)


def test_heavy_things_wait_for_the_last_coat() -> None:
    bench = Bench(start=FIRST, hours_a_day=8.0)
    found = room.days((task("coat", 1.0),), bench, {"coat": 7 * 24.0})
    assert found.date(found.finish) == FIRST
    assert found.date(found.heavy) == FIRST + timedelta(days=7)
    # Thu 9:00 and seven days are the next Thu 9:00: not for that day's morning yet, so Friday is named.
    assert found.date(found.heavy_day) == FIRST + timedelta(days=8)
    quick = room.days((task("coat", 1.0),), bench, {"coat": 23.0})
    assert found.date(quick.heavy_day) == FIRST + timedelta(
        days=1
    )  # hard at 8:00, as the day begins
    none = room.days((task("coat", 1.0),), bench, {})
    assert found.date(none.heavy_day) == FIRST


ORDERS: tuple[Order, ...] = ("rods first", "shelf first", "both from the drawing")
CASES = [
    (name, order, start)
    for name in ("reading-alcove", "stoneware-corner", "record-wall")
    for order, start in zip(
        ORDERS, (date(2026, 12, 1), date(2027, 3, 5), date(2027, 5, 28)), strict=True
    )
]


def scheduled(name: str, order: Order, start: date, **bench: object) -> tuple[Job, shop.Days]:
    of = made.bench(made.ordered(job(name), order), start=start, **bench)
    return of, shop.schedule(of, shop.work(of, made.sections(name)))


def stints(days: shop.Days) -> Iterator[tuple[Task, int, int]]:
    for done in days.done:
        for start, end in done.stints:
            yield done.task, start, end


@pytest.mark.parametrize(("name", "order", "start"), CASES)
def test_what_the_trade_never_does(name: str, order: Order, start: date) -> None:
    """Nobody works at night, on days off, in two places at once, or before what it waits for has cured."""
    of, days = scheduled(name, order, start)
    bench, when = of.shop.bench, {done.task.id: done for done in days.done}
    spans = sorted((a, b) for _, a, b in stints(days))
    assert all(b <= c for (_, b), (c, _) in itertools.pairwise(spans))
    for task_of, a, b in stints(days):
        day = days.date(a)
        assert day.weekday() not in bench.off_days, task_of.id
        assert not any(x <= day <= y for x, y in bench.off), task_of.id
        assert 8 * 60 <= a % 1440 < b % 1440 <= 8 * 60 + bench.hours_a_day * 60, task_of.id
    for done in days.done:
        worked_on = sum(b - a for a, b in done.stints)
        assert worked_on >= done.task.hours / done.task.people * 60 - 1e-6
        for after in done.task.after:
            first = when[after.task]
            assert done.start >= first.end + after.wait * 60 - 1e-6, (done.task.id, after.task)
            if after.overnight:
                assert days.date(done.start) > days.date(first.end), (done.task.id, after.task)
    assert days.proven


@pytest.mark.parametrize(("name", "order", "start"), CASES)
def test_glue_and_rods_wait_for_the_next_day(name: str, order: Order, start: date) -> None:
    """Trade fact: nothing glued is worked on the same day, and no rod is read, let alone hung on, the day it is set."""
    _, days = scheduled(name, order, start)
    when = {done.task.id: done for done in days.done}
    last = max(done.end for name, done in when.items() if name.startswith(("glue.", "press.")))
    assert days.date(when["edging"].start) > days.date(last)
    assert days.date(when["sand"].start) > days.date(when["edging"].end)
    assert days.date(when["read"].start) > days.date(when["set"].end)
    hung = min(done.start for name, done in when.items() if name.startswith("hang."))
    assert hung - when["set"].end >= 48 * 60  # slow epoxy, 24 to 48 h at 20 C, the slow end


@pytest.mark.parametrize(("name", "order", "start"), CASES)
def test_a_visit_begins_in_the_morning_and_is_one_piece(
    name: str, order: Order, start: date
) -> None:
    _, days = scheduled(name, order, start)
    order_of = [task_of.visit for task_of, _, _ in sorted(stints(days), key=lambda s: s[1])]
    runs = [visit for visit, _ in itertools.groupby(order_of)]
    visits = [visit for visit in runs if visit]
    assert len(visits) == len(set(visits))
    for visit in visits:
        if visit not in ("readings", "held"):  # short looks
            first = min(a for task_of, a, _ in stints(days) if task_of.visit == visit)
            assert first % 1440 == 8 * 60


def test_colder_is_never_earlier() -> None:
    ends = []
    for warm in (20.0, 15.0, 10.0):
        _, days = scheduled("reading-alcove", "rods first", date(2026, 12, 1), temperature=warm)
        ends.append(days.finish)
    assert ends == sorted(ends)
    assert ends[-1] > ends[0]


def test_journeys_are_the_days_somebody_is_there() -> None:
    for name, order, start in CASES:
        of, days = scheduled(name, order, start)
        there = {a // 1440 for task_of, a, _ in stints(days) if task_of.visit}
        assert shop.work(of, made.sections(name)).journeys == len(there)


def test_without_a_date_days_are_counted_from_a_monday() -> None:
    of = made.bench(job("record-wall"), start=None)
    days = shop.schedule(of, shop.work(of, made.sections("record-wall")))
    assert not days.dated
    assert days.calendar.first.weekday() == 0


def test_days_off_without_end_are_refused() -> None:
    years = tuple((date(2026 + k, 1, 1), date(2026 + k, 12, 31)) for k in range(12))
    of = made.bench(job("record-wall"), start=date(2026, 12, 1), off=years)
    with pytest.raises(shop.NeverDoneError):
        shop.schedule(of, shop.work(of, made.sections("record-wall")))


def test_one_set_of_clamps_presses_one_box_at_a_time() -> None:
    """By hand: two glue-ups of an hour, 10 clamps each on for two hours; with 12 the second begins two hours later."""
    jobs = [
        room.Job((room.Piece(60, whole=True),), False, (), clamps=10, stay=120) for _ in range(2)
    ]
    cal = calendar(420)
    for clamps, begin in ((20, 60), (12, 180), (9, 180)):
        order, _ = room.earliest(jobs, cal, clamps=clamps)
        assert room.begins(order[1], jobs, 480 + 60, {order[0]: 480 + 60}, clamps) == 480 + begin


def test_clamps_are_never_on_two_boxes_at_a_time() -> None:
    """The corner in two sections, 22 clamps, boxes that take 18 and 10: at no moment are more on than there are."""
    job_ = job("stoneware-corner")
    work = shop.work(job_, made.sections("stoneware-corner"))
    found = shop.schedule(job_, work)
    pressed = [
        (d.end, d.end + 60 * d.task.stay, d.task.clamps) for d in found.done if d.task.clamps
    ]
    assert len(pressed) == 3
    for at, _, _ in pressed:
        assert sum(n for start, off, n in pressed if start <= at < off) <= job_.shop.clamps == 22
