"""Measured parameters put among those that a job gives for its speaker."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from modelmath.errors import ModelMathError, UnknownChoice
from modelmath.quantities.text import parse_quantity
from modelmath.sound.driver.agreeing import check_agreement
from modelmath.sound.driver.driver import PARAMETER_KINDS, Driver
from modelmath.sound.driver.tolerances import as_entered

# Fields of a driver by those of a job.
FIELDS = {field.rpartition("_")[0] or field: field for field in PARAMETER_KINDS}
TOGETHER = ("qes", "qms", "qts")


@dataclass(frozen=True)
class TakenOver:
    """A speaker's parameters with those measured among them.

    Attributes
    ----------
    texts : dict of str to str
        All of them, by their fields in a job. [-]
    replaced : dict of str to str
        What stood there before in place of a measured one. [-]
    removed : dict of str to str
        What was taken out because it contradicts them. [-]
    contradiction : str
        What contradicts them and was left; empty where nothing does. [-]

    References
    ----------
    None needed.
    """

    texts: dict[str, str]
    replaced: dict[str, str]
    removed: dict[str, str]
    contradiction: str


def taken_over(before: Mapping[str, str], measured: Mapping[str, str]) -> TakenOver:
    """Return a speaker's parameters with those measured put among them.

    A Qts that was there and contradicts the measured Qes and Qms is taken out: it follows from them.

    Parameters
    ----------
    before, measured : mapping of str to str
        Parameters by their fields in a job, as text. [-]

    Returns
    -------
    TakenOver
        All of them, and what was replaced or taken out. [-]

    Raises
    ------
    UnknownChoice
        If one of the names is no parameter's.

    References
    ----------
    Small 1972 for what contradicts: Qts = Qes Qms / (Qes + Qms).

    Examples
    --------
    >>> found = taken_over({"fs": "500 Hz", "qts": "0.7"}, {"fs": "485 ± 2 Hz, measured", "qes": "1.9", "qms": "4.2"})
    >>> found.texts
    {'fs': '485 ± 2 Hz, measured', 'qes': '1.9', 'qms': '4.2'}
    >>> found.replaced, found.removed
    ({'fs': '500 Hz'}, {'qts': '0.7'})
    """
    for name in (*before, *measured):
        if name not in FIELDS:
            raise UnknownChoice("the parameter", name, list(FIELDS))
    replaced = {name: before[name] for name, text in measured.items() if before.get(name, text) != text}
    texts = {**before, **measured}
    removed = {}
    if "qts" in texts and "qts" not in measured and _disagreement({n: texts[n] for n in TOGETHER if n in texts}):
        removed["qts"] = texts.pop("qts")
    return TakenOver(texts, replaced, removed, _disagreement(texts))


def _disagreement(texts: Mapping[str, str]) -> str:
    """Return how parameters contradict each other, or what of them can't be read; empty if neither."""
    try:
        fields = {FIELDS[name]: text for name, text in texts.items()}
        known = {
            field: as_entered(parse_quantity(text, PARAMETER_KINDS[field]), text, field)
            for field, text in fields.items()
        }
        check_agreement(Driver("speaker").with_known(**known))
    except ModelMathError as reason:
        return str(reason)
    return ""
