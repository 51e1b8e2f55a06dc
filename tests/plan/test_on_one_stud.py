"""Shelves that stand on one stud, one of them by a block that hangs on it."""

from __future__ import annotations

from dataclasses import replace

from ledgewright.plan import check
from tests.jobs import MEMO, job

AGAINST = (
    "a stud under two shelves, one of which hangs on it by a block, is judged under both",
    "statics: what a block carries goes to the studs at its ends",
    "every row of that stud names both",
)


def test_shelves_share_a_stud_also_where_one_hangs_on_it_by_a_block() -> None:
    """docs/statics.md: a stud is judged under all shelves on it; also one that a block hangs on."""
    this = job("reading-alcove")
    shelf, asked = this.shelves[0], this.demands[0]
    up = shelf.top + 400.0
    middle = up - shelf.skin_top.thick - shelf.core.thick / 2
    wall = next(w for w in this.tapes.walls if w.id == "back")
    blocks = tuple(
        replace(
            wall.members[0],
            id=f"back.b{k}",
            name=None,
            kind="blocking",
            left=a,
            right=b,
            up=(middle - 19.0, middle + 19.0),
            path=f"wall.back.blocking[{k}]",
        )
        for k, (a, b) in enumerate(((99.0, 462.5), (500.5, 864.0), (902.5, 1112.0)), 1)
    )
    walls = tuple(
        replace(w, members=(*w.members, *blocks)) if w is wall else w for w in this.tapes.walls
    )
    rods = tuple(replace(r, member=m.id) for r, m in zip(shelf.rods, blocks, strict=False))
    upper = replace(
        shelf,
        id="upper",
        top=up,
        path="shelf[1]",
        rods=rods,
        lock=replace(shelf.lock, rods=("back.b1", "back.b3")),
    )
    both = replace(
        this,
        tapes=replace(this.tapes, walls=walls),
        shelves=(shelf, upper),
        demands=(asked, replace(asked, shelf="upper")),
    )
    for design, other in zip(found := check(both, MEMO, opens=False), reversed(found), strict=True):
        bends = [row for row in design.holds.checks if row.family == "stud.bend"]
        assert bends
        assert all(f"{other.spec.id} under" in row.case for row in bends)
    # Either shelf has a rod B1: a line says whose it means.
    sources = [
        {step.source for step in row.steps if step.symbol == "C" or step.symbol == "V_0"}
        for design in found
        for row in design.holds.checks
        if row.family == "stud.bend"
    ]
    told = {source.partition(":")[0] for each in sources for source in each}
    assert any(text.endswith(" of reading") for text in told), told
    assert any(" of upper" in text for text in told), told
