"""The workbook in JupyterLab: which code of its pages may run by itself once a page is opened."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from modelmath.workbook.folder import shipped_files


def code_of(content: bytes) -> list[str]:
    r"""Return the code cells of a notebook, in order.

    Parameters
    ----------
    content : bytes
        The notebook's file. [-]

    Returns
    -------
    list of str
        The text of each. [-]

    References
    ----------
    The notebook format, nbformat 4: a cell's source is a text, or its lines.

    Examples
    --------
    >>> code_of(b'{"cells": [{"cell_type": "code", "source": ["a = 1\\n", "a"]}, {"cell_type": "markdown"}]}')
    ['a = 1\na']
    """
    cells = json.loads(content)["cells"]
    return ["".join(cell["source"]) for cell in cells if cell["cell_type"] == "code"]


def shipped_code(shipped: Mapping[str, bytes] | None = None) -> dict[str, list[str]]:
    """Return the code of each page as shipped, by its path in the workbook folder.

    Parameters
    ----------
    shipped : mapping of str to bytes, optional
        Content by path; `shipped_files()` when left out. [-]

    Returns
    -------
    dict of str to list of str
        The code cells of each notebook. [-]

    References
    ----------
    None needed.
    """
    files = shipped_files() if shipped is None else shipped
    return {name: code_of(content) for name, content in files.items() if name.endswith(".ipynb")}


def lab_config_hook(_handler: Any, page_config: dict[str, Any]) -> dict[str, Any]:
    """Tell JupyterLab's page the code of the shipped pages; no other code runs by itself.

    Parameters
    ----------
    page_config : dict
        What the page is told so far. [-]

    Returns
    -------
    dict
        That, and the code, as one text: a mapping would arrive as a list of its keys. [-]

    References
    ----------
    None needed.
    """
    return page_config | {"modelmathCode": json.dumps(shipped_code())}
