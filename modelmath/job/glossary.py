"""The words of the trade that pages and sheets use, each with its meaning: data/glossary.csv."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache

from modelmath.errors import TableError, UnknownChoice
from modelmath.tables import rows

FILE = "glossary.csv"
PACKET = "packet"  # stands among the pages for the printed sheets
_ENDINGS = r"(?:s|es|'s|s')?"


@dataclass(frozen=True)
class Word:
    """One word of the trade.

    Attributes
    ----------
    term : str
        The word as pages and sheets have it. [-]
    also_called : tuple of str
        Other words for the same. [-]
    meaning : str
        One or two plain sentences. [-]
    pages : tuple of str
        Where it is met most: names of the workbook's pages, and ``packet`` for the printed sheets. [-]
    source : str
        Where the meaning comes from. [-]
    """

    term: str
    also_called: tuple[str, ...]
    meaning: str
    pages: tuple[str, ...]
    source: str

    @property
    def names(self) -> tuple[str, ...]:
        """The word and what else it is called. [-]"""
        return (self.term, *self.also_called)


@cache
def glossary() -> tuple[Word, ...]:
    """Return every word of data/glossary.csv, in alphabetical order.

    Returns
    -------
    tuple of Word
        In the table's order. [-]

    Raises
    ------
    TableError
        If a row has no meaning or no page, or a name stands in two rows.

    References
    ----------
    data/glossary.csv, each row with its source.

    Examples
    --------
    >>> next(word.meaning for word in glossary() if word.term == "web")
    'The material left between two holes, or between a hole and an edge.'
    """
    found: dict[str, str] = {}
    words = []
    for line, row in rows(FILE):
        word = Word(row["term"], _parts(row["also_called"]), row["meaning"], _parts(row["pages"]), row["source"])
        if not word.meaning or not word.pages:
            raise TableError(FILE, line, f"{word.term} has no meaning or no page")
        for name in word.names:
            if name in found:
                raise TableError(FILE, line, f"{name!r} stands for {found[name]} already")
            found[name] = word.term
        words.append(word)
    return tuple(words)


def find_words(text: str = "", page: str = "") -> tuple[Word, ...]:
    """Return the words that fit what is looked for, those whose name fits before those whose meaning does.

    Parameters
    ----------
    text : str
        A word or part of one; empty for all. [-]
    page : str
        Only words met on this page; empty for every page. [-]

    Returns
    -------
    tuple of Word
        The best first; each group in the glossary's order. [-]

    Raises
    ------
    UnknownChoice
        If no word is met on a page of that name.

    References
    ----------
    `glossary`.

    Examples
    --------
    >>> [word.term for word in find_words("number d")]
    ['number drill']
    """
    words = glossary()
    if page:
        pages = pages_with_words()
        if page not in pages:
            raise UnknownChoice("the page", page, pages)
        words = tuple(word for word in words if page in word.pages)
    asked = _plain(text)
    if not asked:
        return words
    ranked = [(_rank(word, asked), word) for word in words]
    return tuple(word for rank in range(_NOWHERE) for found, word in ranked if found == rank)


_NOWHERE = 4


def _rank(word: Word, asked: str) -> int:
    """Return how well a word fits what is asked for: 0 for its very name, and up to 4 for not at all. [-]"""
    names = [_plain(name) for name in word.names]
    if asked in names:
        return 0
    if any(name.startswith(asked) for name in names):
        return 1
    if any(asked in name for name in names):
        return 2
    return 3 if asked in _plain(word.meaning) else _NOWHERE


def nearest_word(text: str) -> str:
    """Return the word whose name comes nearest to a text.

    Parameters
    ----------
    text : str
        A word, perhaps misspelt. [-]

    Returns
    -------
    str
        A word's term; empty where none is near. [-]

    References
    ----------
    `difflib.get_close_matches` of the standard library.

    Examples
    --------
    >>> nearest_word("bulkhed"), nearest_word("zzzz")
    ('bulkhead', '')
    """
    names = {_plain(name): word.term for word in glossary() for name in word.names}
    near = get_close_matches(_plain(text), names, n=1)
    return names[near[0]] if near else ""


def words_named(terms: Iterable[str]) -> tuple[Word, ...]:
    """Return words by their terms.

    Parameters
    ----------
    terms : iterable of str
        Terms of the glossary. [-]

    Returns
    -------
    tuple of Word
        In the order asked for. [-]

    Raises
    ------
    UnknownChoice
        If one is no term of the glossary.

    References
    ----------
    `glossary`.

    Examples
    --------
    >>> [word.term for word in words_named(["seat", "chassis"])]
    ['seat', 'chassis']
    """
    by_term = {word.term: word for word in glossary()}
    found = []
    for term in terms:
        if term not in by_term:
            raise UnknownChoice("the word", term, list(by_term))
        found.append(by_term[term])
    return tuple(found)


def words_in(text: str) -> tuple[Word, ...]:
    """Return the words of the glossary that a text uses, by any of their names, singular or plural.

    Parameters
    ----------
    text : str
        Any text, such as that of a page. [-]

    Returns
    -------
    tuple of Word
        In the glossary's order. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> [word.term for word in words_in("Glue the bulkheads; mind the seat.")]
    ['bulkhead', 'seat']
    """
    small = text.casefold()
    return tuple(word for word in glossary() if any(_is_in(name, text, small) for name in word.names))


def pages_with_words() -> tuple[str, ...]:
    """Return the names of all pages on which words are met, in alphabetical order."""
    return tuple(sorted({page for word in glossary() for page in word.pages}))


def _is_in(name: str, text: str, small: str) -> bool:
    """Return whether a text has a name in it; `small` is the same text without capitals, to be looked through first."""
    return all(part in small for part in name.casefold().split()) and _pattern(name).search(text) is not None


@cache
def _pattern(name: str) -> re.Pattern[str]:
    """Return what finds a name in a text; one with capitals, such as LED or N, only as it is written."""
    spaced = r"\s+".join(re.escape(part) for part in name.split())
    flags = 0 if any(sign.isupper() for sign in name) else re.IGNORECASE
    return re.compile(rf"(?<![\w-]){spaced}{_ENDINGS}(?!\w)", flags)


def _parts(text: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in text.split(";") if part.strip())


def _plain(text: str) -> str:
    return " ".join(text.casefold().replace("-", " ").split())
