"""What can be added to a job with one small form each: walls, corners, obstacles, loads, rods that differ, shelves."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from ledgewright.desk.forms import Cell, again, quoted, toml
from ledgewright.desk.stages import called, tables
from ledgewright.job import Edit


@dataclass(frozen=True)
class Adder:
    """A small form: what it adds, where it stands, what it asks for."""

    kind: str
    stage: str
    title: str
    cells: tuple[Cell, ...]
    shelf: int = 0


def _cell(name: str, label: str, *, words: bool = False, choices: tuple[str, ...] = ()) -> Cell:
    shape: Any = "choice" if choices else "words" if words else "figure"
    return Cell(f"a:{name}", label, "", shape, choices)


_WALL = (
    _cell("id", "What you call it", words=True),
    _cell("tape_from", "The tape is hooked at the", choices=("left", "right")),
    _cell("length", "Length of the whole wall"),
)
_CORNER = (
    _cell("walls[0]", "The left wall", words=True),
    _cell("walls[1]", "The right wall", words=True),
    _cell("taped[0]", "Along the left wall"),
    _cell("taped[1]", "Along the right wall"),
    _cell("taped[2]", "Straight across"),
)
_OBSTACLE = (
    _cell("id", "What it is", words=True),
    _cell("wall", "On the wall", words=True),
    _cell("along[0]", "First edge along the wall"),
    _cell("along[1]", "Second edge"),
    _cell("out[0]", "Stands out from"),
    _cell("out[1]", "Stands out to"),
    _cell("up[0]", "Bottom above the datum"),
    _cell("up[1]", "Top above the datum"),
)
_WEIGHT = (
    _cell("id", "What it is", words=True),
    _cell("weight", "Weight, like 18 lb/ft or 30 kg/m"),
)
_STRIP = (
    *_WEIGHT,
    _cell("wall", "On the leg of wall", words=True),
    _cell("from", "From"),
    _cell("to", "To"),
)
_THING = (
    _cell("id", "What it is", words=True),
    _cell("weight", "Weight, like 34 lb or 15 kg"),
    _cell("at", "Its middle stands at, like west 30", words=True),
    _cell("out", "Its middle is from the wall"),
    _cell("size[0]", "Size along the wall"),
    _cell("size[1]", "Size out from the wall"),
)
_ACCIDENT = (_cell("force", "How hard, like 135 lb or 600 N", words=True),)
_ROD = (
    _cell("at", "It stands at, like west 22 1/2", words=True),
    _cell("projection", "Stick-out"),
    _cell("embedment", "Depth in stud"),
)
_SHELF = (
    _cell("id", "What you call it", words=True),
    _cell("top", "Its top above the datum"),
)
_WORDS = frozenset({"id", "wall", "walls", "tape_from", "at", "weight", "force"})


def adders(stage: str, held: Mapping[str, Any]) -> tuple[Adder, ...]:
    """Return what can be added on a page.

    Args:
        stage: name of the page.
        held: the job file as a document.
    """
    shelves = tables(held, "shelf")
    match stage:
        case "walls":
            return (Adder("wall", stage, "Add a wall, to the right of the last", _WALL),)
        case "corners":
            return (
                Adder("corner", stage, "Add a corner", _CORNER),
                Adder("obstacle", stage, "Add an obstacle", _OBSTACLE),
            )
        case "shelf":
            return (Adder("shelf", stage, "Add a shelf made like the last one", _SHELF),)
        case "rods":
            return tuple(
                Adder("rod", stage, f"Shelf {called(s, i)}: add a rod that differs", _ROD, i)
                for i, s in enumerate(shelves)
                if "rods" in s
            )
        case "loads":
            return tuple(each for i, s in enumerate(shelves) for each in _loads(called(s, i), i))
        case _:
            return ()


def _loads(name: str, shelf: int) -> tuple[Adder, ...]:
    return (
        Adder("even", "loads", f"Shelf {name}: add a load spread evenly", _WEIGHT, shelf),
        Adder("strip", "loads", f"Shelf {name}: add a load on part of a leg", _STRIP, shelf),
        Adder("thing", "loads", f"Shelf {name}: add one heavy thing", _THING, shelf),
        Adder("accident", "loads", f"Shelf {name}: say how hard someone leans", _ACCIDENT, shelf),
    )


def added(adder: Adder, posted: Mapping[str, str], held: Mapping[str, Any]) -> Edit:
    """Return the change that adds what was filled in; what was left empty is left out, and told when the file is read.

    Args:
        adder: which form.
        posted: what was sent.
        held: the job file as a document.
    """
    pairs = _pairs(adder, posted)
    if adder.kind in ("wall", "corner", "obstacle"):
        return Edit(f"{adder.kind}[{len(tables(held, adder.kind))}]", _table(pairs))
    shelves = tables(held, "shelf")
    if adder.kind == "shelf":
        return Edit(f"shelf[{len(shelves)}]", _table(_like(shelves[-1]) | pairs))
    key = "rod" if adder.kind == "rod" else "load"
    if key == "load":
        pairs = {"kind": quoted(adder.kind)} | pairs
    path = f"shelf[{adder.shelf}].{key}"
    return Edit(f"{path}[{len(tables(shelves[adder.shelf], key))}]", _table(pairs))


def _pairs(adder: Adder, posted: Mapping[str, str]) -> dict[str, str]:
    made: dict[str, list[str]] = {}
    for cell in adder.cells:
        text = posted.get(cell.name, "").strip()
        key = cell.name.removeprefix("a:").split("[")[0]
        if text:
            value = toml(text, "words" if key in _WORDS else "figure", key)
            made.setdefault(key, []).append(value)
    return {
        key: f"[{', '.join(values)}]"
        if f"a:{key}[0]" in {c.name for c in adder.cells}
        else values[0]
        for key, values in made.items()
    }


def _like(shelf: Mapping[str, Any]) -> dict[str, str]:
    """A shelf's own figures but its name, its loads and its rods that differ: a new one starts from them."""
    left_out = ("id", "top", "load", "rod", "accepted")
    return {key: again(value) for key, value in shelf.items() if key not in left_out}


def _table(pairs: Mapping[str, str]) -> str:
    return "{ " + ", ".join(f"{key} = {value}" for key, value in pairs.items()) + " }"
