"""Write docs/checked.md: what the tests hold the statics and the fitting to, read from the tests themselves."""

from __future__ import annotations

import ast
import csv
import json
import re
import sys
from collections import Counter
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
PAGE = ROOT / "docs" / "checked.md"
WHERE = ("tests/published", "tests/statics", "tests/fitting")
DATA = ROOT / "tests" / "published" / "data"
IDS = DATA / "reference_ids.csv"
HEAD = """# What is checked against what

Made from the tests by `make checked`; a test fails when this page is not what they say. First a table of all files,
each with what it says itself (`AGAINST` in the file) of its source, of how sure that is, and of how near it must come.
Tests counts functions, data the rows of the tables and the worked examples under tests/published/data that they read; a
row that no test uses is named in the file's last test.

Then one section for each file: what it is about, then each test by its name in words, how many cases it has where that
is written down, and, where the test says so in its first lines, the source or the hand calculation that it is held to.
"From memory" and "common practice" stand where they apply. "Own consistency" is no check against the world outside.
"""


def page() -> str:
    """Return the page as the tests have it now."""
    paths = [p for folder in WHERE for p in sorted((ROOT / folder).rglob("test_*.py"))]
    trees = [(path, ast.parse(path.read_text(encoding="utf-8"))) for path in paths]
    table = "\n".join(
        [
            "| File | Against | Status | How near | Tests | Data |",
            "|---|---|---|---|---:|---:|",
            *(_line(path, tree) for path, tree in trees),
        ]
    )
    made = ("\n".join(_module(path, tree)) for path, tree in trees)
    return "\n\n".join([HEAD.rstrip(), table, _reference(), *made]) + "\n"


def _reference() -> str:
    """How many rows of the reference tables are held by a test, and why the others are not."""
    with IDS.open(encoding="utf-8", newline="") as file:
        where = Counter(
            "held by a test" if row["where"].startswith("tests/") else row["where"]
            for row in csv.DictReader(file)
        )
    told = "\n".join(f"| {reason} | {count} |" for reason, count in sorted(where.items()))
    name = IDS.relative_to(ROOT).as_posix()
    lead = f"Of the {where.total()} rows of the reference tables, each named in {name}:"
    return f"{lead}\n\n| Rows | |\n|---|---:|\n{told}"


def against(tree: ast.Module, name: str) -> tuple[str, str, str]:
    """Return source, status and tolerance of a test module as its `AGAINST` says.

    Raises:
        ValueError: it has none, or not three texts in it.
    """
    for node in tree.body:
        if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "AGAINST":
            match ast.literal_eval(node.value):
                case (str(source), str(status), str(near)) if source and status and near:
                    return source, status, near
    message = f"{name} does not say what it is held against: AGAINST = (source, status, how near)"
    raise ValueError(message)


def _line(path: Path, tree: ast.Module) -> str:
    name = path.relative_to(ROOT).as_posix()
    tests, data = len(list(_tests(tree))), _data(tree)
    cells = (name.removeprefix("tests/"), *against(tree, name), str(tests), str(data or ""))
    return "| " + " | ".join(cell.replace("|", "/") for cell in cells) + " |"


def _tests(tree: ast.Module) -> Iterator[ast.FunctionDef]:
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef) and node.name.startswith("test_"):
            yield node


def read(tree: ast.Module) -> set[tuple[str, str]]:
    """Return file and id of what a test module reads from tests/published/data.

    All rows of the tables that it names, and the worked examples that it asks for by id or by how an id begins.
    """
    texts = {
        n.value for n in ast.walk(tree) if isinstance(n, ast.Constant) and isinstance(n.value, str)
    }
    begins = tuple(_asked(tree))
    found = set()
    for path in sorted(DATA.iterdir()):
        worked = path.name.startswith("worked_")
        for name in _rows(path):
            asked = name in texts or (begins and name.startswith(begins))
            if (worked and asked) or (path.name in texts and not worked and path != IDS):
                found.add((path.name, name))
    return found


def _data(tree: ast.Module) -> int:
    """How many rows and worked examples a module reads; one example may stand in two files."""
    return len({("" if file.startswith("worked_") else file, name) for file, name in read(tree)})


def _asked(tree: ast.Module) -> Iterator[str]:
    """Fixed beginnings of what is asked from the worked examples of tests/published."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and ast.unparse(node.func) == "worked":
            (first,) = node.args
            part = first.values[0] if isinstance(first, ast.JoinedStr) else first
            if isinstance(part, ast.Constant) and isinstance(part.value, str):
                yield part.value


@cache
def _rows(path: Path) -> list[str]:
    text = path.read_text(encoding="utf-8")
    if path.suffix == ".json":
        return [each["id"] for each in json.loads(text)]
    rows = csv.DictReader(text.splitlines())
    return [row.get("id", f"row {number}") for number, row in enumerate(rows)]


def _module(path: Path, tree: ast.Module) -> Iterator[str]:
    text = path.read_text(encoding="utf-8")
    about = " ".join((ast.get_docstring(tree) or "").split())
    yield f"## {path.relative_to(ROOT).as_posix()}\n\n{about}\n"
    lines = text.split("\n")
    for node in _tests(tree):
        words = node.name.removeprefix("test_").replace("_", " ")
        told = _said(node, lines)
        cases = _cases(node)
        many = f" ({cases} cases)" if cases else ""
        yield f"- {words}{many}" + (f": {told}" if told else "")


def _said(node: ast.FunctionDef, lines: list[str]) -> str:
    """The test's docstring, or the comment right above it or in its first lines."""
    told = ast.get_docstring(node)
    if told:
        return " ".join(told.split())
    first = min([node.lineno, *(d.lineno for d in node.decorator_list)]) - 2
    above = _comment(lines, range(first, max(first - 6, -1), -1))[::-1]
    begin = node.body[0].lineno - 1
    inside = _comment(lines, range(begin - 1, node.lineno - 1, -1))[::-1]
    return " ".join(above + inside)


def _comment(lines: list[str], numbers: range) -> list[str]:
    found = []
    for number in numbers:
        line = lines[number].strip()
        if not re.match(r"# (?!----|fmt|noqa|type)", line):
            break
        found.append(line.removeprefix("# "))
    return found


def _cases(node: ast.FunctionDef) -> int:
    """How many cases its decorators list in so many words; 0 if they do not."""
    product = 1
    for mark in node.decorator_list:
        if isinstance(mark, ast.Call) and "parametrize" in ast.unparse(mark.func):
            values = mark.args[1] if len(mark.args) > 1 else None
            if isinstance(values, ast.List | ast.Tuple):
                product *= len(values.elts)
            elif isinstance(values, ast.Call) and ast.unparse(values.func) == "range":
                numbers = [a.value for a in values.args if isinstance(a, ast.Constant)]
                if len(numbers) < len(values.args):
                    return 0
                product *= len(range(*(int(str(n)) for n in numbers)))
            else:
                return 0
    return product if product > 1 else 0


def main() -> None:
    """Write the page."""
    PAGE.write_text(page(), encoding="utf-8")
    sys.stdout.write(f"{PAGE.relative_to(ROOT)} written\n")


if __name__ == "__main__":
    main()
