"""Scales, units, text to length and back, rules and readings."""
