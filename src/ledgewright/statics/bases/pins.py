"""How screws give way sideways, by equations both bases share: between two timbers, and standing out of a panel."""

from __future__ import annotations

from collections.abc import Callable

from ledgewright.statics import mechanics
from ledgewright.statics.bases.member_rules import GRUB_YIELD, Driven
from ledgewright.statics.bases.nds import _tr12 as tr12
from ledgewright.statics.formula import Working

Reduction = Callable[[tr12.Mode], float]


def screw_yield(
    w: Working, *, q: float, M: float, driven: Driven, R: Reduction = lambda _: 1.0
) -> float:
    """Return the yield load of a screw between two timbers of one strength (N), of the mode that is least over R.

    AWC TR12 (2015) Table 1-1; Johansen's equations of EN 1995-1-1 8.2.2 less their 5 and 15 %. q: bearing per
    length (N/mm). M: plastic moment (N mm). R: reduction term by mode.
    """
    mode = governing(q=q, M=M, driven=driven, R=R)
    load = _modes(q, M, driven)[mode]
    return w.given("P", load, unit="N", source=f"{tr12.TR12}, mode {mode}, no gap")


def governing(*, q: float, M: float, driven: Driven, R: Reduction) -> tr12.Mode:
    """Return the mode that is least over its reduction term. Arguments as for `screw_yield`."""
    loads = _modes(q, M, driven)
    return min(loads, key=lambda each: loads[each] / R(each))


def _modes(q: float, M: float, driven: Driven) -> dict[tr12.Mode, float]:
    # The tapered tip counts half: NDS-2018 12.3.5.3 with a tip of two diameters.
    held = driven.into - driven.screw.diameter
    return tr12.yield_loads(tr12.Joint(q, q, held, driven.through, M, M, 0.0))


def pin_yield(
    w: Working, *, q: float, d: float, t: float, e: float, Fy: float = GRUB_YIELD
) -> float:
    """Return the side load at which a screw standing out of a panel tilts or bends (N).

    Rigid limit and hinge of a dowel. q: bearing per length (N/mm). d: root, t: length held, e: lever (mm).
    Fy: its steel's yield strength (MPa).
    """
    w.given("L", t, unit="mm", source="Thickness of the panel that holds the screw")
    one = w.given("V_0", 1.0, unit="N", source="A unit load")
    turn = w.given("M_0", one * e, unit="N mm", source="Its moment at the panel, at the lever e")
    tilts = w(mechanics.rigid_factor, q=q, L=t, V=one, M=turn)
    w.last("P_s", about="Tilts in the panel, over 1 N")
    M = w(tr12.dowel_moment, F=Fy, d=d)
    w.last(assumed=True)
    bends = w(mechanics.hinge_load, q=q, e=e, M_p=M)
    return w.given("P", min(tilts, bends), unit="N", source="The lesser of the two")
