"""What keeps the workbook to its owner: where its pages may reach, and messages without its token."""

from __future__ import annotations

import logging
import traceback
from typing import Final

IN_PLACE: Final = "[secret]"  # what stands for the token, as in Jupyter's own messages


def page_policy(port: int) -> str:
    """Return the rule by which a browser keeps a page of the workbook to the workbook's own server.

    Whatever text finds its way into a page, nothing there is fetched from, sent to or run from elsewhere.

    Parameters
    ----------
    port : int
        Where the server listens. [-]

    Returns
    -------
    str
        The value of a ``Content-Security-Policy`` header. JupyterLab's parts and anywidget's make code from text, so
        that is allowed. [-]

    References
    ----------
    W3C, Content Security Policy Level 3.

    Examples
    --------
    >>> page_policy(8888).split("; ")[0]
    "default-src 'self'"
    """
    kept_to = {
        "default-src": "'self'",
        "script-src": "'self' 'unsafe-inline' 'unsafe-eval' blob:",
        "style-src": "'self' 'unsafe-inline'",
        "img-src": "'self' data: blob:",
        "font-src": "'self' data:",
        "media-src": "'self' data: blob:",
        # A socket is not 'self' to every browser.
        "connect-src": f"'self' data: blob: ws://127.0.0.1:{port} ws://localhost:{port}",
        "worker-src": "'self' blob:",
        "frame-src": "'self' data: blob:",
        "object-src": "'none'",
        "base-uri": "'self'",
        "form-action": "'self'",
        "frame-ancestors": "'self'",
    }
    return "; ".join(f"{name} {places}" for name, places in kept_to.items())


class WithoutToken(logging.Filter):
    """Takes the token out of a message and of the traceback it may come with.

    A fault is written with the address that was asked for, token and all.

    Parameters
    ----------
    token : str
        What nobody else may read. [-]
    """

    def __init__(self, token: str) -> None:
        super().__init__()
        self._token = token

    def filter(self, record: logging.LogRecord) -> bool:
        """Rewrite a record; none is dropped."""
        text = record.getMessage()
        if record.exc_info and record.exc_info[0] is not None:
            text += "\n" + "".join(traceback.format_exception(*record.exc_info)).rstrip("\n")
        record.msg, record.args = text.replace(self._token, IN_PLACE), ()
        record.exc_info = record.exc_text = None
        return True


def hide_token(token: str) -> None:
    """Take the token out of all that is logged from now on.

    Parameters
    ----------
    token : str
        What nobody else may read. [-]

    References
    ----------
    None needed.
    """
    named = [each for each in logging.Logger.manager.loggerDict.values() if isinstance(each, logging.Logger)]
    hidden = WithoutToken(token)
    for handler in {handler for logger in (logging.getLogger(), *named) for handler in logger.handlers}:
        handler.addFilter(hidden)
