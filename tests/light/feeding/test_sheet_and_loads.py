"""What the user's sheet says, and what hangs on its outputs."""

import re

import pytest

from modelmath.errors import OutOfRange, UnreadableLength, WrongKind
from modelmath.light.feeding.amounts import as_band, banded, beside, check_amount, listed, over_cases, total
from modelmath.light.feeding.loads import Load
from modelmath.light.feeding.sheet import DecoderSheet
from modelmath.quantities.band import Band
from modelmath.quantities.known import Known
from modelmath.quantities.text import told

MA = 0.001


def whole(text):
    return f"^{re.escape(text)}$"


def test_nothing_is_built_in():
    sheet = DecoderSheet()
    assert (sheet.supply_v, sheet.each_a, sheet.all_a, sheet.whole_a, sheet.idle_w) == (None,) * 5
    assert sheet.outputs == ()
    assert sheet.limit_of("white") is None


def test_an_output_has_its_own_limit_or_that_of_each():
    sheet = DecoderSheet(
        each_a=Known.of(100 * MA), outputs=("white", "F5 logic"), own_a=(("f5 Logic", Known.of(5 * MA)),)
    )
    assert sheet.limit_of("F5  logic") == Known.of(5 * MA)
    assert sheet.limit_of("white") == Known.of(100 * MA)
    assert sheet.output_named(" WHITE ") == "white"
    assert sheet.output_named("green") is None


def test_a_load_takes_figures_with_limits_or_without():
    load = Load.of("cab", None, Known(2 * MA, 1 * MA, 3 * MA), resistor_w=0.02, lamp_w=Band(0.006, 0.005, 0.007))
    assert load.current_a == Band(2 * MA, 1 * MA, 3 * MA)
    assert load.power_w.best == pytest.approx(0.026)
    assert load.power_w.high == pytest.approx(0.027)
    assert Load("cab", None, 2 * MA) == Load.of("cab", None, 2 * MA)


def test_limits_add_and_noise_does_not():
    tenths = [as_band("it", 0.1, "A")] * 10
    assert total(tenths) == Band(1.0, 1.0, 1.0)  # ten tenths added one by one make 0.9999999999999999
    assert total([]) == Band(0.0, 0.0, 0.0)


def test_what_differs_is_told_so_that_it_shows():
    assert beside(0.10004, 0.1, "a") == "100.04 mA"
    assert beside(0.1, 0.10004, "a") == "100 mA"
    assert beside(0.1, 0.1, "a") == "100 mA"
    assert beside(12.0001, 12.0, "v") == "12.0001 V"
    assert banded(Band(2 * MA, 1 * MA, 3 * MA), "a") == "2 mA (1 mA to 3 mA)"
    assert listed(["cab"]) == "'cab'"


@pytest.mark.parametrize(
    ("call", "kind", "text"),
    [
        (
            lambda: DecoderSheet(each_a=0.1),
            WrongKind,
            (
                "the most current of one output is '0.1'; expected a figure with its origin. "
                "Read it from text with parse_quantity, or write Known.of with the number."
            ),
        ),
        (
            lambda: DecoderSheet(all_a=Known.of(0)),
            OutOfRange,
            "the most current of all outputs together is 0 A; it must be above 0 A. Check the figure behind it.",
        ),
        (
            lambda: DecoderSheet(outputs=("white", "White ")),
            OutOfRange,
            (
                "an output of the decoder is 'White' twice; it must be named once; capitals and spaces do not count. "
                "Rename one of them."
            ),
        ),
        (
            lambda: DecoderSheet(outputs=("white",), own_a=(("green", Known.of(0.1)),)),
            OutOfRange,
            (
                "an output with a limit of its own is 'green'; it must be one of white. "
                "Add it to the outputs, or correct its name."
            ),
        ),
        (
            lambda: DecoderSheet(outputs=("",)),
            UnreadableLength,
            "'': an output of the decoder has no name; write one, such as 'front white'.",
        ),
        (
            lambda: Load.of("cab", " ", 0.002),
            UnreadableLength,
            "'': the output of 'cab' has no name; write one, such as 'front white'.",
        ),
        (
            lambda: Load.of("cab", None, -0.002),
            OutOfRange,
            "the current of 'cab' is -0.002 A; it must be 0 A or more. Check the figure behind it.",
        ),
        (
            lambda: Load("cab", None, 0.002, Band(0.1, 0.2, 0.3)),
            OutOfRange,
            (
                "the heat in the resistor of 'cab' is 0.1 W with limits 0.2 and 0.3; "
                "it must be a value between its limits, the lower one first. Swap them."
            ),
        ),
    ],
)
def test_what_is_no_sheet_or_load_is_refused(call, kind, text):
    with pytest.raises(kind, match=whole(text)):
        call()


def test_power_adds_by_its_limits():
    load = Load.of("cab", None, 0.002, resistor_w=Band(0.02, 0.01, 0.03), lamp_w=Band(0.006, 0.004, 0.009))
    assert (load.power_w.best, load.power_w.low, load.power_w.high) == pytest.approx((0.026, 0.014, 0.039))
    assert Load("cab", None, 0.002).power_w == Band(0, 0, 0)
    assert Load.of("cab", None, 0) == Load("cab", None, 0)


@pytest.mark.parametrize(
    ("value", "other", "text"),
    [
        (0.1002, 0.1, "100.2 mA"),  # the fourth digit is enough
        (0.10021, 0.1, "100.2 mA"),  # and no digit more
        (0.10002, 0.1, "100.02 mA"),
        (0.12345, 0.2, "123 mA"),  # three are, where they differ already
        (0.23456, 0.1, "235 mA"),
        (1.00000001, 1.0, "1000.00001 mA"),  # nine digits, the most
        (10.00000002, 10.0, "10000 mA"),  # would take more
        (1.0, 1.0 + 1e-9, "1000 mA"),  # float noise
    ],
)
def test_as_many_digits_as_it_takes_and_no_more(value, other, text):
    assert beside(value, other, "a") == text


def test_lengths_and_volts_beside_each_other_keep_their_units():
    assert beside(100.04, 100.0, "length_mm") == "100.04 mm"
    assert beside(12.001, 12.0, "v") == "12.001 V"
    assert beside(0.0, 1e-9, "a") == told(0.0, "a")


def test_a_band_is_told_with_limits_where_they_differ():
    assert banded(Band(2 * MA, 2 * MA, 3 * MA), "a") == "2 mA (2 mA to 3 mA)"
    assert banded(Band(2 * MA, 1.9999 * MA, 2.0001 * MA), "a") == "2 mA"
    assert listed(["a", "b"]) == "'a' and 'b'"


@pytest.mark.parametrize("value", [True, None, "0.1"])
def test_an_amount_is_a_plain_number(value):
    with pytest.raises(WrongKind, match=rf"^it is '{value}'; expected a plain number of A\."):
        check_amount("it", value, "A")


@pytest.mark.parametrize("value", [float("inf"), float("nan"), -1])
def test_an_amount_is_finite_and_no_less_than_nothing(value):
    for zero, expected in ((True, "0 A or more"), (False, "above 0 A")):
        with pytest.raises(OutOfRange, match=rf"^it is {value:g} A; it must be {expected}\."):
            check_amount("it", value, "A", zero=zero)
    check_amount("it", 0, "A", zero=True)
    with pytest.raises(OutOfRange, match=r"^it is 0 A; it must be above 0 A\."):
        check_amount("it", 0, "A")
    with pytest.raises(OutOfRange, match=r"^it is 0 A; it must be above 0 A\."):
        as_band("it", Band(1.0, 0.0, 2.0), "A")


@pytest.mark.parametrize("band", [Band(1.0, 2.0, 3.0), Band(4.0, 2.0, 3.0), Band(2.0, 3.0, 1.0)])
def test_a_value_outside_its_limits_is_refused(band):
    with pytest.raises(OutOfRange, match=r"it must be a value between its limits, the lower one first\. Swap them\.$"):
        as_band("it", band, "A")


def test_every_combination_of_limits_counts():
    """Over a sign change of the second, the extremes lie at mixed ends: 2 x 5 and 2 x -1."""
    found = over_cases(lambda a, b: a * b, Band(1.5, 1.0, 2.0), Band(3.0, -1.0, 5.0))
    assert found == Band(4.5, -2.0, 10.0)


@pytest.mark.parametrize("field", ["supply_v", "each_a", "all_a", "whole_a", "idle_w"])
def test_only_the_heat_of_a_decoder_may_be_nothing(field):
    if field == "idle_w":
        assert DecoderSheet(idle_w=Known.of(0)).idle_w.value == 0
        with pytest.raises(OutOfRange, match=r"^the decoder's own heat is -1 W; it must be 0 W or more\."):
            DecoderSheet(idle_w=Known.of(-1))
        return
    for least in (0, -1):
        with pytest.raises(OutOfRange, match=r"it must be above 0 [AV]\."):
            DecoderSheet(**{field: Known(1, least, 2)})


def test_a_limit_of_its_own_needs_an_output_and_a_figure():
    text = "an output with a limit of its own is 'green'; it must be an output of the sheet."
    with pytest.raises(OutOfRange, match=f"^{re.escape(text)}"):
        DecoderSheet(own_a=(("green", Known.of(0.1)),))
    with pytest.raises(WrongKind, match=r"^the most current of output 'green' is '0\.1'"):
        DecoderSheet(outputs=("green",), own_a=(("green", 0.1),))
    with pytest.raises(OutOfRange, match=r"^the most current of output 'green' is 0 A"):
        DecoderSheet(outputs=("green",), own_a=(("green", Known.of(0)),))
