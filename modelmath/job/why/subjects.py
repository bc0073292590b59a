"""The figures of a plan, subject by subject; each subject is worked out when first asked for, and kept."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from modelmath.errors import ModelMathError, UnknownChoice, nearest
from modelmath.job.why import (
    _again,
    _cutting,
    _entered,
    _holes,
    _inside,
    _left,
    _light,
    _lighting,
    _made,
    _making,
    _moving,
    _sealing,
    _sound,
    _sounding,
    _space,
    _times,
    _warned,
)
from modelmath.job.why.figures import MOST_NAMES, Figure, Why, explain

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
    Subject("parts", (_made.parts, _making.parts)),
    Subject("strips that will do", (_making.strips,)),
    Subject("holes and drills", (_made.holes, _inside.hole_places, _holes.drills, _holes.in_a_row)),
    Subject("cut plan", (_made.cuts, _cutting.cuts)),
    Subject("weight", (_inside.weight,)),
    Subject("sound", (_sound.speaker, _sound.in_chamber, _sound.load, _sounding.sound, _sounding.load)),
    Subject("light and wiring", (_light.lamps, _light.strands, _light.leads, _lighting.lamps, _lighting.strands)),
    Subject("time it takes", (_times.times,)),
    Subject("what to look out for", (_warned.warnings,)),
    Subject("what to measure again", (_again.again,), searches=True),
    Subject("holes spread over a wall", (_holes.spread, _light.spread, _lighting.spread), searches=True),
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
