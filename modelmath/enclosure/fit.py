"""The largest chamber with one flat floor, exactly.

Every longest stretch under every floor that may be best is looked at, for each place the decoder can be pushed to: why
these are all, `fitting.stretches` and `fitting.pockets` argue. The fit runs in whole numbers, so that it is exact.
"""

from __future__ import annotations

from modelmath.enclosure.bodies import Box, Speaker
from modelmath.enclosure.cavity import Cavity
from modelmath.enclosure.chambers import Chamber, Enclosure
from modelmath.enclosure.fitting.known import Sections
from modelmath.enclosure.fitting.search import Search, chamber_in
from modelmath.enclosure.fitting.whole import Whole
from modelmath.enclosure.limits import Limits

__all__ = ["Chamber", "Enclosure", "Refit", "chamber_in", "fit_enclosure", "fits"]


def fit_enclosure(
    cavity: Cavity, limits: Limits, speaker: Speaker | None = None, decoder: Box | None = None
) -> Enclosure:
    """Find the largest chamber with one flat floor, by volume, that holds the speaker and leaves what must be left.

    Parameters
    ----------
    cavity : Cavity
        The shell's zones over the chassis, and what stands or moves there. [mm]
    limits : Limits
        Clearances, wall thickness, room at the ends. [mm]
    speaker : Speaker or None
        Sits in the chamber, facing as it says, where it is deep and wide enough. [mm]
    decoder : Box or None
        Finds room beside the chamber or below its floor; inside it only where it may. [mm]

    Returns
    -------
    Enclosure
        All chambers that do, the largest first: proven largest by looking at all that can be. [mm]

    Raises
    ------
    DoesNotFit
        If the decoder finds no room or no chamber holds the speaker; says by how much the nearest misses and why.

    References
    ----------
    Elementary geometry; the argument that the candidates are complete stands at the head of this module.

    Examples
    --------
    >>> from modelmath.enclosure import Zone
    >>> cavity = Cavity((Zone("cab", 0, 20, 5, 15, 10), Zone("motor", 20, 60, 9, 15, 10)))
    >>> fit_enclosure(cavity, Limits(clearance_mm=1)).chamber.volume_mm3  # 60 x 10 x 5 beats 19 x 10 x 9
    3000
    """
    return Refit().enclosure(cavity, limits, speaker, decoder)


def fitted(
    cavity: Cavity, limits: Limits, speaker: Speaker | None = None, decoder: Box | None = None
) -> Enclosure | None:
    """Return what `fit_enclosure` does, or None where it would have to say by how much all misses.

    Parameters
    ----------
    cavity, limits, speaker, decoder : Cavity, Limits, Speaker or None, Box or None
        As for `fit_enclosure`. [mm]

    Returns
    -------
    Enclosure or None
        All chambers that do, the largest first. [mm]

    References
    ----------
    `fit_enclosure`.

    Examples
    --------
    >>> from modelmath.enclosure import Zone
    >>> fitted(Cavity((Zone("cab", 0, 20, 5, 15, 10),)), Limits(clearance_mm=11)) is None
    True
    """
    return Refit().fitted(cavity, limits, speaker, decoder)


class Refit:
    """Fits again and again; what only the shell and the limits decide is kept while they are the very same.

    Of one shell many speakers may be tried.
    """

    def __init__(self) -> None:
        self._shell: tuple[Cavity, Limits, Cavity] | None = None  # as given, and less the wire path
        self._sections = Sections()
        self._whole: Whole | None = None
        self._search: Search | None = None

    def enclosure(
        self, cavity: Cavity, limits: Limits, speaker: Speaker | None = None, decoder: Box | None = None
    ) -> Enclosure:
        """Return what `fit_enclosure` does.

        Parameters
        ----------
        cavity, limits, speaker, decoder : Cavity, Limits, Speaker or None, Box or None
            As for `fit_enclosure`. [mm]

        Returns
        -------
        Enclosure
            All chambers that do, the largest first. [mm]

        Raises
        ------
        DoesNotFit
            As `fit_enclosure`.

        References
        ----------
        `fit_enclosure`.
        """
        found = self.fitted(cavity, limits, speaker, decoder)
        if found is None:
            raise Search(self._less_the_path(cavity, limits), limits, speaker, decoder).nearest_miss()
        return found

    def fitted(
        self, cavity: Cavity, limits: Limits, speaker: Speaker | None = None, decoder: Box | None = None
    ) -> Enclosure | None:
        """Return what the function `fitted` does.

        Parameters
        ----------
        cavity, limits, speaker, decoder : Cavity, Limits, Speaker or None, Box or None
            As for `fit_enclosure`. [mm]

        Returns
        -------
        Enclosure or None
            All chambers that do, the largest first. [mm]

        References
        ----------
        `fit_enclosure`.
        """
        here = self._less_the_path(cavity, limits)
        whole = Whole(here, limits, speaker, decoder, self._whole)
        search = Search(whole.cavity, whole.limits, whole.speaker, whole.decoder)
        if self._search is not None and self._search.cavity is whole.cavity:
            search.knowing(self._search)
        self._whole, self._search = whole, search
        found = search.candidates()
        if not found:
            return None
        ranked = sorted(found, key=lambda each: (-each.volume_mm3, each.start_mm, each.floor_mm))
        candidates = tuple(_in_mm(each, whole) for each in ranked)
        return Enclosure(here, limits, speaker, decoder, candidates, self._sections)

    def _less_the_path(self, cavity: Cavity, limits: Limits) -> Cavity:
        kept = self._shell
        if kept is None or not (kept[0] is cavity and kept[1] is limits):
            kept = self._shell = (cavity, limits, _less_the_path(cavity, limits))
            self._sections = Sections()
        return kept[2]


def _less_the_path(cavity: Cavity, limits: Limits) -> Cavity:
    return cavity.narrowed(limits.wire_path_mm + limits.wall_mm) if limits.wire_path_mm else cavity


def fits(cavity: Cavity, limits: Limits, speaker: Speaker | None = None, decoder: Box | None = None) -> bool:
    """Say whether any chamber fits, without working out by how much one misses.

    Parameters
    ----------
    cavity, limits, speaker, decoder : Cavity, Limits, Speaker or None, Box or None
        As for `fit_enclosure`. [mm]

    Returns
    -------
    bool
        Whether `fit_enclosure` finds a chamber. [-]

    References
    ----------
    `fit_enclosure`.

    Examples
    --------
    >>> from modelmath.enclosure import Zone
    >>> fits(Cavity((Zone("cab", 0, 20, 5, 15, 10),)), Limits(clearance_mm=11))
    False
    """
    whole = Whole(_less_the_path(cavity, limits), limits, speaker, decoder)
    return bool(Search(whole.cavity, whole.limits, whole.speaker, whole.decoder).candidates())


def _in_mm(mine: Chamber, whole: Whole) -> Chamber:
    chamber: Chamber = whole.lengths(
        mine,
        volume_mm3=whole.back(mine.volume_mm3, 3),
        bays=tuple(whole.bay(bay) for bay in mine.bays),
        governing=whole.bay(mine.governing),
        seat_mm=whole.stretch(mine.seat_mm),
        pocket=None if mine.pocket is None else whole.lengths(mine.pocket),
        boxed=tuple(whole.obstacle(each) for each in mine.boxed),
        narrow=tuple(whole.obstacle(each) for each in mine.narrow),
    )
    return chamber
