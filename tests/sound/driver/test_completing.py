"""A driver's missing parameters: relations against outside checks, estimates and their limits, contradictions."""

import re
from dataclasses import replace
from math import pi

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from modelmath import tables
from modelmath.errors import ModelMathError, NotYetKnown, OutOfRange, TableError
from modelmath.quantities.known import Known
from modelmath.sound.air import ROOM_AIR, Air
from modelmath.sound.closed_box.box import closed_box
from modelmath.sound.driver import estimates as estimating
from modelmath.sound.driver import relations
from modelmath.sound.driver.agreeing import TOLERATED
from modelmath.sound.driver.cases import cases_of
from modelmath.sound.driver.completing import assumed, complete, resonance_of_size
from modelmath.sound.driver.driver import LABELS, PARAMETERS, Driver
from modelmath.sound.driver.estimates import Estimate, estimates
from tests.published import published_rows

SIZE = {"length_mm": 15, "width_mm": 11}
FULL = {"fs_hz": 500.0, "qes": 1.0, "qms": 4.0, "vas_mm3": 1500.0, "sd_mm2": 95.0, "re_ohm": 7.2, "impedance_ohm": 8.0}
CONSTANTS = {row["quantity"]: row for row in published_rows("closed_box_constants.csv")}


def driver(**known):
    return Driver("sample", **{**SIZE, **known})


# Outside checks.


def test_poles_of_the_moving_system_are_those_of_fs_and_qts():
    """Mass, spring and losses as a polynomial; its roots by numpy. Losses: Rms = 2 pi fs Mms / Qms, and Bl^2 / Re."""
    found = complete(driver(**FULL))
    mass_kg = found.mms_g.value / 1000
    spring = ROOM_AIR.stiffness_pa * (found.sd_mm2.value * 1e-6) ** 2 / (found.vas_mm3.value * 1e-9)
    bl = relations.force_factor_tm(500.0, found.mms_g.value, 7.2, 1.0)
    loss = 2 * pi * 500.0 * mass_kg / found.qms.value + bl**2 / 7.2
    pole = np.roots([mass_kg, loss, spring])[0]
    assert abs(pole) / (2 * pi) == pytest.approx(500.0, rel=1e-9)
    assert abs(pole) / (-2 * pole.real) == pytest.approx(found.qts.value, rel=1e-9)


def test_both_printed_forms_of_the_efficiency_agree():
    """rho / (2 pi c) Bl^2 Sd^2 / (Mms^2 Re) with the constant as printed for 25 C: encyclopaedia, after Beranek."""
    printed = float(CONSTANTS["rho/(2 pi c), dry air 25 C"]["value"])
    air = Air(25.0)
    found = complete(driver(**FULL), air)
    mms_kg, sd_m2 = found.mms_g.value / 1000, found.sd_mm2.value * 1e-6
    bl = relations.force_factor_tm(500.0, found.mms_g.value, 7.2, 1.0)
    efficiency = printed * bl**2 * sd_m2**2 / (mms_kg**2 * 7.2)
    assert relations.efficiency(500.0, 1500.0, 1.0, air) == pytest.approx(efficiency, rel=2e-3)


def test_total_q_by_hand():
    """Small 1972, 1/Qts = 1/Qes + 1/Qms: 1 and 4 give 0.8; 0.6 and 3 give 0.5. By hand."""
    assert complete(driver(qes=1.0, qms=4.0)).qts.value == 0.8
    assert complete(driver(qts=0.5, qms=3.0)).qes.value == pytest.approx(0.6)
    assert complete(driver(qts=0.5, qes=0.6)).qms.value == pytest.approx(3.0)


def test_the_resonance_is_estimated_as_it_was_found():
    low, high = re.findall(
        "[0-9]+", CONSTANTS["resonance in free air of usual small box speakers of about 15 x 11 mm"]["value"]
    )
    found = complete(driver()).fs_hz
    assert (found.low, found.high, found.origin) == (float(low), float(high), "estimated")
    assert found.why == (
        "from its outside size: common practice, no source; speakers of about 11 x 15 mm; other sizes times "
        "(165 mm2 / outside area)^0.4"
    )


def test_the_least_impedance_of_the_standard_holds_down_to_the_estimate():
    """IEC 60268-5, from memory: nowhere below 0.8 of the rated; Re lies below that least, and not above the rated."""
    found = complete(driver(impedance_ohm=8)).re_ohm
    assert found.low < 0.8 * 8 < found.value < found.high <= 8


# What stays, what follows.

WAYS = [
    ("qts", ("qes", "qms")),
    ("qes", ("qts", "qms")),
    ("qms", ("qts", "qes")),
    ("mms_g", ("fs_hz", "vas_mm3", "sd_mm2")),
    ("vas_mm3", ("fs_hz", "mms_g", "sd_mm2")),
    ("fs_hz", ("mms_g", "vas_mm3", "sd_mm2")),
    ("sd_mm2", ("fs_hz", "mms_g", "vas_mm3")),
]


@pytest.mark.parametrize(("field", "sources"), WAYS)
def test_each_parameter_follows_from_the_others(field, sources):
    whole = complete(driver(**FULL))
    found = complete(driver(**{name: whole.known(name).value for name in sources})).known(field)
    assert found.origin == "derived"
    assert found.exact
    assert found.value == pytest.approx(whole.known(field).value, rel=1e-12)


def test_limits_are_those_of_every_combination():
    found = complete(driver(qes=Known(1, 0.8, 1.2), qms=Known(4, 3, 5), fs_hz=500, vas_mm3=1500)).qts
    # by hand: 0.8 x 3 / 3.8 and 1.2 x 5 / 6.2
    assert (found.low, found.value, found.high) == pytest.approx((0.8 * 3 / 3.8, 0.8, 1.2 * 5 / 6.2))


RANGES = {
    "power_w": (0.1, 3), "re_ohm": (3, 30), "fs_hz": (150, 1500), "qes": (0.3, 5), "qms": (1, 10),
    "vas_mm3": (100, 50000), "sd_mm2": (40, 120), "xmax_mm": (0.1, 2), "le_mh": (0.01, 1),
}  # fmt: skip


@st.composite
def some_known(draw):
    """Parameters of a driver that there may be, some of them known, within limits that hold the true value."""
    true = {field: draw(st.floats(*ends)) for field, ends in RANGES.items()}
    true["impedance_ohm"] = true["re_ohm"] / 0.88
    true["qts"] = relations.q_together(true["qes"], true["qms"])
    true["mms_g"] = relations.moving_mass_g(
        true["fs_hz"], relations.compliance_m_n(true["vas_mm3"], true["sd_mm2"], ROOM_AIR)
    )
    assert set(true) == set(PARAMETERS)
    fields = draw(st.lists(st.sampled_from(PARAMETERS), min_size=1, unique=True))
    return {
        field: Known(
            true[field],
            true[field] * draw(st.floats(0.9, 1)),
            true[field] * draw(st.floats(1, 1.1)),
            draw(st.sampled_from(["given", "measured"])),
        )
        for field in fields
    }


@given(some_known())
def test_completed_drivers(known):
    """Idempotent; nothing given is changed; limits hold the value; the best values satisfy the relations."""
    given_driver = driver(**known)
    try:
        found = complete(given_driver)
    except OutOfRange:
        assume(False)
    assert complete(found) == found
    assert all(found.known(field) == each for field, each in known.items())
    for field in PARAMETERS:
        each = found.known(field)
        if each is None:
            assert field in ("power_w", "le_mh")
            continue
        assert 0 < each.low <= each.value <= each.high
        assert field in known or (each.origin in ("derived", "estimated") and each.why)
    if not {"qes", "qms", "qts"} <= set(known):
        q = relations.q_together(found.qes.value, found.qms.value)
        assert found.qts.value == pytest.approx(q, rel=1e-9)
    assert cases_of(found).qts[0] == pytest.approx(found.qts.value, rel=TOLERATED)
    assert len(assumed(found)) == sum(each.origin == "estimated" for _, each in found.parameters)


@given(some_known(), st.data(), st.floats(0, 1), st.floats(0, 1))
def test_knowing_one_more_closely_widens_nothing(known, data, below, above):
    """Alone of the three, a Qts or Qms holds the estimate of the other off, which may widen as it is known closer."""
    field = data.draw(st.sampled_from(sorted(known)))
    assume(field == "qes" or {"qes", "qms", "qts"} & set(known) != {field})
    each = known[field]
    closer = replace(
        each, low=each.value - (each.value - each.low) * below, high=each.value + (each.high - each.value) * above
    )
    try:
        wide, narrow = complete(driver(**known)), complete(driver(**{**known, field: closer}))
    except OutOfRange:
        assume(False)
    for name, before in wide.parameters:
        after = narrow.known(name)
        assert after.low >= before.low * (1 - 1e-12)
        assert after.high <= before.high * (1 + 1e-12)


# Estimates.


def test_the_first_screen_asks_for_no_more_than_size_impedance_and_power():
    found = complete(driver(impedance_ohm=8, power_w=1))
    assert found.le_mh is None
    assert found.power_w == Known.of(1)
    assert all(found.known(field) for field in PARAMETERS if field != "le_mh")
    assert (found.sd_mm2.value, found.sd_mm2.low, found.sd_mm2.high) == pytest.approx((99, 74.25, 123.75))
    assert found.vas_mm3.low < 500
    assert found.vas_mm3.high > 6000


@pytest.mark.parametrize("size", [(8, 8), (12, 8), (15, 11), (28, 16), (35, 16), (40, 20), (40, 40)])
def test_the_best_estimates_go_together(size):
    """Small 1972: fs = 1 / (2 pi sqrt(Mms Cms)), Vas = rho c^2 Sd^2 Cms."""
    found = complete(Driver("sample", *size))
    compliance = relations.compliance_m_n(found.vas_mm3.value, found.sd_mm2.value)
    assert found.mms_g.value == pytest.approx(relations.moving_mass_g(found.fs_hz.value, compliance))


def test_the_resonance_goes_with_size_by_hand():
    """20 x 40 mm: (165/800)^0.4 = e^(0.4 x -1.5787) = 0.5318; 550 x 0.5318 = 292; limits 160 to 532. By hand."""
    found = resonance_of_size(Driver("sample", 40, 20))
    assert (found.value, found.low, found.high) == pytest.approx((292.5, 159.5, 531.8), rel=1e-3)


@given(st.tuples(*[st.floats(5, 60)] * 2), st.tuples(*[st.floats(0, 30)] * 2), st.booleans())
def test_a_larger_one_is_never_estimated_higher(size, more, is_round):
    small = resonance_of_size(Driver("sample", *size, round=is_round))
    large = resonance_of_size(Driver("sample", *(one + other for one, other in zip(size, more, strict=True)), is_round))
    assert large.value <= small.value
    assert (large.low / large.value, large.high / large.value) == pytest.approx((300 / 550, 1000 / 550))


@given(st.floats(5, 60), st.floats(5, 60))
def test_a_cone_of_the_usual_area_tells_the_same_resonance_as_the_size(length, width):
    whole = Driver("sample", length, width)
    cone = Driver("sample", sd_mm2=complete(whole).sd_mm2)
    assert resonance_of_size(cone).value == pytest.approx(resonance_of_size(whole).value)
    assert resonance_of_size(cone).why.startswith("from its cone area: ")
    assert resonance_of_size(Driver("sample")) is None


@pytest.mark.parametrize(
    "sizes", [((12, 8), (15, 11)), ((15, 11), (28, 16)), ((28, 16), (40, 20)), ((40, 20), (40, 40))]
)
def test_in_a_large_chamber_a_larger_one_reaches_lower(sizes):
    small, large = (closed_box(Driver("sample", *size), 500_000.0).f3_hz for size in sizes)
    assert large.best < small.best


def test_a_round_one_by_its_diameter_alone():
    for size in ({"length_mm": 20}, {"width_mm": 20}, {"length_mm": 20, "width_mm": 20}):
        found = complete(Driver("sample", round=True, **size)).sd_mm2
        assert found.value == pytest.approx(0.6 * pi * 100)


def test_impedance_from_the_resistance_of_the_coil():
    found = complete(driver(re_ohm=7.04)).impedance_ohm
    assert (found.low, found.origin) == (7.04, "estimated")
    assert (found.value, found.high) == pytest.approx((8, 7.04 / 0.7))


def test_a_known_qts_holds_the_estimated_qms_above_it():
    usual, held = complete(driver()).qms, complete(driver(qts=3.0)).qms
    assert (held.low, held.high) == (3.75, usual.high)
    assert held.low > usual.low
    far = complete(driver(qts=10.0))
    assert far.qms.low == 12.5
    assert far.qms.high == 50
    assert far.qes.value == pytest.approx(50)


def test_a_known_qms_holds_the_estimated_qts_below_it():
    held = complete(driver(qms=1.0)).qts
    assert (held.low, held.value, held.high) == (0.5, 0.8, 0.8)
    far = complete(driver(qms=0.5)).qts
    assert far.high == 0.4
    assert far.low == pytest.approx(0.4 * 0.5 / 1.4)


@given(st.floats(0.1, 20), st.booleans())
def test_an_estimate_is_only_narrowed_where_something_of_it_is_left(limit, lower):
    usual = Estimate(2, 4, 8, "sample")
    found = usual.narrowed(least=limit) if lower else usual.narrowed(most=limit)
    assert 0 < found.low <= found.best <= found.high
    if usual.low <= limit <= usual.high:
        assert usual.low <= found.low
        assert found.high <= usual.high
    assert found.low >= limit * (1 - 1e-12) if lower else found.high <= limit


def test_each_estimate_has_its_sentence():
    found = complete(driver(impedance_ohm=8, fs_hz=Known(500, 450, 550, "estimated"), qes=1, qms=4, vas_mm3=1500))
    assert assumed(found) == (
        (
            "The voice coil resistance Re of the sample is taken as 7.04 ohm, from 5.6 ohm to 8 ohm (from its rated "
            "impedance: IEC 60268-5: the impedance is nowhere below 0.8 of the rated one; the resistance is a little "
            "below that least; from memory). Measure it with a meter, less the resistance of the leads."
        ),
        (
            "The resonance fs of the sample is taken as 500 Hz, from 450 Hz to 550 Hz (an estimate of yours). "
            "Measure it on the page Measure a speaker."
        ),
        (
            "The cone area Sd of the sample is taken as 99 mm2, from 74.2 mm2 to 124 mm2 (from its outside size: "
            "common practice, no source). Measure the cone from the middle of its surround to the middle opposite."
        ),
        (
            "The cone travel Xmax of the sample, one way, is taken as 0.398 mm, from 0.172 mm to 0.89 mm (from its "
            "cone area: common practice, no source; 0.2 to 0.8 mm for 100 mm2). Its data sheet states it."
        ),
    )
    every = {**FULL, "xmax_mm": 0.4}
    assert assumed(complete(driver(**every))) == ()


def test_where_the_limits_of_two_q_meet_the_third_is_bounded_by_what_is_usual():
    """Best values by hand: 0.8 and 1 leave 4, 0.8 and 4 leave 1; 0.64 and 1.2 leave 1.371."""
    total = Known(0.8, 0.64, 0.96)
    mechanical = complete(driver(qts=total, qes=Known(1, 0.8, 1.2))).qms
    assert (mechanical.low, mechanical.value, mechanical.high) == pytest.approx((1.3714, 4, 8), rel=1e-4)
    electrical = complete(driver(qts=total, qms=Known(4, 0.9, 5))).qes
    assert (electrical.value, electrical.high) == pytest.approx((1, 5 * 0.96))
    far = complete(driver(qts=Known(0.8, 0.7, 0.9), qes=Known(0.81, 0.75, 0.9))).qms
    assert far.value == far.high == pytest.approx(64.8)


# Refusals.


@pytest.mark.parametrize(
    "known", [{}, {"fs_hz": 500, "qts": 0.7, "vas_mm3": 2000}, {"length_mm": 15}, {"width_mm": 11}]
)
def test_without_its_size_nothing_bounds_the_cone(known):
    with pytest.raises(
        NotYetKnown, match=r"^the cone area Sd of the sample is not known yet; enter its outside size\.$"
    ):
        complete(Driver("sample", **known))


BOTH = "Check both and their units, or leave one of them out."


@pytest.mark.parametrize(
    ("known", "message"),
    [
        (
            {"qes": 1, "qms": 4, "qts": 1},
            (
                "the total Qts of the sample is 1; it must be 0.8, as its electrical Qes of 1 and mechanical Qms of 4 "
                f"give it (1/Qts = 1/Qes + 1/Qms); it is 25 % above. {BOTH}"
            ),
        ),
        (
            {"qes": Known(1, 0.9, 1.1), "qms": 4, "qts": Known(0.6, 0.5, 0.65)},
            (
                "the total Qts of the sample is 0.6; it must be from 0.735 to 0.863, as its electrical Qes of 1 and "
                f"mechanical Qms of 4 give it (1/Qts = 1/Qes + 1/Qms); it is 11.5 % below at its upper limit. {BOTH}"
            ),
        ),
        (
            {"fs_hz": 500, "vas_mm3": 1500, "sd_mm2": 90, "mms_g": 0.2},
            (
                "the moving mass Mms of the sample is 0.2 g; it must be 0.0776 g, as its resonance fs of 500 Hz, "
                "equivalent volume Vas of 1.5 cm3 and cone area Sd of 90 mm2 give it "
                f"(fs = 1 / (2 pi sqrt(Mms Cms)) with Vas = rho c^2 Sd^2 Cms); it is 158 % above. {BOTH}"
            ),
        ),
        (
            {"sd_mm2": 180},
            (
                "the cone area Sd of the sample is 180 mm2; it must be within its outside size (165 mm2); "
                f"it is 9.09 % above. {BOTH}"
            ),
        ),
        (
            {"re_ohm": 3.6, "impedance_ohm": 8},
            (
                "the voice coil resistance Re of the sample is 3.6 ohm; it must be from 4 ohm to 10 ohm, "
                f"to go with its rated impedance of 8 ohm; it is 10 % below. {BOTH}"
            ),
        ),
        (
            {"qts": 0.7, "qms": 0.6},
            (
                "the total Qts of the sample is 0.7; it must be below its mechanical Qms of 0.6, as 1/Qts = 1/Qes + "
                "1/Qms; it is 16.7 % above. Check both, or leave one of them out."
            ),
        ),
        (
            {"qts": Known(0.9, 0.7, 1.1), "qes": Known(0.9, 0.8, 1)},
            (
                "the total Qts of the sample is 0.9; it must be below its electrical Qes of 0.9, "
                "as 1/Qts = 1/Qes + 1/Qms; it is just as high. Check both, or leave one of them out."
            ),
        ),
        (
            {"qts": 3.0, "qms": 1.0},
            (
                "the total Qts of the sample is 3; it must be below its mechanical Qms of 1, "
                "as 1/Qts = 1/Qes + 1/Qms; it is 200 % above. Check both, or leave one of them out."
            ),
        ),
        (
            {"fs_hz": 500, "vas_mm3": 1500, "sd_mm2": 90, "mms_g": 20},
            (
                "the moving mass Mms of the sample is 20 g; it must be 0.0776 g, as its resonance fs of 500 Hz, "
                "equivalent volume Vas of 1.5 cm3 and cone area Sd of 90 mm2 give it "
                "(fs = 1 / (2 pi sqrt(Mms Cms)) with Vas = rho c^2 Sd^2 Cms); it is more than ten times as much. "
                f"{BOTH}"
            ),
        ),
        (
            {"re_ohm": Known(0.2, 0.1, 0.3), "impedance_ohm": 8},
            (
                "the voice coil resistance Re of the sample is 0.2 ohm; it must be from 4 ohm to 10 ohm, "
                "to go with its rated impedance of 8 ohm; it is less than a tenth of that at its upper limit. "
                f"{BOTH}"
            ),
        ),
        (
            {"fs_hz": 1e200},
            (
                "the equivalent volume Vas of the sample is too small or too large to be reckoned with; it must be "
                "that of a small speaker. It follows from its resonance fs of 1e+200 Hz, moving mass Mms of 0.0792 g "
                "and cone area Sd of 99 mm2: check these and their units."
            ),
        ),
    ],
)
def test_contradictions_name_both_and_by_how_much(known, message):
    with pytest.raises(OutOfRange, match=f"^{re.escape(message)}$"):
        complete(driver(**known))


@pytest.mark.parametrize("off", [1 - TOLERATED + 0.001, 1, 1 + TOLERATED - 0.001])
def test_printed_values_may_be_rounded(off):
    found = complete(driver(qes=1, qms=4, qts=0.8 * off))
    assert found.qts.value == 0.8 * off


@given(st.dictionaries(st.sampled_from(sorted(PARAMETERS)), st.floats(1e-300, 1e300), max_size=6))
def test_absurd_numbers_are_completed_or_refused_in_words(known):
    try:
        found = complete(driver(**known))
    except ModelMathError as fault:
        found = str(fault)
    if isinstance(found, str):
        assert any(label.split(",")[0] in found for label in LABELS.values())
    else:
        assert complete(found) == found


@pytest.fixture
def table(monkeypatch, tmp_path):
    def write(text):
        (tmp_path / estimating.FILE).write_text(text, encoding="utf-8")
        monkeypatch.setattr(tables, "data_folder", lambda: tmp_path)
        return estimates.__wrapped__()

    return write


@pytest.mark.parametrize(
    ("row", "problem"),
    [
        ("Q,3,2,4,-,invented,no", "3, 2 and 4 are not in order or not above 0"),
        ("Q,0,2,4,-,invented,no", "0, 2 and 4 are not in order or not above 0"),
        ("P,1,2,4,-,invented,no", "P stands there twice"),
    ],
)
def test_a_table_that_contradicts_itself_is_refused(table, row, problem):
    head = "quantity,low,best,high,unit,source,confirmed\nP,1,2,3,-,invented,no\n"
    with pytest.raises(TableError, match=f"^{re.escape(f'data/driver_estimates.csv, line 3: {problem}.')}$"):
        table(head + row + "\n")
