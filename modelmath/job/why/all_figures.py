"""Every figure of a plan, section by section."""

from __future__ import annotations

from typing import TYPE_CHECKING

from modelmath.errors import ModelMathError
from modelmath.job.why import _entered, _inside, _light, _made, _moving, _sound, _space
from modelmath.job.why.figures import Figure

if TYPE_CHECKING:
    from modelmath.job.plan import Plan


def figures_of(plan: Plan) -> dict[str, Figure]:
    """Return every figure of a plan by name.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    dict of str to Figure
        By name; sections that can't be worked out yet have none. [-]

    References
    ----------
    Each figure names its own.
    """
    figures: dict[str, Figure] = {}
    for section in _SECTIONS:
        try:
            found = list(section(plan))
        except ModelMathError:
            continue  # the section's own view shows the message
        figures.update({figure.name: figure for figure in found})
    return figures


_SECTIONS = (
    _entered.entries,
    _entered.readings,
    _space.depths,
    _moving.moving,
    _space.height,
    _space.touching,
    _space.chamber,
    _made.parts,
    _made.holes,
    _made.cuts,
    _inside.places,
    _inside.net,
    _inside.hole_places,
    _inside.weight,
    _sound.speaker,
    _sound.in_chamber,
    _sound.load,
    _light.lamps,
    _light.strands,
    _light.leads,
)
