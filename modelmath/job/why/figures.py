"""A figure, and the chain of figures behind it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from modelmath.errors import UnknownChoice, nearest
from modelmath.job.why.budget import Share, shares_of

MOST_NAMES = 6  # that a message lists


@dataclass(frozen=True)
class Figure:
    """One number of a plan.

    Attributes
    ----------
    name : str
        What it is. [-]
    value : str
        Its value, with unit and uncertainty. [-]
    how : str
        How it follows from the figures below it. [-]
    source : str
        Where the formula, table or entry comes from. [-]
    follows_from : tuple of str
        Names of the figures below it. [-]
    uncertain : uncertain number or None
        The same number with its sources, where it has any. [as `value`]
    """

    name: str
    value: str
    how: str
    source: str
    follows_from: tuple[str, ...] = ()
    uncertain: Any = field(default=None, compare=False)

    @property
    def budget(self) -> tuple[Share, ...]:
        """What makes it uncertain, the largest share first; none where nothing does."""
        return shares_of(self.uncertain)


@dataclass(frozen=True)
class Why:
    """A figure with the chain behind it.

    Attributes
    ----------
    chain : tuple of (int, Figure)
        How deep each figure stands, and the figure; the asked one first. [-]
    """

    chain: tuple[tuple[int, Figure], ...]

    @property
    def figure(self) -> Figure:
        """The figure asked for."""
        return self.chain[0][1]

    def __str__(self) -> str:
        return "\n".join(self._lines())

    def _lines(self) -> Iterator[str]:
        """Yield the chain line by line; what was told before is only named the second time."""
        told: set[str] = set()
        skip_below: int | None = None
        for depth, figure in self.chain:
            if skip_below is not None and depth > skip_below:
                continue
            skip_below = depth if figure.name in told else None
            rest = "as above" if figure.name in told else f"{figure.how} [{figure.source}]"
            told.add(figure.name)
            yield f"{'   ' * depth}{figure.name} = {figure.value}: {rest}"


def explain(figures: dict[str, Figure], name: str) -> Why:
    """Return a figure with everything it follows from.

    Parameters
    ----------
    figures : dict of str to Figure
        All figures by name. [-]
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
    None needed.
    """
    if name not in figures:
        near = nearest(name, list(figures), MOST_NAMES)
        raise UnknownChoice("the figure", name, near or list(figures)[:MOST_NAMES])
    return Why(tuple(_walk(figures, name, 0, set())))


def _walk(figures: dict[str, Figure], name: str, depth: int, told: set[str]) -> Iterator[tuple[int, Figure]]:
    """Yield a figure and what stands below it; what is below a figure that stands twice is told once."""
    yield depth, figures[name]
    if name in told:
        return
    told.add(name)
    for below in figures[name].follows_from:
        yield from _walk(figures, below, depth + 1, told)
