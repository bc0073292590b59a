"""The figures of a plan, subject by subject; each subject is worked out when first asked for, and kept."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from modelmath.errors import ModelMathError, UnknownChoice, nearest
from modelmath.job.why import _entered, _times, _warned
from modelmath.job.why.figures import MOST_NAMES, Figure, Why, explain
from modelmath.job.why.lit import _in_full, _lamps_and_strands
from modelmath.job.why.made import _cutting, _drilling, _making, _parts
from modelmath.job.why.room import _again, _inside, _left, _moving, _space
from modelmath.job.why.sounding import _parameters, _sealing, _sentences

if TYPE_CHECKING:
    from modelmath.job.plan import Plan

Builder = Callable[["Plan"], Iterator[Figure]]


@dataclass(frozen=True)
class Subject:
    """What belongs together among the figures.

    Attributes
    ----------
    name : str
        What it is about. [-]
    builders : tuple of callable
        Each yields figures. [-]
    searches : bool
        Whether it takes a search, and so waits until it is asked for. [-]
    """

    name: str
    builders: tuple[Builder, ...]
    searches: bool = False


SUBJECTS = (
    Subject("what was entered", (_entered.entries,)),
    Subject("readings", (_entered.readings,)),
    Subject("depths and room left", (_space.depths, _moving.moving, _space.height, _space.touching, _left.room)),
    Subject("chamber and its places", (_space.chamber, _inside.places, _inside.net, _left.along)),
    Subject("parts", (_parts.parts, _making.parts)),
    Subject("strips that will do", (_making.strips,)),
    Subject("holes and drills", (_parts.holes, _inside.hole_places, _drilling.drills, _drilling.in_a_row)),
    Subject("cut plan", (_parts.cuts, _cutting.cuts)),
    Subject("weight", (_inside.weight,)),
    Subject(
        "sound", (_parameters.speaker, _parameters.in_chamber, _parameters.load, _sentences.sound, _sentences.load)
    ),
    Subject(
        "light and wiring",
        (
            _lamps_and_strands.lamps,
            _lamps_and_strands.strands,
            _lamps_and_strands.leads,
            _in_full.lamps,
            _in_full.strands,
        ),
    ),
    Subject("time it takes", (_times.times,)),
    Subject("what to look out for", (_warned.warnings,)),
    Subject("what to measure again", (_again.again,), searches=True),
    Subject("holes spread over a wall", (_drilling.spread, _lamps_and_strands.spread, _in_full.spread), searches=True),
    Subject("sheet layout", (_cutting.sheets,), searches=True),
    Subject("sealing and leaks", (_sealing.sealing,), searches=True),
    Subject("other volumes", (_sealing.volumes,), searches=True),
)


class Explained:
    """The figures of one plan.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    """

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self._kept: dict[str, dict[str, Figure]] = {}

    def of(self, subject: Subject) -> dict[str, Figure]:
        """Return the figures of a subject.

        Parameters
        ----------
        subject : Subject
            One of `SUBJECTS`. [-]

        Returns
        -------
        dict of str to Figure
            By name; what can't be worked out yet has none. [-]

        References
        ----------
        Each figure names its own.
        """
        if subject.name not in self._kept:
            self._kept[subject.name] = {
                figure.name: figure for builder in subject.builders for figure in _built(builder, self._plan)
            }
        return self._kept[subject.name]

    @property
    def at_once(self) -> dict[str, Figure]:
        """The figures that take no search. [-]"""
        return self._merged(subject for subject in SUBJECTS if not subject.searches)

    @property
    def every(self) -> dict[str, Figure]:
        """All of them, searched for where that is needed. [-]"""
        return self._merged(iter(SUBJECTS))

    def _merged(self, subjects: Iterator[Subject]) -> dict[str, Figure]:
        return {name: figure for subject in subjects for name, figure in self.of(subject).items()}

    def why(self, name: str) -> Why:
        """Return a figure with its chain; subjects that take a search are worked out only where none before has it.

        Parameters
        ----------
        name : str
            The figure asked for. [-]

        Returns
        -------
        Why
            The chain. [-]

        Raises
        ------
        UnknownChoice
            If no figure is called so.

        References
        ----------
        Each figure of the chain names its own.
        """
        found = self.at_once
        for subject in SUBJECTS:
            if name in found:
                return explain(found, name)
            if subject.searches:
                found = found | self.of(subject)
        if name in found:
            return explain(found, name)
        near = nearest(name, list(found), MOST_NAMES)
        raise UnknownChoice("the figure", name, near or list(found)[:MOST_NAMES])


def _built(builder: Builder, plan: Plan) -> list[Figure]:
    try:
        return list(builder(plan))
    except ModelMathError:
        return []  # the section's own view shows the message
