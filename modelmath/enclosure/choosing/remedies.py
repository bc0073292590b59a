"""What would make it fit where nothing does: one change at a time, each by as little as will do, and verified."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial
from typing import Literal

from modelmath.enclosure.bodies import FACES, Box, Speaker
from modelmath.enclosure.cavity import Cavity
from modelmath.enclosure.choosing.changes import (
    STEPS,
    Given,
    Remedy,
    greatest,
    least,
    with_obstacle_top,
    with_roof,
    with_top,
    with_width,
)
from modelmath.enclosure.limits import Limits
from modelmath.lengths.numbers import Number

LEAST_MM = Fraction(1, STEPS)  # no part is made thinner than this, nor any size smaller
FARTHEST_MM = Fraction(100)  # no reading is off by more

TOUCHING = ": weigh the chance of touching"
# What may be kept less of: its field, its kind, what to do and what to mind.
KEPT = (
    ("clearance_mm", "clearance", "Keep {needed} mm of clearance over the chassis", TOUCHING),
    ("end_clearance_mm", "end clearance", "Keep {needed} mm of clearance along the length", TOUCHING),
    ("front_room_mm", "front room", "Keep {needed} mm of room at the front end", ""),
    ("rear_room_mm", "rear room", "Keep {needed} mm of room at the rear end", ""),
    ("wall_mm", "wall thickness", "Use walls no thicker than {needed} mm", ""),
    ("post_mm", "post thickness", "Use posts that take no more than {needed} mm of the length", ""),
    ("over_speaker_mm", "gap over the speaker", "Leave {needed} mm over the speaker's back", ""),
    ("wire_path_mm", "wire path", "Keep a wire path {needed} mm wide", ""),
)
SPEAKER_SIZES = {"depth": "shallower", "length": "shorter", "width": "narrower"}
DECODER_SIZES = {"length": "shorter", "width": "narrower", "height": "flatter"}


def remedies(
    cavity: Cavity, limits: Limits, speaker: Speaker | None = None, decoder: Box | None = None
) -> tuple[Remedy, ...]:
    """Return every single change that makes a job fit that does not, each by as little as will do.

    Parameters
    ----------
    cavity, limits, speaker, decoder : Cavity, Limits, Speaker or None, Box or None
        As for `fit_enclosure`. [mm]

    Returns
    -------
    tuple of Remedy
        Those within what may be trimmed first, then by how small the change is; none where it fits already. Sizes are
        found to a hundredth of a mm: one hundredth less of a change does not do. [mm]

    References
    ----------
    Bisection; each is verified by fitting anew.

    Examples
    --------
    >>> from modelmath.enclosure import Zone
    >>> cavity = Cavity((Zone("motor", 0, 40, 9, 15, 20),), False, False)
    >>> for each in remedies(cavity, Limits(1, wall_mm=1), Speaker(20, 14, 1, Fraction("5.3"))):
    ...     print(each.sentence)
    Keep 0.70 mm of clearance over the chassis, 0.30 mm less: weigh the chance of touching.
    Take a speaker at most 5.00 mm in depth, 0.30 mm shallower.
    Take 0.30 mm off the chassis top over motor, if its metal allows.
    """
    given = Given(cavity, limits, speaker, decoder)
    if given.fits():
        return ()
    found = [*_less_kept(given), *_cut_round(given), *_speakers(given), *_decoders(given), *_trimmed(given)]
    return tuple(sorted(found, key=lambda each: (not each.allowed, each.change_mm)))


def cause_of(
    cavity: Cavity, limits: Limits, speaker: Speaker | None = None, decoder: Box | None = None
) -> Remedy | None:
    """Return the reading or obstacle that is the cause: the one that makes all fit when changed by the least.

    Parameters
    ----------
    cavity, limits, speaker, decoder : Cavity, Limits, Speaker or None, Box or None
        As for `fit_enclosure`. [mm]

    Returns
    -------
    Remedy or None
        The top of an obstacle, a chassis top, a roof or an inside width; of two that change as little, the kind that
        stands first here. None where it fits already, or no single one is the cause. [mm]

    References
    ----------
    Bisection; verified by fitting anew.

    Examples
    --------
    >>> from modelmath.enclosure import Zone
    >>> cavity = Cavity((Zone("cab", 0, 10, 9, 13, 20), Zone("motor", 10, 40, 9, 15, 20)), False, False)
    >>> cause_of(cavity, Limits(1, wall_mm=1), Speaker(35, 14, 1, 5)).sentence
    'The roof over cab, at 13.00 mm, is the cause: at 15.00 mm all would fit.'
    """
    given = Given(cavity, limits, speaker, decoder)
    if given.fits():
        return None
    best: Remedy | None = None
    for reading in _readings(given):
        most = reading.most_mm if best is None else min(reading.most_mm, best.change_mm - LEAST_MM)
        found = least(reading.change, most) if most > 0 else None
        if found is not None:
            needed = Fraction(reading.now_mm) + (found.mm if reading.rises else -found.mm)
            sentence = f"{reading.words}, at {_mm(reading.now_mm)} mm, is the cause: at {_mm(needed)} mm all would fit."
            kept = (reading.now_mm, needed, found.mm, sentence, reading.allowed_mm >= found.mm)
            best = Remedy(reading.kind, reading.what, *kept, after=found.after)
    return best


# What is kept.


def _less_kept(given: Given) -> Iterator[Remedy]:
    for name, kind, words, minding in KEPT:
        now: Number = getattr(given.limits, name)
        lowest = LEAST_MM if name == "wall_mm" else Fraction(0)

        def change(size: Fraction, name: str = name) -> Given:
            return replace(given, limits=replace(given.limits, **{name: size}))  # type: ignore[arg-type]

        found = greatest(change, lowest, now)
        if found is not None:
            less = Fraction(now) - found.mm
            sentence = f"{words.format(needed=_mm(found.mm))}, {_mm(less)} mm less{minding}."
            yield Remedy(kind, kind, now, found.mm, less, sentence, after=found.after)


def _cut_round(given: Given) -> Iterator[Remedy]:
    if given.limits.cut_round or not given.cavity.obstacles:
        return
    sentence = "Cut the floor round what is narrower than the shell, and box that in."
    yield from _as_it_is("cut round", "floor", replace(given, limits=replace(given.limits, cut_round=True)), sentence)


def _as_it_is(kind: str, what: str, after: Given, sentence: str, size_mm: Number = 0) -> Iterator[Remedy]:
    """Yield a remedy that changes no size, if it is one."""
    if after.fits():
        yield Remedy(kind, what, None, None, size_mm, sentence, after=after)


# The speaker.


def _speakers(given: Given) -> Iterator[Remedy]:
    speaker = given.speaker
    if speaker is None:
        return
    name = speaker.name
    for what, shorter in SPEAKER_SIZES.items():
        now: Number = getattr(speaker, f"{what}_mm")
        found = greatest(
            _sized_speaker(given, speaker, (what,)), speaker.flange_mm if what == "depth" else LEAST_MM, now
        )
        if found is not None:
            less = Fraction(now) - found.mm
            sentence = f"Take a speaker at most {_mm(found.mm)} mm in {what}, {_mm(less)} mm {shorter}."
            yield Remedy(f"speaker {what}", name, now, found.mm, less, sentence, after=found.after)
    if speaker.length_mm == speaker.width_mm:
        found = greatest(_sized_speaker(given, speaker, ("length", "width")), LEAST_MM, speaker.length_mm)
        if found is not None:
            less = Fraction(speaker.length_mm) - found.mm
            sentence = f"Take a speaker at most {_mm(found.mm)} mm in diameter, or square, {_mm(less)} mm smaller."
            now = speaker.length_mm
            yield Remedy("speaker diameter", name, now, found.mm, less, sentence, after=found.after)
    yield from _turned_speakers(given, speaker)


def _sized_speaker(given: Given, speaker: Speaker, sizes: Sequence[str]) -> Callable[[Fraction], Given]:
    """Return how all is with a speaker of another size; its basket is no larger than its flange."""

    def change(size: Fraction) -> Given:
        changed: dict[str, Number] = {f"{what}_mm": size for what in sizes}
        for what in sizes:
            basket = None if what == "depth" else getattr(speaker, f"basket_{what}_mm")
            if basket is not None:
                changed[f"basket_{what}_mm"] = min(basket, size)
        return replace(given, speaker=replace(speaker, **changed))  # type: ignore[arg-type]

    return change


def _turned_speakers(given: Given, speaker: Speaker) -> Iterator[Remedy]:
    quarter = replace(
        speaker, length_mm=speaker.width_mm, width_mm=speaker.length_mm,
        basket_length_mm=speaker.basket_width_mm, basket_width_mm=speaker.basket_length_mm,
    )  # fmt: skip
    name = speaker.name
    if quarter != speaker:
        sentence = f"Turn the {name} by a quarter."
        yield from _as_it_is("speaker turned", name, replace(given, speaker=quarter), sentence)
    for faces in FACES:
        if faces == speaker.faces:
            continue
        seat = f"Let the {name} face {faces if faces in ('down', 'up') else f'the {faces} end'}"
        after = replace(given, speaker=replace(speaker, faces=faces))
        straight = list(_as_it_is(f"speaker facing {faces}", name, after, f"{seat}."))
        yield from straight
        if not straight and quarter != speaker:
            after = replace(given, speaker=replace(quarter, faces=faces))
            sentence = f"{seat}, turned by a quarter."
            yield from _as_it_is(f"speaker facing {faces}, turned", name, after, sentence)


# The decoder.


def _decoders(given: Given) -> Iterator[Remedy]:
    decoder = given.decoder
    if decoder is None:
        return
    name = decoder.name
    for what, shorter in DECODER_SIZES.items():
        now: Number = getattr(decoder, f"{what}_mm")

        def change(size: Fraction, what: str = what) -> Given:
            return replace(given, decoder=replace(decoder, **{f"{what}_mm": size}))  # type: ignore[arg-type]

        found = greatest(change, LEAST_MM, now)
        if found is not None:
            less = Fraction(now) - found.mm
            sentence = f"Take a {name} at most {_mm(found.mm)} mm in {what}, {_mm(less)} mm {shorter}."
            yield Remedy(f"decoder {what}", name, now, found.mm, less, sentence, after=found.after)
    if not decoder.turns:
        after = replace(given, decoder=replace(decoder, turns=True))
        yield from _as_it_is("decoder turned", name, after, f"Let the {name} be turned: it fits another way.")
    if not decoder.inside:
        after = replace(given, decoder=replace(decoder, inside=True))
        sentence = f"Let the {name} lie inside the sealed chamber, where its heat stays: ask its maker first."
        yield from _as_it_is("decoder inside", name, after, sentence)
    size = max(decoder.length_mm, decoder.width_mm, decoder.height_mm)
    sentence = f"Leave the {name} out, or place it elsewhere."
    yield from _as_it_is("no decoder", name, replace(given, decoder=None), sentence, size)


# What stands in the way.


@dataclass(frozen=True)
class _Reading:
    """A reading or obstacle that may be the cause: how all is with it changed."""

    kind: Literal["chassis top", "roof", "inside width", "obstacle"]
    what: str
    words: str
    now_mm: Number
    change: Callable[[Fraction], Given]
    most_mm: Number
    allowed_mm: Number = FARTHEST_MM

    @property
    def rises(self) -> bool:
        return self.kind in ("roof", "inside width")


def _readings(given: Given) -> Iterator[_Reading]:
    """Yield them in the order in which, of two that need as much, one is named: what is easiest to change first."""
    for number in range(len(given.cavity.obstacles)):
        yield _obstacle_top(given, number)
    zones = tuple(enumerate(given.cavity.zones))
    for number, _ in zones:
        yield _chassis_top(given, number)
    for number, zone in zones:
        words, change = f"The roof over {zone.name}", partial(with_roof, given, number)
        yield _Reading("roof", zone.name, words, zone.roof_mm, change, FARTHEST_MM)
    for number, zone in zones:
        words, change = f"The inside width over {zone.name}", partial(with_width, given, number)
        yield _Reading("inside width", zone.name, words, zone.width_mm, change, FARTHEST_MM)


def _chassis_top(given: Given, number: int) -> _Reading:
    zone = given.cavity.zones[number]
    words, change = f"The chassis top over {zone.name}", partial(with_top, given, number)
    return _Reading("chassis top", zone.name, words, zone.top_mm, change, FARTHEST_MM)


def _obstacle_top(given: Given, number: int) -> _Reading:
    each = given.cavity.obstacles[number]
    most = each.top_mm - each.bottom_mm - LEAST_MM
    change = partial(with_obstacle_top, given, number)
    return _Reading("obstacle", each.name, f"The top of {each.words}", each.top_mm, change, most, each.trim_mm)


def _trimmed(given: Given) -> Iterator[Remedy]:
    """Yield what must come off each obstacle that may be trimmed, and off each chassis top above the seat."""
    for number, zone in enumerate(given.cavity.zones):
        reading = _chassis_top(given, number)
        yield from _taken_off(reading, f"off the chassis top over {zone.name}, if its metal allows.", zone.top_mm)
    for number, each in enumerate(given.cavity.obstacles):
        if each.trim_mm > 0:
            reading = _obstacle_top(given, number)
            yield from _taken_off(reading, f"off {each.words}", reading.most_mm)


def _taken_off(reading: _Reading, where: str, most: Number) -> Iterator[Remedy]:
    found = least(reading.change, most) if most > 0 else None
    if found is None:
        return
    allowed, sentence = reading.allowed_mm >= found.mm, f"Take {_mm(found.mm)} mm {where}"
    if reading.kind == "obstacle":
        may = _mm(reading.allowed_mm)
        sentence += f": {may} mm may be trimmed." if allowed else f": more than the {may} mm that may be trimmed."
    needed = Fraction(reading.now_mm) - found.mm
    kept = (reading.now_mm, needed, found.mm, sentence, allowed)
    yield Remedy(reading.kind, reading.what, *kept, after=found.after)


def _mm(value: Number) -> str:
    return f"{float(value):.2f}"
