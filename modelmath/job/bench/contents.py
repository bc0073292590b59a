"""What goes in: the speaker, the decoder, and what has to be kept clear of them."""

from __future__ import annotations

from fractions import Fraction
from functools import partial
from typing import TYPE_CHECKING, Any

from modelmath.enclosure import Box, Limits, Speaker
from modelmath.enclosure.bodies import PLACES
from modelmath.enclosure.limits import check_held
from modelmath.errors import OutOfRange, UnknownChoice
from modelmath.job.fields.base import BEST
from modelmath.materials import StockSheet, StockStrip, parse_sheet, parse_strip

if TYPE_CHECKING:
    from modelmath.job.bench.bench import Bench
    from modelmath.job.document import SpeakerEntry, StockEntry


_BUILD_LENGTHS = (
    "kerf",
    "end_trim",
    "least_offcut",
    "new_strip",
    "new_sheet_length",
    "new_sheet_width",
    "cutting_tolerance",
    "hole_clearance",
)


def limits_of(bench: Bench) -> Limits:
    """Return what has to be kept; of several lamps at one end, the room of the largest.

    Parameters
    ----------
    bench : Bench
        The bench. [-]

    Returns
    -------
    Limits
        Clearances, thicknesses and room at the ends. [mm]

    Raises
    ------
    JobError, OutOfRange
        If a length can't be read or makes no sense.

    References
    ----------
    None needed.
    """
    job = bench.job
    room = {"front": Fraction(0), "rear": Fraction(0)}
    for place, lamp in enumerate(job.lamps):
        with bench.at("lamps", place, "room"):
            room[lamp.end] = max(room[lamp.end], bench.length(lamp.room, "lamps", place, "room"))
    front, rear = (_held_at(bench, field) for field in ("front_end", "rear_end"))
    bench.working_out(("chamber", "rear_end"), partial(check_held, front, rear))
    # What takes room over the chassis is kept clear of it like the clearance itself.
    return Limits(
        clearance_mm=bench.length(job.clearance.keep, "clearance", "keep") + bench.varying.takes_mm,
        end_clearance_mm=bench.length(job.clearance.along, "clearance", "along") + end_play_of(bench),
        wall_mm=bench.length(job.build.wall, "build", "wall", zero=False),
        post_mm=bench.length(job.build.post, "build", "post", zero=False),
        over_speaker_mm=bench.length(job.clearance.over_speaker, "clearance", "over_speaker"),
        front_room_mm=room["front"],
        rear_room_mm=room["rear"],
        wire_path_mm=bench.length(job.chamber.wire_path, "chamber", "wire_path"),
        cut_round=job.chamber.cut_round,
        sound_room_mm=bench.length(job.clearance.sound_room, "clearance", "sound_room", zero=False),
        front_at_mm=front,
        rear_at_mm=rear,
    )


def _held_at(bench: Bench, field: str) -> Fraction | None:
    """Return where an end of the chamber is held; None where the plan is to choose."""
    text = getattr(bench.job.chamber, field)
    return None if text == BEST else bench.place(text, "chamber", field)


def end_play_of(bench: Bench) -> Fraction:
    """Return how far the shell can shift either way on the chassis.

    Parameters
    ----------
    bench : Bench
        The bench. [-]

    Returns
    -------
    Fraction
        As entered; 0 where no length was read. [mm]

    References
    ----------
    None needed.
    """
    return Fraction(0) if bench.job.length is None else bench.length(bench.job.length.end_play, "length", "end_play")


def _check_end_play(bench: Bench) -> None:
    """Refuse an end play at which the shell would not stay on: a slip of the pen."""
    play = end_play_of(bench)
    if bench.ends is None:
        return
    inside = bench.ends.edges[-1].exact_mm - bench.ends.edges[0].exact_mm
    if 2 * play >= inside:
        given = f"{float(play):.2f} mm either way"
        expected = f"less than half of the {float(inside):.2f} mm inside the shell"
        remedy = 'Write how far the shell shifts either way on the chassis, such as end_play = "0.3 mm".'
        raise OutOfRange("the end play", given, expected, remedy)


def speaker_of(bench: Bench) -> Speaker | None:
    """Return the speaker, once all four of its sizes are given.

    Parameters
    ----------
    bench : Bench
        The bench. [-]

    Returns
    -------
    Speaker or None
        The speaker. [mm]

    Raises
    ------
    JobError, OutOfRange
        If a length can't be read or makes no sense.

    References
    ----------
    None needed.
    """
    return None if bench.job.speaker is None else speaker_from(bench, bench.job.speaker, ("speaker",))


def speaker_from(bench: Bench, entry: SpeakerEntry, where: tuple[str | int, ...]) -> Speaker | None:
    """Return a speaker, once all four of its sizes are given.

    Parameters
    ----------
    bench : Bench
        The bench. [-]
    entry : SpeakerEntry
        Its table. [-]
    where : tuple of str and int
        The table's place in the document. [-]

    Returns
    -------
    Speaker or None
        The speaker. [mm]

    Raises
    ------
    JobError, OutOfRange
        If a length can't be read or makes no sense.

    References
    ----------
    None needed.
    """
    if None in (entry.flange, entry.length, entry.width, entry.depth):
        return None
    sizes: dict[str, Any] = {
        f"{name}_mm": bench.length(getattr(entry, name), *where, name, zero=False)
        for name in ("length", "width", "flange", "depth", "basket_length", "basket_width")
        if getattr(entry, name) is not None
    }
    for name in ("terminals", "travel"):
        sizes[f"{name}_mm"] = bench.length(getattr(entry, name), *where, name)
    if entry.turned:
        for first, other in (("length_mm", "width_mm"), ("basket_length_mm", "basket_width_mm")):
            sizes[first], sizes[other] = sizes.get(other), sizes.get(first)
    place = entry.place if entry.place in PLACES else bench.place(entry.place, *where, "place")
    return Speaker(name=entry.name, faces=entry.faces, place=place, **sizes)


def decoder_of(bench: Bench) -> Box | None:
    """Return the room the decoder takes: its size and the air round it.

    Parameters
    ----------
    bench : Bench
        The bench. [-]

    Returns
    -------
    Box or None
        The room. [mm]

    Raises
    ------
    JobError, OutOfRange
        If a length can't be read or makes no sense.

    References
    ----------
    That it is taped to the roof, with air on its other sides: common practice, no source.
    """
    entry = bench.job.decoder
    if entry is None:
        return None
    air = bench.length(entry.air, "decoder", "air")
    length, width, height = (
        bench.length(getattr(entry, name), "decoder", name, zero=False) for name in ("length", "width", "height")
    )
    return Box(entry.name, length, width, height, air, entry.turns, entry.inside)


def stock_of(bench: Bench, entry: StockEntry, place: int) -> StockStrip | StockSheet:
    """Return a strip or a sheet on hand for the job.

    Parameters
    ----------
    bench : Bench
        The bench. [-]
    entry : StockEntry
        As it was entered. [-]
    place : int
        Its place in the document, from 0. [-]

    Returns
    -------
    StockStrip or StockSheet
        The stock. [mm]

    Raises
    ------
    JobError
        If a length or a name can't be read.

    References
    ----------
    None needed.
    """
    length = bench.length(entry.length, "drawer", place, "length", zero=False)
    if entry.sheet is None or entry.width is None:
        return StockStrip(parse_strip(entry.strip or "", bench.scale), length, entry.count, entry.offcut)
    width = bench.length(entry.width, "drawer", place, "width", zero=False)
    return StockSheet(parse_sheet(entry.sheet), length, width, entry.count, entry.offcut)


def check_lengths(bench: Bench) -> None:
    """Read the lengths that only some plans use, so that a fault in one is found at once.

    Parameters
    ----------
    bench : Bench
        The bench; it keeps the faults. [-]

    References
    ----------
    None needed.
    """
    job = bench.job
    with bench.at("length", "end_play"):
        _check_end_play(bench)
    with bench.at("seat", "repeatability"):
        bench.length(job.seat.repeatability, "seat", "repeatability")
    for name in _BUILD_LENGTHS:
        with bench.at("build", name):
            bench.length(getattr(job.build, name), "build", name, zero=not name.startswith("new_"))
    for place, wire in enumerate(job.wires):
        with bench.at("wires", place, "diameter"):
            bench.length(wire.diameter, "wires", place, "diameter", zero=False)
    for place, lamp in enumerate(job.lamps):
        with bench.at("lamps", place, "strand"):
            if lamp.strand is not None:
                bench.length(lamp.strand, "lamps", place, "strand", zero=False)
    if job.speaker is not None and job.speaker.flange is not None:
        with bench.at("speaker", "flange"):
            bench.length(job.speaker.flange, "speaker", "flange", zero=False)
    if job.curve is not None:
        for name in ("radius", "pivots"):
            with bench.at("curve", name):
                bench.length(getattr(job.curve, name), "curve", name, zero=False)
    if job.lift_off is not None:
        with bench.at("lift_off", "height"):
            bench.length(job.lift_off.height, "lift_off", "height")
    _check_gauges(bench)


def _check_gauges(bench: Bench) -> None:
    names = [rule.name for rule in bench.job.rules]
    for place, gauge in enumerate(bench.job.gauges):
        with bench.at("gauges", place, "rule"):
            if gauge.rule not in names:
                raise UnknownChoice("the rule", gauge.rule, names)
        with bench.at("gauges", place, "size"):
            bench.length(gauge.size, "gauges", place, "size", zero=False)
        with bench.at("gauges", place, "tolerance"):
            bench.length(gauge.tolerance, "gauges", place, "tolerance")
        with bench.at("gauges", place, "mark"):
            rule = bench.rules.get(gauge.rule)
            if rule is not None:
                # Where its zero stands is what the gauges tell, so only the far end is known yet.
                shown = rule.given_mm(gauge.mark)
                if rule.length_mm is not None and shown > rule.length_mm:
                    rule.mark_mm(gauge.mark)
