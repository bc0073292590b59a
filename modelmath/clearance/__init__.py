"""Stack-ups, their chance of touching, and the part size that keeps a clearance."""

from modelmath.clearance.allowance import Marks, SizeAtMark, largest_at_mark, smallest_at_mark
from modelmath.clearance.choice import AfterChoice, AnyTouches, chance_after_choice, chance_of_any
from modelmath.clearance.distribution import Distribution
from modelmath.clearance.draws import Quantity
from modelmath.clearance.joint import deviations_together
from modelmath.clearance.simulated import Frequency, Simulated
from modelmath.clearance.simulation import simulate, simulate_until_stable
from modelmath.clearance.stack import Stack, Term

__all__ = [
    "AfterChoice",
    "AnyTouches",
    "Distribution",
    "Frequency",
    "Marks",
    "Quantity",
    "Simulated",
    "SizeAtMark",
    "Stack",
    "Term",
    "chance_after_choice",
    "chance_of_any",
    "deviations_together",
    "largest_at_mark",
    "simulate",
    "simulate_until_stable",
    "smallest_at_mark",
]
