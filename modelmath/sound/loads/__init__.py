"""Speakers in series and parallel on a decoder: impedance, power, clipping."""
