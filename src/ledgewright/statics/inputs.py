"""What the statics takes as given besides the design, so that a nominal run and a sampled one are one function."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Inputs:
    """Where each doubtful figure stands in its range; the defaults are the nominal run.

    bed: bed modulus of the wood between its softest (0) and stiffest (1) published figure, on a log scale.
    across: bed across the grain over bed along it (0.25 to 1). adhesive: modulus between the low (-1), the likely
    (0) and the high (1) of its class. fill: filled share of the glue ring (0.7 to 1). steel, strength: modulus
    and yield strength of the bars over the catalogue's. embedment, clearance: added to every rod's depth in
    the wood and to its play up and down (mm). k_def: creep factor of the framing. section: stiffness of skins and core
    over the catalogue's. load: what really stands on the shelf over what was said.
    """

    bed: float = 0.5
    across: float = 0.5
    adhesive: float = 0.0
    fill: float = 0.85
    steel: float = 1.0
    strength: float = 1.0
    embedment: float = 0.0
    clearance: float = 0.0
    k_def: float = 0.6
    section: float = 1.0
    load: float = 1.0


NOMINAL = Inputs()
