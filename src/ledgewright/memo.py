"""A least-recently-used store that is handed to whoever may reuse results; never global."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from typing import TypeVar

T = TypeVar("T")


class Memo:
    """Results by room and input value; equal inputs give the very same result back."""

    def __init__(self, room_for: int = 512, heavy: int = 24) -> None:
        self._light: OrderedDict[Hashable, object] = OrderedDict()
        self._heavy: OrderedDict[Hashable, object] = OrderedDict()
        self._room_for = {False: room_for, True: heavy}
        self.hits = 0

    def get(self, room: str, key: Hashable, make: Callable[[], T], *, heavy: bool = False) -> T:
        """Return what `make` gives for this room and key, made at most once while it is kept.

        heavy: whether the result takes megabytes: fewer of these are kept.
        """
        full, kept = (room, key), self._heavy if heavy else self._light
        if full in kept:
            kept.move_to_end(full)
            self.hits += 1
            return kept[full]  # type: ignore[return-value]  # the key decides the type
        made = make()
        kept[full] = made
        if len(kept) > self._room_for[heavy]:
            kept.popitem(last=False)
        return made
