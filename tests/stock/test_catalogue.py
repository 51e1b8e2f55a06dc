"""The catalogue as a whole: every row sound, every name found, wrong names answered."""

from __future__ import annotations

import pickle
import re
import subprocess
import sys
from collections.abc import Callable, Mapping
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from ledgewright import stock
from ledgewright.stock import Bar, Kind, Row, table

FIND: Mapping[Kind, Callable[[str], Row]] = {
    "bar": stock.bar,
    "timber": stock.timber,
    "panel": stock.panel,
    "lumber": stock.lumber,
    "adhesive": stock.adhesive,
    "screw": stock.screw,
    "finish": stock.finish,
}


def test_walk_finds_nothing_wrong() -> None:
    assert stock.check_rows() == ()


def test_every_kind_has_rows_and_each_is_found_by_its_name() -> None:
    assert set(FIND) == set(stock.KINDS)
    for kind in stock.KINDS:
        assert len(stock.rows(kind)) >= 9
        for row in stock.rows(kind):
            assert FIND[kind](row.name) is row


SOUND_ROD_GLUE = stock.adhesive("epoxy thickened")
BROKEN: list[tuple[Row, str]] = [
    (replace(stock.bar("round 5/8 1018"), Fy=37.2), "Fy 37.2"),
    (replace(stock.bar("round 5/8 1018"), height=12.7), "not as high"),
    (replace(stock.bar("round 5/8 1018"), wall=2), "wall does not suit"),
    (replace(stock.bar("round tube 33.7x3 S235"), wall=0), "wall does not suit"),
    (replace(stock.bar("round 5/8 1018"), Fu=350), "breaks before"),
    (replace(stock.bar("round 5/8 1018"), shape="square"), "begin with its shape"),
    (replace(stock.bar("round 5/8 1018"), source=""), "names no publication"),
    (replace(stock.bar("round 16 S235"), status="confirmed"), "rests on 'from memory'"),
    (replace(stock.bar("round 5/8 1018"), name="round  5/8 1018"), "stray spaces"),
    (replace(stock.timber("spf 2x4"), Fv=135), "Fv 135"),
    (replace(stock.timber("spf 2x4"), Fv=None), "some figures"),
    (replace(stock.timber("C16 38x89"), rho_k=370), "not below its mean"),
    (replace(stock.timber("C16 38x89"), width=90), "not deeper"),
    (replace(stock.panel("mdf 18"), sheets=()), "sheet size"),
    (replace(stock.panel("mdf 18"), sheets=((48, 96),)), "sheet size"),
    (replace(stock.panel("mdf 18"), E_along=25), "E_along 25"),
    (replace(stock.panel_strengths("birch ply 12"), fm_along=429), "fm_along 429"),
    (replace(stock.panel_strengths("mdf 12"), ft_across=9.5), "stronger across"),
    (replace(stock.panel_strengths("osb 12"), fm_across=17), "stronger across"),
    (replace(stock.lumber("poplar"), density=42), "density 42"),
    (replace(SOUND_ROD_GLUE, E_low=5000), "moduli are not in order"),
    (replace(SOUND_ROD_GLUE, work=72), "waits are not in order"),
    (replace(SOUND_ROD_GLUE, E_low=300), "too soft"),
    (replace(SOUND_ROD_GLUE, nu=0.49), "nu 0.49"),
    (replace(stock.screw("no. 8 x 2"), root=4.5), "do not grow"),
    (replace(stock.finish("lacquer"), full_load=2), "loaded before"),
]


@pytest.mark.parametrize(("row", "fault"), BROKEN, ids=[fault for _, fault in BROKEN])
def test_walk_sees_a_broken_row(row: Row, fault: str) -> None:
    assert fault in "; ".join(stock.faults(row))


def figures_of(row: Bar) -> list[Fraction]:
    """The figures in a bar's name, between its shape and its steel ("flat 1-1/4x3/8 a36")."""
    sizes = row.name.removeprefix(f"{row.shape} ").split(" ")[0].split("x")
    return [sum(map(Fraction, size.split("-")), start=Fraction(0)) for size in sizes]


@pytest.mark.parametrize("row", stock.rows("bar"), ids=lambda row: row.name)
def test_name_of_a_bar_says_its_size_across_then_up(row: Row) -> None:
    assert isinstance(row, Bar)
    unit = Fraction(1) if "S235" in row.steel or "1.4301" in row.steel else Fraction("25.4")
    size, *second = [float(figure * unit) for figure in figures_of(row)]
    expected = {
        "flat": (size, *second, 0.0),
        "round tube": (size, size, *second),
        "square tube": (size, size, *second),
    }.get(row.shape, (size, size, 0.0))
    assert (row.width, row.height, row.wall) == pytest.approx(expected, rel=1e-12)


def test_metric_names_of_timber_say_the_size() -> None:
    metric = [row for row in stock.rows("timber") if re.match(r"C\d\d ", row.name)]
    assert len(metric) >= 10
    for row in metric:
        found = stock.timber(row.name)
        assert row.name == f"{found.grade} {found.width:g}x{found.depth:g}"


@pytest.mark.parametrize(
    ("find", "typed", "kind", "first"),
    [
        (stock.bar, "ruond 5/8 1018", "bar", "round 5/8 1018"),
        (stock.timber, "SBF 2x4", "timber", "spf 2x4"),
        (stock.panel, "birch plywood 1/2", "panel", "birch ply 1/2"),
        (stock.lumber, "popler", "lumber", "poplar"),
        (stock.adhesive, "epoxy, thickend", "adhesive", "epoxy thickened"),
        (stock.screw, "mo. 8 x 1", "screw", "no. 6 x 1"),
        (stock.finish, "laquer", "finish", "lacquer"),
    ],
)
def test_unknown_name_is_answered_with_the_three_nearest(
    find: Callable[[str], Row], typed: str, kind: str, first: str
) -> None:
    with pytest.raises(stock.NotStocked) as caught:
        find(typed)
    assert (caught.value.kind, caught.value.name) == (kind, typed)
    assert len(caught.value.nearest) == 3
    assert caught.value.nearest[0] == first
    assert first in str(caught.value)
    again = pickle.loads(pickle.dumps(caught.value))  # noqa: S301 - our own bytes
    assert again.nearest == caught.value.nearest


@pytest.mark.parametrize("typed", ["", " ", "\x00", "x" * 10_000, "∅"])
def test_any_text_gets_an_answer(typed: str) -> None:
    with pytest.raises(stock.NotStocked) as caught:
        stock.bar(typed)
    assert len(set(caught.value.nearest)) == 3


# Inch 25.4 mm, pound-force 4.4482216152605 N: exact, NIST SP 811 appendix B.
@pytest.mark.parametrize(
    ("cell", "value"),
    [
        ("5/8 in", 15.875),
        ("1 1/4 in", 31.75),
        ("0.120 in", 3.048),
        ("1 psi", 0.0068947572931683),
        ("54 ksi", 372.31689383109),
        ("14 days", 336.0),
        ("0.80", 0.8),
        ("16", 16.0),
    ],
)
def test_cell_with_its_unit(cell: str, value: float) -> None:
    assert table.number(cell) == pytest.approx(value, rel=1e-13)


@pytest.mark.parametrize("cell", ["", "in", "12 furlongs", "a", "1/0 in", "nan", "inf", "1,5"])
def test_cell_that_is_no_number_is_refused(cell: str) -> None:
    with pytest.raises((ValueError, ZeroDivisionError)):
        table.number(cell)


def test_table_with_a_strange_or_missing_column_is_refused() -> None:
    line = {"name": "x", "spread": "10", "recoat": "4", "full_load": "7 days"}
    with pytest.raises(TypeError):
        table.read(stock.Finish, [line])
    with pytest.raises(TypeError):
        table.read(stock.Finish, [line | {"source": "s", "status": "assumed", "price": "3"}])


def test_empty_cell_where_a_figure_is_due_is_refused() -> None:
    line = {"name": "x", "spread": "", "recoat": "4", "full_load": "7 days"}
    with pytest.raises(ValueError, match="no number"):
        table.read(stock.Finish, [line | {"source": "s", "status": "assumed"}])


def test_import_loads_no_numerics() -> None:
    heavy = "numpy scipy shapely ezdxf typst pydantic"
    code = (
        f"import sys, ledgewright.stock; print(sorted(set('{heavy}'.split()) & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_every_name_in_the_page_is_stocked() -> None:
    page = (Path(__file__).parents[2] / "docs" / "stock.md").read_text(encoding="utf-8")
    lines = [line.split("|")[1:4] for line in page.splitlines() if line.startswith("| ")]
    examples = {kind.strip(): re.findall("`([^`]+)`", names) for kind, _, names in lines[1:8]}
    assert set(examples) == set(stock.KINDS)
    for kind in stock.KINDS:
        assert len(examples[kind]) >= 3
        for name in examples[kind]:
            assert FIND[kind](name).name == name
