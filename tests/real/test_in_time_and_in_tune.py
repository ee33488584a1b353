"""Clock and tuning on real ports: a second process stamps the ticks, and no crash leaves a keyboard out of tune."""

import time

import pytest
from examples import seldom
from real.jack import JackServer, JackTap
from real.playing import Play, press
from real.program import wait_until

START, TICK = b"\xfa", b"\xf8"  # MIDI 1.0, System Real Time Messages
TICKS_A_QUARTER = 24  # the same
HALF_DOWN, AS_BUILT = (bytes((0xB0, 6, 64 + semitones)) for semitones in (-1, 0))  # data entry; 64 is the centre
PEDALS = (
    "pedals: {right: {port: Foot Box, control: 80, press: next}, down: {port: Foot Box, control: 81, press: key down}}"
)


def wait_for_the_foot(jack: JackServer, box: JackTap) -> None:
    wait_until(lambda: any(one == box.output for one, _ in jack.connections()), "the pedal's cable", 15)
    time.sleep(0.05)


@pytest.mark.parametrize("bpm", [seldom(96), 174])
def test_the_clock_received_by_another_process_has_the_songs_tempo(
    jack: JackServer, foot_box: JackTap, play: Play, bpm: int
) -> None:
    """Ticks against the stamps of whoever hears them, to 3 %: on a busy machine JACK loses some."""
    with JackTap(jack, "Board") as board:
        play(
            f"  - {{title: Crane Street, tempo: {bpm}, sound: one, road_map: 'Intro 4, Verse 4'}}\n",
            f"keyboards: {{lower: {{port: Board, clock: yes, sounds: {{one: 1}}}}}}\n{PEDALS}\n",
        )
        board.wait_for([b"\xc0\x00"], 20)
        wait_for_the_foot(jack, foot_box)
        press(foot_box, 80)
        board.wait_for([START])
        wait_until(lambda: len(ticks(board)) > 4 * TICKS_A_QUARTER, "four quarters", 10)
        stamps = ticks(board)
        quarters = (stamps[-1] - stamps[0]) / 1e9 * bpm / 60
        assert len(stamps) - 1 == pytest.approx(quarters * TICKS_A_QUARTER, rel=0.03)


def ticks(board: JackTap) -> list[int]:
    """Return when each tick came that is behind the start."""
    heard = board.heard()
    begun = next((number for number, one in enumerate(heard) if one.message == START), len(heard))
    return [one.at_ns for one in heard[begun:] if one.message == TICK]


@pytest.mark.long
def test_a_lowered_key_survives_a_crash_and_ends_with_the_next_song(
    jack: JackServer, foot_box: JackTap, play: Play
) -> None:
    """Registered parameter 2, channel coarse tuning (MIDI 1.0)."""
    songs = "".join(f"  - {{title: {title}, key: C, sound: one, road_map: Intro 4}}\n" for title in ("One", "Two"))
    rig = f"keyboards: {{lower: {{port: Board, transpose: channel tuning, sounds: {{one: 1}}}}}}\n{PEDALS}\n"
    with JackTap(jack, "Board") as board:
        first = play(songs, rig)
        board.wait_for([AS_BUILT], 20)
        wait_for_the_foot(jack, foot_box)
        press(foot_box, 80)
        press(foot_box, 81)
        board.wait_for([HALF_DOWN])
        first.kill()
        board.forget()
        play(songs, rig)
        board.wait_for([HALF_DOWN], 60)
        wait_for_the_foot(jack, foot_box)
        press(foot_box, 80)
        board.wait_for([AS_BUILT])
        assert tunings(board) == [HALF_DOWN, AS_BUILT]


@pytest.mark.long
def test_a_lowered_key_ends_when_the_show_starts_over_after_a_crash(
    jack: JackServer, foot_box: JackTap, play: Play
) -> None:
    songs = "  - {title: One, key: C, sound: one, road_map: Intro 4}\n"
    rig = f"keyboards: {{lower: {{port: Board, transpose: channel tuning, sounds: {{one: 1}}}}}}\n{PEDALS}\n"
    with JackTap(jack, "Board") as board:
        first = play(songs, rig)
        board.wait_for([AS_BUILT], 20)
        wait_for_the_foot(jack, foot_box)
        press(foot_box, 81)
        board.wait_for([HALF_DOWN])
        first.kill()
        board.forget()
        play("  - {title: Another, sound: one, road_map: Intro 4}\n", rig)  # of the night before nothing is left
        board.wait_for([AS_BUILT], 60)
        assert tunings(board) == [AS_BUILT]


def tunings(board: JackTap) -> list[bytes]:
    """Return what the keyboard was tuned to, oldest first."""
    return [message for _, message in board.heard() if message[:2] == HALF_DOWN[:2]]
