"""A spreadsheet as bytes, whatever the clock says."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path
from typing import Any
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

LONG_AGO = (1980, 1, 1, 0, 0, 0)  # the first date that a ZIP file can carry; the last is in 2107


class _Undated(ZipFile):
    """A package whose files carry no time: a clock that is wrong by decades has none that a ZIP file can carry."""

    def writestr(self, name: Any, data: Any, *_more: Any) -> None:
        """Put content into the package."""
        entry = ZipInfo(name if isinstance(name, str) else name.filename, LONG_AGO)
        entry.create_system, entry.compress_type = 3, ZIP_DEFLATED
        super().writestr(entry, data)

    def write(self, file: Any, name: Any = None, *_more: Any) -> None:
        """Put a file into the package."""
        self.writestr(str(name), Path(file).read_bytes())


def book_bytes(book: Any) -> bytes:
    """Return a spreadsheet as the bytes of its file.

    Parameters
    ----------
    book : openpyxl.Workbook
        The spreadsheet. [-]

    Returns
    -------
    bytes
        An .xlsx file. [-]

    References
    ----------
    ECMA-376-2; PKWARE, ".ZIP File Format Specification", 4.4.6: years from 1980, in seven bits.
    """
    from openpyxl.writer.excel import ExcelWriter

    content = BytesIO()
    ExcelWriter(book, _Undated(content, "w", ZIP_DEFLATED)).save()
    return content.getvalue()
