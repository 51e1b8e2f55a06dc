"""One wall as you face it: studs by their edges, the shelf's band, and the holes where there is leave."""

from __future__ import annotations

from collections.abc import Sequence

from ledgewright.draw import Circle, Drawing, Fill, Item, Polyline, Running, Text, Ticks, fit
from ledgewright.judge import Design
from ledgewright.plane import Point, Ring
from ledgewright.sheets.say import Say
from ledgewright.sheets.views.common import Shown, extent, figure, near_edge, shown, wrapped
from ledgewright.site import Drill, Hole, Leave
from ledgewright.survey import Obstacle

Window = tuple[Point, Point]
ABOVE, BELOW = 6.0, 12.0  # how much wall is shown over and under the shelf, mm of paper


def elevation_view(
    design: Design,
    wall: str,
    leave: Leave | None,
    say: Say,
    box: tuple[float, float],
    datum: str = "the datum",
) -> Drawing:
    """Return one wall as faced; holes, their heights and sizes appear only with a `Drill` for this wall.

    Args:
        design: the shelf.
        wall: id of the wall.
        leave: what may be done to it; anything but a `Drill` shows studs and a note.
        say: how the job writes.
        box: width and height of the paper there is (mm).
        datum: what heights count from, in words.

    Raises:
        KeyError: if the shelf has no leg on that wall.
        TooLarge: if it does not go on the paper at any round scale.
    """
    view = next((v for v in shown(design) if v.wall.id == wall), None)
    if view is None:
        raise KeyError(wall)
    drill = leave if isinstance(leave, Drill) and leave.wall == wall else None

    def items(scale: float) -> list[Item]:
        window = _window(design, view, scale)
        made = [*_studs(view, window), *_things(view, window), *_band(design, view, drill)]
        made += _holes(view, drill.holes) if drill else [_withheld(view, design, say)]
        made.append(_running(view, drill, window, say))
        return [
            *made,
            *_heights(design, view, drill, window, say),
            *_under(view, window, datum, scale),
        ]

    title = f"Wall {view.wall.called} as you face it, shelf {design.spec.title}"
    said = "with each hole" if drill else "with its studs; holes are withheld"
    return fit(title, f"Wall {view.wall.called} seen from the room, {said}", items, box)


def _window(design: Design, view: Shown, scale: float) -> Window:
    top = design.frame.top
    low = top - design.frame.thick - BELOW / scale
    return ((view.span[0], low), (view.span[1], top + ABOVE / scale))


def _rectangle(a: Point, b: Point) -> Ring:
    return (a, (b[0], a[1]), b, (a[0], b[1]))


def _studs(view: Shown, window: Window) -> list[Item]:
    """Return the members behind the lining; blocking runs only as high as it is."""
    (_, low), (_, high) = window
    items: list[Item] = []
    for m in view.members:
        foot, head = (low, high) if m.up is None else (max(low, m.up[0]), min(high, m.up[1]))
        if foot >= head:
            continue
        items.append(Fill("hatch", _rectangle((m.left, foot), (m.right, head)), "tone"))
        items += [Polyline("hidden", ((x, foot), (x, head))) for x in (m.left, m.right)]
    return items


def _things(view: Shown, window: Window) -> list[Item]:
    """Return the obstacles on the wall and, at a corner, the other wall's edge."""
    (left, low), (right, high) = window
    items: list[Item] = []
    for item in view.obstacles:
        items += _thing(view, item, window)
    for x, end in ((left, view.leg.left_end), (right, view.leg.right_end)):
        if end != "free":
            items.append(Polyline("wall", ((x, low), (x, high))))
    return items


def _thing(view: Shown, item: Obstacle, window: Window) -> list[Item]:
    (_, low), (_, high) = window
    left, right = extent(view.wall, item)
    left, right = max(left, view.span[0]), min(right, view.span[1])
    foot, head = max(low, item.up[0]), min(high, item.up[1])
    if foot >= head:
        return []
    ring = _rectangle((left, foot), (right, head))
    return [
        Fill("cut", ring, "paper"),
        Fill("hatch", ring, "section back"),
        Polyline("cut", ring, closed=True),
    ]


def _band(design: Design, view: Shown, drill: Drill | None) -> list[Item]:
    """Return the shelf's front as a band one can see the studs through."""
    top, thick, leg = design.frame.top, design.frame.thick, view.leg
    ring = _rectangle((leg.start, top - thick), (leg.end, top))
    items: list[Item] = [Polyline("cut", ring, closed=True)]
    if not drill:
        return items
    heights = {h.up for h in drill.holes}
    items += [Polyline("datum", ((view.span[0], y), (view.span[1], y))) for y in sorted(heights)]
    return items


def _holes(view: Shown, holes: Sequence[Hole]) -> list[Item]:
    items: list[Item] = []
    for h in holes:
        at = (view.wall.taped(h.taped), h.up)
        items += [
            Circle("cut", at, h.bit / 2),
            Ticks("dimension", (at,), (1.0, 0.0), 7.0),
            Ticks("dimension", (at,), (0.0, 1.0), 7.0),
            Text(at, h.mark, 5.0, "middle", "head", nudge=(0.0, -5.5), bold=True, clear=True),
        ]
    return items


def _places(view: Shown, drill: Drill | None) -> list[tuple[float, str]]:
    """Return what is dimensioned: each hole between the edges of its stud, else the studs; what stands beside.

    Figures are as the tape shows them.
    """
    wall, leg = view.wall, view.leg
    named: list[tuple[float, str]] = []
    for h in drill.holes if drill else ():
        named += [(h.edges[0], ""), (h.taped, h.mark), (h.edges[1], "")]
    if drill is None:
        named += [(wall.taped(x), "") for m in view.members for x in (m.left, m.right)]
    named += [(wall.taped(near_edge(view, item)), item.id) for item in view.obstacles]
    ends = ((leg.start, leg.left_end), (leg.end, leg.right_end))
    return named + [(wall.taped(x), "shelf ends") for x, end in ends if end == "free"]


def _running(view: Shown, drill: Drill | None, window: Window, say: Say) -> Running:
    head = window[1][1]
    named = _places(view, drill)
    points = tuple((view.wall.taped(taped), head) for taped, _ in named)
    labels = tuple(figure(name, say.bare(taped)) for taped, name in named)
    inside = window[0][0] - 1 <= 0.0 <= window[1][0] + 1
    zero = (0.0, head) if inside else None
    return Running(zero, points, labels, (1.0, 0.0), (0.0, head), 4.0, figure("0", "hook here"))


def _withheld(view: Shown, design: Design, say: Say) -> Text:
    middle = (view.leg.start + view.leg.end) / 2
    note = f"WITHHELD: wall {view.wall.mark} is not {say.word('confirmed')}. Drill nothing."
    spot = (middle, design.frame.top - design.frame.thick)
    return Text(spot, note, 4.6, "middle", "head", nudge=(0.0, -4.5), bold=True, clear=True)


def _heights(
    design: Design,
    view: Shown,
    drill: Drill | None,
    window: Window,
    say: Say,
) -> list[Item]:
    """Return the heights above the datum, at the end away from the hook."""
    top, thick = design.frame.top, design.frame.thick
    named = [(top, "TOP"), (top - thick, "underside")]
    if drill:
        named += [(y, "LEVEL LINE, holes") for y in sorted({h.up for h in drill.holes})]
    right = view.wall.tape_from == "left"
    x = window[1][0] if right else window[0][0]
    run = Running(
        None,
        tuple((x, y) for y, _ in named),
        tuple(figure(name, say.bare(y)) for y, name in named),
        (0.0, 1.0),
        (x, 0.0),
        -3.0 if right else 3.0,
    )
    return [run]


def _under(view: Shown, window: Window, datum: str, scale: float) -> list[Item]:
    """Return which side is which, and where the figures count from."""
    (left, low), (right, _) = window
    hook = f"Tape from the {view.wall.tape_from} end as you face the wall. Heights from {datum}."
    note = wrapped(hook, max((right - left) * scale, 90.0), 3.6)
    return [
        Text((left, low), "LEFT", 4.2, "start", "head", nudge=(0.0, -2.0), bold=True),
        Text((right, low), "RIGHT", 4.2, "end", "head", nudge=(0.0, -2.0), bold=True),
        Text(((left + right) / 2, low), note, 3.6, "middle", "head", nudge=(0.0, -7.0)),
    ]
