"""What strands lose on the way and at their faces, beside the figures in print."""

import re
from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows

from modelmath.errors import OutOfRange, TableError, UnknownChoice, WrongKind
from modelmath.light.strands import losses as module
from modelmath.light.strands.fibre import ACRYLIC, Fibre
from modelmath.light.strands.losses import (
    FINISHES,
    db,
    face_loss_db,
    face_scatter_db,
    fresnel_db,
    length_loss_db,
    transmission,
)
from modelmath.quantities.band import Band
from modelmath.tables import rows

PRINTED = {row["quantity"]: row["value"] for row in published_rows("fibre.csv")}


def test_a_tenth_of_a_metre_loses_what_the_table_says():
    loss = length_loss_db(100)
    assert agrees_with_print(loss.best, PRINTED["loss of 0.10 m of 200 dB/km fibre"])
    assert agrees_with_print(transmission(loss.best), PRINTED["transmission of 0.10 m of 200 dB/km fibre"])
    assert loss.low < loss.best < loss.high


def test_a_face_reflects_what_fresnel_says():
    printed = PRINTED["Fresnel loss per PMMA-air face, normal incidence, n=1.49"]
    assert agrees_with_print(1 - transmission(fresnel_db(ACRYLIC.index)), printed)
    both = transmission(2 * fresnel_db(ACRYLIC.index))
    assert agrees_with_print(both, PRINTED["two-face Fresnel transmission, n=1.49"])


def test_a_face_is_polished_cut_or_cloudy():
    """Trade fact, common practice, no source: a cloudy end is cut off before use, since it loses most."""
    polished, cut, cloudy = (face_loss_db(ACRYLIC, finish) for finish in FINISHES)
    assert fresnel_db(ACRYLIC.index) == polished.low < polished.best < cut.best < cloudy.best
    assert cut.high < cloudy.best
    for loss in (polished, cut, cloudy):
        assert loss.low <= loss.best <= loss.high


@given(st.floats(0, 300))
def test_a_loss_and_what_it_leaves_are_inverse(loss):
    assert db(transmission(loss)) == pytest.approx(loss, abs=1e-9)


def test_ten_decibels_leave_a_tenth_and_all_of_it_may_be_lost():
    assert transmission(10) == pytest.approx(0.1)
    assert (db(1), db(0), transmission(inf)) == (0, inf, 0)


@given(st.floats(0, 1e4), st.floats(0, 1e4))
def test_lengths_lose_as_much_together_as_apart(one, other):
    together, first, second = (length_loss_db(each) for each in (one + other, one, other))
    assert together.best == pytest.approx(first.best + second.best)
    assert together.high == pytest.approx(first.high + second.high)


@pytest.mark.parametrize(
    ("call", "error", "text"),
    [
        (
            lambda: db(50),
            OutOfRange,
            "the share of light is 50; it must be from 0 to 1. Write 50 % as 0.5.",
        ),
        (
            lambda: db(-0.5),
            OutOfRange,
            "the share of light is -0.5; it must be 0 or more. Write it as a fraction, such as 0.5.",
        ),
        (
            lambda: transmission(-3),
            OutOfRange,
            "the loss is -3 dB; it must be 0 dB or more. Write a loss above 0, such as 0.5.",
        ),
        (
            lambda: transmission("3 dB"),
            WrongKind,
            "the loss is '3 dB'; expected a plain number of dB. Write a loss above 0, such as 0.5.",
        ),
        (
            lambda: length_loss_db("60 mm"),
            WrongKind,
            "length_mm is '60 mm'; expected a plain number of mm. Read text with parse_length first.",
        ),
        (
            lambda: length_loss_db(-1),
            OutOfRange,
            "length_mm is -1 mm; it must be 0 mm or more. Write it in mm, such as 60.",
        ),
        (
            lambda: fresnel_db(0.5),
            OutOfRange,
            "the index of the core is 0.5; it must be 1 or more. Write it as on its sheet, such as 1.49.",
        ),
        (
            lambda: face_loss_db(ACRYLIC, "polishd"),
            UnknownChoice,
            "the finish of a face is 'polishd'; write one of polished, cut, cloudy. Did you mean 'polished'?",
        ),
    ],
)
def test_what_is_no_loss_is_refused(call, error, text):
    with pytest.raises(error, match=f"^{re.escape(text)}$"):
        call()


@pytest.mark.parametrize(
    ("change", "problem"),
    [
        ({"low_db": "1"}, "line 2: its limits are not 0 or more, the lower one first."),
        ({"low_db": "-0.5"}, "line 2: its limits are not 0 or more, the lower one first."),
        ({"best_db": "9"}, "line 2: its limits are not 0 or more, the lower one first."),
        ({"high_db": "0.01"}, "line 2: its limits are not 0 or more, the lower one first."),
        ({"finish": "smooth"}, "line 4: the finishes are not polished, cut, cloudy, in this order."),
        ({"finish": "dull"}, "line 4: the finishes are not polished, cut, cloudy, in this order."),
    ],
)
def test_a_finish_that_contradicts_itself_is_refused(monkeypatch, change, problem):
    (line, first), *others = rows(module.TABLE)
    monkeypatch.setattr(module, "rows", lambda _file: iter([(line, first | change), *others]))
    with pytest.raises(TableError, match=f"^{re.escape(f'data/strand_faces.csv, {problem}')}$"):
        face_scatter_db.__wrapped__()


def test_a_length_within_limits_by_hand():
    """Half a metre at 0.2 dB/m, 0.1 to 0.4."""
    loss = length_loss_db(500, Fibre("made up", Band(0.5, 0.5, 0.5), 1.49, Band(0.2, 0.1, 0.4), "made up"))
    assert (loss.best, loss.low, loss.high) == pytest.approx((0.1, 0.05, 0.2))
    assert length_loss_db(0) == Band(0, 0, 0)


def test_a_finish_known_exactly_is_one(monkeypatch):
    (line, first), *others = rows(module.TABLE)
    exact = first | {"low_db": "0", "best_db": "0", "high_db": "0"}
    monkeypatch.setattr(module, "rows", lambda _file: iter([(line, exact), *others]))
    assert face_scatter_db.__wrapped__()["polished"] == Band(0, 0, 0)


def test_faces_at_their_edges():
    """Fresnel at an index of 2: (1/3)^2 is reflected and 8/9 passes, 0.512 dB less."""
    assert fresnel_db(2) == pytest.approx(0.5115, abs=1e-4)
    with pytest.raises(OutOfRange, match=r"^the share of light is 1\.5; it must be from 0 to 1\."):
        db(1.5)
    assert str(db(1)) == "0.0"  # no minus before nothing
    assert fresnel_db(1) == 0  # no step of the index, nothing reflected
    assert face_loss_db() == face_loss_db(ACRYLIC, "polished")
    assert db(1) == transmission(inf) == 0
    assert transmission(0) == 1


def test_a_face_loses_what_it_reflects_and_what_it_scatters():
    reflected, scatter = fresnel_db(ACRYLIC.index), face_scatter_db()["cloudy"]
    loss = face_loss_db(finish="cloudy")
    assert (loss.best, loss.low, loss.high) == pytest.approx(
        (reflected + scatter.best, reflected + scatter.low, reflected + scatter.high)
    )
