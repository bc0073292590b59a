"""The space inside the shell: cavity, the largest chamber, its parts."""

from modelmath.enclosure.assemble import Place
from modelmath.enclosure.bodies import Box, Speaker, Way
from modelmath.enclosure.cavity import Bay, Cavity, Zone, volume_mm3
from modelmath.enclosure.fit import Chamber, Enclosure, fit_enclosure, fits
from modelmath.enclosure.fitting.pockets import Pocket
from modelmath.enclosure.limits import Limits
from modelmath.enclosure.obstacles import Obstacle
from modelmath.enclosure.parts import Part
from modelmath.enclosure.sections import Profile

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
    "Pocket",
    "Profile",
    "Speaker",
    "Way",
    "Zone",
    "fit_enclosure",
    "fits",
    "volume_mm3",
]
