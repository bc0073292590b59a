"""What sounds: the speaker's parameters, the decoder's output and other speakers, as far as they are entered."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from modelmath.enclosure import Speaker
from modelmath.errors import ModelMathError
from modelmath.quantities.known import Known
from modelmath.quantities.text import parse_quantity
from modelmath.sound.driver.driver import PARAMETER_KINDS, Driver
from modelmath.sound.driver.single import one_figure, read_wanted_q
from modelmath.sound.driver.tolerances import as_entered, as_on_sheet
from modelmath.sound.loads.decoder import AmpOutput, plain_value
from modelmath.sound.loads.speakers import RatedSpeaker

if TYPE_CHECKING:
    from modelmath.job.bench.bench import Bench
    from modelmath.job.document import DriverEntry, SpeakerEntry
    from modelmath.job.fields.sound import AlsoDrivenEntry

# Fields of a driver, and kinds of quantity, by the fields of its table.
FIELDS = {field.rpartition("_")[0] or field: field for field in PARAMETER_KINDS}
DRIVER_KINDS = {name: PARAMETER_KINDS[field] for name, field in FIELDS.items()}
OUTPUT_KINDS = {
    "least": ("least_ohm", "resistance"),
    "most": ("most_ohm", "resistance"),
    "power": ("power_w", "power"),
    "into": ("at_ohm", "resistance"),
    "supply": ("supply_v", "voltage"),
    "drop": ("drop_v", "voltage"),
}
SURROUND = 0.9  # what of the opening within the rim moves at least, the surround counted by half; common practice


@dataclass(frozen=True)
class Sounds:
    """What sounds, as far as it is entered.

    Attributes
    ----------
    driver : Driver or None
        The plan's own speaker by its parameters. [-]
    output : AmpOutput or None
        The decoder's sound output. [-]
    also : tuple of RatedSpeaker
        Other speakers on it. [ohm, W]
    choices : tuple of (Speaker or None, Driver)
        Speakers to compare with the plan's own. [mm]
    wanted_q : float or None
        The Qtc wished for. [-]
    """

    driver: Driver | None
    output: AmpOutput | None
    also: tuple[RatedSpeaker, ...]
    choices: tuple[tuple[Speaker | None, Driver], ...]
    wanted_q: float | None


def sounds_of(bench: Bench) -> Sounds:
    """Read all that sounds; what can't be read is a fault of the bench.

    Parameters
    ----------
    bench : Bench
        The bench. [-]

    Returns
    -------
    Sounds
        As far as it is entered. [-]

    References
    ----------
    None needed.
    """
    driver: Driver | None = None
    output: AmpOutput | None = None
    also: tuple[RatedSpeaker, ...] = ()
    wanted: float | None = None
    with bench.at("sound", "driver"):
        driver = driver_of(bench)
    with bench.at("sound", "output"):
        output = output_of(bench)
    with bench.at("sound", "also"):
        also = also_driven(bench)
    choices = choices_of(bench)
    if bench.job.sound.wanted_q is not None:
        with bench.at("sound", "wanted_q"):
            wanted = read_wanted_q(bench.job.sound.wanted_q)
    return Sounds(driver, output, also, choices, wanted)


def quantity(bench: Bench, text: str, kind: str, *path: str | int) -> Known:
    """Read a quantity with its unit, limits and origin.

    Parameters
    ----------
    bench : Bench
        For the message. [-]
    text : str
        As written in the document. [-]
    kind : str
        One of the kinds of `parse_quantity`. [-]
    *path : str and int
        Its place in the document. [-]

    Returns
    -------
    Known
        The quantity. [its own unit]

    Raises
    ------
    JobError
        If it can't be read.

    References
    ----------
    `parse_quantity`.
    """
    try:
        return parse_quantity(text, kind)
    except ModelMathError as fault:
        raise bench.located(path, fault) from None


def driver_of(bench: Bench) -> Driver | None:
    """Return the plan's own speaker by its parameters, as far as they are entered.

    Parameters
    ----------
    bench : Bench
        The bench. [-]

    Returns
    -------
    Driver or None
        None where neither the speaker nor anything of its sound is entered. [-]

    Raises
    ------
    JobError, OutOfRange
        If a parameter can't be read or makes no sense.

    References
    ----------
    None needed.
    """
    entry, sound = bench.job.speaker, bench.job.sound
    if entry is None and not sound.driver.model_dump(exclude_none=True):
        return None
    return driver_from(bench, entry, sound.driver, ("speaker",), ("sound", "driver"))


def driver_from(
    bench: Bench,
    speaker: SpeakerEntry | None,
    entry: DriverEntry,
    where: tuple[str | int, ...],
    driver_at: tuple[str | int, ...],
) -> Driver:
    """Return a speaker by its parameters, from its own table and that of its sizes.

    Parameters
    ----------
    bench : Bench
        The bench. [-]
    speaker : SpeakerEntry or None
        Its sizes. [-]
    entry : DriverEntry
        Its parameters. [-]
    where, driver_at : tuple of str and int
        The places of both tables in the document. [-]

    Returns
    -------
    Driver
        As far as it is entered; the cone's area and travel from the sizes, where these tell them. What is given
        without limits has those that a sheet leaves unsaid; ``450 ± 0 Hz`` is exact. [-]

    Raises
    ------
    JobError, OutOfRange
        If a parameter can't be read or makes no sense.

    References
    ----------
    data/driver_tolerances.csv for the limits that a sheet leaves unsaid.
    """
    found: dict[str, Any] = {}
    for name, field in FIELDS.items():
        text = getattr(entry, name)
        if text is not None:
            known = quantity(bench, text, PARAMETER_KINDS[field], *driver_at, name)
            found[field] = as_entered(known, text, field)
    if speaker is None:
        return Driver(**found)
    sizes = {
        name: float(bench.length(getattr(speaker, name), *where, name, zero=False))
        for name in ("length", "width")
        if getattr(speaker, name) is not None
    }
    if "xmax_mm" not in found:
        travel = float(bench.length(speaker.travel, *where, "travel"))
        if travel > 0:
            why = "the travel entered with the speaker's sizes"
            found["xmax_mm"] = as_on_sheet(Known.of(travel, "given", why=why), "xmax_mm")
    if "sd_mm2" not in found and speaker.rim is not None and len(sizes) == 2:
        rim = float(bench.length(speaker.rim, *where, "rim"))
        area = _opening_mm2(sizes["length"] - 2 * rim, sizes["width"] - 2 * rim, speaker.round)
        if area > 0:
            why = "the opening within its rim, up to a tenth of it not moving with the cone"
            best = (1 + SURROUND) / 2 * area
            found["sd_mm2"] = Known(best, SURROUND * area, area, "derived", why)
    return Driver(
        speaker.name, length_mm=sizes.get("length"), width_mm=sizes.get("width"), round=speaker.round, **found
    )


def _opening_mm2(length: float, width: float, is_round: bool) -> float:
    from math import pi

    if length <= 0 or width <= 0:
        return 0.0
    return length * width * (pi / 4 if is_round else 1.0)


def output_of(bench: Bench) -> AmpOutput | None:
    """Return the decoder's sound output as its own sheet states it.

    Parameters
    ----------
    bench : Bench
        The bench. [-]

    Returns
    -------
    AmpOutput or None
        None where nothing of it is entered. [-]

    Raises
    ------
    JobError, OutOfRange
        If something of it can't be read or makes no sense.

    References
    ----------
    None needed.
    """
    entry = bench.job.sound.output
    found: dict[str, Any] = {
        field: plain_value(quantity(bench, text, kind, "sound", "output", name), field, text)
        for name, (field, kind) in OUTPUT_KINDS.items()
        if (text := getattr(entry, name)) is not None
    }
    return AmpOutput(**found) if found else None


def also_driven(bench: Bench) -> tuple[RatedSpeaker, ...]:
    """Return the other speakers on the same output.

    Parameters
    ----------
    bench : Bench
        The bench. [-]

    Returns
    -------
    tuple of RatedSpeaker
        In the order entered. [ohm, W]

    Raises
    ------
    JobError
        If an impedance or a power can't be read.

    References
    ----------
    None needed.
    """
    return tuple(
        RatedSpeaker(
            each.name,
            _rated(bench, each, place, "impedance", "resistance", "ohm"),
            None if each.power is None else _rated(bench, each, place, "power", "power", "W"),
        )
        for place, each in enumerate(bench.job.sound.also)
    )


def _rated(bench: Bench, each: AlsoDrivenEntry, place: int, name: str, kind: str, unit: str) -> float:
    known = quantity(bench, getattr(each, name), kind, "sound", "also", place, name)
    return one_figure(known, f"the {name} of {each.name}", unit)


def choices_of(bench: Bench) -> tuple[tuple[Speaker | None, Driver], ...]:
    """Return the speakers to compare with the plan's own; one that can't be read is a fault of the bench.

    Parameters
    ----------
    bench : Bench
        The bench. [-]

    Returns
    -------
    tuple of (Speaker or None, Driver)
        Each by its sizes, None where one is missing, and by its parameters. [mm]

    References
    ----------
    None needed.
    """
    from modelmath.job.bench.contents import speaker_from

    found: list[tuple[Speaker | None, Driver]] = []
    for place, each in enumerate(bench.job.choices):
        with bench.at("choices", place):
            body = speaker_from(bench, each, ("choices", place))
            driver = driver_from(bench, each, each.driver, ("choices", place), ("choices", place, "driver"))
            found.append((body, driver))
    return tuple(found)
