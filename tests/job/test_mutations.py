"""Whatever a job file holds, reading it gives a `Read` in our own words, never an exception."""

from __future__ import annotations

import random
import time
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ledgewright.job import files
from ledgewright.job.reading import Read, read
from tests.job import mutate

BORROWED = ("Input should", "Field required", "Extra inputs", "Value error", "validation error")


def holds(found: Read) -> None:
    """A reading that holds: no job without a reason, none with one, and every finding complete."""
    assert (found.job is None) == any(f.level != "note" for f in found.findings)
    for finding in found.findings:
        assert finding.code
        assert finding.wrong
        assert finding.right
        assert not any(words in finding.wrong + finding.right for words in BORROWED)
        assert "\n" not in finding.value
    pairs = [(f.file, f.code, f.path) for f in found.findings]
    assert len(pairs) == len(set(pairs))


def spoil_many(jobs: tuple[str, ...], seeds: range) -> None:
    for seed in seeds:
        chance = random.Random(seed)  # noqa: S311  # spoiling a text, no secret
        text = mutate.spoil(chance.choice(jobs), chance)
        found = read(text, "spoiled.toml")
        holds(found)
        count = text.count("\n") + 1
        assert all(f.line is None or 1 <= f.line <= count for f in found.findings)


@pytest.mark.parametrize(
    "part", [0, *(pytest.param(k, marks=pytest.mark.soak) for k in range(1, 8))]
)
def test_two_thousand_spoiled_jobs_are_read(jobs: tuple[str, ...], part: int) -> None:
    spoil_many(jobs, range(250 * part, 250 * (part + 1)))


@pytest.mark.soak
@pytest.mark.parametrize("part", range(20))
def test_a_hundred_thousand_spoiled_jobs_are_read(jobs: tuple[str, ...], part: int) -> None:
    spoil_many(jobs, range(10_000 + 5_000 * part, 10_000 + 5_000 * (part + 1)))


def test_spoiled_bytes_on_disk_are_read(corner: str, tmp_path: Path) -> None:
    place = tmp_path / "job.toml"
    chance = random.Random(5)  # noqa: S311  # spoiling a text, no secret
    for _ in range(150):
        place.write_bytes(mutate.spoil_bytes(corner.encode(), chance))
        holds(files.load(place))


@settings(deadline=None, max_examples=200)
@given(st.binary(max_size=200))
def test_random_bytes_are_read(data: bytes) -> None:
    holds(read(data.decode("latin-1"), "noise.toml"))


@settings(deadline=None, max_examples=200)
@given(st.text(max_size=60), st.sampled_from(["at = ", "id = ", "on = ", "up = "]))
def test_any_text_may_stand_in_quotes(text: str, key: str) -> None:
    quoted = "".join(
        c
        for c in text
        if c not in "'\n\r"
        and (c == "\t" or ord(c) > 31)
        and ord(c) != 127
        and not 0xD800 <= ord(c) < 0xE000
    )
    holds(
        read(
            f"format = 1\nunits = 'in'\n[[wall]]\nid = '{quoted}'\n[[shelf]]\n{key}'{quoted}'\n",
            "x.toml",
        )
    )


HUGE = [
    "\n".join(f"k{i} = 1" for i in range(60_000)),
    "[[wall]]\nid = 'w'\ntape_from = 'left'\nlength = 80\nstuds = [" + "[1, 2], " * 100_000 + "]",
    "[[wall]]\nid = 'w'\n" * 60_000,
    "[[shelf]]\nid = 's'\n" + "[[shelf.load]]\nkind = 'even'\n" * 30_000,
    "[[shelf]]\nid = 's'\n[shelf.rods]\nat = [" + "'w 1', " * 150_000 + "]",
    "[job]\nsure = [" + "'a.b', " * 150_000 + "]",
    "[job]\nname = '" + "x" * 1_500_000 + "'",
    "x = [" + "{a = 1}, " * 100_000 + "]",
]


@pytest.mark.parametrize("text", HUGE, ids=range(len(HUGE)))
def test_two_megabytes_of_nonsense_are_read_in_seconds(text: str) -> None:
    started = time.process_time()
    holds(read("format = 1\nunits = 'in'\n" + text, "huge.toml"))
    assert time.process_time() - started < 60  # a quadratic reader takes many minutes


def test_a_good_job_is_spoiled_in_many_ways(jobs: tuple[str, ...]) -> None:
    codes: set[str] = set()
    for seed in range(400):
        chance = random.Random(seed)  # noqa: S311  # spoiling a text, no secret
        codes |= {f.code for f in read(mutate.spoil(chance.choice(jobs), chance), "x").findings}
    assert len(codes) > 12
