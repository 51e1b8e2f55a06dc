"""Mechanics never sees a basis, and a basis never sees a plan: their imports say so."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from ledgewright import statics

AGAINST = (
    "imports read from the sources",
    "rule of the project",
    "exact",
)

HOME = Path(statics.__file__).parent


def imported(file: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def own(file: Path) -> set[str]:
    """The rooms and parts of the program that a file imports."""
    return {
        name.removeprefix("ledgewright.")
        for name in imported(file)
        if name.startswith("ledgewright")
    }


@pytest.mark.parametrize("file", sorted((HOME / "mechanics").glob("*.py")), ids=lambda f: f.name)
def test_mechanics_knows_formulas_and_nothing_else(file: Path) -> None:
    allowed = ("statics.formula", "statics.mechanics")
    assert [name for name in own(file) if not name.startswith(allowed)] == []


@pytest.mark.parametrize("file", sorted((HOME / "bases").rglob("*.py")), ids=lambda f: f.name)
def test_a_basis_knows_bars_timbers_and_durations_but_no_plan(file: Path) -> None:
    allowed = ("statics.formula", "statics.mechanics", "statics.bases", "statics.model", "stock")
    others = {name for name in own(file) if not name.startswith(allowed)}
    assert others <= {"job.Basis", "job.Lasts", "statics.mechanics"}


def test_the_one_rod_model_needs_no_numerics() -> None:
    names = (
        "one_rod",
        "beam",
        "checks",
        "loads",
        "seats",
        "families",
        "formula",
        "inputs",
        "model",
    )
    files = [HOME / f"{name}.py" for name in names]
    for file in (*files, *(HOME / "bases").rglob("*.py"), HOME / "mechanics" / "rod.py"):
        assert not {name.split(".")[0] for name in imported(file)} & {"numpy", "scipy", "typst"}
