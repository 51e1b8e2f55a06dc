"""Shelves of a job file laid out and fitted, without the statics: what the tests of fitting ask does not need them."""

from __future__ import annotations

from contextlib import AbstractContextManager
from functools import cache
from unittest.mock import patch

from ledgewright import judge, survey
from ledgewright.job import Job
from ledgewright.job.reading import read
from ledgewright.judge import Design
from ledgewright.memo import Memo
from ledgewright.statics import Holds

BARE = Holds("cannot say", (), None, (), None, (), None, 0.0)


def job(text: str) -> Job:
    """The job of a file, which must be in order."""
    found = read(text, "job.toml")
    assert found.job is not None, found.findings
    return found.job


def unjudged() -> AbstractContextManager[object]:
    """Within it nothing is judged, and no time is spent on it."""
    return patch.object(judge, "_holds", lambda *_, **__: BARE)


@cache
def designs(text: str) -> tuple[Design, ...]:
    """Every section of every shelf by the program's own road, with its ways and what opens one; nothing is judged."""
    this, memo = job(text), Memo()
    with unjudged():
        return tuple(
            design
            for spec, demand in zip(this.shelves, this.demands, strict=True)
            for design in judge.whole(
                job=this,
                room=survey.room(this.tapes, spec.top - spec.thick / 2),
                spec=spec,
                demand=demand,
                memo=memo,
            )
        )
