"""Which rows a name means that is no row's own: those of the same words, else what differs least, the weaker first.

Words are taken in any order and case; sizes with x, × or "by", quote marks or units, fractions of any writing.
"""

from __future__ import annotations

import difflib
import math
import re
import unicodedata
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Final

_LONGEST: Final = 60
"""So much of a name is read (letters); no row's is longer."""
_TYPO: Final = 0.7
"""So alike, of 1, are two words of which one is a slip of the other (our choice)."""
_UNSAID: Final = 0.75
"""A size that nobody gave counts for this much, between another size and the same (our choice)."""
_SHORT: Final = 3
"""A shorter word has no slips: sp is not spf (letters)."""
_CLASS: Final = 300
"""A whole figure of so much that stands alone is a steel, no size."""
_NO_MORE: Final = frozenset(
    {
        "bar",
        "board",
        "glue",
        "kd",
        "of",
        "panel",
        "rod",
        "screw",
        "screws",
        "sheet",
        "steel",
        "the",
        "timber",
    }
)
"""Words that say no more than the kind does; taken out unless a row has them."""

_BOTH: Final = "another kind and size"

_VULGAR = re.compile(r"(\d)(?=[¼-¾⅐-⅞])")
_UNIT = re.compile(r"""(?<=\d)\s*(?:mm|inch(?:es)?|in)\b\.?|["“”″'`’′]+""")
_TIMES = re.compile(r"(?<=\d)\s*(?:x|\*|by)\s*(?=\.?\d)")
_NUMBERED = re.compile(r"(?:#|\b(?:no|nr|number)\b\.?)\s*(?=\d)")
_LETTERED = re.compile(r"\b([acdms])\s+(?=\d)")
_ONE = r"(?:\d{1,2}[ -]\d+/\d+|\d+/\d+|\d*\.\d+|\d+)"
_TOKEN = re.compile(
    rf"(?<![a-z])(?P<grade>(?:no|[a-z])\d+(?![\d./]|x\.?\d))|(?P<sizes>{_ONE}(?:x{_ONE})*)|(?P<word>[^\W\d_]+)"
)


@dataclass(frozen=True)
class Like:
    """A row's name that comes near, and what differs of it: "" where that is but a slip, or nothing."""

    name: str
    differs: str


@dataclass(frozen=True)
class _Read:
    """A name as read: its words, and its sizes, each with its figures in their order; both sorted."""

    words: tuple[str, ...]
    sizes: tuple[tuple[Fraction, ...], ...]

    @property
    def figures(self) -> tuple[Fraction, ...]:
        return tuple(sorted(each for size in self.sizes for each in size))

    @property
    def loose(self) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """Its letters and its figures as written, in no order: what is left where even the sizes are torn apart."""
        text = " ".join(self.words)
        whole = [
            *re.findall(r"\d+", text),
            *(part for each in self.figures for part in _parts(each)),
        ]
        return tuple(sorted(re.findall(r"[^\W\d_]+", text))), tuple(sorted(whole))


def same_words(name: str, known: Iterable[str]) -> tuple[str, ...]:
    """Return the known names that are this one's words in another order or spelling; none if there are none.

    Args:
        name: as somebody wrote it.
        known: the names there are.

    Returns:
        One name, or several where sizes whose order tells them apart were written without it.
    """
    readings = {each: _readings(each) for each in known}
    typed = _drop(_readings(name[:_LONGEST]), readings.values())
    exact = tuple(each for each, of in readings.items() if typed & of)
    if exact or not any(read.words or read.sizes for read in typed):
        return exact
    torn = {read.loose for read in typed}
    return tuple(each for each, of in readings.items() if torn & {read.loose for read in of})


def nearest(name: str, strengths: Mapping[str, float]) -> tuple[Like, ...]:
    """Return the names meant, the first of them never a stronger thing than the others that may be meant as well.

    Source: our choice. Those of the same words stand alone. Else three: a slip of the pen first, then the weaker ones.

    Args:
        name: as somebody wrote it.
        strengths: the names there are, and how much each takes, in any one unit.
    """
    same = same_words(name, strengths)
    if same:
        return tuple(Like(each, "") for each in sorted(same, key=lambda each: strengths[each])[:3])
    (typed,) = _drop({_read(name[:_LONGEST])}, map(_readings, strengths))
    near = sorted(
        strengths, key=lambda each: (*_distance(typed, _closest(typed, each)), strengths[each])
    )[:3]
    told = [Like(each, _differs(typed, _closest(typed, each), each)) for each in near]
    return tuple(sorted(told, key=lambda each: (_rank(each.differs), strengths[each.name])))


def _rank(differs: str) -> int:
    """A slip, what was left open, another kind or another size, both."""
    if not differs.startswith("another"):
        return int(bool(differs))
    return 3 if differs == _BOTH else 2


def _closest(typed: _Read, name: str) -> _Read:
    return max(
        sorted(_readings(name), key=lambda read: -len(read.words)),
        key=lambda row: _words_shared(typed.words, row.words),
    )


def _distance(typed: _Read, row: _Read) -> tuple[float, float]:
    """How little two names share, then how far off their sizes are."""
    shared = _words_shared(typed.words, row.words) + _shared(typed.figures, row.figures)
    return -round(shared, 3), _apart(typed.figures, row.figures)


def _differs(typed: _Read, row: _Read, name: str) -> str:
    """In what a row is another thing than what was written, in few words."""
    size = typed.figures != row.figures
    pairs = _paired(typed.words, row.words)
    kind = len(pairs) < max(len(typed.words), len(row.words))
    if kind and not size and len(pairs) == len(typed.words):
        met = {b for _, b, _ in pairs}
        more = [part for part in name.split() if (own := _read(part).words) and not set(own) <= met]
        return f"if it is {' '.join(more)}"
    return {
        (True, True): _BOTH,
        (True, False): "another kind",
        (False, True): "another size",
    }.get((kind, size), "")


def _words_shared(a: Sequence[str], b: Sequence[str]) -> float:
    return 2 * sum(p for _, _, p in _paired(a, b)) / (len(a) + len(b)) if a or b else 1.0


def _paired(a: Sequence[str], b: Sequence[str]) -> list[tuple[str, str, float]]:
    """The words of two names that are the same or a slip of one another, each once, and how much (0 to 1)."""
    left, found = list(b), []
    for word in a:
        best = max(left, key=lambda other: _alike(word, other), default=None)
        if best is not None and _alike(word, best) > 0:
            left.remove(best)
            found.append((word, best, _alike(word, best)))
    return found


@cache
def _alike(a: str, b: str) -> float:
    if a == b:
        return 1.0
    short = min(len(a), len(b))
    if short < _SHORT or _graded(a) or _graded(b):
        return 0.0
    if a.startswith(b) or b.startswith(a):
        return 0.9
    ratio = difflib.SequenceMatcher(None, a, b).ratio()
    # One letter of three wrong leaves two thirds alike, one too many six sevenths.
    return ratio if ratio >= (0.6 if len(a) == len(b) == _SHORT else _TYPO) else 0.0


def _graded(word: str) -> bool:
    """Whether a word has figures, as C16 and 1018: no slip makes one of the other."""
    return any(letter.isdigit() for letter in word)


def _shared(a: Sequence[Fraction], b: Sequence[Fraction]) -> float:
    if b and not a:
        return _UNSAID
    common = (Counter(a) & Counter(b)).total()
    return 2 * common / (len(a) + len(b)) if a or b else 1.0


def _apart(a: Sequence[Fraction], b: Sequence[Fraction]) -> float:
    """How far apart two lists of as many figures are, as the sum of the logarithms of their ratios."""
    if len(a) != len(b):
        return math.inf
    return sum(
        abs(math.log(max(float(x), 1e-9)) - math.log(max(float(y), 1e-9)))
        for x, y in zip(a, b, strict=True)
    )


def _drop(typed: Iterable[_Read], rows: Iterable[Iterable[_Read]]) -> set[_Read]:
    """A name without the words that say no more than its kind, unless a row has them."""
    noise = _NO_MORE - {word for of in rows for read in of for word in read.words}
    return {_Read(tuple(w for w in each.words if w not in noise), each.sizes) for each in typed}


@cache
def _readings(name: str) -> frozenset[_Read]:
    """A name as it is, and with its hyphens left out: hem-fir is hem fir or hemfir."""
    return frozenset({_read(name), _read(re.sub(r"(?<=[^\W\d_])-(?=[^\W\d_])", "", name))})


@cache
def _read(name: str) -> _Read:
    words: list[str] = []
    sizes: list[tuple[Fraction, ...]] = []
    for token in _TOKEN.finditer(_plain(name)):
        if token["sizes"] is None:
            words.append(token[0])
            continue
        figures = tuple(map(_figure, token["sizes"].split("x")))
        if len(figures) == 1 and figures[0] >= _CLASS and figures[0].denominator == 1:
            words.append(token[0])
        else:
            sizes.append(figures)
    return _Read(tuple(sorted(w for w in words if w != "x")), tuple(sorted(sizes)))


def _plain(name: str) -> str:
    """A name in small plain letters, its figures bare, its sizes joined by x, its numbers and grades in one piece."""
    # A vulgar fraction falls apart into its figures: without a blank 1½ would become eleven halves.
    text = unicodedata.normalize("NFKC", _VULGAR.sub(r"\1 ", name)).casefold()
    text = text.replace("\u2044", "/").replace("\u00d7", "x")
    text = re.sub(r"(?<=\d),(?=\d)", ".", text)
    text = _TIMES.sub("x", _UNIT.sub(" ", text))
    return _LETTERED.sub(r"\1", _NUMBERED.sub("no", text))


def _figure(text: str) -> Fraction:
    whole = Fraction(0)
    for part in re.split(r"[ -]", text):
        over, _, under = part.partition("/")
        whole += Fraction(over) / (int(under or 1) or 1)
    return whole


def _parts(figure: Fraction) -> tuple[str, ...]:
    """A figure as it falls apart where words are shuffled: its whole part and what is over it."""
    whole, over = divmod(figure, 1)
    return tuple(str(each) for each in (whole, over) if each)
