"""One family of errors. Each says what was given, what was expected, and what to type instead.

Every error keeps its values as attributes and its ``args`` whole, so that it pickles and a caller
can read the values without taking the text apart. All are `ValueError` too.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from difflib import get_close_matches

_UNSEEN = frozenset(("Cc", "Cf", "Cs", "Zl", "Zp"))  # controls, marks of direction, halves of signs, ends of lines
LONGEST_GIVEN = 300  # characters of what was given that a message repeats; that is a sentence or two of ours
LONGEST_PLACE = 1000  # characters of a place in a file: a few names, of 200 characters each at most
SHOWN = 60  # characters of a person's text that a message repeats; a pasted page would bury the advice


def shown(text: str) -> str:
    """Return a person's text as a message repeats it: quoted, on one line, cut to a readable length.

    Text with foot or inch marks stands in curly quotes, so that marks and quotes are not taken for each other.
    """
    one_line = " ".join(text.split())
    cut = one_line if len(one_line) <= SHOWN else one_line[: SHOWN - 3] + "..."
    seen = "".join(sign if sign.isprintable() else repr(sign)[1:-1] for sign in cut)
    return f"“{seen}”" if "'" in cut or '"' in cut else f"'{seen}'"


def visible(text: str) -> str:
    """Return text as a terminal may be handed it: what would steer it, or turn its direction, is written out."""
    return "".join(repr(sign)[1:-1] if unicodedata.category(sign) in _UNSEEN else sign for sign in text)


def _told(given: str, longest: int = LONGEST_GIVEN) -> str:
    """Return what was given, or what it is called, as it stands, or cut where it is a whole page of a person's text."""
    return given if len(given) <= longest else shown(given)


def nearest(given: str, allowed: Sequence[str], count: int = 3) -> list[str]:
    """Return the allowed words nearest to the one given, best first; none when nothing is near."""
    lowered = {word.casefold(): word for word in reversed(allowed)}
    # What is more than three times as long as a word can't be half like it; letter by letter that takes long to see.
    if len(given) > 3 * max(map(len, lowered), default=0):
        return []
    found = get_close_matches(given.casefold(), list(lowered), n=count, cutoff=0.5)
    return [lowered[word] for word in found]


class ModelMathError(ValueError):
    """Base of every error this package raises on purpose."""


class UnknownChoice(ModelMathError):
    """A word that is not one of a short list."""

    def __init__(self, name: str, given: str, allowed: Sequence[str]) -> None:
        super().__init__(name, given, allowed)
        self.name, self.given, self.allowed = name, given, allowed

    def __str__(self) -> str:
        near = nearest(str(self.given), self.allowed, 1)
        hint = f" Did you mean {near[0]!r}?" if near else ""
        return f"{self.name} is {shown(str(self.given))}; write one of {', '.join(self.allowed)}.{hint}"


class UnknownScale(ModelMathError):
    """A scale name that no table row has."""

    def __init__(self, given: str, near: Sequence[str]) -> None:
        super().__init__(given, near)
        self.given, self.near = given, near

    def __str__(self) -> str:
        advice = (
            f"did you mean {', '.join(self.near)}?" if self.near else "write HO, N, O or S, or a ratio such as 1:87.1."
        )
        return f"No scale is called {shown(self.given)}; {advice}"


class UnreadableLength(ModelMathError):
    """Text that can't be read as a length, or that could be read in two ways."""

    def __init__(self, given: str, problem: str, write: str) -> None:
        super().__init__(given, problem, write)
        self.given, self.problem, self.write = given, problem, write

    def __str__(self) -> str:
        return f"{shown(self.given)}: {self.problem}; write {self.write}."


class OutOfRange(ModelMathError):
    """A number outside what the instrument, the table or the geometry allows."""

    def __init__(self, name: str, given: str, expected: str, write: str) -> None:
        super().__init__(name, given, expected, write)
        self.name, self.given, self.expected, self.write = name, given, expected, write

    def __str__(self) -> str:
        return f"{_told(self.name)} is {_told(self.given)}; it must be {self.expected}. {self.write}"


class WrongKind(ModelMathError):
    """A value of a kind that can't be used here, such as a prototype length where a model length is due."""

    def __init__(self, name: str, given: str, expected: str, write: str) -> None:
        super().__init__(name, given, expected, write)
        self.name, self.given, self.expected, self.write = name, given, expected, write

    def __str__(self) -> str:
        return f"{_told(self.name)} is {_told(self.given)}; expected {self.expected}. {self.write}"


class DoesNotFit(ModelMathError):
    """Something is too large for its space; says by how much and which reading or obstacle is the cause."""

    def __init__(self, what: str, short_mm: float, cause: str, remedy: str) -> None:
        super().__init__(what, short_mm, cause, remedy)
        self.what, self.short_mm, self.cause, self.remedy = what, short_mm, cause, remedy

    def __str__(self) -> str:
        # 0.00 would read as if it fitted; where something is left of no length at all, that is what to say.
        short = f"{self.short_mm:.2f} mm" if self.short_mm >= 0.005 else "less than 0.01 mm"
        amount = "nothing is left" if self.short_mm == 0 else f"{short} too little"
        return f"{self.what} does not fit: {amount}, because {self.cause}. {self.remedy}"


class NotYetKnown(ModelMathError):
    """A figure was asked for before the entries behind it were given."""

    def __init__(self, what: str, missing: str) -> None:
        super().__init__(what, missing)
        self.what, self.missing = what, missing

    def __str__(self) -> str:
        return f"{self.what} is not known yet; enter {self.missing}."


class TableError(ModelMathError):
    """A row of a reference table that contradicts itself or has no source."""

    def __init__(self, file: str, line: int, problem: str) -> None:
        super().__init__(file, line, problem)
        self.file, self.line, self.problem = file, line, problem

    def __str__(self) -> str:
        return f"data/{self.file}, line {self.line}: {self.problem}."


class JobError(ModelMathError):
    """Something wrong in a job document: where, what was given, what to write."""

    def __init__(self, file: str, where: str, problem: str, write: str, path: tuple[str | int, ...] = ()) -> None:
        super().__init__(file, where, problem, write, path)
        self.file, self.where, self.problem, self.write, self.path = file, where, problem, write, path

    def __str__(self) -> str:
        place = f"{self.file}, {_told(self.where, LONGEST_PLACE)}" if self.where else self.file
        advice = f"; {self.write}." if self.write else ""
        return f"{place}: {self.problem}{advice}"
