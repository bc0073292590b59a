"""The walkthrough's folds about light, driven in Python: what is typed, what follows, what is wrong."""

from __future__ import annotations

import re

import pytest
from job.lit.lit_jobs import lit
from sample_jobs import DEMOS, with_chamber

from modelmath.widgets import EnclosurePanel

FOLDS = ("light", "strands", "wiring")


def opened(job):
    panel = EnclosurePanel(job)
    for name in FOLDS:
        panel.folds[name].head.value = True
    panel.within.light.feed.head.value = True
    return panel


def plain(html):
    return " ".join(re.sub(r"<[^>]+>", " ", html).split())


@pytest.mark.parametrize("name", sorted(DEMOS))
def test_every_demo_shows_its_lamps_strands_and_wiring(name):
    panel = opened(DEMOS[name])
    for line in panel.plan.light.lamps:
        assert f"{line.name} {line.source}" in plain(panel.within.light.lamps.value)
    for line in panel.plan.light.strands:
        assert line.name in plain(panel.within.light.strands.value)
    assert "<svg" in panel.within.light.diagram.value
    assert (
        "mm-bad"
        not in panel.within.light.lamps.value + panel.within.light.strands.value + panel.within.light.leads.value
    )


def test_nothing_is_worked_out_while_they_are_shut():
    panel = EnclosurePanel(lit())
    assert panel.within.light.lamps.value == panel.within.light.strands.value == panel.within.light.diagram.value == ""


def test_another_current_gives_another_resistor_at_once():
    panel = opened(lit())
    assert "5.6 kohm" in panel.within.light.lamps.value
    editor = panel.within.editors.circuits
    editor.fields["current"].value = "4 mA"
    assert panel.plan.job.light.circuits[0].current == "4 mA"
    assert (
        "3.3 kohm" in panel.within.light.lamps.value
    )  # (14 V less an LED of about 3 V) over 4 mA, up to the next of E12
    assert "3.3 kohm" in panel.within.light.diagram.value


def test_the_decoders_sheet_is_typed_and_judged():
    panel = opened(lit())
    panel.within.editors.feed.fields["each"].value = "1 mA"
    assert "Output 'white' may give 1 mA" in plain(panel.within.light.lamps.value.replace("&#x27;", "'"))
    panel.within.editors.feed.fields["each"].value = "1"
    assert "it has no unit" in panel.within.editors.feed.fields["each"].note.value
    assert panel.plan.job.light.feed.each == "1 mA"


def test_a_strand_is_added_and_taken_out_and_put_back():
    panel = opened(lit(light={"strands": []}))
    assert "Enter where a strand leads" in panel.within.light.strands.value
    editor = panel.within.editors.strands
    for name, text in {"name": "left", "lamp": "headlights", "to": "-6 mm, 22 mm up, 3 mm left"}.items():
        editor.fields[name].value = text
    editor.add()
    assert panel.plan.job.light.strands[0].to.right == "-3 mm"
    assert "left" in plain(panel.within.light.strands.value)
    editor.drop()
    assert panel.plan.job.light.strands == []
    editor.put_back()
    assert len(panel.plan.job.light.strands) == 1


def test_a_lens_narrower_than_its_strand_is_told_in_words():
    panel = opened(lit())
    editor = panel.within.editors.strands
    editor.which.control.index = 2
    editor.fields["diameter"].value = "0.3 mm"
    assert "tail:" in plain(panel.within.light.strands.value)
    assert 'role="alert"' in panel.within.light.strands.value
    assert "Traceback" not in panel.within.light.strands.value


def test_before_a_lens_is_formed_the_cautions_stand():
    said = plain(opened(lit()).within.light.strands.value)
    assert "Before you form a lens" in said
    assert "eye protection" in said
    assert "ventilate" in said


def test_a_job_without_light_says_what_to_enter():
    panel = opened(with_chamber())
    assert "Enter a lamp under" in panel.within.light.lamps.value
    assert "Enter where a strand leads" in panel.within.light.strands.value
    assert "Enter how far a lead runs" in panel.within.light.leads.value
    assert panel.within.light.diagram.value == ""


def test_names_are_shown_as_text():
    lamps = [{"name": "<b>x</b>", "end": "front", "room": "5 mm", "strand": "0.5 mm"}]
    circuits = [{"lamp": "<b>x</b>", "current": "2 mA", "output": "white", "at": {"along": "2 mm", "up": "20 mm"}}]
    strands = [{"name": "<i>y</i>", "lamp": "<b>x</b>", "to": {"along": "-6 mm", "up": "20 mm"}}]
    panel = opened(lit(lamps=lamps, light={"circuits": circuits, "strands": strands}))
    shown = panel.within.light.lamps.value + panel.within.light.strands.value + panel.within.light.diagram.value
    assert "<b>x</b>" not in shown
    assert "<i>y</i>" not in shown
    assert "&lt;b&gt;x&lt;/b&gt;" in shown
