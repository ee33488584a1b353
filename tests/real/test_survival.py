"""The show survives: kills at any instant, a screen that dies or hangs, a full disk, a show file that is gone."""

import os
import resource
import signal
import sys
import threading
import time
from pathlib import Path

import pytest
from examples import seldom
from real.program import wait_until
from real.stage import ACTIONS, USUAL, Stage, chance, children
from real.window import Display

from companion.stage import Next, replay

KILLS = 200


def live_through(stage: Stage, kills: int, seed: int) -> None:
    """Press this and that, kill at a random instant, start again, and compare; so many times.

    Most kills come while feet are at work, one in eight while the program is starting. After those JACK itself waits
    five seconds and more for the client that never came, and accepts no other; so their times are counted apart.
    """
    dice = chance(seed)
    playing: list[float] = []
    starting: list[float] = []
    stage.start()
    assert stage.first_program() == stage.due()
    stage.wait_for_the_foot()
    for number in range(kills):
        program = stage.program
        assert program is not None
        early = number > 0 and number % 8 == 0
        if early:  # while it is starting
            stage.kill()
            stage.start()
            time.sleep(dice.uniform(0, 0.8))
        else:
            killer = threading.Timer(dice.uniform(0, 0.4), program.process.kill)
            killer.start()
            for control in dice.choices(USUAL, k=6):
                stage.press(control)
                if not killer.is_alive():
                    break
            killer.join()
        heard = stage.programs()
        stage.kill()
        before = stage.entries()
        known = {sound.program for one in range(len(before) + 1) if (sound := stage.state(before[:one]).on[0])}
        assert set(heard) <= known, "no sound is heard that the journal does not know"
        stage.start()
        assert stage.first_program() == stage.due(), f"kill {number + 1}"
        (starting if early else playing).append(stage.resumed_ms[-1])
        assert stage.entries()[: len(before)] == before
        stage.wait_for_the_foot()
    stage.press(64)
    wait_until(lambda: len(stage.entries()) > len(before), "one more step", 10)
    stage.hears(stage.due())
    stage.assert_as_if_uninterrupted()
    assert len(stage.entries()) > kills
    sys.stdout.write(
        f"\n{kills} kills, {len(stage.entries())} steps; process start to the right sound at the board: killed while "
        f"playing {quantiles(playing)}; killed while starting {quantiles(starting)}\n"
    )


def quantiles(took_ms: list[float]) -> str:
    """Tell the middle and the worst hundredth."""
    if not took_ms:
        return "never"
    took = sorted(took_ms)
    middle, late = took[len(took) // 2], took[min(len(took) - 1, len(took) * 99 // 100)]
    return f"p50 {middle:.0f} ms, p99 {late:.0f} ms, of {len(took)}"


@pytest.mark.long
def test_two_hundred_kills_at_random_instants_lose_nothing(stage: Stage) -> None:
    live_through(stage, KILLS, seed=2)


def screen_of(stage: Stage, not_this: int = 0) -> int:
    """Wait for the screen's process; its number."""
    program = stage.program
    assert program is not None

    def found() -> int | None:
        return next((one for one in children(program.process.pid) if one != not_this and _draws(one)), None)

    return wait_until(found, "the screen's process", 20)


def _draws(pid: int) -> bool:
    try:
        return b"companion.screen" in Path(f"/proc/{pid}/cmdline").read_bytes()
    except OSError:
        return False


@pytest.mark.parametrize("how", [seldom(signal.SIGKILL), signal.SIGSTOP], ids=["killed", "hung"])
def test_the_foot_changes_sounds_without_a_screen_and_the_screen_returns_up_to_date(
    stage: Stage, display: Display, how: signal.Signals
) -> None:
    stage.start(screen="window", env=display.env)
    stage.first_program()
    stage.wait_for_the_foot()
    display.wait_for_window("companion")
    before = display.photograph()
    stage.press(64)
    before = display.wait_for_change(before)
    screen = screen_of(stage)
    os.kill(screen, how)
    for _ in range(6):
        count = len(stage.entries())
        stage.press(64)
        wait_until(lambda: len(stage.entries()) > count, "the step", 5)  # noqa: B023  # asked before the next step
        stage.hears(stage.due())
    again = screen_of(stage, not_this=screen)
    assert again != screen
    wait_until(lambda: not Path(f"/proc/{screen}").exists(), "the end of the screen that was", 10)
    display.wait_for_window("companion")
    shown = display.wait_for_change(before, 10)
    for _ in range(4):  # the notice that it came back may come or go meanwhile
        stage.press(64)  # on, and back: the same place looks the same as on the screen that came back
        there = display.wait_for_change(shown)
        stage.press(65)
        was, shown = shown, display.wait_for_change(there)
        if shown.tobytes() == was.tobytes():
            break
    assert shown.tobytes() == was.tobytes()
    assert sum(b"screen gone" in note for note in stage.reading().notes) == 1


def test_a_full_disk_is_reported_and_the_show_continues(stage: Stage) -> None:
    program = stage.start()
    stage.first_program()
    stage.wait_for_the_foot()
    stage.press(64)
    wait_until(lambda: len(stage.entries()) == 1, "the first step", 5)
    size = stage.journal().stat().st_size
    resource.prlimit(program.process.pid, resource.RLIMIT_FSIZE, (size + 40, resource.RLIM_INFINITY))
    state = stage.state()
    for _ in range(4):
        stage.press(64)
    wait_until(lambda: any("the journal cannot be written" in line for line in program.lines), "a word about it", 10)
    due = replay(stage.book, [Next(one) for one in range(4)], state).on[0]
    assert due is not None
    stage.hears(due.program or 0)
    assert program.runs()
    assert len(stage.entries()) == 1, "what is in the journal can be read still"
    resource.prlimit(program.process.pid, resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
    stage.press(64)
    wait_until(lambda: len(stage.entries()) == 6, "all that was kept meanwhile", 10)
    stage.assert_as_if_uninterrupted()


HANGING_DISK = """
import os, re, sys
from pathlib import Path
gate, write = Path(sys.argv.pop(1)), os.write
def hangs(number, content):
    if gate.exists() and re.match(rb"[0-9a-f]{8} [0-9]+ e ", content):
        os.close(os.open(gate, os.O_WRONLY))
    return write(number, content)
os.write = hangs
from companion import cli
sys.exit(cli.main(sys.argv[1:]))
"""
"""The program on a disk that takes no line of the journal while the gate, a named pipe, has no reader."""


@pytest.mark.long
def test_a_disk_that_hangs_never_makes_the_foot_wait_and_loses_nothing_once_it_answers(stage: Stage) -> None:
    gate = stage.folder / "gate"
    program = stage.start(runs=("-c", HANGING_DISK, str(gate)))
    stage.first_program()
    stage.wait_for_the_foot()
    stage.press(64)
    wait_until(lambda: len(stage.entries()) == 1, "the first step", 5)
    os.mkfifo(gate)
    state = stage.state()
    for _ in range(4):
        stage.press(64)
        state = replay(stage.book, [Next(0)], state)
        sound = state.on[0]
        assert sound is not None
        stage.hears(sound.program or 0, 3)
    wait_until(lambda: any("the disk does not answer" in line for line in program.lines), "a word about it", 10)
    assert len(stage.entries()) == 1
    reader = os.open(gate, os.O_RDONLY | os.O_NONBLOCK)
    wait_until(lambda: len(stage.entries()) == 5, "all that was kept meanwhile", 10)
    gate.unlink()
    os.close(reader)
    stage.press(64)
    wait_until(lambda: len(stage.entries()) == 6, "one more step", 5)
    stage.assert_as_if_uninterrupted()
    stage.kill()
    stage.start()
    assert stage.first_program() == stage.due()


@pytest.mark.long
def test_an_unwritable_journal_folder_is_reported_and_the_show_continues(stage: Stage) -> None:
    (stage.folder / "home").mkdir()
    (stage.folder / "home" / "companion").write_text("a file stands where the folder should be")
    program = stage.start()
    stage.first_program()
    stage.wait_for_the_foot()
    stage.press(64)
    stage.press(64)
    stage.hears(1)
    assert any("cannot write a journal" in line for line in program.lines)
    assert program.runs()


def test_a_second_copy_is_refused_and_the_first_continues(stage: Stage) -> None:
    first = stage.start()
    stage.first_program()
    stage.wait_for_the_foot()
    second = stage.start()
    assert second.wait(20) == 1
    assert any("another copy" in line for line in second.lines)
    stage.program = first
    stage.press(64)
    stage.press(64)
    stage.hears(1)


@pytest.mark.long
def test_a_show_file_deleted_during_the_show_changes_nothing(stage: Stage) -> None:
    program = stage.start()
    stage.first_program()
    stage.wait_for_the_foot()
    stage.show.unlink()
    stage.rig.write_text("rubbish: [", encoding="utf-8")
    stage.press(64)
    stage.press(64)
    stage.hears(1)
    assert program.runs()


def test_every_action_works_from_the_foot_box(stage: Stage) -> None:
    """Else the kills above would press nothing."""
    stage.start()
    stage.first_program()
    stage.wait_for_the_foot()
    for control in ACTIONS:
        stage.press(control)
    wait_until(lambda: len(stage.entries()) == len(ACTIONS), "every step", 10)
