"""Drills by name, and the drill that passes a wire, a fibre strand or a pin."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import cache

from modelmath.errors import DoesNotFit, OutOfRange, TableError, UnknownChoice
from modelmath.lengths.units import MM_PER_INCH
from modelmath.materials.exact import exact_mm, half_last_digit
from modelmath.tables import rows

DRILL_SETS = ("number", "letter", "fraction", "metric")
CLEARANCE_MM = 0.05  # common practice, no source: a slip fit for a wire or fibre; more if painting or bonding
FRAGILE_MM = MM_PER_INCH * Fraction("0.0400")
# Tool-shop safety text for small drills; it speaks of number drills, and other drills that thin are no stronger.
FRAGILE_CAUTION = (
    "Drills of 0.0400 in and under break easily, number drills from #60 on: hold them in a pin vice, clamp the work, "
    "wear eye protection, and follow the tool's own instructions."
)


@dataclass(frozen=True)
class Drill:
    """One drill of a set.

    Attributes
    ----------
    name : str
        As it is asked for: ``#67``, ``A``, ``1/16 in``, ``0.80 mm``. [-]
    set : str
        The set it belongs to, one of `DRILL_SETS`. [-]
    exact_mm : Fraction
        Diameter, exact. [mm]
    source : str
        Where the size was read. [-]
    """

    name: str
    set: str
    exact_mm: Fraction
    source: str

    @property
    def diameter_mm(self) -> float:
        """Diameter. [mm]"""
        return float(self.exact_mm)

    @property
    def caution(self) -> str:
        """What to mind when using it; empty when nothing special. [-]"""
        return FRAGILE_CAUTION if self.exact_mm <= FRAGILE_MM else ""


@dataclass(frozen=True)
class DrillPick:
    """A drill that passes a diameter, with what is left round it.

    Attributes
    ----------
    name : str
        As it is asked for: ``#67``, ``A``, ``1/16 in``, ``0.80 mm``. [-]
    diameter_mm : float
        The drill's diameter. [mm]
    clearance_mm : float
        Drill diameter less the diameter it passes. [mm]
    set : str
        The set it belongs to. [-]
    source : str
        Where the size was read. [-]
    caution : str
        What to mind when using it; empty when nothing special. [-]
    """

    name: str
    diameter_mm: float
    clearance_mm: float
    set: str
    source: str
    caution: str


def _diameter(file: str, line: int, row: dict[str, str]) -> Fraction:
    """Return a row's exact diameter in mm; the column that only repeats it, rounded, must agree to its last digit."""
    inch, mm = row["diameter_in"], row["diameter_mm"]
    metric = file == "drills_metric.csv"
    rounding = MM_PER_INCH * half_last_digit(inch) if metric else half_last_digit(mm)
    if abs(Fraction(mm) - MM_PER_INCH * Fraction(inch)) > rounding:
        raise TableError(file, line, f"{mm} mm and {inch} in disagree")
    return Fraction(mm) if metric else MM_PER_INCH * Fraction(inch)


def _read(set_name: str, name_of: Callable[[dict[str, str]], str]) -> tuple[Drill, ...]:
    file, found = f"drills_{set_name}.csv", dict[str, Drill]()
    for line, row in rows(file):
        name = name_of(row)
        if name in found:
            raise TableError(file, line, f"{name} is there twice")
        found[name] = Drill(name, set_name, _diameter(file, line, row), row["source"])
        if set_name == "fraction":
            inch = Fraction(row["fraction_in"])
            if inch != Fraction(int(row["sixtyfourths"]), 64) or found[name].exact_mm != MM_PER_INCH * inch:
                raise TableError(file, line, f"{row['fraction_in']} in, its 64ths and its diameter disagree")
    return tuple(found.values())


@cache
def drill_set(set_name: str) -> tuple[Drill, ...]:
    """Return the drills of one set, in the order of its table.

    Parameters
    ----------
    set_name : {"number", "letter", "fraction", "metric"}
        Which set. [-]

    Returns
    -------
    tuple of Drill
        Each with its exact diameter and its source.

    Raises
    ------
    UnknownChoice
        If there is no such set.
    TableError
        If a row's mm and inch disagree, or a name is there twice.

    References
    ----------
    data/drills_*.csv, each row with its source: ANSI/ASME B94.11M (number, letter, 64ths), BS 328 (metric).

    Examples
    --------
    >>> drill_set("number")[66].name, drill_set("number")[66].diameter_mm
    ('#67', 0.8128)
    """
    names: dict[str, Callable[[dict[str, str]], str]] = {
        "number": lambda row: f"#{int(row['number'])}",
        "letter": lambda row: row["letter"],
        "fraction": lambda row: f"{row['fraction_in']} in",
        "metric": lambda row: f"{Decimal(row['diameter_mm']):.2f} mm",
    }
    if set_name not in names:
        raise UnknownChoice("drill set", set_name, DRILL_SETS)
    return _read(set_name, names[set_name])


@cache
def _by_size(sets: tuple[str, ...]) -> tuple[Drill, ...]:
    """Return the drills of some sets, the smallest first, equal ones in the order of their sets."""
    return tuple(sorted((drill for name in sets for drill in drill_set(name)), key=lambda drill: drill.exact_mm))


def number_drills() -> dict[int, Drill]:
    """Return number drills by number, 1 to 97.

    Returns
    -------
    dict of int to Drill
        Each with its exact diameter and its source.

    References
    ----------
    data/drills_number.csv: 1 to 80 ANSI/ASME B94.11M; 81 to 97 from memory.

    Examples
    --------
    >>> number_drills()[80].diameter_mm
    0.3429
    """
    return {int(drill.name[1:]): drill for drill in drill_set("number")}


def pick_drill(
    diameter_mm: Fraction | float,
    clearance_mm: Fraction | float = CLEARANCE_MM,
    sets: Sequence[str] = ("number",),
    most: int = 3,
) -> list[DrillPick]:
    """Drills that pass a diameter with its clearance, the closest first.

    Parameters
    ----------
    diameter_mm : Fraction or float
        What has to pass: a strand, a wire with its insulation, a pin. [mm]
    clearance_mm : Fraction or float
        Least difference of the two diameters; 0.05 is common practice, no source. [mm]
    sets : sequence of {"number", "letter", "fraction", "metric"}
        The drill sets at hand; of two equal drills the one of the earlier set comes first. [-]
    most : int
        How many to name at most. [-]

    Returns
    -------
    list of DrillPick
        The smallest drill that passes first.

    Raises
    ------
    OutOfRange, WrongKind
        If a number is no usable length, or no set or no pick is asked for.
    UnknownChoice
        If a set is unknown.
    DoesNotFit
        If no drill of these sets is large enough; says which set is.

    References
    ----------
    Sizes: data/drills_*.csv. Clearance: common practice, no source.

    Examples
    --------
    A strand of 0.030 in:

    >>> [pick.name for pick in pick_drill(0.762)]
    ['#67', '#66', '#65']
    """
    passes, room = exact_mm(diameter_mm, "diameter_mm"), exact_mm(clearance_mm, "clearance_mm", zero=True)
    chosen = (sets,) if isinstance(sets, str) else tuple(sets)
    if not chosen:
        raise OutOfRange("sets", "empty", "one drill set or more", f"Write some of {', '.join(DRILL_SETS)}.")
    if most < 1:
        raise OutOfRange("most", str(most), "1 or more", "Leave it out for 3.")
    at_hand = _by_size(chosen)
    first = bisect_left(at_hand, passes + room, key=lambda drill: drill.exact_mm)
    if first == len(at_hand):
        raise _too_large(passes, room, chosen, max(at_hand, key=lambda drill: drill.exact_mm))
    return [
        DrillPick(
            drill.name,
            drill.diameter_mm,
            float(drill.exact_mm - passes),
            drill.set,
            drill.source,
            drill.caution,
        )
        for drill in at_hand[first : first + most]
    ]


def _too_large(passes: Fraction, room: Fraction, chosen: Sequence[str], largest: Drill) -> DoesNotFit:
    """Return the error for a diameter no drill at hand passes, naming a set that has one."""
    others = [name for name in DRILL_SETS if name not in chosen]
    reach = [name for name in others if max(drill.exact_mm for drill in drill_set(name)) >= passes + room]
    remedy = (
        f"Add the {reach[0]} set." if reach else "No set here reaches it: open the largest hole with a file or reamer."
    )
    return DoesNotFit(
        f"A diameter of {float(passes):.2f} mm with {float(room):.2f} mm round it",
        float(passes + room - largest.exact_mm),
        f"the largest drill at hand is {largest.name}, {largest.diameter_mm:.2f} mm",
        remedy,
    )
