"""The fields of one form read into a copy of a job document: what is wrong stays beside its field."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Any

from pydantic import ValidationError

from modelmath.errors import JobError, ModelMathError, OutOfRange, UnknownChoice, shown
from modelmath.job.bench.bench import Bench
from modelmath.job.document import Job
from modelmath.job.entries.screen import Outcome
from modelmath.job.entries.too_much import too_much
from modelmath.job.fields.base import Entry
from modelmath.job.next_model.marked import freshly_read
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.text import format_length

YES_NO: Mapping[str, bool] = {"no": False, "yes": True}
LONGEST_NAME = 200  # characters; as the document's own names
FieldAt = Callable[[JobError, Job], str]


def text_of(entry: Entry, key: str) -> str:
    """Return a field of a table as it is typed; empty where it has its usual value.

    Parameters
    ----------
    entry : Entry
        The table. [-]
    key : str
        The field. [-]

    Returns
    -------
    str
        Its text. [-]

    References
    ----------
    None needed.
    """
    value = getattr(entry, key)
    return "" if value is None or value == type(entry).model_fields[key].default else str(value)


def word_for(choices: Mapping[str, Any], value: object) -> str:
    """Return the word that stands for a value.

    Parameters
    ----------
    choices : mapping of str to object
        Values by the words that stand for them. [-]
    value : object
        One of the values. [-]

    Returns
    -------
    str
        Its word. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> word_for(YES_NO, True)
    'yes'
    """
    return next(word for word, each in choices.items() if each == value)


def two_units(length_mm: Fraction) -> str:
    """Return a length as it was understood.

    Parameters
    ----------
    length_mm : Fraction
        The length. [mm]

    Returns
    -------
    str
        In millimetres and inches. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> two_units(Fraction(127, 10))
    '12.70 mm = 0.500 in'
    """
    return " = ".join(format_length(length_mm, unit) for unit in ("mm", "in"))


def said(fault: ModelMathError) -> str:
    """Return a fault as it stands beside a field, without the place in the document.

    Parameters
    ----------
    fault : ModelMathError
        What is wrong. [-]

    Returns
    -------
    str
        What is wrong, and what to write. [-]

    References
    ----------
    None needed.
    """
    if not isinstance(fault, JobError):
        return str(fault)
    advice = f"; {fault.write}" if fault.write else ""
    return f"{fault.problem}{advice}".removesuffix(".") + "."


class Form:
    """Reads the fields of a form one by one into a copy of the document.

    A field left as it was changes nothing, so that what the document says in a way of its own survives.

    Parameters
    ----------
    job : Job
        The job that the fields change; it stays as it is. [-]
    typed : mapping of str to str
        By field, as typed; one that is not there is as it was. [-]
    before : mapping of str to str
        By field, the job's own texts. [-]

    References
    ----------
    None needed.
    """

    def __init__(self, job: Job, typed: Mapping[str, str], before: Mapping[str, str]) -> None:
        self.job, self.before = job, before
        self.typed = {name: typed.get(name, text).strip() for name, text in before.items()}
        self.document = job.model_dump()
        self.echoes: dict[str, str] = {}
        self.messages: dict[str, str] = {}
        self.waiting: list[str] = []

    def kept(self, name: str) -> bool:
        """Say whether a field is as it was.

        Parameters
        ----------
        name : str
            The field. [-]

        Returns
        -------
        bool
            True if nothing was typed into it. [-]

        References
        ----------
        None needed.
        """
        return self.typed[name] == self.before[name].strip()

    def note(self, name: str, read: Callable[[], str]) -> None:
        """Read a field, and keep what it was understood as, or what is wrong with it.

        Parameters
        ----------
        name : str
            The field. [-]
        read : callable
            Puts the field into the document, and returns its echo. [-]

        References
        ----------
        None needed.
        """
        try:
            echo = read()
        except ModelMathError as fault:
            if not self.kept(name):
                self.messages[name] = str(fault)
            return
        if echo:
            self.echoes[name] = echo

    def size(self, table: dict[str, Any], model: type[Entry], name: str, key: str, zero: bool = True) -> None:
        """Read a length into a table; an empty field gives the usual value.

        Parameters
        ----------
        table : dict
            The table of the document. [-]
        model : type of Entry
            Its kind. [-]
        name, key : str
            The field of the form, and that of the table. [-]
        zero : bool
            Whether 0 makes sense. [-]

        References
        ----------
        `parse_length_exact`.
        """
        self.note(name, lambda: self._length(table, model, name, key, zero))

    def place(self, table: dict[str, Any], model: type[Entry], name: str, key: str) -> None:
        """Read a place or offset, which may lie on either side of 0, into a table.

        Parameters
        ----------
        table : dict
            The table of the document. [-]
        model : type of Entry
            Its kind. [-]
        name, key : str
            The field of the form, and that of the table. [-]

        References
        ----------
        `parse_length_exact`.
        """
        self.note(name, lambda: self._length(table, model, name, key, signed=True))

    def _length(
        self, table: dict[str, Any], model: type[Entry], name: str, key: str, zero: bool = True, signed: bool = False
    ) -> str:
        text = self.typed[name]
        if not text:
            if not self.kept(name):
                table[key] = model.model_fields[key].get_default()
            return ""
        value = self.read_length(text, zero, signed)
        if not self.kept(name):
            table[key] = text
        return two_units(value)

    def read_length(self, text: str, zero: bool = True, signed: bool = False) -> Fraction:
        """Read a length that names its unit.

        Parameters
        ----------
        text : str
            As typed. [-]
        zero : bool
            Whether 0 makes sense. [-]
        signed : bool
            Whether it may be below 0. [-]

        Returns
        -------
        Fraction
            The length. [mm]

        Raises
        ------
        UnreadableLength, OutOfRange
            If it can't be read, or is below what makes sense.

        References
        ----------
        `parse_length_exact`.
        """
        value = parse_length_exact(text, scale=self.job.scale)
        if not signed and (value < 0 or (value == 0 and not zero)):
            remedy = "Check the sign." if value < 0 else "Measure it, and write its size."
            raise OutOfRange("the length", shown(text), "0 or more" if zero else "above 0", remedy)
        return value

    def choose(self, table: dict[str, Any], name: str, key: str, choices: Mapping[str, Any], what: str) -> None:
        """Read a choice among words into a table.

        Parameters
        ----------
        table : dict
            The table of the document. [-]
        name, key : str
            The field of the form, and that of the table. [-]
        choices : mapping of str to object
            Values by the words that stand for them. [-]
        what : str
            What is chosen, for the message. [-]

        References
        ----------
        None needed.
        """

        def read() -> str:
            if self.typed[name] not in choices:
                raise UnknownChoice(what, self.typed[name], list(choices))
            if not self.kept(name):
                table[key] = choices[self.typed[name]]
            return ""

        self.note(name, read)

    def name(self, table: dict[str, Any], what: str) -> None:
        """Read the name of an entry into its table.

        Parameters
        ----------
        table : dict
            The table of the document. [-]
        what : str
            What is named, for the message. [-]

        References
        ----------
        None needed.
        """

        def read() -> str:
            if len(self.typed["name"]) > LONGEST_NAME:
                count = f"{len(self.typed['name'])} characters long"
                raise OutOfRange(f"the name of {what}", count, f"{LONGEST_NAME} or fewer", "Write a shorter one.")
            if not self.kept("name"):
                table["name"] = self.typed["name"]
            return ""

        self.note("name", read)

    def need(self, name: str, message: str, new: bool) -> None:
        """Ask for a field that must not be empty.

        Parameters
        ----------
        name : str
            The field. [-]
        message : str
            What to write. [-]
        new : bool
            Whether the entry is still being filled in, so that nothing is wrong yet. [-]

        References
        ----------
        None needed.
        """
        if self.typed[name]:
            return
        if new:
            self.waiting.append(name)
        else:
            self.messages[name] = message

    def outcome(self, field_at: FieldAt) -> Outcome:
        """Return the new job, or what is missing or wrong; faults that the job had before are not told again.

        Parameters
        ----------
        field_at : callable
            Says beside which field a fault of the new job belongs; empty where it is none of them. [-]

        Returns
        -------
        Outcome
            Of this form. [-]

        References
        ----------
        None needed.
        """
        if self.waiting or self.messages:
            return Outcome(None, self.echoes, self.messages, tuple(self.waiting))
        try:
            job = freshly_read(self.job, Job.model_validate(self.document))
        except ValidationError as fault:  # every field was read before, so this is too much of something
            return Outcome(None, self.echoes, {"": too_much(fault)})
        if job == self.job:
            return Outcome(self.job, self.echoes)
        faults = Bench(job).faults
        known = {(each.problem, each.write) for each in Bench(self.job).faults} if faults else set()
        found: dict[str, str] = {}
        for each in faults:
            if (each.problem, each.write) not in known:
                found.setdefault(field_at(each, job), said(each))
        return Outcome(None if found else job, self.echoes, found)
