"""Cutting: published instances solved and proven, or reported with their gap, beside a general-purpose packing library.

The library (rectpack, Apache-2.0) places rectangles one by one and proves nothing; it is run on the same instances in
the same run, its guillotine packers with every order of pieces it offers, and the best of them counts.
`make bench` runs what must be proven; `python -m bench.cutting` everything.
"""

from __future__ import annotations

import csv
import importlib.util
import json
import math
import random
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from itertools import product
from pathlib import Path
from typing import Any

from ledgewright.shop.nest import (
    Bar,
    Piece,
    Rule,
    Sheet,
    lengths,
    most_valuable,
    nest,
    plates,
    unlimited,
)

DATA = Path(__file__).parent / "data" / "cutting"
BUDGET = 60.0
"""Seconds for each instance (design.md)."""
HARD = 20.0
"""Seconds for each of the hard bars, of which no proof is asked."""
QUICK = 5.0
"""Seconds for each of the many of which no proof is asked."""
Json = dict[str, Any]


@dataclass(frozen=True)
class Row:
    """One instance by one rule: what is known, found and proven, how long it took, what the library found.

    most: whether a value is made large, not a count small.
    """

    name: str
    rule: str
    known: float
    sure: bool
    found: float | None
    bound: float
    seconds: float
    other: float | None = None
    most: bool = False

    @property
    def proven(self) -> bool:
        """Whether what was found cannot be beaten."""
        return self.found is not None and abs(self.found - self.bound) < 1e-6

    @property
    def wrong(self) -> bool:
        """Whether a proof contradicts a value that is known for sure."""
        return self.proven and self.sure and self.found != self.known


def instances(*names: str) -> dict[str, Json]:
    """Return instances of some files by their id."""
    found: dict[str, Json] = {}
    for name in names:
        for each in json.loads((DATA / name).read_text(encoding="utf-8")):
            found[each["id"]] = each
    return found


def known() -> list[dict[str, str]]:
    """Return the rows of known values."""
    with (DATA / "optima.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def sheets(budget: float = BUDGET) -> Iterator[Row]:
    """Solve one sheet by straight cuts through, unlimited and counted."""
    made = instances(
        "gcut.json",
        "cgcut.json",
        "ngcutap.json",
        "classic-of-wang-hifi.json",
        "fayard-hifi-zissimopoulos.json",
    )
    for row in known():
        if row["problem"] != "2D knapsack" or not row["cut"].startswith("guillotine"):
            continue
        case, turns = made[row["id"]], row["rotation"] == "yes"
        sheet = Sheet("sheet", case["L"], case["W"])
        pieces = _pieces(case, row["copies"], turns=turns)
        start = time.perf_counter()
        if row["copies"].startswith("unbounded"):
            best = unlimited(pieces, sheet).best
            found, bound = best, best
        else:
            solved = most_valuable(plates(pieces, [sheet]), seconds=budget)
            found, bound = solved.found or 0.0, solved.bound
        taken = time.perf_counter() - start
        rule = f"straight cuts, {row['copies']}{', turned' if turns else ''}"
        sure = row["confirmed"].startswith("yes")
        other = _library_value(pieces, sheet, turns=turns)
        yield Row(row["id"], rule, float(row["value"]), sure, found, bound, taken, other, most=True)


def _pieces(case: Json, copies: str, *, turns: bool) -> list[Piece]:
    made = []
    for k, each in enumerate(case["items"]):
        most = None if copies.startswith("unbounded") else 1
        if copies == "bounded":
            most = each["max"]
        made.append(Piece(str(k), each["l"], each["w"], most, turns, float(each["value"])))
    return made


def bars(budget: float = BUDGET, *, hard: bool) -> Iterator[Row]:
    """Cut lengths out of bars: the sets that must be proven, or the hard ones."""
    names = sorted(
        p.name
        for p in DATA.glob("*.json")
        if p.name.split("-")[0] in ("falkenauer", "scholl", "hard28.json")
    )
    made = instances(*names)
    for row in known():
        if row["problem"] != "1D bin packing":
            continue
        case = made[row["id"]]
        easy = not row["id"].startswith(("Hard", "HARD"))
        if easy == hard:
            continue
        wanted = [(str(k), float(size)) for k, size in enumerate(case["items"])]
        start = time.perf_counter()
        found = lengths(
            wanted, [Bar("bar", case["capacity"])], seconds=budget if easy else HARD
        ).proof
        taken = time.perf_counter() - start
        sure = row["confirmed"].startswith("yes")
        yield Row(row["id"], "bars", float(row["value"]), sure, found.found, found.bound, taken)


def stacks() -> Iterator[Row]:
    """Put all pieces on the fewest sheets, straight cuts through of any number of stages, and freely placed."""
    made = instances("bwmv-n20.json", "bwmv-n40.json")
    for row in known():
        free = row["cut"].startswith("free")
        if row["problem"] != "2D bin packing":
            continue
        case, turns = made[row["id"]], row["rotation"] == "yes"
        pieces = [Piece(str(k), w, h, 1, turns) for k, (h, w) in enumerate(case["items_hw"])]
        sheet = Sheet("sheet", case["W"], case["H"])
        start = time.perf_counter()
        rule = "free" if free else "straight cuts (known: 3 stages)"
        proof = nest(pieces, [sheet], rule="free" if free else "straight cuts", seconds=QUICK).proof
        taken = time.perf_counter() - start
        other = _library_count(pieces, sheet, turns=turns, free=free)
        name = f"{rule}{', turned' if turns else ''}"
        sure = row["confirmed"].startswith("yes")
        yield Row(
            row["id"], name, float(row["value"]), sure, proof.found, proof.bound, taken, other
        )


def sixty() -> Iterator[Row]:
    """Sixty parts of the sizes of skins, with kerf and trim, their grain kept, on sheets of 2440 x 1220."""
    for seed in range(4):
        pieces = _sixty(seed)
        sheet = Sheet("sheet", 2440.0, 1220.0)
        grown = [replace(p, length=p.length + KERF, width=p.width + KERF) for p in pieces]
        room = Sheet("sheet", 2440.0 - 2 * TRIM + KERF, 1220.0 - 2 * TRIM + KERF)
        for rule in RULES:
            start = time.perf_counter()
            proof = nest(pieces, [sheet], rule=rule, kerf=KERF, trim=TRIM).proof
            taken = time.perf_counter() - start
            other = _library_count(grown, room, turns=False, free=rule == "free")
            name = f"{rule}, kerf {KERF:g}, trim {TRIM:g}"
            yield Row(
                f"60 parts {seed}", name, math.nan, False, proof.found, proof.bound, taken, other
            )


KERF, TRIM = 3.0, 6.0
RULES: tuple[Rule, ...] = ("straight cuts", "free")


def _sixty(seed: int) -> list[Piece]:
    chance = random.Random(seed)
    lengths_of, widths = (400, 600, 900, 1200, 1500, 1800), (150, 200, 250, 300, 350)
    return [
        Piece(
            f"S{k}",
            float(chance.choice(lengths_of) + chance.randint(0, 60)),
            float(chance.choice(widths) + chance.randint(0, 20)),
        )
        for k in range(60)
    ]


def late() -> float:
    """The longest it took to hear that somebody wants the best so far (s), sheets and bars stopped here and there."""
    cases, hard = instances("bwmv-n40.json"), instances("hard28.json")
    runs: list[Callable[..., object]] = []
    for case in (cases["BWMV01_040_01"], cases["BWMV03_040_04"]):
        pieces = [Piece(str(k), w, h) for k, (h, w) in enumerate(case["items_hw"])]
        runs.append(partial(nest, pieces, [Sheet("sheet", case["W"], case["H"])]))
    whole = Sheet("sheet", 2440.0, 1220.0)
    runs += [partial(nest, _sixty(0), [whole], rule=rule, kerf=KERF, trim=TRIM) for rule in RULES]
    case = hard[min(hard)]
    wanted = [(str(k), float(size)) for k, size in enumerate(case["items"])]
    runs.append(partial(lengths, wanted, [Bar("bar", case["capacity"])]))
    return max(_late(run, after) for after in (0.2, 1.0, 3.0) for run in runs)


def _late(run: Callable[..., object], after: float) -> float:
    start = time.perf_counter()
    run(stop=lambda: time.perf_counter() - start > after)
    return time.perf_counter() - start - after


def _library_value(pieces: list[Piece], sheet: Sheet, *, turns: bool) -> float | None:
    """The most that the library gets out of one sheet, where pieces are counted; it places what it can, in order."""
    if any(p.count is None for p in pieces):
        return None
    single = [p for p in pieces for _ in range(p.count or 0)]
    return max(
        (
            sum(single[rid].worth for _, _, _, _, _, rid in made.rect_list())
            for made in _library(single, sheet, 1, turns=turns, free=False)
        ),
        default=None,
    )


def _library_count(pieces: list[Piece], sheet: Sheet, *, turns: bool, free: bool) -> float | None:
    return min(
        (
            float(len(made))
            for made in _library(pieces, sheet, len(pieces), turns=turns, free=free)
            if len(made.rect_list()) == len(pieces)
        ),
        default=None,
    )


def _library(
    pieces: list[Piece], sheet: Sheet, count: int, *, turns: bool, free: bool
) -> Iterator[Any]:
    if importlib.util.find_spec("rectpack") is None:
        return
    import rectpack

    straight = [
        getattr(rectpack, f"Guillotine{fit}{split}")
        for fit, split in product(("Bssf", "Baf"), ("Sas", "Las", "Slas", "Llas", "Maxas", "Minas"))
    ]
    freely = [rectpack.MaxRectsBl, rectpack.MaxRectsBssf, rectpack.MaxRectsBaf]
    orders = [rectpack.SORT_AREA, rectpack.SORT_LSIDE, rectpack.SORT_SSIDE, rectpack.SORT_PERI]
    for kind, order in product([*straight, *freely] if free else straight, orders):
        packer = rectpack.newPacker(
            mode=rectpack.PackingMode.Offline,
            bin_algo=rectpack.PackingBin.BFF,
            pack_algo=kind,
            sort_algo=order,
            rotation=turns,
        )
        for rid, piece in enumerate(pieces):
            packer.add_rect(int(piece.length), int(piece.width), rid=rid)
        packer.add_bin(int(sheet.length), int(sheet.width), count=count)
        packer.pack()
        yield packer


def _table(rows: Iterator[Row], head: str) -> list[Row]:
    print(
        f"\n{head}\n{'':<22} {'rule':<42} {'known':>9} {'found':>9} {'bound':>9} {'library':>9} {'s':>6}"
    )
    made = []
    for row in rows:
        made.append(row)
        found = "none" if row.found is None else f"{row.found:g}"
        other = "" if row.other is None else f"{row.other:g}"
        state = "proven" if row.proven else f"gap {_gap(row):.1%}"
        flag = "  CONTRADICTS A CONFIRMED VALUE" if row.wrong else ""
        print(
            f"{row.name:<22} {row.rule:<42} {row.known:9.8g} {found:>9} {row.bound:9.8g} {other:>9} "
            f"{row.seconds:6.2f} {state}{flag}",
            flush=True,
        )
    return made


def _gap(row: Row) -> float:
    return abs((row.found or 0.0) - row.bound) / max(abs(row.found or 1.0), 1e-9)


def _ahead(row: Row) -> bool:
    """Whether more value, or fewer sheets, was found than the library did."""
    ahead = (row.found or 0.0) > (row.other or 0.0)
    return ahead if row.most else not ahead


def _sum(rows: list[Row], what: str) -> None:
    proven = sum(row.proven for row in rows)
    compared = [row for row in rows if row.other is not None and row.found is not None]
    more = sum(
        abs((row.found or 0.0) - (row.other or 0.0)) > 1e-6 and _ahead(row) for row in compared
    )
    slow = max(row.seconds for row in rows)
    print(f"{what}: {proven} of {len(rows)} proven, slowest {slow:.1f} s; ", end="")
    print(
        f"better than the library on {more} of {len(compared)}"
        if compared
        else "no library beside it"
    )


def said(*, everything: bool = True) -> None:
    """Print all tables and what comes of them.

    Args:
        everything: the many cases as well of which no proof is asked; they take most of an hour more.
    """
    if importlib.util.find_spec("rectpack") is None:
        print("rectpack is not installed (requirements/dev.txt has it): no library beside it")
    _sum(_table(sheets(), "one sheet"), "one sheet")
    _sum(_table(bars(hard=False), "bars"), "bars")
    _sum(_table(sixty(), "sixty parts"), "sixty parts (20 s asked)")
    print(f"stopped by hand: the best so far at most {late():.2f} s later (1 s asked)")
    if everything:
        _sum(_table(bars(hard=True), "hard bars"), "hard bars")
        _sum(_table(stacks(), "all pieces on sheets"), "all pieces on sheets")


if __name__ == "__main__":
    said(everything="--short" not in sys.argv)
