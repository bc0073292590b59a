"""The air against handbooks, from memory: its speed, density and viscosity, and the temperatures that are taken."""

from __future__ import annotations

import pytest

from modelmath.errors import OutOfRange, WrongKind
from modelmath.sound.air import ROOM_AIR, Air


@pytest.mark.parametrize(
    ("temperature_c", "speed", "density", "viscosity"),
    [
        (0, 331.3, 1.2922, 1.722e-5),
        (20, 343.2, 1.204, 1.81e-5),
        (40, 354.7, 1.127, 1.90e-5),
        (-20, 318.9, 1.394, 1.63e-5),
    ],
)
def test_dry_air_as_handbooks_have_it(temperature_c, speed, density, viscosity):
    air = Air(temperature_c)
    assert air.speed_m_s == pytest.approx(speed, rel=5e-4)
    assert air.density_kg_m3 == pytest.approx(density, rel=1e-3)
    assert air.viscosity_pa_s == pytest.approx(viscosity, rel=1e-2)


def test_the_room_is_at_20_c_and_there_the_handbook_s_figures_hold():
    assert Air() == ROOM_AIR == Air(20.0)
    assert ROOM_AIR.density_kg_m3 == pytest.approx(1.204, rel=1e-12)
    assert ROOM_AIR.viscosity_pa_s == pytest.approx(1.81e-5, rel=1e-12)


def test_the_stiffness_goes_with_the_pressure_alone():
    """An ideal gas of 1.4 times 101,325 Pa, at any temperature."""
    for temperature_c in (-40, 0, 20, 60):
        assert Air(temperature_c).stiffness_pa == pytest.approx(1.4 * 101_325, rel=2e-3)
        assert Air(temperature_c).stiffness_pa == pytest.approx(ROOM_AIR.stiffness_pa, rel=1e-12)


def test_temperatures_from_40_below_to_60_c_are_taken():
    assert (Air(-40).temperature_c, Air(60).temperature_c) == (-40, 60)
    for temperature_c in (-40.1, 60.1):
        text = (
            rf"^the temperature of the air is {temperature_c:g} C; it must be between -40 and 60 C\. "
            r"Write it in degrees Celsius, such as 20\.$"
        )
        with pytest.raises(OutOfRange, match=text):
            Air(temperature_c)
    with pytest.raises(WrongKind):
        Air("20 C")
