"""What lights in a plan: against printed examples, arithmetic by hand, and what must not change it."""

from __future__ import annotations

from math import hypot, pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from job.lit.lit_jobs import LIGHT, lit
from sample_jobs import DEMOS, with_chamber

from modelmath import plan
from modelmath.job.document import Job


def light(**changes):
    """The light of the plan of that job, with changes to its light."""
    return plan(lit(light=changes)).light


def lamp(found, name="headlights"):
    return next(each for each in found.lamps if each.name == name)


def one_led(supply, forward, current, **circuit):
    feed = {**LIGHT["feed"], "supply": supply, "series": "E24"}
    entry = {"lamp": "headlights", "forward": forward, "current": current, "output": "white", **circuit}
    return lamp(light(feed=feed, circuits=[entry]))


# Printed: an encyclopaedia's LED circuit (2040 and 1440 ohm), a school physics page (515 and 465 ohm).
@pytest.mark.parametrize(
    ("supply", "forward", "current", "exact", "above"),
    [
        ("12 V", "1.8 V", "5 mA", 2040, "2.2 kohm"),
        ("9 V", "1.8 V", "5 mA", 1440, "1.5 kohm"),
        ("12 V", "1.7 V", "20 mA", 515, "560 ohm"),
        ("12 V", "2.7 V", "20 mA", 465, "470 ohm"),
    ],
)
def test_a_printed_example_comes_out_of_the_job(supply, forward, current, exact, above):
    line = one_led(supply, forward, current)
    assert line.led.exact_ohm == pytest.approx(exact, abs=0.5)
    assert line.resistor == above
    assert line.assumed == ()


def test_a_resistor_that_is_fitted_counts_as_it_is():
    line = one_led("12 V", "1.8 V", "5 mA", resistor="4.7 kohm")
    assert line.fitted
    assert line.load.current_a.best == pytest.approx((12 - 1.8) / 4700)
    assert line.in_words.startswith("With the resistor of 4.7 kohm: 2.17 mA")


def test_what_is_not_entered_of_an_led_is_bounded_and_said():
    line = lamp(light(circuits=[{"lamp": "headlights", "colour": "Warm White", "output": "white"}]))
    assert len(line.assumed) == 2
    assert "0.5" not in line.resistor
    assert line.forward.low < line.forward.value < line.forward.high
    unknown = lamp(light(circuits=[{"lamp": "headlights", "colour": "mauve", "output": "white"}]))
    assert str(unknown.problem).startswith("the kind of LED is 'mauve'; write one of white, warm white, red")
    assert unknown.load is None


@pytest.mark.parametrize(
    ("entry", "feed", "message"),
    [
        ({"current": "2 mA"}, {"supply": None}, "the voltage that the lamps run on"),
        ({"source": "bulb", "current": "30 mA"}, {}, "the voltage it is rated for"),
        ({"source": "bulb", "rated": "12 V"}, {}, "the current it is rated for"),
        ({"source": "ready made"}, {}, "the current it draws"),
        ({"leds": 6, "forward": "3 V", "current": "2 mA"}, {}, "above 18 V, which 6 LEDs take in series"),
    ],
)
def test_what_is_missing_or_impossible_is_told(entry, feed, message):
    line = lamp(light(feed={**LIGHT["feed"], **feed}, circuits=[{"lamp": "headlights", **entry}]))
    assert message in str(line.problem)
    assert message in line.in_words


def test_a_bulb_on_no_more_than_its_voltage_needs_no_resistor():
    entry = {"lamp": "headlights", "source": "bulb", "rated": "16 V", "current": "40 mA", "output": "white"}
    line = lamp(light(circuits=[entry]))
    assert line.resistor == ""
    assert line.in_words == "Straight on its output: it needs no resistor."
    assert 0.03 < line.load.current_a.best < 0.04  # below its rated voltage it draws less


# The decoder's outputs.


def test_what_is_over_the_sheet_is_told_with_by_how_much_and_warned_of():
    feed = {**LIGHT["feed"], "each": "1 mA", "all": "20 mA", "whole": "0.1 A"}
    made = plan(lit(light={"feed": feed}))
    faults = made.light.budget.faults
    assert any("Output 'white' may give 1 mA" in each for each in faults)
    assert any("Output 'yellow' may give 1 mA" in each for each in faults)
    assert len(faults) >= 4
    assert set(faults) <= set(made.warnings)
    assert plan(lit()).light.budget.faults == ()


def test_the_shell_counts_as_a_box_without_a_floor():
    made = plan(lit())
    zones = made.enclosure.cavity.zones
    area = sum(float(z.end_mm - z.start_mm) * float(z.width_mm + 2 * z.roof_mm) for z in zones)
    area += sum(float(z.width_mm * z.roof_mm) for z in (zones[0], zones[-1]))
    power = made.light.heat.total_w.best
    assert made.light.heat.shell_rise_k.best == pytest.approx(power / (10 * area * 1e-6))  # h of 10 W/m2K


def test_keep_alive_by_hand():
    """1000 uF from 14 to 7 V with 0.2 A: t = C dV / I = 35 ms; for 0.1 s it takes 0.2 x 0.1 / 7 = 2857 uF."""
    found = light().keep_alive
    assert found.does.runtime_s.best == pytest.approx(0.035)
    assert found.needed_f.best == pytest.approx(0.2 * 0.1 / 7)
    lacking = light(keep_alive={"capacitance": "1000 uF", "least": "7 V"}).keep_alive
    assert "what the decoder draws meanwhile" in str(lacking.problem)
    assert light(keep_alive=None).keep_alive is None


# Leads.


def test_a_lead_is_cut_to_its_run_and_more_and_carries_what_its_output_drives():
    common, to_lamps = light().leads
    assert (float(common.cut_mm), float(to_lamps.cut_mm)) == (95, 80)
    assert to_lamps.current_a == lamp(light()).load.current_a
    assert common.gauge == "AWG 32"
    # 2 x 95 mm of AWG 32, 0.538 ohm/m by the handbook, at 40 mA.
    assert common.drop_v.best == pytest.approx(2 * 0.095 * 0.538 * 0.04, rel=0.005)
    assert to_lamps.gauge == "AWG 36"  # a thinner one would do, and break in the hand


def test_a_gauge_that_loses_too_much_is_told_with_one_that_does():
    entry = {"name": "speaker", "run": "2000 mm", "gauge": "40", "current": "1 A"}
    (line,) = light(leads=[entry], most_drop="0.1 V").leads
    assert line.problem.startswith("AWG 40 loses")
    assert "would do" in line.problem
    assert line.problem in plan(lit(light={"leads": [entry], "most_drop": "0.1 V"})).warnings


def test_a_plug_with_too_few_poles_is_told():
    entry = {"name": "speaker wires", "run": "80 mm", "count": 8, "current": "0.1 A", "crosses": True}
    found = light(leads=[entry]).contacts
    assert (found.needed, found.there, found.over_by) == (8, 6, 2)
    assert light(leads=[{**entry, "crosses": False}]).contacts is None


# Strands.


def spot(along, up, right=0.0):
    return {"along": f"{along} mm", "up": f"{up} mm", "right": f"{right} mm"}


def strand(**changes):
    """One strand of the tail lamp, from 40 to 43 mm along, 20 to 24 mm up: 5 mm of way."""
    circuit = {"lamp": "tail lamp", "current": "2 mA", "output": "yellow", "at": spot(40, 20)}
    entry = {"name": "tail", "lamp": "tail lamp", "to": spot(43, 24), **changes}
    found = light(circuits=[circuit], strands=[entry])
    return found.strands[0]


def test_by_hand_a_straight_strand():
    line = strand(slack="2 mm", trim="1 mm")
    assert line.route.length_mm == pytest.approx(5)
    assert line.length.cut_mm == pytest.approx(8)
    assert (line.to_form, line.melt, line.hole) == (0, None, "")


def test_by_hand_a_lens_of_a_bore():
    """A ball of 1 mm on a strand of 0.5 mm: less the cap behind it, over the strand's section."""
    line = strand(bore="1.1 mm")
    assert line.lens_mm == pytest.approx(1.0)
    out = 0.5 + hypot(0.5, 0) * (1 - 0.25) ** 0.5  # from the plane where it is as wide as the strand to the tip
    cap = 1 - out
    volume = pi / 6 - pi * cap**2 * (3 * 0.5 - cap) / 3  # of a ball less a cap: elementary geometry
    assert line.melt.melted_mm == pytest.approx(volume / (pi * 0.25**2))
    assert line.length.cut_mm == pytest.approx(5 + 3 + 3 + line.melt.melted_mm - out)


def test_a_prototypes_lens_is_scaled():
    assert strand(prototype="6 in").lens_mm == pytest.approx(152.4 / (609.6 / 7))  # HO is 3.5 mm to the foot


def test_a_lens_no_wider_than_its_strand_is_refused_and_the_rest_stays():
    line = strand(diameter="0.4 mm")
    assert line.melt is None
    assert "0.5 mm" in str(line.problem)
    assert line.length is not None


def test_a_lens_much_wider_than_its_strand_is_spoken_of():
    assert any("more than 3 times as wide as its strand" in each for each in strand(diameter="1.6 mm").notes)
    assert not any("times as wide" in each for each in strand(diameter="1.5 mm").notes)


def test_without_a_place_of_its_lamp_a_strand_has_no_way_and_says_so():
    circuit = {"lamp": "tail lamp", "current": "2 mA"}
    entry = {"name": "tail", "lamp": "tail lamp", "to": spot(43, 24)}
    (line,) = light(circuits=[circuit], strands=[entry]).strands
    assert line.route is None
    assert "where the lamp tail lamp stands" in str(line.problem)


def test_a_strand_passes_its_wall_by_its_hole():
    """The gas-electric's markers: each by its own hole in the rear closure, where the plan has it."""
    made = plan(DEMOS["gas-electric-o"])
    left, right = (next(s for s in made.light.strands if s.name == f"{side} marker") for side in ("left", "right"))
    assert (left.hole, right.hole) == ("markers 1", "markers 2")
    assert (left.wall, left.drill) == ("rear closure", "#58")
    layout = next(each.layout for each in made.hole_places if each.wall == "rear closure")
    holes = {hole.name: hole for hole in layout.holes}
    for line in (left, right):
        rights = [float(point.right_mm) for point in line.route.points]
        assert float(holes[line.hole].x_mm) in rights
    assert left.length.cut_mm == pytest.approx(right.length.cut_mm, abs=0.01)
    ((name, match),) = made.light.matched
    assert name == "markers"
    assert match.pair_difference_db == pytest.approx(0, abs=0.01)


def test_a_hole_that_no_strand_takes_is_spoken_of():
    found = light().strands[0]
    assert any("passes no wall, so that the hole headlights 1 in the bulkhead is not needed" in n for n in found.notes)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.integers(41, 60), st.integers(10, 30), st.integers(-9, 9)), max_size=3, unique=True))
def test_mirrored_it_is_as_long_and_as_bright(places):
    one = strand(via=[spot(*each) for each in places])
    other = strand(via=[spot(a, u, -r) for a, u, r in places])
    assert (one.problem is None) == (other.problem is None)
    if one.length is not None:
        assert one.length.cut_mm == pytest.approx(other.length.cut_mm)
        assert one.light.share == other.light.share


def test_gauge_strips_are_one_for_each_size():
    strips = light().gauge_strips
    assert [each.strands for each in strips] == [("tail",), ("left headlight",), ("right headlight",)]
    for each in strips:
        sizes = [float(hole.diameter_mm) for hole in each.holes]
        assert sizes == sorted(sizes)
        assert sizes[0] < each.lens_mm < sizes[-1]


# Order, and what is said of it all.


def test_lenses_come_before_glue_and_lamps_are_tested_before_closing():
    texts = [step.text for step in plan(lit()).steps]

    def at(words):
        return next(number for number, text in enumerate(texts) if words in text)

    assert at("Form trial ends first") < at("Dry fit") < at("Glue the corner posts")
    assert at("solvent flash off wholly") < at("Feed the strands")
    assert at("Feed the strands") < at("Test every lamp on its output") < at("Before closing")
    cautioned = next(step for step in plan(lit()).steps if "Form trial ends first" in step.text)
    assert "flame" in cautioned.topics


def test_a_job_without_light_says_nothing_of_it():
    made = plan(with_chamber())
    assert not made.light.entered
    assert made.light.warnings == ()
    assert not any("lens" in step.text for step in made.steps)


def test_every_figure_has_a_chain_of_figures_that_are_there():
    figures = plan(lit()).figures
    named = [name for name in figures if name.startswith(("resistor of", "length of", "melted for", "loss of"))]
    assert len(named) >= 9
    for name in named:
        for below in figures[name].follows_from:
            assert below in figures, (name, below)


def test_the_document_of_every_demo_says_what_lights():
    for name, job in DEMOS.items():
        made = plan(job)
        assert made.light.entered, name
        assert [each.problem for each in (*made.light.lamps, *made.light.strands)].count(None) == len(
            (*made.light.lamps, *made.light.strands)
        ), name
        assert made.light.warnings == (), name
        assert Job.model_validate(job.model_dump()) == job


def test_a_lens_longer_than_round_is_as_long_from_strand_to_tip_as_was_asked():
    found = {line.name: line for line in plan(lit()).light.strands}
    assert found["right headlight"].melt.head_length_mm == pytest.approx(2)
    assert found["right headlight"].melt.end.kind == "prolate"
    assert found["left headlight"].melt.end.kind == "round"
