"""Bars, strips and edgings cut to length: the fewest, or cheapest, bars."""

from __future__ import annotations

import math
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy import sparse
from scipy.optimize import LinearConstraint, linprog

from ledgewright.shop.nest.grid import down, mm, up
from ledgewright.shop.nest.model import STOPPED, Bar, CutBar, CutBars, Proof, Stop, never
from ledgewright.shop.nest.solver import smallest

Floats = NDArray[np.float64]
ALL_PATTERNS = 30_000
"""With no more ways to cut a bar than this, all of them are written down; else they are made as they are missed."""
ROUNDS, AGAIN = 300, 12
"""Patterns made for the bound, and for what is left after each rounding, at most this many times."""
CELLS = 200_000
"""A bar of more cells is not gone through cell by cell."""
TRIES = 100_000


class _Pattern(NamedTuple):
    """One way to cut one kind of bar: how many of each length."""

    bar: int
    counts: tuple[int, ...]


@dataclass(frozen=True)
class _Task:
    """Lengths with their counts, longest first, and the bars, all in steps with one kerf."""

    sizes: tuple[int, ...]
    counts: tuple[int, ...]
    bars: tuple[int, ...]
    stock: tuple[Bar, ...]

    @property
    def even(self) -> bool:
        """Whether every bar costs one, so that a count is made small."""
        return all(bar.cost == 1.0 for bar in self.stock)


def lengths(
    wanted: Sequence[tuple[str, float]],
    bars: Sequence[Bar],
    *,
    kerf: float = 0.0,
    seconds: float = 20.0,
    nodes: int | None = None,
    light: bool = False,
    stop: Stop = never,
) -> CutBars:
    """Cut lengths out of bars at the least cost, which is the fewest bars where each costs one.

    Source: cutting stock by patterns, Gilmore and Gomory, Oper. Res. 9 (1961) and 11 (1963); the kerf is added to
    every piece and once to the bar, so that the last piece of a bar needs no cut of its own.

    Args:
        wanted: (name, length) of every piece (mm).
        bars: what there is and what can be bought.
        kerf: what the saw eats (mm).
        seconds: when to stop with the best so far.
        nodes: branches at which to stop with the best so far, the same on every machine.
        light: whether to do with the linear programme and its rounding, which leaves a gap now and then.
        stop: ends the search with the best so far, of which the proof says so; a first answer is always made.

    Returns:
        Bars in the order of their names, the longest pieces first on each; the proof or the gap.
    """
    longest = max((down(bar.length + kerf) for bar in bars), default=0)
    left = tuple(each for each in wanted if up(each[1] + kerf) > longest)
    named: dict[int, list[tuple[str, float]]] = {}
    for each in wanted:
        if each not in left:
            named.setdefault(up(each[1] + kerf), []).append(each)
    sizes = tuple(sorted(named, reverse=True))
    task = _Task(
        sizes,
        tuple(len(named[s]) for s in sizes),
        tuple(down(bar.length + kerf) for bar in bars),
        tuple(bars),
    )
    if not sizes:
        return CutBars((), Proof(0.0, 0.0, "nothing is wanted"), left)
    used, proof = _best(task, _Search(time.monotonic() + seconds, nodes, light, stop))
    if stop() and not proof.proven:
        proof = replace(proof, how=STOPPED + proof.how)
    return CutBars(_sawn(task, used, named, kerf), proof, left)


@dataclass(frozen=True)
class _Search:
    """When a search stops: at a moment, after so many branches, or when somebody says so."""

    end: float
    nodes: int | None
    light: bool
    stop: Stop

    def over(self) -> bool:
        """Whether it is time to be content."""
        return time.monotonic() > self.end or self.stop()

    def half(self) -> _Search:
        """The same with half of the time that is left."""
        now = time.monotonic()
        return replace(self, end=now + max(0.0, self.end - now) / 2)


def _best(task: _Task, search: _Search) -> tuple[list[_Pattern], Proof]:
    """The first answer that meets a bound: quick ones first, then patterns by integer programming."""
    low = _area_bound(task)
    if len(task.bars) == 1 and task.stock[0].count is None:
        cost = task.stock[0].cost
        quick = min((_first_fit(task), _fullest(task)), key=len)
        few = max(math.ceil(low / cost - 1e-9), _halves(task))
        if len(quick) == few:
            return quick, Proof(
                len(quick) * cost, few * cost, "length and pieces that exclude each other"
            )
        exact = None if search.light else _no_waste(task, few, search)
        if exact is not None:
            return exact, Proof(few * cost, few * cost, "length")
    else:
        quick = _first_fit(task)
    return _by_patterns(task, quick, low, search)


def _area_bound(task: _Task) -> float:
    """No answer costs less than all the length at the cheapest bar's rate."""
    total = sum(s * n for s, n in zip(task.sizes, task.counts, strict=True))
    return total * min(bar.cost / size for bar, size in zip(task.stock, task.bars, strict=True))


def _halves(task: _Task) -> int:
    """Bound L2 of Martello and Toth (1990): pieces over half a bar exclude each other, with what must stand beside."""
    bar = task.bars[0]
    items = [s for s, n in zip(task.sizes, task.counts, strict=True) for _ in range(n)]
    best = 0
    for k in sorted({s for s in items if 2 * s <= bar} | {0}):
        big = [s for s in items if s > bar - k]
        half = [s for s in items if bar - k >= s > bar / 2]
        small = sum(s for s in items if k <= s <= bar / 2)
        over = max(0, math.ceil((small - (len(half) * bar - sum(half))) / bar))
        best = max(best, len(big) + len(half) + over)
    return best


def _first_fit(task: _Task) -> list[_Pattern]:
    """Longest first, each into the fullest bar that still takes it, else into a new one; none where bars run out."""
    room: list[int] = []
    kind: list[int] = []
    held: list[list[int]] = []
    for k, (size, n) in enumerate(zip(task.sizes, task.counts, strict=True)):
        for _ in range(n):
            fits = [b for b, left in enumerate(room) if left >= size]
            b = min(fits, key=lambda b: room[b], default=len(room))
            if b == len(room):
                fresh = _fresh(task, size, Counter(kind))
                if fresh is None:
                    return []
                kind.append(fresh)
                room.append(task.bars[fresh])
                held.append([0] * len(task.sizes))
            room[b] -= size
            held[b][k] += 1
    return [_Pattern(b, tuple(each)) for b, each in zip(kind, held, strict=True)]


def _fresh(task: _Task, size: int, used: Counter[int]) -> int | None:
    """Which kind of bar is begun for a piece: of those left that hold it the cheapest for its length."""
    left = [
        b
        for b, bar in enumerate(task.stock)
        if task.bars[b] >= size and (bar.count is None or used[b] < bar.count)
    ]
    return min(left, key=lambda b: (task.stock[b].cost / task.bars[b], -task.bars[b]), default=None)


def _fullest(task: _Task) -> list[_Pattern]:
    """Bar by bar, each holding the longest piece left and as full as may be (Gupta and Ho, 1999)."""
    left = list(task.counts)
    made: list[_Pattern] = []
    while any(left):
        first = next(k for k, n in enumerate(left) if n)
        pattern = _fill_up(task, left, first)
        left = [n - m for n, m in zip(left, pattern, strict=True)]
        made.append(_Pattern(0, tuple(pattern)))
    return made


def _fill_up(task: _Task, left: Sequence[int], first: int) -> list[int]:
    best: tuple[int, list[int]] = (-1, [])
    held = [0] * len(left)
    held[first] = 1
    tries = 0

    def deeper(k: int, room: int) -> None:
        nonlocal best, tries
        tries += 1
        filled = task.bars[0] - room
        if filled > best[0]:
            best = (filled, held.copy())
        for j in range(k, len(left)):
            if best[0] == task.bars[0] or tries > 20_000:
                return
            if task.sizes[j] <= room and held[j] < left[j]:
                held[j] += 1
                deeper(j, room - task.sizes[j])
                held[j] -= 1

    deeper(first, task.bars[0] - task.sizes[first])
    return best[1]


def _no_waste(task: _Task, few: int, search: _Search) -> list[_Pattern] | None:
    """Answers of so few bars that next to nothing may be wasted: only nearly full patterns can be in them."""
    total = sum(s * n for s, n in zip(task.sizes, task.counts, strict=True))
    slack = few * task.bars[0] - total
    if slack < 0 or slack * 20 > task.bars[0]:
        return None
    nearly = list(_patterns(task, 0, least=task.bars[0] - slack, most=ALL_PATTERNS))
    if not nearly or len(nearly) >= ALL_PATTERNS:
        return None
    solved = _master(task, nearly, replace(search, nodes=None), full=True)
    return solved[0] if solved[0] and len(solved[0]) == few else None


def _patterns(task: _Task, bar: int, *, least: int, most: int) -> Iterator[_Pattern]:
    """All ways to cut a bar that nothing can be added to and that use at least a length, up to a number of them."""
    sizes, counts = task.sizes, task.counts
    held = [0] * len(sizes)
    made = 0
    # What all the shorter pieces together could still fill.
    rest = [0] * (len(sizes) + 1)
    for k in range(len(sizes) - 1, -1, -1):
        rest[k] = rest[k + 1] + sizes[k] * counts[k]

    def deeper(k: int, room: int, fits: int) -> Iterator[_Pattern]:
        """`fits`: shortest length left out of which one more was to be had."""
        nonlocal made
        if made >= most or task.bars[bar] - room + rest[k] < least:
            return
        if k == len(sizes):
            if room < fits and any(held):
                made += 1
                yield _Pattern(bar, tuple(held))
            return
        for n in range(min(counts[k], room // sizes[k]), -1, -1):
            held[k] = n
            short = min(fits, sizes[k]) if n < counts[k] else fits
            yield from deeper(k + 1, room - n * sizes[k], short)
        held[k] = 0

    yield from deeper(0, task.bars[bar], task.bars[bar] + 1)


def _by_patterns(
    task: _Task, quick: list[_Pattern], low: float, search: _Search
) -> tuple[list[_Pattern], Proof]:
    """Patterns made as they are missed give the bound; rounding, then integer programming, the answer."""
    generated = _missed(task, quick, search.half().over)
    bound = max(low, generated.bound)
    how = "ways to cut a bar made as they are missed, by linear programming"
    if task.even:
        bound = float(math.ceil(bound - 1e-6))
    used = _cheaper(task, quick, _rounded(task, generated, search.half().over))
    if used and _cost(task, used) > bound + 1e-6 and not search.light:
        chosen, _ = _master(task, generated.patterns, search.half())
        used = _cheaper(task, used, chosen)
    if (not used or _cost(task, used) > bound + 1e-6) and not (
        search.over() or (search.light and used)
    ):
        every: list[_Pattern] = []
        for b in range(len(task.bars)):
            every += _patterns(task, b, least=0, most=ALL_PATTERNS - len(every))
        if len(every) < ALL_PATTERNS:
            chosen, proven = _master(task, every, search)
            used, bound = _cheaper(task, used, chosen), max(bound, proven)
            how = "all ways to cut a bar, by integer programming"
    found = _cost(task, used)
    return used, Proof(found, min(found, bound), how)


def _cost(task: _Task, used: Sequence[_Pattern]) -> float:
    return sum(task.stock[p.bar].cost for p in used)


def _cheaper(task: _Task, one: list[_Pattern], other: list[_Pattern]) -> list[_Pattern]:
    """The cheaper of two answers, either of which may not have been found."""
    if not one or not other:
        return one or other
    return other if _cost(task, other) < _cost(task, one) - 1e-9 else one


def _rounded(task: _Task, generated: _Generated, stop: Stop) -> list[_Pattern]:
    """Round the linear programme one pattern at a time and solve what is left again; none where bars run out."""
    left, stock = task, list(generated.patterns)
    made: list[_Pattern] = []
    use = generated.use
    if not use:
        return []
    while any(left.counts):
        fixed = [(p, int(n + 1e-6)) for p, n in zip(stock, use, strict=True) if n > 1 - 1e-6]
        if not fixed:
            best = max(range(len(stock)), key=lambda k: (use[k], stock[k]))
            fixed = [(stock[best], 1)]
        for pattern, n in fixed:
            for _ in range(n):
                counts = tuple(min(c, m) for c, m in zip(pattern.counts, left.counts, strict=True))
                if any(counts):
                    made.append(_Pattern(pattern.bar, counts))
                    left = _less(left, made[-1])
        if not any(left.counts):
            break
        again = _missed(left, [], stop, start=stock, rounds=AGAIN)
        if not again.use:
            return []
        stock, use = list(again.patterns), again.use
    return made


def _less(task: _Task, pattern: _Pattern) -> _Task:
    """What is left to be cut after one bar, and of which bars."""
    counts = tuple(c - m for c, m in zip(task.counts, pattern.counts, strict=True))
    stock = tuple(
        replace(bar, count=bar.count - (b == pattern.bar)) if bar.count is not None else bar
        for b, bar in enumerate(task.stock)
    )
    return replace(task, counts=counts, stock=stock)


def _master(
    task: _Task,
    patterns: Sequence[_Pattern],
    search: _Search,
    *,
    full: bool = False,
) -> tuple[list[_Pattern], float]:
    """Choose patterns so that every piece is cut: the patterns and the bound, none if there is no answer yet."""
    matrix = sparse.csc_array(np.array([p.counts for p in patterns], dtype=float).T)
    cost = np.array([task.stock[p.bar].cost for p in patterns])
    stock = sparse.csr_array(
        np.array([[float(p.bar == b) for p in patterns] for b in range(len(task.bars))])
    )
    have = [math.inf if bar.count is None else float(bar.count) for bar in task.stock]
    most = np.array(task.counts, dtype=float) if full else np.inf
    told = smallest(
        np.zeros(len(patterns)) if full else cost,
        [
            LinearConstraint(matrix, np.array(task.counts, dtype=float), most),
            LinearConstraint(stock, 0, have),
        ],
        math.inf,
        seconds=search.end - time.monotonic(),
        nodes=search.nodes,
        whole=task.even,
        stop=search.stop,
    )
    if told.used is None:
        return [], told.bound
    return [p for p, n in zip(patterns, told.used, strict=True) for _ in range(int(n))], told.bound


@dataclass(frozen=True)
class _Generated:
    """Patterns of the linear programme at its end, how much of each it uses, and what no answer can beat."""

    patterns: tuple[_Pattern, ...]
    use: tuple[float, ...]
    bound: float


def _missed(
    task: _Task,
    quick: Sequence[_Pattern],
    stop: Stop,
    start: Sequence[_Pattern] = (),
    rounds: int = ROUNDS,
) -> _Generated:
    """Patterns by column generation, and the bound of the linear programme at its end."""
    begun = [_within(p, task) for p in start]
    found = dict.fromkeys([*quick, *_alone(task), *(p for p in begun if any(p.counts))])
    few = [b for b, bar in enumerate(task.stock) if bar.count is not None]
    bound, use = -math.inf, np.zeros(0)
    for _ in range(rounds):
        if stop():
            return _Generated(tuple(found), (), bound)
        told = _relaxed(task, list(found), few)
        if told is None:
            return _Generated(tuple(found), (), -math.inf)
        use, fun, price, rent = told
        fresh, worst, sure = [], 1.0, True
        for b, bar in enumerate(task.stock):
            counts, worth, exact = _knapsack(task, price, task.bars[b])
            sure = sure and exact
            due = bar.cost + rent.get(b, 0.0)
            worst = max(worst, worth / due if due else math.inf)
            if worth > due + 1e-7:
                fresh.append(_Pattern(b, counts))
        if sure and not few:
            # Farley's bound: prices made small enough for every pattern.
            bound = max(bound, fun / worst)
        if not [p for p in fresh if p not in found]:
            bound = max(bound, fun - 1e-7) if sure else bound
            break
        found |= dict.fromkeys(fresh)
    shares = tuple(map(float, use))
    return _Generated(tuple(found), (*shares, *[0.0] * (len(found) - len(shares))), bound)


def _within(pattern: _Pattern, task: _Task) -> _Pattern:
    counts = tuple(min(c, m) for c, m in zip(pattern.counts, task.counts, strict=True))
    return _Pattern(pattern.bar, counts)


def _relaxed(
    task: _Task, found: list[_Pattern], few: list[int]
) -> tuple[Floats, float, Floats, dict[int, float]] | None:
    """How much of each pattern, what it costs, the price of each length, the rent of bars that are few."""
    cover = -np.array([p.counts for p in found], dtype=float).T
    stock = np.array([[float(p.bar == b) for p in found] for b in few]).reshape(
        len(few), len(found)
    )
    told = linprog(
        np.array([task.stock[p.bar].cost for p in found]),
        A_ub=np.vstack([cover, stock]),
        b_ub=[*(-float(n) for n in task.counts), *(float(task.stock[b].count or 0) for b in few)],
        method="highs",
    )
    if told.x is None:
        return None
    price = -told.ineqlin.marginals
    rent = dict(zip(few, map(float, price[len(task.sizes) :]), strict=True))
    return told.x, float(told.fun or 0.0), price[: len(task.sizes)], rent


def _alone(task: _Task) -> Iterator[_Pattern]:
    """Each bar full of one length: where the linear programme starts."""
    for b, bar in enumerate(task.bars):
        for k, (size, count) in enumerate(zip(task.sizes, task.counts, strict=True)):
            if n := min(count, bar // size):
                yield _Pattern(b, tuple(n if j == k else 0 for j in range(len(task.sizes))))


def _knapsack(task: _Task, price: Floats, room: int) -> tuple[tuple[int, ...], float, bool]:
    """The most valuable way to cut one bar, each length as often as it is wanted; and whether it is sure."""
    cell = math.gcd(*task.sizes)
    if room // cell <= CELLS:
        counts, worth = _by_cells(task, price, room // cell, cell)
        return counts, worth, True
    return _by_branches(task, price, room)


def _by_cells(task: _Task, price: Floats, room: int, cell: int) -> tuple[tuple[int, ...], float]:
    """By recursion over all lengths that are a multiple of what divides every piece."""
    best = np.zeros(room + 1)
    took: list[tuple[int, int, int, NDArray[np.bool_]]] = []
    for k, (size, count) in enumerate(zip(task.sizes, task.counts, strict=True)):
        left, batch = min(count, room * cell // size), 1
        while left > 0 and price[k] > 0:
            n = min(batch, left)
            width = n * size // cell
            if width > room:
                break
            tried = best[: room + 1 - width] + n * price[k]
            better = tried > best[width:] + 1e-12
            best[width:][better] = tried[better]
            took.append((k, n, width, better))
            left, batch = left - n, 2 * batch
    counts, at = [0] * len(task.sizes), room
    for k, n, width, better in reversed(took):
        if at >= width and better[at - width]:
            counts[k] += n
            at -= width
    return tuple(counts), float(best[room])


def _by_branches(task: _Task, price: Floats, room: int) -> tuple[tuple[int, ...], float, bool]:
    """By branch and bound, the best rate first; not sure if it takes too long."""
    order = sorted(range(len(task.sizes)), key=lambda k: -price[k] / task.sizes[k])
    order = [k for k in order if price[k] > 1e-12]
    best, value, tries = [0] * len(task.sizes), 0.0, 0
    held = [0] * len(task.sizes)

    def deeper(at: int, room: int, worth: float) -> None:
        nonlocal best, value, tries
        tries += 1
        if worth > value + 1e-12:
            best, value = held.copy(), worth
        for j in range(at, len(order)):
            k = order[j]
            if tries > TRIES or worth + room * price[k] / task.sizes[k] <= value + 1e-10:
                return
            n = min(task.counts[k], room // task.sizes[k])
            while n:
                held[k] = n
                deeper(j + 1, room - n * task.sizes[k], worth + n * float(price[k]))
                n -= 1
            held[k] = 0

    deeper(0, room, 0.0)
    return tuple(best), value, tries <= TRIES


def _sawn(
    task: _Task,
    used: Sequence[_Pattern],
    named: dict[int, list[tuple[str, float]]],
    kerf: float,
) -> tuple[CutBar, ...]:
    """Name the pieces of every bar; patterns that cut more than is wanted leave it out."""
    left = {size: list(each) for size, each in named.items()}
    tally = Counter(used)
    made = []
    for pattern in sorted(tally, key=lambda p: (p.bar, [-n for n in p.counts])):
        for _ in range(tally[pattern]):
            pieces = [
                left[size].pop(0)
                for size, n in zip(task.sizes, pattern.counts, strict=True)
                for _ in range(n)
                if left[size]
            ]
            bar = task.stock[pattern.bar]
            taken = sum(up(length + kerf) for _, length in pieces)
            rest = max(0, down(bar.length) - taken)
            if pieces:
                made.append(CutBar(bar, tuple(pieces), mm(rest)))
    return tuple(made)
