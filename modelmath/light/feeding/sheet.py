"""What the user's own decoder sheet says of its outputs. Nothing is built in: what is not entered is not known."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from modelmath.errors import OutOfRange, WrongKind, shown
from modelmath.light.feeding.amounts import check_amount
from modelmath.light.feeding.loads import check_name
from modelmath.quantities.known import Known

# What a message calls each figure, and its unit.
FIGURES = {
    "supply_v": ("the voltage of the outputs", "V"),
    "each_a": ("the most current of one output", "A"),
    "all_a": ("the most current of all outputs together", "A"),
    "whole_a": ("the most current of the whole decoder", "A"),
    "idle_w": ("the decoder's own heat", "W"),
}


def same_name(one: str, other: str) -> bool:
    """Return whether two names of an output mean the same one: capitals and spaces do not count.

    Parameters
    ----------
    one, other : str
        The names. [-]

    Returns
    -------
    bool
        Whether they do. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> same_name("Front white", "front  White "), same_name("F1", "F2")
    (True, False)
    """
    return _plain(one) == _plain(other)


@lru_cache(maxsize=1024)
def _plain(name: str) -> str:
    return " ".join(name.split()).casefold()


@dataclass(frozen=True)
class DecoderSheet:
    """The figures of a decoder's sheet that lamps ask for.

    Attributes
    ----------
    supply_v : Known or None
        Voltage between the common wire and an output that is on. [V]
    each_a : Known or None
        Most current of one output. [A]
    all_a : Known or None
        Most current of all outputs together. [A]
    whole_a : Known or None
        Most current of the whole decoder, motor and sound with the outputs. [A]
    idle_w : Known or None
        The heat that the decoder makes itself. [W]
    outputs : tuple of str
        Names of its outputs; none where they are not entered. [-]
    own_a : tuple of (str, Known)
        Outputs that may give another current than the others, with that current. [A]

    Raises
    ------
    WrongKind
        If a figure is not a `Known`.
    OutOfRange
        If a figure is not above 0, an output is named twice, or a limit is of an output that is not named.
    UnreadableLength
        If an output's name is empty.

    References
    ----------
    The user's own sheet.

    Examples
    --------
    >>> sheet = DecoderSheet(each_a=Known.of(0.1), outputs=("white", "yellow"))
    >>> sheet.limit_of("White").value, sheet.all_a is None
    (0.1, True)
    """

    supply_v: Known | None = None
    each_a: Known | None = None
    all_a: Known | None = None
    whole_a: Known | None = None
    idle_w: Known | None = None
    outputs: tuple[str, ...] = ()
    own_a: tuple[tuple[str, Known], ...] = ()

    def __post_init__(self) -> None:
        for field, (name, unit) in FIGURES.items():
            if (figure := getattr(self, field)) is not None:
                _check_figure(name, figure, unit, zero=field == "idle_w")
        seen: set[str] = set()
        for output in self.outputs:
            check_name("an output of the decoder", output)
            if _plain(output) in seen:
                expected = "named once; capitals and spaces do not count"
                raise OutOfRange("an output of the decoder", f"{shown(output)} twice", expected, "Rename one of them.")
            seen.add(_plain(output))
        for output, figure in self.own_a:
            _check_figure(f"the most current of output '{output}'", figure, "A")
            if _plain(output) not in seen:
                expected = f"one of {', '.join(self.outputs)}" if self.outputs else "an output of the sheet"
                remedy = "Add it to the outputs, or correct its name."
                raise OutOfRange("an output with a limit of its own", shown(output), expected, remedy)

    def limit_of(self, output: str) -> Known | None:
        """Return the most current of one output.

        Parameters
        ----------
        output : str
            Its name. [-]

        Returns
        -------
        Known or None
            Its own limit, else that of each; None where neither is entered. [A]

        References
        ----------
        The user's own sheet.
        """
        return next((figure for name, figure in self.own_a if same_name(name, output)), self.each_a)

    def output_named(self, name: str) -> str | None:
        """Return an output as the sheet writes it.

        Parameters
        ----------
        name : str
            What it is called elsewhere. [-]

        Returns
        -------
        str or None
            Its name on the sheet; None if the sheet has none of that name. [-]

        References
        ----------
        None needed.
        """
        plain = _plain(name)
        return next((output for output in self.outputs if _plain(output) == plain), None)


def _check_figure(name: str, figure: object, unit: str, *, zero: bool = False) -> None:
    if not isinstance(figure, Known):
        remedy = "Read it from text with parse_quantity, or write Known.of with the number."
        raise WrongKind(name, shown(str(figure)), "a figure with its origin", remedy)
    check_amount(name, figure.low, unit, zero=zero)
