"""Wait for the first answer, typed or played on any connected keyboard."""

import contextlib
import queue
import threading
from collections.abc import Callable, Iterator
from typing import Final, TextIO

import msgspec

from companion.clock import now_ns
from companion.music import Key, Pitch
from companion.ports import THE_ONE_THERE_IS, Arrival, MidiReceived, PortFound, PortWatch, open_system
from companion.quiz.judging import KeysDown, touched
from companion.rig import Rig

LOOK_S: Final = 0.5  # a wait wakes up this often, since not every system lets ctrl-c interrupt one
STARTING_S: Final = 2.0
MAX_BYTES: Final = 4096


class AnswerTyped(msgspec.Struct, frozen=True):
    """A typed line; None: end of input."""

    line: str | None


class AnswerPlayed(msgspec.Struct, frozen=True):
    """The notes played, from the first struck to the last released; ``seconds`` until the first."""

    notes: tuple[int, ...]
    seconds: float


AnswerInbox = queue.SimpleQueue[AnswerTyped | Arrival]


class AnswerSource:
    """Waits for answers from the terminal and the keyboards at once."""

    def __init__(self, inbox: AnswerInbox, heard: Callable[[str], None]) -> None:
        """Read events from ``inbox``; ``heard`` is called with the name of each keyboard port that is found."""
        self._inbox = inbox
        self._heard = heard

    def next(self, *, can_be_played: bool) -> AnswerTyped | AnswerPlayed:
        """Wait for the next answer. Notes played before this call, or without ``can_be_played``, are ignored."""
        begun_ns = first_ns = now_ns()
        hands = KeysDown()
        while True:
            try:
                received = self._inbox.get(timeout=LOOK_S)
            except queue.Empty:
                continue
            if isinstance(received, AnswerTyped):
                return received
            if isinstance(received, PortFound):
                self._heard(received.name)
            elif isinstance(received, MidiReceived) and can_be_played and received.at_ns >= begun_ns:
                if not hands.struck:
                    first_ns = received.at_ns
                hands = touched(hands, received.message)
                if hands.is_done:
                    return AnswerPlayed(hands.struck, (first_ns - begun_ns) / 1e9)


@contextlib.contextmanager
def at_the_keyboard(stdin: TextIO, rig: Rig | None, heard: Callable[[str], None]) -> Iterator[AnswerSource]:
    """Listen to the rig's keyboards (None: every input) and to the terminal while the context lasts."""
    inbox: AnswerInbox = queue.SimpleQueue()
    system = open_system()
    watch = None
    if system is not None:
        words = [board.port or THE_ONE_THERE_IS for board in rig.keyboards] if rig else []
        watch = PortWatch(system, inbox, inputs=words, outputs=(), every_input=rig is None)
        watch.start(STARTING_S)
    threading.Thread(target=_read, args=(stdin, inbox), name="answers", daemon=True).start()
    try:
        yield AnswerSource(inbox, heard)
    finally:
        if watch is not None:
            watch.stop()


def _read(stdin: TextIO, inbox: AnswerInbox) -> None:
    for line in lines_of(stdin):
        inbox.put(AnswerTyped(line))
    inbox.put(AnswerTyped(None))


def lines_of(stdin: TextIO) -> Iterator[str]:
    """Yield typed lines. Read past the buffer: its lock would delay the exit where the last answer is played."""
    raw = getattr(getattr(stdin, "buffer", None), "raw", None)
    if raw is None:
        yield from (line.rstrip("\r\n") for line in stdin)
        return
    rest = b""
    while some := raw.read(MAX_BYTES):
        *lines, rest = (rest + some).split(b"\n")
        for line in lines:
            yield line.decode(stdin.encoding or "utf-8", "replace").rstrip("\r")
    if rest:
        yield rest.decode(stdin.encoding or "utf-8", "replace")


def spelled(notes: tuple[int, ...], key: Key | None) -> str:
    """Name notes from low to high as the key spells them, each name once.

    >>> spelled((58, 62, 65), None)
    'Bb D F'
    """
    middle = (key.sf if key else -1) + 2  # on the line of fifths; without a key, slightly flatwards
    nearest = {
        place * 7 % 12: place for place in sorted(range(middle - 9, middle + 10), key=lambda at: -abs(at - middle))
    }
    return " ".join(str(Pitch.on_fifths(nearest[note])) for note in dict.fromkeys(one % 12 for one in sorted(notes)))
