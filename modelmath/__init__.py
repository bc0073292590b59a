"""Calculations for fitting sound and light inside the shells of powered scale models."""
