"""A drawing is tidy: no text meets another or leaves the sheet, none is too small on a narrow screen."""

from __future__ import annotations

from shapely import LineString, box

from modelmath.drawings.shapes import Box, Label, Lines, text_width, top_of


def box_of(label):
    size = 1.1 * label.size if label.bold else label.size
    wide = text_width(label.text, size)
    left = label.x - {"start": 0.0, "middle": wide / 2, "end": wide}[label.anchor]
    return left, left + wide, label.y - 0.2 * label.size, label.y + 0.74 * label.size


def assert_tidy(drawing):
    labels = [shape for shape in drawing.shapes if isinstance(shape, Label)]
    boxes = [box_of(label) for label in labels]
    for number, (left, right, low, high) in enumerate(boxes):
        words = labels[number].text
        assert left >= -0.01, words
        assert right <= drawing.width + 8, words  # a bold size is counted on the safe side
        assert low >= drawing.low, words
        for other, (start, end, bottom, top) in enumerate(boxes[number + 1 :], number + 1):
            assert right <= start or end <= left or high <= bottom or top <= low, (words, labels[other].text)
    assert min(label.size for label in labels) * 350 / drawing.width >= 9
    assert drawing.low + drawing.height >= max(top_of(shape) for shape in drawing.shapes)


def struck_through(drawing, names):
    """Return the texts that a line of one of these names runs through, with nothing white between the two."""
    found = []
    for number, label in enumerate(drawing.shapes):
        if not isinstance(label, Label):
            continue
        left, right, low, high = box_of(label)
        text = box(left + 0.5, low + 0.5, right - 0.5, high - 0.5)
        for before, lines in enumerate(drawing.shapes):
            if not isinstance(lines, Lines) or lines.name not in names or lines.pen.grey == 1.0:
                continue
            white = [each for each in drawing.shapes[before:number] if isinstance(each, Box) and each.fill == 1.0]
            seen = text
            for each in white:
                seen = seen.difference(box(each.x, each.y, each.x + each.width, each.y + each.height))
            if any(LineString(run).intersection(seen).length > 0.5 for run in lines.runs if len(run) > 1):
                found.append(label.text)
    return found
