"""Pictures of what to measure and where to put the rule, one for each thing that is entered."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from modelmath.drawings.measuring import (
    cross_section,
    decoder,
    flange,
    in_the_shell,
    inside,
    lamp,
    moving,
    obstacle,
    on_the_chassis,
    speaker,
    weight,
    zero_of_the_rule,
    zones,
)
from modelmath.drawings.measuring.paper import Paper
from modelmath.errors import UnknownChoice

_PAPERS: Mapping[str, Callable[[], tuple[Paper, ...]]] = {
    "zero of the rule": zero_of_the_rule.papers,
    "reading on the chassis": on_the_chassis.papers,
    "reading in the shell": in_the_shell.papers,
    "flange": flange.papers,
    "inside of the shell": inside.papers,
    "speaker": speaker.papers,
    "speaker to compare": speaker.compared,
    "behind the flange": speaker.behind,
    "decoder": decoder.papers,
    "zones": zones.papers,
    "obstacle": obstacle.papers,
    "cross-section": cross_section.papers,
    "what moves": moving.papers,
    "weight": weight.papers,
    "lamp": lamp.papers,
    "strand and lens": lamp.lit,
}
NAMES = tuple(_PAPERS)


def panels(name: str) -> tuple[str, ...]:
    """Return the panels of a picture as SVG text.

    Parameters
    ----------
    name : str
        What is measured, one of `NAMES`. [-]

    Returns
    -------
    tuple of str
        Each one ``svg`` element in black and greys on white, with its words as its label; no ids. [-]

    Raises
    ------
    UnknownChoice
        If there is no picture of that name.

    References
    ----------
    SVG 1.1 (second edition); WAI-ARIA 1.2, role img.

    Examples
    --------
    >>> len(panels("flange"))
    2
    """
    if name not in _PAPERS:
        raise UnknownChoice("the picture", name, NAMES)
    return tuple(paper.svg for paper in _PAPERS[name]())


def picture(*names: str) -> str:
    """Return pictures as HTML: their panels beside each other, below each other where the page is narrow.

    Parameters
    ----------
    *names : str
        What is measured, each one of `NAMES`. [-]

    Returns
    -------
    str
        One ``div`` for the page's own style. [-]

    Raises
    ------
    UnknownChoice
        If there is no picture of a name.

    References
    ----------
    `panels`.

    Examples
    --------
    >>> picture("flange").count("<svg")
    2
    """
    return f'<div class="mm-figure mm-pair">{"".join(each for name in names for each in panels(name))}</div>'
