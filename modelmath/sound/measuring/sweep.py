"""An impedance sweep read from a CSV file or from pasted text, each fault by its row and column."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from io import StringIO
from math import isfinite, pi
from numbers import Real
from pathlib import Path

from modelmath.errors import ModelMathError, OutOfRange, WrongKind, shown
from modelmath.sound.measuring.heads import HEADS, UNIT_WORDS, number_of, read_heads

MOST_ROWS = 20_000
MOST_BYTES = 5_000_000
LEAST, MOST, MOST_TURN = 1e-3, 1e6, 2 * pi  # Hz or ohm: far outside any speaker, yet figures to reckon with
ENDINGS = (".csv", ".txt", ".tsv")
LIMITS = {
    "frequency": (LEAST, MOST, "0.001 Hz to 1 MHz"),
    "impedance": (LEAST, MOST, "0.001 ohm to 1 Mohm"),
    "phase": (-MOST_TURN, MOST_TURN, "within one turn either way"),
}
EXAMPLES = {"frequency": "450", "impedance": "7.9", "phase": "-12.5"}


@dataclass(frozen=True)
class Sweep:
    """The impedance of a speaker over frequency.

    Attributes
    ----------
    frequency_hz : tuple of float
        Each frequency, as it was swept. [Hz]
    impedance_ohm : tuple of float
        Modulus of the impedance at each. [ohm]
    phase_rad : tuple of float or None
        Its phase at each, positive where the voltage leads; None where only the modulus was taken. [rad]
    passed_over : tuple of str
        Heads of columns that were not used. [-]
    phase_unit : bool
        Whether the phase's unit was named, not taken for degrees. [-]
    notes : tuple of str
        What is to be said of how it was read. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> len(Sweep((100.0, 200.0), (7.1, 7.3)))
    2
    """

    frequency_hz: tuple[float, ...]
    impedance_ohm: tuple[float, ...]
    phase_rad: tuple[float, ...] | None = None
    passed_over: tuple[str, ...] = ()
    phase_unit: bool = True
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if not self.frequency_hz:
            raise WrongKind("the sweep", "without readings", "a reading for each frequency", "Take some first.")
        for field, name in (("frequency_hz", "frequency"), ("impedance_ohm", "impedance"), ("phase_rad", "phase")):
            values = getattr(self, field)
            if values is None:
                continue
            if len(values) != len(self.frequency_hz):
                given = f"{len(values)} of the {name} for {len(self.frequency_hz)} frequencies"
                raise OutOfRange("the number of readings", given, "the same for each column", "Give one for each.")
            for value in values:
                if isinstance(value, bool) or not isinstance(value, Real):
                    raise WrongKind(f"a reading of the {name}", shown(str(value)), "a plain number", "Mend it.")
                _check_limits(f"a reading of the {name}", name, float(value), f"{value:g}")
            object.__setattr__(self, field, tuple(map(float, values)))

    def __len__(self) -> int:
        return len(self.frequency_hz)


def read_sweep(source: Path | str | bytes) -> Sweep:
    r"""Read an impedance sweep: a row of heads, then a row for each frequency.

    The columns are the frequency, the modulus of the impedance and, if taken, its phase, in any order; others are
    passed over. A unit may stand in brackets after a head; without one they are Hz, ohm and degrees. A head in another
    language counts by its unit. Two or three columns without heads are Hz, ohm and degrees. Columns are parted by tabs,
    semicolons or commas, as the heads are. A decimal comma may stand where no comma parts columns. Empty rows and rows
    that begin with # are passed over.

    Parameters
    ----------
    source : Path, str or bytes
        A file, or what is in it; one line of text that ends in .csv, .txt or .tsv is a file's name. [-]

    Returns
    -------
    Sweep
        The readings in the order they stand. [Hz, ohm, rad]

    Raises
    ------
    OutOfRange
        If it is too large, or a figure can't be.
    WrongKind
        If it can't be read, lacks a column, or a cell is no number; by row and column.

    References
    ----------
    RFC 4180 for the form of the file.

    Examples
    --------
    >>> read_sweep("f [Hz]; |Z| [ohm]\n100; 7,1\n200; 7,3").impedance_ohm
    (7.1, 7.3)
    >>> read_sweep("frequency,impedance\n100,7.1\n200,open")
    Traceback (most recent call last):
    modelmath.errors.WrongKind: row 3, impedance is 'open'; expected a number in ohm. Write it such as 7.9.
    """
    text = _text_of(source)
    rows = list(_rows(text))
    if not rows:
        raise WrongKind("the sweep", "empty", "a row of heads and a row for each frequency", f"Begin with {HEADS}.")
    comma = _parter(text) != ","
    first = rows[0][1]
    heads = read_heads(first, comma)
    readings = rows[1:] if heads.there else rows
    if len(readings) > MOST_ROWS:
        raise OutOfRange("the sweep", f"longer than {MOST_ROWS:,} rows", f"{MOST_ROWS:,} or fewer", "Thin it out.")
    found: dict[str, list[float]] = {name: [] for name in heads.places}
    for number, cells in readings:
        _check_cells(number, cells, first, comma)
        for name, place in heads.places.items():
            cell = cells[place].strip() if place < len(cells) else ""
            found[name].append(_figure(number, name, cell, comma) * heads.units[name])
            _check_limits(f"row {number}, {name}", name, found[name][-1], shown(cell))
    used = set(heads.places.values())
    phase = tuple(found["phase"]) if "phase" in found else None
    others = tuple(head.strip() for place, head in enumerate(first) if place not in used and head.strip())
    return Sweep(tuple(found["frequency"]), tuple(found["impedance"]), phase, others, heads.phase_unit, heads.notes)


def _text_of(source: Path | str | bytes) -> str:
    """Return the text of a file, of its bytes, or as it is."""
    if isinstance(source, str) and "\n" not in source and source.strip().casefold().endswith(ENDINGS):
        source = Path(source.strip())
    if isinstance(source, Path):
        try:
            _check_size(source.stat().st_size)
            source = source.read_bytes()
        except (OSError, ValueError) as error:  # a name with a NUL in it is a ValueError
            if isinstance(error, ModelMathError):
                raise
            what = getattr(error, "strerror", None) or "it can't be read"
            raise WrongKind("the file", f"{shown(str(source))} ({what})", "a file to read", "Check its name.") from None
    if isinstance(source, str):
        _check_size(len(source.encode("utf-8", "surrogatepass")))
        return source.removeprefix("\ufeff")
    _check_size(len(source))
    try:
        return source.decode("utf-8-sig")
    except UnicodeDecodeError:
        given = "a spreadsheet or archive" if source.startswith(b"PK") else "not text in UTF-8"
        raise WrongKind("the file", given, "a CSV file in UTF-8", "Save it again as CSV, in UTF-8.") from None


def _check_size(count: int) -> None:
    if count > MOST_BYTES:
        raise OutOfRange("the sweep", f"{count:,} bytes long", f"{MOST_BYTES:,} or fewer", "Thin it out.")


def _parter(text: str) -> str:
    """Return the sign that parts the columns: what the row of heads has."""
    lines = (line for line in text.splitlines() if line.strip() and not line.lstrip().startswith("#"))
    heads = next(lines, "")
    return next((sign for sign in "\t;" if sign in heads), ",")


def _rows(text: str) -> Iterator[tuple[int, list[str]]]:
    """Yield (line number, cells) of each row that holds anything."""
    reader = csv.reader(StringIO(text, newline=""), delimiter=_parter(text), skipinitialspace=True)
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells) and not cells[0].lstrip().startswith("#"):
                yield reader.line_num, cells
    except csv.Error as error:
        raise WrongKind(f"row {reader.line_num}", f"unreadable ({error})", "cells parted alike", "Mend it.") from None


def _check_cells(number: int, cells: list[str], first: list[str], comma: bool) -> None:
    """Refuse a row with more cells than there are heads: a decimal comma among commas, more often than not.

    Where commas part the columns, one at the end of a row counts too, unless the first row ends as well with one.
    """
    count = max((place for place, cell in enumerate(first, start=1) if cell.strip()), default=0)
    more = [cell for cell in cells[count:] if cell.strip()]
    if more or (len(cells) > len(first) and not comma):
        remedy = "Where figures have a decimal comma, part the columns with semicolons, the heads too."
        raise WrongKind(f"row {number}", f"{len(cells)} cells long", f"{count}, as the first row", remedy)


def _figure(number: int, name: str, cell: str, comma: bool) -> float:
    """Return the figure of a cell."""
    given = shown(cell) if cell else "empty"
    unit = UNIT_WORDS[name].split(" or ", maxsplit=1)[0]
    value = number_of(cell, comma)
    if value is None:
        raise WrongKind(f"row {number}, {name}", given, f"a number in {unit}", f"Write it such as {EXAMPLES[name]}.")
    return value


def _check_limits(what: str, name: str, value: float, given: str) -> None:
    low, high, expected = LIMITS[name]
    if not (isfinite(value) and low <= value <= high):
        raise OutOfRange(what, given, expected, "Mend it, or leave the row out.")
