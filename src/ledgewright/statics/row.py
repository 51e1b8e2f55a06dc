"""One row of the results, made in one place, so that one rule says when it passes."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from ledgewright.job import Accepted
from ledgewright.statics.bases import Resistance
from ledgewright.statics.families import family
from ledgewright.statics.model import Check, Place, Scope, State, Step

Found = tuple[float, Resistance]
"""What is asked, and what can be taken."""
LEAST = 1e-9
"""The least capacity that a ratio is made with."""
SCOPES: tuple[Scope, ...] = ("in", "stretched", "out")
PULL = " + H"
"""How a combination ends in which somebody pulls at the shelf in the place of leaning on it."""
OPEN = "needs an engineer's acceptance or a load test"


@dataclass(frozen=True)
class Answering:
    """Who answers for rows at the edge of what their sources cover.

    accepted: kinds of row of the shelf that an engineer has accepted. engineer: who accepted the holes in this wall.
    tested: whether a load test is recorded.
    """

    accepted: Accepted | None = None
    engineer: str | None = None
    tested: bool = False

    def who(self, name: str) -> str:
        """Return who answers for a kind of row, in words; empty if nobody does."""
        if self.accepted is not None and name in self.accepted.rows:
            return f"accepted by {self.accepted.said}"
        if self.engineer:
            return f"accepted by {self.engineer}"
        return "load tested" if self.tested else ""


def ratio(found: Found) -> float:
    """Return what is asked over what can be taken."""
    return found[0] / max(found[1].value, LEAST)


def spanning(founds: Sequence[Found]) -> Found:
    """Return the worst of several ways to fail, with the widest scope of any: all of them must hold."""
    demand, can = max(founds, key=ratio)
    widest = max(founds, key=lambda found: SCOPES.index(found[1].scope))[1]
    if widest.scope == can.scope:
        return demand, can
    return demand, replace(can, scope=widest.scope, reason=widest.reason)


def made(
    name: str,
    found: Found,
    *,
    unit: str,
    case: str,
    steps: tuple[Step, ...],
    place: Place | None = None,
    answering: Answering,
) -> Check:
    """Return a row: too much fails; what its source does not quite cover passes only if somebody answers for it.

    Args:
        name: `family`, or `family@place`.
        found: demand and what can be taken.
        unit: of both.
        case: the loads under which this is the worst.
        steps: the derivation.
        place: where it is.
        answering: who answers for it.
    """
    (demand, can), about = found, family(name.partition("@")[0])
    who = answering.who(about.id)
    share = ratio(found)
    state, reason = _state(share, can, who)
    return Check(
        id=name,
        family=about.id,
        title=about.title,
        place=place,
        case=case,
        demand=demand,
        capacity=can.value,
        ratio=share,
        unit=unit,
        state=state,
        scope=can.scope,
        information=about.kind == "information",
        reason=reason,
        source=can.source,
        steps=steps,
    )


def _state(share: float, can: Resistance, who: str) -> tuple[State, str]:
    if share > 1:
        return "fails", can.reason
    if can.scope == "in":
        return "passes", can.reason
    if can.scope == "stretched" and who:
        return "passes", f"{can.reason}; {who}"
    return "cannot say", f"{can.reason}: {OPEN}" if can.scope == "stretched" else can.reason


def pulled_at(row: Check) -> bool:
    """Return whether a row is of a shelf that somebody catches hold of."""
    return re.split("[,;]", row.case)[0].endswith(PULL)


def leaned(row: Check) -> Check:
    """Return a row made under the accidental load, to stand with the other rows of that load."""
    who = "Someone pulls" if pulled_at(row) else family("acc.hold").title
    title, place = f"{who}: {row.title.lower()}", row.id.partition("@")[2]
    name = f"acc.hold@{place or 'box'}/{row.family}"
    return replace(row, id=name, family="acc.hold", title=title)
