"""What a call chooses is given by its name, so that it reads; a number alone would say nothing there."""

from __future__ import annotations

from inspect import Parameter, signature

import pytest

from modelmath.light.feeding import amounts as feeding
from modelmath.light.feeding.budget import budget
from modelmath.light.feeding.keep_alive import keep_alive
from modelmath.light.feeding.loads import Load
from modelmath.light.feeding.plugs import crossings
from modelmath.light.lamps import amounts as lamps
from modelmath.light.lamps.brightness import trimming_table
from modelmath.light.lamps.bulbs import Bulb
from modelmath.light.lamps.resistor import led_resistor
from modelmath.light.lamps.strings import most_in_series, parallel_share, series_or_parallel
from modelmath.light.lens.melt import lens_melt_length
from modelmath.light.lens.shape import LensEnd
from modelmath.light.strands.checks import check_amount, check_length
from modelmath.light.strands.entering import coupled
from modelmath.light.strands.lamp_to_lens import losses_of
from modelmath.light.strands.length import strand_length

BY_NAME = [
    (feeding.check_amount, "zero"),
    (feeding.as_band, "zero"),
    (budget, "sound_a motor_a"),
    (keep_alive, "resistor_ohm rated_v"),
    (Load.of, "resistor_w lamp_w"),
    (crossings, "lamps_in speaker_in motor_in pickups_in keep_alive_in currents_a"),
    (lamps.as_known, "zero"),
    (lamps.check_part, "zero one"),
    (lamps.told_w, "milli"),
    (trimming_table, "series tolerance least_share"),
    (Bulb.dropping_resistor, "series tolerance derate"),
    (led_resistor, "series tolerance derate"),
    (most_in_series, "headroom_v"),
    (parallel_share, "together_a"),
    (series_or_parallel, "series tolerance derate headroom_v"),
    (lens_melt_length, "trial"),
    (LensEnd, "strand_mm"),
    (check_amount, "least_0"),
    (check_length, "least_0 such_as"),
    (coupled, "half_deg"),
    (losses_of, "lamp_end lens_end"),
    (strand_length, "slack_mm trimmed_mm lens_mm sunk_mm"),
]


@pytest.mark.parametrize(("call", "names"), BY_NAME, ids=lambda each: getattr(each, "__qualname__", ""))
def test_choices_are_given_by_name(call, names):
    kinds = {name: given.kind for name, given in signature(call).parameters.items()}
    assert [name for name, kind in kinds.items() if kind is Parameter.KEYWORD_ONLY] == names.split()
    assert Parameter.POSITIONAL_ONLY not in kinds.values()  # and anything else may be
