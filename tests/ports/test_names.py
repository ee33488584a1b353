"""A port is found by part of its name, whatever numbers the system adds today."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.ports import PortMatch, find, is_ours, why_not
from companion.ports.port_names import without_numbers

ALSA = (
    "Midi Through:Midi Through Port-0 14:0",
    "Stage Piano:Stage Piano MIDI 1 24:0",
    "Foot Box:Foot Box MIDI 1 28:0",
    "companion:to Stage Piano 128:0",
    "companion:from Foot Box 129:0",
)
PIANO, BOX = ALSA[1], ALSA[2]


@pytest.mark.parametrize(
    ("name", "system", "bare"),
    [
        # RtMidi.cpp, MidiInAlsa::getPortName: client and port number behind a space
        ("Stage Piano:Stage Piano MIDI 1 24:0", "alsa", "stage piano:stage piano midi 1"),
        # Windows itself: the socket, in front (from memory); of two alike the number (ports/listing.py)
        ("Stage Piano (2)", "winmm", "stage piano"),
        ("2- Stage Piano", "winmm", "stage piano"),
        ("Stage Piano 1", "core", "stage piano 1"),  # there it is the device's own
        # from memory: JACK's bridge to ALSA puts the client in brackets; JACK numbers clients of one name
        ("a2j:Stage Piano [24] (capture): MIDI 1", "jack", "a2j:stage piano (capture): midi 1"),
        ("Stage Synth-01:out", "jack", "stage synth:out"),
    ],
)
def test_numbers_added_by_the_system_are_ignored(name: str, system: str, bare: str) -> None:
    assert without_numbers(name, system) == bare


@pytest.mark.parametrize(
    ("word", "found"),
    [
        ("Stage Piano", PIANO),
        ("stage  piano", PIANO),
        ("FOOT", BOX),
        (PIANO, PIANO),
        ("Stage Piano MIDI 1 20:0", PIANO),  # copied from a list of last week
        ("Grand", None),
        ("companion", None),
        ("to Stage", None),
    ],
)
def test_part_of_a_name_finds_the_port(word: str, found: str | None) -> None:
    assert find(word, ALSA, "alsa") == PortMatch(found)


@pytest.mark.parametrize("word", ["Café", "cafe\u0301"])
def test_an_accent_is_found_in_either_of_its_encodings(word: str) -> None:
    for listed in (
        "Café Piano",
        "Cafe\u0301 Piano",
    ):  # one letter; a letter and a sign (NFC, NFD)
        assert find(word, (listed,), "coremidi") == PortMatch(listed)


def test_a_full_match_without_its_number_beats_a_partial_match() -> None:
    listed = ("MIDIIN2 (Stage Piano)", "Stage Piano", "Stage Piano Editor")
    for word in ("Stage Piano", "stage piano 1", "2- Stage Piano"):  # the place in the list, as other programs show it
        assert find(word, listed, "winmm") == PortMatch("Stage Piano")


def test_a_number_in_the_devices_own_name_is_kept() -> None:
    listed = ("Foldaway Synth", "Foldaway Synth 2")
    assert find("Foldaway Synth 2", listed, "winmm") == PortMatch("Foldaway Synth 2")
    assert find("Foldaway Synth", listed, "winmm") == PortMatch("Foldaway Synth")


@pytest.mark.parametrize("system", ["winmm", "core"])
def test_of_two_similar_names_the_right_one_is_found(system: str) -> None:
    alike = ("Synth (1)", "Synth (2)")
    assert find("Synth", alike, system).several == alike
    assert find("Synth (2)", alike, system) == PortMatch("Synth (2)")
    assert find("Synth (2)", ("Synth (1)",), system) == PortMatch()
    assert find("Synth (2)", ("Synth",), system) == PortMatch()


def test_a_port_claimed_by_its_number_is_not_found_without_the_number() -> None:
    left, right = "Synth:MIDI 1 24:0", "Synth:MIDI 1 28:0"
    assert find(left, (right,), "alsa", last=left) == PortMatch(right), "it has moved to another socket"
    assert find(left, (right,), "alsa", last=left, taken=[right]) == PortMatch(), "it is the other one"
    assert find("Synth", (right,), "alsa", taken=[right]) == PortMatch(right), "a word without a number means them all"


def test_a_part_that_fits_several_ports_reports_them_all() -> None:
    assert find("MIDI 1", ALSA, "alsa") == PortMatch(several=(PIANO, BOX))


def test_a_whole_name_beats_part_of_another() -> None:
    assert find("Synth", ("Synth", "Synth 2"), "core") == PortMatch("Synth")


def test_two_ports_with_one_name_are_not_guessed_between() -> None:
    assert find("Synth", ("Synth", "Synth"), "core").several == ("Synth", "Synth")


def test_without_a_name_the_only_port_is_used() -> None:
    assert find("", (ALSA[0], PIANO, ALSA[3]), "alsa") == PortMatch(PIANO)
    assert find("", ALSA, "alsa").several == (PIANO, BOX)
    assert find("", (ALSA[0], ALSA[3]), "alsa") == PortMatch()


@pytest.mark.parametrize(
    "loop",
    [
        "Midi Through:Midi Through Port-0 14:0",
        "IAC Driver Bus 1",
        "IAC-Treiber Bus 1",  # macOS in German, from memory
        "Gestionnaire IAC Bus 1",  # in French, from memory
        "Microsoft GS Wavetable Synth",  # Windows lists it always, from memory
    ],
)
def test_a_loop_and_the_systems_synthesizer_are_used_only_by_name(loop: str) -> None:
    assert find("", (loop, PIANO), "alsa") == PortMatch(PIANO)
    assert find(loop[:8], (loop, PIANO), "alsa") == PortMatch(loop)


def test_a_connected_port_is_kept_when_others_are_plugged_in() -> None:
    other = "Stage Piano 2:MIDI 1 32:0"
    assert find("Stage Piano", (other, PIANO), "alsa").several
    assert find("Stage Piano", (other, PIANO), "alsa", last=PIANO) == PortMatch(PIANO)


def test_of_two_identical_boards_the_one_in_use_stays() -> None:
    first, second = "Synth:MIDI 1 24:0", "Synth:MIDI 1 28:0"
    assert find("Synth", (first, second), "alsa", last=second) == PortMatch(second)


def test_a_port_that_returns_with_another_number_is_found_again() -> None:
    again = "Stage Piano:Stage Piano MIDI 1 36:0"
    other = "Stage Piano 2:MIDI 1 32:0"
    assert find("Stage Piano", (other, again), "alsa", last=PIANO) == PortMatch(again)


@pytest.mark.parametrize(
    ("name", "ours"),
    [
        ("companion:to Stage Piano", True),
        ("companion-02:from Foot Box", True),
        ("companion:to Stage Piano 128:0", True),
        ("Companion Keys:MIDI 1 24:0", False),
        ("companion-tests:out", False),
    ],
)
def test_our_own_ports_are_recognized(name: str, *, ours: bool) -> None:
    assert is_ours(name) is ours


@pytest.mark.parametrize(
    ("word", "listed", "said"),
    [
        ("Grand", ALSA, f'no MIDI output has "Grand" in its name; available: "{PIANO}", "{BOX}"'),
        ("Grand", (), "there is no MIDI output"),
        ("", (), "there is no MIDI output"),
        ("MIDI 1", ALSA, f'"MIDI 1" matches 2 MIDI outputs: "{PIANO}", "{BOX}". Write in the rig file: port: with'),
        ("", ALSA, f'cannot choose between 2 MIDI outputs: "{PIANO}", "{BOX}". Write in the rig file: port:'),
    ],
)
def test_the_message_says_how_to_choose(word: str, listed: tuple[str, ...], said: str) -> None:
    assert why_not(word, find(word, listed, "alsa"), listed, "output").startswith(said)


@given(st.text(), st.lists(st.text()), st.sampled_from(["alsa", "jack", "core", "winmm"]), st.none() | st.text())
def test_any_names_find_a_listed_port_or_nothing(word: str, listed: list[str], system: str, last: str | None) -> None:
    match = find(word, listed, system, last)
    assert match.name is None or match.name in listed
    assert set(match.several) <= set(listed)
    assert why_not(word, match, listed, "input")
