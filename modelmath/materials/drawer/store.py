"""The drawer's file: several pages and notebooks share it, and none overwrites another's change unseen.

The file holds the drawer, its earlier states and those undone, so that a change and the way back are written
together, whole or not at all. Its mark is a digest of all of it: who saves says which state the change goes by.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from modelmath.errors import ModelMathError
from modelmath.files import write_whole
from modelmath.materials.drawer.drawer import Drawer
from modelmath.materials.drawer.states import BROKEN, LARGEST, Content, DrawerFault, State, read_content, to_bytes

KEPT_STATES = 50  # earlier states; the oldest goes when one more comes
WAIT_S = 10  # for another page that is writing; a write takes a fraction of a second


class DrawerChanged(ModelMathError):
    """The drawer was changed elsewhere since it was read: nothing was written."""

    def __init__(self, theirs: Kept) -> None:
        super().__init__(theirs)
        self.theirs = theirs

    def __str__(self) -> str:
        return (
            f"The drawer was changed elsewhere in the meantime ({self.theirs.what or 'a new drawer'}). Nothing was "
            "written: take over what is there now, or save yours over it."
        )


@dataclass(frozen=True)
class Kept:
    """The drawer as its file has it.

    Attributes
    ----------
    drawer : Drawer
        What is on hand. [mm]
    revision : str
        Mark of this state; empty where there is no file yet. [-]
    what : str
        The last change in a few words. [-]
    undoes, redoes : str
        What undoing and redoing would change, in a few words; empty where there is nothing to. [-]
    """

    drawer: Drawer
    revision: str = ""
    what: str = ""
    undoes: str = ""
    redoes: str = ""

    @property
    def can_undo(self) -> bool:
        """Whether there is an earlier state. [-]"""
        return bool(self.undoes)

    @property
    def can_redo(self) -> bool:
        """Whether a change was undone, and none made since. [-]"""
        return bool(self.redoes)


def load_drawer(file: Path) -> Kept:
    """Read the drawer; where there is no file yet, the demo drawer.

    Parameters
    ----------
    file : Path
        Its file. [-]

    Returns
    -------
    Kept
        The drawer and the mark of its state. [mm]

    Raises
    ------
    DrawerFault
        If the file can't be read, or is no drawer.

    References
    ----------
    ECMA-404 for JSON.
    """
    return _kept(*read_content(file))


def save_drawer(file: Path, drawer: Drawer, based_on: str, what: str, over: bool = False) -> Kept:
    """Write the drawer anew, if it is still as it was when it was read.

    Parameters
    ----------
    file : Path
        Its file. [-]
    drawer : Drawer
        What is on hand now. [mm]
    based_on : str
        `Kept.revision` of the state that was changed. [-]
    what : str
        The change in a few words. [-]
    over : bool
        Whether to write even over a change made elsewhere, which can then be undone to. [-]

    Returns
    -------
    Kept
        The new state. [mm]

    Raises
    ------
    DrawerChanged
        If it was changed elsewhere; holds that state.
    DrawerFault
        If the file can't be read or written.

    References
    ----------
    Optimistic concurrency control: H. T. Kung and J. T. Robinson, ACM TODS 6 (1981) 213.
    """
    with _locked(file):
        content, mark = read_content(file)
        if mark != based_on and not over:
            raise DrawerChanged(_kept(content, mark))
        return _written(file, _with(content, drawer, what))


def change_drawer(file: Path, change: Callable[[Drawer], Drawer], what: str) -> Kept:
    """Change the drawer as it is now, whatever it was before; no other change comes between.

    Parameters
    ----------
    file : Path
        Its file. [-]
    change : function of Drawer
        Returns the drawer changed; where it raises, nothing is written. [-]
    what : str
        The change in a few words. [-]

    Returns
    -------
    Kept
        The new state. [mm]

    Raises
    ------
    DrawerFault
        If the file can't be read or written.

    References
    ----------
    As `save_drawer`.
    """
    with _locked(file):
        content, _ = read_content(file)
        return _written(file, _with(content, change(content.present.drawer), what))


def undo(file: Path, based_on: str) -> Kept:
    """Go back to the state before the last change.

    Parameters
    ----------
    file : Path
        Its file. [-]
    based_on : str
        `Kept.revision` of the state that is undone. [-]

    Returns
    -------
    Kept
        The earlier state; as it is where there is none. [mm]

    Raises
    ------
    DrawerChanged
        If it was changed elsewhere in the meantime.
    DrawerFault
        If the file can't be read or written.

    References
    ----------
    None needed.
    """
    return _moved(file, based_on, -1)


def redo(file: Path, based_on: str) -> Kept:
    """Make the change again that was undone last.

    Parameters
    ----------
    file : Path
        Its file. [-]
    based_on : str
        `Kept.revision` of the present state. [-]

    Returns
    -------
    Kept
        The state after it; as it is where nothing was undone. [mm]

    Raises
    ------
    DrawerChanged
        If it was changed elsewhere in the meantime.
    DrawerFault
        If the file can't be read or written.

    References
    ----------
    None needed.
    """
    return _moved(file, based_on, 1)


def _moved(file: Path, based_on: str, by: int) -> Kept:
    with _locked(file):
        content, mark = read_content(file)
        if mark != based_on:
            raise DrawerChanged(_kept(content, mark))
        if not 0 <= content.at + by < len(content.states):
            return _kept(content, mark)
        moved = Content(content.states, content.at + by, content.number)
        try:
            _ = moved.present.drawer
        except BROKEN as fault:
            problem = f"the state it would go to can't be read ({type(fault).__name__})"
            raise DrawerFault(file.name, problem, "go on from the present one; nothing was changed") from None
        return _written(file, moved)


def _with(content: Content, drawer: Drawer, what: str) -> Content:
    states = [*content.states[: content.at + 1], State.of(what, drawer)][-KEPT_STATES - 1 :]
    return Content(states, len(states) - 1, content.number)


def _kept(content: Content, mark: str) -> Kept:
    undoes = content.present.what if content.at else ""
    redoes = content.states[content.at + 1].what if content.at + 1 < len(content.states) else ""
    return Kept(content.present.drawer, mark, content.present.what, undoes, redoes)


@contextmanager
def _locked(file: Path) -> Iterator[None]:
    """Keep every other page from writing; a lock left by one that died is free again.

    The lock lies beside the file itself, whatever links lead to it.
    """
    from filelock import FileLock, Timeout

    try:
        real = file.resolve()
        lock = FileLock(str(real.with_name(f".{real.name}.lock")), timeout=WAIT_S)
        file.parent.mkdir(parents=True, exist_ok=True)
        lock.acquire()
    except Timeout:
        problem = f"another page has been writing it for {WAIT_S} s"
        raise DrawerFault(file.name, problem, "close other pages of the workbook and try again") from None
    except OSError as fault:
        raise _refused(file, fault) from None
    try:
        yield
    finally:
        lock.release()


def _refused(file: Path, fault: OSError) -> DrawerFault:
    reason = (fault.strerror or "the folder refuses").lower()
    return DrawerFault(str(file), f"it can't be written: {reason}", "check the folder; nothing was changed")


def _written(file: Path, content: Content) -> Kept:
    content, raw = to_bytes(content)
    if len(raw) > LARGEST:
        problem = f"it would be larger than {LARGEST // 1_000_000} MB"
        raise DrawerFault(file.name, problem, "keep fewer rows; nothing was changed")
    try:
        write_whole(file, raw, alone=True)
    except OSError as fault:
        raise _refused(file, fault) from None
    return _kept(content, sha256(raw).hexdigest())
