"""Each step of risk carries its caution: in the build order, on the sheet and on the page where the step is told.

What calls for a caution is read off the words of a step or of a place, so that a new step can't come without its own.
Which caution goes with what: common practice, no source.
"""

from __future__ import annotations

import re

import pytest
from crowded import crowded
from page_texts import names, open_folds, page_text, text_of, walked
from reportlab.platypus import KeepTogether, Paragraph, Table
from sample_jobs import DEMOS, with_chamber
from sheets import least
from spacious import facing

from modelmath import plan
from modelmath.drawings.sheets.packet import SHEETS
from modelmath.drawings.sheets.paper import frame_size
from modelmath.drawings.sheets.style import held_in
from modelmath.job.building.network import one_pair_of_hands, tasks_of
from modelmath.job.cautions import cautions, cautions_on
from modelmath.materials.drills.sets import FRAGILE_CAUTION

# What a step asks for, by its words, and the topics of which one at least has to be with it.
ASKS = (
    (r"\b[Cc]ut (every|the|off)\b|\b[Tt]rim\b|\bfresh blade\b|^Thin\b", ("knife",)),
    (r"\b[Dd]rill (the|these)\b", ("small drills",)),
    (r"\b[Ss]and\b|^Thin\b|\bfit the floor plates\b", ("sanding",)),
    (r"\b[Gg]lue (the|them)\b", ("solvent cement",)),
    (r"\bglue that has no solvent\b|\bsealant\b", ("glue and sealant",)),
    (r"\bsolvent flash off\b", ("solvent cement",)),
    (r"\bBlacken\b|\bpaint\b", ("paint",)),
    (r"\bflame\b", ("flame",)),
    (r"\bwarm air\b|\bhot water\b", ("hot air and water",)),
    (r"\b[Ss]older\b|\bhot iron\b", ("hot iron",)),
    (r"\bshell (straight up|off)\b|\bTake all power off\b|\blive frame\b", ("electricity",)),
    (r"\bStick the .*decoder\b", ("electricity",)),
    (r"\bTest every lamp\b|\bplay a sound\b", ("power with the shell off",)),
    (r"\bplay a sound\b", ("loud sound",)),
    (r"\bTake all power off again\b", ("keep-alive",)),
    (r"\bdrive in the screws\b", ("electricity",)),
    (r"\blamp on its output\b|\bresistor to its lamp\b", ("lamps",)),
    (r"\bspeaker's wires\b", ("speaker",)),
    (r"\bbed its flange\b", ("magnet",)),
)
# Checks that ask for something of their own.
CHECKED = (("each strand lights", "lamps"),)


PLANS = {
    **{name: lambda name=name: plan(DEMOS[name]) for name in DEMOS},
    "the least": least,
    "a chamber alone": lambda: plan(with_chamber()),
    "crowded": crowded,
    "facing up": lambda: facing("up"),
    "facing the front": lambda: facing("front"),
}


@pytest.mark.parametrize("name", PLANS)
def test_each_step_has_the_cautions_that_its_words_ask_for(name):
    steps = PLANS[name]().steps
    lacking = [
        (step.text, topics)
        for step in steps
        for words, topics in ASKS
        if re.search(words, step.text) and not set(topics) & set(step.topics)
    ]
    lacking += [
        (step.text, topic)
        for step in steps
        for check, topic in CHECKED
        if check in step.checks and topic not in step.topics
    ]
    assert lacking == []


def test_every_word_of_risk_is_in_some_step():
    """Else a pattern above has gone stale, and would find nothing whatever a step said."""
    texts = [step.text for made in PLANS.values() for step in made().steps]
    assert [words for words, _ in ASKS if not any(re.search(words, text) for text in texts)] == []


def test_a_saw_is_spoken_of_only_where_a_cut_takes_something():
    def cut(job):
        return next(step for step in plan(job).steps if step.key == "cut")

    assert "saw" in cut(DEMOS["gas-electric-o"]).topics  # 0.8 mm a cut
    assert "saw" not in cut(DEMOS["centre-cab-s"]).topics  # scored and snapped


HOT, WET = {"flame", "hot iron", "hot air and water"}, {"solvent cement", "paint"}


@pytest.mark.parametrize("name", PLANS)
def test_no_flame_and_no_iron_is_at_work_while_solvent_is_about(name):
    """Not beside a bond that dries, nor between two of them: from the first of them on until all has flashed off."""
    steps = {step.key: step for step in PLANS[name]().steps}
    booked = one_pair_of_hands(tasks_of(tuple(steps.values())))
    wet = [each for each in booked if WET & {*steps[each.task.key].topics}]
    if not wet:
        return
    begun, gone = min(each.start_min for each in wet), max(each.over_min for each in wet)
    hot = [each for each in booked if HOT & {*steps[each.task.key].topics}]
    assert [each.task.key for each in hot if each.start_min < gone and begun < each.over_min] == []


def test_power_and_what_is_stored_come_before_all_else():
    for made in PLANS.values():
        first = made().steps[0]
        assert {"electricity", "keep-alive"} <= set(first.topics)


# On the pages: of each the topics of what is done with what it tells.

ON_PAGES = {
    "calibrate": (),
    "clearance": (),
    "cuts": ("knife", "saw", "sanding", "small parts"),
    "drawer": (),
    "drills": ("small drills",),
    "enclosure": tuple(dict.fromkeys(each.topic for each in cautions())),  # all of them, beside their steps
    "fleet": ("electricity", "knife", "saw"),
    "light": ("knife", "small drills", "flame", "hot iron", "electricity", "keep-alive", "lamps"),
    "measure": ("electricity", "magnet"),
    "moving": ("electricity",),
    "names": (),
    "prototype": (),
    "readings": (),
    "sound": ("electricity", "speaker", "magnet"),
    "strips": ("solvent cement", "knife", "sanding", "metal", "glue and sealant"),
    "tables": (),
}
# Words that tell somebody to do what can hurt; a page without cautions may not have them.
RISKY = (
    r"\b([Gg]lue them|[Ss]and \d|[Ss]older|[Ff]lame-form|[Mm]elt \d|[Dd]rill these|[Ss]core and snap)\b"
    r"|[Ss]et the rule at"
)


def closed_up(text: str) -> str:
    return " ".join(text.split())


def test_every_page_is_listed():
    assert sorted(ON_PAGES) == names()


@pytest.mark.parametrize("name", ON_PAGES)
def test_each_page_has_the_cautions_of_what_it_tells(name):
    said = closed_up(page_text(name))
    assert [each.text for each in cautions_on(*ON_PAGES[name]) if each.text not in said] == []


# The names of what can be called are no instruction; clearance and tables tell where a rule is set, and nothing is cut.
TELLS_SIZES = ("clearance", "names", "tables")


@pytest.mark.parametrize("name", [each for each in ON_PAGES if not ON_PAGES[each] and each not in TELLS_SIZES])
def test_a_page_without_cautions_tells_nobody_to_do_what_can_hurt(name):
    assert re.search(RISKY, page_text(name)) is None


# In the walkthrough each fold has those of what it tells, since nobody opens all of them.

IN_FOLDS = {
    "zones": ("electricity",),
    "obstacles": ("metal", "electricity"),
    "parts": ("sanding", "solvent cement"),
    "holes": ("small drills",),
    "weight": ("metal", "lead weight"),
    "sound": ("speaker", "magnet", "electricity"),
    "light": ("lamps", "hot iron", "keep-alive"),
    "strands": ("knife", "small drills", "hot air and water", "flame", "hot iron"),
    "wiring": ("knife", "hot iron", "electricity"),
    "exports": ("cutting beam", "knife", "sanding"),
}


@pytest.fixture(scope="module")
def walkthrough():
    """On the demo that has most of it: bends formed with heat, a keep-alive, leads, two speakers."""
    from modelmath.widgets.enclosure import EnclosurePanel

    return EnclosurePanel(DEMOS["gas-electric-o"])


@pytest.mark.parametrize("name", IN_FOLDS)
def test_each_fold_of_the_walkthrough_has_its_own(walkthrough, name):
    fold = walkthrough.folds[name]
    open_folds(fold.view)
    said = closed_up(text_of(fold.view))
    assert [each.text for each in cautions_on(*IN_FOLDS[name]) if each.text not in said] == []


def test_the_first_screen_has_those_for_its_readings_and_its_cuts(walkthrough):
    said = closed_up(text_of(walkthrough.parts))
    assert [each.text for each in cautions_on("knife", "saw") if each.text not in said] == []
    shown = list(walked(walkthrough.view))
    head = next(each for each in shown if getattr(each, "description", "") == "Where to measure")
    fold = next(each for each in shown if head in getattr(each, "children", ()))
    head.value = True
    assert cautions_on("electricity")[0].text in closed_up(text_of(fold))


# On paper: of each sheet of the packet.

ON_SHEETS = {
    "gas-electric-o": {
        "Parts": ("knife", "sanding", "solvent cement"),
        "Strips": ("knife", "sanding"),
        "Drills and holes": ("small drills",),
        "Templates": ("knife", "small drills"),
        "Cut plan": ("knife", "saw"),
        "Sheet layout": ("knife",),
        "Light and wiring": (
            "lamps", "hot iron", "keep-alive", "electricity", "knife", "flame", "hot air and water", "small drills",
        ),
        "Sound": ("speaker", "electricity"),
    },
    "railmotor-oo": {"Weight": ("lead weight", "metal"), "Build order": ("paint", "solvent cement", "flame")},
}  # fmt: skip
TELLS_NUMBERS = ("Overview", "Where each number comes from")  # figures before and behind the steps


def written(flowable) -> str:
    """The words of what stands on a sheet."""
    if isinstance(flowable, Paragraph):
        return flowable.getPlainText()
    if isinstance(flowable, KeepTogether):
        return " ".join(map(written, held_in(flowable)))
    if isinstance(flowable, (list, tuple)):
        return " ".join(map(written, flowable))
    if isinstance(flowable, Table):
        return " ".join(written(cell) for row in flowable._cellvalues for cell in row)
    return flowable if isinstance(flowable, str) else ""


@pytest.fixture(scope="module")
def sheets():
    """Of each demo asked for, the words of every sheet by its title."""
    size = frame_size("A4")
    return {
        name: {each.title: closed_up(written(each.sheet(plan(DEMOS[name]), size[0]))) for each in SHEETS}
        for name in ON_SHEETS
    }


@pytest.mark.parametrize(("name", "title"), [(name, title) for name, found in ON_SHEETS.items() for title in found])
def test_each_sheet_has_the_cautions_of_what_it_tells(sheets, name, title):
    said = sheets[name][title]
    assert [each.text for each in cautions_on(*ON_SHEETS[name][title]) if each.text not in said] == []


@pytest.mark.parametrize("name", ON_SHEETS)
def test_a_sheet_without_cautions_tells_nobody_to_do_what_can_hurt(sheets, name):
    free = {title: said for title, said in sheets[name].items() if "Caution" not in said and title not in TELLS_NUMBERS}
    assert {title: re.findall(RISKY, said) for title, said in free.items() if re.search(RISKY, said)} == {}


# The table.


def test_a_caution_defers_or_says_what_to_do_in_plain_sentences():
    for each in cautions():
        assert each.text[0].isupper()
        assert each.text.endswith(".")
        assert len(each.text) <= 250
        assert "!" not in each.text


@pytest.mark.parametrize(
    ("topic", "words"),
    [
        ("solvent cement", "label"),
        ("glue and sealant", "label"),
        ("paint", "label"),
        ("small drills", "the tool's own instructions"),
        ("electricity", "licensed practice and local codes"),
        ("power with the shell off", "as its own sheet says"),
        ("speaker", "check both sheets"),
        ("cutting beam", "the machine's own instructions"),
        ("flame", "the instructions of the strand's and the tool's makers"),
        ("hot iron", "its maker's instructions"),
        ("keep-alive", "as the decoder's sheet says"),
        ("numbers", "local codes and the makers' own instructions"),
    ],
)
def test_it_defers_to_label_sheet_and_code(topic, words):
    assert any(words in each.text for each in cautions_on(topic))


def test_a_thin_drill_has_one_caution_wherever_it_is_told():
    thin, any_drill = cautions_on("small drills")
    assert thin.text == FRAGILE_CAUTION
    assert any_drill.text.startswith("Any drill grabs")
