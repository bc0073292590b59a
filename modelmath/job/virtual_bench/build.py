"""Building a plan many times: rules, readings, cutting and seating err anew each time; does anything touch?"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from modelmath.errors import OutOfRange
from modelmath.job.virtual_bench.below import Below, Model
from modelmath.job.virtual_bench.beside import Places, on_chassis, uprights_of
from modelmath.job.virtual_bench.builds import Builds, Meeting
from modelmath.job.virtual_bench.chance import Chance
from modelmath.job.virtual_bench.decided import Hanging, hangings_of
from modelmath.job.virtual_bench.inside import BACK, backed_of, raised_of
from modelmath.job.virtual_bench.rules import read_off
from modelmath.lengths.parse import parse_length_exact
from modelmath.tables import rows

if TYPE_CHECKING:
    from modelmath.job.plan import Plan
    from modelmath.job.virtual_bench.chance import Array

MOST_BUILDS = 1_000_000


def build_many(plan: Plan, builds: int = 1000, seed: int = 1) -> Builds:
    """Build a plan many times, and look whether anything touches.

    In each build the rules, and what they were read at, are truly something else: whatever could have given the
    readings that were written down. The builder marks parts out with those rules, cuts them as well as he can, and
    puts the shell on.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    builds : int
        How many builds, 1 to 1,000,000. [-]
    seed : int
        Start of the random numbers, 0 or more; the same seed gives the same builds. [-]

    Returns
    -------
    Builds
        How many fit, and what touched. [mm]

    Raises
    ------
    OutOfRange
        If the builds or the seed are outside their limits.

    References
    ----------
    Simulation of a tolerance stack; textbook. What each error is like: the job document's own figures.
    """
    if not 1 <= builds <= MOST_BUILDS:
        raise OutOfRange("the number of builds", f"{builds:,}", f"1 to {MOST_BUILDS:,}", "Write 1000.")
    if seed < 0:
        raise OutOfRange("the seed", str(seed), "0 or more", "Write 1.")
    chance = Chance(builds, seed)
    bench = _Bench(plan, chance, Model(plan, read_off(plan.job, chance)))
    return Builds(builds, seed, tuple(bench.meetings()))


@dataclass(frozen=True)
class _Bench:
    """A bench on which one plan is built."""

    plan: Plan
    chance: Chance
    model: Model

    def meetings(self) -> Iterator[Meeting]:
        for hanging in hangings_of(self.plan):
            down = self._made(hanging)
            roof = self.model.roof(hanging.under)
            for name in hanging.over:
                for spot in self.model.below(name):
                    yield Meeting(hanging.name, spot.name, self._room(roof, down, spot))
        yield from self._over_the_boxed()
        yield from self._at_the_back()
        yield from self._beside()

    def _over_the_boxed(self) -> Iterator[Meeting]:
        """Yield what lies over what stands up through the floor: lids on their boxes' sides, notches in walls."""
        for raised in raised_of(self.plan):
            roof = self.model.roof(raised.hanging.under)
            down = self._made(raised.hanging) - self._marked(raised.size_mm) - self._cut(raised.stop)
            for spot in self.model.below(raised.over):
                yield Meeting(raised.name, spot.name, self._room(roof, down, spot))

    def _at_the_back(self) -> Iterator[Meeting]:
        """Yield the room at the speaker's back: shell and parts alone, so that seating and paint have no part in it."""
        for backed in backed_of(self.plan):
            hung, over = self.model.roof(backed.hanging.under), self.model.roof(backed.under)
            lower = 0.0 if hung is None or over is None else over - hung
            room = self._edge(backed.hanging) + backed.carried_mm - backed.behind_mm + lower
            if backed.faces == "down":
                yield Meeting("the roof", BACK, room)
            else:
                yield Meeting(BACK, "the floor plate", room)

    def _beside(self) -> Iterator[Meeting]:
        """Yield the room along the length, the shell lying anywhere within its end play."""
        places = Places(self.model)
        play = 0.0 if self.plan.job.length is None else self._mm(self.plan.job.length.end_play)
        shifted = self.chance.within(play, "where the shell lies along the chassis")
        for upright in uprights_of(self.plan):
            away = self._marked(abs(upright.face_mm)) if upright.face_mm else 0.0
            face = away * (1.0 if upright.face_mm > 0 else -1.0) + self._cut(f"place of {upright.stop}")
            face = face + upright.further_mm
            for name in upright.beside:
                edge = places.edge(name, upright.front)
                if edge is not None:
                    moved = face + shifted if on_chassis(self.plan.job, name) else face
                    yield Meeting(upright.name, name, moved - edge if upright.front else edge - moved, beside=True)

    def _made(self, hanging: Hanging) -> Array:
        """Return how far down something truly reaches, with what it carries."""
        return self._edge(hanging) + hanging.below_it_mm

    def _edge(self, hanging: Hanging) -> Array:
        """Return how far down a part's own lower edge truly is: marked out with the true rule, cut, and hung."""
        return self._marked(hanging.size_mm) + self._cut(hanging.stop) + hanging.lowered_mm

    def _marked(self, size_mm: float) -> Array:
        marking = self.plan.job.marking
        rule = self.model.read.rules[marking.rule]
        return rule.truly(rule.set_for(size_mm, marking.datum), marking.datum)

    def _cut(self, stop: str) -> Array:
        return self.chance.within(self._mm(self.plan.job.build.cutting_tolerance), f"cutting of {stop}")

    def _room(self, roof: Array | None, down: Array, spot: Below) -> Array:
        """Return the room left over a spot once the shell is on, painted and taped, in the warmth or the cold."""
        if spot.top_mm is None or roof is None:
            assert spot.gap_mm is not None  # the plan has refused a spot with neither
            above, top = spot.gap_mm, 0.0 * spot.gap_mm  # heights count from the spot itself
        else:
            above, top = roof, spot.top_mm
        return above - down - top + self._seated - self._taken + self._grown(above - down, top)

    @cached_property
    def _seated(self) -> Array:
        return self.chance.within(self._mm(self.plan.job.seat.repeatability), "how the shell seats")

    @cached_property
    def _taken(self) -> Array | float:
        """What paint, tape and glue truly take; the layers of one roll or coat are alike."""
        usual = {row["what"]: (row["thickness_mm"], row["tolerance_mm"]) for _, row in rows("clearance_terms.csv")}
        taken: Array | float = 0.0
        for entry in self.plan.job.allow:
            thickness, tolerance = (
                float(other) if text is None else self._mm(text)
                for text, other in zip((entry.thickness, entry.tolerance), usual[entry.what], strict=True)
            )
            each = thickness + self.chance.within(tolerance, f"thickness of {entry.name}")
            taken = taken + each * entry.layers
        return taken

    def _grown(self, shell_mm: Array, chassis_mm: Array) -> Array | float:
        """Return how much the room grows: shell and part above the seat by one material, the chassis by the other."""
        entry = self.plan.job.temperature
        if entry is None:
            return 0.0
        per_k = {row["material"]: float(row["per_kelvin"]) for _, row in rows("expansion.csv")}
        return self._warmer_k * (per_k[entry.shell] * shell_mm - per_k[entry.chassis] * chassis_mm)

    @cached_property
    def _warmer_k(self) -> Array | float:
        entry = self.plan.job.temperature
        return 0.0 if entry is None else self.chance.within(entry.change, "warmth")

    def _mm(self, text: str) -> float:
        return float(parse_length_exact(text, scale=self.plan.job.scale))
