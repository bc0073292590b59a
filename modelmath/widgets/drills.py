"""The hole for a strand, a wire or a bundle; a drill by its name; a wire by its gauge."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import TypeVar

import ipywidgets as w

from modelmath.errors import ModelMathError
from modelmath.job.cautions import cautions_on
from modelmath.lengths.text import format_length
from modelmath.lengths.units import MM_PER_INCH
from modelmath.materials.drawer.store import load_drawer
from modelmath.materials.drills.holes import PASSING, PassingHole, closest_of, hole_for
from modelmath.materials.drills.names import drill, nearest_drills
from modelmath.materials.drills.sets import DRILL_SETS, Drill
from modelmath.materials.drills.typed import diameter_of, plain_number, wire_count, wire_sizes
from modelmath.materials.drills.wire import STRAIGHT_C, NearGauge, Wire, awg, nearest_awg, usual_outsides
from modelmath.widgets.common import look, places
from modelmath.widgets.common.fields import Field, Fold, page, row
from modelmath.widgets.common.minding import caution_lines

Read = TypeVar("Read")

SIZE_HINTS = {
    "strand": "its diameter with its unit: .030 in, 0.75 mm",
    "wire": "over its insulation, with its unit: 0.6 mm, .024 in",
    "bundle": "of one wire, 0.6 mm; of several sizes, 3 x 0.6 mm; 1.1 mm",
}
SET_LABELS = {
    "number": "number, #1 to #97",
    "letter": "letter, A to Z",
    "fraction": "fraction, 64ths to 1/2 in",
    "metric": "metric, 0.20 to 6.00 mm",
}
PRACTICE = "Clearance, pilots and distances: common practice, no source."
NO_CURRENT = (
    "Bare annealed copper (IEC 60028). How much current a wire may carry depends on its insulation and on where it "
    "lies; that is not told here."
)
NEAR_HEADS = ("Set", "Thinner", "As thick or thicker")
USUAL_HEADS = ("Wire", "AWG", "Outside, usually", "Source")


class DrillsPanel:
    """Holes, drills and wire.

    Parameters
    ----------
    folder : Path or None
        Where the drawer is kept; None for the workbook's folder. [-]
    """

    def __init__(self, folder: Path | None = None) -> None:
        self.file = (folder or places.workbook_folder()) / "drawer.json"
        self.fields = {
            "passing": Field("What passes the hole", "one strand, one wire, or a bundle of wires", options=PASSING),
            "size": Field("Its size", SIZE_HINTS["strand"], ".030 in"),
            "count": Field("How many wires", "for a bundle of one size, 1 to 20", "7"),
            "clearance": Field("Room round it", "hole less what passes, with its unit", "0.05 mm"),
            "left": Field("Plastic to leave", "to an edge and between holes, in diameters of the hole", "1"),
            "drill": Field("A drill by its name", '#67, letter F, 1/16" or 0.8 mm', "#67"),
            "gauge": Field("Wire gauge", "AWG 30, 2/0, or strands and gauge: 7/38", "30"),
            "degrees": Field("Temperature of the copper", "in °C, -50 to 150", "20"),
            "measured": Field("Or a measured bare wire", "without its insulation, with its unit", "0.25 mm"),
        }
        self.sets = {name: w.Checkbox(True, description=SET_LABELS[name], indent=False) for name in DRILL_SETS}
        self.sets_note, self.answer, self.named, self.wire, self.near = (w.HTML() for _ in range(5))
        self.hole: PassingHole | None = None
        self.view = self._lay_out()
        f = self.fields
        for name in ("passing", "size", "count", "clearance", "left"):
            f[name].on_change(self._show_hole)
        for box in self.sets.values():
            box.observe(lambda _change: self._show_hole(), names="value")
        f["drill"].on_change(self._show_drill)
        for name in ("gauge", "degrees"):
            f[name].on_change(self._show_wire)
        f["measured"].on_change(self._show_near)
        for show in (self._show_hole, self._show_drill, self._show_wire, self._show_near):
            show()

    def _lay_out(self) -> w.VBox:
        f = self.fields
        ticks = w.HBox(list(self.sets.values()))
        ticks.add_class("mm-row")
        usual = [(each.wire, each.gauge, _span(each.least_mm, each.most_mm), each.source) for each in usual_outsides()]
        outside = w.HTML(look.table("Measure your own before drilling", USUAL_HEADS, usual, "mm-short"))
        self.folds = {"outside": Fold("What insulated wire usually measures", outside)}
        return page(
            row(f["passing"], f["size"], f["count"], f["clearance"], f["left"]),
            w.HTML(look.hint("Drill sets at hand")),
            ticks,
            self.sets_note,
            self.answer,
            w.HTML(look.heading("What a drill measures")),
            row(f["drill"]),
            self.named,
            w.HTML(look.heading("Wire by gauge")),
            row(f["gauge"], f["degrees"]),
            self.wire,
            row(f["measured"]),
            self.near,
            w.HTML(look.paragraph(NO_CURRENT, "mm-soft")),
            *(fold.view for fold in self.folds.values()),
        )

    # The hole.

    def _show_hole(self) -> None:
        f = self.fields
        f["size"].hint = SIZE_HINTS[f["passing"].value]
        hole = self._read_hole()
        if hole is None:
            self.answer.value = look.stale(self.answer.value)
            return
        self.hole = hole
        self.answer.value = self._card(hole) + self._table(hole) + self._notes(hole)

    def _read_hole(self) -> PassingHole | None:
        """Return the hole for the entries, or say beside the field that is wrong what is wrong."""
        f, passing = self.fields, self.fields["passing"].value
        self.sets_note.value = ""
        sizes = _read(f["size"], wire_sizes if passing == "bundle" else _one_size, _sizes_said)
        room = _read(f["clearance"], lambda text: diameter_of(text, zero=True), _both)
        left = _read(f["left"], lambda text: plain_number(text, 0, 10, "1 for one diameter"), lambda _: "")
        count = self._read_count(sizes)
        sets = [name for name, box in self.sets.items() if box.value]
        if not sets:
            self.sets_note.value = look.problem("Tick the drill sets that you have, one or more.")
        if sizes is None or room is None or left is None or count is None or not sets:
            return None
        given = sizes[0] if len(sizes) == 1 else sizes
        try:
            return hole_for(passing, given, count, clearance_mm=room, sets=sets, plastic_left=left)
        except ModelMathError as reason:
            f["size"].show(wrong=str(reason))
            return None

    def _read_count(self, sizes: tuple[Fraction, ...] | None) -> int | None:
        """Return how many wires are meant; 1 where the count is not asked for."""
        field = self.fields["count"]
        if self.fields["passing"].value != "bundle":
            field.show("counts for a bundle only")
            return 1
        if sizes is not None and len(sizes) > 1:
            field.show(f"counted from the sizes: {len(sizes)} wires")
            return 1
        return _read(field, wire_count, lambda _: "")

    @staticmethod
    def _card(hole: PassingHole) -> str:
        best = hole.best
        more = " at most, laid as well as was found" if hole.bundle else ""
        edge, apart = _both(hole.from_edge_mm), _both(hole.apart_mm)
        return (
            '<div class="mm-card" role="status">'
            f'<dl><dt>Closest drill</dt><dd class="mm-big">{look.text(best.name)}</dd>'
            f"<dt>Passes</dt><dd>{look.text(_both(hole.passes_mm) + more)}</dd>"
            f"<dt>Middle of the hole from an edge, at least</dt><dd>{look.text(edge)}</dd>"
            f"<dt>Middles of two such holes apart, at least</dt><dd>{look.text(apart)}</dd></dl></div>"
        )

    @staticmethod
    def _table(hole: PassingHole) -> str:
        rows = [
            (each.set, each.name, *_ways(each.diameter_mm), format_length(each.clearance_mm, "mm"))
            for each in hole.picks
        ]
        rows += [(name, "none large enough", "", "", "") for name in hole.beyond]
        heads = ("Set", "Drill", "mm", "Inch", "Left round it")
        return look.table("The closest drill of each set", heads, rows, "mm-advice")

    def _notes(self, hole: PassingHole) -> str:
        """Return pilots, advice and cautions as they follow the table."""
        notes = [self._drawer_note(hole)]
        if hole.pilots:
            steps = [_pilot_said(step.wanted_mm, step.drill) for step in hole.pilots]
            notes.append(f"Drill first: {'; then '.join(steps)}; then {hole.best.name}.")
        notes += [hole.advice, PRACTICE]
        thin = (pick.caution for pick in hole.picks if pick.caution)
        cautions = dict.fromkeys((*thin, cautions_on("small drills")[-1].text))
        return "".join(look.paragraph(each, "mm-soft") for each in notes if each) + caution_lines(*cautions)

    def _drawer_note(self, hole: PassingHole) -> str:
        """Return which drill of the drawer makes the hole; nothing of a demo drawer, which is invented."""
        try:
            drawer = load_drawer(self.file).drawer
        except ModelMathError as reason:
            return str(reason)
        if drawer.demo or not drawer.drills:
            return ""
        found = closest_of(drawer.drills, hole)
        return f"In your drawer the closest is {found.name}." if found else "No drill in your drawer is large enough."

    # Drills and wire by name.

    def _show_drill(self) -> None:
        found = _read(self.fields["drill"], drill, _drill_said)
        if found is None:
            self.named.value = look.stale(self.named.value)
            return
        others = nearest_drills(found.exact_mm, [name for name in DRILL_SETS if name != found.set])
        rows = [(near.set, _neighbour(near.below, found), _neighbour(near.above, found)) for near in others]
        table = look.table(f"Nearest to {found.name} in the other sets", NEAR_HEADS, rows, "mm-advice")
        self.named.value = table + (caution_lines(found.caution) if found.caution else "")

    def _show_wire(self) -> None:
        f = self.fields
        wire = _read(f["gauge"], awg, lambda wire: wire.name)
        degrees = _read(f["degrees"], lambda text: plain_number(text, *STRAIGHT_C, "20"), lambda _: "")
        if wire is None or degrees is None:
            self.wire.value = look.stale(self.wire.value)
            return
        rows = [(wire.name, *_copper(wire), f"{wire.ohm_per_m(degrees):.4g} ohm/m")]
        heads = ("Wire", "mm", "Inch", "Copper", f"At {degrees:g} °C")
        self.wire.value = look.table("The bare wire, its width in mm and inches", heads, rows, "mm-short")

    def _show_near(self) -> None:
        near = _read(self.fields["measured"], lambda text: nearest_awg(diameter_of(text)), _near_said)
        if near is None:
            self.near.value = look.stale(self.near.value)
            return
        wires = [each for each in (near.thicker, near.wire, near.thinner) if each is not None]
        rows = [(each.name, *_copper(each), f"{near.measured_mm - each.diameter_mm:+.4f} mm") for each in wires]
        heads = ("Wire", "mm", "Inch", "Copper", "Measured less this")
        self.near.value = look.table(
            "Gauges about the one measured, their width in mm and inches", heads, rows, "mm-short"
        )

    @property
    def summary(self) -> str:
        """The hole in plain language."""
        hole = self.hole
        if hole is None:
            return "Nothing is worked out yet."
        each = ", ".join(f"{pick.name} leaves {format_length(pick.clearance_mm, 'mm')}" for pick in hole.picks)
        return f"A {hole.passing} of {format_length(hole.passes_mm, 'mm')}: {hole.best.name}. Of each set: {each}."


def _read(field: Field, read: Callable[[str], Read], words: Callable[[Read], str]) -> Read | None:
    """Read one field and echo it, or say there what is wrong and return None."""
    try:
        value = read(field.value)
    except ModelMathError as reason:
        field.show(wrong=str(reason))
        return None
    field.show(words(value))
    return value


def _one_size(text: str) -> tuple[Fraction, ...]:
    return (diameter_of(text),)


def _ways(mm: Fraction | float) -> tuple[str, str]:
    return format_length(mm, "mm"), format_length(mm, "in")


def _both(mm: Fraction | float) -> str:
    return " = ".join(_ways(mm))


def _sizes_said(sizes: tuple[Fraction, ...]) -> str:
    return _both(sizes[0]) if len(sizes) == 1 else ", ".join(format_length(size, "mm") for size in sizes)


def _drill_said(found: Drill) -> str:
    return f"{found.name}, {found.set} set: {_both(found.exact_mm)}"


def _near_said(near: NearGauge) -> str:
    return f"nearest to {near.wire.name}, off by {near.difference_mm:+.4f} mm"


def _neighbour(each: Drill | None, found: Drill) -> str:
    if each is None:
        return "none"
    return f"{each.name}, {_both(each.exact_mm)} ({float(each.exact_mm - found.exact_mm):+.3f} mm)"


def _pilot_said(wanted_mm: float, found: Drill | None) -> str:
    about = format_length(wanted_mm, "mm")
    return f"{found.name}, about {about}" if found else f"about {about}, which the sets ticked do not have"


def _copper(wire: Wire) -> tuple[str, str, str]:
    return f"{wire.diameter_mm:.4f} mm", f"{wire.diameter_mm / float(MM_PER_INCH):.4f} in", f"{wire.area_mm2:.4g} mm2"


def _span(least_mm: float, most_mm: float) -> str:
    least, most = format_length(least_mm, "mm"), format_length(most_mm, "mm")
    return least if least == most else f"{least.removesuffix(' mm')} to {most}"
