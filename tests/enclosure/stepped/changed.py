"""Cases changed in a way whose effect on the volume is known."""

from __future__ import annotations

from dataclasses import fields, replace

from enclosure.stepped.exhaustive import Case

from modelmath.enclosure import Cavity, Profile


def mirrored(case: Case) -> Case:
    """Seen from the other side."""
    zones = tuple(replace(each, start_mm=-each.end_mm, end_mm=-each.start_mm) for each in reversed(case.cavity.zones))
    obstacles = tuple(replace(each, start_mm=-each.end_mm, end_mm=-each.start_mm) for each in case.cavity.obstacles)
    cavity = Cavity(zones, case.cavity.rear_closed, case.cavity.front_closed, obstacles)
    limits = replace(
        case.limits, front_room_mm=case.limits.rear_room_mm, rear_room_mm=case.limits.front_room_mm
    )  # fmt: skip
    space = None if case.space is None else (-case.space[1], -case.space[0])
    return replace(case, cavity=cavity, limits=limits, space=space)


def times(thing, factor):
    """All lengths of a record times a factor."""
    changed = {}
    for field in fields(thing):
        value = getattr(thing, field.name)
        if isinstance(value, tuple):
            changed[field.name] = tuple(times(each, factor) for each in value)
        elif isinstance(value, Profile):
            changed[field.name] = Profile(tuple((height * factor, half * factor) for height, half in value.points))
        elif value is not None and not isinstance(value, (str, bool)):
            changed[field.name] = value * factor
    return replace(thing, **changed)


def enlarged(case: Case, factor) -> Case:
    speaker = None if case.speaker is None else times(case.speaker, factor)
    space = None if case.space is None else tuple(each * factor for each in case.space)
    cavity, limits = times(case.cavity, factor), times(case.limits, factor)
    return Case(cavity, limits, speaker, case.steps, case.shortest * factor, space, case.riser * factor)
