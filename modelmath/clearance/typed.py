"""A stack as people type it: one term a line."""

from __future__ import annotations

from modelmath.clearance.stack import Term
from modelmath.errors import UnknownChoice, WrongKind
from modelmath.lengths.lines import BadLine, columns_of, read_lines
from modelmath.lengths.parse import parse_length
from modelmath.lengths.scales import Scale
from modelmath.lengths.uncertain import Shape

MOST_TERMS = 100
# Shapes a person can name; that of repeats comes with readings alone.
WORDS: dict[str, Shape] = {
    "": "rectangular",
    "rectangular": "rectangular",
    "triangular": "triangular",
    "arcsine": "arcsine",
    "normal": "normal",
}


def read_terms(
    text: str, unit: str | None = None, scale: Scale | str | None = None
) -> tuple[list[Term], list[BadLine]]:
    r"""Read a stack, one term a line: a name, a signed length, its tolerance either way and its shape.

    Parameters
    ----------
    text : str
        Lines such as ``shell inside; 13.6 mm; 0.05 mm`` or ``foam; -1 mm; 0.15 mm; triangular``. [-]
    unit : str or None
        Unit of a bare number. [-]
    scale : Scale, str or None
        The scale of scale feet and inches. [-]

    Returns
    -------
    tuple of (list of Term, list of BadLine)
        The terms in order, and the lines that could not be read, by number. [mm]

    Raises
    ------
    OutOfRange
        If there are more than 100 lines.

    References
    ----------
    None needed.

    Examples
    --------
    >>> terms, bad = read_terms("width; 13.6 mm; 0.05 mm\nspeaker; -11 mm; ±0.1 mm; normal\nfoam; -1")
    >>> [(term.name, term.nominal_mm, term.shape) for term in terms], [line.number for line in bad]
    ([('width', 13.6, 'rectangular'), ('speaker', -11.0, 'normal')], [3])
    """
    return read_lines(text, lambda number, line: _term(columns_of(line), number, unit, scale), "the stack", MOST_TERMS)


def _term(parts: list[str], number: int, unit: str | None, scale: Scale | str | None) -> Term:
    if not 2 <= len(parts) <= 4:
        raise WrongKind(
            "the line", f"{len(parts)} parts long", "a name, a length, a tolerance", "Write foam; -1 mm; 0.15 mm."
        )
    name, length, tolerance, shape = (*parts, "", "")[:4]
    if shape.casefold() not in WORDS:
        raise UnknownChoice("the shape", shape, [word for word in WORDS if word])
    width = abs(parse_length(tolerance.lstrip("±+/- "), unit, scale)) if tolerance else 0.0
    return Term(name or f"line {number}", parse_length(length, unit, scale), width, WORDS[shape.casefold()])
