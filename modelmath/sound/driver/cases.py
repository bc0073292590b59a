"""The drivers that a driver may be: every combination of the limits of what is not known exactly."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from math import inf, nan, pi
from typing import TYPE_CHECKING, TypeAlias

from modelmath.errors import NotYetKnown
from modelmath.sound.air import ROOM_AIR, Air
from modelmath.sound.driver import relations
from modelmath.sound.driver.completing import FROM_CONE
from modelmath.sound.driver.driver import LABELS, Driver

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array: TypeAlias = NDArray[np.floating]

FUZZ = 1e-9  # of a Q, for rounding
SECOND_HAND = ("derived", "estimated")
INDEPENDENT = ("fs_hz", "qes", "qms", "vas_mm3", "sd_mm2", "re_ohm")


@dataclass(frozen=True)
class Cases:
    """The parameters of each case, the best first.

    Attributes
    ----------
    fs_hz, qes, qms, vas_mm3, sd_mm2, re_ohm : array of shape (cases,)
        What is taken as independent. [Hz, -, -, mm3, mm2, ohm]
    air : Air
        The air. [-]

    References
    ----------
    None needed.
    """

    fs_hz: Array
    qes: Array
    qms: Array
    vas_mm3: Array
    sd_mm2: Array
    re_ohm: Array
    air: Air = ROOM_AIR

    @property
    def qts(self) -> Array:
        """Total Q. [-]"""
        found: Array = relations.q_together(self.qes, self.qms)
        return found

    @property
    def compliance_m_n(self) -> Array:
        """Compliance Cms. [m/N]"""
        found: Array = relations.compliance_m_n(self.vas_mm3, self.sd_mm2, self.air)
        return found

    @property
    def mms_g(self) -> Array:
        """Moving mass. [g]"""
        found: Array = relations.moving_mass_g(self.fs_hz, self.compliance_m_n)
        return found

    @property
    def bl_tm(self) -> Array:
        """Force factor. [T m]"""
        found: Array = relations.force_factor_tm(self.fs_hz, self.mms_g, self.re_ohm, self.qes)
        return found


def cases_of(driver: Driver, air: Air = ROOM_AIR) -> Cases:
    """Return every combination of limits and best values of a driver whose parameters are all known.

    A combination of Qes and Qms whose Qts lies outside the limits of that is none that the driver may have. Where Vas
    was not measured or given, it follows from resonance, moving mass and cone area, within its own limits: a light
    cone of low resonance on a large Vas would be none that anybody makes. A mass estimated from the cone's area goes
    with the area of its case.

    Parameters
    ----------
    driver : Driver
        A driver as `complete` returns it. [-]
    air : Air
        The air. [-]

    Returns
    -------
    Cases
        The case of all best values first; no more than 3^6 + 2^7. [-]

    Raises
    ------
    NotYetKnown
        If one of the independent parameters is not known.

    References
    ----------
    Interval arithmetic by its end points: a result may still lie a little beyond them where it does not rise or fall
    throughout.

    Examples
    --------
    >>> sample = Driver("sample", fs_hz=500, qes=1, qms=4, vas_mm3=2000, sd_mm2=100, re_ohm=7)
    >>> float(cases_of(sample).qts[0])
    0.8
    """
    import numpy as np

    by_mass = _follows_from_mass(driver)
    taken = [("mms_g" if by_mass and field == "vas_mm3" else field) for field in INDEPENDENT]
    spreads: list[tuple[float, ...]] = []
    for field in INDEPENDENT:
        if driver.known(field) is None:
            raise NotYetKnown(f"What the {driver.name} does", f"its {LABELS[field]}")
    for field in taken:
        known = driver.known(field)
        assert known is not None
        spreads.append(known.spread)
    best = tuple(_best(driver, field) for field in taken)
    others = [case for case in product(*spreads) if case != best and _may_be(driver, case)]
    others += _at_qts_limits(driver, [(min(each), max(each)) for each in spreads])
    columns = dict(zip(INDEPENDENT, np.array([best, *others], float).T, strict=True))
    if by_mass:  # until here the mass stands where the volume will
        mass_g = _with_area(driver, columns["vas_mm3"], columns["sd_mm2"])
        columns["vas_mm3"] = _volumes_mm3(driver, mass_g, columns, air)
    return Cases(**columns, air=air)


def _follows_from_mass(driver: Driver) -> bool:
    """Whether Vas is no better known than the moving mass that it goes with."""
    vas, mass = driver.known("vas_mm3"), driver.known("mms_g")
    return vas is not None and mass is not None and vas.origin in SECOND_HAND and mass.origin != "derived"


def _with_area(driver: Driver, mass_g: Array, sd_mm2: Array) -> Array:
    """Return the moving mass in each case: estimated from the cone's area, a large cone's is no small cone's."""
    mass, area = driver.known("mms_g"), driver.known("sd_mm2")
    assert mass is not None
    assert area is not None
    if mass.origin != "estimated" or not mass.why.startswith(FROM_CONE):
        return mass_g
    found = mass_g.copy()
    for limit, own in ((mass.low, area.low), (mass.value, area.value), (mass.high, area.high)):
        at = mass_g == limit
        found[at] = limit / own * sd_mm2[at]
    return found


def _volumes_mm3(driver: Driver, mass_g: Array, columns: dict[str, Array], air: Air) -> Array:
    """Return Vas in each case from its moving mass; of the first case its best value."""
    import numpy as np

    vas = driver.known("vas_mm3")
    assert vas is not None
    compliance = 1 / ((2 * pi * columns["fs_hz"]) ** 2 * mass_g * relations.GRAM)
    found = relations.equivalent_volume_mm3(compliance, columns["sd_mm2"], air)
    volumes: Array = np.clip(found, vas.low, vas.high)
    volumes[0] = vas.value
    return volumes


def _may_be(driver: Driver, case: tuple[float, ...]) -> bool:
    total = driver.known("qts")
    if total is None:
        return True
    found = relations.q_together(case[INDEPENDENT.index("qes")], case[INDEPENDENT.index("qms")])
    return bool(total.low * (1 - FUZZ) <= found <= total.high * (1 + FUZZ))


def _at_qts_limits(driver: Driver, limits: list[tuple[float, float]]) -> list[tuple[float, ...]]:
    """Return cases in which Qes or Qms is such that Qts lies on a limit of its own: corners that those two lack."""
    total, places = driver.known("qts"), (INDEPENDENT.index("qes"), INDEPENDENT.index("qms"))
    if total is None:
        return []
    found: list[tuple[float, ...]] = []
    for one, other in (places, places[::-1]):
        low, high = limits[other]
        held = [(nan,) if place == other else dict.fromkeys(each) for place, each in enumerate(limits)]
        for qts, case in product((total.low, total.high), product(*held)):
            due = qts * case[one] / (case[one] - qts) if qts < case[one] else inf
            if low < due < high:
                found += [(*case[:other], due, *case[other + 1 :])]
    return found


def _best(driver: Driver, field: str) -> float:
    known = driver.known(field)
    assert known is not None
    return known.value
