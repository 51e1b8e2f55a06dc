"""The routes of the desk: each page as links and forms, as sections for its own script, and as JSON."""

from __future__ import annotations

import asyncio
import contextlib
from collections.abc import AsyncIterator, Awaitable, Callable, Mapping, Sequence
from concurrent.futures import Future
from pathlib import Path
from typing import Any
from urllib.parse import quote

from font_source_sans_pro import font_directory
from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException
from starlette.formparsers import MultiPartException
from starlette.requests import ClientDisconnect, Request
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles
from starlette.types import ASGIApp

from ledgewright.desk import (
    adding,
    examples,
    forms,
    moving,
    onsite,
    packets,
    pages,
    questions,
    stages,
)
from ledgewright.desk.changes import Hand, Outcome
from ledgewright.desk.folder import Folder, NoSuchJob
from ledgewright.desk.gate import COOKIE, Gate, drawing
from ledgewright.desk.guard import LARGEST, Guard, here
from ledgewright.desk.journal import Journal
from ledgewright.desk.notes import Note
from ledgewright.desk.pages import Page
from ledgewright.desk.states import State, state
from ledgewright.desk.work import Answer, Kind, Works
from ledgewright.job import Edit, Finding, Job, files
from ledgewright.job.reading import parse
from ledgewright.job.revision import revision

WAIT = 20.0
"""Longest a page that asks to be told waits for what is being worked out (s)."""
LOOK = 2.0
"""How often a page looks how far long work has come (s)."""
FIELDS_MOST = 6000
_STATUS = {"refused": 422, "conflict": 409, "failed": 503}
_STATIC = Path(__file__).parent / "static"

Handler = Callable[[Request], Awaitable[Response]]


def app(
    folder: Path, hosts: frozenset[str], works: Works | None = None, gate: Gate | None = None
) -> ASGIApp:
    """Return the desk of a folder as an application.

    Args:
        folder: with the job files.
        hosts: names with port that it answers to on this machine.
        works: who works jobs out; by default processes of their own.
        gate: who is let in from the network; None to let nobody in.
    """
    return Guard(Desk(Folder(folder), works or Works(), gate).application(), hosts, gate)


class Desk:
    """The pages over one folder."""

    def __init__(self, folder: Folder, works: Works, gate: Gate | None = None) -> None:
        self.folder = folder
        self.works = works
        self.gate = gate
        self._hands: dict[str, Hand] = {}

    def application(self) -> Starlette:
        """Return the routes, with every refusal as a page in plain words."""
        job = "/job/{name}"
        routes = [
            Route("/", self._plain(self.jobs)),
            Route("/new", self.new, methods=["GET", "POST"]),
            Route("/import", self.bring, methods=["POST"]),
            Route("/phone", self._plain(self.phone)),
            Route("/join", self.join, methods=["GET", "POST"]),
            Route(job, self.first),
            Route(f"{job}/undo", self.undo, methods=["POST"]),
            Route(f"{job}/redo", self.redo, methods=["POST"]),
            Route(f"{job}/journal", self.journal, methods=["GET", "POST"]),
            Route(f"{job}/state", self.told),
            Route(f"{job}/result", self.result),
            # names of checks of an accident have a slash in them
            Route(f"{job}/result/{{check:path}}", self.calculation),
            Route(f"{job}/drawing", self.drawing),
            Route(f"{job}/site/found", self.found),
            Route(f"{job}/fitting", self.fitting),
            Route(f"{job}/sure", self.sure),
            Route(f"{job}/costs", self.costs),
            Route(f"{job}/choose", self.choose, methods=["GET", "POST"]),
            Route(f"{job}/packet", self.packet, methods=["GET", "POST"]),
            Route(f"{job}/packet/{{file}}", self.packet_file),
            Route(f"{job}/file", self.file, methods=["GET", "POST"]),
            Route(f"{job}/file/{{file}}", self.export),
            Route(f"{job}/{{stage}}", self.stage, methods=["GET", "POST"]),
            Route("/favicon.ico", self.icon),
            Mount("/static", StaticFiles(directory=_STATIC)),
            Mount("/font", StaticFiles(directory=font_directory)),
        ]
        caught: dict[Any, Any] = {
            HTTPException: _refusal,
            NoSuchJob: _no_job,
            ClientDisconnect: _gone,
            OSError: _disk,
            Exception: _fault,
        }
        return Starlette(routes=routes, exception_handlers=caught, lifespan=self._life)

    @contextlib.asynccontextmanager
    async def _life(self, _: Starlette) -> AsyncIterator[None]:
        try:
            yield
        finally:
            self.works.close()

    def _plain(self, make: Callable[[Request], Page]) -> Handler:
        async def inner(request: Request) -> Response:
            return pages.answer(request, await run_in_threadpool(make, request))

        return inner

    def hand(self, name: str) -> Hand:
        """Return the one hand that writes a job of the folder.

        Raises:
            NoSuchJob: if there is none of that name.
        """
        path = self.folder.job(name)
        return self._hands.setdefault(name, Hand(path, Journal(self.folder.kept(name))))

    # The folder

    def jobs(self, _: Request) -> Page:
        """The jobs of the folder."""
        found = self.folder.jobs()
        data = {"jobs": [{"name": j.name, "title": j.title, "place": j.place} for j in found]}
        return Page("jobs.html", data, {"jobs": found, "examples": examples.names()})

    def phone(self, request: Request) -> Page:
        """How a phone comes in: the code and its picture, shown to this machine alone."""
        gate = self.gate if here(request.scope) else None
        return Page(
            "phone.html", {"lan": self.gate is not None}, {"gate": gate, "picture": drawing}
        )

    async def join(self, request: Request) -> Response:
        """Where a device of the network gives the code."""
        if self.gate is None:
            raise HTTPException(404, "this desk listens to this machine alone")
        if request.method != "POST":
            return pages.answer(request, Page("join.html", {}, {"wrong": ""}))
        posted = await _posted(request)
        token = await run_in_threadpool(self.gate.enter, posted.get("code", ""))
        if token is None:
            why = (
                "Too many wrong codes: nobody else comes in until the desk is started again."
                if self.gate.shut
                else "That is not the code the terminal shows now; each is good once."
            )
            return pages.answer(request, Page("join.html", {"wrong": why}, {"wrong": why}, 403))
        made = RedirectResponse("/", status_code=303)
        made.set_cookie(COOKIE, token, max_age=86400, httponly=True, samesite="strict")
        return made

    async def new(self, request: Request) -> Response:
        """The ten-minute questions, or a copy of an example."""
        if request.method != "POST":
            return pages.answer(request, pages.asked({}, ()))
        posted = await _posted(request)
        return await run_in_threadpool(self._new, request, posted)

    def _new(self, request: Request, posted: Mapping[str, str]) -> Response:
        name = (posted.get("q:file") or posted.get("file", "")).strip()
        example = posted.get("example", "")
        try:
            path = self.folder.free(name)
        except ValueError as wrong:
            found = Finding(
                "file", "refuse", name, None, "file", name, str(wrong), "choose another"
            )
            return pages.answer(request, pages.asked(posted, (found,), status=422))
        if example:
            if example not in examples.names():
                raise HTTPException(404, "there is no example of that name")
            refused, _ = examples.copy(example, path)
            return self._begun(request, name, refused, posted)
        text = questions.job_text(posted)
        read = Hand(path, Journal(self.folder.kept(name))).read(text)
        if read.job is None:
            stops = tuple(f for f in read.findings if f.level != "note")
            return pages.answer(request, pages.asked(posted, stops, status=422))
        return self._begun(request, name, files.save(path, text, base=files.NEW).findings, posted)

    def _begun(
        self, request: Request, name: str, refused: Sequence[Finding], posted: Mapping[str, str]
    ) -> Response:
        if refused:
            return pages.answer(request, pages.asked(posted, tuple(refused), status=409))
        return RedirectResponse(f"/job/{quote(name)}", status_code=303)

    async def bring(self, request: Request) -> Response:
        """Take a job file in under a name of its own."""
        async with _form(request) as form:
            held = form.get("job")
            data = await held.read() if isinstance(held, UploadFile) else b""
            sent = held.filename or "" if isinstance(held, UploadFile) else ""
            name = str(form.get("name") or "").strip() or Path(sent).stem
        return await run_in_threadpool(self._bring, name, data)

    def _bring(self, name: str, data: bytes) -> Response:
        if len(data) > files.LARGEST:
            raise HTTPException(413, "this file is larger than 2 MB; no job is")
        try:
            text = data.decode("utf-8")
            path = self.folder.free(name)
        except UnicodeDecodeError:
            raise HTTPException(422, "this is not text in UTF-8") from None
        except ValueError as wrong:
            raise HTTPException(422, str(wrong)) from None
        document, trouble = parse(text.removeprefix("\ufeff"), name)
        if document is None:
            raise HTTPException(422, f"{trouble[0].wrong}; {trouble[0].right}")
        saved = files.save(path, text, base=files.NEW)
        if saved.revision is None:
            raise HTTPException(409, saved.findings[0].wrong)
        return RedirectResponse(f"/job/{quote(name)}", status_code=303)

    # One job

    async def first(self, request: Request) -> Response:
        """Where a job opens."""
        name = request.path_params["name"]
        self.folder.job(name)
        return RedirectResponse(f"/job/{quote(name)}/result", status_code=303)

    async def stage(self, request: Request) -> Response:
        """A page of forms."""
        name, stage = request.path_params["name"], request.path_params["stage"]
        hand = self.hand(name)
        if stage not in stages.FORMS:
            raise HTTPException(404, "the desk has no such page")
        if request.method != "POST":
            page = await run_in_threadpool(self._stage, name, stage, hand)
            return pages.answer(request, page)
        posted = await _posted(request)
        return await run_in_threadpool(self._change, request, stage, hand, posted)

    def _stage(
        self,
        name: str,
        stage: str,
        hand: Hand,
        posted: Mapping[str, str] | None = None,
        outcome: Outcome | None = None,
    ) -> Page:
        text, now = self._now(name, hand)
        frame = self._frame(name, stage, hand, now)
        sketch = self._sketch(hand, now)
        shown = pages.Shown(text, posted or {}, outcome, _status(outcome))
        if stage == "site":
            return pages.on_site(frame, shown, sketch, self._sited(hand, now))
        return pages.staged(frame, shown, sketch)

    def _sketch(self, hand: Hand, now: State) -> Answer | None:
        if now.job is None or not now.job.shelves:
            return {"state": "unread"}
        return self.works.soon("sketch", hand.path, now.revision)

    def _sited(self, hand: Hand, now: State) -> Answer | None:
        if now.job is None or now.word in ("cannot lay", "fault"):
            return {"state": "unread"}
        self.works.ask("site", hand.path, now.revision)
        return self.works.known("site", hand.path, now.revision)

    async def drawing(self, request: Request) -> Response:
        """The drawings that follow a page of forms; waits for them where it is asked to."""
        name = request.path_params["name"]
        hand = self.hand(name)
        stage = request.query_params.get("stage", "shelf")
        if stage not in stages.FORMS:
            raise HTTPException(404, "the desk has no such page")
        await self._wait(request, hand, "sketch")

        def make() -> Page:
            _, now = self._now(name, hand)
            return pages.drawing(self._frame(name, stage, hand, now), self._sketch(hand, now))

        return pages.answer(request, await run_in_threadpool(make))

    async def found(self, request: Request) -> Response:
        """What the readings and load tests come to; waits for it where it is asked to."""
        name = request.path_params["name"]
        hand = self.hand(name)
        await self._wait(request, hand, "site")
        page = await run_in_threadpool(self._stage, name, "site", hand)
        return pages.answer(request, page)

    def _now(self, name: str, hand: Hand) -> tuple[str, State]:
        text, gone = hand.text()
        if gone:
            raise HTTPException(503, f"{name}: {gone[0].wrong}; {gone[0].right}")
        return text, state(hand.path, revision(text), self.works)

    def _frame(self, name: str, stage: str, hand: Hand, now: State) -> pages.Frame:
        return pages.Frame(
            name=name,
            stage=stage,
            state=now,
            last=hand.journal.last(),
            before=hand.journal.before(),
            after=hand.journal.after(),
        )

    def _change(
        self, request: Request, stage: str, hand: Hand, posted: Mapping[str, str]
    ) -> Response:
        name = request.path_params["name"]
        base = posted.get("base", "")
        shown = hand.based(base)
        if shown is None:
            hand.text()
            shown = hand.based(base)
        if shown is None:
            raise HTTPException(
                409, "this page is older than what the desk remembers: load it again"
            )
        held = forms.document(shown)
        made, what = _asked(stage, posted, held, hand.read(shown).job)
        outcome = hand.change(base, made, what)
        done = outcome.kind in ("saved", "same")
        if done and not _fragment(request):
            return RedirectResponse(f"/job/{quote(name)}/{stage}", status_code=303)
        kept = {} if done else forms.changed(forms.forms(stage, held), posted)
        return pages.answer(request, self._stage(name, stage, hand, kept, outcome))

    async def undo(self, request: Request) -> Response:
        """Take the last change back."""
        return await self._step(request, forth=False)

    async def redo(self, request: Request) -> Response:
        """Make the change that was taken back last again."""
        return await self._step(request, forth=True)

    async def _step(self, request: Request, *, forth: bool) -> Response:
        name = request.path_params["name"]
        hand = self.hand(name)
        posted = await _posted(request)
        outcome = await run_in_threadpool(hand.redo if forth else hand.undo)
        if outcome.kind == "failed":
            raise HTTPException(503, outcome.findings[0].wrong)
        stage = posted.get("stage", "result")
        known = stage if stage in dict(stages.ORDER) else "result"
        return RedirectResponse(f"/job/{quote(name)}/{known}", status_code=303)

    async def journal(self, request: Request) -> Response:
        """Every change of a job with the way back to it."""
        name = request.path_params["name"]
        hand = self.hand(name)
        if request.method != "POST":

            def make() -> Page:
                _, now = self._now(name, hand)
                frame = self._frame(name, "file", hand, now)
                return pages.journalled(frame, hand.journal.entries())

            return pages.answer(request, await run_in_threadpool(make))
        wanted = (await _posted(request)).get("to", "")
        try:
            outcome = await run_in_threadpool(
                hand.back_to, int(wanted) if wanted.isdecimal() else -1
            )
        except KeyError:
            raise HTTPException(404, "the journal has no such change") from None
        if outcome.kind == "failed":
            raise HTTPException(503, outcome.findings[0].wrong)
        return RedirectResponse(f"/job/{quote(name)}/journal", status_code=303)

    async def told(self, request: Request) -> Response:
        """Only the state of the whole; waits a while for it where it is asked to."""
        name = request.path_params["name"]
        hand = self.hand(name)
        await self._wait(request, hand, "quick")
        _, now = await run_in_threadpool(self._now, name, hand)
        stage = request.query_params.get("stage", "result")
        frame = self._frame(name, stage, hand, now)
        return pages.answer(request, pages.state_only(frame))

    async def result(self, request: Request) -> Response:
        """What the job comes to."""
        name = request.path_params["name"]
        hand = self.hand(name)
        await self._wait(request, hand, "whole")

        def make() -> Page:
            _, now = self._now(name, hand)
            if now.job is not None and now.word not in ("cannot lay", "fault"):
                self.works.ask("whole", hand.path, now.revision)
                _, now = self._now(name, hand)
            whole = self.works.known("whole", hand.path, now.revision)
            return pages.resulted(self._frame(name, "result", hand, now), whole)

        return pages.answer(request, await run_in_threadpool(make))

    async def calculation(self, request: Request) -> Response:
        """One check with every step and its source."""
        name = request.path_params["name"]
        hand = self.hand(name)
        await self._wait(request, hand, "quick")
        _, now = await run_in_threadpool(self._now, name, hand)
        frame = self._frame(name, "result", hand, now)
        page = pages.calculated(frame, request.path_params["check"])
        if page is None:
            raise HTTPException(404, "there is no check of that name in this job")
        return pages.answer(request, page)

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
        hand = self.hand(name)
        await self._wait(request, hand, kind)

        def make() -> Page:
            _, now = self._now(name, hand)
            answer = None
            if now.job is not None:
                self.works.ask(kind, hand.path, now.revision)
                answer = self.works.known(kind, hand.path, now.revision)
            return show(self._frame(name, stage, hand, now), answer)

        return pages.answer(request, await run_in_threadpool(make))

    async def choose(self, request: Request) -> Response:
        """The designs worth having of one shelf: looking for them, ending the search, and taking one."""
        name = request.path_params["name"]
        hand = self.hand(name)
        posted = await _posted(request) if request.method == "POST" else {}
        shelf = posted.get("shelf") or request.query_params.get("shelf", "")
        if posted:
            return await run_in_threadpool(self._choose, request, hand, posted, shelf)
        if "wait" in request.query_params:
            await _until(self.works.running("choose", hand.path), LOOK)
        page = await run_in_threadpool(self._choices, name, hand, shelf)
        return pages.answer(request, page)

    def _choices(self, name: str, hand: Hand, shelf: str, wrong: str = "") -> Page:
        _, now = self._now(name, hand)
        running = self.works.running("choose", hand.path)
        busy = running is not None and not running.done()
        shelves = [spec.id for spec in now.job.shelves] if now.job else []
        of = shelf if shelf in shelves else next(iter(shelves), "")
        return pages.choosing(
            self._frame(name, "choose", hand, now),
            self.works.known("choose", hand.path, now.revision, of),
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
            self.works.ask("choose", hand.path, revision(text), of)
            return again
        answer = self.works.known("choose", hand.path, posted.get("base", ""), of)
        front = answer["document"]["front"] if answer and answer["state"] == "done" else []
        choice = next((each for each in front if str(each["k"]) == taken), None)
        if choice is None or posted.get("base") != revision(text):
            changed = "The job was changed since these choices were looked for: look again."
            return pages.answer(request, self._choices(name, hand, of, changed))
        made = [Edit(each["path"], each["text"]) for each in choice["edits"]]
        outcome = hand.change(posted["base"], made, f"choice {taken}")
        if outcome.kind not in ("saved", "same"):
            why = (
                outcome.findings[0].wrong if outcome.findings else "the file was changed meanwhile"
            )
            return pages.answer(
                request, self._choices(name, hand, of, f"It was not written: {why}.")
            )
        return RedirectResponse(f"/job/{quote(name)}/result", status_code=303)

    def _unfinished(self, hand: Hand, base: str, shelf: str) -> None:
        """A search that was ended early is made again; one that came to its end says the same again."""
        answer = self.works.known("choose", hand.path, base, shelf)
        if answer and answer["state"] == "done" and not answer["document"]["complete"]:
            self.works.forget("choose", hand.path, base, shelf)

    async def packet(self, request: Request) -> Response:
        """The packet: what is there, and building it."""
        name = request.path_params["name"]
        hand = self.hand(name)
        if request.method == "POST":
            await _posted(request)
            await run_in_threadpool(self._build, name, hand)
            return RedirectResponse(f"/job/{quote(name)}/packet", status_code=303)
        if "wait" in request.query_params:
            await _until(self.works.running("packet", hand.path), LOOK)

        def make() -> Page:
            _, now = self._now(name, hand)
            running = self.works.running("packet", hand.path)
            held = packets.held(self.folder, name)
            last = self.works.known("packet", hand.path, now.revision)
            busy = running is not None and not running.done()
            frame = self._frame(name, "packet", hand, now)
            far = Note(hand.path, "packet").said() if busy else ""
            wrong = (last or {}).get("wrong", "")
            return pages.packed(frame, held, busy=busy, far=far, wrong=wrong)

        return pages.answer(request, await run_in_threadpool(make))

    def _build(self, name: str, hand: Hand) -> None:
        text, gone = hand.text()
        if gone:
            raise HTTPException(503, gone[0].wrong)
        out = packets.place(self.folder, name)
        self.works.ask("packet", hand.path, revision(text), out)

    async def packet_file(self, request: Request) -> Response:
        """One file of the packet, or all of them."""
        name, file = request.path_params["name"], request.path_params["file"]
        self.folder.job(name)
        return await run_in_threadpool(packets.sent, self.folder, name, file)

    async def file(self, request: Request) -> Response:
        """The whole file as text."""
        name = request.path_params["name"]
        hand = self.hand(name)
        if request.method != "POST":
            return pages.answer(request, await run_in_threadpool(self._file, name, hand))
        posted = await _posted(request)
        return await run_in_threadpool(self._rewrite, request, hand, posted)

    def _file(
        self, name: str, hand: Hand, typed: str | None = None, outcome: Outcome | None = None
    ) -> Page:
        text, now = self._now(name, hand)
        frame = self._frame(name, "file", hand, now)
        shown = text if typed is None else typed
        return pages.filed(frame, shown, outcome, status=_status(outcome))

    def _rewrite(self, request: Request, hand: Hand, posted: Mapping[str, str]) -> Response:
        name = request.path_params["name"]
        # a form sends every line end as CR LF, whatever the file has
        text = posted.get("text", "").replace("\r\n", "\n")
        if text and not text.endswith("\n"):
            text += "\n"
        outcome = hand.replace(posted.get("base", ""), text, "the file as text")
        if outcome.kind in ("saved", "same"):
            return RedirectResponse(f"/job/{quote(name)}/file", status_code=303)
        return pages.answer(request, self._file(name, hand, text, outcome))

    async def export(self, request: Request) -> Response:
        """The job file itself."""
        name = request.path_params["name"]
        if request.path_params["file"] != f"{name}.toml":
            raise HTTPException(404, "there is no such file here")
        text, _ = await run_in_threadpool(files.text_of, self.folder.job(name))
        return PlainTextResponse(text or "", headers=packets.attached(f"{name}.toml"))

    async def icon(self, _: Request) -> Response:
        """The mark of the desk."""
        return Response((_STATIC / "icon.svg").read_bytes(), media_type="image/svg+xml")

    async def _wait(self, request: Request, hand: Hand, kind: Kind) -> None:
        """Where a page asks to be told, wait until what it needs is worked out."""
        if "wait" not in request.query_params:
            return
        text, _ = await run_in_threadpool(hand.text)
        if (await run_in_threadpool(files.load, hand.path)).job is not None:
            await _until(self.works.ask(kind, hand.path, revision(text)))


def _asked(
    stage: str, posted: Mapping[str, str], held: Mapping[str, Any], job: Job | None
) -> tuple[list[Edit], str]:
    """The changes that a form asks for, and what they are in words."""
    made = forms.edits(forms.forms(stage, held), posted, held)
    made += _moved(posted, held, job)
    entry = onsite.added(posted, held) if stage == "site" else None
    made += [entry] if entry else []
    for number, adder in enumerate(adding.adders(stage, held)):
        if posted.get("add") == str(number):
            made.append(adding.added(adder, posted, held))
    taken = posted.get("take")
    if taken:
        if taken not in {form.take for form in forms.forms(stage, held)}:
            raise HTTPException(400, "this cannot be taken out")
        made.append(Edit(taken, None))
    if posted.get("stand"):
        sure = held.get("job", {}).get("sure", []) if isinstance(held.get("job"), dict) else []
        at = len(sure) if isinstance(sure, list) else 0
        made.append(Edit(f"job.sure[{at}]", forms.quoted(posted["stand"])))
    return made, ", ".join(dict.fromkeys(edit.path for edit in made))[:200]


def _moved(posted: Mapping[str, str], held: Mapping[str, Any], job: Job | None) -> list[Edit]:
    if not posted.get("move"):
        return []
    if job is None:
        raise HTTPException(409, "a rod can be moved once the job can be read")
    try:
        return moving.moved(job, held, posted["move"], posted.get("to", ""))
    except moving.NoSuchMoveError:
        raise HTTPException(404, "there is no such rod in this job") from None


def _status(outcome: Outcome | None) -> int:
    return _STATUS.get(outcome.kind, 200) if outcome else 200


def _fragment(request: Request) -> bool:
    return "x-fragment" in request.headers or pages.wants_json(request)


async def _until(done: Future[Any] | None, seconds: float = WAIT) -> None:
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
async def _form(request: Request) -> AsyncIterator[Any]:
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


async def _posted(request: Request) -> dict[str, str]:
    async with _form(request) as form:
        return {key: value for key, value in form.multi_items() if isinstance(value, str)}


async def _refusal(request: Request, error: Exception) -> Response:
    status = error.status_code if isinstance(error, HTTPException) else 500
    why = str(error.detail) if isinstance(error, HTTPException) else ""
    headers = error.headers if isinstance(error, HTTPException) else None
    found = {404: "There is nothing here.", 405: "This page is not asked for like that."}
    said = found.get(status, "This cannot be done.") if why in _PHRASES else why
    return pages.refused(request, status, said, headers)


_PHRASES = ("Not Found", "Method Not Allowed", "Bad Request", "")


async def _no_job(request: Request, _: Exception) -> Response:
    return pages.refused(request, 404, "There is no job of that name in this folder.")


async def _disk(request: Request, error: Exception) -> Response:
    why = error.strerror if isinstance(error, OSError) and error.strerror else "the disk refused"
    said = f"This could not be written or read: {why}. The job file on disk is whole."
    return pages.refused(request, 503, said)


async def _gone(_: Request, __: Exception) -> Response:
    return Response(status_code=400)


async def _fault(request: Request, _: Exception) -> Response:
    said = "The program met a fault of its own. The job file on disk is whole; the terminal tells more."
    return pages.refused(request, 500, said)
