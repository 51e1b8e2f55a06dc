"""Property tests run without a deadline, since machines are shared, and the same way each time in CI.

What the tests of one room work out they work out once, in one process: they run one after the other, rooms and tests
in the random order of the run, and whoever is done takes over half of what the other still has (`--dist worksteal`).
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import settings

settings.register_profile("shared", deadline=None)
settings.register_profile("ci", deadline=None, derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "shared")

_HERE = Path(__file__).parent


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Keep the tests of a room together, and begin with the browser: nobody waits for its longest test at the end."""
    rooms = dict.fromkeys(map(_room, items))
    order = {room: k for k, room in enumerate(sorted(rooms, key=lambda room: room != "browser"))}
    items.sort(key=lambda item: order[_room(item)])


def _room(item: pytest.Item) -> str:
    return item.path.relative_to(_HERE).parts[0]


def pytest_collection_finish() -> None:
    """Refuse a module that works an example out where it is imported: every process would, before its first test."""
    from tests.jobs import plan

    if plan.cache_info().currsize:
        raise pytest.UsageError("an example is worked out while tests are collected")


@pytest.fixture
def one_memo(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every verb that runs in this process keeps what it works out with the rest of this run, as the desk does."""
    from tests.jobs import MEMO

    monkeypatch.setattr("ledgewright.memo.Memo", lambda: MEMO)
