"""A strand from a lamp to its end, without a job: what to cut, what it loses, what light arrives."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from modelmath.errors import ModelMathError, UnreadableLength
from modelmath.job.entries.light_alone.reading import Found, Reading
from modelmath.job.entries.light_alone.texts import read_size, written_lines
from modelmath.light.strands.bends import Bend, bend_in_words, needs_forming, textbook_least_radius_mm
from modelmath.light.strands.fibre import ACRYLIC, meeting
from modelmath.light.strands.lamp_to_lens import LampShape, LensLight, losses_of
from modelmath.light.strands.length import StrandLength, strand_length
from modelmath.light.strands.losses import FINISHES
from modelmath.materials.drills.sets import pick_drill

FIELDS = ("strand", "run", "slack", "trim", "melted", "emitter", "gap", "strands", "lamp_end", "far_end", "bends")
DEMO = {
    "strand": ".030 in", "run": "60 mm", "slack": "3 mm", "trim": "3 mm", "melted": "", "emitter": "1.6 mm",
    "gap": "", "strands": "2", "lamp_end": "cut", "far_end": "polished", "bends": "90 deg, 8 mm",
}  # fmt: skip
MOST_STRANDS, MOST_BENDS = 50, 20
MOST_STRAND_MM = 10.0
BEND_EXAMPLE = "90 deg, 8 mm or 90 deg, 5 mm, formed"
END = "its end"  # of the strand, as a sentence names it
_PARTS = re.compile(r"\s*;\s*|\s*,\s+|(?<![0-9]),\s*|,(?=[A-Za-z])|\s+round\s+")  # none parts the figures of 5,5
_ANGLE = re.compile(r"([0-9]{1,4}(?:[.,][0-9]{1,3})?)\s*(?:deg|degrees?|°)")


@dataclass(frozen=True)
class StrandAlone:
    """A strand from a lamp to its end.

    Attributes
    ----------
    diameter_mm : Fraction
        Its diameter. [mm]
    length : StrandLength
        What it is cut to. [mm]
    bends : tuple of Bend
        Its bends. [-]
    light : LensLight
        What it loses, and what light arrives. [-]
    drill : str
        The drill that passes it; empty where no number drill does. [-]

    References
    ----------
    `strand_length`, `losses_of`, `coupled`.
    """

    diameter_mm: Fraction
    length: StrandLength
    bends: tuple[Bend, ...]
    light: LensLight
    drill: str = ""

    @property
    def in_words(self) -> tuple[str, ...]:
        """What to say of its bends and of its size. [-]"""
        found = [f"Bend {number}: {bend_in_words(bend, self.diameter_mm)}" for number, bend in self._numbered]
        least = textbook_least_radius_mm(self.diameter_mm)
        tightest = min((bend.radius_mm for bend in self.bends), default=least)
        if tightest < least:
            found.append(
                f"Textbooks ask for a radius of {least:.0f} mm or more, which few small models have room for: here the "
                f"tightest is {tightest:.1f} mm."
            )
        names = meeting(self.diameter_mm)
        return (*found, *((f"Strand of {' and of '.join(names)} is one size here.",) if len(names) > 1 else ()))

    @property
    def formed(self) -> bool:
        """Whether any of its bends is formed by heat, or has to be. [-]"""
        return any(bend.formed or needs_forming(self.diameter_mm, bend.radius_mm) for bend in self.bends)

    @property
    def _numbered(self) -> list[tuple[int, Bend]]:
        return list(enumerate(self.bends, start=1))


def read_strand(typed: Mapping[str, str]) -> Found[StrandAlone]:
    """Read the form.

    Parameters
    ----------
    typed : mapping of str to str
        By field, of `FIELDS`. [-]

    Returns
    -------
    Found
        The strand, or what is wrong or missing. [-]

    References
    ----------
    `strand_length`, `losses_of`, `coupled`.

    Examples
    --------
    >>> found = read_strand(DEMO).answer
    >>> float(found.length.cut_mm), found.drill, len(found.light.losses)
    (66.0, '#67', 4)
    >>> read_strand(DEMO | {"bends": "90, 5 mm"}).messages
    {'bends': "'90, 5 mm': its angle has no unit; write 90 deg, 8 mm or 90 deg, 5 mm, formed."}
    """
    reading = Reading(typed, FIELDS)
    strand = reading.size("strand", "the strand", "0.75 mm", needed="the strand's diameter", most_mm=MOST_STRAND_MM)
    run = reading.size("run", "the run", "60 mm", needed="how far it runs")
    slack, trim, melted, gap = (
        reading.size(name, what, such_as, zero=True) or Fraction(0)
        for name, what, such_as in (
            ("slack", "the slack", "3 mm"),
            ("trim", "what is cut off", "3 mm"),
            ("melted", "what is melted", "2 mm"),
            ("gap", "the gap before the lamp", "0.5 mm"),
        )
    )
    emitter = reading.size("emitter", "what shines", "1.6 mm", needed="how wide what shines is")
    strands = reading.count("strands", "the number of strands", MOST_STRANDS)
    lamp_end, far_end = _finish(reading, "lamp_end", "cut"), _finish(reading, "far_end", "polished")
    bends = reading.read("bends", read_bends) or ()

    def work() -> StrandAlone:
        assert strand is not None
        assert run is not None
        assert emitter is not None
        losses = losses_of(run + slack, bends, strand, lamp_end=lamp_end, lens_end=far_end)
        light = LensLight(END, LampShape(emitter, gap).share(ACRYLIC, strand, strands), losses)
        cut = strand_length(run, slack_mm=slack, trimmed_mm=trim, lens_mm=melted)
        return StrandAlone(strand, cut, bends, light, _drill(strand))

    return reading.found(work, "run")


def read_bends(text: str) -> tuple[Bend, ...]:
    r"""Return bends, one on each line.

    Parameters
    ----------
    text : str
        On each line an angle and the radius of the bend's inside, and the word formed where heat forms it. [-]

    Returns
    -------
    tuple of Bend
        In the order written. [deg, mm]

    Raises
    ------
    UnreadableLength
        If a line has no such form.
    OutOfRange
        If an angle, a radius or their number is beyond what is meant.

    References
    ----------
    `read_size` for the radius.

    Examples
    --------
    >>> read_bends("90 deg, 5 mm\n45° round 1/4 in, formed")
    (Bend(angle_deg=90.0, radius_mm=5.0, formed=False), Bend(angle_deg=45.0, radius_mm=6.35, formed=True))
    """
    return tuple(_bend(line) for line in written_lines(text, "bends", MOST_BENDS))


def _bend(line: str) -> Bend:
    parts = _PARTS.split(line)
    formed = parts[-1].casefold() == "formed"
    parts = parts[: len(parts) - formed]
    if len(parts) != 2:
        raise UnreadableLength(line, "it is not an angle and a radius", BEND_EXAMPLE)
    angle = _ANGLE.fullmatch(parts[0].casefold())
    if angle is None:
        bare = re.fullmatch(r"[0-9.,]+", parts[0])
        raise UnreadableLength(line, "its angle has no unit" if bare else "its angle can't be read", BEND_EXAMPLE)
    radius = read_size(parts[1], "the radius of a bend", BEND_EXAMPLE, zero=True)
    return Bend(float(angle[1].replace(",", ".")), float(radius), formed)


def _finish(reading: Reading, name: str, usual: str) -> str:
    return reading.choice(name, "the finish of an end", FINISHES, usual)


def _drill(strand_mm: Fraction) -> str:
    try:
        return pick_drill(strand_mm)[0].name
    except ModelMathError:  # no number drill is so large; the answer does without
        return ""
