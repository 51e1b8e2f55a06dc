"""The table of doubtful figures: its shape held to SciPy's, its rows to the nominal run and to the load test."""

from __future__ import annotations

from dataclasses import fields, replace

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.stats import norm, truncnorm

from ledgewright.doubt import TABLE, Doubtful
from ledgewright.doubt.figures import NAMES, OUT, normed, standing
from ledgewright.site.expected import PRIOR
from ledgewright.statics import NOMINAL, Inputs

SHARES = np.array([0.001, 0.05, 0.2, 0.5, 0.8, 0.95, 0.999])
EVEN = [row for row in TABLE if abs(row.likely - row.low - (row.high - row.likely)) < 1e-12]


@pytest.mark.parametrize("row", EVEN, ids=lambda row: row.name)
def test_an_even_range_is_scipys_cut_normal(row: Doubtful) -> None:
    wanted = truncnorm(-OUT, OUT, loc=row.likely, scale=row.sd).ppf(SHARES)
    assert row.at(SHARES) == pytest.approx(wanted, abs=1e-9)


def test_a_lopsided_range_is_the_integral_of_its_density() -> None:
    """Own route: two halves of a normal that meet at the likely figure, added up by quadrature."""
    row = replace(TABLE[0], low=0.25, likely=0.5, high=1.0)

    def density(x: float) -> float:
        sd = (row.likely - row.low) / OUT if x < row.likely else (row.high - row.likely) / OUT
        return float(np.exp(-(((x - row.likely) / sd) ** 2) / 2))

    def mass(to: float) -> float:
        parts = [(row.low, min(to, row.likely)), (row.likely, max(to, row.likely))]
        return sum(quad(density, a, b)[0] for a, b in parts)

    for share, at in zip(SHARES, row.at(SHARES), strict=True):
        assert mass(float(at)) / mass(row.high) == pytest.approx(share, abs=1e-7)


def test_ends_and_likely_figures_are_those_of_the_nominal_run() -> None:
    for row in TABLE:
        assert row.low < row.likely < row.high
        assert row.likely == getattr(NOMINAL, row.name)
        assert row.at(np.array([0.0, 1.0])) == pytest.approx([row.low, row.high])
        assert row.words
        assert row.source
    # Strengths are characteristic values and do not vary; everything else does.
    assert {field.name for field in fields(Inputs)} - set(NAMES) == {"strength"}


def test_the_middle_of_the_cube_is_the_nominal_run_where_ranges_are_even() -> None:
    names = tuple(row.name for row in EVEN)
    (found,) = standing(names, np.full((1, len(names)), 0.5))
    assert all(getattr(found, n) == pytest.approx(getattr(NOMINAL, n)) for n in names)
    assert normed(names, np.full((1, len(names)), 0.5)) == pytest.approx(0.0, abs=1e-12)


def test_a_load_test_begins_from_the_same_beliefs() -> None:
    """95 of 100 between the ends: the ends are 2 standard deviations out (normal law, 1.96)."""
    rows = {row.name: row for row in TABLE}
    assert PRIOR.middle == (rows["bed"].likely, rows["adhesive"].likely, 0.0)
    for sd, name in zip(PRIOR.sd, ("bed", "adhesive", "section"), strict=True):
        half = (rows[name].high - rows[name].low) / 2
        assert 2 * norm.cdf(half / sd) - 1 == pytest.approx(0.95, abs=0.006)


def test_a_figure_that_the_statics_does_not_know_is_refused() -> None:
    with pytest.raises(ValueError, match="no such inputs"):
        standing(("humidity",), np.array([[0.5]]))
