"""Rays traced through a bent slab in plain x and y: reflections off two circles, nothing taken from the project."""

from __future__ import annotations

import numpy as np


def traced_share(angle_deg, inside, index, aperture, seed=1, places=60, slopes=60):
    """Return the share of rays that stay, for a slab one unit thick; places and slopes are drawn within equal cells."""
    rng = np.random.default_rng(seed)
    outside, end = inside + 1.0, np.radians(angle_deg)
    across, slope = np.meshgrid(np.arange(places), np.arange(slopes))
    start = inside + (across.ravel() + rng.random(across.size)) / places
    sine = (2 * (slope.ravel() + rng.random(slope.size)) / slopes - 1) * aperture / index
    point = np.stack([start, np.zeros_like(start)])
    way = np.stack([sine, np.sqrt(1 - sine**2)])  # x is outward, y along the strand, where it starts to bend
    going, kept = np.ones(start.size, bool), np.zeros(start.size, bool)
    last, normal = np.array([np.cos(end), np.sin(end)]), np.array([-np.sin(end), np.cos(end)])
    critical = np.sqrt(index**2 - aperture**2) / index
    for _ in range(1000):
        if not going.any():
            return kept.mean()
        steps = np.stack(
            [_to_end(point, way, last, normal), _to_circle(point, way, outside), _to_circle(point, way, inside)]
        )
        which, step = steps.argmin(axis=0), steps.min(axis=0)
        point = np.where(going, point + step * way, point)
        out = going & (which == 0)
        kept |= out & (np.abs(last @ way) <= aperture / index)
        radial = point / np.hypot(*point)
        across_wall = (radial * way).sum(axis=0)
        through = going & (which == 1) & (np.sqrt(1 - across_wall**2) < critical)
        going &= ~(out | through)
        way = np.where(going, way - 2 * across_wall * radial, way)
    raise AssertionError("rays still go round")


def _to_end(point, way, last, normal):
    """Return the way to the plane where the bend ends, infinite where it is not met in front."""
    with np.errstate(divide="ignore", invalid="ignore"):
        step = -(normal @ point) / (normal @ way)
    return np.where((step > 1e-12) & (last @ (point + step * way) > 0), step, np.inf)


def _to_circle(point, way, radius):
    """Return the way to a circle round the centre of the bend."""
    half, rest = (point * way).sum(axis=0), (point**2).sum(axis=0) - radius**2
    square = half**2 - rest
    root = np.sqrt(np.maximum(square, 0))
    near, far = -half - root, -half + root
    step = np.where(near > 1e-9, near, far)
    return np.where((square > 0) & (step > 1e-9), step, np.inf)
