"""How the model falls on the picture, against rotation matrices."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from modelmath.drawings.figures.solid.projection import View

ANGLES = st.floats(-720, 720)
TILTS = st.floats(-90, 90)
PLACES = st.tuples(*[st.floats(-200, 200)] * 3)


def by_matrices(turn, tilt, point):
    """Right and up on the picture, and towards the viewer, by numpy matrices.

    Across counts to the right as one looks to the rear, which makes the model's axes left-handed: its sign is turned
    for right-handed ones. They then are turned about the vertical, and laid back about the picture's own right.
    """
    t, h = np.radians(turn), np.radians(tilt)
    about_vertical = np.array([[np.cos(t), -np.sin(t), 0], [np.sin(t), np.cos(t), 0], [0, 0, 1]])
    about_right = np.array([[1, 0, 0], [0, np.cos(h), -np.sin(h)], [0, np.sin(h), np.cos(h)]])
    right, away, up = about_right @ about_vertical @ (np.array(point) * (1, -1, 1))
    return right, up, -away


@given(ANGLES, TILTS, PLACES)
def test_it_is_a_turn_about_the_vertical_and_a_tilt(turn, tilt, point):
    view = View(turn, tilt)
    right, up, toward = by_matrices(turn, tilt, point)
    assert view.at(point) == pytest.approx((right, up), abs=1e-9)
    assert np.dot(view.toward, point) == pytest.approx(toward, abs=1e-9)


@given(ANGLES, TILTS)
def test_its_axes_are_those_of_a_library_for_rotations(turn, tilt):
    turned = Rotation.from_euler("zx", [turn, tilt], degrees=True).as_matrix() @ np.diag([1, -1, 1])
    right, up, toward = np.array(View(turn, tilt).axes)
    assert np.allclose([right, -toward, up], turned, atol=1e-9)


@pytest.mark.parametrize(
    ("turn", "tilt", "seen"),
    [(0, 0, (1, 3)), (90, 0, (2, 3)), (180, 0, (-1, 3)), (270, 0, (-2, 3)), (0, 90, (1, -2)), (0, -90, (1, 2))],
)
def test_the_views_along_the_axes(turn, tilt, seen):
    """From the side, the front end, the other side, the rear end, above, below: elementary geometry."""
    assert View(turn, tilt).at((1, 2, 3)) == pytest.approx(seen, abs=1e-12)
