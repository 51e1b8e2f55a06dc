"""Changes of a design, and what a search found of it, in the words and units of the job."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ledgewright import stock
from ledgewright.choose import Carries, Change, Choice, Choices, Figures, Question, Step, Tried
from ledgewright.job import Job, Spec
from ledgewright.judge import place_at
from ledgewright.sheets.say import Say, ratio
from ledgewright.statics import Place
from ledgewright.units import show_length

AS_IS = "as it is"
QUESTIONS: dict[Question, str] = {
    "thinner bar": "a thinner rod",
    "thicker bar": "a thicker rod",
    "square bar": "square, not round",
    "round bar": "round, not square",
    "other steel": "another steel",
    "every member": "a rod in every stud",
    "every other member": "a rod in every other stud",
    "other adhesive": "another adhesive",
    "thinner skins": "thinner skins",
    "thicker skins": "thicker skins",
    "other panel": "another panel",
    "deeper": "deeper holes",
    "shallower": "shallower holes",
    "glued": "glued onto its rods",
    "dry": "dry on its rods",
    "closer ribs": "closer ribs",
    "two sections": "in two sections",
    "one section": "in one section",
    "one rod fewer": "one rod fewer",
}
NOT_BUILT: dict[str, str] = {
    "drill": "no bit for the hole",
    "hole": "the hole",
    "slot": "the bar is higher than the core",
    "thick": "thicknesses that differ",
    "projection": "rods as long as the shelf is deep",
    "embedment": "holes deeper than the stud",
    "layout": "it cannot be laid out on its walls",
    "place": "no stud there",
    "groove": "the light groove",
    "fitting": "no way on",
    "temperature": "too cold for the adhesive",
}
"""Codes of the reading and kinds that are no check, in words."""


class ChosenWords:
    """How one job and one of its shelves are told of."""

    def __init__(self, job: Job, shelf: str) -> None:
        self.job = job
        self.spec: Spec = next(each for each in job.shelves if each.id == shelf)
        catalogue = [row.name for kind in stock.KINDS for row in stock.rows(kind)]
        self.say = Say.of(job.meta, (shelf, *(w.id for w in job.tapes.walls), *catalogue))

    def told(self, text: str) -> str:
        """Return a sentence of the program's own making in the job's English."""
        return self.say.text(text)

    def changes(self, tried: Tried) -> str:
        """Return what differs from the job, in a line; "as it is" if nothing does."""
        said = "; ".join(self.change(each) for each in tried.changes)
        return said or AS_IS

    def change(self, change: Change) -> str:
        """Return one thing that differs from the job, in words."""
        now = change.now
        match change.axis, now:
            case "bar", str():
                return f"rods {now}"
            case "hole", float():
                return f"hole {self.fine(now)}"
            case "members", tuple():
                return self._members(change.wall, [str(each) for each in now])
            case "embedment", float():
                return f"{self.fine(now)} deep in the wood"
            case "adhesive", str():
                return f"set in {now}"
            case "in slot", str():
                return "dry on its rods" if now == "dry" else "glued onto its rods"
            case "play", float():
                return f"play {self.fine(now)} in the slots"
            case "projection", float():
                more = "further out" if now > 0 else "less far out"
                return f"rods {self.fine(abs(now))} {more}"
            case "skins", str():
                return f"skins {now}"
            case "core", tuple():
                return self._core([each for each in now if isinstance(each, str | float)])
            case "way", tuple():
                return self._way(now)
        return change.axis

    def fine(self, value: float) -> str:
        """Return a length (mm) as a rule shows it, to 1/64 in or 0.1 mm, with its unit."""
        return show_length(value, self.job.meta.units, to=64, mark=True)

    def _members(self, wall: str, now: Sequence[str]) -> str:
        had = [rod.member for rod in self.spec.rods if rod.wall == wall]
        gone = [each for each in had if each not in now]
        new = [each for each in now if each not in had]
        parts = []
        if gone:
            parts.append(f"none at {self._places(wall, gone)}")
        if new:
            parts.append(f"also at {self._places(wall, new)}")
        return f"{len(now)} rods on wall {self._mark(wall)}, {', '.join(parts)}"

    def _mark(self, wall: str) -> str:
        return next(each.mark for each in self.job.tapes.walls if each.id == wall)

    def _places(self, wall: str, ids: Sequence[str]) -> str:
        members = {
            m.id: (m.left + m.right) / 2
            for w in self.job.tapes.walls
            if w.id == wall
            for m in w.members
        }
        said = [place_at(self.job, wall, members[each])[len(wall) + 1 :] for each in ids]
        return " and ".join(said)

    def _core(self, now: Sequence[str | float]) -> str:
        was = self.spec.core
        of, strip, rib, span = now
        parts = [] if of == was.of.name else [f"core of {of}"]
        for name, value, before in (
            ("strips", strip, was.strip),
            ("ribs", rib, was.rib),
            ("hollows up to", span, was.max_span),
        ):
            if value != before and isinstance(value, float):
                parts.append(f"{name} {self.fine(value)}")
        return ", ".join(parts)

    def _way(self, now: Sequence[object]) -> str:
        sections, first = now
        made = "in two sections" if sections == 2 else "in one piece"
        return f"{made}, wall {first} first" if first and sections == 1 else made

    def price(self, figures: Figures | None) -> str:
        """Return a price with its currency, "no price" where the file lacks one; a dash without figures or file."""
        prices = self.job.shop.prices
        if figures is None or prices is None:
            return "–"
        return "no price" if figures.price is None else f"{prices.currency} {figures.price:,.0f}"

    def mass(self, value: float) -> str:
        """Return the mass of a shelf without its rods (kg) to half a pound or 0.2 kg, rounded up."""
        if self.job.meta.units == "in":
            return f"{math.ceil(value / 0.45359237 * 2 - 1e-6) / 2:g} lb"
        return f"{math.ceil(value * 5 - 1e-6) / 5:.1f} kg"

    def hours(self, value: float) -> str:
        """Return hours rounded up to a quarter."""
        return f"{math.ceil(value * 4 - 1e-6) / 4:g}"

    def drops(self, figures: Figures | None) -> tuple[str, str]:
        """Return the front drop on day one and in ten years, rounded up; dashes where they are not known."""
        if figures is None:
            return "–", "–"
        return self.say.drop(figures.drop_today), self.say.drop(figures.drop_long)

    def carries(self, carries: Carries | None) -> str:
        """Return the load limit on every length, rounded down; "none", or a dash where it was not worked out."""
        if carries is None:
            return "–"
        return "none" if carries.even is None else self.say.most_per_length(carries.even)

    def stopped(self, carries: Carries | None) -> str:
        """Return what stops the load limit, or why there is none, in a line; empty where it was not worked out."""
        if carries is None:
            return ""
        if carries.even is None:
            return f"no load limit: {self.told(self.say.sizes(carries.why))}"
        place = self._place(carries.place)
        most = self.carries(carries)
        return (
            f"carries {most} on every length, stopped by {self.told(carries.title).lower()}{place}"
        )

    def governs(self, tried: Tried) -> str:
        """Return the row that governs, and how much of its capacity is asked."""
        if tried.governs is None:
            return "–"
        return f"{self.told(tried.governs.title).lower()}{self.at(tried)}, {ratio(tried.governs.ratio)}"

    def at(self, tried: Tried) -> str:
        """Return where the row that governs is, as " at A 15 7/16"; empty for the whole shelf."""
        return self._place(tried.governs.place if tried.governs else None)

    def _place(self, place: Place | None) -> str:
        if place is None or not place.wall or place.along is None:
            return ""
        return f" at {place_at(self.job, place.wall, place.along)}"

    def verdict(self, tried: Tried) -> str:
        """Return whether a design passes, and why not, in a line."""
        if tried.state == "passes":
            return "passes"
        if tried.state == "set aside":
            return f"not judged in full: {self.told(tried.why)}"
        if tried.state == "cannot be built":
            return f"cannot be built: {self.told(self.say.sizes(tried.why))}"
        if tried.state == "fails":
            more = len(tried.killed) - len(tried.silent) - 1
            rest = f" and {more} more" if more > 0 else ""
            return f"FAILS: {self.told(tried.why).lower()}{rest}"
        return f"cannot say: {self.told(self.say.sizes(tried.why))}"

    def stepped(self, choice: Choice, step: Step) -> str:
        """Return a step down from a choice, what it goes to and what it breaks, short."""
        to = self.to(choice, step)
        unsold = self.unsold(choice, step)
        named = f"{to}, without a price" if unsold else to
        outside = (
            ""
            if unsold or step.inside or step.tried.state != "passes"
            else ", but is outside what was searched"
        )
        return f"{QUESTIONS[step.question]} ({named}) {self.broken(step.tried)}{outside}"

    def to(self, choice: Choice, step: Step) -> str:
        """Return what a step down from a choice goes to: the bar, the panel, the depth, the rod that is left out."""
        was, now = choice.tried.wanted, step.tried.wanted
        match step.question:
            case "thinner skins" | "thicker skins" | "other panel":
                return now.skins or self.spec.skin_top.panel.name
            case "shallower" | "deeper":
                return self.fine(now.embedment)
            case "one rod fewer":
                had = dict(now.members)
                gone = [(wall, i) for wall, ids in was.members for i in ids if i not in had[wall]]
                places = " and ".join(
                    f"{self._mark(wall)} {self._places(wall, [i])}" for wall, i in gone
                )
                return f"none at {places}"
        return now.bar

    def unsold(self, choice: Choice, step: Step) -> bool:
        """Say whether a step goes to something that the price file has no price for."""
        return bool(set(step.tried.missing) - set(choice.tried.missing))

    def broken(self, tried: Tried) -> str:
        """Return what a design that was made weaker breaks, short."""
        if tried.state == "passes":
            return "still passes"
        if tried.state == "cannot be built":
            return "cannot be built"
        if tried.state == "cannot say":
            return f"cannot be said to hold ({', '.join(self.kind(each) for each in tried.silent[:2])})"
        more = len(tried.killed) - len(tried.silent) - 1
        rest = f" and {more} more" if more > 0 else ""
        return f"breaks: {self.told(tried.why).lower()}{rest}"

    def asked(self, question: Question, tried: Tried) -> str:
        """Return a question with what it changes, said once."""
        changed = self.changes(tried)
        return changed if changed == QUESTIONS[question] else f"{QUESTIONS[question]}: {changed}"

    def kind(self, family: str) -> str:
        """Return a kind of check, or a code of the reading, as people know it."""
        return self.told(NOT_BUILT.get(family, family))


def no_door(found: Choices) -> str:
    """Return why no door is told of where nothing passes: none was found, or the search was ended before."""
    if found.stopped:
        return "Ended before all doors were looked for."
    return "None of a lock, other skins, looser drop limits, less on it or a shelf less deep was found to open it."


def looked(found: Choices) -> str:
    """Return how much of the space was looked at, in a sentence."""
    unbuilt = found.tried - found.built
    refused = f", and {unbuilt} more cannot be built" if unbuilt else ""
    aside = (
        f", {found.aside} set aside (another that passes beats them whatever their checks say, "
        "they drop too far, or fail at a first look)"
        if found.aside
        else ""
    )
    passing = f"{found.passed} {'passes' if found.passed == 1 else 'pass'}"
    of = passing.replace(" ", " of those judged ", 1) if found.aside else passing
    many = "design" if found.judged == 1 else "designs"
    said = f"{found.judged} {many} judged in full{aside}{refused}; {of}"
    if found.complete:
        return f"{said}. That is all there are in the space."
    end = "Stopped before the end; the" if found.stopped else "The"
    about = "about " if found.size > 20_000 else ""
    return f"{said}. {end} space has {about}{found.size:,}, so a better one may be left."


def carries_note(found: Choices) -> str:
    """Return what the load limits of choices are and are not, and that a choice is no leave to drill."""
    without = any(each.carries is None for each in found.front)
    left = " Where there is a dash it was not worked out before the end." if without else ""
    return (
        "What a choice carries is by its statics, on every length, with one heavy thing and somebody leaning on it; "
        f"doubt, readings of its rods and a load test can only lower it.{left} A choice is no leave to drill: make it "
        "in the job file, run the check, and drill by the cards of its packet."
    )


def price_note(found: Choices, job: Job) -> tuple[str, ...]:
    """Return what is to be known of the prices."""
    if job.shop.prices is None:
        return ("No price file is named, so designs are not compared by price.",)
    notes = []
    if found.unpriced_job:
        names = ", ".join(found.unpriced_job)
        notes.append(f"There is no price for {names}, so designs are not compared by price.")
    else:
        notes.append(
            "Prices are of the whole job with sheets counted by their area; the quote counts whole sheets."
        )
    if found.unpriced:
        few = ", ".join(found.unpriced[:6])
        rest = f" and {len(found.unpriced) - 6} more" if len(found.unpriced) > 6 else ""
        notes.append(f"Not looked at for want of a price in the price file: {few}{rest}.")
    return tuple(notes)


def left_out_note(found: Choices) -> tuple[str, ...]:
    """Return that the job as it is has no price and so is not compared, where the choices have one."""
    now = found.as_is
    figures = [each.tried.figures for each in found.front]
    priced = any(each is not None and each.price is not None for each in figures)
    if not priced or now.figures is None or now.figures.price is not None:
        return ()
    names = " and ".join(now.missing)
    return (
        f"The job as it is has no price for {names}: it is not among the choices, nor is any other design with that.",
    )


def accepted_note(job: Job, shelf: str) -> tuple[str, ...]:
    """Return that an engineer's word was for the shelf as it was, and for its rods; nothing where there is none."""
    spec = next(each for each in job.shelves if each.id == shelf)
    given = [(spec.accepted.said, ", ".join(spec.accepted.rows))] if spec.accepted else []
    here = {leg.wall for leg in spec.legs}
    given += [
        (wall.known.engineer, f"the rods on wall {wall.id}")
        for wall in job.tapes.walls
        if wall.id in here and wall.known.engineer
    ]
    return tuple(
        f"These choices rest on what {who} accepted ({what}) for the shelf as it was: the one you take needs that word "
        "anew, before anything is drilled."
        for who, what in given
    )
