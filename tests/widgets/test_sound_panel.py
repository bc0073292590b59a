"""The page that tells what a chamber will do, driven in Python."""

from __future__ import annotations

import re
from html import unescape

import pytest
from published import published_rows

from modelmath.errors import UnknownChoice
from modelmath.job.entries.chamber_sound import FIELDS
from modelmath.widgets import SoundPanel
from modelmath.widgets.sound import OLD

POINT = "The -3 dB point is the pitch below which less than half the power comes out."
HOSTILE = "<img src=x onerror=alert(1)>"
FREE = [name for name in FIELDS if name != "stuffing"]


def plain(html):
    html = re.sub(r"<svg.*?</svg>", " ", html, flags=re.DOTALL)
    return " ".join(unescape(re.sub(r"<[^>]+>|&nbsp;", " ", html)).split())


def opened(panel, name):
    panel.folds[name].head.value = True
    return plain(panel.folds[name].place.value)


@pytest.fixture
def panel():
    return SoundPanel()


@pytest.fixture(scope="module")
def shared():
    """One panel for all tests that put back what they change."""
    return SoundPanel()


def test_six_entries_answer_at_once_and_say_what_is_not_known(panel):
    first = panel.view.children[1]
    assert len(first.children) == 6
    said = plain(panel.answer.value)
    assert re.match(r"Below about \d+ Hz its sound fades fast: .*\. Can the decoder drive it ", said)
    assert re.search(r"-3 dB point \d+ Hz, somewhere from \d+ to \d+ Hz; .* Resonance in the chamber, fc", said)
    for name in ("Qtc", "Level for 1 W at 1 m", "Cone travel at 1 W, one way, from 100 Hz up", "Can the decoder drive"):
        assert name in said
    assert "Fits by impedance; power not judged." in said
    assert "The resonance fs of the speaker is taken as" in said  # marked as estimated, with its limits
    assert panel.charts.value.count("<svg") == 2
    assert "The chamber is 30 mm long inside: up to about 1800 Hz its air acts as one spring" in plain(
        panel.charts.value
    )


@pytest.mark.parametrize("row", published_rows("closed_box_examples.csv")[:4], ids=lambda row: row["id"])
def test_a_known_speaker_has_what_small_gives(row):
    """Relations of Small 1972 on invented inputs; CB5 is of a 200 mm cone, which these outside sizes can't hold."""
    *known, volume = re.findall(r"=([\d.]+ ?\w*)", row["inputs"])
    fs, qts, vas = (re.sub(r"^([\d.]+)", r"\1 ± 0", each) for each in known)  # no limits but these
    panel = SoundPanel({"fs": fs, "qts": qts, "vas": vas, "chamber": volume})
    said = plain(panel.answer.value)
    assert f"-3 dB point {float(row['f3_hz']):.0f} Hz; the pitch below which" in said
    assert f"Resonance in the chamber, fc {float(row['fc_hz']):.0f} Hz; the pitch at which" in said
    assert f"Total Q in the chamber, Qtc {float(row['Qtc']):.2f}; how much it rings there" in said
    assert f"Peak {float(row['peak_dB']):.1f} dB; how far" in said
    assert panel.summary.startswith(f"-3 dB point: {float(row['f3_hz']):.0f} Hz.\nResonance: ")


def test_a_width_left_empty_is_a_round_speaker(panel):
    panel.fields["width"].value = ""
    assert plain(panel.fields["width"].message).startswith("round, 15.00 mm across")
    assert panel.found.given.round


NO_UNIT = "it has no unit; write"
WRONG = {
    "length": ("15", f"'15': {NO_UNIT} .59 in or 15 mm."),
    "width": ("0 mm", "'0 mm': it is not above 0; write .59 in or 15 mm."),
    "impedance": ("8", f"'8': {NO_UNIT} a number with its unit, such as 8 ohm."),
    "power": ("1 V", "'1 V': 'V' is no unit of power; those are W, mW, watt, watts; write"),
    "chamber": ("2.5", f"'2.5': {NO_UNIT} a volume, such as 2.5 cm3, or inside length, width and height, such as"),
    "least": ("-4 ohm", "the quantity is '-4 ohm'; it must be above 0."),
    "fs": ("450", f"'450': {NO_UNIT} a number with its unit, such as 450 Hz."),
    "qts": ("0.9 Hz", "'0.9 Hz': 'Hz' stands behind a ratio, which has no unit; write"),
    "qes": ("nan", "'nan': it has no number where one is due; write a number, such as 0.7."),
    "qms": ("1e3", "'1e3': powers of ten are not read here; write"),
    "vas": ("2 gallons", "'2 gallons': 'gallons' is no unit of volume;"),
    "sd": (
        "900 mm2",
        "the cone area Sd of the speaker is 900 mm2; it must be within its outside size (165 mm2); it is",
    ),
    "re": ("30 ohm", "the voice coil resistance Re of the speaker is 30 ohm; it must be from"),
    "xmax": ("0.4", "'0.4': it has no unit"),
    "mms": ("x", "'x': it has no number where one is due; write a number with its unit, such as 0.08 g."),
    "out_power": ("2", f"'2': {NO_UNIT} a number with its unit, such as 1 W."),
    "into": ("eight ohm", "'eight ohm': it has no number where one is due;"),
    "most": (
        "2 ohm",
        "the greatest impedance of the decoder is 2 ohm; it must be 4 ohm, its least impedance, or more.",
    ),
    "supply": ("14", f"'14': {NO_UNIT} a number with its unit, such as 2.5 V."),
    "drop": ("0 V", "the quantity is '0 V'; it must be above 0, its lower limit too."),
    "wanted_q": ("0", "the quantity is '0'; it must be above 0, its lower limit too."),
    "longest": ("2 m", "a size is 2000 mm; it must be up to 1000 mm. Check its unit."),
    "wall": ("thin", "'thin':"),
    "joint": ("40", f"'40': {NO_UNIT} .59 in or 15 mm."),
    "hole": ("-1 mm", "'-1 mm': it is not above 0; write .59 in or 15 mm."),
    "count": ("7", "the number of like speakers is '7'; it must be a whole number from 1 to 6. Write 1 or 2."),
    "also": (
        "rear",
        "another speaker is 'rear'; it must be its name, its impedance and, where known, its power, with semicolons",
    ),
}


def test_every_field_has_its_wrong_entry():
    assert set(WRONG) == set(FREE)


@pytest.mark.parametrize("name", FREE)
def test_a_wrong_entry_is_said_at_its_field_and_the_last_answer_kept(shared, name):
    panel = shared
    folds = [fold for fold in panel.folds.values() if name in fold.fields]
    before, charts = panel.answer.value, panel.charts.value
    field = panel.fields[name]
    good, (field.value, said) = field.value, WRONG[name]
    assert plain(field.message).startswith(said)
    assert 'role="alert"' in field.message
    assert sum('role="alert"' in each.message for each in panel.fields.values()) == 1
    assert plain(panel.answer.value) == f"{OLD} {plain(before)}"
    assert plain(panel.charts.value) == f"{OLD} {plain(charts)}"
    assert all(fold.head.value for fold in folds)  # never out of sight
    field.value = good
    assert 'role="alert"' not in field.message
    assert panel.answer.value == before
    for fold in folds:
        fold.head.value = False


def test_hostile_text_is_text(panel):
    opened(panel, "decoder")
    texts = (f"{HOSTILE}; 8 ohm", f"{HOSTILE}\n" * 9, "9" * 5000, "\u202e8 ohm")
    for name in FREE:
        field = panel.fields[name]
        good = field.value
        for text in texts:
            field.value = text
            shown = [each.message for each in panel.fields.values()]
            shown += [panel.answer.value, panel.charts.value, *(fold.place.value for fold in panel.folds.values())]
            assert "<img" not in "".join(shown)
            assert 'role="alert"' in field.message or (name == "also" and text == f"{HOSTILE}; 8 ohm")  # an odd name
        field.value = good


def test_two_parameters_that_contradict_each_other_are_said_at_one_of_them(panel):
    f = panel.fields
    f["qes"].value, f["qms"].value, f["qts"].value = "1 ± 0", "4 ± 0", "0.99 ± 0"
    assert plain(f["qts"].message).startswith("the total Qts of the speaker is 0.99; it must be 0.8, as its electrical")
    f["qts"].value = "0.8 ± 0"
    assert 'role="alert"' not in f["qts"].message
    assert panel.found.driver.known("qts").value == 0.8


def test_with_nothing_entered_it_says_what_is_still_to_enter(panel):
    for name in FREE:
        panel.fields[name].value = ""
    assert plain(panel.answer.value) == (
        "Still to enter: the speaker's outside length and width, or its diameter; the chamber, by its volume or its "
        "inside sizes. Can the decoder drive it Whether the decoder drives it is not known yet; enter the speaker's "
        "rated impedance."
    )
    assert panel.charts.value == ""
    assert panel.summary == "Nothing is worked out yet."
    for name in panel.folds:
        said = opened(panel, name)
        start = (
            "Whether the decoder drives it is not known yet" if name == "decoder" else "Still to enter: the speaker's"
        )
        assert said.startswith(start)
    panel.fields["sd"].value, panel.fields["chamber"].value = "95 mm2", "2 cm3"  # a cone's area does as well
    assert plain(panel.answer.value).startswith("Below about")


def test_the_load_is_told_before_there_is_a_chamber(panel):
    panel.fields["chamber"].value = ""
    assert "Fits by impedance; power not judged." in plain(panel.answer.value)
    panel.fields["least"].value = "16 ohm"
    assert "Refused. 8.0 ohm is below the 16 ohm that the decoder drives at least" in plain(panel.answer.value)


def test_several_speakers_get_every_wiring_with_its_reason():
    """Ohm's and Kirchhoff's laws: two of 8 ohm in series 16, in parallel 4; 2 W into 8 ohm is 1 W into 16, shared."""
    entries = {"least": "8 ohm", "count": "2", "out_power": "2 W", "into": "8 ohm"}
    panel = SoundPanel(entries)
    answer = plain(panel.answer.value)
    assert "Two in series: fits." in answer
    assert "Level at 1 m for 0.5 W, what the decoder gives speaker 1" in answer
    said = opened(panel, "decoder")
    assert "two in series 16.0 ohm 1.00 W 0.50 W each, rated 1 W +0.0 dB fits" in said
    assert "two in parallel: 4.0 ohm is below the 8 ohm that the decoder drives at least" in said
    panel.fields["also"].value = "rear; 4 ohm; 1 W"
    assert "rear" in plain(panel.folds["decoder"].place.value)
    panel.fields["count"].value = "6"
    assert 'role="alert"' in panel.fields["also"].message  # too many that are not alike


def test_the_power_it_is_judged_at_is_the_decoders_then_the_rated_one_then_none(panel):
    assert "Cone travel at 1 W" in plain(panel.answer.value)
    panel.fields["out_power"].value, panel.fields["into"].value = "0.5 W", "8 ohm"
    assert "Level at 1 m for 0.5 W, what the decoder gives it" in plain(panel.answer.value)
    panel.fields["out_power"].value = panel.fields["into"].value = panel.fields["power"].value = ""
    assert "Cone travel at" not in plain(panel.answer.value)


def test_a_wanted_q_below_the_speakers_own_is_explained(panel):
    f = panel.fields
    f["qts"].value, f["wanted_q"].value = "0.9", "0.8"
    said = opened(panel, "wanted")
    assert "A larger one is always flatter" in said.replace("a larger", "A larger")
    assert "The chamber at hand, 3.24 cm3, gives a Qtc of" in said
    f["stuffing"].value = "filled"
    assert "Filling: " in plain(panel.folds["wanted"].place.value)


def test_leaks_are_those_of_the_chamber_as_it_is_filled(panel):
    unfilled = panel.found.leaking
    panel.fields["stuffing"].value = "filled"
    filled = panel.found.leaking
    assert filled.effects[0][1].fc_hz < unfilled.effects[0][1].fc_hz  # it acts larger
    # The test's slow air fills the chamber as it is: only the widest hole allowed differs.
    assert filled.test.to_limit_ml == pytest.approx(unfilled.test.to_limit_ml)


def test_leaks_follow_from_the_walls_and_the_hole(panel):
    said = opened(panel, "leaks")
    assert said.startswith(f"{POINT} With a hole of 2 mm left open, nothing in it: ")
    assert "along a joint of 42 mm" in said  # by hand: 2 x (12 + 9) mm
    assert "Gentle pressure only, from the syringe" in said
    panel.fields["hole"].value, panel.fields["joint"].value = "", "100 mm"
    said = plain(panel.folds["leaks"].place.value)
    assert said.startswith(f"{POINT} With a gap of 0.1 mm along a joint of 100 mm")


def test_a_chamber_too_large_to_leak_says_so(panel):
    panel.fields["chamber"].value = "900 x 900 x 900 mm"
    assert plain(panel.answer.value).startswith("Below about")
    for name in panel.folds:
        assert opened(panel, name)


def test_where_only_the_volume_is_known_the_length_is_asked_for(panel):
    panel.fields["chamber"].value = "2.5 ± 0.2 cm3"
    assert plain(panel.fields["chamber"].message).startswith("2.5 cm3, 2.3 to 2.7 cm3")
    assert "longest inside length is not entered" in opened(panel, "theory")
    panel.fields["longest"].value = "40 mm"
    assert plain(panel.folds["theory"].place.value).startswith("The chamber is 40 mm long inside")
    panel.fields["chamber"].value = "30 x 12 x 9 mm"
    assert plain(panel.fields["longest"].message).startswith("counted from the sizes: 30 mm")


def test_parameters_are_shown_with_where_they_come_from(panel):
    panel.fields["fs"].value = "450 ± 30 Hz, measured"
    said = opened(panel, "speaker")
    assert "resonance fs 450 Hz 420 Hz to 480 Hz measured" in said
    assert "rated impedance 8 ohm none known given" in said
    assert "electrical Qes" in said
    assert "derived: 1/Qts = 1/Qes + 1/Qms" in said


def test_it_is_heard_through_both_chambers_only_once_opened(panel):
    assert panel.folds["hear"].place.value == ""
    opened(panel, "hear")
    assert panel.folds["hear"].place.value.count("<audio controls") == 6
    panel.fields["chamber"].value = "nonsense"
    assert plain(panel.folds["hear"].place.value).startswith(OLD)


def test_folds_are_worked_out_once_opened_and_again_only_for_other_entries(panel):
    assert all(fold.place.value == "" for fold in panel.folds.values())
    first = opened(panel, "theory")
    panel.folds["theory"].head.value = False
    panel.fields["chamber"].value = "60 x 12 x 9 mm"
    assert plain(panel.folds["theory"].place.value) == first
    assert opened(panel, "theory").startswith("The chamber is 60 mm long inside")


def test_it_begins_with_entries_of_ones_own():
    assert SoundPanel({"chamber": "3 cm3", "stuffing": "filled"}).found.stuffing.name == "filled"
    with pytest.raises(
        UnknownChoice,
        match=r"^an entry of this page is 'colour'; write one of length, .*, also\. Did you mean 'count'\?$",
    ):
        SoundPanel({"colour": "green"})
