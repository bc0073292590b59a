"""The clearance page, driven in Python: good, bad, recovered, hostile."""

from __future__ import annotations

import re
import shutil
from html import unescape

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sample_jobs import DEMO_PATHS, DEMOS

from modelmath import plan
from modelmath.errors import OutOfRange
from modelmath.job.storage.files import job_text
from modelmath.widgets.clearance import OWN, ClearancePanel, read_chance
from modelmath.widgets.common import look, places

HOSTILE = '<script>alert("1")</script>'


def plain(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>|&nbsp;", " ", html)).split())


@pytest.fixture
def jobs(tmp_path, monkeypatch):
    """A workbook folder of its own, with a job that can't be read and one with a hostile name."""
    (tmp_path / "jobs").mkdir()
    monkeypatch.chdir(tmp_path)
    (tmp_path / "jobs" / "broken.toml").write_text("name = ", "utf-8")
    named = DEMOS["railcar-n"].model_dump(exclude_none=True)
    for table in ("zones", "readings"):
        for entry in named[table]:
            if entry["name"] in ("motor", "roof"):
                entry["name"] = HOSTILE
    named["zones"][0]["underside"] = HOSTILE
    made = type(DEMOS["railcar-n"]).model_validate({**named, "demo": HOSTILE})
    (tmp_path / "jobs" / "hostile.toml").write_text(job_text(made), "utf-8")
    unknown = made.model_copy(update={"marking": made.marking.model_copy(update={"rule": "gone"})})
    (tmp_path / "jobs" / "unknown rule.toml").write_text(job_text(unknown), "utf-8")
    shutil.copy(DEMO_PATHS[0], tmp_path / "jobs" / "copy.toml")
    return places.job_files()


def pieces(panel):
    return (
        panel.answer,
        panel.tail,
        panel.sizes,
        panel.chances,
        panel.terms,
        panel.again,
        panel.spots,
        panel.own_answer,
    )


@pytest.mark.parametrize("name", DEMOS)
def test_every_demo_shows_its_numbers(name):
    panel, found = ClearancePanel(name), plan(DEMOS[name])
    shown = plain(panel.answer.value)
    assert found.governing.name in shown
    assert panel.plan.gap.left_mm == found.gap.left_mm
    assert all(piece.value for piece in pieces(panel))
    assert 'role="alert"' not in "".join(piece.value for piece in pieces(panel))
    for row in panel.plan.sizes:
        assert row.setting.text in plain(panel.sizes.value)
        assert row.setting.text in panel.summary
    assert found.governing.name in panel.summary


def test_a_chance_is_echoed_and_counts():
    panel = ClearancePanel()
    before = panel.plan.gap.allowance_mm
    panel.accepted.value = "1 in 1,000"
    assert "1 in 1,000" in plain(panel.accepted.message)
    assert panel.plan.gap.wanted_chance == 0.001
    assert panel.plan.gap.allowance_mm > before
    assert "accepted: 1 in 1,000" in panel.summary


@pytest.mark.parametrize("bad", ["often", "0", "1 in 0", "60 %", "-1 %", "", "nan", "1 in", "0,5 %", "inf"])
def test_a_bad_chance_is_said_beside_it_and_the_last_answer_stays(bad):
    panel = ClearancePanel()
    before, summary = [piece.value for piece in pieces(panel)], panel.summary
    panel.accepted.value = bad
    message = f"the chance is {bad.strip()!r}; it must be above 0 and at most 1 in 2. Write 1 in 100, or 1 %."
    assert message in unescape(panel.accepted.message)
    last = [
        look.stale(each) if piece is panel.answer else each for piece, each in zip(pieces(panel), before, strict=True)
    ]
    assert [piece.value for piece in pieces(panel)] == last
    assert "These sizes are for the last entries" in panel.answer.value
    assert panel.summary == summary
    panel.accepted.value = "2 %"
    assert 'role="alert"' not in panel.accepted.message
    assert panel.plan.gap.wanted_chance == 0.02


@pytest.mark.parametrize(
    ("text", "chance"),
    [("1 in 100", 0.01), ("1/100", 0.01), ("1 %", 0.01), ("1%", 0.01), ("0.01", 0.01), (".5", 0.5),
     ("1 in 20,000", 5e-5), (" 2 in 1,000 ", 0.002), ("1 in 1,000,000", 1e-6)],
)  # fmt: skip
def test_chances_as_people_type_them(text, chance):
    assert read_chance(text) == pytest.approx(chance)


@settings(max_examples=200)
@given(st.text(alphabet="0123456789., in/%-e", max_size=12))
def test_any_text_is_a_chance_within_limits_or_refused(text):
    try:
        found = read_chance(text)
    except OutOfRange:
        found = None
    assert found is None or 0 < found <= 0.5


def test_a_job_that_can_t_be_opened_keeps_the_last_answer_and_another_recovers(jobs):
    panel = ClearancePanel("copy")
    before = panel.answer.value
    panel.chooser.value = "broken"
    assert "broken can't be opened" in plain(panel.chooser.message)
    assert panel.answer.value == look.stale(before)
    panel.chooser.value = "unknown rule"
    assert "the rule is 'gone'" in plain(panel.chooser.message)
    assert 'role="alert"' not in panel.accepted.message  # the chance is not what is wrong
    assert panel.answer.value == look.stale(before)
    panel.chooser.value = "railcar-n"
    assert 'role="alert"' not in panel.chooser.message
    assert panel.plan.job == DEMOS["railcar-n"].model_copy(
        update={"clearance": DEMOS["railcar-n"].clearance.model_copy(update={"chance": 0.01})}
    )


def test_a_page_that_opens_on_a_broken_job_takes_entries_without_a_traceback(jobs):
    panel = ClearancePanel("broken")
    assert panel.summary == "Nothing is worked out yet."
    panel.accepted.value = "1 %"
    assert panel.summary == "Nothing is worked out yet."
    panel.chooser.value = "railcar-n"
    assert panel.summary.startswith("Room left over motor: ")


def test_hostile_names_are_escaped_everywhere(jobs):
    panel = ClearancePanel("hostile")
    shown = [*(piece.value for piece in pieces(panel)), panel.chooser.message]
    assert any("&lt;script&gt;" in each for each in shown)
    assert not any("<script" in each for each in shown)


def test_a_stack_of_one_s_own():
    panel = ClearancePanel()
    shown = plain(panel.own_answer.value)
    assert OWN.startswith("shell, inside width; 13.6 mm")
    # 13.6 - 11 - 1 - 1; 0.05 + 0.1 + 0.15 + 0.15, and the root of their squares: by hand.
    assert "The gap is 0.60 mm, ±0.45 mm at worst, ±0.24 mm usually" in shown
    assert "Chance of touching: none." in shown


def test_a_bad_line_of_the_own_stack_is_said_by_number_and_the_rest_stands():
    panel = ClearancePanel()
    panel.own.value = f"shell; 13.6 mm; 0.05 mm\n{HOSTILE}; wide\nspeaker; -13.5 mm; 0.1 mm"
    shown = panel.own_answer.value
    assert "Line 2, kept aside: " in plain(shown)
    assert "The gap is 0.10 mm" in plain(shown)
    assert "<script" not in shown
    panel.own.value = "shell; 13.6 mm; 0.05 mm\nspeaker; -13.5 mm; 0.1 mm"
    assert 'role="alert"' not in panel.own_answer.value


@pytest.mark.parametrize(
    "text",
    [
        "",
        "   \n",
        "only; 5 mm",
        "only; -5 mm",
        "a; 1 mm; 0 mm\nb; -1 mm",
        "a; 1e300 mm; 1e300 mm",
        "a; 1e-300 mm; 1e-300 mm",
        "a; 5 mm; 1000000 mm; arcsine",
        "a; 1 mm; 0.1 mm\nb; 1 mm; 1000000 mm; normal",
        "a; 1 mm; 0.1 mm\n" * 101,
        "a; nan mm; inf mm",
        HOSTILE,
    ],
)
def test_no_stack_makes_a_traceback(text):
    panel = ClearancePanel()
    panel.own.value = text
    assert "<script" not in panel.own_answer.value
    panel.own.value = OWN
    assert "The gap is 0.60 mm" in plain(panel.own_answer.value)


def test_folds_open_on_what_they_promise():
    panel = ClearancePanel()
    assert [fold.title for fold in panel.folds] == [
        "What the room left is made of",
        "What to measure again first",
        "Every spot under the floor",
        "A stack of your own",
    ]
    assert panel.terms.value.count("<tr>") - 1 == len(panel.plan.gap.stack.largest_terms())
    assert "drive shaft cover" in plain(panel.again.value)


def test_the_accepted_chance_is_the_jobs_own_until_another_is_typed():
    panel = ClearancePanel("railbus-ho")  # its file accepts 1 in 200
    assert (panel.accepted.value, panel.plan.gap.wanted_chance) == ("1 in 200", 0.005)
    panel.chooser.value = "switcher-ho"
    assert (panel.accepted.value, panel.plan.gap.wanted_chance) == ("1 in 100", 0.01)
