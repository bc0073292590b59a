"""Reads what was typed by the rule that each reading has, and by that rule's own scale."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from contextlib import contextmanager
from fractions import Fraction
from typing import Any

from modelmath.errors import ModelMathError, UnreadableLength, shown
from modelmath.job.document import ReadingEntry
from modelmath.job.entries.repeated import marks_of
from modelmath.job.entries.typed import CALIPER, TypedReader, names_unit
from modelmath.job.entries.unread import unread_in
from modelmath.job.next_model.copying import NOT_MEASURED
from modelmath.job.rescaled.own_scale import unit_in_words
from modelmath.lengths.rules import Rule
from modelmath.lengths.scales import scale
from modelmath.lengths.text import format_length

DECIMALS = 9  # of a mm: far below any part
_HEIGHTS = {"chassis": "chassis_top", "shell": "underside"}  # of a zone, by their fields


class OwnRuleReader(TypedReader):
    """Reads the fields one by one, each number by the rule it was read with.

    A job from another scale keeps its scale rule, which is not of the job's scale, and has its readings in mm on a rule
    of their own; what stands beside a field must be what the plan makes of it.

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

    @property
    def _unit_in_words(self) -> str:
        """The rule's unit, with its scale where that is not the job's."""
        own = self.rule_entry["scale"]
        return unit_in_words(str(self.rule_entry["unit"]), None if own is None else scale(own), self.scale)

    @property
    def _is_of_another_scale(self) -> bool:
        return self._unit_in_words != self._symbol

    def _rule_unit(self, text: str) -> str:
        return super()._rule_unit(text).replace(self._symbol, self._unit_in_words)

    def _in_rule_unit(self, text: str) -> Fraction:
        own, kept = self.rule_entry["scale"], self.scale
        if own is None:
            return super()._in_rule_unit(text)
        self.scale = scale(own)
        try:
            return super()._in_rule_unit(text)
        finally:
            self.scale = kept

    def _keep(self, text: str) -> str:
        # The clearance counts feet of the job's scale: a bare number, which counts the rule's, is kept in mm.
        if self._is_of_another_scale and not names_unit(text):
            text = f"{f'{float(self._in_rule_unit(text)):.{DECIMALS}f}'.rstrip('0').rstrip('.')} mm"
        return super()._keep(text)

    def _reading(self, name: str, text: str) -> str:
        if self.zone[_HEIGHTS[name]] is None:
            problem = f"over {shown(self.zone['name'])} the gap itself is read"
            raise UnreadableLength(text, problem, "nothing here, or take the gap out of the table of zones first")
        own = self._rule_of(_HEIGHTS[name])
        if own is self.rule_entry:
            return super()._reading(name, text)
        with self._reading_with(own):
            said = super()._reading(name, text)
            return f"{said}; read in {self._unit_in_words}, rule: {own['name']}"

    def _clear_space(self) -> None:
        """Take out width and length once their fields are emptied; a reading still to be taken has an empty field."""
        typed, unread = self.typed, unread_in(self.document)
        places = {"width": self.zone["width"], "inside_length": (self.document["length"] or {}).get("shell_inside")}
        to_take = {field: NOT_MEASURED for field, reading in places.items() if reading in unread and not typed[field]}
        self.typed = {**typed, **to_take}
        super()._clear_space()
        self.typed = typed

    def _measured(self, name: str, reading: str, text: str) -> str:
        said = super()._measured(name, reading, text)
        if name == "inside_length":
            self._ask_where_zones_end()
        return said

    def _ask_where_zones_end(self) -> None:
        """Ask for the end of every zone but the last, now that the length they part is known."""
        taken = {each["name"] for each in self.document["readings"]}
        for zone in self.document["zones"][:-1]:
            if zone["end"] is None:
                names = (f"end of {zone['name']}{'' if count == 1 else f' {count}'}" for count in range(1, 1000))
                name = next(each for each in names if each not in taken)
                taken.add(name)
                zone["end"] = name
                self._rule_for_caliper()
                entry = ReadingEntry(name=name, mark=NOT_MEASURED, rule=CALIPER, on="shell")
                self.document["readings"].append(entry.model_dump())

    def put_off(self, waiting: Collection[str]) -> None:
        """Write ``not measured`` where a field of the first screen is empty, so that nothing older stands there.

        Parameters
        ----------
        waiting : collection of str
            The fields that are empty. [-]

        References
        ----------
        None needed.
        """
        heights = {self.zone[key] for field, key in _HEIGHTS.items() if field in waiting}
        for entry in self.document["readings"]:
            if entry["name"] in heights:
                entry |= {"mark": NOT_MEASURED, "again": []}
        if "zero_offset" in waiting:
            self.rule_entry |= {"zero_offset": NOT_MEASURED, "calibrated_at": None}
        if "keep" in waiting:
            self.document["clearance"]["keep"] = NOT_MEASURED

    def on_screen(self, waiting: Collection[str]) -> set[str]:
        """Return the readings whose fields on the first screen are empty.

        Parameters
        ----------
        waiting : collection of str
            The fields that are empty. [-]

        Returns
        -------
        set of str
            Names of readings. [-]

        References
        ----------
        None needed.
        """
        return {str(self.zone[key]) for field, key in _HEIGHTS.items() if field in waiting}

    def read_one(self, name: str, text: str, height: bool) -> str:
        """Read the mark of one reading, whichever it is, with its own rule, into the document.

        Parameters
        ----------
        name : str
            The reading's name. [-]
        text : str
            As typed. [rule's unit]
        height : bool
            Whether it is a height, rather than a width or a place along the length. [-]

        Returns
        -------
        str
            What it was understood as. [mm]

        Raises
        ------
        ModelMathError
            If it can't be read.

        References
        ----------
        None needed.
        """
        self._scale(self.document["scale"])
        self.rule = self._made(self.rule_entry)
        entry = next(each for each in self.document["readings"] if each["name"] == name)
        self.zone = {**self.zone, "chassis_top": name}
        if height:
            return self._reading("chassis", text)
        with self._reading_with(self._rule_of("chassis_top")):
            mark, again = marks_of(text)
            marks = [self._in_rule_unit(each) for each in (mark, *again)]
        entry |= {"mark": mark, "again": again}
        size = format_length(sum(marks, Fraction(0)) / len(marks), "mm")
        return f"{size}{f', the mean of {len(marks)} readings' if again else ''}"

    def _rule_of(self, field: str) -> dict[str, Any]:
        """Return the rule that a height of the zone is read with."""
        entry = next(each for each in self.document["readings"] if each["name"] == self.zone[field])
        rules: list[dict[str, Any]] = self.document["rules"]
        wanted = entry["rule"] or rules[0]["name"]
        return next((each for each in rules if each["name"] == wanted), self.rule_entry)

    @contextmanager
    def _reading_with(self, own: dict[str, Any]) -> Iterator[None]:
        """Read with another rule than the one that parts are marked out with."""
        kept = self.rule_entry, self.rule
        try:
            self.rule_entry, self.rule = own, self._made(own)
            yield
        finally:
            self.rule_entry, self.rule = kept

    def _made(self, own: dict[str, Any]) -> Rule | None:
        """Return a rule of the document; None where something in it is wrong, which the plan says of the rule."""
        fields = {key: value for key, value in own.items() if key != "scale"}
        try:
            return Rule(**fields, scale=own["scale"] or self.scale)
        except ModelMathError:
            return None
