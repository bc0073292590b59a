"""How much of a lamp's light enters a strand, beside the textbook rule and traced rays; how like a pair is."""

import re
from math import inf, nextafter

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows
from shapely.geometry import Point as Place

from modelmath.errors import OutOfRange, TableError, WrongKind
from modelmath.light.strands import entering
from modelmath.light.strands.bends import Bend
from modelmath.light.strands.entering import LAMBERTIAN_DEG, packing_ratio
from modelmath.light.strands.fibre import ACRYLIC, Fibre
from modelmath.light.strands.lamp_to_lens import LampShape, LensLight, compare, coupled, losses_of
from modelmath.light.strands.losses import db, transmission
from modelmath.quantities.band import Band
from modelmath.tables import rows

PRINTED = {row["quantity"]: row["value"] for row in published_rows("fibre.csv")}
sizes, gaps = st.floats(0.1, 5), st.floats(0, 5)
NO_LOSS = Band(0.0, 0.0, 0.0)


def traced_share(lamp_mm, end_mm, gap_mm, aperture, power=1.0, aside_mm=0.0, rays=200_000, *, away=False):
    """Return the share of rays that meet a round end within its cone; seeded, nothing taken from the project.

    Rays lean any way, or all away from an end that lies aside.
    """
    rng = np.random.default_rng(7)
    out, round_it, turn = rng.random((3, rays))
    radius, angle = lamp_mm / 2 * np.sqrt(out), 2 * np.pi * round_it
    cosine = rng.random(rays) ** (1 / (power + 1))  # light within an angle is 1 - cos^(power + 1)
    slope, way = np.sqrt(1 / cosine**2 - 1), np.pi if away else 2 * np.pi * turn
    x = radius * np.cos(angle) + gap_mm * slope * np.cos(way) - aside_mm
    y = radius * np.sin(angle) + gap_mm * slope * np.sin(way)
    return np.mean((np.hypot(x, y) <= end_mm / 2) & (np.sqrt(1 - cosine**2) <= aperture))


def test_a_lamp_smaller_than_the_strand_couples_its_aperture_squared():
    """Fibre-optics textbooks: NA^2."""
    printed = PRINTED["coupling of a Lambertian emitter smaller than the core, NA 0.50"]
    assert agrees_with_print(coupled(ACRYLIC, 0.5, 0.75, 1).best, printed)


def test_a_larger_lamp_couples_that_times_the_ratio_of_areas():
    """Fibre-optics textbooks: (a / rs)^2 NA^2."""
    assert PRINTED["coupling of a Lambertian emitter larger than the core"] == "(a/rs)^2 NA^2"
    assert coupled(ACRYLIC, 2.0, 0.5, 1).best == pytest.approx(0.25 * (0.5 / 2.0) ** 2)
    assert coupled(ACRYLIC, 2.0, 0.5, 3).best == pytest.approx(0.25 * (0.5 / 2.0) ** 2)


@pytest.mark.parametrize(("lamp", "end", "gap"), [(0.5, 0.75, 0.3), (1.6, 0.75, 0.5), (3, 1, 2), (0.3, 3, 4)])
def test_one_strand_with_a_gap_is_as_rays_are_counted(lamp, end, gap):
    """200 000 rays: three standard deviations are below 0.003."""
    assert coupled(ACRYLIC, lamp, end, 1, gap).best == pytest.approx(traced_share(lamp, end, gap, 0.5), abs=0.003)


@pytest.mark.parametrize("gap", [0.4, 1.5])  # the strand's end within what shines at every angle, and partly beside it
@pytest.mark.parametrize("half_deg", [15, 40, 60, 70])
def test_other_beams_are_as_rays_are_counted(half_deg, gap):
    power = np.log(0.5) / np.log(np.cos(np.radians(half_deg)))
    wanted = traced_share(1.5, 0.75, gap, 0.5, power)
    assert coupled(ACRYLIC, 1.5, 0.75, 1, gap, half_deg=half_deg).best == pytest.approx(wanted, abs=0.003)


def test_a_strand_at_the_rim_gets_no_less_than_the_low_limit():
    """Seven strands of 0.5 mm before a lamp of 0.8 mm: rays into the middle one and into one at the rim."""
    shares = [traced_share(0.8, 0.5, 0.2, 0.5, aside_mm=aside) for aside in (0.0, 0.5)]
    band = coupled(ACRYLIC, 0.8, 0.5, 7, 0.2)
    assert band.low <= min(shares) < band.best < max(shares) <= band.high + 0.003


@given(sizes, sizes, st.integers(1, 30), gaps)
def test_the_limits_are_in_order_and_no_light_is_made(lamp, strand, strands, gap):
    band = coupled(ACRYLIC, lamp, strand, strands, gap)
    assert 0 <= band.low <= band.best <= band.high <= 0.51**2 * (1 + 1e-5)
    assert strands * band.best <= 0.5**2 * (1 + 1e-5)
    nearer = coupled(ACRYLIC, lamp, strand, strands, gap / 2)
    assert band.best <= nearer.best * (1 + 1e-5)


@given(sizes, sizes, st.integers(1, 12), gaps)
def test_more_strands_before_a_lamp_leave_each_no_more(lamp, strand, strands, gap):
    one, more = (coupled(ACRYLIC, lamp, strand, count, gap).best for count in (strands, strands + 1))
    assert more <= one * (1 + 1e-5)  # ten times what its numerical sum is off


@given(st.floats(0.1, 3), st.floats(0.1, 3), st.floats(0, 7))
def test_the_overlap_of_two_discs_is_shapelys(a, b, apart):
    shared = Place(0, 0).buffer(a, 256).intersection(Place(apart, 0).buffer(b, 256)).area / np.pi
    assert entering._overlap(a, b, apart) == pytest.approx(shared, rel=1e-3, abs=1e-3)


def test_bundles_are_packed_as_closely_as_the_table_knows():
    """Two side by side are 2 wide, seven 3 wide; past the table they fill 3/4 of their circle."""
    assert [packing_ratio(count) for count in (1, 2, 7)] == [1, 2, 3]
    assert 21 / packing_ratio(21) ** 2 == pytest.approx(0.75)


def test_a_packing_that_can_not_be_is_refused(monkeypatch):
    (line, first), *others = rows(entering.TABLE)
    monkeypatch.setattr(entering, "rows", lambda _file: iter([(line, first | {"ratio": "0.9"}), *others]))
    text = r"^data/circle_packing\.csv, line 2: 1 strands do not go into 0\.9 times their diameter\.$"
    with pytest.raises(TableError, match=text):
        entering._ratios.__wrapped__()


@pytest.mark.parametrize(
    ("ratio", "place", "count"),
    [("1.4", 1, 2), ("1.99", 2, 3)],  # two discs within 1.4 have more than its area; three need no less than two
)
def test_a_packing_too_close_or_out_of_order_is_refused(monkeypatch, ratio, place, count):
    found = list(rows(entering.TABLE))
    found[place] = (found[place][0], found[place][1] | {"ratio": ratio})
    monkeypatch.setattr(entering, "rows", lambda _file: iter(found))
    text = (
        rf"^data/circle_packing\.csv, line {place + 2}: {count} strands do not go into {ratio} times their diameter\.$"
    )
    with pytest.raises(TableError, match=text):
        entering._ratios.__wrapped__()


def test_the_sum_over_an_end_is_exact_for_polynomials():
    """Fejér's first rule with 16 nodes: exact up to the 15th power, of which the mean over 0 to 1 is 1/(n + 1)."""
    for power in range(16):
        found = sum(weight * step**power for step, weight in entering._STEPS)
        assert found == pytest.approx(1 / (power + 1), abs=1e-14)


@pytest.mark.parametrize(
    ("a", "b"), [(2.12, 1.9591106876919429), (0.54, 0.55), (1.96, 2.42), (1.2, 0.6), (1.51, 2.15), (1.59, 2.21)]
)
def test_discs_that_hardly_touch_or_hardly_stand_out_are_no_fault_of_floats(a, b):
    """One float inside the touch from either side: nothing in common, or all of the smaller."""
    apart, within = nextafter(a + b, 0), nextafter(abs(a - b), inf)
    assert 0 <= entering._overlap(a, b, apart) < 1e-6
    assert entering._overlap(a, b, within) == pytest.approx(min(a, b) ** 2, abs=1e-6)
    assert (entering._overlap(a, b, a + b), entering._overlap(a, b, abs(a - b))) == (0, min(a, b) ** 2)


def test_a_lamp_as_wide_as_the_strand_at_its_face():
    found = coupled(ACRYLIC, 0.75, 0.75)  # NA^2 each
    assert (found.best, found.low, found.high) == pytest.approx((0.25, 0.47**2, 0.51**2))
    assert coupled(ACRYLIC, 0.75, 0.75, 1, 1e-9).best == pytest.approx(0.25)


def test_one_strand_at_the_face_of_a_chip_unless_said():
    """A chip shines half as bright where the cosine is 1/2."""
    assert np.cos(np.radians(LAMBERTIAN_DEG)) == pytest.approx(0.5)
    assert LampShape(1.5) == LampShape(1.5, 0, 60)
    assert LampShape(0.5).share(ACRYLIC, 0.75) == coupled(ACRYLIC, 0.5, 0.75) == coupled(ACRYLIC, 0.5, 0.75, 1, 0)
    assert coupled(ACRYLIC, 1.5, 0.75) == coupled(ACRYLIC, 1.5, 0.75, half_deg=60)


@pytest.mark.parametrize("half_deg", [15, 40, 89])
def test_a_narrow_lamp_at_the_face_by_hand(half_deg):
    """Light as cos^m of the angle: of it 1 - cos^(m + 1) lies within an angle, here the 30 degrees taken in."""
    power = np.log(0.5) / np.log(np.cos(np.radians(half_deg)))
    wanted = 1 - np.cos(np.pi / 6) ** (power + 1)
    assert coupled(ACRYLIC, 0.5, 0.75, half_deg=half_deg).best == pytest.approx(wanted)


@pytest.mark.parametrize("gap", [0, 0.2])
def test_a_strand_that_takes_in_all_angles(gap):
    every = Fibre("made up", Band(1.0, 1.0, 1.0), 1.49, Band(0.2, 0.2, 0.2), "made up")
    assert coupled(every, 0.5, 0.75, 1, gap).best == pytest.approx(traced_share(0.5, 0.75, gap, 1.0), abs=0.003)


def test_a_bundles_limits_are_as_rays_are_counted():
    """Seven strands of 0.5 mm: one at the rim at an aperture of 0.47, as if all light leaned away from it, which is
    no more than it gets; the one in the middle at 0.51.
    """
    band = coupled(ACRYLIC, 0.8, 0.5, 7, 0.2)
    assert band.low == pytest.approx(traced_share(0.8, 0.5, 0.2, 0.47, aside_mm=0.5, away=True), abs=0.001)
    assert coupled(ACRYLIC, 0.8, 0.5, 7).low == pytest.approx(traced_share(0.8, 0.5, 0, 0.47, aside_mm=0.5), abs=0.003)
    assert band.high == pytest.approx(traced_share(0.8, 0.5, 0.2, 0.51), abs=0.003)
    assert coupled(ACRYLIC, 0.8, 0.5, 7, 1).high == pytest.approx(traced_share(0.8, 0.5, 1, 0.51), abs=0.003)
    assert band.best == pytest.approx(traced_share(0.8, 1.5, 0.2, 0.5) / 9, abs=0.003)  # 3 strands wide: 9 areas


def test_lenses_are_told_apart_by_what_they_are():
    """Lights are keys, whatever is lost on their way."""
    share = Band(0.1, 0.1, 0.1)
    lost = {"length": Band(1.0, 1.0, 1.0)}
    assert len({LensLight("a", share, lost), LensLight("a", share, dict(lost)), LensLight("b", share, lost)}) == 2


@pytest.mark.parametrize(("lost", "said"), [(0.004, False), (0.005, True), (0.006, True)])
def test_a_loss_that_rounds_to_nothing_is_not_told(lost, said):
    light = LensLight("marker", Band(0.25, 0.25, 0.25), {"length": Band(lost, lost, lost)})
    assert ("on the way, most of it by length." in light.in_words) is said


@pytest.mark.parametrize(("apart", "text"), [
    (0.004, "All lenses are equally bright by these figures."),
    (0.006, "b is 0.0 dB below a: 100 % of its light. A difference under 1 dB is seldom seen."),
    (0.99, "b is 1.0 dB below a: 80 % of its light. A difference under 1 dB is seldom seen."),
    (1.01, ("b is 1.0 dB below a: 79 % of its light. Most of that is by length: so that they match, cut both strands "
            "to one length, and coil what is left of the shorter way.")),
])  # fmt: skip
def test_a_difference_is_seen_from_a_decibel(apart, text):
    share = Band(0.2, 0.2, 0.2)
    pair = compare([LensLight("a", share), LensLight("b", share, {"length": Band(apart, apart, apart)})])
    assert pair.in_words == text


def test_causes_come_the_largest_first_with_what_counts_against():
    """The dimmest has 1 dB more by its length, 2 dB more by its end, and the brighter one 0.5 dB more by a bend."""
    share = Band(0.1, 0.1, 0.1)
    band = lambda loss: Band(loss, loss, loss)  # noqa: E731
    bright = LensLight("bright", share, {"length": band(0.5), "end at the lens": band(0.2), "bend 1": band(0.5)})
    dim = LensLight("dim", share, {"length": band(1.5), "end at the lens": band(2.2)})
    between = LensLight("between", share, {"length": band(1.5)})
    found = compare([between, dim, bright])
    assert [name for name, _ in found.causes] == ["end at the lens", "length", "what enters the strand", "bends"]
    assert [loss for _, loss in found.causes] == pytest.approx([2, 1, 0, -0.5], abs=1e-12)
    assert [lens.name for lens in found.lenses] == ["between", "dim", "bright"]
    assert [lens.below_db for lens in found.lenses] == pytest.approx([0.3, 2.5, 0])
    assert found.in_words.startswith("dim is 2.5 dB below bright: 56 % of its light.")


def test_the_way_from_lamp_to_lens_unless_said():
    lost = losses_of(500, [Bend(90, 8)], 0.75)
    assert lost == losses_of(500, [Bend(90, 8)], 0.75, ACRYLIC, lamp_end="cut", lens_end="polished")
    assert lost["length"].best == pytest.approx(0.1)
    light = LensLight("marker", Band(0.1, 0.08, 0.12), lost)
    assert light.loss_db.low == pytest.approx(sum(each.low for each in lost.values()))
    assert light.loss_db.high == pytest.approx(sum(each.high for each in lost.values()))


def test_light_at_a_lens_by_hand():
    """A tenth enters, 3 dB and 1 dB are lost: 0.1 x 10^-0.4; at worst 8 % less 10^-0.6, at best 12 % less 10^-0.2."""
    lost = {"length": Band(1.0, 0.5, 2.0), "bend 1": Band(3.0, 1.5, 4.0)}
    light = LensLight("number board", Band(0.1, 0.08, 0.12), lost)
    assert light.at_lens.best == pytest.approx(0.1 * 10**-0.4)
    assert light.at_lens.low == pytest.approx(0.08 * 10**-0.6)
    assert light.at_lens.high == pytest.approx(0.12 * 10**-0.2)
    assert light.in_words == (
        "About 4 % of the lamp's light reaches number board (2 % to 7.6 %): 10 % enters the strand, which loses 4.0 dB "
        "on the way, most of it by bends."
    )


def test_light_that_loses_nothing():
    light = LensLight("marker", Band(0.25, 0.22, 0.26))
    assert light.loss_db == NO_LOSS
    assert light.in_words == ("About 25 % of the lamp's light reaches marker (22 % to 26 %): 25 % enters the strand.")


def test_losses_of_a_strand_add_up_by_cause():
    lost = losses_of(60, [Bend(90, 5), Bend(30, 5)], 0.75, lamp_end="polished", lens_end="cloudy")
    assert list(lost) == ["end at the lamp", "length", "bend 1", "bend 2", "end at the lens"]
    assert lost["bend 1"].best > lost["bend 2"].best > lost["length"].best > 0
    assert lost["end at the lens"].best > lost["end at the lamp"].best


def test_a_pair_by_hand():
    """1.5 dB apart by their bends alone: 10^-0.15 is 71 %."""
    share = Band(0.05, 0.04, 0.06)
    left = LensLight("Left", share, {"bend 1": Band(1.0, 0.0, 2.0)})
    right = LensLight("Right", share, {"bend 1": Band(2.0, 0.0, 3.0), "bend 2": Band(0.5, 0.0, 1.0)})
    pair = compare([left, right])
    assert pair.pair_difference_db == pytest.approx(1.5)
    assert [lens.percent for lens in pair.lenses] == pytest.approx([100, 100 * 10**-0.15])
    assert pair.causes[0] == ("bends", pytest.approx(1.5))
    assert not pair.alike
    assert pair.in_words == (
        "Right is 1.5 dB below Left: 71 % of its light. Most of that is by bends: so that they match, give both the "
        "same bends."
    )


@pytest.mark.parametrize(
    ("lost", "remedy"),
    [
        ("length", "cut both strands to one length, and coil what is left of the shorter way"),
        ("end at the lamp", "finish both ends at the lamp alike"),
        ("end at the lens", "finish both lens ends alike"),
        ("the hole's edge", "make the hole's edge alike"),
    ],
)
def test_a_pair_says_what_to_do(lost, remedy):
    share = Band(0.05, 0.04, 0.06)
    right = LensLight("Right", share, {lost: Band(2.0, 2.0, 2.0)})
    said = compare([LensLight("Left", share), right]).in_words
    assert said == (
        f"Right is 2.0 dB below Left: 63 % of its light. Most of that is by {lost}: so that they match, {remedy}."
    )


def test_a_pair_that_differs_before_the_lamp_or_hardly():
    wide, narrow = LensLight("Wide", Band(0.06, 0.06, 0.06)), LensLight("Narrow", Band(0.03, 0.03, 0.03))
    assert compare([wide, narrow]).in_words == (
        "Narrow is 3.0 dB below Wide: 50 % of its light. Most of that is by what enters the strand: so that they "
        "match, bring both strands before the lamp alike, and centred on it."
    )
    near = LensLight("Near", Band(0.054, 0.054, 0.054))
    assert compare([wide, near]).in_words == (
        "Near is 0.5 dB below Wide: 90 % of its light. A difference under 1 dB is seldom seen."
    )
    assert compare([wide, wide]).in_words == "All lenses are equally bright by these figures."


@given(st.lists(st.floats(0.001, 0.25), min_size=1, max_size=6), st.floats(0, 20))
def test_a_loss_in_common_changes_no_comparison(shares, common):
    lenses = [LensLight(str(n), Band(share, share, share)) for n, share in enumerate(shares)]
    dimmed = [LensLight(lens.name, lens.share, {"length": Band(common, common, common)}) for lens in lenses]
    bright, dim = compare(lenses), compare(dimmed)
    assert dim.pair_difference_db == pytest.approx(bright.pair_difference_db, abs=1e-9)
    assert max(lens.percent for lens in dim.lenses) == pytest.approx(100)
    assert sum(cause for _, cause in bright.causes) == pytest.approx(bright.pair_difference_db, abs=1e-9)
    assert transmission(bright.pair_difference_db) == pytest.approx(min(shares) / max(shares))
    assert db(min(shares) / max(shares)) == pytest.approx(bright.pair_difference_db, abs=1e-9)


@pytest.mark.parametrize(
    ("call", "error", "text"),
    [
        (
            lambda: coupled(ACRYLIC, 0, 0.75),
            OutOfRange,
            "emitter_mm is 0 mm; it must be above 0 mm. Write it in mm, such as 1.6.",
        ),
        (
            lambda: coupled(ACRYLIC, 1, 0.75, 0),
            OutOfRange,
            "strands is 0; it must be 1 or more. Write how many strands lie before the lamp, such as 2.",
        ),
        (
            lambda: coupled(ACRYLIC, 1, 0.75, 1.5),
            WrongKind,
            "strands is '1.5'; expected a whole number. Write how many strands lie before the lamp, such as 2.",
        ),
        (
            lambda: coupled(ACRYLIC, 1, 0.75, 1, -1),
            OutOfRange,
            "gap_mm is -1 mm; it must be 0 mm or more. Write it in mm, such as 0.5.",
        ),
        (
            lambda: LampShape(1, half_deg=90),
            OutOfRange,
            "half_deg is 90 deg; it must be under 90 deg. Write 60 for a bare chip.",
        ),
        (
            lambda: coupled(ACRYLIC, 1, 1, half_deg=120),
            OutOfRange,
            "half_deg is 120 deg; it must be under 90 deg. Write 60 for a bare chip.",
        ),
        (
            lambda: coupled(ACRYLIC, 1, 1, half_deg=90),
            OutOfRange,
            "half_deg is 90 deg; it must be under 90 deg. Write 60 for a bare chip.",
        ),
        (
            lambda: LampShape(1, half_deg=0),
            OutOfRange,
            "half_deg is 0 deg; it must be above 0 deg. Write 60 for a bare chip.",
        ),
        (
            lambda: LampShape(1, -0.1),
            OutOfRange,
            "gap_mm is -0.1 mm; it must be 0 mm or more. Write it in mm, such as 0.5.",
        ),
        (
            lambda: LampShape(0),
            OutOfRange,
            "emitter_mm is 0 mm; it must be above 0 mm. Write it in mm, such as 1.6.",
        ),
        (
            lambda: packing_ratio(True),
            WrongKind,
            "strands is 'True'; expected a whole number. Write how many strands lie before the lamp, such as 2.",
        ),
        (
            lambda: compare([]),
            OutOfRange,
            "the number of lenses is 0; it must be 1 or more. Name the lenses to compare.",
        ),
        (
            lambda: compare([LensLight("Left", NO_LOSS)]),
            OutOfRange,
            "the light at Left is 0 % of the lamp's; it must be above 0 %. Check its strand's losses.",
        ),
    ],
)
def test_what_is_no_lamp_or_lens_is_refused(call, error, text):
    with pytest.raises(error, match=f"^{re.escape(text)}$"):
        call()


def test_a_lamps_shape_asks_the_same():
    lamp = LampShape(1.5, 0.4, 40)
    assert lamp.share(ACRYLIC, 0.75, 2) == coupled(ACRYLIC, 1.5, 0.75, 2, 0.4, half_deg=40)
