"""The farewell: whatever ends the program, however often and whenever, its boards fall silent and its night is over."""

import contextlib
import signal
import time
from pathlib import Path

import pytest
from examples import seldom
from real.program import Program, wait_until
from real.stage import Stage

ALL_NOTES_OFF = b"\xb0\x7b\x00"  # MIDI 1.0, channel mode messages: 123
INT, TERM, HUP = signal.SIGINT, signal.SIGTERM, signal.SIGHUP


def send(program: Program, signals: tuple[signal.Signals, ...], apart_s: float) -> None:
    for number in signals:
        with contextlib.suppress(ProcessLookupError):  # it has ended already
            program.process.send_signal(number)
        time.sleep(apart_s)


def heeds_signals(program: Program) -> bool:
    """Return whether the program has taken SIGTERM over, which Python by itself does not (proc(5), SigCgt)."""
    status = Path(f"/proc/{program.process.pid}/status").read_text()
    caught = next(line.split()[1] for line in status.splitlines() if line.startswith("SigCgt"))
    return bool(int(caught, 16) >> (TERM - 1) & 1)


def assert_ended_in_order(stage: Stage, *, is_over: bool = True) -> None:
    assert stage.program is not None
    assert stage.program.wait(15) == 0, stage.program.lines
    printed = "\n".join(stage.program.lines)
    assert "Traceback" not in printed, printed
    assert "Error" not in printed, printed
    assert stage.reading().ended is is_over, printed
    stage.board.wait_for((ALL_NOTES_OFF,))


@pytest.mark.parametrize(
    ("signals", "apart_s"),
    [
        ((INT, INT), 0.0),
        seldom((INT, INT), 0.05),
        seldom((INT, INT, INT), 0.2),
        seldom((TERM, TERM), 0.02),
        ((HUP, INT, TERM), 0.05),
    ],
    ids=lambda one: str(one) if isinstance(one, float) else "-".join(part.name for part in one),
)
def test_in_mid_show_any_signal_sent_twice_ends_the_night_cleanly(
    stage: Stage, signals: tuple[signal.Signals, ...], apart_s: float
) -> None:
    program = stage.start()
    stage.first_program()
    stage.wait_for_the_foot()
    stage.press()
    wait_until(stage.entries, "the journal's first entry", 5)
    stage.board.forget()
    send(program, signals, apart_s)
    assert_ended_in_order(stage, is_over=signals[0] is INT)


@pytest.mark.parametrize("number", [TERM, seldom(HUP)])
def test_a_night_that_a_shutdown_or_a_closed_terminal_ended_goes_on_with_the_next_start(
    stage: Stage, number: signal.Signals
) -> None:
    program = stage.start()
    stage.first_program()
    stage.wait_for_the_foot()
    for _ in range(3):
        stage.press()
    wait_until(lambda: len(stage.entries()) == 3, "three steps in the journal", 5)
    due = stage.due()
    stage.board.forget()
    send(program, (number,), 0)
    assert_ended_in_order(stage, is_over=False)
    printed = "\n".join(program.lines)
    assert "The next start within twelve hours continues here; --fresh starts from the top." in printed
    program = stage.start()
    assert stage.first_program() == due
    program.wait_for(lambda line: line == "continued at Study 1, Chorus", 10)
    stage.wait_for_the_foot()
    stage.board.forget()
    send(program, (INT,), 0)
    assert_ended_in_order(stage)


@pytest.mark.parametrize("after_s", [seldom(0.0), 0.03, seldom(0.1), seldom(0.2)])
def test_two_signals_end_a_starting_program_cleanly(stage: Stage, after_s: float) -> None:
    """Also where it takes up a night that was killed: that night is over then."""
    stage.start()
    stage.first_program()
    stage.wait_for_the_foot()
    stage.press()
    wait_until(stage.entries, "the journal's first entry", 5)
    stage.kill()
    program = stage.start()
    wait_until(lambda: heeds_signals(program), "the program's own hearing", 5)
    time.sleep(after_s)
    send(program, (INT, TERM), 0.02)
    assert_ended_in_order(stage)
