"""The only place of this room that touches the disk: loading a job file, and saving it whole or not at all."""

from __future__ import annotations

import contextlib
import os
import stat
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

from ledgewright.job.model import Finding, Level
from ledgewright.job.reading import Read, prices_named, read
from ledgewright.job.revision import revision

LARGEST = 2_000_000
STALE_AFTER = 600.0
HALF_MADE_AFTER = 2.0
NEW = "new"


@dataclass(frozen=True)
class Saved:
    """What became of a save: the new revision, or None and why not."""

    revision: str | None
    findings: tuple[Finding, ...]


def load(path: str | os.PathLike[str]) -> Read:
    """Read the job file at a path, with the price file beside it.

    Args:
        path: of the job file.

    Returns:
        As `reading.read`; a missing or unreadable file, a folder, or one of more than 2 MB is a finding.
    """
    name, text, prices, said = texts(path)
    return Read(None, said) if text is None else read(text, name, prices, said=said)


class Texts(NamedTuple):
    """A job file's name, its text, that of the price file it names (None without one), and findings about the files."""

    name: str
    text: str | None
    prices: str | None
    said: tuple[Finding, ...]


def texts(path: str | os.PathLike[str]) -> Texts:
    """Return what `load` reads, unread.

    Args:
        path: of the job file.
    """
    place = Path(path)
    text, finding = text_of(place)
    if text is None:
        return Texts(place.name, None, None, (finding,) if finding else ())
    prices, said = _prices(place, text)
    return Texts(place.name, text, prices, said)


def text_of(path: str | os.PathLike[str]) -> tuple[str | None, Finding | None]:
    """Return the text of a file, or None and what keeps it from being read."""
    place = Path(path)
    try:
        data = _bytes(place)
    except FileNotFoundError:
        return None, _finding(place, "file", "there is no such file", "check its name and folder")
    except IsADirectoryError:
        return None, _finding(
            place, "file", "this is a folder, not a file", "name the job file in it"
        )
    except (OSError, ValueError) as wrong:
        return None, _finding(
            place,
            "file",
            f"this file cannot be read ({_why(wrong)})",
            "check its name and who may read it",
        )
    if len(data) > LARGEST:
        return None, _finding(
            place,
            "file",
            "this file is larger than 2 MB, no job is",
            "check that it is the job file",
        )
    try:
        return data.decode("utf-8"), None
    except UnicodeDecodeError as wrong:
        line = data[: wrong.start].count(b"\n") + 1
        return None, _finding(
            place, "text", "this is not text in UTF-8", "save it as UTF-8 text", line=line
        )


def _bytes(place: Path) -> bytes:
    """Return at most one byte more than the largest file; opening does not wait for a pipe's other end."""
    with open(os.open(place, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0)), "rb") as file:
        kind = os.fstat(file.fileno()).st_mode
        if stat.S_ISDIR(kind):
            raise IsADirectoryError
        if not stat.S_ISREG(kind):
            msg = "not a plain file"
            raise OSError(msg)
        return file.read(LARGEST + 1)


def _prices(place: Path, text: str) -> tuple[str | None, tuple[Finding, ...]]:
    name = prices_named(text)
    if name is None:
        return None, ()
    try:
        folder = place.parent.resolve()
        target = (folder / name).resolve()
        inside = target.is_relative_to(folder) and not Path(name).is_absolute()
    except (OSError, ValueError, RuntimeError):
        inside = False
    if not inside:
        # A name that leads out of the folder is told by the reading of the job, with its line; a link only here.
        link = _finding(
            place,
            "prices",
            "the price file is a link that leads out of the job's folder",
            "put the file itself beside the job file",
            path="shop.prices",
        )
        return None, (link,) if Path(name).name == name else ()
    found, finding = text_of(target)
    if finding is None:
        return found, ()
    wrong = f"the price file gives no prices: {finding.wrong}"
    return None, (
        _finding(place, "prices", wrong, finding.right, path="shop.prices", level="note"),
    )


def save(path: str | os.PathLike[str], text: str, *, base: str) -> Saved:
    """Write a job file so that the old or the new text is whole whatever happens, and keep the old one beside it.

    The new text goes to a temporary file in the same folder, is flushed to the disk, and takes the old
    file's place in one step; `<name>.bak` keeps the old text.

    Args:
        path: of the job file; a link is followed.
        text: the new text.
        base: revision of the text that was edited; `files.NEW` where there must be no file yet.

    Returns:
        The new revision, or None and why the file stays as it was.
    """
    place = Path(os.path.realpath(path))
    try:
        data = text.encode("utf-8")
        with _locked(place):
            return _save(place, text, data, base)
    except _BusyError:
        return _not_saved(
            place, "busy", "another program is saving this file", "try again in a moment"
        )
    except UnicodeEncodeError:
        return _not_saved(place, "text", "this text holds letters that are none", "take them out")
    except FileNotFoundError:
        return _not_saved(
            place,
            "folder",
            f"there is no folder {place.parent}",
            "make it first, or choose a file in one that is there",
        )
    except (OSError, ValueError) as wrong:
        return _not_saved(
            place,
            "disk",
            f"the file could not be saved ({_why(wrong)})",
            "the file on disk is whole; check space and rights, then save again",
        )


class _BusyError(Exception):
    """The lock is held by a living program."""


def _save(place: Path, text: str, data: bytes, base: str) -> Saved:
    _sweep(place)
    old = _old(place)
    held = NEW if old is None else revision_of(old)
    if held != base:
        return _not_saved(
            place,
            "conflict",
            "the file was changed by someone else since it was read",
            "read it again and make the change there",
        )
    mode = stat.S_IMODE(os.stat(place).st_mode) if old is not None else None
    if old is not None:
        _replace(place.with_name(place.name + ".bak"), old, mode)
    _replace(place, data, mode)
    _flush_folder(place.parent)
    return Saved(revision(text), ())


def revision_of(data: bytes) -> str:
    """Return the revision of a file's bytes; what is no UTF-8 gets one that no text has."""
    try:
        return revision(data.decode("utf-8"))
    except UnicodeDecodeError:
        return "not text"


def _old(place: Path) -> bytes | None:
    try:
        return _bytes(place)
    except FileNotFoundError:
        return None


def _replace(place: Path, data: bytes, mode: int | None) -> None:
    temporary = place.with_name(f".{place.name}.{os.getpid()}.tmp")
    try:
        _write(temporary, data, mode)
        os.replace(temporary, place)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(temporary)
        raise


def _write(place: Path, data: bytes, mode: int | None) -> None:
    number = os.open(place, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o666)
    try:
        if mode is not None:
            os.fchmod(number, mode)
        left = memoryview(data)
        while left:
            left = left[os.write(number, left) :]
        os.fsync(number)
    finally:
        os.close(number)


def _flush_folder(folder: Path) -> None:
    number = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(number)
    finally:
        os.close(number)


def _sweep(place: Path) -> None:
    """Take away what a killed save left behind; the lock is ours, so nobody else is writing."""
    for name in (place.name, place.name + ".bak"):
        for left in place.parent.glob(f".{_literal(name)}.*.tmp"):
            with contextlib.suppress(OSError):
                os.unlink(left)


def _literal(name: str) -> str:
    return "".join(f"[{c}]" if c in "*?[" else c for c in name)


@contextlib.contextmanager
def _locked(place: Path) -> Iterator[None]:
    lock = place.with_name(f".{place.name}.lock")
    _take(lock)
    try:
        yield
    finally:
        with contextlib.suppress(OSError):
            os.unlink(lock)


def _take(lock: Path) -> None:
    for _ in range(3):
        try:
            number = os.open(lock, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        except FileExistsError:
            if not _stale(lock):
                raise _BusyError from None
            with contextlib.suppress(FileNotFoundError):
                os.unlink(lock)
            continue
        _sign(lock, number)
        return
    raise _BusyError


def _sign(lock: Path, number: int) -> None:
    try:
        os.write(number, str(os.getpid()).encode())
    except OSError:
        with contextlib.suppress(OSError):
            os.unlink(lock)
        raise
    finally:
        os.close(number)


def _stale(lock: Path) -> bool:
    """Say whether a lock's owner is gone: its process is dead, or it is older than any save takes."""
    try:
        age = time.time() - os.stat(lock).st_mtime
        text = lock.read_text(encoding="ascii", errors="replace").strip()
    except FileNotFoundError:
        return True
    if age > STALE_AFTER:
        return True
    if not text.isdecimal():
        return age > HALF_MADE_AFTER
    try:
        os.kill(int(text), 0)
    except (ProcessLookupError, OverflowError):
        return True
    except PermissionError:
        return False
    return False


def _why(wrong: Exception) -> str:
    reason = getattr(wrong, "strerror", None) or str(wrong) or type(wrong).__name__
    return str(reason).lower()[:80]


def _finding(
    place: Path,
    code: str,
    wrong: str,
    right: str,
    *,
    line: int | None = None,
    path: str = "",
    level: Level = "refuse",
) -> Finding:
    return Finding(
        code=code,
        level=level,
        file=place.name,
        line=line,
        path=path,
        value="",
        wrong=wrong,
        right=right,
    )


def _not_saved(place: Path, code: str, wrong: str, right: str) -> Saved:
    return Saved(None, (_finding(place, code, wrong, right),))
