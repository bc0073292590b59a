"""What the user's sheet says, and what hangs on its outputs."""

import re

import pytest

from modelmath.errors import OutOfRange, UnreadableLength, WrongKind
from modelmath.light.feeding.amounts import as_band, banded, beside, listed, total
from modelmath.light.feeding.loads import Load
from modelmath.light.feeding.sheet import DecoderSheet
from modelmath.quantities.band import Band
from modelmath.quantities.known import Known

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
