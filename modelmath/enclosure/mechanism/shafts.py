"""Shafts and what turns on them, each with the upright box that holds it in all its positions and its clearance.

Along the length from the fore-aft mark, positive to the rear; heights above the seat.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from modelmath.enclosure.mechanism.kinds import check_finite, check_least, nominal
from modelmath.enclosure.mechanism.moving import Truck
from modelmath.enclosure.mechanism.turning import PlanBox
from modelmath.enclosure.obstacles import Obstacle


@dataclass(frozen=True)
class DriveLine:
    """A shaft from the motor to a joint, which moves with a truck where it stands on one.

    Attributes
    ----------
    motor_mm, motor_height_mm : float, Fraction or uncertain number
        Middle of the shaft at its motor end: from the fore-aft mark, and above the seat. [mm]
    joint_mm, joint_height_mm : float, Fraction or uncertain number
        The same at its other end, at rest. [mm]
    diameter_mm : float, Fraction or uncertain number
        Over the thickest of shaft and joints. [mm]
    truck : Truck or None
        What its other end moves with; None where that is fixed. [-]
    whip_mm : float, Fraction or uncertain number
        How far the turning shaft swings out of its line. [mm]
    running_mm : float, Fraction or uncertain number
        Running clearance. [mm]
    name : str
        Name. [-]
    """

    motor_mm: Any
    motor_height_mm: Any
    joint_mm: Any
    joint_height_mm: Any
    diameter_mm: Any
    truck: Truck | None = None
    whip_mm: Any = 0
    running_mm: Any = 0
    name: str = "drive line"

    def __post_init__(self) -> None:
        for what in ("motor_mm", "motor_height_mm", "joint_mm", "joint_height_mm"):
            check_finite(f"{self.name}: {what.removesuffix('_mm').replace('_', ' ')}", getattr(self, what))
        check_least(f"{self.name}: diameter", self.diameter_mm, above=True)
        check_least(f"{self.name}: whip", self.whip_mm)
        check_least(f"{self.name}: running clearance", self.running_mm)

    def envelope(self) -> Obstacle:
        """Return the box that holds the shaft in all its positions; of one that slopes, as high as its higher end.

        Returns
        -------
        Obstacle
            Running clearance included on every side. [mm]

        References
        ----------
        The joint as a point that moves with the truck: `Truck.swing`, `Truck.lifts`.

        Examples
        --------
        >>> DriveLine(-12, 9, -30, 11, 2, whip_mm=0.2, running_mm=0.3).envelope().top_mm
        12.5
        """
        ahead, behind, half, (falls, rises) = self._joint()
        round_it = self.diameter_mm / 2 + self.whip_mm + self.running_mm
        return Obstacle(
            self.name,
            min(self.motor_mm, ahead, key=nominal) - round_it,
            max(self.motor_mm, behind, key=nominal) + round_it,
            half + round_it,
            min(self.motor_height_mm, self.joint_height_mm - falls, key=nominal) - round_it,
            max(self.motor_height_mm, self.joint_height_mm + rises, key=nominal) + round_it,
            self.running_mm,
            f"the {self.name} as it swings",
        )

    def _joint(self) -> tuple[Any, Any, Any, tuple[Any, Any]]:
        """Return how far ahead, behind and to the side the joint gets, and how far down and up it moves."""
        if self.truck is None:
            return self.joint_mm, self.joint_mm, 0, (0, 0)
        pivot = self.truck.pivot_mm
        point = PlanBox(pivot - self.joint_mm, self.joint_mm - pivot, 0)
        swept = self.truck.swing(point, self.joint_height_mm, self.joint_height_mm)
        lifted = self.truck.lifts(point, self.joint_height_mm, self.joint_height_mm)
        return pivot - swept.ahead_mm, pivot + swept.behind_mm, swept.half_width_mm, lifted


@dataclass(frozen=True)
class Flywheel:
    """A flywheel, or anything else round that turns on a shaft along the model, such as a motor's coupling.

    Attributes
    ----------
    middle_mm : float, Fraction or uncertain number
        Its middle, from the fore-aft mark. [mm]
    centre_height_mm : float, Fraction or uncertain number
        Middle of its shaft, above the seat. [mm]
    diameter_mm, width_mm : float, Fraction or uncertain number
        Size across, and along the shaft. [mm]
    runout_mm : float, Fraction or uncertain number
        How far its rim wobbles out of true, from the mean. [mm]
    end_play_mm : float, Fraction or uncertain number
        How far the shaft shifts to either end. [mm]
    running_mm : float, Fraction or uncertain number
        Running clearance. [mm]
    name : str
        Name. [-]
    """

    middle_mm: Any
    centre_height_mm: Any
    diameter_mm: Any
    width_mm: Any
    runout_mm: Any = 0
    end_play_mm: Any = 0
    running_mm: Any = 0
    name: str = "flywheel"

    def __post_init__(self) -> None:
        check_finite(f"{self.name}: middle", self.middle_mm)
        check_finite(f"{self.name}: height of its centre", self.centre_height_mm)
        check_least(f"{self.name}: diameter", self.diameter_mm, above=True)
        check_least(f"{self.name}: width", self.width_mm, above=True)
        check_least(f"{self.name}: runout", self.runout_mm)
        check_least(f"{self.name}: end play", self.end_play_mm)
        check_least(f"{self.name}: running clearance", self.running_mm)

    def envelope(self) -> Obstacle:
        """Return the box that holds the flywheel as it turns.

        Returns
        -------
        Obstacle
            Running clearance included on every side. [mm]

        References
        ----------
        Arithmetic.

        Examples
        --------
        >>> Flywheel(10, 9, 12, 6, runout_mm=0.1, running_mm=0.4).envelope().top_mm
        15.5
        """
        across = self.diameter_mm / 2 + self.runout_mm + self.running_mm
        along = self.width_mm / 2 + self.end_play_mm + self.running_mm
        return Obstacle(
            self.name,
            self.middle_mm - along,
            self.middle_mm + along,
            across,
            self.centre_height_mm - across,
            self.centre_height_mm + across,
            self.running_mm,
            f"the {self.name} as it turns",
        )
