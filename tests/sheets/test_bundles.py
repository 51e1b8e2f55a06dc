"""The bundles for client, shop, site and engineer, as they come out of the printer and lie in a folder.

What each may hold is a fact of the trade (common practice): a client sees no hours and no costs of the shop, nobody
calculates on a ladder, an engineer signs what they can follow.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner

from ledgewright.cli import main
from ledgewright.job import Prices
from ledgewright.plan import Plan
from ledgewright.sheets import BUNDLES, bundles, contents, documents, packet, seen
from ledgewright.sheets.bundles import Bundle
from ledgewright.sheets.model import CalculationSheet, ShapeSheet, SureSheet
from ledgewright.sheets.output import MANIFEST, parts_of
from ledgewright.sheets.pages import block, bound, every
from ledgewright.sheets.press import press
from ledgewright.sheets.say import Say
from ledgewright.sheets.schemas import SCHEMAS
from ledgewright.sheets.shopside import side
from tests import jobs
from tests.sheets import paper, sample, scenes
from tests.sheets.scenes import SCENES, printed

PARTS: tuple[Bundle | None, ...] = (None, *BUNDLES)


def said(sheets: tuple[paper.Sheet, ...]) -> str:
    return " ".join(" ".join(sheet.text for sheet in sheets).replace("\u00a0", " ").split())


def spans(sheets: tuple[paper.Sheet, ...]) -> Iterator[tuple[str, str]]:
    """The head of each run of sheets, and their numbers as a list of contents writes them."""
    heads = [sheet.text.split("\n", 1)[0].strip() for sheet in sheets]
    for head, run in groupby(enumerate(heads, 1), key=lambda each: each[1]):
        numbers = [number for number, _ in run]
        first, last = numbers[0], numbers[-1]
        yield head, f"{first}" if first == last else f"{first}–{last}"


@pytest.mark.parametrize("bundle", PARTS)
@pytest.mark.parametrize("name", SCENES)
def test_the_contents_name_every_page_and_where_it_is(name: str, bundle: Bundle | None) -> None:
    sheets = printed(name, bundle)
    listed = said(tuple(s for s in sheets if s.text.startswith("Contents")))
    entries = [
        e for e in spans(sheets) if not e[0].startswith(("Job packet", "For the", "Contents"))
    ]
    assert len(entries) >= 4
    for head, numbers in entries:
        # the head of a sheet is its title and what it is about, and so is its entry
        assert f"{head} {numbers}" in listed, (head, numbers)


@pytest.mark.parametrize("bundle", BUNDLES)
def test_every_sheet_says_whose_it_is(bundle: Bundle) -> None:
    sheets = printed("reading-alcove", bundle)
    title = {"client": "client", "shop": "shop", "site": "site", "engineer": "engineer"}[bundle]
    assert sheets[0].text.startswith(f"For the {title}")
    for number, sheet in enumerate(sheets, 1):
        assert f"Page · {title}" in sheet.text
        assert f"{number} of {len(sheets)}" in sheet.text


@pytest.mark.parametrize("name", SCENES)
def test_every_page_goes_to_somebody(name: str) -> None:
    whole = scenes.shown(name, None)
    held = {page for bundle in BUNDLES for page in scenes.shown(name, bundle)}
    assert held == set(whole)
    assert [n for n in whole if n not in ("cover", "contents")] == list(
        bundles.ordered({n: p for n, p in scenes.every(name).items() if n != "cover"})
    )


@pytest.mark.parametrize("name", SCENES)
def test_nobody_calculates_on_the_site(name: str) -> None:
    made = scenes.shown(name, "site").values()
    assert not [p for p in made if isinstance(p, CalculationSheet | ShapeSheet | SureSheet)]
    text = said(printed(name, "site"))
    for word in (
        "Asks / can take",
        "Derivations",
        "Eurocode",
        "NDS",
        "AISC",
        "MPa",
        "bending moment",
    ):
        assert word not in text, word


@pytest.mark.parametrize("name", SCENES)
def test_the_client_sees_no_hours_and_no_costs_of_the_shop(name: str) -> None:
    plan, text = jobs.plan(name), said(printed(name, "client"))
    low = text.lower()
    for word in ("hands-on", "hands on", "labour", "burden", "overhead", "mark-up", "margin"):
        assert word not in low, word
    assert not re.search(r"\d (hours|h at)\b", low)
    found = side(plan)
    assert not isinstance(found, str)
    priced = found.work.priced
    assert priced is not None
    assert f"{priced.total:,.2f}" in text
    total = {f"{priced.total * share:,.2f}" for share in (1, 0.5, 0.4, 0.1)}
    inside = (priced.direct, priced.overhead, priced.contingency)
    for cost in {f"{cost:,.2f}" for cost in inside if cost > 0} - total:
        assert cost not in text, cost
    assert f"{found.work.hours:.2f}" not in text


def test_the_shop_has_the_hours_and_the_client_what_it_may_carry() -> None:
    assert "Hours, hands on" in said(printed("stoneware-corner", "shop"))
    assert "What it may carry" in said(printed("stoneware-corner", "client"))
    assert "Derivations, governing first" in said(printed("stoneware-corner", "engineer"))


@pytest.mark.parametrize("bundle", PARTS)
def test_a_page_that_waits_has_a_line_on_the_cover(bundle: Bundle | None) -> None:
    plan = sample.plan(("A",))
    made = every(plan, {})
    front = bound(plan, made, bundle)["cover"]
    sheets = paper.read(press(block(plan, bundle), bound(plan, made, bundle)))
    text = said(tuple(s for s in sheets[:2] if not s.text.startswith("Contents")))
    lines = getattr(front, "left_out", ())
    if bundle in (None, "site", "engineer"):
        assert any("wall A is not confirmed: withheld" in line for line in lines)
        assert any("Set card" in line for line in lines)
    if bundle == "client":
        assert not lines
    for line in lines:
        assert " ".join(line.split()) in text


def test_without_prices_the_client_is_told_why_there_is_no_quote() -> None:
    plan = sample.plan()
    bare = {n: p for n, p in every(plan, {}).items() if n not in ("quote", "choices", "cover")}
    lacking = bundles.lacking(plan, bare, "client")
    assert {m.sort for m in lacking} == {"quote", "choices"}


@pytest.mark.parametrize(
    ("asked", "parts"),
    [
        ((), ("whole",)),
        (("site",), ("site",)),
        (("site", "client", "site"), ("client", "site")),
        (("all",), ("whole", *BUNDLES)),
        (("site", "all"), ("whole", *BUNDLES)),
    ],
)
def test_what_is_asked_for(asked: tuple[str, ...], parts: tuple[str, ...]) -> None:
    assert parts_of(asked) == parts


@pytest.fixture
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without the other ways to make the shelf, which take most of the time and no part in what is looked at."""
    for room in (seen, documents):
        monkeypatch.setattr(room, "options", lambda *_: ())
        monkeypatch.setattr(room, "alternatives", lambda *_: ())


@pytest.mark.usefixtures("quick")
def test_a_bundle_takes_along_the_files_it_needs_and_no_others() -> None:
    plan = sample.plan()
    site, shop, client = (set(contents(plan, (b,), jobs.MEMO)) for b in ("site", "shop", "client"))
    assert client == {"packet-client.pdf", MANIFEST}
    assert {"packet-site.pdf", "days.ics"} - {"days.ics"} <= site
    assert any(n.startswith("guide-corner-A") and n.endswith("letter.pdf") for n in site)
    assert any(n.startswith("scribe-corner") for n in site)
    assert not site & {"check.json", "shop.json", "shopping.csv", "parts.csv", "cuts.csv"}
    assert {"parts.csv", "cuts.csv", "shop.json", "core_map.dxf"} <= shop
    assert "check.json" in contents(plan, ("engineer",), jobs.MEMO)


@pytest.mark.soak
@pytest.mark.usefixtures("quick")
def test_all_bundles_together_take_every_file_along() -> None:
    plan = sample.plan()
    every_file = set(contents(plan, ("whole", *BUNDLES), jobs.MEMO))
    assert every_file == set(contents(plan, memo=jobs.MEMO)) | {f"packet-{b}.pdf" for b in BUNDLES}


def listed(folder: Path) -> set[str]:
    found = set(json.loads((folder / MANIFEST).read_text())["files"])
    assert found == {p.name for p in folder.iterdir()} - {MANIFEST}
    return found


@pytest.mark.usefixtures("quick")
def test_bundles_of_one_job_lie_side_by_side_and_those_of_an_older_one_go(tmp_path: Path) -> None:
    plan = sample.plan()
    packet(plan, tmp_path, memo=jobs.MEMO)
    whole = listed(tmp_path)
    packet(plan, tmp_path, ("client",), jobs.MEMO)
    assert listed(tmp_path) == whole | {"packet-client.pdf"}
    packet(plan, tmp_path, memo=jobs.MEMO)
    assert listed(tmp_path) == whole | {"packet-client.pdf"}
    newer = _revised(plan)
    packet(newer, tmp_path, ("site",), jobs.MEMO)
    assert "packet.pdf" not in listed(tmp_path)
    assert "packet-client.pdf" not in listed(tmp_path)
    assert "packet-site.pdf" in listed(tmp_path)
    packet(plan, tmp_path, memo=jobs.MEMO)
    assert listed(tmp_path) == whole


def _revised(plan: Plan) -> Plan:
    meta = replace(plan.job.meta, revision="sha256:" + "9" * 64)
    return replace(plan, job=replace(plan.job, meta=meta))


@pytest.mark.usefixtures("quick")
def test_other_prices_leave_no_older_quote_beside_them(tmp_path: Path) -> None:
    plan = sample.plan()
    for currency, part in (("USD", "client"), ("EUR", "site")):
        shop = replace(plan.job.shop, prices=Prices(currency, (), ()))
        packet(
            replace(plan, job=replace(plan.job, shop=shop)), tmp_path, parts_of((part,)), jobs.MEMO
        )
    assert "packet-client.pdf" not in listed(tmp_path)


@pytest.mark.usefixtures("one_memo")
def test_the_verb_writes_bundles_and_says_what_is_in_them(tmp_path: Path) -> None:
    job = str(jobs.EXAMPLES / "reading-alcove.toml")
    ran = CliRunner().invoke(
        main, ["packet", job, "-o", str(tmp_path), "--for", "site", "--for", "client", "--json"]
    )
    assert ran.exit_code == 0, ran.stderr
    document = json.loads(ran.stdout)
    jsonschema.validate(document, SCHEMAS["packet"](), cls=jsonschema.Draft202012Validator)
    assert [part["file"] for part in document["parts"]] == ["packet-client.pdf", "packet-site.pdf"]
    for each in document["files"]:
        assert (tmp_path / each["name"]).stat().st_size == each["bytes"]
    for part in document["parts"]:
        heads = [h for h, _ in spans(paper.read((tmp_path / part["file"]).read_bytes()))]
        wanted = [" ".join(f"{p['title']} {p['about']}".split()) for p in part["pages"]]
        assert heads == wanted
    (site,) = [p for p in document["parts"] if p["for"] == "site"]
    assert {each["title"] for each in site["left_out"]} >= {"Probing sheet", "Noggin sheet"}
    assert all(re.search(r"\w", each["why"]) for each in site["left_out"])


def test_an_unknown_bundle_is_told_with_those_there_are(tmp_path: Path) -> None:
    job = str(jobs.EXAMPLES / "reading-alcove.toml")
    ran = CliRunner().invoke(main, ["packet", job, "-o", str(tmp_path / "x"), "--for", "painter"])
    assert ran.exit_code == 2
    assert "painter" in ran.stderr
    assert all(bundle in ran.stderr for bundle in BUNDLES)
    assert not (tmp_path / "x").exists()


def test_the_table_in_the_docs_is_that_of_the_code() -> None:
    text = (jobs.EXAMPLES.parent / "docs" / "packet.md").read_text(encoding="utf-8")
    rows = [r for r in text.split("## The files")[0].split("\n") if r.startswith("| ")][1:]
    say = Say("in", "en-US")
    wanted = []
    for head, sorts in bundles.GROUPS:
        wanted.append(f"| **{head}** | | | | |")
        for sort in sorts:
            marks = " | ".join("yes" if b in sort.bundles else "" for b in BUNDLES)
            wanted.append(f"| {bundles.title_of(sort, say)} | {marks} |")
    assert rows == wanted
