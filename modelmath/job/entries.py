"""What a person types, field by field, to a job document and back: one pure function of the whole state."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import partial
from typing import Any

from modelmath.errors import ModelMathError, OutOfRange
from modelmath.job.document import Job, LengthEntry, ReadingEntry
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.rules import Rule
from modelmath.lengths.scales import Scale, scale
from modelmath.lengths.text import SYMBOLS, format_length
from modelmath.lengths.units import unit_name

FIRST = ("scale", "zero_offset", "chassis", "shell", "keep", "finest")
SPEAKER = ("flange", "speaker_length", "speaker_width", "speaker_depth")
SPACE = ("width", "inside_length")
DECODER = ("decoder_length", "decoder_width", "decoder_height")
RULE = ("rule_unit", "graduation", "reading_u", "offset_u")
TOLERANCES = ("seating", "cutting")
ALL = (*FIRST, *SPEAKER, *SPACE, *DECODER, *RULE, *TOLERANCES)
CALIPER = "caliper or steel rule"  # a rule without an offset, for widths and lengths


@dataclass(frozen=True)
class Outcome:
    """What the entries come to.

    Attributes
    ----------
    job : Job or None
        The job they make; None while an entry is missing or can't be read. [-]
    echoes : dict of str to str
        By field: the entry as it was understood. [-]
    messages : dict of str to str
        By field: what is wrong with the entry and what to write. [-]
    waiting : tuple of str
        Fields of the first screen that are still empty. [-]
    """

    job: Job | None
    echoes: dict[str, str] = field(default_factory=dict)
    messages: dict[str, str] = field(default_factory=dict)
    waiting: tuple[str, ...] = ()


def blank_job(name: str = "New model", scale_name: str = "HO", unit: str = "scale foot") -> Job:
    """Return a job for a new model: one rule, one zone, nothing measured yet.

    Parameters
    ----------
    name : str
        The model's name. [-]
    scale_name : str
        Its scale. [-]
    unit : {"scale foot", "scale inch", "mm", "in"}
        Unit of the rule. [-]

    Returns
    -------
    Job
        To be filled by `read_entries`; its readings are 0 until then. [-]

    References
    ----------
    None needed.
    """
    finest = {"scale foot": "1/4", "scale inch": "3", "mm": "0.5", "in": "1/64"}[unit]
    rules = [
        {"name": "rule", "unit": unit, "graduation": finest},
        {"name": CALIPER, "unit": "mm", "graduation": "0.1"},
    ]
    return Job.model_validate(
        {
            "name": name,
            "scale": scale_name,
            "rules": rules,
            "marking": {"rule": "rule", "finest": finest},
            "clearance": {"keep": "0 mm"},
            "readings": [{"name": "roof", "mark": "0"}, {"name": "chassis top", "mark": "0"}],
            "zones": [{"name": "motor", "underside": "roof", "chassis_top": "chassis top"}],
        }
    )


def entries_of(job: Job, zone: int = 0) -> dict[str, str]:
    """Return a job's entries as text, for one zone.

    Parameters
    ----------
    job : Job
        The job. [-]
    zone : int
        Place of the zone in the job. [-]

    Returns
    -------
    dict of str to str
        By field; empty where the job has none. [-]

    References
    ----------
    None needed.
    """
    marks = {reading.name: reading.mark for reading in job.readings}
    here, speaker, decoder = job.zones[zone], job.speaker, job.decoder
    rule = _marking_rule(job)
    found: dict[str, str | None] = {
        "scale": job.scale,
        "zero_offset": rule.zero_offset,
        "chassis": marks.get(here.chassis_top or ""),
        "shell": marks.get(here.underside or ""),
        "keep": job.clearance.keep,
        "finest": job.marking.finest,
        "width": _with_unit(job, here.width),
        "inside_length": _with_unit(job, job.length.shell_inside) if job.length else None,
        "rule_unit": rule.unit,
        "graduation": rule.graduation,
        "reading_u": rule.reading_uncertainty,
        "offset_u": rule.offset_uncertainty,
        "seating": job.seat.repeatability,
        "cutting": job.build.cutting_tolerance,
    }
    for name in ("flange", "length", "width", "depth"):
        found[name if name == "flange" else f"speaker_{name}"] = getattr(speaker, name) if speaker else None
    for name in ("length", "width", "height"):
        found[f"decoder_{name}"] = getattr(decoder, name) if decoder else None
    return {name: found.get(name) or "" for name in ALL}


def _marking_rule(job: Job) -> Any:
    return next(rule for rule in job.rules if rule.name == job.marking.rule)


def _with_unit(job: Job, reading: str | None) -> str | None:
    """Return a reading's mark with its rule's unit, for a field that has no unit of its own."""
    entry = next((each for each in job.readings if each.name == reading), None)
    if entry is None:
        return None
    rule = next((each for each in job.rules if each.name == (entry.rule or job.rules[0].name)), job.rules[0])
    return entry.mark if _names_unit(entry.mark) else f"{entry.mark} {SYMBOLS.get(rule.unit, rule.unit)}"


def _names_unit(text: str) -> bool:
    """Whether a unit is written; a text that can't be read at all is left as it is, for its own message."""
    return re.search(r"[^\W\d_]|['\"′″’”]", text) is not None


def read_entries(entries: Mapping[str, str], base: Job, zone: int = 0) -> Outcome:
    """Read everything typed so far into a job.

    Parameters
    ----------
    entries : mapping of str to str
        By field, as typed; a field that is not there is taken as empty. [-]
    base : Job
        The job that the entries change. [-]
    zone : int
        The zone that the readings belong to. [-]

    Returns
    -------
    Outcome
        The new job, or what is missing or wrong; `base` is not changed. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> typed = {"scale": "HO", "zero_offset": "1", "chassis": "6", "shell": "10", "keep": "1/4", "finest": "1/4"}
    >>> read_entries(typed, blank_job()).job.readings[0].mark
    '10'
    >>> read_entries({**typed, "shell": "nan"}, blank_job()).messages["shell"][:30]
    "'nan': that is not a number; w"
    """
    reader = _Reader({name: entries.get(name, "").strip() for name in ALL}, base, zone)
    reader.read()
    waiting = tuple(name for name in FIRST if not reader.typed[name])
    if waiting or reader.messages:
        return Outcome(None, reader.echoes, reader.messages, waiting)
    try:
        job = Job.model_validate(reader.document)
    except ValueError as fault:  # pydantic's own; every field was read before, so this is a text too long
        return Outcome(None, reader.echoes, {"scale": str(fault)}, ())
    return Outcome(job, reader.echoes, {}, ())


class _Reader:
    """Reads the fields one by one into a copy of the base document."""

    def __init__(self, typed: dict[str, str], base: Job, zone: int) -> None:
        self.typed = typed
        self.document = base.model_dump()
        self.zone = self.document["zones"][zone]
        self.rule_entry = next(r for r in self.document["rules"] if r["name"] == self.document["marking"]["rule"])
        self.echoes: dict[str, str] = {}
        self.messages: dict[str, str] = {}
        self.scale: Scale | None = None
        self.rule: Rule | None = None

    def read(self) -> None:
        self._field("scale", self._scale)
        self._field("rule_unit", self._rule_unit)
        for name, key in (
            ("graduation", "graduation"),
            ("reading_u", "reading_uncertainty"),
            ("offset_u", "offset_uncertainty"),
        ):
            self._field(name, partial(self._of_rule, key))
        self._field("zero_offset", self._zero_offset)
        for name in ("chassis", "shell"):
            self._field(name, partial(self._reading, name))
        self._field("keep", self._keep)
        self._field("finest", self._finest)
        self._sizes("speaker", {"flange": "flange"} | {f"speaker_{n}": n for n in ("length", "width", "depth")})
        self._sizes("decoder", {f"decoder_{n}": n for n in ("length", "width", "height")})
        self._field("width", partial(self._measured, "width", "inside width"))
        self._field("inside_length", partial(self._measured, "inside_length", "inside length"))
        self._clear_space()
        self._field("seating", partial(self._tolerance, "seat", "repeatability"))
        self._field("cutting", partial(self._tolerance, "build", "cutting_tolerance"))

    def _tolerance(self, table: str, key: str, text: str) -> str:
        size = parse_length_exact(text, unit="mm", scale=self.scale or self.document["scale"])
        if size < 0:
            raise OutOfRange("the tolerance", text, "0 or more", "Write 0.1 mm for plus or minus 0.1 mm.")
        self.document[table][key] = text if _names_unit(text) else f"{text} mm"
        return f"±{format_length(size, 'mm')}"

    def _field(self, name: str, read: Callable[[str], str]) -> None:
        text = self.typed[name]
        if not text:
            return
        try:
            self.echoes[name] = read(text)
        except ModelMathError as fault:
            self.messages[name] = str(fault)

    def _scale(self, text: str) -> str:
        self.scale = scale(text)
        self.document["scale"] = self.scale.name
        return f"1:{float(self.scale.ratio):.2f}; a scale foot is {format_length(self.scale.mm_per_foot, 'mm')}"

    def _rule_unit(self, text: str) -> str:
        self.rule_entry["unit"] = unit_name(text)
        return f"figures on the rule count {self._symbol}"

    def _of_rule(self, key: str, text: str) -> str:
        size = self._in_rule_unit(text)
        if size < 0 or (size == 0 and key != "offset_uncertainty"):
            raise OutOfRange(f"the {key.replace('_', ' ')}", text, "above 0", "Leave it empty if you don't know it.")
        self.rule_entry[key] = text
        return format_length(size, "mm")

    @property
    def _symbol(self) -> str:
        unit = str(self.rule_entry["unit"])
        return SYMBOLS.get(unit, unit)

    def _zero_offset(self, text: str) -> str:
        size = self._in_rule_unit(text)
        self.rule_entry["zero_offset"] = text
        fields = {key: value for key, value in self.rule_entry.items() if key != "scale"}
        self.rule = Rule(**fields, scale=self.rule_entry["scale"] or self.scale)
        return f"{format_length(size, 'mm')} from the rule's end to its zero"

    def _in_rule_unit(self, text: str) -> Fraction:
        return parse_length_exact(text, unit=self.rule_entry["unit"], scale=self.scale or self.document["scale"])

    def _reading(self, name: str, text: str) -> str:
        which = self.zone["chassis_top" if name == "chassis" else "underside"]
        entry = next(each for each in self.document["readings"] if each["name"] == which)
        first = self.document["rules"][0]["name"]
        if (entry["rule"] or first) != self.rule_entry["name"] or self.rule is None:
            size = self._in_rule_unit(text)
        else:
            size = self.rule.exact_length(text, entry["datum"])
        entry["mark"] = text
        return f"{format_length(size, 'mm')} above the {entry['taken_from']}, corrected"

    def _keep(self, text: str) -> str:
        # A bare number counts the rule's unit; a unit that is written means what it says, real inches included.
        text = text if _names_unit(text) else f"{text} {self._symbol}"
        size = parse_length_exact(text, scale=self.scale or self.document["scale"])
        if size < 0:
            raise OutOfRange("the clearance", text, "0 or more", "Write the gap to keep, such as 0.5 mm.")
        self.document["clearance"]["keep"] = text
        return f"{format_length(size, 'mm')} kept between bulkhead and chassis"

    def _finest(self, text: str) -> str:
        size = self._in_rule_unit(text)
        if size <= 0:
            raise OutOfRange(
                "the finest mark", text, "above 0", f"Write the distance between marks, in {self._symbol}."
            )
        self.document["marking"]["finest"] = text
        return f"parts are cut to every {format_length(size, 'mm')}"

    def _sizes(self, table: str, fields: dict[str, str]) -> None:
        """Read a part's own sizes: each names its unit, or is in mm."""
        given = {name: self.typed[name] for name in fields if self.typed[name]}
        for name in given:
            self._field(name, self._size)
        if not given:
            self.document[table] = None
            return
        sizes = {fields[name]: text if _names_unit(text) else f"{text} mm" for name, text in given.items()}
        if table == "decoder" and len(sizes) < len(fields):
            self.document[table] = None  # its room is reserved once all three sizes are there
            return
        kept = {key: value for key, value in (self.document[table] or {}).items() if key not in fields.values()}
        self.document[table] = {**kept, **sizes}

    def _size(self, text: str) -> str:
        size = parse_length_exact(text, unit="mm", scale=self.scale or self.document["scale"])
        if size <= 0:
            raise OutOfRange("the size", text, "above 0", "Write what you measured, such as 15 mm.")
        return format_length(size, "mm")

    def _measured(self, name: str, reading: str, text: str) -> str:
        """Read a width or length that the user measured with caliper or steel rule."""
        echo = self._size(text)
        target = self.zone["width"] if name == "width" else (self.document["length"] or {}).get("shell_inside")
        entry = next((each for each in self.document["readings"] if each["name"] == target), None)
        if entry is None:
            self._rule_for_caliper()
            entry = ReadingEntry(name=reading, mark=text, rule=CALIPER, on="shell").model_dump()
            self.document["readings"].append(entry)
        entry["mark"] = text
        if name == "width":
            self.zone["width"] = entry["name"]
        elif self.document["length"] is None:
            # A hood is closed at its nose and open to the cab, so that a bulkhead is due there; the user may say else.
            self.document["length"] = LengthEntry(shell_inside=entry["name"], rear_closed=False).model_dump()
        return echo

    def _rule_for_caliper(self) -> None:
        if all(rule["name"] != CALIPER for rule in self.document["rules"]):
            caliper = {
                **self.document["rules"][0],
                "name": CALIPER,
                "unit": "mm",
                "graduation": "0.1",
                "zero_offset": "0",
            }
            caliper |= {"scale": None, "length": None, "reading_uncertainty": None, "offset_uncertainty": "0"}
            self.document["rules"].append(caliper)

    def _clear_space(self) -> None:
        """Take out width and length once their fields are emptied, where only the fields set them."""
        if not self.typed["width"]:
            self.zone["width"] = None
        if not self.typed["inside_length"] and len(self.document["zones"]) == 1:
            self.document["length"] = None
