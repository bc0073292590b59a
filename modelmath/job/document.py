"""The job document: one TOML file for one model. Every length is text with its unit, as a person writes it.

A mark read off a rule is a bare number in that rule's unit; every other length names its unit.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints, model_validator

from modelmath.lengths.rules.kinds import usual

FORMAT = 1

Text = Annotated[str, StringConstraints(min_length=1, max_length=200)]
Note = Annotated[str, StringConstraints(max_length=2000)]
LengthText = Annotated[str, StringConstraints(min_length=1, max_length=60)]
Face = Literal["seat", "bench", "rail top", "deck"]
Half = Literal["shell", "chassis"]
End = Literal["front", "rear"]


class Entry(BaseModel):
    """Base of every table: unknown fields are refused, so that a misspelt one is not lost."""

    model_config = ConfigDict(extra="forbid", strict=True)


class RuleEntry(Entry):
    """An instrument; fields that are left out are as usual for its kind."""

    name: Text
    kind: Literal["scale rule", "steel rule", "caliper", "depth gauge", "feelers", "putty gap"] = "scale rule"
    unit: Literal["scale foot", "scale inch", "mm", "in"] = "scale foot"
    scale: Text | None = None
    graduation: LengthText = "1/4"
    zero_offset: LengthText = "0"
    offset_uncertainty: LengthText = "0"
    scale_error: Annotated[float, Field(gt=-0.1, lt=0.1)] = 0.0
    scale_error_uncertainty: Annotated[float, Field(ge=0, lt=0.1)] = 0.0
    reading_uncertainty: LengthText | None = None
    read_to: LengthText | None = None
    reads: Literal["nearest mark", "largest that passes"] = "nearest mark"
    calibrated_at: LengthText | None = None
    length: LengthText | None = None

    @model_validator(mode="before")
    @classmethod
    def _as_usual(cls, fields: Any) -> Any:
        """Fill in what is usual for the kind; a wrong kind is refused by its own field."""
        known = isinstance(fields, dict) and fields.get("kind") in _KINDS_WITH_DEFAULTS
        if not known:
            return fields
        given = {name: value for name, value in fields.items() if value is not None}
        return {**usual(fields["kind"]), **given}


_KINDS_WITH_DEFAULTS = ("caliper", "depth gauge", "feelers", "putty gap", "steel rule")


class GaugeEntry(Entry):
    """A known length and the mark it was read at, from which a rule was calibrated."""

    name: Text
    rule: Text
    size: LengthText
    mark: LengthText
    tolerance: LengthText = "0 mm"
    datum: Literal["end", "zero"] = "end"


class Marking(Entry):
    """What parts are marked out with."""

    rule: Text
    finest: LengthText = "1/4"
    datum: Literal["end", "zero"] = "end"


class Seat(Entry):
    """The face where the shell rests on the chassis, from which heights count."""

    face: Text = "the face where the shell rests on the chassis"
    repeatability: LengthText = "0.1 mm"


class Clearance(Entry):
    """Least gaps to keep, and the chance of touching that is accepted."""

    keep: LengthText
    chance: Annotated[float, Field(gt=0, le=0.5)] = 0.01
    along: LengthText = "0.5 mm"
    over_speaker: LengthText = "0.5 mm"


class ReadingEntry(Entry):
    """One reading, and further readings of the same spot in `again`.

    `taken_from` is the face of a height; `on` the half, for a place along the length.
    """

    name: Text
    mark: LengthText
    again: Annotated[list[LengthText], Field(max_length=100)] = Field(default_factory=list)
    rule: Text | None = None
    datum: Literal["end", "zero"] = "end"
    taken_from: Face = "seat"
    on: Half | None = None


class LinkEntry(Entry):
    """A reading of the seat's own height above another face."""

    face: Literal["bench", "rail top", "deck"]
    reading: Text


class LengthEntry(Entry):
    """Places along the length: each half is read from its own front end; one mark on both joins them."""

    shell_inside: Text
    mark: Text | None = None
    mark_on_shell: Text | None = None
    mark_on_chassis: Text | None = None
    front_closed: bool = True
    rear_closed: bool = True


class ZoneEntry(Entry):
    """A stretch of the length. Fields name readings; `gap`, read in the assembled model, overrides the difference."""

    name: Text
    underside: Text | None = None
    chassis_top: Text | None = None
    gap: Text | None = None
    width: Text | None = None
    end: Text | None = None


class StationEntry(Entry):
    """One more spot over a zone, such as its left side: a height that is left out is the zone's own."""

    name: Text
    zone: Text
    underside: Text | None = None
    chassis_top: Text | None = None
    gap: Text | None = None


class AllowEntry(Entry):
    """What takes room between a part and the chassis, or varies there; `thickness` and `tolerance` are of one layer."""

    name: Text
    what: Literal["paint", "insulating tape", "glue line", "sheet", "strip", "other"] = "other"
    thickness: LengthText | None = None
    tolerance: LengthText | None = None
    layers: Annotated[int, Field(ge=1, le=20)] = 1


class TemperatureEntry(Entry):
    """How much warmer or colder the model gets than it was when measured, and what its halves are made of."""

    change: Annotated[float, Field(ge=0, le=100)]
    shell: Text = "polystyrene"
    chassis: Text = "zinc alloy"


class CurveEntry(Entry):
    """The sharpest curve it runs on, and the distance of its two truck pivots."""

    radius: LengthText
    pivots: LengthText


class MovingEntry(Entry):
    """What moves inside the shell. `at` names a reading along the length; `top` one of a height, at rest.

    A truck or gear tower reaches `ahead` and `behind` from its pivot at `at`; a gear tower stands `on` a truck. A
    flywheel has its middle at `at` and its rim's top at `top`. A drive line runs from `at` to `to`.
    """

    name: Text
    kind: Literal["truck", "gear tower", "drive line", "flywheel"]
    at: Text | None = None
    to: Text | None = None
    top: Text
    on: Text | None = None
    ahead: LengthText | None = None
    behind: LengthText | None = None
    width: LengthText | None = None
    depth: LengthText = "10 mm"
    diameter: LengthText | None = None
    side_play: LengthText = "0 mm"
    end_play: LengthText = "0 mm"
    rock: LengthText = "0 mm"
    wobble: LengthText = "0 mm"
    running: LengthText = "0.5 mm"


class LiftEntry(Entry):
    """A shell that comes off hinged at one end: where it turns, above the seat."""

    end: End
    height: LengthText = "0 mm"


class SpeakerEntry(Entry):
    """The speaker, facing down. The flange alone gives the supports; all four sizes the chamber."""

    name: Text = "speaker"
    flange: LengthText | None = None
    length: LengthText | None = None
    width: LengthText | None = None
    depth: LengthText | None = None


class DecoderEntry(Entry):
    """The decoder, with the air to leave round it."""

    name: Text = "decoder"
    length: LengthText
    width: LengthText
    height: LengthText
    air: LengthText = "1 mm"


class LampEntry(Entry):
    """A lamp or LED at one end, the room along the length it needs, and the strand that leads from it."""

    name: Text
    end: End
    room: LengthText
    strand: LengthText | None = None
    strands: Annotated[int, Field(ge=1, le=99)] = 1


class WireEntry(Entry):
    """Wires of one outside diameter that pass the bulkhead."""

    name: Text
    diameter: LengthText
    count: Annotated[int, Field(ge=1, le=99)] = 1


class StockEntry(Entry):
    """Strip or sheet on hand for this job; a sheet has a width too. A job without any is cut from the drawer."""

    strip: Text | None = None
    sheet: Text | None = None
    length: LengthText
    width: LengthText | None = None
    count: Annotated[int, Field(ge=1, le=999)] = 1
    offcut: bool = False

    @model_validator(mode="after")
    def _one_of_them(self) -> StockEntry:
        if (self.strip is None) == (self.sheet is None):
            raise ValueError('it needs strip = "HO 6x10", or sheet = ".040 sheet" with a length and a width')
        if (self.width is None) == (self.sheet is not None):
            raise ValueError("a sheet needs a length and a width, and strip a length only")
        return self


class Build(Entry):
    """How parts are made. The defaults are common practice, no source."""

    wall: LengthText = ".040 in"
    post: LengthText = ".100 in"
    kerf: LengthText = "0 mm"
    end_trim: LengthText = "1 mm"
    least_offcut: LengthText = "20 mm"
    new_strip: LengthText = "14 in"
    new_sheet_length: LengthText = "12 in"
    new_sheet_width: LengthText = "6 in"
    cutting_tolerance: LengthText = "0.1 mm"
    hole_clearance: LengthText = "0.05 mm"


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
    stations: Annotated[list[StationEntry], Field(max_length=200)] = Field(default_factory=list)
    allow: Annotated[list[AllowEntry], Field(max_length=50)] = Field(default_factory=list)
    temperature: TemperatureEntry | None = None
    curve: CurveEntry | None = None
    moving: Annotated[list[MovingEntry], Field(max_length=20)] = Field(default_factory=list)
    lift_off: LiftEntry | None = None
    speaker: SpeakerEntry | None = None
    decoder: DecoderEntry | None = None
    lamps: Annotated[list[LampEntry], Field(max_length=50)] = Field(default_factory=list)
    wires: Annotated[list[WireEntry], Field(max_length=50)] = Field(default_factory=list)
    build: Build = Field(default_factory=Build)
    drawer: Annotated[list[StockEntry], Field(max_length=1000)] = Field(default_factory=list)
