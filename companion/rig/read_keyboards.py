"""The reader of keyboards and their sounds in a rig file."""

from collections.abc import Iterable, Mapping
from typing import Any, Final

import msgspec

from companion.changes import Change
from companion.files import (
    Form,
    InvalidValue,
    Items,
    Many,
    NamedStructs,
    Node,
    Pairs,
    Reading,
    Scalar,
    Text,
    ValueKind,
    choice,
    nearest_or_all,
    plain,
    shown,
    whole,
    words,
    yes_no,
)
from companion.rig.controllers import CONTROLLER_OF_A_SOUND
from companion.rig.model import BankMessage, HowTransposed, Keyboard, Numbering, Sound
from companion.rig.panel import to_wire
from companion.rig.raw import messages_in
from companion.rig.rig_names import folded_name

NAME: Final = words(60)
PORT: Final = words(100)
CHANNEL: Final = whole(1, 16, "a MIDI channel")

_BOTH: Final = (BankMessage.MSB, BankMessage.LSB)
_BANK_WORDS: Final[Mapping[str, tuple[BankMessage, ...]]] = {
    "both": _BOTH,
    "none": (),
    "msb": (BankMessage.MSB,),
    "lsb": (BankMessage.LSB,),
}
_TRANSPOSE_WORDS: Final[Mapping[str, HowTransposed]] = {
    **{how.value: how for how in HowTransposed},
    "master coarse tuning": HowTransposed.MASTER_TUNING,
    "universal master coarse tuning": HowTransposed.MASTER_TUNING,
}
_PROGRAM_DESCRIPTION: Final = "the program, as the panel shows it"


class WrittenSound(msgspec.Struct, frozen=True):
    """A sound before its keyboard is known: that says how programs count and which halves of the bank are sent."""

    name: str
    program: Text | None = None
    bank: tuple[int, ...] | None = None
    controls: tuple[tuple[int, int], ...] = ()
    by_hand: str | None = None
    before: tuple[tuple[int, int], ...] = ()
    send: tuple[tuple[bytes, ...], ...] = ()


class _Program(ValueKind[Text]):
    """A program as typed; its meaning depends on the keyboard."""

    description = _PROGRAM_DESCRIPTION

    def read(self, node: Node, reading: Reading) -> Text | None:
        """Return the text unchanged."""
        if not isinstance(node, Text):
            reading.fault(node, f"{self.description}, is one number", "17, or {program: 17, bank: [0, 32]}")
            return None
        return None if node.is_empty else node

    def schema(self, parts: dict[str, dict[str, Any]]) -> dict[str, Any]:  # noqa: ARG002  every kind has this signature
        """Describe both ways to count."""
        return plain(["integer", "string"], minimum=0, maximum=128, pattern=r"^\s*([0-9]+|[A-Ba-b1-9][-0-9./ ]*)\s*$")


class _Bank(ValueKind[tuple[int, ...]]):
    """A bank: MSB and LSB, or one number for a keyboard that takes only one half."""

    description = "a bank as [MSB, LSB], 0 to 127 each"
    _half = whole(0, 127, "half of a bank")

    def read(self, node: Node, reading: Reading) -> tuple[int, ...] | None:
        """Return one number, or two as (MSB, LSB)."""
        if isinstance(node, Text):
            one = self._half.read(node, reading)
            return None if one is None else (one,)
        if not isinstance(node, Items) or len(node.nodes) != 2:
            reading.fault(node, f"{self.description}, is two numbers", "bank: [0, 32]")
            return None
        halves = [self._half.read(half, reading) for half in node.nodes]
        return None if None in halves else tuple(half for half in halves if half is not None)

    def schema(self, parts: dict[str, dict[str, Any]]) -> dict[str, Any]:
        """Describe one number or two."""
        half = self._half.schema(parts)
        return {"anyOf": [half, {"type": "array", "items": half, "minItems": 2, "maxItems": 2}]}


class _BankMessages(ValueKind[tuple[BankMessage, ...]]):
    """Which halves of a bank a keyboard takes: a list of them, or one word."""

    description = "the bank messages that it takes: both, msb, lsb or none"
    _halves = Many(choice(BankMessage), "bank messages")

    def read(self, node: Node, reading: Reading) -> tuple[BankMessage, ...] | None:
        """Return the halves in the order of sending."""
        if not isinstance(node, Text):
            halves = self._halves.read(node, reading)
            return None if halves is None else tuple(half for half in _BOTH if half in halves)
        if node.is_empty:
            return None
        word = folded_name(node.text)
        if word not in _BANK_WORDS:
            write = "msb or lsb, whichever it takes" if word == "one" else nearest_or_all(word, _BANK_WORDS)
            reading.fault(node, f"{shown(node.text)} is not both, msb, lsb or none", write)
            return None
        return _BANK_WORDS[word]

    def schema(self, parts: dict[str, dict[str, Any]]) -> dict[str, Any]:
        """Describe the list and the words."""
        return {"anyOf": [{"enum": [*_BANK_WORDS, None]}, self._halves.schema(parts)]}


def _one_of(known: Mapping[str, Any], also: Iterable[object] = ()) -> Scalar[Any]:
    """One of a few words, some with several spellings."""
    description = nearest_or_all("", known)

    def convert(text: str) -> Any:  # noqa: ANN401  any value that a word stands for
        found = known.get(folded_name(text))
        if found is None:
            raise InvalidValue(f"{shown(text)} is not one of {description}", nearest_or_all(text, known))
        return found

    return Scalar(convert, {"enum": [*known, *also, None]}, description)


def _controls(description: str) -> Pairs[int, int]:
    return Pairs(CONTROLLER_OF_A_SOUND, whole(0, 127, "a controller's value"), description)


def _written_sound(values: dict[str, Any], node: Node, reading: Reading) -> WrittenSound | None:
    """Build the sound; note a fault if nothing selects it, or if a controller is set twice."""
    sound = WrittenSound(**values)
    if not any(is_written(node, key) for key in ("program", "by_hand", "send")):
        reading.fault(
            node,
            f'nothing selects the sound "{sound.name}"',
            f'{sound.name}: 17 ({_PROGRAM_DESCRIPTION}), or {{by_hand: "bank B, button 4"}}',
        )
        return None
    for key, pairs in (("controls", sound.controls), ("before", sound.before)):
        numbers = [number for number, _value in pairs]
        twice = next((number for number in numbers if numbers.count(number) > 1), None)
        if twice is not None:
            reading.fault(behind(node, key), f"controller {twice} is under {key} twice", "it once")
    return sound


def behind(node: Node, key: str) -> Node:
    """Return the value after a key of a table, or the node itself if it has none."""
    entries = getattr(node, "entries", {})
    return entries[key][1] if key in entries else node


def is_written(node: Node, key: str) -> bool:
    """Whether a key has a value, right or wrong."""
    found = behind(node, key)
    return found is not node and not (isinstance(found, Text) and found.is_empty)


def _keyboard(values: dict[str, Any], node: Node, reading: Reading) -> Keyboard | None:
    """Build the keyboard, with programs counted its way; note a fault for each sound that cannot be right."""
    written: tuple[WrittenSound, ...] = values.pop("sounds", ())
    board = Keyboard(**values)
    sounds = []
    first_of: dict[str, WrittenSound] = {}
    for one in written:
        sound_node = reading.places.node(one) or node
        first = first_of.setdefault(folded_name(one.name), one)
        if first is not one:
            reading.fault(sound_node, f'this keyboard has two sounds "{one.name}"', "another name for one of them")
        sound = _sound(one, board, sound_node, reading)
        reading.places.move(one, sound)
        sounds.append(sound)
    return msgspec.structs.replace(board, sounds=tuple(sounds))


def _sound(written: WrittenSound, board: Keyboard, node: Node, reading: Reading) -> Sound:
    program = None
    if written.program is not None:
        try:
            program = to_wire(written.program.text, board.programs_from)
        except InvalidValue as no:
            reading.fault(written.program, no.problem, no.write, no.column)
    return Sound(
        name=written.name,
        program=program,
        bank=_bank(written, board, node, reading),
        controls=written.controls,
        by_hand=written.by_hand,
        before=written.before,
        send=tuple(message for line in written.send for message in line),
        panel=None if written.program is None else written.program.text.strip(),
    )


def _bank(written: WrittenSound, board: Keyboard, node: Node, reading: Reading) -> tuple[int, int] | None:
    """Return the bank as (MSB, LSB), or note a fault that says why it would never be selected."""
    bank = written.bank
    if bank is None:
        return None
    at = behind(node, "bank")
    if written.program is None:
        reading.fault(at, "a bank takes effect with the program change after it, and there is no program", "program: 1")
    halves = board.bank_messages
    if not halves:
        reading.fault(at, f'"{board.name}" has bank_messages: none, so this bank is never sent', "bank_messages: both")
        return None
    if len(bank) == 1 and len(halves) == 2:
        reading.fault(at, f'one number, but "{board.name}" takes both halves', f"[{bank[0]}, 0] or [0, {bank[0]}]")
        return None
    msb, lsb = bank if len(bank) == 2 else (bank[0], 0) if BankMessage.MSB in halves else (0, bank[0])
    for half, number in ((BankMessage.MSB, msb), (BankMessage.LSB, lsb)):
        if number and half not in halves:
            reading.warn(
                at, f'"{board.name}" does not take the {half.value}, so {number} is not sent', "bank_messages: both"
            )
    return msb, lsb


SOUND: Final = Form(
    WrittenSound,
    "a sound",
    {
        "program": _Program(),
        "bank": _Bank(),
        "by_hand": words(80),
        "controls": _controls("controls"),
        "before": _controls("controls before the change"),
        "send": Many(
            Scalar(messages_in, plain(pattern="^[0-9A-Fa-f ]+$"), 'bytes such as "B0 5B 28"'), "messages", single=True
        ),
    },
    alone="program",
    build=_written_sound,
)

KEYBOARD: Final = Form(
    Keyboard,
    "a keyboard",
    {
        "port": PORT,
        "channel": CHANNEL,
        "programs_from": _one_of({how.value: how for how in Numbering}, also=(0, 1)),
        "bank_messages": _BankMessages(),
        "longest_wait_ms": whole(0, 20_000, "a longest wait in ms"),
        "settle_ms": whole(0, 5000, "a pause in ms"),
        "change": choice(Change),
        "general_midi": yes_no(),
        "stands_for": Many(NAME, "keyboards", single=True),
        "transpose": _one_of(_TRANSPOSE_WORDS),
        "clock": yes_no(),
        "reset_controllers": yes_no(),
        "sounds": NamedStructs(SOUND, "sounds", NAME),
    },
    build=_keyboard,
)
KEYBOARDS: Final = NamedStructs(KEYBOARD, "keyboards", NAME)
