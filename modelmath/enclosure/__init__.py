"""The space inside the shell: cavity, the largest chamber, its parts."""

from modelmath.enclosure.assemble import Place
from modelmath.enclosure.bodies import Box, Speaker
from modelmath.enclosure.cavity import Bay, Cavity, Zone, volume_mm3
from modelmath.enclosure.fit import Chamber, Enclosure, fit_enclosure
from modelmath.enclosure.limits import Limits
from modelmath.enclosure.obstacles import Obstacle
from modelmath.enclosure.parts import Part

__all__ = [
    "Bay",
    "Box",
    "Cavity",
    "Chamber",
    "Enclosure",
    "Limits",
    "Obstacle",
    "Part",
    "Place",
    "Speaker",
    "Zone",
    "fit_enclosure",
    "volume_mm3",
]
