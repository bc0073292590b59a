"""Speakers in series and parallel on a decoder: impedance, power, clipping."""

from modelmath.sound.loads.check import VERDICTS, LoadCheck, Share, check_load, table_of_wirings
from modelmath.sound.loads.decoder import AmpOutput, plain_value
from modelmath.sound.loads.in_words import HEADS, load_in_words, load_rows, text_table
from modelmath.sound.loads.naming import wiring_in_words
from modelmath.sound.loads.polarity import (
    joints,
    polarity_cost_in_words,
    polarity_in_words,
    polarity_test,
    reversed_loss_db,
)
from modelmath.sound.loads.speakers import RatedSpeaker, alike, several
from modelmath.sound.loads.wiring import (
    Parallel,
    Series,
    Single,
    Wiring,
    impedance_ohm,
    in_parallel,
    in_series,
    power_shares,
    wirings,
)

__all__ = [
    "HEADS",
    "VERDICTS",
    "AmpOutput",
    "LoadCheck",
    "Parallel",
    "RatedSpeaker",
    "Series",
    "Share",
    "Single",
    "Wiring",
    "alike",
    "check_load",
    "impedance_ohm",
    "in_parallel",
    "in_series",
    "joints",
    "load_in_words",
    "load_rows",
    "plain_value",
    "polarity_cost_in_words",
    "polarity_in_words",
    "polarity_test",
    "power_shares",
    "reversed_loss_db",
    "several",
    "table_of_wirings",
    "text_table",
    "wiring_in_words",
    "wirings",
]
