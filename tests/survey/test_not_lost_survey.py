"""The doubt of a face is that of two gaps; a net that scatters does not heal."""

from __future__ import annotations

import math
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from ledgewright.survey import room as room_of
from ledgewright.survey.slips import snooped
from tests.survey.taped import tapes
from tests.survey.taped import wall as taped_wall

AGAINST = (
    "mutants of the code that no test had held: each test here fails on one",
    "by hand from standards, statics, geometry and the rules of the project, as each says",
    "as each says",
)


def test_a_face_read_off_a_string_is_in_the_doubt_of_two_gaps() -> None:
    """Law of error propagation: out of the line is a gap less the gap at the hook, each read to 0.3 mm: 0.42."""
    (found,) = room_of(
        tapes([taped_wall("A", 2000, [(0, 10), (1000, 12), (2000, 10)])]), 1000.0
    ).walls
    assert found.sd == pytest.approx(0.3 * math.sqrt(2))


def test_a_figure_does_not_heal_a_net_whose_rest_still_scatters_too_much() -> None:
    """Baarda 1968, chi-square at 0.001: five left at 3 sd come to 45, over 20.5, though none of them is over 3.29."""
    net: Any = SimpleNamespace(
        r=6,
        total=4.0**2 + 5 * 3.0**2,
        w=np.array([4.0, 3.0, 3.0, 3.0, 3.0, 3.0]),
        checked=np.ones(6, dtype=bool),
        alike=np.eye(6),
    )
    assert snooped(net).several
    net.w, net.total = np.array([4.0, 1.0, 1.0, 1.0, 1.0, 1.0]), 16.0 + 5.0
    assert (snooped(net).several, snooped(net).suspects) == (False, (0,))
