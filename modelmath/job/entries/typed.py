"""Reads what was typed, field by field, into a copy of a job document."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from functools import partial
from typing import Any

from modelmath.errors import ModelMathError, OutOfRange, UnreadableLength
from modelmath.job.document import DecoderEntry, Entry, LengthEntry, ReadingEntry, SpeakerEntry
from modelmath.job.entries.repeated import marks_of
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.plain import LONGEST
from modelmath.lengths.refusals import EXAMPLE
from modelmath.lengths.rules import Rule
from modelmath.lengths.scales import Scale, scale
from modelmath.lengths.text import SYMBOLS, format_length
from modelmath.lengths.units import SCALE_UNITS, unit_name

BARE = "a number such as 3 3/4 or 3.75, or a size with its unit, such as 15.9 mm"
COARSEST_MM = 25  # marks further apart are no marks to cut to, in any scale; common practice, no source
CALIPER = "caliper or steel rule"  # a rule without an offset, for widths and lengths
# One number with inches or feet: on a scale rule it may be meant either way. Feet with inches are a mark of the rule.
_FRACTION = re.compile(r"[/⁄∕¼-¾⅐-⅞]")
_ZERO_BELOW = re.compile(r"[/⁄∕]\s*0+\s*$")  # refused for that, whatever its unit would be
_REAL_OR_SCALE = re.compile(r"[^a-z'\"’”′″]*(?:in\.?|inch|inches|ft\.?|feet|foot|'|\"|’|”|′|″)")


def names_unit(text: str) -> bool:
    """Whether a unit is written; a text that can't be read at all is left as it is, for its own message.

    Parameters
    ----------
    text : str
        As typed. [-]

    Returns
    -------
    bool
        True if a letter, or a foot or inch sign, stands in it. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> names_unit("3 3/4"), names_unit("15.9 mm")
    (False, True)
    """
    return re.search(r"[^\W\d_]|['\"′″’”]", text) is not None


class TypedReader:
    """Reads the fields one by one into a copy of the base document.

    Parameters
    ----------
    typed : dict of str to str
        By field, as typed. [-]
    document : dict
        A copy of the job document, changed as the fields are read. [-]
    zone : int
        The zone that the readings belong to. [-]

    References
    ----------
    None needed.
    """

    def __init__(self, typed: dict[str, str], document: dict[str, Any], zone: int) -> None:
        self.typed = typed
        self.document = document
        self.zone = self.document["zones"][zone]
        self.rule_entry = next(r for r in self.document["rules"] if r["name"] == self.document["marking"]["rule"])
        self.echoes: dict[str, str] = {}
        self.messages: dict[str, str] = {}
        self.scale: Scale | None = None
        self.rule: Rule | None = None

    def read(self) -> None:
        """Read every field that is filled in."""
        self._field("scale", self._scale)
        self._field("rule_unit", self._rule_unit)
        for name, key in (
            ("graduation", "graduation"),
            ("rule_length", "length"),
            ("read_to", "read_to"),
            ("reading_u", "reading_uncertainty"),
            ("offset_u", "offset_uncertainty"),
        ):
            self._field(name, partial(self._of_rule, key))
            if not self.typed[name] and key in ("read_to", "reading_uncertainty"):
                self.rule_entry[key] = None  # an emptied field means to the nearest mark again
        self._field("zero_offset", self._zero_offset)
        for name in ("chassis", "shell"):
            self._field(name, partial(self._reading, name))
        self._field("keep", self._keep)
        self._field("finest", self._finest)
        if self.rule is not None and not self.typed["graduation"] and "finest" in self.echoes:
            self.rule_entry["graduation"] = self.typed["finest"]  # read as finely as it is set
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
        self.document[table][key] = text if names_unit(text) else f"{text} mm"
        return f"±{format_length(size, 'mm')}"

    def _field(self, name: str, read: Callable[[str], str]) -> None:
        text = self.typed[name]
        if not text:
            return
        try:
            self.echoes[name] = read(text)
        except UnreadableLength as fault:
            # A bare number is right in every field, so the advice must not ask for a unit.
            write = BARE if fault.write == EXAMPLE else fault.write
            self.messages[name] = str(UnreadableLength(fault.given, fault.problem, write))
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
        last = self.rule_entry["length"]
        if last is not None and size >= self._in_rule_unit(last):
            raise OutOfRange("the zero mark", text, "nearer the end than the last mark", "Write how far it stands in.")
        if text != self.rule_entry["zero_offset"]:
            self.rule_entry["calibrated_at"] = None  # a zero that is typed is no longer the calibration's
        self.rule_entry["zero_offset"] = text
        fields = {key: value for key, value in self.rule_entry.items() if key != "scale"}
        self.rule = Rule(**fields, scale=self.rule_entry["scale"] or self.scale)
        return f"{format_length(size, 'mm')} from the rule's end to its zero"

    def _in_rule_unit(self, text: str) -> Fraction:
        if self.rule_entry["unit"] in SCALE_UNITS and _REAL_OR_SCALE.fullmatch(text.casefold().strip()):
            bare = text.rstrip("'\"’”′″ .abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ")
            unit = "in" if re.search(r"[\"”″]|in", text.casefold()) else "ft"
            raise UnreadableLength(
                text, "that may be a real or a scale unit", f"{bare} scale {unit}, {bare} real {unit}, or a bare number"
            )
        return parse_length_exact(text, unit=self.rule_entry["unit"], scale=self.scale or self.document["scale"])

    def _reading(self, name: str, text: str) -> str:
        which = self.zone["chassis_top" if name == "chassis" else "underside"]
        entry = next(each for each in self.document["readings"] if each["name"] == which)
        first = self.document["rules"][0]["name"]
        mark, again = marks_of(text)
        marks = [self._in_rule_unit(each) for each in (mark, *again)]
        shown = sum(marks, Fraction(0)) / len(marks)
        if (entry["rule"] or first) != self.rule_entry["name"] or self.rule is None:
            size = shown
        else:
            sizes = [self.rule.exact_length(each, entry["datum"]) for each in (mark, *again)]
            size = sum(sizes, Fraction(0)) / len(sizes)
        entry["mark"], entry["again"] = mark, again
        mean = f", the mean of {len(marks)} readings" if again else ""
        height = f"{format_length(size, 'mm')} above the {entry['taken_from']}{mean}"
        if shown == size:
            return height
        zero = Fraction(0) if self.rule is None else self.rule.zero_mm(entry["datum"])
        stretch = size - shown - zero
        error = f" and {format_length(stretch, 'mm')} for its scale error" if stretch else ""
        return f"{height}: {format_length(shown, 'mm')} and {format_length(zero, 'mm')} for the rule's zero{error}"

    def _keep(self, text: str) -> str:
        # A bare number counts the rule's unit; a unit that is written means what it says, real inches included.
        text = text if names_unit(text) else f"{text} {self._symbol}"
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
        if size >= COARSEST_MM:
            raise OutOfRange(
                "the finest mark",
                f"{text} {self._symbol}",
                f"under {COARSEST_MM} mm",
                "Write the distance between the marks that you set the rule to, such as 1/4.",
            )
        self.document["marking"]["finest"] = text
        return f"parts are cut to every {format_length(size, 'mm')}"

    def _sizes(self, table: str, fields: dict[str, str]) -> None:
        """Read a part's own sizes: each names its unit, or is in mm."""
        given = {name: self.typed[name] for name in fields if self.typed[name]}
        for name in given:
            self._field(name, self._size)
        sizes = {fields[name]: text if names_unit(text) else f"{text} mm" for name, text in given.items()}
        old = self.document[table]
        kept = {key: value for key, value in (old or {}).items() if key not in fields.values()}
        if len(given) == len(fields) or (table == "speaker" and given):
            self.document[table] = {**kept, **sizes}
        elif old is None:
            return  # the room of a decoder is reserved once all three sizes are there
        elif table == "speaker":
            self._without_speaker(old, kept)
        else:
            self._without_decoder(kept, fields)

    def _without_speaker(self, old: dict[str, Any], kept: dict[str, Any]) -> None:
        """Keep how a speaker without sizes sits, for the sizes of the next one."""
        if all(old[key] is None for key in old if key not in kept):
            return
        own = _not_usual(SpeakerEntry, kept)
        self.document["speaker"] = kept if own else None
        if own:
            self.echoes["flange"] = f"No speaker now; what was entered for it is kept: {own}"

    def _without_decoder(self, kept: dict[str, Any], fields: dict[str, str]) -> None:
        """Ask for a size that is missing, or take the decoder out once all are, and say what goes with it."""
        missing = [name for name in fields if not self.typed[name]]
        if len(missing) < len(fields):
            for name in missing:
                self.messages[name] = f"Write the decoder's {fields[name]}, or empty all three to take it out."
            return
        self.document["decoder"] = None
        own = _not_usual(DecoderEntry, kept)
        if own:
            self.echoes[missing[0]] = f"No decoder now; what was entered for it goes too: {own}"

    def _size(self, text: str) -> str:
        told = len(text) <= LONGEST and not names_unit(text)  # a pasted page is refused below, and not said again
        if told and _FRACTION.search(text) and not _ZERO_BELOW.search(text):
            raise UnreadableLength(
                text, "a fraction here may be of an inch or of a mm", f"{text} in, or the size in mm"
            )
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
            taken = {each["name"] for each in self.document["readings"]}
            names = (reading if count == 1 else f"{reading} {count}" for count in range(1, len(taken) + 2))
            own = next(name for name in names if name not in taken)
            entry = ReadingEntry(name=own, mark=text, rule=CALIPER, on="shell").model_dump()
            self.document["readings"].append(entry)
        elif text != with_unit(self.document, entry):  # else it stays as it was written
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
        """Take out width and length once their fields are emptied, where nothing else goes by them."""
        if not self.typed["width"]:
            self.zone["width"] = None
        length = self.document["length"]
        if self.typed["inside_length"] or length is None:
            return
        by_it = {
            "the zones": len(self.document["zones"]) > 1,
            "the fore-aft mark": length["mark"] is not None,
            "how far the shell shifts": length["end_play"] != LengthEntry.model_fields["end_play"].default,
            "what stands in the shell": bool(self.document["obstacles"]),
            "what moves in it": bool(self.document["moving"]),
        }
        found = [what for what, there in by_it.items() if there]
        if found:
            self.messages["inside_length"] = f"Write the length: it is needed for {', '.join(found)}."
        else:
            self.document["length"] = None


def with_unit(document: dict[str, Any], entry: dict[str, Any]) -> str:
    """Return the first mark of a reading with its rule's unit, for a field that has no unit of its own.

    Parameters
    ----------
    document : dict
        The document. [-]
    entry : dict
        The reading, as in the document. [-]

    Returns
    -------
    str
        As written where it names its unit. [-]

    References
    ----------
    None needed.
    """
    mark, rules = str(entry["mark"]), document["rules"]
    rule = next((each for each in rules if each["name"] == (entry["rule"] or rules[0]["name"])), rules[0])
    return mark if names_unit(mark) else f"{mark} {SYMBOLS.get(rule['unit'], rule['unit'])}"


def _not_usual(model: type[Entry], kept: dict[str, Any]) -> str:
    """Return what of a table is not as usual, in words."""
    own = {key: value for key, value in kept.items() if value != model.model_fields[key].default}
    words = {True: "yes", False: "no"}
    return ", ".join(f"{key.replace('_', ' ')} {words.get(value, value)}" for key, value in own.items())
