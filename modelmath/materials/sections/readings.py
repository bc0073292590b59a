"""A name that could be more than one thing: the error that asks which."""

from __future__ import annotations

from collections.abc import Sequence

from modelmath.errors import UnreadableLength


class AmbiguousName(UnreadableLength):
    """A name that could be more than one thing; says each, and what to type for it.

    Attributes
    ----------
    given : str
        What was typed. [-]
    kinds : tuple of str
        What it could be, such as ``inches`` and ``mm``. [-]
    readings : tuple of str
        What to type for each; every one of them reads. [-]
    hint : str
        What else to mind; may be empty. [-]
    """

    def __init__(self, given: str, kinds: Sequence[str], readings: Sequence[str], hint: str = "") -> None:
        ways = either([f"{name} for {kind}" for name, kind in zip(readings, kinds, strict=True)])
        super().__init__(given, f"it could be {either(kinds)}", f"{ways}, {hint}" if hint else ways)
        self.kinds, self.readings, self.hint = tuple(kinds), tuple(readings), hint
        self.args = (given, self.kinds, self.readings, hint)


def either(words: Sequence[str]) -> str:
    """Return words as a choice, as a sentence lists them.

    Parameters
    ----------
    words : sequence of str
        One word or more. [-]

    Returns
    -------
    str
        The choice. [-]

    References
    ----------
    Plain English.

    Examples
    --------
    >>> either(["inches"]), either(["inches", "mm", "scale inches"])
    ('inches', 'inches, mm or scale inches')
    """
    return " or ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else words[0]
