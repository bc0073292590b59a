"""All that is folded away in the walkthrough, sorted by what it is for; each fold shows the plan once it is opened."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

import ipywidgets as w

from modelmath.job import Job, Plan
from modelmath.widgets.common import look
from modelmath.widgets.common.fields import Field, Fold, row
from modelmath.widgets.common.pictures import WhereToMeasure
from modelmath.widgets.inside.all_editors import InsideEditors
from modelmath.widgets.plan import holes, options, touching, views, weight
from modelmath.widgets.plan.another_scale import AnotherScale
from modelmath.widgets.plan.bench import VirtualBench
from modelmath.widgets.plan.building import Building
from modelmath.widgets.plan.exports import Exports
from modelmath.widgets.plan.folds import PlanFold, of_views
from modelmath.widgets.plan.handling import Handling
from modelmath.widgets.plan.light_folds import LightFolds
from modelmath.widgets.plan.sound_folds import SoundFolds
from modelmath.widgets.plan.space import SpaceInside
from modelmath.widgets.plan.why_fold import WhyFold
from modelmath.widgets.plan.zones import ZonesEditor
from modelmath.widgets.shared_folds import SharedFolds

# What stands under each head, in its order; a fold that is in none of them stands where the page puts it.
GROUPS = {
    "The inside, in full": ("zones", "obstacles", "sections", "contents", "passing", "inside"),
    "How sure it is, and what else could be": ("rule", "else", "bench", "why"),
    "The sound": ("sound", "leaks", "compare", "hear"),
    "The light": ("light", "strands", "wiring"),
    "Making it": ("parts", "making", "holes", "weight", "order", "exports"),
    "This job, and others": ("scale", "next", "shelf"),
}
RULE = ("rule_unit", "graduation", "read_to", "rule_length", "reading_u", "offset_u", "seating", "cutting")


class WalkthroughFolds:
    """The folds, by name, with what is inside them.

    Parameters
    ----------
    fields : mapping of str to Field
        The walkthrough's fields; those of the folds are laid out here. [-]
    edited : callable
        Called with the job, once something inside was edited. [-]
    ticked : callable
        Called with the job, once something was ticked or measured, by which no field changes. [-]
    opened : callable
        Called with the name of a job's file, to open it. [-]
    taken_over : callable
        Called with a job from another scale, to open it as a new one. [-]
    file : callable
        Returns the file of the job that is open; None where it has none. [-]
    """

    def __init__(
        self,
        fields: Mapping[str, Field],
        edited: Callable[[Job], None],
        ticked: Callable[[Job], None],
        opened: Callable[[str], None],
        taken_over: Callable[[Job], None],
        file: Callable[[], Path | None],
    ) -> None:
        self.fields = fields
        self.which = Field("The two readings above are of", "the part of the model that they belong to", options=["-"])
        self.chamber, self.sureness, self.strips, self.readings = (w.HTML() for _ in range(4))
        self.runner_up, self.trade, self.stepped, self.holes, self.weight, self.buy = (w.HTML() for _ in range(6))
        self.space, self.bench, self.other_scale = SpaceInside(), VirtualBench(), AnotherScale(taken_over)
        self.shared = SharedFolds(opened, edited, file)
        self.zones, self.editors = ZonesEditor(edited), InsideEditors(edited)
        self.sound, self.light = SoundFolds(self.editors), LightFolds(self.editors)
        self.building, self.why, self.exports = Building(ticked), WhyFold(), Exports()
        self.handling = Handling(edited)
        self.all = self._folds()
        self.editors.holes.fold_into(self.all["holes"])
        self.editors.weight.fold_into(self.all["weight"])

    def _folds(self) -> dict[str, Fold]:
        f = self.fields
        goes_in = [
            WhereToMeasure("inside of the shell", "speaker", "decoder").view,
            row(f["width"], f["inside_length"]),
            row(f["speaker_length"], f["speaker_width"], f["speaker_depth"]),
            row(f["decoder_length"], f["decoder_width"], f["decoder_height"]),
            self.chamber,
        ]
        sure = ((self.sureness, touching.in_all), (self.readings, views.readings))
        else_ = ((self.runner_up, options.runner_up), (self.trade, options.trade), (self.stepped, options.stepped))
        return {
            "handling": self.handling.fold,
            "buy": of_views("What to buy", (self.buy, views.to_buy)),
            "space": of_views("Sizes of shell, speaker and decoder", (self.chamber, views.chamber), within=goes_in),
            "inside": self.space.fold,
            "else": of_views("What else could be", *else_),
            "zones": Fold("Zones along the length", w.VBox([row(self.which), self.zones.view])),
            **self.editors.folds,
            "rule": of_views(
                "The rule, and how sure it is",
                *sure,
                within=[row(*(f[name] for name in RULE)), self.sureness, self.readings],
            ),
            "parts": of_views("Parts and strip", (self.strips, views.parts_and_strips)),
            "making": self.editors.making,
            "holes": of_views("Holes", (self.holes, holes.holes), within=[self.editors.holes.view, self.holes]),
            "weight": of_views("Weight", (self.weight, weight.weight), within=[self.editors.weight.view, self.weight]),
            **self.sound.folds,
            **self.light.folds,
            "order": self.building.fold,
            "exports": PlanFold("For other programs", self.exports.view, self.exports.show, self.exports.clear),
            "bench": self.bench.fold,
            "scale": self.other_scale.fold,
            **self.shared.folds,
            "why": self.why.fold,
        }

    @property
    def views(self) -> list[w.Widget]:
        """Each group's head, and its folds."""
        found: list[w.Widget] = []
        for title, names in GROUPS.items():
            found += [w.HTML(look.subheading(title)), *(self.all[name].view for name in names)]
        return found

    def show(self, plan: Plan) -> None:
        """Show a plan, in each fold that is open now and in the others once they are opened."""
        self.zones.show(plan.job)
        self.editors.show(plan.job)
        for fold in self._of_plan:
            fold.show(plan)

    def clear(self) -> None:
        """Show nothing, as long as there is no plan."""
        self.zones.job = None
        for fold in self._of_plan:
            fold.clear()

    @property
    def _of_plan(self) -> list[PlanFold]:
        return [fold for fold in self.all.values() if isinstance(fold, PlanFold)]
