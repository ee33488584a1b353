"""The computer is put to sleep and woken: no burst of clock, no hold out of the gap, and the foot is answered."""

import os
import signal
import time

import pytest
from real.program import wait_until
from real.stage import Stage

ASLEEP_S = 3.0
CLOCK = 0xF8  # MIDI 1.0, Table V
TICKS_A_SECOND = 48  # at 120: 24 a quarter


@pytest.fixture
def stage(stage: Stage) -> Stage:
    """A stage whose board is also sent MIDI clock, and whose foot goes back when it is held."""
    rig = stage.rig.read_text(encoding="utf-8").replace("{port: Board,", "{port: Board, clock: yes,")
    stage.rig.write_text(rig.replace("press: next}", "press: next, hold: back}"), encoding="utf-8")
    return stage


@pytest.mark.long
def test_after_sleep_the_place_and_the_clock_are_unchanged(stage: Stage) -> None:
    program = stage.start()
    stage.first_program()
    stage.wait_for_the_foot()
    for _ in range(2):
        stage.press(64)
    stage.hears(stage.due())
    stage.box.send(b"\xb0\x40\x7f")  # the foot is down as the lid is closed
    wait_until(lambda: len(stage.entries()) == 3, "the third step", 5)
    stage.jack.stand_still()  # it sleeps as well: else it would throw out a client that does not answer
    os.kill(program.process.pid, signal.SIGSTOP)
    stage.box.send(b"\xb0\x40\x00")
    time.sleep(ASLEEP_S)
    stage.board.forget()
    stage.jack.go_on()
    os.kill(program.process.pid, signal.SIGCONT)
    time.sleep(1.0)
    ticks = [at_ns for at_ns, message in stage.board.heard() if message[0] == CLOCK]
    assert len(stage.entries()) == 3, "the foot was up again before a hold could be meant"
    assert ticks, "the clock goes on"
    assert len(ticks) < TICKS_A_SECOND * 1.5, "and makes up for nothing"
    stage.press(64)
    wait_until(lambda: len(stage.entries()) == 4, "one more step", 10)
    stage.hears(stage.due())
    stage.assert_as_if_uninterrupted()
