"""The house itself: what the README promises, what must not stand in the project, what start-up loads."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

TOP = Path(__file__).resolve().parents[1]
HEAVY = ("numpy", "scipy", "shapely", "ezdxf", "pydantic", "typst", "fontTools", "tomlkit")


def tracked() -> list[Path]:
    listed = subprocess.run(
        ["git", "ls-files"], cwd=TOP, capture_output=True, text=True, check=False
    )
    if listed.returncode != 0:
        pytest.skip("not a git checkout")
    return [TOP / name for name in listed.stdout.splitlines() if (TOP / name).is_file()]


def text_of(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        return ""


def test_no_path_of_a_machine_and_no_package_host_stands_in_the_project() -> None:
    forbidden = re.compile(
        r"(?<![\w.])/(?:"
        "work|farm|home|root"
        r")/|"
        "py"
        r"pi\.org|python"
        "hosted"
    )
    found = [str(p) for p in tracked() if forbidden.search(text_of(p))]
    assert found == []


def test_locks_carry_hashes_and_no_addresses() -> None:
    for name in ("run.txt", "dev.txt"):
        text = (TOP / "requirements" / name).read_text(encoding="utf-8")
        pinned = re.findall(r"^([a-z0-9_.-]+)==", text, re.MULTILINE | re.IGNORECASE)
        assert len(pinned) > 10
        assert "://" not in text
        for block in re.split(r"\n(?=[a-zA-Z])", text):
            if "==" in block.split("\n")[0]:
                assert "--hash=sha256:" in block, block.split("\n")[0]


def test_every_dependency_is_in_the_lock() -> None:
    import tomllib

    project = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    lock = (TOP / "requirements" / "run.txt").read_text(encoding="utf-8")
    for need in (*project["dependencies"], "flit_core"):
        name = re.split(r"[><=]", need)[0].replace("_", "-")
        assert re.search(rf"^{name}==", lock, re.MULTILINE), name


def test_help_loads_no_numerics_and_no_models() -> None:
    code = (
        "import sys, click.testing\n"
        "from ledgewright.cli import main\n"
        "for verb in ([], ['check'], ['fit'], ['packet'], ['stock'], ['schema'], ['new']):\n"
        "    assert click.testing.CliRunner().invoke(main, [*verb, '--help']).exit_code == 0\n"
        f"print([m for m in {HEAVY!r} if m in sys.modules])\n"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"


def test_the_readme_names_two_commands_and_the_makefile_has_them() -> None:
    readme = (TOP / "README.md").read_text(encoding="utf-8")
    makefile = (TOP / "Makefile").read_text(encoding="utf-8")
    for verb in ("demo", "test", "bench", "soak", "lock", "browser"):
        assert re.search(rf"^{verb}:", makefile, re.MULTILINE), verb
    for verb in ("make demo", "make test"):
        assert verb in readme


def test_ci_runs_the_same_tests() -> None:
    assert "exec make test" in (TOP / ".ci" / "run").read_text(encoding="utf-8")
