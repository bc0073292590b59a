"""Jobs that the sheets are drawn for: the demos, and the least that gives a plan."""

from __future__ import annotations

from io import BytesIO
from typing import Any

import pdfplumber

from modelmath.drawings import packet_pdf
from modelmath.job import Job, Plan, load_job, plan
from modelmath.tables import data_folder

DEMOS = sorted(item.name.removesuffix(".toml") for item in (data_folder() / "jobs").iterdir())
LEAST: dict[str, Any] = {
    "name": "x",
    "scale": "HO",
    "rules": [{"name": "scale rule", "graduation": "1/4", "zero_offset": "1"}],
    "marking": {"rule": "scale rule", "finest": "1/4"},
    "clearance": {"keep": "1/4 scale ft"},
    "readings": [{"name": "roof", "mark": "10"}, {"name": "chassis top", "mark": "6"}],
    "zones": [{"name": "motor", "underside": "roof", "chassis_top": "chassis top"}],
}


def least(**changes: Any) -> Plan:
    """Return the plan of the least job, with changes."""
    return plan(Job.model_validate({**LEAST, **changes}))


def demo(name: str = "switcher-ho", **changes: Any) -> Plan:
    """Return the plan of a demo job, with changes."""
    job = load_job(str(data_folder() / "jobs" / f"{name}.toml"))
    document = {**job.model_dump(exclude_none=True), **changes}
    if not changes.keys().isdisjoint(("lamps", "wires")) and "light" not in changes:
        document["light"] = {}  # it speaks of the lamps and wires that are there
    return plan(Job.model_validate({key: value for key, value in document.items() if value is not None}))


_READ: dict[tuple[str, str], Any] = {}
MOST_READ = 14  # every demo on both papers and two more; a packet that is read takes some 100 MB


def opened(pdf: bytes) -> Any:
    """Read a PDF with a library other than the one that wrote it."""
    return pdfplumber.open(BytesIO(pdf))


def packet(plan: Plan, paper: str = "A4") -> Any:
    """Return a plan's packet as read back; each is read once, since reading takes longer than writing."""
    key = (plan.job.model_dump_json(), paper)
    found = _READ.pop(key, None) or opened(packet_pdf(plan, paper))
    _READ[key] = found  # the last of them
    while len(_READ) > MOST_READ:
        _READ.pop(next(iter(_READ)))
    return found


def texts_of(plan: Plan, paper: str = "A4") -> list[str]:
    """Return the text of each page."""
    return [page.extract_text() for page in packet(plan, paper).pages]
