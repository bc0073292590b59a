"""Rules, readings and marks of a job document, read into its bench."""

from __future__ import annotations

from fractions import Fraction
from functools import partial
from typing import TYPE_CHECKING

from modelmath.clearance import Marks
from modelmath.errors import UnknownChoice, WrongKind
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.rules import Rule
from modelmath.lengths.rules.readings import SEAT, Reading
from modelmath.lengths.scales import scale

if TYPE_CHECKING:
    from modelmath.job.bench.bench import Bench

_RULE_LENGTHS = (
    "graduation",
    "zero_offset",
    "offset_uncertainty",
    "reading_uncertainty",
    "read_to",
    "calibrated_at",
    "length",
)


def read_rules(bench: Bench) -> None:
    """Read the document's rules into the bench; what can't be read is a fault of it.

    Parameters
    ----------
    bench : Bench
        The bench; its rules are filled. [-]

    References
    ----------
    None needed.
    """
    for place, entry in enumerate(bench.job.rules):
        known = len(bench.faults)
        with bench.at("rules", place, "scale"):
            if entry.scale is not None:
                scale(entry.scale)
        with bench.at("rules", place):
            if len(bench.faults) > known:
                continue  # its lengths can't be read without its scale
            for name in _RULE_LENGTHS:
                text = getattr(entry, name)
                if text is not None:
                    with bench.at("rules", place, name):
                        parse_length_exact(text, unit=entry.unit, scale=entry.scale or bench.scale)
            if len(bench.faults) == known:
                fields = entry.model_dump(exclude={"scale"})
                bench.rules[entry.name] = Rule(**fields, scale=entry.scale or bench.scale)


def read_readings(bench: Bench) -> None:
    """Read the document's readings and links into the bench, whose rules are read; faults are its own.

    Parameters
    ----------
    bench : Bench
        The bench; its readings and links are filled. [-]

    References
    ----------
    None needed.
    """
    first = bench.job.rules[0].name
    for place, entry in enumerate(bench.job.readings):
        rule = bench.trying(("readings", place, "rule"), partial(_rule, bench, entry.rule or first))
        known = len(bench.faults)
        with bench.at("readings", place, "again"):
            for text in entry.again if rule is not None else ():
                rule.mark_mm(text)
        with bench.at("readings", place, "mark"):
            if rule is not None and len(bench.faults) == known:
                again = tuple(entry.again)
                bench.readings[entry.name] = Reading(entry.name, rule, entry.mark, entry.datum, entry.taken_from, again)
    for place, link in enumerate(bench.job.links):
        with bench.at("links", place, "face"):
            if link.face in bench.links:
                raise WrongKind("the face", repr(link.face), "a face that stands once", "Leave out one of the two.")
        with bench.at("links", place, "reading"):
            found = bench.reading(link.reading)
            if found.face not in (SEAT, link.face):
                problem = f"{link.reading!r}, taken from the {found.face}"
                expected = f"a reading of the seat's height above the {link.face}"
                raise WrongKind("the link reading", problem, expected, f'Write taken_from = "{link.face}" in it.')
            bench.links[link.face] = found


def _rule(bench: Bench, name: str) -> Rule | None:
    if name not in bench.rules:
        if any(entry.name == name for entry in bench.job.rules):
            return None  # its own fault is already noted
        raise UnknownChoice("the rule", name, [entry.name for entry in bench.job.rules])
    return bench.rules[name]


def marks_of(bench: Bench) -> Marks | None:
    """Return the marks that parts are marked out at; None where their rule can't be read.

    Parameters
    ----------
    bench : Bench
        The bench, its rules read. [-]

    Returns
    -------
    Marks or None
        The marks. [mm]

    Raises
    ------
    UnknownChoice, WrongKind
        If there is no such rule, or none that can mark out.

    References
    ----------
    None needed.
    """
    rule = _rule(bench, bench.job.marking.rule)
    if rule is None:
        return None
    if not rule.can_mark_out:
        raise WrongKind(
            "the rule", repr(rule.name), "one with marks to set", f"{rule.kind.capitalize()} can't mark a part out."
        )
    marks = Marks(rule, bench.job.marking.finest, bench.job.marking.datum)
    with bench.at("marking", "finest"):
        marks.up(Fraction(1))  # reads the finest mark, so that a fault shows here and not at the first part
    return marks
