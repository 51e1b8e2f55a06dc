"""All parts together are the shelf: volume, mass and glue of random corners, measured with a polygon library."""

from __future__ import annotations

from functools import cache

import pytest
from shapely.geometry import Polygon

from ledgewright.core import Core, core, mass
from ledgewright.fitting import Way, ways
from ledgewright.job import Spec
from ledgewright.layout import Frame, edging_runs, skin_plan
from ledgewright.shop import Part, parts
from tests.fitting import made

SEEDS = range(12)


@cache
def shelf(seed: int) -> tuple[Spec, Frame, Core, tuple[Part, ...]]:
    """A random corner, by the way that is chosen for it or the first that was tried."""
    room, frame, spec = made.random_corner(seed).build()
    way: Way = ways(room, frame).ways[0]
    inside = core(spec, frame, way)
    return spec, frame, inside, parts(spec=spec, frame=frame, core=inside)


def plans(found: tuple[Part, ...], kind: str) -> list[tuple[Part, Polygon]]:
    return [(p, Polygon(p.plan)) for p in found if p.kind == kind and p.plan is not None]


@pytest.mark.parametrize("seed", SEEDS)
def test_volumes_of_the_parts_are_that_of_the_shelf_as_made(seed: int) -> None:
    """Skins over the blank's plan, edging round its front and free ends, core and hollows between: no more, no less."""
    spec, frame, inside, found = shelf(seed)
    blank = skin_plan(frame.blank, spec, frame).area
    skins = sum(p.count * plan.area * p.finished[2] for p, plan in plans(found, "skin"))
    assert skins == pytest.approx(blank * (spec.skin_top.thick + spec.skin_bottom.thick), rel=1e-9)
    # The skins lie behind the edging: with the ring it makes they are the whole blank.
    ring = Polygon(frame.blank).area - blank
    edging = sum(p.count * p.finished[0] * p.finished[2] for p in found if p.kind == "edging")
    assert edging == pytest.approx(ring, rel=0.02)  # mitred: lengths count to the outer corner
    pieces = [name for p in found if p.kind == "core" for name in p.pieces]
    assert sorted(pieces) == sorted(piece.id for piece in inside.pieces)
    boxes = sum(
        p.count * p.finished[0] * p.finished[1] * p.finished[2] for p in found if p.kind == "core"
    )
    wood = sum(Polygon(piece.plan).area for piece in inside.pieces) * spec.core.thick
    # What is sawn square holds every piece; only ends cut aslant and channels through a piece make it less.
    assert boxes >= wood * (1 - 1e-6)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_mass_is_that_of_the_parts_less_what_is_scribed_off(seed: int) -> None:
    spec, frame, inside, found = shelf(seed)
    density = {
        spec.skin_top.panel.name: spec.skin_top.panel.density,
        spec.skin_bottom.panel.name: spec.skin_bottom.panel.density,
    }
    skins = sum(plan.area * p.finished[2] * density[p.of] for p, plan in plans(found, "skin"))
    plan = skin_plan(frame.blank, spec, frame)
    scribed = plan.area - skin_plan(frame.outline, spec, frame).area
    off = scribed * sum(s.thick * s.panel.density for s in (spec.skin_top, spec.skin_bottom))
    wood = sum(Polygon(piece.plan).area for piece in inside.pieces)
    core_mass = wood * spec.core.thick * spec.core.of.density
    runs = sum(length for _, length in edging_runs(frame, spec))
    edging = sum(p.count * p.finished[0] for p in found if p.kind == "edging")
    # Like lengths are told to 0.1 mm.
    assert edging == pytest.approx(runs, abs=0.05 * len(edging_runs(frame, spec)))
    edging_mass = runs * spec.thick * spec.edging_thick * spec.edging.density
    told = mass(spec=spec, frame=frame, core=inside)
    assert told == pytest.approx((skins - off + core_mass + edging_mass) * 1e-9, rel=1e-9)


@pytest.mark.parametrize("seed", SEEDS)
def test_glue_goes_on_both_faces_of_all_wood_between_the_skins(seed: int) -> None:
    spec, frame, inside, _ = shelf(seed)
    wood = sum(Polygon(piece.plan).area for piece in inside.pieces)
    hollow = sum(Polygon(ring).area for ring in inside.hollows)
    assert inside.glue_area == pytest.approx(2 * wood, rel=1e-9)
    assert wood + hollow <= skin_plan(frame.blank, spec, frame).area * (1 + 1e-9)
