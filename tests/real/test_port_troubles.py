"""Faults that are made to happen on real ports while the show is played, each with what must happen then."""

import contextlib
import sys
import time
from collections.abc import Iterator

import pytest
from real.jack import JackServer, JackTap
from real.playing import Play, press
from real.program import Program, wait_until

SONGS = "  - {title: Crane Street, road_map: 'Intro 4 @one, Verse 4 @two, Chorus 4 @three, Solo 4 @four'}\n"
SOUNDS = "sounds: {one: 1, two: 2, three: 3, four: 4}"
PEDALS = (
    "pedals:\n"
    "  right: {port: Foot Box, control: 80, press: next}\n"
    "  panic: {port: Foot Box, control: 81, press: all off}\n"
)
ONE, TWO, THREE, FOUR = (bytes((0xC0, number)) for number in range(4))
DEAD_SERVER_S = 30  # JACK takes its time over those who were connected to a server that was killed

RENAMED = """
import sys, rtmidi
ear = rtmidi.MidiIn(rtmidi.API_UNIX_JACK, name="Hub")
ear.set_callback(lambda event, _: print(bytes(event[0]).hex(), flush=True))
ear.open_virtual_port(sys.argv[1])
print("ready", flush=True)
for line in sys.stdin:
    ear.set_port_name(line.strip())
    print("renamed", flush=True)
"""


@pytest.fixture
def devices() -> Iterator[contextlib.ExitStack]:
    """Whatever is plugged in, unplugged at the end."""
    with contextlib.ExitStack() as stack:
        yield stack


def wait_for_the_foot(jack: JackServer, box: JackTap) -> None:
    """Wait until the program hears the foot box."""
    wait_until(
        lambda: any(one == box.output and other.startswith("companion") for one, other in jack.connections()),
        "the pedal's cable",
        DEAD_SERVER_S,
    )
    time.sleep(0.05)


def programs(board: JackTap) -> list[bytes]:
    """Return the program changes that a board was sent, oldest first."""
    return [message for _, message in board.heard() if message[0] & 0xF0 == 0xC0]


def test_after_a_server_was_killed_with_notes_held_the_sound_is_on_again(
    jack: JackServer, play: Play, devices: contextlib.ExitStack
) -> None:
    """The last message from the keyboard is a key going down; no message will say that it came up."""
    box, board = JackTap(jack, "Foot Box"), JackTap(jack, "Board")
    program = play(SONGS, f"keyboards: {{lower: {{port: Board, change: when hands lift, {SOUNDS}}}}}\n{PEDALS}")
    board.wait_for([ONE], 20)
    wait_for_the_foot(jack, box)
    wait_for_the_foot(jack, board)
    board.send(bytes.fromhex("90 3C 64"))
    press(box, 80)
    press(box, 80)  # the verse, whose sound waits for the hands
    time.sleep(0.2)
    assert programs(board) == [ONE]
    jack.kill()
    program.wait_for(lambda line: "the MIDI server is not running" in line, DEAD_SERVER_S)
    box.kill()
    board.kill()
    jack.restart()
    board = devices.enter_context(JackTap(jack, "Board"))
    box = devices.enter_context(JackTap(jack, "Foot Box"))
    board.wait_for([TWO], DEAD_SERVER_S)
    assert programs(board) == [TWO], "the sound of the place, once, and nothing of what was before"
    wait_for_the_foot(jack, box)
    time.sleep(1.0)  # what a port that has just appeared says is where its switches rest
    press(box, 80)
    board.wait_for([THREE], 2)  # at once: the key that nobody let go is forgotten, before the four seconds are over
    assert program.runs()


@pytest.mark.long
def test_a_renamed_port_is_reported_lost_and_found_once_its_name_fits_again(
    jack: JackServer, foot_box: JackTap, play: Play
) -> None:
    with Program((sys.executable, "-c", RENAMED, "Board"), env=jack.env) as board:
        board.wait_for(lambda line: line == "ready")
        program = play(SONGS, f"keyboards: {{lower: {{port: Board, {SOUNDS}}}}}\n{PEDALS}")
        board.wait_for(lambda line: line == ONE.hex(), 20)
        wait_for_the_foot(jack, foot_box)
        board.tell("Sampler")
        program.wait_for(lambda line: 'no MIDI output has "Board" in its name' in line and "Sampler" in line, 20)
        press(foot_box, 80)
        press(foot_box, 80)
        time.sleep(0.2)
        assert TWO.hex() not in board.lines, "it is somebody else's now"
        board.tell("Board of the house")
        board.wait_for(lambda line: line == TWO.hex(), 20)
        press(foot_box, 80)
        board.wait_for(lambda line: line == THREE.hex(), 20)
        assert [line for line in board.lines if line.startswith("c0")] == [one.hex() for one in (ONE, TWO, THREE)]
        assert program.runs()


@pytest.mark.long
def test_of_two_keyboards_with_one_name_none_is_used_until_one_is_left(
    jack: JackServer, foot_box: JackTap, play: Play
) -> None:
    with JackTap(jack, "Board") as board, JackTap(jack, "Board") as other:
        program = play(SONGS, f"keyboards: {{lower: {{port: Board, {SOUNDS}}}}}\n{PEDALS}")
        program.wait_for(lambda line: '"Board" matches 2 MIDI outputs' in line, 20)
        wait_for_the_foot(jack, foot_box)
        press(foot_box, 80)
        press(foot_box, 80)
        program.wait_for(lambda line: line == "would send to Board: program 2, channel 1", 10)
        assert programs(board) == programs(other) == []
        other.kill()
        board.wait_for([TWO], 10)
        with JackTap(jack, "Board") as third:  # and one that comes later takes nothing from the one that is played
            time.sleep(1.0)
            press(foot_box, 80)
            board.wait_for([THREE])
            assert programs(third) == []
        assert program.runs()


@pytest.mark.long
def test_all_off_during_the_resend_to_a_returned_keyboard_silences_it_and_resends_all(
    jack: JackServer, foot_box: JackTap, play: Play
) -> None:
    """The keyboard needs a second after its bank, so the foot comes in between."""
    rig = "keyboards: {lower: {port: Board, settle_ms: 1000, sounds: {one: {program: 1, bank: [0, 3]}, two: 2}}}\n"
    board = JackTap(jack, "Board")
    program = play("  - {title: Crane Street, road_map: Intro 4 @one}\n", rig + PEDALS)
    board.wait_for([ONE], 20)
    wait_for_the_foot(jack, foot_box)
    board.kill()
    program.wait_for(lambda line: '"Board"' in line and "MIDI output" in line, 20)
    with JackTap(jack, "Board") as back:
        bank = [bytes.fromhex("B0 00 00"), bytes.fromhex("B0 20 03")]
        back.wait_for(bank, 20)
        press(foot_box, 81)
        back.wait_for([ONE], 10)
        messages = [message for _, message in back.heard()]
        off = [bytes((0xB0 | channel, 120, 0)) for channel in range(16)]  # MIDI 1.0, Table III: all sound off
        assert messages[:2] == bank
        assert [one for one in messages if one in off] == off
        assert messages[messages.index(off[-1]) :][2:] == [*bank, ONE], "all of it again, and nothing of the first"
        time.sleep(1.2)
        assert programs(back) == [ONE], "and nothing comes late"
        assert program.runs()


@pytest.mark.long
def test_a_killed_night_continues_on_a_rig_that_now_lacks_a_sound_and_says_so(
    jack: JackServer, foot_box: JackTap, play: Play
) -> None:
    """Before the first note it is refused; with the band playing, a section without its sound is far from the worst."""
    whole = f"keyboards: {{lower: {{port: Board, {SOUNDS}}}}}\n{PEDALS}"
    lacking = whole.replace(", three: 3", "")
    with JackTap(jack, "Board") as board:
        refused = play(SONGS, lacking)
        refused.wait_for(lambda line: 'has no sound "three"' in line, 20)
        assert refused.wait(20) == 1
        first = play(SONGS, whole)
        board.wait_for([ONE], 20)
        wait_for_the_foot(jack, foot_box)
        press(foot_box, 80)
        press(foot_box, 80)
        board.wait_for([TWO])
        first.kill()
        board.forget()
        second = play(SONGS, lacking)
        second.wait_for(lambda line: line.startswith("note: ") and 'has no sound "three"' in line, 20)
        board.wait_for([TWO], 60)
        wait_for_the_foot(jack, foot_box)
        press(foot_box, 80)  # the chorus, which has lost its sound: what is on stays on
        press(foot_box, 80)
        board.wait_for([FOUR])
        assert programs(board) == [TWO, FOUR]
        assert second.runs()


def test_a_latching_switch_steps_at_each_press(jack: JackServer, foot_box: JackTap, play: Play) -> None:
    pedals = "pedals: {right: {port: Foot Box, control: 80, press: next, latching: yes}}\n"
    with JackTap(jack, "Board") as board:
        play(SONGS, f"keyboards: {{lower: {{port: Board, {SOUNDS}}}}}\n{pedals}")
        board.wait_for([ONE], 20)
        wait_for_the_foot(jack, foot_box)
        for value in (0, 127, 0, 127):  # it stood at 127 before the program was started
            foot_box.send(bytes((0xB0, 80, value)))
            time.sleep(0.1)
        board.wait_for([FOUR])
        assert programs(board) == [ONE, TWO, THREE, FOUR]
