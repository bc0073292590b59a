"""Openings that a chamber's air gets out by, as an acoustic resistance and mass: holes, gaps and an open back."""

from __future__ import annotations

from dataclasses import dataclass
from math import asinh, hypot, pi, sqrt
from typing import Any, Literal

from modelmath.errors import OutOfRange
from modelmath.lengths.numbers import check_number
from modelmath.sound.air import ROOM_AIR, Air

MM = 1e-3
PISTON_END = 8 / (3 * pi)  # air that moves with each end of a round opening, in radii; Rayleigh, Beranek
STEADY_ENDS = 3 * pi / 8  # both ends of a round hole in steady flow, as more depth, in radii; Sampson 1891, Dagan 1982
SMALL = 0.05  # below it a series stands for 1 - tanh(x)/x, which would lose digits


@dataclass(frozen=True)
class Leak:
    """An opening in a chamber's wall.

    Attributes
    ----------
    words : str
        What it is, for a sentence. [-]
    shape : {"round", "flat", "wide"}
        How the air flows through: as in a tube, as between plates, or all of it alike without loss. [-]
    area_mm2 : float
        Its free area. [mm2]
    depth_mm : float
        How deep it is: thickness of the wall or width of the joint. [mm]
    across_mm : float
        Diameter of a round one, gap of a flat one; of a wide one the diameter of a circle of its area. [mm]
    ends_mm : float
        Depth of the air outside both ends that moves with it. [mm]
    air : Air
        The air. [-]

    References
    ----------
    L. L. Beranek, Acoustics, 1954: acoustic elements, narrow tubes and slits (from memory); I. B. Crandall, Theory of
    Vibrating Systems and Sound, 1926: the flow at any frequency (from memory).

    Examples
    --------
    >>> leak = hole(0.5, 1.0)
    >>> f"{leak.resistance:.2e} Pa s/m3, {leak.mass:.2e} kg/m4"
    '1.53e+07 Pa s/m3, 1.08e+04 kg/m4'
    """

    words: str
    shape: Literal["round", "flat", "wide"]
    area_mm2: float
    depth_mm: float
    across_mm: float
    ends_mm: float
    air: Air = ROOM_AIR

    @property
    def area_m2(self) -> float:
        """Free area. [m2]"""
        return self.area_mm2 * MM**2

    @property
    def resistance(self) -> float:
        """Pressure over volume flow where the flow is steady and slow; 0 for a wide one. [Pa s/m3]"""
        depth_m, across_m, viscosity = self.depth_mm * MM, self.across_mm * MM, self.air.viscosity_pa_s
        if self.shape == "round":
            radius_m = across_m / 2
            return 8 * viscosity * (depth_m + STEADY_ENDS * radius_m) / (pi * radius_m**4)
        return 12 * viscosity * depth_m / (self.area_m2 * across_m**2) if self.shape == "flat" else 0.0

    @property
    def mass(self) -> float:
        """Mass of the moving air over the square of the area, at low frequencies, ends included. [kg/m4]"""
        inside = {"round": 4 / 3, "flat": 6 / 5, "wide": 1.0}[self.shape]
        return self.air.density_kg_m3 * (inside * self.depth_mm + self.ends_mm) * MM / self.area_m2

    def impedance(self, f_hz: Any) -> Any:
        """Return pressure over volume flow at a frequency.

        Parameters
        ----------
        f_hz : float or array
            Frequency, above 0. [Hz]

        Returns
        -------
        complex or array
            Resistance, and mass times angular frequency as its imaginary part. [Pa s/m3]

        Notes
        -----
        Exact for a round tube and for a flat slit of any width against the boundary layer: no blend is needed. Where
        the layer, ``sqrt(2 mu / (rho omega))``, is thick against the opening, it is Poiseuille's flow, `resistance` and
        `mass`; where it is thin, the resistance is that of the layer, which grows with the root of the frequency. Holds
        where the depth is short against the wavelength, the air moves less far than the opening is wide (soft sounds),
        and the openings stand apart by more than their width. At the ends of a round hole the larger of the steady
        resistance and that of the layer on the wall around counts; a gap's ends count as mass only, so that its
        resistance is a little low, and the leak a little larger than it is.

        References
        ----------
        Crandall 1926; C. Zwikker and C. W. Kosten, Sound Absorbing Materials, 1949 (both from memory). Ends: R. A.
        Sampson 1891 (steady), U. Ingard 1953 (layer on the wall), from memory.

        Examples
        --------
        >>> leak = slot(60.0, 0.04, 2.0)
        >>> abs(leak.impedance(20.0).real / leak.resistance - 1) < 1e-3
        True
        """
        import numpy as np

        omega = 2 * pi * np.asarray(f_hz, float)
        inert = 1j * omega * self.air.density_kg_m3 / self.area_m2  # of each metre, moving as a plug
        found = inert * (self.depth_mm * _drag(self, omega) + self.ends_mm) * MM + _end_loss(self, omega)
        return found if found.ndim else complex(found)


def _drag(leak: Leak, omega: Any) -> Any:
    """Return how much more than a plug's mass the air in the passage counts, as a complex factor."""
    import numpy as np

    if leak.shape == "wide":
        return np.ones_like(omega)
    per_layer = np.sqrt(leak.air.density_kg_m3 * omega / leak.air.viscosity_pa_s) * (leak.across_mm / 2 * MM)
    if leak.shape == "round":
        from scipy.special import jve

        z = per_layer * np.sqrt(-1j)
        return -jve(0, z) / jve(2, z)  # 1 / (1 - 2 J1(z) / (z J0(z))), without the difference of near equals
    x = per_layer * np.sqrt(1j)
    series = x**2 / 3 - 2 * x**4 / 15 + 17 * x**6 / 315
    return 1 / np.where(abs(x) < SMALL, series, 1 - np.tanh(x) / x)


def _end_loss(leak: Leak, omega: Any) -> Any:
    import numpy as np

    if leak.shape != "round":
        return np.zeros_like(omega)
    viscosity, radius_m = leak.air.viscosity_pa_s, leak.across_mm / 2 * MM
    steady = 3 * viscosity / radius_m**3
    layer = np.sqrt(2 * viscosity * leak.air.density_kg_m3 * omega) / leak.area_m2
    return np.maximum(steady, layer)


def hole(diameter_mm: float, depth_mm: float, air: Air = ROOM_AIR) -> Leak:
    """Return a round hole through a wall.

    Parameters
    ----------
    diameter_mm : float
        Its diameter. [mm]
    depth_mm : float
        Thickness of the wall. [mm]
    air : Air
        The air. [-]

    Returns
    -------
    Leak
        ``R = 8 mu (l + 3 pi a / 8) / (pi a^4)``, ``M = rho (4/3 l + 2 * 8 a / (3 pi)) / (pi a^2)``. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If a size is no number above 0.

    References
    ----------
    Hagen and Poiseuille; Beranek, Acoustics, for the mass and its ends (from memory); Sampson 1891 and Dagan et al.
    1982 for the resistance of the ends (from memory).

    Examples
    --------
    >>> hole(2.0, 1.0).words
    'a hole of 2 mm'
    """
    _check("the diameter of the hole", diameter_mm)
    _check("the depth of the hole", depth_mm)
    radius = diameter_mm / 2
    words = f"a hole of {diameter_mm:.3g} mm"
    return Leak(words, "round", pi * radius**2, float(depth_mm), float(diameter_mm), 2 * PISTON_END * radius, air)


def slot(long_mm: float, gap_mm: float, depth_mm: float, air: Air = ROOM_AIR) -> Leak:
    """Return a long narrow gap, as along a joint.

    Parameters
    ----------
    long_mm : float
        Its length along the joint, not below the gap. [mm]
    gap_mm : float
        Its width. [mm]
    depth_mm : float
        How far the air goes through it: width of the joint. [mm]
    air : Air
        The air. [-]

    Returns
    -------
    Leak
        ``R = 12 mu l / (w h^3)``, ``M = rho (6/5 l + ends) / (w h)``. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If a size is no number above 0, or the gap is wider than long.

    References
    ----------
    Flow between plates, after Poiseuille; Beranek, Acoustics (from memory). Each end is the air that a rectangular
    piston moves in a wide wall, by the mean of 1/r over the rectangle.

    Examples
    --------
    >>> f"{slot(60.0, 0.04, 2.0).resistance:.2e}"
    '1.13e+08'
    """
    for name, size in (("length", long_mm), ("width", gap_mm), ("depth", depth_mm)):
        _check(f"the {name} of the gap", size)
    if gap_mm > long_mm:
        raise OutOfRange("the width of the gap", f"{gap_mm:g} mm", f"at most its length, {long_mm:g} mm", "Swap them.")
    words = f"a gap of {gap_mm:.2g} mm along {long_mm:.3g} mm"
    ends = 2 * _rectangle_end_mm(long_mm, gap_mm)
    return Leak(words, "flat", float(long_mm * gap_mm), float(depth_mm), float(gap_mm), ends, air)


def wire_hole(hole_mm: float, wire_mm: float, depth_mm: float, air: Air = ROOM_AIR) -> Leak:
    """Return what a wire leaves open of its hole.

    Parameters
    ----------
    hole_mm : float
        Diameter of the hole. [mm]
    wire_mm : float
        Diameter over the wire's insulation, below that of the hole. [mm]
    depth_mm : float
        Thickness of the wall. [mm]
    air : Air
        The air. [-]

    Returns
    -------
    Leak
        A gap as long as the ring's middle, half the difference wide. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If a size is no number above 0, or the wire does not go through.

    Notes
    -----
    The wire in the middle. To one side it lets through up to 2.5 times as much.

    References
    ----------
    Flow between plates; the ring's curve changes it by less than 2 % while the wire is more than half as wide as the
    hole. Off the middle: 1 + 1.5 e^2, handbooks of flow in rings, from memory.

    Examples
    --------
    >>> wire_hole(1.0, 0.5, 1.0).across_mm
    0.25
    """
    for name, size in (("hole's diameter", hole_mm), ("wire's diameter", wire_mm), ("hole's depth", depth_mm)):
        _check(f"the {name}", size)
    if wire_mm >= hole_mm:
        expected = f"below that of its hole, {hole_mm:g} mm"
        raise OutOfRange("the wire's diameter", f"{wire_mm:g} mm", expected, "Leave a hole out that its wire fills.")
    ring = slot(pi * (hole_mm + wire_mm) / 2, (hole_mm - wire_mm) / 2, depth_mm, air)
    words = f"a hole of {hole_mm:.3g} mm with a wire of {wire_mm:.3g} mm"
    return Leak(words, "flat", ring.area_mm2, ring.depth_mm, ring.across_mm, ring.ends_mm, air)


def open_back(area_mm2: float, depth_mm: float, air: Air = ROOM_AIR) -> Leak:
    """Return an opening so wide that the air passes without loss.

    Parameters
    ----------
    area_mm2 : float
        Its free area. [mm2]
    depth_mm : float
        Thickness of the wall. [mm]
    air : Air
        The air. [-]

    Returns
    -------
    Leak
        ``R = 0``, ``M = rho (l + 2 * 8 a / (3 pi)) / A``, with the radius of a circle as large. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If a size is no number above 0.

    References
    ----------
    Beranek, Acoustics: an opening with a wide wall at both ends (from memory).

    Examples
    --------
    >>> open_back(200.0, 1.0).resistance
    0.0
    """
    _check("the area of the open back", area_mm2)
    _check("the depth of the open back", depth_mm)
    radius = sqrt(area_mm2 / pi)
    words = f"a back open by {area_mm2:.3g} mm2"
    return Leak(words, "wide", float(area_mm2), float(depth_mm), 2 * radius, 2 * PISTON_END * radius, air)


def _check(name: str, size: float) -> None:
    check_number(name, size)
    if size <= 0:
        raise OutOfRange(name, f"{size:g}", "above 0", "Leave an opening out that is closed.")


def _rectangle_end_mm(long_mm: float, wide_mm: float) -> float:
    """Return the depth of air that moves with one end of a rectangle: its mean 1/r, times its area over 2 pi."""
    a, b, d = long_mm, wide_mm, hypot(long_mm, wide_mm)
    # a^3 + b^3 - d^3, written so that it keeps its digits where b is far below a
    cubes = b**3 - b**2 * (d**2 + d * a + a**2) / (d + a)
    both = 2 / 3 * (3 * a**2 * b * asinh(b / a) + 3 * a * b**2 * asinh(a / b) + cubes)
    return both / (2 * pi * a * b)
