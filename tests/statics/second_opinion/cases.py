"""The shelves both models are asked about, as plain numbers, fixed before either had answered.

x to the right, y out of the wall, N and mm. Skins lie on the core above and below; rods stand in slots of the core and
press the skins one way only. Stiffnesses are of the order of birch plywood and softwood, assumed. Chosen so that what
the section model leaves out is small or nothing: thin skins, a core without stiffness in its own plane.
"""

from __future__ import annotations

from dataclasses import dataclass

Box = tuple[float, float, float, float]
"""Left, back, right, front."""
THICK, CORE = 9.0, 19.0
E_ALONG, E_ACROSS, NU, G_SKIN = 8000.0, 5000.0, 0.05, 600.0
G_CORE, E_CORE = 600.0, 400.0
ROUND, STEEL = 12.7, 200e3
EMBEDDED, BED = 80.0, 1000.0
PRESSING = 300.0
MOUTH, SIDE, END = 16.0, 1.5, 6.0
LOOSE = 50.0


@dataclass(frozen=True)
class Rod:
    """A round rod: where its axis leaves the wood, along y or x, to which distance, what play below, how proud."""

    at: float
    tip: float
    along: str = "y"
    below: float = 0.0
    proud: float = 0.0

    @property
    def slot(self) -> Box:
        """The plan of its slot."""
        half = ROUND / 2 + SIDE
        across, run = (self.at - half, self.at + half), (MOUTH, self.tip + END)
        (a, b), (c, d) = (across, run) if self.along == "y" else (run, across)
        return a, c, b, d


@dataclass(frozen=True)
class Case:
    """A shelf: boxes of skin, boxes of core (None: everywhere), its rods, loads in N, where drop and stress are read.

    prying: whether the bottom skin is known to press, by construction.
    """

    name: str
    skin: tuple[Box, ...]
    rods: tuple[Rod, ...]
    loads: tuple[tuple[Box, float], ...]
    fronts: tuple[tuple[float, float], ...]
    patch: Box
    core: tuple[Box, ...] | None = None
    prying: bool = False

    @property
    def hollow(self) -> bool:
        """Whether there is core in places only."""
        return self.core is not None


def _straight(length: float, front: float) -> tuple[Box, ...]:
    return ((0.0, MOUTH, length, front),)


def _ribs(length: float, front: float, *rods: float) -> tuple[Box, ...]:
    """Solid beside each rod, along the front and at both ends."""
    beside = tuple((x - 35.0, MOUTH, x + 35.0, front) for x in rods)
    ends = ((0.0, MOUTH, 30.0, front), (length - 30.0, MOUTH, length, front))
    return (*beside, (0.0, front - 40.0, length, front), *ends)


CASES = (
    Case(
        "loose under an even load",
        _straight(600, 316),
        (Rod(150, 216, below=LOOSE), Rod(450, 216, below=LOOSE)),
        (((0, 16, 600, 316), 600.0),),
        ((0, 316), (300, 316), (600, 316)),
        (250, 100, 350, 200),
    ),
    Case(
        "deep and snug",
        _straight(700, 416),
        (Rod(120, 300), Rod(350, 300), Rod(580, 300)),
        (((0, 16, 700, 416), 600.0),),
        ((0, 416), (350, 416)),
        (200, 150, 280, 250),
    ),
    Case(
        "shallow and snug, front strip",
        _straight(600, 216),
        (Rod(150, 140), Rod(450, 140)),
        (((0, 166, 600, 216), 500.0),),
        ((0, 216), (300, 216)),
        (250, 80, 350, 160),
        prying=True,
    ),
    Case(
        "a thing on the overhang",
        _straight(800, 316),
        (Rod(250, 216, below=0.5), Rod(550, 216, below=0.5)),
        (((0, 16, 800, 316), 200.0), ((700, 216, 800, 316), 200.0)),
        ((0, 316), (800, 316)),
        (600, 100, 680, 220),
    ),
    Case(
        "one rod proud",
        _straight(700, 316),
        (Rod(120, 216), Rod(350, 216, proud=0.8), Rod(580, 216)),
        (((0, 16, 700, 316), 700.0),),
        ((0, 316), (350, 316), (700, 316)),
        (200, 120, 280, 220),
    ),
    Case(
        "round a corner",
        ((16, 16, 716, 316), (16, 16, 316, 716)),
        (Rod(400, 216), Rod(640, 216), Rod(400, 216, along="x"), Rod(640, 216, along="x")),
        (((16, 16, 716, 316), 500.0), ((16, 316, 316, 716), 300.0)),
        ((316, 316), (716, 316), (316, 716)),
        (480, 120, 560, 220),
    ),
    Case(
        "hollow under an even load",
        _straight(600, 316),
        (Rod(150, 216, below=LOOSE), Rod(450, 216, below=LOOSE)),
        (((0, 16, 600, 316), 500.0),),
        ((0, 316), (300, 316)),
        (250, 100, 350, 200),
        core=_ribs(600, 316, 150, 450),
    ),
    Case(
        "hollow and snug, front strip",
        _straight(700, 266),
        (Rod(120, 166), Rod(350, 166), Rod(580, 166)),
        (((0, 216, 700, 266), 600.0),),
        ((0, 266), (350, 266)),
        (200, 100, 280, 180),
        core=_ribs(700, 266, 120, 350, 580),
        prying=True,
    ),
    Case(
        "hollow, a thing on the overhang",
        _straight(700, 316),
        (Rod(200, 216, below=0.5), Rod(500, 216, below=0.5)),
        (((0, 16, 700, 316), 200.0), ((600, 216, 700, 316), 200.0)),
        ((0, 316), (700, 316)),
        (300, 100, 400, 200),
        core=_ribs(700, 316, 200, 500),
    ),
)
