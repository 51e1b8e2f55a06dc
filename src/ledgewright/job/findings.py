"""Collecting everything there is to say about a job file, each with its line, and in our own sentences."""

from __future__ import annotations

import contextlib
import difflib
import tomllib
from collections.abc import Callable, Iterable, Mapping
from copy import deepcopy
from dataclasses import replace
from functools import cached_property
from typing import Any, TypeVar

from pydantic import BaseModel, TypeAdapter, ValidationError

from ledgewright import units
from ledgewright.job import defaults, places
from ledgewright.job.fields import Reading, is_unknown
from ledgewright.job.model import Assumed, Finding, Level, OpenItem
from ledgewright.job.places import Path
from ledgewright.job.stand_ins import StandIn, stand_ins
from ledgewright.units import Unit

M = TypeVar("M", bound=BaseModel)

_KEYS: dict[str, str] = {"start": "from", "end": "to", "driven": "with", "tool": "with"}
_TAGS = ("even", "strip", "thing", "accident")
_LONGEST_SHOWN = 80
MOST_FINDINGS = 200


class Ear:
    """What is heard while one file is read; lives no longer than that reading.

    behind: whether what stands behind values that do not read is looked for too.
    """

    def __init__(
        self, *, file: str, text: str, document: Mapping[str, object], behind: bool = True
    ) -> None:
        self.file = file
        self.document = document
        self.unit: Unit = "mm"
        self.findings: list[Finding] = []
        self.refused: set[Path] = set()
        self.stand_ins: list[StandIn] = []
        self.behind = behind
        self.told: dict[tuple[str, Path], Finding] = {}
        self.assumed: list[Assumed] = []
        self.open_items: list[OpenItem] = []
        self.sure: frozenset[Path] = frozenset()
        self._text = text

    @property
    def stops(self) -> bool:
        """Whether something was refused or a question stands unanswered."""
        return any(found.level != "note" for found in self.findings)

    @property
    def full(self) -> bool:
        """Whether so much is wrong that the rest can wait."""
        return len(self.findings) >= MOST_FINDINGS

    @cached_property
    def _lines(self) -> dict[Path, int]:
        return places.lines(self._text)

    def again(self) -> Ear:
        """Return one for the same file that has heard nothing yet, and does not look behind anything."""
        return Ear(file=self.file, text=self._text, document=self.document, behind=False)

    def length(self, mm: float) -> str:
        """Return a length in the job's unit, with its mark."""
        return units.show_length(mm, self.unit, to=64, mark=True)

    def figure(self, mm: float) -> str:
        """Return a length in the job's unit, without a mark, as places are written."""
        return units.show_length(mm, self.unit, to=64)

    def toml(self, mm: float) -> str:
        """Return a length as it would stand behind the = of this file."""
        text = self.figure(mm)
        return f'"{text}"' if "/" in text else text

    def path(self, path: Path) -> str:
        """Return a path as people write it."""
        return places.written(self.document, path)

    def line(self, path: Path) -> int | None:
        """Return the line of a path, or of the table it should stand in."""
        for size in range(len(path), 0, -1):
            if path[:size] in self._lines:
                return self._lines[path[:size]]
        return None

    def say(self, level: Level, code: str, path: Path, wrong: str, right: str) -> None:
        """Keep one finding; of one place one thing of a kind is said once."""
        if (code, path) in self.told or self.full:
            return
        value = places.value_at(self.document, path) if path else None
        found = Finding(
            code=code,
            level=level,
            file=self.file,
            line=self.line(path),
            path=self.path(path),
            value=shown(value),
            wrong=wrong,
            right=right,
        )
        self.told[(code, path)] = found
        self.findings.append(found)

    def refuse(self, code: str, path: Path, wrong: str, right: str) -> None:
        """Say that something cannot be as it stands."""
        self.refused.add(path)
        self.say("refuse", code, path, wrong, right)

    def ask(self, path: Path, wrong: str) -> None:
        """Say that a figure looks odd, unless someone stands by it."""
        if path not in self.sure:
            right = f'mend it, or add "{self.path(path)}" to sure under [job] if it is meant'
            self.say("question", "odd", path, wrong, right)

    def note(self, code: str, path: Path, wrong: str, right: str) -> None:
        """Say something that stops nothing."""
        self.say("note", code, path, wrong, right)

    def open(self, path: Path, costs: str) -> None:
        """List something nobody knows yet, with what that costs."""
        item = OpenItem(path=self.path(path), costs=costs)
        if item not in self.open_items:
            self.open_items.append(item)

    def took(self, path: Path, value: str, why: str, source: str) -> None:
        """List a value that had to be taken."""
        self.assumed.append(Assumed(path=self.path(path), value=value, why=why, source=source))

    def default(self, key: str, path: Path) -> float:
        """Take a number from the table of defaults and list it.

        Args:
            key: path of the default in the table.
            path: where the value is missing.
        """
        row = defaults.find(key)
        self.took(path, row.text(self.unit), row.why, row.source)
        return row.number

    def default_text(self, key: str, path: Path) -> str:
        """Take a word from the table of defaults and list it."""
        row = defaults.find(key)
        self.took(path, row.text(self.unit), row.why, row.source)
        return row.word


def placed(text: str, file: str, path: str, *, code: str, wrong: str, right: str) -> Finding:
    """Return a refusal about a job that was read but cannot be worked through, with the line of its path.

    Args:
        text: the job file, as it was read.
        file: its name.
        path: as people write it.
        code: kind of finding.
        wrong: what is wrong.
        right: what would be right.
    """
    body = text.removeprefix("\ufeff")
    ear = Ear(file=file, text=body, document=tomllib.loads(body))
    steps = places.steps(path)
    ear.refuse(code, places.resolve(ear.document, steps) if steps else (), wrong, right)
    return ear.findings[0]


def read_as(ear: Ear, model: type[M], value: object, path: Path) -> M | None:
    """Return a table of the file as its model; None with findings if it is not one.

    A key it does not know is told and passed over, so that the rest is still judged.
    """
    return _read(ear, model.model_validate, value, path, model)


def read_union(ear: Ear, adapter: TypeAdapter[M], value: object, path: Path) -> M | None:
    """Return a table that is one of several kinds, as `read_as` does."""
    return _read(ear, adapter.validate_python, value, path, None)


def _read(
    ear: Ear,
    validate: Callable[..., M],
    value: object,
    path: Path,
    model: type[BaseModel] | None,
) -> M | None:
    try:
        return validate(value, context=Reading(ear.unit))
    except ValidationError as wrong:
        errors = [dict(error) for error in wrong.errors(include_url=False)]
    if ear.behind:
        _stand_in(ear, validate, value, path, model)
    errors = _without_counts(errors)
    misspelt = _misspelt(errors)
    for error in errors[:MOST_FINDINGS]:
        if error["type"] == "missing" and error["loc"] in misspelt:
            continue
        _one(ear, error, path, model)
    if any(error["type"] != "extra_forbidden" for error in errors):
        return None
    known = _without(value, [_steps(error, model) for error in errors])
    with contextlib.suppress(ValidationError):
        return validate(known, context=Reading(ear.unit))
    return None


def _stand_in(
    ear: Ear,
    validate: Callable[..., M],
    value: object,
    path: Path,
    model: type[BaseModel] | None,
) -> None:
    """Keep what would make a table read, for what stands behind it."""

    def errors(table: object) -> list[dict[str, Any]]:
        try:
            validate(table, context=Reading(ear.unit))
        except ValidationError as wrong:
            told = [dict(error) for error in wrong.errors(include_url=False)]
            return [{**error, "loc": _steps(error, model)} for error in told]
        return []

    for each in stand_ins(errors, value) or ():
        ear.stand_ins.append(replace(each, path=(*path, *each.path)))


def _without_counts(errors: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Leave out that a list is too short where entries of it are wrong: those are not counted, and are told."""
    places_wrong = [error["loc"] for error in errors]
    return [
        error
        for error in errors
        if error["type"] != "too_short"
        or not any(
            len(at) > len(error["loc"]) and at[: len(error["loc"])] == error["loc"]
            for at in places_wrong
        )
    ]


def _misspelt(errors: list[dict[str, Any]]) -> set[Path]:
    """Return the places of missing keys that stand beside an unknown key much like them."""
    missing = [error["loc"] for error in errors if error["type"] == "missing"]
    found: set[Path] = set()
    for error in errors:
        if error["type"] == "extra_forbidden":
            *table, key = error["loc"]
            beside = {str(loc[-1]): loc for loc in missing if list(loc[:-1]) == table}
            near = nearest(str(key), beside)
            if near:
                found.add(beside[near])
    return found


def _without(value: object, keys: Iterable[Path]) -> object:
    """Return a value without the keys at these places."""
    made = deepcopy(value)
    for place in keys:
        table = places.value_at(made, place[:-1])
        if isinstance(table, dict):
            table.pop(place[-1], None)
    return made


def nearest(name: str, known: Iterable[str]) -> str | None:
    """Return the known name most like this one, or None if none is near."""
    folded = {each.casefold(): each for each in known}
    close = difflib.get_close_matches(name[:60].casefold(), folded, n=1, cutoff=0.55)
    return folded[close[0]] if close else None


def shown(value: object) -> str:
    """Return a value as it was written, cut short where it is long."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int) and abs(value) > 10**30:
        return "a huge number"
    if isinstance(value, Mapping):
        text = "{ " + ", ".join(str(key) for key in list(value)[:6]) + " }"
    elif isinstance(value, list):
        text = "[" + ", ".join(shown(item) for item in value[:8]) + "]"
    else:
        text = str(value)
    text = "".join(c if c.isprintable() else " " for c in text[: 2 * _LONGEST_SHOWN])
    return text if len(text) <= _LONGEST_SHOWN else text[: _LONGEST_SHOWN - 3] + "..."


def _steps(error: Mapping[str, Any], model: type[BaseModel] | None) -> Path:
    steps: Path = tuple(step for step in error["loc"] if step != "[key]")
    return steps[1:] if model is None and steps and steps[0] in _TAGS else steps


def _one(ear: Ear, error: Mapping[str, Any], path: Path, model: type[BaseModel] | None) -> None:
    steps = _steps(error, model)
    kind, context = str(error["type"]), dict(error.get("ctx", {}))
    written = (_KEYS.get(s, s) if isinstance(s, str) else s for s in steps)
    named = (*path, *steps)
    as_named = places.reach(ear.document, named) == named
    whole = _trim(ear.document, named if as_named else (*path, *written), kind)
    if kind == "ours":
        ear.refuse(context["code"], whole, context["wrong"], context["right"])
        return
    code, sentence, right = _sentence(kind, context, whole)
    if code in ("shape", "date") and is_unknown(places.value_at(ear.document, whole)):
        sentence, right = _not_known(steps, model)
    if kind == "extra_forbidden":
        right = _known_keys(ear, whole, str(steps[-1]), model, steps)
    ear.refuse(code, whole, sentence, right)


_FIND_OUT = {
    "studs": "find both edges of each stud behind the shelf and write them, like [[14, 15.5]]: a rod stands in a "
    "stud, so none can be placed before",
}


def _not_known(steps: Path, model: type[BaseModel] | None) -> tuple[str, str]:
    """What to do where "don't know" was written for what has no such answer."""
    key = str(steps[-1]) if steps else ""
    table = _model_at(model, steps[:-1]) if model else None
    field = table.model_fields.get(key) if table else None
    right = (
        "find it out and write it; docs/job-file.md says how"
        if field is None or field.is_required()
        else "leave it out: what is taken instead is listed as assumed or open"
    )
    return f'{key or "this"} cannot be "don\'t know"', _FIND_OUT.get(key, right)


def _trim(document: object, path: Path, kind: str) -> Path:
    """Cut a path back to what the file holds; a missing key keeps its own name."""
    held = places.reach(document, path)
    return path[: len(held) + 1] if kind == "missing" else held or path[:1]


def _known_keys(ear: Ear, path: Path, key: str, model: type[BaseModel] | None, steps: Path) -> str:
    table = _model_at(model, steps[:-1]) if model else _load_model(ear, path)
    keys = [field.alias or name for name, field in table.model_fields.items()] if table else []
    near = nearest(key, keys)
    return f'did you mean "{near}"?' if near else "known here: " + ", ".join(keys)


def _load_model(ear: Ear, path: Path) -> type[BaseModel] | None:
    from ledgewright.job import schema

    kind = places.value_at(ear.document, (*path[:-1], "kind"))
    tables: dict[object, type[BaseModel]] = {
        "even": schema.EvenTable,
        "strip": schema.StripTable,
        "thing": schema.ThingTable,
        "accident": schema.AccidentTable,
    }
    return tables.get(kind) if isinstance(kind, str) else None


def _model_at(model: type[BaseModel], steps: Path) -> type[BaseModel] | None:
    here: type[BaseModel] | None = model
    for step in steps:
        if isinstance(step, str) and here is not None:
            field = here.model_fields.get(step) or next(
                (f for f in here.model_fields.values() if f.alias == step), None
            )
            here = _inner(field.annotation) if field else None
    return here


def _inner(annotation: object) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for part in getattr(annotation, "__args__", ()):
        found = _inner(part)
        if found is not None:
            return found
    return None


def _sentence(kind: str, context: dict[str, Any], path: Path) -> tuple[str, str, str]:
    name = str(path[-1]) if path else "the file"
    match kind:
        case "missing":
            return (
                "missing",
                f"{_nth(path)} is missing",
                "write it; docs/job-file.md says what belongs there",
            )
        case "extra_forbidden":
            return "unknown key", f'there is no key "{name}" here', ""
        case "literal_error":
            return "choice", "this is not one of the choices", f"one of: {_choices(context)}"
        case "union_tag_invalid":
            return "choice", "there is no such kind of load", "one of: even, strip, thing, accident"
        case "union_tag_not_found":
            return "missing", "kind is missing", "one of: even, strip, thing, accident"
        case "model_type" | "model_attributes_type" | "dict_type":
            return (
                "shape",
                "a table belongs here",
                "write [name] above its keys, or { key = value }",
            )
        case "tuple_type" | "list_type":
            return "shape", "a list belongs here", "write [ ... ], or [[name]] above each table"
        case "too_short" | "too_long":
            return "shape", _count(context), "docs/job-file.md says how many belong there"
        case "int_type" | "int_from_float" | "int_parsing_size":
            return "figure", "a whole number belongs here", "write it without quotes, like 2"
        case "float_type" | "finite_number":
            return "figure", "a number belongs here", "write it without quotes, like 4.10"
        case "greater_than_equal" | "less_than_equal":
            return "range", _bound(context), "write a number within it"
        case "date_type" | "date_from_datetime_inexact" | "date_from_datetime_parsing":
            return "date", "a date belongs here", "write it without quotes, like 2026-11-12"
        case _:
            return "shape", "this does not belong here", "docs/job-file.md says what does"


def _nth(path: Path) -> str:
    last = path[-1] if path else "it"
    return last if isinstance(last, str) else f"entry {last + 1} of the list"


def _choices(context: dict[str, Any]) -> str:
    return str(context.get("expected", "")).replace("'", '"')


def _count(context: dict[str, Any]) -> str:
    least, most = context.get("min_length"), context.get("max_length")
    wanted = f"at least {least}" if least is not None else f"at most {most}"
    got = context.get("actual_length")
    return f"{wanted} belong here" + (f", not {got}" if got is not None else "")


def _bound(context: dict[str, Any]) -> str:
    return f"at least {context['ge']}" if "ge" in context else f"at most {context.get('le')}"
