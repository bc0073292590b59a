"""The coverage-guided fuzzer over every target, as one command from the checkout.

    .venv/bin/python tests/fuzz/run.py --inputs 1000000 --seed 1     so many in all, shared out by their cost
    .venv/bin/python tests/fuzz/run.py --seconds 20                  a short slice, in one process

libFuzzer makes the inputs, through atheris, and changes those that reached new lines of the package. What comes out of
a target, and how much processor time and memory it takes, is held to bounds. At the end a table says what was run;
every kind of finding is printed once with its input as a Python literal, and the command then ends with 1.
"""

from __future__ import annotations

import argparse
import json
import os
import re
import subprocess
import sys
from bisect import bisect_right
from contextlib import suppress
from importlib import import_module
from itertools import accumulate
from pathlib import Path
from time import monotonic
from typing import Any

HERE = Path(__file__).resolve().parent
ABSENT = "atheris is missing; install what the long set needs: .venv/bin/pip install -e '.[dev,long]'"
LONGEST = 4096  # bytes from which one input is made
MOST_KINDS = 20  # of findings that one target prints
ADDRESSES = 6 << 30  # bytes of address space that a process may take, so that no input takes the machine
PARTS = 1 << 16
WARM = 5
SLOW_TO_LOAD = "on_panels"  # left out of a slice; the ordinary tests have a slice of their own of these
COVERED = re.compile(r"cov: (\d+) ft: (\d+)(?: corp: (\d+))?")


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--inputs", type=int, default=0, help="how many in all, shared out over the targets")
    parser.add_argument("--seconds", type=float, default=0, help="so long in all, in one process")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument(
        "--only", action="append", default=[], help="targets of this module, or whose name holds this word"
    )
    parser.add_argument("--table", type=Path, help="also write the table there")
    parser.add_argument("--child", help=argparse.SUPPRESS)
    given = parser.parse_args()
    for folder in (HERE.parent, HERE.parent.parent):
        sys.path.insert(0, str(folder))
    try:
        import atheris  # noqa: F401
    except ImportError:
        print(ABSENT, file=sys.stderr)
        return 2
    if given.child:
        return one_process(json.loads(given.child))
    return all_processes(given)


# One process: a target, or all of them, each by the first byte.


def one_process(told: dict[str, Any]) -> int:
    import atheris

    _bounded()
    atheris.instrument_imports(include=["modelmath"]).__enter__()  # also of what loads late
    from fuzz.chooser import random_bytes

    targets = {each.name: each for module in told["modules"] for each in import_module(f"fuzz.{module}").TARGETS}
    names: list[str] = told["names"]
    found = {name: _Report() for name in names}
    out = Path(told["report"])
    for name in names:
        for seed in range(WARM):  # what loads with the first use is no part of what an input costs
            _warm(targets[name], random_bytes(seed, name))
    left = dict(zip(names, told["shares"], strict=True))
    up_to = list(accumulate(told["shares"]))
    done, began = [0], monotonic()

    def one_input(data: bytes) -> None:
        # The first two bytes choose the target, as often as its share says; one that had it hands on to the next.
        chosen = int.from_bytes(data[:2], "big") % PARTS * up_to[-1] // PARTS
        first = min(bisect_right(up_to, chosen), len(names) - 1)
        name = next((each for each in (*names[first:], *names[:first]) if left[each]), names[first])
        left[name] = max(0, left[name] - 1)
        done[0] += 1
        found[name].note(targets[name], data[2:])
        if done[0] % 1000 == 0 or done[0] == told["inputs"]:
            out.write_text(json.dumps({name: vars(each) for name, each in found.items()}))
        if done[0] == told["inputs"] or (told["seconds"] and monotonic() - began > told["seconds"]):
            out.write_text(json.dumps({name: vars(each) for name, each in found.items()}))
            sys.stdout.flush()
            os._exit(0)  # libFuzzer's own end would run what the package registered at exit

    corpus = Path(told["report"]).with_suffix("")
    corpus.mkdir()
    for number, seed in enumerate(seeds(told["seed"], len(names))):
        (corpus / f"{number:04}").write_bytes(seed)
    flags = [
        f"-seed={told['seed']}",
        f"-max_len={LONGEST}",
        "-len_control=0",
        "-timeout=120",
        "-rss_limit_mb=4096",
        "-reload=0",
        f"-artifact_prefix={corpus}-",
    ]
    atheris.Setup([sys.argv[0], *flags, str(corpus)], one_input)
    atheris.Fuzz()
    return 0


def seeds(seed: int, targets: int) -> list[bytes]:
    """Random bytes of several lengths to begin with; what they are is up to each target's choices."""
    from fuzz.chooser import random_bytes

    return [
        random_bytes(seed + number, "corpus", each) for number, each in enumerate((8, 16, 40, 100, 300) * 8 * targets)
    ]


class _Report:
    """What became of a target's inputs."""

    def __init__(self) -> None:
        self.inputs, self.refused, self.seconds, self.worst_s, self.worst_mb = 0, 0, 0.0, 0.0, 0.0
        self.kinds: dict[str, list[Any]] = {}  # where: how often, the input as a literal, what was seen

    def note(self, target: Any, data: bytes) -> None:
        from fuzz.watched import watched

        given = target.given(data)
        seen = watched(target.act, given, target.most_s, target.most_mb)
        self.inputs += 1
        self.refused += seen.refused
        self.seconds += seen.seconds
        self.worst_s, self.worst_mb = max(self.worst_s, seen.seconds), max(self.worst_mb, seen.megabytes)
        if seen.problem and seen.where in self.kinds:
            self.kinds[seen.where][0] += 1
            if len(repr(given)) < len(self.kinds[seen.where][1]):
                self.kinds[seen.where][1] = repr(given)  # the shortest tells most
        elif seen.problem and len(self.kinds) < MOST_KINDS:
            self.kinds[seen.where] = [1, repr(given), seen.problem]


def _warm(target: Any, data: bytes) -> None:
    if target.first is not None:
        target.first()
    with suppress(Exception):
        target.act(*target.given(data))


def _bounded() -> None:
    import resource

    resource.setrlimit(resource.RLIMIT_AS, (ADDRESSES, ADDRESSES))
    for threads in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"):
        os.environ.setdefault(threads, "1")


# All processes, one after another, and the table.


def all_processes(given: argparse.Namespace) -> int:
    from tempfile import TemporaryDirectory

    from fuzz.every import COSTS, MODULE_OF, shares

    names = [
        name for name in COSTS if not given.only or any(word == MODULE_OF[name] or word in name for word in given.only)
    ]
    if given.seconds and not given.only:
        names = [name for name in names if MODULE_OF[name] != SLOW_TO_LOAD]
    if not names or not (given.inputs or given.seconds):
        print(f"Say --inputs or --seconds; the targets are: {', '.join(COSTS)}.", file=sys.stderr)
        return 2
    rows, kinds, ended = [], [], []
    with TemporaryDirectory(prefix="fuzz-") as folder:
        shared = shares(given.inputs or 1_000_000, names)
        for number, part in enumerate([names] if given.seconds else _parts(names, MODULE_OF)):
            told = {
                "names": part, "modules": sorted({MODULE_OF[name] for name in part}),
                "shares": [shared[name] for name in part],
                "inputs": 0 if given.seconds else sum(shared[name] for name in part), "seconds": given.seconds,
                "seed": given.seed, "report": str(Path(folder) / f"{number}.json"),
            }  # fmt: skip
            done, covered, problem = _run(told)
            for name, each in done.items():
                rows.append((name, each, covered))
                kinds += [(name, where, *seen) for where, seen in each["kinds"].items()]
            if problem:
                ended.append(f"{', '.join(part)}: {problem}")
            for name in part:
                print(f"{name}: {done.get(name, {}).get('inputs', 0):,} inputs", file=sys.stderr, flush=True)
    table = in_words(rows, kinds, ended)
    print(table)
    if given.table:
        given.table.write_text(table + "\n", "utf-8")
    return 1 if kinds or ended else 0


def _parts(names: list[str], module_of: dict[str, str]) -> list[list[str]]:
    """A process for the targets of each module; to load the package, and have it tell what it covers, takes long."""
    parts: dict[str, list[str]] = {}
    for name in names:
        parts.setdefault(module_of[name], []).append(name)
    return list(parts.values())


def _run(told: dict[str, Any]) -> tuple[dict[str, Any], str, str]:
    """Run one process to its end; return what it noted, what it covered, and how it ended if not well."""
    command = [sys.executable, str(HERE / "run.py"), "--child", json.dumps(told)]
    log = Path(told["report"]).with_suffix(".log")
    with log.open("wb") as out:
        ended = subprocess.run(
            command,
            stdout=out,
            stderr=out,
            check=False,
            env=os.environ | {"OMP_NUM_THREADS": "1", "TMPDIR": str(log.parent)},
        )
    said = log.read_text("utf-8", "replace")
    marks = COVERED.findall(said)
    covered = f"{marks[-1][0]} / {marks[-1][2] or '-'}" if marks else ""
    report = Path(told["report"])
    done = json.loads(report.read_text("utf-8")) if report.is_file() else {}
    return done, covered, "" if ended.returncode == 0 else f"ended with {ended.returncode}\n{said[-3000:]}"


def in_words(rows: list[Any], kinds: list[Any], ended: list[str]) -> str:
    heads = ("target", "inputs", "refused", "seconds", "covered / corpus", "worst s", "worst MB", "kinds of finding")
    cells = [
        (name, f"{each['inputs']:,}", f"{each['refused']:,}", f"{each['seconds']:.0f}", covered,
        f"{each['worst_s']:.2f}",
         f"{each['worst_mb']:.0f}", str(len(each["kinds"]) or "none"))
        for name, each, covered in rows
    ]  # fmt: skip
    total = (
        f"all {len(rows)}", f"{sum(each['inputs'] for _, each, _ in rows):,}",
        f"{sum(each['refused'] for _, each, _ in rows):,}",
        f"{sum(each['seconds'] for _, each, _ in rows):.0f}", "",
        f"{max((each['worst_s'] for _, each, _ in rows), default=0):.2f}",
        f"{max((each['worst_mb'] for _, each, _ in rows), default=0):.0f}", str(len(kinds) or "none"),
    )  # fmt: skip
    table = [heads, *cells, total]
    widths = [max(len(row[at]) for row in table) for at in range(len(heads))]
    lines = [
        "  ".join(
            cell.ljust(wide) if not at else cell.rjust(wide)
            for at, (cell, wide) in enumerate(zip(row, widths, strict=True))
        )
        for row in table
    ]
    for name, where, times, literal, problem in kinds:
        lines += [
            "",
            f"{name}: {where}, {times} times, such as",
            f"    EVERY[{name!r}].act(*{literal})",
            problem.rstrip(),
        ]
    return "\n".join([*lines, *(f"\n{each}" for each in ended)])


if __name__ == "__main__":
    sys.exit(main())
