"""Capture a hired board's sounds: chosen on its panel, stored under the show's names. Pure.

The messages that a board sends when a sound is chosen on its panel select that sound. A bank counts until the next one
(MIDI 1.0), so it is remembered per channel. If a board sends nothing, the player types what to press.
"""

import enum

import msgspec
from msgspec.structs import replace

from companion.night.happenings import KeyReceived, Stop
from companion.night.keyboards import port_word
from companion.ports import Direction, MidiReceived, PortFound, PortLost, is_whole
from companion.rig import Keyboard, Rig, Sound, SoundMissing, find_sound, keyboard_number
from companion.rig.general_midi import program_named
from companion.rig.rig_names import folded_name
from companion.show import Show, SoundCall
from companion.soundcheck.talk import KeepSound, LineTyped, NotKept, Say, TalkEffect, TalkInput, TerminalRead

MAX_LETTERS = 80  # of a by-hand instruction; the rig file's limit
_BANK_MSB, _BANK_LSB = 0, 32  # MIDI 1.0, Table III


class SoundWanted(msgspec.Struct, frozen=True):
    """A sound that the show asks for. ``keyboard``: which it names, by its number in the rig; None: any.

    ``song`` asks for it first; ``has`` is what the rig has for it already. ``also``: other names that the show has for
    what is probably the same sound.
    """

    name: str
    keyboard: int | None
    song: str
    has: tuple[int, Sound] | None = None
    also: tuple[str, ...] = ()

    @property
    def names(self) -> tuple[str, ...]:
        """All its names, each stored."""
        return (self.name, *self.also)


class Bank(msgspec.Struct, frozen=True):
    """The bank that a channel (1..16) of a port is in, as far as it has been sent."""

    port: str
    channel: int
    msb: int | None = None
    lsb: int | None = None


class Caught(msgspec.Struct, frozen=True):
    """What a keyboard sent when a sound was chosen on its panel; program 0..127."""

    keyboard: int
    channel: int
    program: int
    bank: tuple[int | None, int | None] = (None, None)


class CaptureStage(enum.Enum):
    """How far the conversation is."""

    ASK = "choose it"
    TYPE = "what to press"
    OVER = "over"


_WANTS = {
    CaptureStage.ASK: TerminalRead.KEY,
    CaptureStage.TYPE: TerminalRead.LINE,
    CaptureStage.OVER: TerminalRead.NOTHING,
}


class Capture(msgspec.Struct, frozen=True):
    """One capturing. ``heard_from`` is the keyboard that sent last; ``kept`` the names that were stored."""

    rig: Rig
    wanted: tuple[SoundWanted, ...]
    stage: CaptureStage = CaptureStage.ASK
    at: int = 0
    banks: tuple[Bank, ...] = ()
    caught: Caught | None = None
    heard_from: int | None = None
    kept: tuple[str, ...] = ()
    not_kept: tuple[str, ...] = ()
    ports: tuple[str, ...] = ()

    @property
    def wants(self) -> TerminalRead:
        """What the terminal reads next."""
        return _WANTS[self.stage]


CaptureStepped = tuple[Capture, tuple[TalkEffect, ...]]


def at_start(show: Show, rig: Rig) -> Capture:
    """Begin with the sounds that the rig lacks, then those it has, both in show order."""
    found: dict[tuple[int | None, str], SoundWanted] = {}
    for song in (song for one_set in show.sets for song in one_set.songs):
        for call in (*song.sounds, *(call for section in song.road_map for call in section.sounds)):
            one = _wanted(rig, call, song.title)
            found.setdefault((one.keyboard, folded_name(call.sound)), one)
    wanted = tuple(sorted(_once(list(found.values())), key=lambda one: one.has is not None))
    return Capture(rig, wanted, stage=CaptureStage.ASK if wanted and rig.keyboards else CaptureStage.OVER)


def _once(found: list[SoundWanted]) -> list[SoundWanted]:
    """Leave each sound once: a bare name is the sound of a keyboard of that name, and two names can be one sound."""
    on_boards = {folded_name(one.name) for one in found if one.keyboard is not None}
    once: list[SoundWanted] = []
    for one in found:
        if one.keyboard is None and folded_name(one.name) in on_boards:
            continue
        program = program_named(one.name)
        same = next((at for at, other in enumerate(once) if _is_same(one, other, program)), None)
        if same is None:
            once.append(one)
        else:
            once[same] = replace(once[same], also=(*once[same].also, one.name))
    return once


def _is_same(one: SoundWanted, other: SoundWanted, program: int | None) -> bool:
    """Whether two sounds that the rig lacks are one by the published names, for the same keyboard."""
    lacking = one.has is None and other.has is None
    return lacking and one.keyboard == other.keyboard and program is not None and program_named(other.name) == program


def step(capture: Capture, happened: TalkInput, at_ms: int) -> CaptureStepped:
    """Handle one input."""
    del at_ms
    match happened:
        case PortFound(direction=Direction.IN, port=port, name=name):
            return replace(capture, ports=(*capture.ports, port)), (Say(f'listening to "{name}"'),)
        case PortLost(direction=Direction.IN, port=port, why=why):
            return replace(capture, ports=tuple(one for one in capture.ports if one != port)), (Say(why),)
        case MidiReceived(port=port, message=message):
            return _heard(capture, port, message)
        case KeyReceived(key=key, down=True) if capture.stage is CaptureStage.ASK:
            return _key(capture, key)
        case LineTyped(text=text) if capture.stage is CaptureStage.TYPE:
            return _typed(capture, text)
        case NotKept(why=why, sound=sound):
            kept = tuple(name for name in capture.kept if name != sound)
            return replace(capture, kept=kept, not_kept=(*capture.not_kept, why)), (Say(f"not kept: {why}"),)
        case Stop():
            return replace(capture, stage=CaptureStage.OVER), ()
        case _:
            return capture, ()


def _heard(capture: Capture, port: str, message: bytes) -> CaptureStepped:
    if not is_whole(message) or message[0] >= 0xF0:
        return capture, ()
    kind, channel = message[0] & 0xF0, (message[0] & 0x0F) + 1
    bank = next((one for one in capture.banks if (one.port, one.channel) == (port, channel)), Bank(port, channel))
    others = tuple(one for one in capture.banks if one is not bank)
    if kind == 0xB0 and message[1] == _BANK_MSB:
        return replace(capture, banks=(*others, replace(bank, msb=message[2]))), ()
    if kind == 0xB0 and message[1] == _BANK_LSB:
        return replace(capture, banks=(*others, replace(bank, lsb=message[2]))), ()
    number = _board_at(capture.rig, port, channel)
    if number is None:
        return capture, ()
    if kind != 0xC0:
        return (capture if capture.heard_from == number else replace(capture, heard_from=number)), ()
    wanted = capture.wanted[capture.at]
    if capture.stage is CaptureStage.OVER:
        return capture, ()
    if wanted.keyboard not in (None, number):
        board = capture.rig.keyboards[wanted.keyboard or 0].name
        return capture, (Say(f'That came from {capture.rig.keyboards[number].name}; the show has it on "{board}".'),)
    caught = Caught(number, channel, message[1], (bank.msb, bank.lsb))
    return replace(capture, caught=caught, heard_from=number), ()


def _key(capture: Capture, key: str) -> CaptureStepped:
    wanted, caught = capture.wanted[capture.at], capture.caught
    match key:
        case "enter" | "space" if caught is not None:
            board = capture.rig.keyboards[caught.keyboard]
            keeps = tuple(KeepSound(board, name, caught.program, caught.bank) for name in wanted.names)
            return _next(replace(capture, kept=(*capture.kept, *wanted.names))), keeps
        case "enter" | "space" if wanted.has is not None:
            return _next(capture), ()
        case "enter" | "space":
            return capture, (
                Say("Nothing received yet: choose it on the panel, or press h to type what to press by hand."),
            )
        case "h":
            return replace(capture, stage=CaptureStage.TYPE), ()
        case "2" if wanted.also:
            apart = (replace(wanted, also=()), *(replace(wanted, name=name, also=()) for name in wanted.also))
            return replace(
                capture, wanted=(*capture.wanted[: capture.at], *apart, *capture.wanted[capture.at + 1 :])
            ), ()
        case "s":
            return _next(capture), ()
        case "b" if capture.at:
            return replace(capture, at=capture.at - 1, caught=None), ()
        case "d" | "q":
            return replace(capture, stage=CaptureStage.OVER), ()
        case _:
            return capture, ()


def _typed(capture: Capture, text: str) -> CaptureStepped:
    """Store a by-hand instruction beside what was caught. Empty: ask again."""
    words = " ".join(text.split())
    asking = replace(capture, stage=CaptureStage.ASK)
    if not words:
        return asking, ()
    if len(words) > MAX_LETTERS:
        return capture, (
            Say(f"At most {MAX_LETTERS} letters, so that the screen can show it; these are {len(words)}."),
        )
    wanted, caught = capture.wanted[capture.at], capture.caught
    if caught is not None:
        board = capture.rig.keyboards[caught.keyboard]
        keeps = tuple(KeepSound(board, name, caught.program, caught.bank, words) for name in wanted.names)
    else:
        keeps = tuple(KeepSound(board_for(capture), name, by_hand=words) for name in wanted.names)
    return _next(replace(asking, kept=(*capture.kept, *wanted.names))), keeps


def board_for(capture: Capture) -> Keyboard:
    """Return the keyboard that a by-hand instruction is for: asked for, or has it, or heard last, or the first."""
    wanted = capture.wanted[capture.at]
    has = wanted.has[0] if wanted.has else None
    numbers = (wanted.keyboard, has, capture.heard_from, 0)
    return capture.rig.keyboards[next(number for number in numbers if number is not None)]


def _next(capture: Capture) -> Capture:
    over = capture.at + 1 >= len(capture.wanted)
    at = capture.at if over else capture.at + 1
    return replace(capture, at=at, caught=None, stage=CaptureStage.OVER if over else CaptureStage.ASK)


def _board_at(rig: Rig, port: str, channel: int) -> int | None:
    """Return the keyboard on this port: the only one, else the one on this channel."""
    here = [number for number, board in enumerate(rig.keyboards) if port_word(board) == port]
    if len(here) == 1:
        return here[0]
    return next((number for number in here if rig.keyboards[number].channel == channel), None)


def _wanted(rig: Rig, call: SoundCall, song: str) -> SoundWanted:
    keyboard = None if call.keyboard is None else keyboard_number(rig, call.keyboard)
    found = find_sound(rig, call.sound, call.keyboard)
    return SoundWanted(call.sound, keyboard, song, None if isinstance(found, SoundMissing) else found)
