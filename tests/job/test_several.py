"""Several of one model: each part as often as there are models, one cut plan over all, and one model left as it was."""

import re
from collections import Counter
from fractions import Fraction

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from pydantic import ValidationError
from reportlab.platypus import NextPageTemplate
from sample_jobs import DEMOS, job
from sheets import opened

from modelmath import plan
from modelmath.cutting import CutPart, CutStock, plan_cuts, stock_of
from modelmath.cutting.accept import uses_of
from modelmath.cutting.from_drawer import Cutting
from modelmath.drawings.sheets.cuts import cutting_pdf
from modelmath.drawings.sheets.light import light_sheet
from modelmath.drawings.sheets.made import parts_sheet
from modelmath.drawings.sheets.paper import PLAIN_PAGE, bind
from modelmath.job.entries.inside.parts import build_texts, with_build
from modelmath.job.several import each_for, for_models
from modelmath.job.storage.files import load_job, save_job
from modelmath.lengths.parse import parse_length_exact
from modelmath.widgets.plan import cutting as views
from modelmath.widgets.plan import light

NAMES = sorted(DEMOS)
WIDTH = 480  # pt, inside the margins of the narrower paper


def built(name, count):
    before = DEMOS[name]
    return plan(before.model_copy(update={"build": before.build.model_copy(update={"count": count})}))


def pieces_of(found):
    """Count each part in everything that is cut: strip, sheet that is laid out, sheet that is not, glued up."""
    cuts, layout = found.cuts, found.sheet_layout.layout
    counts = Counter(cut.part for strip in cuts.strips for cut in strip.cuts)
    counts.update(piece.part for sheet in (layout.sheets if layout else ()) for piece in sheet.pieces)
    for strip in cuts.sheets:
        counts.update({each.name: each.count for each in strip.blanks})
    counts.update({each.name: each.count for each in cuts.made_up})
    return counts


@pytest.mark.parametrize(("name", "count"), [*((name, 3) for name in NAMES), ("switcher-ho", 2)])
def test_each_part_is_cut_as_often_as_there_are_models(name, count):
    one, several = built(name, 1), built(name, count)
    wanted = Counter()
    for part in one.parts:
        wanted[part.name] += part.count
    assert pieces_of(one) == wanted
    assert pieces_of(several) == Counter({part: each * count for part, each in wanted.items()})


@pytest.mark.parametrize("name", NAMES)
def test_what_is_of_one_model_stays(name):
    one, several = built(name, 1), built(name, 4)
    assert several.parts == one.parts
    assert several.holes == one.holes
    assert several.hole_places == one.hole_places
    assert several.balance == one.balance
    assert str(several.volume) == str(one.volume)
    assert [each.cut_mm for each in several.light.leads] == [each.cut_mm for each in one.light.leads]


@pytest.mark.parametrize("name", ["switcher-ho", "railbus-ho", "gas-electric-o"])
def test_one_model_is_cut_as_its_parts_alone(name):
    made, build = plan(DEMOS[name]), DEMOS[name].build
    parts = [
        CutPart(line.part.name, line.part.cut.cut_mm, line.part.count, line.stock, line.part.cut_set or None)
        for line in made.lines
        if line.picks and line.sheet is None
    ]
    new = [CutStock(each, parse_length_exact(build.new_strip)) for each in dict.fromkeys(p.stock_name for p in parts)]
    kerf, trim, useful = (parse_length_exact(each) for each in (build.kerf, build.end_trim, build.least_offcut))
    alone = plan_cuts(parts, stock_of(made.bench.drawer) + new, kerf, trim, least_offcut_mm=useful)
    assert (made.cuts.strips, made.cuts.shopping, made.cuts.verdicts) == (alone.strips, alone.shopping, alone.verdicts)
    shown = [*made.warnings, *made.to_buy, light.leads(made), light.strands(made)]
    shown += [page.extract_text() for page in opened(cutting_pdf(made, "A4", "cuts")).pages]
    assert re.search(r"\d models", " ".join(shown)) is None


def test_one_model_is_not_written_into_the_file(tmp_path):
    save_job(built("switcher-ho", 1).job, tmp_path / "one.toml")
    assert "count = 1\n" not in (tmp_path / "one.toml").read_text().partition("[build]")[2].partition("[[")[0]
    save_job(built("switcher-ho", 3).job, tmp_path / "three.toml")
    assert load_job(tmp_path / "three.toml").build.count == 3


@pytest.mark.parametrize("count", [0, 100, True])
def test_a_count_out_of_range_is_refused(count):
    with pytest.raises(ValidationError):
        job(build={"count": count})


# The plan for all is never worse than one after another.

sizes = st.integers(10, 280).map(lambda halves: Fraction(halves, 2))
sets = st.lists(st.tuples(sizes, st.integers(1, 5)), min_size=1, max_size=4)

# Sets whose plan for all at once, searched for by itself, leaves more scrap than one set after another.
FEW = [(Fraction(14), 4), (Fraction(51, 2), 6), (Fraction(48), 4), (Fraction(55, 2), 6)]
MANY = [(Fraction(each, 2), count) for each, count in ((87, 3), (61, 3), (96, 1), (220, 4), (48, 1), (74, 3))]


def planned(pieces, stock, times, count=1, kerf=Fraction(2, 5)):
    parts = [CutPart(f"part {place}", size, each * count, "s") for place, (size, each) in enumerate(pieces)]
    return plan_cuts(parts, stock, kerf, 1, times=times)


@given(sets, st.sampled_from([280, 300, 356]), st.integers(2, 4), st.sampled_from([0, 2, 4]))
@example(FEW, 300, 2, 2)
@example(MANY, 300, 3, 4)
@settings(max_examples=12, deadline=None)
def test_new_strip_for_all_is_no_more_than_for_each(pieces, length, count, tenths):
    stock, kerf = [CutStock("s", Fraction(length))], Fraction(tenths, 10)
    one, several = planned(pieces, stock, 1, 1, kerf), planned(pieces, stock, count, count, kerf)
    by_goal = [(each.bought, each.new_strips, each.scrap_mm) for each in (one, several)]
    assert by_goal[1] <= tuple(value * count for value in by_goal[0])


@given(sets, st.lists(st.tuples(st.integers(60, 250), st.integers(1, 2)), max_size=3), st.integers(2, 3))
@settings(max_examples=10, deadline=None)
def test_from_a_drawer_it_buys_no_more_than_one_after_another(pieces, offcuts, count):
    held = [CutStock("s", Fraction(length), each, offcut=True) for length, each in offcuts]
    new = CutStock("s", Fraction(300))
    left, bought, whole, scrap = list(held), 0, 0, Fraction(0)
    for _ in range(count):
        found = planned(pieces, [*left, new], 1)
        bought, whole, scrap = bought + found.bought, whole + found.new_strips, scrap + found.scrap_mm
        for strip in found.strips:
            if strip.kind == "offcut":
                at = next(at for at, each in enumerate(left) if each.length_mm == strip.length_mm)
                gone = left.pop(at)
                left += [CutStock("s", gone.length_mm, gone.count - 1, offcut=True)] if gone.count > 1 else []
    several = planned(pieces, [*held, new], count, count)
    assert (several.bought, several.new_strips) <= (bought, whole)
    if (several.bought, several.new_strips) == (bought, whole):
        assert several.scrap_mm <= scrap


@pytest.mark.parametrize("name", ["switcher-ho", "railmotor-oo", "centre-cab-s"])
def test_sheets_and_strips_of_a_demo_are_no_more_than_for_each(name):
    before = DEMOS[name].model_copy(update={"drawer": []})
    one = plan(before)
    several = plan(before.model_copy(update={"build": before.build.model_copy(update={"count": 3})}))
    assert several.cuts.new_strips <= 3 * one.cuts.new_strips
    if one.sheet_layout.layout is not None:
        assert several.sheet_layout.layout.new_sheets <= 3 * one.sheet_layout.layout.new_sheets


def test_accepting_takes_out_of_the_drawer_what_all_models_need():
    taken = {}
    for count in (1, 5):
        cutting = Cutting((found := built("switcher-ho", count)).cuts, found.sheet_layout.layout)
        pieces = [*cutting.strips.strips, *(cutting.layout.sheets if cutting.layout else ())]
        assert sum(each.count for each in uses_of(cutting)[0]) == sum(each.kind != "to buy" for each in pieces)
        taken[count] = sum(each.length_mm for each in pieces)
    assert taken[5] > taken[1]


# What is said.


def test_where_counts_show_it_is_said_for_how_many():
    several = built("gas-electric-o", 3)
    assert several.warnings[-1] == (
        "The cut plan, the lists of wires and strands and what to buy are for 3 models. All other counts, and what to "
        "drill, are for one: each model's shell and chassis are measured by themselves before its parts are glued."
    )
    pages = [NextPageTemplate(PLAIN_PAGE), *parts_sheet(several, WIDTH), *light_sheet(several, WIDTH)]
    pdfs = [bind(pages, "A4", "parts and light"), cutting_pdf(several, "A4", "cuts")]
    text = "\n".join(page.extract_text() for pdf in pdfs for page in opened(pdf).pages)
    for heading in (
        "Cut plan, for 3 models", "To buy, for 3 models", "Parts of each of 3 models", "Leads, for 3 models",
        "Strands and lens ends, each 3 times for 3 models",
    ):  # fmt: skip
        assert heading in text
    assert "Leads, for 3 models" in light.leads(several)
    assert "Strands and lens ends, each 3 times for 3 models" in light.strands(several)
    cutting = Cutting(several.cuts, several.sheet_layout.layout)
    assert "3 models" in views.in_short(cutting, several.models)
    assert "To buy, for 3 models" in views.shopping(cutting, several.models)
    assert (for_models(1), each_for(1)) == ("", "")


def test_wires_are_counted_for_all():
    one, several = (light.leads(built("gas-electric-o", count)) for count in (1, 3))
    counts = [[int(each) for each in re.findall(r"<td[^>]*>(\d+)</td>", shown)] for shown in (one, several)]
    assert counts[0]
    assert counts[1] == [3 * each for each in counts[0]]


# The editor.


def test_how_many_are_built_is_typed_with_how_parts_are_made():
    before = job()
    assert build_texts(before)["count"] == ""
    three = with_build(before, {"count": "3"}).job
    assert three.build.count == 3
    assert build_texts(three)["count"] == "3"
    assert with_build(three, {"count": ""}).job == before


@pytest.mark.parametrize("typed", ["0", "100", "two", "1.5", "-1"])
def test_a_number_of_models_that_can_not_be_is_refused(typed):
    outcome = with_build(job(), {"count": typed})
    assert outcome.job is None
    assert outcome.messages == {
        "count": f"the number of models is '{typed}'; expected a whole number from 1 to 99. Write 2 for two models."
    }
