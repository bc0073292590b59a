"""The gauges a rule was calibrated on, read from the document; and whether its fields still say what they gave."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from modelmath.errors import ModelMathError
from modelmath.lengths.text import format_length

if TYPE_CHECKING:
    from modelmath.job.plan import Plan
    from modelmath.lengths.calibration import Calibration, Gauge
    from modelmath.lengths.rules import Rule

NOISE = 0.5  # of a standard uncertainty; what differs by less was only rounded


def gauges_of(plan: Plan, rule: str) -> list[Gauge]:
    """Return the gauges that a rule was read against.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    rule : str
        The rule's name. [-]

    Returns
    -------
    list of Gauge
        None where it was not calibrated. [mm]

    Raises
    ------
    JobError
        If a size can't be read.

    References
    ----------
    None needed.
    """
    from modelmath.lengths.calibration import Gauge

    found = []
    for place, entry in enumerate(plan.job.gauges):
        if entry.rule != rule:
            continue
        size = plan.bench.length(entry.size, "gauges", place, "size", zero=False)
        tolerance = plan.bench.length(entry.tolerance, "gauges", place, "tolerance")
        found.append(Gauge(entry.name, size, entry.mark, entry.datum, tolerance_mm=float(tolerance)))
    return found


def calibration_of(plan: Plan, rule: str) -> Calibration | None:
    """Return the calibration of a rule on its gauges.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    rule : str
        The rule's name. [-]

    Returns
    -------
    Calibration or None
        None where it was not calibrated. [mm]

    Raises
    ------
    JobError, OutOfRange, WrongKind, UnreadableLength
        If a gauge can't be read, or the gauges don't tell.

    References
    ----------
    `calibrate`.
    """
    gauges = gauges_of(plan, rule)
    return plan.bench.rules[rule].calibrate(gauges) if gauges else None


def calibration_warnings(plan: Plan) -> Iterator[str]:
    """Yield what to mind about the rules' calibrations.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Yields
    ------
    str
        A sentence or two. [-]

    References
    ----------
    None needed.
    """
    for name in plan.bench.rules:
        try:
            found = calibration_of(plan, name)
        except ModelMathError as reason:
            yield f"The gauges of the {name} don't calibrate it: {reason}"
            continue
        if found is not None:
            yield from _against(plan.bench.rules[name], found)


def _against(rule: Rule, found: Calibration) -> Iterator[str]:
    """Yield what to mind about one rule and what its gauges give."""
    again = "calibrate it again, or take its gauges out"
    if abs(float(rule.offset_mm) - found.offset_mm) > NOISE * max(found.offset_u_mm, 0.01):
        entered, given = format_length(rule.offset_mm, "mm"), format_length(found.offset_mm, "mm")
        yield f"The {rule.name} is entered with its zero {entered} in, while its gauges give {given}: {again}."
    if found.finds != "offset" and abs(float(rule.scale_error) - found.scale_error) > NOISE * found.scale_error_u:
        entered, given = f"{float(rule.scale_error):.2%}", f"{found.scale_error:.2%}"
        yield f"The {rule.name} is entered with a scale error of {entered}, while its gauges give {given}: {again}."
    if found.disagreeing:
        names = " and ".join(each.gauge.name for each in found.disagreeing)
        verb = "disagrees" if len(found.disagreeing) == 1 else "disagree"
        yield f"Among the gauges of the {rule.name}, {names} {verb} with the others: read again."
