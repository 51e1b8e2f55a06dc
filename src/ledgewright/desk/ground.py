"""What all pages of the desk stand on: the folder, who works jobs out, the hand of each job; forms as they come in."""

from __future__ import annotations

import asyncio
import contextlib
from collections.abc import AsyncIterator
from concurrent.futures import Future
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.formparsers import MultiPartException
from starlette.requests import Request

from ledgewright.desk import pages
from ledgewright.desk.changes import Hand
from ledgewright.desk.folder import Folder
from ledgewright.desk.guard import LARGEST
from ledgewright.desk.journal import Journal
from ledgewright.desk.states import State, state
from ledgewright.desk.work import Kind, Works
from ledgewright.job import files
from ledgewright.job.reading import parse
from ledgewright.job.revision import revision

WAIT = 20.0
"""Longest a page that asks to be told waits for what is being worked out (s)."""
LOOK = 2.0
"""How often a page looks how far long work has come (s)."""
FIELDS_MOST = 6000


class Ground:
    """One folder with its jobs."""

    def __init__(self, folder: Folder, works: Works) -> None:
        self.folder = folder
        self.works = works
        self._hands: dict[str, Hand] = {}

    def hand(self, name: str) -> Hand:
        """Return the one hand that writes a job of the folder.

        Raises:
            NoSuchJob: if there is none of that name.
        """
        path = self.folder.job(name)
        return self._hands.setdefault(name, Hand(path, Journal(self.folder.kept(name))))

    def now(self, name: str, hand: Hand) -> tuple[str, State]:
        """Return the text of a job as it is, and the state of the whole as far as it is worked out.

        Raises:
            HTTPException: if the file cannot be read.
        """
        text, gone = hand.text()
        if gone:
            raise HTTPException(503, f"{name}: {gone[0].wrong}; {gone[0].right}")
        return text, state(hand.path, revision(text), self.works)

    def frame(self, name: str, stage: str, hand: Hand, now: State) -> pages.Frame:
        """Return what stands round a page of a job."""
        return pages.Frame(
            name=name,
            stage=stage,
            state=now,
            last=hand.journal.last(),
            before=hand.journal.before(),
            after=hand.journal.after(),
            broken=_broken(hand) if now.job is None else None,
        )

    async def wait(self, request: Request, hand: Hand, kind: Kind) -> None:
        """Where a page asks to be told, wait until what it needs is worked out."""
        if "wait" not in request.query_params:
            return
        text, _ = await run_in_threadpool(hand.text)
        if (await run_in_threadpool(files.load, hand.path)).job is not None:
            await until(self.works.ask(kind, hand.path, revision(text)))


def _broken(hand: Hand) -> pages.Broken | None:
    """What stops a file that is no TOML, and the way back to the last text that was."""
    text, _ = hand.text()
    _, found = parse(text.removeprefix("\ufeff"), hand.path.name)
    return pages.Broken(found[0], hand.whole()) if found else None


def fragment(request: Request) -> bool:
    """Say whether only sections, or data, are asked for."""
    return "x-fragment" in request.headers or pages.wants_json(request)


async def until(done: Future[Any] | None, seconds: float = WAIT) -> None:
    """Wait until a piece of work is done, but no longer than so many seconds."""
    if done is not None and not done.done():
        await asyncio.wait({asyncio.ensure_future(_settled(done))}, timeout=seconds)


async def _settled(done: Future[Any]) -> None:
    """Wait without taking the result, nor cancelling it when the waiting ends."""
    loop = asyncio.get_running_loop()
    event = asyncio.Event()
    done.add_done_callback(lambda _: _tell(loop, event))
    await event.wait()


def _tell(loop: asyncio.AbstractEventLoop, event: asyncio.Event) -> None:
    with contextlib.suppress(RuntimeError):
        loop.call_soon_threadsafe(event.set)


@contextlib.asynccontextmanager
async def form_of(request: Request) -> AsyncIterator[Any]:
    """The form of a request, or a refusal in words."""
    kind = request.headers.get("content-type", "").split(";")[0].strip()
    if kind not in ("application/x-www-form-urlencoded", "multipart/form-data"):
        raise HTTPException(415, "the desk takes forms, and nothing else")
    try:
        form = await request.form(max_files=2, max_fields=FIELDS_MOST, max_part_size=LARGEST)
    except (MultiPartException, ValueError, HTTPException) as wrong:
        if isinstance(wrong, HTTPException) and wrong.status_code == 413:
            raise
        raise HTTPException(400, "this form cannot be read") from None
    try:
        yield form
    finally:
        await form.close()


async def posted_of(request: Request) -> dict[str, str]:
    """Return what was sent, by name."""
    async with form_of(request) as form:
        return {key: value for key, value in form.multi_items() if isinstance(value, str)}
