"""Editors for how speaker and decoder sit, and for what is asked of the chamber."""

from __future__ import annotations

from collections.abc import Mapping

from modelmath.job import Job
from modelmath.job.entries.inside import contents
from modelmath.job.entries.inside.form import YES_NO
from modelmath.job.entries.screen import Outcome
from modelmath.widgets.common.fields import Field
from modelmath.widgets.inside.editor import Editor, OnChange

ANSWERS = list(YES_NO)
SPEAKER = "How the speaker sits, beyond its outside sizes. Write the unit with every size."
DECODER = "How the decoder sits, beyond its sizes."
CHAMBER = "What the chamber has to allow for, and what is made with it. Write the unit with every size."


class SpeakerEditor(Editor):
    """How the speaker sits.

    Parameters
    ----------
    on_change : callable
        Called with the new job. [-]
    """

    pictures = ("behind the flange",)

    def __init__(self, on_change: OnChange) -> None:
        fields = {
            "name": Field("What the speaker is called", "on the sheets; empty: speaker"),
            "faces": Field("It sounds", "down: through the floor", options=list(contents.SOUNDS)),
            "turned": Field("Its length lies", "how the longer side is turned", options=list(contents.LIES)),
            "place": Field("Where it sits", "middle, front, rear, or its front edge behind the mark: 20 mm"),
            "round": Field("Its shape", "of its flange, seen from the front", options=list(contents.SHAPES)),
            "basket_length": Field("Length behind the flange", "of what stands there; empty: as the flange"),
            "basket_width": Field("Width behind the flange", "of what stands there; empty: as the flange"),
            "terminals": Field("Terminals stand out by", "behind its depth, wires too; empty: nothing"),
            "travel": Field("The cone moves out by", "over its face; empty: nothing"),
            "rim": Field("Rim round the cone", "width of the flange there; for the sound's way out"),
        }
        super().__init__(on_change, fields, SPEAKER)

    def texts(self, job: Job) -> dict[str, str]:
        """Return how the speaker sits as texts, by field."""
        return contents.speaker_texts(job)

    def read(self, job: Job, typed: Mapping[str, str]) -> Outcome:
        """Read the texts into a job."""
        return contents.with_speaker(job, typed)


class DecoderEditor(Editor):
    """How the decoder sits.

    Parameters
    ----------
    on_change : callable
        Called with the new job. [-]
    """

    def __init__(self, on_change: OnChange) -> None:
        fields = {
            "name": Field("What the decoder is called", "on the sheets; empty: decoder"),
            "air": Field("Air round the decoder", "it gets warm; empty: 1 mm"),
            "turns": Field("It may be turned any way", "on its side or on end, if it fits so", options=ANSWERS),
            "inside": Field("It may lie in the sealed chamber", "where its heat stays", options=ANSWERS),
        }
        super().__init__(on_change, fields, DECODER)

    def texts(self, job: Job) -> dict[str, str]:
        """Return how the decoder sits as texts, by field."""
        return contents.decoder_texts(job)

    def read(self, job: Job, typed: Mapping[str, str]) -> Outcome:
        """Read the texts into a job."""
        return contents.with_decoder(job, typed)


class ChamberEditor(Editor):
    """What is asked of the chamber, and how far the shell shifts on the chassis.

    Parameters
    ----------
    on_change : callable
        Called with the new job. [-]
    """

    def __init__(self, on_change: OnChange) -> None:
        fields = {
            "cut_round": Field("Cut the floor round obstacles", "those narrower than the shell", options=ANSWERS),
            "wire_path": Field("Kept free along one side", "for wires past the bulkhead; empty: nothing"),
            "front_end": Field("Its front wall stands", "best, or its front face behind the mark, such as -40 mm"),
            "rear_end": Field("Its rear wall stands", "best, or its rear face behind the mark, such as 35 mm"),
            "along": Field("Clearance along the length", "to each step of the chassis; empty: 0.5 mm"),
            "over_speaker": Field("Kept over the speaker's back", "empty: 0.5 mm"),
            "sound_room": Field("Kept before the speaker", "where it faces a closed end; empty: 2 mm"),
            "steps": Field(
                "Steps of the floor to look at",
                "at most so many; each adds pieces to cut",
                options=list(contents.STEPS),
            ),
            "floor": Field(
                "The floor is made", "of several pieces, or one with cut-outs", options=list(contents.FLOORS)
            ),
            "light_barrier": Field("A light barrier at the lamps", "so that no light leaks", options=ANSWERS),
            "strand_supports": Field("A strand support every", "such as 20 mm; empty: none"),
            "removable_speaker": Field(
                "The speaker stays removable", "held, not glued, so that it can come out", options=ANSWERS
            ),
            "removable_decoder": Field(
                "The decoder stays removable", "held, not glued, so that it can come out", options=ANSWERS
            ),
            "end_play": Field("The shell shifts on the chassis by", "either way, along the length; empty: not at all"),
        }
        super().__init__(on_change, fields, CHAMBER)

    def texts(self, job: Job) -> dict[str, str]:
        """Return what is asked of the chamber as texts, by field."""
        return contents.chamber_texts(job)

    def read(self, job: Job, typed: Mapping[str, str]) -> Outcome:
        """Read the texts into a job."""
        return contents.with_chamber_asked(job, typed)
