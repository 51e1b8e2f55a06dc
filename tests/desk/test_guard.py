"""Nobody but this browser's own page is answered.

Against: the Fetch and HTML standards (what a browser sends with a foreign form: Origin, or "null", and
Sec-Fetch-Site), RFC 9110 (Host, 413, 415, 421), CSP level 3. From memory.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from starlette.testclient import TestClient

from ledgewright.desk.guard import LARGEST
from tests.desk.made import ALCOVE, HOME, Shown, browser, folder

PAGES = (
    "/",
    "/new",
    f"/job/{ALCOVE}/walls",
    f"/job/{ALCOVE}/result",
    f"/job/{ALCOVE}/file",
    f"/job/{ALCOVE}/packet",
    f"/job/{ALCOVE}/state",
    "/static/desk.js",
    "/static/desk.css",
    "/favicon.ico",
    "/nothing",
    "/job/none/walls",
)


@pytest.fixture
def client(tmp_path: Path) -> TestClient:
    return browser(folder(tmp_path, ALCOVE))


@pytest.mark.parametrize("path", PAGES)
def test_every_answer_carries_the_rules(client: TestClient, path: str) -> None:
    got = client.get(path)
    assert "default-src 'self'" in got.headers["content-security-policy"]
    assert "frame-ancestors 'none'" in got.headers["content-security-policy"]
    assert "unsafe" not in got.headers["content-security-policy"]
    assert got.headers["cache-control"] == "no-store"
    assert got.headers["x-content-type-options"] == "nosniff"


@pytest.mark.parametrize("path", PAGES)
def test_no_page_holds_a_style_a_script_or_a_handler_of_its_own(
    client: TestClient, path: str
) -> None:
    if path.startswith("/static"):
        return
    text = client.get(path).text
    assert " style=" not in text
    assert "<style" not in text
    assert " onclick" not in text
    assert text.count("<script") == text.count('<script type="module" src="/static/')
    assert "https:" not in text


@pytest.mark.parametrize(
    "host",
    [
        "evil.example",
        "127.0.0.1",
        "127.0.0.1:80",
        "localhost.evil.example:8737",
        "",
        "127.0.0.1:8737.evil.example",
    ],
)
@pytest.mark.parametrize("method", ["GET", "POST"])
def test_a_wrong_host_is_refused(client: TestClient, host: str, method: str) -> None:
    got = client.request(method, "/", headers={"Host": host})
    assert got.status_code == 421
    assert "default-src" in got.headers["content-security-policy"]


@pytest.mark.parametrize(
    "origin",
    [
        "null",
        "http://evil.example",
        "https://127.0.0.1:8737",
        "http://127.0.0.1:9999",
        "http://localhost:8737",
        "",
    ],
)
def test_a_foreign_form_changes_nothing(client: TestClient, tmp_path: Path, origin: str) -> None:
    was = (tmp_path / f"{ALCOVE}.toml").read_bytes()
    page = Shown(client, f"/job/{ALCOVE}/shelf")
    client.headers["Origin"] = origin
    got = page.send({"f:shelf.reading.depth": "200"})
    assert got.status_code == 403
    assert (tmp_path / f"{ALCOVE}.toml").read_bytes() == was


def test_a_form_without_an_origin_is_refused_unless_the_browser_vouches_for_it(
    client: TestClient,
) -> None:
    del client.headers["Origin"]
    assert client.post(f"/job/{ALCOVE}/undo", data={"stage": "walls"}).status_code == 403
    own = client.post(
        f"/job/{ALCOVE}/undo",
        data={"stage": "walls"},
        headers={"Sec-Fetch-Site": "same-origin"},
        follow_redirects=False,
    )
    assert own.status_code == 303


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_another_site_reads_nothing(client: TestClient, site: str) -> None:
    got = client.get(f"/job/{ALCOVE}/file", headers={"Sec-Fetch-Site": site})
    assert got.status_code == 403
    assert "Reading" not in got.text


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "OPTIONS", "TRACE"])
def test_other_methods_are_refused(client: TestClient, method: str) -> None:
    assert client.request(method, f"/job/{ALCOVE}/file").status_code == 405


def test_a_huge_upload_is_refused_by_what_it_says_and_by_what_it_sends(client: TestClient) -> None:
    said = client.post("/import", content=b"x", headers={"Content-Length": "100000000"})
    assert said.status_code == 413

    def pieces() -> object:
        for _ in range(LARGEST // 65536 + 2):
            yield b"a" * 65536

    kind = {"Content-Type": "application/x-www-form-urlencoded"}
    sent = client.post(f"/job/{ALCOVE}/shelf", content=pieces(), headers=kind)  # type: ignore[arg-type]
    assert sent.status_code == 413


@pytest.mark.parametrize(
    "kind",
    ["application/json", "text/plain", "multipart/form-data", "multipart/form-data; boundary=x"],
)
def test_what_is_no_form_is_refused_in_words(client: TestClient, kind: str) -> None:
    got = client.post(f"/job/{ALCOVE}/shelf", content=b"{}", headers={"Content-Type": kind})
    assert got.status_code in (400, 409, 415)
    assert "Traceback" not in got.text


@pytest.mark.parametrize(
    "path",
    [
        "/job/..%2f..%2fetc%2fpasswd/file",
        "/job/%2e%2e/file",
        "/job/.ledgewright/file",
        "/job/prices-gbp%00/file",
        f"/job/{ALCOVE}/packet/..%2f{ALCOVE}.toml",
        f"/job/{ALCOVE}/packet/%2e%2e%2f{ALCOVE}.toml",
        f"/job/{ALCOVE}/file/..%2fother.toml",
        "/static/..%2fapp.py",
        "/static/%2e%2e/app.py",
        "/job/a%5c..%5cb/file",
    ],
)
def test_no_path_leads_out_of_the_folder(client: TestClient, tmp_path: Path, path: str) -> None:
    (tmp_path / "secret.txt").write_text("secret", encoding="utf-8")
    got = client.get(path)
    assert got.status_code == 404
    assert "secret" not in got.text
    assert "root:" not in got.text


def test_a_link_out_of_the_folder_is_no_job(tmp_path: Path) -> None:
    inside, outside = tmp_path / "in", tmp_path / "out"
    inside.mkdir()
    outside.mkdir()
    folder(outside, ALCOVE)
    (inside / "linked.toml").symlink_to(outside / f"{ALCOVE}.toml")
    client = browser(inside)
    assert client.get("/job/linked/file").status_code == 404
    assert "linked" not in client.get("/").text


def test_only_the_home_of_this_machine_is_listened_on() -> None:
    from ledgewright.desk.serving import _listening

    with _listening(0) as found:
        assert found.getsockname()[0] == "127.0.0.1"
    assert HOME.startswith("http://127.0.0.1:")
