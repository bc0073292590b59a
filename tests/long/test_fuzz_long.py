"""Many more inputs through every door; see `tests/fuzz`."""

from __future__ import annotations

import pytest
from fuzz.chooser import random_bytes
from fuzz.every import EVERY, MODULE_OF, shares
from fuzz.watched import begin_anew, watched
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

pytestmark = pytest.mark.long
INPUTS = 60_000  # in all, shared out by what an input costs
SHARES = shares(INPUTS, list(EVERY))
GENEROUS = 10  # times a target's own bound, on a machine that is busy with other tests


@pytest.mark.parametrize("name", [name for name in EVERY if MODULE_OF[name] != "on_panels"])
def test_only_our_own_errors_come_out(name):
    target = EVERY[name]
    begin_anew()

    @settings(max_examples=max(30, SHARES[name]), suppress_health_check=list(HealthCheck), database=None)
    @given(seed=st.integers(0, 2**48), cut=st.integers(1, 400))
    def many(seed: int, cut: int) -> None:
        given_ = target.given(random_bytes(seed, name, cut))
        seen = watched(target.act, given_, GENEROUS * target.most_s, target.most_mb)
        assert not seen.problem, f"EVERY[{name!r}].act(*{given_!r})\n{seen.problem}"

    many()


@pytest.mark.parametrize("name", [name for name in EVERY if MODULE_OF[name] == "on_panels"])
def test_a_panel_says_what_is_wrong_and_never_raises(name, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    target = EVERY[name]
    begin_anew()
    for seed in range(min(40, max(8, SHARES[name]))):
        given_ = target.given(random_bytes(seed, f"long {name}"))
        seen = watched(target.act, given_, GENEROUS * target.most_s, target.most_mb)
        assert not seen.problem, f"EVERY[{name!r}].act(*{given_!r})\n{seen.problem}"
