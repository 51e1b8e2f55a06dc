"""The search of designs over several processes: what is found is the same as in one, only sooner.

Each process reads the job from its text and has a memo of its own. None outlives the one that began it.
"""

from __future__ import annotations

import contextlib
import multiprocessing
import os
import signal
import threading
from collections import deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from types import TracebackType
from typing import Literal, Self

from ledgewright import choose
from ledgewright.choose import Asked, Carries, Stop, Tried, Wanted
from ledgewright.job import Edit
from ledgewright.job.reading import read
from ledgewright.memo import Memo
from ledgewright.plan import Hand

USUAL = 2
"""So many processes work on a search where nobody says otherwise, and as many cores are there (our choice)."""
FEW = 3
"""Less work than this is done where it is asked for: to begin a process takes as long as a few designs."""
LOOK = 0.1
"""So often it is looked whether somebody says stop (s)."""
LEAVE = 2.0
"""So long a process may take to end before it is ended (s)."""

Work = Asked | tuple[Edit, ...]
Result = Tried | Carries


@dataclass(frozen=True)
class Shelf:
    """The text of a job with one shelf of it in hand: what a process needs to try designs of it."""

    text: str
    file: str
    prices: str | None
    shelf: str

    def hand(self, memo: Memo) -> Hand:
        """Return one who tries its designs in this process.

        Raises:
            ValueError: if the text does not read.
        """
        job = read(self.text, self.file, self.prices).job
        if job is None:
            msg = f"{self.file} does not read"
            raise ValueError(msg)
        return Hand(choose.ground(self.text, self.file, self.prices, job, self.shelf), memo)


def cores() -> int:
    """Return how many cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


@dataclass(eq=False)
class _Mate:
    """One process of a crew, what it is to do, and what it does now."""

    process: BaseProcess
    pipe: Connection
    queue: deque[int] = field(default_factory=deque)
    at: int | None = None


class Crew:
    """Processes that try the designs of one shelf; begun when there is work for them, ended with the block.

    Use as a context. Designs that share a section go to the same process as far as both have work, since a section is
    condensed once in each. A process that dies costs what it was at, which is then done here.
    """

    def __init__(self, of: Shelf, memo: Memo, processes: int | None = None) -> None:
        """Stand ready; of: the shelf. memo: for what is done here. processes: None for the usual number."""
        self._of = of
        self._memo = memo
        self._count = min(USUAL, cores()) if processes is None else processes
        self._mates: list[_Mate] = []
        self._had: dict[Wanted, _Mate] = {}
        self._here: Hand | None = None

    def __enter__(self) -> Self:
        """Return itself."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> Literal[False]:
        """End every process, whatever it is at."""
        self.close()
        return False

    def close(self) -> None:
        """End every process, whatever it is at."""
        for mate in self._mates:
            self._end(mate)
        self._mates = []
        self._had = {}

    def many(self, asked: Sequence[Asked], stop: Stop) -> Iterator[tuple[int, Tried]]:
        """Try designs; those not begun when stop says yes are left, and what is under way is dropped.

        Args:
            asked: the designs.
            stop: asked again and again.
        """
        for k, made in self._all(asked, stop):
            if isinstance(made, Tried):
                yield k, made

    def limits(self, made: Sequence[tuple[Edit, ...]], stop: Stop) -> Iterator[tuple[int, Carries]]:
        """Work out load limits of designs by their edits; as `many`.

        Args:
            made: the edits of each.
            stop: asked again and again.
        """
        for k, found in self._all(made, stop):
            if isinstance(found, Carries):
                yield k, found

    def _all(self, work: Sequence[Work], stop: Stop) -> Iterator[tuple[int, Result]]:
        if stop():
            return
        if self._count < 2 or (not self._mates and len(work) < FEW):
            yield from self._by_myself(work, range(len(work)), stop)
            return
        self._begin()
        self._share_out(work)
        yield from self._gather(work, stop)

    def _by_myself(
        self, work: Sequence[Work], numbers: Sequence[int], stop: Stop
    ) -> Iterator[tuple[int, Result]]:
        self._here = self._here or self._of.hand(self._memo)
        for k in numbers:
            for _, made in _done(self._here, work[k], stop):
                yield k, made

    def _begin(self) -> None:
        # spawn: a forked child of a process with threads may inherit locks that nobody lets go
        context = multiprocessing.get_context("spawn")
        while len(self._mates) < self._count:
            mine, its = context.Pipe()
            process = context.Process(target=_serve, args=(its, self._of), daemon=True)
            process.start()
            its.close()
            self._mates.append(_Mate(process, mine))

    def _share_out(self, work: Sequence[Work]) -> None:
        for k, each in enumerate(work):
            shape = _shape(each)
            mate = None if shape is None else self._had.get(shape)
            mate = mate or min(self._mates, key=lambda m: len(m.queue))
            if shape is not None:
                self._had[shape] = mate
            mate.queue.append(k)

    def _gather(self, work: Sequence[Work], stop: Stop) -> Iterator[tuple[int, Result]]:
        lost: list[int] = []
        while True:
            if stop():
                # What is under way is not waited for: its process would answer into the next round.
                self.close()
                return
            for mate in [m for m in self._mates if m.at is None]:
                self._hand_on(mate, work, lost)
            busy = [m for m in self._mates if m.at is not None]
            if not busy:
                break
            ready = wait([m.pipe for m in busy], timeout=LOOK)
            for mate in [m for m in busy if m.pipe in ready]:
                k, made = mate.at, self._answer(mate, lost)
                if k is not None and made is not None:
                    yield k, made
        lost += [k for mate in self._mates for k in mate.queue]
        yield from self._by_myself(work, sorted(lost), stop)

    def _hand_on(self, mate: _Mate, work: Sequence[Work], lost: list[int]) -> None:
        """Give a process its next piece of work, else the last one of whoever has most."""
        most = max(self._mates, key=lambda m: len(m.queue))
        if not mate.queue and most.queue:
            mate.queue.append(most.queue.pop())
        if not mate.queue:
            return
        mate.at = mate.queue.popleft()
        try:
            mate.pipe.send(work[mate.at])
        except OSError:
            self._bury(mate, lost)

    def _answer(self, mate: _Mate, lost: list[int]) -> Result | None:
        try:
            made: Result | Exception = mate.pipe.recv()
        except (EOFError, OSError):
            self._bury(mate, lost)
            return None
        mate.at = None
        if isinstance(made, Exception):
            raise made
        return made

    def _bury(self, mate: _Mate, lost: list[int]) -> None:
        """A process has died, as for want of memory: what it had is done by others, what it was at here."""
        lost += [] if mate.at is None else [mate.at]
        self._mates.remove(mate)
        self._had = {shape: m for shape, m in self._had.items() if m is not mate}
        if self._mates:
            self._mates[0].queue.extend(mate.queue)
        else:
            lost += mate.queue
        self._count = len(self._mates)
        self._end(mate)

    @staticmethod
    def _end(mate: _Mate) -> None:
        mate.pipe.close()
        mate.process.terminate()
        mate.process.join(LEAVE)
        if mate.process.is_alive():
            mate.process.kill()
            mate.process.join()
        mate.process.close()


def _shape(work: Work) -> Wanted | None:
    """What designs on the same section have in common."""
    if not isinstance(work, Asked):
        return None
    return replace(work.wanted, embedment=0.0, adhesive="", ring=0.0)


def _done(hand: Hand, work: Work, stop: Stop) -> Iterator[tuple[int, Result]]:
    if isinstance(work, Asked):
        yield from hand.many([work], stop)
    else:
        yield from hand.limits([work], stop)


def _serve(pipe: Connection, of: Shelf) -> None:
    """Do what comes through the pipe until it is closed; runs in a process of its own."""
    # Ctrl-C is for the one that began this: it knows what to keep.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = multiprocessing.parent_process()
    if parent is not None:
        threading.Thread(target=_after, args=(parent.sentinel,), daemon=True).start()
    with contextlib.suppress(EOFError, OSError):
        hand = of.hand(Memo())
        while True:
            pipe.send(_answered(hand, pipe.recv()))


def _answered(hand: Hand, work: Work) -> Result | Exception:
    try:
        return next(made for _, made in _done(hand, work, lambda: False))
    except Exception as error:  # noqa: BLE001  # it is raised where the work was asked for
        return error


def _after(sentinel: int) -> None:
    """End with the process that began this one, however it ends and whatever is under way."""
    wait((sentinel,))
    os._exit(0)
