"""The walkthrough opened, and an edit until its HTML stands there, beside bare widgets and beside the plan alone.

Times are of the processor alone, all taken in turn; what a browser takes on top is in `test_redraw_benchmark.py`.
"""

from __future__ import annotations

from itertools import cycle
from time import process_time

import ipywidgets as w
import pytest
from benchmarks.beside import beside, in_turn
from ipywidgets.widgets.widget import _instances as known_widgets
from sample_jobs import DEMOS

from modelmath import plan
from modelmath.widgets import EnclosurePanel

MOST_OPENED, MOST_EDITED = 2.0, 2.5
NAMES = ("switcher-ho", "railmotor-oo")


def what_is_shown(job):
    """Work out what the walkthrough shows with its folds shut."""
    made = plan(job)
    return made.gap, made.lines, made.chamber, made.holes, made.parts, made.warnings, made.steps


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.benchmark(timer=process_time)
def test_the_walkthrough_beside_as_many_bare_widgets(benchmark, name):
    before = set(known_widgets)
    EnclosurePanel(DEMOS[name])
    made = [each for key, each in known_widgets.items() if key not in before]
    kinds = [type(each) for each in made if isinstance(each, w.DOMWidget)]

    def bare():
        return [kind() for kind in kinds if kind in {w.Text, w.HTML, w.VBox, w.HBox, w.Dropdown, w.Button}]

    took, bare_s = in_turn(lambda: EnclosurePanel(DEMOS[name]), bare)
    benchmark.pedantic(EnclosurePanel, args=(DEMOS[name],), rounds=3)
    job = f"the walkthrough opened, {name}"
    baseline = f"{len(bare())} bare widgets"
    assert beside(benchmark, job, took, baseline, bare_s, most=MOST_OPENED, readme=name == NAMES[0]) <= MOST_OPENED


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.benchmark(timer=process_time)
def test_an_edit_beside_the_plan_alone(benchmark, name):
    panel, texts = EnclosurePanel(DEMOS[name]), cycle(("0.8 mm", "0.9 mm"))

    def edit():
        panel.fields["keep"].value = next(texts)

    took, plan_s = in_turn(edit, lambda: what_is_shown(DEMOS[name]), rounds=9)
    benchmark.pedantic(edit, rounds=9)
    assert panel.plan is not None
    job = f"an edit, until its HTML stands there, {name}"
    ratio = beside(benchmark, job, took, "the plan alone", plan_s, most=MOST_EDITED, readme=name == NAMES[0])
    assert ratio <= MOST_EDITED
