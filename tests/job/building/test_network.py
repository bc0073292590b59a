"""What waits for what: a worked example of the critical path, any network against networkx, and one pair of hands."""

from __future__ import annotations

import itertools

import networkx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import OutOfRange, UnknownChoice
from modelmath.job.building.network import Task, critical_path, in_words, one_pair_of_hands

# The exercise that courses on the critical path method print in many forms: eight activities, days (from memory).
EXERCISE = {
    "A": (3, ""), "B": (4, ""), "C": (6, "A"), "D": (6, "B"),
    "E": (4, "B"), "F": (4, "CD"), "G": (6, "D"), "H": (8, "EF"),
}  # fmt: skip
# By hand: A 0-3, B 0-4, C 3-9, D 4-10, E 4-8, F 10-14, G 10-16, H 14-22; backwards from 22: H 14, F 10, D 4, B 0,
# G 16 (6 late), E 10 (6 late), C 4 (1 late), A 1 (1 late).
EARLIEST = {"A": 0, "B": 0, "C": 3, "D": 4, "E": 4, "F": 10, "G": 10, "H": 14}
SLACK = {"A": 1, "B": 0, "C": 1, "D": 0, "E": 6, "F": 0, "G": 6, "H": 0}


def exercise() -> list[Task]:
    return [Task(key, days, needs=tuple(needs)) for key, (days, needs) in EXERCISE.items()]


def test_the_worked_example_comes_out():
    found = critical_path(exercise())
    assert {each.task.key: each.earliest_min for each in found} == EARLIEST
    assert {each.task.key: each.slack_min for each in found} == SLACK
    assert [each.task.key for each in found if each.critical] == ["B", "D", "F", "H"]


times = st.integers(0, 500)


@st.composite
def networks(draw) -> list[Task]:
    tasks: list[Task] = []
    for number in range(draw(st.integers(1, 9))):
        before = [task.key for task in tasks]
        needs = draw(st.lists(st.sampled_from(before), unique=True, max_size=4)) if before else []
        tasks.append(Task(f"step {number}", draw(times), draw(times), tuple(needs)))
    return tasks


def graph(tasks: list[Task]) -> networkx.DiGraph:
    """The steps as edges between their beginning and their end, for the longest path of a general-purpose library."""
    found = networkx.DiGraph()
    for task in tasks:
        found.add_edge((task.key, "begins"), (task.key, "ends"), weight=task.whole_min)
        for key in task.needs:
            found.add_edge((key, "ends"), (task.key, "begins"), weight=0)
    return found


@given(networks())
def test_the_whole_takes_as_long_as_networkx_says_the_longest_path_is(tasks):
    found = critical_path(tasks)
    end = max(each.earliest_min + each.task.whole_min for each in found)
    assert end == networkx.dag_longest_path_length(graph(tasks))
    assert any(each.critical for each in found)


@given(networks(), st.data())
def test_a_task_may_begin_later_by_its_slack_and_no_more(tasks, data):
    found = critical_path(tasks)
    at = data.draw(st.integers(0, len(tasks) - 1))
    end = networkx.dag_longest_path_length(graph(tasks))
    for late, then in ((found[at].slack_min, end), (found[at].slack_min + 1, end + 1)):
        changed = list(tasks)
        task = tasks[at]
        changed[at] = Task(task.key, task.work_min + late, task.wait_min, task.needs)
        assert networkx.dag_longest_path_length(graph(changed)) == then


@given(networks())
def test_one_pair_of_hands_does_one_thing_at_a_time_after_what_it_needs(tasks):
    booked = one_pair_of_hands(tasks)
    assert sorted(each.task.key for each in booked) == sorted(task.key for task in tasks)
    over = {each.task.key: each.over_min for each in booked}
    for each in booked:
        assert all(over[key] <= each.start_min for key in each.task.needs)
    for first, second in itertools.pairwise(booked):
        assert first.worked_min <= second.start_min
    whole = max(over.values())
    assert whole >= networkx.dag_longest_path_length(graph(tasks))
    assert whole <= sum(task.whole_min for task in tasks)
    idle = sum(max(0, b.start_min - a.worked_min) for a, b in itertools.pairwise(booked))
    assert idle <= sum(task.wait_min for task in tasks)  # the hands rest only while something dries


def test_two_glue_joints_dry_side_by_side():
    tasks = [Task("left", 10, 60), Task("right", 10, 60), Task("close", 5, needs=("left", "right"))]
    assert [each.start_min for each in one_pair_of_hands(tasks)] == [0, 10, 80]


def test_a_step_that_stands_before_what_it_needs_is_refused():
    message = r"^what 'fit' needs is 'glue'.*$"
    with pytest.raises(UnknownChoice, match=message):
        critical_path([Task("fit", 1, needs=("glue",)), Task("glue", 1)])
    with pytest.raises(OutOfRange) as twice:
        critical_path([Task("glue", 1), Task("glue", 2)])
    assert "one that stands once" in str(twice.value)
    for time in (-1, float("nan")):
        with pytest.raises(OutOfRange, match="0 min or more"):
            critical_path([Task("glue", time)])


@pytest.mark.parametrize(
    ("minutes", "said"), [(0, "0 min"), (59, "59 min"), (60, "1 h"), (67, "1 h"), (68, "1 h 15 min"), (719, "12 h")]
)
def test_times_are_said_to_the_quarter(minutes, said):
    assert in_words(minutes) == said
