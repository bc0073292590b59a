"""Paragraphs whose lines are kept come out as the PDF writer's own do, at each width, parted and not."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reportlab.platypus import Paragraph

from modelmath.drawings.sheets.style import BODY, BOLD, HANGING, SMALL, Wording

TEXT = f'<font name="{BOLD}">corner post, front left</font> ' + "the room under the roof less the clearance kept; " * 9
widths = st.sampled_from([60.0, 140.0, 300.0, 500.0])


def lines(paragraph):
    return [getattr(line, "words", line[1] if isinstance(line, tuple) else None) for line in paragraph.blPara.lines]


def shown(paragraph):
    return [[getattr(word, "text", word) for word in line] for line in lines(paragraph)]


@pytest.mark.parametrize("style", [BODY, SMALL, HANGING], ids=lambda style: style.name)
@given(asked=st.lists(widths, min_size=1, max_size=6))
def test_its_lines_are_the_writers_own_at_each_width(style, asked):
    ours, theirs = Wording(TEXT, style), Paragraph(TEXT, style)
    for width in asked:
        assert ours.wrap(width, 1e6) == theirs.wrap(width, 1e6)
        assert shown(ours) == shown(theirs)


@given(widths, st.floats(20, 120))
def test_it_parts_as_the_writers_own_does_and_wraps_again(width, height):
    ours, theirs = Wording(TEXT, BODY), Paragraph(TEXT, BODY)
    for each in (ours, theirs):
        each.wrap(width, 1e6)
    parts = [[(part.wrap(width, 1e6), shown(part)) for part in each.split(width, height)] for each in (ours, theirs)]
    assert parts[0] == parts[1]
    assert ours.wrap(width, 1e6) == theirs.wrap(width, 1e6)
    assert shown(ours) == shown(theirs)
