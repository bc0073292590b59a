"""Densities, masses of trimmed and added pieces, and the published weight of unpowered cars."""

import csv
import re
from fractions import Fraction
from math import sqrt

import pytest
from published import agrees_with_print, published_rows
from uncertainties import ufloat

from modelmath.enclosure.balance import (
    Balance,
    Mass,
    Support,
    added,
    densities,
    density,
    materials,
    recommended,
    recommended_weight,
    trimmed,
    weighed,
)
from modelmath.enclosure.balance.masses import grams, where
from modelmath.errors import OutOfRange, TableError, UnknownChoice, UnknownScale, WrongKind
from modelmath.tables import data_folder

RP = "NMRA RP-20.1 Car Weight (table as quoted in a members mailing list with the standards page address)"


def whole(text):
    return f"^{re.escape(text)}$"


# Densities. Element densities at room temperature, CRC Handbook of Chemistry and Physics, from memory.


@pytest.mark.parametrize(("material", "printed"), [("lead", "11.3"), ("tungsten", "19.3"), ("steel", "7.9")])
def test_metals_are_as_heavy_as_handbooks_say(material, printed):
    assert agrees_with_print(density(material).best_g_cm3, printed)


def test_zinc_alloy_lies_by_its_metals():
    """96 % zinc of 7.14 and 4 % aluminium of 2.70 g/cm3 by mass, volumes added; densities from memory."""
    mixed = 1 / (0.96 / 7.14 + 0.04 / 2.70)
    assert float(density("zinc alloy").low_g_cm3) <= mixed <= float(density("zinc alloy").high_g_cm3)


def test_the_table_has_what_shells_chassis_and_weights_are_made_of():
    wanted = {"zinc alloy", "brass", "steel", "lead", "tungsten", "polystyrene", "PMMA", "ABS"}
    assert set(densities()) == wanted
    assert {each.material for each in densities().values() if each.confirmed} == {"PMMA"}


def test_a_density_is_uncertain_by_half_its_range():
    """Limits known and no more: a rectangle, whose standard uncertainty is its half width over sqrt 3 (JCGM 100)."""
    brass = density("brass")
    assert (brass.low_g_cm3, brass.best_g_cm3, brass.high_g_cm3) == (Fraction("8.4"), Fraction("8.55"), Fraction("8.7"))
    assert brass.value.nominal_value == 8.55
    assert brass.value.std_dev == pytest.approx(0.15 / sqrt(3))
    assert brass.in_words == "brass: 8.55 ± 0.15 g/cm3 (from memory: recollection)"


def test_trimming_takes_off_and_parts_add():
    clip = trimmed("motor clip", 1500, "zinc alloy", ufloat(12, 0.5))
    assert clip.mass_g.nominal_value == pytest.approx(-1.5 * 6.7)
    assert clip.mass_g.std_dev == pytest.approx(1.5 * 0.1 / sqrt(3))
    assert clip.in_words == "motor clip: less 10.1 ± 0.1 g, 12.00 ± 0.50 mm behind the mark"
    wall = added("bulkhead", 1000, "ABS", -3)
    assert wall.mass_g.nominal_value == pytest.approx(1.055)
    rough = added("filler", ufloat(1000, 50), "polystyrene", 0)
    assert rough.mass_g.std_dev == pytest.approx(sqrt((0.05 * 1.05) ** 2 + (0.01 / sqrt(3)) ** 2))
    assert weighed("decoder", Fraction(5, 2), 0).in_words == "decoder: 2.5 g, at the mark"


@pytest.mark.parametrize(
    ("make", "kind", "text"),
    [
        (
            lambda: trimmed("clip", 10, "zink alloy", 0),
            UnknownChoice,
            (
                "the material is 'zink alloy'; write one of zinc alloy, brass, steel, lead, tungsten, polystyrene, "
                "PMMA, ABS. Did you mean 'zinc alloy'?"
            ),
        ),
        (
            lambda: trimmed("clip", -10, "brass", 0),
            OutOfRange,
            (
                "clip: volume is -10 mm3; it must be 0 or more. Write the piece's own volume; what is trimmed is taken "
                "off."
            ),
        ),
        (
            lambda: added("wall", "10 mm3", "ABS", 0),
            WrongKind,
            "wall: volume is '10 mm3'; expected a number of mm3. Write it without its unit, such as 350.",
        ),
        (
            lambda: weighed("speaker", -12, 0),
            OutOfRange,
            (
                "speaker: mass is -12 g; it must be 0 or more. Write what the scales show; for what is cut away, use "
                "its volume and material."
            ),
        ),
    ],
)
def test_what_makes_no_sense_is_refused(make, kind, text):
    with pytest.raises(kind, match=whole(text)):
        make()


# The published weight of unpowered cars.


@pytest.mark.parametrize("row", published_rows("model_weight_examples.csv"), ids=lambda row: row["id"])
def test_cars_weigh_what_the_worked_examples_print(row):
    """tests/published/model_weight_examples.csv: NMRA RP-20.1 applied to invented lengths."""
    found = recommended_weight(row["scale"], 25.4 * float(row["body_length_in"]))
    assert agrees_with_print(found.weight_g, row["weight_g"])
    ounces = found.weight_g / 28.349523125
    assert agrees_with_print(ounces, row["weight_oz"])


def test_a_body_of_no_clear_length_gives_a_weight_of_no_clear_length():
    found = recommended_weight("ho", ufloat(152.4, 1))
    assert found.weight_g.std_dev == pytest.approx(0.5 * 28.349523125 / 25.4)
    assert found.in_words == f"An unpowered HO car with a body of 152.40 ± 1.00 mm should weigh 113.4 ± 0.6 g ({RP})."


def test_what_another_table_prints_is_said():
    note = "Note: a second web table gives 0.75 oz per inch for S; the quoted RP table gives 0.5."
    assert recommended_weight("S", 100).in_words.endswith(note)


def test_every_scale_of_the_table_is_answered_or_refused():
    rows = list(csv.DictReader((data_folder() / "model_weight.csv").read_text("utf-8").splitlines()))
    for row in rows:
        if row["initial_oz"]:
            assert recommended_weight(row["scale"], 100).scale_name == row["scale"]
        else:
            with pytest.raises(WrongKind):
                recommended_weight(row["scale"], 100)
    assert len(rows) == 10


NO_WEIGHT = (
    "; expected one that a recommended weight is published for: O, On3, S, Sn3, HO, HOn3, TT, N. There is none for "
    "it; go by a car of your own that runs well."
)


@pytest.mark.parametrize("name", ["Z", "G", "H0", "OO", "1:29"])
def test_a_scale_without_a_published_weight_is_refused(name):
    with pytest.raises(WrongKind, match=whole(f"the scale is '{name}'{NO_WEIGHT}")):
        recommended_weight(name, 100)


def test_an_unknown_scale_is_refused():
    with pytest.raises(UnknownScale, match=whole("No scale is called 'QQ'; write HO, N, O or S, or a ratio such as "
                                                 "1:87.1.")):  # fmt: skip
        recommended_weight("QQ", 100)


def test_a_powered_model_is_refused():
    text = (
        "the model is powered; expected an unpowered car, the only kind the published table is for. For a powered "
        "model weight on driven wheels counts: compare its balance before and after."
    )
    railcar = Balance(Support("front truck", -40, 2, 2), Support("rear truck", 40), (Mass("model", 200, 0),))
    with pytest.raises(WrongKind, match=whole(text)):
        recommended_weight("HO", 150, powered=railcar.powered)


@pytest.mark.parametrize(("length", "given"), [(0, "0 mm"), (-5, "-5 mm")])
def test_a_body_of_no_length_is_refused(length, given):
    text = f"the length of the body is {given}; it must be above 0. Measure the body without couplers."
    with pytest.raises(OutOfRange, match=whole(text)):
        recommended_weight("HO", length)


@pytest.mark.parametrize(
    ("low", "high", "known", "text"),
    [
        ("0", "8", "confirmed", "its limits are not above 0, the lower one first"),
        ("8", "8", "confirmed", "its limits are not above 0, the lower one first"),
        ("9", "8", "confirmed", "its limits are not above 0, the lower one first"),
        ("7", "8", "seen", "it says neither confirmed nor from memory"),
    ],
)
def test_a_row_of_the_densities_that_makes_no_sense_is_refused(monkeypatch, low, high, known, text):
    row = {"material": "brass", "low_g_cm3": low, "high_g_cm3": high, "source": "", "confirmed": known}
    monkeypatch.setattr(materials, "rows", lambda _: [(7, row)])
    with pytest.raises(TableError, match=f"densities.csv.*7.*{text}"):
        materials.densities.__wrapped__()
    good = row | {"low_g_cm3": "7", "high_g_cm3": "8", "confirmed": "from memory"}
    monkeypatch.setattr(materials, "rows", lambda _: [(7, good)])
    assert not materials.densities.__wrapped__()["brass"].confirmed


@pytest.mark.parametrize(
    ("ounce", "gram", "agrees"),
    [
        ("28.3495", "1.116122", True),
        ("28.350", "1.11612", True),
        ("28.349", "1.11612", False),  # 0.0005 g less, to the next digit
        ("28.3501", "1.11612", False),
        ("28.3495", "1.11613", False),
        ("28.3495", "1.11611", False),
    ],
)
def test_ounces_and_grams_of_the_recommended_weights_agree(monkeypatch, ounce, gram, agrees):
    """An ounce is 28.349523 g, and an ounce on 25.4 mm 1.1161230 g on one; the table keeps 3 and 5 digits."""
    row = {
        "scale": "HO", "initial_oz": "1", "additional_oz_per_inch_of_body": "1", "initial_g": ounce,
        "additional_g_per_mm": gram, "source": "", "note": "",
    }  # fmt: skip
    monkeypatch.setattr(recommended, "rows", lambda _: [(4, row), (5, row | {"scale": "Z", "initial_oz": ""})])
    if agrees:
        found = recommended._published.__wrapped__()
        assert (float(found["HO"].initial_g), found["Z"]) == (28.349523125, None)
    else:
        with pytest.raises(TableError, match=r"model_weight.csv.*4.*ounces and grams disagree"):
            recommended._published.__wrapped__()


@pytest.mark.parametrize(
    ("mass", "text"),
    [
        (-0.04, "0.0 g"),
        (0.05, "0.1 g"),
        (ufloat(1, 0.05), "1.0 ± 0.1 g"),
        (ufloat(1, 0.049), "1.0 ± 0.05 g"),
        (ufloat(1, 0.0049), "1.0 ± 0.005 g"),
    ],
)
def test_how_a_mass_is_written(mass, text):
    assert grams(mass) == text


@pytest.mark.parametrize(
    ("at", "text"),
    [
        (0.005, "0.01 mm behind the mark"),
        (-0.005, "0.01 mm ahead of the mark"),
        (0.0049, "at the mark"),
        (-0.0049, "at the mark"),
        (-2, "2.00 mm ahead of the mark"),
    ],
)
def test_how_a_place_is_written(at, text):
    assert where(at) == text
