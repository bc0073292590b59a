"""Job files: read with the place of every fault, written whole or not at all."""

from __future__ import annotations

import os
import tempfile
import tomllib
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import tomlkit
from pydantic import ValidationError
from tomlkit.items import AoT, Table

from modelmath.errors import JobError, nearest
from modelmath.job.document import FORMAT, Job
from modelmath.job.locate import in_words, line_of

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
        return parse_job(text, file.name)
    except JobError as fault:
        return None, [fault]


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
        problem, _, where = str(fault).partition(" (at ")
        place = where.removesuffix(")") or "somewhere"
        return None, [JobError(file, place, problem[:1].lower() + problem[1:], 'write each field as name = "value"')]
    version = document.get("format", FORMAT)
    if isinstance(version, int) and version > FORMAT:
        problem = f"the file has format {version}, newer than this release reads ({FORMAT})"
        return None, [
            JobError(file, _where(text, ("format",), document), problem, "install a newer release to open it")
        ]
    try:
        return Job.model_validate(document), []
    except ValidationError as fault:
        return None, [_fault(file, text, document, error) for error in fault.errors(include_url=False)]


def _text(file: Path) -> str:
    try:
        if file.stat().st_size > LARGEST:
            raise JobError(
                file.name, "", f"it is larger than {LARGEST // 1000} kB", "choose a job file, which is far smaller"
            )
        return file.read_text("utf-8")
    except UnicodeDecodeError as fault:
        raise JobError(file.name, f"byte {fault.start}", "it is not UTF-8 text", "save it as UTF-8") from None
    except OSError as fault:
        reason = (fault.strerror or "it can't be read").lower()
        raise JobError(str(file), "", f"it can't be read: {reason}", "check the name and the folder") from None


def _where(text: str, path: tuple[str | int, ...], document: dict[str, Any]) -> str:
    line = line_of(text, path)
    words = in_words(path, document)
    return f"line {line}, {words}" if line else words


def _fault(file: str, text: str, document: dict[str, Any], error: Any) -> JobError:
    """Return one of pydantic's findings in our words."""
    path, kind, given = error["loc"], error["type"], error["input"]
    where = _where(text, path, document)
    if kind == "missing":
        return JobError(file, where, "it is missing", f"add {path[-1]} = ...")
    if kind == "extra_forbidden":
        near = nearest(str(path[-1]), _fields(path), 1)
        hint = f"did you mean {near[0]}" if near else f"use one of {', '.join(_fields(path))}"
        return JobError(file, where, "there is no such field", hint)
    if kind == "string_type":
        return JobError(file, where, f"it is {given!r}, not text", f'write it in quotes with its unit, as "{given} mm"')
    if kind == "literal_error":
        expected = error["ctx"]["expected"].replace(" or ", ", ")
        return JobError(file, where, f"it is {given!r}", f"write one of {expected}")
    shown = repr(given) if len(repr(given)) < 60 else "too much"
    return JobError(
        file,
        where,
        f"it is {shown}",
        f"{error['msg'][:1].lower()}{error['msg'][1:]}".replace("input should", "it must"),
    )


def _fields(path: tuple[str | int, ...]) -> list[str]:
    """Return the fields of the table that a path's last key stands in."""
    model: Any = Job
    for key in path[:-1]:
        if isinstance(key, int):
            continue
        annotation = model.model_fields[key].annotation
        model = next((each for each in _models(annotation)), Job)
    return list(model.model_fields)


def _models(annotation: Any) -> Iterable[Any]:
    from typing import get_args

    if hasattr(annotation, "model_fields"):
        yield annotation
    for each in get_args(annotation):
        yield from _models(each)


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
    document = tomlkit.parse(before) if before else tomlkit.document()
    content = job.model_dump(exclude_none=True, exclude_defaults=True)
    content = {"format": job.format, **content}
    _merge(document, content, job.model_dump(exclude_none=True))
    return tomlkit.dumps(document)


def _merge(table: Any, content: dict[str, Any], whole: dict[str, Any]) -> None:
    """Make a tomlkit table say what `content` says, touching only what differs."""
    for key in [key for key in table if key not in whole]:
        del table[key]
    for key, value in {**{k: whole[k] for k in table if k in whole}, **content}.items():
        old = table.get(key)
        if isinstance(value, dict) and isinstance(old, Table):
            _merge(old, value, whole[key])
        elif isinstance(value, list) and isinstance(old, AoT) and all(isinstance(each, dict) for each in value):
            _merge_list(old, value, whole[key])
        elif old is None or old != value:
            table[key] = _item(value)


def _merge_list(tables: AoT, values: list[dict[str, Any]], wholes: list[dict[str, Any]]) -> None:
    while len(tables) > len(values):
        del tables[-1]
    for place, value in enumerate(values):
        if place < len(tables):
            _merge(tables[place], value, wholes[place])
        else:
            tables.append(tomlkit.item(value))


def _item(value: Any) -> Any:
    if isinstance(value, list) and value and all(isinstance(each, dict) for each in value):
        tables = tomlkit.aot()
        for each in value:
            tables.append(tomlkit.item(each))
        return tables
    return tomlkit.item(value)


def save_job(job: Job, path: str | os.PathLike[str]) -> Path:
    """Write a job file, whole or not at all; comments of the file that is there survive.

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
        If the file can't be written; what was there is untouched.

    References
    ----------
    POSIX ``rename``: replacing a file is atomic; ``fsync`` of file and folder before and after.
    """
    file = Path(path)
    before = ""
    if file.exists():
        try:
            before = _text(file)
            tomlkit.parse(before)
        except (JobError, tomlkit.exceptions.TOMLKitError):
            before = ""  # what is there is no job; it is replaced, not mended
    try:
        write_whole(file, job_text(job, before))
    except OSError as fault:
        reason = (fault.strerror or "the folder refuses").lower()
        raise JobError(
            str(file), "", f"it can't be written: {reason}", "choose another folder; nothing was changed"
        ) from None
    return file


def write_whole(file: Path, text: str) -> None:
    """Write a text file whole or not at all.

    Parameters
    ----------
    file : Path
        Where to. [-]
    text : str
        What to write. [-]

    Raises
    ------
    OSError
        If it can't be written; the old file is untouched and nothing is left behind.

    References
    ----------
    POSIX ``rename`` and ``fsync``.
    """
    mode = file.stat().st_mode & 0o777 if file.exists() else 0o644
    handle, name = tempfile.mkstemp(dir=file.parent, prefix=f".{file.name}.", suffix=".tmp")
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="") as out:
            out.write(text)
            out.flush()
            os.fsync(out.fileno())
        os.chmod(name, mode)
        os.replace(name, file)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
    _sync_folder(file.parent)


def _sync_folder(folder: Path) -> None:
    if os.name != "posix":
        return  # other systems can't open a folder to sync it
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
