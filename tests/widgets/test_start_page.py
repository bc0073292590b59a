"""The start page, driven as the browser drives it."""

from __future__ import annotations

import re
import subprocess
import sys
from datetime import datetime, timedelta
from html import unescape
from pathlib import Path

import pytest

from modelmath.job import load_job, save_job
from modelmath.job.document import RuleEntry
from modelmath.job.entries.unread import unread
from modelmath.job.shelf import SHELF, Shelf, save_shelf
from modelmath.tables import notebooks_folder
from modelmath.widgets import EnclosurePanel, start_page
from modelmath.widgets.common import places
from modelmath.widgets.common.go_to import GoTo
from modelmath.widgets.start import MOST_RECENT, StartPage
from modelmath.workbook.recent import note_job, recent_jobs


def plain(html):
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


def html_of(widget):
    own = getattr(widget, "value", "")
    inside = "".join(html_of(child) for child in getattr(widget, "children", ()))
    return (own if isinstance(own, str) else "") + inside


def links(page):
    return dict(re.findall(r'<a(?: class="[^"]*")? href="([^"]*)">([^<]*)</a>', html_of(page.view)))


def own_job(name, when=None, **changed):
    job = load_job(places.job_files()["switcher-ho"]).model_copy(update={"name": name, "demo": "", **changed})
    file = Path.cwd() / "jobs" / f"{name.lower().replace(' ', '-')}.toml"
    file.parent.mkdir(exist_ok=True)
    save_job(job, file)
    if when is not None:
        note_job(Path.cwd(), file.stem, when)
    return file


NOW = datetime.now().astimezone()


# What is where.


def test_every_page_of_the_workbook_is_reached():
    pages = {item.name for item in notebooks_folder().iterdir() if item.name.endswith(".ipynb")}
    linked = {link.partition("?")[0] for link in links(StartPage(app_view=True))}
    assert linked == pages - {"start.ipynb"}


def test_the_main_path_comes_first_and_nothing_is_linked_twice():
    said = html_of(StartPage(app_view=True).view)
    heads = [head.strip() for head in re.findall(r'<h2 class="mm-h">([^<]*)', said)]
    assert heads == ["Begin a new model", "Look at a demo", "Another task"]
    every = re.findall(r'href="([^"]*)"', said)
    assert len(every) == len(set(every))
    tasks = said[said.index("Another task") :]
    assert plain(tasks).startswith("Another task I have a reading a mark on a rule")
    assert 5 <= tasks[: tasks.index("<details>")].count("<li>") <= 8


def test_each_demo_says_what_it_shows_and_that_it_is_invented():
    said = html_of(StartPage(app_view=True).view)
    demos = plain(said[said.index("Look at a demo") : said.index("Another task")])
    assert demos.startswith("Look at a demo invented Tarn Valley switcher No. 31 HO: a speaker in the long hood")
    assert "Every demo is invented" in demos
    found = {link for link in links(StartPage(app_view=True)) if "job=" in link}
    shipped = {name for name, file in places.job_files().items() if load_job(file).demo}
    assert found == {f"enclosure.ipynb?job={name}" for name in shipped}


def test_it_opens_without_the_calculation():
    script = "from modelmath.widgets import start_page; start_page(); import sys; print(sorted(sys.modules))"
    loaded = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True).stdout
    for heavy in ("modelmath.job", "numpy", "pydantic", "anywidget", "pandas", "scipy"):
        assert f"'{heavy}'" not in loaded


# Recent jobs.


def test_the_last_jobs_are_listed_with_scale_time_and_how_far_they_are():
    own_job("Boxcab", NOW - timedelta(minutes=1))
    demo = load_job(places.job_files()["switcher-ho"])
    own_job("Railcar", NOW, progress=demo.progress.model_copy(update={"done": ["dry fit", "cut"]}))
    page = StartPage(app_view=True)
    listed = html_of(page.view).partition("Begin a new model")[0]
    said = plain(listed.partition("Go on")[2])
    assert re.match(r"Railcar HO, (to|yester)day, \d\d:\d\d, 2 steps of the build done Boxcab HO, .*, measured,", said)
    assert list(links(page))[:2] == ["enclosure.ipynb?job=railcar", "enclosure.ipynb?job=boxcab"]


def test_a_job_that_is_gone_is_not_offered_and_a_damaged_one_is_said():
    own_job("Boxcab", NOW).unlink()
    own_job("Railcar", NOW).write_text("name = ")
    note_job(Path.cwd(), "switcher-ho", NOW)  # a demo stands with the demos
    said = html_of(StartPage(app_view=True).view)
    listed = plain(said[said.index("Go on") : said.index("Begin a new model")])
    assert re.fullmatch(r"Go on railcar (to|yester)day, \d\d:\d\d, its file can't be read", listed)


def test_only_a_few_are_in_sight():
    for number in range(MOST_RECENT + 2):
        own_job(f"Job {number}", NOW - timedelta(minutes=number))
    said = html_of(StartPage(app_view=True).view)
    listed = said[said.index("Go on") : said.index("Begin a new model")]
    assert listed.count("<li>") == MOST_RECENT
    assert listed[: listed.index("<details>")].count("<li>") == 3


def test_names_are_shown_as_text_only():
    named = load_job(own_job("Boxcab")).model_copy(update={"name": "a<script>b</script>"})
    save_job(named, Path.cwd() / "jobs" / 'x"<i>.toml')
    note_job(Path.cwd(), 'x"<i>', NOW)
    said = html_of(StartPage(app_view=True).view)
    assert "<script>" not in said
    assert "a&lt;script&gt;b&lt;/script&gt;" in said
    assert "enclosure.ipynb?job=x%22%3Ci%3E" in said


# A new model.


def test_a_name_and_the_button_are_enough():
    page = StartPage(app_view=True)
    page.new.fields["name"].value = "Hood unit No. 5"
    page.new.button.click()
    job = load_job(Path.cwd() / "jobs" / "hood-unit-no-5.toml")
    assert (job.name, job.scale, len(unread(job))) == ("Hood unit No. 5", "HO", 2)
    assert recent_jobs(Path.cwd())[0].name == "hood-unit-no-5"
    link, step = page.went.children
    assert isinstance(step, GoTo)
    assert step.to == "enclosure.ipynb?job=hood-unit-no-5"
    assert 'href="enclosure.ipynb?job=hood-unit-no-5"' in link.value
    assert page.new.button.disabled  # a second press would begin a second model


def test_an_empty_name_is_said_once_it_is_asked_for_and_nothing_is_saved():
    page = StartPage(app_view=True)
    page.new.fields["scale"].value = "N"
    assert "alert" not in page.new.fields["name"].message
    page.new.button.click()
    assert "Write the model's name" in plain(page.new.fields["name"].message)
    assert plain(page.new.said.value) == "One answer has to be mended first; its message stands beside it."
    assert not (Path.cwd() / "jobs").exists()
    page.new.fields["name"].value = "Hood unit"
    assert page.new.said.value == ""
    assert "alert" not in page.new.fields["name"].message


def test_an_answer_is_echoed_and_a_wrong_one_said_beside_it_and_unfolded():
    new = StartPage(app_view=True).new
    new.fields["zero"].value = "1"
    assert plain(new.fields["zero"].message).startswith("3.50 mm from the rule's end to its zero")
    new.fields["name"].value = "Hood unit"
    new.fields["keep"].value = "much"
    assert "alert" in new.fields["keep"].message
    new.fold.head.value = False
    new.button.click()
    assert new.fold.head.value


def test_a_lower_roof_asks_for_two_stretches_at_least():
    new = StartPage(app_view=True).new
    new.fold.head.value = True
    new.fields["roof"].value = "lower over a part"
    assert new.fields["count"].value == "2"
    assert new.fields["roof 2"].value == "under the lower roof"
    new.fields["name"].value, new.fields["stretch 1"].value = "Hood unit", "cab"
    new.button.click()
    job = load_job(Path.cwd() / "jobs" / "hood-unit.toml")
    assert [(zone.name, zone.underside) for zone in job.zones] == [("cab", "roof"), ("rear", "lower roof")]


def test_what_goes_in_is_asked_for_as_it_is_ticked():
    new = StartPage(app_view=True).new
    assert new._sizes.children == ()
    new.inside["decoder"].value = new.inside["headlight"].value = True
    assert [box.children[0].description for box in new._sizes.children] == [
        "Decoder's length", "Decoder's width", "Decoder's height", "Room for each lamp",
    ]  # fmt: skip
    new.fields["name"].value, new.fields["decoder_length"].value = "Hood unit", "15"
    new.button.click()
    assert "leave all three empty for now" in plain(new.fields["decoder_width"].message)


def test_a_rule_of_the_shelf_takes_the_place_of_unit_and_zero():
    save_shelf(Shelf(rules=[RuleEntry(name="bench rule", unit="mm", graduation="0.5", zero_offset="4")]), SHELF)
    new = StartPage(app_view=True).new
    new.fold.head.value = True
    assert list(new.fields["shelf_rule"].control.options) == ["(not from the shelf)", "bench rule"]
    new.fields["shelf_rule"].value, new.fields["name"].value = "bench rule", "Hood unit"
    assert [box.children[0].description for box in new._rule.children] == ["Rule"]
    new.button.click()
    assert load_job(Path.cwd() / "jobs" / "hood-unit.toml").rules[0].zero_offset == "4"


def test_a_damaged_shelf_is_said_and_a_model_can_be_begun_all_the_same():
    Path(SHELF).write_text("rules = 3")
    new = StartPage(app_view=True).new
    new.fold.head.value = True
    assert plain(new.shelf_said.value).startswith("No rule can be taken from the shelf: shelf.toml")
    new.fields["name"].value = "Hood unit"
    new.button.click()
    assert (Path.cwd() / "jobs" / "hood-unit.toml").is_file()


def test_two_models_of_one_name_get_a_file_each():
    for _ in range(2):
        new = StartPage(app_view=True).new
        new.fields["name"].value = "Tarn Valley switcher No. 31"
        new.button.click()
    assert sorted(file.stem for file in (Path.cwd() / "jobs").glob("*.toml")) == [
        "tarn-valley-switcher-no-31", "tarn-valley-switcher-no-31-2",
    ]  # fmt: skip


def test_a_folder_that_can_not_be_written_is_said():
    (Path.cwd() / "jobs").write_text("a file")
    page = StartPage(app_view=True)
    page.new.fields["name"].value = "Hood unit"
    page.new.button.click()
    assert "it can't be written: file exists; choose another workbook folder" in plain(page.new.said.value)
    assert page.went.children == ()


# In JupyterLab, where no link says which job to open.


def test_in_jupyterlab_a_job_is_chosen_for_the_walkthrough():
    own_job("Boxcab", NOW)
    page = StartPage(app_view=False)
    assert page.choice.control.options[0] == "boxcab"
    page.choice.value = "railcar-n"
    page.choose_button.click()
    assert recent_jobs(Path.cwd())[0].name == "railcar-n"
    assert plain(page.chosen.value).startswith("railcar-n is chosen. The walkthrough opens on it: open enclosure.ipynb")


def test_in_jupyterlab_a_new_model_is_chosen_as_it_is_begun():
    page = StartPage(app_view=False)
    page.new.fields["name"].value = "Hood unit"
    page.new.button.click()
    assert (page.choice.value, recent_jobs(Path.cwd())[0].name) == ("hood-unit", "hood-unit")
    assert len(page.went.children) == 1


def test_the_notebook_shows_it(monkeypatch):
    monkeypatch.setenv("QUERY_STRING", "")
    assert "Begin a new model" in html_of(start_page())


# From the start page to an answer and a bench card, counted.


@pytest.mark.parametrize(("scale", "unit"), [("HO", "scale foot"), ("N", "mm")])
def test_the_first_answer_takes_six_entries_and_the_bench_card_fifteen(scale, unit):
    entries = []

    def enter(field, value):
        if field.value != value:
            entries.append(field.label)
            field.value = value

    page = StartPage(app_view=True)
    enter(page.new.fields["name"], "Hood unit")
    enter(page.new.fields["scale"], scale)
    enter(page.new.fields["zero"], "1")
    if unit != "scale foot":
        enter(page.new.fields["unit"], unit)
    page.new.button.click()
    entries.append("Begin")
    panel = EnclosurePanel.demo("hood-unit")
    assert "Still to enter: the reading on the chassis the reading in the shell" in plain(panel.answer.value)
    low, high = ("3 1/4", "8 3/4") if unit == "scale foot" else ("10", "24")
    enter(panel.fields["chassis"], low)
    enter(panel.fields["shell"], high)
    # 5 1/2 scale ft less 0.5 mm, down to a quarter foot; or 14 mm less 0.5 mm, which is a mark.
    height = "18.38 mm" if unit == "scale foot" else "13.50 mm"
    assert height in plain(panel.answer.value)
    assert len(entries) <= (5 if unit == "scale foot" else 7)
    enter(panel.fields["flange"], "1.5 mm")
    if unit == "scale foot":
        assert panel.print()
        entries.append("Print")
    assert len(entries) <= 15
