"""The table of a job document that says how far its build is, and what was measured on the way."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from modelmath.job.fields.base import Entry, LengthText, Text


class MeasuredEntry(Entry):
    """What was measured as built: `what` is the room left, or a part by its name; `value` its size, with its unit."""

    what: Text
    value: LengthText
    within: LengthText = "0.05 mm"


class ProgressEntry(Entry):
    """How far the build is: `done`, steps by their keys; `ticked`, checks by step and words; what was measured."""

    done: Annotated[list[Text], Field(max_length=100)] = Field(default_factory=list)
    ticked: Annotated[list[Text], Field(max_length=300)] = Field(default_factory=list)
    measured: Annotated[list[MeasuredEntry], Field(max_length=100)] = Field(default_factory=list)
