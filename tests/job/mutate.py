"""Spoiling job files at random, for the tests that nothing a file may hold ends in an exception."""

from __future__ import annotations

import json
import random
import re

ODD = (
    "0", "-1", "1e300", "-0.0", "nan", "inf", "-inf", "1e-300", "123456789012345678901234567890",
    "0x" + "f" * 400, "true", '""', '" "', '"unknown"', '"don\'t know"', '"12 9/8"', "\"3' 14\\\"\"",
    '"3/0"', '"1,5"', '"-3/16"', "[]", "{}", "[[]]", "[[[1]]]", "[1, [2, {a = 3}]]", '{ kind = "even" }',
    "2026-11-12", "2026-11-12T10:00:00Z", "07:30:00", '"west"', '"west 1"', '"north 14 1/4"', '"west  "',
    '"\\u0000"', '"\\n"', '"\\u202e"', '"' + "x" * 700 + '"', '"..\\\\..\\\\x"', '"/etc"', '"every stud"',
    '"""a\nb"""', "'''x'''", '["a", "b", "c"]', '[["a", "b"], ["c"]]', "96", "9999", '"48 mm"', '"1000 ft"',
    '"34 lb"', '"18 lb/ft2"', '"0.6 kN"', '"66 F"', '"90 deg"', '"10 min"', "1.5", "-40", "2", "1",
)  # fmt: skip
PIECES = (
    "[[shelf]]", "[shelf.rods]", "[wall]", "[[wall]]", "[[shelf.load]]", "x = 1", "[site]", "id = 'A'",
    "[", "]]", "=", '"""', "\x00", "a.b.c = 1", "[[shelf.rod]]", "[job.x]",
)  # fmt: skip
_PAIR = re.compile(r"^(\s*[\w.]+\s*=\s*)(.+)$", re.MULTILINE)
_WORD = re.compile(r'"[^"\n]*"|(?<![\w."])-?\d+(?:\.\d+)?(?![\w."])')


def spoil(text: str, chance: random.Random) -> str:
    """Return the text with one to three things wrong with it."""
    for _ in range(chance.choice((1, 1, 1, 2, 3))):
        text = chance.choice(
            (_drop, _replace, _swap_word, _swap_word, _shuffle, _flip, _insert, _rename)
        )(text, chance)
    return text


def spoil_bytes(data: bytes, chance: random.Random) -> bytes:
    """Return the bytes with a few of them changed."""
    made = bytearray(data)
    for _ in range(chance.randint(1, 4)):
        made[chance.randrange(len(made))] = chance.randrange(256)
    return bytes(made)


def _lines(text: str) -> list[str]:
    return text.split("\n")


def _drop(text: str, chance: random.Random) -> str:
    lines = _lines(text)
    start = chance.randrange(len(lines))
    del lines[start : start + chance.choice((1, 1, 1, 2, 8))]
    return "\n".join(lines)


def _replace(text: str, chance: random.Random) -> str:
    found = list(_PAIR.finditer(text))
    if not found:
        return text
    match = chance.choice(found)
    return text[: match.start(2)] + chance.choice(ODD) + text[match.end(2) :]


def _swap_word(text: str, chance: random.Random) -> str:
    found = list(_WORD.finditer(text))
    if not found:
        return text
    match = chance.choice(found)
    other = chance.choice(
        (chance.choice(ODD), chance.choice(found).group(), json.dumps(str(chance.uniform(-5, 200))))
    )
    return text[: match.start()] + other + text[match.end() :]


def _shuffle(text: str, chance: random.Random) -> str:
    lines = _lines(text)
    a, b = chance.randrange(len(lines)), chance.randrange(len(lines))
    lines[a], lines[b] = lines[b], lines[a]
    return "\n".join(lines)


def _flip(text: str, chance: random.Random) -> str:
    if not text:
        return text
    at = chance.randrange(len(text))
    return (
        text[:at]
        + chr(chance.choice((chance.randrange(128), chance.randrange(0x2FFF))))
        + text[at + 1 :]
    )


def _insert(text: str, chance: random.Random) -> str:
    lines = _lines(text)
    lines.insert(chance.randrange(len(lines) + 1), chance.choice(PIECES))
    return "\n".join(lines)


def _rename(text: str, chance: random.Random) -> str:
    found = re.findall(r"[a-z_]{3,}", text)
    if not found:
        return text
    word = chance.choice(found)
    return text.replace(word, word[:-1] + chance.choice("xyz_"), 1)
