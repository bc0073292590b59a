"""What cars should weigh, by the published table. It is for cars without a motor, and only they are answered."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from typing import Any

from modelmath.enclosure.balance.masses import best, check_finite, grams
from modelmath.errors import OutOfRange, TableError, WrongKind, shown
from modelmath.lengths.scales import scale
from modelmath.lengths.text import format_length
from modelmath.tables import rows

TABLE = "model_weight.csv"
G_PER_OUNCE = Fraction("28.349523125")  # avoirdupois; exact by the international pound of 1959
MM_PER_INCH = Fraction("25.4")


@dataclass(frozen=True)
class RecommendedWeight:
    """What an unpowered car should weigh.

    Attributes
    ----------
    scale_name : str
        Its scale, as the table calls it. [-]
    body_length_mm : number or uncertain number
        Length of its body. [mm]
    initial_g : Fraction
        What the table starts from. [g]
    per_mm_g : Fraction
        What it adds with the length of the body. [g/mm]
    source : str
        The table. [-]
    note : str
        What else is to be said of that row; mostly empty. [-]
    measured_as : str
        How the body was measured, where that is not its whole length; empty otherwise. [-]
    """

    scale_name: str
    body_length_mm: Any
    initial_g: Fraction
    per_mm_g: Fraction
    source: str
    note: str = ""
    measured_as: str = ""

    @property
    def weight_g(self) -> Any:
        """What it should weigh in all. [g]"""
        length = self.body_length_mm
        plain = length if hasattr(length, "nominal_value") else float(length)
        return float(self.initial_g) + float(self.per_mm_g) * plain

    @property
    def in_words(self) -> str:
        """The weight, and what it is for, in one sentence."""
        length = format_length(self.body_length_mm, "mm")
        return (
            f"An unpowered {self.scale_name} car with a body of {length} should weigh {grams(self.weight_g)} "
            f"({self.source}).{f' Note: {self.note}.' if self.note else ''}{self._longer()}"
        )

    def _longer(self) -> str:
        """Say what the body's length left out, and what that adds."""
        if not self.measured_as:
            return ""
        return f" That length is {self.measured_as}; each mm more of body adds {float(self.per_mm_g):.2f} g."


@cache
def _published() -> dict[str, RecommendedWeight | None]:
    """Return each row's two figures by scale; None where nothing is published."""
    found: dict[str, RecommendedWeight | None] = {}
    for line, row in rows(TABLE):
        if not row["initial_oz"]:
            found[row["scale"]] = None
            continue
        initial = Fraction(row["initial_oz"]) * G_PER_OUNCE
        per_mm = Fraction(row["additional_oz_per_inch_of_body"]) * G_PER_OUNCE / MM_PER_INCH
        off = abs(initial - Fraction(row["initial_g"])), abs(per_mm - Fraction(row["additional_g_per_mm"]))
        if off[0] > Fraction("0.0005") or off[1] > Fraction("0.000005"):  # half the last digit the file keeps
            raise TableError(TABLE, line, "ounces and grams disagree")
        found[row["scale"]] = RecommendedWeight(row["scale"], 0, initial, per_mm, row["source"], row["note"])
    return found


def recommended_weight(scale_name: str, body_length_mm: Any, powered: bool = False) -> RecommendedWeight:
    """Return what an unpowered car should weigh, by the published table.

    Parameters
    ----------
    scale_name : str
        Its scale, such as ``HO`` or ``HOn3``; case does not matter. [-]
    body_length_mm : number or uncertain number
        Length of its body. [mm]
    powered : bool
        Whether it has a motor: such a model is refused, since the table is not for it. [-]

    Returns
    -------
    RecommendedWeight
        The weight, with the two figures behind it. [g]

    Raises
    ------
    WrongKind
        For a powered model, and for a scale without a published weight.
    UnknownScale
        If no scale is called so.
    OutOfRange
        If the length is not above 0.

    References
    ----------
    NMRA RP-20.1, Car Weight; data/model_weight.csv.

    Examples
    --------
    >>> recommended_weight("HO", 152.4).in_words
    'An unpowered HO car with a body of 152.40 mm should weigh 113.4 g (NMRA RP-20.1 Car Weight ...).'
    """
    if powered:
        remedy = "For a powered model weight on driven wheels counts: compare its balance before and after."
        raise WrongKind("the model", "powered", "an unpowered car, the only kind the published table is for", remedy)
    check_finite("the length of the body", body_length_mm, "mm", "150")
    if not best(body_length_mm) > 0:
        given = f"{best(body_length_mm):g} mm"
        raise OutOfRange("the length of the body", given, "above 0", "Measure the body without couplers.")
    row = _row_of(scale_name)
    return replace(row, body_length_mm=body_length_mm)


def _row_of(scale_name: str) -> RecommendedWeight:
    published = _published()
    # "G and larger" is found by its first word too.
    by_case = {label: name for name in published for label in (name.casefold(), name.split(" and ")[0].casefold())}
    name = by_case.get(" ".join(scale_name.split()).casefold())
    if name is None:
        name = by_case.get(scale(scale_name).name.casefold())
    row = published[name] if name is not None else None
    if row is None:
        with_weight = ", ".join(each for each, found in published.items() if found is not None)
        expected = f"one that a recommended weight is published for: {with_weight}"
        remedy = "There is none for it; go by a car of your own that runs well."
        raise WrongKind("the scale", shown(scale_name), expected, remedy)
    return row
