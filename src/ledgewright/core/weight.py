"""What a section weighs."""

from __future__ import annotations

from ledgewright import plane
from ledgewright.core.model import Core
from ledgewright.job import Spec
from ledgewright.layout import Frame, edging_runs, skin_plan


def mass(*, spec: Spec, frame: Frame, core: Core | None) -> float:
    """Return the mass of one shelf without rods (kg): skins, core and edging by volume and density.

    Args:
        spec: panels, timbers and their densities.
        frame: the finished outline.
        core: the core pieces; None counts the space between the skins as solid, towards safety.

    Returns:
        Mass (kg). Glue and finish are left out: under 2 % (assumed).
    """
    inside = skin_plan(frame.outline, spec, frame).area
    skins = sum(s.thick * s.panel.density for s in (spec.skin_top, spec.skin_bottom)) * inside
    wood = inside if core is None else sum(abs(plane.area(p.plan)) for p in core.pieces)
    edging = sum(length for _, length in edging_runs(frame, spec)) * spec.thick * spec.edging_thick
    filled = wood * spec.core.thick * spec.core.of.density
    return (skins + filled + edging * spec.edging.density) * 1e-9
