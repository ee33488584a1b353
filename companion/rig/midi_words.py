"""MIDI messages in a player's words, for what is reported but not sent."""

from collections.abc import Iterable, Iterator
from typing import Final

from companion.rig.midi_bytes import (
    ALL_NOTES_OFF,
    ALL_SOUND_OFF,
    BANK_LSB,
    BANK_MSB,
    DAMPER,
    DATA_ENTRY,
    EXPRESSION,
    PARAMETER_LSB,
    PARAMETER_MSB,
    SOFT,
    SOSTENUTO,
    VOLUME,
    Pause,
)

_CONTROLS: Final = {BANK_MSB: "bank MSB", BANK_LSB: "bank LSB", VOLUME: "volume", EXPRESSION: "expression"}
_PEDALS: Final = {DAMPER, SOSTENUTO, SOFT}
_MASTER_COARSE: Final = bytes((0xF0, 0x7F, 0x7F, 0x04, 0x04))
_CENTRE: Final = 64
_NULL: Final = (0x7F, 0x7F)


def midi_in_words(parcel: Iterable[bytes | Pause]) -> str:
    """Describe the messages for a player; each thing that happens on a channel once, however many messages it takes.

    Programs count from 1, as General MIDI's own table does; banks and controllers count from 0.

    >>> midi_in_words((bytes.fromhex("b00001"), bytes.fromhex("c004")))
    'bank MSB 1, program 5, channel 1'
    >>> midi_in_words(map(bytes.fromhex, ("b04000", "e00040", "b07b00", "b17b00")))
    'pedals up, pitch bend centred, all notes off'
    """
    channels: dict[str, dict[str, None]] = {}
    for channel, words in _things(parcel):
        channels.setdefault(channel, {})[words] = None
    return "; ".join(", ".join((*words, *((channel,) if channel else ()))) for channel, words in channels.items())


def _things(parcel: Iterable[bytes | Pause]) -> Iterator[tuple[str, str]]:
    """Yield channel ('' for all) and words of each thing that happens."""
    parameter = {PARAMETER_MSB: _NULL[0], PARAMETER_LSB: _NULL[1]}
    for message in parcel:
        if isinstance(message, Pause):
            continue
        kind, channel = message[0] & 0xF0, f"channel {(message[0] & 0x0F) + 1}"
        if kind == 0xB0:
            yield from _controller(message[1], message[2], channel, parameter)
        elif kind == 0xC0:
            yield channel, f"program {message[1] + 1}"
        elif kind == 0xE0 and message[1:] == bytes((0x00, _CENTRE)):
            yield "", "pitch bend centred"
        elif message[:5] == _MASTER_COARSE:
            yield "", _tuned(message[6])
        else:
            yield "", message.hex(" ").upper()


def _controller(number: int, value: int, channel: str, parameter: dict[int, int]) -> Iterator[tuple[str, str]]:
    """Yield what a controller does; a parameter is chosen first, and only its data entry says anything."""
    if number in parameter:
        parameter[number] = value
    elif number == DATA_ENTRY and tuple(parameter.values()) == (0, 2):
        yield channel, _tuned(value)
    elif number in _PEDALS and value == 0:
        yield "", "pedals up"
    elif number in (ALL_SOUND_OFF, ALL_NOTES_OFF):
        yield "", "all notes off"
    else:
        yield channel, f"{_CONTROLS.get(number, f'controller {number}')} {value}"


def _tuned(value: int) -> str:
    semitones = value - _CENTRE
    return "normal tuning" if semitones == 0 else f"tuning {'up' if semitones > 0 else 'down'} {abs(semitones)}"
