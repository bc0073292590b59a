"""Panels whose work takes long: on a loop they come to what they come to at once; stopped, they keep the last."""

from __future__ import annotations

import asyncio

import pytest

from modelmath.widgets import CutsPanel, FleetPanel, TablePanel
from modelmath.widgets.common import look, work
from modelmath.widgets.cuts import LISTED

ONE, OTHER = "post; 21 mm; 4; HO 6x10\nbeam; 60 mm; 3; HO 8x8", "mast; 90 mm; 2; HO 6x10\nbeam; 60 mm; 1; HO 8x8"


@pytest.fixture(autouse=True)
def workbook(tmp_path, monkeypatch):
    """A workbook folder; work is spoken of at once, and runs one step a slice."""
    monkeypatch.chdir(tmp_path)
    for name in ("PATIENCE_S", "SLICE_S", "GAP_S"):
        monkeypatch.setattr(work, name, 0.0)
    return tmp_path


def on_a_loop(act):
    async def run():
        return await act()

    return asyncio.run(run())


async def done(on):
    for _ in range(10_000):
        if not on.running:
            return
        await asyncio.sleep(0)
    raise AssertionError("it never came to an end")


def shown(panel):
    return panel.said.value, panel.shown.value, panel.where.value, panel.next.value


def test_a_folder_is_looked_through_alike_and_shows_nothing_before(tmp_path):
    at_once = FleetPanel(tmp_path)

    async def act():
        panel = FleetPanel(tmp_path)
        assert (panel.work.running, panel.shown.value, panel.rows) == (True, "", ())
        panel.fields["order"].value = "scale"  # sorted once it is there
        await done(panel.work)
        return panel

    panel = on_a_loop(act)
    at_once.fields["order"].value = "scale"
    assert shown(panel) == shown(at_once)
    assert panel.summary == at_once.summary


def test_a_folder_stopped_half_way_is_taken_up_or_looked_through_anew(tmp_path):
    at_once = FleetPanel(tmp_path)

    async def act():
        panel = FleetPanel(tmp_path)
        panel.work.stop()
        assert panel.summary == "No folder of jobs is open."  # what was stopped stays so
        panel.work.go_on()
        await done(panel.work)
        assert shown(panel) == shown(at_once)
        panel.again.click()
        panel.work.stop()
        assert shown(panel) == shown(at_once)  # the last result stays
        panel.again.click()
        assert panel.summary == at_once.summary  # asked for, it is worked out there and then

    on_a_loop(act)


def listed(panel, text):
    panel.fields["parts"].value = LISTED
    panel.listed.value = text


def test_a_cut_plan_is_planned_alike_and_a_new_entry_takes_the_place_of_the_one_at_work(tmp_path):
    at_once = CutsPanel(tmp_path)
    listed(at_once, OTHER)

    async def act():
        panel = CutsPanel(tmp_path)
        listed(panel, ONE)
        assert panel.work.running
        panel.listed.value = OTHER
        await done(panel.work)
        return panel

    panel = on_a_loop(act)
    assert (panel.answer.value, panel.details.value) == (at_once.answer.value, at_once.details.value)
    assert panel.summary == at_once.summary
    assert not panel.accept.disabled


def test_a_cut_plan_at_work_leaves_the_last_one_in_sight_and_nothing_is_cut_or_printed_from_it(tmp_path):
    async def act():
        panel = CutsPanel(tmp_path)
        listed(panel, ONE)
        await done(panel.work)
        before = panel.answer.value
        panel.listed.value = OTHER
        panel.work.stop()
        assert panel.answer.value == look.stale(before)
        assert panel.accept.disabled
        panel.paper.click()
        assert "There is nothing to print yet" in panel.done.value
        assert panel.summary == "No plan yet."
        panel.listed.value = OTHER + "\nx"  # a line that can't be read: it counts all the same
        assert panel.work.running
        await done(panel.work)
        assert "Left out of the plan:" in panel.list_note.value
        panel.fields["kerf"].value = "thick"
        assert not panel.work.running
        assert "thick" in panel.fields["kerf"].message

    on_a_loop(act)


def test_cuts_together_are_planned_alike(tmp_path):
    at_once = FleetPanel(tmp_path)
    at_once.folds["cuts"].head.value = True

    async def act():
        panel = FleetPanel(tmp_path)
        await done(panel.work)
        panel.folds["cuts"].head.value = True
        assert panel.cuts.work.running
        assert (panel.cuts.accept.disabled, panel.cuts.paper.disabled) == (True, True)
        await done(panel.cuts.work)
        assert panel.cuts.answer.value == at_once.cuts.answer.value
        assert panel.cuts.summary == at_once.cuts.summary
        panel.cuts.chosen.value = ()
        assert "Choose the jobs to cut for." in panel.cuts.answer.value
        panel.cuts.chosen.value = panel.cuts.chosen.options[:2]
        panel.cuts.chosen.value = ()
        assert not panel.cuts.work.running  # nothing is asked for any more

    on_a_loop(act)


def test_a_table_is_saved_once_all_of_it_is_written(tmp_path):
    async def act():
        panel = TablePanel()
        panel.sheet.click()
        assert (panel.saving.running, panel.saved.value, list(tmp_path.glob("tables/*"))) == (True, "", [])
        panel.saving.stop()
        panel.saving.go_on()
        await done(panel.saving)
        assert "Saved: " in panel.saved.value
        assert [file.name for file in tmp_path.glob("tables/*")] == ["readings.xlsx"]

    on_a_loop(act)
