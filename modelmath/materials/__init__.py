"""Strip, drills and the drawer: what there is to build from, and which of it to take."""

from modelmath.materials.drawer._on_hand import Held, OnHand
from modelmath.materials.drawer.sheet import StockSheet
from modelmath.materials.drawer.strip import StockStrip
from modelmath.materials.drills.sets import DRILL_SETS, Drill, DrillPick, drill_set, number_drills, pick_drill
from modelmath.materials.picking.by_use import StripPick, pick_strips
from modelmath.materials.picking.wanted import USES
from modelmath.materials.sections.series import strip_series
from modelmath.materials.sections.sheet_names import parse_sheet
from modelmath.materials.sections.sheets import Sheet, pick_sheets
from modelmath.materials.sections.strips import SERIES, Strip, parse_strip

__all__ = [
    "DRILL_SETS",
    "SERIES",
    "USES",
    "Drill",
    "DrillPick",
    "Held",
    "OnHand",
    "Sheet",
    "StockSheet",
    "StockStrip",
    "Strip",
    "StripPick",
    "drill_set",
    "number_drills",
    "parse_sheet",
    "parse_strip",
    "pick_drill",
    "pick_sheets",
    "pick_strips",
    "strip_series",
]
