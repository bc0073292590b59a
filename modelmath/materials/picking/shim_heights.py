"""A height brought to what it should be: where the shims go, and what to do where shims can't help."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from modelmath.errors import UnknownChoice
from modelmath.lengths.scales import Scale
from modelmath.materials.exact import exact_mm
from modelmath.materials.picking.shims import TOLERANCE_MM, Shim, ShimPack, shim_up
from modelmath.materials.picking.wanted import mm_text
from modelmath.materials.sections.sheets import SHEET_SERIES, Sheet
from modelmath.materials.sections.strips import Strip

# Which way a height that is off is brought to what it should be; common practice, no source.
RAISE = {
    "coupler": (
        "Shim under the body at the bolster, on both trucks alike, which raises body and coupler by the pack; "
        "or file that much off the pad over the coupler's box."
    ),
    "truck bolster": "Lay the pack on the truck's bolster, round its screw, on both trucks alike.",
    "speaker": "Lay the pack under the speaker's rim, the same at every corner, and seal round it.",
    "other": "Lay the pack under what is too low.",
}
LOWER = {
    "coupler": "Shim between the coupler's box and the frame, which lowers the coupler by the pack.",
    "truck bolster": "A shim there would only raise it: file {gap} off the bolster instead, on both trucks alike.",
    "speaker": "A shim under it would only raise it: file {gap} off its seat, or cut its supports that much shorter.",
    "other": "A shim under it would only raise it: file {gap} off what it stands on.",
}
KINDS = tuple(RAISE)


@dataclass(frozen=True)
class ShimmedHeight:
    """How to bring a height to what it should be.

    Attributes
    ----------
    gap_mm : Fraction
        What is wanted less what is measured: above 0 to raise, below 0 to lower. [mm]
    said : str
        How far it is off, in words. [-]
    advice : str
        What to do, and where the shims go. [-]
    packs : tuple of ShimPack
        The shims for it, best first; none where shims can't do it, or none are needed. [mm]
    """

    gap_mm: Fraction
    said: str
    advice: str
    packs: tuple[ShimPack, ...] = ()


def shim_for_height(
    measured_mm: Fraction | float,
    wanted_mm: Fraction | float,
    kind: str = "other",
    *,
    tolerance_mm: Fraction | float = TOLERANCE_MM,
    measured_tolerance_mm: Fraction | float = 0,
    on_hand: Sequence[Shim | Strip | Sheet] = (),
    series: Sequence[str] = SHEET_SERIES,
    scale: Scale | str | None = None,
    dry: bool = True,
    most: int = 8,
) -> ShimmedHeight:
    """Bring a height to what it should be: shims where it is too low; where it is too high, what to do instead.

    A coupler that is too high is lowered by shims too, between its box and the frame.

    Parameters
    ----------
    measured_mm : Fraction or float
        Height as measured. [mm]
    wanted_mm : Fraction or float
        Height it should have, from its gauge. [mm]
    kind : {"coupler", "truck bolster", "speaker", "other"}
        What is brought to its height. [-]
    tolerance_mm : Fraction or float
        How far from it will still do, either way. [mm]
    measured_tolerance_mm : Fraction or float
        How far the measured height may be off, either way. [mm]
    on_hand, series, scale, dry, most : as in `shim_up`
        What there is to shim with, and how. [-]

    Returns
    -------
    ShimmedHeight
        What to do. [mm]

    Raises
    ------
    UnknownChoice
        If the kind or a series is unknown.
    OutOfRange, WrongKind, NotYetKnown
        As `shim_up`.

    References
    ----------
    Arithmetic; where the shims go is common practice, no source.

    Examples
    --------
    >>> found = shim_for_height(9.2, 9.7, "coupler")
    >>> found.said, found.packs[0].name
    ('It is 0.50 mm too low.', '0.5 mm sheet')
    >>> shim_for_height(9.9, 9.5, "speaker").advice
    'A shim under it would only raise it: file 0.40 mm off its seat, or cut its supports that much shorter.'
    """
    if kind not in KINDS:
        raise UnknownChoice("kind", kind, KINDS)
    gap = exact_mm(wanted_mm, "wanted_mm") - exact_mm(measured_mm, "measured_mm")
    tolerance = exact_mm(tolerance_mm, "tolerance_mm", zero=True)
    off = f"It is {mm_text(abs(gap))} too {'low' if gap > 0 else 'high'}"
    if abs(gap) <= tolerance:
        said = f"{off}, within the tolerance." if gap else "It is at its height."
        sure = abs(gap) + exact_mm(measured_tolerance_mm, "measured_tolerance_mm", zero=True) <= tolerance
        advice = "Leave it." if sure else "Leave it, or measure it again more finely: it may still be outside."
        return ShimmedHeight(gap, said, advice)
    how = (RAISE if gap > 0 else LOWER)[kind].format(gap=mm_text(abs(gap)))
    if gap < 0 and kind != "coupler":
        return ShimmedHeight(gap, f"{off}.", how)
    packs = shim_up(
        abs(gap),
        tolerance_mm=tolerance,
        gap_tolerance_mm=measured_tolerance_mm,
        on_hand=on_hand,
        series=series,
        scale=scale,
        dry=dry,
        most=most,
    )
    return ShimmedHeight(gap, f"{off}.", how, tuple(packs))
