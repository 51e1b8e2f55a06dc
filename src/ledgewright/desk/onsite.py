"""The forms of the day on site that are not in the file yet: a rod nobody has read, the next step of a load test.

What is in the file already goes through the forms of `stages`. Names of inputs here go by the rod's place and the
shelf, never by a number, so that what is typed for one rod stays while another is saved.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from ledgewright.desk import forms
from ledgewright.desk.forms import Cell, Field, Form, Said
from ledgewright.desk.stages import STEP, Column, Many, tables
from ledgewright.job import Edit, Finding

Answer = Mapping[str, Any]
READ = (
    ("wall[0]", "Side, at the wall"),
    ("wall[1]", "Height, at the wall"),
    ("tip[0]", "Side, at the tip"),
    ("tip[1]", "Height, at the tip"),
    ("out", "Stick-out"),
)
"""What is read of a rod, in the order it is read in."""
BONDED = (
    ("bonded.stock", "Steel bar", "bar"),
    ("bonded.length", "Cut length", ""),
    ("bonded.embedment", "Depth in the wood", ""),
    ("bonded.hole", "Hole", ""),
    ("bonded.adhesive", "Adhesive", "adhesive"),
)
"""What of a rod is in the wall: key, label, kind of the catalogue it is named from."""
_SPARE = 2


@dataclass(frozen=True)
class Reading:
    """One rod on the page: its form, its mark; of each figure what was drawn, is allowed, and how far it is off.

    bonded: what the job says now that it is bonded as, in the order of `BONDED`; empty while that is not known.
    """

    form: Form
    mark: str
    add: str
    drawn: tuple[str, ...] = ()
    allowed: tuple[str, ...] = ()
    off: tuple[str, ...] = ()
    bad: tuple[bool, ...] = ()
    bonded: tuple[str, ...] = ()
    ok: bool | None = None


def readings(
    held: Mapping[str, Any], made: Sequence[Form], sketch: Answer | None
) -> tuple[Reading, ...]:
    """Return every rod that is read or may be read, those of the drawing first and in its order.

    Args:
        held: the job file as a document.
        made: the forms of what it has already.
        sketch: the drawings' answer with the rods of walls that may be drilled; None while it is worked out.
    """
    known = {form.path: form for form in made if form.path.startswith("site.rod")}
    found: list[Reading] = []
    rows = [row for section in (sketch or {}).get("rods", ()) for row in section["rows"]]
    for row in rows:
        form = known.pop(row["path"], None)
        told = {k: tuple(row[k]) for k in ("drawn", "allowed", "off", "bad", "bonded")}
        fresh = form or _unread(row["place"], row["bonded"])
        add = "" if form else f"reading {row['place']}"
        found.append(Reading(fresh, row["mark"], add, **told, ok=row["ok"]))
    listed = tables(held.get("site", {}), "rod") if isinstance(held.get("site"), dict) else []
    for form in known.values():
        number = next((k for k, f in enumerate(made) if f is form), 0)
        at = listed[number].get("at") if number < len(listed) else ""
        found.append(Reading(form, str(at or "?"), ""))
    return tuple(found)


def _unread(place: str, bonded: Sequence[str]) -> Form:
    """The form of a rod that nobody has read: what was bonded is filled in as the job says it now."""
    fields = (
        *(
            Field("", label, "", cell=Cell(f"n:{place}:{key}", f"{label}, {place}", ""))
            for key, label in READ
        ),
        *(
            Field("", label, "", cell=_in_wall(place, key, label, kind, value))
            for (key, label, kind), value in zip(BONDED, bonded, strict=True)
        ),
    )
    return Form(id=f"reading-{_word(place)}", path="", title=place, fields=fields, of=place)


def _in_wall(place: str, key: str, label: str, kind: str, value: str) -> Cell:
    shape: forms.Shape = "words" if kind else "figure"
    return Cell(f"n:{place}:{key}", f"{label}, {place}", value, shape, names=kind)


def _word(text: str) -> str:
    return "".join(c if c.isalnum() else "-" for c in text)


@dataclass(frozen=True)
class NextStep:
    """The form of the next step of a shelf's load test, and the number of that step."""

    form: Form
    shelf: str
    number: int
    add: str


def next_steps(held: Mapping[str, Any], sited: Answer | None) -> tuple[NextStep, ...]:
    """Return a form for the next step of each shelf's load test.

    Args:
        held: the job file as a document.
        sited: what site's answer says of the tests; None while it is worked out, then places are left blank.
    """
    table = held.get("site")
    done = tables(table, "test") if isinstance(table, dict) else []
    shelves = [str(each.get("id")) for each in tables(held, "shelf")]
    proposed = (sited or {}).get("steps", {})
    found = []
    for shelf in shelves:
        mine = [
            t for t in done if t.get("shelf") == shelf or (not t.get("shelf") and len(shelves) == 1)
        ]
        plan = proposed.get(shelf) or []
        fill = plan[len(mine)] if len(mine) < len(plan) else _again(mine)
        found.append(NextStep(_step(shelf, fill, mine), shelf, len(mine) + 1, f"step {shelf}"))
    return tuple(found)


def _again(done: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    """The last step's weights and places once more, where no test is proposed."""
    if not done:
        return {"put": [], "wait": "", "places": []}
    last = done[-1]
    rows = [[forms.text_of(v) for v in row] for row in last.get("put", ()) if isinstance(row, list)]
    places = [
        forms.text_of(row[0]) for row in last.get("read", ()) if isinstance(row, list) and row
    ]
    return {"put": rows, "wait": "", "places": places}


def _step(shelf: str, fill: Mapping[str, Any], done: Sequence[Mapping[str, Any]]) -> Form:
    tool = str(done[-1].get("with", "")) if done else "gauge"
    fields = []
    for item in STEP:
        name = f"n:step {shelf}:{item.key}"
        if isinstance(item, Many):
            given = fill["put"] if item.key == "put" else [[place, ""] for place in fill["places"]]
            fields.append(_rows(name, item, given))
        elif item.key != "shelf":
            value = {"wait": str(fill["wait"]), "with": tool}.get(item.key, "")
            choices = ("rule", "gauge") if item.key == "with" else ()
            cell = Cell(name, item.label, value, "choice" if choices else "words", choices)
            fields.append(Field("", item.label, "", cell=cell, needed=item.key == "wait"))
    title = f"Step {len(done) + 1}"
    return Form(
        id=f"step-{_word(shelf)}", path="", title=title, fields=tuple(fields), of=f"{shelf} {title}"
    )


def _rows(name: str, item: Many, given: Sequence[Sequence[str]]) -> Field:
    blank = [""] * len(item.columns)
    rows = tuple(
        tuple(
            Cell(f"{name}:{r}:{c}", f"{column.label}, row {r + 1}", value, _shape(column))
            for c, (column, value) in enumerate(zip(item.columns, row, strict=True))
        )
        for r, row in enumerate([*given, *([blank] * _SPARE)])
    )
    columns = tuple(column.label for column in item.columns)
    return Field("", item.label, "", rows=rows, columns=columns, item=item)


def _shape(column: Column) -> forms.Shape:
    return "words" if column.words else "figure"


def added(posted: Mapping[str, str], held: Mapping[str, Any]) -> Edit | None:
    """Return the change that writes a reading or a step; None if the post is neither.

    What was left empty is left out, and told when the file is read.

    Args:
        posted: what was sent.
        held: the job file as a document.
    """
    kind, _, name = posted.get("add", "").partition(" ")
    table = held.get("site")
    there = table if isinstance(table, dict) else {}
    if kind == "reading":
        return Edit(f"site.rod[{len(tables(there, 'rod'))}]", _reading(name, posted))
    if kind == "step":
        shelves = [str(each.get("id")) for each in tables(held, "shelf")]
        text = _step_text(name, posted, named=len(shelves) > 1)
        return Edit(f"site.test[{len(tables(there, 'test'))}]", text)
    return None


def _reading(place: str, posted: Mapping[str, str]) -> str:
    given = {key: posted.get(f"n:{place}:{key}", "").strip() for key, _ in READ}
    pairs = [f"at = {forms.quoted(place)}"]
    for key in ("wall", "tip"):
        both = [given[f"{key}[{k}]"] for k in (0, 1)]
        if any(both):
            pairs.append(f"{key} = [{', '.join(forms.toml(x, 'figure') for x in both)}]")
    if given["out"]:
        pairs.append(f"out = {forms.toml(given['out'], 'figure')}")
    held = _bonded(place, posted)
    if held:
        pairs.append(f"bonded = {{ {', '.join(held)} }}")
    return "{ " + ", ".join(pairs) + " }"


def _bonded(place: str, posted: Mapping[str, str]) -> list[str]:
    """What is in the wall, as it was confirmed; a key that was left empty is left out, and asked for."""
    found = []
    for key, _, kind in BONDED:
        text = posted.get(f"n:{place}:{key}", "").strip()
        value = forms.quoted(text) if kind else forms.toml(text, "figure") if text else ""
        if text:
            found.append(f"{key.removeprefix('bonded.')} = {value}")
    return found


def _step_text(shelf: str, posted: Mapping[str, str], *, named: bool) -> str:
    pairs = [f"shelf = {forms.quoted(shelf)}"] if named else []
    for item in STEP:
        name = f"n:step {shelf}:{item.key}"
        if isinstance(item, Many):
            rows = [row for row in _sent(name, item, posted) if any(row)]
            # a place that was not read is no reading; weights are all that stands there
            rows = [row for row in rows if item.key == "put" or row[1]]
            pairs.append(f"{item.key} = [{', '.join(_row(item, row) for row in rows)}]")
        elif item.key != "shelf" and posted.get(name, "").strip():
            pairs.append(f"{item.key} = {forms.quoted(posted[name].strip())}")
    return "{ " + ", ".join(pairs) + " }"


def _sent(name: str, item: Many, posted: Mapping[str, str]) -> Iterator[list[str]]:
    r = 0
    while f"{name}:{r}:0" in posted:
        yield [posted.get(f"{name}:{r}:{c}", "").strip() for c in range(len(item.columns))]
        r += 1


def _row(item: Many, row: Sequence[str]) -> str:
    cells = (
        forms.toml(text, _shape(column)) for column, text in zip(item.columns, row, strict=True)
    )
    return f"[{', '.join(cells)}]"


def told(form: Form, findings: Sequence[Finding]) -> tuple[Form, list[Finding]]:
    """Put what is wrong with an entry that was not taken at the fields of its form; return it and what is left.

    Args:
        form: of a reading or a step.
        findings: of the file with that entry in it.
    """
    said: dict[int, list[Said]] = {}
    left = []
    for found in findings:
        key = found.path.partition("]")[2].lstrip(".")
        at = next((k for k, f in enumerate(form.fields) if _is(f, key)), None)
        if found.path.startswith("site.") and at is not None and key:
            said.setdefault(at, []).append(forms.said(found))
        else:
            left.append(found)
    fields = tuple(
        replace(field, said=(*field.said, *said.get(k, ()))) for k, field in enumerate(form.fields)
    )
    return replace(form, fields=fields), left


def _is(field: Field, key: str) -> bool:
    """Whether a field writes a key of the entry, such as `wall[0]` or `put[2][1]`, or a part of it."""
    own = field.item.key if field.item else field.cell.name.rpartition(":")[2] if field.cell else ""
    return key == own or own.startswith((f"{key}[", f"{key}.")) or key.startswith(f"{own}[")
