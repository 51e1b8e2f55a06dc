"""Coats against areas, spreads and orders worked by hand from common practice."""

from __future__ import annotations

import dataclasses

import pytest
from shapely import Polygon

from ledgewright import shop
from ledgewright.job import Sealer
from ledgewright.stock import finish
from tests.jobs import job
from tests.shop import made


def coats(name: str, *, warm: float | None = None, **changes: object) -> shop.Finishing:
    of = job(name) if warm is None else made.bench(job(name), temperature=warm)
    whole = made.sections(name)[:1]
    spec = dataclasses.replace(whole[0].spec, **changes)  # type: ignore[arg-type]
    (found,) = shop.work(of, (dataclasses.replace(whole[0], spec=spec),)).finishings
    return found


def test_paint_is_sealed_at_the_edges_primed_and_coated() -> None:
    """Common practice: cut edges sealed, primer, coats; rods first, the last one where it hangs."""
    found = coats("reading-alcove")
    assert [(c.name, c.product) for c in found.coats] == [
        ("Sealer on cut edges", "sanding sealer"),
        ("Primer", "primer"),
        ("Coat 1 of 2", "waterborne paint"),
        ("Coat 2 of 2", "waterborne paint"),
    ]
    assert [c.on_site for c in found.coats] == [False, False, False, True]


def test_areas_and_volumes_of_the_alcove_by_hand() -> None:
    """Both faces and the front for a coat; back and both ends, as high as the shelf, for the sealer of edges."""
    whole = made.sections("reading-alcove")[0]
    face, front = Polygon(whole.frame.outline).area, 1180.5
    thick = whole.spec.thick
    found = coats("reading-alcove")
    sealer, primer, coat, _ = found.coats
    assert coat.area == pytest.approx(2 * face + front * thick, rel=1e-4)
    assert sealer.area == pytest.approx((front + 2 * 284) * thick, rel=0.005)
    assert coat.volume == pytest.approx(coat.area / finish("waterborne paint").spread)
    # 0.73 m2 at 10 m2 a litre is 73 ml.
    assert primer.volume / 1000 == pytest.approx(0.73 / 10 * 1000, rel=0.01)


def test_clear_coats_stand_on_a_sealer_and_oil_on_bare_wood() -> None:
    clear, oil = coats("record-wall"), coats("stoneware-corner")
    assert [c.name for c in clear.coats] == ["Sealer", "Coat 1 of 3", "Coat 2 of 3", "Coat 3 of 3"]
    assert not any(c.on_site for c in clear.coats)
    assert [c.product for c in oil.coats] == ["hardwax oil"] * 2
    assert oil.coats[0].grit == ""
    assert clear.coats[1].grit == "240"


@pytest.mark.parametrize(
    ("sealer", "product"), [("glue size", "glue size"), ("sanding sealer", "sanding sealer")]
)
def test_sealer_and_glue_size_are_named_apart(sealer: Sealer, product: str) -> None:
    assert coats("reading-alcove", sealer=sealer).coats[0].product == product


def test_glue_size_is_box_glue_with_as_much_water() -> None:
    of, whole = job("reading-alcove"), made.sections("reading-alcove")
    spec = dataclasses.replace(whole[0].spec, sealer="glue size")
    sized = shop.work(of, (dataclasses.replace(whole[0], spec=spec),))
    plain = shop.work(of, whole)

    def glue(work: shop.Work) -> float:
        return next(need.amount for need in work.needs if need.name == "pva d4")

    assert glue(sized) - glue(plain) == pytest.approx(sized.finishings[0].coats[0].volume / 2)
    assert "sanding sealer" not in {need.name for need in sized.needs}


def test_a_cold_shop_doubles_every_wait() -> None:
    warm, cold = coats("reading-alcove", warm=20.0), coats("reading-alcove", warm=10.0)
    shop_coats = [c for c in warm.coats if not c.on_site]
    assert [c.wait * 2 for c in shop_coats] == [c.wait for c in cold.coats if not c.on_site]
    # What is coated to the end there hardens there.
    clear = [coats("stoneware-corner", warm=at).full_load for at in (20.0, 10.0)]
    assert clear[1] == 2 * clear[0]


def test_the_last_coat_hardens_where_it_goes_on() -> None:
    """docs/shop.md: rods first, the last coat of paint waits at the site's temperature: 10 C colder, twice as long."""
    of = job("reading-alcove")
    whole = made.sections("reading-alcove")
    warm, cold = (
        shop.work(
            dataclasses.replace(of, site=dataclasses.replace(of.site, temperature=at)), whole
        ).finishings[0]
        for at in (20.0, 10.0)
    )
    assert cold.full_load == 2 * warm.full_load
    assert cold.in_shop == warm.in_shop


def test_shelf_first_is_painted_to_the_end_in_the_shop() -> None:
    of = made.ordered(job("reading-alcove"), "shelf first")
    (found,) = shop.work(of, made.sections("reading-alcove")).finishings
    assert not found.on_site
