"""The terminal around a conversation: keys and ports in through one inbox, lines and bytes out."""

import contextlib
import queue
import signal
import sys
import threading
from collections import deque
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Final, Generic, Protocol, TextIO, TypeVar

from companion.clock import now_ns
from companion.errors import CompanionError
from companion.night.happenings import KeyReceived, Stop, arrived_ns
from companion.ports import OutPort, PortWatch, ms_between
from companion.screen.terminal_keys import INTERRUPT, keys_pressed
from companion.soundcheck.talk import (
    KeepLevels,
    KeepPedals,
    KeepSound,
    LineTyped,
    NotKept,
    Remember,
    Say,
    Send,
    TalkEffect,
    TalkInput,
    TerminalRead,
)
from companion.stopping import ASKS_TO_END

TalkInbox = queue.SimpleQueue[TalkInput]

TICK_S: Final = 0.05  # the resolution of silences; nothing here needs musical time
STARTING_S: Final = 3.0


class TalkOutcome(Protocol):
    """The state of a conversation."""

    @property
    def wants(self) -> TerminalRead:
        """What to read next; NOTHING: it is over."""


S = TypeVar("S", bound=TalkOutcome)


@dataclass(frozen=True, slots=True)
class Conversation(Generic[S]):
    """The pure parts of one conversation: its step and its prompt."""

    step: Callable[[S, TalkInput, int], tuple[S, tuple[TalkEffect, ...]]]
    prompt: Callable[[S, int], tuple[str, ...]]


Keep = Callable[[KeepLevels | KeepSound | KeepPedals], None]
"""Write the rig file. Raise CompanionError."""


class Talker:
    """One conversation at the terminal."""

    def __init__(
        self, out: TextIO, outs: Mapping[str, OutPort], inbox: TalkInbox, keep: Keep, remember: Callable[[object], None]
    ) -> None:
        """Write to ``out``; send to ``outs``, by the rig's words. ``remember`` receives the state worth keeping."""
        self._out = out
        self._outs = outs
        self._inbox = inbox
        self._keep = keep
        self._remember = remember

    def run(self, talk: Conversation[S], state: S) -> S:
        """Talk until it is over; return the last state."""
        zero_ns = now_ns()
        keys = Keys(self._inbox)
        keys.read(state.wants)
        shown: tuple[str, ...] = ()
        happened: TalkInput = None
        refused: deque[NotKept] = deque()  # handled before anything else, even by a conversation that is over
        while True:
            at_ms = ms_between(zero_ns, min(now_ns(), arrived_ns(happened) or now_ns()))
            state, effects = talk.step(state, happened, at_ms)
            for effect in effects:
                refused.extend(self._do(effect, state))
            wants = state.wants
            prompt = talk.prompt(state, at_ms)
            if prompt != shown:
                self._say(*changed_prompt(prompt, shown))
            shown = prompt
            if wants is TerminalRead.NOTHING and not refused:
                keys.read(wants)
                return state
            if isinstance(happened, LineTyped) or (isinstance(happened, KeyReceived) and happened.down):
                keys.read(wants)
            happened = refused.popleft() if refused else self._wait()

    def _wait(self) -> TalkInput:
        with contextlib.suppress(queue.Empty):
            return self._inbox.get(timeout=TICK_S)
        return None

    def _do(self, effect: TalkEffect, state: object) -> Iterator[NotKept]:
        """Carry out an effect; yield what could not be written."""
        match effect:
            case Say(line=line):
                self._say(line)
            case Send(port=port, parcel=parcel, replace=replace):
                out = self._outs.get(port)
                if out is not None:
                    out.send(parcel, replace=replace)
            case Remember():
                self._remember(state)
            case KeepLevels() | KeepSound() | KeepPedals():
                try:
                    self._keep(effect)
                except CompanionError as trouble:
                    yield NotKept(str(trouble), effect.name if isinstance(effect, KeepSound) else "")

    def _say(self, *lines: str) -> None:
        code = self._out.encoding or "ascii"
        with contextlib.suppress(OSError, ValueError):  # the terminal is gone; keep what was heard
            for line in lines:
                self._out.write(line.encode(code, "replace").decode(code) + "\n")
            self._out.flush()


def changed_prompt(prompt: tuple[str, ...], shown: tuple[str, ...]) -> tuple[str, ...]:
    """Return what to print of a changed prompt: its one changed line, or all of it."""
    new = tuple(line for line in prompt if line not in shown)
    return new if len(new) == 1 else ("", *prompt) if prompt else ()


class Keys:
    """Read one key or line from the terminal on request, so that a line always answers a known prompt.

    Where standard input is not a terminal, each line names a key; an empty line is enter.
    """

    def __init__(self, inbox: TalkInbox) -> None:
        """Put input into the inbox."""
        self._inbox = inbox
        self._wanted: queue.SimpleQueue[TerminalRead] = queue.SimpleQueue()
        self._in = sys.stdin
        self._terminal = self._in is not None and self._in.isatty()
        threading.Thread(target=self._read, name="terminal keys", daemon=True).start()

    def read(self, wants: TerminalRead) -> None:
        """Set what to read next."""
        self._wanted.put(wants)

    def _read(self) -> None:
        keys = keys_pressed() if self._terminal else iter(())
        while (wants := self._wanted.get()) is not TerminalRead.NOTHING:
            if self._terminal and wants is TerminalRead.KEY:
                key = next(keys, INTERRUPT)
                self._inbox.put(Stop("interrupted") if key == INTERRUPT else KeyReceived(key, down=True))
                if key != INTERRUPT:
                    self._inbox.put(KeyReceived(key, down=False))
                continue
            line = self._in.readline() if self._in is not None else ""
            if not line:
                self._inbox.put(Stop("no answer"))
                return
            text = line.strip()
            self._inbox.put(LineTyped(text) if wants is TerminalRead.LINE else KeyReceived(text or "enter", down=True))


@contextlib.contextmanager
def stopped_by_signals(inbox: TalkInbox) -> Iterator[None]:
    """End the conversation properly at a signal that ends a program."""

    def interrupted(number: int, _frame: object) -> None:
        inbox.put(Stop(f"interrupted ({signal.Signals(number).name})"))

    before = {number: signal.signal(number, interrupted) for number in ASKS_TO_END}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


@contextlib.contextmanager
def watched(watch: PortWatch | None) -> Iterator[Mapping[str, OutPort]]:
    """Yield the outputs while the ports are watched; none without a MIDI system."""
    if watch is None:
        yield {}
        return
    watch.start(wait_s=STARTING_S)
    try:
        yield watch.outs
    finally:
        watch.stop()
