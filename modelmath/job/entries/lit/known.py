"""A quantity with its unit, limits and origin, read from one field of a form."""

from __future__ import annotations

from functools import partial
from typing import Any

from modelmath.job.entries.inside.form import Form
from modelmath.job.entries.inside.sound import line_value
from modelmath.quantities.text import format_quantity, parse_quantity


def read_known(form: Form, table: dict[str, Any], name: str, key: str, kind: str, usual: str | None = None) -> None:
    """Read a quantity into a table; an empty field takes it out, or puts in what is usual.

    Parameters
    ----------
    form : Form
        The form. [-]
    table : dict
        The table of the document; changed. [-]
    name, key : str
        The field of the form, and that of the table. [-]
    kind : str
        One of the kinds of `parse_quantity`. [-]
    usual : str or None
        What stands there where nothing is typed. [-]

    References
    ----------
    `parse_quantity`.
    """
    form.note(name, partial(_read, form, table, name, key, kind, usual))


def _read(form: Form, table: dict[str, Any], name: str, key: str, kind: str, usual: str | None) -> str:
    text = form.typed[name]
    if not text:
        if not form.kept(name):
            table[key] = usual
        return ""
    value = text if form.kept(name) else line_value(text, key, kind)
    known = parse_quantity(value, kind)
    if not form.kept(name):
        table[key] = value
    return format_quantity(known, kind)
