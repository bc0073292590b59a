"""Rules and other graduated instruments: marks to lengths and back, repeats, readings."""

from modelmath.lengths.rules.instruments import CANT_MARK_OUT, DATUMS, KINDS, READS, RULE_UNITS, Given, Instrument
from modelmath.lengths.rules.rule import Rule, Setting

__all__ = ["CANT_MARK_OUT", "DATUMS", "KINDS", "READS", "RULE_UNITS", "Given", "Instrument", "Rule", "Setting"]
