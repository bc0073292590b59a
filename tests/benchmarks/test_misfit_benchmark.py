"""An edit on the walkthrough that makes a plan a misfit: at most 50 ms; its ways out beside plain bisection.

The page is as it opens, its folds shut. Times are of the processor alone. Plain bisection fits anew for every size
tried, each change by itself, and finds the sized changes only.
"""

from __future__ import annotations

from statistics import median
from time import process_time

import pytest
from benchmarks.beside import beside, seconds_of
from enclosure.choosing.test_trying import plainly
from sample_jobs import DEMOS

from modelmath.enclosure.choosing.changes import Given
from modelmath.enclosure.choosing.remedies import remedies
from modelmath.job.bench.layout import cavity_of
from modelmath.job.document import Job
from modelmath.widgets import EnclosurePanel

LIMIT_S = 0.050
LEAST_TIMES = 1.5
EDITS = {
    "speaker's length": {"speaker_length": "300 mm"},
    "speaker's width": {"speaker_width": "60 mm"},
    "speaker's depth": {"speaker_depth": "40 mm"},
    "decoder's length": {"decoder_length": "90 mm"},
    "decoder's sizes": {"decoder_length": "40 mm", "decoder_width": "24 mm", "decoder_height": "9 mm"},
}


MISFITS = [
    (name, what) for name in DEMOS for what in EDITS if what.startswith("speaker") or name == "railbus-ho"
]  # in the longest shells such a decoder fits


def opened(name):
    """Return the page on a demo job, its speaker not said to be round."""
    document = DEMOS[name].model_dump(exclude_unset=True)
    document["speaker"]["round"] = False
    return EnclosurePanel(Job.model_validate(document))


def timed(work, rounds):
    def once():
        start = process_time()
        work()
        return process_time() - start

    return median(once() for _ in range(rounds))


@pytest.mark.parametrize(("name", "what"), MISFITS)
@pytest.mark.benchmark(timer=process_time)
def test_a_misfit_edit_is_quick(benchmark, name, what):
    page = opened(name)
    *before, (last, text) = EDITS[what].items()
    for field, value in before:
        page.fields[field].value = value
    field, kept = page.fields[last], page.fields[last].value

    def undo():
        field.value = kept

    def edit():
        field.value = text

    edit()
    new = page.plan
    assert new.misfit is not None
    benchmark.pedantic(edit, setup=undo, rounds=7, warmup_rounds=1)
    given = (cavity_of(new.bench), new.limits, new.bench.speaker, new.bench.decoder)
    found_s = timed(lambda: remedies(*given), 5)
    plain_s = timed(lambda: list(plainly(Given(*given))), 3)
    took = benchmark.stats.stats.median
    undone_s = median(seconds_of(undo) + 0 * seconds_of(edit) for _ in range(3))
    beside(
        benchmark, f"an edit that makes a misfit, shown with its ways out: {name}, {what}", took,
        "the same edit taken back, which fits", undone_s, within_s=LIMIT_S,
        readme=(name, what) == ("switcher-ho", "speaker's length"),
    )  # fmt: skip
    beside(
        benchmark, f"the ways out: {name}, {what}", found_s, "plain bisection, each change by itself", plain_s,
        least=LEAST_TIMES,
    )  # fmt: skip
    print(
        f"\n{name}, {what}: {1000 * took:.1f} ms, of these ways out {1000 * found_s:.1f} ms;"
        f" by plain bisection {1000 * plain_s:.1f} ms, {plain_s / found_s:.1f} times"
    )
    assert plain_s / found_s >= LEAST_TIMES
    assert took <= LIMIT_S
