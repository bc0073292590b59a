"""How holes are told apart on every sheet: a letter for each circuit, numbers that go on from wall to wall."""

from __future__ import annotations

from crowded import crowded
from sample_jobs import DEMOS

from modelmath import plan
from modelmath.job.space.hole_places import kept_out


def test_letters_follow_the_circuits_and_numbers_go_on_from_wall_to_wall():
    front, rear = crowded().hole_places
    assert [mark.tag for mark in front.marks] == ["A1", "A2", "A3"]
    assert [mark.tag for mark in rear.marks] == ["B1", "B2", "C1", "C2", "C3"]
    assert [mark.passes for mark in rear.marks] == ["strand of 0.50 mm"] * 2 + ["wire of 0.60 mm"] * 3


def test_a_circuit_on_two_walls_has_one_letter_and_no_number_twice():
    found = crowded(wires=[{"name": "common", "diameter": "0.6 mm", "count": 2, "circuit": "white"}])
    tags = [mark.tag for wall in found.hole_places for mark in wall.marks]
    assert tags == ["A1", "A2", "A3", "B1", "B2", "A4", "A5"]


def test_a_circuit_with_one_hole_has_its_letter_alone():
    (wall,) = plan(DEMOS["railbus-ho"]).hole_places
    assert [mark.tag for mark in wall.marks] == ["A", "B1", "B2"]


def test_posts_stand_inside_the_chamber():
    front, rear = crowded().hole_places
    assert (front.posts, rear.posts) == ("behind it", "in front of it")


def test_what_is_kept_clear_lies_on_the_wall():
    found = crowded()
    for part in (part for part in found.parts if part.kind == "wall"):
        half = float(part.width_mm) / 2
        for each in kept_out(found, part):
            assert -half <= each.left < each.right <= half
            assert 0 <= each.bottom < each.top <= part.cut.cut_mm
