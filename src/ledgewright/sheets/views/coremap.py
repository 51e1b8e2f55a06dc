"""The core with the top skin off: pieces by letter, and where no wood may stand."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Spot
from shapely.geometry.base import BaseGeometry

from ledgewright import plane
from ledgewright.core import Core, Piece
from ledgewright.draw import (
    Circle,
    Drawing,
    Fill,
    Item,
    Polyline,
    Running,
    Text,
    cap_height,
    fit,
    lay_item,
    text_ring,
    text_width,
)
from ledgewright.fitting import Channel
from ledgewright.judge import Design
from ledgewright.layout import LegAt, Slot
from ledgewright.plane import Line, Point, Ring
from ledgewright.sheets.say import Say
from ledgewright.sheets.views.aside import at_back, under_map
from ledgewright.sheets.views.common import Held, Span, cuts, figure, under, wrapped
from ledgewright.sheets.views.facing import facing
from ledgewright.sheets.views.standing import disc
from ledgewright.sheets.views.stretch import broken_off, on, within
from ledgewright.survey import Wall

LETTER = 3.6
LEGEND = "Cross-hatched: NO WOOD, no glue, no screw. Pieces are numbered as in their list.\n"
WRAP = 150.0  # a line of the legend is no longer than this, mm of paper
LOCK = 1.5  # radius of the ring of a lock, mm of paper
OVER = 0.7  # a number may be so much wider than its own piece to either side, mm of paper
TOUCH = 0.05  # what a number may cover of another thing, mm2 of paper: the outline of its neighbour
LED = 2.0  # from a piece to its number that stands off it, mm of paper
FAR = 12  # so many times that a number may stand off in front of the shelf
DOT = 0.4  # radius of the dot where its line ends on the piece, mm of paper
EASED = 1.4  # least length of the stroke across an eased corner of a mouth, mm of paper
AT_BACK = 0.6  # a corner of a channel this near the back edge is a corner of its mouth, mm


def core_map_view(
    design: Design,
    say: Say,
    box: tuple[float, float],
    held: Held = frozenset(),
    span: Span | None = None,
) -> Drawing:
    """Return the core map, with running dimensions from the back left corner of each leg.

    Where a wall of the shelf may not be drilled there is no map at all: slots and ribs give holes away.

    Args:
        design: the shelf.
        say: how the job writes.
        box: width and height of the paper there is (mm).
        held: walls that nobody may drill.
        span: the stretch of a straight shelf that is drawn, one of `stretches`; all of it if None.

    Raises:
        ValueError: if a rod of the shelf is on a wall that nobody may drill.
        TooLarge: if it does not go on the paper at any round scale.
    """
    if shut := sorted(held & {r.wall for r in design.frame.rods}):
        msg = f"wall {', '.join(shut)} may not be drilled, and a core map would give its holes away"
        raise ValueError(msg)
    numbers = piece_numbers(design.core)
    design = facing(within(design, span) if span else design)
    frame = design.frame
    pieces = design.core.pieces if design.core else ()

    def items(scale: float) -> list[Item]:
        made: list[Item] = []
        for piece in pieces:
            made += [Fill("hatch", piece.plan, "wood"), Polyline("seen", piece.plan, closed=True)]
        for cut in cuts(design):
            made += _no_wood(cut.plan)
        made += [item for kept in _keep_outs(design) for item in kept]
        made.append(Polyline("cut", frame.outline, closed=True))
        made += [stroke for cut in cuts(design) for stroke in _mouth(design, cut, scale)]
        made += [item for at in _locks(design) for item in _ringed(at, scale)]
        words = [_cut_words(design, cut, scale) for cut in cuts(design)]
        made += [*words, *_numbers(design, numbers, words, scale)]
        made += [_leg(design, leg, numbers, say, span) for leg in frame.legs]
        for leg in frame.legs if span else ():
            made += broken_off(design.room.wall(leg.wall), leg, span or (0.0, 0.0), scale)
        return [*made, under(made, scale, _legend(design, say))]

    title = f"Core map, shelf {design.spec.title}"
    if span:
        start = frame.legs[0].start
        title += f", from {say.bare(span[0] - start)} to {say.bare(span[1] - start)}"
    said = (
        "The core from above with the top skin off: pieces by letter, slots where no wood may stand"
    )
    return fit(title, said, items, box)


def _free(leg: LegAt) -> list[str]:
    ends = {"left": leg.left_end, "right": leg.right_end}
    return [name for name, end in ends.items() if end == "free"]


def _legend(design: Design, say: Say) -> str:
    # No line more than without it: the map is drawn at the scale that its words leave.
    along = "Figures count from the back left corner of each leg, along the back."
    if any("left" in _free(leg) for leg in design.frame.legs):
        thick = say.thickness(design.spec.edging_thick)
        zero = f"0 at the left end is the outside of its edging: the skins begin {thick} in."
        along = f"Figures count along each back; {zero}"
    kinds = {k.kind for k in design.core.keep_outs} if design.core else set()
    told = {
        "A ringed dot is a lock": bool(_locks(design)),
        "strokes across a mouth: corners eased": any(isinstance(c, Channel) for c in cuts(design)),
        "dashed: the light groove in the bottom skin": "light groove" in kinds,
        "a cable way is cross-hatched too": "cable way" in kinds,
    }
    more = "; ".join(words for words, there in told.items() if there)
    words = [along, f"{more[:1].upper()}{more[1:]}." if more else ""]
    lean = under_map(design, say)
    # It goes on behind the shorter line, for each line more may draw the map smaller.
    least = 0 if not words[1] or len(words[0]) <= len(words[1]) else 1
    words[least] = " ".join(filter(None, (words[least], lean)))
    return LEGEND + "\n".join(wrapped(each, WRAP, 3.6) for each in words if each)


def _keep_outs(design: Design) -> list[list[Item]]:
    kept = design.core.keep_outs if design.core else ()
    return [
        _no_wood(each.plan) if each.through else [Polyline("hidden", each.plan, closed=True)]
        for each in kept
    ]


def _locks(design: Design) -> list[Point]:
    """Where locks go; no sealant on a bar that is glued in, it would spoil the bond."""
    none = {r.id for r in design.frame.rods if r.in_slot == "glued"}
    sealed = design.spec.lock.kind == "sealant"
    locks = design.core.locks if design.core else ()
    return [lock.at for lock in locks if not (sealed and lock.rod in none)]


def _ringed(at: Point, scale: float) -> list[Item]:
    """A dot in a ring, on white so that it is seen in a hatched slot."""
    return [
        Fill("mark", disc(at, LOCK / scale), "paper"),
        Circle("mark", at, LOCK / scale),
        Fill("mark", disc(at, LOCK / scale / 3), "solid"),
    ]


def _mouth(design: Design, cut: Channel | Slot, scale: float) -> list[Item]:
    """A stroke at 45 degrees across either corner of a mouth that is eased, long enough to be seen."""
    if not isinstance(cut, Channel) or cut.funnel <= 0:
        return []
    wall = next(r.wall for r in design.frame.rods if r.id == cut.rod)
    leg = next(g for g in design.frame.legs if g.wall == wall)
    back = LineString(leg.back)
    at_back = [p for p in cut.plan if back.distance(Spot(p)) < AT_BACK]
    along = plane.unit(plane.sub(leg.front[1], leg.front[0]))
    if len(at_back) < 2:
        return []
    reach = max(cut.funnel, EASED / scale)
    ends = (
        (min(at_back, key=lambda p: plane.dot(p, along)), plane.scale(along, -reach)),
        (max(at_back, key=lambda p: plane.dot(p, along)), plane.scale(along, reach)),
    )
    inward = plane.scale(plane.right(along), reach)
    return [Polyline("mark", (plane.add(p, aside), plane.add(p, inward))) for p, aside in ends]


def _no_wood(ring: Ring) -> list[Item]:
    return [
        Fill("cut", ring, "paper"),
        Fill("slot", ring, "no wood"),
        Polyline("slot", ring, closed=True),
    ]


def piece_numbers(core: Core | None) -> dict[str, str]:
    """Return the number each piece has on the map, by its id: its place in the list of pieces, from 1."""
    return {piece.id: str(k + 1) for k, piece in enumerate(core.pieces if core else ())}


def _numbers(
    design: Design, numbers: dict[str, str], words: Sequence[Text], scale: float
) -> list[Item]:
    """Return the number of each piece, on it where it goes on, else off it with a line to it.

    Pieces that have room for their number alone come first, so that none loses its place to another's.
    """
    pieces = design.core.pieces if design.core else ()
    solid = [_on_paper(p.plan, scale) for p in pieces]
    other: list[BaseGeometry] = [_on_paper(cut.plan, scale) for cut in cuts(design)]
    other += [Spot(plane.scale(at, scale)).buffer(LOCK) for at in _locks(design)]
    other += [_on_paper(k.plan, scale) for k in (design.core.keep_outs if design.core else ())]
    outline = _on_paper(design.frame.outline, scale)
    written: list[BaseGeometry] = [_box(text, scale) for text in words]
    placed: list[Item] = []
    off: list[tuple[Piece, Polygon]] = []
    for piece, own in zip(pieces, solid, strict=True):
        rest = (*(each for each in solid if each is not own), *other)
        sheet = _Paper(outline, rest, tuple(written), scale)
        text = _on_piece(piece, numbers[piece.id], own, sheet)
        if text is None:
            off.append((piece, own))
            continue
        written.append(_box(text, scale))
        placed.append(text)
    # A short piece has few places to lead to: it chooses before the long ones.
    for piece, own in sorted(off, key=lambda each: max(each[0].length, each[0].width)):
        sheet = _Paper(outline, (*solid, *other), tuple(written), scale)
        text, line = _led(piece, numbers[piece.id], own, sheet)
        written += [_box(text, scale), sheet.drawn(line)]
        placed += [Polyline("dimension", line), _dot(line[0], scale), text]
    return placed


def _dot(at: Point, scale: float) -> Item:
    return Fill("dimension", disc(at, DOT / scale), "solid")


def _on_paper(ring: Ring, scale: float) -> Polygon:
    return Polygon([plane.scale(p, scale) for p in ring])


def _box(text: Text, scale: float) -> Polygon:
    """Return the box of one label on paper."""
    flats = lay_item(replace(text, clear=False), scale)
    return Polygon(plane.hull([p for t in flats if isinstance(t, Text) for p in text_ring(t)]))


@dataclass(frozen=True)
class _Paper:
    """What already stands on the map (mm of paper): the outline, pieces and slots, lettering."""

    outline: Polygon
    solid: tuple[BaseGeometry, ...]
    written: tuple[BaseGeometry, ...]
    scale: float

    def blank(self, text: Text) -> bool:
        """Whether a label would stand in a hollow, on nothing."""
        box = _box(text, self.scale)
        taken = (*self.solid, *self.written)
        return bool(self.outline.contains(box)) and not any(box.intersects(x) for x in taken)

    def clear(self, text: Text) -> bool:
        """Whether a label would cover no lettering and nothing else that stands there, and no edge of the shelf."""
        box = _box(text, self.scale)
        taken = (*self.solid, *self.written)
        return bool(self.outline.contains(box)) and not any(_covers(box, x) for x in taken)

    def outside(self, text: Text) -> bool:
        """Whether a label would stand off the shelf, on no lettering."""
        box = _box(text, self.scale)
        off = self.outline.distance(box) >= LED / 2
        return off and not any(box.intersects(x) for x in self.written)

    def unwritten(self, line: Line) -> bool:
        """Whether a line to a piece crosses no lettering and no other such line."""
        drawn = self.drawn(line)
        return not any(drawn.intersects(x) for x in self.written)

    def reached(self, line: Line, own: BaseGeometry) -> bool:
        """Whether a line to a piece crosses no other piece."""
        drawn = self.drawn(line)
        return not any(drawn.intersects(x) for x in self.solid if x is not own)

    def drawn(self, line: Line) -> LineString:
        """Return a line as it lies on the paper (mm)."""
        return LineString([plane.scale(p, self.scale) for p in line])


def _covers(box: BaseGeometry, other: BaseGeometry) -> bool:
    return bool(box.intersects(other)) and box.intersection(other).area > TOUCH


def _on_piece(piece: Piece, number: str, own: Polygon, paper: _Paper) -> Text | None:
    """Return a number along its piece, whole inside it or a little wider than it; None where it would cover more."""
    upright = [
        Text(spot, number, LETTER, "middle", "middle", bold=True, clear=True)
        for spot in _spots(piece)
    ]
    both = [*upright, *(replace(text, angle=math.pi / 2) for text in upright)]
    free = [text for text in both if paper.clear(text)]
    wider = own.buffer(OVER, join_style="mitre")
    for room in (own, wider):
        for text in free:
            if room.contains(_box(text, paper.scale)):
                return text
    return None


def _led(piece: Piece, number: str, own: Polygon, paper: _Paper) -> tuple[Text, Line]:
    """Return a number off its piece and the line from the piece to it: in a hollow, else off the shelf."""
    found = [
        (text, line)
        for spot in _spots(piece)
        for nudge in _asides(piece, number, paper.scale)
        for text, line in (_line(spot, nudge, number, paper.scale),)
    ]
    hollow = [each for each in found if paper.blank(each[0])]
    front = [each for each in found if each[0].nudge[1] < 0 and paper.outside(each[0])]
    ends = [each for each in found if not each[0].nudge[1] and paper.outside(each[0])]
    plain = [each for each in (*hollow, *ends, *front) if paper.unwritten(each[1])]
    straight = [each for each in hollow if each in plain and paper.reached(each[1], own)]
    legible = [each for each in found if not _written_on(each[0], paper)]
    alone = [each for each in legible if paper.unwritten(each[1])]
    apart = [each for each in alone if paper.clear(each[0]) or paper.outside(each[0])]
    return next(iter((*straight, *plain, *apart, *alone, *legible, *found)))


def _written_on(text: Text, paper: _Paper) -> bool:
    box = _box(text, paper.scale)
    return any(box.intersects(x) for x in paper.written)


def _line(spot: Point, nudge: Point, number: str, scale: float) -> tuple[Text, Line]:
    """A number off its spot by so much of paper, and the line from the spot to the nearer edge of the number."""
    half = (text_width(number, LETTER, bold=True) / 2 + 0.3, cap_height(LETTER) / 2 + 0.4)
    back = min(h / abs(n) for h, n in zip(half, nudge, strict=True) if abs(n) > 1e-9)
    end = plane.along(spot, nudge, (1 - back) / scale)
    text = Text(spot, number, LETTER, "middle", "middle", nudge=nudge, bold=True)
    return text, (spot, end)


def _spots(piece: Piece) -> list[Point]:
    """Return places along the middle of a piece, its centre first."""
    x0, y0, x1, y1 = plane.box(piece.plan)
    centre = plane.centroid(piece.plan)
    reach = (x1 - x0, 0.0) if x1 - x0 > y1 - y0 else (0.0, y1 - y0)
    parts = (0.0, -0.15, 0.15, -0.3, 0.3, -0.42, 0.42)
    return [plane.along(centre, reach, part) for part in parts]


def _asides(piece: Piece, number: str, scale: float) -> list[Point]:
    """Return steps off a piece to its four sides, nearer and further (mm of paper)."""
    x0, y0, x1, y1 = plane.box(piece.plan)
    x = (x1 - x0) * scale / 2 + text_width(number, LETTER, bold=True) / 2
    y = (y1 - y0) * scale / 2 + cap_height(LETTER) / 2
    near = [s for by in (LED, 3 * LED) for s in ((x + by, 0.0), (-x - by, 0.0))]
    near += [s for by in (LED, 3 * LED) for s in ((0.0, -y - by), (0.0, y + by))]
    return near + [(0.0, -y - k * LED) for k in range(1, FAR + 1)]


def _cut_words(design: Design, cut: Channel | Slot, scale: float) -> Text:
    """NO WOOD is written where it goes in; a narrow slot has its mark alone, nearer its inner end."""
    rod = next(r for r in design.frame.rods if r.id == cut.rod)
    x0, y0, x1, y1 = plane.box(cut.plan)
    room = min(x1 - x0, y1 - y0) * scale > text_width("NO WOOD", LETTER, bold=True) + 1.0
    words = f"NO WOOD\n{rod.mark}" if room else rod.mark
    spot = plane.centroid(cut.plan)
    if not room:
        spot = plane.along(spot, (rod.axis[0], rod.axis[1]), 0.2 * rod.projection)
    return Text(spot, words, LETTER, "middle", "middle", bold=True, clear=True)


def _leg(
    design: Design, leg: LegAt, numbers: dict[str, str], say: Say, span: Span | None
) -> Running:
    """Return the running dimensions of one leg: slots where they cross the back, ribs by their centres."""
    wall = design.room.wall(leg.wall)
    back = min(wall.figures(p)[1] for p in leg.back)
    named: list[tuple[float, str]] = []
    for cut in cuts(design):
        rod = next(r for r in design.frame.rods if r.id == cut.rod)
        if rod.wall == wall.id:
            start, end = at_back(wall, leg, cut.plan)
            named += [(start, f"{rod.mark} from"), (end, f"{rod.mark} to")]
    named += [
        (wall.figures(plane.centroid(p.plan))[0], f"{p.kind} {numbers[p.id]} {say.word('center')}")
        for p in _pieces(design, leg, wall)
        if p.kind in {"rib", "block"}
    ]
    for kept in design.core.keep_outs if design.core else ():
        if kept.kind == "cable way" and kept.of == wall.id:
            start, end = at_back(wall, leg, kept.plan)
            named += [(start, "cable from"), (end, "cable to")]
    if leg.right_end != "corner":
        named.append((leg.end, "end"))
    named = [(x, name) for x, name in named if on(span, x)]
    begin = span[0] if span else leg.start
    # Behind an outside corner stands the other leg: there the figures go in front.
    outside = design.frame.turn == "outside"
    line = leg.band + leg.depth if outside else back
    return Running(
        wall.at(leg.start, line) if on(span, leg.start) else None,
        tuple(wall.at(x, line) for x, _ in named),
        tuple(figure(name, say.bare(x - leg.start)) for x, name in named),
        wall.direction,
        wall.at(begin, line),
        -5.0 if outside else 5.0,
    )


def _pieces(design: Design, leg: LegAt, wall: Wall) -> list[Piece]:
    """Return the pieces that lie in a leg; in the square of the corner they count to the first leg."""
    pieces = design.core.pieces if design.core else ()
    return [p for p in pieces if home(design, plane.centroid(p.plan)) == wall.id]


def home(design: Design, spot: Point) -> str:
    """Return the wall of the leg that a place lies in; the square of a corner counts to the first leg."""
    for leg in design.frame.legs:
        wall = design.room.wall(leg.wall)
        along, out = wall.figures(spot)
        back = min(wall.figures(p)[1] for p in leg.back)
        if leg.start <= along <= leg.end and back <= out <= leg.band + leg.depth:
            return leg.wall
    return design.frame.legs[0].wall
