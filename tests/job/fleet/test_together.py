"""One cut plan over several jobs: every part of each, from one drawer, none of it counted twice."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from itertools import combinations
from math import lcm

import pytest
from full_search import every_plan, judged
from hypothesis import given, settings
from hypothesis import strategies as st
from sample_jobs import DEMOS, with_chamber

from modelmath.cutting.from_drawer import Settings
from modelmath.job import plan
from modelmath.job.fleet.drawers import added_up, as_one_drawer, own_stock
from modelmath.job.fleet.together import (
    SETTINGS,
    cut_together,
    plan_from,
    settings_of,
    settings_that_differ,
    to_cut,
)
from modelmath.materials import Held, StockSheet, StockStrip, parse_sheet, parse_strip
from modelmath.materials.drawer.demo import demo_drawer

NEW = (Fraction("304.8"), Fraction("152.4"))
SUPPORT = "speaker support"
HOW = Settings(Fraction(0), Fraction(1), Fraction(20), Fraction("355.6"), NEW)


def plans_of(*names, on_hand=None):
    return {name: plan_from(DEMOS[name], on_hand) for name in names}


def pieces(made):
    """Return every piece that is cut, by its name and length: from strip, from sheet, held against the shell."""
    cutting = made.cutting
    found = [(cut.part, cut.length_mm) for strip in cutting.strips.strips for cut in strip.cuts]
    for sheet in () if cutting.layout is None else cutting.layout.sheets:
        found += [(piece.part, None) for piece in sheet.pieces]
    found += [(each.name, each.length_mm) for strip in cutting.strips.sheets for each in strip.blanks
              for _ in range(each.count)]  # fmt: skip
    return Counter(found + [(part.name, part.length_mm) for part in cutting.strips.made_up for _ in range(part.count)])


@pytest.mark.parametrize("on_hand", [None, demo_drawer()], ids=["new stock", "a drawer"])
def test_every_part_of_every_job_is_cut_once_under_its_model_s_name(on_hand):
    plans = plans_of(*DEMOS, on_hand=on_hand)
    made = cut_together(plans, on_hand, HOW)
    assert made.models == tuple(DEMOS)
    wanted = Counter()
    for name, each in plans.items():
        for line in each.lines:
            length = None if line.sheet is not None and line.part.width_mm is not None else line.part.cut.cut_mm
            wanted[f"{line.part.name} ({name})", length] += line.part.count
    assert pieces(made) == wanted
    assert made.cutting.left_out == ()


def test_sums_by_hand():
    """Each small job has four speaker supports: 3 1/2 HO feet less 1/2 for flange and marks, 10.5 mm.

    Eight of them are 84 mm and two pairs of fillers of 6 1/2 feet are 91 mm: one strip of each does for both models.
    """
    one, two = plan_from(with_chamber(), None), plan_from(with_chamber(name="other"), None)
    supports, fillers = (
        next(line for line in one.lines if line.part.name == name) for name in (SUPPORT, "side filler")
    )
    made = cut_together({"one": one, "two": two}, None, HOW)
    for line, each_mm, count in ((supports, Fraction("10.5"), 4), (fillers, Fraction("22.75"), 2)):
        (strip,) = (each for each in made.cutting.strips.strips if each.stock_name == line.stock)
        names = Counter(cut.part for cut in strip.cuts)
        assert names == {f"{line.part.name} (one)": count, f"{line.part.name} (two)": count}
        assert strip.offcut_mm == Fraction("355.6") - 1 - 2 * count * each_mm
    bought = [f"1 × {line.stock}, 355.60 mm long" for line in (supports, fillers)]
    assert made.to_buy[:2] == tuple(bought)
    apart = [cut_together({"one": each}, None, HOW).to_buy[:2] for each in (one, two)]
    assert apart == [tuple(bought), tuple(bought)]


@pytest.mark.parametrize(("one", "other"), list(combinations(list(DEMOS), 2))[::4])
def test_together_never_buys_more_than_apart(one, other):
    plans = plans_of(one, other)
    made = cut_together(plans, None, HOW)
    apart = [cut_together({name: each}, None, HOW) for name, each in plans.items()]
    assert made.cutting.strips.bought <= sum(each.cutting.strips.bought for each in apart)
    sheets = [each.cutting.layout.new_sheets for each in (made, *apart) if each.cutting.layout is not None]
    assert sheets[0] <= sum(sheets[1:])


def fewest_by_cp_sat(lengths, strip, most):
    """Fewest strips of one length that hold all pieces: an assignment model of OR-Tools."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    used = [model.new_bool_var("") for _ in range(most)]
    for at in range(1, most):
        model.add(used[at - 1] >= used[at])
    on = [[model.new_bool_var("") for _ in range(most)] for _ in lengths]
    for row in on:
        model.add_exactly_one(row)
    for at in range(most):
        model.add(sum(length * row[at] for length, row in zip(lengths, on, strict=True)) <= strip * used[at])
    model.minimize(sum(used))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return int(solver.objective_value)


def test_new_strips_for_all_demos_are_as_few_as_an_independent_solver_finds():
    plans = plans_of(*DEMOS)
    how = Settings(Fraction(0), Fraction(1), Fraction(20), Fraction(80), NEW)  # short strip, so that several are needed
    made = cut_together(plans, None, how)
    assert made.cutting.strips.new_strips > len(made.cutting.strips.verdicts)
    for verdict in made.cutting.strips.verdicts:
        mine = [strip for strip in made.cutting.strips.strips if strip.stock_name == verdict.stock_name]
        lengths = [cut.length_mm for strip in mine for cut in strip.cuts]
        per_mm = lcm(*(length.denominator for length in lengths))
        whole = [int(length * per_mm) for length in lengths]
        assert len(mine) == fewest_by_cp_sat(whole, int((80 - 1) * per_mm), len(mine))
        assert verdict.proven


ONE, TWO = (
    plan_from(with_chamber(name="one"), None),
    plan_from(
        with_chamber(name="two", speaker={"length": "19 mm", "width": "16 mm", "flange": "1.2 mm", "depth": "6 mm"}),
        None,
    ),
)


@settings(max_examples=20)
@given(offcut=st.integers(12, 60), held=st.integers(25, 60), count=st.integers(1, 2))
def test_two_small_jobs_against_every_plan_there_is(offcut, held, count):
    """Four pieces of two lengths on few strips: each plan is tried, and judged by the same goals in turn."""
    line = next(line for line in ONE.lines if line.part.name == "side filler")
    stock = Held((StockStrip(line.picks[0].strip, offcut, 1, True), StockStrip(line.picks[0].strip, held, count)))
    wanted = [
        part.length_mm
        for each, name in ((ONE, "one"), (TWO, "two"))
        for part in to_cut(each, name).strips
        if part.stock_name == line.stock
        for _ in range(part.count)
    ]
    assert len(wanted) == 4
    assert len(set(wanted)) == 2
    how = Settings(Fraction(0), Fraction(1), Fraction(5), Fraction(50), NEW)
    made = cut_together({"one": ONE, "two": TWO}, stock, how)
    mine = [each for each in made.cutting.strips.strips if each.stock_name == line.stock]
    assert sorted(cut.length_mm for each in mine for cut in each.cuts) == sorted(wanted)
    strips = [(Fraction(offcut), "offcut"), *[(Fraction(held), "on hand")] * count, *[(Fraction(50), "to buy")] * 2]
    plan_made = [(strips.index((each.length_mm, each.kind)), [cut.length_mm for cut in each.cuts]) for each in mine]
    best = min(judged(each, strips, 0, 1, 5)[:4] for each in every_plan(sorted(wanted)[::-1], strips, 0, 1))
    assert judged(plan_made, strips, 0, 1, 5)[:4] == best


def test_build_n_of_these_multiplies_the_parts():
    one = to_cut(plan_from(DEMOS["switcher-ho"], None), "x")
    build = DEMOS["switcher-ho"].build.model_copy(update={"count": 3})
    three = to_cut(plan_from(DEMOS["switcher-ho"].model_copy(update={"build": build}), None), "x")
    for before, after in zip((*one.strips, *one.blanks), (*three.strips, *three.blanks), strict=True):
        assert (after.count, after.length_mm, after.name) == (3 * before.count, before.length_mm, before.name)


def test_what_no_strip_holds_is_left_out_and_the_others_stand():
    how = Settings(Fraction(0), Fraction(1), Fraction(20), Fraction(30), NEW)
    plans = plans_of("gas-electric-o", "railcar-n")
    made = cut_together(plans, None, how)
    names = {name for name, _ in pieces(made)}
    assert any(name.endswith("(railcar-n)") for name in names)
    post = next(line.part for line in plans["gas-electric-o"].lines if line.part.name == "corner post")
    long, over = float(post.cut.cut_mm), float(post.cut.cut_mm - 29)
    assert made.cutting.left_out[0] == (
        f"corner post (gas-electric-o), {long:.2f} mm long, does not fit: {over:.2f} mm too little, because the "
        "longest .156 sq is 30.00 mm, of which 1.00 mm is trimmed off. List a longer strip, or make the part of two."
    )
    assert "corner post (gas-electric-o)" not in names


# Whose drawer.

strips = st.lists(
    st.builds(
        StockStrip,
        st.sampled_from([parse_strip("HO 6x10"), parse_strip(".040 x .060")]),
        st.sampled_from([280, 355]),
        st.integers(1, 4),
        st.booleans(),
    ),
    max_size=4,
)
sheets = st.lists(
    st.builds(StockSheet, st.just(parse_sheet(".040 sheet")), st.sampled_from([300, 100]), st.just(150)), max_size=2
)
lists = st.builds(lambda strip, sheet: Held(tuple(strip), tuple(sheet)), strips, sheets)


def counts(held):
    found = Counter()
    for row in (*held.strips, *held.sheets):
        found[row.name, row.length_mm, row.offcut] += row.count
    return found


@given(lists, lists)
def test_one_drawer_written_down_twice_is_one_drawer(one, other):
    assert counts(as_one_drawer([one, one])) == counts(one) == counts(as_one_drawer([one]))
    assert counts(as_one_drawer([one, other])) == counts(one) | counts(other) == counts(as_one_drawer([other, one]))


@given(lists, lists)
def test_different_drawers_add_up(one, other):
    assert counts(added_up([one, other])) == counts(one) + counts(other)
    assert counts(as_one_drawer([one, other])) <= counts(added_up([one, other]))


def test_a_copied_job_does_not_double_the_drawer():
    """Two copies of a job list the same stock: as one drawer it is there once, and what is short is bought."""
    made = DEMOS["switcher-ho"]
    mine = own_stock(made)
    assert counts(as_one_drawer([own_stock(made), own_stock(made)])) == counts(mine)
    on_hand = as_one_drawer([mine, mine])
    plans = {name: plan_from(made, on_hand) for name in ("first", "second")}
    cut = cut_together(plans, on_hand, settings_of(plan(made)))
    used = Counter(strip.stock_name for strip in cut.cutting.strips.strips if strip.kind != "to buy")
    held = Counter()
    for row in mine.strips:
        held[row.name] += row.count
    assert used <= held


def test_a_job_s_own_list_does_not_count_beside_the_drawer():
    made = plan_from(DEMOS["switcher-ho"], Held())
    assert made.bench.drawer == ()
    assert DEMOS["switcher-ho"].drawer != []


# How it is cut.


def test_settings_are_those_of_the_job():
    found = settings_of(plan(DEMOS["railcar-n"]))
    build = DEMOS["railcar-n"].build
    assert f"{float(found.kerf_mm):g} mm" == build.kerf
    assert found.new_strip_mm == Fraction("25.4") * 14
    assert [getattr(build, name) for name in SETTINGS[3:]] == ["14 in", "12 in", "6 in"]


def test_where_the_jobs_differ_is_said():
    builds = [DEMOS["switcher-ho"].build, DEMOS["switcher-ho"].build.model_copy(update={"kerf": "0.3 mm"})]
    assert settings_that_differ(builds) == ("kerf",)
    assert settings_that_differ(builds[:1]) == ()


def test_the_rule_is_given_only_where_all_are_marked_out_with_it():
    same = {name: plan_from(DEMOS["switcher-ho"], None) for name in ("a", "b")}
    assert cut_together(same, None, HOW).marks == same["a"].marks
    assert cut_together(plans_of("switcher-ho", "railcar-n"), None, HOW).marks is None


def test_nothing_chosen_is_an_empty_plan():
    made = cut_together({}, None, HOW)
    assert (made.models, made.cutting.strips.strips, made.cutting.layout, made.to_buy) == ((), (), None, ())
