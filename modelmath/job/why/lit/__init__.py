"""Figures of the light."""
