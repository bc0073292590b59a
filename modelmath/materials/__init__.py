"""Strip, drills and the drawer: what there is to build from, and which of it to take."""

from modelmath.materials.drawer._on_hand import Held, OnHand
from modelmath.materials.drawer.shape import StockShape
from modelmath.materials.drawer.sheet import StockSheet
from modelmath.materials.drawer.strip import StockStrip
from modelmath.materials.drills.bundles import Bundle, bundle_mm, bundle_of
from modelmath.materials.drills.holes import PassingHole, hole_for
from modelmath.materials.drills.names import NearDrills, drill, nearest_drills
from modelmath.materials.drills.sets import DRILL_SETS, Drill, DrillPick, drill_set, number_drills, pick_drill
from modelmath.materials.drills.wire import Wire, awg, nearest_awg
from modelmath.materials.picking.by_use import StripPick, pick_strips
from modelmath.materials.picking.laminate import Lamination, laminate
from modelmath.materials.picking.sets import SetPart, pick_for_set
from modelmath.materials.picking.shim_heights import shim_for_height
from modelmath.materials.picking.shims import Shim, ShimPack, shim_up
from modelmath.materials.picking.wanted import USES
from modelmath.materials.sections.equivalents import Equivalent, Represented, equivalents, represents
from modelmath.materials.sections.readings import AmbiguousName
from modelmath.materials.sections.series import strip_series
from modelmath.materials.sections.shapes import SHAPES, Section, parse_section, parse_stock
from modelmath.materials.sections.sheet_names import parse_sheet
from modelmath.materials.sections.sheets import Sheet, pick_sheets
from modelmath.materials.sections.strips import SERIES, Strip, parse_strip

__all__ = [
    "DRILL_SETS",
    "SERIES",
    "SHAPES",
    "USES",
    "AmbiguousName",
    "Bundle",
    "Drill",
    "DrillPick",
    "Equivalent",
    "Held",
    "Lamination",
    "NearDrills",
    "OnHand",
    "PassingHole",
    "Represented",
    "Section",
    "SetPart",
    "Sheet",
    "Shim",
    "ShimPack",
    "StockShape",
    "StockSheet",
    "StockStrip",
    "Strip",
    "StripPick",
    "Wire",
    "awg",
    "bundle_mm",
    "bundle_of",
    "drill",
    "drill_set",
    "equivalents",
    "hole_for",
    "laminate",
    "nearest_awg",
    "nearest_drills",
    "number_drills",
    "parse_section",
    "parse_sheet",
    "parse_stock",
    "parse_strip",
    "pick_drill",
    "pick_for_set",
    "pick_sheets",
    "pick_strips",
    "represents",
    "shim_for_height",
    "shim_up",
    "strip_series",
]
