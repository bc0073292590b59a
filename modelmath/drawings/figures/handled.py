"""The side elevation with what can be moved in it: where each thing lies on the sheet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from modelmath.drawings.figures.elevation import framed_elevation
from modelmath.drawings.figures.frame import Frame
from modelmath.drawings.figures.side import Piece, Scene
from modelmath.drawings.svg import to_svg

if TYPE_CHECKING:
    from modelmath.job import Plan
    from modelmath.job.handling import Handle

GRIPS_BELOW = 11.0  # the row of grips, below where the chassis is cut off: between the model and its key
APART = 34.0  # the middles of two grips, at least
OF_SPEAKER = ("speaker", "flange", "terminals")
STANDING = ("standing", "moving")


@dataclass(frozen=True)
class Spot:
    """A box on the sheet, y downward from its upper edge. [drawing unit]"""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True)
class HandledFigure:
    """A side elevation, and where on it stands what can be moved.

    Attributes
    ----------
    svg : str
        The drawing. [-]
    width, height : float
        Its sheet. [drawing unit]
    frame : Frame
        How the model lies on the sheet. [drawing unit]
    top : float
        Where the sheet's upper edge lies, from the lowest height drawn. [drawing unit]
    spots : dict of str to Spot
        By the handle's key; without those that are not drawn. [drawing unit]
    grips : dict of str to tuple of two float
        By the same keys, the middle of what each is held by, in a row below the model. [drawing unit]
    """

    svg: str
    width: float
    height: float
    frame: Frame
    top: float
    spots: dict[str, Spot] = field(default_factory=dict)
    grips: dict[str, tuple[float, float]] = field(default_factory=dict)

    def spot(self, ends_mm: tuple[float, float], heights_mm: tuple[float, float]) -> Spot:
        """Return the box on the sheet of a box of the model.

        Parameters
        ----------
        ends_mm : tuple of two float
            Its front and rear end, from the fore-aft mark. [mm]
        heights_mm : tuple of two float
            Its lower and upper end, above the seat. [mm]

        Returns
        -------
        Spot
            The box. [drawing unit]

        References
        ----------
        Arithmetic.
        """
        (left, right), (low, high), frame = ends_mm, heights_mm, self.frame
        return Spot(frame.x(left), self.top - frame.y(high), (right - left) * frame.unit, (high - low) * frame.unit)

    def chamber(self, plan: Plan) -> Spot | None:
        """Return where on this sheet a plan's chamber would lie, between its ends, its floor and its lowest roof.

        Parameters
        ----------
        plan : Plan
            A plan of the same model. [-]

        Returns
        -------
        Spot or None
            None where it has none. [drawing unit]

        References
        ----------
        The plan's own sizes.
        """
        chamber = plan.chamber
        if chamber is None:
            return None
        roof = min(float(bay.zone.roof_mm) for bay in chamber.bays)
        ends = (float(chamber.start_mm), float(chamber.end_mm))
        return self.spot(ends, (float(chamber.floor_mm), roof))


def handled_figure(plan: Plan, handles: tuple[Handle, ...], width_px: int = 640) -> HandledFigure:
    """Draw the side elevation, and say where on it each thing stands that can be moved.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    handles : tuple of Handle
        What can be moved in it. [mm]
    width_px : int
        Width it has where there is room. [CSS px]

    Returns
    -------
    HandledFigure
        The drawing and its spots. [drawing unit]

    References
    ----------
    `framed_elevation`.
    """
    drawing, frame, scene = framed_elevation(plan)
    svg, top = to_svg(drawing, width_px), drawing.low + drawing.height
    figure = HandledFigure(svg, drawing.width, drawing.height, frame, top)
    for handle in handles:
        pieces = list(_pieces(scene, handle))
        if pieces:
            ends = (min(each.left for each in pieces), max(each.right for each in pieces))
            heights = (min(each.bottom for each in pieces), max(each.top for each in pieces))
            figure.spots[handle.key] = figure.spot(ends, heights)
    level = top - frame.base + GRIPS_BELOW
    middles = {key: spot.x + spot.width / 2 for key, spot in figure.spots.items()}
    figure.grips.update({key: (x, level) for key, x in _apart(middles, drawing.width).items()})
    return figure


def _apart(middles: dict[str, float], width: float) -> dict[str, float]:
    """Move middles apart along a row, in their order, no further than need be to the right and then to the left."""
    keys = sorted(middles, key=lambda key: middles[key])
    places: list[float] = []
    for key in keys:
        places.append(max([middles[key], APART / 2, *(each + APART for each in places[-1:])]))
    for number in range(len(places) - 1, -1, -1):
        last = number == len(places) - 1
        places[number] = min(places[number], width - APART / 2 if last else places[number + 1] - APART)
    return dict(zip(keys, places, strict=True))


def _pieces(scene: Scene, handle: Handle) -> Iterator[Piece]:
    for piece in scene.pieces:
        if handle.kind == "speaker":
            ours = piece.kind in OF_SPEAKER
        elif handle.kind == "obstacle":
            ours = piece.kind in STANDING and piece.words == handle.name
        else:
            ours = piece.kind == "wall" and piece.words == handle.name
        if ours:
            yield piece
