"""The wiring diagram: the decoder with its outputs, each lamp with its resistor, the speaker, motor and keep-alive."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from modelmath.drawings.shapes import Box, Circle, Drawing, Label, Lines, Pen, Shape, plain, wrap
from modelmath.drawings.svg import to_svg
from modelmath.drawings.wiring.symbols import WIRE, Kind, symbol

if TYPE_CHECKING:
    from modelmath.job import Plan
    from modelmath.job.light.lamps import LampLine

WIDTH = 480.0
TEXT, LINE = 14.0, 17.0  # text height and line distance: legible where the sheet is 350 px wide
EDGE, GAP = 6.0, 5.0
SCALE = 22.0  # of a symbol's own unit
ROW = 58.0  # distance of branches
DECODER = (70.0, 170.0)  # its left and right edge
TERMINALS = 178.0  # where the leads of the outputs begin
FRAME = Pen(2.2)
DOT = 5.0
SYMBOLS: dict[str, Kind] = {"LED": "LED", "bulb": "bulb", "ready made": "module"}
MOST_LEDS = 3  # drawn one by one; more are told by their number
NO_OUTPUT = "no output yet"


@dataclass
class _Sheet:
    """Shapes that grow downwards from the top."""

    y: float = 0.0
    shapes: list[Shape] = field(default_factory=list)

    def add(self, *shapes: Shape) -> None:
        self.shapes += shapes


def wiring_svg(plan: Plan, width_px: int = 640) -> str:
    """Draw the wiring as SVG text, for a page.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    width_px : int
        Width it has where there is room. [CSS px]

    Returns
    -------
    str
        One ``svg`` element, with title and description. [-]

    References
    ----------
    SVG 1.1 (second edition).
    """
    return to_svg(wiring_diagram(plan), width_px)


def wiring_diagram(plan: Plan, width: float = WIDTH) -> Drawing:
    """Draw the wiring of a plan.

    Parameters
    ----------
    plan : Plan
        The plan; what is not entered is not drawn. [-]
    width : float
        Width of the sheet. [drawing unit]

    Returns
    -------
    Drawing
        In black, with the usual symbols: each output with its lamps, the common that they come back by. [drawing unit]

    References
    ----------
    IEC 60617, as schemdraw draws it. That the common of the outputs is positive, and an output takes the current in:
    common practice, no source; the decoder's own sheet decides.
    """
    sheet = _Sheet()
    bus = width - EDGE - 10
    lamps = _by_output(plan)
    _common(sheet, plan, bus)
    low = [_branches(sheet, output, lines, bus) for output, lines in lamps]
    hung = [y for (_, lines), y in zip(lamps, low, strict=True) if lines]
    if hung:
        sheet.add(Lines("common", (((bus, 0.0), (bus, hung[-1])),), WIRE))
    _others(sheet, plan)
    bottom = sheet.y - 12
    left, right = DECODER
    name = plan.bench.decoder.name if plan.bench.decoder is not None else "decoder"
    sheet.add(Box("decoder", left, bottom, right - left, 18 - bottom, FRAME))
    words = wrap(plain(name), right - left - 12, TEXT)
    for number, line in enumerate(words[:3]):
        sheet.add(Label((left + right) / 2, 22 + LINE * (len(words[:3]) - 1 - number), line, TEXT, "middle", bold=True))
    _rails(sheet, bottom)
    top = 22 + LINE * len(words[:3]) + EDGE
    low_edge = bottom - EDGE
    return Drawing(width, top - low_edge, "Wiring diagram", _described(lamps), sheet.shapes, low=low_edge)


def _by_output(plan: Plan) -> list[tuple[str, list[LampLine]]]:
    """Return the lamps by the outputs that drive them, in the sheet's order; those on none last."""
    lines = [each for each in plan.light.lamps if each.circuit is not None]
    order = [*plan.job.light.feed.outputs, *(each.output for each in lines if each.output)]
    found = [(output, [each for each in lines if each.output == output]) for output in dict.fromkeys(order)]
    loose = [each for each in lines if not each.output]
    return [*found, *([(NO_OUTPUT, loose)] if loose else [])]


def _described(lamps: Sequence[tuple[str, Sequence[LampLine]]]) -> str:
    told = []
    for output, lines in lamps:
        hung = [f"{each.name} with {each.resistor or 'no resistor'}" for each in lines]
        told.append(f"{output}: {', '.join(hung) or 'nothing'}")
    return "The decoder's outputs and what hangs on them. " + "; ".join(told)


def _common(sheet: _Sheet, plan: Plan, bus: float) -> None:
    supply = plan.bench.lights.feed.supply
    words = "common, +" if supply is None else f"common, + {supply.value:g} V"
    sheet.add(Lines("common", (((DECODER[1], 0.0), (bus, 0.0)),), WIRE), _terminal(0.0))
    sheet.add(Label(TERMINALS + GAP, GAP, words, TEXT))


def _terminal(y: float, x: float = DECODER[1]) -> Circle:
    return Circle("terminal", x, y, DOT + 3, Pen(1.3))


def _branches(sheet: _Sheet, output: str, lines: Sequence[LampLine], bus: float) -> float:
    """Draw what hangs on one output; return the height of its last branch."""
    first = sheet.y = sheet.y - ROW
    sheet.add(_terminal(first))
    for line in _cut(plain(output), DECODER[1] - DECODER[0] - 12):
        sheet.add(Label(DECODER[1] - 8, first - 5, line, TEXT, "end"))
    if not lines:
        sheet.add(Label(TERMINALS + GAP, first - 5, "free", TEXT, grey=0.35))
        return first
    for number, each in enumerate(lines):
        if number:
            sheet.y -= ROW
        _branch(sheet, each, bus)
    last = sheet.y
    begin = TERMINALS + 6
    sheet.add(Lines("output", (((DECODER[1], first), (begin, first), (begin, last)),), WIRE))
    if len(lines) > 1:
        for number in range(len(lines) - 1):
            sheet.add(Circle("joint", begin, first - number * ROW, DOT, Pen(DOT)))
    return last


def _cut(text: str, width: float) -> list[str]:
    """Return a text in one line, cut short where there is no room."""
    lines = wrap(text, width, TEXT)
    return [lines[0] if len(lines) == 1 else f"{lines[0]} …"]


def _branch(sheet: _Sheet, line: LampLine, bus: float) -> None:
    """Draw one lamp's branch from its output to the common: resistor, then what shines."""
    y, x = sheet.y, TERMINALS + 6
    middle = x + (bus - x) * 0.42
    if line.chosen is not None:
        sheet.add(*symbol("resistor", x, y, middle - x, SCALE))
        sheet.add(Label((x + middle) / 2, y - SCALE * 0.25 - LINE, line.resistor, TEXT, "middle"))
    else:
        sheet.add(Lines("lead", (((x, y), (middle, y)),), WIRE))
    leds = line.circuit.entry.leds if line.circuit is not None and line.source == "LED" else 1
    drawn = min(leds, MOST_LEDS)
    each = (bus - middle) / drawn
    for number in range(drawn):
        sheet.add(*symbol(SYMBOLS[line.source], middle + number * each, y, each, SCALE, flipped=line.source == "LED"))
    name = plain(line.name) if leds <= MOST_LEDS else f"{plain(line.name)}, {leds} in series"
    (told,) = _cut(name, bus - middle - 4)
    sheet.add(Label((middle + bus) / 2, y - SCALE * 0.5 - LINE + 1, told, TEXT, "middle"))
    sheet.add(Circle("joint", bus, y, DOT, Pen(DOT)))


def _others(sheet: _Sheet, plan: Plan) -> None:
    """Draw speaker, motor and keep-alive, each on two terminals of the decoder's right side."""
    parts: list[tuple[Kind, str, str]] = []
    if plan.bench.speaker is not None:
        parts.append(("speaker", plan.bench.speaker.name, "sound"))
    parts.append(("motor", "motor", "motor"))
    if plan.bench.lights.keep_alive is not None:
        known = plan.bench.lights.keep_alive.capacitance
        size = "" if known is None else f" {known.value * 1e6:g} uF"
        parts.append(("capacitor", f"keep-alive{size}", "keep-alive"))
    for kind, name, terminal in parts:
        _two_wired(sheet, kind, plain(name), terminal)


def _two_wired(sheet: _Sheet, kind: Kind, name: str, terminal: str) -> None:
    top = sheet.y - ROW * 0.85
    bottom, x = top - 26, TERMINALS + 60
    sheet.y = bottom
    for y, sign in ((top, "+"), (bottom, "−")):
        sheet.add(_terminal(y), Label(DECODER[1] - 8, y - 5, f"{terminal} {sign}", TEXT, "end"))
    if kind == "speaker":
        unit = 26 / 0.5 / 2
        sheet.add(Lines("lead", (((DECODER[1], top), (x, top)), ((DECODER[1], bottom), (x, bottom))), WIRE))
        sheet.add(*symbol("speaker", x, (top + bottom) / 2 + unit / 4, unit, unit))
        sheet.add(Lines("lead", (((x, top), (x, (top + bottom) / 2 + unit / 4)),
                                 ((x, bottom), (x, (top + bottom) / 2 - unit / 4))), WIRE))  # fmt: skip
        sheet.add(Label(x + 34, (top + bottom) / 2 - 5, name, TEXT))
        return
    far = x + 66
    sheet.add(*symbol(kind, x, top, 66, SCALE))
    if kind == "motor":
        sheet.add(Label(x + 33, top - 5, "M", TEXT, "middle"))
    sheet.add(Lines("lead", (((DECODER[1], top), (x, top)), ((far, top), (far, bottom), (DECODER[1], bottom))), WIRE))
    sheet.add(Label(far + 10, (top + bottom) / 2 - 5, name, TEXT))


def _rails(sheet: _Sheet, bottom: float) -> None:
    """Draw the two leads from the pickups on the decoder's left side."""
    for y, side in ((0.0, "right"), (-ROW, "left")):
        if y > bottom + 8:
            left = DECODER[0]
            sheet.add(Lines("rail", (((EDGE, y), (left, y)),), WIRE), _terminal(y, left))
            sheet.add(Label(EDGE, y + GAP, f"{side} rail", TEXT))
