"""A shelf whose blocking stops its load: what quick runs look at is what governs, by the full look at the same load."""

from __future__ import annotations

import pytest

from ledgewright import judge
from ledgewright.job.reading import read
from ledgewright.plan import check
from ledgewright.statics import NOMINAL, NoTest
from ledgewright.statics.sampled import Loading
from tests import jobs

FIXED = '{ with = "6 x 100", each_end = 14, how = "through the stud", apart = 140 }'
UP = "up = [1402.5, 1552.5]"
JOB = f"""
format = 1
units = "mm"
basis = "ec5"
[job]
name = "On blocking"
[[wall]]
id = "W"
tape_from = "left"
length = 1341
height = 2400
line = [[0, 10], [1341, 10]]
depth_to_wood = 16
studs = [[100, 147], [647, 694], [1194, 1241]]
framing = {{ of = "C24 47x150" }}
known = {{ how = "opened it", on = 2026-11-10, bearing = "no", services = "none" }}
blocking = [{{ from = 147, to = 647, {UP}, fixed = {FIXED} }}, {{ from = 694, to = 1194, {UP}, fixed = {FIXED} }}]
[[shelf]]
id = "S"
top = 1500
depth = 150
legs = [{{ wall = "W", from = 100, to = 1241 }}]
skins = "birch ply 12"
core = {{ of = "softwood", thick = 21, strip = 25, rib = 32, max_span = 250 }}
edging = {{ of = "oak", thick = 12 }}
lock = {{ kind = "grub screw" }}
single = "5 kg"
[shelf.rods]
stock = "round 20 S235"
embedment = 45
projection = 115
hole = 23
adhesive = "epoxy slow"
clearance = {{ up = 1.0, side = 2, end = 12 }}
at = ["W 397", "W 944"]
[[shelf.load]]
kind = "even"
id = "books"
weight = "10 kg/m"
lasts = "years"
[[shelf.load]]
kind = "accident"
force = "0.3 kN"
[shelf.limits]
drop_today = 3
drop_long = 5
[site]
datum = "laser"
temperature = "16 C"
"""
EVEN = 0.19
"""About what its blocking carries (N/mm)."""


def test_quick_runs_have_the_rows_that_govern() -> None:
    """They were left none where only rows of members come near the worst, and the ranges ended in a traceback."""
    job = read(JOB, "job.toml").job
    assert job is not None
    (design,) = check(job, jobs.MEMO, opens=False)
    model = judge.on_model(job, design, jobs.MEMO)
    assert not isinstance(model, NoTest)
    loading = Loading.of(*model, jobs.MEMO)
    assert loading is not None
    worst = loading.full(NOMINAL, EVEN)
    quick = loading.narrowed((NOMINAL,), EVEN).quick(NOMINAL, EVEN)
    assert quick
    assert worst == pytest.approx(max(quick.values()), rel=1e-6)
    assert max(quick, key=lambda family: quick[family]) == "block.fix"
