"""A design to drawings: plan, walls as faced, sections, core map, moves."""

from ledgewright.sheets.views.aside import at_back, lean_lines
from ledgewright.sheets.views.choosing import ROW, Axis, Effect, Spot, choice_view, effect_view
from ledgewright.sheets.views.clamps import clamp_view
from ledgewright.sheets.views.common import crossings, cuts, overall
from ledgewright.sheets.views.coremap import core_map_view, home, piece_numbers
from ledgewright.sheets.views.cover import cover_view
from ledgewright.sheets.views.elevation import elevation_view
from ledgewright.sheets.views.laid import laid_view
from ledgewright.sheets.views.moves import move_view
from ledgewright.sheets.views.plan import plan_view, whole_plan_view
from ledgewright.sheets.views.playing import playing_view
from ledgewright.sheets.views.section import section_view, stations
from ledgewright.sheets.views.shape import drop_view, forces_view
from ledgewright.sheets.views.sheetlayout import sheet_view
from ledgewright.sheets.views.standing import hands, hung
from ledgewright.sheets.views.stretch import stretches, within
from ledgewright.sheets.views.sureness import Bar, Told, sure_view
from ledgewright.sheets.views.ways import option_view, room_view, scribe_view, way_view

__all__ = [
    "ROW",
    "Axis",
    "Bar",
    "Effect",
    "Spot",
    "Told",
    "at_back",
    "choice_view",
    "clamp_view",
    "core_map_view",
    "cover_view",
    "crossings",
    "cuts",
    "drop_view",
    "effect_view",
    "elevation_view",
    "forces_view",
    "hands",
    "home",
    "hung",
    "laid_view",
    "lean_lines",
    "move_view",
    "option_view",
    "overall",
    "piece_numbers",
    "plan_view",
    "playing_view",
    "room_view",
    "scribe_view",
    "section_view",
    "sheet_view",
    "stations",
    "stretches",
    "sure_view",
    "way_view",
    "whole_plan_view",
    "within",
]
