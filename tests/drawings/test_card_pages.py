"""The bench card on one page where it fits, else on tidy pages: each headed, nothing cut, the template whole."""

from __future__ import annotations

import pytest
from crowded import crowded
from reportlab.lib.units import mm
from reportlab.platypus import Paragraph, Spacer, Table
from sheets import DEMOS, demo, texts_of
from true_size import assert_measured, bars_of, card_and_holes

from modelmath.drawings.shapes import Drawing
from modelmath.drawings.sheets.card_pages import AHEAD, REST, REST_LATER, laid_out
from modelmath.drawings.sheets.sketch import Sketch
from modelmath.drawings.sheets.style import SECTION, height_of, table, words
from modelmath.lengths.text import format_length

SIZE = (500.0, 700.0)
ON_TWO = ("railmotor-oo",)  # the demo with the most parts


def closed_up(text):
    return "".join(text.split())


@pytest.mark.parametrize("name", [name for name in DEMOS if name not in ON_TWO])
def test_all_other_demos_have_their_card_on_one_page(name, paper):
    card, second = texts_of(demo(name), paper)[:2]
    assert second.startswith("Overview")
    for head in ("Drills", "Dry fit, before any glue", "Bulkhead, true size"):
        assert head in card


def test_a_crowded_card_goes_on_whole_on_a_second_page(paper):
    plan = crowded()
    assert (len(plan.lines), sum(hole.count for hole in plan.holes)) == (15, 8)
    pages, _ = card_and_holes(plan, paper)
    first, second = (page.extract_text() for page in pages)
    assert first.startswith("Bench card\n")
    assert second.startswith("Bench card, continued\n")
    assert plan.job.name in first
    assert plan.job.name in second.splitlines()[1]
    assert REST in first
    for line in plan.lines:
        assert f"{line.part.count} × {line.part.name.split()[0]}" in first
        assert all(word in first for word in line.part.name.split())
        assert closed_up(format_length(line.part.cut.cut_mm, "mm")) in closed_up(first)
    for hole in plan.holes:
        assert closed_up(f"{hole.count} × {hole.name}") in closed_up(second)
    for head in ("Where they stand", "Dry fit, before any glue", "Rear closure, seen from the front"):
        assert (head in first, head in second) == (False, True)
    assert [bars_of(page) for page in pages] == [[], [50.0, 50.8]]
    assert_measured(pages[1], plan)


def rows(count):
    return table(("Head",), [[words(f"row {number}")] for number in range(count)], [200.0])


def shared(upper=(), blocks=(), drawing=(60.0, 40.0)):
    template = [Sketch(Drawing(*drawing, "t"), mm, true_size=True)] if drawing else []
    again = [words("continued")]
    return laid_out([words("first")], list(upper), [list(each) for each in blocks], template, SIZE, again)


def texts(page):
    """Return the text of each paragraph, and of the paragraphs in tables and columns."""
    found = []
    for each in page:
        if isinstance(each, Table):
            cells = [cell for row in each._cellvalues for cell in row if cell != ""]
            found += [text for cell in cells for text in texts(cell if isinstance(cell, (list, tuple)) else [cell])]
        elif isinstance(each, Paragraph):
            found.append(each.text)
    return found


def test_what_fits_stands_on_one_page():
    (page,) = shared([Spacer(1, 300)], [[words("a")], [words("b")]])
    assert texts(page)[0] == "first"
    assert {"a", "b"} <= set(texts(page))


def test_only_the_template_goes_over_where_that_is_enough():
    one, two = shared([Spacer(1, 500)], [[words("a")]], (60.0, 100.0))
    assert AHEAD in texts(one)
    assert "a" in texts(one)
    assert texts(two) == ["continued"]
    assert sum(isinstance(each, Sketch) for each in two) == 1


def test_else_all_but_the_cuts_goes_over():
    one, two = shared([Spacer(1, 600)], [[words("a"), Spacer(1, 200)]])
    assert REST in texts(one)
    assert (texts(two)[0], "a" in texts(two)) == ("continued", True)


def test_a_template_too_wide_for_a_column_has_the_last_page():
    pages = shared([Spacer(1, 600)], [[words("a"), Spacer(1, 200)]], (150.0, 100.0))
    assert [texts(page)[0] for page in pages] == ["first", "continued", "continued"]
    assert REST_LATER in texts(pages[0])
    assert any(isinstance(each, Sketch) for each in pages[2])


def test_cuts_longer_than_a_page_go_on_under_the_heading_and_none_is_lost():
    pages = shared([rows(120)], [[words("a")]], None)
    assert [texts(page)[0] for page in pages] == ["first", *["continued"] * (len(pages) - 1)]
    assert len(pages) > 2
    said = [text for page in pages for text in texts(page)]
    assert [text for text in said if text.startswith("row")] == [f"row {number}" for number in range(120)]
    for page in pages:
        assert height_of(page, SIZE[0]) <= SIZE[1]


def test_blocks_longer_than_a_page_go_on_and_no_head_is_left_at_the_foot():
    blocks = [[words(f"section {n}", SECTION), rows(40)] for n in range(4)]
    pages = shared([Spacer(1, 600)], blocks)
    for page in pages[1:]:
        assert texts(page)[0] == "continued"
        assert height_of(page, SIZE[0]) <= SIZE[1]
        assert not texts(page[-1:])[-1:] or not texts(page[-1:])[0].startswith("section")
    said = [text for page in pages for text in texts(page) if text.startswith("section")]
    assert said == [f"section {n}" for n in range(4)]
