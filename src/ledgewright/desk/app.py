"""The routes of the desk: each page as links and forms, as sections for its own script, and as JSON."""

from __future__ import annotations

import contextlib
from collections.abc import AsyncIterator, Awaitable, Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any
from urllib.parse import quote

from font_source_sans_pro import font_directory
from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import ClientDisconnect, Request
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles
from starlette.types import ASGIApp

from ledgewright.desk import adding, forms, moving, onsite, packets, pages, stages
from ledgewright.desk.changes import MOST, Hand, Outcome, about
from ledgewright.desk.entry import Entry
from ledgewright.desk.folder import Folder, NoSuchJob
from ledgewright.desk.gate import Gate
from ledgewright.desk.ground import Ground, fragment, posted_of
from ledgewright.desk.guard import Guard
from ledgewright.desk.pages import Page
from ledgewright.desk.shows import Long, Shows
from ledgewright.desk.states import State
from ledgewright.desk.work import Answer, Works
from ledgewright.job import Edit, Job, files

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
    return Guard(Desk(Ground(Folder(folder), works or Works()), gate).application(), hosts, gate)


class Desk:
    """The pages over one folder: the forms, the way back, the file; and every route."""

    def __init__(self, ground: Ground, gate: Gate | None = None) -> None:
        self.ground = ground
        self.entry = Entry(ground, gate)
        self.shows = Shows(ground)
        self.long = Long(ground)

    def application(self) -> Starlette:
        """Return the routes, with every refusal as a page in plain words."""
        job = "/job/{name}"
        routes = [
            Route("/", self._plain(self.entry.jobs)),
            Route("/new", self.entry.new, methods=["GET", "POST"]),
            Route("/import", self.entry.bring, methods=["POST"]),
            Route("/phone", self._plain(self.entry.phone)),
            Route("/join", self.entry.join, methods=["GET", "POST"]),
            Route(job, self.first),
            Route(f"{job}/undo", self.undo, methods=["GET", "POST"]),
            Route(f"{job}/redo", self.redo, methods=["GET", "POST"]),
            Route(f"{job}/journal", self.journal, methods=["GET", "POST"]),
            Route(f"{job}/state", self.shows.told),
            Route(f"{job}/revision", self.shows.revision),
            Route(f"{job}/result", self.shows.result),
            # names of checks of an accident have a slash in them
            Route(f"{job}/result/{{check:path}}", self.shows.calculation),
            Route(f"{job}/drawing", self.drawing),
            Route(f"{job}/site/found", self.found),
            Route(f"{job}/fitting", self.shows.fitting),
            Route(f"{job}/sure", self.shows.sure),
            Route(f"{job}/costs", self.shows.costs),
            Route(f"{job}/choose", self.long.choose, methods=["GET", "POST"]),
            Route(f"{job}/packet", self.long.packet, methods=["GET", "POST"]),
            Route(f"{job}/packet/{{file}}", self.long.packet_file),
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
            self.ground.works.close()

    def _plain(self, make: Callable[[Request], Page]) -> Handler:
        async def inner(request: Request) -> Response:
            return pages.answer(request, await run_in_threadpool(make, request))

        return inner

    async def first(self, request: Request) -> Response:
        """Where a job opens."""
        name = request.path_params["name"]
        self.ground.folder.job(name)
        return RedirectResponse(f"/job/{quote(name)}/result", status_code=303)

    async def stage(self, request: Request) -> Response:
        """A page of forms."""
        name, stage = request.path_params["name"], request.path_params["stage"]
        hand = self.ground.hand(name)
        if stage not in stages.FORMS:
            raise HTTPException(404, "the desk has no such page")
        if request.method != "POST":
            page = await run_in_threadpool(self._stage, name, stage, hand)
            return pages.answer(request, page)
        posted = await posted_of(request)
        return await run_in_threadpool(self._change, request, stage, hand, posted)

    def _stage(
        self,
        name: str,
        stage: str,
        hand: Hand,
        posted: Mapping[str, str] | None = None,
        outcome: Outcome | None = None,
        stood: str = "",
    ) -> Page:
        text, now = self.ground.now(name, hand)
        frame = self.ground.frame(name, stage, hand, now)
        sketch = self._sketch(hand, now)
        shown = pages.Shown(text, posted or {}, outcome, _status(outcome), stood)
        if stage == "site":
            return pages.on_site(frame, shown, sketch, self._sited(hand, now))
        return pages.staged(frame, shown, sketch)

    def _sketch(self, hand: Hand, now: State) -> Answer | None:
        if now.job is None or not now.job.shelves:
            return {"state": "unread"}
        return self.ground.works.soon("sketch", hand.path, now.revision)

    def _sited(self, hand: Hand, now: State) -> Answer | None:
        if now.job is None or now.word in ("cannot lay", "fault"):
            return {"state": "unread"}
        self.ground.works.ask("site", hand.path, now.revision)
        return self.ground.works.known("site", hand.path, now.revision)

    async def drawing(self, request: Request) -> Response:
        """The drawings that follow a page of forms; waits for them where it is asked to."""
        name = request.path_params["name"]
        hand = self.ground.hand(name)
        stage = request.query_params.get("stage", "shelf")
        if stage not in stages.FORMS:
            raise HTTPException(404, "the desk has no such page")
        await self.ground.wait(request, hand, "sketch")

        def make() -> Page:
            _, now = self.ground.now(name, hand)
            return pages.drawing(self.ground.frame(name, stage, hand, now), self._sketch(hand, now))

        return pages.answer(request, await run_in_threadpool(make))

    async def found(self, request: Request) -> Response:
        """What the readings and load tests come to; waits for it where it is asked to."""
        name = request.path_params["name"]
        hand = self.ground.hand(name)
        await self.ground.wait(request, hand, "site")
        page = await run_in_threadpool(self._stage, name, "site", hand)
        return pages.answer(request, page)

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
        apart = not any(posted.get(key) for key in ("add", "take", "stand", "move"))
        outcome = _in_use(posted, hand.change(base, made, what, apart=apart))
        done = outcome.kind in ("saved", "same")
        if done and not fragment(request):
            return RedirectResponse(f"/job/{quote(name)}/{stage}", status_code=303)
        kept = {} if done else forms.changed(forms.forms(stage, held), posted)
        refused = [edit.path for edit in made if edit.path not in outcome.saved]
        kept = {k: v for k, v in kept.items() if not forms.stands(k, outcome.saved, refused)}
        # what was typed for an entry is not shown under another that has its number now
        kept = {k: v for k, v in kept.items() if not _elsewhere(k, outcome)}
        stood = "".join(f"{path}\n" for path in _stood(posted))
        return pages.answer(request, self._stage(name, stage, hand, kept, outcome, stood))

    async def undo(self, request: Request) -> Response:
        """Take the last change back."""
        return await self._step(request, forth=False)

    async def redo(self, request: Request) -> Response:
        """Make the change that was taken back last again."""
        return await self._step(request, forth=True)

    async def _step(self, request: Request, *, forth: bool) -> Response:
        name = request.path_params["name"]
        hand = self.ground.hand(name)
        if request.method != "POST":
            stage = request.query_params.get("stage", "result")
            return await run_in_threadpool(self._stepped, request, hand, stage, None, forth)
        posted = await posted_of(request)
        step, base = hand.redo if forth else hand.undo, posted.get("base", "")
        outcome = await run_in_threadpool(step, base)
        if outcome.kind == "failed":
            raise HTTPException(503, outcome.findings[0].wrong)
        stage = posted.get("stage", "result")
        known = stage if stage in dict(stages.ORDER) else "result"
        if outcome.kind == "conflict" and fragment(request):
            return await run_in_threadpool(self._stepped, request, hand, known, outcome, forth)
        if outcome.kind == "conflict":
            way = "redo" if forth else "undo"
            return RedirectResponse(f"/job/{quote(name)}/{way}?stage={known}", status_code=303)
        return RedirectResponse(f"/job/{quote(name)}/{known}", status_code=303)

    def _stepped(
        self, request: Request, hand: Hand, stage: str, outcome: Outcome | None, forth: bool
    ) -> Response:
        """What going back or forth would do to the job as it is now: asked where it is not as the page showed it."""
        name = request.path_params["name"]
        _, now = self.ground.now(name, hand)
        known = stage if stage in dict(stages.ORDER) else "result"
        frame = self.ground.frame(name, known, hand, now)
        return pages.answer(request, pages.stepped(frame, outcome, forth=forth))

    async def journal(self, request: Request) -> Response:
        """Every change of a job with the way back to it."""
        name = request.path_params["name"]
        hand = self.ground.hand(name)
        if request.method != "POST":

            def make() -> Page:
                _, now = self.ground.now(name, hand)
                frame = self.ground.frame(name, "file", hand, now)
                return pages.journalled(frame, hand.journal.entries())

            return pages.answer(request, await run_in_threadpool(make))
        wanted = (await posted_of(request)).get("to", "")
        try:
            outcome = await run_in_threadpool(
                hand.back_to, int(wanted) if wanted.isdecimal() else -1
            )
        except KeyError:
            raise HTTPException(404, "the journal has no such change") from None
        if outcome.kind == "failed":
            raise HTTPException(503, outcome.findings[0].wrong)
        return RedirectResponse(f"/job/{quote(name)}/journal", status_code=303)

    async def file(self, request: Request) -> Response:
        """The whole file as text."""
        name = request.path_params["name"]
        hand = self.ground.hand(name)
        if request.method != "POST":
            return pages.answer(request, await run_in_threadpool(self._file, name, hand))
        posted = await posted_of(request)
        return await run_in_threadpool(self._rewrite, request, hand, posted)

    def _file(
        self, name: str, hand: Hand, typed: pages.Text | None = None, outcome: Outcome | None = None
    ) -> Page:
        text, now = self.ground.now(name, hand)
        frame = self.ground.frame(name, "file", hand, now)
        shown = typed or pages.Text(text, now.revision)
        return pages.filed(frame, shown, text, outcome, status=_status(outcome))

    def _rewrite(self, request: Request, hand: Hand, posted: Mapping[str, str]) -> Response:
        name = request.path_params["name"]
        # a form sends every line end as CR LF, whatever the file has
        text = posted.get("text", "").replace("\r\n", "\n")
        if text and not text.endswith("\n"):
            text += "\n"
        base = posted.get("over") or posted.get("base", "")
        outcome = hand.replace(base, text, "the file as text")
        if outcome.kind in ("saved", "same"):
            return RedirectResponse(f"/job/{quote(name)}/file", status_code=303)
        # it stays made from what it was made from, or a second press would go over what the other wrote
        typed = pages.Text(text, posted.get("base", ""))
        return pages.answer(request, self._file(name, hand, typed, outcome))

    async def export(self, request: Request) -> Response:
        """The job file itself."""
        name = request.path_params["name"]
        if request.path_params["file"] != f"{name}.toml":
            raise HTTPException(404, "there is no such file here")
        text, _ = await run_in_threadpool(files.text_of, self.ground.folder.job(name))
        return PlainTextResponse(text or "", headers=packets.attached(f"{name}.toml"))

    async def icon(self, _: Request) -> Response:
        """The mark of the desk."""
        return Response((_STATIC / "icon.svg").read_bytes(), media_type="image/svg+xml")


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
        made += [
            Edit(f"job.sure[{k}]", forms.quoted(path)) for k, path in enumerate(_stood(posted), at)
        ]
    return made, ", ".join(dict.fromkeys(edit.path for edit in made))[:MOST]


def _stood(posted: Mapping[str, str]) -> list[str]:
    """The paths of odd figures that are meant, each once."""
    return list(dict.fromkeys(filter(None, posted.get("stand", "").splitlines())))


def _elsewhere(name: str, outcome: Outcome) -> bool:
    """Whether an input is for an entry of a list that clashed, whose number may be another's now."""
    kind, _, path = name.partition(":")
    if kind not in ("f", "r"):
        return False
    at = path if kind == "f" else "{}[{}]".format(*path.rsplit(":", 2)[:2])
    return any(clash.shares(at) for clash in outcome.clashes)


def _in_use(posted: Mapping[str, str], outcome: Outcome) -> Outcome:
    """What is to be taken out and is used elsewhere is told once, where it was asked for, and not at each user."""
    taken = posted.get("take")
    if not taken or outcome.kind != "refused":
        return outcome
    users = [f.path for f in outcome.findings if f.path and not about(f.path, taken)]
    if not users:
        return outcome
    told = ", ".join(dict.fromkeys(users))
    found = replace(
        outcome.findings[0], path=taken, wrong=f"it is still used by {told}", right=_FREE
    )
    return replace(outcome, findings=(found,))


_FREE = "change those first, or take them out; then it can go"


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
