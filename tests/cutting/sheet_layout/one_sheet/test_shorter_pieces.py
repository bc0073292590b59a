"""Ever shorter pieces of a sheet: which sides are tried in which turn, and with how many steps; each by hand."""

from modelmath.cutting.sheet_layout.one_sheet import shorten
from modelmath.cutting.sheet_layout.one_sheet.filling import Filler
from modelmath.cutting.sheet_layout.one_sheet.panels import Panel


def part(length, width, number=0):
    return Panel(length, width, number, filled=length * width, count=1)


class Holds:
    """Stands for the search: holds from a side on, and takes all the steps it is given."""

    def __init__(self, monkeypatch, least):
        self.least, self.tried = least, []
        monkeypatch.setattr(shorten, "_held", self)

    def __call__(self, filler, pool, sides, others, steps):
        self.tried.append((sides[0], steps))
        filler.steps += steps
        return [*others, Panel(*sides)] if sides[0] >= self.least else None


def shortened(steps, lowest=10, highest=100):
    found = shorten.shorter_and_shorter(Filler([], 0, 1), {}, lambda side: (side, 7), lowest, highest, steps)
    return [side for side, (root,) in found if (root.length, root.width) == (side, 7)]


def test_ever_shorter_pieces_are_tried_by_thirds_of_the_gap(monkeypatch):
    """From 100 with 10 as the least, and 80 is what holds: 70 does not, then the gap is from 71 on."""
    holds = Holds(monkeypatch, 80)
    assert shortened(12_000) == [91, 85, 81, 80]
    sides = [side for side, _ in holds.tried]
    assert sides[:6] == [70, 91, 85, 81, 78, 80]
    assert sides[6:8] == [79, 57]
    assert {steps for _, steps in holds.tried[:7]} == {1_000}


def test_a_piece_at_the_least_ends_the_search(monkeypatch):
    holds = Holds(monkeypatch, 0)
    assert shortened(100_000, lowest=95, highest=100) == [99, 98, 97, 96, 95]
    assert len(holds.tried) == 5
    assert shortened(100_000, lowest=100, highest=100) == []


def test_what_did_not_hold_is_tried_again_for_longer(monkeypatch):
    """Nothing holds: 99 of 98 to 100 and so on, first with a twelfth of the steps, then with four times as many."""
    holds = Holds(monkeypatch, 1_000)
    assert shortened(24_000, lowest=98, highest=100) == []
    assert holds.tried == [(99, 2_000), (99, 8_000), (99, 14_000)]


def test_a_try_has_some_steps_at_least_and_no_more_than_are_left(monkeypatch):
    holds = Holds(monkeypatch, 1_000)
    shortened(1_000, lowest=90, highest=100)
    assert [steps for _, steps in holds.tried] == [600, 400]


def test_a_piece_holds_by_any_rule_before_it_is_searched_for(monkeypatch):
    filler = Filler([[(5, 10)]], 0, 1)
    other = part(9, 9)
    found = shorten._held(filler, {0: 2}, (10, 10), [other], 0)
    assert found[0] is other
    assert (found[1].count, found[1].waste) == (2, 0)
    asked = []

    def again(filler, roots, pool, steps):
        asked.append((len(roots), dict(pool), steps))
        return roots, {} if len(asked) > 1 else pool

    monkeypatch.setattr(shorten, "refilled", again)
    assert shorten._held(filler, {0: 3}, (10, 10), [other], 50) is None
    assert [each.count for each in shorten._held(filler, {0: 3}, (10, 10), [other], 50)] == [1, 2]
    assert asked == [(2, {0: 1}, 50)] * 2
