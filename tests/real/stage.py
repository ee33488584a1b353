"""The stage of the survival tests: a long invented show, a foot box with every action, a board that remembers."""

import contextlib
import os
import random
import sys
import time
from collections.abc import Sequence
from pathlib import Path

from real.jack import JackServer, JackTap
from real.playing import UP_S
from real.program import Program, wait_until

from companion.night.entries import Entry, entries_of
from companion.ports import JournalReading, read_journal
from companion.rig import read_rig
from companion.show import read_show
from companion.stage import Book, State, landmark, make_book, replay

SONGS = 70
SECTIONS = ("Intro", "Verse", "Chorus", "Verse two", "Solo", "Outro")
SOUNDS = 127  # as many as there are panel numbers less one, which is never asked for

ACTIONS = {
    64: "next",
    65: "back",
    66: "again",
    67: "take it out",
    68: "take back",
    69: "next song",
    70: "drop",
    71: "swap",
    72: "skip",
    73: "to encore",
    74: "leave out",
    75: "start over",
    76: "previous song",
}
"""The control that each action of the foot box has."""

USUAL = (64,) * 12 + tuple(ACTIONS)
"""What a foot presses: next most of the time."""

PROGRAM_CHANGE = 0xC0
FIRST_SOUND_S = 90  # long, for a JACK server that waits for a client which was killed while it was taken in
EDGE_S = 0.035  # faster edges count as bounce (30 ms)


def write_stage(folder: Path) -> tuple[Path, Path]:
    """Write the show, with a different sound at every step, and the rig; return their paths."""
    lines = ["show: Long night at the Weighbridge", "band: The Even Tempers", "sets:"]
    number = 0
    for song in range(SONGS):
        if song % 24 == 0:
            lines += [f"  - set: Set {song // 24 + 1}", "    songs:"]
        lines += [f"      - title: Study {song + 1}", "        tempo: 120", "        road_map:"]
        for name in SECTIONS:
            more = ", open: yes" if name == "Solo" else ""
            lines.append(f"          - {{section: {name}, bars: 1, sound: s{number % SOUNDS}{more}}}")
            number += 1
    show = folder / "weighbridge.yaml"
    show.write_text("\n".join(lines) + "\n", encoding="utf-8")
    sounds = ", ".join(f"s{one}: {one + 1}" for one in range(SOUNDS))
    pedals = [
        f"  {word}: {{port: Foot Box, channel: 1, control: {one}, press: {word}}}" for one, word in ACTIONS.items()
    ]
    rig = folder / "rig.yaml"
    board = f"  board: {{port: Board, channel: 1, sounds: {{{sounds}}}}}"
    rig.write_text("\n".join(["rig: Survival", "keyboards:", board, "pedals:", *pedals]) + "\n", encoding="utf-8")
    return show, rig


class Stage:
    """The program on that stage, killed and started as often as it takes."""

    def __init__(self, folder: Path, jack: JackServer, box: JackTap, board: JackTap) -> None:
        self.folder, self.jack, self.box, self.board = folder, jack, box, board
        self.show, self.rig = write_stage(folder)
        self.book: Book = make_book(read_show(self.show).show, read_rig(self.rig).rig)[0]
        self.program: Program | None = None
        self.resumed_ms: list[float] = []

    def start(
        self,
        *options: str,
        screen: str = "none",
        env: dict[str, str] | None = None,
        runs: Sequence[str] = ("-m", "companion.cli"),
    ) -> Program:
        """Start it as a player does, and wait for nothing; ``runs`` is what Python runs."""
        home = {
            name: str(self.folder / "home") for name in ("HOME", "XDG_DATA_HOME", "XDG_STATE_HOME", "XDG_CONFIG_HOME")
        }
        words = ("play", str(self.show), "--rig", str(self.rig), "--screen", screen, *options)
        self.board.forget()
        self.begun_ns = time.monotonic_ns()
        command = (sys.executable, *runs, *words)
        self.program = Program(command, env={"PYTHONDONTWRITEBYTECODE": "", **self.jack.env, **home, **(env or {})})
        return self.program

    def first_program(self) -> int:
        """Wait for the first program change since the start; how long it took is kept."""
        wait_until(self.programs, "the first program change", FIRST_SOUND_S)
        at_ns = next(at for at, message in self.board.heard() if message[0] & 0xF0 == PROGRAM_CHANGE)
        self.resumed_ms.append((at_ns - self.begun_ns) / 1e6)
        return self.programs()[0]

    def wait_for_the_foot(self) -> None:
        """Wait until the program hears the foot box."""
        wait_until(
            lambda: any(one == self.box.output and "Board" not in other for one, other in self.jack.connections()),
            "the pedal's cable",
            15,
        )
        time.sleep(0.05)

    def programs(self) -> list[int]:
        """Return the programs that the board was given since the start, oldest first."""
        return [message[1] for _, message in self.board.heard() if message[0] & 0xF0 == PROGRAM_CHANGE]

    def press(self, control: int = 64) -> None:
        """Press a pedal as a foot does."""
        for value, pause_s in ((127, EDGE_S), (0, UP_S)):
            self.box.send(bytes((0xB0, control, value)))
            time.sleep(pause_s)

    def hears(self, program: int, seconds: float = 10) -> None:
        """Wait until this is the program that the board was given last."""
        try:
            wait_until(lambda: self.programs()[-1:] == [program], f"program {program}", seconds)
        except TimeoutError as late:
            printed = self.program.lines if self.program else ()
            raise AssertionError(f"{late}; the board has {self.programs()[-3:]}; printed: {printed}") from None

    def journal(self) -> Path:
        """Return the newest journal."""
        return max((self.folder / "home").rglob("*.journal"))

    def reading(self) -> JournalReading:
        """Read the newest journal as the program would."""
        return read_journal(self.journal())

    def entries(self) -> tuple[Entry, ...]:
        """Return the journal's entries, all of which must be readable."""
        told = self.reading()
        entries = entries_of(told.events)
        assert len(entries) == len(told.events)
        return entries

    def state(self, entries: Sequence[Entry] | None = None) -> State:
        """Return the state that an uninterrupted run has after these events."""
        return replay(self.book, (one.event for one in (self.entries() if entries is None else entries)))

    def due(self) -> int:
        """Return the program that belongs there."""
        sound = self.state().on[0]
        assert sound is not None
        assert sound.program is not None
        return sound.program

    def assert_as_if_uninterrupted(self) -> None:
        """Compare each place that the journal tells with that of an uninterrupted run of the same presses."""
        entries = self.entries()
        state = self.state(())
        for number, entry in enumerate(entries):
            state = replay(self.book, (entry.event,), state)
            assert landmark(state) == entry.mark, f"step {number + 1} of {len(entries)}"

    def kill(self) -> None:
        """End it as a power cut would."""
        if self.program is not None:
            self.program.kill()

    def end(self) -> None:
        """End whatever runs."""
        if self.program is not None:
            self.program.end()


def children(pid: int) -> list[int]:
    """Return the processes that this one runs, without the battery's and what keeps the computer awake."""
    found: list[int] = []
    for task in Path(f"/proc/{pid}/task").iterdir():
        with contextlib.suppress(OSError):  # a thread that has just ended
            found += map(int, (task / "children").read_text().split())
    beside = ("battery", "systemd-inhibit")
    return [one for one in found if not _is_over(one) and not any(word in _command(one) for word in beside)]


def _command(pid: int) -> str:
    try:
        return Path(f"/proc/{pid}/cmdline").read_text()
    except OSError:
        return ""


def _is_over(pid: int) -> bool:
    try:
        return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0] == "Z"
    except OSError:
        return True


def chance(seed: int) -> random.Random:
    """Return irregular numbers, the same in every run."""
    return random.Random(seed)  # noqa: S311  # irregular, not secret


def open_files(pid: int) -> int:
    """Count what a process has open."""
    return len(os.listdir(f"/proc/{pid}/fd"))  # noqa: PTH208  # names are enough
