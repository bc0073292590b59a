"""Editors for what sounds: what most people have at hand, and the rest."""

from __future__ import annotations

from collections.abc import Mapping

from modelmath.job import Job
from modelmath.job.entries.inside import sound
from modelmath.job.entries.screen import Outcome
from modelmath.widgets.common.fields import Field
from modelmath.widgets.inside.editor import Editor, Lines, OnChange

FIRST = (
    "What stands on the speaker and on the decoder's own sheet. Write the unit with each. With these and the speaker's "
    "outside size, all else is bounded and said to be."
)
REST = (
    "Only what you know: each with its unit, how far off it may be, and where it comes from, such as 450 ± 30 Hz, "
    "measured. What is left empty is derived from the others, or bounded."
)


class _SoundEditor(Editor):
    """Some of the fields of what sounds."""

    def texts(self, job: Job) -> dict[str, str]:
        """Return these fields as texts."""
        return {name: text for name, text in sound.sound_texts(job).items() if name in self._fields}

    def read(self, job: Job, typed: Mapping[str, str]) -> Outcome:
        """Read the texts into a job."""
        return sound.with_sound(job, typed)


class RatedEditor(_SoundEditor):
    """What stands on the speaker and on the decoder's sheet.

    Parameters
    ----------
    on_change : callable
        Called with the new job. [-]
    """

    def __init__(self, on_change: OnChange) -> None:
        fields = {
            "impedance": Field("Speaker's impedance", "as it is rated, such as 8 ohm"),
            "power": Field("Speaker's power", "as it is rated, such as 1 W; empty: not known"),
            "least": Field("Decoder drives at least", "from its own sheet, such as 4 ohm"),
            "out_power": Field("Decoder gives at most", "such as 2 W; empty: not known"),
            "into": Field("That power is into", "such as 8 ohm"),
        }
        super().__init__(on_change, fields, FIRST)


class ParametersEditor(_SoundEditor):
    """The speaker's parameters, and what else is known of its sound.

    Parameters
    ----------
    on_change : callable
        Called with the new job. [-]
    """

    def __init__(self, on_change: OnChange) -> None:
        fields = {
            "fs": Field("Resonance in free air, fs", "such as 450 Hz"),
            "qts": Field("Total Q, Qts", "such as 0.9"),
            "qes": Field("Electrical Q, Qes", "such as 1.1"),
            "qms": Field("Mechanical Q, Qms", "such as 4"),
            "vas": Field("Equivalent volume, Vas", "such as 2.5 cm3"),
            "sd": Field("Cone area, Sd", "such as 110 mm2"),
            "re": Field("Voice coil resistance, Re", "by an ohmmeter, such as 7.2 ohm"),
            "xmax": Field("Cone travel one way, Xmax", "such as 0.4 mm"),
            "mms": Field("Moving mass, Mms", "such as 0.15 g"),
            "le": Field("Voice coil inductance, Le", "such as 0.05 mH; kept, no answer here needs it"),
            "stuffing": Field("The chamber is", "wadding put into it, or none", options=list(sound.STUFFING)),
            "wanted_q": Field("Wanted Qtc", "such as 0.8; empty: none in particular"),
            "most": Field("Decoder drives at most", "from its own sheet; empty: no limit stated"),
            "supply": Field("Its output stage runs on", "from its own sheet, such as 14 V"),
            "drop": Field("Lost in that stage", "from its own sheet, such as 1 V"),
            "also": Lines("Other speakers on the same output", sound.ALSO_EXAMPLE),
            "wiring": Field("Wired so", "the words of one of the wirings below; empty: the best"),
        }
        super().__init__(on_change, fields, REST)
