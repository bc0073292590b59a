"""Figures of what is made: parts, holes, cuts."""
