"""The shelf laid against the walls: outline, blank, scribe, rods, slots."""

from ledgewright.layout.beside import BESIDE, Beside, beside
from ledgewright.layout.blank import KERF
from ledgewright.layout.clash import clashes
from ledgewright.layout.edges import SHORTEST, Cut, Scribed, sawn_outline, scribed
from ledgewright.layout.faces import (
    behind,
    corner_of,
    edging_runs,
    end_points,
    free_ends,
    into_leg,
    into_wall,
    lean,
    mark_of,
    skin_plan,
    whole,
)
from ledgewright.layout.legs import Side
from ledgewright.layout.lying import SAVES, Placed, placed
from ledgewright.layout.model import (
    End,
    EndFit,
    Frame,
    LayoutError,
    LegAt,
    Rod,
    Slot,
    Station,
    Turn,
)
from ledgewright.layout.movement import SEASONS, Movement, movements
from ledgewright.layout.parted import alcove_options, hung, sections, shares
from ledgewright.layout.placing import Edge, Laid, lay
from ledgewright.layout.shelf import conflicts, end_fits, frame
from ledgewright.layout.template import OFF, STRIP, Across, Strip, Template, template

__all__ = [
    "BESIDE",
    "KERF",
    "OFF",
    "SAVES",
    "SEASONS",
    "SHORTEST",
    "STRIP",
    "Across",
    "Beside",
    "Cut",
    "Edge",
    "End",
    "EndFit",
    "Frame",
    "Laid",
    "LayoutError",
    "LegAt",
    "Movement",
    "Placed",
    "Rod",
    "Scribed",
    "Side",
    "Slot",
    "Station",
    "Strip",
    "Template",
    "Turn",
    "alcove_options",
    "behind",
    "beside",
    "clashes",
    "conflicts",
    "corner_of",
    "edging_runs",
    "end_fits",
    "end_points",
    "frame",
    "free_ends",
    "hung",
    "into_leg",
    "into_wall",
    "lay",
    "lean",
    "mark_of",
    "movements",
    "placed",
    "sawn_outline",
    "scribed",
    "sections",
    "shares",
    "skin_plan",
    "template",
    "whole",
]
