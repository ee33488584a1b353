"""The ports on a real JACK server: boards come and go, the server dies or stands still, and nothing hangs."""

import os
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from real.flood import flood
from real.jack import JackServer, JackTap
from real.program import Program, wait_until

LISTENER = str(Path(__file__).with_name("listener.py"))
PRESS, RELEASE, PROGRAM = b"\xb0\x40\x7f", b"\xb0\x40\x00", b"\xc0\x05"


def listener(jack: JackServer, *words: str) -> Program:
    return Program((sys.executable, LISTENER, *words), env=jack.env)


def news(program: Program, start: str, after: int = 0, seconds: float = 20) -> int:
    """Wait for a line that begins so; the number of the one behind it."""
    return program.wait_for(lambda line: line.startswith(start), seconds, after) + 1


def heard(program: Program, word: str, message: bytes, after: int) -> int:
    return program.wait_for(lambda line: line.endswith(f" {word} {message.hex()}"), 20, after) + 1


def only_ours(lines: list[str]) -> bool:
    """Return whether all that the program printed is its own: no library has written on the terminal."""
    return all(
        line.split()[0] in {"found", "lost", "watching", "sent", "stopped"} or line.split()[0].isdigit()
        for line in lines
    )


@pytest.fixture
def piano(jack: JackServer) -> Iterator[JackTap]:
    with JackTap(jack, "Piano") as board:
        yield board


def test_a_press_arrives_under_the_rigs_word_and_a_sound_goes_out(jack: JackServer, piano: JackTap) -> None:
    with JackTap(jack, "Foot Box") as box, listener(jack, "foot box", "--", "Piano") as program:
        now = news(program, "watching")
        box.press()
        now = heard(program, "foot box", PRESS, now)
        heard(program, "foot box", RELEASE, now)
        program.tell(f"send Piano {PROGRAM.hex()}")
        piano.wait_for([PROGRAM])
        assert program.hang_up() == 0
        assert only_ours(program.lines)
        assert not any(port.startswith("companion") for port in jack.ports())


def test_an_unplugged_cable_is_reported_and_works_again_once_replugged(jack: JackServer) -> None:
    with listener(jack, "Box", "--") as program:
        now = news(program, "lost in Box: there is no MIDI input")
        for _ in range(2):
            box = JackTap(jack, "Foot Box")
            now = news(program, "found in Box", now)
            box.press()
            now = heard(program, "Box", RELEASE, now)
            box.kill()
        with JackTap(jack, "Foot Box") as box:  # perhaps before the watch has looked: the name is the same
            now = news(program, "found in Box", now)
            box.press()
            heard(program, "Box", RELEASE, now)
        assert program.hang_up() == 0


def test_a_killed_server_neither_hangs_nor_ends_the_program_and_is_found_again(jack: JackServer) -> None:
    with listener(jack, "Box", "--", "Box") as program:
        now = news(program, "watching")
        for _ in range(2):
            with JackTap(jack, "Box") as box:
                now = news(program, "found out Box", now)
                jack.kill()
                program.tell(f"often Box 6000 {PRESS.hex()}")  # 42 kB; RtMidi keeps 16 and then waits for ever
                sent = news(program, "sent", now)
                now = max(sent, news(program, "lost out Box: the MIDI server is not running", now))
                program.tell(f"send Box {PROGRAM.hex()}")
                now = news(program, "sent False", now)
                box.kill()
            jack.restart()
        with JackTap(jack, "Box") as box:
            now = news(program, "found out Box", now)
            box.press()
            now = heard(program, "Box", RELEASE, now)
            program.tell(f"send Box {PROGRAM.hex()}")
            box.wait_for([PROGRAM])
            assert [message for _, message in box.heard()] == [PROGRAM]  # nothing of what was sent meanwhile
        assert program.hang_up() == 0
        assert only_ours(program.lines)


def test_a_stalled_server_is_waited_for_and_gets_no_burst_afterwards(jack: JackServer, piano: JackTap) -> None:
    with listener(jack, "--", "Piano") as program:
        now = news(program, "found out Piano")
        jack.stand_still()
        now = news(program, "lost out Piano", now)
        program.tell(f"often Piano 6000 {PRESS.hex()}")
        now = news(program, "sent False", now)
        jack.go_on()
        now = news(program, "found out Piano", now)
        program.tell(f"send Piano {PROGRAM.hex()}")
        piano.wait_for([PROGRAM])
        assert [message for _, message in piano.heard()] == [PROGRAM]
        assert program.hang_up() == 0


def test_more_than_the_drivers_buffer_goes_out_in_portions(jack: JackServer, piano: JackTap) -> None:
    with listener(jack, "--", "Piano") as program:
        now = news(program, "found out Piano")
        program.tell(f"often Piano 3000 {PRESS.hex()}")  # 21 kB at once
        news(program, "sent True", now)
        # JACK loses a period where a client comes late: a busy machine may not hear all, nor the very last.
        wait_until(lambda: len(piano.heard()) > 1500, "most of the messages", 20)
        assert program.hang_up() == 0


def test_a_press_counts_while_another_port_floods_and_the_program_ends_cleanly(jack: JackServer) -> None:
    with flood(jack, "(0xB0, 1, 5)") as flooding, JackTap(jack, "Foot Box") as box:
        flooding.tell("now")
        for _ in range(2):
            with listener(jack, "Foot", "Flood", "--") as program:
                now = news(program, "found in Flood")
                now = heard(program, "Flood", b"\xb0\x01\x05", now)
                box.press()
                heard(program, "Foot", PRESS, 0)
                assert program.hang_up() == 0


@pytest.mark.long
def test_the_server_accepts_the_next_program_after_one_was_killed(jack: JackServer) -> None:
    with JackTap(jack, "Foot Box") as box:
        for _ in range(4):
            program = listener(jack, "Foot", "--", "Foot")
            now = news(program, "found out Foot")
            box.press()
            heard(program, "Foot", RELEASE, now)
            program.kill()


def test_without_a_server_nothing_crashes_and_nothing_is_printed() -> None:
    env = {**os.environ, "JACK_DEFAULT_SERVER": "companion-tests-none", "JACK_NO_START_SERVER": "1"}
    with Program((sys.executable, LISTENER, "Foot", "--", "Foot"), env=env) as program:
        news(program, "lost out Foot: the MIDI server is not running")
        news(program, "watching")
        assert program.hang_up() == 0
        assert only_ours(program.lines)
