"""What the plan sounds like, as HTML: response, what another volume buys, leaks, load, other speakers, and a sound."""

from __future__ import annotations

from typing import TYPE_CHECKING

from modelmath.job import Plan
from modelmath.job.sound.plain import beyond_theory, beyond_travel, heard_as
from modelmath.widgets import sound_views
from modelmath.widgets.common import look
from modelmath.widgets.plan.folds import figure

if TYPE_CHECKING:
    from modelmath.job.sound.comparing import Compared

NOTHING_YET = (
    "Once a chamber holds the speaker, and its outside size or anything of its sound is entered, this shows what it "
    "will do."
)


def response(plan: Plan) -> str:
    """Return what the speaker does in this chamber: what is heard, the numbers, the response, and what was assumed."""
    sound = plan.sound
    if sound is None:
        return look.paragraph(NOTHING_YET)
    from modelmath.sound.closed_box.valid import limits_in_words

    power = plan.driven.power_w
    more = [*sound_views.level_row(sound, power), *sound_views.travel_rows(sound, power)]
    chart = sound_views.response_chart(sound, sound.valid_to_hz, sound.runner_up_apart)
    figures = [sound_views.cutoff_row(sound), *sound_views.number_rows(sound), *more]
    card = sound_views.heard_first(heard_as(sound.box), [], figures)
    card += sound_views.minded(beyond_theory(sound.box, sound.valid_to_hz))
    return card + sound_views.assumed(sound) + chart + look.paragraph(limits_in_words(sound.longest_mm), "mm-soft")


def volume(plan: Plan) -> str:
    """Return what another volume would buy, and what the wanted Qtc takes."""
    return "" if plan.sound is None else sound_views.volume(plan.sound, plan.sound.wanted)


def leaks(plan: Plan) -> str:
    """Return what leaks would do, how tight is tight enough, and the test at the bench."""
    return look.paragraph(NOTHING_YET) if plan.sound is None else sound_views.leaks(plan.sound.leaking)


def load(plan: Plan) -> str:
    """Return whether the decoder drives the speaker, and every way to wire it with others."""
    sound = plan.sound
    cone = "" if sound is None else beyond_travel(sound.box, plan.driven.power_w)
    return look.heading("Can the decoder drive it") + sound_views.load(plan.driven, cone)


def compared(plan: Plan, rank: str = "lowest -3 dB point") -> str:
    """Return other speakers and seats over the same cavity, ranked, with the trade-off drawn."""
    found = plan.comparison
    if found is None:
        wanting = "Enter the speaker's sizes, and others to compare with it; then they are ranked here."
        return look.paragraph(wanting) + _left_out(plan)
    from modelmath.drawings.charts.compared import compared_svg

    rows = [_row(each) for each in found.ranked(rank)]
    heads = ("Speaker", "Seat", "Net volume", "-3 dB point", "Level for 1 W", "Peak", "Load", "Fit")
    fitting = [each for each in found.ranked(rank) if each.box is not None]
    chart = figure(compared_svg(fitting)) if fitting else ""
    near = found.alike
    apart = (
        look.paragraph(
            f"By what is entered these can't be told apart, as their limits overlap: {', '.join(near)}. Measure them, "
            "or go by size, level and price."
        )
        if near
        else ""
    )
    table = look.table(f"Speakers and seats, ranked by: {rank}", heads, rows, "mm-advice")
    return apart + chart + table + _left_out(plan)


def _left_out(plan: Plan) -> str:
    """Return which speakers are not compared, as a size of theirs is not entered."""
    names = [driver.name for body, driver in plan.bench.sounds.choices if body is None]
    if not names:
        return ""
    return look.problem(f"Not compared, as a size is missing: {'; '.join(names)}. Enter length, width, flange, depth.")


def _row(each: Compared) -> tuple[str, ...]:
    name = f"{each.name} (the plan's own)" if each.own else each.name
    if each.box is None or each.volume_mm3 is None:
        held = "-" if each.volume_mm3 is None else f"{each.volume_mm3 / 1000:.2f} cm3"
        return name, each.seat.in_words, held, "-", "-", "-", "-", each.why_not
    box = each.box
    return (
        name, each.seat.in_words, f"{each.volume_mm3 / 1000:.2f} cm3", sound_views.banded(box.f3_hz, "Hz"),
        sound_views.banded(box.loudness_db(1), "dB", 0), sound_views.banded(box.peak_db, "dB", 1), each.load, "fits",
    )  # fmt: skip


def heard(plan: Plan) -> str:
    """Return a short sound through each response, to be played one by one; an estimate, level-matched."""
    sound = plan.sound
    if sound is None:
        return look.paragraph(NOTHING_YET)
    other = sound.runner_up_apart
    larger = [("the next largest chamber", other)] if other is not None else []
    return sound_views.clips([("this chamber", sound.box), *larger])
