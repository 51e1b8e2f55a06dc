"""Starting the desk, or answering one request without a server."""

from __future__ import annotations

import asyncio
import importlib
import ipaddress
import socket
import threading
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import unquote, urlsplit

from starlette.types import ASGIApp, Message

from ledgewright.desk.app import app
from ledgewright.desk.gate import Gate
from ledgewright.desk.work import Inline, Works

DEFAULT_PORT = 8737
"""A port of no registered service, so that the desk is found where it was yesterday."""
_HOME = "127.0.0.1"
_NAMES = ("127.0.0.1", "localhost")
_NOWHERE = "192.0.2.1"
"""An address kept for documentation (RFC 5737): on no network, but the way out of this machine leads towards it."""


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


class NoNetwork(OSError):  # noqa: N818  # an answer, not a fault
    """This machine has no address on a network."""


def serve(
    folder: Path,
    port: int,
    told: Callable[[str], None],
    lan: Callable[[str], None] | None = None,
) -> None:
    """Serve the jobs of a folder to this machine until it is stopped.

    Args:
        folder: with the job files.
        port: to listen on; 0 for any that is free.
        told: is given the address once it can be opened.
        lan: hears the codes by which devices of the network are let in; None to let nobody in.

    Raises:
        PortTaken: if something else listens there.
        NoNetwork: if devices are to be let in and there is no network.
    """
    import uvicorn

    listening = [_listening(port)]
    port = listening[0].getsockname()[1]
    gate = None
    if lan is not None:
        away = _address()
        listening.append(_listening(port, away))
        gate = Gate(f"http://{away}:{port}/", lan)
    desk = app(folder, hosts(port), gate=gate)
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
    if gate is not None:
        gate.announce()
    try:
        uvicorn.Server(config).run(sockets=listening)
    finally:
        for each in listening:
            each.close()


def _address() -> str:
    """The address other devices reach this machine by; asking the system for its way out sends nothing."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect((_NOWHERE, 9))
            found = str(probe.getsockname()[0])
        except OSError as error:
            raise NoNetwork(str(error.strerror or error)) from error
    if ipaddress.ip_address(found).is_loopback:
        msg = "it has none but its own"
        raise NoNetwork(msg)
    return found


def _warm() -> None:
    """Load the words of both Englishes, which come with all the sheets, while the first page is looked at."""
    importlib.import_module("ledgewright.sheets.words")


def _listening(port: int, address: str = _HOME) -> socket.socket:
    made = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        made.bind((address, port))
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
