"""What must be kept between shell and chassis, and what walls and posts take."""

from __future__ import annotations

from dataclasses import dataclass

from modelmath.errors import OutOfRange
from modelmath.lengths.numbers import Number, check_number


@dataclass(frozen=True)
class Limits:
    """What must be kept, beside the speaker.

    Attributes
    ----------
    clearance_mm : Fraction or float
        Least gap between what the shell carries and the chassis below. [mm]
    end_clearance_mm : Fraction or float
        The same along the length, to a step of the chassis. [mm]
    wall_mm : Fraction or float
        Thickness of a bulkhead or closure. [mm]
    post_mm : Fraction or float
        Room along the length that the corner posts behind a bulkhead take from the speaker. [mm]
    over_speaker_mm : Fraction or float
        Least gap between the speaker's back and the roof. [mm]
    front_room_mm, rear_room_mm : Fraction or float
        Room kept at either end of the shell, for lamps. [mm]
    wire_path_mm : Fraction or float
        Width kept free along one side of the shell, for what runs past the bulkhead. [mm]
    cut_round : bool
        Whether the floor may be cut round what is narrower than the shell, and that be boxed in with sides and a lid
        as thick as a wall: where the shell is wide enough for its box at all its heights. Otherwise it counts across
        the full width. [-]
    sound_room_mm : Fraction or float
        Room kept free between a closed end of the shell and the wall of a speaker that faces it, for its sound to get
        out by; more than 0. That 2 mm will do where nobody says more: common practice, no source. [mm]
    """

    clearance_mm: Number
    end_clearance_mm: Number = 0
    wall_mm: Number = 1
    post_mm: Number = 0
    over_speaker_mm: Number = 0
    front_room_mm: Number = 0
    rear_room_mm: Number = 0
    wire_path_mm: Number = 0
    cut_round: bool = False
    sound_room_mm: Number = 2

    def __post_init__(self) -> None:
        for name, value in vars(self).items():
            if name == "cut_round":
                continue
            words = name.removesuffix("_mm").replace("_", " ")
            check_number(words, value)
            if value < 0:
                raise OutOfRange(words, f"{float(value):g} mm", "0 or more", "Write 0 mm for none.")
        if not self.sound_room_mm:
            expected = "more than 0"
            raise OutOfRange("the room for the sound", "0 mm", expected, "Write 2 mm, say: the sound must get out.")
