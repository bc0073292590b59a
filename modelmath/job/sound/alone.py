"""A speaker in a sealed chamber without a job: what the plan tells of its own, from a volume or three inside sizes."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from modelmath.job.sound.driven import Driven
from modelmath.job.sound.in_chamber import Curve, curve_of
from modelmath.job.sound.leaking import GAP_MM, Leaking, leaking_in
from modelmath.quantities.band import Band
from modelmath.sound.closed_box.box import ClosedBox, closed_box
from modelmath.sound.closed_box.stuffing import UNFILLED, Stuffing
from modelmath.sound.closed_box.valid import limits_in_words, lumped_limit_hz
from modelmath.sound.closed_box.wanted import wanted_in_words
from modelmath.sound.driver.completing import assumed, complete
from modelmath.sound.driver.driver import Driver
from modelmath.sound.leaks.leak import Leak, hole, open_back, slot

LARGER = (("half as large again", 1.5), ("twice as large", 2.0))
WALL_MM = 1.0  # common practice, no source


@dataclass(frozen=True)
class Inside:
    """A chamber by its inside.

    Attributes
    ----------
    volume_mm3 : Band
        Net volume. [mm3]
    sizes_mm : tuple of float or None
        Inside length, width and height, where they are known. [mm]
    longest_mm : float or None
        Longest inside length, where it is known and the sizes are not. [mm]

    References
    ----------
    None needed.
    """

    volume_mm3: Band
    sizes_mm: tuple[float, float, float] | None = None
    longest_mm: float | None = None


@dataclass(frozen=True)
class Openings:
    """What a chamber may leak through.

    Attributes
    ----------
    wall_mm : float
        Thickness of its walls. [mm]
    joint_mm : float or None
        Length of the joint to be sealed; None for the way round one end of the chamber. [mm]
    hole_mm : float or None
        Diameter of an open wire hole; None for none. [mm]

    References
    ----------
    None needed.
    """

    wall_mm: float = WALL_MM
    joint_mm: float | None = None
    hole_mm: float | None = None


@dataclass(frozen=True)
class Alone:
    """A speaker in a sealed chamber; each part is worked out when first asked for.

    Attributes
    ----------
    given : Driver
        The speaker as far as its parameters are entered. [-]
    inside : Inside
        The chamber. [mm3]
    driven : Driven
        Whether the decoder drives it. [-]
    stuffing : Stuffing
        What fills the chamber. [-]
    wanted_q : float or None
        The Qtc wished for. [-]
    openings : Openings
        What may leak. [mm]

    References
    ----------
    `closed_box`.
    """

    given: Driver
    inside: Inside
    driven: Driven
    stuffing: Stuffing = UNFILLED
    wanted_q: float | None = None
    openings: Openings = Openings()

    @cached_property
    def driver(self) -> Driver:
        """The speaker with what is missing derived or bounded. [-]"""
        return complete(self.given)

    @cached_property
    def assumed(self) -> tuple[str, ...]:
        """What was estimated, a sentence each; none where nothing was. [-]"""
        return assumed(self.driver)

    @cached_property
    def box(self) -> ClosedBox:
        """The speaker in the chamber, sealed. [-]"""
        return closed_box(self.driver, self.inside.volume_mm3, stuffing=self.stuffing)

    @property
    def twice_as_large(self) -> ClosedBox:
        """The speaker in a chamber twice as large. [-]"""
        return closed_box(self.driver, 2 * self.inside.volume_mm3.best, stuffing=self.stuffing)

    @property
    def longest_mm(self) -> float:
        """The chamber's longest inside length; where it is not known that of a cube, or the speaker's. [mm]"""
        if self.inside.sizes_mm is not None:
            return max(self.inside.sizes_mm)
        return self.inside.longest_mm or max(self._cube_mm, self.given.length_mm or 0.0)

    @property
    def longest_known(self) -> bool:
        """Whether that length was entered. [-]"""
        return self.inside.sizes_mm is not None or self.inside.longest_mm is not None

    @property
    def _cube_mm(self) -> float:
        """The edge of a cube of its volume."""
        return float(self.inside.volume_mm3.best ** (1 / 3))

    @property
    def valid_to_hz(self) -> float:
        """The frequency up to which the chamber may be taken as one spring of air. [Hz]"""
        return float(lumped_limit_hz(self.longest_mm))

    @property
    def limits(self) -> tuple[str, ...]:
        """Where the theory ends, a sentence each. [-]"""
        guessed = (
            "The chamber's longest inside length is not entered; the shortest that it may be is counted, that of a "
            "cube or of the speaker. In a longer chamber the theory ends lower."
        )
        return (*(() if self.longest_known else (guessed,)), limits_in_words(self.longest_mm))

    @cached_property
    def curve(self) -> Curve:
        """The -3 dB point against volume, with larger chambers marked on it. [mm3, Hz]"""
        here = self.inside.volume_mm3.best
        marked = [("this chamber", here), *((name, here * times) for name, times in LARGER)]
        return curve_of(self.driver, marked, self.stuffing)

    @property
    def wanted(self) -> str:
        """Which chamber the wanted Qtc takes, or why none gives it; empty where none is wanted. [-]"""
        if self.wanted_q is None:
            return ""
        return wanted_in_words(self.driver, self.wanted_q, self.inside.volume_mm3.best, stuffing=self.stuffing)

    @property
    def end_mm(self) -> tuple[float, float]:
        """Width and height of one end of the chamber; those of a cube where they are not known. [mm]"""
        sizes = self.inside.sizes_mm
        return (self._cube_mm, self._cube_mm) if sizes is None else (sizes[1], sizes[2])

    @cached_property
    def leaking(self) -> Leaking:
        """What leaks do, how tight is tight enough, and how to test it. [-]"""
        wide, high = self.end_mm
        wall = self.openings.wall_mm
        joint = self.openings.joint_mm or 2 * (wide + high)
        leaks: list[tuple[str, tuple[Leak, ...]]] = []
        if self.openings.hole_mm is not None:
            size = self.openings.hole_mm
            leaks.append((f"With a hole of {size:.3g} mm left open, nothing in it", (hole(size, wall),)))
        leaks.append((f"With a gap of {GAP_MM:g} mm along a joint of {joint:.3g} mm", (slot(joint, GAP_MM, wall),)))
        leaks.append(("With the back left open, no wall at all", (open_back(wide * high, wall),)))
        return leaking_in(self.box, leaks, joint, wall)

    @property
    def power(self) -> tuple[float, str] | None:
        """The power it is judged at and whose that is; None while neither power is known. [W]"""
        if self.driven.power_w is not None:
            one = self.driven.speakers[0].name if len(self.driven.speakers) > 1 else "it"
            return self.driven.power_w, f"what the decoder gives {one}"
        rated = self.given.known("power_w")
        return None if rated is None else (rated.value, "its rated power")

    @property
    def level_db(self) -> Band | None:
        """Its level at 1 m at that power, well above resonance; None while that is not known. [dB]"""
        if self.power is None:
            return None
        return self.box.loudness_db(self.power[0])
