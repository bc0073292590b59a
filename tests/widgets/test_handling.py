"""Moving things in the drawing, driven in Python as the page drives it, and by typing."""

from __future__ import annotations

import re
from html import unescape

import pytest
from sample_jobs import DEMOS, SMALLEST, job

from modelmath.job import plan
from modelmath.widgets.plan.handling import BACK, HELD_OUT, NONE_YET, Handling, line_of

SWITCHER = plan(DEMOS["switcher-ho"])
RAILMOTOR = plan(DEMOS["railmotor-oo"])


def opened(made=SWITCHER):
    taken = []
    handling = Handling(taken.append)
    handling.show(made)
    handling.fold.head.value = True
    return handling, taken


def asks(handling, act, key, to=0.0):
    number = (handling.handled.asked.get("n") or 0) + 1
    handling.handled.asked = {"n": number, "page": "one", "act": act, "key": key, "to": to}
    answer = handling.handled.answer
    assert (answer["n"], answer["page"]) == (number, "one")
    return answer


def by_key(handling, key):
    return next(each for each in handling.handled.scene["handles"] if each["key"] == key)


def said(widget):
    return unescape(re.sub(r"<[^>]*>", "", widget.value))


def test_nothing_is_worked_out_until_the_fold_is_open():
    handling = Handling(lambda _job: None)
    handling.show(SWITCHER)
    assert handling.handled.scene == {}
    handling.fold.head.value = True
    assert handling.handled.scene["line"] == (
        "The chamber holds 12.37 cm3; the least clearance is 0.88 mm, over motor clip; the bulkhead is 11.38 mm high."
    )


def test_every_handle_has_a_name_its_place_and_its_limits():
    handling, _ = opened()
    assert [(each["key"], each["label"]) for each in handling.handled.scene["handles"]] == [
        ("speaker", "box-type speaker, front edge of its flange"),
        ("front_end", "bulkhead, front face"),  # walls are drawn over what is wide
        ("rear_end", "rear closure, rear face"),
    ]
    for each in handling.handled.scene["handles"]:
        assert each["at"] in each["places"]
        assert each["places"] == sorted(each["places"])
        assert each["whyLow"].startswith("No further that way: ")


def test_while_it_is_moved_the_volume_follows_and_nothing_is_taken_over():
    handling, taken = opened()
    asks(handling, "grab", "front_end", -74.375)
    answer = asks(handling, "try", "front_end", -66.5)
    assert answer["line"] == (
        "The chamber holds 10.71 cm3; the least clearance is 0.88 mm, over motor clip; the bulkhead is 11.38 mm high."
    )
    assert answer["room"]["width"] < by_key(handling, "rear_end")["spot"]["x"]
    assert taken == []
    assert by_key(handling, "front_end")["at"] == -74.375


def test_let_go_it_is_taken_over_and_drawn_there():
    handling, taken = opened()
    assert asks(handling, "drop", "front_end", -66.5) == {"n": 1, "page": "one", "ok": True}
    assert [each.chamber.front_end for each in taken] == ["-66.5 mm"]
    assert by_key(handling, "front_end")["at"] == -66.5
    assert said(handling.said) == "The bulkhead stands with the front face 66.50 mm ahead of the rear hood screw."
    assert handling.place.value == "-66.5 mm"
    assert not handling.back.disabled


def test_a_place_that_can_not_be_resists_and_says_why():
    handling, taken = opened()
    answer = asks(handling, "try", "front_end", -20.125)
    assert not answer["ok"]
    assert answer["stop"] == -38.9375
    assert answer["why"].startswith("No further that way: the speaker then does not fit: ")
    assert asks(handling, "drop", "front_end", -20.125)["stop"] == -38.9375
    assert taken == []


def test_its_limits_are_told_once_it_is_taken_hold_of_and_for_the_keys_to_its_ends():
    handling, _ = opened()
    band = asks(handling, "grab", "front_end", -74.375)["band"]
    assert (band["low"], band["high"]) == (-74.375, -38.9375)
    assert "the room kept for lamps at the front begins there." in band["whyLow"]
    assert asks(handling, "end", "front_end", 4.375)["at"] == -38.9375
    assert handling.which.value == "bulkhead"


def test_put_back_by_escape_the_job_is_what_it_was():
    handling, taken = opened()
    asks(handling, "grab", "front_end", -74.375)
    asks(handling, "drop", "front_end", -60.0)
    asks(handling, "band", "front_end", -59.9375)
    asks(handling, "back", "front_end", -74.375)
    assert taken[-1] == SWITCHER.job
    assert by_key(handling, "front_end")["at"] == -74.375


def test_typed_it_goes_to_the_mark_or_says_why_not():
    handling, taken = opened()
    handling.place.value = "-60 mm"
    assert taken[-1].chamber.front_end == "-59.9375 mm"
    assert "the nearest of the marks of 1/8 on the scale rule" in said(handling.said)
    handling.place.value = "50"
    assert "it has no unit" in handling.place.message
    handling.place.value = "2 in"
    assert "The bulkhead can't stand 50.80 mm behind the rear hood screw" in unescape(handling.place.message)
    assert len(taken) == 1
    handling.back.click()
    assert taken[-1] == SWITCHER.job
    assert handling.back.disabled


def test_the_speaker_is_moved_and_put_back_too():
    handling, taken = opened()
    handling.which.value = "box-type speaker"
    handling.place.value = "-60 mm"
    assert taken[-1].speaker.place == "-59.9375 mm"
    handling.back.click()
    assert taken[-1].speaker.place == "middle"


def test_what_stands_moves_with_a_warning_and_goes_back_to_where_it_was_read():
    handling, taken = opened(RAILMOTOR)
    asks(handling, "grab", "obstacle: motor frame", 53.5)
    assert handling.back.disabled
    asks(handling, "drop", "obstacle: motor frame", 55.5)
    assert plan(taken[-1]).warnings[0].startswith("Moved in the drawing, not read: ")
    assert "That is a guess, not a reading" in said(handling.said)
    assert handling.back.description == "Put it back where it was read"
    handling.back.click()
    assert taken[-1] == RAILMOTOR.job
    assert asks(handling, "end", "obstacle: motor frame", by_key(handling, "obstacle: motor frame")["places"][0])["ok"]


def test_a_page_that_clears_all_before_it_shows_the_new_plan_leaves_the_drawing_in_hand():
    scenes = []

    def takes(new):
        scenes.append(handling.handled.scene)
        handling.clear()
        handling.show(plan(new))
        scenes.append(handling.handled.scene)

    handling = Handling(takes)
    handling.show(SWITCHER)
    handling.fold.head.value = True
    asks(handling, "grab", "front_end", -74.375)
    asks(handling, "drop", "front_end", -66.5)
    assert scenes[0] is scenes[1]
    assert handling.handled in handling.view.children
    asks(handling, "back", "front_end", -74.375)
    assert handling.plan.job == SWITCHER.job


def test_a_question_about_what_is_not_there_is_answered_with_nothing():
    handling, _ = opened()
    assert asks(handling, "try", "no such thing", 1.0) == {"n": 1, "page": "one"}


def test_without_a_chamber_it_says_what_is_needed_and_another_plan_takes_its_place():
    handling, _ = opened(plan(job(SMALLEST)))
    assert said(handling.empty) == NONE_YET
    assert handling.view.children == (handling.empty,)
    handling.show(SWITCHER)
    assert handling.handled in handling.view.children
    handling.clear()
    assert handling.handled.scene == {}
    assert handling.view.children == (handling.empty,)
    assert handling.back.description == BACK


def test_where_no_chamber_fits_between_held_ends_they_can_be_let_go():
    asked = SWITCHER.job.chamber.model_copy(update={"front_end": "300 mm"})
    handling, taken = opened(plan(SWITCHER.job.model_copy(update={"chamber": asked})))
    assert said(handling.empty) == HELD_OUT
    assert handling.view.children == (handling.empty, handling.go)
    handling.go.click()
    assert taken == [SWITCHER.job]
    assert handling.handled in handling.view.children


def test_it_stands_on_a_page_by_itself_too():
    handling = Handling(lambda _job: None, folded=False)
    handling.show(SWITCHER)
    assert handling.handled in handling.view.children


@pytest.mark.parametrize("name", DEMOS)
def test_the_line_is_the_plans_own(name):
    made = plan(DEMOS[name])
    line = line_of(made)
    assert f"{float(made.chamber.volume_mm3) / 1000:.2f} cm3" in line
    assert f"{float(made.bulkhead.cut.cut_mm):.2f} mm high." in line
