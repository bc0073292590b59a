"""What the numbers of a sealed chamber mean, in plain sentences: what is heard, and what to mind."""

from __future__ import annotations

from math import log10
from typing import TYPE_CHECKING

from modelmath.lengths.text import to_digits

if TYPE_CHECKING:
    from modelmath.sound.closed_box.box import ClosedBox

# Up to which -3 dB point what of a model's sounds comes through; common practice, no source.
HEARD = (
    (250.0, "most of an engine's beat, the horn, bell and brakes come through; only the lowest rumble is missing"),
    (500.0, "horn, bell and whistle are full; the low part of an exhaust beat or a motor's rumble is thin"),
    (900.0, "bell, whistle and brakes are clear; a horn loses its body, and an exhaust beat is more tick than thump"),
)
BEYOND = "bell and hiss come through; a horn is thin, and hardly any beat is left"
BOOMS_DB = 3.0  # a peak as high as this is heard as one pitch that stands out; common practice, no source


def heard_as(box: ClosedBox) -> str:
    """Say what comes through, by the best values.

    Parameters
    ----------
    box : ClosedBox
        The speaker in its chamber. [-]

    Returns
    -------
    str
        A sentence or two. [-]

    References
    ----------
    A sealed chamber loses 12 dB for each octave below its resonance (Small 1972). Which sounds lie there: common
    practice, no source.
    """
    f3, peak = box.f3_hz.best, box.peak_db.best
    what = next((words for limit, words in HEARD if f3 <= limit), BEYOND)
    said = f"Below about {to_digits(f3)} Hz its sound fades fast: {what}."
    if peak >= BOOMS_DB:
        said += f" Near {to_digits(box.fc_hz.best)} Hz it stands out by {peak:.0f} dB, which booms: filling calms it."
    return said


def beyond_travel(box: ClosedBox, power_w: float | None) -> str:
    """Say that the cone would go further than it may, at a power.

    Parameters
    ----------
    box : ClosedBox
        The speaker in its chamber. [-]
    power_w : float or None
        What it gets at most; None where that is not known. [W]

    Returns
    -------
    str
        A sentence or two; empty where it does not, or where that is not known. [-]

    References
    ----------
    Travel goes with the root of the power.
    """
    xmax, safe = box.driver.known("xmax_mm"), box.safe_power_w()
    if power_w is None or xmax is None or safe is None or safe.best >= power_w:
        return ""
    goes = box.greatest_travel_mm(power_w).best
    estimated = ", an estimate" if xmax.origin == "estimated" else ""
    down = 10 * log10(power_w / safe.best)
    return (
        f"Low notes at full volume, {power_w:.2g} W, would drive the cone {goes:.2f} mm each way; its limit is "
        f"{xmax.value:.2f} mm{estimated}. It reaches that at {to_digits(safe.best)} W: turn the decoder down by "
        f"{down:.0f} dB, or cut what lies below {to_digits(box.f3_hz.best)} Hz."
    )


def beyond_theory(box: ClosedBox, valid_to_hz: float) -> str:
    """Say that the -3 dB point lies where the chamber no longer acts as one spring of air.

    Parameters
    ----------
    box : ClosedBox
        The speaker in its chamber. [-]
    valid_to_hz : float
        Where the theory ends. [Hz]

    Returns
    -------
    str
        A sentence; empty where it does not. [-]

    References
    ----------
    `lumped_limit_hz`.
    """
    if box.f3_hz.best <= valid_to_hz:
        return ""
    return (
        f"The -3 dB point lies above {to_digits(valid_to_hz)} Hz, up to which this theory holds for so long a chamber: "
        "take it as a rough guide."
    )
