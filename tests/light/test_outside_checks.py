"""Light beside printed figures and general-purpose libraries, where the other tests have no such check."""

from __future__ import annotations

from math import pi, sqrt

import numpy as np
import pytest
from astropy import units
from light.strands.traced_rays import traced_share
from published import agrees_with_print, published_rows
from scipy.integrate import solve_ivp, trapezoid
from scipy.optimize import brentq

from modelmath.light.feeding.charging import charging_resistor_ohm
from modelmath.light.feeding.keep_alive import capacitance_for
from modelmath.light.lamps.amounts import told_w
from modelmath.light.lamps.brightness import resistor_for_look, share_for, trimmed, trimming_table
from modelmath.light.lamps.bulbs import Bulb
from modelmath.light.lamps.preferred import following, format_ohm, next_values, read_series
from modelmath.light.lamps.resistor import led_resistor
from modelmath.light.lamps.sources import CurrentSource
from modelmath.light.lamps.strings import parallel_share, series_or_parallel
from modelmath.light.lens.melt import lens_melt_length
from modelmath.light.lens.shape import LensEnd
from modelmath.light.lens.trial import trial_factor
from modelmath.light.strands.bends import Bend, bend_loss_db, least_held_radius_mm, surface_strain
from modelmath.light.strands.bent_rays import long_bend_share
from modelmath.light.strands.entering import packing_ratio
from modelmath.light.strands.fibre import ACRYLIC
from modelmath.light.strands.lamp_to_lens import LensLight, compare, losses_of
from modelmath.light.strands.losses import db, face_loss_db, face_scatter_db, fresnel_db, transmission
from modelmath.quantities.band import Band
from modelmath.quantities.known import Known

EXAMPLES = {row["id"]: row["value"] for row in published_rows("electrical_examples.csv")}
VOLUMES = {row["shape"]: float(row["volume_mm3"]) for row in published_rows("volumes.csv")}
FIBRE = {row["quantity"]: row["value"] for row in published_rows("fibre.csv")}
DECIBEL = units.dB(units.one)
# IEC 60063, series E12 and E3, from memory, as every table of resistors prints them.
E12 = (10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82)

# --- Feeding ---------------------------------------------------------------------------------------------------


def test_a_capacitor_of_that_size_is_spent_just_then():
    """SciPy: the discharge by a steady current, stepped until the voltage is spent."""
    farad = capacitance_for(0.5, 12.0, 8.0, 0.08).best

    def falls(_, volts):
        return [-0.08 / farad]

    spent = solve_ivp(falls, (0, 5), [12.0], events=lambda _, volts: volts[0] - 8.0, max_step=0.01)
    assert spent.t_events[0][0] == pytest.approx(0.5, rel=1e-6)


def test_the_first_charging_current_is_the_one_wanted():
    """SciPy: the charging of a capacitor, begun; its current is greatest at first."""
    ohm = charging_resistor_ohm(14.0, 0.1)
    run = solve_ivp(lambda _, v: (14.0 - v) / (ohm * 1e-3), (0, 1), [0.0], max_step=0.001)
    assert ((14.0 - run.y[0]) / ohm).max() == pytest.approx(0.1)


# --- Lamps -----------------------------------------------------------------------------------------------------


def test_prefixes_are_those_of_astropy():
    """astropy.units: milliwatt, kiloohm, megaohm."""
    for power in (0.00848, 0.0123, 0.206):
        number, unit = told_w(power).split()
        assert (float(number) * units.Unit(unit)).to_value(units.W) == pytest.approx(power, rel=5e-3)
    for resistance in (0.047, 0.47, 470.0, 4700.0, 1e6):
        number, unit = format_ohm(resistance).split()
        assert (float(number) * units.Unit(unit.replace("ohm", "Ohm"))).to_value(units.Ohm) == pytest.approx(resistance)


def test_series_are_as_the_standard_prints_them():
    """IEC 60063: E12 and E3, from memory; each value over all decades."""
    series = read_series()
    assert [round(10 * each) for each in series["E12"]] == list(E12)
    assert [round(10 * each) for each in series["E3"]] == [10, 22, 47]
    for below, above in zip(E12, (*E12[1:], 100), strict=True):
        assert next_values(10 * (below + above) / 2, "E12") == (10 * below, 10 * above)
        assert following(10.0 * below, "E12") == 10 * above


def test_half_of_the_look_is_18_percent_of_the_light():
    """CIE 15, as textbooks on photography print it: L* of 50 is a luminance factor of 0.1842; from memory."""
    assert agrees_with_print(share_for(0.5), "0.1842")


def test_a_look_takes_the_resistor_that_the_printed_example_and_the_printed_lightness_ask_for():
    """LED_A, 2040 ohm for 12 V, 1.8 V, 5 mA; CIE 15: half of the look at 0.1842 of the light, from memory."""
    full = led_resistor(12, 1.8, 0.005, series="E24")
    wanted = float(EXAMPLES["LED_A"]) / 0.1842
    brighter, dimmer = resistor_for_look(full, 0.5)
    assert brighter.ohm <= wanted <= dimmer.ohm
    assert (brighter.ohm, dimmer.ohm) == (11000, 12000)
    assert trimmed(full, wanted).looks == pytest.approx(0.5, abs=1e-3)
    table = {each.ohm: each.share.best for each in trimming_table(12, 1.8, 0.005)}
    assert table[10000] == pytest.approx(float(EXAMPLES["LED_A"]) / 10000)


def test_a_bulb_at_95_percent_of_its_voltage():
    """Encyclopaedias on incandescent lamps, from memory: 5 % less voltage about doubles the life, 16 % less light."""
    bulb = Bulb(12.0, 0.05)
    assert bulb.life_share(11.4).low <= 2 <= bulb.life_share(11.4).high
    # Lamp handbooks, from memory: life goes with the voltage to the 12 to 16, 13 as a rule.
    life = bulb.life_share(10.8)
    assert (life.low, life.best, life.high) == pytest.approx((0.9**-12, 0.9**-13, 0.9**-16))
    assert bulb.light_share(11.4).best == pytest.approx(1 - 0.16, abs=0.005)


def test_the_limits_of_the_exact_resistance_are_those_of_drawn_circuits():
    """numpy: supplies, LEDs and currents drawn within their limits: none leaves the band, some come near its ends."""
    found = led_resistor(Known(12, 11, 13), Known(3, 2.5, 3.5), Known(0.002, 0.001, 0.003)).exact_band_ohm
    random = np.random.default_rng(2)
    supply, forward, current = (random.uniform(*limits, 200_000) for limits in ((11, 13), (2.5, 3.5), (0.001, 0.003)))
    drawn = (supply - forward) / current
    assert found.low <= drawn.min() <= found.low * 1.02
    assert found.high * 0.98 <= drawn.max() <= found.high


def test_what_a_source_bears_and_drives_by_its_loop():
    """numpy.linalg: one loop of supply, source and LEDs, for the voltage across the source."""
    source = CurrentSource(0.002, 1.4, 10)
    for leds in (1, 2, 3):
        across, _ = np.linalg.solve([[1, leds], [0, 1]], [14.0, 3.0])
        found = source.drives(leds, 14, 3.0)
        assert found.over_v == pytest.approx(max(0.0, across - 10))
        assert found.left_v.best == pytest.approx(across)
    most = max(n for n in range(1, 9) if np.linalg.solve([[1, n], [0, 1]], [14.0, 3.0])[0] >= 1.4)
    assert source.most_in_series(14, 3.0) == most


def test_two_leds_side_by_side_differ_by_what_their_network_says():
    """numpy.linalg: two branches, each a voltage and a resistance, that share one current."""
    share = parallel_share(0.05, 50.0, together_a=0.004)
    one, other, _ = np.linalg.solve([[1, 1, 0], [50, 0, -1], [0, 50, -1]], [0.004, 0.0, -0.05])
    assert share.difference_a == pytest.approx(one - other)


def test_a_bulbs_resistor_leaves_it_the_voltage_wanted():
    """scipy.optimize: the loop of supply, resistor and a bulb of rated 1.5 V and 30 mA solved for its voltage."""
    found = Bulb(1.5, 0.03).dropping_resistor(12)

    def too_much(volts):
        return volts + found.exact_ohm * 0.03 * (volts / 1.5) ** 0.55 - 12

    assert brentq(too_much, 0, 12) == pytest.approx(1.5, rel=1e-6)


def test_strings_draw_and_burn_what_their_network_does():
    """numpy.linalg: each string a loop of its own; three LEDs on 1.5 kohm, two on 3 kohm, 12 V."""
    way = series_or_parallel(5, 12, 3.0, 0.002)[0]
    currents = np.linalg.solve([[1500, 0], [0, 3000]], [12 - 9, 12 - 6])
    assert way.current_a.best == pytest.approx(currents.sum())
    assert way.resistor_w.best == pytest.approx((currents**2 * [1500, 3000]).sum())
    assert way.lamp_w.best == pytest.approx((currents * [9, 6]).sum())


# --- Lens ends -------------------------------------------------------------------------------------------------


def test_an_outline_holds_the_volume_in_the_table():
    """volumes.csv: the sphere of radius 5 mm less its cap, 2 mm high; the outline summed up by scipy."""
    due = VOLUMES["sphere, radius 1 mm"] * 125 - VOLUMES["spherical cap, sphere radius 5 mm, height 2 mm"]
    end = LensEnd(10.0, strand_mm=8.0)
    along, radius = np.array(end.profile(4001)).T
    assert trapezoid(pi * radius**2, along) == pytest.approx(due, rel=1e-4)
    assert end.along_mm == pytest.approx(10)


def test_what_is_melted_for_that_lens_is_as_much_strand():
    """volumes.csv: that volume as a cylinder of the strand's 8 mm, by the cylinder in the table."""
    due = VOLUMES["sphere, radius 1 mm"] * 125 - VOLUMES["spherical cap, sphere radius 5 mm, height 2 mm"]
    per_mm = VOLUMES["cylinder 10 mm dia 4 mm high"] / 4 * 0.64
    assert lens_melt_length(8.0, 10.0).melted_mm == pytest.approx(due / per_mm, rel=1e-6)
    assert trial_factor(1.25 * due / per_mm, 10.0, 8.0) == pytest.approx(1.25, rel=1e-6)


# --- Strands ---------------------------------------------------------------------------------------------------


def test_the_outside_of_a_bend_is_stretched_as_its_arc_is_longer():
    """numpy: both arcs as short straight steps."""
    angles = np.linspace(0, 2, 20_001)

    def length(radius):
        return np.hypot(*np.diff([radius * np.cos(angles), radius * np.sin(angles)])).sum()

    stretched = length(5.75) / length(5.375) - 1
    assert surface_strain(0.75, 5.0) == pytest.approx(stretched, rel=1e-7)
    assert least_held_radius_mm(0.75, stretched) == pytest.approx(5.0, rel=1e-6)


@pytest.mark.parametrize("inside", [2, 20 / 3, 20])
def test_a_long_bend_keeps_what_a_trace_keeps(inside):
    """traced_rays: through a bend so long that every ray has met its outside."""
    traced = traced_share(170, inside, ACRYLIC.index, ACRYLIC.numerical_aperture.best)
    assert long_bend_share(inside, ACRYLIC) == pytest.approx(traced, abs=0.01)


def test_bundles_are_packed_as_the_published_ratios_have_it():
    """Graham, Lubachevsky, Nurmela and Östergård 1998, from memory: 3, 4 and 7 circles: 1 + 2/sqrt 3, 1 + sqrt 2, 3."""
    for count, ratio in ((3, 1 + 2 / sqrt(3)), (4, 1 + sqrt(2)), (7, 3.0)):
        assert packing_ratio(count) == pytest.approx(ratio, abs=1e-6)


def test_a_ratio_of_powers_is_so_many_decibels_for_astropy():
    """astropy.units: decibels of a ratio of powers."""
    for share in (0.1, 0.5, 0.995405):
        due = -(share * units.one).to_value(DECIBEL)
        assert db(share) == pytest.approx(due)
        assert transmission(due) == pytest.approx(share)


def test_a_polished_face_loses_little_more_than_the_printed_reflection():
    """fibre.csv: 3.9 % at a face of acrylic. Scatter of a finish: common practice, no source; least when polished."""
    printed = -10 * np.log10(1 - float(FIBRE["Fresnel loss per PMMA-air face, normal incidence, n=1.49"]))
    assert fresnel_db(1.49) == pytest.approx(printed, rel=1e-4)
    assert printed <= face_loss_db(finish="polished").low < face_loss_db(finish="cut").low
    for finish, scatter in face_scatter_db().items():
        assert face_loss_db(finish=finish).best - scatter.best == pytest.approx(printed, rel=1e-4)


def test_what_is_lost_by_cause_multiplies_to_what_is_left():
    """astropy.units: decibels added are shares multiplied; the pair is apart by the bend alone."""
    bend = Bend(90, 8)
    straight, bent = losses_of(60, [], 0.75), losses_of(60, [bend], 0.75)
    share = np.prod([(-loss.best * DECIBEL).to_value(units.one) for loss in bent.values()])
    assert transmission(sum(loss.best for loss in bent.values())) == pytest.approx(share)
    light = Band(0.06, 0.05, 0.07)
    pair = compare([LensLight("left", light, straight), LensLight("right", light, bent)])
    due = (-bend_loss_db(bend, 0.75).best * DECIBEL).to_value(units.one)
    assert pair.lenses[1].percent == pytest.approx(100 * due)


def test_power_by_voltage_as_handbooks_have_it():
    """Lamp handbooks, from memory: current goes with the voltage to the 0.5 to 0.6, power to the 1.5 to 1.6."""
    bulb = Bulb(12.0, 0.05)
    for share in (0.9, 0.75, 0.5):
        assert 0.05 * share**0.6 <= bulb.current_a(12 * share).best <= 0.05 * share**0.5
        assert 0.6 * share**1.6 <= bulb.power_w(12 * share).best <= 0.6 * share**1.5


@pytest.mark.parametrize("inside_mm", [8.0, 20.0])
def test_a_bend_loses_what_a_trace_loses(inside_mm):
    """traced_rays: the share of rays kept, as decibels by astropy."""
    traced = traced_share(90, inside_mm, ACRYLIC.index, ACRYLIC.numerical_aperture.best)
    due = -(traced * units.one).to_value(DECIBEL)
    assert bend_loss_db(Bend(90, inside_mm), 1.0).best == pytest.approx(due, rel=0.02)
