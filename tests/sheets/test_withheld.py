"""A wall that nobody may drill gives nothing away: every verb, every file of the packet, every number.

What is looked for is worked out here from the job's own tapes: a hole stands half way between the taped edges of
its stud, half way through the core in height (facts of the trade; the edges themselves are the job's own words).
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from io import StringIO
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.filemanagement import read as read_dxf

from ledgewright.cli import main
from ledgewright.doubt import Spread
from ledgewright.fitting import Block, Opening
from ledgewright.job.reading import read as read_job
from ledgewright.judge import Option
from ledgewright.layout import Rod
from ledgewright.plan import Plan, cut_up, full
from ledgewright.sheets import BUNDLES, pages, pictures
from ledgewright.sheets.answers import check_text, fit_text
from ledgewright.sheets.cut_answer import cut_document, cut_text
from ledgewright.sheets.cutlist import parts_csv
from ledgewright.sheets.documents import check_document, fit_document
from ledgewright.sheets.ics import ics
from ledgewright.sheets.leaves import held_walls
from ledgewright.sheets.model import FormSheet
from ledgewright.sheets.opens import opening_text, option_text
from ledgewright.sheets.order import fitting_sheet
from ledgewright.sheets.output import contents, shop_packet, site_pdf
from ledgewright.sheets.packet_answer import packet_document
from ledgewright.sheets.say import Say
from ledgewright.sheets.scribe_answer import scribe_document, scribe_text
from ledgewright.sheets.shop_answer import shop_document, shop_text
from ledgewright.sheets.shopping import shopping_csv
from ledgewright.sheets.shopside import side
from ledgewright.sheets.siting import site_document, site_text
from ledgewright.sheets.views import cover_view, plan_view, room_view
from ledgewright.sheets.views.facing import facing
from tests.jobs import EXAMPLES, MEMO, plan
from tests.sheets import paper, sample
from tests.sheets.test_packet_pages import texts as page_texts

PACKED = (("stoneware-corner-first-try", "A", "scanned"), ("reading-alcove", "back", "scanned"))
AS_SET = ("reading-alcove", "back", "scanned", "as set")
"""Somebody drilled and set rods in a wall that nobody had confirmed, and wrote the readings down."""
CASES = (
    *PACKED,
    ("record-wall-first-try", "plumbing", "drawing"),
    pytest.param(("stoneware-corner-first-try", "B", "unknown"), marks=pytest.mark.soak),
)
Names = tuple[str, ...]
IN = 25.4

Point = tuple[float, float]


@dataclass(frozen=True)
class Case:
    """A scene with one wall nobody has seen inside, and what every verb and file says of it."""

    plan: Plan
    wall: str
    check: Any
    fit: Any
    site: Any
    said: str
    scribe: Any = None
    cut: Any = None
    shop: Any = None

    @property
    def alone(self) -> bool:
        """Whether no other wall carries the shelf: then the height of its holes is withheld too."""
        return {rod.wall for rod in self.plan.designs[0].frame.rods} == {self.wall}


def unseen(name: str, wall: str, how: str, rods: str = "as drawn") -> str:
    """The job file of a scene in which one wall is known by no more than that; its readings taken out of comment."""
    text = re.sub(r"prices = .*\n", "", (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"))
    at = text.index(f'id = "{wall}"')
    if rods == "as set":
        tail = re.sub(r"(?m)^# ((?:rod = |test = |    \{|\]).*)$", r"\1", text[at:])
        assert tail != text[at:]
        text = text[:at] + tail
    changed = re.sub(r'known = \{ how = "[^"]*"', f'known = {{ how = "{how}"', text[at:], count=1)
    assert changed != text[at:]
    return text[:at] + changed


@cache
def case(name: str, wall: str, how: str, rods: str = "as drawn") -> Case:
    text = unseen(name, wall, how, rods)
    read = read_job(text, f"{name}.toml")
    assert read.job is not None, read.findings
    memo = MEMO
    whole = full(read.job, memo, limits=rods == "as drawn")
    # As the verbs `cut` and `shop` do it.
    whole = replace(whole, cutting=cut_up(whole.job, whole.designs, whole.leave, memo))
    assert bool(whole.designs[0].drawn) is (rods == "as set")
    return Case(
        plan=whole,
        wall=wall,
        check=json.loads(json.dumps(check_document(whole))),
        fit=json.loads(json.dumps(fit_document(whole, memo))),
        site=json.loads(json.dumps(site_document(whole))),
        said=check_text(whole)
        + fit_text(whole, memo)
        + scribe_text(whole)
        + site_text(whole)
        + cut_text(whole)
        + shop_text(whole),
        scribe=json.loads(json.dumps(scribe_document(whole))),
        cut=json.loads(json.dumps(cut_document(whole))),
        shop=json.loads(json.dumps(shop_document(whole))),
    )


@pytest.fixture(scope="module", params=CASES, ids=", ".join)
def one(request: pytest.FixtureRequest) -> Case:
    return case(*request.param)


@cache
def packed(names: Names) -> tuple[Case, dict[str, bytes]]:
    """A case and every file of its packet, whole and in bundles."""
    one = case(*names)
    return one, contents(one.plan, ("whole", *BUNDLES), MEMO)


@pytest.mark.usefixtures("one_memo")
def test_the_verbs_print_what_is_looked_through_here(tmp_path: Path) -> None:
    one = case("reading-alcove", "back", "scanned")
    job = tmp_path / "reading-alcove.toml"
    job.write_text(unseen("reading-alcove", "back", "scanned"), encoding="utf-8")
    ran = [
        CliRunner().invoke(main, [verb, str(job), *flags]).stdout
        for verb, flags in (("check", ()), ("fit", ("--json",)))
    ]
    assert one.said.startswith(ran[0])
    assert json.loads(ran[1]) == one.fit


def places(one: Case) -> list[float]:
    """Where holes are along their wall, off the tape: half way between the edges as the job has them."""
    design = one.plan.designs[0]
    rods = [rod for rod in design.frame.rods if rod.wall == one.wall]
    (taped,) = [w for w in one.plan.job.tapes.walls if w.id == one.wall]
    members = {m.id: m for m in taped.members}
    assert rods
    return [abs(members[rod.member].left + members[rod.member].right) / 2 for rod in rods]


def heights(one: Case) -> list[float]:
    """How high the holes are: under the top by its skin and half the core; told with any wall that is confirmed."""
    spec = one.plan.designs[0].spec
    return [spec.top - spec.skin_top.thick - spec.core.thick / 2] if one.alone else []


def written(value: float) -> set[str]:
    """A length in every way somebody might write it, long enough to be told from others."""
    found = {f"{value:.{k}f}" for k in range(4)} | {f"{value / IN:.{k}f}" for k in (2, 3, 4)}
    for to in (16, 32, 64):
        marks = round(value / IN * to)
        whole, over = divmod(marks, to)
        part = math.gcd(over, to)
        found.add(f"{whole} {over // part}/{to // part}" if over else f"{whole}")
    return {text for text in found if "/" in text or sum(c.isdigit() for c in text) >= 4}


def numbers(document: Any) -> Iterator[float]:
    if isinstance(document, dict):
        for value in document.values():
            yield from numbers(value)
    elif isinstance(document, list):
        for value in document:
            yield from numbers(value)
    elif isinstance(document, int | float) and not isinstance(document, bool):
        yield float(document)


def texts(document: Any) -> Iterator[str]:
    if isinstance(document, dict):
        for value in document.values():
            yield from texts(value)
    elif isinstance(document, list):
        for value in document:
            yield from texts(value)
    elif isinstance(document, str):
        yield document


def spoken(text: str) -> set[str]:
    """Every word of a text without the signs round it, and every two that follow one another."""
    text = re.sub(
        r"[\d.]+ (?:[\d.]+ )?(?:N|MPa|lbf|psi)\b", "", text
    )  # a force is no length, though it count as much; a row of checks has two of them
    words = [w.strip("\"'.,;:()[]{}") for w in text.replace("\u00a0", " ").split()]
    return {*words, *(f"{a} {b}" for a, b in pairwise(words))}


def secret(one: Case) -> set[str]:
    """What holes are called; less the width of the blank, which in one scene is as long as a hole is far."""
    spec = one.plan.designs[0].spec
    found = {text for value in (*places(one), *heights(one)) for text in written(value)}
    return found - written(spec.depth + spec.scribe_allowance)


def test_the_wall_is_withheld_and_named_as_withheld(one: Case) -> None:
    assert held_walls(one.plan, one.plan.designs[0]) == {one.wall}
    assert one.check["shelves"][0]["withheld"] == [one.wall]
    assert one.check["shelves"][0]["loads"] is None
    assert one.fit["shelves"][0]["withheld"] == [one.wall]
    assert f"withheld-{one.wall}" in {c["id"] for c in one.check["cautions"]}


def test_no_number_of_any_document_is_that_of_a_hole(one: Case) -> None:
    rods = [r for r in one.plan.designs[0].frame.rods if r.wall == one.wall]
    points = [rod.point(d) for rod in rods for d in (0.0, rod.free, rod.free + rod.projection)]
    hidden = [*places(one), *heights(one), *(x for p in points for x in p if abs(x) > 50)]
    assert not leaked(one.check, hidden)
    assert not leaked(one.fit, hidden)
    assert not leaked(one.scribe, hidden)
    assert not leaked(one.site, hidden)
    assert not leaked(one.cut, hidden)
    assert one.cut["withheld"]
    assert one.cut["bars"] == [] or not one.alone
    assert not leaked(one.shop, hidden)


def leaked(document: Any, hidden: list[float]) -> list[float]:
    return [n for n in numbers(document) if any(abs(abs(n) - abs(x)) < 0.005 for x in hidden)]


def test_no_text_of_any_verb_is_that_of_a_hole(one: Case) -> None:
    every = (one.check, one.fit, one.scribe, one.site, one.cut, one.shop)
    for text in (one.said, *(text for each in every for text in texts(each))):
        assert not secret(one) & spoken(text), text


@pytest.mark.parametrize("names", PACKED)
def test_no_text_of_the_packet_is_that_of_a_hole(names: Names) -> None:
    one, made = packed(names)
    for verb, document in (("check", one.check), ("fit", one.fit), ("scribe", one.scribe)):
        own = json.loads(made[f"{verb}.json"])
        assert own["shelves"] == document["shelves"]
    assert json.loads(made["cut.json"])["sheets"] == one.cut["sheets"]
    for name in ("parts.csv", "cuts.csv", "shopping.csv", "days.ics"):
        assert not secret(one) & spoken(made[name].decode().replace(",", " "))
    assert json.loads(made["shop.json"])["shop"] == one.shop["shop"]
    assert {f"packet-{bundle}.pdf" for bundle in BUNDLES} < made.keys()
    for name in [name for name in made if name.endswith(".pdf")]:
        for number, text in enumerate(paper.texts(made[name]), 1):
            told = secret(one) & spoken(text)
            assert not told, (name, number, told)
    for name, data in made.items():
        if name.endswith(".svg"):
            for text in re.findall(r"<(?:text|tspan|title|desc)[^>]*>([^<]*)<", data.decode()):
                assert not secret(one) & spoken(text), (name, text)


def points_of(item: object) -> Iterator[Point]:
    """Every point of a drawing, as it was laid out."""
    if isinstance(item, tuple):
        if len(item) == 2 and all(isinstance(x, float | int) for x in item):
            yield (float(item[0]), float(item[1]))
        else:
            for each in item:
                yield from points_of(each)
    elif hasattr(item, "__dataclass_fields__"):
        for name in item.__dataclass_fields__:
            if name != "nudge":
                yield from points_of(getattr(item, name))


def near_axis(point: Point, rod: Rod) -> bool:
    """Whether a point stands on a rod's axis, in its hole or before it."""
    x, y = point[0] - rod.origin[0], point[1] - rod.origin[1]
    along = x * rod.axis[0] + y * rod.axis[1]
    off = x * rod.axis[1] - y * rod.axis[0]
    return abs(off) < 0.2 and -rod.embedment - 1 < along < rod.free + rod.projection + 1


def test_no_point_of_any_drawing_is_on_a_hole(one: Case) -> None:
    design = facing(one.plan.designs[0])
    wall = design.room.wall(one.wall)
    rods = [r for r in design.frame.rods if r.wall == one.wall]
    alongs = [wall.figures(r.point(r.free))[0] for r in rods]
    drawn = pictures.drawings(one.plan)
    assert {n.split()[0] for n in drawn} >= {"plan", "wall", "move", "cover"}
    for name, inked in drawn.items():
        kind = name.split()[0]
        assert kind != "core"
        assert not (kind == "section" and any(name.endswith(r.id) for r in rods))
        if kind in ("plan", "move", "room", "way", "scribe"):
            for point in points_of(inked.drawing.items):
                assert not any(near_axis(point, rod) for rod in rods), (name, point)
        if name.endswith(f" {one.wall}"):
            for x, _ in points_of(inked.drawing.items):
                assert not any(abs(x - along) < 0.2 for along in alongs), (name, x)


def test_every_verb_that_reads_a_job_is_looked_through_here() -> None:
    """A verb that is new has to be added to this file before this passes: its texts, its JSON, what it writes."""
    reads = {
        name
        for name, command in main.commands.items()
        if any(param.name == "job_file" for param in command.params)
    }
    looked = {"check", "fit", "scribe", "cut", "packet", "site", "shop", "choose"}
    assert reads - {"new"} == looked


@pytest.mark.usefixtures("one_memo")
@pytest.mark.parametrize("names", PACKED)
def test_choose_offers_nothing_for_such_a_wall_and_tells_nothing(
    names: Names, tmp_path: Path
) -> None:
    one, place = case(*names), tmp_path / "job.toml"
    place.write_text(unseen(*names), encoding="utf-8")
    pages = tmp_path / "choose.pdf"
    said = CliRunner().invoke(main, ["choose", str(place), "--designs", "1", "-o", str(pages)])
    told = CliRunner().invoke(main, ["choose", str(place), "--designs", "1", "--json"])
    assert (said.exit_code, told.exit_code) == (1, 1)
    document = json.loads(told.stdout)
    assert document["withheld"]
    assert not document["front"]
    assert not leaked(document, [*places(one), *heights(one)])
    for text in (*texts(document), said.stdout):
        assert not secret(one) & spoken(text)
    for text in paper.texts(pages.read_bytes()) if pages.exists() else ():
        assert not secret(one) & spoken(text)


@pytest.mark.parametrize("names", PACKED)
def test_what_packet_tells_of_its_parts_tells_nothing(names: Names) -> None:
    one, _ = packed(names)
    document = packet_document(one.plan, (), ("whole", *BUNDLES), MEMO)
    assert any(each["waits"] for part in document["parts"] for each in part["left_out"])
    for text in texts(document):
        assert not secret(one) & spoken(text), text


@pytest.mark.parametrize("names", PACKED)
def test_what_site_and_shop_write_and_every_way_to_make_skins_tell_nothing(
    names: Names, tmp_path: Path
) -> None:
    one = case(*names)
    written = {"site.pdf": site_pdf(one.plan)}
    for path in shop_packet(one.plan, tmp_path):
        written[path.name] = path.read_bytes()
    assert "shop.pdf" in written
    for name in [name for name in written if name.endswith(".pdf")]:
        for text in paper.texts(written[name]):
            assert not secret(one) & spoken(text), name
    for name in ("shop.json", "shopping.csv"):
        assert not secret(one) & spoken(written[name].decode().replace(",", " "))
    joints = json.loads(json.dumps(cut_document(one.plan, MEMO)))
    assert not leaked(joints, [*places(one), *heights(one)])
    for text in (*texts(joints), cut_text(one.plan, MEMO)):
        assert not secret(one) & spoken(text)


@pytest.mark.soak
def test_ranges_of_a_shelf_on_such_a_wall_tell_nothing() -> None:
    """`check --ranges`, and the page that the verb `packet` adds to its packet."""
    names = PACKED[1]
    one = case(*names)
    read = read_job(unseen(*names), f"{names[0]}.toml")
    assert read.job is not None
    whole = full(read.job, MEMO, limits=False, ranges=True)
    assert isinstance(whole.spread(whole.designs[0].spec.id), Spread)
    document = json.loads(json.dumps(check_document(whole)))
    assert not leaked(document, [*places(one), *heights(one)])
    for text in (check_text(whole), *texts(document)):
        assert not secret(one) & spoken(text)
    made = pages(whole)
    assert [name for name in made if name.startswith("sure")]
    for page in made.values():
        for text in page_texts(page):
            assert not secret(one) & spoken(text)


@pytest.mark.parametrize("names", PACKED)
def test_no_guide_is_made_for_a_wall_that_may_not_be_drilled(names: Names) -> None:
    """Neither page nor answer nor file: a ledger at true size would be a row of holes. A confirmed wall has its own."""
    one, made = packed(names)
    others = {rod.wall for rod in one.plan.designs[0].frame.rods} - {one.wall}
    shelf = one.plan.designs[0].spec.id
    assert [g["wall"] for g in one.site["shelves"][0]["guides"]] == sorted(others)
    assert f"Guide on wall {one.plan.designs[0].room.wall(one.wall).mark}:" not in one.said
    drawn = {name for name in pages(one.plan, {}, MEMO, others=False) if name.startswith("guide")}
    assert drawn == {f"guide {shelf} {wall}" for wall in others}
    files = [name for name in made if name.startswith("guide")]
    assert bool(files) is bool(others)
    assert not [name for name in files if name.startswith(f"guide-{shelf}-{one.wall}")]


@pytest.mark.parametrize("names", PACKED)
def test_nothing_that_goes_to_a_machine_shows_a_slot(names: Names) -> None:
    one, made = packed(names)
    assert not [name for name in made if name.startswith("core_map")]
    rods = [r for r in one.plan.designs[0].frame.rods if r.wall == one.wall]
    cut = [data for name, data in made.items() if name.endswith(".dxf")]
    assert cut
    scale = IN if one.plan.job.meta.units == "in" else 1.0
    for data in cut:
        drawing = read_dxf(StringIO(data.decode()))
        corners = [
            (p[0] * scale, p[1] * scale)
            for line in drawing.modelspace().query("LWPOLYLINE")
            if isinstance(line, LWPolyline)
            for p in line.get_points()
        ]
        assert corners
        assert not [p for p in corners if any(near_axis(p, rod) for rod in rods)]


def test_checks_on_the_wall_keep_their_result_and_lose_place_and_derivation(one: Case) -> None:
    checks = one.check["shelves"][0]["checks"]
    on_it = [c for c in checks if c["place"] and c["place"]["wall"] == one.wall]
    assert on_it
    for check in on_it:
        assert check["withheld"] is True
        assert (check["place"]["along"], check["place"]["up"]) == (None, None)
        assert check["working"] == []
        assert check["ratio"] > 0
    others = [c for c in checks if c["place"] and c["place"]["wall"] != one.wall]
    assert bool(others) is not one.alone
    for check in others:
        assert check["withheld"] is False
        assert check["place"]["along"] is not None
        assert check["working"]


def test_channels_of_the_wall_are_named_and_not_drawn(one: Case) -> None:
    shut = {r.id for r in one.plan.designs[0].frame.rods if r.wall == one.wall}
    seen = [c for way in one.fit["shelves"][0]["ways"] for c in way["channels"]]
    assert {c["rod"] for c in seen} >= shut
    for channel in seen:
        assert channel["withheld"] is (channel["rod"] in shut)
        assert (channel["polygon"] is None) is (channel["rod"] in shut)
    assert all(w["loss"]["longest_span"] is None for w in one.fit["shelves"][0]["ways"])


def test_parts_that_lie_between_slots_have_no_sizes(one: Case) -> None:
    marks = {r.mark for r in one.plan.designs[0].frame.rods if r.wall == one.wall}
    rows = parts_csv(one.plan).split("\r\n")[1:-1]
    for part, row in zip(one.plan.designs[0].parts, rows, strict=True):
        shut = part.kind == "core" or (part.kind == "rod" and bool(marks & set(part.pieces)))
        assert (",,,,,," in row) is shut, row
    page = pages(one.plan, {}, MEMO, others=False)[f"parts {one.plan.designs[0].spec.id}"]
    shown = {row[0]: row[4:] for row in page.parts.rows}  # type: ignore[attr-defined]  # a PartsSheet
    for part in one.plan.designs[0].parts:
        shut = part.kind == "core" or (part.kind == "rod" and bool(marks & set(part.pieces)))
        assert (shown[part.letter] == ("withheld", "withheld")) is shut


def test_nobody_is_given_a_day_for_a_wall_that_may_not_be_drilled(one: Case) -> None:
    """No day, no van, no entry in a calendar for drilling or what comes after; how deep holes are stays hidden."""
    told = one.shop["shop"]
    assert told["withheld"]
    assert told["undated"]
    drills = {task["id"] for task in told["tasks"] if task["drills"]}
    assert {"drill", "set", "read"} <= drills
    dated = {task["id"] for task in told["tasks"] if task["stints"]}
    assert dated == {"measure.set-up", "measure", "draw", "sample"}
    assert {v["visit"] for v in told["vans"] if not v["items"]} >= {"rods", "readings", "hang"}
    bars = [b for b in told["buy"] if b["for"] == "rods" and "round" in b["what"]]
    assert bars
    assert all(b["quantity"] is None and b["packs"] is None and b["total"] is None for b in bars)
    found = side(one.plan)
    assert not isinstance(found, str)
    entries = ics(found)
    assert entries is not None
    assert "First visit" in entries
    for word in ("drill", "comb", "rods", "bars", "Rods", "Bars", "Hang"):
        assert word not in entries.replace("\r\n ", "").replace("DESCRIPTION", ""), word
    assert "withheld" in shopping_csv(found)


def test_the_same_search_finds_what_a_confirmed_wall_tells() -> None:
    """A search that finds nothing anywhere would prove nothing."""
    shown = plan("stoneware-corner-first-try")
    document = json.loads(json.dumps(check_document(shown)))
    one = Case(shown, "A", document, {}, {}, "")
    assert leaked(document, places(one))
    design = facing(shown.designs[0])
    rod = next(r for r in design.frame.rods if r.wall == "A")
    found = pictures.drawings(shown)["plan showroom"]
    assert any(near_axis(p, rod) for p in points_of(found.drawing.items))
    card = pages(shown, {}, MEMO, others=False)["wall showroom A"]
    assert secret(one) & {word for row in card.holes.rows for word in row}  # type: ignore[attr-defined]  # a DrillCard


def test_a_drawing_of_a_withheld_wall_is_the_same_wherever_its_rods_are() -> None:
    """Nothing may be placed by where hidden rods leave room: lettering in the widest gap would give them away."""
    design = sample.plan(("A",)).designs[0]
    held = frozenset({"A"})
    bare = replace(design.frame, rods=tuple(r for r in design.frame.rods if r.wall != "A"))
    without = replace(design, frame=bare)
    say, box = Say("in", "en-US"), (188.0, 170.0)
    for view in (plan_view, cover_view, room_view):
        assert view(design, say, box, held) == view(without, say, box, held)
        assert view(design, say, box) != view(without, say, box)


def test_how_far_a_hidden_rod_stands_in_the_way_is_withheld() -> None:
    """By how much a slot breaks out of an end that is taped says where its rod is."""
    whole = sample.plan(("A",))
    design = whole.designs[0]
    blocks = (
        Block("the slot of rod A1 breaks out of the section", 1, 41.0),
        Block("rods A4 and B1 run into each other", 0, 41.0),
        Block("the slot of rod B1 breaks out of the section", 1, 33.0),
    )
    shut = replace(design.ways.ways[0], possible=False, blocked=blocks)
    stuck = replace(design, way=None, ways=replace(design.ways, ways=(shut,), chosen=None))
    made = replace(whole, designs=(stuck,))
    memo = MEMO
    document = fit_document(made, memo)["shelves"][0]
    assert [b["short_by"] for b in document["blocked"]] == [None, None, 33.0]
    told = (
        check_text(made) + fit_text(made, memo) + " ".join(texts([document, check_document(made)]))
    )
    told += " ".join(
        t for page in pages(made, {}, MEMO, others=False).values() for t in page_texts(page)
    )
    # 41 mm is 51.7/32 in, 33 mm is 41.6/32 in.
    assert '1 5/8"' not in told
    assert "how far is withheld" in told
    assert 'B1 breaks out of the section, short by 1 5/16"' in told


def test_no_stick_out_of_a_withheld_wall_is_told_by_what_opens_a_way() -> None:
    """How far a rod may stick out, by a shorter rod that opens a way or by the option of shorter rods."""
    texts_of = {}
    for held in ((), ("B",)):
        whole = sample.plan(held)
        design = whole.designs[0]
        rods = tuple(r for r in design.frame.rods if r.wall == "B")
        # 103.1875 mm is 4 1/16 in; of the option, 98.425 mm is 3 7/8 in.
        shorter = Opening("shorten", tuple(r.id for r in rods), "", 103.1875, "first-A")
        option = Option("short-rods", "with shorter rods", (), (), ("no",), ("B", 98.425))
        stuck = replace(design, way=None, openings=(shorter,))
        made = replace(whole, designs=(stuck,))
        sheet = fitting_sheet(made, stuck, ())
        shut = held_walls(made, stuck)
        told = [
            opening_text(made.job, stuck, shorter, shut),
            option_text(made.job, stuck, option, shut),
            *(line for note in sheet.after for line in note.lines),
        ]
        texts_of[bool(held)] = " ".join(told)
    assert "4 1/16" in texts_of[False]
    assert "3 7/8" in texts_of[False]
    assert "4 1/16" not in texts_of[True]
    assert "3 7/8" not in texts_of[True]
    assert texts_of[True].count("withheld with wall B") >= 3


def test_nothing_is_said_of_rods_set_in_a_wall_nobody_confirmed() -> None:
    """Neither how far each may be off, nor how it stands, nor which to shim, ease or reset; no card is printed."""
    one = case(*AS_SET)
    test_no_number_of_any_document_is_that_of_a_hole(one)
    test_no_text_of_any_verb_is_that_of_a_hole(one)
    (shelf,) = one.site["shelves"]
    assert shelf["rods_are"] == "as set"
    assert (shelf["rods"], shelf["ease"], shelf["reset"]) == ([], [], [])
    assert (shelf["stand"], shelf["hang"]) == (None, None)
    assert not re.search(r"\bB[1-4]\b", " ".join(shelf["told"]))
    made = pages(one.plan, memo=MEMO, others=False)
    assert not [name for name in made if name.startswith(("as set", "set", "drill", "load test"))]
    assert (shelf["load_test"]["proposed"], shelf["load_test"]["read"]) == (None, None)
    owner = made["owner reading"]
    assert isinstance(owner, FormSheet)
    assert owner.warning == "No limit yet: put nothing on it"
