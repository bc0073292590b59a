"""A leak test at the bench, before the chamber is closed up in the model: gentle pressure, water and soap, no flame."""

from __future__ import annotations

from collections.abc import Sequence
from math import log, pi, sqrt

from modelmath.errors import NotYetKnown, OutOfRange
from modelmath.lengths.numbers import check_number
from modelmath.sound.air import ROOM_AIR, Air
from modelmath.sound.driver.completing import complete
from modelmath.sound.driver.driver import LABELS, Driver
from modelmath.sound.driver.relations import MM2, MM3
from modelmath.sound.leaks.bench import SEEN_S, LeakTest, spills_mm_water
from modelmath.sound.leaks.leak import Leak
from modelmath.sound.leaks.sealing import Sealing

WATER_KG_M3, GRAVITY_M_S2 = 998.2, 9.80665  # water at 20 C, handbooks, from memory; standard gravity
PRESSURE_PA = 101_325.0  # of the atmosphere
ENTRY_AND_EXIT = 1.5  # pressure heads lost at a sharp entry, 0.5, and at the exit, 1; textbooks of flow, from memory
ML = 1e-6  # in m3
NEEDED = ("vas_mm3", "sd_mm2", "xmax_mm")
SHARE_OF_TRAVEL = 0.5  # of Xmax that the test may use up
PRESSURES_MM_WATER = (30.0, 20.0, 10.0, 5.0)  # by a millimetre rule beside the tube; the higher the easier to read
SYRINGES_ML = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0)  # usual sizes
BORES_MM = (6.0, 4.0, 3.0, 2.0)  # usual clear tubes; common practice, no source
TIMED_S = 3.0, 30.0  # what a hand on the syringe and a watch can time; common practice, no source


def leak_test(
    driver: Driver,
    volume_mm3: float,
    limits: Sealing,
    *,
    pressure_mm_water: float | None = None,
    syringe_ml: float | None = None,
    bore_mm: float | None = None,
) -> LeakTest:
    """Return the numbers of a leak test for a chamber with its speaker in.

    Parameters
    ----------
    driver : Driver
        Its parameters; what is missing is completed; the best values count. [-]
    volume_mm3 : float
        The chamber. [mm3]
    limits : Sealing
        The largest hole and gap. [-]
    pressure_mm_water : float or None
        Pressure to test at; if not given the highest of 30, 20, 10 and 5 mm that moves the cone no more than half of
        Xmax and empties a usual syringe in a time that can be taken by hand; where even 5 mm moves it further, what
        moves it half of Xmax. [mm]
    syringe_ml : float or None
        What the syringe holds; if not given the usual size that is empty nearest to 10 s, of 3 to 30 s. [ml]
    bore_mm : float or None
        Bore of the U-tube; if not given the widest of 6, 4, 3 and 2 mm whose water still closes the bend at that
        pressure. [mm]

    Returns
    -------
    LeakTest
        In numbers and words. [-]

    Raises
    ------
    NotYetKnown
        If the cone's travel is not known and follows from nothing.
    OutOfRange, WrongKind
        If a number is not above 0, or the pressure would move the cone beyond Xmax.

    Notes
    -----
    Steady flow through the largest hole and through the widest gap, each alone: ``p = R Q + 1.5 rho/2 (Q/A)^2``. The
    lesser flow is tight enough; the greater is not. The chamber, the cone and the U-tube hold air by ``C = V/p0 +
    Vas/(rho c^2) + A/(2 rho_w g)``, since slow air keeps its temperature; with R alone the level halves in
    ``ln 2 R C``. The steady flow stands for how the leak behaves at the resonance: close for gaps, rough for holes.
    A speaker that lets air through its own dust cap or surround counts as a leak too.

    References
    ----------
    Poiseuille; Bernoulli with the losses of entry and exit, textbooks of flow (from memory); hydrostatics.

    Examples
    --------
    >>> from modelmath.sound.leaks.sealing import sealing
    >>> sample = Driver("sample", fs_hz=500, qes=1, qms=4, vas_mm3=2000, sd_mm2=100, re_ohm=7, xmax_mm=0.4)
    >>> test = leak_test(sample, 8000.0, sealing(sample, 8000.0, joint_mm=60))
    >>> round(test.pressure_mm_water, 1), round(test.allowed_mm_water), round(test.syringe_s, 1)
    (30.0, 290, 8.6)
    >>> test.limit
    'Never more than 280 mm of water: it would push the cone beyond its travel. In a tight chamber 4.3 ml pushed in ...'
    """
    _check("the volume of the chamber", volume_mm3, "Write it in mm3, such as 8000.")
    if syringe_ml is not None:
        _check("the syringe's volume", syringe_ml)
    if bore_mm is not None:
        _check("the U-tube's bore", bore_mm)
    air = limits.air
    whole = driver if all(driver.known(field) is not None for field in NEEDED) else complete(driver, air)
    allowed_pa = travel_pressure_pa(whole, air)
    leaks = limits.largest_hole, limits.largest_gap
    pressure_pa, syringe = _chosen(_pressures_pa(pressure_mm_water, allowed_pa), syringe_ml, leaks)
    bore_mm = bore_mm or _bore_mm(_mm_water(pressure_pa), _mm_water(allowed_pa))
    flows = [steady_flow_m3_s(leak, pressure_pa) for leak in leaks]
    vas = whole.known("vas_mm3")
    assert vas is not None  # the travel's pressure asked for it
    held = volume_mm3 * MM3 / PRESSURE_PA + vas.value * MM3 / air.stiffness_pa
    falls = [half_fall_s(leak, pressure_pa, 1.0) for leak in leaks]  # for each m3/Pa held
    weight = 2 * WATER_KG_M3 * GRAVITY_M_S2
    with_tube = held + pi / 4 * bore_mm**2 * MM2 / weight
    more = SEEN_S / max(falls) - held
    bore_to_see = sqrt(max(more, 0.0) * weight * 4 / pi / MM2)
    return LeakTest(
        _mm_water(pressure_pa),
        _mm_water(allowed_pa),
        with_tube * allowed_pa / ML,
        tuple(LABELS[field].partition(",")[0] for field in NEEDED if _estimated(whole, field)),
        min(flows) / ML,
        max(flows) / ML,
        syringe,
        float(bore_mm),
        max(falls) * with_tube,
        bore_to_see,
    )


def steady_flow_m3_s(leak: Leak, pressure_pa: float) -> float:
    """Return the flow that a steady pressure drives through an opening.

    Parameters
    ----------
    leak : Leak
        The opening. [-]
    pressure_pa : float
        The pressure inside over that outside. [Pa]

    Returns
    -------
    float
        Volume flow. [m3/s]

    References
    ----------
    Poiseuille, with 1.5 times the dynamic pressure lost at entry and exit, textbooks of flow, from memory.

    Examples
    --------
    >>> from modelmath.sound.leaks.leak import slot
    >>> f"{steady_flow_m3_s(slot(60.0, 0.04, 2.0), 294.0) * 1e6:.1f} ml/s"
    '2.6 ml/s'
    """
    square, linear = _square(leak), leak.resistance
    return 2 * pressure_pa / (linear + sqrt(linear**2 + 4 * square * pressure_pa))


def half_fall_s(leak: Leak, pressure_pa: float, held_m3_pa: float) -> float:
    """Return the time in which the pressure falls by half through an opening.

    Parameters
    ----------
    leak : Leak
        The opening. [-]
    pressure_pa : float
        The pressure at first. [Pa]
    held_m3_pa : float
        Air held for each Pa. [m3/Pa]

    Returns
    -------
    float
        ``ln 2 R C`` where the flow is slow. [s]

    References
    ----------
    ``C dp/dt = -Q`` with `steady_flow_m3_s`, integrated.

    Examples
    --------
    >>> from modelmath.sound.leaks.leak import slot
    >>> round(half_fall_s(slot(60.0, 0.04, 2.0), 294.0, 1.5e-9), 3)
    0.118
    """
    first, last = (steady_flow_m3_s(leak, pressure) for pressure in (pressure_pa, pressure_pa / 2))
    return held_m3_pa * (leak.resistance * log(first / last) + 2 * _square(leak) * (first - last))


def travel_pressure_pa(driver: Driver, air: Air = ROOM_AIR) -> float:
    """Return the steady pressure that moves a cone as far as Xmax.

    Parameters
    ----------
    driver : Driver
        With Vas, Sd and Xmax known. [-]
    air : Air
        The air. [-]

    Returns
    -------
    float
        ``p = xmax / (Cms Sd) = rho c^2 Sd xmax / Vas``; least over the limits of each. [Pa]

    Raises
    ------
    NotYetKnown
        If one of the three is not known.

    References
    ----------
    Hooke; Small 1972 for Vas.

    Examples
    --------
    >>> sample = Driver("sample", vas_mm3=2000, sd_mm2=100, xmax_mm=0.4)
    >>> round(travel_pressure_pa(sample))
    2837
    """
    vas, area, travel = (driver.known(field) for field in NEEDED)
    if vas is None or area is None or travel is None:
        missing = " and ".join(LABELS[field] for field in NEEDED if driver.known(field) is None)
        raise NotYetKnown(f"The pressure that the {driver.name} stands", f"its {missing}")
    return air.stiffness_pa * area.low * travel.low / vas.high


def _pressures_pa(pressure_mm_water: float | None, allowed_pa: float) -> list[float]:
    """Return the pressures to choose among, the highest first."""
    if pressure_mm_water is None:
        half = SHARE_OF_TRAVEL * allowed_pa
        return [each / _mm_water(1.0) for each in PRESSURES_MM_WATER if each / _mm_water(1.0) <= half] or [half]
    _check("the pressure of the test", pressure_mm_water)
    if pressure_mm_water > (most := _mm_water(allowed_pa)):
        given, expected = f"{pressure_mm_water:g} mm of water", f"at most {most:.3g} mm, where the cone reaches Xmax"
        raise OutOfRange("the pressure of the test", given, expected, "Leave it out for a gentle one.")
    return [pressure_mm_water / _mm_water(1.0)]


def _chosen(pressures_pa: Sequence[float], syringe_ml: float | None, leaks: Sequence[Leak]) -> tuple[float, float]:
    """Return the pressure and the syringe whose times can be taken by hand, at the highest pressure that has one.

    Both times count, that of a tight chamber and that of a leaky one; where no pair has both in the range the first
    does; where none has that either, the pair nearest to the range.
    """
    syringes = SYRINGES_ML if syringe_ml is None else (float(syringe_ml),)
    low, high = TIMED_S

    def place(pair: tuple[int, float]) -> tuple[float, bool, int, float]:
        order, syringe = pair
        flows = [steady_flow_m3_s(leak, pressures_pa[order]) / ML for leak in leaks]
        tight_s, leaky_s = syringe / min(flows), syringe / max(flows)
        outside = max(low / tight_s, tight_s / high, 1.0)
        return outside, leaky_s < low, order, abs(log(tight_s**2 / low / high))

    order, syringe = min(((order, each) for order in range(len(pressures_pa)) for each in syringes), key=place)
    return pressures_pa[order], syringe


def _bore_mm(pressure_mm_water: float, allowed_mm_water: float) -> float:
    """Return the widest bore whose bend stays under water: filled to half of its arm, one level sinks by half of p."""
    still = spills_mm_water(pressure_mm_water, allowed_mm_water) / 2
    return next((each for each in BORES_MM if still - pressure_mm_water / 2 >= each), BORES_MM[-1])


def _estimated(driver: Driver, field: str) -> bool:
    known = driver.known(field)
    return known is not None and known.origin == "estimated"


def _mm_water(pressure_pa: float) -> float:
    return pressure_pa / (WATER_KG_M3 * GRAVITY_M_S2) * 1000


def _square(leak: Leak) -> float:
    return ENTRY_AND_EXIT * leak.air.density_kg_m3 / 2 / leak.area_m2**2


def _check(name: str, number: float, write: str = "Leave it out for the usual one.") -> None:
    check_number(name, number)
    if number <= 0:
        raise OutOfRange(name, f"{number:g}", "above 0", write)
