"""Sets, shims and strip on hand as people type them."""

from __future__ import annotations

from fractions import Fraction

import pytest

from modelmath.materials.picking.typed import read_set, read_shims, read_strips


def test_a_set_is_read_line_by_line():
    parts, bad = read_set("post; 9 scale ft; On  End; 4\n\nbulkhead; 31.5 mm; across; 2; 18.5 mm; 3 in", "HO")
    assert not bad
    assert [(part.name, part.height_mm, part.use, part.count) for part in parts] == [
        ("post", Fraction(63, 2), "on end", 4),  # 9 ft of 3.5 mm
        ("bulkhead", Fraction(63, 2), "across", 2),
    ]
    assert (parts[1].width_mm, parts[1].length_mm) == (Fraction(37, 2), Fraction("76.2"))


def test_shims_are_read_by_thickness_or_by_name():
    shims, bad = read_shims("washer; .5 mm; ±0.05 mm; 4\n.010 sheet; ; 0.01 mm\n6x10; ; ; 2\nfelt; 1 mm", "HO")
    assert not bad
    assert [(shim.name, shim.thickness_mm, shim.tolerance_mm, shim.count) for shim in shims] == [
        ("washer", Fraction(1, 2), Fraction(1, 20), 4),
        (".010 sheet", Fraction("0.254"), Fraction(1, 100), None),
        ("HO 6x10", Fraction(7, 4), Fraction(1, 20), 2),
        ("felt", 1, 0, None),
    ]


@pytest.mark.parametrize(
    ("read", "line", "message"),
    [
        (
            read_set,
            "post; 31.5 mm",
            "the line is 2 parts long; expected a name, a height, a use, a count. Write post; 31.5 mm; on end; 4.",
        ),
        (read_set, "post; 0 mm; flat", "height_mm is 0 mm; it must be above 0 mm. Write a positive number of mm."),
        (
            read_set,
            "wall; 31.5 mm; across; 2",
            "What spans the shell is not known yet; enter width_mm, the shell's inside width.",
        ),
        (
            read_set,
            "post; 31.5 mm; on end; four",
            "the count is 'four'; expected a whole number. Write how many there are, such as 4.",
        ),
        (
            read_strips,
            "HO 6x10",
            "the line is 1 part long; expected a strip, a length, a count. Write HO 6x10; 280 mm; 2.",
        ),
        (
            read_strips,
            "HO 6x10; 280 mm; 0",
            "count is 0; it must be a whole number, 1 or more. Write how many pieces are wanted.",
        ),
    ],
)
def test_a_line_that_can_t_be_read_is_kept_aside_and_says_what_to_write(read, line, message):
    good, bad = read(f"\n{line}", "HO")
    assert not good
    assert [(each.number, each.line, each.message) for each in bad] == [(2, line, message)]
