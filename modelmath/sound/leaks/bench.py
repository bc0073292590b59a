"""The leak test as it is done at the bench: its numbers, its limit, its steps and its cautions."""

from __future__ import annotations

from dataclasses import dataclass
from math import floor, log10

from modelmath.lengths.text import to_digits

SEEN_S = 2.0  # a fall that takes less can't be timed by eye; common practice, no source
SPILL, SHORTEST_ARM_MM = 2.0, 40.0  # the U-tube spills at so many times the test's pressure; a shorter one is fiddly
CAUTIONS = (
    "Gentle pressure only, from the syringe: never blow by mouth or with an air line.",
    "No flame and no smoke: plastics, cement and its vapour burn.",
    "Keep water and soap off the speaker, the decoder and bare wires, and dry the joints before any power.",
    "Hang the U-tube lower than the chamber, so that its water can't run in.",
    "Let cement cure as its label says before the test.",
)


@dataclass(frozen=True)
class LeakTest:
    """A test with a syringe and a U-tube of water on a soft tube in the wire hole.

    Attributes
    ----------
    pressure_mm_water : float
        Pressure to test at, as the difference of the levels. [mm]
    allowed_mm_water : float
        Pressure that moves the cone as far as Xmax. [mm]
    to_limit_ml : float
        Air that brings a chamber without any leak, with the U-tube on it, to that pressure. [ml]
    estimated : tuple of str
        What that pressure rests on and is only estimated. [-]
    tight_ml_s : float
        Flow that keeps the pressure up, below which the chamber is tight enough. [ml/s]
    leaky_ml_s : float
        Flow above which it is not, whatever the opening's shape. [ml/s]
    syringe_ml : float
        What the syringe holds. [ml]
    bore_mm : float
        Bore of the U-tube. [mm]
    fall_s : float
        Time in which the difference falls by half, with the syringe shut off, above which it is tight enough. [s]
    bore_to_see_mm : float
        Bore at which that time would be 2 s. [mm]

    References
    ----------
    See `modelmath.sound.leaks.finding.leak_test`.
    """

    pressure_mm_water: float
    allowed_mm_water: float
    to_limit_ml: float
    estimated: tuple[str, ...]
    tight_ml_s: float
    leaky_ml_s: float
    syringe_ml: float
    bore_mm: float
    fall_s: float
    bore_to_see_mm: float

    @property
    def syringe_s(self) -> float:
        """How long the syringe must last for the chamber to be tight enough. [s]"""
        return self.syringe_ml / self.tight_ml_s

    @property
    def leaky_s(self) -> float:
        """A syringe that is empty sooner shows that it is not. [s]"""
        return self.syringe_ml / self.leaky_ml_s

    @property
    def spills_mm_water(self) -> float:
        """Difference of the levels at which the cut U-tube spills, never above what the cone stands. [mm]"""
        return spills_mm_water(self.pressure_mm_water, self.allowed_mm_water)

    @property
    def limit(self) -> str:
        """How far the cone may be pushed, what that rests on, and how little air does it. [-]"""
        rests = f", by an estimated {' and '.join(self.estimated)}" if self.estimated else ""
        return (
            f"Never more than {_below(self.allowed_mm_water)} mm of water: it would push the cone beyond its travel"
            f"{rests}. In a tight chamber {_below(self.to_limit_ml)} ml pushed in is enough for it."
        )

    @property
    def safeguard(self) -> str:
        """How to make the U-tube so that no slip of the hand goes on beyond that. [-]"""
        arm = _below(self.spills_mm_water)
        half = f"{float(arm) / 2:g}"
        return (
            f"So take a U-tube of {to_digits(self.bore_mm)} mm bore, cut its open arm off {arm} mm above the lowest "
            f"point inside its bend, and fill it to half of that: {half} mm above the still level it spills, and the "
            "air bubbles out."
        )

    @property
    def steps(self) -> tuple[str, ...]:
        """What to do, in order, the limit and the safeguard first. [-]"""
        height, syringe = f"{to_digits(self.pressure_mm_water)} mm", f"{self.syringe_ml:.3g} ml"
        fall = (
            f"Shut the syringe off: if the difference takes more than {self.fall_s:.2g} s to fall by half, the chamber "
            "is tight enough."
            if self.fall_s >= SEEN_S
            else "Shut the syringe off: a fall that is slow enough to watch shows a chamber tighter than need be."
        )
        tight, leaky = to_digits(self.syringe_s), to_digits(self.leaky_s)
        between = "" if tight == leaky else "; between, seal what you find and test again"
        timed = (
            f"Time the syringe from full to empty: {tight} s or more, and the chamber is tight enough; under {leaky} s "
            f"it leaks more than it may{between}."
        )
        return (
            f"{self.limit} {self.safeguard}",
            f"Put a soft tube in the wire hole, seal round it, and join it to the U-tube and a full {syringe} syringe.",
            f"Press the syringe slowly until the levels differ by {height}, no more, and keep them so.",
            f"{timed} {fall}",
            "To find the place, brush soapy water on the outside of the joints while the pressure holds: it bubbles.",
            "Take the tube out and seal the wires into their hole: that place the test did not see.",
        )

    @property
    def in_words(self) -> str:
        """Steps and cautions. [-]"""
        return " ".join((*self.steps, *CAUTIONS))


def spills_mm_water(pressure_mm_water: float, allowed_mm_water: float) -> float:
    """Return the difference of the levels at which a U-tube is to spill.

    Parameters
    ----------
    pressure_mm_water, allowed_mm_water : float
        What it is tested at, and what the cone stands. [mm]

    Returns
    -------
    float
        Twice the one, at least 40 mm, never above the other. [mm]

    References
    ----------
    House rule.

    Examples
    --------
    >>> spills_mm_water(30, 280), spills_mm_water(5, 15)
    (60.0, 15)
    """
    return min(max(SPILL * pressure_mm_water, SHORTEST_ARM_MM), allowed_mm_water)


def _below(value: float) -> str:
    """Return a number to two digits, rounded down so that it is no more than what is allowed."""
    step = 10.0 ** (floor(log10(value)) - 1)
    return f"{floor(value / step + 1e-9) * step:.12g}"
