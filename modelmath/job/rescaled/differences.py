"""What changed between a plan and the same plan in another scale, figure by figure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal

from modelmath.job.rescaled.taking_over import length_of
from modelmath.job.rescaled.walk import fields_of
from modelmath.job.storage.locate import in_words
from modelmath.lengths.text import format_length

if TYPE_CHECKING:
    from modelmath.job.plan import Plan
    from modelmath.job.why import Figure

Follows = Literal["scaled with the model", "stays: bench and bought parts", "solved anew"]
SCALED: Final = "scaled with the model"
STAYS: Final = "stays: bench and bought parts"
SOLVED: Final = "solved anew"
NONE = "none"
MISFIT = "what does not fit"
_RULE, _READING = "rule: ", "reading: "  # how the names of their figures begin
_WITHOUT_FIGURES = ("LengthEntry", "MovingEntry", "ObstacleEntry", "ChamberEntry", "HolesEntry")
_AS_FIELDS = ("the job, curve",)  # figures that stand among the fields, there in mm
# The model's own weight goes with its volume, of what is put in the place scales; a hole moved by hand scales, and so
# do castings and the places of strands and leads.
_BY_SOURCE = ("the job, weight", "the job, holes", "the job, light: places, castings and runs")


@dataclass(frozen=True)
class Change:
    """One figure before and after.

    Attributes
    ----------
    name : str
        What it is. [-]
    before, after : str
        Its value, with its unit; ``none`` where the plan has no such figure. [-]
    follows : Follows
        Why it is what it is after. [-]
    """

    name: str
    before: str
    after: str
    follows: Follows

    @property
    def differs(self) -> bool:
        """Whether it is another value than before."""
        return self.before != self.after


def changes(before: Plan, after: Plan) -> tuple[Change, ...]:
    """Compare a plan with the same plan in another scale.

    Parameters
    ----------
    before, after : Plan
        The two plans. [-]

    Returns
    -------
    tuple of Change
        What does not fit first; then what was entered, then what follows from it. Figures that stay are among them:
        `Change.differs` tells them apart. [-]

    Raises
    ------
    JobError
        If a length of what moves can't be read.

    References
    ----------
    Each figure names its own; see `Plan.why`.
    """
    misfits = [NONE if each.misfit is None else str(each.misfit) for each in (before, after)]
    found = [Change(MISFIT, misfits[0], misfits[1], SOLVED)]
    found += _paired(_fields(before), _fields(after))
    found += _paired(_figures(before), _figures(after))
    return tuple(found)


_Values = dict[str, tuple[str, Follows]]


def _paired(before: _Values, after: _Values) -> Iterator[Change]:
    """Yield each name of either plan once: those of the first in its order, then what only the second has."""
    for name in dict.fromkeys((*before, *after)):
        old, new = before.get(name), after.get(name)
        either = old or new
        assert either is not None
        follows = either[1]
        if follows == STAYS and (old is None or new is None):
            # A rule that is new carries the lengths taken over; what else comes or goes is of another answer.
            follows = SCALED if name.startswith(_RULE) else SOLVED
        yield Change(name, NONE if old is None else old[0], NONE if new is None else new[0], follows)


def _fields(plan: Plan) -> _Values:
    """Return the lengths that scale, and those that stay in tables that no figure shows."""
    document = plan.job.model_dump()
    found: _Values = {}
    for field in fields_of(plan.job):
        if field.is_length and (field.treatment == "scaled" or field.kind in _WITHOUT_FIGURES):
            name = in_words(field.path, document).replace("_", " ")
            value = format_length(length_of(plan.bench, field), "mm")
            found[name] = value, SCALED if field.treatment == "scaled" else STAYS
    return found


def _figures(plan: Plan) -> _Values:
    return {
        name: (figure.value, _follows(figure))
        for name, figure in plan.figures.items()
        if figure.source not in _AS_FIELDS
    }


def _follows(figure: Figure) -> Follows:
    if figure.name == "scale" or figure.name.startswith(_READING) or figure.source in _BY_SOURCE:
        return SCALED
    return STAYS if figure.source.startswith("the job") else SOLVED
