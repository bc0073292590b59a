"""Figures of what sounds: the speaker's parameters, what it does in the chamber, what the decoder gives it."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf, log10
from typing import TYPE_CHECKING

from modelmath.job.why.figures import Figure
from modelmath.quantities.text import told
from modelmath.sound.closed_box.box import FROM_HZ, half_space_db
from modelmath.sound.closed_box.response import cutoff_ratio
from modelmath.sound.closed_box.travel import greatest_travel_hz
from modelmath.sound.driver.completing import FROM_CONE, OUTSIDE
from modelmath.sound.driver.deriving import RELATIONS
from modelmath.sound.driver.driver import LABELS
from modelmath.sound.driver.relations import efficiency
from modelmath.sound.driver.tolerances import FILE as TOLERANCES
from modelmath.sound.driver.tolerances import UNSAID

if TYPE_CHECKING:
    from modelmath.job.plan import Plan
    from modelmath.job.sound.in_chamber import InChamber
    from modelmath.quantities.band import Band
    from modelmath.quantities.known import Known
    from modelmath.sound.driver.driver import Driver
    from modelmath.sound.loads.check import LoadCheck
    from modelmath.sound.loads.decoder import AmpOutput

SMALL = "R. H. Small, Closed-Box Loudspeaker Systems, 1972"
SIZES = ("speaker length", "speaker width")
ENTERED = {
    "given": "given, as entered",
    "measured": "measured, as entered",
    "estimated": "your own estimate, as entered",
}
RESONANCE, CUTOFF, POWER, TRAVEL = "chamber resonance", "-3 dB point", "speaker power", "cone travel in the chamber"


def _name(field: str) -> str:
    return f"speaker: {LABELS[field]}"


def _names(*fields: str) -> tuple[str, ...]:
    return tuple(_name(field) for field in fields)


def _short(value: float, digits: int = 4) -> str:
    """Return a number to so many digits, never with a power of ten."""
    return f"{float(f'{value:.{digits}g}'):.12g}"


def _banded(band: Band, unit: str = "", decimals: int | None = None) -> str:
    """Return a result with the limits it lies in, to so many decimals or else to three digits."""
    numbers = (band.best, band.low, band.high)
    best, low, high = (
        _short(each, 3) if decimals is None else f"{round(each, decimals) + 0.0:.{decimals}f}" for each in numbers
    )
    unit = f" {unit}" if unit else ""
    return f"{best}{unit}" if low == high else f"{best}{unit}, from {low} to {high}{unit}"


# The speaker's parameters.


def speaker(plan: Plan) -> Iterator[Figure]:
    """Yield each parameter of the speaker with its origin."""
    if plan.sound is None:
        return
    driver = plan.sound.driver
    for field, known in driver.parameters:
        yield Figure(_name(field), _limits(field, known), *_origin(plan, driver, field, known))


def _limits(field: str, known: Known) -> str:
    """Return a parameter with its limits, their unit once."""
    value, low, high = (told(each, field) for each in (known.value, known.low, known.high))
    if known.exact:
        return value
    number, _, unit = low.partition(" ")
    return f"{value}, from {number if high.endswith(f' {unit}') else low} to {high}"


def _origin(plan: Plan, driver: Driver, field: str, known: Known) -> tuple[str, str, tuple[str, ...]]:
    """Return how a parameter came about, its source, and what it follows from."""
    if known.origin == "derived":
        return _derived(driver, field, known)
    if not known.why:
        return ENTERED[known.origin], "the job, sound", ()
    if known.why.startswith(UNSAID):
        reason, _, source = known.why.removeprefix(f"{UNSAID}; ").partition("; ")
        return f"{ENTERED[known.origin]}; {UNSAID}; {reason}", f"the job, sound; data/{TOLERANCES}: {source}", ()
    if known.origin != "estimated":  # the travel entered with the sizes
        entered = plan.bench.speaker is not None and bool(plan.bench.speaker.travel_mm)
        return known.why, "the job, speaker", ("cone travel",) if entered else ()
    return _estimated(driver, field, known)


def _derived(driver: Driver, field: str, known: Known) -> tuple[str, str, tuple[str, ...]]:
    for relation in RELATIONS:
        if relation.field == field and relation.text == known.why:
            return f"{known.why}, with {relation.named(driver)}", SMALL, _names(*relation.sources)
    return known.why, "the job, speaker; common practice, no source", SIZES  # the opening within its rim


def _estimated(driver: Driver, field: str, known: Known) -> tuple[str, str, tuple[str, ...]]:
    """Return on what an estimate rests; its reason names first what it was taken from."""
    frm, colon, source = known.why.partition(": ")
    grounds = {
        OUTSIDE: SIZES,
        FROM_CONE: _names("sd_mm2"),
        "from its rated impedance": _names("impedance_ohm"),
        "from its voice coil resistance": _names("re_ohm"),
    }
    if colon and frm in grounds:
        return f"estimated {frm}", f"data/driver_estimates.csv: {source}", grounds[frm]
    size = "" if driver.length_mm is None else ", whatever its size"
    source = f"the job, sound, leaves it open; data/driver_estimates.csv: {known.why}"
    return f"estimated, as usual for small speakers{size}", source, ()


# What it does in the chamber.


def in_chamber(plan: Plan) -> Iterator[Figure]:
    """Yield resonance, Qtc, -3 dB point, peak and level of the speaker in its chamber."""
    sound = plan.sound
    if sound is None:
        return
    volume = "net volume" if plan.net_volume is not None and plan.net_volume.shares else "chamber volume"
    yield _filling(sound)
    yield _resonance(sound, volume)
    yield _qtc(sound)
    box = sound.box
    ratio = cutoff_ratio(box.qtc.best)
    how = (
        f"{_short(box.fc_hz.best)} Hz x {_short(ratio)}, where a second-order high-pass of that Qtc has half its power"
    )
    yield Figure(CUTOFF, _banded(box.f3_hz, "Hz"), how, SMALL, (RESONANCE, "Qtc"))
    how = "20 lg(Qtc / sqrt(1 - 1/(4 Qtc^2))) above a Qtc of 0.71, and none up to there"
    yield Figure("peak", _banded(box.peak_db, "dB", 1), how, SMALL, ("Qtc",))
    yield _level(sound)
    length = sound.longest_mm
    how = f"{box.air.speed_m_s:.1f} m/s over 2 pi times {length:.2f} mm, the longest inside length of the chamber"
    source = "lumped acoustics hold while k L is below 1; textbooks, from memory"
    yield Figure("theory holds to", f"{_short(sound.valid_to_hz, 3)} Hz", how, source, ("chamber volume",))


def _filling(sound: InChamber) -> Figure:
    filling = sound.stuffing
    if filling.q_box[1] == inf:
        return Figure("filling", filling.name, "as entered; the chamber acts as its own volume", "the job, sound")
    low, best, high = filling.volume_gain
    loss = ", ".join("none" if each == inf else f"{each:.3g}" for each in filling.q_box)
    acts = f"it acts as {best:g} times its volume, {low:g} to {high:g}"
    how = f"as entered; {acts}; least, best and most Q of its loss: {loss}"
    return Figure("filling", filling.name, how, f"the job, sound; data/stuffing.csv: {filling.source}")


def _resonance(sound: InChamber, volume: str) -> Figure:
    box, driver = sound.box, sound.driver
    fs, vas = (driver.known(field) for field in ("fs_hz", "vas_mm3"))
    assert fs is not None
    assert vas is not None
    gain = sound.stuffing.volume_gain[1]
    room = f"{_short(box.volume_mm3.best / 1000)} cm3"
    acts = room if gain == 1 else f"({gain:g} x {room})"
    how = (
        f"fs sqrt(1 + Vas/V): {_short(fs.value)} Hz x sqrt(1 + {_short(vas.value / 1000)} cm3 / {acts}); its limits go "
        "with those of each"
    )
    return Figure(RESONANCE, _banded(box.fc_hz, "Hz"), how, SMALL, (*_names("fs_hz", "vas_mm3"), volume, "filling"))


def _qtc(sound: InChamber) -> Figure:
    cases = sound.box.cases
    qec, qmc, higher = (float(each.flat[0]) for each in (cases.qec, cases.qmc, cases.stiffening))
    with_filling = "" if sound.stuffing.q_box[1] == inf else ", Qmc with the loss in the filling"
    how = (
        f"1/Qtc = 1/Qec + 1/Qmc with Qec {_short(qec)} and Qmc {_short(qmc)}: Qes and Qms, each times "
        f"{_short(higher)}, as the chamber raises the resonance{with_filling}"
    )
    below = (*_names("qes", "qms"), RESONANCE, "filling")
    return Figure("Qtc", _banded(sound.box.qtc, decimals=2), how, SMALL, below)


def _level(sound: InChamber) -> Figure:
    box, best = sound.box, sound.box.cases.driver
    fs, vas, qes = (float(each[0]) for each in (best.fs_hz, best.vas_mm3, best.qes))
    eta = 10 * log10(efficiency(fs, vas, qes, box.air))
    into = box.rated_ohm / float(best.re_ohm[0])
    more, size = ("more", "less") if into > 1 else ("less", "more")
    coil = "" if abs(into - 1) < 0.005 else (
        f"; {abs(10 * log10(into)):.2f} dB {more}, as the voltage that makes 1 W of {_short(box.rated_ohm)} ohm finds "
        f"a coil of {size}, {_short(float(best.re_ohm[0]))} ohm"
    )  # fmt: skip
    how = (
        f"{half_space_db(box.air):.1f} dB for a watt of sound over half a sphere of 1 m, less {-eta:.1f} dB: 10 lg of "
        f"the efficiency, 4 pi^2 fs^3 Vas / (c^3 Qes){coil}"
    )
    below = _names("fs_hz", "vas_mm3", "qes", "impedance_ohm", "re_ohm")
    return Figure("level for 1 W at 1 m", _banded(box.loudness_db(1), "dB", 1), how, SMALL, below)


# What the decoder gives it.


def load(plan: Plan) -> Iterator[Figure]:
    """Yield the load, the power that the speaker gets, and how far its cone goes with it."""
    output = plan.bench.sounds.output
    if plan.sound is None or output is None:
        return
    yield Figure("decoder output", _output(output), "as entered, from the decoder's sheet", "the job, sound")
    driven = plan.driven
    also = tuple(f"also driven: {each.name}" for each in plan.bench.sounds.also)
    for name, each in zip(also, plan.bench.sounds.also, strict=True):
        power = "" if each.power_w is None else f", {float(each.power_w):g} W"
        yield Figure(name, f"{float(each.impedance_ohm):g} ohm{power}", "as entered", "the job, sound")
    chosen = driven.chosen
    if chosen is None:
        return
    how = f"{chosen.in_words}, by rated impedances: in series they add up, in parallel their inverses do"
    below = ("decoder output", _name("impedance_ohm"), *also)
    value = f"{_short(chosen.impedance_ohm)} ohm, {chosen.verdict}"
    yield Figure("load impedance", value, how, "Ohm's and Kirchhoff's laws", below)
    if chosen.power_w is None or chosen.clipping_v is None or driven.power_w is None:
        return
    how = f"{_short(chosen.clipping_v)} V, where a sine begins to clip, squared over {_short(chosen.impedance_ohm)} ohm"
    below = ("decoder output", "load impedance")
    yield Figure("decoder power", f"{_short(chosen.power_w, 3)} W", how, "Ohm's law", below)
    yield _power(plan, chosen, driven.power_w, also)
    yield from _travel(plan.sound, driven.power_w)


def _power(plan: Plan, chosen: LoadCheck, power_w: float, also: tuple[str, ...]) -> Figure:
    down = "" if not chosen.turn_down_db else (
        f", turned down by at least {chosen.turn_down_db:.2f} dB for every speaker to stay within its rating"
    )  # fmt: skip
    part = next(each.part for each in chosen.shares if each.name == plan.driven.speakers[0].name)
    how = f"{100 * part:.1f} % of {_short(chosen.power_w or 0.0)} W, its share{down}"
    rated = _names("power_w") if plan.sound is not None and plan.sound.driver.power_w is not None else ()
    return Figure(POWER, f"{_short(power_w, 3)} W", how, "Ohm's law", ("decoder power", *rated, *also))


def _output(output: AmpOutput) -> str:
    """Return what a decoder's sheet says of its output."""
    said = []
    if output.least_ohm is not None:
        most = " or more" if output.most_ohm is None else f" to {float(output.most_ohm):g}"
        said.append(f"{float(output.least_ohm):g}{most} ohm".replace(" or more ohm", " ohm or more"))
    if output.power_w is not None:
        into = "" if output.at_ohm is None else f" into {float(output.at_ohm):g} ohm"
        said.append(f"{float(output.power_w):g} W{into}")
    if output.supply_v is not None:
        lost = "" if not output.drop_v else f", {float(output.drop_v):g} V of it lost"
        said.append(f"a bridge on {float(output.supply_v):g} V{lost}")
    return "; ".join(said) or "its load alone is not stated"


def _travel(sound: InChamber, power_w: float) -> Iterator[Figure]:
    """Yield how far the cone goes, and the power that moves it as far as it may."""
    box = sound.box
    at = float(greatest_travel_hz(box.fc_hz.best, box.qtc.best, FROM_HZ))
    rest, goes = float(box.travel_mm(0.0, power_w)), box.greatest_travel_mm(power_w)
    how = (
        f"{_short(rest)} mm far below resonance, sqrt(2 P Z) / Re x Bl Cms / (1 + Vas/V), with Z "
        f"{_short(box.rated_ohm)} ohm, by which its power counts, times {_short(goes.best / rest)} at {_short(at)} Hz, "
        f"where from {FROM_HZ:g} Hz up it goes farthest; peak, one way"
    )
    below = (POWER, RESONANCE, "Qtc", *_names("impedance_ohm", "re_ohm", "fs_hz", "qes", "vas_mm3", "sd_mm2"))
    yield Figure(TRAVEL, _banded(goes, "mm", 2), how, f"{SMALL}; a driven mass on a spring", below)
    safe, xmax = box.safe_power_w(), sound.driver.known("xmax_mm")
    if safe is None or xmax is None:
        return
    over = f"({_short(xmax.value)} mm / {_short(goes.best)} mm)^2"
    how = f"{_short(power_w)} W x {over}: travel goes with the root of power"
    yield Figure(
        "power that Xmax allows", _banded(safe, "W"), how, "a linear spring", (POWER, TRAVEL, *_names("xmax_mm"))
    )
