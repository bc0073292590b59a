"""Reads what was typed by the rule that each reading has, and by that rule's own scale."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from fractions import Fraction
from typing import Any

from modelmath.errors import ModelMathError
from modelmath.job.entries.typed import TypedReader, names_unit
from modelmath.job.rescaled.own_scale import unit_in_words
from modelmath.lengths.rules import Rule
from modelmath.lengths.scales import scale

DECIMALS = 9  # of a mm: far below any part


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
        own = self._rule_of("chassis_top" if name == "chassis" else "underside")
        if own is self.rule_entry:
            return super()._reading(name, text)
        with self._reading_with(own):
            said = super()._reading(name, text)
            return f"{said}; read in {self._unit_in_words}, rule: {own['name']}"

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
