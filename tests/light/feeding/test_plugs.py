"""Wires between shell and chassis, against Kirchhoff's law and counts made by hand."""

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import OutOfRange, UnknownChoice, UnreadableLength, WrongKind
from modelmath.light.feeding.loads import Load
from modelmath.light.feeding.plugs import Crossing, Plug, contacts, crossings
from modelmath.quantities.band import Band
from modelmath.quantities.known import Known

LAMPS = [
    Load.of("front", "white", 0.010),
    Load.of("rear", "yellow", 0.010),
    Load.of("number boards", "White", 0.004),
    Load.of("cab", None, 0.002),
]

loads = st.lists(
    st.tuples(st.sampled_from(["white", "yellow", "green", None]), st.floats(0, 0.1), st.booleans()), max_size=12
)


def whole(text):
    return f"^{re.escape(text)}$"


def names(wires):
    return [wire.name for wire in wires]


def test_a_decoder_on_the_chassis_and_lamps_and_speaker_in_the_shell():
    wires = crossings(LAMPS, "chassis", speaker_in="shell", motor_in="chassis", pickups_in="chassis")
    assert names(wires) == [
        "lamps, common", "output 'white'", "output 'yellow'", "'cab'", "speaker +", "speaker -"
    ]  # fmt: skip
    common, white = wires[0].current_a, wires[1].current_a
    assert common.best == pytest.approx(0.026)
    assert white.best == pytest.approx(0.014)


def test_a_decoder_in_the_shell_takes_motor_and_rails_across():
    wires = crossings(LAMPS, "shell", speaker_in="shell", motor_in="chassis", pickups_in="chassis")
    assert names(wires) == ["motor +", "motor -", "left rail", "right rail"]


def test_lamps_have_their_own_places():
    wires = crossings(LAMPS, "chassis", lamps_in={"front": "chassis", "number boards": "chassis"})
    assert names(wires) == ["lamps, common", "output 'yellow'", "'cab'"]
    assert not crossings(LAMPS, "chassis", lamps_in="chassis", keep_alive_in="chassis")


@given(loads)
def test_the_common_carries_what_the_outputs_carry(given_loads):
    """Kirchhoff's current law."""
    made = [Load.of(f"lamp {at}", output, current) for at, (output, current, _) in enumerate(given_loads)]
    sides = {f"lamp {at}": "shell" if across else "chassis" for at, (*_, across) in enumerate(given_loads)}
    wires = crossings(made, "chassis", lamps_in=sides)
    if not any(across for *_, across in given_loads):
        assert not wires
        return
    assert wires[0].current_a.best == pytest.approx(sum(wire.current_a.best for wire in wires[1:]))
    across = [output for output, _, crosses in given_loads if crosses]
    assert len(wires) == 1 + len({output for output in across if output}) + across.count(None)


def test_currents_go_with_their_wires():
    wires = crossings([], "chassis", speaker_in="shell", keep_alive_in="shell", currents_a={"speaker": 0.5})
    assert [wire.current_a for wire in wires] == [Band(0.5, 0.5, 0.5)] * 2 + [None, None]


def test_contacts_that_lack_are_counted():
    found = contacts(crossings(LAMPS, "chassis", speaker_in="shell"), [Plug("four-way", 4)])
    assert (found.needed, found.there, found.over_by, found.spare) == (6, 4, 2, 0)
    assert found.in_words == "6 wires cross between shell and chassis and take 6 contacts; the plugs have 4: 2 too few."
    assert found.faults == (
        (
            "6 contacts are needed and the plugs have 4: 2 too few. Take another plug, move the decoder to the other "
            "side, or let lamps share an output."
        ),
    )
    assert found.notes == (
        "The most current of a contact of 'four-way' is not entered.",
        "Not entered, so not judged: the current of speaker +, speaker -.",
    )


def test_a_wire_that_one_contact_does_not_bear_takes_two():
    wires = [Crossing("lamps, common", Band(0.9, 0.8, 1.0)), Crossing("output 'white'", Band(0.5, 0.5, 0.5))]
    found = contacts(wires, [Plug("two-way", 2, most_a=0.5), Plug("pair", 2, most_a=1.0)])
    assert (found.needed, found.spare) == (3, 1)
    assert found.faults == (
        (
            "Lamps, common carries up to 1000 mA and a contact 500 mA: 500 mA too much for one. "
            "Give it 2 contacts side by side, with some to spare, or a plug that bears it."
        ),
    )
    assert (
        found.in_words == "2 wires cross between shell and chassis and take 3 contacts; the plugs have 4: 1 to spare."
    )


def test_the_least_that_a_contact_surely_bears_counts():
    wire = [Crossing("speaker +", Band(0.45, 0.45, 0.45))]
    assert contacts(wire, [Plug("pair", 2, most_a=Known(0.5, 0.4, 0.6))]).needed == 2


def test_float_noise_takes_no_contact():
    wire = Crossing("lamps, common", Band(0.1 + 0.2, 0.1 + 0.2, 0.1 + 0.2))
    assert contacts([wire], [Plug("pair", 2, most_a=0.3)]).needed == 1


def test_nothing_crosses_and_no_plug():
    assert contacts([]).in_words == "No wire crosses between shell and chassis."
    one = contacts([Crossing("speaker +", Band(0.1, 0.1, 0.1))])
    assert one.in_words == "1 wire crosses between shell and chassis and takes 1 contact; no plug is entered."
    assert not one.faults


def test_a_plug_keeps_its_size():
    plug = Plug("four-way", 4, 1.0, Fraction(21, 2), 3.0, 4.0)
    assert plug.length_mm == Fraction(21, 2)


@pytest.mark.parametrize(
    ("call", "kind", "text"),
    [
        (
            lambda: Plug("four-way", 0),
            OutOfRange,
            "the poles of 'four-way' is 0; it must be 1 or more. Count its contacts.",
        ),
        (
            lambda: Plug("four-way", 2.5),
            WrongKind,
            "the poles of 'four-way' is 2.5; expected a whole number. Count its contacts.",
        ),
        (
            lambda: Plug("four-way", True),
            WrongKind,
            "the poles of 'four-way' is True; expected a whole number. Count its contacts.",
        ),
        (
            lambda: Plug("four-way", 4, most_a=0),
            OutOfRange,
            "the most current of a contact of 'four-way' is 0 A; it must be above 0 A. Check the figure behind it.",
        ),
        (
            lambda: Plug("four-way", 4, width_mm=-1),
            OutOfRange,
            "the width of 'four-way' is -1 mm; it must be above 0 mm. Check the figure behind it.",
        ),
        (
            lambda: Plug("four-way", 4, height_mm=0),
            OutOfRange,
            "the height of 'four-way' is 0 mm; it must be above 0 mm. Check the figure behind it.",
        ),
        (
            lambda: crossings(LAMPS, "chassis", lamps_in="tender"),
            UnknownChoice,
            "where the lamps are is 'tender'; write one of shell, chassis.",
        ),
        (
            lambda: crossings(LAMPS, "chassis", lamps_in={"cab": "tender"}),
            UnknownChoice,
            "where 'cab' is is 'tender'; write one of shell, chassis.",
        ),
        (
            lambda: crossings([], "chassis", motor_in="tender"),
            UnknownChoice,
            "where the motor is is 'tender'; write one of shell, chassis.",
        ),
        (
            lambda: crossings([], "chassis", speaker_in="shell", currents_a={"speaker": -1}),
            OutOfRange,
            "the current of the speaker is -1 A; it must be 0 A or more. Check the figure behind it.",
        ),
        (
            lambda: Plug("four-way", 4, length_mm=0),
            OutOfRange,
            "the length of 'four-way' is 0 mm; it must be above 0 mm. Check the figure behind it.",
        ),
        (
            lambda: Plug("", 4),
            UnreadableLength,
            "'': a plug has no name; write one, such as 'front white'.",
        ),
        (
            lambda: crossings([], "frame"),
            UnknownChoice,
            "where the decoder is is 'frame'; write one of shell, chassis.",
        ),
        (
            lambda: crossings(LAMPS, "chassis", lamps_in={"frnt": "shell"}),
            UnknownChoice,
            "a lamp that has a place is 'frnt'; write one of front, rear, number boards, cab. Did you mean 'front'?",
        ),
        (
            lambda: crossings([], "chassis", currents_a={"speakers": 0.5}),
            UnknownChoice,
            (
                "whose current it is is 'speakers'; write one of speaker, motor, pickups, keep-alive. "
                "Did you mean 'speaker'?"
            ),
        ),
    ],
)
def test_what_is_no_plug_or_place_is_refused(call, kind, text):
    with pytest.raises(kind, match=whole(text)):
        call()


def test_each_thing_crosses_by_its_own_two_wires():
    for side, wires in (
        ("speaker_in", ["speaker +", "speaker -"]),
        ("motor_in", ["motor +", "motor -"]),
        ("pickups_in", ["left rail", "right rail"]),
        ("keep_alive_in", ["keep-alive +", "keep-alive -"]),
    ):
        assert names(crossings([], "chassis", **{side: "shell"})) == wires
        assert crossings([], "chassis", **{side: "chassis"}) == ()
    assert crossings([], "chassis") == ()
    assert crossings(LAMPS, "shell") == ()  # lamps are in the shell unless said
    assert len(crossings(LAMPS, "chassis", lamps_in="shell")) == 4
    still = crossings([], "chassis", motor_in="shell", currents_a={"motor": 0})
    assert [wire.current_a for wire in still] == [Band(0, 0, 0)] * 2


@pytest.mark.parametrize(("milliamps", "needed"), [(0, 1), (500, 1), (501, 2), (1000, 2), (1001, 3)])
def test_contacts_by_what_one_bears(milliamps, needed):
    """Contacts of 500 mA, counted by hand."""
    wire = Crossing("speaker +", Band(milliamps / 1000, 0, milliamps / 1000))
    found = contacts([wire], [Plug("three-way", 3, most_a=0.5)])
    assert (found.needed, found.there, found.over_by, found.spare) == (needed, 3, 0, 3 - needed)
    assert found.in_words == (
        f"1 wire crosses between shell and chassis and takes {needed} contact{'s' * (needed > 1)}; the plugs have 3: "
        f"{3 - needed} to spare."
    )
    assert (found.notes, len(found.faults)) == ((), int(needed > 1))


def test_a_current_hardly_over_what_a_contact_bears_is_told_so_that_it_shows():
    (said,) = contacts([Crossing("motor +", Band(0.5, 0.5, 0.5002))], [Plug("pair", 2, most_a=0.5)]).faults
    assert said.startswith("Motor + carries up to 500.2 mA and a contact 500 mA: 0.2 mA too much for one. Give it 2")


def test_a_plug_of_one_pole_is_a_plug():
    wire = Crossing("speaker +")
    found = contacts([wire], [Plug("pin", 1)])
    assert (found.needed, found.there, found.faults) == (1, 1, ())
    assert found.in_words.endswith("the plugs have 1: 0 to spare.")
    assert contacts([wire]).notes == ()
    assert contacts([wire, wire], [Plug("pin", 1)]).over_by == 1
