"""Invented speakers for the tests, made of what physically makes them up rather than of the usual parameters."""

from dataclasses import dataclass, replace
from math import pi, sqrt

from modelmath.quantities.known import Known
from modelmath.sound.air import ROOM_AIR
from modelmath.sound.driver.driver import Driver


@dataclass(frozen=True)
class Made:
    """Mass, spring, loss, motor and cone in SI; what follows is by the definitions of the parameters."""

    mass_kg: float
    stiffness_n_m: float
    loss_n_s_m: float
    bl_tm: float
    re_ohm: float
    sd_m2: float

    @property
    def driver(self):
        w = sqrt(self.stiffness_n_m / self.mass_kg)
        return Driver(
            "sample",
            fs_hz=w / (2 * pi),
            qes=w * self.mass_kg * self.re_ohm / self.bl_tm**2,
            qms=w * self.mass_kg / self.loss_n_s_m,
            vas_mm3=1e9 * ROOM_AIR.stiffness_pa * self.sd_m2**2 / self.stiffness_n_m,
            sd_mm2=1e6 * self.sd_m2,
            re_ohm=self.re_ohm,
            xmax_mm=Known.of(0.4, within=0.1),
        )


# fs from 300 to 900 Hz, Qts from 0.4 to 1.6; all invented.
MADE = (
    Made(70e-6, 700.0, 0.05, 0.9, 7.2, 100e-6),
    Made(40e-6, 1200.0, 0.04, 0.5, 7.5, 60e-6),
    Made(300e-6, 1500.0, 0.15, 1.6, 3.6, 350e-6),
    Made(90e-6, 500.0, 0.03, 1.5, 6.8, 130e-6),
)


def driver_of(fs_hz, qts, vas_mm3, qms=4.0, **others):
    """Return a driver of which Qts is given, with a Qms beside it that leaves it so."""
    qms = max(qms, 3 * qts)
    known = {"sd_mm2": 100, "re_ohm": 7} | others
    return Driver("sample", fs_hz=fs_hz, qes=qts * qms / (qms - qts), qms=qms, vas_mm3=vas_mm3, **known)


def unsure(driver, share=0.05, fields=("fs_hz", "qes", "qms", "vas_mm3", "sd_mm2", "re_ohm")):
    """Return the same driver with limits either way."""
    known = {field: driver.known(field) for field in fields}
    return replace(driver, **{field: Known.of(each.value, within=share * each.value) for field, each in known.items()})
