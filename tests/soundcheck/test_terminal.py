"""The thin terminal: what it prints of a prompt, what it reads, and what it does with effects."""

import io
import queue
import sys
from collections.abc import Callable

import msgspec
import pytest

from companion.errors import CompanionError
from companion.night.happenings import KeyReceived, Stop
from companion.rig import Keyboard
from companion.soundcheck.conversation import Conversation, Keys, Talker, TalkInbox, changed_prompt
from companion.soundcheck.talk import (
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


@pytest.mark.parametrize(
    ("prompt", "said", "printed"),
    [
        (("a", "b"), (), ("", "a", "b")),
        (("a", "c"), ("a", "b"), ("c",)),  # one line is another: a nudge
        (("c", "d"), ("a", "b"), ("", "c", "d")),
        (("a",), ("a", "b"), ("", "a")),  # one line less: a pedal was pressed
        ((), ("a",), ()),
    ],
)
def test_only_the_changed_line_of_a_prompt_is_printed(
    prompt: tuple[str, ...], said: tuple[str, ...], printed: tuple[str, ...]
) -> None:
    assert changed_prompt(prompt, said) == printed


class Counting(msgspec.Struct, frozen=True):
    """A conversation that asks for three things."""

    heard: tuple[TalkInput, ...] = ()
    asks: tuple[TerminalRead, ...] = (TerminalRead.KEY, TerminalRead.LINE, TerminalRead.KEY)

    @property
    def wants(self) -> TerminalRead:
        return self.asks[len(self.heard)] if len(self.heard) < len(self.asks) else TerminalRead.NOTHING


def step(state: Counting, happened: TalkInput, at_ms: int) -> tuple[Counting, tuple[TalkEffect, ...]]:
    del at_ms
    is_answer = isinstance(happened, LineTyped | Stop) or (isinstance(happened, KeyReceived) and happened.down)
    if not is_answer:
        return state, ()
    asks = () if isinstance(happened, Stop) else state.asks
    return msgspec.structs.replace(state, heard=(*state.heard, happened), asks=asks), (
        Say(f"heard {len(state.heard) + 1}"),
        Send("nowhere", (b"\xc0\x00",)),
        Remember(),
    )


def talked(
    monkeypatch: pytest.MonkeyPatch, typed: str, *, keep: Callable[[object], None] = lambda _: None
) -> tuple[Counting, str, list[object]]:
    monkeypatch.setattr(sys, "stdin", io.StringIO(typed))
    out, remembered = io.StringIO(), list[object]()
    inbox: TalkInbox = queue.SimpleQueue()
    talker = Talker(out, {}, inbox, keep, remembered.append)
    state = talker.run(Conversation(step, lambda state, _: (f"now {len(state.heard)}",)), Counting())
    return state, out.getvalue(), remembered


def test_without_a_terminal_typed_lines_name_the_keys(monkeypatch: pytest.MonkeyPatch) -> None:
    state, printed, remembered = talked(monkeypatch, "\nbank B, button 4\npage down\n")
    assert state.heard == (
        KeyReceived("enter", down=True),
        LineTyped("bank B, button 4"),
        KeyReceived("page down", down=True),
    )
    assert [line for line in printed.splitlines() if line] == [
        *("now 0", "heard 1", "now 1", "heard 2", "now 2", "heard 3", "now 3"),
    ]
    assert len(remembered) == 3


def test_without_input_the_check_stops(monkeypatch: pytest.MonkeyPatch) -> None:
    state, _, _ = talked(monkeypatch, "")
    assert state.heard[0] == Stop("no answer")


def test_a_failed_write_comes_back_as_an_event(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO("\n"))

    def refuse(request: object) -> None:
        raise CompanionError(f"no room for {type(request).__name__}")

    inbox: TalkInbox = queue.SimpleQueue()
    talker = Talker(io.StringIO(), {}, inbox, refuse, lambda _: None)
    effects: list[tuple[TalkEffect, ...]] = [(KeepPedals(),)]
    came: list[TalkInput] = []

    def once(state: Counting, happened: TalkInput, at_ms: int) -> tuple[Counting, tuple[TalkEffect, ...]]:
        del at_ms
        if happened is not None:
            came.append(happened)
        over = msgspec.structs.replace(state, asks=()) if isinstance(happened, NotKept) else state
        return over, effects.pop() if effects else ()

    talker.run(Conversation(once, lambda _state, _at: ()), Counting(asks=(TerminalRead.KEY,)))
    assert came[-1] == NotKept("no room for KeepPedals")


def test_a_failed_write_of_the_last_answer_is_heard_before_the_conversation_is_over(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A set-up that is over with its last key would otherwise say that it wrote the file."""

    def refuse(_wish: object) -> None:
        raise CompanionError("the disk is full")

    def last(state: Counting, happened: TalkInput, at_ms: int) -> tuple[Counting, tuple[TalkEffect, ...]]:
        del at_ms
        if happened is None or (state.wants is TerminalRead.NOTHING and not isinstance(happened, NotKept)):
            return state, ()
        effects = () if isinstance(happened, NotKept) else (KeepSound(Keyboard("lower"), "organ"),)
        return msgspec.structs.replace(state, heard=(*state.heard, happened), asks=()), effects

    monkeypatch.setattr(sys, "stdin", io.StringIO("y\n"))
    talker = Talker(io.StringIO(), {}, queue.SimpleQueue(), refuse, lambda _: None)
    state = talker.run(Conversation(last, lambda _state, _at: ()), Counting())
    assert state.heard == (KeyReceived("y", down=True), NotKept("the disk is full", sound="organ"))


def test_a_key_is_read_only_when_it_is_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO("a\nb\n"))
    inbox: TalkInbox = queue.SimpleQueue()
    keys = Keys(inbox)
    keys.read(TerminalRead.KEY)
    assert inbox.get(timeout=5) == KeyReceived("a", down=True)
    assert inbox.qsize() == 0
    keys.read(TerminalRead.LINE)
    assert inbox.get(timeout=5) == LineTyped("b")
    keys.read(TerminalRead.NOTHING)
