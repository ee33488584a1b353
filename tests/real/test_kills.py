"""A program that is killed continues where it was, with that sound on; and one that plays for long loses nothing."""

import random
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from real.jack import JackServer, JackTap
from real.playing import press
from real.program import Program, wait_until
from real.synth import Synth
from real.test_a_night import E_PIANO, FIRST_SONGS, RIG, ROOT

KILLS = 30
SILENT_ONE = 126  # a program that the show never asks for: whatever is heard after a start was sent by it


class Stage:
    """The demo show on the synth, without a screen, started as often as it takes."""

    def __init__(self, jack: JackServer, synth: Synth, box: JackTap, home: Path) -> None:
        self._jack, self._synth, self._box, self._home = jack, synth, box, home
        (home / "rig.yaml").write_text(RIG)
        jack.connect(box.output, synth.port)  # so that the box can put on what the show never asks for
        self.sounds_after_s = 0.0
        self.program = self.start()

    def start(self, *more: str) -> Program:
        """Start the program and wait until it hears the foot."""
        wait_until(self._silenced, "the program that nobody plays", 5)
        words = ("play", str(ROOT / "shows/pier-street.yaml"), "--rig", str(self._home / "rig.yaml"), *more)
        nowhere_else = {"HOME": str(self._home), "XDG_STATE_HOME": "", "XDG_DATA_HOME": "", "XDG_CONFIG_HOME": ""}
        command = (sys.executable, "-m", "companion.cli", *words, "--screen", "none")
        begun = time.monotonic()
        self.program = Program(command, env={**self._jack.env, **nowhere_else})
        self.heard(*range(SILENT_ONE))
        self.sounds_after_s = time.monotonic() - begun
        wait_until(self._hears_the_box, "the pedal's cable", 10)
        return self.program

    def kill_and_resume(self) -> float:
        """Kill it and start it again; the seconds from its start until a sound of the show is on."""
        self.program.kill()
        self.start()
        return self.sounds_after_s

    def _silenced(self) -> bool:
        """Send a sound that nobody plays; again, since JACK loses messages for some tenths of a second after a kill."""
        self._box.send(bytes((0xC0, SILENT_ONE)))
        time.sleep(0.05)
        return self._synth.channels()[1].program == SILENT_ONE

    def _hears_the_box(self) -> bool:
        return any(one == self._box.output and "companion" in other for one, other in self._jack.connections())

    def heard(self, *programs: int) -> int:
        """Wait until the synth plays one of these; which."""
        told = f"one of {programs[:9]}, not {self._synth.channels()[1]}"
        try:
            wait_until(lambda: self._synth.channels()[1].program in programs, told, 15)
        except TimeoutError as late:
            raise AssertionError(f"{late}; the program printed: {self.program.lines}") from None
        return self._synth.channels()[1].program

    def press(self, control: int = 64) -> None:
        """Press a pedal: 64 for next, 67 for back."""
        press(self._box, control)


@pytest.fixture
def stage(jack: JackServer, synth: Synth, foot_box: JackTap, tmp_path: Path) -> Iterator[Stage]:
    set_up = Stage(jack, synth, foot_box, tmp_path)
    yield set_up
    set_up.program.end()


def test_a_killed_night_continues_at_its_place_with_its_sound(stage: Stage) -> None:
    for step, (_, program) in enumerate(FIRST_SONGS[:13]):
        stage.press()
        stage.heard(program)
        if step in {6, 12}:
            stage.program.kill()
            stage.start()
            assert stage.heard(program) == program
    assert stage.program.runs()


@pytest.mark.long
def test_a_night_that_was_ended_starts_from_the_top_the_next_time(stage: Stage) -> None:
    for _, program in FIRST_SONGS[:7]:
        stage.press()
        stage.heard(program)
    assert stage.heard(E_PIANO) == E_PIANO
    stage.program.interrupt()
    assert stage.program.wait(5) == 0
    stage.start()
    assert stage.heard(FIRST_SONGS[0][1]) == FIRST_SONGS[0][1]


@pytest.mark.long
def test_after_a_kill_the_show_is_at_the_step_before_or_after_the_press(stage: Stage) -> None:
    """Kills around the press (test_survival has two hundred at any instant); seconds to the right sound are printed."""
    chance = random.Random(20270619)  # noqa: S311  # irregular, not secret
    at = 0
    resumed_s: list[float] = []
    while len(resumed_s) < KILLS:
        stage.press()
        time.sleep(chance.uniform(0, 0.01))
        before, after = (FIRST_SONGS[max(0, one - 1)][1] for one in (at, at + 1))
        resumed_s.append(stage.kill_and_resume())
        stage.heard(before, after)
        # Where both sound alike a further press tells which it was; the pedal is up again by now.
        stage.press()
        time.sleep(0.2)
        at += 1
        resumed_s.append(stage.kill_and_resume())
        now = stage.heard(*range(SILENT_ONE))
        places = [one for one in (at, at + 1) if FIRST_SONGS[max(0, one - 1)][1] == now]
        assert places, f"after press {at} and {len(resumed_s)} kills the synth plays {now}"
        at = places[-1]
        if at > len(FIRST_SONGS) - 4:
            stage.program.interrupt()
            stage.program.wait(5)
            stage.start("--fresh")
            at = 0
    in_order = sorted(resumed_s)
    middle, late = in_order[len(in_order) // 2], in_order[len(in_order) * 99 // 100]
    sys.stdout.write(f"{len(resumed_s)} kills; start to the right sound: p50 {middle:.2f} s, p99 {late:.2f} s\n")


@pytest.mark.long
def test_half_an_hour_of_presses_within_a_minute_loses_nothing(stage: Stage) -> None:
    """All of the first songs there and back, again and again: every step must be heard, and the program stay small."""
    begun = time.monotonic()
    first_size = 0
    while time.monotonic() < begun + 60:
        for _, program in FIRST_SONGS:
            stage.press()
            stage.heard(program)
        for _, program in FIRST_SONGS[-2::-1]:
            stage.press(67)
            stage.heard(program)
        size = resident_kib(stage.program.process.pid)
        first_size = first_size or size
        assert size < first_size + 4096, "the program grows"
        stage.press(67)
    assert stage.program.runs()


def resident_kib(pid: int) -> int:
    """Return the memory of a process, in KiB."""
    for line in Path(f"/proc/{pid}/status").read_text().splitlines():
        if line.startswith("VmRSS:"):
            return int(line.split()[1])
    raise ValueError(f"no process {pid}")
