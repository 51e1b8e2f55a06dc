"""The example jobs with other figures in them: laid out and looked at, or refused in our own words; never an error."""

from __future__ import annotations

import random
import re

import pytest

from ledgewright.job.reading import read
from ledgewright.memo import Memo
from ledgewright.plan import CannotLayError, looked
from tests import jobs

AGAINST = (
    "job files with one to three figures changed, by a little, by half or more, to nought, by a 32nd",
    "no error but the program's own refusals",
    "as said",
)
FIGURE = re.compile(
    r'"(?P<tape>\d+(?: \d+/\d+)?|\d+/\d+)"|(?<![\w/"-])(?P<bare>\d+(?:\.\d+)?)(?![\w/"-])'
)


def other(text: str, chance: random.Random) -> str:
    """The text with some of its figures changed."""
    lines = text.split("\n")
    for _ in range(chance.choice((1, 1, 2, 3))):
        found = [
            (k, each)
            for k, line in enumerate(lines)
            if not line.startswith(("#", "format")) and "known" not in line
            for each in FIGURE.finditer(line.split("#")[0])
        ]
        k, each = chance.choice(found)
        lines[k] = lines[k][: each.start()] + changed(each, chance) + lines[k][each.end() :]
    return "\n".join(lines)


def changed(of: re.Match[str], chance: random.Random) -> str:
    written = of["tape"] or of["bare"]
    value = sum(float(a) / float(b or 1) for a, _, b in (p.partition("/") for p in written.split()))
    value = chance.choice(
        (
            value * chance.uniform(0.98, 1.02),
            value * chance.uniform(0.98, 1.02),
            value * chance.uniform(0.5, 1.8),
            chance.choice((0.0, 1.0, 4 * value, value / 8, value + 1 / 32, value - 1 / 32)),
        )
    )
    if of["tape"]:
        whole, part = divmod(max(0, round(value * 64)), 64)
        return f'"{whole} {part}/64"' if part else f'"{whole}"'
    whole_only = "." not in written and chance.random() < 0.7
    return str(max(0, round(value))) if whole_only else f"{max(0.0, value):.3f}"


def look_at_many(seeds: range) -> int:
    texts = [(jobs.EXAMPLES / f"{name}.toml").read_text("utf-8") for name in jobs.ALL]
    laid = 0
    for seed in seeds:
        chance = random.Random(seed)  # noqa: S311  # changing a text, no secret
        found = read(other(chance.choice(texts), chance), "other.toml")
        if found.job is None:
            assert any(each.level != "note" for each in found.findings), seed
            continue
        try:
            plan = looked(found.job, Memo())
        except CannotLayError:
            continue
        laid += 1
        assert plan.verdict in {"fails", "cannot say"}, seed
    return laid


@pytest.mark.parametrize("part", range(4))
def test_forty_jobs_with_other_figures(part: int) -> None:
    assert look_at_many(range(10 * part, 10 * (part + 1))) > 0


@pytest.mark.soak
@pytest.mark.parametrize("part", range(20))
def test_four_thousand_jobs_with_other_figures(part: int) -> None:
    assert look_at_many(range(1000 + 200 * part, 1000 + 200 * (part + 1))) > 40
