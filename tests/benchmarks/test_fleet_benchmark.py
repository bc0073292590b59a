"""How long the overview of a folder of jobs takes, beside reading and checking the same files and planning nothing."""

from __future__ import annotations

import time
from dataclasses import replace
from pathlib import Path

import pytest
from benchmarks.beside import beside, grown
from sample_jobs import DEMOS

from modelmath.job import load_job
from modelmath.job.fleet import overview
from modelmath.job.fleet.kept import kept_file, read_kept, release_mark, write_kept
from modelmath.job.storage.text import job_text

COUNTS = (250, 500, 1_000)
MOST = 3  # times reading alone, where nothing changed
MOST_GROWTH = 1.5  # times linear
MOST_SLOPE = 1.3  # of log time over log jobs
PLANNED = 24  # of them
NEW = (8, 16, 32)  # jobs that are planned; each takes as long whatever the count


def seconds(act) -> float:
    begun = time.perf_counter()
    act()
    return time.perf_counter() - begun


def made_up(folder: Path, count: int) -> Path:
    """Write jobs that are the demos with other names, clearances and steps done, each another."""
    folder.mkdir()
    names = sorted(DEMOS)
    for number in range(count):
        job = DEMOS[names[number % len(names)]]
        keep = f"{0.7 + 0.01 * (number // len(names) % 30):.2f} mm"
        done = ["power off", "cut"][: number % 3]
        changed = job.model_copy(
            update={
                "name": f"{job.name}, copy {number}",
                "clearance": job.clearance.model_copy(update={"keep": keep}),
                "progress": job.progress.model_copy(update={"done": done}),
            }
        )
        (folder / f"job{number:04}.toml").write_text(job_text(changed))
    return folder


def read_alone(folder: Path) -> int:
    return len([load_job(file) for file in sorted(folder.glob("*.toml"))])


@pytest.fixture(scope="module")
def folders(tmp_path_factory) -> dict[int, Path]:
    """Folders of each count whose rows are worked out: some jobs are planned, and stand there again and again."""
    place = tmp_path_factory.mktemp("fleet")
    planned = made_up(place / "planned", PLANNED)
    begun = time.perf_counter()
    overview(planned)
    took = time.perf_counter() - begun
    print(f"\n{PLANNED:,} jobs planned for the first time: {took:.1f} s, {took / PLANNED * 1e3:.0f} ms each", end="")
    files, rows = sorted(planned.glob("*.toml")), read_kept(kept_file(planned))
    found = {}
    for count in COUNTS:
        folder = found[count] = place / str(count)
        folder.mkdir()
        kept = {}
        for number in range(count):
            file, name = files[number % PLANNED], f"again{number:04}.toml"
            (folder / name).write_bytes(file.read_bytes())
            kept[name] = replace(rows[file.name], row=replace(rows[file.name].row, file=name))
        write_kept(kept_file(folder), kept)
    return found


def test_an_overview_of_what_did_not_change_beside_reading_alone(benchmark, folders):
    folder = folders[COUNTS[-1]]
    release_mark()  # once for each time the program is started
    found = benchmark.pedantic(overview, args=(folder,), rounds=2, warmup_rounds=1)
    assert (len(found.rows), found.worked_out) == (COUNTS[-1], 0)
    assert not [row for row in found.rows if row.problem or not row.steps]
    fewer = folders[COUNTS[0]]  # reading takes as long for each, and longer than all else here
    pairs = [(seconds(lambda: overview(folder)), seconds(lambda: read_alone(fewer))) for _ in range(3)]
    ours, alone = (min(each) for each in zip(*pairs, strict=True))
    alone *= COUNTS[-1] / COUNTS[0]
    release_mark.cache_clear()
    marked = seconds(release_mark)
    print(
        f"\n{COUNTS[-1]:,} jobs: {ours * 1e3:.0f} ms, {marked * 1e3:.0f} ms more the first time; read alone "
        f"{alone * 1e3:.0f} ms; {(ours + marked) / alone:.2f} times",
        end="",
    )
    job = f"overview of {COUNTS[-1]:,} jobs, none of them changed"
    beside(
        benchmark,
        job,
        ours + marked,
        f"the same files read and checked, from {COUNTS[0]}",
        alone,
        most=MOST,
        readme=True,
    )
    assert (ours + marked) / alone <= MOST


def test_time_grows_with_the_jobs(benchmark, folders):
    release_mark()
    benchmark.pedantic(overview, args=(folders[COUNTS[0]],), rounds=1)
    took = {count: min(seconds(lambda folder=folder: overview(folder)) for _ in range(4))
            for count, folder in folders.items()}  # fmt: skip
    for count in COUNTS:
        print(f"\n{count:>5,} jobs: {took[count] * 1e3:6.1f} ms, {took[count] / count * 1e6:.0f} us each", end="")
    grown(benchmark, "overview of jobs that did not change", "jobs", took, MOST_SLOPE, readme=True)
    small, _, large = (took[count] / count for count in COUNTS)
    assert large <= small * MOST_GROWTH


def test_planning_them_grows_with_the_jobs_too(benchmark, tmp_path):
    for count in NEW:
        made_up(tmp_path / str(count), count)
    overview(tmp_path / str(NEW[0]), keep=False)
    benchmark.pedantic(overview, args=(tmp_path / str(NEW[0]), False), rounds=1)
    took = {count: min(seconds(lambda count=count: overview(tmp_path / str(count), keep=False)) for _ in range(2))
            for count in NEW}  # fmt: skip
    for count in NEW:
        print(f"\n{count:>5} jobs: {took[count]:6.2f} s, {took[count] / count * 1e3:.0f} ms each", end="")
    grown(benchmark, "jobs planned for the first time", "jobs", took, MOST_SLOPE, readme=True)
    assert took[NEW[-1]] / NEW[-1] <= MOST_GROWTH * took[NEW[0]] / NEW[0]
