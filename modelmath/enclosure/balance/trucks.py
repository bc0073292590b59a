"""What lies on each of two trucks, by levers."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from modelmath.enclosure.balance.masses import Mass, best, check_finite, grams, where
from modelmath.errors import OutOfRange
from modelmath.lengths.text import format_length

SURE_U = 2  # standard uncertainties that a load must lie above 0 for a model to stand for sure


@dataclass(frozen=True)
class Support:
    """One of the two places a model stands on: a truck at its pivot, or an outer axle of a rigid frame.

    Attributes
    ----------
    name : str
        What it is called. [-]
    at_mm : number or uncertain number
        Its place, from the fore-aft mark, positive to the rear. [mm]
    axles : int
        How many axles share its load alike. [-]
    driven_axles : int
        How many of them the motor drives. [-]
    """

    name: str
    at_mm: Any
    axles: int = 2
    driven_axles: int = 0

    def __post_init__(self) -> None:
        check_finite(f"{self.name}: place", self.at_mm, "mm", "-15")
        if self.axles < 1:
            raise OutOfRange(f"{self.name}: axles", str(self.axles), "1 or more", "Count the axles it stands on.")
        if not 0 <= self.driven_axles <= self.axles:
            given, expected = str(self.driven_axles), f"0 to {self.axles}, the axles it has"
            raise OutOfRange(f"{self.name}: driven axles", given, expected, "Count those that the motor turns.")


@dataclass(frozen=True)
class Loads:
    """What lies on each truck.

    Attributes
    ----------
    front, rear : Support
        The trucks. [mm]
    front_g, rear_g : number or uncertain number
        Load on each; below 0 where only a hand would hold that end down. [g]
    """

    front: Support
    rear: Support
    front_g: Any
    rear_g: Any

    @property
    def total_g(self) -> Any:
        """What the whole model weighs. [g]"""
        return self.front_g + self.rear_g

    @property
    def front_share(self) -> Any:
        """Part of the weight that lies on the front truck. [-]"""
        return self.front_g / self.total_g

    @property
    def rear_share(self) -> Any:
        """Part of the weight that lies on the rear truck. [-]"""
        return self.rear_g / self.total_g

    @property
    def centre_mm(self) -> Any:
        """Centre of gravity, from the fore-aft mark, positive to the rear. [mm]"""
        return self.front.at_mm + self.rear_share * (self.rear.at_mm - self.front.at_mm)

    @property
    def driven_g(self) -> Any:
        """What lies on driven wheels, an end's load shared alike by its axles. [g]"""
        driven = ((self.front, self.front_g), (self.rear, self.rear_g))
        return sum(load * truck.driven_axles / truck.axles for truck, load in driven)

    @property
    def driven_share(self) -> Any:
        """Part of the weight that lies on driven wheels. [-]"""
        return self.driven_g / self.total_g

    @property
    def tips_over(self) -> Support | None:
        """The truck it tips over, its centre of gravity beyond it; None where it stands."""
        if best(self.front_g) < 0:
            return self.rear
        return self.front if best(self.rear_g) < 0 else None

    @property
    def standing(self) -> str:
        """Whether it stands: empty where it does for sure, else what happens, or may."""
        for truck, lifts, load in ((self.rear, self.front, self.front_g), (self.front, self.rear, self.rear_g)):
            if best(load) < 0:
                side = "behind" if truck is self.rear else "ahead of"
                out = self.centre_mm - truck.at_mm if truck is self.rear else truck.at_mm - self.centre_mm
                return (
                    f"It tips over: its centre of gravity lies {format_length(out, 'mm')} {side} the {truck.name}, "
                    f"outside the wheelbase, so that the {lifts.name} lifts off."
                )
            if best(load) <= SURE_U * float(getattr(load, "std_dev", 0.0)):
                return f"It may tip over: only {grams(load)} lie on the {lifts.name}."
        return ""

    @property
    def in_words(self) -> str:
        """Both loads with their shares, and the centre of gravity, in one sentence."""
        front = f"{grams(self.front_g)} ({percent(self.front_share)}) on the {self.front.name}"
        rear = f"{grams(self.rear_g)} ({percent(self.rear_share)}) on the {self.rear.name}"
        return f"{front}, {rear}; centre of gravity {where(self.centre_mm)}"


def percent(share: Any) -> str:
    """Write a share.

    Parameters
    ----------
    share : number or uncertain number
        A part of 1. [-]

    Returns
    -------
    str
        In percent, its best value to a tenth. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> percent(0.5), percent(1 / 3)
    ('50.0 %', '33.3 %')
    """
    return f"{100 * best(share):.1f} %"


def check_wheelbase(front: Support, rear: Support) -> None:
    """Refuse two trucks that stand at one place, or the wrong way round.

    Parameters
    ----------
    front, rear : Support
        The trucks. [mm]

    Raises
    ------
    OutOfRange
        If the rear one does not stand behind the front one.

    References
    ----------
    None needed.

    Examples
    --------
    >>> check_wheelbase(Support("front truck", -40), Support("rear truck", 40))
    """
    apart = best(rear.at_mm) - best(front.at_mm)
    if not apart > 0:
        given = f"{apart:.2f} mm behind the {front.name}"
        remedy = "Places count from the fore-aft mark, positive to the rear."
        raise OutOfRange(f"the {rear.name}", given, "more than 0 mm behind it", remedy)


def loads(masses: Iterable[Mass], front: Support, rear: Support) -> Loads:
    """Return what lies on each of two trucks.

    Parameters
    ----------
    masses : iterable of Mass
        All that the model is made of: pieces at their own places, or the load of each truck at the truck. [g]
    front, rear : Support
        The trucks. [mm]

    Returns
    -------
    Loads
        As uncertain as masses and places. [g]

    Raises
    ------
    OutOfRange
        If the trucks are the wrong way round, or nothing is left that weighs.

    References
    ----------
    Law of the lever: moments about either truck add to 0; textbook statics.

    Examples
    --------
    >>> found = loads([Mass("model", 100, 10)], Support("front truck", 0), Support("rear truck", 40))
    >>> found.front_g, found.rear_g
    (75.0, 25.0)
    """
    check_wheelbase(front, rear)
    pieces = tuple(masses)
    total = sum((piece.mass_g for piece in pieces), 0)
    if not best(total) > 0:
        remedy = "Weigh the model, its ends on their trucks, and check what is taken off."
        raise OutOfRange("the weight of the model", f"{best(total):.1f} g", "above 0", remedy)
    moment = sum((piece.mass_g * (piece.at_mm - front.at_mm) for piece in pieces), 0)
    on_rear = moment / (rear.at_mm - front.at_mm)
    return Loads(front, rear, total - on_rear, on_rear)
