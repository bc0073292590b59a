"""A floor with steps from the side: in true proportion, every piece drawn where it lies, all of it readable."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest
from tidy import assert_tidy

from modelmath.drawings.figures.stepped_side import stepped_side, stepped_side_svg
from modelmath.drawings.shapes import Box
from modelmath.job import load_job, plan
from modelmath.job.space.stepped_floor import stepped_floor, stepped_pieces
from modelmath.widgets.common import places


@pytest.fixture(scope="module", params=["switcher-ho", "gas-electric-o", "railbus-ho"])
def made(request, tmp_path_factory):
    found = plan(load_job(places.job_files()[request.param]))
    return found, stepped_pieces(found, stepped_floor(found).gains[-1].chamber)[0]


def test_it_is_tidy(made):
    found, pieces = made
    assert_tidy(stepped_side(found, pieces.parts, pieces.chamber.seat_mm))


def test_walls_risers_and_plates_have_the_sizes_of_the_pieces(made):
    found, pieces = made
    drawing = stepped_side(found, pieces.parts, pieces.chamber.seat_mm)
    for kind in ("wall", "plate"):
        drawn = [shape for shape in drawing.shapes if isinstance(shape, Box) and shape.name == kind and shape.y > -20]
        blocks = [block for part in pieces.parts if part.kind == kind for block in part.blocks]
        assert len(drawn) == len(blocks)
        unit = drawn[0].width / float(blocks[0].end_mm - blocks[0].start_mm)
        for shape, block in zip(drawn, blocks, strict=True):
            assert shape.width == pytest.approx(unit * float(block.end_mm - block.start_mm))
            assert shape.height == pytest.approx(unit * float(block.top_mm - block.bottom_mm))
            assert shape.x - drawn[0].x == pytest.approx(unit * float(block.start_mm - blocks[0].start_mm))
            assert shape.y - drawn[0].y == pytest.approx(unit * float(block.bottom_mm - blocks[0].bottom_mm))


def test_its_svg_is_well_formed_and_says_what_it_shows(made):
    found, pieces = made
    root = ElementTree.fromstring(stepped_side_svg(found, pieces.parts, pieces.chamber.seat_mm))
    said = " ".join(root.itertext())
    steps = pieces.chamber.steps
    assert f"A floor with steps in {found.job.name}, from the side" in said
    assert f"{steps} step{'' if steps == 1 else 's'} of the floor, with the pieces that close them" in said


def test_without_a_speaker_none_is_in_the_key(made):
    found, pieces = made
    words = [getattr(shape, "text", "") for shape in stepped_side(found, pieces.parts).shapes]
    assert "speaker" not in words
    assert "walls, risers" in words
