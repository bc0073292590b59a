"""What a person types about a speaker and a chamber without a job, read."""

from __future__ import annotations

import re
from fractions import Fraction
from math import log10

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import OutOfRange, UnreadableLength
from modelmath.job.entries.chamber_sound import DEMO, FIELDS, read_entries
from modelmath.job.entries.chamber_texts import read_also, read_chamber, read_count, size_mm
from modelmath.quantities.band import Band
from modelmath.sound.closed_box.valid import lumped_limit_hz

CHAMBER = r"a volume, such as 2\.5 cm3, or inside length, width and height, such as 30 x 12 x 9 mm\."
sizes = st.integers(1, 9000).map(lambda hundredths: Fraction(hundredths, 100))


@given(sizes, sizes, sizes, st.sampled_from([" x ", "x", " × ", " by ", " X "]))
def test_three_sizes_make_their_volume(long, wide, high, between):
    written = between.join(f"{float(each):.2f}" for each in (long, wide, high))
    volume = long * wide * high
    if volume < 1:
        with pytest.raises(OutOfRange, match=r"^the chamber's volume is .* cm3; it must be from 0\.001 cm3 to 1000000"):
            read_chamber(f"{written} mm")
        return
    found = read_chamber(f"{written} mm")
    assert found.sizes_mm == (float(long), float(wide), float(high))
    assert found.volume_mm3 == Band(float(volume), float(volume), float(volume))
    apart = between.join(f"{float(each):.2f} mm" for each in (long, wide, high))
    assert read_chamber(apart) == found


def test_inches_and_mixed_units():
    """One inch is 25.4 mm (1959)."""
    assert read_chamber("1 x 1/2 x 1/2 in").volume_mm3.best == float(Fraction("25.4") ** 3 / 4)
    assert read_chamber('1" x 12.7 mm x 1/2"') == read_chamber("1 x 1/2 x 1/2 in")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("30 x 12 mm", r"'30 x 12 mm': it has 2 sizes; write " + CHAMBER),
        ("1 x 2 x 3 x 4 mm", r"'1 x 2 x 3 x 4 mm': it has 4 sizes; write " + CHAMBER),
        ("30 x 12 x 9", r"'30 x 12 x 9': its sizes have no unit; write " + CHAMBER),
        ("2.5", r"'2\.5': it has no unit; write " + CHAMBER),
        ("30 x 0 x 9 mm", r"'0 mm': it is not above 0; write \.59 in or 15 mm\."),
    ],
)
def test_a_chamber_that_cant_be_read_says_what_to_write(text, said):
    with pytest.raises(UnreadableLength, match=f"^{said}$"):
        read_chamber(text)


def test_limits_of_what_is_meant():
    said = "the chamber's volume is 0.0001 cm3; it must be from 0.001 cm3 to 1000000 cm3. Check its units."
    with pytest.raises(OutOfRange, match=f"^{re.escape(said)}$"):
        read_chamber("0.1 mm3")
    with pytest.raises(OutOfRange, match=r"^a size is 1001 mm; it must be up to 1000 mm\. Check its unit\.$"):
        size_mm("1001 mm")
    said = "the number of like speakers is '1.5'; it must be a whole number from 1 to 6. Write 1 or 2."
    with pytest.raises(OutOfRange, match=f"^{re.escape(said)}$"):
        read_count("1.5")
    said = "other speakers on the output is 4 of them; it must be 3 or fewer. Leave some out."
    with pytest.raises(OutOfRange, match=f"^{re.escape(said)}$"):
        read_also("a; 8 ohm\nb; 8 ohm\nc; 8 ohm\nd; 8 ohm")


def test_a_name_that_turns_the_line_is_refused():
    said = (
        "the name of another speaker is '\\u202erear'; it must be readable. Take out the mark U+202E, which turns the "
        "direction of the text beside it."
    )
    with pytest.raises(OutOfRange, match=f"^{re.escape(said)}$"):
        read_also("\u202erear; 8 ohm")


@given(st.dictionaries(st.sampled_from([each for each in FIELDS if each != "stuffing"]), st.text(max_size=12)))
def test_any_text_gives_an_answer_messages_or_what_is_missing(typed):
    found = read_entries(DEMO | typed)
    assert (found.alone is not None) + bool(found.messages) + bool(found.waiting) >= 1
    assert set(found.messages) <= set(FIELDS)
    assert (found.alone is None) == bool(found.messages or found.waiting)


def test_the_length_that_limits_the_theory():
    """A cube of 8 cm3 has edges of 20 mm; the speaker is 15 mm long, then 28 mm."""
    by_volume = DEMO | {"chamber": "8 cm3"}
    alone = read_entries(by_volume).alone
    assert not alone.longest_known
    assert alone.longest_mm == pytest.approx(20)
    assert read_entries(by_volume | {"length": "28 mm"}).alone.longest_mm == 28
    alone = read_entries(by_volume | {"longest": "50 mm"}).alone
    assert alone.longest_known
    assert alone.valid_to_hz == lumped_limit_hz(50.0)
    assert alone.leaking.sealing.joint_mm == pytest.approx(80)  # round one end of the cube


@given(st.floats(0.5, 40).map(lambda cm3: round(cm3, 3)))
def test_more_volume_never_raises_the_resonance(cm3):
    """Small 1972: fc = fs sqrt(1 + Vas/Vb)."""
    here, twice = (read_entries(DEMO | {"chamber": f"{each:.3f} cm3"}).alone for each in (cm3, 2 * cm3))
    assert twice.box.fc_hz.best < here.box.fc_hz.best
    assert here.twice_as_large.fc_hz.best == pytest.approx(twice.box.fc_hz.best, rel=1e-3)


def test_the_level_grows_with_the_power():
    """Ten times the power is 10 dB."""
    little, much = (read_entries(DEMO | {"power": power}).alone for power in ("0.1 W", "1 W"))
    assert much.level_db.best - little.level_db.best == pytest.approx(10)
    # 8 ohm rated, and a coil that is usually 0.88 of that: the same voltage puts 1/0.88 W into it.
    assert much.level_db.best == pytest.approx(much.box.sensitivity_db.best + 10 * log10(1 / 0.88))


@pytest.mark.parametrize(
    ("name", "text"),
    [("vas", "1000000000 cm3"), ("vas", "0.000001 cm3"), ("fs", "900000000 Hz"), ("sd", "1000000000 mm2")],
)
def test_what_lies_at_the_end_of_what_is_read_is_answered_or_refused(name, text):
    found = read_entries(DEMO | {name: text})
    assert (found.alone is None) == bool(found.messages)


def test_a_line_copied_from_a_job_is_read():
    found = read_entries(DEMO | {"least": 'least = "8 ohm"', "fs": 'fs = "450 ± 10 Hz, measured"'})
    assert not found.messages
    assert found.alone.driver.fs_hz.low == 440
    wrong = read_entries(DEMO | {"least": "4,5 to 8 ohm", "wanted_q": "0.7 to 0.9"}).messages
    assert wrong["least"].endswith("Write 4.5 ohm here, and 8 ohm as the most that it drives.")
    assert wrong["wanted_q"] == (
        "the wanted Qtc is from 0.7 to 0.9; it must be one figure. Write it without limits, such as 0.7."
    )
