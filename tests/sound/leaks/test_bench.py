"""The leak test in words: what is rounded down so that it is safe, and what is said of times that can't be told."""

from __future__ import annotations

from dataclasses import replace

import pytest

from modelmath.sound.leaks.bench import CAUTIONS, LeakTest, spills_mm_water

# 20 ml through 2.5 ml/s is 8 s, through 4 ml/s 5 s.
TEST = LeakTest(30.0, 290.0, 4.38, (), 2.5, 4.0, 20.0, 6.0, 1.5, 12.0)


@pytest.mark.parametrize(
    ("pressure", "allowed", "spills"),
    [(30, 290, 60), (20, 290, 40), (19.9, 290, 40), (20.1, 290, 40.2), (5, 15, 15), (30, 59, 59)],
)
def test_it_spills_at_twice_the_pressure_in_an_arm_of_40_mm_or_more(pressure, allowed, spills):
    """House rule; never above what the cone stands."""
    assert spills_mm_water(pressure, allowed) == pytest.approx(spills)
    assert replace(TEST, pressure_mm_water=pressure, allowed_mm_water=allowed).spills_mm_water == pytest.approx(spills)


def test_a_time_is_what_the_syringe_holds_over_the_flow():
    assert (TEST.syringe_s, TEST.leaky_s) == (8, 5)


@pytest.mark.parametrize(
    ("allowed", "millilitres", "height", "air"),
    [
        (290.0, 4.38, "290", "4.3"),
        (299.9, 0.0199, "290", "0.019"),
        (1000.0, 10.0, "1000", "10"),
        (7.29, 1.0, "7.2", "1"),
    ],
)
def test_a_limit_is_rounded_down_to_two_figures(allowed, millilitres, height, air):
    test = replace(TEST, allowed_mm_water=allowed, to_limit_ml=millilitres)
    assert test.limit == (
        f"Never more than {height} mm of water: it would push the cone beyond its travel. In a tight chamber {air} ml "
        "pushed in is enough for it."
    )


def test_a_limit_says_what_of_it_is_estimated():
    for estimated, rests in (
        (("cone area Sd",), ", by an estimated cone area Sd."),
        (
            ("equivalent volume Vas", "cone travel Xmax"),
            ", by an estimated equivalent volume Vas and cone travel Xmax.",
        ),
    ):
        assert f"beyond its travel{rests}" in replace(TEST, estimated=estimated).limit


def test_the_arm_is_cut_off_where_it_spills():
    assert TEST.safeguard == (
        "So take a U-tube of 6 mm bore, cut its open arm off 60 mm above the lowest point inside its bend, and fill it "
        "to half of that: 30 mm above the still level it spills, and the air bubbles out."
    )
    narrow = replace(TEST, pressure_mm_water=5.0, allowed_mm_water=15.9, bore_mm=4.0)
    assert "U-tube of 4 mm bore, cut its open arm off 15 mm above" in narrow.safeguard
    assert "to half of that: 7.5 mm above the still level" in narrow.safeguard


def test_the_steps_in_order():
    seen = "Shut the syringe off: a fall that is slow enough to watch shows a chamber tighter than need be."
    assert TEST.steps == (
        f"{TEST.limit} {TEST.safeguard}",
        "Put a soft tube in the wire hole, seal round it, and join it to the U-tube and a full 20 ml syringe.",
        "Press the syringe slowly until the levels differ by 30 mm, no more, and keep them so.",
        (
            "Time the syringe from full to empty: 8 s or more, and the chamber is tight enough; under 5 s it leaks "
            f"more than it may; between, seal what you find and test again. {seen}"
        ),
        "To find the place, brush soapy water on the outside of the joints while the pressure holds: it bubbles.",
        "Take the tube out and seal the wires into their hole: that place the test did not see.",
    )
    assert TEST.in_words == " ".join((*TEST.steps, *CAUTIONS))


def test_a_fall_that_takes_2_s_can_be_timed():
    slow = replace(TEST, fall_s=2.0).steps[3]
    assert slow.endswith(
        "Shut the syringe off: if the difference takes more than 2 s to fall by half, the chamber is tight enough."
    )
    assert "if the difference takes more than" not in replace(TEST, fall_s=1.99).steps[3]


def test_times_that_read_the_same_leave_nothing_between():
    same = replace(TEST, leaky_ml_s=2.501).steps[3]
    assert "under 8 s it leaks more than it may. Shut" in same
