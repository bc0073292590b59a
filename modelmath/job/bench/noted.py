"""A fault that stands in the list already, so that what follows from it is not told as another."""

from __future__ import annotations

from modelmath.errors import ModelMathError


class AlreadyNoted(ModelMathError):
    """What is asked for has a fault of its own, which is in the list already."""
