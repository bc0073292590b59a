"""Plugs between shell and chassis: which wires cross, how many contacts that takes, and what a contact must bear."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil
from typing import Literal, cast, get_args

from modelmath.errors import OutOfRange, UnknownChoice, WrongKind
from modelmath.lengths.numbers import Number
from modelmath.light.feeding.amounts import SAME, Amount, as_band, beside, check_amount, total
from modelmath.light.feeding.loads import Load, check_name
from modelmath.light.feeding.sheet import same_name
from modelmath.light.feeding.words import counted
from modelmath.quantities.band import Band
from modelmath.quantities.known import Known
from modelmath.quantities.text import told

Side = Literal["shell", "chassis"]
SIDES: tuple[Side, ...] = get_args(Side)
# What has two wires to the decoder, and how each wire is called.
TWO_WIRES = {
    "speaker": ("speaker +", "speaker -"),
    "motor": ("motor +", "motor -"),
    "pickups": ("left rail", "right rail"),
    "keep-alive": ("keep-alive +", "keep-alive -"),
}


@dataclass(frozen=True)
class Plug:
    """A plug, as the user has it.

    Attributes
    ----------
    name : str
        What it is called. [-]
    poles : int
        How many contacts it has. [-]
    most_a : Known, float or None
        Most current of one contact; None where it is not entered. [A]
    length_mm, width_mm, height_mm : Fraction, float or None
        Its size with the halves together; None where it is not entered. [mm]

    Raises
    ------
    WrongKind, OutOfRange, UnreadableLength
        If a figure is no plain number above 0, the poles are no whole number, or it has no name.

    References
    ----------
    The user's own sheet.

    Examples
    --------
    >>> Plug("four-way", 4, most_a=1.0).poles
    4
    """

    name: str
    poles: int
    most_a: Known | float | None = None
    length_mm: Number | None = None
    width_mm: Number | None = None
    height_mm: Number | None = None

    def __post_init__(self) -> None:
        check_name("a plug", self.name)
        if isinstance(self.poles, bool) or not isinstance(self.poles, int):
            raise WrongKind(f"the poles of '{self.name}'", repr(self.poles), "a whole number", "Count its contacts.")
        if self.poles < 1:
            raise OutOfRange(f"the poles of '{self.name}'", str(self.poles), "1 or more", "Count its contacts.")
        if self.most_a is not None:
            as_band(f"the most current of a contact of '{self.name}'", self.most_a, "A")
        for field in ("length_mm", "width_mm", "height_mm"):
            if (value := getattr(self, field)) is not None:
                check_amount(f"the {field.removesuffix('_mm')} of '{self.name}'", value, "mm")


@dataclass(frozen=True)
class Crossing:
    """A wire that crosses between shell and chassis.

    Attributes
    ----------
    name : str
        What it is. [-]
    current_a : Band or None
        What flows in it; None where that is not entered. [A]
    """

    name: str
    current_a: Band | None = None


def crossings(
    loads: Sequence[Load],
    decoder_in: Side,
    *,
    lamps_in: Side | Mapping[str, Side] = "shell",
    speaker_in: Side | None = None,
    motor_in: Side | None = None,
    pickups_in: Side | None = None,
    keep_alive_in: Side | None = None,
    currents_a: Mapping[str, Amount] | None = None,
) -> tuple[Crossing, ...]:
    """Return the wires that cross between shell and chassis.

    What is not on the decoder's side crosses: lamps with their common wire and one for each output, all else with two.

    Parameters
    ----------
    loads : sequence of Load
        The lamps. [-]
    decoder_in : {"shell", "chassis"}
        Where the decoder is. [-]
    lamps_in : {"shell", "chassis"} or mapping of str to such
        Where the lamps are, all of them or by name; a lamp that is not in the mapping is in the shell. [-]
    speaker_in, motor_in, pickups_in, keep_alive_in : {"shell", "chassis"} or None
        Where those are; None where there is none. [-]
    currents_a : mapping of str to Known, Band or float
        Their currents, by speaker, motor, pickups and keep-alive, as far as they are known. [A]

    Returns
    -------
    tuple of Crossing
        Each wire, with its current where known.

    Raises
    ------
    UnknownChoice
        If a place is neither shell nor chassis, a current is of none of those, or the mapping names a lamp that is
        not there.
    WrongKind, OutOfRange
        If a current is no plain number, or below 0.

    References
    ----------
    Kirchhoff's current law: the common wire carries what all outputs that cross carry.

    Examples
    --------
    >>> lamps = [Load.of("front", "white", 0.01), Load.of("cab", "green", 0.002)]
    >>> [wire.name for wire in crossings(lamps, "chassis", speaker_in="shell")]
    ['lamps, common', "output 'white'", "output 'green'", 'speaker +', 'speaker -']
    """
    _check_side("where the decoder is", decoder_in)
    sides = _places(loads, lamps_in)
    found = _lamp_wires([load for load, side in zip(loads, sides, strict=True) if side != decoder_in])
    places = dict(zip(TWO_WIRES, (speaker_in, motor_in, pickups_in, keep_alive_in), strict=True))
    known = currents_a or {}
    for what in known:
        if what not in TWO_WIRES:
            raise UnknownChoice("whose current it is", what, tuple(TWO_WIRES))
    for what, side in places.items():
        if side is not None and _check_side(f"where the {what} is", side) != decoder_in:
            current = as_band(f"the current of the {what}", known[what], "A", zero=True) if what in known else None
            found += [Crossing(wire, current) for wire in TWO_WIRES[what]]
    return tuple(found)


def _check_side(name: str, side: Side) -> Side:
    if side not in SIDES:
        raise UnknownChoice(name, str(side), SIDES)
    return side


def _places(loads: Sequence[Load], lamps_in: Side | Mapping[str, Side]) -> list[Side]:
    """Return where each lamp is."""
    if isinstance(lamps_in, str):
        return [_check_side("where the lamps are", lamps_in)] * len(loads)
    names = [load.name for load in loads]
    for name in lamps_in:
        if name not in names:
            raise UnknownChoice("a lamp that has a place", name, names)
    return [_check_side(f"where '{name}' is", lamps_in.get(name, "shell")) for name in names]


def _lamp_wires(crossing: Sequence[Load]) -> list[Crossing]:
    """Return the common wire, one for each output, and one for each lamp that has none yet."""
    if not crossing:
        return []
    by_output: list[tuple[str, list[Load]]] = []
    for load in crossing:
        same = next(
            (found for name, found in by_output if load.output is not None and same_name(name, load.output)), None
        )
        if same is not None:
            same.append(load)
        else:
            by_output.append((load.output or "", [load]))
    common = Crossing("lamps, common", total(load.current_a for load in crossing))
    single = [
        Crossing(f"output '{name}'" if name else f"'{found[0].name}'", total(load.current_a for load in found))
        for name, found in by_output
    ]
    return [common, *single]


@dataclass(frozen=True)
class Contacts:
    """Contacts that are needed between shell and chassis, against those of the plugs.

    Attributes
    ----------
    wires : tuple of Crossing
        The wires that cross. [-]
    needed : int
        Contacts: one for each wire, more where one does not bear its current. [-]
    there : int
        Contacts that the plugs have. [-]
    faults : tuple of str
        What lacks or is too much, by how much, and what to do. [-]
    notes : tuple of str
        What is not entered and so not judged. [-]
    """

    wires: tuple[Crossing, ...]
    needed: int
    there: int
    faults: tuple[str, ...]
    notes: tuple[str, ...]

    @property
    def over_by(self) -> int:
        """How many contacts lack. [-]"""
        return max(0, self.needed - self.there)

    @property
    def spare(self) -> int:
        """How many contacts are left. [-]"""
        return max(0, self.there - self.needed)

    @property
    def in_words(self) -> str:
        """What that means, in a sentence. [-]"""
        if not self.wires:
            return "No wire crosses between shell and chassis."
        crosses, takes = ("crosses", "takes") if len(self.wires) == 1 else ("cross", "take")
        head = f"{counted(len(self.wires), 'wire')} {crosses} between shell and chassis and {takes}"
        if not self.there:
            return f"{head} {counted(self.needed, 'contact')}; no plug is entered."
        end = f"{self.over_by} too few" if self.over_by else f"{self.spare} to spare"
        return f"{head} {counted(self.needed, 'contact')}; the plugs have {self.there}: {end}."


def contacts(wires: Sequence[Crossing], plugs: Sequence[Plug] = ()) -> Contacts:
    """Return how many contacts wires that cross take, and by how many that is more than the plugs have.

    Parameters
    ----------
    wires : sequence of Crossing
        The wires that cross. [-]
    plugs : sequence of Plug
        The plugs between shell and chassis; any wire may go through any of them. [-]

    Returns
    -------
    Contacts
        Needed and there, with faults in words.

    Notes
    -----
    Where plugs differ, the contact that bears least counts for all. Contacts side by side do not share alike: count on
    less than their sum.

    References
    ----------
    The user's own sheets; contacts side by side: common practice, no source.

    Examples
    --------
    >>> wires = [Crossing("speaker +"), Crossing("speaker -"), Crossing("lamps, common")]
    >>> found = contacts(wires, [Plug("two-way", 2)])
    >>> found.needed, found.over_by
    (3, 1)
    """
    limits = [as_band("the most current", plug.most_a, "A").low for plug in plugs if plug.most_a is not None]
    most = min(limits) if limits else None
    each = [_contacts_of(wire, most) for wire in wires]
    needed, there = sum(each), sum(plug.poles for plug in plugs)
    faults = [_over_one(wire, count, most) for wire, count in zip(wires, each, strict=True) if count > 1 and most]
    if plugs and needed > there:
        short = needed - there
        faults.append(
            f"{counted(needed, 'contact')} are needed and the plugs have {there}: {short} too few. Take another plug, "
            "move the decoder to the other side, or let lamps share an output."
        )
    return Contacts(tuple(wires), needed, there, tuple(faults), _unjudged(wires, plugs))


def _contacts_of(wire: Crossing, most_a: float | None) -> int:
    if wire.current_a is None or most_a is None:
        return 1
    return max(1, ceil((wire.current_a.high - SAME) / most_a))


def _over_one(wire: Crossing, count: int, most_a: float) -> str:
    high = cast(Band, wire.current_a).high  # known: a wire of unknown current takes one contact
    name = wire.name[0].upper() + wire.name[1:]
    return (
        f"{name} carries up to {beside(high, most_a, 'a')} and a contact {beside(most_a, high, 'a')}: "
        f"{told(high - most_a, 'a')} too much for one. Give it {count} contacts side by side, with some to spare, "
        "or a plug that bears it."
    )


def _unjudged(wires: Sequence[Crossing], plugs: Sequence[Plug]) -> tuple[str, ...]:
    found = [f"The most current of a contact of '{plug.name}' is not entered." for plug in plugs if plug.most_a is None]
    if plugs and (unknown := [wire.name for wire in wires if wire.current_a is None]):
        found.append(f"Not entered, so not judged: the current of {', '.join(unknown)}.")
    return tuple(found)
