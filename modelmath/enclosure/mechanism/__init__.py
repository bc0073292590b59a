"""What moves inside the shell: trucks that turn, what stands on them, drive lines, flywheels; the shell as it lifts."""

from modelmath.enclosure.mechanism.asked import hinged_bulkhead, keep_words, truck_of_size, truck_words
from modelmath.enclosure.mechanism.curve import end_throw, lineside_reach, mid_throw, yaw
from modelmath.enclosure.mechanism.hinged import Closest, Contact, LiftOff, SideBox, lift_off, side_boxes
from modelmath.enclosure.mechanism.moving import GearTower, Truck
from modelmath.enclosure.mechanism.shafts import DriveLine, Flywheel
from modelmath.enclosure.mechanism.turning import PlanBox, corners, leaned, reach, rise, tilt, turned, with_play

__all__ = [
    "Closest",
    "Contact",
    "DriveLine",
    "Flywheel",
    "GearTower",
    "LiftOff",
    "PlanBox",
    "SideBox",
    "Truck",
    "corners",
    "end_throw",
    "hinged_bulkhead",
    "keep_words",
    "leaned",
    "lift_off",
    "lineside_reach",
    "mid_throw",
    "reach",
    "rise",
    "side_boxes",
    "tilt",
    "truck_of_size",
    "truck_words",
    "turned",
    "with_play",
    "yaw",
]
