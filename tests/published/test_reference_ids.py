"""Every row of the project's reference tables is accounted for: the test that holds it, or why none does.

data/reference_ids.csv: ids and files of the reference, no figures; where is a test module, or one of `REASONS`. Rows of
bush_stiffness.csv, which has no ids, are named by their ratio and Poisson's ratio.
"""

from __future__ import annotations

import ast
import csv
import json
from collections import Counter
from pathlib import Path

import pytest

from tests.published.rows import DATA, rows
from tools.checked import read

AGAINST = (
    "ids of the reference tables, copied",
    "rule of the project",
    "exact",
)

ROOT = Path(__file__).resolve().parents[2]
IDS = rows("reference_ids.csv")
REASONS = {
    "conversion of another row",
    "later: survey/scribe room",
    "not used by any check",
    "not used: dry rooms only",
    "not used: no figure to check",
    "not used: no such fastener in the catalogue",
}


def ids(path: Path) -> list[str]:
    text = path.read_text(encoding="utf-8")
    if path.suffix == ".json":
        return [each["id"] for each in json.loads(text)]
    return [row["id"] for row in csv.DictReader(text.splitlines()) if "id" in row]


TABLES = {path.name: set(ids(path)) for path in DATA.iterdir() if path.stem != "reference_ids"}


def test_ids_are_unique() -> None:
    assert [k for k, n in Counter((row["id"], row["file"]) for row in IDS).items() if n > 1] == []


@pytest.mark.parametrize("where", sorted({row["where"] for row in IDS}))
def test_where_is_a_test_module_or_a_known_reason(where: str) -> None:
    assert where in REASONS or (where.startswith("tests/") and (ROOT / where).is_file())


def test_every_row_of_a_data_file_stands_in_the_list() -> None:
    listed = {row["id"] for row in IDS}
    assert {name: found - listed for name, found in TABLES.items() if found - listed} == {}


def test_a_row_of_a_data_file_is_held_by_a_module_that_reads_it() -> None:
    held = [row for row in IDS if row["where"] not in REASONS]
    assert len(held) > 900
    trees = {
        where: ast.parse((ROOT / where).read_text(encoding="utf-8"))
        for where in {row["where"] for row in held}
    }
    reads = {where: {name for _, name in read(tree)} for where, tree in trees.items()}
    stored = set().union(*TABLES.values())
    assert [
        (row["id"], row["where"])
        for row in held
        if row["id"] in stored and row["id"] not in reads[row["where"]]
    ] == []


def test_most_rows_said_to_be_held_in_published_stand_in_a_data_file() -> None:
    # The rest are figures written out beside the check: coefficients of plates, and bushes by their ratios.
    loose = [
        row["id"]
        for row in IDS
        if row["where"].startswith("tests/published/")
        and not any(row["id"] in found for found in TABLES.values())
    ]
    families = (
        "tw_",
        "roark_ss_",
        "cant_",
        "adj_sq",
        "corner_0",
        "L_",
        "bush_",
        "awi_moe_",
        "nds-12",
    )
    apart = ("load_aws", "defl_aws")
    assert [i for i in loose if "/" not in i and not i.startswith((*families, *apart))] == []
