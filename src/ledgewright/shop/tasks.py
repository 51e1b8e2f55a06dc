"""What has to be done, with its hours, and what it waits for, in each building order.

Hours are hands-on hours of one trained person by the trade's table (common practice; see docs/shop.md): one formula
each, and the shop's own log should replace them. What is set up once for a whole job is charged once.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from ledgewright.core import mass
from ledgewright.job import Job, TapedWall, is_paint
from ledgewright.layout import Rod
from ledgewright.shop.finishing import Coat, Finishing
from ledgewright.shop.gluing import GlueUp, InSlots
from ledgewright.shop.model import FOOT, Made, needs_two
from ledgewright.shop.waits import comb, wait

SQUARE_FOOT = FOOT**2
DEEP = 100.0
"""Deeper studs than this take longer to bore (mm): a 2x6 against a 2x4."""
HARD = ("tile", "lath", "stone")
SEEN = ("framed it", "opened it")
DAY = 24.0
SET_UP = 0.75
FILLER = 0.4
"""Hours to scribe, cut and fix one filler strip (common practice)."""
INSERTS, INSERT = 0.15, 0.05
"""Hours to set up for threaded inserts and try one in an offcut; for each, bored, in and flush (common practice).
"""
SLOTS, SLOT = 0.3, 0.08
"""Hours to clean, mask and mix for gluing a shelf onto its rods; for each, filled and wiped (common practice: as for
setting rods)."""
DRY = 12.0
"""Caulk and filler dry overnight before they are painted over (h; common practice)."""
RESTED = 1.0
"""A shelf is read for the last time so long after its test weights are off (h)."""


@dataclass(frozen=True)
class After:
    """What a task waits for: another task, so many hours of clock after its end (h), and why.

    overnight: not before the next day, however short the wait: glue-ups and rods wait for the next day.
    """

    task: str
    wait: float = 0.0
    why: str = ""
    overnight: bool = False


@dataclass(frozen=True)
class Task:
    """One thing to do: hands-on hours of all who do it, on which visit to the site (empty: in the shop).

    of: the shelf or section, empty for the whole job. people: how many do it at a time. whole: not to be broken off
    for the night. dated: False for what is set aside but has no day. drills: it needs walls that may be drilled.
    clamps: how many it takes; they stay on for so many hours after its end.
    """

    id: str
    what: str
    hours: float
    of: str = ""
    visit: str = ""
    people: int = 1
    after: tuple[After, ...] = ()
    whole: bool = False
    dated: bool = True
    drills: bool = False
    clamps: int = 0
    stay: float = 0.0


VISITS = {
    "measure": "First visit",
    "blocking": "Blocking",
    "rods": "Rods",
    "readings": "Comb off, rods read",
    "hang": "Hang",
    "tested": "Load test",
    "held": "Test read, touched up",
    "finish": "Finish off",
}
"""Every visit to the site by its id, in the order they are made."""
TRIPS = ("measure", "blocking", "rods", "hang", "finish")
"""Visits that are set up for; the others are short looks."""


@dataclass(frozen=True)
class Ground:
    """What the tasks of a job are worked out from."""

    job: Job
    made: tuple[Made, ...]
    sheets: int
    glue_ups: tuple[GlueUp, ...]
    finishings: tuple[Finishing, ...]
    slots: tuple[InSlots, ...] = ()

    @property
    def rods(self) -> tuple[Rod, ...]:
        """Every rod of the job."""
        return tuple(rod for each in self.made for rod in each.frame.rods)

    @property
    def shelves(self) -> dict[str, tuple[Made, ...]]:
        """The sections of each whole shelf, by its id."""
        found: dict[str, tuple[Made, ...]] = {}
        for each in self.made:
            part = each.spec.section
            name = part.of if part else each.spec.id
            found[name] = (*found.get(name, ()), each)
        return found

    def wall(self, name: str) -> TapedWall | None:
        """The wall of that id, as taped."""
        return next((wall for wall in self.job.tapes.walls if wall.id == name), None)

    @property
    def late_coat(self) -> bool:
        """Whether a coat goes on where it hangs."""
        return any(each.on_site for each in self.finishings)


def tasks(ground: Ground) -> tuple[Task, ...]:
    """Return every task of a job, each after what it needs, in a sensible order of work.

    Source: common practice, the trade's table of hours and the building orders.

    Args:
        ground: the job and what was worked out of it.

    Returns:
        Tasks whose `after` only name tasks before them in the list.

    Raises:
        TooColdError: if a wall is colder than the adhesive of its rods allows.
    """
    made = (
        *_before(ground),
        *_order(ground),
        *_bench(ground),
        *_rods(ground),
        *_box(ground),
        *_coats(ground),
        *_hang(ground),
    )
    return _in_order(ground, made)


def _in_order(g: Ground, made: Iterable[Task]) -> tuple[Task, ...]:
    """Shelf first has its rods after the boxes are laid up: put every task behind those it names."""
    left, done, placed = list(made), set[str](), list[Task]()
    while left:
        task = next(t for t in left if all(a.task in done for a in t.after))
        left.remove(task)
        placed.append(task)
        done.add(task.id)
    return tuple(placed)


def _set_up(visit: str, after: tuple[After, ...] = (), *, drills: bool = False) -> Task:
    what = f"site set-up: {VISITS[visit].lower()}"
    return Task(f"{visit}.set-up", what, SET_UP, visit=visit, after=after, drills=drills)


def _before(g: Ground) -> list[Task]:
    stands = {leg.wall for each in g.made for leg in each.frame.legs}
    studs = sum(len(wall.members) for wall in g.job.tapes.walls if wall.id in stands)
    walls = len(g.job.tapes.walls)
    return [
        _set_up("measure"),
        Task(
            "measure",
            "first visit and site measure",
            1.0 + 0.25 * walls + 0.1 * studs,
            visit="measure",
            after=(After("measure.set-up"),),
        ),
        Task("draw", "drawing, quote, choices", 1.5, after=(After("measure"),)),
        Task("sample", "finish sample", 1.0, after=(After("draw"),)),
    ]


def _order(g: Ground) -> list[Task]:
    bench = g.job.shop.bench
    signed = After("sample", DAY * bench.answer_days, "the client signs")
    found = [Task("order", "order and collect", 1.0, after=(signed,))]
    if bench.retrofit_bays:
        found += [
            _set_up("blocking", (signed,)),
            Task(
                "blocking",
                "blocking put in and patched",
                1.5 * bench.retrofit_bays + 2.0,
                visit="blocking",
                after=(After("blocking.set-up"),),
            ),
        ]
    return found


def _delivered(g: Ground) -> After:
    return After("order", DAY * g.job.shop.bench.delivery_days, "what was ordered comes")


def _bench(g: Ground) -> list[Task]:
    skins = sum(p.count for each in g.made for p in each.parts if p.kind == "skin")
    found = [
        Task("sheets", "break down sheets", 0.4 * g.sheets + 0.05 * skins, after=(_delivered(g),))
    ]
    if g.rods:
        found.append(
            Task("bars", "rods: cut and dress", 0.25 + 0.08 * len(g.rods), after=(_delivered(g),))
        )
    return found


def _rods(g: Ground) -> list[Task]:
    """From the level line to the readings; where the shelf comes first, after its boxes are laid up dry."""
    if not g.rods:
        return []
    before = [After("bars")]
    if g.job.meta.order == "shelf first":
        before += [After(f"lay-up.{each.spec.id}") for each in g.made if each.core]
    if g.job.shop.bench.retrofit_bays:
        before.append(After("blocking", overnight=True, why="the patch dries"))
    found = [_set_up("rods", tuple(before), drills=True)]

    def then(name: str, what: str, hours: float, of: str = "", *, whole: bool = False) -> None:
        last = (After(found[-1].id),)
        found.append(Task(name, what, hours, of, "rods", after=last, whole=whole, drills=True))

    for shelf, sections in g.shelves.items():
        own = [rod for each in sections for rod in each.frame.rods]
        if own:
            confirm = sum(_confirm(g, rod) for rod in own)
            then(f"level.{shelf}", "level line and confirm studs", 0.5 + confirm, shelf)
            walls = {rod.wall for rod in own}
            then(f"guide.{shelf}", "ledger and guide", 0.5 * len(walls), shelf)
    then("drill", "drill and clean", sum(_drill(g, rod) for rod in g.rods))
    then("set", "set rods and comb", 0.3 + 0.08 * len(g.rods), whole=True)
    found.append(
        Task(
            "read",
            "comb off, read rods as set",
            0.3 + 0.05 * len(g.rods),
            visit="readings",
            after=(After("set", _comb(g), "rods in the comb", overnight=True),),
            drills=True,
        )
    )
    return found


def _confirm(g: Ground, rod: Rod) -> float:
    """A stud that somebody has seen is only found again; any other is probed."""
    wall = g.wall(rod.wall)
    return 0.1 if wall and wall.known.how in SEEN else 0.2


def _drill(g: Ground, rod: Rod) -> float:
    wall = g.wall(rod.wall)
    depth = wall.timber.depth if wall and wall.timber else rod.embedment
    hard = any(word in layer.lower() for layer, _ in (wall.lining if wall else ()) for word in HARD)
    return (0.3 if depth > DEEP else 0.2) + 0.2 * hard


def _comb(g: Ground) -> float:
    warm = g.job.site.temperature
    return _whole(max(comb(r.adhesive.leave_alone, warm, r.adhesive.coldest) for r in g.rods))


def _cured(g: Ground) -> float:
    warm = g.job.site.temperature
    return _whole(max(wait(r.adhesive.full_load, warm, r.adhesive.coldest) for r in g.rods))


def _whole(hours: float) -> float:
    """Hours rounded up, as the set card tells them: what is allowed there is not done sooner here."""
    return float(math.ceil(hours - 1e-9))


def _box(g: Ground) -> list[Task]:
    """Core, groove, lay-up, glue-up, edging, sanding; rods first: no core before the readings."""
    pieces = sum(p.count for each in g.made for p in each.parts if p.kind == "core")
    first = g.job.meta.order == "rods first" and bool(g.rods)
    start = After("read", why="the core is cut to the rods as set") if first else _delivered(g)
    found = []
    cored = [each for each in g.made if each.core]
    if cored:
        found.append(
            Task("core", "plane and rip core", 0.5 + 0.04 * pieces, after=(start, After("sheets")))
        )
    grooved = [shelf for shelf, parts in g.shelves.items() if parts[0].spec.groove]
    # In the bare skin: afterwards its ends are closed, and a saw would meet wood and glue.
    found += [
        Task(f"groove.{shelf}", "light groove", 0.75, shelf, after=(After("sheets"),))
        for shelf in grooved
    ]
    glued: list[After] = []
    for each in cored:
        found += _glued(g, each)
        glued.append(_set_glue(g, found[-1].id))
    laid = tuple(glued) or (After("sheets"),)
    runs = sum(p.count * p.finished[0] for each in g.made for p in each.parts if p.kind == "edging")
    found.append(Task("edging", "edging", 0.5 + 0.12 * runs / FOOT, after=laid))
    edged = _set_glue(g, "edging")
    faces = sum(each.faces for each in g.finishings) / SQUARE_FOOT
    ready = (edged, *(After(f"groove.{shelf}") for shelf in grooved if not cored))
    found.append(Task("sand", "sand", 0.5 + 0.06 * faces, after=ready))
    return found


def _glued(g: Ground, made: Made) -> list[Task]:
    """Dry lay-up and glue-up of one section, the second pressing once the clamps are free."""
    spec = made.spec
    up = next((each for each in g.glue_ups if each.section == spec.id), None)
    whole = spec.section.of if spec.section else spec.id
    cut = (After(f"groove.{whole}"),) if spec.groove else ()
    ready = (After("core"), After("sheets"), *cut)
    lay = Task(f"lay-up.{spec.id}", "dry lay-up", 0.5, spec.title, after=ready)
    first = [lay]
    if count := inserts(made):
        # In the bare skin, by the core laid up dry: the other skin shuts them in.
        hours = INSERTS + INSERT * count
        first.append(
            Task(
                f"inserts.{spec.id}", "threaded inserts", hours, spec.title, after=(After(lay.id),)
            )
        )
    glue = Task(
        f"glue.{spec.id}",
        "glue-up",
        glue_up_hours(made),
        spec.title,
        after=(After(first[-1].id),),
        whole=True,
        clamps=up.clamps_needed if up else 0,
        stay=up.leave if up else 0.0,
    )
    if up is None or len(up.pressings) < 2:
        return [*first, glue]
    again = Task(
        f"press.{spec.id}",
        "second pressing",
        0.75,
        spec.title,
        after=(After(glue.id, up.leave, "in the clamps"),),
        whole=True,
        clamps=up.clamps_needed,
        stay=up.leave,
    )
    return [*first, glue, again]


def inserts(made: Made) -> int:
    """Return how many threaded inserts a section takes, one for each grub screw that holds it.

    Args:
        made: the section.
    """
    if made.spec.lock.kind != "grub screw" or made.core is None:
        return 0
    return sum(not at.lost for at in made.core.locks)


def glue_up_hours(made: Made) -> float:
    """Return the hours of one glue-up in one pressing.

    Source: common practice: 1.0 to 5 ft, 1.5 to 10 ft, 2.0 an L; longer than 10 ft as an L, our choice.
    """
    feet = sum(leg.end - leg.start for leg in made.frame.legs) / FOOT
    if len(made.frame.legs) > 1 or feet > 10:
        return 2.0
    return 1.0 if feet <= 5 else 1.5


def _set_glue(g: Ground, task: str) -> After:
    glue = g.job.shop.bench.glue
    hours = wait(glue.work, g.job.shop.bench.temperature, glue.coldest)
    return After(task, hours, "glue cures", overnight=True)


def _coats(g: Ground) -> list[Task]:
    """Coats in the shop, one after another for all that is treated alike."""
    found: list[Task] = []
    for number, each in enumerate(g.finishings, 1):
        of = ", ".join(each.sections) if len(g.finishings) > 1 else ""
        last = After("sand")
        for k, coat in enumerate(each.in_shop, 1):
            name = f"coat.{number}.{k}"
            what = f"finish, {coat.name[:1].lower()}{coat.name[1:]}"
            found.append(Task(name, what, coat_hours(coat), of, after=(last,), whole=True))
            last = After(name, coat.wait, f"{coat.name[:1].lower()}{coat.name[1:]} dries")
    return found


def coat_hours(coat: Coat) -> float:
    """Return the hours of one coat.

    Source: common practice: 0.3 and 0.03 for every square foot that is coated.
    """
    return 0.3 + 0.03 * coat.area / SQUARE_FOOT


def _hung_after(g: Ground) -> tuple[After, ...]:
    """Nothing is carried before its finish can be touched, nor hung before the rods have cured."""
    found = []
    for number, each in enumerate(g.finishings, 1):
        if each.in_shop:
            last = f"coat.{number}.{len(each.in_shop)}"
            found.append(After(last, max(each.handle, each.in_shop[-1].wait), "finish hardens"))
    glue = g.job.shop.bench.glue
    loaded = wait(glue.full_load, g.job.shop.bench.temperature, glue.coldest)
    found += [After("sand"), After("edging", loaded, "glue cures", overnight=True)]
    if g.rods:
        found += [After("read"), After("set", _cured(g), "rods cure", overnight=True)]
    return tuple(found)


def _hands(g: Ground, made: Made) -> int:
    """How many hang a section: as many as the shop says, and two where one alone may not."""
    weight = mass(spec=made.spec, frame=made.frame, core=made.core)
    return max(g.job.shop.people, 2 if needs_two(made.spec, made.frame, weight) else 1)


def _hang(g: Ground) -> list[Task]:
    found = [_set_up("hang", _hung_after(g), drills=bool(g.rods))]

    def then(name: str, what: str, hours: float, of: str = "", *, people: int = 1) -> None:
        last, drills = (After(found[-1].id),), bool(g.rods)
        found.append(Task(name, what, hours, of, "hang", people, last, whole=True, drills=drills))

    for sections in g.shelves.values():
        # All dry before any is locked: their joint is closed and eased dry, as the fitting order has it.
        for each in sections:
            feet = sum(leg.end - leg.start for leg in each.frame.legs) / FOOT
            of, name, hands = each.spec.title, each.spec.id, _hands(g, each)
            then(f"dry-fit.{name}", "dry fit", _dry_fit(each) * hands, of, people=hands)
            if "tight" in (each.spec.back, each.spec.ends):
                for k in (1, 2):
                    then(f"scribe.{name}.{k}", f"scribe, pass {k}", 0.5 + 0.1 * feet, of)
        for each in sections:
            of, name, hands = each.spec.title, each.spec.id, _hands(g, each)
            if glued := sum(len(slot.rods) for slot in g.slots if slot.section == name):
                then(f"slots.{name}", "glue in the slots", SLOTS + SLOT * glued, of)
            then(f"hang.{name}", "hang and lock", 0.5 * hands, of, people=hands)
            strips = sum(part.count for part in each.parts if part.kind == "filler")
            if strips:
                then(f"filler.{name}", "scribe and fix filler strips", FILLER * strips, of)
    found += _tests(g, found[-1].id)
    found += _handed_over(g, found[-1].id)
    found.append(Task("callback", "callback, set aside", 0.5, dated=False))
    return found


def _tests(g: Ground, hung: str) -> list[Task]:
    """The load tests: the day it is hung, or once the glue in the slots of any has cured, on a visit of their own."""
    after = After(hung)
    if g.slots:
        cured = _whole(max(each.load for each in g.slots))
        after = After(hung, cured, "glue in the slots cures", overnight=True)
    found: list[Task] = []
    for shelf in g.shelves:
        name, visit = f"test.{shelf}", _test_visit(g)
        found.append(
            Task(
                name, "load test", 0.75, shelf, visit, 1, (after,), whole=True, drills=bool(g.rods)
            )
        )
        after = After(name)
    return found


def _test_visit(g: Ground) -> str:
    return "tested" if g.slots else "hang"


def _handed_over(g: Ground, test: str) -> list[Task]:
    """From the end of the load test to the walk-through: the same day, or after the test has stood for one.

    Nothing is filled or painted under the weights of a test. Where they stand for a day they are taken off first of all
    on a short visit; the hour until the last reading is for filling and touching up. A last coat goes on over that on
    the visit that finishes off, another day.
    """
    stood = After(test, DAY, "the test stands", overnight=True)
    drills, long = bool(g.rods), g.job.shop.bench.long_test
    found: list[Task] = []

    def then(visit: str, name: str, what: str, hours: float, *more: After, of: str = "") -> None:
        after = (After(found[-1].id if found else test), *more)
        found.append(Task(name, what, hours, of, visit, 1, after, whole=True, drills=drills))

    visit = "held" if long else _test_visit(g)
    if long:
        then(visit, "held", "load test read after 24 h", 0.25, stood)
    off = After("held" if long else test, RESTED, "the shelf rests without weights")
    for shelf, parts in g.shelves.items():
        then(visit, f"touch.{shelf}", "fill and touch up", _touch_up(parts[0]), of=shelf)
    dry = After(found[-1].id, DRY, "caulk and filler dry", overnight=True)
    then(visit, "rested", "load test read without weights", 0.25, off)
    if g.late_coat:
        visit = "finish"
        found.append(_set_up(visit, (After("rested"), dry), drills=drills))
    for number, each in enumerate(g.finishings, 1):
        for k, coat in enumerate(each.on_site, 1):
            then(visit, f"last-coat.{number}.{k}", "finish, last coat", coat_hours(coat))
    then(visit, "walk", "walk-through", 0.5)
    return found


def _dry_fit(made: Made) -> float:
    """Hours of one person: 1.0 an L, 0.75 between two walls, 0.5 straight (common practice)."""
    legs = made.frame.legs
    if len(legs) > 1:
        return 1.0
    return 0.75 if (legs[0].left_end, legs[0].right_end) == ("wall", "wall") else 0.5


def _touch_up(made: Made) -> float:
    return 1.25 if is_paint(made.spec.finish) else 0.75


def hour_lines(made: Sequence[Task]) -> tuple[tuple[str, float], ...]:
    """Return the hours by what is done, like tasks added up, in the order they first come."""
    sums: dict[str, float] = {}
    for task in made:
        name = "site set-up, each trip" if task.id.endswith(".set-up") else task.what
        name = "scribe, two passes" if name.startswith("scribe,") else name
        name = "finish" if name.startswith("finish,") else name
        sums[name] = sums.get(name, 0.0) + task.hours
    return tuple(sums.items())


def visits(made: Sequence[Task]) -> tuple[tuple[str, float], ...]:
    """Return every visit with the hours it lasts for those who go, in order; what they wait for there is in it."""
    here = {task.id: task.visit for task in made}
    ends: dict[str, float] = {}
    lasts: dict[str, float] = {}
    for task in (each for each in made if each.visit):
        waited = (ends[a.task] + a.wait for a in task.after if here.get(a.task) == task.visit)
        begin = max([lasts.get(task.visit, 0.0), *waited])
        ends[task.id] = lasts[task.visit] = begin + task.hours / task.people
    return tuple((visit, lasts[visit]) for visit in VISITS if visit in lasts)
