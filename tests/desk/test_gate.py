"""From the network one device comes in for each code, and nobody without.

Against: what is asked of it: a code good once, nobody in by guessing, nothing of a job to whoever is not in. Host,
Origin and cookies after RFC 9110 and RFC 6265bis (from memory); the picture after segno, a library.
"""

from __future__ import annotations

import re
import socket
from pathlib import Path

import pytest
import segno
from starlette.testclient import TestClient

from ledgewright.desk import serving
from ledgewright.desk.app import app
from ledgewright.desk.gate import GUESSES, SIGNS, Gate, drawing
from ledgewright.desk.serving import DEFAULT_PORT, hosts
from ledgewright.desk.work import Works
from tests.desk.made import ALCOVE, HOME, Never, folder

AWAY = f"http://10.1.2.3:{DEFAULT_PORT}"


@pytest.fixture
def gate() -> Gate:
    return Gate(f"{AWAY}/", lambda _: None)


@pytest.fixture
def desk(tmp_path: Path, gate: Gate) -> object:
    return app(folder(tmp_path, ALCOVE), hosts(DEFAULT_PORT), Works(Never, 0.0), gate)


def device(desk: object, home: str = AWAY) -> TestClient:
    made = TestClient(desk, base_url=home, raise_server_exceptions=False)  # type: ignore[arg-type]
    made.headers["Origin"] = home
    return made


def come_in(client: TestClient, code: str) -> int:
    return client.post("/join", data={"code": code}, follow_redirects=False).status_code


def test_nobody_is_in_without_a_code(desk: object) -> None:
    phone = device(desk)
    assert phone.get("/", follow_redirects=False).headers["location"] == "/join"
    for path in (
        "/new",
        f"/job/{ALCOVE}/result",
        f"/job/{ALCOVE}/file/{ALCOVE}.toml",
        "/phone",
    ):
        got = phone.get(path)
        assert got.status_code == 403
        assert "Reading" not in got.text
    assert phone.post("/new", data={"file": "x", "example": ALCOVE}).status_code == 403
    assert phone.get("/join").status_code == 200
    assert phone.get("/static/desk.css").status_code == 200


def test_a_code_lets_one_device_in_once(desk: object, gate: Gate) -> None:
    phone, other, code = device(desk), device(desk), gate.code
    assert come_in(phone, code.lower()) == 303
    assert phone.get(f"/job/{ALCOVE}/walls").status_code == 200
    assert gate.code != code
    assert come_in(other, code) == 403
    assert other.get("/new").status_code == 403
    assert come_in(other, gate.code.replace("-", " ")) == 303
    assert other.get("/").status_code == 200


def test_the_cookie_is_for_the_desk_alone(desk: object, gate: Gate) -> None:
    got = device(desk).post("/join", data={"code": gate.code}, follow_redirects=False)
    said = got.headers["set-cookie"].lower()
    assert "httponly" in said
    assert "samesite=strict" in said
    other = device(desk)
    other.cookies.set("desk", "guessed")
    assert other.get("/new").status_code == 403


def test_guessing_shuts_the_gate(desk: object, gate: Gate) -> None:
    phone = device(desk)
    said: list[str] = []
    gate._told = said.append  # what the terminal hears
    for _ in range(GUESSES):
        assert come_in(phone, "2222-2222") == 403
    right = gate._code
    assert come_in(phone, right) == 403
    assert gate.code == ""
    assert "started again" in said[-1]


def test_a_foreign_page_cannot_give_the_code(desk: object, gate: Gate) -> None:
    phone = device(desk)
    phone.headers["Origin"] = "http://evil.example"
    assert come_in(phone, gate.code) == 403
    assert phone.get("/new").status_code == 403


def test_each_address_answers_to_its_own_name(desk: object) -> None:
    """A name of this machine on the network's address, and the other way round, are both refused."""
    assert device(desk, HOME).get("/").status_code == 200
    assert (
        device(desk).get("/join", headers={"Host": f"127.0.0.1:{DEFAULT_PORT}"}).status_code == 421
    )
    assert (
        device(desk, HOME).get("/", headers={"Host": f"10.1.2.3:{DEFAULT_PORT}"}).status_code == 421
    )
    assert device(desk).get("/join", headers={"Host": "evil.example"}).status_code == 421


def test_only_this_machine_is_shown_the_code(desk: object, gate: Gate) -> None:
    assert gate.code in device(desk, HOME).get("/phone").text
    phone = device(desk)
    come_in(phone, gate.code)
    text = phone.get("/phone").text
    assert gate.code not in text
    assert "<svg" not in text


def test_the_picture_holds_the_address_with_the_code_behind_the_sign(gate: Gate) -> None:
    assert gate.address == f"{AWAY}/join#{gate.code}"
    assert re.fullmatch(rf"[{SIGNS}]{{4}}-[{SIGNS}]{{4}}", gate.code)
    made = segno.make(gate.address, error="m", micro=False)
    assert drawing(gate.address).count("<path") >= 1
    assert f'viewBox="0 0 {made.symbol_size(5, 4)[0]}' in drawing(gate.address)


def test_no_network_is_told(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    class Nowhere(socket.socket):
        def connect(self, address: object) -> None:
            raise OSError(101, "Network is unreachable")

    monkeypatch.setattr(socket, "socket", Nowhere)
    with pytest.raises(serving.NoNetwork, match="unreachable"):
        serving._address()
