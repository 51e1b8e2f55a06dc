"""Starting the desk, or answering one request without a server."""

from __future__ import annotations

import asyncio
import importlib
import socket
import threading
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import unquote, urlsplit

from starlette.types import ASGIApp, Message

from ledgewright.desk.app import app
from ledgewright.desk.work import Inline, Works

DEFAULT_PORT = 8737
"""A port of no registered service, so that the desk is found where it was yesterday."""
_HOME = "127.0.0.1"
_NAMES = ("127.0.0.1", "localhost")


class PortTaken(OSError):  # noqa: N818  # an answer, not a fault
    """Something else listens on that port."""


@dataclass(frozen=True)
class Got:
    """One answer without a server: status, kind, body."""

    status: int
    kind: str
    body: bytes


def hosts(port: int) -> frozenset[str]:
    """Return the names the desk answers to: this machine by its own address, and no other."""
    return frozenset(f"{name}:{port}" for name in _NAMES)


def serve(folder: Path, port: int, told: Callable[[str], None]) -> None:
    """Serve the jobs of a folder to this machine until it is stopped.

    Args:
        folder: with the job files.
        port: to listen on; 0 for any that is free.
        told: is given the address once it can be opened.

    Raises:
        PortTaken: if something else listens there.
    """
    import uvicorn

    listening = _listening(port)
    port = listening.getsockname()[1]
    desk = app(folder, hosts(port))
    config = uvicorn.Config(
        desk,
        log_level="warning",
        access_log=False,
        server_header=False,
        date_header=False,
        proxy_headers=False,
        timeout_graceful_shutdown=2,
        limit_concurrency=100,
        ws="none",
    )
    threading.Thread(target=_warm, daemon=True).start()
    told(f"http://{_HOME}:{port}/")
    try:
        uvicorn.Server(config).run(sockets=[listening])
    finally:
        listening.close()


def _warm() -> None:
    """Load the words of both Englishes, which come with all the sheets, while the first page is looked at."""
    importlib.import_module("ledgewright.sheets.words")


def _listening(port: int) -> socket.socket:
    made = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        made.bind((_HOME, port))
        # bound twice with SO_REUSEADDR is no fault until somebody listens
        made.listen(128)
    except OSError as error:
        made.close()
        raise PortTaken(str(error.strerror or error)) from error
    return made


def get(folder: Path, path: str) -> Got:
    """Answer one GET as the server would, with everything worked out.

    Args:
        folder: with the job files.
        path: of the page, such as "/job/corner/result?format=json".

    Returns:
        The answer.
    """
    works = Works(Inline)
    return asyncio.run(_get(app(folder, hosts(DEFAULT_PORT), works), path))


async def _get(desk: ASGIApp, path: str) -> Got:
    parts = urlsplit(path if path.startswith("/") else f"/{path}")
    status, kind, body = 500, "", bytearray()

    async def receive() -> Message:
        return {"type": "http.request", "body": b"", "more_body": False}

    async def send(message: Message) -> None:
        nonlocal status, kind
        if message["type"] == "http.response.start":
            status = message["status"]
            kind = dict(message["headers"]).get(b"content-type", b"").decode("latin-1")
        else:
            body.extend(message.get("body", b""))

    scope = {
        "type": "http",
        "asgi": {"version": "3.0"},
        "http_version": "1.1",
        "method": "GET",
        "scheme": "http",
        "path": unquote(parts.path),
        "raw_path": parts.path.encode(),
        "root_path": "",
        "query_string": parts.query.encode(),
        "headers": [(b"host", f"{_HOME}:{DEFAULT_PORT}".encode())],
        "server": (_HOME, DEFAULT_PORT),
        "client": (_HOME, 0),
    }
    await desk(scope, receive, send)
    return Got(status, kind, bytes(body))
