"""Each page as data (its JSON twin) and as a template's context; and answering with the one that was asked for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, field, replace
from functools import cache, partial
from pathlib import Path
from typing import Any, TypeVar
from urllib.parse import quote

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response

from ledgewright.desk import adding, forms, onsite, overlay, questions, stages
from ledgewright.desk.changes import Outcome
from ledgewright.desk.forms import Form
from ledgewright.desk.journal import Entry
from ledgewright.desk.packets import Held
from ledgewright.desk.states import DROPS, WORDS, State, stage_of, title_of
from ledgewright.desk.work import Answer
from ledgewright.job import Finding

FORMAT = 1


@dataclass(frozen=True)
class Page:
    """One answer: its template, its JSON twin, the rest of the template's context, its status."""

    template: str
    data: Mapping[str, Any]
    context: Mapping[str, Any] = field(default_factory=dict)
    status: int = 200


@dataclass(frozen=True)
class Broken:
    """Why the file cannot be read at all, and the number of the last kept text that can; None if there is none."""

    found: Finding
    whole: int | None


@dataclass(frozen=True)
class Frame:
    """What stands round every page of a job."""

    name: str
    stage: str
    state: State
    last: Entry | None = None
    before: Entry | None = None
    after: Entry | None = None
    broken: Broken | None = None

    @property
    def title(self) -> str:
        """What the job calls itself."""
        return self.state.job.meta.name if self.state.job else self.name

    def data(self) -> dict[str, Any]:
        """The frame as a JSON document."""
        return {
            "format": FORMAT,
            "job": self.name,
            "page": self.stage,
            "state": self.state.json(),
            "undo": self.last.what if self.before and self.last else None,
            "redo": self.after.what if self.after else None,
            "broken": _finding(self.broken.found) if self.broken else None,
        }


def wants_json(request: Request) -> bool:
    """Say whether the JSON twin is asked for."""
    if request.query_params.get("format") == "json":
        return True
    accepted = request.headers.get("accept", "")
    return "application/json" in accepted and "text/html" not in accepted


def answer(request: Request, page: Page) -> Response:
    """Return a page as it was asked for: JSON, sections for the desk's own script, or a whole page."""
    if wants_json(request):
        return JSONResponse({"format": FORMAT, **page.data}, status_code=page.status)
    frame = page.context.get("frame")
    job = frame.state.job if isinstance(frame, Frame) else None
    text = (
        _templates()
        .get_template(page.template)
        .render(
            **page.context,
            fragment="x-fragment" in request.headers,
            say=partial(_said, job.meta.words if job else "en-US"),
            inches=job is not None and job.meta.units == "in",
        )
    )
    if "x-fragment" not in request.headers:
        return HTMLResponse(text, status_code=page.status)
    # for its own script the outcome stands in a header: a browser would write every other status to its console
    outcome = page.context.get("outcome")
    told: dict[str, str] = {"X-Outcome": outcome.kind} if isinstance(outcome, Outcome) else {}
    if isinstance(outcome, Outcome) and (outcome.saved or outcome.kind == "saved"):
        told["X-Saved"] = "1"
    framed = isinstance(frame, Frame) and page.status == 404
    return HTMLResponse(text, status_code=200 if told or framed else page.status, headers=told)


def _said(words: Any, text: str) -> str:
    if words == "en-US":
        return text
    from ledgewright.sheets.words import told

    return told(text, words)


@cache
def _templates() -> Environment:
    made = Environment(
        loader=FileSystemLoader(Path(__file__).parent / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["capital"] = lambda text: text[:1].upper() + text[1:]
    made.filters["sentence"] = lambda text: text[:1].upper() + text[1:].rstrip(". ") + "."
    made.filters["place"] = _place
    made.filters["url"] = lambda text: quote(str(text), safe="")
    made.globals |= {
        "stages": stages.ORDER,
        "words_of": WORDS,
        "title_of": title_of,
        "stage_of": stage_of,
        "names": forms.names,
        "drawn": overlay.drawn,
        "held": overlay.held,
    }
    made.globals["ui"] = made.get_template("parts.html").module
    return made


def _place(path: str) -> str:
    """A path of the file in plain words."""
    # The sheets bring the numerics along, which the first page does not wait for.
    from ledgewright.sheets.plainly import plain_place

    return plain_place(path)


def refused(
    request: Request, status: int, why: str, headers: Mapping[str, str] | None = None
) -> Response:
    """Return a refusal in plain words, as a page or as JSON."""
    page = Page("refused.html", {"refused": why}, {"why": why, "status": status}, status)
    made = answer(request, page)
    made.headers.update(dict(headers or {}))
    return made


def asked(posted: Mapping[str, str], findings: Sequence[Finding], status: int = 200) -> Page:
    """Return the ten-minute questions, with the answers so far and what is wrong with them."""
    parts, left = questions.answered(posted, findings)
    data = {
        "questions": [
            {
                "name": q.cell.name,
                "part": part.title,
                "asks": q.cell.label,
                "help": q.help,
                "answer": q.cell.value,
                "choices": list(q.cell.choices or forms.names(q.cell.names)),
                "wrong": [{"wrong": s.wrong, "right": s.right} for s in q.said],
            }
            for part in parts
            for q in part.questions
        ],
        "wrong": [_finding(f) for f in left],
    }
    outcome = Outcome("refused", "", tuple(findings)) if findings else None
    context = {"parts": parts, "left": left, "outcome": outcome}
    return Page("new.html", data, context, status)


def _finding(f: Finding) -> dict[str, Any]:
    return {"path": f.path, "value": f.value, "wrong": f.wrong, "right": f.right, "line": f.line}


@dataclass(frozen=True)
class Shown:
    """A page of forms as it is shown: the file, what was typed and not taken, what became of that, the status.

    stood: what was said to be meant and could not be taken yet, a path on each line.
    """

    text: str
    posted: Mapping[str, str]
    outcome: Outcome | None
    status: int
    stood: str = ""

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What was wrong with what was typed."""
        return self.outcome.findings if self.outcome else ()


def staged(frame: Frame, shown: Shown, sketch: Answer | None) -> Page:
    """Return a page of forms with the drawings beside it.

    Args:
        frame: round it.
        shown: the file and what was typed.
        sketch: the drawings; None while they are made.
    """
    held = forms.document(shown.text)
    made, left = _told(frame, shown, held)
    outcome, posted = shown.outcome, shown.posted
    data = {
        **frame.data(),
        "forms": [_form(form) for form in made],
        "wrong": [_finding(f) for f in shown.findings],
        "clashes": [asdict(c) for c in outcome.clashes] if outcome else [],
        "drawings": [each["title"] for each in _beside_of(frame.stage, sketch)],
    }
    context = {
        "frame": frame,
        "forms": made,
        "adders": _refilled(adding.adders(frame.stage, held), posted),
        "left": left,
        "outcome": outcome,
        "posted": posted,
        "stood": shown.stood,
        **_drawings(frame, sketch),
    }
    return Page("stage.html", data, context, shown.status)


def _told(
    frame: Frame, shown: Shown, held: Mapping[str, Any]
) -> tuple[Sequence[Form], list[Finding]]:
    """The forms as typed, with what is wrong at each field; and what belongs to none."""
    made: Sequence[Form] = forms.filled(forms.forms(frame.stage, held), shown.posted)
    made, left = forms.told(made, shown.findings, shown.stood)
    known = {(f.path, f.wrong) for f in shown.findings}
    for told in frame.state.of(frame.stage, "missing"):
        if (told.path, told.text) not in known:
            standing = Finding("", "refuse", "", None, told.path, "", told.text, told.right)
            made = _beside(made, standing)
    return made, left


_PLANS = ("corners", "shelf", "rods", "loads")
_WALLS = ("walls", "shelf")


def _beside_of(stage: str, sketch: Answer | None) -> list[Mapping[str, Any]]:
    """The drawings that belong beside a page of forms."""
    kinds = [*(["plan "] if stage in _PLANS else []), *(["wall "] if stage in _WALLS else [])]
    drawings = (sketch or {}).get("drawings", ())
    return [each for kind in kinds for each in drawings if each["name"].startswith(kind)]


def _drawings(frame: Frame, sketch: Answer | None) -> dict[str, Any]:
    wanted = frame.stage in _PLANS or frame.stage in _WALLS
    return {
        "wanted": wanted,
        "drawings": _beside_of(frame.stage, sketch),
        "drawing_pending": wanted and sketch is None,
    }


def drawing(frame: Frame, sketch: Answer | None) -> Page:
    """Return the drawings beside a page of forms by themselves."""
    shown = _beside_of(frame.stage, sketch)
    data = {**frame.data(), "drawings": [{"name": d["name"], "title": d["title"]} for d in shown]}
    return Page("drawing.html", data, {"frame": frame, **_drawings(frame, sketch)})


def on_site(frame: Frame, shown: Shown, sketch: Answer | None, sited: Answer | None) -> Page:
    """Return the page of the day on site: what may be drilled, the rods as set, the load test.

    Args:
        frame: round it.
        shown: the file and what was typed.
        sketch: with the rods that are read; None while it is made.
        sited: what readings and tests come to; None while it is worked out.
    """
    held = forms.document(shown.text)
    made, left = _told(frame, shown, held)
    found = sited if sited and sited["state"] == "done" else None
    known = sketch if sketch and "rods" in sketch else None
    rods, left = _typed(onsite.readings(held, made, known), shown, left)
    steps, left = _typed(onsite.next_steps(held, found), shown, left)
    tests = [form for form in made if form.path.startswith("site.test")]
    data = {
        **frame.data(),
        "rods": [{"rod": each.mark, "form": _form(each.form)} for each in rods],
        "tests": [_form(form) for form in tests],
        "wrong": [_finding(f) for f in shown.findings],
        "found": found and {"sections": [_without_sheet(s) for s in found["sections"]]},
    }
    context = {
        "frame": frame,
        "rods": rods,
        "tests": tests,
        "steps": steps,
        "found": found,
        "left": left,
        "outcome": shown.outcome,
        "posted": shown.posted,
        "stood": shown.stood,
        "pending": sited is None,
        "waiting": sketch is None,
        "order": frame.state.job.meta.order if frame.state.job else "",
    }
    return Page("site.html", data, context, shown.status)


Fresh = TypeVar("Fresh", onsite.Reading, onsite.NextStep)


def _typed(
    listed: Sequence[Fresh], shown: Shown, left: list[Finding]
) -> tuple[list[Fresh], list[Finding]]:
    """Entries that are not in the file yet; the one that was sent as it was typed, with what is wrong with it."""
    made = []
    for each in listed:
        if not each.add or each.add != shown.posted.get("add"):
            made.append(each)
            continue
        (filled,) = forms.filled((each.form,), shown.posted)
        filled, left = onsite.told(filled, left)
        made.append(replace(each, form=filled))
    return made, left


def _without_sheet(section: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in section.items() if key != "sheet"}


def _refilled(
    adders: Sequence[adding.Adder], posted: Mapping[str, str]
) -> list[tuple[adding.Adder, tuple[forms.Cell, ...]]]:
    made = []
    for number, adder in enumerate(adders):
        mine = posted if posted.get("add") == str(number) else {}
        made.append(
            (
                adder,
                tuple(
                    replace(c, value=mine[c.name], held=c.value) if c.name in mine else c
                    for c in adder.cells
                ),
            )
        )
    return made


def _beside(made: Sequence[Form], found: Finding) -> tuple[Form, ...]:
    """Add what already stands wrong in the file at its field, beside what was just said."""
    fresh, _ = forms.told(made, [found])
    joined = []
    for old, new in zip(made, fresh, strict=True):
        fields = tuple(
            replace(a, said=(*a.said, *b.said)) for a, b in zip(old.fields, new.fields, strict=True)
        )
        joined.append(replace(old, fields=fields, said=(*old.said, *new.said)))
    return tuple(joined)


def _form(form: Form) -> dict[str, Any]:
    return {
        "path": form.path,
        "title": form.title,
        "fields": [
            {
                "path": f.path,
                "label": f.label,
                "help": f.help,
                "needed": f.needed,
                "value": f.cell.value if f.cell else [[c.value for c in row] for row in f.rows],
                "names": [f.cell.name] if f.cell else [[c.name for c in row] for row in f.rows],
                "choices": list(f.cell.choices) if f.cell else [],
                "wrong": [{"wrong": s.wrong, "right": s.right} for s in f.said],
            }
            for f in form.fields
        ],
    }


def stepped(frame: Frame, outcome: Outcome | None, *, forth: bool) -> Page:
    """Return why nothing was undone or made again, and what that would be now.

    Args:
        frame: of the job as it is.
        outcome: a conflict; None where it is only shown again.
        forth: whether something undone was to be made again.
    """
    entry = frame.after if forth else frame.last if frame.before else None
    data = {**frame.data(), "would": entry.what if entry else None}
    context = {"frame": frame, "entry": entry, "forth": forth, "outcome": outcome}
    return Page("stepped.html", data, context, 409 if outcome else 200)


def state_only(frame: Frame) -> Page:
    """Return the state of the whole by itself."""
    return Page("state.html", frame.data(), {"frame": frame})


def resulted(frame: Frame, whole: Answer | None) -> Page:
    """Return what the job comes to; `whole` is None while load limits are being worked out."""
    shown = whole if whole and whole["state"] == "done" else frame.state.answer
    limits = whole is not None and whole["state"] == "done"
    settled = frame.state.word in ("unread", "cannot lay", "fault")
    check = shown.get("check")
    data = {**frame.data(), "check": check, "load_limits": limits}
    context = {
        "frame": frame,
        "shown": shown,
        "rows": _governing(check) if check else [],
        "origins": _origins(check) if check else {},
        "limits": limits,
        "pending": not limits and not settled and not (whole and whole["state"] == "fault"),
    }
    return Page("result.html", data, context)


def _origins(check: Mapping[str, Any]) -> dict[tuple[int, int], str]:
    """The check that each figure of each shelf comes from, by their numbers on the page."""
    found: dict[tuple[int, int], str] = {}
    for k, shelf in enumerate(check["shelves"]):
        known = {row["id"] for row in shelf["checks"]}
        limit = shelf["load_limit"] or shelf["would_carry"] or {}
        by = (*DROPS, (limit.get("even") or {}).get("check") or "")
        found |= {(k, n): f"{shelf['id']} {name}" for n, name in enumerate(by) if name in known}
    return found


def _governing(check: Mapping[str, Any]) -> list[tuple[Mapping[str, Any], list[Any]]]:
    """For each shelf the worst row of each kind of check, worst first."""
    made = []
    for shelf in check["shelves"]:
        worst: dict[str, Any] = {}
        for row in shelf["checks"]:
            if row["family"] not in worst or row["ratio"] > worst[row["family"]]["ratio"]:
                worst[row["family"]] = row
        made.append((shelf, sorted(worst.values(), key=lambda row: -row["ratio"])))
    return made


def calculated(frame: Frame, ident: str) -> Page:
    """Return one check with its steps, or that it is being worked out, or that there is none of that name now."""
    shelves = frame.state.answer.get("check", {}).get("shelves", [])
    of = {
        f"{shelf['id']} {row['id']}": (shelf, row) for shelf in shelves for row in shelf["checks"]
    }
    shelf, row = of.get(ident, (None, None))
    pending = row is None and frame.state.pending
    data = {**frame.data(), "shelf": shelf and shelf["id"], "calculation": row}
    context = {"frame": frame, "row": row, "ident": ident, "pending": pending}
    return Page("calculation.html", data, context, 200 if row or pending else 404)


def fitted(frame: Frame, found: Answer | None) -> Page:
    """Return how the shelves go on; None while that is being worked out."""
    done = found is not None and found["state"] == "done"
    shown = found if found and done else {"fitting": {}, "ways": [], "pictures": [], "playing": []}
    titles = [{"name": p["name"], "title": p["title"]} for p in shown["pictures"]]
    data = {**frame.data(), "fitting": _without_svg(shown["fitting"]), "drawings": titles}
    data["ways"] = _without_svg(shown["ways"])
    context = {
        "frame": frame,
        "shown": shown,
        "pending": not _settled(frame, found),
    }
    return Page("fitting.html", data, context)


def _without_svg(held: Any) -> Any:
    if isinstance(held, dict):
        return {key: _without_svg(value) for key, value in held.items() if key != "svg"}
    if isinstance(held, list | tuple):
        return [_without_svg(each) for each in held]
    return held


PARTS = (
    ("whole", "everything, with every file"),
    ("client", "what it will be, what it may carry, the quote and the choices to sign; no hours"),
    ("shop", "parts, cuts, core map, glue-up, finish, days"),
    ("site", "measure, cards, guide, fitting order, load test; no calculations"),
    ("engineer", "every calculation, the sheets it rests on, what is assumed"),
)
"""What can be built of the packet, and what it is for."""


def packed(
    frame: Frame, held: Held | None, *, busy: bool, far: str, wrong: str, status: int = 200
) -> Page:
    """Return the packet's page."""
    current = held is not None and held.revision == frame.state.revision
    files = [{"name": name, "bytes": size} for name, size in held.files] if held else []
    data = {**frame.data(), "files": files, "current": current, "building": busy, "wrong": wrong}
    data["far"] = far
    context = {
        "frame": frame,
        "held": held,
        "current": current,
        "parts": PARTS,
        "pending": busy,
        "far": far,
        "wrong": wrong,
    }
    return Page("packet.html", data, context, status)


@dataclass(frozen=True)
class Search:
    """The search of choices as it stands: its shelf, all there are, whether one runs, how far it has come."""

    shelf: str
    shelves: tuple[str, ...]
    busy: bool
    far: str


def choosing(
    frame: Frame, answer: Mapping[str, Any] | None, search: Search, *, wrong: str, status: int
) -> Page:
    """Return the page of the choices.

    Args:
        frame: of the job.
        answer: what a search of the job as it is found; None if there was none.
        search: which shelf, and whether one is running.
        wrong: what could not be done, in words.
        status: of the answer.
    """
    done = answer is not None and answer["state"] == "done"
    found = answer["document"] if answer and done else None
    sheets = answer["sheets"] if answer and done else {}
    if answer is not None and not done:
        wrong = wrong or "There is nothing to choose from until the job can be laid out."
    data = {**frame.data(), "choices": found, "searching": search.busy, "wrong": wrong}
    data |= {"shelf": search.shelf, "far": search.far}
    context = {
        "frame": frame,
        "found": found,
        "sheet": sheets.get("choices"),
        "asked": sheets.get("what if"),
        "search": search,
        "pending": search.busy,
        "wrong": wrong,
    }
    return Page("choose.html", data, context, status)


def _settled(frame: Frame, found: Answer | None) -> bool:
    """Whether nothing more is to come: it is there, or it cannot be worked out."""
    stands = frame.state.word in ("unread", "cannot lay", "fault")
    return stands or (found is not None and found["state"] in ("done", "fault"))


def sure(frame: Frame, found: Answer | None) -> Page:
    """Return how sure the answers are; None while that is worked out."""
    sheets = found["sheets"] if found and found["state"] == "done" else []
    data = {**frame.data(), "shelves": [_without_svg(each) for each in sheets]}
    context = {"frame": frame, "sheets": sheets, "pending": not _settled(frame, found)}
    return Page("sure.html", data, context)


def costs(frame: Frame, found: Answer | None) -> Page:
    """Return how it is cut, bought and paid for, and when; None while that is worked out."""
    done = found if found and found["state"] == "done" else None
    price = done["price"] if done else frame.state.answer.get("price")
    sheets = done["shop"] if done else {}
    data = {**frame.data(), "price": price, "pages": _without_svg(sheets)}
    context = {
        "frame": frame,
        "price": price,
        "sheets": sheets,
        "pending": not _settled(frame, found),
    }
    return Page("costs.html", data, context)


def journalled(frame: Frame, entries: Sequence[Entry]) -> Page:
    """Return every change of a job, the newest first."""
    rows = [
        {
            "number": each.number,
            "what": each.what,
            "when": each.when.replace("T", " ").removesuffix("+00:00"),
            "now": each.revision == frame.state.revision,
        }
        for each in entries
    ]
    return Page("journal.html", {**frame.data(), "changes": rows}, {"frame": frame, "rows": rows})


@dataclass(frozen=True)
class Text:
    """A whole file as it is shown or was typed, and the revision it was made from."""

    text: str
    base: str


def filed(frame: Frame, shown: Text, now: str, outcome: Outcome | None, *, status: int) -> Page:
    """Return the whole file as text, with what is wrong with what was typed.

    Args:
        frame: of the job.
        shown: in the field.
        now: in the file.
        outcome: of what was sent.
        status: of the answer.
    """
    findings = outcome.findings if outcome else ()
    data = {**frame.data(), "text": shown.text, "wrong": [_finding(f) for f in findings]}
    context = {"frame": frame, "shown": shown, "now": now, "outcome": outcome}
    return Page("file.html", data, context, status)
