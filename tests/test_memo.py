"""The memo makes each thing once while it is kept, and forgets the least recently used."""

from __future__ import annotations

from ledgewright.memo import Memo


def test_a_thing_is_made_once() -> None:
    made: list[int] = []
    memo = Memo()

    def make() -> int:
        made.append(1)
        return 7

    assert [memo.get("room", "a", make) for _ in range(3)] == [7, 7, 7]
    assert len(made) == 1
    assert memo.hits == 2


def test_rooms_do_not_mix() -> None:
    memo = Memo()
    assert memo.get("one", "key", lambda: 1) == 1
    assert memo.get("two", "key", lambda: 2) == 2


def test_the_least_recently_used_goes_first() -> None:
    memo = Memo(room_for=2)
    memo.get("r", "a", lambda: 1)
    memo.get("r", "b", lambda: 2)
    memo.get("r", "a", lambda: -1)
    memo.get("r", "c", lambda: 3)
    assert memo.get("r", "a", lambda: -1) == 1
    assert memo.get("r", "b", lambda: -2) == -2
