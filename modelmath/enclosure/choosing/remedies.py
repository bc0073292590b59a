"""What would make it fit where nothing does: one change at a time, each by as little as will do, and verified."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial
from typing import Literal

from modelmath.enclosure.bodies import FACES, Box, Faces, Speaker
from modelmath.enclosure.cavity import Cavity
from modelmath.enclosure.choosing.changes import (
    STEPS,
    Given,
    Remedy,
    with_obstacle_top,
    with_roof,
    with_top,
    with_width,
)
from modelmath.enclosure.choosing.trying import Change, Tries, opened, without_decoder, without_speaker
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
    tries = Tries(Given(cavity, limits, speaker, decoder))
    if tries.fits():
        return ()
    found = [*_less_kept(tries), *_cut_round(tries), *_speakers(tries), *_decoders(tries), *_trimmed(tries)]
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
    tries = Tries(Given(cavity, limits, speaker, decoder))
    if tries.fits():
        return None
    best: Remedy | None = None
    for reading in _readings(tries.given):
        most = reading.most_mm if best is None else min(reading.most_mm, best.change_mm - LEAST_MM)
        found = tries.least(reading.change, most) if most > 0 else None
        if found is not None:
            needed = Fraction(reading.now_mm) + (found.mm if reading.rises else -found.mm)
            sentence = f"{reading.words}, at {_mm(reading.now_mm)} mm, is the cause: at {_mm(needed)} mm all would fit."
            kept = (reading.now_mm, needed, found.mm, sentence, reading.allowed_mm >= found.mm)
            best = Remedy(reading.kind, reading.what, *kept, after=found.after)
    return best


# What is kept.


def _less_kept(tries: Tries) -> Iterator[Remedy]:
    given = tries.given
    if not _helps(tries, _nothing_kept):
        return
    for name, kind, words, minding in KEPT:
        now: Number = getattr(given.limits, name)
        lowest = LEAST_MM if name == "wall_mm" else Fraction(0)
        found = tries.greatest(partial(_kept, name=name), lowest, now)
        if found is not None:
            less = Fraction(now) - found.mm
            sentence = f"{words.format(needed=_mm(found.mm))}, {_mm(less)} mm less{minding}."
            yield Remedy(kind, kind, now, found.mm, less, sentence, after=found.after)


def _kept(given: Given, size: Number, name: str) -> Given:
    return replace(given, limits=replace(given.limits, **{name: size}))  # type: ignore[arg-type]


def _nothing_kept(given: Given, step: Number) -> Given:
    """Return all with nothing kept but walls as thin as may be."""
    for name, *_ in KEPT:
        given = _kept(given, min(step, given.limits.wall_mm) if name == "wall_mm" else 0, name)
    return given


def _helps(tries: Tries, most: Change) -> bool:
    """Whether one change of a kind may help: not where all of them at once, as far as they go, do not."""
    return tries.fits(lambda given: opened(most(given, tries.step)))


def _cut_round(tries: Tries) -> Iterator[Remedy]:
    if tries.given.limits.cut_round or not tries.given.cavity.obstacles:
        return
    sentence = "Cut the floor round what is narrower than the shell, and box that in."
    yield from _as_it_is(tries, "cut round", "floor", partial(_kept, size=True, name="cut_round"), sentence)


def _as_it_is(
    tries: Tries, kind: str, what: str, change: Callable[[Given], Given], sentence: str, size_mm: Number = 0
) -> Iterator[Remedy]:
    """Yield a remedy that changes no size, if it is one."""
    if tries.fits(change):
        yield Remedy(kind, what, None, None, size_mm, sentence, after=change(tries.given))


# The speaker.


def _speakers(tries: Tries) -> Iterator[Remedy]:
    speaker = tries.given.speaker
    if speaker is None or not tries.fits(without_speaker):
        return
    if _helps(tries, _smallest_speaker):
        yield from _smaller_speakers(tries, speaker)
    yield from _turned_speakers(tries, speaker)


def _smaller_speakers(tries: Tries, speaker: Speaker) -> Iterator[Remedy]:
    name = speaker.name
    for what, shorter in SPEAKER_SIZES.items():
        now: Number = getattr(speaker, f"{what}_mm")
        least = speaker.flange_mm if what == "depth" else LEAST_MM
        found = tries.greatest(partial(_sized_speaker, sizes=(what,)), least, now)
        if found is not None:
            less = Fraction(now) - found.mm
            sentence = f"Take a speaker at most {_mm(found.mm)} mm in {what}, {_mm(less)} mm {shorter}."
            yield Remedy(f"speaker {what}", name, now, found.mm, less, sentence, after=found.after)
    if speaker.length_mm == speaker.width_mm:
        found = tries.greatest(partial(_sized_speaker, sizes=("length", "width")), LEAST_MM, speaker.length_mm)
        if found is not None:
            less = Fraction(speaker.length_mm) - found.mm
            sentence = f"Take a speaker at most {_mm(found.mm)} mm in diameter, or square, {_mm(less)} mm smaller."
            now = speaker.length_mm
            yield Remedy("speaker diameter", name, now, found.mm, less, sentence, after=found.after)


def _sized_speaker(given: Given, size: Number, sizes: Sequence[str]) -> Given:
    """Return all with a speaker of another size; its basket is no larger than its flange."""
    speaker = given.speaker
    assert speaker is not None
    changed: dict[str, Number] = {f"{what}_mm": size for what in sizes}
    for what in sizes:
        basket = None if what == "depth" else getattr(speaker, f"basket_{what}_mm")
        if basket is not None:
            changed[f"basket_{what}_mm"] = min(basket, size)
    return replace(given, speaker=replace(speaker, **changed))  # type: ignore[arg-type]


def _smallest_speaker(given: Given, step: Number) -> Given:
    """Return all with a speaker that is as small as may be in every size at once."""
    assert given.speaker is not None
    speaker = given.speaker
    for what in SPEAKER_SIZES:
        now: Number = getattr(speaker, f"{what}_mm")
        least = speaker.flange_mm if what == "depth" else min(step, now)
        given = _sized_speaker(given, least, (what,))
    return given


def _turned(given: Given, faces: Faces | None, quarter: bool) -> Given:
    """Return all with the speaker facing another way, and turned by a quarter."""
    assert given.speaker is not None
    speaker = given.speaker
    if quarter:
        speaker = replace(
            speaker, length_mm=speaker.width_mm, width_mm=speaker.length_mm,
            basket_length_mm=speaker.basket_width_mm, basket_width_mm=speaker.basket_length_mm,
        )  # fmt: skip
    return replace(given, speaker=speaker if faces is None else replace(speaker, faces=faces))


def _turned_speakers(tries: Tries, speaker: Speaker) -> Iterator[Remedy]:
    turns = _turned(tries.given, None, True) != tries.given
    name = speaker.name
    if turns:
        sentence = f"Turn the {name} by a quarter."
        yield from _as_it_is(tries, "speaker turned", name, partial(_turned, faces=None, quarter=True), sentence)
    for faces in FACES:
        if faces == speaker.faces:
            continue
        seat = f"Let the {name} face {faces if faces in ('down', 'up') else f'the {faces} end'}"
        straight = partial(_turned, faces=faces, quarter=False)
        found = list(_as_it_is(tries, f"speaker facing {faces}", name, straight, f"{seat}."))
        yield from found
        if not found and turns:
            kind, sentence = f"speaker facing {faces}, turned", f"{seat}, turned by a quarter."
            yield from _as_it_is(tries, kind, name, partial(_turned, faces=faces, quarter=True), sentence)


# The decoder.


def _decoders(tries: Tries) -> Iterator[Remedy]:
    decoder = tries.given.decoder
    if decoder is None or not tries.fits(without_decoder):
        return
    name = decoder.name
    for what, shorter in DECODER_SIZES.items():
        now: Number = getattr(decoder, f"{what}_mm")
        found = tries.greatest(partial(_sized_decoder, what=what), LEAST_MM, now)
        if found is not None:
            less = Fraction(now) - found.mm
            sentence = f"Take a {name} at most {_mm(found.mm)} mm in {what}, {_mm(less)} mm {shorter}."
            yield Remedy(f"decoder {what}", name, now, found.mm, less, sentence, after=found.after)
    if not decoder.turns:
        sentence = f"Let the {name} be turned: it fits another way."
        yield from _as_it_is(tries, "decoder turned", name, partial(_with_decoder, turns=True), sentence)
    if not decoder.inside:
        sentence = f"Let the {name} lie inside the sealed chamber, where its heat stays: ask its maker first."
        yield from _as_it_is(tries, "decoder inside", name, partial(_with_decoder, inside=True), sentence)
    size = max(decoder.length_mm, decoder.width_mm, decoder.height_mm)
    sentence = f"Leave the {name} out, or place it elsewhere."
    yield from _as_it_is(tries, "no decoder", name, _left_out, sentence, size)


def _left_out(given: Given) -> Given:
    return replace(given, decoder=None)


def _sized_decoder(given: Given, size: Number, what: str) -> Given:
    return _with_decoder(given, **{f"{what}_mm": size})


def _with_decoder(given: Given, **changes: Number) -> Given:
    assert given.decoder is not None
    return replace(given, decoder=replace(given.decoder, **changes))  # type: ignore[arg-type]


# What stands in the way.


@dataclass(frozen=True)
class _Reading:
    """A reading or obstacle that may be the cause: how all is with it changed."""

    kind: Literal["chassis top", "roof", "inside width", "obstacle"]
    what: str
    words: str
    now_mm: Number
    change: Change
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
        words, change = f"The roof over {zone.name}", partial(_of_number, with_roof, number)
        yield _Reading("roof", zone.name, words, zone.roof_mm, change, FARTHEST_MM)
    for number, zone in zones:
        words, change = f"The inside width over {zone.name}", partial(_of_number, with_width, number)
        yield _Reading("inside width", zone.name, words, zone.width_mm, change, FARTHEST_MM)


def _chassis_top(given: Given, number: int) -> _Reading:
    zone = given.cavity.zones[number]
    words, change = f"The chassis top over {zone.name}", partial(_of_number, with_top, number)
    return _Reading("chassis top", zone.name, words, zone.top_mm, change, FARTHEST_MM)


def _obstacle_top(given: Given, number: int) -> _Reading:
    each = given.cavity.obstacles[number]
    most = each.top_mm - each.bottom_mm - LEAST_MM
    change = partial(_of_number, with_obstacle_top, number)
    return _Reading("obstacle", each.name, f"The top of {each.words}", each.top_mm, change, most, each.trim_mm)


def _of_number(change: Callable[[Given, int, Number], Given], number: int, given: Given, amount: Number) -> Given:
    return change(given, number, amount)


def _trimmed(tries: Tries) -> Iterator[Remedy]:
    """Yield what must come off each obstacle that may be trimmed, and off each chassis top above the seat."""
    given = tries.given
    if not _helps(tries, _all_trimmed):
        return
    for number, zone in enumerate(given.cavity.zones):
        reading = _chassis_top(given, number)
        yield from _taken_off(
            tries, reading, f"off the chassis top over {zone.name}, if its metal allows.", zone.top_mm
        )
    for number, each in enumerate(given.cavity.obstacles):
        if each.trim_mm > 0:
            reading = _obstacle_top(given, number)
            yield from _taken_off(tries, reading, f"off {each.words}", reading.most_mm)


def _all_trimmed(given: Given, step: Number) -> Given:
    """Return all with everything off at once that `_trimmed` takes off one by one."""
    zones = tuple(replace(each, top_mm=min(each.top_mm, 0)) for each in given.cavity.zones)
    obstacles = tuple(
        replace(each, top_mm=min(each.top_mm, each.bottom_mm + step)) if each.trim_mm > 0 else each
        for each in given.cavity.obstacles
    )
    return replace(given, cavity=replace(given.cavity, zones=zones, obstacles=obstacles))


def _taken_off(tries: Tries, reading: _Reading, where: str, most: Number) -> Iterator[Remedy]:
    found = tries.least(reading.change, most) if most > 0 else None
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
