"""Windows and macOS: by which name a port is known, whatever place in the list it has."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.ports.listing import bare_names, bare_of, in_another_order, known_as, places_of


@pytest.mark.parametrize(
    ("raw", "system", "bare"),
    [
        # RtMidi.cpp, MidiInWinMM::getPortName: the place behind a space
        (["Stage Piano 0", "Foldaway Synth 2 1"], "winmm", ["Stage Piano", "Foldaway Synth 2"]),
        ([" 0", "", "Synth 2"], "winmm", ["", "", "Synth"]),  # a port may have no name (RtMidi issue 376)
        (["Synth", "Synth 1"], "core", ["Synth", "Synth 1"]),  # macOS adds nothing
    ],
)
def test_the_bare_name_leaves_out_what_the_system_adds(raw: list[str], system: str, bare: list[str]) -> None:
    assert bare_names(raw, system) == bare


@pytest.mark.parametrize(
    ("bare", "held", "known"),
    [
        (["A", "", "B"], [], ("A", "B")),
        (["A", "B", "A"], [], ("A (1)", "A (2)", "B")),
        (["A", "A"], ["A"], ("A", "A (2)")),  # one that was alone when it was opened keeps its name
        (["A"], ["A (1)", "A (2)"], ("A (1)", "A (2)")),  # which of them has left nobody says
        (["A"], ["A (2)"], ("A (2)",)),
        ([], ["A (1)"], ()),
        (["A (2)", "B"], ["A (2)"], ("A (2)", "B")),  # a device's own name may end in a number
    ],
)
def test_ports_with_one_name_are_numbered_and_open_ones_keep_their_names(
    bare: list[str], held: list[str], known: tuple[str, ...]
) -> None:
    assert known_as(bare, held) == known


def test_a_port_is_searched_among_all_with_its_bare_name() -> None:
    assert places_of("A (2)", ["A", "B", "A"]) == (2, 0)
    assert places_of("A", ["B", "A"]) == (1,)
    assert places_of("C", ["A"]) == ()


@pytest.mark.parametrize(
    ("before", "now", "changed"),
    [
        ("ABC", "BC", False),  # one that leaves moves the others up
        ("BC", "ABC", False),
        ("ABC", "ACB", True),  # B was gone and is back
        ("AAB", "AB", False),
        ("", "AB", False),
    ],
)
def test_a_changed_order_reveals_a_port_that_went_and_returned(before: str, now: str, *, changed: bool) -> None:
    assert in_another_order(before, now) is changed


@given(st.lists(st.sampled_from(["A", "B", "A (2)", ""])), st.sets(st.sampled_from(["A", "A (1)", "A (2)", "B", "C"])))
def test_no_two_ports_share_a_name(bare: list[str], held: set[str]) -> None:
    known = known_as(bare, held)
    assert len(set(known)) == len(known)
    assert {bare_of(name, bare) for name in known} <= set(bare)
