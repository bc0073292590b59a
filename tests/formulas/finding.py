"""Which public functions of the calculation are formulas: those whose References name a source outside the project.

sources.toml lists what counts as one. The code is read, not imported, so that this is quick.
"""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

ROOT = Path(__file__).parents[2]
PACKAGES = ("lengths", "quantities", "clearance", "light", "materials", "sound", "enclosure", "cutting", "job")
# A class's property or method with no References of its own goes by the class's, if a quantity comes out of it.
QUANTITY = re.compile(
    r"(float|Fraction|Number|Band|Array|UFloat|complex|Measured|Distribution|tuple\[(float|Number))\b"
)
PUBLICATION = re.compile(r"\b(1[6-9]\d\d|20\d\d)\b|\b(ISO|IEC|EN|DIN|BS|ASTM|ANSI|NIST|JCGM|NMRA|MOROP|CIE)\b")
SECTION = re.compile(r"^References\n-+\n(.*?)(?=^\S[^\n]*\n-{3,}$|\Z)", re.MULTILINE | re.DOTALL)


@dataclass(frozen=True)
class Sources:
    """What References name, as sources.toml has it."""

    laws: dict[str, re.Pattern[str]]
    texts: dict[str, str]
    others: tuple[re.Pattern[str], ...]

    def laws_in(self, references: str) -> tuple[str, ...]:
        return tuple(key for key, named in self.laws.items() if named.search(references))

    def knows(self, references: str) -> bool:
        """Return whether all is listed: beside a pointer or a form nothing may stand that looks like a publication."""
        if self.laws_in(references):
            return True
        left = references
        for named in self.others:
            left = named.sub("", left)
        return left != references and not PUBLICATION.search(left)


@dataclass(frozen=True)
class Formula:
    """A formula: where it stands, what its References name, and the lines that run when it is worked out."""

    name: str
    file: str
    sources: tuple[str, ...]
    lines: frozenset[int]

    @property
    def module(self) -> str:
        return self.file.removesuffix(".py").replace("/", ".")

    @property
    def short(self) -> str:
        return self.name.removeprefix(self.module.removeprefix("modelmath.") + ".")


@dataclass(frozen=True)
class Public:
    """A public class, function or property, with the class that it belongs to."""

    name: str
    file: str
    node: ast.FunctionDef | ast.ClassDef
    of_class: ast.ClassDef | None


@cache
def sources() -> Sources:
    listed = tomllib.loads((Path(__file__).parent / "sources.toml").read_text("utf-8"))
    laws = {key: re.compile(each["named"]) for key, each in listed["law"].items()}
    texts = {key: each["text"] for key, each in listed["law"].items()}
    others = tuple(re.compile(named) for kind in ("form", "own") for named in listed[kind].values())
    return Sources(laws, texts, others)


def references(node: ast.FunctionDef | ast.ClassDef) -> str:
    """Return the References of a docstring in one line, or nothing."""
    found = SECTION.search(ast.get_docstring(node) or "")
    return " ".join(found[1].split()) if found else ""


def modules() -> Iterator[Path]:
    for package in PACKAGES:
        for path in sorted((ROOT / "modelmath" / package).rglob("*.py")):
            if not any(part.startswith("_") and part != "__init__.py" for part in path.relative_to(ROOT).parts):
                yield path


def members(body: list[ast.stmt], prefix: str, file: str, of_class: ast.ClassDef | None) -> Iterator[Public]:
    for node in body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
            yield Public(f"{prefix}{node.name}", file, node, of_class)
            if isinstance(node, ast.ClassDef):
                yield from members(node.body, f"{prefix}{node.name}.", file, node)


@cache
def public() -> tuple[Public, ...]:
    """Return every public class, function, method and property of the calculation packages."""
    found: list[Public] = []
    for path in modules():
        file = path.relative_to(ROOT).as_posix()
        prefix = file.removeprefix("modelmath/").removesuffix(".py").removesuffix("/__init__").replace("/", ".")
        found += members(ast.parse(path.read_text("utf-8")).body, f"{prefix}.", file, None)
    return tuple(found)


def statements(node: ast.FunctionDef) -> list[ast.stmt]:
    return node.body[1:] if ast.get_docstring(node) is not None else node.body


def hands_on(node: ast.FunctionDef) -> bool:
    """Return whether a property only hands on what is stored."""
    body = statements(node)
    stored = (ast.Attribute, ast.Name, ast.Subscript, ast.Constant)
    return len(body) == 1 and isinstance(body[0], ast.Return) and isinstance(body[0].value, stored)


def named_by(each: Public) -> str:
    """Return the References that a function goes by: its own, or for a quantity of a class the class's."""
    assert isinstance(each.node, ast.FunctionDef)
    own = references(each.node)
    if own or each.of_class is None or each.node.returns is None or hands_on(each.node):
        return own
    return references(each.of_class) if QUANTITY.match(ast.unparse(each.node.returns)) else ""


@cache
def formulas() -> dict[str, Formula]:
    """Return every formula by its dotted name within modelmath."""
    found: dict[str, Formula] = {}
    for each in public():
        if isinstance(each.node, ast.ClassDef) or not statements(each.node):
            continue
        if keys := sources().laws_in(named_by(each)):
            body = statements(each.node)
            lines = frozenset(range(body[0].lineno, (body[-1].end_lineno or body[-1].lineno) + 1))
            found[each.name] = Formula(each.name, each.file, keys, lines)
    return found
