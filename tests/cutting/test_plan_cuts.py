"""Cut plans: valid, honest about how good they are, and easy to cut from."""

import re
from collections import Counter
from fractions import Fraction
from itertools import groupby
from math import floor

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from published import published_rows

from modelmath.cutting import CutPart, CutStock, plan_cuts, stock_of
from modelmath.cutting.bounds import fewest_new
from modelmath.cutting.packing import Supply, pack
from modelmath.errors import DoesNotFit, OutOfRange
from modelmath.materials import StockStrip, parse_strip

STRIP = "HO 6x10"


def whole(text):
    return f"^{re.escape(text)}$"


def check_valid(plan, parts, stock):
    """Every part is cut exactly once, no strip is overfull, no strip on hand is used twice."""
    wanted = Counter({(part.name, part.length_mm): 0 for part in parts})
    for part in parts:
        wanted[part.name, part.length_mm] += part.count
    assert Counter((cut.part, cut.length_mm) for strip in plan.strips for cut in strip.cuts) == wanted
    for strip in plan.strips:
        pieces = [cut.length_mm for cut in strip.cuts]
        assert sum(pieces) + plan.kerf_mm * (len(pieces) - 1) <= strip.length_mm - plan.end_trim_mm
        assert pieces == sorted(pieces, reverse=True)
        at = plan.end_trim_mm
        for cut in strip.cuts:
            assert (cut.start_mm, cut.end_mm) == (at, at + cut.length_mm)
            at = cut.end_mm + plan.kerf_mm
        assert strip.offcut_mm == max(0, strip.length_mm - at)
    for row in stock:
        if row.count is not None:
            kind = "offcut" if row.offcut else "on hand"
            used = [(strip.stock_name, strip.length_mm, strip.kind) for strip in plan.strips]
            listed = [
                r.count for r in stock if (r.name, r.length_mm, r.offcut) == (row.name, row.length_mm, row.offcut)
            ]
            assert used.count((row.name, row.length_mm, kind)) <= sum(filter(None, listed))
    assert [strip.number for strip in plan.strips] == list(range(1, len(plan.strips) + 1))
    assert plan.new_strips == sum(strip.kind != "offcut" for strip in plan.strips)
    assert sum(line.count for line in plan.shopping) == sum(strip.kind == "to buy" for strip in plan.strips)
    assert plan.bound <= plan.new_strips
    assert plan.proven == (plan.bound == plan.new_strips)
    for verdict in plan.verdicts:
        strips = [strip for strip in plan.strips if strip.stock_name == verdict.stock_name]
        bought = [strip.length_mm for strip in strips if strip.kind == "to buy"]
        of_new = [cut.length_mm for strip in strips if strip.kind != "offcut" for cut in strip.cuts]
        assert verdict.stage("bought").value == len(bought)
        assert verdict.stage("length bought").value == sum(bought)
        assert verdict.stage("cut from new strip").value == sum(of_new)
        assert all(stage.bound <= stage.value for stage in verdict.stages if stage.goal != "longest offcut")


@pytest.mark.parametrize("row", published_rows("kerf_examples.csv"), ids=lambda row: row["id"])
def test_kerf_examples(row):
    """Source: n = floor((L + kerf) / (piece + kerf)), arithmetic; nothing is sawn after a piece that uses all up."""
    length, piece, kerf = (Fraction(row[column]) for column in ("stock_mm", "piece_mm", "kerf_mm"))
    fit = int(row["pieces"])
    assert fit == floor((length + kerf) / (piece + kerf))
    stock = [CutStock(STRIP, float(length))]
    if fit == 0:
        with pytest.raises(DoesNotFit):
            plan_cuts([CutPart("post", float(piece), 1, STRIP)], stock, float(kerf))
        return
    plan = plan_cuts([CutPart("post", float(piece), fit, STRIP)], stock, float(kerf))
    said = f"proven: no plan buys fewer strips than 1 (any to buy {float(length):.2f} mm long)"
    assert (plan.new_strips, plan.verdict) == (1, said)
    assert plan.strips[0].offcut_mm == Fraction(row["offcut_after_end_cut_mm"])
    assert plan_cuts([CutPart("post", float(piece), fit + 1, STRIP)], stock, float(kerf)).new_strips == 2


@pytest.mark.parametrize("row", published_rows("cutting_examples.csv"), ids=lambda row: row["instance"])
def test_published_instances(row):
    """Source in each row; the optimum is the fewest strips."""
    lengths = row["item_lengths"].split()
    counts = row["item_counts"].split() or ["1"] * len(lengths)
    parts = [
        CutPart(f"piece {at}", int(a), int(n), STRIP) for at, (a, n) in enumerate(zip(lengths, counts, strict=True))
    ]
    stock = [CutStock(STRIP, int(row["stock_length"]))]
    plan = plan_cuts(parts, stock)
    check_valid(plan, parts, stock)
    assert int(row["length_lower_bound"]) <= plan.bound <= int(row["optimum"]) <= plan.new_strips
    assert plan.new_strips <= int(row["ffd_result"])
    assert plan.proven <= (plan.new_strips == int(row["optimum"]))


def pairs(text):
    return [tuple(map(int, pair.split("x"))) for pair in text.split()]


@pytest.mark.parametrize("row", published_rows("cutting_bench.csv"), ids=lambda row: row["name"])
def test_bench_sized_instances_with_kerf_trim_and_offcuts(row):
    """Source in each row: generated, the optimum by a column-generation bound and an integer plan."""
    parts = [CutPart(f"piece {a}", Fraction(a, 100), n, STRIP) for a, n in pairs(row["pieces"])]
    stock = [CutStock(STRIP, Fraction(int(row["strip_length_hundredth_mm"]), 100))]
    stock += [CutStock(STRIP, Fraction(a, 100), n, offcut=True) for a, n in pairs(row["offcuts"])]
    kerf, trim = (Fraction(int(row[f"{name}_hundredth_mm"]), 100) for name in ("kerf", "end_trim"))
    plan = plan_cuts(parts, stock, kerf, trim)
    check_valid(plan, parts, stock)
    assert plan.bound <= int(row["optimum_new_strips"]) <= plan.new_strips <= int(row["optimum_new_strips"]) + 1


lengths_mm = st.one_of(st.integers(5, 300), st.fractions(5, 300, max_denominator=7))
part_lists = st.lists(st.tuples(lengths_mm, st.integers(1, 4)), min_size=1, max_size=8)
stock_lists = st.lists(st.tuples(st.integers(20, 350), st.integers(1, 3), st.booleans()), max_size=4)
kerfs = st.sampled_from([0, Fraction(1, 5), Fraction(1, 2), 1])


@given(part_lists, stock_lists, kerfs, st.integers(0, 10))
def test_any_plan_is_valid_and_does_not_hang_on_the_order_of_parts(sizes, rows, kerf, trim):
    parts = [CutPart(f"part {at}", length, count, STRIP) for at, (length, count) in enumerate(sizes)]
    stock = [CutStock(STRIP, 310)] + [CutStock(STRIP, length, count, offcut) for length, count, offcut in rows]
    plan = plan_cuts(parts, stock, kerf, trim)
    check_valid(plan, parts, stock)
    assert plan == plan_cuts(parts, stock, kerf, trim)
    assert plan_cuts(parts[::-1], stock, kerf, trim).new_strips == plan.new_strips
    stops = [stop.length_mm for stop in plan.stops]
    assert stops == sorted({part.length_mm for part in parts}, reverse=True)
    assert sum(stop.count for stop in plan.stops) == sum(part.count for part in parts)


def test_a_plan_better_than_was_asked_for_by_an_earlier_goal_is_told_as_that():
    """566.33 mm to cut: two strips of 310 mm hold it; two of 21 mm on hand need not be begun beside them."""
    sizes = [(5, 4), (101, 2), (87, 3), (6, 1), (28, 1), (9, 4), (Fraction(20, 3), 2)]
    parts = [CutPart(f"part {at}", length, count, STRIP) for at, (length, count) in enumerate(sizes)]
    stock = [CutStock(STRIP, 310), CutStock(STRIP, 21, 2, False)]
    plan = plan_cuts(parts, stock)
    check_valid(plan, parts, stock)
    assert (plan.new_strips, plan.bound) == (2, 2)
    assert [strip.kind for strip in plan.strips] == ["to buy", "to buy"]


def fewest_by_search(pieces, offcuts, on_hand, to_buy):
    """Fewest to buy, then fewest new strips, by trying every strip for every piece; None if there is no way at all."""
    best = none = (len(pieces) + 1, 0)

    def place(at, free, bought, used_on_hand):
        nonlocal best
        new = (bought, bought + len(used_on_hand))
        if new >= best and at < len(pieces):
            return
        if at == len(pieces):
            best = min(best, new)
            return
        piece = pieces[at]
        tried = set()
        for number, room in enumerate(free):
            if room >= piece and room not in tried:
                tried.add(room)
                place(at + 1, [*free[:number], room - piece, *free[number + 1 :]], bought, used_on_hand)
        for number, held in enumerate(on_hand):
            if number not in used_on_hand and held >= piece:
                place(at + 1, [*free, held - piece], bought, used_on_hand | {number})
        if to_buy >= piece:
            place(at + 1, [*free, to_buy - piece], bought + 1, used_on_hand)

    place(0, list(offcuts), 0, frozenset())
    return None if best == none else best


small = st.integers(4, 20)


@settings(max_examples=200, deadline=None)
@given(st.lists(small, min_size=1, max_size=6), st.lists(small, max_size=2), st.lists(st.integers(4, 26), max_size=2))
def test_the_bound_is_never_above_what_a_full_search_finds(pieces, offcuts, on_hand):
    best = fewest_by_search(sorted(pieces, reverse=True), offcuts, on_hand, 20)
    assert fewest_new(pieces, offcuts, on_hand, 20) <= best[1]
    assert fewest_new(pieces, [*offcuts, *on_hand], [], 20) <= best[0]
    parts = [CutPart(f"part {at}", piece, 1, STRIP) for at, piece in enumerate(pieces)]
    stock = [CutStock(STRIP, 20)]
    stock += [CutStock(STRIP, each, 1, offcut=True) for each in offcuts] + [
        CutStock(STRIP, each, 1) for each in on_hand
    ]
    plan = plan_cuts(parts, stock)
    assert (plan.bought, plan.new_strips) >= best


@settings(max_examples=300, deadline=None)
@given(
    st.lists(small, min_size=1, max_size=6),
    st.lists(st.integers(4, 30), max_size=3),
    st.lists(st.integers(4, 26), max_size=3),
    st.one_of(st.none(), st.integers(4, 26)),
)
def test_what_is_proven_and_what_is_refused_agree_with_a_full_search(pieces, offcuts, on_hand, to_buy):
    """Bought is the length listed for it, or else the longest full strip; nothing else, however long an offcut is."""
    stock = [CutStock(STRIP, each, 1, offcut=True) for each in offcuts] + [CutStock(STRIP, e, 1) for e in on_hand]
    stock += [CutStock(STRIP, to_buy)] if to_buy is not None else []
    assume(stock)
    buys = max(on_hand, default=0) if to_buy is None else to_buy
    best = fewest_by_search(sorted(pieces, reverse=True), offcuts, on_hand, buys)
    parts = [CutPart(f"part {at}", piece, 1, STRIP) for at, piece in enumerate(pieces)]
    if best is None:
        with pytest.raises(DoesNotFit, match=r"^part \d+, .* does not fit: .* too little, because "):
            plan_cuts(parts, stock)
        return
    plan = plan_cuts(parts, stock)
    check_valid(plan, parts, stock)
    assert best <= (plan.bought, plan.new_strips)
    verdict = plan.verdicts[0]
    assert verdict.stage("bought").bound <= best[0]
    assert plan.bought > best[0] or plan.bound <= best[1]
    assert {line.length_mm for line in plan.shopping} <= {buys}


def test_a_place_that_greedy_packing_misses_is_found_by_search():
    """13 = 9 + 4, 15 = 12 + 3 and 20 > 10 + 9 is the only way; longest first puts the 12 alone on the 13."""
    parts = [CutPart(f"part {n}", size, 1, STRIP) for n, size in enumerate((12, 10, 9, 9, 4, 3))]
    stock = [CutStock(STRIP, length, 1, offcut=True) for length in (13, 15, 20)]
    sizes, offcuts = [12, 10, 9, 9, 4, 3], tuple((length, at) for at, length in enumerate((13, 15, 20)))
    assert pack(sizes, Supply(offcuts, (), ())) is None
    plan = plan_cuts(parts, stock)
    check_valid(plan, parts, stock)
    assert (plan.new_strips, len(plan.strips)) == (0, 3)


def test_the_bound_sees_that_long_pieces_never_share_a_strip():
    plan = plan_cuts([CutPart("beam", 160, 3, STRIP)], [CutStock(STRIP, 300)])
    assert (plan.new_strips, plan.bound, plan.proven) == (3, 3, True)


def test_rounding_up_the_length_is_not_enough_for_a_bound():
    """Chvatal, Linear Programming (1983), widths and demands as in cutting_examples.csv: best 453, by length 416."""
    demand = {45: 97, 36: 610, 31: 395, 14: 211}
    plan = plan_cuts([CutPart(f"width {a}", a, n, STRIP) for a, n in demand.items()], [CutStock(STRIP, 100)])
    assert (plan.new_strips, plan.bound, plan.proven) == (453, 453, True)


def test_an_unproven_plan_says_so(monkeypatch):
    """With no dive and no branching the greedy plan stands: first-fit decreasing takes 485, the bound is 453."""
    monkeypatch.setattr("modelmath.cutting.optimum.fewest._make_whole", lambda *_: None)
    monkeypatch.setattr("modelmath.cutting.optimum.stages._Later._improve", lambda *_: 0)  # nor later, by another goal
    demand = {45: 97, 36: 610, 31: 395, 14: 211}
    plan = plan_cuts([CutPart(f"width {a}", a, n, STRIP) for a, n in demand.items()], [CutStock(STRIP, 100)])
    assert plan.bound == 453 < plan.new_strips
    assert plan.verdict == (
        f"not proven: the plan buys {plan.new_strips} strips, and 453 might do (any to buy 100.00 mm long)"
    )


def test_strip_filled_one_by_one_beats_first_fit():
    """PM_u010_05, source in cutting_examples.csv: best 4, first-fit decreasing 5."""
    lengths = [97, 42, 100, 77, 28, 80, 23, 40, 58, 25]
    plan = plan_cuts([CutPart(f"piece {a}", a, 1, STRIP) for a in lengths], [CutStock(STRIP, 150)])
    assert (plan.new_strips, plan.proven) == (4, True)


def test_a_piece_that_only_fits_strip_on_hand_gets_it_or_is_refused():
    stock = [CutStock(STRIP, 350), CutStock(STRIP, 500, 1)]
    parts = [CutPart("beam", 400, 1, STRIP), CutPart("post", 100, 10, STRIP)]
    plan = plan_cuts(parts, stock)
    check_valid(plan, parts, stock)
    assert [(line.length_mm, line.count) for line in plan.shopping] == [(350, 3)]
    text = (
        "beam, 400.00 mm long, does not fit: 51.50 mm too little, because no place was found for it on the HO 6x10 on "
        "hand, and the longest to buy is 350.00 mm, of which 1.50 mm is trimmed off. List a longer strip, or make the "
        "part of two."
    )
    with pytest.raises(DoesNotFit, match=whole(text)) as caught:
        plan_cuts([CutPart("post", 100, 1, STRIP), CutPart("beam", 400, 2, STRIP)], stock, end_trim_mm=1.5)
    assert caught.value.short_mm == 51.5


def test_an_offcut_is_never_what_is_bought():
    """The longest full strip listed is bought, 19, though one offcut is longer; of those it takes two."""
    parts = [CutPart("long", 28, 1, STRIP), CutPart("middle", 15, 1, STRIP), CutPart("short", 10, 1, STRIP)]
    stock = [CutStock(STRIP, 19, 1), *(CutStock(STRIP, length, 1, offcut=True) for length in (35, 4, 4))]
    plan = plan_cuts(parts, stock)
    check_valid(plan, parts, stock)
    assert (plan.new_strips, plan.verdicts[0].to_buy_mm) == (2, (19,))
    assert plan.verdict == (
        "proven: no plan buys fewer strips than 1 (any to buy 19.00 mm long), and no such plan cuts into fewer whole "
        "strips than 2"
    )
    longer = plan_cuts(parts, [*stock, CutStock(STRIP, 35)])
    assert (longer.new_strips, longer.proven) == (1, True)  # one that is bought does what the drawer's can't


def test_offcuts_alone_are_cut_but_can_not_be_bought():
    offcuts = [CutStock(STRIP, 100, 2, offcut=True)]
    plan = plan_cuts([CutPart("post", 60, 2, STRIP)], offcuts)
    assert plan.verdict == "all of it comes from offcuts (none to buy)"
    text = (
        "post, 60.00 mm long, does not fit: 60.00 mm too little, because no place was found for it on the HO 6x10 "
        'offcuts and no full strip is listed. Add CutStock("HO 6x10", length_mm, count=None) for strip to buy.'
    )
    with pytest.raises(DoesNotFit, match=whole(text)):
        plan_cuts([CutPart("post", 60, 3, STRIP)], offcuts)


def test_pieces_that_use_a_strip_up_exactly_fit_whatever_their_floats_add_up_to():
    assert 0.1 + 0.2 > 0.3
    parts = [CutPart("thin", 0.1, 1, STRIP), CutPart("thick", 0.2, 1, STRIP)]
    assert plan_cuts(parts, [CutStock(STRIP, 0.3)]).new_strips == 1
    thirds = [CutPart("third", Fraction(100, 3), 3, STRIP)]
    assert plan_cuts(thirds, [CutStock(STRIP, 100)]).new_strips == 1
    assert plan_cuts(thirds, [CutStock(STRIP, Fraction(100) - Fraction(1, 10**9))]).new_strips == 2


def test_offcuts_go_first_then_the_drawer_then_the_shop():
    drawer = [StockStrip(parse_strip(STRIP), 280, 1), StockStrip(parse_strip(STRIP), 65, 1, offcut=True)]
    stock = [*stock_of(drawer), CutStock(STRIP, 300)]
    few = plan_cuts([CutPart("post", 30, 2, STRIP)], stock, 0.5)
    assert [(strip.kind, strip.length_mm, strip.offcut_mm) for strip in few.strips] == [("offcut", 65, 4)]
    assert (few.new_strips, few.shopping, few.proven) == (0, (), True)
    more = plan_cuts([CutPart("post", 30, 9, STRIP)], stock, 0.5)
    assert [strip.kind for strip in more.strips] == ["offcut", "on hand"]
    assert more.shopping == ()
    many = plan_cuts([CutPart("post", 30, 14, STRIP)], stock, 0.5)
    assert [strip.kind for strip in many.strips] == ["offcut", "on hand", "to buy"]
    assert [(line.stock_name, line.length_mm, line.count) for line in many.shopping] == [(STRIP, 300, 1)]


def test_what_the_drawer_lacks_is_to_buy_in_the_longest_length_listed():
    plan = plan_cuts([CutPart("post", 90, 7, STRIP)], [CutStock(STRIP, 280, 1), CutStock(STRIP, 100, 1, offcut=True)])
    assert [(line.length_mm, line.count) for line in plan.shopping] == [(280, 1)]
    assert (plan.new_strips, plan.bound) == (2, 2)


def test_the_shortest_strip_that_does_is_bought():
    plan = plan_cuts([CutPart("post", 90, 4, STRIP)], [CutStock(STRIP, 280), CutStock(STRIP, 100)])
    assert sorted((int(line.length_mm), line.count) for line in plan.shopping) == [(100, 1), (280, 1)]


def test_each_length_is_set_once_over_all_kinds_of_strip_and_an_equal_set_is_cut_together():
    parts = [
        CutPart("corner post", 31.5, 4, STRIP, "posts"),
        CutPart("speaker support", 18, 2, STRIP, "supports"),
        CutPart("rear post", 31.5, 2, ".080 sq", "posts"),
        CutPart("brace", 24, 3, STRIP),
    ]
    stock = [CutStock(STRIP, 120), CutStock(".080 sq", 350)]
    plan = plan_cuts(parts, stock, 0.5)
    check_valid(plan, parts, stock)
    assert [float(stop.length_mm) for stop in plan.stops] == [31.5, 24, 18]
    assert Counter(part for _, part in plan.stops[0].cuts) == {"corner post": 4, "rear post": 2}
    for strip in plan.strips:
        runs = [length for length, _ in groupby(cut.length_mm for cut in strip.cuts)]
        assert len(runs) == len(set(runs))
    assert [verdict.stock_name for verdict in plan.verdicts] == [STRIP, ".080 sq"]
    assert plan.new_strips == sum(verdict.new_strips for verdict in plan.verdicts)


def test_end_trim_comes_off_each_strip_once():
    parts = [CutPart("post", 100, 3, STRIP)]
    assert plan_cuts(parts, [CutStock(STRIP, 300)]).new_strips == 1
    trimmed = plan_cuts(parts, [CutStock(STRIP, 300)], end_trim_mm=1)
    assert trimmed.new_strips == 2
    assert trimmed.strips[0].cuts[0].start_mm == 1


def test_nothing_to_cut_is_an_empty_plan():
    plan = plan_cuts([], [CutStock(STRIP, 300)])
    assert (plan.strips, plan.stops, plan.shopping, plan.new_strips, plan.proven) == ((), (), (), 0, True)


def test_a_part_longer_than_any_stock_says_by_how_much():
    text = (
        "beam, 300.00 mm long, does not fit: 21.50 mm too little, because the longest HO 6x10 is 280.00 mm, of which "
        "1.50 mm is trimmed off. List a longer strip, or make the part of two."
    )
    with pytest.raises(DoesNotFit, match=whole(text)) as caught:
        plan_cuts([CutPart("beam", 300, 1, STRIP)], [CutStock(STRIP, 280), CutStock("N 6x10", 500)], 0.5, 1.5)
    assert caught.value.short_mm == 21.5


@pytest.mark.parametrize(
    ("make", "text"),
    [
        (
            lambda: plan_cuts([CutPart("post", 30, 1, "HO 6x8")], [CutStock(STRIP, 280)]),
            (
                "stock_name of post is 'HO 6x8'; it must be the name of a row of the stock. "
                'Add CutStock("HO 6x8", length_mm, count=None) for strip to buy.'
            ),
        ),
        (
            lambda: plan_cuts(
                [CutPart("left", 30, 1, STRIP, "posts"), CutPart("right", 30.5, 1, STRIP, "posts")],
                [CutStock(STRIP, 280)],
            ),
            (
                "length_mm of right is 30.5 mm; it must be 30 mm, as left of the equal set 'posts'. "
                "Give both one length, or take one out of the set."
            ),
        ),
        (
            lambda: CutPart("post", 0, 1, STRIP),
            "length_mm of post is 0 mm; it must be above 0 mm. Write a positive number of mm.",
        ),
        (
            lambda: CutPart("post", float("nan"), 1, STRIP),
            "length_mm of post is nan mm; it must be a finite length above 0 mm. Write a number of mm.",
        ),
        (
            lambda: CutPart("post", 30, 0, STRIP),
            "count of post is 0; it must be a whole number, 1 or more. Leave the part out if none is needed.",
        ),
        (
            lambda: CutStock(STRIP, 280, 1.5),
            (
                "count of HO 6x10 is 1.5; it must be a whole number, 1 or more. "
                "Leave the row out, or write None to buy as needed."
            ),
        ),
        (
            lambda: CutStock(STRIP, 280, None, offcut=True),
            "count of the HO 6x10 offcuts is None; it must be a whole number. Offcuts can't be bought.",
        ),
        (
            lambda: plan_cuts([], [], kerf_mm=-0.5),
            "kerf_mm is -0.5 mm; it must be 0 mm or more. Write a positive number of mm.",
        ),
    ],
)
def test_wrong_input_says_what_to_write(make, text):
    with pytest.raises(OutOfRange, match=whole(text)):
        make()
