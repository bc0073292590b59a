"""Job files: read with the place of every fault, written whole or not at all."""

from __future__ import annotations

import os
import tomllib
from pathlib import Path
from typing import Any

import tomlkit
from pydantic import ValidationError
from tomlkit.items import AoT, Table

from modelmath.errors import JobError
from modelmath.files import write_whole
from modelmath.job.document import FORMAT, Job, RuleEntry
from modelmath.job.storage.faults import form_fault, place_of, syntax_fault

LARGEST = 2_000_000  # bytes; a job of a hundred zones has some 20,000


def load_job(path: str | os.PathLike[str]) -> Job:
    """Read a job file.

    Parameters
    ----------
    path : str or path
        The TOML file. [-]

    Returns
    -------
    Job
        The job document. [-]

    Raises
    ------
    JobError
        For the first thing wrong: which file, field and line, what was given, what to write.

    References
    ----------
    TOML 1.0.0; the fields are those of `Job`.
    """
    job, faults = read_job(path)
    if job is None:
        raise faults[0]
    return job


def read_job(path: str | os.PathLike[str]) -> tuple[Job | None, list[JobError]]:
    """Read a job file, with every fault of form rather than the first.

    Parameters
    ----------
    path : str or path
        The TOML file. [-]

    Returns
    -------
    tuple of (Job or None, list of JobError)
        The job, or None with the faults. [-]

    References
    ----------
    TOML 1.0.0.
    """
    file = Path(path)
    try:
        text = _text(file)
    except JobError as fault:
        return None, [fault]
    return parse_job(text, file.name)


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
    try:
        document = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as fault:
        return None, [syntax_fault(file, fault)]
    version = document.get("format", FORMAT)
    if isinstance(version, int) and version > FORMAT:
        problem = f"the file has format {version}, newer than this release reads ({FORMAT})"
        where = place_of(text, ("format",), document)
        return None, [JobError(file, where, problem, "install a newer release to open it", ("format",))]
    try:
        return Job.model_validate(document), []
    except ValidationError as fault:
        return None, [form_fault(file, text, document, error) for error in fault.errors(include_url=False)]


def _text(file: Path) -> str:
    """Return a file's text with its line ends as they are; the mark some editors put in front of UTF-8 goes."""
    try:
        if file.stat().st_size > LARGEST:
            problem = f"it is larger than {LARGEST // 1000} kB"
            raise JobError(file.name, "", problem, "choose a job file, which is far smaller")
        content = file.read_bytes()
    except IsADirectoryError:
        raise JobError(str(file), "", "it is a folder", "write the name of a job file in it") from None
    except FileNotFoundError:
        raise JobError(str(file), "", "there is no such file", "check the name and the folder") from None
    except OSError as fault:
        reason = (fault.strerror or "the system refuses").lower()
        raise JobError(str(file), "", f"it can't be read: {reason}", "check whether you may open it") from None
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = content.count(b"\n", 0, fault.start) + 1
        raise JobError(file.name, f"line {line}", "it is not UTF-8 text", "save it as UTF-8") from None


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
    content = {"format": job.format, **job.model_dump(exclude_none=True, exclude_defaults=True)}
    content["rules"] = [_less_usual(rule) for rule in job.rules]
    if before:
        document = tomlkit.parse(before)
        _merge(document, content, job.model_dump(exclude_none=True))
        text = tomlkit.dumps(document)
        if parse_job(text)[0] == job:
            return text
    # A file laid out in a way that can't be kept up loses its comments, never its content.
    document = tomlkit.document()
    for key, value in content.items():
        document[key] = _item(value)
    return tomlkit.dumps(document)


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


def save_job(job: Job, path: str | os.PathLike[str]) -> Path:
    """Write a job file, whole or not at all; comments of the file that is there survive.

    A file that holds no readable job is left alone: it may be a job with one quote missing.

    Parameters
    ----------
    job : Job
        The job. [-]
    path : str or path
        Where to. [-]

    Returns
    -------
    Path
        The file written. [-]

    Raises
    ------
    JobError
        If the file can't be written or holds no readable job; what was there is untouched.

    References
    ----------
    POSIX ``rename``: replacing a file is atomic; ``fsync`` of file and folder before and after.
    """
    file = Path(path)
    before = ""
    if file.exists():
        found, faults = read_job(file)
        if found is None:
            problem = f"it is there already and can't be read as a job ({faults[0]})"
            raise JobError(str(file), "", problem, "mend it or save under another name; nothing was changed")
        before = _text(file)
    try:
        write_whole(file, job_text(job, before).encode())
    except OSError as fault:
        reason = (fault.strerror or "the folder refuses").lower()
        raise JobError(
            str(file), "", f"it can't be written: {reason}", "choose another folder; nothing was changed"
        ) from None
    return file
