"""A small loudspeaker by its parameters, each with its origin; what is not known stays unknown."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields, replace

from modelmath.errors import OutOfRange
from modelmath.lengths.numbers import check_number
from modelmath.quantities.known import Known
from modelmath.quantities.text import kind_of

Given = Known | float | None
# What each parameter is called, by its field.
LABELS = {
    "impedance_ohm": "rated impedance",
    "power_w": "rated power",
    "re_ohm": "voice coil resistance Re",
    "fs_hz": "resonance fs",
    "qes": "electrical Qes",
    "qms": "mechanical Qms",
    "qts": "total Qts",
    "vas_mm3": "equivalent volume Vas",
    "sd_mm2": "cone area Sd",
    "xmax_mm": "cone travel Xmax, one way",
    "mms_g": "moving mass Mms",
    "le_mh": "voice coil inductance Le",
}
PARAMETERS = tuple(LABELS)
PARAMETER_KINDS = {field: kind_of(field) for field in PARAMETERS}


@dataclass(frozen=True)
class Driver:
    """A small loudspeaker.

    Attributes
    ----------
    name : str
        Its name on the sheets. [-]
    length_mm, width_mm : float or None
        Outside size of its flange; of a round one both its diameter. [mm]
    round : bool
        Whether it is round. [-]
    impedance_ohm : Known, float or None
        Rated impedance. [ohm]
    power_w : Known, float or None
        Rated power. [W]
    re_ohm : Known, float or None
        Resistance of the voice coil. [ohm]
    fs_hz : Known, float or None
        Resonance in free air. [Hz]
    qes, qms, qts : Known, float or None
        Electrical, mechanical and total Q at that resonance. [-]
    vas_mm3 : Known, float or None
        Volume of air as stiff as its suspension. [mm3]
    sd_mm2 : Known, float or None
        Effective area of the cone. [mm2]
    xmax_mm : Known, float or None
        Travel of the cone one way from rest. [mm]
    mms_g : Known, float or None
        Moving mass, air included. [g]
    le_mh : Known, float or None
        Inductance of the voice coil. [mH]

    References
    ----------
    R. H. Small, Closed-Box Loudspeaker Systems, J. Audio Eng. Soc. 20(10), 1972, for the parameters.

    Examples
    --------
    >>> Driver("sample", fs_hz=500, qts=0.7).fs_hz
    Known(value=500.0, low=500.0, high=500.0, origin='given', why='')
    >>> Driver("sample", fs_hz=0)
    Traceback (most recent call last):
    modelmath.errors.OutOfRange: the resonance fs of the sample is 0; it must be above 0. Leave it out where it is ...
    """

    name: str = "speaker"
    length_mm: float | None = None
    width_mm: float | None = None
    round: bool = False
    impedance_ohm: Given = None
    power_w: Given = None
    re_ohm: Given = None
    fs_hz: Given = None
    qes: Given = None
    qms: Given = None
    qts: Given = None
    vas_mm3: Given = None
    sd_mm2: Given = None
    xmax_mm: Given = None
    mms_g: Given = None
    le_mh: Given = None

    def __post_init__(self) -> None:
        for size in ("length_mm", "width_mm"):
            value = getattr(self, size)
            if value is not None:
                self._above_0(f"the {size.removesuffix('_mm')} of the {self.name}", float(value), value)
                object.__setattr__(self, size, float(value))
        for field in PARAMETERS:
            value = getattr(self, field)
            if value is None:
                continue
            known = value if isinstance(value, Known) else Known.of(value)
            self._above_0(f"the {LABELS[field]} of the {self.name}", known.low, known.value)
            object.__setattr__(self, field, known)

    @staticmethod
    def _above_0(name: str, least: float, given: float) -> None:
        check_number(name, given)
        if least <= 0:
            raise OutOfRange(name, f"{least:g}", "above 0", "Leave it out where it is not known.")

    def known(self, field: str) -> Known | None:
        """Return a parameter by its field's name.

        Parameters
        ----------
        field : str
            One of `PARAMETERS`. [-]

        Returns
        -------
        Known or None
            None where it is not known. [its own unit]

        References
        ----------
        None needed.
        """
        value: Known | None = getattr(self, field)
        return value

    @property
    def parameters(self) -> Iterator[tuple[str, Known]]:
        """The parameters that are known, by field. [-]"""
        for field in PARAMETERS:
            value = self.known(field)
            if value is not None:
                yield field, value

    def with_known(self, **found: Known) -> Driver:
        """Return the same with more parameters known.

        Parameters
        ----------
        **found : Known
            By the fields' names. [their own units]

        Returns
        -------
        Driver
            The same beside. [-]

        References
        ----------
        None needed.
        """
        return replace(self, **found)  # type: ignore[arg-type]


assert set(PARAMETERS) < {each.name for each in fields(Driver)}
