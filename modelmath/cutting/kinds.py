"""The three kinds of strip and sheet: offcuts, whole ones on hand, whole ones to buy."""

from __future__ import annotations


class OfKind:
    """What is cut from: strips, a strip, a sheet.

    Attributes
    ----------
    kind : str
        ``offcut``, ``on hand`` or ``to buy``. [-]
    """

    kind: str

    @property
    def new(self) -> bool:
        """Whether it is whole, on hand or to buy: no offcut. [-]"""
        return self.kind != "offcut"

    @property
    def bought(self) -> bool:
        """Whether it is to buy. [-]"""
        return self.kind == "to buy"
