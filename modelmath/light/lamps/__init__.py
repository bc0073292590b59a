"""Lamps: series resistors, strings, current sources, bulbs."""
