"""Comments of a hand-edited file survive whatever is changed in the job, beside what is taken out itself."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from sample_jobs import DEMO_PATHS

from modelmath.job.storage.text import job_text, parse_job

TEXTS = [path.read_text("utf-8") for path in DEMO_PATHS]


@st.composite
def commented(draw):
    """A demo job with remarks above lines, behind them and at the end."""
    lines = draw(st.sampled_from(TEXTS)).split("\n")
    for number in range(draw(st.integers(1, 8))):
        at = draw(st.integers(0, len(lines) - 1))
        if draw(st.booleans()) and " = " in lines[at] and "#" not in lines[at] and lines[at].endswith('"'):
            lines[at] += f"  # remark {number}."
        elif not lines[at].startswith("  "):  # within a list there are no lines of one's own
            lines.insert(at, f"# remark {number}.")
    return "\n".join(lines)


@settings(max_examples=40)
@given(commented(), st.data())
def test_comments_stay_when_fields_change(text, data):
    found, _ = parse_job(text)
    if found is None:  # a remark within a list on several lines
        return
    reading = data.draw(st.integers(0, len(found.readings) - 1))
    readings = [
        each.model_copy(update={"mark": "7 7/8"}) if at == reading else each for at, each in enumerate(found.readings)
    ]
    update = data.draw(
        st.sampled_from(
            [
                {"name": "another"},
                {"notes": "longer than before"},
                {"readings": readings},
                {"clearance": found.clearance.model_copy(update={"keep": "0.9 mm", "chance": 0.02})},
                {"build": found.build.model_copy(update={"kerf": "0.3 mm"})},
            ]
        )
    )
    changed = found.model_copy(update=update)
    written = job_text(changed, text)
    assert parse_job(written) == (changed, [])
    remarks = [line.partition("#")[2] for line in text.split("\n") if "#" in line]
    assert [line.partition("#")[2] for line in written.split("\n") if "#" in line] == remarks


@settings(max_examples=40)
@given(commented())
def test_an_unchanged_job_keeps_its_text(text):
    found, _ = parse_job(text)
    if found is not None:
        assert job_text(found, text) == text
