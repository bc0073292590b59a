"""A job whose rule is calibrated: what gauges say of the rule put into the document, and the gauges with it."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from modelmath.errors import OutOfRange, UnknownChoice, WrongKind
from modelmath.job.bench.bench import Bench
from modelmath.job.document import GaugeEntry, Job, RuleEntry
from modelmath.lengths.calibration import Calibration
from modelmath.lengths.calibration.calibrated import MOST_SCALE_ERROR
from modelmath.lengths.calibration.pasted_gauges import MOST_GAUGES, GaugeLine
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.rules import Rule
from modelmath.lengths.text import SYMBOLS
from modelmath.lengths.units import SCALE_UNITS


def calibrated_job(job: Job, name: str, read_with: Rule, lines: Sequence[GaugeLine]) -> tuple[Job, Calibration]:
    """Return a job with one of its rules calibrated on gauges.

    The rule in the job says how finely it is read, and stands for what the gauges can't tell. Gauges it had before
    are replaced.

    Parameters
    ----------
    job : Job
        The document. [-]
    name : str
        The rule's name in it. [-]
    read_with : Rule
        The rule that the gauges were read with, whose figures the marks count. [-]
    lines : sequence of GaugeLine
        The gauges. [mm]

    Returns
    -------
    tuple of (Job, Calibration)
        The new document, and what was found. [-]

    Raises
    ------
    UnknownChoice
        If no rule in the job is called so.
    WrongKind
        If the figures of the two rules count different lengths.
    OutOfRange
        If the gauges don't tell, or say what no rule can be.
    JobError
        If a reading of the job contradicts what was found.

    References
    ----------
    `calibrate`.
    """
    old = Bench(job)
    rules = old.rules
    if name not in rules:
        raise UnknownChoice("the rule", name, list(rules))
    rule = rules[name]
    if rule.unit_mm != read_with.unit_mm:
        given, expected = (f"one in {_counts(each)}" for each in (read_with, rule))
        remedy = f"Choose the rule of the job that the gauges were read with, or set {_counts(rule)} above."
        raise WrongKind("the rule read", given, f"{expected}, as {name} is in the job", remedy)
    found = rule.calibrate(line.gauge for line in lines)
    _ = found.rule  # refuses what no rule can be
    if found.scale_error_u >= MOST_SCALE_ERROR:
        given = f"known to ± {found.scale_error_u * 100:.0f} % only"
        raise OutOfRange("the scale error", given, "known to 10 %", "The gauges disagree: read them again.")
    entries = [_entry(line, name, rule, job) for line in lines]
    others = [each for each in job.gauges if each.rule != name]
    count = len(others) + len(entries)
    if count > MOST_GAUGES:
        raise OutOfRange("the gauges", f"{count}", f"{MOST_GAUGES} or fewer in a job", "Leave some out.")
    changed = [
        RuleEntry.model_validate({**each.model_dump(), **found.fields}) if each.name == name else each
        for each in job.rules
    ]
    new = job.model_copy(update={"rules": changed, "gauges": [*others, *entries]})
    before = [fault.args for fault in old.faults]
    for fault in Bench(new).faults:
        if fault.args not in before:
            raise fault  # such as a reading that the rule, as it was found to be, can't have given
    return new, found


def _counts(rule: Rule) -> str:
    """Return what a rule's figures count, with the scale where that matters."""
    symbol = SYMBOLS.get(rule.unit, rule.unit)
    return f"{rule.scale} {symbol}" if rule.unit in SCALE_UNITS else symbol


def _entry(line: GaugeLine, name: str, rule: Rule, job: Job) -> GaugeEntry:
    """Return a gauge as the document holds it; a length in scale feet of another scale than the job's goes as mm."""

    def text(length: str) -> str:
        of_rule = parse_length_exact(length, scale=rule.scale)
        return length if parse_length_exact(length, scale=job.scale) == of_rule else f"{_decimal(of_rule)} mm"

    gauge = line.gauge
    return GaugeEntry(
        name=gauge.name,
        rule=name,
        size=text(line.size),
        mark=line.mark,
        tolerance=text(line.tolerance),
        datum="zero" if gauge.datum == "zero" else "end",
    )


def _decimal(value: Fraction) -> str:
    return f"{float(value):.6f}".rstrip("0").rstrip(".")
