"""The drawings of the three demo jobs through the whole program: legible, inside their box, complete."""

from __future__ import annotations

from functools import lru_cache
from itertools import combinations
from pathlib import Path

import pytest
from shapely.geometry import Polygon

from ledgewright.draw import Drawing, Text, lay, size, substituted, text_ring
from ledgewright.sheets import views
from ledgewright.sheets.say import Say
from tests import jobs

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("stoneware-corner-first-try", "reading-alcove", "record-wall-first-try")
WIDTH, WHOLE, PART = 188.0, 170.0, 100.0


@lru_cache(maxsize=3)
def drawn(name: str) -> dict[str, tuple[Drawing, float]]:
    job, made = jobs.job(name), jobs.plan(name)
    say = Say.of(job.meta)
    out: dict[str, tuple[Drawing, float]] = {}
    for design in made.designs:
        out["cover"] = (views.cover_view(design, say, (WIDTH, WHOLE)), WHOLE)
        out["plan"] = (views.plan_view(design, say, (WIDTH, WHOLE)), WHOLE)
        out["core"] = (views.core_map_view(design, say, (WIDTH, WHOLE)), WHOLE)
        for _, wall, leave in made.leave:
            box = (WIDTH, PART)
            out[f"wall {wall}"] = (
                views.elevation_view(design, wall, leave, say, box, job.tapes.datum),
                PART,
            )
        for rod in views.stations(design.frame.rods):
            out[f"section {rod}"] = (views.section_view(design, rod, say, (WIDTH, PART)), PART)
        for k in range(len(design.way.moves if design.way else ())):
            out[f"move {k}"] = (views.move_view(design, k, say, (WIDTH, PART)), PART)
        if design.way:
            out["room"] = (views.room_view(design, say, (WIDTH, PART)), PART)
        for way in design.ways.ways:
            out[way.id] = (views.way_view(design, way, say, (WIDTH, PART)), PART)
    return out


@pytest.mark.parametrize("name", NAMES)
def test_no_lettering_stands_on_other_lettering(name: str) -> None:
    for what, (drawing, _) in drawn(name).items():
        rings = [
            (flat.text, Polygon(text_ring(flat))) for flat in lay(drawing) if isinstance(flat, Text)
        ]
        over = [
            (a, b) for (a, p), (b, q) in combinations(rings, 2) if p.intersection(q).area > 0.05
        ]
        assert not over, what


@pytest.mark.parametrize("name", NAMES)
def test_all_of_it_lies_in_its_box_in_signs_the_font_has(name: str) -> None:
    for drawing, height in drawn(name).values():
        assert size(drawing)[0] <= WIDTH
        assert size(drawing)[1] <= height
        assert not substituted(drawing)


@pytest.mark.parametrize(("name", "rods"), list(zip(NAMES, (7, 4, 8), strict=True)))
def test_every_rod_of_the_scene_is_on_the_plan_once(name: str, rods: int) -> None:
    # From the job file: 7, 4 and 8 rods.
    bold = [f.text for f in lay(drawn(name)["plan"][0]) if isinstance(f, Text) and f.bold]
    marks = [word for word in bold if word[1:].isdigit()]
    assert len(marks) == len(set(marks)) == rods
