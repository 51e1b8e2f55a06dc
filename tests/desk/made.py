"""A folder with jobs and a browser that asks the desk in this process."""

from __future__ import annotations

import re
from collections.abc import Callable
from concurrent.futures import Executor, Future
from html import unescape
from pathlib import Path
from typing import Any

from starlette.testclient import TestClient

from ledgewright.desk.app import app
from ledgewright.desk.serving import DEFAULT_PORT, hosts
from ledgewright.desk.work import Inline, Works
from tests.jobs import EXAMPLES

HOME = f"http://127.0.0.1:{DEFAULT_PORT}"
ALCOVE, CORNER = "reading-alcove", "stoneware-corner"


class Never(Executor):
    """Works nothing out: for pages that are about the job file alone."""

    def submit(self, fn: Any, /, *args: Any, **kwargs: Any) -> Future[Any]:
        return Future()


class Drawn(Never):
    """Lays out and draws, and works nothing else out: for pages whose drawings and lists of rods count."""

    def submit(self, fn: Any, /, *args: Any, **kwargs: Any) -> Future[Any]:
        return Inline().submit(fn, *args, **kwargs) if args[0] == "sketch" else Future()


def as_read(name: str) -> str:
    """An example with the readings and the load test it holds in comment taken out of comment."""
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    return re.sub(r"(?m)^# ((?:rod = |test = |    \{|\]).*)$", r"\1", text)


def folder(at: Path, *names: str) -> Path:
    """A folder that holds these examples, their prices with them."""
    for name in names:
        text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
        (at / f"{name}.toml").write_text(text, encoding="utf-8")
    for prices in EXAMPLES.glob("prices-*.toml"):
        (at / prices.name).write_text(prices.read_text(encoding="utf-8"), encoding="utf-8")
    return at


def browser(
    at: Path, *, works: bool = False, start: Callable[[], Executor] | None = None
) -> TestClient:
    """A client that behaves as the browser of this machine does on the desk's own pages."""
    begun = start or (Inline if works else Never)
    desk = app(at, hosts(DEFAULT_PORT), Works(begun, 0.0))
    made = TestClient(desk, base_url=HOME, raise_server_exceptions=False)
    made.headers["Origin"] = HOME
    return made


def step(
    client: TestClient, job: str, way: str = "undo", *, base: str = "", stage: str = "shelf"
) -> Any:
    """Press Undo or Redo on a page that shows the job as it is, or as it was at a revision."""
    now = base or client.get(f"/job/{job}/revision").json()["revision"]
    return client.post(
        f"/job/{job}/{way}", data={"stage": stage, "base": now}, follow_redirects=False
    )


class Shown:
    """One page as it came: its fields by name, its text."""

    def __init__(self, client: TestClient, path: str) -> None:
        self.client = client
        self.path = path
        self.text = client.get(path).text

    @property
    def base(self) -> str:
        found = re.search(r'name="base" value="([^"]+)"', self.text)
        assert found is not None
        return found[1]

    def value(self, name: str) -> str:
        """What an input of that name holds."""
        found = re.search(rf'name="{re.escape(name)}" value="([^"]*)"', self.text)
        assert found is not None, name
        return unescape(found[1])

    def send(self, fields: dict[str, str], *, fragment: bool = False) -> Any:
        headers = {"X-Fragment": "1"} if fragment else {}
        return self.client.post(
            self.path, data={"base": self.base, **fields}, headers=headers, follow_redirects=False
        )
