"""How the heights were read: the rule on the chassis, and in the shell that lies on its roof, in true proportion."""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from modelmath.drawings.figures.looks import HATCH
from modelmath.drawings.figures.scene import scene_of
from modelmath.drawings.figures.side import Scene
from modelmath.drawings.figures.solid.names import Name, spread
from modelmath.drawings.figures.standing_rules import RuleStands, in_words, notes_of, rules_of
from modelmath.drawings.figures.views.dimensions import apart
from modelmath.drawings.shapes import Box, Drawing, Label, Lines, Pen, Point, bottom_of, hatch, text_width, top_of, wrap
from modelmath.drawings.svg import to_svg

if TYPE_CHECKING:
    from modelmath.job import Plan

WIDTH = 480.0  # width of the sheet in drawing units; a unit is a CSS px at this width
TEXT, LINE = 14.0, 18.0  # text height and line distance; still 10 px where the sheet is 350 px wide
BOLD = 1.1 * TEXT  # a bold text is about as wide as a plain one of this height
BETWEEN = 16.0  # between panels side by side
HIGHEST = 190.0  # of the model in one panel
LEAST = 55.0  # height of the model at which two panels still stand side by side
NARROW = 440  # CSS px; on a narrower figure the panels stand one above the other
FIRST = "The chassis stands upright, the shell lies on its roof; the front end of both is on the left."
RULE = 15.0  # width of a rule
APART = 24.0  # least distance of two rules
OVER = 9.0  # how far a rule is drawn beyond its mark
CLOSE = 2.6  # marks nearer than this are thinned out
SHELL, TOP, DATUM = Pen(3.2), Pen(1.6), Pen(2.0)
FACE, MARK, EDGE = Pen(1.2, 0.1, (9, 3)), Pen(2.4), Pen(1.1)
TICK, LEAD, THIN = Pen(0.6, 0.2), Pen(0.6, 0.3, (2, 2)), Pen(0.8, 0.1)


def readings_taken_svg(plan: Plan, width_px: int = 640) -> str:
    """Draw how the heights were read as SVG text, for a page or a widget.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    width_px : int
        Width it has where there is room; it shrinks with the page. [CSS px]

    Returns
    -------
    str
        One ``svg`` element in black and greys, with title and description. [-]

    References
    ----------
    SVG 1.1 (second edition).
    """
    return to_svg(readings_taken(plan, width_px >= NARROW), width_px)


def readings_taken(plan: Plan, beside: bool = True) -> Drawing:
    """Draw how the heights were read, free of any file format.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    beside : bool
        Whether the two panels may stand side by side, where the model is then still high enough. [-]

    Returns
    -------
    Drawing
        Chassis upright and shell on its roof, the front of both to the left. [drawing unit]

    References
    ----------
    The plan's own readings; along and up have one scale.
    """
    scene, rules = scene_of(plan), rules_of(plan)
    drawing = Drawing(WIDTH, 0.0, f"How the heights of {plan.job.name} were read")
    half = (WIDTH - BETWEEN) / 2
    high = scene.highest - min([scene.lowest, *(-rule.face_mm for rule in rules)])
    along = scene.right - scene.left
    bare = _margin(rules) + OVER
    side_by_side = beside and (half - bare) / along * (scene.highest - scene.lowest) >= LEAST
    width = half if side_by_side else WIDTH
    unit = min((width - bare) / along, HIGHEST / high)  # one scale for both
    chassis = _Chassis(scene, [rule for rule in rules if not rule.roof], 0.0, width, unit)
    shell = _Shell(scene, [rule for rule in rules if rule.roof], width + BETWEEN if side_by_side else 0.0, width, unit)
    down = chassis.top - shell.top if side_by_side else chassis.bottom - 22 - shell.top
    drawing.add(*chassis.shapes, *(_moved(shape, down) for shape in shell.shapes))
    level = min(bottom_of(shape) for shape in drawing.shapes) - 10
    texts = [FIRST, *(in_words(rule) for rule in rules), *notes_of(plan, rules), *_place_notes(scene)]
    for text in texts:
        for line in wrap(text, WIDTH, TEXT):
            level -= LINE
            drawing.add(Label(0.0, level, line, TEXT))
    drawing.low = level - 6
    drawing.height = max(top_of(shape) for shape in drawing.shapes) + 4 - drawing.low
    drawing.description = " ".join(texts)
    return drawing


def _place_notes(scene: Scene) -> list[str]:
    return [] if scene.to_length else ["No length was read, so the length drawn is nominal."]


def _margin(rules: list[RuleStands]) -> float:
    """Return the room that the names of faces take on the left, and a rule that stands before the chassis."""
    names = ["seat", "edge", *(rule.face for rule in rules)]
    before = RULE + 6 if any(rule.link for rule in rules) else 0.0
    return max(text_width(name, BOLD) for name in names) + 12 + before


def _moved(shape: Box | Label | Lines, by: float) -> Box | Label | Lines:
    if isinstance(shape, Lines):
        return replace(shape, runs=tuple(tuple((x, y + by) for x, y in run) for run in shape.runs))
    return replace(shape, y=shape.y + by)


class _Panel(ABC):
    """One half with its rules: draws with the datum's height at 0."""

    heading = ""
    way = 1.0  # 1 where it stands upright, -1 where it lies on its roof

    def __init__(self, scene: Scene, rules: list[RuleStands], left: float, width: float, unit: float) -> None:
        self.scene, self.rules, self.left, self.width = scene, rules, left, width
        self.shapes: list[Box | Label | Lines] = []
        self.unit = unit
        margin = _margin(rules)
        self.before = RULE + 6 if any(rule.link for rule in rules) else 0.0
        self.x0 = left + margin + (width - OVER - margin - unit * (scene.right - scene.left)) / 2
        self._body()
        self._faces()
        self._rules()
        self.top = max(top_of(shape) for shape in self.shapes) + 14 + TEXT
        self.shapes.append(Label(left, self.top - TEXT, self.heading, TEXT, bold=True))
        self.bottom = min(bottom_of(shape) for shape in self.shapes)

    def x(self, mm: float) -> float:
        return self.x0 + (mm - self.scene.left) * self.unit

    def y(self, mm: float) -> float:
        return self.way * mm * self.unit

    @abstractmethod
    def _body(self) -> None:
        """Draw the half of the model."""

    @abstractmethod
    def _datum_word(self) -> str:
        """Return what its datum is called."""

    def _faces(self) -> None:
        """Draw the datum and every other face that heights were taken from, each with its name."""
        faces = {rule.face: rule.face_mm for rule in self.rules if rule.face != "seat"}
        left, right = self.x(self.scene.left) - 6 - self.before, self.x(self.scene.right) + 6
        lines = [(self._datum_word(), 0.0, DATUM)] if self.scene.seat_known else []
        lines += [(face, -below, FACE) for face, below in faces.items()]
        lines.sort(key=lambda each: -self.y(each[1]))
        levels = apart([self.y(height) for _, height, _ in lines], TEXT + 2)
        for (word, height, pen), level in zip(lines, levels, strict=True):
            y = self.y(height)
            name = "datum" if pen is DATUM else "face"
            self.shapes.append(Lines(name, (((left, y), (right, y)),), pen))
            self.shapes.append(Label(left - 4, level - TEXT / 3, word, TEXT, "end", bold=name == "datum"))

    def _rules(self) -> None:
        """Draw each rule where it stands, its mark, and its letter with the mark in a row above."""
        wanted = sorted(((self._wanted(rule), n) for n, rule in enumerate(self.rules)), reverse=True)
        places = self._within(apart([x for x, _ in wanted], APART))
        ends: dict[int, Point] = {}
        for x, (_, n) in zip(places, wanted, strict=True):
            ends[n] = self._rule(self.rules[n], x)
        level = max([top_of(shape) for shape in self.shapes], default=0.0) + 14
        names = [Name(rule.letter, f"{rule.letter}: {rule.mark}", ends[n]) for n, rule in enumerate(self.rules)]
        if sum(1.1 * name.width + 10 for name in names) > self.width:
            names = [Name(rule.letter, rule.letter, ends[n]) for n, rule in enumerate(self.rules)]
        shifted = [Name(each.words, each.shown, (each.at[0] - self.left, each.at[1])) for each in names]
        for name in spread(sorted(shifted, key=lambda each: each.at), self.width - 8):
            x, y = name.at[0] + self.left, name.at[1]
            foot = self.left + min(max(name.at[0], name.x + 4), max(name.x + name.width - 4, name.x + 4))
            self.shapes.append(Lines("leader", (((x, y), (foot, level - 4)),), THIN))
            self.shapes.append(Label(self.left + name.x, level, name.shown, TEXT, bold=True))

    def _wanted(self, rule: RuleStands) -> float:
        """Return where a rule is to stand: over what it read; before the chassis, where it read the seat itself."""
        return self.x(self.scene.left) - 3 - RULE / 2 if rule.link else self.x(rule.at_mm)

    def _within(self, places: list[float]) -> list[float]:
        """Move places, from the right to the left, back onto the panel."""
        if not places:
            return places
        low, high = self.left + RULE / 2, self.left + self.width - RULE / 2
        shift = min(high - places[0], 0.0) or max(low - places[-1], 0.0)
        return [place + shift for place in places]

    def _rule(self, rule: RuleStands, x: float) -> Point:
        """Draw one rule; return the middle of its upper end."""
        foot, head = self._stands(rule)
        up = 1.0 if head > foot else -1.0
        end, far = foot - up * rule.below_mm * self.unit, head + up * OVER
        low, high = min(end, far), max(end, far)
        self.shapes.append(Box("rule", x - RULE / 2, low, RULE, high - low, EDGE, 1.0))
        ticks: list[tuple[Point, ...]] = []
        step = rule.graduation_mm * self.unit
        step *= next(times for times in (1, 2, 4, 8, 16, 32, 64, 128, 256) if step * times >= CLOSE)
        zero = end + up * rule.zero_mm * self.unit
        at = zero
        while (far - at) * up > 0.5:
            ticks.append(((x - RULE / 2, at), (x - RULE / 2 + (8.0 if at == zero else 4.5), at)))
            at += up * step
        if ticks:
            self.shapes.append(Lines("graduation", tuple(ticks), TICK))
        self.shapes.append(Lines("mark read", (((x - RULE / 2 - 3, head), (x + RULE / 2 + 3, head)),), MARK))
        self.shapes.append(Lines("foot", (((x - RULE / 2 - 3, foot), (x + RULE / 2 + 3, foot)),), MARK))
        self._lead(rule, x, foot, head)
        return x, high

    def _lead(self, rule: RuleStands, x: float, foot: float, head: float) -> None:
        """Lead from the rule to the middle of each zone that the reading is of."""
        level = foot if rule.roof else head
        for left, right in () if rule.link else rule.zones_mm:
            middle = self.x((left + right) / 2)
            side = x + (RULE / 2 + 3) * (1 if middle > x else -1)
            if abs(middle - x) > RULE / 2 + 5:
                self.shapes.append(Lines("lead", (((side, level), (middle, level)),), LEAD))

    @abstractmethod
    def _stands(self, rule: RuleStands) -> tuple[float, float]:
        """Return where it stands, and where it is read."""


class _Chassis(_Panel):
    heading = "Chassis, upright"

    def _datum_word(self) -> str:
        return "seat"

    def _body(self) -> None:
        base = self.y(min(zone.top for zone in self.scene.zones)) - 16
        if self.scene.seat_known:
            base = min(base, -12.0)
        profile: list[Point] = []
        for zone in self.scene.zones:
            left, right, top = self.x(zone.left), self.x(zone.right), self.y(zone.top)
            strokes = hatch(left, base, right - left, top - base, 7)
            if strokes:
                self.shapes.append(Lines("chassis", strokes, HATCH))
            profile += [(left, top), (right, top)]
        self.shapes.append(Lines("chassis top", (tuple(profile),), TOP))
        for rule in self.rules:
            for left, right in rule.zones_mm if rule.thing else ():
                low = self.y(min(zone.top for zone in self.scene.over(left, right)))
                high = self._stands(rule)[1]
                if high > low:
                    box = (self.x(left), low, (right - left) * self.unit, high - low)
                    self.shapes.append(Box("thing", *box, LEAD))

    def _stands(self, rule: RuleStands) -> tuple[float, float]:
        foot = -rule.face_mm
        return self.y(foot), self.y(foot + rule.length_mm)


class _Shell(_Panel):
    heading = "Shell, upside down"
    way = -1.0

    def _datum_word(self) -> str:
        return "edge"

    def _body(self) -> None:
        lift = SHELL.width / 2
        zones, edge = self.scene.zones, 0.0 if self.scene.seat_known else self.scene.lowest
        profile = [(self.x(x), self.y(zone.roof) - lift) for zone in zones for x in (zone.left, zone.right)]
        front, rear = self.scene.closed
        if front:
            profile = [(profile[0][0] - lift, self.y(edge)), (profile[0][0] - lift, profile[0][1]), *profile]
        if rear:
            last = profile[-1]
            profile = [*profile, (last[0] + lift, last[1]), (last[0] + lift, self.y(edge))]
        self.shapes.append(Lines("shell", (tuple(profile),), SHELL))
        table = min(y for _, y in profile) - lift
        ends = [self.x(at) for at in (self.scene.left, self.scene.right)]
        strokes = hatch(ends[0], table - 6, ends[1] - ends[0], 6, 9)
        self.shapes.append(Lines("table", (((ends[0], table), (ends[1], table)), *strokes), THIN))
        steps = [((self.x(b.left), self.y(edge)), (self.x(b.left), self.y(max(a.roof, b.roof))))
                 for a, b in pairwise(zones)]  # fmt: skip
        if steps:
            self.shapes.append(Lines("zone", tuple(steps), LEAD))

    def _stands(self, rule: RuleStands) -> tuple[float, float]:
        face = -rule.face_mm
        return self.y(face + rule.length_mm), self.y(face)
