"""A calibrated rule: what gauges told of its offset and scale error, how sure that is, and how well they agree."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from math import hypot, sqrt
from typing import Any, Literal

from uncertainties import UFloat

from modelmath.errors import OutOfRange
from modelmath.lengths.calibration.agreement import Agreement, agreement_of
from modelmath.lengths.calibration.gauges import Gauge, Seen, covariance_of, line_through
from modelmath.lengths.calibration.line_fit import Line
from modelmath.lengths.rules import Rule
from modelmath.lengths.text import format_length
from modelmath.lengths.uncertain import normal

Finds = Literal["both", "offset", "scale error"]
LEAST_CHANCE = 0.05  # of a sum of squares this large, below which the gauges don't agree
MOST_SCALE_ERROR = 0.1  # that a rule may have
DIGITS = 6  # decimals of what is put into a rule, in its own unit


@dataclass(frozen=True)
class Residual:
    """How far a gauge lies from the fitted line.

    Attributes
    ----------
    gauge : Gauge
        The gauge. [mm]
    mark_mm : Fraction
        Where it was read; the mean of several readings. [mm]
    residual_mm : float
        Its known size less the corrected reading. [mm]
    u_mm : float
        Standard uncertainty of size and reading together. [mm]
    """

    gauge: Gauge
    mark_mm: Fraction
    residual_mm: float
    u_mm: float

    @property
    def left(self) -> UFloat:
        """What is left of the gauge, as uncertain as its size and reading are. [mm]"""
        return normal(self.residual_mm, self.u_mm, f"what is left of {self.gauge.name}")


@dataclass(frozen=True)
class Disagreeing:
    """A gauge that does not fit to the others.

    Attributes
    ----------
    gauge : Gauge
        The gauge. [mm]
    by_mm : float
        Its size less what the others and its reading say. [mm]
    u_mm : float
        Standard uncertainty of that difference. [mm]
    """

    gauge: Gauge
    by_mm: float
    u_mm: float

    def __str__(self) -> str:
        way = "longer" if self.by_mm > 0 else "shorter"
        off = normal(abs(self.by_mm), self.u_mm, f"how far {self.gauge.name} is off")
        return f"{format_length(off, 'mm')} {way} than its reading says"


@dataclass(frozen=True)
class Calibration:
    """A rule's offset and scale error, found from gauges.

    Standard uncertainties are enlarged by the Birge ratio where that is above 1: where the gauges scatter more than
    their uncertainties say, the scatter counts.

    Attributes
    ----------
    read_with : Rule
        The rule as it was stated before. [-]
    gauges : tuple of Gauge
        Those that the line was fitted to, each once. [mm]
    finds : {"both", "offset", "scale error"}
        What the gauges could tell; the rest is as the rule stated it. [-]
    why : str
        Why the rest could not be told, in words; empty if nothing is left out. [-]
    line : Line
        The fitted line, with what the uncertainties of sizes and readings make of it. [mm]
    """

    read_with: Rule
    gauges: tuple[Gauge, ...]
    finds: Finds
    why: str
    line: Line

    # What was found.

    @property
    def scale_error(self) -> float:
        """(true - shown) / shown. [-]"""
        return self.line.slope - 1.0

    @property
    def offset_mm(self) -> float:
        """How far the zero mark stands in from the rule's end. [mm]"""
        if self.finds == "scale error":
            return float(self.read_with.offset_mm)
        return self.line.intercept / self.line.slope

    @property
    def offset(self) -> UFloat:
        """The same with its uncertainty; `rule` has the one that is correlated with its scale error. [mm]"""
        return normal(self.offset_mm, self.offset_u_mm, f"zero offset of {self.read_with.name}")

    @cached_property
    def covariance(self) -> tuple[float, float, float]:
        """Variance of the line's intercept from the end, covariance with its slope, variance of its slope."""
        both, joint, slopes = (each * self.enlarged_by**2 for each in self.line.covariance)
        rule, slope = self.read_with, self.line.slope
        if self.finds == "offset":
            # The slope is the rule's own: the intercept leans on it by the mean mark of the gauges.
            slopes, arm = rule.scale_error_uncertainty**2, self.line.mean_x
            return both + arm**2 * slopes, -arm * slopes, slopes
        if self.finds == "scale error":
            offset, u = float(rule.offset_mm), float(rule.offset_uncertainty_mm)
            return (slope * u) ** 2 + offset**2 * slopes, offset * slopes, slopes
        return both, joint, slopes

    @property
    def scale_error_u(self) -> float:
        """Standard uncertainty of the scale error. [-]"""
        return sqrt(self.covariance[2])

    @property
    def offset_u_mm(self) -> float:
        """Standard uncertainty of the offset. [mm]"""
        both, joint, slopes = self.covariance
        offset = self.offset_mm
        return sqrt(max(0.0, both - 2 * offset * joint + offset**2 * slopes)) / self.line.slope

    @property
    def correlation(self) -> float:
        """Correlation of offset and scale error. [-]"""
        joint, slopes = self.covariance[1:]
        spread = self.offset_u_mm * sqrt(slopes) * self.line.slope
        return (joint - self.offset_mm * slopes) / spread if spread else 0.0

    @property
    def centroid_mm(self) -> float:
        """The mark at which a length from the end is known independently of the scale error. [mm]"""
        _, joint, slopes = self.covariance
        if self.finds == "scale error":
            return -self.offset_mm
        return -joint / slopes if slopes else self.line.mean_x

    @property
    def centroid_u_mm(self) -> float:
        """Standard uncertainty of a length from the end at that mark, reading left out: the least there is. [mm]"""
        return self.u_at_mm(self.centroid_mm)

    def u_at_mm(self, mark_mm: float) -> float:
        """Return how uncertain the fitted line leaves a length from the end.

        Parameters
        ----------
        mark_mm : float
            Mark that is read, as the rule shows it; its own uncertainty is not in the result. [mm]

        Returns
        -------
        float
            Standard uncertainty. [mm]

        References
        ----------
        JCGM 100:2008, equation H.15.

        Examples
        --------
        >>> rule = Rule(unit="mm", graduation="0.5")
        >>> found = rule.calibrate([Gauge("leaf", 5.0, "4"), Gauge("strip", 25.0, "24")])
        >>> [round(found.u_at_mm(mark), 3) for mark in (14, 24)]
        [0.102, 0.144]
        """
        both, joint, slopes = self.covariance
        return sqrt(max(0.0, both + 2 * mark_mm * joint + mark_mm**2 * slopes))

    @cached_property
    def seen(self) -> tuple[tuple[Gauge, Seen], ...]:
        """Each gauge with its reading."""
        return tuple((gauge, gauge.seen_with(self.read_with)) for gauge in self.gauges)

    # How well the gauges agree.

    @property
    def chi_square(self) -> float:
        """Sum of the squared residuals over their variances. [-]"""
        return self.line.chi_square

    @property
    def dof(self) -> int:
        """Degrees of freedom: gauges less what was found from them. [-]"""
        return self.line.dof

    @property
    def chance(self) -> float | None:
        """Chance of gauges that agree to scatter as much as these or more; None if none is left to check. [-]"""
        if not self.dof:
            return None
        from scipy.special import chdtrc

        return float(chdtrc(self.dof, self.chi_square))

    @property
    def consistent(self) -> bool | None:
        """Whether the gauges scatter no more than their uncertainties allow; None if there is no telling."""
        chance = self.chance
        return None if chance is None else chance >= LEAST_CHANCE

    @property
    def birge_ratio(self) -> float | None:
        """Scatter of the gauges over what their uncertainties say; None if there is no telling. [-]"""
        return sqrt(self.chi_square / self.dof) if self.dof else None

    @property
    def enlarged_by(self) -> float:
        """What the uncertainties are multiplied by: the Birge ratio where it is above 1. [-]"""
        return max(1.0, self.birge_ratio or 1.0)

    @property
    def deviation_mm(self) -> float:
        """Standard deviation of the residuals, as the readings themselves show it; 0 without freedom. [mm]"""
        return self.line.deviation

    @cached_property
    def residuals(self) -> tuple[Residual, ...]:
        """How far each gauge lies from the line."""
        slope = self.line.slope
        return tuple(
            Residual(gauge, seen.mark_mm, rest, sqrt(gauge.size_mm.std_dev**2 + (slope * seen.u_mm) ** 2))
            for (gauge, seen), rest in zip(self.seen, self.line.residuals, strict=True)
        )

    @cached_property
    def agreement(self) -> Agreement:
        """Each gauge compared with what the others say."""
        slope = self.line.slope if self.finds == "offset" else None
        among = covariance_of(self.gauges)

        def fit(kept: Sequence[int]) -> Line:
            places = list(kept)
            return line_through([self.seen[place] for place in places], slope, among[places][:, places])

        return agreement_of(len(self.gauges), fit)

    @property
    def differences(self) -> tuple[UFloat | None, ...]:
        """By how much each gauge differs from what the others say; None where they can't. [mm]"""
        names = (f"{gauge.name} against the others" for gauge in self.gauges)
        off = (self._off(place) for place in range(len(self.gauges)))
        return tuple(None if each is None else normal(*each, name) for each, name in zip(off, names, strict=True))

    def _off(self, place: int) -> tuple[float, float] | None:
        """Return a gauge's difference; of one that disagrees, from the line through those that do. [mm]"""
        found, others = self.agreement.differences[place], self.without_disagreeing
        if place not in self.agreement.disagreeing or others is None:
            return None if found is None else (found.by, found.u)
        # The slope of a line that still holds the bad gauge would turn marks into too many or too few mm.
        gauge, seen = self.seen[place]
        mark, slope = float(seen.mark_mm), 1.0 + others.scale_error
        from_end = gauge.datum == "end"
        by = gauge.size_mm.nominal_value - (mark + (others.offset_mm if from_end else 0.0)) * slope
        # Sizes that share a caliper with it would make this a little smaller.
        line_u = others.u_at_mm(mark) if from_end else abs(mark) * others.scale_error_u
        return by, hypot(gauge.size_mm.std_dev, slope * seen.u_mm, line_u)

    @property
    def disagreeing(self) -> tuple[Disagreeing, ...]:
        """The gauges that don't fit to the others, the worst first; they still count in the result."""
        found = ((self.gauges[place], self._off(place)) for place in self.agreement.disagreeing)
        return tuple(Disagreeing(gauge, *each) for gauge, each in found if each is not None)

    @cached_property
    def without_disagreeing(self) -> Calibration | None:
        """The same from the gauges that agree, for comparison; None if all do."""
        aside = self.agreement.disagreeing
        if not aside:
            return None
        return self.read_with.calibrate(gauge for place, gauge in enumerate(self.gauges) if place not in aside)

    # The same in words, and as a rule.

    @property
    def found(self) -> str:
        """What was found and from what, in words."""
        count = f"{len(self.gauges)} gauge{'s' if len(self.gauges) > 1 else ''}"
        whats = {"both": "how far zero stands in, and the scale error", "offset": "how far zero stands in"}
        found = f"Found from {count}: {whats.get(self.finds, 'the scale error')}."
        return f"{found} {self.why}".strip()

    @property
    def verdict(self) -> str:
        """What the gauges tell of each other, in words."""
        if self.disagreeing:
            names = " and ".join(f"{each.gauge.name} ({each})" for each in self.disagreeing)
            verb = "disagrees" if len(self.disagreeing) == 1 else "disagree"
            return f"{names} {verb} with the others. Read again and check the size; until then it still counts."
        if self.agreement.undecided:
            return "The gauges disagree, and it can't be told which is wrong: read them again, or one more."
        if self.agreement.unchecked:
            return "No verdict on the gauges: none can be checked against the others yet. Read one more."
        if self.consistent is False:
            wide = f"the uncertainties are widened by {self.enlarged_by:.1f}"
            return f"The gauges scatter more than they should, though none stands out; {wide}."
        return "The gauges agree with each other."

    @property
    def scale_words(self) -> str:
        """The scale error in words."""
        percent = f"{abs(self.scale_error) * 100:.2f} %"
        if float(percent[:-2]) == 0:
            return "the rule shows neither too little nor too much"
        return f"the rule shows {percent} too {'little' if self.scale_error > 0 else 'much'}"

    @property
    def scale_u_words(self) -> str:
        """How sure the scale error is, in words."""
        return f"± {self.scale_error_u * 100:.2f} %"

    @property
    def zero_words(self) -> str:
        """Where zero stands, in words."""
        worn = round(self.offset_mm, DIGITS) < 0  # what a float leaves of 0 is no worn end
        place = "beyond its worn end" if worn else "in from its end"
        offset = -self.offset if worn else self.offset
        units = dict.fromkeys((self.read_with.unit, "mm"))
        ways = [format_length(offset, name, self.read_with.scale) for name in units]
        return f"zero stands {ways[0]}{f' ({ways[1]})' if len(ways) > 1 else ''} {place}"

    @property
    def fields(self) -> dict[str, Any]:
        """What was found as fields of a rule, rounded to a millionth of its unit."""

        def marks(mm: float) -> str:
            return f"{mm / float(self.read_with.unit_mm) + 0.0:.{DIGITS}f}".rstrip("0").rstrip(".")

        return {
            "zero_offset": marks(self.offset_mm),
            "offset_uncertainty": marks(self.offset_u_mm),
            "scale_error": round(self.scale_error, DIGITS),
            "scale_error_uncertainty": round(self.scale_error_u, DIGITS),
            "calibrated_at": None if self.finds == "scale error" else marks(self.centroid_mm),
        }

    @cached_property
    def rule(self) -> Rule:
        """The rule with what was found put in.

        Raises
        ------
        OutOfRange
            If the scale error found is larger than that of any rule.
        """
        before = self.read_with
        if not abs(self.scale_error) < MOST_SCALE_ERROR:
            remedy = "Check the rule's scale and unit, and the sizes of the gauges."
            raise OutOfRange(f"{before.name}: scale error", f"{self.scale_error:.1%}", "within 10 % of 0", remedy)
        unit = before.unit_mm
        return Rule(
            unit=before.unit,
            scale=before.scale,
            graduation=before.graduation_mm / unit,
            reading_uncertainty=None if before.read_to_the_mark else before.reading_u_mm / float(unit),
            length=None if before.length_mm is None else before.length_mm / unit,
            name=before.name,
            kind=before.kind,
            read_to=before.read_to_mm / unit,
            reads=before.reads,
            **self.fields,
        )
