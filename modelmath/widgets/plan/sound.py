"""What the plan sounds like, as HTML: response, what another volume buys, leaks, load, other speakers, and a sound."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Any

from modelmath.errors import ModelMathError
from modelmath.job import Plan
from modelmath.job.cautions import cautions_on
from modelmath.widgets.common import look
from modelmath.widgets.plan.folds import figure

if TYPE_CHECKING:
    from modelmath.job.sound.comparing import Compared
    from modelmath.job.sound.in_chamber import InChamber
    from modelmath.sound.band import Band

NOTHING_YET = "Once a chamber holds the speaker, and its outside size or anything of its sound is entered, this shows what it will do."
ROUGH = 1.5  # a band that ends more than this many times apart says so
ALIKE = 0.005  # of the volume: a runner-up as large as this one tells nothing
CLIP_S = 2.0


def response(plan: Plan) -> str:
    """Return what the speaker does in this chamber: the numbers, the response, and what was assumed."""
    sound = plan.sound
    if sound is None:
        return look.paragraph(NOTHING_YET)
    from modelmath.drawings.charts.response import response_svg

    box = sound.box
    rows = [
        ("-3 dB point", _band(box.f3_hz, "Hz")),
        ("Resonance in the chamber", _band(box.fc_hz, "Hz")),
        ("Qtc", _band(box.qtc, "", 2)),
        ("Peak", _band(box.peak_db, "dB", 1)),
        ("Level for 1 W at 1 m", _band(box.sensitivity_db, "dB", 0)),
        *_driven_rows(plan, sound),
    ]
    body = "".join(f"<dt>{look.text(name)}</dt><dd>{look.text(value)}</dd>" for name, value in rows)
    card = f'<div class="mm-card" role="status"><dl>{body}</dl></div>'
    chart = figure(response_svg(box, _runner_up(sound), sound.valid_to_hz))
    return card + _assumed(sound) + chart + look.paragraph(_limits(sound), "mm-soft")


def _driven_rows(plan: Plan, sound: InChamber) -> list[tuple[str, str]]:
    """Return how far the cone goes at the power that the decoder gives it."""
    power = plan.driven.power_w
    if power is None:
        return []
    goes = sound.box.greatest_travel_mm(power)
    xmax = sound.driver.known("xmax_mm")
    allowed = "" if xmax is None else f"; it may go {xmax.value:.2f} mm"
    rows = [(f"Cone travel at {power:.2g} W, one way, from 100 Hz up", f"{_band(goes, 'mm', 2)}{allowed}")]
    safe = sound.box.safe_power_w()
    if safe is not None and safe.best < power:
        rows.append(("Power at which it goes just that far", _band(safe, "W", 2)))
    return rows


def _band(band: Band, unit: str, digits: int | None = None) -> str:
    """Return a result with the limits it lies in."""
    best, low, high = (_number(each, digits) for each in (band.best, band.low, band.high))
    unit = f" {unit}" if unit else ""
    return f"{best}{unit}" if low == high else f"{best}{unit}, somewhere from {low} to {high}{unit}"


def _number(value: float, digits: int | None) -> str:
    if digits is not None:
        return f"{value + 0.0:.{digits}f}"
    return f"{float(f'{value:.3g}'):.0f}"


def _assumed(sound: InChamber) -> str:
    """Return what was estimated, folded; said in front where it makes the answer rough."""
    if not sound.assumed:
        return ""
    f3 = sound.box.f3_hz
    rough = (
        "The limits are wide because little of this speaker is known. What would narrow them most is its resonance, "
        "fs, then its Q: the page Measure a speaker finds both."
        if f3.high > ROUGH * f3.low
        else ""
    )
    folded = look.folded(f"What was estimated, {len(sound.assumed)} of its parameters", look.bullets(sound.assumed))
    return (look.paragraph(rough) if rough else "") + folded


def _runner_up(sound: InChamber) -> Any:
    other = sound.runner_up
    if other is None:
        return None
    near = abs(other.volume_mm3.best / sound.box.volume_mm3.best - 1) < ALIKE
    return None if near else other


def _limits(sound: InChamber) -> str:
    from modelmath.sound.closed_box.valid import limits_in_words

    return limits_in_words(sound.longest_mm)


def volume(plan: Plan) -> str:
    """Return what another volume would buy, and what the wanted Qtc takes."""
    sound = plan.sound
    if sound is None:
        return ""
    from modelmath.drawings.charts.response import cutoff_svg

    curve = sound.curve
    chart = figure(cutoff_svg(curve.volumes_mm3, curve.f3_hz, curve.marked, sound.box.volume_mm3))
    wanted = look.paragraph(sound.wanted) if sound.wanted else ""
    return look.heading("What more volume would buy") + look.paragraph(curve.in_words) + wanted + chart


def leaks(plan: Plan) -> str:
    """Return what leaks would do, how tight is tight enough, and the test at the bench."""
    sound = plan.sound
    if sound is None:
        return look.paragraph(NOTHING_YET)
    found = sound.leaking
    from modelmath.sound.leaks.finding import CAUTIONS

    steps = look.bullets(found.test.steps, numbered=True)
    most = f"Never more than {found.test.allowed_mm_water:.2g} mm of water: it would push the cone beyond its travel."
    test = look.folded("A leak test before closing, without a flame", steps + look.bullets((most, *CAUTIONS)))
    return look.bullets(found.said) + look.paragraph(found.sealing.in_words) + test


def load(plan: Plan) -> str:
    """Return whether the decoder drives the speaker, and every way to wire it with others."""
    from modelmath.sound.loads.in_words import HEADS, load_in_words, load_rows
    from modelmath.sound.loads.polarity import polarity_in_words, polarity_test

    found = plan.driven
    head = look.heading("Can the decoder drive it")
    if found.missing is not None:
        return head + look.problem(str(found.missing)) + _cautions()
    assert found.chosen is not None
    said = "".join(look.paragraph(each) for each in load_in_words(found.chosen))
    rows = load_rows(found.wirings)
    table = look.table("Every way to wire it", HEADS, rows, "mm-advice") if len(found.wirings) > 1 else ""
    refused = [f"{each.in_words}: {' '.join(each.reasons)}" for each in found.wirings if each.verdict == "refused"]
    why = look.folded("Why some are refused", look.bullets(refused)) if refused and len(found.wirings) > 1 else ""
    alike = ""
    if len(found.speakers) > 1:
        tags, test = look.bullets(polarity_in_words(found.chosen.wiring)), polarity_test(found.speakers)
        alike = look.folded("They must move alike", tags + look.bullets(test, numbered=True))
    return head + said + table + why + alike + _cautions()


def _cautions() -> str:
    return look.folded("Mind", look.bullets(each.text for each in cautions_on("speaker", "electricity")))


def compared(plan: Plan, rank: str = "lowest -3 dB point") -> str:
    """Return other speakers and seats over the same cavity, ranked, with the trade-off drawn."""
    found = plan.comparison
    if found is None:
        return look.paragraph("Enter the speaker's sizes, and others to compare with it; then they are ranked here.")
    from modelmath.drawings.charts.compared import compared_svg

    rows = [_row(each) for each in found.ranked(rank)]
    heads = ("Speaker", "Seat", "Net volume", "-3 dB point", "Level for 1 W", "Peak", "Load", "Fit")
    fitting = [each for each in found.ranked(rank) if each.box is not None]
    chart = figure(compared_svg(fitting)) if fitting else ""
    return chart + look.table(f"Speakers and seats, ranked by: {rank}", heads, rows, "mm-advice")


def _row(each: Compared) -> tuple[str, ...]:
    name = f"{each.name} (the plan's own)" if each.own else each.name
    if each.box is None or each.volume_mm3 is None:
        held = "-" if each.volume_mm3 is None else f"{each.volume_mm3 / 1000:.2f} cm3"
        return name, each.seat.in_words, held, "-", "-", "-", each.load, each.why_not
    box = each.box
    return (
        name, each.seat.in_words, f"{each.volume_mm3 / 1000:.2f} cm3", _band(box.f3_hz, "Hz"),
        _band(box.sensitivity_db, "dB", 0), _band(box.peak_db, "dB", 1), each.load, "fits",
    )  # fmt: skip


def heard(plan: Plan) -> str:
    """Return a short sound through each response, to be played one by one; an estimate, level-matched."""
    sound = plan.sound
    if sound is None:
        return look.paragraph(NOTHING_YET)
    from modelmath.sound.closed_box.response import response as second_order
    from modelmath.sound.hearing.render import SOUNDS

    boxes = [("this chamber", sound.box)]
    other = _runner_up(sound)
    boxes += [("the next largest chamber", other)] if other is not None else []
    ways: list[tuple[str, Callable[[Any], Any] | None]] = [("as it is, through nothing", None)]
    ways += [(name, partial(second_order, fc_hz=box.fc_hz.best, qtc=box.qtc.best)) for name, box in boxes]
    said = (
        "An estimate from the best values, through a loudspeaker of your own that adds its own sound. All are made as "
        "loud as each other and start quiet: turn your volume low first. What counts is the difference."
    )
    rows = "".join(_clip(kind, name, way) for kind in SOUNDS for name, way in ways)
    return look.paragraph(said) + f'<div class="mm-clips">{rows}</div>'


def _clip(kind: str, name: str, through: Callable[[Any], Any] | None) -> str:
    from modelmath.sound.hearing.render import sound, wav

    try:
        data = b64encode(wav(sound(kind, through, CLIP_S))).decode()
    except ModelMathError as reason:
        return look.problem(str(reason))
    label = f"{kind}, {name}"
    player = (
        f'<audio controls preload="none" aria-label="{look.text(label)}" src="data:audio/wav;base64,{data}"></audio>'
    )
    return f"<p>{look.text(label)}<br>{player}</p>"
