"""The walkthrough's folds about sound: what it will do, other speakers, and a sound to hear."""

from __future__ import annotations

import ipywidgets as w

from modelmath.job import Plan
from modelmath.job.sound.comparing import RANKS
from modelmath.widgets.common.fields import Field, Fold, row
from modelmath.widgets.inside.all_editors import InsideEditors
from modelmath.widgets.plan import sound, views
from modelmath.widgets.plan.folds import PlanFold, of_views


class SoundFolds:
    """What the model will sound like.

    Parameters
    ----------
    editors : InsideEditors
        Those of what sounds stand in the folds. [-]
    """

    def __init__(self, editors: InsideEditors) -> None:
        self.response, self.load, self.volume, self.leaks, self.table, self.clips = (w.HTML() for _ in range(6))
        self.more = Fold("More about the speaker and the decoder", editors.parameters.view)
        within = [editors.rated.view, self.response, self.load, self.more.view, self.volume]  # fmt: skip
        shown = (
            (self.response, sound.response),
            (self.load, sound.load),
            (self.volume, sound.volume),
        )
        self.sound = of_views("The sound", *shown, within=within)
        self.leaking = of_views("If it leaks, and how to find out", (self.leaks, sound.leaks))
        self.rank = Field("Ranked by", "what the best one stands first for", options=list(RANKS))
        self.rank.on_change(self._rank)
        self._plan: Plan | None = None
        others = w.VBox([editors.choices.view, row(self.rank), self.table])
        self.compare = PlanFold("Which speaker", others, self._compare, self._clear)
        self.hear = of_views("Hear it, roughly", (self.clips, sound.heard))
        editors.rated.fold_into(self.sound)
        editors.parameters.fold_into(self.more)
        editors.choices.fold_into(self.compare)

    @property
    def folds(self) -> dict[str, Fold]:
        """The folds by name, in their order. [-]"""
        return {"sound": self.sound, "leaks": self.leaking, "compare": self.compare, "hear": self.hear}

    def _compare(self, plan: Plan) -> None:
        self._plan = plan
        self._rank()

    def _rank(self) -> None:
        if self._plan is not None:
            plan, rank = self._plan, self.rank.value
            self.table.value = views.or_reason(lambda each: sound.compared(each, rank), plan)

    def _clear(self) -> None:
        self._plan, self.table.value = None, ""
