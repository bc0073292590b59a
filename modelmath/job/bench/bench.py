"""The job document read into rules, readings, heights and places; every fault with its place in the document."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from copy import copy
from dataclasses import dataclass, field
from fractions import Fraction
from functools import partial
from typing import Any

from modelmath.enclosure import Box, Limits, Speaker
from modelmath.errors import (
    JobError,
    ModelMathError,
    OutOfRange,
    UnknownChoice,
    UnreadableLength,
    nearest,
    shown,
)
from modelmath.job.bench.agree import check_agreement, check_names
from modelmath.job.bench.contents import check_lengths, decoder_of, limits_of, speaker_of, stock_of
from modelmath.job.bench.heights import Depth, check_stations, depth_of
from modelmath.job.bench.lights import Lights, lights_of
from modelmath.job.bench.moving import Moving, moving_of
from modelmath.job.bench.noted import AlreadyNoted
from modelmath.job.bench.places import Ends, ends_of
from modelmath.job.bench.ruled import marks_of, read_readings, read_rules
from modelmath.job.bench.sections import Section, sections_of
from modelmath.job.bench.sounds import Sounds, sounds_of
from modelmath.job.bench.standing import standing_of
from modelmath.job.bench.varying import Varying, varying_of
from modelmath.job.document import Job, ReadingEntry, SpeakerEntry
from modelmath.job.storage.locate import Path, in_words
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.rules import Rule
from modelmath.lengths.rules.readings import Reading
from modelmath.lengths.scales import Scale, scale
from modelmath.materials import Held, OnHand, StockSheet, StockStrip

MOST_NAMES = 8  # that a message lists when none is near


@dataclass
class Bench:
    """Everything a plan needs, read from one job document.

    Attributes
    ----------
    job : Job
        The document. [-]
    file : str
        Its file's name, for messages. [-]
    faults : list of JobError
        All that could not be read. [-]
    shared : OnHand or None
        The drawer, for a job that lists no stock of its own. [mm]
    """

    job: Job
    file: str = "the job"
    faults: list[JobError] = field(default_factory=list)
    shared: OnHand | None = None

    def __post_init__(self) -> None:
        self._document = self.job.model_dump()
        self.scale: Scale = self.trying(("scale",), lambda: scale(self.job.scale)) or scale("HO")
        self.rules: dict[str, Rule] = {}
        self.readings: dict[str, Reading] = {}
        self.links: dict[str, Reading] = {}
        check_names(self)
        read_rules(self)
        read_readings(self)
        self.marks = self.trying(("marking", "rule"), lambda: marks_of(self))
        self.depths: tuple[Depth, ...] = ()
        self.ends: Ends | None = None
        if not self.faults:
            check_stations(self)
            self.depths = tuple(self._each("zones", partial(depth_of, self)))
        if not self.faults and self.job.length is not None:
            self.ends = self.trying(("length",), lambda: ends_of(self))
        self.varying: Varying = varying_of(self)
        self.moving: tuple[Moving, ...] = () if self.faults else (*moving_of(self), *standing_of(self))
        self.profiles: dict[str, Section] = {} if self.faults else sections_of(self)
        self.limits: Limits | None = self.trying(("clearance",), lambda: limits_of(self))
        self.speaker: Speaker | None = self.trying(("speaker",), lambda: speaker_of(self))
        self.decoder: Box | None = self.trying(("decoder",), lambda: decoder_of(self))
        self.sounds: Sounds = sounds_of(self)
        self.lights: Lights = lights_of(self)
        own: tuple[StockStrip | StockSheet, ...] = tuple(self._each("drawer", partial(stock_of, self)))
        if not own and self.shared is not None:
            own = (*self.shared.strips, *self.shared.sheets)
        self.drawer = tuple(each for each in own if isinstance(each, StockStrip))
        self.sheets = tuple(each for each in own if isinstance(each, StockSheet))
        check_lengths(self)
        check_agreement(self)

    def keeping(self, job: Job) -> Bench:
        """Return the bench of a job that differs from its own only in the clearances that are kept.

        Parameters
        ----------
        job : Job
            The other job. [-]

        Returns
        -------
        Bench
            All else as it was read. [-]

        References
        ----------
        None needed.
        """
        other = copy(self)
        other.job, other.faults = job, []
        other._document = {**self._document, "clearance": job.clearance.model_dump()}
        other.limits = other.trying(("clearance",), lambda: limits_of(other))
        return other

    def faults_with(self, entry: SpeakerEntry) -> list[JobError]:
        """Return what the document would refuse of another speaker, all else as it was read.

        Parameters
        ----------
        entry : SpeakerEntry
            The speaker's table. [-]

        Returns
        -------
        list of JobError
            The faults; none where it is taken. [-]

        References
        ----------
        None needed.
        """
        other = copy(self)
        other.job, other.faults = self.job.model_copy(update={"speaker": entry}), []
        other._document = {**self._document, "speaker": entry.model_dump()}
        other.speaker = other.trying(("speaker",), lambda: speaker_of(other))
        sounds_of(other)
        check_agreement(other)
        return other.faults

    # Reading one thing, with its place kept for the message.

    @contextmanager
    def at(self, *path: str | int) -> Iterator[None]:
        """Turn any of our errors into one that names its place in the document, and keep it.

        Parameters
        ----------
        *path : str and int
            The place in the document. [-]

        References
        ----------
        None needed.
        """
        try:
            yield
        except AlreadyNoted:
            pass
        except ModelMathError as fault:
            found = fault if isinstance(fault, JobError) else self.located(path, fault)
            if found.args not in [each.args for each in self.faults]:  # some lengths are read twice
                self.faults.append(found)

    def located(self, path: Path, fault: ModelMathError) -> JobError:
        """Return an error with its place in the document.

        Parameters
        ----------
        path : tuple of str and int
            The place in the document. [-]
        fault : ModelMathError
            What is wrong. [-]

        Returns
        -------
        JobError
            The same, with its place. [-]

        References
        ----------
        None needed.
        """
        where = in_words(path, self._document)
        if isinstance(fault, UnreadableLength):
            return JobError(self.file, where, f"{shown(fault.given)}: {fault.problem}", f"write {fault.write}", path)
        if isinstance(fault, UnknownChoice):
            # Names may have commas in them, so each stands in quotes; a long job has too many to list.
            near = nearest(fault.given, fault.allowed) or list(dict.fromkeys(fault.allowed))[:MOST_NAMES]
            names = " or ".join(shown(name) for name in near)
            write = (
                f"write {names}"
                if near
                else f"leave it out, or enter a {fault.name.removeprefix('the ')} of that name first"
            )
            return JobError(self.file, where, f"{fault.name} is {shown(fault.given)}", write, path)
        return JobError(self.file, where, str(fault), "", path)

    def trying(self, path: Path, read: Callable[[], Any]) -> Any:
        """Return what is read at a place; None, and a fault of the bench, where it can't be.

        Parameters
        ----------
        path : tuple of str or int
            Its place in the document. [-]
        read : callable
            Reads it. [-]

        Returns
        -------
        object or None
            What was read. [-]

        References
        ----------
        None needed.
        """
        with self.at(*path):
            return read()
        return None

    def _each(self, table: str, read: Callable[[Any, int], Any]) -> Iterator[Any]:
        for place, entry in enumerate(getattr(self.job, table)):
            found = self.trying((table, place), partial(read, entry, place))
            if found is not None:
                yield found

    def length(self, text: str, *path: str | int, zero: bool = True) -> Fraction:
        """Read a length that names its unit; scale feet are of the job's scale.

        Parameters
        ----------
        text : str
            As written in the document. [-]
        *path : str and int
            Its place in the document. [-]
        zero : bool
            Whether 0 makes sense here. [-]

        Returns
        -------
        Fraction
            The length. [mm]

        Raises
        ------
        JobError
            If it can't be read, or is below 0.

        References
        ----------
        `parse_length_exact`.
        """
        try:
            value = parse_length_exact(text, scale=self.scale)
            if value < 0 or (value == 0 and not zero):
                remedy = "Check the sign." if value < 0 else "Measure it, and write its size."
                raise OutOfRange("the length", shown(text), "0 or more" if zero else "above 0", remedy)
        except ModelMathError as fault:
            raise self.located(path, fault) from None
        return value

    def place(self, text: str, *path: str | int) -> Fraction:
        """Read a place or an offset, which may lie on either side of 0.

        Parameters
        ----------
        text : str
            As written in the document, such as ``-3 mm``. [-]
        *path : str and int
            Its place in the document. [-]

        Returns
        -------
        Fraction
            The place. [mm]

        Raises
        ------
        JobError
            If it can't be read.

        References
        ----------
        `parse_length_exact`.
        """
        try:
            return parse_length_exact(text, scale=self.scale)
        except ModelMathError as fault:
            raise self.located(path, fault) from None

    def working_out(self, path: Path, make: Callable[[], Any]) -> Any:
        """Work something out from a field; a fault in it stands at that field.

        Parameters
        ----------
        path : tuple of str and int
            The field's place in the document. [-]
        make : callable
            What to work out. [-]

        Returns
        -------
        object
            What it returns. [-]

        Raises
        ------
        JobError
            If it raises one of our errors.

        References
        ----------
        None needed.
        """
        try:
            return make()
        except ModelMathError as fault:
            raise self.located(path, fault) from None

    # Readings by their names.

    def reading(self, name: str) -> Reading:
        """Return a reading by its name.

        Parameters
        ----------
        name : str
            As in the document. [-]

        Returns
        -------
        Reading
            The reading. [mm]

        Raises
        ------
        UnknownChoice
            If no reading is called so.

        References
        ----------
        None needed.
        """
        if name in self.readings:
            return self.readings[name]
        names = [entry.name for entry in self.job.readings]
        if name in names:
            raise AlreadyNoted
        raise UnknownChoice("the reading", name, names)

    def entry(self, name: str) -> ReadingEntry:
        """Return a reading's entry in the document by its name.

        Parameters
        ----------
        name : str
            As in the document. [-]

        Returns
        -------
        ReadingEntry
            Its entry. [-]

        References
        ----------
        None needed.
        """
        return next(each for each in self.job.readings if each.name == name)

    # What goes in, and what it is made from.

    @property
    def flange_mm(self) -> Fraction | None:
        """Thickness of the speaker's flange, as soon as it is given. [mm]"""
        entry = self.job.speaker
        if entry is None or entry.flange is None:
            return None
        return self.length(entry.flange, "speaker", "flange", zero=False)

    @property
    def on_hand(self) -> Held:
        """The stock on hand: the job's own, or that of the drawer. [mm]"""
        return Held(self.drawer, self.sheets)
