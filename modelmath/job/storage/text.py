"""A job as TOML text and back; the comments and the order of an earlier text survive."""

from __future__ import annotations

import tomllib
from collections.abc import MutableMapping
from dataclasses import dataclass
from typing import Any

import tomlkit
from pydantic import ValidationError
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, Table

from modelmath.errors import JobError
from modelmath.job.document import FORMAT, Job, RuleEntry
from modelmath.job.storage.faults import form_fault, place_of, syntax_fault, too_deep
from modelmath.job.storage.versions import brought_up_to_date

MOST_FAULTS = 100  # said one by one; a file with more is no job with slips of the pen
_CANT_KEEP_UP = (TOMLKitError, KeyError, IndexError, TypeError, ValueError, AttributeError, RecursionError)


@dataclass(frozen=True)
class Parsed:
    """What a text came to.

    Attributes
    ----------
    job : Job or None
        The job; None where something is wrong. [-]
    faults : list of JobError
        What is wrong. [-]
    news : tuple of str
        What was brought up to date, a sentence each. [-]
    """

    job: Job | None
    faults: list[JobError]
    news: tuple[str, ...] = ()


def parse_job(text: str, file: str = "the job") -> tuple[Job | None, list[JobError]]:
    """Read a job document from text, with every fault of form.

    Parameters
    ----------
    text : str
        TOML. [-]
    file : str
        Name for messages. [-]

    Returns
    -------
    tuple of (Job or None, list of JobError)
        The job, or None with the faults. [-]

    References
    ----------
    TOML 1.0.0.
    """
    found = parsed(text, file)
    return found.job, found.faults


def parsed(text: str, file: str = "the job") -> Parsed:
    """Read a job document from text, one of an earlier release too.

    Parameters
    ----------
    text : str
        TOML. [-]
    file : str
        Name for messages. [-]

    Returns
    -------
    Parsed
        The job, or the faults; and what was brought up to date. [-]

    References
    ----------
    TOML 1.0.0; `modelmath.job.storage.versions` for what earlier releases wrote.

    Examples
    --------
    >>> parsed("format = 99").faults[0].problem
    'the file has format 99, newer than this release reads (1)'
    """
    if fault := too_deep(file, text):
        return Parsed(None, [fault])
    try:
        document = tomllib.loads(text)
    except (ValueError, RecursionError) as refused:  # a number of 5000 digits is a plain ValueError
        return Parsed(None, [syntax_fault(file, refused, text)])
    return from_document(document, file, text)


def from_document(document: MutableMapping[str, Any], file: str, text: str = "") -> Parsed:
    """Check a document that was read already.

    Parameters
    ----------
    document : dict
        Its tables; brought up to date in place. [-]
    file : str
        Name for messages. [-]
    text : str
        The TOML it was read from, for the lines of faults; empty where it was none. [-]

    Returns
    -------
    Parsed
        The job, or the faults; and what was brought up to date. [-]

    References
    ----------
    None needed.
    """
    version = document.get("format", FORMAT)
    if isinstance(version, int) and version > FORMAT:
        problem = f"the file has format {version}, newer than this release reads ({FORMAT})"
        where = place_of(text, ("format",), dict(document))
        return Parsed(None, [JobError(file, where, problem, "install a newer release to open it", ("format",))])
    news = brought_up_to_date(document)
    try:
        return Parsed(Job.model_validate(document), [], news)
    except ValidationError as fault:
        found = fault.errors(include_url=False)
        faults = [form_fault(file, text, dict(document), error) for error in found[:MOST_FAULTS]]
        if more := len(found[MOST_FAULTS:]):
            faults.append(JobError(file, "", f"there are {more} more faults", "mend those above first"))
        return Parsed(None, faults, news)


def job_text(job: Job, before: str = "") -> str:
    """Return a job as TOML, keeping the comments and order of an earlier text.

    Parameters
    ----------
    job : Job
        The job. [-]
    before : str
        The file as it is, if any. [-]

    Returns
    -------
    str
        TOML; fields that have their default value and were not written before stay unwritten. [-]

    References
    ----------
    TOML 1.0.0.
    """
    return kept_up(job, before) or _fresh(job)


def kept_up(job: Job, before: str) -> str | None:
    """Return an earlier text that now says what a job says, its comments and its order as they were.

    Parameters
    ----------
    job : Job
        The job. [-]
    before : str
        The file as it is; one of an earlier release is brought up to date. [-]

    Returns
    -------
    str or None
        TOML; None where there is no earlier text, or it is laid out in a way that can't be kept up. [-]

    References
    ----------
    TOML 1.0.0.
    """
    if not before:
        return None
    try:
        document = tomlkit.parse(before)
        brought_up_to_date(document)
        _merge(document, _content(job), job.model_dump(exclude_none=True))
        text = tomlkit.dumps(document)
    except _CANT_KEEP_UP:
        return None
    return text if parse_job(text)[0] == job else None


def _fresh(job: Job) -> str:
    document = tomlkit.document()
    for key, value in _content(job).items():
        document[key] = _item(value)
    return tomlkit.dumps(document)


def _content(job: Job) -> dict[str, Any]:
    content = {"format": job.format, **job.model_dump(exclude_none=True, exclude_defaults=True)}
    content["rules"] = [_less_usual(rule) for rule in job.rules]
    return content


def _less_usual(rule: RuleEntry) -> dict[str, Any]:
    """Return a rule's fields without those that it would have by its kind alone."""
    bare = RuleEntry(name=rule.name, kind=rule.kind).model_dump()
    named = ("name",) if rule.kind == RuleEntry.model_fields["kind"].default else ("name", "kind")
    fields = rule.model_dump(exclude_none=True)
    return {field: value for field, value in fields.items() if field in named or value != bare[field]}


def _merge(table: Any, content: dict[str, Any], whole: dict[str, Any]) -> None:
    """Make a tomlkit table say what `content` says, touching only what differs."""
    for key in [key for key in table if whole.get(key) in (None, [])]:
        del table[key]
    for key, value in {**{k: whole[k] for k in table if k in whole}, **content}.items():
        old = table.get(key)
        if isinstance(value, dict) and isinstance(old, Table):
            _merge(old, value, whole[key])
        elif isinstance(value, list) and isinstance(old, AoT) and all(isinstance(each, dict) for each in value):
            table[key] = _merged(old, value, whole[key])
        elif old is None or old != value:
            table[key] = _item(value)


def _merged(old: AoT, values: list[dict[str, Any]], wholes: list[dict[str, Any]]) -> AoT:
    """Return a list of tables that says what `values` say; an entry keeps its own comments when others come or go."""
    kept = _counterparts([_key_of(table) for table in old], [_key_of(value) for value in values])
    for place, value, whole in zip(kept, values, wholes, strict=True):
        if place is not None:
            _merge(old[place], value, whole)
    places = [place for place in kept if place is not None]
    if places != sorted(places):
        tables = tomlkit.aot()
        for place, value in zip(kept, values, strict=True):
            tables.append(tomlkit.item(value) if place is None else old[place])
        return tables
    for place in reversed(range(len(old))):
        if place not in places:
            del old[place]
    for at, (place, value) in enumerate(zip(kept, values, strict=True)):
        if place is None:
            old.insert(at, tomlkit.item(value))
    return old


def _counterparts(before: list[str], after: list[str]) -> list[int | None]:
    """Return for each name after the place of the same name before; of a new name, the one it has taken over."""
    free = dict(enumerate(before))
    places: list[int | None] = []
    for name in after:
        place = next((place for place, old in free.items() if old == name), None)
        if place is not None:
            del free[place]
        places.append(place)
    return [at if place is None and at in free else place for at, place in enumerate(places)]


def _key_of(entry: Any) -> str:
    return str(next((entry[key] for key in ("name", "face", "strip") if key in entry), ""))


def _item(value: Any) -> Any:
    if isinstance(value, list) and value and all(isinstance(each, dict) for each in value):
        tables = tomlkit.aot()
        for each in value:
            tables.append(tomlkit.item(each))
        return tables
    return tomlkit.item(value)
