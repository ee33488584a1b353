"""Ten minutes in real time: ports, clock, window, presses; nothing grows, and the last press is as quick as the first.

``COMPANION_SOAK_S`` says how many seconds, 600 if it says nothing.
"""

import itertools
import os
import statistics
import sys
import time
from pathlib import Path
from typing import NamedTuple

import pytest
from real.program import wait_until
from real.stage import EDGE_S, Stage, children, open_files
from real.window import Display

from companion.stage import Back, Next, State, step

SECONDS = float(os.environ.get("COMPANION_SOAK_S", "600"))
EVERY_S = 0.2  # 3,000 presses in ten minutes
WARM_UP = 0.2  # of the time: caches fill, and the allocator has what it needs
GROWTH_AT_MOST = 1024 * 1024  # bytes, of each process, from the end of the warm-up on
SLOWER_AT_MOST = 1.5
FORWARD = min(400, int(SECONDS * WARM_UP / EVERY_S / 2))
"""Steps of the 490 that there are; then back again, so that each press is one, and all was seen in the warm-up."""
NEXT, BACK = 64, 65
CLOCK, PROGRAM_CHANGE = 0xF8, 0xC0  # MIDI 1.0, Table I and Table V


class Size(NamedTuple):
    """What a process holds: bytes of memory that are its alone, open files, threads."""

    memory: int
    files: int
    threads: int


def size_of(pid: int) -> Size:
    told = dict(line.split(":", 1) for line in Path(f"/proc/{pid}/status").read_text().splitlines())
    return Size(int(told["RssAnon"].split()[0]) * 1024, open_files(pid), int(told["Threads"]))


@pytest.fixture
def stage(stage: Stage) -> Stage:
    """A stage whose board is also sent MIDI clock."""
    rig = stage.rig.read_text(encoding="utf-8")
    stage.rig.write_text(rig.replace("{port: Board,", "{port: Board, clock: yes,"), encoding="utf-8")
    return stage


class Foot:
    """A foot that walks through the show and back, and knows which sound each press asks for."""

    def __init__(self, stage: Stage) -> None:
        self._stage = stage
        self._state: State = stage.state(())
        self._way = itertools.cycle((*(NEXT,) * FORWARD, *(BACK,) * FORWARD))
        self.presses = self.ticks = 0
        self.took_ms: list[float] = []

    def press(self) -> None:
        """Press, and wait for the sound where the step has another one."""
        stage, control, before = self._stage, next(self._way), self._state.on
        self.presses += 1
        # What a test remembers of the past is not the program's memory.
        self._state, _ = step(self._state, Next(self.presses) if control == NEXT else Back(self.presses))
        stage.board.forget()
        pressed_ns = stage.box.send(bytes((0xB0, control, 127)))
        if self._state.on != before:
            wait_until(self._heard, f"the sound of press {self.presses}", 10)
            self.took_ms.append((self._heard() - pressed_ns) / 1e6)
        time.sleep(EDGE_S)
        stage.box.send(bytes((0xB0, control, 0)))
        time.sleep(max(0.0, EVERY_S - EDGE_S))
        self.ticks += sum(message[0] == CLOCK for _, message in stage.board.heard())

    def _heard(self) -> int:
        """Return when the program came that this step asks for; 0 while it has not."""
        sound = self._state.on[0]
        wanted = bytes((PROGRAM_CHANGE, (sound.program or 0) if sound else 0))
        return next((at_ns for at_ns, message in self._stage.board.heard() if message == wanted), 0)


@pytest.mark.long
def test_over_ten_minutes_of_presses_nothing_grows_and_sounds_stay_quick(stage: Stage, display: Display) -> None:
    program = stage.start(screen="window", env=display.env)
    stage.first_program()
    stage.wait_for_the_foot()
    display.wait_for_window("companion")
    (screen,) = children(program.process.pid)
    pids = {"engine": program.process.pid, "screen": screen}
    foot = Foot(stage)
    begun = time.monotonic()
    while time.monotonic() < begun + SECONDS * WARM_UP:
        foot.press()
    warm = {name: size_of(pid) for name, pid in pids.items()}
    while time.monotonic() < begun + SECONDS:
        foot.press()
    last = {name: size_of(pid) for name, pid in pids.items()}
    tenth = len(foot.took_ms) // 10
    early, late = (statistics.median(part) for part in (foot.took_ms[:tenth], foot.took_ms[-tenth:]))
    grown = {name: last[name].memory - warm[name].memory for name in pids}
    sys.stdout.write(
        f"\n{SECONDS:.0f} s, {foot.presses} presses, {foot.ticks} ticks; grown (KiB): "
        f"{ {name: size // 1024 for name, size in grown.items()} }; {warm} -> {last}; press to sound, the median of "
        f"the first tenth {early:.2f} ms, of the last {late:.2f} ms\n"
    )
    assert len(stage.entries()) == foot.presses, "every press was a step"
    assert foot.ticks > SECONDS * 10, "the clock ran: 48 ticks a second at 120, less what fell between two presses"
    for name in pids:
        assert last[name][1:] <= warm[name][1:], f"files or threads of the {name} have grown"
        assert grown[name] < GROWTH_AT_MOST, f"the {name}'s memory has grown"
    assert late <= early * SLOWER_AT_MOST
