"""The walkthrough, driven as the browser drives it: by setting the values of its fields."""

from __future__ import annotations

import re
from html import unescape

import pytest

from modelmath.job import load_job, save_job, to_scale
from modelmath.materials.drawer.store import save_drawer
from modelmath.materials.drawer.tables import read_drawer
from modelmath.widgets import EnclosurePanel
from modelmath.widgets.common import places

# A space of 5 1/2 scale ft with 1/4 kept; the six entries of a new user.
SIX = {"scale": "HO", "zero_offset": "1", "chassis": "3 1/4", "shell": "8 3/4", "keep": "1/4", "finest": "1/4"}


@pytest.fixture(autouse=True)
def workbook(tmp_path, monkeypatch):
    """A workbook folder of its own for every test, so that nothing is written to the checkout."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def plain(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>|&nbsp;", " ", html)).split())


def fill(panel: EnclosurePanel, **entries: str) -> EnclosurePanel:
    for name, text in entries.items():
        panel.fields[name].value = text
    return panel


def opened(panel: EnclosurePanel, *names: str) -> EnclosurePanel:
    for name in names or panel.folds:
        panel.folds[name].head.value = True
    return panel


@pytest.fixture
def new() -> EnclosurePanel:
    return EnclosurePanel()


def test_a_new_model_asks_for_what_is_missing(new):
    assert plain(new.answer.value) == (
        "Still to enter: how far the rule's zero stands in from its end the reading on the chassis "
        "the reading in the shell the clearance to keep the finest mark to cut to"
    )
    assert new.summary == "Nothing is worked out yet."


def test_six_entries_give_the_bulkhead(new):
    fill(new, **SIX)
    said = plain(new.answer.value)
    # 5 1/2 less 1/4 is 5 1/4 scale ft = 18.375 mm = 0.723 in; the rule's zero stands in 1 ft, so the mark is 4 1/4.
    assert said.startswith("Bulkhead height 5 1/4 scale ft 0.723 in 18.38 mm Set the rule at 4 1/4 scale ft ,")
    assert "Room left below it 0.88 mm over motor: 0.88 mm of clearance" in said
    assert "The zero offset of the rule cancels in the space between" in said
    assert "<svg" in new.figure.value


def test_entries_are_echoed_in_mm_beside_their_fields(new):
    fill(new, **SIX)
    chassis, zero = plain(new.fields["chassis"].message), plain(new.fields["zero_offset"].message)
    assert chassis.startswith("14.88 mm above the seat: 11.38 mm and 3.50 mm for the rule's zero")
    assert zero.startswith("3.50 mm from the rule's end to its zero")


def test_the_flange_gives_the_supports(new):
    fill(new, **SIX, flange="1.05 mm")
    # 18.375 - 1.05 = 17.325 mm, down to 4 3/4 scale ft = 16.625 mm: four of one height, set at 3 3/4.
    assert "Speaker supports, four of one height 4 3/4 scale ft 0.655 in 16.63 mm Set the rule at 3 3/4" in plain(
        new.answer.value
    )
    assert "speaker support 4 3 3/4 scale ft" in plain(new.parts.value)


@pytest.mark.parametrize(
    ("field", "typed", "says"),
    [
        ("chassis", "3 1//4", "two fraction strokes"),
        ("shell", "nan", "not a number"),
        ("keep", "-1", "0 or more"),
        ("finest", "0", "above 0"),
        ("zero_offset", "one", "is no number or unit"),
        ("flange", "1,200 mm", "thousands mark"),
    ],
)
def test_a_bad_entry_gets_its_message_and_the_last_good_result_stays(new, field, typed, says):
    fill(new, **SIX)
    before = new.plan
    fill(new, **{field: typed})
    assert says in plain(new.fields[field].message)
    assert 'role="alert"' in new.fields[field].message
    assert new.plan is before
    assert "5 1/4 scale ft" in plain(new.answer.value)
    assert "These sizes are for the last entries that gave a result." in plain(new.answer.value)
    fill(new, **{field: SIX.get(field, "")})
    assert "role" not in new.fields[field].message or "alert" not in new.fields[field].message
    assert "last entries" not in new.answer.value


def test_a_shell_lower_than_the_chassis_is_said_and_nothing_is_lost(new):
    fill(new, **SIX)
    fill(new, shell="3")
    assert plain(new.fields["shell"].message).startswith(
        "The reading in the shell has to be more than the one on the chassis: the free depth is -0.88 mm."
    )
    assert "5 1/4 scale ft" in plain(new.answer.value)


def test_a_clearance_that_leaves_nothing_says_by_how_much(new):
    fill(new, **SIX)
    fill(new, keep="5 1/2")
    assert "The bulkhead does not fit" in plain(new.answer.value)


def test_a_reading_beyond_the_rule_is_refused(new):
    fill(new, **SIX)
    fill(new, shell="99999")
    assert "whose last mark is 60 scale ft" in plain(new.fields["shell"].message)
    fill(new, rule_length="200000", shell="99")
    assert "95 1/2 scale ft" in plain(new.answer.value)


def test_a_new_rule_s_last_mark_follows_its_unit_until_it_is_set(new):
    new.fields["rule_unit"].value = "mm"
    assert new.fields["rule_length"].value == "300"
    new.fields["rule_length"].value = "150"
    new.fields["rule_unit"].value = "in"
    assert new.fields["rule_length"].value == "150"


def test_a_new_rule_is_read_as_finely_as_it_is_set_unless_said_otherwise(new):
    fill(new, **{**SIX, "finest": "1/8"})
    assert new.plan.job.rules[0].graduation == "1/8"
    fill(new, graduation="1/2")
    assert new.plan.job.rules[0].graduation == "1/2"


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("3/32 in", "write 3/32 scale in, 3/32 real in, or a bare number"),
        (".040 in", "write .040 scale in, .040 real in, or a bare number"),
        ("1 ft", "write 1 scale ft, 1 real ft, or a bare number"),
    ],
)
def test_an_inch_on_a_scale_rule_asks_which_inch(new, typed, says):
    fill(new, **{**SIX, "zero_offset": typed})
    assert says in plain(new.fields["zero_offset"].message)


def test_feet_and_inches_are_a_mark_of_a_scale_rule(new):
    fill(new, **{**SIX, "shell": "8' 9\""})
    assert "5 1/4 scale ft" in plain(new.answer.value)


def test_a_fraction_where_mm_are_due_asks_for_its_unit(new):
    fill(new, **SIX, flange="1/16")
    assert "write 1/16 in, or the size in mm" in plain(new.fields["flange"].message)


def test_nothing_of_one_job_is_shown_under_another(new):
    panel = opened(EnclosurePanel.demo())
    panel.chooser.value = "(new model)"
    assert panel.plan is None
    build = panel.within.building
    assert build.listed.children == ()
    shown = (
        panel.figure,
        panel.parts,
        panel.within.buy,
        panel.within.chamber,
        panel.within.strips,
        panel.within.readings,
        panel.within.why.why,
        build.summary,
    )
    inside = (
        panel.within.runner_up,
        panel.within.trade,
        panel.within.holes,
        panel.within.weight,
        panel.within.space.depths,
        panel.within.space.figure.still,
    )
    assert [each.value for each in (*shown, *inside)] == [""] * 14
    assert "Still to enter" in panel.answer.value


def test_a_zone_read_by_its_gap_alone_needs_no_heights():
    panel = EnclosurePanel.demo()
    fields = panel.within.zones.rows[1]
    fields["gap"].value = "11.8 mm"
    panel.within.zones.take_over()
    panel.fields["chassis"].value = ""
    assert "10.94 mm" in plain(panel.answer.value)
    assert "Still to enter" not in panel.answer.value


def test_a_job_never_lands_on_another_of_the_same_name(new, workbook):
    fill(new, **SIX)
    new.name.value = "Twins"
    first = new.save()
    other = EnclosurePanel()
    fill(other, **{**SIX, "shell": "9"})
    other.name.value = "Twins"
    before = first.read_bytes()
    assert other.save() is None
    assert "twins.toml is there already, saved by another page or earlier" in plain(other.printing.said.value)
    assert first.read_bytes() == before
    assert new.chooser.value == "twins"
    new.fields["shell"].value = "9 1/4"
    assert new.save() == first


def test_real_inches_are_meant_in_the_clearance(new):
    fill(new, **SIX)
    fill(new, keep=".020 in")
    assert plain(new.fields["keep"].message).startswith("0.51 mm kept")


def test_space_and_speaker_give_the_chamber(new):
    fill(new, **SIX, flange="1.2 mm", width="18.5", inside_length="62 mm")
    fill(opened(new, "space"), speaker_length="22 mm", speaker_width="16 mm", speaker_depth="8 mm")
    # One zone, closed at its nose, open at the rear: 18.5 x 18.375 x (62 - 1.016 of the wall - what goes to a mark).
    volume = float(re.search(r"holds ([0-9.]+) ± [0-9.]+ cm3", plain(new.within.chamber.value))[1])
    assert 18.5 * 18.375 * (62 - 1.016 - 0.875) / 1000 <= volume <= 18.5 * 18.375 * (62 - 1.016) / 1000
    assert "side filler" in new.parts.value
    assert "bulkhead" in new.parts.value


def test_saved_jobs_come_back_the_same(new, workbook):
    fill(new, **SIX, flange="1.2 mm")
    new.name.value = "Shunter No. 2"
    file = new.save()
    assert file == workbook / "jobs" / "shunter-no-2.toml"
    assert load_job(file) == new.plan.job
    again = EnclosurePanel(load_job(file))
    assert plain(again.answer.value) == plain(new.answer.value)


def test_print_writes_the_packet_and_links_it(new, workbook):
    fill(new, **SIX)
    files = new.print()
    assert [file.suffix for file in files] == [".pdf", ".pdf"]
    assert all(file.read_bytes().startswith(b"%PDF") and file.parent == workbook / "packets" for file in files)
    assert f'href="/files/packets/{files[0].name}"' in new.printing.said.value


def test_nothing_is_saved_or_printed_before_there_is_a_result(new, workbook):
    assert new.save() is None
    assert new.print() == []
    assert "There is nothing to print yet" in new.printing.said.value
    assert list(workbook.iterdir()) == []


@pytest.mark.parametrize("demo", ["switcher-ho", "railcar-n", "gas-electric-o", "centre-cab-s", "railbus-ho"])
def test_every_demo_job_opens_with_all_its_parts(demo):
    panel = opened(EnclosurePanel.demo(demo))
    shown = (
        panel.answer,
        panel.parts,
        panel.within.chamber,
        panel.within.sureness,
        panel.within.strips,
        panel.within.readings,
        panel.within.building.summary,
    )
    inside = (
        panel.within.buy,
        panel.within.runner_up,
        panel.within.trade,
        panel.within.holes,
        panel.within.weight,
        panel.within.space.depths,
        panel.within.space.above,
    )
    assert all(each.value and "mm-bad" not in each.value for each in (*shown, *inside))
    assert "cm3" in panel.summary
    assert panel.chooser.value == demo


def test_another_job_can_be_chosen(new):
    new.chooser.value = "railcar-n"
    assert new.fields["scale"].value == "N"
    assert "Tarn Valley railcar" in new.name.value
    new.chooser.value = "(new model)"
    assert new.fields["chassis"].value == ""


def test_the_first_screen_shows_the_zone_that_governs_and_can_show_another():
    panel = EnclosurePanel.demo()
    assert panel.within.which.value == "motor clip"
    assert panel.fields["chassis"].value == "5 1/8"
    panel.within.which.value = "gear tower"
    assert panel.fields["chassis"].value == "6"
    panel.fields["chassis"].value = "6 1/8"
    assert next(r.mark for r in panel.plan.job.readings if r.name == "top of the gear tower") == "6 1/8"


def test_zones_are_edited_as_rows():
    panel = EnclosurePanel.demo()
    editor = panel.within.zones
    editor.rows[1]["chassis"].value = "5 3/8"
    editor.take_over()
    assert "3 zones in use" in editor.note.value
    zone = panel.plan.job.zones[1]
    assert next(r.mark for r in panel.plan.job.readings if r.name == zone.chassis_top) == "5 3/8"
    assert float(panel.plan.depths[1].free.exact_mm) == pytest.approx((8 + 5 / 8 - 5 - 3 / 8) * 3.5)
    editor.rows[0]["ends_at"].value = "x"
    editor.take_over()
    assert 'role="alert"' in editor.note.value


def test_a_gap_read_in_the_assembled_model_takes_the_place_of_the_difference():
    panel = EnclosurePanel.demo()
    panel.within.zones.rows[1]["gap"].value = "11.8 mm"
    panel.within.zones.take_over()
    assert float(panel.plan.depths[1].free.exact_mm) == pytest.approx(11.8)
    # 11.8 less 0.7 kept is 11.1: down to the eighth, 10.94 mm.
    assert "3 1/8 scale ft 0.431 in 10.94 mm" in plain(panel.answer.value)
    panel.within.zones.rows[1]["gap"].value = ""
    panel.within.zones.take_over()
    assert "11.38 mm" in plain(panel.answer.value)


def test_names_are_shown_as_text_never_as_markup(new):
    new.name.value = "<script>alert(1)</script>"
    fill(new, **SIX)
    opened(new, "order")
    shown = (
        new.answer,
        new.figure,
        new.parts,
        new.within.building.summary,
        *(each.text for each in new.within.building.boxes.values()),
    )
    assert all("<script>" not in each.value for each in shown)


def test_why_answers_for_every_figure_of_every_subject(new):
    fill(opened(new, "why"), **SIX, flange="1.2 mm")
    answered = 0
    for subject in new.within.why.subject.control.options:
        new.within.why.subject.value = subject
        for name in new.within.why.figure.control.options:
            new.within.why.figure.value = name
            assert plain(new.within.why.why.value).startswith(name if name != "-" else "")
            answered += name != "-"
    assert answered > len(new.plan.figures) - 1  # those that take a search are there too


def test_a_job_without_stock_is_cut_from_the_workbook_s_own_drawer(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "jobs").mkdir()
    found = load_job(places.job_files()["switcher-ho"]).model_copy(update={"drawer": []})
    save_job(found, tmp_path / "jobs" / "bare.toml")
    assert places.own_drawer() is None  # the demo drawer is nobody's
    text = "kind;name;length;width\nstrip;.100 sq;14 in;\nstrip;1.5 x 2 mm;330 mm;\nsheet;.040 sheet;6 in;6 in"
    save_drawer(tmp_path / "drawer.json", read_drawer(text)[0], "", "my own")
    panel = EnclosurePanel()
    panel.chooser.value = "bare"
    assert panel.plan.to_buy == ()
    assert {strip.kind for strip in panel.plan.cuts.strips} == {"on hand"}


def test_an_obstacle_entered_in_its_form_stands_in_the_plan():
    panel = EnclosurePanel.demo("switcher-ho")
    form = panel.within.editors.obstacles
    typed = {"name": "lamp bracket", "start": "30 mm", "end": "34 mm", "width": "4 mm", "top": "20 mm"}
    for name, text in typed.items():
        form.fields[name].value = text
    form.add()
    assert [each.name for each in panel.plan.job.obstacles] == ["lamp bracket"]
    assert [each.entry.name for each in panel.plan.bench.moving] == ["lamp bracket"]
    form.drop()
    assert panel.plan.job.obstacles == []


def test_a_speaker_turned_in_its_form_lies_across_in_the_plan():
    panel = EnclosurePanel.demo("gas-electric-o")
    before = panel.plan.bench.speaker
    panel.within.editors.speaker.fields["turned"].value = "across the shell"
    after = panel.plan.bench.speaker
    assert (after.length_mm, after.width_mm) == (before.width_mm, before.length_mm)
    assert panel.plan.job.speaker.turned


def test_a_model_from_another_scale_echoes_its_readings_by_their_own_rule():
    """The OO rule stays, its feet of 4 mm; the readings are in mm: 27.00 x 76.2 / 160 = 12.86."""
    panel = EnclosurePanel(to_scale(load_job(places.job_files()["railmotor-oo"]), "N"))
    for name, echo in {
        "shell": "12.86 mm above the seat; read in mm, rule: taken over",
        "zero_offset": "2.00 mm from the rule's end to its zero",
        "finest": "parts are cut to every 0.50 mm",
    }.items():
        assert plain(panel.fields[name].message).startswith(echo)
