"""Write docs/commands.md, the reference of the command line, from the commands: `python -m tools.commands`."""

from __future__ import annotations

from pathlib import Path

import click

from ledgewright.cli import main as program

PAGE = Path(__file__).resolve().parents[1] / "docs" / "commands.md"
HEAD = """# The command line

Made from the commands themselves by `make commands`; a test holds the page to them. Answers go to standard
output, talk to standard error. Exit codes: 0 passes, 1 fails or cannot say, 2 something is wrong with what was
given: all of it is told at once, with file, line, value and what to write. `--json` prints one document whose
schema `ledgewright schema VERB` gives.
"""


def page() -> str:
    """Return the page."""
    parts = [HEAD]
    for name, command in sorted(program.commands.items()):
        context = click.Context(command, info_name=f"ledgewright {name}")
        parts.append(f"## ledgewright {name}\n\n{(command.help or '').strip()}\n")
        usage = " ".join(command.collect_usage_pieces(context))
        parts.append(f"    ledgewright {name} {usage}\n")
        rows = [_row(param, context) for param in command.params if isinstance(param, click.Option)]
        if rows:
            parts.append("| option | what it does |\n|---|---|\n" + "\n".join(rows) + "\n")
        for line in (command.epilog or "").split("\n\n"):
            if line:
                what, _, example = line.partition("  ")
                parts.append(f"{what.strip()} `{example.strip()}`\n")
    return "\n".join(parts)


def _row(option: click.Option, context: click.Context) -> str:
    record = option.get_help_record(context)
    said, about = record or (option.name or "", "")
    text = f"| `{said}` | {about} |"
    # A bar between choices would end the cell.
    return "| " + text[2:-2].replace(" | ", "\0").replace("|", "\\|").replace("\0", " | ") + " |"


def main() -> None:
    """Write the page."""
    PAGE.write_text(page(), encoding="utf-8")


if __name__ == "__main__":
    main()
