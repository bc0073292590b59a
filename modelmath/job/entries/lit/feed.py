"""What the decoder's sheet says of its function outputs, keep-alive and plug, as text and back."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, get_args

from modelmath.errors import JobError, OutOfRange, WrongKind, shown
from modelmath.job.bench.lights import KINDS
from modelmath.job.document import Job, KeepAliveEntry, LightEntry, PlugEntry
from modelmath.job.entries.inside.form import Form, text_of
from modelmath.job.entries.inside.sound import read_name
from modelmath.job.entries.lit.known import read_known
from modelmath.job.entries.screen import Outcome
from modelmath.job.fields.light import Series

FEED = ("supply", "each", "all", "whole", "idle", "motor", "sound")
KEPT = ("capacitance", "least", "load", "over")  # of the keep-alive
SERIES: Mapping[str, str] = {each: each for each in get_args(Series)}
OUTPUTS_EXAMPLE = "white, yellow, aux 1"
MOST_OUTPUTS = 40
PLUG_NEEDS_POLES = "Write how many poles the plug has, such as 6; or empty its other fields."


def feed_texts(job: Job) -> dict[str, str]:
    """Return what feeds the lamps, as text.

    Parameters
    ----------
    job : Job
        The job. [-]

    Returns
    -------
    dict of str to str
        By field: supply, outputs, each, all, whole, idle, motor, sound, series, most_drop; those of the keep-alive:
        capacitance, least, load, over; plug, poles, pole_most. [-]

    References
    ----------
    None needed.
    """
    light = job.light
    found = {name: text_of(light.feed, name) for name in FEED}
    found |= {"outputs": ", ".join(light.feed.outputs), "series": light.feed.series}
    found["most_drop"] = text_of(light, "most_drop")
    kept = light.keep_alive or KeepAliveEntry()
    found |= {name: text_of(kept, name) for name in KEPT}
    plug = light.plug
    found["plug"] = "" if plug is None else text_of(plug, "name")
    found["poles"] = "" if plug is None else str(plug.poles)
    found["pole_most"] = "" if plug is None else text_of(plug, "most")
    return found


def with_feed(job: Job, typed: Mapping[str, str]) -> Outcome:
    """Return a job whose lamps are fed as typed.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    typed : mapping of str to str
        By field, as `feed_texts` gives them. [-]

    Returns
    -------
    Outcome
        The new job, or what is wrong. [-]

    References
    ----------
    None needed.
    """
    form = Form(job, typed, feed_texts(job))
    light = form.document["light"]
    for name in FEED:
        read_known(form, light["feed"], name, name, KINDS[name])
    form.note("outputs", lambda: _outputs(form, light["feed"]))
    form.choose(light["feed"], "series", "series", SERIES, "the series of resistors")
    read_known(form, light, "most_drop", "most_drop", "voltage", LightEntry.model_fields["most_drop"].default)
    _keep_alive(form, light)
    _plug(form, light)
    return form.outcome(_field_at)


def _outputs(form: Form, table: dict[str, Any]) -> str:
    """Read the outputs' names; a circuit or lead on one that is renamed follows it where one alone was."""
    names = [part.strip() for part in re.split(r"[,;\n]", form.typed["outputs"]) if part.strip()]
    if len(names) > MOST_OUTPUTS:
        raise OutOfRange("the number of outputs", str(len(names)), f"{MOST_OUTPUTS} or fewer", "Leave some out.")
    for place, name in enumerate(names):
        if name in names[:place]:
            raise WrongKind("the output", shown(name), "one that stands once", "Take one of the two out.")
        read_name(name, "an output")
    if form.kept("outputs"):
        return _counted(len(names))
    before, table["outputs"] = table["outputs"], names
    gone, new = [each for each in before if each not in names], [each for each in names if each not in before]
    renamed = dict(zip(gone, new, strict=False)) if len(gone) == len(new) == 1 else {}
    for list_of in ("circuits", "leads"):
        for each in form.document["light"][list_of]:
            each["output"] = renamed.get(each["output"], each["output"])
    return _counted(len(names))


def _counted(count: int) -> str:
    return f"{count} output{'s' if count != 1 else ''}" if count else ""


def _keep_alive(form: Form, light: dict[str, Any]) -> None:
    table = light["keep_alive"] or KeepAliveEntry().model_dump()
    for name in KEPT:
        read_known(form, table, name, name, KINDS[name])
    if light["keep_alive"] is not None or any(table.values()):
        light["keep_alive"] = table if any(table.values()) else None


def _plug(form: Form, light: dict[str, Any]) -> None:
    fields = ("plug", "poles", "pole_most")
    if all(form.kept(name) for name in fields):
        return
    if not any(form.typed[name] for name in fields):
        light["plug"] = None
        return
    poles = form.typed["poles"]
    table = light["plug"] or {**PlugEntry(poles=1).model_dump()}
    read_known(form, table, "pole_most", "most", "current")
    table["name"] = form.typed["plug"] or PlugEntry.model_fields["name"].default
    if not re.fullmatch(r"[0-9]{1,2}", poles) or int(poles) < 1:
        form.messages["poles"] = (
            PLUG_NEEDS_POLES
            if not poles
            else str(WrongKind("the number of poles", shown(poles), "a whole number from 1 to 99", "Write 6, say."))
        )
        return
    table["poles"] = int(poles)
    light["plug"] = table


def _field_at(fault: JobError, _job: Job) -> str:
    """Return beside which field a fault of what feeds belongs."""
    if fault.path[:2] == ("light", "feed") and len(fault.path) > 2:
        return str(fault.path[2])
    if fault.path[:2] == ("light", "keep_alive") and len(fault.path) > 2:
        return str(fault.path[2])
    if fault.path[:3] == ("light", "plug", "most"):
        return "pole_most"
    if fault.path[:1] == ("light",) and fault.path[-1] == "output":
        return "outputs"
    return "most_drop" if fault.path[:2] == ("light", "most_drop") else ""
