"""Stack-ups, and the part size that keeps a clearance."""

from modelmath.clearance.allowance import SizeAtMark, largest_at_mark, smallest_at_mark
from modelmath.clearance.stack import Stack, Term

__all__ = ["SizeAtMark", "Stack", "Term", "largest_at_mark", "smallest_at_mark"]
