"""A least-recently-used store that is handed to whoever may reuse results; never global."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from typing import TypeVar

T = TypeVar("T")


class Memo:
    """Results by room and input value; equal inputs give the very same result back."""

    def __init__(self, room_for: int = 512) -> None:
        self._kept: OrderedDict[Hashable, object] = OrderedDict()
        self._room_for = room_for
        self.hits = 0

    def get(self, room: str, key: Hashable, make: Callable[[], T]) -> T:
        """Return what `make` gives for this room and key, made at most once while it is kept."""
        full = (room, key)
        if full in self._kept:
            self._kept.move_to_end(full)
            self.hits += 1
            return self._kept[full]  # type: ignore[return-value]  # the key decides the type
        made = make()
        self._kept[full] = made
        if len(self._kept) > self._room_for:
            self._kept.popitem(last=False)
        return made
