"""The fixture job that the tests of this room read, spoil and mend."""

from __future__ import annotations

from pathlib import Path

import pytest

FIXTURES = Path(__file__).with_name("fixtures")
EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="session")
def corner() -> str:
    """The corner job with every kind of table in it."""
    return (FIXTURES / "format-1.toml").read_text(encoding="utf-8")


@pytest.fixture(scope="session")
def jobs(corner: str) -> tuple[str, ...]:
    """The fixture and the examples that are shipped."""
    shipped = sorted(p for p in EXAMPLES.glob("*.toml") if not p.name.startswith("prices"))
    return (corner, *(p.read_text(encoding="utf-8") for p in shipped))
