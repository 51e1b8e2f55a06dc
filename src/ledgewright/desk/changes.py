"""Making a change: on what the page showed, never over what somebody else changed, never into what cannot be read."""

from __future__ import annotations

import threading
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal

from ledgewright.desk.journal import Journal
from ledgewright.job import Edit, Finding, edits, files, places
from ledgewright.job.reading import Read, parse
from ledgewright.job.reading import read as read_job
from ledgewright.job.revision import revision

Kind = Literal["saved", "same", "refused", "conflict", "failed"]


@dataclass(frozen=True)
class Clash:
    """One figure that two hands changed: what is in the file now, and what was sent."""

    path: str
    theirs: str
    yours: str

    @property
    def listed(self) -> bool:
        """Whether it goes by its number in a list, where another may have that number now."""
        return "[" in self.path

    def shares(self, path: str) -> bool:
        """Say whether a place goes by its number in the list this one goes by its number in."""
        return self.listed and "[" in path and _ground(path) == _ground(self.path)


@dataclass(frozen=True)
class Outcome:
    """What became of a change. `revision` is that of the file now; findings say why it was refused.

    `saved` names the places that were written all the same, where only some of what was asked for is refused.
    """

    kind: Kind
    revision: str
    findings: tuple[Finding, ...] = ()
    clashes: tuple[Clash, ...] = ()
    saved: tuple[str, ...] = ()


MOST = 200
"""Longest a change is told in the journal (characters)."""
READS = 3
"""Texts of a job whose reading is kept: a change asks for the same two again and again."""


class Hand:
    """The one hand that writes a job file for the desk; requests of one process wait for each other here."""

    def __init__(self, path: Path, journal: Journal) -> None:
        self.path = path
        self.journal = journal
        self._lock = threading.Lock()
        self._reads: dict[str, Read] = {}

    def text(self) -> tuple[str, tuple[Finding, ...]]:
        """Return the text on disk, taken into the journal; empty with findings if it cannot be read at all."""
        with self._lock:
            return self._text()

    def _text(self) -> tuple[str, tuple[Finding, ...]]:
        text, gone = files.text_of(self.path)
        if text is None:
            return "", (gone,) if gone else ()
        self.journal.seen(text)
        return text, ()

    def based(self, base: str) -> str | None:
        """Return the text a page was made from; None if the desk never showed it."""
        return self.journal.at(base)

    def change(self, base: str, made: Sequence[Edit], what: str, *, apart: bool = False) -> Outcome:
        """Make edits to the job file.

        Args:
            base: revision of the text that was shown when they were made.
            made: in order.
            what: for the journal, in words.
            apart: whether they are figures each by itself, so that what is right is saved beside what is refused.

        Returns:
            What became of it; nothing is written unless it is "saved".

        Raises:
            OSError: if the journal cannot be written.
        """
        with self._lock:
            text, gone = self._text()
            if gone:
                return Outcome("failed", "", gone)
            head = revision(text)
            broken = parse(text.removeprefix("\ufeff"), self.path.name)[1]
            if broken and made:
                return Outcome("refused", head, broken)
            if base != head:
                was = self.based(base)
                made, behind = _behind(was, text, _to_do(was, text, made))
                clashes = _clashes(was, text, made)
                if clashes:
                    return Outcome("conflict", head, clashes=clashes)
                made = [*made, *behind]
            if not made:
                return Outcome("same", head)
            new, worse = self._tried(text, made)
            if not worse:
                return self._write(text, new, what)
            return self._partly(text, made, worse) if apart else Outcome("refused", head, worse)

    def _tried(self, text: str, made: Sequence[Edit]) -> tuple[str, tuple[Finding, ...]]:
        try:
            new = edits.apply(text, made)
        except edits.BadEdit as bad:
            return text, (_bad(self.path, bad),)
        return new, self._worse(text, new)

    def _partly(self, text: str, made: Sequence[Edit], wrong: tuple[Finding, ...]) -> Outcome:
        """Save what is left when what the findings are about is taken out, if it can be read as a file of its own."""
        right = _apart(text, made, wrong)
        if not right or len(right) == len(made):
            return Outcome("refused", revision(text), wrong)
        new, worse = self._tried(text, right)
        if worse:
            return Outcome("refused", revision(text), wrong)
        paths = tuple(dict.fromkeys(edit.path for edit in right))
        done = self._write(text, new, ", ".join(paths)[:MOST])
        return (
            replace(done, kind="refused", findings=wrong, saved=paths)
            if done.kind == "saved"
            else done
        )

    def replace(self, base: str, new: str, what: str) -> Outcome:
        """Put a whole text in place of the job file, which may say anything that can be read.

        Args:
            base: revision of the text it replaces; another one is a conflict.
            new: the text.
            what: for the journal, in words.

        Raises:
            OSError: if the journal cannot be written.
        """
        with self._lock:
            text, gone = self._text()
            if gone:
                return Outcome("failed", "", gone)
            head = revision(text)
            if base != head:
                return Outcome("conflict", head, clashes=(Clash("", "", ""),))
            if new == text:
                return Outcome("same", head)
            worse = self._worse(text, new)
            return Outcome("refused", head, worse) if worse else self._write(text, new, what)

    def undo(self, base: str) -> Outcome:
        """Go back to the text before the last change.

        Args:
            base: revision of the text whose last change is meant; another one is a conflict, and nothing is written.

        Raises:
            OSError: if the journal cannot be written.
        """
        return self._step(base, forth=False)

    def redo(self, base: str) -> Outcome:
        """Make what was undone last again.

        Args:
            base: revision of the text that is meant; another one is a conflict, and nothing is written.

        Raises:
            OSError: if the journal cannot be written.
        """
        return self._step(base, forth=True)

    def back_to(self, number: int) -> Outcome:
        """Put an older text in place of the file, as a change like any other.

        Args:
            number: of the journal's entry.

        Raises:
            KeyError: if the journal has no such entry, or its text is no longer whole.
            OSError: if the journal cannot be written.
        """
        with self._lock:
            text, gone = self._text()
            if gone:
                return Outcome("failed", "", gone)
            entry = next((e for e in self.journal.entries() if e.number == number), None)
            older = self.journal.text(entry) if entry else None
            if entry is None or older is None:
                raise KeyError(number)
            if older == text:
                return Outcome("same", revision(text))
            return self._write(text, older, f"back to change {number}")

    def whole(self) -> int | None:
        """Return the number of the newest kept text that is TOML; None if none is."""
        for entry in self.journal.entries():
            text = self.journal.text(entry)
            if text is not None and parse(text.removeprefix("\ufeff"), "")[0] is not None:
                return entry.number
        return None

    def _step(self, base: str, *, forth: bool) -> Outcome:
        with self._lock:
            text, gone = self._text()
            if gone:
                return Outcome("failed", "", gone)
            if base != revision(text):
                return Outcome("conflict", revision(text))
            entry = self.journal.after() if forth else self.journal.before()
            older = self.journal.text(entry) if entry else None
            if older is None:
                return Outcome("same", revision(text))
            saved = files.save(self.path, older, base=revision(text))
            if saved.revision is None:
                return Outcome("failed", revision(text), saved.findings)
            if forth:
                self.journal.redone()
            else:
                self.journal.undone()
            return Outcome("saved", saved.revision)

    def _write(self, old: str, new: str, what: str) -> Outcome:
        saved = files.save(self.path, new, base=revision(old))
        if saved.revision is None:
            return Outcome("failed", revision(old), saved.findings)
        self.journal.changed(new, what)
        return Outcome("saved", saved.revision)

    def _worse(self, old: str, new: str) -> tuple[Finding, ...]:
        """What stops the new text and did not stop the old one; a job with faults may be mended one by one."""
        had = {(f.path, f.code, f.value) for f in _stops(self.read(old))}
        return tuple(f for f in _stops(self.read(new)) if (f.path, f.code, f.value) not in had)

    def read(self, text: str) -> Read:
        """Read a text of this job; a price file beside it is left to the working out."""
        found = self._reads.get(text)
        if found is None:
            found = read_job(text, self.path.name)
            self._reads = {**dict(list(self._reads.items())[-READS:]), text: found}
        return found


def _stops(read: Read) -> tuple[Finding, ...]:
    return tuple(f for f in read.findings if f.level != "note")


def _apart(text: str, made: Sequence[Edit], wrong: Sequence[Finding]) -> list[Edit]:
    """The edits that no finding is about; a list whose rows come or go stands or falls as one."""
    now = _document(text)
    moving = {_ground(edit.path) for edit in made if "[" in edit.path and not _stays(edit, now)}

    def unit(path: str) -> str:
        return _ground(path) if _ground(path) in moving else path

    bad = {unit(e.path) for e in made if any(about(f.path, unit(e.path)) for f in wrong)}
    return [edit for edit in made if unit(edit.path) not in bad]


def _stays(edit: Edit, now: Mapping[str, object]) -> bool:
    return edit.text is not None and _at(now, edit.path) is not None


def about(path: str, other: str) -> bool:
    """Say whether one of two places of a file is the other, or holds it."""
    short, long = sorted((path, other), key=len)
    return short != "" and (long == short or (long.startswith(short) and long[len(short)] in ".["))


def _bad(path: Path, bad: edits.BadEdit) -> Finding:
    return Finding("edit", "refuse", path.name, None, bad.path, "", bad.wrong, bad.right)


def _to_do(base: str | None, head: str, made: Sequence[Edit]) -> list[Edit]:
    """The edits that the file does not say already: a page that was slow to hear may send one twice.

    An entry that goes by its number says it only where its whole list is as these edits make it: another may have
    that number now, and say the same.
    """
    now, then = _document(head), _document(_tried_on(base, made))

    def done(edit: Edit) -> bool:
        ground = _ground(edit.path)
        listed = ground != edit.path and _at(then, ground) != _at(now, ground)
        return not listed and _at(now, edit.path) == _said(edit)

    return [edit for edit in made if not done(edit)]


def _tried_on(base: str | None, made: Sequence[Edit]) -> str:
    """A text with edits made; empty where they cannot be."""
    try:
        return edits.apply(base or "", made)
    except edits.BadEdit:
        return ""


def _behind(base: str | None, head: str, made: Sequence[Edit]) -> tuple[list[Edit], list[Edit]]:
    """Part the edits: those that go where they say, and new entries of a list to which others have added meanwhile.

    Such an entry goes behind theirs. It does not where the list was changed otherwise, nor where the same post speaks
    of the entry by its number elsewhere.
    """
    was, now = _document(base or ""), _document(head)
    lists = {_ground(edit.path) for edit in made if base is not None and "[" in edit.path}
    moved = {path: by for path in lists if (by := _later(path, was, now, made)) is not None}
    behind = [
        Edit(_shifted(edit.path, moved[_ground(edit.path)]), edit.text)
        for edit in made
        if _ground(edit.path) in moved
    ]
    return [edit for edit in made if _ground(edit.path) not in moved], behind


def _later(
    path: str, was: Mapping[str, object], now: Mapping[str, object], made: Sequence[Edit]
) -> int | None:
    """How many entries have come to a list behind which all these edits add; None where they do more than that."""
    before, after = _at(was, path) or [], _at(now, path) or []
    if not isinstance(before, list) or not isinstance(after, list):
        return None
    adds = all(
        _number(edit.path) >= len(before) and edit.text is not None
        for edit in made
        if _ground(edit.path) == path
    )
    named = any(f"{path}[" in (edit.text or "") for edit in made)
    return (
        len(after) - len(before) if adds and not named and after[: len(before)] == before else None
    )


def _number(path: str) -> int:
    return int(path.split("[", maxsplit=1)[1].split("]", maxsplit=1)[0])


def _shifted(path: str, by: int) -> str:
    head, _, rest = path.partition("[")
    number, _, tail = rest.partition("]")
    return f"{head}[{int(number) + by}]{tail}"


def _said(edit: Edit) -> object:
    return None if edit.text is None else _document(f"x = {edit.text}").get("x", edit)


def _clashes(base: str | None, head: str, made: Sequence[Edit]) -> tuple[Clash, ...]:
    """The edits whose place is not in the file as it was when they were made."""
    now = _document(head)
    was = _document(base) if base is not None else {}
    return tuple(
        Clash(edit.path, shown(_at(now, edit.path)), edit.text or "")
        for edit in made
        if base is None or _at(was, _ground(edit.path)) != _at(now, _ground(edit.path))
    )


def _ground(path: str) -> str:
    """The whole list of an entry that goes by its number: another entry may have that number now."""
    return path.split("[", maxsplit=1)[0] if "[" in path else path


def _at(document: Mapping[str, object], path: str) -> object:
    steps = places.steps(path)
    return places.value_at(document, places.resolve(document, steps)) if steps else None


def _document(text: str) -> dict[str, object]:
    try:
        return tomllib.loads(text.removeprefix("\ufeff"))
    except (ValueError, RecursionError):
        return {}


def shown(value: object) -> str:
    """Return a value of the file as people read it, one line."""
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return ", ".join(shown(item) for item in value)
    if isinstance(value, Mapping):
        return ", ".join(f"{key} {shown(item)}" for key, item in value.items())
    return str(value)
