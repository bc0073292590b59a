"""Every public function of the calculation packages says its units and its sources.

New code is found by walking the packages, so that it is asked too.
"""

import dataclasses
import enum
import importlib
import inspect
import pkgutil
import re
from functools import cached_property

import pytest

PACKAGES = ("lengths", "quantities", "clearance", "light", "materials", "sound", "enclosure", "cutting", "job")
UNIT = re.compile(r"\[[^\]]+\]")
OF_PYDANTIC = "pydantic"


def modules():
    """Yield every module of the calculation packages that has no underscore in front of its name."""
    for package in PACKAGES:
        top = importlib.import_module(f"modelmath.{package}")
        yield top
        for found in pkgutil.walk_packages(top.__path__, prefix=f"{top.__name__}."):
            if not any(part.startswith("_") for part in found.name.split(".")):
                yield importlib.import_module(found.name)


def own(module, kind):
    """Return what a module defines itself, by public name; functions behind a cache or another wrapper too."""
    members = {name: member for name, member in vars(module).items() if not name.startswith("_")}
    return {
        name: member
        for name, member in members.items()
        if getattr(member, "__module__", None) == module.__name__ and kind(inspect.unwrap(member))
    }


def parameters(function):
    names = inspect.signature(function).parameters
    return [name for name in names if name not in ("self", "cls") and not name.startswith("_")]


def from_pydantic_or_enum(cls):
    return issubclass(cls, enum.Enum) or any(base.__module__.startswith(OF_PYDANTIC) for base in cls.__mro__[1:])


def methods(cls):
    """Yield a class's own public methods; properties have no parameters, and fields are asked with their class."""
    for name, member in vars(cls).items():
        if name.startswith("_") or isinstance(member, (property, cached_property)):
            continue
        function = inspect.unwrap(getattr(cls, name))
        if inspect.isfunction(function) or inspect.ismethod(function):
            decorators = getattr(member, "decorator_info", None)  # a pydantic validator's calls are pydantic's own
            if decorators is None:
                yield f"{cls.__module__}.{cls.__qualname__}.{name}", function


def section(doc, title):
    """Return the body of a numpy-style section, or nothing."""
    found = re.search(rf"^{title}\n-+\n(.*?)(?=^\S[^\n]*\n-{{3,}}$|\Z)", doc, re.MULTILINE | re.DOTALL)
    return found[1] if found else ""


def entries(body):
    """Return each name of a Parameters or Attributes section with the text that describes it."""
    found = {}
    for head, text in re.findall(r"^(\S[^\n]*)\n((?:[ \t]+[^\n]*\n?|\n)*)", body, re.MULTILINE):
        for name in head.split(" : ")[0].split(","):
            found[name.strip().lstrip("*")] = text
    return found


def lacking_units(doc, title, names):
    """Return the names that a section does not describe with a unit in brackets."""
    described = entries(section(doc, title))
    return [name for name in names if not UNIT.search(described.get(name.lstrip("*"), ""))]


def functions():
    found = {}
    for module in modules():
        for name, function in own(module, inspect.isfunction).items():
            found[f"{module.__name__}.{name}"] = inspect.unwrap(function)
        for cls in own(module, inspect.isclass).values():
            found.update(methods(cls))
    return {name: function for name, function in found.items() if parameters(function)}


def classes(wanted):
    found = {}
    for module in modules():
        for name, cls in own(module, inspect.isclass).items():
            if not from_pydantic_or_enum(cls) and not issubclass(cls, Exception) and wanted(cls):
                found[f"{module.__name__}.{name}"] = cls
    return found


FUNCTIONS = functions()
DATACLASSES = classes(dataclasses.is_dataclass)
PLAIN = classes(lambda cls: not dataclasses.is_dataclass(cls) and inspect.isfunction(vars(cls).get("__init__")))


@pytest.mark.parametrize("name", FUNCTIONS)
def test_a_function_says_its_units_and_its_source(name):
    function = FUNCTIONS[name]
    doc = inspect.getdoc(function) or ""
    lacking = lacking_units(doc, "Parameters", parameters(function))
    assert not lacking, f"{name}: no unit in brackets, such as [mm] or [-], for {', '.join(lacking)}"
    assert section(doc, "References").strip(), f"{name}: no References section that names a source"


@pytest.mark.parametrize("name", DATACLASSES)
def test_a_dataclass_says_the_units_of_its_fields(name):
    cls = DATACLASSES[name]
    # A field that the class fills in by itself is no part of how it is made.
    fields = [field.name for field in dataclasses.fields(cls) if field.init and not field.name.startswith("_")]
    lacking = lacking_units(inspect.getdoc(cls) or "", "Attributes", fields)
    assert not lacking, f"{name}: no unit in brackets, such as [mm] or [-], for {', '.join(lacking)}"


@pytest.mark.parametrize("name", PLAIN)
def test_a_class_says_the_units_of_what_it_is_made_from(name):
    cls = PLAIN[name]
    lacking = lacking_units(inspect.getdoc(cls) or "", "Parameters", parameters(cls.__init__))
    assert not lacking, f"{name}: no unit in brackets, such as [mm] or [-], for {', '.join(lacking)}"


def test_the_walk_finds_what_it_should():
    """A walk that finds nothing would ask nothing."""
    assert {
        "modelmath.lengths.parse.parse_length",
        "modelmath.lengths.rules.rule.Rule.length",
        "modelmath.lengths.scales.Scale.model_mm",
        "modelmath.clearance.stack.Stack.of_measured",
    } <= set(FUNCTIONS)
    assert {"modelmath.lengths.scales.Scale", "modelmath.clearance.stack.Term"} <= set(DATACLASSES)
    assert "modelmath.lengths.rules.instruments.Instrument" in PLAIN
    for package in PACKAGES:
        assert any(name.startswith(f"modelmath.{package}.") for name in FUNCTIONS), package


GOOD = """Head.

Parameters
----------
a, b : float
    One, and the other. [mm]
*rest : float
    The rest. [-]

References
----------
Arithmetic.
"""


@pytest.mark.parametrize(
    ("doc", "lacking"),
    [
        (GOOD, []),
        (GOOD.replace("[mm]", "mm"), ["a", "b"]),
        (GOOD.replace("[-]", ""), ["rest"]),
        ("Head.", ["a", "b", "rest"]),
    ],
)
def test_the_check_itself_can_fail(doc, lacking):
    assert lacking_units(doc, "Parameters", ["a", "b", "rest"]) == lacking
    assert section(GOOD, "References") == "Arithmetic.\n"
    assert not section(GOOD, "Returns")
