"""A lens melted on a strand, without a job: by the casting's bore, the prototype's lens, or its own size."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from modelmath.errors import OutOfRange, UnreadableLength, shown
from modelmath.job.entries.light_alone.reading import Found, Reading
from modelmath.job.entries.light_alone.texts import read_size, written_lines
from modelmath.job.light.strands import MOST_TIMES
from modelmath.lengths.parse import parse_prototype
from modelmath.lengths.prototype import PrototypeLength
from modelmath.lengths.scales import scale
from modelmath.lengths.text import format_length
from modelmath.light.lens.casting import diameter_for_bore, diameter_from_prototype
from modelmath.light.lens.melt import Melt, lens_melt_length
from modelmath.light.lens.shape import LensEnd, whole_length
from modelmath.light.lens.trial import Trials, melted_of, trial_factor, trials

FIELDS = ("on_strand", "bore", "play", "prototype", "scale", "diameter", "head", "trials")
WAYS = ("bore", "prototype", "diameter")
WAYS_IN_WORDS = {"bore": "the bore", "prototype": "the prototype's lens", "diameter": "its own diameter"}
DEMO = {
    "on_strand": "0.75 mm", "bore": "1.3 mm", "play": "0.1 mm", "prototype": "", "scale": "HO", "diameter": "",
    "head": "", "trials": "",
}  # fmt: skip
PLAY_MM = Fraction(1, 10)  # what counts where it is left empty: common practice, no source
MOST_STRAND_MM, MOST_LENS_MM, MOST_TRIALS = 10.0, 50.0, 20
FACTORS = (0.2, 5.0)  # of a trial end; past these it was not measured as it is written
TRIAL_EXAMPLE = "2.2 mm, 1.2 mm or 50 mm to 48.9 mm, 1.2 mm"


@dataclass(frozen=True)
class LensAlone:
    """A lens on a strand.

    Attributes
    ----------
    melt : Melt
        The lens, and what goes into it. [mm]
    made_from : str
        What its diameter follows from. [-]
    tried : Trials or None
        The trial ends, where there are any. [-]

    References
    ----------
    `lens_melt_length`, `trials`.
    """

    melt: Melt
    made_from: str
    tried: Trials | None = None

    @property
    def next_melted_mm(self) -> tuple[float, float] | None:
        """Between what the next lens would take, 19 times of 20; not known before two trial ends. [mm]"""
        if self.tried is None or self.tried.next_one is None:
            return None
        by_volume = self.melt.melted_mm / self.melt.trial
        low, high = self.tried.next_one
        return low * by_volume, high * by_volume

    @property
    def mind(self) -> str:
        """What to say of a lens that is much wider than its strand. [-]"""
        end = self.melt.end
        if end.diameter_mm <= MOST_TIMES * end.strand_mm:
            return ""
        return (
            f"A lens more than {MOST_TIMES:g} times as wide as its strand sags as it melts. A thicker strand, or a "
            "cast lens glued on, comes out better (common practice, no source)."
        )


def read_lens(typed: Mapping[str, str]) -> Found[LensAlone]:
    """Read the form.

    Parameters
    ----------
    typed : mapping of str to str
        By field, of `FIELDS`. [-]

    Returns
    -------
    Found
        The lens, or what is wrong or missing. [-]

    References
    ----------
    `lens_melt_length`.

    Examples
    --------
    >>> found = read_lens(DEMO).answer
    >>> round(found.melt.melted_mm, 3), found.made_from
    (1.979, 'the bore of 1.30 mm less 0.10 mm')
    >>> read_lens(DEMO | {"diameter": "1.2 mm"}).messages["diameter"]
    'the lens is given by the bore and its own diameter; it must be given by one of them. Leave out the others.'
    """
    reading = Reading(typed, FIELDS)
    strand = reading.size("on_strand", "the strand", "0.75 mm", needed="the strand's diameter", most_mm=MOST_STRAND_MM)
    wanted = _wanted(reading)
    head = reading.size("head", "the lens's length", "1.6 mm", most_mm=MOST_LENS_MM)
    lines = reading.read("trials", lambda text: tuple(written_lines(text, "trial ends", MOST_TRIALS)))
    tried = None if strand is None or not lines else reading.read("trials", lambda _: _tried(lines, strand), _factor)

    def work() -> LensAlone:
        assert strand is not None
        assert wanted is not None
        diameter, made_from = wanted
        length = None if head is None else whole_length(head, diameter, strand)
        factor = 1.0 if tried is None else tried.factor
        return LensAlone(lens_melt_length(strand, diameter, length, trial=factor), made_from, tried)

    given = [name for name in WAYS if reading.typed[name]]
    return reading.found(work, "head" if head is not None and _wide_enough(wanted, strand) else (*given, "bore")[0])


def _wide_enough(wanted: tuple[Fraction, str] | None, strand: Fraction | None) -> bool:
    return wanted is not None and strand is not None and wanted[0] > strand


def _wanted(reading: Reading) -> tuple[Fraction, str] | None:
    """Return the lens's diameter and what it follows from; all of its fields are read, whichever counts."""
    bore = reading.size("bore", "the bore", "1.6 mm", most_mm=MOST_LENS_MM)
    play = reading.size("play", "the play", "0.1 mm", zero=True, most_mm=MOST_LENS_MM)
    ratio = reading.read("scale", scale) or scale("HO")
    model = reading.read(
        "prototype",
        lambda text: _on_model(parse_prototype(text), ratio.name),
        lambda mm: f"{format_length(mm, 'mm')} in {ratio.name}",
    )
    own = reading.size("diameter", "the lens's diameter", "1.5 mm", most_mm=MOST_LENS_MM)
    given = [name for name in WAYS if reading.typed[name]]
    if len(given) > 1:
        names = " and ".join(WAYS_IN_WORDS[name] for name in given)
        wrong = OutOfRange("the lens", f"given by {names}", "given by one of them", "Leave out the others.")
        reading.wrong(given[-1], str(wrong))
        return None
    if not given:
        reading.waiting.append("the casting's bore, the prototype's lens, or the lens's own diameter")
        return None
    if given == ["bore"]:
        at = "play" if reading.typed["play"] else "bore"
        free = PLAY_MM if play is None else play
        return None if bore is None else reading.read(at, lambda _: _in_bore(bore, free))
    if given == ["prototype"]:
        return (
            None if model is None else (model, f"the prototype's lens of {reading.typed['prototype']} in {ratio.name}")
        )
    return None if own is None else (own, "as entered")


def _in_bore(bore: Fraction, play: Fraction) -> tuple[Fraction, str]:
    """Return the lens that goes into a bore."""
    if play >= bore:
        given, expected = format_length(play, "mm"), f"less than the bore, {format_length(bore, 'mm')}"
        raise OutOfRange("the play", given, expected, "Write bore less lens, both sides together, such as 0.1 mm.")
    words = f"the bore of {format_length(bore, 'mm')} less {format_length(play, 'mm')}"
    return Fraction(diameter_for_bore(bore, play)), words


def _on_model(prototype: PrototypeLength, scale_name: str) -> Fraction:
    mm = diameter_from_prototype(prototype, scale(scale_name))
    if mm > MOST_LENS_MM:
        given, expected = format_length(mm, "mm"), f"up to {MOST_LENS_MM:g} mm on the model"
        raise OutOfRange("the lens", given, expected, "Check its unit: the prototype's size is meant here.")
    return mm


def _tried(lines: tuple[str, ...], strand: Fraction) -> Trials:
    return trials([_trial(line, strand) for line in lines])


def _trial(line: str, strand: Fraction) -> float:
    """Return what one trial end took over what its volume says."""
    went, *sizes = (part.strip() for part in line.replace(";", ",").split(", "))
    if not 1 <= len(sizes) <= 2:
        raise UnreadableLength(line, "it is not what went in and what came out", TRIAL_EXAMPLE)
    diameter = _trial_size(sizes[0])
    length = whole_length(_trial_size(sizes[1]), diameter, strand) if len(sizes) > 1 else None
    end = LensEnd(diameter, length, strand_mm=strand)
    before, to, after = went.partition(" to ")
    if to:
        unit = after.strip().lstrip("0123456789.,/ ")
        before = before if before.strip().rstrip("0123456789.,/ ") else f"{before} {unit}"
        melted = melted_of(_trial_size(before), _trial_size(after), end)
    else:
        melted = float(_trial_size(went))
    factor = trial_factor(melted, diameter, strand, length)
    if not FACTORS[0] <= factor <= FACTORS[1]:
        expected = f"from {FACTORS[0]:g} to {FACTORS[1]:g} times what its volume says"
        raise OutOfRange(f"the trial end {shown(line)}", f"{factor:.2f} times", expected, "Measure it again.")
    return factor


def _trial_size(text: str) -> Fraction:
    return read_size(text, "a size of a trial end", TRIAL_EXAMPLE)


def _factor(tried: Trials) -> str:
    count = len(tried.factors)
    return f"{tried.factor:.2f} times what the volume says, by {count} trial end{'s' if count > 1 else ''}"
