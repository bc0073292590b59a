"""Changes the calculation one small thing at a time and counts how many changes its tests notice.

``python tests/mutation/run.py --sample 200 --seed 1`` takes 200 changes of each package at random, runs the tests on
each and prints a table. It fails if less than nine in ten are noticed, or if one that is not noticed is neither killed
by a test nor explained in ``explained.toml``. A sample speaks for its package within the interval shown, not beyond.
"""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SLICE_CAP = 4.0  # [s]


def main(words: list[str] | None = None) -> int:
    """Run it as asked; return 0 if enough is killed and the rest explained, 1 if not, 2 if tests fail as they are."""
    asked = _asked(words)
    for threads in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"):
        os.environ[threads] = "1"  # before anything that counts them is loaded
    sys.path.insert(0, str(ROOT / "tests"))
    from mutation.choice import Known
    from mutation.forks import load_before
    from mutation.mutants import PACKAGES, drawn, every_mutant
    from mutation.results import Tally, read_explanations, read_results, survivors, table
    from mutation.trial import check_kills, run_mutants

    folder: Path = asked.folder
    folder.mkdir(parents=True, exist_ok=True)
    load_before()
    if asked.slice:
        return _slice(asked)
    keys = set(asked.keys.read_text("utf-8").split()) if asked.keys else set()
    tallies = []
    for package in asked.package or PACKAGES:
        if not asked.no_map and not _prepared(package, folder):
            return 2
        every = every_mutant(package, folder)
        file = folder / f"{package}-{asked.seed}.jsonl"
        mutants = drawn(every, asked.seed, None if asked.all else asked.sample)
        if keys:
            file = folder / f"keys-{package}.jsonl"
            file.unlink(missing_ok=True)
            mutants = [mutant for mutant in every if mutant.key in keys]
            own = {key for key in keys if key.startswith(f"modelmath.{package}.")}
            for gone in sorted(own - {mutant.key for mutant in mutants}):
                print(f"there is no {gone} any more")
        print(f"{package}: {len(mutants)} of {len(every)} changes", flush=True)
        known, job = Known.read(package, folder), Known.read("job", folder)
        beyond = job if job.lines else None
        trials = run_mutants(mutants, known, beyond, file, asked.cap, asked.processes, asked.again)
        known.keep_seconds(folder)
        check_kills(trials, asked.check, asked.seed)
        wanted = {mutant.key for mutant in mutants}
        results = [each for each in read_results(file) if each.key in wanted]
        tallies.append(Tally(package, len(every), results, read_explanations()))
        file.with_suffix(".txt").write_text(survivors(tallies[-1:]), "utf-8")
    print(survivors(tallies))
    print(table(tallies))
    return 0 if all(each.good for each in tallies) else 1


def _prepared(package: str, folder: Path) -> bool:
    """Find the times and lines of a package's tests, where they are not known; return whether all pass as they are."""
    from mutation.choice import measure_lines, time_tests

    if not (folder / f"seconds-{package}.json").is_file():
        print(f"{package}: timing its tests", flush=True)
        failed = time_tests(package, folder)
        if failed:
            print(f"fails as it is: {', '.join(failed)}")
            return False
    if not (folder / f"lines-{package}.json").is_file():
        print(f"{package}: measuring which lines its tests run", flush=True)
        measure_lines(package, folder)
    return True


def _slice(asked: argparse.Namespace) -> int:
    """Run a few changes of any package, with nothing measured before; how they come out is shown, not judged."""
    from mutation.choice import Known
    from mutation.few import a_few
    from mutation.results import Tally, read_explanations, read_results, table
    from mutation.trial import check_kills, run_mutants

    file = asked.folder / "slice.jsonl"
    file.unlink(missing_ok=True)
    trials = []
    for mutant in a_few(asked.seed, asked.slice):
        known = Known(mutant.path.split("/")[1])
        trials += run_mutants([mutant], known, None, file, min(asked.cap, SLICE_CAP), 1, again=False)
    check_kills(trials, 1, asked.seed)
    results = read_results(file)
    for each in results:
        print(f"{each.outcome}: {each.path}:{each.line}  {each.old}  ->  {each.new}  {each.by}")
    print(table([Tally("a few of all", 0, results, read_explanations())]))
    return 0 if len(results) == asked.slice else 2


def _asked(words: list[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--package", action="append", help="one of the packages; may be given again. All, if left out")
    parser.add_argument("--sample", type=int, default=200, help="how many changes of each package")
    parser.add_argument("--all", action="store_true", help="every change")
    parser.add_argument("--seed", type=int, default=1, help="which sample; a longer one begins with a shorter one")
    parser.add_argument("--keys", type=Path, help="a file of keys: only these changes, whatever came of them before")
    parser.add_argument("--again", action="store_true", help="run again what survived before")
    parser.add_argument("--cap", type=float, default=60.0, help="most processor time of tests for one change [s]")
    parser.add_argument("--check", type=int, default=5, help="how many kills to run again with nothing changed")
    parser.add_argument("--processes", type=int, default=2, help="how many at a time")
    parser.add_argument("--slice", type=int, default=0, help="only so many changes of any package, nothing measured")
    parser.add_argument("--folder", type=Path, default=ROOT / ".mutation", help="where what was found is kept")
    parser.add_argument("--no-map", action="store_true", help="measure no lines: take the tests that mirror the module")
    return parser.parse_args(words)


if __name__ == "__main__":
    sys.exit(main())
