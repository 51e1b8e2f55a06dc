"""Every derivation follows from its own lines: each formula, reckoned from those before it, gives what it prints."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import pytest

from ledgewright.statics import Step
from ledgewright.statics.formula import arguments_told
from tests import jobs
from tests.statics.reckon import reckon
from tests.statics.test_formula import FORMULAS

AGAINST = (
    "every line of every derivation of the examples reckoned from the lines before it, by a reader of its own",
    "separate route in the test",
    "1e-6",
)


def derivations(name: str) -> Iterator[tuple[str, Sequence[Step]]]:
    for design in jobs.plan(name).designs:
        yield from ((check.id, check.steps) for check in design.holds.checks)
        yield from (
            (f"{rival.name}: {mode.title}", mode.steps)
            for rival in design.holds.rivals
            for mode in rival.modes
        )


@pytest.mark.parametrize("name", jobs.ALL)
def test_each_line_follows_from_those_before_it(name: str) -> None:
    reckoned = 0
    for where, steps in derivations(name):
        have: dict[str, float] = {}
        for step in steps:
            assert step.source, (where, step.symbol)
            assert step.unit, (where, step.symbol)
            if step.formula and step.formula != step.numbers:
                # A symbol that no line before bears makes the reader stop.
                value = reckon(step.formula, have)
                assert value == pytest.approx(step.value, rel=1e-6, abs=1e-9), (where, step.symbol)
                reckoned += 1
            have[step.symbol] = step.value
    assert reckoned > 1000


@pytest.mark.parametrize("family", ["rod.bend", "stud.split", "rod.biax"])
def test_a_rod_s_bed_is_worked_out_with_each_check_that_rests_on_it(family: str) -> None:
    rows = [c for c in jobs.plan("reading-alcove").designs[0].holds.checks if c.family == family]
    assert rows
    for row in rows:
        derived = {step.symbol for step in row.steps if step.formula != step.numbers}
        assert {"lambda", "k", "k_w", "k_g"} <= derived


def test_a_symbol_from_nowhere_stops_the_reader() -> None:
    with pytest.raises((AssertionError, KeyError, ValueError)):
        reckon("lambda L", {"L": 75.0})


@pytest.mark.parametrize(("name", "formula"), FORMULAS)
def test_every_argument_is_told_with_its_unit(name: str, formula) -> None:  # type: ignore[no-untyped-def]
    told = formula.told
    assert set(told) == {arg for arg, _ in formula.symbols}, name
    for about, unit in told.values():
        assert about
        assert about[0].isupper() or not about[0].isalpha()
        assert "(" not in about
        assert unit
        assert unit == "1" or unit.split("/")[0].split()[0].rstrip("234^") in (
            *("mm", "N", "MPa", "rad", "kg", "1", "deg", "C", "h", "m"),
        ), (name, unit)


def test_arguments_are_read_as_the_house_writes_them() -> None:
    def beam(*, V: float, M: float, d: float, b: float, n: float) -> float:
        """Return something.

        Statics, 1.5 of it. V, M: shear (N) and moment (N mm) at the face. d: depth, b: width of the 2.5 mm
        strip (mm). n: share. Returns mm.
        """
        return V + M + d + b + n

    assert arguments_told(beam, ("V", "M", "d", "b", "n")) == {
        "V": ("Shear and moment at the face", "N"),
        "M": ("Shear and moment at the face", "N mm"),
        "d": ("Depth", "mm"),
        "b": ("Width of the 2.5 mm strip", "mm"),
        "n": ("Share", "1"),
    }
    with pytest.raises(ValueError, match="does not say what x is"):
        arguments_told(beam, ("V", "M", "x"))
