"""A job copied to the next model: what carries over, and what has to be measured again."""

from modelmath.job.next_model.copying import NOT_MEASURED, Copied, copied
from modelmath.job.next_model.marked import as_read, copied_readings, freshly_read
from modelmath.job.next_model.treatments import FIELDS, WHOLE, Carry

__all__ = [
    "FIELDS",
    "NOT_MEASURED",
    "WHOLE",
    "Carry",
    "Copied",
    "as_read",
    "copied",
    "copied_readings",
    "freshly_read",
]
