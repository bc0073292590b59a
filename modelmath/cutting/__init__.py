"""Cut plans: how to get the parts from the strip on hand with little waste."""

from modelmath.cutting.plan import CutPart, CutPlan, CutStock, CutStrip, stock_of
from modelmath.cutting.strips import plan_cuts

__all__ = ["CutPart", "CutPlan", "CutStock", "CutStrip", "plan_cuts", "stock_of"]
