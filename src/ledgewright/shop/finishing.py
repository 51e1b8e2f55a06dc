"""Sealer, primer and coats: on what, how much, after which grit, how long until the next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from shapely import Polygon

from ledgewright import stock
from ledgewright.job import Job, Spec, is_paint
from ledgewright.layout import edging_runs
from ledgewright.shop.model import Made
from ledgewright.shop.waits import wait

GLUE_SIZE = "glue size"
SIZE_SPREAD = 10.0
"""m2 a litre of box glue thinned with as much water: common practice."""
SIZE_WAIT = 4.0
"""Hours until it is sanded and coated: common practice."""
SIZE_COLDEST = 10.0


@dataclass(frozen=True)
class Coat:
    """One coat: what it is called, of what, on how much (mm2, mm3), the grit before it, the wait after it (h).

    edges: only on bare cut edges. on_site: put on where the shelf hangs, after the touch-up.
    """

    name: str
    product: str
    area: float
    volume: float
    grit: str
    wait: float
    edges: bool = False
    on_site: bool = False


@dataclass(frozen=True)
class Finishing:
    """The finish of all sections that are treated alike. sort decides grits; handle, full_load: waits after it (h)."""

    sections: tuple[str, ...]
    sort: Literal["paint", "clear", "oil"]
    finish: str
    grits: tuple[str, ...]
    coats: tuple[Coat, ...]
    handle: float
    full_load: float
    faces: float

    @property
    def in_shop(self) -> tuple[Coat, ...]:
        """The coats that go on in the shop."""
        return tuple(coat for coat in self.coats if not coat.on_site)

    @property
    def on_site(self) -> tuple[Coat, ...]:
        """The coats that go on where it hangs."""
        return tuple(coat for coat in self.coats if coat.on_site)


_BARE: dict[str, tuple[str, ...]] = {
    "paint": ("120", "180"),
    "clear": ("120", "180", "220"),
    "oil": ("120", "150", "180"),
}


def finishings(job: Job, made: Sequence[Made]) -> tuple[Finishing, ...]:
    """Return the finish of every section, those treated alike together.

    Source: common practice: order of coats, grits; spread and waits by class from the catalogue. Where rods go first,
    the last coat of paint goes on after the scribe and the touch-up on site.

    Args:
        job: order of building, and how warm the shop and the site are.
        made: every section.

    Raises:
        TooColdError: if the shop, or the site for a coat that goes on there, is colder than a coat allows.
    """
    alike: dict[tuple[str, int, str, str], list[Made]] = {}
    for each in made:
        spec = each.spec
        alike.setdefault((spec.finish, spec.coats, spec.sealer, spec.primer), []).append(each)
    return tuple(_finishing(job, group) for group in alike.values())


def _finishing(job: Job, group: Sequence[Made]) -> Finishing:
    spec, warm = group[0].spec, job.shop.bench.temperature
    row = stock.finish(spec.finish)
    # The last coat hardens where it goes on.
    ends = job.site.temperature if _is_late(job, spec) else warm
    sort: Literal["paint", "clear", "oil"] = (
        "paint" if is_paint(spec.finish) else "oil" if "oil" in spec.finish else "clear"
    )
    faces = sum(_faces(each) for each in group)
    edges = sum(_bare_edges(each) for each in group)
    under = (*_sealed(spec, sort, faces, edges, warm), *_primed(spec, faces, warm))
    return Finishing(
        sections=tuple(each.spec.title for each in group),
        sort=sort,
        finish=spec.finish,
        grits=_BARE[sort],
        coats=(*under, *_top(job, spec, sort, faces, under=bool(under))),
        handle=wait(row.handle, warm, row.coldest) if spec.coats else 0.0,
        full_load=wait(row.full_load, ends, row.coldest) if spec.coats else 0.0,
        faces=sum(_both_faces(each) for each in group),
    )


def _both_faces(made: Made) -> float:
    return 2 * Polygon(made.frame.outline).area


def _faces(made: Made) -> float:
    """Both faces, and the edging as high as the shelf (mm2)."""
    runs = sum(length for _, length in edging_runs(made.frame, made.spec))
    return _both_faces(made) + runs * made.spec.thick


def _bare_edges(made: Made) -> float:
    """Cut edges that get no edging, as high as the shelf (mm2)."""
    around = Polygon(made.frame.outline).length
    runs = sum(length for _, length in edging_runs(made.frame, made.spec))
    return max(0.0, around - runs) * made.spec.thick


def _sealed(spec: Spec, sort: str, faces: float, edges: float, warm: float) -> tuple[Coat, ...]:
    """A clear coat is sealed all over; under paint, and with glue size, only cut edges are."""
    if spec.sealer == "none":
        return ()
    if spec.sealer == GLUE_SIZE:
        after = wait(SIZE_WAIT, warm, SIZE_COLDEST)
        return (
            Coat("Glue size on cut edges", GLUE_SIZE, edges, edges / SIZE_SPREAD, "", after, True),
        )
    row = stock.finish(spec.sealer)
    area, on_edges = (edges, True) if sort == "paint" else (faces, False)
    name = "Sealer on cut edges" if on_edges else "Sealer"
    after = wait(row.recoat, warm, row.coldest)
    return (Coat(name, row.name, area, area / row.spread, "", after, on_edges),)


def _primed(spec: Spec, faces: float, warm: float) -> tuple[Coat, ...]:
    if not spec.primer:
        return ()
    row = stock.finish(spec.primer)
    after = wait(row.recoat, warm, row.coldest)
    return (Coat("Primer", row.name, faces, faces / row.spread, "240", after),)


def _is_late(job: Job, spec: Spec) -> bool:
    """Whether the last coat goes on where it hangs: paint, after the scribe and the touch-up."""
    return is_paint(spec.finish) and job.meta.order == "rods first"


def _top(job: Job, spec: Spec, sort: str, faces: float, *, under: bool) -> tuple[Coat, ...]:
    row = stock.finish(spec.finish)
    late = _is_late(job, spec)
    made = []
    for k in range(spec.coats):
        on_site = late and k == spec.coats - 1
        warm = job.site.temperature if on_site else job.shop.bench.temperature
        first = "240" if under else ""
        grit = first if k == 0 else ("grey pad" if sort == "oil" else "320")
        made.append(
            Coat(
                name=f"Coat {k + 1} of {spec.coats}",
                product=row.name,
                area=faces,
                volume=faces / row.spread,
                grit=grit,
                wait=wait(row.recoat, warm, row.coldest),
                on_site=on_site,
            )
        )
    return tuple(made)
