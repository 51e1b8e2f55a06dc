"""Reading a job file: from its text to a `Job`, or to everything that is wrong with it, at once."""

from __future__ import annotations

import re
import tomllib
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from typing import TypeVar

from pydantic import BaseModel, TypeAdapter

from ledgewright import units
from ledgewright.job import (
    as_set,
    demands,
    edits,
    load_tests,
    measure,
    migrations,
    places,
    posts,
    rods,
    schema,
    shelves,
    shops,
    walls,
)
from ledgewright.job.fields import MOST, is_unknown
from ledgewright.job.findings import Ear, nearest, read_as, read_union, shown
from ledgewright.job.marks import MARKS
from ledgewright.job.model import (
    Basis,
    Choosing,
    Demand,
    Edit,
    Finding,
    Job,
    Meta,
    Order,
    RodSpec,
    Shop,
    Site,
    Spec,
    TapedCorner,
    Tapes,
    Words,
)
from ledgewright.job.places import Path
from ledgewright.job.revision import revision
from ledgewright.job.stand_ins import WAYS, Way, put
from ledgewright.stock import Adhesive, Bar, Lumber, Panel

DEEPEST_NESTING = 24
LONGEST_LOOKED_BEHIND = 200_000
"""A text no longer than this is looked through for what stands behind values that do not read (characters)."""
_PARTS = ("core", "rods", "rod", "load", "limits")
_LOAD: TypeAdapter[
    schema.EvenTable | schema.StripTable | schema.ThingTable | schema.AccidentTable
] = TypeAdapter(schema.LoadTable)

M = TypeVar("M", bound=BaseModel)


@dataclass(frozen=True)
class Read:
    """A file as read: `job` is None if anything was refused or a question stands unanswered."""

    job: Job | None
    findings: tuple[Finding, ...]


def read(text: str, file: str, prices: str | None = None, *, said: Sequence[Finding] = ()) -> Read:
    """Read a job file.

    Args:
        text: the file's text.
        file: its name, for the findings.
        prices: text of the price file named in it, or None if there is none at hand.
        said: findings about the files themselves, to be told with the rest.

    Returns:
        The job with what was assumed and left open, and all findings; a fault of TOML itself stops
        at the first one, and so does a file of another format. Of what hangs on a value that does not
        read nothing is said; of all else, as if it read.
    """
    document, trouble = parse(text.removeprefix("\ufeff"), file)
    if document is None:
        return Read(None, (*said, *trouble))
    return _read_document(document, text, file, prices, said)


def read_with(text: str, made: Sequence[Edit], file: str, prices: str | None = None) -> Read:
    """Read a job file as it would say with some edits made; its text is not written, so lines are those of the old.

    Args:
        text: the file's text.
        made: edits of it, in order.
        file: its name, for the findings.
        prices: text of the price file named in it, or None if there is none at hand.

    Returns:
        As `read` would of the text with the edits made, but for lines and the revision.

    Raises:
        BadEdit: as `edits.apply`.
    """
    bare = text.removeprefix("\ufeff")
    return _read_document(edits.document(bare, made), text, file, prices, ())


def _read_document(
    document: dict[str, object],
    whole: str,
    file: str,
    prices: str | None,
    said: Sequence[Finding],
) -> Read:
    text = whole.removeprefix("\ufeff")
    ear = Ear(file=file, text=text, document=document, behind=len(text) <= LONGEST_LOOKED_BEHIND)
    ear.findings.extend(_placed(ear, found) for found in said)
    today = _of_today(ear, document)
    if today is None:
        return Read(None, tuple(ear.findings))
    head, today = _head(ear, today, prices)
    job = _read(ear, head, today, whole, prices) if head else None
    if head and ear.stand_ins:
        ear.findings.extend(_behind(ear, head, today, prices))
    return Read(None if ear.stops else job, _sorted(ear.findings))


def _of_today(ear: Ear, document: dict[str, object]) -> dict[str, object] | None:
    """Return the document in today's format; where it does not say which it is in, it is read as one."""
    try:
        return migrations.migrate(document).document
    except migrations.WrongFormat as wrong:
        ear.refuse("format", ("format",), wrong.wrong, wrong.right)
        return None if wrong.other_format else {**document, "format": migrations.CURRENT}


def _behind(
    ear: Ear, head: schema.Head, document: dict[str, object], prices: str | None
) -> Iterator[Finding]:
    """Say what else is wrong, whatever stood in the place of what does not read."""
    one, two = (_heard_with(ear, head, document, prices, way) for way in WAYS)
    for key, found in one.told.items():
        _, path = key
        new = found.level != "note" and key not in ear.told
        itself = any(path[: len(each.path)] == each.path for each in ear.stand_ins)
        if new and not itself and two.told.get(key) == found:
            yield found


def _heard_with(
    ear: Ear, head: schema.Head, document: dict[str, object], prices: str | None, way: Way
) -> Ear:
    """Read a document once more, with one of the two stand-ins of each place."""
    made: object = document
    for each in ear.stand_ins:
        made = put(made, each.path, each.value(way))
    again = ear.again()
    if isinstance(made, dict):
        _read(again, head, made, "", prices)
    return again


def _placed(ear: Ear, found: Finding) -> Finding:
    """Return a finding about the files with the line and value of the key it is about."""
    steps = places.steps(found.path)
    if steps is None:
        return found
    value = shown(places.value_at(ear.document, steps))
    return replace(found, line=ear.line(steps), value=value)


def parse(text: str, file: str) -> tuple[dict[str, object] | None, tuple[Finding, ...]]:
    """Return the document of a TOML text; None and what stops it if it is none."""
    if not text.strip():
        return None, (
            _stop(
                file, None, "empty", "there is nothing in this file", "start with `ledgewright new`"
            ),
        )
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as wrong:
        return None, (_toml(file, text, str(wrong)),)
    except (RecursionError, ValueError, OverflowError):
        return None, (
            _stop(
                file,
                None,
                "toml",
                "this file is nested too deeply or holds a number too large",
                "write it flat, with numbers of a shelf",
            ),
        )
    if _too_deep(document):
        return None, (
            _stop(
                file,
                None,
                "toml",
                "this file is nested too deeply",
                "no table of a job stands deeper than four others",
            ),
        )
    return document, ()


def prices_named(text: str) -> str | None:
    """Return the name of the price file a job names, or None; any text may be asked."""
    document, _ = parse(text.removeprefix("\ufeff"), "")
    name = places.value_at(document, ("shop", "prices"))
    return name if isinstance(name, str) else None


def _toml(file: str, text: str, message: str) -> Finding:
    """Turn the parser's message into a finding; it ends in "(at line 3, column 5)" or "(at end of document)"."""
    wrong, _, where = message.rpartition(" (at ")
    digits = where.removeprefix("line ").split(",")[0]
    last = text.count("\n") + 1
    line = int(digits) if digits.isdecimal() else last
    held = text.split("\n")[line - 1].strip() if line <= last else ""
    reason = "".join(c for c in (wrong or message) if c.isprintable())[:120]
    first = _first_of_two(text.split("\n")[:line], reason)
    slip = None if first else _unquoted(held)
    if slip:
        wrong, right = slip
        return _stop(file, line, "toml", f"{wrong}; reading stopped here", right, shown(held))
    twice = f"this stands in the file twice: in line {first} and here; reading stopped here"
    return Finding(
        code="toml",
        level="refuse",
        file=file,
        line=line,
        path="",
        value="".join(c for c in held if c.isprintable())[:80],
        wrong=twice if first else f"this line is not TOML ({reason}); reading stopped here",
        right="keep the one that is right and take the other out"
        if first
        else 'key = "text", key = 12, key = [1, 2] or [table]; text stands in straight quotes',
    )


_STRING = re.compile(r"(?<!\d)\"[^\"]*\"(?!\")|'[^']*'|#.*$")
_MORE = r"\s*['/\"-]\s*\d*|\s+\d[\d.]*|\s*[^\W\d_][\w/]*|\s*[¼-¾⅐-⅞]"
_AFTER_NUMBER = re.compile(rf"[=,\[]\s*[“”'\"]?([-+]?\d[\d.]*(?:{_MORE})+)")
_COMMA = re.compile(r"=\s*([-+]?\d+),(\d+)\s*$")


def _unquoted(line: str) -> tuple[str, str] | None:
    """Return what is wrong with a line whose figure is no plain number and lacks its quotes, and what is right."""
    bare = _STRING.sub("_", line)
    comma = _COMMA.search(bare)
    if comma:
        whole, part = comma.groups()
        like = f'write {whole}.{part}, or a fraction in quotes, like "{whole} 1/2"'
        return "a number has a point and no comma", like
    found = _AFTER_NUMBER.search(bare)
    if not found:
        return None
    text = " ".join(found[1].split()).rstrip('"')
    feet = ", without the inch mark" if '"' in found[1] else ""
    return (
        "only a plain number stands without quotes, and this one has more behind it",
        f'put it in quotes{feet}, like "{text}"; feet and inches like "7\' 4 1/2"',
    )


_TWICE = ("Cannot overwrite a value", "Cannot declare", "Duplicate inline table key")
_HEADER = re.compile(r"\s*\[")


def _first_of_two(lines: Sequence[str], reason: str) -> int | None:
    """Return the line (from 1) in which the key or table of the last of these lines stood before; None if in none."""
    if not reason.startswith(_TWICE):
        return None
    last, before = lines[-1], list(enumerate(lines[:-1], 1))
    if _HEADER.match(last):
        same = last.split("#")[0].strip()
        return next((n for n, line in before if line.split("#")[0].strip() == same), None)
    key = last.split("=")[0].strip().strip("\"'")
    for number, line in reversed(before):
        if "=" in line and line.split("=")[0].strip().strip("\"'") == key:
            return number
        if _HEADER.match(line) and line.split("#")[0].strip().endswith("]"):
            return None
    return None


def _stop(
    file: str, line: int | None, code: str, wrong: str, right: str, value: str = ""
) -> Finding:
    return Finding(
        code=code,
        level="refuse",
        file=file,
        line=line,
        path="",
        value=value,
        wrong=wrong,
        right=right,
    )


def _too_deep(document: Mapping[str, object]) -> bool:
    level: list[object] = [document]
    for _ in range(DEEPEST_NESTING):
        level = [child for item in level for child in _children(item)]
        if not level:
            return False
    return True


def _children(item: object) -> Iterator[object]:
    if isinstance(item, Mapping):
        yield from item.values()
    elif isinstance(item, list):
        yield from item


def _sorted(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    return tuple(sorted(findings, key=lambda f: (f.line is None, f.line or 0)))


def _read(
    ear: Ear, head: schema.Head, document: dict[str, object], text: str, prices: str | None
) -> Job | None:
    ear.unit = head.units
    _unknown_tables(ear, document)
    table = _one(ear, schema.JobTable, document, "job", needed=True)
    _hear_sure(ear, document, table)
    on_site = _one(ear, schema.SiteTable, document, "site")
    datum, site = _site(ear, on_site)
    tapes, found = _tapes(ear, document, datum)
    made = _shelves(ear, document, found, tapes)
    made = as_set.readings(ear, on_site.rod if on_site else (), made, found)
    tests = load_tests.steps(ear, on_site.test if on_site else (), made, found, tapes.corners)
    _check_temperature(ear, site.temperature, [spec for spec, _ in made])
    shop = _shop(ear, document, prices)
    order = table.order if table else None
    shops.check_warmth(ear, shop, [spec for spec, _ in made], order, site.temperature)
    doubt = _one(ear, schema.DoubtTable, document, "doubt")
    choosing = _choosing(ear, _one(ear, schema.ChooseTable, document, "choose"))
    if ear.stops or table is None:
        return None
    return Job(
        meta=_meta(ear, head, table, text),
        tapes=tapes,
        shelves=tuple(spec for spec, _ in made),
        demands=tuple(demand for _, demand in made),
        shop=shop,
        site=replace(site, tests=tests),
        assumed=tuple(dict.fromkeys(ear.assumed)),
        open_items=tuple(ear.open_items),
        notes=_sorted(ear.findings),
        seed=doubt.seed if doubt else 0,
        choosing=choosing,
    )


def _head(
    ear: Ear, document: dict[str, object], prices: str | None
) -> tuple[schema.Head | None, dict[str, object]]:
    """Return the first lines, and the document with them; of a unit that does not read, the one with less wrong."""
    heads = tuple(schema.Head.model_fields)

    def first_lines(hearing: Ear, whole: dict[str, object]) -> schema.Head | None:
        return read_as(hearing, schema.Head, {k: whole[k] for k in heads if k in whole}, ())

    head = first_lines(ear, document)
    if head is not None:
        return head, document
    tries = []
    for way in WAYS:
        tried = document | {str(each.path[0]): each.value(way) for each in ear.stand_ins}
        hearing = ear.again()
        stood = first_lines(hearing, tried)
        if stood is not None:
            _read(hearing, stood, tried, "", prices)
            tries.append((len(hearing.findings), stood, tried))
    ear.stand_ins.clear()
    _, head, made = min(tries, key=lambda each: each[0], default=(0, None, document))
    return head, made


def _choosing(ear: Ear, table: schema.ChooseTable | None) -> Choosing:
    """Return what may be changed; bars and adhesives that no rod may be are left to the rods' own checks."""
    if table is None:
        return Choosing()
    if table.thick is not None and table.thick[1] < table.thick[0]:
        ear.refuse(
            "order",
            ("choose", "thick"),
            "the most is less than the least",
            "write the least first, then the most",
        )
    lists = (table.bars, table.skins, table.adhesives, table.cores)
    bars, skins, adhesives, cores = (_names(each) for each in lists)
    return Choosing(table.vary, bars, skins, adhesives, cores, table.thick, table.designs)


def _names(
    rows: Sequence[Bar] | Sequence[Panel] | Sequence[Adhesive] | Sequence[Lumber] | None,
) -> tuple[str, ...] | None:
    return None if rows is None else tuple(dict.fromkeys(row.name for row in rows))


def _unknown_tables(ear: Ear, document: Mapping[str, object]) -> None:
    known = tuple(schema.JobFile.model_fields)
    for key in document:
        if key not in known and not ear.full:
            near = nearest(key, known)
            right = f'did you mean "{near}"?' if near else "known here: " + ", ".join(known)
            ear.refuse("unknown key", (key,), f'there is no key "{key}" here', right)


def _one(
    ear: Ear, model: type[M], document: Mapping[str, object], key: str, *, needed: bool = False
) -> M | None:
    if key in document:
        return read_as(ear, model, document[key], (key,))
    if needed:
        ear.refuse(
            "missing",
            (key,),
            f"the table [{key}] is missing",
            f"write [{key}] with its keys under it",
        )
    return None


def _many(ear: Ear, document: Mapping[str, object], key: str, *, path: Path = ()) -> list[object]:
    value = document.get(key, [])
    if isinstance(value, list):
        if len(value) > MOST:
            ear.refuse(
                "shape", (*path, key), f"{len(value)} are more than a job holds", f"at most {MOST}"
            )
        return value[:MOST]
    ear.refuse(
        "shape",
        (*path, key),
        "several of these may stand in a job, so each has double brackets",
        f"write [[{'.'.join(str(p) for p in (*path[:1], key))}]] above it",
    )
    return []


def _hear_sure(ear: Ear, document: Mapping[str, object], table: schema.JobTable | None) -> None:
    if table is None:
        return
    found = []
    for i, text in enumerate(table.sure):
        steps = places.steps(text)
        path = places.resolve(document, steps) if steps else ()
        if not path or places.value_at(document, path) is None:
            ear.note(
                "sure",
                ("job", "sure", i),
                "nothing stands at this path",
                "take it out, or mend its spelling",
            )
        found.append(path)
    ear.sure = frozenset(found)


def _ids(ear: Ear, items: Sequence[object], key: str) -> list[str]:
    ids: list[str] = []
    for i, item in enumerate(items):
        name = item.get("id") if isinstance(item, Mapping) else None
        text = name if isinstance(name, str) else ""
        if text and text in ids:
            ear.refuse(
                "duplicate",
                (key, i, "id"),
                f'there are two of the name "{text}"',
                "give each its own id",
            )
        ids.append(text)
    return ids


def _tapes(ear: Ear, document: Mapping[str, object], datum: str) -> tuple[Tapes, walls.Walls]:
    raw = _many(ear, document, "wall")
    if not raw:
        ear.refuse(
            "missing",
            ("wall",),
            "there is no wall",
            "write [[wall]] for each, left to right as you face them",
        )
    if len(raw) > len(MARKS):
        ear.refuse(
            "shape",
            ("wall",),
            f"{len(raw)} walls are more than a job can hold",
            f"at most {len(MARKS)}; split the job",
        )
        raw = raw[: len(MARKS)]
    ids = _ids(ear, raw, "wall")
    carrying, deep = _carrying(document), _deepest(ear, document)
    raw = [_as_long(ear, item, ("wall", i), carrying, deep) for i, item in enumerate(raw)]
    tables = [
        read_as(ear, schema.WallTable, _told(item, _OPEN_OF_WALL), ("wall", i))
        for i, item in enumerate(raw)
    ]
    found = walls.build(ear, tables, ids, carrying)
    corners = _rows(ear, document, "corner", schema.CornerTable)
    things = _rows(ear, document, "obstacle", schema.ObstacleTable)
    _ids(ear, _many(ear, document, "obstacle"), "obstacle")
    table = _one(ear, schema.MeasureTable, document, "measure")
    across = measure.measured(ear, table, corners, found)
    taped = walls.corners(ear, corners, found, across=bool(across.across))
    posts.check_posts(ear, taped, found)
    tapes = Tapes(
        datum=datum,
        walls=found.read,
        corners=taped,
        obstacles=walls.obstacles(ear, things, found),
        across=across.across,
        rises=across.rises,
        tool=across.tool,
        hands=across.hands,
    )
    return tapes, found


_OPEN_OF_WALL = frozenset({"known", "lining", "line", "blocking"})
_OPEN_OF_SHELF = frozenset({"finish"})
"""Whole tables and lists that may be "don't know": that is the same as not writing them."""


def _told(item: object, may_be_open: frozenset[str]) -> object:
    """Return a table without the keys that are "don't know" and may be."""
    if not isinstance(item, Mapping):
        return item
    return {k: v for k, v in item.items() if not (k in may_be_open and is_unknown(v))}


STAND_IN = "10 in"
"""In place of a shelf's depth that cannot be read: the job is refused for that."""


def _as_long(ear: Ear, item: object, path: Path, carrying: frozenset[str], deep: object) -> object:
    """Return a wall that carries no rods, of a length nobody knows, as long as the deepest shelf is deep."""
    if not isinstance(item, Mapping) or not is_unknown(item.get("length")):
        return item
    if item.get("id") in carrying:
        return item
    at = (*path, "length")
    ear.default_text("wall.length", at)
    ear.open(
        at,
        "nobody has taped how far this wall goes: what of it stands past the shelf's depth is not looked at",
    )
    return {**item, "length": deep}


def _deepest(ear: Ear, document: Mapping[str, object]) -> object:
    """Return the depth of the deepest shelf as it is written; where none can be read that is told there."""
    found: list[tuple[float, object]] = []
    for shelf in _children(document.get("shelf")):
        told = shelf.get("depth") if isinstance(shelf, Mapping) else None
        with suppress(units.BadFigure, TypeError):
            size = (
                float(told)
                if isinstance(told, int | float)
                else units.read_length(str(told), ear.unit)
            )
            if size > 0:
                found.append((size, told))
    return max(found, key=lambda each: each[0])[1] if found else STAND_IN


def _rows(
    ear: Ear, document: Mapping[str, object], key: str, model: type[M], path: Path = ()
) -> list[M | None]:
    items = _many(ear, document, key, path=path)
    return [read_as(ear, model, item, (*path, key, i)) for i, item in enumerate(items)]


def _carrying(document: Mapping[str, object]) -> frozenset[str]:
    """Return the ids of walls that some shelf has a leg on, whatever else is wrong with it."""
    legs = [
        leg
        for shelf in _children(document.get("shelf"))
        for leg in _children(places.value_at(shelf, ("legs",)))
    ]
    names = [leg.get("wall") for leg in legs if isinstance(leg, Mapping)]
    return frozenset(name for name in names if isinstance(name, str))


def _site(ear: Ear, table: schema.SiteTable | None) -> tuple[str, Site]:
    """Return the datum and the day on site."""
    datum = (
        table.datum if table and table.datum else ear.default_text("site.datum", ("site", "datum"))
    )
    given = table.temperature if table else None
    if given == "unknown":
        ear.open(
            ("site", "temperature"),
            "every wait is reckoned for a cool room; below the adhesive's coldest nothing may be set",
        )
    temperature = (
        given
        if isinstance(given, float)
        else ear.default("site.temperature", ("site", "temperature"))
    )
    heat = table.heat if table else None
    if heat == "unknown":
        ear.open(
            ("site", "heat"),
            "over 50 C glue creeps: no load test and no load limit would hold then",
        )
    doorway = table.doorway if table else None
    hot = heat if isinstance(heat, float) else None
    return datum, Site(temperature=temperature, doorway=doorway, heat=hot)


def _check_temperature(ear: Ear, temperature: float, specs: Sequence[Spec]) -> None:
    for adhesive in {rod.adhesive for spec in specs for rod in spec.rods}:
        if temperature < adhesive.coldest:
            wrong = f"{adhesive.name} does not cure below {units.show_temperature(adhesive.coldest, ear.unit)}"
            ear.refuse(
                "temperature",
                ("site", "temperature"),
                wrong,
                "warm the wall and keep it warm, or take an adhesive for the cold",
            )


def _shelves(
    ear: Ear, document: Mapping[str, object], found: walls.Walls, tapes: Tapes
) -> list[tuple[Spec, Demand]]:
    raw = _many(ear, document, "shelf")
    if not raw:
        ear.refuse(
            "missing", ("shelf",), "there is no shelf", "write [[shelf]] with its keys under it"
        )
    _ids(ear, raw, "shelf")
    made = [_shelf(ear, item, ("shelf", i), found, tapes) for i, item in enumerate(raw)]
    return _numbered([pair for pair in made if pair is not None])


def _numbered(made: Sequence[tuple[Spec, Demand]]) -> list[tuple[Spec, Demand]]:
    """No two rods on one wall bear the same number: each shelf counts on from those before it."""
    before: Counter[str] = Counter()
    found = []
    for spec, demand in made:
        found.append((replace(spec, before=tuple(sorted(before.items()))), demand))
        before.update(rod.wall for rod in spec.rods)
    return found


def _shelf(
    ear: Ear, item: object, path: Path, found: walls.Walls, tapes: Tapes
) -> tuple[Spec, Demand] | None:
    if not isinstance(item, Mapping):
        read_as(ear, schema.ShelfBody, item, path)
        return None
    bare = {key: value for key, value in item.items() if key not in _PARTS}
    table = read_as(ear, schema.ShelfBody, _told(bare, _OPEN_OF_SHELF), path)
    core = _part(ear, schema.CoreTable, item, "core", path)
    if "core" not in item:
        ear.refuse(
            "missing", (*path, "core"), "core is missing", "write [shelf.core] with of and thick"
        )
    base = _part(ear, schema.RodsTable, item, "rods", path)
    own = _rows(ear, item, "rod", schema.RodTable, path)
    loads = [
        read_union(ear, _LOAD, load, (*path, "load", i))
        for i, load in enumerate(_many(ear, item, "load", path=path))
    ]
    limits = _part(ear, schema.LimitsTable, item, "limits", path)
    if table is None:
        return None
    body = shelves.body(ear, table, core, path, found, tapes.corners)
    if "rods" not in item:
        _no_rods(ear, path, own)
    placed = _rods(ear, base, own, body, found, tapes.corners) if base else ()
    spec = shelves.spec(ear, body, placed, found, tapes.corners)
    demand = demands.demand(ear, table, body.legs, loads, limits, path, found, tapes)
    return (spec, demand) if spec else None


def _part(ear: Ear, model: type[M], item: Mapping[str, object], key: str, path: Path) -> M | None:
    return read_as(ear, model, item[key], (*path, key)) if key in item else None


def _no_rods(ear: Ear, path: Path, own: Sequence[object]) -> None:
    ear.open(
        (*path, "rods"),
        "no rods are named: nothing holds the shelf, and nothing can be said about strength",
    )
    if own:
        ear.refuse(
            "missing",
            (*path, "rods"),
            "there are single rods, but no [shelf.rods] that they differ from",
            "write [shelf.rods] above them",
        )


def _rods(
    ear: Ear,
    base: schema.RodsTable,
    own: Sequence[schema.RodTable | None],
    body: shelves.Body,
    found: walls.Walls,
    corners: Sequence[TapedCorner],
) -> tuple[RodSpec, ...]:
    table = body.table
    thick = sum(skin.thick for skin in body.skins) if body.skins else 0.0
    whole = thick + (body.core.thick if body.core else 0.0)
    shelf = rods.Shelf(
        depth=table.depth,
        middle=table.top - whole / 2,
        legs=body.legs,
        core=body.core,
        edging=table.edging.thick,
        met=_met(corners, found, turns=len(body.legs or ()) > 1),
    )
    return rods.rods(ear, base, own, body.path, found, shelf)


def _met(
    corners: Sequence[TapedCorner], found: walls.Walls, *, turns: bool
) -> frozenset[tuple[str, float]]:
    """Return the ends of walls where a shelf meets the next wall or its own other leg, and bears no edging."""
    ends = [
        end
        for corner in corners
        if corner.turn == "inside" or turns
        for end in ((corner.left, walls.right_end), (corner.right, walls.left_end))
    ]
    return frozenset(
        (name, round(at(wall), 3)) for name, at in ends if (wall := found.find(name)) is not None
    )


def _shop(ear: Ear, document: Mapping[str, object], prices: str | None) -> Shop:
    """Return the shop with its price file; a fault of the file's TOML is told under its own name."""
    table = _one(ear, schema.ShopTable, document, "shop")
    name, found = (table.prices if table else None) or "", None
    if prices is not None:
        text = prices.removeprefix("\ufeff")
        held, trouble = parse(text, name)
        ear.findings.extend(trouble)
        found = shops.prices(ear, name, text, held) if held is not None else None
    return shops.shop(ear, table, found)


def _meta(ear: Ear, head: schema.Head, table: schema.JobTable, text: str) -> Meta:
    unit = head.units
    if head.basis is None:
        ear.default_text(f"basis.{unit}", ("basis",))
    if head.words is None:
        ear.default_text(f"words.{unit}", ("words",))
    if table.sheets is None:
        ear.default_text(f"job.sheets.{unit}", ("job", "sheets"))
    if table.order is None:
        ear.default_text("job.order", ("job", "order"))
    basis: Basis = head.basis or ("nds" if unit == "in" else "ec5")
    words: Words = head.words or ("en-US" if unit == "in" else "en-GB")
    order: Order = table.order or "rods first"
    return Meta(
        name=table.name,
        place=table.place,
        client=table.client,
        file=ear.file,
        revision=revision(text),
        format=head.format,
        units=unit,
        basis=basis,
        words=words,
        sheets=table.sheets or ("letter" if unit == "in" else "a4"),
        order=order,
    )
