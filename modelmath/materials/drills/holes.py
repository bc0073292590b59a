"""The hole for a strand, a wire or a bundle: its drill in each set, pilots before it, and how far from an edge."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from modelmath.errors import DoesNotFit, OutOfRange, UnknownChoice, WrongKind, shown
from modelmath.materials.drills.bundles import Bundle, bundle_mm, bundle_of
from modelmath.materials.drills.names import nearest_drills
from modelmath.materials.drills.sets import CLEARANCE_MM, DRILL_SETS, Drill, DrillPick, pick_drill
from modelmath.materials.exact import exact_mm

PASSING = ("strand", "wire", "bundle")
PILOT_OVER_MM = Fraction(3)  # common practice, no source
PILOT_SHARE = Fraction(1, 2)  # common practice, no source
PILOT_NEAR = Fraction(1, 4)  # a pilot this part off what is wanted is no pilot for it: our choice
PLASTIC_LEFT = 1.0  # diameters left to an edge and between holes: common practice, no source
ADVICE = {
    "strand": "Take the next drill up where the strand is painted or bonded in (common practice, no source).",
    "wire": "Measure the wire over its insulation; soft insulation measures thin in a caliper.",
    "bundle": "Wires seldom lie as close as they can: thread them through a trial hole first.",
}


@dataclass(frozen=True)
class PilotStep:
    """One hole drilled on the way to a larger one.

    Attributes
    ----------
    wanted_mm : float
        About what it should be. [mm]
    drill : Drill or None
        The nearest drill at hand; None when none is about that size. [-]
    """

    wanted_mm: float
    drill: Drill | None


@dataclass(frozen=True)
class PassingHole:
    """A hole for what has to pass it.

    Attributes
    ----------
    passing : str
        What passes, one of `PASSING`. [-]
    passes_mm : float
        Diameter of what passes; of a bundle, over all. [mm]
    clearance_mm : float
        Least difference of the two diameters. [mm]
    picks : tuple of DrillPick
        The closest drill of each set that has one large enough, in the order the sets were given. [-]
    beyond : tuple of str
        The sets that have none large enough. [-]
    pilots : tuple of PilotStep
        Holes to drill first, the smallest first; none for a small hole. [-]
    plastic_left : float
        Plastic left between the hole and an edge or the next hole, in diameters of the hole. [-]
    advice : str
        What to mind with what passes. [-]
    bundle : Bundle or None
        How wires of several sizes were laid; None for all else. [-]
    """

    passing: str
    passes_mm: float
    clearance_mm: float
    picks: tuple[DrillPick, ...]
    beyond: tuple[str, ...]
    pilots: tuple[PilotStep, ...]
    plastic_left: float
    advice: str
    bundle: Bundle | None = None

    @property
    def best(self) -> DrillPick:
        """The closest drill of all sets; of two equal ones, that of the earlier set. [-]"""
        return min(self.picks, key=lambda pick: pick.diameter_mm)

    @property
    def from_edge_mm(self) -> float:
        """Least distance from the middle of the best drill's hole to an edge. [mm]"""
        return self.best.diameter_mm * (0.5 + self.plastic_left)

    @property
    def apart_mm(self) -> float:
        """Least distance between the middles of two such holes. [mm]"""
        return self.best.diameter_mm * (1 + self.plastic_left)


def hole_for(
    passing: str,
    diameter_mm: Fraction | float | Sequence[Fraction | float],
    count: int = 1,
    *,
    clearance_mm: Fraction | float = CLEARANCE_MM,
    sets: Sequence[str] = DRILL_SETS,
    plastic_left: float = PLASTIC_LEFT,
) -> PassingHole:
    """Return the hole that passes a strand, a wire with its insulation, or a bundle.

    Parameters
    ----------
    passing : {"strand", "wire", "bundle"}
        What passes. [-]
    diameter_mm : Fraction, float or sequence of them
        Its diameter; for a bundle of several sizes, that of each wire. [mm]
    count : int
        How many of one size make the bundle, 1 to 20; 1 for all else. [-]
    clearance_mm : Fraction or float
        Least difference of the two diameters; 0.05 is common practice, no source. [mm]
    sets : sequence of {"number", "letter", "fraction", "metric"}
        The drill sets at hand. [-]
    plastic_left : float
        Plastic to leave to an edge and between holes, in diameters of the hole; 1 is common practice, no source. [-]

    Returns
    -------
    PassingHole
        Its drill in each set, its pilots and its distances.

    Raises
    ------
    OutOfRange, WrongKind
        If a number is no usable length or count, no set is given, or a strand or a wire comes with a count.
    UnknownChoice
        If `passing` or a set is unknown.
    DoesNotFit
        If no drill at hand is large enough.

    References
    ----------
    Sizes: data/drills_*.csv. Bundles: data/circle_packing.csv. Clearance, pilots, distances: common practice, no
    source.

    Examples
    --------
    Seven wires of 0.6 mm:

    >>> hole = hole_for("bundle", 0.6, 7, sets=("number", "metric"))
    >>> round(hole.passes_mm, 2), [pick.name for pick in hole.picks], round(hole.from_edge_mm, 2)
    (1.8, ['#49', '1.85 mm'], 2.78)
    """
    if passing not in PASSING:
        raise UnknownChoice("what passes", passing, PASSING)
    left = _times(plastic_left)
    over_all, bundle = _over_all(passing, diameter_mm, count)
    picks, beyond = _of_each_set(over_all, clearance_mm, tuple(sets))
    best = min(picks, key=lambda pick: pick.diameter_mm)
    room = float(exact_mm(clearance_mm, "clearance_mm", zero=True))
    pilots = pilot_steps(best.diameter_mm, sets)
    return PassingHole(passing, over_all, room, picks, beyond, pilots, left, ADVICE[passing], bundle)


def _times(plastic_left: float) -> float:
    if isinstance(plastic_left, bool) or not isinstance(plastic_left, (int, float, Fraction)):
        raise WrongKind("plastic_left", shown(str(plastic_left)), "a number of diameters", "Write 1 for one diameter.")
    if not 0 <= plastic_left <= 10:
        given = f"{float(plastic_left):g} diameters"
        raise OutOfRange("plastic_left", given, "from 0 to 10 diameters", "Write 1 for one diameter.")
    return float(plastic_left)


def _over_all(
    passing: str, diameter_mm: Fraction | float | Sequence[Fraction | float], count: int
) -> tuple[float, Bundle | None]:
    """Return the diameter of what passes, and how wires of several sizes were laid."""
    if isinstance(diameter_mm, Sequence) and not isinstance(diameter_mm, str):
        if passing != "bundle" or count != 1:
            raise WrongKind("diameter_mm", "several sizes", "one size", "Give several for a bundle, without a count.")
        bundle = bundle_of(diameter_mm)
        return bundle.outside_mm, bundle
    if passing == "bundle":
        return bundle_mm(diameter_mm, count), None
    if count != 1:
        raise OutOfRange("count", str(count), f"1 for a {passing}", "Write bundle for more than one.")
    return float(exact_mm(diameter_mm, "diameter_mm")), None


def _of_each_set(
    over_all: float, clearance_mm: Fraction | float, sets: tuple[str, ...]
) -> tuple[tuple[DrillPick, ...], tuple[str, ...]]:
    """Return the closest drill of each set, and the sets that have none large enough."""
    pick_drill(over_all, clearance_mm, sets, most=1)  # refuses when no set at all has one
    picks, beyond = list[DrillPick](), list[str]()
    for name in dict.fromkeys(sets):
        try:
            picks += pick_drill(over_all, clearance_mm, (name,), most=1)
        except DoesNotFit:
            beyond.append(name)
    return tuple(picks), tuple(beyond)


def pilot_steps(diameter_mm: Fraction | float, sets: Sequence[str] = DRILL_SETS) -> tuple[PilotStep, ...]:
    """Return the holes to drill before a hole in plastic: each about half the next, until one is 3 mm or less.

    Parameters
    ----------
    diameter_mm : Fraction or float
        The hole wanted. [mm]
    sets : sequence of {"number", "letter", "fraction", "metric"}
        The drill sets at hand. [-]

    Returns
    -------
    tuple of PilotStep
        The smallest first; none for a hole of 3 mm or less.

    Raises
    ------
    OutOfRange, WrongKind
        If the diameter is no usable length.
    UnknownChoice
        If a set is unknown.

    References
    ----------
    Common practice, no source: a pilot of about half, for holes over about 3 mm. That a drill more than a quarter off
    is no pilot is our choice.

    Examples
    --------
    >>> [(step.wanted_mm, step.drill.name) for step in pilot_steps(5.0, ("metric",))]
    [(2.5, '2.50 mm')]
    """
    wanted, steps = exact_mm(diameter_mm, "diameter_mm"), list[PilotStep]()
    while wanted > PILOT_OVER_MM:
        wanted *= PILOT_SHARE
        steps.append(PilotStep(float(wanted), _about(wanted, sets)))
    return tuple(reversed(steps))


def _about(wanted: Fraction, sets: Sequence[str]) -> Drill | None:
    """Return the drill at hand nearest to a size, if it is about that size."""
    nearest = min(
        (near.nearest for near in nearest_drills(wanted, sets)), key=lambda drill: abs(drill.exact_mm - wanted)
    )
    return nearest if abs(nearest.exact_mm - wanted) <= wanted * PILOT_NEAR else None


def closest_of(drills: Sequence[Drill], hole: PassingHole) -> Drill | None:
    """Return the closest of some drills that makes a hole, such as those in the drawer.

    Parameters
    ----------
    drills : sequence of Drill
        Those at hand. [-]
    hole : PassingHole
        The hole wanted. [-]

    Returns
    -------
    Drill or None
        The thinnest that leaves the clearance; None when all are too thin.

    References
    ----------
    Comparison of diameters.

    Examples
    --------
    >>> from modelmath.materials.drills.names import drill
    >>> closest_of([drill("#60"), drill("#65"), drill("#70")], hole_for("strand", 0.762)).name
    '#65'
    """
    needed = exact_mm(hole.passes_mm, "passes_mm") + exact_mm(hole.clearance_mm, "clearance_mm", zero=True)
    large = [drill for drill in drills if drill.exact_mm >= needed]
    return min(large, key=lambda drill: drill.exact_mm, default=None)
