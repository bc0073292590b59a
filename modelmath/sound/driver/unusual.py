"""What of a speaker is so far from others of its size that its number or its unit may be wrong."""

from __future__ import annotations

from math import sqrt

from modelmath.quantities.known import Known
from modelmath.quantities.text import told
from modelmath.sound.driver.completing import cone_of_size, resonance_of_size
from modelmath.sound.driver.driver import LABELS, Driver
from modelmath.sound.driver.estimates import estimates

TIMES = 2.0  # this far outside of what is usual something is likelier to be mistaken than unusual; house rule
OF_ITS_SIZE = "speakers of its size"
NAMES = {
    "impedance_ohm": "A rated impedance", "re_ohm": "A voice coil resistance Re", "fs_hz": "A resonance",
    "qms": "A mechanical Qms", "qts": "A total Qts", "vas_mm3": "An equivalent volume Vas",
    "xmax_mm": "A cone travel Xmax, one way,", "le_mh": "A voice coil inductance Le",
}  # fmt: skip
assert set(NAMES) < set(LABELS)


def unusual(driver: Driver) -> tuple[str, ...]:
    """Return a sentence for each parameter that is far from what is usual, so that its unit is looked at again.

    Parameters
    ----------
    driver : Driver
        What is known of it; what was derived from the rest is left alone. [-]

    Returns
    -------
    tuple of str
        In the order of the parameters; none where nothing is more than 2 times outside the limits of the estimates,
        or where its size does not tell them. [-]

    References
    ----------
    data/driver_estimates.csv.

    Examples
    --------
    >>> unusual(Driver("sample", length_mm=15, width_mm=11, fs_hz=5000, qts=0.8))
    ('A resonance of 5000 Hz is far above what speakers of its size have, 300 to 1000 Hz: check its unit.',)
    """
    found = []
    usual = _usual(driver)
    for field, known in driver.parameters:
        if field in usual and known.origin != "derived":
            found.append(_sentence(field, known, *usual[field]))
    return tuple(each for each in found if each)


def _usual(driver: Driver) -> dict[str, tuple[float, float, str]]:
    """Return the limits of what is usual, and in what speakers, by field."""
    table = estimates()
    rated, coil = table["rated impedance"], table["voice coil resistance over rated impedance"]
    found = {
        "impedance_ohm": (rated.low, rated.high, "small speakers"),
        "re_ohm": (rated.low * coil.low, rated.high * coil.high, "small speakers"),
    }
    resonance, cone = resonance_of_size(driver), driver.known("sd_mm2") or cone_of_size(driver)
    if resonance is not None:
        found["fs_hz"] = (resonance.low, resonance.high, OF_ITS_SIZE)
    for field, name in (("qms", "mechanical Qms"), ("qts", "total Qts")):
        found[field] = (table[name].low, table[name].high, "small speakers")
    if cone is not None:
        volume = table["equivalent volume over cone area"].known(cone)
        travel = table["cone travel over root of cone area"]
        found["vas_mm3"] = (volume.low, volume.high, OF_ITS_SIZE)
        found["xmax_mm"] = (travel.low * sqrt(cone.low), travel.high * sqrt(cone.high), OF_ITS_SIZE)
    # Small coils may have next to none, and nothing follows from it here; above this its unit is mistaken.
    found["le_mh"] = (0.0, table["greatest voice coil inductance"].best / TIMES, "small speakers")
    return found


def _sentence(field: str, known: Known, low: float, high: float, what: str) -> str:
    """Return what is unusual about a parameter; nothing where it is not."""
    if known.low > high * TIMES:
        way = "above"
    elif known.high * TIMES < low:
        way = "below"
    else:
        return ""
    span = f"{_plain(low, field)} to {told(high, field)}" if low else f"{told(high * TIMES, field)} at most"
    check = "the number" if field in ("qms", "qts") else "its unit"
    return f"{NAMES[field]} of {told(known.value, field)} is far {way} what {what} have, {span}: check {check}."


def _plain(value: float, field: str) -> str:
    return told(value, field).partition(" ")[0]
