"""Shelves as asked for, made up in a line or two; the figures of the demo scenes."""

from __future__ import annotations

from collections.abc import Sequence

from ledgewright.job import Back, Clearance, CoreSpec, Leg, Lock, RodSpec, Skin, Spec
from ledgewright.stock import Adhesive, Bar, Lumber, Panel

IN = 25.4
ASH = Lumber("ash", 690, 12000, None, "made up for the test", "assumed")
PLY = Panel("ply", "veneer ply", 18, ((2440, 1220),), 650, 8000, 5000, 0.8, "made up", "assumed")
EPOXY = Adhesive("epoxy", "rods", 1, 2, 3, 0.3, 1, 1200, 10, 20, 48, 10, "made up", "assumed")


def bar(size: float) -> Bar:
    return Bar(
        "bar", "round", size, size, 0, "steel", 2e5, 250, 400, "minimum", "made up", "assumed"
    )


def rod(
    wall: str,
    member: str,
    projection: float,
    *,
    size: float = 16.0,
    embedment: float = 75.0,
    clearance: Clearance | None = None,
) -> RodSpec:
    return RodSpec(
        wall=wall,
        member=member,
        bar=bar(size),
        embedment=embedment,
        projection=projection,
        hole=size + 2,
        adhesive=EPOXY,
        clearance=clearance or Clearance(1.0, 2.0, 15.0),
        in_slot="dry",
        path="shelf[0].rod",
    )


def shelf(
    legs: Sequence[Leg],
    rods: Sequence[RodSpec] = (),
    *,
    depth: float = 285.0,
    back: Back = "tight",
    back_gap: float = 0.0,
    end_gap: float = 1.0,
    scribe_allowance: float = 12.0,
    first: str | None = None,
    core_thick: float = 17.0,
    skin_thick: float = 15.0,
    top: float = 1365.0,
    strip: float = 30.0,
) -> Spec:
    skin = Skin(PLY, skin_thick, "one piece")
    return Spec(
        id="shelf",
        top=top,
        depth=depth,
        legs=tuple(legs),
        skin_top=skin,
        skin_bottom=skin,
        core=CoreSpec(ASH, core_thick, strip, 30.0, 240.0),
        sections=1,
        edging=ASH,
        edging_thick=12.0,
        scribe_allowance=scribe_allowance,
        back=back,
        back_gap=back_gap,
        end_gap=end_gap,
        finish="hardwax oil",
        coats=2,
        lock=Lock("none", ()),
        rods=tuple(rods),
        groove=None,
        first=first,
        path="shelf[0]",
    )


def stoneware(*, first: str | None = None) -> Spec:
    """The L of the demo scene: legs 69 1/4 and 50 1/8 from the corner, 10 1/2 deep, seven rods."""
    clear = Clearance(IN / 32, IN / 16, IN / 2)
    inch = {"size": 0.625 * IN, "embedment": 3.125 * IN}
    on_a = [rod("A", f"A.s{k}", 8.25 * IN, clearance=clear, **inch) for k in range(1, 5)]
    on_b = [rod("B", f"B.s{k}", 6 * IN, clearance=clear, **inch) for k in range(1, 4)]
    return shelf(
        [Leg("A", -69.25 * IN, 0.0), Leg("B", 0.0, 50.125 * IN)],
        [*on_a, *on_b],
        depth=10.5 * IN,
        top=54.375 * IN,
        core_thick=21 / 32 * IN,
        skin_thick=0.734 * IN,
        scribe_allowance=0.5 * IN,
        first=first,
        strip=25.4,
    )


def alcove() -> Spec:
    """The alcove of the demo scene: the whole width, caulked, four rods."""
    rods = [rod("back", f"back.s{k}", 240.0) for k in range(1, 5)]
    return shelf([Leg("back", 0.0, 1187.0)], rods, back="caulk", back_gap=1.0)
