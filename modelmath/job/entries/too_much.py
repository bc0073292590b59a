"""What a document refuses as too much of something, in words."""

from __future__ import annotations

from pydantic import ValidationError


def too_much(fault: ValidationError) -> str:
    """Return the first thing that a document refuses, and where it stands.

    Parameters
    ----------
    fault : ValidationError
        What was refused. [-]

    Returns
    -------
    str
        One sentence. [-]

    References
    ----------
    None needed.
    """
    first = fault.errors(include_url=False)[0]
    where = ", ".join(str(part) for part in first["loc"])
    return f"{where}: {first['msg'][0].lower()}{first['msg'][1:]}."
