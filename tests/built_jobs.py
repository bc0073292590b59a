"""Random jobs for the virtual bench: rules, readings, zones, spots, moving parts of all kinds. All numbers invented."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from modelmath.job import Plan
from modelmath.job.document import Job
from modelmath.lengths.parse import parse_length_exact

SCALES = ("HO", "N", "O", "S")
MATERIALS = ("polystyrene", "brass", "resin")


class _Draft:
    """A job being put together. What it is like follows from its number alone."""

    def __init__(self, number: int, roofs: bool) -> None:
        self.random = np.random.default_rng([77, number])
        self.roofs = roofs
        self.scale = self._one(SCALES)
        self.rules = [self._rule(), {"name": "caliper", "kind": "caliper"}]
        self.readings: list[dict[str, Any]] = []
        self.link = self._often(0.2)
        if self.link:
            self._read("seat above the bench", 11.0, taken_from="bench", rule="rule")

    def _one(self, choices: Any) -> Any:
        return choices[int(self.random.integers(len(choices)))]

    def _often(self, share: float) -> bool:
        return bool(self.random.random() < share)

    def _within(self, low: float, high: float) -> float:
        return float(self.random.uniform(low, high))

    def _rule(self) -> dict[str, Any]:
        rule: dict[str, Any] = {"name": "rule", "graduation": self._one(("1/2", "1/4", "1/8"))}
        if self._often(0.3):
            rule = {"name": "rule", "kind": "steel rule", "unit": "mm", "graduation": "0.5", "zero_offset": "0 mm"}
            rule["offset_uncertainty"] = f"{self._within(0.02, 0.3):.3f} mm"
        else:
            rule |= {"zero_offset": self._one(("0", "1/2", "3/4", "1")), "scale": self.scale}
            rule["offset_uncertainty"] = f"{self._within(0, 0.6):.3f} mm"
        way = self._one(("mark", "parts", "stated"))
        if way == "parts":
            rule["read_to"] = f"{self._within(0.1, 0.4):.2f} mm"
        elif way == "stated":
            rule["reading_uncertainty"] = f"{self._within(0.03, 0.3):.3f} mm"
        if self._often(0.4):
            rule |= {"scale_error": round(self._within(-0.004, 0.004), 5)}
            rule |= {"scale_error_uncertainty": round(self._within(0.0005, 0.01), 5)}
            if self._often(0.7):  # calibrated at a mark; its offset is known no better than its scale leaves it
                # up to 6.35 mm, the largest zero offset here, come on top of the place
                at = self._within(15, 60)
                least = (at + 7) * rule["scale_error_uncertainty"] * 1.01
                rule |= {"calibrated_at": f"{at:.2f} mm"}
                rule["offset_uncertainty"] = f"{least + self._within(0, 0.3):.4f} mm"
        return rule

    def _mm(self, rule: dict[str, Any], text: str) -> float:
        return float(parse_length_exact(text, unit=rule.get("unit", "scale foot"), scale=self.scale))

    def _read(self, name: str, length_mm: float, rule: str = "", **fields: Any) -> str:
        """Write down a reading of about so long a thing, as read with a rule; several readings of some."""
        wanted = rule or self._one(("rule", "rule", "caliper"))
        chosen = next(each for each in self.rules if each["name"] == wanted)
        caliper = chosen["name"] == "caliper"
        step = 0.05 if caliper else self._mm(chosen, str(chosen["graduation"])) / 2
        datum = "zero" if self._often(0.15) and not caliper else "end"
        offset = 0.0 if caliper or datum == "zero" else self._mm(chosen, chosen["zero_offset"])
        marks = max(round((length_mm - offset) / step), 1)
        again = 0 if not self._often(0.25) else int(self.random.integers(1, 6))
        written = [marks + (int(self.random.integers(-1, 2)) if again else 0) for _ in range(again + 1)]
        texts = [f"{max(each, 1) * step:.6f} mm" for each in written]
        entry = {"name": name, "mark": texts[0], "again": texts[1:], "rule": chosen["name"], "datum": datum}
        self.readings.append(entry | fields)
        return name

    def _height(self, name: str, height_mm: float) -> str:
        if self.link and self._often(0.7):
            return self._read(name, height_mm + 11.0, taken_from="bench")
        return self._read(name, height_mm)

    def zones(self, several: bool) -> tuple[list[dict[str, Any]], list[dict[str, Any]]]:
        count = int(self.random.integers(2, 5)) if several else 1
        roof_mm, base = self._within(20, 30), self._within(6, 11)
        roof = self._height("roof", roof_mm)
        width = self._read("width", 24.0, rule="caliper")
        zones, stations = [], []
        for place in range(count):
            name = f"zone {place + 1}"
            top_mm = base + self._within(0, 0.5)
            zone = {"name": name, "underside": roof, "width": width}
            if self._often(0.2):
                zone["underside"] = self._height(f"roof of {name}", roof_mm + self._within(0, 1))
            if self._often(0.15):
                zone["gap"] = self._read(f"putty in {name}", roof_mm - top_mm, rule="caliper")
            else:
                zone["chassis_top"] = self._height(f"top of {name}", top_mm)
            if place < count - 1:
                zone["end"] = self._read(f"end of {name}", 30.0 * (place + 1), rule="caliper", on="shell")
            zones.append(zone)
            for side in ("left", "right")[: int(self.random.integers(0, 3))]:
                station = {"name": side, "zone": name}
                if self.roofs and self._often(0.7):
                    station["underside"] = self._height(f"roof {side} of {name}", roof_mm + self._within(-0.4, 0.4))
                station["chassis_top"] = self._height(f"{side} of {name}", top_mm + self._within(-0.3, 0.2))
                stations.append(station)
        return zones, stations

    def moving(self) -> list[dict[str, Any]]:
        at = self._read("pivot", self._within(20, 50), rule="caliper", on="shell")
        top = self._height("top of what moves", self._within(9, 12))
        if self._often(0.5):
            return [{"name": "truck", "kind": "truck", "at": at, "top": top, "ahead": "9 mm", "behind": "8 mm",
                     "width": "12 mm", "side_play": "0.3 mm", "rock": "0.4 mm", "running": "0.3 mm"}]  # fmt: skip
        return [{"name": "flywheel", "kind": "flywheel", "at": at, "top": top, "diameter": "10 mm", "width": "6 mm",
                 "wobble": "0.15 mm", "running": "0.2 mm"}]  # fmt: skip


def random_job(number: int, roofs: bool = False) -> Job:
    """The job of that number; `roofs` gives the spots over a zone roofs of their own."""
    draft = _Draft(number, roofs)
    chamber = draft._often(0.7)
    zones, stations = draft.zones(chamber)
    fields: dict[str, Any] = {}
    if chamber:
        length = draft._read("length", 30.0 * len(zones), rule="caliper", on="shell")
        fields["length"] = {"shell_inside": length, "rear_closed": draft._often(0.5), "front_closed": draft._often(0.6)}
        if draft._often(0.35):
            fields["moving"] = draft.moving()
    if draft._often(0.4):
        fields["allow"] = [{"name": "paint", "what": "paint", "layers": int(draft.random.integers(1, 4))},
                           {"name": "sheet", "what": "sheet"}]  # fmt: skip
    if draft._often(0.4):
        fields["temperature"] = {"change": draft._within(5, 40), "shell": draft._one(MATERIALS)}
    if draft._often(0.3):
        fields["speaker"] = {"flange": "1.1 mm"}
    keep = draft._one((0.0, 0.1, 0.25, 0.5, 0.8)) * draft._within(0.5, 1.5)
    return Job.model_validate({
        "name": f"random job {number}",
        "scale": draft.scale,
        "rules": draft.rules,
        "marking": {"rule": draft._one(("rule", "rule", "caliper")), "finest": draft._one(("0.1 mm", "0.3 mm"))},
        "seat": {"repeatability": f"{draft._within(0, 0.25):.3f} mm"},
        "clearance": {"keep": f"{keep:.3f} mm"},
        "build": {"cutting_tolerance": f"{draft._within(0, 0.25):.3f} mm"},
        "readings": draft.readings,
        "links": [{"face": "bench", "reading": "seat above the bench"}] if draft.link else [],
        "zones": zones,
        "stations": stations,
        **fields,
    })  # fmt: skip


SURE = 0.0005  # left out at either end of a 99.9 % band


def governing_spot(made: Plan) -> str:
    """What the virtual bench calls the spot that sets the bulkhead's height."""
    depth = made.governing
    if depth.moving:
        return depth.moving
    at = depth.stations[0].top_at or depth.stations[0].name
    own = {each.name for each in made.job.stations if each.zone == depth.zone.name}
    return f"{depth.zone.name}, {at}" if at in own else depth.zone.name


def within_band(chances: Sequence[float], touching: int, builds: int) -> bool:
    """Whether jobs of these stated chances, each built so often, touch as often as they state.

    Their sum has no more spread than a binomial count of their mean chance: Hoeffding 1956, Annals of Mathematical
    Statistics 27 (from memory).
    """
    from scipy.stats import binom

    total, mean = len(chances) * builds, sum(chances) / len(chances)
    return bool(binom.ppf(SURE, total, mean) <= touching <= binom.ppf(1 - SURE, total, mean))
