"""Cut plans: how to get the parts from the strip on hand with little waste, and what is cut from sheet."""

from modelmath.cutting.plan import CutPlan, CutStrip
from modelmath.cutting.sheets import Blank, SheetStrip
from modelmath.cutting.stock import CutPart, CutStock, stock_of
from modelmath.cutting.strips import plan_cuts

__all__ = ["Blank", "CutPart", "CutPlan", "CutStock", "CutStrip", "SheetStrip", "plan_cuts", "stock_of"]
