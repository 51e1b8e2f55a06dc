"""What a job comes to, worked out away from the pages: each kind of work in a process of its own, kept by revision.

A job takes from a third of a second to a quarter of a minute to work through. The pages never wait for that:
they ask here, say "being worked out", and ask again.
"""

from __future__ import annotations

import dataclasses
import json
import logging
import math
import multiprocessing
import os
import threading
import time
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import Executor, Future, ProcessPoolExecutor, wait
from contextlib import suppress
from multiprocessing.connection import wait as wait_for
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, Literal

from ledgewright.desk.forms import document
from ledgewright.desk.notes import Note
from ledgewright.job import Job, files
from ledgewright.job.reading import read
from ledgewright.memo import Memo

if TYPE_CHECKING:
    from ledgewright.choose import Progress
    from ledgewright.plan import Plan

Kind = Literal[
    "sketch", "first", "quick", "fitting", "site", "whole", "sure", "packet", "choose", "take"
]
Answer = dict[str, Any]

SOON = 0.03
"""How long a page waits for its drawing before it comes without (s); then the drawing follows by itself."""
SEARCHING: int | None = None
"""So many processes search at once; None for the usual number. Tests that share a memo take one."""
POOLS = {
    "sketch": "sketch",
    "first": "sketch",
    "quick": "quick",
    "take": "quick",
    "choose": "choose",
}
"""Which process does what; the slow one does the rest. A first look stands on what was laid out and drawn just before,
and the judging does not wait for it. What is taken is judged where the page of its figures looks next. A search takes
minutes: nothing waits behind it."""
KEPT = 48
"""Answers kept, of all jobs and kinds together."""
_MEMO: Final = Memo()
"""What one working process has worked out; each process has its own."""
_LOG = logging.getLogger("ledgewright.desk")


def reckon(
    kind: Kind, job_file: str, revision: str, out: str = "", parts: tuple[str, ...] = ()
) -> Answer:
    """Work one job through; runs in a working process and hands back plain values.

    Args:
        kind: "sketch" laid out and drawn, "first" a first look at its statics, "quick" judged without load limits,
            "fitting" the moves and drawings, "site" rods as set and load tests, "whole" with load limits, "sure" how
            sure all that is, "packet" the same written to a folder, "choose" the designs worth having, "take" one of
            them judged anew through its file.
        job_file: path of the job file.
        revision: the text that is asked about; if the file says something else by now, there is no answer.
        out: folder of the packet; of a search the shelf it is for, of a choice that and its number.
        parts: of the packet: "whole" and bundles by name; none for the whole alone. The choice that is taken, as the
            search told it, in JSON.

    Returns:
        "state": "done", "gone" (the file has changed), "unread", "cannot lay" or "not the same" (a choice), and what
        belongs to it.
    """
    from ledgewright import plan as room

    made_of = files.load(job_file).job
    if made_of is None:
        return {"state": "unread"}
    if made_of.meta.revision != revision:
        return {"state": "gone"}
    if kind == "choose":
        return {"revision": revision, **_chosen(job_file, revision, out)}
    if kind == "take":
        return {"revision": revision, **_taken(job_file, revision, json.loads(parts[0]))}
    try:
        plan = _plan(kind, made_of)
    except room.CannotLayError as error:
        return {"state": "cannot lay", "found": list(error.found)}
    made: dict[Kind, Callable[[Plan], Answer]] = {
        "sketch": lambda plan: _sketched(plan, job_file),
        "first": _looked,
        "site": _sited,
        "quick": _answered,
        "whole": lambda plan: _answered(plan) | _drawn(plan),
        "sure": _surely,
        "fitting": _fitted,
        "packet": lambda plan: _packed(plan, Path(out), parts, Note(job_file, "packet")),
    }
    return {"state": "done", "revision": revision, **made[kind](plan)}


def _plan(kind: Kind, job: Job) -> Plan:
    from ledgewright import plan as room

    if kind == "sketch":
        return room.sketch(job, _MEMO)
    if kind == "first":
        return room.looked(job, _MEMO)
    if kind == "site":
        return room.full(job, _MEMO, limits=None, tests=True)
    return room.full(
        job, _MEMO, limits=kind in ("whole", "sure", "packet"), ranges=kind in ("sure", "packet")
    )


def _sketched(plan: Plan, job_file: str) -> Answer:
    from ledgewright.desk.sketches import sketched

    text, _ = files.text_of(Path(job_file))
    return sketched(plan, document(text or ""))


def _looked(plan: Plan) -> Answer:
    """What is too much for sure, and about how far every shelf drops."""
    from ledgewright.sheets import cover
    from ledgewright.sheets.say import Say
    from ledgewright.sheets.spoken import own_names

    say = Say.of(plan.job.meta, own_names(plan))
    shelves = []
    for design in plan.designs:
        told, drop = cover.shelf_figures(design, say), design.holds.drop
        near = max(at.value / at.limit for at in (drop.today, drop.long_term)) if drop else 0.0
        figures = [
            {"label": say.text(f.label), "value": f.value, "under": say.text(f.under)}
            for f in told.figures[:2]
            if drop
        ]
        shelves.append({"shelf": told.shelf, "figures": figures, "near": near})
    why = [say.text(each) for each in cover.why(plan)] if plan.verdict == "fails" else []
    return {"verdict": plan.verdict, "why": why, "shelves": shelves}


def _sited(plan: Plan) -> Answer:
    from ledgewright.desk.sited import sited

    return sited(plan)


def _chosen(job_file: str, revision: str, shelf: str) -> Answer:
    """The choices of one shelf of a job; how far the search has come is told beside the job meanwhile."""
    from ledgewright import plan as room
    from ledgewright.crew import Crew, Shelf
    from ledgewright.sheets.choose_answer import choose_document
    from ledgewright.sheets.choose_sheet import choose_pages

    name, text, prices, _ = files.texts(job_file)
    made = read(text or "", name, prices).job
    if text is None or made is None:
        return {"state": "unread"}
    if made.meta.revision != revision or shelf not in {spec.id for spec in made.shelves}:
        return {"state": "gone"}
    note = Note(job_file, "choose")

    began = time.monotonic()

    def tell(at: Progress) -> None:
        if at.limits:
            note.say(f"All are tried; {at.done} of {at.of} load limits of what is offered")
            return
        left = (time.monotonic() - began) / max(at.done, 1) * max(at.of - at.done, 0)
        more = f"; about {math.ceil(left / 60)} min left" if left > 90 else ""
        passing = f"{at.passed} {'passes' if at.passed == 1 else 'pass'}"
        note.say(f"{at.done} of {at.of} designs tried, {passing}{more}")

    try:
        with Crew(Shelf(text, name, prices, shelf), _MEMO, SEARCHING) as crew:
            found = room.chosen(
                made, text, prices, shelf, _MEMO, crew=crew, tell=tell, stop=note.stopped
            )
    except room.CannotLayError as error:
        return {"state": "cannot lay", "found": list(error.found)}
    finally:
        note.clear()
    sheets = {name: dataclasses.asdict(page) for name, page in choose_pages(found, shelf).items()}
    return {"state": "done", "document": choose_document(found, shelf), "sheets": sheets}


def _taken(job_file: str, revision: str, choice: Answer) -> Answer:
    """Whether a choice, written into its file, read back and judged, is what was offered."""
    from ledgewright.choose import Figures
    from ledgewright.job import Edit
    from ledgewright.job.edits import BadEdit
    from ledgewright.plan import NotSameError, written

    name, text, prices, _ = files.texts(job_file)
    made = read(text or "", name, prices).job
    if text is None or made is None or made.meta.revision != revision:
        return {"state": "gone"}
    edits = [Edit(each["path"], each["text"]) for each in choice["edits"]]
    figures = Figures(**{each.name: choice[each.name] for each in dataclasses.fields(Figures)})
    try:
        written(text, name, prices, choice["shelf"], edits, figures, _MEMO)
    except (BadEdit, NotSameError) as wrong:
        return {"state": "not the same", "wrong": str(wrong)}
    return {"state": "done"}


def _answered(plan: Plan) -> Answer:
    from ledgewright import draw
    from ledgewright.sheets import assumed, cover, letters, pictures, safety
    from ledgewright.sheets.documents import check_document
    from ledgewright.sheets.say import Say
    from ledgewright.sheets.spoken import drawn, own_names, spoken

    say = Say.of(plan.job.meta, own_names(plan))
    seen: list[Answer] = []
    for name, view in pictures.plans(plan, say):
        with suppress(draw.TooLarge):
            drawing = drawn(view(), say)
            seen.append(_picture(name, drawing.title, draw.svg(drawing)))
    front = spoken(cover.cover(plan, None, letters.face()), say)
    return {
        "check": check_document(plan),
        "cover": dataclasses.asdict(front),
        "assumed": dataclasses.asdict(spoken(assumed.assumed_sheet(plan), say)),
        "cautions": dataclasses.asdict(spoken(safety.caution_sheet(plan), say)),
        "pictures": seen,
        "shapes": [],
        "price": _price(plan),
    }


def _price(plan: Plan) -> Answer:
    """What the job comes to in money, whether every charge of it is the shop's own; or why there is no price."""
    from ledgewright.sheets.shopside import final, money, side

    found = side(plan)
    if isinstance(found, str):
        return {"text": "", "under": found, "draft": True}
    priced = found.work.priced
    if priced is None:
        return {"text": "", "under": "some of its prices are missing", "draft": True}
    draft = bool(final(found))
    under = "draft, not for the client yet" if draft else "with tax, rounded up"
    return {"text": money(found, priced.total), "under": under, "draft": draft}


SHOP = ("price", "quote", "buying", "days", "van", "boards")
"""The shop's pages by name; a sheet's layout, a glue-up and a finish have more behind theirs."""


def _drawn(plan: Plan) -> Answer:
    """How each shelf bends and what presses on its rods; how it is cut, glued, finished, bought, paid for, and when."""
    from ledgewright.sheets import pictures
    from ledgewright.sheets.model import ShapeSheet
    from ledgewright.sheets.pages import pages

    made = pages(plan, pictures.drawings(plan), _MEMO, others=False)
    shop = {
        name: dataclasses.asdict(page)
        for name, page in made.items()
        if name in SHOP or name.split(" ")[0] in ("layout", "glue", "finish")
    }
    shapes = [dataclasses.asdict(page) for page in made.values() if isinstance(page, ShapeSheet)]
    return {"shapes": shapes, "shop": shop}


def _surely(plan: Plan) -> Answer:
    from ledgewright.sheets import pictures
    from ledgewright.sheets.model import SureSheet
    from ledgewright.sheets.pages import pages

    made = pages(plan, pictures.drawings(plan), _MEMO, others=False).values()
    return {"sheets": [dataclasses.asdict(page) for page in made if isinstance(page, SureSheet)]}


def _fitted(plan: Plan) -> Answer:
    from ledgewright.sheets import pictures
    from ledgewright.sheets.model import FittingSheet, WaysSheet
    from ledgewright.sheets.pages import pages

    drawn = pictures.drawings(plan)
    sheets = pages(plan, drawn, _MEMO, others=False)
    made = {
        name: dataclasses.asdict(page)
        for name, page in sheets.items()
        if isinstance(page, FittingSheet)
    }
    ways = [dataclasses.asdict(page) for page in sheets.values() if isinstance(page, WaysSheet)]
    walls = [
        _picture(name, inked.drawing.title, inked.svg)
        for name, inked in drawn.items()
        if name.startswith(("wall ", "section ", "drop "))
    ]
    titles = {f"fitting {design.spec.id}": design.spec.title for design in plan.designs}
    playing = [
        _picture(name, "", svg) | {"of": titles[name]}
        for name, svg in pictures.playing(plan).items()
    ]
    return {"fitting": made, "ways": ways, "pictures": walls, "playing": playing}


def _packed(plan: Plan, out: Path, parts: tuple[str, ...], note: Note) -> Answer:
    from ledgewright.sheets import BUNDLES, packet
    from ledgewright.sheets.output import Part, parts_of

    note.say("It is worked out; the pages are drawn and written")
    bundles = [each for each in BUNDLES if each in parts]
    wanted: tuple[Part, ...] = parts_of(bundles)
    if bundles and "whole" in parts:
        wanted = ("whole", *wanted)
    try:
        written = packet(plan, out, wanted, _MEMO)
    except OSError as error:
        return {"files": [], "wrong": f"it cannot be written: {error.strerror or error}"}
    finally:
        note.clear()
    return {"files": [path.name for path in written], "wrong": ""}


def _picture(name: str, title: str, svg: str) -> Answer:
    return {"name": name, "title": title, "svg": svg}


class Inline(Executor):
    """Works at once where it is asked; for one request without a server, and for tests."""

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        """Run now."""
        done: Future[Any] = Future()
        try:
            done.set_result(fn(*args, **kwargs))
        except Exception as error:  # noqa: BLE001  # as an executor does
            done.set_exception(error)
        return done


def _process() -> Executor:
    # spawn: a forked child of a threaded server may inherit locks that nobody lets go
    context = multiprocessing.get_context("spawn")
    return ProcessPoolExecutor(1, mp_context=context, initializer=_begin)


def _begin() -> None:
    """Stand behind the pages, and end with the desk however it ends: a pool's process waits for work for ever."""
    if hasattr(os, "nice"):
        os.nice(5)
    desk = multiprocessing.parent_process()
    if desk is not None:
        threading.Thread(target=_after, args=(desk.sentinel,), daemon=True).start()


def _after(sentinel: int) -> None:
    wait_for((sentinel,))
    os._exit(0)


class Works:
    """Answers by job, revision and kind; asks for each at most once while it is kept."""

    def __init__(self, start: Callable[[], Executor] = _process, soon: float = SOON) -> None:
        self._start = start
        self._soon = soon
        self._lock = threading.Lock()
        self._pools: dict[str, Executor] = {}
        self._asked: OrderedDict[tuple[str, str, str], Future[Answer]] = OrderedDict()

    def ask(
        self,
        kind: Kind,
        job_file: Path,
        revision: str,
        out: Path | str = "",
        parts: tuple[str, ...] = (),
    ) -> Future[Answer]:
        """Return the answer to come about one text of a job; older texts of it that nobody has begun are dropped."""
        if kind == "first":
            # It stands on the same layout, and the drawing goes before it.
            self.ask("sketch", job_file, revision)
        key = _key(kind, job_file, revision, out)
        with self._lock:
            held = self._asked.get(key)
            if held is not None and not _broken(held) and kind != "packet":
                self._asked.move_to_end(key)
                return held
            for other in [k for k in self._asked if (k[0], k[2]) == (key[0], kind) and k != key]:
                if self._asked[other].cancel():
                    del self._asked[other]
            args = (kind, str(job_file), revision, str(out), parts)
            made: Future[Answer] = self._submit(kind, args)
            self._asked[key] = made
            while len(self._asked) > KEPT:
                self._asked.popitem(last=False)
            return made

    def known(
        self, kind: Kind, job_file: Path, revision: str, out: Path | str = ""
    ) -> Answer | None:
        """Return the answer if it is there already."""
        with self._lock:
            held = self._asked.get(_key(kind, job_file, revision, out))
        return outcome(held) if held is not None and held.done() else None

    def forget(self, kind: Kind, job_file: Path, revision: str, out: Path | str = "") -> None:
        """Drop an answer that is to be worked out anew."""
        with self._lock:
            held = self._asked.get(_key(kind, job_file, revision, out))
            if held is not None and held.done():
                del self._asked[_key(kind, job_file, revision, out)]

    def soon(self, kind: Kind, job_file: Path, revision: str) -> Answer | None:
        """Return the answer if it is there within a moment, asked for here if nobody has."""
        asked = self.ask(kind, job_file, revision)
        if not asked.done():
            wait((asked,), timeout=self._soon)
        return self.known(kind, job_file, revision)

    def running(self, kind: Kind, job_file: Path) -> Future[Answer] | None:
        """Return the newest piece of work of a kind on a job, done or not; None if there is none."""
        with self._lock:
            held = [f for k, f in self._asked.items() if (k[0], k[2]) == (str(job_file), kind)]
        return held[-1] if held else None

    def _submit(
        self, kind: Kind, args: tuple[Kind, str, str, str, tuple[str, ...]]
    ) -> Future[Answer]:
        name = POOLS.get(kind, "slow")
        try:
            return self._pool(name).submit(reckon, *args)
        except RuntimeError:
            # a working process that was killed takes its pool with it: begin another, once
            self._pools.pop(name, None)
            return self._pool(name).submit(reckon, *args)

    def _pool(self, name: str) -> Executor:
        if name not in self._pools:
            self._pools[name] = self._start()
        return self._pools[name]

    def close(self) -> None:
        """End the working processes; what is under way is dropped too, since nobody waits for it any more."""
        for pool in self._pools.values():
            pool.shutdown(wait=False, cancel_futures=True)
            if isinstance(pool, ProcessPoolExecutor):
                for child in multiprocessing.active_children():
                    child.terminate()
        self._pools.clear()


def outcome(done: Future[Answer]) -> Answer:
    """Return what a finished piece of work says; a fault of ours is logged and told as one."""
    if done.cancelled():
        return {"state": "gone"}
    fault = done.exception()
    if fault is not None:
        _LOG.error("a job could not be worked through", exc_info=fault)
        return {"state": "fault", "what": type(fault).__name__}
    return done.result()


def _broken(done: Future[Answer]) -> bool:
    return done.cancelled() or (done.done() and done.exception() is not None)


def _key(kind: Kind, job_file: Path, revision: str, out: Path | str) -> tuple[str, str, str]:
    """What an answer is kept under; a search and a choice are of one shelf, all else of the whole job."""
    shelf = f" {out}" if kind in ("choose", "take") else ""
    return (str(job_file), f"{revision} {_stamp(job_file)}{shelf}", kind)


def _stamp(job_file: Path) -> str:
    """What tells an older price file from a newer one."""
    found = sorted(job_file.parent.glob("prices*.toml"))
    try:
        return " ".join(f"{p.stat().st_mtime_ns}" for p in found)
    except OSError:
        return ""
