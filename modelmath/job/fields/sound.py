"""The tables of a job document that say what sounds: the speaker's parameters, the decoder's output, other speakers."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, StringConstraints

from modelmath.job.fields.base import Entry, Text
from modelmath.job.fields.inside import SpeakerEntry

QuantityText = Annotated[str, StringConstraints(min_length=1, max_length=100)]


class DriverEntry(Entry):
    """A speaker's parameters, each with its unit, its limits and its origin, such as ``450 ± 30 Hz, measured``.

    Without an origin one is given on the speaker's sheet; without limits it is within those that a sheet leaves
    unsaid; ``450 ± 0 Hz`` is exact. What is left out is derived or bounded.
    """

    impedance: QuantityText | None = None
    power: QuantityText | None = None
    re: QuantityText | None = None
    fs: QuantityText | None = None
    qes: QuantityText | None = None
    qms: QuantityText | None = None
    qts: QuantityText | None = None
    vas: QuantityText | None = None
    sd: QuantityText | None = None
    xmax: QuantityText | None = None
    mms: QuantityText | None = None
    le: QuantityText | None = None


class OutputEntry(Entry):
    """What the decoder's own sheet says of its sound output.

    `least` and `most`: the impedances it drives. `power`: what it gives, `into` which impedance. `supply`: the voltage
    of its output stage; `drop`: what of that is lost in it.
    """

    least: QuantityText | None = None
    most: QuantityText | None = None
    power: QuantityText | None = None
    into: QuantityText | None = None
    supply: QuantityText | None = None
    drop: QuantityText | None = None


class AlsoDrivenEntry(Entry):
    """Another speaker on the same output."""

    name: Text
    impedance: QuantityText
    power: QuantityText | None = None


class SoundEntry(Entry):
    """What sounds: the speaker in the chamber, the output that drives it, and what else that drives.

    `wanted_q`: the Qtc wished for. `wiring`: which of the wirings, by its words; the best without it.
    """

    driver: DriverEntry = Field(default_factory=DriverEntry)
    output: OutputEntry = Field(default_factory=OutputEntry)
    stuffing: Literal["unfilled", "lightly filled", "filled"] = "unfilled"
    wanted_q: QuantityText | None = None
    also: Annotated[list[AlsoDrivenEntry], Field(max_length=3)] = Field(default_factory=list)
    wiring: Text | None = None


class ChoiceEntry(SpeakerEntry):
    """A speaker to compare with the plan's own: its sizes, and its parameters."""

    driver: DriverEntry = Field(default_factory=DriverEntry)
