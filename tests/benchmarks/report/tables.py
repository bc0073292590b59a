"""A run as tables: Markdown of all, CSV of all, and the short one for README."""

from __future__ import annotations

import csv
from io import StringIO
from itertools import groupby

from benchmarks.report.rows import Beside, Growth, Run, in_time

BEGIN, END = "<!-- benchmarks -->", "<!-- end of benchmarks -->"
ALL = ("what", "time", "beside", "its time", "ratio", "bar", "met")
GROWN = ("what", "sizes", "times", "exponent", "bar", "met")
SHORT = ("What", "Time", "Beside", "Its time", "Ratio")
FIELDS = ("kind", "about", "what", "size", "seconds", "baseline", "baseline_s", "ratio", "exponent", "bar", "met")


def markdown(run: Run) -> str:
    """Return everything as Markdown, subject by subject."""
    lines = ["# Benchmarks beside their baselines", "", caption(run), ""]
    for group, rows in groupby(run.beside, key=lambda row: row.group):
        lines += [f"## {group.capitalize()}", "", *_table(ALL, [_beside(row) for row in rows]), ""]
    lines += ["## Growth with size", "", *_table(GROWN, [_growth(row) for row in run.growth]), ""]
    missed = "; ".join(f"{row.job}: {row.result}, {row.bar}" for row in run.missed)
    return "\n".join([*lines, f"Bars missed: {missed or 'none'}.", ""])


def as_csv(run: Run) -> str:
    """Return everything as CSV: a line for each ratio, and one for each size of each growth; times in seconds."""
    out = StringIO()
    table = csv.writer(out, lineterminator="\n")
    table.writerow(FIELDS)
    for row in run.beside:
        times = (f"{row.seconds:.6g}", row.baseline, f"{row.baseline_s:.6g}", f"{row.ratio:.6g}")
        table.writerow(["ratio", row.group, row.job, "", *times, "", row.bar, row.met])
    for row in run.growth:
        for size, seconds in zip(row.sizes, row.seconds, strict=True):
            times = (f"{seconds:.6g}", "straight growth", "", "", f"{row.exponent:.4f}")
            table.writerow(["growth", row.group, row.job, size, *times, row.bar, row.met])
    return out.getvalue()


def for_readme(run: Run) -> str:
    """Return the rows that a user of the workbook may want to see, with machine and day."""
    rows = [
        (row.job, in_time(row.seconds), row.baseline, in_time(row.baseline_s), row.result)
        for row in run.beside
        if row.readme
    ]
    grown = [f"{row.job} {row.exponent:.1f}" for row in run.growth if row.readme]
    said = f"Time grows with size to the power of: {'; '.join(grown)}." if grown else ""
    return "\n".join([caption(run), "", *_table(SHORT, rows), *(["", said] if said else [])])


def between_marks(text: str, table: str) -> str:
    """Return a file's text with the table between its marks."""
    before, begin, rest = text.partition(BEGIN)
    _, end, after = rest.partition(END)
    if not (begin and end):
        raise ValueError(f"no place for the table: write {BEGIN} and {END} on lines of their own")
    return f"{before}{BEGIN}\n{table}\n{END}{after}"


def caption(run: Run) -> str:
    """Return where and when it was measured."""
    return f"Measured on {run.day} in one run: {run.machine}. Each time stands beside a baseline's in the same process."


def _beside(row: Beside) -> tuple[str, ...]:
    return (
        row.job, in_time(row.seconds), row.baseline, in_time(row.baseline_s), row.result, row.bar,
        "yes" if row.met else "**no**",
    )  # fmt: skip


def _growth(row: Growth) -> tuple[str, ...]:
    sizes = " / ".join(f"{size:,}" for size in row.sizes)
    times = " / ".join(in_time(seconds) for seconds in row.seconds)
    return row.job, f"{sizes} {row.unit}", times, f"{row.exponent:.2f}", row.bar, "yes" if row.met else "**no**"


def _table(head: tuple[str, ...], rows: list[tuple[str, ...]]) -> list[str]:
    cells = [head, ("---",) * len(head), *rows]
    return [f"| {' | '.join(each.replace('|', '/') for each in row)} |" for row in cells]
