"""Strand, lens and gauge strip as a person types them without a job."""

from __future__ import annotations

from fractions import Fraction
from math import pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import agrees_with_print

from modelmath.errors import OutOfRange, UnreadableLength
from modelmath.job.entries.light_alone import gauge, lens, strand
from modelmath.job.entries.light_alone.gauge import read_gauge
from modelmath.job.entries.light_alone.lens import read_lens
from modelmath.job.entries.light_alone.strand import read_bends, read_strand
from modelmath.job.entries.light_alone.texts import read_size
from modelmath.light.strands.bends import Bend

STRAND = strand.DEMO | {"strand": "0.75 mm", "bends": ""}
LENS = lens.DEMO
tenths = st.integers(0, 5000).map(lambda each: Fraction(each, 10))


@given(tenths.filter(bool), tenths, tenths, tenths)
def test_the_cut_is_the_sum_of_its_parts(run, slack, trim, melted):
    typed = {
        name: f"{float(mm):.1f} mm" for name, mm in (("run", run), ("slack", slack), ("trim", trim), ("melted", melted))
    }
    assert read_strand(STRAND | typed).answer.length.cut_mm == run + slack + trim + melted


def test_a_straight_strand_by_hand():
    """63 mm at 0.2 dB/m (data/fibre.csv): 0.0126 dB. A larger lamp: NA^2 times the ratio of areas, textbooks.

    One strand of 0.75 mm before a lamp of 3 mm takes 0.25 / 16 = 1.5625 %.
    """
    found = read_strand(STRAND | {"strands": "1", "emitter": "3 mm"}).answer
    assert found.light.losses["length"].best == pytest.approx(0.0126)
    assert found.light.share.best == pytest.approx(0.015625)
    assert list(found.light.losses) == ["end at the lamp", "length", "end at the lens"]
    assert found.in_words == ("Strand of 0.75 mm and of 0.030 in is one size here.",)
    assert not found.formed


def test_drills_that_pass_it():
    """A #67 drill passes a 0.030 in strand: trade fact, no source."""
    assert read_strand(STRAND | {"strand": ".030 in"}).answer.drill == "#67"
    assert read_strand(STRAND | {"strand": "10 mm"}).answer.drill == ""  # past the number drills


def test_bends_lose_light_and_are_told():
    straight = read_strand(STRAND).answer
    bent = read_strand(STRAND | {"bends": "90 deg, 5 mm"}).answer
    assert bent.light.at_lens.best < straight.light.at_lens.best
    assert bent.formed
    assert bent.in_words[1] == (
        "Textbooks ask for a radius of 10 mm or more, which few small models have room for: here the "
        "tightest is 5.0 mm."
    )
    assert not read_strand(STRAND | {"bends": "90 deg, 20 mm"}).answer.formed


@pytest.mark.parametrize(
    "line",
    ["90 deg, 6.35 mm", "90 degrees; 1/4 in", "90° round 6,35 mm", "90 deg,.25 in", '90°,1/4"', "90 DEG , 6.35 mm"],
)
def test_a_bend_in_the_ways_people_write_it(line):
    """1/4 in is 6.35 mm exactly."""
    assert read_bends(line) == (Bend(90.0, 6.35),)
    assert read_bends(f"{line}, formed\n\n{line}") == (Bend(90.0, 6.35, formed=True), Bend(90.0, 6.35))


WRITE = r"write 90 deg, 8 mm or 90 deg, 5 mm, formed\."


@pytest.mark.parametrize(
    ("line", "kind", "said"),
    [
        ("90 deg", UnreadableLength, r"'90 deg': it is not an angle and a radius; " + WRITE),
        ("formed", UnreadableLength, r"'formed': it is not an angle and a radius; " + WRITE),
        ("90, 5 mm", UnreadableLength, r"'90, 5 mm': its angle has no unit; " + WRITE),
        ("right, 5 mm", UnreadableLength, r"'right, 5 mm': its angle can't be read; " + WRITE),
        ("90 deg, 5", UnreadableLength, r"'5': it has no unit; " + WRITE),
        (
            "9999 deg, 5 mm",
            OutOfRange,
            (
                r"the angle of a bend is 9999 deg; it must be no more than ten turns\. Write how far the strand "
                r"turns, such as 90\."
            ),
        ),
        ("90 deg, 5 mm\n" * 21, OutOfRange, r"the number of bends is 21; it must be 20 or fewer\. Leave some out\."),
    ],
)
def test_a_bend_that_cant_be_read(line, kind, said):
    with pytest.raises(kind, match=f"^{said}$"):
        read_bends(line)


@pytest.mark.parametrize(
    ("read", "typed", "field", "said"),
    [
        (read_strand, {"strand": "0.75"}, "strand", "'0.75': it has no unit; write 0.75 mm."),
        (
            read_strand,
            {"strand": "30 mm"},
            "strand",
            "the strand is 30 mm; it must be from 0.01 to 10 mm. Check its unit.",
        ),
        (read_strand, {"run": "0 mm"}, "run", "'0 mm': it is not above 0; write 60 mm."),
        (read_strand, {"trim": "-1 mm"}, "trim", "'-1 mm': it is below 0; write 3 mm."),
        (
            read_strand,
            {"far_end": "smooth"},
            "far_end",
            "the finish of an end is 'smooth'; write one of polished, cut, cloudy.",
        ),
        (
            read_lens,
            {"bore": "0.8 mm"},
            "bore",
            (
                "the lens's diameter is 0.7 mm on a strand of 0.75 mm; it must be above that of its strand. A melted "
                "end only grows wider: take a thinner strand, or a flat end without a lens."
            ),
        ),
        (
            read_lens,
            {"play": "2 mm"},
            "play",
            (
                "the play is 2.00 mm; it must be less than the bore, 1.30 mm. Write bore less lens, both sides "
                "together, such as 0.1 mm."
            ),
        ),
        (
            read_lens,
            {"prototype": "6 in"},
            "prototype",
            (
                "the lens is given by the bore and the prototype's lens; it must be given by one of them. Leave out "
                "the others."
            ),
        ),
        (
            read_lens,
            {"bore": "", "prototype": "20 ft"},
            "prototype",
            (
                "the lens is 70.00 mm; it must be up to 50 mm on the model. Check its unit: the prototype's size is "
                "meant here."
            ),
        ),
        (
            read_lens,
            {"head": "1 mm"},
            "head",
            (
                "the lens's length is 1.00 mm from strand to tip; it must be 1.07 mm or more, as long as a round one "
                "is. Leave it empty for a round lens; one flatter than round does not form by itself."
            ),
        ),
        (
            read_lens,
            {"trials": "2.2 mm"},
            "trials",
            "'2.2 mm': it is not what went in and what came out; write 2.2 mm, 1.2 mm or 50 mm to 48.9 mm, 1.2 mm.",
        ),
        (
            read_lens,
            {"trials": "22 mm, 1.2 mm"},
            "trials",
            (
                "the trial end '22 mm, 1.2 mm' is 11.11 times; it must be from 0.2 to 5 times what its volume says. "
                "Measure it again."
            ),
        ),
        (read_gauge, {"match": "1.2"}, "match", "'1.2': it has no unit; write 1.2 mm."),
    ],
)
def test_a_wrong_entry_is_said_at_its_field(read, typed, field, said):
    begin = STRAND if read is read_strand else LENS
    found = read(begin | typed)
    assert found.messages == {field: said}
    assert found.answer is None


def test_a_wrong_bore_keeps_its_own_message():
    assert read_lens(LENS | {"bore": "1.3"}).messages == {"bore": "'1.3': it has no unit; write 1.6 mm."}


def test_what_is_still_to_enter():
    assert read_strand({}).waiting == ("the strand's diameter", "how far it runs", "how wide what shines is")
    way = "the casting's bore, the prototype's lens, or the lens's own diameter"
    assert read_lens({}).waiting == ("the strand's diameter", way)
    assert read_gauge({}).waiting == ("the lenses' diameter, here or in the form for a lens",)
    assert read_gauge(LENS | {"bore": "nonsense"}).waiting == ("the lenses' diameter, here or in the form for a lens",)


@pytest.mark.parametrize(
    ("typed", "printed"),
    [
        ({"bore": "1.3 mm"}, "1.20"),  # less 0.1 mm
        ({"bore": "1.3 mm", "play": ""}, "1.20"),
        ({"prototype": "6 in"}, "1.75"),  # HO is 3.5 mm to the foot (NMRA S-1.2): half of that
        ({"prototype": "6 in", "scale": "O"}, "3.18"),  # 1/4 in to the foot: 1/8 in, 3.175 mm
        ({"diameter": "1.2 mm"}, "1.20"),
    ],
)
def test_the_lens_by_each_way(typed, printed):
    found = read_lens(LENS | {"bore": ""} | typed).answer
    assert agrees_with_print(Fraction(found.melt.end.diameter_mm), printed)


def test_a_round_lens_by_its_own_geometry():
    """A sphere less a cap: c = sqrt(1.2^2 - 0.75^2)/1.2; head r (1 + c), volume pi r^3 (2/3 + c - c^3/3)."""
    melt = read_lens(LENS).answer.melt
    c = sqrt(1.2**2 - 0.75**2) / 1.2
    assert melt.head_length_mm == pytest.approx(0.6 * (1 + c))
    assert melt.melted_mm == pytest.approx(pi * 0.6**3 * (2 / 3 + c - c**3 / 3) / (pi * 0.375**2))


@given(st.integers(80, 300), st.integers(0, 300))
def test_a_longer_lens_takes_more_strand(hundredths, longer):
    """What is typed from strand to tip is what comes out; a round lens's own length changes nothing."""
    typed = LENS | {"bore": "", "diameter": f"{hundredths / 100:.2f} mm"}
    round_one = read_lens(typed).answer.melt
    head = round_one.head_length_mm + longer / 100
    long_one = read_lens(typed | {"head": f"{head:.12f} mm"}).answer.melt
    assert long_one.head_length_mm == pytest.approx(head)
    assert (long_one.end.kind == "prolate") == (longer > 0)
    assert long_one.melted_mm == pytest.approx(round_one.melted_mm * head / round_one.head_length_mm)


def test_trial_ends_make_a_factor():
    """By hand: 1.979 mm by volume; 2.177 and 2.375 mm went in, 1.1 and 1.2 times."""
    by_volume = read_lens(LENS).answer.melt.melted_mm
    typed = "\n".join(f"{by_volume * factor:.9f} mm, 1.2 mm" for factor in (1.1, 1.2, 1.15))
    found = read_lens(LENS | {"trials": typed})
    assert found.answer.tried.factor == pytest.approx(1.15)
    assert found.echoes["trials"] == "1.15 times what the volume says, by 3 trial ends"
    # t for 95 % and 2 degrees of freedom 4.303 (JCGM 100:2008, table G.2): 1.15 ± 4.303 x 0.05 x sqrt(4/3) = ± 0.2484.
    low, high = found.answer.next_melted_mm
    assert low / by_volume == pytest.approx(1.15 - 0.2484, abs=5e-4)
    assert high / by_volume == pytest.approx(1.15 + 0.2484, abs=5e-4)


@pytest.mark.parametrize("line", ["50 mm to 49 mm, 1.2 mm", "50 to 49 mm, 1.2 mm", "50 mm to 49 mm; 1.2 mm"])
def test_a_trial_end_by_its_length_before_and_after(line):
    """What went in is the shortening and the head: 50 - 49 + 1.068 mm."""
    found = read_lens(LENS | {"trials": line}).answer
    by_volume = found.melt.melted_mm / found.melt.trial
    assert found.tried.factor * by_volume == pytest.approx(1 + found.melt.head_length_mm)
    assert found.next_melted_mm is None


def test_a_trial_end_longer_than_wide():
    once = read_lens(LENS | {"trials": "3 mm, 1.2 mm, 1.5 mm"}).answer.tried.factor
    assert once < read_lens(LENS | {"trials": "3 mm, 1.2 mm"}).answer.tried.factor  # a longer lens holds more


def test_a_lens_much_wider_than_its_strand_is_minded():
    assert read_lens(LENS).answer.mind == ""
    found = read_lens(LENS | {"bore": "3 mm"}).answer
    assert found.mind.startswith("A lens more than 3 times as wide as its strand sags as it melts.")


def test_the_strip_is_for_the_lens_unless_a_size_is_typed():
    from_lens = read_gauge(LENS | gauge.DEMO)
    assert from_lens.answer.gauge.target_mm == pytest.approx(1.2)
    assert from_lens.echoes["match"] == "the lens of the form before: 1.20 mm = 0.047 in"
    typed = read_gauge(LENS | {"match": "0.0625 in"}).answer
    assert typed.gauge.at.name.startswith("1/16 in")
    assert typed.strip.holes == typed.gauge.holes
    # Drills of ANSI/ASME B94.11M below and above 1/16 in: #53 is 0.0595 in, #52 0.0635 in.
    assert {"#53", "#52"} <= {hole.name for hole in typed.gauge}


@given(st.dictionaries(st.sampled_from([*strand.FIELDS, *lens.FIELDS, *gauge.FIELDS]), st.text(max_size=16)))
def test_any_text_gives_an_answer_messages_or_what_is_missing(typed):
    begin = strand.DEMO | lens.DEMO | gauge.DEMO
    forms = ((read_strand, strand.FIELDS), (read_lens, lens.FIELDS), (read_gauge, gauge.FIELDS))
    for read, own in forms:
        found = read(begin | typed)
        assert (found.answer is None) == bool(found.messages or found.waiting)
        assert set(found.messages) | set(found.echoes) <= set(own)


def test_sizes_within_what_can_be_meant():
    with pytest.raises(
        OutOfRange, match=r"^the run is 0\.001 mm; it must be from 0\.01 to 1000 mm\. Check its unit\.$"
    ):
        read_size("0.001 mm", "the run", "60 mm")
    assert read_size("0 mm", "the run", "60 mm", zero=True) == 0
