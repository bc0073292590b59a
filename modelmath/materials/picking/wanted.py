"""What a part asks of a strip, and the sentences that say what to do with it or why nothing will do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from modelmath.errors import DoesNotFit, ModelMathError, NotYetKnown, OutOfRange
from modelmath.lengths.scales import Scale
from modelmath.materials.sections.sheets import Sheet
from modelmath.materials.sections.strips import Strip

USES = ("on end", "across", "flat", "on edge")
BY_SECTION = ("flat", "on edge")  # the uses that care for the section's exact size
SHOWS_MM = Fraction(5, 1000)  # an error below this prints as 0.00 mm


@dataclass(frozen=True)
class Wanted:
    """A part's height, how its strip is used, and the limits; all exact.

    Attributes
    ----------
    height_mm, width_mm, stout_mm : Fraction
        Height of the part; least size the other way; least thickness. [mm]
    sand_mm, shim_mm : Fraction
        The most that may be sanded off a section, and the most that it may be shimmed up. [mm]
    use : str
        One of `USES`. [-]
    scale : Scale or None
        For errors in scale inches. [-]
    sand : bool
        Whether sections at or above the height go first. [-]

    Examples
    --------
    >>> wanted = Wanted(Fraction(2), "flat", Fraction(0), Fraction(0), Fraction(1, 2), Fraction(1, 2), None, False)
    >>> strip = Strip("metric", Fraction(22, 10), Fraction(4))
    >>> wanted.stout(strip), wanted.error_mm(strip), wanted.near(strip)
    (True, Fraction(1, 5), True)
    >>> wanted.advice(strip)
    'Lay it flat and sand 0.20 mm off its thickness.'
    """

    height_mm: Fraction
    use: str
    width_mm: Fraction
    stout_mm: Fraction
    sand_mm: Fraction
    shim_mm: Fraction
    scale: Scale | None
    sand: bool

    def given_by(self, strip: Strip) -> Fraction:
        """Return the height that the strip gives: its section's, or just what it is cut to.

        Parameters
        ----------
        strip : Strip
            The strip. [mm]

        Returns
        -------
        Fraction
            Height. [mm]

        References
        ----------
        Arithmetic.
        """
        return {"flat": strip.thickness_mm, "on edge": strip.width_mm}.get(self.use, self.height_mm)

    def error_mm(self, strip: Strip) -> Fraction:
        """Return what the strip gives less the height.

        Parameters
        ----------
        strip : Strip
            The strip. [mm]

        Returns
        -------
        Fraction
            Above 0 to be sanded off, below 0 to be shimmed. [mm]

        References
        ----------
        Arithmetic.
        """
        return self.given_by(strip) - self.height_mm

    @property
    def by_section(self) -> bool:
        """Whether the section gives the height, rather than the length it is cut to. [-]"""
        return self.use in BY_SECTION

    def near(self, strip: Strip) -> bool:
        """Return whether what the strip gives can be sanded or shimmed to the height.

        Parameters
        ----------
        strip : Strip
            The strip. [mm]

        Returns
        -------
        bool
            Whether the error lies within both limits. [-]

        References
        ----------
        Arithmetic.
        """
        return -self.shim_mm <= self.error_mm(strip) <= self.sand_mm

    def stout(self, strip: Strip) -> bool:
        """Return whether the strip is thick enough, and wide enough the other way than the height.

        Parameters
        ----------
        strip : Strip
            The strip. [mm]

        Returns
        -------
        bool
            Whether both limits are met. [-]

        References
        ----------
        Arithmetic.
        """
        other_way = strip.thickness_mm if self.use == "on edge" else strip.width_mm
        return strip.thickness_mm >= self.stout_mm and other_way >= self.width_mm

    def advice(self, strip: Strip) -> str:
        """Return what to do with a strip, in a sentence.

        Parameters
        ----------
        strip : Strip
            A strip that will do. [mm]

        Returns
        -------
        str
            The sentence. [-]

        References
        ----------
        A square end, sanding and shimming: common practice, no source.
        """
        if self.use == "on end":
            return f"Square its end first, cut to length, {mm_text(self.height_mm)}, and stand it on end."
        if self.use == "across":
            over = strip.width_mm - self.width_mm
            trim = f"trim {mm_text(over)} off its width to span {mm_text(self.width_mm)}"
            fits = f"it spans {mm_text(self.width_mm)} as it is"
            return f"Cut to length, {mm_text(self.height_mm)}; {trim if over >= SHOWS_MM else fits}."
        lay, side = ("Lay it flat", "thickness") if self.use == "flat" else ("Stand it on edge", "width")
        error = self.error_mm(strip)
        if abs(error) < SHOWS_MM:
            return f"{lay}; it gives the height as it is."
        return (
            f"{lay} and sand {mm_text(error)} off its {side}."
            if error > 0
            else f"{lay} and shim it up {mm_text(-error)}."
        )

    def advice_for_sheet(self, sheet: Sheet) -> str:
        """Return what to do with a sheet, in a sentence.

        Parameters
        ----------
        sheet : Sheet
            A sheet that will do. [mm]

        Returns
        -------
        str
            The sentence. [-]

        References
        ----------
        A strip of sheet as wide as the part, then its length at the stop: common practice, no source.
        """
        return (
            f"Cut a strip of the {sheet.name} {mm_text(self.width_mm)} wide, or a little over to trim to the shell, "
            f"and from it the length, {mm_text(self.height_mm)}."
        )

    def nothing_stout(self, strips: Sequence[Strip]) -> ModelMathError:
        """Return the error for a part that no strip is thick or wide enough for.

        Parameters
        ----------
        strips : sequence of Strip
            All that were looked at. [mm]

        Returns
        -------
        DoesNotFit, or NotYetKnown when there is no strip at all
            For the caller to raise. [-]

        References
        ----------
        Gluing up, or cutting from sheet: common practice, no source.
        """
        if not strips:
            return NotYetKnown("The strip to use", "a scale for scale lumber, a drawer of strip, or another series")
        least = max(self.stout_mm, self.width_mm) if self.use == "on edge" else self.stout_mm
        thickest = max(strips, key=lambda strip: strip.thickness_mm)
        if thickest.thickness_mm < least:
            what, short = f"A part at least {mm_text(least)} thick", least - thickest.thickness_mm
            cause = f"the thickest strip is {thickest.name}, {mm_text(thickest.thickness_mm)}"
            return DoesNotFit(what, float(short), cause, "Glue two strips together, or allow a thinner one.")
        widest = max((s for s in strips if s.thickness_mm >= least), key=lambda strip: strip.width_mm)
        what = f"A section {mm_text(self.width_mm)} wide and at least {mm_text(least)} thick"
        cause = f"the widest such strip is {widest.name}, {mm_text(widest.width_mm)}"
        return DoesNotFit(
            what, float(self.width_mm - widest.width_mm), cause, "Put two side by side, or cut from sheet."
        )

    def nothing_near(self, nearest: Strip) -> OutOfRange:
        """Return the error for a height that no section gives within the tolerance.

        Parameters
        ----------
        nearest : Strip
            The strip that comes nearest. [mm]

        Returns
        -------
        OutOfRange
            For the caller to raise. [-]

        References
        ----------
        Gluing up, or standing strip on end: common practice, no source.
        """
        error = self.error_mm(nearest)
        off = f"{mm_text(abs(error))} too {'much' if error > 0 else 'little'}"
        gives = f"{nearest.name} gives {mm_text(self.given_by(nearest))}, {off}"
        side = "thickness" if self.use == "flat" else "width"
        limits = f"at most {mm_text(self.sand_mm)} below a strip's {side} and {mm_text(self.shim_mm)} above it"
        if self.sand_mm == self.shim_mm:
            limits = f"within {mm_text(self.sand_mm)} of a strip's {side}"
        advice = "Glue strips together, stand strip on end, or allow more to be sanded off or shimmed up."
        return OutOfRange("height_mm", mm_text(self.height_mm), f"{limits}; {gives}", advice)


def mm_text(length: Fraction) -> str:
    """Return a length as the sentences show it, in mm to two places.

    Parameters
    ----------
    length : Fraction
        The length. [mm]

    Returns
    -------
    str
        The length with its unit. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> mm_text(Fraction(1, 3))
    '0.33 mm'
    """
    return f"{float(length):.2f} mm"
