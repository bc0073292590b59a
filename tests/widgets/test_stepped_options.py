"""A floor with steps in the fold on what else could be: what it buys, its pieces, the decoder, why there is none."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from html import unescape
from types import SimpleNamespace

import pytest

from modelmath.job import Plan, load_job, plan
from modelmath.job.document import Job
from modelmath.job.space.stepped_floor import stepped_floor, stepped_pieces
from modelmath.lengths.text import format_length
from modelmath.widgets import EnclosurePanel
from modelmath.widgets.common import places
from modelmath.widgets.plan import options

DEMOS = ["switcher-ho", "railcar-n", "gas-electric-o", "centre-cab-s", "railbus-ho"]
WITH_STEPS = ["switcher-ho", "gas-electric-o", "railbus-ho"]


@pytest.fixture(autouse=True)
def workbook(tmp_path, monkeypatch):
    """A workbook folder of its own for every test, so that nothing is written to the checkout."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def plain(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>|&nbsp;", " ", html)).split())


def job_of(name: str) -> Job:
    return load_job(places.job_files()[name])


def changed(job: Job, entry: str, **sizes: object) -> Job:
    return job.model_copy(update={entry: getattr(job, entry).model_copy(update=sizes)})


@pytest.fixture(scope="module")
def plans() -> dict[str, Plan]:
    return {name: plan(job_of(name)) for name in DEMOS}


@pytest.mark.parametrize("name", DEMOS)
def test_no_riser_is_lower_than_the_finest_mark(plans, name):
    found = plans[name]
    finest = found.marks.rule.mark_mm(found.marks.finest)
    for gain in stepped_floor(found).gains:
        assert all(riser.height_mm >= finest for riser in gain.chamber.risers)


@pytest.mark.parametrize("name", DEMOS)
def test_the_stepped_floor_never_takes_the_decoder_s_place(plans, name):
    found = plans[name]
    exact = found.chamber.cut_from or found.chamber
    pocket = exact.pocket
    rows = stepped_floor(found).gains
    chambers = [row.chamber for row in rows] + [stepped_pieces(found, row.chamber)[0].chamber for row in rows]
    for chamber in chambers:
        if pocket.where == "beside the chamber":
            assert pocket.end_mm <= chamber.start_mm or chamber.end_mm <= pocket.start_mm
        else:
            over = [f for f in chamber.floors if f.start_mm < pocket.end_mm and pocket.start_mm < f.end_mm]
            assert all(pocket.top_mm <= each.floor_mm for each in over)


def test_a_decoder_below_the_floor_would_be_in_the_way(plans):
    """Without it a step goes down where it lies: the check above is not met by chance."""
    from modelmath.enclosure.stepped import fit_stepped

    found = plans["railbus-ho"]
    pocket = found.chamber.cut_from.pocket
    assert pocket.where == "below its floor"
    without = fit_stepped(found.enclosure.cavity, found.limits, found.enclosure.speaker, 2)[-1]
    over = [f for f in without.floors if f.start_mm < pocket.end_mm and pocket.start_mm < f.end_mm]
    assert min(each.floor_mm for each in over) < pocket.top_mm


@pytest.mark.parametrize("name", DEMOS)
def test_the_flat_floor_is_the_one_that_was_fitted(plans, name):
    exact = plans[name].chamber.cut_from or plans[name].chamber
    assert stepped_floor(plans[name]).gains[0].volume_mm3 == exact.volume_mm3


@pytest.mark.parametrize("name", WITH_STEPS)
def test_every_piece_is_in_the_table_with_size_rule_place_and_stock(plans, name):
    found = plans[name]
    html = options.stepped(found)
    said = plain(html)
    assert "These pieces are not in the cut list: the floor of the plan is flat." in said
    rows = [row for row in stepped_floor(found).gains if row.steps]
    assert html.count("<svg") == html.count("<details>") == len(rows) > 0
    for row in rows:
        assert row.words in said
        chamber, lines = stepped_pieces(found, row.chamber)
        assert [line.part for line in lines] == list(chamber.parts)
        for line in lines:
            assert f"{line.part.count} x {line.part.name}" in said
            assert line.setting.text in said
            assert line.stock_text in said
        steps = [line for line in lines if line.part.name.startswith("riser") and line.part.kind == "wall"]
        assert len(steps) == row.steps
        for line in steps:
            assert f"{line.part.face} {format_length(abs(line.part.position_mm), 'mm')}" in said
            assert f"the rule set at {line.place.text} from there" in said


@pytest.mark.parametrize("name", WITH_STEPS)
def test_steps_lie_on_marks_of_the_rule(plans, name):
    for row in stepped_floor(plans[name]).gains:
        for line in stepped_pieces(plans[name], row.chamber)[1]:
            if line.part.kind == "wall":
                assert line.place.on_mark, line.part.name


def test_a_step_that_is_too_low_is_said_and_not_offered(plans):
    said = plain(options.stepped(plans["centre-cab-s"]))
    assert re.search(
        r"Left out: 1 step with a riser of 0\.01 mm would buy (only )?0\.01 cm3 more; no riser under", said
    )
    assert "No step that can be marked and cut buys anything here." in said
    assert "not in the cut list" not in said


@pytest.mark.parametrize(
    ("entry", "sizes", "text"),
    [
        ("speaker", {"faces": "up"}, "Steps are worked out for a speaker that faces down"),
        ("chamber", {"cut_round": True}, "Steps are not worked out where the floor is cut round"),
    ],
)
def test_why_no_steps_are_worked_out_is_said_without_an_error(entry, sizes, text):
    html = options.stepped(plan(changed(job_of("railbus-ho"), entry, **sizes)))
    assert plain(html).startswith(f"A floor with steps {text}")
    assert 'role="alert"' not in html


def test_with_the_decoder_inside_the_chamber_that_is_said(plans):
    found = plans["switcher-ho"]
    pocket = replace(found.chamber.pocket, where="inside it")
    job = found.job
    inside = SimpleNamespace(
        enclosure=found.enclosure, chamber=replace(found.chamber, pocket=pocket), limits=found.limits, job=job
    )
    inside.stepped = stepped_floor(inside)
    assert plain(options.stepped(inside)) == (
        "A floor with steps Steps are not worked out while the decoder lies inside the chamber: its place there would "
        "change with them."
    )


def test_nothing_is_shown_where_no_steps_are_asked_for():
    assert options.stepped(plan(changed(job_of("switcher-ho"), "chamber", steps=0))) == ""


def test_a_finer_mark_lets_a_lower_riser_in():
    """Half a millimetre of the job's rule: what a scale rule's coarse marks leave out may be cut."""
    found = plan(job_of("centre-cab-s"))
    finest = Fraction(found.marks.rule.mark_mm(found.marks.finest))
    (flat,) = stepped_floor(found).gains
    assert [each.least_mm for each in flat.chamber.left_out] == [finest]


def test_the_fold_shows_it():
    panel = EnclosurePanel.demo()
    panel.folds["else"].head.value = True
    assert "A floor with steps" in panel.within.stepped.value
    assert 'role="alert"' not in panel.within.stepped.value
