"""Where the heat of lamps and decoder arises, how much warmer the shell and its air get, how hot a resistor gets."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from modelmath.errors import OutOfRange
from modelmath.light.feeding.amounts import Amount, as_band, banded, check_amount, total
from modelmath.light.feeding.limits import limit
from modelmath.light.feeding.loads import Load
from modelmath.quantities.band import Band
from modelmath.quantities.text import told

MM2_PER_M2 = 1e6
_NOT_IN_IT = (
    "An estimate: all power counts as heat; what wheels, frame and gaps carry off, and the motor, are not in it."
)


@dataclass(frozen=True)
class Heat:
    """Heat in a shell.

    Attributes
    ----------
    resistors_w : Band
        In the resistors. [W]
    lamps_w : Band
        In the lamps; what leaves as light is counted too. [W]
    decoder_w : Band or None
        In the decoder; None where it is not entered. [W]
    total_w : Band
        All that is known of it. [W]
    shell_rise_k : Band or None
        How much warmer than the room the shell's wall gets; None where its area is not given. [K]
    air_rise_k : Band or None
        How much warmer than the room the air in it gets. [K]

    References
    ----------
    As `heat_of`.
    """

    resistors_w: Band
    lamps_w: Band
    decoder_w: Band | None
    total_w: Band
    shell_rise_k: Band | None
    air_rise_k: Band | None

    @property
    def places(self) -> tuple[tuple[str, Band], ...]:
        """Where it arises, and how much there, as far as it is known. [W]"""
        found = [("resistors", self.resistors_w), ("lamps", self.lamps_w)]
        return (*found, ("decoder", self.decoder_w)) if self.decoder_w is not None else tuple(found)

    @property
    def in_words(self) -> str:
        """What that means, in sentences. [-]"""
        head = f"{banded(self.total_w, 'w')} become heat"
        lacking = "" if self.decoder_w is not None else "; the decoder's own heat is not entered"
        if self.air_rise_k is None:
            return f"{head}{lacking}. Without the shell's area nothing is said of how warm it gets."
        low, best, high = (f"{each:.2g}" for each in (self.air_rise_k.low, self.air_rise_k.best, self.air_rise_k.high))
        return f"{head}{lacking}. The air in the shell gets about {best} °C warmer ({low} to {high} °C). {_NOT_IN_IT}"


def heat_of(loads: Sequence[Load], decoder_w: Amount | None = None, shell_area_mm2: float | None = None) -> Heat:
    """Return the heat of lamps and decoder by place, and an estimate of how warm the shell gets.

    Parameters
    ----------
    loads : sequence of Load
        The lamps, all of them on. [-]
    decoder_w : Known, Band, float or None
        The decoder's heat; None where it is not entered. [W]
    shell_area_mm2 : float or None
        Outside of the shell that room air reaches; None where it is not known. [mm2]

    Returns
    -------
    Heat
        Watts by place, and the rise of wall and air.

    Raises
    ------
    WrongKind, OutOfRange
        If a figure is no plain number, is below 0 or not finite; an area of 0 too.

    Notes
    -----
    Wall over room: ``P / (h A)``. Air in the shell over wall: the same again, through a like film on the inside. The
    wall's own resistance is left out: 1.5 mm of styrene add about a tenth of a film's (from memory). All power counts
    as heat, which is on the safe side: a lamp's light leaves.

    References
    ----------
    Newton's law of cooling; h from data/feeding_limits.csv.

    Examples
    --------
    >>> heat = heat_of([Load.of("front", "white", 0.01, resistor_w=0.09, lamp_w=0.03)], 0.5, 20000)
    >>> round(heat.total_w.best, 2), round(heat.shell_rise_k.best, 1), round(heat.air_rise_k.best, 1)
    (0.62, 3.1, 6.2)
    """
    resistors, lamps = total(load.resistor_w for load in loads), total(load.lamp_w for load in loads)
    decoder = None if decoder_w is None else as_band("the decoder's heat", decoder_w, "W", zero=True)
    whole = total((resistors, lamps) if decoder is None else (resistors, lamps, decoder))
    if shell_area_mm2 is None:
        return Heat(resistors, lamps, decoder, whole, None, None)
    check_amount("the shell's area", shell_area_mm2, "mm2")
    film, area_m2 = limit("film"), float(shell_area_mm2) / MM2_PER_M2
    wall = Band(
        whole.best / (film.value * area_m2), whole.low / (film.high * area_m2), whole.high / (film.low * area_m2)
    )
    return Heat(resistors, lamps, decoder, whole, wall, Band(2 * wall.best, 2 * wall.low, 2 * wall.high))


@dataclass(frozen=True)
class ResistorHeat:
    """How hot a resistor gets, against what plastic bears.

    Attributes
    ----------
    power_w : float
        What becomes heat in it. [W]
    rating_w : float
        Its rating. [W]
    air_c : float
        The air round it. [degC]
    surface_c : float
        Its surface at most, by the line that its rating falls along. [degC]
    plastic_c : float
        What it should stay well below near plastic. [degC]

    References
    ----------
    As `resistor_heat`.
    """

    power_w: float
    rating_w: float
    air_c: float
    surface_c: float
    plastic_c: float

    @property
    def cool_enough(self) -> bool:
        """Whether it stays below what plastic bears. [-]"""
        return self.surface_c < self.plastic_c

    @property
    def in_words(self) -> str:
        """What that means, in a sentence or two. [-]"""
        head = f"Its surface may reach {self.surface_c:.0f} °C in air of {self.air_c:.0f} °C"
        if self.cool_enough:
            return f"{head}; plastic wants well under {self.plastic_c:.0f} °C."
        most = most_near_plastic_w(self.rating_w, self.air_c)
        advice = (
            f"Near plastic give it {told(most, 'w')} or less, or take one rated {told(self._rating_wanted_w(), 'w')}"
            if most
            else "The air itself is too warm for plastic"
        )
        return f"{head}; plastic wants well under {self.plastic_c:.0f} °C. {advice}."

    def _rating_wanted_w(self) -> float:
        return self.power_w * _line_k() / (self.plastic_c - self.air_c)


def resistor_heat(power_w: float, rating_w: float, air_c: float | None = None) -> ResistorHeat:
    """Return how hot a film or chip resistor gets at most, from the line that its rating falls along.

    Parameters
    ----------
    power_w : float
        What becomes heat in it. [W]
    rating_w : float
        Its rating. [W]
    air_c : float or None
        The air round it; None for that of a room. [degC]

    Returns
    -------
    ResistorHeat
        Its surface at most.

    Raises
    ------
    WrongKind, OutOfRange
        If a figure is no plain number or out of range; a power above the rating too.

    Notes
    -----
    A resistor bears its whole rating up to 70 degC and none at 155 degC: so the whole rating warms it by 85 K at most.
    That is its hottest place in free air; one on a board with wide copper stays cooler.

    References
    ----------
    IEC 60115-1, from memory: data/feeding_limits.csv.

    Examples
    --------
    >>> resistor_heat(0.05, 0.125, 25.0).surface_c
    59.0
    """
    check_amount("the heat in the resistor", power_w, "W", zero=True)
    check_amount("the resistor's rating", rating_w, "W")
    air = _air(air_c)
    if power_w > rating_w:
        remedy = "Take one with a higher rating, or share the heat between two."
        raise OutOfRange("the heat in the resistor", told(power_w, "w"), f"{told(rating_w, 'w')} or less", remedy)
    surface = air + power_w / rating_w * _line_k()
    return ResistorHeat(float(power_w), float(rating_w), air, surface, limit("plastic").value)


def most_near_plastic_w(rating_w: float, air_c: float | None = None) -> float:
    """Return the heat at which a resistor's surface just reaches what plastic bears.

    Parameters
    ----------
    rating_w : float
        Its rating. [W]
    air_c : float or None
        The air round it; None for that of a room. [degC]

    Returns
    -------
    float
        That heat, no more than the rating; 0 in air that is too warm itself. Stay well below it. [W]

    Raises
    ------
    WrongKind, OutOfRange
        If a figure is no plain number or out of range.

    References
    ----------
    As `resistor_heat`.

    Examples
    --------
    >>> round(most_near_plastic_w(0.25, 25.0), 3)
    0.103
    """
    check_amount("the resistor's rating", rating_w, "W")
    share = (limit("plastic").value - _air(air_c)) / _line_k()
    return rating_w * min(1.0, max(0.0, share))


def _air(air_c: float | None) -> float:
    if air_c is None:
        return limit("room").value
    check_amount("the air round the resistor", air_c, "°C", zero=True)
    return float(air_c)


def _line_k() -> float:
    """Return by how much its whole rating warms a resistor at most."""
    return limit("resistor_hottest").value - limit("resistor_full").value
