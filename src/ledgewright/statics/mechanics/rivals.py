"""Statics of the other ways to hold a shelf: a plate screwed to a stud, and a cleat that a hollow shelf goes over.

Both tilt about their lower edge: screws above pull, the lining below is pressed.
"""

from __future__ import annotations

import math

from ledgewright.statics.formula import formula


@formula(
    "T",
    "frac(M l_1, n (l_1^2 + l_2^2))",
    unit="N",
    source="Bracket that tilts about its lower edge, plate rigid",
    symbols={"upper": "l_1", "lower": "l_2"},
)
def top_screw(*, M: float, upper: float, lower: float, n: float) -> float:
    """Return the pull on each screw of the upper row of a plate that tilts about its lower edge.

    Bhandari, Design of Machine Elements, Ex. 7.6: T = P e l_1/(n (l_1^2 + l_2^2)), n screws a row. M: moment (N mm).
    upper, lower: of the rows above the lower edge (mm). n: screws in each row. Returns N.
    """
    return M * upper / (n * (upper**2 + lower**2))


@formula(
    "l_1",
    "max(l - frac(h, 6), 0)",
    unit="mm",
    source="Above the middle of the pressed third",
    symbols={"rise": "l"},
)
def lever(*, rise: float, h: float) -> float:
    """Return how far a row of screws is above the middle of what presses the lining; a row below it pulls nothing.

    Geometry: the lining is pressed over the lowest third (assumed). rise: of the row above the lower edge, h: height of
    plate or cleat (mm). Returns mm, not below 0.
    """
    return max(rise - h / 6, 0.0)


@formula(
    "n_e",
    "n^0.9",
    unit="1",
    source="EN 1995-1-1 8.7.2(8) (from memory)",
)
def acting(*, n: float) -> float:
    """Return how many screws of a row count that are pulled together.

    EN 1995-1-1 8.7.2(8) (from memory); taken for the NDS too. n: screws. Returns a plain number.
    """
    return math.pow(n, 0.9)


@formula(
    "T_l",
    "frac(T l_2, l_1)",
    unit="N",
    source="Pull grows from the lower edge up",
    symbols={"upper": "l_1", "lower": "l_2"},
)
def lower_screw(*, T: float, upper: float, lower: float) -> float:
    """Return the pull on each screw of the lower row.

    As `top_screw`. T: of the upper row (N). upper, lower: of the rows above the lower edge (mm). Returns N.
    """
    return T * lower / upper


@formula("C", "n (T + T_l)", unit="N", source="Balance along the screws", symbols={"lower": "T_l"})
def pressed_by(*, n: float, T: float, lower: float) -> float:
    """Return what the lower edge presses the lining with.

    Balance. n: screws in each row. T, lower: pull of each in the upper and in the lower row (N). Returns N.
    """
    return n * (T + lower)


@formula(
    "p_l",
    "frac(3 C, b h)",
    unit="MPa",
    source="Even over the lowest third of the height (assumed)",
)
def lining_pressure(*, C: float, b: float, h: float) -> float:
    """Return the pressure on the lining under the lower edge.

    Assumed: even over the lowest third. C: force (N). b: width over the stud, h: height (mm). Returns MPa.
    """
    return 3 * C / (b * h)


@formula("M_p", "n T z", unit="N mm", source="Screws bend the plate over the bar's edge")
def plate_moment(*, n: float, T: float, z: float) -> float:
    """Return the moment in a plate where its bar is welded to it.

    Statics. n: screws above the bar. T: pull of each (N). z: from the screws to the bar's edge (mm). Returns N mm.
    """
    return n * T * z


@formula(
    "R",
    "sqrt(T^2 + V_s^2)",
    unit="N",
    source="Resultant of pull and shear",
    symbols={"V": "V_s"},
)
def resultant(*, T: float, V: float) -> float:
    """Return the resultant of pull and shear on one screw.

    Pythagoras. T: pull, V: shear (N). Returns N.
    """
    return math.hypot(T, V)


@formula(
    "Z_a",
    "frac(W_p Z (T^2 + V_s^2), W_p V_s^2 + Z T^2)",
    unit="N",
    source="NDS-2018 12.4.1 (Hankinson)",
    symbols={"W": "W_p", "V": "V_s"},
)
def aslant(*, W: float, Z: float, T: float, V: float) -> float:
    """Return what a screw can take that is pulled and sheared at once, along the resultant.

    NDS-2018 Eq. 12.4-1: W'p Z'/(W'p cos^2 a + Z' sin^2 a), a between the load and the wood's surface. W: against pull,
    Z: against shear, T: pull, V: shear (N). Returns N.
    """
    return W * Z * (T**2 + V**2) / (W * V**2 + Z * T**2)


@formula(
    "r_s",
    "(frac(T, W_p))^2 + (frac(V_s, Z))^2",
    unit="1",
    source="EN 1995-1-1 Eq. 8.28",
    symbols={"W": "W_p", "V": "V_s"},
)
def squares(*, W: float, Z: float, T: float, V: float) -> float:
    """Return how far a screw is used that is pulled and sheared at once.

    EN 1995-1-1 Eq. 8.28. W: against pull, Z: against shear, T: pull, V: shear (N). Returns a plain number.
    """
    return (T / W) ** 2 + (V / Z) ** 2


@formula(
    "theta",
    "frac(frac(T, K) + w_p + frac(p_l t_l, E_l), l_1)",
    unit="rad",
    source="Screws and plate give above, the lining below (assumed moduli)",
    symbols={"p": "p_l", "t": "t_l", "E": "E_l", "upper": "l_1", "w": "w_p"},
)
def tilt(*, T: float, K: float, w: float, p: float, t: float, E: float, upper: float) -> float:
    """Return how far a plate or a cleat tilts.

    Geometry. T: pull of an upper screw (N). K: its stiffness (N/mm). w: how far the plate bends to its screws (mm). p:
    pressure on the lining (MPa). t: its thickness (mm). E: its modulus (MPa). upper: of the screws above the middle
    of what is pressed (mm). Returns rad.
    """
    return (T / K + w + p * t / E) / upper


@formula(
    "w_p",
    "frac(n T z^3, 3 E I)",
    unit="mm",
    source="Cantilever over the bar's edge",
)
def plate_gives(*, n: float, T: float, z: float, E: float, I: float) -> float:
    """Return how far a plate bends between its bar and its upper screws.

    Euler and Bernoulli. n: screws above the bar. T: pull of each (N). z: from the screws to the bar's edge (mm).
    E: MPa. I: of the plate across its thickness (mm4). Returns mm.
    """
    return n * T * z**3 / (3 * E * I)


@formula("K", "25 d l", unit="N/mm", source="Usual of timber screws pulled (from memory, assumed)")
def pull_stiffness(*, d: float, l: float) -> float:
    """Return the stiffness of a screw pulled along its axis.

    Technical approvals of timber screws, 25 d l (from memory). d: diameter, l: length in the wood (mm). Returns N/mm.
    """
    return 25 * d * l


@formula(
    "w_t",
    "theta D + frac(P a^2 (3 D - a), 6 E I)",
    unit="mm",
    source="Tilt, and a cantilever with its load at a",
)
def bracket_drop(*, theta: float, D: float, P: float, a: float, E: float, I: float) -> float:
    """Return how far the front drops on a bar that bends out of a plate that tilts.

    Euler and Bernoulli. theta: tilt (rad). D: from the plate to the front (mm). P: load (N). a: its lever (mm). E:
    modulus (MPa). I: second moment (mm4). Returns mm. For a up to D.
    """
    return theta * D + P * a**2 * (3 * D - a) / (6 * E * I)


@formula(
    "T_c",
    "frac(3 M, 2 d_c n)",
    symbols={"d": "d_c"},
    unit="N",
    source="Couple over two thirds of the cleat's depth",
)
def cleat_screw(*, M: float, d: float, n: float) -> float:
    """Return the pull on each screw that holds the top skin down on a cleat.

    Statics: the shelf bears on the cleat's front edge and pulls at its back, two thirds of its depth apart. M: moment
    (N mm). d: the cleat's depth (mm). n: screws that share it. Returns N.
    """
    return 3 * M / (2 * d * n)
