"""Sounds to MIDI bytes, and nothing sent: program and bank, controls, tuning, all off.

One ``bytes`` is one whole message, status byte first (no running status: a keyboard may have been plugged in since the
last one). Channels count from 1 here and from 0 on the wire. The numbers are those of MIDI 1.0, Tables I to III.
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
"""The levels of a sound that says nothing of them, beside others of its keyboard that do.

Volume: a General MIDI instrument's at power-on (General MIDI 1, from memory). Expression: that of Reset All Controllers
(RP-015).
"""


class Pause(msgspec.Struct, frozen=True):
    """Send nothing more to this keyboard for so long. Others do not wait for it."""

    ms: int


def change_to(keyboard: Keyboard, sound: Sound) -> tuple[bytes | Pause, ...]:
    """Return all that puts this sound on, in order; nothing of a program where it is chosen by hand.

    Controls before; bank MSB and LSB, as the keyboard wants them; the program; controls after it, since many
    instruments reset the part at a program change (common practice, no source); the raw messages. Volume and expression
    that this sound leaves out are sent where another of the keyboard may have set them. A keyboard that needs
    to settle has its pause after the bank messages, and once more between the program, which is what makes the bank
    take effect (MIDI 1.0), and what follows it.

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
    """Return the bank to choose, (MSB, LSB), or None where the keyboard stays in the one it is in.

    A sound without a bank, beside others that have one, is in bank 0, 0: else it would be looked for in the bank of
    whatever was played before it.
    """
    if sound.bank is not None or sound.program is None:
        return sound.bank
    return (0, 0) if any(other.bank is not None for other in keyboard.sounds) else None


def levels_due(keyboard: Keyboard, sound: Sound) -> tuple[tuple[int, int], ...]:
    """Return the controls that this sound leaves out and another sound of the keyboard sets.

    Else it would be as loud as whatever was played before it. Only levels: other controls are the program's own matter.
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
    """Return what transposes the keyboard by -64..63 semitones, in the way that it understands; 0 resets it.

    Notes that sound may bend: send it when hands and pedal are up. Nothing for a keyboard that cannot be tuned.
    """
    match keyboard.transpose:
        case HowTransposed.MASTER_TUNING:
            return (master_coarse_tuning(semitones),)
        case HowTransposed.CHANNEL_TUNING:
            return channel_coarse_tuning(keyboard.channel, semitones)
        case HowTransposed.NONE:
            return ()


def master_coarse_tuning(semitones: int) -> bytes:
    """Tune all channels of a port by semitones, -64..63 (MMA/AMEI CA-025). Raises ValueError outside."""
    return bytes((0xF0, 0x7F, 0x7F, 0x04, 0x04, 0x00, _tuning(semitones), 0xF7))


def channel_coarse_tuning(channel: int, semitones: int) -> tuple[bytes, ...]:
    """Tune one channel by semitones, -64..63 (registered parameter 2, then null). Raises ValueError outside."""
    return (
        *_parameter(channel, _COARSE_TUNING),
        control_change(channel, DATA_ENTRY, _tuning(semitones)),
        *_parameter(channel, _NO_PARAMETER),
    )


def all_off(*, reset_controllers: bool = False) -> tuple[bytes, ...]:
    """Return what silences everything behind one port: all sixteen channels, 288 bytes (92 ms on a five-pin cable).

    The pedals come up first, since All Notes Off leaves what the damper holds. Resetting the controllers is only for
    instruments that need it: it puts expression to its top, so the level may jump (RP-015).
    """
    return tuple(
        message for channel in CHANNELS for message in _channel_off(channel, reset_controllers=reset_controllers)
    )


def _channel_off(channel: int, *, reset_controllers: bool) -> tuple[bytes, ...]:
    silence = (
        *(control_change(channel, pedal, 0) for pedal in (DAMPER, SOSTENUTO, SOFT)),
        bytes((0xE0 | channel - 1, 0x00, 0x40)),  # pitch bend, LSB first: the centre
        control_change(channel, ALL_SOUND_OFF, 0),
        control_change(channel, ALL_NOTES_OFF, 0),
    )
    return (*silence, control_change(channel, RESET_ALL_CONTROLLERS, 0)) if reset_controllers else silence


def _sets(keyboard: Keyboard, sound: Sound, control: int, *, fades: bool) -> bool:
    """Return whether a sound sets this control; a fade to 0 before the change is no level of its own."""
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
        for half in (BankMessage.MSB, BankMessage.LSB)  # always in this order, whatever the order in the file
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
