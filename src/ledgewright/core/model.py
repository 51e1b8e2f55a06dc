"""What stands between the skins, and what stays hollow."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ledgewright.plane import Ring

Kind = Literal["back strip", "front strip", "end strip", "rib", "block"]


@dataclass(frozen=True)
class Piece:
    """One piece of core: where it stands in the plan, its length along the grain and its width (mm)."""

    id: str
    kind: Kind
    plan: Ring
    length: float
    width: float


@dataclass(frozen=True)
class Span:
    """How far a skin runs between supports at one place (mm), and what lies either side.

    At each place the shorter of the two ways counts, along the leg or across it.
    """

    between: tuple[str, str]
    length: float


@dataclass(frozen=True)
class Core:
    """The core of one section. `short` says in words where a span is over the limit or a strip is broken."""

    pieces: tuple[Piece, ...]
    hollows: tuple[Ring, ...]
    spans: tuple[Span, ...]
    longest_span: float
    glue_area: float
    ribs_cut: int
    short: tuple[str, ...]
