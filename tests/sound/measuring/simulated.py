"""Simulated sweeps of random small drivers, with known noise."""

from __future__ import annotations

from math import exp, log

import numpy as np

from modelmath.sound.measuring.curve import ImpedanceCurve
from modelmath.sound.measuring.fit import fit_sweep
from modelmath.sound.measuring.sweep import Sweep

NAMES = ("re", "fs", "qms", "qes", "qts")
TRUE = ImpedanceCurve(7.3, 485.0, 4.2, 16.0, 1.6, 0.7, 4000.0)


def swept(curve, f_hz, scatter=0.005, phase_scatter=None, seed=1):
    """Return a sweep of a curve: noise of the modulus relative, that of the phase in radians; none without a phase."""
    random = np.random.default_rng(seed)
    f_hz = np.asarray(f_hz, float)
    z_ohm = curve(f_hz) if callable(curve) else curve.impedance_ohm(f_hz)
    modulus = np.abs(z_ohm) * np.exp(scatter * random.standard_normal(len(f_hz)))
    phase = None
    if phase_scatter is not None:
        phase = tuple(np.angle(z_ohm) + phase_scatter * random.standard_normal(len(f_hz)))
    return Sweep(tuple(f_hz), tuple(modulus), phase)


def even(low=120.0, high=2000.0, count=80):
    return np.geomspace(low, high, count)


def random_sweep(seed):
    """Return a random driver's curve and a sweep of it, every second one with its phase on average."""
    random = np.random.default_rng(seed)

    def between(low, high):
        return exp(random.uniform(log(low), log(high)))

    re, fs, qms, qes = between(3.4, 30), between(150, 1500), between(1.5, 10), between(0.5, 5)
    coil = (re * between(0.03, 1.0), random.uniform(0.5, 0.95), 4 * fs)
    curve = ImpedanceCurve(re, fs, qms, qms / qes * re, *coil)
    f_hz = even(fs * between(0.2, 0.3), fs * between(3.5, 6), int(random.integers(40, 200)))
    scatter, phase_scatter = between(0.002, 0.03), between(0.002, 0.03)
    with_phase = random.random() < 0.5
    return curve, swept(curve, f_hz, scatter, phase_scatter if with_phase else None, seed + 10**6)


def true_values(curve):
    return {"re": curve.re_ohm, "fs": curve.fs_hz, "qms": curve.qms, "qes": curve.qes, "qts": curve.qts}


def covered(seeds):
    """Return how often the 95 % interval of each parameter holds the true value, over one sweep for each seed."""
    held = dict.fromkeys(NAMES, 0)
    for seed in seeds:
        curve, sweep = random_sweep(seed)
        fit = fit_sweep(sweep)
        for name, true in true_values(curve).items():
            found = getattr(fit, name)
            held[name] += found.low <= true <= found.high
    return held
