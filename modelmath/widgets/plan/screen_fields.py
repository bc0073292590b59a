"""The fields of the walkthrough's own screen, each with what, where and how."""

from __future__ import annotations

from modelmath.widgets.common.fields import UNITS, Field, scale_names


def first_fields() -> dict[str, Field]:
    """Return the fields of the first screen, by name."""
    return {
        "scale": Field("Scale", "of the model, as on its box", options=scale_names()),
        "zero_offset": Field("Rule's zero stands in from its end by", "in the rule's own unit, such as 1; 0 for none"),
        "chassis": Field("Reading on the chassis", "rule's end on the seat, where the shell rests; its own unit"),
        "shell": Field("Reading in the shell", "turned over, rule's end on the inside of the roof"),
        "keep": Field("Clearance to keep", "above the chassis; 1/4 in the rule's unit, or 0.5 mm"),
        "finest": Field("Finest mark to cut to", "as fine as you can set the rule, such as 1/4"),
    }


def more_fields() -> dict[str, Field]:
    """Return the fields below it and in the folds, by name."""
    return {
        "flange": Field("Thickness of the speaker's flange", "where it rests on its supports, such as 1.2 mm"),
        "width": Field("Inside width of the shell", "by caliper or steel rule, such as 18.5 mm"),
        "inside_length": Field("Length inside the shell", "by caliper or steel rule, such as 86 mm"),
        "speaker_length": Field("Speaker's length", "outside, along the shell; the diameter of a round one"),
        "speaker_width": Field("Speaker's width", "outside, across the shell"),
        "speaker_depth": Field("Speaker's depth", "from its sounding face to its highest point behind"),
        "decoder_length": Field("Decoder's length", "all three sizes, or none"),
        "decoder_width": Field("Decoder's width", "over its wrapping, such as 15 mm"),
        "decoder_height": Field("Decoder's height", "at its thickest, such as 4 mm"),
        "rule_unit": Field("The rule's figures count", "what its printed 1, 2, 3 stand for", options=UNITS),
        "graduation": Field("Distance between its finest marks", "empty: the same as the finest mark cut to"),
        "read_to": Field("Read between marks to", "such as 1/8; empty: to the nearest mark"),
        "rule_length": Field("Its last mark", "a reading beyond it is refused"),
        "reading_u": Field("Standard uncertainty of a reading", "empty: by how finely you read it"),
        "offset_u": Field("Standard uncertainty of its zero", "such as 0.1 mm"),
        "seating": Field("How repeatably the shell seats, ±", "such as 0.1 mm"),
        "cutting": Field("How exactly parts are cut, ±", "such as 0.1 mm"),
    }
