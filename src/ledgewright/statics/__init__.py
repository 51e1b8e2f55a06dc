"""Whether it holds and how far it drops: checks with their derivations, drop, forces."""

from ledgewright.statics.around import LONG_SCREW, SET_SCREW
from ledgewright.statics.block_checks import goes_in
from ledgewright.statics.families import FAMILIES, Family
from ledgewright.statics.formula import Formula
from ledgewright.statics.given import Given
from ledgewright.statics.glance import first_look
from ledgewright.statics.holding import NotStood, edges, holds, put
from ledgewright.statics.inputs import NOMINAL, Inputs
from ledgewright.statics.limit import lacking, load_limit
from ledgewright.statics.member_checks import FROM_END
from ledgewright.statics.member_rows import carried_by
from ledgewright.statics.model import (
    CannotSay,
    Check,
    Drop,
    DropAt,
    Holds,
    Laid,
    LoadCase,
    LoadLimit,
    LoadPart,
    Mode,
    NoLimit,
    OnRod,
    Place,
    Rival,
    RodForce,
    RodLine,
    Scope,
    State,
    Step,
    Stop,
    Surface,
)
from ledgewright.statics.one_rod import HOTTEST, into
from ledgewright.statics.proof import (
    FOOTPRINT,
    MOST,
    WEEK,
    YIELD,
    Down,
    NoTest,
    Pile,
    Proof,
    Stage,
    Tried,
    asks,
    asks_of_all,
    proof,
    proofs,
    under,
    under_all,
)
from ledgewright.statics.rivals import rivals
from ledgewright.statics.row import OPEN
from ledgewright.statics.sampled import Falling, Loading
from ledgewright.statics.shared import OnMembers, on_members, together
from ledgewright.statics.shared_limit import Alone, limits_together
from ledgewright.statics.stand import Stood

__all__ = [
    "FAMILIES",
    "FOOTPRINT",
    "FROM_END",
    "HOTTEST",
    "LONG_SCREW",
    "MOST",
    "NOMINAL",
    "OPEN",
    "SET_SCREW",
    "WEEK",
    "YIELD",
    "Alone",
    "CannotSay",
    "Check",
    "Down",
    "Drop",
    "DropAt",
    "Falling",
    "Family",
    "Formula",
    "Given",
    "Holds",
    "Inputs",
    "Laid",
    "LoadCase",
    "LoadLimit",
    "LoadPart",
    "Loading",
    "Mode",
    "NoLimit",
    "NoTest",
    "NotStood",
    "OnMembers",
    "OnRod",
    "Pile",
    "Place",
    "Proof",
    "Rival",
    "RodForce",
    "RodLine",
    "Scope",
    "Stage",
    "State",
    "Step",
    "Stood",
    "Stop",
    "Surface",
    "Tried",
    "asks",
    "asks_of_all",
    "carried_by",
    "edges",
    "first_look",
    "goes_in",
    "holds",
    "into",
    "lacking",
    "limits_together",
    "load_limit",
    "on_members",
    "proof",
    "proofs",
    "put",
    "rivals",
    "together",
    "under",
    "under_all",
]
