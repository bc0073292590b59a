"""What this chamber will do, without a job: a speaker, a chamber and a decoder in, sound and load out."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import ipywidgets as w

from modelmath.errors import ModelMathError, UnknownChoice
from modelmath.job.entries.chamber_sound import DEMO, FIELDS, Entered, read_entries
from modelmath.job.sound.alone import Alone
from modelmath.job.sound.driven import Driven
from modelmath.job.sound.plain import beyond_theory, beyond_travel, heard_as
from modelmath.quantities.text import told
from modelmath.sound.closed_box.stuffing import STUFFINGS, UNFILLED
from modelmath.sound.driver.driver import LABELS
from modelmath.widgets import sound_views
from modelmath.widgets.common import look
from modelmath.widgets.common.fields import Field, Fold, page, row
from modelmath.widgets.inside.editor import Lines

View = Callable[[Entered], str]

FIRST = {
    "length": ("Speaker's outside length", "or its diameter, with its unit"),
    "width": ("Speaker's outside width", "empty for a round one"),
    "impedance": ("Its rated impedance", "such as 8 ohm"),
    "power": ("Its rated power", "such as 1 W; empty: not known"),
    "chamber": ("The sealed chamber", "net volume, 2.5 cm3; or inside length x width x height, 30 x 12 x 9 mm"),
    "least": ("Decoder drives at least", "from its own sheet, such as 4 ohm"),
}
SPEAKER = {
    "fs": ("Resonance in free air, fs", "such as 450 Hz"),
    "qts": ("Total Q, Qts", "how much it rings in free air; such as 0.9"),
    "qes": ("Electrical Q, Qes", "such as 1.1"),
    "qms": ("Mechanical Q, Qms", "such as 4"),
    "vas": ("Equivalent volume, Vas", "such as 2.5 cm3"),
    "sd": ("Cone area, Sd", "such as 110 mm2"),
    "re": ("Voice coil resistance, Re", "by an ohmmeter, such as 7.2 ohm"),
    "xmax": ("Cone travel one way, Xmax", "such as 0.4 mm"),
    "mms": ("Moving mass, Mms", "such as 0.15 g"),
}
WISHED = {"wanted_q": ("Wanted Qtc", "0.7 is flat, 1 rings a little; empty: none in particular")}
DECODER = {
    "out_power": ("Decoder gives at most", "from its own sheet, such as 2 W"),
    "into": ("That power is into", "such as 8 ohm"),
    "most": ("Decoder drives at most", "from its own sheet; empty: no limit stated"),
    "supply": ("Its output stage runs on", "from its own sheet, such as 14 V"),
    "drop": ("Lost in that stage", "from its own sheet, such as 1 V"),
    "count": ("Speakers like this one", "how many in all, 1 to 6; each counts in a chamber of its own"),
}
LEAKS = {
    "wall": ("Thickness of the walls", "with its unit"),
    "hole": ("A wire hole left open", "its diameter with its unit; empty: none"),
    "joint": ("Length of the joint", "all the way along it; empty: round one end"),
}
LONGEST = {"longest": ("Longest inside length", "where only the volume is entered above")}
BEGIN = {**DEMO, "count": "1", "wall": "1 mm", "hole": "2 mm"}

MORE = (
    "Only what you know: each with its unit, how far off it may be, and where it comes from, such as 450 ± 30 Hz, "
    "measured. What is left empty is derived from the others, or bounded."
)
FILLING = (
    "Qtc, the total Q in the chamber, tells how much the sound rings at its resonance: 0.71 is flat. One below the "
    "speaker's own total Q, Qts, can't be had; a larger chamber is always flatter."
)
ALSO = "each in a chamber of its own, one on a line, such as rear; 8 ohm; 1 W"
SHARED = "Two like speakers in one chamber have half of it each: enter half its volume."
OLD = "These figures are for the last entries that gave a result."
DRIVES = "Can the decoder drive it"
STILL = "Still to enter: "
PARAMETER_HEADS = ("Parameter", "Counted with", "Limits", "Where from")
THEORY = (
    "The level is that of a speaker in a large wall. A small model standing free gives less at low frequencies.",
    "The inductance of the voice coil is left out; it takes some of the highest notes.",
    "The cone is taken to move freely and but little. Close to its travel it distorts, and the level grows no more.",
    "The chamber is taken as rigid and sealed. Thin walls that sound along take some of the low notes.",
    "What the grille, the floor's openings and the shell let through is not counted.",
)


class Part(Fold):
    """A part that is worked out once it is open, and again only when other entries are there.

    Parameters
    ----------
    title : str
        What is inside. [-]
    view : callable
        What it shows of the entries, as HTML. [-]
    within : sequence of Widget
        What stands above that. [-]
    fields : sequence of str
        Names of the entries inside. [-]
    """

    def __init__(self, title: str, view: View, within: Sequence[w.Widget] = (), fields: Sequence[str] = ()) -> None:
        self.place, self.fields = w.HTML(), tuple(fields)
        self._view = view
        self._entered: Entered | None = None
        super().__init__(title, w.VBox([*within, self.place]))
        self.head.observe(lambda _change: self._catch_up(), names="value")

    def show(self, entered: Entered) -> None:
        """Show what the entries come to, now where it is open, else once it is opened."""
        self._entered = entered
        self._catch_up()

    def keep(self) -> None:
        """Keep what it shows, marked as that to earlier entries."""
        self._catch_up()
        self.place.value = look.stale(self.place.value, OLD)

    def _catch_up(self) -> None:
        if self.head.value and self._entered is not None:
            entered, self._entered = self._entered, None
            self.place.value = _or_reason(self._view, entered)


class SoundPanel:
    """A speaker in a sealed chamber, and the decoder that drives it.

    Parameters
    ----------
    entries : mapping of str to str or None
        What to begin with, by field, over the example shown first. [-]
    """

    def __init__(self, entries: Mapping[str, str] | None = None) -> None:
        begin = {**BEGIN, **(entries or {})}
        for name in begin:
            if name not in FIELDS:
                raise UnknownChoice("an entry of this page", name, FIELDS)
        groups = (FIRST, SPEAKER, WISHED, DECODER, LEAKS, LONGEST)
        self.fields = {
            name: Field(label, hint, begin.get(name, "")) for group in groups for name, (label, hint) in group.items()
        }
        self.fields["stuffing"] = Field(
            "The chamber is", "wadding put into it, or none", options=list(STUFFINGS), value=begin.get("stuffing", "")
        )
        self.fields["also"] = Lines("Other speakers on the same output", ALSO)
        self.fields["also"].value = begin.get("also", "")
        self.answer, self.charts = w.HTML(), w.HTML()
        self.entered: Entered | None = None
        self.found: Alone | None = None
        self.folds = self._folds()
        self.view = page(
            self._row(FIRST),
            self.answer,
            self.charts,
            w.HTML(look.heading("More, when you want it")),
            *(fold.view for fold in self.folds.values()),
        )
        for field in self.fields.values():
            field.on_change(self._refresh)
        self._refresh()

    def _row(self, *groups: Mapping[str, object] | Sequence[str]) -> w.HBox:
        return row(*(self.fields[name] for group in groups for name in group))

    def _folds(self) -> dict[str, Part]:
        wished = ("stuffing", *WISHED)
        decoder = (self._row(DECODER), self.fields["also"].view, _soft(SHARED))
        return {
            "speaker": Part("More about the speaker", _counted_with, (_soft(MORE), self._row(SPEAKER)), tuple(SPEAKER)),
            "wanted": Part(
                "How much it should ring (Qtc), and filling", _wished, (_soft(FILLING), self._row(wished)), wished
            ),
            "decoder": Part("The decoder, and several speakers", _load, decoder, (*DECODER, "also")),
            "leaks": Part("If it leaks, and how to find out", _leaks, (self._row(LEAKS),), tuple(LEAKS)),
            "hear": Part("Hear it, roughly", _heard),
            "theory": Part("Where the theory ends", _theory, (self._row(LONGEST),), tuple(LONGEST)),
        }

    def _refresh(self) -> None:
        entered = read_entries({name: field.value for name, field in self.fields.items()})
        self.entered = entered
        for name, field in self.fields.items():
            field.show(entered.echoes.get(name), entered.messages.get(name))
        if entered.messages:
            self._keep(entered)
            return
        self.found = entered.alone
        self.answer.value = _or_reason(_answer, entered)
        self.charts.value = _or_reason(_charts, entered)
        for fold in self.folds.values():
            fold.show(entered)

    def _keep(self, entered: Entered) -> None:
        """Keep the last answer in sight, marked as such, and open the folds whose entries are wrong."""
        for place in (self.answer, self.charts):
            place.value = look.stale(place.value, OLD)
        for fold in self.folds.values():
            fold.keep()
            if any(name in entered.messages for name in fold.fields):
                fold.head.value = True

    @property
    def summary(self) -> str:
        """The answer in plain language."""
        if self.found is None:
            return "Nothing is worked out yet."
        box = self.found.box
        said = [
            f"-3 dB point: {sound_views.banded(box.f3_hz, 'Hz')}.",
            f"Resonance: {sound_views.banded(box.fc_hz, 'Hz')}.",
        ]
        said += [f"Qtc: {sound_views.banded(box.qtc, '', 2)}.", f"Load: {_verdict(self.found.driven)}"]
        return "\n".join(said)


def _soft(words: str) -> w.HTML:
    return w.HTML(look.paragraph(words, "mm-soft"))


def _or_reason(view: View, entered: Entered) -> str:
    """Return a view, or the sentence that says why it can't be shown."""
    try:
        return view(entered)
    except ModelMathError as reason:
        return look.problem(str(reason))


def _still(entered: Entered) -> str:
    return look.paragraph(f"{STILL}{'; '.join(entered.waiting)}.")


def _answer(entered: Entered) -> str:
    """Return what the chamber does, in a card."""
    sound = entered.alone
    if sound is None:
        return _still(entered) + sound_views.card([(DRIVES, _verdict(entered.driven))])
    power = None if sound.power is None else sound.power[0]
    figures = [sound_views.cutoff_row(sound), *sound_views.number_rows(sound), *_level(sound)]
    figures += sound_views.travel_rows(sound, power)
    mind = sound_views.minded(beyond_travel(sound.box, power), beyond_theory(sound.box, sound.valid_to_hz))
    card = sound_views.heard_first(heard_as(sound.box), [(DRIVES, _verdict(sound.driven))], figures)
    return card + mind + sound_views.assumed(sound)


def _level(sound: Alone) -> list[tuple[str, str]]:
    if sound.power is None or sound.level_db is None or sound.power[0] == 1:
        return []  # that for 1 W stands above
    watts, whose = sound.power
    return [(f"Level at 1 m for {watts:.2g} W, {whose}", sound_views.banded(sound.level_db, "dB", 0))]


def _verdict(driven: Driven) -> str:
    """Return whether the decoder drives it, and why, in a line."""
    from modelmath.sound.loads.in_words import load_rows

    if driven.chosen is None:
        return str(driven.missing)
    verdict = load_rows([driven.chosen])[0][-1]
    said = verdict if len(driven.speakers) == 1 else f"{driven.chosen.in_words}: {verdict}"
    return f"{said[0].upper()}{said[1:]}. {' '.join(driven.chosen.reasons)}"


def _charts(entered: Entered) -> str:
    sound = entered.alone
    if sound is None:
        return ""
    limits = "".join(look.paragraph(each, "mm-soft") for each in sound.limits)
    return sound_views.response_chart(sound, sound.valid_to_hz) + limits + sound_views.volume(sound)


def _counted_with(entered: Entered) -> str:
    """Return each parameter as it is counted, with its limits and where it comes from."""
    if entered.alone is None:
        return _still(entered)
    rows = [
        (LABELS[name], told(known.value, name), _limits(known.low, known.high, name), _origin(known.origin, known.why))
        for name, known in entered.alone.driver.parameters
    ]
    return look.table("What is counted with", PARAMETER_HEADS, rows, "mm-advice")


def _limits(low: float, high: float, name: str) -> str:
    return "none known" if low == high else f"{told(low, name)} to {told(high, name)}"


def _origin(origin: str, why: str) -> str:
    return f"{origin}: {why}" if why else origin


def _wished(entered: Entered) -> str:
    sound = entered.alone
    if sound is None:
        return _still(entered)
    said = sound.wanted or "Enter a Qtc, and this tells which chamber gives it."
    source = "" if sound.stuffing == UNFILLED else look.paragraph(f"Filling: {sound.stuffing.source}.", "mm-soft")
    return look.paragraph(said) + source


def _load(entered: Entered) -> str:
    return sound_views.load(entered.driven)


def _leaks(entered: Entered) -> str:
    sound = entered.alone
    if sound is None:
        return _still(entered)
    return sound_views.leaks(sound.leaking)


def _heard(entered: Entered) -> str:
    sound = entered.alone
    if sound is None:
        return _still(entered)
    return sound_views.clips([("this chamber", sound.box), ("one twice as large", sound.twice_as_large)])


def _theory(entered: Entered) -> str:
    if entered.alone is None:
        return _still(entered)
    return look.bullets([*entered.alone.limits, *THEORY])
