"""What follows from a driver's known parameters by the published relations, limits included."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import product
from math import inf, nan

from modelmath.errors import OutOfRange
from modelmath.quantities.known import Known
from modelmath.quantities.text import told
from modelmath.sound.air import ROOM_AIR, Air
from modelmath.sound.driver import relations
from modelmath.sound.driver.driver import LABELS, Driver
from modelmath.sound.driver.estimates import estimates


@dataclass(frozen=True)
class Relation:
    """One parameter as it follows from others.

    Attributes
    ----------
    field : str
        What follows. [-]
    sources : tuple of str
        What it follows from, by field. [-]
    formula : callable
        The relation, of the air and the sources in their order. [-]
    text : str
        The relation as it is printed. [-]

    References
    ----------
    `modelmath.sound.driver.relations`.
    """

    field: str
    sources: tuple[str, ...]
    formula: Callable[..., float]
    text: str

    def sources_of(self, driver: Driver) -> tuple[Known, ...]:
        """Return what it follows from, in the relation's order; nothing where one of them is not known.

        Parameters
        ----------
        driver : Driver
            The driver. [-]

        Returns
        -------
        tuple of Known
            All sources, or none. [their own units]

        References
        ----------
        None needed.
        """
        sources = tuple(known for known in map(driver.known, self.sources) if known is not None)
        return sources if len(sources) == len(self.sources) else ()

    def named(self, driver: Driver) -> str:
        """Return its sources and their values, as a sentence names them.

        Parameters
        ----------
        driver : Driver
            A driver whose sources are all known. [-]

        Returns
        -------
        str
            Name and value of each. [-]

        References
        ----------
        None needed.
        """
        values = zip(self.sources, self.sources_of(driver), strict=True)
        *most, last = (f"{LABELS[field]} of {told(known.value, field)}" for field, known in values)
        return f"{', '.join(most)} and {last}"

    def over(self, driver: Driver, air: Air = ROOM_AIR) -> Known:
        """Return what follows, its limits those of every combination of the sources' limits.

        Parameters
        ----------
        driver : Driver
            A driver whose sources are all known. [-]
        air : Air
            The air. [-]

        Returns
        -------
        Known
            Derived. [its own unit]

        Raises
        ------
        OutOfRange
            If it is too small or too large to be reckoned with.

        References
        ----------
        Each relation rises or falls throughout with each source, so its limits stand at the ends.
        """
        sources = self.sources_of(driver)
        try:
            best = self.formula(air, *(each.value for each in sources))
            ends = [self.formula(air, *case) for case in product(*((each.low, each.high) for each in sources))]
            low, high = min(best, *ends), max(best, *ends)
        except (OverflowError, ZeroDivisionError):
            low = best = high = nan
        if 0 < low <= high < inf:
            return Known(best, low, high, "derived", self.text)
        given, expected = "too small or too large to be reckoned with", "that of a small speaker"
        advice = f"It follows from its {self.named(driver)}: check these and their units."
        raise OutOfRange(f"the {LABELS[self.field]} of the {driver.name}", given, expected, advice)


_TOGETHER = "1/Qts = 1/Qes + 1/Qms"
_RESONANCE = "fs = 1 / (2 pi sqrt(Mms Cms)) with Vas = rho c^2 Sd^2 Cms"


def _mass_g(air: Air, fs_hz: float, vas_mm3: float, sd_mm2: float) -> float:
    return float(relations.moving_mass_g(fs_hz, relations.compliance_m_n(vas_mm3, sd_mm2, air)))


def _volume_mm3(air: Air, fs_hz: float, mms_g: float, sd_mm2: float) -> float:
    # A mass and a compliance change places in the relation of the resonance.
    compliance = relations.moving_mass_g(fs_hz, mms_g * relations.GRAM) * relations.GRAM
    return float(relations.equivalent_volume_mm3(compliance, sd_mm2, air))


def _resonance_hz(air: Air, mms_g: float, vas_mm3: float, sd_mm2: float) -> float:
    return float((_mass_g(air, 1.0, vas_mm3, sd_mm2) / mms_g) ** 0.5)


def _area_mm2(air: Air, fs_hz: float, mms_g: float, vas_mm3: float) -> float:
    return float((mms_g / _mass_g(air, fs_hz, vas_mm3, 1.0)) ** 0.5)


QTS = Relation("qts", ("qes", "qms"), lambda _air, qes, qms: float(relations.q_together(qes, qms)), _TOGETHER)
MASS = Relation("mms_g", ("fs_hz", "vas_mm3", "sd_mm2"), _mass_g, _RESONANCE)
VOLUME = Relation("vas_mm3", ("fs_hz", "mms_g", "sd_mm2"), _volume_mm3, _RESONANCE)
RELATIONS = (
    QTS,
    Relation("qes", ("qts", "qms"), lambda _air, qts, qms: float(relations.q_apart(qts, qms)), _TOGETHER),
    Relation("qms", ("qts", "qes"), lambda _air, qts, qes: float(relations.q_apart(qts, qes)), _TOGETHER),
    MASS,
    VOLUME,
    Relation("fs_hz", ("mms_g", "vas_mm3", "sd_mm2"), _resonance_hz, _RESONANCE),
    Relation("sd_mm2", ("fs_hz", "mms_g", "vas_mm3"), _area_mm2, _RESONANCE),
)


def derived(driver: Driver, air: Air = ROOM_AIR) -> Driver:
    """Return a driver with all that follows from what is known of it.

    Parameters
    ----------
    driver : Driver
        What is known of it. [-]
    air : Air
        The air. [-]

    Returns
    -------
    Driver
        The same with derived parameters. [-]

    Raises
    ------
    OutOfRange
        If its Qts is as high as its Qes or Qms, or something follows that no number can hold.

    References
    ----------
    `modelmath.sound.driver.relations`.

    Examples
    --------
    >>> derived(Driver("sample", fs_hz=500, qts=0.8, qms=4.0)).qes.value
    1.0
    """
    for relation in RELATIONS:
        sources = relation.sources_of(driver)
        if driver.known(relation.field) is not None or not sources:
            continue
        if relation.sources[0] == "qts":
            _check_apart(driver, relation.sources[1], *sources)
            found = _apart(driver, relation, air)
        else:
            found = relation.over(driver, air)
        driver = driver.with_known(**{relation.field: found})
    return driver


def off_by(of: float, due: float) -> str:
    """Return by how much a number misses another one, as a sentence tells it.

    Parameters
    ----------
    of, due : float
        What it is, and what it must be. [same unit]

    Returns
    -------
    str
        Percent, and the way; from ten times or a tenth on that. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> off_by(125, 100), off_by(98, 100), off_by(26000, 100), off_by(1, 11)
    ('25 % above', '2 % below', 'more than ten times as much', 'less than a tenth of that')
    """
    if of > due * 10:
        return "more than ten times as much"
    if of * 10 < due:
        return "less than a tenth of that"
    return f"{float(f'{abs(of / due - 1) * 100:.3g}'):g} % {'above' if of > due else 'below'}"


def _apart(driver: Driver, relation: Relation, air: Air) -> Known:
    """Return the Q of one loss from that of both and of the other.

    Where the limits of these meet, nothing bounds it by the relation: then no coil takes less than a part of what is
    lost, and no suspension loses less than usual.
    """
    total, one = relation.sources_of(driver)
    exact = {name: Known.of(each.value) for name, each in zip(relation.sources, (total, one), strict=True)}
    found = relation.over(driver.with_known(**exact), air)
    if total.exact and one.exact:
        return found
    if relation.field == "qms":
        most = estimates()["mechanical Qms"].high
    else:
        part = estimates()["least Qms over Qts"].best
        most = total.high * part / (part - 1)
    high = float(relations.q_apart(total.high, one.low)) if total.high < one.low else inf
    low = min(found.value, float(relations.q_apart(total.low, one.high)))
    return replace(found, low=low, high=max(found.value, min(high, most)))


def _check_apart(driver: Driver, field: str, total: Known, one: Known) -> None:
    """Refuse a Qts that is not below the Q of one of its losses: nothing would be left for the other."""
    if total.value < one.value:
        return
    by = "just as high" if total.value == one.value else off_by(total.value, one.value)
    raise OutOfRange(
        f"the {LABELS['qts']} of the {driver.name}",
        told(total.value, "qts"),
        f"below its {LABELS[field]} of {told(one.value, field)}, as {_TOGETHER}; it is {by}",
        "Check both, or leave one of them out.",
    )
