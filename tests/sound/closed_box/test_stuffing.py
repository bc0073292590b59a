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


def test_each_share_of_the_loss_leaves_its_own_q(monkeypatch):
    """An invented table, by hand: full filling adds at most 1/1 - 1/8 = 0.875 to 1/Q, at best 1/2 - 1/5 = 0.3, at least
    1/2.5 - 1/4 = 0.15; the part filling takes 0.8, 0.5 and 0.2 of these: 0.7, 0.15 and 0.03."""
    written = [
        ("bare", "volume gain", 1, 1, 1, "b"),
        ("part", "volume gain", 1.1, 1.2, 1.3, "p1"),
        ("filled", "volume gain", 1.2, 1.3, 1.4, "f1"),
        ("filled", SYSTEM_Q, 1, 2, 2.5, "f2"),
        ("unfilled", SYSTEM_Q, 4, 5, 8, "u"),
        ("part", "share of the loss of full filling", 0.2, 0.5, 0.8, "p2"),
    ]
    heads = ("name", "quantity", "low", "best", "high", "source")
    table = [(line, dict(zip(heads, map(str, row), strict=True))) for line, row in enumerate(written, start=2)]
    monkeypatch.setattr(module, "rows", lambda _file: iter(table))
    found = read_stuffings()
    assert list(found) == ["bare", "part", "filled"]  # "unfilled" has no gain here
    assert found["bare"].q_box == (inf, inf, inf)
    assert found["part"].q_box == pytest.approx((1 / 0.7, 1 / 0.15, 1 / 0.03))
    assert found["filled"].q_box == pytest.approx((1 / 0.875, 1 / 0.3, 1 / 0.15))
    assert [each.volume_gain for each in found.values()] == [(1, 1, 1), (1.1, 1.2, 1.3), (1.2, 1.3, 1.4)]
    assert [(each.name, each.source) for each in found.values()] == [
        ("bare", "b"), ("part", "p1; p2"), ("filled", "f1; f2"),
    ]  # fmt: skip


def test_the_table_itself_gives_what_is_worked_out_by_hand():
    """Leach's 7, 8.5, 10 unfilled and 2, 3.5, 5 filled: 1/0.4 = 2.5, 3.5 * 8.5 / 5 = 5.95, 5 * 7 / 2 = 17.5."""
    found = read_stuffings()
    assert found == STUFFINGS
    assert list(found) == ["unfilled", "lightly filled", "filled"]
    assert found["filled"].q_box == pytest.approx((2.5, 5.95, 17.5))
    assert found["lightly filled"].q_box == pytest.approx((2.5, 11.9, inf))  # all of the loss, half of it, none
    assert found["unfilled"].q_box == (inf, inf, inf)
    assert found["unfilled"].source.startswith("definition: air alone; W. M. Leach, ")
