"""How far a build is: steps and checks ticked off, kept in the job by what they are called, whatever their numbers."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from modelmath.errors import UnknownChoice
from modelmath.job.building.network import Booked, Task, critical_path, in_words, one_pair_of_hands, tasks_of

if TYPE_CHECKING:
    from modelmath.job.building.step import Step
    from modelmath.job.document import Job
    from modelmath.job.plan import Plan


@dataclass(frozen=True)
class Progress:
    """How far a build is.

    Attributes
    ----------
    steps : tuple of Step
        Every step. [-]
    done : frozenset of str
        Keys of the steps that are done. [-]
    ticked : frozenset of str
        Checks that are ticked, as `check_key` calls them. [-]
    lost : tuple of str
        What was ticked in the job and is no part of this plan any more. [-]
    """

    steps: tuple[Step, ...]
    done: frozenset[str]
    ticked: frozenset[str]
    lost: tuple[str, ...] = ()

    @property
    def share(self) -> float:
        """Steps done over all. [-]"""
        return len(self.done) / len(self.steps) if self.steps else 0.0

    @property
    def can_be_done(self) -> tuple[Step, ...]:
        """The steps not done yet that nothing holds up. [-]"""
        return tuple(step for step in self.steps if step.key not in self.done and not self.waits_for(step))

    def waits_for(self, step: Step) -> tuple[str, ...]:
        """Return what a step waits for: steps not done, less those that another of them waits for in turn.

        Parameters
        ----------
        step : Step
            One of them. [-]

        Returns
        -------
        tuple of str
            Keys of steps. [-]

        References
        ----------
        None needed.
        """
        waits = [key for key in step.needs if key not in self.done]
        behind = {each for key in waits for each in self._behind(key)}
        return tuple(key for key in waits if key not in behind)

    def _behind(self, key: str) -> set[str]:
        """Return all that a step not done waits for, directly and in turn; each is looked at once. [-]"""
        needs = {step.key: step.needs for step in self.steps}
        found: set[str] = set()
        ahead = [key]
        while ahead:
            new = {each for each in needs.get(ahead.pop(), ()) if each not in self.done} - found
            found |= new
            ahead += new
        return found

    def open_checks(self, step: Step) -> tuple[str, ...]:
        """Return the checks of a step that are not ticked.

        Parameters
        ----------
        step : Step
            One of them. [-]

        Returns
        -------
        tuple of str
            Their words. [-]

        References
        ----------
        None needed.
        """
        return tuple(check for check in step.checks if check_key(step, check) not in self.ticked)

    @property
    def left(self) -> tuple[Booked, ...]:
        """When one pair of hands does what is left, from now on. [min]"""
        return one_pair_of_hands(self._tasks_left)

    @property
    def critical(self) -> frozenset[str]:
        """Keys of the steps left whose every delay delays the whole. [-]"""
        return frozenset(each.task.key for each in critical_path(self._tasks_left) if each.critical)

    @property
    def _tasks_left(self) -> list[Task]:
        open_ones = [step for step in self.steps if step.key not in self.done]
        keys = {step.key for step in open_ones}
        return [
            Task(task.key, task.work_min, task.wait_min, tuple(key for key in task.needs if key in keys))
            for task in tasks_of(open_ones)
        ]

    @property
    def time_in_words(self) -> str:
        """How long the rest takes. [-]"""
        left = self.left
        if not left:
            return ""
        work = sum(each.task.work_min for each in left)
        whole = max(each.over_min for each in left)
        said = f"About {in_words(work)} of work, {in_words(whole)} from now to the end by one pair of hands"
        waits = max(left, key=lambda each: each.task.wait_min)
        if waits.task.wait_min:
            number = next(step.number for step in self.steps if step.key == waits.task.key)
            said += f"; the longest wait is {in_words(waits.task.wait_min)} after step {number}"
        return f"{said}. Times are common practice, no source; the labels of what you use decide."

    @property
    def in_words(self) -> str:
        """How far it is, and what can be done now. [-]"""
        if len(self.done) == len(self.steps):
            return "All steps are done."
        now = ", ".join(str(step.number) for step in self.can_be_done)
        said = f"{len(self.done)} of {len(self.steps)} steps are done."
        return f"{said} What can be done now: step{'s' if ',' in now else ''} {now}."


def check_key(step: Step, check: str) -> str:
    """Return what a check is called in a job: its step and its words, up to a colon.

    Parameters
    ----------
    step : Step
        Its step. [-]
    check : str
        Its words. [-]

    Returns
    -------
    str
        Such as ``dry fit: putty left over motor``. [-]

    References
    ----------
    None needed.
    """
    return f"{step.key}: {check.partition(':')[0]}"


def progress_of(plan: Plan) -> Progress:
    """Return how far the build of a plan is.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    Progress
        By what the job has ticked; a hold counts as done only with all its checks. [-]

    References
    ----------
    None needed.
    """
    entry, steps = plan.job.progress, plan.steps
    keys = {step.key for step in steps}
    checks = {check_key(step, check) for step in steps for check in step.checks}
    done = frozenset(key for key in entry.done if key in keys)
    ticked = frozenset(each for each in entry.ticked if each in checks)
    held = {step.key for step in steps if step.hold and not all(check_key(step, c) in ticked for c in step.checks)}
    lost = tuple(each for each in (*entry.done, *entry.ticked) if each not in keys and each not in checks)
    return Progress(steps, done - held, ticked, lost)


def with_done(job: Job, steps: Iterable[Step], key: str, done: bool) -> Job:
    """Return a job with a step done, or not done.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    steps : iterable of Step
        The plan's steps. [-]
    key : str
        Which of them. [-]
    done : bool
        Whether it is done. [-]

    Returns
    -------
    Job
        A new job. [-]

    Raises
    ------
    UnknownChoice
        If there is no such step.

    References
    ----------
    None needed.
    """
    keys = [step.key for step in steps]
    if key not in keys:
        raise UnknownChoice("the step", key, keys)
    others = [each for each in job.progress.done if each != key]
    return _with(job, {"done": [*others, key] if done else others})


def with_tick(job: Job, steps: Iterable[Step], check: str, ticked: bool) -> Job:
    """Return a job with a check ticked, or not.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    steps : iterable of Step
        The plan's steps. [-]
    check : str
        Which check, as `check_key` calls it. [-]
    ticked : bool
        Whether it is ticked. [-]

    Returns
    -------
    Job
        A new job. [-]

    Raises
    ------
    UnknownChoice
        If there is no such check.

    References
    ----------
    None needed.
    """
    checks = [check_key(step, each) for step in steps for each in step.checks]
    if check not in checks:
        raise UnknownChoice("the check", check, checks)
    others = [each for each in job.progress.ticked if each != check]
    return _with(job, {"ticked": [*others, check] if ticked else others})


def _with(job: Job, update: dict[str, list[str]]) -> Job:
    return job.model_copy(update={"progress": job.progress.model_copy(update=update)})
