"""One cut plan and one shopping list over several jobs, from one drawer; each cut named with its model.

Whose drawer that is, is a matter of its own: `modelmath.job.fleet.drawers`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from modelmath.cutting.from_drawer import Cutting, Settings, lay_out_what_fits_in_steps, sheet_stock
from modelmath.cutting.plan import CutPlan
from modelmath.cutting.sheet_layout import SheetPart, SheetPlan
from modelmath.cutting.sheets import Blank
from modelmath.cutting.stock import CutPart, CutStock, stock_of
from modelmath.cutting.strips import plan_cuts_in_steps
from modelmath.errors import DoesNotFit, ModelMathError
from modelmath.job.buying import to_buy
from modelmath.job.document import Build, Job
from modelmath.job.plan import Plan
from modelmath.job.stock import PartLine, blanks_of
from modelmath.materials import Held, OnHand
from modelmath.steps import InSteps, Progress, at_once, part_of

if TYPE_CHECKING:
    from modelmath.clearance import Marks

SIZED, CUT = 0.3, 0.8  # how much of the whole is done once the parts are sized, and the strips planned; roughly
SETTINGS = ("kerf", "end_trim", "least_offcut", "new_strip", "new_sheet_length", "new_sheet_width")


@dataclass(frozen=True)
class ToCut:
    """What one model asks for.

    Attributes
    ----------
    strips : tuple of CutPart
        Parts cut from strip. [mm]
    blanks : tuple of Blank
        Parts cut from sheet. [mm]
    made_up : tuple of CutPart
        Parts that no one strip gives. [mm]
    """

    strips: tuple[CutPart, ...] = ()
    blanks: tuple[Blank, ...] = ()
    made_up: tuple[CutPart, ...] = ()

    def __add__(self, other: ToCut) -> ToCut:
        return ToCut(self.strips + other.strips, self.blanks + other.blanks, self.made_up + other.made_up)


@dataclass(frozen=True)
class Together:
    """The cuts of several models.

    Attributes
    ----------
    cutting : Cutting
        Strips and sheets with their cuts; what could not be cut, in words. [mm]
    models : tuple of str
        The models that are in it. [-]
    marks : Marks or None
        The rule that all of them are marked out with; None where they differ. [-]
    reason : str
        What is not laid out, and why; empty where nothing is left to the bench. [-]
    """

    cutting: Cutting
    models: tuple[str, ...]
    marks: Marks | None = None
    reason: str = ""

    @property
    def to_buy(self) -> tuple[str, ...]:
        """The shopping list, line by line; empty where all is on hand. [-]"""
        return to_buy(self.cutting.strips, self.cutting.layout)


def settings_of(plan: Plan) -> Settings:
    """Return how a job's strip and sheet are cut, and what may be bought.

    Parameters
    ----------
    plan : Plan
        The job's plan. [-]

    Returns
    -------
    Settings
        As the job has them. [mm]

    Raises
    ------
    JobError
        If a length can't be read.

    References
    ----------
    None needed.
    """
    kerf, trim, useful, strip, long, wide = (
        plan.bench.length(getattr(plan.job.build, name), "build", name, zero=name in SETTINGS[:3]) for name in SETTINGS
    )
    return Settings(kerf, trim, useful, strip, (long, wide))


def settings_that_differ(builds: Iterable[Build]) -> tuple[str, ...]:
    """Return which settings are written otherwise in some of the jobs: one cut plan can keep to one of them only.

    Parameters
    ----------
    builds : iterable of Build
        The jobs' own. [-]

    Returns
    -------
    tuple of str
        Names of fields, of `SETTINGS`. [-]

    References
    ----------
    None needed.
    """
    listed = list(builds)
    return tuple(name for name in SETTINGS if len({getattr(build, name) for build in listed}) > 1)


def plan_from(job: Job, on_hand: OnHand | None) -> Plan:
    """Return the plan of a job that is cut from a drawer, whatever stock it lists itself.

    Parameters
    ----------
    job : Job
        The job. [-]
    on_hand : OnHand or None
        The drawer; None to cut all from new stock. [mm]

    Returns
    -------
    Plan
        Its strips are picked from that drawer. [-]

    Raises
    ------
    JobError
        If something in the job can't be read.

    References
    ----------
    None needed.
    """
    return Plan(job.model_copy(update={"drawer": []}), on_hand or Held())


def to_cut(plan: Plan, model: str) -> ToCut:
    """Return what a job asks for, for as many of its model as are built: the one way into a plan over several jobs.

    Parameters
    ----------
    plan : Plan
        Its plan. [-]
    model : str
        What it is called on each cut. [-]

    Returns
    -------
    ToCut
        Its parts, each named with the model. [mm]

    Raises
    ------
    ModelMathError
        If a part can't be sized or marked out.

    References
    ----------
    None needed.
    """

    def named(line: PartLine) -> CutPart:
        part = line.part
        its_set = f"{part.cut_set} ({model})" if part.cut_set else None
        return CutPart(f"{part.name} ({model})", part.cut.cut_mm, part.count * plan.models, line.stock, its_set)

    return ToCut(
        tuple(named(line) for line in plan.lines if line.sheet is None and line.picks),
        tuple(
            replace(
                each,
                name=f"{each.name} ({model})",
                equal_set=f"{each.equal_set} ({model})" if each.equal_set else None,
            )
            for each in blanks_of(plan.lines, plan.models)
        ),
        tuple(named(line) for line in plan.lines if line.sheet is None and not line.picks),
    )


def cut_together(plans: Mapping[str, Plan], on_hand: OnHand | None, settings: Settings) -> Together:
    """Plan the cuts of several models from one drawer and from new stock.

    A part that no strip or sheet holds is left out and said, and so is a model whose parts can't be sized: the others
    stand.

    Parameters
    ----------
    plans : mapping of str to Plan
        The models by what they are called on each cut; their plans as `plan_from` makes them. [-]
    on_hand : OnHand or None
        The drawer; None to cut all from new stock. [mm]
    settings : Settings
        How strip and sheet are cut, and what may be bought. [mm]

    Returns
    -------
    Together
        Strips and sheets with their cuts, and what to buy. [mm]

    Raises
    ------
    DoesNotFit
        If no place is found for all the parts together.

    References
    ----------
    `plan_cuts`, `lay_out_sheet`.
    """
    return at_once(cut_together_in_steps(plans, on_hand, settings))


def cut_together_in_steps(plans: Mapping[str, Plan], on_hand: OnHand | None, settings: Settings) -> InSteps[Together]:
    """Plan the cuts of several models as `cut_together` does: model by model, then one kind of stock after the other.

    Parameters
    ----------
    plans, on_hand, settings : as for `cut_together`
        The models, the drawer, and how strip and sheet are cut. [mm]

    Yields
    ------
    Progress
        Before each model, and each kind of strip and sheet. [-]

    Returns
    -------
    Together
        As `cut_together`. [mm]

    Raises
    ------
    DoesNotFit
        As `cut_together`.

    References
    ----------
    `cut_together`.
    """
    wanted, models, left_out = ToCut(), [], []
    for number, (model, plan) in enumerate(plans.items()):
        yield Progress(f"Sizing the parts of {model}", SIZED * number / len(plans))
        try:
            wanted += to_cut(plan, model)
        except ModelMathError as fault:
            left_out.append(f"{model} is left out: {fault}")
        else:
            models.append(model)
    strips, too_long = yield from part_of(_strips(wanted, on_hand, settings), SIZED, CUT)
    layout, too_large = yield from part_of(_sheets(wanted.blanks, on_hand, settings), CUT, 1.0)
    held = ", ".join(each.name for each in wanted.blanks if each.width_mm is None)
    reason = f"Not laid out, as they are held against the shell and trimmed: {held}." if held else ""
    cutting = Cutting(strips, layout, (*left_out, *too_long, *too_large))
    return Together(cutting, tuple(models), _one_rule([plans[model] for model in models]), reason)


def _one_rule(plans: Sequence[Plan]) -> Marks | None:
    """Return the rule that all are marked out with; None where the jobs describe it in different words."""
    jobs = [plan.job for plan in plans]
    described = [
        (job.scale, job.marking, [rule for rule in job.rules if rule.name == job.marking.rule], job.gauges)
        for job in jobs
    ]
    return plans[0].marks if plans and all(each == described[0] for each in described) else None


def _strips(wanted: ToCut, on_hand: OnHand | None, settings: Settings) -> InSteps[tuple[CutPlan, list[str]]]:
    """Return the cut plan of the parts that strip can give, and why it can't give the others."""
    held = [] if on_hand is None else stock_of(on_hand.strips)
    names = dict.fromkeys(part.stock_name for part in wanted.strips)
    stock = held + [CutStock(name, settings.new_strip_mm) for name in names]

    def plan_of(parts: Sequence[CutPart], others: bool = True) -> InSteps[CutPlan]:
        return plan_cuts_in_steps(
            parts,
            stock,
            settings.kerf_mm,
            settings.end_trim_mm,
            settings.least_offcut_mm,
            blanks=[each for each in wanted.blanks if others and each.width_mm is None],
            made_up=wanted.made_up if others else (),
        )

    try:
        return (yield from plan_of(wanted.strips)), []
    except DoesNotFit:
        said = {}
        for part in wanted.strips:
            yield Progress(f"Looking for a place for {part.name}")
            said[part] = _why_not(plan_of([replace(part, count=1)], others=False))
        if not any(said.values()):
            raise  # each has a place, but not all of them together
    fit = [part for part, why in said.items() if not why]
    return (yield from plan_of(fit)), [why for why in said.values() if why]


def _why_not(planning: InSteps[object]) -> str:
    try:
        at_once(planning)
    except DoesNotFit as reason:
        return str(reason)
    return ""


def _sheets(
    blanks: Sequence[Blank], on_hand: OnHand | None, settings: Settings
) -> InSteps[tuple[SheetPlan | None, tuple[str, ...]]]:
    """Return the layout of the parts that sheet can give, and why it can't give the others."""
    parts = [
        SheetPart(each.name, each.length_mm, each.width_mm, each.count, each.sheet.name)
        for each in blanks
        if each.width_mm is not None
    ]
    kinds = tuple(dict.fromkeys(each.sheet for each in blanks if each.width_mm is not None))
    stock = sheet_stock(kinds, on_hand, settings.new_sheet_mm)
    return (yield from lay_out_what_fits_in_steps(parts, stock, settings.least_offcut_mm))
