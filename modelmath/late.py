"""Names of a package that load what they need when they are first used."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from typing import Any


def late(package: str, homes: Mapping[str, str], name: str, space: dict[str, Any]) -> Any:
    """Return a public name of a package, loaded from its home and kept.

    Parameters
    ----------
    package : str
        The package's name. [-]
    homes : mapping of str to str
        The module of the package that each public name lives in. [-]
    name : str
        The name asked for. [-]
    space : dict
        The package's own names, where it is kept. [-]

    Returns
    -------
    object
        What is called so. [-]

    Raises
    ------
    AttributeError
        If nothing is.

    References
    ----------
    PEP 562, module ``__getattr__``.
    """
    if name not in homes:
        raise AttributeError(f"module {package!r} has no attribute {name!r}")
    value = getattr(import_module(f"{package}.{homes[name]}"), name)
    space[name] = value
    return value
