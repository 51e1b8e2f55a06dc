"""Nets of tapes whose answers are in books and papers, and the limits of the tests.

data/survey.json: survey-01 to 14 of the reference notes on survey and motion, each with its source. The cases 05 and
12 are not in the reference.
"""

from __future__ import annotations

import json
import math
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from ledgewright.survey import slips
from ledgewright.survey.adjust import Adjusted, Loose, adjust
from ledgewright.survey.equations import Straight
from ledgewright.survey.slips import least, limit, tau_limit, whole_limit

AGAINST = (
    "Ghilani ex. 14.5; Strang and Borre ex. 10.1; Benning ex. 8-2; Hoepke ex. 35.5; Weiss et al. (2010); Baarda; Pope",
    "published, confirmed by recomputing; survey-01 and 08 to 14 derived outside the project",
    "half a unit of the last printed digit",
)

CASES = {
    c["id"]: c
    for c in json.loads(
        (Path(__file__).parent / "data" / "survey.json").read_text(encoding="utf-8")
    )
}


@dataclass(frozen=True)
class Solved:
    """A net with its names: points to their place among the unknowns, tapes in the order of the case."""

    net: Adjusted
    points: dict[str, int]
    tapes: list[tuple[str, str]]

    def at(self, name: str) -> list[float]:
        k = 2 * self.points[name]
        return [float(self.net.x[k]), float(self.net.x[k + 1])]

    def sd(self, name: str) -> list[float]:
        """A posteriori, as the books print it: the cofactor times the scatter found."""
        k = 2 * self.points[name]
        return [self.net.s0 * math.sqrt(self.net.cofactor[i, i]) for i in (k, k + 1)]

    def tape(self, a: str, b: str) -> int:
        return next(i for i, pair in enumerate(self.tapes) if set(pair) == {a, b})


def solve(
    tapes: list[tuple[str, str, float, float]],
    near: dict[str, list[float]],
    fixed: dict[str, list[float]],
    held: frozenset[int] = frozenset(),
) -> Solved:
    """Adjust tapes (from, to, length, sd) between points; `held`: more unknowns that are given, by number."""
    spots = fixed | near
    points = {name: k for k, name in enumerate(spots)}
    equations = [
        Straight((2 * points[a], 2 * points[a] + 1), (2 * points[b], 2 * points[b] + 1), read, sd)
        for a, b, read, sd in tapes
    ]
    start = [x for name in spots for x in spots[name]]
    given = frozenset(k for name in fixed for k in (2 * points[name], 2 * points[name] + 1))
    net = adjust(equations, start, given | held)
    assert isinstance(net, Adjusted)
    return Solved(net, points, [(a, b) for a, b, *_ in tapes])


def equal(given: dict[str, Any], sd: float = 1.0) -> list[tuple[str, str, float, float]]:
    return [(a, b, d, sd) for a, b, d in given["distances"]]


def prints(found: float, printed: float, digits: int) -> None:
    """Agree with a printed figure to half a unit of its last digit."""
    assert found == pytest.approx(printed, abs=0.5000001 * 10.0**-digits)


def plane(name: str) -> tuple[Solved, dict[str, Any]]:
    given, expected = CASES[name]["inputs"], CASES[name]["expected"]
    near = given.get("approx", {"U": [6861.0, 3728.0]})
    return solve(equal(given), near, given["fixed"]), expected


def check_lists(found: Solved, expected: dict[str, Any], digits: int) -> None:
    net = found.net
    assert net.r == expected["redundancy"]
    assert float(net.share.sum()) == pytest.approx(net.r, abs=1e-9)  # they add up to r
    for got, printed in zip(net.share, expected["redundancy_numbers"], strict=True):
        prints(float(got), printed, 4)
    for got, printed in zip(net.v, expected.get("residuals", []), strict=False):
        prints(float(got), printed, digits)


def test_one_point_from_three_tapes() -> None:
    found, expected = plane("survey-01")
    check_lists(found, expected, 4)
    for got, printed in zip(found.at("U"), expected["U"], strict=True):
        prints(got, printed, 4)
    for got, printed in zip(found.sd("U"), expected["std_xy"], strict=True):
        prints(got, printed, 4)
    prints(found.net.s0, expected["S0"], 5)


def test_the_braced_quadrilateral() -> None:
    found, expected = plane("survey-02")
    check_lists(found, expected, 5)
    for name in ("Wisconsin", "Campus"):
        for got, printed in zip(found.at(name), expected[name], strict=True):
            prints(got, printed, 4)
        for got, printed in zip(found.sd(name), expected["std"][name], strict=True):
            prints(got, printed, 5)
    prints(found.net.s0, expected["S0"], 5)


def test_with_one_figure_in_surplus_nothing_can_be_located() -> None:
    # survey-02: every standardised residual has the same size, so every tape is a suspect once one is.
    found, _ = plane("survey-02")
    assert np.abs(found.net.tau) == pytest.approx(np.ones(5), abs=1e-7)
    given = CASES["survey-02"]["inputs"]
    # Trusted to 0.02 ft the five do not agree (0.055 / (0.02 sqrt 0.1619) = 6.8 each): all are named, as none can be.
    slipped = solve(equal(given, 0.02), given["approx"], given["fixed"]).net
    assert sorted(slips.snooped(slipped).suspects) == [0, 1, 2, 3, 4]


def test_the_three_tape_fix() -> None:
    found, expected = plane("survey-03")
    for got, printed in zip(found.at("P"), expected["P"], strict=True):
        prints(got, printed, 4)
    for got, printed in zip(found.sd("P"), expected["std_m"], strict=True):
        prints(got, printed, 5)
    prints(found.net.s0, expected["S0_m"], 5)
    for got, printed in zip(found.net.v, expected["residuals_m"], strict=True):
        prints(float(got), printed, 5)
    assert found.net.share == pytest.approx(expected["redundancy_numbers"], abs=1e-4)


def test_the_square_figure() -> None:
    found, expected = plane("survey-04")
    for name in ("3", "4"):
        for got, printed in zip(found.at(name), expected[name], strict=True):
            prints(got, printed, 4)
    got_sd = [*found.sd("3"), *found.sd("4")]
    for got, printed in zip(got_sd, expected["std_m"], strict=True):
        prints(got, printed, 5)
    prints(found.net.s0, expected["S0_m"], 5)
    for share, printed in zip(found.net.share, expected["redundancy_numbers"], strict=True):
        prints(float(share), printed, 4)


def test_nine_points_with_unequal_weights() -> None:
    given, expected = CASES["survey-06"]["inputs"], CASES["survey-06"]["expected"]
    tapes = [(a, b, d, sd) for a, b, d, sd in given["distances_with_sigma"]]
    found = solve(tapes, given["approx"], given["fixed"])
    assert found.net.r == expected["redundancy"]
    prints(found.net.s0, expected["S0"], 6)
    for name, printed in expected["adjusted"].items():
        for got, figure in zip(found.at(name), printed, strict=True):
            prints(got, figure, 4)
    worst = int(np.argmax(np.abs(found.net.tau)))
    assert set(found.tapes[worst]) == set(expected["largest_tau"]["line"])
    prints(float(found.net.tau[worst]), expected["largest_tau"]["value"], 2)
    assert abs(found.net.tau[worst]) > tau_limit(14)
    assert worst in slips.snooped(found.net, trusted=False).suspects


def free(change: tuple[str, str, float] | None = None, leave: str = "") -> Solved:
    """The net of 27 distances, one point and one direction held; survey-07 gives the approximate points."""
    given = CASES["survey-07"]["inputs"]
    tapes = [
        (a, b, change[2] if change and {a, b} == set(change[:2]) else d, 1.0)
        for a, b, d in given["distances"]
        if leave != f"{a}-{b}"
    ]
    middle = np.mean(list(given["approx"].values()), axis=0)
    near = {name: [x - middle[0], y - middle[1]] for name, (x, y) in given["approx"].items()}
    return solve(tapes, near, {}, frozenset({0, 1, 3}))


def test_the_free_network_of_27_distances() -> None:
    # Inner constraints over all points put the figure where its points lie nearest to the approximate ones: a
    # rigid fit, done here by the angle and the middles, off any one solution.
    found, expected = free(), CASES["survey-07"]["expected"]
    approx = CASES["survey-07"]["inputs"]["approx"]
    names = list(approx)
    middle = np.mean(list(approx.values()), axis=0)
    to = np.array([complex(*(np.array(approx[n]) - middle)) for n in names])
    own = np.array([complex(*found.at(n)) for n in names])
    shifted = own - own.mean()
    turn = np.angle(np.sum(to * shifted.conj()))
    placed = shifted * np.exp(1j * turn)
    for name, z in zip(names, placed, strict=True):
        prints(float(z.real + middle[0]), expected["adjusted"][name][0], 4)
        prints(float(z.imag + middle[1]), expected["adjusted"][name][1], 4)
    assert found.net.r == expected["redundancy"]
    prints(found.net.s0, expected["S0_m"], 5)
    line = found.tape(*expected["largest_tau"]["line"])
    assert int(np.argmax(np.abs(found.net.tau))) == line
    prints(abs(float(found.net.tau[line])), expected["largest_tau"]["value"], 3)
    assert abs(found.net.tau[line]) < tau_limit(14)  # no slip in it


def test_the_planted_misprint_of_50_mm_is_found_on_the_right_line() -> None:
    a, b, read = CASES["survey-08"]["inputs"]["change"]
    expected = CASES["survey-08"]["expected"]
    found = free((a, b, read))
    line = found.tape(a, b)
    prints(found.net.s0, expected["S0_m"], 5)
    order = np.argsort(-np.abs(found.net.tau))
    assert int(order[0]) == line
    prints(float(found.net.tau[line]), expected["largest_tau"]["value"], 3)
    assert set(found.tapes[int(order[1])]) == set(expected["second_tau"]["line"])
    prints(float(found.net.tau[order[1]]), expected["second_tau"]["value"], 2)
    assert abs(found.net.tau[line]) > tau_limit(14) > abs(found.net.tau[order[1]])
    prints(float(found.net.v[line]), expected["residual_m"], 5)
    prints(float(found.net.share[line]), expected["redundancy_number"], 3)
    prints(float(found.net.slip[line]), expected["estimated_error_m"], 4)
    after = free(leave=f"{a}-{b}")
    prints(after.net.s0, expected["after_removal"]["S0_m"], 5)
    assert after.net.r == expected["after_removal"]["redundancy"]
    (px, py), (qx, qy) = after.at(a), after.at(b)
    prints(math.hypot(px - qx, py - qy), expected["after_removal"]["predicted_1059_75"], 4)
    # Nobody knows how good these tapes are: held against their own scatter, that line and no other is named.
    assert slips.snooped(found.net, trusted=False).suspects == (line,)
    assert slips.snooped(free().net, trusted=False).sound
    # With the scatter of the sound net trusted (5 mm), the test of single figures names that line and no other.
    trusted = solve(
        [(p, q, d, 0.005) for (p, q), d in zip(found.tapes, reads(a, b, read), strict=True)],
        {n: found.at(n) for n in found.points},
        {},
        frozenset({0, 1, 3}),
    )
    assert slips.snooped(trusted.net).suspects == (line,)


def reads(a: str, b: str, read: float) -> list[float]:
    given = CASES["survey-07"]["inputs"]["distances"]
    return [read if {p, q} == {a, b} else d for p, q, d in given]


def test_limits_of_the_tests() -> None:
    expected = CASES["survey-09"]["expected"]
    prints(limit(), expected["z_two_sided"], 4)
    prints(least(), expected["delta0"], 4)
    prints(least() ** 2, expected["lambda0"], 2)
    prints(tau_limit(14), expected["tau_r14_alpha0001"], 3)
    # Two-sided chi-square quantiles printed in the notes of survey-11.
    prints(whole_limit(3), 16.27, 2)
    prints(whole_limit(3, 0.01), 11.34, 2)


def room(name: str) -> tuple[Solved, dict[str, Any]]:
    """One mark at the origin, the second on the x axis; 1 mm tapes."""
    given, expected = CASES[name]["inputs"], CASES[name]["expected"]
    near = CASES["survey-10" if "O" in expected["P"] else "survey-13"]["expected"]["P"]
    names = list(near)
    second = "A2" if "O" in near else "B"
    order = [names[0], second, *(n for n in names if n not in (names[0], second))]
    spots = {n: [x + 3.0 * (n not in order[:2]), y] for n, (x, y) in near.items()}
    return (
        solve(equal(given), {n: spots[n] for n in order}, {}, frozenset({0, 1, 3})),
        expected,
    )


@pytest.mark.parametrize("name", ["survey-10", "survey-11", "survey-13", "survey-14"])
def test_rooms_taped_by_hand(name: str) -> None:
    found, expected = room(name)
    net = found.net
    assert net.r == expected["r"]
    for spot, printed in expected["P"].items():
        for got, figure in zip(found.at(spot), printed, strict=True):
            prints(got, figure, 4)
    columns = ((net.v, "v", 4), (net.share, "red", 4), (net.w, "w", 3))
    for column, key, digits in (*columns, (net.findable(least()), "mdb", 2)):
        for got, figure in zip(column, expected[key], strict=True):
            prints(float(got), figure, digits)
    prints(net.s0, expected["s0"], 4)
    prints(net.total, expected["T"], 4)


def test_where_one_tape_cannot_be_named_the_group_is() -> None:
    clean, wrong = room("survey-10")[0], room("survey-11")[0]
    assert slips.snooped(clean.net).sound
    said = slips.snooped(wrong.net)
    cross = {("A1", "B1"), ("A1", "B2"), ("A2", "B1"), ("A2", "B2")}
    assert {wrong.tapes[j] for j in said.suspects} == cross
    assert not said.several
    # survey-11, TRAP: the test of the whole misses it at 0.001, the single figures do not.
    assert said.total < said.limit


def test_both_diagonals_of_a_shallow_alcove_find_a_slip_and_cannot_place_it() -> None:
    assert slips.snooped(room("survey-13")[0].net).sound
    assert sorted(slips.snooped(room("survey-14")[0].net).suspects) == list(range(6))


@pytest.mark.parametrize("diagonals", [0, 1])
def test_an_alcove_with_too_few_tapes_is_loose_or_unchecked(diagonals: int) -> None:
    # Reference notes, section 1: 4 sides: not rigid; one diagonal: nothing in surplus.
    given = CASES["survey-13"]["inputs"]["distances"][: 4 + diagonals]
    near = CASES["survey-13"]["expected"]["P"]
    points = {name: k for k, name in enumerate(near)}
    tapes = [
        Straight((2 * points[a], 2 * points[a] + 1), (2 * points[b], 2 * points[b] + 1), d, 1.0)
        for a, b, d in given
    ]
    net = adjust(tapes, [x for xy in near.values() for x in xy], frozenset({0, 1, 3}))
    if diagonals:
        assert isinstance(net, Adjusted)
        assert net.r == 0
        assert not net.checked.any()
    else:
        assert isinstance(net, Loose)
        assert net.free.shape[1] == 1


def test_every_row_is_looked_at() -> None:
    used = {"01", "02", "03", "04", "06", "07", "08", "09", "10", "11", "13", "14"}
    assert {f"survey-{n}" for n in used} == set(CASES)
