"""What moves inside the shell: a truck's swing, drive line and flywheel, the body on a curve, a hinged shell."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction

import ipywidgets as w

from modelmath.drawings.figures.lift import lift_off_svg
from modelmath.drawings.figures.plan_view import plan_view_svg
from modelmath.enclosure.mechanism import (
    DriveLine,
    Flywheel,
    Truck,
    end_throw,
    hinged_bulkhead,
    keep_words,
    lineside_reach,
    mid_throw,
    truck_of_size,
    truck_words,
    yaw,
)
from modelmath.enclosure.mechanism.asked import check_curve, too_wide_at_rest
from modelmath.errors import ModelMathError
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.text import format_length, three_ways
from modelmath.widgets.common import look
from modelmath.widgets.common.fields import Field, Fold, page, row, scale_names
from modelmath.widgets.common.pictures import WhereToMeasure

Sizes = Mapping[str, Fraction]
CURVE = "the tightest there is, turnouts too; to the middle of the track"
SEAT = "above the seat, on which the shell rests"
OVERHANG = (
    "How far the body reaches beside the track: for platforms, tunnels and the next track. It takes no room inside the "
    "shell. What stands there keeps more than this, for play and for the track as it lies."
)
# What the messages call a size whose field is labelled otherwise.
CALLED = {
    "truck: width": "width",
    "length of the truck": "length",
    "depth of the truck": "depth",
    "rise of the end": "rise",
    "flywheel: diameter": "wheel",
    "flywheel: width": "wheel_width",
    "flywheel: runout": "runout",
    "drive line: diameter": "shaft",
    "drive line: whip": "whip",
    "wheelbase of the truck": "wheelbase",
    "distance to the bulkhead": "face",
    "distance to the step": "step_end",
    "the bulkhead": "roof",
}
HINGED = "Distances count from the hinge along the length, heights from the seat."


class Asked:
    """Some fields for lengths, each with its echo or its message, and the answer that they give together.

    Parameters
    ----------
    fields : mapping of str to Field
        By the name under which the answer finds its length. [-]
    answer : callable
        Makes the answer, HTML, from the lengths by name; an optional one left empty is not among them. [mm]
    scale : Field
        The scale of scale feet and inches. [-]
    optional : tuple of str
        Those that may be left empty. [-]
    """

    def __init__(
        self, fields: Mapping[str, Field], answer: Callable[[Sizes], str], scale: Field, optional: tuple[str, ...] = ()
    ) -> None:
        self.fields, self.answer, self.scale, self.optional = dict(fields), answer, scale, optional
        self.result, self.fault = w.HTML(), w.HTML()

    def refresh(self) -> None:
        """Read the fields and show the answer; what can't be read is said there, and the last answer stays."""
        self.fault.value = ""
        for name, field in self.fields.items():
            try:
                size = self._size(name)
            except ModelMathError as reason:
                field.show(wrong=str(reason))
            else:
                field.show(None if size is None else " = ".join(format_length(size, unit) for unit in ("mm", "in")))
        sizes = self.sizes()
        try:
            self.result.value = look.stale(self.result.value) if sizes is None else self.answer(sizes)
        except ModelMathError as reason:
            self._say(reason)
            self.result.value = look.stale(self.result.value)

    def _say(self, reason: ModelMathError) -> None:
        """Say what is wrong beside the field it names, or beside the answer where it names none."""
        name = getattr(reason, "name", "").casefold()
        at = self.fields.get(CALLED.get(name, "")) or next(
            (field for field in self.fields.values() if name.endswith(field.label.casefold())), None
        )
        if at is None:
            self.fault.value = look.problem(str(reason))
        else:
            at.show(wrong=str(reason))

    def sizes(self) -> Sizes | None:
        """Return the lengths typed, by name; None where one can't be read. [mm]"""
        try:
            read = {name: self._size(name) for name in self.fields}
        except ModelMathError:
            return None
        return {name: size for name, size in read.items() if size is not None}

    def _size(self, name: str) -> Fraction | None:
        text = self.fields[name].value
        if name in self.optional and not text.strip():
            return None
        return parse_length_exact(text, scale=self.scale.value)


class MovingPanel:
    """The room that a truck takes as it swings, and what else moves; the sizes to begin with are invented."""

    def __init__(self) -> None:
        self.scale = Field("Scale", "for sizes typed in scale feet or inches", options=scale_names())
        first = {
            "radius": Field("Radius of the curve", CURVE, "18 in"),
            "pivots": Field("Distance between the pivots", "of the two trucks, on the model", "90 mm"),
            "length": Field("Length of what turns", "the truck's box, with all that stands on it", "30 mm"),
            "width": Field("Width of what turns", "over its widest place inside the shell", "18 mm"),
            "top": Field("Height of its top", SEAT, "7 mm"),
            "running": Field("Running clearance", "the gap kept round whatever moves", "0.5 mm"),
            "inside": Field("Inside width of the shell", "over the truck; may be left empty", "26 mm"),
        }
        more = {
            "offset": Field("Its pivot lies behind its middle by", "0 mm for in the middle; -2 mm for ahead", "0 mm"),
            "depth": Field("From its top down to its bottom", "it leans the more, the taller it is", "13 mm"),
            "play": Field("Side play", "how far it slides to either side from its middle", "0.5 mm"),
            "rise": Field("Its end lifts by", "as far as it rocks, measured at the farther end", "0.4 mm"),
        }
        self.truck = Asked({**first, **more}, self._truck, self.scale, ("inside",))
        self.shafts = Asked(_shaft_fields(), self._shafts, self.scale)
        self.body = Asked(_body_fields(), _overhang, self.scale, ("wheelbase",))
        self.hinged = Asked(_hinge_fields(), _hinged, self.scale)
        self.asked = (self.truck, self.shafts, self.body, self.hinged)
        for each in (self.scale, *(field for asked in self.asked for field in asked.fields.values())):
            each.on_change(self._refresh)
        self.folds = (
            Fold("Pivot, play and rock", row(*more.values())),
            _fold("Drive line and flywheel", "", self.shafts),
            _fold("Body overhang beside the track", OVERHANG, self.body),
            _fold("Shell that comes off hinged at one end", HINGED, self.hinged),
        )
        self.view = page(
            WhereToMeasure("what moves", mind=("electricity",)).view,
            row(self.scale, *first.values()),
            self.folds[0].view,
            self.truck.fault,
            self.truck.result,
            *(fold.view for fold in self.folds[1:]),
        )
        self._refresh()

    @property
    def fields(self) -> dict[str, Field]:
        """The fields of the truck. [-]"""
        return self.truck.fields

    def _refresh(self) -> None:
        for asked in self.asked:
            asked.refresh()

    def _truck(self, sizes: Sizes) -> str:
        truck, inside = _truck_of(sizes), sizes.get("inside")
        turns, *rest = truck_words(truck, inside)
        room = truck.envelope()
        top = look.sizes(three_ways(room.top_mm, self.scale.value))
        wide = "" if inside is None else too_wide_at_rest(truck, inside)
        said = "".join(
            f"<p>{look.problem(each)}</p>" if each == wide else look.paragraph(each) for each in (turns, *rest)
        )
        figure = plan_view_svg(truck, None if inside is None else float(inside))
        return (
            '<div class="mm-card" role="status"><dl><dt>Lowest a bulkhead may reach over the truck, above the seat</dt>'
            f'<dd class="mm-big">{top}</dd></dl>{said}</div><div class="mm-figure">{figure}</div>'
        )

    def _shafts(self, sizes: Sizes) -> str:
        below = self.truck.sizes()
        if below is None:
            return look.paragraph("The truck's sizes above can't be read yet; a drive line swings with it.")
        try:
            truck, running = _truck_of(below), below["running"]
        except ModelMathError:
            return look.paragraph("One of the truck's sizes above can't be right; a drive line swings with it.")
        wheel = Flywheel(
            0,
            sizes["wheel_height"],
            sizes["wheel"],
            sizes["wheel_width"],
            sizes["runout"],
            running_mm=running,
        )
        line = DriveLine(
            sizes["motor"],
            sizes["motor_height"],
            sizes["joint"],
            sizes["joint_height"],
            sizes["shaft"],
            truck,
            sizes["whip"],
            running,
        )
        words = (
            f"Flywheel. {keep_words(wheel.envelope(), 0.0, 'its middle')}",
            f"Drive line. {keep_words(line.envelope(), 0.0, 'the pivot')}",
            "The running clearance is that of the truck.",
        )
        return "".join(look.paragraph(each) for each in words)

    @property
    def summary(self) -> str:
        """The truck's swing in plain language."""
        sizes = self.truck.sizes()
        if sizes is None:
            return "A size can't be read yet."
        try:
            return "\n".join(truck_words(_truck_of(sizes), sizes.get("inside")))
        except ModelMathError as reason:
            return str(reason)


def _fold(title: str, hint: str, asked: Asked) -> Fold:
    about = [w.HTML(look.paragraph(hint, "mm-soft"))] if hint else []
    return Fold(title, w.VBox([*about, row(*asked.fields.values()), asked.fault, asked.result]))


def _truck_of(sizes: Sizes) -> Truck:
    check_curve(sizes["pivots"], sizes["radius"])
    return truck_of_size(
        sizes["length"],
        sizes["width"],
        sizes["top"],
        sizes["depth"],
        yaw(sizes["pivots"], sizes["radius"]),
        pivot_offset_mm=sizes["offset"],
        side_play_mm=sizes["play"],
        end_rise_mm=sizes["rise"],
        running_mm=sizes["running"],
    )


def _shaft_fields() -> dict[str, Field]:
    return {
        "wheel_height": Field("Middle of the flywheel's shaft", SEAT, "8 mm"),
        "wheel": Field("Diameter of the flywheel", "over its rim, by caliper", "12 mm"),
        "wheel_width": Field("Width of the flywheel", "along the shaft", "6 mm"),
        "runout": Field("Its rim wobbles by", "to either side of its mean; 0 mm for true", "0.1 mm"),
        "motor": Field("Motor end of the drive line", "its distance behind the truck's pivot", "25 mm"),
        "motor_height": Field("Its height there", "middle of the shaft, above the seat", "8 mm"),
        "joint": Field("Joint at the truck", "its distance behind the pivot; -4 mm for ahead", "4 mm"),
        "joint_height": Field("Height of that joint", "middle of the shaft, above the seat", "10 mm"),
        "shaft": Field("Thickness of the drive line", "over its thickest joint", "3 mm"),
        "whip": Field("The shaft whips by", "out of its line, as it turns", "0.2 mm"),
    }


def _body_fields() -> dict[str, Field]:
    return {
        "radius": Field("Radius of the curve", "to the middle of the track", "18 in"),
        "pivots": Field("Distance between the pivots", "which stand as far from either end", "90 mm"),
        "body": Field("Length of the body", "steps and couplers' pockets too", "140 mm"),
        "width": Field("Width of the body", "over its widest place", "32 mm"),
        "wheelbase": Field("Wheelbase of a truck", "between its outer axles; may be left empty", ""),
    }


def _hinge_fields() -> dict[str, Field]:
    return {
        "face": Field("Bulkhead's nearer face", "its distance from the hinge", "75 mm"),
        "thickness": Field("Thickness of the bulkhead", "along the shell, as it is built", "1 mm"),
        "edge": Field("The bulkhead's lower edge", SEAT, "8 mm"),
        "roof": Field("Underside of the roof", SEAT, "22 mm"),
        "step_end": Field("Where the step on the hinge's side ends", "its distance from the hinge", "74.5 mm"),
        "step_top": Field("Height of that step", SEAT, "12 mm"),
        "beyond_top": Field("Chassis top beyond it", SEAT, "6 mm"),
        "hinge_height": Field("Height of the hinge", f"{SEAT}; -3 mm for below it", "0 mm"),
    }


def _overhang(sizes: Sizes) -> str:
    wheelbase = sizes.get("wheelbase", Fraction(0))
    pivots, radius, length = (float(sizes[name]) for name in ("pivots", "radius", "body"))
    check_curve(sizes["pivots"], sizes["radius"], wheelbase)
    middle = mid_throw(pivots, radius, float(wheelbase))
    end = end_throw(pivots, radius, length, float(wheelbase))
    inside, outside = lineside_reach(pivots, radius, length, float(sizes["width"]), float(wheelbase))
    rows = [
        ("Inside of the curve, at its middle", format_length(middle, "mm"), format_length(inside, "mm")),
        ("Outside of the curve, at its ends", format_length(end, "mm"), format_length(outside, "mm")),
    ]
    heads = ("Where", "Centre line of the body, off that of the track", "Its side or corner, off the same")
    return look.table("The body on the curve", heads, rows)


def _hinged(sizes: Sizes) -> str:
    found, parts, chassis = hinged_bulkhead(**{f"{name}_mm": size for name, size in sizes.items()})
    return f'{look.paragraph(found.verdict)}<div class="mm-figure">{lift_off_svg(found, parts, chassis)}</div>'
