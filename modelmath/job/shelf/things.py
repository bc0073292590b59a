"""What lies on the shelf. Each thing is made of the job document's own tables, less what belongs to one job.

A speaker has its sizes and its parameters, not how it sits; a decoder has what its sheet says, not what this chassis'
motor draws; a lamp has what it is, not which output drives it or where it sits.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any, Final, Literal, get_args

from pydantic import Field, model_validator

from modelmath.errors import UnknownChoice
from modelmath.job.document import (
    ChoiceEntry,
    CircuitEntry,
    DecoderEntry,
    Entry,
    FeedEntry,
    Job,
    OutputEntry,
    RuleEntry,
    StockEntry,
)
from modelmath.job.fields.base import LengthText, Text
from modelmath.lengths.units import SCALE_UNITS

Kind = Literal["rule", "speaker", "decoder", "lamp", "drawer"]
KINDS: Final[tuple[Kind, ...]] = get_args(Kind)
SHELF = "shelf.toml"  # its name in the workbook folder
SHELF_FORMAT = 1
DRAWER = "drawer"  # the one name of what a job lists as its own stock
# What of a thing belongs to the job that it is in.
OWN: Final[dict[str, tuple[str, ...]]] = {
    "speaker": ("faces", "turned", "place"),
    "decoder": ("inside",),
    "feed": ("motor", "sound", "series"),
    "circuit": ("lamp", "output", "at", "resistor"),
}


class ShelfDecoder(DecoderEntry):
    """A decoder, with what its own sheet says of its outputs for sound and for lamps."""

    output: OutputEntry = Field(default_factory=OutputEntry)
    feed: FeedEntry = Field(default_factory=FeedEntry)


class ShelfLamp(Entry):
    """A lamp: the room it needs, the strand it takes, and what it is."""

    name: Text
    room: LengthText
    strand: LengthText | None = None
    circuit: CircuitEntry | None = None

    @model_validator(mode="before")
    @classmethod
    def _named(cls, fields: Any) -> Any:
        """Give what the lamp is its name, which need not be written twice."""
        if isinstance(fields, dict) and isinstance(fields.get("circuit"), dict) and "name" in fields:
            return {**fields, "circuit": {"lamp": fields["name"], **fields["circuit"]}}
        return fields


class Shelf(Entry):
    """Everything on the shelf; of each kind a name stands once."""

    format: Annotated[int, Field(ge=1)] = SHELF_FORMAT
    rules: Annotated[list[RuleEntry], Field(max_length=200)] = Field(default_factory=list)
    speakers: Annotated[list[ChoiceEntry], Field(max_length=200)] = Field(default_factory=list)
    decoders: Annotated[list[ShelfDecoder], Field(max_length=200)] = Field(default_factory=list)
    lamps: Annotated[list[ShelfLamp], Field(max_length=200)] = Field(default_factory=list)
    drawer: Annotated[list[StockEntry], Field(max_length=1000)] = Field(default_factory=list)

    def things(self, kind: Kind) -> dict[str, Entry | tuple[StockEntry, ...]]:
        """Return what lies there of one kind, by name.

        Parameters
        ----------
        kind : {"rule", "speaker", "decoder", "lamp", "drawer"}
            What it is. [-]

        Returns
        -------
        dict of str to Entry or tuple of StockEntry
            In the shelf's order; the drawer is one thing. [-]

        Raises
        ------
        UnknownChoice
            If there is no such kind.

        References
        ----------
        None needed.

        Examples
        --------
        >>> list(Shelf(rules=[RuleEntry(name="steel 6 in")]).things("rule"))
        ['steel 6 in']
        """
        if kind not in KINDS:
            raise UnknownChoice("the kind of thing", kind, KINDS)
        if kind == "drawer":
            return {DRAWER: tuple(self.drawer)} if self.drawer else {}
        return {each.name: each for each in getattr(self, f"{kind}s")}


Thing = Entry | tuple[StockEntry, ...]


def things_of(job: Job, kind: Kind) -> dict[str, Thing]:
    """Return the things of one kind in a job, as they would lie on the shelf.

    Parameters
    ----------
    job : Job
        The job. [-]
    kind : {"rule", "speaker", "decoder", "lamp", "drawer"}
        What they are. [-]

    Returns
    -------
    dict of str to Entry or tuple of StockEntry
        By name, in the job's order; the plan's own speaker before those to compare. [-]

    Raises
    ------
    UnknownChoice
        If there is no such kind.

    References
    ----------
    None needed.
    """
    if kind not in KINDS:
        raise UnknownChoice("the kind of thing", kind, KINDS)
    return _MADE[kind](job)


def counts_scale(rule: RuleEntry) -> bool:
    """Say whether a rule counts scale feet or inches, so that it needs a scale.

    Parameters
    ----------
    rule : RuleEntry
        The rule. [-]

    Returns
    -------
    bool
        By its unit, or by a length of its own that is written so. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> counts_scale(RuleEntry(name="a")), counts_scale(RuleEntry(name="b", unit="mm"))
    (True, False)
    """
    skipped = ("name", "kind", "unit", "scale", "reads")
    texts = [str(value) for field, value in rule.model_dump().items() if field not in skipped]
    return rule.unit in SCALE_UNITS or any("scale" in text.casefold() for text in texts)


def _rules(job: Job) -> dict[str, Thing]:
    # On the shelf a scale rule names its scale, which in a job may be the job's.
    return {
        each.name: each.model_copy(update={"scale": each.scale or job.scale}) if counts_scale(each) else each
        for each in job.rules
    }


def _speakers(job: Job) -> dict[str, Thing]:
    found: dict[str, Thing] = {}
    if job.speaker is not None:
        own = {name: getattr(job.speaker, name) for name in type(job.speaker).model_fields}
        found[job.speaker.name] = _without(ChoiceEntry(**own, driver=job.sound.driver), "speaker")
    for each in job.choices:
        found.setdefault(each.name, _without(each, "speaker"))
    return found


def _decoders(job: Job) -> dict[str, Thing]:
    if job.decoder is None:
        return {}
    fields = _without(job.decoder, "decoder").model_dump()
    feed = _without(job.light.feed, "feed")
    made = ShelfDecoder.model_validate({**fields, "output": job.sound.output, "feed": feed})
    return {made.name: made}


def _lamps(job: Job) -> dict[str, Thing]:
    circuits = {each.lamp: each for each in job.light.circuits}
    found: dict[str, Thing] = {}
    for each in job.lamps:
        own = circuits.get(each.name)
        kept = None if own is None else _without(own, "circuit").model_copy(update={"lamp": each.name})
        found[each.name] = ShelfLamp(name=each.name, room=each.room, strand=each.strand, circuit=kept)
    return found


def _drawer(job: Job) -> dict[str, Thing]:
    return {DRAWER: tuple(job.drawer)} if job.drawer else {}


def _without(entry: Any, kind: str) -> Any:
    """Return a table in which what belongs to the job has its usual value."""
    fields = type(entry).model_fields
    return entry.model_copy(update={name: fields[name].default for name in OWN[kind] if not fields[name].is_required()})


_MADE: Final[dict[Kind, Callable[[Job], dict[str, Thing]]]] = {
    "rule": _rules,
    "speaker": _speakers,
    "decoder": _decoders,
    "lamp": _lamps,
    "drawer": _drawer,
}
