"""From a lamp to its lenses: what share of the light reaches each, and how like a pair is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from modelmath.errors import OutOfRange
from modelmath.lengths.numbers import Number
from modelmath.lengths.text import to_digits
from modelmath.light.strands.bends import Bend, bend_loss_db
from modelmath.light.strands.checks import check_amount, check_length
from modelmath.light.strands.entering import LAMBERTIAN_DEG, coupled
from modelmath.light.strands.fibre import ACRYLIC, Fibre
from modelmath.light.strands.losses import db, face_loss_db, length_loss_db, transmission
from modelmath.quantities.band import Band

__all__ = ["LampShape", "LensLight", "Matched", "Matching", "compare", "coupled", "losses_of"]

SEEN_DB = 1.0  # a pair that differs by less looks alike; common practice, no source
LENGTH, BEND, LAMP_END, LENS_END = "length", "bend", "end at the lamp", "end at the lens"
BENDS, ENTERS = "bends", "what enters the strand"
ADVICE = {
    LENGTH: "cut both strands to one length, and coil what is left of the shorter way",
    BENDS: "give both the same bends",
    LAMP_END: "finish both ends at the lamp alike",
    LENS_END: "finish both lens ends alike",
    ENTERS: "bring both strands before the lamp alike, and centred on it",
}


@dataclass(frozen=True)
class LampShape:
    """What shines, and how far before the strands it is.

    Attributes
    ----------
    emitter_mm : Fraction or float
        Diameter of what shines; of a square, that of the circle with its area. [mm]
    gap_mm : Fraction or float
        From its face to the strands' ends. [mm]
    half_deg : float
        Angle from the axis at which it is half as bright; 60 for a bare chip or a diffuse face. [deg]

    Raises
    ------
    OutOfRange, WrongKind
        If the size is no number above 0, the gap none of 0 or more, or the half angle none above 0 and under 90.

    References
    ----------
    See `coupled`.

    Examples
    --------
    >>> round(LampShape(1.5).share(ACRYLIC, 0.75, 2).best, 4)
    0.0625
    """

    emitter_mm: Number
    gap_mm: Number = 0.0
    half_deg: float = LAMBERTIAN_DEG

    def __post_init__(self) -> None:
        check_length("emitter_mm", self.emitter_mm, such_as="1.6")
        check_length("gap_mm", self.gap_mm, least_0=True, such_as="0.5")
        check_amount("half_deg", self.half_deg, " deg", "Write 60 for a bare chip.")
        if self.half_deg >= 90:
            raise OutOfRange("half_deg", f"{self.half_deg:g} deg", "under 90 deg", "Write 60 for a bare chip.")

    def share(self, fibre: Fibre, strand_mm: Number, strands: int = 1) -> Band:
        """Return the share of its light that enters one of the strands before it.

        Parameters
        ----------
        fibre : Fibre
            The strands' material. [-]
        strand_mm : Fraction or float
            A strand's diameter. [mm]
        strands : int
            How many lie before the lamp, side by side. [-]

        Returns
        -------
        Band
            See `coupled`. [-]

        Raises
        ------
        OutOfRange, WrongKind
            As `coupled`.

        References
        ----------
        See `coupled`.
        """
        return coupled(fibre, self.emitter_mm, strand_mm, strands, self.gap_mm, half_deg=self.half_deg)


@dataclass(frozen=True)
class LensLight:
    """The light that reaches one lens.

    Attributes
    ----------
    name : str
        Of the lens. [-]
    share : Band
        Share of the lamp's light that enters its strand. [-]
    losses : mapping of str to Band
        What is lost on the way, each by its name, as `losses_of` names them: a bend's begins with "bend". [dB]
    """

    name: str
    share: Band
    losses: Mapping[str, Band] = field(default_factory=dict, hash=False)

    @property
    def loss_db(self) -> Band:
        """All that is lost on the way. [dB]"""
        of = self.losses.values()
        return Band(sum(each.best for each in of), sum(each.low for each in of), sum(each.high for each in of))

    @property
    def at_lens(self) -> Band:
        """Share of the lamp's light that reaches the lens. [-]"""
        lost = self.loss_db
        return Band(
            self.share.best * transmission(lost.best),
            self.share.low * transmission(lost.high),
            self.share.high * transmission(lost.low),
        )

    @property
    def in_words(self) -> str:
        """What reaches the lens, and where most is lost. [-]"""
        at, lost = self.at_lens, self.loss_db
        said = f"About {_percent(at.best)} of the lamp's light reaches {self.name}"
        said += f" ({_percent(at.low)} to {_percent(at.high)}): {_percent(self.share.best)} enters the strand"
        if lost.best < 0.005:
            return f"{said}."
        by_cause = dict.fromkeys(map(_cause, self.losses), 0.0)
        for name, loss in self.losses.items():
            by_cause[_cause(name)] += loss.best
        most = max(by_cause, key=by_cause.__getitem__)
        return f"{said}, which loses {lost.best:.1f} dB on the way, most of it by {most}."


@dataclass(frozen=True)
class Matched:
    """One lens beside the brightest.

    Attributes
    ----------
    name : str
        Of the lens. [-]
    percent : float
        Its light, the brightest one's as 100. [%]
    below_db : float
        How far it is below the brightest. [dB]
    """

    name: str
    percent: float
    below_db: float


@dataclass(frozen=True)
class Matching:
    """How like several lenses are.

    Attributes
    ----------
    lenses : tuple of Matched
        Each beside the brightest, in the order given. [-]
    causes : tuple of (str, float)
        By what the dimmest is below the brightest, the largest first; what counts for it is above 0. [dB]
    """

    lenses: tuple[Matched, ...]
    causes: tuple[tuple[str, float], ...]

    @property
    def pair_difference_db(self) -> float:
        """Between the brightest and the dimmest, by their best figures. [dB]"""
        return max(lens.below_db for lens in self.lenses)

    @property
    def alike(self) -> bool:
        """Whether they differ by less than is usually seen. [-]"""
        return self.pair_difference_db < SEEN_DB

    @property
    def in_words(self) -> str:
        """How like they are, and what to do so that they match. [-]"""
        dimmest = max(self.lenses, key=lambda lens: lens.below_db)
        brightest = min(self.lenses, key=lambda lens: lens.below_db)
        apart = self.pair_difference_db
        if dimmest is brightest or apart < 0.005:
            return "All lenses are equally bright by these figures."
        said = f"{dimmest.name} is {apart:.1f} dB below {brightest.name}: {_percent(dimmest.percent / 100)}"
        if self.alike:
            return f"{said} of its light. A difference under {SEEN_DB:g} dB is seldom seen."
        main = self.causes[0][0]
        remedy = ADVICE.get(main, f"make {main} alike")
        return f"{said} of its light. Most of that is by {main}: so that they match, {remedy}."


def losses_of(
    length_mm: Fraction | float,
    bends: Sequence[Bend],
    strand_mm: Fraction | float,
    fibre: Fibre = ACRYLIC,
    *,
    lamp_end: str = "cut",
    lens_end: str = "polished",
) -> dict[str, Band]:
    """Return what a strand loses between lamp and lens, by cause.

    Parameters
    ----------
    length_mm : Fraction or float
        Length of strand that the light runs: its way with its slack. [mm]
    bends : sequence of Bend
        Its bends. [-]
    strand_mm : Fraction or float
        Its diameter. [mm]
    fibre : Fibre
        Its material. [-]
    lamp_end, lens_end : {"polished", "cut", "cloudy"}
        How its ends are finished; a lens melted on it counts as polished. [-]

    Returns
    -------
    dict of str to Band
        Loss by its length, each of its bends and its two ends, in the order in which the light meets them. [dB]

    Raises
    ------
    OutOfRange, UnknownChoice, WrongKind
        As `length_loss_db`, `bend_loss_db` and `face_loss_db`.

    References
    ----------
    Losses in decibels add.

    Examples
    --------
    >>> lost = losses_of(60, [Bend(90, 5)], 0.75)
    >>> {name: round(loss.best, 2) for name, loss in lost.items()}
    {'end at the lamp': 0.67, 'length': 0.01, 'bend 1': 5.19, 'end at the lens': 0.22}
    """
    found = {LAMP_END: face_loss_db(fibre, lamp_end), LENGTH: length_loss_db(length_mm, fibre)}
    for number, bend in enumerate(bends, start=1):
        found[f"{BEND} {number}"] = bend_loss_db(bend, strand_mm, fibre)
    return found | {LENS_END: face_loss_db(fibre, lens_end)}


def compare(lenses: Sequence[LensLight]) -> Matching:
    """Return how like several lenses are, such as the two of a pair.

    Parameters
    ----------
    lenses : sequence of LensLight
        At least one. [-]

    Returns
    -------
    Matching
        Each beside the brightest, and what makes the difference. [% and dB]

    Raises
    ------
    OutOfRange
        If there is none, or no light reaches one of them.

    Notes
    -----
    Best figures only: what two strands of one reel have in common, such as their attenuation, cancels between them.
    Lenses of different size spread their light differently; how bright they look also goes by their area.

    References
    ----------
    Losses in decibels add. `SEEN_DB`: common practice, no source.

    Examples
    --------
    >>> left = LensLight("Left", Band(0.06, 0.05, 0.07), losses_of(60, [], 0.75))
    >>> right = LensLight("Right", Band(0.06, 0.05, 0.07), losses_of(64, [Bend(90, 8)], 0.75))
    >>> compare([left, right]).in_words
    'Right is 3.4 dB below Left: 46 % of its light. Most of that is by bends: so that they match, give both the same \
bends.'
    """
    if not lenses:
        raise OutOfRange("the number of lenses", "0", "1 or more", "Name the lenses to compare.")
    for lens in lenses:
        if not lens.at_lens.best > 0:
            given, expected = "0 % of the lamp's", "above 0 %"
            raise OutOfRange(f"the light at {lens.name}", given, expected, "Check its strand's losses.")
    brightest = max(lenses, key=lambda lens: lens.at_lens.best)
    dimmest = min(lenses, key=lambda lens: lens.at_lens.best)
    shares = [lens.at_lens.best / brightest.at_lens.best for lens in lenses]
    matched = tuple(
        Matched(lens.name, 100 * share, db(min(share, 1.0))) for lens, share in zip(lenses, shares, strict=True)
    )
    apart = dict.fromkeys(map(_cause, (*brightest.losses, *dimmest.losses)), 0.0)
    for lens, sign in ((dimmest, 1), (brightest, -1)):
        for name, loss in lens.losses.items():
            apart[_cause(name)] += sign * loss.best
    apart[ENTERS] = db(dimmest.share.best) - db(brightest.share.best)
    return Matching(matched, tuple(sorted(apart.items(), key=lambda cause: -cause[1])))


def _percent(share: float) -> str:
    return f"{to_digits(100 * share)} %"


def _cause(name: str) -> str:
    """Return what a loss counts with: all bends together, whichever strand has more of them."""
    return BENDS if name.startswith(BEND) else name
