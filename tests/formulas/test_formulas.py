"""Every formula has an outside check, named in checks.toml; the table of both in DEVELOPERS.md is current."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest
from formulas import finding, table
from formulas.finding import Formula, Public
from formulas.table import Check

SAID = """def area(side_mm):
    '''Return it.

    References
    ----------
    {}
    '''
    return side_mm**2
"""


def test_nothing_lacks():
    assert table.lacking() == []


def test_the_walk_finds_what_it_should():
    """A walk that finds nothing would ask nothing."""
    found = finding.formulas()
    assert {
        "lengths.scales.Scale.model_mm",
        "clearance.stack.Stack.rss",  # by the References of its class
        "sound.closed_box.response.cutoff_ratio",
        "materials.drills.wire.Wire.ohm_per_m",
        "cutting.strips.plan_cuts",
    } <= found.keys()
    assert {name.split(".")[0] for name in found} == set(finding.PACKAGES)
    assert "lengths.table.guard.guarded" not in found  # a form of files
    assert "lengths.rules.instruments.Instrument.can_mark_out" not in found  # no quantity


def named(references):
    (node,) = ast.parse(SAID.format(references)).body
    return Public("a.area", "modelmath/a.py", node, None)


@pytest.mark.parametrize(
    ("references", "laws", "known"),
    [
        ("JCGM 100:2008, 5.2.", ("GUM",), True),
        ("Ohm's law; IEC 60063.", ("Ohm", "IEC 60063"), True),
        ("Arithmetic.", (), True),
        ("As `area`.", (), True),
        ("Common practice, no source.", (), True),
        ("TOML 1.0.0.", (), True),
        ("A. N. Author, A Book, 1999.", (), False),
        ("A. N. Author, A Book, 1999; `area`.", (), False),
        ("Arithmetic; ISO 1.", (), False),
    ],
)
def test_a_formula_is_what_names_a_law(references, laws, known):
    said = finding.references(named(references).node)
    assert finding.sources().laws_in(said) == laws
    assert finding.sources().knows(said) is known


def test_a_source_that_is_not_listed_is_told(monkeypatch):
    monkeypatch.setattr(table, "public", lambda: (named("A. N. Author, A Book, 1999."), named("Arithmetic.")))
    assert list(table.unlisted_sources()) == [
        "a.area names a source that sources.toml doesn't list: A. N. Author, A Book, 1999."
    ]


FORMULA = Formula("a.area", "modelmath/a.py", ("GUM",), frozenset({8, 9}))
KNOWN = {FORMULA.name: FORMULA}
REAL = "lengths/test_scales.py::test_worked_example"


def test_a_formula_without_a_check_is_told_and_a_check_without_its_formula():
    assert list(table.unchecked(KNOWN, ())) == [
        "a.area (GUM) has no outside check: write one and enter it in checks.toml"
    ]
    assert list(table.unchecked({}, (Check(REAL, ("x",), ("a.area",)),))) == [
        "a.area stands in checks.toml and is no formula"
    ]


def test_a_test_that_is_not_there_or_names_nothing_is_told():
    checks = (
        Check("lengths/test_none.py::test_it", ("scipy",), ("a.area",)),
        Check("lengths/test_scales.py::test_none", ("scale_examples.csv",), ("a.area",)),
        Check(REAL, ("a book: by hand",), ("a.area",)),
        Check(REAL, (), ("a.area",)),
    )
    assert list(table.tests_lacking(checks)) == [
        "lengths/test_none.py::test_it: there is no such file",
        "lengths/test_scales.py::test_none: there is no such test",
        f"{REAL}: its module doesn't name 'a book'",
        f"{REAL}: it must name what it is held against, and a formula",
    ]


def test_a_test_that_can_not_reach_its_formula_is_told():
    sound = finding.formulas()["sound.closed_box.response.cutoff_ratio"]
    check = Check(REAL, ("scale_examples.csv",), (sound.name, "lengths.scales.Scale.model_mm"))
    assert list(table.out_of_reach(finding.formulas(), (check,))) == [
        f"{REAL}: it doesn't import what {sound.name} stands in"
    ]


@pytest.mark.parametrize(
    ("run", "reached"),
    [
        ({f"tests/{REAL}": {"modelmath/a.py": [9]}}, True),
        ({"tests/lengths/test_scales.py::": {"modelmath/a.py": [8, 1]}}, True),  # what its module prepares
        ({f"tests/{REAL}": {"modelmath/a.py": [7, 10]}}, False),
        ({f"tests/{REAL}x": {"modelmath/a.py": [8]}}, False),
        ({}, False),
    ],
)
def test_a_check_that_runs_no_line_of_its_formula_is_told(run, reached):
    found = table.not_reached(KNOWN, (Check(REAL, ("x",), ("a.area",)),), run)
    assert found == ([] if reached else [f"{REAL} doesn't reach a.area"])


def test_a_table_that_is_not_current_is_told(monkeypatch, tmp_path):
    copy = tmp_path / "DEVELOPERS.md"
    copy.write_text(f"before\n{table.BEGIN}\n\nold\n\n{table.END}\nafter\n", "utf-8")
    monkeypatch.setattr(table, "DEVELOPERS", copy)
    assert not table.is_current()
    table.write()
    assert table.is_current()
    text = copy.read_text("utf-8")
    assert text.startswith("before\n")
    assert text.endswith(f"{table.END}\nafter\n")
    copy.write_text("none", "utf-8")
    with pytest.raises(
        SystemExit, match=r"^DEVELOPERS\.md has no <!-- formulas: begin --> and <!-- formulas: end -->$"
    ):
        table.is_current()


def test_each_formula_stands_in_the_table_once():
    rows = table.rows()
    cells = [row.strip("| ").split(" | ") for row in rows]
    assert sum(len(each[1].split(", ")) for each in cells) == len(finding.formulas())
    assert all(len(each) == 5 and all(each) for each in cells)


def test_each_source_is_one_that_a_formula_names():
    used = {key for formula in finding.formulas().values() for key in formula.sources}
    assert finding.sources().laws.keys() == used


def test_the_files_are_where_they_are_looked_for():
    assert (finding.ROOT / "modelmath").is_dir()
    assert Path(table.__file__).parent.name == "formulas"
