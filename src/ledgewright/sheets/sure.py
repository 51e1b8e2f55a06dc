"""How sure the answers are, as people read it: best, likely and worst, chances, and what is worth measuring."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ledgewright.doubt import Answer, Carried, Doubtful, Figure, Least, NoSpread, Spread, floor
from ledgewright.draw import Drawing
from ledgewright.judge import Design
from ledgewright.plan import Plan
from ledgewright.sheets import views
from ledgewright.sheets.model import Picture, SurePart, SureSheet, Table
from ledgewright.sheets.say import Say

WORTH = 0.1
"""A figure that has less than this share of what is in doubt is not worth measuring (our choice)."""
LISTED, SHOWN = 5, 0.01
"""So many of the figures that drive an answer are drawn, and none with less than this share."""
NAMES = ("day one", "in ten years", "load limit")


def spread_of(plan: Plan, design: Design) -> Spread | None:
    """Return how sure the answers of a shelf are; None where it was not asked for or cannot be said."""
    found = plan.spread(design.spec.id)
    return None if isinstance(found, NoSpread) else found


def answers(spread: Spread) -> tuple[Answer, Answer, Answer | None]:
    """Return the answers in the order of `NAMES`; no load limit where it has no range."""
    carried = spread.carried
    return spread.today, spread.long_term, None if isinstance(carried, NoSpread) else carried


def three(answer: Answer, say: Say) -> tuple[str, str, str]:
    """Return best, likely and worst, each rounded towards the worse; the worst load limit is what a label may say."""
    if isinstance(answer, Carried):
        best = say.most_per_length(answer.p95.value)
        over = "over " if answer.p95.value >= 0.999 * answer.most else ""
        return (
            f"{over}{best}",
            say.most_per_length(answer.p50.value),
            say.most_per_length(answer.safe),
        )
    return (
        say.drop(answer.p05.value),
        say.drop(answer.p50.value),
        say.drop(answer.p95.value),
    )


def give(answer: Answer) -> str:
    """Return how far best, likely and worst may be off by sampling and by the curve: twice the standard error."""
    off = max(_off(each) for each in (answer.p05, answer.p50, answer.p95))
    return f"give or take {math.ceil(200 * off)} %"


def _off(figure: Figure) -> float:
    return figure.error / figure.value if figure.value > 0 else 0.0


def chance(answer: Answer, say: Say) -> str:
    """Return how many keep within the limit of this drop, never more than do; empty where there is no limit.

    No word of passing: that asks for every check, and this is of one drop alone.
    """
    found = answer.chance
    if found is None or answer.limit is None:
        return ""
    kept = f"keep within the limit of {say.limit(answer.limit)}"
    share = found.value - found.error
    if share > 0.99:
        return f"over 99 of 100 such shelves {kept}"
    near = f"give or take {math.ceil(200 * found.error)}"
    return f"{math.floor(100 * found.value)} of 100 such shelves, {near}, {kept}"


def line(answer: Answer, say: Say) -> str:
    """Return one answer in a line: best, likely, worst, how near that is, how many keep within the limit."""
    best, likely, worst = three(answer, say)
    told = f"best {best}, likely {likely}, worst {worst}; {give(answer)}"
    return "; ".join(filter(None, (told, chance(answer, say))))


def worth_measuring(spread: Spread, say: Say) -> tuple[str, ...]:
    """Return what would make the answers surer, most first: what to measure, of which figure, and how much it has."""
    found: dict[str, tuple[float, str]] = {}
    for name, answer in zip(NAMES, answers(spread), strict=True):
        for row, first, _ in spread.drivers(answer) if answer else ():
            share = first.value
            if share >= WORTH and share > found.get(row.name, (0.0, ""))[0]:
                about = say.text(row.words)
                part = f"{share * 100:.0f} % of the doubt, {name}"
                found[row.name] = share, f"{say.text(row.measure)} ({about}: {part})"
    return tuple(text for _, text in sorted(found.values(), key=lambda each: -each[0]))


def lines(spread: Spread, say: Say) -> Iterator[str]:
    """Yield how sure the answers are, for a terminal."""
    for name, answer in zip(NAMES, answers(spread), strict=True):
        if answer is not None:
            yield f"{say.text(name)}: {line(answer, say)}"
    if isinstance(spread.carried, NoSpread):
        yield "; ".join(filter(None, (_no_range(spread.carried, "limit", say), least(spread, say))))
    for text in worth_measuring(spread, say):
        yield f"worth measuring: {text}"
    yield made_of(spread)


def _no_range(none: NoSpread, word: str, say: Say) -> str:
    return f"{say.word(word)}: no range; {say.sizes(none.why)}"


def _silent(spread: Spread, none: NoSpread, say: Say) -> str:
    told = least(spread, say)
    instead = f" {told[:1].upper()}{told[1:]}." if told else ""
    return f"{_no_range(none, 'Limit', say)}.{instead}"


def least(found: Spread | NoSpread | None, say: Say) -> str:
    """Return what stands for the worst load limit where it has no range, in words; empty where it has, or none does.

    Args:
        found: how sure the answers of a shelf are.
        say: how the job writes.
    """
    told = floor(found)
    if not isinstance(told, Least):
        return ""
    carries = f"carries {say.most_per_length(told.safe)}" if told.safe > 0 else "carries nothing"
    by = f" ({told.stop.title.lower()})" if told.stop else ""
    return (
        f"instead {told.draws} such shelves were drawn by chance and worked out one by one: the weakest {carries}{by}"
        + (
            f"; it is {math.floor(100 * told.sure)} % sure that 19 in 20 carry at least that"
            if told.safe > 0
            else ""
        )
    )


def made_of(spread: Spread) -> str:
    """Return what the ranges were made from, in words."""
    return (
        f"90 of 100 lie between best and worst; {spread.samples:,} samples, {spread.runs} exact runs, "
        f"seed {spread.seed}"
    )


def sure_sheet(
    plan: Plan, design: Design, spread: Spread, pictures: dict[str, Picture | None]
) -> SureSheet:
    """Return the page that says how sure the answers of a shelf are.

    Args:
        plan: the whole job.
        design: the shelf.
        spread: how sure its answers are.
        pictures: of each answer by its name in `NAMES`.
    """
    say = Say.of(plan.job.meta)
    return SureSheet(
        title="How sure",
        about=f"shelf {design.spec.title}",
        unit=say.unit,
        intro="Nobody knows the wood, the glue or the sheet to the last digit. Of 100 shelves like this one, built "
        "with what may be bought, 5 come out better than best and 5 worse than worst. Strengths are taken low "
        f"all along and do not vary here. {made_of(spread)}.",
        figures=_figures(spread, say),
        parts=tuple(
            SurePart(_head(name, say), pictures.get(name), _near(answer))
            for name, answer in zip(NAMES, answers(spread), strict=True)
            if answer is not None
        ),
        measure=worth_measuring(spread, say),
        table=_ranges(spread, say),
        silent=""
        if not isinstance(spread.carried, NoSpread)
        else _silent(spread, spread.carried, say),
    )


def _head(name: str, say: Say) -> str:
    return {
        "day one": "Front drop, day one",
        "in ten years": "Front drop, in ten years",
        "load limit": f"{say.word('Limit')} on every length",
    }[name]


def _near(answer: Answer) -> str:
    sampled = max(_off(each) for each in (answer.over.p05, answer.over.p50, answer.over.p95))
    curve = answer.off / answer.p50.value if answer.p50.value > 0 else 0.0
    return (
        f"Twice the standard error: {200 * sampled:.1f} % by sampling, {200 * curve:.1f} % by the curve through the "
        "exact runs. Bars: the share of what is in doubt that each figure has by itself; "
        "those under 1 % are left out."
    )


def _figures(spread: Spread, say: Say) -> Table:
    rows = [
        (_head(name, say), *three(answer, say), give(answer), chance(answer, say) or "–")
        for name, answer in zip(NAMES, answers(spread), strict=True)
        if answer is not None
    ]
    return Table(
        heads=("", "Best", "Likely", "Worst", "How near", "Within its limit"),
        widths=(46, 22, 22, 22, 30, 44),
        figures=(1, 2, 3),
        rows=tuple(rows),
    )


def view(spread: Spread, name: str, say: Say, box: tuple[float, float]) -> Drawing:
    """Return the picture of one answer.

    Args:
        spread: how sure the answers are.
        name: of the answer, one of `NAMES`.
        say: how the job writes.
        box: width and height of the paper there is (mm).

    Raises:
        TooLarge: if it does not go on the paper.
        KeyError: if the answer has no range.
    """
    answer = {k: a for k, a in zip(NAMES, answers(spread), strict=True) if a is not None}[name]
    marks = _marks(answer, say)
    limit = (
        None
        if answer.limit is None
        else views.Told(answer.limit, f"limit {say.limit(answer.limit)}")
    )
    bars = [
        views.Bar(say.text(row.words), max(first.value, 0.0), _percent(first))
        for row, first, _ in spread.drivers(answer)[:LISTED]
        if first.value >= SHOWN
    ]
    return views.sure_view(_head(name, say), answer.over.values.tolist(), marks, limit, bars, box)


def _marks(answer: Answer, say: Say) -> tuple[views.Told, ...]:
    best, likely, worst = three(answer, say)
    if isinstance(answer, Carried):
        return (
            views.Told(answer.safe, f"worst {worst}"),
            views.Told(answer.p50.value, f"likely {likely}"),
            views.Told(answer.p95.value, f"best {best}"),
        )
    return (
        views.Told(answer.p05.value, f"best {best}"),
        views.Told(answer.p50.value, f"likely {likely}"),
        views.Told(answer.p95.value, f"worst {worst}"),
    )


def _percent(share: Figure) -> str:
    return f"{max(share.value, 0.0) * 100:.0f} % ±{math.ceil(200 * share.error)}"


def _ranges(spread: Spread, say: Say) -> Table:
    return Table(
        heads=("Doubtful figure", "Counts", "Low", "Likely", "High", "Who says so"),
        widths=(50, 34, 17, 17, 17, 58),
        figures=(2, 3, 4),
        rows=tuple(
            (
                say.text(row.words),
                row.counts,
                *(_valued(row, value, say) for value in (row.low, row.likely, row.high)),
                say.text(row.source),
            )
            for row in spread.figures
        ),
    )


def _valued(row: Doubtful, value: float, say: Say) -> str:
    """A figure of the table as it counts; one that adds to a length in the job's units."""
    if row.counts != "added" or value == 0:
        return f"{value:g}"
    return f"{'+' if value > 0 else '-'}{say.thickness(abs(value))}"
