"""Which notes of a keyboard still sound, from what its port sends. Pure; malformed bytes are harmless."""

import msgspec

_NOTE_OFF, _NOTE_ON, _CONTROL = 0x80, 0x90, 0xB0
_DAMPER, _SOSTENUTO = 64, 66
_ALL_SOUND_OFF, _RESET_ALL_CONTROLLERS = 120, 121
_ALL_NOTES_OFF = range(123, 128)  # 124 to 127 switch modes and also mean all notes off (MIDI 1.0, Table III)

NoteOnChannel = tuple[int, int]
"""Channel 0..15 and note number 0..127."""


class Hands(msgspec.Struct, frozen=True):
    """What sounds on one keyboard.

    ``held`` are the keys that are down; ``ringing`` are released notes kept by damper or sostenuto; ``kept`` are the
    notes that sostenuto caught; ``dampers`` and ``sostenutos`` are the channels on which these pedals are down.
    """

    held: frozenset[NoteOnChannel] = frozenset()
    ringing: frozenset[NoteOnChannel] = frozenset()
    kept: frozenset[NoteOnChannel] = frozenset()
    dampers: frozenset[int] = frozenset()
    sostenutos: frozenset[int] = frozenset()

    @property
    def are_up(self) -> bool:
        """Return whether nothing sounds: no key is down and no pedal keeps a note."""
        return not self.held and not self.ringing


def heard(hands: Hands, message: bytes) -> Hands:
    """Handle one whole MIDI message from the keyboard. A note-on with velocity 0 is a note-off (MIDI 1.0, Table I)."""
    if len(message) != 3:
        return hands
    kind, channel, number, value = message[0] & 0xF0, message[0] & 0x0F, message[1], message[2]
    if kind == _NOTE_ON and value:
        return msgspec.structs.replace(hands, held=hands.held | {(channel, number)})
    if kind in (_NOTE_ON, _NOTE_OFF):
        return _let_go(hands, frozenset({(channel, number)}))
    if kind == _CONTROL:
        return _control(hands, channel, number, down=value >= 64)
    return hands


def _control(hands: Hands, channel: int, number: int, *, down: bool) -> Hands:
    replace = msgspec.structs.replace
    if number == _DAMPER:
        dampers = hands.dampers | {channel} if down else hands.dampers - {channel}
        return _settled(replace(hands, dampers=dampers))
    if number == _SOSTENUTO and down and channel not in hands.sostenutos:
        kept = hands.kept | {note for note in hands.held if note[0] == channel}
        return replace(hands, sostenutos=hands.sostenutos | {channel}, kept=kept)
    if (number == _SOSTENUTO and not down) or number == _RESET_ALL_CONTROLLERS:
        kept = frozenset(note for note in hands.kept if note[0] != channel)
        without = replace(hands, sostenutos=hands.sostenutos - {channel}, kept=kept)
        return _settled(without) if number == _SOSTENUTO else _control(without, channel, _DAMPER, down=False)
    if number == _ALL_SOUND_OFF:
        silent = frozenset({channel})
        return replace(hands, held=_except(hands.held, silent), ringing=_except(hands.ringing, silent))
    if number in _ALL_NOTES_OFF:
        return _let_go(hands, frozenset(note for note in hands.held if note[0] == channel))
    return hands


def _let_go(hands: Hands, notes: frozenset[NoteOnChannel]) -> Hands:
    struck = notes & hands.held
    return _settled(msgspec.structs.replace(hands, held=hands.held - notes, ringing=hands.ringing | struck))


def _settled(hands: Hands) -> Hands:
    """Drop the ringing notes that no pedal keeps any longer."""
    ringing = frozenset(note for note in hands.ringing if note[0] in hands.dampers or note in hands.kept)
    return msgspec.structs.replace(hands, ringing=ringing)


def _except(notes: frozenset[NoteOnChannel], channels: frozenset[int]) -> frozenset[NoteOnChannel]:
    return frozenset(note for note in notes if note[0] not in channels)
