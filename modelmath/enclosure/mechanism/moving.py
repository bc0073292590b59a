"""Trucks, and what stands on them, each with the upright box that holds it in all its positions and its clearance.

Along the length from the fore-aft mark, positive to the rear; heights above the seat.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from modelmath.enclosure.mechanism.kinds import check_angle, check_finite, check_least, magnitude, nominal
from modelmath.enclosure.mechanism.turning import PlanBox, leaned, rise, turned, with_play
from modelmath.enclosure.obstacles import Obstacle
from modelmath.errors import OutOfRange


def _check_heights(name: str, bottom: Any, top: Any) -> None:
    check_finite(f"{name}: bottom", bottom)
    check_finite(f"{name}: top", top)
    if not nominal(top) > nominal(bottom):
        given = f"at {nominal(top):.2f} mm, with its bottom at {nominal(bottom):.2f} mm"
        raise OutOfRange(f"{name}: top", given, "above its bottom", "Count both heights from the seat, upwards.")


def _check_plan(name: str, ahead: Any, behind: Any, width: Any) -> None:
    check_finite(f"{name}: reach ahead of its pivot", ahead)
    check_finite(f"{name}: reach behind its pivot", behind)
    check_least(f"{name}: width", width, above=True)
    length = nominal(ahead) + nominal(behind)
    if not length > 0:
        raise OutOfRange(
            f"{name}: length",
            f"{length:.2f} mm",
            "above 0",
            "Count both ends from the pivot; an end on the other side of it is below 0.",
        )


@dataclass(frozen=True)
class Truck:
    """A truck that turns, slides and rocks about its pivot, as a box.

    Attributes
    ----------
    name : str
        Such as ``front truck``. [-]
    pivot_mm : float, Fraction or uncertain number
        Place of its pivot, from the fore-aft mark. [mm]
    ahead_mm, behind_mm : float, Fraction or uncertain number
        From the pivot to the front and to the rear end of what stands up from it. [mm]
    width_mm : float, Fraction or uncertain number
        Width over all. [mm]
    bottom_mm, top_mm : float, Fraction or uncertain number
        Heights above the seat, at rest; below 0 under it. [mm]
    yaw_rad : float or uncertain number
        How far it turns to either side: `yaw`, or as measured. [rad]
    side_play_mm, end_play_mm : float, Fraction or uncertain number
        How far its pivot shifts in the body to either side, and to either end. [mm]
    rock_rad, roll_rad : float or uncertain number
        How far it tips endways and sideways, to one side; `tilt` finds it from the rise of an end. [rad]
    running_mm : float, Fraction or uncertain number
        Running clearance kept round all of its positions. [mm]
    axis_mm : float, Fraction, uncertain number or None
        Height above the seat of the axis it tips about; None for the worst between its bottom and its top. [mm]
    """

    name: str
    pivot_mm: Any
    ahead_mm: Any
    behind_mm: Any
    width_mm: Any
    bottom_mm: Any
    top_mm: Any
    yaw_rad: Any = 0.0
    side_play_mm: Any = 0
    end_play_mm: Any = 0
    rock_rad: Any = 0.0
    roll_rad: Any = 0.0
    running_mm: Any = 0
    axis_mm: Any = None

    def __post_init__(self) -> None:
        check_finite(f"{self.name}: place of its pivot", self.pivot_mm)
        _check_plan(self.name, self.ahead_mm, self.behind_mm, self.width_mm)
        _check_heights(self.name, self.bottom_mm, self.top_mm)
        for what, angle in (("yaw", self.yaw_rad), ("rock", self.rock_rad), ("roll", self.roll_rad)):
            check_angle(f"{self.name}: {what}", angle)
        check_least(f"{self.name}: side play", self.side_play_mm)
        check_least(f"{self.name}: end play", self.end_play_mm)
        check_least(f"{self.name}: running clearance", self.running_mm)
        if self.axis_mm is not None:
            check_finite(f"{self.name}: height of its axis", self.axis_mm)

    @property
    def plan(self) -> PlanBox:
        """Its box at rest, from the pivot. [mm]"""
        return PlanBox(self.ahead_mm, self.behind_mm, self.width_mm / 2)

    def swing(self, plan: PlanBox, bottom_mm: Any, top_mm: Any) -> PlanBox:
        """Return the reach of a box that moves with this truck, without running clearance.

        Parameters
        ----------
        plan : PlanBox
            The box at rest, from the truck's pivot. [mm]
        bottom_mm, top_mm : float, Fraction or uncertain number
            Its heights above the seat. [mm]

        Returns
        -------
        PlanBox
            Leaned, turned, and shifted by the play. [mm]

        References
        ----------
        `leaned`, `turned`, `with_play`.
        """
        low, high = self._axis
        arm = max(magnitude(top_mm - low), magnitude(bottom_mm - high), key=nominal)
        upright = leaned(plan, arm, self.rock_rad, self.roll_rad)
        return with_play(turned(upright, self.yaw_rad), self.side_play_mm, self.end_play_mm)

    def lifts(self, plan: PlanBox, bottom_mm: Any, top_mm: Any) -> tuple[Any, Any]:
        """Return how much lower and how much higher a box that moves with this truck comes.

        Parameters
        ----------
        plan : PlanBox
            The box at rest, from the truck's pivot. [mm]
        bottom_mm, top_mm : float, Fraction or uncertain number
            Its heights above the seat, at rest. [mm]

        Returns
        -------
        tuple of two
            Fall of its bottom and rise of its top, as it tips about the axis that gives the most. [mm]

        References
        ----------
        `rise`.
        """
        low, high = self._axis
        return (
            rise(plan, self.rock_rad, self.roll_rad, low - bottom_mm),
            rise(plan, self.rock_rad, self.roll_rad, top_mm - high),
        )

    @property
    def _axis(self) -> tuple[Any, Any]:
        """The lowest and the highest place of the axis: one that is not known lies between bottom and top."""
        return (self.bottom_mm, self.top_mm) if self.axis_mm is None else (self.axis_mm, self.axis_mm)

    def envelope(self) -> Obstacle:
        """Return the box that holds the truck in all its positions.

        Returns
        -------
        Obstacle
            Running clearance included on every side. [mm]

        References
        ----------
        `swing` and `lifts`.

        Examples
        --------
        >>> from math import radians
        >>> box = Truck("front truck", -35, 15, 15, 18, -6, 7, radians(6), running_mm=0.5).envelope()
        >>> round(box.start_mm, 2), round(box.end_mm, 2), round(box.half_width_mm, 2), round(box.top_mm, 2)
        (-51.36, -18.64, 11.02, 7.5)
        """
        return _box(self, self.name, self.plan, self.bottom_mm, self.top_mm, self.running_mm)


@dataclass(frozen=True)
class GearTower:
    """A box that stands on a truck and moves with it.

    Attributes
    ----------
    truck : Truck
        What it stands on. [-]
    ahead_mm, behind_mm : float, Fraction or uncertain number
        From the truck's pivot to its front and to its rear end; below 0 for one on the other side. [mm]
    width_mm : float, Fraction or uncertain number
        Width. [mm]
    top_mm : float, Fraction or uncertain number
        Height of its top above the seat, at rest; its bottom is the truck's. [mm]
    running_mm : float, Fraction, uncertain number or None
        Running clearance; None for the truck's. [mm]
    name : str
        Name; empty to be named after the truck. [-]
    """

    truck: Truck
    ahead_mm: Any
    behind_mm: Any
    width_mm: Any
    top_mm: Any
    running_mm: Any = None
    name: str = ""

    def __post_init__(self) -> None:
        if not self.name:
            object.__setattr__(self, "name", f"gear tower of the {self.truck.name}")
        _check_plan(self.name, self.ahead_mm, self.behind_mm, self.width_mm)
        _check_heights(self.name, self.truck.bottom_mm, self.top_mm)
        if self.running_mm is not None:
            check_least(f"{self.name}: running clearance", self.running_mm)

    @property
    def plan(self) -> PlanBox:
        """Its box at rest, from the truck's pivot. [mm]"""
        return PlanBox(self.ahead_mm, self.behind_mm, self.width_mm / 2)

    def envelope(self) -> Obstacle:
        """Return the box that holds the tower in all positions of its truck.

        Returns
        -------
        Obstacle
            Running clearance included on every side. [mm]

        References
        ----------
        As `Truck.envelope`.

        Examples
        --------
        >>> truck = Truck("front truck", -35, 15, 15, 18, -6, 7, side_play_mm=0.5, running_mm=0.5)
        >>> GearTower(truck, 4, 6, 8, 14).envelope().half_width_mm
        5.0
        """
        running = self.truck.running_mm if self.running_mm is None else self.running_mm
        return _box(self.truck, self.name, self.plan, self.truck.bottom_mm, self.top_mm, running)


def _box(truck: Truck, name: str, plan: PlanBox, bottom: Any, top: Any, running: Any) -> Obstacle:
    swept = truck.swing(plan, bottom, top)
    falls, rises = truck.lifts(plan, bottom, top)
    return Obstacle(
        name,
        truck.pivot_mm - swept.ahead_mm - running,
        truck.pivot_mm + swept.behind_mm + running,
        swept.half_width_mm + running,
        bottom - falls - running,
        top + rises + running,
        running,
        f"the {name} at full swing",
    )
