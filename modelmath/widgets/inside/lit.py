"""Editors for what lights: what feeds it, each lamp, each strand with its lens, each lead."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from modelmath.job import Job
from modelmath.job.entries.inside.form import YES_NO
from modelmath.job.entries.lit import circuits, feed, leads, strands
from modelmath.job.entries.lit.spots import EXAMPLE
from modelmath.job.entries.screen import Outcome
from modelmath.widgets.common.fields import Field
from modelmath.widgets.inside.editor import Editor, Lines, ListEditor, OnChange

FEED = (
    "What your decoder's own sheet says of its function outputs. Nothing is built in: what is left empty is said to be "
    "missing. Write the unit with each."
)
CIRCUITS = "What each of the job's lamps is. What is left empty is bounded by what is usual, and said."
STRANDS = (
    "One entry for each strand, from its lamp to its lens. Places count behind the fore-aft mark, up from the seat."
)
LEADS = "Wires that run together. Write how far they run; what they are longer by is added. Colours are your own."
Texts = Callable[[Job, int | None], dict[str, str]]
Read = Callable[[Job, int | None, Mapping[str, str]], Outcome]
Without = Callable[[Job, int], Job]


class FeedEditor(Editor):
    """The decoder's outputs, its keep-alive, and the plug between shell and chassis.

    Parameters
    ----------
    on_change : callable
        Called with the new job. [-]
    """

    def __init__(self, on_change: OnChange) -> None:
        fields = {
            "supply": Field("Lamps run on", "the voltage at the outputs, such as 14 V"),
            "outputs": Field("Outputs there are", f"by your own names, such as {feed.OUTPUTS_EXAMPLE}"),
            "each": Field("One output gives at most", "such as 100 mA"),
            "all": Field("All of them together", "such as 300 mA; empty: not stated"),
            "whole": Field("The whole decoder", "motor and sound with them, such as 1 A"),
            "motor": Field("The motor draws", "measured with the wheels held, for a moment only, such as 0.4 A"),
            "sound": Field("The sound draws", "such as 0.2 A"),
            "idle": Field("Its own heat", "such as 0.3 W; empty: not known"),
            "series": Field("Resistors at hand", "the series of values you can get", options=list(feed.SERIES)),
            "most_drop": Field("A lead may lose", "empty: 0.1 V"),
            "capacitance": Field("Keep-alive", "its capacitance, such as 1000 uF; empty: none"),
            "least": Field("The decoder stops at", "such as 6 V"),
            "load": Field("It draws meanwhile", "such as 0.2 A"),
            "over": Field("A gap to carry over", "such as 0.1 s"),
            "plug": Field("Plug to the shell", "a name; empty: none"),
            "poles": Field("Its poles", "such as 6"),
            "pole_most": Field("One pole carries", "such as 0.5 A; empty: not stated"),
        }
        super().__init__(on_change, fields, FEED)

    def texts(self, job: Job) -> dict[str, str]:
        """Return what feeds the lamps as texts, by field."""
        return feed.feed_texts(job)

    def read(self, job: Job, typed: Mapping[str, str]) -> Outcome:
        """Read the texts into a job."""
        return feed.with_feed(job, typed)


class _LitList(ListEditor):
    """One of the lists of what lights."""

    from_texts: Texts
    into_job: Read
    out_of: Without
    listed = ""

    def texts(self, job: Job) -> dict[str, str]:
        """Return the entry shown as texts, by field."""
        return type(self).from_texts(job, self.place)

    def read(self, job: Job, typed: Mapping[str, str]) -> Outcome:
        """Read the texts into a job."""
        return type(self).into_job(job, self.place, typed)

    def names(self, job: Job) -> list[str]:
        """Return the names of the entries."""
        key = "lamp" if self.listed == "circuits" else "name"
        return [getattr(each, key) for each in getattr(job.light, self.listed)]

    def without(self, job: Job, place: int) -> Job:
        """Return a job without one of the entries."""
        return type(self).out_of(job, place)


class CircuitsEditor(_LitList):
    """What each lamp is, one at a time.

    Parameters
    ----------
    on_change : callable
        Called with the new job. [-]
    """

    listed = "circuits"
    from_texts = staticmethod(circuits.circuit_texts)
    into_job = staticmethod(circuits.with_circuit)
    out_of = staticmethod(circuits.without_circuit)

    def __init__(self, on_change: OnChange) -> None:
        fields = {
            "lamp": Field("Which lamp", "as it is called in the job, such as headlight"),
            "source": Field("It is a", "kind of lamp, and what it needs", options=list(circuits.SOURCES)),
            "leds": Field("LEDs in series", "on the one resistor; empty: 1"),
            "colour": Field("Colour of the LED", "such as warm white, where its voltage is not known"),
            "forward": Field("Voltage across one LED", "from its own sheet, such as 3.0 V"),
            "current": Field("Current wanted", "such as 2 mA; of a bulb what it is rated for"),
            "rated": Field("Bulb is rated for", "such as 12 V"),
            "resistor": Field("Resistor fitted", "such as 4.7 kohm; empty: the next one up"),
            "output": Field("Output that drives it", "one of the decoder's, named below"),
            "emitter": Field("What shines is wide", "such as 1.2 mm"),
            "at": Field("Where it stands", f"such as {EXAMPLE}"),
        }
        words = ("Lamp", "another one", "Add what this lamp is", "Take this out")
        super().__init__(on_change, fields, CIRCUITS, *words)


class StrandsEditor(_LitList):
    """The strands with their lenses, one at a time.

    Parameters
    ----------
    on_change : callable
        Called with the new job. [-]
    """

    pictures = ("strand and lens",)

    listed = "strands"
    from_texts = staticmethod(strands.strand_texts)
    into_job = staticmethod(strands.with_strand)
    out_of = staticmethod(strands.without_strand)

    def __init__(self, on_change: OnChange) -> None:
        fields = {
            "name": Field("The strand", "a name of its own, such as left headlight"),
            "lamp": Field("It leads from", "one of the lamps, by its name"),
            "to": Field("It ends at", f"the front of its lens, such as {EXAMPLE}"),
            "radius": Field("Radius of its bends", "of their inside, at least; empty: 5 mm"),
            "formed": Field("Bends formed with heat", "not only held in place", options=list(YES_NO)),
            "bore": Field("Bore of the casting", "such as 1.6 mm; the lens follows from it"),
            "play": Field("Lens narrower than that by", "empty: 0.1 mm"),
            "prototype": Field("Or the prototype's lens", "its diameter, such as 8 in"),
            "diameter": Field("Or the lens itself", "its diameter, such as 1.5 mm"),
            "length": Field("Lens is long", "from strand to tip, where longer than round; empty: round"),
            "trial": Field("Trial ends took", "times what their size asks; empty: 1"),
            "slack": Field("Longer by", "so that it lies at ease; empty: 3 mm"),
            "trim": Field("Cut off before use", "a cloudy or crazed end; empty: 3 mm"),
            "via": Lines("Led past", f"places from the lamp on, each on its line, such as {EXAMPLE}"),
        }
        words = ("Strand", "a new one", "Add this strand", "Take this strand out")
        super().__init__(on_change, fields, STRANDS, *words)


class LeadsEditor(_LitList):
    """The leads, one at a time.

    Parameters
    ----------
    on_change : callable
        Called with the new job. [-]
    """

    listed = "leads"
    from_texts = staticmethod(leads.lead_texts)
    into_job = staticmethod(leads.with_lead)
    out_of = staticmethod(leads.without_lead)

    def __init__(self, on_change: OnChange) -> None:
        fields = {
            "name": Field("The lead", "a name of its own, such as common of the lamps"),
            "run": Field("It runs", "from end to end, such as 80 mm"),
            "slack": Field("Longer by", "empty: 15 mm"),
            "count": Field("Wires in it", "empty: 1"),
            "current": Field("Each carries", "such as 100 mA; empty: what its output drives"),
            "output": Field("It comes from output", "one of the decoder's; empty: none"),
            "gauge": Field("Gauge", "such as 32 or 7/40; empty: the thinnest that does"),
            "colour": Field("Colour", "your own"),
            "crosses": Field(
                "From chassis to shell", "then it has to part as the shell comes off", options=list(YES_NO)
            ),
            "wires": Field("Passes a wall as", "the name of the wires whose holes it takes; empty: passes none"),
        }
        words = ("Lead", "a new one", "Add this lead", "Take this lead out")
        super().__init__(on_change, fields, LEADS, *words)
