"""The package's public names and what their docstrings say, for a page to look things up."""

from __future__ import annotations

import inspect
from dataclasses import dataclass
from functools import cache, cached_property
from importlib import import_module
from pathlib import Path
from typing import Any, Final

import modelmath
from modelmath.errors import UnknownChoice

TOP: Final = "modelmath"
_NOT_TO_CALL: Final = ("widgets", "workbook")  # pages, not calculations
_TABLES: Final = {"parameters": "Parameters", "attributes": "Attributes", "returns": "Returns", "yields": "Yields"}


@dataclass(frozen=True)
class Part:
    """One section of a docstring.

    Attributes
    ----------
    title : str
        Its head; empty for the opening text. [-]
    text : str
        Its text; empty for a table. [-]
    rows : tuple of (str, str, str)
        Of a table: name, kind, what it is with its unit. [-]
    code : bool
        Whether the text is an example to type. [-]
    """

    title: str
    text: str = ""
    rows: tuple[tuple[str, str, str], ...] = ()
    code: bool = False


@dataclass(frozen=True)
class Described:
    """What a public name is.

    Attributes
    ----------
    name : str
        The name, as it is imported. [-]
    kind : {"class", "function", "value"}
        What it is. [-]
    call : str
        How it is called; empty for a value. [-]
    parts : tuple of Part
        Its docstring's sections. [-]
    methods : tuple of Described
        A class's own public methods and properties. [-]
    """

    name: str
    kind: str
    call: str
    parts: tuple[Part, ...]
    methods: tuple[Described, ...] = ()

    @property
    def summary(self) -> str:
        """The first sentence of its docstring. [-]"""
        return self.parts[0].text.partition("\n\n")[0] if self.parts else ""


@cache
def packages() -> tuple[str, ...]:
    """Return the packages that list public names, the top first.

    Returns
    -------
    tuple of str
        Dotted names. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> packages()[:2]
    ('modelmath', 'modelmath.clearance')
    """
    home = Path(modelmath.__file__).parent
    found = []
    for file in sorted(home.rglob("__init__.py")):
        parts = file.parent.relative_to(home).parts
        if parts[:1] and (parts[0] in _NOT_TO_CALL or any(part.startswith("_") for part in parts)):
            continue
        if "__all__" in file.read_text("utf-8"):
            found.append(".".join((TOP, *parts)))
    return tuple(found)


def names_in(package: str) -> tuple[str, ...]:
    """Return the public names of a package.

    Parameters
    ----------
    package : str
        One of `packages`. [-]

    Returns
    -------
    tuple of str
        In the order of the alphabet, small and capital letters alike. [-]

    Raises
    ------
    UnknownChoice
        If there is no such package.

    References
    ----------
    None needed.

    Examples
    --------
    >>> names_in("modelmath.lengths.rules")[-2:]
    ('RULE_UNITS', 'Setting')
    """
    if package not in packages():
        raise UnknownChoice("the package", package, list(packages()))
    return tuple(sorted(import_module(package).__all__, key=str.lower))


def described(package: str, name: str) -> Described:
    """Return what a public name is, from its docstring.

    Parameters
    ----------
    package : str
        One of `packages`. [-]
    name : str
        One of its names. [-]

    Returns
    -------
    Described
        How it is called, and each section. [-]

    Raises
    ------
    UnknownChoice
        If there is no such package or name.

    References
    ----------
    Numpy's docstring standard, as read by griffe.

    Examples
    --------
    >>> described("modelmath", "parse_length").kind
    'function'
    """
    if name not in names_in(package):
        raise UnknownChoice("the name", name, list(names_in(package)))
    return _described(f"{package}.{name}", getattr(import_module(package), name))


def found_by(words: str) -> tuple[tuple[str, str], ...]:
    """Return the public names in which some words occur, with their packages.

    Parameters
    ----------
    words : str
        Each has to occur in the name or in the first sentence of its docstring. [-]

    Returns
    -------
    tuple of (str, str)
        Package and name; each thing once, where it is listed first. Empty for no word. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> ("modelmath", "parse_length") in found_by("parse length")
    True
    """
    wanted = words.lower().split()
    seen: set[int] = set()
    found = []
    for package in packages() if wanted else ():
        for name in names_in(package):
            member = getattr(import_module(package), name)
            first = (inspect.getdoc(member) or "").partition("\n\n")[0]
            if id(member) not in seen and all(word in f"{name} {first}".lower() for word in wanted):
                found.append((package, name))
            seen.add(id(member))
    return tuple(found)


def _described(name: str, member: Any) -> Described:
    short = name.rpartition(".")[2]
    if inspect.isclass(member):
        own = [(key, value) for key, value in vars(member).items() if not key.startswith("_")]
        return Described(name, "class", _call(short, member), _parts(member), tuple(_methods(own)))
    if inspect.isroutine(inspect.unwrap(member)):
        return Described(name, "function", _call(short, member), _parts(member))
    return Described(name, "value", "", (Part("", f"{member!r}"),))


def _methods(own: list[tuple[str, Any]]) -> list[Described]:
    """Return a class's own methods and properties, without its fields and nested values."""
    found = []
    for name, member in own:
        if isinstance(member, (staticmethod, classmethod)):
            found.append(Described(name, "function", _call(name, member.__func__), _parts(member.__func__)))
        elif inspect.isfunction(member):
            found.append(Described(name, "function", _call(name, member), _parts(member)))
        elif isinstance(member, (property, cached_property)):
            found.append(Described(name, "value", "", _parts(member)))
    return found


class _Bare(str):
    """An annotation that is shown as it is written, without quotes."""

    def __repr__(self) -> str:
        return str(self)


def _call(name: str, member: Any) -> str:
    try:
        signature = inspect.signature(member)
    except (TypeError, ValueError):  # an exception's, or one that is built in
        return name
    shown = [
        each.replace(annotation=_bare(each.annotation))
        for each in signature.parameters.values()
        if each.name not in ("self", "cls")
    ]
    return f"{name}{signature.replace(parameters=shown, return_annotation=_bare(signature.return_annotation))}"


def _bare(annotation: Any) -> Any:
    return _Bare(annotation) if isinstance(annotation, str) else annotation


def _parts(member: Any) -> tuple[Part, ...]:
    """Return the sections of a docstring."""
    import griffe  # it takes its time, and only this page needs it

    doc = inspect.getdoc(member) or ""
    return tuple(_part(section) for section in griffe.Docstring(doc).parse("numpy"))


def _part(section: Any) -> Part:
    kind = section.kind.value
    if kind in _TABLES:
        return Part(_TABLES[kind], rows=tuple(_row(each) for each in section.value))
    if kind == "raises":
        return Part("Raises", rows=tuple((str(each.annotation), "", _line(each.description)) for each in section.value))
    if kind == "examples":
        return Part("Examples", "\n\n".join(text for _, text in section.value), code=True)
    if kind == "admonition":
        return Part(section.title, str(section.value.contents))
    return Part("", str(section.value))


def _row(each: Any) -> tuple[str, str, str]:
    return str(each.name or ""), str(each.annotation or ""), _line(each.description)


def _line(text: str) -> str:
    return " ".join(text.split())
