"""Funnels of neighbours leave wood between them."""

from __future__ import annotations

import pytest

from ledgewright.fitting import Channel
from ledgewright.fitting.cut import eased
from tests.statics import made

AGAINST = (
    "mutants of the code that no test had held: each test here fails on one",
    "by hand from standards, statics, geometry and the rules of the project, as each says",
    "as each says",
)


def test_the_mouths_of_neighbours_leave_wood_between_them() -> None:
    """Rule of the project: eased by 1/8 in or twice the play, each by no more than half of what is left between."""
    _, frame = made.straight([300.0, 330.0])

    def channel(of: str, left: float) -> Channel:
        ring = ((left, -200.0), (left + 19.0, -200.0), (left + 19.0, 0.0), (left, 0.0))
        return Channel(of, ring, 19.0 * 200.0)

    a, b = (rod.id for rod in frame.rods)
    for apart, by in ((1.4, 0.7), (20.0, 3.2)):
        found = eased(frame, [channel(a, 300.0), channel(b, 319.0 + apart)])
        assert [c.funnel for c in found] == pytest.approx([by, by])
