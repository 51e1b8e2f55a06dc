"""The published schema is sound, takes every job we ship, and each key of it is in the guide."""

from __future__ import annotations

import datetime as dt
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from pydantic import BaseModel

from ledgewright.job import schema

GUIDE = Path(__file__).parents[2] / "docs" / "job-file.md"


def as_json(value: object) -> object:
    if isinstance(value, dict):
        return {key: as_json(item) for key, item in value.items()}
    if isinstance(value, list):
        return [as_json(item) for item in value]
    return value.isoformat() if isinstance(value, dt.date) else value


def test_the_schema_is_one_and_takes_every_job(jobs: tuple[str, ...]) -> None:
    made = schema.schema()
    jsonschema.Draft202012Validator.check_schema(made)
    check = jsonschema.Draft202012Validator(made)
    for text in jobs:
        assert list(check.iter_errors(as_json(tomllib.loads(text)))) == []


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('turn = "inside"', 'turn = "in"'),
        ('hole = "3/4"', ""),
        ("kerf =", "kerff ="),
        ('kind = "even"', 'kind = "evn"'),
        ("people = 2", "people = 0"),
    ],
)
def test_the_schema_refuses_what_the_reader_refuses(corner: str, old: str, new: str) -> None:
    check = jsonschema.Draft202012Validator(schema.schema())
    assert list(check.iter_errors(as_json(tomllib.loads(corner.replace(old, new, 1)))))


def tables() -> Iterator[type[BaseModel]]:
    todo: list[type[BaseModel]] = [schema.JobFile, schema.PriceTable]
    seen: set[type[BaseModel]] = set()
    while todo:
        table = todo.pop()
        if table not in seen:
            seen.add(table)
            yield table
            for field in table.model_fields.values():
                todo.extend(inner(field.annotation))


def inner(annotation: Any) -> Iterator[type[BaseModel]]:  # whatever may stand in an annotation
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for part in (*getattr(annotation, "__args__", ()), *getattr(annotation, "__metadata__", ())):
        yield from inner(part)


OWN_TABLES = {
    "JobFile": {
        "job",
        "wall",
        "corner",
        "obstacle",
        "shelf",
        "shop",
        "doubt",
        "choose",
        "site",
        "measure",
    },
    "ShelfTable": {"core", "rods", "rod", "load", "limits"},
}
HEADS = {
    "JobFile": None,
    "JobTable": "[job]",
    "WallTable": "[[wall]]",
    "LineTable": "lines",
    "StudTable": "studs",
    "BlockingTable": "blocking",
    "FixedTable": "fixed",
    "FramingTable": "framing",
    "KnownTable": "known",
    "CornerTable": "[[corner]]",
    "PitchTable": "pitch",
    "MeasureTable": "[measure]",
    "AcrossTable": "tapes",
    "RiseTable": "heights",
    "ObstacleTable": "[[obstacle]]",
    "ShelfTable": "[[shelf]]",
    "LegTable": "legs",
    "SkinTable": "skin_top",
    "CoreTable": "[shelf.core]",
    "EdgingTable": "edging",
    "FinishTable": "finish",
    "LockTable": "lock",
    "GrooveTable": "groove",
    "CableTable": "cable",
    "LeanTable": "lean",
    "AcceptedTable": "accepted",
    "RodsTable": "[shelf.rods]",
    "RodTable": "[[shelf.rod]]",
    "ClearanceTable": "clearance",
    "EvenTable": "[[shelf.load]]",
    "StripTable": "[[shelf.load]]",
    "ThingTable": "[[shelf.load]]",
    "AccidentTable": "[[shelf.load]]",
    "LimitsTable": "[shelf.limits]",
    "ShopTable": "[shop]",
    "DoubtTable": "[doubt]",
    "ChooseTable": "[choose]",
    "SiteTable": "[site]",
    "RodSetTable": "site.rod",
    "BondedTable": "bonded",
    "LoadTestTable": "site.test",
    "PriceTable": "price file",
}


def chapters() -> dict[str, set[str]]:
    """Return the keys the guide tells, by what stands in backquotes in its headings."""
    found: dict[str, set[str]] = {}
    for chapter in re.split(r"^##+ ", GUIDE.read_text(encoding="utf-8"), flags=re.MULTILINE)[1:]:
        head, _, body = chapter.partition("\n")
        keys = set(re.findall(r"^\| `([a-z_]+)`", body, flags=re.MULTILINE))
        for name in re.findall(r"`([^`]+)`", head) or ["file"]:
            found.setdefault(name, set()).update(keys)
    return found


@pytest.mark.parametrize("table", list(tables()), ids=lambda table: table.__name__)
def test_every_key_is_in_the_guide(table: type[BaseModel]) -> None:
    told = chapters()
    head = HEADS[table.__name__] or "format"
    keys = {field.alias or name for name, field in table.model_fields.items()}
    assert keys - told[head] - OWN_TABLES.get(table.__name__, set()) == set()


def test_the_guide_tells_no_key_that_is_not_there() -> None:
    known = {
        field.alias or name for table in tables() for name, field in table.model_fields.items()
    }
    for keys in chapters().values():
        assert keys <= known


def test_every_field_has_its_sentence() -> None:
    for table in tables():
        assert table.__doc__
        assert all(field.description for field in table.model_fields.values()), table


def test_the_types_of_a_job_come_without_the_modelling_library() -> None:
    code = "import sys, ledgewright.job; sys.exit('pydantic' in sys.modules or 'tomlkit' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
