"""Random numbers for the virtual bench: one stream for each source of error, named after it."""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import blake2b
from typing import TYPE_CHECKING, TypeAlias

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array: TypeAlias = NDArray[np.float64]


@dataclass(frozen=True)
class Chance:
    """What chance does in each of many builds.

    A source's numbers follow from the seed and its name alone. So two plans for one model meet the same errors, and
    differ by what was decided only.

    Attributes
    ----------
    builds : int
        How many builds. [-]
    seed : int
        Start of the random numbers, 0 or more. [-]
    """

    builds: int
    seed: int

    def _stream(self, name: str) -> np.random.Generator:
        from numpy.random import PCG64, Generator, SeedSequence

        key = int.from_bytes(blake2b(name.encode(), digest_size=8).digest(), "big")
        return Generator(PCG64(SeedSequence([self.seed, key])))

    def within(self, limit_mm: float, name: str) -> Array:
        """Draw an error that lies within limits, all values between them alike.

        Parameters
        ----------
        limit_mm : float
            The limit, either way. [mm]
        name : str
            What errs. [-]

        Returns
        -------
        array
            One for each build. [mm]

        References
        ----------
        JCGM 101:2008, 6.4.2.
        """
        return limit_mm * (2.0 * self._stream(name).random(self.builds) - 1.0)

    def bell(self, u: float, name: str) -> Array:
        """Draw an error of which only the standard uncertainty is known.

        Parameters
        ----------
        u : float
            Standard uncertainty. [mm, or - for a ratio]
        name : str
            What errs. [-]

        Returns
        -------
        array
            One for each build. [mm, or - for a ratio]

        References
        ----------
        JCGM 101:2008, 6.4.7.
        """
        return u * self._stream(name).standard_normal(self.builds)

    def of_a_mean(self, deviation_mm: float, count: int, name: str) -> Array:
        """Draw how far off the mean of a few repeated readings is by their scatter.

        From four readings on, how much they scatter is as uncertain as their own deviation leaves it. Two or three
        tell too little of that: then each is off within limits that have their deviation.

        Parameters
        ----------
        deviation_mm : float
            Standard deviation of one reading, as found from all of them. [mm]
        count : int
            How many there are, 2 or more. [-]
        name : str
            What was read. [-]

        Returns
        -------
        array
            One for each build. [mm]

        References
        ----------
        Student 1908, Biometrika 6, for the mean of normal readings whose deviation is not known. For two or three,
        the sum of rectangles: common practice, no source.
        """
        stream = self._stream(name)
        if count > 3:
            scaled: Array = (deviation_mm / count**0.5) * stream.standard_t(count - 1, self.builds)
            return scaled
        off: Array = (12**0.5 * deviation_mm) * (stream.random((count, self.builds)).mean(axis=0) - 0.5)
        return off


@dataclass(frozen=True)
class Exactly(Chance):
    """No errors at all: everything is as it was stated.

    Attributes
    ----------
    builds : int
        How many builds, all alike. [-]
    seed : int
        Not used. [-]
    """

    def within(self, limit_mm: float, name: str) -> Array:
        """Return no error, as `Chance.within` returns one.

        Parameters
        ----------
        limit_mm : float
            Not used. [mm]
        name : str
            Not used. [-]

        Returns
        -------
        array
            Zeros, one for each build. [mm]

        References
        ----------
        None needed.
        """
        return self._none()

    def bell(self, u: float, name: str) -> Array:
        """Return no error, as `Chance.bell` returns one.

        Parameters
        ----------
        u : float
            Not used. [mm, or - for a ratio]
        name : str
            Not used. [-]

        Returns
        -------
        array
            Zeros, one for each build. [mm, or - for a ratio]

        References
        ----------
        None needed.
        """
        return self._none()

    def of_a_mean(self, deviation_mm: float, count: int, name: str) -> Array:
        """Return no error, as `Chance.of_a_mean` returns one.

        Parameters
        ----------
        deviation_mm : float
            Not used. [mm]
        count : int
            Not used. [-]
        name : str
            Not used. [-]

        Returns
        -------
        array
            Zeros, one for each build. [mm]

        References
        ----------
        None needed.
        """
        return self._none()

    def _none(self) -> Array:
        import numpy as np

        return np.zeros(self.builds)
