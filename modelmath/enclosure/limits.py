"""What must be kept between shell and chassis, and what walls and posts take."""

from __future__ import annotations

from dataclasses import dataclass

from modelmath.errors import OutOfRange
from modelmath.lengths.numbers import Number, check_number

HELD = ("front_at_mm", "rear_at_mm")  # places, which may lie on either side of the mark


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
    front_at_mm, rear_at_mm : Fraction, float or None
        Where the chamber's front and rear end are held, outer faces, from the fore-aft mark; None where the fit
        chooses. [mm]
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
    front_at_mm: Number | None = None
    rear_at_mm: Number | None = None

    def __post_init__(self) -> None:
        for name, value in vars(self).items():
            if name == "cut_round" or (name in HELD and value is None):
                continue
            words = name.removesuffix("_mm").replace("_", " ")
            check_number(words, value)
            if value < 0 and name not in HELD:
                raise OutOfRange(words, f"{float(value):g} mm", "0 or more", "Write 0 mm for none.")
        if not self.sound_room_mm:
            expected = "more than 0"
            raise OutOfRange("the room for the sound", "0 mm", expected, "Write 2 mm, say: the sound must get out.")
        check_held(self.front_at_mm, self.rear_at_mm)


def check_held(front_at_mm: Number | None, rear_at_mm: Number | None) -> None:
    """Refuse a chamber whose rear end is held ahead of its front end.

    Parameters
    ----------
    front_at_mm, rear_at_mm : Fraction, float or None
        Where its ends are held; None where the fit chooses. [mm]

    Raises
    ------
    OutOfRange
        If the rear end is not behind the front end.

    References
    ----------
    None needed.
    """
    if front_at_mm is None or rear_at_mm is None or front_at_mm < rear_at_mm:
        return
    given = f"held at {float(rear_at_mm):.2f} mm"
    expected = f"behind its front end, held at {float(front_at_mm):.2f} mm"
    raise OutOfRange("the chamber's rear end", given, expected, 'Hold one of the two elsewhere, or write "best".')
