"""A driver's missing parameters: derived by the published relations, or else bounded from what is usual.

Nothing is invented silently: a derived parameter names its relation, an estimated one its source, both have limits.
"""

from __future__ import annotations

from dataclasses import replace
from math import sqrt

from modelmath.errors import NotYetKnown
from modelmath.quantities.known import Known
from modelmath.quantities.text import told
from modelmath.sound.air import ROOM_AIR, Air
from modelmath.sound.driver.agreeing import check_agreement, check_size, outside_area_mm2
from modelmath.sound.driver.deriving import MASS, VOLUME, derived
from modelmath.sound.driver.driver import LABELS, Driver
from modelmath.sound.driver.estimates import Estimate, estimates

OUTSIDE, FROM_CONE = "from its outside size", "from its cone area"
MEASURING = "Measure it on the page Measure a speaker."
# What makes a parameter known, where it is no measurement of the impedance.
MAKES_KNOWN = {
    "impedance_ohm": "Read it on the speaker, or measure the resistance of its coil with a meter.",
    "re_ohm": "Measure it with a meter, less the resistance of the leads.",
    "sd_mm2": "Measure the cone from the middle of its surround to the middle opposite.",
    "xmax_mm": "Its data sheet states it.",
    "mms_g": "It follows once Vas is known. " + MEASURING,
}


def complete(driver: Driver, air: Air = ROOM_AIR) -> Driver:
    """Return a driver with every parameter known as far as it can be; what is known already stays as it is.

    Rated power and inductance stay unknown where they are: nothing bounds them. Complete the driver as it was given
    rather than one completed before: what was estimated then would count as known.

    Parameters
    ----------
    driver : Driver
        What is known of it. [-]
    air : Air
        The air. [-]

    Returns
    -------
    Driver
        With derived and estimated parameters, each marked so, with its relation or source and its limits. [-]

    Raises
    ------
    NotYetKnown
        If the cone's area follows from nothing that is known.
    OutOfRange
        If two parameters contradict each other by more than their limits and 3 %.

    References
    ----------
    R. H. Small, Closed-Box Loudspeaker Systems, J. Audio Eng. Soc. 20(10), 1972, for the relations;
    data/driver_estimates.csv for the limits of what is usual.

    Examples
    --------
    >>> sample = complete(Driver("sample", length_mm=15, width_mm=11, fs_hz=500, qes=1.0, qms=4.0))
    >>> sample.qts
    Known(value=0.8, low=0.8, high=0.8, origin='derived', why='1/Qts = 1/Qes + 1/Qms')
    >>> sample.sd_mm2.value, sample.sd_mm2.low, sample.sd_mm2.origin
    (99.0, 74.25, 'estimated')
    """
    check_agreement(driver, air)
    found = derived(driver, air)
    for step in (_coil, _cone, _losses, _travel):
        found = derived(step(found), air)
    return derived(_resonance_and_volume(found, air), air)


def assumed(driver: Driver) -> tuple[str, ...]:
    """Return a sentence for each estimated parameter: what was taken, its limits, its source, what makes it known.

    Parameters
    ----------
    driver : Driver
        A driver as `complete` returns it. [-]

    Returns
    -------
    tuple of str
        In the order of the parameters; none where nothing was estimated. [-]

    References
    ----------
    data/driver_estimates.csv.

    Examples
    --------
    >>> print(assumed(complete(Driver("sample", length_mm=15, width_mm=11, impedance_ohm=8)))[0])
    The voice coil resistance Re of the sample is taken as 7.04 ohm, from 5.6 ohm to 8 ohm (from its rated ...
    """
    return tuple(_sentence(driver, field, known) for field, known in driver.parameters if known.origin == "estimated")


def resonance_of_size(driver: Driver) -> Known | None:
    """Return the resonance that a driver's size lets expect: the larger, the lower.

    Parameters
    ----------
    driver : Driver
        The driver; without its outside size its cone area tells how large it is. [-]

    Returns
    -------
    Known or None
        Estimated; None where nothing tells how large it is. [Hz]

    References
    ----------
    data/driver_estimates.csv: common practice, no source.

    Examples
    --------
    >>> resonance_of_size(Driver("sample", length_mm=15, width_mm=11)).value
    550.0
    >>> round(resonance_of_size(Driver("sample", length_mm=40, width_mm=20)).value)
    292
    """
    area, cone, why = outside_area_mm2(driver), driver.known("sd_mm2"), OUTSIDE
    if area is None and cone is None:
        return None
    if area is None:
        assert cone is not None
        area, why = cone.value / _cone_ratio(driver).best, FROM_CONE
    table = estimates()
    of_area = table["outside area that the resonance fs goes with"].best
    power = table["power of the outside area that the resonance fs falls with"].best
    found = table["resonance fs"].known((of_area / area) ** power, why)
    return replace(found, why=f"{found.why}; other sizes times ({of_area:g} mm2 / outside area)^{power:g}")


def cone_of_size(driver: Driver) -> Known | None:
    """Return the cone area that a driver's outside size lets expect.

    Parameters
    ----------
    driver : Driver
        The driver. [-]

    Returns
    -------
    Known or None
        Estimated; None where its outside size is not known. [mm2]

    References
    ----------
    data/driver_estimates.csv: common practice, no source.

    Examples
    --------
    >>> cone_of_size(Driver("sample", length_mm=15, width_mm=11)).value
    99.0
    """
    area = outside_area_mm2(driver)
    return None if area is None else _cone_ratio(driver).known(area, OUTSIDE)


def _cone_ratio(driver: Driver) -> Estimate:
    return estimates()[f"cone area over outside area, {'round' if driver.round else 'oblong'}"]


def _sentence(driver: Driver, field: str, known: Known) -> str:
    """Return what an estimated parameter was taken as, and on what grounds."""
    label, _, aside = LABELS[field].partition(", ")
    what = f"The {label} of the {driver.name}{f', {aside},' if aside else ''} is taken as {told(known.value, field)}"
    limits = "without limits" if known.exact else f"from {told(known.low, field)} to {told(known.high, field)}"
    return f"{what}, {limits} ({known.why or 'an estimate of yours'}). {MAKES_KNOWN.get(field, MEASURING)}"


def _coil(driver: Driver) -> Driver:
    """Return it with the resistance of its coil and its rated impedance, one estimated from the other."""
    rated, coil = driver.known("impedance_ohm"), driver.known("re_ohm")
    ratio = estimates()["voice coil resistance over rated impedance"]
    if rated is None and coil is not None:
        most, least = coil.high / ratio.low, coil.low / ratio.high
        why = f"from its voice coil resistance: {ratio.source}"
        rated = Known(coil.value / ratio.best, least, most, "estimated", why)
    elif rated is None:
        rated = estimates()["rated impedance"].known()
    coil = coil or ratio.known(rated, "from its rated impedance")
    return driver.with_known(impedance_ohm=rated, re_ohm=coil)


def _cone(driver: Driver) -> Driver:
    """Return it with its cone's area, estimated from its outside size."""
    if driver.known("sd_mm2") is None:
        cone = cone_of_size(driver)
        if cone is None:
            raise NotYetKnown(f"the {LABELS['sd_mm2']} of the {driver.name}", "its outside size")
        driver = driver.with_known(sd_mm2=cone)
    check_size(driver)
    return driver


def _losses(driver: Driver) -> Driver:
    """Return it with two of its three Q known; the third follows."""
    mechanical, total, electrical = (driver.known(field) for field in ("qms", "qts", "qes"))
    apart = estimates()["least Qms over Qts"].best
    if mechanical is None:
        least = None if total is None else total.high * apart
        mechanical = estimates()["mechanical Qms"].narrowed(least=least).known()
        driver = driver.with_known(qms=mechanical)
    if total is None and electrical is None:
        driver = driver.with_known(qts=estimates()["total Qts"].narrowed(most=mechanical.low / apart).known())
    return driver


def _resonance_and_volume(driver: Driver, air: Air) -> Driver:
    """Return it with its resonance, and with what its volume follows from.

    Where the resonance is known, the mass per area of cone bounds the volume more closely than anything else. Where
    not, both keep their limits, and their best values go together: the volume is that of the usual mass, and where
    that would be beyond its limits the mass is that of the volume at its limit.
    """
    missing = [field for field in ("fs_hz", "vas_mm3", "mms_g") if driver.known(field) is None]
    area, resonance = driver.known("sd_mm2"), resonance_of_size(driver)
    assert area is not None
    assert resonance is not None
    mass = estimates()["moving mass over cone area"].known(area, FROM_CONE)
    if "fs_hz" not in missing:
        return driver.with_known(mms_g=mass) if len(missing) == 2 else driver
    driver = driver.with_known(fs_hz=resonance)
    if len(missing) == 3:
        volume = estimates()["equivalent volume over cone area"].known(area, FROM_CONE)
        volume = _with_best(volume, VOLUME.over(driver.with_known(mms_g=mass), air))
        driver = driver.with_known(vas_mm3=volume)
        driver = driver.with_known(mms_g=_with_best(mass, MASS.over(driver, air)))
    return driver


def _with_best(known: Known, best: Known) -> Known:
    """Return a parameter with another best value, as far as its own limits allow."""
    return replace(known, value=min(max(best.value, known.low), known.high))


def _travel(driver: Driver) -> Driver:
    """Return it with the travel of its cone, estimated from the cone's area."""
    area = driver.known("sd_mm2")
    if driver.known("xmax_mm") is not None or area is None:
        return driver
    size = Known(sqrt(area.value), sqrt(area.low), sqrt(area.high))
    travel = estimates()["cone travel over root of cone area"].known(size, FROM_CONE)
    return driver.with_known(xmax_mm=travel)
