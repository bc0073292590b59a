"""What a speaker in a sealed chamber sounds like, as HTML: shared by the plan's folds and the page without a job."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Callable, Iterable, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any, Protocol

from modelmath.errors import ModelMathError, NotYetKnown
from modelmath.lengths.text import to_digits
from modelmath.quantities.band import Band
from modelmath.widgets.common import look
from modelmath.widgets.common.minding import cautioned

if TYPE_CHECKING:
    from modelmath.job.sound.driven import Driven
    from modelmath.job.sound.in_chamber import Curve
    from modelmath.job.sound.leaking import Leaking
    from modelmath.sound.closed_box.box import ClosedBox
    from modelmath.sound.driver.driver import Driver

ROUGH = 1.5  # a band that ends more than this many times apart says so
CLIP_S = 2.0
MOST_WIRINGS = 4
FRAME = "31.4rem"  # 480 units of drawing, and the frame's own padding
MINUS_3 = "the pitch below which less than half the power comes out"
FIGURES = "The figures, and how far each may be off"
HOW_FAR = (
    "The best value stands first. “Somewhere from … to …” is where the true one may lie as long as not all of the "
    "speaker is measured."
)
Row = tuple[str, str]


class Sounding(Protocol):
    """A speaker in a sealed chamber, of a plan or alone."""

    @property
    def driver(self) -> Driver:
        """The speaker, completed. [-]"""

    @property
    def assumed(self) -> tuple[str, ...]:
        """What was estimated. [-]"""

    @property
    def box(self) -> ClosedBox:
        """What it does. [-]"""

    @property
    def curve(self) -> Curve:
        """The -3 dB point against volume. [mm3, Hz]"""


def figure(svg: str) -> str:
    """Return a drawing in a frame as wide as these charts are."""
    return f'<div class="mm-figure" style="max-width: {FRAME}">{svg}</div>'


def card(rows: Iterable[Row], first: Row | None = None) -> str:
    """Return names and values in a card; those of `first` stand out, what follows its comma below it."""
    big = ""
    if first is not None:
        value, _, more = first[1].partition(", ")
        below = f"<dd>{look.text(more)}</dd>" if more else ""
        big = f'<dt>{look.text(first[0])}</dt><dd class="mm-big">{look.text(value)}</dd>{below}'
    return f'<div class="mm-card" role="status"><dl>{big}{_rows(rows)}</dl></div>'


def _rows(rows: Iterable[Row]) -> str:
    return "".join(f"<dt>{look.text(name)}</dt><dd>{look.text(value)}</dd>" for name, value in rows)


def heard_first(heard: str, rows: Iterable[Row], figures: Iterable[Row]) -> str:
    """Return what is heard as a sentence, what else is asked at once, and the figures behind them folded."""
    more = look.folded(FIGURES, f"{look.paragraph(HOW_FAR, 'mm-soft')}<dl>{_rows(figures)}</dl>")
    said = f"<p><strong>{look.text(heard)}</strong></p>"
    return f'<div class="mm-card" role="status">{said}<dl>{_rows(rows)}</dl>{more}</div>'


def cutoff_row(sound: Sounding) -> Row:
    """Return the -3 dB point with its limits."""
    return "-3 dB point", f"{banded(sound.box.f3_hz, 'Hz')}; {MINUS_3}"


def number_rows(sound: Sounding) -> list[Row]:
    """Return resonance, Q, peak and level, each with its limits."""
    box = sound.box
    return [
        ("Resonance in the chamber, fc", f"{banded(box.fc_hz, 'Hz')}; the pitch at which the cone swings of itself"),
        (
            "Total Q in the chamber, Qtc",
            f"{banded(box.qtc, '', 2)}; how much it rings there: 0.71 is flat, above it the sound peaks",
        ),
        ("Peak", f"{banded(box.peak_db, 'dB', 1)}; how far the loudest pitch stands out"),
        ("Level for 1 W at 1 m", banded(box.loudness_db(1), "dB", 0)),
    ]


def travel_rows(sound: Sounding, power_w: float | None) -> list[Row]:
    """Return how far the cone goes at a power; nothing while that is not known."""
    if power_w is None:
        return []
    goes = sound.box.greatest_travel_mm(power_w)
    xmax = sound.driver.known("xmax_mm")
    allowed = "" if xmax is None else f"; its limit is {xmax.value:.2f} mm"
    rows = [(f"Cone travel at {power_w:.2g} W, one way, from 100 Hz up", f"{banded(goes, 'mm', 2)}{allowed}")]
    safe = sound.box.safe_power_w()
    if safe is not None and safe.best < power_w:
        best, low, high = (to_digits(each) for each in (safe.best, safe.low, safe.high))
        limits = "" if safe.exact else f", somewhere from {low} to {high} W"
        rows.append(("Power at which it reaches that", f"{best} W{limits}"))
    return rows


def level_row(sound: Sounding, power_w: float | None) -> list[Row]:
    """Return the level at a power; nothing while that is not known, or for the 1 W that stands above."""
    if power_w is None or power_w == 1:
        return []
    return [
        (
            f"Level at 1 m for {power_w:.2g} W, what the decoder gives it",
            banded(sound.box.loudness_db(power_w), "dB", 0),
        )
    ]


def banded(band: Band, unit: str, digits: int | None = None) -> str:
    """Return a result with the limits it lies in."""
    best, low, high = (_number(each, digits) for each in (band.best, band.low, band.high))
    unit = f" {unit}" if unit else ""
    return f"{best}{unit}" if low == high else f"{best}{unit}, somewhere from {low} to {high}{unit}"


def _number(value: float, digits: int | None) -> str:
    if digits is not None:
        return f"{value + 0.0:.{digits}f}"
    return f"{float(f'{value:.3g}'):.0f}"


def assumed(sound: Sounding) -> str:
    """Return each parameter with where it comes from, folded; in front, what may be mistyped or would narrow most."""
    from modelmath.sound.driver.unusual import unusual

    f3 = sound.box.f3_hz
    rough = (
        "The limits are wide because little of this speaker is known. What would narrow them most is its resonance "
        "in free air, fs, then its Q, how much it rings there: the page Measure finds both."
        if f3.high > ROUGH * f3.low
        else ""
    )
    count = len(sound.assumed)
    some = f", {count} of them estimated" if count else ""
    inside = _parameters(sound.driver) + (look.bullets(sound.assumed) if count else "")
    folded = look.folded(f"The speaker's parameters, and where each comes from{some}", inside)
    return minded(*unusual(sound.driver)) + (look.paragraph(rough) if rough else "") + folded


def _parameters(driver: Driver) -> str:
    from modelmath.quantities.text import told
    from modelmath.sound.driver.driver import LABELS

    rows = [
        (
            f"{LABELS[field][:1].upper()}{LABELS[field][1:]}",
            told(known.value, field),
            "-" if known.exact else f"{told(known.low, field)} to {told(known.high, field)}",
            known.origin,
            known.why or "as entered",
        )
        for field, known in driver.parameters
    ]
    return look.table("The speaker's parameters", ("Parameter", "Value", "Limits", "Origin", "By"), rows, "mm-advice")


def response_chart(sound: Sounding, valid_to_hz: float, other: ClosedBox | None = None) -> str:
    """Return the response drawn, beside that of another chamber where there is one."""
    from modelmath.drawings.charts.response import response_svg

    return figure(response_svg(sound.box, other, valid_to_hz))


def volume(sound: Sounding, wanted: str = "") -> str:
    """Return what another volume would buy, in words and drawn; `wanted` says what a wanted Qtc takes."""
    from modelmath.drawings.charts.response import cutoff_svg

    curve = sound.curve
    chart = figure(cutoff_svg(curve.volumes_mm3, curve.f3_hz, curve.marked, sound.box.volume_mm3))
    said = "".join(look.paragraph(each) for each in (curve.in_words, wanted) if each)
    return look.heading("What more volume would buy") + said + chart


def leaks(found: Leaking) -> str:
    """Return what leaks would do, how tight is tight enough, and the test at the bench."""
    from modelmath.sound.leaks.bench import CAUTIONS

    steps = look.bullets(found.test.steps, numbered=True)
    test = look.folded("A leak test before closing, without a flame", steps + look.bullets(CAUTIONS))
    point = look.paragraph(f"The -3 dB point is {MINUS_3}.", "mm-soft")
    return point + look.bullets(found.said) + look.paragraph(found.sealing.in_words) + test


def minded(*sentences: str) -> str:
    """Return what to mind, each sentence by itself; those that are empty left out."""
    return "".join(f'<p role="note">{look.text(f"Mind: {each}")}</p>' for each in sentences if each)


def load(found: Driven, cone: str = "") -> str:
    """Return whether the decoder drives the speakers, and every way to wire them; `cone` says what its travel asks."""
    from modelmath.sound.loads.in_words import HEADS, load_in_words, load_rows
    from modelmath.sound.loads.polarity import polarity_in_words, polarity_test

    if found.missing is not None and not found.wirings:
        asked = isinstance(found.missing, NotYetKnown)  # nothing is wrong, only not entered yet
        return (look.paragraph if asked else look.problem)(str(found.missing)) + _cautions()
    said = look.problem(str(found.missing)) if found.chosen is None else _verdict(load_in_words(found.chosen), cone)
    table = ""
    if len(found.wirings) > 1:
        rows = load_rows(found.wirings)
        table = look.table("The ways to wire it, the best first", HEADS, rows[:MOST_WIRINGS], "mm-advice")
        if len(rows) > MOST_WIRINGS:
            rest = look.table("The other ways to wire it", HEADS, rows[MOST_WIRINGS:], "mm-advice")
            table += look.folded(f"{len(rows) - MOST_WIRINGS} more ways", rest)
    refused = [f"{each.in_words}: {' '.join(each.reasons)}" for each in found.wirings if each.verdict == "refused"]
    why = look.folded("Why some are refused", look.bullets(refused)) if refused and len(found.wirings) > 1 else ""
    alike = ""
    if len(found.speakers) > 1 and found.chosen is not None:
        tags, test = look.bullets(polarity_in_words(found.chosen.wiring)), polarity_test(found.speakers)
        alike = look.folded("They must move alike", tags + look.bullets(test, numbered=True))
    return said + table + why + alike + _cautions()


def _verdict(said: Sequence[str], cone: str) -> str:
    """Return what the chosen wiring comes to, what the cone's travel asks right below it, and what was assumed."""
    head, *rest = (look.paragraph(each) for each in said)
    return head + minded(cone) + "".join(rest)


def _cautions() -> str:
    return cautioned("speaker", "magnet", "electricity")


def clips(boxes: Sequence[tuple[str, ClosedBox]]) -> str:
    """Return a short sound through each response, to be played one by one; an estimate, level-matched."""
    from modelmath.sound.closed_box.response import response as second_order
    from modelmath.sound.hearing.render import SOUNDS

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
