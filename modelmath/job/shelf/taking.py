"""From a job onto the shelf, and from the shelf into a job. A job stays whole by itself: it gets a copy."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final, TypeVar

from pydantic import ValidationError

from modelmath.errors import NotYetKnown, UnknownChoice
from modelmath.job.document import CircuitEntry, Job, SpeakerEntry
from modelmath.job.fields.base import Entry
from modelmath.job.shelf.things import DRAWER, OWN, Kind, Shelf, ShelfLamp, Thing, things_of
from modelmath.job.storage.faults import form_fault

_Document = TypeVar("_Document", Job, Shelf)


def names_in(job: Job, kind: Kind) -> tuple[str, ...]:
    """Return what of a job can be put on the shelf.

    Parameters
    ----------
    job : Job
        The job. [-]
    kind : {"rule", "speaker", "decoder", "lamp", "drawer"}
        What it is. [-]

    Returns
    -------
    tuple of str
        Names. [-]

    Raises
    ------
    UnknownChoice
        If there is no such kind.

    References
    ----------
    None needed.
    """
    return tuple(things_of(job, kind))


def put_on_shelf(shelf: Shelf, job: Job, kind: Kind, name: str) -> Shelf:
    """Put a thing of a job on the shelf, in place of its namesake where there is one.

    Parameters
    ----------
    shelf : Shelf
        The shelf; it stays as it is. [-]
    job : Job
        The job. [-]
    kind : {"rule", "speaker", "decoder", "lamp", "drawer"}
        What it is. [-]
    name : str
        Its name in the job; ``drawer`` for the job's own stock. [-]

    Returns
    -------
    Shelf
        A new shelf. [-]

    Raises
    ------
    UnknownChoice, NotYetKnown
        If the job has no such thing.
    JobError
        If the shelf holds no more of them.

    References
    ----------
    None needed.

    Examples
    --------
    >>> from modelmath.job.entries.screen import blank_job
    >>> put_on_shelf(Shelf(), blank_job(), "rule", "rule").rules[0].scale
    'HO'
    """
    thing = _named(things_of(job, kind), name, f"the {kind} in the job")
    if kind == "drawer":
        return _checked(Shelf, {**shelf.model_dump(), "drawer": [each.model_dump() for each in _stock(thing)]})
    field = f"{kind}s"
    others = [each.model_dump() for each in getattr(shelf, field)]
    return _checked(Shelf, {**shelf.model_dump(), field: _placed(others, _entry(thing).model_dump())})


def from_shelf(job: Job, shelf: Shelf, kind: Kind, name: str) -> Job:
    """Take a thing from the shelf into a job, in place of its namesake where there is one.

    What belongs to the job stays: how a speaker sits, what motor and sound draw, which output drives a lamp and where
    it sits. A speaker that the job compares is brought up to the shelf's where it is; any other becomes the plan's own,
    in place of the one before, and so does a decoder. A lamp that is new to the job is put at the front.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    shelf : Shelf
        The shelf. [-]
    kind : {"rule", "speaker", "decoder", "lamp", "drawer"}
        What it is. [-]
    name : str
        Its name on the shelf; ``drawer`` for the stock. [-]

    Returns
    -------
    Job
        A new job. [-]

    Raises
    ------
    UnknownChoice, NotYetKnown
        If the shelf has no such thing.
    JobError
        If the job holds no more of them.

    References
    ----------
    None needed.
    """
    thing = _named(shelf.things(kind), name, f"the {kind} on the shelf")
    document = job.model_dump()
    _TAKEN[kind](document, thing, job)
    return _checked(Job, document)


def _named(things: dict[str, Thing], name: str, what: str) -> Thing:
    if not things:
        raise NotYetKnown(f"{what}, '{name}',", "it there first")
    if name not in things:
        raise UnknownChoice(what, name, list(things))
    return things[name]


def _entry(thing: Thing) -> Entry:
    assert isinstance(thing, Entry)
    return thing


def _stock(thing: Thing) -> tuple[Entry, ...]:
    assert isinstance(thing, tuple)
    return thing


def _placed(tables: list[dict[str, Any]], new: dict[str, Any], key: str = "name") -> list[dict[str, Any]]:
    """Return tables with a new one, in place of its namesake or at the end."""
    places = [place for place, each in enumerate(tables) if each[key] == new[key]]
    return [new if place in places else each for place, each in enumerate(tables)] + ([] if places else [new])


def _checked(model: type[_Document], document: dict[str, Any]) -> _Document:
    """Return the document as a shelf or a job; what is too much for it is refused in words."""
    try:
        return model.model_validate(document)
    except ValidationError as fault:
        what = "the shelf" if model is Shelf else "the job"
        raise form_fault(what, "", document, fault.errors(include_url=False)[0]) from None


# Into a job.


def _take_rule(document: dict[str, Any], thing: Thing, job: Job) -> None:
    rule = _entry(thing).model_dump()
    before = next((each for each in job.rules if each.name == rule["name"]), None)
    if before is not None and before.scale is None and rule["scale"] == job.scale:
        rule["scale"] = None  # it has the job's, as before
    document["rules"] = _placed(document["rules"], rule)


def _take_speaker(document: dict[str, Any], thing: Thing, job: Job) -> None:
    speaker = _entry(thing).model_dump()
    driver = speaker.pop("driver")
    compared = next((each for each in document["choices"] if each["name"] == speaker["name"]), None)
    if compared is not None and (job.speaker is None or job.speaker.name != speaker["name"]):
        compared |= {**_less(speaker, "speaker"), "driver": driver}
        return
    own = document["speaker"] or SpeakerEntry().model_dump()
    document["speaker"] = {**own, **_less(speaker, "speaker")}
    document["sound"]["driver"] = driver


def _take_decoder(document: dict[str, Any], thing: Thing, _job: Job) -> None:
    decoder = _entry(thing).model_dump()
    output, feed = decoder.pop("output"), decoder.pop("feed")
    document["decoder"] = {**_less(decoder, "decoder"), **_own(document["decoder"], "decoder")}
    document["sound"]["output"] = output
    document["light"]["feed"] |= _less(feed, "feed")


def _take_lamp(document: dict[str, Any], thing: Thing, _job: Job) -> None:
    assert isinstance(thing, ShelfLamp)
    lamp = thing.model_dump()
    circuit, name = lamp.pop("circuit"), thing.name
    before = next((each for each in document["lamps"] if each["name"] == name), {"end": "front"})
    document["lamps"] = _placed(document["lamps"], {**before, **lamp})
    circuits = document["light"]["circuits"]
    if circuit is None:
        document["light"]["circuits"] = [each for each in circuits if each["lamp"] != name]
        return
    old = next((each for each in circuits if each["lamp"] == name), CircuitEntry(lamp=name).model_dump())
    document["light"]["circuits"] = _placed(circuits, {**old, **_less(circuit, "circuit")}, "lamp")


def _take_drawer(document: dict[str, Any], thing: Thing, _job: Job) -> None:
    document[DRAWER] = [each.model_dump() for each in _stock(thing)]


def _less(fields: dict[str, Any], kind: str) -> dict[str, Any]:
    """Return the fields of a table that don't belong to the job."""
    return {name: value for name, value in fields.items() if name not in OWN[kind]}


def _own(fields: dict[str, Any] | None, kind: str) -> dict[str, Any]:
    """Return what of a table belongs to the job; nothing where it has none."""
    return {} if fields is None else {name: fields[name] for name in OWN[kind]}


_TAKEN: Final[dict[Kind, Callable[[dict[str, Any], Thing, Job], None]]] = {
    "rule": _take_rule,
    "speaker": _take_speaker,
    "decoder": _take_decoder,
    "lamp": _take_lamp,
    "drawer": _take_drawer,
}
