"""What filling does, beside the ranges in print, and its table."""

import re
from math import inf

import pytest

from modelmath.errors import TableError, UnknownChoice
from modelmath.sound.closed_box import stuffing as module
from modelmath.sound.closed_box.stuffing import FILLED, LIGHTLY_FILLED, STUFFINGS, UNFILLED, read_stuffings, stuffing
from modelmath.tables import rows

# W. M. Leach, What value of QTC minimizes the lower cutoff frequency: mechanical Q of a closed box.
LEACH_UNFILLED, LEACH_FILLED = (7, 10), (2, 5)
ISOTHERMAL = 1.4  # ratio of specific heats of air, the theoretical limit
PRACTICAL = (1.1, 1.25)  # common practice, no source
SYSTEM_Q = "mechanical Q of the closed box"


def test_unfilled_adds_nothing():
    assert UNFILLED.volume_gain == (1, 1, 1)
    assert UNFILLED.q_box == (inf, inf, inf)
    assert list(UNFILLED.cases) == [(1, inf)]


def test_full_filling_takes_what_lies_between_the_ranges_in_print():
    most, least = 1 / LEACH_FILLED[0] - 1 / LEACH_UNFILLED[1], 1 / LEACH_FILLED[1] - 1 / LEACH_UNFILLED[0]
    best = 2 / sum(LEACH_FILLED) - 2 / sum(LEACH_UNFILLED)
    assert FILLED.q_box == pytest.approx((1 / most, 1 / best, 1 / least))
    assert FILLED.volume_gain == (PRACTICAL[0], PRACTICAL[1], ISOTHERMAL)


def test_with_the_speakers_usual_loss_a_filled_box_has_the_q_in_print():
    """A speaker whose loss leaves an unfilled box a Q in the range in print has one in that range once it is filled."""
    unfilled = (LEACH_UNFILLED[1], sum(LEACH_UNFILLED) / 2, LEACH_UNFILLED[0])
    filled = [1 / (1 / bare + 1 / loss) for bare, loss in zip(unfilled, FILLED.q_box, strict=True)]
    assert filled == pytest.approx([LEACH_FILLED[0], sum(LEACH_FILLED) / 2, LEACH_FILLED[1]])


def test_light_filling_lies_between():
    assert LIGHTLY_FILLED.volume_gain == (1, *PRACTICAL)
    assert LIGHTLY_FILLED.q_box == pytest.approx((FILLED.q_box[0], 2 * FILLED.q_box[1], inf))


@pytest.mark.parametrize("each", STUFFINGS.values(), ids=STUFFINGS)
def test_each_has_its_source_and_its_best_case_first(each):
    assert stuffing(each.name) is each
    assert each.source
    assert next(each.cases) == (each.volume_gain[1], each.q_box[1])
    assert len(set(each.cases)) == len(list(each.cases))
    for low, best, high in (each.volume_gain, each.q_box):
        assert 0 < low <= best <= high
    assert max(each.volume_gain) <= ISOTHERMAL


def test_what_the_table_does_not_have_is_refused():
    text = r"^the stuffing is 'ful'; write one of unfilled, lightly filled, filled\.( Did you mean '.*'\?)?$"
    with pytest.raises(UnknownChoice, match=text):
        stuffing("ful")


@pytest.mark.parametrize(
    ("change", "problem"),
    [
        ({"low": "2"}, "its limits are not 0 or more, the lower one first"),
        ({"low": "-1"}, "its limits are not 0 or more, the lower one first"),
        ({"quantity": "gain"}, f"the quantity is none of volume gain, {SYSTEM_Q}, share of the loss of full filling"),
    ],
)
def test_a_row_that_contradicts_itself_is_refused(monkeypatch, change, problem):
    (line, first), *others = rows(module.TABLE)
    monkeypatch.setattr(module, "rows", lambda _file: iter([(line, first | change), *others]))
    with pytest.raises(TableError, match=f"^{re.escape(f'data/stuffing.csv, line 2: {problem}.')}$"):
        read_stuffings()
