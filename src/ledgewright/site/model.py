"""May this wall be drilled: a `Drill` says where, a `Withheld` says what has to be found out first."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Hole:
    """One hole: taped distance from the hook end, both edges of the member, height, bit, depths (mm).

    edge: from its middle to the nearest edge of the wood. edge_sd: the doubt of that. block: of blocking, how high
    its lower and its upper edge lie.
    """

    rod: str
    mark: str
    member: str
    taped: float
    edges: tuple[float, float]
    up: float
    bit: float
    depth_in_wood: float
    depth_from_face: float
    stick_out: float
    cut_length: float
    edge: float = 0.0
    edge_sd: float = 0.0
    block: tuple[float, float] | None = None

    @property
    def wood(self) -> float:
        """The wood left between the hole and the nearest edge (mm), never less than none."""
        return max(0.0, self.edge - self.bit / 2)

    def sure_wood(self, times: float) -> float:
        """Return what of it is there with so many standard deviations of doubt off (mm).

        Args:
            times: standard deviations.
        """
        return max(0.0, self.wood - times * self.edge_sd)


@dataclass(frozen=True)
class Drill:
    """Leave to drill one wall for one shelf; nothing may print a hole without one."""

    wall: str
    evidence: str
    direction: str
    holes: tuple[Hole, ...]


@dataclass(frozen=True)
class Withheld:
    """No leave to drill: what has to be answered first."""

    wall: str
    questions: tuple[str, ...]


Leave = Drill | Withheld
