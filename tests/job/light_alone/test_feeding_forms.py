"""A lead's gauge and a keep-alive as a person types them without a job."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows

from modelmath.job.entries.light_alone import kept_alive, lead
from modelmath.job.entries.light_alone.kept_alive import read_kept_alive
from modelmath.job.entries.light_alone.lead import read_lead

LEAD = {"lead_current": "100 mA", "lead_run": "1 m", "most_drop": "0.12 V", "made_of": "solid"}
KEPT = kept_alive.DEMO


def test_a_printed_drop_is_that_of_the_gauge():
    """WIRE_1 of tests/published/electrical_examples.csv: AWG 32, 1 m out and back, 100 mA: 0.10767 V."""
    row = next(row for row in published_rows("electrical_examples.csv") if row["id"] == "WIRE_1")
    best = read_lead(LEAD).answer.best
    assert best.wire.name == "AWG 32"
    assert agrees_with_print(best.drop_v, row["value"])


@given(st.integers(1, 3000), st.integers(10, 5000), st.sampled_from(lead.MADE_OF))
def test_the_gauge_loses_no_more_than_allowed_and_the_next_thinner_does(milliamp, run_mm, made_of):
    typed = {"lead_current": f"{milliamp} mA", "lead_run": f"{run_mm} mm", "most_drop": "0.1 V", "made_of": made_of}
    found = read_lead(typed)
    if found.answer is None:
        assert found.messages["most_drop"].startswith("what may be lost is 0.1 V; it must be ")
        return
    assert found.answer.best.drop_v <= 0.1 + 1e-6
    assert found.answer.too_thin is None or found.answer.too_thin.drop_v > 0.1 - 1e-6


@pytest.mark.parametrize(
    ("read", "typed", "field", "said"),
    [
        (
            read_lead,
            {"most_drop": "0.1 mV"},
            "most_drop",
            ("what may be lost is '0.1 mV'; it must be from 0.01 V to 60 V. Check its unit."),
        ),
        (
            read_lead,
            {"lead_run": "50 m", "lead_current": "10 A"},
            "most_drop",
            (
                "what may be lost is 0.12 V; it must be 13.2 V or more, which AWG 16 loses. Shorten the wire, or use "
                "two side by side."
            ),
        ),
        (read_lead, {"lead_run": "300"}, "lead_run", "'300': it has no unit; write 300 mm."),
        (
            read_kept_alive,
            {"least": "15 V"},
            "least",
            (
                "the voltage it may sink to is 15 V; it must be below 14 V, the least that it is charged to. Read the "
                "decoder's lowest voltage from its sheet again."
            ),
        ),
        (
            read_kept_alive,
            {"capacitance": "1000"},
            "capacitance",
            "'1000': it has no unit; write a number with its unit, such as 470 uF.",
        ),
        (
            read_kept_alive,
            {"bears": "16 to 25 V"},
            "bears",
            "its rated voltage is '16 to 25 V'; it must be one figure. Write it without limits, such as 2.5 V.",
        ),
    ],
)
def test_a_wrong_entry_is_said_at_its_field(read, typed, field, said):
    found = read((LEAD if read is read_lead else KEPT) | typed)
    assert found.messages == {field: said}
    assert found.answer is None


def test_what_is_still_to_enter():
    assert read_lead({}).waiting == ("what it carries", "how far it runs", "what may be lost there and back")
    assert read_kept_alive({}).waiting == (
        "its capacitance",
        "the voltage it is charged to",
        "the voltage at which the decoder stops",
        "what is drawn meanwhile",
    )


def test_a_gap_by_hand():
    """Charge: 1000 uF x (14 - 6) V / 100 mA is 80 ms; 0.1 s x 100 mA / 8 V is 1250 uF; 0.5 x 1 mF x (14 V)^2 98 mJ."""
    found = read_kept_alive(KEPT).answer
    assert found.kept.runtime_s.best == pytest.approx(0.08)
    assert found.kept.stored_j.best == pytest.approx(0.098)
    assert found.carries == "It does not carry over 0.1 s: 0.1 s takes 1250 uF."
    assert read_kept_alive(KEPT | {"carry": "0.08 s"}).answer.carries == (
        "It carries over 0.08 s in every case: 0.08 s takes 1000 uF."
    )
    assert read_kept_alive(KEPT | {"capacitance": "1000 uF ± 20 %", "carry": "0.07 s"}).answer.carries == (
        "It carries over 0.07 s by the best values, not in every case: 0.07 s takes 875 uF."
    )
    assert read_kept_alive(KEPT | {"carry": ""}).answer.carries == ""


def test_a_capacitor_of_too_low_a_rating_is_told():
    found = read_kept_alive(KEPT | {"bears": "10 V"}).answer
    assert found.kept.faults == ("It is rated for 10 V and sees 14 V: take one rated above that, with room to spare.",)
    assert read_kept_alive(KEPT | {"bears": "", "charged_by": ""}).answer.kept.charging is None


@given(st.dictionaries(st.sampled_from([*lead.FIELDS, *kept_alive.FIELDS]), st.text(max_size=12)))
def test_any_text_gives_an_answer_messages_or_what_is_missing(typed):
    for read, form in ((read_lead, lead), (read_kept_alive, kept_alive)):
        found = read(form.DEMO | typed)
        assert (found.answer is None) == bool(found.messages or found.waiting)
        assert set(found.messages) | set(found.echoes) <= set(form.FIELDS)
