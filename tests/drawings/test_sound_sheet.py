"""The sound in the packet, read back from the PDF: its numbers, nothing cut off or overprinted, two pages at most."""

from __future__ import annotations

import re
from functools import cache

import numpy as np
import pytest
from reportlab.platypus import CondPageBreak
from sheets import DEMOS, demo, least, opened, texts_of
from spacious import spacious

from modelmath.drawings.sheets.paper import BOTTOM, SIDE, TOP, bind, frame_size
from modelmath.drawings.sheets.sound import CHART_WIDTH, SMALLER, sound_sheet
from modelmath.job.cautions import cautions_on
from modelmath.sound.closed_box.valid import limits_in_words
from modelmath.sound.driver.driver import LABELS
from modelmath.sound.leaks.bench import CAUTIONS

OUTPUT = {"least": "4 ohm", "power": "3 W", "into": "4 ohm"}
DRIVER = {"impedance": "8 ohm", "power": "1 W", "fs": "450 Hz, measured", "qts": "0.8"}


@cache
def demo_plan(name):
    return demo(name)


@cache
def demo_pages(name, paper):
    return pages_of(demo_plan(name), paper)


def pages_of(plan, paper="A4"):
    """The sound alone on its own pages."""
    return opened(bind([CondPageBreak(0), *sound_sheet(plan, frame_size(paper)[0])], paper, "x")).pages


def text_of(pages):
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def columns_of(pages):
    """The text of what stands beside each other: below and in the charts, and to the right of them."""
    edge = SIDE + CHART_WIDTH * SMALLER + 2
    sides = [((0, 0, edge, page.height), (edge, 0, page.width, page.height)) for page in pages]
    return [closed_up("".join(page.crop(box).extract_text() for page, box in zip(pages, boxes, strict=True)))
            for boxes in zip(*sides, strict=True)]  # fmt: skip


def closed_up(text):
    return "".join(text.split())


def sounding(driver=DRIVER, output=OUTPUT, **fields):
    return spacious(sound={"driver": driver, "output": output, **fields})


@pytest.mark.parametrize("name", DEMOS)
def test_it_takes_two_pages_at_most_and_cuts_nothing_off(name, paper):
    pages = demo_pages(name, paper)
    assert 1 <= len(pages) <= 2
    for page in pages:
        for each in [*page.chars, *page.lines, *page.curves, *page.rects]:
            assert each["x0"] >= SIDE - 0.5
            assert each["x1"] <= page.width - SIDE + 0.5
            assert each["top"] >= TOP - 0.5
        body = [each for each in page.chars if each["size"] > 8.01 or each["bottom"] < page.height - BOTTOM]
        assert max(each["bottom"] for each in body) <= page.height - BOTTOM + 0.5


@pytest.mark.parametrize("name", DEMOS)
def test_no_word_lies_on_another(name, paper):
    for page in demo_pages(name, paper):
        found = page.extract_words(use_text_flow=True)
        left, top, right, low = np.array([[each[key] for key in ("x0", "top", "x1", "bottom")] for each in found]).T
        inset = 0.25 * (low - top)  # a line of letters is lower than its box
        top, low = top + inset, low - inset
        meet = (left[:, None] < right - 0.3) & (left < right[:, None] - 0.3)
        meet &= (top[:, None] < low) & (top < low[:, None])
        pairs = [(found[a]["text"], found[b]["text"]) for a, b in np.argwhere(np.triu(meet, 1))]
        assert not pairs


@pytest.mark.parametrize("name", DEMOS)
def test_it_says_the_plan_s_numbers_parameters_and_limits(name):
    plan = demo_plan(name)
    text = text_of(demo_pages(name, "A4"))
    shut = closed_up(text)
    assert text.startswith("Sound The ")
    assert "worked out by theory, neither heard nor measured" in text
    for title in ("What more volume would buy", "Can the decoder drive it", "Seal it", "A leak test before closing"):
        assert title in text
    shown = ["-3 dB point", "chamber resonance", "Qtc", "peak", "level for 1 W at 1 m"]
    shown += [each for each in ("speaker power", "cone travel in the chamber", "power that Xmax allows")
              if each in plan.figures]  # fmt: skip
    for each in shown:
        best, _, limits = plan.figures[each].value.partition(", ")
        assert closed_up(best) in shut
        assert closed_up(limits) in shut
    for field, known in plan.sound.driver.parameters:
        figure = plan.figures[f"speaker: {LABELS[field]}"]
        assert closed_up(f"{LABELS[field]} {figure.value}") in shut
        assert known.origin in text
    count = len(plan.sound.assumed)
    assert f"{count} parameter{' was' if count == 1 else 's were'} estimated" in text
    assert f"theory holds to {plan.sound.valid_to_hz:.0f} Hz" in text
    below, beside = columns_of(demo_pages(name, "A4"))
    assert closed_up(limits_in_words(plan.sound.longest_mm)) in below
    assert closed_up(plan.sound.curve.in_words) in beside
    assert closed_up(plan.sound.wanted) in beside


@pytest.mark.parametrize("name", DEMOS)
def test_it_says_what_to_seal_and_how_to_test_with_every_caution(name):
    found = demo_plan(name).sound.leaking
    shut = closed_up(text_of(demo_pages(name, "Letter")))
    assert closed_up(found.sealing.in_words) in shut
    for number, step in enumerate(found.test.steps, start=1):
        assert closed_up(f"{number}. {step}") in shut
    for each in CAUTIONS:
        assert closed_up(each) in shut
    never = re.search(r"Nevermorethan(\d+(?:\.\d+)?)mmofwater", shut)
    assert float(never[1]) == pytest.approx(found.test.allowed_mm_water, rel=0.051)
    for each in cautions_on("speaker", "electricity"):
        assert closed_up(each.text) in shut


def test_only_limits_that_lie_far_apart_are_called_wide():
    wide = "They are wide, for little of this speaker is known"
    assert wide in text_of(demo_pages("switcher-ho", "A4"))
    assert wide not in text_of(demo_pages("gas-electric-o", "A4"))


def test_several_wirings_are_a_table_with_reasons_and_polarity():
    """8 and 4 ohm: 12 ohm in series, 2.67 ohm in parallel, below the 4 ohm allowed."""
    plan = sounding(also=[{"name": "cab", "impedance": "4 ohm", "power": "1 W"}])
    text = text_of(pages_of(plan))
    assert "Wiring Impedance Power Each speaker gets Level Verdict" in text
    assert re.search(r"Refused, .* in parallel: 2\.7 ohm is below the 4 ohm that the decoder drives at least", text)
    assert "All cones must move outward together" in text
    assert "12.0 ohm" in text
    alone = text_of(pages_of(sounding()))
    assert "Wiring: " in alone
    assert "Each speaker gets" not in alone
    assert "All cones" not in alone


def test_of_many_wirings_the_best_are_shown_and_the_rest_counted():
    also = [{"name": f"cab {number}", "impedance": ohm} for number, ohm in enumerate(("4 ohm", "16 ohm"))]
    plan = sounding(also=also, stuffing="filled", wanted_q="0.7")
    left = plan.driven.wirings[3:]
    refused = sum(each.impedance_ohm < 4 for each in left)
    assert 0 < refused < len(left)
    pages = pages_of(plan, "Letter")
    assert len(pages) == 2
    said = f"{len(left)} more, none better and {refused} of them refused, stand in the walkthrough."
    assert said in text_of(pages)


def test_what_is_missing_for_the_load_is_asked_for():
    text = text_of(pages_of(sounding(output={})))
    assert (
        "Whether the decoder drives it is not known yet; enter the least impedance on the decoder's own sheet." in text
    )
    assert "Speaker power" not in text


def test_leaks_of_a_filled_chamber_start_from_its_own_cutoff():
    plan = sounding(stuffing="filled")
    assert f"moves the -3 dB point of {plan.sound.box.f3_hz.best:.0f} Hz by 5 %" in text_of(pages_of(plan))


def test_a_runner_up_that_draws_the_same_curve_is_left_out():
    plan = demo_plan("gas-electric-o")
    assert plan.sound.runner_up is not None
    assert "the next largest chamber" not in text_of(demo_pages("gas-electric-o", "A4"))


def test_without_a_chamber_that_holds_the_speaker_there_is_nothing():
    width = frame_size("A4")[0]
    assert sound_sheet(least(), width) == []
    assert sound_sheet(spacious(speaker=None), width) == []
    assert not [text for text in texts_of(least()) if text.startswith("Sound")]


def test_in_the_packet_it_stands_between_the_light_and_the_build_order():
    pages = texts_of(demo_plan("railcar-n"))
    (first,) = [number for number, text in enumerate(pages) if text.startswith("Sound\n")]
    lit, *_ = [number for number, text in enumerate(pages) if text.startswith("Light and wiring\n")]
    order, *_ = [number for number, text in enumerate(pages) if text.startswith("Build order")]
    assert lit < first < order


def test_what_can_t_be_worked_out_says_why_and_the_rest_of_the_packet_stands():
    """1/Qts = 1/2 + 1/4 gives 1.33, not 0.8."""
    document = {"driver": {"qts": "0.8", "qes": "2", "qms": "4"}}
    text = " ".join(" ".join(texts_of(demo("railcar-n", sound=document))).split())
    assert "Sound Not worked out: " in text
    assert "Build order" in text
