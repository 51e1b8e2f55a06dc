"""Every formula as printed says what its function does; every printed line is true and can be set in type."""

from __future__ import annotations

import inspect
import math
import random
from collections.abc import Callable
from importlib import import_module
from pkgutil import walk_packages

import pytest
import typst

from ledgewright import statics
from ledgewright.statics.formula import Formula, number, put_in, with_blanks
from tests.statics.reckon import reckon

AGAINST = (
    "the printed text read and reckoned anew, set by a typesetter",
    "separate route in the test",
    "2e-7; numbers as printed 0.2 %",
)

FORMULAS = sorted(
    {
        f"{module.name}.{name}": value
        for module in walk_packages(statics.__path__, statics.__name__ + ".")
        for name, value in vars(import_module(module.name)).items()
        if isinstance(value, Formula) and value.function.__module__ == module.name
    }.items()
)
# Arguments whose meaning bounds them; all others are drawn from 0.5 to 3.
BOUNDS: dict[str, tuple[float, float]] = {
    "nu": (0.0, 0.45),
    "r": (1.05, 2.5),
    "k_def": (0.0, 2.0),
    "C": (-3.0, -0.5),
}
WITHIN: dict[str, dict[str, tuple[float, float]]] = {
    "reduced_limit": {"C": (0.9, 1.6)},
    "reduced_hinge": {"C": (0.9, 1.6)},
    "reduction": {"phi": (3.1, 5.0)},
    "critical_moment": {"h": (10.0, 50.0)},
    "splitting": {"he": (0.5, 1.9), "h": (2.0, 3.0)},
    "to_50_psi": {"F": (10.0, 50.0)},
}


def drawn(name: str, formula: Formula[...], source: random.Random) -> dict[str, float]:
    own = WITHIN.get(name.rsplit(".", 1)[1], {})
    return {
        arg: source.uniform(*own.get(arg, BOUNDS.get(arg, (0.5, 3.0))))
        for arg, _ in formula.symbols
    }


def test_there_are_formulas_of_mechanics_and_both_bases() -> None:
    places = {name.split(".")[2] + "." + name.split(".")[3] for name, _ in FORMULAS}
    assert {"mechanics.bed", "mechanics.rod", "bases.nds", "bases.ec5"} <= places
    assert len(FORMULAS) > 50


@pytest.mark.parametrize(("name", "formula"), FORMULAS)
def test_the_printed_text_gives_what_the_function_gives(name: str, formula: Formula[...]) -> None:
    source = random.Random(name)  # noqa: S311  # no secret, only a spread of inputs
    for _ in range(25):
        values = drawn(name, formula, source)
        printed = reckon(formula.text, {symbol: values[arg] for arg, symbol in formula.symbols})
        # Texts round the converted constants of US formulas to seven figures.
        assert printed == pytest.approx(formula.function(**values), rel=2e-7)


@pytest.mark.parametrize(("name", "formula"), FORMULAS)
def test_the_numbers_put_in_give_the_value(name: str, formula: Formula[...]) -> None:
    source = random.Random(name + "n")  # noqa: S311
    step = formula.step(**drawn(name, formula, source))
    assert reckon(step.numbers, {}) == pytest.approx(step.value, rel=2e-3)
    assert step.unit
    assert step.source


def test_all_formulas_set_in_type() -> None:
    source = random.Random(3)  # noqa: S311
    lines = []
    for name, formula in FORMULAS:
        step = formula.step(**drawn(name, formula, source))
        lines.append(f"$ {step.symbol} = {step.formula} = {step.numbers} $")
    pdf = typst.compile("\n\n".join(lines).encode())
    assert isinstance(pdf, bytes)
    assert pdf.startswith(b"%PDF")


@pytest.mark.parametrize(("name", "formula"), FORMULAS)
def test_each_formula_says_where_it_comes_from_and_in_what_units(
    name: str, formula: Formula[...]
) -> None:
    text = inspect.getdoc(formula.function) or ""
    first, _, rest = text.partition("\n")
    assert first.startswith("Return "), name
    assert first.endswith(".")
    assert "Returns" in rest, name
    kinds = {p.kind for p in inspect.signature(formula.function).parameters.values()}
    assert kinds == {inspect.Parameter.KEYWORD_ONLY}


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (0.0, "0"),
        (15.875, "15.875"),
        (48.0, "48"),
        (199948.0, "199948"),
        (1234567.8, "1234568"),
        (0.000123456, "0.000123456"),
        (2.5e-5, "(2.5 times 10^(-5))"),
        (6.4e8, "(6.4 times 10^(8))"),
        (-3.2, "-3.2"),
    ],
)
def test_numbers_are_printed_as_people_write_them(value: float, shown: str) -> None:
    assert number(value) == shown


@pytest.mark.parametrize(
    ("text", "values", "shown"),
    [
        ("F_e d", {"F_e": 32.4, "d": 15.875}, "32.4 times 15.875"),
        ("frac(2 lambda^2, k)", {"lambda": 0.03, "k": 1300.0}, "frac(2 times 0.03^2, 1300)"),
        ("P a^3", {"P": -2.0, "a": 6.4e8}, "(-2) times (6.4 times 10^(8))^3"),
        ("8 pi (1 - nu) ln(r)", {"nu": 0.3, "r": 1.2}, "8 times pi times (1 - 0.3) times ln(1.2)"),
        ("c (c + b) / 2", {"c": 1.0, "b": 2.0}, "1 times (1 + 2)/2"),
        ("cos(c)", {"c": 1.0, "s": 2.0}, "cos(1)"),
    ],
)
def test_a_product_of_numbers_shows_its_times_sign(
    text: str, values: dict[str, float], shown: str
) -> None:
    assert put_in(with_blanks(text, tuple(values)), values) == shown


def test_reckoning_itself_knows_its_rules() -> None:
    rules: tuple[tuple[str, float], ...] = (
        ("2 times 3^2", 18.0),
        ("-2^2", -4.0),
        ("1 / 2 4", 2.0),
        ("frac(1 + 2, 3) root(4, 16)", 2.0),
        ("2 pi", 2 * math.pi),
        ("10^(-2)", 0.01),
    )
    check: Callable[[str], float] = lambda text: reckon(text, {})  # noqa: E731
    for text, value in rules:
        assert check(text) == pytest.approx(value, rel=1e-15)
