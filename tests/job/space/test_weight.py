"""What an unpowered model should weigh stands with its balance, and with no other's."""

from __future__ import annotations

import re

import pytest
from spacious import spacious

from modelmath.enclosure.balance import Balance, Mass, Support, recommended_weight
from modelmath.errors import WrongKind
from modelmath.job.entries.inside.weight import weight_texts, with_weight

CAR = {"front_truck": "0 mm", "rear_truck": "60 mm", "front_grams": 40.0, "rear_grams": 38.0, "driven": "none"}
SAID = (
    "An unpowered HO car with a body of 100.00 ± 0.14 mm should weigh 84.2 ± 0.1 g (NMRA RP-20.1 Car Weight (table as "
    "quoted in a members mailing list with the standards page address)). That length is the shell's inside length, "
    "without its two end walls; each mm more of body adds 0.56 g."
)


def balance(**fields):
    return spacious(weight={**CAR, **fields}).balance


def test_an_unpowered_model_is_held_against_the_published_weight():
    """NMRA RP-20.1, HO: 1 oz and 1/2 oz for each inch of body: 100 mm are 3.937 in, so 2.969 oz or 84.2 g."""
    words = balance().in_words
    assert SAID in words
    assert (
        words[words.index(SAID) + 1]
        == f"It will weigh {28.349523125 * (1 + 100 / 25.4 / 2) - 78:.1f} g less than that."
    )


@pytest.mark.parametrize(
    ("grams", "said"), [(20.0, "It will weigh 13.8 g more than that."), (6.17, "It will weigh that.")]
)
def test_how_far_it_is_off_counts_what_is_put_in(grams, said):
    assert said in balance(changes=[{"name": "weight", "at": "30 mm", "grams": grams}]).in_words


@pytest.mark.parametrize("driven", ["both", "front", "rear"])
def test_a_powered_model_is_told_no_such_weight(driven):
    assert balance(driven=driven).recommended is None
    assert not any("should weigh" in each for each in balance(driven=driven).in_words)


@pytest.mark.parametrize("fields", [{"scale": "1:50"}, {"length": None, "zones": None}])
def test_without_a_length_or_a_published_scale_nothing_is_recommended(fields):
    if "zones" in fields:
        fields = {**fields, "zones": [{"name": "all", "underside": "roof", "chassis_top": "low"}]}
    assert spacious(weight=CAR, **fields).balance.recommended is None


def test_a_powered_balance_takes_no_recommended_weight():
    trucks = Support("front truck", 0.0, 2, 2), Support("rear truck", 60.0, 2, 0)
    message = (
        "the recommended weight is given for a powered model; expected an unpowered car. Leave it out: for a powered "
        "model weight on driven wheels counts."
    )
    with pytest.raises(WrongKind, match=f"^{re.escape(message)}$"):
        Balance(*trucks, (Mass("model", 80.0, 30.0),), (), recommended_weight("HO", 100.0))


def test_a_change_typed_with_a_name_that_can_t_be_read_is_refused_in_words():
    old = spacious(weight=CAR).job
    found = with_weight(old, {**weight_texts(old), "changes": "cab\u202e: 3 g at 2 mm"})
    assert found.messages == {
        "changes": "the change is 'cab\\u202e: 3 g at 2 mm'; expected a name that can be read. name: take out the "
        "mark U+202E, which turns the direction of the text beside it."
    }
