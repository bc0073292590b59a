"""Run all benchmarks in one go and write them beside their baselines: tables (Markdown, CSV) and plots (SVG).

python tests/benchmarks/run.py --out benchmarks            all of them, about six minutes
python tests/benchmarks/run.py --out benchmarks -k plan     those whose name has "plan" in it
python tests/benchmarks/run.py --readme README.md           the rows that a user may want to see, between its marks
python tests/benchmarks/run.py --from benchmarks/benchmarks.json --out benchmarks    from a run before
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
import time
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE.parents[1]), str(HERE.parent)]

from benchmarks.report.plots import growth_plots, ratio_plot  # noqa: E402, the path comes first
from benchmarks.report.rows import Bare, read_run  # noqa: E402
from benchmarks.report.tables import as_csv, between_marks, for_readme, markdown  # noqa: E402


def measured(out: Path, wanted: str | None) -> tuple[Path, int]:
    """Run the benchmarks in one process; return where pytest-benchmark wrote them, and its answer."""
    out.mkdir(parents=True, exist_ok=True)
    file = out / "benchmarks.json"
    command = [
        sys.executable, "-m", "pytest", "-q", "-s", "-n", "0", "-p", "no:cacheprovider", "--benchmark-only",
        "--benchmark-columns=median,rounds", f"--benchmark-json={file}", str(HERE),
    ]  # fmt: skip
    command += ["-k", wanted] if wanted else []
    alone = {"OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"}
    begun = time.monotonic()
    answer = subprocess.run(command, cwd=HERE.parents[1], env={**os.environ, **alone}, check=False).returncode
    print(f"all benchmarks: {time.monotonic() - begun:.0f} s")
    return file, answer


def main() -> int:
    """Run, write, and say what has no baseline or missed its bar."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--out", type=Path, default=Path("benchmarks"), help="folder for tables and plots")
    parser.add_argument("--from", dest="file", type=Path, help="read a run before instead of running")
    parser.add_argument("--readme", type=Path, help="put the rows for users between the marks in this file")
    parser.add_argument("-k", dest="wanted", help="only benchmarks with this in their names")
    asked = parser.parse_args()
    file, answer = (asked.file, 0) if asked.file else measured(asked.out, asked.wanted)
    run = read_run(json.loads(file.read_text("utf-8")))
    asked.out.mkdir(parents=True, exist_ok=True)
    files = {"benchmarks.md": markdown(run), "benchmarks.csv": as_csv(run)}
    files |= {"ratios.svg": ratio_plot(run)} if run.beside else {}
    files |= growth_plots(run)
    for name, content in files.items():
        (asked.out / name).write_text(content, "utf-8")
    print(f"{len(run.beside)} ratios, {len(run.growth)} growths, {len(files)} files in {asked.out}")
    if asked.readme:
        asked.readme.write_text(between_marks(asked.readme.read_text("utf-8"), for_readme(run)), "utf-8")
    for row in run.missed:
        print(f"missed its bar: {row.job}, {row.result}, bar {row.bar}")
    for name in run.bare:
        print(f"names no baseline: {name}")
    if run.bare:
        raise Bare(run.bare)
    return answer


if __name__ == "__main__":
    sys.exit(main())
