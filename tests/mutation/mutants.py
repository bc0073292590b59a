"""Small changes to a module's source, each with a key that stays when other parts of the module change.

The changes are cosmic-ray's operators, applied one at a time. Left out is what says nothing about the tests:

- what stands in annotations, in names for types, in ``if TYPE_CHECKING:`` and in ``__all__``;
- arithmetic turned into bit operations and the other way round, which any call would notice;
- ``==`` turned into ``is``, which is the same for small numbers, and an order turned into an identity, which any call
  would notice;
- a unary sign turned into another one than its opposite;
- what is no Python any more.

So the share that is found is that of the changes that are hard to find.
"""

from __future__ import annotations

import ast
import hashlib
import json
import random
from collections import Counter
from collections.abc import Iterator
from dataclasses import astuple, dataclass
from functools import cache
from itertools import permutations
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
PACKAGES = ("lengths", "clearance", "enclosure", "sound", "light", "cutting")

_ARITHMETIC = ("Add", "Sub", "Mul", "Div", "FloorDiv", "Mod", "Pow")
_BITS = ("BitOr", "BitAnd", "BitXor")
_ORDERS = ("Eq", "NotEq", "Lt", "LtE", "Gt", "GtE")
OPERATORS = (
    *(f"ReplaceBinaryOperator_{old}_{new}" for old, new in permutations(_ARITHMETIC, 2)),
    *(f"ReplaceBinaryOperator_{old}_{new}" for old, new in permutations(_BITS, 2)),
    *(f"ReplaceBinaryOperator_{old}_Sub" for old in _BITS),
    *(f"ReplaceComparisonOperator_{old}_{new}" for old, new in permutations(_ORDERS, 2)),
    "ReplaceComparisonOperator_Is_IsNot",
    "ReplaceComparisonOperator_IsNot_Is",
    "ReplaceUnaryOperator_USub_UAdd",
    "ReplaceUnaryOperator_Delete_Not",
    "AddNot",
    "ReplaceTrueWithFalse",
    "ReplaceFalseWithTrue",
    "ReplaceAndWithOr",
    "ReplaceOrWithAnd",
    "ReplaceBreakWithContinue",
    "ReplaceContinueWithBreak",
    "ExceptionReplacer",
    "NumberReplacer",
    "RemoveDecorator",
    "ZeroIterationForLoop",
)


@dataclass(frozen=True)
class Mutant:
    """One change: what stands in ``source[start:end]`` becomes `new`."""

    key: str
    path: str
    module: str
    line: int
    last: int
    start: int
    end: int
    new: str
    at_import: bool  # true of a line that runs when the module is loaded

    @property
    def span(self) -> set[int]:
        """The lines that it touches: one that goes on over several counts as run by any of them."""
        return set(range(self.line, self.last + 1))

    def source(self) -> str:
        """Return the whole module, changed."""
        text = _text(ROOT / self.path)
        return text[: self.start] + self.new + text[self.end :]

    def lines(self) -> tuple[str, str]:
        """Return what the change touches, as it was and as it becomes: whole lines, stripped."""
        text = _text(ROOT / self.path)
        if not self.new and text[self.start : self.end].strip().startswith("@"):
            return text[self.start : self.end].strip(), ""
        first = text.rfind("\n", 0, self.start) + 1
        last = text.find("\n", self.end)
        old = text[first:last]
        new = text[first : self.start] + self.new + text[self.end : last]
        return _shortened(old, new)


def _shortened(old: str, new: str) -> tuple[str, str]:
    """Return two texts without the lines in which they agree at the end, each line stripped."""
    olds, news = ([line.strip() for line in text.split("\n")] for text in (old, new))
    while len(olds) > 1 and len(news) > 1 and olds[-1] == news[-1]:
        olds.pop(), news.pop()
    while len(olds) > 1 and len(news) > 1 and olds[0] == news[0]:
        olds.pop(0), news.pop(0)
    return "\n".join(olds), "\n".join(news)


@cache
def _text(path: Path) -> str:
    return path.read_text("utf-8")


def modules_of(package: str) -> list[Path]:
    """Return the files of a package, in order."""
    return sorted((ROOT / "modelmath" / package).rglob("*.py"))


def mutants_of(path: Path) -> tuple[Mutant, ...]:
    """Return every mutant of a file, in order."""
    return tuple(_mutants(path))


def every_mutant(package: str, folder: Path) -> list[Mutant]:
    """Return a package's mutants, found once and kept while its source stays what it is."""
    paths = [Path(__file__), *modules_of(package)]
    mark = hashlib.sha256("".join(f"{path}\n{_text(path)}" for path in paths).encode()).hexdigest()
    file = folder / f"mutants-{package}.json"
    if file.is_file():
        kept = json.loads(file.read_text("utf-8"))
        if kept["mark"] == mark:
            return [Mutant(*each) for each in kept["mutants"]]
    found = [mutant for path in modules_of(package) for mutant in mutants_of(path)]
    file.write_text(json.dumps({"mark": mark, "mutants": [astuple(each) for each in found]}), "utf-8")
    return found


def drawn(every: list[Mutant], seed: int, number: int | None) -> list[Mutant]:
    """Return a sample of mutants, or all of them in random order: a longer sample of one seed begins with a shorter."""
    order = sorted(every, key=lambda mutant: mutant.key)
    random.Random(seed).shuffle(order)
    return order if number is None else order[:number]


def _mutants(path: Path) -> Iterator[Mutant]:
    import parso

    text = _text(path)
    offsets = [0]
    for line in text.splitlines(keepends=True):
        offsets.append(offsets[-1] + len(line))
    within = str(path.relative_to(ROOT))
    module = within.removesuffix(".py").replace("/", ".").removesuffix(".__init__")
    seen: Counter[str] = Counter()
    for statement in parso.parse(text).children:
        for node in _nodes(statement):
            for operator, new in _changes(node):
                start = _offset(offsets, node.get_start_pos_of_prefix())
                end = _offset(offsets, node.end_pos)
                chunk = slice(
                    _offset(offsets, statement.get_start_pos_of_prefix()), _offset(offsets, statement.end_pos)
                )
                changed = text[chunk.start : start] + new + text[end : chunk.stop]
                name = f"{module}::{_scope(node)}::{operator}"
                seen[name] += 1
                if changed == text[chunk] or not _is_python(changed):
                    continue
                lines = _statement_lines(node)
                first, last, short = _tightened(text, start, end, new)
                yield Mutant(f"{name}::{seen[name]}", within, module, *lines, first, last, short, _at_import(node))


def _tightened(text: str, start: int, end: int, new: str) -> tuple[int, int, str]:
    """Return a change without what is the same before and after it."""
    old = text[start:end]
    head = 0
    while head < min(len(old), len(new)) and old[head] == new[head]:
        head += 1
    tail = 0
    while tail < min(len(old), len(new)) - head and old[-1 - tail] == new[-1 - tail]:
        tail += 1
    return start + head, end - tail, new[head : len(new) - tail]


def _offset(offsets: list[int], position: tuple[int, int]) -> int:
    return offsets[position[0] - 1] + position[1]


@cache
def _operators() -> dict[str, Any]:
    from cosmic_ray.plugins import get_operator

    return {name: get_operator(f"core/{name}")() for name in OPERATORS}


def _changes(node: Any) -> Iterator[tuple[str, str]]:
    """Yield what each operator makes of one node; the node is as it was afterwards."""
    for name, operator in _operators().items():
        for index, _ in enumerate(operator.mutation_positions(node)):
            kept = list(_state(node))
            try:
                changed = operator.mutate(node, index)
                new = "" if changed is None else changed.get_code()
            except AttributeError:  # an exception's name with a dot in it, which cosmic-ray can't change
                continue
            finally:
                for part, attribute, value in kept:
                    setattr(part, attribute, value)
            yield name, new


def _state(node: Any) -> Iterator[tuple[Any, str, Any]]:
    """Yield what an operator can set: the words of the first few levels below a node."""
    if hasattr(node, "children"):
        yield node, "children", list(node.children)
        for child in node.children:
            if not hasattr(child, "children") or child.type in ("except_clause", "atom", "testlist_comp"):
                yield from _state(child)
    else:
        yield node, "value", node.value


def _nodes(node: Any) -> Iterator[Any]:
    """Yield a node and all below it, but for what is left out."""
    if _left_out(node):
        return
    yield node
    for child in getattr(node, "children", ()):
        if not _is_annotation(node, child):
            yield from _nodes(child)


def _left_out(node: Any) -> bool:
    if node.type == "if_stmt":
        return node.children[1].get_code().strip() == "TYPE_CHECKING"
    if node.type == "expr_stmt" and node.get_code(include_prefix=False).startswith("__all__"):
        return True
    # A name for a type: float | UFloat, outside any function.
    return node.type == "expr" and not node.search_ancestor("funcdef", "lambdef")


def _is_annotation(node: Any, child: Any) -> bool:
    if node.type == "annassign":
        return child is node.children[1]
    if node.type == "tfpdef":
        return True
    return node.type == "funcdef" and child is node.annotation


def _statement_lines(node: Any) -> tuple[int, int]:
    """Return the first and last line of a change's statement, or of its head where the statement has a block."""
    part = node
    while part.parent is not None and part.parent.type not in ("file_input", "suite", "simple_stmt"):
        if part.parent.type.endswith(("_stmt", "def")) and part.parent.children[-1].type in ("suite", "simple_stmt"):
            break
        part = part.parent
    last = part.children[-2] if hasattr(part, "children") and part.children[-1].type == "suite" else part
    return part.start_pos[0], last.end_pos[0]


def _scope(node: Any) -> str:
    names = []
    part = node.parent
    while part is not None:
        if part.type in ("funcdef", "classdef"):
            names.append(part.name.value)
        elif part.type == "decorated":
            inner = part.children[1]
            inner = inner.children[-1] if inner.type == "async_funcdef" else inner
            if not names or names[-1] != inner.name.value:
                names.append(inner.name.value)
        part = part.parent
    return ".".join(reversed(names))


def _at_import(node: Any) -> bool:
    """Return whether a node runs when its module is loaded: outside functions, or a default or decorator of one."""
    part = node
    while part is not None:
        above = part.parent
        if above is not None and above.type in ("funcdef", "lambdef") and part is above.children[-1]:
            return False
        part = above
    return True


def _is_python(chunk: str) -> bool:
    try:
        ast.parse(chunk)
    except SyntaxError:
        return False
    return True
