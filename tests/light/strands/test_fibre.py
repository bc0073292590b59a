"""What strands take in: figures of the standard and of textbooks; the diameters sold."""

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows

from modelmath.errors import OutOfRange, TableError, WrongKind
from modelmath.light.strands import fibre as module
from modelmath.light.strands.fibre import (
    ACRYLIC,
    SIZES,
    Fibre,
    half_acceptance_deg,
    meeting,
    numerical_aperture,
    read_fibres,
    read_sizes,
)
from modelmath.quantities.band import Band
from modelmath.tables import rows

PRINTED = {row["quantity"]: row["value"] for row in published_rows("fibre.csv")}


def test_acrylic_is_as_the_standard_and_the_textbooks_have_it():
    """IEC 60793-2-40:2011 Table 1 for the aperture; a review abstract for the loss; data sheets for the index."""
    assert ACRYLIC.numerical_aperture.best == float(PRINTED["A4a/b/c theoretical numerical aperture"])
    assert ACRYLIC.numerical_aperture.low == float(PRINTED["typical NA quoted for standard PMMA step-index fibre"])
    assert ACRYLIC.index == float(PRINTED["PMMA index of refraction at 589 nm"])
    assert PRINTED["typical PMMA fibre attenuation, visible"] == f"about {1000 * ACRYLIC.db_per_m.best:g}"
    assert PRINTED["A4a-A4d maximum attenuation (earlier edition)"] == f"{100 * ACRYLIC.db_per_m.high:g}"
    least, _, _ = PRINTED["typical PMMA fibre attenuation at 650 nm, best grades"].partition(" ")
    assert float(least) == 1000 * ACRYLIC.db_per_m.low
    assert "IEC 60793-2-40" in ACRYLIC.source


@pytest.mark.parametrize("cladding", ["1.402", "1.417"])
def test_the_aperture_of_two_indices_agrees_with_the_table(cladding):
    printed = PRINTED[f"NA from core 1.492 and cladding {cladding}"]
    assert agrees_with_print(numerical_aperture(1.492, float(cladding)), printed)


@pytest.mark.parametrize("aperture", ["0.50", "0.47"])
def test_half_the_acceptance_angle_agrees_with_the_table(aperture):
    assert agrees_with_print(half_acceptance_deg(float(aperture)), PRINTED[f"half acceptance angle for NA {aperture}"])


@given(st.floats(1.3, 1.6), st.floats(0.1, 0.7))
def test_an_aperture_comes_back_from_its_indices(index, aperture):
    band = Band(aperture, aperture, aperture)
    fibre = Fibre("glass", band, index, Band(0.2, 0.2, 0.2), "made up")
    assert numerical_aperture(index, fibre.cladding_index) == pytest.approx(aperture)


def test_stock_sizes_hold_those_of_the_list_and_name_a_source():
    listed = {Fraction(each) for each in PRINTED["common stock diameters"].split(", ")}
    assert listed <= {size.diameter_mm for size in SIZES}
    assert all(size.source.startswith("common practice, no source") for size in SIZES)
    assert list(SIZES) == sorted(SIZES, key=lambda size: size.diameter_mm)


@pytest.mark.parametrize(
    ("diameter", "names"),
    [
        (Fraction("0.762"), ("0.030 in", "0.75 mm")),
        (0.75, ("0.75 mm", "0.030 in")),
        (0.5, ("0.5 mm", "0.020 in")),
        (Fraction("0.27"), ("0.010 in", "0.25 mm")),  # just within 0.02 mm of the second
        (Fraction("0.2701"), ("0.010 in",)),
        (1.5, ("1.5 mm",)),
        (1.25, ()),
    ],
)
def test_sizes_meet_within_two_hundredths(diameter, names):
    assert meeting(diameter) == names


@pytest.mark.parametrize(
    ("call", "error", "text"),
    [
        (
            lambda: numerical_aperture(1.402, 1.492),
            OutOfRange,
            (
                "core_index is 1.402 with a skin of 1.492; it must be above that of the skin. "
                "Write the core's index first, such as 1.492 and 1.402."
            ),
        ),
        (
            lambda: numerical_aperture(1.492, 0.9),
            OutOfRange,
            (
                "cladding_index is 0.9; it must be 1, that of air, or more. "
                "Write the core's index first, such as 1.492 and 1.402."
            ),
        ),
        (
            lambda: half_acceptance_deg(30),
            OutOfRange,
            "the numerical aperture is 30; it must be no more than 1. Write it as on its sheet, such as 0.50.",
        ),
        (
            lambda: half_acceptance_deg("0.5"),
            WrongKind,
            "the numerical aperture is '0.5'; expected a plain number. Write it as on its sheet, such as 0.50.",
        ),
        (
            lambda: Fibre("air", Band(0.5, 0.5, 0.5), 1.0, Band(0.2, 0.2, 0.2), "made up"),
            OutOfRange,
            "the index of the core is 1; it must be above 1, that of air. Write it as on its sheet, such as 1.49.",
        ),
        (
            lambda: Fibre("acrylic", Band(0.5, 0.5, 0.5), 1.49, Band(-1, -1, -1), "made up"),
            OutOfRange,
            "the attenuation is -1 dB/m; it must be 0 dB/m or more. 200 dB/km is 0.2 dB/m.",
        ),
        (lambda: meeting(0), OutOfRange, "diameter_mm is 0 mm; it must be above 0 mm. Write it in mm, such as 0.75."),
    ],
)
def test_what_is_no_figure_of_a_strand_is_refused(call, error, text):
    with pytest.raises(error, match=f"^{re.escape(text)}$"):
        call()


def _with(file, change):
    """Return a reader of tables whose first row of one file is changed."""
    (line, first), *others = rows(file)
    return lambda _file: iter([(line, first | change), *others])


@pytest.mark.parametrize(
    ("change", "problem"),
    [
        ({"low": "0.6"}, "line 2: its limits are not above 0, the lower one first."),
        (
            {"quantity": "aperture"},
            "line 4: acrylic needs numerical aperture, index of the core and attenuation, no more and no less.",
        ),
    ],
)
def test_a_fibre_that_contradicts_itself_is_refused(monkeypatch, change, problem):
    monkeypatch.setattr(module, "rows", _with(module.TABLE, change))
    with pytest.raises(TableError, match=f"^{re.escape(f'data/fibre.csv, {problem}')}$"):
        read_fibres()


def test_a_size_that_is_not_its_name_is_refused(monkeypatch):
    monkeypatch.setattr(module, "rows", _with(module.SIZES_TABLE, {"diameter_mm": "0.26"}))
    with pytest.raises(TableError, match=r"^data/strand_sizes\.csv, line 2: 0\.25 mm is not 0\.26 mm\.$"):
        read_sizes()


def test_no_aperture_is_beyond_the_face():
    """sqrt(1.6^2 - 1) is 1.25: more than comes in from beyond the face."""
    assert numerical_aperture(1.6, 1.0) == 1
    assert numerical_aperture(1.25, 1) == pytest.approx(0.75)
    assert half_acceptance_deg(1) == pytest.approx(90)


def test_indices_and_figures_at_their_edges():
    with pytest.raises(OutOfRange, match=r"^core_index is 1\.49 with a skin of 1\.49; it must be above"):
        numerical_aperture(1.49, 1.49)
    with pytest.raises(OutOfRange, match=r"^core_index is 0\.9; it must be 1, that of air, or more\."):
        numerical_aperture(0.9, 0.8)
    clear = Fibre("clear", Band(0.5, 0.4, 1.0), 1.49, Band(0.0, 0.0, 0.0), "made up")
    assert clear.cladding_index == pytest.approx((1.49**2 - 0.25) ** 0.5)
    for aperture in (Band(0.5, 0.0, 0.6), Band(0.5, 0.4, 1.1), Band(0.0, 0.0, 0.0)):
        with pytest.raises(OutOfRange, match=r"^the numerical aperture is"):
            Fibre("none", aperture, 1.49, Band(0.2, 0.2, 0.2), "made up")
    for loss in (Band(0.2, -0.1, 0.3), Band(0.2, 0.1, float("inf"))):
        with pytest.raises(OutOfRange, match=r"^the attenuation is"):
            Fibre("none", Band(0.5, 0.5, 0.5), 1.49, loss, "made up")
    with pytest.raises(WrongKind, match=r"^the index of the core is 'True'"):
        Fibre("none", Band(0.5, 0.5, 0.5), True, Band(0.2, 0.2, 0.2), "made up")


@pytest.mark.parametrize(
    "change", [{"low": "0"}, {"low": "-0.1"}, {"best": "0.52"}, {"low": "0.505"}, {"high": "0.49"}, {"high": "0.4"}]
)
def test_limits_of_a_fibre_out_of_order_are_refused(monkeypatch, change):
    monkeypatch.setattr(module, "rows", _with(module.TABLE, change))
    with pytest.raises(TableError, match=r"line 2: its limits are not above 0, the lower one first\.$"):
        read_fibres()


def test_limits_that_agree_are_limits(monkeypatch):
    monkeypatch.setattr(module, "rows", _with(module.TABLE, {"low": "0.5", "high": "0.5"}))
    assert read_fibres()["acrylic"].numerical_aperture == Band(0.5, 0.5, 0.5)
