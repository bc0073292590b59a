"""A drawing is tidy: no text meets another or leaves the sheet, none is too small on a narrow screen."""

from __future__ import annotations

from modelmath.drawings.shapes import Label, text_width, top_of


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
