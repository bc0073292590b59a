"""Where the workbook's files are: the jobs to choose from, and the folders that a save and a print go to."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import quote

from modelmath.tables import data_folder
from modelmath.workbook.folder import DEFAULT_FOLDER, source_home

if TYPE_CHECKING:
    from modelmath.materials.drawer.drawer import Drawer

DRAWER = "drawer.json"


def workbook_folder() -> Path:
    """Return the folder this notebook runs in, or the default one when that is the package or a checkout."""
    here = Path.cwd()
    return Path(DEFAULT_FOLDER).expanduser() if source_home(here) else here


def job_files() -> dict[str, Path]:
    """Return the job files to choose from by name: the workbook's own, and the demos that it does not hold."""
    found: dict[str, Path] = {}
    for folder in (Path(str(data_folder())) / "jobs", workbook_folder() / "jobs"):
        if folder.is_dir():
            found.update({file.stem: file for file in sorted(folder.glob("*.toml"))})
    return dict(sorted(found.items()))


def own_drawer() -> Drawer | None:
    """Return the workbook's drawer, for a job that lists no stock of its own; None as long as it is the demo's."""
    from modelmath.materials.drawer.store import load_drawer

    kept = load_drawer(workbook_folder() / DRAWER)
    return None if kept.drawer.demo else kept.drawer


def link(file: Path) -> str:
    """Return the address at which the workbook's own server shows a file of its folder."""
    return "/files/" + "/".join(quote(part) for part in file.relative_to(workbook_folder()).parts)
