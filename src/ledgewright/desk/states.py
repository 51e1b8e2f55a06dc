"""The state of a job as every page shows it: what is wrong, missing, open and assumed, and whether it holds."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from ledgewright.desk import stages
from ledgewright.desk.work import Answer, Works
from ledgewright.job import Assumed, Finding, Job, OpenItem, files
from ledgewright.job.reading import Read

WORDS = {
    "passes": "It holds",
    "fails": "It does not hold",
    "cannot say": "Cannot say yet",
    "unread": "Not complete yet",
    "cannot lay": "Cannot be laid out",
    "working": "Being worked out",
    "fault": "Could not be worked out",
}
"""Words for each state; the first three as the packet's cover says them."""
_PLACE = ("format", "units", "basis", "words", "job", "measure", "site", "doubt", "choose")
_OF_SHELF = {"rods": "rods", "rod": "rods", "load": "loads", "limits": "loads", "single": "loads"}


@dataclass(frozen=True)
class Told:
    """One thing about the job with the page where it is answered."""

    stage: str
    path: str
    text: str
    right: str = ""


@dataclass(frozen=True)
class State:
    """The whole of a job at one revision; `word` is a key of `WORDS`."""

    word: str
    revision: str
    lines: tuple[str, ...] = ()
    figures: tuple[tuple[str, str, str, str], ...] = ()
    """The nearest drop, today and later: label, value, what it may be, and the check it comes from."""
    about: str = ""
    """The shelf or section those drops are of, where there are several."""
    missing: tuple[Told, ...] = ()
    open: tuple[Told, ...] = ()
    assumed: tuple[Told, ...] = ()
    notes: tuple[Told, ...] = ()
    pending: bool = False
    first: bool = False
    """Whether this is a first look, and every load is still being tried."""
    job: Job | None = None
    answer: Answer = field(default_factory=dict)

    @property
    def says(self) -> str:
        """The state in words."""
        return WORDS.get(self.word, self.word)

    def of(self, stage: str, kind: str) -> tuple[Told, ...]:
        """What belongs to one page, of "missing", "open", "assumed" or "notes"."""
        found: tuple[Told, ...] = getattr(self, kind)
        return tuple(each for each in found if each.stage == stage)

    def _whole(self, label: str, check: str) -> str:
        return f"{label}, {self.about}" if self.about and (check or self.first) else label

    def json(self) -> dict[str, Any]:
        """The state as a JSON document."""
        return {
            "state": self.word,
            "says": self.says,
            "revision": self.revision,
            "pending": self.pending,
            "first_look": self.first,
            "because": list(self.lines),
            "figures": [
                {"what": self._whole(a, d), "value": b, "under": c, "check": d}
                for a, b, c, d in self.figures
            ],
            "missing": [_json(each) for each in self.missing],
            "open": [_json(each) for each in self.open],
            "assumed": [_json(each) for each in self.assumed],
            "notes": [_json(each) for each in self.notes],
        }


def _json(told: Told) -> dict[str, str]:
    return {"page": told.stage, "path": told.path, "text": told.text, "right": told.right}


def state(path: Path, revision: str, works: Works) -> State:
    """Return the state of a job, as far as it is worked out.

    Args:
        path: of the job file.
        revision: its text.
        works: who works it out; asked here if nobody has.
    """
    read = files.load(path)
    if read.job is None:
        return State("unread", revision, **_listed(read), job=None)
    answer = works.known("whole", path, revision)
    if answer is None or answer["state"] != "done":
        asked = works.ask("quick", path, revision)
        answer = works.known("quick", path, revision) if asked.done() else None
    if answer is None and works.ask("first", path, revision).done():
        seen = works.known("first", path, revision)
        if seen is not None and seen["state"] == "done":
            return _looked(read, revision, seen)
    return _with(read, revision, answer)


SO_FAR = "Rods and wood: nothing too much so far."
"""What a first look says that finds nothing."""


def _looked(read: Read, revision: str, seen: Answer) -> State:
    """What a first look says: that it does not hold, for sure, or only about how far it drops."""
    fails = seen["verdict"] == "fails"
    near = max(seen["shelves"], key=lambda each: each["near"], default=None)
    drops = near["figures"] if near else []
    return State(
        "fails" if fails else "working",
        revision,
        lines=tuple(seen["why"]) if fails else (SO_FAR,),
        figures=tuple((f["label"], f"{f['value']} or more", f["under"], "") for f in drops),
        about=near["shelf"] if near and len(seen["shelves"]) > 1 else "",
        **_listed(read),
        pending=True,
        first=True,
        job=read.job,
    )


def _with(read: Read, revision: str, answer: Answer | None) -> State:
    lists = _listed(read)
    if answer is None or answer["state"] in ("gone", "unread"):
        return State("working", revision, **lists, pending=True, job=read.job)
    if answer["state"] == "fault":
        why = ("The program met a fault of its own on this job; the terminal tells more.",)
        return State("fault", revision, lines=why, **lists, job=read.job)
    if answer["state"] == "cannot lay":
        wrong = [Told(stage_of(path), path, why) for path, why in answer["found"]]
        lists["missing"] = (*lists["missing"], *wrong)
        lines = tuple(dict.fromkeys(why for _, why in answer["found"]))
        return State("cannot lay", revision, lines=lines, **lists, job=read.job)
    about, drops = _drops(answer)
    return State(
        answer["check"]["verdict"],
        revision,
        lines=tuple(answer["cover"]["why"]),
        figures=(*drops, *_money(answer)),
        about=about,
        **lists,
        job=read.job,
        answer=answer,
    )


DROPS = ("drop.today", "drop.long")
"""The checks that the first two figures of a shelf come from."""


def _drops(answer: Answer) -> tuple[str, tuple[tuple[str, str, str, str], ...]]:
    """The drop of the shelf that is nearest to its limit, after its name where there are several."""
    both = zip(answer["cover"]["shelves"], answer["check"]["shelves"], strict=True)
    shares = [(_share(check), front, check["id"]) for front, check in both]
    if not shares:
        return "", ()
    _, front, shelf = max(shares, key=lambda each: each[0])
    return front["shelf"] if len(shares) > 1 else "", tuple(
        (f["label"], f["value"], f["under"], f"{shelf} {check}")
        for f, check in zip(front["figures"], DROPS, strict=False)
    )


def _money(answer: Answer) -> tuple[tuple[str, str, str, str], ...]:
    """The price, where there is one, and whether it is a draft; it comes from no check."""
    price = answer["price"]
    return (
        (("Price", price["text"], "draft" if price["draft"] else "", ""),) if price["text"] else ()
    )


def _share(check: Mapping[str, Any]) -> float:
    drop = check["front_drop"]
    if drop is None:
        return math.inf
    return float(max(drop[key]["value"] / drop[key]["limit"] for key in ("today", "long_term")))


def _listed(read: Read) -> dict[str, Any]:
    job = read.job
    notes = [f for f in read.findings if f.level == "note"]
    stops = [f for f in read.findings if f.level != "note"]
    return {
        "missing": tuple(_found(f) for f in stops),
        "notes": tuple(_found(f) for f in notes),
        "open": tuple(_open(item) for item in (job.open_items if job else ())),
        "assumed": tuple(_assumed(item) for item in (job.assumed if job else ())),
    }


def _found(f: Finding) -> Told:
    return Told(stage_of(f.path), f.path, f.wrong, f.right)


def _open(item: OpenItem) -> Told:
    return Told(stage_of(item.path), item.path, item.costs)


def _assumed(item: Assumed) -> Told:
    return Told(stage_of(item.path), item.path, f"{item.value}: {item.why} ({item.source})")


def stage_of(path: str) -> str:
    """Return the page on which a path of the job file is answered; "file" where there is none."""
    steps = path.replace("[", ".").split(".")
    head = steps[0]
    if head == "site" and len(steps) > 1 and steps[1] in ("rod", "test"):
        return "site"
    if head in _PLACE:
        return "place"
    if head == "wall":
        return "walls"
    if head in ("corner", "obstacle"):
        return "corners"
    if head == "shop":
        return "shop"
    if head == "shelf":
        inner = [step.rstrip("]") for step in steps[2:]]
        return _OF_SHELF.get(inner[0], "shelf") if inner else "shelf"
    return "file"


def title_of(stage: str) -> str:
    """Return the title of a page."""
    return dict(stages.ORDER).get(stage, stage)
