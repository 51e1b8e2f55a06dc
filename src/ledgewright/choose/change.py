"""A wanted shelf as edits of its job file."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import Any

from ledgewright import stock, units
from ledgewright.choose.drills import bit
from ledgewright.choose.ground import Ground, across, as_is
from ledgewright.choose.model import Change, Wanted
from ledgewright.job import Edit, RodSpec, TapedMember
from ledgewright.units import Unit

EXACT = 1e-6


def length(mm: float, unit: Unit) -> str:
    """Return a length (mm) as a value of the job file, exact to a millionth."""
    if unit == "mm":
        return _plain(mm)
    text = units.show_length(mm, "in", to=64)
    exact = abs(units.read_length(text, "in") - mm) < EXACT
    return f'"{text}"' if exact else f'"{_plain(mm)} mm"'


def _plain(mm: float) -> str:
    return repr(round(mm, 4)).removesuffix(".0")


def hole(ground: Ground, wanted: Wanted) -> float | None:
    """Return the hole of a wanted shelf's rods (mm): as in the job, else the next bit; None if there is no such bit."""
    was = as_is(ground)
    if (wanted.bar, wanted.ring) == (was.bar, was.ring):
        return ground.usual.hole
    bar = stock.bar(wanted.bar)
    return bit(across(bar.shape, bar.width, bar.height) + wanted.ring, ground.unit)


def core_thick(wanted: Wanted) -> float:
    """Return how thick the core is (mm): the slots are as high as it is, so bar and play."""
    return stock.bar(wanted.bar).height + wanted.play


def thick(ground: Ground, wanted: Wanted) -> float:
    """Return how thick the whole shelf is (mm)."""
    spec = ground.spec
    skins = (
        spec.skin_top.thick + spec.skin_bottom.thick
        if wanted.skins is None
        else 2 * stock.panel(wanted.skins).thick
    )
    return skins + core_thick(wanted)


def changes(ground: Ground, wanted: Wanted) -> tuple[Change, ...]:
    """Return what differs from the job, in the order of `job.Vary`."""
    was = as_is(ground)
    had = dict(was.members)
    pairs: list[tuple[object, object, Change]] = [
        (was.bar, wanted.bar, Change("bar", "", wanted.bar)),
        (was.ring, wanted.ring, Change("hole", "", hole(ground, wanted))),
        *((had[wall], ids, Change("members", wall, tuple(ids))) for wall, ids in wanted.members),
        (was.embedment, wanted.embedment, Change("embedment", "", wanted.embedment)),
        (was.adhesive, wanted.adhesive, Change("adhesive", "", wanted.adhesive)),
        (was.in_slot, wanted.in_slot, Change("in slot", "", wanted.in_slot)),
        (was.play, wanted.play, Change("play", "", wanted.play)),
        (was.longer, wanted.longer, Change("projection", "", wanted.longer)),
        (was.skins, wanted.skins, Change("skins", "", wanted.skins)),
        (was.core, wanted.core, Change("core", "", wanted.core)),
        (
            (was.sections, was.first),
            (wanted.sections, wanted.first),
            Change("way", "", (wanted.sections, wanted.first)),
        ),
    ]
    return tuple(change for before, after, change in pairs if before != after)


def edits(ground: Ground, wanted: Wanted) -> tuple[Edit, ...]:
    """Return the edits that make a wanted shelf, in the order they must be made; none for the shelf as it is.

    Args:
        ground: the shelf.
        wanted: with a hole that some bit makes.
    """
    return (
        *_of_rods(ground, wanted),
        *_of_members(ground, wanted),
        *_of_layers(ground, wanted),
        *_of_core(ground, wanted),
        *_of_way(ground, wanted),
    )


def _rod_texts(ground: Ground, wanted: Wanted) -> dict[str, str]:
    """What every rod is told anew, by its key; the stick-out, which differs from rod to rod, is apart."""
    was, unit = as_is(ground), ground.unit
    found: dict[str, str] = {}
    if wanted.bar != was.bar:
        found["stock"] = json.dumps(wanted.bar)
    size = hole(ground, wanted)
    if size is not None and abs(size - ground.usual.hole) > EXACT:
        found["hole"] = length(size, unit)
    if wanted.embedment != was.embedment:
        found["embedment"] = length(wanted.embedment, unit)
    if wanted.adhesive != was.adhesive:
        found["adhesive"] = json.dumps(wanted.adhesive)
    if wanted.in_slot != was.in_slot:
        found["in_slot"] = json.dumps(wanted.in_slot)
    if wanted.play != was.play:
        found["clearance.up"] = length(wanted.play, unit)
    return found


def _of_rods(ground: Ground, wanted: Wanted) -> Iterator[Edit]:
    path = ground.spec.path
    for key, text in _rod_texts(ground, wanted).items():
        # Play that is not told is core less bar already.
        if key != "clearance.up" or _has(ground.rods, key):
            yield Edit(f"{path}.rods.{key}", text)
        for k, own in enumerate(ground.own):
            if _has(own, key):
                yield Edit(f"{path}.rod[{k}].{key}", text)
    if wanted.longer:
        yield from _stick_outs(ground, wanted)


def _stick_outs(ground: Ground, wanted: Wanted) -> Iterator[Edit]:
    path, done = ground.spec.path, set[str]()
    for rod in ground.spec.rods:
        k = ground.own_of(rod)
        told = k is not None and "projection" in ground.own[k]
        at = f"{path}.rod[{k}]" if told else f"{path}.rods"
        if at not in done:
            done.add(at)
            yield Edit(f"{at}.projection", length(rod.projection + wanted.longer, ground.unit))


def _has(table: Mapping[str, Any], key: str) -> bool:
    head, _, rest = key.partition(".")
    inner = table.get(head)
    return isinstance(inner, Mapping) and rest in inner if rest else head in table


def _of_members(ground: Ground, wanted: Wanted) -> Iterator[Edit]:
    if wanted.members == as_is(ground).members:
        return
    path, spec = ground.spec.path, ground.spec
    kept = {member for _, ids in wanted.members for member in ids}
    gone = [
        k for rod in spec.rods if rod.member not in kept and (k := ground.own_of(rod)) is not None
    ]
    for k in sorted(gone, reverse=True):
        yield Edit(f"{path}.rod[{k}]", None)
    places = [
        ground.place(wall, member)
        for wall, ids in wanted.members
        for member in ground.members(wall)
        if member.id in ids
    ]
    yield Edit(f"{path}.rods.at", _list(places))
    fresh = len(ground.own) - len(gone)
    for wall, ids in wanted.members:
        for member in ground.members(wall):
            own = _own_anew(ground, wanted, wall, member) if member.id in ids else None
            if own is not None:
                yield Edit(f"{path}.rod[{fresh}]", own)
                fresh += 1
    yield from _locks(ground, wanted)


def _own_anew(ground: Ground, wanted: Wanted, wall: str, member: TapedMember) -> str | None:
    """A table for a new rod on a wall where all rods have one of their own: as its nearest neighbour's."""
    rods = [rod for rod in ground.spec.rods if rod.wall == wall]
    if any(rod.member == member.id for rod in rods) or any(ground.own_of(r) is None for r in rods):
        return None
    middle = {m.id: (m.left + m.right) / 2 for m in ground.members(wall)}
    like = min(rods, key=lambda rod: abs(middle[rod.member] - middle[member.id]))
    k = ground.own_of(like)
    values = {} if k is None else dict(ground.own[k])
    texts = {key: toml(value) for key, value in values.items() if key != "clearance"}
    texts["at"] = json.dumps(ground.place(wall, member), ensure_ascii=False)
    texts |= {key: text for key, text in _rod_texts(ground, wanted).items() if key in values}
    if "projection" in values and wanted.longer:
        texts["projection"] = length(like.projection + wanted.longer, ground.unit)
    if "clearance" in values:
        texts["clearance"] = _clearance(ground, wanted, like)
    return "{ " + ", ".join(f"{key} = {text}" for key, text in texts.items()) + " }"


def _clearance(ground: Ground, wanted: Wanted, like: RodSpec) -> str:
    parts = {"up": wanted.play, "side": like.clearance.side, "end": like.clearance.end}
    return "{ " + ", ".join(f"{k} = {length(v, ground.unit)}" for k, v in parts.items()) + " }"


def _locks(ground: Ground, wanted: Wanted) -> Iterator[Edit]:
    """Locks stay on the rods that stay; one whose rod goes moves to the nearest on its wall that has none."""
    told = ground.table.get("lock")
    if not isinstance(told, Mapping) or "at" not in told:
        return
    locked = [rod for rod in ground.spec.rods if rod.member in ground.spec.lock.rods]
    new: list[tuple[str, TapedMember]] = []
    by_wall = {
        wall: [m for m in ground.members(wall) if m.id in ids] for wall, ids in wanted.members
    }
    for stays in (True, False):
        for rod in locked:
            left = [m for m in by_wall[rod.wall] if (rod.wall, m) not in new]
            if stays != any(m.id == rod.member for m in by_wall[rod.wall]) or not left:
                continue
            home = next(m for m in ground.members(rod.wall) if m.id == rod.member)
            new.append((rod.wall, min(left, key=lambda m: (abs(m.left - home.left), m.left))))
    if {m.id for _, m in new} == {rod.member for rod in locked}:
        return
    ordered = sorted(new, key=lambda pair: (list(by_wall).index(pair[0]), pair[1].left))
    yield Edit(f"{ground.spec.path}.lock.at", _list([ground.place(w, m) for w, m in ordered]))


def _of_layers(ground: Ground, wanted: Wanted) -> Iterator[Edit]:
    was, table, path, unit = as_is(ground), ground.table, ground.spec.path, ground.unit
    if wanted.skins != was.skins and wanted.skins is not None:
        name = json.dumps(wanted.skins)
        if "skins" in table:
            yield Edit(f"{path}.skins", name)
        if "measured" in table:
            yield Edit(f"{path}.measured", None)
        for skin in ("skin_top", "skin_bottom"):
            if skin in table:
                yield Edit(f"{path}.{skin}.of", name)
                if "measured" in table[skin]:
                    yield Edit(f"{path}.{skin}.measured", None)
    core = core_thick(wanted)
    if abs(core - ground.spec.core.thick) > EXACT and "thick" in table["core"]:
        yield Edit(f"{path}.core.thick", length(core, unit))
    if abs(thick(ground, wanted) - thick(ground, was)) > EXACT and "thick" in table:
        yield Edit(f"{path}.thick", length(thick(ground, wanted), unit))


def _of_core(ground: Ground, wanted: Wanted) -> Iterator[Edit]:
    was, path = as_is(ground).core, f"{ground.spec.path}.core"
    if wanted.core[0] != was[0]:
        yield Edit(f"{path}.of", json.dumps(wanted.core[0]))
    for key, new, old in zip(("strip", "rib", "max_span"), wanted.core[1:], was[1:], strict=True):
        if new != old:
            yield Edit(f"{path}.{key}", length(new, ground.unit))


def _of_way(ground: Ground, wanted: Wanted) -> Iterator[Edit]:
    was, path = as_is(ground), ground.spec.path
    if wanted.sections != was.sections:
        yield Edit(f"{path}.sections", str(wanted.sections))
        if wanted.sections == 1 and "joint" in ground.table:
            yield Edit(f"{path}.joint", None)
    if wanted.first != was.first:
        yield Edit(f"{path}.first", json.dumps(wanted.first) if wanted.first else None)


def _list(texts: list[str]) -> str:
    return "[" + ", ".join(json.dumps(text, ensure_ascii=False) for text in texts) + "]"


def toml(value: object) -> str:
    """Return a plain value of a job file as TOML text."""
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{k} = {toml(v)}" for k, v in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(toml(each) for each in value) + "]"
    return json.dumps(value, ensure_ascii=False)
