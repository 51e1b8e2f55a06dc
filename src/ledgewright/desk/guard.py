"""What every request passes before a page sees it: the Host, where it comes from, and how large it is.

The desk writes files, so a page of somebody else's must not be able to make this browser post to it, nor a
name that points here (DNS rebinding) be able to read from it.
"""

from __future__ import annotations

from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

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


class Guard:
    """Wraps the pages; refuses what is not asked by this browser's own page, and marks every answer."""

    def __init__(self, app: ASGIApp, hosts: frozenset[str]) -> None:
        self._app = app
        self._hosts = hosts

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request, or pass it on."""
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self._app(scope, receive, send)
            return
        marked = _marked(send)
        refused = self._refused(scope)
        if refused is not None:
            status, why = refused
            await PlainTextResponse(why + "\n", status_code=status)(scope, receive, marked)
            return
        await self._app(scope, _counted(receive), marked)

    def _refused(self, scope: Scope) -> tuple[int, str] | None:
        headers = Headers(scope=scope)
        named = headers.getlist("host")
        if len(named) != 1 or named[0].lower() not in self._hosts:
            return 421, "This desk answers only to its own address on this machine."
        if headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
            return 403, "Another page asked for this. Open the desk's own address instead."
        if scope["method"] in ("GET", "HEAD"):
            return None
        if scope["method"] != "POST":
            return 405, "The desk knows GET, HEAD and POST."
        return _foreign(headers, named[0]) or _large(headers)


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


def _marked(send: Send) -> Send:
    async def inner(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in _RULES.items():
                headers[name] = value
        await send(message)

    return inner
