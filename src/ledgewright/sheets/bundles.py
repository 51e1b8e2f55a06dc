"""Which pages go to whom, in what order they are printed, and why a page is not there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from ledgewright.doubt import NoSpread
from ledgewright.judge import Design
from ledgewright.plan import Plan
from ledgewright.sheets import cuts
from ledgewright.sheets.assumed import IN_SHOP
from ledgewright.sheets.cover import WORKED
from ledgewright.sheets.leaves import held_walls, leaves, named
from ledgewright.sheets.model import Contents, ContentsGroup, Cover, Page
from ledgewright.sheets.plainly import told_below
from ledgewright.sheets.say import Say
from ledgewright.sheets.scribed import scribing
from ledgewright.sheets.shopside import side
from ledgewright.site import Withheld

Bundle = Literal["client", "shop", "site", "engineer"]
BUNDLES: tuple[Bundle, ...] = ("client", "shop", "site", "engineer")

TITLES: dict[Bundle, str] = {
    "client": "For the client",
    "shop": "For the shop",
    "site": "For the site",
    "engineer": "For the engineer",
}


@dataclass(frozen=True)
class Sort:
    """One sort of page: how its pages are named, what it is called, who gets it."""

    name: str
    title: str
    bundles: tuple[Bundle, ...]


@dataclass(frozen=True)
class Missing:
    """A page that a job does not have: of what sort, of which wall or shelf, and why.

    waits: whether an answer, a price or a reading would bring it; else this job has no use for it.
    """

    sort: str
    about: str
    why: str
    waits: bool


_ALL = BUNDLES
GROUPS: tuple[tuple[str, tuple[Sort, ...]], ...] = (
    (
        "What it is",
        (
            Sort("cautions", "Cautions", _ALL),
            Sort("plan", "Plan", _ALL),
            Sort("section", "Section through a rod", ("shop", "site", "engineer")),
        ),
    ),
    (
        "The place",
        (
            Sort("measure", "Site measure", ("site", "engineer")),
            Sort("probing", "Probing sheet", ("site",)),
            Sort("blocking", "{Blocking} sheet", ("site",)),
            Sort("photos", "Photo list", ("site",)),
        ),
    ),
    (
        "Drilling and setting",
        (
            Sort("wall", "Drill card", ("site", "engineer")),
            Sort("guide", "Guide block and ledger", ("shop", "site")),
            Sort("set", "Set card", ("site", "engineer")),
            Sort("as set", "As-set card", ("shop", "site", "engineer")),
        ),
    ),
    (
        "In the shop",
        (
            Sort("parts", "Parts", ("shop",)),
            Sort("layout", "{Layout}", ("shop",)),
            Sort("boards", "Boards and bars", ("shop",)),
            Sort("labels", "Labels", ("shop",)),
            Sort("core", "Core map", ("shop", "engineer")),
            Sort("glue", "Glue-up", ("shop",)),
            Sort("finish", "Edging and finish", ("shop",)),
        ),
    ),
    (
        "Hanging",
        (
            Sort("fitting", "Fitting order", ("shop", "site")),
            Sort("scribe", "Two-pass scribe on the rods", ("site",)),
            Sort("cuts", "Scribe in straight cuts", ("shop", "site")),
            Sort("strips", "Strip template", ("shop", "site")),
            Sort("ways", "Ways on, side by side", ("shop",)),
        ),
    ),
    (
        "Test and walk-through",
        (
            Sort("load test", "Load test", ("site", "engineer")),
            Sort("owner", "For the owner", ("client", "site")),
            Sort("log", "Job log", ("site",)),
        ),
    ),
    (
        "Client",
        (
            Sort("quote", "Quote", ("client", "shop")),
            Sort("choices", "Choices", ("client", "shop")),
        ),
    ),
    (
        "Days and price",
        (
            Sort("days", "Days", ("shop", "site")),
            Sort("van", "Van lists", ("shop", "site")),
            Sort("buying", "Shopping list", ("shop",)),
            Sort("price", "Price", ("shop",)),
        ),
    ),
    (
        "What it rests on",
        (
            Sort("loads", "Loads, case by case", ("engineer",)),
            Sort("calculations", "{Calculations}", ("engineer",)),
            Sort("shape", "Drop and forces", ("engineer",)),
            Sort("sure", "How sure", ("engineer",)),
            Sort("assumed", "Assumed and open", ("shop", "site", "engineer")),
        ),
    ),
)
"""Every sort of page in printing order: the order of the work, from the first look to what it all rests on."""

_SORTS = {sort.name: sort for _, sorts in GROUPS for sort in sorts}
_LONGEST = sorted(_SORTS, key=len, reverse=True)
_ELSEWHERE: dict[Bundle, str] = {
    "client": "What the shop builds from, the cards for the wall and the calculations stay with the shop; ask to see "
    "them.",
    "shop": "Cards for drilling and setting go with the site; checks and their derivations with the engineer.",
    "site": "Cutting, gluing and price stay with the shop; checks and their derivations are with the engineer.",
    "engineer": "Cutting, gluing, hanging and price are with the shop and the site.",
}


def sort_of(name: str) -> Sort:
    """Return the sort of a page by its name, "wall corner A" is a drill card.

    Args:
        name: of a page of a packet, not its cover or contents.

    Raises:
        StopIteration: if no sort is named so.
    """
    found = next(s for s in _LONGEST if name == s or name.startswith(f"{s} "))
    return _SORTS[found]


_FILES: dict[str, str] = {
    "move": "fitting",
    "room": "fitting",
    "way": "ways",
    "option": "ways",
    "drop": "shape",
    "forces": "shape",
    "clamps": "glue",
    "sample": "choices",
    "template": "cuts",
    "core_map": "core",
    "cuts.csv": "layout",
    "cut.json": "layout",
    "parts.csv": "parts",
    "shopping.csv": "buying",
    "shop.json": "price",
    "days.ics": "days",
    "check.json": "calculations",
    "fit.json": "ways",
    "scribe.json": "cuts",
    "cover": "plan",
}
"""Files beside the pages that are not named after a sort of page, and the sort they go with."""


def takers(name: str) -> tuple[Bundle, ...]:
    """Return the bundles that a file of the packet goes with; the client gets pages alone.

    Args:
        name: of the drawing or file, "wall corner A" or "parts.csv".

    Raises:
        StopIteration: if it goes with no sort of page.
    """
    first = name if name in _FILES else name.split(" ", 1)[0]
    sort = _SORTS[_FILES[first]] if first in _FILES else sort_of(name)
    return tuple(b for b in sort.bundles if b != "client")


def sort_named(name: str) -> Sort:
    """Return the sort of that name.

    Raises:
        KeyError: if there is none.
    """
    return _SORTS[name]


def title_of(sort: Sort, say: Say) -> str:
    """Return what a sort of page is called in the words of the job.

    Args:
        sort: of the page.
        say: how the job writes.
    """
    words = {key: say.word(key) for key in ("Calculations", "Layout")}
    words["Blocking"] = say.word("blocking").capitalize()
    return say.text(sort.title.format(**words))


def ordered(made: Mapping[str, Page]) -> dict[str, Page]:
    """Return pages in printing order: by sort, and within one sort as they were made.

    Args:
        made: every page by name, no cover and no contents among them.
    """
    sorts = list(_SORTS)
    names = sorted(made, key=lambda name: sorts.index(sort_of(name).name))
    return {name: made[name] for name in names}


def of(made: Mapping[str, Page], bundle: Bundle | None) -> dict[str, Page]:
    """Return the pages of a bundle in printing order; all of them for the whole packet.

    Args:
        made: every page by name, no cover and no contents among them.
        bundle: whose; None for the whole packet.
    """
    whole = ordered(made)
    return {n: p for n, p in whole.items() if bundle is None or bundle in sort_of(n).bundles}


def contents_sheet(plan: Plan, made: Mapping[str, Page], bundle: Bundle | None) -> Contents:
    """Return the page that says what a packet or a bundle holds, what is left out, and why.

    Args:
        plan: the whole job.
        made: every page by name, no cover and no contents among them.
        bundle: whose; None for the whole packet.
    """
    say, held = Say.of(plan.job.meta), of(made, bundle)
    groups = []
    for head, sorts in GROUPS:
        names = tuple(n for n in held if sort_of(n) in sorts)
        if names:
            groups.append(ContentsGroup(head, names))
    gone = lacking(plan, made, bundle)
    return Contents(
        title="Contents",
        about=TITLES[bundle] if bundle else "the whole packet",
        unit=say.unit,
        groups=tuple(groups),
        elsewhere=_elsewhere(made, bundle, say),
        waits=_lines([m for m in gone if m.waits], say),
        no_use=_lines([m for m in gone if not m.waits], say),
    )


def covered(cover: Cover, plan: Plan, made: Mapping[str, Page], bundle: Bundle | None) -> Cover:
    """Return the cover of a bundle, with a line for what is missing from it.

    The client's says nothing of what the shop assumed or has still to find out for itself.

    Args:
        cover: of the whole packet.
        plan: the whole job.
        made: every page by name, no cover and no contents among them.
        bundle: whose; None for the whole packet.
    """
    say = Say.of(plan.job.meta)
    waits = [m for m in lacking(plan, made, bundle) if m.waits]
    left_out = _by_reason(waits, say)
    if bundle is None:
        return replace(cover, left_out=left_out)
    if bundle == "client":
        facts = tuple(f for f in cover.facts if f.label not in ("Assumed values", "Open items"))
        told = tuple(line.replace(WORKED, "") for line in cover.why)
        cover = replace(cover, facts=facts, open_items=_for_client(plan, cover), why=told)
    return replace(cover, title=TITLES[bundle], about="part of the job packet", left_out=left_out)


def _for_client(plan: Plan, cover: Cover) -> tuple[str, ...]:
    """What is open at the place and with the shelf; what the shop has to settle for itself is left out."""
    own = {i.costs for i in plan.job.open_items if i.path.startswith("shop")}
    return tuple(
        line
        for line in cover.open_items
        if not line.startswith(IN_SHOP) and not any(cost in line for cost in own)
    )


def lacking(plan: Plan, made: Mapping[str, Page], bundle: Bundle | None) -> tuple[Missing, ...]:
    """Return what a bundle, or the whole packet, would hold if the job had it.

    Args:
        plan: the whole job.
        made: every page by name, no cover and no contents among them.
        bundle: whose; None for the whole packet.
    """
    every = missing(plan, made)
    return tuple(m for m in every if bundle is None or bundle in _SORTS[m.sort].bundles)


def _elsewhere(made: Mapping[str, Page], bundle: Bundle | None, say: Say) -> tuple[str, ...]:
    """What this bundle leaves to another: in one sentence, and by name but for the client."""
    if bundle is None:
        return ()
    if bundle == "client":
        return (_ELSEWHERE[bundle],)
    others = {sort_of(n).name: sort_of(n) for n in ordered(made)}
    lines = []
    for each in BUNDLES:
        away = [
            title_of(s, say)
            for s in others.values()
            if bundle not in s.bundles and each == s.bundles[0]
        ]
        if away:
            lines.append(f"{TITLES[each]}: {', '.join(away)}.")
    return (_ELSEWHERE[bundle], *lines)


def _lines(gone: list[Missing], say: Say) -> tuple[str, ...]:
    """One line for each sort and reason, the walls and shelves of it drawn together."""
    found: dict[tuple[str, str], list[str]] = {}
    for each in gone:
        found.setdefault((each.sort, each.why), []).append(each.about)
    made = []
    for (sort, why), abouts in found.items():
        of_what = ", ".join(dict.fromkeys(a for a in abouts if a))
        title = title_of(_SORTS[sort], say)
        made.append(f"{title}{f' ({of_what})' if of_what else ''}: {why}.")
    return tuple(made)


def _by_reason(gone: list[Missing], say: Say) -> tuple[str, ...]:
    """One line for each reason, for the cover."""
    found: dict[str, list[str]] = {}
    for each in gone:
        found.setdefault(each.why, []).append(title_of(_SORTS[each.sort], say))
    return tuple(f"{', '.join(dict.fromkeys(t))}: {why}." for why, t in found.items())


def missing(plan: Plan, made: Mapping[str, Page]) -> tuple[Missing, ...]:
    """Return every sort of page that a job lacks, of which wall or shelf, and why.

    Args:
        plan: the whole job.
        made: every page by name, no cover and no contents among them.
    """
    found = [each for design in plan.designs for each in _of_shelf(plan, design, made)]
    there = {sort_of(name).name for name in made}
    found += _of_place(there)
    found += _of_shop(plan, there)
    return tuple(dict.fromkeys(found))


def _of_place(there: set[str]) -> Iterator[Missing]:
    if "measure" not in there:
        yield Missing("measure", "", "no shelf is laid out", waits=True)
    if "probing" not in there:
        yield Missing("probing", "", "no wall has to be probed for this job", waits=False)
    if "blocking" not in there:
        yield Missing("blocking", "", "every wall is confirmed as it is", waits=False)


def _of_shop(plan: Plan, there: set[str]) -> Iterator[Missing]:
    found = side(plan)
    why = found.rstrip(".") if isinstance(found, str) else "nothing of it is done in this job"
    for sort in ("glue", "finish", "days", "van", "buying", "price", "quote", "choices"):
        if sort not in there:
            yield Missing(sort, "", why, waits=isinstance(found, str))
    for sort in ("layout", "boards", "labels"):
        if sort not in there:
            yield Missing(sort, "", "no sheet is cut up for this job", waits=plan.cutting is None)


def _of_shelf(plan: Plan, design: Design, made: Mapping[str, Page]) -> Iterator[Missing]:
    shelf, held = design.spec.id, held_walls(plan, design)
    about = f"shelf {design.spec.title}"
    for leave in leaves(plan, design):
        wall = f"wall {design.room.wall(leave.wall).called}"
        for sort in ("guide", "set", "as set"):
            if f"{sort} {shelf} {leave.wall}" in made:
                continue
            if isinstance(leave, Withheld):
                yield Missing(sort, wall, f"{wall} is not confirmed: withheld", waits=True)
            else:
                yield Missing(sort, wall, f"{wall} carries no rod of the shelf", waits=False)
    for sort in (
        "section",
        "scribe",
        "cuts",
        "strips",
        "ways",
        "load test",
        "loads",
        "shape",
        "sure",
    ):
        if f"{sort} {shelf}" not in made:
            why, waits = _why(plan, design, sort, held)
            yield Missing(sort, about, told_below(why.rstrip("."), plan), waits)


def _why(plan: Plan, design: Design, sort: str, held: frozenset[str]) -> tuple[str, bool]:
    """Why a shelf has no page of that sort, and whether something would bring it."""
    shut = f"{named(design, held)} is not confirmed: withheld"
    if sort in ("scribe", "cuts", "strips"):
        return _unscribed(plan, design, sort)
    if sort == "ways":
        return "there is one way on, and no other to put beside it", False
    if sort == "load test":
        refused = plan.no_test(design.spec.id)
        return (refused.why if refused else shut if held else "none is worked out yet"), True
    if sort == "sure":
        found = plan.spread(design.spec.id)
        return (found.why if isinstance(found, NoSpread) else "ranges were not asked for"), True
    if held:
        return shut, True
    if sort == "loads":
        return "it is not on the section model", False
    return "it goes on the sheet at no round scale", True


def _unscribed(plan: Plan, design: Design, sort: str) -> tuple[str, bool]:
    if design.way is None:
        return "no way was found to get it onto its rods", True
    if not cuts.edges(plan, design):
        return "no edge of it is scribed", False
    if sort == "scribe" and scribing(design.way).hold_off <= 0:
        return "nothing has to be held off the wall to scribe it", False
    return "it goes on the sheet at no round scale", True
