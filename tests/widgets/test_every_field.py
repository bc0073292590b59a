"""Every field of every page says what is entered, where it is found, or how it is written."""

import pytest

from modelmath import widgets
from modelmath.widgets.common.fields import Field, Fold

FEWEST = 2  # words that can say what, where or how
PANELS = [name for name in widgets.__all__ if name[0].isupper() and name != "WordsUsedHere"] + ["start_page"]


def kept(monkeypatch, kind):
    """Return the list into which every `kind` goes as it is made."""
    made, begin = [], kind.__init__

    def noted(self, *given, **named):
        begin(self, *given, **named)
        made.append(self)

    monkeypatch.setattr(kind, "__init__", noted)
    return made


@pytest.mark.parametrize("name", PANELS)
def test_every_field_has_a_note_of_its_own(name, monkeypatch):
    """Fields that a fold makes only once it is opened count too."""
    fields, folds = kept(monkeypatch, Field), kept(monkeypatch, Fold)
    panel = getattr(widgets, name)()
    for fold in folds:  # grows while folds within folds are opened
        fold.head.value = True
    assert panel is not None
    assert fields
    bare = [f"{each.label!r}: {each.hint!r}" for each in fields if len(each.hint.split()) < FEWEST]
    assert bare == []
