"""States of a job to go back to, against a plain model: a list and a place in it."""

from __future__ import annotations

import hypothesis.strategies as st
import pytest
from hypothesis import given
from sample_jobs import DEMOS

from modelmath.job.entries.screen import blank_job
from modelmath.job.history import MOST, History, changes_in_words

BLANK = blank_job()
ACTS = st.lists(st.one_of(st.just("back"), st.just("forward"), st.sampled_from("abcdef")), max_size=40)


def named(name: str):
    return BLANK.model_copy(update={"name": name})


@given(ACTS)
def test_any_edits_and_steps_are_what_a_list_with_a_place_in_it_gives(acts):
    history, states, place = History(named("start")), ["start"], 0
    for act in acts:
        if act == "back":
            history, place = history.back(), max(place - 1, 0)
        elif act == "forward":
            history, place = history.forward(), min(place + 1, len(states) - 1)
        else:
            history = history.edited(named(act))
            if act != states[place]:
                states = [*states[: place + 1], act]
                place += 1
        assert [each.name for each in history.past] == states[:place]
        assert history.now.name == states[place]
        assert [each.name for each in reversed(history.ahead)] == states[place + 1 :]
        assert bool(history.back_changes) == (place > 0)
        assert bool(history.forward_changes) == (place < len(states) - 1)


def test_no_more_states_are_kept_than_said():
    history = History(named("0"))
    for number in range(1, MOST + 5):
        history = history.edited(named(str(number)))
    assert len(history.past) == MOST
    assert history.past[0].name == "4"


HOOD = DEMOS["switcher-ho"]


@pytest.mark.parametrize(
    ("update", "said"),
    [
        ({"scale": "N"}, "scale: HO to N"),
        (
            {"readings": [HOOD.readings[0].model_copy(update={"mark": "8"}), *HOOD.readings[1:]]},
            "reading hood roof, mark: 8 5/8 to 8",
        ),
        ({"readings": HOOD.readings[1:]}, "reading hood roof taken out"),
        ({"readings": HOOD.readings[::-1]}, "reading: another order"),
        ({"speaker": None}, "speaker: something to nothing"),
        ({"notes": ""}, None),
        (
            {"name": "Other", "scale": "N", "zones": HOOD.zones[:1], "demo": ""},
            "name: Tarn Valley switcher No. 31 to Other; scale: HO to N; and ",
        ),
    ],
)
def test_what_changed_is_said_in_words(update, said):
    found = changes_in_words(HOOD, HOOD.model_copy(update=update))
    if said is None:
        assert found.startswith("notes: Speaker in the long hood")
        assert found.endswith("… to nothing")
    elif said.endswith("and "):
        assert found.startswith(said)
        assert found.endswith(" more")
    else:
        assert found == said


def test_nothing_is_said_of_equal_jobs_and_something_of_any_two_demos():
    for one in DEMOS.values():
        assert [bool(changes_in_words(one, other)) for other in DEMOS.values()] == [
            one != other for other in DEMOS.values()
        ]
