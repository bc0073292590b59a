"""A change by more or less of it, and what to do in words: each kind of remedy by any amount."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from functools import partial
from math import ceil, floor

from modelmath.enclosure.choosing.changes import STEPS, Given, Remedy
from modelmath.enclosure.choosing.readings import Reading
from modelmath.enclosure.choosing.trying import Change
from modelmath.lengths.numbers import Number

TOUCHING = ": weigh the chance of touching"
# What may be kept less of: its field, its kind, what to do and what to mind.
KEPT = (
    ("clearance_mm", "clearance", "Keep {needed} mm of clearance over the chassis", TOUCHING),
    ("end_clearance_mm", "end clearance", "Keep {needed} mm of clearance along the length", TOUCHING),
    ("front_room_mm", "front room", "Keep {needed} mm of room at the front end", ""),
    ("rear_room_mm", "rear room", "Keep {needed} mm of room at the rear end", ""),
    ("sound_room_mm", "room for the sound", "Keep {needed} mm before the speaker", ": less of its sound gets out"),
    ("wall_mm", "wall thickness", "Use walls no thicker than {needed} mm", ""),
    ("post_mm", "post thickness", "Use posts that take no more than {needed} mm of the length", ""),
    ("over_speaker_mm", "gap over the speaker", "Leave {needed} mm over the speaker's back", ""),
    ("wire_path_mm", "wire path", "Keep a wire path {needed} mm wide", ""),
)
SPEAKER_SIZES = {"depth": "shallower", "length": "shorter", "width": "narrower"}
DECODER_SIZES = {"length": "shorter", "width": "narrower", "height": "flatter"}


def said_of_kept(kind: str, needed: Number, less: Number) -> str:
    """Say what to keep less of.

    Parameters
    ----------
    kind : str
        The kind of remedy, such as ``clearance``. [-]
    needed, less : Fraction or float
        How much to keep, and by how much that is less than now. [mm]

    Returns
    -------
    str
        A sentence. [-]

    References
    ----------
    None needed.
    """
    words, minding = next((words, minding) for _, each, words, minding in KEPT if each == kind)
    return f"{words.format(needed=_mm(needed))}, {_mm(less)} mm less{minding}."


def said_of_speaker(what: str, needed: Number, less: Number) -> str:
    """Say how large a speaker may be.

    Parameters
    ----------
    what : {"depth", "length", "width"}
        Which of its sizes. [-]
    needed, less : Fraction or float
        The greatest that fits, and by how much that is less than now. [mm]

    Returns
    -------
    str
        A sentence. [-]

    References
    ----------
    None needed.
    """
    return f"Take a speaker at most {_mm(needed)} mm in {what}, {_mm(less)} mm {SPEAKER_SIZES[what]}."


def said_of_diameter(needed: Number, less: Number) -> str:
    """Say how large a round or square speaker may be.

    Parameters
    ----------
    needed, less : Fraction or float
        The greatest that fits, and by how much that is less than now. [mm]

    Returns
    -------
    str
        A sentence. [-]

    References
    ----------
    None needed.
    """
    return f"Take a speaker at most {_mm(needed)} mm in diameter, or square, {_mm(less)} mm smaller."


def said_of_decoder(name: str, what: str, needed: Number, less: Number) -> str:
    """Say how large a decoder may be.

    Parameters
    ----------
    name : str
        What it goes by. [-]
    what : {"length", "width", "height"}
        Which of its sizes. [-]
    needed, less : Fraction or float
        The greatest that fits, and by how much that is less than now. [mm]

    Returns
    -------
    str
        A sentence. [-]

    References
    ----------
    None needed.
    """
    return f"Take a {name} at most {_mm(needed)} mm in {what}, {_mm(less)} mm {DECODER_SIZES[what]}."


def smaller(
    given: Given, kind: str, what: str, change: Change, sizes_mm: tuple[Number, Number], say: Callable[..., str],
    amount_mm: Number,
) -> Remedy | None:  # fmt: skip
    """Return a remedy that makes one size smaller.

    Parameters
    ----------
    given : Given
        All as it is. [mm]
    kind, what : str
        What is changed. [-]
    change : function
        Returns all as it is with a size. [-]
    sizes_mm : tuple of two Fraction or float
        The least it may be, and what it is now. [mm]
    say : function
        Says what to do, of the size and by how much it is less. [-]
    amount_mm : Fraction or float
        By how much, no less; the size is in whole hundredths of a mm, so that it can be typed. [mm]

    Returns
    -------
    Remedy or None
        None where it can't be so small. [mm]

    References
    ----------
    None needed.
    """
    least, now = sizes_mm
    size = Fraction(floor((Fraction(now) - Fraction(amount_mm)) * STEPS), STEPS)
    if size < least:
        return None
    less = Fraction(now) - size
    again = partial(smaller, given, kind, what, change, sizes_mm, say)
    return Remedy(kind, what, now, size, less, say(size, less), after=change(given, size), by=again)


def taken_off(given: Given, reading: Reading, where: str, most_mm: Number, amount_mm: Number) -> Remedy | None:
    """Return a remedy that takes something off what stands in the way.

    Parameters
    ----------
    given : Given
        All as it is. [mm]
    reading : Reading
        What it is taken off. [mm]
    where : str
        How that is said. [-]
    most_mm : Fraction or float
        The most that can come off. [mm]
    amount_mm : Fraction or float
        How much, rounded up to a hundredth. [mm]

    Returns
    -------
    Remedy or None
        None where so much can't come off. [mm]

    References
    ----------
    None needed.
    """
    mm = _hundredths_up(amount_mm)
    if mm > most_mm:
        return None
    allowed, sentence = reading.allowed_mm >= mm, f"Take {_mm(mm)} mm {where}"
    if reading.kind == "obstacle":
        may = _mm(reading.allowed_mm)
        sentence += f": {may} mm may be trimmed." if allowed else f": more than the {may} mm that may be trimmed."
    kept = (reading.now_mm, Fraction(reading.now_mm) - mm, mm, sentence, allowed)
    again = partial(taken_off, given, reading, where, most_mm)
    return Remedy(reading.kind, reading.what, *kept, after=reading.change(given, mm), by=again)


def as_cause(given: Given, reading: Reading, amount_mm: Number) -> Remedy | None:
    """Return a reading as the cause of a misfit.

    Parameters
    ----------
    given : Given
        All as it is. [mm]
    reading : Reading
        The reading. [mm]
    amount_mm : Fraction or float
        How far it has to change. [mm]

    Returns
    -------
    Remedy or None
        None where it can't change so far. [mm]

    References
    ----------
    None needed.
    """
    if amount_mm > reading.most_mm:
        return None
    needed = Fraction(reading.now_mm) + (amount_mm if reading.rises else -amount_mm)
    sentence = f"{reading.words}, at {_mm(reading.now_mm)} mm, is the cause: at {_mm(needed)} mm all would fit."
    kept = (reading.now_mm, needed, amount_mm, sentence, reading.allowed_mm >= amount_mm)
    after = reading.change(given, amount_mm)
    return Remedy(
        reading.kind, reading.what, *kept, after=after, by=lambda mm: as_cause(given, reading, _hundredths_up(mm))
    )


def _hundredths_up(amount: Number) -> Fraction:
    return Fraction(ceil(Fraction(amount) * STEPS), STEPS)


def _mm(value: Number) -> str:
    return f"{float(value):.2f}"
