"""What the overview shows of one job: whether it can be planned, its figures, how far its build is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, TypeVar

from modelmath.errors import JobError, ModelMathError, NotYetKnown
from modelmath.job.building.checklist import progress_of
from modelmath.job.building.network import in_words
from modelmath.job.plan import Plan
from modelmath.job.storage.locate import line_of
from modelmath.job.storage.text import parsed

if TYPE_CHECKING:
    from modelmath.job.document import Job

T = TypeVar("T")


@dataclass(frozen=True)
class OpenStep:
    """A step of a build that is not done yet.

    Attributes
    ----------
    number : int
        Its number in the plan. [-]
    text : str
        What to do. [-]
    waits_for : tuple of int
        Numbers of the steps that it waits for; none where it can be done now. [-]
    checks : tuple of str
        Its checks that are not ticked. [-]
    """

    number: int
    text: str
    waits_for: tuple[int, ...] = ()
    checks: tuple[str, ...] = ()


@dataclass(frozen=True)
class Row:
    """One job of the overview.

    Attributes
    ----------
    file : str
        Name of its file. [-]
    name, scale : str
        The model's name and its scale; empty where the file can't be read. [-]
    models : int
        How many of the model are built. [-]
    invented : bool
        Whether its data is marked as invented. [-]
    problem : str
        Why the file can't be read or the job can't be planned, and where; empty where it can. [-]
    misfit : str
        What does not fit and is left out of the plan, and why; empty where all fits. [-]
    bulkhead_mm : float or None
        Height of the bulkhead, which is the chamber's; None where it is not known. [mm]
    volume_mm3 : float or None
        The chamber's gross volume; None where it is not known. [mm3]
    chance : float or None
        Chance that bulkhead or floor touch at any spot below them; None where it is not known. [-]
    load : str
        Impedance of the load, and how it suits the decoder; empty where it is not known. [-]
    missing : tuple of str
        What is still to be entered. [-]
    steps, done : int
        How many steps the build has, and how many of them are done. [-]
    left_min : float
        How long one pair of hands takes from now on, waiting included. [min]
    open_steps : tuple of OpenStep
        The steps that are not done. [-]
    not_yet : bool
        Whether it is still to be worked out. [-]
    """

    file: str
    name: str = ""
    scale: str = ""
    models: int = 1
    invented: bool = False
    problem: str = ""
    misfit: str = ""
    bulkhead_mm: float | None = None
    volume_mm3: float | None = None
    chance: float | None = None
    load: str = ""
    missing: tuple[str, ...] = ()
    steps: int = 0
    done: int = 0
    left_min: float = 0.0
    open_steps: tuple[OpenStep, ...] = ()
    not_yet: bool = False

    @property
    def title(self) -> str:
        """The model's name, or its file's where that can't be read. [-]"""
        return self.name or self.file

    @property
    def share(self) -> float:
        """Steps done over all; 0 where there are none. [-]"""
        return self.done / self.steps if self.steps else 0.0

    @property
    def next_up(self) -> tuple[OpenStep, ...]:
        """The steps that can be done now. [-]"""
        return tuple(step for step in self.open_steps if not step.waits_for)

    @property
    def waiting(self) -> tuple[OpenStep, ...]:
        """The steps that wait for others. [-]"""
        return tuple(step for step in self.open_steps if step.waits_for)

    @property
    def progress(self) -> str:
        """How far the build is, in words. [-]"""
        if not self.steps:
            return ""
        if self.done == self.steps:
            return f"all {self.steps} steps done"
        return f"{self.done} of {self.steps} steps done"

    @property
    def left(self) -> str:
        """How long the rest takes, in words; empty where nothing is left. [-]"""
        return in_words(self.left_min) if self.open_steps else ""


def row_of(content: bytes, file: str) -> Row:
    """Return what the overview shows of a job, from its file's content.

    Parameters
    ----------
    content : bytes
        What the file holds. [-]
    file : str
        Its name. [-]

    Returns
    -------
    Row
        A file that can't be read has its message, as has a job that can't be planned. [-]

    References
    ----------
    TOML 1.0.0; each figure is the plan's own.

    Examples
    --------
    >>> row_of(b"name = 3", "hood.toml").problem[:24]
    'hood.toml, line 1, name:'
    """
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = content.count(b"\n", 0, fault.start) + 1
        return Row(file, problem=str(JobError(file, f"line {line}", "it is not UTF-8 text", "save it as UTF-8")))
    found = parsed(text, file)
    if found.job is None:
        return Row(file, problem=str(found.faults[0]))
    return planned_row(found.job, file, text)


def planned_row(job: Job, file: str, text: str = "") -> Row:
    """Return what the overview shows of a job that could be read.

    Parameters
    ----------
    job : Job
        The job. [-]
    file : str
        Name of its file. [-]
    text : str
        What the file holds, for the line of a fault. [-]

    Returns
    -------
    Row
        Each figure that the job gives; what it can't give is left out and said. [-]

    References
    ----------
    Each figure is the plan's own.
    """
    row = Row(file, job.name, job.scale, job.build.count, bool(job.demo))
    try:
        plan = Plan(job)
    except JobError as fault:
        line = line_of(text, fault.path) if fault.path else None
        where = f"line {line}, {fault.where}" if line else fault.where
        return replace(row, problem=str(JobError(file, where, fault.problem, fault.write, fault.path)))
    except ModelMathError as reason:
        return replace(row, problem=str(JobError(file, "the plan", str(reason), "")))
    return _with_figures(row, plan)


def _with_figures(row: Row, plan: Plan) -> Row:
    """Return a row with every figure that a plan gives, and the first reason why one is not given."""
    reasons: list[str] = []
    nothing: tuple[str, ...] = ()

    def given(figure: Callable[[], T], instead: T) -> T:
        try:
            return figure()
        except ModelMathError as reason:
            reasons.append(str(reason))
            return instead

    bulkhead = given(lambda: float(plan.chamber_height_mm), None)
    volume = given(lambda: None if plan.volume is None else float(plan.volume.exact_mm), None)
    chance = given(lambda: float(plan.anywhere.chance), None)
    load, unknown = given(lambda: _load(plan), ("", ""))
    missing = given(lambda: tuple(each.entry for each in plan.missing), nothing)
    misfit = given(lambda: "" if plan.misfit is None else str(plan.misfit), "")
    row = given(lambda: _with_progress(row, plan), row)
    problem = str(JobError(row.file, "the plan", reasons[0], "")) if reasons else ""
    return replace(
        row,
        problem=problem,
        misfit=misfit,
        bulkhead_mm=bulkhead,
        volume_mm3=volume,
        chance=chance,
        load=load,
        missing=(*missing, unknown) if unknown else missing,
    )


def _load(plan: Plan) -> tuple[str, str]:
    """Return impedance and verdict of the load; and what is missing for it, where something is."""
    driven = plan.driven
    chosen = driven.chosen
    if chosen is not None:
        return f"{chosen.impedance_ohm:.3g} ohm, {chosen.verdict}", ""
    if isinstance(driven.missing, NotYetKnown):
        return "", driven.missing.missing
    return "" if driven.missing is None else str(driven.missing), ""


def _with_progress(row: Row, plan: Plan) -> Row:
    progress = progress_of(plan)
    numbers = {step.key: step.number for step in progress.steps}
    left = tuple(
        OpenStep(
            step.number,
            step.text,
            tuple(sorted(numbers[key] for key in progress.waits_for(step))),
            progress.open_checks(step),
        )
        for step in progress.steps
        if step.key not in progress.done
    )
    over = max((booked.over_min for booked in progress.left), default=0.0)
    return replace(row, steps=len(progress.steps), done=len(progress.done), left_min=float(over), open_steps=left)
