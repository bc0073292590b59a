"""The folds on the space inside: each shows what the plan says, and works nothing out while it is shut."""

from __future__ import annotations

import re
from html import unescape

import pytest

from modelmath.job import Plan, changes, load_job, plan, to_scale
from modelmath.job.document import Job
from modelmath.job.fields.inside import WeightEntry
from modelmath.job.fields.light import LightEntry
from modelmath.job.virtual_bench import build_many
from modelmath.widgets import EnclosurePanel
from modelmath.widgets.common import look, places
from modelmath.widgets.plan import holes, options, space, views, weight

DEMOS = ["switcher-ho", "railcar-n", "gas-electric-o", "centre-cab-s", "railbus-ho"]
# What a plan works out only for a fold, by the fold that asks for it.
LAZY = {
    "buy": ("sheet_layout",),
    "space": ("net_volume",),
    "inside": ("skyline", "along_gaps"),
    "else": ("trade",),
    "holes": ("hole_places",),
    "weight": ("balance",),
    "rule": ("anywhere", "choice"),
    "order": ("steps",),
    "why": ("explained",),
}


@pytest.fixture(autouse=True)
def workbook(tmp_path, monkeypatch):
    """A workbook folder of its own for every test, so that nothing is written to the checkout."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def plain(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>|&nbsp;", " ", html)).split())


def job_of(name: str) -> Job:
    return load_job(places.job_files()[name])


def changed(job: Job, entry: str, **sizes: str) -> Job:
    return job.model_copy(update={entry: getattr(job, entry).model_copy(update=sizes)})


@pytest.fixture(scope="module")
def plans() -> dict[str, Plan]:
    return {name: plan(job_of(name)) for name in DEMOS}


@pytest.fixture
def panel() -> EnclosurePanel:
    return EnclosurePanel.demo()


@pytest.mark.parametrize("fold", LAZY)
def test_a_fold_works_its_part_out_only_once_it_is_open(fold):
    # Without strands, which the side elevation leads through the walls' holes.
    panel = EnclosurePanel(job_of("switcher-ho").model_copy(update={"light": LightEntry()}))
    panel.fields["keep"].value = "3/8"
    kept = panel.plan.__dict__  # where a plan keeps what it has worked out
    assert [name for names in LAZY.values() for name in names if name in kept] == []
    panel.folds[fold].head.value = True
    assert [name for name in LAZY[fold] if name not in kept] == []


def test_an_open_fold_follows_an_edit_and_a_shut_one_does_not(monkeypatch):
    panel = EnclosurePanel(job_of("switcher-ho").model_copy(update={"light": LightEntry()}))
    asked = []
    monkeypatch.setattr(
        "modelmath.job.space.hole_places.hole_places", lambda plan: asked.append(plan.job.clearance.keep) or ()
    )
    head = panel.folds["holes"].head
    panel.fields["keep"].value = "3/8"
    assert asked == []
    head.value = True
    assert [each.split()[0] for each in asked] == ["3/8"]
    panel.fields["keep"].value = "1/2"
    assert [each.split()[0] for each in asked] == ["3/8", "1/2"]
    head.value = False
    panel.fields["keep"].value = "1/4"
    head.value = True
    head.value = False
    head.value = True  # opened again with nothing changed
    assert [each.split()[0] for each in asked] == ["3/8", "1/2", "1/4"]


@pytest.mark.parametrize("name", DEMOS)
def test_the_skyline_shows_every_stretch(plans, name):
    said = plain(space.skyline(plans[name]))
    for each in plans[name].skyline:
        assert f"{each.name}{', moving' if each.moving else ''} {float(each.start_mm):.2f} mm" in said
        assert f"{float(each.free.exact_mm):.2f} mm ±{each.free.u_mm:.2f}" in said
    assert "Each ± here is one standard uncertainty" in said


def test_the_room_along_the_length_is_the_plan_s(plans):
    (gap,) = plans["switcher-ho"].along_gaps
    assert gap.in_words in plain(space.along(plans["switcher-ho"]))
    assert space.along(plans["railcar-n"]) == ""


def test_the_space_is_drawn_from_all_sides(panel):
    panel.folds["inside"].head.value = True
    shown = panel.within.space
    for place in (shown.depths, shown.over, shown.bulkhead, shown.speaker, shown.above, shown.figure.still):
        assert place.value.count("<svg") == 1
        assert 'role="alert"' not in place.value
    assert shown.figure.turnable.scene
    assert shown.problem.value == ""


def test_the_way_out_for_the_sound_stands_in_the_answer(panel):
    found, said = panel.plan.sounding, plain(panel.answer.value)
    assert f"Way out for the sound {100 * found.share:.0f} % of the speaker's cone" in said
    assert found.in_words in said
    facing_up = plan(changed(panel.plan.job, "speaker", faces="up"))
    assert "Way out for the sound" not in views.answer(facing_up)


@pytest.mark.parametrize("name", DEMOS)
def test_the_runner_up_says_why_it_loses(plans, name):
    best, other = plans[name].chamber, plans[name].runner_up
    said = plain(options.runner_up(plans[name]))
    if other is None:
        assert said == "There is no runner-up: no other chamber holds the speaker."
        return
    if round(float(other.volume_mm3)) == round(float(best.volume_mm3)):
        assert "Another place holds as much: a chamber from" in said
        return
    loses = re.search(r"It loses by ([0-9.]+) cm3 \(([0-9.]+) %\)(.*)\.$", said)
    less = float(best.volume_mm3 - other.volume_mm3)
    assert float(loses[1]) == pytest.approx(less / 1000, abs=0.0051)
    share = 100 * less / float(best.volume_mm3)
    assert float(loses[2]) == pytest.approx(share, abs=0.51 if share >= 1 else 0.051)
    assert f"runner-up {float(other.volume_mm3) / 1000:.2f} cm3" in said
    assert best.governing.cause.words in said
    assert other.governing.cause.words in said
    shorter = float((best.inner_end_mm - best.inner_start_mm) - (other.inner_end_mm - other.inner_start_mm))
    if shorter >= 0.005:
        assert f"{shorter:.2f} mm shorter" in loses[3]


def test_the_bulkhead_elsewhere_is_drawn_and_said(plans):
    found = plans["switcher-ho"]
    said = options.trade(found)
    assert said.count("<svg") == 1
    assert found.trade.moved(2) in plain(said)
    assert "no chamber can be" not in said  # the best place of this one is the foremost
    assert f"The plan's own stands at {float(found.chamber.start_mm):.2f} mm" in plain(said)


def test_no_way_out_is_shown_where_all_fits(plans):
    assert options.ways_out(plans["switcher-ho"]) == ""


def test_what_would_make_it_fit_stands_beside_what_does_not():
    panel = EnclosurePanel.demo("railbus-ho")
    assert "would make it fit" not in panel.answer.value
    panel.fields["speaker_width"].value = "60 mm"
    said = plain(panel.answer.value)
    after = said[said.index(str(panel.plan.misfit)) :]
    assert (
        "Any one of these would make it fit, the least change first: Turn the box-type speaker by a quarter." in after
    )
    assert len(panel.plan.ways_out) == 3
    assert all(each.in_words in after for each in panel.plan.ways_out)


def test_where_no_single_change_makes_it_fit_that_is_said():
    small = changed(job_of("railcar-n"), "speaker", length="300 mm", width="200 mm", depth="90 mm")
    found = plan(small)
    assert found.ways_out == ()
    assert plain(options.ways_out(found)) == (
        "No single change that we know of makes it fit; try two of them together."
    )


def test_the_holes_are_said_wall_by_wall(plans):
    found = plans["gas-electric-o"]
    said = plain(holes.holes(found))
    for wall in found.hole_places:
        assert f"Holes in the {wall.wall}" in said
        assert all(sentence in said for sentence in wall.sentences)
    bare = plan(job_of("switcher-ho").model_copy(update={"lamps": [], "wires": [], "light": LightEntry()}))
    assert plain(holes.holes(bare)) == holes.NONE


def test_a_web_that_is_too_thin_is_named_as_a_problem(plans):
    job = job_of("switcher-ho")
    moved = plans["switcher-ho"].hole_places[0].layout.holes[0].name
    entry = {"name": moved, "right": "0 mm", "up": "0.5 mm"}
    found = plan(Job.model_validate({**job.model_dump(), "holes": [entry]}))
    thin = found.hole_places[0].layout.too_thin
    assert thin
    said = holes.holes(found)
    assert said.count('role="alert"') == len({f"{web.text} {web.remedy}" for web in thin})
    assert thin[0].text in plain(said)


def test_holes_that_find_no_room_say_why():
    wide = Job.model_validate({**job_of("railcar-n").model_dump(), "hole_layout": {"web": "9 mm"}})
    found = plan(wide)
    assert found.hole_places[0].layout is None
    said = holes.holes(found)
    assert 'role="alert"' in said
    assert found.hole_places[0].problem in plain(said)


def test_the_weight_is_shown_or_how_to_enter_it(plans):
    said = plain(weight.weight(plans["switcher-ho"]))
    assert said.startswith(" ".join(weight.HOW))
    assert "Caution: Lead is poisonous" in said
    entry = WeightEntry(front_truck="-30 mm", rear_truck="30 mm", front_grams=80, rear_grams=100)
    found = plan(job_of("switcher-ho").model_copy(update={"weight": entry}))
    said = plain(weight.weight(found))
    assert "front truck 80.0 g 80.0 g rear truck 100.0 g 100.0 g" in said
    assert all(sentence in said for sentence in found.balance.in_words)


def test_gross_and_net_volume_are_both_named(plans):
    for found in plans.values():
        said, net = plain(views.chamber(found)), found.net_volume
        assert re.search(rf"holds {float(net.gross_mm3) / 1000:.2f} (± [0-9.]+ )?cm3 gross", said)
        assert f"that is {'at least ' if net.at_least else ''}{float(net.net_mm3) / 1000:.2f} cm3." in said
        assert all(share.name in said for share in net.shares)


def test_the_virtual_bench_builds_at_the_press_of_its_button(panel):
    panel.folds["bench"].head.value = True
    bench = panel.within.bench
    assert bench.said.value == ""
    bench.button.click()
    found = build_many(panel.plan, 1000)
    assert plain(bench.said.value).startswith(found.in_words)
    panel.fields["keep"].value = "0 mm"
    assert bench.said.value == ""  # that was another plan
    bench.button.click()
    found = build_many(panel.plan, 1000)
    assert found.first
    assert all(f"{meeting.words} {count:,}" in plain(bench.said.value) for meeting, count in found.first[:5])


def test_the_virtual_bench_of_nothing_says_so():
    panel = EnclosurePanel()
    panel.folds["bench"].head.value = True
    panel.within.bench.button.click()
    assert "There is nothing to build yet" in plain(panel.within.bench.said.value)


def test_another_scale_is_compared_and_opened_as_a_new_model(panel):
    panel.folds["scale"].head.value = True
    other, before = panel.within.other_scale, panel.plan
    assert other.button.disabled
    other.scale.value = "O"
    there = to_scale(before.job, "O")
    said = plain(other.said.value)
    for each in changes(before, plan(there)):
        if each.differs and each.name != "the job, name":
            assert f"{each.name} {each.before} {each.after} {each.follows}" in said
    assert not other.button.disabled
    other.button.click()
    opened, wanted = panel.plan.job.model_dump(), there.model_dump()
    for reading in opened["readings"]:  # a field of the screen spells out the unit
        reading["mark"] = reading["mark"].removesuffix(" mm")
    assert opened == {**wanted, "name": f"{there.name} in O"}
    assert panel.fields["scale"].value == "O"
    assert panel.chooser.value == "(new model)"
    assert panel.file is None
    assert "Nothing is measured on the new model yet" in plain(panel.about.value)
    assert panel.save().name != places.job_files()["switcher-ho"].name
    panel.chooser.value = "switcher-ho"
    assert panel.about.value == ""


def test_a_scale_that_can_t_be_solved_says_why_and_the_own_one_too(panel):
    panel.folds["scale"].head.value = True
    panel.within.other_scale.scale.value = "HO"
    assert plain(panel.within.other_scale.said.value) == "It is in that scale already."
    assert panel.within.other_scale.button.disabled
    panel.within.other_scale.scale.value = "Z"
    assert "Traceback" not in panel.within.other_scale.said.value
    assert plain(panel.within.other_scale.said.value)


def test_names_in_the_space_are_shown_as_text_never_as_markup():
    job = job_of("switcher-ho")
    zones = [job.zones[0].model_copy(update={"name": "<b>front</b>"}), *job.zones[1:]]
    found = plan(job.model_copy(update={"zones": zones}))
    shown = (space.skyline(found), space.along(found), options.runner_up(found), options.trade(found))
    assert all("<b>" not in each for each in shown)
    assert any("&lt;b&gt;" in each for each in shown)


def test_the_view_at_rest_is_folded_and_says_what_it_is_for(panel):
    panel.folds["inside"].head.value = True
    still = panel.within.space.figure.still.value
    assert still.startswith(f"<details><summary>{space.STILL}</summary>")
    assert still.endswith("</details>")
    assert "for printing" in space.STILL


def test_a_table_of_many_columns_stands_as_cards_on_a_phone(plans):
    found = plans["switcher-ho"]
    for shown in (space.skyline(found), views.cut_list(found), views.readings(found)):
        (css,) = re.findall(r'class="mm-table ([^"]*)"', shown)
        assert "mm-cards" in css.split()
        heads = re.findall(r'<th scope="col">([^<]*)</th>', shown)
        labelled = [head for head in heads[1:] if head not in ("Scale feet", "Inch", "mm")]  # a cell has its own unit
        assert re.findall(r'data-label="([^"]*):"', shown)[: len(labelled)] == labelled
    few = look.table("Few", ("What", "Size", "Why"), [("roof", "3 mm", "read")], "mm-short")
    assert "mm-cards" not in few
    assert "data-label" not in few
