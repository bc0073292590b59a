"""Whether a decoder can drive speakers wired so, what each of them gets, and all wirings compared."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import log10, sqrt
from typing import Literal

from modelmath.errors import NotYetKnown, UnknownChoice
from modelmath.sound.loads.amounts import Amount, as_written
from modelmath.sound.loads.decoder import AmpOutput
from modelmath.sound.loads.naming import wiring_in_words
from modelmath.sound.loads.reasons import RATED_NOTE, impedance_reason, in_range, notes_on, over_rating, within_reason
from modelmath.sound.loads.speakers import RatedSpeaker, alike
from modelmath.sound.loads.wiring import Wiring, exact_impedance, exact_shares, ohms_by_name, wirings

Verdict = Literal["fits", "turn down", "refused"]
VERDICTS: tuple[Verdict, ...] = ("fits", "turn down", "refused")


@dataclass(frozen=True)
class Share:
    """What one speaker gets.

    Attributes
    ----------
    name : str
        Its name. [-]
    part : float
        Part of the whole power. [-]
    power_w : float or None
        Its power with the largest unclipped sine; None where that is not known or the load is refused. [W]
    rated_w : float or None
        Its rated power, where known. [W]
    within : bool or None
        Whether that is within its rating; None where either is not known. [-]

    References
    ----------
    As `modelmath.sound.loads.wiring.exact_shares`.
    """

    name: str
    part: float
    power_w: float | None
    rated_w: float | None
    within: bool | None


@dataclass(frozen=True)
class LoadCheck:
    """Speakers, wired so, on a decoder's output.

    Attributes
    ----------
    speakers : tuple of RatedSpeaker
        The speakers. [-]
    wiring : Wiring
        How they are wired. [-]
    output : AmpOutput
        The decoder's output. [-]
    impedance_ohm : float
        Impedance by rated values. [ohm]
    power_w : float or None
        Largest unclipped power; None where the sheet's figures lack, or the decoder must not drive this load. [W]
    clipping_v : float or None
        Rms voltage at which the output clips, where known. [V]
    shares : tuple of Share
        What each speaker gets, in their order. [-]
    quieter_db : float
        How much less power it takes than the least impedance allowed would; below 0 for one below that. [dB]
    cones_db : float or None
        Of like speakers: what several cones that move alike add over one with the same whole power, an estimate. [dB]
    turn_down_db : float
        How far the decoder must be turned down for every speaker to stay within its rating. [dB]
    verdict : {"fits", "turn down", "refused"}
        Whether the decoder may drive it, at full volume or turned down. [-]
    reasons : tuple of str
        Why, with numbers and what to do. [-]
    notes : tuple of str
        What was assumed, what is not judged, how much quieter it is. [-]

    References
    ----------
    Ohm's and Kirchhoff's laws by rated impedances; cones that move alike, close together against the wavelength: their
    pressures add (superposition, textbook acoustics, from memory).
    """

    speakers: tuple[RatedSpeaker, ...]
    wiring: Wiring
    output: AmpOutput
    impedance_ohm: float
    power_w: float | None
    clipping_v: float | None
    shares: tuple[Share, ...]
    quieter_db: float
    cones_db: float | None
    turn_down_db: float
    verdict: Verdict
    reasons: tuple[str, ...]
    notes: tuple[str, ...]

    @property
    def fits(self) -> bool:
        """Whether the decoder may drive it at full volume, as far as that is judged. [-]"""
        return self.verdict == "fits"

    @property
    def judged_whole(self) -> bool:
        """Whether every speaker's power could be held against its rating. [-]"""
        return all(share.within is not None for share in self.shares)

    @property
    def in_words(self) -> str:
        """The wiring in plain words: of several like speakers by how many, of others by their names. [-]"""
        return wiring_in_words(self.wiring, self.by_count)

    @property
    def by_count(self) -> bool:
        """Whether there are several speakers, all alike, so that it does not matter which stands where. [-]"""
        return len(self.speakers) > 1 and alike(self.speakers)

    @property
    def usable_w(self) -> float | None:
        """Whole power once turned down so that every speaker is within its rating. [W]"""
        return None if self.power_w is None else self.power_w * float(10 ** (-self.turn_down_db / 10))

    @property
    def level_db(self) -> float | None:
        """Usable power against 1 W, and what more like cones add: for comparing wirings of one set. [dB]"""
        usable = self.usable_w
        return None if usable is None else 10 * log10(usable) + (self.cones_db or 0.0)

    def share_of(self, name: str) -> float | None:
        """Return what one speaker gets with the largest unclipped sine.

        Parameters
        ----------
        name : str
            Its name. [-]

        Returns
        -------
        float or None
            Its power; None where that is not known or the load is refused. [W]

        Raises
        ------
        UnknownChoice
            If no speaker has that name.

        References
        ----------
        As `LoadCheck`.
        """
        for share in self.shares:
            if share.name == name:
                return share.power_w
        raise UnknownChoice("a speaker of this load", name, [share.name for share in self.shares])


def check_load(speakers: Sequence[RatedSpeaker], wiring: Wiring, output: AmpOutput) -> LoadCheck:
    """Return whether a decoder can drive speakers wired so, and what each gets.

    Parameters
    ----------
    speakers : sequence of RatedSpeaker
        The speakers. [-]
    wiring : Wiring
        How they are wired. [-]
    output : AmpOutput
        What the decoder's own sheet says. [-]

    Returns
    -------
    LoadCheck
        Verdict, reasons, impedance, powers. [-]

    Raises
    ------
    NotYetKnown
        If the least impedance of the decoder is not known.
    OutOfRange, UnknownChoice
        If the wiring does not hold each speaker once.

    References
    ----------
    As `LoadCheck`.

    Examples
    --------
    >>> from modelmath.sound.loads.speakers import several
    >>> from modelmath.sound.loads.wiring import in_parallel
    >>> two = several(RatedSpeaker("box", 8, 1), 2)
    >>> check = check_load(two, in_parallel("box 1", "box 2"), AmpOutput(least_ohm=8, power_w=1, at_ohm=8))
    >>> check.verdict, check.reasons[0]
    ('refused', '4.0 ohm is below the 8 ohm that the decoder drives at least: wire the two in series.')
    """
    speakers = tuple(speakers)
    ohms = ohms_by_name(wiring, speakers)
    if output.least_ohm is None:
        missing = "from the decoder's sheet the least speaker impedance that its sound output may drive"
        raise NotYetKnown("Whether the decoder can drive this load", missing)
    whole, parts = exact_impedance(wiring, ohms), exact_shares(wiring, ohms)
    allowed = in_range(whole, output)
    power, lacking = _power(output, whole)
    shares = tuple(_share(each, parts[each.name], power if allowed else None) for each in speakers)
    down = _turn_down(speakers, parts, power) if allowed and power is not None else Fraction(1)
    over = tuple(over_rating(share.name, share.power_w, share.rated_w) for share in shares if share.within is False)
    reasons = (within_reason(whole, output), *over) if allowed else (impedance_reason(speakers, whole, output),)
    cones = 20 * log10(sum(sqrt(part) for part in parts.values())) if alike(speakers) else None
    quieter = _quieter(output, output.least_ohm, whole)
    return LoadCheck(
        speakers=speakers,
        wiring=wiring,
        output=output,
        impedance_ohm=float(whole),
        power_w=float(power) if allowed and power is not None else None,
        clipping_v=None if power is None else output.clipping_v,
        shares=shares,
        quieter_db=quieter,
        cones_db=cones,
        turn_down_db=-10 * log10(down) if down < 1 else 0.0,
        verdict="refused" if not allowed else "turn down" if over else "fits",
        reasons=reasons,
        notes=notes_on(speakers, output, lacking, whole, quieter, cones) if allowed else (RATED_NOTE,),
    )


def _power(output: AmpOutput, ohm: Fraction) -> tuple[Fraction | None, str]:
    """Return the power into a load; where the sheet's figures lack, none and what is missing."""
    try:
        return output.exact_power(ohm), ""
    except NotYetKnown as error:
        return None, str(error)


def _share(speaker: RatedSpeaker, part: Fraction, power: Fraction | None) -> Share:
    """Return what a speaker gets, held against its rating in exact numbers."""
    own = None if power is None else power * part
    rated = speaker.kind[1]
    within = None if own is None or rated is None else own <= rated
    got, rating = (None if value is None else float(value) for value in (own, rated))
    return Share(speaker.name, float(part), got, rating, within)


def _turn_down(speakers: Sequence[RatedSpeaker], parts: Mapping[str, Fraction], power: Fraction) -> Fraction:
    """Return the part of the full power at which every speaker is within its rating."""
    rated = [(each.kind[1], parts[each.name] * power) for each in speakers]
    return min([Fraction(1), *(rating / own for rating, own in rated if rating is not None)])


def _quieter(output: AmpOutput, least: Amount, ohm: Fraction) -> float:
    """Return by how much less power a load takes than the least one allowed, as of a voltage source."""
    lowest = as_written(least)
    at_least, here = _power(output, lowest)[0], _power(output, ohm)[0]
    return 10 * log10(ohm / lowest if at_least is None or here is None else at_least / here)


def table_of_wirings(speakers: Sequence[RatedSpeaker], output: AmpOutput) -> tuple[LoadCheck, ...]:
    """Return every wiring of speakers checked, the best first, refused ones with their reason last.

    Those that fit at full volume come first, the loudest first; then those to be turned down, which may be louder but
    need a setting; then the refused ones, those nearest to what is allowed first. Loudest is by usable power, and for
    like speakers by what several cones add; where the power is not known, as from one voltage.

    Parameters
    ----------
    speakers : sequence of RatedSpeaker
        Up to six like ones, or four that are not all alike. [-]
    output : AmpOutput
        What the decoder's own sheet says. [-]

    Returns
    -------
    tuple of LoadCheck
        One for each wiring. [-]

    Raises
    ------
    NotYetKnown
        If the least impedance of the decoder is not known.
    OutOfRange
        If there are no speakers or too many, or two have one name.

    References
    ----------
    As `LoadCheck`.

    Examples
    --------
    >>> from modelmath.sound.loads.speakers import several
    >>> table = table_of_wirings(several(RatedSpeaker("box", 8, 1), 2), AmpOutput(least_ohm=8, power_w=1, at_ohm=8))
    >>> [(check.in_words, check.verdict) for check in table]
    [('two in series', 'fits'), ('two in parallel', 'refused')]
    """
    checks = [check_load(speakers, wiring, output) for wiring in wirings(speakers)]
    return tuple(sorted(checks, key=_place))


def _place(check: LoadCheck) -> tuple[int, float]:
    """Return where a wiring stands in the table; rounded, so that equals keep their order."""
    if check.verdict == "refused":
        least, most = check.output.least_ohm, float(check.output.most_ohm or check.impedance_ohm)
        assert least is not None  # nothing is judged without it
        beyond = log10(max(float(least) / check.impedance_ohm, check.impedance_ohm / most))
        return VERDICTS.index(check.verdict), round(beyond, 9)
    level = check.level_db
    loud = (check.cones_db or 0.0) - 10 * log10(check.impedance_ohm) if level is None else level
    return VERDICTS.index(check.verdict), round(-loud, 9)
