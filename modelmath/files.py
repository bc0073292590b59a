"""Files written whole or not at all, and names for them that every system takes."""

from __future__ import annotations

import errno
import os
import re
import tempfile
from contextlib import suppress
from pathlib import Path
from zlib import crc32

_DEVICE = re.compile("con|prn|aux|nul|(?:com|lpt)[0-9¹²³]")
LONGEST_NAME = 60  # signs; four bytes each at most, which with an ending stays below every system's 255 bytes


def file_name(name: str) -> str:
    """Return a model's name as a file name: letters and digits in lower case, hyphens between them.

    Parameters
    ----------
    name : str
        Any name. [-]

    Returns
    -------
    str
        Never empty, and never a path. [-]

    References
    ----------
    Microsoft, "Naming Files, Paths, and Namespaces": names of devices, which no file may have before its first point.

    Examples
    --------
    >>> file_name("Tarn Valley switcher No. 31"), file_name("../.."), file_name("CON")
    ('tarn-valley-switcher-no-31', 'job', 'con-job')
    """
    spaced = "".join(sign if sign.isalnum() else " " for sign in name.lower())
    name = "-".join(spaced.split())[:LONGEST_NAME].strip("-") or "job"
    return f"{name}-job" if _DEVICE.fullmatch(name) else name


def write_whole(
    file: Path, content: bytes, through_links: bool = True, alone: bool = False, synced: bool = True
) -> None:
    """Write a file whole or not at all.

    Parameters
    ----------
    file : Path
        Where to. [-]
    content : bytes
        What to write. [-]
    through_links : bool
        Whether a link stays and the file it leads to is replaced, or the link itself is. One that leads nowhere is not
        written through. [-]
    alone : bool
        Whether nobody else writes this file now, as under a lock: then one that is killed leaves at most one file
        beside it, which the next writes over. [-]
    synced : bool
        Whether it must be on the disk before this returns, so that it outlives the power too; a program that is
        killed loses nothing either way. [-]

    Raises
    ------
    OSError
        If it can't be written; the old file is untouched and nothing is left behind.

    References
    ----------
    POSIX ``rename`` (replacing a file is atomic) and ``fsync``.
    """
    if through_links:
        if file.is_symlink() and not file.exists():  # a file would come to be wherever the link says
            raise FileNotFoundError(errno.ENOENT, "it is a link that leads nowhere", str(file))
        file = file.resolve()
    mode = file.stat().st_mode & 0o777 if file.exists() and not file.is_symlink() else 0o644
    handle, name = _beside(file) if alone else tempfile.mkstemp(dir=file.parent, prefix=_prefix(file), suffix=".tmp")
    try:
        with os.fdopen(handle, "wb") as out:
            out.write(content)
            out.flush()
            if synced:
                os.fsync(out.fileno())
        os.chmod(name, mode)
        os.replace(name, file)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
    if synced:
        _sync_folder(file.parent)


def _prefix(file: Path) -> str:
    return f".{file.name[:40]}."


def _beside(file: Path) -> tuple[int, str]:
    """Open the one file beside another that it is written in first."""
    name = str(file.with_name(f"{_prefix(file)}{crc32(file.name.encode(errors='surrogateescape')):08x}.tmp"))
    flags = os.O_WRONLY | os.O_CREAT | os.O_TRUNC | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
    return os.open(name, flags, 0o600), name


def _sync_folder(folder: Path) -> None:
    if os.name != "posix":
        return  # other systems can't open a folder to sync it
    with suppress(OSError):  # the file is replaced already; some network folders can't be synced
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
