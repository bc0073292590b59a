"""Stack-ups, and the part size that keeps a clearance."""

from modelmath.clearance.allowance import Marks, SizeAtMark, largest_at_mark, smallest_at_mark
from modelmath.clearance.stack import Stack, Term

__all__ = ["Marks", "SizeAtMark", "Stack", "Term", "largest_at_mark", "smallest_at_mark"]
