"""A word from a working process while it works, and one back to it: small files beside the job.

`.ledgewright/<job>/<kind>.note` is how far it has come, `<kind>.stop` asks it to end with the best it has. Neither is
ever part of an answer; a folder that cannot be written costs the word and nothing else.
"""

from __future__ import annotations

import contextlib
from pathlib import Path


class Note:
    """The word of one kind of work on one job."""

    def __init__(self, job_file: str | Path, kind: str) -> None:
        path = Path(job_file)
        self._at = path.parent / ".ledgewright" / path.stem
        self._kind = kind

    def say(self, text: str) -> None:
        """Tell how far it has come."""
        with contextlib.suppress(OSError):
            self._at.mkdir(parents=True, exist_ok=True)
            (self._at / f"{self._kind}.note").write_text(text, encoding="utf-8")

    def said(self) -> str:
        """Return what was told last; empty if nothing is under way."""
        try:
            text = (self._at / f"{self._kind}.note").read_text(encoding="utf-8", errors="replace")
        except OSError:
            return ""
        return text[:200]

    def stop(self) -> None:
        """Ask it to end with the best it has.

        Raises:
            OSError: if that cannot be written.
        """
        self._at.mkdir(parents=True, exist_ok=True)
        (self._at / f"{self._kind}.stop").touch()

    def stopped(self) -> bool:
        """Say whether it is asked to end."""
        return (self._at / f"{self._kind}.stop").exists()

    def clear(self) -> None:
        """Take both words away, once it has ended or before it begins."""
        for end in ("note", "stop"):
            with contextlib.suppress(OSError):
                (self._at / f"{self._kind}.{end}").unlink(missing_ok=True)
