"""How the things of a job differ from their namesakes on the shelf, field by field and in words."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Final

from modelmath.errors import ModelMathError
from modelmath.job.document import Job, RuleEntry
from modelmath.job.fields.base import Entry
from modelmath.job.shelf.things import KINDS, OWN, Kind, Shelf, Thing, things_of
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.text import SYMBOLS

NOT_GIVEN = "not given"
ANY_SCALE = "HO"  # two lengths are alike in one scale or in none
# How a field is said; one that is not here is said by its name.
WORDS: Final[dict[str, str]] = {
    "zero_offset": "zero stands in",
    "offset_uncertainty": "zero is uncertain by",
    "graduation": "marks are apart by",
    "scale_error": "scale error",
    "read_to": "read to",
    "calibrated_at": "calibrated at",
    "length": "length",
    "fs": "driver fs",
    "each": "one output gives",
    "all": "all outputs give",
    "whole": "the decoder gives in all",
}
_MARKS = frozenset(
    ["graduation", "zero_offset", "offset_uncertainty", "reading_uncertainty", "read_to", "calibrated_at", "length"]
)  # of a rule: they count its unit
_BARE = re.compile(r"[-+0-9./ ]+")


@dataclass(frozen=True)
class FieldDiffers:
    """A field that differs.

    Attributes
    ----------
    name : str
        Its place in the thing, such as ``zero_offset`` or ``driver.fs``. [-]
    here, there : str
        What the job says, and what the shelf says. [-]
    """

    name: str
    here: str
    there: str

    def __str__(self) -> str:
        *_above, last = self.name.split(".")
        words = WORDS.get(last, self.name.replace("_", " ").replace(".", " "))
        return f"{words} {self.here} here, {self.there} there"


@dataclass(frozen=True)
class Difference:
    """A thing of a job that is not as its namesake on the shelf.

    Attributes
    ----------
    kind : {"rule", "speaker", "decoder", "lamp", "drawer"}
        What it is. [-]
    name : str
        Its name. [-]
    fields : tuple of FieldDiffers
        What differs. [-]
    """

    kind: Kind
    name: str
    fields: tuple[FieldDiffers, ...]

    def __str__(self) -> str:
        what = "the job's own stock" if self.kind == "drawer" else f"the {self.kind} '{self.name}'"
        return f"{what} is not as on the shelf: {'; '.join(map(str, self.fields))}"


def differences(job: Job, shelf: Shelf) -> tuple[Difference, ...]:
    """Return how the things of a job differ from their namesakes on the shelf.

    Parameters
    ----------
    job : Job
        The job. [-]
    shelf : Shelf
        The shelf. [-]

    Returns
    -------
    tuple of Difference
        By kind, then in the job's order; what belongs to the job alone is no difference, nor is one length written in
        two ways. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> from modelmath.job.document import RuleEntry
    >>> from modelmath.job.entries.screen import blank_job
    >>> job = blank_job(unit="mm")
    >>> there = job.rules[0].model_copy(update={"graduation": "0.1"})
    >>> [str(each) for each in differences(job, Shelf(rules=[there]))]
    ["the rule 'rule' is not as on the shelf: marks are apart by 0.5 mm here, 0.1 mm there"]
    """
    found: list[Difference] = []
    for kind in KINDS:
        there = shelf.things(kind)
        for name, thing in things_of(job, kind).items():
            if name in there and (fields := tuple(_fields(thing, there[name]))):
                found.append(Difference(kind, name, fields))
    return tuple(found)


def _fields(here: Thing, there: Thing) -> Iterator[FieldDiffers]:
    if isinstance(here, tuple) or isinstance(there, tuple):
        pieces = [", ".join(map(_piece, each)) for each in (here, there) if isinstance(each, tuple)]
        if here != there:
            yield FieldDiffers("stock", *pieces)
        return
    ours, theirs = _flat(here), _flat(there)
    units = tuple(_unit(each) for each in (here, there))
    for name in dict.fromkeys((*ours, *theirs)):
        one, other = ours.get(name), theirs.get(name)
        marks = units if name in _MARKS else ("", "")  # a mark counts its rule's unit
        if one != other and _length(one, marks[0]) != _length(other, marks[1]):
            yield FieldDiffers(name, _said(one, marks[0]), _said(other, marks[1]))


def _piece(stock: Entry) -> str:
    fields = stock.model_dump(exclude_none=True)
    size = " x ".join(fields[key] for key in ("length", "width") if key in fields)
    offcut = ", offcut" if fields["offcut"] else ""
    return f"{fields['count']} of {fields.get('strip') or fields.get('sheet')}, {size}{offcut}"


def _flat(entry: Entry, above: str = "") -> dict[str, Any]:
    """Return the fields of a table and of those in it, less what belongs to the job."""
    own = {name for names in OWN.values() for name in names} if above else set(OWN["speaker"]) | set(OWN["decoder"])
    found: dict[str, Any] = {}
    for name in type(entry).model_fields:
        value = getattr(entry, name)
        if name == "name" or name in own:
            continue
        if isinstance(value, Entry):
            found |= _flat(value, f"{above}{name}.")
        else:
            found[f"{above}{name}"] = value
    return found


def _unit(entry: Entry) -> str:
    return entry.unit if isinstance(entry, RuleEntry) else ""


def _length(value: Any, unit: str) -> Any:
    """Return a length that can be read as one, so that it is the same however it is written; all else as it is."""
    if not isinstance(value, str):
        return value
    try:
        return parse_length_exact(value, unit=unit or None, scale=ANY_SCALE)
    except ModelMathError:
        return value


def _said(value: Any, unit: str) -> str:
    if value is None or value == []:
        return NOT_GIVEN
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return ", ".join(map(str, value))
    text = str(value)
    return f"{text} {SYMBOLS.get(unit, unit)}" if unit and _BARE.fullmatch(text) else text
