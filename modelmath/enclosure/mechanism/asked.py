"""The questions asked of one moving part alone: sizes as they are measured on the bench, answers in words."""

from __future__ import annotations

from math import degrees
from typing import Any

from modelmath.enclosure.mechanism.hinged import LiftOff, SideBox, lift_off
from modelmath.enclosure.mechanism.kinds import check_finite, check_least, nominal
from modelmath.enclosure.mechanism.moving import Truck
from modelmath.enclosure.mechanism.turning import tilt
from modelmath.enclosure.obstacles import Obstacle
from modelmath.errors import OutOfRange
from modelmath.lengths.numbers import Number
from modelmath.lengths.text import format_length


def truck_of_size(
    length_mm: Any,
    width_mm: Any,
    top_mm: Any,
    depth_mm: Any,
    yaw_rad: Any = 0.0,
    pivot_offset_mm: Any = 0,
    side_play_mm: Any = 0,
    end_rise_mm: Any = 0,
    running_mm: Any = 0,
    name: str = "truck",
) -> Truck:
    """Return a truck by its outside sizes, its pivot at 0 along the length.

    Parameters
    ----------
    length_mm, width_mm : float, Fraction or uncertain number
        Of the box that holds what turns. [mm]
    top_mm : float, Fraction or uncertain number
        Height of its top above the seat, at rest. [mm]
    depth_mm : float, Fraction or uncertain number
        From its top down to its bottom. [mm]
    yaw_rad : float or uncertain number
        How far it turns to either side. [rad]
    pivot_offset_mm : float, Fraction or uncertain number
        How far the pivot lies behind the middle of the box; below 0 ahead of it. [mm]
    side_play_mm : float, Fraction or uncertain number
        How far the pivot shifts to either side. [mm]
    end_rise_mm : float, Fraction or uncertain number
        How far the end farther from the pivot can be lifted. [mm]
    running_mm : float, Fraction or uncertain number
        Running clearance. [mm]
    name : str
        Name. [-]

    Returns
    -------
    Truck
        The truck. [mm]

    Raises
    ------
    WrongKind, OutOfRange
        If a size makes no sense.

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> truck_of_size(30, 18, 7, 13, pivot_offset_mm=2).ahead_mm
    17.0
    """
    check_least("length of the truck", length_mm, above=True)
    check_finite("place of the pivot", pivot_offset_mm)
    check_least("depth of the truck", depth_mm, above=True)
    ahead, behind = length_mm / 2 + pivot_offset_mm, length_mm / 2 - pivot_offset_mm
    rock = tilt(end_rise_mm, max(ahead, behind, key=nominal))
    return Truck(
        name, 0, ahead, behind, width_mm, top_mm - depth_mm, top_mm, yaw_rad, side_play_mm, 0, rock, 0.0, running_mm
    )


def truck_words(truck: Truck, inside_width_mm: Number | None = None) -> tuple[str, ...]:
    """Say what a truck's swing asks of the shell.

    Parameters
    ----------
    truck : Truck
        The truck. [mm]
    inside_width_mm : Fraction, float or None
        Inside width of the shell over it; None where it is not known. [mm]

    Returns
    -------
    tuple of str
        How far it turns, whether it clears the side walls, what a bulkhead has to keep. [-]

    Raises
    ------
    OutOfRange
        If the width is not above 0.

    References
    ----------
    `Truck.envelope`.

    Examples
    --------
    >>> print(truck_words(truck_of_size(30, 18, 7, 13), 26)[1])
    Clear of the side walls by 4.00 mm on either side, beside its running clearance.
    """
    room = truck.envelope()
    words = [f"It turns by {degrees(nominal(truck.yaw_rad)):.2f} degrees to either side."]
    if inside_width_mm is not None:
        check_least("inside width of the shell", inside_width_mm, above=True)
        wide = too_wide_at_rest(truck, inside_width_mm)
        words.append(wide or _beside(float(inside_width_mm) / 2 - nominal(room.half_width_mm)))
    return (*words, keep_words(room, nominal(truck.pivot_mm), "its pivot"))


def too_wide_at_rest(truck: Truck, inside_width_mm: Number) -> str:
    """Say by how much a truck is wider than the shell even where it stands still and straight.

    Parameters
    ----------
    truck : Truck
        The truck. [mm]
    inside_width_mm : Fraction or float
        Inside width of the shell over it. [mm]

    Returns
    -------
    str
        A sentence; empty where it goes in at rest. [-]

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> too_wide_at_rest(truck_of_size(30, 18, 7, 13), 17)
    'Too wide at rest: what turns is 18.00 mm wide, and the shell only 17.00 mm inside.'
    """
    width, inside = nominal(truck.width_mm), float(inside_width_mm)
    if width <= inside:
        return ""
    return f"Too wide at rest: what turns is {_mm(width)} wide, and the shell only {_mm(inside)} inside."


def check_curve(pivots_mm: Number, radius_mm: Number, wheelbase_mm: Number = 0) -> None:
    """Refuse pivots, a radius or a wheelbase that can't stand on one curve, by the one to look at first.

    Parameters
    ----------
    pivots_mm : Fraction or float
        Distance between the pivots. [mm]
    radius_mm : Fraction or float
        Radius of the curve, to the middle of the track. [mm]
    wheelbase_mm : Fraction or float
        Between the outer axles of a truck; 0 leaves it out of account. [mm]

    Raises
    ------
    WrongKind, OutOfRange
        If a length makes no sense, or is too long for the radius.

    References
    ----------
    Elementary geometry: no chord is longer than twice the radius.

    Examples
    --------
    >>> check_curve(90, 457.2, 30)
    """
    check_finite("radius of the curve", radius_mm)
    if nominal(radius_mm) <= 0:
        write = "Write the radius to the middle of the track, with its unit, such as 18 in."
        raise OutOfRange("radius of the curve", f"{nominal(radius_mm):g} mm", "above 0", write)
    for name, value in (("distance between the pivots", pivots_mm), ("wheelbase of the truck", wheelbase_mm)):
        check_least(name, value)
    pivots, wheelbase, twice = nominal(pivots_mm), nominal(wheelbase_mm), 2 * nominal(radius_mm)
    if pivots >= twice:
        most = f"below {_mm(twice)}, for a radius of {_mm(twice / 2)}"
        write = "The pivots are further apart than twice the radius: check both."
        raise OutOfRange("distance between the pivots", _mm(pivots), most, write)
    if pivots**2 + wheelbase**2 >= twice**2:
        most = f"below {_mm((twice**2 - pivots**2) ** 0.5)} for this radius and these pivots"
        write = "Measure it between the outer axles of one truck, and check the radius."
        raise OutOfRange("wheelbase of the truck", _mm(wheelbase), most, write)


def _beside(gap: float) -> str:
    if gap >= 0:
        return f"Clear of the side walls by {_mm(gap)} on either side, beside its running clearance."
    return f"Too wide at full swing: {_mm(-gap)} too little on either side, with its running clearance."


def keep_words(room: Obstacle, from_mm: float, what: str) -> str:
    """Say what has to be kept clear of the room that something takes.

    Parameters
    ----------
    room : Obstacle
        Its envelope. [mm]
    from_mm : float
        Place along the length that distances count from. [mm]
    what : str
        What stands there, such as ``its pivot``. [-]

    Returns
    -------
    str
        A sentence. [-]

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> keep_words(Obstacle("flywheel", -4, 4, 7, 2, 15.5), 0, "its middle")
    'From 4.00 mm ahead of its middle to 4.00 mm behind it, keep every lower edge at least 15.50 mm above the seat.'
    """
    ahead, behind = from_mm - nominal(room.start_mm), nominal(room.end_mm) - from_mm
    top = nominal(room.top_mm)
    edge = f"at least {_mm(top)} above the seat" if top >= 0 else f"no more than {_mm(-top)} below the seat"
    return (
        f"From {_side(ahead, 'ahead of', 'behind')} {what} to {_side(behind, 'behind', 'ahead of')} it, "
        f"keep every lower edge {edge}."
    )


def _side(distance: float, way: str, other: str) -> str:
    return f"{_mm(abs(distance))} {way if distance >= 0 else other}"


def _mm(value: float) -> str:
    return format_length(value, "mm")


def hinged_bulkhead(
    face_mm: Number,
    thickness_mm: Number,
    edge_mm: Number,
    roof_mm: Number,
    step_end_mm: Number,
    step_top_mm: Number,
    beyond_top_mm: Number,
    hinge_height_mm: Number = 0,
) -> tuple[LiftOff, tuple[SideBox, ...], tuple[SideBox, ...]]:
    """Open a hinged shell with one bulkhead over a chassis with one step; places count from the hinge.

    Parameters
    ----------
    face_mm : Fraction or float
        From the hinge to the nearer face of the bulkhead. [mm]
    thickness_mm : Fraction or float
        Its thickness. [mm]
    edge_mm, roof_mm : Fraction or float
        Heights of its lower edge and of the roof above the seat. [mm]
    step_end_mm : Fraction or float
        From the hinge to where the step between them ends. [mm]
    step_top_mm, beyond_top_mm : Fraction or float
        Chassis top above the seat up to there, and beyond. [mm]
    hinge_height_mm : Fraction or float
        Height of the hinge above the seat. [mm]

    Returns
    -------
    tuple of LiftOff, tuple of SideBox, tuple of SideBox
        What comes of it, the parts and the chassis. [mm]

    Raises
    ------
    WrongKind, OutOfRange
        If a size makes no sense, or the bulkhead stands in the chassis at rest.

    References
    ----------
    `lift_off`.

    Examples
    --------
    >>> hinged_bulkhead(30, 1, 10, 20, 29, 11, 4)[0].passes
    True
    """
    for name, value in (("distance to the bulkhead", face_mm), ("distance to the step", step_end_mm)):
        check_least(name, value, above=True)
    check_least("thickness of the bulkhead", thickness_mm, above=True)
    wall = SideBox("the bulkhead", face_mm, face_mm + thickness_mm, edge_mm, roof_mm)
    deep = min(step_top_mm, beyond_top_mm, hinge_height_mm, edge_mm) - wall.end_mm - step_end_mm
    far = max(wall.end_mm, step_end_mm) * 5 / 4
    step = SideBox("the step", 0, step_end_mm, deep, step_top_mm)
    beyond = SideBox("the chassis beyond it", step_end_mm, far, deep, beyond_top_mm)
    for each in (step, beyond):
        if each.start_mm < wall.end_mm and wall.start_mm < each.end_mm and each.top_mm > wall.bottom_mm:
            given = f"{_mm(float(wall.bottom_mm))} above the seat"
            what = f"at or above {each.name}, {_mm(float(each.top_mm))}"
            raise OutOfRange("the bulkhead's lower edge", given, what, "Check both heights; both count from the seat.")
    chassis = (step, beyond)
    return lift_off((wall,), chassis, (0, hinge_height_mm)), (wall,), chassis
