"""A foot, two hands and ten fingers on the real program, and what it did compared with the oracle after every step."""

import os
import pty
import sys
import time
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

from oracle.oracle import BREAK, END, PLAYING, UP_NEXT, Stage, begun
from oracle.receiver import AtTheBoards, Receiver
from oracle.songs import BOARDS, LOWER, Evening, Tune, as_file
from oracle.walking import CALL, HOLDS, LIFT, NEW, NOTE, READ_AGAIN, Stride, stride
from real.program import Program, wait_until
from real.switches import BY_FOOT, NO_STEP, NOT_BY_FOOT, PADS, Instruments, Switches, rig_file

from companion.night.entries import Entry, JournalNote, entries_of, notes_of
from companion.ports import NotAJournal, read_journal
from companion.stage import Landmark

PATIENCE_S = 30
QUIET_S = 3  # without an answer: the press was lost on the way, or soon will be answered
BATCH = 8  # presses on their way at once
HELD, STRUCK = 50, 72  # keys of a keyboard

SILENT = {"sound now", "chart"}  # what leaves no line in the journal
PLACES = {UP_NEXT: "up next", PLAYING: "playing", BREAK: "between sets", END: "end"}


class Due(NamedTuple):
    """A step that is on its way: the line that the journal must get of it, where it gets one."""

    event: str
    word: str
    tune: Tune | None
    number: int  # of the walk's steps


class Walker:
    """One evening on the real program, killed and started again as often as it takes."""

    def __init__(self, instruments: Instruments, folder: Path, evening: Evening) -> None:
        self._jack, self._box, self._taps = instruments
        self._folder, self._evening = folder, evening
        self._program: Program | None = None
        self._terminal: tuple[int, ...] = ()
        self._switches = Switches(instruments)
        self._due: list[Due] = []
        self._before: Path | None = None  # the journal that was read last
        self._read = 0  # lines of it that were compared
        self._done = 0  # steps of the walk that were made
        self._quiet_from = 0.0
        self._late = 0  # taps whose line may still come, or never
        self._walked: list[str] = []
        self._stage = begun(evening)
        self._taken = 0  # steps of the walk that the program has taken
        self.lost: list[str] = []  # presses that JACK lost on the way, as it does on a busy machine
        self._boards = AtTheBoards()
        folder.mkdir(parents=True)
        (folder / "show.yaml").write_text(as_file(evening), encoding="utf-8")
        (folder / "rig.yaml").write_text(rig_file(), encoding="utf-8")

    # --- the program ---

    def start(self) -> None:
        """Start it in a terminal, and wait until it plays both boards and hears every port."""
        self._terminal = pty.openpty()
        for tap in self._taps.values():
            tap.forget()
        self._receivers = {board: Receiver(board) for board in BOARDS}
        self._heard = dict.fromkeys(BOARDS, 0)
        self._boards = AtTheBoards()
        self._boards.begins(self._stage)
        words = ("play", str(self._folder / "show.yaml"), "--rig", str(self._folder / "rig.yaml"), "--screen", "text")
        home = {
            name: str(self._folder / "home") for name in ("HOME", "XDG_DATA_HOME", "XDG_STATE_HOME", "XDG_CONFIG_HOME")
        }
        env = {**self._jack.env, **home, "PYTHONIOENCODING": "utf-8", "PYTHONDONTWRITEBYTECODE": ""}
        command = (sys.executable, "-m", "companion.cli", *words)
        self._program = Program(command, env=env, stdin=self._terminal[1])
        self._wait(lambda: self._cables() == 1 + 2 * len(self._taps), "the cables")
        self._wait(lambda: all(tap.heard() for tap in self._taps.values()), "a tuning for each board")
        self._wake()

    def _cables(self) -> int:
        """Count the ports of ours that are connected."""
        ours = {self._box.output, *(port for tap in self._taps.values() for port in (tap.output, tap.input))}
        return len(ours & {one for one, _ in self._jack.connections()})

    def _wake(self) -> None:
        """Tap until each port is heard: JACK loses messages for some tenths of a second after a kill."""
        sent, first = 0, len(self._entries())
        for name in (NO_STEP, *PADS):
            before, until = len(self._entries()), time.monotonic() + PATIENCE_S
            while len(self._entries()) == before:
                assert time.monotonic() < until, self._told(f"{name} is not heard")
                self._switches.press(name)
                sent += 1
                again = time.monotonic() + 0.5
                while len(self._entries()) == before and time.monotonic() < again:
                    time.sleep(0.005)
            self._switches.rest()
        self._read = len(self._entries())
        self._late = sent - (self._read - first)
        self._compare_boards()

    def kill(self) -> int:
        """End it as a power cut does; how many steps of the walk it had taken."""
        assert self._program is not None
        self._program.kill()
        self._gone()
        for tap in self._taps.values():
            tap.send(bytes((0x80, HELD, 0)))
        self._compare_lines()
        self._due.clear()
        self._done = self._taken
        self._walked.append(f"killed, {self._taken} steps taken")
        self._switches.rest()
        self._close_terminal()
        return self._taken

    def compare_taken_up(self) -> None:
        """Compare the place at which it continued."""
        lines = read_journal(self._journal()).notes
        notes: tuple[JournalNote, ...] = notes_of(lines)
        assert notes, self._told("no word of a start")
        self._compare_mark(notes[-1].mark, self._stage, "continued")

    def end(self) -> None:
        """End it cleanly."""
        if self._program is not None:
            self._program.end()
            self._gone()
        self._close_terminal()

    def _gone(self) -> None:
        """Wait until JACK knows that its ports are gone: it may give a newcomer what it still takes from the dead."""
        wait_until(lambda: not any("companion" in port for port in self._jack.ports()), "no ports", PATIENCE_S)

    def _close_terminal(self) -> None:
        for one in self._terminal:
            os.close(one)
        self._terminal = ()

    # --- steps ---

    def walk(self, strides: Sequence[Stride]) -> None:
        """Take these steps, several at once where the foot alone is busy, and compare each."""
        for one in strides:
            if one.word in NOT_BY_FOOT or len(self._due) >= BATCH:
                self.catch_up()
            self.act(one)
            if one.word in NOT_BY_FOOT:
                self.catch_up()
        self.catch_up()

    def act(self, one: Stride) -> None:
        """Take one step, and wait for nothing that the foot does."""
        self._done += 1
        if one.word in BY_FOOT:
            self._expect(one.word, one)
            self._switches.press(one.word)
        elif one.word in HOLDS:
            self._hold(one)
        elif one.word == NOTE:
            for message in (bytes((0x90, STRUCK, 100)), bytes((0x80, STRUCK, 0))):
                self._taps[LOWER].send(message)
            self._play(LOWER, one)
        elif one.word == LIFT:
            self._lift(one)
        elif one.word == READ_AGAIN:
            self._read_again(one)
        else:
            self._type(one)

    def _expect(self, event: str, one: Stride | None = None) -> None:
        self._due.append(Due(event, one.word if one else NO_STEP, one.tune if one else None, self._done))

    def _take(self, due: Due) -> None:
        """The program has taken this step, and so do we."""
        before = self._stage
        self._stage = stride(before, due.word, due.tune)
        self._taken = due.number
        self._boards.taken(before, self._stage, due.word)
        self._walked.append(f"{due.number} {due.word} {due.tune.title if due.tune else ''}-> {place_text(self._stage)}")

    def _hold(self, one: Stride) -> None:
        board = HOLDS[one.word]
        self._taps[board].send(bytes((0x90, HELD, 100)))
        self._play(board, one)
        self.catch_up(quietly=True)
        self._boards.hold(board)

    def _lift(self, one: Stride) -> None:
        for board, tap in self._taps.items():
            tap.send(bytes((0x80, HELD, 0)))
            self._play(board, one)
        self.catch_up(quietly=True)
        self._boards.lift()

    def _play(self, board: str, one: Stride) -> None:
        """A note was played: it begins the song, or leaves no line; what comes behind it on its port leaves one."""
        if stride(self._stage, one.word, None).spot != self._stage.spot:
            self._expect("next", one)
        self._expect(NO_STEP)
        self._switches.press(f"pad {board}")

    def _type(self, one: Stride) -> None:
        assert one.tune is not None
        self._expect("call" if one.word == CALL else "put in", one)
        wanted = one.tune.title.lower() + (f", {one.tune.key.lower()}" if one.word == NEW else "")
        self._key(f"f{wanted}\r".encode())

    def _read_again(self, one: Stride) -> None:
        journals = set(self._journals())
        self._key(b"\x1b[15~")
        self._wait(lambda: bool(set(self._journals()) - journals), "the show to be read")
        self._read = 0
        self._take(Due("", one.word, None, self._done))

    def _key(self, code: bytes) -> None:
        os.write(self._terminal[0], code)

    # --- comparisons ---

    def catch_up(self, *, quietly: bool = False) -> None:
        """Wait until all is taken, and compare places, bytes and the picture."""
        if self._due and self._due[-1].event in SILENT:
            self._expect(NO_STEP)
            self._switches.press(NO_STEP)
        self._quiet_from = time.monotonic()
        self._wait(self._all_is_taken, "the steps that were made")
        self._switches.rest()
        if not quietly:
            self._compare_boards()
            self._compare_picture()

    def _all_is_taken(self) -> bool:
        """Compare what there is. Where nothing comes any more, press a switch that is no step: is it heard?"""
        self._compare_lines()
        if self._due and time.monotonic() > self._quiet_from + QUIET_S:
            self._quiet_from = time.monotonic()
            self._expect(NO_STEP)
            self._switches.press(NO_STEP)
        return not self._due

    def _compare_lines(self) -> None:
        """Compare the journal's lines as far as they are there. The steps are taken in their order or were lost."""
        entries = self._entries()
        for entry in entries[self._read :]:
            self._read += 1
            event = str(entry.event.__struct_config__.tag)
            if event == NO_STEP and self._late and not (self._due and self._due[0].event == NO_STEP):
                self._late -= 1  # one of those that tried whether a port is heard
                continue
            coming = next((at for at, due in enumerate(self._due) if due.event == event), None)
            assert coming is not None, self._told(f"it did {event}")
            for due in self._due[:coming]:
                if due.event in SILENT:
                    self._take(due)
                else:
                    self.lost.append(due.event)
            self._take(self._due[coming])
            del self._due[: coming + 1]
            self._compare_mark(entry.mark, self._stage, event)
            self._quiet_from = time.monotonic()

    def _compare_mark(self, mark: Landmark, stage: Stage, event: str) -> None:
        spot = stage.spot
        found = [mark.where.value]
        wanted = [PLACES[spot.where]]
        if spot.where != END:
            found.append(mark.set)
            wanted.append(self._evening.sets[spot.group][0])
        if stage.tune is not None:
            found += [mark.song.casefold(), str(mark.shift)]
            wanted += [stage.tune.title.casefold(), str(stage.shift)]
        if spot.where == PLAYING:
            found += [mark.section, str(mark.passed), str(mark.rounds)]
            name = stage.tune.parts[spot.part].name if stage.tune and stage.tune.parts else ""
            wanted += [name, str(spot.round), str(spot.more)]
        assert found == wanted, self._told(f"after {event}: {found}, not {wanted}")

    def _compare_boards(self) -> None:
        def alike() -> bool:
            self._listen()
            return self._played() == self._asked_for()

        try:
            wait_until(alike, "the boards", PATIENCE_S)
        except TimeoutError:
            different = "\n".join(
                f"{board} has {self._played()[board]}\nnot {self._asked_for()[board]}"
                for board in BOARDS
                if self._played()[board] != self._asked_for()[board]
            )
            raise AssertionError(self._told(different)) from None

    def _listen(self) -> None:
        for board, tap in self._taps.items():
            heard = tap.heard()
            for one in heard[self._heard[board] :]:
                self._receivers[board].hear(one.message)
            self._heard[board] = len(heard)

    def _played(self) -> dict[str, tuple[str, int, int, int]]:
        return {
            board: (b"".join(one.choices).hex(" "), *one.loudness, one.tuning) for board, one in self._receivers.items()
        }

    def _asked_for(self) -> dict[str, tuple[str, int, int, int]]:
        due = self._boards
        return {
            board: (b"".join(due.choices[board]).hex(" "), due.loudness[board], 127, due.tuning[board])
            for board in BOARDS
        }

    def _compare_picture(self) -> None:
        """Wait until the newest picture says where we are: the section, or the title that is up next."""
        tune, spot = self._stage.tune, self._stage.spot
        large = tune.title if tune and spot.where == UP_NEXT else ""
        if tune and tune.parts and spot.where == PLAYING:
            large = tune.parts[spot.part].name
        self._wait(lambda: large.upper() in self._picture(), f"a picture with {large}")

    def _picture(self) -> str:
        assert self._program is not None
        lines = list(self._program.lines)
        begins = next((at for at in range(len(lines) - 1, -1, -1) if lines[at].startswith("-----")), 0)
        return "\n".join(lines[begins:])

    def _journals(self) -> list[Path]:
        return sorted((self._folder / "home").rglob("*.journal"))

    def _journal(self) -> Path:
        return self._journals()[-1]

    def _entries(self) -> tuple[Entry, ...]:
        try:
            return entries_of(read_journal(self._journal()).events) if self._journals() else ()
        except NotAJournal:  # begun, and its first line is not there yet
            return ()

    def _wait(self, come: "object", what: str) -> None:
        assert callable(come)
        try:
            wait_until(come, what, PATIENCE_S)
        except TimeoutError as late:
            raise AssertionError(self._told(str(late))) from None

    def _told(self, what: str) -> str:
        assert self._program is not None
        walked, printed = "\n".join(self._walked[-14:]), "\n".join(self._program.lines[-30:])
        due = [one.event for one in self._due]
        return f"{self._folder.name}: {what}\nwalked:\n{walked}\nto come: {due}\nprinted:\n{printed}"


def place_text(stage: Stage) -> str:
    """The oracle's place in words."""
    spot = stage.spot
    title = stage.tune.title if stage.tune else ""
    name = stage.tune.parts[spot.part].name if stage.tune and stage.tune.parts else ""
    shift = f", {stage.tuning:+}" if stage.tuning else ""
    return f"{spot.where} {title} {name} {spot.part} {spot.round}+{spot.more} {'/'.join(stage.sounds)}{shift}"
