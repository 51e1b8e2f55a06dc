"""Small seeded jobs, written as text by hand: a short shelf on a straight wall, a few things open to change."""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterator
from dataclasses import dataclass

STUDS = ((80.0, 118.0), (480.0, 518.0), (880.0, 918.0))
"""Edges of the studs (mm): 400 between middles, as houses are framed (common practice)."""
HEIGHTS = {"round 12 S235": 12, "round 14 S235": 14, "round 16 S235": 16, "round 18 S235": 18}
PRICES = """
format = 1
currency = "GBP"
[stock]
"round 12 S235" = [4.60, "m"]
"round 14 S235" = [6.00, "m"]
"round 16 S235" = [7.50, "m"]
"round 18 S235" = [9.40, "m"]
"birch ply 9" = [44.00, "sheet"]
"birch ply 12" = [52.00, "sheet"]
"birch ply 15" = [62.00, "sheet"]
"softwood" = [620.00, "m3"]
"tulipwood" = [1450.00, "m3"]
"epoxy slow" = [24.00, "400 ml"]
"epoxy thickened" = [29.00, "400 ml"]
"hardwax oil" = [40.00, "l"]
"pva d4" = [11.00, "l"]
"sanding sealer" = [17.00, "l"]
"mixing nozzle" = [1.70, "each"]
[rates]
labour = 23.0
burden = 0.28
overhead = 17.0
mark_up = 0.2
waste = 0.15
sundries = 0.06
net_margin = 0.15
trip = 24.0
tax_on_materials = 0.0
round_up_to = 1
"""


@dataclass(frozen=True)
class Params:
    """What is written into the text of one design."""

    bar: str
    studs: tuple[int, ...]
    embedment: int
    adhesive: str
    skins: str


@dataclass(frozen=True)
class Small:
    """One small job: its first design, what each thing may be, what stands on it."""

    seed: int
    start: Params
    bars: tuple[str, ...]
    adhesives: tuple[str, ...]
    skins: tuple[str, ...]
    vary: tuple[str, ...]
    depth: int
    load: int
    limit: float

    def text(self, params: Params) -> str:
        """The job file of one design, written anew and not edited."""
        bar = HEIGHTS[params.bar]
        places = ", ".join(f'"back {sum(STUDS[k]) / 2:g}"' for k in params.studs)
        lists = [
            f"bars = {list(self.bars)}".replace("'", '"'),
            f"adhesives = {list(self.adhesives)}".replace("'", '"'),
            f"skins = {list(self.skins)}".replace("'", '"'),
            f"vary = {list(self.vary)}".replace("'", '"'),
        ]
        choose = "\n".join(lists)
        return f"""# A small shelf; seed {self.seed}
format = 1
units = "mm"
basis = "ec5"
words = "en-GB"
[job]
name = "Small {self.seed}"
sheets = "a4"
[[wall]]
id = "back"
tape_from = "left"
length = 1000
line = [[0, 10], [500, 10], [1000, 10]]
depth_to_wood = 12.5
studs = [{", ".join(str(list(each)) for each in STUDS)}]
framing = {{ of = "C16 38x89" }}
known = {{ how = "opened it", bearing = "no", services = "none" }}
[[shelf]]
id = "small"
top = 1400                          # over the table
depth = {self.depth}
legs = [{{ wall = "back", from = 20, to = 980 }}]
skins = "{params.skins}"
edging = {{ of = "tulipwood", thick = 10 }}
finish = {{ kind = "hardwax oil", coats = 2, sealer = "none" }}
back = "caulk"
lock = {{ kind = "grub screw" }}
[shelf.core]
of = "softwood"
thick = {bar + 1}
strip = 25
rib = 40
max_span = 300
[shelf.accepted]                    # invented for a test
by = "the engineer of the test"
on = 2026-11-16
rows = ["bed.edge", "stud.split", "stud.side", "bond.pull", "hold.pull", "skin.bear", "glue.peel", "skin.mouth"]
[shelf.rods]
stock = "{params.bar}"
embedment = {params.embedment}
projection = {self.depth - 45}
hole = {bar + 2}
adhesive = "{params.adhesive}"
clearance = {{ up = 1, side = 2, end = 15 }}
in_slot = "dry"
at = [{places}]
[[shelf.load]]
kind = "even"
id = "books"
weight = "{self.load} kg/m"
[shelf.limits]
drop_today = {self.limit}
drop_long = {2 * self.limit}
[shop]
glue = "pva d4"
people = 1
prices = "prices.toml"
[choose]
thick = [20, 80]
designs = 500
{choose}
[site]
temperature = "18 C"
"""

    def designs(self) -> Iterator[Params]:
        """Every design of the space, enumerated by hand."""
        start = self.start
        sets = [(0, 1, 2), (0, 1), (0, 2), (1, 2)]
        yield from (
            Params(bar, studs, deep, glue, skins)
            for bar, studs, deep, glue, skins in itertools.product(
                self.bars if "bar" in self.vary else (start.bar,),
                sets if "members" in self.vary else (start.studs,),
                (50, 60, 70, 80) if "embedment" in self.vary else (start.embedment,),
                self.adhesives if "adhesive" in self.vary else (start.adhesive,),
                self.skins if "skins" in self.vary else (start.skins,),
            )
        )


PAIRS = (
    ("bar", "members"),
    ("bar", "skins"),
    ("members", "embedment"),
    ("bar", "adhesive"),
    ("skins", "members"),
    ("bar", "embedment"),
    ("adhesive", "members"),
)
"""What two things are changed at a time."""


def small(seed: int) -> Small:
    """One of the small jobs."""
    rng = random.Random(seed)  # noqa: S311  # a fixed draw, no secret
    bars = tuple(rng.sample(sorted(HEIGHTS), 3))
    skins = tuple(rng.sample(["birch ply 9", "birch ply 12", "birch ply 15"], 2))
    adhesives = ("epoxy slow", "epoxy thickened")
    start = Params(
        rng.choice(bars),
        rng.choice([(0, 1, 2), (0, 2)]),
        rng.choice([60, 70]),
        rng.choice(adhesives),
        rng.choice(skins),
    )
    depth, load, limit = rng.choice([140, 160, 180]), rng.choice([6, 10]), rng.choice([1.5, 3.0])
    vary = PAIRS[seed % len(PAIRS)]
    return Small(seed, start, bars, adhesives, skins, vary, depth, load, limit)
