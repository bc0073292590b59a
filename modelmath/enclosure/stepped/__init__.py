"""The largest chamber whose floor has steps, and what each step buys."""

from modelmath.enclosure.stepped.chamber import FloorPlate, LevelFloor, Riser, SteppedChamber
from modelmath.enclosure.stepped.fit import fit_stepped
from modelmath.enclosure.stepped.gains import StepGain, what_steps_buy

__all__ = ["FloorPlate", "LevelFloor", "Riser", "StepGain", "SteppedChamber", "fit_stepped", "what_steps_buy"]
