"""The peaks of a sweep (outside check: scipy.signal.find_peaks and its prominences)."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.signal import find_peaks as summits

from modelmath.sound.measuring.peaks import find_peaks

# Few levels, so that level summits and equal heights are met often.
sweeps = st.lists(st.sampled_from([4.0, 5.0, 6.5, 8.0, 12.0, 40.0]) | st.floats(3.0, 60.0), min_size=3, max_size=60)


@given(sweeps)
@settings(max_examples=400, deadline=None)
def test_the_peaks_are_those_that_the_library_finds(impedance):
    found = find_peaks(np.array(impedance))
    level = np.log(impedance)
    least = max(0.05, min(8.0 * found.scatter, 0.5 * float(np.ptp(level))))
    places, more = summits(level, prominence=least)
    order = np.argsort(-more["prominences"], kind="stable")
    assert found.places == tuple(int(places[each]) for each in order)


@given(st.integers(0, 2**32 - 1))
@settings(max_examples=20, deadline=None)
def test_a_long_noisy_sweep_too(seed):
    noise = np.exp(np.random.default_rng(seed).normal(0, 0.05, 2_000).cumsum())
    found = find_peaks(noise)
    least = max(0.05, min(8.0 * found.scatter, 0.5 * float(np.ptp(np.log(noise)))))
    assert set(found.places) == {int(each) for each in summits(np.log(noise), prominence=least)[0]}
