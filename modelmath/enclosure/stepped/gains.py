"""What each step of a floor buys: the volume gained, against the pieces it takes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from modelmath.enclosure.stepped.chamber import FloorPlate, LeftOut, Riser, SteppedChamber
from modelmath.errors import OutOfRange
from modelmath.lengths.numbers import Number


@dataclass(frozen=True)
class StepGain:
    """One row: a chamber against the one before it, with fewer steps.

    Attributes
    ----------
    steps : int
        How many steps its floor has. [-]
    volume_mm3 : Fraction or float
        Its gross volume. [mm3]
    gained_mm3 : Fraction or float
        What it holds more than the chamber before; 0 of the first. [mm3]
    extra_pieces : int
        How many more pieces it takes than a flat floor. [-]
    risers : tuple of Riser
        Its risers. [mm]
    plates : tuple of FloorPlate
        Its floor plates that have some length. [mm]
    words : str
        The row as a sentence, and one for each larger chamber that was left out beside it. [-]
    chamber : SteppedChamber
        The chamber. [mm]
    """

    steps: int
    volume_mm3: Number
    gained_mm3: Number
    extra_pieces: int
    risers: tuple[Riser, ...]
    plates: tuple[FloorPlate, ...]
    words: str
    chamber: SteppedChamber


def what_steps_buy(chambers: Sequence[SteppedChamber]) -> tuple[StepGain, ...]:
    """Return what each further step buys, and what it takes.

    Parameters
    ----------
    chambers : sequence of SteppedChamber
        As `fit_stepped` returns them: each with more steps than the one before. [mm]

    Returns
    -------
    tuple of StepGain
        One row for each. [mm3]

    Raises
    ------
    OutOfRange
        If there is none, or one has no more steps than the one before.

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> from modelmath.enclosure import Cavity, Limits, Zone
    >>> from modelmath.enclosure.stepped import fit_stepped
    >>> cavity = Cavity((Zone("cab", 0, 20, 5, 15, 10), Zone("motor", 20, 60, 9, 15, 10)))
    >>> for row in what_steps_buy(fit_stepped(cavity, Limits(clearance_mm=1))):
    ...     print(row.words)
    A flat floor: 3.00 cm3, in one plate of 60.00 x 10.00 mm.
    1 step: 3.76 cm3, 0.76 cm3 (25 %) more, for 2 more pieces of floor: riser 4.00 x 10.00 mm; plates 19.00 x 10.00 \
mm, 40.00 x 10.00 mm.
    """
    if not chambers:
        raise OutOfRange("the list of chambers", "empty", "one chamber or more", "Give it what fit_stepped returns.")
    rows: list[StepGain] = []
    for chamber in chambers:
        if rows and chamber.steps <= rows[-1].steps:
            given = f"{chamber.steps} after {rows[-1].steps}"
            raise OutOfRange("the list of chambers: steps", given, "rising", "Give it what fit_stepped returns.")
        plates = tuple(plate for plate in chamber.plates if plate.length_mm > 0)
        gained = chamber.volume_mm3 - rows[-1].volume_mm3 if rows else 0
        words = _words(chamber, plates, gained, rows[-1].volume_mm3 if rows else 0)
        words = " ".join([words, *(_left_out(each, chamber) for each in chamber.left_out)])
        pieces = (chamber.extra_pieces, chamber.risers, plates)
        rows.append(StepGain(chamber.steps, chamber.volume_mm3, gained, *pieces, words, chamber))
    return tuple(rows)


def _words(chamber: SteppedChamber, plates: Sequence[FloorPlate], gained: Number, before: Number) -> str:
    volume = f"{float(chamber.volume_mm3) / 1000:.2f} cm3"
    if chamber.steps == 0:
        return f"A flat floor: {volume}, in one plate of {_size(plates[0].length_mm, plates[0].width_mm)}."
    more = ""
    if gained:
        share = f" ({100 * float(gained / before):.0f} %)" if before else ""
        more = f", {float(gained) / 1000:.2f} cm3{share} more"
    pieces = [
        _named("riser", [_size(each.height_mm, each.width_mm) for each in chamber.risers]),
        _named("plate", [_size(each.length_mm, each.width_mm) for each in plates]),
    ]
    listed = "; ".join(each for each in pieces if each)
    steps = _counted(chamber.steps, "step")
    return f"{steps}: {volume}{more}, for {_counted(chamber.extra_pieces, 'more piece')} of floor: {listed}."


def _left_out(larger: LeftOut, kept: SteppedChamber) -> str:
    more = float(larger.volume_mm3 - kept.volume_mm3) / 1000
    only = "only " if 100 * (larger.volume_mm3 - kept.volume_mm3) < kept.volume_mm3 else ""
    buys = f"{only}{more:.2f} cm3" if more >= 0.005 else "less than 0.01 cm3"
    riser = f"of {float(larger.riser_mm):.2f} mm" if larger.riser_mm >= Fraction(1, 200) else "of less than 0.01 mm"
    return (
        f"Left out: {_counted(larger.steps, 'step')} with a riser {riser} would buy {buys} more; no riser under "
        f"{float(larger.least_mm):.2f} mm can be marked and cut."
    )


def _counted(count: int, name: str) -> str:
    return f"{count} {name}{'' if count == 1 else 's'}"


def _named(name: str, sizes: Sequence[str]) -> str:
    return f"{name}{'s' if len(sizes) > 1 else ''} {', '.join(sizes)}" if sizes else ""


def _size(one: Number, other: Number) -> str:
    return f"{float(one):.2f} x {float(other):.2f} mm"
