"""What waits for what: the critical path through the steps of a build, and when one pair of hands can do each.

A step takes work, and then may be left alone, as glue is to dry; meanwhile the hands are free for another.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from modelmath.errors import OutOfRange, UnknownChoice
from modelmath.job.building.step import Step


@dataclass(frozen=True)
class Task:
    """A step as a network counts it.

    Attributes
    ----------
    key : str
        What it is called. [-]
    work_min, wait_min : int or float
        Work, and how long it is left alone before what needs it may begin. [min]
    needs : tuple of str
        What has to be over before it begins. [-]
    """

    key: str
    work_min: float
    wait_min: float = 0
    needs: tuple[str, ...] = ()

    @property
    def whole_min(self) -> float:
        """Work and wait together. [min]"""
        return self.work_min + self.wait_min


@dataclass(frozen=True)
class Timed:
    """A task with its times, as if there were hands enough.

    Attributes
    ----------
    task : Task
        The task. [-]
    earliest_min : float
        When it can begin, from the start of the build. [min]
    slack_min : float
        By how much it may begin later without the whole taking longer. [min]
    """

    task: Task
    earliest_min: float
    slack_min: float

    @property
    def critical(self) -> bool:
        """Whether the whole takes longer as soon as it does. [-]"""
        return self.slack_min <= ROUNDING


@dataclass(frozen=True)
class Booked:
    """A task as one pair of hands does it.

    Attributes
    ----------
    task : Task
        The task. [-]
    start_min : float
        When it begins, from the start of the build. [min]
    """

    task: Task
    start_min: float

    @property
    def worked_min(self) -> float:
        """When the hands are free again. [min]"""
        return self.start_min + self.task.work_min

    @property
    def over_min(self) -> float:
        """When it is over, its wait too. [min]"""
        return self.start_min + self.task.whole_min


ROUNDING = 1e-9


def tasks_of(steps: Sequence[Step]) -> tuple[Task, ...]:
    """Return the steps of a build as tasks.

    Parameters
    ----------
    steps : sequence of Step
        The steps. [-]

    Returns
    -------
    tuple of Task
        In their order. [min]

    References
    ----------
    data/build_times.csv.
    """
    return tuple(Task(each.key, each.time.work_min, each.time.wait_min, each.needs) for each in steps)


def critical_path(tasks: Sequence[Task]) -> tuple[Timed, ...]:
    """Return when each task can begin and what slack it has, with hands enough for all at once.

    Parameters
    ----------
    tasks : sequence of Task
        In an order in which each stands behind all it needs. [min]

    Returns
    -------
    tuple of Timed
        In that order. [min]

    Raises
    ------
    UnknownChoice
        If a task needs one that does not stand before it.
    OutOfRange
        If two have one name, or a time is below 0.

    References
    ----------
    Kelley and Walker 1959, the critical path method: earliest times by a pass forward, latest by one back.

    Examples
    --------
    >>> found = critical_path([Task("glue", 10, 60), Task("drill", 15), Task("fit", 5, needs=("glue", "drill"))])
    >>> [(each.task.key, each.earliest_min, each.slack_min) for each in found]
    [('glue', 0, 0), ('drill', 0, 55), ('fit', 70, 0)]
    """
    _check(tasks)
    over: dict[str, float] = {}
    earliest: dict[str, float] = {}
    for task in tasks:
        earliest[task.key] = max((over[key] for key in task.needs), default=0)
        over[task.key] = earliest[task.key] + task.whole_min
    end = max(over.values(), default=0)
    latest = {task.key: end - task.whole_min for task in tasks}
    whole = {task.key: task.whole_min for task in tasks}
    for task in reversed(tasks):
        for key in task.needs:
            latest[key] = min(latest[key], latest[task.key] - whole[key])
    return tuple(Timed(task, earliest[task.key], latest[task.key] - earliest[task.key]) for task in tasks)


def one_pair_of_hands(tasks: Sequence[Task]) -> tuple[Booked, ...]:
    """Return when each task is done by one person: one at a time, other work done while something dries.

    Of what can be begun, the task with least slack comes first; of two alike, the one listed first.

    Parameters
    ----------
    tasks : sequence of Task
        As for `critical_path`. [min]

    Returns
    -------
    tuple of Booked
        In the order in which they are begun. [min]

    Raises
    ------
    UnknownChoice, OutOfRange
        As `critical_path`.

    References
    ----------
    List scheduling by least slack; it never takes less time than the critical path, nor than all the work.

    Examples
    --------
    >>> found = one_pair_of_hands([Task("glue", 10, 60), Task("drill", 15), Task("fit", 5, needs=("glue", "drill"))])
    >>> [(each.task.key, each.start_min) for each in found]
    [('glue', 0), ('drill', 10), ('fit', 70)]
    """
    slack = {each.task.key: (each.slack_min, place) for place, each in enumerate(critical_path(tasks))}
    left = {task.key: task for task in tasks}
    ready: dict[str, float] = {task.key: 0 for task in tasks if not task.needs}
    over: dict[str, float] = {}
    free: float = 0
    booked: list[Booked] = []
    while ready:
        now = max(free, min(ready.values()))
        key = min((each for each, at in ready.items() if at <= now + ROUNDING), key=lambda each: slack[each])
        each = Booked(left.pop(key), now)
        booked.append(each)
        over[key], free = each.over_min, each.worked_min
        del ready[key]
        for task in left.values():
            if key in task.needs and all(need in over for need in task.needs):
                ready[task.key] = max(over[need] for need in task.needs)
    return tuple(booked)


def _check(tasks: Sequence[Task]) -> None:
    seen: list[str] = []
    for task in tasks:
        if task.key in seen:
            raise OutOfRange("the step", repr(task.key), "one that stands once", "Give one of the two another name.")
        for time in (task.work_min, task.wait_min):
            if not time >= 0:
                raise OutOfRange(f"the time of '{task.key}'", f"{time} min", "0 min or more", "Write 0 for none.")
        for key in task.needs:
            if key not in seen:
                raise UnknownChoice(f"what '{task.key}' needs", key, seen)
        seen.append(task.key)


def in_words(minutes: float) -> str:
    """Return a time as a person says it.

    Parameters
    ----------
    minutes : float
        The time. [min]

    Returns
    -------
    str
        In minutes, or hours to the quarter. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> in_words(45), in_words(60), in_words(850)
    ('45 min', '1 h', '14 h 15 min')
    """
    if minutes < 60:
        return f"{minutes:.0f} min"
    hours, rest = divmod(15 * round(minutes / 15), 60)
    return f"{hours} h {rest} min" if rest else f"{hours} h"
