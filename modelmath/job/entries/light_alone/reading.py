"""What the forms have in common: their texts read one by one, and what is wrong or missing kept by field."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Generic, TypeVar

from modelmath.errors import ModelMathError, OutOfRange, UnknownChoice, shown
from modelmath.job.entries.light_alone.texts import MOST_MM, in_range, in_two_units, read_size, said_of
from modelmath.quantities.known import Known

Answer = TypeVar("Answer")
Value = TypeVar("Value")

ABOVE = "what can be read in the first form above"


@dataclass(frozen=True)
class Found(Generic[Answer]):
    """What the entries of a form come to.

    Attributes
    ----------
    answer : Answer or None
        What is asked for; None while an entry is missing or can't be read. [-]
    echoes, messages : dict of str to str
        By field: the entry as it was understood; what is wrong with it and what to write. [-]
    waiting : tuple of str
        What is still to enter, in words. [-]

    References
    ----------
    None needed.
    """

    answer: Answer | None
    echoes: dict[str, str] = field(default_factory=dict)
    messages: dict[str, str] = field(default_factory=dict)
    waiting: tuple[str, ...] = ()


class Reading:
    """The texts of one form while they are read.

    Parameters
    ----------
    typed : mapping of str to str
        By field; one that is not there counts as empty. [-]
    own : sequence of str
        The form's own fields. [-]
    shared : sequence of str
        Fields of the first form that it goes by; what is wrong with them is said there. [-]
    """

    def __init__(self, typed: Mapping[str, str], own: Sequence[str], shared: Sequence[str] = ()) -> None:
        self.typed = {name: str(typed.get(name, "")).strip() for name in (*own, *shared)}
        self.own = tuple(own)
        self.echoes: dict[str, str] = {}
        self.messages: dict[str, str] = {}
        self.waiting: list[str] = []

    def read(
        self, name: str, how: Callable[[str], Value], words: Callable[[Value], str] | None = None, needed: str = ""
    ) -> Value | None:
        """Return a field's value; None where it is empty or wrong, and that is said.

        Parameters
        ----------
        name : str
            The field. [-]
        how : callable
            What reads its text. [-]
        words : callable or None
            What says how it was understood. [-]
        needed : str
            What is still to enter where it is empty; nothing where it may be. [-]

        Returns
        -------
        value or None
            As `how` returns it. [-]

        References
        ----------
        None needed.
        """
        if not self.typed[name]:
            self._wait_for(needed)
            return None
        try:
            value = how(self.typed[name])
            said = "" if words is None else words(value)
        except ModelMathError as reason:
            self.wrong(name, str(reason))
            return None
        if said not in ("", self.typed[name]) and name in self.own:
            self.echoes[name] = said
        return value

    def wrong(self, name: str, message: str) -> None:
        """Keep what is wrong with a field; with one of the first form, that it is to be mended there.

        Parameters
        ----------
        name, message : str
            The field, and what to write. [-]

        References
        ----------
        None needed.
        """
        if name in self.own:
            self.messages[name] = message
            self.echoes.pop(name, None)
        else:
            self._wait_for(ABOVE)

    def known(self, name: str, kind: str, what: str, needed: str = "") -> Known | None:
        """Return a quantity with its limits.

        Parameters
        ----------
        name, kind : str
            The field, and one of the kinds of `parse_quantity`. [-]
        what : str
            What a message calls it. [-]
        needed : str
            What is still to enter where it is empty. [-]

        Returns
        -------
        Known or None
            Within `RANGES`. [V, A, ohm, F or s, by its kind]

        References
        ----------
        `parse_quantity`.
        """
        return self.read(name, lambda text: in_range(text, kind, what), lambda known: said_of(known, kind), needed)

    def size(
        self, name: str, what: str, such_as: str, *, needed: str = "", zero: bool = False, most_mm: float = MOST_MM
    ) -> Fraction | None:
        """Return a length with its unit.

        Parameters
        ----------
        name, what : str
            The field, and what a message calls it. [-]
        such_as : str
            A text that a message shows. [-]
        needed : str
            What is still to enter where it is empty. [-]
        zero : bool
            Whether 0 is allowed. [-]
        most_mm : float
            The longest that is meant. [mm]

        Returns
        -------
        Fraction or None
            Exact. [mm]

        References
        ----------
        `parse_length_exact`.
        """

        def how(text: str) -> Fraction:
            return read_size(text, what, such_as, zero=zero, most_mm=most_mm)

        return self.read(name, how, in_two_units, needed)

    def count(self, name: str, what: str, most: int, usual: int = 1) -> int:
        """Return a whole number from 1.

        Parameters
        ----------
        name, what : str
            The field, and what a message calls it. [-]
        most, usual : int
            The most that is meant, and what counts where it is empty or wrong. [-]

        Returns
        -------
        int
            From 1 to `most`. [-]

        References
        ----------
        None needed.
        """
        return self.read(name, lambda text: _counted(text, what, most)) or usual

    def choice(self, name: str, what: str, options: Sequence[str], usual: str) -> str:
        """Return one of some words.

        Parameters
        ----------
        name, what : str
            The field, and what a message calls it. [-]
        options : sequence of str
            The words. [-]
        usual : str
            What counts where it is empty or wrong. [-]

        Returns
        -------
        str
            One of them. [-]

        References
        ----------
        None needed.
        """

        def how(text: str) -> str:
            if text not in options:
                raise UnknownChoice(what, text, options)
            return text

        return self.read(name, how) or usual

    def found(self, work: Callable[[], Answer], at: str) -> Found[Answer]:
        """Return what all of it comes to.

        Parameters
        ----------
        work : callable
            What works it out, once nothing is wrong or missing. [-]
        at : str
            The field beside which it is said where that can't be worked out. [-]

        Returns
        -------
        Found
            The answer, or what is wrong or missing. [-]

        References
        ----------
        None needed.
        """
        answer = None
        if not self.messages and not self.waiting:
            try:
                answer = work()
            except ModelMathError as reason:
                self.wrong(at, str(reason))
        return Found(answer, self.echoes, self.messages, tuple(self.waiting))

    def _wait_for(self, needed: str) -> None:
        if needed and needed not in self.waiting:
            self.waiting.append(needed)


def _counted(text: str, what: str, most: int) -> int:
    if re.fullmatch(r"[1-9][0-9]{0,3}", text) is None or int(text) > most:
        raise OutOfRange(what, shown(text), f"a whole number from 1 to {most}", "Write how many there are, such as 2.")
    return int(text)
