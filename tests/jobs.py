"""The example jobs worked through once, for tests that need a whole plan."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from ledgewright.job import Job, files
from ledgewright.memo import Memo
from ledgewright.plan import Plan, full

EXAMPLES = Path(__file__).resolve().parents[1] / "examples"
ALL = tuple(sorted(p.stem for p in EXAMPLES.glob("*.toml") if not p.stem.startswith("prices")))
FIRST_TRIES = tuple(name for name in ALL if name.endswith("-first-try"))
"""Designs kept because they fail, with the reason in their first lines."""
NAMES = tuple(name for name in ALL if name not in FIRST_TRIES)

MEMO = Memo(2048)
"""What the tests of one run have worked out: equal inputs are not worked through again."""


@cache
def job(name: str) -> Job:
    """Return an example as read; it must read without a refusal or a question."""
    read = files.load(EXAMPLES / f"{name}.toml")
    assert read.job is not None, read.findings
    return read.job


@cache
def plan(name: str) -> Plan:
    """Return an example worked through."""
    return full(job(name), MEMO)
