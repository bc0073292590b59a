"""What a bulb's filament does off its rated voltage, alone and behind a resistor."""

from __future__ import annotations

from modelmath.quantities.band import Band

# Exponents of the voltage over the rated voltage, best with the limits that handbooks differ by; from memory.
# They hold near the rated voltage; far below it the light is less than they say.
NEAR = (0.8, 1.2)  # of the rated voltage; from memory
LIGHT = Band(3.4, 3.0, 3.6)
LIFE = Band(-13.0, -16.0, -12.0)
CURRENT = 0.55
COLD = Band(10.0, 8.0, 15.0)
"""Current at switching on over the current when hot; common practice, no source, upper limit from memory. [-]"""

NEAR_PLASTIC = (
    "Nearly all that a bulb takes becomes heat, and its glass may be hotter than 60 °C: keep it off the shell, off "
    "acrylic (softens at about 80 °C) and off polystyrene (about 100 °C). Try it for ten minutes before closing."
)
"""What to say wherever a bulb stands in a plastic shell. PMMA: a materials data page; polystyrene: from memory."""


def settled(supply_v: float, rated_v: float, rated_a: float, ohm: float) -> tuple[float, ...]:
    """Return what bulb and resistor settle at: ``V + R I0 (V / V0)^0.55 = Vs``.

    With ``u = (V / V0)^0.55`` that is convex and rising in u, so that Newton's steps from above never pass the root.

    Parameters
    ----------
    supply_v, rated_v : float
        What the output gives, and the bulb's rated voltage. [V]
    rated_a : float
        The bulb's rated current. [A]
    ohm : float
        The resistor. [ohm]

    Returns
    -------
    tuple of float
        The bulb's voltage, the current, the heat of resistor and of bulb, the voltage over the rated one.
        [V, A, W, W, -]

    References
    ----------
    Kirchhoff's voltage law; Newton's method. The exponent is from lamp handbooks, from memory.

    Examples
    --------
    >>> round(settled(24.0, 12.0, 0.05, 240.0)[0], 9)
    12.0
    """
    power = 1 / CURRENT
    root = (supply_v / rated_v) ** CURRENT
    for _ in range(60):
        over = rated_v * root**power + ohm * rated_a * root - supply_v
        step = over / (rated_v * power * root ** (power - 1) + ohm * rated_a)
        root -= step
        if step <= 1e-14 * root:
            break
    ratio = root**power
    volts, current = rated_v * ratio, rated_a * root
    return volts, current, ohm * current**2, volts * current, ratio


def power_law(ratio: Band, exponent: Band) -> Band:
    """Return a ratio to a power over all limits of both.

    Parameters
    ----------
    ratio, exponent : Band
        The ratio, above 0, and the power. [-]

    Returns
    -------
    Band
        The result. [-]

    References
    ----------
    A power of a positive number rises or falls throughout in both, so that the corners are its limits.

    Examples
    --------
    >>> power_law(Band(2.0, 2.0, 2.0), Band(2.0, 1.0, 3.0))
    Band(best=4.0, low=2.0, high=8.0)
    """
    corners = [each**power for each in (ratio.low, ratio.high) for power in (exponent.low, exponent.high)]
    return Band.over([ratio.best**exponent.best, *corners])
