"""What the tables of a job document are made of: text of several kinds, and a table that refuses unknown fields."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, StringConstraints

Text = Annotated[str, StringConstraints(min_length=1, max_length=200)]
Note = Annotated[str, StringConstraints(max_length=2000)]
LengthText = Annotated[str, StringConstraints(min_length=1, max_length=60)]
SignedLengthText = Annotated[str, StringConstraints(min_length=1, max_length=60)]
Face = Literal["seat", "bench", "rail top", "deck"]
Half = Literal["shell", "chassis"]
End = Literal["front", "rear"]


class Entry(BaseModel):
    """Base of every table: unknown fields are refused, so that a misspelt one is not lost."""

    model_config = ConfigDict(extra="forbid", strict=True)
