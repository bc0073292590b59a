"""The glossary: each row whole, in order, found by any of its names; what it says of scales agrees with their table."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import TableError, UnknownChoice
from modelmath.job import glossary as module
from modelmath.job.glossary import find_words, glossary, nearest_word, pages_with_words, words_in, words_named
from modelmath.lengths.scales import scale

WORDS = glossary()
BY_TERM = {word.term: word for word in WORDS}


def test_words_stand_in_alphabetical_order_and_once():
    keys = [(word.term.lower().lstrip("-"), word.term) for word in WORDS]
    assert keys == sorted(keys)
    names = [name for word in WORDS for name in word.names]
    assert len(names) == len(set(names))


@pytest.mark.parametrize("word", WORDS, ids=lambda word: word.term)
def test_a_meaning_is_one_or_two_plain_sentences(word):
    assert word.meaning.endswith(".")
    assert len(re.findall(r"[.!?](?:\s+(?=[A-Z])|$)", word.meaning)) <= 3
    assert len(word.meaning) <= 190
    assert word.source.strip()
    assert word.pages


# MOROP NEM 010 (2011) for 1:87, 1:160 and 1:45; NMRA S-1.2 for 3.5 mm to the foot, from memory: 304.8 / 3.5 = 87.0857.
# British 4 mm and 7 mm to the foot: 304.8 / 4 = 76.2, 304.8 / 7 = 43.543.
@pytest.mark.parametrize(
    ("term", "printed"),
    [
        ("HO", ("1:87.09", "1:87", "3.5 mm")),
        ("N", ("1:160", "1:148", "1:150")),
        ("O", ("1:48", "1:43.54", "1:45", "7 mm")),
        ("S", ("1:64",)),
        ("OO", ("1:76.2", "4 mm")),
    ],
)
def test_a_scale_is_described_by_its_numbers(term, printed):
    assert all(each in BY_TERM[term].meaning for each in printed)


def test_the_first_ratio_of_a_scale_is_that_of_the_table():
    for term in ("HO", "N", "O", "S", "OO"):
        said = re.search(r"1:(\d+(?:\.\d+)?)", BY_TERM[term].meaning)[1]
        assert round(float(scale(term).ratio), 2) == float(said)
    assert Fraction(3048, 10) / scale("HO").ratio == Fraction(7, 2)  # mm to the foot, as the scale foot's entry has it
    assert "3.5 mm" in BY_TERM["scale foot"].meaning


@pytest.mark.parametrize("word", WORDS, ids=lambda word: word.term)
def test_a_word_is_found_first_by_each_of_its_names(word):
    for name in word.names:
        exact = [found.term for found in find_words(name) if name.casefold() in map(str.casefold, found.names)]
        assert find_words(name)[: len(exact)] == tuple(BY_TERM[term] for term in exact)
        assert word.term in exact


def test_names_come_before_meanings():
    found = find_words("web")
    assert found[0].term == "web"
    names = [any("web" in name.casefold() for name in word.names) for word in found]
    assert names == sorted(names, reverse=True)


def test_hyphens_and_case_do_not_matter():
    assert find_words("DRY FIT")[0].term == find_words("dry-fit")[0].term == "dry fit"
    assert find_words("qTC")[0].term == "Qtc"


def test_a_page_has_only_its_own_words():
    for page in pages_with_words():
        assert find_words(page=page) == tuple(word for word in WORDS if page in word.pages)
    assert find_words() == WORDS


@given(st.text(max_size=12))
def test_what_is_found_has_the_text_in_it(text):
    plain = " ".join(text.casefold().replace("-", " ").split())
    for word in find_words(text):
        said = " | ".join([*word.names, word.meaning]).casefold().replace("-", " ")
        assert plain in " ".join(said.split())


def test_words_used_by_a_text():
    used = [word.term for word in words_in("Two LEDs in one string; a chamber resonance; the ledger's n.")]
    assert used == ["chamber", "chamber resonance", "LED", "string"]


def test_the_nearest_word():
    assert nearest_word("kurf") == "kerf"
    assert nearest_word("flnge") == "flange"
    assert nearest_word("qqqqqq") == ""


def test_words_by_their_terms_keep_the_order_asked_for():
    assert [word.term for word in words_named(["web", "bore"])] == ["web", "bore"]


def test_an_unknown_page_is_refused():
    text = rf"^the page is 'lights'; write one of {', '.join(pages_with_words())}\. Did you mean 'light'\?$"
    with pytest.raises(UnknownChoice, match=text):
        find_words("web", "lights")


def test_an_unknown_term_is_refused():
    terms = re.escape(", ".join(word.term for word in WORDS))
    with pytest.raises(UnknownChoice, match=rf"^the word is 'webb'; write one of {terms}\. Did you mean 'web'\?$"):
        words_named(["webb"])


def row(**changes):
    found = {"term": "web", "also_called": "", "meaning": "What stays.", "pages": "drills", "source": "x"}
    return {**found, **changes}


@pytest.mark.parametrize(
    ("rows", "text"),
    [
        ([row(meaning="")], r"^data/glossary\.csv, line 2: web has no meaning or no page\.$"),
        ([row(pages=" ; ")], r"^data/glossary\.csv, line 2: web has no meaning or no page\.$"),
        (
            [row(), row(term="wall", also_called="web")],
            r"^data/glossary\.csv, line 3: 'web' stands for web already\.$",
        ),
    ],
)
def test_a_faulty_row_is_refused(monkeypatch, rows, text):
    monkeypatch.setattr(module, "rows", lambda _file: enumerate(rows, start=2))
    with pytest.raises(TableError, match=text):
        glossary.__wrapped__()
