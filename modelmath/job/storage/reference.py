"""The job file's reference for people: every table and field with its unit, an example and its usual value."""

from __future__ import annotations

from collections.abc import Iterator
from inspect import cleandoc
from typing import Any

import tomlkit
from pydantic.fields import FieldInfo

from modelmath.job.document import FORMAT, Entry, Job, RuleEntry
from modelmath.job.storage.described import UNITS, described, entries_of
from modelmath.lengths.rules.kinds import usual

SMALLEST = """\
format = 1
name = "My first hood"
scale = "HO"

[[rules]]
name = "scale rule"
zero_offset = "3/4"      # the zero mark stands in from the end by this much

[marking]
rule = "scale rule"

[clearance]
keep = "0.7 mm"

[[readings]]
name = "hood roof"
mark = "8 5/8"

[[readings]]
name = "top of the motor"
mark = "5 1/8"

[[zones]]
name = "motor"
underside = "hood roof"
chassis_top = "top of the motor"
"""
_HEAD = f"""\
# The job file

A job is one TOML file for one model. This page is made from the program's own models: a test compares the two.
`job.schema.json` beside it is the same as a JSON schema, for an editor that checks a file while it is written.

- Text stands in straight quotes. Lengths are text with their unit: `"0.7 mm"`, `".040 in"`, `"1/4 scale ft"`.
  A mark read off a rule is a bare number in that rule's unit: `"8 5/8"`.
- A heading in two brackets, such as `[[readings]]`, may stand any number of times. One in one bracket stands once.
- *needed*: the field has to be there, as soon as its table is. What has a usual value may be left out; a dash means
  that it may be left out and nothing takes its place.
- A field that is not listed here is refused, so that a misspelt one is not lost.
- Lines that start with `#` are comments. They and the order of the fields survive when the program saves the file.
- `format = {FORMAT}` is the newest format. A file of an earlier release is brought up to date when it is read, and a
  sentence says what was; a newer one is refused.

The smallest job:

```toml
{SMALLEST}```
"""


def job_reference() -> str:
    """Return the reference as Markdown.

    Returns
    -------
    str
        The page. [-]

    References
    ----------
    TOML 1.0.0 for how tables are written.

    Examples
    --------
    >>> job_reference().splitlines()[0]
    '# The job file'
    """
    places: dict[type[Entry], list[str]] = {}
    for table, place in _places(Job, ""):
        places.setdefault(table, []).append(place)
    parts = [_HEAD, *_section("The job itself", Job)]
    for table, found in places.items():
        more = f" (also as {', '.join(f'`{each}`' for each in found[1:])})" if found[1:] else ""
        parts += _section(f"`{found[0]}`{more}", table)
        if table is RuleEntry:
            parts += _kinds()
    return "\n".join(parts)


def _places(table: type[Entry], above: str) -> Iterator[tuple[type[Entry], str]]:
    """Yield each table that stands in another, with its heading."""
    for name, field in table.model_fields.items():
        for inner in entries_of(field.annotation):
            path = f"{above}{name}"
            yield inner, f"[[{path}]]" if _is_list(field) else f"[{path}]"
            yield from _places(inner, f"{path}.")


def _is_list(field: FieldInfo) -> bool:
    return "list" in str(field.annotation)


def _section(title: str, table: type[Entry]) -> list[str]:
    rows = [
        f"| `{name}` | {_escaped(described(table, name).meaning)} | {_unit(table, name)} | {_example(table, name)} "
        f"| {_usual(table, name)} |"
        for name in table.model_fields
    ]
    about = cleandoc(table.__doc__ or "")
    head = ["| field | what it is | unit | example | usual value |", "| --- | --- | --- | --- | --- |"]
    return [f"## {title}\n", f"{about}\n", *head, *rows, ""]


def _unit(table: type[Entry], name: str) -> str:
    unit = described(table, name).unit
    short = {"length": "length", "mark": "mark", "place": "length", "prototype": "length of the prototype"}
    return _escaped(short.get(unit, UNITS.get(unit, unit)))


def _example(table: type[Entry], name: str) -> str:
    example = described(table, name).example
    return "" if example is None else f"`{_escaped(_toml(example))}`"


def _usual(table: type[Entry], name: str) -> str:
    field = table.model_fields[name]
    if field.is_required():
        return "*needed*"
    value = field.get_default(call_default_factory=True)
    return "–" if value is None or value in ("", []) or isinstance(value, Entry) else f"`{_escaped(_toml(value))}`"


def _toml(value: Any) -> str:
    return str(tomlkit.item(value).as_string())


def _escaped(text: str) -> str:
    return text.replace("|", "\\|")


def _kinds() -> Iterator[str]:
    """Yield what is usual for each kind of instrument, where that differs from the table above."""
    kinds = RuleEntry.model_json_schema()["properties"]["kind"]["enum"]
    yield "What is usual by kind, where it differs:\n"
    yield "| kind | usual |"
    yield "| --- | --- |"
    for kind in kinds:
        bare = RuleEntry.model_validate({"name": "x", "kind": kind} if kind != kinds[0] else {"name": "x"})
        differs = [
            f"`{name} = {_toml(getattr(bare, name))}`"
            for name in usual(kind)
            if getattr(bare, name) != RuleEntry.model_fields[name].default
        ]
        yield f"| {kind} | {', '.join(differs) or 'as above'} |"
    yield ""
