"""How bright a lamp looks, and which resistor trims it to that."""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite
from numbers import Real

from modelmath.errors import OutOfRange, WrongKind, shown
from modelmath.light.lamps.amounts import Figure, as_known, check_part, told_band, told_share
from modelmath.light.lamps.preferred import following, format_ohm, next_values
from modelmath.light.lamps.resistor import LedResistor, led_resistor
from modelmath.quantities.band import Band

EDGE = 6 / 29  # of the cube root: below its cube lightness goes in a straight line (CIE 1976)
SLOPE = 3 * EDGE**2


@dataclass(frozen=True)
class Trim:
    """One step of a trimming table.

    Attributes
    ----------
    ohm : float
        A preferred value. [ohm]
    current_a : Band
        The current with it. [A]
    share : Band
        Light over the light wanted. [-]
    looks : float
        How bright that looks, 1 for as bright as wanted. [-]

    References
    ----------
    `trimming_table`.
    """

    ohm: float
    current_a: Band
    share: Band
    looks: float

    @property
    def in_words(self) -> str:
        """One sentence. [-]"""
        return (
            f"{format_ohm(self.ohm)}: {told_band(self.current_a, 'current_a')}, {told_share(self.share.best)} of the "
            f"light, which looks {told_share(self.looks)} as bright."
        )


def current_for(share: float, current_a: float) -> float:
    """Return the current for a share of an LED's light.

    Light is about proportional to current at a few milliamperes; far below that an LED gives a little less.

    Parameters
    ----------
    share : float
        The share of the light wanted. [-]
    current_a : float
        The current that gives all of it. [A]

    Returns
    -------
    float
        The current. [A]

    Raises
    ------
    OutOfRange, WrongKind
        If a figure is no finite number above 0; a share may be 0.

    References
    ----------
    Proportional light: common practice, no source.

    Examples
    --------
    >>> current_for(0.25, 0.002)
    0.0005
    """
    return check_light("the share of light", share) * as_known("the current", current_a, "current_a").value


def perceived(share: float) -> float:
    """Return how bright a share of light looks, 1 for as bright as all of it.

    That is CIE lightness L* over 100: half the light looks three quarters as bright. It was made for surfaces seen
    side by side in a lit room; a lamp in a dark room differs. Above 1 the formula is carried on.

    Parameters
    ----------
    share : float
        Light over the light it is compared with. [-]

    Returns
    -------
    float
        L* over 100. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If the share is no finite number from 0.

    References
    ----------
    CIE 15, Colorimetry: 1976 lightness, ``L* = 116 f(Y/Yn) - 16``.

    Examples
    --------
    >>> round(perceived(0.5), 3), perceived(1.0)
    (0.761, 1.0)
    """
    light = check_light("the share of light", share)
    root: float = light ** (1 / 3) if light > EDGE**3 else light / SLOPE + 4 / 29
    return (116 * root - 16) / 100


def share_for(looks: float) -> float:
    """Return the share of light that looks so bright: `perceived` backwards.

    Parameters
    ----------
    looks : float
        How bright it should look, 1 for as bright as all of it. [-]

    Returns
    -------
    float
        Light over all of it. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If it is no finite number from 0.

    References
    ----------
    CIE 15, Colorimetry: 1976 lightness, inverted.

    Examples
    --------
    >>> round(share_for(0.5), 3)
    0.184
    """
    root = (100 * check_light("how bright it looks", looks) + 16) / 116
    return root**3 if root > EDGE else SLOPE * (root - 4 / 29)


def trimming_table(
    supply_v: Figure,
    forward_v: Figure,
    current_a: Figure,
    leds: int = 1,
    *,
    series: str = "E12",
    tolerance: float = 0.05,
    least_share: float = 0.05,
) -> tuple[Trim, ...]:
    """Return the preferred values from the one below the exact resistance upward, with the light each gives.

    Parameters
    ----------
    supply_v, forward_v : float or Known
        What the output gives, and what one LED takes. [V]
    current_a : float or Known
        The current that gives all the light wanted. [A]
    leds : int
        How many in series. [-]
    series : str
        Which values may be used; E12 steps look about as fine as the eye tells. [-]
    tolerance : float
        How far a resistor may be off its marking. [-]
    least_share : float
        Where the table ends. [-]

    Returns
    -------
    tuple of Trim
        The brightest first. [-]

    Raises
    ------
    OutOfRange, UnknownChoice, WrongKind
        As `led_resistor`; or if the least share is not between 0.001 and 1.

    References
    ----------
    Ohm's law; IEC 60063; CIE 15 for the look.

    Examples
    --------
    >>> for each in trimming_table(12, 3.0, 0.002, series="E3", least_share=0.1):
    ...     print(f"{each.ohm:.0f} ohm {each.share.best:.3f} {each.looks:.2f}")
    2200 ohm 2.045 1.31
    4700 ohm 0.957 0.98
    10000 ohm 0.450 0.73
    22000 ohm 0.205 0.52
    """
    least = check_part("the least share of light", least_share, zero=False, one=True)
    if least < 0.001:
        raise OutOfRange("the least share of light", f"{least:g}", "0.001 or more", "Write one percent as 0.01.")
    full = led_resistor(supply_v, forward_v, current_a, leds, series=series, tolerance=tolerance)
    ohm = next_values(full.exact_ohm, series)[0]
    found: list[Trim] = []
    while True:
        step = trimmed(full, ohm)
        if found and step.share.best < least:
            return tuple(found)
        found.append(step)
        ohm = following(ohm, series)


def trimmed(full: LedResistor, ohm: float) -> Trim:
    """Return what a resistor of any value does to the light.

    Parameters
    ----------
    full : LedResistor
        The circuit, with the current that gives all the light wanted. [-]
    ohm : float
        The resistor's marked resistance. [ohm]

    Returns
    -------
    Trim
        Current, light, and how bright that looks. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If the resistance is no finite number above 0.

    References
    ----------
    Ohm's law; CIE 15 for the look.

    Examples
    --------
    >>> round(trimmed(led_resistor(12, 3.0, 0.002), 10000).looks, 2)
    0.73
    """
    choice = full.with_resistor(ohm)
    return Trim(choice.ohm, choice.current_a, choice.brightness, perceived(choice.brightness.best))


def resistor_for_look(full: LedResistor, looks: float) -> tuple[Trim, Trim]:
    """Return the preferred values that make a lamp look so bright: the one just brighter, and the one just dimmer.

    Parameters
    ----------
    full : LedResistor
        The circuit, with the current that gives all the light wanted. [-]
    looks : float
        How bright it should look, 1 for as bright as that. [-]

    Returns
    -------
    tuple of Trim
        The brighter and the dimmer one. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If it is no finite number above 0.

    References
    ----------
    Ohm's law; IEC 60063; CIE 15 for the look.

    Examples
    --------
    >>> [each.ohm for each in resistor_for_look(led_resistor(12, 3.0, 0.002), 0.5)]
    [24000.0, 27000.0]
    """
    share = share_for(looks)
    if not share:
        raise OutOfRange("how bright it looks", "0", "above 0", "Leave the lamp out instead.")
    lower, upper = next_values(full.exact_ohm / share, full.series)
    return trimmed(full, lower), trimmed(full, upper)


def check_light(name: str, value: object) -> float:
    """Return a share of light as a float, or refuse it; more than all is a share too.

    Parameters
    ----------
    name : str
        What a message calls it. [-]
    value : float
        The share. [-]

    Returns
    -------
    float
        The same. [-]

    Raises
    ------
    WrongKind
        If it is no number.
    OutOfRange
        If it is not finite or below 0.

    References
    ----------
    None needed.

    Examples
    --------
    >>> check_light("the share of light", 0.5)
    0.5
    """
    if isinstance(value, bool) or not isinstance(value, Real):
        raise WrongKind(name, shown(str(value)), "a number, 1 for all", "Write half as 0.5.")
    if not isfinite(value) or value < 0:
        raise OutOfRange(name, f"{float(value):g}", "0 or more", "Write half as 0.5.")
    return float(value)
