"""The tables of a job document that say what was measured, and with what."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, model_validator

from modelmath.job.fields.base import End, Entry, Face, Half, LengthText, SignedLengthText, Text
from modelmath.lengths.rules.kinds import usual


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
    """Least gaps to keep, and the chance of touching that is accepted.

    `sound_room` is kept free before a speaker that faces a closed end of the shell.
    """

    keep: LengthText
    chance: Annotated[float, Field(gt=0, le=0.5)] = 0.01
    along: LengthText = "0.5 mm"
    over_speaker: LengthText = "0.5 mm"
    sound_room: LengthText = "2 mm"


class ReadingEntry(Entry):
    """One reading, and further readings of the same spot in `again`.

    `taken_from` is the face of a height; `on` the half, for a place along the length. `copied` names the model that it
    was copied from, as long as it is not read on this one. `moved_from` is the mark it was read at, where it was moved
    in the drawing since.
    """

    name: Text
    mark: LengthText
    again: Annotated[list[LengthText], Field(max_length=100)] = Field(default_factory=list)
    rule: Text | None = None
    datum: Literal["end", "zero"] = "end"
    taken_from: Face = "seat"
    on: Half | None = None
    copied: Text | None = None
    moved_from: LengthText | None = None


class LinkEntry(Entry):
    """A reading of the seat's own height above another face."""

    face: Literal["bench", "rail top", "deck"]
    reading: Text


class LengthEntry(Entry):
    """Places along the length: each half is read from its own front end; one mark on both joins them.

    `end_play` is how far the shell can shift either way on the chassis.
    """

    shell_inside: Text
    mark: Text | None = None
    mark_on_shell: Text | None = None
    mark_on_chassis: Text | None = None
    end_play: LengthText = "0 mm"
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
    profile: Text | None = None


class SectionPoint(Entry):
    """The inside width of the shell at a depth below the highest of its roof."""

    down: LengthText
    width: LengthText


class ProfileEntry(Entry):
    """A cross-section of the shell's inside, from the roof down; zones name it. Below its last point it is as wide."""

    name: Text
    points: Annotated[list[SectionPoint], Field(min_length=2, max_length=60)]


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
    """The sharpest curve it runs on, and the distance between its two truck pivots."""

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


ObstacleKind = Literal[
    "motor frame", "gear tower", "flywheel", "truck", "decoder", "lamp bracket", "screw post", "screw", "other"
]


class ObstacleEntry(Entry):
    """What stands in the shell, as an upright box. `start`, `end` and `top` name readings.

    Without `top` it reaches up to the roof, as a screw post does, or the way a screwdriver needs. It stands
    `off_centre` to the right; without `width` it is as wide as the shell. `trim` is how much may come off its top.
    """

    name: Text
    kind: ObstacleKind = "other"
    start: Text
    end: Text
    top: Text | None = None
    width: LengthText | None = None
    off_centre: SignedLengthText = "0 mm"
    running: LengthText = "0.5 mm"
    trim: LengthText = "0 mm"


class LiftEntry(Entry):
    """A shell that comes off hinged at one end: where it turns, above the seat."""

    end: End
    height: LengthText = "0 mm"
