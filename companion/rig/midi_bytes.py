"""Sounds to MIDI bytes, without sending: program and bank, controls, tuning, all off.

One ``bytes`` is one whole message, status byte first (no running status: a keyboard may have been plugged in since the
last message). Channels count from 1 here, from 0 on the wire. The numbers are from MIDI 1.0, Tables I to III.
"""

from typing import Final

import msgspec

from companion.rig.model import BankMessage, HowTransposed, Keyboard, Sound

BANK_MSB: Final = 0
DATA_ENTRY: Final = 6
VOLUME: Final = 7
EXPRESSION: Final = 11
BANK_LSB: Final = 32
DAMPER: Final = 64
SOSTENUTO: Final = 66
SOFT: Final = 67
PARAMETER_LSB: Final = 100
PARAMETER_MSB: Final = 101
ALL_SOUND_OFF: Final = 120
RESET_ALL_CONTROLLERS: Final = 121
ALL_NOTES_OFF: Final = 123

CHANNELS: Final = range(1, 17)
_COARSE_TUNING: Final = (0x00, 0x02)  # registered parameter: MSB, LSB
_NO_PARAMETER: Final = (0x7F, 0x7F)  # the null parameter: later data entry changes nothing
_TUNING_CENTRE: Final = 64

LEFT_OUT: Final = {VOLUME: 100, EXPRESSION: 127}
"""The levels of a sound that sets none, on a keyboard where other sounds do.

Volume: the power-on value of a General MIDI instrument (General MIDI 1, from memory). Expression: the value after
Reset All Controllers (RP-015).
"""


class Pause(msgspec.Struct, frozen=True):
    """Send nothing to this keyboard for this long. Other keyboards do not wait."""

    ms: int


def change_to(keyboard: Keyboard, sound: Sound) -> tuple[bytes | Pause, ...]:
    """Return the messages and pauses that select this sound, in sending order; no program change if chosen by hand.

    The order: ``before``; the bank bytes that the keyboard takes; the program; ``controls``, after it because
    many instruments reset the part at a program change (common practice, no source); the raw messages. Volume and
    expression that this sound leaves out are sent if another sound of the keyboard may have set them. A keyboard that
    needs to settle gets a pause after the bank messages, and another between the program change, which makes the bank
    take effect (MIDI 1.0), and anything after it.

    >>> [message.hex(" ") for message in change_to(Keyboard("lower"), Sound("organ", program=16, bank=(0, 32)))]
    ['b0 00 00', 'b0 20 20', 'c0 10']
    """
    channel = keyboard.channel
    bank = bank_due(keyboard, sound)
    bank_messages = () if bank is None else _bank(keyboard, bank)
    pause = (Pause(keyboard.settle_ms),) if bank_messages and keyboard.settle_ms else ()
    program = () if sound.program is None else (program_change(channel, sound.program),)
    controls = (*levels_due(keyboard, sound), *sound.controls)
    after = tuple(control_change(channel, control, value) for control, value in controls) + sound.send
    return (
        *(control_change(channel, control, value) for control, value in sound.before),
        *bank_messages,
        *pause,
        *program,
        *(pause if program and after else ()),
        *after,
    )


def bank_due(keyboard: Keyboard, sound: Sound) -> tuple[int, int] | None:
    """Return the bank to select, (MSB, LSB), or None to stay in the current one.

    A sound without a bank is in bank 0, 0 if other sounds of the keyboard have banks: otherwise it would come from the
    bank of the sound before.
    """
    if sound.bank is not None or sound.program is None:
        return sound.bank
    return (0, 0) if any(other.bank is not None for other in keyboard.sounds) else None


def levels_due(keyboard: Keyboard, sound: Sound) -> tuple[tuple[int, int], ...]:
    """Return the levels that this sound leaves out but another sound of the keyboard sets.

    Otherwise it would be as loud as the sound before. Only volume and expression: a program has its own values for
    other controls.
    """
    return tuple(
        (control, value)
        for control, value in LEFT_OUT.items()
        if not _sets(keyboard, sound, control, fades=False)
        and any(_sets(keyboard, other, control, fades=True) for other in keyboard.sounds)
    )


def program_change(channel: int, program: int) -> bytes:
    """Choose a program, 0..127."""
    return bytes((0xC0 | channel - 1, program))


def control_change(channel: int, control: int, value: int) -> bytes:
    """Set a controller; both 0..127."""
    return bytes((0xB0 | channel - 1, control, value))


def volume(keyboard: Keyboard, level: int) -> bytes:
    """Set the channel's volume, 0..127 (controller 7)."""
    return control_change(keyboard.channel, VOLUME, level)


def tune(keyboard: Keyboard, semitones: int) -> tuple[bytes, ...]:
    """Return the messages that transpose the keyboard by -64..63 semitones; 0 resets it.

    Sounding notes may bend: send them when hands and pedal are up. Empty for a keyboard that cannot be tuned.
    """
    match keyboard.transpose:
        case HowTransposed.MASTER_TUNING:
            return (master_coarse_tuning(semitones),)
        case HowTransposed.CHANNEL_TUNING:
            return channel_coarse_tuning(keyboard.channel, semitones)
        case HowTransposed.NONE:
            return ()


def master_coarse_tuning(semitones: int) -> bytes:
    """Tune all channels of a port by -64..63 semitones (MMA/AMEI CA-025). Raises ValueError outside that range."""
    return bytes((0xF0, 0x7F, 0x7F, 0x04, 0x04, 0x00, _tuning(semitones), 0xF7))


def channel_coarse_tuning(channel: int, semitones: int) -> tuple[bytes, ...]:
    """Tune one channel by -64..63 semitones (registered parameter 2, then null). Raises ValueError outside."""
    return (
        *_parameter(channel, _COARSE_TUNING),
        control_change(channel, DATA_ENTRY, _tuning(semitones)),
        *_parameter(channel, _NO_PARAMETER),
    )


def all_off(*, reset_controllers: bool = False) -> tuple[bytes, ...]:
    """Return the messages that silence all sixteen channels of a port: 288 bytes (92 ms on a five-pin cable).

    They release the pedals first, because All Notes Off keeps notes that the damper holds. Reset the controllers only
    on instruments that need it: it sets expression to its maximum, so the level may jump (RP-015).
    """
    return tuple(
        message for channel in CHANNELS for message in _channel_off(channel, reset_controllers=reset_controllers)
    )


def _channel_off(channel: int, *, reset_controllers: bool) -> tuple[bytes, ...]:
    silence = (
        *(control_change(channel, pedal, 0) for pedal in (DAMPER, SOSTENUTO, SOFT)),
        bytes((0xE0 | channel - 1, 0x00, 0x40)),  # pitch bend to the centre, LSB first
        control_change(channel, ALL_SOUND_OFF, 0),
        control_change(channel, ALL_NOTES_OFF, 0),
    )
    return (*silence, control_change(channel, RESET_ALL_CONTROLLERS, 0)) if reset_controllers else silence


def _sets(keyboard: Keyboard, sound: Sound, control: int, *, fades: bool) -> bool:
    """Whether a sound sets this control; a fade to 0 before the change does not count."""
    raw = bytes((0xB0 | keyboard.channel - 1, control))
    return (
        any(one == control for one, _ in sound.controls)
        or any(one == control and (value > 0 or fades) for one, value in sound.before)
        or any(message[:2] == raw for message in sound.send)
    )


def _bank(keyboard: Keyboard, bank: tuple[int, int]) -> tuple[bytes, ...]:
    msb, lsb = bank
    numbers = {BankMessage.MSB: (BANK_MSB, msb), BankMessage.LSB: (BANK_LSB, lsb)}
    return tuple(
        control_change(keyboard.channel, *numbers[half])
        for half in (BankMessage.MSB, BankMessage.LSB)  # always in this order, not the file's
        if half in keyboard.bank_messages
    )


def _parameter(channel: int, number: tuple[int, int]) -> tuple[bytes, bytes]:
    msb, lsb = number
    return control_change(channel, PARAMETER_MSB, msb), control_change(channel, PARAMETER_LSB, lsb)


def _tuning(semitones: int) -> int:
    value = semitones + _TUNING_CENTRE
    if not 0 <= value <= 127:
        raise ValueError(f"an instrument is tuned by -64 to 63 semitones, not by {semitones}")
    return value
