"""The line told for a path holds that key."""

from __future__ import annotations

import random
import tomllib
from collections.abc import Iterator

import tomlkit
from hypothesis import given, settings
from hypothesis import strategies as st

from ledgewright.job import places
from ledgewright.job.places import Path

KEYS = st.one_of(
    st.from_regex(r"[a-z][a-z0-9_-]{0,6}", fullmatch=True),
    st.sampled_from(["two words", "dot.ted", 'quo"te', "é", "#", "[x]", "="]),
)
LEAVES = st.one_of(
    st.integers(-999, 999),
    st.booleans(),
    st.floats(allow_nan=False, allow_infinity=False),
    st.text(st.characters(codec="utf-8", exclude_categories=["Cs", "Cc"]), max_size=12),
    st.sampled_from(["#", '"""', "'''", "[a]", "x = 1", "\n[t]\n", "\\", "a\nb", ","]),
    st.dates(),
    st.lists(st.one_of(st.integers(0, 9), st.text(max_size=3, alphabet="ab]#,")), max_size=4),
    st.lists(st.lists(st.integers(0, 9), max_size=2), max_size=3),
)
TABLES = st.dictionaries(KEYS, LEAVES, max_size=4)
DOCUMENTS = st.dictionaries(
    KEYS, st.one_of(LEAVES, TABLES, st.lists(TABLES, min_size=1, max_size=3)), max_size=5
)


def walk(here: object, path: Path = ()) -> Iterator[Path]:
    if path:
        yield path
    if isinstance(here, dict):
        for key, value in here.items():
            yield from walk(value, (*path, key))
    elif isinstance(here, list):
        for i, value in enumerate(here):
            yield from walk(value, (*path, i))


def last_key(path: Path) -> str | None:
    return path[-1] if isinstance(path[-1], str) else None


@settings(deadline=None, max_examples=200)
@given(DOCUMENTS, st.integers(0, 2**32))
def test_every_path_of_a_random_document_has_a_line_that_holds_its_key(
    document: dict[str, object], seed: int
) -> None:
    text = tomlkit.dumps(document)
    chance = random.Random(seed)  # noqa: S311  # spoiling a text, no secret
    parts = [
        line + ("\n\n# a [comment] = 1" if chance.random() < 0.3 and safe(text, line) else "")
        for line in text.split("\n")
    ]
    text = "\n".join(parts)
    read = tomllib.loads(text)
    found = places.lines(text)
    assert set(found) == set(walk(read))
    lines = text.split("\n")
    for path, line in found.items():
        key = last_key(path)
        if key is not None:
            held = lines[line - 1]
            assert key in held or key.replace('"', '\\"') in held


def safe(text: str, line: str) -> bool:
    """Say whether a comment may follow this line: not inside a text of several lines."""
    return '"""' not in text and "'''" not in text and not line.endswith("\\")


def bisected(text: str, path: Path) -> int:
    """Find a path's line as the first whole prefix of lines that holds it: the slow, independent way."""
    lines = text.split("\n")
    for count in range(1, len(lines) + 1):
        try:
            read = tomllib.loads("\n".join(lines[:count]))
        except tomllib.TOMLDecodeError:
            continue
        if path in set(walk(read)):
            return count
    raise AssertionError(path)


def test_lines_agree_with_the_first_prefix_that_holds_the_path(jobs: tuple[str, ...]) -> None:
    for text in jobs:
        found = places.lines(text)
        assert set(found) == set(walk(tomllib.loads(text)))
        whole = [p for p in found if len(p) <= 3 and all(isinstance(s, str) for s in p[-1:])]
        for path in whole[:: len(whole) // 12]:
            ends = bisected(text, path)
            assert found[path] <= ends
            opened = "\n".join(text.split("\n")[found[path] - 1 : ends])
            assert opened.count("\n") == 0 or opened.count("[") == opened.count("]")


def test_an_entry_of_a_list_over_several_lines_has_its_own_line(corner: str) -> None:
    line = places.lines(corner)[("wall", 0, "studs", 2)]
    assert "by the switch" in corner.split("\n")[line - 1]


def test_paths_are_written_with_ids_and_read_back(corner: str) -> None:
    document = tomllib.loads(corner)
    for path in walk(document):
        steps = places.steps(places.written(document, path))
        assert steps is not None
        assert places.resolve(document, steps) == path


def test_what_is_no_path_is_told() -> None:
    for text in ("", "a..b", "a[", "a[x]", "[", "a b", "a[1"):
        assert places.steps(text) is None
