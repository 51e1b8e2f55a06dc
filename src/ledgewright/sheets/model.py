"""What stands on each page of the packet: texts in the job's own units and words, ready to be set.

Nothing here is a number that still has to be rounded, and nothing is markup: a text is printed as it
stands. Every page type is a frozen dataclass; `KINDS` of the template carries the same names.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True)
class Picture:
    """A drawing at true paper scale: its SVG, its size on paper (mm), its scale in words, what it shows."""

    svg: str
    width: float
    height: float
    scale: str
    caption: str


@dataclass(frozen=True)
class Figure:
    """One key figure: what it is, the figure, and a line under it."""

    label: str
    value: str
    under: str


@dataclass(frozen=True)
class Table:
    """A table: column heads, relative widths, which columns are figures (set to the right), rows of texts.

    `keys` are the columns a person reads off at work: they are set large. A cell of "[]" is a tick box.
    `paths` stand small under the first cell of each row, as they are; none of them, or one for each row.
    """

    heads: tuple[str, ...]
    widths: tuple[float, ...]
    figures: tuple[int, ...]
    rows: tuple[tuple[str, ...], ...]
    keys: tuple[int, ...] = ()
    paths: tuple[str, ...] = ()


@dataclass(frozen=True)
class Note:
    """A heading with the lines that belong under it."""

    head: str
    lines: tuple[str, ...]


@dataclass(frozen=True)
class Block:
    """What the title block says on every page of one job; bundle: for whom, where not the whole."""

    name: str
    code: str
    revision: str
    width: float
    height: float
    size: str
    verdict: str
    bundle: str = ""


@dataclass(frozen=True)
class Page:
    """What every page has: its title, what it is about, the unit of its figures.

    Pages with a `warning` print it at the head of every sheet they run over.
    """

    title: str
    about: str
    unit: str


@dataclass(frozen=True)
class ShelfFigures:
    """The key figures of one shelf on the cover."""

    shelf: str
    verdict: str
    figures: tuple[Figure, ...]


@dataclass(frozen=True)
class Cover(Page):
    """The cover: what it is, whether it holds, what the owner may put on it, what is still open."""

    name: str
    place: str
    client: str
    verdict: str
    plain: str
    why: tuple[str, ...]
    picture: Picture | None
    shelves: tuple[ShelfFigures, ...]
    facts: tuple[Figure, ...]
    open_items: tuple[str, ...]
    cautions: tuple[str, ...]
    letters: tuple[str, ...]
    left_out: tuple[str, ...] = ()


@dataclass(frozen=True)
class ContentsGroup:
    """Pages that belong together in the contents, by their names in the packet."""

    head: str
    names: tuple[str, ...]


@dataclass(frozen=True)
class Contents(Page):
    """What a packet or a bundle holds and on which page; what is with others, what waits, what has no use here."""

    groups: tuple[ContentsGroup, ...]
    elsewhere: tuple[str, ...]
    waits: tuple[str, ...]
    no_use: tuple[str, ...]


@dataclass(frozen=True)
class PlanSheet(Page):
    """One shelf from above with its own sizes."""

    picture: Picture | None
    facts: tuple[Figure, ...]
    notes: tuple[Note, ...]


@dataclass(frozen=True)
class DrillCard(Page):
    """One wall as faced, with leave to drill it: holes in drilling order; `known` is the word before the evidence.

    services: what runs behind the wall, in the job's own words.
    """

    picture: Picture | None
    warning: str
    known: str
    evidence: str
    services: str
    direction: str
    holes: Table
    ticks: tuple[str, ...]
    stop: tuple[str, ...]


@dataclass(frozen=True)
class SetCard(Page):
    """Setting the rods of one wall: lengths, clocks, and how long the adhesive is left alone."""

    warning: str
    rods: Table
    facts: tuple[Figure, ...]
    ticks: tuple[str, ...]
    stop: tuple[str, ...]


@dataclass(frozen=True)
class AsSetCard(Page):
    """The rods of one wall as set: drawn, allowed and read, blank or filled; what they come to all together.

    how: how they are read. eats: what leaves each rod no more.
    """

    warning: str
    facts: tuple[Figure, ...]
    how: tuple[str, ...]
    rods: Table
    eats: tuple[str, ...]
    together: tuple[str, ...]


@dataclass(frozen=True)
class WithheldCard(Page):
    """One wall nobody may drill yet: what has to be answered. It carries no figure of any hole.

    services: what runs behind the wall, in the job's own words.
    """

    warning: str
    picture: Picture | None
    questions: tuple[str, ...]
    rule: str
    services: str


@dataclass(frozen=True)
class SectionSheet(Page):
    """A section through one rod of each sort."""

    pictures: tuple[Picture, ...]
    facts: tuple[Figure, ...]


@dataclass(frozen=True)
class MoveStep:
    """One move of the fitting: its picture, its name, how far, what is done, who does it, what to look at."""

    picture: Picture | None
    name: str
    far: str
    line: str
    who: str = ""
    look: tuple[str, ...] = ()


@dataclass(frozen=True)
class FittingSheet(Page):
    """How the shelf goes on and comes off, one picture for each move; `back` is the way back off.

    first: what to know before anything else: which section is hung first, what is unusual about the way.
    """

    before: tuple[str, ...]
    room: Picture | None
    free: tuple[Figure, ...]
    who: tuple[str, ...]
    moves: tuple[MoveStep, ...]
    after: tuple[Note, ...]
    back_rule: str
    back: Table
    first: tuple[Note, ...] = ()
    warning: str = ""


@dataclass(frozen=True)
class ScribeSheet(Page):
    """The scribe in two passes, marked with the shelf on its rods; what each station is expected to lose."""

    facts: tuple[Figure, ...]
    picture: Picture | None
    before: tuple[str, ...]
    passes: tuple[Note, ...]
    stations: Table
    notes: tuple[str, ...]


@dataclass(frozen=True)
class EdgeCuts:
    """One scribed edge: its bevel and other words, its straight cuts, and what to mark by hand at each station."""

    head: str
    lines: tuple[str, ...]
    cuts: Table
    hand: Table


@dataclass(frozen=True)
class CutsSheet(Page):
    """The scribe in straight cuts: how the shelf lies, the oversize to leave, the cuts of every edge."""

    facts: tuple[Figure, ...]
    lies: tuple[str, ...]
    allowance: tuple[str, ...]
    edges: tuple[EdgeCuts, ...]
    notes: tuple[Note, ...]


@dataclass(frozen=True)
class TemplateSheet(Page):
    """A template of strips made up on site: lay-out, what to cut, where to read it, to be filled in."""

    picture: Picture | None
    strips: Table
    before: tuple[str, ...]
    readings: tuple[Note, ...]
    tables: tuple[Table, ...]
    across: str
    after: tuple[str, ...]


@dataclass(frozen=True)
class WaySeen:
    """One way that was looked at: its picture, its name, whether it goes, what it is like or what blocks it."""

    picture: Picture | None
    name: str
    state: str
    lines: tuple[str, ...]


@dataclass(frozen=True)
class WaysSheet(Page):
    """Every way that was looked at, side by side, what each costs, and what would open one."""

    chosen: str
    ways: tuple[WaySeen, ...]
    costs: Table
    opens: tuple[str, ...]


@dataclass(frozen=True)
class CoreSheet(Page):
    """The core map: what stands between the skins, what stays hollow, where no wood may stand."""

    picture: Picture | None
    hold: str
    pieces: Table
    notes: tuple[Note, ...]
    facts: tuple[Figure, ...] = ()


@dataclass(frozen=True)
class PartsSheet(Page):
    """Parts with their letters: finished sizes, rough sizes, what they are cut from."""

    parts: Table
    notes: tuple[Note, ...]


@dataclass(frozen=True)
class CutUp:
    """One sheet, or boards of one kind, cut up: its drawing, what comes out of it, the cuts in order."""

    head: str
    picture: Picture | None
    lines: tuple[str, ...]
    cuts: Table
    pieces: Table


@dataclass(frozen=True)
class LayoutSheet(Page):
    """How sheets, or boards and bars, are cut up; what is bought, what is kept, how good it is proven to be."""

    facts: tuple[Figure, ...]
    before: tuple[str, ...]
    cut_up: tuple[CutUp, ...]
    notes: tuple[Note, ...]


@dataclass(frozen=True)
class Label:
    """What is stuck on one part: its label, whose it is, its size, which face and edge, which way its grain runs."""

    label: str
    whose: str
    what: str
    size: str
    of: str
    marks: str
    grain: bool


@dataclass(frozen=True)
class LabelSheet(Page):
    """Labels for all parts, to be cut out."""

    before: tuple[str, ...]
    labels: tuple[Label, ...]


@dataclass(frozen=True)
class Line:
    """One numbered line of a derivation; `symbol`, `formula`, `numbers` are the program's own mathematics.

    `room` says whether its source stands beside it, or under it with the whole width for the line, or the
    line is stacked as well, formula over numbers. `like`: the line that has the same formula from the same source
    in full; 0 where it stands here.
    """

    number: int
    symbol: str
    formula: str
    numbers: str
    value: str
    source: str
    assumed: bool
    room: Literal["beside", "under", "stacked"]
    like: int = 0


@dataclass(frozen=True)
class Working:
    """One check with its derivation; `above` names the lines it takes from those before it.

    row: where it stands in the summary, from 0.
    """

    title: str
    place: str
    state: str
    scope: str
    demand: str
    capacity: str
    ratio: str
    case: str
    source: str
    reason: str
    above: str
    steps: tuple[Line, ...]
    row: int = 0


@dataclass(frozen=True)
class ShapeSheet(Page):
    """How the top goes down, what presses on every rod, how it bends."""

    drop: Picture | None
    about_drop: str
    forces: Picture | None
    forces_head: str
    about_forces: str


@dataclass(frozen=True)
class SurePart:
    """One answer over the doubtful figures: how it spreads and what drives it, drawn; how near that is."""

    head: str
    picture: Picture | None
    near: str


@dataclass(frozen=True)
class SureSheet(Page):
    """Best, likely and worst; what drives them; what is worth measuring; the ranges they come from."""

    intro: str
    figures: Table
    parts: tuple[SurePart, ...]
    measure: tuple[str, ...]
    table: Table
    silent: str


@dataclass(frozen=True)
class ChooseSheet(Page):
    """The designs worth having, price against drop, each of them in words; or why nothing passes."""

    intro: str
    caution: str
    table: Table
    picture: Picture | None
    reading: str
    each: tuple[str, ...]
    closed: tuple[Note, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True)
class WhatIfSheet(Page):
    """The job as it is with one thing changed at a time, and what each change does to the drop."""

    intro: str
    table: Table
    picture: Picture | None
    reading: str


@dataclass(frozen=True)
class CalculationSheet(Page):
    """Every check of one shelf, governing first, each with its derivation and source.

    sources: those too long to stand beside a line; lines name them by number. summary_note: how to read the summary.
    """

    summary: Table
    summary_note: str
    hold: str
    cannot_say: tuple[str, ...]
    reading: str
    workings: tuple[Working, ...]
    everywhere: Table
    others: Table
    others_note: str
    sources: tuple[str, ...] = ()


@dataclass(frozen=True)
class AssumedSheet(Page):
    """What the whole job rests on without being told: values assumed, answers missing, work not done yet."""

    assumed: Table
    open_items: Table
    again: tuple[str, ...]
    not_computed: tuple[str, ...]


@dataclass(frozen=True)
class FormPart:
    """A part of a form: choices to tick in a row, lines to write on, tables to fill in, things to tick off.

    picture: a drawing under the lines. whole: kept on one page however long its tables are.
    """

    head: str
    lines: tuple[str, ...] = ()
    choices: tuple[str, ...] = ()
    blanks: tuple[str, ...] = ()
    tables: tuple[Table, ...] = ()
    ticks: tuple[str, ...] = ()
    picture: Picture | None = None
    whole: bool = False


@dataclass(frozen=True)
class FormSheet(Page):
    """A sheet that is filled in on site, or tells how sure the site's figures are.

    beside: whether parts of a few lines each, and what is ticked off, stand two beside one another.
    """

    warning: str
    intro: str
    facts: tuple[Figure, ...]
    parts: tuple[FormPart, ...]
    beside: bool = False


@dataclass(frozen=True)
class CautionSheet(Page):
    """What can hurt someone, and who has the last word."""

    notes: tuple[Note, ...]
