"""The desk of a job with a wall nobody may drill: every address, as page, JSON and download, gives nothing away.

Against: the job's own tapes, as in tests/sheets/test_withheld.py: a hole stands half way between the taped edges of its
stud (facts of the trade).
"""

from __future__ import annotations

import io
import json
import re
import zipfile
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from starlette.routing import Mount, Route
from starlette.testclient import TestClient

from ledgewright import plan as room
from ledgewright.desk import stages, work
from ledgewright.desk.app import app
from ledgewright.desk.packets import ALL as ZIP
from ledgewright.desk.serving import DEFAULT_PORT, hosts
from ledgewright.desk.work import Inline, Works
from ledgewright.job import Job
from ledgewright.memo import Memo
from ledgewright.plan import Plan, full
from tests.desk.made import ALCOVE as ALCOVE_NAME
from tests.desk.made import HOME, browser, folder
from tests.jobs import MEMO
from tests.sheets import paper
from tests.sheets.test_withheld import (
    AS_SET,
    PACKED,
    Case,
    case,
    heights,
    leaked,
    places,
    secret,
    spoken,
    texts,
    unseen,
)

OWN = re.compile(
    r'<(?:input|textarea)[^>]*name="(?:[fr]:(?:shelf|site)[^"]*|text)"[^>]*>(?:[^<]*</textarea>)?'
)
"""Fields with what the job's own people wrote of shelf and rods."""
CORNER, ALCOVE = PACKED
ASKED = (ALCOVE, *(pytest.param(names, marks=pytest.mark.soak) for names in (CORNER, AS_SET)))


def _full(asked: Job, memo: Memo, *, limits: bool | None, **more: bool) -> Plan:
    """Load limits are not asked about here; they take longer than all the rest."""
    return full(asked, memo, limits=False, **more)


@pytest.fixture(scope="module", params=ASKED, ids=", ".join)
def desk(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Any:
    """A folder with one job, its packet built through the desk."""
    names: tuple[str, ...] = request.param
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(work, "_MEMO", MEMO)
        patch.setattr(room, "full", _full)
        at: Path = tmp_path_factory.mktemp("jobs")
        (at / "hidden.toml").write_text(unseen(*names), encoding="utf-8")
        made = app(at, hosts(DEFAULT_PORT), Works(Inline))
        client = TestClient(made, base_url=HOME, raise_server_exceptions=False)
        client.headers["Origin"] = HOME
        got = client.post("/job/hidden/packet", data={"for whole": "1"}, follow_redirects=False)
        assert got.status_code == 303
        yield client, made, case(*names)


def addresses(client: TestClient, made: Any) -> list[str]:
    """Every address of the desk's own routes that answers a GET; those with a name in them by what pages link to."""
    found = []
    for route in made._app.routes:
        if isinstance(route, Mount) or "GET" not in (route.methods or ()):
            continue
        assert isinstance(route, Route)
        path = route.path.replace("{name}", "hidden")
        if path.endswith("{check:path}"):
            page = client.get("/job/hidden/result?wait=1").text
            found += [unescape(x) for x in re.findall(r'href="(/job/hidden/result/[^"]+)"', page)]
        elif path.endswith("packet/{file}"):
            files = client.get("/job/hidden/packet?format=json").json()["files"]
            assert len(files) > 15
            found += [f"/job/hidden/packet/{each['name']}" for each in files]
            found.append(f"/job/hidden/packet/{ZIP}")
        elif path.endswith("{stage}"):
            found += [path.replace("{stage}", stage) for stage in stages.FORMS]
        elif path.endswith("{file}"):
            found.append(path.replace("{file}", "hidden.toml"))
        elif path.endswith("/drawing"):
            found += [f"{path}?stage={stage}" for stage in stages.FORMS]
        else:
            assert "{" not in path, path
            found.append(path)
    return found


def words(text: str) -> str:
    text = re.sub(r'<textarea id="text".*?</textarea>', "", OWN.sub("", text), flags=re.DOTALL)
    return unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", text)))


def hidden(one: Case) -> list[float]:
    rods = [r for r in one.plan.designs[0].frame.rods if r.wall == one.wall]
    points = [rod.point(d) for rod in rods for d in (0.0, rod.free, rod.free + rod.projection)]
    return [*places(one), *heights(one), *(x for p in points for x in p if abs(x) > 50)]


def readable(name: str, data: bytes) -> list[str]:
    """All text of a file that is handed out."""
    if name.endswith(".pdf"):
        return list(paper.texts(data))
    text = data.decode()
    if name.endswith(".svg"):
        return re.findall(r"<(?:text|tspan|title|desc)[^>]*>([^<]*)<", text)
    if name.endswith(".json"):
        return list(texts(json.loads(text)))
    return [] if name.endswith(".dxf") else [text.replace(",", " ")]


def test_no_address_of_the_desk_tells_of_a_hole(desk: Any) -> None:
    client, made, one = desk
    told = secret(one)
    paths = addresses(client, made)
    assert len(paths) > 40
    for path in paths:
        got = client.get(path, params={"wait": "1"} if path.endswith("state") else None)
        assert got.status_code == (404 if path == "/join" else 200), path
        kind = got.headers["content-type"]
        if kind.startswith("text/html"):
            found = spoken(words(got.text)) & told
            assert not found, f"{path} tells {found}"
        elif path.endswith(ZIP):
            packed = zipfile.ZipFile(io.BytesIO(got.content))
            # The same files as one by one, no more.
            one_by_one = {p.rsplit("/", 1)[1] for p in paths if "/packet/" in p} - {ZIP}
            assert set(packed.namelist()) == one_by_one
        elif not path.endswith("hidden.toml"):
            for text in readable(path, got.content):
                assert not spoken(text) & told, path


def test_no_json_of_the_desk_has_a_number_of_a_hole(desk: Any) -> None:
    """Every page has its twin as JSON; what the job's own file says of the shelf is its own."""
    client, made, one = desk
    numbers, told = hidden(one), secret(one)
    for path in addresses(client, made):
        # The job's own address only leads to its result.
        if "/packet/" in path or path.endswith((".toml", ".ico", "/hidden")):
            continue
        got = client.get(path, params={"format": "json"})
        assert got.headers["content-type"].startswith("application/json"), path
        twin = got.json()
        for own in ("forms", "text"):
            twin.pop(own, None)
        assert not leaked(twin, numbers), path
        for text in texts(twin):
            assert not spoken(text) & told, (path, text)


def test_no_guide_nor_card_is_handed_out_for_the_wall(desk: Any) -> None:
    client, _, one = desk
    files = [f["name"] for f in client.get("/job/hidden/packet?format=json").json()["files"]]
    assert not [f for f in files if f.startswith("guide") and f"-{one.wall}-" in f]
    assert not [f for f in files if f.startswith("core_map")]
    for guess in (f"guide-{one.plan.designs[0].spec.id}-{one.wall}-a4.pdf", "core_map.dxf"):
        assert client.get(f"/job/hidden/packet/{guess}").status_code == 404


def test_the_same_search_finds_what_a_confirmed_wall_tells(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A search that finds nothing anywhere would prove nothing."""
    monkeypatch.setattr(work, "_MEMO", MEMO)
    monkeypatch.setattr(room, "full", _full)
    client = browser(folder(tmp_path, ALCOVE_NAME), works=True)
    one = case(*ALCOVE)
    twin = client.get(f"/job/{ALCOVE_NAME}/result?format=json&wait=1").json()
    assert leaked(twin, hidden(one))
    page = client.get(f"/job/{ALCOVE_NAME}/result?wait=1").text
    links = [unescape(x) for x in re.findall(r'href="(/job/[^"]+/result/[^"]+)"', page)]
    assert any(secret(one) & spoken(words(client.get(link).text)) for link in links)
