"""Quick answers on light, without a job: a resistor for an LED first, then strands, lenses, leads and more."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

import ipywidgets as w

from modelmath.errors import ModelMathError, UnknownChoice
from modelmath.job.entries.light_alone import bulb, gauge, kept_alive, lead, lens, resistor, strand, strings, trimming
from modelmath.job.entries.light_alone.reading import Found
from modelmath.light.lamps.led import LED_KINDS
from modelmath.light.lamps.preferred import SERIES, format_ohm
from modelmath.light.strands.losses import FINISHES
from modelmath.widgets import light_views
from modelmath.widgets.common import look
from modelmath.widgets.common.fields import Field, Fold, page, row, scale_names
from modelmath.widgets.inside.editor import Lines

OLD = "These figures are for the last entries that gave a result."
STILL = "Still to enter: "
TRIED = "one on each line: what was melted, or the length before to after; then the lens's width"
COLOURS = ", ".join(LED_KINDS)
LABELS = {
    "supply": ("Supply at the output", "measured there, such as 12 V, or 12 ± 1 V"),
    "lamp": ("The LED", f"its voltage, such as 3.0 V; or its colour: {COLOURS}"),
    "current": ("Current wanted", "such as 2 mA; empty: 1 mA"),
    "leds": ("LEDs in series", "on this one resistor; empty: 1"),
    "looks": ("It should look", f"beside the current above, such as {trimming.EXAMPLE}"),
    "count": ("LEDs in all", "like the one above, such as 4"),
    "differ": ("Their voltages differ by", "measured at one current, such as 0.05 V"),
    "rated_v": ("The bulb is rated for", "such as 1.5 V"),
    "rated_a": ("It draws at that", "such as 30 mA"),
    "wanted_v": ("It is to get", "such as 1.3 V, to last longer; empty: what it is rated for"),
    "strand": ("Strand", "its diameter, .030 in or 0.75 mm"),
    "run": ("It runs", "from the lamp to where the lens begins, such as 60 mm"),
    "slack": ("Longer by", "so that it lies at ease; empty: nothing"),
    "trim": ("Cut off before use", "a cloudy or crazed end; empty: nothing"),
    "melted": ("Melted into a lens", "as the form below tells; empty: no lens"),
    "emitter": ("What shines is wide", "of the lamp, such as 1.6 mm"),
    "gap": ("Gap before the lamp", "from its face to the strands; empty: none"),
    "strands": ("Strands before it", "side by side; empty: 1"),
    "on_strand": ("Strand", "its diameter, .030 in or 0.75 mm"),
    "bore": ("Bore of the casting", "such as 1.3 mm; the lens follows from it"),
    "play": ("Lens narrower than that by", "empty: 0.1 mm"),
    "prototype": ("Or the prototype's lens", "its diameter, such as 6 in, in the scale beside"),
    "diameter": ("Or the lens itself", "its diameter, such as 1.2 mm"),
    "head": ("Strand to tip", "where longer than a round lens; empty: round"),
    "match": ("Lenses to match", "their diameter; empty: the lens of the form before"),
    "lead_current": ("The lead carries", "such as 100 mA"),
    "lead_run": ("It runs", "from end to end, such as 300 mm; it comes back as far"),
    "most_drop": ("It may lose", "there and back, such as 0.1 V"),
    "capacitance": ("Capacitor", "such as 1000 uF"),
    "full": ("Charged to", "behind the decoder's diodes, such as 14 V"),
    "least": ("The decoder stops at", "from its own sheet, such as 6 V"),
    "load": ("Drawn meanwhile", "motor, sound and lamps, such as 100 mA"),
    "carry": ("A gap to carry over", "such as 0.1 s; empty: none in particular"),
    "charged_by": ("Charged through", "such as 100 ohm; empty: the decoder's own circuit"),
    "bears": ("The capacitor is rated for", "such as 25 V; empty: not judged"),
}
CHOICES: dict[str, tuple[str, str, tuple[str, ...]]] = {
    "series": ("Resistors at hand", "how many values from 1 to 10, by IEC 60063", tuple(SERIES)),
    "lamp_end": ("Its end at the lamp", "cut square, polished, or cloudy", FINISHES),
    "far_end": ("Its other end", "a lens melted on it counts as polished", FINISHES),
    "scale": ("Scale", "for the prototype's lens", tuple(scale_names())),
    "made_of": ("The wire is", "7 thin strands, or one piece", lead.MADE_OF),
}
LINES = {
    "bends": ("Bends", f"one on each line, angle and inside radius, such as {strand.BEND_EXAMPLE}"),
    "trials": ("Trial ends", f"{TRIED}, such as {lens.TRIAL_EXAMPLE}"),
}


@dataclass(frozen=True)
class Question:
    """One form of the page: what it asks and how its answer is read and shown."""

    title: str
    above: str
    fields: tuple[str, ...]
    uses: tuple[str, ...]  # fields of another form that it goes by
    demo: Mapping[str, str]
    read: Callable[[Mapping[str, str]], Found[Any]]
    view: Callable[[Any], str]


FIRST = Question("", "", resistor.FIELDS, (), resistor.DEMO, resistor.read_resistor, light_views.resistor)
QUESTIONS = {
    "trimming": Question(
        "Dimmer: how bright it should look", "Supply, LED and full current are those above.",
        trimming.FIELDS, trimming.USES, trimming.DEMO, trimming.read_trimming, light_views.trimming,
    ),
    "strings": Question(
        "Several LEDs: strings, and why each needs a resistor", "Supply, LED and current are those above.",
        strings.FIELDS, strings.USES, strings.DEMO, strings.read_strings, light_views.strings,
    ),
    "bulb": Question(
        "A bulb in place of an LED", "Supply and resistors at hand are those above.",
        bulb.FIELDS, bulb.USES, bulb.DEMO, bulb.read_bulb, light_views.bulb,
    ),
    "strand": Question(
        "A strand: its length and the light it loses", "From the lamp to where its lens begins, or to its end.",
        strand.FIELDS, (), strand.DEMO, strand.read_strand, light_views.strand,
    ),
    "lens": Question(
        "A lens melted on a strand", "By the casting's bore, the prototype's lens, or its own diameter: one of them.",
        lens.FIELDS, (), lens.DEMO, lens.read_lens, light_views.lens,
    ),
    "gauge": Question(
        "A strip of holes to match two lenses by", "Each lens is to pass one hole and to stop at the next smaller one.",
        gauge.FIELDS, gauge.USES, gauge.DEMO, gauge.read_gauge, light_views.gauge,
    ),
    "lead": Question(
        "Which wire for a lead", "The thinnest that loses no more than is allowed.",
        lead.FIELDS, (), lead.DEMO, lead.read_lead, light_views.lead,
    ),
    "kept_alive": Question(
        "A capacitor against dirty rail", "Only where the decoder's own sheet shows how it is connected.",
        kept_alive.FIELDS, (), kept_alive.DEMO, kept_alive.read_kept_alive, light_views.kept_alive,
    ),
}  # fmt: skip


class Asked:
    """One question with its fields and the answer below them, worked out again only for other entries.

    Parameters
    ----------
    question : Question
        What is asked. [-]
    fields : mapping of str to Field
        All fields of the page, by name. [-]
    """

    def __init__(self, question: Question, fields: Mapping[str, Field]) -> None:
        self.question = question
        self.all_fields, self.fields = fields, {name: fields[name] for name in question.fields}
        self.place = w.HTML()
        self.answer: Any = None
        self._for: dict[str, str] = {}  # the entries that it was last worked out for
        wide = [field.view for field in self.fields.values() if isinstance(field, Lines)]
        narrow = row(*(field for field in self.fields.values() if not isinstance(field, Lines)))
        above = [w.HTML(look.paragraph(question.above, "mm-soft"))] if question.above else []
        self.view = w.VBox([*above, narrow, *wide, self.place])

    def refresh(self) -> None:
        """Work it out, if its entries are others than before."""
        typed = {name: self.all_fields[name].value for name in (*self.question.fields, *self.question.uses)}
        if typed == self._for:
            return
        self._for = typed
        found = self.question.read(typed)
        for name, field in self.fields.items():
            field.show(found.echoes.get(name), found.messages.get(name))
        if found.messages:
            self.place.value = look.stale(self.place.value, OLD)
            return
        self.answer = found.answer
        self.place.value = self._shown(found)

    def _shown(self, found: Found[Any]) -> str:
        if found.answer is None:
            return look.paragraph(f"{STILL}{'; '.join(found.waiting)}.")
        try:
            return self.question.view(found.answer)
        except ModelMathError as reason:
            return look.problem(str(reason))


class Folded(Asked):
    """A question that is folded away, and worked out once it is open.

    Parameters
    ----------
    question : Question
        What is asked. [-]
    fields : mapping of str to Field
        All fields of the page, by name. [-]
    """

    def __init__(self, question: Question, fields: Mapping[str, Field]) -> None:
        super().__init__(question, fields)
        fold = Fold(question.title, self.view)
        self.head, self.view = fold.head, fold.view
        self.head.observe(lambda _change: self.refresh(), names="value")

    def refresh(self) -> None:
        """Work it out where it is open, if its entries are others than before."""
        if self.head.value:
            super().refresh()


class LightPanel:
    """Resistors, strings, bulbs, strands, lenses, leads and a keep-alive, each by a few entries.

    Parameters
    ----------
    entries : mapping of str to str or None
        What to begin with, by field, over the examples shown first. [-]
    """

    def __init__(self, entries: Mapping[str, str] | None = None) -> None:
        questions = (FIRST, *QUESTIONS.values())
        names = tuple(name for question in questions for name in question.fields)
        begin = {name: text for question in questions for name, text in question.demo.items()}
        for name, text in (entries or {}).items():
            if name not in names:
                raise UnknownChoice("an entry of this page", name, names)
            begin[name] = text
        self.fields = {name: _field(name, begin[name]) for name in names}
        self.first = Asked(FIRST, self.fields)
        self.folds = {name: Folded(question, self.fields) for name, question in QUESTIONS.items()}
        self.view = page(
            self.first.view,
            w.HTML(look.heading("More, when you want it")),
            *(fold.view for fold in self.folds.values()),
        )
        for field in self.fields.values():
            field.on_change(self._refresh)
        self._refresh()

    def _refresh(self) -> None:
        for asked in (self.first, *self.folds.values()):
            asked.refresh()

    @property
    def summary(self) -> str:
        """The answer to the first question, in plain language."""
        found = self.first.answer
        if found is None:
            return "Nothing is worked out yet."
        beside = " and ".join(format_ohm(each.ohm) for each in (found.lower, found.higher))
        return f"{found.circuit.in_words}\nThe next values: {beside}."


def _field(name: str, text: str) -> Field:
    if name in CHOICES:
        label, hint, options = CHOICES[name]
        return Field(label, hint, text, options)
    if name in LINES:
        lines = Lines(*LINES[name])
        lines.value = text
        return lines
    return Field(*LABELS[name], text)
