"""The virtual bench against arithmetic by hand, and against the chances that plans state."""

from __future__ import annotations

import ast
from fractions import Fraction
from importlib.util import find_spec
from pathlib import Path

import numpy as np
import pytest
from built_jobs import governing_spot, random_job, within_band
from hypothesis import given, settings
from hypothesis import strategies as st
from sample_jobs import DEMOS, SMALLEST, job, with_chamber
from scipy.stats import binom, norm

import modelmath.job.virtual_bench as package
from modelmath.errors import OutOfRange
from modelmath.job import plan
from modelmath.job.virtual_bench import Builds, Meeting, build_many
from modelmath.job.virtual_bench.chance import Chance
from modelmath.job.virtual_bench.rules import read_off

BUILDS = 40_000
EXACT = {"name": "scale rule", "graduation": "1/4", "zero_offset": "1", "read_to": "0.000001 mm"}
NO_ERRORS = {
    "rules": [EXACT],
    "seat": {"repeatability": "0 mm"},
    "build": {"cutting_tolerance": "0 mm"},
}
SPACE = Fraction(105, 8)  # 3 3/4 scale feet of the smallest job
ALLOWED = 1e-4  # chance that a right count falls outside


def cut_to(left_mm, **fields):
    """The smallest job without any error but those given, its bulkhead cut to leave so much."""
    made = plan(job(**{**NO_ERRORS, **fields}))
    made.__dict__["chamber_height_mm"] = SPACE - Fraction(left_mm)
    return made


def as_often_as(made, chance, builds=BUILDS):
    touching = builds - build_many(made, builds).fits
    low, high = binom.ppf(ALLOWED / 2, builds, chance), binom.ppf(1 - ALLOWED / 2, builds, chance)
    assert low <= touching <= high, (low, touching, high)


# By hand.


@pytest.mark.parametrize(("left", "fits"), [("1/100", 500), ("-1/100", 0)])
def test_without_errors_every_build_fits_or_none(left, fits):
    found = build_many(cut_to(left), 500)
    assert found.fits == fits
    assert found.room_mm == pytest.approx(np.full(500, float(Fraction(left))), abs=1e-5)


@pytest.mark.parametrize("left", ["0.05", "0.15", "0.28"])
def test_one_rectangular_error_touches_as_often_as_the_rectangle_reaches_too_far(left):
    """Of an error between -0.3 and 0.3 mm, the share beyond what is left: (0.3 - left) / 0.6."""
    chance = (0.3 - float(left)) / 0.6
    as_often_as(cut_to(left, seat={"repeatability": "0.3 mm"}), chance)
    as_often_as(cut_to(left, build={"cutting_tolerance": "0.3 mm"}), chance)
    tape = [{"name": "tape", "thickness": "0 mm", "tolerance": "0.1 mm", "layers": 3}]
    as_often_as(cut_to(left, allow=tape), chance)


def test_two_readings_to_the_nearest_mark_make_a_triangle():
    """Each within half a mark: their difference exceeds d with (1 - d / mark)^2 / 2. A quarter foot is 0.875 mm."""
    rule = {**EXACT, "read_to": "1/4"}
    as_often_as(cut_to("0.35", rules=[rule]), (1 - 0.35 / 0.875) ** 2 / 2)


def test_the_zero_that_cancels_in_the_space_stands_in_the_part():
    """Both heights from the rule's end: their difference is free of its offset, the bulkhead marked from there not."""
    rule = {**EXACT, "offset_uncertainty": "0.2 mm"}
    as_often_as(cut_to("0.3", rules=[rule]), float(norm.cdf(-0.3 / 0.2)))
    from_zero = {"rule": "scale rule", "finest": "1/4", "datum": "zero"}
    assert build_many(cut_to("0.3", rules=[rule], marking=from_zero), 500).fits == 500


def test_a_scale_error_grows_with_what_was_read_less_what_is_marked_out():
    """Space and bulkhead are stretched alike, so that only what is left is: it never touches."""
    rule = {**EXACT, "scale_error_uncertainty": 0.05}
    assert build_many(cut_to("0.3", rules=[rule]), 5000).fits == 5000
    caliper = {"name": "caliper", "kind": "caliper", "read_to": "0.000001 mm", "offset_uncertainty": "0 mm"}
    caliper["scale_error_uncertainty"] = 0.0
    readings = [{**each, "rule": "scale rule"} for each in SMALLEST["readings"]]
    mixed = cut_to(
        "0.3",
        rules=[{**rule, "scale_error_uncertainty": 0.02}, caliper],
        readings=readings,
        marking={"rule": "caliper", "finest": "0.1 mm"},
    )
    as_often_as(mixed, float(norm.cdf(-0.3 / (0.02 * float(SPACE)))))


def test_a_calibrated_rule_errs_least_where_it_was_calibrated():
    """At its centroid u(length) = u(height of the line); elsewhere that and (mark - centroid) u(slope): textbook."""
    rule = {**EXACT, "offset_uncertainty": "0.3 mm", "scale_error_uncertainty": 0.008, "calibrated_at": "30 mm"}
    pivot = (0.3**2 - (33.5 * 0.008) ** 2) ** 0.5  # its zero stands 3.5 mm in from the end
    read = read_off(job(**{**NO_ERRORS, "rules": [rule]}), Chance(200_000, 5))
    for mark, expected in ((30.0, pivot), (60.0, (pivot**2 + (30 * 0.008) ** 2) ** 0.5), (-3.5, 0.3)):
        lengths = read.rules["scale rule"].truly(mark, "end")
        assert float(lengths.mean()) == pytest.approx(mark + 3.5, abs=0.005)
        assert float(lengths.std()) == pytest.approx(expected, rel=0.02)


@pytest.mark.parametrize(("again", "deviation"), [(["9 1/2"], 0.125 * 2**0.5 * 3.5), (["9 1/4"], 0.0)])
def test_two_readings_err_by_their_scatter_over_the_root_of_two(again, deviation):
    readings = [{**SMALLEST["readings"][0], "again": again}, SMALLEST["readings"][1]]
    found = read_off(job(**{**NO_ERRORS, "readings": readings}), Chance(100_000, 2)).height("roof")
    assert float(found.std()) == pytest.approx(deviation / 2**0.5, rel=0.01, abs=1e-5)


def test_feelers_pass_between_one_leaf_and_the_next():
    leaves = {"name": "feelers", "kind": "feelers"}
    readings = [*SMALLEST["readings"], {"name": "leaves", "mark": "0.50", "rule": "feelers"}]
    found = read_off(job(**{**NO_ERRORS, "rules": [EXACT, leaves], "readings": readings}), Chance(20_000, 3))
    lengths = found.length("leaves")
    assert 0.5 <= lengths.min() < 0.501
    assert 0.549 < lengths.max() <= 0.55


def test_a_height_from_the_bench_goes_through_its_link():
    """The seat is 4 feet above the bench: what was read 9 1/2 and 13 1/4 from there are the smallest job's heights."""
    readings = [
        {"name": "roof", "mark": "13 1/4", "taken_from": "bench", "datum": "zero"},
        {"name": "motor top", "mark": "5 1/2"},
        {"name": "seat", "mark": "3", "taken_from": "bench"},
    ]
    made = job(**{**NO_ERRORS, "readings": readings, "links": [{"face": "bench", "reading": "seat"}]})
    assert read_off(made, Chance(10, 1)).height("roof") == pytest.approx(np.full(10, 9.25 * 3.5), abs=1e-5)


def test_warmth_moves_shell_and_chassis_by_their_own_expansion():
    """By hand: 40 K x (90e-6 x floor height - 19e-6 x top): resin and brass, data/expansion.csv."""
    warm = {"change": 40.0, "shell": "resin", "chassis": "brass"}
    found = build_many(cut_to("0.3", temperature=warm), BUILDS).room_mm - 0.3
    top = 6.5 * 3.5
    limit = 40 * (90e-6 * (top + 0.3) - 19e-6 * top)
    assert float(found.max()) == pytest.approx(limit, rel=0.01)
    assert float(found.min()) == pytest.approx(-limit, rel=0.01)


def test_a_straight_part_meets_the_lowest_of_two_roofs():
    """Two roofs alike, each read within 0.2 mm: the lower of two rectangles; by hand P = 1 - (1 - p)^2."""
    rule = {**EXACT, "read_to": "0.4 mm"}
    exact = {**EXACT, "name": "exact"}
    readings = [
        SMALLEST["readings"][0],
        {"name": "roof left", "mark": "9 1/4"},
        {**SMALLEST["readings"][1], "rule": "exact"},
    ]
    stations = [{"name": "left", "zone": "motor", "underside": "roof left"}]
    made = cut_to("0.1", rules=[rule, exact], readings=readings, stations=stations,
                  marking={"rule": "exact", "finest": "1/4"})  # fmt: skip
    as_often_as(made, 1 - 0.75**2)


def test_what_moves_is_met_at_the_highest_it_gets():
    readings = [
        *SMALLEST["readings"],
        {"name": "width", "mark": "5"},
        {"name": "length", "mark": "19", "on": "shell"},
        {"name": "middle", "mark": "9", "on": "shell"},
        {"name": "rim", "mark": "6"},
    ]
    wheel = {"name": "wheel", "kind": "flywheel", "at": "middle", "top": "rim", "diameter": "12 mm", "width": "5 mm",
             "wobble": "0.2 mm", "running": "1 mm"}  # fmt: skip
    made = plan(with_chamber(**NO_ERRORS, readings=readings, moving=[wheel], speaker=None))
    found = build_many(made, 50)
    over = next(each for each in found.meetings if each.over == "wheel")
    floor = 10.25 * 3.5 - float(made.chamber_height_mm)
    assert over.room_mm == pytest.approx(np.full(50, floor - (7 * 3.5 + 0.2)), abs=0.0021)
    assert "motor" in {each.over for each in found.meetings}


# What it says, and what it refuses.


def room(*lefts):
    return np.array(lefts)


def test_it_says_how_many_fit_and_what_touches_first():
    tight = Builds(4, 1, (Meeting("the floor", "motor", room(-0.1, 0.2, -0.2, 0.1)),
                          Meeting("the speaker", "truck", room(-0.3, 0.2, 0.4, -0.1))))  # fmt: skip
    assert (tight.fits, tight.chance) == (1, 0.75)
    assert [(meeting.over, count) for meeting, count in tight.first] == [("truck", 2), ("motor", 1)]
    assert (tight.touching("the floor"), tight.touching(over="truck"), tight.touching("no such part")) == (2, 2, 0)
    assert tight.in_words == (
        "Of 4 builders with this rule and this plan, 1 fits first time; "
        "what touches first is mostly the speaker over truck, 2 times."
    )
    loose = Builds(2, 1, (Meeting("the floor", "motor", room(0.25, 0.5)),))
    assert loose.in_words == (
        "Of 2 builders with this rule and this plan, all fit first time; "
        "the tightest is the floor over motor, with 0.25 mm left."
    )
    never = Builds(1, 1, (Meeting("the floor", "motor", room(-0.25)),))
    assert never.in_words.startswith("Of 1 builder with this rule and this plan, none fits first time; ")
    assert never.worst == "what touches first is mostly the floor over motor, once"


@pytest.mark.parametrize(
    ("builds", "seed", "words"),
    [
        (0, 1, r"^the number of builds is 0; it must be 1 to 1,000,000\. Write 1000\.$"),
        (2_000_000, 1, r"^the number of builds is 2,000,000; it must be 1 to 1,000,000\. Write 1000\.$"),
        (10, -1, r"^the seed is -1; it must be 0 or more\. Write 1\.$"),
    ],
)
def test_it_refuses_counts_that_make_no_sense(builds, seed, words):
    with pytest.raises(OutOfRange, match=words):
        build_many(plan(job()), builds, seed)


@pytest.mark.parametrize("name", DEMOS)
def test_the_same_seed_builds_the_same_and_another_does_not(name):
    made = plan(DEMOS[name])
    first, again, other = (build_many(made, 200, seed).room_mm for seed in (4, 4, 5))
    assert (first == again).all()
    assert (first != other).any()


# Properties.


@settings(max_examples=15, deadline=None)
@given(st.lists(st.integers(0, 30), min_size=2, max_size=4, unique=True))
def test_who_keeps_more_never_fits_less(keeps):
    rule = {**EXACT, "offset_uncertainty": "0.3 mm", "scale_error_uncertainty": 0.01, "read_to": "1/4"}
    fits = [
        build_many(plan(job(rules=[rule], clearance={"keep": f"{keep / 10} mm"})), 400, seed=9).fits
        for keep in sorted(keeps)
    ]
    assert fits == sorted(fits)


# Against the chances that plans state.


def test_ten_random_jobs_touch_as_often_as_their_plans_state():
    anywhere, at_the_spot, counts = [], [], [0, 0]
    for number in range(10):
        made = plan(random_job(number))
        found = build_many(made, 2000, seed=number + 1)
        part = found.meetings[0].part
        anywhere.append(made.anywhere.chance)
        at_the_spot.append(made.gap.chance)
        counts[0] += found.touching(part)
        counts[1] += found.touching(part, governing_spot(made))
    assert within_band(anywhere, counts[0], 2000)
    assert within_band(at_the_spot, counts[1], 2000)
    assert not within_band([each * 1.1 for each in anywhere], counts[0], 2000)  # the check can fail


# It shares nothing with what it checks.

FORBIDDEN = (
    "uncertainties",
    "scipy",
    "modelmath.clearance",
    "modelmath.lengths.uncertain",
    "modelmath.lengths.rules",
    "modelmath.lengths.calibration",
    "modelmath.job.room_left",
    "modelmath.job.bench",
    "modelmath.enclosure",
)


def imports_of(file):
    """Yield what a module imports when it runs, in its functions too; what only its types name is left out."""

    def walk(node):
        if isinstance(node, ast.If) and isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING":
            return
        if isinstance(node, ast.Import):
            yield from (each.name for each in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield node.module
            yield from (f"{node.module}.{each.name}" for each in node.names)
        for child in ast.iter_child_nodes(node):
            yield from walk(child)

    yield from walk(ast.parse(file.read_text("utf-8")))


def test_it_imports_nothing_of_the_model_of_errors_it_checks():
    waiting = list(Path(package.__file__).parent.glob("*.py"))
    assert len(waiting) > 3
    seen = set()
    while waiting:
        file = waiting.pop()
        for name in imports_of(file):
            assert not name.startswith(FORBIDDEN), f"{file.name} imports {name}"
            if name.startswith("modelmath.") and name not in seen:
                seen.add(name)
                try:
                    spec = find_spec(name)
                except ModuleNotFoundError:  # a name in a module
                    continue
                if spec is not None and spec.origin:
                    waiting.append(Path(spec.origin))
    assert "modelmath.lengths.parse" in seen
