"""How temperature stretches waits and shortens the time to work.

Source: common practice, which the label overrides: what cures takes twice as long where it is 10 C (18 F) colder, and
goes off in half the time where it is as much warmer. Towards safety neither gives anything back: warmth shortens no
wait, and cold lengthens no time to work.
"""

from __future__ import annotations

import math

LABEL = 20.0
"""What labels speak of (C, 68 F)."""
DOUBLES = 10.0
"""So much colder (C) is twice the wait."""
COMB = 1.5
"""The comb on the tips stays on half as long again as the adhesive is left alone."""


class TooColdError(ValueError):
    """It does not cure at all at that temperature, however long one waits."""


def wait(hours: float, temperature: float, coldest: float) -> float:
    """Return how long a wait of the label really is.

    Source: common practice, see the head of this file.

    Args:
        hours: at 20 C.
        temperature: where it cures (C).
        coldest: the least the label allows (C).

    Raises:
        TooColdError: if it is colder than that.
    """
    if temperature < coldest:
        msg = f"{temperature:g} C is below the least of {coldest:g} C"
        raise TooColdError(msg)
    return hours * math.exp2(max(0.0, (LABEL - temperature) / DOUBLES))


def comb(hours: float, temperature: float, coldest: float) -> float:
    """Return how long the comb stays on rods.

    Source: common practice: half as long again as they are left alone.

    Args:
        hours: for which the adhesive is left alone at 20 C.
        temperature: of the wall (C).
        coldest: the least the label allows (C).

    Raises:
        TooColdError: if it is colder than that.
    """
    return wait(hours * COMB, temperature, coldest)


def work_time(minutes: float, temperature: float) -> float:
    """Return how long glue stays workable (minutes), never longer than the label says.

    Source: common practice, see the head of this file.

    Args:
        minutes: at 20 C.
        temperature: where it is spread or mixed (C).
    """
    return minutes / math.exp2(max(0.0, (temperature - LABEL) / DOUBLES))
