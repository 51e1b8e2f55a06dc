"""The template of strips made up on site: its page, and its picture."""

from __future__ import annotations

from ledgewright import layout, plane
from ledgewright.draw import Drawing, Fill, Item, Polyline, Text, Ticks, fit
from ledgewright.judge import Design
from ledgewright.layout import Strip, Template
from ledgewright.plan import Plan
from ledgewright.sheets import cuts
from ledgewright.sheets.model import Note, Picture, Table, TemplateSheet
from ledgewright.sheets.say import Say
from ledgewright.sheets.views.common import end_walls, shown, upright, wall_items
from ledgewright.sheets.views.facing import facing


def template_sheet(plan: Plan, design: Design, picture: Picture | None) -> TemplateSheet:
    """Return the page for a strip template: strips to cut, where to read them, and what to do with the figures.

    Source: common practice: thin sheet ripped into strips, hot glue or screws, a brace over the corner, gaps read
    with a rule or a ticking stick at marked stations.

    Args:
        plan: the whole job.
        design: the shelf.
        picture: the lay-out.
    """
    say, made = Say.of(plan.job.meta), layout.template(design.room, design.spec)
    clear, joined = say.length(layout.OFF), len(made.strips) > 1
    return TemplateSheet(
        title="Strip template",
        about=f"shelf {design.spec.title}",
        unit=say.unit,
        picture=picture,
        strips=_strips(design, made, say),
        before=(
            f"Laid level at shelf height on props or stands, {clear} off the proudest point of each wall.",
            *(
                ("Strips fixed to each other and braced; nothing moves when it is lifted.",)
                if joined
                else ()
            ),
            "Marked TOP, FRONT, wall letters, and the hook end of each tape.",
        ),
        readings=tuple(_reading(design, strip, say) for strip in made.strips),
        tables=tuple(_table(design, strip, say) for strip in made.strips),
        across=_across(design, made, say),
        after=(
            "Found gaps go into the job as this wall's line, at these places; then run it again.",
            "At the bench the template lies on the blank, FRONT edges parallel; set off each gap, join the marks.",
            *cuts.past_corner(design, say),
            f"A gap further than {say.length(1.5)} from the one expected is read again before anything is cut.",
        ),
    )


def _strips(design: Design, made: Template, say: Say) -> Table:
    rows = [
        (
            f"Along wall {design.room.wall(strip.wall).called}",
            say.bare(strip.length),
            say.bare(layout.STRIP),
            _span(design, strip, say),
        )
        for strip in made.strips
    ]
    if made.brace:
        a, b = made.brace[0], made.brace[1]
        rows.append(
            (
                "Brace over the corner",
                say.bare(plane.length(plane.sub(b, a))),
                say.bare(layout.STRIP),
                "",
            )
        )
    return Table(
        heads=("Strip", "Length", "Width", "Lies from, to, same tape"),
        widths=(50, 30, 30, 60),
        figures=(1, 2),
        rows=tuple(rows),
    )


def _span(design: Design, strip: Strip, say: Say) -> str:
    wall = design.room.wall(strip.wall)
    ends = sorted(wall.taped(s) for s in (strip.start, strip.end))
    return f"{say.bare(ends[0])} to {say.bare(ends[1])}"


def _reading(design: Design, strip: Strip, say: Say) -> Note:
    wall = design.room.wall(strip.wall)
    return Note(
        f"Wall {wall.called}: gap from the strip to the wall",
        (
            (
                f"Along counts from the {wall.tape_from} end, as on the site measure. Expected comes from the gaps "
                f"in the job; write what you find beside it, to {'1/32' if say.units == 'in' else '0.5 mm'}."
            ),
        ),
    )


def _table(design: Design, strip: Strip, say: Say) -> Table:
    wall = design.room.wall(strip.wall)
    rows = [
        (say.bare(wall.taped(along)), say.bare(gap), "________") for along, gap in strip.readings
    ]
    half = (len(rows) + 1) // 2
    pairs = zip(rows[:half], [*rows[half:], ("", "", "")], strict=False)
    return Table(
        heads=("Along", "Expected", "Found") * 2,
        widths=(28, 28, 30) * 2,
        figures=(0, 1, 3, 4),
        rows=tuple((*a, *b) for a, b in pairs),
    )


def _across(design: Design, made: Template, say: Say) -> str:
    if made.mouth is not None:
        return (
            f"Between the outer edges of the two end strips, at the front: {say.length(made.mouth)}. Found: ________. "
            "The shelf goes in through that."
        )
    if made.across is None:
        return ""
    each = made.across
    left, right = (design.room.wall(w).mark for w in (each.left, each.right))
    return (
        f"From where the outer edges of the strips meet, mark {say.length(each.on_left)} along strip {left} and "
        f"{say.length(each.on_right)} along strip {right}: straight across it should read {say.length(each.across)}. "
        "Found: ________"
    )


def template_view(design: Design, say: Say, box: tuple[float, float]) -> Drawing:
    """Return the lay-out of the strip template against the walls, with its stations; no rod is shown.

    Args:
        design: the shelf.
        say: how the job writes.
        box: width and height of the paper there is (mm).

    Raises:
        TooLarge: if it does not go on the paper at any round scale.
    """
    design = facing(design)
    made = layout.template(design.room, design.spec)
    items: list[Item] = list(end_walls(design))
    for view in shown(design):
        items += wall_items(view)
    items.append(Polyline("hidden", design.frame.outline, closed=True))
    if made.brace:
        items += [Fill("cut", made.brace, "paper"), Polyline("seen", made.brace, closed=True)]
    for strip in made.strips:
        items += _strip_items(design, strip, say)
    if made.brace:
        at = plane.centroid(made.brace)
        items.append(Text(at, "BRACE", size=2.8, anchor="middle", base="middle", clear=True))
    return fit(
        f"Strip template, shelf {design.spec.title}",
        f"Strips of thin sheet along the walls behind shelf {design.spec.title}, from above, with the stations to read",
        lambda _: items,
        box,
    )


def _strip_items(design: Design, strip: Strip, say: Say) -> list[Item]:
    wall = design.room.wall(strip.wall)
    marks = tuple(wall.at(s, strip.out) for s, _ in strip.readings)
    middle = wall.at((strip.start + strip.end) / 2, strip.out + layout.STRIP / 2)
    return [
        Fill("cut", strip.plan, "paper"),
        Fill("hatch", strip.plan, "tone"),
        Polyline("cut", strip.plan, closed=True),
        Ticks("mark", marks, wall.direction, 3.0),
        Text(
            middle,
            f"STRIP {wall.mark}  {say.bare(strip.length)}",
            size=3.4,
            anchor="middle",
            base="middle",
            angle=upright(wall.direction),
            clear=True,
        ),
    ]
