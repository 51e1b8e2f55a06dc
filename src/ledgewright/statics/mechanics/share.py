"""How a load on a leg goes to its rods: by tributary length, and by the lever rule past the ends."""

from __future__ import annotations

from ledgewright.statics.formula import formula


@formula("P", "w b", unit="N", source="Load on the length half way to the neighbours")
def tributary(*, w: float, b: float) -> float:
    """Return a rod's share of a strip load between its neighbours.

    Tributary length. w: load per length (N/mm). b: loaded length that is nearer to this rod (mm). Returns N.
    """
    return w * b


@formula(
    "P",
    "w (b + o (1 + frac(c, s)))",
    unit="N",
    source="Tributary length, and lever rule for the overhang",
)
def end_share(*, w: float, b: float, o: float, c: float, s: float) -> float:
    """Return an end rod's share of a strip load that runs past it; its neighbour gets no relief.

    Lever rule. w: load per length (N/mm). b: loaded length nearer to this rod, inside (mm). o: loaded length past
    it (mm). c: from the rod to the middle of that (mm). s: to the neighbour (mm). Returns N.
    """
    return w * (b + o * (1 + c / s))


@formula("P", "W (1 - frac(c, s))", unit="N", source="Lever rule between two rods")
def between(*, W: float, c: float, s: float) -> float:
    """Return a rod's share of a load that stands between it and its neighbour.

    Lever rule. W: load (N). c: from this rod to the load (mm). s: to the neighbour (mm). Returns N.
    """
    return W * (1 - c / s)


@formula(
    "P",
    "W (1 + frac(c, s))",
    unit="N",
    source="Lever rule past the end rod, no relief to its neighbour",
)
def past_end(*, W: float, c: float, s: float) -> float:
    """Return an end rod's share of a load that stands past it.

    Lever rule. W: load (N). c: from the rod out to the load (mm). s: to the neighbour (mm). Returns N.
    """
    return W * (1 + c / s)


@formula("w", "p D", unit="N/mm", source="Pressure over the depth")
def per_length(*, p: float, D: float) -> float:
    """Return the load per length of leg of an even pressure.

    p: pressure (MPa). D: depth of the shelf at the rod (mm). Returns N/mm.
    """
    return p * D


@formula("M", "P a", unit="N mm", source="Moment of a load about the wood face")
def moment(*, P: float, a: float) -> float:
    """Return the moment of a load about the wood face.

    P: load (N). a: lever (mm). Returns N mm.
    """
    return P * a
