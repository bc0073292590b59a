"""Sheet layouts: which flat part from which sheet, by lines that part a panel right across, scored and snapped."""

from modelmath.cutting.sheet_layout.layout import lay_out_sheet, least_height
from modelmath.cutting.sheet_layout.plan import (
    CutSheet,
    Offcut,
    PieceOfSheet,
    Placed,
    SheetPlan,
    SheetsToBuy,
    SheetVerdict,
    Snap,
)
from modelmath.cutting.sheet_layout.stock import SheetPart, SheetStock

__all__ = [
    "CutSheet",
    "Offcut",
    "PieceOfSheet",
    "Placed",
    "SheetPart",
    "SheetPlan",
    "SheetStock",
    "SheetVerdict",
    "SheetsToBuy",
    "Snap",
    "lay_out_sheet",
    "least_height",
]
