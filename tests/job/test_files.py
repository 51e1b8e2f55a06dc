"""Loading tells what is wrong with a file; saving leaves the old or the new text whole, whatever happens."""

from __future__ import annotations

import contextlib
import os
import signal
import stat
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from ledgewright.job import files
from ledgewright.job.reading import Read, read
from ledgewright.job.revision import revision

FIXTURES = Path(__file__).with_name("fixtures")
EXAMPLES = Path(__file__).parents[2] / "examples"


def test_the_fixture_loads_with_its_prices() -> None:
    found = files.load(FIXTURES / "format-1.toml")
    assert found.job is not None
    assert found.job.shop.prices is not None
    assert [p.each for p in found.job.shop.prices.stock] == [4.10, 58]
    assert found.job.meta.file == "format-1.toml"


def only(found: Read) -> tuple[str, str]:
    assert found.job is None
    (finding,) = found.findings
    assert finding.level == "refuse"
    assert finding.right
    return finding.code, finding.wrong


def test_what_is_no_job_file_is_told(tmp_path: Path) -> None:
    assert only(files.load(tmp_path / "none.toml")) == ("file", "there is no such file")
    assert "folder" in only(files.load(tmp_path))[1]
    empty = tmp_path / "empty.toml"
    empty.write_bytes(b"")
    assert only(files.load(empty))[0] == "empty"
    noise = tmp_path / "noise.toml"
    noise.write_bytes(b"format = 1\n\xff\xfe\x00")
    assert "UTF-8" in only(files.load(noise))[1]
    assert files.load(noise).findings[0].line == 2
    assert "cannot be read" in only(files.load("a\0b"))[1]


def test_fifty_megabytes_are_refused_without_being_read(tmp_path: Path) -> None:
    large = tmp_path / "large.toml"
    with large.open("wb") as file:
        file.truncate(50_000_000)
    started = time.perf_counter()
    assert "2 MB" in only(files.load(large))[1]
    assert time.perf_counter() - started < 5


def test_a_pipe_is_refused_without_waiting(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe.toml"
    os.mkfifo(pipe)
    assert "not a plain file" in only(files.load(pipe))[1]


def test_a_file_nobody_may_read_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> int:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "open", refuse)
    assert "permission denied" in only(files.load(tmp_path / "x.toml"))[1]


def with_prices(folder: Path, corner: str, name: str) -> Read:
    job = folder / "job.toml"
    job.write_text(corner.replace("prices.toml", name), encoding="utf-8")
    return files.load(job)


def test_prices_never_come_from_outside_the_folder(tmp_path: Path, corner: str) -> None:
    inner = tmp_path / "inner"
    inner.mkdir()
    (tmp_path / "p.toml").write_text('format = 1\ncurrency = "USD"\n', encoding="utf-8")
    (inner / "link.toml").symlink_to(tmp_path / "p.toml")
    for name in ("../p.toml", str(tmp_path / "p.toml"), "link.toml", "x/../../p.toml"):
        found = with_prices(inner, corner, name)
        assert found.job is None
        told = [f for f in found.findings if f.code == "prices"]
        assert told
        assert told[0].path == "shop.prices"
        assert told[0].line == next(
            i for i, line in enumerate(corner.split("\n"), 1) if line.startswith("prices")
        )


def test_a_price_file_that_gives_nothing_is_noted_and_one_that_is_wrong_refused(
    tmp_path: Path, corner: str
) -> None:
    missing = with_prices(tmp_path, corner, "none.toml")
    assert missing.job is not None
    assert missing.job.shop.prices is None
    assert "gives no prices" in " ".join(f.wrong for f in missing.job.notes)
    (tmp_path / "bad.toml").write_text(
        'format = 1\ncurrency = "USD"\n[rates]\nlabour = "34"\n[stok]\n', encoding="utf-8"
    )
    wrong = with_prices(tmp_path, corner, "bad.toml")
    assert wrong.job is None
    assert {(f.file, f.path, f.line) for f in wrong.findings if f.level == "refuse"} == {
        ("bad.toml", "rates.labour", 4),
        ("bad.toml", "stok", 5),
    }


OLD, NEW = "old = 1\n" * 50, "new = 2\n" * 70


@pytest.fixture
def job(tmp_path: Path) -> Path:
    place = tmp_path / "job.toml"
    place.write_text(OLD, encoding="utf-8")
    return place


def test_saving_writes_and_keeps_the_old_text_beside_it(job: Path) -> None:
    job.chmod(0o640)
    saved = files.save(job, NEW, base=revision(OLD))
    assert saved == files.Saved(revision(NEW), ())
    assert job.read_text() == NEW
    assert job.with_name("job.toml.bak").read_text() == OLD
    assert sorted(p.name for p in job.parent.iterdir()) == ["job.toml", "job.toml.bak"]
    assert stat.S_IMODE(job.stat().st_mode) == 0o640


def test_a_new_file_is_made_only_where_there_is_none(tmp_path: Path) -> None:
    place = tmp_path / "new.toml"
    assert files.save(place, NEW, base=files.NEW).revision == revision(NEW)
    assert files.save(place, OLD, base=files.NEW).findings[0].code == "conflict"
    assert place.read_text() == NEW


def test_a_file_changed_meanwhile_is_not_overwritten(job: Path) -> None:
    job.write_text("someone = 3\n")
    saved = files.save(job, NEW, base=revision(OLD))
    assert saved.revision is None
    assert saved.findings[0].code == "conflict"
    assert job.read_text() == "someone = 3\n"
    assert not job.with_name("job.toml.bak").exists()


def test_a_link_is_followed(job: Path) -> None:
    link = job.with_name("link.toml")
    link.symlink_to(job)
    assert files.save(link, NEW, base=revision(OLD)).revision
    assert link.is_symlink()
    assert job.read_text() == NEW


def test_a_living_lock_is_respected_and_a_dead_one_removed(job: Path) -> None:
    lock = job.with_name(".job.toml.lock")
    lock.write_text(str(os.getpid()))
    assert files.save(job, NEW, base=revision(OLD)).findings[0].code == "busy"
    dead = subprocess.Popen([sys.executable, "-c", ""])
    dead.wait()
    lock.write_text(str(dead.pid))
    assert files.save(job, NEW, base=revision(OLD)).revision == revision(NEW)
    assert not lock.exists()


def test_a_lock_without_a_name_is_left_alone_for_a_moment_only(job: Path) -> None:
    lock = job.with_name(".job.toml.lock")
    lock.write_text("")
    assert files.save(job, NEW, base=revision(OLD)).findings[0].code == "busy"
    os.utime(lock, (time.time() - 10, time.time() - 10))
    assert files.save(job, NEW, base=revision(OLD)).revision == revision(NEW)


CALLS = ("open", "write", "fsync", "close", "replace", "unlink", "fchmod", "stat", "fstat")


class Failing:
    """Counts calls to the operating system and lets the n-th fail, before or after it did its work."""

    def __init__(self, nth: int, *, after: bool) -> None:
        self.nth = nth
        self.after = after
        self.count = 0

    def wrap(self, call: Callable[..., Any], name: str) -> Callable[..., Any]:
        def inner(*args: object, **kwargs: object) -> object:
            self.count += 1
            fails = self.count == self.nth
            if fails and not self.after:
                raise OSError(28, "No space left on device")
            result = call(*args, **kwargs)
            if fails:
                if name == "open":
                    os_close(result)
                raise OSError(5, "Input/output error")
            return result

        return inner


os_close = os.close


@contextlib.contextmanager
def failing(nth: int, *, after: bool) -> Iterator[Failing]:
    fault = Failing(nth, after=after)
    with pytest.MonkeyPatch.context() as patch:
        for name in CALLS:
            patch.setattr(os, name, fault.wrap(getattr(os, name), name))
        yield fault


@pytest.mark.parametrize("after", [False, True])
def test_whichever_call_fails_the_old_or_the_new_text_is_whole(
    tmp_path: Path, *, after: bool
) -> None:
    nth = 0
    while True:
        nth += 1
        place = tmp_path / f"{nth}" / "job.toml"
        place.parent.mkdir()
        place.write_text(OLD)
        with failing(nth, after=after) as fault:
            saved = files.save(place, NEW, base=revision(OLD))
        text = place.read_text()
        assert text in (OLD, NEW)
        if saved.revision is not None:
            assert text == NEW
        backup = place.with_name("job.toml.bak")
        assert not backup.exists() or backup.read_text() == OLD
        lock = place.with_name(".job.toml.lock")
        if lock.exists():  # where taking it away failed: it goes stale
            os.utime(lock, (time.time() - 3600, time.time() - 3600))
        again = files.save(place, "third = 3\n", base=revision(text))
        assert again.revision == revision("third = 3\n")
        assert {p.name for p in place.parent.iterdir()} == {"job.toml", "job.toml.bak"}
        if fault.count < nth:
            break
    assert nth > 15


def test_a_write_that_takes_only_a_part_is_carried_on(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write = os.write
    monkeypatch.setattr(os, "write", lambda number, data: write(number, bytes(data[:7])))
    assert files.save(job, NEW, base=revision(OLD)).revision == revision(NEW)
    assert job.read_text() == NEW


LOOP = """
import sys
from ledgewright.job import files
from ledgewright.job.revision import revision
place, texts = sys.argv[1], [("%s = 1\\n" % c) * 20000 for c in "ab"]
print("ready", flush=True)
while True:
    for text in texts:
        held = open(place, encoding="utf-8").read()
        files.save(place, text, base=revision(held))
"""


def kill_while_saving(place: Path, times: int) -> None:
    whole = {f"{c} = 1\n" * 20000 for c in "ab"}
    place.write_text(min(whole))
    for i in range(times):
        child = subprocess.Popen([sys.executable, "-c", LOOP, str(place)], stdout=subprocess.PIPE)
        assert child.stdout is not None
        with child.stdout:
            child.stdout.readline()
            time.sleep(0.001 + 0.0037 * (i % 17))
            child.send_signal(signal.SIGKILL)
            child.wait()
        assert place.read_text() in whole
        backup = place.with_name(place.name + ".bak")
        assert not backup.exists() or backup.read_text() in whole
    lock = place.with_name(f".{place.name}.lock")
    if lock.exists() and not lock.read_text():
        os.utime(lock, (time.time() - 10, time.time() - 10))
    assert files.save(place, NEW, base=revision(place.read_text())).revision
    assert {p.name for p in place.parent.iterdir()} == {"job.toml", "job.toml.bak"}


def test_a_killed_save_leaves_a_whole_file(tmp_path: Path) -> None:
    kill_while_saving(tmp_path / "job.toml", 10)


@pytest.mark.soak
def test_two_hundred_killed_saves_leave_a_whole_file(tmp_path: Path) -> None:
    kill_while_saving(tmp_path / "job.toml", 200)


def test_dont_know_stands_for_the_whole_of_framing() -> None:
    text = (EXAMPLES / "stoneware-corner-first-try.toml").read_text(encoding="utf-8")
    whole = text.replace('framing = { of = "spf 2x4" }', 'framing = "don\'t know"', 1)
    found = read(whole, "job.toml").job
    assert found is not None
    assert found.tapes.walls[0].framing == "unknown"
    assert found.tapes.walls[0].timber is None
