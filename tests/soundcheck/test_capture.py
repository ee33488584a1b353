"""Capture a hired board's sounds: store what it sends under the show's names."""

from pathlib import Path

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from soundcheck.conversation import Talking
from soundcheck.scenes import RIG, SONGS
from stage.scenes import show_of

from companion.night.happenings import KeyReceived
from companion.ports import MidiReceived
from companion.rig import Keyboard, Rig, change_to, read_rig
from companion.show import Song, SoundCall
from companion.soundcheck.capture.capture_prompts import missing, over, prompt
from companion.soundcheck.capture.capturing import Capture, CaptureStage, at_start, step
from companion.soundcheck.rig_edits import kept
from companion.soundcheck.talk import KeepSound, LineTyped, NotKept, TalkInput, TerminalRead

BOARD = Keyboard("board", port="Club Workstation", channel=1)
HIRED = Rig("Hired", keyboards=(BOARD,))
TWO = Rig("Two", keyboards=(Keyboard("lower", port="Club", channel=1), Keyboard("upper", port="Club", channel=2)))


def capturing(rig: Rig = HIRED, songs: tuple[Song, ...] = SONGS) -> Talking[Capture]:
    return Talking(step, at_start(show_of(songs), rig))


def song(*calls: tuple[str, str | None]) -> Song:
    return Song("A", sounds=tuple(SoundCall(sound, keyboard) for sound, keyboard in calls))


def wants(talk: Talking[Capture]) -> TerminalRead:
    return talk.state.wants


def keeps(talk: Talking[Capture]) -> list[KeepSound]:
    return [one for one in talk.new() if isinstance(one, KeepSound)]


def test_each_sound_of_the_show_is_asked_for_once_in_show_order() -> None:
    assert [one.name for one in capturing().state.wanted] == ["grand piano", "organ", "strings", "lead", "choir"]


def test_sounds_missing_from_the_rig_come_first() -> None:
    rig = msgspec.structs.replace(
        RIG, keyboards=(msgspec.structs.replace(RIG.keyboards[0], sounds=()), RIG.keyboards[1])
    )
    assert [one.name for one in capturing(rig).state.wanted][-1] == "lead"


@pytest.mark.parametrize(
    ("messages", "program", "bank"),
    [
        # MIDI 1.0: bank MSB (0), bank LSB (32), program; the bank takes effect at the program change, and stays
        (("B0 00 51", "B0 20 03", "C0 10"), 16, (81, 3)),
        (("B0 00 51", "C0 10"), 16, (81, None)),
        (("C0 10",), 16, (None, None)),
        (("B0 00 51", "B0 20 03", "C0 05", "C0 10"), 16, (81, 3)),  # the last one chosen, in the bank as it was
        (("B1 00 51", "C0 10"), 16, (None, None)),  # another channel's bank is another's
    ],
)
def test_enter_stores_what_the_board_sent(
    messages: tuple[str, ...], program: int, bank: tuple[int | None, int | None]
) -> None:
    talk = capturing()
    talk.midi("Club Workstation", *messages)
    assert keeps(talk) == []
    talk.key("enter")
    assert keeps(talk) == [KeepSound(BOARD, "grand piano", program, bank)]
    assert talk.state.wanted[talk.state.at].name == "organ"


def test_a_program_counts_for_one_sound_only_but_its_bank_stays() -> None:
    talk = capturing()
    talk.midi("Club Workstation", "B0 00 51", "C0 10")
    talk.key("enter")
    talk.new()
    talk.key("enter")
    assert keeps(talk) == []
    assert talk.state.wanted[talk.state.at].name == "organ"
    talk.midi("Club Workstation", "C0 11")
    talk.key("enter")
    assert keeps(talk) == [KeepSound(BOARD, "organ", 17, (81, None))]


def test_the_prompt_shows_the_program_as_the_panel_counts() -> None:
    talk = capturing()
    talk.midi("Club Workstation", "B0 00 51", "B2 20 00", "C0 10")
    assert "    board sends bank msb 81, program 17" in prompt(talk.state)


def test_a_channel_other_than_the_rigs_is_reported() -> None:
    talk = capturing()
    talk.midi("Club Workstation", "C3 10")
    assert any("on channel 4; the rig has 1" in line for line in prompt(talk.state))


def test_the_channel_distinguishes_two_boards_on_one_port() -> None:
    talk = capturing(TWO, (song(("lead", None)),))
    talk.midi("Club", "C1 51")
    talk.key("enter")
    assert [one.board.name for one in keeps(talk)] == ["upper"]


def test_a_sound_for_one_keyboard_is_captured_from_that_keyboard_only() -> None:
    talk = capturing(TWO, (song(("lead", "upper")),))
    talk.midi("Club", "C0 51")
    assert talk.said() == ['That came from lower; the show has it on "upper".']
    talk.key("enter")
    assert keeps(talk) == []
    talk.midi("Club", "C1 51")
    talk.key("enter")
    assert [one.board.name for one in keeps(talk)] == ["upper"]


def test_without_a_message_the_player_types_what_to_press() -> None:
    talk = capturing()
    talk.key("h")
    assert wants(talk) is TerminalRead.LINE
    talk.line("  bank B,  button 4 ")
    assert keeps(talk) == [KeepSound(BOARD, "grand piano", by_hand="bank B, button 4")]
    assert wants(talk) is TerminalRead.KEY


def test_an_instruction_can_be_stored_beside_a_program() -> None:
    talk = capturing()
    talk.midi("Club Workstation", "C0 10")
    talk.key("h")
    talk.line("A 17")
    assert keeps(talk) == [KeepSound(BOARD, "grand piano", 16, (None, None), "A 17")]


def test_an_empty_instruction_is_asked_again_and_a_long_one_is_refused() -> None:
    talk = capturing()
    talk.key("h")
    talk.line("")
    assert (talk.state.stage, talk.state.at) == (CaptureStage.ASK, 0)
    talk.key("h")
    talk.line("x" * 81)
    assert "At most 80 letters" in talk.said()[-1]
    assert wants(talk) is TerminalRead.LINE


def test_an_instruction_is_for_the_keyboard_heard_last_if_the_show_names_none() -> None:
    talk = capturing(TWO, (song(("lead", None)),))
    talk.midi("Club", "91 3C 40")
    talk.key("h")
    talk.line("B 4")
    assert [one.board.name for one in keeps(talk)] == ["upper"]


def test_enter_before_any_message_says_what_to_do() -> None:
    talk = capturing()
    talk.key("enter")
    assert "Nothing received yet" in talk.said()[-1]
    assert talk.state.at == 0


def test_enter_leaves_a_sound_that_the_rig_has() -> None:
    talk = capturing(RIG)
    assert "    the rig has it: lower, program 1" in prompt(talk.state)
    talk.key("enter")
    assert (keeps(talk), talk.state.at) == ([], 1)


def test_sounds_still_missing_at_the_end_are_listed() -> None:
    talk = capturing()
    talk.midi("Club Workstation", "C0 10")
    talk.key("enter", "s", "b", "b", "d")
    assert wants(talk) is TerminalRead.NOTHING
    assert missing(talk.state) == ("organ", "strings", "lead", "choir")
    assert list(over(talk.state)) == [
        "1 sound stored: grand piano",
        "4 sounds of the show still missing on this rig: organ, strings, lead, choir",
    ]


def test_one_sound_under_two_names_is_asked_for_once_and_stored_under_both() -> None:
    talk = capturing(songs=(song(("organ", None)), song(("lead", None)), song(("Tonewheel Organ", None))))
    assert [one.names for one in talk.state.wanted] == [("organ", "Tonewheel Organ"), ("lead",)]
    assert '    stored under "organ" and "Tonewheel Organ"   2: they are different sounds' in prompt(talk.state)
    talk.midi("Club Workstation", "C0 10")
    talk.key("enter")
    assert keeps(talk) == [
        KeepSound(BOARD, "organ", 16, (None, None)),
        KeepSound(BOARD, "Tonewheel Organ", 16, (None, None)),
    ]
    assert missing(talk.state) == ("lead",)


def test_two_names_for_different_sounds_are_asked_for_one_by_one() -> None:
    talk = capturing(songs=(song(("organ", None)), song(("tonewheel organ", None))))
    talk.key("2")
    assert [one.names for one in talk.state.wanted] == [("organ",), ("tonewheel organ",)]


def test_a_bare_name_and_the_same_on_a_keyboard_are_one_sound() -> None:
    talk = capturing(TWO, (song(("lead", None)), song(("Lead", "upper")), song(("pad", None))))
    assert [(one.name, one.keyboard) for one in talk.state.wanted] == [("Lead", 1), ("pad", None)]


def test_an_instruction_is_stored_under_both_names() -> None:
    talk = capturing(songs=(song(("organ", None)), song(("tonewheel organ", None))))
    talk.key("h")
    talk.line("bank B, button 4")
    assert [one.name for one in keeps(talk)] == ["organ", "tonewheel organ"]


def test_a_show_without_sounds_is_over_at_once() -> None:
    assert wants(capturing(songs=(Song("A"),))) is TerminalRead.NOTHING


def test_a_sound_that_could_not_be_stored_is_reported() -> None:
    talk = capturing()
    talk.take(NotKept("full"))
    assert talk.said() == ["not kept: full"]


def test_a_sound_that_could_not_be_stored_is_still_missing() -> None:
    talk = capturing()
    talk.midi("Club Workstation", "C0 10")
    talk.key("enter")
    assert talk.state.kept == ("grand piano",)
    talk.take(NotKept("full", sound="grand piano"))
    assert "grand piano" in missing(talk.state)
    assert next(over(talk.state)) == "0 sounds stored"


def test_what_was_captured_puts_the_same_sound_on(tmp_path: Path) -> None:
    """From the board's own bytes to the file, and back to the bytes that are sent to it."""
    text = "rig: Hired\nkeyboards:\n  board: {port: Club Workstation, programs_from: 0}   # theirs\n"
    chosen = ("B0 00 51", "B0 20 03", "C0 10")
    talk = capturing()
    talk.midi("Club Workstation", *chosen)
    talk.key("enter")
    (request,) = keeps(talk)
    file = tmp_path / "rig.yaml"
    file.write_text(kept(text, request))
    board = read_rig(file).rig.keyboards[0]
    sent = change_to(board, board.sounds[0])
    assert [one.hex(" ").upper() for one in sent if isinstance(one, bytes)] == list(chosen)


HAPPENINGS: st.SearchStrategy[TalkInput] = st.one_of(
    st.builds(KeyReceived, st.sampled_from(["enter", "h", "s", "b", "z"]), st.booleans()),
    st.builds(LineTyped, st.text(max_size=100)),
    st.builds(
        MidiReceived,
        st.sampled_from(["Club", "Other"]),
        st.binary(max_size=2).map(lambda some: b"\xb1" + some),
        st.just(0),
    ),
    st.builds(lambda program: MidiReceived("Club", bytes((0xC1, program)), 0), st.integers(0, 127)),
)


@given(st.lists(HAPPENINGS, max_size=30))
def test_any_input_is_survived(events: list[TalkInput]) -> None:
    talk = capturing(TWO, (song(("lead", "upper"), ("pad", None)),))
    for happened in events:
        talk.take(happened)
        prompt(talk.state)
