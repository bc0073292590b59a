"""How a sweep is taken at the bench."""

from __future__ import annotations

HOW = (
    (
        "Power off, and both leads of the speaker off the decoder: a sweep never runs into a decoder. Nothing here "
        "touches mains; use a battery or an isolated low-voltage supply."
    ),
    (
        "A sine generator drives a resistor and the speaker in series. Take a resistor of 5 to 20 times the speaker's "
        "rated impedance, 100 ohm for 8 ohm, and measure it to 1 %."
    ),
    "Hold the speaker by its rim in free air, nothing within a hand's breadth before or behind the cone.",
    (
        "Keep it quiet: no more than 0.1 V across a small speaker, so that the cone hardly moves. A louder sweep "
        "shifts the resonance and may harm speaker and ears."
    ),
    (
        "At each frequency read the voltage across the speaker and that across the resistor: impedance = resistor × "
        "the first / the second. With two channels take the phase too, positive where the speaker's voltage leads."
    ),
    "Sweep from a quarter to four times the resonance with 40 points or more, at least 8 of them across the peak.",
    (
        "Before you trust it, sweep a resistor of known value in place of the speaker: it must read alike at every "
        "frequency."
    ),
)
HOW_SECOND = (
    (
        "Test box: sealed and rigid, without stuffing, its volume about that of the Vas you expect; the volume counts "
        "with the space behind the cone. The better way for cones that nothing can be stuck to."
    ),
    (
        "Added mass: a ring of putty weighed to a hundredth of a gram, about half the moving mass, stuck round the "
        "dust cap so that it can't rattle, and taken off without pulling. It needs the cone area Sd."
    ),
)
PRACTICE = "Common practice, no source."
