"""What every request passes before a page sees it: Host, where it comes from, whether it is let in, how large it is.

The desk writes files, so a page of somebody else's must not be able to make this browser post to it, nor a
name that points here (DNS rebinding) be able to read from it.
"""

from __future__ import annotations

from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import PlainTextResponse, RedirectResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from ledgewright.desk.gate import COOKIE, Gate

LARGEST = 2_200_000
"""Bytes of a request: the largest job file there is, and its form round it."""
_TOO_LARGE = f"This is more than {LARGEST // 1_000_000} MB; no job is."

_RULES = {
    "Content-Security-Policy": (
        "default-src 'self'; img-src 'self'; script-src 'self'; style-src 'self'; object-src 'none'; "
        "frame-ancestors 'none'; base-uri 'none'; form-action 'self'"
    ),
    "Cache-Control": "no-store",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Referrer-Policy": "same-origin",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
}


_OPEN = ("/join", "/static/", "/font/", "/favicon.ico")
"""What a device may ask for before it is let in: the page that asks for the code, and what it looks like."""
_LOOPBACK = ("127.0.0.1", "::1")


class Guard:
    """Wraps the pages; refuses what is not asked by this browser's own page, and marks every answer.

    Args:
        app: the pages.
        hosts: names with port it answers to on this machine.
        gate: who is let in from the network; None where it listens to this machine alone.
    """

    def __init__(self, app: ASGIApp, hosts: frozenset[str], gate: Gate | None = None) -> None:
        self._app = app
        self._hosts = hosts
        self._gate = gate
        self._away = frozenset({gate.home.split("//")[1].rstrip("/")} if gate else ())

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request, or pass it on."""
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self._app(scope, receive, send)
            return
        if self._gate is not None and scope["path"] == "/" and self._stranger(scope):
            # who types the address alone is shown where the code goes
            await RedirectResponse("/join", status_code=303)(
                scope, receive, _marked(send, lasting=False)
            )
            return
        marked = _marked(send, lasting=scope["path"].startswith("/font/"))
        refused = self._refused(scope)
        if refused is not None:
            status, why = refused
            await PlainTextResponse(why + "\n", status_code=status)(scope, receive, marked)
            return
        await self._app(scope, _counted(receive), marked)

    def _refused(self, scope: Scope) -> tuple[int, str] | None:
        headers = Headers(scope=scope)
        named = headers.getlist("host")
        near = self._gate is None or here(scope)
        if len(named) != 1 or named[0].lower() not in (self._hosts if near else self._away):
            return 421, "This desk answers only to its own address."
        if headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
            return 403, "Another page asked for this. Open the desk's own address instead."
        if not near and not self._let_in(scope):
            return 403, f"Open http://{named[0]}/join and give the code that the terminal shows."
        if scope["method"] in ("GET", "HEAD"):
            return None
        if scope["method"] != "POST":
            return 405, "The desk knows GET, HEAD and POST."
        return _foreign(headers, named[0]) or _large(headers)

    def _stranger(self, scope: Scope) -> bool:
        named = Headers(scope=scope).getlist("host")
        known = len(named) == 1 and named[0].lower() in self._away
        return known and scope["method"] == "GET" and not here(scope) and not self._let_in(scope)

    def _let_in(self, scope: Scope) -> bool:
        path = scope["path"]
        if any(path == each or (each.endswith("/") and path.startswith(each)) for each in _OPEN):
            return True
        token = Request(scope).cookies.get(COOKIE, "")
        return self._gate is not None and self._gate.admits(token)


def here(scope: Scope) -> bool:
    """Say whether a request came in by the address that only this machine reaches."""
    server = scope.get("server")
    return server is not None and server[0] in _LOOPBACK


def _foreign(headers: Headers, host: str) -> tuple[int, str] | None:
    """Refuse a post that does not say it comes from a page of the desk; a foreign form says "null" or its own name."""
    origins = headers.getlist("origin")
    own = len(origins) == 1 and origins[0].lower() == f"http://{host.lower()}"
    silent = not origins and headers.get("sec-fetch-site") == "same-origin"
    if own or silent:
        return None
    return (
        403,
        "This was not sent from a page of the desk. Open the desk's own address and send it there.",
    )


def _large(headers: Headers) -> tuple[int, str] | None:
    said = headers.get("content-length", "0")
    if not said.isdecimal():
        return 400, "The length of this request is no number."
    if len(said) > 12 or int(said) > LARGEST:
        return 413, _TOO_LARGE
    return None


def _counted(receive: Receive) -> Receive:
    """Count what comes in, since a request need not say its length."""
    got = 0

    async def inner() -> Message:
        nonlocal got
        message = await receive()
        got += len(message.get("body", b""))
        if got > LARGEST:
            raise HTTPException(413, _TOO_LARGE)
        return message

    return inner


def _marked(send: Send, *, lasting: bool) -> Send:
    """Mark every answer; letter shapes alone may be kept, so that a phone does not fetch them for every page."""

    async def inner(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in _RULES.items():
                headers[name] = value
            if lasting:
                headers["Cache-Control"] = "private, max-age=86400"
        await send(message)

    return inner
