"""A keyboard as its manual describes it: what it has heard, and so what it plays. Plain MIDI 1.0."""

from dataclasses import dataclass, field

from oracle.oracle import UP_NEXT, Stage
from oracle.songs import BOARDS, LOWER, PATCHES

BANK_MSB, BANK_LSB, VOLUME, EXPRESSION = 0, 32, 7, 11
DATA_ENTRY, RPN_MSB, RPN_LSB = 6, 101, 100
COARSE_TUNING = 2
ALL_SOUND_OFF, ALL_NOTES_OFF = 120, 123
SILENCING = {64, 66, 67, ALL_SOUND_OFF, ALL_NOTES_OFF}  # and the pedals up: these may go to all channels of a port
CHANNEL = {"lower": 0, "upper": 1}


@dataclass
class Receiver:
    """One board. Volume 100 and expression 127 are what a General MIDI instrument wakes up with (RP-015)."""

    board: str
    controls: dict[int, int] = field(default_factory=lambda: {VOLUME: 100, EXPRESSION: 127})
    tuning: int = 0
    silenced: int = 0
    choices: list[bytes] = field(default_factory=list)  # bank and program messages, oldest first

    def hear(self, message: bytes) -> None:
        """Take one message."""
        if message[0] == 0xF0:
            # Universal real time, device control, master coarse tuning: F0 7F dd 04 04 ll mm F7 (CA-025).
            if message[1] == 0x7F and message[3:5] == b"\x04\x04":
                self.tuning = message[6] - 64
            return
        kind, channel = message[0] & 0xF0, message[0] & 0x0F
        if channel != CHANNEL[self.board]:
            assert kind in {0xB0, 0xE0}, f"{self.board} heard {message.hex(' ')}"
            assert kind == 0xE0 or message[1] in SILENCING, f"{self.board} heard {message.hex(' ')}"
            return
        if kind == 0xC0:
            self.choices.append(message)
        elif kind == 0xB0:
            self._control(*message[1:])

    def _control(self, number: int, value: int) -> None:
        if number in {BANK_MSB, BANK_LSB}:
            self.choices.append(bytes((0xB0 + CHANNEL[self.board], number, value)))
        elif number in {ALL_SOUND_OFF, ALL_NOTES_OFF}:
            self.silenced += 1
        elif number == DATA_ENTRY and (self.controls.get(RPN_MSB), self.controls.get(RPN_LSB)) == (0, COARSE_TUNING):
            self.tuning = value - 64
        self.controls[number] = value

    @property
    def loudness(self) -> tuple[int, int]:
        """Volume and expression."""
        return self.controls[VOLUME], self.controls[EXPRESSION]


def choosing(board: str, name: str) -> list[bytes]:
    """The messages that choose this sound: bank select MSB, LSB as far as this board hears them, program change."""
    patch, channel = PATCHES[board][name], CHANNEL[board]
    if patch.program is None:
        return []
    bank = [bytes((0xB0 + channel, BANK_MSB, patch.bank[0]))]
    if board == LOWER:
        bank.append(bytes((0xB0 + channel, BANK_LSB, patch.bank[1])))
    return [*bank, bytes((0xC0 + channel, patch.program))]


def arrives(before: Stage, after: Stage, word: str) -> bool:
    """Return whether another song has come: its sounds let the last chord ring. What is taken back goes out at once."""
    return (after.tune is not before.tune or after.spot.where == UP_NEXT) and word != "take back"


@dataclass
class Expected:
    """What the boards must have received by now, and so what they play."""

    choices: dict[str, list[bytes]] = field(default_factory=lambda: {board: [] for board in BOARDS})
    loudness: dict[str, int] = field(default_factory=lambda: dict.fromkeys(BOARDS, 100))

    def begins(self, stage: Stage) -> None:
        """At the start, after a crash, and after all off: every board is sent what it has to play."""
        for board, name in zip(BOARDS, stage.sounds, strict=True):
            self._chosen(board, name)

    def stepped(self, before: Stage, after: Stage) -> None:
        """A step sends what is another sound than before, and nothing else."""
        for board, was, name in zip(BOARDS, before.sounds, after.sounds, strict=True):
            if name != was:
                self._chosen(board, name)

    def _chosen(self, board: str, name: str) -> None:
        if name:
            self.choices[board] += choosing(board, name)
            self.loudness[board] = PATCHES[board][name].volume


class AtTheBoards(Expected):
    """The same, where the program hears the keyboards: what waits for the hands, and what a board has already.

    "When a song is up next and your last chord still rings, its sound waits until your hands and your sustain pedal are
    up ... Within a song a sound changes at once." A tuning bends what rings, so it waits wherever it comes.
    """

    def __init__(self) -> None:
        super().__init__()
        self.plays = dict.fromkeys(BOARDS, "")  # what each board was sent last
        self.tuning = dict.fromkeys(BOARDS, 0)
        self.held: set[str] = set()
        self._sounds: dict[str, str] = {}  # what waits
        self._tunings: dict[str, int] = {}

    def begins(self, stage: Stage) -> None:
        """All at once, whatever rings."""
        self._sounds, self._tunings = {}, {}
        self.plays = dict.fromkeys(BOARDS, "")
        for board, name in zip(BOARDS, stage.sounds, strict=True):
            self._send(board, name)
        self.tuning = dict.fromkeys(BOARDS, stage.tuning)

    def taken(self, before: Stage, after: Stage, word: str) -> None:
        """One word of the foot."""
        if word == "all off":
            self.begins(after)
            return
        patient = arrives(before, after, word)
        for board, was, name in zip(BOARDS, before.sounds, after.sounds, strict=True):
            if name != was and name:
                self._ask(board, name, waits=patient and board in self.held)
        if after.tuning != before.tuning:
            for board in BOARDS:
                self._retune(board, after.tuning)
        if word == "sound now":
            self._release()

    def hold(self, board: str) -> None:
        """A key goes down on a keyboard, and stays down."""
        self.held.add(board)

    def lift(self) -> None:
        """All hands up."""
        self.held.clear()
        self._release()

    def _ask(self, board: str, name: str, *, waits: bool) -> None:
        self._sounds.pop(board, None)
        if name == self.plays[board]:
            return
        if waits:
            self._sounds[board] = name
        else:
            self._send(board, name)

    def _retune(self, board: str, half_steps: int) -> None:
        self._tunings.pop(board, None)
        if board in self.held and half_steps != self.tuning[board]:
            self._tunings[board] = half_steps
        else:
            self.tuning[board] = half_steps

    def _release(self) -> None:
        for board, name in self._sounds.items():
            self._send(board, name)
        self.tuning |= self._tunings
        self._sounds, self._tunings = {}, {}

    def _send(self, board: str, name: str) -> None:
        self._chosen(board, name)
        self.plays[board] = name
