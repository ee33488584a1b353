"""One night at speed: 70 songs, 12 change-ups, 3 kills, 2 lost ports, 1 dead screen; its debrief tells just that."""

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from real.jack import JackServer, JackTap
from real.program import wait_until
from real.stage import ACTIONS, SONGS, Stage, children, open_files
from real.window import Display

from companion.rig import Action
from companion.stage import EVENT_OF, AnyEvent, Call, PositionKind, at_start, step

NEXT, BACK, AGAIN, TAKE_IT_OUT, TAKE_BACK, NEXT_SONG, DROP, SWAP = range(64, 72)
TO_ENCORE, LEAVE_OUT, START_OVER = 73, 74, 75

CHANGE_UPS = {  # where: what the foot does there
    ("Study 4", "Chorus"): (AGAIN,),
    ("Study 6", "Verse"): (TAKE_IT_OUT,),
    ("Study 9", "Solo"): (AGAIN, AGAIN),
    ("Study 11", "Intro"): (DROP,),
    ("Study 14", "Intro"): (SWAP,),
    ("Study 18", "Intro"): (TO_ENCORE,),
    ("Study 21", "Verse"): (LEAVE_OUT,),
    ("Study 23", "Verse"): (NEXT_SONG,),
    ("Study 26", "Verse"): (START_OVER,),
    ("Study 28", "Verse"): (NEXT, TAKE_BACK),
    ("Study 31", "Verse"): (NEXT, BACK),
}
CALLED_BEFORE, CALLED = "Study 33", "Study 60"  # the twelfth

KILLED_AT = ("Study 35", "Study 45", "Study 55")
BOX_LOST_AT, BOARD_LOST_AT, SCREEN_LOST_AT = "Study 37", "Study 40", "Study 42"

# By hand: 12 is dropped, 15 and 16 change places, 19 is kept for the encore, 60 comes before 33.
NUMBERS = (*range(1, 12), 13, 14, 16, 15, 17, 18, *range(20, 33), 60, *range(33, 60), *range(61, 71), 19)
DIFFERENT = {
    "Study 4": {"repeated": ["Chorus (+1)"]},
    "Study 6": {"cut": ["Chorus", "Verse two", "Solo"]},
    "Study 9": {"extended": ["Solo (+2)"]},
    "Study 21": {"cut": ["Chorus"]},
    "Study 23": {"cut": ["Chorus", "Verse two", "Solo", "Outro"]},
    "Study 26": {"false_starts": 1},
}
ORDER = [
    ("dropped", "Study 12"),
    ("swapped", "Study 15"),
    ("kept for the encore", "Study 19"),
    ("called", "Study 60"),
]
TAKEN_BACK = [("next", "Study 28", "Verse"), ("next", "Study 31", "Verse")]
AROUND = [
    ("started again", "", "Study 35"),
    ("port lost", "Foot Box", "Study 37"),
    ("port found", "Foot Box", "Study 37"),
    ("port lost", "Board", "Study 40"),
    ("port found", "Board", "Study 40"),
    ("screen gone", "", "Study 42"),
    ("started again", "", "Study 45"),
    ("started again", "", "Study 55"),
]


class Player:
    """A player who knows where the show is, and so what to press."""

    def __init__(self, stage: Stage, display: Display) -> None:
        self.stage, self.display = stage, display
        self.state = at_start(stage.book)
        self.count = 0
        self.sizes: list[tuple[int, int]] = []

    def begin(self) -> None:
        """Start the program, in a window, and wait for the foot."""
        self.stage.start(screen="window", env=self.display.env)
        self.stage.first_program()
        self.stage.wait_for_the_foot()

    def die_and_begin_again(self) -> None:
        self.stage.kill()
        self.begin()

    def happen(self, event: AnyEvent) -> None:
        self.state, _ = step(self.state, event)
        self.count += 1

    def press(self, control: int = NEXT) -> None:
        self.stage.press(control)
        self.happen(EVENT_OF[Action(ACTIONS[control])](self.count))

    def catch_up(self) -> None:
        """Wait until the program has taken every press, and has the right sound on."""
        try:
            wait_until(lambda: len(self.stage.entries()) == self.count, f"step {self.count}", 20)
        except TimeoutError as late:
            raise AssertionError(
                f"{late}; the last of {len(self.stage.entries())}: {self.stage.entries()[-1]}"
            ) from None
        sound = self.state.on[0]
        assert sound is not None
        self.stage.hears(sound.program or 0)

    def here(self) -> tuple[str, str]:
        """Return title and section; no section while it is up next."""
        song, section = self.state.song, self.state.section
        if song is None or section is None:
            return "", ""
        return song.song.title, section.section.name if self.state.place.where is PositionKind.PLAYING else ""

    def call(self, title: str) -> None:
        """Type a call as a keyboard player does, with one finger."""
        self.catch_up()
        self.display.wait_for_window("companion")
        self.display.key("f", *(("space" if letter == " " else letter) for letter in title.casefold()), "Return")
        self.happen(Call(self.count, [one.song.title for one in self.stage.book.songs].index(title)))
        self.catch_up()

    def lose_the_box(self) -> None:
        before = len(self.stage.reading().notes)
        self.stage.box.close()
        wait_until(lambda: len(self.stage.reading().notes) == before + 1, "a note of the lost pedal", 20)
        self.stage.box = JackTap(self.stage.jack, "Foot Box")
        wait_until(lambda: len(self.stage.reading().notes) == before + 2, "a note of the found pedal", 20)
        time.sleep(1.2)  # "moved in the first second after it was plugged in": what a pedal says then is its position

    def lose_the_board(self) -> None:
        before = len(self.stage.reading().notes)
        self.stage.board.close()
        wait_until(lambda: len(self.stage.reading().notes) == before + 1, "a note of the lost board", 20)
        self.press()  # the foot continues, and the new sound is sent when the keyboard is back
        self.stage.board = JackTap(self.stage.jack, "Board")
        self.catch_up()
        wait_until(lambda: len(self.stage.reading().notes) == before + 2, "a note of the found board", 20)

    def lose_the_screen(self) -> None:
        program = self.stage.program
        assert program is not None
        before = len(self.stage.reading().notes)
        (screen,) = children(program.process.pid)
        os.kill(screen, signal.SIGKILL)
        wait_until(lambda: len(self.stage.reading().notes) == before + 1, "a note of the dead screen", 20)
        self.display.wait_for_window("companion")

    def measure(self) -> None:
        """Take down how many files and threads the program has."""
        program = self.stage.program
        assert program is not None
        pid = program.process.pid
        self.sizes.append((open_files(pid), len(list(Path(f"/proc/{pid}/task").iterdir()))))


@pytest.fixture
def player(jack: JackServer, foot_box: JackTap, display: Display, tmp_path: Path) -> Iterator[Player]:
    """A player on the stage of the survival tests."""
    stage = Stage(tmp_path, jack, foot_box, JackTap(jack, "Board"))
    one = Player(stage, display)
    one.begin()
    yield one
    stage.end()
    stage.board.close()
    stage.box.close()


@pytest.mark.long
def test_the_debrief_of_an_eventful_night_of_seventy_songs_is_exact(player: Player) -> None:
    stage = player.stage
    begun = time.monotonic()
    change_ups = dict(CHANGE_UPS)
    incidents = {
        **dict.fromkeys(KILLED_AT, player.die_and_begin_again),
        BOX_LOST_AT: player.lose_the_box,
        BOARD_LOST_AT: player.lose_the_board,
        SCREEN_LOST_AT: player.lose_the_screen,
    }
    called = False
    while player.state.place.where is not PositionKind.END:
        title, section = player.here()
        for control in change_ups.pop((title, section), ()):
            player.press(control)
        if (title, section) == (CALLED_BEFORE, "") and not called:
            called = True
            player.call(CALLED)
        elif section == "Verse" and title in incidents:
            player.catch_up()
            incidents.pop(title)()
            player.measure()
        elif player.here() == (title, section):
            player.press()
    player.catch_up()
    assert not change_ups
    assert not incidents
    stage.assert_as_if_uninterrupted()
    player.measure()
    program = stage.program
    assert program is not None
    program.interrupt()
    assert program.wait(10) == 0
    sys.stdout.write(f"\n{SONGS} songs in {time.monotonic() - begun:.0f} s; files and threads {player.sizes}\n")
    most = [max(before) for before in zip(*player.sizes[:-1], strict=True)]  # a thread may come and go
    left_over = [now - before for now, before in zip(player.sizes[-1], most, strict=True)]
    assert max(left_over) <= 0, "no file or thread is left over from a hundred presses"
    tell(debrief_of(stage))


def debrief_of(stage: Stage) -> dict[str, Any]:
    """Ask the program for its debrief, as a player does."""
    home = {name: str(stage.folder / "home") for name in ("HOME", "XDG_DATA_HOME", "XDG_STATE_HOME", "XDG_CONFIG_HOME")}
    command = (sys.executable, "-m", "companion.cli", "debrief", str(stage.show), "--json")
    done = subprocess.run(command, env={**os.environ, **home}, capture_output=True, text=True, check=True)
    told: dict[str, Any] = json.loads(done.stdout)
    return told


def tell(night: dict[str, Any]) -> None:
    """Compare a debrief with what happened."""
    assert [one["title"] for one in night["songs"]] == [f"Study {number}" for number in NUMBERS]
    words = ("cut", "repeated", "extended", "false_starts", "shift")
    different = {one["title"]: {word: one[word] for word in words if one[word]} for one in night["songs"]}
    assert {title: what for title, what in different.items() if what} == DIFFERENT
    assert [(one["how"], one["song"]) for one in night["changes"]] == ORDER
    assert [(one["step"], one["mark"]["song"], one["mark"]["section"]) for one in night["taken_back"]] == TAKEN_BACK
    assert [(one["what"], one["port"], one["mark"]["song"]) for one in night["around"]] == AROUND
    assert night["not_played"] == []
    assert night["ended"] is True
