"""Figures as people of one job read them: its units, its words, rounded so that nothing looks better than it is."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass

from ledgewright import units
from ledgewright.job import Meta, Unit, Words
from ledgewright.sheets.words import told, word
from ledgewright.units import Rounded

_SIZE = re.compile(r"(?<![\w.])(-?\d+(?:\.\d+)?) mm(?! ?[²³\d])(?: \(-?\d+(?:\.\d+)? in\))?(?!\w)")


@dataclass(frozen=True)
class Say:
    """One job's way of writing figures and words."""

    units: Unit
    words: Words
    own: tuple[str, ...] = ()

    @classmethod
    def of(cls, meta: Meta, own: tuple[str, ...] = ()) -> Say:
        """Return how this job writes; `own` are names that stay as they are (see `text`)."""
        return cls(meta.units, meta.words, own)

    def deep(self, depths: Sequence[tuple[str, float]]) -> str:
        """Return how deep a shelf is, in words, and of each wall where that differs.

        Args:
            depths: of every leg, with the mark of its wall (mm).
        """
        told = {mark: self.length(depth) for mark, depth in depths}
        if len(set(told.values())) == 1:
            return f"{next(iter(told.values()))} deep"
        return " and ".join(f"{depth} deep on wall {mark}" for mark, depth in told.items())

    @property
    def unit(self) -> str:
        """The unit of every length on a page, for its title block."""
        if self.units == "in":
            return "inches"
        return "millimeters" if self.words == "en-US" else "millimetres"

    @property
    def mark(self) -> float:
        """The least length (mm) that a tape of this job is read to, 1/16 in or 0.5 mm."""
        return 25.4 / 16 if self.units == "in" else 0.5

    def either(self, inches: str, millimetres: str) -> str:
        """Return a size that shops know in both units, that of the job first, as "3 mm (1/8 in)" in a metric one.

        Args:
            inches: as 1/8.
            millimetres: as 3.
        """
        if self.units == "in":
            return f'{inches}" ({millimetres} mm)'
        return f"{millimetres} mm ({inches} in)"

    @property
    def pilot(self) -> str:
        """The bit of a pilot (common practice)."""
        return self.either("1/8", "3")

    def word(self, key: str) -> str:
        """Return a word of the trade (see `words`)."""
        return word(key, self.words)

    def text(self, sentence: str) -> str:
        """Return a text of the program's own making in the English of this job (see `words.told`)."""
        return told(sentence, self.words, self.own)

    def sizes(self, sentence: str) -> str:
        """Return a sentence of another room with its lengths in the units of the job.

        Those rooms do not know the job's units: they write "9.4 mm", some with "(0.37 in)" behind it. To be used on
        their sentences alone: names, and what the sheets say themselves, are in the job's words already.
        """
        return _SIZE.sub(lambda found: self._size(float(found[1])), sentence)

    def _size(self, value: float) -> str:
        return units.show_length(value, self.units, to=32, mark=True)

    def bare(self, value: float) -> str:
        """Return a length (mm) to the nearest 1/32 in or 0.5 mm without its unit, for tables."""
        return units.show_length(self._marked(value), self.units, to=32)

    def length(self, value: float) -> str:
        """Return a length (mm) to the nearest 1/32 in or 0.5 mm with its unit."""
        return units.show_length(self._marked(value), self.units, to=32, mark=True)

    def height(self, value: float) -> str:
        """Return a height (mm) without its unit: to 1/64 in, for no more is allowed up or down, or to 0.5 mm."""
        return self.caliper(value) if self.units == "in" else self.bare(value)

    def level(self, value: float) -> str:
        """Return a height (mm) as `height` does, with its unit."""
        return self.thickness(value) if self.units == "in" else self.length(value)

    def some(self, value: float) -> str:
        """Return a length (mm) of which there is some as `length` does, but never as none: then as less than a mark.

        A move of nothing, or a way that is short by nothing, is nonsense to who reads it.
        """
        least = 25.4 / 32 if self.units == "in" else 0.5
        text = self.length(value)
        return f"less than {self.length(least)}" if text == self.length(0.0) else text

    def about(self, value: float) -> str:
        """Return a distance that a rule keeps (mm), rounded up to a whole inch or 10 mm, with its unit."""
        step = 25.4 if self.units == "in" else 10.0
        return self.length(step * math.ceil(value / step - 1e-9))

    def thickness(self, value: float) -> str:
        """Return a thickness (mm) to the nearest 1/64 in or 0.1 mm with its unit."""
        return units.show_length(value, self.units, to=64, mark=True)

    def up(self, value: float) -> str:
        """Return a length (mm) that must be there, rounded up to 1/16 in or 0.5 mm, with its unit.

        Less than 0.25 mm over a mark counts as on it: a tape reads no finer.
        """
        least = max(0.0, value - 0.25)
        whole = least if self.units == "in" else math.ceil(least * 2 - 1e-6) / 2
        return units.show_length_up(whole, self.units, to=16, mark=True)

    def down(self, value: float) -> str:
        """Return a length (mm) that is there at the least, rounded down to 1/16 in or 0.5 mm, with its unit."""
        whole = value if self.units == "in" else math.floor(value * 2 + 1e-6) / 2
        return units.show_length_down(whole, self.units, to=16, mark=True)

    def written(self, value: float) -> str:
        """Return a length (mm) that is there at the least as a job file takes it, rounded down to 1/16 in or 0.5 mm."""
        whole = value if self.units == "in" else math.floor(value * 2 + 1e-6) / 2
        said = units.show_length_down(whole, self.units, to=16)
        return f'"{said}"' if self.units == "in" else said

    def drop(self, value: float) -> str:
        """Return a drop (mm) rounded up to 1/64 in or 0.1 mm, with its unit."""
        return units.show_length_up(value, self.units, to=64, mark=True)

    def limit(self, value: float) -> str:
        """Return what a drop may be (mm), rounded down to 1/64 in or 0.1 mm, with its unit."""
        return units.show_length_down(value, self.units, to=64, mark=True)

    def drop_in(self, value: float, limit: float) -> tuple[str, str]:
        """Return a drop rounded up and its limit rounded down (mm), so finely that what passes stands under it.

        Args:
            value: the drop.
            limit: what it may be.
        """
        step = 25.4 / 64 if self.units == "in" else 0.1
        if value > limit or _steps_up(value, step) <= _steps_down(limit, step):
            return self.drop(value), self.limit(limit)
        unit = 25.4 if self.units == "in" else 1.0
        for places in range(3 if self.units == "in" else 2, 7):
            step = unit / 10**places
            up, down = _steps_up(value, step), _steps_down(limit, step)
            if up <= down:
                break
        return self._fine(up, places), self._fine(max(up, down), places)

    def _fine(self, steps: int, places: int) -> str:
        text = f"{steps / 10**places:.{places}f}"
        return f'{text}"' if self.units == "in" else f"{text} mm"

    def gauge(self, value: float) -> str:
        """Return how far something moved (mm) as a dial gauge shows it, to 0.001 in or 0.01 mm, with its unit."""
        return f'{value / 25.4:.3f}"' if self.units == "in" else f"{value:.2f} mm"

    def gauge_down(self, value: float) -> str:
        """Return the most that a dial gauge may show (mm), rounded down to 0.001 in or 0.01 mm, with its unit."""
        step = 0.0254 if self.units == "in" else 0.01
        return self.gauge(math.floor(value / step + 1e-6) * step)

    def asked(self, value: float, unit: str) -> str:
        """Return what is asked of a thing (N, N mm, MPa, mm or another unit of a check), rounded up."""
        return self._amount(value, unit, "up")

    def taken(self, value: float, unit: str) -> str:
        """Return what a thing can take (N, N mm, MPa, mm or another unit of a check), rounded down."""
        return self._amount(value, unit, "down")

    def _amount(self, value: float, unit: str, rounded: Rounded) -> str:
        if not math.isfinite(value):
            return "-"
        if unit == "mm":
            return self.drop(value) if rounded == "up" else self.limit(value)
        show = {"N": units.show_force, "N mm": units.show_moment, "MPa": units.show_stress}
        if unit in show:
            return show[unit](value, self.units, rounded)
        named = "" if unit == "1" else f" {unit}"
        return f"{figures(value, 3, rounded)}{named}"

    def mass(self, value: float) -> str:
        """Return a mass (kg) rounded up to a whole pound or kilogram."""
        whole, name = units.down_mass(value, self.units)
        back = units.read_mass(f"{whole} {name}")
        return f"{whole if back >= value - 1e-9 else whole + 1} {name}"

    def weight(self, value: float) -> str:
        """Return a mass (kg) as it is weighed out: to the nearest half kilogram or whole pound."""
        return units.show_weight(value, self.units)

    def most_mass(self, value: float) -> str:
        """Return the greatest mass (kg) that is allowed, rounded down to a whole pound or kilogram."""
        whole, name = units.down_mass(value, self.units)
        return f"{whole} {name}"

    def most_per_length(self, value: float) -> str:
        """Return the greatest line load (N/mm) that is allowed, rounded down to a whole lb/ft or kg/m."""
        whole, name = units.down_per_length(value, self.units)
        return f"{whole} {name}"

    def line_mass(self, value: float) -> str:
        """Return a line load (N/mm) to three figures, in lb/ft or kg/m."""
        return units.show_per_length(value, self.units)

    def line_force(self, value: float) -> str:
        """Return a force per length (N/mm) rounded up, in lb/in or N/mm."""
        if self.units == "in":
            return f"{figures(value * 25.4 / 4.4482216152605, 3, 'up')} lbf/in"
        return f"{figures(value, 3, 'up')} N/mm"

    def strength(self, value: float) -> str:
        """Return a strength (MPa) to the nearest whole ksi or MPa."""
        return f"{value / 6.894757:.0f} ksi" if self.units == "in" else f"{value:.0f} MPa"

    def temperature(self, value: float) -> str:
        """Return a temperature (C) to the whole degree."""
        return units.show_temperature(_whole_degrees(value, self.units), self.units)

    def size(self, size: tuple[float, float, float]) -> str:
        """Return length x width x thickness (mm) without units; the thickness as a caliper shows it."""
        return " × ".join((self.bare(size[0]), self.bare(size[1]), self.caliper(size[2])))

    def caliper(self, value: float) -> str:
        """Return a thickness (mm) to the nearest 1/64 in or 0.1 mm without its unit."""
        return units.show_length(value, self.units, to=64)

    def _marked(self, value: float) -> float:
        return value if self.units == "in" else math.floor(value * 2 + 0.5) / 2


def _steps_up(value: float, step: float) -> int:
    return math.ceil(value / step - 1e-6)


def _steps_down(value: float, step: float) -> int:
    return math.floor(value / step + 1e-6)


def ratio(value: float, places: int = 2) -> str:
    """Return demand over capacity rounded up, and never onto 1 from either side of it.

    Args:
        value: the ratio.
        places: decimals; more are written where these would say 1 of what is less.
    """
    if not math.isfinite(value):
        return "-"
    for digits in range(places, 7):
        steps = math.ceil(value * 10**digits - 1e-9)
        steps += value > 1 and steps <= 10**digits
        if value >= 1 or steps < 10**digits:
            return f"{steps / 10**digits:.{digits}f}"
    return "just under 1"


def listed(names: Sequence[str]) -> str:
    """Return names in a row, each once: "A1, A2 and B1"."""
    one_each = list(dict.fromkeys(names))
    return one_each[0] if len(one_each) == 1 else f"{', '.join(one_each[:-1])} and {one_each[-1]}"


def figures(value: float, count: int, rounded: Rounded) -> str:
    """Return a number to so many significant figures (whole numbers whole), up, down or to the nearest.

    Args:
        value: the number.
        count: of figures.
        rounded: which way; what lies within a billionth of a figure stands on it already.
    """
    if not math.isfinite(value):
        return "-"
    if abs(value) < 1e-12:
        return "0"
    places = max(0, count - math.floor(math.log10(abs(value))) - 1)
    steps = value * 10**places
    noise = abs(steps) * 1e-9
    turned = {
        "near": round(steps),
        "up": math.ceil(steps - noise),
        "down": math.floor(steps + noise),
    }[rounded]
    text = f"{turned / 10**places:,.{places}f}"
    return (text.rstrip("0").rstrip(".") if places else text).replace(",", " ")


def _whole_degrees(value: float, unit: Unit) -> float:
    return (round(value * 9 / 5 + 32) - 32) * 5 / 9 if unit == "in" else round(value)
