"""A true section through one rod: stud, lining, rod, slot, skins, core, edging."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from ledgewright import plane
from ledgewright.draw import (
    LETTERING,
    Chain,
    Drawing,
    Fill,
    Item,
    Leader,
    Pattern,
    Polyline,
    Text,
    fit,
)
from ledgewright.judge import Design
from ledgewright.layout import Rod
from ledgewright.plane import Point, Ring
from ledgewright.sheets.say import Say
from ledgewright.sheets.views.common import Shown, Span, crossings, cuts, shown, tip

STUD_OVER = 21.0  # how much stud is shown over and under the shelf, mm of paper


def section_view(
    design: Design, rod: str, say: Say, box: tuple[float, float], *, held: bool = False
) -> Drawing:
    """Return the section along a rod's axis, the wall on the left and the front on the right.

    Args:
        design: the shelf.
        rod: id of the rod.
        say: how the job writes.
        box: width and height of the paper there is (mm).
        held: whether its wall may not be drilled; then neither rod, hole nor slot is shown.

    Raises:
        KeyError: if the shelf has no such rod.
        TooLarge: if it does not go on the paper at any round scale.
    """
    found = next((r for r in design.frame.rods if r.id == rod), None)
    if found is None:
        raise KeyError(rod)
    cut = _Cut(design, found)

    def items(scale: float) -> list[Item]:
        over = STUD_OVER / scale
        made = [*cut.stud(over), *cut.shelf(), *cut.sizes(say, over, scale), *cut.words(say, scale)]
        if held:
            return [*made, cut.withheld(say)]
        return [*made, *cut.rod_and_hole(), *cut.rod_labels(say, scale), *cut.rod_sizes(say, over)]

    name = f"wall {cut.view.wall.mark}" if held else f"{say.word('rod')} {found.mark}"
    title = f"Section through {name}, shelf {design.spec.title}"
    return fit(title, f"{title}: stud, lining, skins, core and edging", items, box)


def _slab(x: Span, y: Span) -> Ring:
    return ((x[0], y[0]), (x[1], y[0]), (x[1], y[1]), (x[0], y[1]))


def _solid(x: Span, y: Span, pattern: Pattern) -> list[Item]:
    ring = _slab(x, y)
    return [
        Fill("cut", ring, "paper"),
        Fill("hatch", ring, pattern),
        Polyline("cut", ring, closed=True),
    ]


class _Cut:
    """One section: x counts along the rod's axis from the wood, y up from the datum."""

    def __init__(self, design: Design, rod: Rod) -> None:
        self.design, self.rod = design, rod
        self.view: Shown = next(v for v in shown(design) if v.wall.id == rod.wall)
        self.start: Point = (rod.origin[0], rod.origin[1])
        self.course: Point = (rod.axis[0], rod.axis[1])
        self.top = design.frame.top
        self.low = self.top - design.frame.thick
        self.core: Span = (
            self.low + design.spec.skin_bottom.thick,
            self.top - design.spec.skin_top.thick,
        )
        self.member = next((m for m in self.view.wall.members if m.id == rod.member), None)
        self.back, end = self._inside(design.frame.outline)[0]
        # In the square of an L's corner the axis runs on into the other leg: cut off at this leg's front line.
        self.front = min(end, self._front_line())
        self.goes_on = end - self.front > 1.0
        self.edging = 0.0 if self.goes_on else min(design.spec.edging_thick, end - self.back)

    def _front_line(self) -> float:
        """Return how far along the axis the straight front of the rod's own leg lies (mm)."""
        leg, wall = self.view.leg, self.view.wall
        out = wall.figures(self.start)[1]
        return (leg.band + leg.depth - out) / plane.dot(self.course, wall.outward)

    def _inside(self, ring: Ring) -> list[Span]:
        """Return the stretches of the axis inside a plan ring; a touch at the face counts as the face."""
        return crossings(ring, self.start, self.course) or [(self.rod.free, tip(self.rod))]

    def stud(self, over: float) -> list[Item]:
        """Return the stud and the lining, broken off above and below; a stud that stands back leaves a hollow."""
        y = (self.low - over, self.top + over)
        up = self.member.up if self.member and self.member.up else y
        wood = (max(y[0], up[0]), min(y[1], up[1]))
        items = _solid((-self.view.deep(self.member), 0.0), wood, "wood")
        behind = max(0.0, self.rod.free - self.view.to_wood)
        return items + (_solid((behind, self.rod.free), y, "board") if self.rod.free > 0 else [])

    def shelf(self) -> list[Item]:
        """Return skins, edging and the wood between the skins on this line."""
        inner = self.front - self.edging
        items = _solid((self.back, inner), (self.core[1], self.top), "section")
        items += _solid((self.back, inner), (self.low, self.core[0]), "section")
        if not self.goes_on:
            items += _solid((inner, self.front), (self.low, self.top), "section back")
        for span in self._wood(inner):
            items += _solid(span, self.core, "section back")
        return items

    def _wood(self, inner: float) -> list[Span]:
        pieces = self.design.core.pieces if self.design.core else ()
        spans = [s for p in pieces for s in crossings(p.plan, self.start, self.course)]
        return sorted(
            (max(a, self.back), min(b, inner)) for a, b in spans if b > self.back and a < inner
        )

    def _slot_end(self) -> float:
        rings = [c.plan for c in cuts(self.design) if c.rod == self.rod.id]
        ends = [b for ring in rings for _, b in crossings(ring, self.start, self.course)]
        return max(ends, default=tip(self.rod) + self.rod.clearance.end)

    def rod_and_hole(self) -> list[Item]:
        """Return the hole with its ring of adhesive, and the bar in it."""
        rod, y = self.rod, self.rod.origin[2]
        half, bore = rod.bar.height / 2, rod.hole / 2
        inside = (-rod.embedment, 0.0)
        items: list[Item] = [
            Fill("cut", _slab((-rod.embedment, rod.free), (y - bore, y + bore)), "paper"),
            Fill("hatch", _slab(inside, (y + half, y + bore)), "glue"),
            Fill("hatch", _slab(inside, (y - bore, y - half)), "glue"),
            Polyline("cut", _slab((-rod.embedment, rod.free), (y - bore, y + bore)), closed=True),
        ]
        items += _solid((-rod.embedment, tip(rod)), (y - half, y + half), "steel")
        end = self._slot_end()
        items += [
            Polyline("slot", ((end, self.core[0]), (end, self.core[1]))),
            Polyline("centre", ((-rod.embedment - 8, y), (self.front + 8, y))),
        ]
        return items

    def rod_labels(self, say: Say, scale: float) -> list[Item]:
        """Return what the bar and the hole are, clear of the skins whatever the scale."""
        rod, y = self.rod, self.rod.origin[2]
        hole = f"hole {say.thickness(rod.hole)} dia, {rod.adhesive.name}"
        bar = f"{say.word('rod')} {rod.mark}, {rod.bar.name}\nsaw to {say.bare(rod.cut_length)}"
        return [
            Leader((rod.free + rod.projection * 0.3, y), (7.0, (self.top - y) * scale + 15.0), bar),
            Leader(
                (-rod.embedment * 0.5, y - rod.hole / 2 + 0.5),
                (24.0, (self.low - y) * scale - 13.5),
                hole,
            ),
        ]

    def rod_sizes(self, say: Say, over: float) -> list[Item]:
        """Return the chain along the rod and on to the end of its slot."""
        rod = self.rod
        y = self.top + over
        stops = [-rod.embedment, 0.0, rod.free, tip(rod), self._slot_end()]
        labels = tuple(say.bare(b - a) for a, b in pairwise(stops))
        at = tuple((x, y) for x in stops)
        return [Chain(at, labels, (1.0, 0.0), at[0], 5.0)]

    def sizes(self, say: Say, over: float, scale: float) -> list[Item]:
        """Return thicknesses at the front, and the depth of the shelf on this line."""
        x = self.front
        heights = [self.low, self.core[0], self.core[1], self.top]
        labels = tuple(say.caliper(b - a) for a, b in pairwise(heights))
        points = tuple((x, y) for y in heights)
        stack: list[Item] = [Chain(points, labels, (0.0, 1.0), (x, self.low), -6.0)]
        if min(b - a for a, b in pairwise(heights)) * scale > LETTERING:
            # Lettered along the line they would stand end to end, and nobody could tell whose each is.
            stack = [Chain(points, ("",) * len(labels), (0.0, 1.0), (x, self.low), -6.0)]
            stack += [
                Text((x, (a + b) / 2), label, LETTERING, "start", "middle", nudge=(8.0, 0.0))
                for label, (a, b) in zip(labels, pairwise(heights), strict=True)
            ]
        thick = Chain(
            ((x, self.low), (x, self.top)),
            (say.bare(self.top - self.low),),  # as cover and plan have it
            (0.0, 1.0),
            (x, self.low),
            -26.0,
        )
        depth = Chain(
            ((self.back, self.low), (x, self.low)),
            (say.bare(x - self.back),),
            (1.0, 0.0),
            (0.0, self.low - over),
            -4.5,
        )
        return [*stack, thick, depth]

    def words(self, say: Say, scale: float) -> list[Item]:
        """Return what each thing is, and which way round it stands."""
        spec, wall = self.design.spec, self.view.wall
        timber = wall.timber.name if wall.timber else ""
        kind = say.word("blocking") if self.member and self.member.kind == "blocking" else "stud"
        y = self.low - STUD_OVER / scale
        stud = Text(
            (-self.view.deep(self.member) / 2, y),
            f"{kind}\n{timber}",
            3.6,
            "middle",
            "head",
            nudge=(0, -2.0),
        )
        middle = (self.back + self.front) / 2
        top = Text((middle, self.top), "TOP", 4.4, "middle", "foot", nudge=(0, 1.2), bold=True)
        front = Text(
            (self.front, self.low), "FRONT", 4.4, "end", "head", nudge=(0, -2.0), bold=True
        )
        skin = Leader(
            (self.back + (self.front - self.back) * 0.2, (self.low + self.core[0]) / 2),
            (9.0, -spec.skin_bottom.thick * scale / 2 - 7.0),
            f"skin, {spec.skin_bottom.panel.name}",
        )
        if self.goes_on:
            on = Text((self.front, self.low), "goes on", 3.6, "end", "head", nudge=(0, -2.0))
            return [stud, top, skin, on]
        edge = Leader(
            (self.front - self.edging / 2, (self.top + self.core[1]) / 2),
            (-5.0, spec.skin_top.thick * scale / 2 + 8.0),
            f"{say.word('edging')}, {spec.edging.name}, {say.caliper(self.edging)}",
        )
        return [stud, top, front, skin, edge]

    def withheld(self, say: Say) -> Text:
        """Return the note that stands in the place of the rod."""
        wall = self.view.wall.mark
        known = say.word("confirmed")
        note = f"WITHHELD: wall {wall} is not {known}.\nNo hole is drawn."
        return Text(
            ((self.back + self.front) / 2, self.top),
            note,
            4.2,
            "middle",
            "foot",
            nudge=(0, 14),
            bold=True,
        )


def stations(rods: Sequence[Rod]) -> tuple[str, ...]:
    """Return one rod of each sort, in order: those that differ in bar, depths, hole or stick-out."""
    sorts: dict[object, str] = {}
    for r in rods:
        sort = (r.wall, r.bar, r.hole, r.embedment, round(r.free, 3), round(r.projection, 3))
        sorts.setdefault(sort, r.id)
    return tuple(sorts.values())
