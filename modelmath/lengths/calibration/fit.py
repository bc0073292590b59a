"""What readings of known gauges say of a rule: how far its zero stands in from its end, and its scale error.

``length = (mark + offset) * (1 + scale error)`` from the end is the line ``a + b * mark`` with ``b = 1 + scale error``
and ``a = offset * b``; from the zero mark it is ``b * mark``.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import permutations
from math import hypot, sqrt

from modelmath.errors import OutOfRange
from modelmath.lengths.calibration.calibrated import Calibration, Disagreeing, Finds, Residual
from modelmath.lengths.calibration.gauges import Gauge, Seen, line_through, merged
from modelmath.lengths.rules import Rule

__all__ = ["Calibration", "Disagreeing", "Gauge", "Residual", "calibrate"]

SCALE_TELLS = 0.05  # a scale error known no better than to 5 % says nothing: no rule is that far off
AS_STATED = "it is kept as the rule states it"
SWAPPED = 4  # standard uncertainties, beyond which a longer gauge that reads less is no scatter
NO_END = "No gauge was read from the rule's end, so where its zero stands is kept as the rule states it."


def calibrate(rule: Rule, gauges: Iterable[Gauge]) -> Calibration:
    """Find a rule's offset and scale error from its readings of known gauges.

    Least squares weighted by the uncertainties of sizes and readings. What the rule states of its own offset and scale
    error is no part of it, but stands for what the gauges can't tell.

    Parameters
    ----------
    rule : Rule
        The rule, with how finely it is read. [-]
    gauges : iterable of Gauge
        Known lengths, and the marks they were read at; one listed several times counts by its mean. [mm]

    Returns
    -------
    Calibration
        Offset, scale error, and how well the gauges agree. [mm]

    Raises
    ------
    OutOfRange
        If there is no gauge, a reading is not on the rule, a longer gauge reads less than a shorter one and nothing
        tells which is wrong, or the gauges are too short to tell anything.
    UnreadableLength, WrongKind
        If a mark or a gauge can't be read.

    References
    ----------
    JCGM 100:2008, H.3; Birge 1932, Phys. Rev. 40, for the widening, from memory.

    Examples
    --------
    >>> rule = Rule(unit="mm", graduation="0.5")
    >>> leaves = [Gauge("leaf", 2.0, "1"), Gauge("shank", 10.0, "9"), Gauge("strip", 30.0, "29")]
    >>> found = calibrate(rule, leaves)
    >>> round(found.offset_mm, 6), abs(round(found.scale_error, 6)), found.verdict
    (1.0, 0.0, 'The gauges agree with each other.')
    """
    seen = tuple((gauge, gauge.seen_with(rule)) for gauge in merged(gauges))
    if not seen:
        remedy = "Read a drill shank or another known length."
        raise OutOfRange("the calibration", "without a gauge", "of one gauge or more", remedy)
    from_end = [each for each in seen if each[0].datum == "end"]
    if len(from_end) < len(seen) or len({gauge.nominal_mm for gauge, _ in from_end}) > 1:
        line = line_through(seen, None)
        told = sqrt(line.covariance[2])
        if line.slope <= 0:
            _refuse_swapped(seen)
            told /= max(-line.slope, told)  # a flat line looks surer than it is: u is the slope times that of a mark
        if told <= SCALE_TELLS:
            finds: Finds = "both" if from_end else "scale error"
            return Calibration(rule, tuple(gauge for gauge, _ in seen), finds, "" if from_end else NO_END, line)
        if not from_end:
            remedy = "Read a longer one."
            raise OutOfRange(
                "the scale error", f"known to {told * 100:.1f} % only", f"known to {SCALE_TELLS * 100:.0f} %", remedy
            )
        why = f"The gauges lie too close together for the scale error, which they tell to {told * 100:.1f} % only"
    elif len(from_end) == 1:
        why = "One gauge can't tell the scale error"
    else:
        why = "Gauges of one size can't tell the scale error"
    if len(from_end) < len(seen):
        why = f"{why}, and those read from the zero mark are left out"
    line = line_through(from_end, 1.0 + float(rule.scale_error))
    return Calibration(rule, tuple(gauge for gauge, _ in from_end), "offset", f"{why}; {AS_STATED}.", line)


def _refuse_swapped(seen: Sequence[tuple[Gauge, Seen]]) -> None:
    """Refuse gauges whose line falls, and name the two that are farthest the wrong way round."""
    worst, named = 0.0, None
    for (longer, at), (shorter, before) in permutations(seen, 2):
        size, mark = longer.nominal_mm - shorter.nominal_mm, before.mark_mm - at.mark_mm
        if longer.datum != shorter.datum or size <= 0 or mark <= 0:
            continue
        u = hypot(longer.size_mm.std_dev, shorter.size_mm.std_dev, at.u_mm, before.u_mm)
        off = float(size + mark)
        if off > max(worst, SWAPPED * u):
            worst, named = off, (longer.name, shorter.name)
    if named is not None:
        longer_name, shorter_name = named
        raise OutOfRange(
            f"the reading of {longer_name}, the longer gauge,",
            f"less than that of {shorter_name}, the shorter one",
            "more",
            "Check the sizes and marks of both.",
        )
