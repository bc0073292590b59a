"""What is wrong with the form of a job file, in words: what was given, and what to write."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from typing import Any, get_args

from modelmath.errors import JobError, nearest, shown
from modelmath.job.document import Job
from modelmath.job.storage.locate import Path, in_words, line_of

# Fields whose text is a length with its unit, when they don't stand in a rule.
_SIZES: tuple[str, ...]
_SIZES = ("keep", "along", "over_speaker", "sound_room", "repeatability", "flange", "length", "width", "depth")
_SIZES += (
    "height",
    "air",
    "room",
    "strand",
    "diameter",
    "wall",
    "post",
    "kerf",
    "end_trim",
    "least_offcut",
    "new_sheet_length",
    "new_sheet_width",
    "new_strip",
    "cutting_tolerance",
)
_SIZES += ("hole_clearance", "size", "tolerance", "thickness", "radius", "pivots", "ahead", "behind", "side_play")
_SIZES += ("end_play", "rock", "wobble", "running")
_SYNTAX = (  # how the parser of the standard library puts it, what that means, what to do
    (r"Cannot overwrite a value", "this field is written twice", "leave one of the two"),
    (r"Cannot declare .* twice", "this table is written twice", "put its fields together under one heading"),
    (r"Cannot mutate immutable|Cannot redefine", "this table is written twice", "put its fields under one heading"),
    (r"Illegal character '\\n'|Unterminated string", "a quote is not closed on this line", 'close it, as "8 1/2"'),
    (r"Unescaped|Illegal character|Invalid hex", "a sign in this text can't stand there", "write \\\\ for each \\"),
    (r"Expected '='|Invalid initial character|Invalid statement", "it is no field", 'write name = "value", or # first'),
    (
        r"Expected '\]|Unclosed array|Expected newline",
        "a quote or bracket is missing, or is one too many",
        'write name = "value", with inches as in',
    ),
    (r"Invalid value", "this value can't be read", 'write it in straight quotes, as name = "value"'),
)


_DEEPEST = 50  # parts of a name, and brackets in brackets; a job needs three
_PART = r"""(?:[\w-]++|"[^"\n]{0,99}+"|'[^'\n]{0,99}+')[ \t]*+"""
_LONG_NAME = re.compile(rf"(?:^|[\[{{,])[ \t]*(?:{_PART}\.[ \t]*+){{{_DEEPEST}}}", re.MULTILINE)
_LONG_NUMBER = re.compile(r"[0-9_]{4000}")
_BRACKETS = re.compile(r"[\[\]{}]|\n")


def too_deep(file: str, text: str) -> JobError | None:
    """Return a fault where a name has so many parts that the parser would take minutes over it.

    Parameters
    ----------
    file, text : str
        The file's name and its text. [-]

    Returns
    -------
    JobError or None
        With its line. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> print(too_deep("a.toml", "x." + "y." * 60 + "z = 1"))
    a.toml, line 1: a name has more than 50 parts; write the name of one field.
    """
    match = _LONG_NAME.search(text)
    if match is None:
        return None
    line = text.count("\n", 0, match.end()) + 1
    return JobError(file, f"line {line}", f"a name has more than {_DEEPEST} parts", "write the name of one field")


def syntax_fault(file: str, fault: ValueError | RecursionError, text: str = "") -> JobError:
    """Return what the TOML parser found in our words.

    Parameters
    ----------
    file : str
        Name for the message. [-]
    fault : ValueError or RecursionError
        What it found: a TOMLDecodeError, or what Python itself refuses. [-]
    text : str
        The file, for the line of what Python refuses. [-]

    Returns
    -------
    JobError
        With line and column. [-]

    References
    ----------
    TOML 1.0.0.
    """
    if isinstance(fault, RecursionError):
        line = f"line {_deep_line(text)}"
        return JobError(file, line, "there are too many brackets in one another", 'write name = "value"')
    if not isinstance(fault, tomllib.TOMLDecodeError):
        match = _LONG_NUMBER.search(text)
        line = f"line {text.count(chr(10), 0, match.start()) + 1}" if match else ""
        return JobError(file, line, "a number has too many digits", "write it shorter")
    problem, _, where = str(fault).partition(" (at ")
    for pattern, meaning, write in _SYNTAX:
        if re.search(pattern, problem):
            return JobError(file, where.removesuffix(")"), meaning, write)
    problem = f"it is no TOML: {problem[:1].lower()}{problem[1:]}"
    return JobError(file, where.removesuffix(")"), problem, 'write each field as name = "value"')


def _deep_line(text: str) -> int:
    """Return the line on which brackets first stand too deep; what is in quotes counts too, and seldom matters."""
    depth, line = 0, 1
    for match in _BRACKETS.finditer(text):
        line += match[0] == "\n"
        depth += {"[": 1, "{": 1, "\n": 0}.get(match[0], -1)
        if depth > _DEEPEST:
            break
    return line


def place_of(text: str, path: Path, document: dict[str, Any]) -> str:
    """Return line and name of what a path leads to.

    Parameters
    ----------
    text : str
        The file. [-]
    path : tuple of str and int
        Keys and list places. [-]
    document : dict
        The parsed file. [-]

    Returns
    -------
    str
        For example ``line 12, reading 2 ('roof'), mark``. [-]

    References
    ----------
    None needed.
    """
    line = line_of(text, path)
    words = in_words(path, document)
    return f"line {line}, {words}" if line else words


def form_fault(file: str, text: str, document: dict[str, Any], error: Any) -> JobError:
    """Return one of pydantic's findings in our words.

    Parameters
    ----------
    file, text : str
        The file's name and its text. [-]
    document : dict
        The parsed file. [-]
    error : dict
        One entry of ``ValidationError.errors()``. [-]

    Returns
    -------
    JobError
        What is wrong, where, and what to write. [-]

    References
    ----------
    None needed.
    """
    path: Path = error["loc"]
    where = place_of(text, path, document)
    problem, write = _in_words(path, error)
    return JobError(file, where, problem, write, path)


def _in_words(path: Path, error: Any) -> tuple[str, str]:
    """Return what is wrong, and what to write."""
    kind, given = error["type"], error["input"]
    if kind == "missing":
        return "it is missing", f"add {_example(path)}"
    if kind == "extra_forbidden":
        return _no_such(path, given)
    if kind in ("list_type", "model_type", "model_attributes_type"):
        return _wrong_brackets(path, given)
    if kind == "string_type":
        return f"it is {_seen(given)}, without quotes", f"write {_quoted(path, given)}"
    limits: dict[str, Any] = error.get("ctx", {})
    write = {
        "literal_error": f"write one of {_choices(str(limits.get('expected')))}",
        "bool_type": "write true or false, without quotes",
        "int_type": "write a whole number, without quotes",
        "float_type": "write a number, without quotes",
        "string_too_short": "write something between the quotes",
        "string_too_long": f"write at most {limits.get('max_length')} characters",
        "too_short": f"add {_example(path)}" if kind == "too_short" else "",
        "too_long": f"leave out all but {limits.get('max_length')}",
        "greater_than": f"write a number above {limits.get('gt')}",
        "greater_than_equal": f"write {limits.get('ge')} or more",
        "less_than": f"write a number below {limits.get('lt')}",
        "less_than_equal": f"write {limits.get('le')} or less",
    }
    problem = {"string_too_short": "it is empty", "too_short": "it is empty", "too_long": "there are too many"}
    message = f"{error['msg'][:1].lower()}{error['msg'][1:]}"
    return problem.get(kind, f"it is {_seen(given)}"), write.get(kind, message)


def _no_such(path: Path, given: Any) -> tuple[str, str]:
    fields = list(_model(path).model_fields)
    near = nearest(str(path[-1]), fields, 1)
    problem = f"there is no such {'table' if isinstance(given, dict | list) else 'field'}"
    return (f"{problem}; did you mean {near[0]}?", "") if near else (problem, f"use one of {', '.join(fields)}")


def _wrong_brackets(path: Path, given: Any) -> tuple[str, str]:
    heading = _example(path) if isinstance(path[-1], str) else f"[[{path[0]}]]"
    if heading.endswith('= ["..."]'):
        return f"it is {_seen(given)}, without brackets", f"write {heading}, with a comma between two"
    if isinstance(given, list):
        return "it stands in two brackets, as if there could be several", f"write {heading}"
    if isinstance(given, dict):
        return "it stands in one bracket, as if there could be only one", f"write {heading}"
    return f"it is {_seen(given)}, where a table belongs", f"write {heading} with its fields below"


def _choices(expected: str) -> str:
    """Return pydantic's list of choices in the quotes that a job file needs."""
    return ", ".join(f'"{word}"' for word in re.findall(r"'([^']*)'", expected)) or expected


def _seen(given: Any) -> str:
    """Return what was given as it stands in the file."""
    if isinstance(given, str):
        return shown(given)
    if isinstance(given, list | dict):
        return "a list" if isinstance(given, list) else "a table"
    return str(given).lower()


def _quoted(path: Path, given: Any) -> str:
    """Return a bare number as the text that was meant: a mark is counted in the rule's unit, a size names its own."""
    key = path[-1]
    if isinstance(key, int):
        return f'"{_seen(given)}"' if not isinstance(given, list | dict) else 'one text in quotes, as "..."'
    if isinstance(given, list | dict):
        return f'one text in quotes, as {key} = "..."'
    is_number = isinstance(given, int | float) and not isinstance(given, bool)
    unit = " mm" if is_number and key in _SIZES and path[0] != "rules" else ""
    return f'{key} = "{_seen(given)}{unit}"'


def _example(path: Path) -> str:
    """Return how a field is written: a list of tables, a table, or a line."""
    key = path[-1]
    annotation = _model(path).model_fields[str(key)].annotation
    if not any(True for _ in _models(annotation)):
        return f'{key} = ["..."]' if "list" in str(annotation) else f'{key} = "..."'
    return f"[[{key}]]" if str(annotation).lower().startswith(("list", "typing.annotated[list")) else f"[{key}]"


def _model(path: Path) -> Any:
    """Return the table that a path's last key stands in."""
    model: Any = Job
    for key in path[:-1]:
        if isinstance(key, str):
            model = next(iter(_models(model.model_fields[key].annotation)))
    return model


def _models(annotation: Any) -> Iterator[Any]:
    if hasattr(annotation, "model_fields"):
        yield annotation
    for each in get_args(annotation):
        yield from _models(each)
