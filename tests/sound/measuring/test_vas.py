"""Vas from a second sweep: from masses, springs and a force factor, which the method knows nothing of."""

from __future__ import annotations

import re
from math import pi, sqrt

import numpy as np
import pytest
from sound.measuring.simulated import even, swept
from uncertainties import ufloat

from modelmath.errors import NotYetKnown, OutOfRange, WrongKind
from modelmath.quantities.known import Known
from modelmath.sound.air import ROOM_AIR
from modelmath.sound.measuring.estimate import coverage_factor
from modelmath.sound.measuring.fit import fit_sweep
from modelmath.sound.measuring.sweep import Sweep
from modelmath.sound.measuring.vas import uncertain_of, vas_by_added_mass, vas_by_test_box

# An invented speaker: resistance, force factor, mass, compliance, mechanical resistance, area.
RE, BL, MMS, CMS, RMS, SD = 7.2, 1.0, 0.12e-3, 0.9e-3, 0.09, 95e-6
RHO_C2 = 1.204 * 343.2**2  # of air at 20 C, handbooks
VAS_MM3 = RHO_C2 * SD**2 * CMS * 1e9
BOX_MM3 = 1500.0


def impedance(mass=MMS, stiffness=1 / CMS, resistance=RMS):
    """Return the impedance from the mechanics: Z = Re + Bl^2 / (Rms + j w M + k / (j w))."""

    def at(f):
        w = 2 * pi * f
        return RE + BL**2 / (resistance + 1j * w * mass + stiffness / (1j * w))

    return at


IN_BOX = 1 / CMS + RHO_C2 * SD**2 / (BOX_MM3 * 1e-9)


def fit_of(curve, scatter=0.0, seed=1):
    return fit_sweep(swept(curve, even(100, 4000, 120), scatter, seed=seed))


FREE = fit_of(impedance())


def test_free_air_parameters_are_those_of_the_mechanics():
    """fs = 1/(2 pi sqrt(M C)), Qms = 1/(w C R), Qes = w M Re / Bl^2: Small 1972."""
    ws = 1 / sqrt(MMS * CMS)
    assert FREE.fs.value == pytest.approx(ws / 2 / pi, rel=1e-5)
    assert FREE.qms.value == pytest.approx(1 / (ws * CMS * RMS), rel=1e-4)
    assert FREE.qes.value == pytest.approx(ws * MMS * RE / BL**2, rel=1e-4)


@pytest.mark.parametrize("added", [0.0, 0.02e-3, -0.01e-3])
def test_the_test_box_gives_vas_whatever_its_air_adds_to_the_mass(added):
    found = vas_by_test_box(FREE, fit_of(impedance(MMS + added, IN_BOX, 1.3 * RMS)), BOX_MM3)
    assert found.value == pytest.approx(VAS_MM3, rel=1e-3)


def test_an_added_mass_gives_mass_compliance_and_vas():
    found = vas_by_added_mass(FREE, fit_of(impedance(MMS + 0.06e-3)), 0.06, 95.0)
    assert found.mms_g.value == pytest.approx(0.12, rel=1e-4)
    assert found.cms_mm_n.value == pytest.approx(0.9, rel=1e-4)
    # What the handbook's air leaves between 1.204 kg/m3, 343.2 m/s and the package's own air is a thousandth.
    assert found.vas_mm3.value == pytest.approx(VAS_MM3, rel=2e-3)
    assert found.vas_mm3.value == pytest.approx(ROOM_AIR.stiffness_pa * SD**2 * 0.9e-3 * 1e9, rel=1e-4)


def test_a_stated_uncertainty_of_the_volume_goes_through():
    """Vas is in proportion to the volume: without scatter their relative uncertainties are equal."""
    found = vas_by_test_box(FREE, fit_of(impedance(stiffness=IN_BOX)), ufloat(BOX_MM3, 30.0))
    assert found.u / found.value == pytest.approx(0.02, rel=1e-3)
    assert found.high / found.value == pytest.approx(np.exp(1.959964 * 0.02), rel=1e-4)


def test_stated_uncertainties_of_mass_and_area_go_through():
    """Mms is in proportion to the mass, Vas to the area squared over the mass."""
    found = vas_by_added_mass(FREE, fit_of(impedance(MMS + 0.06e-3)), ufloat(0.06, 0.0012), ufloat(95, 0.95))
    assert found.mms_g.u / found.mms_g.value == pytest.approx(0.02, rel=1e-3)
    assert found.vas_mm3.u / found.vas_mm3.value == pytest.approx(sqrt(0.02**2 + 0.02**2), rel=1e-3)


def test_the_intervals_hold_what_is_true_over_many_pairs_of_sweeps():
    """Of 60 pairs, 57 are to be expected at 95 %; fewer than 51 would come by chance once in a thousand."""
    boxed, loaded = impedance(stiffness=IN_BOX), impedance(MMS + 0.06e-3)
    true = ROOM_AIR.stiffness_pa * SD**2 * CMS * 1e9
    random, held = np.random.default_rng(8), {"box": 0, "mass": 0}
    for seed in range(60):
        free = fit_of(impedance(), 0.01, seed)
        by_box = vas_by_test_box(free, fit_of(boxed, 0.01, 900 + seed), ufloat(BOX_MM3 + 10 * random.normal(), 10.0))
        mass = ufloat(0.06 + 0.001 * random.normal(), 0.001)
        by_mass = vas_by_added_mass(free, fit_of(loaded, 0.01, 1900 + seed), mass, 95.0).vas_mm3
        held["box"] += by_box.low <= VAS_MM3 <= by_box.high
        held["mass"] += by_mass.low <= true <= by_mass.high
    assert min(held.values()) >= 51, held


def test_degrees_of_freedom_are_those_of_what_weighs_most():
    """Welch and Satterthwaite, JCGM 100:2008, G.4.1: between the lesser of the two sweeps' and infinite."""
    free, boxed = fit_of(impedance(), 0.01), fit_of(impedance(stiffness=IN_BOX), 0.01, 2)
    exact = vas_by_test_box(free, boxed, BOX_MM3)
    assert min(free.dof, boxed.dof) <= exact.dof <= free.dof + boxed.dof
    heavy = fit_of(impedance(MMS + 0.06e-3), 0.01, 2)
    mass = vas_by_added_mass(free, heavy, 0.06, 95.0).mms_g  # some hundredths of a g: no number to round to wholes
    assert min(free.dof, heavy.dof) <= mass.dof <= free.dof + heavy.dof
    vague = vas_by_test_box(free, boxed, ufloat(BOX_MM3, 300.0))
    assert vague.dof > 1000
    reach = np.log(exact.high / exact.value) / (exact.u / exact.value)
    assert reach == pytest.approx(coverage_factor(exact.dof))


def test_limits_are_taken_as_even():
    """Half width over sqrt(3): JCGM 100:2008, 4.3.7."""
    found = uncertain_of(Known(2000.0, 1900.0, 2200.0))
    assert (found.n, found.s) == (2050.0, pytest.approx(150 / sqrt(3)))


SWAPPED = "Check that the box is sealed and that the two sweeps are not swapped; then sweep both again."
MOVES = "Check that the mass moves with the cone and that the two sweeps are not swapped; then sweep both again."


def refused(error, said):
    return pytest.raises(error, match=f"^{re.escape(said)}$")


def test_sweeps_that_contradict_the_method_are_refused():
    boxed, loaded = fit_of(impedance(stiffness=IN_BOX)), fit_of(impedance(MMS + 0.06e-3))
    low, high = f"{FREE.fs.value:.4g}", f"{boxed.fs.value:.4g}"
    said = f"the resonance in the test box is {low} Hz; it must be above that in free air, {high} Hz. {SWAPPED}"
    with refused(OutOfRange, said):
        vas_by_test_box(boxed, FREE, BOX_MM3)
    said = f"the resonance in the test box is {low} Hz; it must be above that in free air, {low} Hz. {SWAPPED}"
    with refused(OutOfRange, said):
        vas_by_test_box(FREE, FREE, BOX_MM3)
    # Softer than in free air and a third lighter: higher, and yet no box.
    softer = fit_of(impedance(MMS * 0.7, 0.95 / CMS))
    found, wanted = (f"{fit.fs.value * fit.qes.value:.4g}" for fit in (softer, FREE))
    with refused(OutOfRange, f"fc Qec in the test box is {found} Hz; it must be above fs Qes, {wanted} Hz. {SWAPPED}"):
        vas_by_test_box(FREE, softer, BOX_MM3)
    with refused(
        OutOfRange,
        f"the resonance with the mass added is {low} Hz; it must be below that without it, {loaded.fs.value:.4g} Hz. "
        f"{MOVES}",
    ):
        vas_by_added_mass(loaded, FREE, 0.06, 95.0)


@pytest.mark.parametrize("value", [0.0, -1.0, float("inf"), float("nan")])
def test_senseless_volumes_masses_and_areas_are_refused(value):
    loaded = fit_of(impedance(MMS + 0.06e-3))
    given = f"{value:g}"
    with refused(
        OutOfRange,
        f"the volume of the test box is {given} mm3; it must be above 0 and finite. Write its net volume, such as "
        "20000 mm3.",
    ):
        vas_by_test_box(FREE, FREE, value)
    said = f"the mass added is {given} g; it must be above 0 and finite. Write what it weighs, such as 0.2 g."
    with refused(OutOfRange, said):
        vas_by_added_mass(FREE, loaded, value, 95.0)
    said = (
        f"the cone area Sd is {given} mm2; it must be above 0 and finite. Write the cone with half its surround, such "
        "as 90 mm2."
    )
    with refused(OutOfRange, said):
        vas_by_added_mass(FREE, loaded, 0.06, value)


def test_text_is_no_volume():
    said = (
        "the volume of the test box is '2 cm3'; expected a number of mm3, or an uncertain number. Write its net "
        "volume, such as 20000 mm3."
    )
    with refused(WrongKind, said):
        vas_by_test_box(FREE, FREE, "2 cm3")


@pytest.mark.parametrize("value", [True, None, [95]])
def test_what_is_no_plain_number_is_no_mass_and_no_area(value):
    given = re.escape(repr(value))
    with pytest.raises(
        WrongKind, match=rf"^the mass added is {given}; expected a number of g, or an uncertain number\."
    ):
        vas_by_added_mass(FREE, FREE, value, 95.0)
    with pytest.raises(WrongKind, match=rf"^the cone area Sd is {given}; expected a number of mm2, or an uncertain"):
        vas_by_added_mass(FREE, FREE, 0.06, value)


def test_a_sweep_without_parameters_gives_none():
    with pytest.raises(NotYetKnown, match=r"^What this sweep says of the speaker is not known yet; enter a better .*$"):
        vas_by_test_box(FREE, fit_sweep(Sweep((100.0,), (7.0,))), BOX_MM3)
