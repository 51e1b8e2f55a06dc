"""The days of a job as an iCalendar file that any calendar takes in.

Source: RFC 5545: lines end in CR LF and are folded before the 76th octet (3.1), texts escaped (3.3.11), times without a
zone are the reader's own (3.3.5 form 1), each event with UID and DTSTAMP (3.6.1). RFC 7986 5.1: a calendar has a NAME.
"""

from __future__ import annotations

import hashlib
from datetime import date

from ledgewright.sheets.say import Say
from ledgewright.sheets.shopside import Side, dated, resting, task_text, visit_text
from ledgewright.sheets.spoken import own_names
from ledgewright.shop import Done, clock

PRODUCT = "-//Ledgewright//shop days//EN"
FOLD = 75
LEAST_WAIT = 60
"""Shorter waits (minutes) are not worth an entry."""


def ics(side: Side) -> str | None:
    """Return the days of a job as an iCalendar text; None where the job says no first day.

    No clock takes part: the stamp is midnight of the first day. What rests on drilling that may not be done has no
    entry. Entries keep their UID from one revision of a job to the next, so that a new file moves them.

    Args:
        side: the shop's side of the job.
    """
    if not side.days.dated:
        return None
    say = Say.of(side.plan.job.meta, own_names(side.plan))
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        f"PRODID:{PRODUCT}",
        "CALSCALE:GREGORIAN",
        f"NAME:{_escaped(side.plan.job.meta.name)}",
    ]
    for name, entry in _entries(side).items():
        lines += _event(side, name, entry, say)
    return "".join(_folded(line) for line in (*lines, "END:VCALENDAR"))


Entry = tuple[str, str, int, int, bool]
"""What, more about it, from, to (minutes), whether hands are on it."""


def _entries(side: Side) -> dict[str, Entry]:
    made: dict[str, Entry] = {}
    visits: dict[tuple[str, int], list[tuple[Done, tuple[int, int]]]] = {}
    for each in dated(side):
        for k, stint in enumerate(each.stints, 1):
            if each.task.visit:
                visits.setdefault((each.task.visit, stint[0] // 1440), []).append((each, stint))
                continue
            name = f"{each.task.id}-{k}"
            what = task_text(each.task)
            made[name] = (_capital(what), "", *stint, True)
    for (visit, day), rows in visits.items():
        told = "\n".join(f"{clock(a)} {task_text(done.task)}" for done, (a, _) in rows)
        number = len({d for v, d in visits if v == visit and d <= day})
        what = f"{visit_text(visit)}: {side.plan.job.meta.place or 'site'}"
        made[f"visit.{visit}-{number}"] = (what, told, rows[0][1][0], rows[-1][1][1], True)
    shut = resting(side)
    for wait in side.days.waits:
        if wait.task not in shut and wait.end - wait.start >= LEAST_WAIT and wait.why:
            made[f"wait.{wait.task}.{wait.why}"] = (
                f"Wait: {wait.why}",
                "",
                wait.start,
                wait.end,
                False,
            )
    if not side.undated and side.days.heavy > side.days.finish:
        heavy = side.days.heavy
        made["heavy"] = ("From here on: heavy things may stand on it", "", heavy, heavy + 60, False)
    return dict(sorted(made.items(), key=lambda item: (item[1][2], item[0])))


def _event(side: Side, name: str, entry: Entry, say: Say) -> list[str]:
    what, more, start, end, hands = entry
    meta = side.plan.job.meta
    key = hashlib.sha256(f"{meta.file}\n{meta.name}\n{name}".encode()).hexdigest()[:32]
    first = side.days.calendar.first
    lines = [
        "BEGIN:VEVENT",
        f"UID:{key}@ledgewright",
        f"DTSTAMP:{first:%Y%m%d}T000000Z",
        f"DTSTART:{_local(side, start)}",
        f"DTEND:{_local(side, end)}",
        f"SUMMARY:{_escaped(say.text(what))}",
    ]
    if more:
        lines.append(f"DESCRIPTION:{_escaped(say.text(more))}")
    lines.append(f"TRANSP:{'OPAQUE' if hands else 'TRANSPARENT'}")
    return [*lines, "END:VEVENT"]


def _local(side: Side, moment: int) -> str:
    day: date = side.days.date(moment)
    return f"{day:%Y%m%d}T{clock(moment).replace(':', '')}00"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _escaped(text: str) -> str:
    for sign in "\\;,":
        text = text.replace(sign, "\\" + sign)
    plain = text.replace("\r\n", "\n").replace("\r", "\n").replace("\n", "\\n")
    return "".join(c for c in plain if c.isprintable())


def _folded(line: str) -> str:
    """Return a line in pieces of at most 75 octets, never through a letter, each further one led by a space."""
    pieces, size = [""], 0
    for letter in line:
        octets = len(letter.encode())
        if size + octets > FOLD:
            pieces.append(" ")
            size = 1
        pieces[-1] += letter
        size += octets
    return "\r\n".join(pieces) + "\r\n"
