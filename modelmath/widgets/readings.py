"""One reading: its corrected length in mm, inch and scale feet, and how sure it is."""

from __future__ import annotations

import ipywidgets as w

from modelmath.errors import ModelMathError
from modelmath.job.entries.repeated import marks_of
from modelmath.lengths.rules import DATUMS, Rule
from modelmath.lengths.rules.readings import Reading
from modelmath.lengths.scales import scale
from modelmath.lengths.text import format_length, three_ways
from modelmath.widgets.common import look
from modelmath.widgets.common.fields import UNITS, Field, page, row, scale_names

TABLES = '<p>Many readings, or several rules: <a href="tables.ipynb">a table of them</a>.</p>'


class ReadingsPanel:
    """A rule, and a reading taken with it."""

    def __init__(self) -> None:
        self.fields = {
            "scale": Field("Scale", "whose feet and inches the rule shows", options=scale_names()),
            "unit": Field("The rule's figures count", "what its printed 1, 2, 3 stand for", options=UNITS),
            "graduation": Field("Distance between its finest marks", "1/4 for quarter feet", "1/4"),
            "zero_offset": Field("Its zero stands in from its end by", "in the rule's unit; 0 for none", "1"),
            "datum": Field("What stands against the part", "the rule's end, or its zero mark", options=DATUMS),
            "mark": Field("Reading", "as on the rule, such as 5 3/4; the same spot again: 6; 6 1/8; 6", "5 3/4"),
        }
        self.answer = w.HTML()
        for field in self.fields.values():
            field.on_change(self._refresh)
        f = self.fields
        self.view = page(
            row(f["scale"], f["unit"], f["graduation"], f["zero_offset"], f["datum"]),
            w.HTML(look.heading("One reading")),
            row(f["mark"]),
            self.answer,
            w.HTML(TABLES),
        )
        self._refresh()

    def _rule(self) -> Rule | None:
        """Return the rule, or say beside its fields what is wrong."""
        f = self.fields
        try:
            rule = Rule(f["unit"].value, f["scale"].value, f["graduation"].value, f["zero_offset"].value)
        except ModelMathError as reason:
            wrong = "zero_offset" if self._reads(f["graduation"].value) else "graduation"
            f[wrong].show(wrong=str(reason))
            return None
        f["graduation"].show(format_length(rule.graduation_mm, "mm"))
        f["zero_offset"].show(f"{format_length(rule.offset_mm, 'mm')} from the rule's end to its zero")
        return rule

    def _reads(self, graduation: str) -> bool:
        try:
            Rule(self.fields["unit"].value, self.fields["scale"].value, graduation)
        except ModelMathError:
            return False
        return True

    def _refresh(self) -> None:
        rule = self._rule()
        mark = self.fields["mark"]
        if rule is None:
            mark.show()
            self.answer.value = look.stale(self.answer.value)
            return
        try:
            reading = self._reading(rule)
        except ModelMathError as reason:
            mark.show(wrong=str(reason))
            self.answer.value = look.stale(self.answer.value)
        else:
            mark.show()
            self.answer.value = self._one(reading)

    def _reading(self, rule: Rule) -> Reading:
        first, again = marks_of(self.fields["mark"].value)
        return Reading("reading", rule, first, self.fields["datum"].value, again=tuple(again))

    def _one(self, reading: Reading) -> str:
        feet, inches, mm = three_ways(reading.measured.exact_mm, scale(self.fields["scale"].value))
        u = format_length(reading.measured.u_mm, "mm")
        what, of = "Length", "this reading"
        if reading.again:
            what, of = f"Length, the mean of {len(reading.repeats.marks_mm)} readings", "the mean"
        verdict = look.paragraph(reading.repeats.verdict, "mm-soft") if reading.again else ""
        return (
            f'<div class="mm-card" role="status"><dl><dt>{what}</dt><dd class="mm-big">{look.text(feet)} &nbsp; '
            f"{look.text(inches)} &nbsp; {look.text(mm)}</dd><dt>Standard uncertainty of {of}</dt>"
            f"<dd>{look.text(u)}</dd></dl>{verdict}</div>"
        )

    @property
    def summary(self) -> str:
        """The one reading in plain language, or what is wrong with an entry."""
        f = self.fields
        try:
            rule = Rule(f["unit"].value, f["scale"].value, f["graduation"].value, f["zero_offset"].value)
            reading = self._reading(rule)
        except ModelMathError as reason:
            return str(reason)
        return f"{f['mark'].value} read from the {f['datum'].value}: " + ", ".join(
            three_ways(reading.measured.exact_mm, scale(f["scale"].value))
        )
