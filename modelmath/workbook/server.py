"""One JupyterLab server that shows the workbook: on this machine only, with a token, with the app view in it."""

from __future__ import annotations

import os
import secrets
import socket
import sys
import warnings
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from modelmath.errors import OutOfRange
from modelmath.workbook.folder import HIDDEN
from modelmath.workbook.guard import hide_token, page_policy
from modelmath.workbook.lab import lab_config_hook
from modelmath.workbook.pages import OPENS, lab_path, page_config_hook, page_path, prelaunch_hook

HOST = "127.0.0.1"  # never a name: a hosts file may point `localhost` elsewhere
OURS = Path(__file__).resolve().parent / "jupyter"  # the page's template, the kernel's entry, JupyterLab's settings
TEMPLATE = "bench"
IDLE_S = 1800  # a page ends its own kernel when it is left; this is for pages whose browser was killed
# A busy machine may hand an output over late; after 4 s, as it comes, a page is made without it.
OUTPUT_S = 120
# All that a page needs; what else a user has installed may be of another release.
LABEXTENSIONS = ["@jupyter-widgets/jupyterlab-manager", "@voila-dashboards/widgets-manager8", "anywidget"]


@dataclass(frozen=True)
class Address:
    """Where the workbook is shown.

    Attributes
    ----------
    port : int
        On 127.0.0.1.
    lab : bool
        Whether it opens in JupyterLab rather than the app view.
    token : str
        The key that lets a browser in.
    cookie_key : bytes
        Signs the cookie of a browser that was let in; a new one for each opening, so that no cookie outlives it.
    """

    port: int
    lab: bool = False
    token: str = field(default_factory=lambda: secrets.token_hex(24), repr=False)
    cookie_key: bytes = field(default_factory=lambda: secrets.token_bytes(32), repr=False)

    @property
    def path(self) -> str:
        """Path of the page that opens, from the server's root."""
        return lab_path(OPENS) if self.lab else page_path(OPENS)

    @property
    def url(self) -> str:
        """Return the whole address, with the token.

        Examples
        --------
        >>> Address(8888, token="secret").url
        'http://127.0.0.1:8888/voila/render/enclosure.ipynb?token=secret'
        """
        return f"http://{HOST}:{self.port}{self.path}?token={self.token}"


def choose_port(asked: int | None) -> int:
    """Return a port of 127.0.0.1 that nothing listens on.

    Parameters
    ----------
    asked : int or None
        The port to take; None for any that is free. [-]

    Returns
    -------
    int
        The port.

    Raises
    ------
    OutOfRange
        If the port asked for is no port, is in use, or needs rights this user lacks.
    """
    leave_out = "Leave --port out, and a free one is chosen."
    if asked is not None and not 1 <= asked <= 65535:
        raise OutOfRange("--port", str(asked), "from 1 to 65535", leave_out)
    with socket.socket() as probe:
        # As the server itself binds: a port that a server stopped just now still lingers on is free to it.
        if os.name == "posix":
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((HOST, asked or 0))
        except OSError as error:
            raise OutOfRange("--port", f"{asked} ({error.strerror})", "free", leave_out) from error
        return int(probe.getsockname()[1])


def environment(folder: Path, inherited: Mapping[str, str]) -> dict[str, str]:
    """Return the environment variables that point Jupyter at the workbook's own files.

    Ours come first, so that a kernel called ``python3`` in the user's home can't take the place of this
    Python; settings live in the workbook folder, so that the user's other Jupyter neither changes this one
    nor is changed by it.

    Parameters
    ----------
    folder : Path
        The workbook folder. [-]
    inherited : mapping of str to str
        The environment as it is. [-]

    Returns
    -------
    dict of str to str
        Only the variables to set.
    """

    def first(name: str, ours: Path) -> str:
        return os.pathsep.join([str(ours), *filter(None, [inherited.get(name)])])

    settings = folder / HIDDEN
    return {
        "JUPYTER_PATH": first("JUPYTER_PATH", OURS / "share"),
        "JUPYTER_CONFIG_PATH": first("JUPYTER_CONFIG_PATH", OURS / "etc"),
        "JUPYTER_PREFER_ENV_PATH": "1",
        "JUPYTER_CONFIG_DIR": str(settings / "jupyter"),
        "IPYTHONDIR": str(settings / "ipython"),
    }


def settings(folder: Path, address: Address, browser: bool, as_root: bool) -> dict[str, dict[str, Any]]:
    """Return the server's settings, by class and name.

    Parameters
    ----------
    folder : Path
        The workbook folder, the only one the server shows. [-]
    address : Address
        Where it listens. [-]
    browser : bool
        Whether to open one. [-]
    as_root : bool
        Whether the administrator runs it, which Jupyter refuses unless told. [-]

    Returns
    -------
    dict of str to dict
        Values for Jupyter's configuration.
    """
    return {
        "ServerApp": {
            "ip": HOST,
            "port": address.port,
            "port_retries": 0,
            "root_dir": str(folder),
            "default_url": address.path,
            "open_browser": browser,
            "use_redirect_file": False,  # packaged browsers can't read the hidden file it would be in
            "cookie_secret": address.cookie_key,
            # What is as it is anyway, unless a file of settings for all of this machine's users says otherwise.
            "allow_origin": "",
            "allow_origin_pat": "",
            "allow_remote_access": False,
            "disable_check_xsrf": False,
            "allow_unauthenticated_access": False,
            "tornado_settings": {"headers": {"Content-Security-Policy": page_policy(address.port)}},
            "allow_root": as_root,
            "answer_yes": True,  # Ctrl+C stops at once; work is in files, not in the server
            "jpserver_extensions": {"jupyterlab": True, "voila.server_extension": True},
        },
        "IdentityProvider": {"token": address.token, "cookie_options": {"samesite": "Strict"}},
        "PasswordIdentityProvider": {"hashed_password": "", "allow_password_change": False},
        "LabApp": {"default_url": address.path, "extension_manager": "readonly"},  # else it asks a public index
        "Application": {"log_level": "ERROR"},
        "MappingKernelManager": {"cull_idle_timeout": IDLE_S, "cull_interval": 60, "cull_connected": False},
        "AsyncMappingKernelManager": {"transport_encryption": "auto"},  # between server and kernel, where supported
        "VoilaExecutor": {"iopub_timeout": OUTPUT_S},
        "VoilaConfiguration": {
            "template": TEMPLATE,
            "allow_template_override": "NO",
            "allow_theme_override": "NO",
            "file_allowlist": [],  # it asks for no token; /files/ shows the workbook's files to who has it
            "extension_allowlist": LABEXTENSIONS,
            "prelaunch_hook": prelaunch_hook,
            "page_config_hook": page_config_hook(folder),
        },
    }


def can_open_browser(environ: Mapping[str, str], platform: str = sys.platform) -> bool:
    """Return whether opening a browser makes sense: not where it would be a text browser in this terminal.

    Examples
    --------
    >>> can_open_browser({}, "linux"), can_open_browser({"DISPLAY": ":0"}, "linux"), can_open_browser({}, "darwin")
    (False, True, True)
    """
    if not platform.startswith(("linux", "freebsd")):
        return True
    return any(environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY", "BROWSER", "WSL_DISTRO_NAME"))


def serve(folder: Path, address: Address, browser: bool, as_root: bool, ready: Callable[[], None]) -> None:
    """Show the workbook until it is stopped.

    Parameters
    ----------
    folder : Path
        The workbook folder. [-]
    address : Address
        Where to listen. [-]
    browser : bool
        Whether to open one. [-]
    as_root : bool
        Whether the administrator runs it. [-]
    ready : function
        Called once when the server listens.
    """
    os.environ.update(environment(folder, os.environ))
    os.chdir(folder)  # Voila reads settings from the current folder: let that be the user's own
    import voila  # noqa: F401 (first: it turns on the notices that the next line turns off)
    from jupyterlab.labapp import LabApp  # type: ignore[import-untyped]  # the library ships no types
    from traitlets.config import Config

    warnings.simplefilter("ignore", DeprecationWarning)  # of one library to another: nothing the user can act on
    # Of parts that leave it to the server to ask for the token, as it is told to.
    warnings.filterwarnings("ignore", "(Core|Extension) endpoints without", RuntimeWarning)
    config = Config(settings(folder, address, browser, as_root))
    server = LabApp.initialize_server(argv=[], config=config)
    server.web_app.settings["page_config_hook"] = lab_config_hook
    server.no_browser_open_file = True  # the token would be in it, for all to read
    hide_token(address.token)
    server.io_loop.add_callback(ready)  # behind the one that binds the port, which waits for the loop too
    server.start()
