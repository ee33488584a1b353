"""A foot box with a dozen switches for each word, so that a quick foot is never taken for a bounce."""

import time
from typing import NamedTuple

from oracle.songs import BOARDS, LOWER, RIG, UPPER
from oracle.walking import CALL, HOLDS, LIFT, NEW, NOTE, READ_AGAIN, WORDS
from real.jack import JackServer, JackTap

BOX = "Foot Box"
PORTS = {LOWER: "Lower Board", UPPER: "Upper Board"}
TURNS = 12  # switches for each word, one a channel
APART_S = 0.06  # twice what counts as bounce

NOT_BY_FOOT = {NOTE, CALL, NEW, READ_AGAIN, LIFT, *HOLDS}
BY_FOOT = tuple(word for word in WORDS if word not in NOT_BY_FOOT)
NO_STEP = "tap tempo"  # leaves a line, and the show where it is: what was sent before it on its port has been taken
PADS = {f"pad {board}": board for board in BOARDS}
CONTROLS = {**{word: number for number, word in enumerate(BY_FOOT, 20)}, **dict.fromkeys(PADS, 90)}


class Instruments(NamedTuple):
    """What is plugged in: the foot box, and the boards by their names in the rig."""

    jack: JackServer
    box: JackTap
    boards: dict[str, JackTap]


def rig_file() -> str:
    """Write the rig of two boards, the foot box, and a pad on each board that is no step."""
    words = {name: (BOX, name) for name in BY_FOOT} | {pad: (PORTS[board], NO_STEP) for pad, board in PADS.items()}
    pedals = [
        f'  "{name} {channel}": {{port: {port}, channel: {channel}, control: {CONTROLS[name]}, press: {word}}}'
        for name, (port, word) in words.items()
        for channel in range(1, TURNS + 1)
    ]
    boards = RIG.replace("    transpose:", "    longest_wait_ms: 20000\n    transpose:")  # the walks lift sooner
    return "\n".join([boards + "pedals:", *pedals]) + "\n"


class Switches:
    """Whose turn it is."""

    def __init__(self, instruments: Instruments) -> None:
        self._box, self._boards = instruments.box, instruments.boards
        self._free_from = dict[tuple[str, int], float]()
        self._pressed = set[tuple[str, int]]()
        self._turn = 0

    def press(self, name: str) -> None:
        """Press a switch of this word that has been at rest for long enough, and let it go."""
        self._turn = self._turn % TURNS + 1
        switch = (name, self._turn)
        time.sleep(max(0.0, self._free_from.get(switch, 0.0) - time.monotonic()))
        tap = self._boards[PADS[name]] if name in PADS else self._box
        for value in (127, 0):
            tap.send(bytes((0xB0 + self._turn - 1, CONTROLS[name], value)))
        self._pressed.add(switch)

    def rest(self) -> None:
        """All that was pressed has only now been taken."""
        soon = time.monotonic() + APART_S
        self._free_from |= dict.fromkeys(self._pressed, soon)
        self._pressed.clear()
