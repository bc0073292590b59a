"""A sweep read from text or a file: heads in many ways, faults by row and column."""

from __future__ import annotations

import re
from contextlib import suppress
from math import pi, radians
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import OutOfRange, WrongKind
from modelmath.sound.measuring.sweep import MOST_BYTES, MOST_ROWS, Sweep, read_sweep

DATA = Path(__file__).resolve().parents[3] / "data" / "example_sweep.csv"
PLAIN = Sweep((100.0, 200.0), (7.1, 7.3))
NUMBERS = st.integers(1, 10**7).map(lambda count: count / 1000)


@pytest.mark.parametrize(
    "text",
    [
        "frequency [Hz],impedance [ohm]\n100,7.1\n200,7.3",
        "frequency,impedance\n100,7.1\n200,7.3\n",
        "Frequency (Hz);|Z| (ohm)\r\n100;7.1\r\n200;7.3\r\n",
        "f;z\n100,0;7,1\n200;7,3",
        "freq\tohm\n100\t7,1\n2e2\t7.3",
        "Hz, \u03a9\n100, 7.1\n200, 7.3",  # a capital omega, and the ohm sign of its own
        "Hz, \u2126\n100, 7.1\n200, 7.3",
        "f [Hz],z [ohms]\n100,7.1\n200,7.3",
        "f [kHz],z [kohm]\n0.1,0.0071\n.2,0.0073",
        "f [kHz],z [k\u03a9]\n0.1,0.0071\n.2,0.0073",
        "f [kHz],z [kohms]\n0.1,0.0071\n.2,0.0073",
        "z,f\n7.1,100\n7.3,200",
        "# by hand\n\nf,z\n100,7.1\n\n# again\n200,7.3\n,\n",
        '"frequency [Hz]","impedance [ohm]"\n"100","7.1"\n"200","7.3"',
    ],
)
def test_heads_units_and_signs_are_read_in_many_ways(text):
    found = read_sweep(text)
    assert found.frequency_hz == pytest.approx(PLAIN.frequency_hz, rel=1e-12)
    assert found.impedance_ohm == pytest.approx(PLAIN.impedance_ohm, rel=1e-12)
    assert found.phase_rad is None
    assert read_sweep(text.encode()) == read_sweep(b"\xef\xbb\xbf" + text.encode()) == found


def test_phase_is_in_degrees_unless_it_says_so():
    assert read_sweep("f,z,phase\n100,7,-90").phase_rad == (-pi / 2,)
    assert read_sweep("f,z,deg\n100,7,45").phase_rad == (radians(45),)
    assert read_sweep("f,z,phase [rad]\n100,7,0.5").phase_rad == (0.5,)
    for unit in ("deg", "degree", "degrees", "°"):
        assert read_sweep(f"f,z,phase [{unit}]\n100,7,45").phase_rad == (radians(45),)
    for unit in ("radian", "radians"):
        assert read_sweep(f"f,z,phase [{unit}]\n100,7,0.5").phase_rad == (0.5,)


def test_other_columns_are_passed_over_and_named():
    found = read_sweep("f,level,z,note\n100,0.1,7.1,quiet\n200,0.1,7.3,")
    assert found.impedance_ohm == (7.1, 7.3)
    assert found.passed_over == ("level", "note")


@pytest.mark.parametrize(
    ("text", "phase"),
    [
        ("Frequenz [Hz];Impedanz [ohm]\n100;7,1\n200;7,3", None),
        ("Impedanz [\u03a9],Frequenz [kHz]\n7.1,0.1\n7.3,0.2", None),
        (
            "fr\u00e9quence (Hz)\timp\u00e9dance (kohm)\td\u00e9phasage (\u00b0)\n100\t0.0071\t45\n200\t0.0073\t-9",
            (45, -9),
        ),
        ("[Hz],[ohm],[rad]\n100,7.1,0.1\n200,7.3,-0.1", (18 / pi, -18 / pi)),
        ("rate [Hz],frequency [Hz],coil [ohm],z\n9,100,9,7.1\n9,200,9,7.3", None),  # a word that is known goes first
    ],
)
def test_a_head_in_another_language_counts_by_its_unit(text, phase):
    found = read_sweep(text)
    assert found.frequency_hz == pytest.approx(PLAIN.frequency_hz, rel=1e-12)
    assert found.impedance_ohm == pytest.approx(PLAIN.impedance_ohm, rel=1e-12)
    assert found.phase_rad == (None if phase is None else pytest.approx([radians(each) for each in phase]))
    assert found.phase_unit


def test_what_is_read_by_its_unit_is_said():
    found = read_sweep("Frequenz [Hz];Impedanz [ohm];Pegel [dB]\n100;7,1;3")
    assert found.notes == (
        "'Frequenz [Hz]' is read as frequency, by its unit.", "'Impedanz [ohm]' is read as impedance, by its unit.",
    )  # fmt: skip
    assert found.passed_over == ("Pegel [dB]",)
    taken = read_sweep("rate [Hz],f [Hz],z\n9,100,7.1")
    assert (taken.passed_over, taken.notes) == (("rate [Hz]",), ())


@pytest.mark.parametrize("head", ["phase", "angle"])
def test_a_phase_without_its_unit_is_noted(head):
    assert not read_sweep(f"f,z,{head}\n100,7,1").phase_unit
    for with_unit in (f"{head} [rad]", f"{head} (deg)", "degrees", "\u00b0"):
        assert read_sweep(f"f,z,{with_unit}\n100,7,1").phase_unit
    assert read_sweep("f,z\n100,7").phase_unit


AS = "It has no row of heads: its columns were read as frequency in Hz"


@pytest.mark.parametrize(
    ("text", "phase", "note"),
    [
        ("100,7.1\n200,7.3", None, f"{AS} and impedance in ohm."),
        ("100;7,1;\n200;7,3;", None, f"{AS} and impedance in ohm."),
        ("# mine\n1e2\t7.1\t-45\n200\t7.3\t9", (-45, 9), f"{AS}, impedance in ohm and phase in degrees."),
        ("100,7.1,5\n200,7.3,6", (5, 6), f"{AS}, impedance in ohm and phase in degrees."),
    ],
)
def test_two_or_three_columns_of_numbers_need_no_heads(text, phase, note):
    found = read_sweep(text)
    degrees = None if phase is None else pytest.approx([radians(each) for each in phase])
    assert (found.frequency_hz, found.impedance_ohm, found.phase_rad) == ((100.0, 200.0), (7.1, 7.3), degrees)
    assert (found.notes, found.passed_over, found.phase_unit) == ((note,), (), False)


@given(st.lists(st.tuples(NUMBERS, NUMBERS), min_size=1, max_size=30), st.sampled_from([";", "\t", ","]))
def test_without_heads_the_same_is_read(readings, sign):
    lines = [f"{f!r}{sign}{z!r}" for f, z in readings]
    found = read_sweep("\n".join(lines))
    with_heads = read_sweep("\n".join([f"f{sign}z", *lines]))
    assert (found.frequency_hz, found.impedance_ohm) == (with_heads.frequency_hz, with_heads.impedance_ohm)


@given(st.lists(st.tuples(NUMBERS, NUMBERS), min_size=1, max_size=30), st.sampled_from([";", "\t", ","]))
def test_what_is_written_is_read_again(readings, sign):
    lines = [f"frequency [Hz]{sign}impedance [ohm]", *(f"{f!r}{sign}{z!r}" for f, z in readings)]
    text = "\n".join(lines)
    if sign != ",":
        assert read_sweep(text.replace(".", ",")) == read_sweep(text)
    wanted = tuple(f for f, _ in readings if f <= 1e6)
    if len(wanted) == len(readings):
        assert (read_sweep(text).frequency_hz, read_sweep(text).impedance_ohm) == (
            wanted,
            tuple(z for _, z in readings),
        )


def test_a_file_is_read_by_its_path_or_its_name(tmp_path):
    file = tmp_path / "sweep.csv"
    file.write_text("f,z\n100,7.1\n200,7.3", "utf-8-sig")
    assert read_sweep(file) == read_sweep(str(file)) == PLAIN


def test_the_example_is_marked_as_invented():
    found = read_sweep(DATA)
    assert len(found) == 69
    assert found.passed_over == ("source",)
    assert all(",invented: simulated with " in line for line in DATA.read_text("utf-8").splitlines()[1:])


HEADS = "Write frequency [Hz], impedance [ohm], phase [degrees] above the figures."
SEMICOLONS = "Where figures have a decimal comma, part the columns with semicolons, the heads too."


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            "",
            (
                "the sweep is empty; expected a row of heads and a row for each frequency. "
                "Begin with frequency [Hz], impedance [ohm], phase [degrees]."
            ),
        ),
        ("f,z\n", "the sweep is without readings; expected a reading for each frequency. Take some first."),
        (
            "100,7.1,1,2\n200,7.3,1,2",
            (
                "the first row is '100, 7.1, 1, 2', with no column of frequency; expected heads that name each column. "
                + HEADS
            ),
        ),
        (
            "100,7,1\n200,7,3",
            (
                "the first row is '100,7,1', where a comma may part columns or be a decimal mark; expected heads that "
                "name each column. Write frequency [Hz], impedance [ohm], phase [degrees] above the figures; with "
                "decimal commas part the columns with semicolons."
            ),
        ),
        (
            "Frequenz [Hz];Z1 [ohm];Z2 [ohm]\n1;2;3",
            "the row of heads is one with two columns of impedance; expected one of each. Take one away.",
        ),
        (
            "f,level\n100,7.1",
            "the first row is 'f, level, with no column of impedance'; expected heads that name each column. " + HEADS,
        ),
        (
            "f,z,|Z|\n1,2,3",
            "the row of heads is one with two columns of impedance; expected one of each. Take one away.",
        ),
        ("f [m],z\n1,2", "the head of a column is 'f [m]'; expected frequency in Hz or kHz. Mend its unit."),
        ("f,z [V]\n1,2", "the head of a column is 'z [V]'; expected impedance in ohm or kohm. Mend its unit."),
        ("f,z\n100,7.1\n200,", "row 3, impedance is empty; expected a number in ohm. Write it such as 7.9."),
        ("f,level,z\n100", "row 2, impedance is empty; expected a number in ohm. Write it such as 7.9."),
        ("f,z\n100,7.1\n200", "row 3, impedance is empty; expected a number in ohm. Write it such as 7.9."),
        ("f,z\n100,7.1 ohm", "row 2, impedance is '7.1 ohm'; expected a number in ohm. Write it such as 7.9."),
        ("f,z\n1_0,7", "row 2, frequency is '1_0'; expected a number in Hz. Write it such as 450."),
        ("f;z\n1.000,5;7", "row 2, frequency is '1.000,5'; expected a number in Hz. Write it such as 450."),
        ("f,z,phase\n1,7,nan", "row 2, phase is 'nan'; expected a number in degrees. Write it such as -12.5."),
        ("f,z\n100,5,7,1", f"row 2 is 4 cells long; expected 2, as the first row. {SEMICOLONS}"),
    ],
)
def test_what_can_not_be_read_is_said_by_row_and_column(text, said):
    said = said.replace("'f, level, with no column of impedance'", "'f, level', with no column of impedance")
    with pytest.raises(WrongKind, match=f"^{re.escape(said)}$"):
        read_sweep(text)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("f,z\n0,7", "row 2, frequency is '0'; it must be 0.001 Hz to 1 MHz."),
        ("f,z\n100,7\n-5,7", "row 3, frequency is '-5'; it must be 0.001 Hz to 1 MHz."),
        ("f [kHz],z\n1001,7", "row 2, frequency is '1001'; it must be 0.001 Hz to 1 MHz."),
        ("f,z\n5e-324,8", "row 2, frequency is '5e-324'; it must be 0.001 Hz to 1 MHz."),
        ("f,z\n500,1e-300", "row 2, impedance is '1e-300'; it must be 0.001 ohm to 1 Mohm."),
        ("f,z\n100,0", "row 2, impedance is '0'; it must be 0.001 ohm to 1 Mohm."),
        ("f,z\n100,1e999", "row 2, impedance is '1e999'; it must be 0.001 ohm to 1 Mohm."),
        ("f,z,phase\n100,7,361", "row 2, phase is '361'; it must be within one turn either way."),
    ],
)
def test_a_figure_that_can_not_be_is_refused(text, said):
    with pytest.raises(OutOfRange, match=f"^{re.escape(said)} Mend it, or leave the row out.$"):
        read_sweep(text)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("frequency,impedance,\n100,7,1\n200,7,3", "row 2 is 3 cells long; expected 2, as the first row"),
        ("f,z,phase\n100,7,1,", "row 2 is 4 cells long; expected 3, as the first row"),
        ("100.5,7,1\n200,7,3", "the first row is '100.5,7,1', where a comma may part columns or be a decimal mark"),
        ("f [Hz];Rs [ohm];Zmag\n100;10;7", "the first row is 'Rs [ohm]' beside 'Zmag', either of which may be the"),
    ],
)
def test_what_may_be_read_in_two_ways_is_refused(text, said):
    with pytest.raises(WrongKind) as caught:
        read_sweep(text)
    assert str(caught.value).startswith(said)


def test_too_much_is_refused_before_it_is_read(tmp_path):
    rows = "f,z\n" + "100,7\n" * MOST_ROWS
    assert len(read_sweep(rows)) == MOST_ROWS
    with pytest.raises(
        OutOfRange, match=r"^the sweep is longer than 20,000 rows; it must be 20,000 or fewer. Thin .*$"
    ):
        read_sweep(rows + "100,7")
    file = tmp_path / "large.csv"
    file.write_bytes(b" " * (MOST_BYTES + 1))
    large = r"^the sweep is 5,000,001 bytes long; it must be 5,000,000 or fewer. Thin it out.$"
    for source in (file, file.read_bytes(), file.read_text()):
        with pytest.raises(OutOfRange, match=large):
            read_sweep(source)


@pytest.mark.parametrize(
    ("content", "given"),
    [(b"f,z \xb1\n100,7", "not text in UTF-8"), (b"PK\x03\x04\xff\xfe", "a spreadsheet or archive")],
)
def test_another_encoding_is_refused_plainly(content, given):
    said = f"the file is {given}; expected a CSV file in UTF-8. Save it again as CSV, in UTF-8."
    with pytest.raises(WrongKind, match=f"^{re.escape(said)}$"):
        read_sweep(content)


def test_a_file_that_is_not_there_is_said_so():
    said = "the file is 'nowhere.csv' (No such file or directory); expected a file to read. Check its name."
    with pytest.raises(WrongKind, match=f"^{re.escape(said)}$"):
        read_sweep("nowhere.csv")


@given(st.text(max_size=200) | st.binary(max_size=200))
def test_no_text_does_more_than_be_refused(text):
    with suppress(WrongKind, OutOfRange):
        read_sweep(text)


def test_readings_given_as_numbers_are_checked_too():
    with pytest.raises(OutOfRange, match=r"^the number of readings is 1 of the impedance for 2 frequencies; it must be the same for each column. Give one for each.$"):  # fmt: skip  # noqa: E501
        Sweep((1.0, 2.0), (7.0,))
    with pytest.raises(WrongKind, match=r"^a reading of the impedance is '7'; expected a plain number. Mend it.$"):
        Sweep((1.0,), ("7",))
    with pytest.raises(OutOfRange, match=r"^a reading of the frequency is inf; it must be 0\.001 Hz to 1 MHz\. .*$"):
        Sweep((float("inf"),), (7.0,))


def test_a_cell_longer_than_the_csv_reader_takes_is_refused_by_its_row():
    """131,072 characters are the limit of Python's csv module, as its documentation of field_size_limit says."""
    text = (
        r"^row 3 is unreadable \(field larger than field limit \(131072\)\); expected cells parted alike\. Mend it\.$"
    )
    with pytest.raises(WrongKind, match=text):
        read_sweep(f"f,z\n100,7\n200,{'7' * 131_073}")
