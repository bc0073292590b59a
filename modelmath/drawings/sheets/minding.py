"""The usual cautions on paper, beside what they are for."""

from __future__ import annotations

from reportlab.platypus import Flowable

from modelmath.drawings.sheets.style import NOTE, words
from modelmath.job.cautions import Caution, cautions_on


def cautioned(*topics: str) -> list[Flowable]:
    """Build the cautions on some topics, each in a line of its own.

    Parameters
    ----------
    *topics : str
        As in data/cautions.csv. [-]

    Returns
    -------
    list of Flowable
        In the table's order. [-]

    References
    ----------
    data/cautions.csv, each with its source.
    """
    return [words(_said(each), NOTE) for each in cautions_on(*topics)]


def in_one(*topics: str) -> Flowable:
    """Build the cautions on some topics as one paragraph, for where room is short.

    Parameters
    ----------
    *topics : str
        As in data/cautions.csv. [-]

    Returns
    -------
    Flowable
        In the table's order. [-]

    References
    ----------
    data/cautions.csv, each with its source.
    """
    return words(" ".join(map(_said, cautions_on(*topics))), NOTE)


def _said(caution: Caution) -> str:
    return f"Caution, {caution.topic}: {caution.text}"
