"""Job files of earlier releases, brought up to date: a chain of steps, each for one thing that changed.

A field that is only added changes nothing for older files, and needs no step. A field that is renamed, moved or read
in another way gets one: a function that changes a document in place, in plain tables or in those of tomlkit, so that
comments stay where they are, and says in a sentence what it did. Where older and newer files can't be told apart by
their shape, `FORMAT` goes up by one, and the step leads to that format.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, MutableMapping, Sequence
from dataclasses import dataclass
from itertools import permutations, product
from typing import Any

from modelmath.errors import ModelMathError, shown
from modelmath.job.document import FORMAT

Document = MutableMapping[str, Any]


@dataclass(frozen=True)
class Step:
    """One thing that changed in the job file.

    Attributes
    ----------
    leads_to : int
        The format of a document after it; that of before too, where an older one is told by its shape. [-]
    change : callable
        Changes a document in place, and returns a sentence that says so; an empty one where there was nothing to. [-]
    """

    leads_to: int
    change: Callable[[Document], str]


def brought_up_to_date(
    document: Document, steps: Sequence[Step] | None = None, newest: int = FORMAT
) -> tuple[str, ...]:
    """Bring a document of an earlier release up to date, in place.

    Parameters
    ----------
    document : dict, or a document of tomlkit
        Its tables. One without a format, or with one that is no number, is tried with every step. [-]
    steps : sequence of Step or None
        What changed, the oldest first; None for all that did. [-]
    newest : int
        The format it leads to. [-]

    Returns
    -------
    tuple of str
        What was brought up to date, a sentence each; empty where nothing was. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> def renamed(document):
    ...     document["name"] = document.pop("title")
    ...     return "title is now called name."
    >>> old = {"format": 1, "title": "hood"}
    >>> brought_up_to_date(old, [Step(2, renamed)], newest=2), old
    (('title is now called name.',), {'format': 2, 'name': 'hood'})
    """
    version = document.get("format")
    since = version if isinstance(version, int) and not isinstance(version, bool) else 0
    said = [step.change(document) for step in (STEPS if steps is None else steps) if step.leads_to >= since]
    if 1 <= since < newest:
        document["format"] = newest
    return tuple(sentence for sentence in said if sentence)


# What changed.

MOST_WIRED = 4  # the plan's own speaker and three more
_OLD_WIRING = re.compile(
    r", (that pair|those \w+) in (series|parallel) with |^\((?!.* \+ ).*\).*, in (series|parallel)$"
)


def _wiring(document: Document) -> str:
    """A wiring with a joint within a joint had other words: "a and b in series, that pair in parallel with c"."""
    sound = document.get("sound")
    if not isinstance(sound, MutableMapping):
        return ""
    words = sound.get("wiring")
    if not isinstance(words, str) or _OLD_WIRING.search(words) is None:
        return ""
    new = _new_words(" ".join(words.split()), _speakers(document))
    if new is None:
        return ""
    sound["wiring"] = new
    return f"The wiring was written {shown(words)} by an earlier release; it is {shown(new)} now."


def _speakers(document: Mapping[str, Any]) -> list[str]:
    """Return the names of the speakers that are wired: the plan's own first."""
    speaker, sound = document.get("speaker"), document["sound"]
    also = sound.get("also")
    tables = [speaker if isinstance(speaker, Mapping) else {}, *(also if isinstance(also, list) else [])]
    names = [each.get("name", "speaker") if isinstance(each, Mapping) else None for each in tables]
    return [name for name in names if isinstance(name, str)]


def _new_words(words: str, names: Sequence[str]) -> str | None:
    """Return the words of today for a wiring; None where no wiring of these speakers was called so.

    Like speakers stand before others in the words, so that their order tells nothing: every order is tried.
    """
    from modelmath.sound.loads.naming import wiring_in_words
    from modelmath.sound.loads.speakers import RatedSpeaker
    from modelmath.sound.loads.wiring import wirings

    if not 3 <= len(names) <= MOST_WIRED:
        return None
    for order in permutations(names):
        try:
            found = wirings([RatedSpeaker(name, ohm) for ohm, name in enumerate(order, start=4)])  # none alike
        except ModelMathError:  # a name that is empty or stands twice; the bench says so
            return None
        for wiring, by_count in product(found, (False, True)):
            if _old_words(wiring, by_count) == words:
                return wiring_in_words(wiring, by_count)
    return None


def _old_words(wiring: Any, by_count: bool) -> str:
    """Return a wiring in the words of the first releases that had them."""
    from modelmath.sound.loads.amounts import number_word
    from modelmath.sound.loads.naming import listed
    from modelmath.sound.loads.tree import Series, Single

    if isinstance(wiring, Single):
        return "one alone" if by_count else f"{wiring.name} alone"
    joint = "in series" if isinstance(wiring, Series) else "in parallel"
    singles = [part.name for part in wiring.parts if isinstance(part, Single)]
    groups = [part for part in wiring.parts if not isinstance(part, Single)]
    ones = [number_word(len(singles))] if by_count and singles else singles
    if not groups:
        return f"{listed(ones)} {joint}"
    if len(groups) == 1:
        size = len(groups[0].names)
        those = "that pair" if size == 2 else f"those {number_word(size)}"
        more = " more" if by_count else ""
        return f"{_old_words(groups[0], by_count)}, {those} {joint} with {listed(ones)}{more}"
    inside = [f"({_old_words(group, by_count)})" for group in groups]
    return f"{listed([*inside, *ones])}, {joint}"


STEPS: tuple[Step, ...] = (Step(1, _wiring),)
