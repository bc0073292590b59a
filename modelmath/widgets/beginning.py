"""A new model from a few answers: its name is enough, the rest is folded and has its usual answer."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import ipywidgets as w

from modelmath.errors import ModelMathError
from modelmath.widgets.common import look, places
from modelmath.widgets.common.fields import UNITS, Field, Fold, row, scale_names
from modelmath.widgets.plan.opening import note_opened

if TYPE_CHECKING:
    from modelmath.job.begin import Answers, Begun
    from modelmath.job.shelf import Shelf

OWN_RULE = "(not from the shelf)"
LEVEL, LOWER = "level", "lower over a part"
ROOFS = ("under the high roof", "under the lower roof")
COUNTS = ("1", "2", "3", "4")  # as many as can be begun with
USUAL = "Otherwise: one height under a level roof, a speaker, 0.5 mm kept clear. The rest is asked as you measure."
_INSIDE = ("speaker", "decoder", "headlight", "marker lamps", "interior lamp")
_SIZES = ("decoder_length", "decoder_width", "decoder_height")


class NewModel:
    """The questions, and the button that makes the job and saves it.

    Parameters
    ----------
    saved : callable
        Called with the new job's file. [-]
    """

    def __init__(self, saved: Callable[[Path], None]) -> None:
        self._saved = saved
        self._shelf: Shelf | None = None
        self._changing = False
        self.fields = self._fields()
        self.inside = {name: _box(name, ticked=name == "speaker") for name in _INSIDE}
        self.button = w.Button(description="Begin", tooltip="Makes the job and opens the walkthrough on it")
        self.said, self.shelf_said = w.HTML(), w.HTML()
        self._rule, self._sizes, boxes, press = row(), row(), row(), row()
        self._stretches = w.VBox()
        boxes.children, press.children = [*self.inside.values()], [self.button]
        self._goes_in = w.VBox([w.HTML(look.paragraph("What goes in")), boxes, self._sizes])
        self._goes_in.add_class("mm-step")
        f = self.fields
        content = [self.shelf_said, self._rule, row(f["keep"], f["count"], f["roof"]), self._stretches, self._goes_in]
        self.fold = Fold("A few more answers", w.VBox([w.HTML(look.paragraph(USUAL, "mm-soft")), *content]))
        self.view = w.VBox([row(f["name"], f["scale"], f["zero"]), self.fold.view, press, self.said])
        self._arrange()
        self._connect()

    @staticmethod
    def _fields() -> dict[str, Field]:
        stretches = {
            name: field
            for number in COUNTS
            for name, field in (
                (f"stretch {number}", Field(f"Stretch {number}", "what stands there, such as motor")),
                (
                    f"roof {number}",
                    Field(f"Roof over stretch {number}", "which of the two it stands under", options=ROOFS),
                ),
            )
        }
        return {
            "name": Field("Model's name", "such as Hood unit No. 5"),
            "scale": Field("Scale", "of the model, as on its box", options=scale_names()),
            "zero": Field("Rule's zero stands in by", "from its end; 0 for none"),
            "shelf_rule": Field("Rule", "from the shelf", options=[OWN_RULE]),
            "unit": Field("The rule's figures count", "what its printed 1, 2, 3 stand for", options=UNITS),
            "keep": Field("Clearance to keep", "between parts and chassis", value="0.5 mm"),
            "count": Field(
                "Heights of the chassis under the roof", "how many differ: motor, gear tower, frame", options=COUNTS
            ),
            "roof": Field("The roof's underside is", "inside, where the chamber goes", options=(LEVEL, LOWER)),
            **stretches,
            "decoder_length": Field("Decoder's length", "all three sizes, or none yet"),
            "decoder_width": Field("Decoder's width", "over its wrapping, such as 15 mm"),
            "decoder_height": Field("Decoder's height", "at its thickest, such as 4 mm"),
            "lamp_room": Field("Room for each lamp", "along the length", value="6 mm"),
        }

    def _connect(self) -> None:
        for field in self.fields.values():
            field.on_change(self._change)
        for box in self.inside.values():
            box.observe(lambda _change: self._change(), names="value")
        self.button.on_click(lambda _button: self.begin())
        self.fold.head.observe(lambda _change: self._look_on_shelf(), names="value")

    # What is asked, which depends on the answers.

    def _arrange(self) -> None:
        f, count = self.fields, int(self.fields["count"].value)
        own = f["shelf_rule"].value == OWN_RULE
        on_shelf = [f["shelf_rule"]] if len(f["shelf_rule"].control.options) > 1 else []
        self._put(self._rule, [*on_shelf, *([f["unit"]] if own else [])])
        lower = f["roof"].value == LOWER
        each = [(f[f"stretch {number}"], *([f[f"roof {number}"]] if lower else [])) for number in COUNTS[:count]]
        lines = each if lower else [tuple(field for fields in each for field in fields)]
        self._stretches.children = [row(*fields) for fields in lines] if count > 1 else []
        lamps = any(self.inside[name].value for name in _INSIDE[2:])
        sizes = [f[name] for name in _SIZES] if self.inside["decoder"].value else []
        self._put(self._sizes, [*sizes, *([f["lamp_room"]] if lamps else [])])

    @staticmethod
    def _put(box: w.HBox, fields: list[Field]) -> None:
        views = tuple(field.view for field in fields)
        if box.children != views:
            box.children = views

    def _change(self) -> None:
        if self._changing:
            return
        self._part_for_lower_roof()
        self._arrange()
        self.button.disabled, self.said.value = False, ""
        self._tell(self._read(), asked=False)

    def _part_for_lower_roof(self) -> None:
        """Put the last stretch under the lower roof as long as none is; a roof of two heights has two stretches."""
        f = self.fields
        if f["roof"].value != LOWER:
            return
        self._changing = True
        if f["count"].value == "1":
            f["count"].value = "2"
        count = int(f["count"].value)
        if all(f[f"roof {number}"].value == ROOFS[0] for number in COUNTS[:count]):
            f[f"roof {count}"].value = ROOFS[1]
        self._changing = False

    def _look_on_shelf(self) -> None:
        """Offer the rules of the shelf, once the questions are opened."""
        if self._shelf is not None or not self.fold.head.value:
            return
        from modelmath.job.begin import rules_on
        from modelmath.job.shelf import SHELF, Shelf, load_shelf

        self._shelf = Shelf()
        try:
            self._shelf = load_shelf(places.workbook_folder() / SHELF)
        except ModelMathError as reason:
            self.shelf_said.value = look.problem(f"No rule can be taken from the shelf: {reason}")
        self.fields["shelf_rule"].control.options = [OWN_RULE, *rules_on(self._shelf)]
        self._arrange()

    # Reading the answers, and the job.

    def _answers(self) -> Answers:
        from modelmath.job.begin import Answers, Stretch

        typed = {name: field.value for name, field in self.fields.items()}
        numbers = COUNTS[: int(typed["count"])]
        only = len(numbers) == 1
        lower = typed["roof"] == LOWER
        stretches = [
            Stretch("" if only else typed[f"stretch {number}"], lower and typed[f"roof {number}"] == ROOFS[1])
            for number in numbers
        ]
        rule = typed["shelf_rule"]
        return Answers(
            name=typed["name"],
            scale=typed["scale"],
            shelf_rule="" if rule == OWN_RULE else rule,
            unit=typed["unit"],
            zero=typed["zero"],
            keep=typed["keep"],
            stretches=tuple(stretches),
            speaker=self.inside["speaker"].value,
            with_decoder=self.inside["decoder"].value,
            decoder=(typed["decoder_length"], typed["decoder_width"], typed["decoder_height"]),
            lamps=tuple(name for name in _INSIDE[2:] if self.inside[name].value),
            lamp_room=typed["lamp_room"],
        )

    def _read(self) -> Begun:
        from modelmath.job.begin import begin

        return begin(self._answers(), self._shelf)

    def _tell(self, found: Begun, asked: bool) -> None:
        """Show beside each field what it was understood as, or what is wrong; of an empty name only once `asked`."""
        for name, field in self.fields.items():
            wrong = found.messages.get(name)
            if name == "name" and not asked and not field.value.strip():
                wrong = None
            # What has its usual answer needs no echo; what was typed has one.
            echo = found.echoes.get(name) if name in ("scale", "zero", *_SIZES) and field.value else None
            field.show(echo, wrong)

    def begin(self) -> None:
        """Make the job, save it under a name of its own, and go on with it."""
        from modelmath.job.begin import save_new

        self.said.value = ""
        found = self._read()
        self._tell(found, asked=True)
        if found.job is None:
            outside = {"name", "scale", "zero"}
            if set(found.messages) - outside:
                self.fold.head.value = True
            self.said.value = look.problem("One answer has to be mended first; its message stands beside it.")
            return
        try:
            file = save_new(found.job, places.workbook_folder() / "jobs", list(places.job_files()))
        except ModelMathError as reason:
            self.said.value = look.problem(str(reason))
            return
        self.button.disabled = True  # a second press would begin a second model
        note_opened(file.stem)
        self._saved(file)


def _box(name: str, ticked: bool) -> w.Checkbox:
    return w.Checkbox(ticked, description=look.label(f"{name[0].upper()}{name[1:]}"), indent=False)
