"""The largest chamber whose floor has steps, what each step buys, and the pieces it is made of."""

from modelmath.enclosure.stepped.asked import why_no_steps
from modelmath.enclosure.stepped.chamber import FloorPlate, LeftOut, LevelFloor, Riser, SteppedChamber
from modelmath.enclosure.stepped.fit import LEAST_RISER_MM, fit_stepped
from modelmath.enclosure.stepped.gains import StepGain, what_steps_buy
from modelmath.enclosure.stepped.pieces import SteppedPieces, pieces_of

__all__ = [
    "LEAST_RISER_MM",
    "FloorPlate",
    "LeftOut",
    "LevelFloor",
    "Riser",
    "StepGain",
    "SteppedChamber",
    "SteppedPieces",
    "fit_stepped",
    "pieces_of",
    "what_steps_buy",
    "why_no_steps",
]
