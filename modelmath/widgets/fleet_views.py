"""Several jobs as HTML: the overview, what is next on each, two compared, whose drawer. Nothing is worked out here."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from modelmath.job.fleet.compare import Compared, Differing
from modelmath.job.fleet.rows import OpenStep, Row
from modelmath.job.room_left.sizes import chance_in_words
from modelmath.lengths.text import format_length
from modelmath.widgets.common import look
from modelmath.widgets.common.minding import caution_lines, cautioned

STEPS_HAVE_THEIRS = "each step has its own in the build order of its job; read them there before you begin it."
HEADS = ("Model", "Scale", "Bulkhead", "Chamber", "Chance that anything touches", "Load", "Built", "To mind")
STYLE = """
<style>
.mm-fleet .mm-model { display: block; width: 11.5rem; max-width: 100%; }
.mm-fleet .mm-model svg { margin: .3rem 0; }
.mm-fleet .mm-name { font-weight: 650; }
.mm-fleet .mm-name, .mm-fleet .mm-file { display: block; overflow-wrap: anywhere; }
.mm-fleet .mm-file { font-weight: 400; }
.mm-fleet td:last-child { min-width: 11rem; }
.mm-fleet td { overflow-wrap: break-word; }
@media (max-width: 560px) { .mm-fleet .mm-model { width: 100%; }
  .mm-fleet td:last-child { flex-basis: 100%; min-width: 0; } }
</style>
"""


def overview(rows: Sequence[Row], drawings: Mapping[str, str]) -> str:
    """Return jobs as a table, each with its small drawing under its name."""
    if not rows:
        return ""
    head = "".join(f'<th scope="col">{look.text(each)}</th>' for each in HEADS)
    body = "".join(_row(row, drawings.get(row.file, "")) for row in rows)
    opening = '<div class="mm-table mm-cards mm-fleet" tabindex="0" role="region" aria-label="Jobs">'
    return f"{STYLE}{opening}<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table></div>"


def _row(row: Row, drawing: str) -> str:
    several = f", {row.models} of them" if row.models > 1 else ""
    file = f"{row.file}{several}{', invented data' if row.invented else ''}" if row.name else several
    name = f'<span class="mm-name">{look.text(row.title)}</span><span class="mm-soft mm-file">{look.text(file)}</span>'
    volume = "" if row.volume_mm3 is None else f"{row.volume_mm3 / 1000:.2f}\N{NO-BREAK SPACE}cm3"
    cells = (
        row.scale,
        "" if row.bulkhead_mm is None else format_length(row.bulkhead_mm, "mm"),
        volume,
        "" if row.chance is None else chance_in_words(row.chance),
        row.load,
        row.progress,
    )
    told = "".join(
        f'<td data-label="{look.text(head)}:">{look.text(cell)}</td>'
        for head, cell in zip(HEADS[1:-1], cells, strict=True)
    )
    return f'<tr><th scope="row"><div class="mm-model">{name}{drawing}</div></th>{told}<td>{_to_mind(row)}</td></tr>'


def _to_mind(row: Row) -> str:
    """Return why a job can't be planned, what does not fit, and what is still to be entered."""
    said = []
    if row.not_yet:
        said.append(look.paragraph("Still to be worked out.", "mm-soft"))
    if row.problem:
        said.append(f'<span class="mm-bad">{look.text(look.in_words(row.problem))}</span>')
    if row.misfit:
        said.append(f'<span class="mm-bad">{look.text(look.in_words(f"Left out: {row.misfit}"))}</span>')
    if row.missing:
        said.append(look.paragraph(f"Still to enter: {'; '.join(row.missing)}.", "mm-soft"))
    return "".join(said)


def in_a_line(row: Row) -> str:
    """Return a job in a line of text."""
    if row.bulkhead_mm is None:
        return f"{row.title}: {row.problem or 'still to be worked out'}"
    touching = "" if row.chance is None else f", chance that anything touches: {chance_in_words(row.chance)}"
    return f"{row.title}, {row.scale}: bulkhead {format_length(row.bulkhead_mm, 'mm')}{touching}"


def next_steps(rows: Sequence[Row]) -> str:
    """Return for each job how far it is, what can be done now, what waits, and how long the rest takes."""
    told = "".join(_next(row) for row in rows if row.steps)
    if not told:
        return look.paragraph("No job here can be planned yet.")
    note = "How long the rest takes counts one pair of hands, and what sets or dries in between."
    return told + look.paragraph(note, "mm-soft") + caution_lines(STEPS_HAVE_THEIRS) + cautioned("electricity")


def _next(row: Row) -> str:
    rest = f"; the rest takes {row.left}" if row.left else ""
    name = f"{row.title} ({row.scale})"
    head = f"<p><strong>{look.text(name)}</strong>: {look.text(row.progress)}{look.text(rest)}.</p>"
    now = look.paragraph("Can be done now:") + look.bullets(map(_step, row.next_up)) if row.next_up else ""
    waits = look.paragraph(_later(len(row.waiting)), "mm-soft") if row.waiting else ""
    return f'<div class="mm-zone">{head}{now}{waits}</div>'


def _step(step: OpenStep) -> str:
    checks = f" (to tick: {', '.join(check.partition(':')[0] for check in step.checks)})" if step.checks else ""
    return f"{step.number}. {step.text.rstrip('.')}{checks}"


def _later(count: int) -> str:
    return "The other step comes after these." if count == 1 else f"The other {count} steps come after these."


def compared(names: tuple[str, str], found: Compared, drawings: tuple[str, str]) -> str:
    """Return two jobs beside each other: their drawings, and the figures in which they differ."""
    figures = "".join(
        f'<div class="mm-figure mm-half"><p><strong>{look.text(name)}</strong></p>{drawing}</div>'
        for name, drawing in zip(names, drawings, strict=True)
    )
    style = (
        "<style>.mm-halves { display: flex; flex-wrap: wrap; gap: .6rem; } "
        ".mm-half { flex: 1 1 19rem; min-width: 0; }</style>"
    )
    first = [each for each in found.differing if each.first]
    rest = [each for each in found.differing if not each.first]
    same = look.paragraph(f"{found.equal} figure{'' if found.equal == 1 else 's'} are the same in both.", "mm-soft")
    if not found.differing:
        return f'{style}<div class="mm-halves">{figures}</div>{look.paragraph("They differ in no figure.")}'
    more = look.folded(f"The other figures that differ ({len(rest)})", _differing("Other figures", names, rest))
    return (
        f'{style}<div class="mm-halves">{figures}</div>'
        + (_differing("Where they differ", names, first) if first else "")
        + (more if rest else "")
        + same
    )


def _differing(caption: str, names: tuple[str, str], rows: Iterable[Differing]) -> str:
    body = [(each.name, each.one, each.other, each.difference) for each in rows]
    return look.table(caption, ("Figure", *names, "Second less first"), body)
