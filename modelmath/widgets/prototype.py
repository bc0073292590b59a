"""Prototype sizes to model sizes and back, between scales, and from drawings and photographs."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

import ipywidgets as w

from modelmath.drawings.charts.same_length import same_length
from modelmath.drawings.svg import to_svg
from modelmath.errors import ModelMathError
from modelmath.lengths.full_size.areas import area_text, parse_area, parse_volume, volume_text
from modelmath.lengths.full_size.coverage import nominal_of
from modelmath.lengths.full_size.drawing_lines import read_measured
from modelmath.lengths.full_size.drawing_words import with_limits
from modelmath.lengths.full_size.find_scale import OVER_MM, FoundScale, find_scale
from modelmath.lengths.full_size.resizing import (
    InScale,
    at_marks,
    full_size_text,
    in_scales,
    resize_factor,
    resize_lines,
    scales_listed,
)
from modelmath.lengths.parse import parse_length_exact, parse_prototype
from modelmath.lengths.prototype import PrototypeLength
from modelmath.lengths.scales import Scale, scale
from modelmath.lengths.text import format_length
from modelmath.widgets.common import look
from modelmath.widgets.common.fields import COMMON, Field, Fold, page, row, scale_names
from modelmath.widgets.drawing_sizes import DrawingSizes, kept_aside, paste_box

Size = TypeVar("Size")

# Invented sizes, to begin with.
SIZES = "walkway to roof; 3 1/2 scale ft\nstep; 4.2 mm\nsill; 6 x 10 scale in"
HOW_SIZES = (
    "One a line: a name if you like, a semicolon, and a length with its unit, or sides joined by x. "
    "Scale feet and inches are those of the first scale."
)


class PrototypePanel:
    """A prototype size in the scales wanted, and what else turns full size into model size."""

    def __init__(self) -> None:
        scales = scale_names()
        self.fields = {
            "size": Field("Size on the prototype", "40' 6\", 12.2 m or 486 in", "40' 6\""),
            "scale": Field("Scale of the model", "the one that the big answer is for", options=scales),
            "more": Field("More scales to compare", "parted by commas, such as TT, OO, 1:29"),
            "model": Field("Size on the model", "with its unit: 15.9 mm, .040 in, 5/8 scale ft", "15.9 mm"),
            "from": Field("From scale", "of the plan or model you take sizes from", options=scales),
            "to": Field("To scale", "of the model you build", options=scales, value="N"),
            "area": Field("Area on the prototype", "120 sq ft, 11.1 m2 or 12 ft x 8 ft", "12 ft x 8 ft"),
            "volume": Field("Volume on the prototype", "4000 cu ft, 8000 US gal or 40' x 9' x 10'", "4000 cu ft"),
            "part": Field("A length of the model", "141.8 mm, or 141.8 ± 0.3 mm", "141.8 ± 0.3 mm"),
            "full": Field("The same on the prototype", "40' 6\" or 12.34 m", "40' 6\""),
        }
        self.answer, self.figure, self.table, self.back = (w.HTML() for _ in range(4))
        self.resized, self.spaces, self.found = (w.HTML() for _ in range(3))
        self.sizes = paste_box("Sizes in the first scale", SIZES, self._show_resized)
        self.drawing = DrawingSizes(lambda: self.fields["scale"].value)
        self.length: PrototypeLength | None = None
        self.view = self._lay_out()
        for field in self.fields.values():
            field.on_change(self._refresh)
        self._refresh()

    def _lay_out(self) -> w.VBox:
        f = self.fields
        sizes = [w.HTML(look.paragraph(HOW_SIZES, "mm-soft")), self.sizes, self.resized]
        self.folds = {
            "resize": Fold("From one scale to another", w.VBox([row(f["from"], f["to"]), *sizes])),
            "drawing": Fold("Size from a drawing or photograph", self.drawing.view),
            "spaces": Fold("Areas and volumes", w.VBox([row(f["area"], f["volume"]), self.spaces])),
            "which": Fold("Which scale is this?", w.VBox([row(f["part"], f["full"]), self.found])),
        }
        return page(
            row(f["size"], f["scale"]),
            self.answer,
            w.HTML(look.heading("The same in other scales")),
            row(f["more"]),
            self.figure,
            self.table,
            w.HTML(look.heading("Back to the prototype")),
            row(f["model"]),
            self.back,
            w.HTML(look.heading("More, when you want it")),
            *(fold.view for fold in self.folds.values()),
        )

    def _refresh(self) -> None:
        self._show_size()
        self._show_back()
        self._show_resized()
        self._show_spaces()
        self._show_found()
        self.drawing.refresh()

    def _scales(self) -> list[Scale]:
        """Return the scales to compare; those that can't be read are said beside their field."""
        more = self.fields["more"]
        try:
            added = scales_listed(more.value)
        except ModelMathError as reason:
            more.show(wrong=str(reason))
            added = []
        else:
            more.show()
        return [scale(name) for name in dict.fromkeys((*COMMON, self.fields["scale"].value))] + added

    def _show_size(self) -> None:
        size = self.fields["size"]
        try:
            length = parse_prototype(size.value)
            rows = in_scales(length, self._scales())
        except ModelMathError as reason:
            size.show(wrong=str(reason))
            self.answer.value, self.table.value = look.stale(self.answer.value), look.stale(self.table.value)
            return
        self.length = length
        size.show(" = ".join(full_size_text(length)))
        chosen = self.fields["scale"].value
        self.answer.value = self._card(next(each for each in rows if each.scale.name == chosen))
        self.figure.value = f'<div class="mm-figure">{to_svg(same_length(length, rows, chosen), 640)}</div>'
        cells = [(each.scale, *self._ways(each), *self._at_rules(each)) for each in rows]
        heads = ("Scale", "mm", "Inch", "On an inch rule", "On a mm rule")
        self.table.value = look.table(f"{length} in other scales", heads, cells, "mm-short")

    @staticmethod
    def _ways(size: InScale) -> tuple[str, str]:
        return format_length(size.mm, "mm"), format_length(size.mm, "in")

    @staticmethod
    def _at_rules(size: InScale) -> list[str]:
        return [f"{mark}, {off}" for mark, off in at_marks(size.mm, size.scale)[1:]]

    def _card(self, size: InScale) -> str:
        marks = look.bullets(f"{mark}: {off}" for mark, off in at_marks(size.mm, size.scale))
        return (
            f'<div class="mm-card" role="status"><dl><dt>On the {look.text(size.scale)} model</dt>'
            f'<dd class="mm-big">{look.sizes(self._ways(size))}</dd>'
            f"<dt>At the nearest mark of a rule</dt><dd>{marks}</dd></dl></div>"
        )

    def _show_back(self) -> None:
        model, chosen = self.fields["model"], self.fields["scale"].value
        try:
            mm = parse_length_exact(model.value, scale=chosen)
        except ModelMathError as reason:
            model.show(wrong=str(reason))
            self.back.value = look.stale(self.back.value)
            return
        model.show(" = ".join((format_length(mm, "mm"), format_length(mm, "in"))))
        rows = [(each, *full_size_text(each.prototype(mm))) for each in self._scales()]
        caption = f"What measures {format_length(mm, 'mm')} on the model"
        self.back.value = look.table(caption, ("If the scale is", "Full size", "Metres"), rows, "mm-short")

    def _show_resized(self) -> None:
        f = self.fields
        try:
            good, bad = resize_lines(self.sizes.value, f["from"].value, f["to"].value)
            factor = resize_factor(f["from"].value, f["to"].value)
        except ModelMathError as reason:
            self.resized.value = look.problem(str(reason))
            return
        times = f"All times {float(factor):.6g} ({factor})"
        heads = ("Size", "As written", f"In {f['from'].value}", f"In {f['to'].value}", "Inch")
        rows = [
            (each.name, each.given, *(_sides(sides, "mm") for sides in (each.before_mm, each.after_mm)), inches)
            for each in good
            for inches in [_sides(each.after_mm, "in")]
        ]
        self.resized.value = kept_aside(bad) + (look.table(times, heads, rows, "mm-short") if rows else "")

    def _show_spaces(self) -> None:
        area, volume = self.fields["area"], self.fields["volume"]
        space, room = _read(area, parse_area, str), _read(volume, parse_volume, str)
        if space is None or room is None:
            self.spaces.value = look.stale(self.spaces.value)
            return
        rows = [
            (each, *area_text(each.model_mm2(space)), *volume_text(each.model_mm3(room))) for each in self._scales()
        ]
        heads = ("Scale", "Area", "Inch", "Volume", "Inch")
        self.spaces.value = look.table(f"{space} and {room} on the model", heads, rows, "mm-short")

    def _show_found(self) -> None:
        part, full = self.fields["part"], self.fields["full"]
        chosen = self.fields["scale"].value
        mm = _read(part, lambda text: read_measured(text, scale=chosen), lambda mm: format_length(nominal_of(mm), "in"))
        length = _read(full, parse_prototype, lambda length: " = ".join(full_size_text(length)))
        if mm is None or length is None:
            self.found.value = look.stale(self.found.value)
            return
        try:
            self.found.value = self._found(find_scale(mm, length))
        except ModelMathError as reason:
            full.show(wrong=str(reason))
            self.found.value = look.stale(self.found.value)

    @staticmethod
    def _found(found: FoundScale) -> str:
        card = (
            f'<div class="mm-card" role="status"><dl><dt>Ratio</dt>'
            f'<dd class="mm-big">1:{look.text(with_limits(found.ratio))}</dd></dl></div>'
        )
        rows = [(*each.in_words(), "yes" if each.agrees else "no") for each in found.near]
        heads = ("Scale", "Ratio", "Off by", f"Over {OVER_MM} mm", "Within ±")
        return card + look.table("Nearest scales", heads, rows, "mm-short")

    @property
    def summary(self) -> str:
        """The sizes in plain language."""
        if self.length is None:
            return "No size yet."
        sizes = (f"{each.scale} {format_length(each.mm, 'mm')}" for each in in_scales(self.length, self._scales()))
        return f"{self.length} on the prototype: {', '.join(sizes)}.\n{self.drawing.summary}"


def _read(field: Field, read: Callable[[str], Size], words: Callable[[Size], str]) -> Size | None:
    """Read one field and echo it, or say there what is wrong and return None."""
    try:
        size = read(field.value)
        field.show(words(size))
    except ModelMathError as reason:
        field.show(wrong=str(reason))
        return None
    return size


def _sides(sides: tuple[object, ...], unit: str) -> str:
    return " x ".join(format_length(side, unit) for side in sides)
