"""What would make it fit where nothing does: one change at a time, each by as little as will do, and verified."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import partial

from modelmath.enclosure.bodies import FACES, Box, Faces, Speaker
from modelmath.enclosure.cavity import Cavity
from modelmath.enclosure.choosing.by_amount import (
    DECODER_SIZES,
    KEPT,
    SPEAKER_SIZES,
    as_cause,
    said_of_decoder,
    said_of_diameter,
    said_of_kept,
    said_of_speaker,
    smaller,
    taken_off,
)
from modelmath.enclosure.choosing.changes import Given, Remedy
from modelmath.enclosure.choosing.readings import LEAST_MM, Reading, chassis_top, obstacle_top, readings
from modelmath.enclosure.choosing.trying import Change, Found, Tries, without_decoder, without_speaker
from modelmath.enclosure.fitting.held import let_go
from modelmath.enclosure.limits import Limits
from modelmath.lengths.numbers import Number

NEVER_NONE = ("wall_mm", "sound_room_mm")  # there is always some of it


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
    return () if tries.already else least_changes(tries)


def least_changes(tries: Tries) -> tuple[Remedy, ...]:
    """Return every single change that may make a job fit once cut to marks, each by the least that may do.

    Parameters
    ----------
    tries : Tries
        All as it is. [mm]

    Returns
    -------
    tuple of Remedy
        Where it does not fit, as `remedies`. Where it does but for the marks, each change by nothing yet: how much it
        takes, its `by` is asked for. [mm]

    References
    ----------
    As `remedies`.
    """
    found = [
        *_let_go(tries),
        *_less_kept(tries),
        *_cut_round(tries),
        *_speakers(tries),
        *_decoders(tries),
        *_trimmed(tries),
    ]
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
    Bisection, and every height at which a roof comes level with another; verified by fitting anew.

    Examples
    --------
    >>> from modelmath.enclosure import Zone
    >>> cavity = Cavity((Zone("cab", 0, 10, 9, 13, 20), Zone("motor", 10, 40, 9, 15, 20)), False, False)
    >>> cause_of(cavity, Limits(1, wall_mm=1), Speaker(35, 14, 1, 5)).sentence
    'The roof over cab, at 13.00 mm, is the cause: at 15.00 mm all would fit.'
    """
    tries = Tries(Given(cavity, limits, speaker, decoder))
    if tries.already:
        return None
    best: Remedy | None = None
    for reading in readings(tries.given):
        most = reading.most_mm if best is None else min(reading.most_mm, best.change_mm - LEAST_MM)
        found = _least(tries, reading, most) if most > 0 else None
        if found is not None:
            best = as_cause(tries.given, reading, found.mm)
    return best


def _least(tries: Tries, reading: Reading, most: Number) -> Found | None:
    """Return the least change of a reading that makes all fit.

    A roof over a speaker that faces up may come level with another roof, and be one with it only just there.
    """
    found = tries.least(reading.change, most)
    speaker = tries.given.speaker
    if reading.kind != "roof" or speaker is None or speaker.faces != "up":
        return found
    most = most if found is None else found.mm
    steps = {Fraction(zone.roof_mm) - Fraction(reading.now_mm) for zone in tries.given.cavity.zones}
    return tries.first(reading.change, sorted(step for step in steps if 0 < step <= most)) or found


# What is kept.


def _less_kept(tries: Tries) -> Iterator[Remedy]:
    given = tries.given
    if not _helps(tries, _nothing_kept):
        return
    for name, kind, *_ in KEPT:
        if name == "sound_room_mm" and not _faces_a_closed_end(given):
            continue
        now: Number = getattr(given.limits, name)
        lowest = LEAST_MM if name in NEVER_NONE else Fraction(0)
        found = tries.greatest(partial(_kept, name=name), lowest, now)
        if found is not None:
            say = partial(said_of_kept, kind)
            yield from _found(given, kind, kind, partial(_kept, name=name), (lowest, now), say, found)


def _found(
    given: Given, kind: str, what: str, change: Change, sizes: tuple[Number, Number], say: Callable[..., str],
    found: Found,
) -> Iterator[Remedy]:  # fmt: skip
    remedy = smaller(given, kind, what, change, sizes, say, Fraction(sizes[1]) - found.mm)
    if remedy is not None:
        yield remedy


def _faces_a_closed_end(given: Given) -> bool:
    return given.speaker is not None and given.cavity.closed_at(given.speaker.faces)


def _kept(given: Given, size: Number, name: str) -> Given:
    return replace(given, limits=replace(given.limits, **{name: size}))  # type: ignore[arg-type]


def _nothing_kept(given: Given, step: Number) -> Given:
    """Return all with nothing kept but walls as thin, and room for the sound as small, as may be."""
    for name, *_ in KEPT:
        given = _kept(given, min(step, getattr(given.limits, name)) if name in NEVER_NONE else 0, name)
    return given


def _helps(tries: Tries, most: Change) -> bool:
    """Whether one change of a kind may help: not where all of them at once, as far as they go, do not."""
    return tries.fits(lambda given: most(given, tries.step))


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


def _let_go(tries: Tries) -> Iterator[Remedy]:
    """Yield that the plan is to choose where the chamber ends, where an end is held."""
    limits = tries.given.limits
    if limits != let_go(limits):
        sentence = "Let the plan choose where the chamber ends: it fits elsewhere."
        yield from _as_it_is(tries, "held end", "the chamber", _not_held, sentence)


def _not_held(given: Given) -> Given:
    return replace(given, limits=let_go(given.limits))


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
    for what in SPEAKER_SIZES:
        now: Number = getattr(speaker, f"{what}_mm")
        least = speaker.flange_mm if what == "depth" else LEAST_MM
        change = partial(_sized_speaker, sizes=(what,))
        found = tries.greatest(change, least, now)
        if found is not None:
            say = partial(said_of_speaker, what)
            yield from _found(tries.given, f"speaker {what}", name, change, (least, now), say, found)
    if speaker.length_mm == speaker.width_mm:
        now, change = speaker.length_mm, partial(_sized_speaker, sizes=("length", "width"))
        found = tries.greatest(change, LEAST_MM, now)
        if found is not None:
            sizes = (LEAST_MM, now)
            yield from _found(tries.given, "speaker diameter", name, change, sizes, said_of_diameter, found)


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
    for what in DECODER_SIZES:
        now: Number = getattr(decoder, f"{what}_mm")
        change = partial(_sized_decoder, what=what)
        found = tries.greatest(change, LEAST_MM, now)
        if found is not None:
            say = partial(said_of_decoder, name, what)
            yield from _found(tries.given, f"decoder {what}", name, change, (LEAST_MM, now), say, found)
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


def _trimmed(tries: Tries) -> Iterator[Remedy]:
    """Yield what must come off each obstacle that may be trimmed, and off each chassis top above the seat."""
    given = tries.given
    if not _helps(tries, _all_trimmed):
        return
    for number, zone in enumerate(given.cavity.zones):
        reading = chassis_top(given, number)
        yield from _taken_off(
            tries, reading, f"off the chassis top over {zone.name}, if its metal allows.", zone.top_mm
        )
    for number, each in enumerate(given.cavity.obstacles):
        if each.trim_mm > 0:
            reading = obstacle_top(given, number)
            yield from _taken_off(tries, reading, f"off {each.words}", reading.most_mm)


def _all_trimmed(given: Given, step: Number) -> Given:
    """Return all with everything off at once that `_trimmed` takes off one by one."""
    zones = tuple(replace(each, top_mm=min(each.top_mm, 0)) for each in given.cavity.zones)
    obstacles = tuple(
        replace(each, top_mm=min(each.top_mm, each.bottom_mm + step)) if each.trim_mm > 0 else each
        for each in given.cavity.obstacles
    )
    return replace(given, cavity=replace(given.cavity, zones=zones, obstacles=obstacles))


def _taken_off(tries: Tries, reading: Reading, where: str, most: Number) -> Iterator[Remedy]:
    found = tries.least(reading.change, most) if most > 0 else None
    remedy = None if found is None else taken_off(tries.given, reading, where, most, found.mm)
    if remedy is not None:
        yield remedy
