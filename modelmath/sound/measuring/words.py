"""What a sweep says, in words and in the form that a job takes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import floor, log10

from modelmath.quantities.known import Known
from modelmath.sound.measuring.estimate import Estimate
from modelmath.sound.measuring.fit import SweepFit

# Field of Driver and of a job, what it is called, its unit as written.
PARAMETERS = (
    ("re", "re_ohm", "Re, resistance of the voice coil", "ohm"),
    ("fs", "fs_hz", "fs, resonance", "Hz"),
    ("qms", "qms", "Qms, mechanical", ""),
    ("qes", "qes", "Qes, electrical", ""),
    ("qts", "qts", "Qts, together", ""),
)
WIDE = 0.3  # an interval wider than this share of the value stands as two limits


def rounded(value: float, like: float) -> str:
    """Return a number to the decimals at which another has two figures.

    Parameters
    ----------
    value, like : float
        The number, and its uncertainty. [its own unit]

    Returns
    -------
    str
        The number. [its own unit]

    References
    ----------
    JCGM 100:2008, 7.2.6.

    Examples
    --------
    >>> rounded(450.263, 2.51), rounded(23456.7, 512.0), rounded(0.5, 0.0)
    ('450.3', '23457', '0.5')
    """
    if like <= 0:
        return f"{value:g}"
    return f"{value:.{max(0, 1 - floor(log10(like)))}f}"


def quantity(found: Estimate, unit: str) -> str:
    """Return an estimate with its 95 % interval as a job takes it.

    Parameters
    ----------
    found : Estimate
        The estimate. [its own unit]
    unit : str
        Its unit; empty for a ratio. [-]

    Returns
    -------
    str
        Such as ``450 ± 5 Hz, measured``, the wider side of the interval rounded up; where it is wide, both limits.
        [its own unit]

    References
    ----------
    None needed.

    Examples
    --------
    >>> quantity(Estimate(450.26, 2.5, 445.3, 455.34), "Hz")
    '450.3 ± 5.2 Hz, measured'
    >>> quantity(Estimate(2.0, 0.5, 1.25, 3.2), "cm3")
    '2.0 cm3, 1.2 to 3.2 cm3, measured'
    """
    decimals = max(0, 1 - floor(log10(max(found.within, found.value * 1e-9))))
    step = 10.0**-decimals
    behind = f" {unit}".rstrip()
    if found.within > WIDE * found.value:
        decimals = max(0, 1 - floor(log10(found.low)))
        limits = f"{_down(found.low, decimals):.{decimals}f} to {-_down(-found.high, decimals):.{decimals}f}{behind}"
        return f"{found.value:.{decimals}f}{behind}, {limits}, measured"
    # What rounding takes away from the value is added to the limit.
    shown = round(found.value, decimals)
    within = -_down(-(found.within + abs(shown - found.value)), decimals)
    return f"{shown:.{decimals}f} ± {max(within, step):.{decimals}f}{behind}, measured"


def _down(value: float, decimals: int) -> float:
    """Return a number rounded down."""
    return float(floor(value * 10.0**decimals + 1e-9) / 10.0**decimals)


def parameter_rows(fit: SweepFit) -> list[tuple[str, str, str, str]]:
    """Return each parameter as a row of a table: what it is, value, standard uncertainty, 95 % interval.

    Parameters
    ----------
    fit : SweepFit
        The fit. [-]

    Returns
    -------
    list of tuple of four str
        Re, fs, Qms, Qes and Qts. [ohm, Hz, -]

    Raises
    ------
    NotYetKnown
        If the sweep gave no parameters.

    References
    ----------
    None needed.
    """
    return [estimate_row(what, getattr(fit, name), unit) for name, _, what, unit in PARAMETERS]


def estimate_row(what: str, found: Estimate, unit: str) -> tuple[str, str, str, str]:
    """Return an estimate as a row of a table.

    Parameters
    ----------
    what : str
        What it is. [-]
    found : Estimate
        The estimate. [its own unit]
    unit : str
        Its unit; empty for a ratio. [-]

    Returns
    -------
    tuple of four str
        What it is, value, standard uncertainty, 95 % interval. [its own unit]

    References
    ----------
    None needed.

    Examples
    --------
    >>> estimate_row("fs", Estimate(450.26, 2.5, 445.3, 455.34), "Hz")
    ('fs', '450.3 Hz', '2.5 Hz', '445.3 to 455.3 Hz')
    """
    value, u, low, high = (rounded(each, found.u) for each in (found.value, found.u, found.low, found.high))
    behind = f" {unit}".rstrip()
    return what, f"{value}{behind}", f"{u}{behind}", f"{low} to {high}{behind}"


def job_texts(fit: SweepFit, more: Iterable[tuple[str, Estimate, str]] = ()) -> dict[str, str]:
    """Return the parameters by their fields in a job, as text.

    Parameters
    ----------
    fit : SweepFit
        The fit. [-]
    more : iterable of (str, Estimate, str)
        More of them: field, estimate, unit. [its own unit]

    Returns
    -------
    dict of str to str
        Each with its limits; Qts is left out, it follows from Qes and Qms. [-]

    Raises
    ------
    NotYetKnown
        If the sweep gave no parameters.

    References
    ----------
    None needed.
    """
    found = [(name, getattr(fit, name), unit) for name, _, _, unit in PARAMETERS if name != "qts"]
    return {name: quantity(each, unit) for name, each, unit in (*found, *more)}


def job_lines(fit: SweepFit, more: Iterable[tuple[str, Estimate, str]] = ()) -> str:
    """Return the same as lines of a job.

    Parameters
    ----------
    fit : SweepFit
        The fit. [-]
    more : iterable of (str, Estimate, str)
        More of them: field, estimate, unit. [its own unit]

    Returns
    -------
    str
        A line for each. [-]

    Raises
    ------
    NotYetKnown
        If the sweep gave no parameters.

    References
    ----------
    TOML 1.0 for the form.
    """
    return "\n".join(f'{name} = "{text}"' for name, text in job_texts(fit, more).items())


def known_parameters(fit: SweepFit) -> Mapping[str, Known]:
    """Return the parameters by the fields of `Driver`, each with its 95 % interval for limits.

    Parameters
    ----------
    fit : SweepFit
        The fit. [-]

    Returns
    -------
    mapping of str to Known
        Re, fs, Qms and Qes; Qts follows from them. [ohm, Hz, -]

    Raises
    ------
    NotYetKnown
        If the sweep gave no parameters.

    References
    ----------
    None needed.
    """
    why = f"impedance sweep of {len(fit.sweep)} points"
    found = {field: getattr(fit, name) for name, field, _, _ in PARAMETERS if name != "qts"}
    return {field: Known(each.value, each.low, each.high, "measured", why) for field, each in found.items()}
