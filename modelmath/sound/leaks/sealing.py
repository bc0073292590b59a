"""How tight a chamber must be: the largest hole and gap that do no harm, each by itself."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import sqrt

from modelmath.errors import OutOfRange
from modelmath.sound.air import ROOM_AIR, Air
from modelmath.sound.driver.driver import Driver
from modelmath.sound.leaks.circuit import Circuit
from modelmath.sound.leaks.leak import Leak, hole, slot

LEAST_QL = 20.0  # common practice, no source: well above the 5 to 20 that wooden boxes have
MOST_SHIFT = 0.05  # of the -3 dB point: less than a driver's own spread
SMALLEST_MM, LARGEST_MM, STEP, HALVINGS = 1e-3, 100.0, 1.25, 24


@dataclass(frozen=True)
class Sealing:
    """What to seal.

    Attributes
    ----------
    hole_mm : float
        Largest round hole that may stay open. [mm]
    hole_depth_mm : float
        Thickness of its wall. [mm]
    gap_mm : float
        Widest gap that may stay open along the whole joint. [mm]
    joint_mm, joint_depth_mm : float
        Length of the joint, and how far the air goes through it. [mm]
    fc_hz, f3_hz : float
        Resonance and -3 dB point of the chamber without leaks. [Hz]
    most_shift : float
        How far the -3 dB point may move, either way, over where it is. [-]
    least_ql : float
        The least Ql at the resonance. [-]
    air : Air
        The air. [-]

    References
    ----------
    See `sealing`.
    """

    hole_mm: float
    hole_depth_mm: float
    gap_mm: float
    joint_mm: float
    joint_depth_mm: float
    fc_hz: float
    f3_hz: float
    most_shift: float = MOST_SHIFT
    least_ql: float = LEAST_QL
    air: Air = ROOM_AIR

    @property
    def largest_hole(self) -> Leak:
        """The largest hole, as a leak. [-]"""
        return hole(self.hole_mm, self.hole_depth_mm, self.air)

    @property
    def largest_gap(self) -> Leak:
        """The widest gap, as a leak. [-]"""
        return slot(self.joint_mm, self.gap_mm, self.joint_depth_mm, self.air)

    @property
    def in_words(self) -> str:
        """What to do, in two sentences. [-]"""
        return (
            f"Seal every gap wider than {self.gap_mm:.2g} mm along the {self.joint_mm:.3g} mm of joint and every hole "
            f"wider than {self.hole_mm:.2g} mm; fill the wire hole all round its wires. "
            f"Each alone, at that size, moves the -3 dB point of {self.f3_hz:.0f} Hz by {100 * self.most_shift:.2g} % "
            f"or brings Ql down to {self.least_ql:.3g}; where there are several, make each smaller."
        )


def sealing(
    driver: Driver,
    volume_mm3: float,
    *,
    joint_mm: float,
    joint_depth_mm: float = 1.0,
    hole_depth_mm: float = 1.0,
    most_shift: float = MOST_SHIFT,
    least_ql: float = LEAST_QL,
    air: Air = ROOM_AIR,
) -> Sealing:
    """Return the largest hole and gap that a chamber may keep.

    Parameters
    ----------
    driver : Driver
        Its parameters; what is missing is completed; the best values count. [-]
    volume_mm3 : float
        The chamber. [mm3]
    joint_mm : float
        Length of all joints together. [mm]
    joint_depth_mm : float
        How far the air goes through a joint: the thickness of the wall. [mm]
    hole_depth_mm : float
        Thickness of the wall that a hole goes through. [mm]
    most_shift : float
        How far the -3 dB point may move, either way, over where it is. [-]
    least_ql : float
        The least Ql at the resonance. [-]
    air : Air
        The air. [-]

    Returns
    -------
    Sealing
        In numbers and words. [-]

    Raises
    ------
    NotYetKnown, OutOfRange, WrongKind
        As `leaky_response`; if a limit is not above 0; if the chamber is so large that nothing up to 100 mm matters.

    Notes
    -----
    Both must hold: the -3 dB point, which a wide hole moves by the mass of its air, and Ql, which a narrow gap lowers.

    References
    ----------
    `Circuit.cutoff_hz` and `Circuit.ql`, bisected.

    Examples
    --------
    >>> sample = Driver("sample", fs_hz=500, qes=1, qms=4, vas_mm3=2000, sd_mm2=100, re_ohm=7)
    >>> found = sealing(sample, 8000.0, joint_mm=60)
    >>> round(found.hole_mm, 2), round(found.gap_mm, 3)
    (0.43, 0.033)
    """
    for name, limit in (("the shift of the -3 dB point", most_shift), ("the least Ql", least_ql)):
        if not limit > 0:
            raise OutOfRange(name, f"{limit:g}", "above 0", "Leave it out for the usual one.")
    circuit = Circuit.of(driver, volume_mm3, air)
    f3_hz = circuit.cutoff_hz(())

    def harmless(leak: Leak) -> bool:
        return circuit.ql([leak]) >= least_ql and abs(circuit.cutoff_hz([leak]) / f3_hz - 1) <= most_shift

    hole_mm = _largest(lambda size: harmless(hole(size, hole_depth_mm, air)), LARGEST_MM)
    gap_mm = _largest(lambda size: harmless(slot(joint_mm, size, joint_depth_mm, air)), joint_mm)
    sizes = (hole_mm, float(hole_depth_mm), gap_mm, float(joint_mm), float(joint_depth_mm))
    return Sealing(*sizes, circuit.fc_hz, f3_hz, most_shift, least_ql, air)


def _largest(harmless: Callable[[float], bool], most_mm: float) -> float:
    """Return the size up to which all are harmless: the first harmful one of growing steps, then bisected.

    A larger hole may move the -3 dB point back to where it was, as a vent; so the first that harms counts.
    """
    good, bad = 0.0, SMALLEST_MM
    while harmless(bad):
        good, bad = bad, bad * STEP
        if bad > most_mm:
            given = f"so large, or the joint so short, that an opening of {good:.3g} mm does no harm"
            raise OutOfRange("the chamber", given, "a small closed one", "Check its volume and the joint's length.")
    if good == 0.0:
        given = f"so sensitive that a leak of {SMALLEST_MM:g} mm harms it"
        raise OutOfRange("the chamber", given, "one that a tight joint seals", "Check its volume and the limits.")
    for _ in range(HALVINGS):
        middle = sqrt(good * bad)
        good, bad = (middle, bad) if harmless(middle) else (good, middle)
    return good
