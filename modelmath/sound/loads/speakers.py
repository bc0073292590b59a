"""A speaker as a decoder's output sees it: its name, its rated impedance, its rated power."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from modelmath.errors import NotYetKnown, OutOfRange
from modelmath.quantities.known import Known
from modelmath.sound.driver.driver import Driver
from modelmath.sound.loads.amounts import Amount, as_written, check_amount


@dataclass(frozen=True)
class RatedSpeaker:
    """A speaker by what is printed on it.

    Attributes
    ----------
    name : str
        What it is called; each of a set has a name of its own. [-]
    impedance_ohm : float
        Rated impedance. [ohm]
    power_w : float or None
        Rated power; None where its sheet does not say. [W]

    References
    ----------
    IEC 60268-5 for rated impedance and rated power; from memory: within its range a speaker's impedance stays
    above 80 % of the rated value.

    Examples
    --------
    >>> RatedSpeaker("front", 8, 1)
    RatedSpeaker(name='front', impedance_ohm=8, power_w=1)
    """

    name: str
    impedance_ohm: Amount
    power_w: Amount | None = None

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise OutOfRange("the name of a speaker", "empty", "a word or two", "Write one such as front.")
        check_amount(f"the rated impedance of {self.name}", self.impedance_ohm, "ohm")
        if self.power_w is not None:
            check_amount(f"the rated power of {self.name}", self.power_w, "W")

    @classmethod
    def of_driver(cls, driver: Driver) -> RatedSpeaker:
        """Return the speaker that a driver's parameters describe.

        Parameters
        ----------
        driver : Driver
            The driver. [-]

        Returns
        -------
        RatedSpeaker
            With the best values of its ratings. [-]

        Raises
        ------
        NotYetKnown
            If its rated impedance is not known.

        References
        ----------
        None needed.

        Examples
        --------
        >>> RatedSpeaker.of_driver(Driver("rear", impedance_ohm=8)).power_w is None
        True
        """
        impedance, power = driver.impedance_ohm, driver.power_w
        if not isinstance(impedance, Known):
            raise NotYetKnown(f"The load of {driver.name}", "its rated impedance, printed on it or on its sheet")
        return cls(driver.name, impedance.value, power.value if isinstance(power, Known) else None)

    @property
    def kind(self) -> tuple[Fraction, Fraction | None]:
        """Its ratings, the same for like speakers. [ohm, W]"""
        return as_written(self.impedance_ohm), None if self.power_w is None else as_written(self.power_w)


def several(speaker: RatedSpeaker, count: int) -> tuple[RatedSpeaker, ...]:
    """Return like speakers, numbered.

    Parameters
    ----------
    speaker : RatedSpeaker
        One of them. [-]
    count : int
        How many. [-]

    Returns
    -------
    tuple of RatedSpeaker
        Each with its number behind the name. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> [each.name for each in several(RatedSpeaker("box", 8), 2)]
    ['box 1', 'box 2']
    """
    return tuple(replace(speaker, name=f"{speaker.name} {number}") for number in range(1, count + 1))


def check_names(speakers: Sequence[RatedSpeaker]) -> None:
    """Refuse no speakers at all, and two of one name.

    Parameters
    ----------
    speakers : sequence of RatedSpeaker
        The set. [-]

    Raises
    ------
    OutOfRange
        If there is none, or two have one name.

    References
    ----------
    None needed.

    Examples
    --------
    >>> check_names([RatedSpeaker("front", 8), RatedSpeaker("rear", 8)])
    """
    if not speakers:
        raise OutOfRange("the number of speakers", "0", "1 or more", "Name at least one speaker.")
    seen: set[str] = set()
    for speaker in speakers:
        if speaker.name in seen:
            given = f"{speaker.name} twice"
            raise OutOfRange("a set of speakers", given, "named apart", "Give each speaker a name of its own.")
        seen.add(speaker.name)


def alike(speakers: Sequence[RatedSpeaker]) -> bool:
    """Return whether all have the same ratings.

    Parameters
    ----------
    speakers : sequence of RatedSpeaker
        The set. [-]

    Returns
    -------
    bool
        True for a single one too. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> alike([RatedSpeaker("front", 8), RatedSpeaker("rear", 8.0)])
    True
    """
    return len({speaker.kind for speaker in speakers}) <= 1
