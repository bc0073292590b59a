"""The equivalent volume Vas from two sweeps: in free air, and in a test box or with a mass added to the cone."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, pi
from typing import Any, TypeAlias

from uncertainties import nominal_value, ufloat

from modelmath.errors import OutOfRange, WrongKind
from modelmath.quantities.known import Known
from modelmath.sound.air import ROOM_AIR, Air
from modelmath.sound.driver.relations import GRAM, MM2, MM3
from modelmath.sound.measuring.estimate import Estimate
from modelmath.sound.measuring.fit import SweepFit

FREE, OTHER = "the sweep in free air", "the other sweep"
Uncertain: TypeAlias = Any  # a float, or an uncertain number


@dataclass(frozen=True)
class AddedMass:
    """What a mass added to the cone tells.

    Attributes
    ----------
    mms_g : Estimate
        Moving mass without it. [g]
    cms_mm_n : Estimate
        Compliance of the suspension. [mm/N]
    vas_mm3 : Estimate
        Equivalent volume. [mm3]

    References
    ----------
    R. H. Small, 1972.
    """

    mms_g: Estimate
    cms_mm_n: Estimate
    vas_mm3: Estimate


def vas_by_test_box(fit_free: SweepFit, fit_boxed: SweepFit, volume_mm3: Uncertain) -> Estimate:
    """Return the equivalent volume from a sweep in free air and one on a sealed, empty box of known volume.

    It needs no moving mass, and the air that loads the cone may differ between the two.

    Parameters
    ----------
    fit_free, fit_boxed : SweepFit
        The sweep in free air, and that on the box. [-]
    volume_mm3 : float or uncertain number
        Net volume of the box, with the space behind the cone. [mm3]

    Returns
    -------
    Estimate
        Vas. [mm3]

    Raises
    ------
    OutOfRange
        If the resonance in the box is not above that in free air, or the volume is not above 0.
    NotYetKnown
        If a sweep gave no parameters.
    WrongKind
        If the volume is no number.

    References
    ----------
    R. H. Small, Closed-Box Loudspeaker Systems, J. Audio Eng. Soc. 20(10), 1972: Vas = Vb (fc Qec / (fs Qes) - 1).
    Effective degrees of freedom: JCGM 100:2008, G.4.1.
    """
    volume = _positive("the volume of the test box", volume_mm3, "mm3", "Write its net volume, such as 20000 mm3.")
    (fs, qes), (fc, qec) = fit_free.uncertain(FREE), fit_boxed.uncertain(OTHER)
    remedy = "Check that the box is sealed and that the two sweeps are not swapped; then sweep both again."
    expected = f"above that in free air, {fs.n:.4g} Hz"
    if fc.n <= fs.n:
        raise OutOfRange("the resonance in the test box", f"{fc.n:.4g} Hz", expected, remedy)
    ratio = fc * qec / (fs * qes)
    if ratio.n <= 1:
        raise OutOfRange(
            "fc Qec in the test box", f"{fc.n * qec.n:.4g} Hz", f"above fs Qes, {fs.n * qes.n:.4g} Hz", remedy
        )
    return _estimate(volume * (ratio - 1), fit_free, fit_boxed)


def vas_by_added_mass(
    fit_free: SweepFit, fit_loaded: SweepFit, mass_g: Uncertain, sd_mm2: Uncertain, air: Air = ROOM_AIR
) -> AddedMass:
    """Return moving mass, compliance and equivalent volume from a sweep in free air and one with a mass on the cone.

    Parameters
    ----------
    fit_free, fit_loaded : SweepFit
        The sweep in free air, and that with the mass, both in free air. [-]
    mass_g : float or uncertain number
        The mass added. [g]
    sd_mm2 : float or uncertain number
        Effective area of the cone. [mm2]
    air : Air
        The air. [-]

    Returns
    -------
    AddedMass
        Moving mass, compliance and Vas. [g, mm/N, mm3]

    Raises
    ------
    OutOfRange
        If the resonance with the mass is not below that without, or the mass or the area is not above 0.
    NotYetKnown
        If a sweep gave no parameters.
    WrongKind
        If mass or area is no number.

    References
    ----------
    A mass on a spring: Mms = dm / ((fs/fm)^2 - 1), Cms = 1 / ((2 pi fs)^2 Mms). Small 1972: Vas = rho c^2 Sd^2 Cms.
    """
    mass = _positive("the mass added", mass_g, "g", "Write what it weighs, such as 0.2 g.")
    area = _positive("the cone area Sd", sd_mm2, "mm2", "Write the cone with half its surround, such as 90 mm2.")
    (fs, _), (fm, _) = fit_free.uncertain(FREE), fit_loaded.uncertain(OTHER)
    if fm.n >= fs.n:
        expected = f"below that without it, {fs.n:.4g} Hz"
        remedy = (
            "Check that the mass moves with the cone and that the two sweeps are not swapped; then sweep both again."
        )
        raise OutOfRange("the resonance with the mass added", f"{fm.n:.4g} Hz", expected, remedy)
    mms = mass / ((fs / fm) ** 2 - 1)
    compliance = 1 / ((2 * pi * fs) ** 2 * mms * GRAM)
    vas = air.stiffness_pa * (area * MM2) ** 2 * compliance / MM3
    return AddedMass(*(_estimate(each, fit_free, fit_loaded) for each in (mms, compliance * 1000, vas)))


def uncertain_of(known: Known) -> Any:
    """Return a quantity with limits as an uncertain number: as likely anywhere between them.

    Parameters
    ----------
    known : Known
        The quantity. [its own unit]

    Returns
    -------
    float or uncertain number
        Its middle, with the half width over sqrt(3); a plain number where it has no limits. [its own unit]

    References
    ----------
    JCGM 100:2008, 4.3.7.

    Examples
    --------
    >>> round(uncertain_of(Known.of(20.0, within=0.3)).s, 4)
    0.1732
    """
    if known.exact:
        return known.value
    return ufloat((known.low + known.high) / 2, (known.high - known.low) / 2 / 3**0.5)


def _positive(name: str, given: Any, unit: str, remedy: str) -> Any:
    """Return a quantity as it is, if it is a number above 0."""
    if isinstance(given, bool) or not (isinstance(given, (int, float)) or hasattr(given, "std_dev")):
        raise WrongKind(name, repr(given), f"a number of {unit}, or an uncertain number", remedy)
    value = nominal_value(given)
    if not 0 < value < inf:
        raise OutOfRange(name, f"{value:g} {unit}", "above 0 and finite", remedy)
    return given


def _estimate(value: Any, fit_free: SweepFit, fit_other: SweepFit) -> Estimate:
    """Return an uncertain number with the degrees of freedom that the two sweeps leave it."""
    freedom = {FREE: fit_free.dof, OTHER: fit_other.dof}
    variances: dict[str, float] = {}
    for variable, part in value.error_components().items():
        variances[variable.tag] = variances.get(variable.tag, 0.0) + part**2
    spent = sum(variance**2 / freedom[tag] for tag, variance in variances.items() if tag in freedom)
    dof = sum(variances.values()) ** 2 / spent if spent else inf
    return Estimate.of_ratio(value.n, value.s / value.n, dof)
