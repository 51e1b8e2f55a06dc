"""Studs behind an outside corner, a missing stud under blocking, a wall without studs: what the file may not say."""

from __future__ import annotations

from itertools import product

import pytest
from shapely.affinity import rotate
from shapely.geometry import box

from ledgewright.job.reading import Read, read
from tests import jobs

AGAINST = (
    "plan of a pier laid out with shapely: wood of one wall inside the boards of the other",
    "facts of framing: a corner post is told on both walls, a missing stud is no wood, masonry has no studs",
)

PIER = """
format = 1
units = "mm"

[job]
name = "Pier"

[[wall]]
id = "A"
tape_from = "{hook}"
length = 1600
line = [[0, 0], [1600, 0]]
lining = [["plasterboard", {board}]]
studs = [{a}]
framing = {{ of = "C24 47x150" }}
known = {{ how = "opened it", bearing = "no", services = "none" }}

[[wall]]
id = "B"
tape_from = "left"
length = 1100
line = [[0, 0], [1100, 0]]
lining = [["plasterboard", {board}]]
studs = [{b}]
framing = {{ of = "C24 47x150" }}
known = {{ how = "opened it", bearing = "no", services = "none" }}

[[corner]]
walls = ["A", "B"]
turn = "outside"
angle = "{angle} deg"
"""


def pier(
    a: float, b: float, *, board: float = 15.0, angle: float = 90.0, hook: str = "right"
) -> Read:
    """A pier whose first studs stand so far from the corner; the others far away, in the order the tape meets them."""
    near = [a, a + 47.0]
    first = f"{near}, [800, 847]"
    if hook == "left":
        first = f"[753, 800], {[1600.0 - near[1], 1600.0 - near[0]]}"
    text = PIER.format(
        a=first, b=f"{[b, b + 47.0]}, [800, 847]", board=board, angle=angle, hook=hook
    )
    return read(text, "pier.toml")


def in_boards(a: float, b: float, board: float, angle: float) -> tuple[float, float]:
    """Area of either stud outside the wood of the solid: what of it is in the boards or the room beyond (mm2)."""
    stud = box(a, board, a + 47, board + 150)
    # From wall A the solid lies over its face; wall B's is that, mirrored and turned by the angle.
    other = rotate(box(b, -board - 150, b + 47, -board), angle, origin=(0, 0))
    wood_b = rotate(box(-5000, -5000, 5000, -board), angle, origin=(0, 0))
    wood_a = box(-5000, board, 5000, 5000)
    return stud.difference(wood_b).area, other.difference(wood_a).area


@pytest.mark.parametrize("hook", ["right", "left"])
@pytest.mark.parametrize(
    ("a", "b", "board", "angle"),
    list(product((0.0, 15.0, 40.0), (0.0, 24.0), (12.5, 25.0), (80.0, 90.0, 105.0))),
)
def test_a_stud_inside_the_other_walls_boards_is_refused(
    a: float, b: float, board: float, angle: float, hook: str
) -> None:
    """Against polygons; what is in doubt, up to 5 mm of a stud's 47 or 150, is let be."""
    found = pier(a, b, board=board, angle=angle, hook=hook)
    told = {f.path: f for f in found.findings if f.code == "overlap" and f.level == "refuse"}
    number = 0 if hook == "right" else 1
    for path, area in zip(
        (f"wall.A.studs[{number}]", "wall.B.studs[0]"), in_boards(a, b, board, angle), strict=True
    ):
        if area > 6 * 150:
            assert path in told
            assert told[path].line is not None
            assert "lining" in told[path].wrong
            assert "from the finished corner" in told[path].right
        if area < 1.0:
            assert path not in told


def test_the_stud_that_is_offered_instead_is_taken() -> None:
    """By hand: boards of 15 mm, so the wood of either wall begins 15 mm from the finished corner."""
    told = [f for f in pier(0.0, 0.0).findings if f.code == "overlap"]
    assert len(told) == 2
    assert all('["15", "62"]' in f.right for f in told)
    again = pier(15.0, 15.0)
    assert not [f for f in again.findings if f.code == "overlap" and f.level == "refuse"]


def test_one_post_told_on_both_walls_is_let_be_and_noted() -> None:
    """Framing: a post built up in the corner shows on both faces; 15 mm of board off both, it is in no board."""
    found = pier(15.0, 15.0)
    (note,) = (f for f in found.findings if f.code == "overlap")
    assert note.level == "note"
    assert "one post" in note.right
    # Wall B's own stud behind the end stud of wall A, 15 and 150 from the corner: two, side by side.
    assert not [f for f in pier(15.0, 165.0).findings if f.code == "overlap"]


def test_nothing_is_refused_where_a_stud_is_told_as_missing() -> None:
    text = PIER.format(
        a='{ left = 0, right = 47, lost = "missing" }, [800, 847]',
        b="[15, 62]",
        board=15,
        angle=90,
        hook="right",
    )
    assert not [f for f in read(text, "pier.toml").findings if f.code == "overlap"]


ALCOVE = (jobs.EXAMPLES / "reading-alcove.toml").read_text(encoding="utf-8")


def changed(*changes: tuple[str, str]) -> Read:
    text = ALCOVE
    for was, now in changes:
        assert was in text
        text = text.replace(was, now)
    return read(text, "job.toml")


EVERY, AT = 'at = "every stud"', 'at = ["back 80", "back {}", "back 883.25"]'
STUD = "[462.5, 500.5]"
GONE = '{ left = 462.5, right = 500.5, lost = "missing" }'
BLOCK = "blocking = [[99, 864, [1297, 1386]]]\n"


def test_blocking_across_a_missing_stud_takes_the_rod() -> None:
    """A missing stud is no wood; the block from stud to stud across its gap is, and the rod stands in it."""
    studs = next(
        line for line in ALCOVE.splitlines() if line.startswith("studs = ") and STUD in line
    )
    found = changed(
        (studs, BLOCK + studs.replace(STUD, GONE)),
        (EVERY, AT.format("481.5")),
    )
    assert found.job is not None, found.findings
    (shelf,) = found.job.shelves
    wall = next(w for w in found.job.tapes.walls if w.id == "back")
    kinds = {m.id: m.kind for m in wall.members}
    at = sorted(
        shelf.rods, key=lambda rod: next(m.left for m in wall.members if m.id == rod.member)
    )
    assert [kinds[rod.member] for rod in at].count("blocking") == 1
    # Without the block there is nothing: the stud is named as lost, and no missing one is offered.
    bare = changed((studs, studs.replace(STUD, GONE)), (EVERY, AT.format("481.5")))
    assert any("no wood where it should be" in f.wrong for f in bare.findings)
    off = changed((studs, studs.replace(STUD, GONE)), (EVERY, AT.format("300")))
    centres = next(f.right for f in off.findings if f.right.startswith("the centres are"))
    assert "481.5" not in centres
    assert "80" in centres


@pytest.mark.parametrize("at", ['["back 80"]', '"every stud"'])
def test_a_masonry_wall_without_studs_asks_for_none(at: str) -> None:
    """Nobody shall invent studs: what carries the shelf instead is named."""
    studs = next(
        line for line in ALCOVE.splitlines() if line.startswith("studs = ") and STUD in line
    )
    framing = next(
        line for line in ALCOVE.splitlines() if line.startswith("framing = ") and "of =" in line
    )
    found = changed((studs, ""), (framing, 'framing = { kind = "masonry" }'), (EVERY, f"at = {at}"))
    told = [f for f in found.findings if "masonry" in f.wrong and f.level == "refuse"]
    assert told
    for each in told:
        assert "timber studs in front of it" in each.right
        assert "no studs in the file" not in each.wrong
