"""A plan to the pages of its packet, in the order they are printed."""

from __future__ import annotations

from collections.abc import Mapping

from ledgewright.job import Meta
from ledgewright.judge import Design, Option
from ledgewright.memo import Memo
from ledgewright.plan import Plan
from ledgewright.sheets import (
    as_set,
    bundles,
    cuts,
    forms,
    guide_sheet,
    guide_tiles,
    handover,
    laid,
    layouts,
    letters,
    measured,
    order,
    pictures,
    quote,
    safety,
    scribed,
    seen,
    shop_pages,
    shopfloor,
    strips,
    sure,
    views,
    walls,
    workings,
)
from ledgewright.sheets.assumed import assumed_sheet
from ledgewright.sheets.cover import VERDICT, cover
from ledgewright.sheets.leaves import held_walls, leaves
from ledgewright.sheets.model import Block, Cover, Page, Picture
from ledgewright.sheets.say import Say
from ledgewright.sheets.shopside import Side, side
from ledgewright.sheets.spoken import own_names, spoken
from ledgewright.site import MAY_DRILL, Leave, Withheld
from ledgewright.statics import State


def pages(
    plan: Plan,
    drawn: pictures.Drawings | None = None,
    memo: Memo | None = None,
    *,
    others: bool | None = None,
) -> dict[str, Page]:
    """Return what stands on each page of the packet, by name, in printing order.

    Args:
        plan: the whole job.
        drawn: its drawings where they are made already, from `pictures.drawings`.
        memo: kept by the caller, for the core and the statics of the ways not chosen.
        others: whether the other ways to make a shelf are worked out too; by default where there is a memo.

    Returns:
        The cover and the contents, then every page in the order of `bundles.GROUPS`: the order of the work.
        Names carry the shelf: "plan corner", "wall corner A".
    """
    made = every(plan, drawn, memo, others=others)
    return bound(plan, made)


def bound(
    plan: Plan, made: Mapping[str, Page], bundle: bundles.Bundle | None = None
) -> dict[str, Page]:
    """Return a bundle, or the whole packet, with its own cover and contents, in printing order.

    Args:
        plan: the whole job.
        made: from `every`.
        bundle: for whom; None for the whole packet.
    """
    say, inside = (
        Say.of(plan.job.meta, own_names(plan)),
        {n: p for n, p in made.items() if n != "cover"},
    )
    front = made["cover"]
    if not isinstance(front, Cover):
        msg = "the cover is no cover"
        raise TypeError(msg)
    head = spoken(bundles.covered(front, plan, inside, bundle), say)
    contents = spoken(bundles.contents_sheet(plan, inside, bundle), say)
    return {"cover": head, "contents": contents, **bundles.of(inside, bundle)}


def every(
    plan: Plan,
    drawn: pictures.Drawings | None = None,
    memo: Memo | None = None,
    *,
    others: bool | None = None,
) -> dict[str, Page]:
    """Return every page of a job by name, as they are made: the cover first, no contents.

    Args:
        plan: the whole job.
        drawn: its drawings where they are made already, from `pictures.drawings`.
        memo: as for `pages`.
        others: as for `pages`.
    """
    whole = memo is not None if others is None else others
    memo = Memo() if memo is None else memo
    drawn = pictures.drawings(plan, memo if whole else None) if drawn is None else drawn
    made: dict[str, Page] = {"cover": cover(plan, pictures.picture(drawn, "cover"), letters.face())}
    for shelf, sections in pictures.in_sections(plan).items():
        name = f"plan {shelf}"
        made[name] = shopfloor.whole_plan_sheet(plan, sections, pictures.picture(drawn, name))
    for design in plan.designs:
        made_so = seen.others(plan, design, memo) if whole else ()
        made |= _shelf(plan, design, drawn, memo, made_so, whole=whole)
    made |= _of_the_saw(plan, drawn)
    if not isinstance(found := side(plan), str):
        made |= _of_the_shop(found, drawn)
    made |= _of_the_place(plan)
    made["log"] = handover.log_sheet(plan)
    made["assumed"] = assumed_sheet(plan)
    made["cautions"] = safety.caution_sheet(plan)
    say = Say.of(plan.job.meta, own_names(plan))
    return {name: spoken(page, say) for name, page in made.items()}


def _of_the_saw(plan: Plan, drawn: pictures.Drawings) -> dict[str, Page]:
    """How the whole job is cut up, and labels; nothing where only figures were asked for."""
    if plan.cutting is None:
        return {}
    made: dict[str, Page] = {}
    for sheets in plan.cutting.sheets:
        count = range(1, 1 + len(sheets.nest.layouts))
        shown = [pictures.picture(drawn, layouts.layout_name(sheets, k)) for k in count]
        made[f"layout {sheets.panel.name}"] = layouts.layout_sheet(plan, sheets, shown)
    made["boards"] = layouts.lengths_sheet(plan, plan.cutting)
    made["labels"] = layouts.label_sheet(plan, plan.cutting)
    return made


def site_pages(plan: Plan) -> dict[str, Page]:
    """Return the sheets that are taken to the place, by name: what `ledgewright site -o` prints.

    Args:
        plan: the whole job.

    Returns:
        The site measure as it came out; probing sheets where they apply; a blocking sheet for every wall a shelf
        stands on; the photo list; the questions to be asked, blank.
    """
    made = _of_the_place(plan)
    for design in plan.designs:
        for wall in dict.fromkeys(leg.wall for leg in design.spec.legs):
            sheet = forms.blocking_sheet(plan, design, design.room.wall(wall))
            if sheet is not None:
                made[f"blocking {design.spec.id} {wall}"] = sheet
    meta = plan.job.meta
    made["questions"] = forms.question_sheet(meta.units, meta.words)
    say = Say.of(meta, own_names(plan))
    return {name: spoken(page, say) for name, page in made.items()}


def shop_pages_of(plan: Plan, drawn: pictures.Drawings | None = None) -> dict[str, Page]:
    """Return the shop's pages, the quote and the choices, by name: what `ledgewright shop -o` prints.

    Args:
        plan: the whole job.
        drawn: its drawings where they are made already.

    Returns:
        The pages; none where the shop's side cannot be worked out.
    """
    found = side(plan)
    if isinstance(found, str):
        return {}
    say = Say.of(plan.job.meta, own_names(plan))
    made = _of_the_shop(found, pictures.shop_drawings(plan) if drawn is None else drawn)
    return {name: spoken(page, say) for name, page in made.items()}


def _of_the_shop(side: Side, drawn: pictures.Drawings) -> dict[str, Page]:
    """Glue-up of each section, finish, days, van, shopping list, price; for the client quote and choices."""
    made: dict[str, Page] = {}
    for up in side.work.glue_ups:
        shown = pictures.picture(drawn, f"clamps {up.section}")
        made[f"glue {up.section}"] = shop_pages.glue_sheet(side, up, shown)
    for number, each in enumerate(side.work.finishings, 1):
        made[f"finish {number}"] = shop_pages.finish_sheet(side, each)
    made["days"] = shop_pages.days_sheet(side)
    made["van"] = shop_pages.van_sheet(side)
    made["buying"] = shop_pages.buying_sheet(side)
    made["price"] = quote.price_sheet(side)
    made["quote"] = quote.quote_sheet(side)
    made["choices"] = quote.choices_sheet(side, pictures.picture(drawn, "sample"))
    return made


def _of_the_place(plan: Plan) -> dict[str, Page]:
    """The site measure, the photo list, and what a wall that nobody has seen inside asks for."""
    made: dict[str, Page] = {}
    sheet = measured.measure_sheet(plan)
    if sheet is not None:
        made["measure"] = sheet
    for design in plan.designs:
        for leave in leaves(plan, design):
            wall = design.room.wall(leave.wall)
            probing = forms.probing_sheet(plan, design, leave)
            if probing is not None:
                made[f"probing {design.spec.id} {leave.wall}"] = probing
            unseen = isinstance(leave, Withheld) and wall.known.how not in MAY_DRILL
            blocking = forms.blocking_sheet(plan, design, wall) if unseen else None
            if blocking is not None:
                made[f"blocking {design.spec.id} {leave.wall}"] = blocking
    made["photos"] = forms.photo_sheet(plan)
    return made


def block(plan: Plan, bundle: bundles.Bundle | None = None) -> Block:
    """Return what the title block says on every page of a job, or of one bundle of it."""
    return block_of(plan.job.meta, plan.verdict, bundle or "")


def block_of(meta: Meta, verdict: State, bundle: str = "") -> Block:
    """Return what the title block says on every page of a job of that verdict."""
    width, height, size = pictures.PAPER[meta.sheets]
    return Block(
        name=meta.name,
        code=code(meta),
        revision=short_revision(meta),
        width=width,
        height=height,
        size=size,
        verdict=VERDICT[verdict],
        bundle=bundle,
    )


def code(meta: Meta) -> str:
    """Return the job's short code: the name of its file without folder and ending, at most 28 letters."""
    return meta.file.replace("\\", "/").rsplit("/", 1)[-1].removesuffix(".toml")[:28]


def short_revision(meta: Meta) -> str:
    """Return the first eight digits of the revision, enough to tell two printed packets apart."""
    return meta.revision.removeprefix("sha256:")[:8]


def _shelf(
    plan: Plan,
    design: Design,
    drawn: pictures.Drawings,
    memo: Memo,
    others: tuple[Option, ...],
    *,
    whole: bool,
) -> dict[str, Page]:
    held, shelf = held_walls(plan, design), design.spec.id

    def show(name: str) -> Picture | None:
        return pictures.picture(drawn, name)

    moves = range(1, 1 + len(design.way.moves if design.way else ()))
    made: dict[str, Page] = {
        f"plan {shelf}": shopfloor.plan_sheet(plan, design, show(f"plan {shelf}"))
    }
    for leave in leaves(plan, design):
        name = f"wall {shelf} {leave.wall}"
        made[name] = _wall(plan, design, leave, show(name))
        if not isinstance(leave, Withheld):
            guide = guide_tiles.of_wall(plan, design, leave)
            if guide is not None:
                made[f"guide {shelf} {leave.wall}"] = guide_sheet.sheet(plan, design, guide)
            made[f"set {shelf} {leave.wall}"] = walls.set_card(plan, design, leave)
            made[f"as set {shelf} {leave.wall}"] = as_set.card(plan, design, leave)
    cut = tuple(p for r in design.frame.rods if (p := show(f"section {shelf} {r.id}")))
    if cut:
        made[f"section {shelf}"] = shopfloor.section_sheet(plan, design, cut)
    steps = tuple(show(f"move {shelf} {k}") for k in moves)
    made[f"fitting {shelf}"] = order.fitting_sheet(
        plan, design, steps, show(f"room {shelf}"), memo if whole else None
    )
    if design.way and scribed.scribing(design.way).hold_off > 0:
        made[f"scribe {shelf}"] = scribed.scribe_sheet(
            plan, design, scribed.scribing(design.way), show(f"scribe {shelf}")
        )
    if found := cuts.edges(plan, design):
        made[f"cuts {shelf}"] = cuts.cuts_sheet(plan, design, found)
        made[f"strips {shelf}"] = strips.template_sheet(plan, design, show(f"strips {shelf}"))
    if seen.compared(design, others):
        small = tuple(show(f"way {shelf} {way.id}") for way in design.ways.ways)
        more = tuple((each, show(f"option {shelf} {each.id}")) for each in others)
        made[f"ways {shelf}"] = seen.ways_sheet(plan, design, small, memo, more)
    spans = () if held else views.stretches(design, pictures.width_of(plan.job.meta))
    for k in range(1, max(1, len(spans)) + 1):
        name = pictures.core_name(shelf, k)
        made[name] = shopfloor.core_sheet(plan, design, show(name), held, spans=spans, stretch=k)
    made[f"parts {shelf}"] = shopfloor.parts_sheet(plan, design, held)
    if (tested := handover.test_sheet(plan, design)) is not None:
        made[f"load test {shelf}"] = tested
    made[f"owner {shelf}"] = handover.owner_sheet(plan, design)
    if show(f"drop {shelf}") or show(f"forces {shelf}"):
        pair = (show(f"drop {shelf}"), show(f"forces {shelf}"))
        made[f"shape {shelf}"] = workings.shape_sheet(plan, design, *pair)
    if (spread := sure.spread_of(plan, design)) is not None:
        shown = {name: show(f"sure {shelf} {name}") for name in sure.NAMES}
        made[f"sure {shelf}"] = sure.sure_sheet(plan, design, spread, shown)
    if design.holds.laid is not None and not held:
        made[f"loads {shelf}"] = laid.laid_sheet(
            plan, design, design.holds.laid, workings.cases(design), show(f"loads {shelf}")
        )
    made[f"calculations {shelf}"] = workings.calculation_sheet(plan, design, held)
    return made


def _wall(plan: Plan, design: Design, leave: Leave, picture: Picture | None) -> Page:
    if isinstance(leave, Withheld):
        return walls.withheld_card(plan, design, leave, picture)
    return walls.drill_card(plan, design, leave, picture)
