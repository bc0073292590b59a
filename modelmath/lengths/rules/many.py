"""Many readings of one rule at once: corrected lengths and their uncertainty as arrays, no uncertain object each."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from modelmath.lengths.rules import Rule


def lengths(rule: Rule, shown_mm: Any, datum: str = "end") -> tuple[Any, Any, float]:
    """Correct many readings of one rule.

    The readings share the rule's offset and scale error: of a difference of two, `Rule.length` tells the
    uncertainty, these columns don't.

    Parameters
    ----------
    rule : Rule
        What they were read with. [-]
    shown_mm : array
        Marks read, counted from zero. [mm]
    datum : {"end", "zero"}
        What stood against the parts. [-]

    Returns
    -------
    tuple of (array, array, float)
        Corrected lengths, the standard uncertainty of each, and that of a reading alone. [mm]

    Raises
    ------
    UnknownChoice
        If `datum` is neither word.

    References
    ----------
    JCGM 100:2008, 5.1.2.

    Examples
    --------
    >>> from modelmath.lengths.rules import Rule
    >>> rule = Rule(unit="mm", graduation="0.5", zero_offset="1", offset_uncertainty="0.1")
    >>> values, u, reading_u = lengths(rule, [10.0, 20.0])
    >>> values.tolist(), [round(each, 4) for each in u.tolist()], round(reading_u, 4)
    ([11.0, 21.0], [0.1756, 0.1756], 0.1443)
    """
    import numpy as np

    shown = np.asarray(shown_mm, dtype=float) + float(rule.lean_mm)
    stretch = 1.0 + float(rule.scale_error)
    reading_u = rule.reading_u_mm * stretch
    values = (shown + float(rule.zero_mm(datum))) * stretch
    arm = shown - float(rule.pivot_mm) if datum == "end" else shown
    at_pivot = rule.pivot_u_mm if datum == "end" else 0.0
    return values, np.sqrt(reading_u**2 + at_pivot**2 + (arm * rule.scale_error_uncertainty) ** 2), reading_u
