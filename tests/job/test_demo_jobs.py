"""The demo jobs: right, whole, invented and marked so, and unlike the trade facts that tests check."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from sample_jobs import DEMO_PATHS, DEMOS

from modelmath import check_job, plan
from modelmath.errors import ModelMathError
from modelmath.lengths.parse import parse_length_exact

CHECKED = {Fraction(15, 2), Fraction(17, 2), Fraction(15, 4), Fraction(7, 2)}  # readings and sizes of trade-fact checks


def test_one_in_each_scale():
    assert {made.scale for made in DEMOS.values()} == {"HO", "N", "O", "OO", "S"}


def test_no_kind_of_model_twice():
    kinds = ("switcher", "railcar", "gas-electric", "centre-cab", "rail bus", "railmotor")
    assert all(sum(kind in made.name for made in DEMOS.values()) == 1 for kind in kinds)
    assert len(DEMOS) == len(kinds)


@pytest.mark.parametrize("path", DEMO_PATHS, ids=lambda path: path.stem)
def test_nothing_is_wrong_with_it(path):
    assert check_job(path) == []


@pytest.mark.parametrize("path", DEMO_PATHS, ids=lambda path: path.stem)
def test_it_says_that_it_is_invented(path):
    assert re.match("Invented data: .* a line that does not exist", DEMOS[path.stem].demo)
    assert path.read_text("utf-8").startswith("# Demo job. The club, the line, the model and every reading in it are "
                                              "invented.\n")  # fmt: skip


@pytest.mark.parametrize("name", DEMOS)
def test_its_readings_are_not_those_of_the_checks(name):
    made = DEMOS[name]
    for reading in made.readings:
        rule = next(each for each in made.rules if each.name == (reading.rule or made.rules[0].name))
        if rule.unit == "scale foot":
            mark_mm, foot_mm = (parse_length_exact(text, "scale foot", made.scale) for text in (reading.mark, "1"))
            assert mark_mm / foot_mm not in CHECKED
    assert made.rules[0].zero_offset not in ("1", "0")


@pytest.mark.parametrize("name", DEMOS)
def test_its_plan_is_whole(name):
    found = plan(DEMOS[name])
    assert found.missing == ()
    assert found.enclosure.runner_up is not None
    assert found.bulkhead is not None
    assert {part.name for part in found.parts} >= {"bulkhead", "corner post", "speaker support"}
    assert found.holes
    assert all(line.picks for line in found.lines)
    assert all(line.setting.on_mark for line in found.lines)
    assert found.gap.left_mm >= found.gap.kept_mm


@pytest.mark.parametrize("name", DEMOS)
def test_its_cuts_are_its_parts_and_lie_within_their_strip(name):
    found = plan(DEMOS[name])
    cut = [(piece.part, piece.length_mm) for strip in found.cuts.strips for piece in strip.cuts]
    snapped = [piece for sheet in found.sheet_layout.layout.sheets for piece in sheet.pieces]
    lengths = {line.part.name: line.part.cut.cut_mm for line in found.lines}
    cut += [(piece.part, lengths[piece.part]) for piece in snapped]
    assert all(lengths[piece.part] in (piece.length_mm, piece.width_mm) for piece in snapped)
    asked = [(line.part.name, line.part.cut.cut_mm) for line in found.lines for _ in range(line.part.count)]
    assert sorted(cut) == sorted(asked)
    assert sum(stop.count for stop in found.cuts.stops) == len(asked) - len(snapped)
    stock = {line.part.name: line.stock for line in found.lines}
    for strip in found.cuts.strips:
        place = found.cuts.end_trim_mm
        for piece in strip.cuts:
            assert stock[piece.part] == strip.stock_name
            assert place <= piece.start_mm < piece.end_mm <= strip.length_mm
            assert piece.end_mm - piece.start_mm == piece.length_mm
            place = piece.end_mm + found.cuts.kerf_mm
    lengths: dict[str, set[Fraction]] = {}
    for line in found.lines:
        lengths.setdefault(line.part.cut_set, set()).add(line.part.cut.cut_mm)
    assert all(len(each) == 1 for each in lengths.values())


@pytest.mark.parametrize("name", DEMOS)
def test_every_length_in_it_can_be_read(name):
    for table in (DEMOS[name].build, DEMOS[name].clearance):
        for field, text in table.model_dump(exclude={"chance", "count"}).items():
            try:
                assert parse_length_exact(text, scale=DEMOS[name].scale) >= 0, field
            except ModelMathError as fault:
                pytest.fail(str(fault))
