"""Which speaker: others and other seats over the same cavity, with the chamber each leaves and how that sounds."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from modelmath.enclosure import Speaker, assemble
from modelmath.enclosure.bodies import FACES
from modelmath.enclosure.fit import Refit
from modelmath.enclosure.net import net_volume
from modelmath.errors import DoesNotFit, ModelMathError, OutOfRange, UnknownChoice
from modelmath.job.bench.layout import cavity_of
from modelmath.job.space.net import passing_of
from modelmath.sound.closed_box.box import ClosedBox, closed_box
from modelmath.sound.closed_box.stuffing import stuffing
from modelmath.sound.loads.check import check_load
from modelmath.sound.loads.speakers import RatedSpeaker
from modelmath.sound.loads.wiring import Single

if TYPE_CHECKING:
    from modelmath.enclosure import Cavity
    from modelmath.job.plan import Plan
    from modelmath.sound.driver.driver import Driver

MOST_WORK = 10_000_000  # some ten seconds where nothing fits; a usual shell with eight speakers takes a tenth of that
# What the user may rank by, and whether less is better.
RANKS = {"lowest -3 dB point": False, "loudest": True, "largest chamber": True, "flattest": False}


@dataclass(frozen=True)
class Seat:
    """One way a speaker may sit.

    Attributes
    ----------
    faces : {"down", "up", "front", "rear"}
        Where it sounds to. [-]
    turned : bool
        Whether it is turned by a quarter. [-]
    """

    faces: str
    turned: bool = False

    @property
    def in_words(self) -> str:
        """How it sits, in words."""
        to = self.faces if self.faces in ("down", "up") else f"to the {self.faces}"
        return f"facing {to}{', turned by a quarter' if self.turned else ''}"


SEATS = tuple(Seat(faces) for faces in FACES)


@dataclass(frozen=True)
class Compared:
    """One speaker in one seat.

    Attributes
    ----------
    name : str
        The speaker. [-]
    own : bool
        Whether it is the plan's own. [-]
    seat : Seat
        How it sits. [-]
    volume_mm3 : float or None
        Net volume of the chamber it leaves; None where it does not fit. [mm3]
    box : ClosedBox or None
        What it sounds like there; None where it does not fit, or its parameters can't be bounded. [-]
    why_not : str
        Why it does not fit, or can't be worked out; empty where it can. [-]
    load : str
        Whether the decoder drives it alone, in words. [-]
    """

    name: str
    own: bool
    seat: Seat
    volume_mm3: float | None
    box: ClosedBox | None
    why_not: str = ""
    load: str = ""

    def score(self, rank: str) -> float:
        """Return what it is ranked by, the less the better.

        Parameters
        ----------
        rank : str
            One of `RANKS`. [-]

        Returns
        -------
        float
            Infinite where it does not fit. [-]

        Raises
        ------
        UnknownChoice
            If there is no such ranking.

        References
        ----------
        None needed.
        """
        if rank not in RANKS:
            raise UnknownChoice("what to rank by", rank, tuple(RANKS))
        if self.box is None or self.volume_mm3 is None:
            return float("inf")
        value = {
            "lowest -3 dB point": self.box.f3_hz.best,
            "loudest": self.box.loudness_db(1).best,
            "largest chamber": self.volume_mm3,
            "flattest": self.box.peak_db.best,
        }[rank]
        return -value if RANKS[rank] else value


@dataclass(frozen=True)
class Comparison:
    """Speakers and seats over the same cavity.

    Attributes
    ----------
    rows : tuple of Compared
        Every speaker in every seat. [-]
    """

    rows: tuple[Compared, ...]

    def ranked(self, rank: str = "lowest -3 dB point") -> tuple[Compared, ...]:
        """Return the rows, the best first; what does not fit comes last.

        Parameters
        ----------
        rank : str
            One of `RANKS`. [-]

        Returns
        -------
        tuple of Compared
            The rows. [-]

        Raises
        ------
        UnknownChoice
            If there is no such ranking.

        References
        ----------
        None needed.
        """
        return tuple(sorted(self.rows, key=lambda each: each.score(rank)))

    @property
    def alike(self) -> tuple[str, ...]:
        """Speakers whose -3 dB point, as far as it is known, can't be told apart from that of the best. [-]"""
        best, *others = self.of_each
        if best.box is None:
            return ()
        f3 = best.box.f3_hz
        near = [each.name for each in others if each.box is not None and each.box.f3_hz.low <= f3.high]
        return (best.name, *near) if near else ()

    @property
    def of_each(self) -> tuple[Compared, ...]:
        """Of each speaker its best seat, by the lowest -3 dB point; the best speaker first. [-]"""
        found: dict[str, Compared] = {}
        for each in self.ranked():
            found.setdefault(each.name, each)
        return tuple(found.values())


def compare(plan: Plan, seats: Sequence[Seat] = SEATS) -> Comparison | None:
    """Compare the plan's own speaker and those of its choices, in every seat, over the same cavity.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    seats : sequence of Seat
        The seats to look at. [-]

    Returns
    -------
    Comparison or None
        None while the cavity or the speakers are not known. [-]

    Raises
    ------
    OutOfRange
        If there is more to try than somebody would wait for.

    References
    ----------
    `fit_enclosure`, `closed_box`.
    """
    cavity = cavity_of(plan.bench)
    sounds = plan.bench.sounds
    speakers = [(plan.bench.speaker, sounds.driver, True), *((body, driver, False) for body, driver in sounds.choices)]
    known = [(body, driver, own) for body, driver, own in speakers if body is not None and driver is not None]
    if cavity is None or not known:
        return None
    check_work(len(known), len(seats), len(cavity.zones), len(cavity.obstacles))
    return Comparison(tuple(_rows(plan, cavity, known, seats)))


def check_work(speakers: int, seats: int, zones: int, obstacles: int) -> None:
    """Refuse what can't be compared while somebody waits.

    Where a speaker doesn't fit, every run of stretches is looked at to say by how much.

    Parameters
    ----------
    speakers, seats : int
        How many, and in how many ways each sits. [-]
    zones, obstacles : int
        Of the cavity. [-]

    Raises
    ------
    OutOfRange
        If there are too many.

    References
    ----------
    None needed: our choice.

    Examples
    --------
    >>> check_work(9, 4, 10, 8)
    """
    each = seats * (zones + 2 * obstacles) ** 3
    if speakers * each > MOST_WORK:
        counted = "1 speaker" if speakers == 1 else f"{speakers} speakers"
        given = f"of {counted} over {zones} zones with {obstacles} things standing there"
        most = f"of {MOST_WORK // each} or fewer" if each <= MOST_WORK else "over fewer zones and things"
        raise OutOfRange("the comparison", given, most, "Leave some out of the list, or join zones that are alike.")


def _rows(
    plan: Plan, cavity: Cavity, speakers: Sequence[tuple[Speaker, Driver, bool]], seats: Sequence[Seat]
) -> Iterator[Compared]:
    refit = Refit()
    for body, driver, own in speakers:
        load = _load(plan, driver)
        for seat in seats:
            yield replace(_compared(plan, cavity, refit, seated(body, seat), driver, own, seat), load=load)


def _load(plan: Plan, driver: Driver) -> str:
    """Return whether the decoder drives a speaker alone."""
    impedance, output = driver.known("impedance_ohm"), plan.bench.sounds.output
    if impedance is None:
        return "its impedance is not known"
    rated = f"{impedance.value:g} ohm"
    if output is None:
        return rated
    speaker = RatedSpeaker.of_driver(driver)
    try:
        found = check_load((speaker,), Single(speaker.name), output)
    except ModelMathError:
        return rated
    return f"{rated}, {'fits' if found.fits else found.verdict}"


def seated(speaker: Speaker, seat: Seat) -> Speaker:
    """Return a speaker that sits another way.

    Parameters
    ----------
    speaker : Speaker
        The speaker, as it lies along the shell. [mm]
    seat : Seat
        How it is to sit. [-]

    Returns
    -------
    Speaker
        The same, so seated. [mm]

    References
    ----------
    None needed.
    """
    turned = replace(speaker, faces=seat.faces)  # type: ignore[arg-type]
    if not seat.turned:
        return turned
    return replace(
        turned,
        length_mm=turned.width_mm,
        width_mm=turned.length_mm,
        basket_length_mm=turned.basket_width_mm,
        basket_width_mm=turned.basket_length_mm,
    )


def _compared(
    plan: Plan, cavity: Cavity, refit: Refit, speaker: Speaker, driver: Driver, own: bool, seat: Seat
) -> Compared:
    try:
        enclosure = refit.enclosure(cavity, plan.limits, speaker, plan.bench.decoder)
        chamber = enclosure.as_cut(plan.marks)
        parts = assemble.parts_of(enclosure, chamber, plan.marks)
        decoder = plan.bench.decoder
        found = net_volume(chamber, speaker, parts, plan.limits, passing_of(plan), decoder=decoder)
    except DoesNotFit as miss:
        return Compared(driver.name, own, seat, None, None, f"{miss.short_mm:.2f} mm too little: {miss.cause}")
    except ModelMathError as reason:
        return Compared(driver.name, own, seat, None, None, str(reason))
    volume = float(Fraction(found.net_mm3))
    try:
        box = closed_box(driver, volume, stuffing=stuffing(plan.job.sound.stuffing))
    except ModelMathError as reason:
        return Compared(driver.name, own, seat, volume, None, str(reason))
    return Compared(driver.name, own, seat, volume, box)
