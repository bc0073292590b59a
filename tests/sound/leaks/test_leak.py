"""Leaks against the flow itself: velocity profiles integrated, and the equation of motion solved on a grid."""

from math import atan2, cos, pi, sin, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.linalg import solve_banded

from modelmath.errors import OutOfRange, WrongKind
from modelmath.sound.air import ROOM_AIR
from modelmath.sound.leaks.circuit import box_compliance
from modelmath.sound.leaks.leak import hole, open_back, slot, wire_hole

MU, RHO = ROOM_AIR.viscosity_pa_s, ROOM_AIR.density_kg_m3
sizes = st.floats(0.02, 20)
frequencies = st.floats(20, 20_000)


def of_depth(make, depth_mm, f_hz=None):
    """Return what another metre of depth adds, so that the ends drop out."""
    near, far = make(depth_mm), make(2 * depth_mm)
    if f_hz is None:
        return (far.resistance - near.resistance) / (depth_mm / 1000)
    return (far.impedance(f_hz) - near.impedance(f_hz)) / (depth_mm / 1000)


def test_steady_flow_in_a_hole_is_the_integral_of_its_velocity_profile():
    """Poiseuille: v(r) = (a^2 - r^2) / (4 mu) for a gradient of 1 Pa/m."""
    radius = 0.25e-3
    flow, _ = quad(lambda r: 2 * pi * r * (radius**2 - r**2) / (4 * MU), 0, radius)
    assert of_depth(lambda depth: hole(0.5, depth), 1.0) == pytest.approx(1 / flow, rel=1e-9)


def test_steady_flow_in_a_gap_is_the_integral_of_its_velocity_profile():
    """Flow between plates: v(y) = (h^2/4 - y^2) / (2 mu) for a gradient of 1 Pa/m."""
    gap, long = 0.05e-3, 60e-3
    flow, _ = quad(lambda y: long * (gap**2 / 4 - y**2) / (2 * MU), -gap / 2, gap / 2)
    assert of_depth(lambda depth: slot(60, 0.05, depth), 1.0) == pytest.approx(1 / flow, rel=1e-9)


def test_round_a_wire_the_gap_stands_for_the_ring():
    """Exact steady flow in a ring, from handbooks of flow."""
    for inner, worst in ((0.9, 0.001), (0.5, 0.02)):
        r2, r1 = 0.5e-3, 0.5e-3 * inner
        flow = pi / (8 * MU) * (r2**4 - r1**4 - (r2**2 - r1**2) ** 2 / np.log(r2 / r1))
        assert of_depth(lambda depth, wire=inner: wire_hole(1.0, wire, depth), 1.0) == pytest.approx(
            1 / flow, rel=worst
        )


def grid_flow(half, omega, round_):
    """Solve j w rho v = 1 + mu (v'' + v'/r) by finite differences, and integrate: flow for 1 Pa/m."""
    count = 4000
    step = half / count
    r = (np.arange(count) + 0.5) * step  # centres of rings or of strips on one side of the middle
    at_edges = np.arange(count + 1) * step if round_ else np.ones(count + 1)
    weight = r if round_ else np.ones(count)
    bands = np.zeros((3, count), complex)
    inner, outer = at_edges[:-1] / step, at_edges[1:] / step
    outer[-1] *= 2  # the wall is half a step from the last centre
    if not round_:
        inner[0] = 0  # symmetry
    bands[0, 1:], bands[2, :-1] = -MU * outer[:-1], -MU * inner[1:]
    bands[1] = 1j * omega * RHO * weight * step + MU * (inner + outer)
    v = solve_banded((1, 1), bands, weight * step + 0j)
    return (2 * pi if round_ else 2) * np.sum(v * weight) * step


@pytest.mark.parametrize("across_mm", [0.05, 0.3, 1.0, 4.0])
@pytest.mark.parametrize("f_hz", [50.0, 700.0, 5000.0])
def test_at_any_frequency_the_flow_is_that_of_the_equation_of_motion(across_mm, f_hz):
    half, omega = across_mm / 2000, 2 * pi * f_hz
    assert of_depth(lambda d: hole(across_mm, d), 1.0, f_hz) == pytest.approx(
        1 / grid_flow(half, omega, True), rel=2e-5
    )
    per_m = grid_flow(half, omega, False) * 60e-3
    assert of_depth(lambda d: slot(60, across_mm, d), 1.0, f_hz) == pytest.approx(1 / per_m, rel=2e-5)


def test_narrow_ones_have_the_mass_and_resistance_of_slow_flow():
    """4/3 and 6/5 of a plug's mass: Beranek, Acoustics, from memory."""
    for leak, plug in ((hole(0.04, 20), 4 / 3), (slot(10, 0.02, 20), 6 / 5)):
        found = leak.impedance(100.0)
        assert found.real == pytest.approx(leak.resistance, rel=1e-4)
        assert found.imag / (2 * pi * 100) == pytest.approx(leak.mass, rel=1e-3)
        assert leak.mass == pytest.approx(plug * RHO * 0.02 / leak.area_m2, rel=0.06)  # the ends are the rest


def test_wide_ones_have_the_resistance_of_the_boundary_layer():
    """sqrt(2 mu rho w) / (pi a^3) for each metre where the layer is thin: the surface's, times its perimeter."""
    f_hz, radius = 5000.0, 10e-3
    layer = sqrt(2 * MU * RHO * 2 * pi * f_hz)
    found = of_depth(lambda depth: hole(20, depth), 1.0, f_hz)
    assert found.real == pytest.approx(layer / (pi * radius**3), rel=0.01)
    assert found.imag == pytest.approx(2 * pi * f_hz * RHO / (pi * radius**2), rel=0.01)
    flat = of_depth(lambda depth: slot(60, 20, depth), 1.0, f_hz)
    assert flat.real == pytest.approx(layer / (60e-3 * 20e-3 * 20e-3), rel=0.01)


def test_the_ends_of_a_hole():
    """3 mu / a^3: Sampson 1891, a hole in a thin wall. 8 a / (3 pi) at each end: a piston in a wide wall, Rayleigh."""
    thin = hole(2.0, 1e-6)
    assert thin.resistance == pytest.approx(3 * MU / 1e-9, rel=1e-5)
    assert thin.mass == pytest.approx(2 * 8 / (3 * pi) * 1e-3 * RHO / (pi * 1e-6), rel=1e-5)
    assert open_back(pi, 1e-6).mass == pytest.approx(thin.mass, rel=1e-5)


@pytest.mark.parametrize(("long_mm", "wide_mm"), [(10.0, 10.0), (10.0, 4.0), (60.0, 0.5)])
def test_the_ends_of_a_gap_are_the_mean_of_1_over_r(long_mm, wide_mm):
    """Pairs of points by their offset in polar form, so that 1/r loses its pole; each offset as often as it occurs."""

    def along(angle):
        reach = min(long_mm / cos(angle), wide_mm / sin(angle))
        return quad(lambda r: (long_mm - r * cos(angle)) * (wide_mm - r * sin(angle)), 0, reach)[0]

    corner = atan2(wide_mm, long_mm)
    pairs = 4 * (quad(along, 1e-12, corner)[0] + quad(along, corner, pi / 2 - 1e-12)[0])
    assert slot(long_mm, wide_mm, 1.0).ends_mm == pytest.approx(2 * pairs / (2 * pi * long_mm * wide_mm), rel=1e-8)


def test_a_square_gap_has_nearly_the_ends_of_a_round_hole_as_large():
    """The end depends little on the shape: Rayleigh."""
    assert slot(2, 2, 1).ends_mm == pytest.approx(hole(2 * sqrt(4 / pi), 1).ends_mm, rel=0.02)


@given(sizes, st.floats(1.001, 3), sizes, frequencies)
def test_a_wider_one_lets_more_through(size, wider, depth, f_hz):
    for make in (lambda x: hole(x, depth), lambda x: slot(200, x, depth), lambda x: open_back(x, depth)):
        near, far = make(size), make(size * wider)
        assert abs(far.impedance(f_hz)) < abs(near.impedance(f_hz))
        assert far.mass < near.mass
        assert far.resistance < near.resistance or far.resistance == 0


@given(sizes, sizes, frequencies)
def test_no_leak_gives_energy_and_none_is_below_its_steady_resistance(size, depth, f_hz):
    for leak in (hole(size, depth), slot(200, size, depth), open_back(size, depth)):
        found = leak.impedance(f_hz)
        assert found.real >= leak.resistance * (1 - 1e-6)
        assert 0 < found.imag <= 2 * pi * f_hz * leak.mass * (1 + 1e-6)


def test_each_is_as_wide_and_as_large_as_it_was_made():
    """By hand: pi / 4 x 4 mm2; 60 x 0.2 mm2; a circle of pi mm2 is 2 mm across; ring of pi x 0.75 mm by 0.25 mm."""
    for leak, shape, area, depth, across in (
        (hole(2, 1.5), "round", pi, 1.5, 2),
        (slot(60, 0.2, 3), "flat", 12, 3, 0.2),
        (open_back(pi, 1.5), "wide", pi, 1.5, 2),
        (wire_hole(1, 0.5, 1.5), "flat", pi * 0.75 * 0.25, 1.5, 0.25),
    ):
        assert (leak.shape, leak.area_mm2, leak.depth_mm, leak.across_mm) == (
            shape, pytest.approx(area), depth, pytest.approx(across),
        )  # fmt: skip
        assert leak.area_m2 == pytest.approx(area * 1e-6)
    assert [leak.words for leak in (hole(2, 1), slot(60, 0.2, 3), open_back(200, 1), wire_hole(1, 0.5, 1))] == [
        "a hole of 2 mm",
        "a gap of 0.2 mm along 60 mm",
        "a back open by 200 mm2",
        "a hole of 1 mm with a wire of 0.5 mm",
    ]
    assert slot(2, 2, 1).area_mm2 == 4  # as wide as long is no contradiction


def test_one_frequency_or_many():
    leak = slot(60, 0.2, 1)
    many = leak.impedance(np.array([100.0, 1000.0]))
    assert many.shape == (2,)
    assert leak.impedance(1000.0) == many[1]
    assert isinstance(leak.impedance(1000.0), complex)


@pytest.mark.parametrize(
    ("make", "error", "text"),
    [
        (lambda: hole(0, 1), OutOfRange, "the diameter of the hole is 0; it must be above 0"),
        (lambda: hole(1, -1), OutOfRange, "the depth of the hole is -1; it must be above 0"),
        (lambda: slot(60, 0, 1), OutOfRange, "the width of the gap is 0; it must be above 0"),
        (lambda: open_back(-3, 1), OutOfRange, "the area of the open back is -3; it must be above 0"),
        (lambda: wire_hole(1, 0, 1), OutOfRange, "the wire's diameter is 0; it must be above 0"),
    ],
)
def test_a_size_that_is_none_is_refused(make, error, text):
    with pytest.raises(error, match=rf"^{text}\. Leave an opening out that is closed\.$"):
        make()


def test_sizes_that_contradict_each_other_are_refused():
    text = r"^the width of the gap is 2 mm; it must be at most its length, 1 mm\. Swap them\.$"
    with pytest.raises(OutOfRange, match=text):
        slot(1, 2, 1)
    text = (
        r"^the wire's diameter is 1 mm; it must be below that of its hole, 1 mm\. "
        r"Leave a hole out that its wire fills\.$"
    )
    with pytest.raises(OutOfRange, match=text):
        wire_hole(1, 1, 1)
    with pytest.raises(WrongKind):
        hole("2 mm", 1)


@pytest.mark.parametrize("volume", [0, -1])
def test_a_chamber_without_volume_is_refused(volume):
    with pytest.raises(OutOfRange, match=rf"the volume of the chamber is {volume} mm3; it must be above 0"):
        box_compliance(volume)
