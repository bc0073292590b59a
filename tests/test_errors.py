"""Every error says what was given and what to type, is a ValueError, and pickles whole."""

import inspect
import pickle
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath import errors
from modelmath.errors import (
    SHOWN,
    DoesNotFit,
    JobError,
    ModelMathError,
    NotYetKnown,
    OutOfRange,
    TableError,
    UnknownChoice,
    UnknownScale,
    UnreadableLength,
    WrongKind,
    nearest,
    shown,
)

EXAMPLES = [
    (
        UnknownChoice("datum", "ends", ("end", "zero")),
        "datum is 'ends'; write one of end, zero. Did you mean 'end'?",
    ),
    (UnknownChoice("datum", "left", ("top", "zero")), "datum is 'left'; write one of top, zero."),
    (UnknownScale("hoo", ["HO", "OO"]), "No scale is called 'hoo'; did you mean HO, OO?"),
    (
        UnknownScale("87", []),
        "No scale is called '87'; write HO, N, O or S, or a ratio such as 1:87.1.",
    ),
    (UnreadableLength("3 4/3/2", "it has two fraction strokes", "3 3/4"), None),
    (OutOfRange("the clearance", "-1 mm", "0 or more", "Write 0.5 mm."), None),
    (WrongKind("mm", "'40'", "a model length", "Read it with parse_length."), None),
    (
        DoesNotFit("The bulkhead", 0.375, "the roof is low", "Keep less clearance."),
        "The bulkhead does not fit: 0.38 mm too little, because the roof is low. Keep less clearance.",
    ),
    (NotYetKnown("the bulkhead's height", "a reading in the shell"), None),
    (TableError("scales.csv", 7, "ratio and mm to the foot disagree"), None),
    (
        JobError("demo.toml", "part 2 (window): qty", "it is 0", "write 1 or more"),
        "demo.toml, part 2 (window): qty: it is 0; write 1 or more.",
    ),
    (JobError("demo.toml", "", "it is empty", "write a rule"), "demo.toml: it is empty; write a rule."),
]
MESSAGES = {
    UnreadableLength: "'3 4/3/2': it has two fraction strokes; write 3 3/4.",
    OutOfRange: "the clearance is -1 mm; it must be 0 or more. Write 0.5 mm.",
    WrongKind: "mm is '40'; expected a model length. Read it with parse_length.",
    NotYetKnown: "the bulkhead's height is not known yet; enter a reading in the shell.",
    TableError: "data/scales.csv, line 7: ratio and mm to the foot disagree.",
}


@pytest.mark.parametrize(("error", "message"), EXAMPLES, ids=lambda value: type(value).__name__)
def test_message_values_and_pickle(error, message):
    message = message or MESSAGES[type(error)]
    with pytest.raises(ModelMathError, match=f"^{re.escape(message)}$") as caught:
        raise error
    assert isinstance(caught.value, ValueError)
    copy = pickle.loads(pickle.dumps(error))
    assert type(copy) is type(error)
    assert copy.args == error.args
    assert vars(copy) == vars(error)
    assert str(copy) == message
    # Each argument is kept under its own name.
    names = [name for name in inspect.signature(type(error).__init__).parameters if name != "self"]
    assert tuple(getattr(error, name) for name in names) == error.args


def test_every_error_of_the_family_has_an_example():
    family = {kind for _, kind in inspect.getmembers(errors, inspect.isclass) if issubclass(kind, ModelMathError)}
    assert family - {ModelMathError} == {type(error) for error, _ in EXAMPLES}


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("3 3/4", "'3 3/4'"),
        ("  3 \n 3/4 ", "'3 3/4'"),
        ("4' 9", "“4' 9”"),  # in straight quotes this would look like 4' 9"
        ("4' 9\"", "“4' 9\"”"),  # and this would need a stroke that nobody typed
        ("a\\b", "'a\\b'"),
        ("3\x00", "'3\\x00'"),
        ("3\u200b mm", "'3\\u200b mm'"),  # what can't be seen is spelled out
        ("\ud800", "'\\ud800'"),
        ("¾", "'¾'"),
        ("x" * SHOWN, f"'{'x' * SHOWN}'"),
        ("x" * (SHOWN + 1), f"'{'x' * (SHOWN - 3)}...'"),
    ],
)
def test_text_as_a_message_repeats_it(text, expected):
    assert shown(text) == expected


@given(st.text())
def test_any_text_is_shown_on_one_printable_line(text):
    line = shown(text)
    assert line.isprintable()
    assert line[0] + line[-1] in ("''", "“”")
    assert line.encode("utf-8")


@pytest.mark.parametrize(
    ("given_word", "allowed", "expected"),
    [
        ("ZERO", ["end", "zero"], ["zero"]),
        ("oo", ["OO", "O", "HO"], ["OO", "O", "HO"]),
        ("xyz", ["end", "zero"], []),
        ("", ["end", "zero"], []),
        ("end", [], []),
    ],
)
def test_nearest_words_best_first(given_word, allowed, expected):
    assert nearest(given_word, allowed) == expected
