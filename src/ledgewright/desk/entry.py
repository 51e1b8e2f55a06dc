"""Coming in: the jobs of the folder, a new one, one that is brought, a phone of the network."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from urllib.parse import quote

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from ledgewright.desk import examples, pages, questions
from ledgewright.desk.changes import Hand
from ledgewright.desk.gate import COOKIE, Gate, drawing
from ledgewright.desk.ground import Ground, form_of, posted_of
from ledgewright.desk.guard import here
from ledgewright.desk.journal import Journal
from ledgewright.desk.pages import Page
from ledgewright.job import Finding, files
from ledgewright.job.reading import parse


class Entry:
    """The pages before a job is open."""

    def __init__(self, ground: Ground, gate: Gate | None) -> None:
        self.ground = ground
        self.gate = gate

    def jobs(self, _: Request) -> Page:
        """The jobs of the folder."""
        found = self.ground.folder.jobs()
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
        posted = await posted_of(request)
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
        posted = await posted_of(request)
        return await run_in_threadpool(self._new, request, posted)

    def _new(self, request: Request, posted: Mapping[str, str]) -> Response:
        name = (posted.get("q:file") or posted.get("file", "")).strip()
        example = posted.get("example", "")
        try:
            path = self.ground.folder.free(name)
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
        read = Hand(path, Journal(self.ground.folder.kept(name))).read(text)
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
        async with form_of(request) as form:
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
            path = self.ground.folder.free(name)
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
