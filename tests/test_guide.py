"""The guide: its commands are run in its order, and print what it says; its pictures and links are there."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner

from ledgewright.cli import main
from tests.sheets import paper
from tools.commands import page
from tools.pictures import GUIDE, GUIDE_AFTER, with_readings

TOP = Path(__file__).resolve().parents[1]
DOCS = TOP / "docs"
TEXT = (DOCS / "guide.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"```console\n\$ (.+?)\n(.*?)```", TEXT, re.DOTALL)
TURN = TEXT[: TEXT.index("```toml")].count("```console")
"""How many commands are given before the readings go into the job file."""


def run(command: str) -> str:
    words = shlex.split(command)
    assert words[0] == "ledgewright"
    ran = CliRunner().invoke(main, words[1:])
    assert ran.exit_code == 0, (command, ran.output)
    return ran.output


@pytest.mark.usefixtures("one_memo")
def test_the_commands_of_the_guide_print_what_it_says(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert len(BLOCKS) >= 7
    assert 0 < TURN < len(BLOCKS)
    for number, (command, said) in enumerate(BLOCKS):
        if number == TURN:
            job = Path("my-alcove.toml")
            job.write_text(with_readings(job.read_text(encoding="utf-8")), encoding="utf-8")
            (block,) = re.findall(r"```toml\n(.*?)```", TEXT, re.DOTALL)
            assert block in job.read_text(encoding="utf-8")
        printed = run(command).split("\n")
        assert said.strip()
        for line in said.rstrip("\n").split("\n"):
            assert line in printed, (command, line, printed[:40])
    owner = " ".join(paper.texts(Path("alcove/packet-client.pdf").read_bytes()))
    assert "No limit yet" not in owner
    assert re.search(r"\b\d+ kg\b", owner)


@pytest.mark.parametrize("page", sorted(p.name for p in DOCS.glob("*.md")))
def test_what_a_page_of_the_docs_points_to_is_there(page: str) -> None:
    text = (DOCS / page).read_text(encoding="utf-8")
    for found in re.findall(r"\]\((?!http|#)([^)#]+)\)", text):
        assert (DOCS / found).is_file(), found
    for found in re.findall(r"\bdocs/[\w-]+\.md\b", text):
        assert (TOP / found).is_file(), found


def test_the_pictures_of_the_guide_are_those_the_code_makes() -> None:
    shown = set(re.findall(r"pictures/(guide-[\w-]+)\.png", TEXT))
    assert shown == GUIDE.keys() | GUIDE_AFTER.keys()


def test_the_reference_of_the_command_line_is_that_of_the_commands() -> None:
    assert (DOCS / "commands.md").read_text(encoding="utf-8") == page()
    for name in main.commands:
        assert f"## ledgewright {name}\n" in page()
