"""How the holes lie, which were moved by hand, and the circuits of lamps and wires, as text and back."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from modelmath.errors import OutOfRange, UnknownChoice, WrongKind, shown
from modelmath.job.document import HoleEntry, HolesEntry, Job, LampEntry, WireEntry
from modelmath.job.entries.inside.form import LONGEST_NAME, Form, text_of, word_for
from modelmath.job.entries.inside.moved import named_holes
from modelmath.job.entries.screen import Outcome

WAYS: Mapping[str, str] = {"in a row": "row", "spread as wide as can be": "spread"}
SIZES = ("height", "web", "edge", "apart")
MOVED_EXAMPLE = "strand 1: 2 mm right, 5 mm up; strand 2: 2 mm left, 5 mm up"
CIRCUIT_EXAMPLE = "headlight: front lights; motor wires: drive"
_MOVED = re.compile(r"(?P<name>.+):\s*(?P<across>[^:]+?)\s+(?P<side>right|left)\s*,\s*(?P<up>[^:]+?)\s+up")
_MINUS = re.compile(r"[-−‒–]\s*(?=[\d.])")


def holes_texts(job: Job) -> dict[str, str]:
    """Return how the holes lie, as text.

    Parameters
    ----------
    job : Job
        The job. [-]

    Returns
    -------
    dict of str to str
        By field: way, height, web, edge, apart, moved, circuits. [-]

    References
    ----------
    None needed.
    """
    found = {name: text_of(job.hole_layout, name) for name in SIZES}
    found["way"] = word_for(WAYS, job.hole_layout.way)
    found["moved"] = "; ".join(_moved_text(each) for each in job.holes)
    through: list[LampEntry | WireEntry] = [*job.lamps, *job.wires]
    found["circuits"] = "; ".join(f"{each.name}: {each.circuit}" for each in through if each.circuit is not None)
    return found


def with_holes(job: Job, typed: Mapping[str, str]) -> Outcome:
    """Return a job in which the holes lie as typed.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    typed : mapping of str to str
        By field, as `holes_texts` gives them. [-]

    Returns
    -------
    Outcome
        The new job, or what is wrong. [-]

    References
    ----------
    None needed.
    """
    form = Form(job, typed, holes_texts(job))
    table = form.document["hole_layout"]
    form.choose(table, "way", "way", WAYS, "how they lie")
    form.size(table, HolesEntry, "height", "height", zero=False)
    for name in ("web", "edge", "apart"):
        form.size(table, HolesEntry, name, name)
    form.note("moved", lambda: _moved(form))
    form.note("circuits", lambda: _circuits(form))
    return form.outcome(lambda _fault, _job: "")


def hole_names(job: Job) -> tuple[str, ...]:
    """Return the names of all holes, those of several strands or wires numbered.

    Parameters
    ----------
    job : Job
        The job. [-]

    Returns
    -------
    tuple of str
        As a wall's layout calls them. [-]

    Raises
    ------
    OutOfRange
        If there are too many.

    References
    ----------
    `named_holes`.
    """
    return tuple(named_holes(job.model_dump()).values())


def _moved_text(entry: HoleEntry) -> str:
    """Return a hole moved by hand as it is typed: below 0 is to the left."""
    minus = _MINUS.match(entry.right)
    across = f"{entry.right[minus.end() :]} left" if minus else f"{entry.right} right"
    return f"{entry.name}: {across}, {entry.up} up"


def _moved(form: Form) -> str:
    """Read the holes moved by hand; one that is as it was keeps its entry."""
    if form.kept("moved"):
        return _counted(len(form.job.holes), "moved by hand")
    names = hole_names(form.job)
    before = {_moved_text(entry): entry.model_dump() for entry in form.job.holes}
    found: dict[str, dict[str, Any]] = {}
    for part in _parts(form.typed["moved"]):
        entry = before.get(part) or _one_moved(form, part, names)
        _once(found, entry["name"])
        found[entry["name"]] = entry
    form.document["holes"] = list(found.values())
    return _counted(len(found), "moved by hand")


def _one_moved(form: Form, part: str, names: tuple[str, ...]) -> dict[str, Any]:
    match = _MOVED.fullmatch(part)
    if match is None:
        expected = "a hole, a colon, how far right or left of the middle, and how far up"
        raise WrongKind("the hole moved by hand", shown(part), expected, f"Write {MOVED_EXAMPLE}.")
    name = match["name"].strip()
    if not names:
        remedy = "Enter what passes the wall first."
        raise WrongKind("the hole", shown(name), "one of a strand or wire, of which the job has none", remedy)
    if name not in names:
        raise UnknownChoice("the hole", name, names)
    for text in (match["across"], match["up"]):
        form.read_length(text)
    right = match["across"] if match["side"] == "right" else f"-{match['across']}"
    return HoleEntry(name=name, right=right, up=match["up"]).model_dump()


def _circuits(form: Form) -> str:
    """Read the circuits of lamps and wires; one that is not named has a circuit of its own."""
    through = [*form.document["lamps"], *form.document["wires"]]
    if form.kept("circuits"):
        return _counted(len({each["circuit"] for each in through} - {None}), "named")
    names = list(dict.fromkeys(each["name"] for each in through))
    found: dict[str, str] = {}
    for part in _parts(form.typed["circuits"]):
        name, circuit = _circuit(part, names)
        _once(found, name)
        found[name] = circuit
    for each in through:
        each["circuit"] = found.get(each["name"])
    return _counted(len(set(found.values())), "named")


def _circuit(part: str, names: list[str]) -> tuple[str, str]:
    name, colon, circuit = (each.strip() for each in part.partition(":"))
    if not colon or not circuit:
        expected = "a lamp or wire, a colon, and its circuit"
        raise WrongKind("the circuit", shown(part), expected, f"Write {CIRCUIT_EXAMPLE}.")
    if not names:
        remedy = "Enter lamps and wires first."
        raise WrongKind("the lamp or wire", shown(name), "one of the job, which has none", remedy)
    if name not in names:
        raise UnknownChoice("the lamp or wire", name, names)
    if len(circuit) > LONGEST_NAME:
        given, expected = f"{len(circuit)} characters long", f"{LONGEST_NAME} or fewer"
        raise OutOfRange("the name of the circuit", given, expected, "Write a shorter one.")
    return name, circuit


def _counted(count: int, what: str) -> str:
    return f"{count} {what}" if count else ""


def _parts(text: str) -> list[str]:
    return [part.strip() for part in re.split(r"[;\n]", text) if part.strip()]


def _once(found: Mapping[str, object], name: str) -> None:
    if name in found:
        raise WrongKind("the name", f"{name!r} twice", "each name once", "Take one of the two out.")
