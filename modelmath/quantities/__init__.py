"""Quantities with their limits and their origin, as text and back; results with the band they lie in."""
