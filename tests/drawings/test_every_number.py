"""Every number in the packet is carried by a figure whose chain ends in entries, or in a table that is named."""

from __future__ import annotations

import re
from collections import Counter
from functools import cache

import pytest
from printed_numbers import Printed, printed
from sample_jobs import job, with_chamber
from sheets import DEMOS, demo, least
from sheets import packet as packet_of
from spacious import CLIP, POST, spacious

from modelmath.drawings.sheets import packet
from modelmath.drawings.sheets.packet import Section
from modelmath.drawings.sheets.style import BODY, PAGE, words
from modelmath.job import plan as plan_of
from modelmath.job.cautions import cautions
from modelmath.job.why import numbers_in
from modelmath.job.why.finding import carried_by

FIGURES = "Where each number comes from"  # the figures themselves
LENGTH = re.compile(r"-?\d+\.\d\d")  # in a drawing without its unit: a length in mm, to a hundredth
TICK = "[☐☑☒]"

# What is no result, by pattern, each with the reason. A pattern takes away only what it matches; the rest is looked up.
NO_RESULT = (
    (rf"^\d+ {TICK}", "the number of a step and its box: a place in a list"),
    (r"\(step \d+\)|after step \d+|steps? \d+(, \d+)*\.", "a step named by its number"),
    (r"^\d\. ", "the number of a line in a list"),
    (r"^[Ss]trip \d+|from strip \d+|^Sheet \d+", "the number that a strip or a sheet goes by"),
    (r"-3 dB|1 W at 1 m", "part of a name: half the power; one watt heard at one metre"),
    (r"(?:IEC|ISO) [\d-]+", "the number of a standard"),
    (r", 2 standard uncertainties", "says how a line of the chart is drawn"),
    (r"0\.71 is flat|, 100 Hz up", "says how a number is read: the flat Qtc, from where the travel is counted"),
    (r"10 ml syringe|for ten minutes", "a thing to take"),
)
# The same for texts in drawings only.
NO_RESULT_DRAWN = (
    (r"^-?\d+(\.\d)?( k)?$|^0: ", "the number of an axis, of a rule's mark, of a snap or of a step"),
    (r"^\d+ (?=[a-z])|(?<=; )\d+ (?=[a-z])|; \d+$", "the number of a step or of a stretch, before its name"),
)
# And by section.
NO_RESULT_IN = {"Sheet layout": ((r"^\d+$", "the number of a snap, before its setting"),)}


def results_in(text: Printed, plan) -> tuple[str, ...]:
    """The numbers of a text that are results."""
    left = text.text
    table = [text for each in cautions() for text in (each.text, each.source)]  # the same for every job
    for told in (plan.job.name, plan.job.demo, plan.job.notes, *table):  # the first three are the user's own words
        left = left.replace(told, "") if told and any(each.isdigit() for each in told) else left
    there = [each for section, found in NO_RESULT_IN.items() if text.section.startswith(section) for each in found]
    for pattern, _ in (*NO_RESULT, *(NO_RESULT_DRAWN if text.drawn else ()), *there):
        left = re.sub(pattern, "", left)
    found = numbers_in(left, "" if text.drawn else text.unit)
    return tuple(f"{each} mm" if text.drawn and LENGTH.fullmatch(each) else each for each in found)


@cache
def walked(name: str):
    """A demo's plan, and every text of its packet but the list of figures."""
    plan = demo(name)
    return plan, [each for each in printed(plan) if each.section != FIGURES]


def unexplained(plan, texts) -> list[str]:
    """What no figure carries, with where it stands."""
    carried = {number for figure in plan.explained.every.values() for number in carried_by(figure)}
    return [
        f"{number} in {each.section}: {each.text}"
        for each in texts
        for number in results_in(each, plan)
        if number not in carried
    ]


@pytest.fixture(params=DEMOS)
def demo_walked(request):
    return walked(request.param)


def test_every_number_has_a_figure(demo_walked):
    plan, texts = demo_walked
    assert sum(len(results_in(each, plan)) for each in texts) > 600  # so that none passes for want of a text
    assert unexplained(plan, texts) == []


OTHERS = {
    "the least": least,
    "a chamber": lambda: plan_of(with_chamber()),
    "a flange": lambda: plan_of(job(speaker={"flange": "1 mm"})),
    "three models": lambda: demo(build={**demo().job.model_dump()["build"], "count": 3}),
    "holes spread": lambda: demo(hole_layout={"way": "spread"}),
    "things that stand": lambda: spacious(obstacles=[CLIP, POST]),
}


@pytest.mark.parametrize("which", OTHERS)
def test_so_it_is_in_other_jobs(which):
    plan = OTHERS[which]()
    assert unexplained(plan, [each for each in printed(plan) if each.section != FIGURES]) == []


def test_every_chain_ends_in_entries(demo_walked):
    """Figures that follow from none name the job, or the table or the standard that they come from."""
    plan, _ = demo_walked
    figures = plan.explained.every
    for name, figure in figures.items():
        assert set(figure.follows_from) <= set(figures), name
        chain = [each for _, each in plan.why(name).chain]
        assert chain[0] == figure
        last = [each for each in chain if not each.follows_from]
        assert last, name  # it ends
        for each in last:
            assert each.name == "scale" or re.search(r"the job|data/\w+\.csv", each.source), each


def test_every_exception_is_met():
    """What is taken out of the walk stands on some sheet; an exception that is met nowhere goes."""
    texts = [each for name in DEMOS for each in walked(name)[1]]
    for pattern, why in NO_RESULT:
        assert any(re.search(pattern, each.text) for each in texts), why
    for pattern, why in NO_RESULT_DRAWN:
        assert any(each.drawn and re.search(pattern, each.text) for each in texts), why
    for section, patterns in NO_RESULT_IN.items():
        for pattern, why in patterns:
            assert any(each.section == section and re.search(pattern, each.text) for each in texts), why


EDGES = r"50 mm 2 in (?=Measure)|(?<=actual size, )100 %"  # the check bars


def test_the_walk_leaves_nothing_out():
    """Every run of digits on the pages, as another library reads them, but the check bars, feet and contents."""
    plan = demo()
    pages = [page.extract_text() for page in packet_of(plan).pages]
    foot = rf"\n{re.escape(plan.job.name)} page \d+ of {len(pages)}$"
    assert all(re.search(foot, page) for page in pages)
    on_pages = Counter(re.findall(r"\d+", " ".join(re.sub(f"{EDGES}|{foot}", "", page) for page in pages)))
    walked_through = Counter(run for each in printed(plan) for run in re.findall(r"\d+", each.text))
    contents = re.sub(foot, "", pages[1]).partition("Contents\n")[2]
    assert on_pages - walked_through == Counter(re.findall(r"\d+", contents))


def test_why_finds_every_figure_and_searches_no_more_than_it_must():
    plan = demo()
    assert str(plan.why("bulkhead height")).startswith("bulkhead height = ")
    assert "leaking" not in vars(plan.sound)  # the search for leaks was not made
    assert plan.why("widest gap that may stay").figure.value.endswith(" mm")
    assert "leaking" in vars(plan.sound)


STRANGE = {
    "77.77 mm": "a number of no figure",
    "0.88 V": "the room left, in another unit",
    "0.880 mm": "the same with more digits",
    "0.9 mm": "the same with fewer",
    "5 5/16 scale ft": "a setting",
    "17.3 %": "a share",
    "41": "a count",
}


def test_a_number_that_no_figure_carries_is_found(monkeypatch):
    """Printed on any sheet, it makes the walk fail: the unit counts, and every digit."""
    assert "0.88 mm" in carried_by(demo().why("room left").figure)
    said = [f"The lid has {number} to the seat." for number in STRANGE]
    extra = Section("Lid", lambda _plan, _width: [words("The lid", PAGE), *(words(each, BODY) for each in said)])
    monkeypatch.setattr(packet, "SHEETS", (*packet.SHEETS, extra))
    plan = demo()
    found = unexplained(plan, [each for each in printed(plan) if each.section != FIGURES])
    assert found == [f"{number} in The lid: {each}" for number, each in zip(STRANGE, said, strict=True)]
