"""The questions of the first ten minutes, in a carpenter's order, and the job file their answers make.

Source of the order and the words: common practice. "Don't know" is an answer to most; the job then says what
not knowing costs.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from ledgewright import units
from ledgewright.desk.forms import UNKNOWN, Cell, Said, Shape, quoted, toml
from ledgewright.job import Finding


@dataclass(frozen=True)
class Question:
    """One question: its input, what it says under its label, and the paths of the file its answer goes to."""

    cell: Cell
    help: str = ""
    paths: tuple[str, ...] = ()
    lines: bool = False
    said: tuple[Said, ...] = ()


@dataclass(frozen=True)
class Part:
    """Questions that belong together, numbered as they are asked."""

    title: str
    questions: tuple[Question, ...]


EVENLY = "what sits on it"
"""What the load spread along it is called."""
BACK, CHEEKS = "back", ("left cheek", "right cheek")
"""What the walls of an alcove are called, as one faces it."""
_LENGTHS = frozenset(
    {
        *("top", "left", "right", "from", "to", "to_right", "depth", "thick", "thing_at", "hollow"),
        *("depth_to_wood", "tape_a", "tape_b", "tape_c", "hole", "embedment", "projection"),
        *("tape_d", "tape_e", "tape_f", "cheek_left", "cheek_right", "edging_thick"),
    }
)
"""Questions that are answered by the tape: a phone offers the keys for fractions."""


def _q(
    name: str,
    label: str,
    help_: str = "",
    *paths: str,
    choices: tuple[str, ...] = (),
    first: str = "",
    stock: str = "",
    lines: bool = False,
) -> Question:
    shape: Shape = "choice" if choices else "figure" if name in _LENGTHS else "words"
    back = tuple(path.replace("wall.left.", f"wall.{BACK}.") for path in paths)
    return Question(
        Cell(f"q:{name}", label, first, shape, choices, stock),
        help_,
        tuple(dict.fromkeys((*paths, *back))),
        lines,
    )


_HOW = ("framed it", "opened it", "probed it", "scanned", "drawing", UNKNOWN)
_STUDS = (
    "One stud on a line, both edges from the hook of the tape at shelf height, like 14 1/2, 16. "
    f'Write "{UNKNOWN}" if nobody has found them: no rods are placed then.'
)
_HOLLOW = "Where along the wall, and how deep behind a straight string, like 36, 1/8. Leave it empty if nobody looked."

_CHEEK = f'From the back to its front edge. "{UNKNOWN}": as much as the shelf is deep is counted on, and open.'

ALIKE = "the same, seen there too"

PARTS: tuple[Part, ...] = (
    Part(
        "1  The job",
        (
            _q("file", "Name of the job file", "Letters, figures, spaces, hyphens.", "file"),
            _q("name", "What the job is called", "", "job.name"),
            _q("place", "Where it is", "", "job.place"),
            _q("units", "You measure in", "", choices=("in", "mm"), first="in"),
        ),
    ),
    Part(
        "2  The shelf on its walls",
        (
            _q(
                "form",
                "It is",
                "",
                choices=("straight", "round an inside corner", "in an alcove"),
                first="straight",
            ),
            _q("top", "Top of the shelf above the floor or level line", "", "shelf.one.top"),
        ),
    ),
    Part(
        "3  How large",
        (
            _q(
                "left",
                "Length of the wall it hangs on; round a corner, of the left wall",
                "The tape is hooked at the left end; round a corner, in the corner. In an alcove, of its back.",
                "wall.left.length",
            ),
            _q("right", "Round a corner: length of the right wall", "", "wall.right.length"),
            _q(
                "cheek_left",
                "In an alcove: its left cheek comes out",
                _CHEEK,
                "wall[0].length",
                first=UNKNOWN,
            ),
            _q(
                "cheek_right",
                "In an alcove: its right cheek comes out",
                _CHEEK,
                "wall[2].length",
                first=UNKNOWN,
            ),
            _q(
                "from",
                "The shelf begins at",
                "From the hook of the tape; 0 at a wall or corner.",
                first="0",
            ),
            _q(
                "to",
                "and ends at; round a corner, on the left wall",
                "From the hook of the tape.",
                "shelf.one.legs[0]",
            ),
            _q("to_right", "Round a corner: on the right wall it ends at", "", "shelf.one.legs[1]"),
            _q("depth", "How deep", "", "shelf.one.depth"),
            _q("thick", "How thick it should look", "", "shelf.one.thick"),
        ),
    ),
    Part(
        "4  What sits on it",
        (
            _q(
                "even",
                "Spread along it",
                f'Like 25 lb/ft or 35 kg/m: weigh one foot of it. "{UNKNOWN}" takes 50 lb/ft2 (2.4 kPa).',
                "shelf.one.load[0].weight",
            ),
            _q(
                "thing", "The heaviest single thing", "What it is; leave it empty if there is none."
            ),
            _q("thing_weight", "weighs", "Like 34 lb or 15 kg.", "shelf.one.load[1].weight"),
            _q(
                "thing_at",
                "stands at",
                "The middle of it by the tape of the wall it hangs on; round a corner, of the left wall.",
                "shelf.one.load[1].at",
            ),
        ),
    ),
    Part(
        "5  The wall",
        (
            _q(
                "framing",
                "Framed in",
                "",
                "wall.left.framing",
                choices=("wood", "metal", "masonry", UNKNOWN),
                first=UNKNOWN,
            ),
            _q(
                "stud_of",
                "Stud timber",
                f'By its stamp. "{UNKNOWN}": nothing is said about strength.',
                "wall.left.framing.of",
                stock="timber",
                first=UNKNOWN,
            ),
            _q(
                "depth_to_wood",
                "Depth to wood",
                "From the finished face to the stud, measured in a hole.",
                "wall.left.depth_to_wood",
                first=UNKNOWN,
            ),
            _q(
                "bearing",
                "Does it carry load from above?",
                f'"{UNKNOWN}" is taken for yes.',
                choices=("no", "yes", UNKNOWN),
                first=UNKNOWN,
            ),
            _q("services", "Pipes and cables behind it", "In words.", first=UNKNOWN),
        ),
    ),
    Part(
        "6  How do you know",
        (
            _q(
                "how",
                "What is behind the wall it hangs on (round a corner, the left wall) is known because you",
                "",
                choices=_HOW,
                first=UNKNOWN,
            ),
            _q(
                "how_right",
                "And behind the right wall of a corner",
                "Unless the same was seen there, nothing is taken to be known of it.",
                choices=(ALIKE, UNKNOWN),
                first=UNKNOWN,
            ),
        ),
    ),
    Part(
        "7  Studs",
        (
            _q(
                "studs",
                "Studs of the wall it hangs on; round a corner, of the left wall",
                _STUDS,
                "wall.left.studs",
                lines=True,
            ),
            _q(
                "studs_right",
                "Studs of the right wall",
                "The same, from the corner.",
                "wall.right.studs",
                lines=True,
            ),
        ),
    ),
    Part(
        "8  Corner and hollows",
        (
            _q(
                "tape_a",
                "Corner: a mark along the left wall; in an alcove, along its left cheek",
                "From the corner. Leave all three empty where nobody has taped it.",
                "corner[0]",
            ),
            _q(
                "tape_b",
                "a mark along the right wall; in an alcove, along its back",
                "",
                "corner[0].taped",
            ),
            _q("tape_c", "straight across from mark to mark", "", "corner[0].taped"),
            _q("tape_d", "Right corner of an alcove: a mark along its back", "", "corner[1]"),
            _q("tape_e", "a mark along its right cheek", "", "corner[1].taped"),
            _q("tape_f", "straight across from those two", "", "corner[1].taped"),
            _q(
                "hollow",
                "The deepest hollow of the wall it hangs on; round a corner, of the left wall",
                _HOLLOW,
                "wall.left.line",
            ),
        ),
    ),
    Part(
        "9  Rods and making",
        (
            _q("stock", "Steel to be had", "", "shelf.one.rods.stock", stock="bar"),
            _q(
                "hole",
                "Hole in the stud, diameter",
                "A little over the rod, for the glue.",
                "shelf.one.rods.hole",
            ),
            _q("embedment", "Depth in stud", "", "shelf.one.rods.embedment"),
            _q("projection", "Stick-out", "Out of the finished face.", "shelf.one.rods.projection"),
            _q(
                "adhesive",
                "Adhesive",
                "",
                "shelf.one.rods.adhesive",
                stock="adhesive",
                first="epoxy thickened",
            ),
            _q(
                "lock",
                "What keeps it on its rods",
                "Nothing keeps a dry shelf on but this.",
                "shelf.one.lock",
                choices=("grub screw", "angled screw", "sealant", "none"),
                first="grub screw",
            ),
            _q("skins", "Skins", "", "shelf.one.skins", stock="panel", first="birch ply 18"),
            _q("core", "Core timber", "", "shelf.one.core.of", stock="lumber", first="poplar"),
            _q("edging", "Solid edging", "", "shelf.one.edging.of", stock="lumber", first="ash"),
            _q("edging_thick", "Its thickness", "", "shelf.one.edging.thick"),
            _q(
                "temperature",
                "Temperature on the day the rods are set",
                "Like 66 F or 15 C.",
                "site.temperature",
                first=UNKNOWN,
            ),
        ),
    ),
)
"""The questions; studs beside obstacles and everything else are asked for on the pages of the job."""


class _Answers:
    """The answers, by name, empty where there is none."""

    def __init__(self, posted: Mapping[str, str]) -> None:
        self._posted = posted

    def __getitem__(self, name: str) -> str:
        return self._posted.get(f"q:{name}", "").strip()

    def known(self, name: str) -> str:
        """An answer that is one; empty for "don't know"."""
        text = self[name]
        return "" if text.lower() in (UNKNOWN, "unknown", "?") else text


def job_text(posted: Mapping[str, str]) -> str:
    """Return the job file that the answers make; what is missing in it is told when it is read.

    Args:
        posted: the answers, by the names of the questions.
    """
    a = _Answers(posted)
    corner = a["form"] == "round an inside corner"
    walls = _alcove(a) if _in_alcove(a) else _wall(a, "left", corner=corner)
    parts = [_head(a), walls]
    if corner:
        parts += [_wall(a, "right", corner=corner), _corner(a, ("left", "right"), "abc")]
    parts.append(_shelf(a, corner=corner))
    parts.append(_table("[site]", {"temperature": _maybe(a, "temperature", "temperature")}))
    return "\n".join(part for part in parts if part)


def _in_alcove(a: _Answers) -> bool:
    return a["form"] == "in an alcove"


def _hangs_on(a: _Answers) -> str:
    """The wall it hangs on; round a corner, the left one."""
    return BACK if _in_alcove(a) else "left"


def _head(a: _Answers) -> str:
    job = {
        "name": quoted(a["name"]) if a["name"] else "",
        "place": quoted(a["place"]) if a["place"] else "",
    }
    unit = a["units"] or "in"
    return f"format = 1\nunits = {quoted(unit)}\n\n" + _table("[job]", job)


def _figure(text: str) -> str:
    return toml(text, "figure") if text else ""


def _maybe(a: _Answers, name: str, key: str = "") -> str:
    """A figure, or "unknown" where nobody knows it."""
    text = a.known(name)
    return toml(text, "figure", key) if text else quoted("unknown")


def _wall(a: _Answers, side: str, *, corner: bool) -> str:
    right = side == "right"
    hooked = "right" if corner and not right else "left"
    hollow = "" if right else _hollow(a, a["left"])
    return _table(
        "[[wall]]",
        {
            "id": quoted(side if right else _hangs_on(a)),
            "tape_from": quoted(hooked),
            "length": _figure(a[side]),
            "line": hollow,
            "depth_to_wood": _maybe(a, "depth_to_wood"),
            "studs": _studs(a.known("studs_right" if right else "studs")),
            "framing": _framing(a),
            "known": _known(a if not right or a["how_right"] == ALIKE else _Answers({})),
        },
    )


def _alcove(a: _Answers) -> str:
    """The back wall between two cheeks, which carry no rods."""
    left, right = (
        _table(
            "[[wall]]",
            {
                "id": quoted(cheek),
                "tape_from": quoted(hooked),
                "length": _maybe(a, name),
                "depth_to_wood": quoted("unknown"),
            },
        )
        for cheek, hooked, name in zip(
            CHEEKS, ("right", "left"), ("cheek_left", "cheek_right"), strict=True
        )
    )
    return "\n".join(
        [
            left,
            _wall(a, "left", corner=False),
            right,
            _corner(a, (CHEEKS[0], BACK), "abc"),
            _corner(a, (BACK, CHEEKS[1]), "def"),
        ]
    )


def _hollow(a: _Answers, length: str) -> str:
    found = _pair(a.known("hollow").strip("[] "))
    if len(found) != 2 or not length:
        return "" if not a.known("hollow") else quoted(a["hollow"])
    at, deep = (_figure(each) for each in found)
    return f"[[0, 0], [{at}, {deep}], [{_figure(length)}, 0]]"


def _studs(text: str) -> str:
    """A pair on each line, or pairs in brackets as the job file has them."""
    lines = [each for line in text.splitlines() if line.strip() for each in _bracketed(line)]
    made = [f"[{', '.join(_figure(e) or quoted('') for e in _pair(line))}]" for line in lines]
    return f"[{', '.join(made)}]" if made else ""


def _bracketed(line: str) -> list[str]:
    return re.findall(r"\[([^\[\]]+)\]", line) or [line.strip("[], ")]


def _pair(text: str) -> list[str]:
    """Two figures, as typed or in the quotes that the job file has; an inch mark inside is a figure's own."""
    return [re.sub(r'^"(.*)"$', r"\1", each.strip()) for each in re.split(r"[,;]", text)]


def _framing(a: _Answers) -> str:
    of, kind = a.known("stud_of"), a.known("framing")
    pairs = {"of": quoted(of or "unknown"), "kind": quoted(kind or "unknown")}
    if kind in ("metal", "masonry"):
        del pairs["of"]
    return _inline(pairs)


def _known(a: _Answers) -> str:
    answers = {key: quoted(a.known(key) or "unknown") for key in ("how", "bearing", "services")}
    return _inline(answers)


def _corner(a: _Answers, walls: tuple[str, str], tapes: str) -> str:
    """A corner by its three tapes; where one of them is not known it is not taped, and open."""
    taped = [_figure(a.known(f"tape_{each}")) for each in tapes]
    pair = f"[{', '.join(map(quoted, walls))}]"
    if all(taped):
        return _table("[[corner]]", {"walls": pair, "taped": f"[{', '.join(taped)}]"})
    guess = _table("[[corner]]", {"walls": pair, "angle": quoted("unknown")})
    return "# taken square until it is taped: tape it before anything is cut\n" + guess


def _shelf(a: _Answers, *, corner: bool) -> str:
    legs = [_leg(a["from"] if not corner else "0", a["to"], _hangs_on(a))]
    if corner:
        legs.append(_leg("0", a["to_right"], "right"))
    parts = [
        _table(
            "[[shelf]]",
            {
                "id": quoted("one"),
                "top": _figure(a["top"]),
                "depth": _figure(a["depth"]),
                "thick": _figure(a["thick"]),
                "legs": f"[{', '.join(legs)}]",
                **_skins(a["skins"], corner=corner),
                "lock": _inline({"kind": quoted(a["lock"])}) if a["lock"] else "",
                "core": _inline({"of": quoted(a["core"])}),
                "edging": _inline({"of": quoted(a["edging"]), "thick": _figure(a["edging_thick"])}),
            },
        )
    ]
    parts += [_rods(a, corner=corner), *_loads(a)]
    return "\n".join(part for part in parts if part)


def _skins(panel: str, *, corner: bool) -> dict[str, str]:
    """Both alike; round a corner their joints do not lie on one line, where nothing would join the legs."""
    if not panel:
        return {}
    if not corner:
        return {"skins": quoted(panel)}
    joints = {"skin_top": "mitred", "skin_bottom": "butted"}
    return {
        skin: _inline({"of": quoted(panel), "joint": quoted(how)}) for skin, how in joints.items()
    }


def _leg(start: str, end: str, wall: str) -> str:
    pairs = {"wall": quoted(wall), "from": _figure(start), "to": _figure(end)}
    if pairs["from"] in ("0", ""):
        del pairs["from"]
    return _inline(pairs)


def _rods(a: _Answers, *, corner: bool) -> str:
    """No rods where no stud has been found: the job then says that nothing holds it."""
    found = a.known("studs") or (corner and a.known("studs_right"))
    if not found:
        return ""
    return _table(
        "[shelf.rods]",
        {
            "stock": quoted(a["stock"]) if a["stock"] else "",
            "embedment": _figure(a["embedment"]),
            "projection": _figure(a["projection"]),
            "hole": _figure(a["hole"]),
            "adhesive": quoted(a["adhesive"]) if a["adhesive"] else "",
            "at": quoted("every stud"),
        },
    )


def _loads(a: _Answers) -> list[str]:
    made = []
    if a.known("even"):
        even = {
            "kind": quoted("even"),
            "id": quoted(EVENLY),
            "weight": quoted(a["even"]),
        }
        made.append(_table("[[shelf.load]]", even))
    if a["thing"]:
        out, size = _stands(a)
        thing = {
            "kind": quoted("thing"),
            "id": quoted(a["thing"]),
            "at": quoted(f"{_hangs_on(a)} {a['thing_at']}"),
            "out": out,
            "size": size,
            "weight": quoted(a["thing_weight"]),
        }
        made.append(
            "# as near the front as it may stand, until its place is known\n"
            + _table("[[shelf.load]]", thing)
        )
    return made


def _stands(a: _Answers) -> tuple[str, str]:
    """How far out a thing nobody measured stands, and its size: flush with the front, but not over the edging."""
    unit: units.Unit = "mm" if a["units"] == "mm" else "in"
    side = 250.0 if unit == "mm" else 254.0
    depth, edging = (_read(a[name], unit) for name in ("depth", "edging_thick"))
    deep = min(side, depth or side)
    out = min((depth or side) - deep / 2, (depth or side) - (edging or 0.0))
    told = units.show_length_down(out, unit, to=32)
    far = min(deep, 2 * units.read_length(told, unit))
    wide, front = (units.show_length_down(each, unit, to=32) for each in (side, far))
    return _figure(told), f"[{_figure(wide)}, {_figure(front)}]"


def _read(text: str, unit: units.Unit) -> float | None:
    try:
        return units.read_length(text, unit)
    except units.BadFigure:
        return None


def _inline(pairs: Mapping[str, str]) -> str:
    filled = [f"{key} = {value}" for key, value in pairs.items() if value]
    return "{ " + ", ".join(filled) + " }"


def _table(head: str, pairs: Mapping[str, str]) -> str:
    filled = [f"{key} = {value}" for key, value in pairs.items() if value]
    return "\n".join([head, *filled]) + "\n"


def answered(
    posted: Mapping[str, str], findings: Sequence[Finding]
) -> tuple[tuple[Part, ...], list[Finding]]:
    """Return the questions with their answers and what is wrong with each; and what belongs to no question.

    Args:
        posted: the answers.
        findings: of the job they make.
    """
    left = [replace(each, path=_asked(each.path, posted)) for each in findings]

    def one(question: Question) -> Question:
        mine = [f for f in left if any(_about(f.path, path) for path in question.paths)]
        for each in mine:
            left.remove(each)
        typed, own = posted.get(question.cell.name), question.cell.value
        return replace(
            question,
            cell=question.cell if typed is None else replace(question.cell, value=typed, held=own),
            said=tuple(_said(f) for f in mine),
        )

    parts = tuple(replace(p, questions=tuple(one(q) for q in p.questions)) for p in PARTS)
    return parts, left


def _asked(path: str, posted: Mapping[str, str]) -> str:
    """The path of a load by its number, as the questions have it: the job names loads by what they are called."""
    thing = posted.get("q:thing", "").strip()
    for name, number in ((EVENLY, 0), (thing, 1)):
        head = f"shelf.one.load.{name}"
        if name and (path == head or path.startswith(f"{head}.")):
            return f"shelf.one.load[{number}]{path[len(head) :]}"
    return path


def _said(finding: Finding) -> Said:
    """What is wrong with an answer: whoever is asked sees the question, and knows nothing of keys of the job file."""
    if finding.code == "missing":
        return Said("this is not answered yet", "write it here")
    return Said(finding.wrong, re.sub(r"\b[a-z_]+ = (?=[\d\"'.-])", "", finding.right))


def _about(path: str, held: str) -> bool:
    return path == held or (path.startswith(held) and path[len(held)] in ".[")
