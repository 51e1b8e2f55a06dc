"""A stud or a block between its supports, and a rectangle in shear and torsion; sees no basis and no geometry type.

A stud is a simple beam from floor to ceiling, its heights counted from the floor; a couple on it is positive where
the front goes down, a force where it pulls out into the room. A block is a simple beam between two studs whose ends
cannot twist, its places counted from its left end.
"""

from __future__ import annotations

from ledgewright.statics.formula import formula

SIMPLE = "Statics of a simple beam"
ROARK = "Roark, torsion of a solid rectangle (from memory)"


# ---- a stud: couples and pulls


@formula(
    "C",
    "M_0 + V_0 h / 2",
    unit="N mm",
    source="Statics: the face of the wood lies half the depth in front of the axis",
    symbols={"V": "V_0", "M": "M_0"},
)
def axis_couple(*, V: float, M: float, h: float) -> float:
    """Return the couple a rod puts on the axis of its member.

    Statics. V, M: shear (N) and moment (N mm) at the wood face. h: depth of the member into the wall (mm). Returns
    N mm.
    """
    return M + V * h / 2


@formula("M_z", "frac(z, H) (C - F (H - a))", unit="N mm", source=SIMPLE)
def moment_below(*, C: float, F: float, a: float, z: float, H: float) -> float:
    """Return the moment in a stud below a rod.

    Simple beam. C: couple (N mm). F: pull out of the wall (N). a: height of the rod (mm). z: height looked at, up to
    a (mm). H: between the supports (mm). Returns N mm, positive where the front fibre is stretched above the rod.
    """
    return z / H * (C - F * (H - a))


@formula("M_z", "(frac(z, H) - 1) (C + F a)", unit="N mm", source=SIMPLE)
def moment_above(*, C: float, F: float, a: float, z: float, H: float) -> float:
    """Return the moment in a stud above a rod.

    Simple beam. Arguments as for `moment_below`; z from a upwards. Returns N mm.
    """
    return (z / H - 1) * (C + F * a)


@formula("V_z", "frac(C - F (H - a), H)", unit="N", source=SIMPLE)
def shear_below(*, C: float, F: float, a: float, H: float) -> float:
    """Return the shear in a stud below a rod.

    Simple beam. Arguments as for `moment_below`. Returns N.
    """
    return (C - F * (H - a)) / H


@formula("V_z", "frac(C + F a, H)", unit="N", source=SIMPLE)
def shear_above(*, C: float, F: float, a: float, H: float) -> float:
    """Return the shear in a stud above a rod.

    Simple beam. Arguments as for `moment_below`. Returns N.
    """
    return (C + F * a) / H


# ---- a section with a hole bored into its narrow face


@formula("b_n", "b - d_h", unit="mm", source="Width less the hole", symbols={"d": "d_h"})
def net_width(*, b: float, d: float) -> float:
    """Return what the hole leaves of a member's width.

    The hole counts as bored right through: glue does not restore the section. b: width (mm). d: hole (mm). Returns
    mm.
    """
    return b - d


@formula("S_n", "frac(b_n h^2, 6)", unit="mm^3", source="Section", symbols={"b": "b_n"})
def net_modulus(*, b: float, h: float) -> float:
    """Return the section modulus of a rectangle.

    Section. b: width left (mm). h: depth (mm). Returns mm3.
    """
    return b * h**2 / 6


@formula("A_n", "b_n h", unit="mm^2", source="Section", symbols={"b": "b_n"})
def net_area(*, b: float, h: float) -> float:
    """Return the area of a rectangle.

    Section. b: width left (mm). h: depth (mm). Returns mm2.
    """
    return b * h


@formula("tau", "frac(1.5 V, A_n)", unit="MPa", source="Shear in a rectangle", symbols={"A": "A_n"})
def shear_stress(*, V: float, A: float) -> float:
    """Return the greatest shear stress in a rectangle.

    Jourawski. V: shear (N). A: section (mm2). Returns MPa.
    """
    return 1.5 * V / A


@formula("sigma_c", "frac(N, A_n)", unit="MPa", source="Even compression", symbols={"A": "A_n"})
def press(*, N: float, A: float) -> float:
    """Return the stress of an even pressure.

    Statics. N: force (N). A: section (mm2). Returns MPa.
    """
    return N / A


# ---- splitting at the rod

WEDGE = 0.15
"""Share of the bearing force that pushes the wood apart across it, from round dowels; own model, assumed."""


@formula(
    "R_b", "V_0 - V_m", unit="N", source="Statics of the rod", symbols={"V": "V_0", "most": "V_m"}
)
def front_bearing(*, V: float, most: float) -> float:
    """Return the force with which a rod presses on the wood near the face.

    Statics. V: shear at the face (N). most: shear where the rod does not move, with its sign (N). Returns N.
    """
    return V - most


@formula(
    "d_e",
    "min(d_h, d + 2)",
    unit="mm",
    source="Own model: no more than 1 mm of adhesive round the bar counts",
    symbols={"dh": "d_h"},
)
def bearing_width(*, dh: float, d: float) -> float:
    """Return how wide a rod bears on the wood round it.

    Own model: a wider hole leaves less wood, and must not make a stud look stronger. dh: hole, d: bar (mm). Returns mm.
    """
    return min(dh, d + 2)


@formula(
    "sigma_t",
    "frac(0.15 R_b, 4 d_e l_b)",
    unit="MPa",
    source="Own model: 0.15 of the bearing force, over four holes' length along the grain",
    symbols={"R": "R_b", "d": "d_e", "l": "l_b"},
)
def split_stress(*, R: float, d: float, l: float) -> float:
    """Return the tension across the grain beside a rod that presses along it.

    Own model. R: bearing force (N). d: hole, as far as it counts (mm). l: depth over which it bears (mm). Returns MPa.
    """
    return WEDGE * R / (4 * d * l)


# ---- a block: shares of its ends, torsion


@formula("V_e", "V (1 - frac(a, l))", unit="N", source=SIMPLE)
def end_shear(*, V: float, a: float, l: float) -> float:
    """Return the share of a load that goes to one end of a block.

    Simple beam. V: load (N). a: from that end (mm). l: length (mm). Returns N.
    """
    return V * (1 - a / l)


@formula("T_e", "C (1 - frac(a, l))", unit="N mm", source="Torsion of an even bar held at its ends")
def end_twist(*, C: float, a: float, l: float) -> float:
    """Return the share of a twist that goes to one end of a block.

    Even bar held at both ends. C: twist (N mm). a: from that end (mm). l: length (mm). Returns N mm.
    """
    return C * (1 - a / l)


@formula(
    "alpha",
    "frac(1, 3 (1 + 0.6095 n + 0.8865 n^2 - 1.8023 n^3 + 0.91 n^4))",
    unit="1",
    source=ROARK,
)
def twist_modulus(*, n: float) -> float:
    """Return the torsion modulus of a rectangle over its long side times its short side squared.

    Roark (from memory). n: short side over long side, up to 1. Returns a plain number.
    """
    return 1 / (3 * (1 + 0.6095 * n + 0.8865 * n**2 - 1.8023 * n**3 + 0.91 * n**4))


@formula("beta", "frac(1, 3) - 0.21 n (1 - frac(n^4, 12))", unit="1", source=ROARK)
def twist_constant(*, n: float) -> float:
    """Return the torsion constant of a rectangle over its long side times its short side cubed.

    Roark (from memory). n: short side over long side, up to 1. Returns a plain number.
    """
    return 1 / 3 - 0.21 * n * (1 - n**4 / 12)


@formula(
    "tau_t", "frac(T, alpha p q^2)", unit="MPa", source=ROARK, symbols={"long": "p", "short": "q"}
)
def twist_stress(*, T: float, alpha: float, long: float, short: float) -> float:
    """Return the greatest shear stress of a twisted rectangle.

    Roark. T: twist (N mm). alpha: `twist_modulus`. long, short: sides (mm). Returns MPa.
    """
    return T / (alpha * long * short**2)


@formula("h_s", "e - frac(d_h, 2)", unit="mm", source="Section", symbols={"d": "d_h"})
def strip_height(*, e: float, d: float) -> float:
    """Return how high the wood is beside a hole.

    Section. e: from the hole's middle to the edge (mm). d: hole (mm). Returns mm.
    """
    return e - d / 2


@formula("T_s", "frac(T, 2)", unit="N mm", source="Half to the strip on either side of the hole")
def strip_twist(*, T: float) -> float:
    """Return what each strip beside a hole takes of a twist.

    Statics: a bored block twists as two strips, not as one of both their heights. T: twist (N mm). Returns N mm.
    """
    return T / 2


# ---- a block that bends, bored into its depth


@formula(
    "M_i", "frac(V l_l l_r, l)", unit="N mm", source=SIMPLE, symbols={"left": "l_l", "right": "l_r"}
)
def block_moment(*, V: float, left: float, right: float, l: float) -> float:
    """Return one load's part in the moment in a block at some place.

    Simple beam. V: load (N). left: from the left end to the nearer of load and place, right: from the right end to the
    nearer of both, l: length (mm). Returns N mm.
    """
    return V * left * right / l


@formula(
    "C_s",
    "H_r (a_H + frac(h, 2))",
    unit="N mm",
    source="Statics: the axis of the block lies half its depth behind the face of the wood",
    symbols={"H": "H_r", "a": "a_H"},
)
def side_couple(*, H: float, a: float, h: float) -> float:
    """Return the couple about the upright that a push along the wall puts on the axis of a block.

    Statics. H: push (N). a: from the wood to the front edge (mm). h: depth of the block into the wall (mm). Returns
    N mm.
    """
    return H * (a + h / 2)


@formula("M_s", "C_s frac(max(a, l - a), l)", unit="N mm", source=SIMPLE, symbols={"C": "C_s"})
def couple_moment(*, C: float, a: float, l: float) -> float:
    """Return the greater moment beside a couple on a block.

    Simple beam. C: couple (N mm). a: from its left end, l: length (mm). Returns N mm.
    """
    return C * max(a, l - a) / l


@formula("H_s", "frac(C_s, l)", unit="N", source=SIMPLE, symbols={"C": "C_s"})
def couple_end(*, C: float, l: float) -> float:
    """Return what a couple on a block pulls at one end and pushes at the other.

    Simple beam. C: couple (N mm). l: length (mm). Returns N.
    """
    return C / l


@formula(
    "y_n",
    "frac(h_1^2 + h_2 (2 (h_1 + d_h) + h_2), 2 (h_1 + h_2))",
    unit="mm",
    source="Section: two strips, a hole apart",
    symbols={"low": "h_1", "high": "h_2", "d": "d_h"},
)
def strips_middle(*, low: float, high: float, d: float) -> float:
    """Return how high the middle of two strips lies that a hole parts.

    Section. low, high: heights of the strips (mm). d: hole (mm). Returns mm above the bottom edge.
    """
    return (low**2 + high * (2 * (low + d) + high)) / (2 * (low + high))


@formula(
    "I_n",
    "b (frac(h_1^3 + h_2^3, 12) + h_1 (y_n - frac(h_1, 2))^2 + h_2 (h_1 + d_h + frac(h_2, 2) - y_n)^2)",
    unit="mm^4",
    source="Section: two strips, a hole apart",
    symbols={"low": "h_1", "high": "h_2", "d": "d_h", "y": "y_n"},
)
def strips_inertia(*, b: float, low: float, high: float, d: float, y: float) -> float:
    """Return the second moment of two strips that a hole parts and whose ends are one piece.

    Section. b: breadth, low, high: heights of the strips, d: hole, y: their middle above the bottom edge (mm).
    Returns mm4.
    """
    own = (low**3 + high**3) / 12
    return b * (own + low * (y - low / 2) ** 2 + high * (low + d + high / 2 - y) ** 2)


@formula(
    "S_n",
    "frac(I_n, max(y_n, h - y_n))",
    unit="mm^3",
    source="Section",
    symbols={"I": "I_n", "y": "y_n"},
)
def strips_modulus(*, I: float, y: float, h: float) -> float:
    """Return the section modulus of a bored section at its farther edge.

    Section. I: second moment (mm4). y: its middle above the bottom edge, h: height (mm). Returns mm3.
    """
    return I / max(y, h - y)


@formula(
    "sigma",
    "frac(M_v, S_v) + frac(M_h, S_h)",
    unit="MPa",
    source="Elastic bending both ways",
    symbols={"Mv": "M_v", "Sv": "S_v", "Mh": "M_h", "Sh": "S_h"},
)
def bent_both_ways(*, Mv: float, Sv: float, Mh: float, Sh: float) -> float:
    """Return the greatest stress of a section that bends both ways, at a corner.

    Elastic bending. Mv, Mh: moments (N mm), Sv, Sh: section moduli, down and out of the wall (mm3). Returns MPa.
    """
    return Mv / Sv + Mh / Sh


# ---- how far they give, per unit of EI, EA and GJ


@formula(
    "g_C",
    "frac(H, 3) + frac(a^2 + z^2, 2 H) - max(a, z)",
    unit="mm",
    source="Virtual work, simple beam under a couple",
)
def couple_turn(*, a: float, z: float, H: float) -> float:
    """Return the turn at one height of a simple beam under a unit couple at another, times EI.

    Virtual work. a: where the couple acts, z: where the turn is wanted (mm). H: span (mm). Returns mm.
    """
    return H / 3 + (a**2 + z**2) / (2 * H) - max(a, z)


@formula("g_N", "min(a, z)", unit="mm", source="Shortening of a post on its foot")
def post_drop(*, a: float, z: float) -> float:
    """Return how far one height of a post goes down under a unit load at another, times EA.

    Post on its foot, free above. a, z: heights (mm). Returns mm.
    """
    return min(a, z)


@formula(
    "g_V",
    "frac(min(a, z) (l - max(a, z)) (2 l max(a, z) - max(a, z)^2 - min(a, z)^2), 6 l)",
    unit="mm^3",
    source="Simple beam under a point load",
)
def beam_drop(*, a: float, z: float, l: float) -> float:
    """Return the drop at one place of a simple beam under a unit load at another, times EI.

    Handbook formula. a, z: places (mm). l: span (mm). Returns mm3.
    """
    low, high = min(a, z), max(a, z)
    return low * (l - high) * (2 * l * high - high**2 - low**2) / (6 * l)


@formula(
    "g_T",
    "frac(min(a, z) (l - max(a, z)), l)",
    unit="mm",
    source="Torsion of an even bar held at its ends",
)
def bar_twist(*, a: float, z: float, l: float) -> float:
    """Return the turn at one place of a bar held at both ends under a unit twist at another, times GJ.

    Saint-Venant torsion. a, z: places (mm). l: span (mm). Returns mm.
    """
    return min(a, z) * (l - max(a, z)) / l


@formula(
    "g_e",
    "(1 - frac(a, l)) (1 - frac(z, l)) + frac(a z, l^2)",
    unit="1",
    source="Stiff bar on two springs, by its lever",
)
def ends_give(*, a: float, z: float, l: float) -> float:
    """Return how far one place of a stiff bar moves under a unit load at another, over what one of its ends gives.

    Lever rule; down, or in twist by the shares of `end_twist`. a, z: places (mm). l: length (mm). Returns a plain
    number.
    """
    return (1 - a / l) * (1 - z / l) + a * z / l**2


@formula(
    "K_e",
    "frac(2 K c, 1 + c)",
    unit="N/mm",
    source="Two beds in series, one of them pressed across its grain",
)
def end_slip(*, K: float, c: float) -> float:
    """Return the slip modulus of what holds a block, which it presses across its grain.

    Springs in series. K: slip modulus between two timbers pressed along their grain (N/mm). c: bed across the grain
    over bed along it. Returns N/mm.
    """
    return 2 * K * c / (1 + c)


@formula("s_V", "frac(1, n K_e)", unit="mm/N", source="Side by side", symbols={"K": "K_e"})
def end_sinks(*, n: float, K: float) -> float:
    """Return how far an end of a block goes down per force on it.

    Slip of its joint. n: screws or nails. K: slip modulus of one (N/mm). Returns mm/N.
    """
    return 1 / (n * K)


@formula(
    "s_T",
    "frac(2, K_e e^2)",
    unit="rad/(N mm)",
    source="The outermost two hold the twist",
    symbols={"K": "K_e"},
)
def end_turns(*, K: float, e: float) -> float:
    """Return how far an end of a block turns per twist on it.

    Slip of its joint. K: slip modulus of one screw or nail (N/mm). e: between the outermost (mm). Returns rad per N mm.
    """
    return 2 / (K * e**2)
