"""A section that can't be worked out says so in a sentence, once, and the others stand."""

from __future__ import annotations

from collections.abc import Callable

from reportlab.platypus import Flowable

from modelmath.drawings.sheets.style import BODY, words
from modelmath.errors import ModelMathError

AGAIN = "Not worked out, for the reason on the bench card."
Build = Callable[[], list[Flowable]]


class Guard:
    """Builds the sections of one packet, and remembers which reasons it has already given."""

    def __init__(self) -> None:
        self.told: set[str] = set()

    def section(self, build: Build, again: str = AGAIN) -> list[Flowable]:
        """Return what a section builds, or the sentence that says what keeps it from being worked out.

        Parameters
        ----------
        build : function
            Builds the section. [-]
        again : str
            What to say where the reason was already given; empty for nothing. [-]

        Returns
        -------
        list of Flowable
            The section. [-]

        References
        ----------
        None needed.
        """
        try:
            return build()
        except ModelMathError as reason:
            text = self.once(f"Not worked out: {reason}") or again
            return [words(text, BODY)] if text else []

    def once(self, text: str) -> str:
        """Return a text the first time, and nothing after that."""
        if text in self.told:
            return ""
        self.told.add(text)
        return text
