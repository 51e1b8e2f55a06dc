"""Write docs/checked.md: what the tests hold the statics and the fitting to, read from the tests themselves."""

from __future__ import annotations

import ast
import re
import sys
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
PAGE = ROOT / "docs" / "checked.md"
WHERE = ("tests/published", "tests/statics", "tests/fitting")
HEAD = """# What is checked against what

Made from the tests by `make checked`; a test fails when this page is not what they say. One section for each file: what
it is about, then each test by its name in words, how many cases it has where that is written down, and, where the test
says so in its first lines, the source or the hand calculation that it is held to. "From memory" and "common practice"
stand where they apply.
"""


def page() -> str:
    """Return the page as the tests have it now."""
    paths = [p for folder in WHERE for p in sorted((ROOT / folder).rglob("test_*.py"))]
    made = ("\n".join(_module(path)) for path in paths)
    return "\n\n".join([HEAD.rstrip(), *made]) + "\n"


def _module(path: Path) -> Iterator[str]:
    text = path.read_text(encoding="utf-8")
    tree = ast.parse(text)
    about = " ".join((ast.get_docstring(tree) or "").split())
    yield f"## {path.relative_to(ROOT).as_posix()}\n\n{about}\n"
    lines = text.split("\n")
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef) and node.name.startswith("test_"):
            words = node.name.removeprefix("test_").replace("_", " ")
            against = _said(node, lines)
            cases = _cases(node)
            many = f" ({cases} cases)" if cases else ""
            yield f"- {words}{many}" + (f": {against}" if against else "")


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
