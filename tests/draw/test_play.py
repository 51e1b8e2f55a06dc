"""A drawing that plays: read back as XML and worked through by the rules of SMIL (SVG 1.1, 19.2; from memory)."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from xml.etree import ElementTree as ET

import pytest

from ledgewright.draw import Caption, Fill, Key, Polyline, Scene, Text, play

SVG = "{http://www.w3.org/2000/svg}"
RING = ((0.0, 0.0), (40.0, 0.0), (40.0, 20.0), (0.0, 20.0))
KEYS = (
    Key(0.0, (0.0, 0.0)),
    Key(2.0, (0.0, 0.0)),
    Key(2.0, (-30.0, -60.0), -0.2),
    Key(4.0, (0.0, -10.0), 0.0),
    Key(5.0, (0.0, 0.0)),
)
SCENE = Scene(
    title="A & B",
    description="goes <home>",
    under=(Polyline("wall", ((-40.0, 20.0), (60.0, 20.0))),),
    moving=(Fill("cut", RING, "paper"), Polyline("cut", RING, closed=True)),
    over=(),
    captions=(
        Caption(Text((0.0, -80.0), "first"), 2.0),
        Caption(Text((0.0, -90.0), "second"), 4.0),
    ),
    keys=KEYS,
    about=(10.0, 5.0),
    scale=0.5,
)


def root(scene: Scene = SCENE) -> ET.Element:
    return ET.fromstring(play(scene).encode())  # noqa: S314 - our own text


def track(tag: ET.Element) -> list[tuple[float, tuple[float, ...]]]:
    """Times (s) with their values."""
    whole = float(tag.attrib["dur"].removesuffix("s"))
    times = [float(t) * whole for t in tag.attrib["keyTimes"].split(";")]
    values = [tuple(map(float, v.split())) for v in tag.attrib["values"].split(";")]
    return list(zip(times, values, strict=True))


def at(keys: list[tuple[float, tuple[float, ...]]], time: float) -> tuple[float, ...]:
    """The value at a time, linear between keys; of two keys at one time the later counts from there on."""
    k = max(n for n, (t, _) in enumerate(keys) if t <= time + 1e-9)
    if k == len(keys) - 1:
        return keys[-1][1]
    (t0, a), (t1, b) = keys[k], keys[k + 1]
    share = (time - t0) / (t1 - t0)
    return tuple(x + (y - x) * share for x, y in zip(a, b, strict=True))


def test_it_is_plain_svg_without_script_or_style() -> None:
    text = play(SCENE)
    assert not re.search(r"<script|<style|style=|javascript:|href|\bon\w+=", text)
    assert [e.tag for e in root()][:2] == [SVG + "title", SVG + "desc"]
    assert root()[0].text == "A & B"
    assert root()[1].text == "goes <home>"


def test_what_moves_stands_where_the_keys_say() -> None:
    travel, turn = [track(tag) for tag in root().iter(SVG + "animateTransform")]
    box = [float(x) for x in root().attrib["viewBox"].split()]
    # By hand: at 3 s half way: shift (-15, -35), turned by -0.1; on paper half of it, y down.
    dx, dy = at(travel, 3.0)
    angle, cx, cy = at(turn, 3.0)
    assert (dx, dy) == pytest.approx((-7.5, 17.5), abs=2e-3)
    assert angle == pytest.approx(math.degrees(0.1), abs=1e-3)
    # The point it turns about, (10, 5), is 5 right of and 2.5 over the section's lower left corner on paper.
    first = next(root().iter(SVG + "path")).attrib["d"]
    wall_x, wall_y = map(float, re.findall(r"-?[\d.]+", first)[:2])
    # The wall begins at (-40, 20): 25 left of the point and 7.5 over it on paper.
    assert (cx - wall_x, cy - wall_y) == pytest.approx((25.0, 7.5), abs=2e-3)
    assert 0 < cx < box[2]


def test_it_begins_and_ends_at_home_and_loops() -> None:
    tags = list(root().iter(SVG + "animateTransform"))
    assert {t.attrib["repeatCount"] for t in tags} == {"indefinite"}
    assert {t.attrib["dur"] for t in tags} == {"5s"}
    for keys in map(track, tags):
        assert keys[0][0] == 0.0
        assert keys[-1][0] == pytest.approx(5.0)
        assert keys[0][1][:1] == keys[-1][1][:1] == (0.0,)
        times = [t for t, _ in keys]
        assert times == sorted(times)


def test_captions_go_at_the_start_and_come_back_one_by_one() -> None:
    tags = list(root().iter(SVG + "animate"))
    assert [t.attrib["values"] for t in tags] == ["visible;hidden;visible"] * 2
    shares = [[float(x) for x in t.attrib["keyTimes"].split(";")] for t in tags]
    # Of 5 s: gone at 2 s, back at 2 s and at 4 s.
    assert shares == [pytest.approx([0.0, 0.4, 0.4]), pytest.approx([0.0, 0.4, 0.8])]


def test_without_smil_it_is_the_part_at_home_with_all_words() -> None:
    still = root()
    for parent in list(still.iter()):
        for child in list(parent):
            if child.tag.startswith(SVG + "animate"):
                parent.remove(child)
    assert not any("transform" in e.attrib for e in still.iter(SVG + "g"))
    assert [t.text for t in still.iter(SVG + "text")] == ["first", "second"]
    assert {g.attrib.get("visibility", "visible") for g in still.iter(SVG + "g")} == {"visible"}


def test_without_a_turn_there_is_only_travel() -> None:
    level = replace(SCENE, keys=tuple(replace(k, turn=0.0) for k in KEYS))
    assert [t.attrib["type"] for t in root(level).iter(SVG + "animateTransform")] == ["translate"]
    assert play(level) == play(level)


@pytest.mark.parametrize(
    "keys",
    [
        KEYS[:1],
        KEYS[2:],
        KEYS[:4],
        (KEYS[0], Key(3.0, (1.0, 1.0)), Key(2.0, (0.0, 0.0))),
        (replace(KEYS[0], time=1.0), KEYS[4]),
    ],
)
def test_keys_that_do_not_lead_home_are_refused(keys: tuple[Key, ...]) -> None:
    with pytest.raises(ValueError, match=r"home|times"):
        play(replace(SCENE, keys=keys))
