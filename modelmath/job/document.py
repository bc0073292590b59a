"""The job document: one TOML file for one model. Every length is text with its unit, as a person writes it.

A mark read off a rule is a bare number in that rule's unit; every other length names its unit.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from modelmath.job.fields.base import Entry, LengthText, Note, SignedLengthText, Text
from modelmath.job.fields.inside import (
    Build,
    ChamberEntry,
    DecoderEntry,
    HoleEntry,
    HolesEntry,
    LampEntry,
    SpeakerEntry,
    StockEntry,
    WeightEntry,
    WireEntry,
)
from modelmath.job.fields.light import (
    CircuitEntry,
    FeedEntry,
    KeepAliveEntry,
    LeadEntry,
    LightEntry,
    PlugEntry,
    SpotEntry,
    StrandEntry,
)
from modelmath.job.fields.measured import (
    AllowEntry,
    Clearance,
    CurveEntry,
    GaugeEntry,
    LengthEntry,
    LiftEntry,
    LinkEntry,
    Marking,
    MovingEntry,
    ObstacleEntry,
    ProfileEntry,
    ReadingEntry,
    RuleEntry,
    Seat,
    StationEntry,
    TemperatureEntry,
    ZoneEntry,
)
from modelmath.job.fields.progress import MeasuredEntry, ProgressEntry
from modelmath.job.fields.sound import AlsoDrivenEntry, ChoiceEntry, DriverEntry, OutputEntry, SoundEntry

__all__ = [
    "FORMAT",
    "AllowEntry",
    "AlsoDrivenEntry",
    "Build",
    "ChamberEntry",
    "ChoiceEntry",
    "CircuitEntry",
    "Clearance",
    "CurveEntry",
    "DecoderEntry",
    "DriverEntry",
    "Entry",
    "FeedEntry",
    "GaugeEntry",
    "HoleEntry",
    "HolesEntry",
    "Job",
    "KeepAliveEntry",
    "LampEntry",
    "LeadEntry",
    "LengthEntry",
    "LengthText",
    "LiftEntry",
    "LightEntry",
    "LinkEntry",
    "Marking",
    "MeasuredEntry",
    "MovingEntry",
    "ObstacleEntry",
    "OutputEntry",
    "PlugEntry",
    "ProfileEntry",
    "ProgressEntry",
    "ReadingEntry",
    "RuleEntry",
    "Seat",
    "SignedLengthText",
    "SoundEntry",
    "SpeakerEntry",
    "SpotEntry",
    "StationEntry",
    "StockEntry",
    "StrandEntry",
    "TemperatureEntry",
    "WeightEntry",
    "WireEntry",
    "ZoneEntry",
]

FORMAT = 1


class Job(Entry):
    """One model: its rules, readings, zones, what goes in, and the drawer."""

    format: Annotated[int, Field(ge=1)] = FORMAT
    name: Text
    scale: Text
    notes: Note = ""
    demo: Note = ""
    rules: Annotated[list[RuleEntry], Field(min_length=1, max_length=50)]
    marking: Marking
    seat: Seat = Field(default_factory=Seat)
    clearance: Clearance
    readings: Annotated[list[ReadingEntry], Field(min_length=1, max_length=500)]
    links: Annotated[list[LinkEntry], Field(max_length=10)] = Field(default_factory=list)
    gauges: Annotated[list[GaugeEntry], Field(max_length=200)] = Field(default_factory=list)
    length: LengthEntry | None = None
    zones: Annotated[list[ZoneEntry], Field(min_length=1, max_length=100)]
    profiles: Annotated[list[ProfileEntry], Field(max_length=50)] = Field(default_factory=list)
    stations: Annotated[list[StationEntry], Field(max_length=200)] = Field(default_factory=list)
    allow: Annotated[list[AllowEntry], Field(max_length=50)] = Field(default_factory=list)
    temperature: TemperatureEntry | None = None
    curve: CurveEntry | None = None
    moving: Annotated[list[MovingEntry], Field(max_length=20)] = Field(default_factory=list)
    obstacles: Annotated[list[ObstacleEntry], Field(max_length=50)] = Field(default_factory=list)
    lift_off: LiftEntry | None = None
    chamber: ChamberEntry = Field(default_factory=ChamberEntry)
    speaker: SpeakerEntry | None = None
    decoder: DecoderEntry | None = None
    sound: SoundEntry = Field(default_factory=SoundEntry)
    choices: Annotated[list[ChoiceEntry], Field(max_length=40)] = Field(default_factory=list)
    light: LightEntry = Field(default_factory=LightEntry)
    lamps: Annotated[list[LampEntry], Field(max_length=50)] = Field(default_factory=list)
    wires: Annotated[list[WireEntry], Field(max_length=50)] = Field(default_factory=list)
    hole_layout: HolesEntry = Field(default_factory=HolesEntry)
    holes: Annotated[list[HoleEntry], Field(max_length=99)] = Field(default_factory=list)
    weight: WeightEntry | None = None
    progress: ProgressEntry = Field(default_factory=ProgressEntry)
    build: Build = Field(default_factory=Build)
    drawer: Annotated[list[StockEntry], Field(max_length=1000)] = Field(default_factory=list)
