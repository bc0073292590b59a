"""What stands in the shell as rows of text, and back: motor frame, gear tower, screw posts, lamp brackets."""

from __future__ import annotations

from collections.abc import Mapping
from typing import get_args

from modelmath.errors import JobError
from modelmath.job.bench.bench import Bench
from modelmath.job.document import Job, ObstacleEntry
from modelmath.job.entries.inside.form import Form, text_of, word_for
from modelmath.job.entries.inside.places import drop_unused, put_reading, read_echo, reading_of, reading_text
from modelmath.job.entries.screen import Outcome
from modelmath.job.fields.measured import ObstacleKind

MOST = 50  # as many as a job may have
KINDS: tuple[str, ...] = get_args(ObstacleKind)
HALVES = {"chassis": "chassis", "shell": "shell"}
REACHES = {"to its own top": False, "up to the roof": True}
READINGS = ("start", "end", "top")
LOW = "below all of the chassis, where nothing goes; heights count from the seat"
NEEDS_LENGTH = "Enter the length inside the shell first: what stands in it has its place along that."
NEEDS_MARK = (
    "A place on the chassis needs the fore-aft mark, measured on both halves: enter it above the zones, or read this "
    "place on the shell."
)


def obstacle_texts(job: Job, place: int | None) -> dict[str, str]:
    """Return what stands in the shell as text.

    Parameters
    ----------
    job : Job
        The job. [-]
    place : int or None
        Which of its obstacles, from 0; None for a new one. [-]

    Returns
    -------
    dict of str to str
        By field: name, kind, start, start_on, end, end_on, reach, top, width, off_centre, running, trim. [-]

    References
    ----------
    None needed.
    """
    if place is None:
        on = "chassis" if job.length is not None and job.length.mark is not None else "shell"
        empty = dict.fromkeys(("name", "start", "end", "top", "width", "off_centre", "running", "trim"), "")
        return {**empty, "kind": "other", "start_on": on, "end_on": on, "reach": "to its own top"}
    entry = job.obstacles[place]
    found = {name: reading_text(job, getattr(entry, name)) for name in READINGS}
    for name in ("start", "end"):
        reading = reading_of(job, getattr(entry, name))
        found[f"{name}_on"] = (reading.on if reading else None) or "chassis"
    found |= {name: text_of(entry, name) for name in ("width", "off_centre", "running", "trim")}
    return {**found, "name": entry.name, "kind": entry.kind, "reach": word_for(REACHES, entry.top is None)}


def with_obstacle(job: Job, place: int | None, typed: Mapping[str, str]) -> Outcome:
    """Return a job in which what stands in the shell is as typed.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    place : int or None
        Which of its obstacles, from 0; None to add one. [-]
    typed : mapping of str to str
        By field, as `obstacle_texts` gives them. [-]

    Returns
    -------
    Outcome
        The new job, or what is missing or wrong. [-]

    References
    ----------
    None needed.
    """
    form = Form(job, typed, obstacle_texts(job, place))
    new = place is None
    obstacles = form.document["obstacles"]
    at = len(obstacles) if place is None else place
    if new:
        blank = ObstacleEntry(name="new", start="start", end="end").model_dump()
        obstacles.append({**blank, "start": None, "end": None})
    entry = obstacles[at]
    old = {entry[key] for key in READINGS}
    form.need("name", "Write a name for it, such as motor clip.", new)
    form.name(entry, "the obstacle")
    form.choose(entry, "kind", "kind", {kind: kind for kind in KINDS}, "the kind")
    for name in ("start", "end"):
        form.need(name, "Write where it is along that half, such as 35 mm.", new)
        _along(form, entry, name)
    _top(form, entry, new)
    form.size(entry, ObstacleEntry, "width", "width", zero=False)
    form.place(entry, ObstacleEntry, "off_centre", "off_centre")
    form.size(entry, ObstacleEntry, "running", "running")
    form.size(entry, ObstacleEntry, "trim", "trim")
    if at >= MOST:
        form.messages[""] = f"A job has {MOST} obstacles at most. Take one out, or enter two that touch as one."
    if job.length is None and not all(form.kept(field) for field in form.before):
        form.messages[""] = NEEDS_LENGTH
    drop_unused(form.document, old)
    found = form.outcome(lambda fault, changed: _field_at(fault, changed, at))
    if found.job is not None and "top" in found.echoes and _is_low(found.job, at):
        found.echoes["top"] += f": {LOW}"
    return found


def without_obstacle(job: Job, place: int) -> Job:
    """Return a job without one of its obstacles; readings that nothing else uses go with it.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    place : int
        Which of its obstacles, from 0. [-]

    Returns
    -------
    Job
        A new job. [-]

    References
    ----------
    None needed.
    """
    document = job.model_dump()
    gone = document["obstacles"].pop(place)
    drop_unused(document, {gone[key] for key in READINGS})
    return Job.model_validate(document)


def _along(form: Form, entry: dict[str, str | None], name: str) -> None:
    """Read a place along the length, on one of the halves."""
    half = f"{name}_on"
    form.choose({}, half, half, HALVES, "the half")
    on = form.typed[half]
    lengths = form.job.length
    if on == "chassis" and lengths is not None and lengths.mark is None and not (form.kept(name) and form.kept(half)):
        form.messages[half] = NEEDS_MARK
    if half in form.messages or not form.typed[name]:
        return

    def read() -> str:
        entry[name] = put_reading(form, name, entry[name], f"{_called(entry)}, {name}", on)
        return read_echo(form, name)

    form.note(name, read)


def _top(form: Form, entry: dict[str, str | None], new: bool) -> None:
    """Read how high it stands: a height above the seat, or up to the roof."""
    form.choose({}, "reach", "reach", REACHES, "how high it reaches")
    if "reach" in form.messages:
        return
    if REACHES[form.typed["reach"]]:
        if form.typed["top"]:
            form.messages["top"] = "It reaches up to the roof: empty this field, or choose that it has its own top."
        entry["top"] = None
        return
    if not (form.kept("top") and form.kept("reach")) or new:
        form.need("top", "Write the height of its top above the seat, such as 14 mm, or choose up to the roof.", new)

    def read() -> str:
        entry["top"] = put_reading(form, "top", entry["top"], f"{_called(entry)}, top", None)
        return read_echo(form, "top")

    form.note("top", read)


def _is_low(job: Job, place: int) -> bool:
    """Whether the top of what stands there lies below every part of the chassis that was read."""
    bench, name = Bench(job), job.obstacles[place].name
    stands = next((each for each in bench.moving if each.entry.name == name), None)
    tops = [depth.top.exact_mm for depth in bench.depths if depth.top is not None]
    return stands is not None and bool(tops) and stands.top.exact_mm < min(tops)


def _called(entry: dict[str, str | None]) -> str:
    """Return the name that its readings are called by, short enough for a reading's own name."""
    return str(entry["name"])[:150]


def _field_at(fault: JobError, job: Job, place: int) -> str:
    """Say beside which field of the form a fault of the job belongs."""
    entry = job.obstacles[place]
    table, *rest = fault.path or ("",)
    if table == "readings":
        name = job.readings[int(rest[0])].name
        return next((key for key in READINGS if getattr(entry, key) == name), "")
    if table == "obstacles" and rest[1:] == ["name"]:
        return "name"  # of two of one name it is the later that is told
    if table != "obstacles" or rest[0] != place:
        return ""
    if len(rest) > 1:
        return str(rest[1])
    meant = {"the name": "name", " mm long;": "end"}
    return next((field for words, field in meant.items() if words in fault.problem), "")
