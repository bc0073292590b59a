"""The table and the plots of a run are what the run says: small made-up runs, answers worked out by hand."""

from __future__ import annotations

import csv
from io import StringIO
from xml.etree import ElementTree

import pytest
from benchmarks.beside import beside, grown, in_turn, plain_loop, slope
from benchmarks.report.plots import growth_plots, ratio_plot
from benchmarks.report.rows import in_time, read_run
from benchmarks.report.tables import as_csv, between_marks, caption, for_readme, markdown


class Noted:
    """A benchmark that notes only."""

    def __init__(self) -> None:
        self.extra_info: dict = {}


def a_run(*notes, bare=()):
    """Return a run as pytest-benchmark writes it, with these notes and these benchmarks that say nothing."""
    benchmarks = [
        {"name": f"test_{number}", "fullname": "tests/benchmarks/test_plan_benchmark.py::test_it", "extra_info": each}
        for number, each in enumerate(notes)
    ]
    benchmarks += [
        {"name": name, "fullname": "tests/benchmarks/test_x_benchmark.py::y", "extra_info": {}} for name in bare
    ]
    machine = {
        "machine": "x86_64", "cpu": {"count": 2}, "python_version": "3.11.7", "system": "Linux",
        "release": "6.1.0-9-amd64",
    }  # fmt: skip
    return read_run({"benchmarks": benchmarks, "machine_info": machine, "datetime": "2026-03-04T05:06:07+00:00"})


@pytest.fixture
def noted():
    made = Noted()
    assert beside(made, "read | typed", 0.002, "pint", 0.046, least=10, readme=True) == pytest.approx(1 / 23)
    beside(made, "slow one", 3.0, "numpy", 2.0, most=1.2)
    beside(made, "alone", 0.04, "a file", 0.02, within_s=0.05)
    grown(made, "fit", "zones", {10: 0.01, 20: 0.04, 40: 0.16}, most=2.1, readme=True)
    return made


def test_the_slope_of_a_power_is_its_exponent():
    assert slope({size: 3e-4 * size**1.7 for size in (10, 30, 90)}) == pytest.approx(1.7)


def test_works_are_taken_in_turn():
    seen: list[str] = []
    in_turn(lambda: seen.append("one"), lambda: seen.append("other"), rounds=2)
    assert seen == ["one", "other"] * 3


def test_the_plain_loop_does_the_same_each_time():
    assert plain_loop() == plain_loop()


def test_bars_are_judged_by_ratio_or_seconds(noted):
    run = a_run(noted.extra_info)
    assert [(row.job, row.met, row.bar) for row in run.beside] == [
        ("read | typed", True, "10 times quicker"), ("slow one", False, "at most 1.2 times as long"),
        ("alone", True, "at most 50 ms"),
    ]  # fmt: skip
    assert [row.result for row in run.beside] == ["23 times quicker", "1.5 times as long", "2.0 times as long"]
    assert [row.exponent for row in run.growth] == [pytest.approx(2.0)]
    assert [row.job for row in run.missed] == ["slow one"]


def test_a_benchmark_without_baseline_is_named(noted):
    assert a_run(noted.extra_info, bare=["test_bare"]).bare == ("test_bare",)


def test_the_table_has_a_line_for_each(noted):
    text = markdown(a_run(noted.extra_info))
    assert "| read / typed | 2.0 ms | pint | 46 ms | 23 times quicker | 10 times quicker | yes |" in text
    assert "| slow one | 3.0 s | numpy | 2.0 s | 1.5 times as long | at most 1.2 times as long | **no** |" in text
    assert "| fit | 10 / 20 / 40 zones | 10 ms / 40 ms / 160 ms | 2.00 | exponent at most 2.1 | yes |" in text
    assert text.endswith("Bars missed: slow one: 1.5 times as long, at most 1.2 times as long.\n")


def test_the_csv_has_each_size_of_a_growth(noted):
    rows = list(csv.DictReader(StringIO(as_csv(a_run(noted.extra_info)))))
    assert [row["size"] for row in rows] == ["", "", "", "10", "20", "40"]
    assert [float(row["seconds"]) for row in rows] == [0.002, 3.0, 0.04, 0.01, 0.04, 0.16]


def test_readme_gets_its_rows_between_its_marks(noted):
    run = a_run(noted.extra_info)
    text = between_marks("before\n<!-- benchmarks -->\nold\n<!-- end of benchmarks -->\nafter\n", for_readme(run))
    assert text.startswith("before\n<!-- benchmarks -->\nMeasured on 2026-03-04 in one run: x86_64 processor, 2 cores,")
    assert text.endswith("Time grows with size to the power of: fit 2.0.\n<!-- end of benchmarks -->\nafter\n")
    assert "slow one" not in text
    assert "old" not in text
    assert between_marks(text, for_readme(run)) == text


def test_no_place_for_the_table_is_said():
    wanted = r"^no place for the table: write <!-- benchmarks --> and <!-- end of benchmarks --> on lines of their own$"
    with pytest.raises(ValueError, match=wanted):
        between_marks("no marks", "table")


def test_the_caption_tells_machine_and_day(noted):
    assert caption(a_run(noted.extra_info)).startswith(
        "Measured on 2026-03-04 in one run: x86_64 processor, 2 cores, Python 3.11.7, Linux 6.1.0."
    )


def test_the_plots_name_every_row(noted):
    run = a_run(noted.extra_info)
    (name, growth), *others = growth_plots(run).items()
    assert (name, others) == ("growth-zones.svg", [])
    for svg, words in ((ratio_plot(run), ["slow one", "alone", "read"]), (growth, ["exponent 2.00"])):
        shown = " ".join(ElementTree.fromstring(svg).itertext())
        assert all(each in shown for each in words)


@pytest.mark.parametrize(
    ("seconds", "text"),
    [(12.34, "12 s"), (1.0, "1.0 s"), (0.0496, "50 ms"), (0.0015, "1.5 ms"), (3e-7, "0.3 µs"), (1234.5, "1,234 s")],
)
def test_a_time_is_written_in_the_unit_that_suits_it(seconds, text):
    assert in_time(seconds) == text
