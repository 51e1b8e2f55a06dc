"""Beam on a Winkler bed against a 40-digit boundary-value solve and the closed forms of Hetenyi (1946).

data/winkler_beam.csv, data/worked_timber.json (BEF-*): solved outside this project to 40 digits; a 100-element
finite-element run there agrees to 5e-7. data/winkler_forms.csv: the forms as printed; Wood Handbook ch. 8 factors.
"""

from __future__ import annotations

import math
import random
import re

import pytest

from ledgewright.statics import mechanics
from ledgewright.statics.formula import Working
from ledgewright.statics.mechanics import Face
from tests.published.rows import Row, agrees, rows, worked
from tests.statics.reckon import reckon

AGAINST = (
    "40-digit boundary-value solve; Hetenyi (1946); Wood Handbook ch. 8",
    "computed outside the project; Hetenyi's forms from memory",
    "eight digits; 1e-6 to 1e-11",
)

BEAMS, FORMS = rows("winkler_beam.csv"), rows("winkler_forms.csv")
EXAMPLES = worked("BEF-")


def face(given: dict[str, float]) -> Face:
    # P = 0 with M alone is allowed; E I goes in as E with I = 1.
    lam = mechanics.characteristic(k=given["k"], E=given["EI"], I=1.0)
    return mechanics.face(
        Working(keep=False), V=given["P"], M=given["M"], k=given["k"], lam=lam, L=given["L"]
    )


def conditions(row: Row) -> dict[str, float]:
    return {
        k: float(v) for k, v in re.findall(r"(?<![*\w])(P|M|EI|k|L)=([-+.\de]+)", row["conditions"])
    }


def exact(row: Row) -> dict[str, float]:
    """The inputs to full precision where a worked example carries them; EI is printed to 7 or 8 digits."""
    name = row["id"].rsplit("-", 1)[0].removeprefix("bef-")
    for each in EXAMPLES:
        if each["id"] == f"BEF-{name}":
            i = each["inputs"]
            return {"P": i["P"], "M": i["M"], "EI": i["EI"], "k": i["k_per_length"], "L": i["L"]}
    return conditions(row)


@pytest.mark.parametrize("row", BEAMS, ids=lambda row: row["id"])
def test_solved_beams(row: Row) -> None:
    end = face(exact(row))
    value = {
        "y0": end.y,
        "th0": end.theta,
        "Mpk": end.moment(end.peak_at),
        "yL": end.drop(end.L),
    }[row["id"].rsplit("-", 1)[1]]
    agrees(value, row["value"], digits=8)


@pytest.mark.parametrize("row", BEAMS, ids=lambda row: row["id"])
def test_the_table_and_the_examples_speak_of_the_same_beams(row: Row) -> None:
    assert exact(row) == pytest.approx(conditions(row), rel=1e-7)


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda each: each["id"])
def test_worked_beams_to_every_digit_a_float_holds(example: dict[str, dict[str, float]]) -> None:
    given, expected = example["inputs"], example["expected"]
    end = face(
        {
            "P": given["P"],
            "M": given["M"],
            "EI": given["EI"],
            "k": given["k_per_length"],
            "L": given["L"],
        }
    )
    assert end.lam == pytest.approx(expected["lambda"], rel=1e-12)
    assert end.y == pytest.approx(expected["y0"], rel=1e-10)
    assert end.theta == pytest.approx(expected["theta0_abs"], rel=1e-10)
    assert end.moment(end.peak_at) == pytest.approx(expected["M_peak_abs"], rel=1e-9)
    assert end.peak_at == pytest.approx(expected["x_peak"], rel=1e-6, abs=1e-9)
    # The far end is a small difference of large parts.
    assert end.drop(end.L) == pytest.approx(expected["yL"], rel=1e-6)


def form(name: str) -> dict[str, str]:
    """Left and right sides of the printed forms of a row."""
    row = next(row for row in FORMS if row["id"] == name)
    text = row["value"].replace("kL", "k L")
    return dict(part.strip().split("=", 1) for part in text.split(";"))


def sample(seed: int, stiff: float) -> tuple[Face, dict[str, float]]:
    source = random.Random(seed)  # noqa: S311  # no secret, only a spread of inputs
    k, lam = source.uniform(500, 3000), source.uniform(0.02, 0.05)
    V, M, L = source.uniform(50, 900), source.uniform(1e3, 2e5), stiff / lam
    return mechanics.face(Working(keep=False), V=V, M=M, k=k, lam=lam, L=L), {
        "P": V,
        "M": M,
        "k": k,
        "lam": lam,
        "L": L,
        "S": math.sinh(stiff),
        "C": math.cosh(stiff),
        "s": math.sin(stiff),
        "c": math.cos(stiff),
    }


@pytest.mark.parametrize("seed", range(8))
def test_finite_forms_as_printed(seed: int) -> None:
    end, at = sample(seed, 0.4 + 0.6 * seed)
    assert end.y == pytest.approx(reckon(form("bef-fin-y0")["y0"], at), rel=1e-11)
    assert end.theta == pytest.approx(reckon(form("bef-fin-th0")["th0"], at), rel=1e-11)


@pytest.mark.parametrize("seed", range(8))
def test_a_long_rod_is_a_semi_infinite_one(seed: int) -> None:
    end, at = sample(seed, 30.0)
    assert end.y == pytest.approx(reckon(form("bef-semi-y0")["y0"], at), rel=1e-11)
    assert end.theta == pytest.approx(reckon(form("bef-semi-th0")["th0"], at), rel=1e-11)
    xi = reckon(form("bef-semi-xpk")["xi*"], at)
    assert end.peak_at * end.lam == pytest.approx(xi, rel=1e-7)
    A = math.exp(-xi) * (math.cos(xi) + math.sin(xi))
    B = math.exp(-xi) * math.sin(xi)
    moment = reckon(form("bef-semi-Mx")["M(x)"], {**at, "A": A, "B": B})
    assert end.moment(end.peak_at) == pytest.approx(moment, rel=1e-9)


def test_peak_moment_of_a_long_rod_under_shear_alone() -> None:
    row = next(row for row in FORMS if row["id"] == "bef-semi-Mmax-P")
    end = mechanics.face(Working(keep=False), V=1.0, M=0.0, k=4.0, lam=1.0, L=30.0)
    agrees(end.moment(end.peak_at), row["value"])


@pytest.mark.parametrize("stiff", [1e-4, 5e-4, 2e-3, 1e-2])
def test_a_stiff_rod_stays_straight(stiff: float) -> None:
    end, at = sample(3, stiff)
    # Of order (lambda L)^4 away from the limit.
    assert end.y == pytest.approx(reckon(form("bef-rigid")["y0"], at), rel=max(stiff**4, 1e-9))
    assert end.theta == pytest.approx(reckon(form("bef-rigid")["th0"], at), rel=max(stiff**4, 1e-9))
