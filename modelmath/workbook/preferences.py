"""How a user wants the pages to look: which unit of a size stands first, and how large the type is.

They stand in the workbook folder, so that every page has them and the next session too.
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Final

from modelmath.errors import UnknownChoice
from modelmath.files import write_whole
from modelmath.workbook.alone import alone
from modelmath.workbook.folder import HIDDEN

FILE: Final = "preferences.json"
UNITS: Final = ("scale feet", "inch", "mm")
TYPE_SIZES: Final = ("usual", "large", "very large")


@dataclass(frozen=True)
class Preferences:
    """How the pages look.

    Attributes
    ----------
    first_unit : {"scale feet", "inch", "mm"}
        The unit that stands first where a size is given in all three, and stands out in tables. [-]
    type_size : {"usual", "large", "very large"}
        How large the type is. [-]

    Raises
    ------
    UnknownChoice
        If one of them is another word.
    """

    first_unit: str = UNITS[0]
    type_size: str = TYPE_SIZES[0]

    def __post_init__(self) -> None:
        """Refuse what is none of the choices."""
        if self.first_unit not in UNITS:
            raise UnknownChoice("the unit that stands first", self.first_unit, list(UNITS))
        if self.type_size not in TYPE_SIZES:
            raise UnknownChoice("the size of the type", self.type_size, list(TYPE_SIZES))


def load_preferences(folder: Path) -> Preferences:
    """Return the preferences kept in a workbook folder.

    Parameters
    ----------
    folder : Path
        The workbook folder. [-]

    Returns
    -------
    Preferences
        The usual ones where none are kept; each that can't be read is as usual. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> load_preferences(Path("nowhere")).first_unit
    'scale feet'
    """
    found = Preferences()
    try:
        held = json.loads((folder / HIDDEN / FILE).read_text("utf-8"))
    except (OSError, ValueError, RecursionError):
        return found
    for name in asdict(found):
        try:
            found = replace(found, **{name: held[name]})
        except (KeyError, TypeError, UnknownChoice):
            continue  # how a page looks is never worth a message in its way
    return found


def keep_preferences(folder: Path, preferences: Preferences) -> None:
    """Write the preferences into a workbook folder, whole or not at all.

    Parameters
    ----------
    folder : Path
        The workbook folder. [-]
    preferences : Preferences
        What to keep. [-]

    Raises
    ------
    OSError
        If the folder can't be written.

    References
    ----------
    None needed.
    """
    write_whole(_file(folder), (json.dumps(asdict(preferences), indent=1) + "\n").encode(), through_links=False)


def change_preferences(folder: Path, before: Preferences, now: Preferences) -> Preferences:
    """Keep what was changed on one page, over whatever another has kept since.

    Parameters
    ----------
    folder : Path
        The workbook folder. [-]
    before, now : Preferences
        Those of the page before the change and after it. [-]

    Returns
    -------
    Preferences
        What is kept now. [-]

    Raises
    ------
    OSError
        If the folder can't be written.

    References
    ----------
    None needed.
    """
    old = asdict(before)
    changed = {name: value for name, value in asdict(now).items() if value != old[name]}
    with alone(_file(folder)):
        kept = replace(load_preferences(folder), **changed)
        keep_preferences(folder, kept)
    return kept


def _file(folder: Path) -> Path:
    """Return where they are kept, in a folder that is there."""
    file = folder / HIDDEN / FILE
    file.parent.mkdir(parents=True, exist_ok=True)
    return file
