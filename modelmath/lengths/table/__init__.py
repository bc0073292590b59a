"""Tables of readings: from a file or the clipboard to corrected lengths, and back to a file."""

from modelmath.lengths.table.reading import ReadingTable, read_table
from modelmath.lengths.table.writing import write_table

__all__ = ["ReadingTable", "read_table", "write_table"]
