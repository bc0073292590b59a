"""Weight: what trimming takes off and parts put on, how it lies on two trucks, and what cars should weigh."""

from modelmath.enclosure.balance.masses import Mass, added, trimmed, weighed
from modelmath.enclosure.balance.materials import Density, densities, density
from modelmath.enclosure.balance.recommended import RecommendedWeight, recommended_weight
from modelmath.enclosure.balance.trucks import Loads, Support, loads
from modelmath.enclosure.balance.two_trucks import AIMS, Aim, Balance

__all__ = [
    "AIMS",
    "Aim",
    "Balance",
    "Density",
    "Loads",
    "Mass",
    "RecommendedWeight",
    "Support",
    "added",
    "densities",
    "density",
    "loads",
    "recommended_weight",
    "trimmed",
    "weighed",
]
