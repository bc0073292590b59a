"""Speakers to compare with the plan's own, as text and back; a new one may begin as an invented example."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from modelmath.errors import JobError, OutOfRange
from modelmath.job.bench.sounds import DRIVER_KINDS, FIELDS
from modelmath.job.document import ChoiceEntry, Job
from modelmath.job.entries.inside.contents import SHAPES
from modelmath.job.entries.inside.form import FieldAt, Form, text_of, word_for
from modelmath.job.entries.inside.sound import own_name, read_name, read_quantity
from modelmath.job.entries.screen import Outcome

SIZES = ("length", "width", "flange", "depth")
MORE_SIZES = ("basket_length", "basket_width", "rim", "terminals", "travel")
MAY_BE_ZERO = ("terminals", "travel")
DRIVER = tuple(DRIVER_KINDS)
MOST = 40  # the document's own limit
# Fields that no page has, by the reason why; a job file may have them, and an editor leaves them as they are.
FILE_ONLY: Mapping[str, str] = {
    "faces": "the comparison tries every way it may face",
    "turned": "swap its length and its width instead",
    "place": "a speaker to compare sits in the middle, as far as it goes, unless the job file says otherwise",
}
NEEDED = {
    "name": "Write what it is called, so that it can be told from the others.",
    "length": "Write its length over the flange, such as 26 mm.",
    "width": "Write its width over the flange, such as 16 mm.",
    "flange": "Write how thick its flange is, such as 1.2 mm.",
    "depth": "Write how deep it is, magnet included, such as 6 mm.",
}
TOO_MUCH = f"A job compares {MOST} speakers at most. Take one out first."
EXAMPLE_MARK = "(invented example)"


def choice_names(job: Job) -> list[str]:
    """Return the names of the speakers to compare.

    Parameters
    ----------
    job : Job
        The job. [-]

    Returns
    -------
    list of str
        In their order. [-]

    References
    ----------
    None needed.
    """
    return [each.name for each in job.choices]


def choice_texts(job: Job, place: int | None) -> dict[str, str]:
    """Return a speaker to compare as text.

    Parameters
    ----------
    job : Job
        The job. [-]
    place : int or None
        Which of them, from 0; None for a new one. [-]

    Returns
    -------
    dict of str to str
        By field: its name, its sizes, round, and its driver's parameters. [-]

    References
    ----------
    None needed.
    """
    entry = ChoiceEntry() if place is None else job.choices[place]
    found = {"name": "" if place is None else entry.name}
    found |= {name: text_of(entry, name) for name in (*SIZES, *MORE_SIZES)}
    found["round"] = word_for(SHAPES, entry.round)
    return found | {name: text_of(entry.driver, name) for name in DRIVER}


def with_choice(job: Job, place: int | None, typed: Mapping[str, str]) -> Outcome:
    """Return a job in which a speaker to compare is as typed.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    place : int or None
        Which of them, from 0; None to add one. [-]
    typed : mapping of str to str
        By field, as `choice_texts` gives them. [-]

    Returns
    -------
    Outcome
        The new job, or what is missing or wrong. [-]

    References
    ----------
    None needed.
    """
    form = Form(job, typed, choice_texts(job, place))
    new = place is None
    choices: list[dict[str, Any]] = form.document["choices"]
    if new:
        choices.append(ChoiceEntry().model_dump())
    at = len(choices) - 1 if place is None else place
    entry = choices[at]
    others = [own_name(job), *(each.name for other, each in enumerate(job.choices) if other != at)]
    for name, message in NEEDED.items():
        # A size that the job file leaves out may stay out; an emptied one may not.
        if new or name == "name" or not form.kept(name):
            form.need(name, message, new)
    form.note("name", lambda: _name(form, entry, others))
    for name in (*SIZES, *MORE_SIZES):
        if name not in form.messages:
            form.size(entry, ChoiceEntry, name, name, zero=name in MAY_BE_ZERO)
    form.choose(entry, "round", "round", SHAPES, "its shape")
    for name, kind in DRIVER_KINDS.items():
        read_quantity(form, entry["driver"], name, name, kind)
    if at >= MOST:
        form.messages[""] = TOO_MUCH
    return form.outcome(_field_at(at))


def without_choice(job: Job, place: int) -> Job:
    """Return a job without one of its speakers to compare.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    place : int
        Which of them, from 0. [-]

    Returns
    -------
    Job
        A new job. [-]

    References
    ----------
    None needed.
    """
    document = job.model_dump()
    document["choices"].pop(place)
    return Job.model_validate(document)


def example_names() -> list[str]:
    """Return the names of the invented speakers that a new one may begin as.

    Returns
    -------
    list of str
        In the order of the table. [-]

    References
    ----------
    `example_drivers`.

    Examples
    --------
    >>> example_names()[0]
    '8 mm round speaker'
    """
    from modelmath.sound.driver.examples import example_drivers

    return [each.name for each in example_drivers()]


def example_texts(name: str) -> dict[str, str]:
    """Return an invented speaker as the texts of a new one, marked as invented.

    It is complete at once. Its parameters are marked as estimated and have limits, under any name, so that nothing
    takes them for what stands on a sheet.

    Parameters
    ----------
    name : str
        One of `example_names`. [-]

    Returns
    -------
    dict of str to str
        By field, as `choice_texts` gives them. [-]

    References
    ----------
    `examples`: invented; data/driver_tolerances.csv: common practice, no source.

    Examples
    --------
    >>> found = example_texts("8 mm round speaker")
    >>> found["name"], found["length"], found["fs"], found["depth"]
    ('8 mm round speaker (invented example)', '8 mm', '860 ± 129 Hz, estimated', '4 mm')
    """
    from dataclasses import replace

    from modelmath.quantities.text import format_quantity
    from modelmath.sound.driver.examples import examples
    from modelmath.sound.driver.tolerances import tolerances

    example = next(each for each in examples() if each.driver.name == name)
    driver, within = example.driver, tolerances()
    found = dict.fromkeys(("name", *SIZES, *MORE_SIZES, "round", *DRIVER), "")
    found |= {"name": f"{name} {EXAMPLE_MARK}", "round": word_for(SHAPES, driver.round)}
    found |= {"length": f"{driver.length_mm:g} mm", "width": f"{driver.width_mm:g} mm"}
    found |= {"flange": f"{example.flange_mm:g} mm", "depth": f"{example.depth_mm:g} mm"}
    for field, parameter in FIELDS.items():
        known = driver.known(parameter)
        if known is not None:
            known = within[parameter].around(known) if parameter in within else known
            found[field] = format_quantity(replace(known, origin="estimated"), DRIVER_KINDS[field])
    return found


def _name(form: Form, entry: dict[str, Any], others: list[str]) -> str:
    """Read its name, which no other speaker has: the comparison tells them apart by it."""
    text = form.typed["name"]
    if not text or form.kept("name"):
        return ""
    read_name(text, "a speaker")
    if text in others:
        raise OutOfRange("its name", f"{text!r}", "one that no other speaker has", "Write one of its own.")
    entry["name"] = text
    return ""


def _field_at(place: int) -> FieldAt:
    """Return what says beside which field a fault of one speaker belongs."""

    def field_at(fault: JobError, job: Job) -> str:
        if fault.path[:1] != ("choices",):
            return ""
        if len(fault.path) == 1 or fault.path == ("choices", place):
            before, _, rest = fault.problem.partition(" is ")
            name, _, what = before.rpartition(": ")
            field = what.replace(" ", "_")
            return field if rest and name == job.choices[place].name and field in (*SIZES, *MORE_SIZES) else ""
        if fault.path[1] != place:
            return ""
        return str(fault.path[-1])

    return field_at
