"""The sound in the packet: what the speaker does in its chamber, what it rests on, more volume, load and sealing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, KeepTogether, Table, TableStyle

from modelmath.drawings.sheets.minding import in_one
from modelmath.drawings.sheets.sketch import Sketch
from modelmath.drawings.sheets.style import BODY, NOTE, PAGE, PLAIN, SECTION, SMALL, STRONG, gap, table, words

if TYPE_CHECKING:
    from modelmath.job import Plan
    from modelmath.job.sound.in_chamber import InChamber
    from modelmath.sound.loads.check import LoadCheck

CHART_WIDTH = 520.0  # of a chart's drawing: words find room beside it
SMALLER = 0.575  # of charts whose letters are made for the screen: 8 pt on paper
BETWEEN = 6 * mm  # a chart and the words beside it
NAMES = 32 * mm  # column of the numbers' names
ROUGH = 1.5  # a -3 dB point whose limits lie more than this many times apart is a rough one
MOST_WIRINGS = 3  # that the page has room for: every one of two speakers
SAYS = {
    "-3 dB point": "half the power of well above",
    "chamber resonance": "",
    "Qtc": "0.71 is flat, above it peaks",
    "peak": "",
    "level for 1 W at 1 m": "in a large wall; standing free less low down",
    "speaker power": "the most from the decoder",
    "cone travel in the chamber": "at that power, one way, 100 Hz up",
    "power that Xmax allows": "",
}


def sound_sheet(plan: Plan, width: float) -> list[Flowable]:
    """Build what the speaker does in its chamber, on a page or two. Empty while no chamber holds it.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    width : float
        Width of the page inside its margins. [pt]

    Returns
    -------
    list of Flowable
        The section. [-]

    References
    ----------
    `closed_box`, `table_of_wirings`, `sealing`, `leak_test`.
    """
    sound = plan.sound
    if sound is None:
        return []
    return [
        words("Sound", PAGE),
        *_numbers(plan, sound, width),
        *_speaker(plan, sound, width),
        *_sealing(sound),
        *_volume(sound, width),
        *_load(plan, width),
    ]


def _numbers(plan: Plan, sound: InChamber, width: float) -> Iterator[Flowable]:
    """Yield the response, the numbers with their limits beside it, and where the theory ends."""
    from modelmath.drawings.charts.response import response_figure
    from modelmath.job.sound.plain import beyond_theory, beyond_travel
    from modelmath.sound.closed_box.valid import limits_in_words
    from modelmath.sound.driver.unusual import unusual

    box = sound.box
    yield words(
        f"The {sound.driver.name} in its chamber, {box.volume_mm3.best / 1000:.2f} cm3, {sound.stuffing.name}, sealed: "
        "worked out by theory, neither heard nor measured. The limits go with all that is not known closely.",
        BODY,
    )
    if box.f3_hz.high > ROUGH * box.f3_hz.low:
        yield words(
            "They are wide, for little of this speaker is known: measure its resonance fs first, then its Q.", STRONG
        )
    cone, theory = beyond_travel(box, plan.driven.power_w), beyond_theory(box, sound.valid_to_hz)
    for each in (*unusual(sound.driver), cone, theory):
        if each:
            yield words(f"Mind: {each}", STRONG)
    yield gap(1)
    chart = Sketch(response_figure(box, sound.runner_up_apart, sound.valid_to_hz, CHART_WIDTH), SMALLER)
    limits = words(limits_in_words(sound.longest_mm), NOTE)
    known = [(plan.figures[name], says) for name, says in SAYS.items() if name in plan.figures]
    rows = [
        [words(f"{each.name[:1].upper()}{each.name[1:]}", SMALL), _best_and_limits(each.value, says)]
        for each, says in known
    ]
    room = width - chart.width - BETWEEN
    yield _beside([chart, limits], [table((), rows, [NAMES, room - NAMES])], width)


def _best_and_limits(value: str, says: str) -> list[Flowable]:
    best, _, limits = value.partition(", ")
    small = "; ".join(each for each in (limits, says) if each)
    return [words(best, STRONG), *([words(small, SMALL)] if small else [])]


def _beside(left: list[Flowable], right: list[Flowable], width: float) -> Table:
    """Return a chart with what stands below it, and words to the right of both."""
    style: list[tuple[Any, ...]] = [("FONTNAME", (0, 0), (-1, -1), PLAIN), ("VALIGN", (0, 0), (-1, -1), "TOP")]
    style += [(f"{side}PADDING", (0, 0), (-1, -1), 0) for side in ("LEFT", "RIGHT", "TOP", "BOTTOM")]
    chart = CHART_WIDTH * SMALLER
    widths = [chart, BETWEEN, width - chart - BETWEEN]
    return Table([[left, "", right]], colWidths=widths, style=TableStyle(style), hAlign="LEFT")


def _speaker(plan: Plan, sound: InChamber, width: float) -> Iterator[Flowable]:
    """Yield each parameter with its origin, and what would make an estimated one known."""
    from modelmath.sound.driver.completing import MAKES_KNOWN, MEASURING
    from modelmath.sound.driver.driver import LABELS

    rows = []
    for field, known in sound.driver.parameters:
        figure = plan.figures[f"speaker: {LABELS[field]}"]
        first = figure.how.partition(", with ")[0]
        better = f". {MAKES_KNOWN.get(field, MEASURING)}" if known.origin == "estimated" else ""
        origin = f"derived: {first}" if known.origin == "derived" else first
        rows.append([LABELS[field], figure.value, f"{origin}{better}"])
    head = ("The speaker", "Value and limits", "Its origin, and what makes an estimate known")
    yield gap(1)
    yield table(head, rows, [42 * mm, 53 * mm, width - 95 * mm])
    count = len(sound.assumed)
    if count:
        what = "1 parameter was" if count == 1 else f"{count} parameters were"
        yield words(f"{what} estimated; sources are under Where each number comes from.", NOTE)


def _volume(sound: InChamber, width: float) -> Iterator[Flowable]:
    from modelmath.drawings.charts.response import cutoff_figure

    curve = sound.curve
    said: list[Flowable] = [words(each, BODY) for each in (curve.in_words, sound.wanted) if each]
    drawing = cutoff_figure(curve.volumes_mm3, curve.f3_hz, curve.marked, sound.box.volume_mm3, CHART_WIDTH)
    chart = _beside([Sketch(drawing, SMALLER)], [gap(2), *said], width)
    yield KeepTogether([words("What more volume would buy", SECTION), chart])


def _load(plan: Plan, width: float) -> Iterator[Flowable]:
    """Yield whether the decoder drives it, why, and every wiring where there are several."""
    from modelmath.sound.loads.in_words import load_in_words
    from modelmath.sound.loads.polarity import polarity_in_words

    found = plan.driven
    content: list[Flowable] = [words("Can the decoder drive it", SECTION)]
    if found.chosen is None:
        content.append(words(str(found.missing), BODY))
    else:
        first, *said = load_in_words(found.chosen)
        reasons, notes = said[: len(said) - len(found.chosen.notes)], found.chosen.notes
        content += [words(first, STRONG), words(" ".join(reasons), BODY), words(" ".join(notes), NOTE)]
    if len(found.wirings) > 1:
        content += _wirings(found.wirings, width)
    if found.chosen is not None and len(found.speakers) > 1:
        content.append(words(" ".join(polarity_in_words(found.chosen.wiring)), NOTE))
    yield KeepTogether([*content, in_one("speaker", "electricity")])


def _wirings(checks: Sequence[LoadCheck], width: float) -> Iterator[Flowable]:
    """Yield the table of wirings, the best first, and why those are refused that are."""
    from modelmath.sound.loads.in_words import HEADS, LEVEL_NOTE, load_rows

    widths = [0, 21 * mm, 15 * mm, 50 * mm, 16 * mm, 22 * mm]
    widths[0] = width - sum(widths)
    yield gap(1)
    yield table(HEADS, load_rows(checks)[:MOST_WIRINGS], widths)
    left, more = checks[MOST_WIRINGS:], ""
    if left:
        refused = sum(each.verdict == "refused" for each in left)
        more = f" {len(left)} more, none better and {refused} of them refused, stand in the walkthrough."
    yield words(f"{LEVEL_NOTE}{more}", NOTE)
    for each in checks[:MOST_WIRINGS]:
        if each.verdict == "refused":
            yield words(f"Refused, {each.in_words}: {' '.join(each.reasons)}", NOTE)


def _sealing(sound: InChamber) -> Iterator[Flowable]:
    """Yield how tight is tight enough, what the first leak does, and the test with its cautions."""
    from modelmath.sound.leaks.bench import CAUTIONS

    found = sound.leaking
    tight = words(found.sealing.in_words, BODY)
    yield KeepTogether([words("Seal it", SECTION), tight, words(found.said[0], NOTE)])
    steps = [words(f"{number}. {step}", SMALL) for number, step in enumerate(found.test.steps, start=1)]
    cautions = words(f"Caution, leak test: {' '.join(CAUTIONS)}", NOTE)
    yield KeepTogether([words("A leak test before closing", SECTION), *steps, gap(0.5), cautions])
