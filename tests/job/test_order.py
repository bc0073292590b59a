"""The build order: holds before any permanent bond, drilling before gluing, solvent away from strands."""

from __future__ import annotations

from fractions import Fraction

import pytest
from sample_jobs import DEMOS, job, with_chamber

from modelmath import plan
from modelmath.job.cautions import cautions

JOBS = {**DEMOS, "smallest": job(), "with a chamber": with_chamber()}


@pytest.fixture(params=JOBS)
def steps(request):
    return plan(JOBS[request.param]).steps


def first(steps, *words: str) -> int:
    return next(step.number for step in steps if any(word in step.text for word in words))


def test_steps_are_numbered_from_one(steps):
    assert [step.number for step in steps] == list(range(1, len(steps) + 1))


def test_power_comes_off_first(steps):
    assert steps[0].text.startswith("Take all power off, ")
    assert steps[0].text.endswith(", and insulate a live frame with tape.")
    assert "electricity" in steps[0].topics


def test_a_dry_fit_holds_before_any_permanent_bond(steps):
    bonds = [step.number for step in steps if "lue the" in step.text or "solvent cement" in step.topics]
    hold = next(step for step in steps if step.hold)
    assert "Dry fit, no glue" in hold.text
    assert hold.checks[:2] == ("shell seats all along the sill", "trucks swing both ways")
    assert hold.checks[2].startswith("putty left over ")
    assert all(hold.number < bond for bond in bonds)


def test_the_last_hold_runs_the_model(steps):
    assert steps[-1].hold
    assert steps[-1].checks[0] == "no short from rail to rail"
    assert steps[-1].checks[1:] == (
        "shell seats all along the sill",
        "trucks swing both ways",
        "nothing touches or rubs",
    )


def test_every_caution_topic_has_a_caution(steps):
    known = {caution.topic for caution in cautions()}
    assert {topic for step in steps for topic in step.topics} <= known
    for step in steps:
        if step.text.startswith("Glue") or "and glue" in step.text:
            assert "solvent cement" in step.topics


def test_only_a_hold_or_a_check_has_boxes_and_every_hold_has_some(steps):
    assert all(step.checks for step in steps if step.hold)


@pytest.mark.parametrize("name", DEMOS)
def test_holes_are_drilled_before_gluing_and_strands_go_in_after_the_solvent(name):
    found = plan(DEMOS[name])
    steps = found.steps
    drilling = first(steps, "rill the bulkhead")
    assert drilling < first(steps, "Glue the corner posts")
    for hole in found.holes:
        assert f"{hole.drill.name} for {hole.name}" in steps[drilling - 1].text
    strands = next(step for step in steps if step.text.startswith("Feed the strands and wires"))
    gone = steps[strands.number - 2]
    assert gone.hold
    assert "solvent flash off wholly" in gone.text
    assert gone.number > max(step.number for step in steps if "solvent cement" in step.topics and step is not gone)
    # Once the speaker is bedded no hand gets in.
    assert strands.number < first(steps, "bed its flange in sealant")


def test_steps_name_only_parts_that_the_plan_has():
    texts = " ".join(step.text for step in plan(job()).steps)
    assert "rear closure" not in texts
    assert "support" not in texts
    assert "floor plate" not in texts
    assert "strands" not in texts
    closed = " ".join(step.text for step in plan(with_chamber()).steps)
    assert "bulkhead" not in closed
    assert "floor plates" in closed


def test_plates_are_fitted_round_the_dry_speaker_which_stays_free():
    steps = plan(DEMOS["switcher-ho"]).steps
    plates = next(step for step in steps if "floor plates" in step.text)
    assert plates.checks == ("speaker still lifts out",)
    assert plates.number < next(step.number for step in steps if step.text.startswith("Solder the speaker's wires"))


def test_supports_on_either_side_of_a_roof_step_are_two_pairs():
    """The clerestory made to begin 103 mm behind the screw, under the speaker: rear supports 1 1/4 ft longer."""
    car = DEMOS["gas-electric-o"].model_copy(deep=True)
    next(reading for reading in car.readings if reading.name == "clerestory begins").mark = "150"
    for made, check in (
        (DEMOS["gas-electric-o"], "all four of one height"),
        (car, "each pair of one height, all four feet level"),
    ):
        (supports,) = (step for step in plan(made).steps if "four speaker supports" in step.text)
        assert supports.checks == (check,)
    lengths = {part.name: part.cut.cut_mm for part in plan(car).parts}
    step_mm = Fraction(127, 20) * Fraction(5, 4)  # O: 6.35 mm to the foot
    assert lengths["speaker support, rear"] - lengths["speaker support, front"] == step_mm


def test_a_speaker_that_faces_up_goes_in_before_the_floor_that_comes_off():
    made = plan(with_chamber(speaker={"length": "22 mm", "width": "16 mm", "flange": "1.2 mm", "depth": "6 mm",
                                      "faces": "up"}))  # fmt: skip
    texts = [step.text for step in made.steps]
    cut = next(n for n, text in enumerate(texts) if "opening in the roof" in text)
    bed = next(n for n, text in enumerate(texts) if "under the roof, round its opening" in text)
    floor = next(n for n, text in enumerate(texts) if text.startswith("Bed the floor plate"))
    assert cut < bed < floor
    assert not any("supports" in text for text in texts)


def test_side_wall_barrier_and_strand_supports_are_glued_before_the_floor():
    chamber = {"wire_path": "1 mm", "light_barrier": True, "strand_supports": "5 mm"}
    lamps = [{"name": "headlight", "end": "front", "room": "12 mm", "strand": "0.75 mm"}]
    speaker = {"length": "14 mm", "width": "10 mm", "flange": "1.2 mm", "depth": "6 mm"}
    made = plan(with_chamber(chamber=chamber, lamps=lamps, speaker=speaker))
    texts = [step.text for step in made.steps]
    kinds = {part.kind for part in made.parts}
    assert {"side", "barrier"} <= kinds
    floor = next(n for n, text in enumerate(texts) if text.startswith("Lay the speaker in dry"))
    for words in ("Glue the side wall", "Blacken the light barriers"):
        assert next(n for n, text in enumerate(texts) if text.startswith(words)) < floor
