"""One-way contact against every guess of what touches, tried one by one, and against a spring in a gap by hand."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.optimize import nnls

from ledgewright.statics.mechanics import contact
from ledgewright.statics.mechanics.contact import Tables, Touch, table, touch
from ledgewright.statics.mechanics.section.parts import Mechanism

AGAINST = (
    "every guess of what touches tried one by one; non-negative least squares; a spring in a gap by hand",
    "separate route in the test, scipy.optimize.nnls, and hand calculation",
    "1e-7",
)

Floats = NDArray[np.float64]


def by_trial(M: Floats, h: Floats, N: Floats, g: Floats) -> tuple[Floats, Floats] | None:
    """Every set of contacts in touch, solved as plain equations; the one whose forces press and gaps stay open."""
    n, m = N.shape
    for on in itertools.product((False, True), repeat=n):
        at = np.flatnonzero(on)
        k = len(at)
        left = np.zeros((k + m, k + m))
        left[:k, :k], left[:k, k:], left[k:, :k] = M[np.ix_(at, at)], N[at], N[at].T
        if k + m and np.linalg.matrix_rank(left) < k + m:
            continue
        solved = np.linalg.solve(left, np.concatenate([-h[at], -g]))
        force = np.zeros(n)
        force[at] = solved[:k]
        gap = h + M @ force + N @ solved[k:]
        if force.min(initial=0.0) >= -1e-9 and gap.min(initial=0.0) >= -1e-9:
            return force, gap
    return None


def case(seed: int, n: int, m: int) -> tuple[Floats, Floats, Floats, Floats]:
    source = np.random.default_rng(seed)
    root = source.normal(size=(n, n))
    M = root @ root.T + 0.3 * np.eye(n)
    N = source.normal(size=(n, m))
    pressed = source.uniform(0.2, 1.0, size=n)
    return M, source.normal(size=n), N, -N.T @ pressed


@pytest.mark.parametrize("seed", range(60))
def test_forces_and_gaps_are_those_of_the_one_set_that_fits(seed: int) -> None:
    M, h, N, g = case(seed, 2 + seed % 6, seed % 3 if seed % 6 > 1 else 0)
    expected = by_trial(M, h, N, g)
    assert expected is not None
    found = touch(M=M, h=h, N=N, g=g, one_way=np.ones(len(h), dtype=bool))
    assert found.force == pytest.approx(expected[0], abs=1e-7)
    assert found.gap == pytest.approx(expected[1], abs=1e-7)


@pytest.mark.parametrize("seed", range(30))
def test_many_loads_at_once_are_each_that_of_the_one_set_that_fits(seed: int) -> None:
    """Whatever is taken as touching to begin with, in however many contacts a load differs, whatever came before."""
    n, m = 2 + seed % 6, seed % 3 if seed % 6 > 1 else 0
    M, _, N, g = case(seed, n, m)
    source = np.random.default_rng(seed)
    h = source.normal(size=(40, n))
    work = np.array([g] * 39 + [-g])
    expected = [by_trial(M, one, N, by) for one, by in zip(h, work, strict=True)]
    begun = source.random(n) < 0.5
    begun[: m + 1] = True
    every = Tables(table(M=M, N=N, one_way=np.ones(n, dtype=bool), on=begun), far=0)
    found = [
        each
        for some in (slice(0, 7), slice(7, 20), slice(20, 40))
        for each in every.touch(h[some], work[some])
    ]
    for told, wanted in zip(found, expected, strict=True):
        if isinstance(told, Mechanism):
            assert wanted is None
            continue
        assert wanted is not None
        assert told.force == pytest.approx(wanted[0], abs=1e-7)
        assert told.gap == pytest.approx(wanted[1], abs=1e-7)


def flips_for_ever(M: Floats, h: Floats) -> bool:
    """Whether changing every wrong guess at once goes round in circles, all taken as touching to begin with."""
    on, seen = np.ones(len(h), dtype=bool), set[bytes]()
    while on.tobytes() not in seen:
        seen.add(on.tobytes())
        force = np.zeros(len(h))
        force[on] = np.linalg.solve(M[np.ix_(on, on)], -h[on])
        then = np.where(on, force > 0, h + M @ force < 0)
        if (then == on).all():
            return False
        on = then
    return True


def test_where_guesses_go_round_in_circles_one_at_a_time_finds_the_same_as_least_squares(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Least p M p / 2 + h p over p >= 0 is least |L^T p + L^-1 h| (M = L L^T): by scipy's nnls, from outside.

    The sure method, which would find it too, is not there to help.
    """
    monkeypatch.delattr(contact, "_sure")
    circles = 0
    for seed in range(120):
        source = np.random.default_rng(seed)
        at = np.sort(source.uniform(size=20))
        M = np.exp(-((at[:, None] - at) ** 2) / 0.1) + 1e-3 * np.eye(20)
        h = source.normal(size=20)
        lower = np.linalg.cholesky(M)
        expected, _ = nnls(lower.T, -np.linalg.solve(lower, h))
        found = touch(M=M, h=h, N=np.zeros((20, 0)), g=np.zeros(0), one_way=np.ones(20, dtype=bool))
        assert found.force == pytest.approx(expected, abs=1e-7 * expected.max())
        circles += flips_for_ever(M, h)
    assert circles > 2


def test_what_touches_may_be_said_and_is_then_plain_equations() -> None:
    M, h, N, g = case(3, 6, 2)
    on = np.array([True, False, True, True, False, True])
    at = np.flatnonzero(on)
    every = table(M=M, N=N, one_way=np.ones(6, dtype=bool), on=np.arange(6) < 4)
    (force,), (whole,) = every.held_to(h[None], g[None], on[None])
    left = np.block([[M[np.ix_(at, at)], N[at]], [N[at].T, np.zeros((2, 2))]])
    solved = np.linalg.solve(left, np.concatenate([-h[at], -g]))
    assert force[at] == pytest.approx(solved[:4], rel=1e-9)
    assert not force[~on].any()
    assert whole == pytest.approx(solved[4:], rel=1e-9)


def test_a_table_needs_contacts_that_hold_the_body_and_a_glued_one_always_touches() -> None:
    M, N = np.eye(3), np.array([[1.0, 0.0], [1.0, 0.0], [1.0, 1.0]])
    with pytest.raises(Mechanism):
        table(M=M, N=N, one_way=np.ones(3, dtype=bool), on=np.array([True, True, False]))
    # A glued spring of 2 mm/N that stands 1 mm off is pulled by 0.5 N, an open one over a gap of 1 mm by nothing.
    none = np.zeros((2, 0))
    every = table(
        M=2 * np.eye(2), N=none, one_way=np.array([False, True]), on=np.zeros(2, dtype=bool)
    )
    (found,) = Tables(every).touch(np.ones((1, 2)), np.zeros((1, 0)))
    assert isinstance(found, Touch)
    assert found.force == pytest.approx([-0.5, 0.0])
    assert found.gap == pytest.approx([0.0, 1.0])


def spring(load: float) -> Touch:
    """A spring of 2 mm/N hangs 3 mm over a stop; the load pushes it down by twice its size."""
    one = np.ones((1, 1))
    return touch(
        M=2 * one,
        h=np.array([3.0 - 2 * load]),
        N=np.zeros((1, 0)),
        g=np.zeros(0),
        one_way=np.ones(1, dtype=bool),
    )


def test_a_spring_over_a_stop_by_hand() -> None:
    assert spring(1.0).gap == pytest.approx([1.0])
    assert spring(1.0).force == pytest.approx([0.0])
    # at 4 N the free spring would go 8 mm; the stop takes what is left of the load after 3 mm: 4 - 1.5
    assert spring(4.0).force == pytest.approx([2.5])
    assert spring(4.0).gap == pytest.approx([0.0])


def test_a_glued_contact_may_also_pull() -> None:
    one = np.ones((1, 1))
    found = touch(
        M=2 * one, h=np.array([1.0]), N=np.zeros((1, 0)), g=np.zeros(0), one_way=np.zeros(1, bool)
    )
    assert found.force == pytest.approx([-0.5])


def test_a_load_that_only_lifts_is_a_mechanism_not_a_number() -> None:
    """Two supports that only press, and a load that pulls the body off them."""
    M, N = np.eye(2), np.array([[1.0], [1.0]])
    with pytest.raises(Mechanism):
        touch(M=M, h=np.zeros(2), N=N, g=np.array([5.0]), one_way=np.ones(2, dtype=bool))


def test_a_body_that_nothing_keeps_from_turning_is_a_mechanism() -> None:
    """Two supports at the same place hold no turn."""
    M, N = np.eye(2), np.array([[1.0, 2.0], [1.0, 2.0]])
    with pytest.raises(Mechanism):
        touch(M=M, h=np.zeros(2), N=N, g=np.array([-5.0, -10.0]), one_way=np.ones(2, dtype=bool))


@pytest.mark.parametrize("seed", range(6))
def test_a_table_about_other_contacts_is_the_one_made_for_them(seed: int) -> None:
    """Pivoted to, or solved for from the start: the same equations."""
    M, _, N, _ = case(seed, 7, 2)
    one_way = np.ones(7, dtype=bool)
    begun, then = (np.array([c == "x" for c in on]) for on in ("xx.xx.x", "x..xxxx"))
    made = table(M=M, N=N, one_way=one_way, on=begun).about(then)
    wanted = table(M=M, N=N, one_way=one_way, on=then)
    assert made.pivot == pytest.approx(wanted.pivot, rel=1e-7, abs=1e-9)
    assert made.loads == pytest.approx(wanted.loads, rel=1e-7, abs=1e-9)
