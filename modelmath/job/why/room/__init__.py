"""Figures of the room inside the shell."""
