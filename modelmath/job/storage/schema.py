"""The JSON schema of a job file, made from the document's own models.

``python -m modelmath.job.storage.schema`` writes it anew, with the reference for people, into ``data/reference``.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any, get_args

from pydantic.fields import FieldInfo

from modelmath.files import write_whole
from modelmath.job.document import FORMAT, Job
from modelmath.job.fields.base import readable_name
from modelmath.job.storage.described import UNITS, described, tables_of_a_job
from modelmath.job.storage.reference import job_reference
from modelmath.tables import data_folder

SCHEMA_FILE, REFERENCE_FILE = "job.schema.json", "job-file.md"
# Text without control characters, line breaks and marks that turn its direction, with something to read in it.
_NAME = (
    r"^(?=.*\S)[^\u0000-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069]*$"
)  # fmt: skip
_LIMITS = ("minimum", "exclusiveMinimum", "maximum", "exclusiveMaximum")
# What a table's own check asks beside its fields.
_CONDITIONS: dict[str, dict[str, Any]] = {
    "MassEntry": {
        "oneOf": [{"required": ["grams"]}, {"required": ["volume"]}],
        "dependentRequired": {"volume": ["material"], "material": ["volume"]},
    },
    "StockEntry": {
        "oneOf": [{"required": ["strip"]}, {"required": ["sheet"]}],
        "dependentRequired": {"sheet": ["width"], "width": ["sheet"]},
    },
}


def job_schema() -> dict[str, Any]:
    """Return the JSON schema of a job file: fields, limits, meanings, units, examples.

    Returns
    -------
    dict
        A JSON Schema. [-]

    References
    ----------
    JSON Schema, draft 2020-12; ``unit`` is a keyword of our own, which a validator reads over.

    Examples
    --------
    >>> job_schema()["properties"]["scale"]["examples"]
    ['HO']
    """
    schema = Job.model_json_schema()
    for table in tables_of_a_job():
        found = schema if table is Job else schema["$defs"][table.__name__]
        found.pop("title", None)
        found["properties"] = {
            name: _described(found["properties"][name], field, described(table, name))
            for name, field in table.model_fields.items()
        }
        found.update(_CONDITIONS.get(table.__name__, {}))
    schema["properties"]["format"]["maximum"] = FORMAT
    head = {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "A modelmath job file"}
    return head | schema


def _described(found: dict[str, Any], field: FieldInfo, about: Any) -> dict[str, Any]:
    """Return what the models say of a field, with what it means; TOML has no null, so that none is offered."""
    choices = [each for each in found.get("anyOf", []) if each != {"type": "null"}]
    rest = {key: value for key, value in found.items() if key not in ("anyOf", "title")}
    plain = {**choices[0], **rest} if choices else rest
    if plain.get("default", 0) is None:
        del plain["default"]
    for name in _LIMITS:
        limit = plain.get(name)
        if isinstance(limit, float) and limit.is_integer():
            plain[name] = int(limit)  # some releases of pydantic write 5, some 5.0
    if readable_name in _checks(field):
        plain.get("items", plain)["pattern"] = _NAME
    said: dict[str, Any] = {"description": about.meaning, "unit": about.unit}
    if about.unit in UNITS:
        said["unit"] = UNITS[about.unit]
    if not said["unit"]:
        del said["unit"]
    if about.example is not None:
        said["examples"] = [about.example]
    return said | plain


def _checks(field: FieldInfo) -> set[Any]:
    """Return the functions that check a field's text, or that of the entries of its list."""
    return {getattr(each, "func", None) for each in (*field.metadata, *_parts(field.annotation))}


def _parts(annotation: Any) -> Iterator[Any]:
    for each in get_args(annotation):
        yield each
        yield from _parts(each)


def reference_files() -> dict[str, str]:
    """Return what the generated files of ``data/reference`` hold.

    Returns
    -------
    dict of str to str
        Text by file name. [-]

    References
    ----------
    None needed.
    """
    schema = json.dumps(job_schema(), indent=1, ensure_ascii=False) + "\n"
    return {SCHEMA_FILE: schema, REFERENCE_FILE: job_reference()}


def main(folder: str | None = None) -> None:
    """Write the generated files anew.

    Parameters
    ----------
    folder : str or None
        Where to; ``data/reference`` without it. [-]

    References
    ----------
    None needed.
    """
    into = Path(folder) if folder else Path(str(data_folder())) / "reference"
    for name, text in reference_files().items():
        write_whole(into / name, text.encode())


if __name__ == "__main__":
    main(*sys.argv[1:2])
