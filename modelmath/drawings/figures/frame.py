"""How a side elevation lies on its sheet: from millimetres of the model to the sheet, in one place."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Frame:
    """The scale of a side elevation, and where it begins on its sheet.

    Attributes
    ----------
    unit : float
        Length on the sheet of a millimetre of the model. [drawing unit/mm]
    x0 : float
        Place of the model's front end on the sheet. [drawing unit]
    left_mm, lowest_mm : float
        The model's front end along the length, and its lowest height. [mm]
    base : float
        Where the chassis is cut off below; names stand above it, the key below. [drawing unit]
    """

    unit: float
    x0: float
    left_mm: float
    lowest_mm: float
    base: float = 0.0

    def x(self, mm: float) -> float:
        """Return where a place along the length lies.

        Parameters
        ----------
        mm : float
            The place, from the fore-aft mark. [mm]

        Returns
        -------
        float
            From the sheet's left edge. [drawing unit]

        References
        ----------
        Arithmetic.

        Examples
        --------
        >>> Frame(4.0, 54.0, -80.5, 0.0).x(-75.5)
        74.0
        """
        return self.x0 + (mm - self.left_mm) * self.unit

    def y(self, mm: float) -> float:
        """Return where a height lies.

        Parameters
        ----------
        mm : float
            Above the seat. [mm]

        Returns
        -------
        float
            Upward from the lowest height drawn. [drawing unit]

        References
        ----------
        Arithmetic.

        Examples
        --------
        >>> Frame(4.0, 54.0, -80.5, 2.0).y(5.0)
        12.0
        """
        return (mm - self.lowest_mm) * self.unit
