"""The parts of a plan that sheet gives, and what is said of one that sheet can't."""

from __future__ import annotations

from sample_jobs import DEMOS

from modelmath import plan


def far_forward():
    """A job whose speaker stands so far forward that the floor plate before it is narrower than can be snapped."""
    job = DEMOS["railmotor-oo"]
    return plan(job.model_copy(update={"speaker": job.speaker.model_copy(update={"place": "front"})}))


def test_a_part_too_narrow_to_snap_is_named_and_all_others_are_laid_out():
    made = far_forward()
    answer = made.sheet_layout
    laid_out = {piece.part for sheet in answer.layout.sheets for piece in sheet.pieces}
    from_sheet = {line.part.name for line in made.lines if line.stock.endswith(" sheet")}
    assert from_sheet - laid_out == {"floor plate, front"}
    # 3.05 mm: three times the sheet's .040 in; least width to snap, common practice, no source
    assert answer.reason == (
        "floor plate, front, 2.50 × 31.20 mm, does not fit: 0.55 mm too little, because what is snapped off .040 sheet "
        "has to be 3.05 mm wide at least. Cut it from strip or with a saw; or allow a smaller least snap width, if you "
        "can snap that."
    )


def test_nothing_is_said_where_all_of_it_is_laid_out():
    made = plan(DEMOS["railmotor-oo"])
    assert made.sheet_layout.reason == ""
    assert made.sheet_layout.layout is not None
