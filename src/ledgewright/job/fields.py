"""The kinds of figure a job file holds, as types that read themselves and say in our words what is wrong."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Annotated, Final, Literal, NoReturn, TypeGuard, TypeVar

from pydantic import BeforeValidator, Field, PlainValidator, ValidationInfo, WithJsonSchema
from pydantic_core import PydanticCustomError

from ledgewright import stock, units
from ledgewright.stock import Adhesive, Bar, Finish, Lumber, Panel, Screw, Timber
from ledgewright.units import BadFigure, Load, Unit

T = TypeVar("T")

LONGEST = 50_000.0
HEAVIEST = 5_000.0
MOST = 500
OURS: Final = "ours"
UNKNOWN = frozenset({"unknown", "don't know", "dont know", "do not know", "not known", "?"})


@dataclass(frozen=True)
class Reading:
    """What the types need to know of the file while they read: what a bare number means."""

    unit: Unit


def fault(code: str, wrong: str, right: str) -> NoReturn:
    """Raise an error that carries our own sentences through the modelling library."""
    raise PydanticCustomError(OURS, "{wrong}", {"code": code, "wrong": wrong, "right": right})


def is_unknown(value: object) -> bool:
    """Say whether a value is one of the ways to write "don't know"."""
    return isinstance(value, str) and value.strip().lower().replace("’", "'") in UNKNOWN


def _unit(info: ValidationInfo) -> Unit:
    return info.context.unit if isinstance(info.context, Reading) else "mm"


def _figure(value: object, read: Callable[[str | float], T], *, what: str, like: str) -> T:
    if isinstance(value, bool) or not isinstance(value, (str, int, float)):
        fault("figure", f"this is not {what}", f"write it like {like}")
    try:
        return read(value)
    except BadFigure as bad:
        fault("figure", bad.wrong, bad.right)


def _length(value: object, info: ValidationInfo) -> float:
    unit = _unit(info)
    like = '"12 3/8" or "48 mm"' if unit == "in" else '285, "285 mm" or "11 1/4 in"'
    mm = _figure(value, lambda given: units.read_length(given, unit), what="a length", like=like)
    if not math.isfinite(mm) or abs(mm) > LONGEST:
        fault("figure", "this length is longer than any wall (50 m)", f"write it like {like}")
    return mm


def _upward(value: object, info: ValidationInfo) -> float:
    mm = _length(value, info)
    if mm < 0:
        fault("negative", "this length is negative and cannot be", "write it without the minus")
    return mm


def _positive(value: object, info: ValidationInfo) -> float:
    mm = _upward(value, info)
    if mm < 1e-3:
        fault("negative", "this length is nothing at all", "write the length as measured")
    return mm


def _maybe(
    read: Callable[[object, ValidationInfo], float],
) -> Callable[[object, ValidationInfo], float | str]:
    def inner(value: object, info: ValidationInfo) -> float | str:
        return "unknown" if is_unknown(value) else read(value, info)

    return inner


def _mass(value: object) -> float:
    kg = _figure(value, units.read_mass, what="a weight", like='"34 lb" or "11 kg"')
    if not 0 < kg <= HEAVIEST:
        fault("figure", "this is no weight for a shelf", 'write it like "34 lb" or "11 kg"')
    return kg


def _load(value: object) -> Load:
    like = '"18 lb/ft2", "30 kg/m", "2.4 kPa" or "34 lb"'
    load = _figure(value, units.read_load, what="a load", like=like)
    if not 0 < load.value <= 1e5:
        fault("figure", "this is no load for a shelf", f"write it like {like}")
    return load


def _spread(value: object) -> Load:
    """A load that is spread; where the unit is left out, what is offered says per what."""
    bare = isinstance(value, int | float) and not isinstance(value, bool)
    if bare or (isinstance(value, str) and _BARE.fullmatch(value)):
        number = str(value).strip()
        fault(
            "figure",
            "a load that is spread says its unit, and per what",
            f'write "{number} lb/ft", "{number} lb/ft2", "{number} kg/m" or "{number} kg/m2"',
        )
    return _load(value)


_BARE = re.compile(r"\s*\d+(?:\.\d+)?\s*")


def _temperature(value: object, info: ValidationInfo) -> float:
    unit = _unit(info)
    like = '"66 F" or "14 C"'
    C = _figure(
        value, lambda given: units.read_temperature(given, unit), what="a temperature", like=like
    )
    if not -40 <= C <= 60:
        fault("figure", "nobody works at this temperature", f"write it like {like}")
    return C


def _time(value: object) -> float:
    return _figure(value, units.read_time, what="a length of time", like='"10 min" or "24 h"')


def _angle(value: object) -> float:
    rad = _figure(value, units.read_angle, what="an angle", like='"90.5 deg"')
    if not 0 < rad < 2 * math.pi or rad == math.pi:
        fault("corner", "this angle is no corner", 'measure between the two faces, like "90.5 deg"')
    return rad


def _named(kind: str, find: Callable[[str], T]) -> Callable[[object], T]:
    def inner(value: object) -> T:
        if not isinstance(value, str):
            fault(
                "stock",
                f"this is not the name of a {kind}",
                "write the name as `ledgewright stock` prints it, in quotes",
            )
        try:
            return find(value)
        except stock.NotStocked as none:
            fault("stock", f"no {kind} of that name is in the catalogue", none.right)

    return inner


_find_timber = _named("framing timber", stock.timber)


def _timber(value: object) -> Timber | str:
    return "unknown" if is_unknown(value) else _find_timber(value)


def _driven(name: str) -> Screw:
    found = stock.screw(name)
    if found.kind == "set screw":
        fault("stock", "a set screw holds no timber", "take a wood screw, a lag or a nail")
    return found


def _for_rods(value: object) -> Adhesive:
    """An adhesive; where there is none of that name, only those for rods are offered."""
    known = [row.name for row in stock.rows("adhesive")]
    if isinstance(value, str) and value not in known and not stock.same_words(value, known):
        rods = [row for row in stock.rows("adhesive") if isinstance(row, Adhesive)]
        names = ", ".join(f'"{row.name}"' for row in rods if row.use == "rods")
        fault("stock", "no adhesive of that name is in the catalogue", f"those for rods: {names}")
    return _named("adhesive", stock.adhesive)(value)


_BAD_ID = re.compile(r"""[\x00-\x1f\x7f"'.\[\]@#]""")


def _box_glue(name: str) -> Adhesive:
    found = stock.adhesive(name)
    if found.use != "box":
        fault(
            "stock",
            "this adhesive is not for gluing a box",
            "one of: " + ", ".join(f'"{r.name}"' for r in stock.gluing_rows() if r.spread),
        )
    return found


def _hours_a_day(value: object) -> float:
    like = "write it without quotes, like 7 or 7.5"
    if isinstance(value, bool) or not isinstance(value, int | float):
        fault("figure", "hours in a day are a number", like)
    if not 1 <= value <= 16:
        fault("range", "nobody works so many hours a day", "from 1 to 16")
    return float(value)


WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
LONGEST_OFF = 400


def _day_off(value: object) -> int | tuple[date, date]:
    """A weekday by its number, Monday 0, or a stretch of days."""
    right = 'write it like "Sunday", 2026-12-25 or [2026-12-24, 2027-01-01]'
    if isinstance(value, str):
        if value.strip().lower() not in WEEKDAYS:
            fault("date", "this is no day of the week", right)
        return WEEKDAYS.index(value.strip().lower())
    first, *rest = value if isinstance(value, list) and value else [value]
    last = rest[0] if rest else first
    if len(rest) > 1 or not _is_day(first) or not _is_day(last):
        fault("date", "this is no day off", right)
    if not 0 <= (last - first).days <= LONGEST_OFF:
        fault("date", "these days off end before they begin, or last over a year", right)
    return first, last


def _is_day(value: object) -> TypeGuard[date]:
    return isinstance(value, date) and not isinstance(value, datetime)


PLACEHOLDER: Final = "placeholder"
SOLD_BY = ("ft", "m", "sheet", "bf", "m3", "each", "400 ml", "qt", "gal", "l")


def _amount(value: object, what: str, like: str) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        fault("figure", f"{what} is a number", f"write it like {like}")
    if not 0 <= value <= 1e6:
        fault("range", f"{what} is from 0 to a million", f"write it like {like}")
    return float(value)


def _price(value: object) -> tuple[float, str, bool]:
    """A price, its unit, and whether it is still a placeholder."""
    like = '[4.20, "bf"]'
    if not isinstance(value, list) or not 2 <= len(value) <= 3:
        fault("shape", "a price is a figure and the unit it is for", f"write it like {like}")
    each = _amount(value[0], "a price", like)
    if value[1] not in SOLD_BY:
        units_known = ", ".join(f'"{unit}"' for unit in SOLD_BY)
        fault("choice", "nothing is sold by this unit", f"one of: {units_known}")
    return each, value[1], _marked(value[2:], like)


def _rate(value: object) -> tuple[float, bool]:
    """A charge, and whether it is still a placeholder."""
    if isinstance(value, list) and len(value) == 2:
        return _amount(value[0], "a charge", "34.00"), _marked(value[1:], "34.00")
    if isinstance(value, list) and len(value) == 1 and isinstance(value[0], int | float):
        fault(
            "shape", "a charge of your own stands without brackets", f"write it like {value[0]:.2f}"
        )
    return _amount(value, "a charge", "34.00"), False


def _marked(rest: list[object], like: str) -> bool:
    if rest and rest[0] != PLACEHOLDER:
        fault(
            "choice",
            "the last word of this line is not known",
            f'"{PLACEHOLDER}" or nothing, as in {like}',
        )
    return bool(rest)


def _id(value: object) -> str:
    if not isinstance(value, str) or not value.strip():
        fault("id", "an id is a short name in quotes", 'write it like "west"')
    if value != value.strip() or len(value) > 40 or _BAD_ID.search(value):
        fault(
            "id",
            "an id holds no dots, brackets, quotes or @, no space at its ends, and at most 40 letters",
            'write it like "west" or "door casing"',
        )
    return value


def _words(value: object) -> str:
    if not isinstance(value, str):
        fault("text", "words in quotes belong here", 'write it like "pottery showroom"')
    if len(value) > 600 or any((ord(c) < 32 and c not in "\n\t") or ord(c) == 127 for c in value):
        fault(
            "text",
            "this text is too long or holds control characters",
            "keep it under 600 plain letters",
        )
    return value


def _name(value: object) -> str:
    words = _words(value)
    if not words.strip():
        fault("text", "there is nothing in the quotes", "write a name")
    return words


def _unknown(value: object) -> object:
    return "unknown" if is_unknown(value) else value


def _tuple(value: object) -> object:
    if isinstance(value, list) and len(value) > MOST:
        # here and not by the model's own bound, which looks only after every entry has been read
        fault("shape", f"{len(value)} entries are more than a job holds", f"at most {MOST}")
    return tuple(value) if isinstance(value, list) else value


def _texts(schema: dict[str, object]) -> WithJsonSchema:
    return WithJsonSchema(schema)


_FIGURE: dict[str, object] = {"anyOf": [{"type": "number"}, {"type": "string"}]}
_TEXT: dict[str, object] = {"type": "string"}

Length = Annotated[float, PlainValidator(_upward), _texts(_FIGURE)]
Positive = Annotated[float, PlainValidator(_positive), _texts(_FIGURE)]
Signed = Annotated[float, PlainValidator(_length), _texts(_FIGURE)]
MaybeLength = Annotated[
    float | Literal["unknown"], PlainValidator(_maybe(_upward)), _texts(_FIGURE)
]
MaybeTemperature = Annotated[
    float | Literal["unknown"], PlainValidator(_maybe(_temperature)), _texts(_TEXT)
]
Mass = Annotated[float, PlainValidator(_mass), _texts(_TEXT)]
Burden = Annotated[Load, PlainValidator(_load), _texts(_TEXT)]
Hours = Annotated[float, PlainValidator(_time), _texts(_TEXT)]
Angle = Annotated[float, PlainValidator(_angle), _texts(_FIGURE)]
MaybeAngle = Annotated[
    float | Literal["unknown"],
    PlainValidator(_maybe(lambda value, _info: _angle(value))),
    _texts(_FIGURE),
]
Id = Annotated[str, PlainValidator(_id), _texts(_TEXT)]
Text = Annotated[str, PlainValidator(_words), _texts(_TEXT)]
Name = Annotated[str, PlainValidator(_name), _texts(_TEXT)]
BarName = Annotated[Bar, PlainValidator(_named("bar", stock.bar)), _texts(_TEXT)]
TimberName = Annotated[Timber | Literal["unknown"], PlainValidator(_timber), _texts(_TEXT)]
PanelName = Annotated[Panel, PlainValidator(_named("panel", stock.panel)), _texts(_TEXT)]
LumberName = Annotated[Lumber, PlainValidator(_named("timber", stock.lumber)), _texts(_TEXT)]
AdhesiveName = Annotated[
    Adhesive, PlainValidator(_named("adhesive", stock.adhesive)), _texts(_TEXT)
]
DrivenName = Annotated[Screw, PlainValidator(_named("screw or nail", _driven)), _texts(_TEXT)]
FinishName = Annotated[Finish, PlainValidator(_named("finish", stock.finish)), _texts(_TEXT)]
BoxGlue = Annotated[Adhesive, PlainValidator(_named("box glue", _box_glue)), _texts(_TEXT)]
RodAdhesive = Annotated[Adhesive, PlainValidator(_for_rods), _texts(_TEXT)]
Spread = Annotated[Load, PlainValidator(_spread), _texts(_TEXT)]
Temperature = Annotated[float, PlainValidator(_temperature), _texts(_TEXT)]
HoursADay = Annotated[float, PlainValidator(_hours_a_day), _texts({"type": "number"})]
DayOff = Annotated[
    int | tuple[date, date],
    PlainValidator(_day_off),
    _texts({"anyOf": [_TEXT, {"type": "array", "items": _TEXT, "minItems": 2, "maxItems": 2}]}),
]
PriceRow = Annotated[
    tuple[float, str, bool],
    PlainValidator(_price),
    _texts(
        {
            "type": "array",
            "prefixItems": [{"type": "number"}, {"enum": list(SOLD_BY)}, {"const": PLACEHOLDER}],
            "minItems": 2,
            "maxItems": 3,
        }
    ),
]
Rate = Annotated[
    tuple[float, bool],
    PlainValidator(_rate),
    _texts(
        {
            "anyOf": [
                {"type": "number"},
                {
                    "type": "array",
                    "prefixItems": [{"type": "number"}, {"const": PLACEHOLDER}],
                    "minItems": 2,
                    "maxItems": 2,
                },
            ]
        }
    ),
]
Unknown = BeforeValidator(_unknown)
AsTuple = BeforeValidator(_tuple)
Rows = Annotated[tuple[T, ...], AsTuple, Field(max_length=MOST)]
Pair = Annotated[tuple[Length, Length], AsTuple]
