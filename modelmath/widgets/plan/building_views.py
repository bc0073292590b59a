"""What the check list says: each step with its cautions, how far the build is, what was measured against the plan."""

from __future__ import annotations

from modelmath.job.building.as_built import AsBuilt
from modelmath.job.building.checklist import Progress
from modelmath.job.building.step import Step
from modelmath.job.cautions import cautions_on
from modelmath.job.room_left.sizes import chance_in_words
from modelmath.lengths.text import format_length
from modelmath.widgets.common import look

HOLDS = "At a hold, stop until every check is ticked; nothing is bonded for good before the dry fit is right."


def progress_said(progress: Progress) -> str:
    """Return how far the build is, and what was ticked that this plan has no step for."""
    lost = ""
    if progress.lost:
        lost = look.paragraph(f"Ticked before, and no part of this plan any more: {'; '.join(progress.lost)}.")
    return look.paragraph(progress.in_words) + lost + look.paragraph(HOLDS)


def step_said(step: Step, progress: Progress, told: set[str]) -> str:
    """Return what to do in a step; a caution is told where it first matters, and named after that."""
    hold = "<strong>Hold point.</strong> " if step.hold else ""
    waits = [str(each.number) for each in progress.steps if each.key in progress.waits_for(step)]
    after = ""
    if waits and step.key not in progress.done:
        after = f" <span class='mm-soft'>After step{'s' if len(waits) > 1 else ''} {', '.join(waits)}.</span>"
    new = [each.text for each in cautions_on(*step.topics) if each.topic not in told]
    again = [topic for topic in step.topics if topic in told]
    told.update(step.topics)
    said = [*new, *([f"{', '.join(again)}, as above."] if again else [])]
    usual = "".join(f"<br><span class='mm-soft'>Caution: {look.text(each)}</span>" for each in said)
    return f"<p><strong>{step.number}.</strong> {hold}{look.text(step.text)}{after}{usual}</p>"


def built(found: AsBuilt) -> str:
    """Return what was measured against the plan, whether it still clears, and what is now to be cut otherwise."""
    if not (found.measured or found.unknown):
        return look.hint("Nothing measured yet: enter the room left at the dry fit, or a part as it was cut.")
    said = [each.in_words for each in found.measured]
    said += [f"The {name} was measured, and is no part of this plan any more." for name in found.unknown]
    if found.chance is not None:
        said.append(f"The chance that something touches is now {chance_in_words(found.chance)}.")
    lines = look.bullets(said)
    if found.why_not_solved:
        return lines + look.paragraph(found.why_not_solved)
    if found.solved is None:
        return lines
    if not found.changed:
        return lines + look.paragraph("What is still uncut keeps its size.")
    rows = [(name, format_length(was, "mm"), format_length(now, "mm")) for name, was, now in found.changed]
    return lines + look.table("Cut anew, by what was measured", ("Part", "Planned", "Now"), rows)
