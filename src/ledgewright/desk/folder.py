"""The folder the desk works in: its job files by name, and no path outside it."""

from __future__ import annotations

import os
import re
import tomllib
from dataclasses import dataclass
from pathlib import Path

from ledgewright.job import files

_NAME = re.compile(r"[^\W_][\w .,()+-]{0,79}")
_TABLES = ("[[shelf]]", "[[wall]]", "[job]")


class NoSuchJob(LookupError):  # noqa: N818  # an answer, not a fault
    """There is no job of that name in the folder."""


@dataclass(frozen=True)
class Listed:
    """One job file of the folder: its name without ending, and what the job calls itself."""

    name: str
    title: str
    place: str


def fit_name(name: str) -> bool:
    """Say whether a job may be called so: letters, figures, spaces and a few signs, a letter or figure first."""
    return bool(_NAME.fullmatch(name)) and name == name.strip(" .") and ".." not in name


class Folder:
    """A folder with job files; nothing of it leads anywhere else."""

    def __init__(self, root: Path) -> None:
        self.root = root.resolve()

    def jobs(self) -> tuple[Listed, ...]:
        """Return the job files of the folder, by name."""
        found = []
        for path in sorted(self.root.glob("*.toml")):
            if not fit_name(path.stem) or not self._inside(path):
                continue
            text, _ = files.text_of(path)
            if text is not None and any(table in text for table in _TABLES):
                found.append(Listed(path.stem, *_titled(text, path.stem)))
        return tuple(found)

    def job(self, name: str) -> Path:
        """Return the path of a job file that is there.

        Raises:
            NoSuchJob: if there is none of that name, or it leads out of the folder.
        """
        path = self.root / f"{name}.toml"
        if not fit_name(name) or not self._inside(path) or not path.is_file():
            raise NoSuchJob(name)
        return path

    def free(self, name: str) -> Path:
        """Return the path of a job file that is not there yet.

        Raises:
            ValueError: if the name is none, or taken; says what is wrong.
        """
        if not fit_name(name):
            msg = "a name is letters, figures, spaces, hyphens, and begins with a letter or figure"
            raise ValueError(msg)
        path = self.root / f"{name}.toml"
        if os.path.lexists(path):
            msg = "there is a job of that name already; nothing is written over it"
            raise ValueError(msg)
        return path

    def kept(self, name: str) -> Path:
        """Return the folder in which the desk keeps what it needs beside a job; it need not be there."""
        return self.root / ".ledgewright" / name

    def packet(self, name: str) -> Path:
        """Return the folder a job's packet is written to."""
        return self.root / f"{name} packet"

    def _inside(self, path: Path) -> bool:
        try:
            return path.resolve().parent == self.root
        except (OSError, ValueError, RuntimeError):
            return False


def _titled(text: str, name: str) -> tuple[str, str]:
    try:
        job = tomllib.loads(text.removeprefix("\ufeff")).get("job", {})
    except (ValueError, RecursionError):
        return f"{name} (cannot be read yet)", ""
    if not isinstance(job, dict):
        return name, ""
    return str(job.get("name") or name)[:120], str(job.get("place") or "")[:120]
