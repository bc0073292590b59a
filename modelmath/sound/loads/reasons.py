"""Why a load is allowed or refused, in sentences with numbers and what to do."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from functools import lru_cache
from math import ceil, floor, log10, sqrt

from modelmath.errors import NotYetKnown
from modelmath.sound.loads.amounts import as_written, number_word, told
from modelmath.sound.loads.decoder import AmpOutput
from modelmath.sound.loads.naming import listed, wiring_in_words
from modelmath.sound.loads.speakers import RatedSpeaker, alike
from modelmath.sound.loads.wiring import (
    Parallel,
    Series,
    Single,
    Wiring,
    exact_impedance,
    exact_shares,
    few_enough,
    wirings,
)

RATED_NOTE = (
    "Impedances are the rated ones: the true one changes with the pitch and may be 20 % lower "
    "(IEC 60268-5, from memory); a decoder's sheet counts in rated ones (common practice, no source)."
)
HEARD_DB = 0.05  # less rounds to 0.0 dB


def in_range(ohm: Fraction, output: AmpOutput) -> bool:
    """Return whether an output may drive an impedance.

    Parameters
    ----------
    ohm : Fraction
        Impedance of the load. [ohm]
    output : AmpOutput
        The output; its least impedance is known. [-]

    Returns
    -------
    bool
        Whether it is from the least to the greatest impedance allowed. [-]

    References
    ----------
    The decoder's own sheet.
    """
    least, most = output.least_ohm, output.most_ohm
    return (least is None or ohm >= as_written(least)) and (most is None or ohm <= as_written(most))


def within_reason(ohm: Fraction, output: AmpOutput) -> str:
    """Return the sentence on an impedance that is allowed.

    Parameters
    ----------
    ohm : Fraction
        Impedance of the load. [ohm]
    output : AmpOutput
        The output. [-]

    Returns
    -------
    str
        The sentence. [-]

    References
    ----------
    None needed.
    """
    least, most = float(output.least_ohm or 0), output.most_ohm
    wanted = f"{least:g} ohm or more" if most is None else f"{least:g} to {float(most):g} ohm"
    return f"{told(ohm)} ohm is within the {wanted} that the decoder drives."


def impedance_reason(speakers: tuple[RatedSpeaker, ...], ohm: Fraction, output: AmpOutput) -> str:
    """Return the sentence on an impedance that is refused, with what to do.

    Parameters
    ----------
    speakers : tuple of RatedSpeaker
        The speakers. [-]
    ohm : Fraction
        Impedance of the load. [ohm]
    output : AmpOutput
        The output. [-]

    Returns
    -------
    str
        The sentence. [-]

    References
    ----------
    None needed.
    """
    low = output.most_ohm is None or ohm <= as_written(output.most_ohm)
    beyond = output.least_ohm if low else output.most_ohm
    assert beyond is not None  # it was refused for that
    limit = float(beyond)
    side, end = ("below", "least") if low else ("above", "most")
    says = f"{told(ohm, limit)} ohm is {side} the {limit:g} ohm that the decoder drives at {end}"
    return f"{says}: {_remedy(speakers, output, low, limit)}."


def _remedy(speakers: tuple[RatedSpeaker, ...], output: AmpOutput, low: bool, limit: float) -> str:
    """Return what to do about an impedance that is too low or too high."""
    joint, more = ("in series", "or more") if low else ("in parallel", "or less")
    if len(speakers) == 1:
        add = f"add another {joint} so that both make {limit:g} ohm {more}"
        return f"take one of {limit:g} ohm {more}, or {add}"
    if (other := _another(speakers, output)) is not None:
        return _wire_so(other, alike(speakers))
    furthest = _all_joined(speakers, Series if low else Parallel)
    count = number_word(len(speakers))
    if furthest < limit if low else furthest > limit:
        all_of = "both" if len(speakers) == 2 else f"all {count}"
        reach = f"even {all_of} {joint} make {told(furthest, limit)} ohm"
        return f"{reach}; take speakers that make {limit:g} ohm {more} together"
    if few_enough(speakers):
        return f"no wiring of these {count} is in the range; take speakers of another impedance"
    return "wire them another way, or take speakers of another impedance"


def _all_joined(speakers: Sequence[RatedSpeaker], joint: type[Series] | type[Parallel]) -> Fraction:
    """Return the impedance of all in series or in parallel: the highest or lowest that they make."""
    ohms = {each.name: as_written(each.impedance_ohm) for each in speakers}
    return exact_impedance(joint(tuple(Single(name) for name in ohms)), ohms)


@lru_cache(maxsize=16)
def _another(speakers: tuple[RatedSpeaker, ...], output: AmpOutput) -> Wiring | None:
    """Return the wiring of these that is allowed, overloads none, takes the most power, the most evenly; or None."""
    ohms = {each.name: as_written(each.impedance_ohm) for each in speakers}
    if few_enough(speakers):
        ways = wirings(speakers)
    else:
        singles = tuple(Single(name) for name in ohms)
        ways = (Series(singles), Parallel(singles))
    allowed = [(exact_impedance(way, ohms), exact_shares(way, ohms), way) for way in ways]
    ranked = [
        (_overloads(speakers, shares, ohm, output), ohm, max(shares.values()), place, way)
        for place, (ohm, shares, way) in enumerate(allowed)
        if in_range(ohm, output)
    ]
    return min(ranked)[-1] if ranked else None


def _overloads(
    speakers: Sequence[RatedSpeaker], shares: Mapping[str, Fraction], ohm: Fraction, output: AmpOutput
) -> bool:
    """Return whether a speaker would get more than its rating, as far as that can be known."""
    try:
        power = output.exact_power(ohm)
    except NotYetKnown:
        return False
    return any(each.kind[1] is not None and shares[each.name] * power > each.kind[1] for each in speakers)


def _wire_so(wiring: Wiring, by_count: bool) -> str:
    """Return how to wire instead."""
    words = wiring_in_words(wiring, by_count)
    if isinstance(wiring, Single) or any(not isinstance(part, Single) for part in wiring.parts):
        return f"wire them so: {words}"
    return f"wire the {number_word(len(wiring.names))} {'in series' if isinstance(wiring, Series) else 'in parallel'}"


def down_in_words(down_db: float) -> str:
    """Return how far to turn down, rounded up to a tenth of a dB.

    Parameters
    ----------
    down_db : float
        How far, 0 or more. [dB]

    Returns
    -------
    str
        With its unit. [dB]

    References
    ----------
    None needed.

    Examples
    --------
    >>> down_in_words(0.51), down_in_words(3.0)
    ('0.6 dB', '3.0 dB')
    """
    return f"{ceil(10 * down_db - 1e-9) / 10:.1f} dB"


def over_rating(name: str, power_w: float | None, rated_w: float | None) -> str:
    """Return the sentence on a speaker that gets more than it is rated for, with what to do.

    Parameters
    ----------
    name : str
        Its name. [-]
    power_w : float or None
        What it gets. [W]
    rated_w : float or None
        What it is rated for, less than that. [W]

    Returns
    -------
    str
        The sentence. [-]

    References
    ----------
    Power falls with the square of the voltage; 10 lg of powers, 20 lg of voltages.

    Examples
    --------
    >>> over_rating("front", 2.0, 1.0)
    'Front gets 2.00 W, more than its rated 1 W: turn the decoder down by 3.1 dB (to 70 % of its full voltage), ...'
    """
    assert power_w is not None
    assert rated_w is not None
    # Rounded to the safe side; the small step keeps an exact figure from being rounded off by float error.
    down = down_in_words(10 * log10(power_w / rated_w))
    percent = floor(100 * sqrt(rated_w / power_w) + 1e-9)
    enough = ceil(100 * power_w - 1e-9) / 100
    return (
        f"{name[:1].upper()}{name[1:]} gets {told(power_w, rated_w, 2)} W, more than its rated {rated_w:g} W: turn the "
        f"decoder down by {down} (to {percent} % of its full voltage), or take a speaker rated {enough:g} W or more."
    )


def notes_on(
    speakers: Sequence[RatedSpeaker],
    output: AmpOutput,
    lacking: str,
    ohm: Fraction,
    quieter_db: float,
    cones_db: float | None,
) -> tuple[str, ...]:
    """Return what was assumed of a load, and what is not judged.

    Parameters
    ----------
    speakers : sequence of RatedSpeaker
        The speakers. [-]
    output : AmpOutput
        The output. [-]
    lacking : str
        What the power lacks; empty where it is known. [-]
    ohm : Fraction
        Impedance of the load. [ohm]
    quieter_db : float
        How much less power it takes than the least impedance allowed. [dB]
    cones_db : float or None
        What several like cones add. [dB]

    Returns
    -------
    tuple of str
        One sentence each. [-]

    References
    ----------
    As each sentence says.
    """
    notes = list(_not_judged(speakers, lacking))
    if quieter_db >= HEARD_DB:
        assert output.least_ohm is not None
        least = f"{float(output.least_ohm):g}"
        why = "the output is a voltage source, and a higher impedance takes less power from it"
        notes.append(f"{told(ohm)} ohm is {quieter_db:.1f} dB quieter than {least} ohm would be: {why}.")
    if cones_db is not None and cones_db >= HEARD_DB:
        notes.append(
            f"{number_word(len(speakers)).capitalize()} like cones that move alike add up to {cones_db:.1f} dB over "
            "one with the same whole power, while they are close together against the wavelength: an estimate "
            "(superposition of pressures, textbook acoustics, from memory)."
        )
    notes.append(RATED_NOTE)
    return (*notes, *(() if lacking else output.assumptions()))


def _not_judged(speakers: Sequence[RatedSpeaker], lacking: str) -> tuple[str, ...]:
    """Return what could not be judged, and what to look up for it."""
    if lacking:
        return (f"The impedance alone is judged, not the power of each speaker. {lacking}",)
    unrated = [each.name for each in speakers if each.power_w is None]
    if not unrated:
        return ()
    if len(unrated) == 1:
        return (f"The power of {unrated[0]} is not judged: enter its rated power from its sheet.",)
    return (f"The powers of {listed(unrated)} are not judged: enter their rated powers from their sheets.",)
