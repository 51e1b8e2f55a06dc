"""The load limit as people read it: rounded down, with what it leaves out."""

from __future__ import annotations

from dataclasses import dataclass

from ledgewright.doubt import NoSpread, Spread
from ledgewright.job import Even, Thing
from ledgewright.judge import Design
from ledgewright.sheets.say import Say
from ledgewright.site import DOUBT, for_label
from ledgewright.statics import LoadLimit, NoLimit


def leaves_out(limit: LoadLimit) -> str:
    """Return in words what a limit leaves out, what stands on other shelves then, and whether it is for the label."""
    others = " and ".join(limit.beside)
    beside = (
        f"it holds with shelf {others} on the same studs under its own limit at the same time"
        if others
        else ""
    )
    return "; ".join(filter(None, (_open(limit), beside))) + (
        "" if for_label(limit) else ", so it is not for the label"
    )


def _open(limit: LoadLimit) -> str:
    if not limit.open:
        return "doubt, the rods as set and the load test are in it"
    return f"{missing(limit)} {'are' if len(limit.open) > 1 else 'is'} not in it"


def missing(limit: LoadLimit) -> str:
    """Return what is missing in a limit, as a list in words; empty if nothing is."""
    *first, last = limit.open or ("",)
    return " and ".join((", ".join(first), last)) if first else last


def unsure(limit: LoadLimit, found: Spread | NoSpread | None) -> str:
    """Return why doubt is missing in a limit and what would bring it, in sentences; empty where it is not missing.

    Args:
        limit: of a shelf.
        found: how sure its answers are, or why that cannot be said; None if it was not asked for.
    """
    if DOUBT not in limit.open:
        return ""
    told = found.carried if isinstance(found, Spread) else found
    if not isinstance(told, NoSpread):
        return "Doubt: nobody has asked how sure the answers are; `check --ranges` and the packet work it out."
    return (
        f"Doubt: {told.why}. What may bring a limit: rods thicker, deeper in the wood or more of them, slots with less "
        "play; else an engineer can give one in writing."
    )


@dataclass(frozen=True)
class Said:
    """A load limit in the units of the job: on every length, one thing, in all; rounded down."""

    even: str
    single: str
    total: str

    @property
    def all(self) -> str:
        """All three in one sentence."""
        return f"{self.even} on every length, {self.total} in all, no one thing over {self.single}"


def said(limit: LoadLimit, say: Say) -> Said:
    """Return a load limit in words."""
    return Said(
        even=say.most_per_length(limit.even),
        single=say.most_mass(limit.single),
        total=say.most_mass(limit.total),
    )


def heavier(design: Design, limit: LoadLimit, say: Say) -> str:
    """Return the job's own things and loads that weigh more than a limit allows; empty if none do.

    The verdict is of each in its place; the limit is of one thing in any place, and of so much on every length with it
    and with whoever leans there.

    Args:
        design: the shelf.
        limit: of it.
        say: how the job writes.
    """
    told = [
        f"{thing.id} ({say.mass(thing.mass)})"
        for thing in design.demand.loads
        if isinstance(thing, Thing) and thing.mass > limit.single
    ]
    evens = [
        f"{name} ({say.line_mass(per_length)})"
        for name, per_length in told_evens(design)
        if per_length > limit.even
    ]
    parts = (
        f"heavier, and only where it is drawn: {', '.join(told)}" if told else "",
        f"more than that is to lie there: {', '.join(evens)}; take some off" if evens else "",
    )
    return "; ".join(filter(None, parts))


def told_evens(design: Design) -> tuple[tuple[str, float], ...]:
    """Return what the job lays evenly on a shelf, and how much of it on a length (N/mm); nothing that was assumed.

    Args:
        design: the shelf.
    """
    return tuple(
        (load.id, load.per_length or (load.pressure or 0.0) * _deepest(design, load.wall))
        for load in design.demand.loads
        if isinstance(load, Even) and not load.assumed
    )


def _deepest(design: Design, wall: str | None) -> float:
    spec = design.spec
    return spec.deep(wall) if wall is not None else max(spec.depths)


def why_none(design: Design) -> str:
    """Return why no load limit is given, in words; empty if one is."""
    limit = design.holds.load_limit
    if isinstance(limit, NoLimit):
        return limit.why
    if limit is None:
        return "the shelf is not judged on its section model"
    return "the shelf does not hold" if design.holds.verdict == "fails" else ""
