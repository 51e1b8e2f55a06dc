"""The fitting that plays: every move as long as the plan says, home at the end, nothing of a held wall."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest

from ledgewright import draw
from ledgewright.judge import Design
from ledgewright.sheets import contents
from ledgewright.sheets.say import Say
from ledgewright.sheets.views import playing_view
from tests.jobs import MEMO
from tests.sheets import sample

SVG = "{http://www.w3.org/2000/svg}"
SAY = Say("in", "en-US")
DESIGN: Design = sample.plan().designs[0]
BOX = (180.0, 110.0)


def root(data: bytes | str) -> ET.Element:
    return ET.fromstring(data)  # noqa: S314 - our own text


def test_moves_are_as_long_as_the_way_says_and_end_at_home() -> None:
    made = playing_view(DESIGN, SAY, BOX)
    (travel,) = root(draw.play(made)).iter(SVG + "animateTransform")
    stops = [tuple(map(float, v.split())) for v in travel.attrib["values"].split(";")]
    times = [float(t) for t in travel.attrib["keyTimes"].split(";")]
    assert stops[0] == stops[-1] == (0.0, 0.0)
    gone = [
        (b[0] - a[0], b[1] - a[1])
        for (a, b), (s, t) in zip(pairwise(stops), pairwise(times), strict=True)
        if t > s and a != b
    ]
    assert DESIGN.way is not None
    wanted = [(m.dx * made.scale, -m.dy * made.scale) for m in DESIGN.way.moves]
    assert len(gone) == len(wanted)
    for went, move in zip(gone, wanted, strict=True):
        assert went == pytest.approx(move, abs=2e-3)


def test_each_move_has_its_words_when_it_begins() -> None:
    made = playing_view(DESIGN, SAY, BOX)
    texts = [c.text.text for c in made.captions]
    assert DESIGN.way is not None
    for k, (text, move) in enumerate(zip(texts, DESIGN.way.moves, strict=True), start=1):
        assert text.startswith(f"{k}. {SAY.length(math.hypot(move.dx, move.dy))} ")
    times = [c.time for c in made.captions]
    assert times == sorted(set(times))
    # A move takes the time between two keys of one shift and the next.
    moving = [a.time for a, b in pairwise(made.keys) if a.time < b.time and a.shift != b.shift]
    assert all(told < begins for told, begins in zip(times, moving, strict=True))


def test_nothing_of_a_held_wall_is_shown() -> None:
    free = draw.play(playing_view(DESIGN, SAY, BOX))
    held = draw.play(playing_view(DESIGN, SAY, BOX, frozenset({"B"})))
    drawn = [len(re.findall(r"<path", text)) for text in (free, held)]
    # Three rods, each its paper, its hatch and its edge.
    assert drawn[0] - drawn[1] == 9


def test_a_packet_has_one_for_each_shelf_with_a_way() -> None:
    plan = sample.plan()
    assert b"animateTransform" in contents(plan, memo=MEMO)["fitting-corner.svg"]
    stuck = replace(DESIGN, way=None, ways=replace(DESIGN.ways, chosen=None))
    assert "fitting-corner.svg" not in contents(replace(plan, designs=(stuck,)), memo=MEMO)
    with pytest.raises(ValueError, match="no way"):
        playing_view(stuck, SAY, BOX)


def test_lettering_stays_apart_and_in_letters_of_the_face() -> None:
    made = playing_view(DESIGN, SAY, BOX)
    heads = [c.text.nudge[1] for c in made.captions]
    assert heads == sorted(heads, reverse=True)
    assert min(a - b for a, b in pairwise(heads)) >= made.captions[0].text.size
    assert not draw.substituted(
        draw.Drawing("", "", tuple(c.text for c in made.captions), made.scale)
    )
