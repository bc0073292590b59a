"""What the calculation works with cannot be changed once it is made, but for the few workspaces of a search."""

import pkgutil
from dataclasses import FrozenInstanceError, is_dataclass
from importlib import import_module

import pytest

PACKAGES = ("lengths", "quantities", "clearance", "light", "materials", "sound", "enclosure", "cutting")

WORKSPACES = {
    "lengths": {"lengths.table.rows.Rows"},
    "materials": {"materials.drawer.states.State", "materials.drawer.states.Content"},
    "enclosure": {"enclosure.fitting.pockets._Span"},
    "cutting": {
        "cutting.optimum.fewest.Fewest",
        "cutting.packing.Bin",
        "cutting.sheet_layout.one_sheet.filling.Filler",
        "cutting.sheet_layout.one_sheet.panels.Panel",
    },
}


def classes(package):
    top = import_module(f"modelmath.{package}")
    for found in pkgutil.walk_packages(top.__path__, prefix=f"{top.__name__}."):
        module = import_module(found.name)
        for each in vars(module).values():
            if isinstance(each, type) and is_dataclass(each) and each.__module__ == module.__name__:
                yield each


@pytest.mark.parametrize("package", PACKAGES)
def test_what_is_made_stays_as_it_is(package):
    found = list(classes(package))
    assert found
    changeable = set()
    for each in found:
        thing = object.__new__(each)
        name = next(iter(each.__dataclass_fields__))
        try:
            setattr(thing, name, None)
        except FrozenInstanceError:
            continue
        changeable.add(f"{each.__module__}.{each.__qualname__}".removeprefix("modelmath."))
    assert changeable == WORKSPACES.get(package, set())
