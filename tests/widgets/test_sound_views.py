"""What the plan sounds like, as shown: each view of every demo, of odd jobs, and the folds driven in Python."""

from __future__ import annotations

import re
from html import unescape
from typing import Any

import pytest
from sample_jobs import DEMOS, job, with_chamber

from modelmath.job.document import Job
from modelmath.job.plan import Plan, plan
from modelmath.job.sound.comparing import RANKS, SEATS
from modelmath.sound.driver.examples import example_drivers
from modelmath.widgets import EnclosurePanel
from modelmath.widgets.inside.choices import EMPTY
from modelmath.widgets.plan import sound, views

VIEWS = ("response", "volume", "leaks", "load", "compared", "heard")
RATED = {"impedance": "8 ohm", "power": "1 W"}
OUTPUT = {"least": "4 ohm", "power": "1 W", "into": "8 ohm"}
SIZES = {"length": "20 mm", "width": "12 mm", "flange": "1 mm", "depth": "5 mm"}
NOT_YET = (
    "Once a chamber holds the speaker, and its outside size or anything of its sound is entered, this shows what it "
    "will do."
)


@pytest.fixture(autouse=True)
def workbook(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path


def plain(html: str) -> str:
    without_drawings = re.sub(r"<svg.*?</svg>", " ", html, flags=re.DOTALL)
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", without_drawings)).split())


def shown(name: str, of: Plan) -> str:
    return views.or_reason(getattr(sound, name), of)


def is_wrong(html: str) -> bool:
    return 'role="alert"' in html


# Every view, of the demos.


@pytest.mark.parametrize("demo", DEMOS)
def test_every_view_of_a_demo_shows_something_and_nothing_wrong(demo):
    of = plan(DEMOS[demo])
    for name in VIEWS:
        html = shown(name, of)
        assert plain(html), name
        assert not is_wrong(html), name
        assert not re.search(r"\b(nan|inf)\b", html if name != "heard" else plain(html)), name
        assert html.count("<svg") == (name in ("response", "volume", "compared"))


@pytest.mark.parametrize("demo", DEMOS)
def test_the_numbers_shown_are_the_plan_s(demo):
    of = plan(DEMOS[demo])
    box, said = of.sound.box, plain(shown("response", of))
    assert f"-3 dB point {float(f'{box.f3_hz.best:.3g}'):.0f} Hz" in said
    assert f"Total Q in the chamber, Qtc {box.qtc.best:.2f}" in said
    assert f"{of.sound.box.volume_mm3.best / 1000:.2f} cm3" in plain(shown("volume", of))
    assert plain(shown("response", of)).count("is taken as") == len(of.sound.assumed)
    rows = shown("compared", of).count("<tr>") - 1
    assert rows == len(of.comparison.rows) == len(SEATS) * (1 + len(DEMOS[demo].choices))


def test_a_sound_is_a_wav_for_each_way_that_starts_only_when_played():
    html = shown("heard", plan(DEMOS["switcher-ho"]))
    players = re.findall(r"<audio [^>]*>", html)
    assert players
    assert all('src="data:audio/wav;base64,UklGR' in each for each in players)  # RIFF
    assert all("autoplay" not in each and " loop" not in each and " controls " in each for each in players)
    assert "An estimate" in plain(html)
    assert "turn your volume low first" in plain(html)


# Odd jobs.

HOSTILE = "<script>alert('x')</script>\"&"


def hostile() -> Job:
    speaker = {"name": f"own {HOSTILE}", "length": "22 mm", "width": "16 mm", "flange": "1.2 mm", "depth": "6 mm"}
    also = [{"name": f"other {HOSTILE}", "impedance": "8 ohm"}]
    choices = [{"name": f"choice {HOSTILE}", **SIZES}, {"name": f"half {HOSTILE}"}]
    heard = {"driver": RATED, "output": OUTPUT, "also": also, "wanted_q": "0.1"}
    return with_chamber(name=HOSTILE, speaker=speaker, sound=heard, choices=choices)


def test_names_are_shown_as_text_never_as_markup():
    of = plan(hostile())
    together = "".join(shown(name, of) for name in VIEWS)
    for what in ("own", "other", "choice", "half"):
        assert f"{what} &lt;script&gt;" in together
    assert "<script" not in together


def test_a_hostile_name_in_a_message_is_text_too():
    of = plan(with_chamber(sound={"driver": RATED, "output": OUTPUT, "wiring": HOSTILE}))
    html = shown("load", of)
    assert is_wrong(html)
    assert "<script" not in html
    assert "the wiring is " in plain(html)


ODD: dict[str, tuple[Job, dict[str, str]]] = {
    "nothing entered": (job(), dict.fromkeys(("response", "leaks", "heard"), NOT_YET) | {"volume": ""}),
    "no speaker": (
        with_chamber(speaker=None, sound={"driver": RATED, "output": OUTPUT}),
        dict.fromkeys(("response", "leaks", "heard"), NOT_YET) | {"volume": ""},
    ),
    "no chamber": (
        job(sound={"driver": RATED, "output": OUTPUT}),
        dict.fromkeys(("response", "leaks", "heard"), NOT_YET)
        | {"compared": "Enter the speaker's sizes, and others to compare with it; then they are ranked here."},
    ),
    "no chamber fits": (
        with_chamber(speaker={"length": "220 mm", "width": "16 mm", "flange": "1 mm", "depth": "6 mm"}),
        dict.fromkeys(("response", "leaks", "heard"), NOT_YET) | {"volume": ""},
    ),
}


@pytest.mark.parametrize(("odd", "said"), ODD.values(), ids=ODD)
def test_what_is_missing_is_said(odd, said):
    of = plan(odd)
    assert {name: plain(shown(name, of)) for name in said} == said
    for name in VIEWS:
        assert isinstance(shown(name, of), str)


LOADS = [
    ({}, "Whether the decoder drives it is not known yet; enter the speaker's rated impedance."),
    ({"driver": RATED},
     "Whether the decoder drives it is not known yet; enter the least impedance on the decoder's own sheet."),
    ({"driver": RATED, "output": OUTPUT, "wiring": "sideways"},
     "the wiring is 'sideways'; write one of speaker alone."),
    ({"driver": RATED, "output": OUTPUT, "also": [{"name": "speaker", "impedance": "8 ohm"}]},
     "a set of speakers is speaker twice; it must be named apart. Give each speaker a name of its own."),
]  # fmt: skip


@pytest.mark.parametrize(("entered", "said"), LOADS)
def test_a_load_that_can_t_be_judged_says_why(entered, said):
    html = shown("load", plan(with_chamber(sound=entered)))
    assert plain(html).startswith(f"Can the decoder drive it {said} ")
    assert is_wrong(html) == ("not known yet" not in said)
    assert "Take all power off the track and the model" in plain(html)  # the cautions stay


def test_a_refused_wiring_is_named_with_its_reason():
    also = [{"name": "second", "impedance": "8 ohm"}]
    of = plan(with_chamber(sound={"driver": RATED, "output": {**OUTPUT, "least": "8 ohm"}, "also": also}))
    said = plain(shown("load", of))
    assert "Why some are refused" in said
    assert "4 ohm" in said[said.index("Why some are refused") :]  # two of 8 ohm in parallel
    assert "They must move alike" in said
    named = plan(
        with_chamber(sound={**of.job.sound.model_dump(), "wiring": next(
            each.in_words for each in of.driven.wirings if each.verdict == "refused"
        )})
    )  # fmt: skip
    assert "refused" in plain(shown("load", named))


def test_a_qtc_that_no_chamber_gives_is_said_and_the_rest_stays():
    of = plan(with_chamber(sound={"driver": {"qts": "0.9 ± 0", "fs": "500 Hz"}, "wanted_q": "0.5"}))
    said = plain(shown("volume", of))
    assert "The wanted Qtc of the speaker is 0.5; it must be above 0.9, its own Qts." in said
    assert "larger" in said
    assert not is_wrong(shown("volume", of))
    assert "-3 dB point" in plain(shown("response", of))


def test_a_resonance_far_from_any_of_its_size_is_to_be_looked_at_again():
    said = plain(shown("response", plan(with_chamber(sound={"driver": {"fs": "5 kHz"}}))))
    assert "Mind: A resonance of 5000 Hz is far above what speakers of its size have" in said
    assert "is far above" not in plain(shown("response", plan(with_chamber(sound={"driver": {"fs": "500 Hz"}}))))


def test_parameters_that_contradict_each_other_are_told_in_place_of_every_result():
    of = plan(with_chamber(sound={"driver": {"qts": "0.9 ± 0", "qes": "0.5 ± 0", "qms": "4 ± 0"}}))
    said = "the total Qts of the speaker is 0.9; it must be 0.444, as its electrical Qes of 0.5"  # 0.5 x 4 / 4.5
    for name in ("response", "volume", "leaks", "heard"):
        assert is_wrong(shown(name, of))
        assert plain(shown(name, of)).startswith(said)
    assert said in plain(shown("compared", of))  # as the reason in its row


def test_a_speaker_to_compare_that_lacks_a_size_is_named():
    of = plan(with_chamber(choices=[{"name": "half known", "length": "20 mm"}, {"name": "thin", **SIZES}]))
    said = plain(shown("compared", of))
    assert said.endswith("Not compared, as a size is missing: half known. Enter length, width, flange, depth.")
    assert "thin facing down" in said


def test_a_speaker_that_does_not_fit_says_by_how_much():
    of = plan(with_chamber(choices=[{"name": "huge", **SIZES, "length": "200 mm"}]))
    rows = re.findall(r"<tr>.*?</tr>", shown("compared", of), flags=re.DOTALL)
    assert len(rows) == 1 + 2 * len(SEATS)
    huge = [plain(row) for row in rows if "huge" in row]
    assert len(huge) == len(SEATS)
    assert all(re.search(r"\d mm too little: .+$", row) for row in huge)
    assert "huge" in rows[-1]  # what does not fit comes last


@pytest.mark.parametrize("rank", RANKS)
def test_rows_stand_in_the_order_chosen(rank):
    of = plan(DEMOS["railbus-ho"])
    rows = re.findall(r"<tr>.*?</tr>", sound.compared(of, rank), flags=re.DOTALL)[1:]
    wanted = [f"{each.name}{' (the plan' if each.own else ''}" for each in of.comparison.ranked(rank)]
    assert [plain(row).startswith(name) for row, name in zip(rows, wanted, strict=True)] == [True] * len(rows)
    scores = [each.score(rank) for each in of.comparison.ranked(rank)]
    assert scores == sorted(scores)


# The folds of the walkthrough.


@pytest.fixture
def asked(monkeypatch) -> list[str]:
    """The names of the views, as often as one is asked for."""
    calls: list[str] = []

    def counted(name: str, view: Any) -> Any:
        def asked_for(*given: Any) -> str:
            calls.append(name)
            return view(*given)

        return asked_for

    for name in VIEWS:
        monkeypatch.setattr(sound, name, counted(name, getattr(sound, name)))
    return calls


def test_folds_that_stay_shut_cost_nothing(asked):
    panel = EnclosurePanel(with_chamber())
    panel.fields["keep"].value = "3/8"
    panel.within.editors.rated.fields["impedance"].value = "8 ohm"
    assert panel.plan.job.sound.driver.impedance == "8 ohm"
    assert asked == []
    assert {"sound", "driven", "comparison"}.isdisjoint(vars(panel.plan))


def test_an_open_fold_is_worked_out_once_for_each_plan_and_alone(asked):
    panel = EnclosurePanel(with_chamber())
    panel.within.sound.sound.head.value = True
    assert asked == ["response", "load", "volume"]
    panel.within.sound.sound.head.value = False
    panel.within.sound.sound.head.value = True
    assert asked == ["response", "load", "volume"]
    panel.within.sound.leaking.head.value = True
    assert asked[3:] == ["leaks"]
    panel.within.sound.compare.head.value = True
    assert asked[4:] == ["compared"]
    panel.within.sound.sound.head.value = panel.within.sound.leaking.head.value = (
        panel.within.sound.compare.head.value
    ) = False
    panel.fields["keep"].value = "3/8"
    assert asked[5:] == []
    panel.within.sound.leaking.head.value = True
    assert asked[5:] == ["leaks"]


def test_the_impedance_typed_in_its_fold_is_answered_there():
    panel = EnclosurePanel(with_chamber())
    folds, rated = panel.within.sound, panel.within.editors.rated
    folds.sound.head.value = True
    assert "enter the speaker's rated impedance" in plain(folds.load.value)
    rated.fields["impedance"].value = "8"
    assert "it has no unit" in plain(rated.fields["impedance"].message)
    assert "enter the speaker's rated impedance" in plain(folds.load.value)
    rated.fields["impedance"].value = "8 ohm"
    assert "enter the least impedance on the decoder's own sheet" in plain(folds.load.value)
    rated.fields["least"].value = "4 ohm"
    assert "speaker alone" in plain(folds.load.value)
    assert "8.0 ohm is within the 4 ohm or more that the decoder drives." in plain(folds.load.value)
    rated.fields["least"].value = "16 ohm"
    assert "refused" in plain(folds.load.value)
    assert not any(is_wrong(each.value) for each in (folds.response, folds.volume))


def test_parameters_typed_in_the_fold_within_narrow_the_answer():
    panel = EnclosurePanel(with_chamber())
    folds, more = panel.within.sound, panel.within.editors.parameters
    folds.sound.head.value = folds.more.head.value = True
    wide = panel.plan.sound.box.f3_hz
    assert "The limits are wide" in plain(folds.response.value)
    for name, text in {"fs": "450 Hz, measured", "qts": "0.9, measured", "vas": "1.5 cm3, measured"}.items():
        more.fields[name].value = text
    narrow = panel.plan.sound.box.f3_hz
    assert narrow.high / narrow.low < wide.high / wide.low
    assert f"-3 dB point {float(f'{narrow.best:.3g}'):.0f} Hz" in plain(folds.response.value)
    more.fields["wanted_q"].value = "0.5"
    assert "it must be above 0.9, its own Qts" in plain(folds.volume.value)
    more.fields["also"].value = "second; 8 ohm"
    assert [each.name for each in panel.plan.job.sound.also] == ["second"]


def test_the_order_of_the_table_follows_the_choice():
    panel = EnclosurePanel.demo("railbus-ho")
    folds = panel.within.sound
    folds.rank.value = "loudest"  # shut: nothing to show
    assert folds.table.value == ""
    folds.compare.head.value = True
    for rank in RANKS:
        folds.rank.value = rank
        assert f"Speakers and seats, ranked by: {rank}" in plain(folds.table.value)
    panel.fields["speaker_depth"].value = "7 mm"
    assert f"ranked by: {rank}" in plain(folds.table.value)


def test_a_speaker_begun_as_an_example_is_compared():
    panel = EnclosurePanel(with_chamber())
    editor, folds = panel.within.editors.choices, panel.within.sound
    folds.compare.head.value = True
    driver = next(each for each in example_drivers() if each.name == "8 x 12 mm box speaker")
    editor.example.value = driver.name
    assert (editor.fields["length"].value, editor.fields["width"].value) == ("12 mm", "8 mm")
    assert plain(editor.note.value) == ""
    assert (editor.fields["flange"].value, editor.fields["depth"].value) == ("0.8 mm", "4.5 mm")
    assert panel.plan.job.choices == []  # a new one waits for its button
    editor.add_button.click()
    assert [each.name for each in panel.plan.job.choices] == ["8 x 12 mm box speaker (invented example)"]
    assert "8 x 12 mm box speaker (invented example) facing down" in plain(folds.table.value)
    assert (editor.place, editor.example.value, editor.example.view.layout.display) == (0, EMPTY, "none")
    editor.which.value = "new"
    assert (editor.example.view.layout.display, editor.fields["name"].value) == ("", "")
    editor.which.value = "0"
    editor.drop_button.click()
    assert "invented example" not in plain(folds.table.value)
    editor.back_button.click()
    assert "invented example" in plain(folds.table.value)


def test_an_example_chosen_by_hand_leaves_one_that_is_there_alone():
    panel = EnclosurePanel(with_chamber(choices=[{"name": "thin", **SIZES}]))
    editor = panel.within.editors.choices
    panel.within.sound.compare.head.value = True
    assert editor.place == 0
    editor.example.value = "8 mm round speaker"
    assert (editor.fields["name"].value, editor.fields["length"].value) == ("thin", "20 mm")
    assert panel.plan.job.choices[0].name == "thin"


def test_every_field_of_a_speaker_to_compare_is_on_the_page():
    panel = EnclosurePanel(with_chamber(choices=[{"name": "thin", **SIZES}]))
    editor = panel.within.editors.choices
    panel.within.sound.compare.head.value = editor.more.head.value = True
    editor.fields["rim"].value = "1 mm"
    editor.fields["xmax"].value = "0.4 mm"
    entry = panel.plan.job.choices[0]
    assert (entry.rim, entry.driver.xmax) == ("1 mm", "0.4 mm")
    editor.fields["flange"].value = "9 mm"
    assert "no thicker than the speaker's whole depth" in plain(editor.fields["flange"].message)
    assert panel.plan.job.choices[0].flange == "1 mm"


@pytest.mark.parametrize("odd", [hostile(), *(each for each, _ in ODD.values())], ids=["hostile", *ODD])
def test_every_fold_opens_on_an_odd_job(odd):
    panel = EnclosurePanel(odd)
    for fold in (*panel.within.sound.folds.values(), panel.within.sound.more):
        fold.head.value = True
    shown_there = (
        panel.within.sound.response,
        panel.within.sound.load,
        panel.within.sound.volume,
        panel.within.sound.leaks,
        panel.within.sound.table,
    )
    assert all("<script" not in each.value for each in (*shown_there, panel.within.sound.clips))


def test_another_job_chosen_takes_the_place_of_what_was_shown():
    panel = EnclosurePanel.demo("railbus-ho")
    panel.within.sound.sound.head.value = panel.within.sound.compare.head.value = True
    before = panel.within.sound.response.value, panel.within.sound.table.value
    panel.chooser.value = "switcher-ho"
    assert panel.within.sound.response.value != before[0]
    assert panel.within.sound.table.value != before[1]
    panel.chooser.value = "(new model)"
    assert panel.within.sound.response.value == panel.within.sound.table.value == panel.within.sound.load.value == ""
    panel.within.sound.rank.value = "loudest"
    assert panel.within.sound.table.value == ""
