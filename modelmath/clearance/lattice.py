"""Sums of independent terms on a lattice of equal cells: exact cell masses of each term, added by FFT.

Two lattices serve two ends. One is counted from the upper end of what bounded terms can add up to, and zooms in on
that end as far as it must, so that a small chance keeps its leading digits. The other is centred on 0 and takes terms
without ends as well.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, log2
from typing import TYPE_CHECKING

from modelmath.clearance.shapes import Part, from_end, normal_above, part_above, t_density

if TYPE_CHECKING:
    from modelmath.clearance.shapes import Array

REACH = 9.0  # standard deviations of a normal beyond which 1e-19 is left
EDGE_CELLS = 4096
CENTRED_CELLS = 8192
EXACT_CELLS = 256
FEW = 3  # terms whose sum may have corners, which a correction for smooth ones would overshoot


@dataclass(frozen=True)
class EdgeLattice:
    """How far bounded terms together stay below the most that they can add up to.

    Attributes
    ----------
    cell_mm : float
        Width of a cell. [mm]
    offset_mm : float
        Where the first cell's mass stands, counted down from the upper end. [mm]
    masses : array
        Chance of each cell. [-]
    sums : array
        Their running sums. [-]
    """

    cell_mm: float
    offset_mm: float
    masses: Array
    sums: Array

    def within(self, y_mm: float) -> float:
        """Return the chance that the sum lies within a distance of its upper end.

        Parameters
        ----------
        y_mm : float
            The distance. [mm]

        Returns
        -------
        float
            The chance, linear from cell to cell. [-]

        References
        ----------
        Arithmetic.
        """
        import numpy as np

        cells = (y_mm - self.offset_mm) / self.cell_mm - 0.5  # running sums hold at the upper end of each cell
        first = max(0, min(int(np.floor(cells)), self.sums.size - 2))
        low, high = float(self.sums[first]), float(self.sums[first + 1])
        return max(0.0, low + (high - low) * min(cells - first, 1.0))

    def within_blurred(self, y_mm: float, sigma_mm: float) -> float:
        """Return the same chance after a normal is added.

        Parameters
        ----------
        y_mm : float
            The distance from the upper end; below 0 beyond it. [mm]
        sigma_mm : float
            Standard deviation of the normal. [mm]

        Returns
        -------
        float
            The chance. [-]

        References
        ----------
        JCGM 101:2008, 6.4.7.
        """
        import numpy as np

        places = self.offset_mm + self.cell_mm * np.arange(self.masses.size)
        # Nearer to the end than this the normal makes no difference, and farther from it none can reach.
        first, last = np.searchsorted(places, [y_mm - REACH * sigma_mm, max(y_mm, 0.0) + REACH * sigma_mm])
        surely = float(self.sums[first - 1]) if first else 0.0
        return surely + float(self.masses[first:last] @ normal_above((places[first:last] - y_mm) / sigma_mm))


def edge_lattice(parts: Sequence[Part], depth_mm: float) -> EdgeLattice:
    """Return the lattice of bounded terms over a depth below the most that they can add up to.

    What each term does farther below its own end than that depth can't matter there, so the cells may be as fine as
    the tail needs, however small its chance.

    Parameters
    ----------
    parts : sequence of Part
        Bounded terms, one at least. [mm]
    depth_mm : float
        Depth to cover. [mm]

    Returns
    -------
    EdgeLattice
        Masses of cells over that depth. [-]

    References
    ----------
    Convolution of independent terms: JCGM 101:2008, 5.2; each term as exact masses of cells.
    """
    import numpy as np

    count = max(EDGE_CELLS, 2 ** ceil(log2(128 * len(parts))))
    whole = depth_mm >= 2.0 * sum(part.half_width_mm for part in parts) * (1 - 1e-12)
    if whole:
        count = 2 * count - len(parts)  # what rounding up to whole cells adds must not wrap round
    cell = depth_mm / count
    edges = cell * np.arange(count + 1)
    offset, each = 0.0, []
    for part in parts:
        width = 2.0 * part.half_width_mm
        used = min(count, ceil(width / cell))
        masses = np.diff(from_end(part.shape, np.minimum(edges[: used + 1] / width, 1.0)))
        # A term that lies wholly within the depth keeps its mean, however few cells it has.
        mean = float(masses @ np.arange(used)) * cell
        offset += part.half_width_mm - mean if width <= depth_mm * (1 + 1e-12) else cell / 2
        each.append(masses)
    total = _summed_whole(each, count + len(parts)) if whole else _summed_within(each, count)
    total = np.maximum(total, 0.0)
    return EdgeLattice(cell, offset, total, np.cumsum(total))


def _summed_whole(each: Sequence[Array], size: int) -> Array:
    """Return the masses of a sum of terms that start at 0 and together end within a size."""
    import numpy as np

    spectrum = np.fft.rfft(each[0], size)
    for masses in each[1:]:
        spectrum *= np.fft.rfft(masses, size)
    return np.fft.irfft(spectrum, size)


def _summed_within(each: Sequence[Array], count: int) -> Array:
    """Return the first masses of a sum of terms that start at 0, whatever lies beyond."""
    import numpy as np

    total = each[0]
    for masses in each[1:]:
        if min(total.size, masses.size) <= 16:
            total = np.convolve(total, masses)[:count]
            continue
        size = total.size + masses.size - 1
        padded = 2 ** ceil(log2(size))
        both = np.fft.irfft(np.fft.rfft(total, padded) * np.fft.rfft(masses, padded), padded)
        total = both[: min(size, count)]
    return np.pad(total, (0, count - total.size))


def centred_masses(
    parts: Sequence[Part], half_range_mm: float, cut_mm: float, at_points: bool = False
) -> tuple[Array, Array]:
    """Return the lattice of a sum of any terms, centred on 0.

    Parameters
    ----------
    parts : sequence of Part
        Terms. [mm]
    half_range_mm : float
        Distance from 0 to either end of the lattice. [mm]
    cut_mm : float
        Where repeats are cut off; their masses beyond are left out. [mm]
    at_points : bool
        Whether the masses will be taken to stand in the middle of their cells, not spread over them. [-]

    Returns
    -------
    places, masses : arrays
        Middle of each cell, rising, and its chance. [mm, -]

    References
    ----------
    Convolution of independent terms: JCGM 101:2008, 5.2; each term as exact masses of cells. What grouping
    into cells does to the variance is taken back (W. F. Sheppard, 1898, from memory).
    """
    import numpy as np

    count = CENTRED_CELLS
    cell = 2.0 * half_range_mm / count
    spectrum = np.ones(count // 2 + 1)
    excess = 0.0 if at_points else -1.0 / 12.0  # what the cells add to the variance, in squares of a cell
    for part in parts:
        has_ends = part.shape not in ("normal", "repeats")
        reach = part.half_width_mm if has_ends else REACH * part.u_mm if part.shape == "normal" else cut_mm
        used = min(count // 2 - 1, ceil(reach / cell))
        half = _half_masses(part, cell, used, cut_mm)
        excess += _excess(part, cell, half)
        masses = np.zeros(count)
        masses[: used + 1] = half
        masses[count - used :] = half[used:0:-1]
        spectrum = spectrum * np.fft.rfft(masses).real  # a term even about 0 has a real spectrum
    total = np.fft.fftshift(np.fft.irfft(spectrum, count))
    if len(parts) > FEW:
        total[1:-1] -= excess / 2.0 * np.diff(total, 2)
    total = np.maximum(total, 0.0)
    return cell * (np.arange(count) - count // 2), total


def _excess(part: Part, cell_mm: float, half: Array) -> float:
    """Return how much larger a term's variance is on the lattice, in squares of a cell (Sheppard's correction)."""
    import numpy as np

    if part.shape == "repeats":
        return 1.0 / 12.0 if part.u_mm >= cell_mm else 0.0
    return 2.0 * float(half @ np.arange(half.size) ** 2.0) - (part.u_mm / cell_mm) ** 2


def _half_masses(part: Part, cell_mm: float, used: int, cut_mm: float) -> Array:
    """Return a term's masses of the cell about 0 and of those above it."""
    import numpy as np

    ends = cell_mm * (np.arange(used + 1) + 0.5)
    if part.shape == "repeats":
        ends = np.minimum(ends, cut_mm)
    exact = min(used + 1, EXACT_CELLS) if part.shape == "repeats" else used + 1
    above = part_above(part, ends[:exact])
    masses = np.concatenate(([1.0 - 2.0 * above[0]], above[:-1] - above[1:]))
    if exact == used + 1:
        return masses
    # Farther out a cell is narrow beside its distance, and Simpson's rule is as good as differences, and quicker.
    outer = ends[exact - 1 :]
    at_ends, between = t_density(part, outer), t_density(part, (outer[:-1] + outer[1:]) / 2.0)
    simpson = (at_ends[:-1] + 4.0 * between + at_ends[1:]) * np.diff(outer) / 6.0
    return np.concatenate((masses, simpson))
