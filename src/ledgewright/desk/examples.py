"""The examples that come with the project, to start a job from."""

from __future__ import annotations

from pathlib import Path

from ledgewright.job import Finding, files

_FOLDER = Path(__file__).resolve().parents[3] / "examples"


def names() -> tuple[str, ...]:
    """Return the names of the examples."""
    return tuple(sorted(p.stem for p in _FOLDER.glob("*.toml") if not p.stem.startswith("prices")))


def copy(name: str, to: Path) -> tuple[tuple[Finding, ...], tuple[str, ...]]:
    """Write an example as a new job file, with the price file it names beside it.

    Args:
        name: of the example.
        to: path of the job file, which must not be there.

    Returns:
        What kept it from being written, if anything did, and the names of price files written beside it.
    """
    text = (_FOLDER / f"{name}.toml").read_text(encoding="utf-8")
    saved = files.save(to, text, base=files.NEW)
    if saved.revision is None:
        return saved.findings, ()
    beside = []
    for prices in sorted(_FOLDER.glob("prices-*.toml")):
        place = to.parent / prices.name
        if prices.name in text and not place.exists():
            files.save(place, prices.read_text(encoding="utf-8"), base=files.NEW)
            beside.append(prices.name)
    return (), tuple(beside)
