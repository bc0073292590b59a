"""The tables of a job document that say what goes in, and how it is made."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from modelmath.job.fields.base import BEST, End, Entry, LengthText, SignedLengthText, Text


class SpeakerEntry(Entry):
    """The speaker. The flange alone gives the supports; all four sizes the chamber.

    `turned` lays its length across the shell. `place` is front, middle or rear, or a place behind the fore-aft mark.
    `rim` is the width of the flange round the cone.
    """

    name: Text = "speaker"
    flange: LengthText | None = None
    length: LengthText | None = None
    width: LengthText | None = None
    depth: LengthText | None = None
    faces: Literal["down", "up", "front", "rear"] = "down"
    turned: bool = False
    place: SignedLengthText = "middle"
    basket_length: LengthText | None = None
    basket_width: LengthText | None = None
    terminals: LengthText = "0 mm"
    travel: LengthText = "0 mm"
    rim: LengthText | None = None
    round: bool = False


class DecoderEntry(Entry):
    """The decoder, with the air to leave round it. It may be turned any way unless `turns` is false.

    `inside` allows it in the sealed chamber, where its heat stays, if it finds room nowhere else.
    """

    name: Text = "decoder"
    length: LengthText
    width: LengthText
    height: LengthText
    air: LengthText = "1 mm"
    turns: bool = True
    inside: bool = False


class ChamberEntry(Entry):
    """What is asked of the chamber, beside its clearances.

    `cut_round`: the floor may be cut round what is narrower than the shell. `wire_path`: width kept free along one side
    for what runs past the bulkhead. `steps`: how many steps of the floor to look at. `front_end` and `rear_end`: where
    the outer face of the wall there is held, behind the fore-aft mark; best leaves it to the plan.
    """

    cut_round: bool = False
    wire_path: LengthText = "0 mm"
    steps: Annotated[int, Field(ge=0, le=4)] = 2
    floor: Literal["pieces", "one piece"] = "pieces"
    light_barrier: bool = False
    strand_supports: LengthText | None = None
    removable: Annotated[list[Literal["speaker", "decoder"]], Field(max_length=2)] = Field(default_factory=list)
    front_end: SignedLengthText = BEST
    rear_end: SignedLengthText = BEST


class LampEntry(Entry):
    """A lamp or LED at one end, the room along the length it needs, and the strand that leads from it."""

    name: Text
    end: End
    room: LengthText
    strand: LengthText | None = None
    strands: Annotated[int, Field(ge=1, le=99)] = 1
    circuit: Text | None = None


class WireEntry(Entry):
    """Wires of one outside diameter that pass the bulkhead."""

    name: Text
    diameter: LengthText
    count: Annotated[int, Field(ge=1, le=99)] = 1
    circuit: Text | None = None


class HolesEntry(Entry):
    """How the holes lie on a wall: in a row at a height above its lower edge, or spread as wide as can be.

    `apart` is the least web between holes of different circuits.
    """

    way: Literal["row", "spread"] = "row"
    height: LengthText | None = None
    web: LengthText = "1 mm"
    edge: LengthText = "1 mm"
    apart: LengthText = "0 mm"


class HoleEntry(Entry):
    """A hole moved by hand: its name, its place right of the centre line and above the lower edge."""

    name: Text
    right: SignedLengthText
    up: LengthText


class MassEntry(Entry):
    """Something taken off or put in: a mass, or a volume of a material; its place behind the fore-aft mark."""

    name: Text
    at: SignedLengthText
    grams: Annotated[float, Field(gt=-10000, lt=10000)] | None = None
    volume: Annotated[float, Field(gt=0, lt=1000000)] | None = None
    material: Text | None = None
    off: bool = False

    @model_validator(mode="after")
    def _one_of_them(self) -> MassEntry:
        if (self.grams is None) == (self.volume is None):
            raise ValueError("it needs grams = 12.5, or volume = 300 (mm3) with a material")
        if (self.volume is None) != (self.material is None):
            raise ValueError('a volume needs a material, such as "zinc alloy"')
        return self


class WeightEntry(Entry):
    """The model on the scale: what each end's truck carries, where the trucks stand, and which are driven."""

    front_truck: SignedLengthText
    rear_truck: SignedLengthText
    front_grams: Annotated[float, Field(ge=0, lt=100000)]
    rear_grams: Annotated[float, Field(ge=0, lt=100000)]
    driven: Literal["both", "front", "rear", "none"] = "both"
    changes: Annotated[list[MassEntry], Field(max_length=50)] = Field(default_factory=list)


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
    """How parts are made. The defaults are common practice, no source.

    `count`: how many of the model are built; what is cut, bought and wired counts for all of them.
    """

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
    count: Annotated[int, Field(ge=1, le=99)] = 1
