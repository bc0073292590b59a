"""Figures of the sound."""
