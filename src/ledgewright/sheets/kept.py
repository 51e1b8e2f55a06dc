"""The last list of choices, kept beside its job, so that a number of it means the design that was printed."""

from __future__ import annotations

import json
import os
from contextlib import suppress
from dataclasses import asdict, dataclass
from hashlib import sha256
from pathlib import Path

from ledgewright import __version__
from ledgewright.choose import Figures
from ledgewright.job import Edit
from ledgewright.plan import Chosen
from ledgewright.sheets.choose_answer import choose_document, choose_text
from ledgewright.sheets.chosen_words import accepted_note

LARGEST = 5_000_000


@dataclass(frozen=True)
class Offered:
    """One choice of a list: its number, its edits, and what it was offered with."""

    k: int
    edits: tuple[Edit, ...]
    figures: Figures


@dataclass(frozen=True)
class Kept:
    """A list as it was printed, as its document, its choices, and the cautions that go with writing one."""

    said: str
    document: object
    offered: tuple[Offered, ...]
    notes: tuple[str, ...]


def place(job_file: Path, shelf: str) -> Path:
    """Return where the list of a shelf is kept: a hidden file beside the job."""
    name = sha256(shelf.encode()).hexdigest()[:8]
    return job_file.with_name(f".{job_file.name}.{name}.choices")


def keep(job_file: Path, found: Chosen, shelf: str) -> bool:
    """Keep a list beside its job, and say whether it could be.

    Args:
        job_file: the job file.
        found: what was found and is printed.
        shelf: id of the shelf.
    """
    front = found.choices.front if found.choices else ()
    held = {
        "of": _of(found.text, found.prices, shelf),
        "said": choose_text(found, shelf),
        "document": choose_document(found, shelf),
        "notes": list(accepted_note(found.job, shelf)),
        "offered": [
            {
                "k": each.k,
                "edits": [[edit.path, edit.text] for edit in each.tried.edits],
                "figures": asdict(each.tried.figures),
            }
            for each in front
            if each.tried.figures is not None
        ],
    }
    there = place(job_file, shelf)
    half = there.with_name(f"{there.name}.{os.getpid()}")
    try:
        half.write_text(json.dumps(held, allow_nan=False), encoding="utf-8")
        os.replace(half, there)
    except (OSError, ValueError):
        with suppress(OSError):
            half.unlink(missing_ok=True)
        return False
    return True


def kept(job_file: Path, text: str, prices: str | None, shelf: str) -> Kept | None:
    """Return the list that was kept for this very text and prices; None if there is none.

    Args:
        job_file: the job file.
        text: what it says.
        prices: text of its price file, None if there is none.
        shelf: id of the shelf.
    """
    there = place(job_file, shelf)
    try:
        if there.stat().st_size > LARGEST:
            return None
        held = json.loads(there.read_text(encoding="utf-8"))
        if held["of"] != _of(text, prices, shelf):
            return None
        return Kept(
            str(held["said"]),
            held["document"],
            tuple(
                Offered(
                    int(each["k"]),
                    tuple(Edit(str(path), new) for path, new in each["edits"]),
                    Figures(**each["figures"]),
                )
                for each in held["offered"]
            ),
            tuple(str(note) for note in held["notes"]),
        )
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        # What is no list of ours is as good as none: the search is then done anew.
        return None


def _of(text: str, prices: str | None, shelf: str) -> str:
    """What a list is good for: this text, these prices, this shelf, this version of the program."""
    whole = json.dumps([__version__, text, prices, shelf])
    return sha256(whole.encode("utf-8", "surrogatepass")).hexdigest()
