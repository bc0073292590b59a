"""What all parts of the strips page share: the scale, and where to look for strip."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from hashlib import sha256
from pathlib import Path
from typing import Any

from modelmath.errors import ModelMathError
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.text import format_length, three_ways
from modelmath.materials import SERIES, StockStrip
from modelmath.materials.drawer.drawer import Drawer
from modelmath.materials.drawer.store import load_drawer
from modelmath.widgets.common import look
from modelmath.widgets.common.fields import Field, scale_names

BOTH, OWN, SOLD = "the drawer, then what is sold", "the drawer only", "what is sold only"


class Source:
    """The scale, the drawer, and which of drawer and series to look in.

    Parameters
    ----------
    file : Path
        The drawer's file. [-]
    """

    def __init__(self, file: Path) -> None:
        self.file = file
        self._drawer = Drawer()
        self._mark: bytes | None = None
        self.scale = Field("Scale", "for scale feet, and for strip named in scale inches", options=scale_names())
        self.where = Field("Look in", "your own strip, or what shops have", options=(BOTH, OWN, SOLD))

    def on_change(self, act: Callable[[], None]) -> None:
        """Call `act` whenever the scale or the place to look in changes."""
        self.scale.on_change(act)
        self.where.on_change(act)

    @property
    def drawer(self) -> Drawer:
        """The drawer as its file has it now; empty where it is not to be looked in, or can't be read."""
        if self.where.value == SOLD:
            return Drawer()
        try:
            found = self._read()
            self.where.show(f"{len(found.strips)} rows of strip" + (", invented demo data" if found.demo else ""))
        except ModelMathError as reason:
            self.where.show(wrong=str(reason))
            return Drawer()
        return found

    def _read(self) -> Drawer:
        """Return what the file holds; it is read anew only where it has changed."""
        try:
            mark = sha256(self.file.read_bytes()).digest()  # two changes can bear one time
        except OSError:
            mark = None
        if mark is None or mark != self._mark:
            self._drawer, self._mark = load_drawer(self.file).drawer, mark
        return self._drawer

    @property
    def strips(self) -> tuple[StockStrip, ...]:
        """Strip on hand."""
        return self.drawer.strips

    @property
    def series(self) -> tuple[str, ...]:
        """The series to look in besides."""
        return () if self.where.value == OWN else SERIES

    def length(self, field: Field, unit: str | None = None) -> Fraction | None:
        """Return a field's length; None where it is empty. Says below it how it was understood, or what is wrong."""
        text = field.value.strip()
        if not text:
            field.show()
            return None
        try:
            found = parse_length_exact(text, unit=unit, scale=self.scale.value)
        except ModelMathError as reason:
            field.show(wrong=str(reason))
            raise
        field.show(" = ".join(three_ways(found, self.scale.value)))
        return found

    def lengths(self, fields: dict[str, Field], *names: str) -> dict[str, Any]:
        """Return several lengths by name; all are looked at before the first that is wrong is raised."""
        found: dict[str, Any] = {}
        wrong: ModelMathError | None = None
        for name in names:
            try:
                found[name] = self.length(fields[name])
            except ModelMathError as reason:
                wrong = reason
        if wrong is not None:
            raise wrong
        return found


def whole(field: Field) -> int:
    """Return a field's count, and say below it what is wrong."""
    from modelmath.errors import OutOfRange

    text = field.value.strip()
    if not text.isascii() or not text.isdecimal() or not 1 <= int(text[:9]) <= 10_000 or len(text) > 9:
        reason = OutOfRange("the count", repr(text), "a whole number, 1 to 10000", "Write how many are wanted.")
        field.show(wrong=str(reason))
        raise reason
    field.show()
    return int(text)


def off(error_mm: Fraction | float) -> str:
    """Return an error in mm with its sign."""
    error = float(error_mm)
    return f"{error:+.2f} mm" if abs(error) >= 0.005 else "0.00 mm"


def size(length: Fraction) -> str:
    """Return a length in mm and inches."""
    return f"{format_length(length, 'mm')} ({format_length(length, 'in')})"


def told(said: str) -> str:
    """Return an answer's headline as a card."""
    return f'<div class="mm-card" role="status">{look.paragraph(said)}</div>'
