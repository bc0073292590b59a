"""Lines and words for a place in a job file."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.job.storage.locate import in_words, line_of

TEXT = '''\
# a comment: [[zones]] and mark = "9" don't count
name = "x"
notes = """
[[zones]]
mark = "not a field"
"""

[seat]
face = "sill"  # [clearance]

[[zones]]
"name" = "a"
[[ readings ]]
name = "roof"
  mark = "1 1/2"
[[zones]]
name = "b"
points = [
  { down = "1 mm" },
]
[zones.inner]
size = "2 mm"

[sound]
driver = { fs = "450 Hz" }
[sound.output]
least = "4 ohm"
[[sound.also]]
name = "other"
'''


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("name",), 2),
        (("notes",), 3),
        (("seat", "face"), 9),
        (("seat", "repeatability"), 8),  # not written: its table
        (("zones", 0, "name"), 12),
        (("zones", 1, "name"), 17),
        (("zones", 1), 16),
        (("zones", 1, "end"), 16),
        (("readings", 0, "mark"), 15),
        (("zones",), 11),
        (("marking",), None),
        (("marking", "rule"), None),
        (("zones", 2, "name"), None),
        (("zones", 1, "points", 0, "down"), 18),  # written in one: the key it stands behind
        (("zones", 1, "inner", "size"), 22),
        (("zones", 0, "inner", "size"), 11),
        (("sound", "driver", "fs"), 25),
        (("sound", "output", "least"), 27),
        (("sound", "output", "most"), 26),
        (("sound", "also", 0, "name"), 29),
    ],
)
def test_a_place_has_its_line(path, line):
    assert line_of(TEXT, path) == line


words = st.text("abc xyz", min_size=1, max_size=8).filter(lambda text: text.strip())


@given(st.lists(st.tuples(st.sampled_from(["zones", "readings"]), words), min_size=1, max_size=8))
def test_the_line_of_an_entry_is_where_its_name_stands(entries):
    """tomllib, the standard library's parser, counts entries on its own; each entry says its own line."""
    lines: list[str] = []
    for table, word in entries:
        lines += [f"[[{table}]]", f'note = "{word}"', f"line = {len(lines) + 3}", ""]
    text = "\n".join(lines)
    for table, found in tomllib.loads(text).items():
        assert [line_of(text, (table, place, "line")) for place in range(len(found))] == [
            entry["line"] for entry in found
        ]


@pytest.mark.parametrize(
    ("path", "said"),
    [
        (("scale",), "scale"),
        (("seat", "face"), "seat, face"),
        (("readings", 1, "mark"), "reading 2 ('roof'), mark"),
        (("drawer", 0, "length"), "drawer strip 1 ('.040 sq'), length"),
        (("wires", 3), "wire 4"),
        (("links", 0, "face"), "link 1, face"),
    ],
)
def test_a_place_in_words(path, said):
    document = {"readings": [{"name": "a"}, {"name": "roof"}], "drawer": [{"strip": ".040 sq"}], "links": [{}]}
    assert in_words(path, document) == said
