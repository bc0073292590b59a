"""Editors in folds are made once they are in sight, and are then as if they had been there all along."""

from __future__ import annotations

import pytest

from modelmath.job import load_job
from modelmath.tables import data_folder
from modelmath.widgets.common.fields import Fold
from modelmath.widgets.inside.contents import SpeakerEditor
from modelmath.widgets.inside.late_editor import LateEditor


@pytest.fixture
def made():
    """What was made, in order."""
    return []


@pytest.fixture
def place(made):
    """The place of an editor in a fold that is shut."""

    def make():
        made.append(SpeakerEditor(made.append))
        return made[-1]

    place = LateEditor(make)
    place.fold = Fold("Speaker", place.view)
    place.fold_into(place.fold)
    return place


def job():
    return load_job(data_folder() / "jobs" / "switcher-ho.toml")


def turned(**more):
    """The job with something else about its speaker."""
    one = job()
    return one.model_copy(update={"speaker": one.speaker.model_copy(update=more)})


def test_nothing_is_made_before_its_fold_is_opened_and_then_it_shows_the_last_job(made, place):
    place.offer(job())
    place.offer(turned(travel="0.3 mm"))
    assert (made, place.view.children) == ([], ())
    place.fold.head.value = True
    (editor,) = made
    assert place.view.children == (editor.view,)
    assert {name: field.value for name, field in editor.fields.items()} == editor.texts(turned(travel="0.3 mm"))
    place.fold.head.value = False
    place.fold.head.value = True
    assert made == [editor]


def test_asked_for_something_it_is_made_and_fills_its_fields(made, place):
    place.offer(turned(travel="0.3 mm"))
    assert place.fields["travel"].value == "0.3 mm"
    assert len(made) == 1
    place.offer(turned(travel="0.4 mm"))
    assert place.fields["travel"].value == "0.4 mm"


def test_what_is_entered_is_handed_on_as_ever(made, place):
    place.offer(job())
    place.fold.head.value = True
    place.fields["travel"].value = "0.3 mm"
    assert made[-1].speaker.travel == "0.3 mm"


@pytest.mark.parametrize("before", [True, False])
def test_where_there_is_no_job_any_more_it_shows_none(made, place, before):
    if before:
        place.fold.head.value = True
    place.offer(turned(travel="0.3 mm"))
    place.clear()
    place.fold.head.value = True
    assert (place.fields["travel"].value, place.job) == ("", None)


def test_without_a_fold_of_its_own_it_waits_until_it_is_asked_for(made):
    place = LateEditor(lambda: SpeakerEditor(made.append))
    place.offer(job())
    assert place.view.children == ()
    assert place.texts(job()) == place.typed
