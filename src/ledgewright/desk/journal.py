"""Every accepted change of a job, kept beside it, so that there is always a way back.

`.ledgewright/<job>/NNNN.toml` is the text after a change; `log.jsonl` says what was done when, one line each. A line
that was torn by a crash counts as not written: the text on disk is then taken in as a change from outside.
"""

from __future__ import annotations

import contextlib
import json
import os
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from ledgewright.job import files
from ledgewright.job.revision import revision

FIRST, CHANGED, OUTSIDE, UNDONE, REDONE = "first", "change", "outside", "undo", "redo"
_NEW = (FIRST, CHANGED, OUTSIDE)


@dataclass(frozen=True)
class Entry:
    """One text of a job: its number, its revision, and what was changed to get there; `when` as the log has it."""

    number: int
    revision: str
    what: str
    when: str = ""


class Journal:
    """The kept texts of one job; every method reads the disk anew, so that two programs may share it."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def seen(self, text: str) -> None:
        """Take in the text as it stands on disk, if it is not the head: somebody changed it outside.

        Raises:
            OSError: if the folder cannot be written.
        """
        if self._head() != revision(text):
            if self._lines():
                self._keep(text, OUTSIDE, "changed outside the desk")
            else:
                self._keep(text, FIRST, "as the desk found it")

    def changed(self, text: str, what: str) -> None:
        """Keep the text after a change.

        Raises:
            OSError: if the folder cannot be written.
        """
        self._keep(text, CHANGED, what)

    def undone(self) -> None:
        """Note that the head is undone; its text is on disk already."""
        self._say({"kind": UNDONE})

    def redone(self) -> None:
        """Note that what was undone last is there again."""
        self._say({"kind": REDONE})

    def before(self) -> Entry | None:
        """Return the entry that undoing leads to; None at the first."""
        back, _ = self._stacks()
        return back[-2] if len(back) > 1 else None

    def after(self) -> Entry | None:
        """Return the entry that redoing leads to; None if nothing was undone."""
        _, forth = self._stacks()
        return forth[-1] if forth else None

    def last(self) -> Entry | None:
        """Return the entry that stands now, which undoing would take back."""
        back, _ = self._stacks()
        return back[-1] if back else None

    def entries(self) -> tuple[Entry, ...]:
        """Return every text that was kept, the newest first."""
        return tuple(reversed(self._entries()))

    def text(self, entry: Entry) -> str | None:
        """Return the text of an entry, or None if it is no longer as it was written."""
        text, _ = files.text_of(self._folder / f"{entry.number:04d}.toml")
        return text if text is not None and revision(text) == entry.revision else None

    def at(self, wanted: str) -> str | None:
        """Return the kept text of a revision, or None if it was never here."""
        for entry in reversed(self._entries()):
            if entry.revision == wanted:
                return self.text(entry)
        return None

    def _head(self) -> str | None:
        found = self.last()
        return found.revision if found else None

    def _stacks(self) -> tuple[list[Entry], list[Entry]]:
        back: list[Entry] = []
        forth: list[Entry] = []
        for line in self._lines():
            if line["kind"] in _NEW:
                back.append(_entry(line))
                forth.clear()
            elif line["kind"] == UNDONE and len(back) > 1:
                forth.append(back.pop())
            elif line["kind"] == REDONE and forth:
                back.append(forth.pop())
        return back, forth

    def _entries(self) -> list[Entry]:
        return [_entry(line) for line in self._lines() if line["kind"] in _NEW]

    def _lines(self) -> list[dict[str, object]]:
        try:
            text = (self._folder / "log.jsonl").read_text(encoding="utf-8", errors="replace")
        except OSError:
            return []
        return list(_read(text))

    def _keep(self, text: str, kind: str, what: str) -> None:
        self._folder.mkdir(parents=True, exist_ok=True)
        number = max((entry.number for entry in self._entries()), default=0) + 1
        while True:
            saved = files.save(self._folder / f"{number:04d}.toml", text, base=files.NEW)
            if saved.revision is not None:
                break
            if saved.findings[0].code != "conflict":
                raise OSError(saved.findings[0].wrong)
            number += 1
        now = datetime.now(UTC).isoformat(timespec="seconds")
        self._say(
            {"kind": kind, "n": number, "revision": revision(text), "what": what, "when": now}
        )

    def _say(self, line: dict[str, object]) -> None:
        self._folder.mkdir(parents=True, exist_ok=True)
        data = ("\n" + json.dumps(line, ensure_ascii=False) + "\n").encode()
        number = os.open(self._folder / "log.jsonl", os.O_WRONLY | os.O_APPEND | os.O_CREAT, 0o600)
        try:
            os.write(number, data)
            os.fsync(number)
        finally:
            os.close(number)


def _entry(line: dict[str, object]) -> Entry:
    said = (str(line.get(key, "")) for key in ("what", "when"))
    return Entry(int(str(line["n"])), str(line["revision"]), *said)


def _read(text: str) -> Iterator[dict[str, object]]:
    for line in text.split("\n"):
        with contextlib.suppress(ValueError):
            found = json.loads(line)
            if _whole(found):
                yield found


def _whole(line: object) -> bool:
    if not isinstance(line, dict):
        return False
    if line.get("kind") in (UNDONE, REDONE):
        return True
    return line.get("kind") in _NEW and isinstance(line.get("n"), int) and "revision" in line
