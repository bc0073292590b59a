"""Long work on a page: at once without a loop, in slices with one; stopped, taken up, dropped for another entry."""

from __future__ import annotations

import asyncio
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from modelmath.errors import ModelMathError
from modelmath.steps import Progress
from modelmath.widgets.common import work
from modelmath.widgets.common.work import FAULT, GO_ON, STOP, Work


class Seen:
    """Work that counts to some number, and what became of it."""

    def __init__(self, of=10, fails=None):
        self.of, self.fails = of, fails
        self.results, self.reasons, self.counted, self.closed, self.waited = [], [], 0, False, 0
        self.at = {}  # what to do before some step

    def steps(self):
        try:
            for number in range(self.of):
                self.at.get(number, lambda: None)()
                yield Progress(f"Counting {number}", number / self.of)
                self.counted += 1
            if self.fails:
                raise self.fails
            return self.counted
        finally:
            self.closed = True

    def begin(self, on):
        on.begin("Counting", self.steps(), self.results.append, self.reasons.append, self.wait)

    def wait(self):
        self.waited += 1


def on_a_loop(act, patience_s=0.0):
    """Run work on a loop, one step a slice; `act` sees it first, and then between slices."""

    async def run():
        on = Work(patience_s)
        await act(on)
        return on

    return asyncio.run(run())


@pytest.fixture(autouse=True)
def one_step_a_slice(monkeypatch):
    monkeypatch.setattr(work, "SLICE_S", 0.0)
    monkeypatch.setattr(work, "GAP_S", 0.0)


async def until(true):
    for _ in range(10_000):
        if true():
            return
        await asyncio.sleep(0)
    raise AssertionError("it never came to that")


def test_without_a_loop_it_runs_to_its_end_at_once_and_shows_no_bar():
    on, seen = Work(), Seen()
    seen.begin(on)
    assert (seen.results, seen.reasons, seen.waited) == ([10], [], 0)
    assert (on.running, on.stopped, on.view.layout.display, on.bar.value) == (False, False, "none", "")


def test_with_a_loop_it_tells_how_far_it_is_and_hides_when_it_is_done():
    seen, shown = Seen(4), []

    async def act(on):
        seen.begin(on)
        assert (on.running, seen.results, seen.waited) == (True, [], 1)
        assert on.view.layout.display is None
        assert on.said.value == (
            '<span class="mm-echo" role="status">Counting ... Stop leaves what is shown as it is.</span>'
        )
        on.bar.observe(lambda change: shown.append(change["new"]), names="value")
        await until(lambda: seen.results)

    on = on_a_loop(act)
    assert seen.results == [4]
    assert [re.findall(r'value="(\d+)" aria-label="Counting"', each) for each in shown] == [["25"], ["50"], ["75"], []]
    assert "<p>Counting 3, 75 % done</p>" in shown[-2]
    assert (on.view.layout.display, on.said.value) == ("none", "")


def test_work_within_patience_is_not_spoken_of():
    seen = Seen()

    async def act(on):
        seen.begin(on)
        assert (seen.results, seen.waited, on.view.layout.display) == ([10], 0, "none")

    on_a_loop(act, patience_s=60)


@given(stops=st.lists(st.integers(1, 9), max_size=4), finished=st.booleans())
@settings(max_examples=30, deadline=None)
def test_stopped_anywhere_and_taken_up_it_comes_to_the_same(stops, finished):
    seen = Seen()

    async def act(on):
        seen.begin(on)
        for stop in sorted(stops):
            await until(lambda stop=stop: seen.counted >= stop)
            on.button.click()
            at = seen.counted
            for _ in range(20):
                await asyncio.sleep(0)
            assert (seen.counted, seen.results, on.stopped, on.button.description) == (at, [], True, GO_ON)
            on.button.click()
            assert (on.running, on.button.description) == (True, STOP)
        if finished:
            on.finish()
        await until(lambda: seen.results)

    on_a_loop(act)
    assert (seen.results, seen.counted) == ([10], 10)


def test_what_was_stopped_is_said_and_how_to_go_on():
    seen = Seen(4)

    async def act(on):
        seen.begin(on)
        await until(lambda: seen.counted == 2)
        on.stop()
        on.finish()  # what was stopped stays so
        await until(lambda: True)

    on = on_a_loop(act)
    assert (seen.results, on.running, on.stopped) == ([], False, True)
    assert on.said.value == (
        '<span class="mm-echo" role="status">Counting was stopped at 50 %. What is shown is as it was before. Go on '
        "takes it up where it stopped; another entry begins anew.</span>"
    )
    assert on.view.layout.display is None


def test_another_entry_drops_what_runs_and_only_the_last_one_counts():
    first, second = Seen(), Seen(3)

    async def act(on):
        first.begin(on)
        await until(lambda: first.counted == 2)
        second.begin(on)
        assert first.closed
        await until(lambda: second.results)
        for _ in range(20):
            await asyncio.sleep(0)

    on_a_loop(act)
    assert (first.results, first.counted, second.results) == ([], 2, [3])


def test_another_entry_drops_what_was_stopped_and_the_button_stops_again():
    first, second = Seen(), Seen(3)

    async def act(on):
        first.begin(on)
        on.stop()
        second.begin(on)
        assert (first.closed, on.running, on.button.description) == (True, True, STOP)
        await until(lambda: second.results)

    on_a_loop(act)


def test_a_reason_why_it_cannot_be_done_is_handed_on():
    reason = ModelMathError("The bench is full.")
    seen = Seen(3, reason)

    async def act(on):
        seen.begin(on)
        await until(lambda: seen.reasons)

    on = on_a_loop(act)
    assert (seen.reasons, seen.results, on.running, on.view.layout.display) == ([reason], [], False, "none")


def test_a_fault_of_the_program_is_said_and_not_swallowed():
    seen = Seen(3, ZeroDivisionError("division by zero"))
    on = Work()
    with pytest.raises(ZeroDivisionError, match=r"^division by zero$"):
        seen.begin(on)
    assert FAULT in on.said.value
    assert (on.running, on.view.layout.display, on.button.layout.display) == (False, None, "none")
    again = Seen(2)
    again.begin(on)
    assert (again.results, on.view.layout.display, on.button.layout.display) == ([2], "none", None)


def test_work_begun_by_what_follows_from_work_takes_its_place():
    on, second = Work(), Seen(2)
    first = Seen(2)
    on.begin("First", first.steps(), lambda _: second.begin(on), first.reasons.append)
    assert (second.results, on.running) == ([2], False)
