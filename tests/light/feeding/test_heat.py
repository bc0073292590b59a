"""Heat in a shell, against a network of heat resistances solved by NumPy; resistors against their derating line."""

import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import OutOfRange, WrongKind
from modelmath.light.feeding import heat as module
from modelmath.light.feeding.heat import heat_of, most_near_plastic_w, resistor_heat
from modelmath.light.feeding.limits import limit
from modelmath.light.feeding.loads import Load
from modelmath.quantities.band import Band
from modelmath.quantities.known import Known

LAMPS = [
    Load.of("front", "white", 0.01, resistor_w=0.09, lamp_w=0.03),
    Load.of("cab", None, 0.002, resistor_w=Band(0.02, 0.01, 0.03), lamp_w=0.006),
]


def whole(text):
    return f"^{re.escape(text)}$"


def test_heat_is_told_by_place_and_added():
    heat = heat_of(LAMPS, 0.5)
    assert [name for name, _ in heat.places] == ["resistors", "lamps", "decoder"]
    assert heat.resistors_w.best == pytest.approx(0.11)
    assert (heat.resistors_w.low, heat.resistors_w.high) == pytest.approx((0.10, 0.12))
    assert heat.lamps_w.best == pytest.approx(0.036)
    assert heat.total_w.best == pytest.approx(sum(band.best for _, band in heat.places))


@pytest.mark.parametrize("film", [5.0, 10.0, 15.0])
def test_the_rise_is_that_of_two_films_in_a_row(film):
    """Outside check: conductances air-wall and wall-room of h A each, nodes solved as a linear system (NumPy).

    h of 5 to 15 W/m2K: the range of textbooks, from memory.
    """
    power, area_m2 = 0.646, 0.02
    conductance = film * area_m2
    air, wall = np.linalg.solve(
        [[conductance, -conductance], [-conductance, 2 * conductance]], [power, 0.0]
    )  # the room is 0
    heat = heat_of([Load.of("all", None, 0.0, resistor_w=0.146)], 0.5, area_m2 * 1e6)
    end = {5.0: "high", 10.0: "best", 15.0: "low"}[film]
    assert getattr(heat.air_rise_k, end) == pytest.approx(air)
    assert getattr(heat.shell_rise_k, end) == pytest.approx(wall)


@given(st.floats(0, 5), st.floats(0.01, 5), st.floats(1e3, 1e5), st.floats(1, 10))
def test_more_heat_is_warmer_and_more_wall_is_cooler(power, more_w, area, times):
    rise = heat_of([], power, area).air_rise_k
    assert heat_of([], power + more_w, area).air_rise_k.best > rise.best
    assert heat_of([], power, area * times).air_rise_k.best <= rise.best
    assert rise.low <= rise.best <= rise.high


def test_what_is_not_entered_is_said():
    assert heat_of(LAMPS).in_words == (
        "0.146 W (0.136 W to 0.156 W) become heat; the decoder's own heat is not entered. "
        "Without the shell's area nothing is said of how warm it gets."
    )
    assert heat_of(LAMPS, 0.5, 20000.0).in_words == (
        "0.646 W (0.636 W to 0.656 W) become heat. The air in the shell gets about 6.5 °C warmer (4.2 to 13 °C). "
        "An estimate: all power counts as heat; what wheels, frame and gaps carry off, and the motor, are not in it."
    )
    assert heat_of(LAMPS).decoder_w is None


@pytest.mark.parametrize("air", [0.0, 20.0, 45.0, 70.0])
@pytest.mark.parametrize("rating", [0.0625, 0.125, 0.25])
def test_a_resistor_at_full_rating_up_to_70_degrees_never_passes_155(air, rating):
    """IEC 60115-1, from memory: the whole rating up to 70 degC, nothing at 155 degC, a straight line between."""
    assert resistor_heat(rating, rating, 70.0).surface_c == pytest.approx(155)
    for warm in (70.0, 100.0, 130.0, 155.0):
        allowed = float(np.interp(warm, [70, 155], [rating, 0]))
        assert resistor_heat(allowed, rating, warm).surface_c == pytest.approx(155)
    assert resistor_heat(rating, rating, air).surface_c == pytest.approx(air + 85)


@given(st.floats(0.01, 2), st.floats(0, 59))
def test_the_most_near_plastic_just_reaches_its_limit(rating, air):
    """Well below 60 degC: a materials data page for PMMA, and polystyrene from memory (data/feeding_limits.csv)."""
    most = most_near_plastic_w(rating, air)
    assert resistor_heat(most, rating, air).surface_c == pytest.approx(60)
    assert resistor_heat(most * 0.99, rating, air).cool_enough


def test_in_air_that_is_too_warm_nothing_is_left():
    assert most_near_plastic_w(0.25, 60.0) == 0
    assert most_near_plastic_w(0.25, 80.0) == 0
    assert resistor_heat(0.0, 0.25, 60.0).in_words == (
        "Its surface may reach 60 °C in air of 60 °C; plastic wants well under 60 °C. "
        "The air itself is too warm for plastic."
    )


def test_a_resistor_in_words():
    hot = resistor_heat(0.125, 0.25, 25.0)
    assert not hot.cool_enough
    assert hot.in_words == (
        "Its surface may reach 68 °C in air of 25 °C; plastic wants well under 60 °C. "
        "Near plastic give it 0.103 W or less, or take one rated 0.304 W."
    )
    assert resistor_heat(0.05, 0.25).in_words == (
        "Its surface may reach 37 °C in air of 20 °C; plastic wants well under 60 °C."
    )


def test_limits_carry_their_source():
    assert limit("plastic").value == 60
    assert "PMMA" in limit("plastic").why
    assert (limit("film").low, limit("film").high) == (5, 15)


@pytest.mark.parametrize(
    ("call", "kind", "text"),
    [
        (
            lambda: resistor_heat(0.3, 0.25),
            OutOfRange,
            (
                "the heat in the resistor is 0.3 W; it must be 0.25 W or less. "
                "Take one with a higher rating, or share the heat between two."
            ),
        ),
        (
            lambda: heat_of([], 0.5, 0),
            OutOfRange,
            "the shell's area is 0 mm2; it must be above 0 mm2. Check the figure behind it.",
        ),
        (
            lambda: heat_of([], "0.5 W"),
            WrongKind,
            (
                "the decoder's heat is '0.5 W'; expected a plain number of W. "
                "Write it as a number of W, or read text with parse_quantity first."
            ),
        ),
        (
            lambda: limit("plastics"),
            ValueError,
            (
                "a figure of the feeding is 'plastics'; write one of film, plastic, resistor_full, resistor_hottest, "
                "room, charged. Did you mean 'plastic'?"
            ),
        ),
    ],
)
def test_what_is_no_heat_is_refused(call, kind, text):
    with pytest.raises(kind, match=whole(text)):
        call()


def test_limits_of_heat_meet_those_of_the_film_by_hand():
    """0.126 to 0.186 W on 200 cm2, 5 to 15 W/m2K."""
    rise = heat_of([Load.of("all", None, 0.0, resistor_w=Band(0.15, 0.126, 0.186))], None, 20000.0)
    assert (rise.shell_rise_k.best, rise.shell_rise_k.low, rise.shell_rise_k.high) == pytest.approx(
        (0.15 / 0.2, 0.126 / 0.3, 0.186 / 0.1)
    )
    assert (rise.air_rise_k.low, rise.air_rise_k.high) == pytest.approx((0.84, 3.72))
    assert rise.in_words.startswith(
        "0.15 W (0.126 W to 0.186 W) become heat; the decoder's own heat is not entered. The air in the shell gets "
        "about 1.5 °C warmer (0.84 to 3.7 °C)."
    )
    assert [name for name, _ in rise.places] == ["resistors", "lamps"]


def test_a_decoder_that_makes_no_heat_is_entered():
    heat = heat_of([], 0.0)
    assert (heat.decoder_w, heat.total_w) == (Band(0, 0, 0), Band(0, 0, 0))
    assert "not entered" not in heat.in_words


def test_in_a_room_unless_said():
    """20 degC, as IEC 60028 takes for copper."""
    assert resistor_heat(0.05, 0.125) == resistor_heat(0.05, 0.125, 20.0)
    assert most_near_plastic_w(0.25) == most_near_plastic_w(0.25, 20.0) == pytest.approx(0.25 * 40 / 85)
    with pytest.raises(OutOfRange, match=r"^the air round the resistor is -1 °C; it must be 0 °C or more\."):
        most_near_plastic_w(0.25, -1)


def test_what_plastic_bears_is_no_more_than_the_rating(monkeypatch):
    """Of a plastic that bore 200 degC the resistor's own rating would be the limit."""
    monkeypatch.setattr(module, "limit", lambda name: Known.of(200.0) if name == "plastic" else limit(name))
    assert most_near_plastic_w(0.25, 20.0) == 0.25


def test_a_resistor_near_plastic_in_words_by_hand():
    """0.2 W of 0.25 W: 40 + 0.8 x 85 = 108 degC; 20 K are left, so 0.25 W x 20 / 85, or one of 0.2 W x 85 / 20."""
    assert resistor_heat(0.2, 0.25, 40.0).in_words == (
        "Its surface may reach 108 °C in air of 40 °C; plastic wants well under 60 °C. "
        "Near plastic give it 0.0588 W or less, or take one rated 0.85 W."
    )
    assert resistor_heat(0.0, 0.25, 80.0).in_words.endswith("The air itself is too warm for plastic.")
