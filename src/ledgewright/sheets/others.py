"""What else could hold the shelf, as people read it: what fails first, at what load, how far it drops."""

from __future__ import annotations

from ledgewright.judge import Design
from ledgewright.sheets.model import Table
from ledgewright.sheets.say import Say, ratio
from ledgewright.statics import LoadLimit, Rival

NOTE = "For comparison: neither is designed here, and none of it is leave to build it. Linings are assumed."
"""What the comparison is not."""


def reached(rival: Rival, say: Say) -> str:
    """Return at what load something else fails first, in words."""
    if rival.share == 0.0:
        return "with no contents, under the one thing and whoever leans"
    if rival.even is None:
        return "not found"
    return f"{say.most_per_length(rival.even)}, {rival.share:.1f} times the contents"


def table(design: Design, say: Say) -> Table:
    """Return the comparison of one shelf, the rods first; empty where nothing is compared."""
    if not design.holds.rivals:
        return Table((), (), (), ())
    limit, drop = design.holds.load_limit, design.holds.drop
    governs = next((c for c in design.holds.checks if c.id == design.holds.governs), None)
    own = (
        say.word("rods"),
        limit.title if isinstance(limit, LoadLimit) else governs.title if governs else "-",
        say.most_per_length(limit.even) if isinstance(limit, LoadLimit) else "-",
        ratio(governs.ratio) if governs else "-",
        say.drop(drop.today.value) if drop else "-",
    )
    return Table(
        heads=(
            "Held by",
            "Fails first as contents grow",
            "At, on every length",
            "Asks / can take as loaded, worst of all",
            "Front drop as loaded",
        ),
        widths=(30, 46, 46, 32, 22),
        figures=(3, 4),
        rows=(own, *(_row(rival, say) for rival in design.holds.rivals)),
    )


def _row(rival: Rival, say: Say) -> tuple[str, ...]:
    worst = max(rival.modes, key=lambda mode: mode.ratio)
    drop = say.drop(rival.drop) if rival.drop is not None else "-"
    return (rival.name, rival.first, reached(rival, say), ratio(worst.ratio), drop)
