"""Long work on a page: what is done and how far it is, and a button that stops it and goes on.

The steps run between the messages of the page, on the kernel's own loop, so that the button and the fields are heard
while they do. Where no loop runs, as in a script, they run to their end at once.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from dataclasses import dataclass, field
from math import inf
from time import perf_counter
from typing import Any, TypeVar

import ipywidgets as w

from modelmath.errors import ModelMathError
from modelmath.steps import InSteps, Progress
from modelmath.widgets.common import look

T = TypeVar("T")
PATIENCE_S = 0.3  # work that is done by then shows no bar
SLICE_S = 0.08  # so long the page may wait to be heard
GAP_S = 0.01  # long enough for what waits to be taken in
STOP, GO_ON = "Stop", "Go on"
LEFT_AS_IT_WAS = "What is shown is as it was before."
FAULT = "This stopped with a fault of the program. Change an entry, or load the page again."


@dataclass
class _Run:
    """One piece of work, and what follows from it."""

    what: str
    steps: InSteps[Any]
    done: Callable[[Any], None]
    failed: Callable[[Exception], None]
    at: Progress = field(default_factory=lambda: Progress(""))
    paused: bool = False


class Work:
    """A place on a page that runs one piece of work at a time; the next one takes the place of the last.

    Parameters
    ----------
    patience_s : float or None
        How long work may take before it is spoken of; None for as long as on every page. [s]
    """

    def __init__(self, patience_s: float | None = None) -> None:
        self.patience_s = PATIENCE_S if patience_s is None else patience_s
        self.said, self.bar = w.HTML(), w.HTML()
        self.button = w.Button(description=STOP, layout=w.Layout(align_self="flex-start", min_width="8rem"))
        self.button.on_click(lambda _button: self._turn())
        self.view = w.VBox([self.said, self.bar, self.button], layout=w.Layout(display="none"))
        self.view.add_class("mm-work")
        self._run: _Run | None = None
        self._task: asyncio.Task[None] | None = None  # the loop itself holds it only weakly

    @property
    def running(self) -> bool:
        """Whether work goes on."""
        return self._run is not None and not self._run.paused

    @property
    def stopped(self) -> bool:
        """Whether work was stopped that could go on."""
        return self._run is not None and self._run.paused

    def begin(
        self,
        what: str,
        steps: InSteps[T],
        done: Callable[[T], None],
        failed: Callable[[Exception], None],
        waits: Callable[[], None] | None = None,
    ) -> None:
        """Begin a piece of work; what ran before is dropped.

        Parameters
        ----------
        what : str
            What it is, such as ``Planning the cuts``. [-]
        steps : generator of Progress
            The work. [-]
        done : callable
            Takes what it comes to. [-]
        failed : callable
            Takes the reason why it can't be done. [-]
        waits : callable or None
            Called when it takes longer than patience allows, so that what is shown is of before. [-]
        """
        self.drop()
        run = self._run = _Run(what, steps, done, failed)
        try:
            asyncio.get_running_loop()
        except RuntimeError:
            self._advance(run, inf)
            return
        self._advance(run, self.patience_s)
        if self._run is run:
            if waits is not None:
                waits()
            self._go_on(run)

    def drop(self) -> None:
        """Leave off, and forget it: something else is wanted now."""
        run, self._run = self._run, None
        if run is not None:
            run.steps.close()
        self._hide()

    def stop(self) -> None:
        """Leave off, so that it can go on later."""
        run = self._run
        if run is None or run.paused:
            return
        run.paused = True
        self.button.description = GO_ON
        self.said.value = look.echo(
            f"{run.what} was stopped at {_percent(run)}. {LEFT_AS_IT_WAS} {GO_ON} takes it up where it stopped; "
            "another entry begins anew."
        )

    def go_on(self) -> None:
        """Take up what was stopped."""
        run = self._run
        if run is None or not run.paused:
            return
        run.paused = False
        try:
            asyncio.get_running_loop()
        except RuntimeError:
            self._advance(run, inf)
        else:
            self._go_on(run)

    def finish(self) -> None:
        """Run what still goes on to its end now; what was stopped stays so."""
        if self._run is not None and not self._run.paused:
            self._advance(self._run, inf)

    # How it runs.

    def _turn(self) -> None:
        if self.stopped:
            self.go_on()
        else:
            self.stop()

    def _go_on(self, run: _Run) -> None:
        self.button.description = STOP
        self.said.value = look.echo(f"{run.what} ... {STOP} leaves what is shown as it is.")
        self._show(run)
        self.view.layout.display = None
        self._task = asyncio.get_running_loop().create_task(self._in_slices(run))

    async def _in_slices(self, run: _Run) -> None:
        while True:
            await asyncio.sleep(GAP_S)
            if self._run is not run or run.paused or self._task is not asyncio.current_task():
                return
            self._advance(run, SLICE_S)
            if self._run is run:
                self._show(run)

    def _advance(self, run: _Run, seconds: float) -> None:
        """Run steps for so long, or to the end, and then do what follows."""
        until = perf_counter() + seconds
        try:
            while True:
                run.at = next(run.steps)
                if perf_counter() >= until:
                    return
        except StopIteration as last:
            result = last.value
        except (ModelMathError, OSError) as reason:
            self._over()
            run.failed(reason)
            return
        except Exception:
            self._over()
            self.said.value, self.view.layout.display = look.problem(FAULT), None
            self.bar.value, self.button.layout.display = "", "none"
            raise
        self._over()
        run.done(result)

    def _over(self) -> None:
        self._run = None
        self._hide()

    def _hide(self) -> None:
        self.view.layout.display = "none"
        self.button.layout.display = None
        self.said.value = self.bar.value = ""

    def _show(self, run: _Run) -> None:
        """Show how far it is; not spoken anew at every step, as that would drown all else."""
        self.bar.value = (
            f'<div class="mm-progress"><progress style="width:100%;max-width:26rem;accent-color:currentColor" '
            f'max="100" value="{100 * run.at.share:.0f}" aria-label="{look.text(run.what)}">{_percent(run)}</progress>'
            f"{look.paragraph(f'{run.at.doing}, {_percent(run)} done')}</div>"
        )


def _percent(run: _Run) -> str:
    return f"{100 * run.at.share:.0f} %"
