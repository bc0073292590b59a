"""Text cells that a spreadsheet must not take for formulas.

A cell that begins with one of `STARTS` gets an apostrophe before it, and so does one in which only apostrophes
stand before such a sign, so that taking one away gives back what was there.
"""

from __future__ import annotations

import re

STARTS = "=+-@\t\r\n＝＋－＠"  # the last four are the wide forms of the first four
_NEEDS = re.compile(f"'*[{re.escape(STARTS)}]")
_NOT_XML = re.compile("[^\t\n\r -\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_HAS = re.compile(f"'+[{re.escape(STARTS)}]")


def guarded(cell: str) -> str:
    r"""Return a cell as it is safe to open in a spreadsheet.

    Parameters
    ----------
    cell : str
        Any text. [-]

    Returns
    -------
    str
        The same, with an apostrophe before it where a spreadsheet may run it. [-]

    References
    ----------
    OWASP, "CSV Injection": cells that begin with ``= + - @``, tab or carriage return; the line feed and the wide
    forms are added here.

    Examples
    --------
    >>> guarded("=1+1"), guarded("-1/4"), guarded("roof")
    ("'=1+1", "'-1/4", 'roof')
    """
    return f"'{cell}" if _NEEDS.match(cell) else cell


def unguarded(cell: str) -> str:
    """Return a cell without the apostrophe that `guarded` gave it.

    Parameters
    ----------
    cell : str
        A cell as it stands in the file. [-]

    Returns
    -------
    str
        The text. [-]

    References
    ----------
    None needed: the inverse of `guarded`.

    Examples
    --------
    >>> unguarded("'-1/4"), unguarded("'roof'")
    ('-1/4', "'roof'")
    """
    return cell[1:] if _HAS.match(cell) else cell


def in_xml(cell: str) -> str:
    r"""Return a cell without the signs that no spreadsheet file can hold.

    Parameters
    ----------
    cell : str
        Any text. [-]

    Returns
    -------
    str
        The same, each such sign replaced. [-]

    References
    ----------
    XML 1.0 (fifth edition), production 2, Char.

    Examples
    --------
    >>> in_xml("roof\x00 \uffff")
    'roof� �'
    """
    return _NOT_XML.sub("\ufffd", cell)


def may_be_guarded(text: str) -> bool:
    """Whether any cell of a whole table may have been guarded; asked once, so that most tables are not searched.

    Parameters
    ----------
    text : str
        The whole table. [-]

    Returns
    -------
    bool
        False if surely none was. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> may_be_guarded("4' 9;3 1/2"), may_be_guarded("roof;'-1/4")
    (False, True)
    """
    import numpy as np

    if "'" not in text:
        return False
    signs = np.frombuffer(text.encode("utf-8", errors="surrogatepass"), dtype=np.uint8)
    behind = signs[1:][signs[:-1] == ord("'")]
    return bool(np.isin(behind, list(STARTS.encode("utf-8"))).any())
