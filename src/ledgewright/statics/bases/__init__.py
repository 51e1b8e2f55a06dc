"""The design bases: each turns bars, timbers and forces into resistances, and sees no plan."""

from ledgewright.job import Basis
from ledgewright.statics.bases.ec5 import Ec5
from ledgewright.statics.bases.ec5.members import Ec5Members
from ledgewright.statics.bases.ec5.panels import Ec5Panels
from ledgewright.statics.bases.member_rules import Driven, MemberRules, Post, When
from ledgewright.statics.bases.nds import Nds
from ledgewright.statics.bases.nds.members import NdsMembers
from ledgewright.statics.bases.nds.panels import NdsPanels
from ledgewright.statics.bases.panel_rules import PanelRules, Sheeting, What
from ledgewright.statics.bases.rules import (
    Combination,
    Edge,
    Grip,
    Kind,
    Resistance,
    Rules,
    Situation,
)

__all__ = [
    "Combination",
    "Driven",
    "Ec5",
    "Ec5Members",
    "Ec5Panels",
    "Edge",
    "Grip",
    "Kind",
    "MemberRules",
    "Nds",
    "NdsMembers",
    "NdsPanels",
    "PanelRules",
    "Post",
    "Resistance",
    "Rules",
    "Sheeting",
    "Situation",
    "What",
    "When",
    "member_rules",
    "panel_rules",
    "rules",
]


def rules(basis: Basis) -> Rules:
    """Return the rules of a basis."""
    return Nds() if basis == "nds" else Ec5()


def member_rules(basis: Basis) -> MemberRules:
    """Return the rules of a basis for the timbers of the wall."""
    return NdsMembers() if basis == "nds" else Ec5Members()


def panel_rules(basis: Basis) -> PanelRules:
    """Return the rules of a basis for skins, core and the glue between."""
    return NdsPanels() if basis == "nds" else Ec5Panels()
