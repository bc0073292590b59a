"""Two or more speakers must move alike: which tag goes where, how to find the tags, what the wrong way costs."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, log10, pi, sin, sqrt

from modelmath.sound.air import ROOM_AIR, Air
from modelmath.sound.loads.amounts import Amount, as_written, check_amount, told
from modelmath.sound.loads.naming import listed
from modelmath.sound.loads.speakers import RatedSpeaker, check_names
from modelmath.sound.loads.wiring import Parallel, Single, Wiring

CELL_V = 1.5  # a fresh zinc-carbon or alkaline cell, nominal
FIRST, SECOND = 0, 1  # the decoder's two speaker wires


def joints(wiring: Wiring) -> tuple[tuple[str, ...], ...]:
    """Return which tags of the speakers are joined, so that all cones move alike.

    Parameters
    ----------
    wiring : Wiring
        How they are wired. [-]

    Returns
    -------
    tuple of tuple of str
        The tags on the decoder's first speaker wire, those on its second, then those joined with each other alone;
        a tag is a speaker's name with + or −. [-]

    References
    ----------
    Current runs through each speaker from + to −.

    Examples
    --------
    >>> from modelmath.sound.loads.wiring import in_series
    >>> joints(in_series("front", "rear"))
    (('front +',), ('rear −',), ('front −', 'rear +'))
    """
    points: list[list[str]] = [[], []]
    _connect(wiring, FIRST, SECOND, points)
    return tuple(tuple(tags) for tags in points)


def _connect(wiring: Wiring, plus: int, minus: int, points: list[list[str]]) -> None:
    """Join a part between two points, its + ends toward the first."""
    if isinstance(wiring, Single):
        points[plus].append(f"{wiring.name} +")
        points[minus].append(f"{wiring.name} −")
    elif isinstance(wiring, Parallel):
        for part in wiring.parts:
            _connect(part, plus, minus, points)
    else:
        at = plus
        for part in wiring.parts[:-1]:
            points.append([])
            following = len(points) - 1
            _connect(part, at, following, points)
            at = following
        _connect(wiring.parts[-1], at, minus, points)


def polarity_in_words(wiring: Wiring) -> tuple[str, ...]:
    """Return which tag goes where, one sentence for each joint.

    Parameters
    ----------
    wiring : Wiring
        How they are wired. [-]

    Returns
    -------
    tuple of str
        Sentences, for the bench card. [-]

    References
    ----------
    As `joints`; that the wires of a bridge output touch nothing else: common practice, no source.

    Examples
    --------
    >>> from modelmath.sound.loads.wiring import in_parallel
    >>> for sentence in polarity_in_words(in_parallel("front", "rear"))[:2]:
    ...     print(sentence)
    To the decoder's first speaker wire: front + and rear +.
    To its second speaker wire: front − and rear −.
    """
    first, second, *others = joints(wiring)
    said = [
        f"To the decoder's first speaker wire: {listed(first)}.",
        f"To its second speaker wire: {listed(second)}.",
        *(f"Join {listed(tags)}, and insulate the joint." for tags in others),
    ]
    if len(wiring.names) > 1:
        said.append("All cones must move outward together: one turned round takes the low sound from the others.")
    said.append(
        "Neither speaker wire may touch the frame, the track, a function wire or another output "
        "(common practice, no source; the decoder's sheet goes first)."
    )
    return tuple(said)


def polarity_test(speakers: Sequence[RatedSpeaker]) -> tuple[str, ...]:
    """Return how to find the + tag of each speaker at the bench, with cautions first.

    Parameters
    ----------
    speakers : sequence of RatedSpeaker
        The speakers. [-]

    Returns
    -------
    tuple of str
        Steps in order. [-]

    Raises
    ------
    OutOfRange
        If there is none, or two have one name.

    References
    ----------
    IEC 60268-5, from memory: with the + tag positive the cone moves outward. Touching a cell of 1.5 V briefly: common
    practice, no source. P = V^2 / R.

    Examples
    --------
    >>> print(polarity_test([RatedSpeaker("front", 8, 0.1)])[2])
    front takes 0.28 W from the cell, more than its rated 0.1 W: put 6 ohm or more in series with it for this test.
    """
    check_names(speakers)
    cautions = [
        "Take the speaker off the decoder and the shell off the track.",
        "Never test from the track, a power pack or the decoder: use one cell of 1.5 V and nothing larger.",
        *(sentence for each in speakers if (sentence := _resistor(each))),
    ]
    steps = [
        "Touch the cell to the two tags for less than half a second, never longer: shorted, it gets hot.",
        "Watch the cone from the front under a lamp.",
        "Where it moves too little to see, watch how a lamp's reflection on it jumps; do not press on the cone.",
        "It jumps outward: the tag at the cell's + is its + tag. It jumps inward: the other one is. Mark the + tag.",
        f"Do this for {listed([each.name for each in speakers])}, before any is glued in.",
    ]
    wired = "Once wired and before closing, both wires still off the decoder, touch the cell to them"
    after = [f"{wired}: all cones must jump the same way."]
    source = ["This test is common practice, no source; where a speaker's sheet says otherwise, follow the sheet."]
    return (*cautions, *steps, *(after if len(speakers) > 1 else ()), *source)


def _resistor(speaker: RatedSpeaker) -> str:
    """Return what to put in series where the cell gives a speaker more than its rating, or nothing."""
    ohm, rated = speaker.kind
    taken = as_written(CELL_V) ** 2 / ohm
    if rated is None:
        return f"The rating of {speaker.name} is not known; the cell gives it {told(taken, decimals=2)} W: be brief."
    if taken <= rated:
        return ""
    least = ceil(float(ohm) * (sqrt(taken / rated) - 1) - 1e-9)
    says = f"{speaker.name} takes {told(taken, rated, 2)} W from the cell, more than its rated {float(rated):g} W"
    return f"{says}: put {max(least, 1)} ohm or more in series with it for this test."


def reversed_loss_db(spacing_mm: Amount, frequency_hz: Amount, air: Air = ROOM_AIR) -> float:
    """Return how much sound two like speakers lose when one is turned round, over all directions together.

    Straight ahead, as far from one as from the other, nothing is left at all: abs(1 - 1) = 0.

    Parameters
    ----------
    spacing_mm : float
        Between their centres. [mm]
    frequency_hz : float
        Frequency. [Hz]
    air : Air
        The air. [-]

    Returns
    -------
    float
        Level with one turned round against level with both alike; below 0 where sound is lost. [dB]

    Raises
    ------
    OutOfRange, WrongKind
        If the spacing or the frequency is no number above 0.

    References
    ----------
    Two small sources in free air, textbook acoustics (from memory): power in proportion to 1 - sin(kd)/(kd) where they
    are opposed, to 1 + sin(kd)/(kd) where they are alike, with k = 2 pi f / c.

    Examples
    --------
    >>> round(reversed_loss_db(20, 500), 1), round(reversed_loss_db(20, 1000), 1)
    (-25.5, -19.5)
    """
    check_amount("the distance between the speakers", spacing_mm, "mm")
    check_amount("the frequency", frequency_hz, "Hz")
    kd = 2 * pi * float(frequency_hz) * float(spacing_mm) / 1000 / air.speed_m_s
    together, opposed = _with_and_against(kd)
    return 10 * log10(opposed / together)


def _with_and_against(kd: float) -> tuple[float, float]:
    """Return 1 + sin(kd)/kd and 1 - sin(kd)/kd, the latter by its series where the difference would be lost."""
    if kd < 0.01:
        less = kd * kd / 6 * (1 - kd * kd / 20)
        return 2 - less, less
    ratio = sin(kd) / kd
    return 1 + ratio, 1 - ratio


def polarity_cost_in_words(spacing_mm: Amount, frequency_hz: Amount, air: Air = ROOM_AIR) -> str:
    """Return in a sentence what one speaker turned round costs.

    Parameters
    ----------
    spacing_mm : float
        Between the centres of two like speakers. [mm]
    frequency_hz : float
        Frequency. [Hz]
    air : Air
        The air. [-]

    Returns
    -------
    str
        The sentence. [-]

    Raises
    ------
    OutOfRange, WrongKind
        As `reversed_loss_db`.

    References
    ----------
    As `reversed_loss_db`.

    Examples
    --------
    >>> polarity_cost_in_words(20, 500)
    'With one of two like speakers turned round, 20 mm apart, 25.5 dB are lost at 500 Hz: one pushes while the ...'
    """
    change = reversed_loss_db(spacing_mm, frequency_hz, air)
    head = f"With one of two like speakers turned round, {float(spacing_mm):g} mm apart,"
    wave_mm = 1000 * air.speed_m_s / float(frequency_hz)
    if wave_mm < 2 * float(spacing_mm):
        return f"{head} some directions gain and others lose at {float(frequency_hz):g} Hz: {change:+.1f} dB in all."
    why = "one pushes while the other pulls, and the air only moves to and fro between them"
    return f"{head} {-change:.1f} dB are lost at {float(frequency_hz):g} Hz: {why}."
