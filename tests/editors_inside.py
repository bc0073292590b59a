"""The editors of what stands inside a shell: for each table and each list of a job what it types, and what reads it."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from modelmath.job.document import Job
from modelmath.job.entries.inside import contents, holes, obstacles, parts, passing, sections, weight
from modelmath.job.entries.screen import Outcome

Texts = Callable[[Job], dict[str, str]]
Read = Callable[[Job, Mapping[str, str]], Outcome]
LISTS = {
    "obstacles": (obstacles.obstacle_texts, obstacles.with_obstacle),
    "profiles": (sections.section_texts, sections.with_section),
    "lamps": (passing.lamp_texts, passing.with_lamp),
    "wires": (passing.wire_texts, passing.with_wire),
    "drawer": (parts.stock_texts, parts.with_stock),
}
SINGLE: dict[str, tuple[Texts, Read]] = {
    "speaker": (contents.speaker_texts, contents.with_speaker),
    "decoder": (contents.decoder_texts, contents.with_decoder),
    "chamber": (contents.chamber_texts, contents.with_chamber_asked),
    "holes": (holes.holes_texts, holes.with_holes),
    "weight": (weight.weight_texts, weight.with_weight),
    "build": (parts.build_texts, parts.with_build),
}
