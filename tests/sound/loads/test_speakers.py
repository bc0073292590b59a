"""What a speaker's ratings may be, and what is said of those that may not."""

import pytest

from modelmath.errors import NotYetKnown, OutOfRange, WrongKind
from modelmath.sound.driver.driver import Driver
from modelmath.sound.loads import RatedSpeaker, alike, several
from modelmath.sound.loads.amounts import number_word, told
from modelmath.sound.loads.speakers import check_names


@pytest.mark.parametrize(
    ("make", "error", "text"),
    [
        (
            lambda: RatedSpeaker("front", 0),
            OutOfRange,
            r"^the rated impedance of front is 0 ohm; it must be above 0 ohm\. Read it from the sheet again\.$",
        ),
        (
            lambda: RatedSpeaker("front", 8, float("nan")),
            OutOfRange,
            r"^the rated power of front is nan W; it must be above 0 W\. Read it from the sheet again\.$",
        ),
        (
            lambda: RatedSpeaker("front", "8 ohm"),
            WrongKind,
            (
                r"^the rated impedance of front is '8 ohm'; expected a plain number of ohm\. "
                r"Write it as a number of ohm, such as 8\.$"
            ),
        ),
        (
            lambda: RatedSpeaker(" ", 8),
            OutOfRange,
            r"^the name of a speaker is empty; it must be a word or two\. Write one such as front\.$",
        ),
        (
            lambda: RatedSpeaker.of_driver(Driver("rear", power_w=1)),
            NotYetKnown,
            r"^The load of rear is not known yet; enter its rated impedance, printed on it or on its sheet\.$",
        ),
        (
            lambda: check_names([]),
            OutOfRange,
            r"^the number of speakers is 0; it must be 1 or more\. Name at least one speaker\.$",
        ),
        (
            lambda: check_names([RatedSpeaker("a", 8), RatedSpeaker("a", 4)]),
            OutOfRange,
            r"^a set of speakers is a twice; it must be named apart\. Give each speaker a name of its own\.$",
        ),
    ],
)
def test_what_is_refused(make, error, text):
    with pytest.raises(error, match=text):
        make()


def test_a_speaker_of_a_driver():
    assert RatedSpeaker.of_driver(Driver("rear", impedance_ohm=8, power_w=0.5)) == RatedSpeaker("rear", 8.0, 0.5)


def test_alike_by_ratings_not_by_name():
    assert alike(several(RatedSpeaker("box", 8, 1), 3))
    assert not alike([RatedSpeaker("a", 8, 1), RatedSpeaker("b", 8)])


def test_a_number_never_reads_like_the_limit_that_it_misses():
    assert told(7.9996, 8) == "7.9996"
    assert told(8, 8) == "8.0"
    assert told(1e-12) == "1e-12"
    assert number_word(6) == "six"
