"""What the pictures show: how the top goes down, what presses on every rod, how it bends."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import partial

import numpy as np

from ledgewright import plane
from ledgewright.statics.actions import Actions
from ledgewright.statics.beam import Bed, Forces, at_face, bed
from ledgewright.statics.formula import Working
from ledgewright.statics.inputs import Inputs
from ledgewright.statics.mechanics import Face
from ledgewright.statics.mechanics.contact_rods import RodAnswer
from ledgewright.statics.mechanics.section.energy import PER_NODE
from ledgewright.statics.model import RodLine, Surface
from ledgewright.statics.patterns import Solved
from ledgewright.statics.pressed import named
from ledgewright.statics.seats import Seat
from ledgewright.statics.shelf_model import Turned

INSIDE, OUTSIDE = 24, 48
"""Places along a rod in the wood and out of it."""


def surface(turned: Turned, acting: Actions, case: Solved, hung: Solved) -> Surface:
    """Return how far the top skin goes down from the hung state under a case.

    Args:
        turned: the section, as it lies in the plan.
        acting: its loads.
        case: under which the front drops furthest.
        hung: under self-weight.
    """
    whole = acting.stood.today
    net = whole.grid
    pair = (case, hung)
    moved = whole.moves(
        np.column_stack([acting.force(each.factors) for each in pair]),
        np.column_stack([each.answer.pushed for each in pair]),
        np.column_stack([each.answer.whole for each in pair]),
    )
    down = (moved[:, 0] - moved[:, 1])[::PER_NODE]
    quads = net.node[0][net.there[0]][:, [0, 2, 3, 1]]
    used, numbers = np.unique(quads, return_inverse=True)
    back = [plane.turn((float(x), float(y)), turned.angle) for x, y in net.place[used]]
    cells = numbers.reshape(-1, 4).tolist()
    return Surface(
        case=named(case),
        points=tuple(plane.add(turned.about, p) for p in back),
        down=tuple(down[used].tolist()),
        cells=tuple((a, b, c, d) for a, b, c, d in cells),
    )


def lines(seats: Sequence[Seat], solved: Sequence[Solved], inputs: Inputs) -> tuple[RodLine, ...]:
    """Return every rod under the strength case that bends it most.

    Args:
        seats: the rods, in the order in which answers have them.
        solved: every case.
        inputs: the doubtful figures, for the beds.
    """
    strong = [case for case in solved if case.combination.situation == "strength"]
    if not strong:
        return ()
    return tuple(
        _line(seat, index, max(strong, key=partial(_bent, index)), inputs)
        for index, seat in enumerate(seats)
    )


def _faces(lying: Bed, rod: RodAnswer) -> list[tuple[float, Face]]:
    """What acts at the wood, with its sign; shear and moment of unlike signs each by itself, for the bed is linear."""
    V, M = rod.V, rod.M
    acts = [(V, M)] if V * M >= 0 else [(V, 0.0), (0.0, M)]
    w = Working(keep=False)
    return [
        (math.copysign(1.0, v + m), at_face(w, lying, Forces(abs(v), abs(m), rod.force, 0.0)))
        for v, m in acts
        if v or m
    ]


def _bent(index: int, case: Solved) -> float:
    return float(abs(case.answer.faces[2 * index + 1]))


def _line(seat: Seat, index: int, case: Solved, inputs: Inputs) -> RodLine:
    rod = case.answer.rods[index]
    lying = bed(Working(keep=False), seat, inputs)
    faces = _faces(lying, rod)
    # The greatest moment stands between two even places: without its own, the picture says less than the check.
    peaks = [face.peak_at for _, face in faces]
    inside = np.union1d(np.linspace(0.0, lying.L, INSIDE), peaks)[::-1]
    outside = np.linspace(0.0, rod.tip, OUTSIDE)
    return RodLine(
        rod=seat.rod.id,
        case=named(case),
        at=(*(-inside).tolist(), *outside.tolist()),
        moment=(
            *(sum(sign * face.moment(x) for sign, face in faces) for x in inside.tolist()),
            *(rod.moment(x) for x in outside.tolist()),
        ),
        touch=tuple(rod.at.tolist()),
        top=tuple((rod.top / rod.length).tolist()),
        bottom=tuple((rod.bottom / rod.length).tolist()),
        mouth=seat.back,
    )
