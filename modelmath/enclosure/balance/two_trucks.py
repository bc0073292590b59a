"""How the balance of a model on two trucks changes, and what weight where would put it right."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Literal

from modelmath.enclosure.balance.masses import Mass, best, check_finite, grams, where
from modelmath.enclosure.balance.recommended import RecommendedWeight
from modelmath.enclosure.balance.trucks import Loads, Support, check_wheelbase, loads, percent
from modelmath.errors import OutOfRange, UnknownChoice, WrongKind
from modelmath.lengths.text import format_length

Aim = Literal["as before", "level"]
AIMS: tuple[Aim, ...] = ("as before", "level")
NOTICED_MM = 0.005  # a shift below this shows as 0.00 mm
NOTICED_G = 0.05  # a mass below this shows as 0.0 g


@dataclass(frozen=True)
class Balance:
    """The balance of a model on two trucks, before and after it was worked on.

    Attributes
    ----------
    front, rear : Support
        The trucks, or the outer axles of a rigid frame. [mm]
    before : tuple of Mass
        The model before: one mass at its centre of gravity, or the load of each truck at the truck. [g]
    changes : tuple of Mass
        What is trimmed, below 0, and what is put in. [g]
    recommended : RecommendedWeight or None
        What a car of its length should weigh; None where that is not known. Only an unpowered model has one. [g]
    """

    front: Support
    rear: Support
    before: tuple[Mass, ...]
    changes: tuple[Mass, ...] = ()
    recommended: RecommendedWeight | None = None

    def __post_init__(self) -> None:
        check_wheelbase(self.front, self.rear)
        if self.recommended is not None and self.powered:
            remedy = "Leave it out: for a powered model weight on driven wheels counts."
            raise WrongKind("the recommended weight", "given for a powered model", "an unpowered car", remedy)
        _ = self.loads_before, self.loads_after  # what can't be is refused here, and not at the first look

    @cached_property
    def loads_before(self) -> Loads:
        """What lay on each truck. [g]"""
        return loads(self.before, self.front, self.rear)

    @cached_property
    def loads_after(self) -> Loads:
        """What will lie on each truck. [g]"""
        return loads((*self.before, *self.changes), self.front, self.rear)

    @property
    def lost_g(self) -> Any:
        """What is taken off. [g]"""
        return -sum((each.mass_g for each in self.changes if best(each.mass_g) < 0), 0)

    @property
    def added_g(self) -> Any:
        """What is put in. [g]"""
        return sum((each.mass_g for each in self.changes if best(each.mass_g) > 0), 0)

    @property
    def shift_mm(self) -> Any:
        """How far the centre of gravity moves, positive to the rear. [mm]"""
        return self.loads_after.centre_mm - self.loads_before.centre_mm

    @property
    def powered(self) -> bool:
        """Whether any axle is driven."""
        return bool(self.front.driven_axles or self.rear.driven_axles)

    def weight_for(self, aim: Aim, at_mm: Any) -> Mass:
        """Return the weight that brings the balance right from a given place.

        Parameters
        ----------
        aim : {"as before", "level"}
            The shares of the trucks as they were, or half on each. [-]
        at_mm : number or uncertain number
            Where there is room for it, from the fore-aft mark, positive to the rear. [mm]

        Returns
        -------
        Mass
            The weight at that place; 0 where the balance is right already. [g]

        Raises
        ------
        UnknownChoice
            If `aim` is neither.
        OutOfRange
            If no weight there can do it.

        References
        ----------
        Law of the lever about the wanted centre of gravity; textbook statics.

        Examples
        --------
        >>> front, rear = Support("front truck", -40), Support("rear truck", 40)
        >>> balance = Balance(front, rear, (Mass("model", 100, 0),), (Mass("motor clip", -10, 20),))
        >>> round(balance.weight_for("as before", 20).mass_g, 9)
        10.0
        """
        check_finite("the place of the weight", at_mm, "mm", "-15")
        wanted, after = self._wanted(aim), self.loads_after
        out = after.centre_mm - wanted
        if abs(best(out)) < NOTICED_MM:
            return Mass(_name(aim), 0.0, at_mm)
        if best(out) * (best(at_mm) - best(wanted)) >= 0:
            side = "ahead of" if best(out) > 0 else "behind"
            expected = f"{side} the wanted centre of gravity, {where(wanted)}"
            raise OutOfRange("the place of the weight", where(at_mm), expected, "Elsewhere weight has to come off.")
        return Mass(_name(aim), after.total_g * out / (wanted - at_mm), at_mm)

    def place_for(self, aim: Aim, mass_g: Any) -> Mass:
        """Return the place from which a given weight brings the balance right.

        Parameters
        ----------
        aim : {"as before", "level"}
            The shares of the trucks as they were, or half on each. [-]
        mass_g : number or uncertain number
            The weight at hand, above 0. [g]

        Returns
        -------
        Mass
            The weight at that place, which may lie outside the model. [g]

        Raises
        ------
        UnknownChoice
            If `aim` is neither.
        OutOfRange
            If the weight is not above 0.

        References
        ----------
        Law of the lever about the wanted centre of gravity; textbook statics.

        Examples
        --------
        >>> front, rear = Support("front truck", -40), Support("rear truck", 40)
        >>> balance = Balance(front, rear, (Mass("model", 100, 0),), (Mass("motor clip", -10, 20),))
        >>> round(balance.place_for("level", 20).at_mm, 9)
        10.0
        """
        check_finite("the weight", mass_g, "g", "12.5")
        if not best(mass_g) > 0:
            raise OutOfRange("the weight", f"{best(mass_g):g} g", "above 0", "Write what the weight at hand weighs.")
        wanted, after = self._wanted(aim), self.loads_after
        return Mass(_name(aim), mass_g, wanted + after.total_g * (wanted - after.centre_mm) / mass_g)

    def _wanted(self, aim: Aim) -> Any:
        if aim not in AIMS:
            raise UnknownChoice("aim", aim, AIMS)
        if aim == "level":
            return (self.front.at_mm + self.rear.at_mm) / 2
        return self.loads_before.centre_mm

    @property
    def to_restore(self) -> Mass | None:
        """The weight, and its place, that give back both weight and balance; None unless the model gets lighter."""
        short = self.loads_before.total_g - self.loads_after.total_g
        if best(short) < NOTICED_G:
            return None
        moment = sum((each.mass_g * each.at_mm for each in self.changes), 0)
        return Mass("weight to give back", short, -moment / short)

    @property
    def in_words(self) -> tuple[str, ...]:
        """What changes, and what would put it right, sentence by sentence."""
        return tuple(self._sentences())

    def _sentences(self) -> Iterator[str]:
        before, after = self.loads_before, self.loads_after
        yield (
            f"It weighed {grams(before.total_g)}; {grams(self.lost_g)} come off and {grams(self.added_g)} go in, "
            f"so that it will weigh {grams(after.total_g)}."
        )
        yield f"Before: {before.in_words}."
        yield f"After: {after.in_words}."
        yield self._shift()
        if after.standing:
            yield after.standing
        if self.powered:
            yield self._driven()
        if self.recommended is not None:
            yield from self._against(self.recommended)
        yield from self._remedies()

    def _shift(self) -> str:
        if abs(best(self.shift_mm)) < NOTICED_MM:
            return "The centre of gravity stays where it was."
        to = "rear" if best(self.shift_mm) > 0 else "front"
        moved = self.shift_mm if best(self.shift_mm) > 0 else -self.shift_mm
        return f"The centre of gravity moves {format_length(moved, 'mm')} to the {to}."

    def _driven(self) -> str:
        before, after = self.loads_before, self.loads_after
        change = best(after.driven_g) - best(before.driven_g)
        text = (
            f"On driven wheels lay {grams(before.driven_g)} ({percent(before.driven_share)}) and will lie "
            f"{grams(after.driven_g)} ({percent(after.driven_share)}); only weight on driven wheels pulls"
        )
        if abs(change) < NOTICED_G or before.tips_over or after.tips_over:
            return f"{text}."
        way = "more" if change > 0 else "less"
        return f"{text}, so that it pulls {percent(abs(change) / best(before.driven_g))} {way} before its wheels slip."

    def _against(self, wanted: RecommendedWeight) -> Iterator[str]:
        """Say what it should weigh, and how far it will be from that."""
        yield wanted.in_words
        off = best(self.loads_after.total_g) - best(wanted.weight_g)
        if abs(off) < NOTICED_G:
            yield "It will weigh that."
        else:
            yield f"It will weigh {grams(abs(off))} {'more' if off > 0 else 'less'} than that."

    def _remedies(self) -> Iterator[str]:
        back = self.to_restore
        if back is not None:
            yield f"{grams(back.mass_g)} {where(back.at_mm)} would give back both weight and balance."
        for aim, said in (("as before", "the shares of the trucks as they were"), ("level", "half on each truck")):
            out = best(self.loads_after.centre_mm) - best(self._wanted(aim))  # type: ignore[arg-type]
            if abs(out) >= NOTICED_MM:
                truck = self.front if out > 0 else self.rear
                extra = self._over(aim, truck)  # type: ignore[arg-type]
                if extra is not None:
                    yield f"{grams(extra.mass_g)} over the {truck.name} would give {said}."

    def _over(self, aim: Aim, truck: Support) -> Mass | None:
        """Return the weight over a truck that brings the balance right; None where none can."""
        try:
            return self.weight_for(aim, truck.at_mm)
        except OutOfRange:  # the wanted centre of gravity lies beyond the truck: it tipped before
            return None


def _name(aim: Aim) -> str:
    return "weight for the balance as before" if aim == "as before" else "weight to level it"
