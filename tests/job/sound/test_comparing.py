"""Speakers and seats over the same cavity: each as if it were the plan's own."""

from __future__ import annotations

import pytest
from job.sound.test_in_chamber import job
from sample_jobs import DEMOS

from modelmath import JobError, Speaker, UnknownChoice, plan
from modelmath.errors import OutOfRange
from modelmath.job.sound.comparing import RANKS, SEATS, Seat, check_work, seated


def test_each_row_is_what_a_plan_with_that_speaker_in_that_seat_gives():
    own = plan(DEMOS["railbus-ho"])
    choice = DEMOS["railbus-ho"].choices[0].model_dump(exclude_unset=True)
    driver = choice.pop("driver")
    for row in own.comparison.rows:
        if row.name != choice["name"]:
            continue
        speaker = choice | {"faces": row.seat.faces}
        other = plan(job(speaker=speaker, sound={"driver": driver, "stuffing": "lightly filled"}, choices=[], lamps=[
            each.model_dump(exclude_unset=True) for each in DEMOS["railbus-ho"].lamps]))  # fmt: skip
        if other.misfit is not None:
            assert row.box is None
            assert row.why_not
            continue
        assert row.volume_mm3 == pytest.approx(other.sound.box.volume_mm3.best, rel=1e-9)
        assert row.box.fc_hz.best == pytest.approx(other.sound.box.fc_hz.best, rel=1e-9)


@pytest.mark.parametrize(
    ("given", "has", "most"),
    [
        ((41, 4, 40, 20), "41 speakers over 40 zones with 20 things", "of 4 or fewer"),
        ((1, 4, 100, 50), "1 speaker over 100 zones with 50 things", "over fewer zones and things"),
    ],
)
def test_more_than_can_be_compared_in_time_is_refused(given, has, most):
    with pytest.raises(OutOfRange) as raised:
        check_work(*given)
    told = f"the comparison is of {has} standing there; it must be {most}."
    assert str(raised.value) == f"{told} Leave some out of the list, or join zones that are alike."


def test_a_usual_comparison_is_far_from_the_limit():
    check_work(20, 4, 10, 10)


def test_every_speaker_in_every_seat():
    found = plan(DEMOS["railbus-ho"]).comparison
    assert len(found.rows) == (1 + len(DEMOS["railbus-ho"].choices)) * len(SEATS)
    assert sum(each.own for each in found.rows) == len(SEATS)
    assert [each.name for each in found.of_each] == list(dict.fromkeys(each.name for each in found.ranked()))


@pytest.mark.parametrize("rank", list(RANKS))
def test_ranked_by_the_users_choice_what_does_not_fit_last(rank):
    found = plan(DEMOS["railbus-ho"]).comparison.ranked(rank)
    scores = [each.score(rank) for each in found]
    assert scores == sorted(scores)
    fits = [each.box is not None for each in found]
    assert fits == sorted(fits, reverse=True)
    assert not all(fits)
    assert all(each.why_not for each in found if each.box is None)


def test_another_ranking_is_refused():
    with pytest.raises(UnknownChoice, match=r"^what to rank by is 'price'; write one of lowest -3 dB point, loudest, "):
        plan(DEMOS["railbus-ho"]).comparison.ranked("price")


def test_the_decoders_range_is_said_of_each():
    loads = {each.name: each.load for each in plan(DEMOS["railbus-ho"]).comparison.rows}
    assert loads["round 16 mm speaker"] == "4 ohm, turn down"


def test_without_a_cavity_there_is_none():
    assert plan(job("centre-cab-s", length=None)).comparison is None


@pytest.mark.parametrize("name", DEMOS)
def test_the_plans_own_speaker_in_its_own_seat_has_the_plans_own_volume(name):
    found = plan(DEMOS[name])
    own = next(each for each in found.comparison.rows if each.own and each.seat == Seat(found.bench.speaker.faces))
    assert own.volume_mm3 == pytest.approx(float(found.net_volume.net_mm3), rel=1e-9)


def test_a_decoder_inside_takes_its_room_in_the_comparison_too():
    inside = {"length": "30 mm", "width": "16 mm", "height": "14 mm", "inside": True}
    found = plan(job(decoder=inside, choices=[]))
    assert found.chamber.pocket.where == "inside it"
    own = next(each for each in found.comparison.rows if each.own and each.seat == SEATS[0])
    assert own.volume_mm3 == pytest.approx(float(found.net_volume.net_mm3), rel=1e-9)


def test_a_speaker_turned_by_a_quarter_turns_its_basket_too():
    speaker = Speaker(26, 16, 1, 7, basket_length_mm=22, basket_width_mm=13)
    turned = seated(speaker, Seat("up", turned=True))
    assert (turned.length_mm, turned.width_mm, turned.faces) == (16, 26, "up")
    assert (turned.basket_length_mm, turned.basket_width_mm) == (13, 22)
    assert Seat("front", turned=True).in_words == "facing to the front, turned by a quarter"


def test_speakers_of_one_name_are_refused_at_their_place():
    choices = [{"name": job().speaker.name, "length": "26 mm"}]
    with pytest.raises(JobError, match=r"speaker to compare 1 .* a name that stands once"):
        plan(job(choices=choices))
