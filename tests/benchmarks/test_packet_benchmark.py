"""The packet for a demo job beside all its figures worked out, and beside the same words set plainly.

Times are of the processor alone, all taken in turn.
"""

from __future__ import annotations

from io import BytesIO
from time import process_time

import pytest
from benchmarks.beside import beside, in_turn
from reportlab.platypus import SimpleDocTemplate
from sample_jobs import DEMOS

from modelmath import plan
from modelmath.drawings.sheets.packet import packet_pdf
from modelmath.drawings.sheets.style import HANGING, words

MOST = 6.0  # times all its figures worked out
NAMES = ("switcher-ho", "railmotor-oo")


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.benchmark(timer=process_time)
def test_the_packet_beside_its_figures(benchmark, name):
    def packet():
        return packet_pdf(plan(DEMOS[name]))

    def figures():
        return plan(DEMOS[name]).explained.every

    texts = [f"{each.name} {each.value}" for each in figures().values()]

    def plainly():
        SimpleDocTemplate(BytesIO()).build([words(text, HANGING) for text in texts])

    took, figures_s, plainly_s = in_turn(packet, figures, plainly, rounds=3)
    benchmark.pedantic(packet, rounds=1)
    job = f"the packet of one paper, {name}"
    ratio = beside(benchmark, job, took, "every figure worked out", figures_s, most=MOST, readme=name == NAMES[0])
    beside(benchmark, job, took, f"{len(texts)} plain lines set by the PDF writer", plainly_s)
    print(f"\n{name}: {1000 * took:.0f} ms, figures {1000 * figures_s:.0f} ms, plain lines {1000 * plainly_s:.0f} ms")
    assert ratio <= MOST
