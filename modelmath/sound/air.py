"""The air that sound runs through."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from modelmath.errors import OutOfRange
from modelmath.lengths.numbers import check_number

ZERO_C_K = 273.15
SPEED_0_C_M_S = 331.3  # speed of sound in dry air at 0 C; handbooks, from memory
DENSITY_20_C_KG_M3 = 1.204  # at 101.325 kPa; an acoustics software's table of notation
VISCOSITY_20_C_PA_S = 1.81e-5  # dynamic; handbooks, from memory
LEAST_C, MOST_C = -40.0, 60.0


@dataclass(frozen=True)
class Air:
    """Dry air at the pressure of the sea level.

    Attributes
    ----------
    temperature_c : float
        Its temperature. [C]

    References
    ----------
    Ideal gas: the speed of sound grows with the root of the absolute temperature, the density falls with it. Values at
    20 C: 343.2 m/s and 1.204 kg/m3, handbooks.

    Examples
    --------
    >>> air = Air()
    >>> round(air.speed_m_s, 1), round(air.density_kg_m3, 3), round(air.stiffness_pa, -2)
    (343.2, 1.204, 141800.0)
    """

    temperature_c: float = 20.0

    def __post_init__(self) -> None:
        check_number("the temperature of the air", self.temperature_c)
        if not LEAST_C <= self.temperature_c <= MOST_C:
            given, expected = f"{self.temperature_c:g} C", f"between {LEAST_C:g} and {MOST_C:g} C"
            raise OutOfRange("the temperature of the air", given, expected, "Write it in degrees Celsius, such as 20.")

    @property
    def speed_m_s(self) -> float:
        """Speed of sound. [m/s]"""
        return SPEED_0_C_M_S * sqrt(1 + self.temperature_c / ZERO_C_K)

    @property
    def density_kg_m3(self) -> float:
        """Density. [kg/m3]"""
        return DENSITY_20_C_KG_M3 * (20 + ZERO_C_K) / (self.temperature_c + ZERO_C_K)

    @property
    def stiffness_pa(self) -> float:
        """Density times the square of the speed: how stiff enclosed air is, where no heat leaves it. [Pa]"""
        return self.density_kg_m3 * self.speed_m_s**2

    @property
    def viscosity_pa_s(self) -> float:
        """Dynamic viscosity: a power of the absolute temperature, 0.7 for air (common practice, no source). [Pa s]"""
        return float(VISCOSITY_20_C_PA_S * ((self.temperature_c + ZERO_C_K) / (20 + ZERO_C_K)) ** 0.7)


ROOM_AIR = Air()
