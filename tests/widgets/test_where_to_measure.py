"""Pictures in the folds: drawn once they are opened, and of what is entered there."""

from __future__ import annotations

import html
import re

import pytest

from modelmath.drawings.measuring import NAMES, picture
from modelmath.widgets.common.pictures import WhereToMeasure
from modelmath.widgets.inside.all_editors import InsideEditors
from modelmath.widgets.plan.screen_fields import first_fields, more_fields
from modelmath.widgets.plan.zones import ZonesEditor

EDITORS = ("obstacles", "sections", "speaker", "lamps", "weight", "choices", "strands")
ELSEWHERE = {"Where it stands"}  # a field of the lamp itself, in the form beside that of its strand


def labels_in(svg: str) -> set[str]:
    """The bold words of pictures."""
    found = re.findall(r'<text[^>]*class="field"[^>]*>(.*?)</text>', svg)
    return {html.unescape(" ".join(re.findall("<tspan[^>]*>(.*?)</tspan>", each))) for each in found}


def test_nothing_is_drawn_before_it_is_opened():
    fold = WhereToMeasure("zones")
    assert fold.shown.value == ""
    fold.head.value = True
    assert fold.shown.value == picture("zones")
    assert fold.view.children == (fold.head, fold.shown)
    fold.head.value = False
    assert fold.view.children == (fold.head,)


@pytest.mark.parametrize("name", EDITORS)
def test_an_editor_shows_the_pictures_of_its_own_fields(name):
    editor = getattr(InsideEditors(lambda _job: None), name)
    assert editor.pictures
    assert set(editor.pictures) <= set(NAMES)
    own = {field.label for field in editor.fields.values()}
    first = {field.label for field in (first_fields() | more_fields()).values()}
    shown = labels_in(picture(*editor.pictures))
    assert shown & own
    assert shown <= own | first | ELSEWHERE


def test_every_editor_with_pictures_has_the_fold_above_its_fields():
    editors = InsideEditors(lambda _job: None)
    assert sum(bool(each.pictures) for each in editors.every) == len(EDITORS)
    for each in editors.every:
        above = each.view.children[0].children
        assert len(above) == (2 if each.pictures else 1)
        if each.pictures:
            assert above[1].children[0].description == "Where to measure"


def test_the_zones_have_theirs():
    zones = ZonesEditor(lambda _job: None)
    assert zones.where.view in zones.view.children
    assert zones.where.names == ("zones",)


def test_the_first_screen_s_three_pictures_stand_together():
    assert labels_in(picture("zero of the rule", "reading on the chassis", "reading in the shell")) == {
        "Rule's zero stands in from its end by",
        "Reading on the chassis",
        "Reading in the shell",
    }
