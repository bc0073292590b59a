"""Any text is either the name of stock or refused with a message; and every question can be answered."""

import pickle

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from modelmath.errors import ModelMathError
from modelmath.materials.sections.readings import AmbiguousName
from modelmath.materials.sections.shapes import parse_section, parse_stock
from modelmath.materials.sections.sheet_names import parse_sheet
from modelmath.materials.sections.strips import parse_strip

PARSERS = (parse_strip, parse_sheet, parse_section, parse_stock)
# What names are made of, put together anyhow: it reaches far more of the parsers than letters at random.
WORDS = (
    *("6", "10", ".030", "0.5", "1,5", "1/16", "1/0", "3-1/2", "½", "0", "..", "1:48", "00", "٣"),
    *("x", "×", "by", "*", "-", ",", "(", ")", " ", "  ", "\n", "\x00", "\u00a0"),
    *("mm", "in", '"', "''", "thou", "cm", "ft", "scale in", "scale", "lumber"),
    *("HO", "N (British, 1:148)", "X", "0", "16 mm", "strip", "sq", "square", "sheet", "plate"),
    *("rod", "half", "round", "angle", "channel", "tube", "wall", "bore", "ﬁ", "İ", "ſ"),
)
texts = st.text(max_size=70) | st.lists(st.sampled_from(WORDS), max_size=9).map(" ".join)
texts |= st.lists(st.sampled_from(WORDS), max_size=9).map("".join)
# Near enough to names that about half of them are some.
LEADS = ("", "", "HO ", "N (British, 1:148) ", "No. 1 ", "1:48-", "H0", "0 ", "tube ", "sq ", "sheet ")
SIDES = ("6", "10", ".030", ".5", "1,5", "1/16", "2 1/2", "½")
TAILS = ("", "", " HO", " (N)", " sq", " scale in", " rod", " angle", " tube", " wall", " sheet")
parts = (
    LEADS,
    SIDES,
    ("", "", " mm", '"', " in", " thou"),
    ("", "x", " x ", " by "),
    SIDES,
    ("", " mm", '"', "in"),
    TAILS,
)
texts |= st.tuples(*map(st.sampled_from, parts)).map("".join)


def answer(parser, text):
    """Return what a parser makes of a text; None where it refuses. Nothing but our own errors may come out."""
    try:
        return parser(text)
    except ModelMathError as error:
        refused = error
    assert str(refused)
    if isinstance(refused, AmbiguousName):
        assert len(refused.readings) == len(refused.kinds) >= 2
        assert len({parser(reading) for reading in refused.readings}) == len(refused.readings)
        copy = pickle.loads(pickle.dumps(refused))
        assert (str(copy), copy.readings) == (str(refused), refused.readings)
    return None


@settings(max_examples=500)
@given(texts)
def test_any_text_is_read_or_refused(text):
    for parser in PARSERS:
        found = answer(parser, text)
        if found is not None and len(found.name) <= 60:
            assert parser(found.name) == found


@given(texts, st.sampled_from(["HO", "N", "X", "1:24", "0"]))
def test_a_scale_beside_the_name_changes_nothing_but_what_was_asked(text, scale):
    """Text that is a name by itself is the same name beside any scale."""
    alone = answer(parse_strip, text)
    beside = answer(lambda name: parse_strip(name, scale), text)
    assert alone is None or beside == alone
    assert alone is not None or beside is None or beside.series == "scale lumber"


@pytest.mark.parametrize("parser", PARSERS)
@pytest.mark.parametrize("given_", [None, 6, 0.04, b"6x10", ["6x10"]])
def test_what_is_no_text_is_refused(parser, given_):
    with pytest.raises(ModelMathError, match=r"it is not text; write a .* in quotes, such as "):
        parser(given_)
