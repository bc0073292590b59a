"""How far an uncertain result may be off, for a person: a half width and the degrees of freedom behind it."""

from __future__ import annotations

from typing import Any

from modelmath.lengths.uncertain import components, limit_per_u, welch_satterthwaite


def nominal_of(value: Any) -> float:
    """Return the best value of a plain or uncertain number.

    Parameters
    ----------
    value : uncertain number or float
        Any number. [any unit]

    Returns
    -------
    float
        Its best value. [same unit]

    References
    ----------
    None needed.

    Examples
    --------
    >>> nominal_of(3.5)
    3.5
    """
    return float(getattr(value, "nominal_value", value))


def u_of(value: Any) -> float:
    """Return the standard uncertainty of a plain or uncertain number.

    Parameters
    ----------
    value : uncertain number or float
        Any number. [any unit]

    Returns
    -------
    float
        0 for a plain number. [same unit]

    References
    ----------
    None needed.

    Examples
    --------
    >>> u_of(3.5)
    0.0
    """
    return float(getattr(value, "std_dev", 0.0))


def half_width(value: Any) -> float:
    """Return the half width that holds at least about 95 in 100 of an uncertain number.

    Parameters
    ----------
    value : uncertain number or float
        Any result computed from uncertain numbers. [any unit]

    Returns
    -------
    float
        Twice its standard uncertainty, more where that was found from few repeats; never more than its sources'
        limits add up to, so that one measured to within 0.3 mm is not said to be 0.35 mm off. [same unit]

    References
    ----------
    JCGM 100:2008, G.4.1 (effective degrees of freedom), table G.2, and 4.3.7 (limits of a rectangle).

    Examples
    --------
    >>> from modelmath.lengths.uncertain import rectangular
    >>> length = rectangular(10.0, 0.3, "length")
    >>> round(half_width(length), 3), round(half_width(length - rectangular(4.0, 0.3, "end")), 3)
    (0.3, 0.49)
    """
    limits = sum(abs(share) * limit_per_u(cause.shape, cause.dof) for cause, share in components(value))
    return min(limit_per_u("repeats", effective_dof(value)) * u_of(value), limits)


def effective_dof(value: Any) -> float:
    """Return the effective degrees of freedom of an uncertain number's standard uncertainty.

    Parameters
    ----------
    value : uncertain number or float
        Any result computed from uncertain numbers. [any unit]

    Returns
    -------
    float
        Infinite where no source was found from repeats. [-]

    References
    ----------
    JCGM 100:2008, G.4.1: the Welch-Satterthwaite formula.

    Examples
    --------
    >>> from modelmath.lengths.uncertain import repeated
    >>> effective_dof(repeated(12.0, 0.05, 2, "a") + repeated(3.0, 0.05, 2, "b"))
    4.0
    """
    return welch_satterthwaite((share, cause.dof) for cause, share in components(value))
