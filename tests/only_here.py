"""A watch over a Python process: it reaches nothing outside this machine, whatever it runs."""

from __future__ import annotations

import ipaddress
import sys
from pathlib import Path
from typing import Any

AS_KERNEL = "watched kernel"  # the name under which this file is run by a kernel as it starts
NAMES = ("localhost", "")
ASKS_FOR_A_NAME = ("socket.getaddrinfo", "socket.gethostbyname", "socket.gethostbyaddr")
SENDS = ("socket.connect", "socket.sendto", "socket.sendmsg")


class ReachedOut(BaseException):
    """Something reached for another machine; no `except Exception` of a library hides that."""


def is_here(host: object) -> bool:
    """Whether a host is this machine."""
    if host is None:
        return True
    name = host.decode(errors="replace") if isinstance(host, bytes | bytearray) else str(host)
    if name in NAMES:
        return True
    try:
        address = ipaddress.ip_address(name.split("%")[0])
    except ValueError:
        return False
    return address.is_loopback or address.is_unspecified


def _reached(event: str, given: tuple[Any, ...]) -> object:
    """The host that an event reaches for; None where it is none, as for a socket that is a file."""
    if event in ASKS_FOR_A_NAME:
        return given[0]
    if event in SENDS and isinstance(given[1], tuple) and given[1]:
        return given[1][0]
    return None


def _watch(event: str, given: tuple[Any, ...]) -> None:
    if event.startswith("socket.") and not is_here(host := _reached(event, given)):
        raise ReachedOut(f"{event}: {host!r}")


def watch() -> None:
    """Watch this process from now on."""
    sys.addaudithook(_watch)


def startup(folder: Path) -> None:
    """Write an IPython folder whose kernels are watched from their start."""
    place = folder / "profile_default" / "startup"
    place.mkdir(parents=True)
    line = f"__import__('runpy').run_path({str(Path(__file__).resolve())!r}, run_name={AS_KERNEL!r})\n"
    (place / "00-only-here.py").write_text(line, "utf-8")


if __name__ == AS_KERNEL:
    watch()
