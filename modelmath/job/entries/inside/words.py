"""Fields that are no lengths: whole numbers, and words of one's own."""

from __future__ import annotations

import re
from typing import Any

from modelmath.errors import OutOfRange, WrongKind, shown
from modelmath.job.entries.inside.form import LONGEST_NAME, Form
from modelmath.job.fields.base import Entry


def count(form: Form, table: dict[str, Any], model: type[Entry], name: str, what: str, most: int = 99) -> None:
    """Read how many there are into a table; an empty field gives the usual number.

    Parameters
    ----------
    form : Form
        The form. [-]
    table : dict
        The table of the document; changed. [-]
    model : type of Entry
        Its kind. [-]
    name : str
        The field, of form and table. [-]
    what : str
        What is counted, for the message. [-]
    most : int
        The largest number. [-]

    References
    ----------
    None needed.
    """

    def read() -> str:
        text = form.typed[name]
        if text and not (re.fullmatch(r"[0-9]{1,6}", text) and 1 <= int(text) <= most):
            remedy = f"Write 2 for two {what}."
            raise WrongKind(f"the number of {what}", shown(text), f"a whole number from 1 to {most}", remedy)
        if not form.kept(name):
            table[name] = int(text) if text else model.model_fields[name].default
        return ""

    form.note(name, read)


def word(form: Form, table: dict[str, Any], model: type[Entry], name: str, what: str) -> None:
    """Read words of one's own into a table; an empty field gives the usual ones, or none.

    Parameters
    ----------
    form : Form
        The form. [-]
    table : dict
        The table of the document; changed. [-]
    model : type of Entry
        Its kind. [-]
    name : str
        The field, of form and table. [-]
    what : str
        What is so called, for the message. [-]

    References
    ----------
    None needed.
    """

    def read() -> str:
        text = form.typed[name]
        if len(text) > LONGEST_NAME:
            given, expected = f"{len(text)} characters long", f"{LONGEST_NAME} or fewer"
            raise OutOfRange(f"the name of {what}", given, expected, "Write a shorter one.")
        if not form.kept(name):
            table[name] = text or model.model_fields[name].default
        return ""

    form.note(name, read)
