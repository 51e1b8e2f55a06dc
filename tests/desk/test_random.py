"""Whatever is posted, the answer is clear and the job can be read.

Against: the reading of the job file, apart from the desk.
"""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from ledgewright.desk import forms, onsite, stages
from ledgewright.job import files
from tests.desk.made import ALCOVE, CORNER, Shown, browser, folder

ODD = (
    *("", "0", "-1", "1e300", "nan", "12 3/8", "9/0", "don't know", "'", '"', "\\", "]]", "{"),
    *("\x7f", "\u202e", "é", "true", "2026-11-12", "a" * 700, "A 15 7/16", "every stud"),
    *("\n[x]\n", "<script>", "tight", "2", "700 mm", "\U0001f600"),
)
ADDED = ("reading A 15 7/16", "step showroom", "showroom|A.s2", "reading", "step", "|")


def _stir(at: Path, seed: int, posts: int) -> None:
    chance = random.Random(seed)  # noqa: S311  # repeatable, no secret
    client = browser(folder(at, ALCOVE, CORNER))
    for _ in range(posts):
        name = chance.choice((ALCOVE, CORNER))
        stage = chance.choice(sorted(stages.FORMS))
        page = Shown(client, f"/job/{name}/{stage}")
        document = forms.document((at / f"{name}.toml").read_text(encoding="utf-8"))
        cells = [
            cell.name
            for form in forms.forms(stage, document)
            for field in form.fields
            for cell in ([field.cell] if field.cell else [c for row in field.rows for c in row])
        ]
        cells += [f"n:A 15 7/16:{key}" for key, _ in onsite.READ] if stage == "site" else []
        cells += ["n:step showroom:put:0:0", "n:step showroom:read:0:1"] if stage == "site" else []
        sent = {chance.choice(cells): chance.choice(ODD) for _ in range(chance.randint(1, 3))}
        if chance.random() < 0.3:
            key = chance.choice(("add", "take", "stand", "base", "f:nothing", "move", "to"))
            sent[key] = chance.choice(("0", "1", "7", *ADDED, *ODD))
        got = page.send(sent, fragment=chance.random() < 0.3)
        assert got.status_code in (200, 303, 400, 404, 409, 422), (sent, got.text[:500])
        assert "Traceback" not in got.text
        assert "<script>" not in got.text
        read = files.load(at / f"{name}.toml")
        assert read.job is not None, (sent, read.findings)


def test_odd_posts_leave_the_job_whole(tmp_path: Path) -> None:
    _stir(tmp_path, 9, 25)


@pytest.mark.soak
@pytest.mark.parametrize("seed", range(5))
def test_five_hundred_odd_posts_leave_the_job_whole(tmp_path: Path, seed: int) -> None:
    _stir(tmp_path, 100 + seed, 500)
