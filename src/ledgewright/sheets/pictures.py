"""Every drawing of a packet, made once, and its place on a page."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from fractions import Fraction
from functools import partial

from ledgewright import draw, layout, shop
from ledgewright.job import Meta
from ledgewright.judge import Design
from ledgewright.memo import Memo
from ledgewright.plan import Plan
from ledgewright.plane import Ring
from ledgewright.sheets import cuts, guide_tiles, quote, sure, tiles, views
from ledgewright.sheets.layouts import kept, layout_name
from ledgewright.sheets.leaves import held_walls, leaves
from ledgewright.sheets.model import Picture
from ledgewright.sheets.say import Say
from ledgewright.sheets.scribed import scribing
from ledgewright.sheets.seen import compared, others
from ledgewright.sheets.spoken import drawn, own_names
from ledgewright.sheets.strips import template_view
from ledgewright.sheets.waynames import option_name, titled


@dataclass(frozen=True)
class Inked:
    """A drawing with its SVG, which is written once and used in the pages and in a file of its own."""

    drawing: draw.Drawing
    svg: str


Drawings = Mapping[str, Inked]
View = Callable[[], draw.Drawing]

PAPER = {"letter": (215.9, 279.4, "US Letter"), "a4": (210.0, 297.0, "A4")}
"""Width and height (mm) and name of the sheets; ANSI/ASME Y14.1 size A, ISO 216."""
SIDE = 14.0
"""Blank to the left and right of everything (mm), as in the template."""
HALF = 125.0
SHEET = 70.0
WHOLE, WALL, SECTION, MOVE, WAY, COVER, STRIPS = 170.0, 88.0, 92.0, 76.0, 52.0, 68.0, 84.0
CLAMPS, SURE, CORE, STRETCH, LAID, ONE_MOVE = 60.0, 62.0, 95.0, 125.0, 80.0, 64.0
"""Heights on paper (mm) of a drawing with a page to itself and of those that share one."""
SCREEN = (180.0, 110.0)
"""Width and height (mm) of a drawing that plays, which is for a screen and not for paper."""
GUTTER = 8.0
"""Between two drawings side by side (mm), as in the template."""


def drawings(plan: Plan, memo: Memo | None = None) -> dict[str, Inked]:
    """Return every drawing of the packet by name: "plan corner", "wall corner A", "move corner 1".

    A drawing that goes on the job's paper at no round scale is left out; its page says so. Nothing of a
    hole or a rod is drawn on a wall that may not be drilled, and no core map of a shelf with such a wall.

    Args:
        plan: the whole job.
        memo: kept by the caller; without it the other ways to make a shelf are not worked out, and not drawn.
    """
    made: dict[str, Inked] = {}
    say = Say.of(plan.job.meta, own_names(plan))
    for name, view in _wanted(plan, memo):
        with suppress(draw.TooLarge):
            drawing = drawn(view(), say)
            made[name] = Inked(drawing, draw.svg(drawing))
    return made


def _wanted(plan: Plan, memo: Memo | None) -> Iterator[tuple[str, View]]:
    say, width = Say.of(plan.job.meta), width_of(plan.job.meta)
    if plan.designs:
        first = plan.designs[0]
        more = _sections(plan.designs)
        held = frozenset().union(*(held_walls(plan, each) for each in (first, *more)))
        yield "cover", partial(views.cover_view, first, say, (width, COVER), held, more)
    yield "sample", quote.sample_place
    yield from whole_plans(plan, say, width)
    for design in plan.designs:
        yield from _of_shelf(plan, design, say, width)
        yield from _of_doubt(plan, design, say, width)
        if memo is not None:
            yield from _of_options(plan, design, say, width, memo)
    for sheets in plan.cutting.sheets if plan.cutting else ():
        for k, laid in enumerate(sheets.nest.layouts, 1):
            yield (
                layout_name(sheets, k),
                partial(
                    views.sheet_view,
                    laid,
                    k,
                    sheets.panel.name,
                    say,
                    (width, SHEET),
                    kept=kept(plan, laid),
                    grain=not sheets.turns,
                ),
            )


def _of_doubt(plan: Plan, design: Design, say: Say, width: float) -> Iterator[tuple[str, View]]:
    spread = sure.spread_of(plan, design)
    if spread is None:
        return
    for name, answer in zip(sure.NAMES, sure.answers(spread), strict=True):
        if answer is not None:
            yield (
                f"sure {design.spec.id} {name}",
                partial(sure.view, spread, name, say, (width, SURE)),
            )


def _sections(designs: Sequence[Design]) -> tuple[Design, ...]:
    """The other sections of the first shelf."""
    return tuple(each for each in designs[1:] if each.spec.whole == designs[0].spec.whole)


def plans(plan: Plan, say: Say) -> Iterator[tuple[str, View]]:
    """Return the plans of a job by name, yet to be drawn: of shelves in sections first all of it, then each.

    Args:
        plan: the whole job.
        say: how the job writes.
    """
    width = width_of(plan.job.meta)
    yield from whole_plans(plan, say, width)
    for design in plan.designs:
        yield from _plan(plan, design, say, width)


def _plan(plan: Plan, design: Design, say: Say, width: float) -> Iterator[tuple[str, View]]:
    held = held_walls(plan, design)
    yield f"plan {design.spec.id}", partial(views.plan_view, design, say, (width, WHOLE), held)


def whole_plans(plan: Plan, say: Say, width: float) -> Iterator[tuple[str, View]]:
    """Return the plan of each shelf in sections with all of them on it, by name, yet to be drawn.

    Args:
        plan: the whole job.
        say: how the job writes.
        width: of the paper there is (mm).
    """
    for shelf, sections in in_sections(plan).items():
        held = frozenset().union(*(held_walls(plan, each) for each in sections))
        yield f"plan {shelf}", partial(views.whole_plan_view, sections, say, (width, WHOLE), held)


def in_sections(plan: Plan) -> dict[str, tuple[Design, ...]]:
    """Return the sections of every shelf that has some, as they hang, by the id of the shelf.

    Args:
        plan: the whole job.
    """
    found: dict[str, tuple[Design, ...]] = {}
    for each in plan.designs:
        if each.spec.section is not None:
            found[each.spec.whole] = (*found.get(each.spec.whole, ()), each)
    return found


def width_of(meta: Meta) -> float:
    """Return how wide a drawing may be on the paper of a job (mm)."""
    return PAPER[meta.sheets][0] - 2 * SIDE


def core_name(shelf: str, stretch: int) -> str:
    """Return the name of a core map: of the whole shelf, or of one stretch of a long one, from 1."""
    return f"core {shelf}" if stretch == 1 else f"core {shelf} stretch {stretch}"


def _of_shelf(plan: Plan, design: Design, say: Say, width: float) -> Iterator[tuple[str, View]]:
    shelf, held = design.spec.id, held_walls(plan, design)
    datum = plan.job.tapes.datum or "the datum"
    yield from _plan(plan, design, say, width)
    for leave in leaves(plan, design):
        box = (width, WALL)
        yield (
            f"wall {shelf} {leave.wall}",
            partial(views.elevation_view, design, leave.wall, leave, say, box, datum),
        )
    for rod in views.stations([r for r in design.frame.rods if r.wall not in held]):
        yield (
            f"section {shelf} {rod}",
            partial(views.section_view, design, rod, say, (width, SECTION)),
        )
    yield from _of_ways(design, say, width, held)
    if layout.scribed(design.room, design.spec):
        yield f"strips {shelf}", partial(template_view, design, say, (width, STRIPS))
    if not held:
        spans = views.stretches(design, width)
        high = WHOLE if len(design.frame.legs) > 1 else CORE if len(spans) == 1 else STRETCH
        for k, span in enumerate(spans, 1):
            part = span if len(spans) > 1 else None
            view = partial(views.core_map_view, design, say, (width, high), span=part)
            yield core_name(shelf, k), view
    yield from _clamps(plan, design, width)
    surface, lines = design.holds.surface, design.holds.lines
    if surface is not None:
        box = (width, HALF)
        yield f"drop {shelf}", partial(views.drop_view, design, surface, say, box, held)
    if design.holds.laid is not None and not held:
        high = LAID if len(design.frame.legs) == 1 else WHOLE
        yield f"loads {shelf}", partial(views.laid_view, design, design.holds.laid, (width, high))
    if any(rod.wall not in held for rod in design.frame.rods) and lines:
        yield (
            f"forces {shelf}",
            partial(views.forces_view, design, lines, say, (width, WHOLE), held),
        )


def _clamps(plan: Plan, design: Design, width: float) -> Iterator[tuple[str, View]]:
    """The clamp map of a section; it shows no rod, and needs no leave to drill."""
    made = shop.Made(design.spec, design.frame, design.core, design.parts)
    with suppress(shop.TooColdError):
        up = shop.glue_up(plan.job.shop, made)
        if up is not None:
            title = f"Clamp map, shelf {design.spec.title}"
            view = partial(views.clamp_view, title, design.frame.outline, up.cauls, (width, CLAMPS))
            yield f"clamps {design.spec.id}", view


def shop_drawings(plan: Plan) -> dict[str, Inked]:
    """Return the drawings of the shop's pages alone: clamp maps and the place for the finish sample.

    Args:
        plan: the whole job.
    """
    made: dict[str, Inked] = {}
    say, width = Say.of(plan.job.meta, own_names(plan)), width_of(plan.job.meta)
    wanted = [each for design in plan.designs for each in _clamps(plan, design, width)]
    for name, view in (*wanted, ("sample", quote.sample_place)):
        with suppress(draw.TooLarge):
            drawing = drawn(view(), say)
            made[name] = Inked(drawing, draw.svg(drawing))
    return made


def playing(plan: Plan) -> dict[str, str]:
    """Return the fitting of each shelf that has a way as an SVG that plays, by the name "fitting corner".

    Args:
        plan: the whole job.
    """
    say, made = Say.of(plan.job.meta), {}
    for design in plan.designs:
        if design.way and design.way.moves:
            with suppress(draw.TooLarge):
                scene = views.playing_view(design, say, SCREEN, held_walls(plan, design))
                made[f"fitting {design.spec.id}"] = draw.play(scene)
    return made


def _of_ways(
    design: Design, say: Say, width: float, held: frozenset[str]
) -> Iterator[tuple[str, View]]:
    shelf = design.spec.id
    if design.way:
        if len(design.way.moves) > 1:
            yield f"room {shelf}", partial(views.room_view, design, say, (width, MOVE), held)
        # The one page of a single move has all that is done at home on it, too.
        high = MOVE if len(design.way.moves) > 1 else ONE_MOVE
        for k in range(len(design.way.moves)):
            view = partial(views.move_view, design, k, say, (width, high), held)
            yield f"move {shelf} {k + 1}", view
        hold_off = scribing(design.way).hold_off
        if hold_off > 0:
            box = (width, MOVE)
            yield f"scribe {shelf}", partial(views.scribe_view, design, hold_off, say, box, held)
    if compared(design):
        for way in design.ways.ways:
            box = ((width - GUTTER) / 2, WAY)
            yield f"way {shelf} {way.id}", partial(views.way_view, design, way, say, box, held)


def _of_options(
    plan: Plan, design: Design, say: Say, width: float, memo: Memo
) -> Iterator[tuple[str, View]]:
    found, held = others(plan, design, memo), held_walls(plan, design)
    box = ((width - GUTTER) / 2, WAY)
    for each in found:
        if each.designs:
            name = titled(option_name(each, say))
            yield (
                f"option {design.spec.id} {each.id}",
                partial(views.option_view, name, each.designs, say, box, held),
            )
    if found and len(design.ways.ways) == 1 and design.way:
        way = design.ways.ways[0]
        yield (
            f"way {design.spec.id} {way.id}",
            partial(views.way_view, design, way, say, box, held),
        )


def cutting(plan: Plan) -> dict[str, tuple[draw.Operation, ...]]:
    """Return what goes to DXF in real size, a layer for each operation.

    The template is the outline, finished, before the scribe, and as sawn in straight cuts. The core map has the
    outline, that of the skins without the edging, every piece of the core and every channel; there is none of a
    shelf with a wall that may not be drilled.
    Ledger and comb of every wall that may be drilled have a file each.

    Args:
        plan: the whole job.
    """
    made: dict[str, tuple[draw.Operation, ...]] = {}
    for design in plan.designs:
        name = f" {design.spec.id}" if len(plan.designs) > 1 else ""
        frame = design.frame
        made[f"template{name}"] = (
            ("FINISHED", _rings("cut", [frame.outline])),
            ("BLANK", _rings("seen", [frame.blank])),
            *_straight(plan, design),
        )
        if design.core and not held_walls(plan, design):
            cuts = design.way.channels if design.way else frame.slots
            made[f"core_map{name}"] = (
                ("OUTLINE", _rings("cut", [frame.outline])),
                ("SKIN", _rings("seen", [_skin(design)])),
                ("CORE", _rings("seen", [p.plan for p in design.core.pieces])),
                ("CHANNEL", _rings("slot", [c.plan for c in cuts])),
            )
    made |= {name: guide_tiles.operations(found) for name, _, found in guide_tiles.guided(plan)}
    return made


def _skin(design: Design) -> Ring:
    """The outline of the skins: the finished one less the edging."""
    skin = layout.skin_plan(design.frame.outline, design.spec, design.frame)
    return tuple((float(x), float(y)) for x, y in skin.exterior.coords[:-1])


def _straight(plan: Plan, design: Design) -> tuple[draw.Operation, ...]:
    """The outline as sawn in straight cuts; nothing where nothing is scribed."""
    found = cuts.edges(plan, design)
    if not found:
        return ()
    sawn = layout.sawn_outline(design.room, design.spec, design.frame, found)
    return (("STRAIGHT_CUTS", _rings("cut", [sawn])),)


def outlines(plan: Plan) -> dict[str, str]:
    """Return the outline of each scribed shelf at true size as SVG, by the name "template" or "template corner".

    Args:
        plan: the whole job.
    """
    say, made = Say.of(plan.job.meta, own_names(plan)), {}
    for design in plan.designs:
        name = f" {design.spec.id}" if len(plan.designs) > 1 else ""
        if found := cuts.edges(plan, design):
            drawing = drawn(tiles.outline_drawing(plan, design, found), say)
            made[f"template{name}"] = draw.svg(drawing)
    return made


def guides(plan: Plan) -> dict[str, str]:
    """Return ledger, comb and guide blocks at true size as SVG, by names such as "guide corner A block".

    Args:
        plan: the whole job.
    """
    say = Say.of(plan.job.meta, own_names(plan))
    return {
        f"{name} {part}": draw.svg(drawn(drawing, say))
        for name, design, found in guide_tiles.guided(plan)
        for part, drawing in guide_tiles.whole_drawings(plan, design, found).items()
    }


def _rings(layer: draw.Layer, rings: Iterable[Ring]) -> tuple[draw.Polyline, ...]:
    return tuple(draw.Polyline(layer, ring, closed=True) for ring in rings)


def picture(made: Drawings, name: str) -> Picture | None:
    """Return a drawing set for a page at its own scale, or None if there is none of that name.

    Args:
        made: from `drawings`.
        name: of the drawing.
    """
    if name not in made:
        return None
    drawing, svg = made[name].drawing, made[name].svg
    width, height = _paper(svg)
    return Picture(svg, width, height, scale(drawing.scale), drawing.title)


def scale(value: float) -> str:
    """Return a scale as it is written on a drawing, "1:8" or "full size"."""
    ratio = Fraction(value).limit_denominator(1000)
    return "full size" if ratio == 1 else f"{ratio.numerator}:{ratio.denominator}"


def _paper(svg: str) -> tuple[float, float]:
    """Read the size on paper (mm) from the head of our own SVG, where it stands in whole."""
    head = svg[: svg.index(">")]
    width, height = (head.split(f' {side}="')[1].split("mm")[0] for side in ("width", "height"))
    return float(width), float(height)
