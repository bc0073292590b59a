"""Whether the decoder drives the plan's speaker, alone or with others, and every way to wire them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import permutations
from typing import TYPE_CHECKING

from modelmath.errors import ModelMathError, NotYetKnown, UnknownChoice
from modelmath.sound.loads.check import LoadCheck, table_of_wirings
from modelmath.sound.loads.decoder import AmpOutput
from modelmath.sound.loads.naming import listed, wiring_in_words
from modelmath.sound.loads.speakers import RatedSpeaker
from modelmath.sound.loads.tree import Series, Single, Wiring

if TYPE_CHECKING:
    from modelmath.job.plan import Plan

MOST_ORDERS = 4  # speakers whose names may stand in any order: 24 of them


@dataclass(frozen=True)
class Driven:
    """Whether the decoder drives the speakers.

    Attributes
    ----------
    speakers : tuple of RatedSpeaker
        The plan's own first. [ohm, W]
    wirings : tuple of LoadCheck
        Every way to wire them, the best first, those refused last with their reason. [-]
    chosen : LoadCheck or None
        The one the job names, or the best; None while something is missing. [-]
    missing : ModelMathError or None
        What is still to be entered; None where nothing is. [-]
    """

    speakers: tuple[RatedSpeaker, ...] = ()
    wirings: tuple[LoadCheck, ...] = ()
    chosen: LoadCheck | None = None
    missing: ModelMathError | None = None

    @property
    def power_w(self) -> float | None:
        """What the plan's own speaker gets at most, so wired; None while that is not known. [W]"""
        chosen = self.chosen
        if chosen is None or chosen.usable_w is None:
            return None
        own = next(each for each in chosen.shares if each.name == self.speakers[0].name)
        return chosen.usable_w * own.part


def driven_of(plan: Plan) -> Driven:
    """Work out whether the decoder drives the plan's speakers.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    Driven
        With what is missing, where something is. [-]

    References
    ----------
    `table_of_wirings`.
    """
    sounds = plan.bench.sounds
    driver = sounds.driver
    speakers = () if driver is None or driver.impedance_ohm is None else (RatedSpeaker.of_driver(driver), *sounds.also)
    return driven_by(speakers, sounds.output, plan.job.sound.wiring)


def driven_by(speakers: Sequence[RatedSpeaker], output: AmpOutput | None, wiring: str | None = None) -> Driven:
    """Work out whether a decoder drives some speakers.

    Parameters
    ----------
    speakers : sequence of RatedSpeaker
        The speakers, the one asked about first; none while its impedance is not known. [ohm, W]
    output : AmpOutput or None
        The decoder's sound output, as far as it is entered. [-]
    wiring : str or None
        Which of the wirings, by its words or "series" or "parallel"; None for the best. [-]

    Returns
    -------
    Driven
        With what is missing, where something is. [-]

    References
    ----------
    `table_of_wirings`.

    Examples
    --------
    >>> driven_by([RatedSpeaker("front", 8)], AmpOutput(least_ohm=4)).chosen.verdict
    'fits'
    """
    if not speakers:
        return Driven(missing=NotYetKnown("Whether the decoder drives it", "the speaker's rated impedance"))
    speakers = tuple(speakers)
    if output is None:
        missing = NotYetKnown("Whether the decoder drives it", "the least impedance on the decoder's own sheet")
        return Driven(speakers, missing=missing)
    try:
        found = table_of_wirings(speakers, output)
    except ModelMathError as reason:
        return Driven(speakers, missing=reason)
    if wiring is None:
        return Driven(speakers, found, found[0])
    named = _named(found, wiring)
    if named is None:
        return Driven(speakers, found, missing=UnknownChoice("the wiring", wiring, [each.in_words for each in found]))
    return Driven(speakers, found, named)


def _named(found: Sequence[LoadCheck], wiring: str) -> LoadCheck | None:
    """Return the wiring that some words mean: its own, else by names or by how many, if that is one alone."""
    words = _plain(wiring)
    own = [each for each in found if each.in_words == wiring]  # names may differ in case alone
    own = own or [each for each in found if _plain(each.in_words) == words]
    meant = own or [each for each in found if words in _other_words(each.wiring)]
    return meant[0] if len(meant) == 1 else None


def _other_words(wiring: Wiring) -> set[str]:
    words = {wiring_in_words(wiring), wiring_in_words(wiring, by_count=True)}
    if not isinstance(wiring, Single) and all(isinstance(part, Single) for part in wiring.parts):
        joint = "series" if isinstance(wiring, Series) else "parallel"
        words |= {joint, f"in {joint}", f"all in {joint}"}
        if len(wiring.names) <= MOST_ORDERS:
            words |= {f"{listed(order)} in {joint}" for order in permutations(wiring.names)}
    return {_plain(each) for each in words}


def _plain(words: str) -> str:
    return " ".join(words.casefold().split())
