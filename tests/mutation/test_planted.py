"""The runner itself: its changes are cosmic-ray's, a fatal one is killed, one that changes nothing survives."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

pytestmark = pytest.mark.long
ROOT = Path(__file__).resolve().parents[2]

# Each is put in place of lengths/lines.py's own source; the tests are those that mirror it.
PLANTED = """
import json, os, sys
os.environ["OMP_NUM_THREADS"] = "1"
sys.path.insert(0, "tests")
from mutation.child import ROOT, Asked
from mutation.forks import load_before, run_one

load_before()
path = ROOT / "modelmath/lengths/lines.py"
source = path.read_text("utf-8")
changes = {
    "none": source,
    "nothing": source + "\\n_ = 1 + 1\\n",
    "fatal": source + "\\ndef __getattr__(name): raise AttributeError(name)\\n" + "".join(
        f"{name} = None\\n" for name in WORDS
    ),
    "no module": source + "\\nraise RuntimeError('planted')\\n",
    "endless": source + "\\nwhile True: pass\\n",
}
for name, changed in changes.items():
    files = ["modelmath/lengths/lines.py", "tests/lengths/test_lines.py"]
    asked = Asked(files, None, "modelmath.lengths.lines", changed, seconds=3)
    ended = run_one(asked)
    print(json.dumps([name, ended.hung, ended.ran and ended.ran.code, ended.ran and len(ended.ran.seconds)]))
assert path.read_text("utf-8") == source
"""


def test_planted_changes_come_out_as_they_must():
    from modelmath.lengths import lines

    names = [name for name, what in vars(lines).items() if callable(what) and what.__module__ == lines.__name__]
    script = PLANTED.replace("WORDS", repr(names))
    done = subprocess.run([sys.executable, "-c", script], cwd=ROOT, capture_output=True, text=True, check=True)
    came = {row[0]: row[1:] for row in map(json.loads, done.stdout.splitlines())}
    ran = came["none"][2]
    assert ran > 5
    assert came["none"] == [False, 0, ran]
    assert came["nothing"] == [False, 0, ran]
    assert came["fatal"][:2] == [False, 1]
    assert came["no module"] == [False, 1, 0]
    assert came["endless"] == [True, None, None]


def test_changes_are_cosmic_rays_but_for_what_is_left_out():
    mutating = pytest.importorskip("cosmic_ray.mutating")
    import ast

    from cosmic_ray.plugins import get_operator
    from mutation.mutants import OPERATORS, mutants_of

    path = ROOT / "modelmath/lengths/full_size/coverage.py"
    text = path.read_text("utf-8")
    found = {mutant.source() for mutant in mutants_of(path)}
    theirs = set()
    for name in OPERATORS:
        occurrence = 0
        while (changed := mutating.mutate_code(text, get_operator(f"core/{name}")(), occurrence)) is not None:
            occurrence += 1
            try:
                ast.parse(changed)
            except SyntaxError:
                continue
            theirs.add(changed)
    assert found == theirs
    assert len(found) > 10


def test_a_longer_sample_begins_with_a_shorter_one_and_keys_are_told_apart():
    pytest.importorskip("cosmic_ray")
    from mutation.mutants import drawn, mutants_of

    every = list(mutants_of(ROOT / "modelmath/lengths/lines.py"))
    assert len({mutant.key for mutant in every}) == len(every)
    assert drawn(every, 3, 10) == drawn(every[::-1], 3, None)[:10]
    assert drawn(every, 3, 10) != drawn(every, 4, 10)
