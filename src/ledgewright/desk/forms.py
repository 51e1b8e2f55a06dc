"""Forms and the job file: what a field shows of the file, and what a filled-in form changes in it."""

from __future__ import annotations

import hashlib
import json
import re
import tomllib
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cache
from typing import Any, Literal

from ledgewright import stock
from ledgewright.desk import stages
from ledgewright.desk.stages import Column, Many, One, Sheet
from ledgewright.job import Edit, Finding, places
from ledgewright.job.places import Path
from ledgewright.job.schema import schema

Shape = Literal["figure", "words", "whole", "choice", "date", "yes or no"]
_SAID = {"true": "yes", "false": "no"}

UNKNOWN = "don't know"
SPARE_ROWS = 1
"""Empty rows offered below a list."""
_NUMBER = re.compile(r"-?(0|[1-9]\d{0,8})(\.\d{1,9})?")
_WHOLE = re.compile(r"-?(0|[1-9]\d{0,8})")
_PAIR = " pair"
_NEVER_BARE = ("weight", "force", "temperature")
"""Figures that always say their unit, so that even a bare number goes into quotes and is told so."""


@dataclass(frozen=True)
class Said:
    """One thing that is wrong, in words, and what would be right; `stand`: the paths to stand by, if it is meant."""

    wrong: str
    right: str
    stand: str = ""


@dataclass(frozen=True)
class Cell:
    """One input: its name in the form, its label, what it holds."""

    name: str
    label: str
    value: str
    shape: Shape = "figure"
    choices: tuple[str, ...] = ()
    names: str = ""
    held: str | None = None
    """What the file has, where the cell holds what was typed over it and not taken."""


@dataclass(frozen=True)
class Field:
    """One item of a form as it stands: a cell, or rows of cells; `path` as people write it."""

    path: str
    label: str
    help: str
    cell: Cell | None = None
    rows: tuple[tuple[Cell, ...], ...] = ()
    columns: tuple[str, ...] = ()
    said: tuple[Said, ...] = ()
    needed: bool = False
    whole: tuple[str, ...] = ()
    item: One | Many | None = None


@dataclass(frozen=True)
class Form:
    """One form: where it stands, its title, its fields, what is wrong with it as a whole."""

    id: str
    path: str
    title: str
    fields: tuple[Field, ...]
    said: tuple[Said, ...] = ()
    take: str = ""
    of: str = ""
    """What tells it from every other form of the page, whatever number its entry has in a list."""

    @property
    def paths(self) -> tuple[str, ...]:
        """The places in the file that its fields stand for."""
        return tuple(field.path for field in self.fields)


def document(text: str) -> dict[str, Any]:
    """Return a job file as a plain document; empty if it is no TOML."""
    try:
        return tomllib.loads(text.removeprefix("\ufeff"))
    except (ValueError, RecursionError):
        return {}


def forms(stage: str, held: Mapping[str, Any]) -> tuple[Form, ...]:
    """Return the forms of a page as the file fills them.

    Args:
        stage: name of the page.
        held: the job file as a document.
    """
    made = []
    found = stages.sheets(stage, held)
    for number, (sheet, of) in enumerate(zip(found, _whose(found, held), strict=True)):
        at = _steps(sheet.path)
        fields = tuple(_field(sheet, item, held) for item in sheet.items)
        path = places.written(held, at)
        made.append(
            Form(
                id=_named(sheet.path, number),
                path=path,
                title=sheet.title,
                fields=fields,
                take=path if sheet.take else "",
                of=of,
            )
        )
    return tuple(made)


_NAMES = ("id", "at", "walls")
"""Keys by which an entry of a list is called; its form's title says them."""


def _whose(found: Sequence[Sheet], held: Mapping[str, Any]) -> list[str]:
    """What each form is of: its title, and for entries that no name tells apart all that they say.

    The number of an entry is not enough: once one before it is taken out another entry has it.
    """
    titles = Counter(sheet.title for sheet in found)
    made = []
    for sheet in found:
        at = _steps(sheet.path)
        entry = places.value_at(held, at)
        listed = bool(at) and isinstance(at[-1], int)
        named = isinstance(entry, dict) and any(entry.get(key) for key in _NAMES)
        alike = listed and not (named and titles[sheet.title] == 1)
        listing = re.sub(r"\[\d+\]$", "", sheet.path)
        made.append(f"{listing} {_print_of(entry)}" if alike else sheet.title)
    alike_all = Counter(made)
    return [f"{of} of {alike_all[of]}" for of in made]


def _print_of(entry: object) -> str:
    said = json.dumps(entry, sort_keys=True, default=str)
    return hashlib.sha256(said.encode()).hexdigest()[:12]


def _named(path: str, number: int) -> str:
    """The form's id on the page; entries of the site go by their own numbers, since readings are added between them."""
    return re.sub(r"\W+", "-", path).strip("-") if path.startswith("site.") else f"form-{number}"


def _steps(path: str) -> Path:
    return (places.steps(path) or ()) if path else ()


def _field(sheet: Sheet, item: One | Many, held: Mapping[str, Any]) -> Field:
    steps = _steps(f"{sheet.path}.{item.key}" if sheet.path else item.key)
    path = places.written(held, steps)
    told = _property(sheet.model, item.key)
    value = places.value_at(held, steps)
    if isinstance(item, Many):
        helped = _more(str(told.get("description", "")), item.label)
        return replace(_many(item, path, value), help=helped)
    shape, choices = _shape(told)
    if item.unknown and choices:
        choices = tuple(UNKNOWN if c == "unknown" else c for c in choices)
        choices = choices if UNKNOWN in choices else (*choices, UNKNOWN)
    shown = text_of(value)
    if item.unknown and shown == "unknown":
        shown = UNKNOWN
    if shape == "yes or no":
        shown = _SAID.get(shown, shown)
    cell = Cell(f"f:{path}", item.label, shown, shape, choices, item.stock)
    helped = _helped(
        _more(str(told.get("description", "")), item.label), item.unknown and not choices
    )
    return Field(path, item.label, helped, cell=cell, needed=_needed(sheet, item), item=item)


def _helped(text: str, unknown: bool) -> str:
    return f'{text} Write "{UNKNOWN}" if nobody does.'.strip() if unknown else text


def _more(text: str, label: str) -> str:
    """What the schema says, if that says more than the label does."""
    more = set(re.findall(r"\w+", text.lower())) - set(re.findall(r"\w+", label.lower()))
    return text if len(more - {"the", "a", "its", "it", "of", "in", "is", "what"}) > 1 else ""


def _needed(sheet: Sheet, item: One | Many) -> bool:
    return "." not in item.key and item.key.split("[")[0] in _table(sheet.model).get("required", ())


def _many(item: Many, path: str, value: object) -> Field:
    rows = value if isinstance(value, list) else []
    if isinstance(value, str) and value in item.whole:
        rows = [value]
    if rows and all(not isinstance(row, list | dict) for row in rows) and len(item.columns) > 1:
        rows = [rows]
    made = [
        tuple(_cell(path, r, c, column, row) for c, column in enumerate(item.columns))
        for r, row in enumerate([*rows, *([None] * SPARE_ROWS)])
    ]
    return Field(
        path,
        item.label,
        "",
        rows=tuple(made),
        columns=tuple(column.label for column in item.columns),
        whole=item.whole,
        item=item,
    )


def _cell(path: str, r: int, c: int, column: Column, row: object) -> Cell:
    return Cell(
        f"r:{path}:{r}:{c}",
        f"{column.label}, row {r + 1}",
        text_of(_in_row(column, row)),
        "words" if column.words else "figure",
        names=column.stock,
    )


def _in_row(column: Column, row: object) -> object:
    if isinstance(row, list):
        return places.value_at(row, _steps(f"x{column.at}")[1:]) if column.at else None
    if isinstance(row, dict):
        return places.value_at(row, _steps(column.key)) if column.key else None
    return row if not column.at and not column.key else None


def text_of(value: object) -> str:
    """Return one value of the file as it is written in a field."""
    if value is None or isinstance(value, list | dict):
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e9:
        return f"{value:.1f}"
    return str(value)


@cache
def _schema() -> dict[str, Any]:
    return schema()


def _table(model: str) -> dict[str, Any]:
    whole = _schema()
    found: dict[str, Any] = whole if model == "JobFile" else whole["$defs"].get(model, {})
    return found


def _property(model: str, key: str) -> dict[str, Any]:
    """What the schema says of a key such as `core.of` or `along[0]`."""
    table = _table(model)
    told: dict[str, Any] = {}
    for step in key.split("."):
        name = step.split("[")[0]
        told = table.get("properties", {}).get(name, {})
        inner = _inner(told)
        table = _table(inner) if inner else {}
    if "[" in key:
        return {"description": told.get("description", ""), "anyOf": [{"type": "number"}]}
    return told


def _inner(told: Mapping[str, Any]) -> str:
    for option in (told, *told.get("anyOf", ())):
        if "$ref" in option:
            return str(option["$ref"]).rsplit("/", 1)[-1]
    return ""


def _shape(told: Mapping[str, Any]) -> tuple[Shape, tuple[str, ...]]:
    options = [o for o in (told, *told.get("anyOf", ())) if o.get("type") != "null"]
    for option in options:
        if "enum" in option:
            return "choice", tuple(map(str, option["enum"]))
        if option.get("format") == "date":
            return "date", ()
    kinds = {option.get("type") for option in options}
    if kinds == {"boolean"}:
        return "yes or no", tuple(_SAID.values())
    if "integer" in kinds:
        return "whole", ()
    return ("figure" if "number" in kinds else "words"), ()


@cache
def names(kind: str) -> tuple[str, ...]:
    """Return what the catalogue has of a kind, by name; none for no kind."""
    if kind not in stock.KINDS:
        return ()
    found = [row.name for row in stock.rows(kind)]
    if kind == "adhesive":
        return tuple(found)
    return tuple(dict.fromkeys(found))


def toml(text: str, shape: Shape, key: str = "") -> str:
    """Return what a field holds as a TOML value.

    Args:
        text: as typed, with something in it.
        shape: what the field is for.
        key: of the file; weights and temperatures stay text, since they say their unit.
    """
    text = text.strip()
    bare = key.rsplit(".", maxsplit=1)[-1] not in _NEVER_BARE
    if shape == "figure" and bare and _NUMBER.fullmatch(text):
        return text
    if shape == "whole" and _WHOLE.fullmatch(text):
        return text
    if shape == "date" and _day(text):
        return text
    if shape == "yes or no" and text in _SAID.values():
        return next(value for value, said in _SAID.items() if said == text)
    return quoted(text)


def _day(text: str) -> bool:
    try:
        return date.fromisoformat(text).isoformat() == text
    except ValueError:
        return False


def quoted(text: str) -> str:
    """Return a text as a TOML string on one line."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def edits(made: Sequence[Form], posted: Mapping[str, str], held: Mapping[str, Any]) -> list[Edit]:
    """Return the changes that a filled-in form asks for, against the file as the form showed it.

    Args:
        made: the forms of the page, of the file as shown.
        posted: what was sent, by name; what is not there was not on the form and stays.
        held: the file as it was shown.
    """
    found: list[Edit] = []
    fresh: dict[str, list[str]] = {}
    for field in (field for form in made for field in form.fields):
        if field.cell is not None and field.cell.name in posted:
            edit = _one(field, field.cell, posted[field.cell.name].strip())
            if edit is not None:
                found += _rooted(edit, held, fresh)
        elif field.rows and isinstance(field.item, Many):
            found += _rows(field, field.item, posted, held)
    for path, pairs in fresh.items():
        half = path.endswith(_PAIR)
        text = f"[{', '.join(pairs)}]" if half else "{ " + ", ".join(pairs) + " }"
        found.append(Edit(path.removesuffix(_PAIR), text))
    return found


def _one(field: Field, cell: Cell, text: str) -> Edit | None:
    if text == cell.value:
        return None
    if not text:
        return Edit(field.path, None)
    item = field.item
    if isinstance(item, One) and item.unknown and text == UNKNOWN:
        return Edit(field.path, quoted("unknown"))
    return Edit(field.path, toml(text, cell.shape, field.path))


def _rooted(edit: Edit, held: Mapping[str, Any], fresh: dict[str, list[str]]) -> list[Edit]:
    """Put an edit where it can stand: `known = "don't know"` becomes a table, a pair comes whole."""
    steps = places.resolve(held, _steps(edit.path))
    parent = places.value_at(held, steps[:-1])
    if isinstance(steps[-1], int) and not isinstance(parent, list):
        path = edit.path.rsplit("[", 1)[0]
        fresh_pair = fresh.setdefault(path + _PAIR, [])
        fresh_pair.append(edit.text or '""')
        if len(fresh_pair) == 2:
            del fresh[path + _PAIR]
            return [Edit(path, "[" + ", ".join(fresh_pair) + "]")]
        return []
    if parent is None or isinstance(parent, list | dict) or edit.text is None:
        if isinstance(steps[-1], int) and edit.text is None and isinstance(parent, list):
            return [Edit(edit.path.rsplit("[", 1)[0], None)]
        return [edit]
    path, _, key = edit.path.rpartition(".")
    fresh.setdefault(path, []).append(f"{key} = {edit.text}")
    return []


def _rows(
    field: Field, item: Many, posted: Mapping[str, str], held: Mapping[str, Any]
) -> Iterator[Edit]:
    """Changed rows one by one, emptied rows from the last up, new rows at the end."""
    names_ = [cell.name for row in field.rows for cell in row]
    if not any(name in posted for name in names_):
        return
    was = [tuple(cell.value for cell in row) for row in field.rows]
    now = [tuple(posted.get(cell.name, cell.value).strip() for cell in row) for row in field.rows]
    if was == now:
        return
    filled = [row for row in now if any(row)]
    if not filled:
        yield Edit(field.path, None)
        return
    if len(item.columns) == 1 and item.whole and filled[0][0] in item.whole:
        yield Edit(field.path, quoted(filled[0][0]))
        return
    value = places.value_at(held, places.resolve(held, _steps(field.path)))
    kept = value if isinstance(value, list) else []
    if len(kept) != len(was) - SPARE_ROWS:
        # a bare triple, or one word for the whole list: written anew as a list
        yield Edit(field.path, "[" + ", ".join(_row(item, row, None) for row in filled) + "]")
        return
    for r, (old, new) in enumerate(zip(was, now, strict=True)):
        if new != old and any(new) and r < len(kept):
            yield Edit(f"{field.path}[{r}]", _row(item, new, kept[r]))
    gone = [r for r in range(len(kept)) if not any(now[r])]
    yield from (Edit(f"{field.path}[{r}]", None) for r in reversed(gone))
    added = [row for row in now[len(kept) :] if any(row)]
    for k, row in enumerate(added):
        yield Edit(f"{field.path}[{len(kept) - len(gone) + k}]", _row(item, row, None))


def _row(item: Many, row: Sequence[str], held: object) -> str:
    """A row as TOML: one word, a list, or a table where columns are left out or the file has a table."""
    if len(item.columns) == 1 and not item.table:
        return toml(row[0], "words")
    values = [
        toml(text, "words" if column.words else "figure") if text else ""
        for column, text in zip(item.columns, row, strict=True)
    ]
    last = max(k for k, value in enumerate(values) if value) + 1
    gaps = any(not value for value in values[:last])
    keyed = all(column.key for column in item.columns)
    if item.table or isinstance(held, dict) or (gaps and keyed):
        return _table_row(item, values, held)
    return _list_row(item, values[:last])


def _list_row(item: Many, values: Sequence[str]) -> str:
    """Cells of a list, those of an inner list together; what is missing is an empty text, which the file refuses."""
    cells: list[str | list[str]] = []
    for column, value in zip(item.columns, values, strict=False):
        if column.at.count("[") == 1:
            cells.append(value or '""')
        elif column.at.endswith("[0]"):
            cells.append([value or '""'])
        else:
            inner = cells[-1]
            if isinstance(inner, list):
                inner.append(value or '""')
    return "[" + ", ".join(c if isinstance(c, str) else f"[{', '.join(c)}]" for c in cells) + "]"


def _table_row(item: Many, values: Sequence[str], held: object) -> str:
    pairs: dict[str, str] = {}
    inner: dict[str, list[str]] = {}
    for column, value in zip(item.columns, values, strict=True):
        if not value:
            continue
        if "[" in column.key:
            inner.setdefault(column.key.split("[")[0], []).append(value)
        else:
            pairs[column.key] = value
    pairs |= {key: "[" + ", ".join(found) + "]" for key, found in inner.items()}
    if isinstance(held, dict):
        shown = {column.key.split("[")[0] for column in item.columns}
        rest = {key: value for key, value in held.items() if key not in shown}
        pairs |= {key: again(value) for key, value in rest.items()}
    return "{ " + ", ".join(f"{key} = {value}" for key, value in pairs.items()) + " }"


def again(value: object) -> str:
    """A value of the file that the form does not show, as TOML."""
    if isinstance(value, list):
        return "[" + ", ".join(again(each) for each in value) + "]"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {again(each)}" for key, each in value.items()) + " }"
    if isinstance(value, bool):
        return "true" if value else "false"
    return quoted(value) if isinstance(value, str) else text_of(value)


def changed(made: Sequence[Form], posted: Mapping[str, str]) -> dict[str, str]:
    """Return what was typed over what the form showed, and what is no field of the file; the rest is as it was.

    Args:
        made: the forms of the page, of the file as shown.
        posted: what was sent, by name.
    """
    fields = (field for form in made for field in form.fields)
    cells = (
        cell
        for field in fields
        for cell in ([field.cell] if field.cell else [c for row in field.rows for c in row])
    )
    shown = {cell.name: cell.value for cell in cells}
    return {
        name: text
        for name, text in posted.items()
        if (text.strip() != shown[name] if name in shown else not name.startswith(("f:", "r:")))
    }


def stands(name: str, saved: Sequence[str], refused: Sequence[str]) -> bool:
    """Say whether an input, by its name in the form, is for a place that was saved where others were refused."""
    kind, _, path = name.partition(":")
    if kind == "f":
        return any(path == at or path.startswith((f"{at}.", f"{at}[")) for at in saved)
    if kind != "r":
        return False
    rows, row, _ = path.rsplit(":", 2)
    if any(at == rows or at.startswith(f"{rows}[") for at in refused):
        return f"{rows}[{row}]" in saved
    return any(at == rows or at.startswith(f"{rows}[") for at in saved)


def filled(made: Sequence[Form], posted: Mapping[str, str]) -> tuple[Form, ...]:
    """Return the forms with what was typed in place of what the file says; nothing typed is lost."""

    def cell(each: Cell) -> Cell:
        typed = posted.get(each.name, each.value)
        return each if typed == each.value else replace(each, value=typed, held=each.value)

    def field(each: Field) -> Field:
        return replace(
            each,
            cell=cell(each.cell) if each.cell else None,
            rows=tuple(tuple(cell(c) for c in row) for row in each.rows),
        )

    return tuple(replace(form, fields=tuple(field(f) for f in form.fields)) for form in made)


def told(
    made: Sequence[Form], findings: Sequence[Finding], stood: str = ""
) -> tuple[tuple[Form, ...], list[Finding]]:
    """Put each finding at its field, else at its form; return the forms and what belongs to neither.

    Args:
        made: the forms.
        findings: what is wrong, or asked about.
        stood: what is stood by already, a path on each line: all of it goes with the next that is stood by.
    """
    left: list[Finding] = []
    at_field: dict[str, list[Said]] = {}
    at_form: dict[str, list[Said]] = {}
    for found in findings:
        field = _nearest([path for form in made for path in form.paths], found.path)
        form = _nearest([form.path for form in made if form.path], found.path)
        if field:
            at_field.setdefault(field, []).append(said(found, stood))
        elif form:
            at_form.setdefault(form, []).append(said(found, stood))
        else:
            left.append(found)
    done: set[str] = set()

    def here(form: Form) -> Form:
        own = () if form.path in done else tuple(at_form.get(form.path, ()))
        done.add(form.path)
        fields = tuple(replace(f, said=tuple(at_field.get(f.path, ()))) for f in form.fields)
        return replace(form, fields=fields, said=own)

    return tuple(here(form) for form in made), left


def _nearest(paths: Sequence[str], path: str) -> str:
    """The longest of these paths that is the given one or holds it."""
    holds = [p for p in paths if path == p or (path.startswith(p) and path[len(p)] in ".[")]
    return max(holds, key=len, default="")


def said(found: Finding, stood: str = "") -> Said:
    """Return a finding as it is said beside a field."""
    stand = f"{stood}{found.path}" if found.level == "question" else ""
    return Said(found.wrong, found.right, stand)
