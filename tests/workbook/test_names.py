"""Every public name is found, described, and shown as its docstring says it."""

from __future__ import annotations

import inspect
from importlib import import_module

import pytest

from modelmath.errors import UnknownChoice
from modelmath.widgets import NamesPanel
from modelmath.widgets.names import described_html
from modelmath.workbook.names import described, found_by, names_in, packages

ALL = [(package, name) for package in packages() for name in names_in(package)]


@pytest.mark.parametrize("package", packages())
def test_every_name_of_a_package_is_described(package):
    for name in names_in(package):
        found = described(package, name)
        member = getattr(import_module(package), name)
        if found.kind == "value":
            continue
        # Every word of the docstring that the page is made from is on the page, whatever section it stands in.
        words = {word for word in inspect.getdoc(member).split() if word.isalpha() and len(word) > 3}
        shown = set(described_html(found).replace("<", " <").replace(">", "> ").split())
        lost = {word for word in words if not any(word in each for each in shown)} - {"Notes", "Attributes"}
        assert not lost, (name, lost)


def test_the_sections_of_a_function_are_told_apart():
    found = described("modelmath", "parse_length")
    assert found.call == "parse_length(text: str, unit: str | None = None, scale: Scale | str | None = None) -> float"
    titles = [part.title for part in found.parts]
    assert titles[0] == ""
    assert {"Parameters", "Returns", "Raises", "References", "Examples"} <= set(titles)
    examples = next(part for part in found.parts if part.title == "Examples")
    assert examples.code
    assert ">>> " in examples.text


def test_a_class_shows_its_own_methods_and_properties():
    names = {each.name for each in described("modelmath", "Plan").methods}
    assert {"why", "chamber", "bulkhead"} <= names
    assert not any(name.startswith("_") for name in names)


def test_words_find_names_and_each_thing_once():
    found = found_by("drill")
    assert found
    assert len({name for _, name in found}) == len(found)
    assert found_by("  ") == ()
    assert found_by("zzzz") == ()


def test_what_is_not_there_is_refused():
    with pytest.raises(UnknownChoice, match=r"^the package is 'modelmath\.widgets'; write one of modelmath, "):
        names_in("modelmath.widgets")
    with pytest.raises(UnknownChoice, match=r"^the name is 'parse_lenght'; "):
        described("modelmath", "parse_lenght")


def test_the_page_finds_and_shows():
    panel = NamesPanel()
    assert "parse_length" in panel.shown.value
    panel.package.value = "modelmath.clearance"
    panel.name.value = "Stack"
    assert "from modelmath.clearance import Stack" in panel.shown.value
    panel.words.value = "calibrate gauges"
    assert "Found:" in panel.hits.value
    panel.words.value = "no such words anywhere"
    assert 'role="alert"' in panel.hits.value
    panel.words.value = ""
    assert panel.hits.value == ""
