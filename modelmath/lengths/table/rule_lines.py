"""Rules given as text, one a line: a name, what its figures count, its finest marks, how far its zero stands in."""

from __future__ import annotations

from modelmath.errors import ModelMathError, OutOfRange, WrongKind, shown
from modelmath.lengths.rules import KINDS, Rule
from modelmath.lengths.rules.kinds import usual
from modelmath.lengths.scales import Scale

MOST_RULES = 20
USUAL_MARKS = {"scale foot": "1/4", "scale inch": "6", "mm": "0.5", "in": "1/64"}
EXAMPLE = "scale rule; scale ft; 1/4; 1"


def read_rules(text: str, scale: Scale | str | None = None) -> list[Rule]:
    r"""Return the rules that lines of text tell of.

    A line holds a name, a unit, the distance between the finest marks, and how far the zero stands in from the end,
    parted by semicolons; the last two may be left out. Empty lines are passed over. One whose name begins with a kind
    of instrument, such as ``caliper``, is read as is usual for it.

    Parameters
    ----------
    text : str
        The lines. [rule's unit]
    scale : Scale, str or None
        Scale of the rules in scale feet or inches. [-]

    Returns
    -------
    list of Rule
        In order; one at least. [-]

    Raises
    ------
    WrongKind
        If a line can't be read; says which, and why.
    OutOfRange
        If there are none, or more than 20.

    References
    ----------
    None needed.

    Examples
    --------
    >>> for rule in read_rules("scale rule; scale ft; 1/4; 1\ncaliper; mm; 0.01", "HO"):
    ...     print(rule.name, float(rule.graduation_mm), float(rule.offset_mm))
    scale rule 0.875 3.5
    caliper 0.01 0.0
    """
    lines = [(number, line) for number, line in enumerate(text.splitlines(), start=1) if line.strip()]
    if not 1 <= len(lines) <= MOST_RULES:
        raise OutOfRange(
            "the list of rules",
            f"{len(lines)} rules long",
            f"1 to {MOST_RULES}",
            f"Write one a line, such as {shown(EXAMPLE)}.",
        )
    rules: list[Rule] = []
    for number, line in lines:
        try:
            rule = _rule(line, scale)
        except ModelMathError as error:
            reason = str(error)
            raise WrongKind(
                f"line {number} of the rules",
                shown(line),
                f"a rule, such as {shown(EXAMPLE)}",
                reason[0].upper() + reason[1:],
            ) from error
        if rule.name.casefold() in (each.name.casefold() for each in rules):
            raise WrongKind(f"line {number} of the rules", f"a second {shown(rule.name)}", "another name", "Rename it.")
        rules.append(rule)
    return rules


def _rule(line: str, scale: Scale | str | None) -> Rule:
    cells = [cell.strip() for cell in line.split(";")]
    if not 2 <= len(cells) <= 4 or not cells[0]:
        remedy = "Write a name, a unit, the finest marks, and how far its zero stands in."
        raise OutOfRange("the line", f"{len(cells)} columns wide", "2 to 4 columns, the name first", remedy)
    name, unit, marks, zero = cells + [""] * (4 - len(cells))
    rule = Rule(unit=unit, scale=scale, graduation=1, name=name)
    kind = next((each for each in KINDS if name.casefold().startswith(each)), KINDS[0])
    marks = marks or USUAL_MARKS[rule.unit]
    as_usual = {key: text for key, text in usual(kind).items() if key in ("offset_uncertainty", "reads")}
    if "read_to" in usual(kind) and rule.unit == usual(kind)["unit"]:
        # A caliper shows finer steps than it is right to.
        as_usual["read_to"] = max(rule.given_mm(usual(kind)["read_to"]), rule.given_mm(marks)) / rule.unit_mm
    return Rule(unit=unit, scale=scale, graduation=marks, zero_offset=zero or "0", name=name, kind=kind, **as_usual)
