"""A straight line through points whose both coordinates are uncertain, and how each point fits to the others."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt
from typing import TYPE_CHECKING, Any

from modelmath.errors import OutOfRange

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

STEPS = 50  # most steps of the fit; readings of a rule need three or four
CLOSE = 1e-12  # move of the line, as a part of the largest y, at which the fit stands still
CHECKED = 1e-9  # least part of a point's own weight that the others have to check it


@dataclass(frozen=True)
class Line:
    """A fitted line ``y = intercept + slope * x``.

    Attributes
    ----------
    intercept, slope : float
        The line. [unit of y, unit of y / unit of x]
    covariance : tuple of three floats
        Variance of the intercept, covariance of both, variance of the slope; from the uncertainties of the points
        as given. [squares and product of the units above]
    residuals : tuple of float
        Of each point, y less the line. [unit of y]
    shifts : tuple of (float, float)
        Of each point, by how much it differs from what the others say, and the standard uncertainty of that;
        infinite where the others can't say. [unit of y]
    chi_square : float
        Sum of the squares of the residuals over their variances. [-]
    dof : int
        Degrees of freedom: points less unknowns. [-]
    mean_x : float
        Mean of x by the weights of the points: by how much the intercept falls when the slope rises by 1. [unit of x]
    """

    intercept: float
    slope: float
    covariance: tuple[float, float, float]
    residuals: tuple[float, ...]
    shifts: tuple[tuple[float, float], ...]
    chi_square: float
    dof: int
    mean_x: float

    @property
    def deviation(self) -> float:
        """Standard deviation of the points about the line, from their residuals alone; 0 without freedom."""
        return sqrt(sum(each**2 for each in self.residuals) / self.dof) if self.dof else 0.0

    @property
    def correlation(self) -> float:
        """Correlation of intercept and slope. [-]"""
        spread = sqrt(self.covariance[0] * self.covariance[2])
        return self.covariance[1] / spread if spread else 0.0

    def at(self, x: float) -> tuple[float, float]:
        """Return the line's value somewhere, and its standard uncertainty.

        Parameters
        ----------
        x : float
            Where. [unit of x]

        Returns
        -------
        tuple of two floats
            Value and standard uncertainty. [unit of y]

        References
        ----------
        JCGM 100:2008, equation H.15.

        Examples
        --------
        >>> fit_line([0, 2], [1.0, 5.0]).at(1)
        (3.0, 0.7071067811865476)
        """
        both, joint, slopes = self.covariance
        return self.intercept + self.slope * x, sqrt(max(0.0, both + 2 * x * joint + x * x * slopes))


def fit_line(
    x: Any,
    y: Any,
    y_covariance: Any = None,
    x_variance: Any = None,
    from_origin: Any = None,
    slope: float | None = None,
) -> Line:
    """Fit a straight line by least squares, weighted by what is known of the points.

    Where x is uncertain too, the distance of each point from the line is weighed by both of its uncertainties, and
    the slope is not flattened by the scatter of x as in plain regression.

    Parameters
    ----------
    x, y : sequence of float
        The points. [any unit]
    y_covariance : square array or None
        Covariance matrix of y; 1 for each point if left out. [unit of y squared]
    x_variance : sequence of float or None
        Variance of each x, independent of all else; 0 if left out. [unit of x squared]
    from_origin : sequence of bool or None
        Points on the line of the same slope through the origin. [-]
    slope : float or None
        The slope where it is known, so that only the intercept is sought. [unit of y / unit of x]

    Returns
    -------
    Line
        The line; an unknown that is not sought has no variance. [-]

    Raises
    ------
    OutOfRange
        If different lengths stand at one mark and nothing else tells the slope.

    References
    ----------
    JCGM 100:2008, H.3 (y alone uncertain); York et al. 2004, Am. J. Phys. 72 (x uncertain too), from memory; the shift
    of one point against all others: Baarda 1968, A testing procedure for use in geodetic networks, from memory.

    Examples
    --------
    >>> line = fit_line([1, 2, 3, 4], [3.1, 4.9, 7.0, 9.0])
    >>> round(line.intercept, 3), round(line.slope, 3), line.dof
    (1.05, 1.98, 2)
    """
    import numpy as np

    xs, ys = np.asarray(x, dtype=float), np.asarray(y, dtype=float)
    given = np.eye(len(xs)) if y_covariance is None else np.asarray(y_covariance, dtype=float)
    x_var = np.zeros(len(xs)) if x_variance is None else np.asarray(x_variance, dtype=float)
    level = np.ones(len(xs)) if from_origin is None else 1.0 - np.asarray(from_origin, dtype=float)
    # Columns that are sought; the mark's own may move, since true marks are estimated with the line.
    sought = [place for place, wanted in enumerate((level.any(), slope is None)) if wanted]
    unknowns = np.array([0.0, _first_slope(xs, ys, level) if slope is None else slope])
    for _ in range(STEPS):
        weights = np.linalg.inv(given + np.diag(unknowns[1] ** 2 * x_var))
        rest = ys - level * unknowns[0] - xs * unknowns[1]
        true_xs = xs + unknowns[1] * x_var * (weights @ rest)
        design = np.column_stack([level, true_xs])[:, sought]
        step = _step(design.T @ weights @ np.column_stack([level, xs])[:, sought], design.T @ weights @ rest)
        unknowns[sought] += step
        # Design and weights hold for the unknowns before this step, so that it has to be none.
        if np.abs(np.column_stack([level, xs])[:, sought] @ step).max() <= CLOSE * np.abs(ys).max():
            break
    rest = ys - level * unknowns[0] - xs * unknowns[1]
    covariance = np.zeros((2, 2))
    covariance[np.ix_(sought, sought)] = _step(design.T @ weights @ design, np.eye(len(sought)))
    if not (np.isfinite(covariance).all() and (covariance.diagonal() >= 0).all()):
        raise _upright()
    checks = weights - weights @ design @ covariance[np.ix_(sought, sought)] @ design.T @ weights
    return Line(
        intercept=float(unknowns[0]),
        slope=float(unknowns[1]),
        covariance=(float(covariance[0, 0]), float(covariance[0, 1]), float(covariance[1, 1])),
        residuals=tuple(float(each) for each in rest),
        shifts=_shifts(weights, checks, rest),
        chi_square=float(rest @ weights @ rest),
        dof=len(xs) - len(sought),
        mean_x=float(level @ weights @ xs / (level @ weights @ level)) if level.any() else 0.0,
    )


def _step(matrix: Array, wanted: Array) -> Any:
    """Return what solves the equations; refuse those that have no one solution."""
    import numpy as np

    try:
        return np.linalg.solve(matrix, wanted)
    except np.linalg.LinAlgError:
        raise _upright() from None


def _upright() -> OutOfRange:
    given = "upright: one mark stands for different lengths"
    return OutOfRange("the line through the points", given, "slanting", "Check lengths and marks.")


def _first_slope(xs: Array, ys: Array, level: Array) -> float:
    """Return the slope of plain least squares, from which the fit sets out."""
    import numpy as np

    return float(np.linalg.lstsq(np.column_stack([level, xs]), ys, rcond=None)[0][1])


def _shifts(weights: Array, checks: Array, rest: Array) -> tuple[tuple[float, float], ...]:
    """Return for each point the shift that would make it fit to the others, and its standard uncertainty."""
    pulls = weights @ rest
    found = []
    for place, pull in enumerate(pulls):
        check = float(checks[place, place])
        seen = check > CHECKED * float(weights[place, place])
        found.append((float(pull) / check, 1 / sqrt(check)) if seen else (0.0, float("inf")))
    return tuple(found)
