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
_SHOWS_MM = Fraction(5, 1000)  # an error below this prints as 0.00 mm


@dataclass(frozen=True)
class Wanted:
    """A part's height, how its strip is used, and the limits; all exact.

    Attributes
    ----------
    height_mm, width_mm, stout_mm, tolerance_mm : Fraction
        Height of the part; least size the other way; least thickness; largest section error. [mm]
    use : str
        One of `USES`. [-]
    scale : Scale or None
        For errors in scale inches. [-]
    sand : bool
        Whether sections at or above the height go first. [-]

    Examples
    --------
    >>> wanted = Wanted(Fraction(2), "flat", Fraction(0), Fraction(0), Fraction(1, 2), None, False)
    >>> strip = Strip("metric", Fraction(22, 10), Fraction(4))
    >>> wanted.stout(strip), wanted.error_mm(strip), wanted.advice(strip)
    (True, Fraction(1, 5), 'Lay it flat and sand 0.20 mm off its thickness.')
    """

    height_mm: Fraction
    use: str
    width_mm: Fraction
    stout_mm: Fraction
    tolerance_mm: Fraction
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
        Sanding and shimming: common practice, no source.
        """
        if self.use == "on end":
            return f"Stand it on end and cut to length, {_mm(self.height_mm)}."
        if self.use == "across":
            over = strip.width_mm - self.width_mm
            trim = f"trim {_mm(over)} off its width to span {_mm(self.width_mm)}"
            fits = f"it spans {_mm(self.width_mm)} as it is"
            return f"Cut to length, {_mm(self.height_mm)}; {trim if over >= _SHOWS_MM else fits}."
        lay, side = ("Lay it flat", "thickness") if self.use == "flat" else ("Stand it on edge", "width")
        error = self.error_mm(strip)
        if abs(error) < _SHOWS_MM:
            return f"{lay}; it gives the height as it is."
        return f"{lay} and sand {_mm(error)} off its {side}." if error > 0 else f"{lay} and shim it up {_mm(-error)}."

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
            f"Cut a strip of the {sheet.name} {_mm(self.width_mm)} wide, or a little over to trim to the shell, "
            f"and from it the length, {_mm(self.height_mm)}."
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
            what, short = f"A part at least {_mm(least)} thick", least - thickest.thickness_mm
            cause = f"the thickest strip is {thickest.name}, {_mm(thickest.thickness_mm)}"
            return DoesNotFit(what, float(short), cause, "Glue two strips together, or allow a thinner one.")
        widest = max((s for s in strips if s.thickness_mm >= least), key=lambda strip: strip.width_mm)
        what = f"A section {_mm(self.width_mm)} wide and at least {_mm(least)} thick"
        cause = f"the widest such strip is {widest.name}, {_mm(widest.width_mm)}"
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
        off = f"{_mm(abs(error))} too {'much' if error > 0 else 'little'}"
        gives = f"{nearest.name} gives {_mm(self.given_by(nearest))}, {off}"
        return OutOfRange(
            "height_mm",
            _mm(self.height_mm),
            f"within {_mm(self.tolerance_mm)} of a strip's {'thickness' if self.use == 'flat' else 'width'}; {gives}",
            "Glue strips together, stand strip on end, or allow more with tolerance_mm.",
        )


def _mm(length: Fraction) -> str:
    return f"{float(length):.2f} mm"
