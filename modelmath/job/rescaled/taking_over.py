"""A job in another scale. What was read off the model is taken over as a length; it is not measured there."""

from __future__ import annotations

import re
from fractions import Fraction
from math import ceil
from typing import Any

from modelmath.errors import ModelMathError, OutOfRange
from modelmath.job.bench.bench import Bench
from modelmath.job.document import Job, ProgressEntry, RuleEntry
from modelmath.job.rescaled.walk import Field, fields_of, put
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.scales import Scale, scale
from modelmath.lengths.text import round_half_up
from modelmath.lengths.units import SCALE_UNITS
from modelmath.materials import parse_strip

TAKEN_OVER = "taken over"
READING_UNCERTAINTY = "0.1 mm"  # of a length that nobody has measured yet: common practice, no source
DECIMALS = 2  # of a mm
MOST_DECIMALS = 6  # of what would round to nothing, and of a length whose decimals don't end
DIGITS = 6  # of a weight: far finer than it is known, so that there and back gives it again
# What a field of the document holds less than: g, and mm3 of a volume.
MOST = {"front_grams": 100_000, "rear_grams": 100_000, "grams": 10_000, "volume": 1_000_000}
MOST_NOTES = 2000  # characters, as the document's field
_SAID_BEFORE = re.compile(r"^Taken over from .+? measure every reading there before you cut\.\s*")


def to_scale(job: Job, scale_name: str) -> Job:
    """Take a job to another scale.

    Shell and chassis scale by the ratio of the two scales: every reading, and the sizes of what moves. The bench and
    bought parts stay: rules, clearances, tolerances, stock, speaker, decoder, strands and wires. Each reading becomes
    its corrected length, to 0.01 mm, on one new rule called ``taken over``; the notes say that nothing is measured yet.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    scale_name : str
        The scale to take it to. [-]

    Returns
    -------
    Job
        The job in that scale; the same job where it is in that scale already. [-]

    Raises
    ------
    UnknownScale
        If no scale is called so.
    JobError
        If something in the job can't be read.
    OutOfRange
        If a weight becomes more than a document holds, or its notes leave no room for what has to be said.

    References
    ----------
    Definition of scale; data/scales.csv. What scales and what stays: common practice, no source.

    Examples
    --------
    >>> from modelmath.job.storage.files import load_job
    >>> from modelmath.tables import data_folder
    >>> small = load_job(data_folder() / "jobs" / "railcar-n.toml")  # roof at 11 mm of a rule with 4 mm before zero
    >>> to_scale(small, "O").readings[0].mark  # 15 mm x 160/48
    '50.00'
    """
    bench = Bench(job)
    if bench.faults:
        raise bench.faults[0]
    wanted = scale(scale_name)
    if wanted.key == bench.scale.key:
        return job
    factor = bench.scale.ratio / wanted.ratio
    document = job.model_dump()
    for field in filter(lambda each: each.is_length, fields_of(job)):
        scaled = field.treatment == "scaled"
        text = f"{in_decimals(length_of(bench, field) * factor)} mm" if scaled else _kept(field, bench.scale, wanted)
        put(document, field.path, text)
    document["scale"] = wanted.name
    document["notes"] = _notes(job, bench.scale, wanted, factor)
    _take_over_readings(document, bench, factor)
    _take_over_weights(document, factor)
    _keep_rules(document, job, bench.scale)
    _keep_strips(document, bench.scale, wanted)
    _end_with_the_shell(document)
    document["progress"] = ProgressEntry().model_dump()  # nothing of it is built
    return Job.model_validate(document)


def length_of(bench: Bench, field: Field) -> Fraction:
    """Return a length that stands in a field of the document; a place may lie on either side.

    Parameters
    ----------
    bench : Bench
        The document, read. [-]
    field : Field
        The field. [-]

    Returns
    -------
    Fraction
        The length. [mm]

    Raises
    ------
    JobError
        If it can't be read.

    References
    ----------
    `parse_length_exact`.
    """
    try:
        return parse_length_exact(field.value, scale=bench.scale)
    except ModelMathError as fault:
        raise bench.located(field.path, fault) from None


def in_decimals(mm: Fraction) -> str:
    """Write a length in mm to two decimals; to more where it would be nothing.

    Parameters
    ----------
    mm : Fraction
        The length. [mm]

    Returns
    -------
    str
        Its number, without the unit. [mm]

    References
    ----------
    None needed.

    Examples
    --------
    >>> in_decimals(Fraction(25, 2)), in_decimals(Fraction(1, 300))
    ('12.50', '0.003')
    """
    for decimals in range(DECIMALS, MOST_DECIMALS + 1):
        if round_half_up(mm * 10**decimals) or not mm:
            return _decimal(mm, decimals)
    return _decimal(mm, DECIMALS)


def _decimal(mm: Fraction, decimals: int) -> str:
    digits = round_half_up(mm * 10**decimals)
    text = f"{abs(digits):0{decimals + 1}d}"
    return f"{'-' if digits < 0 else ''}{text[:-decimals]}.{text[-decimals:]}"


def _kept(field: Field, old: Scale, new: Scale) -> Any:
    """Return a length as written; one that counts scale feet or inches in mm, since those are of the job's scale."""
    try:
        before, after = (parse_length_exact(field.value, scale=each) for each in (old, new))
    except ModelMathError:
        return field.value  # a bare number, which counts its own rule's unit
    if before == after:
        return field.value
    text = _decimal(before, MOST_DECIMALS).rstrip("0")
    return f"{text.removesuffix('.')} mm"


def _notes(job: Job, old: Scale, new: Scale, factor: Fraction) -> str:
    weights = "" if job.weight is None else ", weights by the third power of that"
    said = (
        f"Taken over from {old.name} to {new.name}: lengths of shell and chassis times {float(factor):.4f}{weights}. "
        "Nothing is measured on the new model yet: measure every reading there before you cut."
    )
    notes = f"{said} {_SAID_BEFORE.sub('', job.notes)}".rstrip()
    if len(notes) > MOST_NOTES:
        most = MOST_NOTES - len(said) - 1
        remedy = "Shorten them: what is said about the new scale stands before them."
        raise OutOfRange("the length of the job's notes", f"{len(job.notes)} characters", f"{most} or less", remedy)
    return notes


# The readings, and the rule they now belong to.


def _take_over_readings(document: dict[str, Any], bench: Bench, factor: Fraction) -> None:
    lengths = {name: reading.measured.exact_mm * factor for name, reading in bench.readings.items()}
    rule = _rule_for(bench.job, min(lengths.values()))
    zero_mm = Fraction(rule.zero_offset)
    for entry in document["readings"]:
        mark = in_decimals(lengths[entry["name"]] - zero_mm)
        entry |= {"mark": mark, "again": [], "rule": rule.name, "datum": "end", "moved_from": None}
    places = [place for place, each in enumerate(document["rules"]) if each["name"] == rule.name]
    if places:
        document["rules"][places[0]] = rule.model_dump()
    else:
        document["rules"].append(rule.model_dump())


def _rule_for(job: Job, lowest_mm: Fraction) -> RuleEntry:
    """Return the rule that lengths are taken over on; its zero stands out where one of them is below 0."""
    zero = "0" if lowest_mm >= 0 else str(ceil(-lowest_mm) * -1)
    others = {rule.name for rule in job.rules if not _is_ours(rule)}
    name, number = TAKEN_OVER, 2
    while name in others:
        name, number = f"{TAKEN_OVER} {number}", number + 1
    return RuleEntry(name=name, unit="mm", graduation="0.01", zero_offset=zero, reading_uncertainty=READING_UNCERTAINTY)


def _is_ours(rule: RuleEntry) -> bool:
    """Whether a rule only carries lengths that were taken over earlier, from which they are taken over again."""
    ours = RuleEntry(name=rule.name, unit="mm", graduation="0.01", reading_uncertainty=READING_UNCERTAINTY)
    same = rule.model_copy(update={"zero_offset": "0", "scale": None}) == ours
    return same and rule.name.startswith(TAKEN_OVER)


def _take_over_weights(document: dict[str, Any], factor: Fraction) -> None:
    """Let the model's own weight, and what is trimmed off it, go with its volume; what is put in stays."""
    weight = document["weight"]
    if weight is None:
        return
    for name in ("front_grams", "rear_grams"):
        weight[name] = _by_volume("the weight", name, weight[name], factor)
    for entry in weight["changes"]:
        for name in ("grams", "volume"):
            if entry["off"] and entry[name] is not None:
                entry[name] = _by_volume(entry["name"], name, entry[name], factor)


def _by_volume(what: str, name: str, value: float, factor: Fraction) -> float:
    found = float(f"{value * float(factor) ** 3:.{DIGITS}g}")
    if not abs(found) < MOST[name]:
        given, remedy = f"{found:g} in the new scale", "Leave it out, and weigh the new model."
        raise OutOfRange(f"{what}, {name.replace('_', ' ')}", given, f"below {MOST[name]}", remedy)
    return found


def _keep_rules(document: dict[str, Any], job: Job, old: Scale) -> None:
    """Name the scale of every rule that counts scale feet or inches, which until now was the job's."""
    for entry in document["rules"]:
        if entry["scale"] is None and (entry["unit"] in SCALE_UNITS or _mentions_scale(job, entry)):
            entry["scale"] = old.name


def _mentions_scale(job: Job, rule: dict[str, Any]) -> bool:
    texts = [each for each in rule.values() if isinstance(each, str) and each != rule["name"]]
    texts += [gauge.mark for gauge in job.gauges if gauge.rule == rule["name"]]
    texts += [job.marking.finest] if job.marking.rule == rule["name"] else []
    return any("scale" in text and text != rule["kind"] for text in map(str.casefold, texts))


def _keep_strips(document: dict[str, Any], old: Scale, new: Scale) -> None:
    """Name the scale of every strip whose name leaves it to the job."""
    for entry in document["drawer"]:
        if entry["strip"] is not None:
            strip = parse_strip(entry["strip"], old)
            if strip != parse_strip(entry["strip"], new):
                entry["strip"] = strip.name


def _end_with_the_shell(document: dict[str, Any]) -> None:
    """Leave out where the last zone ends: read on the other half, its rounded length would miss the shell's end."""
    if document["length"] is not None:
        document["zones"][-1]["end"] = None
