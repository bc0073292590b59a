"""What takes room between a part and the chassis, or varies there: paint, tape, glue, stock, warmth."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING

from modelmath.clearance import Term
from modelmath.errors import UnknownChoice
from modelmath.lengths.text import format_length
from modelmath.tables import rows

if TYPE_CHECKING:
    from modelmath.job.bench.bench import Bench
    from modelmath.job.document import AllowEntry

WARMTH = "warmth"


@dataclass(frozen=True)
class Varying:
    """What takes room or varies, beside readings, seating and cutting.

    Attributes
    ----------
    terms : tuple of Term
        Each with the room it takes, below 0, and how far that may be off. [mm]
    takes_mm : Fraction
        The room that all of them take. [mm]
    warmth : Warmth or None
        What the model expands by; None where no change of temperature is entered. [-]
    """

    terms: tuple[Term, ...]
    takes_mm: Fraction
    warmth: Warmth | None = None

    def all_terms(self, roof_mm: float, top_mm: float, part_mm: float) -> tuple[Term, ...]:
        """Return every term, with what warmth does to these heights.

        Parameters
        ----------
        roof_mm, top_mm : float
            Heights of the roof's underside and of the chassis top above the seat. [mm]
        part_mm : float
            Height of the part that hangs from the roof. [mm]

        Returns
        -------
        tuple of Term
            The terms. [mm]

        References
        ----------
        Linear expansion; textbook.
        """
        if self.warmth is None or not self.warmth.change_k:
            return self.terms
        return (*self.terms, self.warmth.term(roof_mm, top_mm, part_mm))


@dataclass(frozen=True)
class Warmth:
    """How far the model gets warmer or colder than it was when measured.

    Attributes
    ----------
    change_k : float
        Either way. [K]
    shell_per_k, chassis_per_k : float
        Linear expansion of shell and part, and of the chassis. [1/K]
    """

    change_k: float
    shell_per_k: float
    chassis_per_k: float

    def term(self, roof_mm: float, top_mm: float, part_mm: float) -> Term:
        """Return what the gap below a part that hangs from the roof varies by.

        Parameters
        ----------
        roof_mm, top_mm, part_mm : float
            As `Varying.all_terms`. [mm]

        Returns
        -------
        Term
            About 0. [mm]

        References
        ----------
        Linear expansion; textbook.

        Examples
        --------
        >>> round(Warmth(15, 70e-6, 27e-6).term(30, 10, 15).tolerance_mm, 4)
        0.0117
        """
        per_k = self.shell_per_k * (roof_mm - part_mm) - self.chassis_per_k * top_mm
        return Term(WARMTH, 0.0, abs(per_k) * self.change_k)


@cache
def usual_terms() -> dict[str, tuple[Fraction, Fraction]]:
    """Return what each kind of term usually takes and varies by, each way, one layer.

    Returns
    -------
    dict of str to two Fraction
        Thickness and tolerance by kind. [mm]

    References
    ----------
    data/clearance_terms.csv, each row with its source.
    """
    found = {}
    for _, row in rows("clearance_terms.csv"):
        found[row["what"]] = (Fraction(row["thickness_mm"]), Fraction(row["tolerance_mm"]))
    return found


@cache
def expansions() -> dict[str, float]:
    """Return the linear expansion of what shells and chassis are made of.

    Returns
    -------
    dict of str to float
        By material. [1/K]

    References
    ----------
    data/expansion.csv, each row with its source.
    """
    return {row["material"]: float(row["per_kelvin"]) for _, row in rows("expansion.csv")}


def varying_of(bench: Bench) -> Varying:
    """Read what takes room or varies; faults stay with the bench.

    Parameters
    ----------
    bench : Bench
        The bench. [-]

    Returns
    -------
    Varying
        The terms. [mm]

    References
    ----------
    data/clearance_terms.csv, data/expansion.csv.
    """
    terms: list[Term] = []
    takes = Fraction(0)
    for place, entry in enumerate(bench.job.allow):
        with bench.at("allow", place):
            term, taken = _term(bench, entry, place)
            terms.append(term)
            takes += taken
    return Varying(tuple(terms), takes, _warmth(bench))


def _term(bench: Bench, entry: AllowEntry, place: int) -> tuple[Term, Fraction]:
    """Return the term of an entry, and the room it takes; layers vary independently only where their tolerances do."""
    thickness, tolerance = usual_terms()[entry.what]
    if entry.thickness is not None:
        thickness = bench.length(entry.thickness, "allow", place, "thickness")
    if entry.tolerance is not None:
        tolerance = bench.length(entry.tolerance, "allow", place, "tolerance")
    taken = thickness * entry.layers
    layers = f", {entry.layers} layers" if entry.layers > 1 else ""
    # Layers of one roll or one coat are alike, so that their tolerances add.
    name = f"{entry.name}{layers}" if not taken else f"{entry.name}{layers}, {format_length(taken, 'mm')}"
    return Term(name, -float(taken), float(tolerance * entry.layers)), taken


def _warmth(bench: Bench) -> Warmth | None:
    entry = bench.job.temperature
    if entry is None:
        return None
    per_k = []
    for half in ("shell", "chassis"):
        with bench.at("temperature", half):
            material = getattr(entry, half)
            if material not in expansions():
                raise UnknownChoice(f"the material of the {half}", material, list(expansions()))
            per_k.append(expansions()[material])
    return Warmth(entry.change, *per_k) if len(per_k) == 2 else None
