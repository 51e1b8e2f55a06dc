"""The pages that show what a job comes to, and the long work: choices and the packet."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from concurrent.futures import wait
from typing import Any
from urllib.parse import quote

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response

from ledgewright.desk import packets, pages
from ledgewright.desk.changes import Hand
from ledgewright.desk.ground import LOOK, Ground, posted_of, until
from ledgewright.desk.notes import Note
from ledgewright.desk.pages import Page
from ledgewright.desk.work import Answer, Kind, outcome
from ledgewright.job import Edit
from ledgewright.job.revision import revision

NOTHING = "tick at least one of what can be built"


class Shows:
    """What is worked out of a job."""

    def __init__(self, ground: Ground) -> None:
        self.ground = ground

    async def told(self, request: Request) -> Response:
        """Only the state of the whole; waits a while for it where it is asked to."""
        name = request.path_params["name"]
        hand = self.ground.hand(name)
        # A page that shows a first look already waits for the whole.
        seen: Kind = "quick" if "seen" in request.query_params else "first"
        await self.ground.wait(request, hand, seen)
        _, now = await run_in_threadpool(self.ground.now, name, hand)
        stage = request.query_params.get("stage", "result")
        frame = self.ground.frame(name, stage, hand, now)
        return pages.answer(request, pages.state_only(frame))

    async def revision(self, request: Request) -> Response:
        """Which text the job file has now, and nothing more: what stays in view asks that every few seconds."""
        hand = self.ground.hand(request.path_params["name"])
        text, gone = await run_in_threadpool(hand.text)
        if gone:
            raise HTTPException(503, gone[0].wrong)
        return JSONResponse({"format": pages.FORMAT, "revision": revision(text)})

    async def result(self, request: Request) -> Response:
        """What the job comes to."""
        name = request.path_params["name"]
        hand = self.ground.hand(name)
        await self.ground.wait(request, hand, "whole")

        def make() -> Page:
            _, now = self.ground.now(name, hand)
            if now.job is not None and now.word not in ("cannot lay", "fault"):
                self.ground.works.ask("whole", hand.path, now.revision)
                _, now = self.ground.now(name, hand)
            whole = self.ground.works.known("whole", hand.path, now.revision)
            return pages.resulted(self.ground.frame(name, "result", hand, now), whole)

        return pages.answer(request, await run_in_threadpool(make))

    async def calculation(self, request: Request) -> Response:
        """One check with every step and its source."""
        name = request.path_params["name"]
        hand = self.ground.hand(name)
        await self.ground.wait(request, hand, "quick")
        _, now = await run_in_threadpool(self.ground.now, name, hand)
        frame = self.ground.frame(name, "result", hand, now)
        return pages.answer(request, pages.calculated(frame, request.path_params["check"]))

    async def fitting(self, request: Request) -> Response:
        """How it goes on."""
        return await self._worked(request, "fitting", "fitting", pages.fitted)

    async def sure(self, request: Request) -> Response:
        """How sure the answers are."""
        return await self._worked(request, "sure", "result", pages.sure)

    async def costs(self, request: Request) -> Response:
        """How it is cut, bought and paid for, and when."""
        return await self._worked(request, "whole", "costs", pages.costs)

    async def _worked(
        self,
        request: Request,
        kind: Kind,
        stage: str,
        show: Callable[[pages.Frame, Answer | None], Page],
    ) -> Response:
        """A page that shows one kind of answer, or that it is being worked out."""
        name = request.path_params["name"]
        hand = self.ground.hand(name)
        await self.ground.wait(request, hand, kind)

        def make() -> Page:
            _, now = self.ground.now(name, hand)
            answer = None
            if now.job is not None:
                self.ground.works.ask(kind, hand.path, now.revision)
                answer = self.ground.works.known(kind, hand.path, now.revision)
            return show(self.ground.frame(name, stage, hand, now), answer)

        return pages.answer(request, await run_in_threadpool(make))


class Long:
    """What takes minutes: it runs beside the pages, which look how far it has come."""

    def __init__(self, ground: Ground) -> None:
        self.ground = ground

    async def choose(self, request: Request) -> Response:
        """The designs worth having of one shelf: looking for them, ending the search, and taking one."""
        name = request.path_params["name"]
        hand = self.ground.hand(name)
        posted = await posted_of(request) if request.method == "POST" else {}
        shelf = posted.get("shelf") or request.query_params.get("shelf", "")
        if posted:
            return await run_in_threadpool(self._choose, request, hand, posted, shelf)
        if "wait" in request.query_params:
            await until(self.ground.works.running("choose", hand.path), LOOK)
        page = await run_in_threadpool(self._choices, name, hand, shelf)
        return pages.answer(request, page)

    def _choices(self, name: str, hand: Hand, shelf: str, wrong: str = "") -> Page:
        _, now = self.ground.now(name, hand)
        running = self.ground.works.running("choose", hand.path)
        busy = running is not None and not running.done()
        shelves = [spec.id for spec in now.job.shelves] if now.job else []
        of = shelf if shelf in shelves else next(iter(shelves), "")
        return pages.choosing(
            self.ground.frame(name, "choose", hand, now),
            self.ground.works.known("choose", hand.path, now.revision, of),
            pages.Search(
                of, tuple(shelves), busy, Note(hand.path, "choose").said() if busy else ""
            ),
            wrong=wrong,
            status=409 if wrong else 200,
        )

    def _choose(
        self, request: Request, hand: Hand, posted: Mapping[str, str], shelf: str
    ) -> Response:
        """Begin a search, end it, or write a choice of the last one; only into the text that was searched."""
        name, taken = request.path_params["name"], posted.get("take")
        text, gone = hand.text()
        if gone:
            raise HTTPException(503, gone[0].wrong)
        again = RedirectResponse(f"/job/{quote(name)}/choose?shelf={quote(shelf)}", status_code=303)
        note = Note(hand.path, "choose")
        if posted.get("do") == "stop":
            note.stop()
            return again
        job = hand.read(text).job
        shelves = [spec.id for spec in job.shelves] if job else []
        of = shelf if shelf in shelves else next(iter(shelves), "")
        if taken is None:
            note.clear()
            self._unfinished(hand, revision(text), of)
            self.ground.works.ask("choose", hand.path, revision(text), of)
            return again
        answer = self.ground.works.known("choose", hand.path, posted.get("base", ""), of)
        front = answer["document"]["front"] if answer and answer["state"] == "done" else []
        choice = next((each for each in front if str(each["k"]) == taken), None)
        if choice is None or posted.get("base") != revision(text):
            changed = "The job was changed since these choices were looked for: look again."
            return pages.answer(request, self._choices(name, hand, of, changed))
        if wrong := self._not_the_same(hand, posted["base"], of, choice):
            return pages.answer(request, self._choices(name, hand, of, wrong))
        made = [Edit(each["path"], each["text"]) for each in choice["edits"]]
        saved = hand.change(posted["base"], made, f"choice {taken}")
        if saved.kind not in ("saved", "same"):
            why = saved.findings[0].wrong if saved.findings else "the file was changed meanwhile"
            return pages.answer(
                request, self._choices(name, hand, of, f"It was not written: {why}.")
            )
        return RedirectResponse(f"/job/{quote(name)}/result", status_code=303)

    def _not_the_same(self, hand: Hand, base: str, shelf: str, choice: Mapping[str, Any]) -> str:
        """Why a choice is not written: through its file it must come out as it was offered. Empty if it does."""
        works = self.ground.works
        which, told = f"{shelf} {choice['k']}", json.dumps({**choice, "shelf": shelf})
        works.forget("take", hand.path, base, which)
        asked = works.ask("take", hand.path, base, which, (told,))
        wait((asked,))
        answer = outcome(asked)
        if answer["state"] == "done":
            return ""
        if answer["state"] == "gone":
            return "The job was changed since these choices were looked for: look again."
        return (
            f"It was not written: {answer.get('wrong', 'it could not be judged anew')}. Look again."
        )

    def _unfinished(self, hand: Hand, base: str, shelf: str) -> None:
        """A search that was ended early is made again; one that came to its end says the same again."""
        answer = self.ground.works.known("choose", hand.path, base, shelf)
        if answer is None or answer["state"] != "done":
            return
        document = answer["document"]
        limited = all(each["load_limited_by"] for each in document["front"])
        if not document["complete"] or not limited:
            self.ground.works.forget("choose", hand.path, base, shelf)

    async def packet(self, request: Request) -> Response:
        """The packet: what is there, and building it."""
        name = request.path_params["name"]
        hand = self.ground.hand(name)
        if request.method == "POST":
            posted = await posted_of(request)
            parts = tuple(key.removeprefix("for ") for key in posted if key.startswith("for "))
            if not parts:
                page = await run_in_threadpool(self._packed, name, hand, NOTHING)
                return pages.answer(request, page)
            await run_in_threadpool(self._build, name, hand, parts)
            return RedirectResponse(f"/job/{quote(name)}/packet", status_code=303)
        if "wait" in request.query_params:
            await until(self.ground.works.running("packet", hand.path), LOOK)
        return pages.answer(request, await run_in_threadpool(self._packed, name, hand))

    def _packed(self, name: str, hand: Hand, wrong: str = "") -> Page:
        _, now = self.ground.now(name, hand)
        running = self.ground.works.running("packet", hand.path)
        # Before what is there is looked at: what is done in between would else be neither awaited nor seen.
        busy = running is not None and not running.done()
        held = packets.held(self.ground.folder, name)
        last = self.ground.works.known("packet", hand.path, now.revision)
        frame = self.ground.frame(name, "packet", hand, now)
        far = Note(hand.path, "packet").said() if busy else ""
        status = 422 if wrong else 200
        said = wrong or (last or {}).get("wrong", "")
        return pages.packed(frame, held, busy=busy, far=far, wrong=said, status=status)

    def _build(self, name: str, hand: Hand, parts: tuple[str, ...]) -> None:
        text, gone = hand.text()
        if gone:
            raise HTTPException(503, gone[0].wrong)
        out = packets.place(self.ground.folder, name)
        self.ground.works.ask("packet", hand.path, revision(text), out, parts)

    async def packet_file(self, request: Request) -> Response:
        """One file of the packet, or all of them."""
        name, file = request.path_params["name"], request.path_params["file"]
        self.ground.folder.job(name)
        return await run_in_threadpool(packets.sent, self.ground.folder, name, file)
