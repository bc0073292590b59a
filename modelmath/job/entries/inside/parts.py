"""How parts are made, and the stock that a job is cut from alone, as text and back."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from modelmath.errors import ModelMathError
from modelmath.job.document import Build, Job, StockEntry
from modelmath.job.entries.inside.form import YES_NO, Form, text_of, word_for
from modelmath.job.entries.inside.words import count
from modelmath.job.entries.screen import Outcome
from modelmath.materials import Sheet, Strip, parse_sheet, parse_strip

ABOVE_ZERO = ("wall", "post", "new_strip", "new_sheet_length", "new_sheet_width")
MAY_BE_ZERO = ("kerf", "end_trim", "least_offcut", "hole_clearance")
KINDS: Mapping[str, str] = {"strip": "strip", "sheet": "sheet"}
MOST, MOST_ALIKE = 1000, 999  # the document's own limits
NEEDED = {
    "size": "Write its name, such as HO 6x10 for strip or .040 sheet for sheet.",
    "length": "Write how long it is, such as 14 in.",
    "width": "Write how wide the sheet is, such as 6 in.",
}
STRIP_HAS_NONE = "Strip has its width in its name: empty this field, or choose sheet."
TOO_MUCH = f"A job lists {MOST} of these at most. Take one out, or enter those alike as one."


def build_texts(job: Job) -> dict[str, str]:
    """Return how parts are made, as text.

    Parameters
    ----------
    job : Job
        The job. [-]

    Returns
    -------
    dict of str to str
        By field: wall, post, new_strip, new_sheet_length, new_sheet_width, kerf, end_trim, least_offcut,
        hole_clearance, count. [-]

    References
    ----------
    None needed.
    """
    return {name: text_of(job.build, name) for name in (*ABOVE_ZERO, *MAY_BE_ZERO, "count")}


def with_build(job: Job, typed: Mapping[str, str]) -> Outcome:
    """Return a job whose parts are made as typed.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    typed : mapping of str to str
        By field, as `build_texts` gives them. [-]

    Returns
    -------
    Outcome
        The new job, or what is wrong. [-]

    References
    ----------
    None needed.
    """
    form = Form(job, typed, build_texts(job))
    count(form, form.document["build"], Build, "count", "models")
    for name in (*ABOVE_ZERO, *MAY_BE_ZERO):
        form.size(form.document["build"], Build, name, name, zero=name in MAY_BE_ZERO)
    return form.outcome(
        lambda fault, _job: str(fault.path[1]) if fault.path[:1] == ("build",) and len(fault.path) > 1 else ""
    )


def stock_names(job: Job) -> list[str]:
    """Return what the job's own stock is called in a list.

    Parameters
    ----------
    job : Job
        The job. [-]

    Returns
    -------
    list of str
        Name and size of each. [-]

    References
    ----------
    None needed.
    """
    sizes = (f"{each.length} x {each.width}" if each.width else each.length for each in job.drawer)
    return [f"{each.strip or each.sheet}, {size}" for each, size in zip(job.drawer, sizes, strict=True)]


def stock_texts(job: Job, place: int | None) -> dict[str, str]:
    """Return strip or sheet on hand for the job as text.

    Parameters
    ----------
    job : Job
        The job. [-]
    place : int or None
        Which of them, from 0; None for a new one. [-]

    Returns
    -------
    dict of str to str
        By field: kind, size, length, width, count, offcut. [-]

    References
    ----------
    None needed.
    """
    if place is None:
        return {"kind": "strip", **dict.fromkeys(("size", "length", "width", "count"), ""), "offcut": "no"}
    entry = job.drawer[place]
    return {
        "kind": "sheet" if entry.strip is None else "strip",
        "size": entry.strip or entry.sheet or "",
        "length": entry.length,
        "width": entry.width or "",
        "count": text_of(entry, "count"),
        "offcut": word_for(YES_NO, entry.offcut),
    }


def with_stock(job: Job, place: int | None, typed: Mapping[str, str]) -> Outcome:
    """Return a job in which strip or sheet on hand is as typed.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    place : int or None
        Which of them, from 0; None to add one. [-]
    typed : mapping of str to str
        By field, as `stock_texts` gives them. [-]

    Returns
    -------
    Outcome
        The new job, or what is missing or wrong. [-]

    References
    ----------
    None needed.
    """
    form = Form(job, typed, stock_texts(job, place))
    new = place is None
    drawer: list[dict[str, Any]] = form.document["drawer"]
    if new:
        blank = StockEntry(strip="new", length="1 mm").model_dump()
        drawer.append({**blank, "strip": None, "length": None})
    at = len(drawer) - 1 if place is None else place
    entry = drawer[at]
    form.choose({}, "kind", "kind", KINDS, "what it is")
    form.need("size", NEEDED["size"], new)
    form.note("size", lambda: _size(form, entry))
    form.need("length", NEEDED["length"], new)
    form.size(entry, StockEntry, "length", "length", zero=False)
    if form.typed["kind"] == "sheet":
        form.need("width", NEEDED["width"], new)
    elif form.typed["width"]:
        form.messages["width"] = STRIP_HAS_NONE
    if "width" not in form.messages:
        form.size(entry, StockEntry, "width", "width", zero=False)
    count(form, entry, StockEntry, "count", "pieces", MOST_ALIKE)
    form.choose(entry, "offcut", "offcut", YES_NO, "whether it is an offcut")
    if at >= MOST:
        form.messages[""] = TOO_MUCH
    return form.outcome(lambda _fault, _job: "")


def without_stock(job: Job, place: int) -> Job:
    """Return a job without one strip or sheet of its own.

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
    document["drawer"].pop(place)
    return Job.model_validate(document)


def _size(form: Form, entry: dict[str, Any]) -> str:
    """Read the name of a strip or sheet."""
    text, kind = form.typed["size"], form.typed["kind"]
    if not text or "kind" in form.messages:
        return ""
    try:
        found: Strip | Sheet = parse_sheet(text) if kind == "sheet" else parse_strip(text, form.job.scale)
    except ModelMathError as fault:
        if not form.kept("kind"):  # the name is as it was, and yet wrong now
            form.messages["size"] = str(fault)
        raise
    if not (form.kept("size") and form.kept("kind")):
        entry |= {"strip": None, "sheet": None, kind: text}
    return found.name
