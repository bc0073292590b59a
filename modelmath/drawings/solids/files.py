"""The solids of a plan as files in a folder, and what is to be known before one is printed."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from modelmath.drawings.into_folder import write_into
from modelmath.drawings.solids.bodies import Solid, solids_of
from modelmath.drawings.solids.formats import stl_of, threemf_of
from modelmath.files import file_name

if TYPE_CHECKING:
    from modelmath.enclosure.stepped import SteppedChamber
    from modelmath.job import Plan

NAMES = {
    "chamber": "chamber: walls and floor",
    "floor": "floor that comes off",
    "seat": "seat of the speaker",
    "air": "air of the chamber, no part",
}


def save_solids_stl(
    plan: Plan, folder: str | os.PathLike[str], stepped: SteppedChamber | None = None
) -> tuple[Path, ...]:
    """Write each solid of a plan as an STL file of its own.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    folder : str or path
        Where to; made if it is not there. [-]
    stepped : SteppedChamber or None
        One of those that `Plan.stepped` offers, in place of the plan's own chamber. [mm]

    Returns
    -------
    tuple of Path
        The files, named after the job and the solid, with ``mm`` at the end since STL states no unit. [-]

    Raises
    ------
    DoesNotFit, NotYetKnown, OutOfRange
        If there is nothing to make a solid of, or it would not be closed.
    JobError
        If a file can't be written; older ones of that name are untouched.

    References
    ----------
    `stl_of`.
    """
    made = [(solid.name, stl_of(solid.mesh)) for solid in _solids(plan, stepped)]  # all or none
    stem = _stem(plan, stepped)
    model = plan.job.name
    return tuple(write_into(folder, f"{stem}-{name}-mm.stl", content, "the solid", model) for name, content in made)


def save_solids_3mf(plan: Plan, folder: str | os.PathLike[str], stepped: SteppedChamber | None = None) -> Path:
    """Write the solids of a plan as one 3MF file, side by side.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    folder : str or path
        Where to; made if it is not there. [-]
    stepped : SteppedChamber or None
        One of those that `Plan.stepped` offers, in place of the plan's own chamber. [mm]

    Returns
    -------
    Path
        The file, named after the job. [-]

    Raises
    ------
    DoesNotFit, NotYetKnown, OutOfRange
        If there is nothing to make a solid of, or it would not be closed.
    JobError
        If the file can't be written; an older one of that name is untouched.

    References
    ----------
    `threemf_of`.
    """
    content = threemf_of(plan.job.name, [(NAMES[solid.name], solid.mesh) for solid in _solids(plan, stepped)])
    return write_into(folder, f"{_stem(plan, stepped)}-solids.3mf", content, "the solid", plan.job.name)


def _solids(plan: Plan, stepped: SteppedChamber | None) -> tuple[Solid, ...]:
    if stepped is None:
        return solids_of(plan)
    from modelmath.drawings.solids.stepped import stepped_solids

    return stepped_solids(plan, stepped)


def _stem(plan: Plan, stepped: SteppedChamber | None) -> str:
    return file_name(plan.job.name) + ("" if stepped is None else "-stepped")


def notes_on_solids(plan: Plan) -> tuple[str, ...]:
    """Return what is to be known of a plan's solids before one is printed.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of str
        Size, volume and count of pieces of each, and what differs from the plan. [-]

    Raises
    ------
    DoesNotFit, NotYetKnown, OutOfRange
        If there is nothing to make a solid of, or it would not be closed.

    References
    ----------
    `solids_of`.
    """
    several = (f"Each file is for one model; {plan.models} are built.",) if plan.models > 1 else ()
    return (*several, *(note for solid in solids_of(plan) for note in _on(solid)))


def _on(solid: Solid) -> Iterator[str]:
    along, across, up = solid.mesh.size_mm
    count = solid.mesh.pieces
    pieces = "" if count == 1 else f", in {count} pieces that don't touch"
    yield (
        f"{NAMES[solid.name].capitalize()}: {along:.2f} × {across:.2f} × {up:.2f} mm, "
        f"{solid.volume_mm3 / 1000:.3f} cm3{pieces}."
    )
    yield from solid.notes
