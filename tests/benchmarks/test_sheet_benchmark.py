"""Sheet layouts beside a general rectangle packer held to guillotine cuts, by the best of its rules, in one run.

The cases are named in tests/cutting/sheet_layout/test_known_optima.py.
"""

from __future__ import annotations

import random
import time
from itertools import product
from statistics import mean, median

import rectpack
from benchmarks.beside import beside
from cutting.sheet_layout.sheet_check import check_plan, check_sheet
from cutting.sheet_layout.test_known_optima import SQUARE, STRIP, parts_of

from modelmath.cutting.sheet_layout import SheetPart, SheetStock, lay_out_sheet, least_height

LIMIT_S = 5
MOST_MEAN = 1.04
EFFORT = 6_000_000
SELECTIONS, SPLITS = ("Baf", "Blsf", "Bssf"), ("Las", "Llas", "Maxas", "Minas", "Sas", "Slas")
RULES = [getattr(rectpack, f"Guillotine{selection}{split}") for selection, split in product(SELECTIONS, SPLITS)]
SORTS = (rectpack.SORT_AREA, rectpack.SORT_LSIDE, rectpack.SORT_SSIDE, rectpack.SORT_PERI, rectpack.SORT_DIFF)
TAKEN = STRIP[::2]  # every other one: the packer's rules take their time
HOPPER_T = [case for case in TAKEN if case["family"] == "Hopper_T"]


def seconds(act):
    """Return what is found and the processor's time for it: the layouts use one core, whatever else is running."""
    begun = time.process_time()
    found = act()
    return found, time.process_time() - begun


def packed(parts, rule, sort, bins, turn):
    """Return the packer after it has packed all parts, or None if it has left some out; bins are sizes and counts."""
    packer = rectpack.newPacker(rectpack.PackingMode.Offline, rectpack.PackingBin.BBF, rule, sort, turn)
    for at, (a, b) in enumerate(parts):
        packer.add_rect(a, b, at)
    for size, count in bins:
        packer.add_bin(*size, count=count)
    packer.pack()
    return packer if len(packer.rect_list()) == len(parts) else None


def their_height(case):
    """Least height at which one of the packer's rules holds all parts; each rule goes down until it fails."""
    best = 2 * case["optimum_height"]
    for rule, sort in product(RULES, SORTS):
        while best > case["optimum_height"]:
            packer = packed(case["parts"], rule, sort, [((case["width"], best - 1), 1)], True)
            if packer is None:
                break
            best = max(y + h for _, _, y, _, h, _ in packer.rect_list())
    return best


def their_new_sheets(parts, stock):
    """Fewest new sheets of the packer's rules; what is on hand is filled first, as they are told of the bins."""
    sizes = [(int(10 * part.length_mm), int(10 * part.width_mm)) for part in parts for _ in range(part.count)]
    new, scrap = ((int(10 * each.length_mm), int(10 * each.width_mm)) for each in stock)
    counts = []
    for rule, sort in product(RULES, SORTS):
        packer = packed(sizes, rule, sort, ((scrap, stock[1].count), (new, 99)), True)
        if packer is not None:
            counts.append(len({at for at, *_ in packer.rect_list() if at >= stock[1].count}))
    return min(counts)


def their_sheets(case):
    counts = []
    for rule, sort in product(RULES, SORTS):
        packer = packed(case["parts"], rule, sort, [((case["width"], case["height"]), 99)], False)
        if packer is not None:
            counts.append(len({at for at, *_ in packer.rect_list()}))
    return min(counts)


def test_heights_beside_a_guillotine_packer(benchmark):
    ratios, times = [], []

    def all_cases():
        for case in TAKEN:
            found, took = seconds(lambda case=case: least_height(parts_of(case), case["width"], effort=EFFORT))
            theirs, theirs_took = seconds(lambda case=case: their_height(case))
            times.append((took, theirs_took))
            check_sheet(found.sheet, 0, 0, 0)
            best = case["optimum_height"]
            print(
                f"\n{case['name']}, {len(case['parts'])} rectangles: {float(found.height_mm):g} in {took:.1f} s,"
                f" packer {theirs}, least {best}",
                end="",
            )
            assert found.height_mm <= theirs
            assert took <= LIMIT_S
            if case in HOPPER_T:
                ratios.append((float(found.height_mm) / best, theirs / best))

    benchmark.pedantic(all_cases, rounds=1)
    ours, theirs = (mean(each) for each in zip(*ratios, strict=True))
    print(f"\nmean over the least of {len(ratios)} T cases: {ours:.4f}, packer {theirs:.4f}", end="")
    job = f"least height of a strip, {len(TAKEN)} standard cases of sheet layout"
    beside(benchmark, job, *_sums(times), most=None)
    assert ours <= MOST_MEAN


def _sums(times):
    """Return our time in all, what it stands beside, and its time."""
    mine, theirs = (sum(each) for each in zip(*times, strict=True))
    return mine, "a guillotine packer, the best of its 90 rules", theirs


def test_sheets_beside_a_guillotine_packer(benchmark):
    times = []

    def all_cases():
        for case in SQUARE:
            parts, stock = parts_of(case), [SheetStock("sheet", case["width"], case["height"])]
            plan, took = seconds(lambda parts=parts, stock=stock: lay_out_sheet(parts, stock, least_snap_mm=0))
            check_plan(plan, parts, stock)
            theirs, theirs_took = seconds(lambda case=case: their_sheets(case))
            times.append((took, theirs_took))
            print(f"\n{case['name']}: {plan.new_sheets} in {took:.2f} s, packer {theirs}", end="")
            assert plan.new_sheets == case["optimum_sheets"] <= theirs
            assert plan.proven

    benchmark.pedantic(all_cases, rounds=1)
    beside(benchmark, f"fewest sheets, {len(SQUARE)} standard cases, proven", *_sums(times))


def bench_job(seed):
    """Return a job such as a bench has: plates and bulkheads for one sheet or a few, made up."""
    chance = random.Random(seed)
    count = chance.randint(2, 40)
    parts = [
        SheetPart(
            f"part {at}", chance.randint(60, 700) / 10, chance.randint(60, 400) / 10, chance.randint(1, 4), "1 mm"
        )
        for at in range(count)
    ]
    stock = [SheetStock("1 mm", 300, 200, thickness_mm=1), SheetStock("1 mm", 110, 70, 2, True, 1)]
    return parts, stock


def test_bench_sized_jobs_are_quick(benchmark):
    """Snapped from 1 mm sheet: least width 3 mm, offcuts of 20 mm and more kept."""
    times, gaps, theirs, ours_bought, theirs_bought = [], [], [], [], []

    def all_jobs():
        for seed in range(60):
            parts, stock = bench_job(seed)
            plan, took = seconds(lambda parts=parts, stock=stock: lay_out_sheet(parts, stock, least_offcut_mm=20))
            check_plan(plan, parts, stock)
            times.append(took)
            gaps.append(plan.new_sheets - plan.bound)
            ours_bought.append(plan.new_sheets)
            bought, took = seconds(lambda parts=parts, stock=stock: their_new_sheets(parts, stock))
            theirs.append(took)
            theirs_bought.append(bought)
            assert plan.new_sheets <= bought

    benchmark.pedantic(all_jobs, rounds=1)
    job = f"{len(times)} bench-sized sheet layouts, offcuts kept large: {sum(ours_bought)} sheets bought"
    baseline = f"a guillotine packer, the best of its 90 rules: {sum(theirs_bought)} bought"
    beside(benchmark, job, sum(times), baseline, sum(theirs), readme=True)
    print(
        f"\n60 jobs: median {median(times):.2f} s, worst {max(times):.2f} s;"
        f" {gaps.count(0)} proven, at most {max(gaps)} sheets over the bound;"
        f" {sum(ours_bought)} bought, packer {sum(theirs_bought)}",
        end="",
    )
    assert max(times) <= 1
    assert median(times) <= 0.3


def test_the_packer_has_its_rules():
    assert len(RULES) == 18
