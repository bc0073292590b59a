"""What the forms of the page on light come to, as HTML."""

from __future__ import annotations

from typing import TYPE_CHECKING

from modelmath.job.cautions import cautions_on
from modelmath.lengths.text import to_digits
from modelmath.light.lamps.amounts import told_band, told_share, told_w
from modelmath.light.lamps.brightness import perceived
from modelmath.light.lamps.filament import NEAR_PLASTIC
from modelmath.light.lamps.preferred import format_ohm
from modelmath.materials.drills.gauge_for import density_limit
from modelmath.quantities.text import told
from modelmath.widgets.common import look
from modelmath.widgets.common.minding import caution_lines, cautioned
from modelmath.widgets.sound_views import Row, card, figure, minded

if TYPE_CHECKING:
    from modelmath.job.entries.light_alone.bulb import OnSupply
    from modelmath.job.entries.light_alone.gauge import StripAlone
    from modelmath.job.entries.light_alone.kept_alive import KeptAlive
    from modelmath.job.entries.light_alone.lens import LensAlone
    from modelmath.job.entries.light_alone.resistor import Resistor
    from modelmath.job.entries.light_alone.strand import StrandAlone
    from modelmath.job.entries.light_alone.strings import Strings
    from modelmath.job.entries.light_alone.trimming import Trimming
    from modelmath.light.lamps.dropping import BulbChoice
    from modelmath.light.lamps.resistor import ResistorChoice
    from modelmath.materials.drills.gauge_for import GaugeLoss, GaugePick
    from modelmath.quantities.band import Band

RESISTOR_HEADS = ("Resistor", "Current", "Light", "Looks", "Heat at most", "Size that is enough")
LIMITS = "The limits count a resistor 5 % off its marking, and half of its rating used, as in a shell with no draught."
LOOKS = (
    "How bright it looks goes by lightness (CIE 1976), made for surfaces in a lit room: half the light looks three "
    "quarters as bright. A lamp in the dark differs; trim by eye last."
)
BULB_HEADS = ("Resistor", "The bulb gets", "Light", "Life", "Heat at most", "Size that is enough")
LEAD_HEADS = ("Gauge", "Made of", "Loses", "Current in its section", "Over its insulation, usually")
ROUGH = "So far from its rated voltage the shares of light and life are rough."
SIDE_BY_SIDE = "No two share one resistor well: side by side they see one voltage."
DENSE = (
    "That is dense, past the {:g} A/mm2 that is usual: keep it out of a tight bundle, or take the next thicker ones."
)
STRAND_HEADS = ("What loses it", "Loss", "Limits")
MUCH = 1000.0  # times a bulb's rated life: past that something else ends it
TRUE_SIZE = "Printed at 100 % it is true to size: measure the strip before you drill, it is"


def resistor(found: Resistor) -> str:
    """Return which resistor to take, what it does, and those beside it."""
    circuit, chosen = found.circuit, found.chosen
    exact = f"{format_ohm(chosen.ohm)}, the next of {circuit.series} up from {format_ohm(circuit.exact_ohm)}"
    rows = [
        ("Current", told_band(chosen.current_a, "current_a")),
        ("Brightness", _bright(chosen)),
        ("Heat in the resistor", f"{told_w(chosen.power_w.high)} at most; {chosen.size_in_words}"),
        ("The LEDs take" if circuit.leds > 1 else "The LED takes", told_band(chosen.lamp_power_w, "power_w")),
    ]
    beside = [_resistor_row(each) for each in (found.lower, chosen, found.higher)]
    table = look.table("The next values both ways", RESISTOR_HEADS, beside, "mm-advice")
    notes = look.bullets([*found.notes, LIMITS])
    return card(rows, ("Resistor", exact)) + minded(*circuit.warnings) + table + notes + cautioned("lamps", "hot iron")


def _bright(choice: ResistorChoice) -> str:
    share = choice.brightness.best
    return f"{told_share(share)} of the light wanted; looks {told_share(perceived(share))} as bright"


def _resistor_row(choice: ResistorChoice) -> tuple[str, ...]:
    share = choice.brightness.best
    return (
        format_ohm(choice.ohm),
        told_band(choice.current_a, "current_a"),
        told_share(share),
        told_share(perceived(share)),
        told_w(choice.power_w.high),
        _sizes(choice),
    )


def _sizes(choice: ResistorChoice | BulbChoice) -> str:
    return " or ".join(each.in_words for each in (choice.leaded, choice.chip) if each) or "none in the table"


def trimming(found: Trimming) -> str:
    """Return the resistors on both sides of how bright it should look, and what each step takes."""
    brighter, dimmer = found.brighter, found.dimmer
    if brighter.ohm == dimmer.ohm:
        said = f"{format_ohm(brighter.ohm)}, just right"
    else:
        said = (
            f"{format_ohm(brighter.ohm)} or {format_ohm(dimmer.ohm)}, the one looks {told_share(brighter.looks)}, the "
            f"other {told_share(dimmer.looks)} as bright"
        )
    takes = (
        f"To look {told_share(found.looks)} as bright takes {told_share(found.share)} of the light, that of the full "
        "current above."
    )
    rows = [
        (told_share(each.looks), format_ohm(each.ohm), told_share(each.share.best), told_band(each.current_a, "a"))
        for each in found.steps
    ]
    table = look.table("Step by step", ("Looks", "Resistor", "Light", "Current"), rows)
    shown = card([], ("Resistor", said)) + look.paragraph(takes) + table + look.paragraph(LOOKS, "mm-soft")
    return shown + cautioned("lamps")


def strings(found: Strings) -> str:
    """Return the ways to wire them, and what two on one resistor would do."""
    least = found.wirings[0]
    rows = [
        (
            " and ".join(each.in_words for each in way.strings),
            told_band(way.current_a, "a"),
            told_w(way.resistor_w.high),
        )
        for way in found.wirings
    ]
    heads = ("Strings, and the resistor of each", "Draw together", "Heat at most")
    big = " and ".join(each.in_words for each in least.strings)
    drawn = [("Draw together", told_band(least.current_a, "current_a"))]
    table = look.table("Each way, the one that draws least first", heads, rows, "mm-advice")
    why = look.paragraph(SIDE_BY_SIDE) + look.paragraph(found.side_by_side.in_words)
    return card(drawn, ("Least current", big)) + table + why + cautioned("lamps", "hot iron")


def bulb(found: OnSupply) -> str:
    """Return what a bulb does straight on the supply, or behind its resistor."""
    if found.resistor is None:
        said = card(_straight(found), ("Resistor", "none, the supply is no more than the bulb is to get"))
    else:
        exact = found.resistor
        big = f"{format_ohm(exact.best.ohm)}, the next of {exact.series} up from {format_ohm(exact.exact_ohm)}"
        said = card(_behind(exact.best), ("Resistor", big))
        beside = [_bulb_row(each) for each in found.choices]
        said += look.table("With the next values both ways", BULB_HEADS, beside, "mm-advice")
    return (
        said
        + minded(ROUGH if found.rough else "", NEAR_PLASTIC)
        + cautioned("electricity", "power with the shell off", "hot iron")
    )


def _bulb_row(choice: BulbChoice) -> tuple[str, ...]:
    return (
        format_ohm(choice.ohm),
        told_band(choice.bulb_v, "bulb_v"),
        told_share(choice.light.best),
        _times(choice.life, limits=False),
        told_w(choice.power_w.high),
        _sizes(choice),
    )


def _straight(found: OnSupply) -> list[Row]:
    bulb, supply = found.bulb, found.supply_v
    return [
        ("Current", told_band(bulb.current_a(supply), "current_a")),
        ("Light, of what it is rated for", told_share(bulb.light_share(supply).best)),
        ("Life, of what it is rated for", _times(bulb.life_share(supply))),
        ("Heat", told_band(bulb.power_w(supply), "power_w")),
        ("At switching on", f"about {told(bulb.inrush_a(supply).best, 'inrush_a')} flows"),
    ]


def _behind(choice: BulbChoice) -> list[Row]:
    return [
        ("The bulb gets", told_band(choice.bulb_v, "bulb_v")),
        ("Current", told_band(choice.current_a, "current_a")),
        ("Light, of what it is rated for", told_share(choice.light.best)),
        ("Life, of what it is rated for", _times(choice.life)),
        ("Heat in the resistor", f"{told_w(choice.power_w.high)} at most"),
        ("Heat in the bulb", told_band(choice.bulb_power_w, "power_w")),
        ("At switching on", f"about {told(choice.inrush_a.best, 'inrush_a')} flows"),
    ]


def _times(share: Band, *, limits: bool = True) -> str:
    if share.best > MUCH:
        return "far longer"
    within = f" ({to_digits(share.low)} to {to_digits(share.high)})" if limits else ""
    return f"about {to_digits(share.best)} times{within}"


def strand(found: StrandAlone) -> str:
    """Return what to cut, what light arrives, what loses it, and what to say of the bends."""
    lost, at = found.light.loss_db, found.light.at_lens
    rows = [
        ("Light that arrives", f"{_share(at.best)} of the lamp's; {_share(at.low)} to {_share(at.high)}"),
        ("Lost on the way", f"{lost.best:.1f} dB; {lost.low:.1f} to {lost.high:.1f} dB"),
    ]
    if found.drill:
        rows.append(("Drill that passes it", f"{found.drill}, with 0.05 mm to spare or more"))
    said = card(rows, ("Cut", f"{float(found.length.cut_mm):.1f} mm"))
    said += look.paragraph(found.length.in_words) + look.paragraph(found.light.in_words)
    losses = [(name, f"{loss.best:.2f} dB", _limits(loss)) for name, loss in found.light.losses.items()]
    said += look.table("Where light is lost", STRAND_HEADS, losses) + look.bullets(found.in_words)
    formed = ("flame", "hot air and water") if found.formed else ()
    return said + cautioned("knife", *formed) + _strand_and_solvent()


def _share(share: float) -> str:
    return f"{to_digits(100 * share)} %"


def _limits(loss: Band) -> str:
    return "-" if loss.high - loss.low < 0.005 else f"{loss.low:.2f} to {loss.high:.2f} dB"


def lens(found: LensAlone) -> str:
    """Return how much to melt, drawn, and what to mind beside a flame."""
    from modelmath.drawings.svg import to_svg
    from modelmath.drawings.wiring.lens_end import lens_end

    melt = found.melt
    shorter = melt.shortens_by_mm
    rows = [
        ("Lens", f"{float(melt.end.diameter_mm):.2f} mm wide: {found.made_from}"),
        ("Stands out of the strand", f"{melt.head_length_mm:.2f} mm"),
        ("Strand and lens end up", f"{abs(shorter):.2f} mm {'shorter' if shorter >= 0 else 'longer'} than the strand"),
    ]
    if found.next_melted_mm is not None:
        low, high = found.next_melted_mm
        rows.append(("By your trial ends", f"{low:.2f} to {high:.2f} mm, 19 times of 20"))
    tried = (
        "By volume alone: form trial ends, and enter what they took." if found.tried is None else found.tried.in_words
    )
    drawing = figure(to_svg(lens_end(melt), 480))
    said = card(rows, ("Melt", f"{melt.melted_mm:.2f} mm of strand")) + minded(found.mind) + drawing
    return said + look.paragraph(tried) + cautioned("flame", "hot iron") + _strand_and_solvent()


def gauge(found: StripAlone) -> str:
    """Return a strip of holes at true size, and how to use it."""
    from modelmath.drawings.svg import to_svg
    from modelmath.drawings.wiring.gauge_strip import gauge_strip_template

    drawing = gauge_strip_template(found.strip)
    svg = to_svg(drawing, round(drawing.width / 25.4 * 96))  # CSS: 96 px to the inch
    size = f"{TRUE_SIZE} {drawing.width:.1f} mm long. On a screen it is only about so."
    inside = f'<div style="width: {drawing.width:.2f}mm; max-width: 100%">{svg}</div>'
    strip = f'<div class="mm-figure" style="box-sizing: border-box; width: fit-content; max-width: 100%">{inside}</div>'
    return look.paragraph(found.gauge.in_words) + strip + look.paragraph(size) + cautioned("small drills")


def lead(found: GaugePick) -> str:
    """Return the thinnest gauge that does, the next ones, and the one that is too thin."""
    best, thin = found.best, found.too_thin
    rows = [("Loses there and back", told(best.drop_v, "drop_v")), ("Made of", best.made_of)]
    rows.append(("Current through its section", f"{best.a_per_mm2:.2g} A/mm2"))
    if thin is not None:
        rows.append((f"{thin.wire.name}, the next thinner", f"would lose {told(thin.drop_v, 'drop_v')}"))
    dense = DENSE.format(density_limit()) if best.dense else ""
    beside = look.table("It and the next thicker ones", LEAD_HEADS, [_lead_row(each) for each in found.picks])
    return (
        card(rows, ("Gauge", best.wire.name)) + minded(dense) + beside + cautioned("knife", "hot iron", "electricity")
    )


def _lead_row(loss: GaugeLoss) -> tuple[str, ...]:
    spans = " or ".join(f"{each.least_mm:g} to {each.most_mm:g} mm" for each in loss.outsides)
    return (
        loss.wire.name,
        loss.made_of,
        told(loss.drop_v, "drop_v"),
        f"{loss.a_per_mm2:.2g} A/mm2",
        spans or "measure it",
    )


def kept_alive(found: KeptAlive) -> str:
    """Return how long it lasts, how it is charged, what is wrong and what to mind."""
    from modelmath.light.feeding.amounts import banded

    kept, charged = found.kept, found.kept.charging
    rows = [("Stays in it with power off", f"{to_digits(kept.stored_j.high, 3)} J at most")]
    if charged is not None:
        rows.append(("Charging begins with", banded(charged.first_a, "a")))
        rows.append(("Heat in its resistor then", f"{told_w(charged.first_w.high)} at most, and less from there on"))
        rows.append(("95 % charged", f"after {banded(charged.time_s, 's')}"))
    if found.carries:
        rows.append(("The gap", found.carries))
    return (
        card(rows, ("Bridges", f"about {banded(kept.runtime_s, 's')}"))
        + minded(*kept.faults)
        + caution_lines(*kept.cautions)
    )


def _strand_and_solvent() -> str:
    """Return what solvent does to a strand: a failure of the part, not only a fume."""
    return caution_lines(*(each.text for each in cautions_on("solvent cement") if "strand" in each.text))
