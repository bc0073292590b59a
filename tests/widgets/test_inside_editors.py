"""The editors for the inside of the shell, driven in Python: fields set, buttons pressed. All numbers invented."""

from __future__ import annotations

import re
from html import unescape

import pytest
from ipywidgets import ToggleButton
from sample_jobs import job, with_chamber

from modelmath.job.document import Job
from modelmath.job.entries.screen import entries_of
from modelmath.widgets import EnclosurePanel
from modelmath.widgets.inside import (
    BuildEditor,
    ChamberEditor,
    DecoderEditor,
    HolesEditor,
    LampsEditor,
    ObstaclesEditor,
    SectionsEditor,
    SpeakerEditor,
    StockEditor,
    WeightEditor,
    WiresEditor,
)
from modelmath.widgets.inside.choices import ChoicesEditor
from modelmath.widgets.inside.lit import CircuitsEditor, FeedEditor, LeadsEditor, StrandsEditor
from modelmath.widgets.inside.sound import ParametersEditor, RatedEditor

EDITORS = (
    ObstaclesEditor, SectionsEditor, SpeakerEditor, DecoderEditor, ChamberEditor, LampsEditor, WiresEditor,
    HolesEditor, WeightEditor, BuildEditor, StockEditor, RatedEditor, ParametersEditor, ChoicesEditor,
    FeedEditor, CircuitsEditor, StrandsEditor, LeadsEditor,
)  # fmt: skip
POST = {"name": "post", "kind": "screw post", "start": "20 mm", "end": "26 mm", "reach": "up to the roof"}
SIZES = ("flange", "speaker_length", "speaker_width", "speaker_depth")
NO_UNIT = "it has no unit; write a number with a unit, such as 15.9 mm, .040 in or 3 3/4 scale ft."


def full(**fields) -> Job:
    wires = [{"name": "horn", "diameter": "0.6 mm", "count": 2}]
    decoder = {"length": "20 mm", "width": "9 mm", "height": "3 mm"}
    return with_chamber(**{"wires": wires, "decoder": decoder, **fields})


class Page:
    """An editor on a page that shows it each new job, as the walkthrough does."""

    def __init__(self, kind, first: Job) -> None:
        self.jobs: list[Job] = []
        self.editor = kind(self._changed)
        self.editor.show(first)

    def _changed(self, new: Job) -> None:
        self.jobs.append(new)
        self.editor.show(new)

    def type(self, **texts: str) -> None:
        for name, text in texts.items():
            self.editor.fields[name].value = text

    def said(self, name: str) -> str:
        """What stands below a field, without its hint."""
        field = self.editor.fields[name]
        return plain(field.message).removesuffix(field.hint).strip()

    @property
    def choices(self) -> list[str]:
        return [label for label, _ in self.editor.which.control.options]


def plain(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


@pytest.mark.parametrize("kind", EDITORS)
@pytest.mark.parametrize("first", [job(), full()], ids=["smallest", "full"])
def test_showing_a_job_changes_nothing_and_says_nothing_is_wrong(kind, first):
    page = Page(kind, first)
    page.editor.show(first)
    assert page.jobs == []
    assert 'role="alert"' not in page.editor.note.value + "".join(f.message for f in page.editor.fields.values())


@pytest.mark.parametrize("kind", EDITORS)
def test_every_field_has_a_label_and_text_fields_a_hint(kind):
    page = Page(kind, full())
    for field in page.editor.fields.values():
        assert field.label
        assert field.hint or hasattr(field.control, "options")
    rows = page.editor.box.children[0]
    assert "mm-row" in rows._dom_classes  # fields beside each other, below each other on a phone


@pytest.mark.parametrize("kind", EDITORS)
def test_before_there_is_a_job_it_is_said_what_to_do(kind):
    editor = kind(lambda _job: pytest.fail("nothing can have changed"))
    name, field = next((n, f) for n, f in editor.fields.items() if not hasattr(f.control, "options"))
    editor.fields[name].value = "7 mm"
    if not hasattr(editor, "add"):
        assert plain(editor.note.value) == "Fill in the first screen; then this can be entered."
    else:
        editor.add()
        editor.drop()
        assert plain(editor.note.value) == "Fill in the first screen; then this can be entered."
    assert field.value == "7 mm"


FORMS = [
    (SpeakerEditor, "terminals", "1 mm", "1", f"'1': {NO_UNIT}", "1.00 mm = 0.039 in"),
    (DecoderEditor, "air", "2 mm", "2", f"'2': {NO_UNIT}", "2.00 mm = 0.079 in"),
    (ChamberEditor, "end_play", "0.4 mm", "0.4", f"'0.4': {NO_UNIT}", "0.40 mm = 0.016 in"),
    (HolesEditor, "moved", "horn 1: 2 mm left, 5 mm up", "horn 1: 2 left, 5 mm up", f"'2': {NO_UNIT}",
     "1 moved by hand"),
    (BuildEditor, "wall", "1 mm", "1", f"'1': {NO_UNIT}", "1.00 mm = 0.039 in"),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "field", "right", "wrong", "message", "echo"), FORMS)
def test_a_wrong_text_is_told_beside_its_field_and_the_right_one_taken(kind, field, right, wrong, message, echo):
    page = Page(kind, full())
    page.type(**{field: wrong})
    assert (page.jobs, page.said(field)) == ([], message)
    page.editor.show(full(notes="written meanwhile"))  # what is being typed stays, with its message
    assert (page.editor.fields[field].value, page.said(field)) == (wrong, message)
    page.type(**{field: right})
    assert len(page.jobs) == 1
    assert page.jobs[0].notes == "written meanwhile"
    assert (page.editor.fields[field].value, page.said(field)) == (right, echo)
    page.type(**{field: ""})
    assert page.jobs[-1] == full(notes="written meanwhile")


def test_a_size_typed_as_it_usually_is_stays_as_typed():
    page = Page(DecoderEditor, full())
    page.type(air="1 mm")
    assert page.jobs == []
    page.type(turns="no")
    assert (page.editor.fields["air"].value, page.jobs[0].decoder.turns) == ("1 mm", False)


def test_nothing_is_taken_over_while_another_field_is_wrong():
    page = Page(ChamberEditor, full())
    page.type(wire_path="2")
    page.type(cut_round="yes")
    assert page.jobs == []
    page.type(wire_path="2 mm")
    assert (page.jobs[0].chamber.cut_round, page.jobs[0].chamber.wire_path) == (True, "2 mm")


def test_a_weight_waits_until_it_is_whole():
    page = Page(WeightEditor, full())
    page.type(front_truck="0 mm", rear_truck="60 mm", front_grams="120 g")
    assert (page.jobs, plain(page.editor.note.value)) == ([], "Still to enter: The rear end weighs")
    page.type(rear_grams="110")
    assert page.said("rear_grams") == "'110': it has no unit; write a mass with its unit, such as 120 g."
    page.type(rear_grams="110 g")
    assert page.jobs[-1].weight.rear_grams == 110
    page.type(changes="speaker: 12 g at 30 mm\nframe: 300 mm3 of zinc alloy off at 20 mm")
    assert [each.name for each in page.jobs[-1].weight.changes] == ["speaker", "frame"]
    page.editor.show(full())
    assert page.editor.fields["changes"].value == page.editor.fields["front_grams"].value == ""


def test_what_belongs_to_no_field_stands_below_them():
    page = Page(SpeakerEditor, job())
    page.type(faces="up")
    assert plain(page.editor.note.value) == "Enter the speaker's sizes first; then say here how it sits."
    page.type(faces="down")
    assert (page.editor.note.value, page.jobs) == ("", [])


def test_obstacles_are_added_chosen_changed_and_taken_out():
    page = Page(ObstaclesEditor, full())
    assert page.choices == ["a new one"]
    page.type(**POST)
    assert page.jobs == []  # a new one waits for its button
    page.editor.add_button.click()
    assert [each.name for each in page.jobs[-1].obstacles] == ["post"]
    assert (page.choices, page.editor.place) == (["1. post", "a new one"], 0)
    page.editor.which.value = "new"
    assert page.editor.fields["name"].value == ""
    page.type(name="clip", start="40 mm", end="45 mm", top="24 mm", width="8 mm")
    page.editor.add_button.click()
    assert page.choices == ["1. post", "2. clip", "a new one"]
    page.editor.which.value = "0"
    assert (page.editor.fields["name"].value, page.editor.fields["end"].value) == ("post", "26 mm")
    page.type(end="27 mm")
    assert [each.mark for each in page.jobs[-1].readings if each.name == "post, end"] == ["27 mm"]
    page.type(name="rear post")
    assert (page.choices[0], page.editor.place) == ("1. rear post", 0)
    page.editor.drop_button.click()
    assert [each.name for each in page.jobs[-1].obstacles] == ["clip"]
    assert page.editor.fields["name"].value == "clip"
    page.editor.drop_button.click()
    assert page.jobs[-1].obstacles == []
    assert [each.name for each in page.jobs[-1].readings] == [each.name for each in full().readings]
    assert (page.choices, page.editor.fields["name"].value) == (["a new one"], "")


def test_a_new_obstacle_says_what_it_lacks_and_what_is_wrong():
    page = Page(ObstaclesEditor, full())
    page.type(name="clip", start="40")
    assert page.said("start") == f"'40': {NO_UNIT}"
    assert plain(page.editor.note.value) == "Still to enter: Ends at, Height of its top"
    page.editor.add_button.click()
    assert plain(page.editor.note.value) == "Still to enter: Ends at, Height of its top."
    assert 'role="alert"' in page.editor.note.value
    page.type(start="40 mm", end="30 mm", top="24 mm")
    page.editor.add_button.click()
    assert page.said("end").startswith("the obstacle is -10.00 mm long; it must be longer than 0.")
    page.type(end="45 mm")
    page.editor.add_button.click()
    assert [each.name for each in page.jobs[-1].obstacles] == ["clip"]
    assert len(page.jobs) == 1


def test_a_new_obstacle_half_typed_stays_while_the_job_changes():
    page = Page(ObstaclesEditor, full())
    page.type(**POST)
    page.editor.show(full(notes="another"))
    assert page.editor.fields["name"].value == "post"
    page.editor.add_button.click()
    assert page.jobs[-1].notes == "another"
    again = page.jobs[-1].model_copy(update={"notes": "third"})
    page.editor.show(again)
    assert (page.editor.place, page.editor.fields["name"].value) == (0, "post")
    page.editor.show(full())  # the obstacle is gone
    assert (page.editor.place, page.editor.fields["name"].value) == (None, "")


def test_an_obstacle_is_followed_to_its_new_place_in_the_list():
    page = Page(ObstaclesEditor, full())
    page.type(**POST)
    page.editor.add_button.click()
    page.editor.which.value = "new"
    page.type(**{**POST, "name": "rear post", "start": "50 mm", "end": "56 mm"})
    page.editor.add_button.click()
    turned = page.jobs[-1].model_copy(update={"obstacles": page.jobs[-1].obstacles[::-1]})
    page.editor.show(turned)
    assert (page.editor.place, page.editor.fields["name"].value) == (0, "rear post")


def test_sections_are_added_given_to_zones_and_taken_out():
    page = Page(SectionsEditor, full())
    assert page.editor.fields["zone 0"].label == "The roof over motor is so"
    page.type(name="arch", points="0: 4 mm; 3 mm: 9 mm")
    assert page.said("points") == f"'0': {NO_UNIT}"
    page.type(points="0 mm: 4 mm; 3 mm: 9 mm")
    page.editor.fields["zone 0"].value = "yes"
    page.editor.add_button.click()
    assert (page.jobs[-1].zones[0].profile, page.jobs[-1].profiles[0].name) == ("arch", "arch")
    page.type(name="round")
    assert page.jobs[-1].zones[0].profile == "round"
    page.editor.fields["zone 0"].value = "no"
    assert page.jobs[-1].zones[0].profile is None
    page.editor.drop_button.click()
    assert page.jobs[-1] == full()


def test_other_zones_leave_what_is_being_typed():
    page = Page(SectionsEditor, full())
    page.type(name="arch", points="0 mm: 4 mm")
    renamed = [{**full().zones[0].model_dump(), "name": "engine"}]
    page.editor.show(full(zones=renamed))
    assert page.editor.fields["zone 0"].label == "The roof over engine is so"
    assert (page.editor.fields["name"].value, page.editor.fields["points"].value) == ("arch", "0 mm: 4 mm")
    assert page.said("points").startswith("the number of points is 1; it must be 2 to 60.")
    profiles = [{"name": "flat", "points": [{"down": "0 mm", "width": "1 mm"}, {"down": "2 mm", "width": "3 mm"}]}]
    other = Page(SectionsEditor, full(profiles=profiles))
    other.editor.show(full(zones=renamed))
    assert (other.editor.place, other.editor.fields["name"].value) == (None, "")


ADDED = [
    (LampsEditor, "lamps", {"name": "headlight", "room": "6 mm", "strand": "0.5 mm", "strands": "2"},
     "room", "6", "Room it takes there"),
    (WiresEditor, "wires", {"name": "bell", "diameter": "0.8 mm", "count": "3"}, "diameter", "0.8", "Thickness of one"),
    (StockEditor, "drawer", {"size": "HO 6x10", "length": "14 in"}, "length", "14", "Its length"),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "table", "typed", "field", "bare", "label"), ADDED)
def test_lamps_wires_and_stock_are_added_changed_taken_out_and_put_back(kind, table, typed, field, bare, label):
    first = full(**{table: []})
    page = Page(kind, first)
    page.type(**{**typed, field: bare})
    assert page.said(field) == f"'{bare}': {NO_UNIT}"
    page.type(**{field: ""})
    page.editor.add_button.click()
    assert plain(page.editor.note.value) == f"Still to enter: {label}."
    page.type(**typed)
    assert page.jobs == []  # a new one waits for its button
    page.editor.add_button.click()
    added = page.jobs[-1]
    assert (len(getattr(added, table)), page.editor.place) == (1, 0)
    page.editor.which.value = "new"
    assert page.editor.buttons.children == (page.editor.add_button,)
    page.editor.which.value = "0"
    page.editor.drop_button.click()
    assert page.jobs[-1] == first
    assert page.editor.buttons.children == (page.editor.add_button, page.editor.back_button)
    page.editor.back_button.click()
    assert page.jobs[-1] == added
    assert page.editor.buttons.children == (page.editor.drop_button,)
    assert page.editor.fields[field].value == typed[field]


def test_an_entry_is_put_back_where_it_was_with_the_holes_moved_by_hand():
    wires = [{"name": name, "diameter": "0.6 mm", "count": 2} for name in ("drive", "horn", "bell")]
    old = full(wires=wires, holes=[{"name": "horn 2", "right": "1 mm", "up": "5 mm"}])
    page = Page(WiresEditor, old)
    page.editor.which.value = "1"
    page.editor.drop_button.click()
    assert ([each.name for each in page.jobs[-1].wires], page.jobs[-1].holes) == (["drive", "bell"], [])
    assert plain(page.editor.note.value) == "Taken out: horn, with 1 hole moved by hand"
    page.editor.back_button.click()
    assert page.jobs[-1] == old
    assert (page.editor.place, page.editor.fields["name"].value) == (1, "horn")


def test_nothing_is_put_back_once_something_else_has_changed():
    page = Page(WiresEditor, full())
    page.editor.drop_button.click()
    page.editor.show(page.jobs[-1].model_copy(update={"notes": "written meanwhile"}))
    assert page.editor.buttons.children == (page.editor.add_button,)
    assert page.editor.note.value == ""
    page.editor.put_back()
    assert len(page.jobs) == 1
    page.type(name="bell", diameter="1 mm")
    page.editor.add_button.click()
    page.editor.drop_button.click()
    assert page.editor.buttons.children == (page.editor.add_button, page.editor.back_button)
    page.type(name="whistle", diameter="1 mm")
    page.editor.add_button.click()
    assert page.editor.buttons.children == (page.editor.drop_button,)


def below(widget) -> list:
    """All widgets inside one, the folds in it opened."""
    for child in getattr(widget, "children", ()):
        if isinstance(child, ToggleButton):
            child.value = True
    return [widget, *(each for child in getattr(widget, "children", ()) for each in below(child))]


def test_every_text_of_an_editor_has_its_field_on_the_page(tmp_path, monkeypatch):
    """No text without a field, no field without a text, and each is in a fold."""
    monkeypatch.chdir(tmp_path)
    panel = EnclosurePanel(full())
    for fold in panel.folds.values():
        fold.head.value = True
    folded = [each for fold in panel.folds.values() for each in below(fold.content)]
    assert {type(each) for each in panel.within.editors.every} == set(EDITORS)
    for each in panel.within.editors.every:
        assert each.texts(full()).keys() == each.fields.keys()
        assert all(field.control in folded for field in each.fields.values())
    assert entries_of(full()).keys() == panel.fields.keys()


def test_an_entry_taken_out_on_the_page_can_be_put_back(tmp_path, monkeypatch):
    """The page reads the whole document anew after every change; the button stays as nothing else differs."""
    monkeypatch.chdir(tmp_path)
    panel = EnclosurePanel.demo("centre-cab-s")
    before, editor = panel.plan.job, panel.within.editors.wires
    assert before.wires
    editor.drop_button.click()
    assert panel.plan.job.wires == before.wires[1:]
    assert editor.back_button in editor.buttons.children
    editor.back_button.click()
    assert panel.plan.job == before


def test_lamps_typed_on_the_page_take_room_from_the_chamber(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    panel = EnclosurePanel(full())
    editor = panel.within.editors.lamps
    for name, text in {"name": "headlight", "room": "6 mm", "strand": "0.5 mm"}.items():
        editor.fields[name].value = text
    editor.add_button.click()
    assert [each.name for each in panel.plan.job.lamps] == ["headlight"]
    assert panel.plan.limits.front_room_mm == 6
    assert [line.name for line in panel.plan.holes] == ["headlight", "horn"]


def test_how_the_speaker_sits_outlives_its_sizes_on_the_page(tmp_path, monkeypatch):
    """Its sizes emptied, something else edited, its sizes typed again: it sits as it was told to."""
    monkeypatch.chdir(tmp_path)
    panel = EnclosurePanel.demo()
    panel.within.editors.speaker.fields["travel"].value = "0.3 mm"
    before = panel.plan.job
    sizes = {name: panel.fields[name].value for name in SIZES}
    for name in SIZES:
        panel.fields[name].value = ""
    assert panel.plan.bench.speaker is None
    assert "No speaker now; what was entered for it is kept: name box-type speaker" in panel.fields["flange"].message
    panel.within.editors.chamber.fields["wire_path"].value = "1 mm"
    assert panel.within.editors.speaker.fields["travel"].value == "0.3 mm"
    panel.within.editors.chamber.fields["wire_path"].value = ""
    for name, text in sizes.items():
        panel.fields[name].value = text
    assert panel.plan.job == before


def test_a_decoder_is_asked_for_the_size_it_lacks_and_the_last_plan_stays(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    panel = EnclosurePanel.demo()
    before = panel.plan
    panel.fields["decoder_width"].value = ""
    said = "Write the decoder's width, or empty all three to take it out."
    assert said in unescape(panel.fields["decoder_width"].message)
    assert panel.plan is before
    panel.fields["decoder_length"].value = panel.fields["decoder_height"].value = ""
    assert panel.plan.bench.decoder is None
